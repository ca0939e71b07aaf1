"""The sheets of the form, made from the vocabulary alone."""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from openpyxl.workbook.workbook import Workbook
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from survey.answers import MOST_ROWS
from survey.errors import UserError
from survey.model import Row, Survey
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Kind, Subject, Vocabulary, Word
from survey.workbook import _look as look
from survey.workbook import _texts as texts
from survey.workbook._cells import coded, write, write_answer
from survey.workbook._choices import fill_choices
from survey.workbook._layout import (
    ANSWER_KEY,
    BLANK_ROWS,
    CHOICES,
    FORM_VERSION,
    LABEL_KEY,
    LISTS,
    MOST_COLUMNS,
    QUESTION_KEY,
    SHEETS,
    SITE_HEADINGS,
    START,
    VERSION_KEY,
    asked,
    column_name,
)
from survey.workbook._look import Look

_HEADING, _UNIT, _HELP, _KEYS, _FIRST = 1, 2, 3, 4, 5
_LONGEST_MESSAGE, _LONGEST_MESSAGE_TITLE = 255, 32
_LABEL_WIDTH = 14
_ROOM_TO_WRITE = {"remarks": 100.0}  # points; what a person writes by hand needs room


@dataclass
class _Lists:
    """The hidden sheet with what the drop-downs offer, one column a list."""

    sheet: Worksheet
    places: dict[tuple[str, ...], str] = field(default_factory=dict)

    def place(self, offered: tuple[str, ...]) -> str:
        """Cells that hold a list, written the first time it is asked for."""
        if offered not in self.places:
            column = len(self.places) + 1
            for number, choice in enumerate(offered, start=1):
                write(self.sheet.cell(number, column), choice)
            name = column_name(column - 1)
            self.places[offered] = f"{LISTS}!${name}$1:${name}${len(offered)}"
        return self.places[offered]


def save_form(vocabulary: Vocabulary, survey: Survey | None, path: Path) -> None:
    """Make the form and save it.

    Raises:
        UserError: the form would be wider than what is read back.
    """
    book = form_workbook(vocabulary, survey)
    for sheet in book.worksheets:
        if sheet.max_column > MOST_COLUMNS:
            raise UserError(
                f"With the questions of your own rules, sheet '{sheet.title}' of the form would "
                f"have {sheet.max_column} columns; {MOST_COLUMNS} can be read back. Take "
                "questions out of the rules, or lists of choices that are used only once."
            )
    book.save(path)


def form_workbook(vocabulary: Vocabulary, survey: Survey | None) -> Workbook:
    """The whole form, filled in where a survey is given."""
    book = Workbook()
    for style in look.styles():
        book.add_named_style(style)
    start = book.active
    assert isinstance(start, Worksheet)
    _fill_start(start)
    sheets = {subject: book.create_sheet(name) for subject, name in SHEETS.items()}
    fill_choices(book.create_sheet(CHOICES), vocabulary)
    lists = _Lists(book.create_sheet(LISTS))
    for subject, sheet in sheets.items():
        rows = () if survey is None else survey.rows(subject)
        if subject is Subject.SITE:
            _fill_site(vocabulary, sheet, rows[0] if rows else None, lists)
        else:
            _fill_list(vocabulary, sheet, subject, rows, lists)
    lists.sheet.sheet_state = "hidden"
    lists.sheet.protection.sheet = True
    book.properties.creator = book.properties.lastModifiedBy = "pier-survey"
    book.properties.title = texts.TITLE
    return book


def _fill_start(sheet: Worksheet) -> None:
    sheet.title = START
    sheet.column_dimensions["A"].width, sheet.column_dimensions["B"].width = 20, 100
    write(sheet["A1"], texts.TITLE, Look.TITLE)
    write(sheet["A2"], texts.PURPOSE, Look.LINE)
    row = 4
    blocks = (
        ("How to fill it in", [(str(n), step) for n, step in enumerate(texts.STEPS, start=1)]),
        ("What a cell means", texts.MEANINGS),
        ("Which form this is", [("Version", f"Form version {FORM_VERSION}")]),
    )
    for title, lines in blocks:
        write(sheet.cell(row, 1), title, Look.BLOCK)
        for name, line in lines:
            row += 1
            write(sheet.cell(row, 1), name, Look.NAME)
            write(sheet.cell(row, 2), line, Look.QUESTION)
            sheet.row_dimensions[row].height = look.height((line, 100, 10))
        row += 2
    write(sheet.cell(row, 1), VERSION_KEY)
    sheet.cell(row, 2, FORM_VERSION)
    sheet.row_dimensions[row].hidden = True
    look.set_up(sheet, head_rows="1:1", frozen="A2")


def _fill_site(vocabulary: Vocabulary, sheet: Worksheet, row: Row | None, lists: _Lists) -> None:
    widths = (46, 40, 16, 60)
    for column, (name, width) in enumerate(zip(SITE_HEADINGS, widths, strict=True), start=1):
        write(sheet.cell(1, column), name, Look.HEADING)
        sheet.column_dimensions[column_name(column - 1)].width = width
    write(sheet.cell(2, 2), ANSWER_KEY)
    write(sheet.cell(2, 5), QUESTION_KEY)
    sheet.row_dimensions[2].hidden = sheet.column_dimensions["E"].hidden = True
    for number, (key, word) in enumerate(asked(vocabulary, Subject.SITE).items(), start=3):
        help_text = texts.help_text(vocabulary, word, with_prompt=False)
        write(sheet.cell(number, 1), word.prompt, Look.QUESTION)
        answer = sheet.cell(number, 2)
        answer.style = look.answer_look(word)
        if row is not None:
            write_answer(answer, word, row.value(word.name))
        write(sheet.cell(number, 3), texts.unit_text(word), Look.UNIT)
        write(sheet.cell(number, 4), help_text, Look.HELP)
        write(sheet.cell(number, 5), key)
        whole_help = texts.help_text(vocabulary, word, with_prompt=True)
        _guide(sheet, f"B{number}", word, whole_help, lists)
        said = "" if answer.value is None else str(answer.value)
        sheet.row_dimensions[number].height = max(
            _ROOM_TO_WRITE.get(word.name, 0),
            look.height(
                (word.prompt, widths[0], 10), (said, widths[1], 10), (help_text, widths[3], 9)
            ),
        )
    look.set_up(sheet, head_rows="1:1", frozen="A3")


def _fill_list(
    vocabulary: Vocabulary,
    sheet: Worksheet,
    subject: Subject,
    rows: Sequence[Row],
    lists: _Lists,
) -> None:
    words = list(asked(vocabulary, subject).values())
    last = _FIRST - 1 + max(BLANK_ROWS, len(rows))
    label = texts.label_help(subject)
    _fill_head(sheet, 0, (f"{texts.heading(subject.value)}", "label", label, LABEL_KEY))
    sheet.column_dimensions["A"].width = _LABEL_WIDTH
    headings, helps = [(subject.value, _LABEL_WIDTH, 10)], [(label, _LABEL_WIDTH, 8)]
    for column, word in enumerate(words, start=1):
        # The frozen head must leave rows in sight; the whole help shows at the cell if it can.
        name = texts.heading(word.name)
        whole_help = texts.help_text(vocabulary, word, with_prompt=True)
        help_text = word.prompt if _letters(whole_help) <= _LONGEST_MESSAGE else whole_help
        _fill_head(sheet, column, (name, texts.unit_text(word), help_text, word.key))
        width = look.column_width(word, help_text)
        letters = column_name(column)
        sheet.column_dimensions[letters].width = width
        headings.append((name, width, 10))
        helps.append((help_text, width, 8))
        _guide(sheet, f"{letters}{_FIRST}:{letters}{last}", word, whole_help, lists)
    sheet.row_dimensions[_HEADING].height = look.height(*headings)
    sheet.row_dimensions[_HELP].height = look.height(*helps)
    sheet.row_dimensions[_KEYS].hidden = True
    for number in range(_FIRST, last + 1):
        row = rows[number - _FIRST] if number - _FIRST < len(rows) else None
        sheet.cell(number, 1).style = Look.LABEL
        if row is not None:
            write(sheet.cell(number, 1), row.label)
        for column, word in enumerate(words, start=2):
            cell = sheet.cell(number, column)
            cell.style = look.answer_look(word)
            if row is not None:
                write_answer(cell, word, row.value(word.name))
    look.set_up(sheet, head_rows=f"1:{_HELP}", frozen=f"B{_FIRST}", columns="A:A")


def _fill_head(sheet: Worksheet, column: int, head: tuple[str, str, str, str]) -> None:
    heading, unit, help_text, key = head
    write(sheet.cell(_HEADING, column + 1), heading, Look.HEADING)
    write(sheet.cell(_UNIT, column + 1), unit, Look.UNIT)
    write(sheet.cell(_HELP, column + 1), help_text, Look.SMALL_HELP)
    write(sheet.cell(_KEYS, column + 1), key)


def _guide(sheet: Worksheet, cells: str, word: Word, help_text: str, lists: _Lists) -> None:
    """Show the help at the cell and, where there is a choice, drop down what may be chosen."""
    offered = _offered(word, lists)
    rule = DataValidation(
        type="list" if offered else None,
        formula1=offered,
        allow_blank=True,
        showErrorMessage=offered is not None,
        # A wall may be named before it is listed; other answers can only be from the list.
        errorStyle="warning" if word.kind is Kind.REFERENCE else "stop",
        errorTitle="Not in the list",
        error="Choose from the list that drops down, or leave the cell blank: not known.",
        showInputMessage=True,
        promptTitle=coded(_cut(texts.heading(word.name), _LONGEST_MESSAGE_TITLE)),
        prompt=coded(_cut(help_text, _LONGEST_MESSAGE)),
    )
    rule.add(cells)
    sheet.add_data_validation(rule)


def _offered(word: Word, lists: _Lists) -> str | None:
    """Cells with the answers to choose from."""
    if word.kind is Kind.REFERENCE:
        assert word.refers_to is not None
        return f"{SHEETS[word.refers_to]}!$A${_FIRST}:$A${_FIRST - 1 + MOST_ROWS}"
    if not word.choices:
        return None
    states = (NOT_KNOWN,) if word.asks_when is None else (NOT_KNOWN, DOES_NOT_APPLY)
    return lists.place((*word.choices, *(str(state) for state in states)))


def _letters(text: str) -> int:
    """How many letters a spreadsheet counts: an emoji is two."""
    return len(text.encode("utf-16-le")) // 2


def _cut(text: str, longest: int) -> str:
    if _letters(text) <= longest:
        return text
    while _letters(text) >= longest:
        text = text[:-1].rstrip()
    return f"{text}…"
