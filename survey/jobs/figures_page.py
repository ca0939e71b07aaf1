"""Figures for the safety meeting as a page to show and print. No script runs in it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from survey.assessment.decision import Verdict
from survey.drawings.shapes import Drawing
from survey.drawings.svg import write_svg
from survey.files import refuse_other, replace, told
from survey.jobs.charts import Bar, Fill, chart
from survey.jobs.figures import (
    HOLDING,
    NO_SURVEY_DATE,
    AnswerFigure,
    Figures,
    GroupFigure,
    MonthFigure,
    RuleFigure,
    Span,
)
from survey.rulebook.rules import Outcome
from survey.sheets._legible import count, day, legible
from survey.sheets._templates import template

MARKER = "<!DOCTYPE html>\n<!-- pier-survey figures 1 -->\n"
CAUTIONS = (
    "These figures count what rules found on paper. They judge no site and no person, and no crew "
    "is sent by them: read the sheet of its job.",
    "Every survey is judged by the rules of today for the crew's days on its form, whatever was "
    "said of it then.",
    "A number stands with what it was counted among. Where that is a handful, look at the sites "
    "themselves.",
)
OF_SURVEYORS = (
    "Whoever has many open answers may just have had the harder houses, or first visits. Ask "
    "before you conclude."
)
_WHAT = "page of figures"
_MOST_BARS, _MOST_MONTHS, _MOST_ANSWERS = 15, 24, 40
_VERDICTS = {
    Verdict.NO_GO: Fill.FULL,
    Verdict.ENGINEER_REVIEW: Fill.CROSSED,
    Verdict.HOLD: Fill.RISING,
    Verdict.GO_WITH_CONDITIONS: Fill.GREY,
    Verdict.GO: Fill.EMPTY,
}
_OUTCOMES = {
    Outcome.STOP.value: Fill.FULL,
    Outcome.ENGINEER.value: Fill.CROSSED,
    Outcome.ASK.value: Fill.RISING,
}
_WAITING = {Fill.FULL: "a finding waits for it", Fill.EMPTY: "nothing waits for it"}


@dataclass(frozen=True, slots=True)
class About:
    """What the figures are of.

    Args:
        folder: its name.
        span: the days on which the sites were surveyed.
        today: the day on which they were counted.
        book: fingerprint of the rules.
        prompts: of the questions, by their words.
    """

    folder: str
    span: Span
    today: dt.date
    book: str
    prompts: Mapping[str, str]

    @property
    def days(self) -> str:
        """The span in words."""
        first, last = self.span.first, self.span.last
        if first and last:
            return f"surveyed from {day(first)} to {day(last)}"
        if first:
            return f"surveyed from {day(first)} on"
        return f"surveyed until {day(last)}" if last else "surveyed on any day"


def write_figures_page(figures: Figures, about: About, file: Path) -> None:
    """Write figures as a page; an earlier one is replaced, any other file left alone.

    Raises:
        UserError: something else stands there, or it can't be written.
    """
    refuse_other(file, MARKER, _WHAT)
    with told(file, _WHAT):
        replace(file, render_figures(figures, about))


def render_figures(figures: Figures, about: About) -> str:
    """Figures as one HTML page."""
    sites = len(figures.chosen.sites)
    page = template("figures.html").render(
        figures=figures, about=about, today=day(about.today), number=sites, holding=HOLDING,
        left_out=left_out(figures), groups=(
            ("surveyor", "By surveyor", figures.surveyors, OF_SURVEYORS),
            ("town", "By town", figures.towns, ""),
        ),
        charts=_charts(figures, about),
        fired=[rule for rule in figures.rules if rule.sites or rule.released_sites],
        answers=figures.answers[:_MOST_ANSWERS],
        more_answers=max(len(figures.answers) - _MOST_ANSWERS, 0), verdicts=tuple(Verdict),
        in_words=month_in_words, prompts=about.prompts, counted=count, of_sites=_of_sites,
        each=_each, cautions=CAUTIONS, script=None,
    )  # fmt: skip
    return MARKER + legible(page)


def left_out(figures: Figures) -> Mapping[str, Sequence[str]]:
    """The surveys that are not counted, by why."""
    chosen = figures.chosen
    lists = {
        "Their survey date is not known, so nobody can tell whether they belong here": (
            chosen.undated
        ),
        "Surveyed on other days": chosen.outside,
        "Internal disagreement, a fault of the program: nothing said of them may be relied on": (
            chosen.disagreeing
        ),
        "Not read, so they have no verdict": chosen.unread,
    }
    return {why: files for why, files in lists.items() if files}


def month_in_words(name: str) -> str:
    """A month as printed: ``Nov 2026``."""
    return name if name == NO_SURVEY_DATE else f"{dt.date.fromisoformat(f'{name}-01'):%b %Y}"


def _of_sites(number: int, sites: int) -> str:
    return f"{number} of {count(sites, 'site')}" if number else "0"


def _each(number: int, sites: int) -> str:
    """A number at some sites together, and what that makes at one."""
    return f"{number} at {count(sites, 'site')}, {number / sites:.1f} each"


def _charts(figures: Figures, about: About) -> Mapping[str, str]:
    """The charts as SVG, by name; without a bar there is none."""
    sites = len(figures.chosen.sites)
    waited_for = [one for one in figures.answers if one.waiting_sites]
    holding = [rule for rule in figures.rules if rule.outcome in HOLDING]
    made = {
        "months": _verdict_chart(
            "Verdicts by month of the survey",
            {month_in_words(one.name): one for one in figures.months[-_MOST_MONTHS:]},
        ),
        "rules": chart(
            "Rules that hold the crew up, by the number of sites",
            [_of_rule(one, sites) for one in holding[:_MOST_BARS]],
            sites,
            {fill: outcome for outcome, fill in _OUTCOMES.items()},
        ),
        "answers": chart(
            "Answers that are not known, by the number of sites",
            [_of_answer(one, sites, about.prompts) for one in waited_for[:_MOST_BARS]],
            sites,
            _WAITING,
        ),
        "surveyor": _verdict_chart(
            "Verdicts by surveyor", {one.name: one for one in figures.surveyors[:_MOST_BARS]}
        ),
        "town": _verdict_chart(
            "Verdicts by town", {one.name: one for one in figures.towns[:_MOST_BARS]}
        ),
    }
    return {name: write_svg(drawn, name) for name, drawn in made.items() if drawn.description}


def _verdict_chart(title: str, listed: Mapping[str, GroupFigure | MonthFigure]) -> Drawing:
    bars = [_of_verdicts(label, one) for label, one in listed.items()]
    most = max((one.sites for one in listed.values()), default=0)
    return chart(title, bars, most, {fill: verdict.value for verdict, fill in _VERDICTS.items()})


def _of_verdicts(label: str, one: GroupFigure | MonthFigure) -> Bar:
    parts = {fill: one.verdicts[verdict] for verdict, fill in _VERDICTS.items()}
    return Bar(label, parts, count(one.sites, "site"))


def _of_rule(rule: RuleFigure, sites: int) -> Bar:
    return Bar(
        f"{rule.code} {rule.name}", {_OUTCOMES[rule.outcome]: rule.sites},
        _of_sites(rule.sites, sites),
    )  # fmt: skip


def _of_answer(answer: AnswerFigure, sites: int, prompts: Mapping[str, str]) -> Bar:
    waiting = answer.waiting_sites
    parts = {Fill.FULL: waiting, Fill.EMPTY: answer.sites - waiting}
    return Bar(prompts[answer.word], parts, _of_sites(answer.sites, sites))
