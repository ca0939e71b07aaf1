"""29 CFR 1926 Subpart P Appendix B: slopes, benches and vertical lower parts.

The numbers in the regulation text were read; its fractions (3/4, 1/2, 3 1/2 ft) are blank in the
copy that was read and come from secondary copies, or from memory where that is said.
"""

import math

import pytest

from survey.engineering import slopes
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN

FT = 12.0
NOTHING = DOES_NOT_APPLY  # no shoring, no shield


def simple(soil_class, feet, short="no", distress="no"):
    return slopes.appendix_b_slope(soil_class, feet * FT, short, distress).value


@pytest.mark.parametrize(
    ("soil_class", "slope", "degrees"),
    [
        ("stable rock", 0.0, 90),  # vertical (90 deg), secondary copy
        ("A", 0.75, 53),  # 3/4:1 (53 deg), secondary copy
        ("B", 1.0, 45),  # 1:1 (45 deg), regulation text
        ("C", 1.5, 34),  # 1 1/2:1 (34 deg), regulation text and 652(b)(1)(i)
    ],
)
def test_table_b_1(soil_class, slope, degrees):
    # The table prints each slope as an angle from the horizontal too.
    found = simple(soil_class, 20)
    assert found == slope
    assert round(math.degrees(math.atan2(1.0, found))) == degrees


def test_table_b_1_note_2_short_term_type_a():
    assert simple("A", 12, short="yes") == 0.5  # 1/2:1 (63 deg), secondary copy
    assert round(math.degrees(math.atan2(1.0, 0.5))) == 63
    assert simple("A", 12.001, short="yes") == 0.75  # deeper than 12 ft: 3/4:1 (53 deg)
    assert simple("A", 12, short="no") == 0.75
    assert simple("B", 12, short="yes") == 1.0  # type A alone
    assert simple("C", 12, short="yes") == 1.5


@pytest.mark.parametrize(
    ("soil_class", "short", "slope"),
    [("A", "no", 1.25), ("A", "yes", 1.0), ("B", "no", 1.5), ("C", "no", 2.0)],
)
def test_c_3_ii_half_less_steep_with_signs_of_distress(soil_class, short, slope):
    # "at least 1/2 horizontal to one vertical less steep"; the 1/2 is from memory
    assert simple(soil_class, 10, short, "yes") == slope


def test_app_f_an_engineer_designs_what_is_deeper_than_20_ft():
    found = slopes.appendix_b_slope("B", 20 * FT + 0.01, "no", "no")
    assert found.value is NOT_KNOWN
    assert "engineer" in found.reason
    assert found.bounds is None


def bench(soil_class, cohesive, feet=20):
    return slopes.bench_slope(soil_class, feet * FT, cohesive, "no").value


def rises(soil_class, cohesive):
    return [slopes.highest_rise(soil_class, cohesive, first=first).value for first in (True, False)]


def test_fig_b_1_1_note_2_benches_of_type_a():
    assert bench("A", "no") == 0.75  # secondary copy
    assert rises("A", "yes") == [4 * FT, 5 * FT]  # secondary copy of the figure


def test_fig_b_1_2_note_2_benches_of_type_b():
    assert bench("B", "yes") == 1.0  # regulation text
    assert rises("B", "yes") == [4 * FT, 4 * FT]  # secondary copy of the figure
    assert bench("B", "no") is NOT_KNOWN  # "cohesive soil only", secondary copy
    assert rises("B", "no") == [NOT_KNOWN, NOT_KNOWN]


def test_fig_b_1_3_gives_no_bench_of_type_c():
    assert bench("C", "yes") is NOT_KNOWN
    assert "no bench for soil class C" in slopes.bench_slope("C", 60.0, "yes", "no").reason


def lower(soil_class, feet, vertical_ft, support=NOTHING, distress="no"):
    return slopes.steepest_with_vertical_lower_part(
        soil_class, feet * FT, vertical_ft * FT, support, distress
    ).value


def test_fig_b_1_1_note_3_vertical_lower_part_of_type_a_that_nothing_holds():
    assert lower("A", 8, 3.5) == 0.75  # 3 1/2 ft from a secondary copy, 3/4:1 from memory
    assert lower("A", 8.001, 3.5) == 1.0  # over 8 to 12 ft: 1:1, regulation text
    assert lower("A", 12, 3.5) == 1.0
    assert lower("A", 12.001, 3.5) is NOT_KNOWN
    assert lower("A", 8, 3.501) is NOT_KNOWN


@pytest.mark.parametrize(("soil_class", "slope"), [("A", 0.75), ("B", 1.0), ("C", 1.5)])
def test_fig_b_1_notes_3_vertical_lower_part_that_is_held(soil_class, slope):
    # The support stands at least 18 in above the top of the vertical side.
    assert lower(soil_class, 20, 10, 18.0) == slope
    assert lower(soil_class, 20, 10, 17.99) is NOT_KNOWN


@pytest.mark.parametrize("soil_class", ["B", "C"])
def test_fig_b_1_2_and_3_vertical_lower_part_of_b_and_c_is_always_held(soil_class):
    assert lower(soil_class, 6, 1) is NOT_KNOWN


@pytest.mark.parametrize(("soil_class", "cohesive"), [("A", "no"), ("B", "yes")])
@pytest.mark.parametrize("feet", [3, 4, 8, 9, 14, 19, 20])
def test_the_fewest_steps_come_up_to_the_ground_and_one_less_does_not(soil_class, cohesive, feet):
    first, later = rises(soil_class, cohesive)
    count = slopes.fewest_rises(soil_class, feet * FT, cohesive).value
    tops = [first + later * step for step in range(int(count))]
    assert tops[-1] >= feet * FT
    assert count == 1 or tops[-2] < feet * FT
