"""Answers as a person reads them, and text from a survey made harmless on paper and screen."""

from __future__ import annotations

import datetime as dt
import functools
import re

from survey.model import Row, Value
from survey.vocabulary import VOCABULARY, Kind, Missing, Word, write_quantity

# Control characters but line ends, marks that turn the direction of text, and halves of
# characters, which no file can hold. A terminal or a page could be led astray by them.
_UNSEEN = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")
_NOT_PLAIN = re.compile("[^\t\n -~]")


def legible(text: str) -> str:
    r"""The text with every control character shown as a replacement mark.

    >>> legible("gas\x1b[31m") == "gas\N{REPLACEMENT CHARACTER}[31m"
    True
    """
    # Few characters of a page are no plain ones; to look each of all up would take thrice as long.
    if _UNSEEN.search("".join(set(_NOT_PLAIN.findall(text)))) is None:
        return text
    return _UNSEEN.sub("\N{REPLACEMENT CHARACTER}", text)


def said(word: Word, value: Value) -> str:
    """An answer to a question as printed, in the unit of its word; a state as its words."""
    if isinstance(value, Missing):
        return str(value)
    if isinstance(value, dt.date):
        return day(value)
    if isinstance(value, str):
        return value
    return _measured(word.kind, word.unit, value)


@functools.lru_cache(maxsize=4096)
def _measured(kind: Kind, unit: str | None, value: float) -> str:
    """The same figures recur at many piers and behind many rules, so their text is kept."""
    return write_quantity(value, kind, unit)


def answer(row: Row, name: str) -> str:
    """The answer of a row to a shipped question, as printed."""
    return said(VOCABULARY[name], row.value(name))


def day(date: dt.date) -> str:
    """A day as printed.

    >>> day(dt.date(2026, 12, 1))
    'Tue 01 Dec 2026'
    """
    return f"{date:%a %d %b %Y}"


def crew_days(site: Row) -> str:
    """The days of the crew on site, as printed: ``Mon 07 Dec to Fri 11 Dec 2026``."""
    first, last = site.value("crew date"), site.value("last crew date")
    if isinstance(first, dt.date) and isinstance(last, dt.date):
        if first == last:
            return day(first)
        start = f"{first:%a %d %b}" if first.year == last.year else day(first)
        return f"{start} to {day(last)}"
    if first is last:
        return str(first)
    if isinstance(first, dt.date):
        return f"{day(first)}, last day not known"
    return f"first day not known, last day {answer(site, 'last crew date')}"


def job_name(site: Row) -> str:
    """The name of the job, or that none was given."""
    name = site.known("job name")
    return "no name given" if name is None else str(name)


@functools.lru_cache(maxsize=32_768)
def split_place(where: str) -> tuple[str, str]:
    """Sheet and cell of a place on a form; of a JSON survey, list and path.

    A cell stands behind many rules, at the same place in every workbook.

    >>> split_place("Piers!F7"), split_place("piers[2].pit_depth")
    (('Piers', 'F7'), ('piers', 'piers[2].pit_depth'))
    """
    sheet, mark, cell = where.rpartition("!")
    return (sheet, cell) if mark else (re.split(r"[.\[]", where)[0], where)


def count(number: int, one: str, many: str = "") -> str:
    """A number with its noun.

    >>> count(1, "pier"), count(2, "pier"), count(3, "box", "boxes")
    ('1 pier', '2 piers', '3 boxes')
    """
    return f"{number} {one if number == 1 else many or one + 's'}"
