"""Workings drawn together: each method once, then its numbers place by place."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from survey.engineering.working import Input, Line, Working
from survey.sheets._grouping import by_key
from survey.sheets._legible import said
from survey.sheets._places import Places, in_cells, span
from survey.sheets._resting import Rested
from survey.vocabulary import NOT_KNOWN, VOCABULARY

_CELL = re.compile(r"([A-Z]{1,3})(\d{1,7})")
_PATH = re.compile(r"(\w+)\[(\d+)\]\.(\w+)")
_LACKING = re.compile(r"'(.+?)' of .+?: (not known|does not apply)(?:; |$)")
_TOLD_APART = 4  # different answers to one question that still stand beside their method


class Step(NamedTuple):
    """A line of a method.

    Args:
        numbers, result: where they are the same at every place, else empty.
    """

    symbol: str
    meaning: str
    formula: str
    source: str
    numbers: str
    result: str


@dataclass(frozen=True, slots=True)
class Worked:
    """The numbers of a method where they are the same: the steps that differ, and the figure.

    Args:
        reason: why there is no figure; empty if there is one.
        settles: of a figure that is not known, what has to be answered first, or who decides.
    """

    where: str
    numbers: tuple[str, ...]
    shown: str
    reason: str
    settles: str


class Given(NamedTuple):
    """The answers to one question that a method takes up.

    Args:
        answers: each with the places where it was given, if they are few; else none, and the
            answers stand in the list of those that differ from place to place.
        cells: of all of them.
    """

    word: str
    answers: tuple[tuple[str, str], ...]
    cells: str


@dataclass(frozen=True, slots=True)
class Method:
    """How one figure was worked out, at every place where it was worked out in this way.

    Args:
        number: by which others refer to it.
        name: the word, or the title of a step that has none.
        where: every place.
        given: the answers that it takes up.
        behind: number and name of each figure that it takes up.
        codes: of the rules whose findings rest on it; in brackets where those are released.
    """

    number: int
    name: str
    title: str
    source: str
    validity: str
    where: str
    steps: tuple[Step, ...]
    worked: tuple[Worked, ...]
    given: tuple[Given, ...]
    behind: tuple[tuple[int, str], ...]
    codes: tuple[str, ...]

    @property
    def shown(self) -> str:
        """The figure, if it is the same at every place."""
        shown = {one.shown for one in self.worked}
        return shown.pop() if len(shown) == 1 else ""


@dataclass(frozen=True, slots=True)
class Unworked:
    """A figure without a working.

    Args:
        shown: that it is not known, or does not apply; or the figure, where it is an answer.
        reason: why.
        settles: what has to be answered first, with its cells, or who decides.
    """

    number: int
    name: str
    where: str
    shown: str
    reason: str
    settles: str
    codes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Listed:
    """Answers to one question that differ from place to place: label, answer and cell."""

    word: str
    answers: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class Calculations:
    """The figures behind the findings of a site, as they are printed.

    Args:
        methods: in the order of their numbers.
        unworked: the figures without a working, in the same numbering.
        listed: answers of methods that differ from place to place.
        numbers: by word and label of each figure.
    """

    methods: tuple[Method, ...]
    unworked: tuple[Unworked, ...]
    listed: tuple[Listed, ...]
    numbers: Mapping[tuple[str, str], int]

    @property
    def every(self) -> list[Method | Unworked]:
        """All of them in the order of their numbers."""
        return sorted([*self.methods, *self.unworked], key=lambda one: one.number)


def calculations(figures: Iterable[Rested], places: Places) -> Calculations:
    """The methods behind figures, numbered in the order in which the figures are given."""
    alike = by_key(figures, _shape)
    for same in alike:
        same.sort(key=lambda one: one.rank)
    numbers = {id(one): number for number, same in enumerate(alike, 1) for one in same}
    listed: dict[str, dict[int, Input]] = {}
    methods: list[Method] = []
    unworked: list[Unworked] = []
    for number, same in enumerate(alike, 1):
        if same[0].working is None:
            unworked.append(_unworked(number, same, places))
        else:
            methods.append(_method(number, same, places, numbers, listed))
    return Calculations(
        tuple(methods),
        tuple(unworked),
        tuple(_listed(word, inputs) for word, inputs in listed.items()),
        {
            (one.name, place): number
            for number, same in enumerate(alike, 1)
            for one in same
            for place in one.places
        },
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


def in_few(inputs: Iterable[Input]) -> str:
    """The cells of answers, in few words; of a survey in JSON, its paths.

    ``Piers F7 to F11``, ``piers[2 to 6].pit_depth``.
    """
    cells: list[str] = []
    rows: dict[tuple[str, str], list[int]] = {}
    for where in dict.fromkeys(given.answer.where for given in inputs):
        path = _PATH.fullmatch(where)
        if path is None:
            cells.append(where)
        else:
            rows.setdefault((path[1], path[3]), []).append(int(path[2]))
    paths = (
        f"{listed}[{span(map(str, sorted(of)))}].{name}" for (listed, name), of in rows.items()
    )
    return "; ".join(filter(None, (in_cells(sorted(cells, key=_in_order)), *paths)))


def _in_order(where: str) -> tuple[str, str, int, str]:
    """To sort places on a form: by sheet, column and row."""
    sheet, _, cell = where.rpartition("!")
    found = _CELL.fullmatch(cell)
    return (sheet, "", 0, cell) if found is None else (sheet, found[1], int(found[2]), "")


def _shape(one: Rested) -> tuple[object, ...]:
    """All of a figure's working but its numbers; of a figure without one, what is printed."""
    working = one.working
    if working is None:
        return one.name, one.shown, in_brief(one.quantity.result.reason)
    lines = ((line.symbol, line.meaning, line.formula, line.source) for line in working.lines)
    return (one.name, working.title, working.source, working.validity, *lines)


def _method(
    number: int,
    same: list[Rested],
    places: Places,
    numbers: Mapping[int, int],
    listed: dict[str, dict[int, Input]],
) -> Method:
    each = [_working(one).lines for one in same]
    first = _working(same[0])
    differs = [
        len({(line.numbers, line.result) for line in alike}) > 1
        for alike in zip(*each, strict=True)
    ]
    steps = tuple(
        Step(
            line.symbol, line.meaning, line.formula, line.source,
            "" if varies else line.numbers, "" if varies else line.result,
        )
        for line, varies in zip(first.lines, differs, strict=True)
    )  # fmt: skip
    rows = [
        (one, tuple(
            f"{line.symbol or line.meaning} = {_equal(line)}"
            for line, varies in zip(lines, differs, strict=True) if varies
        ))
        for one, lines in zip(same, each, strict=True)
    ]  # fmt: skip
    worked = tuple(
        Worked(
            _where((one for one, _ in alike), places), alike[0][1], alike[0][0].shown,
            alike[0][0].quantity.result.reason, _settles(one for one, _ in alike),
        )
        for alike in by_key(rows, lambda row: (row[1], row[0].shown, row[0].quantity.result.reason))
    )  # fmt: skip
    behind = {id(other): other for one in same for other in one.behind.values()}
    taken = dict.fromkeys((numbers[id(other)], other.name) for other in behind.values())
    return Method(
        number, same[0].name, first.title, first.source, first.validity, _where(same, places),
        steps, worked, _given(same, places, listed), tuple(sorted(taken)), _codes(same),
    )  # fmt: skip


def _working(one: Rested) -> Working:
    assert one.working is not None, "methods are drawn together from workings"
    return one.working


def _equal(line: Line) -> str:
    return f"{line.numbers} = {line.result}" if line.numbers else line.result


def _unworked(number: int, same: list[Rested], places: Places) -> Unworked:
    return Unworked(
        number, same[0].name, _where(same, places), same[0].shown,
        in_brief(same[0].quantity.result.reason), _settles(same), _codes(same),
    )  # fmt: skip


def _where(same: Iterable[Rested], places: Places) -> str:
    return "; ".join(
        places.named(of[0].subject, (place for one in of for place in one.places))
        for of in by_key(same, lambda one: one.subject)
    )


def _codes(same: Iterable[Rested]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(code for one in same for code in one.codes))


def _settles(same: Iterable[Rested]) -> str:
    """What has to be answered before figures can be told, with its cells, or who decides."""
    unknown = [one for one in same if one.quantity.result.value is NOT_KNOWN]
    if not unknown:
        return ""
    asked = "; ".join(
        f"{of[0].word} ({in_few(of)})" for of in by_key(_missing(unknown), lambda given: given.word)
    )
    if asked:
        return f"Answer first: {asked}."
    return "No answer on the form settles it: look again on site, or an engineer decides."


def _missing(figures: list[Rested]) -> list[Input]:
    """The answers that are not known among those that figures rest on."""
    inputs: dict[int, Input] = {}
    seen: set[int] = set()
    left = list(figures)
    while left:
        one = left.pop()
        if id(one) not in seen:
            seen.add(id(one))
            inputs.update(one.inputs)
            left.extend(one.behind.values())
    return [given for given in inputs.values() if given.answer.value is NOT_KNOWN]


def _given(
    same: list[Rested], places: Places, listed: dict[str, dict[int, Input]]
) -> tuple[Given, ...]:
    inputs: dict[int, Input] = {}
    for one in same:
        inputs.update(one.inputs)
    return tuple(_answered(of, places, listed) for of in by_key(inputs.values(), lambda i: i.word))


def _answered(of: list[Input], places: Places, listed: dict[str, dict[int, Input]]) -> Given:
    word = VOCABULARY[of[0].word]
    apart = by_key(of, _answer)
    if len(apart) > _TOLD_APART:
        listed.setdefault(word.name, {}).update((id(given), given) for given in of)
        answers: tuple[tuple[str, str], ...] = ()
    elif len(apart) == 1:
        answers = (("", _answer(of[0])),)
    else:
        answers = tuple(
            (places.named(word.subject, (given.label for given in alike)), _answer(alike[0]))
            for alike in apart
        )
    return Given(word.name, answers, in_few(of))


def _answer(given: Input) -> str:
    return said(VOCABULARY[given.word], given.answer.value)


def _listed(word: str, inputs: Mapping[int, Input]) -> Listed:
    return Listed(
        word,
        tuple((given.label, _answer(given), in_few([given])) for given in inputs.values()),
    )
