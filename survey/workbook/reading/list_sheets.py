"""The rows of a list: one thing a row, one question a column."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from survey.answers import MOST_ROWS, RawRow, as_text
from survey.vocabulary import Vocabulary
from survey.vocabulary.walk import Page
from survey.workbook.layout import LABEL_KEY, asked, column_name
from survey.workbook.reading import stray
from survey.workbook.reading.book import Sheet
from survey.workbook.reading.merged import unmerged
from survey.workbook.reading.places import Columns, list_columns, one_of
from survey.workbook.reading.told import Cells, Told, is_blank


def list_rows(sheet: Sheet, page: Page, vocabulary: Vocabulary, told: Told) -> Sequence[RawRow]:
    """The rows below the headings that have anything in a column of a question.

    Args:
        sheet: the sheet of the list.
        page: what the form asks on it.
        vocabulary: the questions.
        told: takes what is wrong.
    """
    found = list_columns(sheet.grid, page.subject, vocabulary, told.units)
    if found is None:
        told.faults.append(f"sheet '{sheet.name}': its hidden row of keys is missing")
        return ()
    told.strays += stray.beside_list(sheet.name, sheet.grid, found)
    columns = _columns(sheet, found, told)
    filled = [
        number
        for number in found.rows
        if not all(is_blank(sheet.grid[number][at]) for at in columns.values())
    ]
    if len(filled) > MOST_ROWS:
        told.faults.append(
            f"sheet '{sheet.name}': {len(filled)} rows are filled; a sheet holds {MOST_ROWS}"
        )
        return ()
    may_span = {column: key != LABEL_KEY for key, column in columns.items()}
    clear = unmerged(sheet, filled, may_span, several=True)
    told.problems += clear.problems
    words = asked(vocabulary, page.subject)
    lacking = [word.name for key, word in words.items() if key not in columns]
    told.lacking[page.sheet] += len(lacking)
    asked_in = [
        (words[key].name, column, f"{sheet.name}!{column_name(column)}")
        for key, column in columns.items()
        if key != LABEL_KEY
    ]
    rows = []
    for number in filled:
        row, where, of_row = clear.grid[number], f"{sheet.name}!row {number + 1}", str(number + 1)
        cells: Cells = {}
        for name, column, letters in asked_in:
            read, place = row[column], letters + of_row
            cells[name] = told.answer(read, place) if read != "" else None, place
        for name in lacking:
            cells[name] = None, f"{where} (no '{name}')"
        label, place = "", where
        if LABEL_KEY in columns:
            place = f"{sheet.name}!{column_name(columns[LABEL_KEY])}{number + 1}"
            label = as_text(told.answer(row[columns[LABEL_KEY]], place))
        rows.append(RawRow(where, label, cells, place))
    return rows


def _columns(sheet: Sheet, found: Columns, told: Told) -> Mapping[str, int]:
    """The column of each key."""
    columns: dict[str, int] = {}
    for key, several in found.every.items():
        column = one_of(
            several, lambda at: not all(is_blank(sheet.grid[row][at]) for row in found.rows)
        )
        if column is None:
            told.faults.append(f"sheet '{sheet.name}': the column of '{key}' is there twice")
        else:
            columns[key] = column
    return columns
