"""The verdict: the worst finding that counts, for each pier and for the site."""

from __future__ import annotations

import enum
import functools
from collections.abc import Iterable

from survey.assessment.findings import Finding
from survey.rulebook.rules import Outcome


class Verdict(enum.Enum):
    """From best to worst."""

    GO = "GO"
    GO_WITH_CONDITIONS = "GO WITH CONDITIONS"
    HOLD = "HOLD"
    ENGINEER_REVIEW = "ENGINEER REVIEW"
    NO_GO = "NO-GO"

    @property
    def may_start(self) -> bool:
        """Whether the crew may be scheduled."""
        return self in (Verdict.GO, Verdict.GO_WITH_CONDITIONS)


BY_OUTCOME = {
    Outcome.NOTE: Verdict.GO,
    Outcome.CONDITION: Verdict.GO_WITH_CONDITIONS,
    Outcome.ASK: Verdict.HOLD,
    Outcome.ENGINEER: Verdict.ENGINEER_REVIEW,
    Outcome.STOP: Verdict.NO_GO,
}


def worse(one: Verdict, other: Verdict) -> Verdict:
    """The worse of two verdicts."""
    return max(one, other, key=list(Verdict).index)


def decide(findings: Iterable[Finding], pier: str | None = None) -> Verdict:
    """The verdict for a pier, or for the whole site if none is named.

    A finding of the whole site counts for every pier. A released one counts as a condition: the
    crew keeps to what the release rests on.
    """
    outcomes = {
        finding.outcome if finding.counts else Outcome.CONDITION
        for finding in findings
        if pier is None or not finding.piers or pier in finding.piers
    }
    return functools.reduce(worse, map(BY_OUTCOME.__getitem__, outcomes), Verdict.GO)
