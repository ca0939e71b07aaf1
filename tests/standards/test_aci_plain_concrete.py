"""ACI 318-19, Building Code Requirements for Structural Concrete, chapter 14 (plain concrete).

The clause numbers and phi = 0.60 are from memory; 14.5.1.7 (2 in cast against soil) and the two
strength formulas were seen in a text to an earlier edition. The check values of 19,200 lb-in and
3,840 lb are computed from the clauses, not printed in the code.
"""

import pytest

from survey.engineering.plain_concrete import (
    Plate,
    Section,
    Span,
    bearing_strength,
    bending_use,
    bending_use_for,
    flexural_strength,
    pit_moment,
    pit_shear,
    punching_use,
    shear_strength,
    shear_use,
    shear_use_for,
    two_way_strength,
)

PSI = 144.0  # psf


def test_14_5_2_1a_and_14_5_1_7_bending_strength():
    # f'c 2,500 psi, b 12 in, 10 in specified, so h = 8 in and Sm = 128 in3
    assert flexural_strength(2500 * PSI, 12.0, 10.0).value == pytest.approx(19200.0, abs=0.5)


def test_table_14_5_5_1_shear_strength():
    assert shear_strength(2500 * PSI, 12.0, 10.0).value == pytest.approx(3840.0, abs=0.5)


def test_table_14_5_6_1_bearing_strength():
    # 0.60 x 0.85 x 2,500 psi x 80 in2
    assert bearing_strength(2500 * PSI, 10.0, 8.0).value == pytest.approx(102000.0, abs=0.5)


def test_14_5_1_7_takes_off_2_in():
    strengths = [flexural_strength(2500 * PSI, 12.0, t).value for t in (10.0, 6.0)]
    assert strengths[0] / strengths[1] == pytest.approx((8 / 4) ** 2)


def test_14_3_2_1_and_table_19_2_1_1_are_told_in_the_working():
    sound = flexural_strength(2500 * PSI, 12.0, 8.0).working
    poor = flexural_strength(2499 * PSI, 12.0, 7.99).working
    assert not [line for line in sound.lines if "below" in line.source]
    assert [line.symbol for line in poor.lines if "below" in line.source] == ["f'c", "T"]


def test_moment_of_a_strip_civil_engineering_formulas_equation_5_121():
    # M = p (L - a)^2 / 8 with p 1,200 lb a foot (100 lb an inch), L - a = 40 in: 20,000 lb-in
    use = bending_use(Span(1200.0, 40.0, 2500 * PSI, 12.0, 0.0, 10.0)).value
    assert use * 19200 / 100 == pytest.approx(20000.0)


def test_14_4_3_2_shear_at_h_from_the_support():
    # 100 lb an inch, 40 in span, h = 8 in: 100 x (20 - 8) = 1,200 lb
    use = shear_use(Span(1200.0, 40.0, 2500 * PSI, 12.0, 0.0, 10.0)).value
    assert use * 3840 / 100 == pytest.approx(1200.0)
    assert shear_use(Span(1200.0, 16.0, 2500 * PSI, 12.0, 0.0, 10.0)).value == 0.0


SECTION = Section(2500 * PSI, 12.0, 10.0)


def test_moment_and_shear_from_elsewhere_meet_the_same_strengths():
    # half of 19,200 lb-in and of 3,840 lb, the check values computed from the clauses
    assert bending_use_for(9600.0, SECTION).value == pytest.approx(50.0)
    assert shear_use_for(1920.0, SECTION).value == pytest.approx(50.0)


def test_table_14_5_5_1_b_and_c_two_way_shear():
    # f'c 2,500 psi, h = 8 in, bo = 48 in, from memory: (c) is 2 (4/3) sqrt(f'c) bo h = 51,200 lb,
    # (b) governs from beta = 2 on: 1 + 2/4 = 1.5 for a plate four times as long as wide
    strength = two_way_strength(2500 * PSI, 10.0, 48.0, 2.0).value
    assert strength == pytest.approx(0.60 * 51200.0)
    long = two_way_strength(2500 * PSI, 10.0, 48.0, 4.0).value
    assert long == pytest.approx(strength * 1.5 / 2)
    assert two_way_strength(2500 * PSI, 10.0, 48.0, 1.0).value == pytest.approx(strength)


@pytest.mark.parametrize(
    ("plate", "perimeter"),
    [
        # h = 8 in, plate 10 x 6: at the middle of a wide footing three sides at h/2
        (Plate(10.0, 6.0, 40.0, 500.0), 2 * (6 + 4) + 10 + 8),
        # a narrow footing breaks across, on both sides of the plate
        (Plate(10.0, 6.0, 12.0, 500.0), 2 * 12),
        # the plate flush with the end of the footing: two sides
        (Plate(10.0, 6.0, 40.0, 5.0), (6 + 4) + (10 + 4)),
        # a station nearer to the end than half the plate counts as half the plate
        (Plate(10.0, 6.0, 40.0, 0.0), (6 + 4) + (10 + 4)),
        # a plate deeper than the footing counts as deep as the footing
        (Plate(10.0, 30.0, 10.0, 500.0), 2 * 10),
    ],
)
def test_22_6_4_shortest_section_round_the_plate(plate, perimeter):
    deep = min(plate.depth_in, plate.footing_width_in)
    ratio = max(10.0, deep) / min(10.0, deep)
    strength = two_way_strength(2500 * PSI, 10.0, perimeter, ratio).value
    use = punching_use(10000.0, 2500 * PSI, 10.0, plate)
    assert use.value == pytest.approx(100 * 10000.0 / strength)
    (line,) = (line for line in use.working.lines if line.symbol == "bo" and line.formula)
    assert line.result == f"{perimeter:g} in"


def test_14_1_3_is_told_in_the_working():
    for result in (bending_use_for(1.0, SECTION), shear_use_for(1.0, SECTION)):
        assert "14.1.3" in result.working.validity
        assert "screening" in result.working.validity


def test_the_parts_of_the_pit_route_give_its_uses():
    span = Span(1200.0, 40.0, 2500 * PSI, 14.0, 2.0, 10.0)
    section = Section(span.strength_psf, 12.0, span.thickness_in)
    moment, shear = pit_moment(span).value, pit_shear(span, 8.0).value
    assert bending_use_for(moment, section).value == bending_use(span).value
    assert shear_use_for(shear, section).value == shear_use(span).value
