"""How the workbook is laid out: what the writer and the reader both go by."""

from __future__ import annotations

import functools
from collections.abc import Mapping

from survey.vocabulary import VOCABULARY, Subject, Vocabulary, Word

FORM_VERSION = 1

START = "Start"
CHOICES = "Choices"
LISTS = "Lists"
SHEETS: Mapping[Subject, str] = {
    Subject.SITE: "Site",
    Subject.WALL: "Walls",
    Subject.PIER: "Piers",
    Subject.UTILITY: "Utilities",
    Subject.NEIGHBOUR: "Neighbours",
    Subject.SOIL_LAYER: "Soil",
    Subject.PHOTO: "Photos",
    Subject.RELEASE: "Releases",
}

SITE_HEADINGS = ("Question", "Answer", "Unit", "Help")
CHOICES_COLUMNS = 4

# Keys in hidden cells. The reader goes by them alone, so rows and columns may be moved.
VERSION_KEY = "pier_survey_form"
QUESTION_KEY = "site_question"
ANSWER_KEY = "site_answer"
LABEL_KEY = "label"

BLANK_ROWS = 60
MOST_ROWS_DEEP, MOST_COLUMNS = 9999, 130  # DZ; no cell further out is read
LONGEST_CELL = 32_767  # characters; what a spreadsheet cell can hold


@functools.cache
def asked(vocabulary: Vocabulary, subject: Subject) -> Mapping[str, Word]:
    """The questions about a subject, by key, in the order of the form."""
    return {word.key: word for word in vocabulary.asked_of(subject)}


@functools.cache
def own(vocabulary: Vocabulary, subject: Subject) -> Mapping[str, Word]:
    """Those of them that a firm's own rules add, by key; a form made before has none of them."""
    words = asked(vocabulary, subject).items()
    return {key: word for key, word in words if word.name not in VOCABULARY}


def folded(name: str) -> str:
    """A sheet's name without what a person does not see: blanks, small or capital letters."""
    return "".join(name.split()).casefold()


@functools.cache
def column_name(index: int) -> str:
    """Letters of a column, counted from 0.

    >>> column_name(0), column_name(25), column_name(26)
    ('A', 'Z', 'AA')
    """
    letters, rest = "", index + 1
    while rest:
        rest, last = divmod(rest - 1, 26)
        letters = chr(ord("A") + last) + letters
    return letters
