"""What the crew reads in Spanish: there for every rule it acts on, and as full as the English."""

import re

import pytest

from survey.rulebook.book import load_book
from survey.rulebook.rules import Outcome

READ_ON_SITE = [
    rule
    for rule in load_book()
    if rule.then in (Outcome.CONDITION, Outcome.STOP)
    or (isinstance(rule.then, Outcome) and rule.who in ("crew", "competent person"))
]
TEXTS = [
    pytest.param(english, spanish, id=f"{rule.code}-{line}")
    for rule in READ_ON_SITE
    for line, english, spanish in (
        ("say", rule.say, rule.say_es),
        ("do", rule.do, rule.do_es),
    )
]
ENGLISH_TRADE = re.compile(r"\b(pits?|footings?|shields?|walls?|crew|nobody|ladders?)\b", re.I)


def outside_braces(text: str) -> str:
    return re.sub(r"\{[^{}]*\}", "", text)


def figures(text: str) -> list[str]:
    return sorted(re.findall(r"\d+(?:[./]\d+)?", outside_braces(text)))


def test_the_crew_and_the_competent_person_have_rules_to_read():
    assert {rule.who for rule in READ_ON_SITE} >= {"crew", "competent person"}


@pytest.mark.parametrize(("english", "spanish"), TEXTS)
def test_the_text_is_there_and_is_not_the_english(english, spanish):
    assert spanish != ""
    assert spanish != english


@pytest.mark.parametrize(("english", "spanish"), TEXTS)
def test_no_english_word_of_the_trade_is_left(english, spanish):
    assert ENGLISH_TRADE.findall(outside_braces(spanish)) == []


@pytest.mark.parametrize(("english", "spanish"), TEXTS)
def test_figures_written_out_are_the_same_in_both(english, spanish):
    assert figures(spanish) == figures(english)


@pytest.mark.parametrize(("english", "spanish"), TEXTS)
def test_warnings_are_not_lost(english, spanish):
    """Where the English keeps people out or sends them out, so does the Spanish."""
    assert ("everybody out" in english.lower()) <= ("todos afuera" in spanish.lower())
    assert english.startswith("Nobody") <= spanish.startswith("Nadie")
