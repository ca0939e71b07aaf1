"""ASCE 7-16 7.3 flat roof snow, 7.3.4 least snow and the tables of its factors, all from memory.

The roof live load of 20 psf was seen in a residential table that restates ASCE 7 Table 4.3-1.
"""

import pytest

from survey.engineering.snow import EXPOSURE, THERMAL, flat_roof_snow, roof_load

# Table 7.3-1: terrain B and C.
TABLE_7_3_1 = {
    "fully exposed": (0.9, 0.9), "partially exposed": (1.0, 1.0), "sheltered": (1.2, 1.1),
}  # fmt: skip
# Table 7.3-2; a heated room under a cold, ventilated roof (over R-25) counts 1.1.
TABLE_7_3_2 = {
    "heated": (1.0, 1.1), "kept just above freezing": (1.1,), "unheated": (1.2,),
}  # fmt: skip


def test_factors_are_the_worst_that_the_words_allow():
    assert {word: max(ce) for word, ce in TABLE_7_3_1.items()} == dict(EXPOSURE)
    assert {word: max(ct) for word, ct in TABLE_7_3_2.items()} == dict(THERMAL)


@pytest.mark.parametrize("exposure", TABLE_7_3_1)
@pytest.mark.parametrize("heating", TABLE_7_3_2)
@pytest.mark.parametrize("pg", [25.0, 40.0, 100.0])
def test_7_3_flat_roof_snow(exposure, heating, pg):
    pf = 0.7 * max(TABLE_7_3_1[exposure]) * max(TABLE_7_3_2[heating]) * pg
    assert flat_roof_snow(pg, exposure, heating).value == pytest.approx(max(pf, 20.0))


@pytest.mark.parametrize(("pg", "least"), [(0.0, 0.0), (15.0, 15.0), (20.0, 20.0), (21.0, 20.0)])
def test_7_3_4_least_snow_of_a_low_slope(pg, least):
    # pm = Is pg up to 20 psf, then 20 Is; here above pf = 0.7 x 0.9 x 1.1 pg
    assert flat_roof_snow(pg, "fully exposed", "heated").value == least


@pytest.mark.parametrize(
    ("pg", "psf"),
    [(0.0, 20.0), (25.9, 20.0), (30.0, 23.1), (50.0, 38.5)],  # 0.7 x 1.0 x 1.1 pg
)
def test_table_4_3_1_roof_live_load_20_psf_or_snow(pg, psf):
    assert roof_load(pg, "partially exposed", "heated").value == pytest.approx(psf)


def test_least_snow_never_outdoes_the_roof_live_load():
    # pm is 20 psf at most, so that it never decides what a footing carries
    for pg in (1.0, 20.0, 400.0):
        pm = min(pg, 20.0)
        assert pm <= roof_load(pg, "fully exposed", "heated").value
