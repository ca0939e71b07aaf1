"""What it costs to plan the rounds of sixty pits, as a ratio to a solver and to plain colouring.

Read the ratios in the table that pytest-benchmark prints; nothing here fails by the clock.
"""

from __future__ import annotations

import pytest

from survey.engineering.sequence import Limits, LinedPit, WallRun, plan_rounds

LIMITS = Limits(48.0, 25.0, 24.0)
LENGTHS = (960.0, 720.0, 960.0, 720.0)
WALLS = [WallRun(f"W{i}", length, True) for i, length in enumerate(LENGTHS)]


def sixty(openings: tuple[float, ...]) -> list[LinedPit]:
    """Sixty pits round a house, with openings that recur along its walls."""
    pits = []
    for wall, count in zip(WALLS, (17, 13, 17, 13), strict=True):
        step = wall.length_in / count
        pits += [
            LinedPit(f"{wall.label}-{j}", wall.label, step * (j + 0.5),
                     openings[j % len(openings)])
            for j in range(count)
        ]  # fmt: skip
    return pits


ALIKE = sixty((36.0,))
MIXED = sixty((30.0, 84.0, 36.0, 61.5, 48.0, 42.0, 97.25))


@pytest.mark.benchmark(group="rounds of 60 pits")
def test_pits_alike(benchmark):
    assert benchmark(plan_rounds, ALIKE, WALLS, LIMITS).proved


@pytest.mark.benchmark(group="rounds of 60 pits")
def test_pits_mixed(benchmark):
    assert benchmark(plan_rounds, MIXED, WALLS, LIMITS).proved


@pytest.mark.benchmark(group="rounds of 60 pits")
def test_pits_mixed_without_a_search(benchmark):
    assert benchmark(plan_rounds, MIXED, WALLS, LIMITS, 0).rounds


@pytest.mark.benchmark(group="rounds of 60 pits")
def test_pits_mixed_by_a_general_solver(benchmark):
    """Only the packing, without corners and neighbours, at the number of rounds that is found."""
    z3 = pytest.importorskip("z3")
    count = len(plan_rounds(MIXED, WALLS, LIMITS).rounds)

    def solve():
        solver = z3.Solver()
        for wall in WALLS:
            pits = [pit for pit in MIXED if pit.wall == wall.label]
            at = [[z3.Bool(f"{pit.label} {r}") for r in range(count)] for pit in pits]
            for row in at:
                solver.add(z3.PbEq([(one, 1) for one in row], 1))
            for r in range(count):
                steps = [(at[i][r], round(pit.opening_in * 100)) for i, pit in enumerate(pits)]
                solver.add(z3.PbLe(steps, round(wall.length_in * 25)))
        return solver.check()

    assert benchmark.pedantic(solve, rounds=3) == z3.sat
