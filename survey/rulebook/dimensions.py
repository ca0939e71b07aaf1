"""Exact figures and their dimensions: what may be added, compared and multiplied in a rule.

Everything is reckoned in inches, pounds and days; a share is a part of one. So a line load
times a length is a force, whatever units the form asks for.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from survey.vocabulary import MEASURES, Kind

_LENGTH, _FORCE, _DAYS, _ANGLE = (1, 0, 0, 0), (0, 1, 0, 0), (0, 0, 1, 0), (0, 0, 0, 1)
_NONE = (0, 0, 0, 0)
_POWERS: Mapping[Kind, tuple[int, ...]] = {
    Kind.LENGTH: _LENGTH, Kind.FORCE: _FORCE, Kind.DAYS: _DAYS, Kind.ANGLE: _ANGLE,
    Kind.LINE_LOAD: (-1, 1, 0, 0), Kind.PRESSURE: (-2, 1, 0, 0),
    Kind.AREA: (2, 0, 0, 0), Kind.VOLUME: (3, 0, 0, 0), Kind.DURATION: _DAYS,
    Kind.SLOPE: _NONE, Kind.SHARE: _NONE, Kind.COUNT: _NONE, Kind.DATE: _NONE,
}  # fmt: skip
# From the canonical unit of a kind to inches, pounds and parts of one.
_SCALE: Mapping[Kind, Fraction] = {
    Kind.LINE_LOAD: Fraction(1, 12), Kind.PRESSURE: Fraction(1, 144), Kind.SHARE: Fraction(1, 100),
    Kind.VOLUME: Fraction(12**3), Kind.DURATION: Fraction(1, 24 * 60),
}  # fmt: skip
_STEP: Mapping[Kind, Fraction] = {
    **{k: Fraction(str(measure.step)) * _SCALE.get(k, 1) for k, measure in MEASURES.items()},
    Kind.DATE: Fraction(1),
}  # fmt: skip
_BARE = (Kind.COUNT, Kind.SHARE)


class DimensionError(Exception):
    """Two terms that don't go together."""


@dataclass(frozen=True, slots=True)
class Dimension:
    """What a term measures.

    Args:
        powers: of length, force, days and angle.
        kind: the kind of answer that it is like; none for a product that is like no answer.
    """

    powers: tuple[int, ...]
    kind: Kind | None

    def __str__(self) -> str:
        if self.kind is Kind.COUNT:
            return "a plain number"
        if self.kind is not None:
            return self.kind.one
        named = zip(self.powers, ("length", "force", "days", "angle"), strict=True)
        said = [f"{name} to the power {power}" for power, name in named if power]
        return " times ".join(said) if said else "a ratio"


def reckonable(kind: Kind) -> bool:
    """Whether answers of a kind can be reckoned with."""
    return kind in _POWERS


def dimension(kind: Kind) -> Dimension:
    """The dimension of an answer."""
    return Dimension(_POWERS[kind], kind)


@functools.lru_cache(maxsize=2**14)
def exact(kind: Kind, steps: int) -> Fraction:
    """The exact value of a number of comparison steps, in inches, pounds, days and parts of one."""
    return steps * _STEP[kind]


def from_exact(kind: Kind, value: Fraction) -> float:
    """A value in the canonical unit of a kind, for print."""
    return float(value / _SCALE.get(kind, 1))


def alike(one: Dimension, other: Dimension) -> bool:
    """Whether two terms may be compared."""
    if one.powers != other.powers:
        return False
    bare = one.powers == _NONE
    return (
        not bare
        or one.kind == other.kind
        or (None in (one.kind, other.kind) and not _dated(one, other))
    )


def summed(one: Dimension, other: Dimension, *, minus: bool) -> Dimension:
    """The dimension of a sum or a difference.

    Raises:
        DimensionError: the two can't be added.
    """
    first, second = one.kind, other.kind
    if minus and first is second is Kind.DATE:
        return dimension(Kind.DAYS)
    if first is Kind.DATE and second is Kind.DAYS:
        return one
    if first is Kind.DAYS and second is Kind.DATE and not minus:
        return other
    if not alike(one, other) or first is second is Kind.DATE:
        raise DimensionError(f"{one} and {other} can't be {'subtracted' if minus else 'added'}")
    return one if one.kind is not None else other


def multiplied(one: Dimension, other: Dimension, *, divided: bool) -> Dimension:
    """The dimension of a product or a quotient.

    Raises:
        DimensionError: a date has no multiple.
    """
    if _dated(one, other):
        raise DimensionError("a date can't be multiplied or divided")
    if other.kind in _BARE:
        return one
    if one.kind in _BARE and not divided:
        return other
    sign = -1 if divided else 1
    powers = tuple(a + sign * b for a, b in zip(one.powers, other.powers, strict=True))
    if powers == _NONE:
        return Dimension(_NONE, None)
    if Kind.SLOPE in (one.kind, other.kind):  # a slope is a ratio of lengths
        like = other if one.kind is Kind.SLOPE and not divided else one
        return Dimension(powers, like.kind if like.powers == powers else None)
    found = [kind for kind, known in _POWERS.items() if known == powers]
    return Dimension(powers, found[0] if found else None)


def _dated(one: Dimension, other: Dimension) -> bool:
    return Kind.DATE in (one.kind, other.kind)
