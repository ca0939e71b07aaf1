"""Settings for every test: a cache of its own, so that no run leans on an earlier one."""

import gc

import pytest
from hypothesis import settings

from survey import cache

settings.register_profile("steady", deadline=None, print_blob=True)
settings.load_profile("steady")

# Books, forms and drawn pages are kept from test to test; looking through them all for what is no
# longer used, as often as Python does by itself, took a fifth of the time.
gc.set_threshold(50_000, 20, 50)


@pytest.fixture(autouse=True, scope="session")
def own_cache(tmp_path_factory):
    folder = tmp_path_factory.mktemp("cache")
    patch = pytest.MonkeyPatch()
    patch.setattr(cache, "_folder", lambda: folder)
    yield folder
    patch.undo()
