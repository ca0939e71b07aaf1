"""Forms to test with: blank, filled in throughout, and spoilt on purpose."""

from __future__ import annotations

import contextlib
import datetime as dt
import functools
import html
import io
import pickle
import tempfile
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl

from survey.model import LISTS, Answer, Row, Survey, Value
from survey.vocabulary import DOES_NOT_APPLY, VOCABULARY, Kind, Subject, Word
from survey.vocabulary.walk import PAGES
from survey.workbook import write_form
from survey.workbook.layout import ANSWER_KEY

_COUNTS = {
    Subject.WALL: 4,
    Subject.PIER: 30,
    Subject.UTILITY: 6,
    Subject.NEIGHBOUR: 4,
    Subject.SOIL_LAYER: 4,
    Subject.PHOTO: 2,
    Subject.RELEASE: 3,
}


def full_survey() -> Survey:
    """A survey of 30 piers with an answer to everything that applies."""
    lists = {
        name: tuple(
            _full_row(subject, f"{subject.value[0].upper()}{n}") for n in range(_COUNTS[subject])
        )
        for subject, name in LISTS.items()
    }
    return Survey("full", _full_row(Subject.SITE, "site"), **lists)


def _full_row(subject: Subject, label: str) -> Row:
    answers: dict[str, Answer] = {}
    for word in VOCABULARY.asked_of(subject):
        value = _usual(word)
        if word.asks_when and answers[word.asks_when.word].value not in word.asks_when.choices:
            value = DOES_NOT_APPLY
        answers[word.name] = Answer(value, label)
    return Row(subject, label, answers, label)


def _usual(word: Word) -> Value:
    match word.kind:
        case Kind.CHOICE | Kind.YES_NO:
            return word.choices[-1]
        case Kind.REFERENCE:
            return "W1"
        case Kind.DATE:
            return dt.date(2026, 4, 3)
        case Kind.TEXT:
            return f"{word.name}, as the surveyor found it"
        case _:
            assert word.low is not None
            assert word.high is not None
            return float(round((word.low + word.high) / 2))


@functools.cache
def blank_form() -> bytes:
    """The bytes of a blank form."""
    return _form(None)


@functools.cache
def filled_form() -> bytes:
    """The bytes of a form filled in throughout."""
    return _form(full_survey())


def _form(survey: Survey | None) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "form.xlsx"
        write_form(path, survey)
        return path.read_bytes()


@functools.lru_cache(maxsize=8)
def _loaded(content: bytes) -> bytes:
    """The workbook as openpyxl holds it: taken from there again six times faster than loaded."""
    return pickle.dumps(openpyxl.load_workbook(io.BytesIO(content)))


def edited(content: bytes, change: Callable[[openpyxl.Workbook], object]) -> bytes:
    """The workbook after a change, as a spreadsheet program would save it."""
    book = pickle.loads(_loaded(content))
    change(book)
    saved = io.BytesIO()
    book.save(saved)
    return saved.getvalue()


def with_part(content: bytes, name: str, change: Callable[[bytes], bytes]) -> bytes:
    """The workbook file after a change to the bytes of one of its parts."""
    packed = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(packed, "w") as new:
        for entry in old.namelist():
            part = old.read(entry)
            spoilt = change(part) if entry == name else part
            assert entry != name or spoilt != part, "the change changed nothing"
            new.writestr(entry, spoilt, zipfile.ZIP_DEFLATED)
    return packed.getvalue()


def as_ods(content: bytes, rows: str = "") -> bytes:
    """The workbook as an .ods file, plainly: every cell as it stands, merged and with comments.

    Args:
        content: the .xlsx file.
        rows: more rows for each sheet, as they would stand in ``content.xml``.
    """
    book = pickle.loads(_loaded(content))
    tables = "".join(_ods_table(sheet, rows) for sheet in book.worksheets)
    return packed_ods(
        f"<office:document-content {ODS_NAMESPACES}><office:body><office:spreadsheet>{tables}"
        "</office:spreadsheet></office:body></office:document-content>"
    )


def packed_ods(content_xml: str) -> bytes:
    """An .ods file with this as its content."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as package:
        package.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        package.writestr("content.xml", content_xml)
    return packed.getvalue()


ODS_NAMESPACES = (
    " ".join(
        f'xmlns:{name}="urn:oasis:names:tc:opendocument:xmlns:{name}:1.0"'
        for name in ("office", "table", "text")
    )
    + ' xmlns:dc="http://purl.org/dc/elements/1.1/"'
)


def _ods_table(sheet: openpyxl.worksheet.worksheet.Worksheet, more: str) -> str:
    spans = {(area.min_row, area.min_col): area.size for area in sheet.merged_cells.ranges}
    lines = []
    for number, row in enumerate(sheet.iter_rows(), start=1):
        cells = [_ods_cell(cell, spans.get((number, n))) for n, cell in enumerate(row, start=1)]
        lines.append(f"<table:table-row>{''.join(cells)}</table:table-row>")
    rest = 'table:number-rows-repeated="1000000"><table:table-cell/>'
    blank = f"<table:table-row {rest}</table:table-row>"
    name = html.escape(sheet.title)
    return f'<table:table table:name="{name}">{"".join(lines)}{more}{blank}</table:table>'


def _ods_cell(cell: openpyxl.cell.cell.Cell, span: dict[str, int] | None) -> str:
    value = cell.value
    attributes = (
        ""
        if span is None
        else (
            f' table:number-rows-spanned="{span["rows"]}" '
            f'table:number-columns-spanned="{span["columns"]}"'
        )
    )
    inside = ""
    if cell.comment is not None:
        inside += (
            f"<office:annotation><dc:creator>{html.escape(cell.comment.author)}</dc:creator>"
            f"<text:p>{html.escape(cell.comment.text)}</text:p></office:annotation>"
        )
    if isinstance(value, bool):
        attributes += f' office:value-type="boolean" office:boolean-value="{str(value).lower()}"'
    elif isinstance(value, (int, float)):
        attributes += f' office:value-type="float" office:value="{value}"'
    elif isinstance(value, dt.date):
        day = value.isoformat().removesuffix("T00:00:00")
        attributes += f' office:value-type="date" office:date-value="{day}"'
    elif isinstance(value, str) and cell.data_type == "f":
        attributes += f' table:formula="of:{html.escape(value)}"'
    elif value is not None:
        attributes += ' office:value-type="string"'
        said = html.escape(str(value)).replace("  ", ' <text:s text:c="1"/>')
        inside += "".join(f"<text:p>{line}</text:p>" for line in said.split("\n"))
    tag = "covered-table-cell" if type(cell).__name__ == "MergedCell" else "table-cell"
    return f"<table:{tag}{attributes}>{inside}</table:{tag}>"


def part_of(sheet: str) -> str:
    """Name of the part of a form that holds a sheet."""
    book = openpyxl.load_workbook(io.BytesIO(blank_form()), read_only=True)
    return f"xl/worksheets/sheet{book.sheetnames.index(sheet) + 1}.xml"


def site_answer(book: openpyxl.Workbook, key: str) -> openpyxl.cell.cell.Cell:
    """The cell with the answer to a question about the site."""
    for page in PAGES:
        if page.subject is Subject.SITE and page.sheet in book.sheetnames:
            sheet = book[page.sheet]
            with contextlib.suppress(LookupError):
                return sheet.cell(row_of(sheet, key), column_of(sheet, ANSWER_KEY))
    raise LookupError(key)


def column_of(sheet: openpyxl.worksheet.worksheet.Worksheet, key: str) -> int:
    """Number of the column with a key, counted from 1."""
    for row in sheet.iter_rows(min_row=1, max_row=10):
        for cell in row:
            if cell.value == key:
                return int(cell.column)
    raise LookupError(key)


def row_of(sheet: openpyxl.worksheet.worksheet.Worksheet, key: str) -> int:
    """Number of the row with a key, counted from 1."""
    for row in sheet.iter_rows():
        for cell in row:
            if cell.value == key:
                return int(cell.row)
    raise LookupError(key)
