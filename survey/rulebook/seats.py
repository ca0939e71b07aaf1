"""The catalogue of seats: what each needs of footing, wall, room, load and cure.

A ``seat`` paragraph declares a word, such as ``seat under cut footing``, and becomes one rule,
which counts the seat out where one of its needs is not met. So a seat is judged, tried by cases and
confirmed by the second evaluator like anything else. One more rule tells where no seat suits.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from survey.rulebook.check import ConditionMistakesError, read_condition
from survey.rulebook.fields import Fields, head_text
from survey.rulebook.figures import Figures
from survey.rulebook.messages import MistakeError, Mistakes, Span
from survey.rulebook.names import unfit
from survey.rulebook.paragraphs import Field, Paragraph
from survey.rulebook.rule_reader import (
    check_braces,
    code_and_name,
    place_of,
    refuse_negation,
    same_words,
    scope_of,
)
from survey.rulebook.rules import (
    CatalogueSeat,
    Comparison,
    Conclusion,
    Every,
    Need,
    Negation,
    Operator,
    ReleaseBy,
    Rule,
)
from survey.rulebook.scope import Scope
from survey.rulebook.syntax import parse
from survey.vocabulary import VOCABULARY, Kind, Origin, Subject, Vocabulary, Word

NEEDS_OF = ("footing", "wall", "room", "load", "cure")
_TEXTS = ("say", "do", "caution")
LINES = (
    "prefer", *NEEDS_OF, *_TEXTS, *(f"{text} es" for text in _TEXTS), "from", "answers", "case",
)  # fmt: skip
SUITS, NOT = "suits", "does not suit"
NONE_SUITS = "SEAT-0"
_HELP = {
    "say": "Say what the seat is; the sheet lists it by that.",
    "do": "Say how it is made.",
    "prefer": "Its place among those that suit, such as: prefer 1",
    "answers": "Give answers with which the seat suits; each case starts from them.",
}
_NAME = re.compile(r"[a-z][a-z0-9\-]*(?: [a-z0-9\-]+)*")
_LONGEST_NAME, _LEAST_PREFERRED = 40, 99


def read_seat_word(paragraph: Paragraph, mistakes: Mistakes) -> Word | None:
    """The word that a ``seat`` paragraph declares, or none if its head has a mistake."""
    before = len(mistakes)
    code, name = code_and_name(paragraph, "seat", mistakes, such="SEAT-21 under cut footing")
    if len(mistakes) > before:
        return None
    head = head_text(paragraph, "seat").find(name)
    word = f"seat {name}"
    if not _NAME.fullmatch(name) or len(name) > _LONGEST_NAME:
        what = f"'{name}' can't be the name of a seat"
        help = f"Use small letters, figures, hyphens and single blanks, at most {_LONGEST_NAME}."
        mistakes.note(head, what, help)
    elif why := unfit(word, VOCABULARY):
        mistakes.note(head, why, "Give the seat another name.")
    said = next((field.text for field in paragraph.fields if field.keyword == "say"), code)
    if len(mistakes) > before:
        return None
    return Word(
        word, Subject.PIER, Kind.CHOICE, Origin.CONCLUDED, said, choices=(SUITS, NOT),
        otherwise=SUITS,
    )  # fmt: skip


def read_seat(
    topic: str, paragraph: Paragraph, word: Word, figures: Figures, mistakes: Mistakes, *,
    local: bool,
) -> tuple[CatalogueSeat, Rule] | None:  # fmt: skip
    """A seat of the catalogue and the rule that counts it out, or none if it has a mistake."""
    before = len(mistakes)
    fields = Fields(paragraph, LINES, "seat", mistakes, repeated=("case",))
    code, name = code_and_name(paragraph, "seat", mistakes)
    scope = scope_of(Subject.PIER, figures)
    needs = tuple(_needs(fields, scope, mistakes))
    if not needs and not any(fields.every(of) for of in NEEDS_OF):
        help = f"Say what it needs, in at least one of these lines: {', '.join(NEEDS_OF)}."
        mistakes.note(paragraph.head.span.whole, "a seat that needs nothing", help)
    prefer = _preference(fields, mistakes)
    texts = {}
    for text in _TEXTS:
        needed = text != "caution"
        texts[text] = fields.text(text, needed=needed, help=_HELP.get(text, ""))
        texts[f"{text} es"] = fields.text(f"{text} es", needed=False)
        for said in (text, f"{text} es"):
            if (field := fields.get(said, needed=False)) is not None:
                check_braces(field, scope, figures, mistakes)
        same_words(fields, text, mistakes)
    source = fields.text("from")
    answers = fields.get("answers", help=_HELP["answers"])
    fields.get("case")
    if len(mistakes) > before or answers is None:
        return None
    place = place_of(paragraph)
    seat = CatalogueSeat(
        code, word, prefer, needs, texts["do"], texts["caution"], source, place,
        texts["say es"], texts["do es"], texts["caution es"],
    )  # fmt: skip
    conditions = tuple(need.condition for need in needs)
    met = Every(conditions) if len(conditions) > 1 else conditions[0]
    says = f"At pier {{pier}} this seat does not suit: {texts['say']}"
    rule = Rule(
        code, f"seat that does not suit: {name}", topic, Subject.PIER, Negation(met),
        Conclusion(word, NOT), says, "", "", source, ReleaseBy.NOBODY, fields.every("case"), place,
        local=local, case_start=answers,
    )  # fmt: skip
    return seat, rule


def _needs(fields: Fields, scope: Scope, mistakes: Mistakes) -> Iterator[Need]:
    for of in NEEDS_OF:
        field = fields.get(of, needed=False)
        if field is None:
            continue
        try:
            condition = read_condition(parse(field, "condition"), field, scope)
        except MistakeError as fault:
            mistakes.append(fault.mistake)
        except ConditionMistakesError as fault:
            mistakes.extend(fault.mistakes)
        else:
            refuse_negation(condition, field, mistakes, "a seat")
            yield Need(of, condition)


def _preference(fields: Fields, mistakes: Mistakes) -> int:
    field = fields.get("prefer", help=_HELP["prefer"])
    if field is None:
        return 0
    if not re.fullmatch(r"[0-9]{1,2}", field.text) or not int(field.text):
        what = f"'{field.text}' is no place among the seats"
        mistakes.note(field.whole, what, f"Write a number from 1 to {_LEAST_PREFERRED}.")
        return 0
    return int(field.text)


def none_suits(
    seats: Iterable[tuple[CatalogueSeat, Span]], vocabulary: Vocabulary, topic: str
) -> Rule:
    """The rule that tells where no seat of the catalogue suits.

    Args:
        seats: the catalogue, each with its head line.
        vocabulary: the words of the book.
        topic: heading that the rule stands under.
    """
    listed = list(seats)
    clauses = tuple(Comparison(seat.word, Operator.IS, NOT, NOT) for seat, _ in listed)
    word = vocabulary["seats that suit"]
    return Rule(
        NONE_SUITS, "pier where no seat of the catalogue suits", topic, Subject.PIER,
        Every(clauses) if len(clauses) > 1 else clauses[0], Conclusion(word, word.choices[-1]),
        "No seat of the catalogue suits pier {pier}.", "", "",
        "common practice: each seat's own sources", ReleaseBy.NOBODY,
        tuple(_cases(listed, word.choices[-1])), listed[0][0].place,
    )  # fmt: skip


def _cases(seats: list[tuple[CatalogueSeat, Span]], none: str) -> Iterator[Field]:
    """None of them suits; and each alone that does, or that can't be told."""
    yield _case([f"{seat.word.name} {NOT}" for seat, _ in seats], none, seats[0][1])
    for one, span in seats:
        others = [f"{seat.word.name} {NOT}" for seat, _ in seats if seat is not one]
        yield _case([*others, f"{one.word.name} {SUITS}"], "nothing", span)
        yield _case([*others, f"{one.word.name} not known"], "ask", span)


def _case(settings: list[str], gives: str, span: Span) -> Field:
    return Field("case", span, ((f"{', '.join(settings)} gives {gives}", span),))
