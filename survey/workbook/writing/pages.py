"""The sheets of the form, made from the vocabulary and the order of the walk."""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from openpyxl.workbook.properties import CalcProperties
from openpyxl.workbook.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from survey.errors import UserError
from survey.model import Picture
from survey.vocabulary import Subject
from survey.workbook import texts
from survey.workbook.layout import CHECKS, CHOICES, LISTS, MOST_COLUMNS, NOT_READ, SKETCH
from survey.workbook.pictures import add_pictures, standing_at
from survey.workbook.writing import look
from survey.workbook.writing.checks import fill_checks
from survey.workbook.writing.choices import fill_choices
from survey.workbook.writing.cover import fill_cover
from survey.workbook.writing.formats import format_states
from survey.workbook.writing.guide import Lists
from survey.workbook.writing.left_over import fill_left_over
from survey.workbook.writing.list_page import fill_list_page
from survey.workbook.writing.plan import FIRST, SITE_KEY, Order, PagePlan, Plan, plan_form
from survey.workbook.writing.site_page import fill_site_page
from survey.workbook.writing.sketch import fill_sketch


def save_form(order: Order, path: Path) -> tuple[Picture, ...]:
    """Make the form and save it.

    Returns:
        The pictures of the survey that no spreadsheet would show, and that are left out.

    Raises:
        UserError: the form would be wider than what is read back.
    """
    book, left_out = form_workbook(order)
    for sheet in book.worksheets:
        if sheet.max_column > MOST_COLUMNS:
            raise UserError(
                f"With the questions of your own rules, sheet '{sheet.title}' of the form would "
                f"have {sheet.max_column} columns; {MOST_COLUMNS} can be read back. Take "
                "questions out of the rules, or lists of choices that are used only once."
            )
    book.save(path)
    return left_out


def form_workbook(order: Order) -> tuple[Workbook, tuple[Picture, ...]]:
    """The whole form, filled in where a survey is given, and the pictures that it lacks."""
    plan = plan_form(order)
    book = Workbook()
    look.dress(book)
    cover = book.active
    assert isinstance(cover, Worksheet)
    sheets = {page.sheet: book.create_sheet(page.sheet) for page in plan.pages}
    # Releases stays last: it is filled in at a desk, by somebody else.
    before = len(sheets) if plan.list_of(Subject.RELEASE) else len(sheets) + 1
    fill_sketch(book.create_sheet(SKETCH, before), order.units)
    if order.stray:
        fill_left_over(book.create_sheet(NOT_READ), order.stray)
    fill_choices(book.create_sheet(CHOICES), plan)
    lists = Lists(book.create_sheet(LISTS))
    for page in plan.pages:
        fill = fill_site_page if page.is_site else fill_list_page
        fill(sheets[page.sheet], plan, page, lists)
    lists.hide()
    counts, odd = fill_checks(book.create_sheet(CHECKS), plan)
    fill_cover(cover, plan, counts)
    format_states(book, plan, odd)
    left_out = (
        *(one for page in plan.pages for one in _put_back(book, plan, page)),
        *_put_back_elsewhere(book, plan),
    )
    book.calculation = CalcProperties(fullCalcOnLoad=True)
    book.properties.creator = book.properties.lastModifiedBy = "pier-survey"
    book.properties.title = texts.TITLE
    return book, left_out


def _put_back_elsewhere(book: Workbook, plan: Plan) -> Iterator[Picture]:
    """Put the pictures of the sketch back; gives those of sheets that the form does not have."""
    pictures = () if plan.order.survey is None else plan.order.survey.pictures
    here = {page.sheet for page in plan.pages}
    for picture in pictures:
        if picture.sheet == SKETCH:
            yield from add_pictures(book[SKETCH], picture.row, [picture], 1)
        elif picture.sheet not in here:
            yield picture


def _put_back(book: Workbook, plan: Plan, page: PagePlan) -> Iterator[Picture]:
    """Put the pictures of a sheet back at their rows; gives those that can't be."""
    survey = plan.order.survey
    here = () if survey is None else tuple(p for p in survey.pictures if p.sheet == page.sheet)
    if not here:
        return
    sheet, rows = book[page.sheet], plan.order.rows(page.page.subject)
    beside = SITE_KEY + 1 if page.is_site else len(page.words) + 2
    placed: list[Picture] = []
    if not page.is_site:
        for number, row in enumerate(rows, start=FIRST):
            there = standing_at(here, row.where)
            placed += there
            yield from add_pictures(sheet, number, there, beside)
    # What stands at no row of the list must not come to stand at another's.
    for picture in here:
        if picture not in placed:
            free = picture.row if page.is_site else max(picture.row, FIRST + len(rows))
            yield from add_pictures(sheet, free, [picture], beside)
