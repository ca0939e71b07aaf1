"""The fewest rounds against trying everything, an independent solver, and what physics wants."""

import itertools
import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.sequence import (
    Limits,
    LinedPit,
    WallRun,
    crew_days,
    fewest_rounds,
    order_lines,
    plan_rounds,
    round_of_pit,
)
from survey.vocabulary import NOT_KNOWN


def may_join(pit, other, pits, walls, limits):
    """Whether two pits may be open together; whole inches, written apart from what is tested."""
    if pit.wall == other.wall:
        line = sorted(
            (p for p in pits if p.wall == pit.wall), key=lambda p: (p.station_in, p.label)
        )
        places = [p.label for p in line]
        if abs(places.index(pit.label) - places.index(other.label)) == 1 and not (
            limits.neighbours_together
        ):
            return False
        left, right = sorted((pit, other), key=lambda p: p.station_in)
        gap = right.station_in - right.opening_in / 2 - left.station_in - left.opening_in / 2
        if gap < limits.clear_spacing_in:
            return False
    for i, wall in enumerate(walls):
        after = walls[(i + 1) % len(walls)]
        for one, two in ((pit, other), (other, pit)):
            if wall.meets_next and one.wall == wall.label and two.wall == after.label:
                to_right = wall.length_in - one.station_in - one.opening_in / 2
                to_left = two.station_in - two.opening_in / 2
                # past its end a pit still lies at the corner
                reach = limits.corner_distance_in
                if to_right <= reach and to_left <= reach:
                    return False
    return True


def room_of(wall, limits):
    room = wall.length_in * limits.share_percent / 100
    return room if limits.length_in is None else min(room, limits.length_in)


def is_legal(members, pits, walls, limits):
    for wall in walls:
        opened = sum(p.opening_in for p in members if p.wall == wall.label)
        if opened > room_of(wall, limits) + 1e-6:
            return False
    return all(
        may_join(one, other, pits, walls, limits)
        for one, other in itertools.combinations(members, 2)
    )


def by_trying(pits, walls, limits):
    """Fewest rounds of all ways to put pit after pit into one; none if a pit fits none alone."""
    if not all(is_legal([pit], pits, walls, limits) for pit in pits):
        return None
    best = len(pits)

    def put(i, rounds):
        nonlocal best
        if len(rounds) >= best:
            return
        if i == len(pits):
            best = len(rounds)
            return
        for members in rounds:
            if is_legal([*members, pits[i]], pits, walls, limits):
                members.append(pits[i])
                put(i + 1, rounds)
                members.pop()
        put(i + 1, [*rounds, [pits[i]]])

    put(0, [])
    return best


def assert_holds(sequence, pits, walls, limits):
    """Every pit once, every round legal, sizes as even as single moves make them."""
    at = {pit.label: pit for pit in pits}
    unfit = {label for label, _ in sequence.unfit}
    told = [label for members in sequence.rounds for label in members]
    assert sorted([*told, *unfit]) == sorted(at)
    for label in unfit:
        assert not is_legal([at[label]], pits, walls, limits)
    rounds = [[at[label] for label in members] for members in sequence.rounds]
    assert all(rounds)
    for members in rounds:
        assert is_legal(members, pits, walls, limits)
    for full, empty in itertools.permutations(rounds, 2):
        if len(full) - len(empty) >= 2:
            assert not any(is_legal([*empty, pit], pits, walls, limits) for pit in full)


def site(draw_int, choose, most_pits):
    """A site in whole inches: one wall to five, closed or not, pits crowded or not."""
    walls = [
        WallRun(f"W{i}", float(12 * draw_int(4, 40)), choose((True, True, False)))
        for i in range(draw_int(1, 5))
    ]
    pits = []
    for i in range(draw_int(1, most_pits)):
        wall = choose(walls)
        station = float(draw_int(0, int(wall.length_in)))
        pits.append(LinedPit(f"P{i}", wall.label, station, float(2 * draw_int(3, 40))))
    limits = Limits(
        float(draw_int(0, 100)), float(draw_int(10, 100)), float(draw_int(0, 90)),
        float(draw_int(6, 200)) if choose((True, False, False)) else None,
        choose((True, False)),
    )  # fmt: skip
    return pits, walls, limits


@st.composite
def sites(draw, most_pits=8):
    return site(
        lambda low, high: draw(st.integers(low, high)),
        lambda options: draw(st.sampled_from(options)),
        most_pits,
    )


def assert_fewest(pits, walls, limits):
    sequence = plan_rounds(pits, walls, limits)
    assert_holds(sequence, pits, walls, limits)
    fewest = by_trying(pits, walls, limits)
    found = fewest_rounds(sequence)
    if fewest is None:
        assert found.value is NOT_KNOWN
        assert sequence.unfit
    else:
        assert found.value == fewest
        assert sequence.proved


@given(sites())
def test_as_few_as_by_trying_everything(drawn):
    assert_fewest(*drawn)


@pytest.mark.parametrize("seed", range(20))
def test_as_few_as_by_trying_everything_on_thousands_of_sites(seed):
    rng = random.Random(seed)
    for _ in range(150):
        assert_fewest(*site(rng.randint, rng.choice, 8))


def tight_site(seed, per_wall):
    """A site on which the pits hardly fit: many to a wall, a small share, wide corners."""
    rng = random.Random(seed)
    walls = [WallRun(f"W{i}", float(rng.randint(30, 60) * 12), True) for i in range(4)]
    pits = []
    for wall in walls:
        count = rng.randint(*per_wall)
        for j in range(count):
            middle = int(wall.length_in * (j + 0.5) / count) + rng.randint(-12, 12)
            pits.append(
                LinedPit(f"{wall.label}-{j}", wall.label, float(middle), 2.0 * rng.randint(15, 45))
            )
    return pits, walls, Limits(float(rng.randint(0, 90)), float(rng.randint(20, 40)), 60.0)


@pytest.mark.parametrize(
    ("seed", "per_wall"),
    [*((seed, (3, 6)) for seed in range(15)), *((seed, (6, 9)) for seed in range(15, 20))],
)
def test_as_few_as_an_independent_solver_finds_on_houses(seed, per_wall):
    z3 = pytest.importorskip("z3")
    pits, walls, limits = tight_site(seed, per_wall)
    sequence = plan_rounds(pits, walls, limits)
    assert_holds(sequence, pits, walls, limits)
    assert sequence.proved
    fit = [pit for pit in pits if is_legal([pit], pits, walls, limits)]

    def possible(count):
        solver = z3.Solver()
        at = {(p, r): z3.Bool(f"{p.label} in {r}") for p in fit for r in range(count)}
        for pit in fit:
            solver.add(z3.PbEq([(at[pit, r], 1) for r in range(count)], 1))
        for r in range(count):
            for one, other in itertools.combinations(fit, 2):
                if not may_join(one, other, pits, walls, limits):
                    solver.add(z3.Not(z3.And(at[one, r], at[other, r])))
            for wall in walls:
                opened = [(at[p, r], int(p.opening_in)) for p in fit if p.wall == wall.label]
                if opened:
                    solver.add(z3.PbLe(opened, math.floor(room_of(wall, limits) + 1e-6)))
        return solver.check() == z3.sat

    assert possible(len(sequence.rounds))
    assert not possible(len(sequence.rounds) - 1)


@given(sites(most_pits=14))
def test_without_effort_it_keeps_the_limits_and_tells_no_more_than_it_knows(drawn):
    pits, walls, limits = drawn
    hasty, thorough = plan_rounds(*drawn, effort=0), plan_rounds(*drawn)
    assert_holds(hasty, pits, walls, limits)
    assert hasty.least <= thorough.least <= len(thorough.rounds) <= len(hasty.rounds)
    found = fewest_rounds(hasty)
    if not hasty.unfit and not hasty.proved:
        assert found.value is NOT_KNOWN
        assert found.bounds == (hasty.least, len(hasty.rounds))


@given(sites(), st.sampled_from(["opening", "spacing", "share", "corner", "length", "neighbours"]))
def test_what_is_stricter_never_needs_fewer_rounds(drawn, what):
    pits, walls, limits = drawn
    stricter = {
        "spacing": limits._replace(clear_spacing_in=limits.clear_spacing_in + 12),
        "share": limits._replace(share_percent=max(limits.share_percent * 0.8, 1.0)),
        "corner": limits._replace(corner_distance_in=limits.corner_distance_in + 24),
        "length": limits._replace(length_in=min(limits.length_in or 6000.0, 120.0)),
        "neighbours": limits._replace(neighbours_together=False),
    }.get(what, limits)
    longer = [p._replace(opening_in=p.opening_in + 6) for p in pits] if what == "opening" else pits
    mild = plan_rounds(pits, walls, limits)
    strict = plan_rounds(longer, walls, stricter)
    assert {label for label, _ in mild.unfit} <= {label for label, _ in strict.unfit}
    if not strict.unfit:
        assert len(mild.rounds) <= len(strict.rounds)


@given(sites())
def test_a_pit_more_never_needs_fewer_rounds(drawn):
    pits, walls, limits = drawn
    # Without the last pit two others may become neighbours, so they may be open together here.
    together = limits._replace(neighbours_together=True)
    assert len(plan_rounds(pits[:-1], walls, together).rounds) <= len(
        plan_rounds(pits, walls, together).rounds
    )


@given(sites())
def test_seen_in_a_mirror_it_takes_as_many_rounds(drawn):
    pits, walls, limits = drawn
    lengths = {wall.label: wall.length_in for wall in walls}
    # Seen from the other side the order is turned round, and what met the next is met by it.
    meets = [wall.meets_next for wall in walls]
    turned = [
        WallRun(walls[i].label, walls[i].length_in, meets[i - 1])
        for i in range(len(walls) - 1, -1, -1)
    ]
    mirrored = [
        LinedPit(pit.label, pit.wall, lengths[pit.wall] - pit.station_in, pit.opening_in)
        for pit in pits
    ]
    if len({(p.wall, p.station_in) for p in pits}) < len(pits):
        return  # of pits in one place the label says which comes first in line
    there, back = plan_rounds(pits, walls, limits), plan_rounds(mirrored, turned, limits)
    assert len(there.rounds) == len(back.rounds)


@given(sites(), st.randoms(use_true_random=False))
def test_the_order_in_which_pits_are_listed_does_not_matter(drawn, rng):
    pits, walls, limits = drawn
    shuffled = rng.sample(pits, len(pits))
    assert plan_rounds(pits, walls, limits) == plan_rounds(shuffled, walls, limits)


floats = st.floats(allow_nan=True, allow_infinity=True)


@given(st.tuples(*[floats] * 6), st.none() | floats)
def test_no_figure_makes_it_fail_or_gives_nonsense(figures, most):
    length, station, opening, spacing, share, corner = figures
    pits = [LinedPit("A", "front", station, opening), LinedPit("B", "front", 300.0, 36.0)]
    walls = [WallRun("front", length, True), WallRun("side", 240.0, False)]
    sequence = plan_rounds(pits, walls, Limits(spacing, share, corner, most))
    assert order_lines(sequence)
    for result in (
        fewest_rounds(sequence), crew_days(sequence, opening), round_of_pit(sequence, "A"),
    ):  # fmt: skip
        assert (result.value is NOT_KNOWN and result.reason) or math.isfinite(result.value)
