"""A sheet of squared paper, for a pen on paper or on glass. Nothing is read from it."""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from survey.vocabulary import Units
from survey.workbook.layout import SKETCH, column_name
from survey.workbook.writing.cells import write
from survey.workbook.writing.look import Look
from survey.workbook.writing.paper import set_up

_ACROSS, _DOWN, _HEAD = 60, 36, 4
_SQUARE = 15.0  # points
_SQUARE_WIDTH = 2.86  # letters; as wide as high
_LINES = (
    "Draw the walls as seen from above, with their labels; then piers, lines, trees, doors and "
    "whatever stands near. Nothing is read from this sheet.",
    "North:  ↑   Turn the arrow: draw it again to where north is, or write which edge of the sheet "
    "looks north: ____________________",
)


def fill_sketch(sheet: Worksheet, units: Units) -> None:
    """Make every cell of the sheet a square, ruled by the program's own lines."""
    sheet.title = SKETCH
    square = {Units.US_CUSTOMARY: "1 ft or 2 ft", Units.METRIC: "0.5 m"}[units]
    scale = f"Scale: one square is __________ (such as {square})"
    for row, line in enumerate((*_LINES, scale), start=1):
        write(sheet.cell(row, 1), line, Look.LINE)
        sheet.merge_cells(start_row=row, end_row=row, start_column=1, end_column=_ACROSS)
        sheet.row_dimensions[row].height = 20.0
    for column in range(_ACROSS):
        sheet.column_dimensions[column_name(column)].width = _SQUARE_WIDTH
    for row in range(_HEAD, _HEAD + _DOWN):
        sheet.row_dimensions[row].height = _SQUARE
    set_up(sheet, frozen=None, landscape=True, one_page=True)
    sheet.protection.sheet = False
    sheet.sheet_view.showGridLines = sheet.print_options.gridLines = True
    sheet.print_area = f"A1:{column_name(_ACROSS - 1)}{_HEAD + _DOWN - 1}"
