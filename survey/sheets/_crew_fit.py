"""At what size of type a side of the crew page fits on one sheet of paper, letter or A4.

Reckoned, not measured: there is no browser where the page is written. Letters count as wide as
those of a wide serif, so that a narrower face leaves room. Sizes and shares are those of
``forms/crew.css``; ``tests/whole/test_crew_in_browser.py`` prints pages and holds them to it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from survey.sheets.crew import Box, Side, Told


@dataclass(frozen=True, slots=True)
class Size:
    """How a side is printed.

    Args:
        points: size of its type.
        short: whether only the first sentence of each condition and seat stands.
    """

    points: float
    short: bool = False

    @property
    def name(self) -> str:
        """Of the class in the style sheet: tenths of a point."""
        return f"{self.points * 10:.0f}"


_SIZES = tuple(map(Size, (12.0, 11.0, 10.5, 10.0, 9.5, 9.0, 8.5, 8.0, 7.5)))
_LARGEST_TO_WORK_FROM = 11.0  # points; what stops the work may be larger
_LARGEST_IN_SHORT = 9.0
# Between the margins: A4 is the narrower, letter the shorter.
_WIDE_PT, _HIGH_PT = 538.0, 728.0
_LETTER, _BOLD = 0.49, 0.565  # widths of a letter on average, em, with what the ends of lines lose
_LINE = 1.25  # em
_CLOSER = 0.95  # in short the lines stand closer
_HEADING = 2.2  # em, with the room above and below
_RULED = 0.4  # em: padding and rule of a row


def fit(side: Side) -> Size:
    """The largest size at which a side fits; else the smallest, and then in short."""
    for size in _SIZES:
        if side.starts and size.points > _LARGEST_TO_WORK_FROM:
            continue
        if _fits(side, size):
            return size
    short = [Size(size.points, short=True) for size in _SIZES if size.points <= _LARGEST_IN_SHORT]
    return next((size for size in short if _fits(side, size)), short[-1])


def _fits(side: Side, size: Size) -> bool:
    on_page = _Ruler(_WIDE_PT / size.points)
    height = _head(side, on_page)
    height += _work(side, on_page, size) if side.starts else _stopped(side, on_page)
    return height * size.points * (_CLOSER if size.short else 1.0) <= _HIGH_PT


@dataclass(frozen=True, slots=True)
class _Ruler:
    """Heights of texts on a page so many em wide, in em."""

    width_em: float

    def lines(
        self, text: str, share: float = 1.0, scale: float = 1.0, letter: float = _LETTER
    ) -> float:
        """The height of a text in a column with a share of the width."""
        fitting = max(1.0, self.width_em * share / (scale * letter))
        return math.ceil(len(text) / fitting) * scale * _LINE

    def bold(self, text: str, share: float = 1.0, scale: float = 1.0) -> float:
        """The same in bold."""
        return self.lines(text, share, scale, _BOLD)

    def list(self, texts: Iterable[str], share: float = 1.0) -> float:
        """Texts below each other, each beginning anew."""
        return sum(self.lines(text, share) + 0.1 for text in texts)


def _head(side: Side, ruler: _Ruler) -> float:
    words = side.words
    facts = max(
        ruler.bold(side.address, 0.36), ruler.bold(side.days, 0.28),
        ruler.bold(side.competent_person, 0.28),
    )  # fmt: skip
    emergency = ruler.bold(f"{words.emergency} {side.emergency}", 0.95, 1.2)
    if side.emergency == words.not_known:
        emergency *= 2
    if side.starts:
        said = ruler.bold(words.verdicts[side.verdict], 0.85, 2.0)
        said += ruler.lines(words.start[side.verdict], 0.85, 1.1)
        verdict = max(3.4, said) + 1.6
    else:
        called = f"{words.verdicts[side.verdict]}. {words.stop_and_call}"
        verdict = max(5.5, 4.0 + ruler.lines(called, 0.75, 1.5)) + 2.2
    name = max(ruler.bold(side.job, 1.0, 1.5), 1.8)
    if len(side.job) * 1.5 + len(words.kind) > ruler.width_em / _BOLD:
        name += _LINE
    return name + 0.4 + verdict + 1.7 + facts + emergency + 0.6


def _work(side: Side, ruler: _Ruler, size: Size) -> float:
    words = side.words
    rounds = [f"{one.name}: {one.pits}" for one in side.rounds] or [words.no_order]
    if side.no_round:
        rounds.append(f"{words.fits_no_round}: {side.no_round}")
    keep = ruler.lines(" ".join(side.keep)) + 0.5
    pits = sum(
        max(
            ruler.bold(line.where, 0.34 if side.in_rounds else 0.46),
            ruler.lines(line.rounds, 0.1) if side.in_rounds else 0.0,
            ruler.lines(line.floor, 0.1), ruler.lines(line.sides, 0.19),
            ruler.lines(line.seat, 0.08),
        ) + _RULED
        for line in side.lines
    )  # fmt: skip
    ticked = sum(_box(box, ruler, size.short) for box in side.boxes)
    seats = sum(
        ruler.lines(
            f"{seat.letter}: {seat.prompt}. {seat.first if size.short else seat.do + seat.caution}"
        ) + 0.2
        for seat in side.seats
    )  # fmt: skip
    both = max(ruler.list(side.get_out, 0.42), ruler.list(words.keep_in_mind, 0.44))
    sign = 0.8 + _LINE + math.ceil(side.signatures / 2) * 1.8 + 0.6 + _LINE * 1.3
    order = _HEADING + ruler.list(rounds) + keep + 1.7 + pits
    conditions = _HEADING + 1.7 + ticked + (_LINE if size.short else 0)
    taken_up = (_HEADING + seats + _LINE + 0.2) if side.seats else 0.0
    return order + conditions + taken_up + _HEADING + both + 0.8 + sign


def _box(box: Box, ruler: _Ruler, short: bool) -> float:
    wide = 0.82 - 9.6 / ruler.width_em  # beside the box, the initials and the places
    said = sum(_told(told, ruler, wide, short) for told in box.told)
    if box.note:
        said += ruler.bold(f"Keep to this: {box.note}", wide) + ruler.lines(box.by, wide, 0.85)
    return max(said, 1.5, ruler.lines(f"{box.where} {box.code}", 0.155)) + _RULED


def _told(told: Told, ruler: _Ruler, wide: float, short: bool) -> float:
    if short:
        return ruler.lines(f"{told.lead} {told.first}", wide) + 0.2
    longer = 1.15 * len(told.first) + len(told.lead) + len(told.rest) + 2
    others = ruler.lines(f"The same at {told.others}", wide, 0.85) + 0.2 if told.others else 0.0
    return ruler.lines("x" * math.ceil(longer), wide) + 0.2 + others


def _stopped(side: Side, ruler: _Ruler) -> float:
    why = sum(
        max(
            ruler.bold(one.who, 0.13), ruler.lines(f"{one.what} {one.code}", 0.62),
            ruler.lines(one.where, 0.155),
        ) + _RULED
        for one in side.why
    )  # fmt: skip
    pits = sum(ruler.lines(f"VERDICT WORDS: {where}", 0.95) + 0.2 for _, where in side.pits)
    return 2 * _HEADING + 1.7 + why + _LINE + pits
