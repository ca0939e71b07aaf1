"""Inflow, pumps and lowered water: ranges, branches, and that a worse pit never looks better."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.inflow import WetPit, drawdown, inflow, pumps_needed
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Kind, read_quantity

PIT = WetPit(36.0, 30.0, 24.0, NOT_KNOWN)


def flow(low=1e-6, high=1e-4, **changed):
    return inflow(PIT._replace(**changed), low, high)


def lowered(distance=120.0, k=1e-4, **changed):
    return drawdown(distance, PIT._replace(**changed), k)


CASES = {
    "inflow, length": (lambda x: flow(pit_length_in=x), 6, 2400),
    "inflow, width": (lambda x: flow(pit_width_in=x), 6, 2400),
    "inflow, head": (lambda x: flow(head_in=x), -2400, 240),
    "inflow, base": (lambda x: flow(depth_to_base_in=x), 0, 12000),
    "inflow, least permeability": (lambda x: flow(low=x, high=1e-1), 1e-13, 1e-1),
    "inflow, most permeability": (lambda x: flow(low=1e-6, high=x), 1e-6, 1e-1),
    "drawdown, distance": (lambda x: lowered(distance=x), 0, 1e7),
    "drawdown, permeability": (lambda x: lowered(k=x), 1e-13, 1e-1),
    "drawdown, head": (lambda x: lowered(head_in=x), -2400, 240),
    "drawdown, length": (lambda x: lowered(pit_length_in=x), 6, 2400),
    "drawdown, width": (lambda x: lowered(pit_width_in=x), 6, 2400),
    "drawdown, base": (lambda x: lowered(depth_to_base_in=x), 0, 12000),
    "pumps, inflow": (lambda x: pumps_needed(x, 20.0), 0, 1e7),
    "pumps, capacity": (lambda x: pumps_needed(20.0, x), 1, 10000),
}


@pytest.mark.parametrize("name", CASES)
def test_known_up_to_both_ends_and_not_known_past_them(name):
    calculation, low, high = CASES[name]
    for limit in (low, high):
        result = calculation(float(limit))
        assert result.known or result.value is DOES_NOT_APPLY, result.reason
    for past in (low - abs(low) * 0.001 - 1e-15, high * 1.001, math.nan, math.inf, -math.inf):
        result = calculation(past)
        assert result.value is NOT_KNOWN, past
        assert "holds" in result.reason


@pytest.mark.parametrize("head", [-12.0, 0.0, 0.0004])
def test_no_water_over_the_floor_is_no_inflow(head):
    assert flow(head_in=head).value == 0.0
    assert lowered(head_in=head).value == 0.0
    assert flow(head_in=head).working.lines[-1].result == "0 gpm"
    assert lowered(head_in=head).working.lines[-1].result == "0 in"
    assert pumps_needed(flow(head_in=head).value, 20.0).value is DOES_NOT_APPLY


def test_a_base_at_the_floor_leaves_only_the_sides():
    lines = {line.symbol: line.result for line in flow(depth_to_base_in=0.0).working.lines}
    assert lines["Qd"] == lines["Q1"] == lines["Q3"]


def test_a_base_that_is_not_known_is_taken_as_deep():
    assert flow().value == pytest.approx(flow(depth_to_base_in=12000.0).value)
    assert any("taken as deep" in line.result for line in flow().working.lines)
    assert not any(line.symbol == "Q3" for line in flow().working.lines)


def test_the_least_inflow_is_told_too():
    least, most = flow().working.lines[-2:]
    assert least.symbol == "Qmin"
    assert least.result == f"{flow(1e-6, 1e-6).value:.3f} gpm"
    assert most.result == f"{flow(1e-4, 1e-4).value:.3f} gpm"


@pytest.mark.parametrize("base", [NOT_KNOWN, 0.0, 60.0])
def test_lowered_by_the_head_at_the_pit_and_by_nothing_beyond_the_reach(base):
    assert lowered(0.0, depth_to_base_in=base).value == pytest.approx(24.0)
    reach = 3000 * 24.0 * math.sqrt(1e-4)  # in
    assert lowered(reach + 0.01, depth_to_base_in=base).value == 0.0
    assert lowered(reach - 1.0, depth_to_base_in=base).value > 0.0


@pytest.mark.parametrize(
    ("gallons", "capacity", "pumps"),
    [(0.001, 20.0, 2), (20.0, 20.0, 2), (20.01, 20.0, 3), (1.1, 1.1, 2), (33.0, 1.1, 31)],
)
def test_pumps_with_one_in_reserve(gallons, capacity, pumps):
    result = pumps_needed(gallons, capacity)
    assert result.value == pumps
    assert result.working.lines[-1].result == str(pumps)
    assert result.working.lines[-1].source == "common practice"


two = st.tuples(st.floats(0, 1), st.floats(0, 1)).map(sorted)


def between(low, high):
    return two.map(lambda pair: [low + share * (high - low) for share in pair])


def permeabilities():
    return between(-13, -1).map(lambda pair: [min(max(10**p, 1e-13), 0.1) for p in pair])


bases = st.one_of(st.just(NOT_KNOWN), st.floats(0, 12000))
pits = st.builds(WetPit, st.floats(6, 2400), st.floats(6, 2400), st.floats(-10, 240), bases)
worse = st.sampled_from(["pit_length_in", "pit_width_in", "head_in"])
WIDEST = {"pit_length_in": 2400.0, "pit_width_in": 2400.0, "head_in": 240.0}


@given(pits, worse, st.floats(0, 500), permeabilities(), st.floats(0, 5000))
def test_a_larger_or_deeper_pit_never_takes_less_water(pit, side, more, k, distance):
    larger = pit._replace(**{side: min(getattr(pit, side) + more, WIDEST[side])})
    small, large = (inflow(each, *k).value for each in (pit, larger))
    assert 0 <= small <= large * (1 + 1e-9)
    near, far = (drawdown(distance, each, k[1]).value for each in (pit, larger))
    assert 0 <= near <= far * (1 + 1e-9) + 1e-9


@given(pits, permeabilities(), between(0, 5000))
def test_more_permeable_or_deeper_ground_never_lets_less_in(pit, k, distances):
    low, high = k
    assert inflow(pit, low, low).value <= inflow(pit, low, high).value * (1 + 1e-9)
    deep = pit._replace(depth_to_base_in=NOT_KNOWN)
    assert inflow(pit, low, high).value <= inflow(deep, low, high).value * (1 + 1e-9)
    assert drawdown(distances[0], pit, low).value <= drawdown(distances[0], pit, high).value + 1e-9
    assert drawdown(distances[0], pit, high).value <= (
        drawdown(distances[0], deep, high).value + 1e-6
    )
    near, far = (drawdown(distance, pit, high).value for distance in distances)
    assert near >= far - 1e-9
    assert near <= max(pit.head_in, 0.0) * (1 + 1e-9)


@given(between(0, 1e6), between(1, 10000))
def test_more_water_or_smaller_pumps_never_need_fewer(flows, capacities):
    def pumps(gallons, capacity):
        value = pumps_needed(gallons, capacity).value
        return 0.0 if value is DOES_NOT_APPLY else value

    assert pumps(flows[0], capacities[1]) <= pumps(flows[1], capacities[1])
    assert pumps(flows[0], capacities[1]) <= pumps(flows[0], capacities[0])


any_float = st.floats(allow_nan=False, allow_infinity=False)


@given(st.builds(WetPit, any_float, any_float, any_float, any_float), any_float, any_float)
def test_any_figures_give_a_figure_or_none(pit, one, other):
    for result in (inflow(pit, one, other), drawdown(one, pit, other), pumps_needed(one, other)):
        assert result.reason or math.isfinite(result.value)


@given(pits, permeabilities(), st.floats(0, 5000))
def test_the_last_line_is_the_value(pit, k, distance):
    found, lower = inflow(pit, *k), drawdown(distance, pit, k[1])
    printed = read_quantity(found.working.lines[-1].result, Kind.FLOW, None)
    assert printed == pytest.approx(found.value, abs=0.0006)
    printed = read_quantity(lower.working.lines[-1].result, Kind.LENGTH, None)
    assert printed == pytest.approx(lower.value, abs=0.0006)
