"""What many jobs are told by: one site's judgement in short, small enough to keep a thousand."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from survey.assessment import Assessment
from survey.assessment.compare import came_to
from survey.assessment.decision import Verdict
from survey.jobs.owed import Owed, owed
from survey.model import Survey
from survey.rulebook.rules import Outcome
from survey.sheets._advice import ONCE, codes, of
from survey.sheets._legible import legible
from survey.sheets._released import kept_releases
from survey.vocabulary import NOT_KNOWN


@dataclass(frozen=True, slots=True)
class JobPier:
    """The verdict for one pier location."""

    label: str
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Fired:
    """What a rule came to at a site, at all places where it came to the same.

    Args:
        code, name: of the rule.
        outcome: such as ``stop``, or ``can't be told``.
        released: whether it was lifted.
        places: at how many.
    """

    code: str
    name: str
    outcome: str
    released: bool
    places: int


@dataclass(frozen=True, slots=True)
class NotKnown:
    """A question that is open.

    Args:
        word: its name.
        rows: at how many rows it is not known.
        waited_for: at how many of them a finding waits for it.
    """

    word: str
    rows: int
    waited_for: int


@dataclass(frozen=True, slots=True)
class Window:
    """One end of the days on which the crew may begin; why, or what has to be known first."""

    day: dt.date | None
    why: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Job:
    """One site's judgement in short. Texts are legible; an empty one was not given.

    Args:
        name: of the survey's file, without folder and ending.
        job, address, town, surveyor, competent_person: as answered.
        survey_day, crew_day, last_crew_day, ticket_start, ticket_end: none if not known, or if it
            does not apply.
        verdict: for the site.
        piers: every pier location, in the order of the form.
        earliest, latest: first and last day on which the crew may begin.
        owed: what has to be done before the crew may come, and by whom.
        fired: what the rules came to.
        open: the questions that are not known.
        conditions: how many things the crew ticks.
        notes: what whoever reads of it should know of its file.
        disagreement: whether the evaluators disagree, a fault of the program.
    """

    name: str
    job: str
    address: str
    town: str
    surveyor: str
    competent_person: str
    survey_day: dt.date | None
    crew_day: dt.date | None
    last_crew_day: dt.date | None
    ticket_start: dt.date | None
    ticket_end: dt.date | None
    verdict: Verdict
    piers: tuple[JobPier, ...]
    earliest: Window
    latest: Window
    owed: tuple[Owed, ...]
    fired: tuple[Fired, ...]
    open: tuple[NotKnown, ...]
    conditions: int
    notes: tuple[str, ...]
    disagreement: bool

    @property
    def piers_that_may_go(self) -> tuple[str, ...]:
        """Labels of the pier locations at which nothing holds the crew up."""
        return tuple(pier.label for pier in self.piers if pier.verdict.may_start)


def job_of(assessment: Assessment) -> Job:
    """A judgement in short."""
    site, plan, findings = assessment.survey.site, assessment.plan, assessment.findings

    def text(word: str) -> str:
        return legible(str(site.known(word) or "")) if word in site.answers else ""

    def day(word: str) -> dt.date | None:
        known = site.known(word)
        return known if isinstance(known, dt.date) else None

    judged_once = (ONCE,) if assessment.evaluators == 1 else ()
    return Job(
        legible(assessment.survey.name), text("job name"), text("address"), text("town"),
        text("surveyor"), text("competent person"), day("survey date"), day("crew date"),
        day("last crew date"), day("ticket start"), day("ticket end"), assessment.verdict,
        tuple(JobPier(legible(pier.label), pier.verdict) for pier in assessment.piers),
        Window(plan.earliest.day, plan.earliest.why), Window(plan.latest.day, plan.latest.why),
        tuple(owed(assessment)), tuple(_fired(assessment)), tuple(_open(assessment)),
        len(codes(of(findings, Outcome.CONDITION))) + len(kept_releases(findings)),
        (*assessment.survey.notes, *judged_once), bool(assessment.disagreement),
    )  # fmt: skip


def _fired(assessment: Assessment) -> Iterator[Fired]:
    alike = Counter(
        (f.rule.code, f.rule.name, came_to(f), not f.counts) for f in assessment.findings
    )
    for (code, name, outcome, released), places in alike.items():
        yield Fired(code, name, outcome, released, places)


def _open(assessment: Assessment) -> Iterator[NotKnown]:
    """The questions of the form that are not known, most rows first."""
    waits = Counter(question.input.word for question in assessment.questions)
    for word, rows in _not_known(assessment.survey).most_common():
        yield NotKnown(word, rows, waits[word])


def _not_known(survey: Survey) -> Counter[str]:
    return Counter(
        name
        for row in survey.every_row()
        for name, answer in row.answers.items()
        if answer.value is NOT_KNOWN
    )
