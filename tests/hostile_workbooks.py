"""Workbooks made to eat memory or time, or to reach outside themselves."""

from __future__ import annotations

import io
import random
import re
import struct
import zipfile
from collections.abc import Callable, Mapping

from tests.forms import (
    ODS_NAMESPACES,
    as_ods,
    blank_form,
    edited,
    filled_form,
    packed_ods,
    part_of,
    with_part,
)

PIERS = part_of("Piers")
_MAIN = b'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'


def noise(size: int) -> bytes:
    """Letters that pack badly, so that the file is not refused for its ratio alone."""
    return random.Random(1).randbytes(size // 2 + 1).hex().encode()[:size]


def added(content: bytes, parts: Mapping[str, bytes]) -> bytes:
    """The workbook with more parts."""
    packed = io.BytesIO(content)
    with zipfile.ZipFile(packed, "a", zipfile.ZIP_DEFLATED) as package:
        for name, part in parts.items():
            package.writestr(name, part)
    return packed.getvalue()


def below_the_rows(xml: bytes, content: bytes | None = None) -> bytes:
    """A form with more rows, or whatever it is, at the end of the rows of Piers."""
    return with_part(
        blank_form() if content is None else content,
        PIERS,
        lambda part: part.replace(b"</sheetData>", xml + b"</sheetData>"),
    )


def ods(tables: str) -> bytes:
    """An .ods file with these tables."""
    return packed_ods(
        f"<office:document-content {ODS_NAMESPACES}><office:body><office:spreadsheet>{tables}"
        "</office:spreadsheet></office:body></office:document-content>"
    )


def table(rows: str, name: str = "Piers") -> str:
    """A sheet of an .ods file."""
    return f'<table:table table:name="{name}">{rows}</table:table>'


def repeated(rows: int, columns: int, text: str = "x") -> str:
    """One cell of an .ods file that stands for many."""
    return (
        f'<table:table-row table:number-rows-repeated="{rows}"><table:table-cell '
        f'table:number-columns-repeated="{columns}" office:value-type="string">'
        f"<text:p>{text}</text:p></table:table-cell></table:table-row>"
    )


def lying_about_its_size() -> bytes:
    """A part of 300 MB that is listed as one of 1000 bytes."""
    bomb = added(b"", {"xl/workbook.xml": b" " * 300_000_000})
    return bomb.replace(struct.pack("<L", 300_000_000), struct.pack("<L", 1000))


def one_text_in_every_cell(text: bytes, counts: bytes = b"") -> bytes:
    """Every text on Piers is the same shared one."""
    sharing = with_part(
        filled_form(),
        PIERS,
        lambda part: re.sub(rb' t="inlineStr">.*?</c>', b' t="s"><v>0</v></c>', part),
    )
    shared = b"<sst " + _MAIN + counts + b"><si><t>" + text + b"</t></si></sst>"
    return added(sharing, {"xl/sharedStrings.xml": shared})


def lying_counts() -> bytes:
    """A form in which every count says four thousand million."""
    with zipfile.ZipFile(io.BytesIO(filled_form())) as package:
        parts = {name: package.read(name) for name in package.namelist()}
    lie = b' count="4294967295" uniqueCount="4294967295"'
    parts["xl/sharedStrings.xml"] = b"<sst " + _MAIN + lie + b"></sst>"
    for name in ("xl/styles.xml", PIERS):
        counted = re.sub(rb' count="[0-9]+"', b' count="4294967295"', parts[name])
        parts[name] = re.sub(rb"<dimension[^>]*>", b'<dimension ref="A1:XFD1048576"/>', counted)
    return added(b"", parts)


def _many_cells() -> bytes:
    rng = random.Random(1)
    row = b'<row r="%d"><c r="A%d"><v>%d</v></c></row>'
    return below_the_rows(
        b"".join(row % (n % 9000 + 70, n % 9000 + 70, rng.randrange(10**9)) for n in range(160_000))
    )


def _merged(areas: bytes) -> bytes:
    def merge(part: bytes) -> bytes:
        plain = re.sub(rb"<mergeCells.*?</mergeCells>", b"", part)
        merged = b"</sheetData><mergeCells>" + areas + b"</mergeCells>"
        return plain.replace(b"</sheetData>", merged)

    return with_part(filled_form(), PIERS, merge)


def _many_areas(count: int) -> bytes:
    rng = random.Random(1)
    area = b'<mergeCell ref="B6:%s%d"/>'
    letters = b"CDEFGHIJKLMNOPQRSTUVWXYZ"
    return b"".join(
        area % (letters[(n := rng.randrange(24)) : n + 1], rng.randrange(7, 9999))
        for _ in range(count)
    )


def _far_corners() -> bytes:
    def add(book: object) -> None:
        for number in range(60):
            sheet = book.create_sheet(f"Extra {number}")
            sheet["A1"], sheet["DZ9999"] = " ", "x"

    return edited(blank_form(), add)


_TOO_MANY = "it has more cells than a form can"
_TOO_FAR = "has cells below row 9,999 or right of DZ"
_TOO_MUCH_TEXT = "its cells hold more text than a form can"
_ENTITIES = (
    b'<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa">'
    + b"".join(
        b'<!ENTITY %c "%s">' % (n, b"&%c;" % (n - 1) * 10) for n in range(ord("b"), ord("k"))
    )
    + b"]>"
)

# Each with the message that refuses it.
REFUSED: Mapping[str, tuple[Callable[[], bytes], str]] = {
    "zip bomb": (
        lambda: added(b"", {"xl/workbook.xml": b" " * (64 * 2**20 + 1)}),
        "unpacked it would be 64 MB",
    ),
    "small zip bomb": (
        lambda: added(b"", {"xl/workbook.xml": b" " * 20_000_000}),
        "unpacked it would be 19 MB",
    ),
    "zip bomb in an .ods": (
        lambda: added(b"", {"content.xml": b" " * 20_000_000}),
        "unpacked it would be 19 MB",
    ),
    "part that lies about its size": (lying_about_its_size, "damaged or cut short"),
    "thousands of parts": (
        lambda: added(blank_form(), {f"xl/media/{n}.png": b"" for n in range(2001)}),
        "too many parts",
    ),
    "sheet of 18 MB": (
        lambda: below_the_rows(b"<!--" + noise(18 * 2**20) + b"-->"),
        "its sheets are larger than 16 MB",
    ),
    "cells by the hundred thousand": (_many_cells, _TOO_MANY),
    "cell in the far corner": (
        lambda: below_the_rows(b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>'),
        _TOO_FAR,
    ),
    "cell in the far corner, with a prefix": (
        lambda: below_the_rows(
            b'<row r="9"><x:c xmlns:x="a" r="XFD1048576"><x:v>1</x:v></x:c></row>'
        ),
        _TOO_FAR,
    ),
    "one long text in every cell": (
        lambda: one_text_in_every_cell(noise(1_600_000)),
        _TOO_MUCH_TEXT,
    ),
    "merged cells by the hundred thousand": (
        lambda: _merged(_many_areas(100_000)),
        "more merged cells than a form can",
    ),
    "entities": (
        lambda: with_part(blank_form(), PIERS, lambda xml: _ENTITIES + xml),
        "declares entities",
    ),
    "entities in an .ods": (
        lambda: packed_ods(_ENTITIES.decode() + "<x>&j;</x>"),
        "declares entities",
    ),
    "a row of an .ods that stands for a million": (
        lambda: ods(table(repeated(1_048_576, 1))),
        _TOO_MANY,
    ),
    "a cell of an .ods that stands for a row": (lambda: ods(table(repeated(1, 16_384))), _TOO_FAR),
    "a cell of an .ods that stands for a sheet": (
        lambda: ods(table(repeated(9_999, 130))),
        _TOO_MANY,
    ),
    "far cells on many sheets of an .ods": (
        lambda: ods(
            "".join(
                table(
                    '<table:table-row table:number-rows-repeated="9998"/><table:table-row>'
                    '<table:table-cell table:number-columns-repeated="129"/>'
                    "<table:table-cell><text:p>x</text:p></table:table-cell></table:table-row>",
                    f"Extra {n}",
                )
                for n in range(60)
            )
        ),
        _TOO_MANY,
    ),
    "a long text in every cell of an .ods": (
        lambda: ods(table(repeated(200, 130, noise(32_000).decode()))),
        _TOO_MUCH_TEXT,
    ),
    "repeats that are no number": (
        lambda: ods(table(repeated(-5, 1))),
        "number-rows-repeated is '-5'",
    ),
    "repeats beyond all numbers": (lambda: ods(table(repeated(10**4000, 1))), "damaged"),
    "elements within elements": (
        lambda: added(
            ods(table("<table:table-row-group>" * 50_000 + "</table:table-row-group>" * 50_000)),
            {"a": noise(2**20)},
        ),
        "damaged",
    ),
    "paragraphs within paragraphs": (
        lambda: added(
            ods(
                table(
                    "<table:table-row><table:table-cell><text:p>"
                    + "<text:span>" * 50_000
                    + "</text:span>" * 50_000
                    + "</text:p></table:table-cell></table:table-row>"
                )
            ),
            {"a": noise(2**20)},
        ),
        "damaged",
    ),
    "tags by the million": (
        lambda: added(b"", {"a": noise(2**20), "content.xml": b"<a/>" * 4_000_000}),
        _TOO_MANY,
    ),
    "attributes by the million": (
        lambda: added(
            b"",
            {
                "a": noise(2**20),
                "content.xml": b"<a " + b" ".join(b'a%d=""' % n for n in range(1_200_000)) + b"/>",
            },
        ),
        _TOO_MANY,
    ),
}

# Each is read as if the thing were not there.
HARMLESS: Mapping[str, Callable[[], bytes]] = {
    "macros": lambda: added(filled_form(), {"xl/vbaProject.bin": noise(10**6)}),
    "a zip in the zip": lambda: added(
        filled_form(), {"xl/embeddings/bomb.xlsx": added(b"", {"a": b" " * 10**7})}
    ),
    "embedded objects": lambda: added(
        filled_form(),
        {"xl/embeddings/oleObject1.bin": b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + noise(10**6)},
    ),
    "external links": lambda: added(
        filled_form(),
        {
            "xl/externalLinks/externalLink1.xml": b'<externalLink href="file:///etc/passwd"/>',
            "xl/externalLinks/_rels/externalLink1.xml.rels": (
                b'<Relationships><Relationship Id="rId1" TargetMode="External" '
                b'Target="file:///etc/passwd"/></Relationships>'
            ),
            "xl/connections.xml": b'<connections><connection url="http://127.0.0.1:9/"/>'
            b"</connections>",
        },
    ),
    "names that climb out": lambda: added(
        filled_form(),
        dict.fromkeys(("../../out", "/tmp/out", "C:\\out", "xl/../../out", "\\\\x\\y"), b"out"),
    ),
    "counts that lie": lying_counts,
    "other types of content": lambda: with_part(
        filled_form(),
        "[Content_Types].xml",
        lambda part: part.replace(b"spreadsheetml.worksheet+xml", b"wordprocessingml.styles+xml"),
    ),
    "an .ods with scripts and objects": lambda: added(
        as_ods(filled_form()),
        {
            "Basic/Standard/Module1.xml": b"<script>Shell</script>",
            "Object 1/content.xml": b"<x/>",
            "../../out": b"out",
        },
    ),
}

# Whatever comes of them, it comes soon and in little memory.
SETTLED: Mapping[str, Callable[[], bytes]] = {
    "merged cells that overlap": lambda: _merged(_many_areas(1999)),
    "the whole sheet merged": lambda: _merged(b'<mergeCell ref="A1:XFD1048576"/>'),
    "far cells on sixty sheets": _far_corners,
    "comments without end": lambda: added(
        filled_form(), {"xl/comments1.xml": b"<comment authorId='1'>" * 500_000 + noise(10**6)}
    ),
    "formulas without end": lambda: below_the_rows(
        b'<row r="70">' + b'<c r="B70"><f>' * 90_000 + noise(10**5) + b"</row>"
    ),
    "blanks without end": lambda: below_the_rows(
        b'<row r="70"><c r="B70">' + b" " * 4_000_000 + b"</c></row><!--" + noise(10**6) + b"-->"
    ),
    "styles without end": lambda: with_part(
        filled_form(),
        "xl/styles.xml",
        lambda part: part.replace(
            b"</cellXfs>",
            b'<xf numFmtId="0"/>' * 500_000 + b"</cellXfs><!--" + noise(10**6) + b"-->",
        ),
    ),
    "sheets without end": lambda: with_part(
        filled_form(),
        "xl/workbook.xml",
        lambda part: part.replace(
            b"</sheets>",
            b"".join(
                b'<sheet name="s%d" sheetId="%d" r:id="rId1"/>' % (n, n) for n in range(99_999)
            )
            + b"</sheets>",
        ),
    ),
    "two hundred rows of the longest texts": lambda: ods(
        table(
            "<table:table-row><table:table-cell><text:p>Pier</text:p></table:table-cell>"
            "<table:table-cell><text:p>Pit depth</text:p></table:table-cell></table:table-row>"
            + repeated(200, 2, "w" * 32_000)
        )
        + table(
            "<table:table-row><table:table-cell><text:p>pier_survey_form</text:p>"
            '</table:table-cell><table:table-cell office:value-type="float" office:value="2"/>'
            "</table:table-row>",
            "Start",
        )
    ),
}
