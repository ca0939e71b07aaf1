"""Spans of soil: every group has them, and what is not known has the widest."""

import itertools

import pytest

from survey.engineering import soil_properties as properties
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY

GROUPS = VOCABULARY["soil group"].choices
SYMBOLS = tuple(properties.USCS)


@pytest.mark.parametrize("group", GROUPS)
def test_every_soil_group_has_a_span_of_something(group):
    for found in (properties.unit_weight(group), properties.permeability(group)):
        assert 0 < found.low < found.high
    assert properties.unit_weight(group).low >= 50
    assert properties.unit_weight(group).high <= 190


@pytest.mark.parametrize("state", [NOT_KNOWN, DOES_NOT_APPLY, "a word of nobody"])
def test_ground_that_is_not_known_has_the_span_of_all(state):
    for of in (properties.unit_weight, properties.permeability):
        every = [of(group) for group in GROUPS]
        assert of(state) == (min(r.low for r in every), max(r.high for r in every))


def test_fill_may_be_any_soil():
    for of in (properties.unit_weight, properties.permeability):
        fill = of("fill")
        for group in set(GROUPS) - {"stable rock", "dry unstable rock", "cemented soil"}:
            assert fill.low <= of(group).low
            assert fill.high >= of(group).high


def test_permeability_in_feet():
    metres, feet = properties.permeability("sand"), properties.permeability_ft_s("sand")
    assert feet.high * 0.3048 == pytest.approx(metres.high)
    assert feet.low * 0.3048 == pytest.approx(metres.low)


def test_coarser_ground_lets_more_water_through():
    most = [properties.permeability(g).high for g in ("gravel", "sand", "silt", "clay")]
    assert most == sorted(most, reverse=True)


@pytest.mark.parametrize("symbol", SYMBOLS)
def test_every_uscs_group(symbol):
    row = properties.uscs(symbol.lower())
    assert row is properties.USCS[symbol]
    assert row.moist_pcf.low <= row.moist_pcf.high
    assert row.moist_pcf.high <= row.saturated_pcf.high
    weight, passed = properties.uscs_unit_weight(symbol), properties.uscs_permeability(symbol)
    assert weight.range == (
        min(row.moist_pcf.low, row.saturated_pcf.low), row.saturated_pcf.high,
    )  # fmt: skip
    assert passed.range == row.permeability
    assert "from memory" in weight.source
    angle = properties.uscs_friction_angle(symbol)
    assert (angle is None) == (symbol == "PT")


def test_no_row_for_what_is_no_symbol():
    assert properties.uscs("XX") is None
    assert properties.uscs_unit_weight("XX") is None
    assert properties.uscs_permeability("XX") is None
    assert properties.uscs_friction_angle("XX") is None


@pytest.mark.parametrize("steps", [properties.CONSISTENCIES, properties.DENSITIES])
def test_steps_of_blow_counts_leave_no_gap(steps):
    assert steps[0].blows.low == 0
    assert steps[-1].blows.high == 100
    for weaker, stronger in itertools.pairwise(steps):
        assert weaker.blows.high == stronger.blows.low
        assert weaker[2].high == stronger[2].low  # strength or friction angle


@pytest.mark.parametrize("of", [properties.consistency_by_blows, properties.density_by_blows])
@pytest.mark.parametrize("count", [-0.001, 100.001, float("nan"), float("inf")])
def test_no_step_outside_of_what_is_counted(of, count):
    assert of(count) is None
    assert of(0) is not None
    assert of(100) is not None


def test_on_a_limit_the_weaker_step_counts():
    assert properties.consistency_by_blows(8).name == "medium"
    assert properties.consistency_by_blows(8.001).name == "stiff"
    assert properties.density_by_blows(10).name == "loose"


@pytest.mark.parametrize(
    ("looked", "symbol", "printed"),
    [
        (properties.unit_weight_range_pcf("gravel"), "gamma", "90 to 155 pcf"),
        (properties.permeability_range("clay"), "k", "1 x 10^-12 to 1 x 10^-5 m/s"),
        (properties.permeability_range("gravel"), "k", "1 x 10^-7 to 0.1 m/s"),
    ],
)
def test_a_span_as_a_line_of_a_working(looked, symbol, printed):
    line = looked.line(symbol, "what it is")
    assert line.result == printed
    assert line.source == looked.source


def test_rock_says_where_its_weight_is_from():
    assert "rock" in properties.unit_weight_range_pcf("stable rock").source
    assert "rock" not in properties.unit_weight_range_pcf("clay").source
