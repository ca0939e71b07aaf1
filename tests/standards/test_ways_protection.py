"""A pit that needs protection: what the way to go proposes is what 29 CFR 1926.652 allows.

1926.652(a)(1): protection from 5 ft; (b): sloping and benching by Appendix B, Table B-1 (type A
3/4:1, type B 1:1, type C 1 1/2:1 for 20 ft and less); (c): support and shield systems by Appendices
A, C and D, by tables of a maker or by a design of an engineer.
"""

from __future__ import annotations

import datetime as dt

import pytest

from survey.assessment import assess
from survey.assessment.ways.judging import Judge
from survey.assessment.ways.search import Effort, Puzzle, Search
from survey.assessment.ways.touching import Cell, Touched, Touching
from survey.assessment.ways.values import Values
from survey.model import Value
from survey.rulebook.book import load_book
from tests.demo_surveys import HELD, careful_house, survey_of

BOOK = load_book()
TODAY = dt.date(2026, 11, 30)
ALLOWED = {"sloped", "benched", "timber shoring", "hydraulic shoring", "shield"}  # (b) and (c)
TABLE_B_1 = {"A": 0.75, "B": 1.0, "C": 1.5}
PIT = "P2"


@pytest.fixture(scope="module")
def site() -> Touching:
    """The careful house; one pit is 5 ft 3 in deep, and nothing holds its sides."""
    document = careful_house()
    for row in document["piers"]:
        if row["label"] == PIT:
            row["side_protection"] = "none"
            for name in HELD:
                row.pop(name, None)
    survey = survey_of(document)
    assert any(f.rule.code == "DIG-1" for f in assess(survey, (), BOOK).findings)
    return Touching(survey, (), BOOK, Values(survey, BOOK, TODAY))


def held_by(site: Touching, protection: str) -> dict[Touched, Value] | None:
    """Answers with which the site goes once the pit is protected so; none if there are none."""

    def candidates(touched: Touched) -> tuple[Value, ...]:
        if touched == Cell("side protection", PIT):
            return (protection,)
        of_pit = isinstance(touched, Cell) and touched.label == PIT
        return site.candidates(touched) if of_pit and site.step(touched) != touched else ()

    puzzle = Puzzle(Judge(site), candidates, site.step, lambda _: 1, len)
    found = Search(puzzle, Effort(500, 10**5, 10**6)).run(1)
    return dict(found.good[0].choices) if found.good else None


def test_a_pit_of_5_ft_is_never_left_without_protection(site):
    step, judge = Cell("side protection", PIT), Judge(site)
    assert set(site.candidates(step)) == ALLOWED
    assert judge.judged({}).blocks


@pytest.mark.parametrize("protection", ["timber shoring", "hydraulic shoring", "shield"])
def test_what_is_proposed_holds_as_1926_652_c_and_g_ask(site, protection):
    choices = held_by(site, protection)
    assert choices is not None
    survey, problems = site.touched(choices)
    assert assess(survey, problems, BOOK).verdict.may_start
    pit = next(row for row in survey.piers if row.label == PIT)
    assert pit.value("protection design") in {"engineer's design", "maker's data"}
    assert pit.value("protection in place before entry") == "yes"
    assert pit.value("protection undamaged") == "yes"  # (d)(1)
    assert float(str(pit.value("dug below protection"))) <= 24  # (e)(2)(i), (g)(2)


def test_a_slope_is_no_steeper_than_table_b_1(site):
    choices = held_by(site, "sloped")
    if choices is None:
        return  # beside a loaded footing there may be no room for a slope at all
    survey, problems = site.touched(choices)
    after = assess(survey, problems, BOOK)
    assert after.verdict.may_start
    pit = next(row for row in survey.piers if row.label == PIT)
    soil = after.concluded["soil class", PIT]
    assert float(str(pit.value("slope of sides"))) >= TABLE_B_1[str(soil)]
