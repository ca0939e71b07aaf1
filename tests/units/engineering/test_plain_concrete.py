"""Plain footings: shared strengths, punching, both ends of each range, never better."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering import plain_concrete
from survey.engineering.plain_concrete import Plate, Section, Span
from survey.vocabulary import NOT_KNOWN, Kind, read_quantity

PSI = 144.0
SECTION = Section(2500 * PSI, 20.0, 10.0)
PLATE = Plate(10.0, 8.0, 20.0, 60.0)
SPAN = Span(3000.0, 36.0, 2500 * PSI, 20.0, 6.0, 10.0)


def bending(moment=9600.0, **changed):
    return plain_concrete.bending_use_for(moment, SECTION._replace(**changed))


def shear(force=1920.0, **changed):
    return plain_concrete.shear_use_for(force, SECTION._replace(**changed))


def punching(load=10000.0, strength=2500 * PSI, thickness=10.0, **changed):
    return plain_concrete.punching_use(load, strength, thickness, PLATE._replace(**changed))


CASES = {
    "moment": (bending, 0, 1e13),
    "shear": (shear, 0, 1e10),
    "bending, strength": (lambda x: bending(strength_psf=x * PSI), 500, 12000),
    "bending, width": (lambda x: bending(width_in=x), 0.001, 120),
    "shear, thickness": (lambda x: shear(thickness_in=x), 2.001, 72),
    "two-way, perimeter": (
        lambda x: plain_concrete.two_way_strength(2500 * PSI, 10.0, x, 1.0), 0.001, 1000,
    ),
    "two-way, plate": (
        lambda x: plain_concrete.two_way_strength(2500 * PSI, 10.0, 40.0, x), 1, 48,
    ),
    "punching, load": (punching, 0, 1e8),
    "punching, strength": (lambda x: punching(strength=x * PSI), 500, 12000),
    "punching, thickness": (lambda x: punching(thickness=x), 2.001, 72),
    "punching, plate width": (lambda x: punching(width_in=x), 2, 48),
    "punching, plate depth": (lambda x: punching(depth_in=x), 1, 48),
    "punching, footing": (lambda x: punching(footing_width_in=x), 4, 120),
    "punching, end": (lambda x: punching(end_distance_in=x), 0, 6000),
    "pit moment, load": (
        lambda x: plain_concrete.pit_moment(SPAN._replace(factored_plf=x)), 0, 1e6,
    ),
    "pit shear, section": (lambda x: plain_concrete.pit_shear(SPAN, x), 0, 72),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_known_up_to_both_ends_and_not_known_past_them(name):
    calculation, low, high = CASES[name]
    for limit in (low, high):
        assert calculation(float(limit)).known, calculation(float(limit)).reason
    for past in (math.nextafter(low, -math.inf) - 0.001, math.nextafter(high, math.inf) * 1.001,
                 math.nan, math.inf, -math.inf):  # fmt: skip
        result = calculation(past)
        assert result.value is NOT_KNOWN, past
        assert "holds" in result.reason


@pytest.mark.parametrize("use", [bending(), shear(), punching()])
def test_workings_end_in_the_use_and_say_where_from(use):
    assert read_quantity(use.working.lines[-1].result, Kind.SHARE, None) == pytest.approx(
        use.value, abs=0.0006
    )
    assert all(line.meaning and line.result for line in use.working.lines)
    assert "from memory" in use.working.source


def test_thin_weak_concrete_is_told():
    told = [line.symbol for line in bending(thickness_in=7.9, strength_psf=2000 * PSI).working.lines
            if "below" in line.source]  # fmt: skip
    assert told == ["f'c", "T"]


def test_a_load_of_nothing_uses_nothing():
    assert bending(0.0).value == shear(0.0).value == punching(0.0).value == 0.0


def test_reason_for_a_pit_in_a_footing_of_2_in():
    for use in (plain_concrete.bending_use, plain_concrete.shear_use):
        assert "14.5.1.7" in use(SPAN._replace(thickness_in=2.0)).reason
        assert "nothing of it is left" in use(SPAN._replace(projection_in=20.0)).reason


two_shares = st.tuples(st.floats(0, 1), st.floats(0, 1)).map(sorted)


def between(low, high):
    return two_shares.map(lambda pair: [low + share * (high - low) for share in pair])


uses = st.sampled_from([bending, shear, punching])


@given(uses, between(0, 1e6))
def test_more_is_never_better(use, loads):
    light, heavy = (use(load).value for load in loads)
    assert light <= heavy


@given(st.sampled_from([bending, shear]), st.sampled_from(sorted(SECTION._fields)), two_shares)
def test_less_section_is_never_better(use, name, shares):
    low, high = {"strength_psf": (500 * PSI, 12000 * PSI), "width_in": (0.01, 120),
                 "thickness_in": (2.01, 72)}[name]  # fmt: skip
    less, more = (use(**{name: low + share * (high - low)}).value for share in shares)
    assert less >= more


@given(
    st.sampled_from(["strength", "thickness", "footing_width_in", "end_distance_in"]),
    two_shares, st.floats(2, 48), st.floats(1, 48), st.floats(0, 60),
)  # fmt: skip
def test_less_round_the_plate_is_never_better(name, shares, width, depth, end):
    low, high = {
        "strength": (500 * PSI, 12000 * PSI),
        "thickness": (2.01, 72),
        "footing_width_in": (max(4.0, depth), 120),  # below, the plate counts as less deep
        "end_distance_in": (0, 300),
    }[name]
    plate = {"width_in": width, "depth_in": depth, "end_distance_in": end, "footing_width_in": 48.0}
    less, more = (punching(**{**plate, name: low + share * (high - low)}).value for share in shares)
    assert less >= more * (1 - 1e-12)


@given(st.lists(st.floats(allow_nan=False, allow_infinity=False), min_size=6, max_size=6))
def test_any_figures_give_a_value_or_a_reason(figures):
    a, b, c, d, e, f = figures
    for result in (
        plain_concrete.bending_use_for(a, Section(b, c, d)),
        plain_concrete.shear_use_for(a, Section(b, c, d)),
        plain_concrete.two_way_strength(a, b, c, d),
        plain_concrete.punching_use(a, b, c, Plate(d, e, f, a)),
        plain_concrete.pit_moment(Span(a, b, c, d, e, f)),
        plain_concrete.pit_shear(Span(a, b, c, d, e, f), a),
    ):
        assert result.reason or math.isfinite(result.value)
