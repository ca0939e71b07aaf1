"""Influence lines in a section, of our own footing and of the nearest neighbour's."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from survey.drawings.section_cut import BROKEN_ABOVE_IN, OPEN_IN, number
from survey.drawings.section_paper import broken
from survey.drawings.section_sheet import Sheet
from survey.drawings.shapes import Point, Shape
from survey.vocabulary import NOT_KNOWN, Kind, write_quantity


def own_influence(sheet: Sheet) -> Iterator[Shape]:
    """From the outermost edge of our footing, as steep as the rules hold a neighbour's."""
    cut = sheet.cut
    if not cut.figures.influence:
        sheet.remarks.append("The rules in force set no slope of influence lines: none is drawn.")
        return
    if cut.near_edge is None or cut.footing is None:
        sheet.remarks.append("Where our footing ends is not known: no influence line is drawn.")
        return
    yield from _lines(sheet, (cut.near_edge, cut.footing), "our footing", outwards=True)


def neighbour(sheet: Sheet) -> Iterator[Shape]:
    """The nearest neighbour's footing, as far off as the rules measured it, and its line."""
    cut, near, at = sheet.cut, sheet.cut.near, sheet.cut.neighbour
    if near is None or not cut.figures.outside:
        return
    name = near.label if near.kind is NOT_KNOWN else f"{near.label} ({near.kind})"
    slope, depth = number(near.slope), number(near.depth)
    if cut.edge is None:
        sheet.remarks.append(f"The pit's edge is not known, so the neighbour {name} is not drawn.")
        return
    if at is None or depth is None:
        told = "" if slope is None else (
            f": the slope from its footing down to the pit's floor is "
            f"{write_quantity(slope, Kind.SLOPE)}"
        )  # fmt: skip
        sheet.remarks.append(f"The nearest neighbour, {name}, stands beyond this drawing{told}.")
        return
    if cut.heap is not None and at < sum(cut.heap):
        sheet.remarks.append(f"If {name} stands straight out from the pit, it stands in the spoil.")
    paper, high = cut.paper, -BROKEN_ABOVE_IN
    far = min(at + 0.75 * OPEN_IN, paper.right)
    yield paper.path("section-edge", (at, high), (at, depth))
    yield paper.path("section-open", (at, depth), (far, depth))
    yield broken(paper.at(at, high), paper.at(far, high))
    sheet.right(
        f"{name}, drawn as near as it is to {near.pier}; footing "
        f"{sheet.said('neighbour footing depth', depth)} deep",
        (at, high / 2),
    )
    if near.weighs:
        yield from _lines(sheet, (at, depth), near.label, outwards=False)


def unclear(sheet: Sheet, neighbours: Sequence[str]) -> None:
    """What may be there and can't be drawn."""
    if not sheet.cut.figures.outside:
        return
    for label in neighbours:
        sheet.remarks.append(
            f"How the neighbour {label} stands to the pit is not known: it is not drawn."
        )
    for what in sheet.cut.figures.site.open_lists:
        sheet.remarks.append(f"Not every {what} is known to be listed.")


def _lines(sheet: Sheet, start: Point, whose: str, *, outwards: bool) -> Iterator[Shape]:
    """Lines from the edge of a footing down to the end of the drawing."""
    paper = sheet.cut.paper
    x, y = start
    for line in sheet.cut.figures.influence:
        room = paper.right - x if outwards else x
        run = min(room, line.slope * (paper.bottom - y))
        if run <= 0 or line.slope <= 0:
            continue
        across, down = (run if outwards else -run), run / line.slope
        yield paper.path("section-influence", start, (x + across, y + down))
        ratio = write_quantity(line.slope, Kind.SLOPE)
        share = 0.85 if outwards else 0.4
        said = f"influence line of {whose}, {ratio} in {line.ground}"
        sheet.right(said, (x + share * across, y + share * down))
