"""The record: the judgement of a site for machines, in JSON with stable keys.

The same survey, judged by the same book and program, gives the same bytes: no clock and no
place of the machine stands in it.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import json
import sys
from collections.abc import Iterable
from typing import Any, Literal

from survey.assessment import Assessment, Chained, Figure, Finding, PierResult, Question
from survey.assessment.planning import Plan
from survey.assessment.releases import Release, Standing
from survey.engineering.working import Input
from survey.errors import Problem
from survey.model import Survey
from survey.photos import NO_PHOTOS, Photo, Photos
from survey.rulebook.direct import Reason
from survey.rulebook.rules import Change
from survey.sheets._legible import said
from survey.vocabulary import Missing, Subject

if sys.version_info >= (3, 12):
    from typing import TypedDict
else:  # pydantic makes the schema of these types only from 3.12 on
    from typing_extensions import TypedDict

VERSION: Literal[1] = 1
MARKER = '{\n "pier_survey_record": '


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
    """The verdict for one pier location; findings of the whole site count besides."""

    pier: str
    verdict: str
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


class ProblemRecord(TypedDict):
    """A cell to put right: what stands in it was not used."""

    cell: str
    read: str
    expected: str
    nearest: str | None


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
    """The judgement of one site, version 1."""

    pier_survey_record: Literal[1]
    verdict: str
    may_start: bool
    program: str
    book_fingerprint: str
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
    problems: list[ProblemRecord]
    notes: list[str]
    unused_releases: list[RefusedRecord]
    figures: list[FigureRecord]
    plan: PlanRecord
    photos: list[PhotoRecord]
    asked_photos: list[AskedPhotoRecord]
    answers: dict[str, AnswerRecord]


def record(assessment: Assessment, photos: Photos = NO_PHOTOS) -> Record:
    """The judgement of a site, ready for JSON."""
    return {
        "pier_survey_record": VERSION,
        "verdict": assessment.verdict.value,
        "may_start": assessment.verdict.may_start,
        "program": assessment.version,
        "book_fingerprint": assessment.book,
        "shipped_book": not assessment.changes,
        "local_rules": [_change(change) for change in assessment.changes],
        "answers_fingerprint": answers_fingerprint(assessment.survey),
        "evaluators": assessment.evaluators,
        "disagreement": list(assessment.disagreement),
        "site": _site(assessment.survey),
        "piers": [_pier(pier) for pier in assessment.piers],
        "findings": [_finding(finding) for finding in assessment.findings],
        "chained": [_chained(chained) for chained in assessment.chained],
        "questions": [_question(question) for question in assessment.questions],
        "problems": [_problem(problem) for problem in assessment.problems],
        "notes": list(assessment.survey.notes),
        "unused_releases": [_refused(standing) for standing in assessment.unused_releases],
        "figures": [_figure(figure) for figure in assessment.figures],
        "plan": _plan(assessment.plan),
        "photos": [_photo(photo) for photo in photos.shown],
        "asked_photos": [
            {"name": photo.name, "cell": photo.where, "why": photo.why} for photo in photos.asked
        ],
        "answers": _answers(assessment),
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


def write_record(assessment: Assessment, photos: Photos = NO_PHOTOS) -> str:
    """The record as the text of a JSON file, with a line for each finding, figure and so on."""
    keys = (
        f" {json.dumps(key)}: {_entries(value)}"
        for key, value in record(assessment, photos).items()
    )
    return _storable("{\n" + ",\n".join(keys) + "\n}\n")


def _entries(value: object) -> str:
    """A value as JSON, with a line for each entry of a list or table."""
    if isinstance(value, list) and value:
        return "[\n" + ",\n".join(f"  {_json(entry)}" for entry in value) + "\n ]"
    if isinstance(value, dict) and value:
        lines = (f"  {_json(key)}: {_json(entry)}" for key, entry in value.items())
        return "{\n" + ",\n".join(lines) + "\n }"
    return _json(value)


_json = json.JSONEncoder(ensure_ascii=False).encode


def record_line(assessment: Assessment, photos: Photos = NO_PHOTOS) -> str:
    """The record as one line of JSON."""
    return _storable(_json(record(assessment, photos)))


def _storable(text: str) -> str:
    """The text with halves of characters, which no file can hold, as question marks."""
    return text.encode("utf-8", "replace").decode("utf-8")


def record_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of the record."""
    from pydantic import TypeAdapter

    schema = TypeAdapter(Record).json_schema()
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}


def answers_fingerprint(survey: Survey) -> str:
    """The same for the same answers, whatever file and cells they stood in."""
    answers = [
        [row.subject.value, row.label, name, str(answer.value)]
        for row in survey.every_row()
        for name, answer in row.answers.items()
    ]
    return hashlib.sha256(json.dumps(answers).encode()).hexdigest()[:12]


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


def _pier(pier: PierResult) -> PierRecord:
    return {
        "pier": pier.label,
        "verdict": pier.verdict.value,
        "findings": list(dict.fromkeys(finding.rule.code for finding in pier.findings)),
        "seats": [{"seat": s.name, "state": s.state, "why": list(s.why)} for s in pier.seats],
    }


def _finding(finding: Finding) -> FindingRecord:
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
        "reasons": _reasons(finding.reasons),
        "settles": [_name(given) for given in finding.settles],
        "release": _release(finding.releases[0]) if finding.releases else None,
        "also_released": [_release(release) for release in finding.releases[1:]],
        "refused": [_refused(standing) for standing in finding.refused],
    }


def _chained(chained: Chained) -> ChainedRecord:
    return {
        "code": chained.rule.code,
        "name": chained.rule.name,
        "place": chained.place,
        "text": chained.text,
        "source": chained.rule.source,
        "reasons": _reasons(chained.reasons),
    }


def _reasons(reasons: Iterable[Reason]) -> list[ReasonRecord]:
    return [
        {
            "clause": reason.clause,
            "found": reason.found,
            "why": reason.why,
            "rules": list(reason.by),
            "answers": [_name(given) for given in reason.inputs],
        }
        for reason in reasons
    ]


def _answers(assessment: Assessment) -> dict[str, AnswerRecord]:
    """The answers that some finding or conclusion rests on, each once."""
    reasons = [
        *(reason for finding in assessment.findings for reason in finding.reasons),
        *(reason for chained in assessment.chained for reason in chained.reasons),
    ]
    inputs = {id(given): given for reason in reasons for given in reason.inputs}
    inputs |= {id(given): given for finding in assessment.findings for given in finding.settles}
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


def _problem(problem: Problem) -> ProblemRecord:
    return {
        "cell": problem.where,
        "read": problem.read,
        "expected": problem.expected,
        "nearest": problem.nearest,
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
