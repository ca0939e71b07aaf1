"""Where the things of a survey stand in one plan, as far as its answers tell.

Walls are laid end to end as far as length and turn are known; where one is not, a new run of
walls begins, and nothing is said of distances between runs.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from survey.engineering import layout
from survey.engineering._inputs import PLACED, Asked, Part, worked
from survey.engineering.working import Input, Quantity, Result, not_known

_INSIDE = ("basement", "crawl space")


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
                f"walls {first} and {last} can only be drawn in one plan when all walls are "
                "listed, all the way round"
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

    Args:
        pier: answers of the pier.
        plan: the walls.
        wall: the wall it stands at.
        reach: how far its slope reaches out.
    """

    def __init__(self, pier: Asked, plan: Plan, wall: Quantity, reach: Quantity) -> None:
        self.pier, self.plan, self.wall, self.reach = pier, plan, wall, reach

    @cached_property
    def inside(self) -> bool:
        """Whether it is dug from inside; only asked where that is known."""
        return self.pier.value("pit reached from") in _INSIDE

    @cached_property
    def _parts(self) -> tuple[Part, ...]:
        parts: tuple[Part, ...] = (
            self.wall, *self.pier.some("station", "pit length", "pit width", "pit reached from"),
        )  # fmt: skip
        if self.inside and self.wall.result.known:
            parts += (self.plan.walls[str(self.wall.result.value)]["wall thickness"],)
        return parts

    @cached_property
    def floor(self) -> Quantity:
        """Whether the outline of its floor can be drawn."""
        return worked(lambda *_: self._limits(0.0), *self._parts)

    @cached_property
    def ground(self) -> Quantity:
        """Whether its outline at the ground, slope and all, can be drawn."""
        return worked(lambda reach, *_: self._limits(reach), self.reach, *self._parts)

    @cached_property
    def floor_corners(self) -> layout.Corners:
        """Outline of the floor, where it can be drawn."""
        return self._corners(0.0)

    @cached_property
    def ground_corners(self) -> layout.Corners:
        """Outline at the ground, where it can be drawn."""
        reach = self.reach.result.value
        assert isinstance(reach, (int, float))
        return self._corners(reach)

    def _limits(self, reach: float) -> Result:
        thickness = self._wall_thickness()
        reason = layout.pit_out_of_range(
            self.pier.number("station"),
            self.pier.number("pit length"),
            self.pier.number("pit width"),
            reach_in=reach,
            wall_in=0.0 if thickness is None else thickness,
        )
        return not_known(reason) if reason else PLACED

    def _wall_thickness(self) -> float | None:
        if not self.inside:
            return None
        return self.plan.walls[str(self.wall.result.value)].number("wall thickness")

    def _corners(self, reach: float) -> layout.Corners:
        return layout.pit_corners(
            self.plan.face(str(self.wall.result.value)),
            self.pier.number("station"),
            self.pier.number("pit length"),
            self.pier.number("pit width"),
            reach_in=reach,
            inside_of_in=self._wall_thickness(),
        )


class Utility:
    """A line in plan."""

    def __init__(self, utility: Asked, plan: Plan) -> None:
        self.asked, self._plan = utility, plan
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

    def clearance(self, pit: PitPlan) -> Quantity:
        """Clear distance in plan from the edge of a pit."""
        return worked(
            lambda _pit, _line, _link, diameter: layout.clearance_to_utility(
                pit.ground_corners, *self.ends, diameter
            ),
            pit.ground,
            self.placed,
            _link(self._plan, pit.wall, self.wall),
            self.asked["utility diameter"],
        )


class Neighbour:
    """A neighbour in plan."""

    def __init__(self, neighbour: Asked, plan: Plan) -> None:
        self.asked, self._plan = neighbour, plan
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

    @cached_property
    def corners(self) -> layout.Corners:
        """Its outline, where it is known."""
        number = self.asked.number
        return layout.neighbour_corners(
            self._plan.face(str(self.wall.result.value)),
            number("neighbour start station"),
            number("neighbour end station"),
            number("neighbour offset"),
        )

    def clearance(self, pit: PitPlan) -> Quantity:
        """Clear distance in plan from the edge of a pit at the ground."""
        return worked(
            lambda *_: layout.clearance_to_neighbour(pit.ground_corners, self.corners),
            pit.ground,
            self.placed,
            _link(self._plan, pit.wall, self.wall),
        )

    def floor_clearance(self, pit: PitPlan) -> Quantity:
        """Clear distance in plan from the edge of a pit's floor."""
        return worked(
            lambda *_: layout.clearance_to_neighbour(pit.floor_corners, self.corners),
            pit.floor,
            self.placed,
            _link(self._plan, pit.wall, self.wall),
        )


def _link(plan: Plan, one: Quantity, other: Quantity) -> Quantity:
    """Whether the walls that two things name can be drawn in one plan."""
    if one.result.known and other.result.known:
        return plan.link(str(one.result.value), str(other.result.value))
    return Quantity(PLACED)  # the walls themselves are parts, and say that they are not known
