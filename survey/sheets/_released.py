"""Releases as the sheet shows them: those to keep to, and those that don't count."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from survey.assessment import Assessment, Finding
from survey.assessment.releases import Release
from survey.rulebook.rules import Rule
from survey.sheets._grouping import by_key, subject_of
from survey.sheets._places import Places


@dataclass(frozen=True, slots=True)
class Kept:
    """A release that the crew works under: it holds only while its note is kept to."""

    rule: Rule
    where: str
    release: Release


@dataclass(frozen=True, slots=True)
class Refused:
    """A release that does not count.

    Args:
        where: the places at which it names a finding that it does not lift; empty if it names
            none.
    """

    release: Release
    where: str
    why: str


def kept_releases(findings: Iterable[Finding]) -> list[list[Finding]]:
    """The findings that are released, those of one rule under one release together."""
    released = [(f, f.release) for f in findings if f.release is not None]
    alike = by_key(
        released,
        lambda pair: (
            pair[0].rule.code, subject_of(pair[0]), pair[1].person, pair[1].role, pair[1].note,
            pair[1].end,
        ),
    )  # fmt: skip
    return [[finding for finding, _ in same] for same in alike]


def kept(findings: Iterable[Finding], places: Places) -> tuple[Kept, ...]:
    """The releases that the crew works under, for a box each."""
    return tuple(
        Kept(
            same[0].rule,
            places.named(subject_of(same[0]), (finding.place for finding in same)),
            release,
        )
        for same in kept_releases(findings)
        if (release := same[0].release) is not None
    )


def refused(assessment: Assessment, places: Places) -> tuple[Refused, ...]:
    """The releases that do not count, with why, each reason once."""
    named = [(finding, s) for finding in assessment.findings for s in finding.refused]
    at_findings = by_key(
        named,
        lambda pair: (pair[1], pair[0].rule.code, subject_of(pair[0])),
    )
    return (
        *(
            Refused(
                same[0][1].release,
                places.named(subject_of(same[0][0]), (finding.place for finding, _ in same)),
                same[0][1].refused,
            )
            for same in at_findings
        ),
        *(Refused(s.release, "", s.refused) for s in assessment.unused_releases),
    )
