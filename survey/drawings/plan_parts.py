"""The things of a plan as shapes: walls, pits, lines, neighbours, and what is kept clear."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from survey.drawings.fitting import View, clipped_area, clipped_line
from survey.drawings.labels import Box, Label, Taken
from survey.drawings.shapes import Circle, Path, Point, Shape
from survey.quantities.outlines import NeighbourOutline, PierOutline, Run, UtilityLine

TEXT_MM = 2.5
_AWAY_IN = 1e6
_ARC_STEPS = 6
_LINE_MM = 1.1


@dataclass(frozen=True, slots=True)
class Coded:
    """How a kind of buried line is told.

    Args:
        look: of its colour.
        letter: that stands on it, for black and white.
        colour: in words.
    """

    look: str
    letter: str
    colour: str


# APWA Uniform Color Code (colours of ANSI Z535.1), from memory: red electric; yellow gas, oil,
# steam, petroleum; orange communication, alarm or signal; blue potable water; purple reclaimed
# water, irrigation and slurry; green sewers and drains. Well and tank go with what they hold. The
# letters are ours.
CODED: Mapping[str, Coded] = {
    "electric": Coded("red", "E", "red"),
    "gas": Coded("yellow", "G", "yellow"),
    "propane": Coded("yellow", "P", "yellow"),
    "steam": Coded("yellow", "H", "yellow"),
    "fuel or oil tank": Coded("yellow", "F", "yellow"),
    "telephone or data": Coded("orange", "T", "orange"),
    "water": Coded("blue", "W", "blue"),
    "well or cistern": Coded("blue", "C", "blue"),
    "irrigation": Coded("purple", "I", "purple"),
    "sewer": Coded("green", "S", "green"),
    "septic": Coded("green", "K", "green"),
    "storm drain": Coded("green", "D", "green"),
}
UNCODED = Coded("uncoded", "?", "grey")


def coded(kind: str | None) -> Coded:
    """The code of a kind of line; grey for what nobody has identified."""
    return UNCODED if kind is None else CODED.get(kind, UNCODED)


# What is kept clear round the pits


@dataclass(frozen=True, slots=True)
class _Strip:
    """A rectangle at a wall: from and to along it, from and to out from its face, in inches."""

    left: float
    right: float
    near: float
    far: float


def kept_clear(piers: Iterable[PierOutline], by_in: Mapping[str, float]) -> list[list[Point]]:
    """Outlines round the pits at a distance from their edges; where they run together, as one.

    Square at their corners, so nowhere nearer than asked.

    Args:
        piers: with their pits.
        by_in: the distance, by the label of the pier; a pier without one is left out.
    """
    at_wall: dict[str, tuple[PierOutline, list[_Strip]]] = {}
    for pier in piers:
        if pier.ground is not None and pier.label in by_in:
            strip = _strip(pier, pier.ground, by_in[pier.label])
            at_wall.setdefault(pier.wall, (pier, []))[1].append(strip)
    return [
        [
            pier.face.point(one.left, one.near), pier.face.point(one.right, one.near),
            pier.face.point(one.right, one.far), pier.face.point(one.left, one.far),
        ]
        for pier, strips in at_wall.values()
        for one in _run_together(strips)
    ]  # fmt: skip


def _strip(pier: PierOutline, corners: Sequence[Point], by_in: float) -> _Strip:
    (x0, y0), (along_x, along_y) = pier.face.start, pier.face.along
    stations = [(x - x0) * along_x + (y - y0) * along_y for x, y in corners]
    offsets = [(x - x0) * along_y - (y - y0) * along_x for x, y in corners]
    return _Strip(
        min(stations) - by_in, max(stations) + by_in, min(offsets) - by_in, max(offsets) + by_in
    )


def _run_together(strips: Iterable[_Strip]) -> list[_Strip]:
    """The same with those made one that overlap and reach equally far out."""
    merged: list[_Strip] = []
    for strip in sorted(strips, key=lambda one: (round(one.near, 3), round(one.far, 3), one.left)):
        last = merged[-1] if merged else None
        if (
            last is not None
            and abs(last.near - strip.near) < 0.001
            and abs(last.far - strip.far) < 0.001
            and strip.left <= last.right
        ):
            merged[-1] = _Strip(last.left, max(last.right, strip.right), last.near, last.far)
        else:
            merged.append(strip)
    return merged


def clear_shapes(view: View, areas: Sequence[Sequence[Point]], look: str) -> list[Shape]:
    """Areas as one: first the edges of all, then all filled over them."""
    found = [clipped_area(view.all(area), view.frame) for area in areas]
    cut = [area for area in found if len(area) > 2]
    return [
        *(Path(area, f"{look}-edge", closed=True) for area in cut),
        *(Path(area, look, closed=True) for area in cut),
    ]


# Buried lines


def zone_corners(line: UtilityLine, half_in: float) -> tuple[Point, ...]:
    """A line made so wide to each side, and so much longer at both ends."""
    return _widened(line.ends, half_in, half_in)


def _widened(ends: tuple[Point, Point], half_in: float, more_in: float) -> tuple[Point, ...]:
    (x1, y1), (x2, y2) = ends
    ux, uy = _unit((x2 - x1, y2 - y1))
    a, b = (ux * more_in, uy * more_in), (-uy * half_in, ux * half_in)
    return (
        (x1 - a[0] - b[0], y1 - a[1] - b[1]),
        (x2 + a[0] - b[0], y2 + a[1] - b[1]),
        (x2 + a[0] + b[0], y2 + a[1] + b[1]),
        (x1 - a[0] + b[0], y1 - a[1] + b[1]),
    )


def zone_shapes(view: View, line: UtilityLine) -> Iterator[Shape]:
    """The tolerance zone of a line, where it is known."""
    if line.zone_in is not None:
        corners = clipped_area(view.all(zone_corners(line, line.zone_in)), view.frame)
        if len(corners) > 2:
            yield Path(corners, f"plan-zone {coded(line.kind).look}", closed=True)


def line_shapes(view: View, line: UtilityLine, taken: Taken) -> Iterator[Shape | Label]:
    """A line with its letter on it and its name beside it; nothing of one outside the frame."""
    code = coded(line.kind)
    ends = view.all(line.ends)
    if _apart(*ends) < 1.6:  # a tank or a well, given by its middle
        radius = max(1.6, (line.diameter_in or 0.0) / 2 * view.mm_per_in)
        if not view.frame.holds(_round(ends[0], min(radius, 1.6))):
            return
        yield Circle(ends[0], radius, f"plan-line-edge {code.look}")
        taken.add_mark(_round(ends[0], radius), 3)
        yield Label(code.letter, (ends[0],), TEXT_MM, "plan-letter", radius, on=True)
        yield Label(line.label, (ends[0],), TEXT_MM, "plan-label", radius)
        return
    half_in = (line.diameter_in or 0.0) / 2
    if half_in * view.mm_per_in > _LINE_MM / 2:  # wider than the line that stands for it
        pipe = clipped_area(view.all(_widened(line.ends, half_in, 0.0)), view.frame)
        if len(pipe) > 2:
            yield Path(pipe, f"plan-pipe {code.look}", closed=True)
    for part in clipped_line(ends, view.frame):
        yield Path(part, "plan-line-edge")
        yield Path(part, f"plan-line {code.look}")
        taken.add_line(part, 2)
        yield Label(
            code.letter, _between(part, (0.5, 0.7, 0.3, 0.85, 0.15)), TEXT_MM, "plan-letter",
            on=True, leads=False,
        )  # fmt: skip
        across = _unit((part[1][1] - part[0][1], part[0][0] - part[1][0]))
        spots = _between(part, (0.8, 0.6, 0.4, 0.9, 0.2, 0.1))
        yield Label(line.label, spots, TEXT_MM, "plan-label", 0.8, towards=across)


def _between(part: Sequence[Point], shares: Iterable[float]) -> tuple[Point, ...]:
    """Points of a straight line, by their share of its length."""
    (x1, y1), (x2, y2) = part[0], part[-1]
    return tuple((x1 + s * (x2 - x1), y1 + s * (y2 - y1)) for s in shares)


def _apart(one: Point, other: Point) -> float:
    return math.hypot(other[0] - one[0], other[1] - one[1])


def _unit(way: Point) -> Point:
    length = math.hypot(*way)
    return (way[0] / length, way[1] / length) if length > 0 else (1.0, 0.0)


def _round(middle: Point, radius: float) -> Box:
    x, y = middle
    return Box(x - radius, y - radius, x + radius, y + radius)


# Neighbours


def neighbour_shapes(
    view: View, neighbour: NeighbourOutline, taken: Taken
) -> Iterator[Shape | Label]:
    """A neighbour from its nearest edge outwards, as far as the frame goes."""
    (x1, y1), (x2, y2) = neighbour.edge
    out = (neighbour.outward[0] * _AWAY_IN, neighbour.outward[1] * _AWAY_IN)
    area = ((x1, y1), (x2, y2), (x2 + out[0], y2 + out[1]), (x1 + out[0], y1 + out[1]))
    corners = clipped_area(view.all(area), view.frame)
    edge = view.all(neighbour.edge)
    towards = view.way(neighbour.outward)
    if _apart(*edge) < 0.8:
        if view.frame.holds(_round(edge[0], 1.1)):
            yield Circle(edge[0], 1.1, "plan-neighbour-post")
            taken.add_mark(_round(edge[0], 1.1), 4)
            yield Label(neighbour.label, edge[:1], TEXT_MM, "plan-label", 1.4, towards)
        return
    if len(corners) < 3:
        return
    yield Path(corners, "plan-neighbour", closed=True)
    spots: list[Point] = []
    for part in clipped_line(edge, view.frame):
        yield Path(part, "plan-neighbour-edge")
        taken.add_line(part, 3)
        spots += _between(part, (0.5, 0.3, 0.7, 0.1, 0.9))
    box_middle = tuple(sum(axis) / len(corners) for axis in zip(*corners, strict=True))
    middle: Point = (box_middle[0], box_middle[1])
    yield Label(
        neighbour.label, (middle, *spots), TEXT_MM, "plan-label", 0.8, towards, on=True
    )  # fmt: skip


def offset_outline(neighbour: NeighbourOutline, by_in: float) -> list[Point]:
    """The line at a distance from a neighbour's outline, round its two near corners."""
    (x1, y1), (x2, y2) = neighbour.edge
    out = neighbour.outward
    along = (-out[1], out[0])  # of the wall that it is measured from: square to outward
    if (x2 - x1) * along[0] + (y2 - y1) * along[1] < 0:
        x1, y1, x2, y2 = x2, y2, x1, y1

    def from_corner(corner: Point, turn: float) -> Point:
        """The point at the distance from a corner, turned from along the wall to facing us."""
        a, b = math.cos(turn) * by_in, -math.sin(turn) * by_in
        return corner[0] + along[0] * a + out[0] * b, corner[1] + along[1] * a + out[1] * b

    quarter = math.pi / 2 / _ARC_STEPS
    left = [from_corner((x1, y1), math.pi - i * quarter) for i in range(_ARC_STEPS + 1)]
    right = [from_corner((x2, y2), math.pi / 2 - i * quarter) for i in range(_ARC_STEPS + 1)]
    far = (out[0] * _AWAY_IN, out[1] * _AWAY_IN)
    first, last = left[0], right[-1]
    return [
        (first[0] + far[0], first[1] + far[1]), *left, *right, (last[0] + far[0], last[1] + far[1])
    ]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Reach:
    """A line round a neighbour that pits keep beyond.

    Args:
        by_in: how far from its outline.
        text: that stands at it.
    """

    neighbour: NeighbourOutline
    by_in: float
    text: str
    look: str


def reach_shapes(view: View, reach: Reach, taken: Taken) -> Iterator[Shape | Label]:
    """Such a line, with its text."""
    out = reach.neighbour.outward
    spots: list[Point] = []
    outline = offset_outline(reach.neighbour, reach.by_in)
    for part in clipped_line(view.all(outline), view.frame):
        yield Path(part, reach.look)
        taken.add_line(part, 1)
        longest = sorted(itertools.pairwise(part), key=lambda ends: -_apart(*ends))[:4]
        spots += [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in longest]
    if spots:
        yield Label(
            reach.text, tuple(spots), 2.2, "plan-small", 0.6, view.way((-out[0], -out[1]))
        )  # fmt: skip


# Walls and pits


def wall_shapes(view: View, run: Run, unknown_in: Mapping[str, float]) -> Iterator[Shape]:
    """The outside faces; dashed where it is not known how far a wall goes."""
    points: list[Point] = []
    for wall in run.walls:
        start = wall.face.start
        if not points:
            points.append(start)
        if wall.length_in is None:
            end = wall.end(unknown_in[wall.label])
            yield from (
                Path(part, "plan-wall-open")
                for part in clipped_line(view.all((start, end)), view.frame)
            )
        else:
            points.append(wall.end(0.0))
    if len(points) > 1:
        yield from (Path(part, "plan-wall") for part in clipped_line(view.all(points), view.frame))


def pit_shapes(view: View, piers: Sequence[PierOutline]) -> Iterator[Shape]:
    """The edges of the pits at the ground, dashed, and over them all the floors."""
    for pier in piers:
        if pier.ground is not None:
            yield Path(view.all(pier.ground), "plan-pit-ground", closed=True)
    for pier in piers:
        if pier.floor is not None:
            yield Path(view.all(pier.floor), "plan-pit-floor", closed=True)
