"""From inches in a section to millimetres on paper: scale, frame, scale bar, hatches, breaks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from survey.drawings.section_labels import SIZE_MM, text_width
from survey.drawings.shapes import Anchor, Path, Point, Shape, Text
from survey.vocabulary import MEASURES, Kind, Units

MM_PER_IN = 25.4
# Of the drawing between the columns of words, on paper.
DRAWING_LEFT_MM, DRAWING_RIGHT_MM = 56.0, 140.0
_HIGHEST_MM, _LOWEST_MM = 92.0, 46.0
_SCALES = {
    Units.US_CUSTOMARY: (24, 32, 48, 64, 96, 128, 192, 384, 768, 1536, 3072, 6144, 12288),
    Units.METRIC: (20, 25, 50, 100, 200, 500, 1000, 2000, 5000, 10000),
}
_INCH_SCALES = {
    24: "1/2 in", 32: "3/8 in", 48: "1/4 in", 64: "3/16 in", 96: "1/8 in", 128: "3/32 in",
    192: "1/16 in", 384: "1/32 in",
}  # fmt: skip
_BAR_PARTS = 4
_BAR_STEPS = (0.25, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500)
_SHORTEST_BAR_MM, _BAR_HEIGHT_MM = 8.0, 1.4


@dataclass(frozen=True, slots=True)
class Paper:
    """A section on paper.

    Args:
        left, right, top, bottom: what of the section is drawn, in; x out from the wall's face,
            y down from the ground or floor.
        scale: so many to one.
        origin: of the upper left corner of the drawing on paper, mm.
    """

    left: float
    right: float
    top: float
    bottom: float
    scale: int
    origin: Point

    def at(self, x_in: float, y_in: float) -> Point:
        """A point of the section on paper."""
        return self.x(x_in), self.y(y_in)

    def x(self, x_in: float) -> float:
        """Its place across the paper."""
        return self.origin[0] + self.mm(x_in - self.left)

    def y(self, y_in: float) -> float:
        """Its place down the paper."""
        return self.origin[1] + self.mm(y_in - self.top)

    def mm(self, length_in: float) -> float:
        """A length on paper."""
        return length_in * MM_PER_IN / self.scale

    def inches(self, length_mm: float) -> float:
        """What a length on paper is in the section."""
        return length_mm * self.scale / MM_PER_IN

    def path(self, look: str, *points: Point, closed: bool = False) -> Path:
        """A line through points of the section."""
        return Path(tuple(self.at(*point) for point in points), look, closed)


def laid_out(  # noqa: PLR0917
    left: float, right: float, top: float, bottom: float, units: Units, whole: float
) -> Paper:
    """The paper at the largest usual scale at which the drawing finds room.

    What is lower than the columns of words need gets more ground below.

    Args:
        left: what is drawn of the section, in, as in :class:`Paper`.
        right: what is drawn at least.
        top: the highest that is drawn.
        bottom: the lowest that is drawn at least.
        units: of the survey, for a usual scale.
        whole: up to where is drawn if there is room at that scale.
    """
    scales = _SCALES[units]
    widest = DRAWING_RIGHT_MM - DRAWING_LEFT_MM
    fitting = (
        scale
        for scale in scales
        if (right - left) * MM_PER_IN / scale <= widest
        and (bottom - top) * MM_PER_IN / scale <= _HIGHEST_MM
    )
    scale = next(fitting, scales[-1])
    least = _LOWEST_MM * scale / MM_PER_IN
    right = max(right, min(whole, left + widest * scale / MM_PER_IN))
    origin = (DRAWING_LEFT_MM, 0.0)
    return Paper(left, right, top, max(bottom, top + least), scale, origin)


def scale_said(scale: int, units: Units) -> str:
    """The scale in words.

    >>> scale_said(48, Units.US_CUSTOMARY), scale_said(50, Units.METRIC)
    ('Scale 1:48 as printed (1/4 in to 1 ft)', 'Scale 1:50 as printed')
    """
    said = f"Scale 1:{scale} as printed"
    inches = _INCH_SCALES.get(scale) if units is Units.US_CUSTOMARY else None
    return said if inches is None else f"{said} ({inches} to 1 ft)"


def scale_bar(paper: Paper, units: Units, at: Point) -> Iterator[Shape]:
    """A bar of four parts with its figures, and the scale in words beside it."""
    unit = "ft" if units is Units.US_CUSTOMARY else "m"
    one = paper.mm(MEASURES[Kind.LENGTH].units[unit])
    step = next((s for s in _BAR_STEPS if s * one >= _SHORTEST_BAR_MM), _BAR_STEPS[-1])
    x, y = at
    part = step * one
    for i in range(_BAR_PARTS):
        corners = (
            (x + i * part, y), (x + (i + 1) * part, y),
            (x + (i + 1) * part, y + _BAR_HEIGHT_MM), (x + i * part, y + _BAR_HEIGHT_MM),
        )  # fmt: skip
        yield Path(corners, "section-bar-full" if i % 2 == 0 else "section-bar-empty", closed=True)
    base = y + _BAR_HEIGHT_MM + SIZE_MM
    for i in (0, 1, 2, 4):
        last = f" {unit}" if i == _BAR_PARTS else ""
        yield Text((x + i * part, base), f"{i * step:g}{last}", SIZE_MM, "section-label")
    end = x + _BAR_PARTS * part + text_width(f"{_BAR_PARTS * step:g} {unit}") / 2 + 3
    said = scale_said(paper.scale, units)
    yield Text((end, base), said, SIZE_MM, "section-label", Anchor.START)


def hatch(corner: Point, other: Point, spacing: float, look: str, *, rising: bool) -> Path:
    """Slanting lines over an upright rectangle of the paper, drawn to and fro in one line.

    Args:
        corner: its upper left corner.
        other: its lower right corner.
        spacing: between lines, along its sides, mm.
        look: of the lines.
        rising: whether they rise to the right.
    """
    (left, top), (right, bottom) = corner, other
    width, height = right - left, bottom - top
    points: list[Point] = []
    step, back = spacing, False
    while step < width + height:
        # From the upper or right side to the left or lower side, at 45 degrees.
        ends = [
            (min(step, width), max(step - width, 0.0)),
            (max(step - height, 0.0), min(step, height)),
        ]
        points += _round_corner(points, ends[back], width, height)
        points += reversed(ends) if back else ends
        step, back = step + spacing, not back
    start, way = (left, 1.0) if rising else (right, -1.0)
    return Path(tuple([(start + way * x, top + y) for x, y in points]), look)


def _round_corner(
    points: Sequence[Point], start: Point, width: float, height: float
) -> tuple[Point, ...]:
    """The corner between the end of one hatch line and the start of the next, if there is one."""
    if not points:
        return ()
    (x, y), (to_x, to_y) = points[-1], start
    if x == to_x or y == to_y:
        return ()
    return ((width, 0.0),) if to_x == width else ((0.0, height),)


def earth(start: Point, end: Point, spacing: float = 8.0) -> Path:
    """Groups of short strokes under a level line, in one line to and fro: undug ground."""
    x, y = start
    points = [start]
    while x + 3.0 <= end[0]:
        for i in range(3):
            foot = x + 0.8 * i
            points += ((foot + 1.2, y), (foot, y + 1.2), (foot + 1.2, y))
        x += spacing
    return Path(tuple(points), "section-earth")


def broken(start: Point, end: Point) -> Path:
    """A level break: the thing goes on beyond it."""
    (x0, y), x1 = start, end[0]
    middle = (x0 + x1) / 2
    jag = min(1.0, abs(x1 - x0) / 4)
    points = (
        (x0 - 0.8, y), (middle - jag, y), (middle - jag / 2, y - 1.0), (middle + jag / 2, y + 1.0),
        (middle + jag, y), (x1 + 0.8, y),
    )  # fmt: skip
    return Path(points, "section-break")
