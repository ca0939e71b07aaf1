"""Boiling, uplift and heave of the floor against published figures.

The critical gradient and Terzaghi's 5.7 su are confirmed; what is marked is from memory.
"""

import pytest

from survey.engineering.heave import (
    SoftPit,
    base_heave_use,
    critical_gradient,
    exit_gradient_use,
    stability_number,
    uplift_use,
)

IN_PER_M = 1 / 0.0254
WATER = 62.4


def saturated(specific_gravity, void_ratio):
    return (specific_gravity + void_ratio) / (1 + void_ratio) * WATER


def step(result, symbol):
    (line,) = (line for line in result.working.lines if line.symbol == symbol)
    return float(line.result.split()[0].replace(",", ""))


@pytest.mark.parametrize(
    ("specific_gravity", "void_ratio", "published"),
    [
        (2.67, 0.67, 1.00),  # exam answer, (Gs - 1) / (1 + e)
        (2.65, 0.65, 1.00),  # usual round figure of quartz sand, from memory
        (2.68, 0.50, 1.12),
    ],
)
def test_critical_gradient(specific_gravity, void_ratio, published):
    found = critical_gradient(saturated(specific_gravity, void_ratio)).value
    assert found == pytest.approx((specific_gravity - 1) / (1 + void_ratio), rel=1e-12)
    assert found == pytest.approx(published, abs=0.005)


def test_saturated_weight_against_a_library():
    """groundhog has gamma_sat from water content w = e / Gs."""
    relations = pytest.importorskip("groundhog.siteinvestigation.classification.phaserelations")
    found = relations.unitweight_watercontent_saturated(
        0.67 / 2.67, specific_gravity=2.67, gamma_w=10.0
    )
    assert critical_gradient(found["gamma [kN/m3]"] / 10 * WATER).value == pytest.approx(1.0)


def test_boiling_at_the_critical_gradient():
    sand = saturated(2.67, 0.67)
    assert exit_gradient_use(24.0, 24.0, sand, "no").value == pytest.approx(100.0)
    assert exit_gradient_use(24.0, 36.0, sand, "no").value == pytest.approx(100 / 1.5)


@pytest.mark.parametrize("head", [6.0, 24.0, 60.0])
def test_all_head_lost_in_the_plug_is_no_less_than_harr_and_the_path_along_a_sheet(head):
    """Harr 1962, one sheet, exit h / (pi d); mean along the sheet h / (h + 2 d); from memory.

    A narrow pit loses more of the head inside its sheets than one sheet does; by Hvorslev 1951
    (soil in a casing) h / (d + pi D / 11), D its diameter, from memory.
    """
    sand = saturated(2.67, 0.67)
    for depth in (12.0, 36.0, 120.0):
        bare = exit_gradient_use(head, 0.0, sand, "no").value
        found = exit_gradient_use(head, depth, sand, "no").value
        for gradient in (head / (3.14159 * depth), head / (head + 2 * depth),
                         head / (depth + 3.14159 * 40 / 11)):  # fmt: skip
            assert found >= min(100 * gradient, bare) - 1e-9


def test_uplift_textbook_example():
    """Das, Principles of Geotechnical Engineering, cut in clay over sand, from memory.

    6 m of clay of 1,925 kg/m3, water 3.6 m above the top of the sand: unstable at 4.13 m.
    """
    use = uplift_use(4.13 * IN_PER_M, 6 * IN_PER_M, 2.4 * IN_PER_M, 1.925 * WATER)
    assert use.value == pytest.approx(100.0, abs=0.1)


@pytest.mark.parametrize("weight", [100.0, 124.8, 140.0])
def test_uplift_and_boiling_agree_where_water_stands_in_the_pit_at_the_floor(weight):
    """gamma t = gamma_w (t + h) is h / t = ic."""
    plug = 48.0
    head = plug * critical_gradient(weight).value
    assert exit_gradient_use(head, plug, weight, "no").value == pytest.approx(100.0)
    assert uplift_use(60.0, 60.0 + plug, 60.0 - head, weight).value == pytest.approx(100.0)


def test_terzaghi_ultimate_bearing_of_the_base():
    """5.7 su, Terzaghi 1943: a surcharge of that much beside a square pit."""
    pit = SoftPit(0.0, 60.0, 60.0, 500.0, 120.0, 5.7 * 500)
    assert base_heave_use(pit, "yes").value == pytest.approx(100.0)


@pytest.mark.parametrize(("depth", "width"), [(10.0, 20.0), (12.0, 30.0)])
def test_terzaghi_factor_of_safety(depth, width):
    """FS = 5.7 su / (gamma H - su H / (0.7 B)), the form from memory."""
    su, gamma = 400.0, 120.0
    pit = SoftPit(depth * 12, 360.0, width * 12, su, gamma, 0.0)
    safety = 5.7 * su / (gamma * depth - su * depth / (0.7 * width))
    assert step(base_heave_use(pit, "yes"), "u1") == pytest.approx(100 / safety, abs=1e-3)


# H / B, Nc of a square, Nc of a strip: Skempton 1951, from memory.
SKEMPTON = [
    (0.0, 6.2, 5.14), (0.25, 6.7, 5.6), (0.5, 7.1, 5.9), (0.75, 7.4, 6.2), (1.0, 7.7, 6.4),
    (1.5, 8.1, 6.5), (2.0, 8.4, 7.0), (2.5, 8.6, 7.2), (3.0, 8.8, 7.4), (4.0, 9.0, 7.5),
]  # fmt: skip


@pytest.mark.parametrize(("ratio", "square", "strip"), SKEMPTON)
def test_bjerrum_and_eide_with_skemptons_factors(ratio, square, strip):
    """Ours, 5 (1 + 0.2 B / L) (1 + 0.2 H / B), is within 8 % of the curves, and not above."""
    width = 6.0
    for length, published in ((6.0, square), (360.0, strip)):
        pit = SoftPit(max(ratio, 0.01) * width, length, width, 20.0, 120.0, 0.0)
        found = base_heave_use(pit, "yes")
        nc = step(found, "Nc") * step(found, "d")
        assert published * 0.92 <= nc <= published * 1.005
        demand = 120.0 * pit.pit_depth_in / 12 / 20.0
        assert step(found, "u2") == pytest.approx(100 * demand / nc, rel=1e-3)


@pytest.mark.parametrize(("depth_ft", "n"), [(10.0, 4.0), (15.0, 6.0), (20.0, 8.0)])
def test_peck_stability_numbers(depth_ft, n):
    """N = gamma H / su: 4, 6 and 8 are Peck's marks, from memory."""
    pit = SoftPit(depth_ft * 12, 360.0, 60.0, 300.0, 120.0, 0.0)
    assert stability_number(pit, "yes").value == pytest.approx(n)


def test_peck_and_the_factors_of_safety_tell_the_same():
    """At N = 8 the floor of a long, wide pit fails; at N = 4 it stands."""

    def use(depth_ft):
        return base_heave_use(SoftPit(depth_ft * 12, 360.0, 360.0, 300.0, 120.0, 0.0), "yes").value

    assert use(20.0) > 100
    assert use(10.0) < 100
