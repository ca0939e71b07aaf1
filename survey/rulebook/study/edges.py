"""Edges that the cases of a rule leave open: small changes of the rule that no case notices.

The cases under a rule are what its author has said of it outside the rule itself. If one figure
could be an inch more, or a clause could be left out, and every case still came out as before,
nobody has said which of the two rules is meant. So each rule is changed a little, in one place at
a time, and its cases are tried again.

A case that tells a rule from its change lies next to the place that was changed: on both sides of
a figure, one for each clause that alone is not met, one for each choice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import product
from math import inf, prod

from survey.facts import FactValue
from survey.rulebook.cases import ASK, NOTHING, Case, given_when_met, outcome_of, read_cases
from survey.rulebook.rules import (
    Clause,
    Comparison,
    Condition,
    LookUp,
    Reckoning,
    Rule,
    RuleBook,
    clauses,
)
from survey.rulebook.study.changes import Changed, changes
from survey.rulebook.study.wording import Wording, put_in_words
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Kind, Word, steps

_MOST_TRIES = 2000


@dataclass(frozen=True, slots=True)
class Unnoticed:
    """A change of a rule after which all its cases come out as before.

    Args:
        change: such as "'pit depth is at least 5 ft' changed to 'pit depth is more than 5 ft'".
        place: file and line of the rule.
    """

    rule: Rule
    change: str
    place: str


def unnoticed(book: RuleBook) -> tuple[Unnoticed, ...]:
    """Every small change of a rule that none of its cases notices, in the order of the book.

    A change is left out if it is proved to be none, for every answer that the form takes.
    """
    cases: dict[str, list[tuple[Case, str]]] = {rule.code: [] for rule in book}
    for case in read_cases(book)[0]:
        cases[case.rule.code].append((case, outcome_of(case)))
    return tuple(
        Unnoticed(rule, _said(changed, rule, book), rule.place)
        for rule in book
        for changed in changes(rule.condition)
        if _goes_unnoticed(replace(rule, condition=changed.condition), cases[rule.code])
    )


def untold(book: RuleBook) -> tuple[Unnoticed, ...]:
    """What a rule may give and none of its cases shows: met, not met, and can't be told."""
    given: dict[str, set[str]] = {}
    for case in read_cases(book)[0]:
        given.setdefault(case.rule.code, set()).add(outcome_of(case))
    return tuple(
        Unnoticed(rule, f"that it gives '{gives}' where it {when}", rule.place)
        for rule in book
        for gives, when in (
            (given_when_met(rule), "is met"), (NOTHING, "is not met"), (ASK, "can't be told"),
        )
        if gives not in given.get(rule.code, set())
    )  # fmt: skip


def _goes_unnoticed(changed: Rule, cases: list[tuple[Case, str]]) -> bool:
    if any(outcome_of(replace(case, rule=changed)) != before for case, before in cases):
        return False
    return not (cases and _is_the_same(cases[0][0], changed))


def _said(changed: Changed, rule: Rule, book: RuleBook) -> str:
    def words(condition: Condition) -> str:
        return _in_one_line(put_in_words(condition, rule.subject, book))

    place = "" if changed.within is None else f" in '{words(changed.within)}'"
    if changed.new is None:
        return f"'{words(changed.old)}' left out{place}"
    return f"'{words(changed.old)}' changed to '{words(changed.new)}'{place}"


def _in_one_line(wording: Wording) -> str:
    inner = [f"({_in_one_line(part)})" if part.parts else part.text for part in wording.parts]
    return f"{wording.text} {'; '.join(inner)}".strip()


# Changes that are none


def _is_the_same(case: Case, changed: Rule) -> bool:
    """Whether it is proved that a changed rule gives the same as before, whatever the answers.

    Between two figures that a word is compared with, all answers to it give the same. So each of
    these figures is tried with what lies just beside it, each choice, not known, and does not
    apply. An answer beyond a word's plausible range is refused when a survey is read, and not
    tried. Where words are reckoned or compared with each other, where a count looks round, and
    where there is too much to try, nothing is proved.
    """
    answers: dict[Word, set[FactValue]] = {}
    for rule in (case.rule, changed):
        for clause in clauses(rule.condition):
            telling = _telling_answers(clause)
            if telling is None:
                return False
            for word, values in telling:
                answers.setdefault(word, set()).update(values)
    missing = (NOT_KNOWN, DOES_NOT_APPLY)
    tried = [[*_plausible(word, values), *missing] for word, values in answers.items()]
    if prod(map(len, tried)) > _MOST_TRIES:
        return False
    return all(
        outcome_of(one) == outcome_of(replace(one, rule=changed))
        for values in product(*tried)
        for one in [replace(case, settings=dict(zip(answers, values, strict=True)))]
    )


def _telling_answers(clause: Clause) -> list[tuple[Word, set[FactValue]]] | None:
    """The answers between which a clause can turn over, by word; none if that can't be said."""
    match clause:
        case Comparison(word, _, str()):
            return [(word, set(word.choices))]
        case Comparison(word, _, int() as figure):
            return [(word, _beside([figure]))]
        case Reckoning(Word() as word, _, LookUp(table)) if Kind(table.kind) is word.kind:
            found = [(word, _beside(row.steps for row in table.rows))]
            for i, key in enumerate(table.keys):
                bounds = [bound for row in table.rows if isinstance(bound := row.keys[i], int)]
                found.append((key, _beside(bounds) if key.measured else set(key.choices)))
            return found
        case _:
            return None


def _beside(figures: Iterable[int]) -> set[FactValue]:
    return {near for figure in figures for near in (figure - 1, figure, figure + 1)}


def _plausible(word: Word, values: set[FactValue]) -> Iterator[FactValue]:
    """The values that the form takes, with both ends of the word's plausible range."""
    low = -inf if word.low is None else steps(word.kind, word.low)
    high = inf if word.high is None else steps(word.kind, word.high)
    ends = {end for end in (low, high) if isinstance(end, int)}
    for value in values | ends:
        if isinstance(value, str) or (isinstance(value, int) and low <= value <= high):
            yield value
