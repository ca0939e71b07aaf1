"""Settings for every test: a cache of its own, so that no run leans on an earlier one."""

import pytest
from hypothesis import settings

from survey import cache

settings.register_profile("steady", deadline=None, print_blob=True)
settings.load_profile("steady")


@pytest.fixture(autouse=True, scope="session")
def own_cache(tmp_path_factory):
    folder = tmp_path_factory.mktemp("cache")
    patch = pytest.MonkeyPatch()
    patch.setattr(cache, "_folder", lambda: folder)
    yield folder
    patch.undo()
