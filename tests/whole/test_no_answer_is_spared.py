"""One answer taken away from a site that may start: it is missed wherever it can matter.

Exhaustive over one answer, where ``tests.properties.test_not_known_is_not_no`` is random over many:
each answer of a careful site is blanked in turn. Where the site may start all the same, every value
that the answer could have had must leave it with the same findings.
"""

from __future__ import annotations

import datetime as dt
import functools
import json
from collections.abc import Iterator

import pytest

from survey.answers import read_survey
from survey.assessment import Assessment, assess
from survey.document import read_document, write_document
from survey.model import LISTS, Row, Survey, Value
from survey.rulebook.book import load_book
from survey.rulebook.rules import Comparison, Outcome, comparisons
from survey.vocabulary import (
    DOES_NOT_APPLY,
    MEASURES,
    NOT_KNOWN,
    VOCABULARY,
    Kind,
    Subject,
    Word,
    from_steps,
)
from tests.demo_surveys import careful_house, survey_of
from tests.random_sites import change
from tests.strategies import plain
from tests.whole_surveys import IN_ORDER

BOOK = load_book()
HOUSE = "the careful house"
SITES = {
    HOUSE: survey_of(careful_house(), "house"),
    **{name: survey_of(one.change.document(), "site") for name, one in IN_ORDER.items()},
}
# Further answers of text than a name.
TEXTS = ("none", "somebody else")


def blanked(survey: Survey, row: Row, word: Word, value: Value = NOT_KNOWN) -> Survey:
    """The survey with one answer taken away, or another in its place; what depends on it, too."""
    place = (row.subject, row.label, word.name)

    def new(one: Row, asked: Word, before: Value) -> Value:
        return value if (one.subject, one.label, asked.name) == place else before

    return change(survey, new)


def answered(survey: Survey, turn: int = 0) -> Iterator[tuple[Row, Word]]:
    """Each question with one row that answers it: of several that do, each site takes another."""
    for subject in (Subject.SITE, *LISTS):
        if subject is Subject.RELEASE:
            continue  # what is missing in a release lifts nothing: tests.units.assessment
        for word in VOCABULARY.asked_of(subject):
            rows = [
                row
                for row in survey.rows(subject)
                if row.value(word.name) not in (NOT_KNOWN, DOES_NOT_APPLY)
            ]
            if rows:
                yield rows[turn % len(rows)], word


def limits_of(word: Word) -> set[int]:
    """The figures that some rule compares a word with, in whole steps."""
    return {
        clause.operand
        for rule in BOOK
        for clause in comparisons(rule.condition)
        if isinstance(clause, Comparison)
        and clause.word.itself == word
        and isinstance(clause.operand, int)
    }


def values(survey: Survey, word: Word) -> list[Value]:
    """Each choice; of a figure its ends, two between, and both sides of each limit of the book."""
    match word.kind:
        case Kind.CHOICE | Kind.YES_NO:
            return list(word.choices)
        case Kind.REFERENCE:
            return [wall.label for wall in survey.walls]
        case Kind.TEXT:
            return list(TEXTS)
        case Kind.DATE:
            days = {a.value for a in survey.site.answers.values() if isinstance(a.value, dt.date)}
            ends = (min(days) - dt.timedelta(400), max(days) + dt.timedelta(400))
            return [*ends, *(day + dt.timedelta(by) for day in sorted(days) for by in (-1, 1))]
        case kind:
            assert word.low is not None
            assert word.high is not None
            step = MEASURES[kind].step
            low, high = round(word.low / step), round(word.high / step)
            sides = (limit + by for limit in limits_of(word) for by in (-1, 0, 1))
            inner = {low, low + (high - low) // 50, low + (high - low) // 5, high, *sides}
            return [from_steps(kind, count) for count in sorted(inner) if low <= count <= high]


def found(assessment: Assessment) -> set[tuple[str, str, Outcome, bool]]:
    """What a verdict rests on: notes change none."""
    return {
        (f.rule.code, f.place, f.outcome, f.counts)
        for f in assessment.findings
        if f.outcome is not Outcome.NOTE
    }


@functools.cache
def blanks(name: str) -> list[tuple[Row, Word, Assessment]]:
    """A site with each of its answers blanked in turn."""
    survey = SITES[name]
    return [
        (row, word, assess(blanked(survey, row, word), (), BOOK))
        for row, word in answered(survey, turn=list(SITES).index(name))
    ]


@pytest.mark.parametrize("name", SITES)
def test_a_blank_that_leaves_a_site_free_to_start_could_not_have_mattered(name):
    survey = SITES[name]
    usual = assess(survey, (), BOOK)
    assert usual.verdict.may_start
    held, tried = 0, 0
    for row, word, blank in blanks(name):
        if not blank.verdict.may_start:
            held += 1
            continue
        assert found(blank) == found(usual), f"{word.name} of {row.label}"
        for value in values(survey, word):
            if value != row.value(word.name):
                other = assess(blanked(survey, row, word, value), (), BOOK)
                tried += 1
                said = f"{word.name} of {row.label}: blank, but {value} would be"
                assert other.verdict.may_start, f"{said} {other.verdict.value}"
                assert found(other) == found(blank), f"{said} found otherwise"
    assert held > 100
    assert tried > 40


def test_nearly_every_answer_that_a_rule_looks_at_is_missed_on_one_of_the_sites():
    """Guards the test above against proving nothing: what holds a site is no accident."""
    looked_at = {
        word.itself.name
        for rule in BOOK
        if isinstance(rule.then, Outcome)
        for clause in comparisons(rule.condition)
        for word in clause.words
    }
    told = [(word.name, blank) for name in SITES for _, word, blank in blanks(name)]
    given = {name for name, _ in told} & looked_at
    missed = {name for name, blank in told if not blank.verdict.may_start} & looked_at
    assert len(missed) >= 0.9 * len(given), sorted(given - missed)
    assert len(given) > 100


def test_values_lie_on_both_sides_of_every_limit():
    word = VOCABULARY["spoil distance"]
    assert {24 - 0.001, 24.0, 24 + 0.001, word.low, word.high} <= set(values(SITES[HOUSE], word))


@pytest.mark.parametrize("name", SITES)
def test_a_blank_here_is_a_blank_on_the_form(name):
    """One answer in ten, taken out of the document itself and read back."""
    survey = SITES[name]
    for row, word in list(answered(survey))[::10]:
        document = json.loads(write_document(survey))
        rows = document["site"] if row.subject is Subject.SITE else document[LISTS[row.subject]]
        one = rows if row.subject is Subject.SITE else next(
            each for each in rows if each["label"] == row.label
        )  # fmt: skip
        one[word.key] = None
        back, problems = read_survey(read_document(json.dumps(document), "blank.json"))
        assert problems == ()
        assert plain(back) == plain(blanked(survey, row, word))
