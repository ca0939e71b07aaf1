"""Where labels stand on a drawing: never on each other, seldom on a mark, none lost.

A label is tried close to its mark, then farther off with a leader line to it. For what finds no
room, or is too long, a number stands at the mark and the text beside that number in a list.
"""

from __future__ import annotations

import functools
import itertools
import math
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from survey.drawings.shapes import Anchor, Path, Point, Shape, Text

LONGEST_LABEL = 26
UNMARKED = ""
_CELL_MM = 8.0
_CELLS_IN_COLUMN = 10_000
_STEPS_MM = (0.5, 2.6, 5.2, 8.4, 12.5, 18.0, 25.0)
_FAR_STEPS_MM = (*_STEPS_MM, 34.0, 45.0, 60.0)
_LEADER_FROM_MM = 2.0
_TEXT_WEIGHT = 100
_STEP_COST = 2
_OVER_TEXT = 8
HEAVY = 40  # weight of a mark that nothing should run over
_OTHERS = 4  # what a text that stands on its own mark still keeps off
_ABOVE, _BELOW = 0.95, 0.27  # of the size of a font: what its tallest and lowest letters take
_NUMBER_MM = 2.3


class Box(NamedTuple):
    """An upright rectangle on paper, in mm; y runs down."""

    left: float
    top: float
    right: float
    bottom: float

    def holds(self, other: Box) -> bool:
        """Whether the other lies wholly within."""
        return (
            self.left <= other.left
            and other.right <= self.right
            and self.top <= other.top
            and other.bottom <= self.bottom
        )

    def grown(self, by_mm: float) -> Box:
        """The same with so much more on every side."""
        return Box(self.left - by_mm, self.top - by_mm, self.right + by_mm, self.bottom + by_mm)


@dataclass(frozen=True, slots=True)
class Label:
    """A text that belongs to a mark on the drawing.

    Args:
        spots: points that it may stand for, the first to be preferred; in mm on paper.
        clear_mm: how far its mark reaches from such a point.
        towards: direction from the mark in which it is to stand if it can.
        on: whether it may stand on the point itself.
        leads: whether a line leads to it where it stands off.
    """

    text: str
    spots: tuple[Point, ...]
    size_mm: float
    look: str
    clear_mm: float = 0.0
    towards: Point = (1.0, 0.0)
    on: bool = False
    leads: bool = True


@dataclass(slots=True)
class Taken:
    """What stands on the drawing already: texts, which nothing may meet, and marks to spare.

    Args:
        room: within which every label must stay.
    """

    room: Box
    _cells: dict[int, list[tuple[Box, int]]] = field(default_factory=dict)

    def add_mark(self, box: Box, weight: int = 3) -> None:
        """A mark that labels keep off where they can, the more so the more it weighs."""
        mark, cells = (box, weight), self._cells
        for cell in _cells_of(box):
            cells.setdefault(cell, []).append(mark)

    def add_line(self, points: Sequence[Point], weight: int = 1) -> None:
        """A line that labels keep off where they can."""
        for one, other in itertools.pairwise(points):
            for box in _along(one, other):
                self.add_mark(box, weight)

    def add_text(self, box: Box) -> None:
        """A text: no label may meet it."""
        self.add_mark(box, _TEXT_WEIGHT)

    def cost(self, box: Box, enough: int = _TEXT_WEIGHT, least: int = 0) -> int:
        """What a text in this box would cover; at least ``enough`` if it can't stand there.

        Args:
            box: of the text.
            enough: from which on it does not matter how much more.
            least: weight of the marks that count.
        """
        left, top, right, bottom = box
        room = self.room
        if left < room[0] or top < room[1] or right > room[2] or bottom > room[3]:
            return _TEXT_WEIGHT
        cells, total = self._cells, 0
        met: set[int] = set()
        for cell in _cells_of(box):
            for mark in cells.get(cell, ()):
                # Plain steps: this is asked thousands of times.
                other, weight = mark
                if (
                    weight >= least
                    and other[0] < right
                    and left < other[2]
                    and other[1] < bottom
                    and top < other[3]
                    and id(mark) not in met
                ):
                    total += weight
                    if total >= enough:
                        return total
                    met.add(id(mark))
        return total


class Placed(NamedTuple):
    """The labels as shapes, and those that stand in a list by their numbers.

    Args:
        shapes: leader lines first.
        listed: number and text; ``UNMARKED`` of one that found no room even for that.
    """

    shapes: tuple[Shape, ...]
    listed: tuple[tuple[str, str], ...]


def place(labels: Iterable[Label], taken: Taken, first: int = 1) -> Placed:
    """Find a place for every label, in their order.

    Args:
        labels: those that matter most come first.
        taken: what is there already; what is placed is added to it.
        first: the number that the first listed label gets.
    """
    leaders: list[Shape] = []
    texts: list[Shape] = []
    listed: list[tuple[str, str]] = []
    for label in labels:
        shown = label
        found = _find(label, taken, _STEPS_MM) if len(label.text) <= LONGEST_LABEL else None
        if found is None:
            number = f"#{first + len(listed)}"
            shown = replace(label, text=number, size_mm=min(label.size_mm, _NUMBER_MM))
            found = _find(shown, taken, _FAR_STEPS_MM)
            listed.append((UNMARKED if found is None else number, label.text))
        if found is not None:
            spot, box = found
            taken.add_text(box)
            texts.append(in_box(shown.text, box, shown.size_mm, shown.look))
            if leader := _leader(shown, spot, box):
                leaders.append(leader)
                taken.add_line(leader.points, weight=4)
    return Placed((*leaders, *texts), tuple(listed))


def _find(label: Label, taken: Taken, steps: tuple[float, ...]) -> tuple[Point, Box] | None:
    """The place that covers least; each step away from the mark counts as covering a little."""
    width, size = text_width(label.text, label.size_mm), label.size_mm
    if label.on:
        for spot in label.spots:
            box = _centred(spot, width, size)
            if taken.cost(box, 1, _OTHERS) == 0:
                return spot, box
    best, found = _TEXT_WEIGHT, None
    ways = _ways(label.towards)
    for away, step in enumerate(steps):
        for spot in label.spots:
            for way in ways:
                if best <= away * _STEP_COST:
                    return found
                box = _beside(spot, way, label.clear_mm + step, width, size)
                cost = away * _STEP_COST + taken.cost(box, best - away * _STEP_COST)
                if cost < best and away and label.leads:
                    cost += _crossing(_leader(label, spot, box), taken)
                if cost < best:
                    best, found = cost, (spot, box)
    return found


def _crossing(leader: Path | None, taken: Taken) -> int:
    """What it costs that a leader line runs over texts or other marks than its own."""
    if leader is None:
        return 0
    pieces = itertools.islice(_along(*leader.points), 1, None)  # the first begins at its own mark
    return sum(_OVER_TEXT for piece in pieces if taken.cost(piece, HEAVY, HEAVY))


class _Way(NamedTuple):
    """A direction, and by how much of half its size a box moves to lie wholly that way."""

    x: float
    y: float
    across: float
    down: float


@functools.lru_cache(maxsize=64)
def _ways(towards: Point) -> tuple[_Way, ...]:
    """Eight directions, the wished one first, then those nearest to it."""
    first = math.atan2(towards[1], towards[0])
    found = []
    for turn in (0.0, 1.0, -1.0, 2.0, -2.0, 3.0, -3.0, 4.0):
        x, y = math.cos(first + turn * math.pi / 4), math.sin(first + turn * math.pi / 4)
        found.append(_Way(x, y, max(-1.0, min(1.0, 1.5 * x)), max(-1.0, min(1.0, 1.5 * y))))
    return tuple(found)


def _centred(spot: Point, width: float, size: float) -> Box:
    x, y = spot
    half = (_ABOVE + _BELOW) * size / 2
    return Box(x - width / 2, y - half, x + width / 2, y + half)


def _beside(spot: Point, way: _Way, off_mm: float, width: float, size: float) -> Box:
    """A box that lies in a direction from a point, off it by so much."""
    half, wide = (_ABOVE + _BELOW) * size / 2, width / 2
    x = spot[0] + way.x * off_mm + wide * way.across
    y = spot[1] + way.y * off_mm + half * way.down
    return Box(x - wide, y - half, x + wide, y + half)


def _leader(label: Label, spot: Point, box: Box) -> Path | None:
    """The line from a mark to a label that stands off it."""
    if not label.leads:
        return None
    x = min(max(spot[0], box.left), box.right)
    y = min(max(spot[1], box.top), box.bottom)
    length = math.hypot(x - spot[0], y - spot[1])
    if length < label.clear_mm + _LEADER_FROM_MM:
        return None
    share = label.clear_mm / length
    start = (spot[0] + share * (x - spot[0]), spot[1] + share * (y - spot[1]))
    return Path((start, (x, y)), "leader")


def in_box(text: str, box: Box, size_mm: float, look: str) -> Text:
    """A text that fills a box from left to right."""
    at = ((box.left + box.right) / 2, box.bottom - _BELOW * size_mm)
    return Text(at, text, size_mm, look, Anchor.MIDDLE, width_mm=box.right - box.left)


def text_box(at: Point, text: str, size_mm: float, anchor: Anchor = Anchor.START) -> Box:
    """What a text takes up whose base line begins, or has its middle or end, at a point."""
    width = text_width(text, size_mm)
    left = at[0] - {Anchor.START: 0.0, Anchor.MIDDLE: width / 2, Anchor.END: width}[anchor]
    return Box(left, at[1] - _ABOVE * size_mm, left + width, at[1] + _BELOW * size_mm)


def _along(one: Point, other: Point) -> Iterator[Box]:
    """Boxes that cover a straight line: one if it is level or upright, else small ones."""
    (x1, y1), (x2, y2) = one, other
    length = math.hypot(x2 - x1, y2 - y1)
    level = abs(x2 - x1) < 0.1 or abs(y2 - y1) < 0.1
    pieces = max(1, math.ceil(length / (_CELL_MM if level else 1.5)))
    for i in range(pieces):
        a, b = i / pieces, (i + 1) / pieces
        xa, xb = x1 + a * (x2 - x1), x1 + b * (x2 - x1)
        ya, yb = y1 + a * (y2 - y1), y1 + b * (y2 - y1)
        yield Box(min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb)).grown(0.15)


def _cells_of(box: Box) -> Iterable[int]:
    """The cells of a grid that a box has a part in, numbered."""
    first, last = int(box[0] // _CELL_MM), int(box[2] // _CELL_MM)
    upper, lower = int(box[1] // _CELL_MM), int(box[3] // _CELL_MM)
    start = first * _CELLS_IN_COLUMN + upper
    if first == last:
        return range(start, start + lower - upper + 1)
    if upper == lower:
        return range(start, last * _CELLS_IN_COLUMN + upper + 1, _CELLS_IN_COLUMN)
    return [
        column * _CELLS_IN_COLUMN + row
        for column in range(first, last + 1)
        for row in range(upper, lower + 1)
    ]


# Widths of the letters of a plain sans serif, in thousandths of the size of the font, from the
# published metrics of Helvetica; other letters are taken by what sort they are. A text is told its
# width, so that it takes no more whatever fonts there are.
_WIDTHS = {
    letter: width
    for letters, width in (
        ("ijl", 222), ("'|", 230), (" !,./:;I[\\]ft", 278), ("()-`r", 333), ("\"*", 380),
        ("Jcksvxyz", 500), ("#$0123456789?L_abdeghnopqu", 556), ("FTZ^~+<=>", 611),
        ("&ABEKPSVXY", 667), ("CDHNRUw", 722), ("GOQ", 778), ("Mm", 833), ("%W@", 1000),
    )
    for letter in letters
}  # fmt: skip
_AIR = 1.04


@functools.lru_cache(maxsize=1024)
def text_width(text: str, size_mm: float) -> float:
    """How much room a line of text is given, in mm; it is set to just this width.

    >>> round(text_width("P1", 2.5), 2)
    3.18
    """
    widths = _WIDTHS
    thousandths = sum(widths.get(letter) or _width_of_other(letter) for letter in text)
    return max(thousandths, 222) * size_mm / 1000 * _AIR


def _width_of_other(letter: str) -> int:
    """Width of a letter that has none in the table: accents none, signs and East Asian wide."""
    if unicodedata.category(letter) in ("Mn", "Me", "Cf"):
        return 0
    wide = unicodedata.east_asian_width(letter) in "WF" or unicodedata.category(letter) == "So"
    return 1100 if wide else 667


def wrapped(text: str, size_mm: float, width_mm: float) -> tuple[str, ...]:
    """A text in lines that are no wider than asked; words that are longer are broken."""
    lines: list[str] = []
    line = ""
    for whole in text.split():
        word = whole
        longer = f"{line} {word}" if line else word
        if text_width(longer, size_mm) <= width_mm:
            line = longer
            continue
        if line:
            lines.append(line)
        while text_width(word, size_mm) > width_mm and len(word) > 1:
            end = len(word) - 1
            while end > 1 and text_width(word[:end], size_mm) > width_mm:
                end -= 1
            lines.append(word[:end])
            word = word[end:]
        line = word
    return (*lines, line) if line else tuple(lines)
