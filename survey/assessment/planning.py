"""When the crew may come and in what order it digs: worked out under the limits of the book.

The limits are the safety lead's, so this stands behind the rules and not among the calculations.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from survey.assessment.releases import Release
from survey.engineering import dates, sequence, window
from survey.engineering.working import Working
from survey.facts import Facts, Thing
from survey.model import Survey
from survey.rulebook.rules import RuleBook
from survey.vocabulary import NOT_KNOWN, VOCABULARY, Kind, Missing, Subject, from_steps
from survey.vocabulary.places import OUTSIDE

_SHARE, _NOTICE, _AGE = "most of a wall open at once", "notice to neighbours", "oldest survey"
_CORNER = "near a corner"
_SHORTEST = 0.25  # days of work
_DAYS, _SPACING, _MOST = (
    "days for a round of pits", "clear spacing of open pits", "most pits open together",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Order:
    """The rounds in which the pits are dug.

    Args:
        rounds: labels of the pits that may be open together, round after round.
        lines: the same in words, then the pits that fit no round.
        days: days of work.
        reason: why there is no order, or why the days are not known.
        working: how the fewest rounds were found.
    """

    rounds: tuple[tuple[str, ...], ...]
    lines: tuple[str, ...]
    days: float | Missing
    reason: str
    working: Working | None

    @property
    def crew_days(self) -> str:
        """Days of work, in words; empty if not known."""
        return "" if isinstance(self.days, Missing) else f"{self.days:g} days of work"


@dataclass(frozen=True, slots=True)
class End:
    """One end of the days on which the crew may begin.

    Args:
        day: none if it is not known or nothing sets it.
        why: what sets it, or what has to be known first.
    """

    day: dt.date | None
    why: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """Order and dates of the work.

    Args:
        order: of the pits.
        earliest, latest: first and last day on which the crew may begin so that it is done in
            time.
        clashes: what can't be kept together.
    """

    order: Order
    earliest: End
    latest: End
    clashes: tuple[str, ...]


def plan_work(survey: Survey, facts: Facts, book: RuleBook, releases: Iterable[Release]) -> Plan:
    """Plan the rounds of pits and the days of the crew.

    Args:
        survey: the answers.
        facts: what the rules are judged on.
        book: the limits.
        releases: those that lift a finding here, a firm's standing ones among them.
    """
    order = pit_order(facts, book)
    found = window.window(
        order.days, tuple(_bounds(survey, book, releases)), state=survey.site.value("state")
    )
    clashes = [
        f"{one.reason} ({one.day}), but {other.reason} ({other.day})"
        for one, other in found.clashes
    ]
    return Plan(
        order,
        End(found.not_before, _why(found.earliest_by, found.earliest.reason)),
        End(found.not_after, _why(found.latest_by, found.latest.reason)),
        (*clashes, *too_few_days(survey, order.days)),
    )


def clash_however_short(survey: Survey, book: RuleBook, releases: Iterable[Release]) -> bool:
    """Whether no day would suit even if the work took no more than part of a day."""
    bounds = tuple(_bounds(survey, book, releases))
    return bool(window.window(_SHORTEST, bounds, state=survey.site.value("state")).clashes)


def pit_order(facts: Facts, book: RuleBook) -> Order:
    """The order of the pits; it is the same on whatever days they are dug.

    Args:
        facts: what the rules are judged on.
        book: the limits.
    """
    share, corner = _limit(book, _SHARE, Kind.SHARE), _limit(book, _CORNER, Kind.LENGTH)
    lacking = [
        f"the limit '{name}', which the rule book lacks"
        for name, limit in ((_SHARE, share), (_CORNER, corner))
        if isinstance(limit, Missing)
    ]
    lacking += _lacking(facts)
    if lacking or isinstance(share, Missing) or isinstance(corner, Missing):
        return Order((), (), NOT_KNOWN, f"not known yet: {'; '.join(lacking)}", None)
    spacing, most = _site(facts, _SPACING), int(_site(facts, _MOST))
    pits = [
        sequence.LinedPit(
            pier.label, pier.part(Subject.WALL).label, _figure(pier, "station"),
            _figure(pier, "opening at footing"),
        )
        for pier in facts.of(Subject.PIER)
    ]  # fmt: skip
    walls = [
        sequence.WallRun(wall.label, _figure(wall, "wall length"), True)
        for wall in facts.of(Subject.WALL)
    ]
    limits = sequence.Limits(spacing, share, max(spacing, corner), pits=most)
    planned = sequence.plan_rounds(pits, walls, limits)
    work = sequence.crew_days(planned, _site(facts, _DAYS))
    return Order(
        planned.rounds, sequence.order_lines(planned),
        work.value if isinstance(work.value, float) else NOT_KNOWN,
        planned.reason or work.reason, sequence.fewest_rounds(planned).working,
    )  # fmt: skip


def too_few_days(survey: Survey, work: float | Missing) -> Iterator[str]:
    """Where the crew is booked for fewer days than the work takes.

    Args:
        survey: its first and last crew date are the days booked.
        work: days of work.
    """
    first, last = survey.site.value("crew date"), survey.site.value("last crew date")
    if not isinstance(work, float) or not isinstance(first, dt.date):
        return
    if isinstance(last, dt.date):
        # Elsewhere federal holidays are days of work: at most so many are booked.
        place = OUTSIDE if survey.site.value("state") == OUTSIDE else None
        booked = dates.working_days_between(first - dt.timedelta(1), last, place)
        if not isinstance(booked, Missing) and booked < work:
            yield (
                f"the work takes {work:g} days, but from {first} to {last} there are only "
                f"{booked} working days"
            )


def _lacking(facts: Facts) -> Iterator[str]:
    """The answers without which the pits can't be put in order."""
    site = next(facts.of(Subject.SITE))
    for word in (_SPACING, _DAYS, _MOST):
        if isinstance(site.facts[word].value, Missing):
            yield word
    if next(facts.of(Subject.PIER), None) is None:
        yield "pier locations"
    for pier in facts.of(Subject.PIER):
        if isinstance(pier.facts["wall of pier"].value, Missing):
            yield f"wall of {pier.label}"
        for word in ("station", "opening at footing"):
            if isinstance(pier.facts[word].value, Missing):
                yield f"{word} of {pier.label}"
    for wall in facts.of(Subject.WALL):
        if isinstance(wall.facts["wall length"].value, Missing):
            yield f"wall length of {wall.label}"


def _bounds(survey: Survey, book: RuleBook, releases: Iterable[Release]) -> Iterator[window.Bound]:
    site = survey.site
    yield window.ticket_start_bound(site.value("ticket start"))
    yield window.ticket_end_bound(site.value("ticket end"))
    walked = "survey date; what was not seen yet can't be judged"
    yield window.Bound(
        site.value("survey date"), "the site is walked", walked, window.Side.NOT_BEFORE
    )
    yield window.survey_age_bound(site.value("survey date"), _limit(book, _AGE, Kind.DAYS))
    notice = _limit(book, _NOTICE, Kind.DAYS)
    for row in survey.neighbours:
        if row.value("other owner") != "no":
            yield window.neighbour_notice_bound(row.value("notice date"), notice)
    for one in releases:  # one that lifts has both days
        signed, end = dt.date.fromisoformat(one.date), dt.date.fromisoformat(one.end)
        yield window.Bound(
            signed, "the release is signed", "engineer's release", window.Side.NOT_BEFORE
        )
        yield window.release_bound(end)


def _why(bounds: Sequence[window.Bound], reason: str) -> tuple[str, ...]:
    said = dict.fromkeys(f"{bound.reason} ({bound.source})" for bound in bounds)
    return (*said, *((reason,) if reason else ()))


def _limit(book: RuleBook, name: str, kind: Kind) -> float | Missing:
    limit = book.limits.get(name)
    return NOT_KNOWN if limit is None else from_steps(kind, limit.steps)


def _site(facts: Facts, word: str) -> float:
    return _figure(next(facts.of(Subject.SITE)), word)


def _figure(thing: Thing, word: str) -> float:
    value = thing.facts[word].value
    return from_steps(VOCABULARY[word].kind, value) if isinstance(value, int) else float("nan")
