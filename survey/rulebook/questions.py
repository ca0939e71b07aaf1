"""A firm's own questions: words that a rules file adds to the vocabulary."""

from __future__ import annotations

import re

from survey.answers import unreadable_choices
from survey.rulebook.fields import Fields, head_text
from survey.rulebook.messages import MistakeError, Mistakes
from survey.rulebook.names import reserved, unfit
from survey.rulebook.paragraphs import Field, Paragraph
from survey.rulebook.syntax import nodes, parse, phrase, unquoted
from survey.vocabulary import (
    MEASURES,
    VOCABULARY,
    Kind,
    Missing,
    Origin,
    QuantityError,
    Subject,
    Word,
    nearest,
    read_quantity,
)

FIELDS = ("for", "kind", "unit", "choices", "between", "prompt", "help")
_SUBJECTS = {
    subject.value: subject
    for subject in (Subject.SITE, Subject.WALL, Subject.PIER, Subject.UTILITY, Subject.NEIGHBOUR,
                    Subject.SOIL_LAYER)
}  # fmt: skip
_KINDS = {kind.value: kind for kind in Kind if kind is not Kind.REFERENCE}
_NAME = re.compile(r"[a-z][a-z0-9'\-]*(?: [a-z0-9'\-]+)*")
_LONGEST_NAME, _LONGEST_CHOICE, _LONGEST_TEXT, _MOST_CHOICES = 60, 60, 300, 30
_CHOICES = "Write them with a bar between: none | some | many"
_STATES = tuple(state.value for state in Missing)


def read_question(paragraph: Paragraph, mistakes: Mistakes) -> Word | None:
    """The word that a ``question`` paragraph declares, or none if it has a mistake."""
    before = len(mistakes)
    fields = Fields(paragraph, FIELDS, "question", mistakes)
    name = head_text(paragraph, "question")
    _check_name(paragraph, name, mistakes)
    subject = fields.subject(_SUBJECTS)
    kind_name = fields.one_of("kind", _KINDS, help=f"Write one of: {', '.join(_KINDS)}.")
    prompt = fields.text("prompt")
    help = fields.text("help", needed=False)
    for keyword in ("prompt", "help"):
        field = fields.get(keyword, needed=False)
        if field is not None and len(field.text) > _LONGEST_TEXT:
            what = f"more than {_LONGEST_TEXT} characters after '{keyword}'"
            mistakes.note(field.whole, what, "The form has no room for it: say it shorter.")
    if subject is None or not kind_name:
        return None
    kind = _KINDS[kind_name]
    unit = _unit(kind, fields, mistakes)
    low, high = _range(kind, unit, fields, mistakes)
    choices = _choices(kind, fields, mistakes)
    if len(mistakes) > before:
        return None
    word = Word(
        name.text, _SUBJECTS[subject], kind, Origin.SEEN, prompt, help, unit=unit,
        choices=choices, low=low, high=high,
    )  # fmt: skip
    if unreadable := unreadable_choices(word):
        what = f"'{unreadable[0]}' can't be a choice: in a cell it would read as another answer"
        mistakes.note(fields.every("choices")[0].whole, what, "Name it in other words.")
        return None
    return word


def _check_name(paragraph: Paragraph, name: Field, mistakes: Mistakes) -> None:
    if not name.text:
        mistakes.note(
            paragraph.head.span, "a question without a name", "Such as: question loose dog"
        )
        return
    keys = {word.key for word in VOCABULARY.words} | {"label"}
    if name.text in VOCABULARY:
        what = f"'{name.text}' is a word of the form already"
        mistakes.note(name.whole, what, "Use it, or give yours another name.")
    elif not _NAME.fullmatch(name.text) or len(name.text) > _LONGEST_NAME:
        what = f"'{name.text}' can't be the name of a question"
        help = f"Use small letters, figures, hyphens and single blanks, at most {_LONGEST_NAME}."
        mistakes.note(name.whole, what, help)
    elif word := reserved(name.text):
        what = f"'{word}' has a meaning of its own in rules"
        mistakes.note(name.find(word), what, "Give the question a name without it.")
    elif why := unfit(name.text, VOCABULARY):
        mistakes.note(name.whole, why, "Give it another name.")
    elif name.text.replace(" ", "_").replace("-", "_") in keys:
        what = f"'{name.text}' reads too much like a word of the form"
        mistakes.note(name.whole, what, "Give it another name.")


def _unit(kind: Kind, fields: Fields, mistakes: Mistakes) -> str | None:
    """The unit of a bare number; a count has an empty one, what is not measured none."""
    measured = kind in MEASURES and kind is not Kind.COUNT
    field = fields.get("unit", needed=measured)
    if field is None:
        return "" if kind is Kind.COUNT else None
    if not measured:
        mistakes.note(field.span, f"{_asked(kind)} has no unit", "Leave the line out.")
        return ""
    units = {unit: factor for unit, factor in MEASURES[kind].units.items() if unit.isascii()}
    if field.text.lower() not in units:
        usual = {factor: unit for unit, factor in reversed(units.items())}
        usual[1.0] = MEASURES[kind].canonical
        help = f"Write one of: {', '.join(reversed(usual.values()))}."
        what = f"'{field.text}' is no unit of {kind.value}"
        mistakes.note(field.whole, what, help, nearest(field.text, units))
        return ""
    return field.text


def _range(
    kind: Kind, unit: str | None, fields: Fields, mistakes: Mistakes
) -> tuple[float | None, float | None]:
    field = fields.get("between", needed=False)
    if field is None:
        return (0, None) if kind is Kind.COUNT else (None, None)
    if kind not in MEASURES:
        mistakes.note(field.span, f"{_asked(kind)} has no range", "Leave the line out.")
        return None, None
    try:
        ends = [phrase(field, node) for node in nodes(parse(field, "span"))]
    except MistakeError as fault:
        mistakes.append(fault.mistake)
        return None, None
    read: list[float] = []
    for end in ends:
        try:
            read.append(read_quantity(unquoted(end.text), kind, unit))
        except QuantityError as fault:
            mistakes.note(end.span, f"'{end.text}' is no {kind.value}; expected {fault}")
            return None, None
    low, high = read
    if low >= high:
        what = "a range whose first figure is not the smaller one"
        mistakes.note(field.whole, what, "Write the smaller figure first.")
    return low, high


def _choices(kind: Kind, fields: Fields, mistakes: Mistakes) -> tuple[str, ...]:
    field = fields.get("choices", needed=kind is Kind.CHOICE)
    if kind is Kind.YES_NO and field is None:
        return ("yes", "no")
    if field is None:
        return ()
    if kind is not Kind.CHOICE:
        mistakes.note(field.span, f"{_asked(kind)} has no choices", "Leave the line out.")
        return ()
    choices = [" ".join(part.split()) for part in field.text.split("|")]
    strange = [c for c in choices if not c or len(c) > _LONGEST_CHOICE or c.lower() in _STATES
               or '"' in c or "\u201c" in c or "\u201d" in c]  # fmt: skip
    folded = [choice.casefold() for choice in choices]
    twice = [c for at, c in enumerate(choices) if c.casefold() in folded[:at]]
    if "" in strange:
        mistakes.note(field.whole, "a bar without a choice on both sides", _CHOICES)
    elif strange:
        what = f"'{strange[0]}' can't be a choice"
        help = f"Choices are short, without quotes, and none is '{_STATES[0]}': the form has that."
        mistakes.note(field.find(strange[0]), what, help)
    elif twice:
        mistakes.note(field.find(twice[0]), f"the choice '{twice[0]}' is there twice", "Keep one.")
    elif not 1 < len(choices) <= _MOST_CHOICES:
        said = "1 choice" if len(choices) == 1 else f"{len(choices)} choices"
        mistakes.note(field.whole, f"{said}; a question has 2 to {_MOST_CHOICES}", _CHOICES)
    return tuple(choices)


def _asked(kind: Kind) -> str:
    return "a yes-or-no question" if kind is Kind.YES_NO else kind.one
