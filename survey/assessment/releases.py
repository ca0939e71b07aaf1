"""Releases on the survey: which finding each one lifts, or why it lifts none."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from survey.assessment.named_places import read_places
from survey.engineering.working import Input
from survey.facts import Facts
from survey.model import Row, Survey, Value
from survey.rulebook.rules import Lift, Outcome, ReleaseBy, Rule, RuleBook
from survey.vocabulary import (
    SCOPES,
    Missing,
    Subject,
    gives_no_number,
    names_nobody,
    nearest,
    says_no,
    says_nothing,
)

_NEEDED = ("released by", "releasing role", "release date", "release end", "release note")
_ANY_PLACE = "any place that meets its conditions"
_CODE = re.compile(r"\b([A-Za-z]{2,8})[\s-]*0*([0-9]{1,3})\b")
_MOST_PLACES = 6


@dataclass(frozen=True, slots=True)
class Release:
    """A release as it stands on the survey, or a firm's standing release, for print.

    Args:
        standing: whether it is a firm's, which looks at every job and was not written for this.
    """

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
    standing: bool = False


@dataclass(frozen=True, slots=True)
class Standing:
    """A release held against the finding that it names.

    Args:
        release: the release.
        refused: why it does not lift the finding; empty if it does.
        settles: the answers that have to be given first.
    """

    release: Release
    refused: str
    settles: tuple[Input, ...] = ()

    @property
    def why(self) -> str:
        """Why it does not lift the finding, with the answers to give first."""
        asked = "; ".join(f"{i.word} of {i.label} ({i.answer.where})" for i in self.settles)
        return f"{self.refused}; answer first: {asked}" if asked else self.refused


@dataclass(frozen=True, slots=True)
class Named:
    """What a release on the survey names.

    Args:
        row: the release.
        rule: the rule of the finding; none if it names no finding that can be released.
        places: labels of the places.
        order: labels of all the places that the rule is judged for, in the order of the form.
        faults: what it says that is no finding or no place, with what to write instead.
    """

    row: Row
    rule: Rule | None
    places: tuple[str, ...]
    order: tuple[str, ...]
    faults: tuple[str, ...]


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


def hold_standing(rule: Rule, lift: Lift, site: Row) -> Standing:
    """Whether a firm's standing release, whose conditions are met, holds while the crew is there.

    Args:
        rule: the standing release.
        lift: what it lifts, and until when.
        site: the answers about the site.
    """
    return Standing(print_standing(rule, lift), _wrong_crew_days(lift.given, lift.last, site))


def print_standing(rule: Rule, lift: Lift) -> Release:
    """A firm's standing release for print."""
    return Release(
        rule.code, lift.finding, _ANY_PLACE, lift.engineer, ReleaseBy.ENGINEER.value, lift.licence,
        lift.given.isoformat(), lift.last.isoformat(), lift.note, rule.place, standing=True,
    )  # fmt: skip


def _refusal(row: Row, rule: Rule, site: Row) -> str:
    """Why a release can't lift a finding of a rule; empty if it can."""
    if rule.release is ReleaseBy.NOBODY:
        return f"nobody may release {rule.code}: what it finds has to be changed"
    if missing := [_at(row, name) for name in _NEEDED if _not_given(row.value(name))]:
        return f"it does not say: {', '.join(missing)}"
    if says_no(str(row.value("release note"))):
        return f"its note says that it is not given: {_at(row, 'release note')}"
    return _wrong_person(row, rule, site) or _wrong_days(row, site)


def _not_given(value: Value) -> bool:
    """Whether an answer is missing, or only a mark that holds its place."""
    return isinstance(value, Missing) or says_nothing(str(value))


def _at(row: Row, name: str) -> str:
    """An answer with its cell, and what stands there if that says nothing."""
    answer = row.answers[name]
    said = "" if isinstance(answer.value, Missing) else f": '{answer.value}'"
    return f"{name} ({answer.where}{said})"


def _wrong_person(row: Row, rule: Rule, site: Row) -> str:
    role, person = row.value("releasing role"), str(row.value("released by"))
    if names_nobody(person):
        return f"it names no person: {_at(row, 'released by')}"
    if role == ReleaseBy.ENGINEER.value:
        licence = row.value("licence number")
        if isinstance(licence, Missing) or gives_no_number(str(licence)):
            return f"it gives no licence number: {_at(row, 'licence number')}"
        return ""
    if rule.release is ReleaseBy.ENGINEER:
        return f"only a {rule.release.value} may release {rule.code}, not a {role}"
    named = site.value("competent person")
    if isinstance(named, Missing):
        where = site.answers["competent person"].where
        return f"the Office sheet names no competent person ({where}), so '{person}' is not the one"
    if str(named).casefold() != person.casefold():
        return f"'{person}' is not the competent person named on the Office sheet, who is '{named}'"
    return ""


def _wrong_days(row: Row, site: Row) -> str:
    given, end = row.value("release date"), row.value("release end")
    surveyed = site.value("survey date")
    assert isinstance(given, dt.date)
    assert isinstance(end, dt.date)
    if not isinstance(surveyed, dt.date):
        where = site.answers["survey date"].where
        return f"the survey date is not known ({where}), so it may be older than what was found"
    if given < surveyed:
        return f"it is dated {given}, before the survey of {surveyed}; have it given anew"
    return _wrong_crew_days(given, end, site)


def _wrong_crew_days(given: dt.date, end: dt.date, site: Row) -> str:
    first, last = site.value("crew date"), site.value("last crew date")
    if not isinstance(first, dt.date) or not isinstance(last, dt.date):
        names = ("crew date", "last crew date")
        cells = [
            site.answers[name].where for name in names if isinstance(site.value(name), Missing)
        ]
        return (
            "the crew's first and last days are not known, so it can't be told if it holds then "
            f"({', '.join(cells)})"
        )
    if last < first:
        return f"the crew's last day ({last}) is before its first ({first}); put them right"
    if first < given:
        return f"it is dated {given}, after the crew's first day ({first}); it must hold by then"
    if last > end:
        return f"it ends on {end}, before the crew's last day ({last}); have it given for longer"
    return ""


def what_is_named(survey: Survey, book: RuleBook, facts: Facts) -> tuple[Named, ...]:
    """What each release on the survey names, in the order of the form."""
    labels = {s: tuple(thing.label for thing in facts.of(s) if thing.listed) for s in SCOPES}
    rules = list(book)
    return tuple(_named(row, rules, labels) for row in survey.releases)


def _named(row: Row, rules: Sequence[Rule], labels: Mapping[Subject, tuple[str, ...]]) -> Named:
    finding, where = row.value("released finding"), row.value("released place")
    missing = ("released finding", finding), ("released place", where)
    faults = [f"it does not say: {_at(row, name)}" for name, value in missing if _not_given(value)]
    rule, fault = (None, "") if _not_given(finding) else _rule_named(str(finding), rules)
    if fault:
        faults.append(fault)
    order = () if rule is None else labels[rule.subject]
    if rule is None or _not_given(where):
        return Named(row, rule, (), order, tuple(faults))
    places = read_places(str(where), rule.subject, order)
    named = tuple(label for label in order if label in places.labels)
    return Named(row, rule, named, order, places.faults)


def _rule_named(text: str, rules: Sequence[Rule]) -> tuple[Rule | None, str]:
    """The rule that a text names by its code or name, or why it names none."""
    said = text.lower()
    named = [rule for rule in rules if rule.code.lower() == said]
    named = named or [rule for rule in rules if rule.name.lower() == said]
    if len(named) > 1:
        codes = " or ".join(rule.code for rule in named)
        return None, f"{len(named)} rules are called '{text}'; write the code: {codes}"
    if not named:
        return None, _no_rule(text, [rule.code for rule in rules])
    (rule,) = named
    if isinstance(rule.then, Lift):
        return None, f"{rule.code} is a standing release, no finding; write {rule.then.finding}"
    if not isinstance(rule.then, Outcome):
        return None, f"{rule.code} only concludes something, and is no finding to release"
    return rule, ""


def _no_rule(text: str, codes: Sequence[str]) -> str:
    written = dict.fromkeys(f"{name.upper()}-{number}" for name, number in _CODE.findall(text))
    meant = [code for code in written if code in codes]
    if len(meant) > 1:
        return f"one release names one finding; write a row for each of {', '.join(meant)}"
    near = meant[0] if meant else nearest(text, codes)
    hint = f"; did you mean '{near}'?" if near else ""
    return f"no rule has the code or name '{text}'{hint}"


def left_over(
    named: Iterable[Named],
    found: Mapping[str, Sequence[str]],
    open_lists: Mapping[str, Input],
    survey: Survey,
) -> tuple[Standing, ...]:
    """The releases that lift nothing, wholly or in part, with why: a slip must not go unseen.

    Args:
        named: what each release names.
        found: labels of the places of the findings, by the code of the rule.
        open_lists: by the code of a rule, the question whether there is more than is listed.
        survey: the site.
    """
    return tuple(
        Standing(print_release(one.row), ". ".join(why))
        for one in named
        if (why := list(_left_over(one, found, open_lists, survey)))
    )  # fmt: skip


def _left_over(
    one: Named, found: Mapping[str, Sequence[str]], open_lists: Mapping[str, Input], survey: Survey
) -> Iterator[str]:
    yield from one.faults
    if one.rule is None:
        return
    code = one.rule.code
    at = [label for label in one.order if label in found.get(code, ())]
    if any(label in at for label in one.places):
        return  # more than was found may be released
    if one.places:
        there = "here" if one.rule.subject is Subject.SITE else f"at {_few(one.places)}"
        yield f"{code} was not found {there}"
    if at:
        yield f"{code} was found at {_few(at)}"
    elif code in open_lists:
        asked = open_lists[code]
        where = asked.answer.where
        yield f"it can't be told yet whether there is {code}; answer first: {asked.word} ({where})"
    if also := _refusal(one.row, one.rule, survey.site):
        yield f"Also, {also}"


def _few(labels: Sequence[str]) -> str:
    """The first of many labels."""
    more = len(labels) - _MOST_PLACES
    listed = ", ".join(labels[:_MOST_PLACES])
    return f"{listed} and {more} more" if more > 0 else listed
