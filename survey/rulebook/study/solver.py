"""Puts questions about conditions to the z3 solver; see ``survey.rulebook.study.formulas``."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import z3

from survey.facts import FactValue
from survey.rulebook.study.formulas import Meaning
from survey.rulebook.study.terms import Answer, Formula
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Word

# For one question, in the solver's own steps and not in seconds: every machine decides the same.
_EFFORT = 1_000_000
_Model = Any  # z3 has no types


class Solver:
    """Asks, and counts what was asked and what could not be decided."""

    def __init__(self) -> None:
        """Nothing is asked yet."""
        self.asked = self.undecided = 0

    def never(self, *conditions: Meaning) -> bool:
        """Whether it is proved that the conditions are never all met."""
        found, _ = self._decide(z3.And([one.met for one in conditions]), *conditions)
        return bool(found == z3.unsat)

    def implies(self, first: Meaning, second: Meaning) -> bool:
        """Whether it is proved that the second is met where the first is, and fails only there."""
        against = z3.Or(
            z3.And(first.met, z3.Not(second.met)), z3.And(second.failed, z3.Not(first.failed))
        )
        found, _ = self._decide(against, first, second)
        return bool(found == z3.unsat)

    def same(self, first: Meaning, second: Meaning) -> bool:
        """Whether it is proved that either is met, fails or can't be told where the other is."""
        return self.implies(first, second) and self.implies(second, first)

    def settles_no_more(self, first: Meaning, second: Meaning) -> bool:
        """Whether it is proved that the second is told wherever the first is, and the same."""
        against = z3.Or(
            z3.And(first.met, z3.Not(second.met)), z3.And(first.failed, z3.Not(second.failed))
        )
        found, _ = self._decide(against, first, second)
        return bool(found == z3.unsat)

    def together(self, first: Meaning, second: Meaning) -> Mapping[Word, FactValue] | None:
        """Answers for which both should be met; none if there are none, or none was found."""
        found, model = self._decide(z3.And(first.met, second.met), first, second)
        if found != z3.sat:
            return None
        answers = {**first.answers, **second.answers}
        return {word: _value(word, answer, model) for word, answer in answers.items()}

    def _decide(self, question: Formula, *behind: Meaning) -> tuple[Any, _Model]:
        solver = z3.SimpleSolver()
        solver.set("rlimit", _EFFORT)
        bounds = {name: bound for one in behind for name, bound in one.bounds.items()}
        solver.add(question, *bounds.values())
        found = solver.check()
        self.asked += 1
        self.undecided += found == z3.unknown
        return found, solver.model() if found == z3.sat else None


def _value(word: Word, answer: Answer, model: _Model) -> FactValue:
    if not z3.is_true(model.eval(answer.applies, model_completion=True)):
        return DOES_NOT_APPLY
    if not z3.is_true(model.eval(answer.told, model_completion=True)):
        return NOT_KNOWN
    value: int = model.eval(answer.value, model_completion=True).as_long()
    return word.choices[value] if word.choices else value
