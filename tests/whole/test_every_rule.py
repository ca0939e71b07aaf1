"""Every rule of the shipped book on whole surveys: met by at least one, and not met by another.

A rule that no survey of ``tests.whole_surveys`` meets fails here by its code: give it a smallest
change of the careful house in ``tests.smallest_changes.MEETS``.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass

import pytest

from survey.facts import Facts, gather
from survey.quantities import work_out
from survey.rulebook import production
from survey.rulebook.book import load_book
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.judgement import Judgement
from tests.demo_surveys import survey_of
from tests.smallest_changes import LEFT_OUT, MEETS
from tests.whole_surveys import ALL, Change

BOOK = load_book()
RULES = {rule.code: rule for rule in BOOK}
HOUSE = "the careful house"
SURVEYS = {
    HOUSE: Change(),
    **{one.name: one.change for one in ALL},
    **{
        f"{what} {code}": smallest.change
        for what, smallests in (("meets", MEETS), ("leaves out", LEFT_OUT))
        for code, smallest in smallests.items()
    },
}


@dataclass(frozen=True)
class Judged:
    """What the rules say of one survey."""

    facts: Facts
    judgement: Judgement

    def met(self, code: str) -> bool:
        return any(found == code for found, _ in self.judgement.met)

    def surely_not_met(self, code: str) -> bool:
        """Whether there is what the rule is judged for, and it is false of all of it."""
        told = self.judgement.met | self.judgement.cannot_tell
        judged_for = any(thing.listed for thing in self.facts.of(RULES[code].subject))
        return judged_for and all(found != code for found, _ in told)


def own_first(code: str) -> list[str]:
    """Every survey, first those made for this rule: one that can't be read fails few tests."""
    return sorted(SURVEYS, key=lambda name: not name.endswith(f" {code}"))


@functools.cache
def judged(name: str) -> Judged:
    survey = survey_of(SURVEYS[name].document(), "site")
    facts = gather(survey, work_out(survey, BOOK.subjects), BOOK.vocabulary, BOOK.subjects)
    evaluator = DirectEvaluator(BOOK, facts)
    return Judged(facts, evaluator.summary(evaluator.judge()))


@pytest.mark.parametrize("code", RULES)
def test_a_whole_survey_meets_it(code):
    assert any(judged(name).met(code) for name in own_first(code)), (
        f"{code} ({RULES[code].name}): no whole survey meets it. Give it a smallest change of the "
        "careful house in MEETS of tests/smallest_changes.py."
    )


@pytest.mark.parametrize("code", RULES)
def test_a_whole_survey_does_not_meet_it(code):
    assert any(judged(name).surely_not_met(code) for name in own_first(code)), (
        f"{code} ({RULES[code].name}): met or open on every whole survey, so it tells none apart."
    )


@pytest.mark.parametrize("code", MEETS)
def test_the_smallest_change_meets_its_rule_for_certain(code):
    assert code in RULES, f"{code} is no rule of the book; take it out of MEETS"
    assert judged(f"meets {code}").met(code)
    assert not judged(HOUSE).met(code), f"the careful house meets {code} as it is"
    assert MEETS[code].why.endswith(".")


@pytest.mark.parametrize("code", LEFT_OUT)
def test_a_rule_that_the_careful_house_meets_can_be_left_out(code):
    assert code in RULES, f"{code} is no rule of the book; take it out of LEFT_OUT"
    assert judged(HOUSE).met(code)
    assert judged(f"leaves out {code}").surely_not_met(code)


@pytest.mark.skipif(not production.available(), reason="durable-rules does not load here")
@pytest.mark.parametrize("name", SURVEYS)
def test_both_evaluators_agree(name):
    found = judged(name)
    assert production.evaluator_for(BOOK).judge(found.facts) == found.judgement
