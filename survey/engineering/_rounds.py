"""Search for the fewest rounds in which every pit can be open once.

Each wall has room for so much opened length in a round, and certain pits may never be open
together: packing with conflicts. Walls meet only in the conflicts at their corners, so the
search settles the pits at the corners first; after that each wall stands alone, and which round
is which does not matter to it. Lengths are whole steps, so that nothing rests on rounding, and
effort is counted in steps of the search, not in seconds, so that every machine finds the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from functools import cached_property
from typing import NamedTuple

_CLIQUE_STEPS = 2000
_MOST_WEIGHED = 7  # rounds of which every order is weighed


class Problem(NamedTuple):
    """Pits by their number, wall by wall and along each wall.

    Args:
        sizes: opened length of each pit, steps, at least 1 and at most the room of its wall.
        walls: number of the wall of each pit, never falling.
        room: what a round may open of each wall, steps.
        conflicts: for each pit, as bits, those that may never be open together with it.
    """

    sizes: tuple[int, ...]
    walls: tuple[int, ...]
    room: tuple[int, ...]
    conflicts: tuple[int, ...]


class Least(NamedTuple):
    """A number of rounds that can't be gone below, and why.

    Args:
        rounds: the number.
        why: ``clique`` (no two of the pits may be open together; it may be a single pit),
            ``length`` (all pits of one wall, by their length), ``count`` (of these pits of one
            wall at most ``fitting`` fit in one round) or ``search`` (every way was tried).
        pits: those that it rests on.
        fitting: for ``count``.
    """

    rounds: int
    why: str
    pits: tuple[int, ...]
    fitting: int = 0


class Found(NamedTuple):
    """Rounds that hold every pit.

    Args:
        rounds: the pits of each round, as bits, in the order of the work.
        least: the highest bound that is proved; the rounds are the fewest if they are as many.
    """

    rounds: tuple[int, ...]
    least: Least


class _Spent(Exception):
    """The search has taken all the steps that it may."""


class _Effort:
    __slots__ = ("left",)

    def __init__(self, left: int) -> None:
        self.left = left

    def spend(self) -> None:
        if self.left <= 0:
            raise _Spent
        self.left -= 1


def bits(mask: int) -> Iterator[int]:
    """The numbers whose bits are set, from the lowest.

    >>> list(bits(0b1011))
    [0, 1, 3]
    """
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


def mask_of(pits: Iterable[int]) -> int:
    """Numbers as bits.

    >>> mask_of([0, 1, 3])
    11
    """
    mask = 0
    for pit in pits:
        mask |= 1 << pit
    return mask


def fewest(problem: Problem, effort: int) -> Found:
    """The fewest rounds for at least one pit, in a good order.

    Args:
        problem: the pits.
        effort: steps that the search may take.

    Returns:
        Rounds that hold every pit. They are spread as evenly as single moves can, and follow
        each other so that the fewest neighbours in line come in two rounds running.
    """
    site = _Site(problem)
    parts = sorted(site.parts(), key=lambda part: -part.least.rounds)
    least = parts[0].least
    count, left = least.rounds, effort
    solved: list[list[int]] = []
    for part in parts:
        while True:
            rounds = part.strided(count)
            if rounds is None:
                share = _Effort(left // 2)  # the other half is for a second look, with more rounds
                left -= share.left
                try:
                    rounds = part.searched(count, share)
                except _Spent:
                    rounds = part.greedy if len(part.greedy) <= count else None
                else:
                    if rounds is None:
                        least = Least(count + 1, "search", tuple(bits(part.pits)))
                left += share.left
            if rounds is not None:
                solved.append(rounds)
                break
            count += 1
    together = [0] * count
    for part, rounds in zip(parts, solved, strict=True):
        _lay_over(together, part.strided(count) or rounds)
    site.spread(together)
    return Found(tuple(site.ordered(together)), least)


def _lay_over(together: list[int], rounds: Iterable[int]) -> None:
    """Add rounds of pits that have nothing to do with the others: the fullest to the emptiest."""
    emptiest = sorted(range(len(together)), key=lambda r: (together[r].bit_count(), r))
    fullest = sorted(rounds, key=lambda held: (-held.bit_count(), held & -held))
    for r, held in zip(emptiest, fullest, strict=False):
        together[r] |= held


class _Site:
    """All pits, and what is true of them whatever the rounds."""

    def __init__(self, problem: Problem) -> None:
        self.sizes, self.walls, self.room, self.conflicts = problem
        self.wall_mask = [0] * len(self.room)
        for pit, wall in enumerate(self.walls):
            self.wall_mask[wall] |= 1 << pit

    def fits(self, pit: int, held: int) -> bool:
        """Whether a pit may be opened in a round beside those that it holds."""
        if self.conflicts[pit] & held:
            return False
        wall = self.walls[pit]
        opened = sum(self.sizes[other] for other in bits(held & self.wall_mask[wall]))
        return opened + self.sizes[pit] <= self.room[wall]

    def parts(self) -> Iterator[_Part]:
        """Walls with pits, each with those that it hangs together with by its corners."""
        left = [wall for wall, mask in enumerate(self.wall_mask) if mask]
        while left:
            found, reach = [left.pop(0)], 0
            for wall in found:  # it grows while it is walked through
                for pit in bits(self.wall_mask[wall]):
                    reach |= self.conflicts[pit]
                joined = [other for other in left if self.wall_mask[other] & reach]
                found += joined
                left = [other for other in left if other not in joined]
            yield _Part(self, sorted(found))

    def spread(self, rounds: list[int]) -> None:
        """Move single pits from fuller rounds to emptier ones, while that makes them more alike."""
        while self._moved(rounds):
            pass

    def _moved(self, rounds: list[int]) -> bool:
        order = sorted(range(len(rounds)), key=lambda r: (rounds[r].bit_count(), r))
        for full in reversed(order):
            for empty in order:
                if rounds[full].bit_count() - rounds[empty].bit_count() < 2:
                    break
                for pit in bits(rounds[full]):
                    if self.fits(pit, rounds[empty]):
                        rounds[full] ^= 1 << pit
                        rounds[empty] |= 1 << pit
                        return True
        return False

    def ordered(self, rounds: Sequence[int]) -> list[int]:
        """Rounds in an order in which few neighbours come in two rounds running.

        Neighbours are the next in line on a wall and those that a corner keeps apart. Of equal
        orders the one that starts nearest to the first pit is taken.
        """
        rounds = sorted(rounds, key=lambda held: held & -held)
        round_of = {pit: r for r, held in enumerate(rounds) for pit in bits(held)}
        near = [[0] * len(rounds) for _ in rounds]
        for pit, wall in enumerate(self.walls):
            beside = self.conflicts[pit] & ~self.wall_mask[wall]
            beside |= 1 << pit + 1 & self.wall_mask[wall] | (1 << pit >> 1) & self.wall_mask[wall]
            for other in bits(beside):
                near[round_of[pit]][round_of[other]] += 1
        order = _nearest_last(near) if len(rounds) > _MOST_WEIGHED else _best_path(near)
        return [rounds[r] for r in order]


def _best_path(near: Sequence[Sequence[int]]) -> tuple[int, ...]:
    """The order of all with the least sum of ``near`` from each to the next."""
    best: dict[tuple[int, int], tuple[int, tuple[int, ...]]]
    best = {(1 << r, r): (0, (r,)) for r in range(len(near))}
    for _ in range(len(near) - 1):
        longer: dict[tuple[int, int], tuple[int, tuple[int, ...]]] = {}
        for (done, last), (cost, path) in best.items():
            for r, more in enumerate(near[last]):
                if not done >> r & 1:
                    key, found = (done | 1 << r, r), (cost + more, (*path, r))
                    if key not in longer or found < longer[key]:
                        longer[key] = found
        best = longer
    return min(best.values())[1]


def _nearest_last(near: Sequence[Sequence[int]]) -> list[int]:
    """An order of many: after each the one that is least near to it."""
    order, left = [0], list(range(1, len(near)))
    while left:
        order.append(min(left, key=lambda r: (near[order[-1]][r], r)))
        left.remove(order[-1])
    return order


class _Part:
    """Walls that hang together by their corners.

    Args:
        site: all pits.
        walls: the numbers of these walls.
    """

    def __init__(self, site: _Site, walls: Sequence[int]) -> None:
        self._site = site
        self._by_wall = {wall: list(bits(site.wall_mask[wall])) for wall in walls}
        self.pits = mask_of(pit for pits in self._by_wall.values() for pit in pits)
        self._at_corners = {
            wall: [pit for pit in pits if site.conflicts[pit] & ~site.wall_mask[wall]]
            for wall, pits in self._by_wall.items()
        }

    @cached_property
    def least(self) -> Least:
        """The highest of the bounds that need no search."""
        bounds = [self._clique()]
        for wall, pits in self._by_wall.items():
            bounds += _by_room(pits, self._site.sizes, self._site.room[wall])
        return max(bounds, key=lambda bound: bound.rounds)

    def _clique(self) -> Least:
        """A large group of which no two may be open together; it need not be the largest."""
        best = 0
        effort = _Effort(_CLIQUE_STEPS)

        def grow(chosen: int, may: int) -> None:
            nonlocal best
            effort.spend()
            if chosen.bit_count() > best.bit_count():
                best = chosen
            while may and chosen.bit_count() + may.bit_count() > best.bit_count():
                low = may & -may
                may ^= low
                grow(chosen | low, may & self._site.conflicts[low.bit_length() - 1])

        with suppress(_Spent):  # what was found is a group all the same
            grow(0, self.pits)
        return Least(best.bit_count(), "clique", tuple(bits(best)))

    @cached_property
    def greedy(self) -> list[int]:
        """Rounds that hold every pit, found without a search: the longest first, first fit."""
        rounds: list[int] = []
        for pit in _longest_first(bits(self.pits), self._site.sizes):
            for i, held in enumerate(rounds):
                if self._site.fits(pit, held):
                    rounds[i] |= 1 << pit
                    break
            else:
                rounds.append(1 << pit)
        return rounds

    def strided(self, count: int) -> list[int] | None:
        """Every so-many-th pit of each wall in one round, if that is allowed.

        Pits that are open together then stand far from each other, and rounds are alike.
        """
        conflicts, sizes = self._site.conflicts, self._site.sizes
        rounds = [0] * count
        for wall, pits in self._by_wall.items():
            classes = [pits[i::count] for i in range(count)]
            masks = [mask_of(members) for members in classes]
            for members, held in zip(classes, masks, strict=True):
                if sum(sizes[pit] for pit in members) > self._site.room[wall] or any(
                    conflicts[pit] & held for pit in members
                ):
                    return None
            at = {pit: i % count for i, pit in enumerate(pits)}
            for shift in range(count):
                if not any(
                    conflicts[pit] & rounds[(at[pit] + shift) % count]
                    for pit in self._at_corners[wall]
                ):
                    break
            else:
                return None  # another shift of an earlier wall may do: that is left to the search
            for i, held in enumerate(masks):
                rounds[(i + shift) % count] |= held
        return rounds

    def searched(self, count: int, effort: _Effort) -> list[int] | None:
        """Rounds that hold every pit; none if there is no way, all of them having been tried.

        Raises:
            _Spent: the effort ran out first.
        """
        alone: dict[int, list[int]] = {}
        for wall in self._by_wall:
            filled = self._filled(wall, count, (), effort)
            if filled is None:
                return None
            alone[wall] = filled
        at_corners = mask_of(pit for pits in self._at_corners.values() for pit in pits)
        kept: dict[tuple[int, ...], list[int] | None] = {}

        def whole(wall: int, begun: tuple[int, ...]) -> list[int] | None:
            key = (wall, *begun)
            if key not in kept:
                kept[key] = self._filled(wall, count, begun, effort)
            return kept[key]

        # First with every wall as it was filled alone, then with all ways to split its corner pits.
        split = {
            pit: held & at_corners for ways in alone.values() for held in ways for pit in bits(held)
        }
        return self._settled(count, effort, lambda wall, _: alone[wall], split) or self._settled(
            count, effort, whole
        )

    def _settled(
        self,
        count: int,
        effort: _Effort,
        whole: Callable[[int, tuple[int, ...]], list[int] | None],
        split: Mapping[int, int] | None = None,
    ) -> list[int] | None:
        """Rounds for the pits at corners such that each wall can be filled; then all of them.

        Args:
            count: rounds.
            effort: what is left of it.
            whole: the rounds of a wall of which some are begun, if there is a way. To one wall it
                is the same which round is which; only who shares one counts.
            split: for each pit at a corner, those of its wall there that must share its round,
                itself among them, and no others may; without it, all ways are tried.
        """
        corners = [(wall, pit) for wall, pits in self._at_corners.items() for pit in pits]
        last_of = {wall: i for i, (wall, _) in enumerate(corners)}
        rounds = [0] * count

        def filled(wall: int) -> list[int] | None:
            mask = self._site.wall_mask[wall]
            return whole(wall, tuple(sorted(held & mask for held in rounds if held & mask)))

        def allowed(pit: int, held: int, wall: int) -> bool:
            if split is None:
                return True
            own, shared = held & self._site.wall_mask[wall], split[pit]
            return not own & ~shared and not any(r & shared for r in rounds if r != held)

        def settle(i: int) -> bool:
            if i == len(corners):
                return True
            effort.spend()
            wall, pit = corners[i]
            for r, held in enumerate(rounds):
                if allowed(pit, held, wall) and self._site.fits(pit, held):
                    rounds[r] = held | 1 << pit
                    if (i < last_of[wall] or filled(wall) is not None) and settle(i + 1):
                        return True
                    rounds[r] = held
                if not held:
                    break  # the rounds after it are empty too, and no different
            return False

        if not settle(0):
            return None
        for wall, ways in [(wall, filled(wall) or []) for wall in self._by_wall]:
            _join(rounds, ways, self._site.wall_mask[wall])
        return rounds

    def _filled(
        self, wall: int, count: int, begun: tuple[int, ...], effort: _Effort
    ) -> list[int] | None:
        """Rounds of every pit of one wall, some already begun; none if there is no way."""
        search = _OneWall(self._site, wall, count, begun, effort)
        return [held for held in search.held if held] if search.place_all() else None


def _join(rounds: list[int], filled: Iterable[int], wall: int) -> None:
    """Put the rounds of one wall to those of all walls, which hold its corner pits already."""
    settled = [held & wall for held in rounds]
    free = [r for r, own in enumerate(settled) if not own]
    free.sort(key=lambda r: rounds[r].bit_count())
    for held in sorted(filled, key=lambda held: (-held.bit_count(), held & -held)):
        here = next((r for r, own in enumerate(settled) if own & held), None)
        rounds[free.pop(0) if here is None else here] |= held


class _OneWall:
    """Search for a way to put all pits of one wall into so many rounds."""

    def __init__(
        self, site: _Site, wall: int, count: int, begun: Sequence[int], effort: _Effort
    ) -> None:
        self._sizes, self._conflicts = site.sizes, site.conflicts
        self._room, self._count, self._effort = site.room[wall], count, effort
        self.held = [*begun, *[0] * (count - len(begun))]
        self._loads = [sum(site.sizes[pit] for pit in bits(held)) for held in self.held]
        self._blocked = [0] * count
        for r, held in enumerate(self.held):
            for pit in bits(held):
                self._blocked[r] |= site.conflicts[pit]
        self._begun = len(begun)
        left = site.wall_mask[wall] & ~sum(begun)
        self._left = _longest_first(bits(left), site.sizes)

    def place_all(self) -> bool:
        """Whether there is a way; if so, it is in ``held``."""
        return self._place(self._left, sum(self._sizes[pit] for pit in self._left), self._begun)

    def _place(self, left: list[int], total: int, begun: int) -> bool:
        if not left:
            return True
        self._effort.spend()
        loads, blocked, room = self._loads, self._blocked, self._room
        most = room - self._sizes[left[-1]]  # a round with more in it takes none of them
        spare = room * self._count - sum(load if load <= most else room for load in loads)
        if spare < total:
            return False
        # The pit with the fewest ways goes first, of equals the longest.
        could = range(min(begun + 1, self._count))  # of the empty rounds one stands for all
        chosen, ways = -1, list[int]()
        for pit in left:
            bit, most = 1 << pit, room - self._sizes[pit]
            may = [r for r in could if loads[r] <= most and not blocked[r] & bit]
            if chosen < 0 or len(may) < len(ways):
                chosen, ways = pit, may
                if len(may) < 2:
                    break
        after = [pit for pit in left if pit != chosen]
        size, of_after = self._sizes[chosen], mask_of(after)
        tried = set()
        for r in sorted(ways, key=lambda r: -loads[r]):
            alike = (loads[r], blocked[r] & of_after)
            if alike in tried:
                continue
            tried.add(alike)
            before = self.held[r], loads[r], blocked[r]
            self.held[r] |= 1 << chosen
            loads[r] += size
            blocked[r] |= self._conflicts[chosen]
            if self._place(after, total - size, max(begun, r + 1)):
                return True
            self.held[r], loads[r], blocked[r] = before
        return False


def _longest_first(pits: Iterable[int], sizes: Sequence[int]) -> list[int]:
    return sorted(pits, key=lambda pit: (-sizes[pit], pit))


def _by_room(pits: Iterable[int], sizes: Sequence[int], room: int) -> Iterator[Least]:
    """Bounds of one wall by the room that a round has on it."""
    longest = _longest_first(pits, sizes)
    total = sum(sizes[pit] for pit in longest)
    yield Least(-(-total // room), "length", tuple(longest))
    best = Least(0, "count", ())
    for j in range(1, len(longest) + 1):
        fitting, opened = 0, 0
        for pit in reversed(longest[:j]):  # the most that fit are the shortest of them
            opened += sizes[pit]
            if opened > room:
                break
            fitting += 1
        rounds = -(-j // fitting)
        if rounds >= best.rounds:
            best = Least(rounds, "count", tuple(longest[:j]), fitting)
    yield best
