"""Drive load against service load, pressure and dead load: published factors and a frame solver."""

from itertools import pairwise

import pytest

from survey.engineering.drive import (
    cylinder_pressure,
    cylinder_use,
    dead_load_engaged,
    drive_share,
    lift_use,
)


def test_a_jacked_pier_is_proved_to_about_one_and_a_half_times_its_load():
    # US Patent 1,217,128 (1917): final drive load about 1.5 times the load, second hand.
    assert drive_share(1.5 * 24000.0, 24000.0).value == 150.0


def test_ibc_1810_3_3_1_factor_2_of_a_load_test():
    # IBC 1810.3.3.1.2, from memory: allowable load at most half of the load of the test.
    test_load = 50000.0
    assert drive_share(test_load, test_load / 2).value == 200.0


# Tons of 2,000 lb at 10,000 psi of cylinders by their bore, common figures of the trade (from
# memory).
@pytest.mark.parametrize(("bore_in", "tons"), [(1.6875, 11.2), (2.375, 22.1), (2.875, 32.5)])
def test_tonnage_of_cylinders_at_10_000_psi(bore_in, tons):
    area = 3.141592653589793 / 4 * bore_in**2
    assert cylinder_pressure(tons * 2000, area).value / 144 == pytest.approx(10_000, rel=0.01)
    assert cylinder_use(tons * 2000, area, 10_000 * 144.0).value == pytest.approx(100, rel=0.01)


def test_pressure_in_another_system_of_units():
    # 100 kN on 25 cm2 is 40 MPa, SI by definition; 1 lb = 4.4482216152605 N, 1 in = 2.54 cm.
    pint = pytest.importorskip("pint")
    u = pint.UnitRegistry()
    load, area = (100 * u.kN).to(u.lbf).magnitude, (25 * u.cm**2).to(u.inch**2).magnitude
    psf = cylinder_pressure(load, area).value
    assert (psf * u.lbf / u.ft**2).to(u.MPa).magnitude == pytest.approx(40.0, rel=1e-9)


def test_engaged_load_is_the_reaction_of_a_wall_hinged_at_the_piers():
    """Two spans of wall with a hinge over each pier, an independent frame solver."""
    anastruct = pytest.importorskip("anastruct")  # not made for the newest Python yet
    frame = anastruct.SystemElements()
    for start, end in ((60.0, 156.0), (156.0, 300.0)):
        frame.add_element(
            location=[[start, 0.0], [end, 0.0]], spring={1: 0} if start > 100 else {2: 0}
        )
    for node in (1, 2, 3):
        frame.add_support_hinged(node_id=node)
    frame.q_load(q=-1200.0 / 12, element_id=[1, 2])
    frame.solve()
    reaction = abs(frame.get_node_results_system(node_id=2)["Fy"])
    engaged = dead_load_engaged(1200.0, 400.0, 156.0, (60.0, 300.0), 120.0).value
    assert engaged == pytest.approx(reaction, rel=1e-6)


@pytest.mark.parametrize(("station", "times_weight"), [(240.0, 1.0), (0.0, 0.5), (480.0, 0.5)])
def test_lift_at_the_middle_and_at_an_end(station, times_weight):
    # Statics: a beam lifted at its middle takes its whole weight, at one end half of it.
    weight = 1000.0 * 480.0 / 12
    assert lift_use(times_weight * weight, 1000.0, 480.0, station).value == pytest.approx(100.0)


@pytest.mark.parametrize("station", [0.0, 60.0, 200.0, 240.0])
def test_at_100_percent_the_far_end_carries_what_the_pier_does_not(station):
    """The pier as the support of a beam that stands on it and on its far end: a frame solver."""
    anastruct = pytest.importorskip("anastruct")  # not made for the newest Python yet
    frame = anastruct.SystemElements()
    ends = sorted({0.0, station, 480.0})
    for start, end in pairwise(ends):
        frame.add_element(location=[[start, 0.0], [end, 0.0]])
    pier = ends.index(station) + 1
    frame.add_support_hinged(node_id=pier)
    frame.add_support_roll(node_id=len(ends))
    frame.q_load(q=-1200.0 / 12, element_id=list(range(1, len(ends))))
    frame.solve()
    reaction = abs(frame.get_node_results_system(node_id=pier)["Fy"])
    assert lift_use(reaction, 1200.0, 480.0, station).value == pytest.approx(100.0, rel=1e-6)
