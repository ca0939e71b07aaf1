"""The judgement in a few lines of plain text, for a terminal."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap

from survey.assessment import Assessment, Verdict
from survey.rulebook.rules import Outcome
from survey.sheets._advice import ONCE, codes, may_be_scheduled, of
from survey.sheets._grouping import Group, group_findings, group_questions
from survey.sheets._legible import answer, count, legible
from survey.sheets._places import Places, span

_WIDEST = 100
_LONGEST = 30


def summary(assessment: Assessment) -> str:
    """Verdict, piers, and what stands in the way, in at most 30 lines."""
    survey, findings = assessment.survey, assessment.findings
    places = Places.of(survey)

    def groups(outcome: Outcome) -> tuple[Group, ...]:
        return group_findings(of(findings, outcome), places)

    top = [
        f"{assessment.verdict.value}: {answer(survey.site, 'job name')} ({survey.name})",
        f"  {answer(survey.site, 'address')}; crew on {answer(survey.site, 'crew date')}",
        *wrap(may_be_scheduled(assessment), _WIDEST, initial_indent="  ", subsequent_indent="  "),
        *([f"  {ONCE}"] if assessment.evaluators == 1 else []),
        *_piers(assessment, places),
    ]
    lists = {
        "Internal disagreement": assessment.disagreement,
        "Stops": [_line(group) for group in groups(Outcome.STOP)],
        "For the engineer": [_line(group) for group in groups(Outcome.ENGINEER)],
        f"Open: {count(len(assessment.questions), 'answer')} not known": [
            f"{asked.word} of {asked.where} ({asked.sheet} {asked.cells})"
            for asked in group_questions(assessment.questions)
        ],
        "To clear up": [
            _line(g) for g in groups(Outcome.ASK) if not all(f.settles for f in g.findings)
        ],
        "Cells that could not be read": [str(problem) for problem in assessment.problems],
    }
    conditions = codes(of(findings, Outcome.CONDITION))
    end = [f"Conditions: {len(conditions)} ({', '.join(conditions)})"] if conditions else []
    filled = {title: entries for title, entries in lists.items() if entries}
    room = _LONGEST - len(top) - len(end) - 2 * len(filled)
    most = max(1, room // max(1, len(filled)))
    listed = [line for title, entries in filled.items() for line in _list(title, entries, most)]
    return "\n".join(_fitted(line) for line in [*top, *listed, *end])


def _line(group: Group) -> str:
    return f"{group.rule.code} {group.rule.name}: {group.where}"


def _piers(assessment: Assessment, places: Places) -> list[str]:
    lines: list[str] = []
    for verdict in reversed(Verdict):
        labels = [pier.label for pier in assessment.piers if pier.verdict is verdict]
        if labels:
            lines.append(f"  {verdict.value}: {span(labels, places.following)}")
    return ["Piers", *lines] if lines else ["Piers: none listed"]


def _list(title: str, entries: Sequence[str], most: int) -> list[str]:
    """A title with its first entries, and how many more there are."""
    more = len(entries) - most
    left = [f"  and {more} more, on the sheet"] if more > 0 else []
    return [title, *(f"  {entry}" for entry in entries[:most]), *left]


def _fitted(line: str) -> str:
    """On one line, not too wide, with nothing in it that a terminal would act on."""
    indent = "  " if line.startswith("  ") else ""
    plain = indent + " ".join(legible(line).split())
    return plain if len(plain) <= _WIDEST else plain[: _WIDEST - 3].rstrip() + "..."
