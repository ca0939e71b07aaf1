"""Releases as the sheet shows them: those to keep to, and those that don't count."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from survey.assessment import Assessment, Finding
from survey.assessment.releases import Release, Standing
from survey.rulebook.rules import Rule
from survey.sheets._grouping import Said, by_key, subject_of
from survey.sheets._places import Places, in_cells

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Kept:
    """What the crew keeps to because somebody released a finding for it.

    Args:
        releases: those that say the same, at one or many places; at least one.
    """

    rule: Rule
    where: str
    releases: tuple[Release, ...]

    @property
    def release(self) -> Release:
        """The first of them, for what all say alike."""
        return self.releases[0]

    @property
    def persons(self) -> tuple[str, ...]:
        """Who released it, with role and last day, each once."""
        return tuple(dict.fromkeys(f"{r.person} ({r.role}) until {r.end}" for r in self.releases))


@dataclass(frozen=True, slots=True)
class Refused:
    """A release that does not count, wholly or in part.

    Args:
        why: each reason, with the cells to answer first where there are any; the lead is the
            places at which it names a finding that it does not lift, empty if it names none.
    """

    release: Release
    why: tuple[Said, ...]


def kept_releases(findings: Iterable[Finding]) -> list[list[tuple[Finding, Release]]]:
    """The findings that are released, those of one rule that rest on the same note together."""
    released = [(finding, release) for finding in findings for release in finding.releases]
    return by_key(
        released,
        lambda pair: (pair[0].rule.code, subject_of(pair[0]), pair[1].note),
    )


def kept(findings: Iterable[Finding], places: Places) -> tuple[Kept, ...]:
    """What the crew keeps to under releases, for a box each.

    Where two releases lift one finding, the crew keeps to both: one box if they say the same.
    """
    return tuple(
        Kept(
            same[0][0].rule, _where(same, places),
            tuple(dict.fromkeys(release for _, release in same)),
        )
        for same in kept_releases(findings)
    )  # fmt: skip


def refused(assessment: Assessment, places: Places) -> tuple[Refused, ...]:
    """The releases on the survey that do not count, in the order of the form."""
    order = {row.where: i for i, row in enumerate(assessment.survey.releases)}
    named = [
        (finding, standing)
        for finding in assessment.findings
        for standing in finding.refused
        if not standing.release.standing
    ]
    reasons = [
        *_reasons(named, places),
        *((s.release, Said(s.why, "", "")) for s in assessment.unused_releases),
    ]
    by_release = by_key(reasons, lambda pair: pair[0])
    by_release.sort(key=lambda same: order[same[0][0].where])
    return tuple(Refused(same[0][0], tuple(why for _, why in same)) for same in by_release)


def not_covering(assessment: Assessment, places: Places) -> tuple[Refused, ...]:
    """The firm's standing releases that lift something at none or not all of its places.

    Where another release lifts the finding, nobody needs them.
    """
    looked_at = [
        (finding, standing)
        for finding in assessment.findings
        for standing in finding.refused
        if finding.counts and standing.release.standing
    ]
    by_release = by_key(_reasons(looked_at, places), lambda pair: pair[0])
    return tuple(Refused(same[0][0], tuple(why for _, why in same)) for same in by_release)


def _reasons(
    named: Iterable[tuple[Finding, Standing]], places: Places
) -> Iterator[tuple[Release, Said]]:
    """Each reason once, with all its places."""
    alike = by_key(
        named,
        lambda pair: (
            pair[1].release, pair[1].refused, tuple(given.word for given in pair[1].settles),
            subject_of(pair[0]),
        ),
    )  # fmt: skip
    for same in alike:
        why = _why(standing for _, standing in same)
        yield same[0][1].release, Said(why, _where(same, places), "")


def _where(same: list[tuple[Finding, T]], places: Places) -> str:
    return places.named(subject_of(same[0][0]), (finding.place for finding, _ in same))


def _why(same: Iterable[Standing]) -> str:
    """A reason, with all the cells that have to be answered first."""
    same = list(same)
    cells: dict[str, list[str]] = {}
    for given in (given for standing in same for given in standing.settles):
        cells.setdefault(given.word, []).append(given.answer.where)
    asked = "; ".join(f"{word} ({in_cells(where)})" for word, where in cells.items())
    return f"{same[0].refused}; answer first: {asked}" if asked else same[0].refused
