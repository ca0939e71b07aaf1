"""Figures for the safety meeting as a workbook: the tables of the page, whole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from survey.assessment.decision import Verdict
from survey.jobs.figures import Figures, GroupFigure
from survey.jobs.figures_page import CAUTIONS, OF_SURVEYORS, About, left_out, month_in_words
from survey.jobs.finding import OUR_WORKBOOKS
from survey.sheets._legible import day
from survey.sheets.table_workbook import Made, Table, Value, write_tables

MADE = Made(
    OUR_WORKBOOKS["figures.xlsx"],
    "Pier survey: figures for the safety meeting",
    "workbook of figures",
)
_VERDICTS = dict.fromkeys((verdict.value for verdict in Verdict), 11.0)


def write_figures_workbook(figures: Figures, about: About, file: Path) -> None:
    """Write figures as a workbook; an earlier one is replaced, any other file left alone.

    Raises:
        UserError: something else stands there, or it can't be written.
    """
    write_tables(tuple(_tables(figures, about)), file, MADE)


def _tables(figures: Figures, about: About) -> Iterator[Table]:
    yield Table("About", {"What": 40, "Says": 90}, list(_about(figures, about)))
    yield Table(
        "Months",
        {"Month": 18, "Sites": 9, **_VERDICTS},
        [[month_in_words(m.name), m.sites, *m.verdicts.values()] for m in figures.months],
    )
    yield Table(
        "Outcomes",
        {"Outcome": 18, "Sites": 9, "Rules": 9, "Places": 9},
        [[one.outcome, one.sites, one.rules, one.places] for one in figures.outcomes],
    )
    yield Table(
        "Rules",
        {"Code": 12, "Rule": 60, "Outcome": 14, "Fired at sites": 10, "Fired at places": 10,
         "Can't be told at sites": 12, "Can't be told at places": 12, "Released at sites": 11,
         "Released at places": 11},
        [
            [r.code, r.name, r.outcome, r.sites, r.places, r.open_sites, r.open_places,
             r.released_sites, r.released_places]
            for r in figures.rules
        ],
    )  # fmt: skip
    yield Table(
        "Answers not known",
        {"Question": 70, "Word": 34, "A finding waits, at sites": 12, "At rows": 9,
         "Not known at sites": 12, "Not known at rows": 12},
        [
            [about.prompts[a.word], a.word, a.waiting_sites, a.waiting_rows, a.sites, a.rows]
            for a in figures.answers
        ],
    )  # fmt: skip
    yield _groups("Surveyors", "Surveyor", figures.surveyors, about)
    yield _groups("Towns", "Town", figures.towns, about)
    yield Table(
        "Sites",
        {"Survey": 36, "Job": 30, "Surveyor": 24, "Town": 18, "Surveyed on": 14, "Verdict": 20,
         "Answers that findings wait for": 14},
        [
            [site.file, site.job.job, site.job.surveyor, site.job.town,
             site.job.survey_day or "not known", site.job.verdict.value,
             sum(one.waited_for for one in site.job.open)]
            for site in figures.chosen.sites
        ],
    )  # fmt: skip
    yield Table(
        "Left out",
        {"Survey": 36, "Why": 90},
        [[file, why] for why, files in left_out(figures).items() for file in files],
    )


def _groups(name: str, heading: str, groups: Sequence[GroupFigure], about: About) -> Table:
    return Table(
        name,
        {heading: 30, "Sites": 8, **_VERDICTS, "Answers that findings wait for": 13,
         "Answers not known": 12, "Rules that most often hold the crew up": 60,
         "Answers that findings most often wait for": 60},
        [
            [one.name, one.sites, *one.verdicts.values(), one.waiting_rows, one.rows,
             "\n".join(f"{code} {rule} ({n} of {one.sites})" for code, rule, n in one.rules),
             "\n".join(f"{about.prompts[word]} ({n} of {one.sites})" for word, n in one.answers)]
            for one in groups
        ],
    )  # fmt: skip


def _about(figures: Figures, about: About) -> Iterator[tuple[str, Value]]:
    yield "Figures of", about.folder
    yield "Sites counted", len(figures.chosen.sites)
    yield "Which", about.days
    yield "Counted on", day(about.today)
    yield "Rules", about.book
    for why, files in left_out(figures).items():
        yield f"Left out: {why}", len(files)
    for caution in (*CAUTIONS, OF_SURVEYORS):
        yield "Caution", caution
