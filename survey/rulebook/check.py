"""Check the trees of conditions against the vocabulary: words, kinds, units and choices."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction

from survey.rulebook.dimensions import (
    Dimension,
    DimensionError,
    alike,
    dimension,
    exact,
    multiplied,
    reckonable,
    summed,
)
from survey.rulebook.messages import Mistake
from survey.rulebook.paragraphs import Field
from survey.rulebook.rules import (
    MISTAKEN,
    Arithmetic,
    Comparison,
    Conclusion,
    Condition,
    Count,
    Either,
    Every,
    Figure,
    Limit,
    LookUp,
    Negation,
    Operation,
    Operator,
    Outcome,
    Reckoning,
    Table,
    Term,
    WorkingDays,
    clauses,
    tables_of,
)
from survey.rulebook.syntax import Node, Phrase, child, nodes, phrase, unquoted, whole
from survey.vocabulary import (
    MEASURES,
    OTHERS,
    ROUND,
    SCOPES,
    VOCABULARY,
    Kind,
    Origin,
    QuantityError,
    Subject,
    Vocabulary,
    Word,
    nearest,
    read_quantity,
    steps,
    tidy,
)

_ORDERED = {
    "at_least": Operator.AT_LEAST, "more_than": Operator.MORE_THAN,
    "at_most": Operator.AT_MOST, "less_than": Operator.LESS_THAN,
}  # fmt: skip
_OPERATIONS = {
    "plus": Operation.PLUS, "minus": Operation.MINUS, "times": Operation.TIMES,
    "divided": Operation.DIVIDED_BY,
}  # fmt: skip
_PICKED = (Kind.CHOICE, Kind.YES_NO)
_NOT_TESTABLE = "not known"
_MOST_CLAUSES = 200
_MOST_OPERATIONS = 12
_MOST_TABLES = 2
_LARGEST_FIGURE = 10**9
_NUMBER = re.compile(r"\d{1,9}(?:\.\d{1,9})?", re.ASCII)
_PLURALS = {
    "walls": "wall", "piers": "pier", "utilities": "utility", "neighbours": "neighbour",
    "soil layers": "soil layer", "other piers": "other pier",
}  # fmt: skip


class CheckMistakeError(Exception):
    """A word, unit or choice that does not fit."""

    def __init__(
        self, phrase: Phrase, what: str, help: str = "", nearest: str | None = None
    ) -> None:
        self.mistake = Mistake(phrase.span, what, help, nearest)


@dataclass(frozen=True, slots=True)
class Scope:
    """What a rule may name: the words of its subject's scope, the limits and the tables.

    Args:
        subject: the thing or pair of things that the rule is judged for.
        round: for the condition of a count, the subject of the rule that counts.
    """

    subject: Subject
    limits: Mapping[str, Limit]
    tables: Mapping[str, Table] = field(default_factory=dict)
    vocabulary: Vocabulary = VOCABULARY
    round: Subject | None = None

    def words(self) -> Mapping[str, Word]:
        """The words a rule of this subject may use, by name."""
        return self.vocabulary.scope(self.subject)

    def names(self) -> list[str]:
        """Everything that may stand where a figure is expected."""
        return [*self.words(), *self.limits, *self.tables]

    def word(self, name: Phrase) -> Word:
        """The word that is named.

        Raises:
            CheckMistakeError: there is none, or not one for this subject.
        """
        words = self.words()
        if name.text in words:
            return words[name.text]
        if name.text in self.vocabulary:
            raise self._out_of_scope(name, self.vocabulary[name.text].subject)
        near = nearest(name.text, words)
        what = f"'{name.text}' is not a word that the form or a calculation knows"
        raise CheckMistakeError(name, what, nearest=near)

    def _out_of_scope(self, name: Phrase, subject: Subject) -> CheckMistakeError:
        if Subject.OTHER_PIER in SCOPES[self.subject] and subject in OTHERS:
            help = f"Write '{name.text} of this pier' or '{name.text} of other pier'."
            return CheckMistakeError(name, f"'{name.text}' may be of either pier here", help)
        here = self.subject.value
        what = f"'{name.text}' is said of a {subject.value}; this rule is for each {here}"
        help = f"Write the rule for each {subject.value}, or use a word of a {here}."
        for noun, of in ROUND.get(self.subject, {}).items():
            if subject in SCOPES[of] and self.round is None:
                help = f"Look round for it: any {noun} where {name.text} is ..."
        return CheckMistakeError(name, what, help)


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
    number = sum(
        1 + (sum(1 for _ in clauses(c.where)) if isinstance(c, Count) and c.where else 0)
        for c in clauses(condition)
    )
    if number > _MOST_CLAUSES:
        what = f"a condition of {number} clauses; at most {_MOST_CLAUSES} can be judged quickly"
        raise ConditionMistakesError([Mistake(field.whole, what, "Split it into several rules.")])


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
    except CheckMistakeError as fault:
        mistakes.append(fault.mistake)
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
        inner = Scope(of, scope.limits, scope.tables, scope.vocabulary, scope.subject)
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
        raise CheckMistakeError(noun, what, "Let one rule look round once: split it in two rules.")
    around = ROUND.get(scope.subject, {})
    name = _PLURALS.get(noun.text, noun.text)
    if name in around:
        return around[name]
    what = f"a rule for each {scope.subject.value} can't look round at '{noun.text}'"
    if not around:
        raise CheckMistakeError(noun, what, "Such a rule is judged for one pair of things alone.")
    help = f"It can look at: {', '.join(around)}."
    raise CheckMistakeError(noun, what, help, nearest(name, around))


def _numbered(counted: Count, relation: Node, field: Field, scope: Scope) -> Condition:
    def count(operator: Operator, node: Node) -> Count:
        value = whole(field, node)
        number = _whole_number(value, scope)
        limit = value.text if value.text in scope.limits else ""
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
            raise CheckMistakeError(whole(field, relation), what, "Write 'is between 2 and 4'.")
        case ordered:
            return count(_ORDERED[ordered], parts[0])


def _whole_number(value: Phrase, scope: Scope) -> int:
    limit = scope.limits.get(unquoted(value.text))
    if limit is not None and limit.kind in (Kind.COUNT.value, MISTAKEN):
        return limit.steps
    if value.text.isdecimal() and value.text.isascii() and int(value.text) <= _LARGEST_FIGURE:
        return int(value.text)
    what = f"'{value.text}' is no whole number and no limit that is one"
    raise CheckMistakeError(value, what, "Write it like 'is at least 2'.")


# Comparisons


def _clause(node: Node, field: Field, scope: Scope) -> Condition:
    left, relation = nodes(node)
    operands = nodes(relation)
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
        raise CheckMistakeError(value, what, f'Write it in quotes: is "{cut}".')


def _picked(node: Node, field: Field, scope: Scope) -> Word:
    """The word on the left of 'is', which compares choices."""
    if node.data != "value":
        what = "'is' alone compares choices, and this is reckoned"
        help = "Write 'is at least', 'is at most' or 'is between'."
        raise CheckMistakeError(whole(field, node), what, help)
    return scope.word(phrase(field, node))


def _same(word: Word, value: Phrase, scope: Scope) -> Comparison:
    _refuse_testing_known(word, value)
    if word.kind in _PICKED:
        return Comparison(word, Operator.IS, read_choice(word, value), unquoted(value.text))
    if word.kind in (Kind.TEXT, Kind.REFERENCE):
        what = f"'{word.name}' is a {word.kind.value}; rules judge choices, figures and dates"
        raise CheckMistakeError(value, what, "Ask a question with choices instead.")
    what = f"'{word.name}' is a {word.kind.value}; 'is' alone compares choices"
    raise CheckMistakeError(value, what, "Write 'is at least', 'is at most' or 'is between'.")


def _ordered(
    left: Node, operator: Operator, right: Node, field: Field, scope: Scope
) -> Comparison | Reckoning:
    """A clause with an order: of a word and a figure, or of two terms that are reckoned."""
    plain = left.data == right.data == "value"
    if plain and phrase(field, left).text not in scope.tables:
        value = phrase(field, right)
        if unquoted(value.text) not in scope.tables:
            return _compared(scope.word(phrase(field, left)), operator, value, scope)
    one, first = _term(left, field, scope)
    other, second = _term(right, field, scope)
    if not alike(first, second):
        what = f"{first} is compared with {second}"
        raise CheckMistakeError(whole(field, right), what, "Only like can be compared with like.")
    reckoning = Reckoning(one, operator, other)
    if not reckoning.words:
        what = "no answer is compared here, only figures"
        raise CheckMistakeError(whole(field, left), what, "Name a word of the form.")
    if _operations(one) + _operations(other) > _MOST_OPERATIONS:
        what = f"more than {_MOST_OPERATIONS} operations in one clause"
        raise CheckMistakeError(whole(field, left), what, "Split it into several clauses.")
    if len(set(tables_of(one)) | set(tables_of(other))) > _MOST_TABLES:
        what = f"more than {_MOST_TABLES} tables in one clause"
        raise CheckMistakeError(whole(field, left), what, "Split it into several clauses.")
    return reckoning


def _compared(word: Word, operator: Operator, value: Phrase, scope: Scope) -> Comparison:
    _refuse_testing_known(word, value)
    if not (word.measured or word.kind is Kind.DATE):
        ordered = operator.value.removeprefix("is ")
        what = f"'{word.name}' is a {word.kind.value} and can't be {ordered}"
        help = f"Write 'is' and one of: {', '.join(word.choices)}." if word.choices else ""
        raise CheckMistakeError(value, what, help)
    return Comparison(word, operator, _operand(word, value, scope), unquoted(value.text))


def _operand(word: Word, value: Phrase, scope: Scope) -> int | Word:
    """A figure, a limit, or another word of the same kind."""
    name = unquoted(value.text)
    limit = scope.limits.get(name)
    if limit is not None:
        if limit.kind not in (word.kind.value, MISTAKEN):
            what = f"'{name}' is a limit of {limit.kind}; '{word.name}' is a {word.kind.value}"
            raise CheckMistakeError(value, what, f"Give the limit a unit of {word.kind.value}.")
        return limit.steps
    if name in scope.words() or name in scope.vocabulary:
        other = scope.word(Phrase(name, value.span))
        if other.kind is not word.kind:
            what = f"'{word.name}' is a {word.kind.value} and '{name}' is a {other.kind.value}"
            raise CheckMistakeError(value, what, "Only like can be compared with like.")
        return other
    return read_figure(word, value, scope.names())


# Terms


def _term(node: Node, field: Field, scope: Scope) -> tuple[Term, Dimension]:
    """A side of a clause, with what it measures."""
    if node.data == "value":
        return _leaf(phrase(field, node), scope)
    if node.data == "working_days":
        first, last = (_date(phrase(field, part), scope) for part in nodes(node))
        return WorkingDays(first, last), dimension(Kind.DAYS)
    left, right = nodes(node)
    operation = _OPERATIONS[node.data]
    one, first_dimension = _term(left, field, scope)
    other, second_dimension = _term(right, field, scope)
    try:
        if operation in (Operation.PLUS, Operation.MINUS):
            minus = operation is Operation.MINUS
            result = summed(first_dimension, second_dimension, minus=minus)
        else:
            divided = operation is Operation.DIVIDED_BY
            if divided:
                _refuse_divisor(other, whole(field, right))
            result = multiplied(first_dimension, second_dimension, divided=divided)
    except DimensionError as fault:
        raise CheckMistakeError(whole(field, node), str(fault), "Check the units.") from None
    return Arithmetic(operation, one, other), result


def _leaf(value: Phrase, scope: Scope) -> tuple[Term, Dimension]:
    name = unquoted(value.text)
    if name in scope.words() or name in scope.vocabulary:
        word = scope.word(Phrase(name, value.span))
        if not reckonable(word.kind):
            what = f"'{name}' is a {word.kind.value} and can't be reckoned with"
            raise CheckMistakeError(value, what, "Figures and dates can.")
        return word, dimension(word.kind)
    if name in scope.tables:
        table = scope.tables[name]
        strange = [key for key in table.keys if key not in scope.words().values()]
        if strange:
            what = f"the table '{name}' goes by '{strange[0]}', of which this rule knows nothing"
            raise CheckMistakeError(
                value, what, f"Write the rule for each {strange[0].subject.value}."
            )
        return LookUp(table), dimension(Kind(table.kind))
    if name in scope.limits:
        limit = scope.limits[name]
        kind = Kind.COUNT if limit.kind == MISTAKEN else Kind(limit.kind)
        return Figure(exact(kind, limit.steps), name, kind), dimension(kind)
    if _NUMBER.fullmatch(name):
        return Figure(Fraction(name), name, Kind.COUNT), dimension(Kind.COUNT)
    measured = any_quantity(name) or _any_date(name)
    if measured is None:
        what = (
            f"'{name}' is no figure with a unit, no limit, no table and no word that the form knows"
        )
        raise CheckMistakeError(value, what, nearest=nearest(name, scope.names()))
    kind, count = measured
    return Figure(exact(kind, count), name, kind), dimension(kind)


def _date(name: Phrase, scope: Scope) -> Word:
    word = scope.word(name)
    if word.kind is not Kind.DATE:
        what = f"'{word.name}' is a {word.kind.value}; working days lie between two dates"
        raise CheckMistakeError(name, what)
    return word


def _refuse_divisor(term: Term, place: Phrase) -> None:
    if not isinstance(term, Figure):
        what = "only a figure can stand after 'divided by'"
        help = "Multiply the other side instead: 'A is less than 2 times B'."
        raise CheckMistakeError(place, what, help)
    if term.value == 0:
        raise CheckMistakeError(place, "nothing can be divided by zero")


def _operations(term: Term) -> int:
    if isinstance(term, Arithmetic):
        return 1 + _operations(term.left) + _operations(term.right)
    return 0


def any_quantity(text: str) -> tuple[Kind, int] | None:
    """The kind that the unit tells, and the figure in whole steps; counts need no unit."""
    for kind in MEASURES:
        try:
            bare = "" if kind is Kind.COUNT else None
            return kind, _steps(kind, text, bare)
        except QuantityError:
            continue
    return None


def _any_date(text: str) -> tuple[Kind, int] | None:
    try:
        return Kind.DATE, dt.date.fromisoformat(text).toordinal()
    except ValueError:
        return None


def _steps(kind: Kind, text: str, bare: str | None) -> int:
    value = read_quantity(text, kind, bare)
    if abs(value) > _LARGEST_FIGURE:
        raise QuantityError("a smaller figure")
    if kind is Kind.COUNT and value != round(value):
        raise QuantityError("a whole number; write a factor of 1.5 as 150 %")
    return steps(kind, value)


def read_figure(word: Word, value: Phrase, names: Iterable[str] = ()) -> int:
    """A quantity with its unit, or a date, in whole steps.

    Raises:
        CheckMistakeError: no such quantity; or a word that is neither word nor limit.
    """
    text = unquoted(value.text)
    if word.kind is Kind.DATE:
        try:
            return dt.date.fromisoformat(text).toordinal()
        except ValueError:
            near = nearest(text, names)
            what = f"'{text}' is no date such as 2026-04-03 and no word for one"
            raise CheckMistakeError(value, what, nearest=near) from None
    bare = "" if word.kind is Kind.COUNT else None
    try:
        return _steps(word.kind, text, bare)
    except QuantityError as fault:
        if not text[:1].isdigit():
            near = nearest(text, names)
            what = f"'{text}' is no {word.kind.value}, no limit and no word that the form knows"
            raise CheckMistakeError(value, what, nearest=near) from None
        raise CheckMistakeError(
            value, f"'{text}' does not fit '{word.name}'; expected {fault}"
        ) from None


def read_choice(word: Word, value: Phrase) -> str:
    """One of the word's choices.

    Raises:
        CheckMistakeError: it is none of them.
    """
    text = tidy(unquoted(value.text))
    for choice in word.choices:
        if choice == text:
            return choice
    listed = ", ".join(f'"{c}"' if "," in c or " or " in c else c for c in word.choices)
    what = f"'{text}' is not a choice of '{word.name}'"
    raise CheckMistakeError(value, what, f"Its choices are: {listed}.", nearest(text, word.choices))


def _refuse_testing_known(word: Word, value: Phrase) -> None:
    if unquoted(value.text) in (_NOT_TESTABLE, "known"):
        what = f"a rule can't test whether '{word.name}' is known"
        help = "Leave it out: while an answer that matters is not known, the rule asks for it."
        raise CheckMistakeError(value, what, help)


def read_outcome(node: Node, field: Field, scope: Scope) -> Outcome | Conclusion:
    """What follows ``then``.

    Raises:
        CheckMistakeError: no such outcome, or a word that rules can't conclude.
    """
    if node.data == "plain_outcome":
        said = phrase(field, child(node, 0))
        for outcome in Outcome:
            if said.text == outcome.value:
                return outcome
        names = [outcome.value for outcome in Outcome]
        what = f"'{said.text}' is no outcome"
        help = f"Outcomes are: {', '.join(names)}, or 'count WORD as CHOICE'."
        raise CheckMistakeError(said, what, help, nearest(said.text, names))
    name, value = phrase(field, child(node, 0)), phrase(field, child(node, 1))
    word = scope.word(name)
    if word.origin is not Origin.CONCLUDED:
        concluded = [w.name for w in scope.vocabulary.words if w.origin is Origin.CONCLUDED]
        what = f"'{word.name}' is {word.origin.value}; rules can't conclude it"
        raise CheckMistakeError(name, what, f"Rules can conclude: {', '.join(concluded)}.")
    if word.subject is not scope.subject:
        here = f"this rule is for each {scope.subject.value}"
        raise CheckMistakeError(name, f"'{word.name}' is said of a {word.subject.value}; {here}")
    return Conclusion(word, read_choice(word, value))
