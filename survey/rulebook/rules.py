"""A rule book as both evaluators and the sheets use it: read, checked, frozen."""

from __future__ import annotations

import enum
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from survey.rulebook.paragraphs import Field
from survey.vocabulary import Subject, Word

# Kind of a limit whose figure could not be read; its uses are not reported as well.
MISTAKEN = "mistaken"


class Outcome(enum.Enum):
    """What a finding does to the verdict, from mildest to worst."""

    NOTE = "note"
    CONDITION = "condition"
    ASK = "ask"
    ENGINEER = "engineer"
    STOP = "stop"

    @property
    def rank(self) -> int:
        """0 for the mildest."""
        return list(Outcome).index(self)


class Operator(enum.Enum):
    """How two figures or answers are compared."""

    IS = "is"
    AT_LEAST = "is at least"
    MORE_THAN = "is more than"
    AT_MOST = "is at most"
    LESS_THAN = "is less than"


class ReleaseBy(enum.Enum):
    """Who may lift a finding."""

    NOBODY = "nobody"
    COMPETENT_PERSON = "competent person"
    ENGINEER = "licensed engineer"


@dataclass(frozen=True, slots=True)
class Limit:
    """A figure of the book with a name.

    Args:
        legal: set by law: a local book may tighten it and never loosen it.
        shown: as written.
        steps: in whole comparison steps of its kind; see ``survey.vocabulary.kinds``.
    """

    name: str
    legal: bool
    shown: str
    kind: str
    steps: int
    source: str
    place: str


@dataclass(frozen=True, slots=True)
class Comparison:
    """One clause: a word against a value, a limit or another word.

    Args:
        word: the word on the left.
        operator: how they are compared.
        operand: whole steps of the word's kind, a choice, or another word of the same kind.
        shown: the operand as written in the rule.
    """

    word: Word
    operator: Operator
    operand: int | str | Word
    shown: str

    @property
    def words(self) -> tuple[Word, ...]:
        """The words it looks at."""
        return (self.word, self.operand) if isinstance(self.operand, Word) else (self.word,)

    def __str__(self) -> str:
        return f"{self.word.name} {self.operator.value} {self.shown}"


@dataclass(frozen=True, slots=True)
class Every:
    """All of its parts."""

    parts: tuple[Condition, ...]


@dataclass(frozen=True, slots=True)
class Either:
    """At least one of its parts."""

    parts: tuple[Condition, ...]


@dataclass(frozen=True, slots=True)
class Negation:
    """Its part does not hold."""

    part: Condition


Condition = Comparison | Every | Either | Negation


@dataclass(frozen=True, slots=True)
class Conclusion:
    """``count WORD as CHOICE``: what other rules then see."""

    word: Word
    choice: str


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of the book.

    Args:
        code: short and stable, for sheets and releases, such as ``DIG-1``.
        name: the fault, so that it reads well after "this site has".
        topic: heading of its file.
        subject: the thing or pair of things it is judged for.
        then: what it does to the verdict, or what it concludes.
        say: what is wrong, with words in braces.
        do: what to do about it; empty for a conclusion.
        who: who does it; empty for a conclusion.
        source: standard and clause, or "common practice".
        release: who may lift it.
        case_fields: its cases as written; read by ``survey.rulebook.cases``.
        place: file and line.
    """

    code: str
    name: str
    topic: str
    subject: Subject
    condition: Condition
    then: Outcome | Conclusion
    say: str
    do: str
    who: str
    source: str
    release: ReleaseBy
    case_fields: tuple[Field, ...]
    place: str


@dataclass(frozen=True)
class RuleBook:
    """Every limit and rule.

    Args:
        limits: by name.
        levels: the rules in the order in which they chain: a rule stands in a later level than
            the rules whose conclusions it looks at.
        fingerprint: of the text of all files, so that a sheet can say which book it used.
        shipped: whether it is the book that came with the program, unchanged.
    """

    limits: Mapping[str, Limit]
    levels: tuple[tuple[Rule, ...], ...]
    fingerprint: str
    shipped: bool = False

    def __iter__(self) -> Iterator[Rule]:
        for level in self.levels:
            yield from level

    def concluding(self, word: Word) -> tuple[Rule, ...]:
        """The rules that conclude a word."""
        return tuple(
            rule for rule in self if isinstance(rule.then, Conclusion) and rule.then.word == word
        )


def comparisons(condition: Condition) -> Iterator[Comparison]:
    """Every clause of a condition, from left to right."""
    match condition:
        case Comparison():
            yield condition
        case Every(parts) | Either(parts):
            for part in parts:
                yield from comparisons(part)
        case Negation(part):
            yield from comparisons(part)
