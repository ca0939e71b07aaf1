"""Buried lines: quality levels of ASCE/CI 38, tolerance zones, distances in space."""

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

shapely = pytest.importorskip("shapely")


@pytest.mark.parametrize(
    ("located_by", "level"),
    [("exposed", "A"), ("traced", "B"), ("surface signs", "C"), ("records only", "D")],
)
def test_asce_38_quality_levels(located_by, level):
    assert quality_level(located_by).value == level


@pytest.mark.parametrize(
    ("zone", "clearance", "beyond"),
    [
        (24.0, 30.0, 6.0),  # California, Gov. Code 4216: 24 in each side
        (18.0, 12.0, -6.0),  # Colorado, C.R.S. 9-1.5-102: 18 in
    ],
)
def test_tolerance_zones_of_two_states(zone, clearance, beyond):
    assert clearance_beyond_tolerance(clearance, zone).value == beyond


def between(low, high):
    """In steps of a thousandth: the library stumbles over lengths of next to nothing."""
    return st.integers(round(low * 1000), round(high * 1000)).map(lambda steps: steps / 1000)


sizes = between(0, 48)
depths = between(1, 240)


@given(between(0.01, 400), depths, between(0, 240), between(0, 240), sizes)
def test_in_front_of_a_side_it_is_the_plane_distance(edge, floor, reach, depth, diameter):
    """A circle and the pit's cross-section, by shapely."""
    pit = shapely.Polygon([(-1e4, floor), (0, floor), (reach, 0), (-1e4, 0)])
    x = edge + reach
    axis = shapely.Point(x + diameter / 2, depth + diameter / 2)
    found = clearance_in_space(LineAtPit(x, edge, reach, floor, depth, diameter)).value
    assert found == pytest.approx(max(axis.distance(pit) - diameter / 2, 0.0), abs=1e-6)


@given(between(0.01, 400), depths, between(0, 360), sizes)
def test_beside_an_upright_side(clear, floor, depth, diameter):
    pit = shapely.box(-1e4, 0, 0, floor)
    axis = shapely.Point(clear + diameter / 2, depth + diameter / 2)
    found = clearance_in_space(LineAtPit(clear, clear, 0.0, floor, depth, diameter)).value
    assert found == pytest.approx(max(axis.distance(pit) - diameter / 2, 0.0), abs=1e-6)


ends = st.tuples(between(-300, 300), between(-200, 300))


def in_space(line, radius, floor, reach, depth):
    """Least distance by trying the pit's outline at many depths."""
    tries = 48
    best = math.inf
    for i in range(tries + 1):
        out = reach * (1 - i / tries)
        plan = line.distance(shapely.box(-24 - out, 0, 24 + out, 36 + out))
        best = min(best, math.hypot(plan, depth + radius - floor * i / tries))
    return max(best - radius, 0.0)


@given(st.tuples(ends, ends), between(12, 120), between(0, 120), between(0, 160), between(0, 6))
def test_a_line_in_any_direction_is_never_nearer_than_told(place, floor, reach, depth, radius):
    """A pit of 4 ft x 3 ft at a wall, three sides sloped, in three dimensions.

    A side and a corner are told apart to 0.002 in.
    """
    line = shapely.LineString(place)
    bare, wide = (
        max(line.distance(shapely.box(-24 - r, 0, 24 + r, 36 + r)) - radius, 0.0)
        for r in (0.0, reach)
    )
    found = clearance_in_space(LineAtPit(bare, wide, reach, floor, depth, 2 * radius))
    assert found.known, found.reason
    assert found.value <= in_space(line, radius, floor, reach, depth) + 0.002


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        # 3-4-5: 3 ft off an upright side, 4 ft below the floor.
        (LineAtPit(36.0, 36.0, 0.0, 60.0, 108.0, 0.0), 60.0),
        # 45 degrees: 24 in beyond the slope at its own depth.
        (LineAtPit(84.0, 24.0, 60.0, 60.0, 0.0, 0.0), 24.0),
        (LineAtPit(84.0, 24.0, 60.0, 60.0, 30.0, 0.0), 54 / math.sqrt(2)),
    ],
)
def test_plane_triangles(line, expected):
    assert clearance_in_space(line).value == pytest.approx(expected)


def test_tube_and_drill():
    assert clearance_to_tube(12.0, 4.0, 3.0).value == 12 - 2 - 1.5
    hole = DrilledHole(3.0, 10.0, 6.0, 0.75, 1.0)
    assert clearance_to_drill(hole).value == pytest.approx(5 - 0.5 - 0.375)


@given(between(0, 60), between(0, 60), between(0.25, 60), between(0.2, 4), sizes)
def test_drill_against_a_library(aside, ahead, depth, bit, diameter):
    hole = shapely.LineString([(0, 0), (0, depth)])
    distance = hole.distance(shapely.Point(aside, ahead))
    found = clearance_to_drill(DrilledHole(aside, ahead, depth, bit, diameter)).value
    assert found == pytest.approx(max(distance - diameter / 2 - bit / 2, 0.0), abs=1e-9)
