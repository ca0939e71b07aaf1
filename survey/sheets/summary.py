"""The judgement in a few lines of plain text, for a terminal."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from textwrap import wrap

from survey.assessment import Assessment, Finding, Verdict
from survey.photos import NO_PHOTOS, Photos
from survey.rulebook.rules import Change, Outcome
from survey.sheets._advice import (
    IDLE_RULES,
    LOCAL_RULES,
    by_whom,
    codes,
    idle,
    in_force,
    may_be_scheduled,
    of,
    unclear,
)
from survey.sheets._grouping import Asked, Group, group_findings, group_questions, stops
from survey.sheets._legible import answer, count, crew_days, job_name, legible
from survey.sheets._places import Places, span
from survey.sheets._released import Refused, kept, refused
from survey.vocabulary import Subject

_WIDEST = 100
_MOST_LINES = 40  # of the whole summary
_TALLEST = 4  # lines of one entry; only an answer as long as a letter needs more


def summary(assessment: Assessment, photos: Photos = NO_PHOTOS) -> str:
    """Verdict, piers, and what stands in the way, in at most 40 lines of 100 characters."""
    survey, findings = assessment.survey, assessment.findings
    places = Places.of(survey)
    top = [
        *_wrapped(f"{assessment.verdict.value}: {job_name(survey.site)} ({survey.name})"),
        *_wrapped(
            f"{answer(survey.site, 'address')}; crew on site: {crew_days(survey.site)}", "  "
        ),
        *_wrapped(may_be_scheduled(assessment), "  "),
        *(line for by in by_whom(assessment) for line in _wrapped(by, "  ")),
        *_piers(assessment, places),
    ]
    not_counted = refused(assessment, places)
    lists = {
        "Internal disagreement": assessment.disagreement,
        "About the survey file": list(survey.notes),
        "Cells to put right": [str(problem) for problem in assessment.problems],
        "Stops": [_line(group) for group in stops(findings, places)],
        "For the engineer": _lines(of(findings, Outcome.ENGINEER), places),
        f"Open: {count(len(assessment.questions), 'answer')} not known": [
            _question(asked) for asked in group_questions(assessment)
        ],
        "To clear up": _lines(unclear(findings), places),
        f"Releases that do not count: {len(not_counted)}": [_refused(r) for r in not_counted],
        f"To ask about photos: {len(photos.asked)}": [str(photo) for photo in photos.asked],
        LOCAL_RULES: [_change(change) for change in in_force(assessment)],
        IDLE_RULES: [_change(change) for change in idle(assessment)],
    }
    end = _conditions(assessment, places)
    filled = {title: entries for title, entries in lists.items() if entries}
    room = _MOST_LINES - len(top) - len(end) - 2 * len(filled)
    most = max(1, room // max(1, len(filled)))
    listed = [line for title, entries in filled.items() for line in _list(title, entries, most)]
    return "\n".join([*top, *listed, *end])


def _lines(findings: Iterable[Finding], places: Places) -> list[str]:
    return [_line(group) for group in group_findings(findings, places)]


def _line(group: Group) -> str:
    return f"{group.rule.code} {group.rule.name}: {group.where}"


def _question(asked: Asked) -> str:
    """A question as the form asks it, with the cells that wait for it."""
    where = asked.cells if asked.cells.startswith(asked.sheet) else f"{asked.sheet} {asked.cells}"
    about = "" if asked.subject is Subject.SITE else f"{asked.where}: "
    return f"{about}{asked.prompt} ({where})"


def _refused(one: Refused) -> str:
    why = "; ".join(f"at {said.lead}: {said.text}" if said.lead else said.text for said in one.why)
    return f"{one.release.finding} at {one.release.place} ({one.release.where}): {why}"


def _change(change: Change) -> str:
    why = f"; {change.why}" if change.why else ""
    return f"{change.what}{why} ({change.place})"


def _conditions(assessment: Assessment, places: Places) -> list[str]:
    named = [
        *codes(of(assessment.findings, Outcome.CONDITION)),
        *(f"{one.rule.code} as released" for one in kept(assessment.findings, places)),
    ]
    return _wrapped(f"Conditions: {len(named)} ({', '.join(named)})") if named else []


def _piers(assessment: Assessment, places: Places) -> list[str]:
    lines: list[str] = []
    for verdict in reversed(Verdict):
        labels = [pier.label for pier in assessment.piers if pier.verdict is verdict]
        if labels:
            lines += _wrapped(f"{verdict.value}: {span(labels, places.following)}", "  ")
    return ["Piers", *lines] if lines else ["Piers: none listed"]


def _list(title: str, entries: Sequence[str], most: int) -> list[str]:
    """A title with its first entries, as many as the lines hold, and how many more there are."""
    lines: list[str] = []
    for i, entry in enumerate(entries):
        wrapped = _wrapped(entry, "  ")
        if lines and len(lines) + len(wrapped) > most:
            return [title, *lines, f"  and {len(entries) - i} more, on the sheet"]
        lines += wrapped
    return [title, *lines]


def _wrapped(text: str, indent: str = "") -> list[str]:
    """In lines that are not too wide, with nothing in them that a terminal would act on."""
    return wrap(
        " ".join(legible(text).split()), _WIDEST, initial_indent=indent,
        subsequent_indent=f"{indent}  ", max_lines=_TALLEST, placeholder=" ...",
    )  # fmt: skip
