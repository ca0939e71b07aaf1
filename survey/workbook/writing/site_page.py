"""A sheet with questions that are answered once for the site, below each other."""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from survey.vocabulary import Word
from survey.workbook import texts
from survey.workbook.layout import ANSWER_KEY, BLOCK_KEY, QUESTION_KEY, SITE_HEADINGS, column_name
from survey.workbook.writing import look
from survey.workbook.writing.cells import write, write_answer
from survey.workbook.writing.guide import Lists, guide
from survey.workbook.writing.look import Look
from survey.workbook.writing.paper import set_up
from survey.workbook.writing.plan import (
    SITE_ANSWER,
    SITE_FIRST,
    SITE_HEADING,
    SITE_HELP,
    SITE_KEY,
    SITE_KEYS,
    SITE_QUESTION,
    SITE_UNIT,
    PagePlan,
    Plan,
)

_WIDTHS = (44, 32, 15, 46)
_ROOM_TO_WRITE = {"remarks": 120.0}  # points; what a person writes by hand needs room


def fill_site_page(sheet: Worksheet, plan: Plan, page: PagePlan, lists: Lists) -> None:
    """Write the questions of a page block by block, with the answers there are."""
    for column, (name, width) in enumerate(zip(SITE_HEADINGS, _WIDTHS, strict=True), start=1):
        write(sheet.cell(SITE_HEADING, column), name, Look.HEADING)
        sheet.column_dimensions[column_name(column - 1)].width = width
    write(sheet.cell(SITE_KEYS, SITE_ANSWER), ANSWER_KEY)
    write(sheet.cell(SITE_KEYS, SITE_KEY), QUESTION_KEY)
    sheet.row_dimensions[SITE_KEYS].hidden = True
    sheet.column_dimensions[column_name(SITE_KEY - 1)].hidden = True
    for title, words in page.blocks:
        _fill_band(sheet, page.places[words[0].name] - 1, title)
        for word in words:
            _fill_question(sheet, page.places[word.name], word, plan)
    help_of = {
        word: texts.help_text(plan.order.vocabulary, word, with_prompt=True) for word in page.words
    }
    guide(sheet, plan, lists, ((word, help_of[word], page.answers(word)) for word in page.words))
    set_up(sheet, head_rows=f"{SITE_HEADING}:{SITE_HEADING}", frozen=f"A{SITE_FIRST}")


def _fill_band(sheet: Worksheet, row: int, title: str) -> None:
    for column in range(SITE_QUESTION, SITE_HELP + 1):
        sheet.cell(row, column).style = Look.BLOCK
    write(sheet.cell(row, SITE_QUESTION), title)
    write(sheet.cell(row, SITE_KEY), BLOCK_KEY)
    sheet.row_dimensions[row].height = 22.0


def _fill_question(sheet: Worksheet, row: int, word: Word, plan: Plan) -> None:
    order = plan.order
    help_text = texts.help_text(order.vocabulary, word, with_prompt=False)
    write(sheet.cell(row, SITE_QUESTION), word.prompt, Look.QUESTION)
    answer = sheet.cell(row, SITE_ANSWER)
    answer.style = look.answer_look(word, asked=(word.subject, "site", word.name) in order.wanted)
    for site in order.rows(word.subject):
        write_answer(answer, word, site, order)
    write(sheet.cell(row, SITE_UNIT), texts.unit_text(word, order.units), Look.UNIT)
    write(sheet.cell(row, SITE_HELP), help_text, Look.HELP)
    write(sheet.cell(row, SITE_KEY), word.key)
    question, wide, _unit, help_wide = _WIDTHS
    sheet.row_dimensions[row].height = max(
        _ROOM_TO_WRITE.get(word.name, 0),
        look.height(
            (word.prompt, question, look.QUESTION_SIZE),
            (str(answer.value or ""), wide, look.ANSWER_SIZE),
            (help_text, help_wide, look.HELP_SIZE),
            lowest=look.LOWEST,
        ),
    )
