"""Layout in plan against geometry worked out by hand and against shapely's own shapes."""

import itertools
import math

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from survey.engineering import layout

HOUSE = layout.lay_walls([480.0, 360.0, 480.0, 360.0], [90.0] * 4)


def test_rectangle_by_hand():
    starts = [face.start for face in HOUSE]
    assert starts == [(0, 0), (480, 0), (480, 360), (0, 360), (0, 0)]
    assert [face.outward for face in HOUSE[:4]] == [(0, -1), (1, 0), (0, 1), (-1, 0)]


def test_inside_corner_by_hand():
    # An L: 40 x 30 ft with a 20 x 10 ft piece missing at the back right
    lengths = [480.0, 240.0, 240.0, 120.0, 240.0, 360.0]
    turns = [90.0, 90.0, -90.0, 90.0, 90.0, 90.0]
    assert layout.closing_error(lengths, turns).value == 0.0
    assert layout.lay_walls(lengths, turns)[4].start == (240.0, 360.0)


def test_bay_with_45_degree_turns_by_hand():
    faces = layout.lay_walls([48.0], [45.0])
    assert faces[1].along == pytest.approx((math.sqrt(0.5), math.sqrt(0.5)))
    assert faces[1].outward == pytest.approx((math.sqrt(0.5), -math.sqrt(0.5)))


def test_closing_error_3_4_5_by_hand():
    # The back wall is 3 ft short and the left wall 4 ft long
    found = layout.closing_error([480.0, 360.0, 444.0, 408.0], [90.0] * 4)
    assert found.value == pytest.approx(60.0)


def test_pit_outside_and_inside_by_hand():
    right = HOUSE[1]
    assert layout.pit_corners(right, 180.0, 36.0, 30.0, reach_in=10.0) == (
        (480, 152), (480, 208), (520, 208), (520, 152),
    )  # fmt: skip
    assert layout.pit_corners(right, 180.0, 36.0, 30.0, reach_in=10.0, under_in=8.0) == (
        (472, 152), (472, 208), (520, 208), (520, 152),
    )  # fmt: skip
    assert layout.pit_corners(right, 180.0, 36.0, 30.0, under_in=8.0, inside=True) == (
        (480, 162), (480, 198), (442, 198), (442, 162),
    )  # fmt: skip


def test_clearance_by_hand():
    pit = layout.pit_corners(HOUSE[0], 240.0, 36.0, 36.0)
    # A 4 in line parallel to the wall, 10 ft out: 120 - 36 - 2
    ends = (HOUSE[0].point(0.0, 120.0), HOUSE[0].point(480.0, 120.0))
    assert layout.clearance_to_utility(pit, *ends, 4.0).value == 82.0
    # It ends beside the pit, 30 in along and 40 in out from its corner
    ends = (HOUSE[0].point(0.0, 76.0), HOUSE[0].point(192.0, 76.0))
    assert layout.clearance_to_utility(pit, *ends, 4.0).value == 48.0


def test_clearance_round_a_corner_by_hand():
    # Pit at the front wall 24 in from the corner, neighbour 5 ft off the right wall
    pit = layout.pit_corners(HOUSE[0], 480.0 - 24.0 - 18.0, 36.0, 36.0)
    neighbour = layout.neighbour_corners(HOUSE[1], 0.0, 360.0, 60.0)
    assert layout.clearance_to_neighbour(pit, neighbour).value == 84.0


def clear(pit, other):
    (found,), (back,) = (
        layout.clearance_between_pits(*pair) for pair in ((pit, [other]), (other, [pit]))
    )
    assert found.value == pytest.approx(back.value, abs=1e-9)
    return found.value


def test_pits_of_one_wall_by_hand():
    # Middles 10 ft apart, 18 in to the edge of each floor, 10 in of slope at the ground
    for reach, expected in ((0.0, 84.0), (10.0, 64.0), (42.0, 0.0), (60.0, 0.0)):
        pit, other = (
            layout.pit_corners(HOUSE[2], station, 36.0, 36.0, reach_in=reach)
            for station in (120.0, 240.0)
        )
        assert clear(pit, other) == expected


def test_pits_round_a_corner_3_4_5_by_hand():
    # From the corner: the one ends 42 in along the front, the other 56 in up the right wall
    pit = layout.pit_corners(HOUSE[0], 480.0 - 42.0 - 18.0, 36.0, 36.0)
    other = layout.pit_corners(HOUSE[1], 56.0 + 18.0, 36.0, 36.0)
    assert clear(pit, other) == 70.0


def test_pits_in_front_of_opposite_walls_by_hand():
    # The house is 30 ft deep and 8 in are taken from under each wall
    pit = layout.pit_corners(HOUSE[0], 100.0, 36.0, 36.0, under_in=8.0)
    other = layout.pit_corners(HOUSE[2], 480.0 - 100.0, 36.0, 36.0, under_in=8.0)
    assert clear(pit, other) == 344.0


def test_piers_by_hand():
    # 10 ft apart on one wall; 60 in and 80 in from a corner
    ends = (HOUSE[0].point(100.0, 0.0), HOUSE[0].point(220.0, 0.0))
    assert layout.distance_between_piers(*ends).value == 120.0
    ends = (HOUSE[0].point(420.0, 0.0), HOUSE[1].point(80.0, 0.0))
    assert layout.distance_between_piers(*ends).value == 100.0
    assert layout.distance_between_piers(*reversed(ends)).value == 100.0


def to_edge(point, start, end):
    """Distance from a point to a straight edge."""
    (x, y), (x1, y1), (x2, y2) = point, start, end
    along = ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / math.dist(start, end) ** 2
    share = min(max(along, 0.0), 1.0)
    return math.dist(point, (x1 + share * (x2 - x1), y1 + share * (y2 - y1)))


def apart(one, other):
    """Whether two rectangles lie on either side of a line square to an edge of one of them."""
    for (x1, y1), (x2, y2) in (*itertools.pairwise(one), *itertools.pairwise(other)):
        ones, others = (
            [x * (x2 - x1) + y * (y2 - y1) for x, y in corners] for corners in (one, other)
        )
        if max(ones) < min(others) or max(others) < min(ones):
            return True
    return False


faces = st.sampled_from((*HOUSE[:4], *layout.lay_walls([300.0, 200.0], [37.0, 0.0])[1:]))
pits = st.builds(
    layout.pit_corners, faces, st.floats(0, 480), st.floats(6, 120), st.floats(6, 120),
    reach_in=st.floats(0, 90), under_in=st.floats(0, 24), inside=st.booleans(),
)  # fmt: skip


@given(pits, pits)
def test_clearance_between_pits_is_the_least_from_a_corner_to_an_edge(one, other):
    least = min(
        to_edge(corner, *edge)
        for corners, outline in ((one, other), (other, one))
        for corner in corners
        for edge in itertools.pairwise((*outline, outline[0]))
    )
    assert clear(one, other) == pytest.approx(least if apart(one, other) else 0.0, abs=1e-4)


stations = st.floats(-200, 700)
places = st.tuples(stations, st.floats(-200, 400))  # station and offset


@given(places, places, st.floats(0.5, 60), st.floats(0, 480), st.integers(0, 3))
def test_clearance_as_shapely_buffers_the_line(one, other, diameter, station, wall):
    pit = layout.pit_corners(HOUSE[wall], station, 36.0, 36.0, reach_in=20.0)
    start, end = HOUSE[wall].point(*one), HOUSE[wall].point(*other)
    found = layout.clearance_to_utility(pit, start, end, diameter).value
    assume(math.dist(start, end) > 0.001)
    pipe = shapely.LineString([start, end]).buffer(diameter / 2, quad_segs=64)
    expected = shapely.Polygon(pit).distance(pipe)
    # The buffer's round ends are polygons, short of the circle by up to 1 part in 6,000.
    assert found == pytest.approx(expected, abs=0.01)


def test_a_line_of_next_to_no_length_is_a_point():
    pit = layout.pit_corners(HOUSE[0], 240.0, 36.0, 36.0)
    start = HOUSE[0].point(240.0, 46.0)
    for end in (start, HOUSE[0].point(240.0, 46.0 + 1e-13)):
        assert layout.clearance_to_utility(pit, start, end, 4.0).value == pytest.approx(8.0)


@given(stations, stations, st.floats(0, 600), st.integers(0, 3), st.integers(0, 3))
def test_clearance_as_shapely_measures_the_neighbour(s1, s2, offset, wall, other):
    pit = layout.pit_corners(HOUSE[wall], 180.0, 36.0, 36.0)
    corners = layout.neighbour_corners(HOUSE[other], min(s1, s2), max(s1, s2) + 1, offset)
    found = layout.clearance_to_neighbour(pit, corners).value
    assert found == pytest.approx(shapely.Polygon(pit).distance(shapely.Polygon(corners)))
