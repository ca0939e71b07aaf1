"""A sheet with a list: one row a thing, one column a question."""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from openpyxl.worksheet.worksheet import Worksheet

from survey.model import Row
from survey.vocabulary import Subject, Word
from survey.workbook import texts
from survey.workbook.layout import LABEL_KEY, PICTURE_KEY, column_name
from survey.workbook.writing import look
from survey.workbook.writing.cells import write, write_answer
from survey.workbook.writing.guide import LONGEST_MESSAGE, Lists, guide, letters
from survey.workbook.writing.look import Look
from survey.workbook.writing.paper import print_in_blocks, set_up
from survey.workbook.writing.plan import (
    BLOCK,
    FIRST,
    HEADING,
    HELP,
    KEYS,
    UNIT,
    Order,
    PagePlan,
    Plan,
)

_LABEL_WIDTH, _PICTURE_WIDTH = 13, 44
_PICTURE_HEIGHT = 110.0  # points; a picture of this height shows what it shows


class _Head(NamedTuple):
    """What stands above a column."""

    name: str
    unit: str
    help: str
    key: str
    width: float


def fill_list_page(sheet: Worksheet, plan: Plan, page: PagePlan, lists: Lists) -> None:
    """Write the columns of a list and its rows, with the answers there are."""
    order, subject = plan.order, page.page.subject
    vocabulary = order.vocabulary
    whole = {word: texts.help_text(vocabulary, word, with_prompt=True) for word in page.words}
    # The frozen head must leave rows in sight; the whole help shows at the cell if it can.
    shown = {
        word: word.prompt if letters(whole[word]) <= LONGEST_MESSAGE else whole[word]
        for word in page.words
    }
    widths = {word: float(look.column_width(word, shown[word])) for word in page.words}
    for title, words in page.blocks:
        widths[words[-1]] += max(0.0, look.title_width(title) - sum(widths[w] for w in words))
    heads = [
        _Head(
            texts.heading(subject.value),
            "label",
            texts.label_help(subject),
            LABEL_KEY,
            _LABEL_WIDTH,
        ),
        *(
            _Head(
                texts.heading(w.name), texts.unit_text(w, order.units), shown[w], w.key, widths[w]
            )
            for w in page.words
        ),
    ]
    if subject is Subject.PHOTO:
        heads.append(_Head("Picture", "picture", texts.PICTURE_HELP, PICTURE_KEY, _PICTURE_WIDTH))
    for column, head in enumerate(heads, start=1):
        _fill_head(sheet, column, head)
    _fill_bands(sheet, page, len(heads))
    sheet.row_dimensions[BLOCK].height = 22.0
    sheet.row_dimensions[HEADING].height = look.height(
        *((head.name, head.width, look.HEADING_SIZE) for head in heads)
    )
    sheet.row_dimensions[UNIT].height = 16.0
    sheet.row_dimensions[HELP].height = look.height(
        *((head.help, head.width, look.SMALL_HELP_SIZE) for head in heads)
    )
    sheet.row_dimensions[KEYS].hidden = True
    sheet.sheet_format.defaultRowHeight, sheet.sheet_format.customHeight = look.LOWEST, True
    rows = order.rows(subject)
    for number in range(FIRST, page.last + 1):
        row = rows[number - FIRST] if number - FIRST < len(rows) else None
        _fill_row(sheet, number, row, page, order, widths=widths)
    guide(sheet, plan, lists, ((word, whole[word], page.answers(word)) for word in page.words))
    set_up(sheet, head_rows=f"{BLOCK}:{HELP}", frozen=f"B{FIRST}")
    blocks = [[widths[word] for word in words] for _title, words in page.blocks]
    if subject is Subject.PHOTO:
        blocks[-1].append(_PICTURE_WIDTH)
    print_in_blocks(sheet, _LABEL_WIDTH, blocks)


def _fill_head(sheet: Worksheet, column: int, head: _Head) -> None:
    write(sheet.cell(HEADING, column), head.name, Look.HEADING)
    write(sheet.cell(UNIT, column), head.unit, Look.UNIT)
    write(sheet.cell(HELP, column), head.help, Look.SMALL_HELP)
    write(sheet.cell(KEYS, column), head.key)
    sheet.column_dimensions[column_name(column - 1)].width = head.width


def _fill_bands(sheet: Worksheet, page: PagePlan, last: int) -> None:
    """The title of each block above its columns."""
    for column in range(1, last + 1):
        sheet.cell(BLOCK, column).style = Look.BLOCK
    for title, words in page.blocks:
        write(sheet.cell(BLOCK, page.places[words[0].name]), title)


def _fill_row(
    sheet: Worksheet,
    number: int,
    row: Row | None,
    page: PagePlan,
    order: Order,
    *,
    widths: Mapping[Word, float],
) -> None:
    label = sheet.cell(number, 1)
    label.style = Look.LABEL
    said: list[tuple[str, float, int]] = []
    if row is not None:
        text = order.unread.get((row.subject, row.label, LABEL_KEY), row.label)
        write(label, text)
        said.append((text, _LABEL_WIDTH, look.ANSWER_SIZE))
    for column, word in enumerate(page.words, start=2):
        cell = sheet.cell(number, column)
        asked = row is not None and (word.subject, row.label, word.name) in order.wanted
        cell.style = look.answer_look(word, asked=asked)
        if row is not None:
            write_answer(cell, word, row, order)
            said.append((str(cell.value or ""), widths[word], look.ANSWER_SIZE))
    if page.page.subject is Subject.PHOTO:
        sheet.cell(number, len(page.words) + 2).style = Look.ANSWER
        sheet.row_dimensions[number].height = _PICTURE_HEIGHT
    elif said and (high := look.height(*said)) > look.LOWEST:
        sheet.row_dimensions[number].height = high
