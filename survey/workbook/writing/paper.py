"""How a sheet is locked, frozen and printed: on letter and on A4 paper alike."""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

from collections.abc import Sequence

from openpyxl.worksheet.pagebreak import Break, ColBreak
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

# Widths of columns, in letters, that fit on a landscape page of letter paper, the narrower one.
_LETTERS_AT_FULL_SIZE = 128.0
_LEAST_SCALE, _MOST_SCALE = 68, 75  # per cent; smaller letters can't be read in rain
LETTERS_A_PAGE = _LETTERS_AT_FULL_SIZE * 100 / _LEAST_SCALE


def set_up(
    sheet: Worksheet,
    *,
    frozen: str | None,
    head_rows: str | None = None,
    landscape: bool = False,
    one_page: bool = False,
) -> None:
    """Freeze and repeat the head of a sheet, lock all but the answers, print as wide as a page.

    Margins leave room for the printable width and height of both letter and A4 paper.
    """
    sheet.freeze_panes = frozen
    sheet.print_title_rows = head_rows
    sheet.sheet_view.showGridLines = False
    page = sheet.page_setup
    page.orientation, page.pageOrder = "landscape" if landscape else "portrait", "overThenDown"
    page.fitToWidth, page.fitToHeight = 1, 1 if one_page else 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    margins = sheet.page_margins
    margins.left = margins.right = 0.5
    margins.top, margins.bottom, margins.header, margins.footer = 0.7, 0.7, 0.3, 0.3
    sheet.oddHeader.left.text, sheet.oddHeader.right.text = "Pier survey: &A", "&F"
    sheet.oddFooter.right.text = "Page &P of &N"
    lock(sheet)


def lock(sheet: Worksheet) -> None:
    """Lock all but the answers, without a password; rows may still be made taller or added."""
    sheet.protection.sheet = True
    for allowed in ("formatCells", "formatColumns", "formatRows", "insertRows", "sort"):
        setattr(sheet.protection, allowed, False)  # in the file format, false means not forbidden


def print_in_blocks(sheet: Worksheet, label: float, blocks: Sequence[Sequence[float]]) -> None:
    """Print a wide sheet on several pages, each with the labels and whole blocks of columns.

    A program that fits pages to a width pays no heed to breaks, so the scale is set instead.

    Args:
        sheet: whose first column, of labels, stands on every page.
        label: the width of that column, in letters.
        blocks: widths of the columns of each block, in letters.
    """
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=False)
    page = sheet.page_setup
    page.orientation = "landscape"
    page.fitToWidth = page.fitToHeight = None
    sheet.print_title_cols = "A:A"
    sheet.col_breaks = ColBreak()
    widths = [label, *(width for block in blocks for width in block)]
    ends = page_ends(label, blocks)
    for column in ends:
        sheet.col_breaks.append(Break(id=column))
    pages = zip([1, *ends], [*ends, len(widths)], strict=True)
    widest = max(label + sum(widths[first:last]) for first, last in pages)
    page.scale = min(int(_LETTERS_AT_FULL_SIZE * 100 / widest), _MOST_SCALE)


def page_ends(label: float, blocks: Sequence[Sequence[float]]) -> list[int]:
    """Number of the last column on each page but the last one; the labels are column 1.

    >>> page_ends(10, [[60, 60], [60], [30, 30]])
    [3]
    """
    ends: list[int] = []
    column, used = 1, label
    for block in blocks:
        if label + sum(block) <= LETTERS_A_PAGE < used + sum(block):
            ends.append(column)
            used = label
        for width in block:
            if used > label and used + width > LETTERS_A_PAGE:
                ends.append(column)
                used = label
            column, used = column + 1, used + width
    return ends
