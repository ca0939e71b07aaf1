"""The sheet: one HTML page that prints, reads on a telephone and needs nothing else.

No script runs and nothing is fetched. Every text of the survey is escaped.
"""

from __future__ import annotations

from survey.assessment import Assessment
from survey.assessment.seats import CANT_TELL
from survey.drawings.plan import plan_drawing
from survey.drawings.sections import section_drawings
from survey.model import Row
from survey.photos import NO_PHOTOS, Photos
from survey.rulebook.rules import Outcome
from survey.sheets._advice import (
    BRIEF_CAUTIONS,
    CAUTIONS,
    IDLE_RULES,
    LOCAL_RULES,
    idle,
    in_force,
    of,
    unclear,
    waiting,
)
from survey.sheets._grouping import (
    boxes,
    by_key,
    group_chained,
    group_findings,
    group_questions,
    group_same_to_do,
    group_seats,
    stops,
    taken_up,
)
from survey.sheets._legible import answer, crew_days, job_name, legible
from survey.sheets._photos import photos_of_piers, printed
from survey.sheets._places import Places
from survey.sheets._plan import marked_codes, of_days, piers_alike, plan
from survey.sheets._released import kept, not_covering, refused
from survey.sheets._templates import template
from survey.sheets._trust import since_printed, trust_of
from survey.sheets.front import front
from survey.sheets.seal import closed, packed
from survey.sheets.since import Since, glance
from survey.sheets.why import why

MARKER = "<!DOCTYPE html>\n<!-- pier-survey sheet 1 -->\n"
_MOST_CODES = 4  # of the rules that wait for one answer; all of them are listed below the questions


def render(assessment: Assessment, photos: Photos = NO_PHOTOS, since: Since | None = None) -> str:
    """The sheet of a site as the text of an HTML file, in UTF-8, with its photos in it.

    Args:
        assessment: of the site.
        photos: of the site.
        since: what changed since its last check; none where there was no check before.
    """
    findings, site = assessment.findings, assessment.survey.site
    places = Places.of(assessment.survey)
    judged = glance(assessment)
    page = template("sheet.html").render(
        front=front(assessment, places),
        brief_cautions=BRIEF_CAUTIONS,
        cautions=CAUTIONS,
        file=assessment.survey.name,
        job={
            "name": job_name(site),
            "remarks": site.known("remarks"),
            **_answers(
                site, "address", "survey date", "surveyor", "ticket number", "competent person",
                "emergency contact",
            ),
        },
        crew_days=crew_days(site),
        disagreement=assessment.disagreement,
        stops=stops(findings, places),
        engineer=group_findings(of(findings, Outcome.ENGINEER), places),
        unclear=group_same_to_do(unclear(findings), places),
        waiting=group_findings(waiting(findings), places),
        conditions=boxes(findings, places),
        kept=kept(findings, places),
        notes=group_findings(of(findings, Outcome.NOTE), places),
        taken_up=taken_up(assessment, places),
        piers=piers_alike(assessment, places, photos_of_piers(photos)),
        site_codes=marked_codes(f for f in findings if f.counts and not f.piers),
        plan=plan(assessment, places),
        order=assessment.plan.order,
        earliest=of_days(assessment.plan.earliest),
        latest=of_days(assessment.plan.latest),
        clashes=assessment.plan.clashes,
        plan_svg=plan_drawing(assessment),
        sections=section_drawings(assessment),
        questions=by_key(group_questions(assessment), lambda asked: asked.sheet),
        number_of_questions=len(assessment.questions),
        most_codes=_MOST_CODES,
        asked_photos=photos.asked,
        problems=assessment.problems,
        about_file=assessment.survey.notes,
        released=group_findings((f for f in findings if not f.counts), places),
        refused=refused(assessment, places),
        not_covering=not_covering(assessment, places),
        seats=by_key(group_seats(assessment, places), lambda seat: seat.prompt),
        cant_tell=CANT_TELL,
        chained=group_chained(assessment.chained, places),
        photos=printed(photos, places),
        changes=assessment.changes,
        local_rules=((LOCAL_RULES, in_force(assessment)), (IDLE_RULES, idle(assessment))),
        since=since_printed(since, places),
        trust=trust_of(judged),
        why=why(assessment, places),
        evaluators=assessment.evaluators,
        version=assessment.version,
        book=assessment.book,
        answers=assessment.answers,
    )  # fmt: skip
    return closed(
        f"{MARKER}{legible(page)}\n{packed(judged, assessment.evaluators, photos, since)}"
    )


def _answers(row: Row, *names: str) -> dict[str, str]:
    return {name.replace(" ", "_"): answer(row, name) for name in names}
