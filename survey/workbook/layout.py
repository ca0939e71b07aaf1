"""How the workbook is laid out: what the writer and the reader both go by."""

from __future__ import annotations

import functools
from collections.abc import Mapping

from survey.vocabulary import Subject, Vocabulary, Word

FORM_VERSION = 2

# The sheets with the questions are those of survey.vocabulary.walk; these hold no answers.
START = "Start"
SKETCH = "Sketch"
NOT_READ = "Not read"  # what stood outside the questions of the file that a form was filled from
CHOICES = "Choices"
LISTS, CHECKS = "Lists", "Checks"  # hidden: what drops down, what is counted and what is odd

SITE_HEADINGS = ("Question", "Answer", "Unit", "Help")
HEAD_ROWS = 4  # block, heading, unit and help stand above the keys of a list
START_COLUMNS = CHOICES_COLUMNS = 4
NOT_READ_FIRST = 4  # row of the first text on "Not read"; columns: where, what stood there, why

# Keys in hidden cells. The reader goes by them first, so rows and columns may be moved.
VERSION_KEY = "pier_survey_form"  # on Start, in its last row; the version stands beside it
UNITS_KEY = "pier_survey_units"  # on Start, above the version; the units stand beside it
SHORT_KEY = "pier_survey_short"  # on Start, above the version, on a short form only
QUESTION_KEY = "site_question"
ANSWER_KEY = "site_answer"
BLOCK_KEY = "block"  # in the column of keys: this row is the title of a block, not a question
LABEL_KEY = "label"
PICTURE_KEY = "picture"  # in the row of keys of Photos: a column to put pictures in, not a question

BLANK_ROWS = 60
MOST_ROWS_DEEP, MOST_COLUMNS = 9999, 130  # DZ; no cell further out is read
LONGEST_CELL = 32_767  # characters; what a spreadsheet cell can hold


@functools.cache
def asked(vocabulary: Vocabulary, subject: Subject) -> Mapping[str, Word]:
    """The questions about a subject, by key, in the order of the form."""
    return {word.key: word for word in vocabulary.asked_of(subject)}


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
