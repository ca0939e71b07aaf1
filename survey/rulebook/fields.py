"""The fields of a paragraph by their keywords, with every slip in them noted."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace

from survey.rulebook.messages import Mistake, Span
from survey.rulebook.paragraphs import Field, Paragraph
from survey.vocabulary import nearest

# How a paragraph may open, longest first, and whether it is about the shipped book.
HEADS = (
    "switch off rule", "standing release", "replace rule", "legal limit", "legal table",
    "question", "limit", "table", "cases", "topic", "rule",
)  # fmt: skip
_SPANISH = "es "


class Mistakes(list[Mistake]):
    """Every mistake found so far."""

    def note(
        self, span: Span, what: str, help: str = "", near: str | None = None,
        also: tuple[str, Span] | None = None,
    ) -> None:  # fmt: skip
        """Note one more."""
        self.append(Mistake(span, what, help, near, also))


def opened(paragraph: Paragraph, lines: Collection[str], mistakes: Mistakes) -> str | None:
    """Which of the heads a paragraph opens with, or none, with a mistake.

    Args:
        paragraph: as it was split.
        lines: keywords of the fields that paragraphs have.
        mistakes: where to note that it opens with none.
    """
    head = paragraph.head
    said = f"{head.keyword} {head.text}".strip()
    for name in HEADS:
        if said == name or said.startswith(f"{name} "):
            return name
    near = nearest(head.keyword, {name.split(" ")[0] for name in HEADS})
    help = f"A paragraph starts with one of: {', '.join(HEADS)}."
    if head.keyword in lines:
        near, help = None, "Indent it: it belongs to the rule above it."
    begun = [name for name in HEADS if name.split(" ")[0] == head.keyword]
    if begun:
        near, help = None, f"Write '{begun[0]}'."
    mistakes.note(head.span, f"'{head.keyword}' opens no paragraph", help, near)
    return None


def without_keyword(field: Field, words: str) -> Field:
    """A field without the first words of its text, such as the rest of a keyword."""
    text, span = field.lines[0]
    rest = text[len(words) :].lstrip()
    gone = len(text) - len(rest)
    moved = Span(span.file, span.line, span.column + gone, max(1, len(rest)), span.text)
    return replace(field, lines=((rest, moved), *field.lines[1:]))


def head_text(paragraph: Paragraph, opening: str) -> Field:
    """The head line of a paragraph without the words that open it."""
    return without_keyword(paragraph.head, opening[len(paragraph.head.keyword) :].strip())


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
        self._fields: dict[str, list[Field]] = {}
        for field in paragraph.fields:
            self._sort(field, allowed, repeated)

    def _sort(self, field: Field, allowed: Collection[str], repeated: Collection[str]) -> None:
        keyword = field.keyword
        if f"{keyword} es" in allowed and field.text.startswith(_SPANISH):
            keyword, field = f"{keyword} es", without_keyword(field, _SPANISH.strip())
        if keyword not in allowed:
            what = f"'{keyword}' is no line of a {self._called}"
            help = f"Lines of a {self._called} are: {', '.join(allowed)}."
            self._mistakes.note(field.span, what, help, nearest(keyword, allowed))
        elif not field.text:
            self._mistakes.note(field.span, f"nothing stands after '{keyword}'")
        elif keyword in self._fields and keyword not in repeated:
            what = f"a second '{keyword}' line in one {self._called}"
            self._mistakes.note(field.span, what, "Keep one.")
        self._fields.setdefault(keyword, []).append(field)

    def get(self, keyword: str, *, needed: bool = True, help: str = "") -> Field | None:
        """A field that has a text; where it is needed and missing, that is noted."""
        found = self._fields.get(keyword)
        if found and found[0].text:
            return found[0]
        if not found and needed:
            what = f"the {self._called} has no '{keyword}' line"
            self._mistakes.note(self._head.whole, what, help)
        return None

    def text(self, keyword: str, *, needed: bool = True, help: str = "") -> str:
        """The text of a field, empty where there is none."""
        field = self.get(keyword, needed=needed, help=help)
        return "" if field is None else field.text

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
        name = field.text.removeprefix("each ").removeprefix("the ")
        if name in subjects:
            return name
        listed = ", ".join(f"each {s}" if s != "site" else "the site" for s in subjects)
        what = f"'{field.text}' is nothing that a {self._called} can be for"
        self._mistakes.note(field.whole, what, f"Write one of: {listed}.", nearest(name, subjects))
        return None
