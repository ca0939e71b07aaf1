import dataclasses

import pytest

from survey.answers import read_survey
from survey.assessment import assess
from survey.document import read_document
from survey.rulebook.rules import Change
from survey.sheets import summary
from survey.vocabulary import VOCABULARY
from tests.made_assessments import BOOK, EACH_VERDICT, cell, for_engineer, judged, no_go, on_hold

SPOIL = VOCABULARY["spoil distance"].prompt


@pytest.mark.parametrize("verdict", EACH_VERDICT)
def test_the_verdict_comes_first(verdict):
    assert summary(EACH_VERDICT[verdict]()).startswith(f"{verdict}: Larch Lane 14 (larch-lane)\n")


def test_what_stands_in_the_way_is_named_with_its_place():
    text = summary(no_go())
    assert "\nPiers\n  NO-GO: P1 to P4\n" in text
    assert "\nStops\n  LINE-2 no locate request: whole site\n" in text
    assert "\n  DIG-1 pit with nothing to hold its sides: P1, P2\n" in text
    assert "\nFor the engineer\n  FOOT-1 pit under our own footing: P1 to P3\n" in text
    where = cell("spoil distance", 3).replace("!", " ")
    assert f"\nOpen: 2 answers not known\n  P3: {SPOIL} ({where})\n" in text
    assert text.endswith("\nConditions: 3 (DIG-3, LINE-1, CREW-1)")


def test_cells_of_one_question_stand_together():
    text = " ".join(summary(on_hold()).split())
    sheet, first = cell("spoil distance", 1).split("!")
    last = cell("spoil distance", 4).split("!")[1]
    assert f" P1 to P4: {SPOIL} ({sheet} {first} to {last}) " in text
    listed = "all utilities listed"
    assert f"{VOCABULARY[listed].prompt} ({cell(listed).replace('!', ' ')})" in text


def test_a_question_of_a_survey_in_json_gives_its_path():
    survey, problems = read_survey(read_document('{"pier_survey": 1, "site": {}}', "lane.json"))
    text = summary(assess(survey, problems, BOOK))
    prompt = VOCABULARY["locate request made"].prompt
    assert f"{prompt} (site.locate_request_made)" in " ".join(text.split())


def test_problems_come_before_everything_else():
    text = summary(on_hold())
    assert (
        "  The crew may not be scheduled: 1 cell must be put right; 7 answers are missing" in text
    )
    where = cell("pit depth", 3)
    assert f"\nCells to put right\n  {where}: read 'deep', expected a length such as" in text
    assert text.index("Cells to put right") < text.index("Open: ")


def test_releases_that_do_not_count_are_told_with_why():
    text = summary(for_engineer())
    assert "\nReleases that do not count: 2\n" in text
    assert (
        "  FOOT-1 at P2 (Releases!row 5): at P2: it ends on 2026-11-30, before the crew's last day"
    ) in text
    assert "  FOTO-1 at P3 (Releases!row 6): no rule has the code or name 'FOTO-1'" in text
    assert text.endswith("\nConditions: 1 (FOOT-1 as released)")


def test_a_job_without_a_name_says_so():
    assert summary(judged(site={"job name": None})).startswith("GO: no name given (larch-lane)\n")


def test_local_rules_are_told():
    change = Change("limit 'spoil set-back' is 3 ft; shipped: 2 ft", "loose ground", "firm.rules:3")
    made = dataclasses.replace(judged(), changes=(change,))
    assert (
        "  Judged with local rules: 1 change to the shipped book, under 'Local rules in force'.\n"
    ) in summary(made)
    assert summary(made).endswith(
        "\nLocal rules in force\n"
        "  limit 'spoil set-back' is 3 ft; shipped: 2 ft; loose ground (firm.rules:3)"
    )
    assert "local rules" not in summary(dataclasses.replace(made, changes=())).lower()


def test_a_long_line_is_wrapped_and_not_cut():
    address = " ".join(f"word{i}" for i in range(30))
    text = summary(judged(site={"address": address}))
    assert address in " ".join(text.split())


def test_piers_stand_by_verdict_from_the_worst():
    assert "  ENGINEER REVIEW: P2 to P4\n  GO WITH CONDITIONS: P1\n" in summary(for_engineer())


@pytest.mark.parametrize("piers", [0, 1, 30])
def test_it_is_short_however_much_there_is_to_say(piers):
    for assessment in (no_go(max(piers, 4)), judged(piers=piers, blank=True), on_hold(30)):
        lines = summary(assessment).split("\n")
        assert len(lines) <= 40
        assert max(map(len, lines)) <= 100


def test_nothing_in_the_survey_can_steer_the_terminal():
    text = summary(judged(name="lane\x1b[2J\n\r\u202e", site={"job name": "A" * 900}))
    assert set(text) & set("\x1b\r\u202e") == set()
    assert max(map(len, text.split("\n"))) <= 100
