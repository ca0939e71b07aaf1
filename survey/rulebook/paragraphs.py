"""Split a rules file into paragraphs and their fields, by indentation alone.

A line that starts at the margin opens a paragraph; an indented line is a field of it, named by
its first word; a line indented further goes on with the field above. ``#`` with a blank behind it
starts a comment line. Nothing is interpreted here, so that one slip spoils one field and not the
rest.

Blanks of every sort count as blanks, as word processors write them. What can't be seen, or turns
the order in which a line is shown, is refused: a rule must be what it looks like.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass

from survey.rulebook.messages import Mistake, Span

# How a paragraph may open, longest first.
HEADS = (
    "switch off rule", "standing release", "replace rule", "legal limit", "legal table",
    "question", "limit", "table", "cases", "topic", "rule", "seat", "cost",
)  # fmt: skip
_HEAD_LINE = re.compile(rf"(?:{'|'.join(HEADS)})(?: |$)")
_FIELD_LINE = re.compile(r"(?P<indent>[ \t]*)(?P<word>[^ \t]+)(?P<gap>[ \t]*)(?P<rest>.*)")
_LONGEST_LINE = 1000
_COMMENT = re.compile(r"\s*#(?![A-Za-z0-9])")  # "#5 bars" is text
_BLANKS = str.maketrans(
    dict.fromkeys((c for c in map(chr, range(0x3001)) if unicodedata.category(c) == "Zs"), " ")
)


@dataclass(frozen=True, slots=True)
class Field:
    """A keyword with its text, which may run over several lines.

    Args:
        keyword: first word of the line.
        lines: the pieces of its text, each with the place where it starts.
    """

    keyword: str
    span: Span
    lines: tuple[tuple[str, Span], ...]

    @property
    def text(self) -> str:
        """The whole text in one line."""
        return " ".join(text for text, _ in self.lines if text)

    def place(self, line: int, column: int, length: int) -> Span:
        """Where a stretch of the text joined by line feeds stands in the file."""
        text, span = self.lines[min(line, len(self.lines)) - 1]
        start = min(column - 1, len(text))
        return Span(span.file, span.line, span.column + start, max(1, length), span.text)

    @property
    def whole(self) -> Span:
        """The first line of the text."""
        text, span = self.lines[0]
        return Span(span.file, span.line, span.column, max(1, len(text)), span.text)

    def find(self, words: str) -> Span:
        """The first place where some words stand in one line of the text, or all of that line."""
        for row, (text, _) in enumerate(self.lines, start=1):
            if words and words in text:
                return self.place(row, text.index(words) + 1, len(words))
        return self.whole


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A head line and the fields below it."""

    head: Field
    fields: tuple[Field, ...]


def unreadable(file: str, text: str) -> Iterator[Mistake]:
    """A mistake for every line that is too long, can't all be seen, or is indented ambiguously."""
    above = ""
    for number, line in _lines(text):
        indent = line[: len(line) - len(line.lstrip(" \t"))]
        above = indent and (above or indent)
        if len(line) > _LONGEST_LINE:
            here = Span(file, number, _LONGEST_LINE + 1, 1, line)
            yield Mistake(here, f"a line of more than {_LONGEST_LINE} characters", _BREAK)
        elif not (plain := line.replace("\t", " ")).isprintable():
            at = next(at for at, character in enumerate(plain) if not character.isprintable())
            what = f"a character that can't be seen (U+{ord(line[at]):04X})"
            yield Mistake(Span(file, number, at + 1, 1, line), what, _RETYPE)
        elif not indent.startswith(above) and not above.startswith(indent):
            what = "tabs and blanks mixed before the lines of one paragraph"
            yield Mistake(Span(file, number, 1, len(line), line), what, _ALIKE)


_BREAK = "Break it, and indent what goes on below it further."
_ALIKE = "Indent them all by blanks, or all by tabs."
_RETYPE = "Delete it: type the words round it again instead of pasting them."


def split_paragraphs(file: str, text: str) -> tuple[tuple[Paragraph, ...], tuple[Mistake, ...]]:
    """Split the text of a rules file.

    Returns:
        The paragraphs in order, and a mistake where lines belong to none.
    """
    paragraphs: list[Paragraph] = []
    mistakes: list[Mistake] = []
    head: Field | None = None
    fields: list[Field] = []
    field_indent = 0
    for number, line in _lines(text):
        if not line or _COMMENT.match(line):
            continue
        match = _FIELD_LINE.fullmatch(line)
        assert match is not None
        indent = len(match["indent"].expandtabs(8))
        indented_head = (not fields or indent <= field_indent) and _HEAD_LINE.match(line.lstrip())
        if indent == 0 or indented_head:
            if indent > 0:
                here = Span(file, number, match.start("word") + 1, len(match["word"]), line)
                what = f"'{match['word']}' is indented, and opens a paragraph"
                mistakes.append(Mistake(here, what, "Start it at the left margin."))
            if head is not None:
                paragraphs.append(Paragraph(head, tuple(fields)))
            head, fields = _field(file, number, line, match), []
        elif head is None:
            if not mistakes:  # one tells enough
                here = Span(file, number, 1, len(line), line)
                what = "an indented line that belongs to no rule or limit"
                mistakes.append(Mistake(here, what, "Start the rule or limit at the left margin."))
        elif fields and indent > field_indent:
            fields[-1] = _continued(fields[-1], file, number, line, match)
        else:
            fields.append(_field(file, number, line, match))
            field_indent = indent
    if head is not None:
        paragraphs.append(Paragraph(head, tuple(fields)))
    return tuple(paragraphs), tuple(mistakes)


def _lines(text: str) -> Iterator[tuple[int, str]]:
    """The lines with their numbers, without what a system puts at the ends of a file and a line."""
    plain = text.removeprefix("\N{BYTE ORDER MARK}").translate(_BLANKS)
    for number, line in enumerate(plain.split("\n"), start=1):
        yield number, line.rstrip("\r").rstrip(" \t")


def _field(file: str, number: int, line: str, match: re.Match[str]) -> Field:
    keyword = Span(file, number, match.start("word") + 1, len(match["word"]), line)
    rest = Span(file, number, match.start("rest") + 1, max(1, len(match["rest"])), line)
    return Field(match["word"], keyword, ((match["rest"], rest),))


def _continued(field: Field, file: str, number: int, line: str, match: re.Match[str]) -> Field:
    start = match.start("word")
    piece = (line[start:], Span(file, number, start + 1, len(line) - start, line))
    return Field(field.keyword, field.span, (*field.lines, piece))


def placeholders(field: Field) -> Iterator[tuple[str, Span]]:
    """The names in braces in a text, each with its place."""
    for row, (text, _) in enumerate(field.lines, start=1):
        for found in re.finditer(r"\{([^{}]*)\}", text):
            yield found[1].strip(), field.place(row, found.start() + 1, len(found[0]))


def odd_braces(field: Field) -> Iterator[Span]:
    """The braces in a text that open or close nothing."""
    for row, (text, _) in enumerate(field.lines, start=1):
        for found in re.finditer(r"\{[^{}]*\}|[{}]", text):
            if len(found[0]) == 1:
                yield field.place(row, found.start() + 1, 1)
