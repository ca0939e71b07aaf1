"""What a drawing is made of: lines, areas, circles and text, in millimetres on paper.

x runs to the right and y down from the upper left corner. What a shape looks like stands in
``forms/drawings.css``, under the name of its look; a look is told by line, hatch or letter, not by
colour alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple

Point = tuple[float, float]


class Anchor(Enum):
    """Which part of a text stands at its point."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


class Path(NamedTuple):
    """A line through points, or the area that it closes round."""

    points: tuple[Point, ...]
    look: str
    closed: bool = False


class Circle(NamedTuple):
    """A circle round a point."""

    centre: Point
    radius_mm: float
    look: str


class Text(NamedTuple):
    """One line of text.

    Args:
        at: the point on its base line that the anchor stands at.
        size_mm: height of the letters with room above and below, as of a font.
        turned_deg: clockwise, about the point.
        width_mm: to which it is set, whatever fonts there are; none for as wide as it comes.
    """

    at: Point
    text: str
    size_mm: float
    look: str
    anchor: Anchor = Anchor.MIDDLE
    turned_deg: float = 0.0
    width_mm: float | None = None


Shape = Path | Circle | Text


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing on paper.

    Args:
        title: what it is, read aloud in its place.
        description: what it shows, for whoever can't see it.
        shapes: the first lie below the others.
    """

    width_mm: float
    height_mm: float
    title: str
    description: str
    shapes: tuple[Shape, ...]
