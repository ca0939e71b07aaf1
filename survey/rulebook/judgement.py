"""What an evaluator says of a rule book and the facts of a site."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass, field

from survey.facts import FactValue
from survey.vocabulary import NOT_KNOWN, Word


class Truth(enum.Enum):
    """Strong Kleene truth values: cannot tell is neither true nor false."""

    TRUE = "true"
    FALSE = "false"
    UNKNOWN = "cannot tell"


# For what judges by the thousand: before Python 3.12 a member costs more by way of its class.
TRUE, FALSE, UNKNOWN = Truth.TRUE, Truth.FALSE, Truth.UNKNOWN


@dataclass(frozen=True)
class Judgement:
    """Which rules are met where, which can't be told, and what was concluded.

    Args:
        met: (rule code, label of the thing) of every rule that is met.
        cannot_tell: the same of every rule that can't be told.
        concluded: value of every concluded word, by (word name, label of the thing).
    """

    met: frozenset[tuple[str, str]]
    cannot_tell: frozenset[tuple[str, str]]
    concluded: Mapping[tuple[str, str], FactValue] = field(default_factory=dict)


def worst(word: Word, certain: list[str], possible: list[str]) -> FactValue:
    """The value of a concluded word: the worst that some rule concludes.

    Args:
        word: its choices run from best to worst.
        certain: the choices that are concluded for certain, its starting value among them.
        possible: the choices that might be concluded as well.

    Returns:
        The worst certain choice, or not known while a worse one is still possible.
    """
    rank = word.choices.index
    floor = max(certain, key=rank)
    if any(rank(choice) > rank(floor) for choice in possible):
        return NOT_KNOWN
    return floor
