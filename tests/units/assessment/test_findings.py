"""Texts of rules filled in: limits as written, and in the units of the answer beside them."""

from __future__ import annotations

import pytest

from survey.rulebook.book import read_and_try
from survey.rulebook.rules import RuleBook
from tests.made_assessments import judged

RULE = """\
{figures}
rule DIG-1 spoil
  for   each pier
  when  spoil distance is at least 0 ft
  then  note
  say   {text}
  do    {text}
  say es es {text}
  do es  es {text}
  who   crew
  from  common practice
  release nobody
  case  spoil distance 0 ft      gives note
  case  spoil distance 1 ft      gives note
  case  spoil distance not known gives ask
"""


def book_of(text: str, figures: str) -> RuleBook:
    return read_and_try({"dig.rules": RULE.format(text=text, figures=figures)}, {})


def filled(text: str, figures: str, **pier: object) -> str:
    """A text of a rule for a pier, filled in; ``pier`` are answers with ``_`` for blanks."""
    answers = {"spoil distance": "3 ft", **{k.replace("_", " "): v for k, v in pier.items()}}
    (finding,) = judged(every_pier=answers, book=book_of(text, figures)).findings
    assert finding.do == finding.say
    assert finding.say_es == finding.do_es == f"es {finding.say}"
    return finding.say


def limit(figure: str) -> str:
    return f"limit own limit = {figure}\n  from our own\n"


@pytest.mark.parametrize(
    ("figure", "shown"),
    [
        # beside an answer in feet and inches
        ("2 ft", "2 ft"),
        ("2 ft 6 in", "2 ft 6 in"),
        ("6 in", "6 in"),
        ("30 in", "30 in [2 ft 6 in]"),
        ("1.2 m", "1.2 m [3 ft 11.244 in]"),
        ("0.9144 m", "0.9144 m [3 ft]"),
        ("25 mm", "25 mm [0.984 in]"),
        ("1 yd", "1 yd [3 ft]"),
    ],
)
def test_a_limit_follows_in_the_units_of_the_answer_where_they_differ(figure, shown):
    said = filled("{spoil distance}, at least {own limit}.", limit(figure))
    assert said == f"3 ft, at least {shown}."


@pytest.mark.parametrize(
    ("word", "figure", "shown"),
    [
        ("pit length", "2 ft", "2 ft [24 in]"),
        ("pit length", "1/2 in", "1/2 in"),
        ("pit length", "650 mm", "650 mm [25.591 in]"),
        ("slope of sides", "1.5H:1V", "1.5H:1V"),
        ("planned drive load", "30000 lb", "30000 lb"),
        ("planned drive load", "30 kip", "30 kip [30,000 lb]"),
        ("planned drive load", "130 kN", "130 kN [29,225.2 lb]"),
        ("tube yield strength", "350 MPa", "350 MPa [50,763.208 psi]"),
        ("survey age", "1 day", "1 day"),
        ("survey age", "2 weeks", "2 weeks [14 days]"),
        ("share of wall open at once", "25 %", "25 %"),
        ("crew size", "3", "3"),
    ],
)
def test_of_every_kind_by_the_unit_of_the_word(word, figure, shown):
    said = filled(f"{{{word}}} / {{own limit}}", limit(figure), pit_length="30 in")
    assert said.partition(" / ")[2] == shown


def test_the_nearest_answer_before_a_limit_tells_the_unit_and_then_the_one_after():
    figures = limit("1 m")
    inches, feet = "1 m [39.37 in]", "1 m [3 ft 3.37 in]"
    both = "{pit length} {spoil distance} {own limit} {pit length}"
    assert filled(both, figures, pit_length="30 in") == f"30 in 3 ft {feet} 30 in"
    after = "{own limit} {pit length} {spoil distance}"
    assert filled(after, figures, pit_length="30 in") == f"{inches} 30 in 3 ft"


@pytest.mark.parametrize("text", ["{own limit} back", "{pier}: {soil class}, {own limit} back"])
def test_a_limit_without_an_answer_of_its_kind_stands_as_written(text):
    assert filled(text, limit("1 m")).endswith("1 m back")


def test_an_answer_that_is_not_known_still_tells_the_unit():
    said = filled("{pit length}, at most {own limit}", limit("1 m"), pit_length=None)
    assert said == "not known, at most 1 m [39.37 in]"


TABLE = """\
table own table
  by   footing cracks
  row  none gives 1 m
  row  hairline gives 4 ft
  row  open gives 1.5 m
  from our own
"""


@pytest.mark.parametrize(
    ("cracks", "shown"),
    [
        ("none", "1 m [3 ft 3.37 in]"),
        ("hairline", "4 ft"),
        (None, "1 m [3 ft 3.37 in] or 4 ft or 1.5 m [4 ft 11.055 in]"),
    ],
)
def test_figures_of_a_table_do_so_too(cracks, shown):
    book = book_of("{spoil distance} / {own table}", TABLE)
    answers = {"spoil distance": "3 ft"}
    found = judged(every_pier=answers, wall={"footing cracks": cracks}, book=book)
    assert found.findings[0].say == f"3 ft / {shown}"


def test_labels_and_answers_are_filled_in():
    said = filled("Pit { pier } at {wall}: {spoil distance}, {pit width}.", "", pit_width="1.2 m")
    assert said == "Pit P1 at North: 3 ft, 47.244 in."
