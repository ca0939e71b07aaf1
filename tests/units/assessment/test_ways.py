"""The way to go: what it proposes, in what order, and what it never does."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from survey.assessment import Verdict
from survey.assessment.ways import (
    ChangeStep,
    LookStep,
    MendStep,
    ReleaseStep,
    Ways,
    lines,
    ways_to_go,
)
from survey.assessment.ways import ways as module
from survey.assessment.ways.search import Effort
from survey.errors import Problem
from survey.model import Survey
from survey.resources import folder
from survey.rulebook.book import load_book, read_and_try
from survey.rulebook.rules import ReleaseBy
from tests.demo_surveys import careful_house, survey_of

TODAY = dt.date(2026, 11, 30)
BOOK = load_book()


def house(changes: dict[str, dict[str, object]] | None = None, **site: object) -> Survey:
    """The careful house with other answers of the site and of rows by list and label."""
    document = careful_house()
    document["site"] |= site
    for place, answers in (changes or {}).items():
        name, _, label = place.partition(" ")
        for row in document[name]:
            if row["label"] == label:
                row.update(answers)
    return survey_of(document)


def found(survey: Survey, *, problems: tuple[Problem, ...] = (), most: int = 5, **more) -> Ways:
    return ways_to_go(survey, problems, more.pop("book", BOOK), TODAY, most, **more)


def text(ways: Ways) -> str:
    return " ".join(" ".join(lines(ways)).split())


def steps(ways: Ways) -> list[set[str]]:
    """What is touched by each way."""

    def name(step) -> str:
        if isinstance(step, ReleaseStep):
            return step.code
        return step.problem.where if isinstance(step, MendStep) else step.answer.word

    return [{name(step) for step in way.steps} for way in ways.ways]


def test_a_site_that_goes_needs_no_way():
    ways = found(house())
    assert ways.verdict.may_start
    assert ways.may_go
    assert not ways.ways
    assert "It goes as it is." in text(ways)


def test_an_open_question_is_told_with_the_answers_that_would_do_and_those_that_would_not():
    ways = found(house(test_hole_depth=None))
    assert ways.verdict is Verdict.HOLD
    first = ways.ways[0]
    (step,) = first.steps
    assert isinstance(step, LookStep)
    assert (step.answer.word, step.answer.was, step.on_site) == (
        "test hole depth", "not known", True,
    )  # fmt: skip
    assert step.answer.goes
    assert first.cost == 18000 + 1500  # one visit, one question
    assert first.verdict is Verdict.GO_WITH_CONDITIONS
    assert f"{first.ticks} things for the crew to tick" in text(ways)
    assert "Look, and write what is true" in text(ways)


def test_of_a_yes_or_no_both_answers_are_told():
    ways = found(house({"piers P2": {"cave_in_signs": None}}))
    (step,) = ways.ways[0].steps
    assert isinstance(step, LookStep)
    assert (step.answer.goes, step.answer.stays) == (("no", "yes"), ()) or (
        step.answer.goes, step.answer.stays,
    ) == (("no",), ("yes",))  # fmt: skip


def test_the_figures_on_either_side_of_a_limit_are_told_closely():
    ways = found(house({"piers P2": {"spoil_distance": None}}))
    step = ways.ways[0].steps[0]
    assert isinstance(step, LookStep)
    assert not step.on_site  # chosen by us: found out in the office
    assert step.answer.goes == ("2 ft or more",)
    (too_near,) = step.answer.stays
    assert too_near.endswith("or less")
    assert "1 ft" in too_near


def test_what_is_cheaper_comes_first_by_the_firms_own_costs():
    near = house({"piers P2": {"spoil_distance": "1 ft"}})
    ways = found(near)
    assert steps(ways)[:2] == [{"spoil distance"}, {"DIG-15"}]
    assert [way.cost for way in ways.ways[:2]] == [6000, 9000]
    shipped = {f.name: f.read_text("utf-8") for f in folder("rules").glob("*.rules")}
    own = {"own.rules": "cost spoil distance = 300 usd\n  from our own\n"}
    dear = found(near, book=read_and_try(shipped, own))
    assert steps(dear)[:2] == [{"DIG-15"}, {"spoil distance"}]


def test_a_release_is_asked_of_whom_the_rule_names_and_holds_over_the_crews_days():
    ways = found(house({"piers P2": {"spoil_distance": "1 ft"}}))
    (release,) = ways.ways[1].steps
    assert isinstance(release, ReleaseStep)
    assert release.by is ReleaseBy.COMPETENT_PERSON
    assert release.places == ("P2",)
    assert (release.given_by, release.until) == (dt.date(2026, 12, 7), dt.date(2026, 12, 11))


def test_no_way_without_an_engineer_is_said_plainly():
    document = careful_house()
    document["releases"] = []
    ways = found(survey_of(document))
    assert ways.ways
    assert all(way.by_engineer for way in ways.ways)
    assert ways.without_engineer is False
    assert "No way without an engineer." in text(ways)


def test_a_changed_choice_brings_the_answers_that_it_opens():
    bare = {
        "side_protection": "none",
        **dict.fromkeys(
            ("protection_design", "protection_in_place_before_entry", "protection_covers",
             "height_of_protection", "dug_below_protection", "protection_undamaged"), None,
        ),
    }  # fmt: skip
    ways = found(house({"piers P2": bare}), most=1)
    (step,) = ways.ways[0].steps
    assert isinstance(step, ChangeStep)
    assert step.answer.word == "side protection"
    assert {"protection in place before entry", "protection covers"} <= {
        one.word for one in step.opens
    }
    assert step.cost == 40000  # its own, before that of any choice


def test_what_was_seen_is_never_changed_and_is_named_where_nothing_else_helps():
    ways = found(house(gas_odour="yes"))
    assert not ways.may_go
    assert {one.place for one in ways.stuck} == {"site"}
    assert any("gas odour" in seen for one in ways.stuck for seen in one.seen)
    assert "No way by anything that we may answer, change or have released" in text(ways)


def test_what_else_is_to_do_is_told_beside_what_was_seen():
    ways = found(house({"piers P2": {"spoil_distance": "1 ft"}}, gas_odour="yes"))
    assert ways.stuck
    assert not ways.may_go
    assert steps(ways)[0] == {"spoil distance"}
    assert "nothing else stands against it" in text(ways)


def test_a_cell_to_put_right_is_closed_by_an_answer():
    survey = house({"piers P2": {"spoil_distance": None}})
    where = next(p for p in survey.piers if p.label == "P2").answers["spoil distance"].where
    ways = found(survey, problems=(Problem(where, "two-ish", "a length"),))
    assert steps(ways)[0] == {"spoil distance"}


def test_a_cell_that_no_answer_puts_right_is_a_step_of_its_own():
    ways = found(house(), problems=(Problem("Site!H40", "what?", "nothing here"),))
    assert ways.verdict is Verdict.HOLD
    (step,) = ways.ways[0].steps
    assert isinstance(step, MendStep)
    assert "Site!H40" in text(ways)


def test_a_contact_that_is_not_known_may_be_any_that_says_something():
    ways = found(house(emergency_contact=None))
    (step,) = ways.ways[0].steps
    assert isinstance(step, LookStep)
    assert step.answer.chosen == "any that says something"


def test_the_crew_may_come_on_other_days_but_none_that_has_passed():
    late = house(crew_date="2026-12-21", last_crew_date="2026-12-23")
    ways = found(late, most=3)
    moved = [
        step for way in ways.ways for step in way.steps
        if isinstance(step, ChangeStep) and step.answer.word == "crew date"
    ]  # fmt: skip
    assert moved
    for step in moved:
        assert dt.datetime.strptime(step.answer.chosen, "%a %d %b %Y").date() >= TODAY


def test_a_search_that_stops_early_says_so():
    document = careful_house()
    document["releases"] = []
    document["piers"][1]["spoil_distance"] = "1 ft"
    ways = found(survey_of(document), effort=Effort(2))
    assert not ways.all_told
    assert "before the search stopped" in text(ways) or "stopped early" in text(ways)


def test_a_way_that_a_full_check_does_not_confirm_is_left_out_loudly(monkeypatch):
    full, calls = module.assess, []

    def differing(*arguments):
        calls.append(arguments)
        after = full(*arguments)
        return after if len(calls) == 1 else replace(after, disagreement=("told differently",))

    monkeypatch.setattr(module, "assess", differing)
    ways = found(house({"piers P2": {"spoil_distance": "1 ft"}}))
    assert not ways.ways
    assert not ways.may_go
    assert len(ways.unconfirmed) >= 2
    assert "FAULT of the program" in text(ways)


def test_a_book_without_costs_still_gives_ways_and_says_what_has_no_cost():
    free = replace(BOOK, costs={})
    ways = found(house({"piers P2": {"spoil_distance": "1 ft"}}), book=free)
    assert ways.ways
    assert ways.uncosted
    assert "The rules set no cost for" in text(ways)
    assert "usd" not in text(ways)


@pytest.mark.parametrize("most", [1, 2])
def test_no_more_ways_are_told_than_asked_for(most):
    assert len(found(house({"piers P2": {"spoil_distance": "1 ft"}}), most=most).ways) == most
