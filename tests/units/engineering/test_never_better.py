"""What makes a job harder never makes its figures look better."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering import layout, load, pit, plain_concrete, undermining
from survey.vocabulary import NOT_KNOWN

PSI = 144.0
HOUSE = layout.lay_walls([480.0, 360.0, 480.0, 360.0], [90.0] * 4)
WALL = load.WallAbove(
    "poured concrete", 8.0, 84.0, 2, "light siding or stucco", 168.0, 336.0, 30.0, "concrete",
    10.0, 20.0, "partially exposed", "heated", "no",
)  # fmt: skip
HEAVIER = {
    "wall_thickness_in": (2, 60), "wall_height_in": (0, 360), "storeys": (0, 6),
    "floor_span_in": (0, 720), "roof_span_in": (0, 1200), "ground_snow_load_psf": (0, 400),
    "footing_thickness_in": (0, 72), "footing_width_in": (0, 120),
}  # fmt: skip
two_shares = st.tuples(st.floats(0, 1), st.floats(0, 1)).map(sorted)


def between(low, high):
    return two_shares.map(lambda pair: [low + share * (high - low) for share in pair])


@given(st.sampled_from(sorted(HEAVIER)), two_shares)
def test_a_heavier_wall_is_never_lighter(name, shares):
    low, high = HEAVIER[name]
    light, heavy = (WALL._replace(**{name: low + share * (high - low)}) for share in shares)
    for calculation in (load.wall_line_load, load.factored_line_load, load.dead_line_load):
        assert calculation(light).value <= calculation(heavy).value + 1e-9


def test_veneer_is_heavier_than_siding():
    veneer = WALL._replace(wall_cladding="brick or stone veneer")
    assert load.wall_line_load(veneer).value > load.wall_line_load(WALL).value


uses = st.sampled_from([plain_concrete.bending_use, plain_concrete.shear_use])
SOUND = plain_concrete.Span(3000.0, 48.0, 2500 * PSI, 20.0, 6.0, 10.0)


@given(uses, between(2.01, 72))
def test_a_thinner_footing_is_never_used_less(use, thicknesses):
    thin, thick = (use(SOUND._replace(thickness_in=t)).value for t in thicknesses)
    assert thin >= thick


@given(uses, between(500 * PSI, 12000 * PSI))
def test_weaker_concrete_is_never_used_less(use, strengths):
    weak, strong = (use(SOUND._replace(strength_psf=s)).value for s in strengths)
    assert weak >= strong


@given(uses, between(6, 14760), between(0, 1e5))
def test_a_longer_opening_or_a_heavier_load_never_uses_less(use, spans, loads):
    short, long = (use(SOUND._replace(opening_in=o)).value for o in spans)
    assert short <= long
    light, heavy = (use(SOUND._replace(factored_plf=w)).value for w in loads)
    assert light <= heavy


@given(uses, between(0, 19.9), between(6.1, 120))
def test_a_footing_cut_back_further_or_narrower_is_never_used_less(use, projections, widths):
    little, much = (use(SOUND._replace(projection_in=a)).value for a in projections)
    assert little <= much
    narrow, wide = (use(SOUND._replace(width_in=b)).value for b in widths)
    assert narrow >= wide


@given(between(0, 10), between(0, 720), between(0, 480), st.floats(6, 360))
def test_a_flatter_or_deeper_pit_never_opens_less_of_the_wall(slopes, depths, footings, length):
    def opened(slope, depth, footing):
        return pit.opening_at_footing(
            "sloped", slope, depth, footing, length, soil_class=NOT_KNOWN
        ).value

    least = opened(slopes[0], depths[0], footings[0])
    assert length <= least
    assert least <= opened(slopes[1], depths[0], footings[0])
    assert least <= opened(slopes[0], depths[1], footings[0])
    assert least >= opened(slopes[0], depths[0], footings[1])


opened_pits = st.builds(layout.Opened, st.floats(0, 6000), st.floats(6, 14760))


@given(opened_pits, st.lists(opened_pits, min_size=1, max_size=5), opened_pits, st.floats(0, 500))
def test_another_pit_or_a_wider_opening_never_leaves_a_larger_gap(pit_, others, more, wider):
    gap = layout.gap_to_next_pit(pit_, others).value
    assert layout.gap_to_next_pit(pit_, [*others, more]).value <= gap
    wide = pit_._replace(opening_in=min(pit_.opening_in + wider, 14760))
    assert layout.gap_to_next_pit(wide, others).value <= gap


@given(opened_pits, opened_pits)
def test_the_gap_is_the_same_from_both_pits(one, other):
    there, back = layout.gap_to_next_pit(one, [other]), layout.gap_to_next_pit(other, [one])
    assert there.value == back.value


@given(opened_pits, opened_pits)
def test_the_gap_lies_between_the_facing_ends_of_the_openings(one, other):
    first, last = sorted((one, other))
    ends = (first.station_in + first.opening_in / 2, last.station_in - last.opening_in / 2)
    assert layout.gap_to_next_pit(one, [other]).value == pytest.approx(ends[1] - ends[0], abs=1e-6)


@given(between(1, 48), between(4, 120))
def test_a_smaller_plate_or_footing_never_bears_less(depths, widths):
    def use(depth, width):
        return plain_concrete.bearing_use(20000.0, 2500 * PSI, 10.0, depth, width).value

    assert use(depths[0], widths[0]) >= use(depths[1], widths[0]) >= use(depths[1], widths[1])


@given(between(0, 700), between(0, 1800), between(0, 1000))
def test_a_deeper_pit_or_a_nearer_neighbour_is_never_less_steep(footings, floors, distances):
    def slope(floor, footing, distance):
        value = undermining.slope_to_neighbour(floor, footing, distance).value
        return value if isinstance(value, float) else math.inf

    assert slope(floors[1], footings[0], distances[0]) <= slope(
        floors[0], footings[0], distances[0]
    )
    assert slope(floors[1], footings[0], distances[0]) <= slope(
        floors[1], footings[1], distances[0]
    )
    assert slope(floors[1], footings[0], distances[0]) <= slope(
        floors[1], footings[0], distances[1]
    )


@given(between(0, 600), st.lists(st.floats(6, 120), min_size=1, max_size=12))
def test_closer_pits_never_open_less_of_the_wall(spacings, pits):
    close, far = (undermining.share_open_at_once(480.0, s, pits).value for s in spacings)
    assert close >= far


@given(
    st.lists(st.tuples(st.floats(0, 480), st.floats(6, 60)), min_size=1, max_size=6),
    st.floats(0, 240),
)
def test_no_choice_of_pits_opens_more_than_the_share(pits, spacing):
    """Every set of the pits that keeps the spacing, tried one by one."""
    length = 540.0
    spans = [(station, station + p) for station, p in pits]
    most = 0.0
    for chosen in range(1, 2 ** len(spans)):
        some = sorted(span for i, span in enumerate(spans) if chosen >> i & 1)
        if all(b[0] - a[1] >= spacing for a, b in itertools.pairwise(some)):
            most = max(most, sum(end - start for start, end in some))
    share = undermining.share_open_at_once(length, spacing, [p for _, p in pits]).value
    assert share >= 100 * most / length - 1e-9


points = st.tuples(st.floats(-300, 900), st.floats(-300, 300))


@given(points, points, between(0, 120), between(0, 60), st.integers(0, 3))
def test_a_wider_slope_or_a_thicker_line_is_never_clear_by_more(one, other, reaches, sizes, wall):
    ends = (HOUSE[wall].point(*one), HOUSE[wall].point(*other))

    def clear(reach, diameter):
        pit = layout.pit_corners(HOUSE[0], 240.0, 36.0, 36.0, reach_in=reach)
        return layout.clearance_to_utility(pit, *ends, diameter).value

    assert clear(reaches[1], sizes[0]) <= clear(reaches[0], sizes[0]) + 1e-6
    assert clear(reaches[0], sizes[1]) <= clear(reaches[0], sizes[0])


@given(points, points, between(0, 60), st.integers(0, 3), st.booleans())
def test_a_thicker_wall_is_never_clear_by_more(one, other, thicknesses, wall, inside):
    ends = (HOUSE[wall].point(*one), HOUSE[wall].point(*other))
    thin, thick = (
        layout.clearance_to_utility(
            layout.pit_corners(HOUSE[0], 240.0, 36.0, 36.0, under_in=t, inside=inside), *ends, 4.0
        ).value
        for t in thicknesses
    )
    assert thick <= thin + 1e-6


pits = st.builds(
    lambda wall, station, **size: (HOUSE[wall], station, size),
    st.integers(0, 3), st.floats(0, 480), pit_length_in=st.floats(6, 120),
    pit_width_in=st.floats(6, 120), reach_in=st.floats(0, 120), under_in=st.floats(0, 60),
    inside=st.booleans(),
)  # fmt: skip
growing = st.sampled_from(["pit_length_in", "pit_width_in", "reach_in", "under_in"])


@given(pits, pits, growing, st.floats(0, 240))
def test_a_larger_pit_is_never_clear_of_another_by_more(pit_, other, side, more):
    face, station, size = pit_
    other_face, other_station, other_size = other
    corners = layout.pit_corners(other_face, other_station, **other_size)
    small, large = (
        layout.clearance_between_pits(layout.pit_corners(face, station, **grown), [corners])[0]
        for grown in (size, {**size, side: size[side] + more})
    )
    assert large.value <= small.value + 1e-6


@given(points, points, st.floats(-180, 180), st.floats(-500, 500), st.integers(0, 3))
def test_turning_the_outline_round_changes_no_clearance(one, other, turn, shift, wall):
    """A dummy wall ahead of the house turns and moves all of it."""
    moved = layout.lay_walls([600.0 + shift, 480.0, 360.0, 480.0, 360.0], [turn] + [90.0] * 4)[1:]
    clear = []
    for faces in (HOUSE, moved):
        pit = layout.pit_corners(faces[0], 240.0, 36.0, 36.0, reach_in=12.0)
        ends = (faces[wall].point(*one), faces[wall].point(*other))
        clear.append(layout.clearance_to_utility(pit, *ends, 4.0).value)
        corners = layout.neighbour_corners(faces[wall], 0.0, 120.0, 60.0)
        clear.append(layout.clearance_to_neighbour(pit, corners).value)
        other_pit = layout.pit_corners(faces[wall], 60.0, 36.0, 36.0, reach_in=12.0, inside=True)
        clear += [found.value for found in layout.clearance_between_pits(pit, [other_pit])]
        clear.append(layout.distance_between_piers(faces[0].point(240.0, 0.0), ends[0]).value)
    assert clear[:4] == pytest.approx(clear[4:], abs=1e-4)


@given(st.integers(0, 3))
def test_starting_from_another_wall_closes_as_well(first):
    lengths, turns = (
        [480.0, 240.0, 240.0, 120.0, 240.0, 366.0],
        [90.0, 90.0, -90.0, 90.0, 90.0, 90.0],
    )
    found = layout.closing_error(
        lengths[first:] + lengths[:first], turns[first:] + turns[:first]
    ).value
    assert found == pytest.approx(6.0)
