"""What is left of a rule that can't be told: folded, written, and what each answer does to it."""

from __future__ import annotations

import pytest

from survey.assessment import Assessment, Finding
from survey.assessment.settling import Settling
from survey.rulebook.reading import read_book
from tests.made_assessments import judged

REST = """
  then    stop
  say     It is so.
  do      Mend it.
  who     crew
  from    common practice
  release nobody
  case    gas odour yes gives ask
"""
LIMIT = """limit least spoil room = 2 ft
  from common practice

"""


def made(when: str, for_: str = "pier", **answers) -> Assessment:
    text = f"topic Own\n\n{LIMIT}rule OWN-1 fault\n  for {for_}\n  when {when}{REST}"
    return judged(book=read_book({"own.rules": text}), **answers)


def finding(assessment: Assessment) -> Finding:
    return next(f for f in assessment.findings if f.rule.code == "OWN-1")


def settling(when: str, for_: str = "pier", *, named: bool = False, **answers) -> Settling:
    assessment = made(when, for_, **answers)
    found = assessment.settler.settling(finding(assessment), named=named)
    assert found is not None
    return found


def condition(found: Settling) -> str:
    return found.text.removeprefix("stop, if ").removesuffix("; nothing otherwise")


UNKNOWN = {"spoil distance": None, "seepage at pit": None}


@pytest.mark.parametrize(
    ("when", "left"),
    [
        ("spoil distance is less than 2 ft", "spoil distance is less than 2 ft"),
        ("spoil distance is less than least spoil room",
         "spoil distance is less than least spoil room (2 ft)"),
        ("spoil distance is less than 2 ft and pit depth is at least 3 ft",
         "spoil distance is less than 2 ft"),
        ("(pit depth is at least 9 ft or spoil distance is less than 2 ft)",
         "spoil distance is less than 2 ft"),
        ("not (spoil distance is less than 2 ft)", "spoil distance is not less than 2 ft"),
        ("spoil distance is less than 2 ft and seepage at pit is yes",
         "spoil distance is less than 2 ft and seepage at pit is yes"),
        ("spoil distance is less than 2 ft and (seepage at pit is yes or spoil distance is less "
         "than 1 ft)",
         "spoil distance is less than 2 ft and (seepage at pit is yes or spoil distance is less "
         "than 1 ft)"),
        ("spoil distance is less than pit depth", "spoil distance is less than pit depth (4 ft)"),
        ("spoil distance is less than 0.5 times pit depth",
         "spoil distance is less than 0.5 times pit depth (4 ft)"),
    ],
)  # fmt: skip
def test_what_is_known_is_folded_away(when, left):
    assert condition(settling(when, every_pier=UNKNOWN)) == left


def test_the_place_is_named_where_it_is_asked_for():
    found = settling("spoil distance is less than 2 ft", named=True, every_pier=UNKNOWN)
    assert found.text == "stop, if spoil distance of P1 is less than 2 ft; nothing otherwise"


@pytest.mark.parametrize(
    ("when", "to"),
    [
        ("spoil distance is less than 2 ft",
         [("less than 2 ft", "stop"), ("at least 2 ft", "nothing")]),
        ("spoil distance is more than 2 ft",
         [("at most 2 ft", "nothing"), ("more than 2 ft", "stop")]),
        ("spoil distance is at least 1 ft and spoil distance is at most 2 ft",
         [("less than 1 ft", "nothing"), ("at least 1 ft and at most 2 ft", "stop"),
          ("more than 2 ft", "nothing")]),
        ("spoil distance is at least 2 ft and spoil distance is at most 2 ft",
         [("less than 2 ft", "nothing"), ("exactly 2 ft", "stop"), ("more than 2 ft", "nothing")]),
        ("spoil distance is less than 0.5 times pit depth",
         [("less than 2 ft", "stop"), ("at least 2 ft", "nothing")]),
        ("spoil distance is less than 900 ft", [("any answer", "stop")]),
    ],
)  # fmt: skip
def test_a_figure_has_the_thresholds_of_its_clauses(when, to):
    found = settling(when, every_pier={"spoil distance": None})
    assert [list(one.to) for one in found.answers] == [to]
    assert found.answers[0].alone


def test_a_choice_says_what_each_comes_to():
    found = settling("seepage at pit is yes", every_pier=UNKNOWN)
    assert found.answers[0].to == (("no", "nothing"), ("yes", "stop"))
    assert found.says_all


def test_where_two_answers_are_missing_each_says_what_it_decides_alone():
    found = settling("spoil distance is less than 2 ft and seepage at pit is yes",
                     every_pier=UNKNOWN)  # fmt: skip
    spoil, seepage = found.answers
    assert spoil.to == (("less than 2 ft", "more is needed"), ("at least 2 ft", "nothing"))
    assert seepage.to == (("no", "nothing"), ("yes", "more is needed"))
    assert [other.word for other in spoil.others] == ["seepage at pit"]
    assert [spoil.alone, seepage.alone] == [False, False]


def test_a_question_that_depends_on_an_open_one_is_asked_then():
    when = "depth to groundwater is less than 3 ft"
    found = settling(when, "site", site={"groundwater met": None, "depth to groundwater": None})
    (asked,) = found.answers
    assert asked.input.word == "groundwater met"
    assert dict(asked.to)["no"] == "nothing"
    assert dict(asked.to)["yes"] == "more is needed"
    assert asked.then == ("depth to groundwater",)


def test_a_figure_that_is_worked_out_is_what_its_answers_decide_through():
    found = settling("clearance to utility is less than 4 ft", "pier and utility",
                     gas={"utility start offset": None})  # fmt: skip
    (asked,) = found.answers
    assert asked.to == ()
    assert asked.through == ("clearance to utility",)


def test_of_a_count_what_surely_counts_is_taken_off():
    when = "number of pier where spoil distance is less than 2 ft is at least 2"
    near = {1: {"spoil distance": "1 ft"}, 2: {"spoil distance": None},
            3: {"spoil distance": "9 ft"}}  # fmt: skip
    found = settling(when, "wall", piers=3, some_piers=near)
    assert condition(found) == "spoil distance is less than 2 ft at P2"
    (asked,) = found.answers
    assert asked.to == (("less than 2 ft", "stop"), ("at least 2 ft", "nothing"))


def test_of_an_open_list_another_may_be_found():
    when = "any utility where utility kind is gas"
    found = settling(when, "site", site={"all utilities listed": None},
                     gas={"utility kind": "water"})  # fmt: skip
    assert condition(found) == "another utility is found and utility kind is gas"
    assert found.answers[0].to == (("yes", "nothing"), ("no", "more is needed"))


def test_what_was_told_has_nothing_left():
    assessment = made("spoil distance is less than 9 ft")
    assert assessment.settler.settling(finding(assessment)) is None
