"""The dig in a section: ground, soil layers, water, the pit with its sides, spoil, way out."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from survey.drawings.section_cut import (
    MOST_ABOVE_IN,
    MOST_AWAY_IN,
    OPEN_IN,
    heap_height,
    heap_width,
    number,
)
from survey.drawings.section_figures import Layer
from survey.drawings.section_labels import SIZE_MM
from survey.drawings.section_paper import earth
from survey.drawings.section_sheet import Sheet
from survey.drawings.shapes import Path, Point, Shape, Text
from survey.quantities.excavation import UNDER_FOOTING_IN
from survey.vocabulary import NOT_KNOWN, Kind, Missing, write_quantity

_HELD = ("timber shoring", "hydraulic shoring", "shield")
_HELD_MM = 0.9
_LEVEL = {
    "outside": "ground",
    "basement": "floor of the basement",
    "crawl space": "floor of the crawl space",
}
_TO_FLOOR = "slope goes down to the floor"


def ground(sheet: Sheet) -> Iterator[Shape]:
    """The level that depths count from, as far as the pit leaves it."""
    paper, edge = sheet.cut.paper, sheet.cut.edge
    level = _LEVEL.get(
        str(sheet.cut.figures["pit reached from"]), "ground or floor that the pit is dug from"
    )
    end = (paper.right, 0.0)
    if edge is None:
        yield paper.path("section-open", (0.0, 0.0), end)
        sheet.right(f"{level}; edge of the pit not known", end)
        return
    yield paper.path("section-former", (0.0, 0.0), (edge, 0.0))
    yield paper.path("section-ground", (edge, 0.0), end)
    yield earth(paper.at(edge, 0.0), paper.at(*end))
    sheet.right(level, end)


def layers(sheet: Sheet) -> Iterator[Shape]:
    """Soil layers down to the end of the drawing, beside a pit that is dug from outside."""
    cut, paper = sheet.cut, sheet.cut.paper
    if not cut.figures.outside:
        reached = cut.figures["pit reached from"]
        why = (
            "from where the pit is dug is not known"
            if reached is NOT_KNOWN
            else f"the pit is dug from the {reached}"
        )
        sheet.remarks.append(
            "Soil layers, ground water and neighbours are measured from the ground outside; how "
            f"high that stands here is not asked ({why}), so they are not drawn."
        )
        return
    for layer in cut.figures.site.layers:
        top, bottom = number(layer.top), number(layer.bottom)
        for depth in (top, bottom):
            if depth is not None and 0 < depth < paper.bottom:
                yield paper.path("section-layer", (cut.side_at(depth), depth), (paper.right, depth))
        if top is None or (bottom is None and top < paper.bottom):
            end = "top" if top is None else "underside"
            sheet.remarks.append(f"Soil layer {layer.label}: its {end} is not known.")
        if top is not None and top < paper.bottom:
            low = paper.bottom if bottom is None else min(bottom, paper.bottom)
            sheet.right(_layer_said(sheet, layer), (paper.right, (top + low) / 2))


def _layer_said(sheet: Sheet, layer: Layer) -> str:
    top, bottom = sheet.said("layer top", layer.top), sheet.said("layer bottom", layer.bottom)
    group = "ground not known" if layer.group is NOT_KNOWN else str(layer.group)
    match layer.soil_class:
        case Missing():
            held = "class not known"
        case "stable rock":
            held = "class stable rock"
        case name:
            held = f"type {name}"
    name = "" if layer.label == group else f" ({layer.label})"
    down = f"{top} to {bottom}" if layer.bottom is not NOT_KNOWN else f"from {top} down"
    return f"{down}: {group}, {held}{name}"


def water(sheet: Sheet) -> Iterator[Shape]:
    """The level of ground water, if it was met in the test hole."""
    cut, paper = sheet.cut, sheet.cut.paper
    met, depth = cut.figures["groundwater met"], cut.length("depth to groundwater")
    if not cut.figures.outside:
        return
    if met == "no":
        hole = sheet.said("test hole depth")
        sheet.right(f"no water met; depth of the test hole {hole}")
    elif met is NOT_KNOWN or depth is None:
        sheet.remarks.append("At what depth ground water stands is not known: it is not drawn.")
    elif depth >= paper.bottom:
        sheet.right(f"water met at {sheet.said('depth to groundwater')}, below this drawing")
    else:
        end = (paper.right, depth)
        yield paper.path("section-water", (cut.side_at(depth), depth), end)
        x, y = paper.at(*end)
        mark = ((x - 5.6, y - 2.6), (x - 2.6, y - 2.6), (x - 4.1, y))
        yield Path(mark, "section-water-mark", closed=True)
        sheet.right(f"water met at {sheet.said('depth to groundwater')}", end)


def pit(sheet: Sheet) -> Iterator[Shape]:
    """Floor of the pit, and what is taken from under the footing."""
    cut, paper = sheet.cut, sheet.cut.paper
    depth, width, under = cut.depth, cut.length("pit width"), cut.footing
    if depth is None:
        yield _mark(sheet, (0.75 * OPEN_IN, 0.5 * (under or 0.0)))
        sheet.remarks.append("How deep the pit is to be is not known: it is not drawn.")
        return
    sheet.beside((0.0, 0.0), (0.0, depth), f"pit depth {sheet.said('pit depth')}")
    if width is None:
        yield paper.path("section-open", (0.0, depth), (OPEN_IN, depth))
        yield _mark(sheet, (OPEN_IN + paper.inches(2.0), depth))
        sheet.remarks.append(
            "How wide the pit is to be is not known: its free side, slope and spoil are not drawn."
        )
    else:
        yield paper.path("section-cut", (0.0, depth), (width, depth))
        yield earth(paper.at(0.0, depth), paper.at(width, depth))
        sheet.below((0.0, depth), (width, depth), f"pit width {sheet.said('pit width')}")
    if under is not None and depth > under:
        inner = -UNDER_FOOTING_IN
        yield paper.path("section-away", (0.0, depth), (inner, depth), (inner, under))
        taken = sheet.said("pit width", UNDER_FOOTING_IN)
        sheet.left(
            f"dug in under the footing, counted as {taken} (common practice)",
            (inner, (depth + under) / 2),
        )


def free_side(sheet: Sheet) -> Iterator[Shape]:
    """The side away from the wall: upright, cut back or held."""
    cut, paper, f = sheet.cut, sheet.cut.paper, sheet.cut.figures
    depth, width, edge = cut.depth, cut.length("pit width"), cut.edge
    held_to = (
        "soil class not known" if f.soil_class is NOT_KNOWN
        else f"in {f.soil_class}" if f.soil_class == "stable rock"
        else f"in type {f.soil_class} ground"
    )  # fmt: skip
    said = f"free side: {_side_said(sheet)}; {held_to}"
    if depth is None or width is None or edge is None:
        sheet.right(said)
        if depth is not None and width is not None:
            yield _mark(sheet, (width + paper.inches(2.0), depth / 2))
            sheet.remarks.append(
                "How far out the free side comes is not known: it and the spoil are not drawn."
            )
        return
    sheet.right(said, (edge + (width - edge) * 0.45, 0.45 * depth))
    if edge > width:
        reach = sheet.said("slope reach")
        sheet.above((width, 0.0), (edge, 0.0), f"slope reach {reach}")
    benched = f["side protection"] == "benched"
    yield paper.path("section-counted" if benched else "section-cut", (width, depth), (edge, 0.0))
    yield from _held(sheet, width)
    foot = f["foot of the slope"]
    if benched:
        sheet.remarks.append(
            "Where the benches stand is not asked: the line is the overall slope, 1H:1V, that the "
            "rules count with."
        )
    elif f["side protection"] == "sloped" and foot != _TO_FLOOR:
        sheet.remarks.append(
            f"Foot of the slope: {foot}. How high an upright part stands is not asked: the slope "
            "is drawn from the floor, as the rules count it."
        )


def _held(sheet: Sheet, width: float) -> Iterator[Shape]:
    """Shoring or shield against the free side."""
    paper, held, side = sheet.cut.paper, sheet.cut.held, sheet.cut.figures["side protection"]
    if held is None:
        if side in _HELD:
            sheet.remarks.append(f"How high the {side} stands is not known: it is not drawn.")
        return
    (x, top), (_, foot) = paper.at(width, held[0]), paper.at(width, held[1])
    outline = ((x - _HELD_MM, top), (x, top), (x, foot), (x - _HELD_MM, foot))
    yield Path(outline, "section-held", closed=True)
    sheet.remarks.append(f"Of the {side} only height and foot are to scale; no brace is drawn.")


def _side_said(sheet: Sheet) -> str:
    f = sheet.cut.figures
    side, slope, foot = (
        f["side protection"], sheet.cut.length("slope of sides"),
        sheet.cut.length("dug below protection"),
    )  # fmt: skip
    if side is NOT_KNOWN:
        return "how it is held is not known"
    if side == "none":
        return "upright, nothing holds it"
    if side == "sloped":
        return "sloped, how steep is not known" if slope is None else f"sloped {slope_said(slope)}"
    if side not in _HELD:
        return str(side)
    height = f["height of protection"]
    high = "height not known" if height is NOT_KNOWN else (
        f"{sheet.said('height of protection')} high"
    )  # fmt: skip
    if foot is None:
        stands = "how far above the floor is not known"
    elif foot == 0:
        stands = "down to the floor"
    else:
        stands = f"its foot {sheet.said('dug below protection')} above the floor"
    return f"{side}, {high}, {stands}"


def spoil(sheet: Sheet) -> Iterator[Shape]:
    """The heap of spoil at its set-back; a part of it where it is wide."""
    cut, paper = sheet.cut, sheet.cut.paper
    away, edge = cut.length("spoil distance"), cut.edge
    if away is None:
        sheet.remarks.append("How far off spoil is laid is not known: it is not drawn.")
        return
    if edge is None:
        return
    if away > MOST_AWAY_IN:
        said = sheet.said("spoil distance")
        sheet.remarks.append(f"Spoil lies {said} from the edge, beyond this drawing.")
        return
    sheet.above((edge, 0.0), (edge + away, 0.0), f"spoil set-back {sheet.said('spoil distance')}")
    if cut.heap is None:
        sheet.remarks.append("How wide the heap of spoil is can't be told: it is not drawn.")
        return
    foot, width = cut.heap
    height = heap_height(width)
    about = sheet.said("spoil distance", float(round(width)))
    said = f"spoil, counted as a heap about {about} wide"
    top, end = min(height, MOST_ABOVE_IN), foot + width
    outline = [(foot, 0.0), (foot + heap_width(top) / 2, -top)]
    if top < height:
        outline.append((end - heap_width(top) / 2, -top))
    outline.append((end, 0.0))
    if end <= paper.right and top == height:
        yield paper.path("section-spoil", *outline, closed=True)
    else:
        said += "; only a part of it is drawn"
        outline = _left_of(paper.right, outline)
        yield paper.path("section-heap", *outline, (paper.right, 0.0), closed=True)
        yield paper.path("section-cut", *outline)
    middle = min(foot + heap_width(top) / 4, (foot + paper.right) / 2)
    sheet.right(said, (middle, -heap_height(2 * (middle - foot))))


def _left_of(end: float, outline: Sequence[Point]) -> list[Point]:
    """A line that runs to the right, as far as a place."""
    kept = [outline[0]]
    for (x, y), (to_x, to_y) in pairwise(outline):
        if to_x > end:
            return [*kept, (end, y + (to_y - y) * (end - x) / (to_x - x))]
        kept.append((to_x, to_y))
    return kept


def way_out(sheet: Sheet) -> None:
    """Whether a ladder stands in the pit, in words."""
    f = sheet.cut.figures
    match f["ladder in pit"]:
        case "yes" if f["distance to ladder"] is NOT_KNOWN:
            said = "ladder, ramp or steps in the pit; how far away is not known"
        case "yes":
            said = (
                f"ladder, ramp or steps in the pit, at most {sheet.said('distance to ladder')} away"
            )
        case Missing():
            said = "whether a ladder stands in the pit is not known"
        case _:
            said = "no ladder, ramp or steps in the pit"
    sheet.left(said)


def slope_said(slope: float) -> str:
    """A slope with its angle to the level.

    >>> slope_said(1.5), slope_said(0.0)
    ('1.5H:1V (34 deg)', '0H:1V (90 deg)')
    """
    angle = math.degrees(math.atan2(1.0, slope))
    return f"{write_quantity(slope, Kind.SLOPE)} ({angle:.0f} deg)"


def _mark(sheet: Sheet, at: Point) -> Text:
    """That something is not known here."""
    return Text(sheet.cut.at(*at), "?", 1.5 * SIZE_MM, "section-unknown")
