"""The sheet with every choice there is, for a form that is printed and filled by hand."""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from survey.vocabulary import Kind
from survey.workbook import texts
from survey.workbook.layout import CHOICES_COLUMNS, column_name
from survey.workbook.writing import look
from survey.workbook.writing.cells import write
from survey.workbook.writing.look import Look
from survey.workbook.writing.paper import set_up
from survey.workbook.writing.plan import Plan

_TITLE = "Choices, for filling in a printed form"
_USE = (
    "Nothing is read from this sheet. Write one of these answers on the printed sheet and copy it "
    "into the workbook later. A question that says 'choose' and is not listed here takes yes or no."
)
_HEADINGS = ("Sheet", "Question", "Choices", "Help")
_WIDTHS = (14, 40, 42, 42)
_HEAD = 3
_MOST_LINES = 30  # of a row that a page and a spreadsheet can hold
assert len(_HEADINGS) == len(_WIDTHS) == CHOICES_COLUMNS


def fill_choices(sheet: Worksheet, plan: Plan) -> None:
    """List every question with choices, in the order of the form, each choice on its line.

    Those of a list that is too long for that follow one another.
    """
    write(sheet["A1"], _TITLE, Look.TITLE)
    write(sheet["A2"], _USE, Look.LINE)
    sheet.merge_cells(start_row=2, end_row=2, start_column=1, end_column=CHOICES_COLUMNS)
    sheet.row_dimensions[2].height = look.height((_USE, sum(_WIDTHS), 11))
    for column, (heading, width) in enumerate(zip(_HEADINGS, _WIDTHS, strict=True)):
        write(sheet.cell(_HEAD, column + 1), heading, Look.HEADING)
        sheet.column_dimensions[column_name(column)].width = width
    words = (
        (page.sheet, word) for page in plan.pages for word in page.words if word.kind is Kind.CHOICE
    )
    for row, (name, word) in enumerate(words, start=_HEAD + 1):
        asked_as = texts.asked_as(word)
        question = asked_as if asked_as == word.prompt else f"{asked_as}: {word.prompt}"
        choices = ("\n" if len(word.choices) <= _MOST_LINES else ", ").join(word.choices)
        help_text = texts.help_text(plan.order.vocabulary, word, with_prompt=False)
        write(sheet.cell(row, 1), name, Look.NAME)
        write(sheet.cell(row, 2), question, Look.QUESTION)
        write(sheet.cell(row, 3), choices, Look.QUESTION)
        write(sheet.cell(row, 4), help_text, Look.HELP)
        sheet.row_dimensions[row].height = max(
            look.height(
                (name, _WIDTHS[0], look.QUESTION_SIZE),
                (question, _WIDTHS[1], look.QUESTION_SIZE),
                (choices, _WIDTHS[2], look.QUESTION_SIZE),
                (help_text, _WIDTHS[3], look.HELP_SIZE),
            ),
            look.height_of_lines(choices.count("\n") + 1, look.QUESTION_SIZE),
        )
    set_up(sheet, head_rows=f"{_HEAD}:{_HEAD}", frozen=f"A{_HEAD + 1}")
