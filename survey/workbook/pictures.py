"""Pictures that stand in a workbook: find them, and put them back into a form.

A picture's file may be anything; here it is only carried. No part of the workbook names a file
outside it that would be opened: a name is looked up among the parts of the file, and nowhere else.
"""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

import io
import posixpath
import re
import warnings
import zipfile
import zlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import islice
from typing import TYPE_CHECKING
from urllib.parse import unquote
from xml.etree.ElementTree import Element, TreeBuilder
from xml.parsers import expat

from survey.model import Picture

if TYPE_CHECKING:
    from openpyxl.drawing.image import Image
    from openpyxl.worksheet.worksheet import Worksheet

MOST_PICTURES = 300
LARGEST_PICTURE = 16 * 2**20
LARGEST_TOGETHER = 64 * 2**20
_LARGEST_XML = 32 * 2**20  # of all parts; many may lead to the same one
_MOST_ELEMENTS = 1_000_000  # and attributes
_LONGEST_PIECE = 64 * 2**10  # of a part, without a new element; a cell holds half of it
# Names of parts are not packed, so a file without pictures is known without opening it.
_HINTS = (b"xl/drawings/", b"xl/richData/", b"Pictures/")
_WORKBOOK, _OPEN_DOCUMENT = "xl/workbook.xml", "content.xml"
_ROW = re.compile(r"[0-9]{1,7}")
_RICH_CELL = re.compile(rb"<(?:\w+:)?c (?=[^<>]*\br=\"[A-Z]+(\d{1,7})\")[^<>]*\bvm=\"(\d{1,6})\"")
_RICH_VALUE, _RICH_PICTURE = "XLRICHVALUE", "_rvRel:LocalImageIdentifier"
_DAMAGED = (
    zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError, RuntimeError,
    NotImplementedError, LookupError,
)  # fmt: skip
_SHOWN_BY_SPREADSHEETS = {b"\xff\xd8\xff": "JPEG", b"\x89PNG\r\n\x1a\n": "PNG", b"GIF8": "GIF"}
_ROW_HEIGHT, _MARGIN = 60.0, 2  # points
_COLUMN_WIDTH, _POINTS_A_LETTER = 14, 5.25
_EMU_A_POINT = 12_700  # the unit of drawings


def embedded_pictures(content: bytes) -> tuple[Picture, ...]:
    """The pictures in an .xlsx, .xlsm or .ods file, with the sheet and row at which each stands.

    Args:
        content: the whole file.

    Returns:
        Sheet by sheet, at most 300. One whose content is empty can't be had: it is only linked,
        damaged, larger than 16 MB, or comes after 64 MB of others. One that stands on no row of
        its own is given at row 1. What can't be told at all is left out; this never fails.
    """
    if not any(hint in content for hint in _HINTS):
        return ()
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as opened:
            parts = _Parts(opened)
            workbook = _WORKBOOK in opened.NameToInfo
            found = _of_workbook(parts) if workbook else _of_open_document(parts)
            return tuple(islice(found, MOST_PICTURES))
    except (*_DAMAGED, _UnreadableError):
        return ()


class _UnreadableError(Exception):
    """An XML part that is missing, damaged, too large, or declares entities."""


@dataclass(slots=True)
class _Parts:
    """The parts of an opened file; what is read of them is bounded.

    Args:
        package: the opened file.
        room: how many bytes of pictures may still be read.
        room_for_xml: how many bytes of other parts.
    """

    package: zipfile.ZipFile
    room: int = LARGEST_TOGETHER
    room_for_xml: int = _LARGEST_XML
    _pictures: dict[str, bytes] = field(default_factory=dict)

    def picture(self, name: str) -> bytes:
        """The bytes of a picture; empty if they can't be had."""
        if name not in self._pictures:
            self._pictures[name] = self._read(name, min(LARGEST_PICTURE, self.room))
            self.room -= len(self._pictures[name])
        return self._pictures[name]

    def xml(self, name: str) -> bytes:
        """The text of an XML part.

        Raises:
            _UnreadableError: there is none that can be read.
        """
        if not (text := self._read(name, self.room_for_xml)):
            raise _UnreadableError
        self.room_for_xml -= len(text)
        return text

    def tree(self, name: str, *wanted: str) -> Element:
        """The elements of some names in an XML part, as they stand within each other.

        Names are without their namespaces, of which the standard has two sets.

        Raises:
            _UnreadableError: it can't be read.
        """
        return _tree(self.xml(name), wanted)

    def _read(self, name: str, most: int) -> bytes:
        entry = self.package.NameToInfo.get(name)
        if entry is None or not 0 < entry.file_size <= most:
            return b""
        try:
            with self.package.open(entry) as opened:
                return opened.read(entry.file_size)
        except _DAMAGED:
            return b""


def _tree(xml: bytes, wanted: Iterable[str]) -> Element:
    names, builder, parser = frozenset(wanted), TreeBuilder(), expat.ParserCreate()
    seen = 0

    def start(name: str, attributes: dict[str, str]) -> None:
        nonlocal seen
        seen += 1 + len(attributes)
        if seen > _MOST_ELEMENTS:
            raise _UnreadableError
        if (own := name.rpartition(":")[2]) in names:
            builder.start(own, {key.rpartition(":")[2]: said for key, said in attributes.items()})

    def end(name: str) -> None:
        if (own := name.rpartition(":")[2]) in names:
            builder.end(own)

    def refuse(*_declared: object) -> None:
        raise _UnreadableError

    parser.StartElementHandler, parser.EndElementHandler = start, end
    parser.CharacterDataHandler = builder.data
    parser.StartDoctypeDeclHandler = refuse
    builder.start("root", {})
    # A single element with a million attributes would take half a minute.
    for at in range(0, len(xml) - _LONGEST_PIECE, _LONGEST_PIECE):
        if xml.find(b"<", at, at + _LONGEST_PIECE) < 0:
            raise _UnreadableError
    try:
        parser.Parse(xml, True)
    except (expat.ExpatError, *_DAMAGED):
        raise _UnreadableError from None
    builder.end("root")
    return builder.close()


def _targets(parts: _Parts, source: str) -> Mapping[str, tuple[str, str]]:
    """What a part leads to, by the mark of the link: its sort, and the name of the part.

    The name is empty for what lies outside the file.
    """
    folder, name = posixpath.split(source)
    links = f"{folder}/_rels/{name}.rels"
    if links not in parts.package.NameToInfo:
        return {}
    return {
        link.get("Id", ""): (
            link.get("Type", "").rpartition("/")[2],
            _part_name(parts, folder, link) if link.get("TargetMode") != "External" else "",
        )
        for link in parts.tree(links, "Relationship")
    }


def _part_name(parts: _Parts, folder: str, link: Element) -> str:
    """The part that a link leads to, looked up among the parts of the file."""
    name = posixpath.normpath(posixpath.join("/", folder, link.get("Target", "")))[1:]
    return name if name in parts.package.NameToInfo else unquote(name)


def _of_workbook(parts: _Parts) -> Iterator[Picture]:
    sheets = _targets(parts, _WORKBOOK)
    try:
        rich = _rich_pictures(parts)
    except (*_DAMAGED, _UnreadableError):
        rich = {}
    for sheet in parts.tree(_WORKBOOK, "sheet"):
        name, (_sort, part) = sheet.get("name", ""), sheets.get(sheet.get("id", ""), ("", ""))
        found: dict[tuple[int, str], Picture] = {}
        for row, target in _of_sheet(parts, part, rich):
            content = parts.picture(target) if target else b""
            own = posixpath.basename(target) or "picture"
            found.setdefault((row, target), Picture(own, name, row, content))
        yield from sorted(found.values(), key=lambda picture: picture.row)


def _of_sheet(parts: _Parts, part: str, rich: Mapping[int, str]) -> Iterator[tuple[int, str]]:
    """Row and part of each picture of a sheet; no part where it can't be told which."""
    try:
        drawings = [target for sort, target in _targets(parts, part).values() if sort == "drawing"]
        cells = _RICH_CELL.findall(parts.xml(part)) if rich else ()
    except _UnreadableError:
        yield 1, ""
        return
    for drawing in drawings:
        try:
            yield from _of_drawing(parts, drawing)
        except _UnreadableError:
            yield 1, ""
    for row, mark in cells:
        if int(mark) in rich:
            yield int(row), rich[int(mark)]


def _of_drawing(parts: _Parts, drawing: str) -> Iterator[tuple[int, str]]:
    targets = _targets(parts, drawing)
    anchors = "oneCellAnchor", "twoCellAnchor", "absoluteAnchor"
    for anchor in parts.tree(drawing, *anchors, "from", "row", "blip"):
        start = (anchor.findtext("from/row") or "").strip()
        row = int(start) + 1 if _ROW.fullmatch(start) else 1
        for blip in anchor.iter("blip"):
            _sort, target = targets.get(blip.get("embed", ""), ("", ""))
            yield row, target


def _rich_pictures(parts: _Parts) -> Mapping[int, str]:
    """The picture in a cell, by the cell's mark: a way of some programs beside the drawings."""
    folder = "xl/richData"
    if f"{folder}/richValueRel.xml" not in parts.package.NameToInfo:
        return {}
    targets = _targets(parts, f"{folder}/richValueRel.xml")
    files = [targets[rel.get("id", "")][1]
             for rel in parts.tree(f"{folder}/richValueRel.xml", "rel")]  # fmt: skip
    places = [
        next((i for i, key in enumerate(keys) if key.get("n") == _RICH_PICTURE), None)
        for keys in parts.tree(f"{folder}/rdrichvaluestructure.xml", "s", "k")
    ]
    shown: list[str | None] = []
    for value in parts.tree(f"{folder}/rdrichvalue.xml", "rv", "v"):
        place = places[int(value.get("s", ""))]
        shown.append(None if place is None else files[int(value[place].text or "")])
    marks = parts.tree(
        "xl/metadata.xml", "metadataType", "futureMetadata", "valueMetadata", "bk", "rvb", "rc"
    )
    sorts = [sort.get("name") for sort in marks.iter("metadataType")]
    rich = [shown[int(rvb.get("i", ""))] for future in marks.iter("futureMetadata")
            if future.get("name") == _RICH_VALUE for rvb in future.iter("rvb")]  # fmt: skip
    return {
        number: file
        for number, mark in enumerate(marks.findall("valueMetadata/bk"), start=1)
        for rc in mark.iter("rc")
        if sorts[int(rc.get("t", "")) - 1] == _RICH_VALUE and (file := rich[int(rc.get("v", ""))])
    }


def _of_open_document(parts: _Parts) -> Iterator[Picture]:
    names = "table", "table-row", "frame", "object", "image"
    for table in parts.tree(_OPEN_DOCUMENT, *names).iter("table"):
        sheet, row = table.get("name", ""), 1
        for child in table:  # a row, or a picture that stands on the sheet but on no row
            for frame in child.iter("frame"):
                if frame.find("object") is None:  # a chart brings a picture of itself
                    yield _of_frame(parts, frame, sheet, row)
            if child.tag == "table-row":
                repeated = child.get("number-rows-repeated", "1")
                row += int(repeated) if _ROW.fullmatch(repeated) else 1


def _of_frame(parts: _Parts, frame: Element, sheet: str, row: int) -> Picture:
    """The first picture of a frame; others show the same in another format."""
    named = [posixpath.normpath(image.get("href", "")) for image in frame.iter("image")]
    name = next((name for name in named if name in parts.package.NameToInfo), "")
    own = posixpath.basename(name) or "picture"
    return Picture(own, sheet, row, parts.picture(name) if name else b"")


def standing_at(pictures: Iterable[Picture], where: str) -> tuple[Picture, ...]:
    """Those of some pictures that stand at a row of a list.

    Args:
        pictures: of one survey.
        where: of the :class:`~survey.model.Row`, such as ``Piers!row 7``.
    """
    return tuple(one for one in pictures if f"{one.sheet}!row {one.row}" == where)


def add_pictures(
    sheet: Worksheet, row: int, pictures: Iterable[Picture], column: int
) -> tuple[Picture, ...]:
    """Put pictures into a form at a row, each in a column of its own and small enough for it.

    Their bytes go into the file as they are. The row is made high enough for them to be seen.

    Args:
        sheet: the sheet, its widths and heights set.
        row: counted from 1.
        pictures: those that stand there.
        column: where the first stands, counted from 1.

    Returns:
        Those that are left out: no JPEG, PNG or GIF, which is all that spreadsheets surely show.
    """
    left_out = []
    for picture in pictures:
        image = _image(picture.content)
        if image is None:
            left_out.append(picture)
            continue
        _fit(sheet, image, row, column)
        sheet.add_image(image)
        column += 1
    return tuple(left_out)


def _image(content: bytes) -> Image | None:
    """A picture for a sheet: only its size is read."""
    from openpyxl.drawing.image import Image
    from PIL import Image as pillow

    kind = next((kind for sign, kind in _SHOWN_BY_SPREADSHEETS.items()
                 if content.startswith(sign)), None)  # fmt: skip
    if kind is None:
        return None
    try:
        with warnings.catch_warnings(action="ignore"):
            image = Image(pillow.open(io.BytesIO(content), formats=(kind,)))
    except (*_DAMAGED, SyntaxError, pillow.DecompressionBombError):
        return None
    image.format = kind.lower()
    return image


def _fit(sheet: Worksheet, image: Image, row: int, column: int) -> None:
    """Make the picture as large as its cell allows, with a margin round it."""
    from openpyxl.drawing.spreadsheet_drawing import AnchorMarker, OneCellAnchor
    from openpyxl.drawing.xdr import XDRPositiveSize2D
    from openpyxl.utils.cell import get_column_letter

    line, letters = sheet.row_dimensions[row], sheet.column_dimensions[get_column_letter(column)]
    line.height = max(line.height or 0, _ROW_HEIGHT)
    if not letters.customWidth:
        letters.width = _COLUMN_WIDTH
    wide, high = letters.width * _POINTS_A_LETTER - 2 * _MARGIN, line.height - 2 * _MARGIN
    scale = min(wide / image.width, high / image.height)
    size = XDRPositiveSize2D(
        max(1, int(image.width * scale * _EMU_A_POINT)),
        max(1, int(image.height * scale * _EMU_A_POINT)),
    )
    margin = _MARGIN * _EMU_A_POINT
    image.anchor = OneCellAnchor(AnchorMarker(column - 1, margin, row - 1, margin), ext=size)  # type: ignore[assignment]
