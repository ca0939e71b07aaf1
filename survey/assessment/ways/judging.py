"""A site judged for what holds it up, and what each of that rests on: no texts, one evaluator.

It decides nothing that is told: what is found by it is judged again in full, by both evaluators.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from survey.assessment.assessment import standing_at
from survey.assessment.planning import Plan, clash_however_short, plan_work
from survey.assessment.releases import Release as ReleaseShown
from survey.assessment.releases import Standing
from survey.assessment.ways.resting import Answers, Resting
from survey.assessment.ways.touching import (
    RELEASE_RESTS_ON,
    Cell,
    Choices,
    Release,
    Touched,
    Touching,
)
from survey.errors import Problem
from survey.facts import Facts, gather
from survey.model import Survey
from survey.quantities import work_out
from survey.rulebook.direct import DirectEvaluator, Told
from survey.rulebook.judgement import Truth
from survey.rulebook.rules import Lift, Outcome, Rule
from survey.vocabulary import Subject

_DAYS = ("crew date", "last crew date", "state", "ticket start", "ticket end", "survey date")
_ORDER = ("clear spacing of open pits", "days for a round of pits", "most pits open together")
_NOTHING: Answers = frozenset()


@dataclass(frozen=True, slots=True)
class Passed:
    """The crew's first day, where it has passed; the rules know of no today."""

    day: dt.date

    def __str__(self) -> str:
        return f"The crew's first day, {self.day:%a %d %b %Y}, has passed: choose another."


@dataclass(frozen=True, slots=True)
class Block:
    """What holds a site up, and what it rests on.

    Args:
        what: the rule at its place, a cell to put right, a day that has passed, or what can't be
            kept together.
        rests_on: what might be touched; while nothing of it is, the block stays.
    """

    what: Told | Problem | Passed | str
    rests_on: frozenset[Touched]


@dataclass(frozen=True, slots=True)
class Judged:
    """What holds a site up, and the plan of its work."""

    blocks: tuple[Block, ...]
    plan: Plan


@dataclass(frozen=True)
class Judge:
    """Judges one site with choices made.

    Args:
        touching: the site, and what may be touched.
    """

    touching: Touching

    def __call__(self, choices: Choices) -> set[frozenset[Touched]]:
        """Of each block, what it rests on; nothing if the site may go."""
        return {block.rests_on for block in self.judged(choices).blocks}

    def judged(self, choices: Choices) -> Judged:
        """What holds the site up, and the plan of its work."""
        book, (survey, problems) = self.touching.book, self.touching.touched(choices)
        facts = gather(survey, work_out(survey, self._wanted), book.vocabulary, self._wanted)
        evaluator = DirectEvaluator(book, facts)
        told = tuple(
            Told(rule, thing, truth, ())
            for rule in self._rules
            for thing in facts.of(rule.subject)
            if (truth := evaluator.truth(rule, thing)) is not Truth.FALSE
        )
        standings = standing_at(survey, book, facts, evaluator, told)
        resting = Resting(evaluator, self.touching.reached)
        blocks: list[Block] = []
        lifted: list[Told] = []
        kept_to: dict[ReleaseShown, None] = {}
        for one in told:
            named = standings.get((one.rule.code, one.thing.label), ())
            if held := _lifting(one, named, evaluator):
                lifted.append(one)
                kept_to |= dict.fromkeys(standing.release for standing in held)
            elif one.truth is Truth.UNKNOWN or one.rule.then is not Outcome.CONDITION:
                blocks.append(Block(one, self._why(one, resting, choices, named=bool(named))))
        mended = self.touching.mended_by
        blocks += [Block(problem, frozenset({mended[problem.where]})) for problem in problems]
        if passed := self._passed(survey):
            blocks.append(Block(passed, _cells(self.touching.reached("crew date", "site"))))
        plan = plan_work(survey, facts, book, kept_to)
        if plan.clashes:
            anyhow = clash_however_short(survey, book, kept_to)
            answers = list(_days_rest_on(survey) if anyhow else _plan_rests_on(survey, facts))
            rests_on = self._why_planned(answers, resting, choices, lifted)
            blocks += [Block(clash, rests_on) for clash in plan.clashes]
        return Judged(tuple(blocks), plan)

    def _passed(self, survey: Survey) -> Passed | None:
        first, today = survey.site.value("crew date"), self.touching.values.today
        return Passed(first) if isinstance(first, dt.date) and first < today else None

    @cached_property
    def _wanted(self) -> frozenset[Subject]:
        return self.touching.book.subjects

    @cached_property
    def _rules(self) -> tuple[Rule, ...]:
        """Those that can hold a site up."""
        return tuple(
            rule
            for rule in self.touching.book
            if isinstance(rule.then, Outcome) and rule.then is not Outcome.NOTE
        )

    @cached_property
    def _lifts(self) -> Mapping[str, list[Rule]]:
        """A firm's standing releases, by the code of the rule whose findings they lift."""
        found: dict[str, list[Rule]] = {}
        for rule in self.touching.book:
            if isinstance(rule.then, Lift):
                found.setdefault(rule.then.finding, []).append(rule)
        return found

    def _why(
        self, told: Told, resting: Resting, choices: Choices, *, named: bool
    ) -> frozenset[Touched]:
        """What keeps a rule from being told away, from being a mere condition, or lifted."""
        rule, thing = told.rule, told.thing
        answers = resting.not_denied(rule, thing)
        if not thing.listed:
            return _cells(answers)
        if rule.then is Outcome.CONDITION:
            answers |= resting.not_met(rule, thing)
        lifts = self._lifts.get(rule.code, ())
        if named or lifts:  # one that does not hold may come to: on other days, or once it is told
            answers |= self._release_rests_on | resting.every(rule.condition, thing)
            answers |= _NOTHING.union(*(resting.every(lift.condition, thing) for lift in lifts))
        release = Release(rule.code, thing.label)
        if self.touching.may_release(rule.code) and release not in choices:
            return _cells(answers) | {release}
        return _cells(answers)

    @cached_property
    def _release_rests_on(self) -> Answers:
        return _NOTHING.union(*(self.touching.reached(name, "site") for name in RELEASE_RESTS_ON))

    def _why_planned(
        self, looked_at: Iterable[tuple[str, str]], resting: Resting, choices: Choices,
        lifted: Iterable[Told],
    ) -> frozenset[Touched]:  # fmt: skip
        """What the plan looks at, and what makes it keep to the days of a release."""
        answers = [self.touching.reached(word, label) for word, label in looked_at]
        asked: set[Touched] = set()
        for told in lifted:
            answers += [self._release_rests_on, resting.every(told.rule.condition, told.thing)]
            release = Release(told.rule.code, told.thing.label)
            asked |= {release} & choices.keys()
        return _cells(_NOTHING.union(*answers)) | asked


def _lifting(told: Told, named: tuple[Standing, ...], evaluator: DirectEvaluator) -> list[Standing]:
    """The releases that lift a finding; what waits for an answer nobody can have judged."""
    held = [standing for standing in named if not standing.refused]
    if not held or told.truth is Truth.TRUE:
        return held
    reasons = evaluator.told(told.rule, told.thing).reasons
    return [] if any(reason.missing for reason in reasons) else held


def _days_rest_on(survey: Survey) -> Iterator[tuple[str, str]]:
    """The answers that set the first and the last day of the work."""
    yield from ((word, "site") for word in _DAYS)
    for row in survey.neighbours:
        yield from (("other owner", row.label), ("notice date", row.label))


def _plan_rests_on(survey: Survey, facts: Facts) -> Iterator[tuple[str, str]]:
    """Those that order and length of the work rest on, too."""
    yield from _days_rest_on(survey)
    yield from ((word, "site") for word in _ORDER)
    for row in survey.walls:
        yield "wall length", row.label
    for pier in facts.of(Subject.PIER):
        yield from (("wall of pier", pier.label), ("station", pier.label))
        for given in pier.facts["opening at footing"].inputs:
            yield given.word, given.label


def _cells(answers: Answers) -> frozenset[Touched]:
    return frozenset(Cell(word, label) for word, label in answers)
