"""Figures that follow from figures within bounds."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.working import Input, Line, Quantity, Result, Working, not_known, within
from survey.model import Answer
from survey.quantities.inputs import waits_for, worked, worked_within
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN


def working(value):
    return Working("t", "s", "v", (Line("x", "it", "", "", f"{value:g} in"),))


def product(*figures):
    value = 1.0
    for figure in figures:
        value *= figure
    return Result(value, working=working(value))


def between(least, most, reason="why not"):
    return Quantity(within(least, most, reason, working(most)), (asked("load", NOT_KNOWN),))


def asked(word, value):
    return Input(word, "P1", Answer(value, f"Piers!{word}"))


def test_all_known_is_worked_as_ever():
    found = worked_within(product, asked("a", 2.0), Quantity(Result(3.0)))
    assert found.result.value == 6.0
    assert found.result.bounds is None


two = st.tuples(st.floats(0.1, 10), st.floats(0.1, 10)).map(sorted)


@given(two, two, st.floats(0, 1), st.floats(0, 1))
def test_every_figure_between_gives_one_between(one, other, part, share):
    found = worked_within(product, between(*one), between(*other), asked("factor", 2.0)).result
    exact = 2 * (one[0] + part * (one[1] - one[0])) * (other[0] + share * (other[1] - other[0]))
    least, most = found.bounds or (found.value, found.value)
    assert least - 1e-9 <= exact <= most + 1e-9
    assert least == pytest.approx(2 * one[0] * other[0])
    assert most == pytest.approx(2 * one[1] * other[1])


def test_a_falling_figure_has_its_bounds_the_right_way_round():
    found = worked_within(lambda x: Result(1 / x, working=working(1 / x)), between(2.0, 4.0))
    assert found.result.value is NOT_KNOWN
    assert found.result.bounds == (0.25, 0.5)
    assert found.result.reason == "why not"
    assert found.result.working.lines[-1].result == "0.25 in to 0.5 in"
    assert [given.word for given in found.missing] == ["load"]


def test_bounds_that_make_no_difference_give_the_figure():
    found = worked_within(lambda x: product(max(x, 5.0)), between(2.0, 4.0))
    assert found.result.value == 5.0


@pytest.mark.parametrize("state", [NOT_KNOWN, DOES_NOT_APPLY])
def test_another_missing_part_leaves_nothing(state):
    found = worked_within(product, between(2.0, 4.0), asked("b", state))
    assert found.result.value is NOT_KNOWN
    assert found.result.bounds is None
    assert "'b' of P1" in found.result.reason


def test_out_of_range_at_one_end_leaves_nothing():
    def narrow(figure):
        return product(figure) if figure < 3 else not_known("too much")

    found = worked_within(narrow, between(2.0, 4.0))
    assert found.result.bounds is None
    assert found.result.reason == "too much"


def test_waiting_says_for_what():
    found = waits_for(asked("a", NOT_KNOWN), asked("b", 2.0))
    assert found.result.reason == "'a' of P1: not known"
    assert [given.word for given in found.missing] == ["a"]


def test_inputs_are_each_told_once_and_in_order():
    a, b, c = (asked(name, 1.0) for name in "abc")
    one = worked(product, a, b)
    other = worked(product, one, c, a)
    assert [given.word for given in worked(product, other, one, b).inputs] == ["a", "b", "c"]
