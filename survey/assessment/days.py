"""The crew on other days than the form says: the survey for such a day, and verdicts day by day."""

from __future__ import annotations

import datetime as dt
from collections.abc import Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby

from survey.assessment.assessment import Assessment, assess
from survey.assessment.decision import Verdict, decide, worse
from survey.assessment.findings import Finding
from survey.assessment.turning import Turning
from survey.assessment.why_turned import WEATHER, Change, changes_between
from survey.engineering import dates
from survey.errors import Problem
from survey.model import ASKED_FOR, Answer, Survey
from survey.rulebook.rules import Outcome, RuleBook
from survey.vocabulary import NOT_KNOWN, Missing
from survey.vocabulary.places import OUTSIDE

FIRST, LAST = "crew date", "last crew date"
_ONE_DAY = dt.timedelta(1)


@dataclass(frozen=True, slots=True)
class Stay:
    """How long the crew is on site, from whatever day it comes.

    Args:
        working_days: from its first day to its last; 0 where there is none among them.
        then_off: days of the calendar after the last of them.
        why: how that is known, or why it is not.
        state: whose holidays are kept.
    """

    working_days: int | Missing
    then_off: int
    why: str
    state: str | None

    def last_day(self, first: dt.date) -> dt.date | Missing:
        """The last day of a crew that comes on a day; not known where days can't be counted."""
        if isinstance(self.working_days, Missing):
            return NOT_KNOWN
        last = dates.add_working_days(first - _ONE_DAY, self.working_days, self.state)
        return last if isinstance(last, Missing) else last + dt.timedelta(self.then_off)


def stay(survey: Survey) -> Stay:
    """How long the crew is on site, as booked on the form; not known where a day is not booked."""
    state, first, last = (survey.site.value(word) for word in ("state", FIRST, LAST))
    if not (isinstance(first, dt.date) and isinstance(last, dt.date)):
        return _unknown("the form does not give both the crew's first day and its last")
    if state == OUTSIDE or not isinstance(state, str):
        return _unknown(f"the holidays are not known, for the State is: {state}")
    return _as_booked(first, last, state)


def _as_booked(first: dt.date, last: dt.date, state: str) -> Stay:
    before = first - _ONE_DAY
    booked = dates.working_days_between(before, last, state)
    if isinstance(booked, Missing):
        return _unknown(f"the holidays of the State '{state}' are not known")
    if booked <= 0:  # no working day among them, or the last day before the first
        return Stay(0, (last - before).days, "as many days of the calendar as booked", state)
    end = dates.add_working_days(before, booked, state)
    if isinstance(end, Missing):
        return _unknown("more days are booked than can be counted")
    off = (last - end).days
    after = f" and {off} off after them" if off else ""
    return Stay(booked, off, f"as many working days as booked, {booked}{after}", state)


def _unknown(why: str) -> Stay:
    return Stay(NOT_KNOWN, 0, why, None)


def on_day(
    survey: Survey, problems: Iterable[Problem], day: dt.date
) -> tuple[Survey, tuple[Problem, ...]]:
    """The survey with the crew's first day moved to a day, and its last day with it.

    The last day stays as many working days after the first as are booked. Where the form does not
    give both, the last day is not known. What the form says of the weather holds for its own days
    only, so on other days it is not known. The survey's notes tell all this. On the form's own
    first day nothing is changed.

    Args:
        survey: as it was read.
        problems: cells to put right.
        day: on which the crew is to come.

    Returns:
        The moved survey, and the problems without those of the first day's own cell.
    """
    return moved(survey, tuple(problems), day, stay(survey))


def moved(
    survey: Survey, problems: tuple[Problem, ...], day: dt.date, length: Stay
) -> tuple[Survey, tuple[Problem, ...]]:
    """As :func:`on_day`, for a stay that is known already."""
    site = survey.site
    first = site.answers[FIRST]
    if first.value == day:
        return survey, problems
    end, told = length.last_day(day), _weather_told(site.answers)
    answers = {word: Answer(NOT_KNOWN, site.answers[word].where) for word in told}
    answers |= {FIRST: Answer(day, ASKED_FOR), LAST: Answer(end, ASKED_FOR)}
    notes = (
        _first_note(day, first), _last_note(end, length), *_weather_notes(told, site.answers),
    )  # fmt: skip
    own_cell = _own_cell(site.answers)
    left = tuple(problem for problem in problems if problem.where != own_cell)
    changed = replace(site, answers={**site.answers, **answers})
    return replace(survey, site=changed, notes=(*survey.notes, *notes)), left


def _weather_told(answers: Mapping[str, Answer]) -> tuple[str, ...]:
    """What the form tells of the weather."""
    return tuple(
        word for word in WEATHER if word in answers and not isinstance(answers[word].value, Missing)
    )


def _own_cell(answers: Mapping[str, Answer]) -> str | None:
    """The cell of the first day; none where its place stands for other questions, too."""
    where = answers[FIRST].where
    return where if sum(answer.where == where for answer in answers.values()) == 1 else None


def _first_note(day: dt.date, form: Answer) -> str:
    said = "gives none" if isinstance(form.value, Missing) else f"says {form.value}"
    return (
        f"Judged for {day} as the crew's first day, as asked for with {ASKED_FOR}; "
        f"the form {said} ({form.where})."
    )


def _last_note(end: dt.date | Missing, length: Stay) -> str:
    if isinstance(end, dt.date):
        return f"The last day with a pit open is taken as {end}: {length.why}."
    return f"The last day with a pit open is not known: {length.why}."


def _weather_notes(told: Iterable[str], answers: Mapping[str, Answer]) -> Iterator[str]:
    if named := "; ".join(f"{word} ({answers[word].where})" for word in told):
        yield (
            "The form tells the weather of its own days with open pits; for these days it is not "
            f"known: {named}."
        )


@dataclass(frozen=True, slots=True)
class Run:
    """Days one after another on which the crew's coming is judged alike.

    Args:
        first, last: the days.
        verdict: for the site on each of them, of both evaluators on the first.
        but_for_weather: the same, if the questions about the weather of these days are left out.
        blocking: the findings that stand against it on the first of them, worst first.
        clashes: why no day fits the work; empty if one does.
        changes: what is another than in the run before; empty in the first.
        disagreement: what the two evaluators said differently; empty if they agree.
    """

    first: dt.date
    last: dt.date
    verdict: Verdict
    but_for_weather: Verdict
    blocking: tuple[Finding, ...]
    clashes: tuple[str, ...]
    changes: tuple[Change, ...]
    disagreement: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Days:
    """The verdict for each day on which the crew may come.

    Args:
        form_day: the first day that the form gives.
        problems: cells to put right, which hold the site on every day.
        length: how long the crew is there.
        runs: every day of the span, in order.
        off: the days of the span on which nobody works, with the name of each.
    """

    form_day: dt.date | Missing
    problems: tuple[Problem, ...]
    length: Stay
    runs: tuple[Run, ...]
    off: Mapping[dt.date, str]

    def on(self, day: dt.date) -> Run:
        """The run that a day of the span belongs to."""
        return next(run for run in self.runs if run.first <= day <= run.last)

    @property
    def may_start(self) -> tuple[dt.date, ...]:
        """The days of work on which the crew may start, and the form's own day if it may."""
        return tuple(
            day
            for run in self.runs
            if run.verdict.may_start
            for day in _from_to(run.first, run.last)
            if day not in self.off or day == self.form_day
        )


def span(
    survey: Survey, problems: Iterable[Problem], book: RuleBook, first: dt.date, last: dt.date
) -> Days:
    """The verdict for each first day of the crew in a span, and why it changes.

    Every day is looked at for what can turn with it; both evaluators judge in full the first day
    of each run of days on which nothing turned.

    Args:
        survey: as it was read.
        problems: cells to put right.
        book: the rules.
        first: of the span.
        last: of the span, not before the first.
    """
    unread, length, form_day = tuple(problems), stay(survey), _form_day(survey)
    days = [(day, *moved(survey, unread, day, length)) for day in _from_to(first, last)]
    # The form's own day is judged by itself: it alone has a weather that is told.
    another = first if first != form_day else first + _ONE_DAY
    turning = Turning.of_survey(moved(survey, unread, another, length)[0], book)
    runs: list[Run] = []
    before: Assessment | None = None
    for _, same in groupby(days, key=lambda one: one[0] == form_day or turning.of(one[1])):
        alike = list(same)
        (start, there, left), end = alike[0], alike[-1][0]
        found = assess(there, left, book)
        if before is not None and _judgement(before) == _judgement(found):
            runs[-1] = replace(runs[-1], last=end)
        else:
            turned = turning.words | set(WEATHER)
            changes = () if before is None else tuple(changes_between(before, found, turned))
            runs.append(_run(start, end, found, changes))
        before = found
    state = survey.site.value("state")
    named = ((day, dates.name_of_day_off(day, state)) for day in _from_to(first, last))
    _, _, left = days[0]
    return Days(form_day, left, length, tuple(runs), {day: off for day, off in named if off})


def _form_day(survey: Survey) -> dt.date | Missing:
    day = survey.site.value(FIRST)
    return day if isinstance(day, dt.date) else NOT_KNOWN


def _from_to(first: dt.date, last: dt.date) -> Iterator[dt.date]:
    return (first + dt.timedelta(passed) for passed in range((last - first).days + 1))


def _judgement(found: Assessment) -> Hashable:
    """The same for two days that a scheduler need not tell apart."""
    given = frozenset(
        (one.rule.code, one.place, one.outcome, one.counts)
        for one in found.findings
        if one.outcome is not Outcome.NOTE
    )
    return found.verdict, given, bool(found.plan.clashes), found.disagreement


def _run(first: dt.date, last: dt.date, found: Assessment, changes: tuple[Change, ...]) -> Run:
    blocking = tuple(
        one
        for one in found.findings
        if one.counts and one.outcome not in (Outcome.NOTE, Outcome.CONDITION)
    )
    return Run(
        first, last, found.verdict, _but_for_weather(found), blocking, found.plan.clashes, changes,
        found.disagreement,
    )  # fmt: skip


def _but_for_weather(found: Assessment) -> Verdict:
    """The verdict without the findings that ask for nothing but the weather."""
    if found.disagreement:
        return found.verdict
    others = [one for one in found.findings if not asks_for_weather_alone(one)]
    holds = bool(found.problems) or bool(found.plan.clashes)
    return worse(decide(others), Verdict.HOLD if holds else Verdict.GO)


def asks_for_weather_alone(finding: Finding) -> bool:
    """Whether a finding only waits for what the weather of these days will be."""
    return (
        finding.outcome is Outcome.ASK
        and bool(finding.settles)
        and all(given.word in WEATHER for given in finding.settles)
    )
