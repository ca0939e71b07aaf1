"""The cases that stand under each rule: what answers must give what outcome."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from survey.facts import Fact, Facts, FactValue, Thing
from survey.rulebook.check import CheckMistakeError, Scope, read_choice, read_figure
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.judgement import Truth
from survey.rulebook.messages import Mistake, Span
from survey.rulebook.paragraphs import Field
from survey.rulebook.rules import Conclusion, Lift, Outcome, Rule, RuleBook, counted
from survey.rulebook.syntax import Node, Phrase, SyntaxMistakeError, nodes, parse, phrase, unquoted
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
    nearest,
)

_NOTHING, _MET, _LIFTED = "nothing", "met", "lifted"
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
    mistakes: list[Mistake] = []
    for rule in book:
        scope = Scope(rule.subject, book.limits, book.tables, book.vocabulary)
        for field in rule.case_fields:
            try:
                cases.append(_read_case(rule, field, scope))
            except (SyntaxMistakeError, CheckMistakeError) as fault:
                mistakes.append(fault.mistake)
    return tuple(cases), tuple(mistakes)


def _read_case(rule: Rule, field: Field, scope: Scope) -> Case:
    *parts, gives = nodes(parse(field, "case"))
    settings: dict[Word, FactValue] = {}
    around: list[Around] = []
    for part in parts:
        if part.data == "thing":
            around.append(_read_around(rule, part, field, scope))
        else:
            _set(settings, phrase(field, part), scope.words())
    outcome = _gives(rule, phrase(field, gives))
    return Case(rule, settings, outcome, field.whole, tuple(around), scope.vocabulary)


def _read_around(rule: Rule, node: Node, field: Field, scope: Scope) -> Around:
    head, *parts = nodes(node)
    noun = phrase(field, head)
    looked = set(counted(rule.condition))
    round_it = {name: of for name, of in ROUND.get(rule.subject, {}).items() if of in looked}
    if noun.text not in round_it:
        what = f"this rule does not look round at '{noun.text}'"
        help = f"It looks at: {', '.join(round_it)}." if round_it else "It looks round at nothing."
        raise CheckMistakeError(noun, what, help, nearest(noun.text, round_it))
    of = round_it[noun.text]
    outer = scope.words().values()
    words = {n: w for n, w in scope.vocabulary.scope(of).items() if w not in outer}
    settings: dict[Word, FactValue] = {}
    for part in parts:
        _set(settings, phrase(field, part), words)
    return Around(of, settings)


def _set(settings: dict[Word, FactValue], said: Phrase, words: Mapping[str, Word]) -> None:
    word, value = _setting(said, words)
    if word in settings:
        raise CheckMistakeError(said, f"'{word.name}' is given twice in one case", "Keep one.")
    settings[word] = value


def _setting(setting: Phrase, words: Mapping[str, Word]) -> tuple[Word, FactValue]:
    parts = setting.text.split(" ")
    for length in range(len(parts) - 1, 0, -1):
        word = words.get(" ".join(parts[:length]))
        if word is not None:
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


def given_when_met(rule: Rule) -> str:
    """What a rule gives where it is met."""
    if isinstance(rule.then, Conclusion):
        return rule.then.choice
    if isinstance(rule.then, Lift):
        return _LIFTED
    # Asking is also what a rule gives that can't be told.
    return _MET if rule.then is Outcome.ASK else rule.then.value


def _gives(rule: Rule, gives: Phrase) -> str:
    allowed = (given_when_met(rule), Outcome.ASK.value, _NOTHING)
    text = unquoted(gives.text)
    if text not in allowed:
        what = f"'{text}' is nothing that this rule can give"
        help = f"It can give: {', '.join(allowed)}."
        raise CheckMistakeError(gives, what, help, nearest(text, allowed))
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
        return _NOTHING
    return Outcome.ASK.value if truth is Truth.UNKNOWN else given_when_met(case.rule)


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
