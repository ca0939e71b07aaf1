"""Footings with bottom bars: when bars count, both ends of each range, never better."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from survey.engineering import plain_concrete, reinforced_concrete
from survey.engineering.plain_concrete import Span
from survey.engineering.reinforced_concrete import (
    TOP,
    UNDERSIDE,
    Bars,
    Section,
    bending_use,
    cracked_strengths,
    development_length,
    flexural_strength,
    pit_bending_use,
    pit_shear_use,
    shear_strength,
    shear_use,
    wall_counts,
)
from survey.vocabulary import NOT_KNOWN, Kind, read_quantity

PSI = 144.0
SECTION = Section(2500 * PSI, 20.0, 10.0)
BARS = Bars("#4", 2, 3.0, 60000 * PSI, 48.0, "deformed")
SPAN = Span(3000.0, 48.0, 2500 * PSI, 20.0, 6.0, 10.0)


def bending(moment=50000.0, at=UNDERSIDE, section=SECTION, **changed):
    return bending_use(moment, section, BARS._replace(**changed), at)


def shear(force=3000.0, moment=50000.0, at=UNDERSIDE, *, section=SECTION, **changed):
    return shear_use(force, moment, section, BARS._replace(**changed), at)


def thick(**changed):
    return bending(section=SECTION._replace(thickness_in=30.0), **changed)


CASES = {
    "moment": (bending, 0, 1e13),
    "shear": (shear, 0, 1e10),
    "shear, moment": (lambda x: shear(moment=x), 0, 1e13),
    "strength": (lambda x: bending(section=SECTION._replace(strength_psf=x * PSI)), 500, 12000),
    "width": (lambda x: bending(section=SECTION._replace(width_in=x), continuous=0), 0.001, 120),
    "thickness": (lambda x: bending(section=SECTION._replace(thickness_in=x), cover_in=0.5,
                                    size="#3"), 2.001, 72),
    "bars": (lambda x: bending(section=SECTION._replace(width_in=120.0), continuous=x), 0, 40),
    "cover": (lambda x: thick(cover_in=x), 0.5, 12),
    "yield": (lambda x: bending(yield_psf=x * PSI), 30000, 80000),
    "anchored": (lambda x: bending(anchored_in=x), 0, 6000),
    "ld, yield": (lambda x: development_length("#4", x * PSI, 2500 * PSI), 30000, 80000),
    "ld, strength": (lambda x: development_length("#4", 60000 * PSI, x * PSI), 2500, 12000),
    "phi Mn, strength": (
        lambda x: flexural_strength(SECTION._replace(strength_psf=x * PSI), BARS), 2500, 12000,
    ),
    "phi Vn, strength": (
        lambda x: shear_strength(SECTION._replace(strength_psf=x * PSI), BARS), 2500, 12000,
    ),
    "pit, load": (lambda x: pit_bending_use(SPAN._replace(factored_plf=x), BARS), 0, 1e6),
    "pit, opening": (lambda x: pit_shear_use(SPAN._replace(opening_in=x), BARS), 6, 14760),
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


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"size": "#9"}, "#9"),
        ({"surface": "rusty"}, "rusty"),
        ({"continuous": 2.5}, "not a whole number"),
        ({"continuous": 15}, "do not fit"),
        ({"cover_in": 4.8}, "lower half"),
    ],
)
def test_bars_that_can_not_be_are_not_known(changed, words):
    bars = BARS._replace(**changed)
    for result in (
        bending(**changed), shear(**changed), flexural_strength(SECTION, bars),
        shear_strength(SECTION, bars), pit_bending_use(SPAN, bars), pit_shear_use(SPAN, bars),
    ):  # fmt: skip
        assert result.value is NOT_KNOWN
        assert words in result.reason
    assert words in cracked_strengths(SECTION, bars).reason


def test_tension_is_at_one_of_two_faces():
    assert "'left'" in bending(at="left").reason
    assert "'left'" in shear(at="left").reason


PLAIN_BENDING = plain_concrete.bending_use_for(50000.0, SECTION).value
PLAIN_SHEAR = plain_concrete.shear_use_for(3000.0, SECTION).value


@pytest.mark.parametrize(
    ("changed", "why"),
    [
        ({"at": TOP}, "the top is in tension"),
        ({"continuous": 0}, "no bar runs through uncut"),
        ({"surface": "plain"}, "plain bars"),
        ({"anchored_in": 35.999}, "the development length"),
    ],
)
def test_bars_that_do_not_count_leave_plain_concrete(changed, why):
    for result, plain in ((bending(**changed), PLAIN_BENDING), (shear(**changed), PLAIN_SHEAR)):
        assert result.value == plain
        assert [line for line in result.working.lines if why in line.result]


def test_anchored_just_long_enough():
    # 3 x 60,000 x 0.5 / (50 x 50) = 36 in
    assert development_length("#4", 60000 * PSI, 2500 * PSI).value == pytest.approx(36.0)
    assert bending(anchored_in=36.0).value < PLAIN_BENDING


def test_weak_concrete_counts_as_plain():
    weak = SECTION._replace(strength_psf=2499 * PSI)
    assert bending(section=weak).value == plain_concrete.bending_use_for(50000.0, weak).value
    assert flexural_strength(weak, BARS).value is NOT_KNOWN
    assert shear_strength(weak, BARS).value is NOT_KNOWN


def test_strength_needs_a_bar():
    for strength in (flexural_strength, shear_strength):
        assert strength(SECTION, BARS._replace(continuous=0)).reason == "no bar runs through uncut"


def test_few_small_bars_never_count_less_than_plain_concrete():
    deep = SECTION._replace(thickness_in=48.0)
    assert bending(section=deep, continuous=1, size="#3").value == pytest.approx(
        plain_concrete.bending_use_for(50000.0, deep).value
    )


def test_an_uncracked_footing_shears_as_plain_concrete_if_that_is_more():
    cracking = plain_concrete.flexural_strength(*SECTION).value
    assert shear(moment=cracking).value == PLAIN_SHEAR
    cracked = shear(moment=cracking * 1.0001)
    assert cracked.value == pytest.approx(100 * 3000 / shear_strength(SECTION, BARS).value)
    assert cracked.value > PLAIN_SHEAR
    assert [line for line in cracked.working.lines if "cracks the footing" in line.result]


def test_steel_above_60_ksi_counts_as_60():
    assert bending(yield_psf=80000 * PSI).value == bending().value
    assert bending(yield_psf=40000 * PSI).value > bending().value


def test_least_steel_is_told_but_not_relied_on():
    told = {line.meaning for line in bending().working.lines if line.symbol == "As,min"}
    assert told == {"least steel of a beam, not met; not relied on"}  # 0.45 in2, 0.40 found
    told = {line.meaning for line in bending(continuous=3).working.lines if line.symbol == "As,min"}
    assert told == {"least steel of a beam, met; not relied on"}


def test_pit_route_is_the_shared_one():
    section = Section(SPAN.strength_psf, 14.0, 10.0)
    assert pit_bending_use(SPAN, BARS).value == bending_use(72000.0, section, BARS, UNDERSIDE).value
    # shear at d = 6.75 in, nearer to the pit's edge than h = 8 in
    shear_there = 250.0 * (24 - 6.75)
    assert pit_shear_use(SPAN, BARS).value == pytest.approx(
        shear_use(shear_there, 72000.0, section, BARS, UNDERSIDE).value
    )
    shallow = BARS._replace(cover_in=0.5)  # d = 9.25 in, so h = 8 in counts
    assert "at 8 in" in next(
        line.meaning for line in pit_shear_use(SPAN, shallow).working.lines if line.symbol == "Vu"
    )
    cut = BARS._replace(continuous=0)
    assert pit_bending_use(SPAN, cut).value == plain_concrete.bending_use(SPAN).value


def test_pit_route_tells_what_is_out_of_range():
    for use in (pit_bending_use, pit_shear_use):
        assert "nothing of it is left" in use(SPAN._replace(projection_in=20.0), BARS).reason
        assert "footing thickness" in use(SPAN._replace(thickness_in=2.0), BARS).reason


@pytest.mark.parametrize(
    "result", [bending(), bending(at=TOP), shear(), shear(moment=1.0), pit_shear_use(SPAN, BARS)]
)
def test_workings_end_in_the_use_and_say_where_from(result):
    assert read_quantity(result.working.lines[-1].result, Kind.SHARE, None) == pytest.approx(
        result.value, abs=0.0006
    )
    assert all(line.meaning and line.result for line in result.working.lines)
    assert "from memory" in result.working.source


def test_bars_that_do_not_yield():
    section = Section(2500 * PSI, 16.0, 8.0)
    bars = Bars("#8", 6, 3.0, 60000 * PSI, 90.0, "deformed")
    lines = {line.symbol: line for line in flexural_strength(section, bars).working.lines}
    stress = float(lines["fs"].result.split()[0].replace(",", ""))
    assert stress < 60000
    assert lines["phi"].result == "0.65"
    # equilibrium: As fs = 0.85 f'c b a
    a = float(lines["a"].result.split()[0])
    assert 6 * 0.79 * stress == pytest.approx(0.85 * 2500 * 16 * a, rel=1e-3)


def test_what_counts_as_a_beam_under_each_wall():
    for wall in ("poured concrete", "wood"):
        result = wall_counts(wall)
        assert result.value == result.working.lines[-1].result == "footing alone"
    for wall in ("concrete block", "brick", "dry-laid stone", "rubble"):
        result = wall_counts(wall)
        assert result.value is NOT_KNOWN
        assert wall in result.reason
        assert "engineer" in result.reason
    assert "'straw'" in wall_counts("straw").reason


sections = st.builds(
    Section, st.floats(500 * PSI, 12000 * PSI), st.floats(10, 120), st.floats(6, 72)
)
found = st.builds(
    Bars, st.sampled_from(sorted(reinforced_concrete.BAR_SIZES)), st.integers(0, 8),
    st.floats(0.5, 6), st.floats(30000 * PSI, 80000 * PSI), st.floats(0, 200),
    st.just("deformed"),
)  # fmt: skip
moments, forces = st.floats(0, 1e6), st.floats(0, 1e5)


def worse(section, bars, name, amount):
    """The same footing with something taken from it."""
    if name in ("thickness_in", "width_in", "strength_psf"):
        return section._replace(**{name: getattr(section, name) * (1 - 0.5 * amount)}), bars
    if name == "continuous":
        return section, bars._replace(continuous=math.floor(bars.continuous * (1 - amount)))
    if name == "cover_in":
        return section, bars._replace(cover_in=bars.cover_in + 3 * amount)
    low = {"yield_psf": 30000 * PSI, "anchored_in": 0.0}[name]
    return section, bars._replace(**{name: low + (getattr(bars, name) - low) * (1 - amount)})


WAYS = ("thickness_in", "width_in", "strength_psf", "continuous", "cover_in", "yield_psf",
        "anchored_in")  # fmt: skip


@given(sections, found, st.sampled_from(WAYS), st.floats(0, 1), moments)
def test_less_footing_or_fewer_bars_never_bend_better(section, bars, name, amount, moment):
    if name == "yield_psf":
        # Stronger bars need more anchorage, and many of them break the concrete first (phi).
        bars = bars._replace(anchored_in=6000.0, continuous=min(bars.continuous, 2))
        assume(section.thickness_in * section.width_in > 200)
    poor = bending_use(moment, *worse(section, bars, name, amount), UNDERSIDE)
    good = bending_use(moment, section, bars, UNDERSIDE)
    assume(good.known and poor.known)
    assert poor.value >= good.value * (1 - 1e-9)


def passes(section, bars, moment, force):
    """Whether bending and shear together stay within the strength."""
    uses = (bending_use(moment, section, bars, UNDERSIDE),
            shear_use(force, moment, section, bars, UNDERSIDE))  # fmt: skip
    return all(use.value <= 100 for use in uses) if all(use.known for use in uses) else None


@given(sections, found, st.sampled_from(WAYS), st.floats(0, 1), st.tuples(moments, forces))
def test_less_footing_or_fewer_bars_never_pass_where_more_do_not(section, bars, name, amount, load):
    if name == "yield_psf":
        bars = bars._replace(anchored_in=6000.0, continuous=min(bars.continuous, 2))
        assume(section.thickness_in * section.width_in > 200)
    good = passes(section, bars, *load)
    poor = passes(*worse(section, bars, name, amount), *load)
    assume(good is not None and poor is not None)
    assert good or not poor


@given(sections, found, st.tuples(moments, moments).map(sorted),
       st.tuples(forces, forces).map(sorted), st.sampled_from([UNDERSIDE, TOP]))  # fmt: skip
def test_more_load_is_never_better(section, bars, two_moments, two_forces, at):
    light, heavy = (bending_use(moment, section, bars, at) for moment in two_moments)
    assume(light.known)
    assert light.value <= heavy.value
    for moment in two_moments:
        light, heavy = (shear_use(force, moment, section, bars, at) for force in two_forces)
        assert light.value <= heavy.value
    light, heavy = (shear_use(two_forces[0], moment, section, bars, at) for moment in two_moments)
    assert light.value <= heavy.value


@given(found, st.floats(6, 300), st.floats(6, 300), st.floats(0, 20000), st.floats(0, 20000))
def test_a_longer_pit_or_a_heavier_wall_is_never_better(bars, one, other, light, heavy):
    short, long = sorted((one, other))
    less, more = sorted((light, heavy))
    for use in (pit_bending_use, pit_shear_use):
        good = use(SPAN._replace(opening_in=short, factored_plf=less), bars)
        poor = use(SPAN._replace(opening_in=long, factored_plf=more), bars)
        assume(good.known)
        assert good.value <= poor.value * (1 + 1e-12)


@given(
    st.lists(st.floats(allow_nan=False, allow_infinity=False), min_size=6, max_size=6),
    st.sampled_from(["#3", "#8", "9"]), st.sampled_from(["deformed", "plain"]),
)  # fmt: skip
def test_any_figures_give_a_value_or_a_reason(figures, size, surface):
    a, b, c, d, e, f = figures
    section, bars = Section(a, b, c), Bars(size, d, e, f, a, surface)
    for result in (
        bending_use(a, section, bars, UNDERSIDE), shear_use(a, b, section, bars, TOP),
        flexural_strength(section, bars), shear_strength(section, bars),
        development_length(size, a, b), pit_bending_use(Span(a, b, c, d, e, f), bars),
        pit_shear_use(Span(a, b, c, d, e, f), bars),
    ):  # fmt: skip
        assert result.reason or math.isfinite(result.value)
