"""Hand instruments: both ends of their scales, and stronger readings are stronger soil."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.soil_strength import unconfined_strength_from_penetrometer as penetrometer
from survey.engineering.soil_strength import unconfined_strength_from_vane as vane
from survey.vocabulary import NOT_KNOWN, Kind, read_quantity

CASES = {
    "vane": (vane, 0.0, 5000.0),
    "reading": (penetrometer, 0.0, 9000.0),
    "foot": (lambda d: penetrometer(3000.0, d), 0.25, 1.0),
}


@pytest.mark.parametrize("name", CASES)
def test_known_up_to_both_ends_and_not_past_them(name):
    calculation, low, high = CASES[name]
    assert calculation(low).known
    assert calculation(high).known
    for past in (low - 0.001, high + 0.001, math.nan, math.inf, -math.inf):
        result = calculation(past)
        assert result.value is NOT_KNOWN
        assert "holds" in result.reason


@given(st.floats(0, 5000), st.floats(0, 5000))
def test_a_higher_vane_reading_is_never_weaker(one, other):
    low, high = sorted((one, other))
    assert vane(low).value <= vane(high).value


@given(st.floats(0, 9000), st.floats(0.25, 1), st.floats(0.25, 1))
def test_a_larger_foot_never_makes_the_soil_stronger(reading, one, other):
    small, large = sorted((one, other))
    assert penetrometer(reading, large).value <= penetrometer(reading, small).value <= reading


@given(st.floats(allow_nan=False, allow_infinity=False), st.floats(allow_nan=False))
def test_any_figure_gives_a_figure_or_a_reason(reading, foot):
    for result in (vane(reading), penetrometer(reading, foot)):
        if result.known:
            assert math.isfinite(result.value)
            printed = result.working.lines[-1].result
            assert read_quantity(printed, Kind.PRESSURE, None) == pytest.approx(
                result.value, abs=0.0006
            )
        else:
            assert result.reason


def test_the_end_of_the_scale_is_only_a_least_value():
    assert "at least" in penetrometer(9000.0).working.lines[-1].meaning
    assert "at least" not in penetrometer(8999.0).working.lines[-1].meaning
