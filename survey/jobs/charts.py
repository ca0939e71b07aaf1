"""Bars on paper: a line for each thing, with its number written beside it.

Parts of a bar are told apart by hatch and by their order, not by colour, so that they are in black
and white too.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

from survey.drawings.labels import text_width, wrapped
from survey.drawings.section_paper import hatch
from survey.drawings.shapes import Anchor, Drawing, Path, Point, Shape, Text

_SIZE_MM, _LINE_MM = 2.9, 3.4
_LABEL_MM, _GAP_MM, _BAR_MM, _SAID_MM = 74.0, 2.0, 88.0, 36.0
_WIDTH_MM = _LABEL_MM + _GAP_MM + _BAR_MM + _SAID_MM
_THICK_MM, _STEP_MM, _KEY_MM = 5.0, 8.4, 7.0
_MOST_LINES = 2
_LONGEST_LABEL = 400  # letters; no two lines hold as many, and wrapping a very long word is slow
_SWATCH_MM = 6.0


class Fill(Enum):
    """How a part of a bar looks, by the name of its look."""

    FULL = "chart-full"
    CROSSED = "chart-crossed"
    RISING = "chart-rising"
    GREY = "chart-grey"
    EMPTY = "chart-empty"
    FALLING = "chart-falling"


_RISING_MM = {Fill.CROSSED: 1.3, Fill.RISING: 1.8}
_FALLING_MM = {Fill.CROSSED: 1.3, Fill.FALLING: 1.8}


@dataclass(frozen=True, slots=True)
class Bar:
    """One line of a chart.

    Args:
        label: what it is for.
        parts: how many, by how each part looks; from left to right.
        said: the number with its base, such as ``4 of 5 sites``.
    """

    label: str
    parts: Mapping[Fill, int]
    said: str


def chart(title: str, bars: Sequence[Bar], whole: int, key: Mapping[Fill, str]) -> Drawing:
    """Bars below each other, all to one scale that begins at nought.

    Args:
        title: what is counted.
        bars: from top to bottom.
        whole: the number that a bar over the whole width stands for; not less than any bar.
        key: what each look means.
    """
    shapes: list[Shape] = list(_key(key))
    for place, bar in enumerate(bars):
        shapes += _bar(bar, _KEY_MM + place * _STEP_MM, whole)
    height = _KEY_MM + len(bars) * _STEP_MM
    for at in (_LABEL_MM + _GAP_MM, _LABEL_MM + _GAP_MM + _BAR_MM):
        shapes.append(Path(((at, _KEY_MM), (at, height)), "chart-axis"))
    said = "; ".join(f"{bar.label}: {bar.said}" for bar in bars)
    return Drawing(_WIDTH_MM, height, title, said, tuple(shapes))


def _key(key: Mapping[Fill, str]) -> Iterator[Shape]:
    left = 0.0
    for fill, meaning in key.items():
        yield from _filled((left, 0.6), (left + _SWATCH_MM, 4.2), fill)
        yield _text((left + _SWATCH_MM + 1.0, 3.6), meaning)
        left += _SWATCH_MM + text_width(meaning, _SIZE_MM) + 6.0


def _bar(bar: Bar, top: float, whole: int) -> Iterator[Shape]:
    middle = top + _STEP_MM / 2
    lines = _shortened(bar.label)
    first = middle - (len(lines) - 1) * _LINE_MM / 2 + _SIZE_MM * 0.35
    for place, line in enumerate(lines):
        yield _text((0.0, first + place * _LINE_MM), line)
    left = _LABEL_MM + _GAP_MM
    for fill, number in bar.parts.items():
        if number:
            right = left + _BAR_MM * number / whole
            yield from _filled(
                (left, middle - _THICK_MM / 2), (right, middle + _THICK_MM / 2), fill
            )
            yield from _number(number, (left, right), middle, fill)
            left = right
    yield _text((_LABEL_MM + _GAP_MM + _BAR_MM + 1.5, middle + _SIZE_MM * 0.35), bar.said)


def _shortened(label: str) -> tuple[str, ...]:
    lines = wrapped(label[:_LONGEST_LABEL], _SIZE_MM, _LABEL_MM)
    if len(lines) <= _MOST_LINES:
        return lines
    last = lines[_MOST_LINES - 1]
    while last and text_width(f"{last}…", _SIZE_MM) > _LABEL_MM:
        last = last[:-1]
    return (*lines[: _MOST_LINES - 1], f"{last}…")


def _number(number: int, ends: tuple[float, float], middle: float, fill: Fill) -> Iterator[Text]:
    """The number in its part of a bar, where there is room for it."""
    left, right = ends
    text = str(number)
    width = text_width(text, _SIZE_MM)
    if right - left >= width + 1.6:
        look = "chart-number-on-full" if fill is Fill.FULL else "chart-number"
        at = ((left + right) / 2, middle + _SIZE_MM * 0.35)
        yield Text(at, text, _SIZE_MM, look, Anchor.MIDDLE, width_mm=width)


def _filled(corner: Point, other: Point, fill: Fill) -> Iterator[Shape]:
    (left, top), (right, bottom) = corner, other
    yield Path(((left, top), (right, top), (right, bottom), (left, bottom)), fill.value, True)
    if spacing := _RISING_MM.get(fill):
        yield hatch(corner, other, spacing, "chart-line", rising=True)
    if spacing := _FALLING_MM.get(fill):
        yield hatch(corner, other, spacing, "chart-line", rising=False)


def _text(at: Point, text: str) -> Text:
    return Text(at, text, _SIZE_MM, "chart-text", Anchor.START, width_mm=text_width(text, _SIZE_MM))
