"""Short ways to write a working: limits, given figures, steps."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import ParamSpec, TypeVar, cast

from survey.engineering.working import Line
from survey.vocabulary import Kind, write_quantity

P = ParamSpec("P")
R = TypeVar("R")


def kept(calculation: Callable[P, R]) -> Callable[P, R]:
    """Keep what a calculation gave for its last arguments: the pits of a job are much alike."""
    return cast("Callable[P, R]", lru_cache(maxsize=2048)(calculation))


Limit = tuple[str, float, float, float, str]


def outside(*limits: Limit) -> str:
    """Why a method does not hold for these figures; empty if it does.

    Args:
        limits: for each figure its name, value, lowest and highest value (both included)
            and unit. A value that is no finite number is outside of every range.

    >>> outside(("pit length", 400.0, 6.0, 360.0, "in"))
    'pit length is 400 in; the method holds from 6 in to 360 in'
    """
    for name, value, low, high, unit in limits:
        if not low <= value <= high:
            return (
                f"{name} is {value:g} {unit}; "
                f"the method holds from {low:g} {unit} to {high:g} {unit}"
            )
    return ""


@lru_cache(maxsize=8192)
def number(value: float, decimals: int = 3) -> str:
    """A number as printed: thousands apart, no trailing noughts.

    >>> number(1234.5)
    '1,234.5'
    """
    text = f"{value:,.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


@lru_cache(maxsize=4096)
def given(
    symbol: str,
    meaning: str,
    value: float,
    kind: Kind,
    unit: str | None = None,
    *,
    source: str = "",
) -> Line:
    """An input line of a measured figure, in the unit it is used in.

    The same figures recur for every pier and pair of a site, so the lines are kept.
    """
    return Line(symbol, meaning, "", "", write_quantity(value, kind, unit), source)


@lru_cache(maxsize=4096)
def inches(symbol: str, meaning: str, value_in: float) -> Line:
    """An input line of a length in inches."""
    return Line(symbol, meaning, "", "", f"{number(value_in)} in")


@lru_cache(maxsize=4096)
def noted(symbol: str, meaning: str, result: str, source: str = "") -> Line:
    """An input line of a word, a choice or a figure that is already written out."""
    return Line(symbol, meaning, "", "", result, source)
