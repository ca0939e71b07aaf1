"""Why a judgement is another when the crew comes on another day."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from survey.assessment.assessment import Assessment
from survey.assessment.compare import Shift, shifts
from survey.assessment.turning import CREW_DAYS, behind
from survey.facts import Fact, Thing, shown, shown_fact
from survey.model import Survey
from survey.rulebook.rules import Comparison, Outcome, Rule, comparisons
from survey.vocabulary import NOT_KNOWN, SCOPES, Origin, Subject, Word

# They are asked for the days on which a pit is open, so of other days they say nothing.
WEATHER = ("frost", "heavy rain expected", "hot days expected")
_RELEASED, _NOTHING, _HOLDS = "released", "nothing", "ask"
_NO_DAY_FITS = "no day fits the work"


@dataclass(frozen=True, slots=True)
class Change:
    """What a rule gives on a day and did not give on the day before.

    Args:
        code, name: of the rule; no code where it is the plan of the work that changes.
        before, after: ``nothing``, an outcome such as ``stop``, ``can't be told``, ``released``.
        subject, places: what it is judged for, and the labels.
        why: the fact about days that turned it.
    """

    code: str
    name: str
    before: str
    after: str
    subject: Subject
    places: tuple[str, ...]
    why: str


def changes_between(
    before: Assessment, after: Assessment, turned: frozenset[str]
) -> Iterator[Change]:
    """What is another on the later of two days, each with why.

    Args:
        before: the survey, judged for the earlier one.
        after: the same for the later one.
        turned: the words that are not the same on both.
    """
    rules = {rule.code: rule for rule in after.rules}
    for one in shifts(before, after):
        rule = rules[one.code]
        if isinstance(rule.then, Outcome) and rule.then is not Outcome.NOTE:
            whys = dict.fromkeys(_why(one, rule, before, after, turned))
            why = "; ".join(whys) or _there(after.survey)
            yield Change(
                one.code, one.name, one.before, one.after, rule.subject, one.places, why
            )  # fmt: skip
    if bool(before.plan.clashes) != bool(after.plan.clashes):
        was, now = (_HOLDS if one.plan.clashes else _NOTHING for one in (before, after))
        why = "; ".join(after.plan.clashes or before.plan.clashes)
        yield Change("", _NO_DAY_FITS, was, now, Subject.SITE, ("site",), why)


def _why(
    shift: Shift, rule: Rule, before: Assessment, after: Assessment, turned: frozenset[str]
) -> Iterator[str]:
    if _RELEASED in (shift.before, shift.after):
        yield from _by_release(shift, before if shift.before == _RELEASED else after, after.survey)
    words = behind(rule, after.rules) & turned
    if told := [word for word in WEATHER if word in words]:
        yield _by_weather(told, after.survey)
    yield from _by_days(shift, rule, words, after)


def _by_release(shift: Shift, lifted: Assessment, survey: Survey) -> Iterator[str]:
    """The releases that lift it on one of the days, and when the crew would be there."""
    for finding in lifted.findings:
        if finding.rule.code == shift.code and finding.place in shift.places:
            for one in finding.releases:
                title = "standing release" if one.standing else "release"
                yield f"{title} {one.label} ({one.person}) holds from {one.date} to {one.end}"
    yield _there(survey)


def _by_weather(words: list[str], survey: Survey) -> str:
    told = any(survey.site.value(word) is not NOT_KNOWN for word in words)
    return (
        "the form tells the weather of its own days"
        if told
        else "the weather of these days is not told yet"
    )


def _by_days(shift: Shift, rule: Rule, words: frozenset[str], after: Assessment) -> Iterator[str]:
    """What the calendar says of the words behind a rule that turn with the day."""
    site = after.survey.site
    if not words.isdisjoint(CREW_DAYS):
        all_words = behind(rule, after.rules)
        starts, ends = (word in all_words for word in ("ticket start", "ticket end"))
        if starts:
            yield f"the locate ticket holds from {site.value('ticket start')}"
        if ends:
            yield f"the locate ticket ends on {site.value('ticket end')}"
        if ends or not starts:
            yield _there(after.survey)
    for name in sorted(words - CREW_DAYS - set(WEATHER)):
        word = after.rules.vocabulary[name]
        if word.origin is Origin.DERIVED:
            limits = dict.fromkeys(
                f"; limit {shown(word, clause.operand)}"
                for clause in comparisons(rule.condition)
                if isinstance(clause, Comparison)
                and clause.word.itself is word
                and isinstance(clause.operand, int)
            )
            for thing in _looked_at(word, shift, after):
                fact = thing.facts[name]
                found = f"{shown_fact(word, fact)}{_since(fact)}"
                yield f"{name} of {thing.label} would be {found}{''.join(limits)}"


def _since(fact: Fact) -> str:
    """The other days that a figure rests on."""
    return "".join(
        f" ({given.word} {given.answer.value})"
        for given in fact.inputs
        if isinstance(given.answer.value, dt.date) and given.word not in CREW_DAYS
    )


def _looked_at(word: Word, shift: Shift, after: Assessment) -> Iterator[Thing]:
    """The things of which a rule looked at a word, at the places where it gives another."""
    for thing in after.facts.things:
        if thing.label in shift.places and word.subject in SCOPES[thing.subject]:
            yield thing.part(word.subject)


def _there(survey: Survey) -> str:
    first, last = (survey.site.value(word) for word in ("crew date", "last crew date"))
    return f"the crew would be there from {first} to {last}"
