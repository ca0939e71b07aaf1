"""Words and dimensions of a section, so placed that none lies on another.

Words stand in a column at either side, each with a leader to what it names; dimensions in rows
above and below the drawing and in columns at its left. All figures here are millimetres on paper.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from survey.drawings.shapes import Anchor, Path, Point, Shape, Text

SIZE_MM = 2.5
LINE_MM = 3.1
LEADER = "section-leader"
_GAP_MM = 1.4
_ARROW_MM, _ARROW_HALF_MM = 1.5, 0.45
_OUTSIDE_MM = 3.5  # of an arrow that points at a short dimension from beyond it
ROW_MM = 5.0
_LONGEST_WORD = 20  # letters: a longer one is cut over two lines
_MOST_LINES = 4
_UNIT = re.compile(r"(\d) (ft|in|m|mm|deg)\b")

# Widths in a wide sans-serif face (DejaVu Sans), as a share of the size of the letters; what is
# narrower leaves room.
_NARROW, _THIN, _USUAL, _CAPITAL, _WIDE, _OTHER = 0.34, 0.42, 0.64, 0.79, 0.99, 1.1
_WIDTHS = (
    dict.fromkeys("ijl.,:;'|! \N{NO-BREAK SPACE}", _NARROW)
    | dict.fromkeys('ft()[]r-"/', _THIN)
    | dict.fromkeys("ABCDEFGHIJKLNOPQRSTUVXYZw&+=<>#", _CAPITAL)
    | dict.fromkeys("mMW%@", _WIDE)
)


@functools.lru_cache(maxsize=4096)
def text_width(text: str, size_mm: float = SIZE_MM) -> float:
    """Room that a line of text takes at most, mm; exotic letters count as wide."""
    return size_mm * sum(
        _WIDTHS.get(letter, _USUAL if letter.isascii() else _OTHER) for letter in text
    )


@dataclass(frozen=True, slots=True)
class Label:
    """Words beside the drawing.

    Args:
        text: wrapped into the column; what is too long for it ends in an ellipsis.
        at: what they name; none if they name nothing in the drawing.
    """

    text: str
    at: Point | None


@dataclass(frozen=True, slots=True)
class Column:
    """Where labels of one side stand.

    Args:
        left, right: its edges.
        leader: the edge at which leaders begin.
        bend: up to where they run level.
        anchor: how the text is set.
    """

    left: float
    right: float
    leader: float
    bend: float
    anchor: Anchor

    @property
    def text_edge(self) -> float:
        """The edge that the text is set against."""
        return self.left if self.anchor is Anchor.START else self.right


def column(labels: Sequence[Label], where: Column, top: float, bottom: float) -> list[Shape]:
    """Labels with their leaders, each as near to the height of what it names as there is room.

    They may run on below the bottom where there are many.
    """
    named = sorted(
        (label for label in labels if label.at is not None), key=lambda label: _height(label, top)
    )
    named += [label for label in labels if label.at is None]
    wrapped = [wrap(label.text, where.right - where.left) for label in named]
    heights = [len(lines) * LINE_MM + _GAP_MM for lines in wrapped]
    tops: list[float] = []
    for label, lines, height in zip(named, wrapped, heights, strict=True):
        free = tops[-1] + heights[len(tops) - 1] if tops else top
        wished = _height(label, bottom) - len(lines) * LINE_MM / 2
        tops.append(max(free, min(wished, bottom - height)))
    limit = max(bottom, top + sum(heights))
    for i in reversed(range(len(tops))):
        tops[i] = min(tops[i], limit - heights[i])
        limit = tops[i]
    shapes: list[Shape] = []
    for label, lines, start in zip(named, wrapped, tops, strict=True):
        shapes += _written(label, lines, start, where)
    return shapes


def _height(label: Label, otherwise: float) -> float:
    return otherwise if label.at is None else label.at[1]


def _written(label: Label, lines: Sequence[str], top: float, where: Column) -> Iterator[Shape]:
    middle = top + len(lines) * LINE_MM / 2
    if label.at is not None:
        yield Path(((where.leader, middle), (where.bend, middle), label.at), LEADER)
        yield dot(label.at)
    for i, line in enumerate(lines):
        base = top + (i + 0.78) * LINE_MM
        yield Text((where.text_edge, base), line, SIZE_MM, "section-label", where.anchor)


def dot(at: Point, radius: float = 0.5) -> Path:
    """The end of a leader: a small square on its corner."""
    x, y = at
    return Path(
        ((x - radius, y), (x, y - radius), (x + radius, y), (x, y + radius)), "section-dot", True
    )


@functools.lru_cache(maxsize=2048)
def wrap(text: str, width_mm: float) -> tuple[str, ...]:
    """A text in lines that fit a width, at most four of them.

    >>> wrap("footing: concrete, underside 4 ft deep", 30.0)
    ('footing: concrete,', 'underside 4 ft deep')
    """
    lines = [""]
    for word in _words(text):
        longer = f"{lines[-1]} {word}".strip()
        if not lines[-1] or text_width(longer) <= width_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    if len(lines) > _MOST_LINES:
        lines = lines[:_MOST_LINES]
        lines[-1] = _shortened(lines[-1], width_mm)
    return tuple(line.replace("\N{NO-BREAK SPACE}", " ") for line in lines)


def _words(text: str) -> Iterator[str]:
    for word in _UNIT.sub("\\1\N{NO-BREAK SPACE}\\2", text).split(" "):
        # Exotic letters are wide, so fewer of them fit on a line.
        most = (
            _LONGEST_WORD
            if word.replace("\N{NO-BREAK SPACE}", "").isascii()
            else _LONGEST_WORD // 2
        )
        yield from (word[i : i + most] for i in range(0, len(word), most))


def _shortened(line: str, width_mm: float) -> str:
    while line and text_width(f"{line} ...") > width_mm:
        line = line[:-1]
    return f"{line.rstrip()} ..."


@dataclass(frozen=True, slots=True)
class Dimension:
    """A distance to be written, between two points of the drawing that lie on one axis.

    Args:
        start, end: along the axis, in any order.
        sides: where each of the two extension lines begins, across the axis.
        text: the figure.
    """

    start: float
    end: float
    sides: tuple[float, float]
    text: str


def rows(
    dimensions: Sequence[Dimension], first: float, step: float, left: float, right: float
) -> tuple[list[Shape], float]:
    """Level dimensions in as few rows as there is room for.

    Args:
        dimensions: along x; their extension lines begin at ``sides``, of y.
        first: y of the first row.
        step: from row to row; negative upwards.
        left: where their texts may begin.
        right: where they must end.

    Returns:
        The shapes, and y beyond the last row.
    """
    taken: list[list[tuple[float, float]]] = []
    shapes: list[Shape] = []
    for dimension in sorted(dimensions, key=lambda one: abs(one.end - one.start)):
        low, high = sorted((dimension.start, dimension.end))
        width = text_width(dimension.text)
        fits = width + 2 * _ARROW_MM + 1 <= high - low
        at = (low + high) / 2 if fits else high + _OUTSIDE_MM + 0.6 + width / 2
        if at + width / 2 > right:
            at = low - _OUTSIDE_MM - 0.6 - width / 2
        at = min(max(at, left + width / 2), right - width / 2)
        margin = 0.0 if fits else _OUTSIDE_MM
        room = (min(low - margin, at - width / 2) - 1.0, max(high + margin, at + width / 2) + 1.0)
        row = next(
            (i for i, each in enumerate(taken) if all(_apart(room, other) for other in each)),
            len(taken),
        )
        if row == len(taken):
            taken.append([])
        taken[row].append(room)
        y = first + row * step
        ends = list(zip((dimension.start, dimension.end), dimension.sides, strict=True))
        beyond = 1.0 if step > 0 else -1.0
        shapes += [Path(((x, side), (x, y + beyond)), "section-extension") for x, side in ends]
        shapes += _arrowed(low, high, fits, partial(_level, y))
        base = y - 0.7 if fits else y + 0.35 * SIZE_MM
        shapes.append(Text((at, base), dimension.text, SIZE_MM, "section-figure"))
    return shapes, first + len(taken) * step


def _apart(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return one[1] <= other[0] or other[1] <= one[0]


def upright(
    dimension: Dimension, x: float, top: float, bottom: float, leaders: Sequence[float]
) -> list[Shape]:
    """An upright dimension in a column of its own.

    Args:
        dimension: along y; its extension lines begin at ``sides``, of x.
        x: of its line.
        top: where its text may begin.
        bottom: where it must end.
        leaders: heights at which leaders cross the column; its text lies between them if it can.
    """
    low, high = sorted((dimension.start, dimension.end))
    half = text_width(dimension.text) / 2
    fits = 2 * half + 2 * _ARROW_MM <= high - low
    at = _clear_of(leaders, (low + high) / 2, half, (top + half, bottom - half))
    ends = zip((dimension.start, dimension.end), dimension.sides, strict=True)
    shapes: list[Shape] = [Path(((side, y), (x - 1.0, y)), "section-extension") for y, side in ends]
    shapes += _arrowed(low, high, fits, partial(_upright, x))
    shapes.append(Text((x - 0.7, at), dimension.text, SIZE_MM, "section-figure", turned_deg=270.0))
    return shapes


def _clear_of(
    leaders: Sequence[float], wished: float, half: float, limits: tuple[float, float]
) -> float:
    """The middle of a text, as near as there is room to where it is wished."""
    low, high = limits
    middle = min(max(wished, low), high)
    room = half + 0.5
    for step in range(int(2 * (high - low)) + 1):
        for place in (middle + step / 2, middle - step / 2):
            if low <= place <= high and all(abs(y - place) > room for y in leaders):
                return place
    return middle


def _level(y: float, along: float, across: float) -> Point:
    return along, y + across


def _upright(x: float, along: float, across: float) -> Point:
    return x + across, along


_At = Callable[[float, float], Point]


def _arrowed(low: float, high: float, inwards: bool, at: _At) -> Iterator[Shape]:
    """The line of a dimension with a head at either end, within it or pointing at it."""
    beyond = 0.0 if inwards else _OUTSIDE_MM
    yield Path((at(low - beyond, 0.0), at(high + beyond, 0.0)), "section-dimension")
    for tip, direction in ((low, 1.0), (high, -1.0)):
        back = tip + direction * (_ARROW_MM if inwards else -_ARROW_MM)
        head = (at(tip, 0.0), at(back, -_ARROW_HALF_MM), at(back, _ARROW_HALF_MM))
        yield Path(head, "section-arrow", closed=True)
