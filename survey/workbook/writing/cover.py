"""The first sheet: how to fill the form in, whose job it is, and what is still open."""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

from collections.abc import Mapping, Sequence

from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.worksheet import Worksheet

from survey.workbook import texts
from survey.workbook.layout import (
    FORM_VERSION,
    SHORT_KEY,
    START,
    START_COLUMNS,
    UNITS_KEY,
    VERSION_KEY,
    column_name,
)
from survey.workbook.writing import look
from survey.workbook.writing.cells import write
from survey.workbook.writing.look import Look
from survey.workbook.writing.paper import set_up
from survey.workbook.writing.plan import SITE_FIRST, PagePlan, Plan

_WIDTHS = (19, 11, 11, 76)
_WIDE = sum(_WIDTHS[1:])
_ROOM_FOR_ODD = 28.0  # points; two lines
_JOB = ("job name", "address", "state", "surveyor", "survey date", "crew date")
_OPEN_HEADINGS = ("Sheet", "Listed", "Still open", "Odd: look again")
assert len(_WIDTHS) == len(_OPEN_HEADINGS) == START_COLUMNS

_STATES = (
    (Look.ANSWER, "answered", "White: answered, or not asked for yet."),
    (Look.OPEN, "open", "Dotted or light grey: still open. In a list, once the row has a label."),
    (
        Look.RULED_OUT,
        "ruled out",
        "Hatched or grey, struck out: does not apply, because of an earlier answer.",
    ),
    (Look.ODD, "odd", "White on black: two answers can hardly both be right. Look again."),
    (Look.ASKED_ANSWER, "asked", "Thick frame: an open question of the last check."),
)


def fill_cover(sheet: Worksheet, plan: Plan, counts: Mapping[str, str]) -> None:
    """Write the cover.

    Args:
        sheet: the first sheet.
        plan: of the form.
        counts: the formulas of :func:`survey.workbook.writing.checks.fill_checks`.
    """
    order = plan.order
    sheet.title = START
    for column, width in enumerate(_WIDTHS):
        sheet.column_dimensions[column_name(column)].width = width
    write(sheet["A1"], texts.TITLE, Look.TITLE)
    sheet.row_dimensions[1].height = 30.0
    row = _paragraphs(sheet, 2, [
        texts.PURPOSE, *([texts.SHORT] if order.short else ()),
        *([texts.WANTED] if order.wanted else ()),
    ])  # fmt: skip
    row = _job(sheet, row, plan)
    row = _open(sheet, row, plan, counts)
    steps = texts.steps(order.units, [page.sheet for page in plan.pages])
    numbered = [(str(number), step) for number, step in enumerate(steps, start=1)]
    row = _lines(sheet, row, "How to fill it in", numbered)
    row = _lines(sheet, row, "What an answer means", texts.MEANINGS)
    row = _states(sheet, row, asked=bool(order.wanted))
    version = f"Form version {FORM_VERSION}, units: {order.units.value}"
    row = _lines(sheet, row, "Which form this is", [("Version", version)])
    keys: list[tuple[str, str | int]] = [
        (UNITS_KEY, order.units.value),
        (VERSION_KEY, FORM_VERSION),
    ]
    for key, value in [(SHORT_KEY, "yes"), *keys] if order.short else keys:
        write(sheet.cell(row, 1), key)
        sheet.cell(row, 2).value = value
        sheet.row_dimensions[row].hidden = True
        row += 1
    set_up(sheet, frozen="A2")


def _paragraphs(sheet: Worksheet, row: int, said: Sequence[str]) -> int:
    for line in said:
        write(sheet.cell(row, 1), line, Look.LINE)
        sheet.merge_cells(start_row=row, end_row=row, start_column=1, end_column=START_COLUMNS)
        sheet.row_dimensions[row].height = look.height((line, _WIDTHS[0] + _WIDE, 11))
        row += 1
    return row + 1


def _band(sheet: Worksheet, row: int, title: str) -> None:
    for column in range(1, START_COLUMNS + 1):
        sheet.cell(row, column).style = Look.BLOCK
    write(sheet.cell(row, 1), title)
    sheet.row_dimensions[row].height = 22.0


def _lines(sheet: Worksheet, row: int, title: str, lines: Sequence[tuple[str, str]]) -> int:
    """A block of lines, each with a name before it; gives the row after it."""
    _band(sheet, row, title)
    for name, line in lines:
        row += 1
        write(sheet.cell(row, 1), name, Look.NAME)
        write(sheet.cell(row, 2), line)
        _widen(sheet, row, Look.QUESTION)
        sheet.row_dimensions[row].height = look.height((line, _WIDE, look.QUESTION_SIZE))
    return row + 2


def _widen(sheet: Worksheet, row: int, as_look: Look) -> None:
    """Make one cell of all beside the first."""
    for column in range(2, START_COLUMNS + 1):
        sheet.cell(row, column).style = as_look
    sheet.merge_cells(start_row=row, end_row=row, start_column=2, end_column=START_COLUMNS)


def _job(sheet: Worksheet, row: int, plan: Plan) -> int:
    """What job this is, as its sheet says."""
    _band(sheet, row, "The job")
    for name in _JOB:
        page = plan.page_of(name)
        if page is None:
            continue
        row += 1
        word = plan.order.vocabulary[name]
        answer = page.reference(word)
        write(sheet.cell(row, 1), texts.heading(name), Look.NAME)
        sheet.cell(row, 2).value = f'=IF({answer}="","",{answer})'
        _widen(sheet, row, Look.SHOWN_DATE if name.endswith("date") else Look.QUESTION)
        sheet.row_dimensions[row].height = 20.0
    return row + 2


def _open(sheet: Worksheet, row: int, plan: Plan, counts: Mapping[str, str]) -> int:
    """How many answers are still open, by sheet, and what is odd."""
    _band(sheet, row, "Still open")
    row += 1
    for column, heading in enumerate(_OPEN_HEADINGS, start=1):
        write(sheet.cell(row, column), heading, Look.HEADING)
    first = row + 1
    for page in plan.pages:
        row += 1
        write(sheet.cell(row, 1), page.sheet, Look.NAME)
        sheet.cell(row, 1).hyperlink = _link(page, f"A{row}")
        sheet.cell(row, 2, _listed(page)).style = Look.FIGURE
        sheet.cell(row, 3, f"={counts[page.sheet]}").style = Look.FIGURE
        sheet.cell(row, 4, f"={counts[f'{page.sheet}?']}").style = Look.HELP
        sheet.row_dimensions[row].height = _ROOM_FOR_ODD
    row += 1
    write(sheet.cell(row, 1), "All", Look.HEADING)
    sheet.cell(row, 2).style = sheet.cell(row, 4).style = Look.HEADING
    sheet.cell(row, 3, f"=SUM(C{first}:C{row - 1})").style = Look.FIGURE
    return row + 2


def _listed(page: PagePlan) -> str | None:
    return None if page.is_site else f'=SUMPRODUCT(1*({page.labels}<>""))'


def _link(page: PagePlan, cell: str) -> Hyperlink:
    """A tap on the sheet's name leads to its first answer."""
    first = f"B{SITE_FIRST + 1}" if page.is_site else page.labels.split("!")[1].split(":")[0]
    return Hyperlink(ref=cell, location=f"{page.sheet}!{first}")


def _states(sheet: Worksheet, row: int, *, asked: bool) -> int:
    """What the cells look like, by example."""
    _band(sheet, row, "What a cell looks like")
    for as_look, name, meaning in _STATES:
        if as_look is Look.ASKED_ANSWER and not asked:
            continue
        row += 1
        write(sheet.cell(row, 1), name, as_look)
        write(sheet.cell(row, 2), meaning)
        _widen(sheet, row, Look.QUESTION)
        sheet.row_dimensions[row].height = 22.0
    return row + 2
