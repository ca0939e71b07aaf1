"""Greatest spacing of piers: both ends of each range, with and without bars, never better."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from survey.engineering import plain_concrete, reinforced_concrete
from survey.engineering.plain_concrete import Section
from survey.engineering.reinforced_concrete import Bars
from survey.engineering.spacing import greatest_overhang, greatest_pier_spacing, spacing_use
from survey.vocabulary import NOT_KNOWN, Kind, read_quantity

PSI = 144.0
SECTION = Section(2500 * PSI, 20.0, 10.0)
BARS = Bars("#4", 2, 3.0, 60000 * PSI, 48.0, "deformed")

CASES = {
    "load": (lambda x: greatest_pier_spacing(x, SECTION), 100, 1e6),
    "load, bars": (lambda x: greatest_pier_spacing(x, SECTION, BARS), 100, 1e6),
    "strength": (
        lambda x: greatest_pier_spacing(2000.0, SECTION._replace(strength_psf=x * PSI)), 500, 12000,
    ),
    "thickness": (
        lambda x: greatest_pier_spacing(2000.0, SECTION._replace(thickness_in=x)), 2.001, 72,
    ),
    "width": (lambda x: greatest_overhang(2000.0, SECTION._replace(width_in=x)), 0.001, 120),
    "overhang, load": (lambda x: greatest_overhang(x, SECTION), 100, 1e6),
    "use, span": (lambda x: spacing_use(x, 80.0), 0, 6000),
    "use, greatest": (lambda x: spacing_use(60.0, x), 0.001, 1e5),
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


def test_bars_carry_further():
    plain, barred = (
        greatest_pier_spacing(2000.0, SECTION),
        greatest_pier_spacing(2000.0, SECTION, BARS),
    )
    assert plain.value < barred.value
    # by hand: phi Mn 105,919 lb-in with 3/4 of 0.40 in2, phi Vn 5,062.5 lb at d = 6.75 in
    by_bending = math.sqrt(8 * 105919.41 / (2000 / 12))
    by_shear = (5062.5 / (2000 / 12) + 6.75) / 0.625
    assert barred.value == pytest.approx(min(by_bending, by_shear), abs=1e-3)
    assert "ch. 22" in barred.working.source or "22" in barred.working.source


@pytest.mark.parametrize("changed", [{"continuous": 0}, {"anchored_in": 0.0}, {"surface": "plain"}])
def test_bars_that_do_not_count_leave_plain_concrete(changed):
    result = greatest_pier_spacing(2000.0, SECTION, BARS._replace(**changed))
    assert result.value == greatest_pier_spacing(2000.0, SECTION).value
    assert [line for line in result.working.lines if "not counted" in line.meaning]


def test_bars_that_can_not_be_are_not_known():
    result = greatest_pier_spacing(2000.0, SECTION, BARS._replace(size="#9"))
    assert result.value is NOT_KNOWN
    assert "#9" in result.reason


def test_plain_concrete_counts_where_it_is_more_than_with_bars():
    deep = SECTION._replace(thickness_in=48.0)
    few = BARS._replace(size="#3", continuous=1)
    assert (
        greatest_pier_spacing(2000.0, deep, few).value == greatest_pier_spacing(2000.0, deep).value
    )


def test_at_the_greatest_spacing_the_footing_is_used_to_the_full():
    load = 2000.0 / 12
    span = greatest_pier_spacing(2000.0, SECTION).value
    moment = load * span**2 / 8
    assert plain_concrete.bending_use_for(moment, SECTION).value == pytest.approx(100.0)
    span = greatest_pier_spacing(2000.0, SECTION, BARS).value
    moment, shear = load * span**2 / 8, load * (0.625 * span - 6.75)
    uses = (
        reinforced_concrete.bending_use(moment, SECTION, BARS, "underside").value,
        reinforced_concrete.shear_use(shear, moment, SECTION, BARS, "underside").value,
    )
    assert max(uses) == pytest.approx(100.0)
    reach = greatest_overhang(2000.0, SECTION).value
    moment = load * reach**2 / 2
    assert plain_concrete.bending_use_for(moment, SECTION).value == pytest.approx(100.0)


@pytest.mark.parametrize(
    ("result", "kind"),
    [
        (greatest_pier_spacing(2000.0, SECTION), Kind.LENGTH),
        (greatest_pier_spacing(2000.0, SECTION, BARS), Kind.LENGTH),
        (greatest_overhang(2000.0, SECTION), Kind.LENGTH),
        (spacing_use(60.0, 80.0), Kind.SHARE),
    ],
)
def test_workings_end_in_the_value(result, kind):
    printed = read_quantity(result.working.lines[-1].result, kind, None)
    assert printed == pytest.approx(result.value, abs=0.0006)
    assert all(line.meaning and line.result for line in result.working.lines)


loads = st.tuples(st.floats(100, 1e5), st.floats(100, 1e5)).map(sorted)
shares = st.tuples(st.floats(0, 1), st.floats(0, 1)).map(sorted)
RANGES = {
    "strength_psf": (500 * PSI, 12000 * PSI),
    "width_in": (10, 120),
    "thickness_in": (6.5, 72),
}
bars = st.sampled_from([None, BARS, BARS._replace(size="#8", continuous=4, anchored_in=200.0)])


@given(loads, bars)
def test_a_heavier_wall_never_spans_further(pair, found):
    light, heavy = (greatest_pier_spacing(load, SECTION, found).value for load in pair)
    assert light >= heavy
    light, heavy = (greatest_overhang(load, SECTION).value for load in pair)
    assert light >= heavy


@given(st.sampled_from(sorted(RANGES)), shares, bars, st.floats(100, 1e5))
def test_a_thinner_narrower_or_weaker_footing_never_spans_further(name, pair, found, load):
    low, high = RANGES[name]
    poor, good = (
        SECTION._replace(**{name: low + share * (high - low)}) for share in pair
    )  # fmt: skip
    poor, good = (greatest_pier_spacing(load, section, found) for section in (poor, good))
    assume(poor.known)
    assert poor.value <= good.value * (1 + 1e-12)


@given(st.integers(0, 8), st.integers(0, 8), st.floats(100, 1e5))
def test_fewer_bars_never_span_further(one, other, load):
    few, many = (
        greatest_pier_spacing(load, SECTION, BARS._replace(continuous=n)).value
        for n in sorted((one, other))
    )
    assert few <= many


@given(st.lists(st.floats(allow_nan=False, allow_infinity=False), min_size=4, max_size=4))
def test_any_figures_give_a_value_or_a_reason(figures):
    a, b, c, d = figures
    for result in (
        greatest_pier_spacing(a, Section(b, c, d)), greatest_pier_spacing(a, SECTION, BARS),
        greatest_pier_spacing(2000.0, SECTION, Bars("#4", a, b, c, d, "deformed")),
        greatest_overhang(a, Section(b, c, d)), spacing_use(a, b),
    ):  # fmt: skip
        assert result.reason or math.isfinite(result.value)
