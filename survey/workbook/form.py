"""Write the form, blank or filled, as an .xlsx workbook."""

from __future__ import annotations

import os
from pathlib import Path

from survey.answers import MOST_ROWS
from survey.errors import UserError
from survey.model import LISTS, Survey
from survey.vocabulary import VOCABULARY, Vocabulary
from survey.workbook._layout import SHEETS


def write_form(
    path: Path, survey: Survey | None = None, vocabulary: Vocabulary = VOCABULARY
) -> None:
    """Write a form; with a survey, its answers are filled in.

    Reading the written form gives the same answers back. The file appears whole or not at all.

    Args:
        path: where to write; must end in .xlsx and not exist yet.
        survey: answers to fill in, at most 200 rows a list.
        vocabulary: the questions of a blank form; a filled one asks what its survey answers.

    Raises:
        UserError: the name has another ending, the file exists, can't be written there, or there
            are more rows or questions than a form can hold.
    """
    if path.suffix.lower() != ".xlsx":
        raise UserError(
            f"{path}: a form is a workbook, and no program would open it under this name. Give a "
            "name that ends in .xlsx."
        )
    if path.exists():
        raise UserError(
            f"{path}: this file exists already and is not written over. Give another name, or "
            "move the file away first."
        )
    if survey is not None:
        _check_rows(path, survey)
    from survey.workbook._pages import save_form  # openpyxl is heavy; reading needs none of it

    unfinished = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        save_form(vocabulary if survey is None else survey.vocabulary, survey, unfinished)
        unfinished.replace(path)
    except OSError as fault:
        raise UserError(
            f"{path}: the form can't be written here ({fault.strerror}). Give a folder that "
            "exists and that you may write to."
        ) from None
    finally:
        unfinished.unlink(missing_ok=True)


def _check_rows(path: Path, survey: Survey) -> None:
    for subject in LISTS:
        count = len(survey.rows(subject))
        if count > MOST_ROWS:
            raise UserError(
                f"{path}: the survey has {count} rows for sheet '{SHEETS[subject]}', which holds "
                f"{MOST_ROWS}. Split the job into two surveys."
            )
