"""The seats of the catalogue at one pier: which suit, in what order, and why the others don't."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from survey.assessment.filling import Filler, limit_beside
from survey.assessment.findings import askable
from survey.facts import Thing
from survey.model import Survey
from survey.rulebook.direct import DirectEvaluator, Reason
from survey.rulebook.judgement import Truth
from survey.rulebook.rules import CatalogueSeat, Rule, RuleBook
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Kind, Vocabulary

CANT_TELL = "can't tell"


@dataclass(frozen=True, slots=True)
class Seat:
    """How the footing may be taken up at a pier: one seat of the catalogue, and whether it suits.

    Args:
        name: short, such as ``under cut footing``.
        prompt: what the seat is.
        state: ``suits``, ``does not suit`` or ``can't tell``.
        why: why it doesn't suit, or what has to be known.
        do: how it is made.
        caution: what to look out for; empty where there is nothing.
        prompt_es, do_es, caution_es: the same in Spanish.
    """

    name: str
    prompt: str
    state: str
    why: tuple[str, ...]
    do: str
    caution: str
    prompt_es: str = ""
    do_es: str = ""
    caution_es: str = ""


def seats_of(
    pier: Thing, evaluator: DirectEvaluator, filler: Filler, book: RuleBook, survey: Survey
) -> tuple[Seat, ...]:
    """Every seat of the catalogue at a pier, the one to be preferred first."""
    return tuple(_seat(one, pier, evaluator, filler, book, survey) for one in book.seats)


def _seat(  # noqa: PLR0917
    one: CatalogueSeat,
    pier: Thing,
    evaluator: DirectEvaluator,
    filler: Filler,
    book: RuleBook,
    survey: Survey,
) -> Seat:
    found = evaluator.concluded(one.word, pier)
    still_open = found.value is NOT_KNOWN
    wanted, rules = (Truth.UNKNOWN, found.open) if still_open else (Truth.TRUE, found.by)
    why = [
        text
        for rule in evaluator.rules_for(one.word)
        if rule.code in rules
        for text in _why(rule, one, pier, wanted, evaluator, filler, book)
    ]
    if still_open:
        missing = (i for i in found.inputs if i.answer.value is NOT_KNOWN)
        asked = askable(missing, survey, book.vocabulary)
        why = [f"answer {i.word} ({i.answer.where})" for i in asked] or why

    def said(text: str) -> str:
        return filler.fill(text, pier)

    return Seat(
        one.word.name.removeprefix("seat "), said(one.word.prompt),
        CANT_TELL if still_open else str(found.value), tuple(dict.fromkeys(why)),
        said(one.do), said(one.caution),
        *(filler.fill_es(text, pier) for text in (one.text_es, one.do_es, one.caution_es)),
    )  # fmt: skip


def _why(  # noqa: PLR0917
    rule: Rule,
    one: CatalogueSeat,
    pier: Thing,
    wanted: Truth,
    evaluator: DirectEvaluator,
    filler: Filler,
    book: RuleBook,
) -> Iterator[str]:
    """What a rule has against a seat: each need that is not met, or the text of a firm's rule."""
    if rule.code != one.code:
        lead = f"not known whether there is: {rule.name}" if wanted is Truth.UNKNOWN else ""
        yield f"{lead or filler.fill(rule.say, pier)} ({rule.code})"
        return
    unmet = Truth.FALSE if wanted is Truth.TRUE else Truth.UNKNOWN
    for need in one.needs:
        if evaluator.holds(need.condition, pier) is unmet:
            reasons = evaluator.why(need.condition, pier)
            yield from (f"{need.of}: {text}" for text in _clauses(reasons, pier, book))


def _clauses(reasons: Iterable[Reason], pier: Thing, book: RuleBook) -> Iterator[str]:
    """What was found, each time with what is needed instead."""
    needed: dict[str, dict[str, None]] = {}
    for reason in reasons:
        for found, clause in _grounds(reason, pier, book.vocabulary):
            needed.setdefault(found, {})[clause] = None
    for found, clauses in needed.items():
        yield f"{found}; it needs: {_either([_with_figures(clause, book) for clause in clauses])}"


def _grounds(reason: Reason, pier: Thing, vocabulary: Vocabulary) -> Iterator[tuple[str, str]]:
    """What a reason found and what it needs; where a question does not apply, why it does not."""
    name, _, rest = reason.found.partition(" of ")
    word = vocabulary.get(name)
    if word is None or word.asks_when is None or not rest.endswith(f": {DOES_NOT_APPLY}"):
        said = reason.found.replace(f" of {pier.label}: ", ": ")
        yield f"{said} ({reason.why})" if reason.why else said, reason.clause
        return
    while word.asks_when is not None:  # the answer that makes the question idle
        asks, word = word.asks_when, vocabulary[word.asks_when.word]
        value = pier.part(word.subject).fact(word).value
        if value is not DOES_NOT_APPLY:
            for choice in asks.choices:
                yield (
                    f"{word.name} of {pier.part(word.subject).label}: {value}",
                    (f"{word.name} is {choice}"),
                )
            return


def _either(clauses: list[str]) -> str:
    """Clauses of which one is enough; of one word: ``wall material is one of: brick, wood``."""
    if len(clauses) == 1:
        return clauses[0]
    word = clauses[0].partition(" is ")[0]
    if all(clause.startswith(f"{word} is ") for clause in clauses):
        return f"{word} is one of: {', '.join(c.removeprefix(f'{word} is ') for c in clauses)}"
    return " or ".join(clauses)


def _with_figures(clause: str, book: RuleBook) -> str:
    """A clause with the figure behind each limit that it names, as its word is printed too."""
    word = book.vocabulary.get(clause.partition(" is ")[0])
    for name, limit in book.longest_limits:
        if name in clause:
            kind = Kind(limit.kind)
            unit = word.unit if word is not None and word.kind is kind else None
            clause = clause.replace(name, f"{name} ({limit_beside(limit, unit)})", 1)
    return clause
