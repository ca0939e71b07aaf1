"""Faults of a workbook file by the open standard, ECMA-376 (ISO/IEC 29500), clause by clause.

These are the rules that a schema can't state: what must exist, be there once, be in range or not
overlap. A schema's own rules (order and names of elements and attributes) are another check.
Clauses are those of Part 1 where not said; Part 2 is the packaging (OPC). Lengths that the
standard leaves open are those that the widest-spread program can hold; each is marked so.
"""

from __future__ import annotations

import io
import posixpath
import re
import zipfile
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, pairwise
from xml.etree import ElementTree as ET

from openpyxl.formula import Tokenizer
from openpyxl.utils import FORMULAE, range_boundaries

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
OFFICE = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
RELATIONS = "{http://schemas.openxmlformats.org/package/2006/relationships}"
TYPES = "{http://schemas.openxmlformats.org/package/2006/content-types}"
PLACED = "{http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing}"
DRAWN = "{http://schemas.openxmlformats.org/drawingml/2006/main}"
_SHEET = "application/vnd.openxmlformats-officedocument.spreadsheetml."
# Part 1, 12.3: the content type of a part, by the last word of the relationship that leads to it.
_CONTENT = {
    "officeDocument": _SHEET + "sheet.main+xml",
    "worksheet": _SHEET + "worksheet+xml",
    "styles": _SHEET + "styles+xml",
    "sharedStrings": _SHEET + "sharedStrings+xml",
    "comments": _SHEET + "comments+xml",
    "theme": "application/vnd.openxmlformats-officedocument.theme+xml",
    "drawing": "application/vnd.openxmlformats-officedocument.drawing+xml",
    "vmlDrawing": "application/vnd.openxmlformats-officedocument.vmlDrawing",
}
_PICTURES = {"image/png": b"\x89PNG\r\n", "image/jpeg": b"\xff\xd8\xff"}
_ROWS, _COLUMNS = 1_048_576, 16_384  # what a sheet of the widest-spread program has
_LONGEST_TEXT, _LONGEST_HEADER, _LONGEST_FORMULA = 32_767, 255, 8_192  # likewise
_LONGEST_PROMPT, _LONGEST_PROMPT_TITLE, _LONGEST_LIST = 255, 32, 255  # likewise
_LONGEST_SHEET_NAME, _TALLEST, _WIDEST = 31, 409.5, 255.0  # likewise
_ADDRESS = re.compile(r"\$?([A-Z]{1,3})\$?([1-9]\d*)")
_DEFINED = re.compile(r"[A-Za-z_\\][\w.\\]*")
_QUOTED_SHEET = re.compile(r"'((?:[^']|'')+)'!|([A-Za-z_][\w.]*)!")
# A comparison, alone in its brackets, compared with a number: programs differ in what is greater.
_TRUTH_AND_NUMBER = re.compile(r"(?<![-+*/&\w])\([^()]*[=<>][^()]*\)[=<>]+\d")

Box = tuple[int, int, int, int]  # first column, first row, last column, last row


@dataclass(frozen=True)
class Sheet:
    """A sheet of the workbook: its name, whether it is shown, its part."""

    name: str
    state: str
    part: str
    root: ET.Element

    def all(self, path: str) -> list[ET.Element]:
        """Elements by their names in the main namespace, such as ``cols/col``."""
        return self.root.findall(_in_main(path))

    def one(self, path: str) -> ET.Element | None:
        """The first of them."""
        return self.root.find(_in_main(path))


class Package:
    """The parts of a workbook file."""

    def __init__(self, content: bytes) -> None:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            self.names = packed.namelist()
            self.parts = {f"/{name}": packed.read(name) for name in self.names}

    def xml(self, part: str) -> ET.Element:
        """The root element of a part."""
        return ET.fromstring(self.parts[part])

    @cached_property
    def relations(self) -> dict[str, dict[str, tuple[str, str]]]:
        """Type and target of each relationship, by its source part and its identifier."""
        return {
            _source(name): {
                one.attrib["Id"]: (one.attrib["Type"].rsplit("/", 1)[-1], _target(name, one))
                for one in self.xml(name).iter(RELATIONS + "Relationship")
            }
            for name in self.parts
            if name.endswith(".rels")
        }

    def content_type(self, part: str) -> str | None:
        """The declared content type of a part."""
        types = self.xml("/[Content_Types].xml")
        for one in types.iter(TYPES + "Override"):
            if one.attrib["PartName"] == part:
                return one.attrib["ContentType"]
        for one in types.iter(TYPES + "Default"):
            if part.lower().endswith("." + one.attrib["Extension"].lower()):
                return one.attrib["ContentType"]
        return None

    @cached_property
    def book_part(self) -> str:
        """The part with the workbook."""
        return next(t for kind, t in self.relations["/"].values() if kind == "officeDocument")

    @cached_property
    def book(self) -> ET.Element:
        """The workbook itself."""
        return self.xml(self.book_part)

    @cached_property
    def sheets(self) -> list[Sheet]:
        """The sheets, in order."""
        leads = self.relations[self.book_part]
        found = []
        for one in self.book.iter(MAIN + "sheet"):
            part = leads[one.attrib[OFFICE + "id"]][1]
            state = one.get("state", "visible")
            found.append(Sheet(one.attrib["name"], state, part, self.xml(part)))
        return found

    @cached_property
    def styles(self) -> ET.Element:
        """The styles of the workbook."""
        leads = self.relations[self.book_part].values()
        return self.xml(next(target for kind, target in leads if kind == "styles"))

    def count(self, style: str) -> int:
        """How many styles of a sort there are, such as ``cellXfs``."""
        found = self.styles.find(MAIN + style)
        return 0 if found is None else len(found)


Faults = Iterator[str]
CHECKS: dict[str, Callable[[Package], Faults]] = {}


def _check(check: Callable[[Package], Faults]) -> Callable[[Package], Faults]:
    CHECKS[check.__name__.strip("_").replace("_", " ")] = check
    return check


def faults(content: bytes) -> list[str]:
    """Every fault of a workbook file, each after the name of its check.

    Where parts are missing or mixed up, that alone is told.
    """
    package, found = Package(content), []
    for name, check in CHECKS.items():
        found += [f"{name}: {fault}" for fault in check(package)]
        if found and name == "relationships":
            break
    return found


@_check
def _part_names(package: Package) -> Faults:
    """Part 2, part names: no two that differ in small and capital letters alone."""
    yield from _twice("part", (name.lower() for name in package.names))
    for name in package.names:
        if name.startswith("/") or name.endswith("/") or "\\" in name or ".." in name:
            yield f"{name} is no name of a part"


@_check
def _content_types(package: Package) -> Faults:
    """Part 2, content types: one for every part, none for others; 12.3: the right one."""
    stream = "/[Content_Types].xml"
    for part in package.parts:
        if part != stream and package.content_type(part) is None:
            yield f"{part} has none"
    overridden = [o.attrib["PartName"] for o in package.xml(stream).iter(TYPES + "Override")]
    yield from _twice("override for", overridden)
    yield from (f"{part} does not exist" for part in overridden if part not in package.parts)
    for leads in package.relations.values():
        for kind, target in leads.values():
            read, wanted = package.content_type(target), _CONTENT.get(kind)
            if wanted and read != wanted:
                yield f"{target} is led to as {kind} and declared as {read}"


@_check
def _relationships(package: Package) -> Faults:
    """Part 2, relationships: identifiers are unique, targets exist, every part is led to."""
    reached = {"/[Content_Types].xml"}
    for source, leads in package.relations.items():
        if source != "/" and source not in package.parts:
            yield f"{source} does not exist and has relationships"
        rels = package.xml(_rels(source))
        yield from _twice(f"{source}: identifier", (one.attrib["Id"] for one in rels))
        reached.add(_rels(source))
        for one, (kind, target) in zip(rels, leads.values(), strict=False):
            if one.get("TargetMode") == "External":
                yield f"{source}: {kind} leads out of the file to {one.attrib['Target']}"
            elif target not in package.parts:
                yield f"{source}: {kind} leads to {target}, which does not exist"
            reached.add(target)
    yield from (f"nothing leads to {part}" for part in package.parts if part not in reached)
    for part, content in package.parts.items():
        if part.endswith(".xml"):
            used = re.findall(rb'\br:(?:id|embed|link)="([^"]*)"', content)
            known = package.relations.get(part, {})
            yield from (f"{part}: no {u.decode()}" for u in used if u.decode() not in known)


@_check
def _sheets(package: Package) -> Faults:
    """18.2.19, 18.2.20: names and identifiers are unique; one sheet at least is shown."""
    elements = list(package.book.iter(MAIN + "sheet"))
    yield from _twice("name", (sheet.name.casefold() for sheet in package.sheets))
    yield from _twice("number", (one.attrib["sheetId"] for one in elements))
    yield from _twice("part", (sheet.part for sheet in package.sheets))
    for sheet in package.sheets:
        if not 1 <= len(sheet.name) <= _LONGEST_SHEET_NAME or re.search(
            r"[\[\]:*?/\\]", sheet.name
        ):
            yield f"'{sheet.name}' is no name of a sheet"
        if sheet.name[0] == "'" or sheet.name[-1] == "'":
            yield f"{sheet.name} begins or ends with an apostrophe"
    view = package.book.find(_in_main("bookViews/workbookView"))
    active = 0 if view is None else int(view.get("activeTab", "0"))
    if not (active < len(package.sheets) and package.sheets[active].state == "visible"):
        yield f"sheet {active}, which is active, is not shown"


@_check
def _defined_names(package: Package) -> Faults:
    """18.2.5: unique in their scope, no address, and of sheets that exist."""
    found = list(package.book.iter(MAIN + "definedName"))
    yield from _twice(
        "name", (f"{o.attrib['name'].lower()} {o.get('localSheetId')}" for o in found)
    )
    for one in found:
        name = one.attrib["name"]
        plain = name.removeprefix("_xlnm.")
        if not _DEFINED.fullmatch(plain) or _ADDRESS.fullmatch(plain.upper()) or len(name) > 255:
            yield f"'{name}' is no name"
        scope = one.get("localSheetId")
        if scope is not None and int(scope) >= len(package.sheets):
            yield f"{name} is of sheet {scope}, which does not exist"
        yield from (f"{name}: {fault}" for fault in _formula_faults(package, one.text or ""))


@_check
def _cells(package: Package) -> Faults:
    """18.3.1.4, 18.3.1.73, 18.3.1.80: rows and cells rise; styles and texts exist."""
    styles, texts = package.count("cellXfs"), _shared_texts(package)
    for sheet in package.sheets:
        numbers = [int(row.attrib["r"]) for row in sheet.all("sheetData/row")]
        yield from (f"{sheet.name}: row {b} after row {a}" for a, b in pairwise(numbers) if a >= b)
        for row in sheet.all("sheetData/row"):
            number, last = int(row.attrib["r"]), 0
            if number > _ROWS or float(row.get("ht", "0")) > _TALLEST:
                yield f"{sheet.name}: row {number} is too far down or too tall"
            for cell in row.findall(MAIN + "c"):
                where = f"{sheet.name}!{cell.attrib['r']}"
                column, of_row, *_rest = range_boundaries(cell.attrib["r"])
                if of_row != number or column <= last or column > _COLUMNS:
                    yield f"{where} is out of order in row {number}"
                last = column
                yield from (f"{where} {fault}" for fault in _cell_faults(cell, styles, texts))


def _cell_faults(cell: ET.Element, styles: int, texts: int) -> Faults:
    """18.18.11: the value is what the type of the cell says."""
    if int(cell.get("s", "0")) >= styles:
        yield f"has style {cell.get('s')} of {styles}"
    value, sort = cell.findtext(MAIN + "v"), cell.get("t", "n")
    text = "".join(one.text or "" for one in cell.iter(MAIN + "t"))
    if len(text) > _LONGEST_TEXT or re.search(r"[\x00-\x08\x0b\x0c\x0e-\x1f]", text):
        yield "has a text that a cell can't hold"
    for one in cell.iter(MAIN + "t"):
        kept = one.get("{http://www.w3.org/XML/1998/namespace}space") == "preserve"
        if one.text and one.text != one.text.strip() and not kept:
            yield "loses its blanks"
    if sort == "s" and not (value and value.isdigit() and int(value) < texts):
        yield f"has shared text {value} of {texts}"
    if sort == "b" and value not in ("0", "1", None):
        yield f"is {value}, neither true nor false"
    if sort == "n" and value:
        try:
            float(value)
        except ValueError:
            yield f"is {value}, no number"


@_check
def _columns(package: Package) -> Faults:
    """18.3.1.13, 18.3.1.17: columns rise, don't overlap, and are of a width that can be shown."""
    for sheet in package.sheets:
        columns = sheet.all("cols/col")
        spans = [(int(one.attrib["min"]), int(one.attrib["max"])) for one in columns]
        for (_, end), (start, _) in pairwise([(0, 0), *spans]):
            if start <= end:
                yield f"{sheet.name}: column {start} after column {end}"
        for one, (start, end) in zip(columns, spans, strict=True):
            width = float(one.get("width", "9"))
            if not (start <= end <= _COLUMNS and 0 <= width <= _WIDEST):
                yield f"{sheet.name}: columns {start} to {end}, {width} wide"
            if int(one.get("style", "0")) >= package.count("cellXfs"):
                yield f"{sheet.name}: column {start} has style {one.get('style')}"


@_check
def _merged_cells(package: Package) -> Faults:
    """18.3.1.55: merged ranges don't overlap and have more than one cell."""
    for sheet in package.sheets:
        boxes = [range_boundaries(one.attrib["ref"]) for one in sheet.all("mergeCells/mergeCell")]
        yield from _overlaps(sheet.name, boxes)
        yield from (f"{sheet.name}: {box} is one cell" for box in boxes if box[:2] == box[2:])


@_check
def _data_validations(package: Package) -> Faults:
    """18.3.1.32, 18.3.1.33: ranges don't overlap, lists exist, messages can be shown."""
    for sheet in package.sheets:
        held = sheet.one("dataValidations")
        rules = sheet.all("dataValidations/dataValidation")
        if held is not None and (not rules or int(held.get("count", len(rules))) != len(rules)):
            yield f"{sheet.name}: {held.get('count')} are said to be there, {len(rules)} are"
        yield from _overlaps(sheet.name, [box for r in rules for box in _boxes(r.attrib["sqref"])])
        for rule in rules:
            where = f"{sheet.name}!{rule.attrib['sqref']}"
            for key in ("prompt", "error"):
                if len(rule.get(key, "")) > _LONGEST_PROMPT:
                    yield f"{where}: {key} of {len(rule.get(key, ''))} letters"
                if len(rule.get(f"{key}Title", "")) > _LONGEST_PROMPT_TITLE:
                    yield f"{where}: title of {key}, {len(rule.get(f'{key}Title', ''))} letters"
            first = rule.findtext(MAIN + "formula1")
            if rule.get("type", "none") != "none" and not first:
                yield f"{where}: a rule of type {rule.get('type')} without its formula"
            if first and len(first) > _LONGEST_LIST + 2 and first.startswith('"'):
                yield f"{where}: a written list of {len(first)} letters"
            for formula in rule:
                yield from (f"{where}: {f}" for f in _formula_faults(package, formula.text or ""))


@_check
def _conditional_formats(package: Package) -> Faults:
    """18.3.1.10, 18.3.1.18: formats exist, priorities are unique, formulas look at their sheet."""
    looks = package.count("dxfs")
    for sheet in package.sheets:
        rules = sheet.all("conditionalFormatting/cfRule")
        yield from _twice(f"{sheet.name}: priority", (rule.attrib["priority"] for rule in rules))
        for held in sheet.all("conditionalFormatting"):
            where = f"{sheet.name}!{held.attrib['sqref']}"
            if not _boxes(held.attrib["sqref"]) or not len(held):
                yield f"{where}: no cells, or no rule"
            for rule in held:
                if "dxfId" in rule.attrib and int(rule.attrib["dxfId"]) >= looks:
                    yield f"{where}: format {rule.attrib['dxfId']} of {looks}"
                formulas = [one.text or "" for one in rule.findall(MAIN + "formula")]
                wanted = {
                    "expression": 1,
                    "cellIs": 2 if "etween" in rule.get("operator", "") else 1,
                }
                if len(formulas) != wanted.get(rule.attrib["type"], len(formulas)):
                    yield f"{where}: {len(formulas)} formulas in a rule of type {rule.get('type')}"
                for formula in formulas:
                    yield from (f"{where}: {f}" for f in _formula_faults(package, formula))
                    # Older programs have no place in the file for another sheet.
                    if _QUOTED_SHEET.search(_without_texts(formula)):
                        yield f"{where}: the formula looks at another sheet: {formula}"


@_check
def _formulas(package: Package) -> Faults:
    """18.17: functions of the standard, closed brackets; 18.3.1.40: what is shared is there."""
    for sheet in package.sheets:
        shared: dict[str, Box] = {}
        for cell in sheet.root.iter(MAIN + "c"):
            formula, where = cell.find(MAIN + "f"), f"{sheet.name}!{cell.attrib['r']}"
            if formula is None:
                continue
            number = formula.get("si", "")
            if formula.get("t") == "shared" and "ref" in formula.attrib:
                shared[number] = range_boundaries(formula.attrib["ref"])
            if formula.get("t") == "shared" and not _within(cell, shared.get(number)):
                yield f"{where} shares formula {number}, which is not there"
            told = _formula_faults(package, formula.text or "")
            yield from (f"{where}: {fault}" for fault in told)


def _formula_faults(package: Package, formula: str) -> Faults:
    if len(formula) > _LONGEST_FORMULA or formula.startswith("="):
        yield f"too long, or begins with an equals sign: {formula[:60]}"
    if "#REF!" in formula:
        yield f"looks at cells that are gone: {formula[:60]}"
    bare = _without_texts(formula)
    if compared := _TRUTH_AND_NUMBER.search(bare):
        yield f"a truth value is compared with a number: {compared[0]}"
    names = {sheet.name.casefold() for sheet in package.sheets}
    for quoted, plain in _QUOTED_SHEET.findall(bare):
        if (quoted.replace("''", "'") or plain).casefold() not in names:
            yield f"there is no sheet '{quoted or plain}': {formula[:60]}"
    depth = 0
    for token in Tokenizer(f"={formula}").items:
        depth += {"OPEN": 1, "CLOSE": -1}.get(token.subtype, 0)
        if token.type == "FUNC" and token.subtype == "OPEN":
            function = token.value.rstrip("(").upper()
            if function not in FORMULAE:
                yield f"{function} is no function of the standard: {formula[:60]}"
    if depth:
        yield f"a bracket is open: {formula[:60]}"


def _without_texts(formula: str) -> str:
    return re.sub(r'"(?:[^"]|"")*"', '""', formula)


@_check
def _styles(package: Package) -> Faults:
    """18.8: every format points to a font, fill, border, number format and style that exist."""
    kinds = {"fontId": "fonts", "fillId": "fills", "borderId": "borders", "xfId": "cellStyleXfs"}
    formats = [one.attrib for one in package.styles.iter(MAIN + "numFmt")]
    own = {int(one["numFmtId"]) for one in formats}
    yield from _twice("number format", (one["numFmtId"] for one in formats))
    for held in package.styles:
        if int(held.get("count", len(held))) != len(held):
            yield f"{held.tag.removeprefix(MAIN)}: {held.get('count')} said, {len(held)} there"
    for place in ("cellStyleXfs", "cellXfs"):
        for number, one in enumerate(package.styles.findall(_in_main(f"{place}/xf"))):
            for key, kind in kinds.items():
                if int(one.get(key, "0")) >= package.count(kind):
                    yield f"{place} {number}: {key} {one.get(key)} of {package.count(kind)}"
            used = int(one.get("numFmtId", "0"))
            if used >= 164 and used not in own:  # 18.8.30: below, they are built in
                yield f"{place} {number}: number format {used} does not exist"
    named = package.styles.findall(_in_main("cellStyles/cellStyle"))
    yield from _twice("style", (one.attrib["name"].lower() for one in named))
    for one in named:
        if int(one.attrib["xfId"]) >= package.count("cellStyleXfs"):
            yield f"style {one.attrib['name']}: xfId {one.attrib['xfId']}"


@_check
def _views(package: Package) -> Faults:
    """18.3.1.66, 18.3.1.78: what is frozen agrees with the first cell that is not."""
    for sheet in package.sheets:
        view = sheet.one("sheetViews/sheetView")
        pane = None if view is None else view.find(MAIN + "pane")
        if view is None or pane is None:
            continue
        panes = {one.get("pane", "topLeft") for one in view.findall(MAIN + "selection")}
        if pane.get("activePane", "topLeft") not in panes:
            yield f"{sheet.name}: nothing is selected in the active pane"
        if pane.get("state") == "frozen":
            column, row, *_rest = range_boundaries(pane.attrib["topLeftCell"])
            split = int(float(pane.get("xSplit", "0"))), int(float(pane.get("ySplit", "0")))
            if (split[0] and column <= split[0]) or (split[1] and row <= split[1]):
                yield f"{sheet.name}: {split} frozen, next cell {pane.get('topLeftCell')}"


@_check
def _print_set_up(package: Package) -> Faults:
    """18.3.1.46, 18.3.1.63: headers can be held, codes are closed, pages are counted."""
    for sheet in package.sheets:
        for held in sheet.all("headerFooter"):
            for one in held:
                if len(one.text or "") > _LONGEST_HEADER:
                    yield f"{sheet.name}: {one.tag.removeprefix(MAIN)} of {len(one.text or '')}"
        for broken in ("rowBreaks", "colBreaks"):  # 18.3.1.74
            breaks = sheet.one(broken)
            if breaks is not None and int(breaks.get("count", len(breaks))) != len(breaks):
                yield f"{sheet.name}: {broken}"


@_check
def _comments(package: Package) -> Faults:
    """18.7.3, 18.7.6: one comment a cell, of an author who is listed, with a shape to show it."""
    for sheet in package.sheets:
        leads = package.relations.get(sheet.part, {}).values()
        for part in (target for kind, target in leads if kind == "comments"):
            told, authors = package.xml(part), list(package.xml(part).iter(MAIN + "author"))
            comments = list(told.iter(MAIN + "comment"))
            yield from _twice(f"{sheet.name}: comment at", (one.attrib["ref"] for one in comments))
            for one in comments:
                text = "".join(part.text or "" for part in one.iter(MAIN + "t"))
                if int(one.attrib["authorId"]) >= len(authors) or not text:
                    yield f"{sheet.name}!{one.attrib['ref']}: no author, or nothing said"
            shapes = sheet.one("legacyDrawing")
            drawn = package.relations.get(sheet.part, {})
            place = "" if shapes is None else drawn[shapes.attrib[OFFICE + "id"]][1]
            shown = package.parts.get(place, b"").count(b'ObjectType="Note"')
            if shown != len(comments):
                yield f"{sheet.name}: {len(comments)} comments, {shown} shapes"


@_check
def _pictures(package: Package) -> Faults:
    """20.5.2: a picture ends after it begins, on the sheet; Part 2: it is what it says it is."""
    for sheet in package.sheets:
        leads = package.relations.get(sheet.part, {}).values()
        for part in (target for kind, target in leads if kind == "drawing"):
            for anchor in package.xml(part):
                corners = [
                    tuple(int(end.findtext(PLACED + key, "-1")) for key in ("col", "row"))
                    for end in (anchor.find(PLACED + "from"), anchor.find(PLACED + "to"))
                    if end is not None
                ]
                inside = all(0 <= c < _COLUMNS and 0 <= r < _ROWS for c, r in corners)
                if not inside or corners != sorted(corners):
                    yield f"{sheet.name}: a picture from {corners[0]} to {corners[-1]}"
    for part, content in package.parts.items():
        said = package.content_type(part) or ""
        if said.startswith("image/") and not content.startswith(_PICTURES.get(said, b"?")):
            yield f"{part} is no {said}"


@_check
def _links(package: Package) -> Faults:
    """18.3.1.47: a link leads to a place of this workbook."""
    defined = {one.attrib["name"] for one in package.book.iter(MAIN + "definedName")}
    for sheet in package.sheets:
        for link in sheet.all("hyperlinks/hyperlink"):
            place = link.get("location", "")
            if place not in defined and not _QUOTED_SHEET.match(place):
                yield f"{sheet.name}!{link.attrib['ref']} leads nowhere"
            yield from (f"{sheet.name}: {fault}" for fault in _formula_faults(package, place))


def _in_main(path: str) -> str:
    return "/".join(MAIN + name for name in path.split("/"))


def _shared_texts(package: Package) -> int:
    leads = package.relations[package.book_part].values()
    part = next((target for kind, target in leads if kind == "sharedStrings"), None)
    return 0 if part is None else len(package.xml(part).findall(MAIN + "si"))


def _source(rels: str) -> str:
    folder, name = posixpath.split(rels)
    return posixpath.join(posixpath.dirname(folder), name.removesuffix(".rels"))


def _rels(source: str) -> str:
    folder, name = posixpath.split(source)
    return posixpath.join(folder, "_rels", f"{name}.rels")


def _target(rels: str, one: ET.Element) -> str:
    base = posixpath.dirname(_source(rels))
    return posixpath.normpath(posixpath.join(base, one.attrib["Target"]))


def _boxes(sqref: str) -> list[Box]:
    return [range_boundaries(part) for part in sqref.split()]


def _within(cell: ET.Element, box: Box | None) -> bool:
    column, row, *_rest = range_boundaries(cell.attrib["r"])
    return box is not None and box[0] <= column <= box[2] and box[1] <= row <= box[3]


def _overlaps(where: str, boxes: list[Box]) -> Faults:
    for a, b in combinations(boxes, 2):
        if a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]:
            yield f"{where}: {a} and {b} overlap"


def _twice(what: str, names: Iterator[str] | list[str]) -> Faults:
    yield from (f"{what} {name} is there {n} times" for name, n in Counter(names).items() if n > 1)
