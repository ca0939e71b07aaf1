"""The fields of a paragraph by their keywords, with every slip in them noted."""

from __future__ import annotations

import difflib
from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace

from survey.rulebook.messages import Mistakes, Span
from survey.rulebook.paragraphs import HEADS, Field, Paragraph
from survey.vocabulary import Subject, gives_no_number, names_nobody, nearest, says_nothing

_SPANISH = "es"
# What to write in a line, for a paragraph that lacks it.
_HELP = {
    "for": "Say what it is judged for, such as: for each pier",
    "when": "Such as: when pit depth is more than 5 ft",
    "then": "Write one of: note, condition, ask, engineer, stop, or 'count WORD as CHOICE'.",
    "say": "Say what is wrong, as the crew reads it.",
    "do": "Say what is to be done about it.",
    "who": "Say who does it, such as: who crew",
    "from": "Name standard and clause, or 'common practice'.",
    "release": "Say who may lift it, such as: release nobody",
    "case": "Give one that is met, one that is not, and one with the answer missing.",
    "row": "Such as: row C gives 1.5H:1V",
    "kind": "Such as: kind yes or no",
    "unit": "Such as: unit ft",
    "choices": "Such as: choices none | some | many",
    "prompt": "Write the question as the surveyor reads it.",
    "lifts": "Name the code of the rule whose findings it lifts.",
    "engineer": "Name the licensed engineer who gave it.",
    "licence": "Give the number and the state.",
    "given": "Give its first day, such as: given 2026-01-01",
    "until": "Give its last day, such as: until 2026-12-31",
    "note": "Say what it rests on; the crew ticks it.",
    "reason": "Say why; every sheet shows it.",
    "by": "Name the person who answers for it.",
}

_NEAR_ENOUGH = 0.7
_COMMENT = "A line that is for people alone starts with '#'."


def opened(paragraph: Paragraph, mistakes: Mistakes) -> tuple[str, Paragraph] | None:
    """What a paragraph opens with, and the paragraph; or none, with a mistake.

    A paragraph with fields whose head is misspelt is read as what was probably meant, so that
    whatever else is wrong in it is told too.
    """
    head = paragraph.head
    words = [head.keyword, *head.text.split()]
    for name in HEADS:
        if words[: _length(name)] == name.split():
            return name, paragraph
    begun = [name for name in HEADS if name.split()[0] == words[0]]
    what = f"'{head.keyword}' opens no paragraph"
    if begun:
        name = begun[0] if "=" in head.text else begun[-1]
        mistakes.note(head.span, what, f"Write '{name}'.")
        return (name, _as_if(paragraph, name, 1)) if name.startswith("legal") else None
    near = max(HEADS, key=lambda name: _likeness(words, name))
    if _likeness(words, near) < _NEAR_ENOUGH:
        help = f"A paragraph starts with one of: {', '.join(reversed(HEADS))}. {_COMMENT}"
        mistakes.note(head.span, what, help)
        return None
    mistakes.note(head.span, what, "" if paragraph.fields else _COMMENT, near)
    return (near, _as_if(paragraph, near, _length(near))) if paragraph.fields else None


def _length(name: str) -> int:
    return len(name.split())


def _likeness(words: list[str], name: str) -> float:
    written = " ".join(words[: _length(name)]).lower()
    return difflib.SequenceMatcher(None, written, name).ratio()


def _as_if(paragraph: Paragraph, name: str, words: int) -> Paragraph:
    """A paragraph as if its head opened with a name instead of its first words."""
    head = paragraph.head
    rest = head
    for _ in range(words - 1):
        rest = without_keyword(rest, rest.text.partition(" ")[0])
    keyword, _, more = name.partition(" ")
    text, span = rest.lines[0]
    moved = replace(span, column=span.column - len(more) - 1) if more else span
    lines = ((f"{more} {text}".strip(), moved), *rest.lines[1:])
    return replace(paragraph, head=replace(head, keyword=keyword, lines=lines))


def without_keyword(field: Field, words: str) -> Field:
    """A field without the first words of its text, such as the rest of a keyword."""
    text, span = field.lines[0]
    rest = text[len(words) :].lstrip()
    gone = len(text) - len(rest)
    moved = Span(span.file, span.line, span.column + gone, max(1, len(rest)), span.text)
    return replace(field, lines=((rest, moved), *field.lines[1:]))


def head_text(paragraph: Paragraph, opening: str) -> Field:
    """The head line of a paragraph without the words that open it."""
    head = paragraph.head
    for word in opening.split()[1:]:
        head = without_keyword(head, word)
    return head


class Fields:
    """The fields of one paragraph; each is looked up by its keyword.

    Args:
        paragraph: the paragraph.
        allowed: keywords that it may have.
        called: what it is, such as ``rule``.
        mistakes: where slips are noted.
        repeated: keywords that may come more than once.
    """

    def __init__(
        self,
        paragraph: Paragraph,
        allowed: Collection[str],
        called: str,
        mistakes: Mistakes,
        *,
        repeated: Collection[str] = (),
    ) -> None:
        self._head, self._called, self._mistakes = paragraph.head, called, mistakes
        self._allowed, self._repeated = tuple(allowed), tuple(repeated)
        self._fields: dict[str, list[Field]] = {}
        strange: list[Field] = []
        for field in paragraph.fields:
            keyword = field.keyword
            if f"{keyword} {_SPANISH}" in allowed and field.text.split()[:1] == [_SPANISH]:
                self._keep(f"{keyword} {_SPANISH}", without_keyword(field, _SPANISH))
            elif keyword in allowed:
                self._keep(keyword, field)
            else:
                strange.append(field)
        for field in strange:
            self._guess(field)

    def _keep(self, keyword: str, field: Field) -> None:
        if not field.text:
            what = f"nothing stands after '{keyword}'"
            self._mistakes.note(field.span, what, _HELP.get(keyword, ""))
        elif keyword in self._fields and keyword not in self._repeated:
            what = f"a second '{keyword}' line in one {self._called}"
            self._mistakes.note(field.span, what, "Keep one.")
        self._fields.setdefault(keyword, []).append(field)

    def _guess(self, field: Field) -> None:
        """A line with a keyword that is none: read as the one that was probably meant."""
        free = [k for k in self._allowed if k not in self._fields or k in self._repeated]
        near = nearest(field.keyword, [k for k in free if not k.endswith(f" {_SPANISH}")])
        help = "" if near else f"Lines of a {self._called} are: {', '.join(self._allowed)}."
        what = f"'{field.keyword}' is no line of a {self._called}"
        self._mistakes.note(field.span, what, help, near)
        if near:
            self._keep(near, field)

    def get(self, keyword: str, *, needed: bool = True, help: str = "") -> Field | None:
        """A field that has a text; where it is needed and missing, that is noted."""
        found = self._fields.get(keyword)
        if found and found[0].text:
            return found[0]
        if not found and needed:
            what = f"the {self._called} has no '{keyword}' line"
            self._mistakes.note(self._head.span.whole, what, help or _HELP.get(keyword, ""))
        return None

    def text(self, keyword: str, *, needed: bool = True, help: str = "") -> str:
        """The text of a field, empty where there is none."""
        field = self.get(keyword, needed=needed, help=help)
        return "" if field is None else field.text

    def substance(self, keyword: str, *, help: str = "") -> str:
        """The text of a field that must say something: a dash or "ok" is noted."""
        field = self.get(keyword, help=help)
        if field is None:
            return ""
        if says_nothing(field.text):
            help = "It stands on every sheet: write it out."
            self._mistakes.note(field.whole, f"'{field.text}' says nothing", help)
        return field.text

    def person(self, keyword: str) -> str:
        """The text of a field that must name a person: a role alone is noted."""
        text = self.substance(keyword)
        if text and not says_nothing(text) and names_nobody(text):
            what = f"'{text}' names no person"
            self._mistakes.note(self.every(keyword)[0].whole, what, "Write the name.")
        return text

    def licence(self, *, help: str = "") -> str:
        """The text of the line with a licence, which must hold a number."""
        text = self.substance("licence", help=help)
        if text and not says_nothing(text) and gives_no_number(text):
            what = f"'{text}' has no licence number in it"
            self._mistakes.note(self.every("licence")[0].whole, what, "Write number and state.")
        return text

    def every(self, keyword: str) -> tuple[Field, ...]:
        """All fields of a keyword."""
        return tuple(self._fields.get(keyword, ()))

    def one_of(
        self, keyword: str, choices: Iterable[str], *, needed: bool = True, help: str = ""
    ) -> str:
        """The text of a field that must be one of the choices, empty where it is not."""
        field = self.get(keyword, needed=needed, help=help)
        listed = list(choices)
        if field is None:
            return ""
        if field.text not in listed:
            what = f"'{field.text}' can't stand after '{keyword}'"
            help = f"Write one of: {', '.join(listed)}."
            self._mistakes.note(field.whole, what, help, nearest(field.text, listed))
            return ""
        return field.text

    def subject(self, subjects: Mapping[str, object]) -> str | None:
        """What follows ``for``, by its name."""
        field = self.get("for")
        if field is None:
            return None
        said = {each(name): name for name in subjects}
        name = field.text.removeprefix("each ").removeprefix("the ")
        if name in subjects:
            return name
        what = f"'{field.text}' is nothing that a {self._called} can be for"
        near = nearest(field.text, said)
        self._mistakes.note(field.whole, what, f"Write one of: {', '.join(said)}.", near)
        return None


def each(subject: str) -> str:
    """What a rule is for: ``the site``, ``each pier``."""
    return f"the {subject}" if subject == Subject.SITE.value else f"each {subject}"
