"""ACI 318-19, Building Code Requirements for Structural Concrete, chapter 14 (plain concrete).

The clause numbers and phi = 0.60 are from memory; 14.5.1.7 (2 in cast against soil) and the two
strength formulas were seen in a text to an earlier edition. The check values of 19,200 lb-in and
3,840 lb are computed from the clauses, not printed in the code.
"""

import pytest

from survey.engineering.plain_concrete import (
    Span,
    bearing_strength,
    bending_use,
    flexural_strength,
    shear_strength,
    shear_use,
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
