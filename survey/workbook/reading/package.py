"""The parts of a workbook file, measured before anything trusts them.

A workbook is a zip of XML parts, and both can be made to eat all memory: a part that unpacks to
gigabytes, a text that stands for a longer one. Pictures, macros, links and embedded objects are
never unpacked, and no name in the zip becomes a name on disk.
"""

from __future__ import annotations

import io
import re
import zipfile
import zlib
from collections.abc import Collection
from pathlib import Path

from survey.workbook.layout import CHECKS, LISTS, SKETCH
from survey.workbook.reading.book import too_large
from survey.workbook.reading.file import unreadable

LARGEST_UNPACKED = 64 * 2**20  # with pictures
LARGEST_NEEDED = 16 * 2**20  # the sheets alone; a form with 200 rows a sheet has 2 MB
LARGEST_RATIO = 200
MOST_PARTS = 2000
XLSX, ODS = "xl/workbook.xml", "content.xml"
_LINKS = "xl/_rels/workbook.xml.rels"
_LARGEST_LIST = 2**17  # of sheets; a longer one is no form's
_UNREAD = {name.encode() for name in (SKETCH, LISTS, CHECKS)}
_SHEET, _LINK = re.compile(rb"<sheet\s[^<>]*>"), re.compile(rb"<Relationship\s[^<>]*>")
_ATTRIBUTE = re.compile(rb'([\w:]+)="([^"<>]*)"')
_MANIFEST = "META-INF/manifest.xml"
_NEEDED = re.compile(
    r"\[Content_Types\]\.xml|_rels/\.rels|xl/_rels/workbook\.xml\.rels|xl/[^/]+\.xml"
    r"|xl/worksheets/[^/]+\.xml|xl/[^/]*comments[^/]*/[^/]+\.xml|content\.xml"
    r"|META-INF/manifest\.xml",
    re.IGNORECASE,
)


def measured_parts(content: bytes, path: Path) -> dict[str, bytes]:
    """The parts of a workbook file that hold cells and comments, by name.

    Args:
        content: the whole file, which begins as a zip does.
        path: the file, for messages.

    Raises:
        UnreadableSurveyError: it is damaged, locked, no workbook, or larger than a form can be.
    """
    try:
        parts = _parts(content, path)
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError) as fault:
        raise unreadable(path, f"the file is damaged or cut short ({fault})") from None
    except (RuntimeError, NotImplementedError) as fault:  # a password, an unusual packing
        raise unreadable(path, f"the file can't be unpacked ({fault})") from None
    if b"encryption-data" in parts.pop(_MANIFEST, b""):
        raise unreadable(
            path,
            "the workbook is protected by a password",
            help="Open it with the password, save a copy without one, and give that copy.",
        )
    for name, part in parts.items():
        if b"<!DOCTYPE" in part:  # only within one can entities be declared
            raise unreadable(path, f"{name} declares entities, which no spreadsheet program writes")
        if part.startswith((b"\xff\xfe", b"\xfe\xff")) or b"\0" in part:
            raise unreadable(path, f"{name} is no UTF-8 text")
    return parts


def _parts(content: bytes, path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        listed = package.infolist()
        names = {entry.filename for entry in listed}
        alike = {name.casefold() for name in names}
        size = sum(entry.file_size for entry in listed)
        if len(listed) > MOST_PARTS or len(alike) != len(listed):
            raise unreadable(path, "the file has too many parts, or two of one name")
        if size > LARGEST_UNPACKED or size > LARGEST_RATIO * len(content):
            raise too_large(path, f"unpacked it would be {max(1, size // 2**20)} MB")
        if XLSX not in names and ODS not in names:
            raise unreadable(path, "this is a zip file, but no .xlsx or .ods workbook")
        unread = _unread(package) if XLSX in names else ()
        needed = [
            entry
            for entry in listed
            if _NEEDED.fullmatch(entry.filename) and entry.filename not in unread
        ]
        if sum(entry.file_size for entry in needed) > LARGEST_NEEDED:
            raise too_large(path, f"its sheets are larger than {LARGEST_NEEDED // 2**20} MB")
        return {entry.filename: _unpacked(package, entry) for entry in needed}


def _unread(package: zipfile.ZipFile) -> Collection[str]:
    """The parts of those sheets of the form from which nothing is told; some are long."""
    try:
        listed = [package.getinfo(name) for name in (XLSX, _LINKS)]
    except KeyError:
        return ()
    if sum(entry.file_size for entry in listed) > _LARGEST_LIST:
        return ()
    sheets, links = (
        [dict(_ATTRIBUTE.findall(tag)) for tag in pattern.findall(_unpacked(package, entry))]
        for pattern, entry in zip((_SHEET, _LINK), listed, strict=True)
    )
    unread = {sheet.get(b"r:id") for sheet in sheets if sheet.get(b"name") in _UNREAD}
    targets = (link.get(b"Target", b"").decode() for link in links if link.get(b"Id") in unread)
    return {target[1:] if target.startswith("/") else f"xl/{target}" for target in targets}


def _unpacked(package: zipfile.ZipFile, entry: zipfile.ZipInfo) -> bytes:
    """One part; unpacking stops at the size given in the zip's list, whatever the part holds."""
    with package.open(entry) as opened:
        part = opened.read(entry.file_size)
    if len(part) != entry.file_size:
        raise zipfile.BadZipFile(f"{entry.filename} is shorter than listed")
    return part
