"""Where the things of a survey stand in plan, as figures to draw from.

Made by the same steps as the distances that the rules are judged on, so that a drawing shows what
was judged. What can't be placed is told with the reason; nothing is placed by guess.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from survey.answers import unlisted
from survey.engineering import layout
from survey.engineering.layout import Corners, Face, Point
from survey.engineering.working import Input, Quantity
from survey.model import Survey
from survey.quantities.ground import Ground
from survey.quantities.inputs import Asked
from survey.quantities.pits import Pit
from survey.quantities.plan import Neighbour, PitPlan, Plan, Utility
from survey.vocabulary import Subject


@dataclass(frozen=True, slots=True)
class WallLine:
    """The outside face of a wall.

    Args:
        face: where it begins and which way it runs, in the plan of its run.
        length_in: none where it is not known.
    """

    label: str
    face: Face
    length_in: float | None

    def end(self, unknown_in: float) -> Point:
        """Its right end; at a length of so much where its own is not known."""
        return self.face.point(unknown_in if self.length_in is None else self.length_in, 0.0)


@dataclass(frozen=True, slots=True)
class PierOutline:
    """A pier and its pit.

    Args:
        wall: label of its wall.
        face: the face of that wall.
        station_in: of the pier, along it.
        inside: whether the pit is dug from inside.
        floor: corners of the pit's floor, none where they can't be told. The first two lie at
            the wall.
        ground: the same at the ground, slope and all, with what is taken from under the wall.
        floor_depth_in: depth of the floor below the ground outside, none where not known.
        pit_depth_in: depth from where it is dug, none where not known.
        spoil_in: how far from the edge the spoil is to lie, none where not known.
    """

    label: str
    wall: str
    face: Face
    station_in: float
    inside: bool
    floor: Corners | None
    ground: Corners | None
    floor_depth_in: float | None
    pit_depth_in: float | None
    spoil_in: float | None

    @property
    def place(self) -> Point:
        """Where the pier stands on the outside face of its wall."""
        return self.face.point(self.station_in, 0.0)


@dataclass(frozen=True, slots=True)
class UtilityLine:
    """A buried line.

    Args:
        kind: as answered, none where not known.
        ends: of its middle.
        diameter_in: none where not known.
        zone_in: from its middle to the edge of its tolerance zone, none where not known.
    """

    label: str
    kind: str | None
    ends: tuple[Point, Point]
    diameter_in: float | None
    zone_in: float | None


@dataclass(frozen=True, slots=True)
class NeighbourOutline:
    """A neighbour: everything from its nearest edge outwards.

    Args:
        kind: as answered, none where not known.
        edge: ends of its nearest edge; the same point twice for a tree or pole.
        outward: unit vector away from our building, square to the face that it is measured from.
        footing_depth_in: none where not known.
    """

    label: str
    kind: str | None
    edge: tuple[Point, Point]
    outward: Point
    footing_depth_in: float | None


@dataclass(frozen=True, slots=True)
class Run:
    """Walls that follow each other at known lengths and turns, with all that is measured from them.

    Nothing is known of where one run stands from another.
    """

    walls: tuple[WallLine, ...]
    piers: tuple[PierOutline, ...]
    utilities: tuple[UtilityLine, ...]
    neighbours: tuple[NeighbourOutline, ...]

    @property
    def empty(self) -> bool:
        """Whether nothing stands at these walls."""
        return not (self.piers or self.utilities or self.neighbours)


@dataclass(frozen=True, slots=True)
class Undrawn:
    """What can't be drawn, and why: which answer is missing.

    Args:
        subject: what sort of thing it is.
        label: of the thing; empty for whatever an open list left out.
        what: what of it, such as ``floor of the pit``; empty for the whole of it.
    """

    subject: Subject
    label: str
    what: str
    why: str


@dataclass(frozen=True, slots=True)
class Outlines:
    """All of it.

    Args:
        all_round: whether the walls are known to be listed all the way round.
        closing_in: gap between the end of the last wall and the start of the first, where all
            are listed and known; else none.
    """

    runs: tuple[Run, ...]
    undrawn: tuple[Undrawn, ...]
    all_round: bool
    closing_in: float | None


def outlines(survey: Survey) -> Outlines:
    """Where everything stands, and what can't be told of it."""
    site, walls = Asked(survey.site), [Asked(row) for row in survey.walls]
    plan, ground = Plan(site, walls), Ground(survey, site)
    undrawn: list[Undrawn] = []
    pits = [_pit(Asked(row), plan, ground) for row in survey.piers]
    utilities = [Utility(Asked(row), plan, ()) for row in survey.utilities]
    neighbours = [Neighbour(Asked(row), plan, ()) for row in survey.neighbours]
    piers = {p.pit.label: _pier(p, plan, undrawn) for p in pits if _told(p, undrawn)}
    lines = {
        u.asked.label: (str(u.wall.result.value), _utility(u, site["tolerance zone"], undrawn))
        for u in utilities
        if _drawn(Subject.UTILITY, u.asked.label, u.placed, undrawn)
        and _near(Subject.UTILITY, u.asked.label, u.ends, undrawn)
    }
    beside = {
        n.asked.label: (str(n.wall.result.value), _neighbour(n))
        for n in neighbours
        if _drawn(Subject.NEIGHBOUR, n.asked.label, n.placed, undrawn)
    }
    undrawn += _left_open(survey)
    undrawn += (
        Undrawn(Subject.WALL, wall.label, "its right end", f"'wall length': {length}")
        for wall in walls
        if not isinstance(length := wall.value("wall length"), (int, float))
    )
    runs = tuple(
        Run(
            tuple(
                WallLine(wall.label, plan.face(wall.label), _figure(wall["wall length"]))
                for wall in run
            ),
            tuple(pier for pier in piers.values() if pier.wall in labels),
            tuple(line for at, line in lines.values() if at in labels),
            tuple(one for at, one in beside.values() if at in labels),
        )
        for run in _runs(plan, walls)
        for labels in ({wall.label for wall in run},)
    )
    all_round = site.value("walls listed") == "all the way round"
    return Outlines(runs, tuple(undrawn), all_round, _gap(runs, walls) if all_round else None)


def _runs(plan: Plan, walls: Sequence[Asked]) -> Iterator[list[Asked]]:
    """Walls that can be drawn in one plan, each run by itself."""
    run: list[Asked] = []
    for wall in walls:
        if run and not plan.link(run[-1].label, wall.label).result.known:
            yield run
            run = []
        run.append(wall)
    if run:
        yield run


def _gap(runs: Sequence[Run], walls: Sequence[Asked]) -> float | None:
    if len(runs) != 1:
        return None
    lengths = [_figure(wall["wall length"]) for wall in walls]
    turns = [_figure(wall["turn at right end"]) for wall in walls]
    known = [figure for figure in (*lengths, *turns) if figure is not None]
    if len(known) < 2 * len(walls):
        return None
    error = layout.closing_error(known[: len(walls)], known[len(walls) :]).value
    return error if isinstance(error, (int, float)) else None


def _pit(pier: Asked, plan: Plan, ground: Ground) -> PitPlan:
    ref = plan.wall_named(pier["wall of pier"])
    return PitPlan(Pit(pier, ref, plan.wall_at(ref), ground), plan)


def _told(plan: PitPlan, undrawn: list[Undrawn]) -> bool:
    label = plan.pit.label
    return _drawn(Subject.PIER, label, plan.stands, undrawn) and _near(
        Subject.PIER, label, (plan.place,), undrawn
    )


def _pier(plan: PitPlan, walls: Plan, undrawn: list[Undrawn]) -> PierOutline:
    pit = plan.pit
    floor = _drawn(Subject.PIER, pit.label, plan.floor, undrawn, "the pit")
    ground = floor and _drawn(
        Subject.PIER, pit.label, plan.ground, undrawn, "the edge of the pit at the ground"
    )
    wall = str(pit.ref.result.value)
    depth = pit.floor.result.value
    return PierOutline(
        pit.label, wall, walls.face(wall), pit.asked.number("station"), pit.inside,
        plan.floor_corners if floor else None,
        plan.ground_corners if ground else None,
        depth if isinstance(depth, (int, float)) else None,
        _figure(pit.asked["pit depth"]),
        _figure(pit.asked["spoil distance"]),
    )  # fmt: skip


def _utility(utility: Utility, tolerance: Input, undrawn: list[Undrawn]) -> UtilityLine:
    asked = utility.asked
    diameter, zone = _figure(asked["utility diameter"]), _figure(tolerance)
    if diameter is None or zone is None:
        lacking = "utility diameter" if diameter is None else "tolerance zone"
        undrawn.append(
            Undrawn(Subject.UTILITY, asked.label, "its tolerance zone", f"'{lacking}': not known")
        )
    return UtilityLine(
        asked.label, _text(asked["utility kind"]), utility.ends, diameter,
        None if diameter is None or zone is None else diameter / 2 + zone,
    )  # fmt: skip


def _neighbour(neighbour: Neighbour) -> NeighbourOutline:
    asked, (start, end, *_) = neighbour.asked, neighbour.corners
    return NeighbourOutline(
        asked.label, _text(asked["neighbour kind"]), (start, end), neighbour.face.outward,
        _figure(asked["neighbour footing depth"]),
    )  # fmt: skip


def _left_open(survey: Survey) -> Iterator[Undrawn]:
    """Whatever a list that is not closed may have left out."""
    for subject in (Subject.UTILITY, Subject.NEIGHBOUR):
        if unlisted(survey, subject) is not None:
            yield Undrawn(subject, "", "", f"not every {subject.value} is known to be listed")


def _drawn(
    subject: Subject, label: str, placed: Quantity, undrawn: list[Undrawn], what: str = ""
) -> bool:
    """Whether it can be drawn; where it can't, the reason is kept."""
    if not placed.result.known:
        undrawn.append(Undrawn(subject, label, what, placed.result.reason))
    return placed.result.known


def _near(subject: Subject, label: str, points: Corners, undrawn: list[Undrawn]) -> bool:
    """Whether it lies no farther away than any site reaches."""
    reason = layout.too_far(points)
    if reason:
        undrawn.append(Undrawn(subject, label, "", reason))
    return not reason


def _figure(given: Input) -> float | None:
    value = given.answer.value
    return value if isinstance(value, (int, float)) else None


def _text(given: Input) -> str | None:
    value = given.answer.value
    return value if isinstance(value, str) else None
