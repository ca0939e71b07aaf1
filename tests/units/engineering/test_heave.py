"""Boiling, uplift and heave: ranges, branches, and that a worse pit never looks better."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.heave import (
    SoftPit,
    base_heave_use,
    critical_gradient,
    exit_gradient_use,
    stability_number,
    uplift_use,
)
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Kind, read_quantity

PIT = SoftPit(72.0, 36.0, 30.0, 400.0, 120.0, 1500.0)


def heave(**changed):
    return base_heave_use(PIT._replace(**changed), "yes")


def boil(head=24.0, embedment=30.0, weight=115.0, cohesive="no"):
    return exit_gradient_use(head, embedment, weight, cohesive)


def uplift(floor=60.0, layer=120.0, water=24.0, weight=115.0):
    return uplift_use(floor, layer, water, weight)


CASES = {
    "critical gradient, weight": (critical_gradient, 65, 190),
    "boiling, head": (lambda x: boil(head=x), -2400, 1800),
    "boiling, sheets": (lambda x: boil(embedment=x), 0, 600),
    "boiling, weight": (lambda x: boil(weight=x), 65, 190),
    "uplift, floor": (lambda x: uplift(floor=x, layer=2400.0), 0, 1800),
    "uplift, layer": (lambda x: uplift(layer=x), 61, 2400),
    "uplift, water": (lambda x: uplift(water=x), -600, 2400),
    "uplift, weight": (lambda x: uplift(weight=x), 65, 190),
    "heave, depth": (lambda x: heave(pit_depth_in=x), 0, 1800),
    "heave, length": (lambda x: heave(pit_length_in=x), 6, 360),
    "heave, width": (lambda x: heave(pit_width_in=x), 6, 360),
    "heave, strength": (lambda x: heave(su_psf=x), 1, 20000),
    "heave, weight": (lambda x: heave(unit_weight_pcf=x), 65, 190),
    "heave, surcharge": (lambda x: heave(surcharge_psf=x), 0, 1e6),
    "stability number, strength": (
        lambda x: stability_number(PIT._replace(su_psf=x), "yes"), 1, 20000,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_known_up_to_both_ends_and_not_known_past_them(name):
    calculation, low, high = CASES[name]
    for limit in (low, high):
        result = calculation(float(limit))
        assert result.known, result.reason
        assert math.isfinite(result.value)
    for past in (low - 0.001, high * 1.001, math.nan, math.inf, -math.inf):
        result = calculation(past)
        assert result.value is NOT_KNOWN, past
        assert "holds" in result.reason


def test_each_ground_has_its_own_method():
    assert boil(cohesive="yes").value is DOES_NOT_APPLY
    assert base_heave_use(PIT, "no").value is DOES_NOT_APPLY
    assert stability_number(PIT, "no").value is DOES_NOT_APPLY


@pytest.mark.parametrize("head", [-24.0, 0.0])
def test_no_water_over_the_floor_does_not_boil(head):
    assert boil(head=head).value == 0.0
    assert boil(head=head).working.lines[-1].result == "0 %"


@pytest.mark.parametrize(("weight", "use"), [(93.6, 200.0), (124.8, 100.0), (156.0, 100.0)])
def test_without_sheets_at_least_all_is_used(weight, use):
    assert boil(head=1.0, embedment=0.0, weight=weight).value == pytest.approx(use)


def test_sheets_too_short_to_help_count_as_none():
    assert boil(24.0, 6.0).value == boil(24.0, 0.0).value == pytest.approx(100 * 62.4 / 52.6)
    assert boil(24.0, 60.0).value == pytest.approx(40 * 62.4 / 52.6)
    assert "h 24, d 6" in boil(24.0, 6.0).working.lines[-1].numbers
    assert boil(24.0, 60.0).working.lines[-1].formula == "100 h / (d ic)"


def test_a_pit_that_reaches_the_water_bearing_layer_is_not_told():
    for layer in (60.9, 60.0, 48.0):
        result = uplift(layer=layer)
        assert result.value is NOT_KNOWN
        assert "water-bearing layer" in result.reason


def test_water_that_rises_no_higher_than_its_layer_lifts_nothing():
    assert uplift(water=120.0).value == 0.0
    assert uplift(water=200.0).value == 0.0


def test_the_shorter_side_is_the_width():
    other = PIT._replace(pit_length_in=30.0, pit_width_in=36.0)
    assert base_heave_use(other, "yes").value == heave().value


def test_the_worse_of_the_two_methods_counts():
    terzaghi = heave(pit_depth_in=0.0, pit_width_in=36.0)  # square: 5.7 is less than 6
    assert terzaghi.value == pytest.approx(100 * 1500 / (5.7 * 400))
    bjerrum = heave(surcharge_psf=0.0)
    shape, deep = 1 + 0.2 * 30 / 36, 1.4
    assert bjerrum.value == pytest.approx(100 * 720 / (5 * shape * deep * 400))


two = st.tuples(st.floats(0, 1), st.floats(0, 1)).map(sorted)


def between(low, high):
    return two.map(lambda pair: [low + share * (high - low) for share in pair])


pits = st.builds(
    SoftPit, st.floats(0, 720), st.floats(6, 360), st.floats(6, 360), st.floats(1, 20000),
    st.floats(65, 190), st.floats(0, 1e5),
)  # fmt: skip
RANGES = {
    "pit_depth_in": (0, 1800), "su_psf": (20000, 1), "unit_weight_pcf": (65, 190),
    "surcharge_psf": (0, 1e6),
}  # fmt: skip


@given(pits, st.sampled_from(sorted(RANGES)), two)
def test_a_deeper_pit_or_weaker_clay_never_looks_better(pit, name, shares):
    low, high = RANGES[name]
    for calculation in (base_heave_use, stability_number):
        better, worse = (
            calculation(pit._replace(**{name: low + share * (high - low)}), "yes").value
            for share in shares
        )
        assert better <= worse * (1 + 1e-9)


@given(pits, st.floats(0, 300))
def test_a_longer_pit_never_looks_better(pit, more):
    long = max(pit.pit_length_in, pit.pit_width_in)
    short = min(pit.pit_length_in, pit.pit_width_in)
    one, other = (
        base_heave_use(pit._replace(pit_length_in=side, pit_width_in=short), "yes").value
        for side in (long, min(long + more, 360.0))
    )
    assert one <= other * (1 + 1e-9)


@given(between(-100, 1800), between(0, 600), between(65, 190))
def test_higher_water_shorter_sheets_or_lighter_ground_never_boil_less(heads, sheets, weights):
    worst = boil(heads[1], sheets[0], weights[0]).value
    assert boil(heads[0], sheets[0], weights[0]).value <= worst * (1 + 1e-9)
    assert boil(heads[1], sheets[1], weights[0]).value <= worst * (1 + 1e-9)
    assert boil(heads[1], sheets[0], weights[1]).value <= worst * (1 + 1e-9)


@given(between(0, 1000), between(1001, 2400), between(-600, 2400), between(65, 190))
def test_a_deeper_pit_or_higher_water_never_lifts_less(floors, layers, waters, weights):
    worst = uplift(floors[1], layers[0], waters[0], weights[0]).value
    assert uplift(floors[0], layers[0], waters[0], weights[0]).value <= worst * (1 + 1e-9)
    assert uplift(floors[1], layers[0], waters[1], weights[0]).value <= worst * (1 + 1e-9)
    assert uplift(floors[1], layers[0], waters[0], weights[1]).value <= worst * (1 + 1e-9)


any_float = st.floats(allow_nan=False, allow_infinity=False)
any_pit = st.builds(SoftPit, *[any_float] * 6)


@given(any_pit, any_float, any_float, any_float, any_float)
def test_any_figures_give_a_figure_or_none(pit, a, b, c, d):
    for result in (base_heave_use(pit, "yes"), stability_number(pit, "yes"), critical_gradient(a),
                   exit_gradient_use(a, b, c, "no"), uplift_use(a, b, c, d)):  # fmt: skip
        assert result.reason or math.isfinite(result.value)


@given(pits, st.floats(-100, 1800), st.floats(0, 600), st.floats(65, 190))
def test_the_last_line_is_the_value(pit, head, sheets, weight):
    for result in (base_heave_use(pit, "yes"), boil(head, sheets, weight),
                   uplift(weight=weight)):  # fmt: skip
        printed = read_quantity(result.working.lines[-1].result, Kind.SHARE, None)
        assert printed == pytest.approx(result.value, abs=0.0006)
