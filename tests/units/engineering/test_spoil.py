"""Pit volume, spoil and room: ends of validity, workings, and what never looks better."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering import spoil
from survey.vocabulary import NOT_KNOWN, VOCABULARY, Kind, read_quantity

# What is worked out with one argument left open, and the lowest and highest value of it.
CASES = {
    "volume, length": (lambda x: spoil.pit_volume(x, 36.0, 60.0, 60.0), 6, 360),
    "volume, width": (lambda x: spoil.pit_volume(36.0, x, 60.0, 60.0), 6, 360),
    "volume, depth": (lambda x: spoil.pit_volume(36.0, 36.0, x, 60.0), 0, 720),
    "volume, reach": (lambda x: spoil.pit_volume(36.0, 36.0, 60.0, x), 0, 7200),
    "under, length": (lambda x: spoil.volume_under_footing(x, 360.0, 16.0, 60.0, 36.0), 6, 360),
    "under, opening": (lambda x: spoil.volume_under_footing(36.0, x, 16.0, 60.0, 36.0), 36, 14760),
    "under, reach": (lambda x: spoil.volume_under_footing(36.0, 60.0, x, 60.0, 36.0), 0, 120),
    "under, depth": (lambda x: spoil.volume_under_footing(36.0, 60.0, 16.0, x, 36.0), 0, 720),
    "under, footing": (lambda x: spoil.volume_under_footing(36.0, 60.0, 16.0, 60.0, x), 0, 480),
    "spoil, volume": (lambda x: spoil.spoil_volume(x, 40.0), 0, 2e7),
    "spoil, bulking": (lambda x: spoil.spoil_volume(45.0, x), 0, 100),
    "weight, volume": (lambda x: spoil.spoil_weight(x, 130.0), 0, 2e7),
    "weight, unit weight": (lambda x: spoil.spoil_weight(45.0, x), 50, 200),
    "heap width, volume": (lambda x: spoil.heap_base_width(x, 120.0, 1.5), 0, 4e7),
    "heap width, length": (lambda x: spoil.heap_base_width(60.0, x, 1.5), 12, 6000),
    "heap width, repose": (lambda x: spoil.heap_base_width(60.0, 120.0, x), 0.5, 5),
    "heap height, volume": (lambda x: spoil.heap_height(x, 120.0, 1.5), 0, 4e7),
    "heap height, length": (lambda x: spoil.heap_height(60.0, x, 1.5), 12, 6000),
    "heap height, repose": (lambda x: spoil.heap_height(60.0, 120.0, x), 0.5, 5),
    "pressure, height": (lambda x: spoil.heap_pressure(x, 130.0), 0, 1e6),
    "pressure, unit weight": (lambda x: spoil.heap_pressure(24.0, x), 50, 200),
    "ground, width": (lambda x: spoil.ground_needed(x, 60.0, 24.0, 72.0), 6, 360),
    "ground, reach": (lambda x: spoil.ground_needed(36.0, x, 24.0, 72.0), 0, 7200),
    "ground, set-back": (lambda x: spoil.ground_needed(36.0, 60.0, x, 72.0), 0, 2400),
    "ground, heap": (lambda x: spoil.ground_needed(36.0, 60.0, 24.0, x), 0, 1e6),
    "room, needed": (lambda x: spoil.room_use(x, 240.0), 0, 1.02e6),
    "room, clear": (lambda x: spoil.room_use(192.0, x), 0, 6000),
}


@pytest.mark.parametrize("name", CASES)
def test_known_up_to_both_ends_and_not_known_past_them(name):
    calculation, low, high = CASES[name]
    for limit in (float(low), float(high), low, high):
        found = calculation(limit)
        assert isinstance(found.value, float)
        assert math.isfinite(found.value)
    for past in (math.nextafter(low, -math.inf) - 0.001, math.nextafter(high, math.inf) * 1.001,
                 math.nan, math.inf, -math.inf):  # fmt: skip
        found = calculation(past)
        assert found.value is NOT_KNOWN
        assert "holds" in found.reason


PRINTED = {
    Kind.VOLUME: [
        spoil.pit_volume(36.0, 30.0, 61.7, 61.7),
        spoil.pit_volume(36.0, 30.0, 0.0, 0.0),
        spoil.volume_under_footing(36.0, 60.0, 16.0, 60.0, 36.0),
        spoil.volume_under_footing(36.0, 36.0, 16.0, 36.0, 60.0),
        spoil.spoil_volume(45.0, 40.0),
    ],
    Kind.FORCE: [spoil.spoil_weight(45.1, 130.0)],
    Kind.LENGTH: [
        spoil.heap_base_width(62.5, 120.0, 1.5),
        spoil.heap_height(62.5, 120.0, 1.5),
        spoil.ground_needed(36.0, 61.7, 24.0, 73.5),
    ],
    Kind.PRESSURE: [spoil.heap_pressure(24.5, 130.0)],
    Kind.SHARE: [spoil.room_use(192.0, 240.0), spoil.greatest_bulking(["sand", "sand", "clay"])],
}


@pytest.mark.parametrize("kind", PRINTED)
def test_last_line_is_the_value_and_every_line_says_what_it_is(kind):
    for found in PRINTED[kind]:
        lines = found.working.lines
        assert read_quantity(lines[-1].result, kind, None) == pytest.approx(found.value, abs=0.0006)
        assert all(line.meaning and line.result for line in lines)
        assert found.working.source
        assert found.working.validity


def test_a_pit_no_deeper_than_the_footing_takes_nothing_from_under_it():
    assert spoil.volume_under_footing(36.0, 36.0, 16.0, 36.0, 36.0).value == 0.0


def test_no_ground_at_all_is_a_figure_and_no_fit():
    assert spoil.room_use(6.0, 0.0).value == 600.0
    assert spoil.room_use(6.0, 0.5).value == 600.0
    assert spoil.room_use(6.0, 1.0).value == 600.0


def test_every_soil_group_of_the_form_bulks():
    for group in VOCABULARY["soil group"].choices:
        assert 10.0 <= spoil.greatest_bulking([group]).value <= 80.0


def test_unknown_fill_bulks_like_clay_and_cemented_soil_like_rock():
    assert spoil.greatest_bulking(["fill"]).value == spoil.greatest_bulking(["clay"]).value
    rock = spoil.greatest_bulking(["stable rock"]).value
    assert spoil.greatest_bulking(["cemented soil"]).value == rock


def test_bulking_of_a_layer_that_is_not_known():
    found = spoil.greatest_bulking(["clay", NOT_KNOWN])
    assert (found.value, found.bounds) == (NOT_KNOWN, (40.0, 80.0))
    assert found.working.lines[-1].result == "40 to 80 %"
    assert spoil.greatest_bulking([NOT_KNOWN]).bounds == (15.0, 80.0)
    assert spoil.greatest_bulking(["peat"]).bounds == (15.0, 80.0)
    assert spoil.greatest_bulking([NOT_KNOWN, "stable rock"]).value == 80.0  # nothing bulks more
    nothing = spoil.greatest_bulking([])
    assert nothing.value is NOT_KNOWN
    assert nothing.reason == "no soil layer is told"


shares = st.tuples(st.floats(0, 1), st.floats(0, 1)).map(sorted)


@given(st.sampled_from(sorted(set(CASES) - {
    "under, footing", "heap width, length", "heap height, length", "heap height, repose",
    "room, clear",
})), shares)  # fmt: skip
def test_more_never_gives_less(name, pair):
    calculation, low, high = CASES[name]
    less, more = (calculation(low + share * (high - low)).value for share in pair)
    assert less <= more * (1 + 1e-12)


@given(st.sampled_from([
    "under, footing", "heap width, length", "heap height, length", "heap height, repose",
    "room, clear",
]), shares)  # fmt: skip
def test_more_never_gives_more(name, pair):
    calculation, low, high = CASES[name]
    more, less = (calculation(low + share * (high - low)).value for share in pair)
    assert less <= more * (1 + 1e-12)


@given(st.floats(6, 360), st.floats(6, 360), st.floats(0, 720), st.floats(0, 10), st.floats(0, 10))
def test_a_flatter_pit_is_never_smaller(p, w, depth, one, other):
    steep, flat = (
        spoil.pit_volume(p, w, depth, slope * depth).value for slope in sorted((one, other))
    )
    assert p * w * depth / 1728 <= steep * (1 + 1e-12)
    assert steep <= flat * (1 + 1e-12)


groups = st.sampled_from(VOCABULARY["soil group"].choices)


@given(st.lists(groups, min_size=1, max_size=5), groups)
def test_another_layer_never_bulks_less(layers, more):
    least = spoil.greatest_bulking(layers).value
    assert least <= spoil.greatest_bulking([*layers, more]).value
    found = spoil.greatest_bulking([*layers, NOT_KNOWN])
    low, high = found.bounds or (found.value, found.value)
    assert low <= spoil.greatest_bulking([*layers, more]).value <= high


@given(st.sampled_from(sorted(CASES)), st.floats())
def test_no_figure_breaks_it(name, figure):
    found = CASES[name][0](figure)
    assert found.value is NOT_KNOWN or math.isfinite(found.value)


def test_the_working_reads_well():
    lines = spoil.pit_volume(36.0, 36.0, 60.0, 60.0).working.lines
    assert [line.result for line in lines] == ["36 in", "36 in", "60 in", "60 in", "240.833 ft3"]
    assert lines[-1].numbers == ("(36 x 36 + (36 + 2 x 36) x 60 / 2 + 2 x 60^2 / 3) x 60 / 1728")
