"""From inches on site to millimetres on paper: a round scale, a turn, what the frame cuts off."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from survey.drawings.labels import Box
from survey.drawings.shapes import Point
from survey.vocabulary import Units

_MM_PER_IN = 25.4
_IN_PER_FT = 12.0
_FEET_TO_AN_INCH = (
    4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200, 300, 400, 600, 1000, 2000,
)  # fmt: skip
_METRIC = (
    50, 75, 100, 125, 150, 200, 250, 300, 400, 500, 750, 1000, 1500, 2000, 3000, 5000, 10000, 25000,
)  # fmt: skip
_BARS_FT = (1, 2, 4, 5, 10, 20, 40, 50, 100, 200, 400, 500, 1000, 2000)
_BARS_M = (0.5, 1, 2, 4, 5, 10, 20, 40, 50, 100, 200, 500, 1000)
_LONGEST_BAR_MM = 62.0


@dataclass(frozen=True, slots=True)
class Scale:
    """A round scale.

    Args:
        ratio: so many times smaller than on site.
        shown: as written on the drawing: ``1 in = 10 ft`` or ``1:100``.
    """

    ratio: float
    shown: str

    @property
    def mm_per_in(self) -> float:
        """Millimetres on paper for an inch on site."""
        return _MM_PER_IN / self.ratio


def scales(units: Units) -> Iterator[Scale]:
    """The round scales of feet or metres, the largest drawing first."""
    if units is Units.METRIC:
        yield from (Scale(ratio, f"1:{ratio}") for ratio in _METRIC)
    else:
        yield from (Scale(ft * _IN_PER_FT, f"1 in = {ft} ft") for ft in _FEET_TO_AN_INCH)


def bar(scale: Scale, units: Units) -> tuple[float, str, str]:
    """The longest round bar that fits: its length in mm, what stands at its half and at its end."""
    metric = units is Units.METRIC
    one_mm = scale.mm_per_in * (1000 / _MM_PER_IN if metric else _IN_PER_FT)
    lengths = _BARS_M if metric else _BARS_FT
    fitting = [length for length in lengths if length * one_mm <= _LONGEST_BAR_MM]
    length = fitting[-1] if fitting else lengths[0]
    return length * one_mm, f"{length / 2:g}", f"{length:g} {'m' if metric else 'ft'}"


def turned(point: Point, quarters: int) -> Point:
    """A point turned counter-clockwise by quarter turns, with y running down, as on paper."""
    x, y = point
    x, y = ((x, y), (-y, x), (-x, -y), (y, -x))[quarters % 4]
    return x, -y


@dataclass(frozen=True, slots=True)
class View:
    """How one run of walls stands on paper.

    Args:
        quarters: quarter turns counter-clockwise.
        mm_per_in: of the scale.
        origin: where the plan's (0, 0) stands, in mm on paper.
        frame: what is drawn lies within, in mm on paper.
    """

    quarters: int
    mm_per_in: float
    origin: Point
    frame: Box

    def at(self, point: Point) -> Point:
        """A point of the plan on paper."""
        x, y = turned(point, self.quarters)
        return self.origin[0] + x * self.mm_per_in, self.origin[1] + y * self.mm_per_in

    def all(self, points: Iterable[Point]) -> tuple[Point, ...]:
        """Points of the plan on paper."""
        if self.quarters % 4 == 0:  # as nearly always: at once
            (left, top), mm = self.origin, self.mm_per_in
            return tuple([(left + x * mm, top - y * mm) for x, y in points])
        return tuple(map(self.at, points))

    def way(self, way: Point) -> Point:
        """A direction of the plan on paper."""
        return turned(way, self.quarters)


def extent(points: Iterable[Point]) -> Box:
    """The least upright box round points; there is at least one."""
    found = list(points)
    xs, ys = [x for x, _ in found], [y for _, y in found]
    return Box(min(xs), min(ys), max(xs), max(ys))


def clipped_line(points: Sequence[Point], box: Box) -> list[tuple[Point, ...]]:
    """The parts of a line through points that lie within a box."""
    parts: list[list[Point]] = []
    for one, other in itertools.pairwise(points):
        part = _clipped(one, other, box)
        if part is None:
            continue
        if parts and parts[-1][-1] == part[0]:
            parts[-1].append(part[1])
        else:
            parts.append(list(part))
    return [tuple(part) for part in parts]


def _clipped(one: Point, other: Point, box: Box) -> tuple[Point, Point] | None:
    """The part of a straight line within a box, if there is one (Liang and Barsky)."""
    (x, y), dx, dy = one, other[0] - one[0], other[1] - one[1]
    first, last = 0.0, 1.0
    for step, room in (
        (-dx, x - box.left), (dx, box.right - x), (-dy, y - box.top), (dy, box.bottom - y),
    ):  # fmt: skip
        if step == 0:
            if room < 0:
                return None
        elif step < 0:
            first = max(first, room / step)
        else:
            last = min(last, room / step)
    if first >= last:
        return None
    start = one if first == 0 else (x + first * dx, y + first * dy)
    return start, other if last == 1 else (x + last * dx, y + last * dy)


def clipped_area(points: Sequence[Point], box: Box) -> tuple[Point, ...]:
    """The part of an area without hollows that lies within a box; empty if there is none."""
    corners = tuple(points)
    for axis, limit, sign in (
        (0, box.left, 1), (0, box.right, -1), (1, box.top, 1), (1, box.bottom, -1),
    ):  # fmt: skip
        kept: list[Point] = []
        for one, other in zip(corners, (*corners[1:], *corners[:1]), strict=True):
            a, b = sign * (one[axis] - limit), sign * (other[axis] - limit)
            if a >= 0:
                kept.append(one)
            if (a < 0) != (b < 0):
                share = a / (a - b)
                kept.append(
                    (one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1]))
                )
        corners = tuple(kept)
    return corners
