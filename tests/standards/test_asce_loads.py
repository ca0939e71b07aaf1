"""ASCE 7, Minimum Design Loads: Tables 4.3-1, C3.1-1, C3.1-2, 2.3.1 and 7.3.

40 and 10 psf live were seen in a residential table that restates them; roof live load 20 psf
likewise. The dead loads, combinations and 0.7 pg are from memory. Floor, roof and storey
assumptions are common practice and are put to nothing here, so that one term stands alone.
"""

import pytest

from survey.engineering.load import WallAbove, factored_line_load, roof_load, wall_line_load

BARE = WallAbove(
    wall_material="poured concrete", wall_thickness_in=8.0, wall_height_in=0.0, storeys=0,
    wall_cladding="light siding or stucco", floor_span_in=0.0, roof_span_in=0.0,
    ground_snow_load_psf=0.0, footing_kind="none found",
)  # fmt: skip


def load_of(**more):
    return wall_line_load(BARE._replace(**more)).value


def test_table_c3_1_2_reinforced_concrete_150_pcf():
    # 8 in wall, 9 ft high: 8/12 x 9 x 150 = 900 plf
    assert load_of(wall_height_in=108.0) == pytest.approx(900.0)
    # 12 x 12 in footing
    found = load_of(footing_kind="concrete", footing_width_in=12.0, footing_thickness_in=12.0)
    assert found == pytest.approx(150.0)


def test_table_c3_1_1_brick_wythe_39_psf():
    assert load_of(
        wall_material="brick", wall_thickness_in=4.0, wall_height_in=12.0
    ) == pytest.approx(39.0)


@pytest.mark.parametrize(
    ("cladding", "psf"), [("light siding or stucco", 11.0), ("brick or stone veneer", 48.0)]
)
def test_table_c3_1_1_stud_walls(cladding, psf):
    # 9 ft floor to floor is common practice
    assert load_of(storeys=1, wall_cladding=cladding) == pytest.approx(9 * psf)


def test_table_4_3_1_floors_40_psf_and_attic_10_psf():
    # span 24 ft, half of it carried: dead 10 (common practice) + live 40, attic 10 psf on 12 ft
    walls = 2 * 9 * 11
    found = load_of(storeys=2, floor_span_in=288.0)
    assert found == pytest.approx(walls + 2 * 12 * (10 + 40) + 12 * 10)


@pytest.mark.parametrize(("snow", "roof"), [(0.0, 20.0), (28.5, 20.0), (30.0, 21.0), (50.0, 35.0)])
def test_table_4_3_1_roof_live_load_or_7_3_flat_roof_snow(snow, roof):
    assert roof_load(snow).value == roof


def test_2_3_1_strength_combinations():
    # Dead 900 plf alone: 1.4 D
    dead_only = BARE._replace(wall_height_in=108.0)
    assert factored_line_load(dead_only).value == pytest.approx(1.4 * 900)
    # Floor live load leads: D = 9 x 11 + 15 x 10 = 249, L = 15 x 40 + 15 x 10 = 750
    live = BARE._replace(storeys=1, floor_span_in=360.0)
    assert factored_line_load(live).value == pytest.approx(1.2 * 249 + 1.6 * 750)
    # Snow leads: roof of 14 + 1 ft, D = 15 x 15 = 225, L = 14 x 10 = 140, S = 15 x 70 = 1,050
    snow = BARE._replace(roof_span_in=336.0, ground_snow_load_psf=100.0)
    assert factored_line_load(snow).value == pytest.approx(1.2 * 225 + 1.6 * 1050 + 140)
