"""Reactions, moments and shears of a wall over piers.

Against the published coefficients of continuous beams (AISC Steel Construction Manual, Table 3-23,
shears, moments and deflections, from memory) and an independent frame solver (anastruct).
"""

import itertools

import pytest

from survey.engineering import tributary

W = 1200.0  # plf, 100 lb on an inch
SPAN = 96.0


def stations(spans, left=0.0):
    return tuple(itertools.accumulate(spans, initial=left))


# Equal spans under an even load: reactions in w l, moments over the inner supports and greatest
# moment between supports in w l^2, greatest shear in w l.
EQUAL_SPANS = {
    1: ((0.5, 0.5), 0.0, 0.125, 0.5),
    2: ((0.375, 1.25, 0.375), 0.125, 0.0703, 0.625),
    3: ((0.4, 1.1, 1.1, 0.4), 0.1, 0.08, 0.6),
    4: ((0.393, 1.143, 0.928, 1.143, 0.393), 0.1071, 0.0772, 0.607),
    5: ((0.395, 1.132, 0.974, 0.974, 1.132, 0.395), 0.105, 0.078, 0.605),
}


@pytest.mark.parametrize("count", EQUAL_SPANS)
def test_aisc_table_3_23_equal_spans(count):
    shares, _, _, _ = EQUAL_SPANS[count]
    found = tributary.wall_reactions(W, count * SPAN, stations([SPAN] * count))
    assert [r / (W / 12 * SPAN) for r in found] == pytest.approx(shares, abs=0.001)


@pytest.mark.parametrize("count", EQUAL_SPANS)
def test_aisc_table_3_23_moments_and_shear_or_those_of_a_simple_span(count):
    # The larger of the published continuous beam and of w l^2 / 8, w l / 2 of a simple span.
    _, hogging, sagging, shear = EQUAL_SPANS[count]
    found = tributary.span_demand(W, count * SPAN, stations([SPAN] * count))
    wl = W / 12 * SPAN
    assert found.hogging.value / (wl * SPAN) == pytest.approx(hogging, abs=0.0004)
    assert found.sagging.value / (wl * SPAN) == pytest.approx(max(sagging, 0.125), abs=0.0004)
    assert found.shear.value / wl == pytest.approx(max(shear, 0.5), abs=0.001)


@pytest.mark.parametrize("end", [12.0, 40.0, 90.0])
def test_aisc_table_3_23_beam_overhanging_one_support(end):
    # R1 = w (l^2 - a^2) / (2 l), R2 = w (l + a)^2 / (2 l), M2 = w a^2 / 2
    left, right = tributary.wall_reactions(W, SPAN + end, (0.0, SPAN))
    w = W / 12
    assert left == pytest.approx(w * (SPAN**2 - end**2) / (2 * SPAN))
    assert right == pytest.approx(w * (SPAN + end) ** 2 / (2 * SPAN))
    found = tributary.span_demand(W, SPAN + end, (0.0, SPAN))
    assert found.hogging.value == pytest.approx(w * end**2 / 2)


def test_aisc_table_3_23_two_equal_spans_with_a_load_in_the_middle_of_one():
    # R = 13/32, 11/16 and -3/32 of P; a pull counts as nothing, and the lever rule gives 1/2
    piers = (0.0, SPAN, 2 * SPAN)

    def share(pier):
        others = tuple(p for p in piers if p != pier)
        return tributary.point_load_on_pier(1.0, 2 * SPAN, SPAN / 2, pier, others).value

    assert [share(pier) for pier in piers] == pytest.approx([1 / 2, 11 / 16, 0.0])


def test_aisc_table_3_23_load_at_the_end_of_an_overhang():
    # R2 = P (l + a) / l, R1 = -P a / l
    assert tributary.point_load_on_pier(
        1000.0, 2 * SPAN, SPAN + 24.0, SPAN, (0.0,)
    ).value == pytest.approx(1000 * (SPAN + 24) / SPAN)
    assert tributary.point_load_on_pier(1000.0, 2 * SPAN, SPAN + 24.0, 0.0, (SPAN,)).value == 0.0


def test_a_pier_carries_the_larger_of_simple_and_continuous():
    # Three equal spans: 1.10 w l at the inner piers against 1.00, 0.40 at the outer against 0.50
    piers = stations([SPAN] * 3)
    shares = [
        tributary.pier_load(W, 3 * SPAN, pier, tuple(p for p in piers if p != pier)).value
        / (W / 12 * SPAN)
        for pier in piers
    ]
    assert shares == pytest.approx([0.5, 1.1, 1.1, 0.5])


# An independent solver

LAYOUTS = {
    "ends on piers": (360.0, (0.0, 96.0, 210.0, 360.0)),
    "ends stand out": (480.0, (24.0, 110.0, 220.0, 330.0, 440.0)),
    "two piers": (200.0, (40.0, 150.0)),
    "unequal": (600.0, (30.0, 90.0, 190.0, 260.0, 370.0, 450.0, 560.0)),
    "many": (1200.0, tuple(20.0 + 68.0 * i for i in range(18))),
}


def frame(wall_length, piers, *loads_at):
    """A beam with a node at each pier, each end and each point load."""
    anastruct = pytest.importorskip("anastruct")  # not made for the newest Python yet
    nodes = sorted({0.0, wall_length, *piers, *loads_at})
    system = anastruct.SystemElements()
    for start, end in itertools.pairwise(nodes):
        system.add_element(location=[[start, 0.0], [end, 0.0]])
    at = {station: i for i, station in enumerate(nodes, start=1)}
    system.add_support_hinged(node_id=at[piers[0]])
    for pier in piers[1:]:
        system.add_support_roll(node_id=at[pier])
    return system, at


def upward(system, node):
    return abs(system.get_node_results_system(node_id=node)["Fy"])


@pytest.mark.parametrize("name", LAYOUTS)
def test_reactions_moments_and_shears_of_a_frame_solver(name):
    wall_length, piers = LAYOUTS[name]
    system, at = frame(wall_length, piers)
    elements = list(range(1, len(at)))
    system.q_load(q=-W / 12, element_id=elements)
    system.solve()
    found = tributary.wall_reactions(W, wall_length, piers)
    assert found == pytest.approx([upward(system, at[pier]) for pier in piers], rel=1e-6)

    results = [system.get_element_results(element_id=i) for i in elements]
    ends = [m for r in results for m in (r["Mmin"], r["Mmax"])]
    shear = max(abs(q) for r in results for q in (r["Qmin"], r["Qmax"]))
    span = max(b - a for a, b in itertools.pairwise(piers))
    end = max(piers[0], wall_length - piers[-1])
    # The solver counts tension at the underside negative or positive as it likes; one is hogging.
    one, other = abs(min(ends)), abs(max(ends))
    demand = tributary.span_demand(W, wall_length, piers)
    hogging = max(-m for m in tributary._beam(wall_length, piers).moments) * W / 12
    assert demand.hogging.value == pytest.approx(max(hogging, W / 12 * end**2 / 2))
    assert min(abs(hogging - one), abs(hogging - other)) < 1e-6 * (one + other)
    sagging = other if abs(hogging - one) < abs(hogging - other) else one
    # The solver looks at points along a span, not at the very peak.
    assert demand.sagging.value == pytest.approx(max(sagging, W / 12 * span**2 / 8), rel=2e-3)
    assert demand.shear.value == pytest.approx(max(shear, W / 12 * span / 2), rel=1e-6)


@pytest.mark.parametrize("point", [10.0, 60.0, 150.0, 300.0, 470.0])
def test_point_loads_of_a_frame_solver(point):
    wall_length, piers = LAYOUTS["ends stand out"]
    system, at = frame(wall_length, piers, point)
    system.point_load(node_id=at[point], Fy=-1000.0)
    system.solve()
    continuous = [abs(r) for r in tributary._point_reactions(point, piers)]
    assert continuous == pytest.approx(
        [upward(system, at[pier]) / 1000 for pier in piers], abs=1e-6
    )
