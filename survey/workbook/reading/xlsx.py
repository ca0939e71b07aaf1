"""An .xlsx or .xlsm workbook, its sheets looked through before the spreadsheet reader sees them.

A single cell at the far corner of a sheet, or one long text shared by every cell, makes that
reader end the whole process. What passes is packed again, so that it sees the very bytes that
were measured.
"""

from __future__ import annotations

import html
import io
import re
import zipfile
from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import islice
from pathlib import Path

from python_calamine import CalamineWorkbook, SheetTypeEnum

from survey.workbook.layout import LONGEST_CELL, MOST_ROWS_DEEP
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

# Cells that do not begin with their own address, within column DZ and row 9,999.
_ADDRESS = rb' r="[A-D]?[A-Z][1-9][0-9]{0,3}"'
_STRAY_CELL = re.compile(rb"<(?:[^\s<>/:]+:)?c(?!" + _ADDRESS + rb")[\s/>]")
_STRAY_PLAIN_CELL = re.compile(rb"<c(?!" + _ADDRESS + rb")[\s/>]")  # in a third of the time
_UNUSUAL = re.compile(rb"<[f!]")  # a formula, or what no cell has in it
_PREFIXED = re.compile(rb":[cf][\s/>]")
_ROWS_END = b"</sheetData>"
_SOMETHING = re.compile(rb"<[vif!]")  # the beginning of a value, a text, a formula, or anything odd
_BLOCK = 2048


def _corrections(prefix: bytes) -> Sequence[tuple[re.Pattern[bytes], bytes]]:
    """What makes a text of a cell that the reader gives as a blank, if it has something to tell."""
    cell = rb"<(" + prefix + rb')c( r="[A-Z]+[0-9]+")'
    # A formula failed: as a text, the cell has what it shows, "#DIV/0!".
    failed = re.compile(cell + rb'([^<>]* t=)"e"')
    # A formula without a value. A text that is empty has one: t="str".
    formula = rb"<" + prefix + rb"f(?:\s[^<>]*)?(?:/>|>[^<>]*</[^<>]*>)\s*"
    blank = rb"(?:<" + prefix + rb"v\s*(?:/>|>\s*</[^<>]*>)\s*)?"
    uncached = re.compile(cell + rb'(?:(?! t="str")[^<>])*>\s*' + formula + blank + rb"</[^<>]*>")
    told = rb'<\1c\2 t="inlineStr"><\1is><\1t>' + NO_VALUE.encode() + rb"</\1t></\1is></\1c>"
    return (failed, rb'<\1c\2\3"str"'), (uncached, told)


_CORRECTIONS, _CORRECTIONS_PREFIXED = _corrections(b""), _corrections(rb"[^\s<>/:]+:")
_SHARED_TEXTS = "xl/sharedstrings.xml"  # the reader looks nowhere else
# It makes room for as many as the counts in this tag say, whatever they say.
_TEXTS_TAG = re.compile(rb"<(\w+:)?sst\b[^<>]*?(/?)>")
_COMMENT = re.compile(r"<(?:\w+:)?(?:threadedC|c)omment\s")
_REFERENCE = re.compile(r'\bref="([A-Z]{1,3}[0-9]{1,7})"')
_TAG = re.compile(r"<[^<>]*>")


def xlsx_book(parts: dict[str, bytes], path: Path) -> Book:
    """The workbook that the parts of an .xlsx file make.

    Raises:
        UnreadableSurveyError: it is damaged, or larger than a form can be.
    """
    texts = {
        name: _TEXTS_TAG.sub(rb"<\1sst\2>", part)
        for name, part in parts.items()
        if name.casefold() == _SHARED_TEXTS
    }
    sheets = {name: _only_read(part) for name, part in parts.items() if b"sheetData" in part}
    for name, part in sheets.items():
        prefixed = _PREFIXED.search(part) is not None
        if _STRAY_PLAIN_CELL.search(part) or (prefixed and _STRAY_CELL.search(part)):
            raise too_large(path, f"{name} has cells below row {MOST_ROWS_DEEP:,} or right of DZ")
        if prefixed or b't="e"' in part or _UNUSUAL.search(part):
            sheets[name] = _corrected(part, prefixed=prefixed)
    _check_text(sheets.values(), texts.values(), path)
    package = _packed(parts | sheets | texts)
    with damage_told(path):
        workbook = CalamineWorkbook.from_filelike(io.BytesIO(package))
        kinds = {sheet.name: sheet.typ for sheet in workbook.sheets_metadata}

    def load(name: str, most: int) -> Sheet | None:
        if kinds[name] is not SheetTypeEnum.WorkSheet:
            return None
        with damage_told(path):
            sheet = workbook.get_sheet_by_name(name)
            merged = sheet.merged_cell_ranges or ()
            if len(merged) > MOST_MERGED:
                raise too_large(path, f"sheet '{name}' has more merged cells than a form can")
            if sheet.total_height * sheet.total_width > most:
                return None
            grid = sheet.to_python(skip_empty_area=False)
        return Sheet(name, grid, tuple(Area(*first, *last) for first, last in merged))

    return Book(workbook.sheet_names, load, _comments(parts))


def _check_text(sheets: Collection[bytes], texts: Collection[bytes], path: Path) -> None:
    """See that no long shared text is repeated until memory is full."""
    longest = max((len(text) for part in texts for text in part.split(b"</si>")), default=0)
    cells = sum(part.count(b"<") for part in sheets)  # at most; soon counted
    if cells > MOST_CELLS or longest * cells > LARGEST_TEXT:
        cells = sum(part.count(b' r="') for part in sheets)
    if cells > MOST_CELLS:
        raise too_large(path, "it has more cells than a form can")
    if longest * cells > LARGEST_TEXT:
        raise too_large(path, "its cells hold more text than a form can")


def _only_read(part: bytes) -> bytes:
    """A sheet without most of the blank rows at its end, and of what follows only merged cells.

    One that is written as no spreadsheet program writes it is kept whole.
    """
    end = part.find(_ROWS_END)
    before, *merged = part[end:].split(b"mergeCells")
    one = len(merged) == 2 and before.endswith(b"<") and merged[0].endswith(b"</")
    if end < 0 or b"mergeCell" in before or (merged and not one):
        return part
    blank = end
    while blank > 0 and not _SOMETHING.search(part, max(0, blank - _BLOCK), blank + 1):
        blank -= _BLOCK
    row = part.find(b"<row ", max(0, blank), end)
    if row < 0 or b":" in part[row:end]:
        row = end
    kept = b"<mergeCells" + merged[0] + b"mergeCells>" if merged else b""
    return part[:row] + _ROWS_END + kept + b"</worksheet>"


def _corrected(part: bytes, *, prefixed: bool) -> bytes:
    """A sheet in which failed cells, and formulas without a value, are texts that say so."""
    for pattern, new in (*_CORRECTIONS, *(_CORRECTIONS_PREFIXED if prefixed else ())):
        part = pattern.sub(new, part)
    return part


def _packed(parts: Mapping[str, bytes]) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as package:
        for name, part in parts.items():
            package.writestr(zipfile.ZipInfo(name), part)
    return packed.getvalue()


def _comments(parts: Mapping[str, bytes]) -> tuple[str, ...]:
    """What people have pinned to cells, each with its cell."""
    said = (
        comment
        for name, part in parts.items()
        if "comment" in name.casefold()
        for comment in _by_people(part.decode("utf-8", "replace"))
    )
    return tuple(islice(said, MOST_COMMENTS))


def _by_people(comments: str) -> Iterator[str]:
    for comment in _COMMENT.split(comments)[1:]:
        tag, _, rest = comment.partition(">")
        text = html.unescape(_TAG.sub("", rest[:LONGEST_CELL])).strip()
        if not is_mark(text):
            cell = _REFERENCE.search(tag)
            yield f"{cell[1]}: {text}" if cell else text
