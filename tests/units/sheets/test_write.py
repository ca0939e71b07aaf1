import gc
import json
import os
import weakref

import pytest

from survey.assessment import assess
from survey.errors import UserError
from survey.rulebook.book import load_book
from survey.sheets import write_sheet
from survey.sheets.html import MARKER
from survey.sheets.write import file_name
from tests.demo_surveys import DEMO, survey_of
from tests.made_assessments import TODAY, go, judged, no_go

FILES = [
    "larch-lane crew.html", "larch-lane engineer.html", "larch-lane.html", "larch-lane.json",
]  # fmt: skip
ALL = [*FILES[:2], "larch-lane history", *FILES[2:]]


def test_sheet_and_record_stand_side_by_side(tmp_path):
    page, data, *_ = write_sheet(no_go(), tmp_path / "new" / "sheets", today=TODAY)
    assert (page.name, data.name) == ("larch-lane.html", "larch-lane.json")
    assert page.read_text("utf-8").startswith(MARKER)
    assert json.loads(data.read_text("utf-8"))["verdict"] == "NO-GO"
    assert sorted(p.name for p in page.parent.iterdir()) == ALL


def test_an_earlier_sheet_of_the_same_survey_is_replaced(tmp_path):
    write_sheet(no_go(), tmp_path, today=TODAY)
    page, data, *_ = write_sheet(go(), tmp_path, today=TODAY)
    assert "NO-GO:" not in page.read_text("utf-8").partition("</title>")[0]
    assert json.loads(data.read_text("utf-8"))["verdict"] == "GO"


@pytest.mark.parametrize("other", FILES)
def test_a_file_that_is_no_sheet_is_left_alone(tmp_path, other):
    mine = tmp_path / other
    mine.write_text('{"mine": 1}')
    with pytest.raises(UserError, match=r"not an earlier sheet .* left alone"):
        write_sheet(go(), tmp_path, today=TODAY)
    assert mine.read_text() == '{"mine": 1}'
    assert list(tmp_path.iterdir()) == [mine]


def test_a_folder_in_the_place_of_a_sheet_is_left_alone(tmp_path):
    (tmp_path / "larch-lane.html").mkdir()
    with pytest.raises(UserError, match="left alone"):
        write_sheet(go(), tmp_path, today=TODAY)


def test_a_file_in_the_place_of_the_folder_is_told(tmp_path):
    place = tmp_path / "sheets"
    place.write_text("")
    with pytest.raises(UserError, match=r"sheets: can't be written"):
        write_sheet(go(), place, today=TODAY)


def test_when_the_disk_refuses_nothing_half_written_is_left(tmp_path, monkeypatch):
    earlier, *_ = write_sheet(no_go(), tmp_path, today=TODAY)
    before = earlier.read_bytes()

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(UserError, match="No space left on device"):
        write_sheet(go(), tmp_path, today=TODAY)
    assert earlier.read_bytes() == before
    assert sorted(p.name for p in tmp_path.iterdir()) == ALL


@pytest.mark.parametrize("name", ["12 Elm Street", "Job 7 (north)", "Łódź 3", "工地"])
def test_a_sound_name_is_kept(name):
    assert file_name(name) == name


@pytest.mark.parametrize(
    "name",
    ["../../etc/passwd", "a/b", "a\\b", "", ".", "..", ".hidden", "con", "NUL.txt", "a\x00b",
     "x" * 300, "é" * 90, 'a"b<c>|?*', "trailing. ", "lane \ud800"],
)  # fmt: skip
def test_any_other_name_is_made_safe_and_told_apart(name, tmp_path):
    safe = file_name(name)
    assert safe
    assert not set(safe) & set('/\\\0"<>|?*:')
    assert safe[0] != "."
    assert safe[-1] not in " ."
    assert len(safe.encode()) <= 90
    assert safe.split(".")[0].lower() not in {"con", "nul"}
    page, *_ = write_sheet(judged(name=name), tmp_path, today=TODAY)
    assert page.parent == tmp_path


def test_two_names_that_are_made_safe_do_not_share_a_sheet():
    assert file_name("a/b") != file_name("a?b")


def test_what_a_site_was_judged_on_goes_once_its_pages_are_written(tmp_path):
    """No circle holds it: of a thousand sites, each would else be walked through to be freed."""
    assessment = assess(survey_of(DEMO["03-tallow-court"](), "held"), (), load_book())
    facts = weakref.ref(assessment.facts)
    gc.disable()
    try:
        write_sheet(assessment, tmp_path, today=TODAY)
        del assessment
        assert facts() is None
    finally:
        gc.enable()
