"""The engineer's pages: what there is to decide, the lines of a release, every calculation."""

from __future__ import annotations

from survey.assessment import Assessment
from survey.sheets._advice import by_whom, may_be_scheduled
from survey.sheets._legible import answer, count, crew_days, job_name, legible
from survey.sheets._places import Places, in_cells
from survey.sheets._referral import referral, release_days
from survey.sheets._released import kept
from survey.sheets._resting import resting
from survey.sheets._templates import template
from survey.sheets._workings import calculations
from survey.sheets.seal import closed
from survey.vocabulary import VOCABULARY, Subject

MARKER = "<!DOCTYPE html>\n<!-- pier-survey engineer's pages 1 -->\n"
_COLUMNS = VOCABULARY.asked_of(Subject.RELEASE)
_FACTS = ("address", "survey date", "surveyor", "competent person", "state")


def render_engineer(assessment: Assessment) -> str:
    """The engineer's pages of a site as the text of an HTML file, in UTF-8."""
    site, places = assessment.survey.site, Places.of(assessment.survey)
    behind = resting(assessment)
    calculated = calculations(behind.figures, places)
    numbers = {place: (number,) for place, number in calculated.numbers.items()} | {
        place: tuple(calculated.numbers[figure] for figure in figures)
        for place, figures in behind.concluded.items()
    }
    put = referral(assessment, places, numbers)
    page = template("engineer.html").render(
        site={name.replace(" ", "_"): answer(site, name) for name in _FACTS},
        job_name=job_name(site),
        crew_days=crew_days(site),
        name=assessment.survey.name,
        verdict=assessment.verdict,
        scheduled=may_be_scheduled(assessment),
        disagreement=assessment.disagreement,
        by_whom=by_whom(assessment),
        problems=count(len(assessment.problems), "cell") if assessment.problems else "",
        problem_cells=in_cells(problem.where for problem in assessment.problems),
        put=put,
        days=release_days(site),
        kept=kept(assessment.findings, places),
        columns=[word.name[:1].upper() + word.name[1:] for word in _COLUMNS],
        calculated=calculated,
        version=assessment.version,
        book=assessment.book,
        answers=assessment.answers,
        photos=(),
    )
    return closed(MARKER + legible(page))
