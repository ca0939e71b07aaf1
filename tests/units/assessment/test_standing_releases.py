"""A firm's standing release lifts what it names, where its conditions are met, while it lasts."""

from __future__ import annotations

import copy

import pytest

from survey.assessment import Verdict, assess
from survey.resources import folder
from survey.rulebook.book import read_and_try
from tests.demo_surveys import careful_house, survey_of

RELEASE = """\
standing release REL-1 detail 3
  lifts    FOOT-1
  when     {when}
  engineer Bo Muster
  licence  PE 1, Exampleland
  given    {given}
  until    {until}
  note     Detail 3, one pit at a time
  case     {lifted} gives lifted
  case     {nothing} gives nothing
"""
POURED = "wall material poured concrete"
MET = ("wall material is poured concrete", POURED, "wall material brick")
SHIPPED = {f.name: f.read_text("utf-8") for f in sorted(folder("rules").glob("*.rules"))}


def standing(when, given="2026-01-01", until="2026-12-31"):
    condition, lifted, nothing = when
    return RELEASE.format(when=condition, given=given, until=until, lifted=lifted, nothing=nothing)


def judged(when=MET, given="2026-01-01", until="2026-12-31", own=True, **pier):
    """The careful house without a release of its own, by a book with a standing one."""
    document = copy.deepcopy(careful_house())
    # The letter on lifting stays; the one on the footing is to be the standing one.
    document["releases"] = document["releases"][1:]
    document["piers"][0] |= pier
    text = standing(when, given, until)
    book = read_and_try(SHIPPED, {"firm/own.rules": text} if own else {})
    return assess(survey_of(document), (), book)


def footing(assessment):
    return [f for f in assessment.findings if f.rule.code == "FOOT-1"]


def refusals(assessment):
    return {s.refused for f in footing(assessment) for s in f.refused}


def test_without_it_an_engineer_must_look():
    assert judged(own=False).verdict is Verdict.ENGINEER_REVIEW


def test_it_lifts_every_finding_of_its_rule_and_stays_on_the_sheet():
    assessment = judged()
    assert assessment.verdict is Verdict.GO_WITH_CONDITIONS
    releases = [finding.releases for finding in footing(assessment)]
    assert len(releases) == 5
    (one,) = {release for each in releases for release in each}
    assert (one.label, one.person, one.licence) == ("REL-1", "Bo Muster", "PE 1, Exampleland")
    assert (one.date, one.end, one.where) == ("2026-01-01", "2026-12-31", "firm/own.rules:1")
    assert assessment.disagreement == ()


@pytest.mark.parametrize(
    ("changes", "refused"),
    [
        ({"given": "2026-12-08"},
         "it is dated 2026-12-08, after the crew's first day (2026-12-07); it must hold by then"),
        ({"until": "2026-12-10"},
         "it ends on 2026-12-10, before the crew's last day (2026-12-11); have it given for"),
        ({"when": ("wall material is brick", "wall material brick", POURED)},
         "its conditions are not met"),
        ({"when": ("pit depth is less than 1 ft", "pit depth 11 in", "pit depth 1 ft")},
         "its conditions are not met"),
    ],
)  # fmt: skip
def test_it_lifts_nothing_beyond_its_days_and_conditions(changes, refused):
    assessment = judged(**changes)
    assert assessment.verdict is Verdict.ENGINEER_REVIEW
    assert all(why.startswith(refused) for why in refusals(assessment))
    assert refusals(assessment)


def test_it_lifts_nothing_where_its_conditions_can_not_be_told():
    when = ("cave-in signs is no", "cave-in signs no", "cave-in signs yes")
    assessment = judged(when, cave_in_signs=None)
    lifted = {finding.place for finding in footing(assessment) if finding.releases}
    assert lifted == {"P2", "P3", "P4", "P5"}
    assert refusals(assessment) == {"it can't be told whether its conditions are met"}


def test_an_open_question_is_not_lifted():
    assessment = judged(footing_depth=None)
    (open_one,) = [f for f in footing(assessment) if f.place == "P1"]
    assert open_one.releases == ()
    assert open_one.settles
    assert open_one.refused == ()


def test_a_survey_release_of_the_same_name_is_still_told_when_it_lifts_nothing():
    document = copy.deepcopy(careful_house())
    document["releases"][0] |= {"label": "REL-1", "released_finding": "FOOT-99"}
    text = standing(MET)
    assessment = assess(survey_of(document), (), read_and_try(SHIPPED, {"own.rules": text}))
    assert [standing.release.label for standing in assessment.unused_releases] == ["REL-1"]
