"""What people write where the language has words of its own, and what to write instead.

Looked for only where a line can't be read: then a slip that stands there is what is wrong.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Mapping

from survey.rulebook.messages import Mistake, Span
from survey.rulebook.paragraphs import Field
from survey.vocabulary import ROUND

_NOUNS = {noun: noun for around in ROUND.values() for noun in around}
# Each thing that can be looked at, one or several, with the word for one.
_THINGS = {**{f"{noun}s": noun for noun in _NOUNS}, "utilities": "utility", **_NOUNS}
_AFTER_IS = {
    "more than": "greater than|bigger than|larger than|higher than|deeper than|longer than|"
                    "wider than|thicker than|heavier than|more then|over|above",
    "less than": "smaller than|fewer than|lower than|shallower than|shorter than|"
                    "narrower than|thinner than|lighter than|less then|under|below",
    "at most": "not more than|no more than|not over|not above|not greater than|up to",
    "at least": "not less than|no less than|not under|not below|not fewer than|at lest",
    "after": "later than", "before": "earlier than",
    "on or after": "not before", "on or before": "not after", "one of": "in|any of|either",
}  # fmt: skip
_WORDS = {
    "is not": "isn't|isnt", "is": "equals", "is more than": "exceeds",
    "is between ... and ...": r"between(?: (?!and\b)[^\s(),]+)+? to(?= \d)",
    "and": "AND", "or": "OR", "not": "NOT", "any": "ANY", "no": "NO",
    "where": "|".join(
        rf"(?<=\b{thing}\s)(?:with|that|which|whose|having)".replace(" ", r"\s")
        for thing in _THINGS
    ),
}  # fmt: skip
_SIGNS = {
    "is at most": "<=|=<|≤", "is at least": ">=|=>|≥", "is not": "<>|!=|≠", "is less than": "<",
    "is more than": ">", "is": "==?", "plus": r"\+", "times": r"\*|×|(?<!\d)(?<!\d\s)%(?!\S)",
    "minus": r"(?<!\S)[-–−](?!\S)", "divided by": r"÷|(?<!\S)/(?!\S)", "and": "&&?", "or": r"\|\|?",
    "% times": r"%\s+of\b",
}  # fmt: skip
_OPERATORS = "more than|less than|at least|at most|one of"
_COMMA = (r"\b\d{1,3}(?:,\d{3})+\b", "Write figures without a comma: 30000 lb")
# What is read well and must not be taken for a slip: quoted answers, and operators after 'is'.
_WELL = rf'["\u201c][^"\u201c\u201d]*["\u201d]|\bis (?:{_OPERATORS})\b'


def _condition() -> list[tuple[str, str]]:
    after_is = [(rf"(?<=\bis\s)(?:{said})\b", instead) for instead, said in _AFTER_IS.items()]
    words = [(rf"\b(?:{said})\b", instead) for instead, said in _WORDS.items()]
    every = [(rf"\b(?:all|each) {thing}\b(?: meets?)?(?! listed)", f"every {one} meets")
             for thing, one in _THINGS.items()]  # fmt: skip
    instead = [*after_is, *words, *every, *((said, word) for word, said in _SIGNS.items())]
    written = [(pattern, f"Write '{word}'.") for pattern, word in instead]
    missing = (rf"\b(?:{_OPERATORS})\b", "Write 'is' before it.")
    equal = (r"(?<=\bis\s)(?:equal to|exactly)\b", "Leave it out; of figures write 'at least'.")
    return [*written, equal, missing, (r"\bif\b", "Leave it out."), _COMMA]


_SLIPS: Mapping[str, list[tuple[str, str]]] = {
    "condition": _condition(),
    "case": [
        (r"=|\bis\b", "Leave it out: pit depth 6 ft"), (r"\band\b", "Write a comma instead."),
        _COMMA,
    ],
    "row": [(r"=", "Write 'gives'."), _COMMA],
    "limit": [_COMMA],
    "span": [(r"\bto\b", "Write 'and'."), _COMMA],
}  # fmt: skip


@functools.cache
def _pattern(start: str) -> re.Pattern[str]:
    grouped = [f"({said})" for said, _ in _SLIPS[start]]
    return re.compile("|".join([_WELL, *grouped]).replace(" ", r"\s+"))


def slip(field: Field, start: str, near: Span | None = None) -> Mistake | None:
    """The first slip in a text, or at a place of it.

    Args:
        field: the text.
        start: the rule of the grammar that it is read by.
        near: where it must stand; anywhere if none is given.
    """
    if start not in _SLIPS:
        return None
    for row, (text, _) in enumerate(field.lines, start=1):
        for found in _pattern(start).finditer(text):
            if found.lastindex is None:
                continue
            span = field.place(row, found.start() + 1, len(found[0]))
            if near is None or span.meets(near):
                return Mistake(span, _what(found[0]), _SLIPS[start][found.lastindex - 1][1])
    return None


def _what(said: str) -> str:
    sign = not any(character.isalnum() for character in said)
    return f"a sign where words are read: '{said}'" if sign else f"'{said}' is not read here"
