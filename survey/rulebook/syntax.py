"""From the text of a field to a small tree with places, by the grammar beside this file."""

from __future__ import annotations

import functools
import re
from dataclasses import dataclass
from importlib import resources

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, UnexpectedToken

from survey.rulebook.messages import Mistake, MistakeError, Span
from survey.rulebook.paragraphs import Field
from survey.rulebook.slips import slip

_DEEPEST = 20
_MOST_NOTS = 3
# What the grammar's terminals are called in a message.
_SAID = {
    "IS": "'is'", "AND": "'and'", "OR": "'or'", "_NOT": "'not'", "LPAR": "'('", "RPAR": "')'",
    "COMMA": "','", "EQUAL": "'='", "GIVES": "'gives'", "AS": "'as'",
    "PHRASE": "a word or a figure", "SETTING": "a word with an answer",
    "$END": "the end of the line", "WHERE": "'where'", "MEETS": "'meets'",
}  # fmt: skip
_OPERATOR = "'at least', 'at most', 'more than', 'less than', 'one of', 'not' or an answer"
_CLAUSE = "A clause is a word, 'is' and an answer: side protection is none. Of several answers: " \
          "side protection is one of none, sloped"  # fmt: skip
_LIST = (
    "Write 'is one of' before a list; an answer with a comma, 'and' or 'or' in it stands in quotes."
)
_LIKE = {
    "outcome": "Such as: count soil class as C",
    "case": "Such as: case pit depth 6 ft, side protection none gives stop",
    "answers": "Such as: answers footing kind concrete, footing thickness 12 in",
    "limit": "Such as: limit spoil set-back = 2 ft",
    "keys": "Such as: by soil class, pit depth",
    "row": "Such as: row C gives 1.5H:1V",
    "span": "Such as: between 2 ft and 50 ft",
}


@dataclass(frozen=True, slots=True)
class Phrase:
    """A run of words as written, and where it stands."""

    text: str
    span: Span


Node = Tree[Token]


def wrong(
    phrase: Phrase, what: str, help: str = "", near: str | None = None, *, follows: bool = False
) -> MistakeError:
    """What to raise where words don't fit."""
    return MistakeError(Mistake(phrase.span, what, help, near, follows=follows))


@functools.cache
def _grammar() -> Lark:
    text = resources.files(__package__).joinpath("grammar.lark").read_text("utf-8")
    starts = ["condition", "outcome", "case", "answers", "limit", "keys", "row", "span"]
    return Lark(text, parser="lalr", start=starts, maybe_placeholders=False)


def parse(field: Field, start: str) -> Node:
    """Read the text of a field by one rule of the grammar.

    Raises:
        MistakeError: with the place, and what could have stood there.
    """
    text = _joined(field)
    _refuse_deep(field, text)
    try:
        return _grammar().parse(text, start=start)
    except UnexpectedInput as fault:
        mistake = slip(field, start) or _mistake(field, start, text, fault)
        raise MistakeError(mistake) from None


def _joined(field: Field) -> str:
    return "\n".join(line for line, _ in field.lines)


def _place(field: Field, text: str, start: int, end: int) -> Span:
    """Where a stretch of the joined text stands, up to the end of its first line."""
    line_start = text.rfind("\n", 0, start) + 1
    length = len(text[start:end].split("\n", 1)[0])
    return field.place(text.count("\n", 0, start) + 1, start - line_start + 1, length)


def phrase(field: Field, node: Node) -> Phrase:
    """The words of a ``phrase``, ``value`` or ``setting`` node, single-spaced, quotes kept."""
    return _stretch(field, [token for token in node.children if isinstance(token, Token)])


def without(field: Field, node: Node, words: int) -> Phrase:
    """The words of a node without the first few of them."""
    tokens = [token for token in node.children if isinstance(token, Token)]
    text, end = _joined(field), tokens[-1].end_pos or 0
    start = tokens[0].start_pos or 0
    for _ in range(words):
        gap = re.compile(r"\S+\s*").match(text, start, end)
        start = start if gap is None else gap.end()
    return Phrase(" ".join(text[start:end].split()), _place(field, text, start, end))


def whole(field: Field, node: Node) -> Phrase:
    """Everything from the first to the last word of a node, as written."""
    tokens = list(node.scan_values(lambda part: isinstance(part, Token)))
    found = _stretch(field, tokens)
    written = _joined(field)[tokens[0].start_pos : tokens[-1].end_pos]
    missing = written.count("(") - written.count(")")  # brackets are no words of the tree
    written = "(" * -missing + " ".join(written.split()) + ")" * missing
    return Phrase(written, found.span)


def _stretch(field: Field, tokens: list[Token]) -> Phrase:
    start, end = tokens[0].start_pos or 0, tokens[-1].end_pos or 0
    return Phrase(" ".join(" ".join(tokens).split()), _place(field, _joined(field), start, end))


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
            span = _place(field, text, found.start(), found.end())
            raise MistakeError(Mistake(span, what, "Split it into several rules."))
    if nots := re.search(rf"\bnot\b(?:\s+not\b){{{_MOST_NOTS - 1},}}", text):
        span = _place(field, text, nots.start(), nots.end())
        what = f"'not' {_MOST_NOTS} times running"
        raise MistakeError(Mistake(span, what, "One or none says the same."))


def _mistake(field: Field, start: str, text: str, fault: UnexpectedInput) -> Mistake:
    terminals = _terminals(fault)
    expected, ends = _expected(terminals), False
    if isinstance(fault, UnexpectedToken):
        found, ends = re.split(r"\s", str(fault.token))[0], fault.token.type == "$END"
        at = len(text) if ends else (fault.token.start_pos or 0)
    else:
        at = fault.pos_in_stream or 0
        found = text[at : at + 1]
    help = _LIKE.get(start, _CLAUSE if "IS" in terminals else "")
    if start == "limit" and found.isalpha() and "=" in text[at:]:
        help = f"'{found}' has a meaning of its own: give the limit a name without it."
    if found in ('"', "\u201c", "\u201d"):
        what, help = "a quote that is not closed on its line", "Close it with a quote mark."
        if re.search(r"\d\s*$", text[:at]):
            what, help = "a mark for inches", "Write 'in' instead: 5 ft 6 in"
    elif (bracket := _odd_bracket(text)) is not None:
        at, found, ends = bracket, text[bracket], False
        what = "a '(' that is not closed" if found == "(" else "a ')' without its '('"
        help = ""
    elif ends:
        what = f"the line ends too early; expected {expected}"
    else:
        what = f"'{found}' can't stand here; expected {expected}"
        help = _LIST if found == "," and start == "condition" else help
    return Mistake(_place(field, text, at, at + len(found)), what, help)


def _odd_bracket(text: str) -> int | None:
    """The first bracket without its partner; brackets in quotes don't count."""
    opened: list[int] = []
    for found in re.finditer(r'["\u201c][^"\u201c\u201d\n]*["\u201d]|[()]', text):
        if found[0] == "(":
            opened.append(found.start())
        elif found[0] == ")":
            if not opened:
                return found.start()
            opened.pop()
    return opened[0] if opened else None


def _terminals(fault: UnexpectedInput) -> set[str]:
    """What could have stood there."""
    if isinstance(fault, UnexpectedToken):
        return set(fault.accepts or fault.expected)
    return set(fault.allowed) if isinstance(fault, UnexpectedCharacters) else set()


def _expected(terminals: set[str]) -> str:
    if {"_AT_LEAST", "PHRASE"} <= terminals:
        return _OPERATOR
    said = [said for name, said in _SAID.items() if name in terminals]
    return " or ".join(said) if said else "something else"
