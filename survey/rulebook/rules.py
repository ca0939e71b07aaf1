"""A rule book as both evaluators and the sheets use it: read, checked, frozen."""

from __future__ import annotations

import datetime as dt
import enum
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property

from survey.rulebook.messages import Mistake
from survey.rulebook.paragraphs import Field
from survey.vocabulary import Kind, Subject, Vocabulary, Word, write_steps


class Outcome(enum.Enum):
    """What a finding does to the verdict, from mildest to worst."""

    NOTE = "note"
    CONDITION = "condition"
    ASK = "ask"
    ENGINEER = "engineer"
    STOP = "stop"

    @property
    def rank(self) -> int:
        """0 for the mildest."""
        return list(Outcome).index(self)


class Operator(enum.Enum):
    """How two figures or answers are compared."""

    __hash__ = object.__hash__  # each is one of a kind; hashing its name would cost more

    IS = "is"
    AT_LEAST = "is at least"
    MORE_THAN = "is more than"
    AT_MOST = "is at most"
    LESS_THAN = "is less than"


class ReleaseBy(enum.Enum):
    """Who may lift a finding."""

    NOBODY = "nobody"
    COMPETENT_PERSON = "competent person"
    ENGINEER = "licensed engineer"


@dataclass(frozen=True, slots=True)
class Limit:
    """A figure of the book with a name.

    Args:
        legal: set by law: a local book may tighten it and never loosen it.
        shown: as written.
        steps: in whole comparison steps of its kind; see ``survey.vocabulary.kinds``.
    """

    name: str
    legal: bool
    shown: str
    kind: str
    steps: int
    source: str
    place: str


@dataclass(frozen=True, slots=True)
class Cost:
    """What a step costs the firm, by which ways to go are put in order; it judges nothing.

    Args:
        name: of a question, or of a sort of step.
        hundredths: of the currency's unit, such as cents.
        currency: three letters, as written.
    """

    name: str
    hundredths: int
    currency: str
    source: str
    place: str

    @property
    def shown(self) -> str:
        """As people read it: ``60 usd``."""
        return money(self.hundredths, self.currency)


def money(hundredths: int, currency: str) -> str:
    """A sum of money.

    >>> money(6000, "usd"), money(1250, "eur")
    ('60 usd', '12.50 eur')
    """
    whole, rest = divmod(hundredths, 100)
    return f"{whole}.{rest:02} {currency}" if rest else f"{whole} {currency}"


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row of a table.

    Args:
        keys: for each key of the table, the choice, or the most that a figure may be, in whole
            steps of the key's kind.
        steps: the figure that the row gives, in whole steps of the table's kind.
        shown: the figure as written.
    """

    keys: tuple[str | int, ...]
    steps: int
    shown: str


@dataclass(frozen=True, slots=True)
class Table:
    """A figure of the book that depends on answers, such as a slope by soil class.

    Every choice of its keys has a row. A figure beyond its last row has no value: not known.

    Args:
        legal: set by law: a local book may tighten it and never loosen it.
        keys: the words it depends on; of them at most one measured, which is the last.
        rows: as written; figures of one choice rise.
    """

    name: str
    legal: bool
    keys: tuple[Word, ...]
    kind: str
    rows: tuple[TableRow, ...]
    source: str
    place: str

    def answers(self, row: TableRow) -> str:
        """What a row is for, as the book says it: ``C, up to 8 ft``."""
        return ", ".join(
            key if isinstance(key, str) else f"up to {write_steps(key, word.kind, word.unit)}"
            for word, key in zip(self.keys, row.keys, strict=True)
        )


@dataclass(frozen=True, slots=True)
class Comparison:
    """One clause: a word against a value, a limit or another word.

    Args:
        word: the word on the left.
        operator: how they are compared.
        operand: whole steps of the word's kind, a choice, or another word of the same kind.
        shown: the operand as written in the rule.
    """

    word: Word
    operator: Operator
    operand: int | str | Word
    shown: str

    @property
    def words(self) -> tuple[Word, ...]:
        """The words it looks at."""
        return (self.word, self.operand) if isinstance(self.operand, Word) else (self.word,)

    def __str__(self) -> str:
        return f"{self.word.name} {self.operator.value} {self.shown}"


class Operation(enum.Enum):
    """How two terms are reckoned together."""

    PLUS = "plus"
    MINUS = "minus"
    TIMES = "times"
    DIVIDED_BY = "divided by"


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure or a limit in a sum.

    Args:
        value: exact, in inches, pounds, days and their products; shares as parts of one.
        shown: as written: the figure, or the limit's name.
        kind: what it measures.
    """

    value: Fraction
    shown: str
    kind: Kind

    def __str__(self) -> str:
        return self.shown


@dataclass(frozen=True, slots=True)
class WorkingDays:
    """Working days after one date, up to and with another; negative if it is earlier."""

    first: Word
    last: Word

    def __str__(self) -> str:
        return f"working days between {self.first.name} and {self.last.name}"


@dataclass(frozen=True, slots=True)
class Arithmetic:
    """Two terms reckoned together. What divides is a figure other than zero."""

    operation: Operation
    left: Term
    right: Term

    def __str__(self) -> str:
        def inner(term: Term) -> str:
            return f"({term})" if isinstance(term, Arithmetic) else str(term)

        return f"{inner(self.left)} {self.operation.value} {inner(self.right)}"


@dataclass(frozen=True, slots=True)
class LookUp:
    """The figure of a table for the answers of a thing."""

    table: Table

    def __str__(self) -> str:
        return self.table.name


Term = Word | Figure | WorkingDays | Arithmetic | LookUp


@dataclass(frozen=True)
class Reckoning:
    """One clause in which something is reckoned or looked up before it is compared.

    Both sides have the same dimension; the book's check has seen to it.
    """

    left: Term
    operator: Operator
    right: Term

    @cached_property
    def words(self) -> tuple[Word, ...]:
        """The words it looks at, each once."""
        return tuple(dict.fromkeys([*words_of(self.left), *words_of(self.right)]))

    @cached_property
    def tables(self) -> tuple[Table, ...]:
        """The tables it looks into, each once."""
        found = {table.name: table for side in (self.left, self.right) for table in tables_of(side)}
        return tuple(found.values())

    def __str__(self) -> str:
        return f"{self.left} {self.operator.value} {self.right}"


@dataclass(frozen=True, slots=True)
class Count:
    """How many things round the one that is judged keep a condition, against a number.

    ``any`` is at least 1, ``no`` is the negation of that, ``every X meets C`` is no X that does
    not meet C.

    Args:
        of: what is counted: a thing, or a pair of the judged thing and another.
        where: the condition; none if all are counted.
        operator: how the number is compared.
        number: what it is compared with.
        shown: the clause as written.
        limit: name of the limit that the number is; empty if it is a plain number.
    """

    of: Subject
    where: Condition | None
    operator: Operator
    number: int
    shown: str
    limit: str = ""

    def __str__(self) -> str:
        return self.shown


@dataclass(frozen=True, slots=True)
class Every:
    """All of its parts."""

    parts: tuple[Condition, ...]


@dataclass(frozen=True, slots=True)
class Either:
    """At least one of its parts."""

    parts: tuple[Condition, ...]


@dataclass(frozen=True, slots=True)
class Negation:
    """Its part does not hold."""

    part: Condition


Clause = Comparison | Reckoning | Count
Condition = Clause | Every | Either | Negation


@dataclass(frozen=True, slots=True)
class Conclusion:
    """``count WORD as CHOICE``: what other rules then see."""

    word: Word
    choice: str


@dataclass(frozen=True, slots=True)
class Lift:
    """``standing release``: an engineer's approval of a detail, for every site that keeps to it.

    Args:
        finding: code of the rule whose findings it lifts.
        engineer: who gave it, with ``licence``, the number and state.
        given, last: its first and its last day.
        note: what it rests on; the crew ticks it.
    """

    finding: str
    engineer: str
    licence: str
    given: dt.date
    last: dt.date
    note: str


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of the book.

    Args:
        code: short and stable, for sheets and releases, such as ``DIG-1``.
        name: the fault, so that it reads well after "this site has".
        topic: heading of its file.
        subject: the thing or pair of things it is judged for.
        then: what it does to the verdict, what it concludes, or which finding it lifts.
        say: what is wrong, with words in braces.
        do: what to do about it; empty for a conclusion.
        who: who does it; empty for a conclusion.
        source: standard and clause, or "common practice".
        release: who may lift it.
        case_fields: its cases as written; read by ``survey.rulebook.cases``.
        place: file and line.
        say_es, do_es: the same in Spanish; empty where nobody has written it.
        local: whether it stands in a firm's own file.
        case_start: answers that each of its cases starts from, as written; for a seat alone.
    """

    code: str
    name: str
    topic: str
    subject: Subject
    condition: Condition
    then: Outcome | Conclusion | Lift
    say: str
    do: str
    who: str
    source: str
    release: ReleaseBy
    case_fields: tuple[Field, ...]
    place: str
    say_es: str = ""
    do_es: str = ""
    local: bool = False
    case_start: Field | None = None

    @property
    def cites_regulation(self) -> bool:
        """Whether it states what the Code of Federal Regulations asks."""
        return re.search(r"\bCFR\b", self.source) is not None


@dataclass(frozen=True, slots=True)
class Need:
    """What a seat needs of one thing, such as the footing or the wall."""

    of: str
    condition: Condition


@dataclass(frozen=True, slots=True)
class CatalogueSeat:
    """One way to take up the footing at a pier; it suits where all that it needs is so.

    Args:
        code: of the rule that counts it out where a need is not met.
        word: what that rule concludes; its prompt says what the seat is.
        prefer: its place among those that suit; 1 is chosen first.
        needs: what must be so, by what it is needed of.
        do: how it is made.
        caution: what to look out for; empty where there is nothing.
        source: standard and clause, or "common practice".
        place: file and line.
        text_es, do_es, caution_es: the same in Spanish, with what the seat is.
    """

    code: str
    word: Word
    prefer: int
    needs: tuple[Need, ...]
    do: str
    caution: str
    source: str
    place: str
    text_es: str = ""
    do_es: str = ""
    caution_es: str = ""


@dataclass(frozen=True, slots=True)
class Change:
    """What a firm's own file does to the shipped book.

    Args:
        what: one sentence for the sheet, such as "limit 'spoil set-back' is 3 ft; shipped: 2 ft".
        why: the reason that the file gives, with the name; empty where none is asked for.
        place: file and line.
        days: first and last day of a standing release; none for what has no end.
    """

    what: str
    why: str
    place: str
    days: tuple[dt.date, dt.date] | None = None


@dataclass(frozen=True)
class RuleBook:
    """Every limit, table and rule.

    Args:
        limits: by name.
        tables: by name.
        levels: the rules in the order in which they chain: a rule stands in a later level than
            the rules whose conclusions it looks at.
        vocabulary: the words that the rules may use: the shipped ones, and a firm's own questions.
        fingerprint: of the text of all files, so that a sheet can say which book it used.
        shipped, local: the same of the shipped files and of a firm's own; none of its own: empty.
        changes: what a firm's own files changed in the shipped book; empty if there are none.
        changed_figures: names of the limits and tables among those changes.
        turned: cases of shipped rules that come out otherwise under the firm's figures.
        seats: the catalogue of seats, the one to be preferred first.
        costs: of steps on a way to go, by name.
    """

    limits: Mapping[str, Limit]
    tables: Mapping[str, Table]
    levels: tuple[tuple[Rule, ...], ...]
    vocabulary: Vocabulary
    fingerprint: str
    changes: tuple[Change, ...] = ()
    changed_figures: frozenset[str] = frozenset()
    turned: tuple[Mistake, ...] = ()
    seats: tuple[CatalogueSeat, ...] = ()
    shipped: str = ""
    local: str = ""
    costs: Mapping[str, Cost] = field(default_factory=dict)

    def __iter__(self) -> Iterator[Rule]:
        for level in self.levels:
            yield from level

    @cached_property
    def rule_fingerprints(self) -> Mapping[str, str]:
        """What each rule judges and says, figures and seats included, as a few signs, by its code.

        Where a rule stands and which cases it has is not part of it. It is kept with the book.
        """
        from survey.rulebook.prints import fingerprints

        return fingerprints(self)

    @cached_property
    def longest_limits(self) -> tuple[tuple[str, Limit], ...]:
        """The limits by name, the longest name first: it may have another within it."""
        return tuple(sorted(self.limits.items(), key=lambda one: len(one[0]), reverse=True))

    def concluding(self, word: Word) -> tuple[Rule, ...]:
        """The rules that conclude a word."""
        return self._concluding.get(word.name, ())

    @cached_property
    def _concluding(self) -> Mapping[str, tuple[Rule, ...]]:
        found: dict[str, tuple[Rule, ...]] = {}
        for rule in self:
            if isinstance(rule.then, Conclusion):
                name = rule.then.word.name
                found[name] = (*found.get(name, ()), rule)
        return found

    @cached_property
    def subjects(self) -> frozenset[Subject]:
        """What the rules are judged for or look round at."""
        return frozenset(
            subject for rule in self for subject in (rule.subject, *counted(rule.condition))
        )


def clauses(condition: Condition) -> Iterator[Clause]:
    """Every clause of a condition, from left to right; what a count looks for is not gone into."""
    match condition:
        case Comparison() | Reckoning() | Count():
            yield condition
        case Every(parts) | Either(parts):
            for part in parts:
                yield from clauses(part)
        case Negation(part):
            yield from clauses(part)


def parts_of(condition: Condition) -> Iterator[Condition]:
    """A condition with all that it is made of, also inside counts."""
    yield condition
    match condition:
        case Every(parts) | Either(parts):
            for part in parts:
                yield from parts_of(part)
        case Negation(part):
            yield from parts_of(part)
        case Count(_, where) if where is not None:
            yield from parts_of(where)


def comparisons(condition: Condition) -> Iterator[Comparison | Reckoning]:
    """Every clause that compares answers, those that a count looks for among them."""
    for clause in clauses(condition):
        if not isinstance(clause, Count):
            yield clause
        elif clause.where is not None:
            yield from comparisons(clause.where)


def counted(condition: Condition) -> Iterator[Subject]:
    """The things that a condition looks round at."""
    for clause in clauses(condition):
        if isinstance(clause, Count):
            yield clause.of


def words_of(term: Term) -> Iterator[Word]:
    """The words that a term looks at."""
    match term:
        case Word():
            yield term
        case WorkingDays(first, last):
            yield from (first, last)
        case Arithmetic(_, left, right):
            yield from words_of(left)
            yield from words_of(right)
        case LookUp(table):
            yield from table.keys


def tables_of(term: Term) -> Iterator[Table]:
    """The tables that a term looks into."""
    match term:
        case LookUp(table):
            yield table
        case Arithmetic(_, left, right):
            yield from tables_of(left)
            yield from tables_of(right)
