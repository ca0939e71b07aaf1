"""Whether the crew may be scheduled, in a line or two: the same words on every sheet."""

from __future__ import annotations

from collections.abc import Iterable

from survey.assessment import Assessment, Finding
from survey.rulebook.rules import Outcome
from survey.sheets._legible import answer, count
from survey.vocabulary import NOT_KNOWN

ONCE = "Judged once (second evaluator does not run here)."
CAUTIONS = (
    "This sheet does not replace the competent person's inspection on each day of work and after "
    "rain, a locate request, the local code or a licensed engineer.",
    "It knows only what the survey says. Whoever finds the site different stops and has it judged "
    "again.",
    "Where a local rule is stricter, the local rule holds.",
)


def of(findings: Iterable[Finding], outcome: Outcome) -> tuple[Finding, ...]:
    """The findings of an outcome that count."""
    return tuple(f for f in findings if f.counts and f.outcome is outcome)


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
    if stops := codes(of(findings, Outcome.STOP)):
        reasons.append(f"{count(len(stops), 'fault')} must be put right first")
    if for_engineer := codes(of(findings, Outcome.ENGINEER)):
        reasons.append(f"a licensed engineer must decide {count(len(for_engineer), 'matter')}")
    if of(findings, Outcome.ASK):
        reasons.append(_open(assessment))
    return f"The crew may not be scheduled: {'; '.join(reasons)}."


def _open(assessment: Assessment) -> str:
    """What has to be cleared up: answers to give, or findings that ask in words."""
    if assessment.questions:
        number = len(assessment.questions)
        return f"{count(number, 'answer')} {_is(number)} missing"
    number = len(codes(of(assessment.findings, Outcome.ASK)))
    return f"{count(number, 'matter')} must be cleared up"


def _may(assessment: Assessment) -> str:
    if not assessment.piers:
        return "Nothing to schedule: the survey lists no pier location."
    site = assessment.survey.site
    if site.value("crew date") is NOT_KNOWN:
        return (
            "The crew may be scheduled once its first day is known and the survey has been "
            "judged for that day."
        )
    when = f"The crew may be scheduled for {answer(site, 'crew date')}"
    conditions = len(codes(of(assessment.findings, Outcome.CONDITION)))
    if not conditions:
        return f"{when}. No rule found anything against it."
    return f"{when}, if {count(conditions, 'condition')} {_is(conditions)} met and initialled."


def _is(number: int) -> str:
    return "is" if number == 1 else "are"
