"""A sheet that was altered is found out; one that was not is judged again."""

import base64
import dataclasses
import json
import random
import re
import zlib
from pathlib import Path

import pytest

from survey.errors import UserError
from survey.photos import AskedPhoto, Photo, Photos, Place
from survey.rulebook import production
from survey.sheets import render
from survey.sheets.html import MARKER
from survey.sheets.seal import closed, is_unaltered, packed
from survey.sheets.since import glance, since
from survey.sheets.verify import read_page, say, verify
from survey.vocabulary import Subject
from tests.made_assessments import BOOK, EACH_VERDICT, go, judged, no_go, other_book
from tests.made_pictures import BLUE, RED, jpeg

CHANGED = "it was changed since it was written: its digest is another one"
BLOCK = re.compile(r"(?<=<!-- judged )\S*(?= -->)")


def forged(page, change):
    """A page that somebody altered and gave the right digest again."""
    body = page[: page.rindex("<!-- sha256 ")]
    other = change(body)
    assert other != body
    return closed(other)


def with_block(page, change):
    """A page with another block, and the right digest."""

    def other(match):
        sealed = json.loads(zlib.decompress(base64.b64decode(match[0], b"._")))
        change(sealed)
        return base64.b64encode(zlib.compress(json.dumps(sealed).encode()), b"._").decode()

    return forged(page, lambda body: BLOCK.sub(other, body))


@pytest.mark.parametrize("verdict", EACH_VERDICT)
def test_a_sheet_as_it_was_written_is_judged_again_and_comes_out_the_same(verdict):
    found = verify(render(EACH_VERDICT[verdict]()), BOOK)
    assert found.altered == found.made_otherwise == ()
    assert found.judged_again
    assert found.same
    assert found.status == 0
    assert say(Path("a.html"), found).splitlines() == [
        "a.html: as it was written.",
        "The survey in it, judged again, comes out the same.",
        "This finds slips and edits. It is no signature: whoever has the program can write a "
        "sheet.",
    ]


def test_a_sheet_that_says_what_changed_since_the_last_check_is_verified_too():
    told = since(glance(go()), glance(no_go()))
    assert verify(render(no_go(), since=told), BOOK).status == 0


def test_a_sheet_from_a_python_where_one_evaluator_runs_is_verified_too():
    once = dataclasses.replace(go(), evaluators=1, said=go().said[:1])
    assert "Judged once" in render(once)
    assert verify(render(once), BOOK).status == 0


def test_a_sheet_judged_twice_is_verified_where_one_evaluator_runs(monkeypatch):
    page = render(no_go())
    assert "Judged twice" in page
    monkeypatch.setattr(production, "available", lambda: False)
    monkeypatch.setattr(production, "expected", lambda: False)
    assert verify(page, BOOK).status == 0


def test_any_single_character_that_was_changed_is_found():
    page, rng = render(no_go()), random.Random(11)
    assert is_unaltered(page)
    for at in rng.sample(range(len(page)), 400):
        other = chr(rng.choice([9, 10, 13, *range(32, 127), 0xE9, 0x2028, 0x1F600]))
        if other != page[at]:
            assert not is_unaltered(page[:at] + other + page[at + 1 :]), (at, other)
    for at in rng.sample(range(len(page)), 60):
        assert not is_unaltered(page[:at] + page[at + 1 :]), at
        assert not is_unaltered(page[:at] + " " + page[at:]), at
        assert not is_unaltered(page[:at]), at


def test_every_such_change_is_exit_status_2():
    page, rng = render(no_go()), random.Random(12)
    for at in rng.sample(range(len(page)), 8):
        found = verify(page[:at] + chr(ord(page[at]) ^ 1) + page[at + 1 :], BOOK)
        assert found.altered
        assert found.status == 2


@pytest.mark.parametrize(
    ("change", "faults"),
    [
        (lambda p: p.replace("NO-GO", "GO"), [CHANGED]),
        (lambda p: p[:-300], ["its last line, which has the digest, is missing"]),
        (lambda p: p.replace("\n", "\r\n"), ["it does not begin as the pages"]),
        (lambda p: f"<p>{p}", ["it does not begin as the pages of this program do"]),
        (lambda p: "", ["it does not begin as the pages of this program do"]),
        (lambda p: p + "\n", ["its last line, which has the digest, is missing"]),
    ],
)
def test_what_was_altered_says_so(change, faults):
    found = verify(change(render(no_go())), BOOK)
    assert found.status == 2
    assert [fault[: len(start)] for fault, start in zip(found.altered, faults, strict=False)] == (
        faults
    )
    assert say(Path("a.html"), found).startswith("a.html: ALTERED, OR NOT READABLE.")


def test_an_edit_is_found_though_somebody_put_the_digest_right():
    page = forged(render(no_go()), lambda body: body.replace("P2", "P3", 1))
    assert is_unaltered(page)
    (fault,) = verify(page, BOOK).altered
    assert fault.startswith("the same program and rules write another page of the survey in it")
    assert "P3" in fault


def test_so_is_one_in_the_block_that_no_browser_shows():
    def better(sealed):
        sealed["judged"]["verdict"] = "GO"

    found = verify(with_block(render(no_go()), better), BOOK)
    assert found.status == 2
    assert found.differs["verdict"] == {"before": "GO", "now": "NO-GO"}


def test_and_an_answer_in_the_block_is_held_against_its_fingerprint():
    def other(sealed):
        answers = sealed["judged"]["survey"]["site"]["answers"]
        answers["public kept out"]["value"] = "no"

    found = verify(with_block(render(go()), other), BOOK)
    assert "the answers in it are not those that it says it was made from" in found.altered


def test_by_other_rules_it_tells_which_and_what_comes_out_differently():
    def stricter(rule):
        return None if rule.code == "DIG-1" else rule

    other = dataclasses.replace(other_book(stricter), shipped="other")
    made = judged(
        every_pier={"side protection": "none", "pit depth": "6 ft", "footing depth": "6 ft"}
    )
    found = verify(render(made), other)
    assert found.altered == ()
    assert found.made_otherwise == (f"shipped rules: {BOOK.shipped} made it, other here",)
    assert found.status == 1
    assert found.differs["rules"] == [{"change": "gone", "code": "DIG-1"}]
    assert [f["code"] for f in found.differs["findings"]] == ["DIG-1"]
    said = say(Path("a.html"), found)
    assert "THE SURVEY IN IT, JUDGED AGAIN, COMES OUT DIFFERENTLY:" in said
    assert f"Verdict: whole site: was NO-GO, now {found.differs['verdict']['now']}" in said


def test_other_rules_of_the_firm_are_told_apart_and_may_come_out_the_same():
    found = verify(render(go()), dataclasses.replace(BOOK, local="abc"))
    assert found.made_otherwise == ("the firm's own rules: none made it, abc here",)
    assert found.status == 0
    assert "comes out the same" in say(Path("a.html"), found)
    own = dataclasses.replace(go(), rules=dataclasses.replace(BOOK, local="abc"))
    (told,) = verify(render(own), BOOK).made_otherwise
    assert told == "the firm's own rules: abc made it, none here; give them with '--rules'"


def test_another_version_and_another_copy_of_the_program_are_told_apart(monkeypatch):
    older = render(dataclasses.replace(go(), version="0.0.1"))
    (told,) = verify(older, BOOK).made_otherwise
    assert told == f"program: 0.0.1 made it, {go().version} is at hand"
    page = render(go())
    monkeypatch.setattr("survey.sheets.verify.made_by", lambda: "other")
    found = verify(page, BOOK)
    assert found.made_otherwise == (f"program: another copy of version {go().version} made it",)
    assert found.status == 0


def picture(colour):
    return Photo(
        "a.jpg", "Photos!B5", "F1", "Street", (Place(Subject.SITE, "site"),), "ab" * 32,
        jpeg(colour), 64, 48,
    )  # fmt: skip


def test_a_sheet_with_photos_is_verified_and_another_picture_in_it_is_found():
    asked = AskedPhoto("b.jpg", "Photos!B6", "was not found: send it along")
    page = render(go(), Photos((picture(RED),), (asked,)))
    assert verify(page, BOOK).status == 0
    red, blue = (base64.b64encode(jpeg(colour)).decode() for colour in (RED, BLUE))
    swapped = forged(page, lambda body: body.replace(red, blue))
    assert verify(swapped, BOOK).altered == (
        "a picture in it is not the one that it was written with",
    )


def test_of_another_page_only_changes_are_told():
    page = closed(MARKER.replace("sheet", "crew page") + "<html></html>\n")
    found = verify(page, BOOK)
    assert (found.status, found.judged_again) == (0, False)
    assert "verify the sheet beside it" in say(Path("a.html"), found)
    assert verify(page.replace("<html>", "<html >"), BOOK).altered == (CHANGED,)


def block(content):
    return lambda body: BLOCK.sub(lambda _: content, body)


def zipped(content, **kept):
    return base64.b64encode(zlib.compress(content, 9)[: kept.get("of")], b"._").decode()


def nested():
    return zipped(b"[" * 1_000_000)


UNREADABLE = "the survey in it can't be unpacked"


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        (block("@@@"), "it carries no survey"),
        (block(""), "the survey in it is cut off"),
        (block("QUJD"), UNREADABLE),
        (block("QUJ"), UNREADABLE),
        (block(zipped(b"{")), UNREADABLE),
        (block(zipped(b"\xff\xfe\xff")), UNREADABLE),
        (block(nested()), UNREADABLE),
        (block(zipped(b"9" * 5000)), UNREADABLE),
        (block(zipped(b" " * 200 * 2**20)), "the survey in it is larger than any survey can be"),
        (block(zipped(b'{"a": 1}' * 99, of=-8)), "the survey in it is cut off"),
        (block(zipped(b"[]")), "it: expected a table"),
        (block(zipped(b"{}")), "pier_survey_sheet: missing"),
        (block(zipped(b'{"pier_survey_sheet": 2}')),
         "it was written by a later version of the program"),
        (lambda body: body + body[body.index("<!-- judged"):], "it carries two surveys"),
    ],
)  # fmt: skip
def test_a_hostile_block_is_refused_in_words(change, fault):
    found = verify(forged(render(go()), change), BOOK)
    assert found.status == 2
    assert found.altered[0] == fault


def _at(*path, value):
    def change(sealed):
        *way, last = path
        for key in way:
            sealed = sealed[key]
        sealed[last] = value

    return change


SURVEY = ("judged", "survey")


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        (_at("judged", "piers", value=[{"pier": 1, "verdict": "GO"}]),
         "judged.piers[1].pier: expected a text"),
        (_at("judged", "rules", value={"DIG-1": None}), "judged.rules.DIG-1: expected a text"),
        (_at("judged", value=[]), "judged: expected a table"),
        (_at("evaluators", value=True), "evaluators: expected a whole number"),
        (_at("since", value={"note": ""}), "since: expected a table or null"),
        (_at("photos", value=[{}]), "photos[1].name: missing"),
        (_at(*SURVEY, "units", value="cubits"),
         "judged.survey.units: expected 'US customary' or 'metric'"),
        (_at(*SURVEY, "site", "answers", "job name", value={"date": 1, "cell": "x"}),
         "judged.survey.site.answers.job name: expected a table"),
        (_at(*SURVEY, "site", "answers", "job name", value={"date": "x", "cell": "x"}),
         "site.answers.job name: no value, day or state"),
    ],
)  # fmt: skip
def test_wrong_types_in_the_block_are_told_by_their_place(change, fault):
    found = verify(with_block(render(go()), change), BOOK)
    assert found.status == 2
    assert found.altered[0] == fault


def test_a_photo_of_nothing_is_told():
    def nothing(sealed):
        sealed["photos"][0]["shows"] = [["moon", "x"]]

    page = with_block(render(go(), Photos((picture(RED),))), nothing)
    assert "a photo in it shows what is no part of a survey" in verify(page, BOOK).altered


def test_what_it_quotes_can_not_lead_a_terminal_astray():
    page = forged(render(go()), lambda b: b.replace("<h1>", "<h1>\x1b[31m\u202e", 1))
    said = say(Path("a.html"), verify(page, BOOK))
    assert "\x1b" not in said
    assert "\u202e" not in said


def test_a_file_that_is_no_text_or_far_too_large_is_refused(tmp_path):
    file = tmp_path / "a.html"
    file.write_bytes(b"<!DOCTYPE html>\xff")
    with pytest.raises(UserError, match="no UTF-8 text"):
        read_page(file)
    with file.open("wb") as stream:
        stream.truncate(101 * 2**20)
    with pytest.raises(UserError, match="larger than a sheet can be"):
        read_page(file)
    with pytest.raises(UserError, match="can't be read"):
        read_page(tmp_path / "none.html")


def test_the_block_is_the_same_for_the_same_site():
    once, again = (packed(glance(go()), 2, Photos(), None) for _ in range(2))
    assert once == again
