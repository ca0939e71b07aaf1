"""Releases on the survey: which finding each one lifts, or why it lifts none."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from survey.model import Row, Survey
from survey.rulebook.rules import Conclusion, ReleaseBy, Rule, RuleBook
from survey.vocabulary import Missing

EVERYWHERE = "all"


@dataclass(frozen=True, slots=True)
class Release:
    """A release as it stands on the survey, for print."""

    label: str
    finding: str
    place: str
    person: str
    role: str
    licence: str
    date: str
    end: str
    note: str
    where: str


@dataclass(frozen=True, slots=True)
class Standing:
    """A release held against the finding that it names.

    Args:
        release: the release.
        refused: why it does not lift the finding; empty if it does.
    """

    release: Release
    refused: str


def print_release(row: Row) -> Release:
    """A release for print: states stand as their words."""

    def said(name: str) -> str:
        value = row.value(name)
        return value.isoformat() if isinstance(value, dt.date) else str(value)

    return Release(
        row.label, said("released finding"), said("released place"), said("released by"),
        said("releasing role"), said("licence number"), said("release date"), said("release end"),
        said("release note"), row.where,
    )  # fmt: skip


def hold_against(row: Row, rule: Rule, survey: Survey) -> Standing:
    """Whether a release lifts a finding of a rule on the crew's first day.

    A release with anything missing does not hold: what is not known is not granted.
    """
    return Standing(print_release(row), _refusal(row, rule, survey.site.value("crew date")))


def _refusal(row: Row, rule: Rule, crew_date: object) -> str:
    role, licence = row.value("releasing role"), row.value("licence number")
    start, end = row.value("release date"), row.value("release end")
    if rule.release is ReleaseBy.NOBODY:
        return f"nobody may release {rule.code}"
    missing = [
        name
        for name in ("released by", "releasing role", "release date", "release end")
        if isinstance(row.value(name), Missing)
    ]
    if missing:
        return f"it does not say: {', '.join(missing)}"
    if role != rule.release.value and not (
        rule.release is ReleaseBy.COMPETENT_PERSON and role == ReleaseBy.ENGINEER.value
    ):
        return f"only a {rule.release.value} may release {rule.code}, not a {role}"
    if role == ReleaseBy.ENGINEER.value and isinstance(licence, Missing):
        return "it gives no licence number"
    if not isinstance(crew_date, dt.date):
        return "the crew's first day is not known, so it can't be told whether it holds then"
    assert isinstance(start, dt.date)
    assert isinstance(end, dt.date)
    if crew_date < start:
        return f"it is dated {start.isoformat()}, after the crew's first day"
    if crew_date > end:
        return f"it ended on {end.isoformat()}, before the crew's first day"
    return ""


def names(row: Row, rule: Rule, place: str) -> bool:
    """Whether a release names a finding, by the rule's code or name, at a place or everywhere."""
    finding, where = row.value("released finding"), row.value("released place")
    if isinstance(finding, Missing) or isinstance(where, Missing):
        return False
    said = str(finding).strip().lower()
    at = str(where).strip().lower()
    return said in (rule.code.lower(), rule.name.lower()) and at in (EVERYWHERE, place.lower())


def unused(survey: Survey, book: RuleBook, used: Iterable[str]) -> tuple[Standing, ...]:
    """The releases that name no finding of this site, with why: a slip must not go unseen."""
    held = set(used)
    codes = {
        text.lower()
        for rule in book
        if not isinstance(rule.then, Conclusion)
        for text in (rule.code, rule.name)
    }
    left: list[Standing] = []
    for row in survey.releases:
        if row.label in held:
            continue
        finding = row.value("released finding")
        if isinstance(finding, Missing) or isinstance(row.value("released place"), Missing):
            why = "it does not say which finding it lifts and where"
        elif str(finding).strip().lower() not in codes:
            why = f"no rule has the code or name '{finding}'"
        else:
            why = "there is no such finding at that place"
        left.append(Standing(print_release(row), why))
    return tuple(left)
