"""Lines near pit, tube and drill: ranges, branches, and that a nearer line never looks better."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.lines import (
    DrilledHole,
    LineAtPit,
    clearance_beyond_tolerance,
    clearance_in_space,
    clearance_to_drill,
    clearance_to_tube,
    quality_level,
)
from survey.vocabulary import NOT_KNOWN, VOCABULARY, Kind, read_quantity

SLOPED = LineAtPit(96.0, 36.0, 60.0, 60.0, 24.0, 4.0)
HOLE = DrilledHole(3.0, 8.0, 6.0, 0.75, 1.0)


def space(**changed):
    return clearance_in_space(SLOPED._replace(**changed))


def drill(**changed):
    return clearance_to_drill(HOLE._replace(**changed))


DIAGONAL = math.sqrt(2)
CASES = {
    "beyond, clearance": (lambda x: clearance_beyond_tolerance(x, 24.0), 0, 1e7),
    "beyond, zone": (lambda x: clearance_beyond_tolerance(30.0, x), 0, 240),
    "space, floor clearance": (
        lambda x: space(floor_clearance_in=x, edge_clearance_in=x), 0, 1e7,
    ),
    "space, edge clearance": (lambda x: space(edge_clearance_in=x),
                              96 - 60 * DIAGONAL - 0.002, 96.002),
    "space, reach": (lambda x: space(floor_clearance_in=9e6, edge_clearance_in=9e6, reach_in=x),
                     0, 7200),
    "space, floor": (lambda x: space(pit_floor_in=x), 0, 1800),
    "space, depth": (lambda x: space(depth_to_line_in=x), 0, 720),
    "space, diameter": (lambda x: space(diameter_in=x), 0, 600),
    "tube, distance": (lambda x: clearance_to_tube(x, 4.0, 3.0), 0, 1e7),
    "tube, line": (lambda x: clearance_to_tube(12.0, x, 3.0), 0, 600),
    "tube, tube": (lambda x: clearance_to_tube(12.0, 4.0, x), 1, 24),
    "drill, aside": (lambda x: drill(aside_in=x), 0, 1e7),
    "drill, ahead": (lambda x: drill(ahead_in=x), 0, 1e7),
    "drill, depth": (lambda x: drill(hole_depth_in=x), 0, 240),
    "drill, hole": (lambda x: drill(hole_diameter_in=x), 0.125, 24),
    "drill, line": (lambda x: drill(line_diameter_in=x), 0, 600),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_known_up_to_both_ends_and_not_known_past_them(name):
    calculation, low, high = CASES[name]
    for limit in (low, high):
        result = calculation(float(limit))
        assert result.known, result.reason
    for past in (low - 0.001, high * 1.001, math.nan, math.inf, -math.inf):
        result = calculation(past)
        assert result.value is NOT_KNOWN, past
        assert "holds" in result.reason


def test_every_way_to_locate_a_line_has_a_level():
    levels = [quality_level(way).value for way in VOCABULARY["located by"].choices]
    assert levels == ["A", "B", "C", "D"]
    assert quality_level("a dream").value is NOT_KNOWN
    assert quality_level("traced").working.lines[-1].result == "B"


def test_a_line_in_the_pit_has_no_clearance():
    assert space(floor_clearance_in=20.0, edge_clearance_in=0.0).value == 0.0
    assert space(floor_clearance_in=0.0, edge_clearance_in=0.0).value == 0.0


def test_a_line_below_the_floor_is_measured_straight_up():
    under = space(floor_clearance_in=0.0, edge_clearance_in=0.0, depth_to_line_in=70.0)
    assert under.value == 10.0
    assert under.working.lines[-1].formula == "max(z - H, 0)"


def test_beside_a_corner_the_slope_counts_as_nearer():
    point = {"diameter_in": 0.0, "depth_to_line_in": 60.0}
    assert space(**point).value == pytest.approx(96 / DIAGONAL)
    # As far from the edge at the ground, but farther from the floor: the line passes a corner.
    reach = 60 * DIAGONAL
    corner = space(floor_clearance_in=36 + reach, **point).value
    assert corner == pytest.approx((36 + reach) * 60 / math.hypot(60, reach))
    assert corner < space(**point).value * (36 + reach) / 96


def test_where_it_crosses_the_slope_the_corner_counts():
    inside = space(floor_clearance_in=80.0, edge_clearance_in=0.0, depth_to_line_in=0.0)
    assert inside.value == 0.0
    below = space(
        floor_clearance_in=50.0, edge_clearance_in=0.0, depth_to_line_in=55.0, diameter_in=0.0
    )
    reach = 60 * DIAGONAL
    assert below.value == pytest.approx((50 - reach * 5 / 60) * 60 / math.hypot(60, reach))


def test_workings_read_well():
    last = space().working.lines[-1]
    assert last.formula == "max(D - d / 2, 0)"
    assert last.result == f"{space().value:.3f} in"
    beyond = clearance_beyond_tolerance(12.0, 24.0).working.lines[-1]
    assert (beyond.numbers, beyond.result) == ("12 - 24", "-12 in")


two = st.tuples(st.floats(0, 1), st.floats(0, 1)).map(sorted)


def between(low, high):
    return two.map(lambda pair: [low + share * (high - low) for share in pair])


shares = st.floats(0, 1)
lines = st.builds(
    lambda edge, reach, corner, floor, depth, diameter: LineAtPit(
        edge + reach * (1 + corner * (DIAGONAL - 1)), edge, reach, floor, depth, diameter
    ),
    st.floats(0, 300), st.floats(0, 300), st.one_of(st.just(0.0), shares), st.floats(0, 300),
    st.floats(0, 400), st.floats(0, 60),
)  # fmt: skip


@given(lines, st.floats(0, 300))
def test_a_deeper_pit_is_never_farther(line, more):
    deeper = line._replace(pit_floor_in=line.pit_floor_in + more)
    assert clearance_in_space(deeper).value <= clearance_in_space(line).value + 1e-6


@given(lines, shares)
def test_a_thicker_line_round_the_same_axis_is_never_farther(line, share):
    more = share * min(line.edge_clearance_in, line.depth_to_line_in)
    thicker = line._replace(
        floor_clearance_in=line.floor_clearance_in - more,
        edge_clearance_in=line.edge_clearance_in - more,
        depth_to_line_in=line.depth_to_line_in - more,
        diameter_in=line.diameter_in + 2 * more,
    )
    rounding = 1e-6 if _same_side(line, thicker) else math.inf
    assert clearance_in_space(thicker).value <= clearance_in_space(line).value + rounding


@given(lines, shares)
def test_a_nearer_line_is_never_farther(line, share):
    nearer = line._replace(
        floor_clearance_in=line.floor_clearance_in - share * line.edge_clearance_in,
        edge_clearance_in=line.edge_clearance_in * (1 - share),
    )
    # Rounding may tell a side from a corner at the limit of two steps of length.
    rounding = 1e-6 if _same_side(line, nearer) else math.inf
    assert clearance_in_space(nearer).value <= clearance_in_space(line).value + rounding


def _same_side(one, other):
    straight = [
        abs(each.floor_clearance_in - each.edge_clearance_in - each.reach_in) <= 0.002
        for each in (one, other)
    ]
    return straight[0] == straight[1]


@given(lines)
def test_it_is_never_more_than_in_plan_at_the_ground_and_straight_up(line):
    clear = clearance_in_space(line).value
    plan, up = line.edge_clearance_in, max(line.depth_to_line_in - line.pit_floor_in, 0.0)
    assert clear <= math.hypot(line.floor_clearance_in + line.diameter_in / 2,
                               up + line.diameter_in / 2) + 1e-6  # fmt: skip
    if line.depth_to_line_in == 0:
        assert clear <= plan + line.diameter_in / 2 + 1e-6


@given(between(0, 300), between(0, 60), between(1, 24))
def test_a_nearer_line_or_a_wider_tube_is_never_farther(distances, diameters, tubes):
    worst = clearance_to_tube(distances[0], diameters[1], tubes[1]).value
    assert worst <= clearance_to_tube(distances[1], diameters[1], tubes[1]).value
    assert worst <= clearance_to_tube(distances[0], diameters[0], tubes[1]).value
    assert worst <= clearance_to_tube(distances[0], diameters[1], tubes[0]).value


@given(between(0, 60), between(0, 60), between(0, 60))
def test_a_deeper_hole_or_a_nearer_line_is_never_farther(asides, aheads, depths):
    def clear(aside, ahead, depth):
        return clearance_to_drill(DrilledHole(aside, ahead, depth, 0.75, 1.0)).value

    worst = clear(asides[0], aheads[0], depths[1])
    assert worst <= clear(asides[1], aheads[0], depths[1])
    assert worst <= clear(asides[0], aheads[1], depths[1])
    assert worst <= clear(asides[0], aheads[0], depths[0])


any_float = st.floats(allow_nan=False, allow_infinity=False)


@given(st.builds(LineAtPit, *[any_float] * 6), st.builds(DrilledHole, *[any_float] * 5))
def test_any_figures_give_a_figure_or_none(line, hole):
    for result in (
        clearance_in_space(line),
        clearance_to_drill(hole),
        clearance_to_tube(*hole[:3]),
        clearance_beyond_tolerance(*hole[:2]),
    ):
        assert result.reason or math.isfinite(result.value)


@given(lines, st.floats(0, 300), st.floats(0, 240))
def test_the_last_line_is_the_value(line, clearance, zone):
    for result in (clearance_in_space(line), clearance_to_tube(clearance, 4.0, 3.0),
                   clearance_beyond_tolerance(clearance, zone)):  # fmt: skip
        printed = read_quantity(result.working.lines[-1].result, Kind.LENGTH, None)
        assert printed == pytest.approx(result.value, abs=0.0006)
