"""Tables as a workbook, for those who live in spreadsheets: a sheet for each table.

Nothing in it is a formula or leads out of it, and every text is a text, whatever it looks like.
"""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

import datetime as dt
import functools
import io
import re
import zipfile
import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from openpyxl.cell.cell import Cell
from openpyxl.packaging.custom import StringProperty
from openpyxl.styles.alignment import Alignment
from openpyxl.styles.borders import Border, Side
from openpyxl.styles.fills import PatternFill
from openpyxl.styles.fonts import Font
from openpyxl.styles.named_styles import NamedStyle
from openpyxl.workbook.workbook import Workbook
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet
from openpyxl.writer.excel import ExcelWriter

from survey.files import refuse_unless, told, whole
from survey.sheets._legible import legible
from survey.workbook.layout import column_name
from survey.workbook.writing.cells import coded
from survey.workbook.writing.look import height

Value = str | int | dt.date
_MARKED_PART, _MOST_MARKED = "docProps/custom.xml", 65_536
_LONGEST = 32_767  # letters of UTF-16 in a cell, the most that the file format allows
_CUT = " ... (cut here: too long for a cell)"
_LIKE_A_FORMULA = ("=", "+", "-", "@", "\t", "\r")
_NO_LETTERS = re.compile("[\ufffe\uffff]")  # no XML can hold them
_HEADING, _TEXT, _NUMBER, _DATE = "table heading", "table text", "table number", "table day"
_FACE, _SIZE = "Arial", 10
_NO_CLOCK = dt.datetime(1980, 1, 1, tzinfo=dt.UTC)  # the first day that a ZIP file can tell


@dataclass(frozen=True, slots=True)
class Table:
    """One sheet of a workbook.

    Args:
        name: of the sheet, at most 31 letters.
        columns: heading of each column and its width in letters.
        rows: as many values each as there are columns.
    """

    name: str
    columns: Mapping[str, float]
    rows: Sequence[Sequence[Value]]


@dataclass(frozen=True, slots=True)
class Made:
    """What sort of workbook it is: by it an earlier one is told from anybody else's file.

    Args:
        mark: stands in the file, unseen.
        title: in the properties of the file.
        what: in messages, such as ``workbook of the board``.
    """

    mark: str
    title: str
    what: str


def write_tables(tables: Sequence[Table], file: Path, made: Made) -> None:
    """Write tables as an ``.xlsx``; the same tables give the same bytes.

    Args:
        tables: a sheet each.
        file: the place to write to. An earlier workbook of the same sort is replaced.
        made: what sort it is.

    Raises:
        UserError: something else stands there, such as a survey, or it can't be written.
    """
    refuse_other_workbook(file, made)
    content = _packed(_workbook(tables, made))
    with told(file, made.what), whole(file) as part:
        part.write_bytes(content)


def refuse_other_workbook(file: Path, made: Made) -> None:
    """Stop before a workbook is written over what is none of its sort.

    Raises:
        UserError: something else stands there, or it can't be read.
    """
    refuse_unless(lambda there: is_made(there, made), file, made.what)


def is_made(file: Path, made: Made) -> bool:
    """Whether a file is a workbook of this sort that :func:`write_tables` wrote.

    Raises:
        OSError: it can't be read.
    """
    return holds(file, made.mark)


def holds(file: Path, mark: str) -> bool:
    """Whether a file is a workbook with a mark.

    Raises:
        OSError: it can't be read.
    """
    try:
        with zipfile.ZipFile(file) as package, package.open(_MARKED_PART) as part:
            return f'"{mark}"'.encode() in part.read(_MOST_MARKED)
    except (KeyError, EOFError, ValueError, RuntimeError, zipfile.BadZipFile, zlib.error):
        return False


def _workbook(tables: Sequence[Table], made: Made) -> Workbook:
    book = Workbook()
    book.remove(book.worksheets[0])
    for style in _styles():
        book.add_named_style(style)
    for table in tables:
        _fill(book.create_sheet(table.name), table)
    book.properties.creator = book.properties.lastModifiedBy = "pier-survey"
    book.properties.title = made.title
    book.properties.created = book.properties.modified = _NO_CLOCK
    book.custom_doc_props.append(StringProperty(name=made.mark, value="1"))
    return book


def _styles() -> list[NamedStyle]:
    line = Side(style="thin", color="9A9A9A")
    cell: dict[str, Any] = {
        "alignment": Alignment(wrap_text=True, vertical="top", horizontal="left"),
        "border": Border(left=line, right=line, top=line, bottom=line),
    }
    grey = PatternFill("solid", fgColor="E4E4E4")
    return [
        NamedStyle(_HEADING, Font(name=_FACE, size=_SIZE, bold=True), fill=grey, **cell),
        NamedStyle(_TEXT, Font(name=_FACE, size=_SIZE), number_format="@", **cell),
        NamedStyle(_NUMBER, Font(name=_FACE, size=_SIZE), number_format="0", **cell),
        NamedStyle(_DATE, Font(name=_FACE, size=_SIZE), number_format="yyyy-mm-dd", **cell),
    ]


def _fill(sheet: Worksheet, table: Table) -> None:
    """Write a table under its headings, which stay in sight and are printed on every page."""
    widths = tuple(table.columns.values())
    for column, width in enumerate(widths):
        sheet.column_dimensions[column_name(column)].width = width
    writer = _Writer(sheet)
    writer.row(1, tuple(table.columns), widths, _HEADING)
    for number, values in enumerate(table.rows, start=2):
        writer.row(number, values, widths)
    sheet.freeze_panes, sheet.print_title_rows = "A2", "1:1"
    sheet.auto_filter.ref = sheet.dimensions
    page, margins = sheet.page_setup, sheet.page_margins
    page.orientation, page.fitToWidth, page.fitToHeight = "landscape", 1, 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    # They leave room for the printable width and height of both letter and A4 paper.
    margins.left = margins.right = 0.5
    margins.top, margins.bottom, margins.header, margins.footer = 0.7, 0.7, 0.3, 0.3
    sheet.oddHeader.left.text, sheet.oddHeader.right.text = "&A", "&F"
    sheet.oddFooter.right.text = "Page &P of &N"


class _Writer:
    """Writes rows into a sheet. Texts and looks recur, so each is made ready once."""

    def __init__(self, sheet: Worksheet) -> None:
        self._sheet = sheet
        self._looks: dict[tuple[str, bool], Any] = {}

    def row(
        self,
        number: int,
        values: Sequence[Value],
        widths: Sequence[float],
        look: str | None = None,
    ) -> None:
        """Write a row as high as its texts need it: not every program sees to that itself."""
        for column, value in enumerate(values, start=1):
            cell = self._sheet.cell(number, column)
            if isinstance(value, str):
                cell._style = self._look(look or _TEXT, value.startswith(_LIKE_A_FORMULA))
                cell.value = _storable(value)
                cell.data_type = "s"  # whatever it looks like
            else:
                cell._style = self._look(_DATE if isinstance(value, dt.date) else _NUMBER)
                cell.value = value
        high = map(_height, map(str, values), widths)
        self._sheet.row_dimensions[number].height = max(high)

    def _look(self, name: str, quoted: bool = False) -> Any:
        if (name, quoted) not in self._looks:
            cell = Cell(self._sheet, 1, 1)
            cell.style = name
            cell.quotePrefix = quoted
            self._looks[name, quoted] = cell._style
        return self._looks[name, quoted]


@functools.lru_cache(maxsize=65_536)
def _height(text: str, width: float) -> float:
    """Height, in points, of a text in a column of a width."""
    return height((text, width, _SIZE), lowest=15.0)


@functools.lru_cache(maxsize=65_536)
def _storable(text: str) -> str:
    """The text as a cell can hold it: no control characters, not too long, no coded letters."""
    kept = coded(_NO_LETTERS.sub("\N{REPLACEMENT CHARACTER}", legible(text)))
    letters = kept.encode("utf-16-le")
    if len(letters) <= 2 * _LONGEST:
        return kept
    return letters[: 2 * (_LONGEST - len(_CUT))].decode("utf-16-le", "ignore") + _CUT


def _packed(book: Workbook) -> bytes:
    """The workbook as the bytes of a file in which no part has a date."""
    made, packed = io.BytesIO(), io.BytesIO()
    with zipfile.ZipFile(made, "w") as package:
        ExcelWriter(book, package).save()  # and not book.save, which writes down the hour
    with zipfile.ZipFile(made) as parts, zipfile.ZipFile(packed, "w") as package:
        for name in parts.namelist():
            package.writestr(zipfile.ZipInfo(name), parts.read(name), zipfile.ZIP_DEFLATED)
    return packed.getvalue()
