"""Texts of rules filled in: limits as written, and in the units of the answer beside them."""

from __future__ import annotations

import re

import pytest

from survey.assessment import assess
from survey.rulebook.book import load_book, read_and_try
from survey.rulebook.rules import RuleBook
from survey.vocabulary.spanish import choices_in_spanish
from tests.demo_surveys import survey_of
from tests.made_assessments import judged
from tests.whole_surveys import Change

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


def filled(text: str, figures: str, *, spanish: bool = False, **pier: object) -> str:
    """A text of a rule for a pier, filled in; ``pier`` are answers with ``_`` for blanks."""
    answers = {"spoil distance": "3 ft", **{k.replace("_", " "): v for k, v in pier.items()}}
    (finding,) = judged(every_pier=answers, book=book_of(text, figures)).findings
    assert finding.do == finding.say
    assert finding.do_es == finding.say_es
    assert finding.say_es.startswith("es ")
    return finding.say_es.removeprefix("es ") if spanish else finding.say


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
    assert said == "[pit length: not known], at most 1 m [39.37 in]"


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


@pytest.mark.parametrize(
    ("text", "english", "spanish"),
    [
        ("deep: {pit width}.", "deep: not known.", "deep: no se sabe."),
        ("({pit width})", "(not known)", "(no se sabe)"),
        ("is {pit width} wide", "is [pit width: not known] wide", "is [no se sabe] wide"),
        ("at: {pier}, {pit width}", "at: P1, [pit width: not known]", "at: P1, [no se sabe]"),
    ],
)
def test_what_is_not_known_is_no_part_of_the_sentence(text, english, spanish):
    assert filled(text, "", pit_width=None) == english
    assert filled(text, "", pit_width=None, spanish=True) == spanish


def test_so_is_what_does_not_apply_and_a_table_that_cannot_be_looked_up():
    sides = {"side_protection": "none", "slope_of_sides": None}
    said = "slope {slope of sides}, bars ({bottom bar size})"
    assert filled(said, "", **sides) == (
        "slope [slope of sides: does not apply], bars (does not apply)"
    )
    assert filled(said, "", spanish=True, **sides) == "slope [no aplica], bars (no aplica)"
    table = "table own table\n  by  pit width\n  row up to 1 ft gives 2 ft\n  from our own\n"
    assert filled("at least {own table}", table) == "at least [own table: not known]"


def test_the_crew_reads_answers_and_units_in_spanish():
    text = "{side protection}, {ladder in pit}, {soil class}, {survey age}, {own limit}, {wall}"
    assert filled(text, limit("2 weeks"), spanish=True) == (
        "en talud, sí, B, 11 días, 2 semanas [14 días], North"
    )
    assert filled("{crew date}", "", spanish=True) == "mar 01 dic 2026"
    table = TABLE.replace("1 m", "1 day").replace("4 ft", "2 days").replace("1.5 m", "1 week")
    answers = {"spoil distance": "3 ft"}
    book = book_of("{own table}", table)
    found = judged(every_pier=answers, wall={"footing cracks": None}, book=book)
    assert found.findings[0].say_es == "es 1 día o 2 días o 1 semana"


def test_every_choice_in_a_spanish_text_of_the_shipped_book_has_its_spanish():
    book, english = load_book(), []
    for rule in book:
        words = book.vocabulary.scope(rule.subject)
        for name in re.findall(r"\{([^{}]*)\}", rule.say_es + rule.do_es):
            word = words.get(name)
            if (
                word is not None
                and word.choices
                and set(choices_in_spanish(word)) != set(word.choices)
            ):
                english.append((rule.code, name))
    assert english == []


def test_what_several_figures_lack_is_said_once():
    house = survey_of(Change(site={"test_hole_depth": "2 ft"}).document(), "shallow")
    told = [f.do for f in assess(house, (), load_book()).findings if "worked out: " in f.do]
    parts = [text.partition("worked out: ")[2].removesuffix(".").split("; ") for text in told]
    assert any("only 2 ft deep" in why for whys in parts for why in whys)
    assert all(len(set(whys)) == len(whys) for whys in parts)


def test_labels_and_answers_are_filled_in():
    said = filled("Pit { pier } at {wall}: {spoil distance}, {pit width}.", "", pit_width="1.2 m")
    assert said == "Pit P1 at North: 3 ft, 47.244 in."
