"""Marks that drawings share: verdicts as on the sheet, the north arrow, the scale bar."""

from __future__ import annotations

import functools
import math
from collections.abc import Sequence

from survey.assessment import Verdict
from survey.drawings.labels import in_box, text_box
from survey.drawings.shapes import Anchor, Circle, Path, Point, Shape

_SIZE = 32.0  # of the square in which the sheet's own shapes are drawn: forms/sheet_parts.html
_MIDDLE = (_SIZE / 2, _SIZE / 2)
_OUTLINES: dict[Verdict, tuple[Point, ...]] = {
    Verdict.GO_WITH_CONDITIONS: ((3, 3), (29, 3), (29, 29), (3, 29)),
    Verdict.HOLD: ((16, 1.8), (30.2, 16), (16, 30.2), (1.8, 16)),
    Verdict.ENGINEER_REVIEW: ((3, 28), (3, 3), (29, 28)),
    Verdict.NO_GO: (
        (10.5, 2), (21.5, 2), (30, 10.5), (30, 21.5), (21.5, 30), (10.5, 30), (2, 21.5), (2, 10.5),
    ),
}  # fmt: skip
_STROKES: dict[Verdict, tuple[tuple[Point, ...], ...]] = {
    Verdict.GO: (((9.5, 16.5), (14, 21.5), (22.5, 10.5)),),
    Verdict.GO_WITH_CONDITIONS: (((8, 11), (24, 11)), ((8, 16), (24, 16)), ((8, 21), (24, 21))),
    Verdict.HOLD: (((13, 11), (13, 21)), ((19, 11), (19, 21))),
    Verdict.ENGINEER_REVIEW: (((8.5, 22.5), (8.5, 14.5), (16.8, 22.5), (8.5, 22.5)),),
    Verdict.NO_GO: (((10, 10), (22, 22)), ((22, 10), (10, 22))),
}


def verdict_mark(verdict: Verdict, middle: Point, radius_mm: float) -> tuple[Shape, ...]:
    """The shape of a verdict, as on the sheet: told by its outline alone."""
    outline, strokes = _mark(verdict, radius_mm)
    x, y = middle

    def there(points: Sequence[Point]) -> tuple[Point, ...]:
        return tuple([(x + across, y + down) for across, down in points])

    name = f"verdict {verdict.name.lower().replace('_', '-')}"
    inner = "verdict-bare" if verdict is Verdict.NO_GO else "verdict-in"
    return (
        Path(there(outline), name, closed=True)
        if outline
        else Circle(middle, 13.5 * radius_mm * 2 / _SIZE, name),
        *(Path(there(line), inner) for line in strokes),
    )


@functools.lru_cache(maxsize=64)
def _mark(
    verdict: Verdict, radius_mm: float
) -> tuple[tuple[Point, ...], tuple[tuple[Point, ...], ...]]:
    """Outline, empty where it is a circle, and inner lines about (0, 0)."""
    size = radius_mm * 2 / _SIZE

    def about(points: Sequence[Point]) -> tuple[Point, ...]:
        return tuple(((x - _MIDDLE[0]) * size, (y - _MIDDLE[1]) * size) for x, y in points)

    return about(_OUTLINES.get(verdict, ())), tuple(map(about, _STROKES[verdict]))


def north_arrow(middle: Point, clockwise_deg: float, size_mm: float) -> tuple[Shape, ...]:
    """An arrow to the north.

    Args:
        middle: of the arrow, on paper.
        clockwise_deg: from straight up.
        size_mm: from its tip to its foot.
    """
    turn = math.radians(clockwise_deg)
    up, right = (math.sin(turn), -math.cos(turn)), (math.cos(turn), math.sin(turn))

    def at(along: float, across: float) -> Point:
        return (
            middle[0] + size_mm * (along * up[0] + across * right[0]),
            middle[1] + size_mm * (along * up[1] + across * right[1]),
        )

    x, y = at(0.74, 0)
    return (
        Path((at(0.5, 0), at(-0.5, -0.28), at(-0.3, 0)), "north-dark", closed=True),
        Path((at(0.5, 0), at(-0.5, 0.28), at(-0.3, 0)), "north-light", closed=True),
        in_box("N", text_box((x, y + 1.1), "N", 3.2, Anchor.MIDDLE), 3.2, "north-text"),
    )


def scale_bar(start: Point, length_mm: float, half: str, end: str, size_mm: float) -> list[Shape]:
    """A bar in two halves with its figures above, from its lower left corner."""
    (x, y), high = start, 1.2
    middle, last = x + length_mm / 2, x + length_mm
    shapes: list[Shape] = [
        Path(((x, y), (x, y - high), (middle, y - high), (middle, y)), "bar-dark", closed=True),
        Path(
            ((middle, y), (middle, y - high), (last, y - high), (last, y)), "bar-light", closed=True
        ),
    ]
    for at, text in ((x, "0"), (middle, half), (last, end)):
        box = text_box((at, y - high - 1.0), text, size_mm, Anchor.MIDDLE)
        shapes.append(in_box(text, box, size_mm, "plan-text"))
    return shapes
