"""The cases that stand under each rule: what answers must give what outcome."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from survey.facts import Fact, Facts, FactValue, Thing
from survey.rulebook.check import CheckMistakeError, Scope, read_choice, read_figure
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.judgement import Truth
from survey.rulebook.messages import Mistake, Span
from survey.rulebook.rules import Conclusion, Outcome, Rule, RuleBook
from survey.rulebook.syntax import Node, Phrase, SyntaxMistakeError, child, parse, phrase, unquoted
from survey.vocabulary import (
    DOES_NOT_APPLY,
    NOT_KNOWN,
    SCOPES,
    VOCABULARY,
    Kind,
    Subject,
    Word,
    nearest,
)

_NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Case:
    """Answers and what the rule must give for them; every other answer is not known.

    Args:
        rule: the rule it stands under.
        settings: value of each word that it names.
        gives: an outcome, the concluded choice, ``ask`` or ``nothing``.
        span: where it stands.
    """

    rule: Rule
    settings: Mapping[Word, FactValue]
    gives: str
    span: Span


def read_cases(book: RuleBook) -> tuple[tuple[Case, ...], tuple[Mistake, ...]]:
    """Read the cases of every rule, with every mistake in them."""
    cases: list[Case] = []
    mistakes: list[Mistake] = []
    for rule in book:
        scope = Scope(rule.subject, book.limits)
        for field in rule.case_fields:
            try:
                node = parse(field, "case")
                *settings, gives = [phrase(field, part) for part in _nodes(node)]
                values = dict(_setting(setting, scope) for setting in settings)
                cases.append(Case(rule, values, _gives(rule, gives), field.whole))
            except (SyntaxMistakeError, CheckMistakeError) as fault:
                mistakes.append(fault.mistake)
    return tuple(cases), tuple(mistakes)


def _nodes(node: Node) -> list[Node]:
    return [child(node, i) for i in range(len(node.children))]


def _setting(setting: Phrase, scope: Scope) -> tuple[Word, FactValue]:
    words = scope.words()
    parts = setting.text.split(" ")
    for length in range(len(parts) - 1, 0, -1):
        name = " ".join(parts[:length])
        if name in words:
            word = words[name]
            value = Phrase(" ".join(parts[length:]), setting.span)
            return word, _value(word, value)
    near = nearest(setting.text, words)
    what = f"'{setting.text}' does not start with a word that this rule may use, or has no answer"
    raise CheckMistakeError(setting, what, "Write a word and an answer: pit depth 5 ft.", near)


def _value(word: Word, value: Phrase) -> FactValue:
    text = unquoted(value.text)
    if text == NOT_KNOWN.value:
        return NOT_KNOWN
    if text == DOES_NOT_APPLY.value:
        return DOES_NOT_APPLY
    if word.kind in (Kind.CHOICE, Kind.YES_NO):
        return read_choice(word, value)
    if word.kind in (Kind.TEXT, Kind.REFERENCE):
        what = f"'{word.name}' is a {word.kind.value}; rules don't look at it"
        raise CheckMistakeError(value, what)
    return read_figure(word, value)


def _gives(rule: Rule, gives: Phrase) -> str:
    outcome = rule.then.choice if isinstance(rule.then, Conclusion) else rule.then.value
    allowed = (outcome, Outcome.ASK.value, _NOTHING)
    text = unquoted(gives.text)
    if text not in allowed:
        what = f"'{text}' is nothing that this rule can give"
        help = f"It can give: {', '.join(allowed)}."
        raise CheckMistakeError(gives, what, help, nearest(text, allowed))
    return text


def case_facts(case: Case) -> Facts:
    """The facts of a case: one thing, with the answers that the case names.

    Concluded words stand among the facts, so that the rule is judged on what the case says of
    them and not on what other rules conclude.
    """
    return Facts((_thing(case.rule.subject, case.settings, {}),))


def _thing(
    subject: Subject, settings: Mapping[Word, FactValue], made: dict[Subject, Thing]
) -> Thing:
    parts = {
        other: made[other] if other in made else _thing(other, settings, made)
        for other in SCOPES[subject]
        if other is not subject
    }
    facts = {word.name: Fact(settings.get(word, NOT_KNOWN)) for word in VOCABULARY.of(subject)}
    thing = Thing(subject, subject.value, facts, parts, True, "case")
    made[subject] = thing
    return thing


def stand_alone(case: Case) -> RuleBook:
    """A book of the case's rule alone, so that no other rule's conclusion meddles."""
    return RuleBook({}, ((case.rule,),), "case")


def outcome_of(case: Case) -> str:
    """What the rule gives for the answers of a case, by the direct evaluator."""
    facts = case_facts(case)
    truth = DirectEvaluator(stand_alone(case), facts).truth(case.rule, facts.things[0])
    if truth is Truth.FALSE:
        return _NOTHING
    if truth is Truth.UNKNOWN:
        return Outcome.ASK.value
    then = case.rule.then
    return then.choice if isinstance(then, Conclusion) else then.value


def wrong_cases(book: RuleBook) -> tuple[Mistake, ...]:
    """Every mistake in the cases of a book, and every case that its rule does not keep."""
    cases, mistakes = read_cases(book)
    wrong = [
        Mistake(case.span, f"the case gives '{case.gives}', {case.rule.code} gives '{given}'",
                "Change the case if the rule is right now, or the rule if the case is.")
        for case in cases
        if (given := outcome_of(case)) != case.gives
    ]  # fmt: skip
    return (*mistakes, *wrong)
