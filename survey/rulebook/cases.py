"""The cases that stand under each rule: what answers must give what outcome."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from survey.facts import Fact, Facts, FactValue, Thing
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.judgement import Truth
from survey.rulebook.messages import Mistake, MistakeError, Mistakes, Span
from survey.rulebook.paragraphs import Field
from survey.rulebook.rules import Conclusion, Lift, Outcome, Rule, RuleBook, comparisons, counted
from survey.rulebook.scope import Scope
from survey.rulebook.slips import slip
from survey.rulebook.syntax import Node, Phrase, nodes, parse, phrase, unquoted, without, wrong
from survey.rulebook.values import read_choice, read_figure
from survey.vocabulary import (
    CLOSED_BY,
    DOES_NOT_APPLY,
    NOT_KNOWN,
    ROUND,
    SCOPES,
    VOCABULARY,
    Kind,
    Subject,
    Vocabulary,
    Word,
    from_steps,
    nearest,
    write_quantity,
)

NOTHING, ASK = "nothing", Outcome.ASK.value
_MET, _LIFTED = "met", "lifted"
_BRACKETS = ("Words of what is judged stand outside brackets, words of a thing round it in the "
             "brackets of that thing: utility (utility kind gas)")  # fmt: skip
Settings = Mapping[Word, FactValue]


@dataclass(frozen=True, slots=True)
class Around:
    """A thing that a case sets beside the one that is judged: a line, a neighbour, another pier."""

    of: Subject
    settings: Settings


@dataclass(frozen=True, slots=True)
class Case:
    """Answers and what the rule must give for them; every other answer is not known.

    Args:
        rule: the rule it stands under.
        settings: value of each word that it names.
        gives: an outcome, the concluded choice, ``met``, ``lifted``, ``ask`` or ``nothing``.
        span: where it stands.
        around: the things round it, for a rule that looks round.
        vocabulary: the words of the book.
    """

    rule: Rule
    settings: Settings
    gives: str
    span: Span
    around: tuple[Around, ...] = ()
    vocabulary: Vocabulary = VOCABULARY


def read_cases(book: RuleBook) -> tuple[tuple[Case, ...], tuple[Mistake, ...]]:
    """Read the cases of every rule, with every mistake in them."""
    cases: list[Case] = []
    mistakes = Mistakes()
    for rule in book:
        scope = Scope(rule.subject, book.limits, book.tables, book.vocabulary)
        start: Settings = {}
        if rule.case_start is not None:
            try:
                start = _read_start(rule.case_start, scope)
            except MistakeError as fault:
                mistakes.append(fault.mistake)
                continue
            span = rule.case_start.whole
            cases.append(Case(rule, start, NOTHING, span, vocabulary=scope.vocabulary))
        for field in rule.case_fields:
            try:
                cases.append(_read_case(rule, field, scope, start))
            except MistakeError as fault:
                mistakes.append(slip(field, "case", fault.mistake.span) or fault.mistake)
    return tuple(cases), tuple(mistakes)


def _read_start(field: Field, scope: Scope) -> Settings:
    """The answers that each case of a seat starts from."""
    settings: dict[Word, FactValue] = {}
    for part in nodes(parse(field, "answers")):
        _set(settings, field, part, scope.words(), scope.vocabulary)
    return settings


def _read_case(rule: Rule, field: Field, scope: Scope, start: Settings) -> Case:
    *parts, gives = nodes(parse(field, "case"))
    words = dict(scope.words())
    if Subject.PIER_PIER in counted(rule.condition):  # where its condition says "of this pier"
        pair, own = scope.vocabulary.scope(Subject.PIER_PIER), set(words.values())
        words |= {name: word for name, word in pair.items() if word in own}
    settings: dict[Word, FactValue] = {}
    around: list[Around] = []
    for part in parts:
        if part.data == "thing":
            around.append(_read_around(rule, part, field, scope))
        else:
            _set(settings, field, part, words, scope.vocabulary)
    outcome = _gives(rule, phrase(field, gives))
    return Case(rule, {**start, **settings}, outcome, field.whole, tuple(around), scope.vocabulary)


def _read_around(rule: Rule, node: Node, field: Field, scope: Scope) -> Around:
    head, *parts = nodes(node)
    noun = phrase(field, head)
    looked = set(counted(rule.condition))
    round_it = {name: of for name, of in ROUND.get(rule.subject, {}).items() if of in looked}
    if noun.text not in round_it:
        what = f"this rule does not look round at '{noun.text}'"
        help = f"It looks at: {', '.join(round_it)}." if round_it else "It looks round at nothing."
        raise wrong(noun, what, help, nearest(noun.text, round_it))
    of = round_it[noun.text]
    outer = set(scope.words().values())
    words = {n: w for n, w in scope.vocabulary.scope(of).items() if w not in outer}
    # Within the brackets it goes without saying that a word is of the other pier.
    words |= {word.itself.name: word for word in words.values() if word.base is not None}
    settings: dict[Word, FactValue] = {}
    for part in parts:
        _set(settings, field, part, words, scope.vocabulary)
    return Around(of, settings)


def _set(
    settings: dict[Word, FactValue], field: Field, node: Node, words: Mapping[str, Word],
    vocabulary: Vocabulary,
) -> None:  # fmt: skip
    """Read a word with its answer and keep it."""
    said = phrase(field, node)
    parts = said.text.split(" ")
    names = [" ".join(parts[:length]) for length in range(len(parts), 0, -1)]
    name = next((name for name in names if name in words), None)
    if name is None:
        raise _no_word(said, names, words, vocabulary)
    if name == said.text:
        raise wrong(said, f"'{name}' without an answer", f"Write one behind it, or '{NOT_KNOWN}'.")
    word = words[name]
    if word in settings:
        raise wrong(said, f"'{name}' is given twice in one case", "Keep one.")
    settings[word] = _value(word, without(field, node, len(name.split(" "))))


def _no_word(
    said: Phrase, names: list[str], words: Mapping[str, Word], vocabulary: Vocabulary
) -> MistakeError:
    """What is wrong with a setting that starts with none of the words."""
    for name in names:
        if name in vocabulary:
            subject = vocabulary[name].subject.value
            what = f"'{name}' is said of a {subject}, and has no place here"
            return wrong(said, what, _BRACKETS)
    near = [found for name in names if (found := nearest(name, words))]
    what = f"'{said.text}' starts with no word that this rule may use"
    return wrong(
        said, what, "Write a word and an answer: pit depth 5 ft", near[-1] if near else None
    )


def _value(word: Word, value: Phrase) -> FactValue:
    text = unquoted(value.text)
    if text == NOT_KNOWN.value:
        return NOT_KNOWN
    if text == DOES_NOT_APPLY.value:
        if word.asked and word.asks_when is None:
            raise wrong(value, f"'{word.name}' always applies", "No survey has such an answer.")
        return DOES_NOT_APPLY
    if word.kind in (Kind.CHOICE, Kind.YES_NO):
        return read_choice(word, value)
    if word.kind in (Kind.TEXT, Kind.REFERENCE):
        what = f"'{word.name}' is {word.kind.one}; rules don't look at it"
        raise wrong(value, what, "Leave it out.")
    figure = read_figure(word, value)
    if word.measured:
        _refuse_implausible(word, from_steps(word.kind, figure), value)
    return figure


def _refuse_implausible(word: Word, figure: float, value: Phrase) -> None:
    """No survey can have an answer that the form would refuse."""
    low = -math.inf if word.low is None else word.low
    high = math.inf if word.high is None else word.high
    if not low <= figure <= high:
        ends = [("from", word.low), ("to", word.high)]
        span = " ".join(
            f"{side} {write_quantity(end, word.kind, word.unit)}"
            for side, end in ends
            if end is not None
        )
        what = f"'{value.text}' is no answer that the form takes for '{word.name}'"
        raise wrong(value, what, f"It takes {word.kind.one} {span}.")


def given_when_met(rule: Rule) -> str:
    """What a rule gives where it is met."""
    if isinstance(rule.then, Conclusion):
        return rule.then.choice
    if isinstance(rule.then, Lift):
        return _LIFTED
    # Asking is also what a rule gives that can't be told.
    return _MET if rule.then is Outcome.ASK else rule.then.value


def _gives(rule: Rule, gives: Phrase) -> str:
    allowed = (given_when_met(rule), Outcome.ASK.value, NOTHING)
    text = unquoted(gives.text)
    if text not in allowed:
        what = f"'{text}' is nothing that this rule can give"
        help = f"It can give: {', '.join(allowed)}."
        raise wrong(gives, what, help, nearest(text, allowed))
    return text


class _Given(dict[str, Fact]):
    """The facts of a case: every word that it does not name is not known.

    Concluded words stand among them, so that the rule is judged on what the case says of them
    and not on what other rules conclude.
    """

    def __missing__(self, name: str) -> Fact:
        return _NOT_GIVEN

    def __contains__(self, name: object) -> bool:
        return True

    def get(self, name: str, default: object = None) -> Fact:
        """The fact of a word; every word has one."""
        return self[name]


_NOT_GIVEN = Fact(NOT_KNOWN)


def case_facts(case: Case) -> Facts:
    """The facts of a case: the thing that is judged comes first, then what lies round it."""
    given: dict[Subject, _Given] = {}
    for word, value in case.settings.items():
        given.setdefault(word.subject, _Given())[word.itself.name] = Fact(value)
    judged = _thing(case.rule.subject, given, {}, "case")
    around = [
        _around(one.of, one.settings, judged, f"thing {number}", listed=True)
        for number, one in enumerate(case.around, start=1)
    ]
    around += [
        _around(of, {}, judged, f"any {listed.value} not listed", listed=False)
        for of in dict.fromkeys(counted(case.rule.condition))
        if (listed := _open_list(of, case)) is not None
    ]
    return Facts((judged, *around))


def _open_list(of: Subject, case: Case) -> Subject | None:
    """The list behind what is looked at, unless the case says that all of it is there."""
    for subject in SCOPES[of]:
        if subject in CLOSED_BY and subject not in SCOPES[case.rule.subject]:
            closing = case.vocabulary[CLOSED_BY[subject]]
            return None if case.settings.get(closing) == "yes" else subject
    return None


def _thing(
    subject: Subject, given: Mapping[Subject, _Given], outer: Mapping[Subject, Thing], label: str,
    *, listed: bool = True,
) -> Thing:  # fmt: skip
    parts = dict(outer)
    for other in SCOPES[subject]:
        if other is not subject and other not in parts:
            parts[other] = Thing(other, other.value, given.get(other, _Given()), {}, listed, "case")
    return Thing(subject, label, given.get(subject, _Given()), parts, listed, "case")


def _around(
    of: Subject, settings: Settings, judged: Thing, label: str, *, listed: bool
) -> Thing:  # fmt: skip
    given: dict[Subject, _Given] = {}
    for word, value in settings.items():
        given.setdefault(word.subject, _Given())[word.itself.name] = Fact(value)
    return _thing(of, given, {**judged.parts, judged.subject: judged}, label, listed=listed)


def stand_alone(case: Case) -> RuleBook:
    """A book of the case's rule alone, so that no other rule's conclusion meddles."""
    return RuleBook({}, {}, ((case.rule,),), case.vocabulary, "case")


def outcome_of(case: Case) -> str:
    """What the rule gives for the answers of a case, by the direct evaluator."""
    facts = case_facts(case)
    truth = DirectEvaluator(stand_alone(case), facts).truth(case.rule, facts.things[0])
    if truth is Truth.FALSE:
        return NOTHING
    return Outcome.ASK.value if truth is Truth.UNKNOWN else given_when_met(case.rule)


def wrong_cases(book: RuleBook) -> tuple[Mistake, ...]:
    """Every mistake in the cases of a book, and every case that its rule does not keep."""
    cases, mistakes = read_cases(book)
    tried = ((case, outcome_of(case)) for case in cases)
    wrong = (_not_kept(case, gives) for case, gives in tried if gives != case.gives)
    return (*mistakes, *wrong, *_untried_releases(book, cases))


def _untried_releases(book: RuleBook, cases: Iterable[Case]) -> Iterator[Mistake]:
    """Standing releases that no case shows to lift, or not to lift: one might lift everything."""
    given: dict[str, list[str]] = {}
    for case in cases:
        given.setdefault(case.rule.code, []).append(case.gives)
    for rule in book:
        outcomes = given.get(rule.code, [])
        if isinstance(rule.then, Lift) and len(outcomes) == len(rule.case_fields):
            for lacking in sorted({_LIFTED, NOTHING}.difference(outcomes)):
                what = f"no case of {rule.code} gives '{lacking}'"
                help = "Give one where it lifts the finding, and one where it must not."
                yield Mistake(rule.case_fields[0].whole, what, help)


def _not_kept(case: Case, gives: str) -> Mistake:
    what = f"the case says '{case.gives}', {case.rule.code} gives '{gives}'"
    help = "If the rule is right, change the case; if the case is right, change the rule."
    if gives == Outcome.ASK.value and (open_words := ", ".join(_left_open(case))):
        help = f"Not known in this case: {open_words}."
    return Mistake(case.span, what, help)


def _left_open(case: Case) -> Iterator[str]:
    """The words of the judged thing that the rule looks at and the case leaves open."""
    scope = case.vocabulary.scope(case.rule.subject).values()
    looked_at = [word for clause in comparisons(case.rule.condition) for word in clause.words]
    closing = [case.vocabulary[CLOSED_BY[listed]] for of in counted(case.rule.condition)
               if (listed := _open_list(of, case)) is not None]  # fmt: skip
    for word in dict.fromkeys([*looked_at, *closing]):
        if word in scope and case.settings.get(word, NOT_KNOWN) is NOT_KNOWN:
            yield word.name
