"""Both ends of each range of validity: a figure on the limit, not known just past it."""

import math

import pytest

from survey.engineering import (
    layout,
    load,
    pit,
    plain_concrete,
    soil,
    tributary,
    undermining,
    water,
)
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN

PSI = 144.0
WALL = load.WallAbove(
    "poured concrete", 8.0, 84.0, 2, "light siding or stucco", 168.0, 336.0, 30.0, "concrete",
    10.0, 20.0, "partially exposed", "heated", "no",
)  # fmt: skip
CLAY = soil.FieldTests("clay", 2000.0, DOES_NOT_APPLY, "no", "no", "no", "no", "no layers")
LAYERS = (soil.Layer("1", 0.0, 3600.0, ("B",), "clay"),)


SPAN = plain_concrete.Span(3000.0, 36.0, 2500 * PSI, 20.0, 6.0, 10.0)


def concrete(**changed):
    span = SPAN._replace(**changed)
    return plain_concrete.bending_use(span), plain_concrete.shear_use(span)


def bearing(**changed):
    return plain_concrete.bearing_use(
        **{"factored_load_lb": 15000.0, "strength_psf": 2500 * PSI, "plate_width_in": 10.0,
           "plate_depth_in": 8.0, "footing_width_in": 20.0, **changed}
    )  # fmt: skip


def opening(**changed):
    return pit.opening_at_footing(
        **{"side_protection": "sloped", "slope_of_sides": 1.0, "pit_depth_in": 60.0,
           "footing_depth_in": 36.0, "pit_length_in": 36.0, "soil_class": NOT_KNOWN, **changed}
    )  # fmt: skip


def benched(depth):
    return opening(side_protection="benched", pit_depth_in=depth, soil_class="B")


def gap(station=60.0, opened=36.0):
    return layout.gap_to_next_pit(layout.Opened(0.0, 36.0), [layout.Opened(station, opened)])


def corner(**changed):
    return layout.distance_to_corner(
        **{"wall_length_in": 480.0, "station_in": 12.0, "opening_in": 36.0, **changed}
    )


def inside(pit_depth=36.0, **changed):
    measured = pit.Inside(12.0, 84.0, 10.0)._replace(**changed)
    return pit.depth_of_floor(pit_depth, measured)


def clearance(diameter):
    square = layout.pit_corners(layout.lay_walls([], [])[0], 60.0, 36.0, 36.0)
    return layout.clearance_to_utility(square, (0.0, -120.0), (120.0, -120.0), diameter)


# What is worked out, and one argument with its lowest and highest value.
CASES = {
    "closing error, length": (lambda x: layout.closing_error([x] * 4, [90.0] * 4), 12, 6000),
    "closing error, turns": (
        lambda x: layout.closing_error([240.0] * 4, [90.0, 90.0, 90.0, x]), 80, 100,
    ),
    "clearance, diameter": (clearance, 0, 600),
    "pit from pit, place of the one": (
        lambda x: layout.clearance_between_pits(((x, 0.0),), [((0.0, 0.0),)])[0], -1e7, 1e7,
    ),
    "pit from pit, place of the other": (
        lambda x: layout.clearance_between_pits(((0.0, 0.0),), [((0.0, x),)])[0], -1e7, 1e7,
    ),
    "pier from pier, place": (
        lambda x: layout.distance_between_piers((0.0, 0.0), (x, 0.0)), -1e7, 1e7,
    ),
    "above floor, floor": (lambda x: layout.depth_above_floor(x, 0.0), 0, 1800),
    "above floor, utility": (lambda x: layout.depth_above_floor(60.0, x), 0, 720),
    "corner, station": (lambda x: corner(station_in=x), 0, 480),
    "corner, opening": (lambda x: corner(opening_in=x), 6, 14760),
    "corner, wall length": (lambda x: corner(wall_length_in=x), 12, 6000),
    "next pier, station": (lambda x: layout.distance_to_next_pier(60.0, [x]), 0, 6000),
    "gap, station": (lambda x: gap(station=x), 0, 6000),
    "gap, opening": (lambda x: gap(opened=x), 6, 14760),
    "opening, slope": (lambda x: opening(slope_of_sides=x), 0, 10),
    "opening, depth": (lambda x: opening(pit_depth_in=x), 0, 720),
    "opening, footing depth": (lambda x: opening(footing_depth_in=x), 0, 480),
    "opening, length": (lambda x: opening(pit_length_in=x), 6, 360),
    "opening of a bench, depth": (benched, 0, 240),
    "reach, slope": (lambda x: pit.slope_reach("sloped", x, 60.0, NOT_KNOWN), 0, 10),
    "reach, depth": (lambda x: pit.slope_reach("sloped", 1.0, x, NOT_KNOWN), 0, 720),
    "reach of a bench, depth": (lambda x: pit.slope_reach("benched", NOT_KNOWN, x, "B"), 0, 240),
    "floor, depth": (pit.depth_of_floor, 0, 720),
    "floor inside, depth": (lambda x: inside(pit_depth=x), 0, 720),
    "floor inside, footing depth": (lambda x: inside(footing_depth_in=x), 0, 480),
    "floor inside, wall height": (lambda x: inside(wall_height_in=x), 0, 360),
    "floor inside, footing": (lambda x: inside(footing_thickness_in=x), 0, 72),
    "slope to neighbour, floor": (lambda x: undermining.slope_to_neighbour(x, 0.0, 60.0), 0, 1800),
    "slope to neighbour, footing": (
        lambda x: undermining.slope_to_neighbour(60.0, x, 60.0), 0, 720,
    ),
    "slope to neighbour, distance": (
        lambda x: undermining.slope_to_neighbour(60.0, 0.0, x), 0, 1e7,
    ),
    "share, wall": (lambda x: undermining.share_open_at_once(x, 72.0, [36.0]), 12, 6000),
    "share, spacing": (lambda x: undermining.share_open_at_once(480.0, x, [36.0]), 0, 6000),
    "share, opening": (lambda x: undermining.share_open_at_once(480.0, 72.0, [x]), 6, 14760),
    "load, thickness": (lambda x: load.wall_line_load(WALL._replace(wall_thickness_in=x)), 2, 60),
    "load, height": (lambda x: load.wall_line_load(WALL._replace(wall_height_in=x)), 0, 360),
    "load, storeys": (lambda x: load.factored_line_load(WALL._replace(storeys=x)), 0, 6),
    "load, floor": (lambda x: load.wall_line_load(WALL._replace(floor_span_in=x)), 0, 720),
    "load, roof": (lambda x: load.factored_line_load(WALL._replace(roof_span_in=x)), 0, 1200),
    "tributary, station": (lambda x: tributary.tributary_length(480.0, x, ()), 0, 480),
    "pier load, line load": (lambda x: tributary.pier_load(x, 480.0, 60.0, ()), 0, 1e6),
    "bending, strength": (lambda x: concrete(strength_psf=x * PSI)[0], 500, 12000),
    "shear, strength": (lambda x: concrete(strength_psf=x * PSI)[1], 500, 12000),
    "bending, width": (lambda x: concrete(width_in=x, projection_in=3.0)[0], 4, 120),
    "bending, projection": (lambda x: concrete(width_in=100.0, projection_in=x)[0], 0, 60),
    "strength, width": (
        lambda x: plain_concrete.flexural_strength(2500 * PSI, x, 10.0), 0.001, 120,
    ),
    "bending, thickness": (lambda x: concrete(thickness_in=x)[0], 2.001, 72),
    "shear, thickness": (lambda x: concrete(thickness_in=x)[1], 2.001, 72),
    "bending, span": (lambda x: concrete(opening_in=x)[0], 6, 14760),
    "shear, load": (lambda x: concrete(factored_plf=x)[1], 0, 1e6),
    "bearing, plate width": (lambda x: bearing(plate_width_in=x), 2, 48),
    "bearing, plate depth": (lambda x: bearing(plate_depth_in=x), 1, 48),
    "bearing, footing width": (lambda x: bearing(footing_width_in=x), 4, 120),
    "bearing, load": (lambda x: bearing(factored_load_lb=x), 0, 1e8),
    "soil class, strength": (
        lambda x: soil.layer_soil_class(CLAY._replace(unconfined_strength_psf=x)), 0, 40000,
    ),
    "cohesive, depth": (lambda x: soil.cohesive_ground(x, LAYERS, True), 0.001, 1800),
    "pit class, depth": (lambda x: soil.pit_soil_class(x, LAYERS, True), 0.001, 1800),
    "water, depth to it": (lambda x: water.water_above_floor(60.0, 60.0, "yes", x, NOT_KNOWN),
                           0, 2400),
    "water, hole": (lambda x: water.water_above_floor(0.0, 0.0, "no", NOT_KNOWN, x), 0, 3600),
    "water, floor": (lambda x: water.water_above_floor(x, 1800.0, "yes", 1800.0, NOT_KNOWN),
                     0, 1800),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_known_up_to_both_ends_and_not_known_past_them(name):
    calculation, low, high = CASES[name]
    for limit in (low, high):
        result = calculation(float(limit))
        assert result.known or result.value is DOES_NOT_APPLY, result.reason
    for past in (math.nextafter(low, -math.inf) - 0.001, math.nextafter(high, math.inf) * 1.001,
                 math.nan, math.inf, -math.inf):  # fmt: skip
        result = calculation(past)
        assert result.value is NOT_KNOWN, past
        assert "holds" in result.reason


def test_the_reason_gives_the_value_and_both_limits():
    reason = opening(pit_length_in=400.0).reason
    assert reason == "pit length is 400 in; the method holds from 6 in to 360 in"


@pytest.mark.parametrize("thickness", [2.0, 1.0, 0.0])
def test_nothing_is_left_of_a_footing_of_2_in(thickness):
    for result in concrete(thickness_in=thickness):
        assert result.value is NOT_KNOWN
        assert f"{thickness:g} in" in result.reason
        assert "14.5.1.7" in result.reason


def test_reach_needs_only_what_the_case_needs():
    for upright in ("none", "timber shoring", "hydraulic shoring", "shield"):
        assert pit.slope_reach(upright, NOT_KNOWN, NOT_KNOWN, NOT_KNOWN).value == 0.0
    assert pit.slope_reach("sloped", NOT_KNOWN, 60.0, "B").value is NOT_KNOWN
    assert pit.slope_reach("sloped", 1.0, NOT_KNOWN, "B").value is NOT_KNOWN
    assert pit.slope_reach("benched", NOT_KNOWN, 60.0, NOT_KNOWN).value is NOT_KNOWN


def test_benches_reach_as_far_as_type_b_and_type_c_has_none():
    for soil_class in ("stable rock", "A", "B"):
        assert pit.slope_reach("benched", DOES_NOT_APPLY, 60.0, soil_class).value == 60.0
    found = pit.slope_reach("benched", DOES_NOT_APPLY, 60.0, "C")
    assert found.value is NOT_KNOWN
    assert "no bench" in found.reason


def test_opening_on_both_sides_of_the_footing():
    assert opening().value == 36 + 2 * 24  # by hand: 24 in of slope on each side
    assert opening(pit_depth_in=36.0).value == 36.0
    assert opening(pit_depth_in=36.5).value == 37.0
    assert opening(pit_depth_in=20.0, side_protection=NOT_KNOWN).value == 36.0


def test_opening_needs_only_what_the_case_needs():
    unknown = dict.fromkeys(("slope_of_sides", "pit_depth_in", "footing_depth_in"), NOT_KNOWN)
    for upright in ("none", "timber shoring", "hydraulic shoring", "shield"):
        assert opening(side_protection=upright, **unknown).value == 36.0
    for name in (*unknown, "side_protection"):
        assert opening(**{name: NOT_KNOWN}).value is NOT_KNOWN


def test_benches_open_as_far_as_type_b_and_type_c_has_none():
    held = {"side_protection": "benched", "slope_of_sides": DOES_NOT_APPLY}
    for soil_class in ("stable rock", "A", "B"):
        assert opening(**held, soil_class=soil_class).value == 84.0
    for soil_class in ("C", NOT_KNOWN):
        assert opening(**held, soil_class=soil_class).value is NOT_KNOWN
    assert opening(**held, soil_class="C", pit_depth_in=36.0).value == 36.0


def test_a_pit_that_is_too_far_away_leaves_the_others_measured():
    at = [((x, 0.0),) for x in (12.0, 1e8, 24.0)]
    near, far, next_ = layout.clearance_between_pits(((0.0, 0.0),), at)
    assert (near.value, far.value, next_.value) == (12.0, NOT_KNOWN, 24.0)
    assert layout.clearance_between_pits(((0.0, 0.0),), []) == ()


def test_the_nearest_opening_counts_not_the_nearest_station():
    wide, near = layout.Opened(200.0, 240.0), layout.Opened(150.0, 36.0)
    found = layout.gap_to_next_pit(layout.Opened(60.0, 36.0), [near, wide])
    assert found.value == 140 - 18 - 120
    assert layout.gap_to_next_pit(near, [wide]).value == 50 - 18 - 120
    assert layout.gap_to_next_pit(near, []).value is DOES_NOT_APPLY


def test_a_footing_that_is_all_projection_has_no_width_left():
    for projection in (20.0, 21.0):
        for result in concrete(projection_in=projection):
            assert result.value is NOT_KNOWN
            assert "nothing of it is left" in result.reason
    assert concrete(projection_in=10.0)[0].value == pytest.approx(
        2 * concrete(projection_in=0.0)[0].value
    )


def test_a_plate_bears_only_as_far_as_the_footing_reaches():
    narrow = bearing(plate_depth_in=30.0, footing_width_in=15.0).value
    assert narrow == bearing(plate_depth_in=15.0, footing_width_in=15.0).value
    assert narrow == pytest.approx(2 * bearing(plate_depth_in=30.0, footing_width_in=30.0).value)


def test_water_on_both_sides_of_the_floor():
    at = [water.water_above_floor(60.0, 60.0, "yes", z, NOT_KNOWN).value for z in (59.99, 60.0)]
    assert at == ["yes", "no"]
    hole = [water.water_above_floor(60.0, 60.0, "no", NOT_KNOWN, t).value for t in (59.99, 60.0)]
    assert hole == [NOT_KNOWN, "no"]


def test_slope_to_a_neighbour_on_both_sides_of_its_footing():
    assert undermining.slope_to_neighbour(60.0, 60.0, 30.0).value is DOES_NOT_APPLY
    assert undermining.slope_to_neighbour(61.0, 60.0, 30.0).value == 30.0


def test_pits_that_fit_on_both_sides_of_a_full_wall():
    # 3 pits of 40 in, 60 in apart: 240 in of wall takes them all, a little less takes two
    assert undermining.share_open_at_once(240.0, 60.0, [40.0] * 5).value == 50.0
    assert undermining.share_open_at_once(239.0, 60.0, [40.0] * 5).value == pytest.approx(
        100 * 80 / 239
    )
    assert undermining.share_open_at_once(240.0, 60.0, [40.0] * 2).value == pytest.approx(
        100 * 80 / 240
    )
    assert undermining.share_open_at_once(240.0, 60.0, []).value is NOT_KNOWN


def test_no_share_is_more_than_the_whole_wall():
    assert undermining.share_open_at_once(120.0, 0.0, [180.0]).value == 100.0


def test_tributary_lengths_of_a_wall_add_up_to_it():
    stations = (36.0, 120.0, 300.0, 420.0)
    lengths = [
        tributary.tributary_length(480.0, s, tuple(o for o in stations if o != s)).value
        for s in stations
    ]
    assert lengths == [78.0, 132.0, 150.0, 120.0]
    assert sum(lengths) == 480.0


def test_an_outline_needs_three_walls():
    assert "at least 3" in layout.closing_error([240.0, 240.0], [180.0, 180.0]).reason


def test_walls_listed_the_wrong_way_round_are_noticed():
    found = layout.closing_error([480.0, 360.0, 480.0, 360.0], [-90.0] * 4)
    assert found.value is NOT_KNOWN
    assert "-360 deg" in found.reason
