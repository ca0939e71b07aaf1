"""Influence lines, undermined length and point loads against published values and shapely."""

import itertools
import math

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from survey.engineering import undermining
from survey.engineering.layout import Opened
from survey.vocabulary import DOES_NOT_APPLY

METRE = 1000 / 25.4  # in


# Standard Handbook for Civil Engineers (Merritt), underpinning: an existing footing is influenced
# when a plane through its outermost edge enters the excavation, 1-on-1 in sand and 1-on-2 in
# loose silt or soft clay, of which the flatter reading is 2H:1V.
@pytest.mark.parametrize("line", [1.0, 2.0])
def test_a_pit_on_the_handbooks_line_has_its_slope(line):
    floor, footing = 96.0, 36.0
    x = line * (floor - footing)
    every = (
        undermining.slope_to_neighbour(floor, footing, x),
        undermining.slope_to_own_footing(x + 20.0, floor, footing, 20.0),
        undermining.slope_to_upper_footing(x, 24.0, floor, footing + 24.0),
        undermining.point_load_slope(x, floor, footing),
    )
    for found in every:
        assert found.value == pytest.approx(line)
    assert undermining.influence_depth(footing, x, line).value == pytest.approx(floor)


@pytest.mark.parametrize("line", [1.0, 2.0])
def test_influence_depth_is_where_the_line_meets_the_pits_edge_as_shapely_sees_it(line):
    footing, x = 36.0, 50.0
    ray = shapely.LineString([(0, -footing), (10 * x, -footing - 10 * x / line)])
    edge = shapely.LineString([(x, 0), (x, -1000)])
    meets = ray.intersection(edge)
    assert undermining.influence_depth(footing, x, line).value == pytest.approx(-meets.y)


def test_steps_of_the_national_building_code_of_canada_lie_at_45_degrees():
    # NBC 9.15.3.9: rise at most 600 mm, run at least 600 mm; from memory
    step = 0.6 * METRE
    assert undermining.step_slope(step, step).value == pytest.approx(1.0)
    # A pit at the foot of such a step and no deeper than the lower footing keeps to 1H:1V of
    # the upper one only from its own run away.
    assert undermining.slope_to_upper_footing(step, step, 60.0, 60.0).value == pytest.approx(1.0)


def bays(number, every, length=METRE):
    """Stations of every so-many-th of some legs end to end, from the first."""
    return [Opened((i + 0.5) * length, length) for i in range(0, number, every)]


def test_chudley_and_greeno_every_fourth_leg_is_a_quarter_of_the_wall():
    # Building Construction Handbook, 8th ed., underpinning: legs of 1.0 to 1.5 m for an ordinary
    # wall, at most 25 % of the wall unsupported at one time.
    for leg in (1.0, 1.5):
        opened = bays(12, 4, leg * METRE)
        wall = 12 * leg * METRE
        assert undermining.share_undermined(opened, wall).value == pytest.approx(25.0)
        longest = undermining.longest_run_undermined(opened, wall).value
        assert longest == pytest.approx(leg * METRE)
        assert undermining.length_undermined(opened, wall).value == pytest.approx(3 * longest)


def test_every_third_leg_is_more_than_the_quarter():
    assert undermining.share_undermined(bays(12, 3), 12 * METRE).value == pytest.approx(100 / 3)


def test_cross_report_72_sequence_ignored():
    # 60 % of the wall left unsupported, work stopped: six legs of ten
    opened = [bays(10, 1)[i] for i in (0, 1, 2, 5, 6, 8)]
    assert undermining.share_undermined(opened, 10 * METRE).value == pytest.approx(60.0)
    run = undermining.longest_run_undermined(opened, 10 * METRE).value
    assert run == pytest.approx(3 * METRE)  # legs that touch are one run


def test_us_pits_of_2_ft_6_in_by_hand():
    # Alternating pattern of pits 2 ft 6 in wide (consulting-engineer article): every fourth
    found = undermining.share_undermined(bays(16, 4, 30.0), 480.0)
    assert found.value == 25.0


def test_share_open_at_once_is_that_of_legs_three_legs_apart():
    pits = [METRE] * 12
    share = undermining.share_open_at_once(12 * METRE, 3 * METRE, pits).value
    assert share == pytest.approx(25.0)


stations = st.floats(0, 480)
pits = st.builds(Opened, stations, st.floats(6, 200))


@given(st.lists(pits, min_size=1, max_size=8))
def test_length_and_runs_as_shapely_joins_the_openings(openings):
    wall = shapely.box(0, 0, 480, 1)
    boxes = [shapely.box(s - o / 2, 0, s + o / 2, 1) for s, o in openings]
    joined = shapely.union_all(boxes).intersection(wall)
    assert undermining.length_undermined(openings, 480.0).value == pytest.approx(
        joined.area, abs=0.01
    )
    parts = [part.bounds for part in shapely.get_parts(joined)]
    # Half a thousandth of an inch of ground is none to us and keeps runs apart in shapely.
    assume(all(b[0] - a[2] > 0.001 for a, b in itertools.pairwise(sorted(parts))))
    longest = max(part[2] - part[0] for part in parts)
    assert undermining.longest_run_undermined(openings, 480.0).value == pytest.approx(longest)


def test_tms_402_5_1_3_two_vertical_to_one_horizontal():
    # From memory: a load on 8 in at the top of 8 ft of masonry spreads 4 ft to each side.
    assert undermining.load_spread_length(8.0, 96.0, 0.5).value == 8.0 + 2 * 48.0
    assert math.degrees(math.atan(2)) == pytest.approx(63.4, abs=0.05)


@given(stations, st.floats(0, 24), st.floats(0, 96), st.floats(0, 2), pits)
def test_reach_of_a_point_load_as_shapely_draws_its_spread(station, bearing, height, spread, pit):
    out = bearing / 2 + spread * height
    base = shapely.LineString([(station - out, 0), (station + out, 0)])
    opened = shapely.LineString(
        [(pit.station_in - pit.opening_in / 2, 0), (pit.station_in + pit.opening_in / 2, 0)]
    )
    length = undermining.load_spread_length(bearing, height, spread).value
    clear = undermining.point_load_clearance(station, length, pit).value
    assert max(clear, 0.0) == pytest.approx(base.distance(opened), abs=1e-6)
    if abs(clear) > 0.001:
        reaches = undermining.point_load_reaches_pit(station, length, pit).value
        assert reaches == ("yes" if base.distance(opened) == 0.0 else "no")


def test_round_an_outside_corner_by_hand():
    # Pit 60 in from the corner; the other footing, 20 in wide, lies under the last 20 in of this
    # wall: 40 in apart, 24 in deeper.
    found = undermining.slope_to_own_footing(60.0, 72.0, 48.0, 20.0)
    assert found.value == pytest.approx(40 / 24)
    assert undermining.slope_to_own_footing(60.0, 48.0, 48.0, 20.0).value is DOES_NOT_APPLY
