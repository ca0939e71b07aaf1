"""What another book would have done: for sites, piers and rules, and how it is told."""

import dataclasses
import datetime as dt

import pytest

from survey.assessment import Verdict
from survey.assessment.compare import Comparison, PierVerdict, Shift, compare_site, say
from survey.rulebook.rules import Comparison as Clause
from survey.rulebook.rules import Outcome, Rule, RuleBook
from tests.made_assessments import (
    BOOK,
    RELEASE,
    go,
    judged,
    no_go,
    other_book,
)


def changed(code: str, **fields) -> RuleBook:
    """The small book with one of its rules changed."""
    return other_book(lambda r: dataclasses.replace(r, **fields) if r.code == code else r)


def without(*codes: str) -> RuleBook:
    """The small book with rules switched off."""
    return other_book(lambda r: None if r.code in codes else r)


def rule(code: str) -> Rule:
    return next(r for r in BOOK if r.code == code)


def compared(*assessments, before=BOOK, after=BOOK) -> Comparison:
    return Comparison(tuple(compare_site(a.survey, a.problems, before, after) for a in assessments))


# Spoil has to lie 4 ft off instead of 2 ft, and whoever does not keep to that is stopped.
SPOIL = rule("DIG-3").condition
assert isinstance(SPOIL, Clause)
FARTHER = changed(
    "DIG-3", condition=dataclasses.replace(SPOIL, operand=48_000, shown="4 ft"),
    then=Outcome.STOP,
)  # fmt: skip


def test_the_same_book_changes_nothing():
    both = compared(go(), no_go())
    assert [site.changed for site in both.sites] == [False, False]
    assert [site.shifts for site in both.sites] == [(), ()]
    assert [site.name for site in both.sites] == ["larch-lane", "larch-lane"]


def test_a_stricter_limit_is_told_for_site_piers_and_rule():
    (site,) = compared(
        judged(piers=2, some_piers={2: {"spoil distance": "5 ft"}}), after=FARTHER
    ).sites
    assert (site.before, site.after) == (Verdict.GO, Verdict.NO_GO)
    assert site.verdict_changed
    assert site.piers == (
        PierVerdict("P1", Verdict.GO, Verdict.NO_GO),
        PierVerdict("P2", Verdict.GO, Verdict.GO),
    )
    assert site.shifts == (
        Shift("DIG-3", "spoil nearer than 2 ft to a pit", "nothing", "stop", ("P1",)),
    )


def test_the_other_way_round_is_told_the_other_way_round():
    (site,) = compared(go(), before=FARTHER).sites
    assert (site.before, site.after) == (Verdict.NO_GO, Verdict.GO)
    assert [(s.before, s.after) for s in site.shifts] == [("stop", "nothing")]


def test_another_outcome_of_a_rule_that_is_met_by_both_is_told():
    softer = changed("DIG-3", then=Outcome.NOTE)
    (site,) = compared(judged(every_pier={"spoil distance": "1 ft"}), after=softer).sites
    assert [(s.before, s.after) for s in site.shifts] == [("condition", "note")]


def test_a_rule_that_can_not_be_told_is_open():
    open_ = judged(every_pier={"spoil distance": None})
    (site,) = compared(open_, after=without("DIG-3")).sites
    assert (site.before, site.after) == (Verdict.HOLD, Verdict.GO)
    assert [(s.code, s.before, s.after) for s in site.shifts] == [
        ("DIG-3", "can't be told", "nothing")
    ]


def test_a_met_rule_that_asks_is_not_open():
    old = judged(site={"survey date": dt.date(2026, 9, 1)})
    (site,) = compared(old, after=changed("SURVEY-1", then=Outcome.STOP)).sites
    assert [(s.before, s.after) for s in site.shifts] == [("ask", "stop")]


def test_a_rule_that_asks_and_can_not_be_told_is_open():
    (site,) = compared(judged(site={"survey date": None}), after=without("SURVEY-1")).sites
    assert [(s.before, s.after) for s in site.shifts] == [("can't be told", "nothing")]


def test_a_lifted_finding_is_released():
    released = judged(every_pier={"pit depth": "4 ft 8 in"},
                      releases=({**RELEASE, "released place": "P1"},))  # fmt: skip
    (site,) = compared(released, before=without("FOOT-1")).sites
    assert [(s.code, s.before, s.after) for s in site.shifts] == [("FOOT-1", "nothing", "released")]
    assert (site.before, site.after) == (Verdict.GO, Verdict.GO_WITH_CONDITIONS)


def test_a_conclusion_behind_another_finding_is_told_as_well():
    unheld = {"pit depth": "6 ft", "side protection": "none", "slope of sides": None,
              "footing depth": "8 ft"}  # fmt: skip
    (site,) = compared(judged(every_pier=unheld), before=without("DIG-2")).sites
    assert {(s.code, s.before, s.after) for s in site.shifts} == {
        ("DIG-1", "nothing", "stop"),
        ("DIG-2", "nothing", "cave-in protection counted as needed"),
    }


def test_other_findings_under_the_same_verdict_are_no_other_verdict():
    (site,) = compared(no_go(), after=without("CREW-1")).sites
    assert site.changed
    assert not site.verdict_changed
    assert [(s.code, s.places) for s in site.shifts] == [("CREW-1", ("site",))]


def test_looser_and_stricter_are_told_apart_and_what_could_start_only_now():
    (stricter,) = compared(go(), after=FARTHER).sites
    (looser,) = compared(go(), before=FARTHER).sites
    (same,) = compared(go()).sites
    (no_start,) = compared(
        judged(site={"locate request made": "no"}, every_pier={"spoil distance": None}),
        after=without("LINE-2"),
    ).sites
    assert [one.looser for one in (stricter, looser, same, no_start)] == [False, True, False, True]
    assert [one.let_go for one in (stricter, looser, same, no_start)] == [False, True, False, False]


def test_a_rule_is_counted_by_sites_and_places():
    both = compared(
        judged(name="alder", piers=3), judged(name="birch", piers=2), after=FARTHER
    ).by_rule
    assert [(one.code, dict(one.places_at)) for one in both] == [
        ("DIG-3", {"alder": 3, "birch": 2})
    ]


def test_all_of_it_is_said():
    text = say(
        compared(
            judged(name="alder"), judged(name="birch", every_pier={"spoil distance": "9 ft"}),
            judged(name="cedar", piers=10, site={"locate request made": "no"}),
            after=FARTHER,
        )
    )  # fmt: skip
    assert text == (
        "3 sites compared. Another verdict: 1. Same verdict, other findings: 1. No change: 1.\n"
        "\n"
        "Another verdict\n"
        "  alder: GO -> NO-GO\n"
        "    P1: GO -> NO-GO\n"
        "    DIG-3 spoil nearer than 2 ft to a pit: nothing -> stop, at P1\n"
        "\n"
        "Other findings\n"
        "  cedar: NO-GO\n"
        "    DIG-3 spoil nearer than 2 ft to a pit: nothing -> stop, at P1, P2, P3, P4, P5, P6, "
        "P7, P8 and 2\n        more\n"
        "\n"
        "By rule\n"
        "  DIG-3 spoil nearer than 2 ft to a pit: 2 sites (alder, cedar)\n"
        "\n"
        "No change: birch"
    )


def test_the_rule_that_changes_most_sites_comes_first():
    no_request = {"locate request made": "no"}
    text = say(
        compared(
            judged(name="alder", every_pier={"spoil distance": "1 ft"}),
            judged(name="birch", site=no_request), judged(name="cedar", site=no_request),
            after=without("LINE-2", "DIG-3"),
        )
    )  # fmt: skip
    assert text.partition("By rule\n")[2].split("\n")[:2] == [
        "  LINE-2 no locate request: 2 sites (birch, cedar)",
        "  DIG-3 spoil nearer than 2 ft to a pit: 1 site (alder)",
    ]


def test_a_name_that_steers_a_terminal_is_harmless():
    text = say(compared(judged(name="lane\x1b[2J\u202e", labels={1: "P\x07"}), after=FARTHER))
    assert not set(text) & set("\x1b\u202e\x07")
    assert "lane[2J: GO -> NO-GO" in text


def test_a_fault_of_the_program_is_not_taken_for_a_change(monkeypatch):
    from survey.assessment import assessment

    monkeypatch.setattr(assessment, "_second_opinion", lambda *_: ("DIG-1 at P1: x",))
    both = compared(go(), after=FARTHER)
    assert both.sites[0].disagreement
    assert "evaluators disagree at: larch-lane." in say(both)


@pytest.mark.parametrize("sites", [0, 1])
def test_lines_fit_a_terminal(sites):
    long = judged(name="x" * 30 + " " + "y" * 90, piers=30)
    text = say(compared(*[long] * sites, after=FARTHER))
    assert max(map(len, text.split("\n"))) <= 100
