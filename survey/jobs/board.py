"""The board: which jobs can start, when, and who holds each of the others up.

``board`` is pure: the same jobs on the same day give the same board.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from survey.assessment.decision import Verdict
from survey.jobs.job import Job
from survey.jobs.judging import Checked, Unread
from survey.jobs.owed import CREW, SAFETY_LEAD, SCHEDULER, SURVEYOR, Owed
from survey.sheets._legible import count, day

if TYPE_CHECKING:
    import pandas as pd

_MOST_HOLDING = 3
NO_DAY = "no day left"
_NO_VERDICT = "NO VERDICT"
_RANK: Mapping[Verdict | None, int] = {
    **{verdict: rank for rank, verdict in enumerate(Verdict)},
    None: len(Verdict),
}
_LATE = "The crew's first day ({}) has passed: set a new one, and check again."
_EARLY = "The survey is dated {}, a day that is still to come: put it right."
_PROGRAM = "Report the fault of the program: {}"


@dataclass(frozen=True, slots=True)
class Row:
    """One job of the board.

    Args:
        file: its survey, below the folder.
        sheet: its sheet, below the place of the board; empty where it has none.
        name: of the job, or of its file where none was given.
        address, town, surveyor: empty where not given.
        verdict: none where it could not be read.
        can_start: whether the crew may come, on a day that has not passed.
        piers: how many pier locations there are.
        may_go: labels of those that may go.
        crew: the days that the crew is booked for, in words.
        earliest, latest: between which days ticket, notices and releases let it begin, in words;
            whatever else stands against it.
        first: the earliest day itself, not before today; none if it is not known.
        ticket: how long the locate ticket still runs, in words.
        days_left: the same in days from today; none if it is not known.
        conditions: how many things the crew ticks, if it can start.
        owed: what holds it up, and whom it waits for.
        next: who must act next, each once.
        notes: what whoever reads of it should know.
    """

    file: str
    sheet: str
    name: str
    address: str
    town: str
    surveyor: str
    verdict: Verdict | None
    can_start: bool
    piers: int
    may_go: tuple[str, ...]
    crew: str
    earliest: str
    latest: str
    first: dt.date | None
    ticket: str
    days_left: int | None
    conditions: int
    owed: tuple[Owed, ...]
    next: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def said(self) -> str:
        """The verdict, or that there is none."""
        return _NO_VERDICT if self.verdict is None else self.verdict.value

    @property
    def holding(self) -> tuple[Owed, ...]:
        """What decides the verdict, the first few of it."""
        return tuple(one for one in self.owed if one.decides)[:_MOST_HOLDING]

    @property
    def more(self) -> int:
        """How much else is owed."""
        return len(self.owed) - len(self.holding)


@dataclass(frozen=True, slots=True)
class Debt:
    """One thing that a person owes for a job."""

    row: Row
    owed: Owed


@dataclass(frozen=True, slots=True)
class Person:
    """All that one person owes, the jobs in the order of the board.

    Args:
        who: the role.
        name: empty where the surveys don't give one.
        jobs: how many wait for it.
    """

    who: str
    name: str
    jobs: int
    debts: tuple[Debt, ...]


@dataclass(frozen=True, slots=True)
class Board:
    """Every job of a folder on one day.

    Args:
        folder: its name.
        today: the day that days are counted from.
        on: the first day of the crew that all were judged for; none for that of each form.
        book: fingerprint of the rules.
        rows: what can start first, the earliest of it at the top.
        persons: who owes something, most jobs first.
        counts: jobs by verdict, in the order of the verdicts.
    """

    folder: str
    today: dt.date
    on: dt.date | None
    book: str
    rows: tuple[Row, ...]
    persons: tuple[Person, ...]
    counts: Mapping[str, int]


def board(
    checked: Iterable[Checked], folder: str, today: dt.date, on: dt.date | None, book: str
) -> Board:
    """Put many jobs in order.

    Args:
        checked: every survey of the folder, in any order.
        folder: its name.
        today: the day that days are counted from.
        on: the first day of the crew that all were judged for; none for that of each form.
        book: fingerprint of the rules.
    """
    rows = _in_order([_row(one, today) for one in checked])
    counts = jobs_frame(rows)["Verdict"].value_counts()
    named = [*(verdict.value for verdict in Verdict), _NO_VERDICT]
    return Board(
        folder, today, on, book, rows, tuple(_persons(rows)),
        {name: int(counts[name]) for name in named if name in counts},
    )  # fmt: skip


def _row(checked: Checked, today: dt.date) -> Row:
    job = checked.result
    if isinstance(job, Unread):
        return _unread(checked, job)
    late = job.crew_day is not None and job.crew_day < today
    early = job.survey_day is not None and job.survey_day > today
    may = job.verdict.may_start and bool(job.piers) and job.crew_day is not None
    owed = list(job.owed)
    if late and job.crew_day is not None:
        late_by = _LATE.format(day(job.crew_day))
        owed.append(Owed(SCHEDULER, "", "crew date has passed", late_by, "", ("site",), may))
    if early and job.survey_day is not None:
        what = _EARLY.format(day(job.survey_day))
        owed.append(Owed(SURVEYOR, job.surveyor, "survey dated ahead", what, "", ("site",), may))
    if job.verdict.may_start and not job.piers:
        what = "List the pier locations."
        owed.append(Owed(SURVEYOR, job.surveyor, "no pier location", what, "", ("site",), True))
    if job.verdict.may_start and job.crew_day is None:
        what = "Set the crew's first day, and check again."
        owed.append(Owed(SCHEDULER, "", "no crew date", what, "", ("site",), True))
    starts = may and not late and not early
    may_go = () if late or early else job.piers_that_may_go
    waits_for = [one.who for one in owed if one.decides]
    left = None if job.ticket_end is None else (job.ticket_end - today).days
    return Row(
        checked.file, checked.sheet, job.job or job.name, job.address, job.town, job.surveyor,
        job.verdict, starts, len(job.piers), may_go, _crew(job),
        *_ends(job, today),
        None if job.earliest.day is None else max(job.earliest.day, today),
        _ticket(job, left), left, job.conditions if starts else 0, tuple(owed),
        tuple(dict.fromkeys(waits_for)) or ((CREW,) if starts else ()), job.notes,
    )  # fmt: skip


def _unread(checked: Checked, unread: Unread) -> Row:
    who, what = (SAFETY_LEAD, _PROGRAM) if unread.fault else (SURVEYOR, "{}")
    owed = Owed(
        who, "", "no verdict", what.format(unread.message), "", (checked.file,), decides=True
    )
    return Row(
        checked.file, checked.sheet, checked.file, "", "", "", None, False, 0, (), "", "", "", None,
        "", None, 0, (owed,), (who,), (),
    )  # fmt: skip


def _crew(job: Job) -> str:
    first, last = job.crew_day, job.last_crew_day
    if first is None:
        return "not known"
    if last is None:
        return f"{day(first)}, last day not known"
    return day(first) if first == last else f"{day(first)} to {day(last)}"


def _ends(job: Job, today: dt.date) -> tuple[str, str]:
    """First and last day on which the crew may begin; the past is of no use to anybody."""
    first, last = job.earliest.day, job.latest.day
    if last is not None and last < today:
        return NO_DAY, f"the last was {day(last)}"
    earliest = "not known" if first is None else "today" if first <= today else day(first)
    return earliest, "not known" if last is None else day(last)


def _ticket(job: Job, left: int | None) -> str:
    if left is None:
        return "not known"
    if left < 0:
        return f"ran out {count(-left, 'day')} ago"
    if job.ticket_start is None:
        return f"{count(left, 'day')} left, first day not known"
    return "today is its last day" if left == 0 else f"{count(left, 'day')} left"


def _in_order(rows: Sequence[Row]) -> tuple[Row, ...]:
    """What can start first, the earliest at the top; then what is nearest to it."""
    if not rows:
        return ()
    frame = jobs_frame(rows)
    frame["waits"] = [not row.can_start for row in rows]
    frame["rank"] = [_RANK[row.verdict] for row in rows]
    frame["first"] = [row.first or dt.date.max for row in rows]
    frame["left"] = [len(row.owed) for row in rows]
    order = frame.sort_values(["waits", "rank", "first", "left", "Job", "Survey"], kind="stable")
    return tuple(rows[place] for place in order.index)


def _persons(rows: Sequence[Row]) -> Iterator[Person]:
    debts = [Debt(row, owed) for row in rows for owed in row.owed]
    if not debts:
        return
    frame = owed_frame(rows)
    groups = frame.groupby(["Who", "Name"], sort=False)
    jobs = groups["Survey"].nunique().sort_values(ascending=False, kind="stable")
    for who, name in jobs.index:
        places = groups.indices[who, name]
        yield Person(who, name, int(jobs[who, name]), tuple(debts[place] for place in places))


def jobs_frame(rows: Sequence[Row]) -> pd.DataFrame:
    """The board as a table, a row a job, in the order given."""
    import pandas as pd  # takes long to load

    return pd.DataFrame(
        {
            "Job": [row.name for row in rows],
            "Verdict": [row.said for row in rows],
            "Can start": ["yes" if row.can_start else "no" for row in rows],
            "Piers that may go": [len(row.may_go) for row in rows],
            "Piers": [row.piers for row in rows],
            "Which piers may go": [", ".join(row.may_go) for row in rows],
            "Crew booked": [row.crew for row in rows],
            "Dates allow from": [row.earliest for row in rows],
            "Dates allow to": [row.latest for row in rows],
            "Locate ticket": [row.ticket for row in rows],
            "Days left on ticket": [_or_nothing(row.days_left) for row in rows],
            "Who must act next": [", ".join(row.next) for row in rows],
            "What holds it up": ["\n".join(map(in_words, row.owed)) for row in rows],
            "Address": [row.address for row in rows],
            "Town": [row.town for row in rows],
            "Surveyor": [row.surveyor for row in rows],
            "Notes": ["\n".join(row.notes) for row in rows],
            "Survey": [row.file for row in rows],
            "Sheet": [row.sheet for row in rows],
        },
        dtype=object,
    )


def owed_frame(rows: Sequence[Row]) -> pd.DataFrame:
    """What everybody owes as a table, a row for each thing, in the order of the jobs."""
    import pandas as pd

    debts = [(row, owed) for row in rows for owed in row.owed]
    return pd.DataFrame(
        {
            "Who": [owed.who for _, owed in debts],
            "Name": [owed.person for _, owed in debts],
            "Job": [row.name for row, _ in debts],
            "About": [owed.about for _, owed in debts],
            "What": [owed.what for _, owed in debts],
            "Rule": [owed.code for _, owed in debts],
            "Where": [", ".join(owed.places) for _, owed in debts],
            "Decides the verdict": ["yes" if owed.decides else "no" for _, owed in debts],
            "Verdict of the job": [row.said for row, _ in debts],
            "Survey": [row.file for row, _ in debts],
        },
        dtype=object,
    )


def in_words(owed: Owed) -> str:
    """One thing that is owed, in a line."""
    return f"{owed.who}: {named(owed)} ({', '.join(owed.places)})"


def named(owed: Owed) -> str:
    """What is wrong or open, with the code of its rule."""
    return f"{owed.code} {owed.about}" if owed.code else owed.about


def _or_nothing(number: int | None) -> int | str:
    return "not known" if number is None else number
