"""Jobs for the tests of the figures: small, and counted by hand."""

from __future__ import annotations

import dataclasses
import datetime as dt

from survey.assessment.compare import CANNOT_TELL
from survey.assessment.decision import Verdict
from survey.jobs.figures import Span, choose, figures
from survey.jobs.figures_page import About
from survey.jobs.job import Fired, Job, NotKnown, job_of
from survey.jobs.judging import Checked, Unread
from survey.vocabulary import VOCABULARY
from tests.made_assessments import go

EVER = Span(None, None)
PROMPTS = {word.name: word.prompt for word in VOCABULARY.words}
ABOUT = About("jobs", EVER, dt.date(2026, 11, 30), "0a1b2c3d4e5f", PROMPTS)
_GO = job_of(go())


def fired(code: str, outcome: str, places: int = 1, *, released: bool = False) -> Fired:
    """A rule that came to something."""
    return Fired(code, f"rule {code}", outcome, released, places)


def job(
    name: str,
    verdict: Verdict = Verdict.GO,
    *found: Fired,
    asked: tuple[NotKnown, ...] = (),
    surveyor: str = "R. Ode",
    town: str = "Millbrook",
    day: dt.date | None = dt.date(2026, 11, 20),
    disagreement: bool = False,
) -> Checked:
    """A job that was checked."""
    short: Job = dataclasses.replace(
        _GO, name=name, job=name, verdict=verdict, fired=found, open=asked, surveyor=surveyor,
        town=town, survey_day=day, disagreement=disagreement,
    )  # fmt: skip
    return Checked(f"{name}.xlsx", f"sheets/{name}.html", short)


UNREAD = Checked("torn.xlsx", "", Unread("torn.xlsx: no workbook. Save it again."))
DEPTH, SPOIL, TOWN = (
    NotKnown("pit depth", 3, 2), NotKnown("spoil distance", 4, 0), NotKnown("town", 1, 0),
)  # fmt: skip
FIVE = (
    job(
        "alder", Verdict.NO_GO, fired("DIG-1", "stop", 2), fired("DIG-3", "condition", 4),
        asked=(DEPTH, TOWN), town="",
    ),
    job(
        "birch", Verdict.NO_GO, fired("DIG-1", "stop", 1), fired("DIG-1", CANNOT_TELL, 3),
        asked=(SPOIL,), surveyor="r.  ode", day=dt.date(2026, 9, 1),
    ),
    job(
        "cedar", Verdict.GO_WITH_CONDITIONS, fired("FOOT-1", "engineer", 5, released=True),
        fired("DIG-3", "condition", 1), surveyor="T. Vale",
    ),
    job(
        "elm", Verdict.ENGINEER_REVIEW, fired("FOOT-1", "engineer", 2), fired("LINE-3", "note", 9),
        asked=(DEPTH, SPOIL), surveyor="T. Vale", town="Quillmere",
    ),
    job("fir", surveyor="", town="Quillmere", day=dt.date(2026, 9, 30)),
)  # fmt: skip
COUNTED = figures(choose((*FIVE, UNREAD), EVER))


def hostile(text: str):
    """Figures whose every text is this one."""
    found = Fired("OWN-1", text, "stop", False, 1)
    made = job(text, Verdict.NO_GO, found, asked=(DEPTH,), surveyor=text, town=text)
    left = Checked(text, "", Unread(text))
    prompts = dict.fromkeys(PROMPTS, text)
    return figures(choose((made, left), EVER)), dataclasses.replace(
        ABOUT, folder=text, prompts=prompts
    )
