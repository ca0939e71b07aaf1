"""The record: the judgement of a site for machines, in JSON with stable keys.

It is self-sufficient: it carries the survey as it was judged, and fingerprints of the answers, the
book and each rule. The same survey, judged by the same book and program over the same earlier
record, gives the same bytes: no clock and no place of the machine stands in it.
"""

from __future__ import annotations

import datetime as dt
import sys
from collections.abc import Iterable
from typing import Any, Literal

from survey.assessment import Assessment, Chained, Figure, Finding, PierResult, Question
from survey.assessment.planning import Plan
from survey.assessment.releases import Release, Standing
from survey.engineering.working import Input
from survey.model import Survey
from survey.photos import NO_PHOTOS, Photo, Photos
from survey.rulebook.direct import Reason
from survey.rulebook.rules import Change
from survey.sheets._legible import said
from survey.sheets.kept import KeptProblem, KeptSurvey, keep, keep_problem
from survey.sheets.since import Since
from survey.vocabulary import Missing, Subject

if sys.version_info >= (3, 12):
    from typing import TypedDict
else:  # pydantic makes the schema of these types only from 3.12 on
    from typing_extensions import TypedDict

VERSION: Literal[2] = 2


class AnswerRecord(TypedDict):
    """An answer, as printed, with its cell. Its key is ``pit depth of P1``."""

    answer: str
    cell: str


class ReasonRecord(TypedDict):
    """One clause behind a finding: what it asks, what was found, from which answers or rules.

    The answers are keys of the record's ``answers``.
    """

    clause: str
    found: str
    why: str
    rules: list[str]
    answers: list[str]


class ReleaseRecord(TypedDict):
    """A release as it stands on the survey."""

    label: str
    finding: str
    place: str
    person: str
    role: str
    licence: str
    date: str
    end: str
    note: str
    cell: str


class RefusedRecord(TypedDict):
    """A release that lifts nothing, or not at all of its places, and why."""

    release: ReleaseRecord
    why: str


class FindingRecord(TypedDict):
    """A rule that is met, or can't be told, at one place; no piers means that all count.

    The Spanish texts are empty where the rule has none. Where more than one release lifts it, the
    crew keeps to all of them.
    """

    code: str
    name: str
    outcome: str
    place: str
    piers: list[str]
    say: str
    do: str
    say_es: str
    do_es: str
    who: str
    source: str
    may_release: str
    reasons: list[ReasonRecord]
    settles: list[str]
    release: ReleaseRecord | None
    also_released: list[ReleaseRecord]
    refused: list[RefusedRecord]


class ChainedRecord(TypedDict):
    """A conclusion that a rule drew for other rules."""

    code: str
    name: str
    place: str
    text: str
    source: str
    reasons: list[ReasonRecord]


class SeatRecord(TypedDict):
    """Whether a seat suits a pier, and why not."""

    seat: str
    state: str
    why: list[str]


class PierRecord(TypedDict):
    """The verdict for one pier location; findings of the whole site count besides.

    The round is that in which its pit is dug, from 1; null while there is no order of the pits.
    """

    pier: str
    verdict: str
    round: int | None
    findings: list[str]
    seats: list[SeatRecord]


class QuestionRecord(TypedDict):
    """An answer that findings wait for."""

    word: str
    of: str
    cell: str
    question: str
    help: str
    decides: list[str]


class FigureRecord(TypedDict):
    """A figure that was worked out, or why it was not."""

    place: str
    word: str
    shown: str
    reason: str


class PlanRecord(TypedDict):
    """In what order the pits are dug and when the crew may begin; null where not known."""

    rounds: list[list[str]]
    lines: list[str]
    crew_days: str
    reason: str
    earliest: str | None
    earliest_why: list[str]
    latest: str | None
    latest_why: list[str]
    clashes: list[str]


class PhotoRecord(TypedDict):
    """A photo on the sheet: what it shows, such as ``pier P3``, and which file it was made from.

    The fingerprint is the SHA-256 of that file.
    """

    name: str
    cell: str
    title: str
    caption: str
    shows: list[str]
    sha256: str


class AskedPhotoRecord(TypedDict):
    """A photo that is missing or can't be shown, and what to do; the verdict waits for none."""

    name: str
    cell: str
    why: str


class ChangeRecord(TypedDict):
    """What a firm's own file changed in the shipped rule book."""

    what: str
    why: str
    place: str


class SiteRecord(TypedDict):
    """Which site; null where the survey does not say."""

    survey: str
    job_name: str | None
    address: str | None
    crew_date: str | None
    last_crew_date: str | None
    survey_date: str | None
    surveyor: str | None
    remarks: str | None


class Record(TypedDict):
    """The judgement of one site, version 2.

    Fingerprints are of the answers, of the text of all rules, of the shipped ones and of a firm's
    own alone (null where there are none), and, by its code, of what each rule judges and says.
    """

    pier_survey_record: Literal[2]
    verdict: str
    may_start: bool
    program: str
    book_fingerprint: str
    shipped_fingerprint: str
    local_fingerprint: str | None
    shipped_book: bool
    local_rules: list[ChangeRecord]
    answers_fingerprint: str
    evaluators: int
    disagreement: list[str]
    site: SiteRecord
    piers: list[PierRecord]
    findings: list[FindingRecord]
    chained: list[ChainedRecord]
    questions: list[QuestionRecord]
    problems: list[KeptProblem]
    notes: list[str]
    unused_releases: list[RefusedRecord]
    figures: list[FigureRecord]
    plan: PlanRecord
    photos: list[PhotoRecord]
    asked_photos: list[AskedPhotoRecord]
    answers: dict[str, AnswerRecord]
    survey: KeptSurvey
    rules: dict[str, str]
    since: Since | None


class Written(Record):
    """A record as it stands in a file: with a SHA-256 of all that stands before it."""

    sha256: str


def record(
    assessment: Assessment, photos: Photos = NO_PHOTOS, since: Since | None = None
) -> Record:
    """The judgement of a site, ready for JSON.

    Args:
        assessment: of the site.
        photos: those on its sheet.
        since: what changed since its last check; none where there was no check before.
    """
    book = assessment.rules
    names = _Names()
    rounds = {
        label: number
        for number, labels in enumerate(assessment.plan.order.rounds, start=1)
        for label in labels
    }
    return {
        "pier_survey_record": VERSION,
        "verdict": assessment.verdict.value,
        "may_start": assessment.verdict.may_start,
        "program": assessment.version,
        "book_fingerprint": assessment.book,
        "shipped_fingerprint": book.shipped,
        "local_fingerprint": book.local or None,
        "shipped_book": not assessment.changes,
        "local_rules": [_change(change) for change in assessment.changes],
        "answers_fingerprint": assessment.answers,
        "evaluators": assessment.evaluators,
        "disagreement": list(assessment.disagreement),
        "site": _site(assessment.survey),
        "piers": [_pier(pier, rounds.get(pier.label)) for pier in assessment.piers],
        "findings": [_finding(finding, names) for finding in assessment.findings],
        "chained": [_chained(chained, names) for chained in assessment.chained],
        "questions": [_question(question) for question in assessment.questions],
        "problems": [keep_problem(problem) for problem in assessment.problems],
        "notes": list(assessment.survey.notes),
        "unused_releases": [_refused(standing) for standing in assessment.unused_releases],
        "figures": [_figure(figure) for figure in assessment.figures],
        "plan": _plan(assessment.plan),
        "photos": [_photo(photo) for photo in photos.shown],
        "asked_photos": [
            {"name": photo.name, "cell": photo.where, "why": photo.why} for photo in photos.asked
        ],
        "answers": _answers(assessment),
        "survey": keep(assessment.survey, assessment.problems),
        "rules": dict(book.rule_fingerprints),
        "since": since,
    }


def _plan(plan: Plan) -> PlanRecord:
    order = plan.order
    return {
        "rounds": [list(labels) for labels in order.rounds],
        "lines": list(order.lines),
        "crew_days": order.crew_days,
        "reason": order.reason,
        "earliest": None if plan.earliest.day is None else plan.earliest.day.isoformat(),
        "earliest_why": list(plan.earliest.why),
        "latest": None if plan.latest.day is None else plan.latest.day.isoformat(),
        "latest_why": list(plan.latest.why),
        "clashes": list(plan.clashes),
    }


def _photo(photo: Photo) -> PhotoRecord:
    return {
        "name": photo.name,
        "cell": photo.where,
        "title": photo.title,
        "caption": photo.caption,
        "shows": [
            place.label if place.subject is Subject.SITE else f"{place.subject.value} {place.label}"
            for place in photo.places
        ],
        "sha256": photo.source,
    }


def record_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of the record."""
    from pydantic import TypeAdapter

    schema = TypeAdapter(Written).json_schema()
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}


def _site(survey: Survey) -> SiteRecord:
    def text(name: str) -> str | None:
        value = survey.site.value(name)
        if isinstance(value, Missing):
            return None
        return value.isoformat() if isinstance(value, dt.date) else str(value)

    return {
        "survey": survey.name,
        "job_name": text("job name"),
        "address": text("address"),
        "crew_date": text("crew date"),
        "last_crew_date": text("last crew date"),
        "survey_date": text("survey date"),
        "surveyor": text("surveyor"),
        "remarks": text("remarks"),
    }


def _change(change: Change) -> ChangeRecord:
    return {"what": change.what, "why": change.why, "place": change.place}


def _pier(pier: PierResult, round: int | None) -> PierRecord:
    return {
        "pier": pier.label,
        "verdict": pier.verdict.value,
        "round": round,
        "findings": list(dict.fromkeys(finding.rule.code for finding in pier.findings)),
        "seats": [{"seat": s.name, "state": s.state, "why": list(s.why)} for s in pier.seats],
    }


def _finding(finding: Finding, names: _Names) -> FindingRecord:
    return {
        "code": finding.rule.code,
        "name": finding.rule.name,
        "outcome": finding.outcome.value,
        "place": finding.place,
        "piers": list(finding.piers),
        "say": finding.say,
        "do": finding.do,
        "say_es": finding.say_es,
        "do_es": finding.do_es,
        "who": finding.who,
        "source": finding.rule.source,
        "may_release": finding.rule.release.value,
        "reasons": _reasons(finding.reasons, names),
        "settles": names.of(finding.settles),
        "release": _release(finding.releases[0]) if finding.releases else None,
        "also_released": [_release(release) for release in finding.releases[1:]],
        "refused": [_refused(standing) for standing in finding.refused],
    }


def _chained(chained: Chained, names: _Names) -> ChainedRecord:
    return {
        "code": chained.rule.code,
        "name": chained.rule.name,
        "place": chained.place,
        "text": chained.text,
        "source": chained.rule.source,
        "reasons": _reasons(chained.reasons, names),
    }


class _Names(dict[int, list[str]]):
    """The names of some answers, made once for all clauses that rest on the same ones."""

    def of(self, inputs: tuple[Input, ...]) -> list[str]:
        names = self.get(id(inputs))
        if names is None:
            names = self[id(inputs)] = [_name(given) for given in inputs]
        return names


def _reasons(reasons: Iterable[Reason], names: _Names) -> list[ReasonRecord]:
    return [
        {
            "clause": reason.clause,
            "found": reason.found,
            "why": reason.why,
            "rules": list(reason.by),
            "answers": names.of(reason.inputs),
        }
        for reason in reasons
    ]


def _answers(assessment: Assessment) -> dict[str, AnswerRecord]:
    """The answers that some finding or conclusion rests on, each once."""
    reasons = [
        *(reason for finding in assessment.findings for reason in finding.reasons),
        *(reason for chained in assessment.chained for reason in chained.reasons),
    ]
    rested = [reason.inputs for reason in reasons]
    rested += [finding.settles for finding in assessment.findings]
    # Many clauses rest on the same answers; the assessment holds them all, so no two have one id.
    together = {id(inputs): inputs for inputs in rested}.values()
    inputs = {id(given): given for some in together for given in some}
    words = assessment.survey.vocabulary
    return {
        _name(given): {
            "answer": said(words[given.word], given.answer.value),
            "cell": given.answer.where,
        }
        for given in inputs.values()
    }


def _name(given: Input) -> str:
    return f"{given.word} of {given.label}"


def _question(question: Question) -> QuestionRecord:
    return {
        "word": question.input.word,
        "of": question.input.label,
        "cell": question.input.answer.where,
        "question": question.prompt,
        "help": question.help,
        "decides": list(question.rules),
    }


def _figure(figure: Figure) -> FigureRecord:
    return {
        "place": figure.place,
        "word": figure.word,
        "shown": figure.shown,
        "reason": figure.reason,
    }


def _refused(standing: Standing) -> RefusedRecord:
    return {"release": _release(standing.release), "why": standing.why}


def _release(release: Release) -> ReleaseRecord:
    return {
        "label": release.label,
        "finding": release.finding,
        "place": release.place,
        "person": release.person,
        "role": release.role,
        "licence": release.licence,
        "date": release.date,
        "end": release.end,
        "note": release.note,
        "cell": release.where,
    }
