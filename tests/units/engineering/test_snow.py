"""Snow and roof load: limits, each factor, what is printed."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering import snow
from survey.vocabulary import NOT_KNOWN, VOCABULARY, Kind, read_quantity

EXPOSURES, HEATINGS = list(snow.EXPOSURE), list(snow.THERMAL)


def test_the_tables_have_the_words_of_the_form_from_little_snow_to_much():
    for name, table in (("roof exposure", snow.EXPOSURE), ("roof heating", snow.THERMAL)):
        assert tuple(table) == VOCABULARY[name].choices
        assert list(table.values()) == sorted(table.values())


@pytest.mark.parametrize("calculation", [snow.flat_roof_snow, snow.roof_load])
def test_known_up_to_both_ends_and_not_known_past_them(calculation):
    for pg in (0.0, 400.0):
        assert calculation(pg, "sheltered", "unheated").known
    for pg in (-0.001, 400.001, math.nan, math.inf, -math.inf):
        found = calculation(pg, "sheltered", "unheated")
        assert found.value is NOT_KNOWN
        assert "holds" in found.reason


@pytest.mark.parametrize("calculation", [snow.flat_roof_snow, snow.roof_load])
def test_a_word_without_a_factor_is_not_known(calculation):
    assert "exposure of 'windy'" in calculation(30.0, "windy", "heated").reason
    assert "heating of 'warm'" in calculation(30.0, "sheltered", "warm").reason


@pytest.mark.parametrize("calculation", [snow.flat_roof_snow, snow.roof_load])
@pytest.mark.parametrize("pg", [0.0, 12.5, 33.3, 90.0])
def test_last_line_is_the_value_and_what_is_from_memory_says_so(calculation, pg):
    found = calculation(pg, "sheltered", "kept just above freezing")
    printed = found.working.lines[-1].result
    assert read_quantity(printed, Kind.PRESSURE, None) == pytest.approx(found.value, abs=0.0006)
    sources = {line.symbol: line.source for line in found.working.lines}
    for symbol in ("Ce", "Ct", "Is", "pf", "pm"):
        assert "from memory" in sources[symbol]
    assert "terrain B and C" in sources["Ce"]


@given(
    st.tuples(st.floats(0, 400), st.floats(0, 400)).map(sorted),
    st.tuples(st.sampled_from(EXPOSURES), st.sampled_from(EXPOSURES)),
    st.tuples(st.sampled_from(HEATINGS), st.sampled_from(HEATINGS)),
)
def test_more_snow_less_wind_or_less_warmth_never_lightens_the_roof(snows, exposures, heatings):
    windy, calm = sorted(exposures, key=EXPOSURES.index)
    warm, cold = sorted(heatings, key=HEATINGS.index)
    light = snow.roof_load(snows[0], windy, warm).value
    assert 20.0 <= light <= snow.roof_load(snows[1], calm, cold).value
    assert snow.flat_roof_snow(snows[0], windy, warm).value <= light
