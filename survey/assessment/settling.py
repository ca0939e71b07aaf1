"""What would settle a finding that can't be told, and to what: read off what is left of its rule.

Nothing of this decides anything; it is worked out when a sheet asks for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from survey.assessment.filling import limit_beside
from survey.assessment.findings import Finding
from survey.engineering.working import Input
from survey.facts import FactValue, Thing, shown
from survey.rulebook.direct import DirectEvaluator, Told
from survey.rulebook.judgement import Truth
from survey.rulebook.residual import (
    AllOf,
    Another,
    AnyOf,
    AtWall,
    Left,
    NotSo,
    Rest,
    Tally,
    left_in,
    rest_of,
    thresholds,
    truth_of,
)
from survey.rulebook.rules import (
    Arithmetic,
    Comparison,
    Count,
    Figure,
    LookUp,
    Operator,
    Outcome,
    Reckoning,
    RuleBook,
    Term,
    WorkingDays,
)
from survey.vocabulary import NOT_KNOWN, SCOPES, Kind, Missing, Origin, Subject, Word, steps

_NOTHING, MORE = "nothing", "more is needed"
_MOST_NAMED, _MOST_CODES = 12, 4
_Units = Mapping[Kind, str | None]  # in which the answers beside a figure are printed


@dataclass(frozen=True, slots=True)
class Settles:
    """What one answer would do to a finding that waits for it.

    Args:
        input: the answer, with its cell.
        to: each answer, or stretch of answers, with what it makes of the finding: the rule's
            outcome, ``nothing``, or that more is needed; empty where only trying would tell.
        alone: whether it settles the finding by itself, whatever it turns out to be.
        through: figures and conclusions that wait for it, and that the rule looks at.
        then: questions that are asked only after it, and that the rule looks at.
        others: the other answers that the finding waits for.
    """

    input: Input
    to: tuple[tuple[str, str], ...]
    alone: bool
    through: tuple[str, ...]
    then: tuple[str, ...]
    others: tuple[Input, ...]


@dataclass(frozen=True, slots=True)
class Settling:
    """What would settle a finding, and to what.

    Args:
        text: such as ``stop, if spoil distance is less than 2 ft; nothing otherwise``.
        answers: what each answer would do that the finding waits for.
        says_all: whether the text alone says what its one answer would do.
    """

    text: str
    answers: tuple[Settles, ...]
    says_all: bool


@dataclass(frozen=True, eq=False)
class Settler:
    """Tells what would settle the findings of one site.

    Args:
        evaluator: the one that made the findings.
        told: the rules that could not be told, by code and place of their finding.
    """

    book: RuleBook
    evaluator: DirectEvaluator
    told: Mapping[tuple[str, str], Told]
    _kept: dict[tuple[object, ...], tuple[Settles, ...]] = field(default_factory=dict, repr=False)

    @classmethod
    def of(cls, book: RuleBook, evaluator: DirectEvaluator, told: Iterable[Told]) -> Settler:
        """One for all that a direct evaluator could not tell."""
        waiting: dict[tuple[str, str], Told] = {}
        for one in told:
            if one.truth is Truth.UNKNOWN:
                place = one.thing.label if one.thing.listed else "site"
                waiting.setdefault((one.rule.code, place), one)
        return cls(book, evaluator, waiting)

    def waits(self, finding: Finding) -> bool:
        """Whether a finding stands because its rule could not be told."""
        asked = finding.outcome is Outcome.ASK
        return asked and (finding.rule.code, finding.place) in self.told

    def settling(self, finding: Finding, *, named: bool = False) -> Settling | None:
        """What would settle a finding; none if it was told.

        Args:
            finding: of this site.
            named: whether its own place stands in the text: ``spoil distance of P3``. Without,
                places that wait for the same say the same.
        """
        if not self.waits(finding):
            return None
        told = self.told[finding.rule.code, finding.place]
        rest = rest_of(told.rule, told.thing, self.evaluator)
        if isinstance(rest, Truth):
            return None
        writer = _Writer(self.book, self.evaluator, None if named else told.thing)
        condition = writer.written(rest)
        assert isinstance(told.rule.then, Outcome)
        text = f"{told.rule.then.value}, if {condition}; {_NOTHING} otherwise"
        answers = self._answers(finding, told, rest, condition)
        return Settling(text, answers, len(answers) == 1 and _asks(rest, answers[0].input))

    def _answers(
        self, finding: Finding, told: Told, rest: Rest, condition: str
    ) -> tuple[Settles, ...]:
        """The same for all places that have the same left and wait for the same answers."""
        words = tuple(given.word for given in finding.settles)
        alike = (told.rule.code, condition, words) if told.thing.listed else (finding,)
        if alike in self._kept:
            kept = self._kept[alike]
            return tuple(
                Settles(
                    given, one.to, one.alone, one.through, one.then, _but(given, finding.settles)
                )
                for given, one in zip(finding.settles, kept, strict=True)
            )
        found = tuple(self._settles(given, finding, told, rest) for given in finding.settles)
        self._kept[alike] = found
        return found

    def _settles(self, given: Input, finding: Finding, told: Told, rest: Rest) -> Settles:
        word = self.book.vocabulary[given.word]
        assert isinstance(told.rule.then, Outcome)
        outcomes = {
            Truth.TRUE: told.rule.then.value, Truth.FALSE: _NOTHING, Truth.UNKNOWN: MORE,
        }  # fmt: skip

        def outcome(value: FactValue) -> str:
            supposing = self.evaluator.supposing({(word.name, given.label): value})
            return outcomes[truth_of(rest, supposing)]

        if word.choices:
            to = _by_outcome((choice, outcome(choice)) for choice in word.choices)
        elif word.measured or word.kind in (Kind.DATE, Kind.COUNT):
            turns = thresholds(rest, word, given.label, self.evaluator)
            to = () if turns is None else tuple(_stretches(word, sorted(turns), outcome))
        else:
            to = ()
        if all(result == MORE for _, result in to):
            to = ()
        alone = bool(to) and all(result != MORE for _, result in to)
        return Settles(
            given, to, alone, tuple(dict.fromkeys(self._through(given, rest))),
            () if alone else tuple(dict.fromkeys(self._then(given, rest))),
            _but(given, finding.settles),
        )  # fmt: skip

    def _then(self, given: Input, rest: Rest) -> Iterator[str]:
        """The questions among what is left that wait for an answer before they are asked."""
        for left in left_in(rest):
            for word in () if isinstance(left.clause, Count) else left.clause.words:
                label = left.thing.part(word.subject).label
                if (
                    word.asked
                    and word.name != given.word
                    and self._waits(word.itself, label, given)
                ):
                    yield word.name

    def _waits(self, word: Word, label: str, given: Input) -> bool:
        """Whether a question is an answer's own, or is asked only after it."""
        while word.name != given.word or label != given.label:
            if word.asks_when is None:
                return False
            word = self.book.vocabulary[word.asks_when.word]
        return True

    def _through(self, given: Input, rest: Rest) -> Iterator[str]:
        """The figures and conclusions among what is left that wait for an answer."""
        for left in left_in(rest):
            for word in () if isinstance(left.clause, Count) else left.clause.words:
                part, itself = left.thing.part(word.subject), word.itself
                if itself.origin is Origin.CONCLUDED and itself.name not in part.facts:
                    inputs = self.evaluator.concluded(itself, part).inputs
                elif itself.asked:
                    continue
                else:
                    inputs = part.facts[itself.name].inputs
                if any(
                    one.answer.value is NOT_KNOWN
                    and self._waits(self.book.vocabulary[one.word], one.label, given)
                    for one in inputs
                ):
                    yield word.name


def _asks(rest: Rest, given: Input) -> bool:
    """Whether all that is left is one clause about one answer."""
    if not isinstance(rest, Left) or not isinstance(rest.clause, Comparison):
        return False
    word = rest.clause.word
    return word.name == given.word and not isinstance(rest.clause.operand, Word)


def _but(given: Input, settles: Iterable[Input]) -> tuple[Input, ...]:
    return tuple(other for other in settles if other is not given)


def _by_outcome(found: Iterable[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    """Choices with the same outcome together, those that are most of them last."""
    choices: dict[str, list[str]] = {}
    for choice, result in found:
        choices.setdefault(result, []).append(choice)
    if len(choices) == 1:
        return (("any answer", next(iter(choices))),)
    by_size = sorted(choices.items(), key=lambda pair: len(pair[1]))
    *few, (most, rest) = by_size
    said = [(", or ".join(same), result) for result, same in few]
    return (*said, (rest[0] if len(rest) == 1 else "any other answer", most))


def _stretches(
    word: Word, turns: list[int], outcome: Callable[[FactValue], str]
) -> Iterator[tuple[str, str]]:
    """Each stretch of figures with what it comes to: all that lies between two turns is alike."""
    low, high = (
        None if end is None else steps(word.kind, end) for end in (word.low, word.high)
    )  # fmt: skip
    # What lies outside the plausible range is refused as an answer.
    turns = [at for at in turns if (low is None or at >= low) and (high is None or at <= high)]
    if not turns:
        yield "any answer", outcome(high if high is not None else low if low is not None else 1)
        return
    samples: list[tuple[int, bool]] = []  # a figure, and whether it is a turn itself
    for i, turn in enumerate(turns):
        if i == 0 and (low is None or turn > low):
            samples.append((turn - 1, False))
        samples.append((turn, True))
        after = turns[i + 1] if i + 1 < len(turns) else high
        if after is None or after > turn + (i + 1 < len(turns)):
            samples.append((turn + 1, False))
    runs: list[tuple[str, list[tuple[int, bool]]]] = []
    for sample in samples:
        result = outcome(sample[0])
        if runs and runs[-1][0] == result:
            runs[-1][1].append(sample)
        else:
            runs.append((result, [sample]))
    for i, (result, run) in enumerate(runs):
        start = None if i == 0 else run[0]
        end = None if i == len(runs) - 1 else run[-1]
        yield _stretch(word, start, end), result


def _stretch(word: Word, start: tuple[int, bool] | None, end: tuple[int, bool] | None) -> str:
    """A stretch in words; a sample that is no turn stands one step beside one."""
    over, from_, to, under = (
        ("after", "on or after", "on or before", "before")
        if word.kind is Kind.DATE
        else ("more than", "at least", "at most", "less than")
    )
    if start is not None and start == end:
        return f"exactly {shown(word, start[0])}" if start[1] else f"{over} {shown(word, start[0])}"
    parts: list[str] = []
    if start is not None:
        at, turn = start
        parts.append(f"{from_ if turn else over} {shown(word, at if turn else at - 1)}")
    if end is not None:
        at, turn = end
        parts.append(f"{to if turn else under} {shown(word, at if turn else at + 1)}")
    return " and ".join(parts) or "any answer"


@dataclass(frozen=True, slots=True)
class _Writer:
    """Writes what is left of a rule in the words of the rule language.

    Args:
        own: the thing that the rule is judged for, whose label goes without saying; none if every
            label is said.
    """

    book: RuleBook
    evaluator: DirectEvaluator
    own: Thing | None

    def written(self, rest: Rest, *, holds: bool = True, inner: bool = False) -> str:
        """What is left, as text.

        Args:
            rest: what is left.
            holds: false within what must not hold.
            inner: whether it stands within something longer, and needs brackets of its own.
        """
        match rest:
            case Left(clause, thing):
                return self._clause(clause, thing, holds)
            case Another(thing):
                what = thing.subject.value.removeprefix("pier and ")
                return f"{'another' if holds else 'no other'} {what} is found"
            case AtWall(pier, wall):
                stands = "stands" if holds else "does not stand"
                return f"{pier.label} {stands} at wall {wall.label}"
            case NotSo(part):
                return self.written(part, holds=not holds, inner=inner)
            case AllOf(parts) | AnyOf(parts):
                join = " and " if isinstance(rest, AllOf) is holds else " or "
                merged = _merged(parts) if isinstance(rest, AnyOf) else parts
                texts = (
                    self._one_of(p, holds)
                    if isinstance(p, tuple)
                    else self.written(p, holds=holds, inner=True)
                    for p in merged
                )
                each = list(dict.fromkeys(texts))
                whole = join.join(each)
                return f"({whole})" if inner and len(each) > 1 else whole
            case Tally():
                return self._tally(rest, holds)

    def _one_of(self, same: tuple[Left, ...], holds: bool) -> str:
        """Clauses about one word, of which one is enough, as one."""
        first = same[0].clause
        assert isinstance(first, Comparison)
        verb = "comes out as" if first.word.origin is Origin.CONCLUDED else "is"
        if not holds:
            verb = "does not come out as" if verb != "is" else "is not"
        choices = ", ".join(
            left.clause.shown for left in same if isinstance(left.clause, Comparison)
        )
        opened = self._open_rules(first.word, same[0].thing)
        return f"{self._word(first.word, same[0].thing)} {verb} one of: {choices}{opened}"

    def _open_rules(self, word: Word, thing: Thing) -> str:
        """The rules that may still conclude a word, as they stand after it."""
        part = thing.part(word.subject)
        if word.origin is not Origin.CONCLUDED or word.itself.name in part.facts:
            return ""
        codes = self.evaluator.concluded(word.itself, part).open
        more = f" and {len(codes) - _MOST_CODES} more" if len(codes) > _MOST_CODES else ""
        return f" (waits for {', '.join(codes[:_MOST_CODES])}{more})" if codes else ""

    def _tally(self, tally: Tally, holds: bool) -> str:
        """What may count, with the things of which the same must hold together."""
        labels: dict[str, list[str]] = {}
        for thing, part in tally.near:
            own = _Writer(self.book, self.evaluator, thing)
            labels.setdefault(own.written(part), []).append(thing.label if thing.listed else "")
        each = [
            f"{text} at {_named(at)}" if any(at) else text for text, at in labels.items()
        ]  # fmt: skip
        operator, number = tally.operator, tally.number
        if (operator is Operator.MORE_THAN and number == 0) or (
            operator is Operator.AT_LEAST and number == 1
        ):
            whole = " or ".join(each)
            if holds:
                return f"({whole})" if len(each) > 1 else whole
            return f"not ({whole})"
        said = operator.value.removeprefix("is ")
        whole = f"{said} {number} more of these: {'; '.join(each)}"
        return f"({whole})" if holds else f"not ({whole})"

    def _clause(self, clause: Comparison | Reckoning | Count, thing: Thing, holds: bool) -> str:
        if isinstance(clause, Count):
            return str(clause) if holds else f"not: {clause}"
        operator, opened = clause.operator.value, ""
        if isinstance(clause, Reckoning):
            units = {word.kind: word.unit for word in reversed(clause.words)}
            left, right = (self._term(t, thing, units) for t in (clause.left, clause.right))
        else:
            concluded = clause.word.origin is Origin.CONCLUDED
            if concluded and not isinstance(clause.operand, Word):
                operator, opened = "comes out as", self._open_rules(clause.word, thing)
            left = self._word(clause.word, thing)
            right = (
                self._word(clause.operand, thing)
                if isinstance(clause.operand, Word)
                else self._figure(clause.shown, {clause.word.kind: clause.word.unit})
            )
        if not holds:
            operator = (
                "does not come out as" if operator == "comes out as"
                else operator.replace("is", "is not", 1)
            )  # fmt: skip
        return f"{left} {operator} {right}{opened}"

    def _figure(self, written: str, units: _Units) -> str:
        """A figure; of a limit its name, with the figure beside it."""
        limit = self.book.limits.get(written)
        if limit is None:
            return written
        return f"{written} ({limit_beside(limit, units.get(Kind(limit.kind)))})"

    def _word(self, word: Word, thing: Thing) -> str:
        """A word with the label of what it is said of, where that is not clear, and its value."""
        part = thing.part(word.subject)
        value = self.evaluator.value(word, thing)
        known = "" if isinstance(value, Missing) else f" ({shown(word, value)})"
        if word.subject is Subject.SITE or (self.own is not None and self._is_own(part, word)):
            return f"{word.name}{known}"
        return f"{word.itself.name} of {part.label}{known}"

    def _is_own(self, part: Thing, word: Word) -> bool:
        assert self.own is not None
        return word.subject in SCOPES[self.own.subject] and self.own.part(word.subject) is part

    def _term(self, term: Term, thing: Thing, units: _Units) -> str:
        match term:
            case Word():
                return self._word(term, thing)
            case Figure(_, written, _):
                return self._figure(written, units)
            case WorkingDays(first, last):
                days = (self._word(day, thing) for day in (first, last))
                return f"working days between {' and '.join(days)}"
            case LookUp(table):
                keys = ", ".join(self._word(key, thing) for key in table.keys)
                return f"{table.name} for {keys}"
            case Arithmetic(operation, left, right):
                sides = (
                    f"({self._term(side, thing, units)})"
                    if isinstance(side, Arithmetic)
                    else self._term(side, thing, units)
                    for side in (left, right)
                )
                return f" {operation.value} ".join(sides)


def _merged(parts: Iterable[Rest]) -> list[Rest | tuple[Left, ...]]:
    """The parts of an "or", those together that ask whether one word is one of some choices."""
    together: dict[object, list[Left]] = {}
    merged: list[Rest | list[Left]] = []
    for part in parts:
        clause = part.clause if isinstance(part, Left) else None
        if isinstance(part, Left) and isinstance(clause, Comparison) and clause.word.choices:
            key = (clause.word.name, id(part.thing)) if isinstance(clause.operand, str) else part
            if key not in together:
                merged.append(together.setdefault(key, []))
            together[key].append(part)
        else:
            merged.append(part)
    return [
        one if not isinstance(one, list) else one[0] if len(one) == 1 else tuple(one)
        for one in merged
    ]


def _named(labels: list[str]) -> str:
    """Labels of which any will do; a long list is cut, with how many more there are."""
    said = labels[:_MOST_NAMED]
    more = len(labels) - len(said)
    return f"{' or '.join(said)}{f' or {more} more' if more else ''}"
