"""The line loads where some answers are not known: the least and the most that they can be.

Every load grows, or stays, with every figure, and each word stands for a weight or factor. So the
least load is the one with the lowest figure and the lightest word for whatever is not known, the
most with the highest and the heaviest.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping
from functools import cache
from types import MappingProxyType
from typing import NamedTuple, cast

from survey.engineering._steps import noted, number
from survey.engineering.load import (
    LIMITS,
    WORDS,
    WallAbove,
    dead_line_load,
    factored_line_load,
    wall_line_load,
)
from survey.engineering.working import Line, Result, Working, not_known, within
from survey.model import Value
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY

Ends = tuple[float | str, float | str]

_FOOTING_SIZES = ("footing_thickness_in", "footing_width_in")
_NO_FOOTING = "none found"
_NAMES: Mapping[str, str] = MappingProxyType({field: name for field, name, *_ in (*LIMITS, *WORDS)})
_UNITS: Mapping[str, str] = MappingProxyType({field: unit for field, *_, unit in LIMITS})


class WallAnswers(NamedTuple):
    """What was answered of a wall: as :class:`survey.engineering.load.WallAbove`.

    Args:
        wall_material: of the foundation wall; this and all that follow may be not known.
        wall_thickness_in: of the foundation wall, in.
        wall_height_in: of the foundation wall above its footing, in.
        storeys: above the foundation wall.
        wall_cladding: of the storeys above.
        floor_span_in: span of the joists that rest on it, in.
        roof_span_in: span of the rafters or trusses that rest on it, in.
        ground_snow_load_psf: psf.
        footing_kind: what the wall stands on.
        footing_thickness_in: in; does not apply without a footing.
        footing_width_in: in; does not apply without a footing.
        roof_exposure: fully exposed, partially exposed or sheltered.
        roof_heating: heated, kept just above freezing or unheated.
        attic_storage: yes or no, whether the attic is used for storage.
    """

    wall_material: Value
    wall_thickness_in: Value
    wall_height_in: Value
    storeys: Value
    wall_cladding: Value
    floor_span_in: Value
    roof_span_in: Value
    ground_snow_load_psf: Value
    footing_kind: Value
    footing_thickness_in: Value
    footing_width_in: Value
    roof_exposure: Value
    roof_heating: Value
    attic_storage: Value


def line_load_range(answers: WallAnswers, plausible: Mapping[str, Ends] | None = None) -> Result:
    """Service load on the footing of a wall, or between what it lies.

    The load of :func:`survey.engineering.load.wall_line_load` with the lowest and with the
    highest of whatever is not known.

    Args:
        answers: figures and words as there, or not known.
        plausible: by field, the lowest and highest figure or the lightest and heaviest word of
            what is not known; where none is given, the range of the vocabulary and the lightest
            and heaviest of its words.

    Returns:
        Load per foot of wall, plf, down, if all is known; else its bounds.

    Not known when:
        An answer is not known (with bounds); a figure is out of its range or an answer does not
        apply (without), but for the sizes of a footing that is not there.

    Source:
        As :func:`survey.engineering.load.wall_line_load`; bounds by monotony.
    """
    return _range(wall_line_load, answers, plausible, _HEAVIEST)


def factored_line_load_range(
    answers: WallAnswers, plausible: Mapping[str, Ends] | None = None
) -> Result:
    """Load on the footing of a wall for strength checks, or between what it lies.

    The load of :func:`survey.engineering.load.factored_line_load` with the lowest and with the
    highest of whatever is not known.

    Args:
        answers: as for :func:`line_load_range`.
        plausible: as for :func:`line_load_range`.

    Returns:
        Load per foot of wall, plf, down, if all is known; else its bounds.

    Not known when:
        As for :func:`line_load_range`.

    Source:
        As :func:`survey.engineering.load.factored_line_load`; bounds by monotony.
    """
    return _range(factored_line_load, answers, plausible, _HEAVIEST)


def dead_line_load_range(
    answers: WallAnswers, plausible: Mapping[str, Ends] | None = None
) -> Result:
    """Least dead load on the footing of a wall, or between what it lies.

    The load of :func:`survey.engineering.load.dead_line_load` with the lowest and with the
    highest of whatever is not known. Snow, roof exposure and heating and the attic's use are not
    in it and need not be known.

    Args:
        answers: as for :func:`line_load_range`.
        plausible: as for :func:`line_load_range`.

    Returns:
        Load per foot of wall, plf, down, if all that counts is known; else its bounds.

    Not known when:
        As for :func:`line_load_range`, of the answers that count.

    Source:
        As :func:`survey.engineering.load.dead_line_load`; bounds by monotony.
    """
    return _range(dead_line_load, answers._replace(**_NO_LIVE_LOAD), plausible, _LIGHTEST)


# Any figures and words that hold: dead load has none of them in it.
_NO_LIVE_LOAD: Mapping[str, Value] = MappingProxyType(
    {"ground_snow_load_psf": 0.0, "roof_exposure": "fully exposed", "roof_heating": "unheated",
     "attic_storage": "no"}
)  # fmt: skip
_HEAVIEST, _LIGHTEST = 2, 3  # where the weights of the words stand in WORDS


def _range(
    load: Callable[[WallAbove], Result],
    answers: WallAnswers,
    plausible: Mapping[str, Ends] | None,
    weights: int,
) -> Result:
    values: dict[str, Value] = answers._asdict()
    if values["footing_kind"] == _NO_FOOTING:
        values |= dict.fromkeys(_FOOTING_SIZES, 0.0)
    for field, value in values.items():
        if value is DOES_NOT_APPLY:
            return not_known(f"'{_NAMES[field]}': {value}")
    ends = {
        field: _ends(field, weights, plausible)
        for field, value in values.items()
        if value is NOT_KNOWN
    }
    if not ends:
        return load(WallAbove(**values))  # type: ignore[arg-type]
    # The types of what was answered are those of the vocabulary; the load checks the ranges.
    least, most = (
        load(WallAbove(**{**values, **_at(ends, end)}))  # type: ignore[arg-type]
        for end in (0, 1)
    )
    if least.working is None or most.working is None:
        return most if least.known else least
    assert isinstance(least.value, float)
    assert isinstance(most.value, float)
    working = _between(least.working, most.working, ends)
    if least.value == most.value:  # what is not known makes no difference here
        return Result(most.value, working=working)
    reason = "; ".join(f"'{_NAMES[field]}': {NOT_KNOWN}" for field in ends)
    return within(least.value, most.value, reason, working)


def _at(ends: Mapping[str, Ends], end: int) -> dict[str, float | str]:
    return {field: both[end] for field, both in ends.items()}


def _ends(field: str, weights: int, plausible: Mapping[str, Ends] | None) -> Ends:
    if plausible is not None and field in plausible:
        return plausible[field]
    return _plausible(field, weights)


@cache
def _plausible(field: str, weights: int) -> Ends:
    """Lowest and highest figure of a field, or its lightest and heaviest word."""
    for limit, name, low, high, _ in LIMITS:
        if limit == field:
            word = VOCABULARY[name]
            return (low if word.low is None else word.low, high if word.high is None else word.high)
    (row,) = (row for row in WORDS if row[0] == field)
    table = cast(Mapping[str, float | tuple[float, str]], row[weights])
    by_weight = sorted(table, key=lambda word: _weight(table[word]))
    return by_weight[0], by_weight[-1]


def _weight(figure: float | tuple[float, str]) -> float:
    return figure[0] if isinstance(figure, tuple) else figure


def _between(least: Working, most: Working, ends: Mapping[str, Ends]) -> Working:
    """One working for both ends, line by line; both have the same lines."""
    unknown = tuple(
        noted("", f"{_NAMES[field]}, not known",
              f"from {_said(low, field)} to {_said(high, field)}")
        for field, (low, high) in ends.items()
    )  # fmt: skip
    lines = itertools.starmap(_both, zip(least.lines, most.lines, strict=True))
    return Working(
        f"{most.title}, between what it lies", most.source, most.validity, (*unknown, *lines)
    )


def _said(end: float | str, field: str) -> str:
    return end if isinstance(end, str) else f"{number(end)} {_UNITS[field]}".strip()


def _both(low: Line, high: Line) -> Line:
    if low == high:
        return low
    return Line(
        low.symbol,
        _pair(low.meaning, high.meaning, " / "),
        low.formula,
        _pair(low.numbers, high.numbers, " to "),
        _pair(low.result, high.result, " to "),
        _pair(low.source, high.source, "; or "),
    )


def _pair(low: str, high: str, between: str) -> str:
    return low if low == high else f"{low}{between}{high}"
