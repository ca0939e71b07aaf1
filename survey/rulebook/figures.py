"""Limits and tables: the figures of the book that have a name."""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from dataclasses import dataclass, field

from survey.rulebook.check import CheckMistakeError, any_quantity, read_choice, read_figure
from survey.rulebook.fields import Fields, Mistakes, head_text
from survey.rulebook.messages import Span
from survey.rulebook.paragraphs import Field, Paragraph
from survey.rulebook.rules import MISTAKEN, Limit, Table, TableRow
from survey.rulebook.syntax import Phrase, SyntaxMistakeError, nodes, parse, phrase, unquoted
from survey.vocabulary import VOCABULARY, Kind, Vocabulary, Word, nearest

_MOST_ROWS = 200
_SOURCE = "Name standard and clause, or 'common practice'."
_FIGURE = "Write it like 5 ft, 1.5H:1V, 25 %, 10 days or 3; a factor of 1.5 as 150 %."


@dataclass
class Figures:
    """The limits and tables read so far.

    Args:
        vocabulary: the words that tables may go by.
        replaced: each shipped limit or table that a firm's file sets anew, with the new one.
        spans: where each stands.
    """

    vocabulary: Vocabulary = VOCABULARY
    limits: dict[str, Limit] = field(default_factory=dict)
    tables: dict[str, Table] = field(default_factory=dict)
    replaced: list[tuple[Limit | Table, Limit | Table]] = field(default_factory=list)
    spans: dict[str, Span] = field(default_factory=dict)
    shipped_spans: dict[str, Span] = field(default_factory=dict)

    def read(self, paragraph: Paragraph, opening: str, mistakes: Mistakes, *, local: bool) -> None:
        """Read one limit or table and keep it, unless it has a mistake."""
        legal = opening.startswith("legal ")
        if opening.endswith("limit"):
            found: Limit | Table | None = _read_limit(paragraph, opening, legal, mistakes)
        else:
            found = _read_table(paragraph, opening, legal, self.vocabulary, mistakes)
        if found is None:
            return
        span = head_text(paragraph, opening).whole
        before = self.limits.get(found.name) or self.tables.get(found.name)
        if found.name in self.vocabulary:
            what = f"'{found.name}' is a word of the form already"
            mistakes.note(span, what, "Give it another name.")
            return
        if before is not None:
            if not local or found.name in self.shipped_spans:
                what = f"'{found.name}' is set already at {before.place}"
                mistakes.note(span, what, "Keep one of the two.")
                return
            if why := _not_like(before, found):
                also = ("The shipped one stands", self.spans[found.name])
                mistakes.note(span, *why, also=also)
                return
            self.replaced.append((before, found))
            self.shipped_spans[found.name] = self.spans[found.name]
        self.spans[found.name] = span
        if isinstance(found, Limit):
            self.limits[found.name] = found
        else:
            self.tables[found.name] = found


def _not_like(before: Limit | Table, after: Limit | Table) -> tuple[str, str] | None:
    """Why a firm's figure can't take the place of a shipped one, and what to do."""
    name = after.name
    if before.legal is not after.legal or type(before) is not type(after):
        opening = f"{'legal ' if before.legal else ''}{type(before).__name__.lower()}"
        return f"'{name}' is a {opening} of the shipped book", f"Write '{opening}'."
    if before.kind != after.kind:
        return f"'{name}' measures {before.kind} in the shipped book", "Write it in such a unit."
    if isinstance(before, Table) and isinstance(after, Table):
        same_rows = [row.keys for row in before.rows] == [row.keys for row in after.rows]
        if before.keys != after.keys or (before.legal and not same_rows):
            return f"the rows of '{name}' are not those of the shipped book", "Change figures only."
    return None


def _read_limit(
    paragraph: Paragraph, opening: str, legal: bool, mistakes: Mistakes
) -> Limit | None:
    head = head_text(paragraph, opening)
    source = Fields(paragraph, ("from",), "limit", mistakes).text("from", help=_SOURCE)
    if not head.text:
        mistakes.note(
            paragraph.head.span, "a limit without a name", "Such as: limit pit width = 4 ft"
        )
        return None
    try:
        name, value = (phrase(head, node) for node in nodes(parse(head, "limit")))
    except SyntaxMistakeError as fault:
        mistakes.append(fault.mistake)
        return None
    measured = any_quantity(unquoted(value.text))
    if measured is None:
        mistakes.note(value.span, f"'{value.text}' is no figure with a unit", _FIGURE)
    kind, count = (measured[0].value, measured[1]) if measured else (MISTAKEN, 0)
    place = f"{name.span.file}:{name.span.line}"
    return Limit(name.text, legal, value.text, kind, count, source, place)


def _read_table(
    paragraph: Paragraph, opening: str, legal: bool, vocabulary: Vocabulary, mistakes: Mistakes
) -> Table | None:
    head = head_text(paragraph, opening)
    before = len(mistakes)
    fields = Fields(paragraph, ("by", "row", "from"), "table", mistakes, repeated=("row",))
    source = fields.text("from", help=_SOURCE)
    by = fields.get("by", help="Name the words that the figure depends on.")
    if not head.text:
        mistakes.note(
            paragraph.head.span, "a table without a name", "Such as: table steepest slope"
        )
        return None
    keys = () if by is None else _read_keys(by, vocabulary, mistakes)
    if not keys or len(mistakes) > before:
        return None
    rows: list[TableRow] = []
    kinds: dict[Kind, Span] = {}
    for line in fields.every("row"):
        try:
            kind, row = _read_row(line, keys, vocabulary)
            kinds.setdefault(kind, line.whole)
            rows.append(row)
        except SyntaxMistakeError as fault:
            mistakes.append(fault.mistake)
        except CheckMistakeError as fault:
            mistakes.append(fault.mistake)
    if len(mistakes) == before:
        _check_rows(head, keys, rows, kinds, mistakes)
    if len(mistakes) > before:
        return None
    place = f"{head.span.file}:{head.span.line}"
    return Table(head.text, legal, keys, next(iter(kinds)).value, tuple(rows), source, place)


def _read_keys(by: Field, vocabulary: Vocabulary, mistakes: Mistakes) -> tuple[Word, ...]:
    try:
        names = [phrase(by, node) for node in nodes(parse(by, "keys"))]
    except SyntaxMistakeError as fault:
        mistakes.append(fault.mistake)
        return ()
    keys: list[Word] = []
    for name in names:
        if name.text not in vocabulary:
            near = nearest(name.text, (word.name for word in vocabulary.words))
            mistakes.note(name.span, f"'{name.text}' is no word that a table can go by", "", near)
            return ()
        word = vocabulary[name.text]
        if not (word.choices or word.measured) or (word.measured and name is not names[-1]):
            what = f"'{word.name}' can't stand here: it is a {word.kind.value}"
            help = "A table goes by choices, and by one figure, which comes last."
            mistakes.note(name.span, what, help)
            return ()
        keys.append(word)
    return tuple(keys)


def _read_row(line: Field, keys: tuple[Word, ...], vocabulary: Vocabulary) -> tuple[Kind, TableRow]:
    *given, gives = nodes(parse(line, "row"))
    value = phrase(line, gives)
    if len(given) != len(keys):
        listed = ", ".join(key.name for key in keys)
        what = f"the row has {len(given)} answers before 'gives', and the table {len(keys)}"
        raise CheckMistakeError(Phrase(value.text, line.whole), what, f"Give: {listed}.")
    read: list[str | int] = []
    for node, key in zip(given, keys, strict=True):
        up_to = node.data == "up_to"
        said = phrase(line, nodes(node)[0] if up_to else node)
        if key.measured is not up_to:
            help = "Write 'up to' and a figure." if key.measured else "Write one of its choices."
            raise CheckMistakeError(said, f"'{said.text}' is no answer to '{key.name}'", help)
        read.append(read_figure(key, said) if up_to else read_choice(key, said))
    measured = any_quantity(unquoted(value.text))
    if measured is None:
        raise CheckMistakeError(value, f"'{value.text}' is no figure with a unit", _FIGURE)
    kind, steps = measured
    return kind, TableRow(tuple(read), steps, value.text)


def _check_rows(
    head: Field, keys: tuple[Word, ...], rows: list[TableRow], kinds: Iterable[Kind],
    mistakes: Mistakes,
) -> None:  # fmt: skip
    """One kind of figure; each choice once, or with rising figures; no choice left out."""
    if len(list(kinds)) > 1:
        said = " and ".join(kind.one for kind in kinds)
        mistakes.note(head.whole, f"a table with {said} in it", "All rows give one kind of figure.")
    if len(rows) > _MOST_ROWS:
        what = f"a table of {len(rows)} rows; at most {_MOST_ROWS} can be judged quickly"
        mistakes.note(head.whole, what, "Split it.")
        return
    picked = [key for key in keys if not key.measured]
    bounds: dict[tuple[str | int, ...], list[int]] = {}
    for row in rows:
        last = row.keys[-1] if len(picked) < len(keys) else 0
        assert isinstance(last, int)
        bounds.setdefault(row.keys[: len(picked)], []).append(last)
    for choices, found in bounds.items():
        if any(a >= b for a, b in itertools.pairwise(found)):
            said = ", ".join(str(choice) for choice in choices) or "this figure"
            what = f"the rows for {said} do not rise, or one is there twice"
            mistakes.note(head.whole, what, "Put them in order, each once.")
    wanted = itertools.product(*(key.choices for key in picked))
    missing = [", ".join(choices) for choices in wanted if choices not in bounds]
    if missing and picked:
        what = f"the table has no row for: {'; '.join(missing[:5])}"
        mistakes.note(head.whole, what, "Every choice needs a row.")
    elif not rows:
        mistakes.note(head.whole, "a table without rows", "Such as: row C gives 1.5H:1V")
