"""The whole judgement of one site, and the one function that makes it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import survey as program
from survey.assessment.decision import Verdict, decide, worse
from survey.assessment.findings import (
    Chained,
    Filler,
    Finding,
    Question,
    askable,
    conclude,
    gather_questions,
)
from survey.assessment.planning import Plan, plan_work
from survey.assessment.releases import Standing, hold_against, hold_standing, names, unused
from survey.engineering.working import Working
from survey.errors import Problem
from survey.facts import Facts, Thing, gather, shown_fact
from survey.model import Survey
from survey.quantities import work_out
from survey.rulebook import production
from survey.rulebook.direct import DirectEvaluator, Told
from survey.rulebook.judgement import Judgement, Truth
from survey.rulebook.rules import Change, Lift, Outcome, Rule, RuleBook
from survey.vocabulary import (
    NOT_KNOWN,
    SCOPES,
    SEATS,
    VOCABULARY,
    Origin,
    Subject,
    Vocabulary,
)

_NOT_THERE = "durable-rules is missing, so nothing confirmed the first answer; install it again"


@dataclass(frozen=True, slots=True)
class Seat:
    """How the footing may be taken up at a pier: one way, and whether it suits.

    Args:
        name: the word of the vocabulary.
        prompt: what the seat is.
        state: ``suits``, ``does not suit`` or ``can't tell``.
        why: why it doesn't suit, or what has to be known.
    """

    name: str
    prompt: str
    state: str
    why: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PierResult:
    """What the site's judgement means for one pier location."""

    label: str
    verdict: Verdict
    seats: tuple[Seat, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure that was worked out, as printed, with its working."""

    place: str
    word: str
    shown: str
    reason: str
    working: Working | None


@dataclass(frozen=True, slots=True)
class Assessment:
    """The judgement of one site, with all that a sheet prints.

    Args:
        survey: what was judged.
        problems: cells to put right: unreadable, contradicting another, or outside the form.
            While there is one, the verdict is HOLD at best.
        verdict: for the site.
        piers: for each pier location, in the order of the form.
        findings: worst first, released ones last.
        chained: conclusions that rules drew for other rules.
        questions: answers that findings wait for.
        unused_releases: releases that lift nothing here, with why.
        figures: every figure worked out for what is listed.
        plan: in what order the pits are dug, and when the crew may come.
        evaluators: how many evaluators judged the site: 2, or 1 where the second can't run.
        disagreement: what the two evaluators said differently; empty if they agree.
        book: fingerprint of the rule book.
        changes: what a firm's own files changed in the shipped book; empty if there are none.
        version: version of the program.
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
    disagreement: tuple[str, ...]
    book: str
    changes: tuple[Change, ...]
    version: str


def assess(survey: Survey, problems: Iterable[Problem], book: RuleBook) -> Assessment:
    """Judge a site by a rule book, with both evaluators where both can run."""
    wanted = book.subjects
    facts = gather(survey, work_out(survey, wanted), book.vocabulary, wanted)
    evaluator = DirectEvaluator(book, facts)
    told = evaluator.judge()
    differences = _second_opinion(evaluator.summary(told), book, facts)
    disagreement = () if differences is None else differences
    written = _releases_named(survey, told, facts)
    standings = _with_standing(written, told, evaluator, book, survey)
    filler = Filler(book, evaluator)
    findings, chained = conclude(told, filler, survey, standings)
    used = (s.release.label for held in written.values() for s in held)
    unread = tuple(problems)
    holding = {s.release.label for held in written.values() for s in held if not s.refused}
    lifting = [row for row in survey.releases if row.label in holding]

    def verdict(pier: str | None = None) -> Verdict:
        if disagreement:
            return Verdict.NO_GO
        # What stands in an unreadable cell may be anything, whether a rule looks at it or not.
        return worse(decide(findings, pier), Verdict.HOLD if unread else Verdict.GO)

    piers = tuple(
        PierResult(
            thing.label,
            verdict(thing.label),
            _seats(thing, evaluator, chained, book, survey),
            tuple(f for f in findings if thing.label in f.piers),
        )
        for thing in facts.of(Subject.PIER)
    )
    left_over = unused(survey, book, used, _found_at(findings))
    return Assessment(
        survey, unread, verdict(), piers, findings, chained,
        gather_questions(findings, book.vocabulary), left_over,
        tuple(_figures(facts, book.vocabulary)), plan_work(survey, facts, book, lifting),
        1 if differences is None else 2, disagreement,
        book.fingerprint, book.changes, program.__version__,
    )  # fmt: skip


def _second_opinion(summary: Judgement, book: RuleBook, facts: Facts) -> tuple[str, ...] | None:
    """What the production system says differently; none if it can't run on this Python."""
    if not production.available():
        return (_NOT_THERE,) if production.expected() else None
    try:
        second = production.evaluator_for(book).judge(facts)
    except Exception as fault:  # whatever it is, it did not confirm the first answer
        return (f"durable-rules failed: {fault}",)
    return _differences(summary, second)


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


def _releases_named(survey: Survey, told: Iterable[Told], facts: Facts) -> _Held:
    """The releases on the survey that name each finding, by rule code and place."""
    held: dict[tuple[str, str], tuple[Standing, ...]] = {}
    orders = {s: [thing.label for thing in facts.of(s)] for s in SCOPES}
    for one in told:
        if not isinstance(one.rule.then, Outcome) or not one.thing.listed:
            continue
        named = tuple(
            hold_against(row, one.rule, survey)
            for row in survey.releases
            if names(row, one.rule, one.thing.label, orders[one.rule.subject])
        )
        if named:
            held[one.rule.code, one.thing.label] = named
    return held


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
                truth = evaluator.truth(rule, one.thing)
                standing = hold_standing(rule, lift, truth, survey.site)
                held[place] = (*held.get(place, ()), standing)
    return held


def _found_at(findings: Iterable[Finding]) -> Mapping[str, list[str]]:
    found: dict[str, list[str]] = {}
    for finding in findings:
        found.setdefault(finding.rule.code, []).append(finding.place)
    return found


def _seats(
    pier: Thing,
    evaluator: DirectEvaluator,
    chained: Iterable[Chained],
    book: RuleBook,
    survey: Survey,
) -> tuple[Seat, ...]:
    rules = {rule.code: rule for rule in book}
    drawn = {(c.rule.code, c.place): c for c in chained}
    seats: list[Seat] = []
    for name in SEATS:
        word = VOCABULARY[name]
        found = evaluator.concluded(word, pier)
        if found.value is NOT_KNOWN:
            why = tuple(_open_seat(rules[code]) for code in found.open)
            missing = (i for i in found.inputs if i.answer.value is NOT_KNOWN)
            asked = askable(missing, survey, book.vocabulary)
            needs = tuple(f"answer {i.word} ({i.answer.where})" for i in asked)
            seats.append(Seat(name, word.prompt, "can't tell", (*why, *needs)))
        else:
            why = tuple(drawn[code, pier.label].text for code in found.by)
            seats.append(Seat(name, word.prompt, str(found.value), why))
    return tuple(seats)


def _open_seat(rule: Rule) -> str:
    return f"not known whether there is: {rule.name} ({rule.code})"


def _figures(facts: Facts, vocabulary: Vocabulary) -> Iterable[Figure]:
    for thing in facts.things:
        if not thing.listed:
            continue
        for word in vocabulary.of(thing.subject):
            if word.origin is Origin.DERIVED:
                fact = thing.facts[word.name]
                yield Figure(
                    thing.label, word.name, shown_fact(word, fact), fact.reason, fact.working
                )
