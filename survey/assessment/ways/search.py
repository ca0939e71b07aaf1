"""The search for the smallest sets of steps that turn a site, whatever a step is.

A *judgement* of some choices gives what still holds the site up; of each it names the things that
it rests on: while none of these is touched, it stays. So every judgement that fails teaches
something of many others, which then need no judging.

Two levels. Which steps: every set that was tried in vain gives a list of further steps of which any
good set has at least one (a *core*); sets that hit every core are taken cheapest first. Which
values: the things of a set are tried by what was learned, jumping back over those that a failure
does not rest on. Both are complete, so what is found is every smallest set, cheapest first, unless
the effort ends before.
"""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

Step = TypeVar("Step", bound=Hashable)
Thing = TypeVar("Thing", bound=Hashable)
Value = TypeVar("Value", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Effort:
    """How much may be done before the search gives up; counted, so that it ends alike everywhere.

    Args:
        judgements: choices that are judged.
        sets: sets of steps that are looked at.
        tries: values that are tried by what was learned.
    """

    judgements: int
    sets: int = 3_000
    tries: int = 20_000


@dataclass(frozen=True, slots=True)
class Puzzle(Generic[Step, Thing, Value]):
    """What is searched.

    Args:
        judge: gives what holds the site up under some choices: of each the things it rests on;
            nothing if the site may go. A thing without a choice stays as it is.
        values: of a thing, those that may be chosen, the first to try first.
        steps: the step that touches a thing.
        cost: of a step by itself, and of a set; a set costs at least its steps.
    """

    judge: Callable[[Mapping[Thing, Value]], Iterable[frozenset[Thing]]]
    values: Callable[[Thing], tuple[Value, ...]]
    step: Callable[[Thing], Step]
    cost: Callable[[Step], int]
    cost_of_all: Callable[[frozenset[Step]], int]


@dataclass(frozen=True, slots=True)
class Good(Generic[Step, Thing, Value]):
    """A smallest set of steps, and choices with which the site may go."""

    steps: frozenset[Step]
    choices: Mapping[Thing, Value]


@dataclass(frozen=True, slots=True)
class Found(Generic[Step, Thing, Value]):
    """What a search found.

    Args:
        good: the smallest sets, cheapest first.
        all_told: whether there is none besides.
        judgements: how many choices were judged.
        against: where nothing is good, the things that what was tried last came to grief by.
    """

    good: tuple[Good[Step, Thing, Value], ...]
    all_told: bool
    judgements: int
    against: frozenset[Thing] = frozenset()


class _TooMuchError(Exception):
    """The effort has ended."""


@dataclass(frozen=True, slots=True)
class _Clash:
    """Why no values do, as sets of things: the decided ones it rests on, and what might help."""

    behind: int
    outside: int


class Search(Generic[Step, Thing, Value]):
    """Searches one puzzle, and keeps what it learns.

    Args:
        puzzle: what is searched.
        effort: how much may be done each time that something is asked.
    """

    # Sets of things are whole numbers with a bit for each thing: they are compared very often.

    def __init__(self, puzzle: Puzzle[Step, Thing, Value], effort: Effort) -> None:
        self._puzzle, self._effort, self._may = puzzle, effort, effort
        self._things: list[Thing] = []
        self._bits: dict[Thing, int] = {}
        self._step_of: list[Step] = []
        self._touched_by: dict[Step, int] = {}
        self._costs: dict[Step, int] = {}
        self._order: dict[Step, int] = {}
        self._lessons = _Lessons[Value]()
        self._good: set[frozenset[tuple[int, Value]]] = set()
        self._grief: dict[int, int] = {}
        self._cores: list[frozenset[Step]] = []
        self._judgements = self._sets = self._tries = self._against = 0

    def goes(self, choices: Mapping[Thing, Value]) -> bool | None:
        """Whether the site may go under some choices; none if that would take too much effort."""
        self._start()
        self._number(choices)
        known = {self._bits[t].bit_length() - 1: value for t, value in choices.items()}
        try:
            return not self._held_up(known)
        except _TooMuchError:
            return None

    def run(self, most: int) -> Found[Step, Thing, Value]:
        """Find the smallest sets of steps that are good, cheapest first, at most so many."""
        self._start()
        found: list[Good[Step, Thing, Value]] = []
        try:
            for good in self._every():
                found.append(good)
                if len(found) == most:
                    return Found(tuple(found), False, self._judgements)
        except _TooMuchError:
            return Found(tuple(found), False, self._judgements)
        return Found(tuple(found), True, self._judgements) if found else self._none()

    def some(self) -> Found[Step, Thing, Value]:
        """Find one smallest set, or that there is none, without looking for the cheapest.

        A set grows by the cheapest step that might help until it is good; then what can be left
        out of it is left out, the dearest first.
        """
        self._start()
        taken: frozenset[Step] = frozenset()
        try:
            while isinstance(fits := self._fit_steps(taken), _Clash):
                self._learn(fits.outside)
                helping = {self._step_of[at] for at in _places(fits.outside)}
                if not helping:
                    return self._none()
                taken |= {min(helping, key=lambda s: (self._costs[s], self._order[s]))}
            for step in sorted(taken, key=lambda s: (-self._costs[s], self._order[s])):
                fewer = self._fit_steps(self._steps(fits) - {step})
                if not isinstance(fewer, _Clash):
                    fits = fewer
        except _TooMuchError:
            return Found((), False, self._judgements)
        choices = {self._things[at]: value for at, value in fits.items()}
        return Found((Good(self._steps(fits), choices),), False, self._judgements)

    def _fit_steps(self, steps: frozenset[Step]) -> dict[int, Value] | _Clash:
        """Values of all that some steps touch with which the site may go, or why there are none."""
        self._against = 0
        return self._fit(sum(self._touched_by[step] for step in steps), {}, 0)

    def _none(self) -> Found[Step, Thing, Value]:
        against = frozenset(self._things[at] for at in _places(self._against))
        return Found((), True, self._judgements, against)

    def _start(self) -> None:
        """Count the effort anew."""
        each = self._effort
        self._may = Effort(
            self._judgements + each.judgements, self._sets + each.sets, self._tries + each.tries
        )
        self._against = 0

    def _steps(self, choices: Iterable[int]) -> frozenset[Step]:
        return frozenset(self._step_of[at] for at in choices)

    # Which steps

    def _every(self) -> Iterator[Good[Step, Thing, Value]]:
        """Each smallest good set; steps that an earlier branch has taken are not taken again."""
        nothing: frozenset[Step] = frozenset()
        number = itertools.count()
        waiting = [((0, 0), next(number), nothing, nothing)]
        found: list[frozenset[Step]] = []
        while waiting:
            bound, _, taken, barred = heapq.heappop(waiting)
            if any(good <= taken for good in found):
                continue
            now = self._least(taken, barred)
            if now is None:
                continue
            if now != bound:  # more was learned since it was put here
                heapq.heappush(waiting, (now, next(number), taken, barred))
                continue
            self._sets += 1
            if self._sets > self._may.sets:
                raise _TooMuchError
            core = min(
                (core for core in self._cores if core.isdisjoint(taken)),
                key=lambda core: len(core - barred), default=None,
            )  # fmt: skip
            if core is None:
                fits = self._fit_steps(taken)
                if isinstance(fits, _Clash):
                    self._learn(fits.outside)
                    heapq.heappush(waiting, (bound, next(number), taken, barred))
                else:
                    found.append(taken)
                    yield Good(taken, {self._things[at]: value for at, value in fits.items()})
                continue
            left = sorted(core - barred, key=lambda s: (self._costs[s], self._order[s]))
            for i, step in enumerate(left):
                more, no_more = taken | {step}, barred | set(left[:i])
                least = self._least(more, no_more)
                if least is not None:
                    heapq.heappush(waiting, (least, next(number), more, no_more))

    def _learn(self, things: int) -> None:
        """That a good set touches one of some things; what this makes idle is forgotten."""
        core = frozenset(self._step_of[at] for at in _places(things))
        if not any(other <= core for other in self._cores):
            self._cores = [other for other in self._cores if not core <= other]
            self._cores.append(core)
            self._cores.sort(key=len)

    def _least(self, taken: frozenset[Step], barred: frozenset[Step]) -> tuple[int, int] | None:
        """What any good set beyond these costs at least, and how many steps it has.

        None if there can't be one: all the steps of a core are barred.
        """
        money, number = self._puzzle.cost_of_all(taken), len(taken)
        seen: set[Step] = set()
        for core in self._cores:
            if core.isdisjoint(taken):
                left = core - barred
                if not left:
                    return None
                if left.isdisjoint(seen):
                    seen |= left
                    money += min(map(self._costs.__getitem__, left))
                    number += 1
        return money, number

    # Which values

    def _fit(
        self, may: int, decided: dict[int, Value | None], decided_set: int
    ) -> dict[int, Value] | _Clash:
        """Values with which the site may go, or why there are none.

        Args:
            may: the things that may be touched.
            decided: what was decided of some, by their places; none is as it is.
            decided_set: the same things.
        """
        self._tries += 1
        if self._tries > self._may.tries:
            raise _TooMuchError
        choices = {at: value for at, value in decided.items() if value is not None}
        lessons = self._held_up(choices)
        if not lessons:
            return choices
        free = may & ~decided_set
        # The fewest to decide first, and what came to grief before sooner than the rest.
        lesson = min(
            lessons,
            key=lambda one: (
                (one & free).bit_count() / (1 + self._grief.get(one, 0)), one.bit_count(), one
            ),
        )  # fmt: skip
        if not lesson & free:
            self._against |= lesson
            self._grief[lesson] = self._grief.get(lesson, 0) + 1
            return _Clash(lesson & decided_set, lesson & ~may)
        at = min(_places(lesson & free), key=lambda at: (self._costs[self._step_of[at]], at))
        bit, behind, outside = 1 << at, 0, 0
        for value in (*self._puzzle.values(self._things[at]), None):
            fits = self._fit(may, {**decided, at: value}, decided_set | bit)
            if not isinstance(fits, _Clash) or not fits.behind & bit:
                return fits
            behind |= fits.behind
            outside |= fits.outside
        return _Clash(behind & ~bit, outside)

    def _held_up(self, choices: Mapping[int, Value]) -> list[int]:
        """What is known to hold the site up; judged only if nothing that was learned does."""
        lessons = self._lessons.holding(choices)
        key = frozenset(choices.items())
        if lessons or key in self._good:
            return lessons
        if self._judgements >= self._may.judgements:
            raise _TooMuchError
        self._judgements += 1
        touched = sum(1 << at for at in choices)
        found = self._puzzle.judge({self._things[at]: value for at, value in choices.items()})
        for things in sorted(map(self._number, found)):
            self._lessons.add(things, touched, choices)
            if not things & touched:  # so it is while none of them is touched at all
                self._learn(things)
        if self._lessons.holding(choices):
            return self._lessons.holding(choices)
        self._good.add(key)
        return []

    def _number(self, things: Iterable[Thing]) -> int:
        """A set of things as a number; new ones get their bits."""
        for thing in sorted(set(things) - self._bits.keys(), key=repr):
            step, bit = self._puzzle.step(thing), 1 << len(self._things)
            self._things.append(thing)
            self._bits[thing] = bit
            self._step_of.append(step)
            self._touched_by[step] = self._touched_by.get(step, 0) | bit
            if step not in self._order:
                self._order[step] = len(self._order)
                self._costs[step] = self._puzzle.cost(step)
        return sum(self._bits[thing] for thing in set(things))


def _places(things: int) -> Iterator[int]:
    """The places of the things in a set."""
    while things:
        lowest = things & -things
        yield lowest.bit_length() - 1
        things ^= lowest


class _Lessons(Generic[Value]):
    """Learned: values of some things with which the site can't go, whatever the rest is."""

    def __init__(self) -> None:
        self._by_touched: dict[frozenset[tuple[int, Value]], dict[int, int]] = {}
        self._by_one: dict[tuple[int, Value] | None, list[frozenset[tuple[int, Value]]]] = {}

    def add(self, things: int, touched: int, choices: Mapping[int, Value]) -> None:
        """That these things, as they are under some choices, hold the site up."""
        items = frozenset((at, choices[at]) for at in _places(things & touched))
        as_is = things & ~touched
        known = self._by_touched.get(items)
        if known is None:
            known = self._by_touched[items] = {}
            one = min(items, key=lambda item: item[0], default=None)
            self._by_one.setdefault(one, []).append(items)
        if any(not other & ~as_is for other in known):
            return
        for other in [other for other in known if not as_is & ~other]:
            del known[other]
        known[as_is] = things

    def holding(self, choices: Mapping[int, Value]) -> list[int]:
        """Those that hold under some choices: of each the things it rests on."""
        items, touched = choices.items(), sum(1 << at for at in choices)
        found: list[int] = []
        for one in (None, *items):
            for some in self._by_one.get(one, ()):
                if some <= items:
                    known = self._by_touched[some]
                    found += [things for as_is, things in known.items() if not as_is & touched]
        return found
