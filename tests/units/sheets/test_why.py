"""Why: what is behind each finding, what would settle the open ones, the chain, who judged."""

from __future__ import annotations

import dataclasses

import pytest

from survey.assessment import Assessment
from survey.rulebook import production
from survey.sheets._places import Places
from survey.sheets._templates import template
from survey.sheets.why import Behind, Row, Why, why
from tests.made_assessments import cell, for_engineer, judged, no_go, on_hold


def of(assessment: Assessment) -> Why:
    return why(assessment, Places.of(assessment.survey))


def behind(assessment: Assessment, code: str, outcome: str) -> Behind:
    counted = (one for one in of(assessment).findings if not one.released)
    (found,) = (one for one in counted if (one.rule.code, one.outcome.value) == (code, outcome))
    return found


def said(row: Row) -> list[str]:
    return [f"{c.clause}: {f.text}" for c in row.clauses for f in c.found]


def test_like_places_stand_together_with_all_their_cells():
    (row,) = behind(for_engineer(4), "FOOT-1", "engineer").rows[:1]
    assert row.where == "P2 to P4"
    (clause,) = row.clauses
    assert clause.clause == "pit depth is more than footing depth"
    assert [f.text for f in clause.found] == ["pit depth: 4 ft 8 in", "footing depth: 4 ft"]
    column = cell("pit depth").removeprefix("Piers!").rstrip("0123456789")
    assert clause.found[0].answers == f"Piers {column}5 to {column}7"


def test_what_is_the_same_at_all_places_is_said_once():
    made = judged(
        piers=2, gas={"utility start offset": "11 ft", "utility end offset": "23 ft"},
    )  # fmt: skip
    everywhere, *each = behind(made, "LINE-1", "condition").rows
    assert everywhere.where == "P1, P2 / gas main"
    assert said(everywhere) == [
        "utility kind is gas: utility kind: gas",
        "shut off for the work is no: shut off for the work: no",
    ]
    assert [row.where for row in each] == ["P1 / gas main", "P2 / gas main"]
    assert all(len(row.clauses) == 1 for row in each)
    assert all("clearance to utility is less than 4 ft" in said(row)[0] for row in each)


def test_an_open_finding_says_what_would_settle_it_and_to_what():
    (row,) = behind(on_hold(4), "DIG-3", "ask").rows
    assert row.where == "P1 to P4"
    assert row.settling == "condition, if spoil distance is less than 2 ft; nothing otherwise"
    assert row.answers == ()  # the text says what its one answer would do
    assert row.clauses == ()


def test_a_conclusion_that_is_open_names_the_rules_that_it_waits_for():
    (row,) = behind(
        judged(every_pier={"side protection": "none", "slope of sides": None, "pit depth": None}),
        "DIG-1", "ask",
    ).rows  # fmt: skip
    assert row.settling == (
        "stop, if cave-in protection comes out as needed (waits for DIG-2); nothing otherwise"
    )
    assert row.answers == (
        "pit depth: less than 5 ft: nothing; at least 5 ft: depends on cave-in protection",
    )


def test_a_list_that_may_go_on_waits_for_what_it_left_out():
    made = judged(site={"all utilities listed": None})
    (row,) = behind(made, "LINE-1", "ask").rows
    assert row.where == "whole site"
    assert row.settling == (
        "condition, if another utility is found and clearance to utility is less than 4 ft and "
        "utility kind is one of: gas, electric and shut off for the work is no; nothing otherwise"
    )
    assert row.answers == (
        "all utilities listed: yes: nothing; no: depends on what is listed then",
    )


def test_the_chain_leads_from_a_conclusion_to_the_findings_that_saw_it():
    (first, *rest) = of(no_go()).chain
    links = {link.rule.code: link for link in (first, *rest)}
    assert links["DIG-2"].concluded == "cave-in protection counts as needed"
    assert links["DIG-2"].used_by == ("DIG-1",)
    assert links["SOIL-1"].used_by == ("DIG-2",)
    assert said(links["SOIL-1"].rows[0]) == ["seepage at pit is yes: seepage at pit: yes"]


@pytest.mark.skipif(not production.available(), reason="the second evaluator does not run here")
def test_both_evaluators_say_how_much_they_found():
    made = no_go()
    first, second = made.said
    assert first.met == second.met > 0
    assert first.cannot_tell == second.cannot_tell > 0
    judged_by = of(made).judged
    assert f"direct evaluator: met {first.met}, can't tell {first.cannot_tell};" in judged_by
    assert f"durable-rules: met {first.met}, can't tell {first.cannot_tell})" in judged_by
    assert judged_by.endswith("They say the same at every place.")


def test_a_disagreement_is_told_line_by_line():
    line = "DIG-1 at P1: met by the direct evaluator only"
    told = of(dataclasses.replace(no_go(), disagreement=(line,), evaluators=2))
    assert "do not agree" in told.judged
    page = template("why.html").render(why=told)
    assert f"<p>{line}.</p>" in page


def test_one_evaluator_is_said_to_be_one():
    made = no_go()
    told = of(dataclasses.replace(made, evaluators=1, said=made.said[:1]))
    assert told.judged.startswith("Judged once, each rule at each place (direct evaluator: met ")


def test_hostile_text_of_the_survey_stays_text():
    made = judged(labels={1: "<b>P1</b>"}, every_pier={"spoil distance": "1 ft"})
    page = template("why.html").render(why=of(made))
    assert "<b>P1" not in page
    assert "&lt;b&gt;P1" in page
