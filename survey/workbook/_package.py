"""The parts of a workbook file, measured before anything trusts them.

An .xlsx file is a zip of XML parts, and both can be made to eat all memory: a part that
unpacks to gigabytes, a single cell at the far corner of a sheet, one long text shared by every
cell. The spreadsheet reader ends the whole process on the second, so a sheet is looked through
here first. What passes is packed again, so that the reader sees the very bytes that were
measured.
"""

from __future__ import annotations

import io
import re
import zipfile
import zlib
from collections.abc import Mapping
from pathlib import Path

from survey.errors import UnreadableSurveyError
from survey.workbook._file import unreadable
from survey.workbook._layout import MOST_ROWS_DEEP

LARGEST_UNPACKED = 64 * 2**20  # with pictures
LARGEST_NEEDED = 16 * 2**20  # the sheets alone; a form with 200 rows a sheet has 1 MB
LARGEST_RATIO = 200
MOST_PARTS = 2000
MOST_CELLS = 300_000  # and rows
LARGEST_TEXT = 256 * 2**20  # all cells together, if each held the longest shared text
_WORKBOOK = "xl/workbook.xml"
_NEEDED = re.compile(
    r"\[Content_Types\]\.xml|_rels/\.rels|xl/_rels/workbook\.xml\.rels|xl/[^/]+\.xml"
    r"|xl/worksheets/[^/]+\.xml"
)
# A cell that does not begin with its own address, within column DZ and row 9,999.
_STRAY_CELL = re.compile(
    rb"<(?:[^\s<>/:]+:)?c(?=[\s/>])" rb'(?! r="(?:[A-D]?[A-Z])[1-9][0-9]{0,3}")'
)
# A cell whose formula failed. The reader gives such a cell as a blank; typed as text, it gives
# what the cell shows, "#DIV/0!", and that can be reported.
_FAILED_CELL = re.compile(rb'(<(?:[^\s<>/:]+:)?c r="[A-Z]+[0-9]+"[^<>]* t=)"e"')
_SHARED_TEXT_END = b"</si>"


def measured_package(content: bytes, path: Path) -> bytes:
    """Check a workbook file and pack the parts that hold cells again, unpressed.

    Args:
        content: the whole file, which begins as a zip does.
        path: the file, for messages.

    Returns:
        A zip with the workbook's own parts only: no pictures, no macros, no links.

    Raises:
        UnreadableSurveyError: it is damaged, locked, no workbook, or larger than a form can be.
    """
    try:
        parts = _parts(content, path)
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError) as fault:
        raise unreadable(path, f"the file is damaged or cut short ({fault})") from None
    except (RuntimeError, NotImplementedError) as fault:  # a password, an unusual packing
        raise unreadable(path, f"the file can't be unpacked ({fault})") from None
    for name, part in parts.items():
        _check_part(name, part, path)
    _check_text(parts, path)
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as package:
        for name, part in parts.items():
            package.writestr(zipfile.ZipInfo(name), part)
    return packed.getvalue()


def _parts(content: bytes, path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        listed = package.infolist()
        names = [entry.filename for entry in listed]
        size = sum(entry.file_size for entry in listed)
        if len(listed) > MOST_PARTS or len(set(names)) != len(names):
            raise unreadable(path, "the file has too many parts, or two of one name")
        if size > LARGEST_UNPACKED or size > LARGEST_RATIO * len(content):
            raise _too_large(path, f"unpacked it would be {max(1, size // 2**20)} MB")
        if _WORKBOOK not in names:
            raise unreadable(path, "this is a zip file, but no .xlsx workbook")
        needed = [entry for entry in listed if _NEEDED.fullmatch(entry.filename)]
        if sum(entry.file_size for entry in needed) > LARGEST_NEEDED:
            raise _too_large(path, f"its sheets are larger than {LARGEST_NEEDED // 2**20} MB")
        return {entry.filename: _unpacked(package, entry) for entry in needed}


def _unpacked(package: zipfile.ZipFile, entry: zipfile.ZipInfo) -> bytes:
    """One part; unpacking stops at the size given in the zip's list, whatever the part holds."""
    with package.open(entry) as opened:
        part = opened.read(entry.file_size)
    if len(part) != entry.file_size:
        raise zipfile.BadZipFile(f"{entry.filename} is shorter than listed")
    return part


def _check_part(name: str, part: bytes, path: Path) -> None:
    if b"<!DOCTYPE" in part or b"<!ENTITY" in part:
        raise unreadable(path, f"{name} declares entities, which no spreadsheet program writes")
    if part.startswith((b"\xff\xfe", b"\xfe\xff")) or b"\0" in part:
        raise unreadable(path, f"{name} is no UTF-8 text")
    if b"sheetData" in part and _STRAY_CELL.search(part):
        raise _too_large(path, f"{name} has cells below row {MOST_ROWS_DEEP:,} or right of DZ")


def _check_text(parts: dict[str, bytes], path: Path) -> None:
    """See that no long shared text is repeated until memory is full; mark failed cells as text."""
    cells = 0
    for name, part in parts.items():
        if b"sheetData" in part:
            cells += part.count(b' r="')
            if b't="e"' in part:
                parts[name] = _FAILED_CELL.sub(rb'\1"str"', part)
    shared: Mapping[str, bytes] = {n: p for n, p in parts.items() if b"<sst" in p or b":sst" in p}
    longest = max(
        (len(text) for part in shared.values() for text in part.split(_SHARED_TEXT_END)), default=0
    )
    if cells > MOST_CELLS:
        raise _too_large(path, "it has more cells than a form can")
    if longest * cells > LARGEST_TEXT:
        raise _too_large(path, "its cells hold more text than a form can")


def _too_large(path: Path, reason: str) -> UnreadableSurveyError:
    return unreadable(
        path, reason, help="Copy the answers into a fresh form made by 'pier-survey form'."
    )
