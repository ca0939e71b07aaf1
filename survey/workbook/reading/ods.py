"""An .ods workbook, measured and read in one pass over its cells.

One cell of such a sheet may stand for a million ("repeated"), and the spreadsheet reader lays
them all out before anyone can look. It also gives failed formulas, and those without a value, as
blanks. So the cells are read here.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from xml.etree import ElementTree

from survey.workbook.layout import LONGEST_CELL, MOST_COLUMNS, MOST_ROWS_DEEP
from survey.workbook.marks import is_mark
from survey.workbook.reading.book import (
    LARGEST_TEXT,
    MOST_CELLS,
    MOST_COMMENTS,
    MOST_MERGED,
    NO_VALUE,
    Area,
    Book,
    Sheet,
    damage_told,
    too_large,
)
from survey.workbook.reading.file import unreadable

MOST_TAGS = 400_000  # and attributes; a form with 200 rows a sheet has a third
LARGEST_AREA = 4 * MOST_ROWS_DEEP * MOST_COLUMNS  # of all sheets together, blanks too

_OASIS = "{urn:oasis:names:tc:opendocument:xmlns:"
_OFFICE, _TABLE, _TEXT = f"{_OASIS}office:1.0}}", f"{_OASIS}table:1.0}}", f"{_OASIS}text:1.0}}"
_SORT_HERE = "{urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0}value-type"
_SHEETS = f"{_OFFICE}body/{_OFFICE}spreadsheet/{_TABLE}table"
_ROW = f"{_TABLE}table-row"
_ROWS = (f"{_TABLE}table-rows", f"{_TABLE}table-header-rows", f"{_TABLE}table-row-group")
_CELLS = (f"{_TABLE}table-cell", f"{_TABLE}covered-table-cell")
_PARAGRAPHS = (f"{_TEXT}p", f"{_TEXT}h")
_SAID_OTHERWISE = {f"{_TEXT}tab": "\t", f"{_TEXT}line-break": "\n"}
_NUMBERS = ("float", "percentage", "currency")
_FAILED = re.compile(r"#[A-Z0-9/]+[!?]?")
_FAILED_HERE = re.compile(r"Err:\d+")  # how such a program shows the failures that have no name


def ods_book(content_xml: bytes, path: Path) -> Book:
    """The workbook in ``content.xml`` of an .ods file.

    Raises:
        UnreadableSurveyError: it is damaged, or larger than a form can be.
    """
    if content_xml.count(b"<") > MOST_TAGS or content_xml.count(b"=") > MOST_TAGS:
        raise too_large(path, "it has more cells than a form can")
    reading = _Reading(path)
    with damage_told(path):
        root = ElementTree.fromstring(content_xml)
        sheets: dict[str, Sheet] = {}
        for table in root.iterfind(_SHEETS):
            sheet = reading.sheet(table)
            if sheet.name in sheets:
                raise unreadable(path, f"there are two sheets '{sheet.name}'")
            sheets[sheet.name] = sheet
        comments = tuple(islice(_comments(root), MOST_COMMENTS))
    if not sheets:
        raise unreadable(path, "this is no workbook: it has no sheets")

    def load(name: str, most: int) -> Sheet | None:
        grid = sheets[name].grid
        return None if grid and len(grid) * len(grid[0]) > most else sheets[name]

    return Book(tuple(sheets), load, comments)


@dataclass(slots=True)
class _Reading:
    """Reads the sheets of a file, and counts what they hold."""

    path: Path
    cells: int = 0
    area: int = 0
    letters: int = 0

    def sheet(self, table: ElementTree.Element) -> Sheet:
        """A sheet with every repeated cell laid out, blank rows at its end left out."""
        name = table.get(f"{_TABLE}name", "")
        rows: list[list[object]] = []
        merged: list[Area] = []
        number = 0
        for element in _rows(table):
            times = _count(element, "number-rows-repeated")
            row = self.row(element, number, times, name, merged)
            if row:
                if number + times > MOST_ROWS_DEEP:
                    raise self._too_far(name)
                rows += [[] for _ in range(number - len(rows))]
                rows += [row] * times
            number += times
        width = max(map(len, rows), default=0)
        self.area += width * len(rows)
        if self.area > LARGEST_AREA:
            raise too_large(self.path, "it has more cells than a form can")
        return Sheet(name, [row + [""] * (width - len(row)) for row in rows], tuple(merged))

    def row(
        self,
        element: ElementTree.Element,
        number: int,
        times: int,
        name: str,
        merged: list[Area],
    ) -> list[object]:
        """The cells of a row up to the last that is not blank."""
        row: list[object] = []
        column = 0
        for cell in element:
            if cell.tag not in _CELLS:
                continue
            repeats = _count(cell, "number-columns-repeated")
            down, across = (
                _count(cell, "number-rows-spanned"),
                _count(cell, "number-columns-spanned"),
            )
            if down > 1 or across > 1:
                merged.append(Area(number, column, number + down - 1, column + across - 1))
            value = _value(cell)
            if value != "":
                if column + repeats > MOST_COLUMNS:
                    raise self._too_far(name)
                row += [""] * (column - len(row))
                row += [value] * repeats
                self.cells += repeats * times
                self.letters += repeats * times * (len(value) if isinstance(value, str) else 1)
            column += repeats
            if self.cells > MOST_CELLS or len(merged) > MOST_MERGED:
                raise too_large(self.path, "it has more cells than a form can")
            if self.letters > LARGEST_TEXT:
                raise too_large(self.path, "its cells hold more text than a form can")
        return row

    def _too_far(self, name: str) -> Exception:
        return too_large(
            self.path, f"sheet '{name}' has cells below row {MOST_ROWS_DEEP:,} or right of DZ"
        )


def _rows(element: ElementTree.Element) -> Iterator[ElementTree.Element]:
    for child in element:
        if child.tag == _ROW:
            yield child
        elif child.tag in _ROWS:
            yield from _rows(child)


def _count(element: ElementTree.Element, attribute: str) -> int:
    """How many cells or rows an element stands for."""
    written = element.get(f"{_TABLE}{attribute}", "1")
    if not (written.isascii() and written.isdigit() and len(written) < 10):
        raise ValueError(f"{attribute} is '{written[:20]}'")
    return max(1, int(written))


def _value(cell: ElementTree.Element) -> object:
    """What stands in a cell; an empty text if nothing does."""
    kind = cell.get(f"{_OFFICE}value-type")
    formula = f"{_TABLE}formula" in cell.attrib
    if not (len(cell) or formula or kind):
        return ""
    paragraphs = [_said(child) for child in cell if child.tag in _PARAGRAPHS]
    shown = "\n".join(paragraphs)
    failed = cell.get(_SORT_HERE) == "error" or (formula and _FAILED_HERE.fullmatch(shown))
    if failed:
        return shown if _FAILED.fullmatch(shown) else "#VALUE!"
    if kind is None:
        return NO_VALUE if formula and not paragraphs else shown
    if kind == "string":
        return cell.get(f"{_OFFICE}string-value", shown)
    saved = cell.get(f"{_OFFICE}value" if kind in _NUMBERS else f"{_OFFICE}{kind}-value", "")
    if formula and not saved:
        return NO_VALUE
    return _typed(kind, saved, shown)


def _typed(kind: str, saved: str, shown: str) -> object:
    """A value as it was saved; where it can't be told, what the cell shows."""
    if kind == "boolean" and saved in ("true", "false"):
        return saved == "true"
    try:
        if kind in _NUMBERS:
            return float(saved)
        if kind == "date":
            moment = dt.datetime.fromisoformat(saved)
            return moment if "T" in saved else moment.date()
    except ValueError:
        pass
    return shown or saved


def _said(element: ElementTree.Element) -> str:
    """The text of a paragraph, without comments and drawings in it."""
    parts = [element.text or ""]
    for child in element:
        if child.tag == f"{_TEXT}s":
            count = child.get(f"{_TEXT}c", "1")
            parts.append(" " * (min(int(count), LONGEST_CELL) if count.isdigit() else 1))
        elif child.tag in _SAID_OTHERWISE:
            parts.append(_SAID_OTHERWISE[child.tag])
        elif child.tag.startswith(_TEXT):
            parts.append(_said(child))
        parts.append(child.tail or "")
    return "".join(parts)


def _comments(root: ElementTree.Element) -> Iterator[str]:
    """What people have pinned to cells."""
    for annotation in root.iter(f"{_OFFICE}annotation"):
        said = " ".join(_said(child) for child in annotation if child.tag in _PARAGRAPHS)
        if not is_mark(said):
            yield said[:LONGEST_CELL].strip()
