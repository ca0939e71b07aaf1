"""Photos stand on the sheet beside what they show, and whatever is wrong with one is asked."""

import base64
import dataclasses
import hashlib
import json
import re
from itertools import pairwise

import jsonschema
import pytest

from survey.photos import AskedPhoto, Photo, Photos, Place
from survey.sheets import record, record_schema, render, summary, write_record, write_sheet
from survey.vocabulary import Subject
from tests.made_assessments import TODAY, go, judged, no_go, on_hold
from tests.made_pictures import BLUE, RED, jpeg
from tests.pages import Page

SITE = Place(Subject.SITE, "site")
ASKED = AskedPhoto("pit3.jpg", "Photos!B7", "was not found beside the survey: send it along")
EVIL = "<script>x</script>\"'><img src=x onerror=y> {{ 7*7 }} \u202egpj.exe"


def pier(number):
    return Place(Subject.PIER, f"P{number}")


def photo(*places, title="", caption="", name="a.jpg", colour=RED):
    source, made = jpeg(colour), hashlib.sha256(jpeg(colour)).hexdigest()
    return Photo(name, "Photos!B5", title, caption, places, made, source, 64, 48)


SHOWN = Photos(
    (
        photo(SITE, title="F1", caption="Street side"),
        photo(pier(1), pier(2), pier(3), title="F2", colour=BLUE),
        photo(pier(2), name="image1.jpeg"),
    ),
    (ASKED,),
)


def photos_part(text):
    return text.partition('<section class="photos"')[2].partition("</section>")[0]


def test_each_photo_stands_in_the_page_with_what_it_shows():
    text = render(no_go(), SHOWN)
    part = photos_part(text)
    figures = re.findall(r"<figure>.*?</figure>", part, re.DOTALL)
    assert [re.findall(r"<h3><bdi>(.*?)</bdi>", figure) for figure in figures] == [
        ["Whole site"], ["Pier P1"], ["Pier P2"],
    ]  # fmt: skip
    sources = re.findall(r'src="data:image/jpeg;base64,([^"]*)"', part)
    assert [base64.b64decode(source) for source in sources] == [jpeg(RED), jpeg(BLUE), jpeg(RED)]
    assert re.findall(r'alt="([^"]*)"', part) == [
        "Photo of whole site: Street side", "Photo of P1 to P3: F2", "Photo of P2",
    ]  # fmt: skip
    assert 'width="64" height="48"' in part
    first, second, third = (re.sub(r"<[^>]*>", "", figure) for figure in figures)
    assert first.split("\n")[-1] == "F1: Street sidea.jpg, Photos!B5"
    assert "Shows P1 to P3. a.jpg" in second
    assert "Shows" not in third


def test_photos_come_after_the_part_for_the_crew_and_before_the_workings():
    page = Page(render(no_go(), SHOWN))
    names = [name for level, name in page.headings if level == 2]
    assert page.open == []
    assert names.index("The job") < names.index("Open questions") < names.index("Photos")
    assert names.index("Photos") < names.index("Why: clauses and answers behind each finding")
    levels = [level for level, _ in page.headings]
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_a_pier_says_how_many_photos_there_are_of_it():
    office = render(no_go(), SHOWN).partition('<div class="office">')[2]
    table = office.partition('class="stack piers')[2].partition("</table>")[0]
    said = re.findall(r'<bdi dir="ltr">(P\d)</bdi>(?:<small>(.*?)</small>)?', table)
    assert dict(said) == {
        "P1": "P1: 1 photo", "P2": "P2: 2 photos", "P3": "P3: 1 photo", "P4": "",
    }  # fmt: skip


def test_a_page_without_photos_is_as_before():
    text = render(no_go())
    assert "<img" not in text
    assert "img-src" not in text
    assert "<h2>Photos" not in text
    assert "<figcaption><b>" not in text


def test_nothing_but_the_pictures_themselves_may_be_shown():
    text = render(no_go(), SHOWN)
    (rule,) = re.findall(r'Content-Security-Policy" content="([^"]*)"', text)
    assert rule == "default-src 'none'; style-src 'unsafe-inline'; img-src data:"
    sources = re.findall(r'(?:src|href)="([^"#][^"]{0,22})', text)
    assert set(sources) == {"data:image/jpeg;base64,"}


def test_what_a_person_wrote_stays_text():
    photos = Photos(
        (photo(Place(Subject.PIER, EVIL), title=EVIL, caption=EVIL, name=EVIL),),
        (AskedPhoto(EVIL, "Photos!B7", f"shows '{EVIL}'"),),
    )
    text = render(no_go(), photos)
    page = Page(text)
    assert page.open == []
    assert page.tags.count("img") == 1
    assert "script" not in page.tags
    assert not [name for name, _ in page.attributes if name.startswith("on")]
    assert "\u202e" not in text
    assert "\u202e" not in summary(no_go(), photos)
    assert "{{ 7*7 }}" in text


def test_a_photo_that_is_missing_is_among_the_open_questions_and_holds_nothing():
    for made in (go(), on_hold()):
        text = Page(render(made, Photos((), (ASKED,)))).section("Open questions")
        assert (
            "photo 'pit3.jpg' at Photos!B7 was not found beside the survey: send it along" in text
        )
        assert "the verdict does not wait for them" in text
    assert Page(render(go(), Photos((), (ASKED,)))).headings[1][1] == "GO"
    assert "Open questions" not in render(go(), Photos(SHOWN.shown))
    assert "answers are not known" not in Page(render(go(), SHOWN)).section("Open questions")


def test_the_terminal_is_told_as_well():
    lines = summary(go(), SHOWN).splitlines()
    at = lines.index("To ask about photos: 1")
    assert lines[at + 1] == f"  {ASKED}"
    assert "photo" not in summary(go())


def test_many_missing_photos_leave_room_for_the_rest():
    asked = tuple(dataclasses.replace(ASKED, name=f"{n}.jpg") for n in range(500))
    text = summary(no_go(30), Photos((), asked))
    assert len(text.splitlines()) <= 40
    assert "more, on the sheet" in text


def test_a_name_as_long_as_a_letter_is_cut():
    assert len(str(dataclasses.replace(ASKED, name="x" * 5000))) < 200


def test_the_record_lists_them_without_their_bytes():
    made = record(no_go(), SHOWN)
    assert made["photos"][1] == {
        "name": "a.jpg", "cell": "Photos!B5", "title": "F2", "caption": "",
        "shows": ["pier P1", "pier P2", "pier P3"],
        "sha256": hashlib.sha256(jpeg(BLUE)).hexdigest(),
    }  # fmt: skip
    assert made["photos"][0]["shows"] == ["site"]
    assert made["asked_photos"] == [
        {"name": "pit3.jpg", "cell": "Photos!B7", "why": ASKED.why},
    ]
    jsonschema.validate(json.loads(write_record(no_go(), SHOWN)), record_schema())
    assert record(no_go())["photos"] == []
    assert len(write_record(no_go(), SHOWN)) < len(write_record(no_go())) + 2000


def test_sheet_and_record_are_written_with_them(tmp_path):
    page, data, *_ = write_sheet(go(), tmp_path, SHOWN, today=TODAY)
    assert page.read_text("utf-8").count("<img") == 3
    assert len(json.loads(data.read_text("utf-8"))["photos"]) == 3


@pytest.mark.parametrize("photos", [Photos(), SHOWN], ids=["none", "some"])
def test_the_verdict_is_the_same_with_and_without(photos):
    assert record(judged(), photos)["verdict"] == record(judged())["verdict"]
