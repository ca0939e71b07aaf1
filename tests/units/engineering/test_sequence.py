"""Rounds of pits: ends of each range, each rule on both sides, what is printed."""

import itertools
import math

import pytest

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
from survey.vocabulary import NOT_KNOWN, Kind, read_quantity

FRONT = WallRun("front", 480.0, True)
SIDE = WallRun("side", 360.0, False)
LIMITS = Limits(48.0, 25.0, 24.0)


def pit(label, station, opening=36.0, wall="front"):
    return LinedPit(label, wall, station, opening)


def rounds(*pits, walls=(FRONT, SIDE), **changed):
    return plan_rounds(pits, walls, LIMITS._replace(**changed))


def count(*pits, **changed):
    return len(rounds(*pits, **changed).rounds)


RANGES = {
    "clear spacing": (lambda v: rounds(pit("A", 60.0), clear_spacing_in=v), 0.0, 6000.0),
    "share": (lambda v: rounds(pit("A", 60.0, 6.0), share_percent=v), 1.0, 100.0),
    "corner distance": (lambda v: rounds(pit("A", 60.0), corner_distance_in=v), 0.0, 6000.0),
    "length open at once": (lambda v: rounds(pit("A", 60.0), length_in=v), 6.0, 6000.0),
    "station": (lambda v: rounds(pit("A", v)), 0.0, 480.0),
    "opening": (lambda v: rounds(pit("A", 60.0, v)), 6.0, 14760.0),
    "wall length": (
        lambda v: rounds(pit("A", 6.0), walls=[WallRun("front", v, False)]), 12.0, 6000.0,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", RANGES)
def test_known_up_to_both_ends_and_not_known_past_them(name):
    plan, low, high = RANGES[name]
    for limit in (low, high):
        assert plan(limit).reason == "", limit
    for past in (low - 0.001, high * 1.001, math.nan, math.inf, -math.inf):
        sequence = plan(past)
        assert "holds" in sequence.reason
        assert sequence.rounds == ()
        assert not sequence.proved
        assert order_lines(sequence) == (f"No sequence: {sequence.reason}",)
        for result in (
            fewest_rounds(sequence), crew_days(sequence, 1.0), round_of_pit(sequence, "A"),
        ):  # fmt: skip
            assert result.value is NOT_KNOWN
            assert result.reason == sequence.reason


def test_from_one_pit_to_two_hundred():
    wall = [WallRun("front", 6000.0, False)]

    def line(number):
        return [pit(f"P{i}", 15.0 + 29.0 * i, 6.0) for i in range(number)]

    assert plan_rounds([], wall, LIMITS).reason == "no pit is listed"
    assert plan_rounds(line(200), wall, LIMITS).proved
    assert "200 pits" in plan_rounds(line(201), wall, LIMITS).reason
    for effort in (-1, 1_000_001):
        assert "steps" in plan_rounds(line(1), wall, LIMITS, effort).reason


def test_labels_must_tell_one_from_another():
    assert rounds(pit("A", 60.0), pit("A", 300.0)).reason == "two pits are called 'A'"
    assert rounds(pit("A", 60.0), walls=[FRONT, FRONT]).reason == "two walls are called 'front'"
    assert rounds(pit("A", 60.0, wall="back")).reason == "no wall is called 'back'"


def test_neighbours_in_line_are_never_open_together_unless_it_is_allowed():
    far = (pit("A", 60.0), pit("B", 400.0))
    assert count(*far) == 2
    assert count(*far, neighbours_together=True) == 1
    assert count(*far, pit("C", 200.0)) == 2  # A and B are no neighbours now


def test_spacing_on_both_sides():
    # by hand: 168 - 60 - 36 = 72 in between the openings of A and C
    pits = (pit("A", 60.0), pit("B", 114.0), pit("C", 168.0))
    assert count(*pits, clear_spacing_in=72.0) == 2
    assert count(*pits, clear_spacing_in=72.001) == 3


def test_share_on_both_sides():
    pits = (pit("A", 60.0, 60.0), pit("B", 180.0, 60.0), pit("C", 300.0, 60.0))
    assert count(*pits, share_percent=25.0) == 2  # A and C: 120 of 480 in
    assert count(*pits, share_percent=24.99) == 3


def test_length_on_both_sides():
    pits = (pit("A", 60.0), pit("B", 180.0), pit("C", 300.0))
    assert count(*pits, length_in=72.0) == 2
    assert count(*pits, length_in=71.99) == 3


def test_corner_on_both_sides():
    # both openings begin 24 in from the corner
    pits = (pit("A", 480.0 - 42.0), pit("B", 42.0, wall="side"))
    assert count(*pits) == 2
    assert count(*pits, corner_distance_in=23.999) == 1
    assert count(*pits, walls=[FRONT._replace(meets_next=False), SIDE]) == 1
    assert count(pit("A", 42.0), pit("B", 42.0, wall="side")) == 1  # at the far end of the wall
    assert count(pit("A", 480.0 - 43.0), pit("B", 42.0, wall="side")) == 1  # one side only


def test_the_last_wall_meets_the_first():
    closed = [FRONT, SIDE._replace(meets_next=True)]
    pits = (pit("A", 42.0), pit("B", 360.0 - 42.0, wall="side"))
    assert count(*pits) == 1
    assert count(*pits, walls=closed) == 2


def test_a_pit_that_reaches_past_its_corner_lies_at_it():
    assert count(pit("A", 470.0), pit("B", 10.0, wall="side"), corner_distance_in=0.0) == 2


def test_a_round_wall_meets_itself():
    around = [WallRun("front", 480.0, True)]
    ends = (pit("A", 30.0), pit("B", 150.0), pit("C", 450.0))
    assert count(*ends, walls=around) == 3
    assert count(*ends, walls=[WallRun("front", 480.0, False)]) == 2


def test_a_pit_too_long_for_its_wall_is_for_an_engineer():
    sequence = rounds(pit("A", 60.0), pit("B", 240.0, 121.0), pit("C", 420.0))
    assert sequence.unfit[0].label == "B"
    assert sequence.unfit[0].reason == (
        "it opens 121 in of wall front, where 120 in may be open at once"
    )
    assert sequence.rounds == (("A", "C"),)  # B stands between them
    for result in (
        fewest_rounds(sequence), crew_days(sequence, 1.0), round_of_pit(sequence, "B"),
    ):  # fmt: skip
        assert result.value is NOT_KNOWN
        assert "pit B fits no round" in result.reason
    assert round_of_pit(sequence, "A").value == 1
    assert order_lines(sequence)[-1].startswith("Pit B fits no round")
    assert rounds(pit("B", 240.0, 120.0)).unfit == ()


def test_when_no_pit_fits_there_are_no_rounds():
    sequence = rounds(pit("A", 240.0, 300.0))
    assert sequence.rounds == ()
    assert fewest_rounds(sequence).value is NOT_KNOWN
    assert order_lines(sequence) == (f"Pit A fits no round: {sequence.unfit[0].reason}; "
                                     "for an engineer",)  # fmt: skip


def test_the_neighbours_of_a_pit_that_fits_no_round_are_none_of_each_other():
    sequence = rounds(pit("A", 60.0), pit("B", 240.0, 121.0), pit("C", 420.0))
    assert sequence.rounds == (("A", "C"),)
    assert rounds(pit("A", 60.0), pit("C", 420.0)).rounds == (("A",), ("C",))


def test_round_of_a_pit_that_is_not_there():
    assert "called 'Z'" in round_of_pit(rounds(pit("A", 60.0)), "Z").reason


HOUSE = [
    WallRun("front", 480.0, True), WallRun("right", 360.0, True),
    WallRun("back", 480.0, True), WallRun("left", 360.0, True),
]  # fmt: skip


def house(**changed):
    pits = [
        LinedPit(f"{wall.label} {j + 1}", wall.label, 36.0 + 72.0 * j, 36.0)
        for wall in HOUSE
        for j in range(round(wall.length_in / 72.0 - 0.5))
    ]
    return plan_rounds(pits, HOUSE, LIMITS._replace(**changed))


def test_rounds_of_a_house_are_of_like_size_and_each_pit_has_its_round():
    sequence = house()
    sizes = [len(members) for members in sequence.rounds]
    assert max(sizes) - min(sizes) <= 1
    for i, members in enumerate(sequence.rounds, start=1):
        for label in members:
            found = round_of_pit(sequence, label)
            assert found.value == i
            assert found.working.lines[-1].result == str(i)


def test_the_order_is_read_out_with_what_is_open():
    wall = WallRun("front", 480.0, False)
    sequence = rounds(*(pit(f"P{i}", 20.0 + 40.0 * i, 40.0) for i in range(4)),
                      walls=[wall], clear_spacing_in=0.0)  # fmt: skip
    assert order_lines(sequence) == (
        "Round 1 of 2: wall front, P0, P2 (80 in open, 16.7 %)",
        "Round 2 of 2: wall front, P1, P3 (80 in open, 16.7 %)",
    )
    lines = order_lines(house())
    assert all("wall front" in line and "wall left" in line for line in lines)


def test_many_rounds_follow_each_other_away_from_the_last():
    # 12 pits one to a round: more than are weighed in every order
    sequence = rounds(*(pit(f"P{i:02}", 20.0 + 40.0 * i, 30.0) for i in range(12)),
                      clear_spacing_in=6000.0)  # fmt: skip
    order = [int(members[0][1:]) for members in sequence.rounds]
    assert sorted(order) == list(range(12))
    beside = sum(abs(a - b) == 1 for a, b in itertools.pairwise(order))
    assert beside <= 2


def least_line(sequence):
    return fewest_rounds(sequence).working.lines[-2]


def test_the_working_says_why_there_can_not_be_fewer():
    assert least_line(rounds(pit("A", 60.0))).meaning == "least rounds: a pit needs a round"
    two = least_line(rounds(pit("A", 60.0), pit("B", 300.0)))
    assert two.meaning == "least rounds: neighbours in line need 2: A, B"
    crowd = least_line(rounds(*(pit(f"P{i}", 60.0 + 20.0 * i, 12.0) for i in range(10))))
    assert crowd.result == "3"
    assert "no two of these may be open together: P" in crowd.meaning
    corner = least_line(rounds(pit("A", 440.0), pit("B", 40.0, wall="side")))
    assert corner.meaning == "least rounds: no two of these may be open together: A, B"


def test_the_working_counts_the_longest_names_only_in_part():
    line = least_line(rounds(*(pit(f"P{i}", 60.0 + 20.0 * i, 12.0) for i in range(10)),
                             clear_spacing_in=6000.0))  # fmt: skip
    assert line.result == "10"
    assert line.meaning.endswith("P6, P7 and 2 more")


def test_the_working_by_length_and_by_count():
    # by hand: 6 x 36 = 216 in over 25 % of 480 = 120 in gives 2; over 80 in 3; 2 of 36 fit 80 in
    pits = [pit(f"P{i}", 40.0 + 80.0 * i) for i in range(6)]
    by_count = least_line(rounds(*pits, length_in=80.0, clear_spacing_in=0.0))
    assert (by_count.numbers, by_count.result) in {("216 / 80", "3"), ("6 / 2", "3")}
    by_count = least_line(rounds(*pits, length_in=71.0, clear_spacing_in=0.0))
    assert (by_count.numbers, by_count.result) == ("6 / 1", "6")
    assert "6 pits of wall front open 36 in or more" in by_count.meaning
    exact = least_line(rounds(*pits, share_percent=15.0, clear_spacing_in=0.0))
    assert (exact.numbers, exact.result) == ("216 / 72", "3")


def test_the_working_shows_the_room_of_each_wall_with_pits():
    working = fewest_rounds(rounds(pit("A", 60.0), length_in=100.0)).working
    rooms = [line for line in working.lines if line.symbol == "O"]
    assert [line.result for line in rooms] == ["100 in"]
    assert rooms[0].numbers == "min(25 x 480 / 100, 100)"
    assert "1 pits that open 36 in, of which it holds at most 1" in rooms[0].meaning
    plain = fewest_rounds(rounds(pit("A", 60.0))).working
    assert [line.numbers for line in plain.lines if line.symbol == "O"] == ["25 x 480 / 100"]
    assert "Chudley and Greeno" in plain.source


def test_openings_are_paired_so_that_the_room_suffices():
    # By hand: of 60 in of room, 40 in leave 20 in; A goes with C and B with D, no neighbours.
    pits = (
        pit("A", 50.0, 40.0),
        pit("B", 170.0, 20.0),
        pit("C", 290.0, 20.0),
        pit("D", 410.0, 40.0),
    )
    sequence = rounds(*pits, clear_spacing_in=0.0, length_in=60.0)
    assert set(sequence.rounds) == {("A", "C"), ("B", "D")}
    assert count(*pits, clear_spacing_in=0.0, length_in=59.9) == 4  # B and C are neighbours


def tried():
    """Pits of which no simple bound tells that two rounds don't do."""
    walls = [WallRun(f"W{i}", 144.0, True) for i in range(5)]
    pits = [LinedPit(f"P{i}", f"W{i}", 72.0, 36.0) for i in range(5)]
    return pits, walls, Limits(48.0, 25.0, 54.0)


def test_a_ring_of_five_is_settled_by_the_search():
    sequence = plan_rounds(*tried())
    assert sequence.proved
    assert least_line(sequence).meaning == (
        "least rounds: every way into 2 rounds was tried for P0, P1, P2, P3, P4"
    )


def test_without_effort_the_figure_has_a_least_and_a_most():
    sequence = plan_rounds(*tried(), effort=0)
    found = fewest_rounds(sequence)
    assert found.value is NOT_KNOWN
    assert found.bounds == (2.0, 3.0)
    assert "at least 2 and at most 3 rounds" in found.reason
    assert found.working.lines[-1].result == "at least 2, at most 3"
    days = crew_days(sequence, 2.0)
    assert days.value == 6.0
    assert "at least 2 are needed" in days.working.lines[0].meaning


@pytest.mark.parametrize(("days", "known"), [(0.25, True), (60.0, True), (0.249, False),
                                             (60.001, False), (math.nan, False)])  # fmt: skip
def test_days_for_a_round_on_both_ends(days, known):
    found = crew_days(house(), days)
    assert found.known is known
    if known:
        assert found.value == len(house().rounds) * days


def test_last_lines_are_the_values():
    sequence = house()
    found = fewest_rounds(sequence)
    assert read_quantity(found.working.lines[-1].result, Kind.COUNT, "") == found.value
    days = crew_days(sequence, 1.5)
    assert read_quantity(days.working.lines[-1].result, Kind.DAYS, None) == days.value
    assert days.working.lines[-1].numbers == f"{len(sequence.rounds)} x 1.5"


@pytest.mark.parametrize(("most", "rounds"), [(1, 6), (2, 3), (3, 2), (6, 2), (200, 2)])
def test_no_more_pits_at_once_than_are_allowed(most, rounds):
    pits = [LinedPit(f"P{i}", "front", 60.0 + 120 * i, 36.0) for i in range(6)]
    found = plan_rounds(pits, [WallRun("front", 900.0, False)], Limits(48.0, 100.0, 0.0, pits=most))
    assert len(found.rounds) == rounds
    assert max(map(len, found.rounds)) <= most
    assert sorted(label for round_ in found.rounds for label in round_) == [p.label for p in pits]
    assert found.proved
    assert fewest_rounds(found).working.lines[-1].result == str(rounds)


@pytest.mark.parametrize("most", [0, -1, 201])
def test_a_number_of_pits_out_of_range(most):
    pits = [LinedPit("P", "front", 60.0, 36.0)]
    found = plan_rounds(pits, [WallRun("front", 900.0, False)], Limits(48.0, 100.0, 0.0, pits=most))
    assert "pits open at once" in found.reason
