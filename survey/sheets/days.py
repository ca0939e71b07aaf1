"""The verdict for each day on which the crew may come, in plain text for a terminal."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from textwrap import wrap

from survey.assessment.days import Days, Run, Stay
from survey.assessment.why_turned import Change
from survey.model import Survey
from survey.sheets._grouping import by_key, group_findings
from survey.sheets._legible import count, job_name, legible
from survey.sheets._places import Places
from survey.vocabulary import Missing, Subject

_WIDEST = 100
_MOST = 8  # findings told of one run; the sheet has all
_WEEKEND = ("Saturday", "Sunday")
_NOTHING = "nothing"
_GRAVEST_FIRST = ("stop", "engineer", "ask", "can't be told", "released", "condition", _NOTHING)


def say_days(survey: Survey, days: Days) -> str:
    """Each run of days with its verdict, what stands against it, and why it is another.

    Args:
        survey: as it was read.
        days: judged for it.
    """
    places = Places.of(survey)
    first, last = days.runs[0].first, days.runs[-1].last
    form = "gives no first day" if isinstance(days.form_day, Missing) else f"says {days.form_day}"
    lines = [
        *_wrapped(f"{job_name(survey.site)} ({survey.name}): {first} to {last}"),
        *_wrapped(f"For each day as the crew's first; the form {form}.", "  "),
        *_wrapped(f"How long the crew is there: {_length(days.length)}.", "  "),
    ]
    for problem in days.problems:
        lines += _wrapped(f"To put right on every day: {problem}", "  ")
    for run in days.runs:
        lines += ["", *_wrapped(f"{_span(run)}{_marked(run, days)}: {_verdict(run)}")]
        if run is days.runs[0]:
            lines += _against(run, places)
        lines += _changes(run.changes, places)
        for said in run.disagreement:
            lines += _wrapped(f"internal disagreement: {said}", "  ")
    return "\n".join([*lines, "", *_off(days), *_may_start(days)])


def _length(length: Stay) -> str:
    known = not isinstance(length.working_days, Missing)
    return length.why if known else f"not known, for {length.why}"


def _span(run: Run) -> str:
    return str(run.first) if run.first == run.last else f"{run.first} to {run.last}"


def _marked(run: Run, days: Days) -> str:
    """That nobody works on any day of a run."""
    length = (run.last - run.first).days + 1
    every = [run.first + dt.timedelta(passed) for passed in range(length)]
    return " (nobody works)" if all(day in days.off for day in every) else ""


def _verdict(run: Run) -> str:
    if run.verdict is run.but_for_weather:
        return run.verdict.value
    return f"{run.verdict.value} until the weather is told; else {run.but_for_weather.value}"


def _against(run: Run, places: Places) -> Iterator[str]:
    """What stands against the first run; later ones tell what changes."""
    found = group_findings(run.blocking, places)
    groups = [f"{group.rule.code} {group.rule.name}: {group.where}" for group in found]
    for told in groups[:_MOST]:
        yield from _wrapped(f"because: {told}", "  ")
    if len(groups) > _MOST:
        yield f"  and {count(len(groups) - _MOST, 'other finding')}; the sheet of a check has all"
    for clash in run.clashes:
        yield from _wrapped(f"because: no day fits: {clash}", "  ")


def _changes(changes: Iterable[Change], places: Places) -> Iterator[str]:
    """What changed, the gravest first; what changed alike for one reason is told together."""
    alike = by_key(changes, lambda one: (one.before, one.after, one.why))
    for same in sorted(alike, key=lambda same: min(map(_grave, same))):
        first = same[0]
        named = "; ".join(_named(one, places) for one in same)
        yield from _wrapped(f"{_turn(first)}: {named}", "  ")
        yield from _wrapped(f"because {first.why}", "    ")


def _grave(change: Change) -> int:
    return min(_GRAVEST_FIRST.index(state) for state in (change.before, change.after))


def _named(change: Change, places: Places) -> str:
    code = f"{change.code} " if change.code else ""
    if change.subject is Subject.SITE:
        return f"{code}{change.name}"
    return f"{code}{change.name} ({places.named(change.subject, change.places)})"


def _turn(change: Change) -> str:
    if change.after == _NOTHING:
        return f"no longer: {change.before}"
    before = "" if change.before == _NOTHING else f", before: {change.before}"
    return f"now: {change.after}{before}"


def _off(days: Days) -> Iterator[str]:
    """The days on which nobody works: weekends as such, holidays by name."""
    held = [f"{day} ({name})" for day, name in days.off.items() if name not in _WEEKEND]
    weekends = "Saturdays and Sundays" if len(held) < len(days.off) else ""
    if named := ", ".join(filter(None, [weekends, *held])):
        yield from _wrapped(f"Nobody works on: {named}.")


def _may_start(days: Days) -> Iterator[str]:
    listed = ", ".join(map(str, days.may_start)) or "none of these"
    yield from _wrapped(f"Days on which the crew may start: {listed}.")
    waiting = [run for run in days.runs if run.verdict is not run.but_for_weather]
    if spans := ", ".join(_span(run) for run in waiting if run.but_for_weather.may_start):
        yield from _wrapped(f"Once their weather is told, also: {spans}.")


def _wrapped(text: str, indent: str = "") -> list[str]:
    """In lines that are not too wide, with nothing in them that a terminal would act on."""
    return wrap(
        " ".join(legible(text).split()), _WIDEST, initial_indent=indent,
        subsequent_indent=f"{indent}    ", break_on_hyphens=False,
    )  # fmt: skip
