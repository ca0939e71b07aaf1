"""Pit volume, bulking and spoil banks against published examples and against shapely."""

import itertools
import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering import spoil

YARD = 27.0  # ft3


def section(p, w, slope, height):
    """The pit in plan at a height above its floor, its wall side along y = 0."""
    out = slope * height
    return shapely.box(-p / 2 - out, 0.0, p / 2 + out, w + out).area


lengths = st.floats(6, 360)


@given(lengths, lengths, st.floats(0.1, 720), st.floats(0, 10))
def test_volume_by_the_prismoidal_formula_from_shapely_sections(p, w, depth, slope):
    # V = h (A1 + 4 Am + A2) / 6, exact for plane sides (Wolf and Ghilani, Elementary Surveying,
    # volumes; from memory).
    bottom, middle, top = (section(p, w, slope, depth * share) for share in (0.0, 0.5, 1.0))
    expected = depth * (bottom + 4 * middle + top) / 6 / 1728
    assert spoil.pit_volume(p, w, depth, slope * depth).value == pytest.approx(expected)


@pytest.mark.parametrize("slope", [0.0, 0.5, 1.0, 1.5])
def test_volume_by_slicing(slope):
    p, w, depth, slices = 36.0, 30.0, 84.0, 2000
    step = depth / slices
    expected = sum(section(p, w, slope, (i + 0.5) * step) for i in range(slices)) * step / 1728
    found = spoil.pit_volume(p, w, depth, slope * depth).value
    assert found == pytest.approx(expected, rel=1e-6)


def test_volume_by_hand():
    # 3 x 3 ft floor, 5 ft deep, upright: 45 ft3. At 1H:1V 13 x 8 ft at the ground and 8 x 5.5 ft
    # half way: 5 (9 + 4 x 44 + 104) / 6 = 240.83
    assert spoil.pit_volume(36.0, 36.0, 60.0, 0.0).value == 45.0
    assert spoil.pit_volume(36.0, 36.0, 60.0, 60.0).value == pytest.approx(5 * 289 / 6)


@given(lengths, st.floats(0, 60), st.floats(0, 100), st.floats(0, 3))
def test_volume_under_the_footing_as_shapely_draws_it(p, under, below, slope):
    opening = p + 2 * slope * below
    face = shapely.Polygon([(0, 0), (p, 0), (p + slope * below, below), (-slope * below, below)])
    found = spoil.volume_under_footing(p, opening, under, 40.0 + below, 40.0).value
    assert found == pytest.approx(face.area * under / 1728, abs=1e-9)


# Nunnally, Construction Methods and Management, ch. 2, typical soil weight and volume change
# characteristics, from memory: loose and bank weight, lb/yd3, and swell, percent.
NUNNALLY = {
    ("clay",): (2310, 3000, 30),
    ("silt loam", "sandy loam", "silt"): (2480, 3100, 25),  # common earth
    ("dry unstable rock",): (3060, 4600, 50),  # rock, blasted
    ("sand", "gravel"): (2860, 3200, 12),
}


@pytest.mark.parametrize(("groups", "published"), NUNNALLY.items())
def test_bulking_covers_the_swell_of_nunnally(groups, published):
    *_, swell = published
    for group in groups:
        assert spoil.greatest_bulking([group]).value >= swell


@pytest.mark.parametrize("published", NUNNALLY.values())
def test_bulked_volume_and_weight_give_nunnallys_loose_weight(published):
    loose, bank, swell = published
    weight = spoil.spoil_weight(YARD, bank / YARD).value
    assert weight == pytest.approx(bank)
    volume = spoil.spoil_volume(YARD, float(swell)).value
    # The table rounds weights to 10 lb/yd3 and swell to 1 %.
    assert weight / volume * YARD == pytest.approx(loose, rel=0.005)


def test_spoil_bank_of_nunnally():
    # The same, ch. 2, example of a triangular spoil bank, from memory: 100 yd3 in place, pile
    # 30 ft long, angle of repose 37 deg, swell 25 %: 24.4 ft wide and 9.2 ft high.
    loose = spoil.spoil_volume(100 * YARD, 25.0).value
    assert loose == 3375.0
    repose = 1 / math.tan(math.radians(37))
    assert spoil.heap_base_width(loose, 360.0, repose).value / 12 == pytest.approx(24.4, abs=0.05)
    assert spoil.heap_height(loose, 360.0, repose).value / 12 == pytest.approx(9.2, abs=0.05)


@given(st.floats(0.1, 10000), st.floats(12, 6000), st.floats(0.5, 5))
def test_heap_holds_its_spoil_as_shapely_draws_it(volume, length, repose):
    width = spoil.heap_base_width(volume, length, repose).value
    height = spoil.heap_height(volume, length, repose).value
    triangle = shapely.Polygon([(0, 0), (width, 0), (width / 2, height)])
    assert triangle.area * length / 1728 == pytest.approx(volume)
    assert width / 2 / height == pytest.approx(repose)


@given(st.floats(0.1, 1000), st.floats(12, 480), st.floats(0.5, 5))
def test_heap_is_no_narrower_than_one_whose_ends_slope_away(volume, length, repose):
    """The same heap with half a cone at each end holds at least as much."""
    height = spoil.heap_height(volume, length, repose).value
    ends = math.pi * (repose * height) ** 2 * height / 3
    whole = repose * height**2 * length + ends
    assert whole / 1728 >= volume * (1 - 1e-9)


def test_pressure_of_the_spoil_by_hand():
    # 2 ft of soil of 100 to 125 pcf: 200 to 250 psf, the surcharge of App. C (d)(2)(ii)(A)
    assert spoil.heap_pressure(24.0, 100.0).value == 200.0
    assert spoil.heap_pressure(24.0, 125.0).value == 250.0


def test_ground_needed_as_shapely_adds_it_up():
    parts = (36.0, 54.0, 24.0, 73.5)
    ends = [sum(parts[:i]) for i in range(5)]
    strips = [shapely.box(a, 0, b, 1) for a, b in itertools.pairwise(ends)]
    assert spoil.ground_needed(*parts).value == pytest.approx(shapely.union_all(strips).area)
