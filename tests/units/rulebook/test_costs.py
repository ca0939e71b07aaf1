"""What steps cost: the shipped figures, a firm's own, and that they judge nothing."""

from __future__ import annotations

import dataclasses

from survey.assessment import assess
from survey.resources import folder
from survey.rulebook.book import _from_bytes, _to_bytes, load_book, read_and_try
from survey.rulebook.costs import SORTS, VISIT
from survey.rulebook.rules import RuleBook, money
from survey.rulebook.study.listing import list_words
from survey.rulebook.study.summary import summary
from tests.demo_surveys import careful_house, survey_of

SHIPPED = {file.name: file.read_text("utf-8") for file in folder("rules").glob("*.rules")}
OWN = """\
topic Ours
question loose dog
  for     the site
  kind    yes or no
  prompt  Is there a loose dog?
cost visit to the site = 55.50 usd
  from our own: the surveyor lives near
cost loose dog = 7 usd
  from our own
"""


def own_book(text: str = OWN) -> RuleBook:
    return read_and_try(SHIPPED, {"ours/own.rules": text})


def test_every_sort_of_step_has_a_shipped_cost_that_says_it_is_to_be_set():
    costs = load_book().costs
    assert set(SORTS) <= costs.keys()
    assert len({cost.currency for cost in costs.values()}) == 1
    for cost in costs.values():
        assert cost.source.startswith("common practice: set your own"), cost.name


def test_a_firm_sets_costs_anew_and_of_its_own_questions():
    book = own_book()
    assert book.costs[VISIT].hundredths == 5550
    assert book.costs[VISIT].shown == "55.50 usd"
    assert book.costs["loose dog"].shown == "7 usd"
    told = summary(book)
    assert "cost of 'visit to the site' is 55.50 usd; shipped: 180 usd" in told
    assert "cost of 'loose dog' is 7 usd" in told


def test_another_cost_is_another_book_that_judges_alike():
    book, dearer = load_book(), own_book("cost crew date = 1 usd\n  from our own\n")
    assert book.fingerprint != dearer.fingerprint
    survey = survey_of(careful_house())
    first, second = (assess(survey, (), one) for one in (book, dearer))
    assert first.verdict is second.verdict
    assert [(f.rule.code, f.place) for f in first.findings] == [
        (f.rule.code, f.place) for f in second.findings
    ]


def test_costs_are_kept_with_the_book():
    kept = _from_bytes(_to_bytes(own_book()))
    assert kept is not None
    assert dict(kept.costs) == dict(own_book().costs)


def test_costs_are_listed_with_the_words():
    listed = list_words(load_book(), "visit")
    assert "COSTS OF STEPS" in listed
    assert "visit to the site = 180 usd" in listed
    none = dataclasses.replace(load_book(), costs={})
    assert "COSTS OF STEPS" not in list_words(none)


def test_money_has_hundredths_only_where_there_are_some():
    assert [money(n, "usd") for n in (0, 5, 100, 123456)] == [
        "0 usd", "0.05 usd", "1 usd", "1234.56 usd",
    ]  # fmt: skip
