"""A fingerprint of each rule, so that two books can be told apart rule by rule.

It follows what a rule judges and says: its condition with the figures of its limits and tables, its
texts with the limits they print, who may lift it; of a seat, how it is made. A comment, a case or
the line where it stands changes nothing.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
import enum
import hashlib
from collections.abc import Mapping
from fractions import Fraction

from survey.rulebook.rules import CatalogueSeat, Limit, Rule, RuleBook, Table
from survey.rulebook.uses import names_in
from survey.vocabulary import Word

# What may change while the rule stays the same.
_LEFT_OUT: Mapping[type, frozenset[str]] = {
    Rule: frozenset({"case_fields", "case_start", "place"}),
    CatalogueSeat: frozenset({"place"}),
    Limit: frozenset({"place"}),
    Table: frozenset({"place"}),
}


def fingerprints(book: RuleBook) -> Mapping[str, str]:
    """The fingerprint of every rule of a book, by its code."""
    seats = {seat.code: seat for seat in book.seats}
    return {
        rule.code: hashlib.sha256(
            repr((_plain(rule), _plain(seats.get(rule.code)), _printed(rule, book))).encode()
        ).hexdigest()[:8]
        for rule in book
    }


def _printed(rule: Rule, book: RuleBook) -> list[object]:
    """The limits and tables whose figures stand in what the rule prints."""
    names = {
        name for text in (rule.say, rule.do, rule.say_es, rule.do_es) for name in names_in(text)
    }
    figures = {**book.limits, **book.tables}
    return [_plain(figures[name]) for name in sorted(names & figures.keys())]


def _plain(part: object) -> object:
    """A part of a rule as texts and figures; a word as its name, for its help is no rule's."""
    if isinstance(part, Word):
        return part.name
    if isinstance(part, enum.Enum):
        return part.value
    if isinstance(part, (Fraction, dt.date)):
        return str(part)
    if isinstance(part, (tuple, list)):
        return [_plain(one) for one in part]
    if dataclasses.is_dataclass(part):
        left_out = _LEFT_OUT.get(type(part), frozenset())
        return [
            type(part).__name__,
            *(
                _plain(getattr(part, field.name))
                for field in dataclasses.fields(part)
                if field.name not in left_out
            ),
        ]
    return part
