"""The days on which a crew can begin, and what sets them."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Literal, NamedTuple

from survey.engineering._steps import noted, number
from survey.engineering.dates import in_calendar, is_off
from survey.engineering.working import Line, Result, Working, not_known
from survey.model import Value
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Missing
from survey.vocabulary.places import OUTSIDE

_LONGEST_DAYS = 3660.0  # of a notice or an age
_LONGEST_JOB_DAYS = 400.0
_SHORTEST_JOB_DAYS = 0.25
_ONE_DAY = dt.timedelta(1)
_ANY_DAY = dt.date(2000, 1, 1)  # a code that is no State's has holidays in no year


class Side(StrEnum):
    """Which day of the work a bound holds."""

    NOT_BEFORE = "first day not before"
    START_BY = "first day not after"
    END_BY = "last day not after"


class Bound(NamedTuple):
    """What keeps the work from being earlier or later.

    Args:
        day: the day itself is allowed, 2000 to 2100; not known, or ``DOES_NOT_APPLY`` where
            nothing is bound.
        reason: in words, such as ``the ticket ends``.
        source: where the day and any count of days come from.
        side: which day of the work it holds.
    """

    day: Value
    reason: str
    source: str
    side: Side


def ticket_start_bound(ticket_start: Value) -> Bound:
    """Nobody digs before the first day that is printed on the ticket.

    Not before the day itself.

    Args:
        ticket_start: as printed.

    Returns:
        A bound on the first day.

    Not known when:
        The day is not known.

    Source:
        49 CFR 196.103; the State's one-call law.

    >>> str(ticket_start_bound(dt.date(2026, 5, 4)).day)
    '2026-05-04'
    """
    source = "locate ticket; 49 CFR 196.103"
    return Bound(ticket_start, "the locate ticket starts", source, Side.NOT_BEFORE)


def ticket_end_bound(ticket_end: Value) -> Bound:
    """No pit is dug after the last day that is printed on the ticket.

    Not after the day itself.

    Args:
        ticket_end: as printed.

    Returns:
        A bound on the last day.

    Not known when:
        The day is not known.

    Source:
        The State's one-call law; 49 CFR 196.103(d): call again as needed.

    >>> ticket_end_bound(dt.date(2026, 5, 22)).side.value
    'last day not after'
    """
    source = "locate ticket; 49 CFR 196.103(d)"
    return Bound(ticket_end, "the locate ticket ends", source, Side.END_BY)


def neighbour_notice_bound(notice_given: Value, notice_days: Value) -> Bound:
    """A neighbour has notice for so many calendar days before the first day.

    Not before the day of the notice + n.

    Args:
        notice_given: day on which it was given.
        notice_days: n, calendar days, 0 to 3,660; a part of a day counts as a whole one.

    Returns:
        A bound on the first day.

    Not known when:
        A figure is not known or out of its range.

    Source:
        IBC 3307.1 (at least 10 days): the count is the caller's.

    >>> str(neighbour_notice_bound(dt.date(2026, 5, 4), 10.0).day)
    '2026-05-14'
    """
    day = _moved(notice_given, notice_days, up=True)
    reason = f"the neighbour has had notice for {_count(notice_days)}"
    return Bound(day, reason, "notice to the neighbour; IBC 3307.1", Side.NOT_BEFORE)


def survey_age_bound(survey_date: Value, most_days: Value) -> Bound:
    """The first day comes while the survey is not too old.

    First day not after the day of the survey + n.

    Args:
        survey_date: day on which the site was walked.
        most_days: n, calendar days, 0 to 3,660; a part of a day does not count.

    Returns:
        A bound on the first day.

    Not known when:
        A figure is not known or out of its range.

    Source:
        Common practice; the count is the caller's.

    >>> str(survey_age_bound(dt.date(2026, 5, 4), 30.0).day)
    '2026-06-03'
    """
    day = _moved(survey_date, most_days, up=False)
    reason = f"the survey is {_count(most_days)} old"
    return Bound(day, reason, "survey date; common practice", Side.START_BY)


def bed_bound(placed: Value, cure_days: Value) -> Bound:
    """A concrete bed is not loaded before it has cured.

    Not before the day of placing + n. It binds the first day of loading: give the window the days
    of that work.

    Args:
        placed: day on which the last of the concrete was placed.
        cure_days: n, calendar days, 0 to 3,660, by the maker's data or
            :func:`days_to_strength`; a part of a day counts as a whole one.

    Returns:
        A bound on the first day.

    Not known when:
        A figure is not known or out of its range.

    Source:
        The maker's data; the count is the caller's.

    >>> str(bed_bound(dt.date(2026, 5, 4), 2.5).day)
    '2026-05-07'
    """
    day = _moved(placed, cure_days, up=True)
    reason = f"the concrete bed has cured for {_count(cure_days)}"
    return Bound(day, reason, "day of placing; maker's data", Side.NOT_BEFORE)


def release_bound(release_end: Value) -> Bound:
    """No pit is open after the last day of a release.

    Not after the day itself.

    Args:
        release_end: last day on which it holds.

    Returns:
        A bound on the last day.

    Not known when:
        The day is not known.

    Source:
        The release.

    >>> str(release_bound(dt.date(2026, 5, 22)).day)
    '2026-05-22'
    """
    return Bound(release_end, "the release ends", "engineer's release", Side.END_BY)


def _moved(day: Value, days: Value, *, up: bool) -> Value:
    if day is DOES_NOT_APPLY or days is DOES_NOT_APPLY:
        return DOES_NOT_APPLY
    start = in_calendar(day)
    if isinstance(start, Missing) or not isinstance(days, (int, float)):
        return NOT_KNOWN
    if not 0.0 <= days <= _LONGEST_DAYS:
        return NOT_KNOWN
    moved = start + dt.timedelta(math.ceil(days) if up else math.floor(days))
    return in_calendar(moved)


def _count(days: Value) -> str:
    return f"{number(days)} days" if isinstance(days, (int, float)) else f"days ({days})"


@dataclass(frozen=True, slots=True)
class Window:
    """The days on which the work can begin.

    Args:
        fits: ``yes`` if there is such a day, ``no`` if there is none, else not known.
        earliest: first day on which it can begin; ``DOES_NOT_APPLY`` where nothing binds it.
        latest: last day on which it can begin so that it is done in time; the same.
        not_before: it can't begin earlier, whatever is not known; ``None`` if nothing says so.
        not_after: it can't begin later, whatever is not known.
        earliest_by: the bounds that set ``not_before``.
        latest_by: the bounds that set ``not_after``.
        clashes: pairs of bounds that can't both be kept, the worst first.
    """

    fits: Result
    earliest: Result
    latest: Result
    not_before: dt.date | None
    not_after: dt.date | None
    earliest_by: tuple[Bound, ...]
    latest_by: tuple[Bound, ...]
    clashes: tuple[tuple[Bound, Bound], ...]


def window(
    crew_days: Value,
    bounds: Sequence[Bound],
    *,
    state: Value | None = None,
    works: Literal["working days", "every day"] = "working days",
) -> Window:
    """The earliest and the latest day on which a work of so many days can begin, and why.

    E = the latest of the days before which it must not begin. L = the earliest of the days by
    which it must begin: of a bound on the last day, the day from which D days of work end on it.

    Args:
        crew_days: D, days of work, 0.25 to 400; a part of a day counts as a whole one.
        bounds: what holds the work; days in 2000 to 2100.
        state: whose holidays are kept besides the federal ones, as for
            :func:`working_days_between`; the answer on the form, or ``None`` for the federal ones
            alone.
        works: the days on which the crew works. Working days take longer, so they are the
            stricter for a bound on the last day; E and L are then working days.

    Returns:
        The window. A bound that is not known leaves its end of the window not known, though the
        others still say what it can't be; two known bounds that clash leave no day whatever is
        not known.

    Not known when:
        See above; and both ends where the holidays of the State are not known. Where that is
        because the State is not known, or the site is outside the United States, the others still
        say what each end can't be: a further holiday only moves the first day later and the last
        day sooner.

    Source:
        Calendar arithmetic; each bound has its own.

    >>> found = window(3.0, [ticket_start_bound(dt.date(2026, 5, 4)),
    ...                      ticket_end_bound(dt.date(2026, 5, 12))])
    >>> str(found.earliest.value), str(found.latest.value)
    ('2026-05-04', '2026-05-08')
    """
    code, unsure = _holidays(state)
    if code is not None and isinstance(is_off(_ANY_DAY, code), Missing):
        lost = not_known(f"the holidays of the State '{state}' are not known")
        return Window(lost, lost, lost, None, None, (), (), ())
    by_day = _Calendar(code, works == "every day")
    doubts = [] if by_day.every_day else unsure
    days = _whole_days(crew_days)
    early = [b for b in bounds if b.side is Side.NOT_BEFORE and b.day is not DOES_NOT_APPLY]
    late = [b for b in bounds if b.side is not Side.NOT_BEFORE and b.day is not DOES_NOT_APPLY]
    # Each known bound as a first day of the work. While the days of work are not known there is
    # at least one, so that what is found is the latest it can be.
    starts = [(by_day.from_(day), b) for day, b in _known(early)]
    ends = [
        (by_day.back(day, 1 if days is None or b.side is Side.START_BY else days), b)
        for day, b in _known(late)
    ]
    first = max((day for day, _ in starts), default=None)
    last = min((day for day, _ in ends), default=None)
    unknown_early = [b for b in early if isinstance(in_calendar(b.day), Missing)]
    unknown_late = [b for b in late if isinstance(in_calendar(b.day), Missing)]
    why_late = [f"'{b.reason}' is not known" for b in unknown_late]
    if days is None and any(b.side is Side.END_BY for b in late):
        why_late.append(f"the days of work are {_shown_days(crew_days)}")
    why_late += doubts if late else []
    clashes = tuple(
        (b, a)
        for _, _, b, a in sorted(
            (
                (at_most - at_least, (i, j), b, a)
                for i, (at_least, b) in enumerate(starts)
                for j, (at_most, a) in enumerate(ends)
                if at_least > at_most
            ),
            key=lambda found: found[:2],
        )
    )
    lines = tuple(_bound_lines(bounds, crew_days, works))
    earliest = _end(
        "E",
        "earliest first day",
        "latest of the days not to begin before",
        unknown=[f"'{b.reason}' is not known" for b in unknown_early] + (doubts if early else []),
        known=None if first is None else f"not before {first}",
        day=first,
        lines=lines,
    )
    latest = _end(
        "L",
        "latest first day",
        "earliest of the days to begin by, D days before a last day",
        unknown=why_late,
        known=None if last is None else f"not after {last}",
        day=last,
        lines=lines,
    )
    return Window(
        _fits(earliest, latest, first, last, clashes),
        earliest,
        latest,
        first,
        last,
        tuple(b for day, b in starts if day == first),
        tuple(b for day, b in ends if day == last),
        clashes,
    )


def _holidays(state: Value | None) -> tuple[str | None, list[str]]:
    """The State whose holidays are left out, and what is not known of the holidays."""
    if state == OUTSIDE:
        return OUTSIDE, [f"holidays {OUTSIDE} are not known, and none is left out"]
    if isinstance(state, Missing):
        return None, ["the State is not known, and only federal holidays are left out"]
    return None if state is None else str(state), []


class _Calendar(NamedTuple):
    """The days on which the crew works."""

    state: str | None
    every_day: bool

    def _works(self, day: dt.date) -> bool:
        return self.every_day or is_off(day, self.state) is False

    def from_(self, day: dt.date) -> dt.date:
        """The first day of work on or after a day."""
        while not self._works(day):
            day += _ONE_DAY
        return day

    def back(self, day: dt.date, count: int) -> dt.date:
        """The day from which so many days of work end on or before a day."""
        while not self._works(day):
            day -= _ONE_DAY
        for _ in range(count - 1):
            day -= _ONE_DAY
            while not self._works(day):
                day -= _ONE_DAY
        return day


def _known(bounds: Sequence[Bound]) -> Iterator[tuple[dt.date, Bound]]:
    for bound in bounds:
        day = in_calendar(bound.day)
        if not isinstance(day, Missing):
            yield day, bound


def _whole_days(crew_days: Value) -> int | None:
    if isinstance(crew_days, (int, float)) and _SHORTEST_JOB_DAYS <= crew_days <= _LONGEST_JOB_DAYS:
        return math.ceil(crew_days)
    return None


def _shown_days(crew_days: Value) -> str:
    return f"{number(crew_days)} days" if isinstance(crew_days, (int, float)) else str(crew_days)


def _bound_lines(bounds: Sequence[Bound], crew_days: Value, works: str) -> Iterator[Line]:
    for bound in bounds:
        yield noted("", f"{bound.side}: {bound.reason}", str(bound.day), bound.source)
    yield noted("D", f"days of work, on {works}", _shown_days(crew_days))


def _end(
    symbol: str,
    meaning: str,
    formula: str,
    *,
    unknown: Sequence[str],
    known: str | None,
    day: dt.date | None,
    lines: tuple[Line, ...],
) -> Result:
    """One end of the window, from the latest or earliest of the days that are known."""
    title = f"Window of the work: {meaning}"
    valid = "2000 to 2100"
    if unknown:
        reason = "; ".join([*unknown, *([f"{known} in any case"] if known else [])])
        last = Line(symbol, meaning, formula, "", reason)
        return Result(NOT_KNOWN, reason, Working(title, "calendar", valid, (*lines, last)))
    if day is None:
        return Result(DOES_NOT_APPLY, "nothing binds it")
    last = Line(symbol, meaning, formula, "", str(day))
    return Result(day, working=Working(title, "calendar", valid, (*lines, last)))


def _fits(
    earliest: Result,
    latest: Result,
    first: dt.date | None,
    last: dt.date | None,
    clashes: Sequence[tuple[Bound, Bound]],
) -> Result:
    lines = (
        noted("E", "earliest first day", str(first or "not bound by what is known")),
        noted("L", "latest first day", str(last or "not bound by what is known")),
    )
    title = "Whether there is a day to begin"
    if clashes:
        early, late = clashes[0]
        reason = (
            f"no day to begin: {early.side} {early.day} ({early.reason}), "
            f"{late.side} {late.day} ({late.reason})"
        )
        told = Line("", reason, "E <= L", f"{first} <= {last}", "no")
        worked = Working(title, "calendar", "2000 to 2100", (*lines, told))
        return Result("no", reason, worked)
    unknown = [end.reason for end in (earliest, latest) if end.value is NOT_KNOWN]
    if unknown:
        return not_known("; ".join(unknown))
    fits = Line("", "there is a day to begin", "E <= L", f"{first} <= {last}", "yes")
    if first is None or last is None:
        fits = noted("", "there is a day to begin", "yes")
    return Result("yes", working=Working(title, "calendar", "2000 to 2100", (*lines, fits)))
