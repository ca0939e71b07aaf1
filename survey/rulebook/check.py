"""Check the trees of conditions against the vocabulary: words, kinds, units and choices."""

from __future__ import annotations

import math
from dataclasses import replace

from survey.rulebook.dimensions import (
    alike,
    dimension,
)
from survey.rulebook.fields import each
from survey.rulebook.messages import Mistake, MistakeError
from survey.rulebook.paragraphs import Field
from survey.rulebook.rules import (
    Clause,
    Comparison,
    Conclusion,
    Condition,
    Count,
    Either,
    Every,
    Negation,
    Operator,
    Outcome,
    Reckoning,
    clauses,
    tables_of,
)
from survey.rulebook.scope import Scope
from survey.rulebook.slips import slip
from survey.rulebook.sums import operations, refuse_long_sums, refuse_many_rows, term
from survey.rulebook.syntax import Node, Phrase, child, nodes, phrase, unquoted, whole, wrong
from survey.rulebook.values import (
    listed,
    read_choice,
    read_figure,
)
from survey.vocabulary import (
    MEASURES,
    ROUND,
    SCOPES,
    Kind,
    Origin,
    Subject,
    Word,
    nearest,
)

_ORDERED = {
    "at_least": Operator.AT_LEAST, "more_than": Operator.MORE_THAN,
    "at_most": Operator.AT_MOST, "less_than": Operator.LESS_THAN,
}  # fmt: skip
_COMPARED = ("at least", "more than", "at most", "less than")
_PICKED = (Kind.CHOICE, Kind.YES_NO)
_NOT_TESTABLE = "not known"
_MOST_CLAUSES, _MOST_LOOKED_AT = 200, 10
_MOST_COUNTED = 10**6
_MOST_ANSWERS = 100  # the second evaluator takes 255 properties, two for each
_PLURALS = {
    "walls": "wall", "piers": "pier", "utilities": "utility", "neighbours": "neighbour",
    "soil layers": "soil layer", "other piers": "other pier",
}  # fmt: skip


def read_condition(node: Node, field: Field, scope: Scope) -> Condition:
    """Check a condition; the first mistake in each clause is collected, not only the first of all.

    Raises:
        ConditionMistakesError: every mistake found.
    """
    mistakes: list[Mistake] = []
    condition = _condition(child(node, 0), field, scope, mistakes)
    if mistakes or condition is None:
        raise ConditionMistakesError(mistakes)
    _refuse_long(condition, field)
    return condition


class ConditionMistakesError(Exception):
    """The mistakes of a whole condition."""

    def __init__(self, mistakes: list[Mistake]) -> None:
        self.mistakes = mistakes


def _refuse_long(condition: Condition, field: Field) -> None:
    """What is judged for each of sixty piers, and each pair of them, takes less than a second."""
    plain, looked = 0, 0
    for clause in clauses(condition):
        within = clause.where if isinstance(clause, Count) else None
        looked += sum(map(_work, clauses(within))) if within is not None else 0
        plain += _work(clause)
    for number, most, where in (
        (plain, _MOST_CLAUSES, "in one condition"), (looked, _MOST_LOOKED_AT, "after 'where'"),
    ):  # fmt: skip
        if number > most:
            what = f"{number} clauses, sums and rows {where}; at most {most} can be judged quickly"
            mistake = Mistake(field.whole, what, "Split it into several rules.")
            raise ConditionMistakesError([mistake])
    inner = [c.where for c in clauses(condition) if isinstance(c, Count) and c.where is not None]
    if any(_answers(part) > _MOST_ANSWERS for part in (condition, *inner)):
        what = f"a condition that looks at more than {_MOST_ANSWERS} different answers"
        mistake = Mistake(field.whole, what, "Split it into several rules.")
        raise ConditionMistakesError([mistake])


def _answers(condition: Condition) -> int:
    """How many different words, sums and counts a condition looks at, those of counts left out."""
    looked = list(clauses(condition))
    words = {word for clause in looked if isinstance(clause, Comparison) for word in clause.words}
    return len(words) + len({clause for clause in looked if not isinstance(clause, Comparison)})


def _work(clause: Clause) -> int:
    """How long a clause takes to judge, counted in plain clauses."""
    if not isinstance(clause, Reckoning):
        return 1
    sums = sum(map(operations, (clause.left, clause.right)))
    rows = [len(table.rows) for side in (clause.left, clause.right) for table in tables_of(side)]
    return 1 + 2 * sums + (math.prod(rows) // 10 if rows else 0)


def _condition(node: Node, field: Field, scope: Scope, mistakes: list[Mistake]) -> Condition | None:
    if node.data in ("both", "either", "negation"):
        parts = [_condition(part, field, scope, mistakes) for part in nodes(node)]
        whole = tuple(part for part in parts if part is not None)
        if len(whole) != len(parts):
            return None
        if node.data == "negation":
            return _opposite(whole[0])
        return Every(whole) if node.data == "both" else Either(whole)
    try:
        if node.data in ("any", "no", "every", "number"):
            return _count(node, field, scope, mistakes)
        return _clause(node, field, scope)
    except MistakeError as fault:
        mistakes.append(slip(field, "condition", fault.mistake.span) or fault.mistake)
        return None


def _opposite(condition: Condition) -> Condition:
    return condition.part if isinstance(condition, Negation) else Negation(condition)


# Counts


def _count(node: Node, field: Field, scope: Scope, mistakes: list[Mistake]) -> Condition | None:
    """``any``, ``no``, ``every`` and ``number of``: each a number of things, compared."""
    noun, *rest = nodes(node)
    of = _looked_at(phrase(field, noun), scope)
    relation = rest.pop() if node.data == "number" else None
    where: Condition | None = None
    if rest:
        inner = replace(scope, subject=of, round=scope.subject)
        where = _condition(rest[0], field, inner, mistakes)
        if where is None:
            return None
    shown = whole(field, node).text
    if relation is not None:
        all_of_them = Count(of, where, Operator.AT_LEAST, 0, f"number of {shown}")
        return _numbered(all_of_them, relation, field, scope)
    if node.data == "every":  # no thing that does not meet it
        assert where is not None
        shown = shown.replace(" meets ", " that does not meet ", 1)
        return Negation(Count(of, _opposite(where), Operator.AT_LEAST, 1, f"any {shown}"))
    some = Count(of, where, Operator.AT_LEAST, 1, f"any {shown}")
    return Negation(some) if node.data == "no" else some


def _looked_at(noun: Phrase, scope: Scope) -> Subject:
    if scope.round is not None:
        what = "a look round within a look round"
        raise wrong(noun, what, "Let one rule look round once: split it in two rules.")
    around = ROUND.get(scope.subject, {})
    name = _PLURALS.get(noun.text, noun.text)
    if name in around:
        return around[name]
    what = f"a rule for {each(scope.subject.value)} can't look round at '{noun.text}'"
    if not around:
        raise wrong(noun, what, "Such a rule is judged for one pair of things alone.")
    help = f"It can look at: {', '.join(around)}."
    if name in (part.value for part in SCOPES[scope.subject]):
        help = f"It knows its {name} already: write the words of that without 'any'."
    plurals = (plural for plural, one in _PLURALS.items() if one in around)
    raise wrong(noun, what, help, nearest(noun.text, [*around, *plurals]))


def _numbered(counted: Count, relation: Node, field: Field, scope: Scope) -> Condition:
    def count(operator: Operator, node: Node) -> Count:
        value = whole(field, node)
        number = _whole_number(value, scope)
        name = unquoted(value.text)
        limit = name if name in scope.limits else ""
        return replace(counted, operator=operator, number=number, limit=limit)

    parts = nodes(relation)
    match relation.data:
        case "is_value":
            least, most = (count(op, parts[0]) for op in (Operator.AT_LEAST, Operator.AT_MOST))
            return Every((least, most))
        case "is_not_value":
            below, above = (count(op, parts[0]) for op in (Operator.LESS_THAN, Operator.MORE_THAN))
            return Either((below, above))
        case "between":
            low, high = parts
            return Every((count(Operator.AT_LEAST, low), count(Operator.AT_MOST, high)))
        case "is_one_of":
            what = "a number can't be one of several"
            raise wrong(whole(field, relation), what, "Write 'is between 2 and 4'.")
        case ordered:
            return count(_ORDERED[ordered], parts[0])


def _whole_number(value: Phrase, scope: Scope) -> int:
    limit = scope.limits.get(unquoted(value.text))
    if limit is not None and limit.kind == Kind.COUNT.value:
        return limit.steps
    scope.refuse_mistaken(value)
    if limit is not None:
        what = f"'{limit.name}' is {limit.shown}, {dimension(Kind(limit.kind))}, and no number"
        raise wrong(value, what, f"Give the limit, at {limit.place}, a whole number.")
    if value.text.isdecimal() and value.text.isascii() and int(value.text) <= _MOST_COUNTED:
        return int(value.text)
    what = f"'{value.text}' is no whole number and no limit that is one"
    raise wrong(value, what, "Write it like 'is at least 2'.")


# Comparisons


def _clause(node: Node, field: Field, scope: Scope) -> Condition:
    left, relation = nodes(node)
    operands = nodes(relation)
    refuse_long_sums(field, left, *operands)
    match relation.data:
        case "is_value":
            return _same(_picked(left, field, scope), phrase(field, operands[0]), scope)
        case "is_not_value":
            word, value = _picked(left, field, scope), phrase(field, operands[0])
            _refuse_cut_choice(word, value)
            return Negation(_same(word, value, scope))
        case "is_one_of":
            word = _picked(left, field, scope)
            return Either(tuple(_same(word, phrase(field, one), scope) for one in operands))
        case "between":
            low, high = operands
            return Every(
                (
                    _ordered(left, Operator.AT_LEAST, low, field, scope),
                    _ordered(left, Operator.AT_MOST, high, field, scope),
                )
            )
        case ordered:
            return _ordered(left, _ORDERED[ordered], operands[0], field, scope)


def _refuse_cut_choice(word: Word, value: Phrase) -> None:
    """A choice such as 'not seen' would be read as 'is not' and the rest."""
    cut = f"not {unquoted(value.text)}"
    if cut in word.choices and unquoted(value.text) not in word.choices:
        what = f"'{cut}' is one choice of '{word.name}', and is read here as 'is not'"
        raise wrong(value, what, f'Write it in quotes: is "{cut}".')


def _picked(node: Node, field: Field, scope: Scope) -> Word:
    """The word on the left of 'is', which compares choices."""
    if node.data != "value":
        what = "'is' alone compares choices, and this is reckoned"
        help = "Write 'is at least', 'is at most' or 'is between'."
        raise wrong(whole(field, node), what, help)
    return scope.word(phrase(field, node))


def _same(word: Word, value: Phrase, scope: Scope) -> Comparison:
    _refuse_testing_known(word, value)
    if word.kind in _PICKED:
        return Comparison(word, Operator.IS, read_choice(word, value), unquoted(value.text))
    if word.kind in (Kind.TEXT, Kind.REFERENCE):
        what = f"'{word.name}' is {word.kind.one}; rules judge choices, figures and dates"
        raise wrong(value, what, "Ask a question with choices instead.")
    what = f"'{word.name}' is {word.kind.one}; 'is' alone compares choices"
    near = nearest(" ".join(value.text.split()[:2]), _COMPARED)
    help = "Write 'is at least', 'is at most' or 'is between'."
    raise wrong(value, what, "" if near else help, near)


def _ordered(
    left: Node, operator: Operator, right: Node, field: Field, scope: Scope
) -> Comparison | Reckoning:
    """A clause with an order: of a word and a figure, or of two terms that are reckoned."""
    plain = left.data == right.data == "value"
    if plain and phrase(field, left).text not in scope.tables:
        value = phrase(field, right)
        if unquoted(value.text) not in scope.tables:
            return _compared(scope.word(phrase(field, left)), operator, value, scope)
    one, first = term(left, field, scope)
    other, second = term(right, field, scope)
    place = whole(field, right)
    if not alike(first, second):
        help = "Only like can be compared with like."
        if second.kind is Kind.COUNT and place.text.isdecimal() and first.kind is not None:
            help = f"Give it a unit, such as: {place.text} {MEASURES[first.kind].canonical}"
        raise wrong(place, f"{first} is compared with {second}", help)
    reckoning = Reckoning(one, operator, other)
    if not reckoning.words:
        what = "no answer is compared here, only figures"
        raise wrong(whole(field, left), what, "Name a word of the form.")
    refuse_many_rows(whole(field, left) if any(tables_of(one)) else place, one, other)
    return reckoning


def _compared(word: Word, operator: Operator, value: Phrase, scope: Scope) -> Comparison:
    _refuse_testing_known(word, value)
    if not (word.measured or word.kind is Kind.DATE):
        ordered = operator.value.removeprefix("is ")
        what = f"'{word.name}' is {word.kind.one} and can't be {ordered}"
        help = "Ask a question with choices instead."
        if word.choices:
            help = f"Write 'is' and one of: {listed(word)}."
        raise wrong(value, what, help)
    return Comparison(word, operator, _operand(word, value, scope), unquoted(value.text))


def _operand(word: Word, value: Phrase, scope: Scope) -> int | Word:
    """A figure, a limit, or another word of the same kind."""
    name = unquoted(value.text)
    limit = scope.limits.get(name)
    if limit is not None:
        if limit.kind != word.kind.value:
            measured = dimension(Kind(limit.kind))
            what = f"'{name}' is {limit.shown}, {measured}; '{word.name}' is {word.kind.one}"
            help = f"Give the limit, at {limit.place}, a unit of {word.kind.value}."
            raise wrong(value, what, help)
        return limit.steps
    if name in scope.words() or name in scope.vocabulary:
        other = scope.word(Phrase(name, value.span))
        if other.kind is not word.kind:
            what = f"'{word.name}' is {word.kind.one} and '{name}' is {other.kind.one}"
            raise wrong(value, what, "Only like can be compared with like.")
        return other
    scope.refuse_mistaken(value)
    return read_figure(word, value, scope.names())


def _refuse_testing_known(word: Word, value: Phrase) -> None:
    if unquoted(value.text) in (_NOT_TESTABLE, "known"):
        what = f"a rule can't test whether '{word.name}' is known"
        help = "Leave it out: while an answer that matters is not known, the rule asks for it."
        raise wrong(value, what, help)


def read_outcome(node: Node, field: Field, scope: Scope) -> Outcome | Conclusion:
    """What follows ``then``.

    Raises:
        MistakeError: no such outcome, or a word that rules can't conclude.
    """
    if node.data == "plain_outcome":
        said = phrase(field, child(node, 0))
        for outcome in Outcome:
            if said.text == outcome.value:
                return outcome
        names = [outcome.value for outcome in Outcome]
        what = f"'{said.text}' is no outcome"
        help = f"Outcomes are: {', '.join(names)}, or 'count WORD as CHOICE'."
        raise wrong(said, what, help, nearest(said.text, names))
    name, value = phrase(field, child(node, 0)), phrase(field, child(node, 1))
    scope.refuse_mistaken(name)
    concluded = [w.name for w in scope.vocabulary.words if w.origin is Origin.CONCLUDED]
    help = f"Rules can conclude: {', '.join(concluded)}."
    if name.text not in scope.vocabulary:
        what = f"'{name.text}' is not a word that rules can conclude"
        raise wrong(name, what, help, nearest(name.text, concluded))
    word = scope.vocabulary[name.text]
    if word.origin is not Origin.CONCLUDED:
        raise wrong(name, f"'{word.name}' is {word.origin.value}; rules can't conclude it", help)
    if word.subject is not scope.subject:
        here, there = each(scope.subject.value), each(word.subject.value)
        what = f"'{word.name}' is said of a {word.subject.value}; this rule is for {here}"
        raise wrong(name, what, f"Write the rule for {there}.")
    return Conclusion(word, read_choice(word, value))
