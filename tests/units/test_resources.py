import pytest

from survey import resources
from survey.errors import UserError
from survey.resources import folder


@pytest.mark.parametrize(("name", "file"), [("forms", "sheet.html"), ("rules", "*.rules")])
def test_what_ships_is_found(name, file):
    assert list(folder(name).glob(file))


def test_an_installed_copy_uses_what_stands_inside_the_package(tmp_path, monkeypatch):
    inside = tmp_path / "survey" / "shipped" / "rules"
    inside.mkdir(parents=True)
    (tmp_path / "rules").mkdir()
    monkeypatch.setattr(resources, "_PACKAGE", tmp_path / "survey")
    assert folder("rules") == inside


def test_a_copy_that_lacks_a_folder_says_so(tmp_path, monkeypatch):
    monkeypatch.setattr(resources, "_PACKAGE", tmp_path / "survey")
    with pytest.raises(UserError, match="lacks its 'forms' folder"):
        folder("forms")
