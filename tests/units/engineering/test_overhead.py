"""Overhead lines: ranges, what an unknown voltage gives, and that nearer never looks better."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.overhead import approach_distance, clearance_left
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Kind, read_quantity


@pytest.mark.parametrize(
    ("calculation", "low", "high"),
    [
        (approach_distance, 0, 1000),
        (lambda x: clearance_left(x, 120.0), 0, 24000),
        (lambda x: clearance_left(240.0, x), 0, 6000),
    ],
)
def test_known_up_to_both_ends_and_not_known_past_them(calculation, low, high):
    for limit in (low, high):
        assert calculation(float(limit)).known
    for past in (low - 0.001, high * 1.001, math.nan, math.inf, -math.inf):
        result = calculation(past)
        assert result.value is NOT_KNOWN
        assert "holds" in result.reason


@pytest.mark.parametrize("voltage", [NOT_KNOWN, DOES_NOT_APPLY])
def test_an_unknown_voltage_has_the_bounds_of_the_table(voltage):
    result = approach_distance(voltage)
    assert result.value is NOT_KNOWN
    assert result.bounds == (120.0, 540.0)
    assert "at least 10 ft" in result.reason
    assert [line.result for line in result.working.lines] == [
        "10 ft", "15 ft", "20 ft", "25 ft", "35 ft", "45 ft",
    ]  # fmt: skip


def test_workings_read_well():
    voltage, band, last = approach_distance(69.0).working.lines
    assert voltage.result == "69 kV"
    assert (band.meaning, band.result) == ("over 50 to 200 kV", "15 ft")
    assert last.result == "180 in"
    assert approach_distance(7.2).working.lines[1].meaning == "up to 50 kV"
    assert clearance_left(120.0, 168.0).working.lines[-1].result == "-48 in"


two = st.tuples(st.floats(0, 1), st.floats(0, 1)).map(sorted)


@given(two)
def test_a_higher_voltage_is_never_kept_nearer(shares):
    low, high = (approach_distance(1000 * share).value for share in shares)
    assert 120 <= low <= high <= 540


@given(two, two)
def test_a_nearer_line_or_a_longer_reach_never_leaves_more(distances, reaches):
    near, far = (24000 * share for share in distances)
    short, long = (6000 * share for share in reaches)
    assert clearance_left(near, long).value <= clearance_left(far, long).value
    assert clearance_left(near, long).value <= clearance_left(near, short).value


@given(st.floats(0, 24000), st.floats(0, 6000), st.floats(0, 1000))
def test_the_last_line_is_the_value(distance, reach, voltage):
    for result in (clearance_left(distance, reach), approach_distance(voltage)):
        printed = read_quantity(result.working.lines[-1].result, Kind.LENGTH, None)
        assert printed == pytest.approx(result.value, abs=0.0006)


any_float = st.floats(allow_nan=False, allow_infinity=False)


@given(any_float, any_float)
def test_any_figures_give_a_figure_or_none(one, other):
    for result in (approach_distance(one), clearance_left(one, other)):
        assert result.reason or math.isfinite(result.value)
