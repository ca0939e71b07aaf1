"""Releases on the survey: which finding each one lifts, or why it lifts none."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from survey.model import Row, Survey, Value
from survey.rulebook.judgement import Truth
from survey.rulebook.rules import Lift, Outcome, ReleaseBy, Rule, RuleBook
from survey.vocabulary import Missing, nearest, says_nothing

_SEPARATOR = re.compile(r"\s*[,;]\s*|\s+and\s+")
_NEEDED = ("released by", "releasing role", "release date", "release end", "release note")
_ANY_PLACE = "any place that meets its conditions"
_RANGE = re.compile(r"(?P<first>.+?)\s+to\s+(?P<last>.+)")


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
    """Whether a release lifts a finding of a rule while the crew is on site.

    A release with anything missing does not hold: what is not known is not granted.
    """
    return Standing(print_release(row), _refusal(row, rule, survey.site))


def hold_standing(rule: Rule, lift: Lift, truth: Truth, site: Row) -> Standing:
    """Whether a firm's standing release lifts a finding at a place while the crew is there.

    Args:
        rule: the standing release, judged like a rule.
        lift: what it lifts, and until when.
        truth: whether its conditions are met where the finding is.
        site: the answers about the site.
    """
    release = Release(
        rule.code, lift.finding, _ANY_PLACE, lift.engineer, ReleaseBy.ENGINEER.value, lift.licence,
        lift.given.isoformat(), lift.last.isoformat(), lift.note, rule.place,
    )  # fmt: skip
    if truth is Truth.FALSE:
        return Standing(release, "its conditions are not met")
    if truth is Truth.UNKNOWN:
        return Standing(release, "it can't be told whether its conditions are met")
    return Standing(release, _wrong_crew_days(lift.given, lift.last, site))


def _refusal(row: Row, rule: Rule, site: Row) -> str:
    """Why a release can't lift a finding of a rule; empty if it can."""
    if rule.release is ReleaseBy.NOBODY:
        return f"nobody may release {rule.code}"
    missing = [name for name in _NEEDED if _not_given(row.value(name))]
    if missing:
        return f"it does not say: {', '.join(missing)}"
    return _wrong_person(row, rule, site) or _wrong_days(row, site)


def _not_given(value: Value) -> bool:
    """Whether an answer is missing, or only a mark that holds its place."""
    return isinstance(value, Missing) or says_nothing(str(value))


def _wrong_person(row: Row, rule: Rule, site: Row) -> str:
    role, person = row.value("releasing role"), str(row.value("released by"))
    if role == ReleaseBy.ENGINEER.value:
        return "it gives no licence number" if _not_given(row.value("licence number")) else ""
    if rule.release is ReleaseBy.ENGINEER:
        return f"only a {rule.release.value} may release {rule.code}, not a {role}"
    named = site.value("competent person")
    if isinstance(named, Missing) or str(named).casefold() != person.casefold():
        return f"'{person}' is not the competent person named on the Site sheet"
    return ""


def _wrong_days(row: Row, site: Row) -> str:
    given, end = row.value("release date"), row.value("release end")
    surveyed = site.value("survey date")
    assert isinstance(given, dt.date)
    assert isinstance(end, dt.date)
    if not isinstance(surveyed, dt.date) or given < surveyed:
        return f"it is dated {given.isoformat()}, and not known to be after the survey"
    return _wrong_crew_days(given, end, site)


def _wrong_crew_days(given: dt.date, end: dt.date, site: Row) -> str:
    first, last = site.value("crew date"), site.value("last crew date")
    if not isinstance(first, dt.date) or not isinstance(last, dt.date):
        return "the crew's first and last days are not known, so it can't be told if it holds then"
    if first < given:
        return f"it is dated {given.isoformat()}, after the crew's first day"
    if max(first, last) > end:
        return f"it ends on {end.isoformat()}, before the crew's last day"
    return ""


def names(row: Row, rule: Rule, place: str, order: Sequence[str]) -> bool:
    """Whether a release names a finding, by the rule's code or name, at a place.

    Args:
        row: the release.
        rule: the rule of the finding.
        place: where the finding is.
        order: labels of the places of the rule, in the order of the form, for ranges.
    """
    finding, where = row.value("released finding"), row.value("released place")
    if isinstance(finding, Missing) or isinstance(where, Missing):
        return False
    said = str(finding).strip().lower()
    return said in (rule.code.lower(), rule.name.lower()) and place in places(str(where), order)


def places(text: str, order: Sequence[str]) -> set[str]:
    """The places that a text names: labels with commas between them, and ranges of labels.

    >>> sorted(places("p1 to P3, P5", ["P1", "P2", "P3", "P4", "P5"]))
    ['P1', 'P2', 'P3', 'P5']
    """
    by_name = {label.lower(): label for label in order}
    said = text.strip().lower()
    if said in by_name:  # a label may itself hold a comma
        return {by_name[said]}
    found: set[str] = set()
    for part in _SEPARATOR.split(said):
        span = _RANGE.fullmatch(part)
        if part in by_name:
            found.add(by_name[part])
        elif span and span["first"] in by_name and span["last"] in by_name:
            first, last = (order.index(by_name[span[end]]) for end in ("first", "last"))
            found.update(order[first : last + 1])
    return found


def unused(
    survey: Survey, book: RuleBook, used: Iterable[str], found: Mapping[str, Sequence[str]]
) -> tuple[Standing, ...]:
    """The releases that name no finding of this site, with why: a slip must not go unseen.

    Args:
        survey: the site.
        book: the rules.
        used: labels of the releases that name a finding.
        found: the places of the findings, by rule code.
    """
    held = set(used)
    rules = {
        text.lower(): rule
        for rule in book
        if isinstance(rule.then, Outcome)
        for text in (rule.code, rule.name)
    }
    return tuple(
        Standing(print_release(row), _why_unused(row, rules, survey, found))
        for row in survey.releases
        if row.label not in held
    )


def _why_unused(
    row: Row, rules: Mapping[str, Rule], survey: Survey, found: Mapping[str, Sequence[str]]
) -> str:
    finding, place = row.value("released finding"), row.value("released place")
    if isinstance(finding, Missing) or isinstance(place, Missing):
        return "it does not say which finding it lifts and where"
    rule = rules.get(str(finding).strip().lower())
    if rule is None:
        near = nearest(str(finding), [one.code for one in rules.values()])
        hint = f"; did you mean '{near}'?" if near else ""
        return f"no rule has the code or name '{finding}'{hint}"
    at = found.get(rule.code, ())
    where = f"; {rule.code} was found at: {', '.join(at)}" if at else ""
    also = _refusal(row, rule, survey.site)
    return f"{rule.code} was not found at '{place}'{where}" + (f". Also: {also}" if also else "")
