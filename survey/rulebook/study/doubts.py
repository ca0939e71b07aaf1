"""What is doubtful in a rule book: dead rules, idle clauses, rules that say the same.

No case shows these. Each is proved by a solver over every complete set of answers (see
``survey.rulebook.study.formulas``), or shown by an example that is judged. What the solver can't
decide is counted and never reported.
"""

from __future__ import annotations

import enum
from dataclasses import dataclass

from survey.errors import UserError
from survey.rulebook.rules import Rule, RuleBook


class Doubtful(enum.Enum):
    """What may be wrong with a rule, or with two."""

    DEAD = "never met"
    IDLE = "part that never matters"
    IDLE_ONCE_ANSWERED = "part that matters only while answers are missing"
    SAME = "same condition twice"
    BOTH_COUNT = "counted in two ways"
    OUTDONE = "always outdone"

    @property
    def remark(self) -> bool:
        """Whether it may well be meant so; the others are faults."""
        return self in (Doubtful.IDLE_ONCE_ANSWERED, Doubtful.BOTH_COUNT, Doubtful.OUTDONE)


@dataclass(frozen=True, slots=True)
class Doubt:
    """One thing to look at.

    Args:
        kind: what may be wrong.
        rules: the one or two rules.
        what: one sentence.
        example: answers that show it; empty where it is proved for all answers.
    """

    kind: Doubtful
    rules: tuple[Rule, ...]
    what: str
    example: str = ""

    @property
    def place(self) -> str:
        """File and line of the first rule."""
        return self.rules[0].place

    def __str__(self) -> str:
        said = f"{self.place}: {'remark: ' if self.kind.remark else ''}{self.what}"
        return f"{said}\n  such as: {self.example}" if self.example else said


@dataclass(frozen=True, slots=True)
class Doubts:
    """What is doubtful in a book.

    Args:
        found: by kind, then in the order of the book.
        asked: how many questions were put to the solver.
        undecided: how many of them it could not decide.
    """

    found: tuple[Doubt, ...]
    asked: int
    undecided: int

    @property
    def faults(self) -> tuple[Doubt, ...]:
        """Those that are not merely remarks."""
        return tuple(doubt for doubt in self.found if not doubt.kind.remark)


def say(told: Doubts) -> str:
    """The doubts a line each, then how many there are and what could not be decided."""
    remarks = len(told.found) - len(told.faults)
    counted = f"{_number(len(told.faults), 'fault')}, {_number(remarks, 'remark')}"
    undecided = f"{_number(told.undecided, 'question')} of {told.asked} could not be decided"
    return "\n".join([*(str(doubt) for doubt in told.found), f"{counted}; {undecided}."])


def _number(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def doubts(book: RuleBook) -> Doubts:
    """Look for contradictions and dead rules in a book.

    Raises:
        UserError: the solver is not installed.
    """
    try:
        from survey.rulebook.study.doubter import Doubter
    except ModuleNotFoundError as missing:
        if missing.name != "z3":
            raise
        advice = "Install it: python -m pip install z3-solver"
        raise UserError(f"Looking for doubts needs the z3 solver. {advice}") from None
    return Doubter(book).all()
