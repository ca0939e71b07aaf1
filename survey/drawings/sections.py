"""A section through each kind of pit: wall, footing, bracket, pit, ground, spoil, neighbour.

A kind of pit is all piers whose figures are the same. How near a neighbour stands makes no kind of
its own: it is drawn as at that pier of the kind to which it is nearest.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass

from survey.assessment import Assessment, PierResult, Verdict
from survey.drawings import section_building, section_dig, section_influence
from survey.drawings.section_cut import Cut
from survey.drawings.section_figures import SectionFigures, Sections
from survey.drawings.section_sheet import Sheet
from survey.drawings.shapes import Shape
from survey.drawings.svg import write_svg

MOST_KINDS = 12
_MOST_NAMED = 3
_FROM_WORST = {verdict: -rank for rank, verdict in enumerate(Verdict)}


@dataclass(frozen=True, slots=True)
class SectionDrawing:
    """The section of one kind of pit.

    Args:
        title: such as ``Section at P1, P2``.
        where: labels of its piers, in the order of the form.
        svg: the drawing; empty where nothing can be drawn.
        remarks: what is not drawn or not to scale, and why.
    """

    title: str
    where: tuple[str, ...]
    svg: str
    remarks: tuple[str, ...]


def section_drawings(assessment: Assessment) -> tuple[SectionDrawing, ...]:
    """A section of each kind of pit, the one with the worst verdict first.

    At most twelve are drawn; one more without a drawing names the piers of all others.
    """
    sections = Sections(assessment)
    kinds: dict[Hashable, list[PierResult]] = {}
    for pier in assessment.piers:
        kinds.setdefault(sections.kind(pier), []).append(pier)
    ordered = sorted(
        kinds.values(), key=lambda piers: min(_FROM_WORST[pier.verdict] for pier in piers)
    )
    drawn = [
        _drawing(sections, sections.of(piers[0]), tuple(pier.label for pier in piers), number)
        for number, piers in enumerate(ordered[:MOST_KINDS], start=1)
    ]
    others = tuple(pier.label for piers in ordered[MOST_KINDS:] for pier in piers)
    if others:
        remark = f"Only {MOST_KINDS} kinds of pit are drawn, those with the worst verdicts."
        drawn.append(SectionDrawing(f"No section at {_named(others)}", others, "", (remark,)))
    return tuple(drawn)


def _drawing(
    sections: Sections, figures: SectionFigures, where: tuple[str, ...], number: int
) -> SectionDrawing:
    title = f"Section at {_named(where)}"
    near, unclear = sections.neighbours(where)
    cut = Cut(figures, near)
    if cut.depth is None and cut.footing is None:
        remark = "Neither the depth of the pit nor that of the footing is known: nothing is drawn."
        return SectionDrawing(title, where, "", (remark,))
    sheet = Sheet(cut)
    drawing = sheet.drawn(title, _body(sheet, unclear))
    svg = write_svg(drawing, f"section-{number}")
    return SectionDrawing(title, where, svg, tuple(sheet.remarks))


def _body(sheet: Sheet, unclear: Sequence[str]) -> Iterator[Shape]:
    """The parts of a section, what lies behind first."""
    yield from section_dig.layers(sheet)
    yield from section_dig.water(sheet)
    yield from section_dig.ground(sheet)
    yield from section_dig.pit(sheet)
    yield from section_building.wall(sheet)
    yield from section_building.footing(sheet)
    yield from section_building.bracket(sheet)
    yield from section_dig.free_side(sheet)
    yield from section_dig.spoil(sheet)
    yield from section_influence.own_influence(sheet)
    yield from section_influence.neighbour(sheet)
    section_dig.way_out(sheet)
    section_influence.unclear(sheet, unclear)


def _named(labels: Sequence[str]) -> str:
    """The first few labels, and how many more there are."""
    more = len(labels) - _MOST_NAMED
    return ", ".join(labels[:_MOST_NAMED]) + (f" and {more} more" if more > 0 else "")
