"""From the text of a field to a small tree with places, by the grammar beside this file."""

from __future__ import annotations

import functools
import re
from dataclasses import dataclass
from importlib import resources

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, UnexpectedToken

from survey.rulebook.messages import Mistake, Span
from survey.rulebook.paragraphs import Field

_DEEPEST = 20
# What the grammar's terminals are called in a message.
_SAID = {
    "IS": "'is'", "AND": "'and'", "OR": "'or'", "_NOT": "'not'", "LPAR": "'('", "RPAR": "')'",
    "COMMA": "','", "EQUAL": "'='", "GIVES": "'gives'", "AS": "'as'",
    "PHRASE": "a word or a figure", "SETTING": "a word with an answer",
    "QUOTED": "a text in quotes", "_AT_LEAST": "'at least'", "_AT_MOST": "'at most'",
    "_MORE_THAN": "'more than'", "_LESS_THAN": "'less than'", "$END": "the end of the line",
    "WHERE": "'where'", "MEETS": "'meets'",
}  # fmt: skip
_MOST_NOTS = 3
_SHOWN_FOR_OPERATOR = (
    "'at least', 'at most', 'more than', 'less than', 'one of', 'not' or an answer"
)


@dataclass(frozen=True, slots=True)
class Phrase:
    """A run of words as written, and where it stands."""

    text: str
    span: Span


Node = Tree[Token]


class SyntaxMistakeError(Exception):
    """The text of a field that the grammar can't read."""

    def __init__(self, mistake: Mistake) -> None:
        self.mistake = mistake


@functools.cache
def _grammar() -> Lark:
    text = resources.files(__package__).joinpath("grammar.lark").read_text("utf-8")
    starts = ["condition", "outcome", "case", "limit", "keys", "row", "span"]
    return Lark(text, parser="lalr", start=starts, maybe_placeholders=False)


def parse(field: Field, start: str) -> Node:
    """Read the text of a field by one rule of the grammar.

    Raises:
        SyntaxMistakeError: with the place, and what could have stood there.
    """
    text = "\n".join(line for line, _ in field.lines)
    _refuse_deep(field, text)
    try:
        return _grammar().parse(text, start=start)
    except UnexpectedInput as fault:
        raise SyntaxMistakeError(_mistake(field, text, fault)) from None


def phrase(field: Field, node: Node) -> Phrase:
    """The words of a ``phrase``, ``value`` or ``setting`` node, single-spaced, quotes kept."""
    return _stretch(field, [token for token in node.children if isinstance(token, Token)])


def whole(field: Field, node: Node) -> Phrase:
    """Everything from the first to the last word of a node, as written."""
    tokens = list(node.scan_values(lambda part: isinstance(part, Token)))
    found = _stretch(field, tokens)
    text = "\n".join(line for line, _ in field.lines)
    written = text[tokens[0].start_pos : tokens[-1].end_pos]
    missing = written.count("(") - written.count(")")  # brackets are no words of the tree
    written = "(" * -missing + " ".join(written.split()) + ")" * missing
    return Phrase(written, found.span)


def _stretch(field: Field, tokens: list[Token]) -> Phrase:
    first, last = tokens[0], tokens[-1]
    one_line = first.line == last.end_line
    length = (last.end_column or 0) - (first.column or 0) if one_line else len(first.split("\n")[0])
    span = field.place(first.line or 1, first.column or 1, length)
    return Phrase(" ".join(" ".join(tokens).split()), span)


def nodes(node: Node) -> list[Node]:
    """The children that are nodes, not words."""
    return [part for part in node.children if isinstance(part, Tree)]


def child(node: Node, position: int) -> Node:
    """A child that is a node, not a word."""
    return nodes(node)[position]


def unquoted(text: str) -> str:
    """A value without the quotes that kept its commas and its and/or together."""
    return text[1:-1].strip() if text[:1] in '"\u201c' and len(text) > 1 else text


def _refuse_deep(field: Field, text: str) -> None:
    depth = 0
    for found in re.finditer(r"[()]", text):
        depth += 1 if found[0] == "(" else -1
        if depth > _DEEPEST:
            what = f"more than {_DEEPEST} brackets inside each other"
            raise SyntaxMistakeError(Mistake(field.whole, what, "Split it into several rules."))
    if re.search(rf"(?:\bnot\b\s*){{{_MOST_NOTS},}}", text):
        what = f"'not' {_MOST_NOTS} times running"
        raise SyntaxMistakeError(Mistake(field.whole, what, "Say it without."))


_SIGNS = {"<": "is less than", ">": "is more than", "<=": "is at most", ">=": "is at least",
          "=": "is", "==": "is", "!=": "is not", "<>": "is not", "≤": "is at most",
          "≥": "is at least"}  # fmt: skip


def _mistake(field: Field, text: str, fault: UnexpectedInput) -> Mistake:
    for row, line in enumerate(text.split("\n"), start=1):
        if sign := re.search(r"[<>=!≤≥]+", line):
            span = field.place(row, sign.start() + 1, len(sign[0]))
            said = _SIGNS.get(sign[0], "words")
            return Mistake(span, f"a sign where words are read: '{sign[0]}'", f"Write '{said}'.")
    expected = _expected(fault)
    if isinstance(fault, UnexpectedToken) and fault.token.type == "$END":
        last_row = len(field.lines)
        last = field.lines[-1][0]
        span = field.place(last_row, len(last) + 1, 1)
        return Mistake(span, f"the line ends too early; expected {expected}")
    found = str(fault.token).split("\n")[0] if isinstance(fault, UnexpectedToken) else ""
    span = field.place(fault.line, fault.column, len(found))
    if isinstance(fault, UnexpectedCharacters):
        found = text.split("\n")[fault.line - 1][fault.column - 1 :][:1]
        if found in '"\u201c\u201d':
            return Mistake(
                span, "a quote that is not closed on its line", "Close it with a quote mark."
            )
    return Mistake(span, f"'{found}' can't stand here; expected {expected}")


def _expected(fault: UnexpectedInput) -> str:
    terminals: set[str] = set(fault.allowed) if isinstance(fault, UnexpectedCharacters) else set()
    if isinstance(fault, UnexpectedToken):
        terminals = set(fault.accepts or fault.expected)
    if {"_AT_LEAST", "PHRASE"} <= terminals:
        return _SHOWN_FOR_OPERATOR
    said = sorted(_SAID[name] for name in terminals if name in _SAID)
    return " or ".join(said) if said else "something else"
