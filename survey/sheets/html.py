"""The sheet: one HTML page that prints, reads on a telephone and needs nothing else.

No script runs and nothing is fetched. Every text of the survey is escaped.
"""

from __future__ import annotations

from dataclasses import dataclass

from survey.assessment import Assessment, Finding
from survey.assessment.planning import End
from survey.model import Row
from survey.photos import NO_PHOTOS, Photos
from survey.rulebook.direct import Reason
from survey.rulebook.rules import Outcome, ReleaseBy, Rule
from survey.sheets._advice import (
    CAUTIONS,
    LOCAL_RULES,
    NO_LOCAL_RULES,
    by_whom,
    may_be_scheduled,
    of,
    unclear,
)
from survey.sheets._grouping import (
    boxes,
    by_key,
    group_chained,
    group_findings,
    group_questions,
    group_seats,
    stops,
    subject_of,
    taken_up,
)
from survey.sheets._legible import answer, count, crew_days, day, job_name, legible
from survey.sheets._photos import photos_of_piers, printed
from survey.sheets._places import Places, in_cells, span
from survey.sheets._plan import marked_codes, pier_lines, plan
from survey.sheets._released import kept, not_covering, refused
from survey.sheets._templates import template
from survey.sheets._workings import in_brief, methods, unworked
from survey.sheets.record import answers_fingerprint
from survey.vocabulary import VOCABULARY

MARKER = "<!DOCTYPE html>\n<!-- pier-survey sheet 1 -->\n"


@dataclass(frozen=True, slots=True)
class Behind:
    """Why a rule was met, or could not be told, at one or many places."""

    rule: Rule
    outcome: Outcome
    released: bool
    rows: tuple[BehindRow, ...]


@dataclass(frozen=True, slots=True)
class BehindRow:
    """The clauses at the places where they are the same."""

    where: str
    clauses: tuple[Clause, ...]


@dataclass(frozen=True, slots=True)
class Clause:
    """A clause, what was found, why it is not known, the rules and answers behind it."""

    clause: str
    found: str
    why: str
    by: str
    answers: str


@dataclass(frozen=True, slots=True)
class EndOfDays:
    """One end of the days on which the crew may begin, as printed."""

    day: str
    why: str


def _end(end: End) -> EndOfDays:
    return EndOfDays("not known" if end.day is None else day(end.day), "; ".join(end.why))


def render(assessment: Assessment, photos: Photos = NO_PHOTOS) -> str:
    """The sheet of a site as the text of an HTML file, in UTF-8, with its photos in it."""
    findings, site = assessment.findings, assessment.survey.site
    places = Places.of(assessment.survey)
    not_counted = refused(assessment, places)
    page = template("sheet.html").render(
        site=_answers(
            site, "address", "survey date", "surveyor", "ticket number", "competent person",
            "emergency contact",
        ),
        job_name=job_name(site),
        crew_days=crew_days(site),
        remarks=site.known("remarks"),
        name=assessment.survey.name,
        verdict=assessment.verdict,
        scheduled=may_be_scheduled(assessment),
        problems=assessment.problems,
        about_file=assessment.survey.notes,
        number_of_cells=count(len(assessment.problems), "cell"),
        problem_cells=in_cells(problem.where for problem in assessment.problems),
        disagreement=assessment.disagreement,
        by_whom=by_whom(assessment),
        stops=stops(findings, places),
        engineer=group_findings(of(findings, Outcome.ENGINEER), places),
        conditions=boxes(findings, places),
        kept=kept(findings, places),
        notes=group_findings(of(findings, Outcome.NOTE), places),
        unclear=group_findings(unclear(findings), places),
        questions=by_key(group_questions(assessment), lambda asked: asked.sheet),
        number_of_questions=len(assessment.questions),
        released=group_findings((f for f in findings if not f.counts), places),
        refused=not_counted,
        slips=span(one.release.label for one in not_counted),
        number_of_slips=count(len(not_counted), "release does", "releases do"),
        not_covering=not_covering(assessment, places),
        piers=pier_lines(assessment),
        plan=plan(assessment, places),
        order=assessment.plan.order,
        earliest=_end(assessment.plan.earliest),
        latest=_end(assessment.plan.latest),
        clashes=assessment.plan.clashes,
        site_codes=marked_codes(f for f in findings if f.counts and not f.piers),
        taken_up=taken_up(assessment, places),
        seats=by_key(group_seats(assessment, places), lambda seat: seat.prompt),
        chained=group_chained(assessment.chained, places),
        behind=_behind(findings, places),
        photos=printed(photos, places),
        photos_of=photos_of_piers(photos),
        asked_photos=photos.asked,
        methods=methods(assessment.figures, places),
        unworked=unworked(assessment.figures, places),
        cautions=CAUTIONS,
        changes=assessment.changes,
        local_rules=LOCAL_RULES,
        no_local_rules=NO_LOCAL_RULES,
        nobody=ReleaseBy.NOBODY,
        evaluators=assessment.evaluators,
        version=assessment.version,
        book=assessment.book,
        answers=answers_fingerprint(assessment.survey),
    )  # fmt: skip
    return MARKER + legible(page)


def _answers(row: Row, *names: str) -> dict[str, str]:
    return {name.replace(" ", "_"): answer(row, name) for name in names}


def _behind(findings: tuple[Finding, ...], places: Places) -> tuple[Behind, ...]:
    same_rule = by_key(findings, lambda f: (f.rule.code, f.outcome, f.counts))
    return tuple(
        Behind(
            same[0].rule, same[0].outcome, not same[0].counts,
            tuple(
                BehindRow(
                    places.named(subject_of(alike[0][0]), (f.place for f, _ in alike)),
                    alike[0][1],
                )
                for alike in by_key(
                    ((f, _clauses(f)) for f in same),
                    lambda pair: (subject_of(pair[0]), pair[1]),
                )
            ),
        )
        for same in same_rule
    )  # fmt: skip


def _clauses(finding: Finding) -> tuple[Clause, ...]:
    return tuple(dict.fromkeys(_clause(finding, reason) for reason in finding.reasons))


def _clause(finding: Finding, reason: Reason) -> Clause:
    by = ", ".join(reason.by)
    missing = reason.missing if finding.outcome is Outcome.ASK else ()
    if missing:  # the open questions give their cells
        words = dict.fromkeys(given.word for given in missing)
        return Clause(reason.clause, f"not known: {', '.join(words)}", "", by, "")
    cells = in_cells(given.answer.where for given in reason.inputs)
    return Clause(reason.clause, _found(finding, reason), in_brief(reason.why), by, cells)


def _found(finding: Finding, reason: Reason) -> str:
    """What was found, without the label of the place that the row names already."""
    word, named, value = reason.found.partition(f" of {finding.place}: ")
    answered = (given.word for given in reason.inputs)  # a firm's own questions among them
    known = word in VOCABULARY or word in answered
    return f"{word}: {value}" if named and known else reason.found
