"""The building in a section: wall, footing, bracket and pier tube."""

from __future__ import annotations

from collections.abc import Iterator

from survey.drawings.section_cut import BROKEN_ABOVE_IN, MOST_ABOVE_IN, OPEN_IN
from survey.drawings.section_paper import broken, hatch
from survey.drawings.section_sheet import Sheet
from survey.drawings.shapes import Path, Shape
from survey.vocabulary import NOT_KNOWN

_HATCH_MM, _PLATE_MM = 2.0, 0.8
_SPANNING = "with spanning tube"


def wall(sheet: Sheet) -> Iterator[Shape]:
    """The wall, as far up as there is room; only its face while its thickness is not known."""
    cut, paper = sheet.cut, sheet.cut.paper
    thickness, top, base = cut.length("wall thickness"), cut.wall_top, cut.footing_top
    material = cut.figures["wall material"]
    said = "wall: material not known" if material is NOT_KNOWN else f"wall: {material}"
    above = -BROKEN_ABOVE_IN if top is None else max(top, -MOST_ABOVE_IN)
    goes_on = top is None or top < -MOST_ABOVE_IN
    low = next((d for d in (base, cut.footing) if d is not None), 0.7 * (cut.depth or 0.0))
    back = -paper.inches(3.0) if thickness is None else -thickness
    if thickness is None:
        said += "; thickness not known"
        sheet.remarks.append("The thickness of the wall is not known: only its face is drawn.")
    else:
        sheet.above((-thickness, above), (0.0, above), f"wall {sheet.said('wall thickness')}")
    if thickness is not None and base is not None:
        corners = ((back, above), (0.0, above), (0.0, low), (back, low))
        yield paper.path("section-wall", *corners, closed=True)
        yield hatch(
            paper.at(back, above), paper.at(0.0, low), _HATCH_MM, "section-hatch", rising=False
        )
    else:
        yield paper.path("section-edge", (0.0, above), (0.0, min(0.0, low)))
        yield paper.path("section-open", (0.0, min(0.0, low)), (0.0, low))
        if thickness is not None:
            yield paper.path("section-open", (back, above), (back, low))
    if cut.figures["wall height"] is NOT_KNOWN:
        said += "; height not known"
    if goes_on:
        yield broken(paper.at(back, above), paper.at(0.0, above))
    sheet.left(said, (back / 2, above + 0.3 * (low - above)))


def footing(sheet: Sheet) -> Iterator[Shape]:
    """The footing; edges that are not known stay open."""
    cut, paper = sheet.cut, sheet.cut.paper
    kind, under, top = cut.figures["footing kind"], cut.footing, cut.footing_top
    said = f"footing: {kind}" if kind is not NOT_KNOWN else "footing: kind not known"
    if under is None:
        sheet.left(f"{said}; depth not known")
        sheet.remarks.append("How deep the footing lies is not known: it is not drawn.")
        return
    sheet.beside((0.0, 0.0), (0.0, under), f"footing depth {sheet.said('footing depth')}")
    if kind == "none found":
        sheet.left("no footing was found under the wall", (0.0, under))
        return
    near, far = cut.near_edge, cut.far_edge
    unknown = [
        name
        for name, value in (
            ("thickness", cut.figures["footing thickness"]),
            ("width", cut.figures["footing width"]),
            ("projection", cut.figures["footing projection"]),
        )
        if value is NOT_KNOWN
    ]
    if unknown:
        said += f"; {' and '.join(unknown)} not known"
        sheet.remarks.append(
            f"Not known of the footing: {', '.join(unknown)}. Dashes are open ends."
        )
    left = -OPEN_IN / 2 if far is None else far
    right = 0.0 if near is None else near
    sheet.left(said, (left + 0.15 * (right - left), under if top is None else (top + under) / 2))
    if near is not None and far is not None and top is not None:
        yield from _concrete(sheet, far, near, top, under)
    else:
        solid = "section-edge" if near is not None else "section-open"
        yield paper.path(solid, (right, under), (min(0.0, right), under))
        yield paper.path("section-open", (min(0.0, right), under), (left, under))
        if near is not None and top is not None:
            yield paper.path("section-edge", (near, top), (near, under))
    if top is not None:
        sheet.beside((left, top), (left, under), f"footing {sheet.said('footing thickness')}")
    if near is not None and near > 0 and cut.figures.outside:
        said = f"projection {sheet.said('footing projection')}"
        sheet.below((0.0, under), (near, under), said)
    if far is not None and near is not None:
        said = f"footing {sheet.said('footing width')} wide"
        sheet.below((far, under), (near, under), said)


def _concrete(sheet: Sheet, far: float, near: float, top: float, under: float) -> Iterator[Shape]:
    """The footing in section; what is cut away for the bracket in dashes."""
    paper = sheet.cut.paper
    cut_back = sheet.cut.cut_back and near > 0
    end = 0.0 if cut_back else near
    corners = ((far, top), (end, top), (end, under), (far, under))
    yield paper.path("section-footing", *corners, closed=True)
    yield hatch(paper.at(far, top), paper.at(end, under), _HATCH_MM, "section-hatch", rising=True)
    if cut_back:
        yield paper.path("section-away", (0.0, top), (near, top), (near, under), (0.0, under))


def bracket(sheet: Sheet) -> Iterator[Shape]:
    """The plate of the first seat that suits, under the face of the footing, and the tube."""
    cut, paper, seat = sheet.cut, sheet.cut.paper, sheet.cut.figures.seat
    if seat is None:
        sheet.remarks.append(
            "Which seat suits can't be told yet: no bracket is drawn."
            if cut.figures.seats_open
            else "No seat of the catalogue suits: no bracket is drawn."
        )
        return
    name, prompt = seat
    face, under = 0.0 if cut.cut_back else cut.near_edge, cut.footing
    plate = cut.length("bracket plate depth")
    if under is None or face is None or plate is None:
        sheet.left(f"seat that suits: {prompt}")
        sheet.remarks.append(
            "Depth of the bracket plate, or where the footing ends, is not known: no bracket is "
            "drawn."
        )
        return
    if name == _SPANNING:
        wide, deep = cut.length("spanning tube width"), cut.length("spanning tube depth")
        if wide is not None and deep is not None:
            corners = ((face - wide, under), (face, under), (face, under + deep),
                       (face - wide, under + deep))  # fmt: skip
            yield paper.path("section-tube", *corners, closed=True)
            under += deep
            sheet.remarks.append(
                "Where the spanning tube lies across the wall is not asked: it is drawn flush with "
                "the face."
            )
    (left, y), (right, _) = paper.at(face - plate, under), paper.at(face, under)
    outline = ((left, y), (right, y), (right, y + _PLATE_MM), (left, y + _PLATE_MM))
    yield Path(outline, "section-plate", closed=True)
    sheet.left(f"seat that suits: {prompt}", (face - 0.7 * plate, under))
    sheet.remarks.append("Of the bracket only the depth of its plate is to scale.")
    yield from _tube(sheet, face, plate, under)


def _tube(sheet: Sheet, face: float, plate: float, top: float) -> Iterator[Shape]:
    cut, paper = sheet.cut, sheet.cut.paper
    out, diameter = cut.length("bracket eccentricity"), cut.length("tube outside diameter")
    if out is None or diameter is None:
        sheet.remarks.append("Size or place of the pier tube is not known: it is not drawn.")
        return
    middle = face - plate / 2 + out
    back = middle - diameter / 2
    y, end = paper.y(top) + _PLATE_MM, paper.y(paper.bottom) - 1.5
    left, right = paper.x(back), paper.x(middle + diameter / 2)
    yield Path(((left, y), (right, y), (right, end), (left, end)), "section-tube", closed=True)
    yield Path(((paper.x(middle), y - 3.0), (paper.x(middle), end + 1.0)), "section-axis")
    yield broken((left, end), (right, end))
    sheet.left(
        f"pier tube {sheet.said('tube outside diameter')}, goes on down; depth to bearing "
        f"{cut.figures.bearing}",
        (back, top + 0.8 * (paper.bottom - top)),
    )
    if back < face - 0.01:
        behind = sheet.said("bracket eccentricity", round(face - back, 1))
        sheet.remarks.append(
            f"By plate depth and eccentricity of the bracket the tube stands {behind} behind the "
            "face of the footing, where it can't be driven: look at both again."
        )
