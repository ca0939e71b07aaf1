"""Only an ordinary file that lies in the survey's own folder is ever opened."""

import os
import sys

import pytest

from survey.photos import beside
from survey.photos.beside import Folder
from survey.photos.photo import UnusablePhotoError

posix = pytest.mark.skipif(sys.platform == "win32", reason="needs links and pipes")


@pytest.fixture
def folder(tmp_path):
    """A survey's folder, with a file that it may not give away beside it."""
    (tmp_path / "secret.jpg").write_bytes(b"secret")
    survey = tmp_path / "survey"
    (survey / "inner").mkdir(parents=True)
    (survey / "inner" / "deep.jpg").write_bytes(b"deep")
    (survey / "pit3.jpg").write_bytes(b"pit")
    return survey


def refused(folder, name):
    with pytest.raises(UnusablePhotoError) as told:
        Folder(folder).read(name)
    return str(told.value)


def test_a_file_is_found_by_its_name_whatever_its_capitals(folder):
    assert Folder(folder).read("pit3.jpg") == b"pit"
    assert Folder(folder).read("PIT3.JPG") == b"pit"


def test_an_accent_stored_in_two_signs_is_the_same_name(folder):
    (folder / "sa\u0301tano.jpg").write_bytes(b"s")
    assert Folder(folder).read("s\u00e1tano.jpg") == b"s"


@pytest.mark.parametrize(
    "name",
    ["../secret.jpg", "..", ".", "inner/deep.jpg", "./pit3.jpg", "..\\secret.jpg",
     "inner\\deep.jpg", "C:pit3.jpg", "C:\\pit3.jpg",
     "\\\\server\\share\\pit3.jpg", "file:///etc/passwd", "/etc/passwd",
     "https://example.org/pit3.jpg", "pit3.jpg:stream"],
)  # fmt: skip
def test_a_name_that_leads_anywhere_else_is_refused(folder, name):
    assert refused(folder, name).startswith("names a place, not a file beside the survey")


def test_an_absolute_path_to_the_very_file_is_refused(folder):
    assert "names a place" in refused(folder, str(folder / "pit3.jpg"))


@pytest.mark.parametrize("name", ["pit4.jpg", "", "x\x00y", "con", "nul", "~", "*"])
def test_a_name_that_is_not_there_is_asked_for(folder, name):
    assert refused(folder, name) == "was not found beside the survey: send it along"


@pytest.mark.parametrize("name", ["pit3", "pit 3.jpeg", "PIT-3", "pit3.jpg\x00"])
def test_a_name_much_like_one_that_is_there_gets_a_hint(folder, name):
    assert "is it 'pit3.jpg'?" in refused(folder, name)


@posix
def test_of_two_that_differ_in_capitals_alone_the_exact_one_is_read_and_no_other_guessed(folder):
    (folder / "PIT3.jpg").write_bytes(b"other")
    if len(os.listdir(folder)) == 2:  # noqa: PTH208
        pytest.skip("this disk knows no capitals")
    assert Folder(folder).read("PIT3.jpg") == b"other"
    assert refused(folder, "Pit3.jpg").startswith("may be any of PIT3.jpg, pit3.jpg")


@posix
@pytest.mark.parametrize("target", ["../secret.jpg", "/etc/passwd", "inner/deep.jpg"])
def test_a_link_out_of_the_folder_is_refused(folder, target):
    (folder / "link.jpg").symlink_to(target)
    assert "leads out of the survey's folder" in refused(folder, "link.jpg")


@posix
def test_a_link_within_the_folder_and_a_linked_folder_are_fine(folder, tmp_path):
    (folder / "link.jpg").symlink_to("pit3.jpg")
    (tmp_path / "other").symlink_to(folder)
    assert Folder(folder).read("link.jpg") == b"pit"
    assert Folder(tmp_path / "other").read("pit3.jpg") == b"pit"


@posix
def test_a_link_to_itself_or_to_nothing_is_told(folder):
    (folder / "loop.jpg").symlink_to("loop.jpg")
    (folder / "gone.jpg").symlink_to("nothing.jpg")
    assert "can't be read" in refused(folder, "loop.jpg")
    assert "can't be read" in refused(folder, "gone.jpg")


@posix
def test_a_pipe_is_not_waited_for(folder):
    os.mkfifo(folder / "pipe.jpg")
    assert "no ordinary file" in refused(folder, "pipe.jpg")
    assert "no ordinary file" in refused(folder, "inner")


def test_a_file_larger_than_any_photo_is_not_read(folder, monkeypatch):
    monkeypatch.setattr(beside, "LARGEST_FILE", 2)
    assert "larger than" in refused(folder, "pit3.jpg")


def test_a_folder_that_is_not_there_has_no_files(tmp_path):
    assert "was not found" in refused(tmp_path / "none", "pit3.jpg")
