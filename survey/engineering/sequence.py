"""Which pits may be open together, in how few rounds, and in what order the rounds follow."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import NamedTuple

from survey.engineering import _rounds
from survey.engineering._steps import inches, noted, number, outside
from survey.engineering.pit import LONGEST_OPENING_IN, SHORTEST_OPENING_IN
from survey.engineering.working import Line, Result, Working, not_known, within

_PER_IN = 1000  # the search counts in thousandths of an inch
_MOST_PITS = 200
_EFFORT = 16_000  # steps of the search: far more than sites need, soon over on one that is too hard
_NAMED = 8  # labels printed in a line of a working before the rest is only counted
_HIT_AND_MISS = "Chudley and Greeno, Building Construction Handbook, 8th ed., underpinning"
_VALID = "pits of up to 200 piers, each on its wall; to 0.001 in"


class LinedPit(NamedTuple):
    """A pit by its place in the line of a wall.

    Args:
        label: unique among the pits.
        wall: label of its wall.
        station_in: its middle along the wall, in, 0 to the wall's length.
        opening_in: length of wall that it undermines, at the underside of the footing, in, 6 to
            14,760.
    """

    label: str
    wall: str
    station_in: float
    opening_in: float


class WallRun(NamedTuple):
    """A wall in its place round the building.

    Args:
        label: unique among the walls.
        length_in: in, 12 to 6,000.
        meets_next: whether its right end meets the left end of the next wall, the first coming
            after the last. Where that is not known, ``True`` is the stricter.
    """

    label: str
    length_in: float
    meets_next: bool


class Limits(NamedTuple):
    """What the safety lead allows.

    Args:
        clear_spacing_in: least clear length of wall between openings open together, in, 0 to
            6,000.
        share_percent: greatest share of a wall's length undermined at once, %, 1 to 100.
        corner_distance_in: two pits on the two sides of a corner are not open together where the
            openings of both lie within this distance of it, in, 0 to 6,000.
        length_in: greatest length of one wall undermined at once, in, 6 to 6,000; ``None`` where
            only the share counts.
        neighbours_together: whether the next in line may be open together, where the spacing
            allows it. Hit and miss does not.
        pits: greatest number of pits open at once, 1 to 200; ``None`` where only the rest counts.
            Rounds of the search that hold more are split, which may be more rounds than are
            needed: then the fewest are not proved.
    """

    clear_spacing_in: float
    share_percent: float
    corner_distance_in: float
    length_in: float | None = None
    neighbours_together: bool = False
    pits: int | None = None


class Unfit(NamedTuple):
    """A pit that is allowed in no round, not even alone: for an engineer.

    Args:
        label: of the pit.
        reason: what it exceeds.
    """

    label: str
    reason: str


@dataclass(frozen=True, slots=True)
class PitSequence:
    """Rounds of pits that may be open together.

    Args:
        rounds: labels of the pits of each round, in the order of the work; in a round by wall
            and along it. Pits that fit no round are left out.
        least: no fewer rounds are possible for these pits.
        unfit: the pits that fit no round.
        order: one line for each round, to be read out.
        lines: the steps of a working, up to the bound.
        reason: why there is no sequence at all; empty if there is one.
    """

    rounds: tuple[tuple[str, ...], ...] = ()
    least: int = 0
    unfit: tuple[Unfit, ...] = ()
    order: tuple[str, ...] = ()
    lines: tuple[Line, ...] = ()
    reason: str = ""

    @property
    def proved(self) -> bool:
        """Whether it is proved that no sequence has fewer rounds."""
        return not self.reason and len(self.rounds) == self.least


def plan_rounds(
    pits: Sequence[LinedPit], walls: Sequence[WallRun], limits: Limits, effort: int = _EFFORT
) -> PitSequence:
    """Plan the rounds: which pits are open together, and which round follows which.

    The fewest rounds such that in each round (1) no two pits are next to each other in the line
    of a wall; (2) g = |s1 - s2| - (o1 + o2) / 2 is at least the clear spacing; (3) the sum of
    openings on each wall is at most room = share L / 100, and at most the length limit; (4) no
    two pits stand within the corner distance on the two sides of one corner, measured from the
    nearer edges of their openings. Rounds are of like size, as far as single moves make them so;
    they follow each other so that the fewest neighbours come in two rounds running.

    Args:
        pits: 1 to 200; their figures have their ranges there.
        walls: in order round the building, from left to right as seen from outside.
        limits: the safety lead's; they have their ranges there.
        effort: steps that the search may take, 0 to 1,000,000; the same on every machine.

    Returns:
        The sequence. It always keeps the limits; where the effort was not enough to prove that
        it has the fewest rounds, it has ``least`` below its number of rounds.

    Not known when:
        A figure is out of its range, a label is not unique or a wall not listed: then the
        sequence has a reason and no rounds.

    Source:
        Hit and miss, share of a wall, and that neighbours wait until a pit is made good: Chudley
        and Greeno, Building Construction Handbook, 8th ed., underpinning. Corners: common
        practice. The search is exact: packing with conflicts, by branch and bound.

    >>> bays = [LinedPit(f"B{i + 1}", "front", 20.0 + 40 * i, 40.0) for i in range(6)]
    >>> plan_rounds(bays, [WallRun("front", 240.0, False)], Limits(0.0, 50.0, 0.0)).rounds
    (('B1', 'B3', 'B5'), ('B2', 'B4', 'B6'))
    """
    reason = _out_of_range(pits, walls, limits, effort)
    if reason:
        return PitSequence(reason=reason)
    line = _Line(pits, walls, limits)
    shown = _shown(line)
    if not line.fit:
        return PitSequence(unfit=line.unfit, lines=shown)
    found = _rounds.fewest(line.problem, effort)
    members = [[line.fit[i] for i in _rounds.bits(held)] for held in found.rounds]
    least, bound = found.least.rounds, _bound(found.least, line)
    if limits.pits is not None:
        most = limits.pits
        members = [round_[i : i + most] for round_ in members for i in range(0, len(round_), most)]
        by_number = math.ceil(len(line.fit) / most)
        members = _spread(line, most, range(max(least, by_number), len(members))) or members
        if by_number > least:
            least = by_number
            bound = Line("kmin", "least rounds: pits open at once", "pits / most, rounded up",
                         f"{len(line.fit)} / {most}", str(least))  # fmt: skip
    return PitSequence(
        tuple(tuple(pit.label for pit in round_) for round_ in members),
        least,
        line.unfit,
        tuple(_read_out(members, line)),
        (*shown, bound),
    )


def fewest_rounds(sequence: PitSequence) -> Result:
    """Fewest rounds in which every pit can be dug.

    k = the number of rounds of the sequence, where it is proved that k - 1 are not enough.

    Args:
        sequence: from :func:`plan_rounds`.

    Returns:
        Number of rounds, without a unit. Where the fewest are not proved, not known but for the
        least and the most that it can be.

    Not known when:
        There is no sequence; a pit fits no round, not even alone; or the fewest are not proved.

    Source:
        As for :func:`plan_rounds`.

    >>> far = [LinedPit("A", "front", 40.0, 36.0), LinedPit("B", "front", 300.0, 36.0)]
    >>> wall = WallRun("front", 480.0, False)
    >>> fewest_rounds(plan_rounds(far, [wall], Limits(96.0, 25.0, 24.0))).value
    2.0
    """
    reason = _no_whole_sequence(sequence)
    if reason:
        return not_known(reason)
    count = len(sequence.rounds)
    last = Line("k", "rounds", "fewest that keep the limits", "", number(count), _HIT_AND_MISS)
    if sequence.proved:
        return Result(float(count), working=_working("Fewest rounds", *sequence.lines, last))
    open_ = Line("k", "rounds", "fewest that keep the limits", "",
                 f"at least {sequence.least}, at most {count}", _HIT_AND_MISS)  # fmt: skip
    return within(
        float(sequence.least),
        float(count),
        f"at least {sequence.least} and at most {count} rounds; that fewer than {count} can't "
        "do is not proved",
        _working("Fewest rounds", *sequence.lines, open_),
    )


def crew_days(sequence: PitSequence, days_a_round: float) -> Result:
    """Days that the crew works, round after round.

    D = k d, of the sequence as planned; if its rounds are not proved to be the fewest, there may
    be a shorter one.

    Args:
        sequence: from :func:`plan_rounds`.
        days_a_round: d, from breaking the ground of a round until its piers carry load and its
            pits are made good, days, 0.25 to 60.

    Returns:
        Days of work; days on which nobody works are not among them.

    Not known when:
        There is no sequence, a pit fits no round, or a figure is out of its range.

    Source:
        Counting; that a round waits for the one before it is Chudley and Greeno, Building
        Construction Handbook, 8th ed., underpinning.

    >>> one = plan_rounds([LinedPit("A", "front", 40.0, 36.0)], [WallRun("front", 480.0, False)],
    ...                   Limits(96.0, 25.0, 24.0))
    >>> crew_days(one, 1.5).value
    1.5
    """
    reason = _no_whole_sequence(sequence) or outside(
        ("days for a round", days_a_round, 0.25, 60.0, "days")
    )
    if reason:
        return not_known(reason)
    count = len(sequence.rounds)
    days = count * days_a_round
    each = number(days_a_round)
    told = "the fewest" if sequence.proved else f"of which at least {sequence.least} are needed"
    lines = (
        noted("k", f"rounds of the sequence, {told}", str(count)),
        noted("d", "days for a round", f"{each} days"),
        Line("D", "crew days", "k d", f"{count} x {each}", f"{number(days)} days"),
    )  # fmt: skip
    return Result(days, working=_working("Crew days", *lines))


def round_of_pit(sequence: PitSequence, label: str) -> Result:
    """The round in which a pit is dug.

    r = its place in the order of the sequence, from 1.

    Args:
        sequence: from :func:`plan_rounds`.
        label: of the pit.

    Returns:
        Number of the round, without a unit.

    Not known when:
        There is no sequence, or the pit fits no round or is not in it.

    Source:
        As for :func:`plan_rounds`.

    >>> one = plan_rounds([LinedPit("A", "front", 40.0, 36.0)], [WallRun("front", 480.0, False)],
    ...                   Limits(96.0, 25.0, 24.0))
    >>> round_of_pit(one, "A").value
    1.0
    """
    if sequence.reason:
        return not_known(sequence.reason)
    for pit, reason in sequence.unfit:
        if pit == label:
            return not_known(f"pit {label} fits no round: {reason}; for an engineer")
    for i, members in enumerate(sequence.rounds, start=1):
        if label in members:
            with_ = ", ".join(other for other in members if other != label) or "none"
            lines = (
                noted("k", "rounds of the sequence", str(len(sequence.rounds))),
                noted("", "pits open together with it", with_),
                noted("r", f"round of pit {label}", str(i), _HIT_AND_MISS),
            )
            return Result(float(i), working=_working("Round of the pit", *lines))
    return not_known(f"no pit of the sequence is called '{label}'")


def order_lines(sequence: PitSequence) -> tuple[str, ...]:
    """The rounds in words, one line each, then the pits that fit none.

    Args:
        sequence: from :func:`plan_rounds`.

    Returns:
        Lines with the pits by wall, and the length and share of each wall that is then open.

    Not known when:
        There is no sequence: the one line says why.

    Source:
        As for :func:`plan_rounds`.

    >>> one = plan_rounds([LinedPit("A", "front", 40.0, 36.0)], [WallRun("front", 480.0, False)],
    ...                   Limits(96.0, 25.0, 24.0))
    >>> order_lines(one)
    ('Round 1 of 1: wall front, A (36 in open, 7.5 %)',)
    """
    if sequence.reason:
        return (f"No sequence: {sequence.reason}",)
    unfit = (
        f"Pit {label} fits no round: {reason}; for an engineer" for label, reason in sequence.unfit
    )
    return (*sequence.order, *unfit)


def _working(title: str, *lines: Line) -> Working:
    return Working(title, _HIT_AND_MISS, _VALID, lines)


def _no_whole_sequence(sequence: PitSequence) -> str:
    if sequence.reason or not sequence.unfit:
        return sequence.reason
    return "; ".join(f"pit {label} fits no round: {reason}" for label, reason in sequence.unfit)


def _out_of_range(
    pits: Sequence[LinedPit], walls: Sequence[WallRun], limits: Limits, effort: int
) -> str:
    if not pits:
        return "no pit is listed"
    lengths = {wall.label: wall.length_in for wall in walls}
    for what, labels in (
        ("pits", [pit.label for pit in pits]),
        ("walls", [w.label for w in walls]),
    ):
        twice = [label for label, times in Counter(labels).items() if times > 1]
        if twice:
            return f"two {what} are called '{twice[0]}'"
    for pit in pits:
        if pit.wall not in lengths:
            return f"no wall is called '{pit.wall}'"
    at_once = () if limits.length_in is None else (
        ("length of wall open at once", limits.length_in, 6.0, 6000.0, "in"),
    )  # fmt: skip
    return outside(
        ("number of pits", len(pits), 1, _MOST_PITS, "pits"),
        ("pits open at once", 1 if limits.pits is None else limits.pits, 1, _MOST_PITS, "pits"),
        ("effort", effort, 0, 1_000_000, "steps"),
        ("clear spacing of open pits", limits.clear_spacing_in, 0.0, 6000.0, "in"),
        ("share of a wall open at once", limits.share_percent, 1.0, 100.0, "%"),
        ("corner distance", limits.corner_distance_in, 0.0, 6000.0, "in"),
        *at_once,
        *(("wall length", length, 12.0, 6000.0, "in") for length in lengths.values()),
    ) or outside(
        *(("station", pit.station_in, 0.0, lengths[pit.wall], "in") for pit in pits),
        *(
            ("opening at footing", pit.opening_in, SHORTEST_OPENING_IN, LONGEST_OPENING_IN, "in")
            for pit in pits
        ),
    )


def _spread(line: _Line, most: int, numbers: Iterable[int]) -> list[list[LinedPit]]:
    """Rounds of at most so many pits, dealt out along the line; none if no number works."""
    problem = line.problem
    for number_of_rounds in numbers:
        dealt: list[list[int]] = [[] for _ in range(number_of_rounds)]
        for i in range(len(line.fit)):
            turned = (dealt[(i + turn) % number_of_rounds] for turn in range(number_of_rounds))
            free = next((r for r in turned if len(r) < most and _goes_in(problem, i, r)), None)
            if free is None:
                break
            free.append(i)
        else:
            return [[line.fit[i] for i in held] for held in dealt if held]
    return []


def _goes_in(problem: _rounds.Problem, pit: int, held: Iterable[int]) -> bool:
    """Whether a pit may be open together with those of a round."""
    wall = problem.walls[pit]
    used = problem.sizes[pit]
    for other in held:
        if problem.conflicts[pit] >> other & 1:
            return False
        used += problem.sizes[other] if problem.walls[other] == wall else 0
    return used <= problem.room[wall]


class _Line:
    """Pits in line along the walls, and what may not be open together, in steps."""

    def __init__(self, pits: Sequence[LinedPit], walls: Sequence[WallRun], limits: Limits) -> None:
        self.walls, self.limits = walls, limits
        self.wall_numbers = {wall.label: i for i, wall in enumerate(walls)}
        self.pits = sorted(
            pits, key=lambda pit: (self.wall_numbers[pit.wall], pit.station_in, pit.label)
        )
        self.room = tuple(_room(wall, limits) for wall in walls)
        too_long = [
            _steps(pit.opening_in) > self.room[self.wall_numbers[pit.wall]] for pit in self.pits
        ]
        self.fit = [pit for pit, long in zip(self.pits, too_long, strict=True) if not long]
        self.unfit = tuple(
            self._unfit(pit) for pit, long in zip(self.pits, too_long, strict=True) if long
        )
        self.problem = _rounds.Problem(
            tuple(_steps(pit.opening_in) for pit in self.fit),
            tuple(self.wall_numbers[pit.wall] for pit in self.fit),
            self.room,
            self._conflicts(),
        )

    def _unfit(self, pit: LinedPit) -> Unfit:
        wall = self.walls[self.wall_numbers[pit.wall]]
        room = number(self.room[self.wall_numbers[pit.wall]] / _PER_IN)
        return Unfit(
            pit.label,
            f"it opens {number(pit.opening_in)} in of wall {wall.label}, where {room} in may be "
            "open at once",
        )

    def _conflicts(self) -> tuple[int, ...]:
        """For each pit that fits, as bits, those that may never be open together with it."""
        number_of = {pit.label: i for i, pit in enumerate(self.fit)}
        found = [0] * len(self.fit)

        def apart(one: LinedPit, other: LinedPit) -> None:
            i, j = number_of.get(one.label), number_of.get(other.label)
            if i is not None and j is not None and i != j:
                found[i] |= 1 << j
                found[j] |= 1 << i

        lines: dict[int, list[LinedPit]] = {i: [] for i in range(len(self.walls))}
        for pit in self.pits:
            lines[self.wall_numbers[pit.wall]].append(pit)
        spacing = 2 * _steps(self.limits.clear_spacing_in)
        for line in lines.values():
            if not self.limits.neighbours_together:
                for one, other in pairwise(line):  # in line with those that fit no round
                    apart(one, other)
            for one, other in combinations(line, 2):
                if _twice_gap(one, other) < spacing:
                    apart(one, other)
        for i, wall in enumerate(self.walls):
            if wall.meets_next:
                after = (i + 1) % len(self.walls)
                at_left = self._at_end(lines[after], 0.0)
                for one in self._at_end(lines[i], wall.length_in):
                    for other in at_left:
                        apart(one, other)
        return tuple(found)

    def _at_end(self, line: Iterable[LinedPit], end_in: float) -> list[LinedPit]:
        """Pits whose opening lies within the corner distance of an end of their wall."""
        near = 2 * _steps(self.limits.corner_distance_in)
        return [
            pit
            for pit in line
            if 2 * abs(_steps(pit.station_in) - _steps(end_in)) - _steps(pit.opening_in) <= near
        ]


def _steps(length_in: float) -> int:
    return round(length_in * _PER_IN)


def _room(wall: WallRun, limits: Limits) -> int:
    room = _steps(wall.length_in * limits.share_percent / 100)
    return room if limits.length_in is None else min(room, _steps(limits.length_in))


def _twice_gap(one: LinedPit, other: LinedPit) -> int:
    """Twice the clear length of wall between two openings, so that it is a whole number."""
    apart = abs(_steps(one.station_in) - _steps(other.station_in))
    return 2 * apart - _steps(one.opening_in) - _steps(other.opening_in)


def _shown(line: _Line) -> tuple[Line, ...]:
    """The lines of a working up to what each wall holds."""
    limits = line.limits
    rule = "may be open together" if limits.neighbours_together else "never open together"
    lines = [
        noted("N", "pits", str(len(line.pits))),
        inches("s", "least clear spacing of open pits", limits.clear_spacing_in),
        noted("share", "most of a wall's length open at once", f"{number(limits.share_percent)} %"),
        inches("c", "distance from a corner within which one side is open",
               limits.corner_distance_in),
        noted("", "neighbours in line", rule, _HIT_AND_MISS),
    ]  # fmt: skip
    if limits.length_in is not None:
        lines.append(inches("l", "most length of a wall open at once", limits.length_in))
    opened: dict[str, list[float]] = {wall.label: [] for wall in line.walls}
    for pit in line.pits:
        opened[pit.wall].append(pit.opening_in)
    for wall, room in zip(line.walls, line.room, strict=True):
        openings = opened[wall.label]
        if not openings:
            continue
        length, share = number(wall.length_in), number(limits.share_percent)
        formula, numbers = "share L / 100", f"{share} x {length} / 100"
        if limits.length_in is not None:
            formula = f"min({formula}, l)"
            numbers = f"min({numbers}, {number(limits.length_in)})"
        holds = _holds(openings, room)
        meaning = f"room on wall {wall.label}: {holds}"
        lines.append(Line("O", meaning, formula, numbers, f"{number(room / _PER_IN)} in"))
    for label, reason in line.unfit:
        lines.append(noted("", f"pit {label}: fits no round, for an engineer", reason))
    return tuple(lines)


def _holds(openings_in: Sequence[float], room: int) -> str:
    """How many of the openings of a wall its room holds at most, in words."""
    count, left = 0, room
    for opening in sorted(openings_in):
        left -= _steps(opening)
        if left < 0:
            break
        count += 1
    low, high = number(min(openings_in)), number(max(openings_in))
    sizes = f"{low} in" if low == high else f"{low} to {high} in"
    return f"{len(openings_in)} pits that open {sizes}, of which it holds at most {count}"


def _bound(least: _rounds.Least, line: _Line) -> Line:
    """Why there can't be fewer rounds."""
    pits = [line.fit[i] for i in least.pits]
    names = ", ".join(pit.label for pit in pits[:_NAMED])
    if len(pits) > _NAMED:
        names += f" and {len(pits) - _NAMED} more"
    wall = pits[0].wall
    formula, numbers = "", ""
    if least.why == "clique" and least.rounds == 1:
        meaning = "a pit needs a round"
    elif least.why == "clique":
        meaning = f"no two of these may be open together: {names}"
        if least.rounds == 2 and not line.limits.neighbours_together and _in_line(pits):
            meaning = f"neighbours in line need 2: {names}"
    elif least.why == "length":
        total = sum(_steps(pit.opening_in) for pit in pits) / _PER_IN
        room = line.room[line.wall_numbers[wall]] / _PER_IN
        meaning = f"all openings of wall {wall}, over its room"
        formula = "sum of openings / O, rounded up"
        numbers = f"{number(total)} / {number(room)}"
    elif least.why == "count":
        shortest = number(min(pit.opening_in for pit in pits))
        meaning = (
            f"{len(pits)} pits of wall {wall} open {shortest} in or more, of which its room "
            f"holds at most {least.fitting}"
        )
        formula, numbers = "pits / held, rounded up", f"{len(pits)} / {least.fitting}"
    else:
        meaning = f"every way into {least.rounds - 1} rounds was tried for {names}"
    return Line("kmin", f"least rounds: {meaning}", formula, numbers, str(least.rounds))


def _in_line(pits: Sequence[LinedPit]) -> bool:
    return len(pits) == 2 and pits[0].wall == pits[1].wall


def _read_out(rounds: Sequence[Sequence[LinedPit]], line: _Line) -> Iterable[str]:
    lengths = {wall.label: wall.length_in for wall in line.walls}
    for i, members in enumerate(rounds, start=1):
        by_wall: dict[str, list[LinedPit]] = {}
        for pit in members:
            by_wall.setdefault(pit.wall, []).append(pit)
        told = []
        for wall, pits in by_wall.items():
            opened = sum(pit.opening_in for pit in pits)
            share = number(100 * opened / lengths[wall], 1)
            labels = ", ".join(pit.label for pit in pits)
            told.append(f"wall {wall}, {labels} ({number(opened)} in open, {share} %)")
        yield f"Round {i} of {len(rounds)}: {'; '.join(told)}"
