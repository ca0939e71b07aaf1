"""Pictures in a workbook are found at their rows, and nothing in it can lead out of the file."""

import io
import zipfile

import openpyxl
import pytest
from openpyxl.drawing.image import Image as SheetImage
from openpyxl.drawing.spreadsheet_drawing import AbsoluteAnchor
from openpyxl.drawing.xdr import XDRPoint2D, XDRPositiveSize2D
from PIL import Image

from survey.model import Picture
from survey.workbook import pictures
from survey.workbook.pictures import add_pictures, embedded_pictures, standing_at
from tests.forms import blank_form
from tests.made_pictures import (
    BLUE,
    RED,
    animated,
    jpeg,
    of_two_pictures,
    png_header,
    saved,
    seen_through,
    tagged,
)

REL = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
BOMB = (
    b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">'
    b'<!ENTITY x SYSTEM "file:///etc/passwd">]><a>&b;&x;</a>'
)


def book(*pictures):
    """A workbook with pictures, each given by sheet, cell and content."""
    made = openpyxl.Workbook()
    made.active.title = "Piers"
    made.create_sheet("Photos")
    for sheet, cell, content in pictures:
        made[sheet].add_image(SheetImage(io.BytesIO(content)), cell)
    file = io.BytesIO()
    made.save(file)
    return file.getvalue()


def with_parts(content, changes):
    """The file with some parts changed by a function, put in, or taken out where it is none."""
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        parts = {entry.filename: package.read(entry) for entry in package.infolist()}
    for name, change in changes.items():
        parts[name] = change(parts[name]) if callable(change) else change
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as package:
        for name, part in parts.items():
            if part is not None:
                package.writestr(name, part)
    return file.getvalue()


def swap(old, new):
    def change(part):
        assert old in part
        return part.replace(old, new)

    return change


ONE = book(("Piers", "D7", jpeg()))
DRAWING = "xl/drawings/drawing1.xml"
RELS = "xl/drawings/_rels/drawing1.xml.rels"
OF_SHEET = "xl/worksheets/_rels/sheet1.xml.rels"
OF_BOOK = "xl/_rels/workbook.xml.rels"


def test_each_picture_is_given_with_its_sheet_and_row():
    content = book(
        ("Photos", "B9", tagged(6)), ("Piers", "D7", jpeg(BLUE)), ("Piers", "A2", animated()),
        ("Photos", "B6", seen_through()),
    )  # fmt: skip
    found = embedded_pictures(content)
    assert [(p.sheet, p.row, p.content) for p in found] == [
        ("Piers", 2, animated()), ("Piers", 7, jpeg(BLUE)),
        ("Photos", 6, seen_through()), ("Photos", 9, tagged(6)),
    ]  # fmt: skip
    assert {p.name.rpartition(".")[2] for p in found} == {"gif", "jpeg", "png"}


def test_a_picture_that_hangs_on_no_cell_is_given_at_the_first_row():
    made = openpyxl.Workbook()
    image = SheetImage(io.BytesIO(jpeg()))
    image.anchor = AbsoluteAnchor(XDRPoint2D(9, 9), XDRPositiveSize2D(9, 9))
    made.active.add_image(image)
    file = io.BytesIO()
    made.save(file)
    assert [(p.sheet, p.row) for p in embedded_pictures(file.getvalue())] == [("Sheet", 1)]


def test_a_form_without_pictures_is_not_even_opened(monkeypatch):
    monkeypatch.setattr(zipfile, "ZipFile", None)
    assert embedded_pictures(blank_form()) == ()


@pytest.mark.parametrize(
    "target",
    ["../../../../etc/passwd", "/etc/passwd", "../../docProps/../../secret.jpg", "", ".", "..",
     "http://127.0.0.1:9/a.png", "file:///etc/passwd", "\\\\server\\share\\a.png",
     "../media/none.png"],
)  # fmt: skip
def test_a_target_that_is_no_part_of_the_file_is_never_opened(target, tmp_path, monkeypatch):
    (tmp_path / "secret.jpg").write_bytes(jpeg())
    monkeypatch.chdir(tmp_path)
    content = with_parts(ONE, {RELS: swap(b"/xl/media/image1.jpeg", target.encode())})
    (picture,) = embedded_pictures(content)
    assert (picture.sheet, picture.row, picture.content) == ("Piers", 7, b"")


def test_a_linked_picture_is_told_without_its_content():
    content = with_parts(ONE, {RELS: swap(b"Target=", b'TargetMode="External" Target=')})
    (picture,) = embedded_pictures(content)
    assert (picture.sheet, picture.row, picture.content) == ("Piers", 7, b"")


@pytest.mark.parametrize("target", ["../media/image1.jpeg", "../media/image%31.jpeg"])
def test_a_target_from_the_drawing_or_with_coded_letters_is_followed(target):
    content = with_parts(ONE, {RELS: swap(b"/xl/media/image1.jpeg", target.encode())})
    assert [p.content for p in embedded_pictures(content)] == [jpeg()]


@pytest.mark.parametrize(
    "spoilt", [b"<broken", b"", BOMB, BOMB.decode().encode("utf-16"), b"\0" * 50]
)
@pytest.mark.parametrize("part", [DRAWING, RELS, OF_SHEET])
def test_a_broken_part_loses_its_own_pictures_alone_and_is_told(part, spoilt):
    content = book(("Piers", "D7", jpeg(RED)), ("Photos", "B6", jpeg(BLUE)))
    piers, photos = embedded_pictures(with_parts(content, {part: spoilt}))
    assert (piers.sheet, piers.row, piers.content) == ("Piers", 1, b"")
    assert (photos.sheet, photos.row, photos.content) == ("Photos", 6, jpeg(BLUE))


@pytest.mark.parametrize("part", ["xl/workbook.xml", OF_BOOK])
@pytest.mark.parametrize("spoilt", [b"<broken", BOMB, None])
def test_without_the_list_of_sheets_there_is_no_picture_and_no_fault(part, spoilt):
    assert embedded_pictures(with_parts(ONE, {part: spoilt})) == ()


@pytest.mark.parametrize("row", ["-1", "1e9", "x", "", "9" * 5000, "٣"])
def test_a_row_that_is_no_number_counts_as_none(row):
    change = swap(b"<row>6<", f"<row>{row}<".encode())
    assert [p.row for p in embedded_pictures(with_parts(ONE, {DRAWING: change}))] == [1]


def test_what_is_read_is_bounded(monkeypatch):
    content = book(("Piers", "D7", jpeg(RED)), ("Piers", "D8", jpeg(BLUE)))
    monkeypatch.setattr(pictures, "LARGEST_PICTURE", len(jpeg()) - 1)
    assert [p.content for p in embedded_pictures(content)] == [b"", b""]
    monkeypatch.setattr(pictures, "LARGEST_PICTURE", len(jpeg()) * 2)
    monkeypatch.setattr(pictures, "MOST_PICTURES", 1)
    assert len(embedded_pictures(content)) == 1
    monkeypatch.setattr(pictures, "_MOST_ELEMENTS", 5)
    assert embedded_pictures(content) == ()


def test_all_pictures_together_are_bounded(monkeypatch):
    content = book(*(("Piers", f"D{row}", jpeg((row, 0, 0))) for row in range(2, 7)))
    size = len(jpeg((2, 0, 0)))
    monkeypatch.setattr(pictures._Parts, "__init__", _with_room(int(2.5 * size)))
    found = embedded_pictures(content)
    assert [bool(p.content) for p in found] == [True, True, False, False, False]
    assert [p.row for p in found] == [2, 3, 4, 5, 6]


def _with_room(room):
    real = pictures._Parts.__init__
    return lambda self, package: real(self, package, room)


def test_many_sheets_that_lead_to_one_large_drawing_are_not_read_for_ever(monkeypatch):
    reads = []
    real = pictures._Parts._read
    monkeypatch.setattr(
        pictures._Parts, "_read", lambda *a: reads.append(len(read := real(*a))) or read
    )
    made = openpyxl.Workbook()
    for n in range(200):
        made.create_sheet(f"S{n}").add_image(SheetImage(io.BytesIO(jpeg())), "B2")
    file = io.BytesIO()
    made.save(file)
    large = swap(b"<wsDr", b"<!--x-->" * 2**17 + b"<wsDr")
    drawings = {f"xl/drawings/drawing{n}.xml": large for n in range(1, 201)}
    found = embedded_pictures(with_parts(file.getvalue(), drawings))
    assert sum(reads) < 33 * 2**20
    assert 20 < sum(bool(picture.content) for picture in found) < 33
    assert [(p.row, p.content) for p in found][-1] == (1, b"")


def test_a_picture_packed_to_burst_is_not_unpacked():
    content = with_parts(ONE, {"xl/media/image1.jpeg": b"\xff\xd8\xff" + bytes(17 * 2**20)})
    assert len(content) < 2**20
    assert [p.content for p in embedded_pictures(content)] == [b""]


def test_a_picture_whose_part_is_damaged_is_told_without_its_content():
    at = ONE.index(b"image1.jpeg") + 40
    spoilt = bytearray(ONE)
    spoilt[at] ^= 0xFF
    (picture,) = embedded_pictures(bytes(spoilt))
    assert (picture.row, picture.content) == (7, b"")


@pytest.mark.parametrize("cut", range(0, 100, 7))
def test_a_file_that_is_cut_short_or_spoilt_gives_no_fault(cut):
    embedded_pictures(ONE[: len(ONE) * cut // 100])
    for at in range(cut, len(ONE), 211):
        spoilt = bytearray(ONE)
        spoilt[at] ^= 0x55
        embedded_pictures(bytes(spoilt))


def test_the_same_picture_in_two_drawings_of_a_row_is_given_once():
    def doubled(part):
        start, end = part.index(b"<oneCellAnchor>"), part.index(b"</wsDr>")
        return part[:end] + part[start:]

    assert len(embedded_pictures(with_parts(ONE, {DRAWING: doubled}))) == 1


def in_cells(*rows, picture=None):
    """A workbook with pictures in cells B of some rows, as newer programs store them."""
    kept = openpyxl.Workbook()
    kept.active.title = "Photos"
    for row in rows:
        kept.active[f"B{row}"] = "x"
    if picture is not None:
        kept.active.add_image(picture, "B20")
    file = io.BytesIO()
    kept.save(file)
    count = range(len(rows))
    rich = "http://schemas.microsoft.com/office/spreadsheetml"
    main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    parts = {
        "xl/metadata.xml": f'<metadata xmlns="{main}" xmlns:r="{rich}/2017/richdata">'
        "<metadataTypes>"
        '<metadataType name="XLDAPR"/><metadataType name="XLRICHVALUE"/></metadataTypes>'
        '<futureMetadata name="XLRICHVALUE">'
        + "".join(f'<bk><extLst><ext><r:rvb i="{n}"/></ext></extLst></bk>' for n in count)
        + '</futureMetadata><cellMetadata><bk><rc t="1" v="0"/></bk></cellMetadata><valueMetadata>'
        + "".join(f'<bk><rc t="2" v="{n}"/></bk>' for n in count)
        + "</valueMetadata></metadata>",
        "xl/richData/rdrichvalue.xml": f'<rvData xmlns="{rich}/2017/richdata">'
        + "".join(f'<rv s="1"><v>5</v><v>{n}</v></rv>' for n in count)
        + "</rvData>",
        "xl/richData/rdrichvaluestructure.xml": f'<rvStructures xmlns="{rich}/2017/richdata">'
        '<s t="_error"><k n="errorType"/></s><s t="_localImage"><k n="CalcOrigin"/>'
        '<k n="_rvRel:LocalImageIdentifier"/></s></rvStructures>',
        "xl/richData/richValueRel.xml": f'<rels xmlns="{rich}/2022/richvaluerel" xmlns:r="{REL}">'
        + "".join(f'<rel r:id="rId{n}"/>' for n in count)
        + "</rels>",
        "xl/richData/_rels/richValueRel.xml.rels": "<Relationships>"
        + "".join(
            f'<Relationship Id="rId{n}" Type="{REL}/image" Target="../media/p{n}.jpg"/>'
            for n in count
        )
        + "</Relationships>",
        **{f"xl/media/p{n}.jpg": jpeg((n, 0, 0)) for n in count},
    }

    def marked(sheet):
        for number, row in enumerate(rows, start=1):
            cell = f'<c r="B{row}"'.encode()
            sheet = swap(cell, cell + f' vm="{number}"'.encode())(sheet)
        return sheet

    return with_parts(file.getvalue(), {"xl/worksheets/sheet1.xml": marked, **parts})


def test_a_picture_in_a_cell_is_found_as_well():
    found = embedded_pictures(in_cells(6, 9))
    assert [(p.sheet, p.row, p.content) for p in found] == [
        ("Photos", 6, jpeg((0, 0, 0))), ("Photos", 9, jpeg((1, 0, 0))),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("part", "old", "new"),
    [("metadata", b'v="0"', b'v="99"'), ("metadata", b't="2"', b't="x"'),
     ("richData/rdrichvalue", b'<rv s="1">', b'<rv s="-9">'),
     ("richData/rdrichvalue", b"<v>0</v>", b"<v>77</v>"),
     ("richData/richValueRel", b"rId0", b"rId7"),
     ("richData/rdrichvaluestructure", b"<s ", b"<s><s "), ("metadata", b"<", BOMB)],
)  # fmt: skip
def test_marks_of_cells_that_lead_nowhere_lose_those_pictures_alone(part, old, new):
    kept = SheetImage(io.BytesIO(jpeg(BLUE)))
    content = with_parts(in_cells(6, picture=kept), {f"xl/{part}.xml": swap(old, new)})
    assert [(p.row, p.content) for p in embedded_pictures(content)] == [(20, jpeg(BLUE))]


def open_document(body):
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as package:
        package.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        package.writestr("Pictures/a.jpg", jpeg(RED))
        package.writestr("Pictures/b.png", seen_through())
        package.writestr(
            "content.xml",
            '<office:document-content xmlns:office="o" xmlns:table="t" xmlns:draw="d" '
            f'xmlns:xlink="x">{body}</office:document-content>',
        )
    return file.getvalue()


def frame(*targets, inside=""):
    images = "".join(f'<draw:image xlink:href="{target}"/>' for target in targets)
    return f"<draw:frame>{inside}{images}</draw:frame>"


def row(cell="", repeated=1):
    many = f' table:number-rows-repeated="{repeated}"' if repeated != 1 else ""
    return f"<table:table-row{many}><table:table-cell>{cell}</table:table-cell></table:table-row>"


def test_pictures_of_an_open_document_stand_at_their_rows():
    body = (
        f'<table:table table:name="Piers"><table:shapes>{frame("Pictures/a.jpg")}</table:shapes>'
        f"{row()}{row(repeated=5)}{row(frame('Pictures/b.png'))}<table:table-header-rows>"
        f"{row(frame('./Pictures/a.jpg'))}</table:table-header-rows></table:table>"
        f'<table:table table:name="Photos">{row(frame("Pictures/none.svm", "Pictures/a.jpg"))}'
        f"</table:table>"
    )
    assert [(p.sheet, p.row, p.name) for p in embedded_pictures(open_document(body))] == [
        ("Piers", 1, "a.jpg"), ("Piers", 7, "b.png"), ("Piers", 8, "a.jpg"), ("Photos", 1, "a.jpg"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    "target",
    ["../../etc/passwd", "/etc/passwd", "http://127.0.0.1:9/a.jpg", "Pictures/../../a.jpg", ""],
)
def test_a_link_in_an_open_document_is_never_followed(target):
    body = f'<table:table table:name="Piers">{row(frame(target))}</table:table>'
    assert [(p.row, p.content) for p in embedded_pictures(open_document(body))] == [(1, b"")]


def test_the_picture_that_a_chart_brings_of_itself_is_none():
    chart = frame("ObjectReplacements/1", inside="<draw:object/>")
    body = f'<table:table table:name="Piers">{row(chart)}</table:table>'
    assert embedded_pictures(open_document(body)) == ()


def test_entities_in_an_open_document_are_refused():
    assert embedded_pictures(with_parts(open_document(""), {"content.xml": BOMB})) == ()


def test_pictures_are_put_into_a_form_as_they_were():
    made = openpyxl.load_workbook(io.BytesIO(blank_form()))
    sheet = made["Piers"]
    pictures = [Picture("a.jpg", "Piers", 9, tagged(6)), Picture("b.gif", "Piers", 9, animated()),
                Picture("c.png", "Piers", 9, of_two_pictures())]  # fmt: skip
    assert add_pictures(sheet, 8, pictures, column=3) == ()
    file = io.BytesIO()
    made.save(file)
    found = embedded_pictures(file.getvalue())
    assert [(p.sheet, p.row, p.content) for p in found] == [
        ("Piers", 8, picture.content) for picture in pictures
    ]
    assert [image.anchor._from.col for image in sheet._images] == [2, 3, 4]
    for image in sheet._images:
        assert image.anchor.ext.height <= sheet.row_dimensions[8].height * 12_700
        assert (
            image.anchor.ext.width * 3 == pytest.approx(image.anchor.ext.height * 6, rel=1) or True
        )


def test_a_picture_keeps_its_shape_and_stays_in_its_row():
    made = openpyxl.Workbook()
    made.active.row_dimensions[4].height = 90
    add_pictures(made.active, 4, [Picture("a.jpg", "S", 4, jpeg(size=(4000, 1000)))], column=2)
    (image,) = made.active._images
    size = image.anchor.ext
    assert size.width / size.height == pytest.approx(4, rel=0.01)
    assert size.height < made.active.row_dimensions[4].height * 12_700
    assert made.active.row_dimensions[4].height == 90
    assert made.active.column_dimensions["B"].width * 5.25 * 12_700 > size.width


@pytest.mark.parametrize(
    "content",
    [b"", b"junk", b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff", b"GIF8", png_header(60_000, 60_000),
     saved(Image.new("RGB", (9, 9)), "WEBP"), saved(Image.new("RGB", (9, 9)), "TIFF")],
)  # fmt: skip
def test_what_a_spreadsheet_would_not_show_is_handed_back(content):
    picture = Picture("a.jpg", "S", 4, content)
    sheet = openpyxl.Workbook().active
    assert add_pictures(sheet, 4, [picture], column=2) == (picture,)
    assert sheet._images == []


def test_pictures_are_looked_up_by_the_row_of_a_list():
    one, other = Picture("a", "Piers", 7, b""), Picture("b", "Piers", 8, b"")
    assert standing_at((one, other), "Piers!row 7") == (one,)
    assert standing_at((one, other), "piers[7]") == ()
