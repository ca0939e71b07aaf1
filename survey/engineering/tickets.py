"""What is usual for a locate ticket in a State: a sanity check of what is printed on it, no more.

The dates that count are those on the ticket. State laws differ and change; each figure here says
how sure it is, and everything worked out from it says: confirm with the one-call centre. A State
that is not in the table is not known; no other State stands in for it.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from survey.engineering._steps import inches, noted, number, outside
from survey.engineering.dates import add_working_days
from survey.engineering.working import Line, Result, Working, not_known
from survey.model import Value
from survey.vocabulary import NOT_KNOWN, Missing

VERIFIED, PARTLY, MEMORY = "verified", "partly", "from memory"
CALENDAR, WORKING, HOURS = "calendar days", "working days", "hours"
REQUEST, START = "request", "start"

_CONFIRM = "confirm with the one-call centre"
_FIRST, _LAST = dt.date(2001, 1, 1), dt.date(2099, 12, 31)


class Zone(NamedTuple):
    """A tolerance zone to each side of a line.

    Args:
        width_in: in.
        status: ``verified``, ``partly`` or ``from memory``.
        with_half_diameter: whether half the diameter of the line is added to it.
    """

    width_in: float
    status: str
    with_half_diameter: bool = False


class Span(NamedTuple):
    """A length of time as a State's law has it.

    Args:
        amount: how many.
        unit: ``calendar days``, ``working days`` or ``hours``.
        status: ``verified``, ``partly`` or ``from memory``.
    """

    amount: int
    unit: str
    status: str

    @property
    def full_working_days(self) -> int:
        """Full working days: 24 hours count as one, a part of it as a whole one."""
        return -(-self.amount // 24) if self.unit == HOURS else self.amount


class TicketRules(NamedTuple):
    """What is usual in one State.

    Args:
        name: of the State.
        zone: tolerance zone.
        notice: least time between request and digging, the day of the request not counted.
        life: time for which the ticket holds; ``None`` where none is known.
        source: the State's law.
        life_from: ``start`` where it is known to count from the first day of digging, else
            ``request``, which ends sooner.
        most_ahead: how long before digging a request may be made at most, if that is known.
        remark: what else is to be known.
    """

    name: str
    zone: Zone
    notice: Span
    life: Span | None
    source: str
    life_from: str = REQUEST
    most_ahead: Span | None = None
    remark: str = ""


STATES: Mapping[str, TicketRules] = MappingProxyType({
    "AZ": TicketRules(
        "Arizona", Zone(24, MEMORY), Span(2, WORKING, PARTLY), Span(15, WORKING, MEMORY),
        "ARS 40-360.21 to .31", remark="the 2 working days are the time owners have to mark",
    ),
    "CA": TicketRules(
        "California", Zone(24, VERIFIED), Span(2, WORKING, VERIFIED), Span(28, CALENDAR, VERIFIED),
        "Gov. Code 4216, 4216.2", most_ahead=Span(14, CALENDAR, VERIFIED),
    ),
    "CO": TicketRules(
        "Colorado", Zone(18, VERIFIED), Span(2, WORKING, VERIFIED), Span(30, CALENDAR, VERIFIED),
        "C.R.S. 9-1.5-102, -103", remark="only while the marks are visible",
    ),
    "FL": TicketRules(
        "Florida", Zone(24, VERIFIED), Span(2, WORKING, VERIFIED), Span(30, CALENDAR, MEMORY),
        "Fla. Stat. 556.102, 556.105",
    ),
    "GA": TicketRules(
        "Georgia", Zone(24, MEMORY), Span(48, HOURS, VERIFIED), Span(21, CALENDAR, PARTLY),
        "OCGA 25-9-3, 25-9-6", most_ahead=Span(10, WORKING, VERIFIED),
    ),
    "IL": TicketRules(
        "Illinois", Zone(18, MEMORY), Span(48, HOURS, PARTLY), Span(28, CALENDAR, MEMORY),
        "220 ILCS 50/4(d)", most_ahead=Span(14, CALENDAR, PARTLY),
        remark="the Act was amended from 1 January 2025; these are from before",
    ),
    "IN": TicketRules(
        "Indiana", Zone(24, MEMORY), Span(2, WORKING, VERIFIED), Span(20, CALENDAR, MEMORY),
        "IC 8-1-26-16",
    ),
    "KS": TicketRules(
        "Kansas", Zone(24, MEMORY), Span(2, WORKING, VERIFIED), Span(20, CALENDAR, VERIFIED),
        "K.S.A. 66-1802, 66-1804(a), (c)", START, Span(20, CALENDAR, VERIFIED),
    ),
    "MA": TicketRules(
        "Massachusetts", Zone(18, VERIFIED), Span(72, HOURS, MEMORY), Span(30, CALENDAR, MEMORY),
        "MGL c.82 s.40",
    ),
    "MI": TicketRules(
        "Michigan", Zone(48, MEMORY), Span(3, WORKING, VERIFIED), Span(21, CALENDAR, MEMORY),
        "MCL 460.721 et seq.", remark="longer if the ticket says so; the zone is the caution zone",
    ),
    "MN": TicketRules(
        "Minnesota", Zone(24, MEMORY), Span(48, HOURS, MEMORY), Span(14, CALENDAR, MEMORY),
        "Minn. Stat. 216D.04; Minn. Rules 7560",
    ),
    "MO": TicketRules(
        "Missouri", Zone(24, MEMORY), Span(3, WORKING, MEMORY), None,
        "RSMo 319.015, 319.026", most_ahead=Span(10, WORKING, MEMORY),
    ),
    "MS": TicketRules(
        "Mississippi", Zone(18, VERIFIED), Span(3, WORKING, VERIFIED), Span(14, CALENDAR, PARTLY),
        "Miss. Code 77-13-3, -5",
        remark="the 14 days are what can be done in the area of one ticket",
    ),
    "NC": TicketRules(
        "North Carolina", Zone(24, MEMORY), Span(3, WORKING, VERIFIED), Span(15, WORKING, PARTLY),
        "G.S. 87-122", most_ahead=Span(12, WORKING, VERIFIED),
        remark="a bill of 2025-26 would make the life 28 calendar days",
    ),
    "NY": TicketRules(
        "New York", Zone(24, VERIFIED), Span(2, WORKING, MEMORY), None,
        "16 NYCRR 753", most_ahead=Span(10, WORKING, MEMORY),
        remark="work begins within 10 working days of the request",
    ),
    "OH": TicketRules(
        "Ohio", Zone(18, MEMORY), Span(48, HOURS, MEMORY), None,
        "ORC 3781.25, 3781.28", most_ahead=Span(10, WORKING, MEMORY),
        remark="the ticket may hold while work goes on",
    ),
    "OR": TicketRules(
        "Oregon", Zone(24, MEMORY), Span(2, WORKING, MEMORY), Span(45, CALENDAR, MEMORY),
        "OAR 952-001-0010, -0050",
    ),
    "PA": TicketRules(
        "Pennsylvania", Zone(18, MEMORY), Span(3, WORKING, MEMORY), None,
        "73 P.S. 176, 180", most_ahead=Span(10, WORKING, MEMORY),
        remark="the ticket may hold while work that began in time goes on",
    ),
    "RI": TicketRules(
        "Rhode Island", Zone(18, VERIFIED), Span(72, HOURS, MEMORY), None,
        "the State's one-call law, clause not known",
    ),
    "TN": TicketRules(
        "Tennessee", Zone(24, VERIFIED), Span(3, WORKING, VERIFIED), Span(15, CALENDAR, VERIFIED),
        "TCA 65-31-101 et seq.", START, Span(10, WORKING, VERIFIED),
    ),
    "TX": TicketRules(
        "Texas", Zone(18, MEMORY, with_half_diameter=True), Span(48, HOURS, VERIFIED),
        Span(14, WORKING, MEMORY), "Util. Code 251.151; 16 TAC ch. 18",
    ),
    "VA": TicketRules(
        "Virginia", Zone(24, MEMORY), Span(48, HOURS, MEMORY), Span(15, WORKING, MEMORY),
        "Va. Code 56-265.15, .17", remark="from 7 a.m. of the third working day",
    ),
    "WA": TicketRules(
        "Washington", Zone(24, MEMORY), Span(2, WORKING, MEMORY), Span(45, CALENDAR, MEMORY),
        "RCW 19.122.020, .030", most_ahead=Span(10, WORKING, MEMORY),
    ),
})  # fmt: skip
_CODES = {rules.name.casefold(): code for code, rules in STATES.items()}


class UsualTicket(NamedTuple):
    """First and last day that a ticket usually has; the ticket's own days count."""

    start: Result
    end: Result


def state_code(state: Value) -> str | Missing:
    """Postal code of a State of the table, from its code or name in any case of letters.

    A look-up.

    Args:
        state: such as ``CA`` or ``California``.

    Returns:
        The code.

    Not known when:
        The State is not in the table.

    Source:
        The table.

    >>> state_code("california")
    'CA'
    """
    if not isinstance(state, str):
        return NOT_KNOWN
    plain = state.strip()
    if plain.upper() in STATES:
        return plain.upper()
    return _CODES.get(plain.casefold(), NOT_KNOWN)


def usual_ticket(
    state: Value, *, requested: Value = NOT_KNOWN, ticket_start: Value = NOT_KNOWN
) -> UsualTicket:
    """First and last day that a ticket usually has in a State, as a sanity check only.

    start = first working day after n full working days, the day of the request not counted.
    end = start or request + life, the day that is counted from not counted.

    Args:
        state: postal code or name.
        requested: day of the request, 2001 to 2099; needed for the start.
        ticket_start: first day as printed on the ticket, 2001 to 2099; without it the usual start
            is used. Without the day of the request, the latest request that gives this start.

    Returns:
        The two days. Doubts are settled for a late start and an early end: hours of notice count
        as full working days; where it is not known from when the life counts, it is from the
        request; the start waits for every holiday, federal or the State's, the end for those that
        both keep.

    Not known when:
        The State is not in the table, no life of a ticket is known there, or a day that the
        figure needs is not known or out of its range.

    Source:
        The State's law, with the status of each figure; the counting is common practice.

    >>> found = usual_ticket("KS", requested=dt.date(2026, 9, 14))
    >>> str(found.start.value), str(found.end.value)
    ('2026-09-17', '2026-10-07')
    """
    code = state_code(state)
    if isinstance(code, Missing):
        lost = not_known(f"what is usual in the State '{state}' is not known: {_CONFIRM}")
        return UsualTicket(lost, lost)
    asked, printed = _day(requested), _day(ticket_start)
    return UsualTicket(_start(code, asked), _end(code, asked, printed))


def _start(code: str, asked: dt.date | Missing) -> Result:
    if isinstance(asked, Missing):
        return not_known("the day of the request is not known")
    start = _start_after(code, asked)
    if isinstance(start, Missing):
        return not_known(f"the holidays of {STATES[code].name} are not known")
    lines = (*_notice_lines(code), noted("d1", "day of the request", str(asked)),
             _start_line(code, start))  # fmt: skip
    return Result(start, working=_working("Usual start of a ticket", code, lines))


def _end(code: str, asked: dt.date | Missing, printed: dt.date | Missing) -> Result:
    rules = STATES[code]
    life = rules.life
    if life is None:
        told = f" ({rules.remark})" if rules.remark else ""
        return not_known(f"no life of a ticket is known for {rules.name}{told}: {_CONFIRM}")
    if isinstance(asked, Missing) and isinstance(printed, Missing):
        return not_known("neither the day of the request nor the start of the ticket is known")
    base: dt.date | Missing
    lines: tuple[Line, ...]
    if rules.life_from == START:
        if not isinstance(printed, Missing):
            base, lines = printed, (noted("d2", "start as printed on the ticket", str(printed)),)
        else:
            assert not isinstance(asked, Missing)
            base = _start_after(code, asked)
            lines = (*_notice_lines(code), noted("d1", "day of the request", str(asked)),
                     _start_line(code, base))  # fmt: skip
        counted, symbol = "start", "d2"
    else:
        if not isinstance(asked, Missing):
            base, lines = asked, (noted("d1", "day of the request", str(asked)),)
        else:
            assert not isinstance(printed, Missing)
            base = _latest_request(code, printed)
            lines = (
                noted("d2", "start as printed on the ticket", str(printed)),
                *_notice_lines(code),
                Line("d1", "latest request that gives this start", "d2 less n full working days",
                     "", str(base), rules.source),
            )  # fmt: skip
        counted, symbol = "request", "d1"
    end = base if isinstance(base, Missing) else _later(code, base, life)
    if isinstance(end, Missing):
        return not_known(f"the holidays of {rules.name} are not known")
    lines = (
        *lines,
        noted("v", f"life of a ticket, from the {counted}{_remark(rules)}",
              f"{life.amount} {life.unit}", _status(rules, life.status)),
        Line("d3", "usual end", f"{symbol} + v", f"{base} + {life.amount} {life.unit}", str(end),
             _CONFIRM),
    )  # fmt: skip
    return Result(end, working=_working("Usual end of a ticket", code, lines))


def ticket_end_check(state: Value, ticket_start: Value, ticket_end: Value) -> Result:
    """How far the end that is printed on a ticket lies beyond the usual one.

    b = printed end - usual end, where the usual end is that of :func:`usual_ticket`.

    Args:
        state: postal code or name.
        ticket_start: first day as printed, 2001 to 2099.
        ticket_end: last day as printed, 2001 to 2099.

    Returns:
        Calendar days; negative where the ticket ends sooner. Where the life counts from the
        request, the latest request that gives this start is taken: after an earlier one, the
        usual end comes sooner and more days lie beyond it.

    Not known when:
        As for :func:`usual_ticket`, or the printed end is not known or out of its range.

    Source:
        As for :func:`usual_ticket`.

    >>> ticket_end_check("KS", dt.date(2026, 9, 17), dt.date(2026, 10, 9)).value
    2.0
    """
    printed = _day(ticket_end)
    if isinstance(printed, Missing):
        return not_known(f"the end of the ticket is {ticket_end}")
    usual = usual_ticket(state, ticket_start=ticket_start).end
    if not isinstance(usual.value, dt.date) or usual.working is None:
        return not_known(usual.reason)
    beyond = float((printed - usual.value).days)
    lines = (
        *usual.working.lines,
        noted("d4", "end as printed on the ticket", str(printed)),
        Line("b", "days beyond the usual end", "d4 - d3", f"{printed} - {usual.value}",
             f"{number(beyond)} days", _CONFIRM),
    )  # fmt: skip
    title = "End of the ticket beyond the usual one"
    return Result(beyond, working=Working(title, usual.working.source, usual.working.validity,
                                          lines))  # fmt: skip


def usual_tolerance_zone(state: Value, diameter_in: Value = NOT_KNOWN) -> Result:
    """Tolerance zone that is usual in a State, to each side of a line, as a sanity check only.

    z = w, or w + d / 2 where half the diameter of the line is added.

    Args:
        state: postal code or name.
        diameter_in: d, outside diameter of the line, in, 0 to 600; used only where it is added.

    Returns:
        Width to each side, in.

    Not known when:
        The State is not in the table, or the diameter is needed and not known or out of its range.

    Source:
        The State's law, with the status of the figure.

    >>> usual_tolerance_zone("TX", 6.0).value
    21.0
    """
    code = state_code(state)
    if isinstance(code, Missing):
        return not_known(f"what is usual in the State '{state}' is not known: {_CONFIRM}")
    rules = STATES[code]
    width, status, with_half = rules.zone
    given = Line("w", "tolerance zone to each side of a line", "", "", f"{number(width)} in",
                 _status(rules, status))  # fmt: skip
    title = "Usual tolerance zone"
    if not with_half:
        last = Line(
            "z", "usual tolerance zone", "w", number(width), f"{number(width)} in", _CONFIRM
        )
        return Result(float(width), working=_working(title, code, (given, last)))
    if not isinstance(diameter_in, (int, float)):
        return not_known(f"half the diameter of the line is added, and it is {diameter_in}")
    reason = outside(("utility diameter", diameter_in, 0.0, 600.0, "in"))
    if reason:
        return not_known(reason)
    zone = width + diameter_in / 2
    lines = (
        given,
        inches("d", "outside diameter of the line", diameter_in),
        Line("z", "usual tolerance zone", "w + d / 2", f"{number(width)} + {number(diameter_in)} "
             "/ 2", f"{number(zone)} in", _CONFIRM),
    )  # fmt: skip
    return Result(zone, working=_working(title, code, lines))


def _working(title: str, code: str, lines: tuple[Line, ...]) -> Working:
    rules = STATES[code]
    return Working(f"{title} in {rules.name}", f"{rules.source}: {_CONFIRM}",
                   f"a sanity check only; the ticket counts; {_CONFIRM}", lines)  # fmt: skip


def _status(rules: TicketRules, status: str) -> str:
    told = "partly verified" if status == PARTLY else status
    return f"{rules.source}; {told}; {_CONFIRM}"


def _remark(rules: TicketRules) -> str:
    return f"; {rules.remark}" if rules.remark else ""


def _notice_lines(code: str) -> tuple[Line, ...]:
    rules = STATES[code]
    notice = rules.notice
    return (
        noted("n", f"notice, as full working days{_remark(rules)}",
              f"{notice.full_working_days} ({notice.amount} {notice.unit})",
              _status(rules, notice.status)),
    )  # fmt: skip


def _start_line(code: str, start: dt.date | Missing) -> Line:
    kept = f"holidays, federal or of {STATES[code].name}, left out; {_CONFIRM}"
    rule = "first working day after n full ones, d1 not counted"
    return Line("d2", "usual start", rule, "", str(start), kept)


def _start_after(code: str, asked: dt.date) -> dt.date | Missing:
    return add_working_days(asked, STATES[code].notice.full_working_days + 1, code)


def _latest_request(code: str, start: dt.date) -> dt.date | Missing:
    """The latest day from which the full working days of the notice lie before a start."""
    first = add_working_days(start, -STATES[code].notice.full_working_days, code)
    return first if isinstance(first, Missing) else first - dt.timedelta(1)


def _later(code: str, base: dt.date, life: Span) -> dt.date | Missing:
    if life.unit == WORKING:
        return add_working_days(base, life.amount, code, sure_holidays=True)
    return base + dt.timedelta(life.amount)


def _day(value: Value) -> dt.date | Missing:
    """A day from which a year can be counted either way."""
    if isinstance(value, dt.date) and not isinstance(value, dt.datetime):
        return value if _FIRST <= value <= _LAST else NOT_KNOWN
    return NOT_KNOWN
