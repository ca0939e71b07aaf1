"""Where the things of a survey stand in one plan, as far as its answers tell.

Walls are laid end to end as far as length and turn are known; where one is not, a new run of
walls begins, and nothing is said of distances between runs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property
from typing import NamedTuple

from survey.engineering import layout
from survey.engineering.working import Input, Quantity, Result, not_known
from survey.quantities.inputs import PLACED, Asked, Part, worked
from survey.quantities.pits import Pit


class Plan:
    """The walls of a survey in plan."""

    def __init__(self, site: Asked, walls: Sequence[Asked]) -> None:
        self.site = site
        self.walls = {wall.label: wall for wall in walls}
        self._order = {label: i for i, label in enumerate(self.walls)}
        self._faces = dict(zip(self.walls, _faces(walls), strict=True))
        self._links: dict[tuple[str, str], Quantity] = {}

    def face(self, wall: str) -> layout.Face:
        """The outside face of a wall, in the plan of its run."""
        return self._faces[wall]

    def wall_named(self, given: Input) -> Quantity:
        """The wall that a reference names, if it is listed."""
        return worked(self._listed, given)

    def wall_at(self, ref: Quantity) -> Asked | None:
        """The answers of that wall; none if it is not known which it is."""
        return self.walls[str(ref.result.value)] if ref.result.known else None

    def _listed(self, label: str) -> Result:
        if label in self.walls:
            return Result(label)
        return not_known(f"no wall is called '{label}'")

    def link(self, one: str, other: str) -> Quantity:
        """Whether two walls can be drawn in one plan, and the answers that this rests on."""
        found = self._links.get((one, other))
        if found is None:
            first, last = sorted((one, other), key=self._order.__getitem__)
            found = self._links[one, other] = self._joined(first, last)
        return found

    def _joined(self, first: str, last: str) -> Quantity:
        if first == last:
            return Quantity(PLACED)
        labels = list(self.walls)[self._order[first] : self._order[last]]
        between = [self.walls[label] for label in labels]
        listed = worked(
            lambda walls: PLACED if walls == "all the way round" else not_known(
                f"walls {first} and {last} can't be put in one plan yet: list every wall, in "
                "order, and answer 'all the way round' to 'walls listed'"
            ),
            self.site["walls listed"],
        )  # fmt: skip
        lengths = [wall["wall length"] for wall in between]
        turns = [wall["turn at right end"] for wall in between]

        def placed(_: str, *figures: float) -> Result:
            count = len(lengths)
            reason = layout.wall_out_of_range(figures[:count], figures[count:])
            return not_known(reason) if reason else PLACED

        return worked(placed, listed, *lengths, *turns)


def _faces(walls: Sequence[Asked]) -> list[layout.Face]:
    faces: list[layout.Face] = []
    lengths: list[float] = []
    turns: list[float] = []
    for wall in walls:
        length, turn = wall.value("wall length"), wall.value("turn at right end")
        if (
            isinstance(length, (int, float))
            and isinstance(turn, (int, float))
            and not layout.wall_out_of_range([length], [turn])
        ):
            lengths.append(length)
            turns.append(turn)
        else:
            faces += layout.lay_walls(lengths, turns)  # the last one is the face of this wall
            lengths, turns = [], []
    return faces + list(layout.lay_walls(lengths, turns)[:-1])


class PitPlan:
    """A pit in plan.

    At the ground it is drawn with its slope and with what it takes from under the wall; the
    edge of its floor is drawn without either, but from inside through the wall to its face.

    Args:
        pit: the pit.
        plan: the walls.
    """

    def __init__(self, pit: Pit, plan: Plan) -> None:
        self.pit, self._plan = pit, plan

    @cached_property
    def floor(self) -> Quantity:
        """Whether the outline of its floor can be drawn."""
        parts = (*self._placed, *self._wall_thickness) if self.pit.inside else self._placed
        return worked(lambda *_: self._limits(0.0, self._floor_under_in), *parts)

    @cached_property
    def ground(self) -> Quantity:
        """Whether its outline at the ground, slope and all, can be drawn."""
        return worked(
            lambda reach, *_: self._limits(reach, self._thickness_in),
            self.pit.reach, *self._placed, *self._wall_thickness,
        )  # fmt: skip

    @cached_property
    def floor_corners(self) -> layout.Corners:
        """Outline of the floor, where it can be drawn."""
        return self._corners(0.0, self._floor_under_in)

    @cached_property
    def ground_corners(self) -> layout.Corners:
        """Outline at the ground, where it can be drawn."""
        reach = self.pit.reach.result.value
        assert isinstance(reach, (int, float))
        return self._corners(reach, self._thickness_in)

    @cached_property
    def tube_places(self) -> layout.Corners:
        """Where the tube may go down: straight out from the wall, over the width of the pit."""
        number = self.pit.asked.number
        face = self._plan.face(str(self.pit.ref.result.value))
        station, width = number("station"), number("pit width")
        out = -(self._thickness_in + width) if self.pit.inside else width
        return face.point(station, 0.0), face.point(station, out)

    @cached_property
    def stands(self) -> Quantity:
        """Whether it is known where the pier stands."""
        return worked(lambda *_: PLACED, self.pit.ref, self.pit.asked["station"])

    @cached_property
    def place(self) -> layout.Point:
        """Where the pier stands, on the outside face of its wall, where that is known."""
        face = self._plan.face(str(self.pit.ref.result.value))
        return face.point(self.pit.asked.number("station"), 0.0)

    def to_others(self, others: Sequence[PitPlan]) -> Iterator[tuple[Quantity, Quantity]]:
        """Clearance between the two pits and distance between the two piers, for each other."""
        clear = self._clear_of(others)
        for pit in others:
            linked = _link(self._plan, self.pit.ref, pit.pit.ref)
            yield (
                worked(lambda *_, pit=pit: clear[pit], self.ground, pit.ground, linked),
                worked(
                    lambda *_, pit=pit: layout.distance_between_piers(self.place, pit.place),
                    self.stands,
                    pit.stands,
                    linked,
                ),
            )

    def _clear_of(self, others: Sequence[PitPlan]) -> Mapping[PitPlan, Result]:
        """Clearance to each other pit, where both can be drawn."""
        if not self.ground.result.known:
            return {}
        return _at_once(
            lambda outlines: layout.clearance_between_pits(self.ground_corners, outlines),
            _grounds(others),
        )

    @cached_property
    def _placed(self) -> tuple[Part, ...]:
        words = ("station", "pit length", "pit width", "pit reached from")
        return (self.pit.ref, *self.pit.asked.some(*words))

    @property
    def _wall_thickness(self) -> tuple[Part, ...]:
        return () if self.pit.wall is None else (self.pit.wall["wall thickness"],)

    @property
    def _thickness_in(self) -> float:
        assert self.pit.wall is not None
        return self.pit.wall.number("wall thickness")

    @property
    def _floor_under_in(self) -> float:
        return self._thickness_in if self.pit.inside else 0.0

    def _limits(self, reach_in: float, under_in: float) -> Result:
        number = self.pit.asked.number
        reason = layout.pit_out_of_range(
            number("station"), number("pit length"), number("pit width"),
            reach_in=reach_in, wall_in=under_in,
        )  # fmt: skip
        return not_known(reason) if reason else PLACED

    def _corners(self, reach_in: float, under_in: float) -> layout.Corners:
        number = self.pit.asked.number
        return layout.pit_corners(
            self._plan.face(str(self.pit.ref.result.value)),
            number("station"), number("pit length"), number("pit width"),
            reach_in=reach_in, under_in=under_in, inside=self.pit.inside,
        )  # fmt: skip


class Clearances(NamedTuple):
    """How far in plan a line is from a pit.

    Args:
        edge: clear distance from the edge of the pit at the ground.
        floor: clear distance from the edge of its floor.
        tube: least distance from the middle of the line to where the tube may go down.
    """

    edge: Quantity
    floor: Quantity
    tube: Quantity


class Utility:
    """A line in plan, and the pits that it may run past."""

    def __init__(self, utility: Asked, plan: Plan, pits: Sequence[PitPlan]) -> None:
        self.asked, self._plan, self._pits = utility, plan, pits
        self.wall = plan.wall_named(utility["wall of utility"])
        self.placed = worked(
            lambda *_: PLACED,
            self.wall,
            *utility.some(
                "utility start station", "utility start offset", "utility end station",
                "utility end offset",
            ),
        )  # fmt: skip

    @cached_property
    def ends(self) -> tuple[layout.Point, layout.Point]:
        """Its two ends, where they are known."""
        face, number = self._plan.face(str(self.wall.result.value)), self.asked.number
        return (
            face.point(number("utility start station"), number("utility start offset")),
            face.point(number("utility end station"), number("utility end offset")),
        )

    def clearances(self, plan: PitPlan) -> Clearances:
        """How far in plan it is from one of the pits."""
        link, diameter = _link(self._plan, plan.pit.ref, self.wall), self.asked["utility diameter"]
        return Clearances(
            worked(lambda *_: self._from_edge[plan], plan.ground, self.placed, link, diameter),
            worked(lambda *_: self._from_floor[plan], plan.floor, self.placed, link, diameter),
            worked(lambda *_: self._from_tube[plan], plan.floor, self.placed, link),
        )

    # From every pit that can be drawn, once the line can be drawn too.

    @cached_property
    def _from_edge(self) -> Mapping[PitPlan, Result]:
        return _at_once(self._to_line(self.asked.number("utility diameter")), _grounds(self._pits))

    @cached_property
    def _from_floor(self) -> Mapping[PitPlan, Result]:
        return _at_once(self._to_line(self.asked.number("utility diameter")), _floors(self._pits))

    @cached_property
    def _from_tube(self) -> Mapping[PitPlan, Result]:
        tubes = {pit: pit.tube_places for pit in _floors(self._pits)}
        return _at_once(self._to_line(0.0), tubes)

    def _to_line(self, diameter_in: float) -> Measure:
        return lambda outlines: layout.clearances_to_utility(outlines, *self.ends, diameter_in)


class Neighbour:
    """A neighbour in plan, and the pits that are dug beside it."""

    def __init__(self, neighbour: Asked, plan: Plan, pits: Sequence[PitPlan]) -> None:
        self.asked, self._plan, self._pits = neighbour, plan, pits
        self.wall = plan.wall_named(neighbour["wall of neighbour"])
        self.placed = worked(
            self._limits,
            self.wall,
            *neighbour.some("neighbour start station", "neighbour end station", "neighbour offset"),
        )

    @staticmethod
    def _limits(_: str, start: float, end: float, offset: float) -> Result:
        reason = layout.neighbour_out_of_range(start, end, offset)
        return not_known(reason) if reason else PLACED

    @property
    def face(self) -> layout.Face:
        """The face of the wall that it is measured from, where that is known."""
        return self._plan.face(str(self.wall.result.value))

    @cached_property
    def corners(self) -> layout.Corners:
        """Its outline, where it is known."""
        number = self.asked.number
        return layout.neighbour_corners(
            self.face,
            number("neighbour start station"),
            number("neighbour end station"),
            number("neighbour offset"),
        )

    def clearance(self, plan: PitPlan) -> Quantity:
        """Clear distance in plan from the edge of a pit at the ground."""
        return worked(
            lambda *_: self._from_edge[plan],
            plan.ground,
            self.placed,
            _link(self._plan, plan.pit.ref, self.wall),
        )

    def floor_clearance(self, plan: PitPlan) -> Quantity:
        """Clear distance in plan from the edge of a pit's floor."""
        return worked(
            lambda *_: self._from_floor[plan],
            plan.floor,
            self.placed,
            _link(self._plan, plan.pit.ref, self.wall),
        )

    @cached_property
    def _from_edge(self) -> Mapping[PitPlan, Result]:
        return _at_once(self._to_outline, _grounds(self._pits))

    @cached_property
    def _from_floor(self) -> Mapping[PitPlan, Result]:
        return _at_once(self._to_outline, _floors(self._pits))

    def _to_outline(self, outlines: tuple[layout.Corners, ...]) -> tuple[Result, ...]:
        return layout.clearances_to_neighbour(outlines, self.corners)


Measure = Callable[[tuple[layout.Corners, ...]], tuple[Result, ...]]


def _at_once(
    measure: Measure, outlines: Mapping[PitPlan, layout.Corners]
) -> Mapping[PitPlan, Result]:
    """Distances to many pits, measured in one go."""
    return dict(zip(outlines, measure(tuple(outlines.values())), strict=True))


def _grounds(pits: Sequence[PitPlan]) -> Mapping[PitPlan, layout.Corners]:
    """Outlines at the ground of the pits that can be drawn."""
    return {pit: pit.ground_corners for pit in pits if pit.ground.result.known}


def _floors(pits: Sequence[PitPlan]) -> Mapping[PitPlan, layout.Corners]:
    """Outlines of the floors of the pits that can be drawn."""
    return {pit: pit.floor_corners for pit in pits if pit.floor.result.known}


def _link(plan: Plan, one: Quantity, other: Quantity) -> Quantity:
    """Whether the walls that two things name can be drawn in one plan."""
    if one.result.known and other.result.known:
        return plan.link(str(one.result.value), str(other.result.value))
    return Quantity(PLACED)  # the walls themselves are parts, and say that they are not known
