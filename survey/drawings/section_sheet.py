"""What a section gathers while it is drawn, and how it all comes to stand on one sheet."""

from __future__ import annotations

from collections.abc import Iterable

from survey.drawings.section_cut import Cut
from survey.drawings.section_labels import (
    LEADER,
    LINE_MM,
    ROW_MM,
    Column,
    Dimension,
    Label,
    column,
    rows,
    upright,
)
from survey.drawings.section_paper import DRAWING_LEFT_MM, DRAWING_RIGHT_MM, scale_bar
from survey.drawings.shapes import Anchor, Circle, Drawing, Path, Point, Shape, Text
from survey.model import Value
from survey.vocabulary import VOCABULARY, Kind, Missing, write_quantity

WIDTH_MM = 180.0
_LEFT = Column(0.0, 36.0, 37.0, DRAWING_LEFT_MM - 0.5, Anchor.END)
_RIGHT = Column(143.0, WIDTH_MM, 142.0, DRAWING_RIGHT_MM + 1.0, Anchor.START)
_UPRIGHT_MM = tuple(DRAWING_LEFT_MM - 1.5 - 5.2 * i for i in range(3))
_ROWS_BETWEEN = (39.0, DRAWING_RIGHT_MM + 1.0)
_MARGIN_MM, _BAR_MM = 1.5, 6.5


class Sheet:
    """Words, dimensions and remarks of one section.

    Args:
        cut: the section.
    """

    def __init__(self, cut: Cut) -> None:
        self.cut = cut
        self.remarks: list[str] = []
        self._left: list[Label] = []
        self._right: list[Label] = []
        self._above: list[Dimension] = []
        self._below: list[Dimension] = []
        self._beside: list[Dimension] = []

    def left(self, text: str, at: Point | None = None) -> None:
        """Words at the left, of a point of the section."""
        self._left.append(Label(text, None if at is None else self.cut.at(*at)))

    def right(self, text: str, at: Point | None = None) -> None:
        """Words at the right."""
        self._right.append(Label(text, None if at is None else self.cut.at(*at)))

    def above(self, start: Point, end: Point, text: str) -> None:
        """A level dimension above the drawing, between two points of the section."""
        self._above.append(self._level(start, end, text))

    def below(self, start: Point, end: Point, text: str) -> None:
        """One below the drawing."""
        self._below.append(self._level(start, end, text))

    def _level(self, start: Point, end: Point, text: str) -> Dimension:
        (x, y), (other_x, other_y) = self.cut.at(*start), self.cut.at(*end)
        return Dimension(x, other_x, (y, other_y), text)

    def beside(self, start: Point, end: Point, text: str) -> None:
        """An upright dimension at the left of the drawing."""
        (x, y), (other_x, other_y) = self.cut.at(*start), self.cut.at(*end)
        self._beside.append(Dimension(y, other_y, (x, other_x), text))

    def said(self, word: str, value: Value | None = None) -> str:
        """An answer, or another length of its kind, in the units of the survey's form."""
        value = self.cut.figures[word] if value is None else value
        if isinstance(value, Missing) or not isinstance(value, float):
            return str(value)
        unit = VOCABULARY[word].unit_in(self.cut.figures.site.units)
        return write_quantity(value, Kind.LENGTH, unit)

    def drawn(self, title: str, body: Iterable[Shape]) -> Drawing:
        """All of it on paper, once the body has been drawn and has told its words."""
        paper, units = self.cut.paper, self.cut.figures.site.units
        shapes = list(body)
        top, bottom = paper.y(paper.top), paper.y(paper.bottom)
        above, highest = rows(self._above, top - 3.0, -ROW_MM, *_ROWS_BETWEEN)
        below, lowest = rows(self._below, bottom + 4.5, ROW_MM, *_ROWS_BETWEEN)
        left = column(self._left, _LEFT, top, bottom)
        leaders = [one.points[0][1] for one in left if isinstance(one, Path) and one.look == LEADER]
        beside = [
            shape
            for dimension, x in zip(self._ordered(), _UPRIGHT_MM, strict=False)
            for shape in upright(dimension, x, top, bottom, leaders)
        ]
        words = [*left, *column(self._right, _RIGHT, top, bottom)]
        lowest = max(
            lowest, *(word.at[1] + LINE_MM for word in words if isinstance(word, Text)), bottom
        )
        bar = scale_bar(paper, units, (_LEFT.left + 2.0, lowest))
        up = min(highest, top) - _MARGIN_MM
        # Texts lie above all lines.
        everything = sorted(
            (*above, *below, *beside, *shapes, *words, *bar),
            key=lambda shape: isinstance(shape, Text),
        )
        dimensions = (*self._above, *self._below, *self._beside)
        told = [*(label.text for label in (*self._left, *self._right)),
                *(dimension.text for dimension in dimensions)]  # fmt: skip
        return Drawing(
            WIDTH_MM, lowest + _BAR_MM - up, title, f"{'; '.join(told)}.",
            tuple(_moved(shape, -up) for shape in everything),
        )  # fmt: skip

    def _ordered(self) -> list[Dimension]:
        """The short ones next to the drawing."""
        return sorted(self._beside, key=lambda one: abs(one.end - one.start))


def _moved(shape: Shape, down: float) -> Shape:
    match shape:
        case Path(points, look, closed):
            return Path(tuple([(x, y + down) for x, y in points]), look, closed)
        case Text((x, y), text, size, look, anchor, turned):
            return Text((x, y + down), text, size, look, anchor, turned)
        case Circle((x, y), radius, look):
            return Circle((x, y + down), radius, look)
