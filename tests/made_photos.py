"""Surveys with photos to test with: a wall, three piers and a gas line, by their labels."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from survey.model import Answer, Picture, Row, Survey
from survey.vocabulary import NOT_KNOWN, VOCABULARY, Subject

FIRST = 5  # row of a list's first entry
_COLUMNS = {"photo file": "B", "photo shows": "C", "photo remarks": "D"}


def survey_with(
    *photos: Mapping[str, str],
    pictures: Sequence[Picture] = (),
    walls: Sequence[str] = ("North",),
    piers: Sequence[str] = ("P1", "P2", "P3"),
) -> Survey:
    """A survey whose list of photos has these answers, row after row."""
    return Survey(
        "larch-lane",
        _row(Subject.SITE, "site", "Site"),
        walls=_rows(Subject.WALL, "Walls", walls),
        piers=_rows(Subject.PIER, "Piers", piers),
        utilities=_rows(Subject.UTILITY, "Utilities", ("gas, old",)),
        photos=tuple(_photo(number, said) for number, said in enumerate(photos, start=FIRST)),
        pictures=tuple(pictures),
    )


def _rows(subject: Subject, sheet: str, labels: Sequence[str]) -> tuple[Row, ...]:
    return tuple(
        _row(subject, label, f"{sheet}!row {number}")
        for number, label in enumerate(labels, start=FIRST)
    )


def _row(subject: Subject, label: str, where: str) -> Row:
    words = VOCABULARY.asked_of(subject)
    return Row(subject, label, {w.name: Answer(NOT_KNOWN, where) for w in words}, where)


def _photo(number: int, said: Mapping[str, str]) -> Row:
    answers = {
        name: Answer(said.get(name, NOT_KNOWN), f"Photos!{column}{number}")
        for name, column in _COLUMNS.items()
    }
    return Row(Subject.PHOTO, f"F{number - FIRST + 1}", answers, f"Photos!row {number}")
