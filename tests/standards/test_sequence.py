"""Hit-and-miss underpinning as the books have it, and published results of packing and colouring.

Chudley and Greeno: Building Construction Handbook, 8th ed., underpinning (as quoted in its text).
CROSS: Collaborative Reporting for Safer Structures, safety report 72 (as quoted in its text).
"""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.sequence import Limits, LinedPit, WallRun, fewest_rounds, plan_rounds
from survey.engineering.undermining import share_open_at_once
from survey.vocabulary import NOT_KNOWN

METRE = 1000 / 25.4  # in


def legs(count, length_in):
    """A wall that is underpinned in legs side by side all along it."""
    wall = WallRun("wall", count * length_in, False)
    middles = (length_in * (i + 0.5) for i in range(count))
    pits = [LinedPit(str(i), "wall", middle, length_in) for i, middle in enumerate(middles, 1)]
    return pits, [wall]


def rounds_of(pits, walls, limits):
    return [tuple(map(int, members)) for members in plan_rounds(pits, walls, limits).rounds]


@pytest.mark.parametrize("leg_m", [1.0, 1.5, 3.0])  # lengths of leg, Chudley and Greeno
@pytest.mark.parametrize("count", [4, 8, 12, 20])
def test_chudley_and_greeno_at_most_25_percent_takes_four_rounds(leg_m, count):
    pits, walls = legs(count, leg_m * METRE)
    rounds = rounds_of(pits, walls, Limits(0.0, 25.0, 0.0))
    assert len(rounds) == 4
    for members in rounds:
        assert len(members) == count / 4
        assert all(b - a > 1 for a, b in itertools.pairwise(members))  # neighbours wait


def test_hit_and_miss_1_3_5_then_2_4_6():
    # The two rounds of the usual sketch, common practice.
    pits, walls = legs(6, 1.0 * METRE)
    assert rounds_of(pits, walls, Limits(0.0, 50.0, 0.0)) == [(1, 3, 5), (2, 4, 6)]


def test_legs_numbered_1_4_2_5_3_along_the_wall():
    # The numbering of many sketches of five rounds, from memory: legs of one number are dug
    # together, and no number stands beside the next higher or lower one.
    pits, walls = legs(10, 1.0 * METRE)
    rounds = rounds_of(pits, walls, Limits(0.0, 20.0, 0.0))
    number = {leg: i for i, members in enumerate(rounds, 1) for leg in members}
    assert [number[leg] for leg in range(1, 11)] == [1, 4, 2, 5, 3] * 2


def test_chudley_and_greeno_a_wall_must_be_four_legs_long():
    # 25 % of 4 m is one leg of 1 m: on a shorter wall a leg fits no round at all.
    limits = Limits(0.0, 25.0, 0.0)
    one = LinedPit("1", "wall", 2.0 * METRE, 1.0 * METRE)
    assert fewest_rounds(plan_rounds([one], [WallRun("wall", 4 * METRE, False)], limits)).value == 1
    short = plan_rounds([one], [WallRun("wall", 3.99 * METRE, False)], limits)
    assert fewest_rounds(short).value is NOT_KNOWN
    assert [label for label, _ in short.unfit] == ["1"]


def test_cross_72_the_60_percent_that_was_open_is_never_planned():
    # Six of ten legs: 60 % of the wall left unsupported, where the work was stopped.
    pits, walls = legs(10, 1.0 * METRE)
    length = walls[0].length_in
    openings = [pit.opening_in for pit in pits]
    assert share_open_at_once(length, 0.0, openings[:6]).value == pytest.approx(60.0)
    for share in (25.0, 59.9, 100.0):
        rounds = rounds_of(pits, walls, Limits(0.0, share, 0.0))
        opened = [100 * len(members) * METRE / length for members in rounds]
        assert max(opened) <= min(share, 50.0) + 1e-9  # of legs side by side half can be open


@pytest.mark.parametrize(
    ("sizes", "room", "fewest"),
    [
        # Martello and Toth, Knapsack Problems (1990), ch. 8, the example of their bounds L1 = 3
        # and L2 = 4; from memory. By hand: 70, 60 and 50 can't be paired, 3 x 33 is left.
        ((70, 60, 50, 33, 33, 33, 11, 7, 3), 100, 4),
        # Just over a half, a third and a seventh (Johnson and others, SIAM J. Comput. 3, 1974; from
        # memory): one of each fills a round; first fit of the shortest first takes ten rounds.
        ((510, 340, 146) * 6, 1000, 6),
    ],
)
def test_packing_as_published(sizes, room, fewest):
    scale = 3.0 if room == 100 else 1.0  # an opening is at least 6 in
    pits, at = [], 0.0
    for i, size in enumerate(sizes):
        pits.append(LinedPit(str(i), "wall", at + scale * size / 2, scale * size))
        at += scale * size
    limits = Limits(0.0, 100.0, 0.0, scale * room, neighbours_together=True)
    sequence = plan_rounds(pits, [WallRun("wall", 6000.0, False)], limits)
    assert fewest_rounds(sequence).value == fewest


@pytest.mark.parametrize(
    ("walls", "rounds"),
    # A ring of an even number of things can be coloured with 2 colours, of an odd one with 3:
    # Koenig, for graphs without odd rings, in any book of graph theory.
    [(3, 3), (4, 2), (5, 3), (6, 2), (7, 3)],
)
def test_corners_of_a_ring_of_walls(walls, rounds):
    ring = [WallRun(f"W{i}", 144.0, True) for i in range(walls)]
    pits = [LinedPit(f"P{i}", f"W{i}", 72.0, 36.0) for i in range(walls)]
    limits = Limits(48.0, 25.0, 54.0)  # the openings begin 54 in from both ends

    def fewest(ring, limits):
        return fewest_rounds(plan_rounds(pits, ring, limits)).value

    assert fewest(ring, limits) == rounds
    assert fewest(ring, limits._replace(corner_distance_in=53.9)) == 1
    assert fewest([*ring[:-1], ring[-1]._replace(meets_next=False)], limits) == 2


places = st.lists(st.tuples(st.integers(0, 600), st.integers(3, 60)), min_size=1, max_size=20)


@given(places, st.integers(0, 60))
def test_spacing_alone_needs_as_many_rounds_as_pits_crowd_one_place(drawn, half_spacing):
    # Intervals are coloured with as many colours as overlap in one point: interval graphs are
    # perfect; Golumbic, Algorithmic Graph Theory and Perfect Graphs, ch. 8.
    pits = [LinedPit(str(i), "wall", float(s), 2.0 * o) for i, (s, o) in enumerate(drawn)]
    limits = Limits(2.0 * half_spacing, 100.0, 0.0, neighbours_together=True)
    reach = [(s - o - half_spacing, s + o + half_spacing) for s, o in drawn]
    crowded = max(sum(low <= start < high for low, high in reach) for start, _ in reach)
    # Twenty pits of 120 in fit the length of the wall, so that its room binds nothing.
    walls = [WallRun("wall", 6000.0, False)]
    assert fewest_rounds(plan_rounds(pits, walls, limits)).value == crowded
