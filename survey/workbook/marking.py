"""A copy of a filled workbook with a comment at each cell to put right."""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

import re
import warnings
from collections.abc import Iterable, Mapping
from io import BytesIO
from pathlib import Path

from openpyxl.comments.comments import Comment
from openpyxl.reader.excel import load_workbook
from openpyxl.workbook.workbook import Workbook

from survey.errors import Problem, UserError
from survey.files import refuse_existing, told, whole
from survey.workbook.layout import START
from survey.workbook.marks import AUTHOR, is_mark, mark
from survey.workbook.reading.file import file_bytes

_CELL = re.compile(r"(?P<sheet>.+)!(?P<cell>[A-Z]{1,3}[1-9][0-9]*)")
_ROW = re.compile(r"(?P<sheet>.+)!row (?P<row>[1-9][0-9]*)")
_WIDTH, _HEIGHT = 320, 110  # points; a message of three lines
_BY_HAND = (
    "The messages say which cells to put right. Comments can only be put into a workbook that is "
    "saved as .xlsx or .xlsm."
)


def mark_workbook(source: Path, problems: Iterable[Problem], out: Path) -> None:
    """Write a copy of a workbook with the problems as comments on their cells.

    A problem of a row stands at its first cell, one of the whole file at the first cell of the
    first sheet. The copy reads as the workbook does; the marks are no text outside the form.

    Args:
        source: a workbook that was read; it is only read.
        problems: what is wrong, with sheet and cell.
        out: the copy; it must not exist yet: in an earlier one somebody may have put cells right.

    Raises:
        UserError: the source is no .xlsx or .xlsm workbook that can be copied, or ``out`` can't
            be written.
    """
    content = file_bytes(source)
    refuse_existing(out)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # parts that openpyxl leaves out are no fault of theirs
            book = load_workbook(BytesIO(content), keep_vba=source.suffix.lower() == ".xlsm")
    except Exception as fault:  # whatever stands in the file; it was read by another library
        raise UserError(f"{source}: no marked copy can be made ({fault}). {_BY_HAND}") from None
    for (sheet, cell), texts in _by_cell(book, problems).items():
        place = book[sheet][cell]
        earlier = place.comment.text if place.comment else ""
        said = mark("\n\n".join(texts))
        # What a person has written there stays theirs: it stands outside the seal.
        kept = f"\n\n{earlier}" if earlier and not is_mark(earlier) else ""
        comment = Comment(said + kept, AUTHOR, _HEIGHT, _WIDTH)
        place.comment = comment
    with told(out, "marked copy"):
        out.parent.mkdir(parents=True, exist_ok=True)
        with whole(out) as unfinished:
            book.save(unfinished)


def _by_cell(book: Workbook, problems: Iterable[Problem]) -> Mapping[tuple[str, str], list[str]]:
    """The messages, without their place, by the sheet and cell at which they are put."""
    cells: dict[tuple[str, str], list[str]] = {}
    first = (START if START in book.sheetnames else book.sheetnames[0], "A1")
    for problem in problems:
        if (found := _CELL.fullmatch(problem.where)) and found["sheet"] in book.sheetnames:
            place, said = (found["sheet"], found["cell"]), problem.message
        elif (found := _ROW.fullmatch(problem.where)) and found["sheet"] in book.sheetnames:
            place, said = (found["sheet"], f"A{found['row']}"), problem.message
        else:
            place, said = first, str(problem)
        cells.setdefault(place, []).append(said)
    return cells
