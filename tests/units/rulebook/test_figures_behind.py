"""Which figures a finding looks at: straight, by way of conclusions, and in what is counted."""

from __future__ import annotations

import pytest

from survey.assessment import assess
from survey.rulebook.reading import read_book
from tests.demo_surveys import careful_house, pier, survey_of

_HEAD = """
topic Figures

rule SOIL-1 deep pit
  for   each pier
  when  depth of pit floor is at least 5 ft or water above pit floor is yes
  then  count soil class as C
  say   It is deep.
  from  common practice
  case  depth of pit floor 6 ft, water above pit floor no gives C
  case  depth of pit floor 4 ft, water above pit floor no gives nothing

rule FIG-1 the one that is asked about
  for   each pier
  when  {condition}
  then  condition
  say   Found.
  do    Look.
  who   crew
  from  common practice
  release nobody
  case  {case} gives condition
"""
SHALLOW, DEEP = "4 ft 6 in", "5 ft 3 in"


def site(condition, case, depth=DEEP):
    document = careful_house()
    document["piers"] = [
        {**pier(label, "South", station), "pit_depth": depth}
        for label, station in (("P1", "6 ft"), ("P2", "18 ft"))
    ]
    book = read_book({"figures.rules": _HEAD.format(condition=condition, case=case)})
    return assess(survey_of(document, "figures"), (), book)


def figures(made, place="P1"):
    """What the finding at a place looks at."""
    (one,) = (f for f in made.findings if f.rule.code == "FIG-1" and f.place == place)
    return {figure for reason in one.reasons for figure in reason.figures}


def test_a_clause_names_the_figures_it_compares_and_no_answers():
    made = site(
        "pit volume is more than 1 ft3 and pit depth is at least 1 ft",
        "pit volume 2 ft3, pit depth 2 ft",
    )
    assert figures(made) == {("pit volume", "P1")}


def test_of_either_only_what_holds_counts():
    made = site(
        "pit volume is more than 1 ft3 or slope reach is more than 9 ft",
        "pit volume 2 ft3, slope reach 1 ft",
    )
    assert figures(made) == {("pit volume", "P1")}


@pytest.mark.parametrize(
    ("depth", "behind"),
    [
        # Made C by the depth alone: what the class started from no longer matters.
        (DEEP, (("depth of pit floor", "P1"),)),
        # Still the tested class, because neither depth nor water makes it worse.
        (SHALLOW, (("tested soil class", "P1"), ("depth of pit floor", "P1"),
                   ("water above pit floor", "P1"))),
    ],
)  # fmt: skip
def test_a_conclusion_rests_on_what_made_it_or_kept_it_from_being_worse(depth, behind):
    made = site("soil class is one of B, C", "soil class C", depth)
    assert figures(made) == {("soil class", "P1")}
    assert made.figures_behind("soil class", "P1") == behind


def test_what_is_no_conclusion_and_what_is_not_there_rest_on_nothing():
    made = site("soil class is one of B, C", "soil class C")
    assert made.figures_behind("pit volume", "P1") == ()
    assert made.figures_behind("soil class", "P9") == ()


def test_a_count_names_the_figures_of_what_counts():
    near = "any utility where clearance to utility is less than 20 ft"
    made = site(near, "with utility clearance to utility 3 ft")
    label = made.survey.utilities[0].label
    assert figures(made) == {("clearance to utility", f"P1 / {label}")}


def test_where_it_is_their_being_few_that_decides_what_does_not_count_is_named():
    far = "no utility where clearance to utility is less than 1 ft"
    made = site(far, "with utility clearance to utility 3 ft")
    label = made.survey.utilities[0].label
    assert figures(made) == {("clearance to utility", f"P1 / {label}")}
