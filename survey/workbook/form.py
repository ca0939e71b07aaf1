"""Write the form, blank or filled, as an .xlsx workbook."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Set
from pathlib import Path
from types import MappingProxyType

from survey.answers import MOST_ROWS
from survey.errors import Problem, UserError
from survey.files import refuse_existing, told, whole
from survey.model import Picture, Survey
from survey.rewriting import Place
from survey.vocabulary import VOCABULARY, Units, Vocabulary
from survey.vocabulary.walk import PAGES


def write_form(
    path: Path,
    survey: Survey | None = None,
    vocabulary: Vocabulary = VOCABULARY,
    *,
    units: Units | None = None,
    short: bool = False,
    wanted: Set[Place] = frozenset(),
    unread: Mapping[Place, str] = MappingProxyType({}),
    stray: Iterable[Problem] = (),
) -> tuple[Picture, ...]:
    """Write a form; with a survey, its answers and pictures are filled in.

    Reading the written form gives the same answers back. The file appears whole or not at all.

    Args:
        path: where to write; must end in .xlsx and not exist yet.
        survey: answers to fill in, at most 200 rows a list.
        vocabulary: the questions of a blank form; a filled one asks what its survey answers.
        units: in which it asks; those of the survey, else US customary.
        short: only what decides on a first visit, and whatever the survey has answers to.
        wanted: subject, label of the row and name of the question (``site`` is the label of the
            site) of the cells to frame: the open questions of the last check.
        unread: by the same, what stood in a cell and could not be read; it is written as it stood.
            The name of the cell with a row's label is ``label``.
        stray: what stood outside the questions; it is kept on a sheet of its own.

    Returns:
        Pictures of the survey that are left out, for no spreadsheet would show them.

    Raises:
        UserError: the name has another ending, the file exists, can't be written there, or there
            are more rows or questions than a form can hold.
    """
    if path.suffix.lower() != ".xlsx":
        raise UserError(
            f"{path}: a form is a workbook, and no program would open it under this name. Give a "
            "name that ends in .xlsx."
        )
    refuse_existing(path)
    if survey is not None:
        _check_rows(path, survey)
    # openpyxl is heavy; reading needs none of it
    from survey.workbook.writing.pages import save_form
    from survey.workbook.writing.plan import Order

    order = Order(
        vocabulary if survey is None else survey.vocabulary,
        units or (Units.US_CUSTOMARY if survey is None else survey.units),
        survey,
        short,
        frozenset(wanted),
        unread,
        tuple(stray),
    )
    with told(path, "form"), whole(path) as unfinished:
        left_out = save_form(order, unfinished)
    return left_out


def _check_rows(path: Path, survey: Survey) -> None:
    for page in PAGES:
        count = len(survey.rows(page.subject))
        if count > MOST_ROWS:
            raise UserError(
                f"{path}: the survey has {count} rows for sheet '{page.sheet}', which holds "
                f"{MOST_ROWS}. Split the job into two surveys."
            )
