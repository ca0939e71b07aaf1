"""Heads of ground water: both ends of the ranges, and what is told of them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.water import water_depths
from survey.vocabulary import NOT_KNOWN, Kind, read_quantity


@pytest.mark.parametrize(
    ("calculation", "low", "high"),
    [
        (lambda x: water_depths(x, 36.0, 48.0).over_floor, 0, 1800),
        (lambda x: water_depths(60.0, x, 48.0).over_footing, 0, 720),
        (lambda x: water_depths(60.0, 36.0, x).over_floor, 0, 2400),
        (lambda x: water_depths(60.0, 36.0, x).over_footing, 0, 2400),
    ],
)
def test_known_up_to_both_ends_and_not_known_past_them(calculation, low, high):
    for limit in (low, high):
        assert calculation(float(limit)).known
    for past in (low - 0.001, high * 1.001, math.nan, math.inf, -math.inf):
        result = calculation(past)
        assert result.value is NOT_KNOWN
        assert "holds" in result.reason


def test_one_head_is_told_where_only_the_other_can_not_be():
    found = water_depths(60.0, 9999.0, 48.0)
    assert found.over_floor.value == 12.0
    assert found.over_footing.value is NOT_KNOWN


def test_working_reads_well():
    floor, footing = water_depths(60.0, 36.0, 48.0)
    last = floor.working.lines[-1]
    assert (last.formula, last.numbers, last.result) == ("H - z", "60 - 48", "12 in")
    assert footing.working.lines[-1].result == "-12 in"
    assert "underside of the footing" in footing.working.title


@given(st.floats(0, 1800), st.floats(0, 720), st.floats(0, 2400), st.floats(0, 400))
def test_a_deeper_pit_or_higher_water_never_has_less_over_it(floor, footing, water, more):
    head = water_depths(floor, footing, water)
    deeper = water_depths(min(floor + more, 1800.0), footing, water)
    higher = water_depths(floor, footing, max(water - more, 0.0))
    assert deeper.over_floor.value >= head.over_floor.value
    assert higher.over_floor.value >= head.over_floor.value
    assert higher.over_footing.value >= head.over_footing.value
    printed = read_quantity(head.over_floor.working.lines[-1].result, Kind.LENGTH, None)
    assert printed == pytest.approx(head.over_floor.value, abs=0.0006)
