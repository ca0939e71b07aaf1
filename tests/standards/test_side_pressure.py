"""Side pressures against published tables, worked examples and a geotechnical library.

Rankine's coefficients: table of Bowles, Foundation Analysis and Design, 5th ed. Strip load:
Das, Principles of Foundation Engineering (worked example, from memory), and groundhog, which
follows Budhu, Soil Mechanics and Foundations, 2011.
"""

import math

import pytest

from survey.engineering import side_pressure as side

BOWLES = [(26, 0.3905), (28, 0.3610), (30, 0.3333), (32, 0.3073), (34, 0.2827), (36, 0.2596),
          (38, 0.2379), (40, 0.2174)]  # fmt: skip


@pytest.mark.parametrize(("phi", "coefficient"), BOWLES)
def test_bowles_rankine_coefficients(phi, coefficient):
    # The table prints 0.3905 for 26 degrees and 0.3610 for 28; all agree to its last figure.
    assert side.rankine_active(float(phi)).value == pytest.approx(coefficient, abs=6e-5)


@pytest.mark.parametrize(
    ("soil_class", "depth_ft", "psf"),
    [
        # 29 CFR 1926 Subpart P App. C Tables C-1.1 to C-1.3, headings, from memory
        ("A", 10, 25 * 10 + 72), ("B", 10, 45 * 10 + 72), ("C", 10, 80 * 10 + 72),
        ("A", 20, 572), ("B", 20, 972), ("C", 20, 1672), ("C", 5, 472),
    ],
)  # fmt: skip
def test_appendix_c_headings(soil_class, depth_ft, psf):
    assert side.appendix_c_pressure(soil_class, 12.0 * depth_ft).value == pytest.approx(psf)


def test_appendix_c_surcharge_is_2_ft_of_soil():
    # 72 psf sideways for 2 ft of soil of 100 to 125 pcf: a share of 0.29 to 0.36, as Rankine's
    # for 28 to 33 degrees.
    share = [side.SURCHARGE_PSF / (2 * pcf) for pcf in (100, 125)]
    active = [side.rankine_active(phi).value for phi in (28.0, 33.0)]
    assert share == pytest.approx(active, abs=0.01)


def test_rankine_in_saturated_clay_by_hand():
    # phi = 0: pa = gamma H - 2 c = 120 x 20 - 2 x 500 = 1400 psf, crack 2 c / gamma = 8.33 ft
    found = side.rankine_pressure(120.0, 240.0, 0.0, 500.0, 0.0)
    assert found.value == pytest.approx(1400.0)
    crack = next(line for line in found.working.lines if line.symbol == "zc")
    assert crack.result == "8.333 ft"


def test_das_strip_load_thrust():
    # Das, Principles of Foundation Engineering, example of a strip surcharge, from memory:
    # q = 40 kPa, 2 m from the wall, 3 m wide, H = 6 m: P = (40/90) x 6 (39.8 - 18.43) = 57.0 kN/m
    psf, feet, plf = 47.880259e-3, 0.3048, 0.0145939  # kPa, m and kN/m each
    found = side.strip_load_thrust(40 / psf, 2 / feet * 12, 3 / feet * 12, 6 / feet * 12)
    assert found.value * plf == pytest.approx(56.98, abs=0.05)


@pytest.mark.parametrize("clear", [0.0, 5.0, 40.0])
@pytest.mark.parametrize("height", [12.0, 60.0])
def test_thrust_is_the_sum_of_the_pressures(clear, height):
    steps = 4000
    depths = [(step + 0.5) * height / steps for step in range(steps)]
    summed = sum(side.strip_load_pressure(1800.0, clear, 20.0, z).value for z in depths)
    thrust = side.strip_load_thrust(1800.0, clear, 20.0, height).value
    assert summed / steps * height / 12 == pytest.approx(thrust, rel=1e-5)


@pytest.mark.parametrize("clear", [0.5, 6.0, 36.0])
@pytest.mark.parametrize("floor", [3.0, 24.0, 120.0])
def test_greatest_is_the_greatest_of_all_depths(clear, floor):
    found = side.greatest_strip_pressure(1500.0, clear, 24.0, floor).value
    depths = [step * floor / 5000 for step in range(5001)]
    tried = max(side.strip_load_pressure(1500.0, clear, 24.0, z).value for z in depths)
    assert tried <= found + 1e-6
    assert tried == pytest.approx(found, rel=1e-5)


def test_narrow_strip_is_a_line_load():
    # Boussinesq's line load, doubled: 4 Q x^2 z / (pi (x^2 + z^2)^2). A strip of 1 in at 10 ft.
    x, z, q = 120.5, 90.0, 3600.0
    line = 4 * q * x**2 * z / (math.pi * (x**2 + z**2) ** 2)
    assert side.strip_load_pressure(q, 120.0, 1.0, z).value == pytest.approx(line, rel=1e-4)


def test_edge_of_a_wide_strip():
    # At the edge of a load without end the half-space carries q/2 sideways; doubled that is q.
    assert side.strip_load_pressure(500.0, 0.0, 600.0, 0.001).value == pytest.approx(500, abs=0.01)


def test_navfac_critical_height():
    # NAVFAC DM 7.2, Eq. 2-1: Hc = 4 su / gamma. su = 600 psf, 120 pcf: 20 ft; lower bound 10 ft
    found = side.critical_height(600.0, 120.0)
    assert found.value == pytest.approx(120.0)
    upper = next(line for line in found.working.lines if line.symbol == "Hu")
    assert upper.result == "240 in"


def test_critical_height_is_where_rankine_puts_the_crack():
    # With phi = 0 the crack of depth 2 c / gamma is the lower bound.
    crack = next(
        line for line in side.rankine_pressure(110.0, 60.0, 0.0, 450.0, 0.0).working.lines
        if line.symbol == "zc"
    )  # fmt: skip
    feet = float(crack.result.removesuffix(" ft"))
    assert side.critical_height(450.0, 110.0).value / 12 == pytest.approx(feet, abs=5e-4)


class TestGroundhog:
    """groundhog gives the half-space itself: half of the pressure on a rigid side."""

    @pytest.mark.parametrize("clear", [0.0, 12.0, 60.0])
    @pytest.mark.parametrize("depth", [1.0, 18.0, 96.0])
    def test_strip_load(self, clear, depth):
        stress = pytest.importorskip("groundhog.shallowfoundations.stressdistribution")
        # It measures x from the left corner of the strip: the side lies beyond the far one.
        found = stress.stresses_stripload(
            z=depth, x=24.0 + clear, width=24.0, imposedstress=1500.0
        )["delta sigma x [kPa]"]
        doubled = side.strip_load_pressure(1500.0, clear, 24.0, depth).value
        assert doubled == pytest.approx(2 * float(found), rel=1e-6)

    @pytest.mark.parametrize("phi", [20.0, 30.0, 37.5, 45.0])
    def test_rankine(self, phi):
        pressure = pytest.importorskip("groundhog.excavations.basic")
        found = pressure.earthpressurecoefficients_rankine(
            phi_eff=phi, wall_angle=0.0, top_angle=0.0
        )["KaR [-]"]
        assert side.rankine_active(phi).value == pytest.approx(float(found), rel=1e-9)
