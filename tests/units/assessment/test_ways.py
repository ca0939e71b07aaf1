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
from survey.assessment.ways.choosing import BY_ENGINEER, OURS, STATED
from survey.assessment.ways.search import Effort
from survey.assessment.ways.touching import Cell, Touching
from survey.assessment.ways.values import Values
from survey.assessment.why_turned import WEATHER
from survey.errors import Problem
from survey.model import Survey
from survey.resources import folder
from survey.rulebook.book import load_book, read_and_try
from survey.rulebook.rules import ReleaseBy
from survey.vocabulary import NOT_KNOWN, VOCABULARY, Missing, Origin, Subject
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
    assert release.given_from == TODAY  # the survey is older, but nothing is backdated
    assert "dated from 2026-11-30 to 2026-12-07" in text(ways)


def test_no_way_without_an_engineer_is_said_plainly():
    document = careful_house()
    document["releases"] = []
    ways = found(survey_of(document))
    assert ways.ways
    assert all(way.by_engineer for way in ways.ways)
    assert ways.without_engineer is False
    assert "No way without an engineer, among the answers that were tried." in text(ways)


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
    ways = found(survey_of(document), effort=Effort(0))
    assert not ways.all_told
    assert "No way was found before the search stopped; there may be one." in text(ways)
    ways = found(survey_of(document), effort=Effort(1))
    assert not ways.all_told
    assert "There may be others, but none cheaper" in text(ways)


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


# What may be changed, and what only found out


def changed(ways: Ways) -> set[str]:
    return {
        one.word
        for way in ways.ways
        for step in way.steps
        if isinstance(step, ChangeStep)
        for one in (step.answer, *step.opens)
    }


def test_whatever_is_called_chosen_is_either_ours_or_states_what_is_so():
    chosen = {
        word.name
        for word in VOCABULARY.words
        if word.origin is Origin.CHOSEN and word.subject is not Subject.RELEASE
    }
    assert chosen == OURS | STATED
    assert not OURS & STATED
    for name, papers in BY_ENGINEER.items():
        assert papers <= set(VOCABULARY[name].choices), name
    # What words of choice there are of paper, fact or capacity, is not ours.
    assert not OURS & {
        "building permit",
        "protection design",
        "tube yield strength",
        "levels taken",
    }


@pytest.mark.parametrize(
    "told",
    [
        {"plan_changed_since_survey": "yes"},
        {"building_permit": "none"},
        {"pier_drawings": "none"},
        {"hydraulic_hoses": "damaged"},
        {"pier_capacity_rated": "no", "rated_pier_capacity": None},
        {"rated_pier_capacity": "5 kip"},
    ],
)
def test_a_fact_that_is_answered_is_never_written_anew(told):
    ways = found(house(**told), most=3)
    assert not ways.verdict.may_start
    assert not changed(ways) & {word.name for word in VOCABULARY.words if word.key in told}


def test_no_answer_that_states_a_fact_is_touched_by_itself():
    survey = house()
    site = Touching(survey, (), BOOK, Values(survey, BOOK, TODAY))
    looked_at = set()
    for (subject, label), row in site.rows.items():
        for word in VOCABULARY.asked_of(subject):
            value = row.value(word.name)
            if word.name in STATED and not isinstance(value, Missing):
                looked_at.add(word.name)
                cell = Cell(word.name, label)
                if (word.name, label) in site.reached(word.name, label):
                    assert site.told_anew(cell)
                    assert site.step(cell) != cell
    assert len(looked_at) > 30


def test_a_fact_about_protection_that_is_answered_stays_while_the_protection_does():
    ways = found(house({"piers P2": {"protection_undamaged": "no"}}))
    assert not ways.verdict.may_start
    for way in ways.ways:
        for step in way.steps:
            assert not isinstance(step, LookStep)
            if isinstance(step, ChangeStep):
                assert step.answer.word != "protection undamaged"


def test_a_fact_that_is_open_is_found_out_and_told_as_a_question():
    ways = found(house(building_permit="none"))
    assert not ways.may_go
    assert "and if the days fit, nothing else stands against it." in text(ways)
    assert "0 things to do" not in text(ways)
    ways = found(house(building_permit=None))
    (step,) = ways.ways[0].steps
    assert isinstance(step, LookStep)
    assert step.answer.word == "building permit"


def test_what_was_told_of_other_protection_is_told_anew():
    survey = house()
    site = Touching(survey, (), BOOK, Values(survey, BOOK, TODAY))
    pit = next(row for row in survey.piers if row.label == "P2")
    assert pit.value("protection undamaged") == "yes"
    other = next(
        choice for choice in ("shield", "timber shoring") if choice != pit.value("side protection")
    )
    after, _ = site.touched({Cell("side protection", "P2"): other})
    assert (
        next(r for r in after.piers if r.label == "P2").value("protection undamaged") is NOT_KNOWN
    )
    alone, _ = site.touched({Cell("protection undamaged", "P2"): "no"})
    assert alone == survey  # by itself it stays as it was told
    assert site.step(Cell("protection undamaged", "P2")) == Cell("side protection", "P2")


def test_a_design_of_an_engineer_is_asked_of_an_engineer():
    ways = found(house({"piers P2": {"protection_design": None}}), most=1)
    (step,) = ways.ways[0].steps
    assert isinstance(step, LookStep)
    answers = {"engineer's design", "maker's data"} & set(step.answer.goes)
    assert ways.ways[0].by_engineer is (answers == {"engineer's design"})
    ways = found(house(pier_drawings=None), most=1)
    (step,) = ways.ways[0].steps
    assert isinstance(step, LookStep)
    assert ways.ways[0].by_engineer is ("none" not in step.answer.goes)


# Days


def test_the_weather_of_other_days_is_asked_for_and_may_be_any():
    ways = found(house(crew_date="2026-12-21", last_crew_date="2026-12-23"), most=5)
    with_days = [
        way for way in ways.ways
        if any(isinstance(s, ChangeStep) and s.answer.word == "crew date" for s in way.steps)
    ]  # fmt: skip
    assert with_days
    for way in with_days:
        asked = {s.answer.word: s for s in way.steps if isinstance(s, LookStep)}
        assert set(WEATHER) <= asked.keys()
        assert asked["frost"].answer.was == "not known"
        assert not asked["frost"].on_site
        assert "none expected" in asked["frost"].answer.goes
    assert "Look at the forecast for the days of this way: frost" in text(ways)


def test_weather_that_stands_against_these_days_may_be_another_on_others():
    survey = house(frost="ground frozen")
    site = Touching(survey, (), BOOK, Values(survey, BOOK, TODAY))
    alone, _ = site.touched({Cell("frost", "site"): "none expected"})
    assert alone == survey
    ways = found(survey, most=3)
    assert not ways.stuck
    for way in ways.ways:
        words = {s.answer.word for s in way.steps if isinstance(s, (LookStep, ChangeStep))}
        assert "frost" not in words or words & {"crew date", "last crew date"}


def test_a_crew_day_that_has_passed_does_not_go_as_it_is():
    survey = house()
    late = dt.date(2026, 12, 8)  # one day after the crew was to come
    ways = ways_to_go(survey, (), BOOK, late, 2)
    assert ways.verdict.may_start
    assert not ways.goes_as_it_is
    assert "It goes as it is." not in text(ways)
    assert "has passed" in text(ways)
    for way in ways.ways:
        (day,) = [s.answer.chosen for s in way.steps
                  if isinstance(s, ChangeStep) and s.answer.word == "crew date"]  # fmt: skip
        assert dt.datetime.strptime(day, "%a %d %b %Y").date() >= late
        for step in way.steps:
            if isinstance(step, ReleaseStep):
                assert late <= step.given_from <= step.given_by


def test_a_release_is_not_dated_before_today():
    survey = house()
    after = dt.date(2026, 12, 9)
    site = Touching(survey, (), BOOK, Values(survey, BOOK, after))
    assert site.release_date(survey.site) == after


def test_days_that_are_tried_are_days_of_work():
    survey = house(state="KS")
    eve = dt.date(2026, 12, 24)
    word = VOCABULARY["crew date"]
    days = Values(house(crew_date=None, last_crew_date=None), BOOK, eve).of(word, survey.site)
    assert dt.date(2026, 12, 25) not in days


# What is said of it


def test_figures_are_tried_all_over_the_plausible_range():
    survey = house()
    pit = survey.piers[0]
    word = VOCABULARY["pit depth"]
    tried = Values(survey, BOOK, TODAY).of(word, pit)
    assert word.low is not None
    assert word.high is not None
    for share in (0.1, 0.3, 0.5, 0.7, 0.9):
        wanted = word.low + share * (word.high - word.low)
        assert any(abs(float(str(one)) - wanted) <= wanted / 10 for one in tried), share


def test_no_claim_goes_beyond_what_was_tried():
    bare = careful_house()
    bare["releases"] = []
    for ways in (found(house(gas_odour="yes")), found(survey_of(bare))):
        said = text(ways)
        for claim in ("No way", "There is no other"):
            for after in said.split(claim)[1:]:
                assert "among the answers that were tried" in after.split(".")[0]


def test_what_the_evaluators_disagree_about_is_a_fault_and_no_way(monkeypatch):
    full = module.assess
    monkeypatch.setattr(
        module, "assess", lambda *a: replace(full(*a), disagreement=("DIG-1 told differently",))
    )
    ways = found(house({"piers P2": {"spoil_distance": "1 ft"}}))
    assert ways.disagreement
    assert not ways.ways
    assert "FAULT of the program: its two evaluators disagree" in text(ways)
    assert "DIG-1 told differently" in text(ways)
    assert "No way" not in text(ways)


def test_no_control_character_of_a_survey_reaches_a_terminal():
    ways = found(house({"piers P2": {"label": "P2\x1b[31m\u202e", "spoil_distance": "1 ft"}}))
    ways = replace(ways, name="a\x1b[2Jb\x07")
    said = list(lines(ways))
    assert all(line.isprintable() for line in said), said
