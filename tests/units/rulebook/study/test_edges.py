"""Small changes of a rule that its cases must notice."""

import pytest

from survey.resources import folder
from survey.rulebook.reading import read_book
from survey.rulebook.study.changes import little
from survey.rulebook.study.edges import unnoticed
from survey.vocabulary import Kind, from_steps, steps

FIGURES = """
table steepest slope
  by    soil class
  row   stable rock gives 0H:1V
  row   A gives 0.75H:1V
  row   B gives 1H:1V
  row   C gives 1.5H:1V
  from  a standard

table reach
  by    pit depth
  row   up to 8 ft gives 4 ft
  row   up to 12 ft gives 4 ft
  row   up to 20 ft gives 6 ft
  from  a standard

limit near = 2 ft
  from  a standard
"""
RULE = """
rule DIG-1 fault
  for   {subject}
  when  {when}
  then  {then}
  say   x
  do    y
  who   crew
  from  a standard
  release licensed engineer
"""


def book(when, *cases, subject="each pier", then="stop", more=""):
    rule = RULE.format(subject=subject, when=when, then=then)
    lines = "".join(f"  case {case}\n" for case in cases)
    return read_book({"test.rules": f"{FIGURES}{rule}{lines}{more}"})


def told(*arguments, **more):
    return [found.change for found in unnoticed(book(*arguments, **more))]


def test_the_shipped_book_leaves_no_edge_open():
    texts = {file.name: file.read_text("utf-8") for file in folder("rules").glob("*.rules")}
    found = unnoticed(read_book(texts))
    assert [f"{one.place} {one.rule.code}: {one.change}" for one in found] == []


def test_an_edge_names_the_rule_the_place_and_the_change():
    cases = ("pit depth 5 ft gives stop", "pit depth 4 ft gives nothing")
    (found,) = unnoticed(book("pit depth is at least 5 ft", *cases))
    assert (found.rule.code, found.place) == ("DIG-1", "test.rules:20")
    assert found.change == (
        "'pit depth is at least 5 ft' changed to 'pit depth is at least 4 ft 11 in'"
    )


# For each condition cases that together notice every change of it.
DEPTH = "pit depth is more than near"
BOTH = "side protection is none and cave-in signs is yes"
EITHER = "seepage at pit is yes or cave-in signs is yes"
NEITHER = f"not ({EITHER})"
SUM = "pit depth plus 2 ft is at least footing depth"
TWICE = "pit depth times 2 is at least footing depth"
SLOPE = "slope of sides is less than steepest slope"
ANY = "any utility where (utility kind is gas and clearance to utility is at most near)"
EACH = "every utility meets utility kind is water"
TWO = "number of other piers where cave-in signs of other pier is yes is more than 1"
DAY = "crew date is after 2026-04-10"
WEEKDAYS = "working days between ticket start and crew date is less than 2 days"
SHAKY = "other pier (cave-in signs of other pier yes)"
FIRM = "other pier (cave-in signs of other pier no)"
ALL_CASES = {
    DEPTH: ("pit depth 2 ft gives nothing", "pit depth 2 ft 1 in gives stop"),
    BOTH: (
        "side protection none, cave-in signs yes gives stop",
        "side protection sloped, cave-in signs yes gives nothing",
        "side protection none, cave-in signs no gives nothing",
    ),
    EITHER: (
        "seepage at pit yes, cave-in signs no gives stop",
        "seepage at pit no, cave-in signs yes gives stop",
        "seepage at pit no, cave-in signs no gives nothing",
    ),
    NEITHER: (
        "seepage at pit yes, cave-in signs no gives nothing",
        "seepage at pit no, cave-in signs yes gives nothing",
        "seepage at pit no, cave-in signs no gives stop",
    ),
    SUM: (
        "pit depth 4 ft, footing depth 6 ft gives stop",
        "pit depth 3 ft 11 in, footing depth 6 ft gives nothing",
    ),
    TWICE: (
        "pit depth 4 ft, footing depth 8 ft gives stop",
        "pit depth 3 ft 11 in, footing depth 8 ft gives nothing",
    ),
    SLOPE: (
        "soil class stable rock, slope of sides 0H:1V gives nothing",
        "soil class A, slope of sides 0.74H:1V gives stop",
        "soil class A, slope of sides 0.75H:1V gives nothing",
        "soil class B, slope of sides 0.99H:1V gives stop",
        "soil class B, slope of sides 1H:1V gives nothing",
        "soil class C, slope of sides 1.49H:1V gives stop",
        "soil class C, slope of sides 1.5H:1V gives nothing",
    ),
    ANY: (
        "utility (utility kind gas, clearance to utility 2 ft) gives stop",
        "utility (utility kind gas, clearance to utility 2 ft 1 in), all utilities listed yes"
        " gives nothing",
        "utility (utility kind water, clearance to utility 2 ft), all utilities listed yes"
        " gives nothing",
    ),
    EACH: (
        "utility (utility kind water), all utilities listed yes gives stop",
        "utility (utility kind gas), all utilities listed yes gives nothing",
    ),
    TWO: (f"{SHAKY}, {SHAKY} gives stop", f"{SHAKY}, {FIRM} gives nothing"),
    DAY: ("crew date 2026-04-10 gives nothing", "crew date 2026-04-11 gives stop"),
    WEEKDAYS: (
        "ticket start 2026-04-06, crew date 2026-04-07 gives stop",
        "ticket start 2026-04-03, crew date 2026-04-07 gives nothing",
        "ticket start 2026-04-03, crew date 2026-04-06 gives stop",  # over a weekend
    ),
}


@pytest.mark.parametrize("when", ALL_CASES)
def test_cases_on_both_sides_of_everything_notice_every_change(when):
    assert told(when, *ALL_CASES[when]) == []


@pytest.mark.parametrize(
    ("when", "without", "change"),
    [
        (DEPTH, 0, "'pit depth is more than near (2 ft)' changed to 'pit depth is at least near"),
        (DEPTH, 0, "changed to 'pit depth is more than 1 ft 11 in'"),
        (DEPTH, 1, "changed to 'pit depth is more than 2 ft 1 in'"),
        (BOTH, 0, "'side protection is none' changed to 'side protection is shield'"),
        (BOTH, 1, "'side protection is none' left out"),
        (BOTH, 2, "'cave-in signs is yes' left out"),
        (EITHER, 0, "'seepage at pit is yes' left out"),
        (EITHER, 1, "'cave-in signs is yes' left out"),
        (NEITHER, 0, "'seepage at pit is yes' left out"),
        (SUM, 0, "changed to 'pit depth plus 23 in is at least footing depth'"),
        (SUM, 1, "changed to 'pit depth plus 25 in is at least footing depth'"),
        (TWICE, 0, "changed to 'pit depth times 1.8 is at least footing depth'"),
        (TWICE, 1, "changed to 'pit depth times 2.2 is at least footing depth'"),
        (SLOPE, 0, "steepest slope where stable rock gives 0.01H:1V"),
        (SLOPE, 3, "steepest slope where B gives 0.99H:1V"),
        (SLOPE, 6, "steepest slope where C gives 1.51H:1V"),
        (ANY, 0, "'utility kind is gas' changed to 'utility kind is sewer' in 'any utility where"),
        (ANY, 1, "'clearance to utility is at most near (2 ft)' left out in 'any utility where"),
        (ANY, 2, "'utility kind is gas' left out in 'any utility where"),
        (EACH, 0, "'utility kind is water' changed to 'utility kind is sewer' in 'every utility"),
        (TWO, 0, "'the number of other piers is more than 2"),
        (TWO, 1, "'the number of other piers is more than 1'"),
        (DAY, 0, "changed to 'crew date is on or after 2026-04-10'"),
        (DAY, 1, "changed to 'crew date is after 2026-04-11'"),
        (WEEKDAYS, 1, "is at most 2 days"),
    ],
)
def test_without_a_case_the_change_that_it_notices_is_told(when, without, change):
    cases = list(ALL_CASES[when])
    del cases[without]
    assert any(change in one for one in told(when, *cases)), told(when, *cases)


@pytest.mark.parametrize(
    ("when", "cases", "change"),
    [
        (
            EITHER,
            ("seepage at pit yes, cave-in signs yes gives stop", ALL_CASES[EITHER][2]),
            "'any of these: seepage at pit is yes; cave-in signs is yes' changed to"
            " 'all of these: seepage at pit is yes; cave-in signs is yes'",
        ),
        (
            BOTH,
            (ALL_CASES[BOTH][0], "side protection sloped, cave-in signs no gives nothing"),
            "'all of these: side protection is none; cave-in signs is yes' changed to"
            " 'any of these: side protection is none; cave-in signs is yes'",
        ),
        (
            NEITHER,
            ("cave-in signs not known gives ask",),
            "'this does not hold: (any of these: seepage at pit is yes; cave-in signs is yes)'"
            " changed to 'any of these: seepage at pit is yes; cave-in signs is yes'",
        ),
        (
            ANY,
            ("all utilities listed not known gives ask",),
            "changed to 'no utility where:",
        ),
    ],
)
def test_joins_and_negations_are_turned(when, cases, change):
    assert any(change in one for one in told(when, *cases))


def test_a_conclusion_and_a_standing_release_have_edges_too():
    release = """
standing release REL-1 detail
  lifts    DIG-1
  when     pit depth is at most 8 ft
  engineer Ann Example
  licence  PE 1
  given    2026-01-01
  until    2026-12-31
  note     Keep to it.
  case     pit depth 8 ft gives lifted
  case     pit depth 8 ft 2 in gives nothing
"""
    found = unnoticed(book(DAY, *ALL_CASES[DAY], subject="each pier", more=release))
    assert [(one.rule.code, one.change) for one in found] == [
        ("REL-1", "'pit depth is at most 8 ft' changed to 'pit depth is at most 8 ft 1 in'")
    ]
    concluded = RULE.replace("  do    y\n  who   crew\n", "").replace(
        "  release licensed engineer\n", ""
    )
    text = concluded.format(
        subject="each pier", when="cave-in signs is yes", then="count cave-in protection as needed"
    )
    short = read_book({"test.rules": f"{text}  case cave-in signs not known gives ask\n"})
    assert [one.change for one in unnoticed(short)] == [
        "'cave-in signs is yes' changed to 'cave-in signs is not yes'",
        "'cave-in signs is yes' changed to 'cave-in signs is no'",
    ]


# What is no change


def test_a_bound_between_two_rows_of_the_same_figure_is_no_edge():
    found = told("footing depth is less than reach", "footing depth 4 ft, pit depth 8 ft gives ask")
    moved = [one for one in found if "reach where" in one]
    assert any("up to 12 ft 1 in gives 4 ft" in one for one in moved)
    assert not any("up to 8 ft 1 in" in one or "up to 7 ft 11 in" in one for one in moved)


def test_a_figure_that_no_answer_can_be_below_is_not_moved_down():
    found = told(SLOPE, "slope of sides not known gives ask")
    assert any("stable rock gives 0.01H:1V" in one for one in found)
    assert not any("stable rock gives -0.01H:1V" in one for one in found)


def test_what_the_rest_of_the_rule_makes_idle_is_no_edge():
    found = told("cave-in signs is yes or (cave-in signs is yes and gas odour is yes)",
                 "cave-in signs not known gives ask")  # fmt: skip
    assert not any("gas odour" in one and "left out" in one for one in found)


def test_what_matters_only_between_two_figures_is_an_edge():
    between = "pit depth is more than 4 ft and pit depth is less than 4 ft 1 in"
    found = told(between, "pit depth not known gives ask")
    assert "'pit depth is more than 4 ft' changed to 'pit depth is more than 4 ft 1 in'" in found


def test_a_choice_is_not_exchanged_for_one_that_stands_beside_it():
    found = told("side protection is one of sloped, benched", "side protection not known gives ask")
    assert "'side protection is sloped' changed to 'side protection is benched'" not in found
    assert "'side protection is sloped' changed to 'side protection is shield'" in found
    assert any("'side protection is sloped' left out" in one for one in found)


@pytest.mark.parametrize(
    ("kind", "figure", "small"),
    [
        (Kind.LENGTH, 60, 1),
        (Kind.LENGTH, 12, 1),
        (Kind.LENGTH, 11.5, 0.125),
        (Kind.LENGTH, -6, 0.125),
        (Kind.LENGTH, 0, 1),
        (Kind.SLOPE, 1.5, 0.01),
        (Kind.SHARE, 25, 1),
        (Kind.DAYS, 10, 1),
        (Kind.COUNT, 1, 1),
        (Kind.ANGLE, 90, 1),
        (Kind.FORCE, 30_000, 1000),
        (Kind.LINE_LOAD, 1800, 100),
        (Kind.PRESSURE, 800, 10),
        (Kind.PRESSURE, 50, 1),
    ],
)
def test_a_little_is_what_people_on_site_tell_apart(kind, figure, small):
    assert from_steps(kind, little(kind, steps(kind, figure))) == pytest.approx(small)


def test_a_little_of_a_date_is_a_day():
    assert little(Kind.DATE, 739_000) == 1
