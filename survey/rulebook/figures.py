"""Limits and tables: the figures of the book that have a name."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, field

from survey.rulebook.fields import Fields, head_text
from survey.rulebook.messages import MistakeError, Mistakes, Span
from survey.rulebook.names import unfit
from survey.rulebook.paragraphs import Field, Paragraph
from survey.rulebook.rules import Limit, Table, TableRow
from survey.rulebook.syntax import Node, Phrase, nodes, parse, phrase, wrong
from survey.rulebook.values import any_quantity, read_any_figure, read_choice, read_figure
from survey.vocabulary import VOCABULARY, Kind, Vocabulary, Word, nearest

_MOST_ROWS = 200
_MOST_SAID = 5
KEEP_ROWS = "Keep its rows, and change only what they give."
_LIMIT = "Such as: limit spoil set-back = 2 ft"
_TABLE = "Such as: table steepest slope"


@dataclass
class Figures:
    """The limits and tables read so far.

    Args:
        vocabulary: the words that tables may go by.
        replaced: each shipped limit or table that a firm's file sets anew, with the new one.
        spans: where each stands; ``row_spans``: where each row of a table stands.
        shipped_spans, shipped_row_spans: the same for what is replaced.
        mistaken: names of those, and of questions, that have a mistake of their own.
    """

    vocabulary: Vocabulary = VOCABULARY
    limits: dict[str, Limit] = field(default_factory=dict)
    tables: dict[str, Table] = field(default_factory=dict)
    replaced: list[tuple[Limit | Table, Limit | Table]] = field(default_factory=list)
    spans: dict[str, Span] = field(default_factory=dict)
    shipped_spans: dict[str, Span] = field(default_factory=dict)
    row_spans: dict[str, tuple[Span, ...]] = field(default_factory=dict)
    shipped_row_spans: dict[str, tuple[Span, ...]] = field(default_factory=dict)
    mistaken: set[str] = field(default_factory=set)

    def read(self, paragraph: Paragraph, opening: str, mistakes: Mistakes, *, local: bool) -> None:
        """Read one limit or table and keep it, unless it has a mistake."""
        legal = opening.startswith("legal ")
        head = head_text(paragraph, opening)
        if opening.endswith("limit"):
            found: Limit | Table | None = _read_limit(paragraph, head, legal, mistakes)
        else:
            found = self._read_table(paragraph, head, legal, mistakes)
        if found is None or not self._takes_its_place(found, head.whole, mistakes, local=local):
            self.mistaken.add(head.text.partition("=")[0].strip())
            return
        self.spans[found.name] = head.whole
        if isinstance(found, Limit):
            self.limits[found.name] = found
        else:
            self.tables[found.name] = found
            rows = (line for line in paragraph.fields if line.keyword == "row")
            self.row_spans[found.name] = tuple(line.whole for line in rows)

    def _takes_its_place(
        self, found: Limit | Table, span: Span, mistakes: Mistakes, *, local: bool
    ) -> bool:
        """Whether a limit or table may have its name, whose bearer it may then replace."""
        name = found.name
        if fault := unfit(name, self.vocabulary):
            mistakes.note(span, fault, "Give it another name.")
            return False
        before = self.limits.get(name) or self.tables.get(name)
        if before is None:
            return True
        if not local or name in self.shipped_spans:
            also = ("The other stands", self.spans[name])
            mistakes.note(span, f"'{name}' is set already", "Keep one of the two.", also=also)
            return False
        if why := _not_like(before, found):
            mistakes.note(span, *why, also=("The shipped one stands", self.spans[name]))
            return False
        self.replaced.append((before, found))
        self.shipped_spans[name] = self.spans[name]
        self.shipped_row_spans[name] = self.row_spans.get(name, ())
        return True

    def _read_table(
        self, paragraph: Paragraph, head: Field, legal: bool, mistakes: Mistakes
    ) -> Table | None:
        before = len(mistakes)
        fields = Fields(paragraph, ("by", "row", "from"), "table", mistakes, repeated=("row",))
        source = fields.text("from")
        by = fields.get("by", help="Name the words that the figure depends on.")
        fields.get("row")
        if not head.text:
            mistakes.note(paragraph.head.span, "a table without a name", _TABLE)
        keys = () if by is None else self._read_keys(by, mistakes)
        rows: list[_Row] = []
        for line in fields.every("row") if keys else ():
            try:
                rows.append(_read_row(line, keys))
            except MistakeError as fault:
                mistakes.append(fault.mistake)
        if rows and len(mistakes) == before:
            _check_rows(head, keys, rows, mistakes)
        if len(mistakes) > before:
            return None
        figures = tuple(one.row for one in rows)
        kind, place = rows[0].kind.value, head.span.place
        return Table(head.text, legal, keys, kind, figures, source, place)

    def _read_keys(self, by: Field, mistakes: Mistakes) -> tuple[Word, ...]:
        try:
            names = [phrase(by, node) for node in nodes(parse(by, "keys"))]
            return tuple(self._read_key(name, last=name is names[-1]) for name in names)
        except MistakeError as fault:
            mistakes.append(fault.mistake)
            return ()

    def _read_key(self, name: Phrase, *, last: bool) -> Word:
        if name.text not in self.vocabulary:
            near = nearest(name.text, (word.name for word in self.vocabulary.words))
            what = f"'{name.text}' is no word that a table can go by"
            raise wrong(name, what, near=near, follows=name.text in self.mistaken)
        word = self.vocabulary[name.text]
        if not (word.choices or word.measured) or (word.measured and not last):
            what = f"'{word.name}' can't stand here: it is {word.kind.one}"
            raise wrong(name, what, "A table goes by choices, and by one figure, which comes last.")
        return word


def _not_like(before: Limit | Table, after: Limit | Table) -> tuple[str, str] | None:
    """Why a firm's figure can't take the place of a shipped one, and what to do."""
    name = after.name
    if before.legal is not after.legal or type(before) is not type(after):
        opening = f"{'legal ' if before.legal else ''}{type(before).__name__.lower()}"
        return f"'{name}' is a {opening} of the shipped book", f"Write '{opening}'."
    if before.kind != after.kind:
        what = f"'{name}' measures {before.kind} in the shipped book"
        return what, f"Give it a unit of {before.kind}."
    if isinstance(before, Table) and isinstance(after, Table) and before.keys != after.keys:
        return f"the rows of '{name}' are not those of the shipped book", KEEP_ROWS
    return None


def _read_limit(paragraph: Paragraph, head: Field, legal: bool, mistakes: Mistakes) -> Limit | None:
    before = len(mistakes)
    source = Fields(paragraph, ("from",), "limit", mistakes).text("from")
    if not head.text.partition("=")[0].strip():
        mistakes.note(paragraph.head.span, "a limit without a name", _LIMIT)
        return None
    try:
        name, value = (phrase(head, node) for node in nodes(parse(head, "limit")))
        kind, count = read_any_figure(value)
        if count < 0:
            mistakes.note(value.span, "a limit below nought", "Turn the comparison round instead.")
    except MistakeError as fault:
        mistakes.append(fault.mistake)
    if len(mistakes) > before:
        return None
    return Limit(name.text, legal, value.text, kind.value, count, source, name.span.place)


def _read_row(line: Field, keys: tuple[Word, ...]) -> _Row:
    *given, gives = nodes(parse(line, "row"))
    value = phrase(line, gives)
    if len(given) != len(keys):
        listed = ", ".join(key.name for key in keys)
        what = f"a row with {_answers(len(given))}, in a table that goes by {len(keys)}"
        help = f"Before 'gives' stands an answer to each of: {listed}."
        raise wrong(Phrase(value.text, line.whole), what, help)
    read = [_read_answer(line, node, key) for node, key in zip(given, keys, strict=True)]
    kind, steps = read_any_figure(value)
    return _Row(line.whole, kind, TableRow(tuple(read), steps, value.text))


def _answers(number: int) -> str:
    return "1 answer" if number == 1 else f"{number} answers"


def _read_answer(line: Field, node: Node, key: Word) -> str | int:
    up_to = node.data == "up_to"
    said = phrase(line, nodes(node)[0] if up_to else node)
    if key.measured and not up_to:
        what = f"'{key.name}' is {key.kind.one}: a row goes up to a figure of it"
        figure = said.text if any_quantity(said.text) is not None else "8 ft"
        raise wrong(said, what, f"Write it like: up to {figure}")
    if up_to and not key.measured:
        what = f"'{key.name}' has choices, and 'up to' goes with figures"
        raise wrong(said, what, f"Write the choice alone: {said.text}")
    return read_figure(key, said) if up_to else read_choice(key, said)


@dataclass(frozen=True, slots=True)
class _Row:
    """A row of a table with its line and the kind of figure that it gives."""

    line: Span
    kind: Kind
    row: TableRow


def _check_rows(head: Field, keys: tuple[Word, ...], rows: list[_Row], mistakes: Mistakes) -> None:
    """One kind of figure; each choice once, or with rising figures; no choice left out."""
    if len(rows) > _MOST_ROWS:
        what = f"a table of {len(rows)} rows; at most {_MOST_ROWS} can be judged quickly"
        mistakes.note(head.whole, what, "Leave rows out, or make two tables of it.")
        return
    picked = [key for key in keys if not key.measured]
    last: dict[tuple[str | int, ...], _Row] = {}
    for one in rows:
        choices = one.row.keys[: len(picked)]
        if one.kind is not rows[0].kind:
            what = f"this row gives {one.kind.one}, and the first {rows[0].kind.one}"
            help = "All rows of a table give one kind of figure."
            mistakes.note(one.line, what, help, also=("The first stands", rows[0].line))
        if choices in last and (why := _not_after(one.row.keys[-1], last[choices].row.keys[-1])):
            mistakes.note(one.line, *why, also=("The other stands", last[choices].line))
        last[choices] = one
    if math.prod(len(key.choices) for key in picked) > _MOST_ROWS:
        what = f"a table that goes by more answers than {_MOST_ROWS} rows can hold"
        mistakes.note(head.whole, what, "Let it go by fewer words.")
        return
    wanted = itertools.product(*(key.choices for key in picked))
    missing = [", ".join(choices) for choices in wanted if choices not in last]
    if missing and picked:
        more = f" and {len(missing) - _MOST_SAID} more" if len(missing) > _MOST_SAID else ""
        what = f"the table has no row for: {'; '.join(missing[:_MOST_SAID])}{more}"
        mistakes.note(head.whole, what, "Every choice needs a row.")


def _not_after(key: str | int, before: str | int) -> tuple[str, str] | None:
    """What is wrong with a row after another of the same choices."""
    if key == before:
        return "a row that is there already", "Keep one of the two."
    if isinstance(key, int) and isinstance(before, int) and key < before:
        return "a row that goes less far than the one above it", "Put the rows in rising order."
    return None
