"""A comparison of two rule books in a folder: a page and a workbook."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from survey.assessment.compare import Comparison
from survey.files import refuse_other, told
from survey.jobs.compare_page import MARKER, WHAT, Book, write_compare_page
from survey.jobs.compare_workbook import MADE, write_compare_workbook
from survey.jobs.comparing import Compared
from survey.sheets.table_workbook import refuse_other_workbook


class CompareFiles:
    """The files of a comparison, looked at before the work, which may take long, is done.

    Args:
        out: the folder; it is made where there is none.

    Raises:
        UserError: something that is no earlier comparison stands at a place, or the folder can't
            be made.
    """

    def __init__(self, out: Path) -> None:
        self.page, self.workbook = out / "compare.html", out / "compare.xlsx"
        with told(out, WHAT):
            out.mkdir(parents=True, exist_ok=True)
        refuse_other(self.page, MARKER, WHAT)
        refuse_other_workbook(self.workbook, MADE)

    def write(
        self, comparison: Comparison, unread: Sequence[Compared], books: tuple[Book, Book]
    ) -> None:
        """Write both.

        Args:
            comparison: the sites by both books.
            unread: surveys of which nothing can be said.
            books: the earlier one, and the later one.

        Raises:
            UserError: one of them can't be written.
        """
        write_compare_page(comparison, unread, books, self.page)
        write_compare_workbook(comparison, unread, books, self.workbook)
