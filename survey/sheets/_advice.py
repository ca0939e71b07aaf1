"""Whether the crew may be scheduled, in a line or two: the same words on every sheet."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import replace

from survey.assessment import Assessment, Finding
from survey.model import ASKED_FOR, Row
from survey.rulebook.rules import Change, Outcome
from survey.sheets._legible import count, crew_days, day
from survey.sheets._released import kept_releases
from survey.vocabulary import NOT_KNOWN

ONCE = "Judged once (second evaluator does not run here)."
LOCAL_RULES = "Local rules in force"
IDLE_RULES = "Standing releases that are not in force here"
NO_LOCAL_RULES = "No local rules: the shipped book as it is."
CAUTIONS = (
    "This sheet does not replace the competent person's inspection on each day of work and after "
    "rain, a locate request, the local code or a licensed engineer.",
    "It knows only what the survey says. Whoever finds the site different stops and has it judged "
    "again.",
    "Each pit's own ground is classed as it is opened. Worse or wetter than the survey says: stop.",
    "The evening before: look again at the forecast, frost, the marks on the ground and the hoses. "
    "They were answered weeks ahead.",
    "Where a local rule is stricter, the local rule holds.",
)
BRIEF_CAUTIONS = (
    "Site, ground or weather unlike the survey: stop, and have it judged again. The competent "
    "person inspects daily and after rain, and classes each pit's ground. This sheet replaces no "
    "inspection, locate request, local code or engineer; the stricter holds."
)


def by_whom(assessment: Assessment) -> tuple[str, ...]:
    """What a reader has to know of how the site was judged; nothing where all is as shipped."""
    lines = [ONCE] if assessment.evaluators == 1 else []
    if assessment.survey.site.answers["crew date"].where == ASKED_FOR:
        lines.append(f"Judged for another first day of the crew than the form's ({ASKED_FOR}).")
    if changes := len(in_force(assessment)):
        lines.append(
            f"Judged with local rules: {count(changes, 'change')} to the shipped book, under "
            f"'{LOCAL_RULES}'."
        )
    return tuple(lines)


def in_force(assessment: Assessment) -> tuple[Change, ...]:
    """What a firm's own files change here."""
    site = assessment.survey.site
    return tuple(change for change in assessment.changes if not _why_idle(change, site))


def idle(assessment: Assessment) -> tuple[Change, ...]:
    """The firm's standing releases that do not hold on all days of the crew, each with why."""
    told = ((change, _why_idle(change, assessment.survey.site)) for change in assessment.changes)
    return tuple(replace(change, what=f"{change.what}: {why}") for change, why in told if why)


def _why_idle(change: Change, site: Row) -> str:
    if change.days is None:
        return ""
    given, end = change.days
    first, last = site.value("crew date"), site.value("last crew date")
    if not isinstance(first, dt.date) or not isinstance(last, dt.date):
        return "the days of the crew are not known"
    if last > end:
        return f"it ends on {day(end)}, before the crew's last day"
    if first < given:
        return f"it begins on {day(given)}, after the crew's first day"
    return ""


def of(findings: Iterable[Finding], outcome: Outcome) -> tuple[Finding, ...]:
    """The findings of an outcome that count."""
    return tuple(f for f in findings if f.counts and f.outcome is outcome)


def unclear(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings that hold the site and that no answer on the form would settle."""
    return tuple(f for f in of(findings, Outcome.ASK) if not f.settles)


def waiting(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings that wait for an answer on the form."""
    return tuple(f for f in of(findings, Outcome.ASK) if f.settles)


def codes(findings: Iterable[Finding]) -> tuple[str, ...]:
    """The code of each rule once."""
    return tuple(dict.fromkeys(finding.rule.code for finding in findings))


def may_be_scheduled(assessment: Assessment) -> str:
    """Whether the crew may be scheduled, and why."""
    if assessment.disagreement:
        return (
            "The crew may not be scheduled: the program's two evaluators disagree, "
            "so neither can be trusted."
        )
    verdict, findings = assessment.verdict, assessment.findings
    if verdict.may_start:
        return _may(assessment)
    reasons = []
    if problems := assessment.problems:
        reasons.append(f"{count(len(problems), 'cell')} must be put right")
    if stops := codes(of(findings, Outcome.STOP)):
        reasons.append(f"{count(len(stops), 'fault')} must be put right first")
    if for_engineer := codes(of(findings, Outcome.ENGINEER)):
        reasons.append(f"a licensed engineer must decide {count(len(for_engineer), 'matter')}")
    if still_open := _open(assessment):
        reasons.append(still_open)
    if clashes := assessment.plan.clashes:
        reasons.append(f"no day fits: {clashes[0]}")
    return f"The crew may not be scheduled: {'; '.join(reasons)}."


def _open(assessment: Assessment) -> str:
    """What has to be cleared up: answers to give, and findings that no answer settles."""
    parts = []
    if answers := len(assessment.questions):
        parts.append(f"{count(answers, 'answer')} {_is(answers)} missing")
    if matters := len(codes(unclear(assessment.findings))):
        parts.append(f"{count(matters, 'matter')} must be cleared up")
    return " and ".join(parts)


def _may(assessment: Assessment) -> str:
    if not assessment.piers:
        return "Nothing to schedule: the survey lists no pier location."
    site = assessment.survey.site
    if site.value("crew date") is NOT_KNOWN:
        return (
            "The crew may be scheduled once its first day is known and the survey has been "
            "judged for that day."
        )
    when = f"The crew may be scheduled for {crew_days(site)}"
    findings = assessment.findings
    conditions = len(codes(of(findings, Outcome.CONDITION))) + len(kept_releases(findings))
    if not conditions:
        return f"{when}. No rule found anything against it."
    return f"{when}, if {count(conditions, 'condition')} {_is(conditions)} met and initialled."


def _is(number: int) -> str:
    return "is" if number == 1 else "are"
