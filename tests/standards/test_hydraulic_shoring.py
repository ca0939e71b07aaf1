"""29 CFR 1926 Subpart P App. D: its worked examples, and a check of what is remembered."""

import pytest

from survey.engineering._hydraulic_tables import (
    CAPACITY_LB,
    DEPTHS_FT,
    VERTICAL,
    VERTICAL_FT,
    WALERS,
    WIDTHS_FT,
)
from survey.engineering.hydraulic_shoring import hydraulic_shoring
from survey.engineering.shoring_tables import BesidePit, tables_usable
from survey.engineering.side_pressure import appendix_c_pressure


def shoring(soil_class, depth_ft, width_ft, *, sheeting="no"):
    return hydraulic_shoring(soil_class, sheeting, 12.0 * depth_ft, 12.0 * width_ft).value


@pytest.mark.parametrize(
    ("soil_class", "depth", "width", "feet"),
    [
        ("A", 6, 3, "8"),  # App. D (f)(1)
        ("B", 13, 5, "6.5"),  # App. D (f)(2)
        ("B", 16, 9, "5.5"),  # App. D (f)(3)
        ("B", 9, 4, "8"),  # Table D-1.2, confirmed in the regulation
    ],
)
def test_appendix_d_f_vertical_shores(soil_class, depth, width, feet):
    value = shoring(soil_class, depth, width)
    assert f"at least 3 vertical shores, at most {feet} ft apart, 2 in cylinders" in value
    assert ("oversleeve of 3.5 x 3.5 x 0.1875 in" in value) == (width > 8)  # App. D (g)(2)
    assert "at most 4 ft apart vertically" in value  # App. D (e)
    assert "from memory" not in value


@pytest.mark.parametrize(
    ("soil_class", "depth", "feet"),
    [("A", 13, "8"), ("A", 18, "7")],  # Table D-1.1, from memory
)
def test_vertical_shores_from_memory(soil_class, depth, feet):
    value = shoring(soil_class, depth, 5)
    assert f"at most {feet} ft apart" in value
    assert "from memory" in value


def test_appendix_d_f_4_walers_in_type_b():
    # 18 ft deep, 12 ft wide, waler of 14.0 in3: 3 in cylinders at 9 ft, sheeting 3x12 close
    last = shoring("B", 18, 12, sheeting="yes").split("; or ")[-1]
    assert last.startswith(
        "walers of 14 in3 section modulus, 3 in cylinders at most 9 ft apart and at most 4 ft "
        "apart vertically, sheeting 3x12 close together;"
    )


def test_appendix_d_f_5_walers_in_type_c():
    # 9 ft deep, 4 ft wide: 7.0 in3 with 2 in cylinders at 6.5 ft; 14.0 in3 with 3 in at 10 ft
    light, middle, heavy = shoring("C", 9, 4).split("; or ")
    assert "7 in3 section modulus, 2 in cylinders at most 6.5 ft apart" in middle
    assert "14 in3 section modulus, 3 in cylinders at most 10 ft apart" in heavy
    for text in (middle, heavy):
        assert "sheeting 3x12 close together" in text
        assert "(from memory)" not in text
    assert "3.5 in3 section modulus, 2 in cylinders at most 6 ft apart" in light
    assert "(from memory)" in light


def test_appendix_d_e_type_c_and_sheeted_ground_go_to_walers():
    for soil_class, sheeting in (("C", "no"), ("C", "yes"), ("B", "yes"), ("A", "yes")):
        assert shoring(soil_class, 9, 4, sheeting=sheeting).startswith("walers")
    assert shoring("A", 9, 4, sheeting="yes") == shoring("B", 9, 4, sheeting="yes")


def cylinders():
    """Each option of each table, with the width and the load on its cylinder."""
    for tables in (VERTICAL, WALERS):
        for soil_class, (name, rows) in tables.items():
            for depth_ft, row in zip(DEPTHS_FT, rows, strict=True):
                psf = appendix_c_pressure(soil_class, 12 * depth_ft).value
                for option in row.options:
                    for width, bore in zip(WIDTHS_FT, option.cylinders_in, strict=True):
                        load = psf * VERTICAL_FT * option.spacing_ft
                        yield name, depth_ft, option, width, load / CAPACITY_LB[bore]


def test_cylinders_carry_about_what_they_can():
    # Under the pressure at the bottom of the row the options that were read carry 0.57 to 1.26
    # of the safe load of App. D (d)(2). No other may stand out by more than a tenth of that.
    read = [use for *_, option, width, use in cylinders() if width in option.read]
    assert min(read) == pytest.approx(0.572, abs=0.001)
    assert max(read) == pytest.approx(1.260, abs=0.001)
    uses = {(name, depth, option.waler_in3): use for name, depth, option, _, use in cylinders()}
    assert max(uses.values()) < 1.1 * max(read)
    assert uses["D-1.4", 15.0, 14.0] == pytest.approx(1.357, abs=0.001)  # the greatest of memory


def test_worse_cases_never_stand_further_apart():
    for tables in (VERTICAL, WALERS):
        for rows in (rows for _, rows in tables.values()):
            for index in range(len(rows[0].options)):
                spacings = [row.options[index].spacing_ft for row in rows]
                assert spacings == sorted(spacings, reverse=True)
    for stronger, weaker in ((VERTICAL["A"], VERTICAL["B"]), (WALERS["B"], WALERS["C"])):
        for one, other in zip(stronger[1], weaker[1], strict=True):
            for less, more in zip(one.options, other.options, strict=True):
                assert less.spacing_ft >= more.spacing_ft
                assert less.cylinders_in <= more.cylinders_in


def test_wider_trenches_never_have_smaller_cylinders():
    for _, rows in (*VERTICAL.values(), *WALERS.values()):
        for option in (option for row in rows for option in row.options):
            assert list(option.cylinders_in) == sorted(option.cylinders_in)


# Where the tables may be used

CLEAR = BesidePit(96.0, 200.0, 24.0, 1500.0, 0.0, 0.0, 0.0, "yes")


@pytest.mark.parametrize(
    ("changed", "answer"),
    [
        ({}, "yes"),
        # App. D (d)(3)(ii)(A): 100 lb on 1 ft of a cylinder
        ({"brace_load_lb": 100.0}, "yes"), ({"brace_load_lb": 101.0}, "no"),
        # App. D (d)(3)(ii)(B): equipment over 20,000 lb
        ({"equipment_load_lb": 20000.0}, "yes"), ({"equipment_load_lb": 20001.0}, "no"),
        # App. D (d)(3)(ii)(C): only the lower part held
        ({"whole_depth_held": "no"}, "no"),
        # App. D (a), (g)(1): up to 20 ft
        ({"pit_depth_in": 240.0, "footing_distance_in": 300.0}, "yes"),
        ({"pit_depth_in": 241.0, "footing_distance_in": 300.0}, "no"),
        # Not App. D, but 1926.652(a)(2) and 1926.651(i)(1)
        ({"footing_distance_in": 0.0}, "no"), ({"stored_pressure_psf": 300.0}, "no"),
    ],
)  # fmt: skip
def test_appendix_d_d_3_ii(changed, answer):
    assert tables_usable("hydraulic shoring", CLEAR._replace(**changed)).value == answer


def test_a_footing_is_ruled_out_by_1926_652_and_not_by_app_d():
    found = tables_usable("hydraulic shoring", CLEAR._replace(footing_distance_in=0.0))
    last = found.working.lines[-1]
    assert "1926.652(a)(2), 1926.651(i)(1)" in last.numbers
    assert "App. D (d)" not in last.numbers
    assert any("no clause" in line.result for line in found.working.lines)
