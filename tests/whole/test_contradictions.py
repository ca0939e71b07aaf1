"""Answers that contradict each other are told, and nobody is asked for more because of them."""

import pytest

from survey.assessment import assess
from survey.rulebook.book import load_book
from survey.rulebook.rules import Outcome, comparisons
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN
from tests.demo_surveys import careful_house, survey_of
from tests.random_sites import change
from tests.smallest_changes import MEETS

BOOK = load_book()
CONTRADICTIONS = {
    rule.code: rule
    for rule in BOOK
    if rule.code in {"SURVEY-10", "LINE-54", *(f"SURVEY-{n}" for n in range(21, 36))}
}
HOUSE = survey_of(careful_house(), "house")
# Each answer that they look at, of the first thing that has it.
ANSWERS = {
    word.key: (row.label, word)
    for rule in CONTRADICTIONS.values()
    for clause in comparisons(rule.condition)
    for word in clause.words
    if word.asked
    for row in reversed(HOUSE.rows(word.subject))
    if row.value(word.name) not in (NOT_KNOWN, DOES_NOT_APPLY)
}


@pytest.mark.parametrize("key", ANSWERS)
def test_an_answer_is_asked_for_by_no_contradiction_alone(key):
    survey = change(
        HOUSE, lambda row, word, before: NOT_KNOWN if (row.label, word) == ANSWERS[key] else before
    )
    found = assess(survey, (), BOOK).findings
    asking = {finding.rule.code for finding in found if finding.say.startswith("Can't tell")}
    assert not asking or asking - CONTRADICTIONS.keys()


def test_the_careful_house_contradicts_itself_nowhere():
    assert not CONTRADICTIONS.keys() & {f.rule.code for f in assess(HOUSE, (), BOOK).findings}


@pytest.mark.parametrize("code", sorted(CONTRADICTIONS.keys() & MEETS.keys()))
def test_who_contradicts_himself_may_not_start(code):
    judged = assess(survey_of(MEETS[code].change.document(), "site"), (), BOOK)
    then = CONTRADICTIONS[code].then
    assert {f.outcome for f in judged.findings if f.rule.code == code} == {then}
    assert then is Outcome.CONDITION or not judged.verdict.may_start
