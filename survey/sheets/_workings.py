"""Workings drawn together: each method once, then its numbers place by place."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from survey.assessment import Figure
from survey.engineering.working import Line, Working
from survey.sheets._grouping import by_key
from survey.sheets._places import Places
from survey.vocabulary import VOCABULARY

_LACKING = re.compile(r"'(.+?)' of .+?: (not known|does not apply)(?:; |$)")


@dataclass(frozen=True, slots=True)
class Step:
    """A line of a method.

    Args:
        everywhere: numbers and result where they are the same at every place, else empty.
    """

    symbol: str
    meaning: str
    formula: str
    source: str
    everywhere: str


@dataclass(frozen=True, slots=True)
class Worked:
    """The numbers of a method where they are the same: the steps that differ, and the figure."""

    where: str
    numbers: tuple[str, ...]
    shown: str
    reason: str


@dataclass(frozen=True, slots=True)
class Method:
    """How one word was worked out, at every place where it was worked out in this way."""

    word: str
    title: str
    source: str
    validity: str
    steps: tuple[Step, ...]
    worked: tuple[Worked, ...]


@dataclass(frozen=True, slots=True)
class Unworked:
    """A figure without a working: why, and where."""

    word: str
    where: str
    shown: str
    reason: str


def methods(figures: Iterable[Figure], places: Places) -> tuple[Method, ...]:
    """The methods behind the figures that carry a working."""
    with_working = [(f, f.working) for f in figures if f.working is not None]
    return tuple(
        _method(same, places)
        for of_word in by_key(with_working, lambda pair: pair[0].word)
        for same in by_key(of_word, lambda pair: _shape(pair[1]))
    )


def unworked(figures: Iterable[Figure], places: Places) -> tuple[Unworked, ...]:
    """The figures that carry none: they don't apply or can't be told."""
    plain = [(f, in_brief(f.reason)) for f in figures if f.working is None]
    return tuple(
        Unworked(
            same[0][0].word,
            places.named(VOCABULARY[same[0][0].word].subject, (f.place for f, _ in same)),
            same[0][0].shown,
            same[0][1],
        )
        for same in by_key(plain, lambda pair: (pair[0].word, pair[0].shown, pair[1]))
    )


def in_brief(reason: str) -> str:
    """Why a figure is not known, without the labels of the rows that lack an answer.

    The open questions list those with their cells; without them, many places say the same.

    >>> in_brief("'station' of P1: not known; 'pit length' of P1: not known")
    'not known: station, pit length'
    """
    lacking = list(_LACKING.finditer(reason))
    if "".join(found[0] for found in lacking) != reason:
        return reason
    by_state = by_key(dict.fromkeys((found[2], found[1]) for found in lacking), lambda f: f[0])
    return "; ".join(f"{same[0][0]}: {', '.join(word for _, word in same)}" for same in by_state)


def _shape(working: Working) -> tuple[object, ...]:
    """All of a working but its numbers."""
    lines = ((line.symbol, line.meaning, line.formula, line.source) for line in working.lines)
    return (working.title, working.source, working.validity, *lines)


def _method(same: list[tuple[Figure, Working]], places: Places) -> Method:
    word, first = same[0][0].word, same[0][1]
    differs = [
        any(
            (working.lines[i].numbers, working.lines[i].result) != (line.numbers, line.result)
            for _, working in same
        )
        for i, line in enumerate(first.lines)
    ]
    steps = tuple(
        Step(line.symbol, line.meaning, line.formula, line.source, "" if varies else _equal(line))
        for line, varies in zip(first.lines, differs, strict=True)
    )
    rows = [
        (figure, tuple(
            f"{line.symbol or line.meaning} = {_equal(line)}"
            for line, varies in zip(working.lines, differs, strict=True) if varies
        ))
        for figure, working in same
    ]  # fmt: skip
    worked = tuple(
        Worked(
            places.named(VOCABULARY[word].subject, (figure.place for figure, _ in alike)),
            alike[0][1],
            alike[0][0].shown,
            alike[0][0].reason,
        )
        for alike in by_key(rows, lambda row: (row[1], row[0].shown, row[0].reason))
    )
    return Method(word, first.title, first.source, first.validity, steps, worked)


def _equal(line: Line) -> str:
    return f"{line.numbers} = {line.result}" if line.numbers else line.result
