"""Examples of a rule that is met: answers that are proved by judging the rule on them.

Each way in which a rule can be met has its own example, with the answers just where they turn the
rule over, and beside it one answer changed so that the rule is not met.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import islice

from survey.facts import FactValue
from survey.rulebook.cases import Case, Settings, given_when_met, outcome_of
from survey.rulebook.rules import Comparison, Rule, RuleBook, comparisons
from survey.rulebook.study.answering import Answering, ways
from survey.rulebook.study.changes import little
from survey.vocabulary import Word

_MOST_WAYS_TRIED = 200
_MOST_TURNED_ROUND = 16
_NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Example:
    """Answers for which a rule is met, and the same with one changed for which it is not.

    Args:
        met: judged as met.
        not_met: judged as not met; none if none was found.
    """

    met: Case
    not_met: Case | None


def examples(rule: Rule, book: RuleBook) -> Iterator[Example]:
    """An example for each way in which a rule is met, in the order of its clauses.

    Where none could be worked out, the rule's own cases that are met are its examples.
    """
    answering = Answering(rule, book)
    found: list[Case] = []
    for way in islice(ways(rule.condition), _MOST_WAYS_TRIED):
        case = answering.answers(way)
        if case is not None and case not in found and _met(case):
            found.append(case)
            yield _with_one_beside(case, answering)
    if not found:
        yield from (_with_one_beside(case, answering) for case in answering.cases if _met(case))


def _met(case: Case) -> bool:
    return outcome_of(case) == given_when_met(case.rule)


def _with_one_beside(case: Case, answering: Answering) -> Example:
    """The example of a case; where needed, with answers that keep other ways from being met."""
    for full in (case, *_filled_up(case, answering)):
        if _met(full):
            # First those whose answers may all stand on one form.
            beside = sorted(_beside(full, case.settings), key=_contradicts)
            for other in beside:
                if outcome_of(other) == _NOTHING:
                    return Example(full, other)
    return Example(case, None)


def _filled_up(case: Case, answering: Answering) -> list[Case]:
    """The case with more answers, from those for which its rule is not met; the fewest first."""
    found: list[Case] = []
    for way in islice(ways(case.rule.condition, wanted=False), _MOST_TURNED_ROUND):
        other = answering.answers(way)
        if other is not None:
            more = {w: value for w, value in other.settings.items() if w not in case.settings}
            around = case.around or other.around
            found.append(replace(case, settings={**case.settings, **more}, around=around))
    return sorted(found, key=lambda one: len(one.settings) + len(one.around))


def _contradicts(case: Case) -> bool:
    """Whether a question is answered that does not apply by another answer."""
    for settings in (case.settings, *(thing.settings for thing in case.around)):
        given = {word.itself.name: value for word, value in settings.items()}
        for word in settings:
            when = word.asks_when
            if when is not None and given.get(when.word, when.choices[0]) not in when.choices:
                return True
    return False


def _beside(case: Case, changed: Settings) -> Iterator[Case]:
    """The case with one answer changed; first figures, then choices, then what lies round it."""
    for word, value in _figures_first(changed):
        for other in _others(word, value, case):
            yield replace(case, settings={**case.settings, word: other})
    for i, thing in enumerate(case.around):
        before, after = case.around[:i], case.around[i + 1 :]
        for word, value in _figures_first(thing.settings):
            for other in _others(word, value, case):
                one = replace(thing, settings={**thing.settings, word: other})
                yield replace(case, around=(*before, one, *after))
        yield replace(case, around=(*before, *after))
        yield replace(case, around=(*before, thing, thing, *after))


def _figures_first(settings: Settings) -> list[tuple[Word, FactValue]]:
    return sorted(settings.items(), key=lambda item: not isinstance(item[1], int))


def _others(word: Word, value: FactValue, case: Case) -> Iterator[FactValue]:
    """Other answers to a word, the nearest first."""
    if not isinstance(value, int):
        yield from (choice for choice in word.choices if choice != value)
        return
    small = little(word.kind, value)
    yield from (value - small, value + small)
    for clause in comparisons(case.rule.condition):
        if isinstance(clause, Comparison) and clause.word == word:
            figure = clause.operand
            if isinstance(figure, int):
                yield from (figure, figure - small, figure + small)
