"""Flow to wells and pits: Dupuit, Sichardt, flow to a disc, against published figures.

Dupuit and Sichardt are confirmed; the disc and its use for a pit's floor are from memory.
"""

import math

import pytest

from survey.engineering.inflow import WetPit, drawdown, inflow
from survey.engineering.water import water_depths
from survey.vocabulary import NOT_KNOWN

pint = pytest.importorskip("pint")
UNITS = pint.UnitRegistry()
IN_PER_M = 1 / 0.0254
GPM = UNITS.Quantity(1.0, "m**3/s").to("gallon/minute").magnitude  # 15,850.3


def pit_of_radius(metres, head_m, base_m):
    side = metres * math.pi * IN_PER_M / 2
    base = base_m if base_m is NOT_KNOWN else base_m * IN_PER_M
    return WetPit(side, side, head_m * IN_PER_M, base)


def step(result, symbol):
    (line,) = (line for line in result.working.lines if line.symbol == symbol)
    return float(line.result.split()[0].replace(",", ""))


def test_dupuit_worked_example():
    """K = 12 m/day, 20 m at 100 m and 18 m at 50 m: 4,133.5 m3/day (Vesilind's formula).

    All lengths halved, the flow is a quarter; the reach is made equal to the radius.
    """
    k = 12 / 86400
    reach = 3000 * 1.0 * math.sqrt(k)
    result = inflow(pit_of_radius(reach, 1.0, 9.0), k, k)
    assert step(result, "Qd") == pytest.approx(4133.5 / 4, rel=1e-4)
    assert result.value == pytest.approx(4133.5 / 4 / 86400 * GPM, rel=1e-4)


@pytest.mark.parametrize(("k", "head_m", "reach_m"), [(1e-4, 5.0, 150.0), (1e-6, 5.0, 15.0)])
def test_sichardt_published_check(k, head_m, reach_m):
    """Cashman and Preene: 300 m for s = 10 m and k = 1e-4 m/s; it goes with s."""
    for result in (
        inflow(pit_of_radius(1.0, head_m, NOT_KNOWN), k, k),
        drawdown(120.0, pit_of_radius(1.0, head_m, NOT_KNOWN), k),
    ):
        assert step(result, "R0") == pytest.approx(reach_m, abs=0.01)


def test_floor_of_a_pit_as_a_disc():
    """Q = 4 k r s = 2 D k s, Hvorslev 1951 case of a flush casing, from memory."""
    result = inflow(pit_of_radius(1.0, 0.5, NOT_KNOWN), 1e-4, 1e-4)
    assert step(result, "Q2") == pytest.approx(4 * 1e-4 * 1.0 * 0.5 * 86400, abs=1e-3)


@pytest.mark.parametrize(("sides", "square_root_of_area"), [((1, 1), 2.304), ((1, 4), 2.60)])
def test_circle_of_the_same_perimeter_is_no_less_than_the_plate(sides, square_root_of_area):
    """Flow to a flat rectangle: capacitance of a plate, 0.3667 x 4 pi eps a for a square.

    Half of it, over eps, is 2.304 a; for 1 to 4 about 2.60 square roots of the area (both from
    memory). Ours, 4 (a + b) / pi, must not be less.
    """
    a, b = sides
    result = inflow(WetPit(a * IN_PER_M, b * IN_PER_M, IN_PER_M, NOT_KNOWN), 1e-5, 1e-5)
    assert step(result, "Q2") / 0.864 >= square_root_of_area * math.sqrt(a * b)


@pytest.mark.parametrize("base_m", [0.0, 1.5, 9.0])
@pytest.mark.parametrize("distance_m", [0.0, 2.0, 10.0, 30.0])
def test_flow_and_lowered_water_give_the_permeability_back(base_m, distance_m):
    """groundhog: k from two standpipes, Budhu 2011, Soil Mechanics and Foundations."""
    pumping = pytest.importorskip("groundhog.consolidation.groundwaterflow.pumpingtests")
    k, radius, head = 4e-4, 8.0, 1.2
    pit = pit_of_radius(radius, head, base_m)
    lowered = drawdown(distance_m * IN_PER_M, pit, k).value / IN_PER_M
    reach = radius + 3000 * head * math.sqrt(k)
    daily = math.pi * k * ((head + base_m) ** 2 - base_m**2) / math.log(reach / radius)
    found = pumping.hydraulicconductivity_unconfinedaquifer(
        radius_1=radius + distance_m, radius_2=reach,
        piezometric_height_1=head + base_m - lowered, piezometric_height_2=head + base_m,
        flowrate=daily,
    )  # fmt: skip
    assert found["hydraulic_conductivity [m/s]"] == pytest.approx(k, rel=1e-9)


def test_deep_ground_is_the_limit_of_a_deep_base():
    """Thiem's straight line in ln(r) is Dupuit's table where the base lies far below."""
    deep, far = (
        drawdown(200.0, WetPit(36.0, 36.0, 24.0, base), 1e-4).value for base in (NOT_KNOWN, 12000.0)
    )
    assert deep == pytest.approx(far, rel=1e-3)
    assert deep >= far


def test_a_short_reach_gives_plane_flow_to_the_sides():
    """q = k s^2 / (2 R0) for each metre of the sides, Dupuit in a slot."""
    k, head, radius = 1e-13, 0.5, 30.0
    result = inflow(pit_of_radius(radius, head, 0.0), k, k)
    reach = 3000 * head * math.sqrt(k)
    plane = k * head**2 / (2 * reach) * 2 * math.pi * radius
    assert result.value == pytest.approx(plane * GPM, rel=1e-4)


def test_heads_are_differences_of_depths():
    found = water_depths(60.0, 36.0, 48.0)
    assert (found.over_floor.value, found.over_footing.value) == (12.0, -12.0)
