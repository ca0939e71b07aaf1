"""A workbook as the reader of the form sees it, whichever sort of file it came from."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from survey.errors import UnreadableSurveyError
from survey.workbook.reading.file import unreadable

Grid = Sequence[Sequence[object]]

MOST_CELLS = 300_000  # and rows
MOST_COMMENTS = 50
MOST_MERGED = 2000  # areas on a sheet
LARGEST_TEXT = 256 * 2**20  # all cells together
# Stands in the cell of a formula that was saved without its value, which would read as a blank.
NO_VALUE = "(a formula without its value)"


class Area(NamedTuple):
    """Cells merged into one; rows and columns from 0, both ends included."""

    top: int
    left: int
    bottom: int
    right: int


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet: its name in this file, its cells from A1 in rows of one length, what is merged."""

    name: str
    grid: Grid
    merged: tuple[Area, ...] = ()


@dataclass(frozen=True, slots=True)
class Book:
    """A workbook of which the cells are read when they are asked for.

    Args:
        names: of its sheets, in order.
        load: the sheet of a name, unless it is no sheet of cells or has more than so many.
        comments: what people have pinned to cells, the first of them.
    """

    names: Sequence[str]
    load: Callable[[str, int], Sheet | None]
    comments: tuple[str, ...] = ()


def too_large(path: Path, reason: str) -> UnreadableSurveyError:
    """The error that tells what no form has so much of."""
    return unreadable(
        path, reason, help="Copy the answers into a fresh form made by 'pier-survey form'."
    )


@contextmanager
def damage_told(path: Path) -> Iterator[None]:
    """Whatever goes wrong in a library that reads the file is told as damage to the file."""
    try:
        yield
    except UnreadableSurveyError:
        raise
    except BaseException as fault:
        # A panic of the reader is no Exception, but it is the file that is at fault.
        if isinstance(fault, Exception) or type(fault).__name__ == "PanicException":
            said = " ".join(str(fault).split())[:200]
            raise unreadable(path, f"the workbook is damaged ({said})") from None
        raise
