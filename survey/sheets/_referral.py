"""What is put to the engineer: each matter with what was found, and the lines of a release."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import permutations

from survey.assessment import Assessment, Finding
from survey.assessment.named_places import read_places
from survey.model import Row, Survey
from survey.rulebook import reckoning
from survey.rulebook.direct import Place, Reason
from survey.rulebook.rules import (
    Arithmetic,
    Comparison,
    Count,
    Figure,
    Outcome,
    Reckoning,
    ReleaseBy,
    Rule,
    Term,
    parts_of,
)
from survey.sheets._advice import of
from survey.sheets._grouping import Group, by_key, group_findings, subject_of
from survey.sheets._legible import answer
from survey.sheets._places import Places, in_cells
from survey.sheets._released import Refused, not_covering, refused
from survey.sheets._workings import in_brief, in_few
from survey.vocabulary import Missing, Subject, write_steps

# Of the calculations behind a figure or a conclusion, by its word and label.
Numbers = Mapping[Place, tuple[int, ...]]


@dataclass(frozen=True, slots=True)
class Found:
    """One clause of a rule and what was found for it.

    Args:
        clause: as in the rule.
        found: what was found, with the places where it was, if they are not all.
        cells: of the answers behind it.
        figures: numbers of the calculations behind it.
    """

    clause: str
    found: tuple[tuple[str, str], ...]
    cells: str
    figures: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class OpenHere:
    """Something else that is not settled where a matter is.

    Args:
        asks: whether it can't be told yet.
        cells: of the answers that would tell it; empty if none would.
    """

    code: str
    name: str
    asks: bool
    where: str
    cells: str


@dataclass(frozen=True, slots=True)
class Matter:
    """A matter that a release can settle.

    Args:
        group: the findings.
        limits: name and figure of each limit that the rule compares with.
        found: clause by clause.
        refused: releases for it, a firm's standing ones among them, that do not lift it here.
        others: what else is not settled at these places.
        lines: places, as they are written on the Releases sheet, a line each.
    """

    group: Group
    limits: tuple[tuple[str, str], ...]
    found: tuple[Found, ...]
    refused: tuple[Refused, ...]
    others: tuple[OpenHere, ...]
    lines: tuple[str, ...]

    @property
    def rule(self) -> Rule:
        """The rule of its findings."""
        return self.group.rule


@dataclass(frozen=True, slots=True)
class Referral:
    """What is put to the engineer.

    Args:
        matters: for an engineer to decide.
        stops: other findings that stop the job and that somebody may release.
        conditions: what is kept to, or released by somebody who answers for it.
    """

    matters: tuple[Matter, ...]
    stops: tuple[Matter, ...]
    conditions: tuple[Matter, ...]


@dataclass(frozen=True, slots=True)
class Days:
    """Within which days a release must lie.

    Args:
        given: how early and how late it may be dated.
        until: how long it must hold.
    """

    given: str
    until: str


def referral(assessment: Assessment, places: Places, numbers: Numbers) -> Referral:
    """All that somebody may release, each matter once."""
    outcomes = (Outcome.ENGINEER, Outcome.STOP, Outcome.CONDITION)
    not_held = (*not_covering(assessment, places), *refused(assessment, places))

    def matters(outcome: Outcome) -> tuple[Matter, ...]:
        groups = group_findings(of(assessment.findings, outcome), places)
        return tuple(
            _matter(group, assessment, places, numbers, not_held)
            for group in groups
            if group.rule.release is not ReleaseBy.NOBODY
        )

    return Referral(*map(matters, outcomes))


def release_days(site: Row) -> Days:
    """Within which days a release must lie, or which answers tell that."""
    surveyed, first, last = (
        _day_or_cell(site, name) for name in ("survey date", "crew date", "last crew date")
    )
    return Days(
        f"no earlier than the day of the survey, {surveyed}, and no later than the crew's first "
        f"day, {first}",
        f"the crew's last day, {last}, or longer",
    )


def _day_or_cell(site: Row, name: str) -> str:
    given = site.answers[name]
    if isinstance(given.value, Missing):
        return f"which is {given.value} ({in_cells([given.where])})"
    return answer(site, name)


def _matter(
    group: Group,
    assessment: Assessment,
    places: Places,
    numbers: Numbers,
    not_held: Iterable[Refused],
) -> Matter:
    code, labels = group.rule.code, tuple(finding.place for finding in group.findings)
    return Matter(
        group,
        tuple(dict.fromkeys(_limits(group.rule))),
        tuple(_found(group, places, numbers)),
        tuple(one for one in not_held if _names(one, code)),
        tuple(_others(group, assessment, places)),
        _lines(group.rule.subject, labels, assessment.survey, places),
    )


def _names(one: Refused, code: str) -> bool:
    return one.release.finding.casefold() == code.casefold()


def _limits(rule: Rule) -> Iterator[tuple[str, str]]:
    """The limits that a rule compares with, each with its figure; a plain figure is none."""
    for part in parts_of(rule.condition):
        match part:
            case Comparison(word, _, int(steps), shown) if not shown[:1].isdigit():
                yield shown, write_steps(steps, word.kind, word.unit)
            case Reckoning(left, _, right):
                for term in (*_figures(left), *_figures(right)):
                    yield term.shown, reckoning.shown(term, term.value)
            case Count() if part.limit:
                yield part.limit, str(part.number)


def _figures(term: Term) -> Iterator[Figure]:
    match term:
        case Figure(_, shown) if not shown[:1].isdigit():
            yield term
        case Arithmetic(_, left, right):
            yield from _figures(left)
            yield from _figures(right)


def _found(group: Group, places: Places, numbers: Numbers) -> Iterator[Found]:
    """What was found, clause by clause, with the places where it differs."""
    told = [(finding, reason) for finding in group.findings for reason in finding.reasons]
    for same in by_key(told, lambda pair: (pair[1].clause, _word(pair[1]))):
        alike = by_key(same, lambda pair: _text(*pair))
        found = tuple(
            (
                "" if len(alike) == 1 else
                places.named(subject_of(one[0][0]), (finding.place for finding, _ in one)),
                _text(*one[0]),
            )
            for one in alike
        )  # fmt: skip
        inputs = {id(given): given for _, reason in same for given in reason.inputs}
        looked_at = {place for _, reason in same for place in reason.figures}
        yield Found(
            same[0][1].clause, found, in_few(inputs.values()),
            tuple(sorted({number for place in looked_at for number in numbers.get(place, ())})),
        )  # fmt: skip


def _word(reason: Reason) -> str:
    return reason.found.partition(" of ")[0].partition(" at ")[0]


def _text(finding: Finding, reason: Reason) -> str:
    """What was found, without the label of the place that stands beside it."""
    found = reason.found
    for label in (finding.place, *finding.place.split(" / ")):
        for mark in (" of ", " at "):
            found = found.replace(f"{mark}{label}: ", ": ", 1)
    by = f", by {', '.join(reason.by)}" if reason.by else ""
    why = f", because {in_brief(reason.why)}" if reason.why else ""
    return f"{found}{by}{why}"


def _others(group: Group, assessment: Assessment, places: Places) -> Iterator[OpenHere]:
    """What else must be settled at the places of a matter before the crew may come."""
    here = {finding.place for finding in group.findings}
    piers = {pier for finding in group.findings for pier in finding.piers}
    blocking = (Outcome.STOP, Outcome.ENGINEER, Outcome.ASK)
    near = [
        finding for finding in assessment.findings
        if finding.counts and finding.outcome in blocking
        and finding.rule.code != group.rule.code
        and (finding.place in here or not piers.isdisjoint(finding.piers))
    ]  # fmt: skip
    for same in by_key(near, lambda f: (f.rule.code, f.outcome, subject_of(f))):
        yield OpenHere(
            same[0].rule.code, same[0].rule.name, same[0].outcome is Outcome.ASK,
            places.named(subject_of(same[0]), (f.place for f in same)),
            in_few(dict.fromkeys(given for f in same for given in f.settles)),
        )  # fmt: skip


def _lines(
    subject: Subject, labels: tuple[str, ...], survey: Survey, places: Places
) -> tuple[str, ...]:
    """Places as a release names them: in one line if that is read as just these, else one each."""
    text = _as_written(subject, labels, places)
    order = _order(subject, survey)
    read = read_places(text, subject, order)
    return (text,) if read.labels == frozenset(labels) and not read.faults else labels


def _as_written(subject: Subject, labels: tuple[str, ...], places: Places) -> str:
    if subject is Subject.SITE:
        return "site"
    if subject in {Subject.PIER, Subject.PIER_UTILITY, Subject.PIER_NEIGHBOUR}:
        return places.named(subject, labels)
    return "; ".join(labels)


def _order(subject: Subject, survey: Survey) -> tuple[str, ...]:
    """The labels of all that a rule for a subject is judged for."""
    if subject is Subject.SITE:
        return (survey.site.label,)
    if subject is Subject.PIER_PIER:
        return tuple(f"{a.label} / {b.label}" for a, b in permutations(survey.piers, 2))
    pair = {
        Subject.PIER_UTILITY: survey.utilities,
        Subject.PIER_NEIGHBOUR: survey.neighbours,
        Subject.PIER_SOIL_LAYER: survey.soil_layers,
    }.get(subject)
    if pair is None:
        return tuple(row.label for row in survey.rows(subject))
    return tuple(f"{pier.label} / {other.label}" for pier in survey.piers for other in pair)
