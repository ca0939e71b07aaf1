"""Seats of brackets: both ends of each range, each branch, never better."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering import seats
from survey.engineering.seats import Bed, Cut, SeatPlate, SlabPlate
from survey.vocabulary import NOT_KNOWN, Kind, read_quantity

PSI = 144.0
PLATE = SeatPlate(10.0, 8.0, 6.0, 20.0)
CUT = Cut(16.0, 10.0, 6.0)
BED = Bed(10.0, 8.0, 2.0, 1.0)
SLAB = SlabPlate(10.0, 10.0, 60.0)


def thickness(load=20000.0, strength=2500 * PSI, **changed):
    return seats.thickness_needed(load, strength, PLATE._replace(**changed))


def slab(load=5000.0, strength=2500 * PSI, thick=6.0, **changed):
    return seats.slab_punching_use(load, strength, thick, SLAB._replace(**changed))


CASES = {
    "area, load": (lambda x: seats.bearing_area_needed(x, 2500 * PSI), 0, 1e8),
    "area, strength": (lambda x: seats.bearing_area_needed(1000.0, x * PSI), 500, 12000),
    "overhang, projection": (lambda x: seats.plate_overhang(x, "brick", 8.0), 0, 60),
    "overhang, wall": (lambda x: seats.plate_overhang(6.0, "brick", x), 2, 60),
    "thickness, load": (thickness, 0, 1e6),
    "thickness, strength": (lambda x: thickness(strength=x * PSI), 500, 12000),
    "thickness, width": (lambda x: thickness(width_in=x), 2, 48),
    "thickness, depth": (lambda x: thickness(depth_in=x), 1, 48),
    "thickness, reach": (lambda x: thickness(overhang_in=x), 0, 80),
    "thickness, footing": (lambda x: thickness(footing_width_in=x), 4, 120),
    "cut, plate": (seats.cut_width, 2, 48),
    "cut, least": (lambda x: seats.cut_width(10.0, x), 2, 96),
    "holes, wall": (lambda x: seats.holes_to_drill(Cut(x, 2.0, 6.0)), 2, 96),
    "holes, face": (lambda x: seats.holes_to_drill(Cut(96.0, x, 6.0)), 1, 96),
    "holes, spacing": (lambda x: seats.holes_to_drill(CUT, x), 0.75, 12),
    "holes, off": (lambda x: seats.holes_to_drill(CUT._replace(projection_in=7.0), 2.0, x), 0, 6),
    "lost, projection": (
        lambda x: seats.section_lost(CUT._replace(projection_in=x), 120.0), 0, 60,
    ),
    "lost, width": (lambda x: seats.section_lost(CUT._replace(projection_in=2.0), x), 4, 120),
    "cut volume": (lambda x: seats.cut_volume(CUT, x), 1, 72),
    "bed, load": (lambda x: seats.bed_strength_needed(x, BED), 0, 1e8),
    "bed, width": (lambda x: seats.bed_strength_needed(1.0, BED._replace(width_in=x)), 2, 48),
    "bed, depth": (lambda x: seats.bed_volume(BED._replace(depth_in=x)), 1, 48),
    "bed, gap": (lambda x: seats.bed_thickness(BED._replace(highest_gap_in=x, lowest_gap_in=0)),
                 0, 24),
    "bed, narrowest": (lambda x: seats.bed_thickness(BED._replace(lowest_gap_in=x)), 0, 2),
    "bed use, strength": (lambda x: seats.bed_strength_use(1000.0, BED, x * PSI), 500, 12000),
    "bed use, load": (lambda x: seats.bed_strength_use(x, BED, 2500 * PSI), 0, 1e8),
    "cure, needed": (lambda x: seats.cure_days_left(x, 1.0), 0.1, 56),
    "cure, done": (lambda x: seats.cure_days_left(3.0, x), 0, 10000),
    "slab, load": (slab, 0, 1e8),
    "slab, strength": (lambda x: slab(strength=x * PSI), 500, 12000),
    "slab, thickness": (lambda x: slab(thick=x), 2.001, 24),
    "slab, width": (lambda x: slab(width_in=x), 2, 48),
    "slab, depth": (lambda x: slab(depth_in=x), 2, 48),
    "move, station": (lambda x: seats.relocation_distance(x, 10.0, 20.0, 16.0), 0, 6000),
    "move, from": (lambda x: seats.relocation_distance(1.0, x, 6000.0, 16.0), 0, 6000),
    "move, to": (lambda x: seats.relocation_distance(1.0, 10.0, x, 16.0), 10, 6000),
    "move, seat": (lambda x: seats.relocation_distance(1.0, 10.0, 20.0, x), 2, 96),
    "room, gap": (lambda x: seats.relocation_room(x, 48.0, 60.0, 80.0), -15000, 6000),
    "room, least": (lambda x: seats.relocation_room(60.0, x, 60.0, 80.0), 0, 6000),
    "room, span": (lambda x: seats.relocation_room(60.0, 48.0, x, 80.0), 0, 6000),
    "room, greatest": (lambda x: seats.relocation_room(60.0, 48.0, 60.0, x), 0, 1e5),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_known_up_to_both_ends_and_not_known_past_them(name):
    calculation, low, high = CASES[name]
    for limit in (low, high):
        assert calculation(float(limit)).known, calculation(float(limit)).reason
    for past in (low - 0.001 - 1e-9 * abs(low), math.nextafter(high, math.inf) * 1.001,
                 math.nan, math.inf, -math.inf):  # fmt: skip
        result = calculation(past)
        assert result.value is NOT_KNOWN, past
        assert "holds" in result.reason


@pytest.mark.parametrize(
    ("result", "kind"),
    [
        (seats.bearing_area_needed(20000.0, 2500 * PSI), Kind.AREA),
        (seats.plate_overhang(6.0, "brick", 8.0), Kind.LENGTH),
        (thickness(), Kind.LENGTH),
        (seats.cut_width(10.0), Kind.LENGTH),
        (seats.holes_to_drill(CUT), Kind.COUNT),
        (seats.holes_to_drill(CUT._replace(projection_in=0.0)), Kind.COUNT),
        (seats.section_lost(CUT, 20.0), Kind.SHARE),
        (seats.cut_volume(CUT, 10.0), Kind.VOLUME),
        (seats.bed_strength_needed(20000.0, BED), Kind.PRESSURE),
        (seats.bed_strength_use(20000.0, BED, 2500 * PSI), Kind.SHARE),
        (seats.bed_thickness(BED), Kind.LENGTH),
        (seats.bed_volume(BED), Kind.VOLUME),
        (seats.cure_days_left(3.0, 1.0), Kind.DAYS),
        (slab(), Kind.SHARE),
        (seats.relocation_distance(120.0, 110.0, 126.0, 16.0), Kind.LENGTH),
        (seats.relocation_room(60.0, 48.0, 72.0, 80.0), Kind.LENGTH),
    ],
)
def test_workings_end_in_the_value(result, kind):
    bare = "" if kind is Kind.COUNT else None
    printed = read_quantity(result.working.lines[-1].result, kind, bare)
    assert printed == pytest.approx(result.value, abs=0.0006)
    assert all(line.meaning and line.result for line in result.working.lines)
    assert result.working.source


def test_reach_of_the_plate_by_wall():
    assert seats.plate_overhang(6.0, "wood", 8.0).value == 6.0
    for masonry in ("concrete block", "brick", "dry-laid stone", "rubble"):
        assert seats.plate_overhang(6.0, masonry, 8.0).value == 8.0
    assert "'straw'" in seats.plate_overhang(6.0, "straw", 8.0).reason


def test_each_depth_may_govern():
    def governs(result):
        depths = {
            line.symbol: float(line.result.split()[0])
            for line in result.working.lines if line.symbol in ("hm", "hv", "hp")
        }  # fmt: skip
        return max(depths, key=depths.__getitem__)

    assert governs(thickness()) == "hm"
    assert governs(thickness(overhang_in=0.0)) == "hp"
    assert governs(thickness(load=1e6, overhang_in=6.0, footing_width_in=120.0)) == "hm"
    assert governs(thickness(overhang_in=0.0, footing_width_in=4.0)) == "hp"


def test_a_flush_cut_needs_less_than_a_plate_that_reaches_out():
    assert thickness(overhang_in=0.0).value < thickness(overhang_in=4.0).value
    assert thickness(load=0.0).value == 2.0


def test_holes_need_room():
    assert seats.holes_to_drill(CUT._replace(projection_in=0.0)).value == 0.0
    result = seats.holes_to_drill(CUT._replace(projection_in=1.0))
    assert result.value is NOT_KNOWN
    assert "no room" in result.reason


def test_a_cut_widens_to_the_wall():
    for calculation in (seats.holes_to_drill, lambda cut: seats.cut_volume(cut, 10.0)):
        assert "must widen" in calculation(CUT._replace(at_face_in=16.5)).reason


def test_a_footing_is_wider_than_it_stands_out():
    assert "measure both again" in seats.section_lost(CUT._replace(projection_in=20.0), 20.0).reason


def test_a_wide_plate_makes_a_wide_cut():
    assert seats.cut_width(20.0).value == 20.0
    assert seats.cut_width(10.0, 18.0).value == 18.0


def test_bed_is_cured_or_not():
    assert seats.cure_days_left(3.0, 3.0).value == 0.0
    assert seats.cure_days_left(3.0, 40.0).value == 0.0


def test_slab_needs_its_edges_away():
    assert slab(edge_distance_in=6.0).known
    assert "nearer" in slab(edge_distance_in=5.999).reason
    assert "bending" in slab().working.validity


def test_the_nearer_sound_place_counts():
    assert seats.relocation_distance(120.0, 110.0, 126.0, 16.0).value == 14.0  # to the right
    assert seats.relocation_distance(112.0, 110.0, 126.0, 16.0).value == 10.0  # to the left
    assert seats.relocation_distance(102.0, 110.0, 126.0, 16.0).value == 0.0  # just clear
    assert seats.relocation_distance(300.0, 110.0, 126.0, 16.0).value == 0.0


def test_room_ends_at_the_next_pit_or_with_the_span():
    assert seats.relocation_room(60.0, 48.0, 50.0, 80.0).value == 12.0
    assert seats.relocation_room(60.0, 48.0, 75.0, 80.0).value == 5.0
    assert seats.relocation_room(40.0, 48.0, 50.0, 80.0).value == 0.0


two_shares = st.tuples(st.floats(0, 1), st.floats(0, 1)).map(sorted)


@given(two_shares, st.sampled_from(["load", "overhang_in"]), st.floats(1, 48), st.floats(2, 48))
def test_a_heavier_load_or_a_longer_reach_never_needs_less(shares, name, depth, width):
    high = {"load": 1e6, "overhang_in": 80.0}[name]
    less, more = (
        thickness(**{"depth_in": depth, "width_in": width, name: share * high}).value
        for share in shares
    )
    assert less <= more * (1 + 1e-9)


@given(two_shares, st.floats(0, 1e5))
def test_weaker_concrete_never_needs_less(shares, load):
    weak, strong = ((500 + 11500 * share) * PSI for share in shares)
    assert thickness(load, weak).value >= thickness(load, strong).value
    assert slab(load, weak).value >= slab(load, strong).value
    areas = [seats.bearing_area_needed(load, strength).value for strength in (weak, strong)]
    assert areas[0] >= areas[1]


@given(two_shares, st.floats(0, 1e5))
def test_a_thinner_slab_or_a_smaller_plate_is_never_better(shares, load):
    thin, thick = (2.01 + 20 * share for share in shares)
    assert slab(load, thick=thin).value >= slab(load, thick=thick).value
    small, large = (2 + 30 * share for share in shares)
    square = [slab(load, width_in=w, depth_in=w).value for w in (small, large)]
    assert square[0] >= square[1]
    beds = [seats.bed_strength_needed(load, BED._replace(width_in=w)).value for w in (small, large)]
    assert beds[0] >= beds[1]


@given(two_shares, st.floats(0, 6000), st.floats(0, 3000), st.floats(2, 96))
def test_more_unsound_footing_never_moves_a_pier_less(shares, station, start, seat):
    ends = [start + 3000 * share for share in shares]
    little, much = (seats.relocation_distance(station, start, end, seat).value for end in ends)
    assert little <= much


@given(st.lists(st.floats(allow_nan=False, allow_infinity=False), min_size=6, max_size=6))
def test_any_figures_give_a_value_or_a_reason(figures):
    a, b, c, d, e, f = figures
    bed, cut = Bed(a, b, c, d), Cut(a, b, c)
    for result in (
        seats.bearing_area_needed(a, b), seats.plate_overhang(a, "brick", b),
        seats.thickness_needed(a, b, SeatPlate(c, d, e, f)), seats.cut_width(a, b),
        seats.holes_to_drill(cut, d, e), seats.section_lost(cut, d), seats.cut_volume(cut, d),
        seats.bed_strength_needed(e, bed), seats.bed_strength_use(e, bed, f),
        seats.bed_thickness(bed), seats.bed_volume(bed), seats.cure_days_left(a, b),
        seats.slab_punching_use(a, b, c, SlabPlate(d, e, f)),
        seats.relocation_distance(a, b, c, d), seats.relocation_room(a, b, c, d),
    ):  # fmt: skip
        assert result.reason or math.isfinite(result.value)


def test_the_seat_bears_what_the_pier_is_driven_with():
    assert seats.seat_load(9000.0, 16000.0).value == 19200.0  # 1.2 x 16,000
    assert seats.seat_load(20000.0, 16000.0).value == 20000.0
    assert "1.2 x 16,000" in seats.seat_load(9000.0, 16000.0).working.lines[-1].numbers
    for loads in ((0.0, 0.0), (1e6, 1e6)):
        assert seats.seat_load(*loads).known
    for loads in ((-0.001, 1.0), (1.0, -0.001), (1e6 + 1, 1.0), (1.0, 1e6 + 1)):
        assert seats.seat_load(*loads).value is NOT_KNOWN
