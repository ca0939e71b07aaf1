"""The whole judgement of one site, and the one function that makes it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

import survey as program
from survey.assessment.decision import Verdict, decide, worse
from survey.assessment.filling import Filler
from survey.assessment.findings import (
    Chained,
    Finding,
    Question,
    conclude,
    gather_questions,
    unmet,
    where_found,
)
from survey.assessment.fingerprint import answers_fingerprint
from survey.assessment.planning import Plan, plan_work
from survey.assessment.releases import (
    Named,
    Standing,
    hold_against,
    hold_standing,
    left_over,
    what_is_named,
)
from survey.assessment.seats import Seat, seats_of
from survey.assessment.settling import Settler
from survey.engineering.working import Quantity, Working
from survey.errors import Problem
from survey.facts import Facts, FactValue, gather, shown_fact
from survey.model import Survey
from survey.quantities import work_out
from survey.rulebook import production
from survey.rulebook.direct import DirectEvaluator, Place, Told
from survey.rulebook.judgement import Judgement, Truth
from survey.rulebook.rules import Change, Lift, Limit, RuleBook
from survey.vocabulary import (
    Origin,
    Subject,
    Vocabulary,
)

SECOND = "durable-rules"  # the second evaluator, as it is printed
_NOT_THERE = "durable-rules is missing, so nothing confirmed the first answer; install it again"


@dataclass(frozen=True, slots=True)
class PierResult:
    """What the site's judgement means for one pier location."""

    label: str
    verdict: Verdict
    seats: tuple[Seat, ...]
    findings: tuple[Finding, ...]


class Figure(NamedTuple):
    """One figure that was worked out, as printed, with its working.

    Args:
        quantity: itself, with the answers and the earlier figures that it rests on.
    """

    place: str
    word: str
    shown: str
    reason: str
    working: Working | None
    quantity: Quantity


@dataclass(frozen=True, slots=True)
class Said:
    """How much one evaluator said: rules at places, those that only conclude among them."""

    evaluator: str
    met: int
    cannot_tell: int


@dataclass(frozen=True, slots=True)
class Assessment:
    """The judgement of one site, with all that a sheet prints.

    Args:
        survey: what was judged.
        problems: cells to put right: unreadable, contradicting another, or outside the form.
            While there is one, the verdict is HOLD at best; so too while no day fits the work.
        verdict: for the site.
        piers: for each pier location, in the order of the form.
        findings: worst first, released ones last.
        chained: conclusions that rules drew for other rules.
        questions: answers that findings wait for.
        unused_releases: releases that name nothing here that they could lift, wholly or at some
            of their places, with why.
        figures: every figure worked out for what is listed.
        plan: in what order the pits are dug, and when the crew may come.
        evaluators: how many evaluators judged the site: 2, or 1 where the second can't run.
        said: how much each of them said; the second one is missing where it failed.
        disagreement: what the two evaluators said differently; empty if they agree.
        answers: fingerprint of the survey's answers.
        book: fingerprint of the rule book.
        changes: what a firm's own files changed in the shipped book; empty if there are none.
        version: version of the program.
        limits: those of the rule book, by name: what the drawings show is held to them, too.
        concluded: value of every concluded word, by word and label of the thing.
        facts: what it was judged on.
        figures_behind: gives the figures and conclusions behind a conclusion, by its word and the
            label of what it is said of; worked out when it is asked for.
        settler: tells what would settle a finding that can't be told, when it is asked.
        rules: the rule book itself.
    """

    survey: Survey
    problems: tuple[Problem, ...]
    verdict: Verdict
    piers: tuple[PierResult, ...]
    findings: tuple[Finding, ...]
    chained: tuple[Chained, ...]
    questions: tuple[Question, ...]
    unused_releases: tuple[Standing, ...]
    figures: tuple[Figure, ...]
    plan: Plan
    evaluators: int
    said: tuple[Said, ...]
    disagreement: tuple[str, ...]
    answers: str
    book: str
    changes: tuple[Change, ...]
    version: str
    limits: Mapping[str, Limit]
    concluded: Mapping[tuple[str, str], FactValue]
    facts: Facts = field(repr=False, compare=False)
    figures_behind: Callable[[str, str], tuple[Place, ...]] = field(repr=False, compare=False)
    settler: Settler = field(repr=False, compare=False)
    rules: RuleBook = field(repr=False, compare=False)


def assess(survey: Survey, problems: Iterable[Problem], book: RuleBook) -> Assessment:
    """Judge a site by a rule book, with both evaluators where both can run."""
    wanted = book.subjects
    facts = gather(survey, work_out(survey, wanted), book.vocabulary, wanted)
    evaluator = DirectEvaluator(book, facts)
    told = evaluator.judge()
    first = evaluator.summary(told)
    second = _second_opinion(book, facts)
    disagreement = _differences(first, second) if isinstance(second, Judgement) else second or ()
    named = what_is_named(survey, book, facts)
    written = _releases_named(named, survey, told)
    standings = _with_standing(written, told, evaluator, book, survey)
    filler = Filler(book, evaluator)
    findings, chained = conclude(told, filler, survey, standings)
    unread = tuple(problems)
    lifting = dict.fromkeys(release for finding in findings for release in finding.releases)
    plan = plan_work(survey, facts, book, lifting)

    def verdict(pier: str | None = None) -> Verdict:
        if disagreement:
            return Verdict.NO_GO
        # What stands in an unreadable cell may be anything, whether a rule looks at it or not; and
        # a crew that no day fits would still be digging when ticket and releases have ended.
        holds = bool(unread) or bool(plan.clashes)
        return worse(decide(findings, pier), Verdict.HOLD if holds else Verdict.GO)

    piers = tuple(
        PierResult(
            thing.label,
            verdict(thing.label),
            seats_of(thing, evaluator, filler, book, survey),
            tuple(f for f in findings if thing.label in f.piers),
        )
        for thing in facts.of(Subject.PIER)
    )
    found = where_found(findings)
    return Assessment(
        survey, unread, verdict(), piers, findings, chained,
        gather_questions(findings, book.vocabulary),
        left_over(named, found.places, found.open_lists, survey),
        tuple(_figures(facts, book.vocabulary)), plan,
        1 if second is None else 2, tuple(_said(first, second)), disagreement,
        answers_fingerprint(survey), book.fingerprint, book.changes, program.__version__,
        book.limits, first.concluded, facts, evaluator.figures_behind,
        Settler.of(book, evaluator, told), book,
    )  # fmt: skip


def _second_opinion(book: RuleBook, facts: Facts) -> Judgement | tuple[str, ...] | None:
    """What the production system says, or why it says nothing; none if it can't run here."""
    if not production.available():
        return (_NOT_THERE,) if production.expected() else None
    try:
        return production.evaluator_for(book).judge(facts)
    except Exception as fault:  # whatever it is, it did not confirm the first answer
        return (f"durable-rules failed: {fault}",)


def _said(first: Judgement, second: Judgement | tuple[str, ...] | None) -> Iterable[Said]:
    """How much each evaluator said that judged the site."""
    yield Said("direct evaluator", len(first.met), len(first.cannot_tell))
    if isinstance(second, Judgement):
        yield Said(SECOND, len(second.met), len(second.cannot_tell))


def _differences(first: Judgement, second: Judgement) -> tuple[str, ...]:
    """What two judgements say differently, for print."""
    lines: list[str] = []
    for title, one, other in (
        ("met", first.met, second.met),
        ("can't be told", first.cannot_tell, second.cannot_tell),
    ):
        lines += [
            f"{code} at {place}: {title} by the direct evaluator only"
            for code, place in sorted(one - other)
        ]
        lines += [
            f"{code} at {place}: {title} by durable-rules only"
            for code, place in sorted(other - one)
        ]
    for (word, place), value in sorted(first.concluded.items()):
        again = second.concluded.get((word, place))
        if again != value:
            lines.append(
                f"{word} of {place}: {value} by the direct evaluator, {again} by durable-rules"
            )
    return tuple(lines)


_Held = Mapping[tuple[str, str], tuple[Standing, ...]]


def _releases_named(named: Iterable[Named], survey: Survey, told: Iterable[Told]) -> _Held:
    """The releases on the survey that name each finding, by rule code and place."""
    held: dict[tuple[str, str], tuple[Standing, ...]] = {}
    found = {(one.rule.code, one.thing.label) for one in told if one.thing.listed}
    for one in named:
        if one.rule is None:
            continue
        standing = hold_against(one.row, one.rule, survey)
        for place in ((one.rule.code, label) for label in one.places):
            if place in found:
                held[place] = (*held.get(place, ()), standing)
    return held


def standing_at(
    survey: Survey,
    book: RuleBook,
    facts: Facts,
    evaluator: DirectEvaluator,
    told: Collection[Told],
) -> Mapping[tuple[str, str], tuple[Standing, ...]]:
    """The releases that look at each finding, whether they lift it or not, by code and place."""
    written = _releases_named(what_is_named(survey, book, facts), survey, told)
    return _with_standing(written, told, evaluator, book, survey)


def _with_standing(
    written: _Held,
    told: Iterable[Told],
    evaluator: DirectEvaluator,
    book: RuleBook,
    survey: Survey,
) -> _Held:
    """The same with the firm's standing releases, which look at every finding of their rule."""
    lifts = [(rule, rule.then) for rule in book if isinstance(rule.then, Lift)]
    held = dict(written)
    for one in told if lifts else ():
        place = (one.rule.code, one.thing.label)
        for rule, lift in lifts:
            # What can't be told, nobody can have judged for every job.
            if lift.finding == one.rule.code and one.truth is Truth.TRUE:
                judged = evaluator.told(rule, one.thing)
                if judged.truth is Truth.TRUE:
                    standing = hold_standing(rule, lift, survey.site)
                else:
                    standing = unmet(judged, lift, survey, book.vocabulary)
                held[place] = (*held.get(place, ()), standing)
    return held


def _figures(facts: Facts, vocabulary: Vocabulary) -> Iterable[Figure]:
    for thing in facts.things:
        if not thing.listed:
            continue
        for word in vocabulary.of(thing.subject):
            if word.origin is Origin.DERIVED:
                fact = thing.facts[word.name]
                quantity = fact.behind
                assert isinstance(quantity, Quantity), "what is listed has its own figures"
                yield Figure(
                    thing.label, word.name, shown_fact(word, fact), fact.reason, fact.working,
                    quantity,
                )  # fmt: skip
