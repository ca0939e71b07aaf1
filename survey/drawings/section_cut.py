"""Where things stand in a section, in inches; none for what is not known or can't be drawn.

x runs out from the face of the wall on the side of the pit, y down from the ground or the floor
that the pit is dug from.
"""

from __future__ import annotations

from functools import cached_property

from survey.drawings.section_figures import Near, SectionFigures
from survey.drawings.section_paper import Paper, laid_out
from survey.drawings.shapes import Point
from survey.model import Value
from survey.quantities.excavation import REPOSE_SLOPE, UNDER_FOOTING_IN
from survey.vocabulary import DOES_NOT_APPLY

MOST_ABOVE_IN = 36.0  # of a wall or a heap above the ground; a break shows that it goes on
BROKEN_ABOVE_IN = 18.0  # of a wall whose height is not known
MOST_AWAY_IN = 180.0  # of spoil from the pit's edge
_LEAST_OF_HEAP_IN = 15.0  # the rest is drawn where there is room
OPEN_IN = 24.0  # length of a dashed end
_BEYOND_IN = 18.0
_CUT_BACK = "under cut footing"


class Cut:
    """The section through a kind of pit.

    Args:
        figures: of the kind.
        near: the neighbour that is nearest to such a pit, if there is one.
    """

    def __init__(self, figures: SectionFigures, near: Near | None) -> None:
        self.figures, self.near = figures, near

    def length(self, word: str) -> float | None:
        """A length that is known."""
        return number(self.figures[word])

    @cached_property
    def depth(self) -> float | None:
        """Of the pit's floor."""
        return self.length("pit depth")

    @cached_property
    def footing(self) -> float | None:
        """Depth of the underside of the footing."""
        return self.length("footing depth")

    @cached_property
    def footing_top(self) -> float | None:
        """Depth of the top of the footing, where the wall begins."""
        if self.figures["footing kind"] == "none found":
            return self.footing
        thickness = self.length("footing thickness")
        return None if self.footing is None or thickness is None else self.footing - thickness

    @cached_property
    def wall_top(self) -> float | None:
        """Depth of the top of the wall: negative above the ground."""
        height = self.length("wall height")
        return None if self.footing_top is None or height is None else self.footing_top - height

    @cached_property
    def near_edge(self) -> float | None:
        """Edge of the footing on the side of the pit."""
        return number(self.figures.near_edge)

    @cached_property
    def far_edge(self) -> float | None:
        """Its other edge."""
        width = self.length("footing width")
        return None if self.near_edge is None or width is None else self.near_edge - width

    @property
    def cut_back(self) -> bool:
        """Whether the first seat that suits has the footing cut back to the wall."""
        seat = self.figures.seat
        return seat is not None and seat[0] == _CUT_BACK

    @cached_property
    def edge(self) -> float | None:
        """Edge of the pit at the ground."""
        width, reach = self.length("pit width"), self.length("slope reach")
        if width is None or reach is None or self.depth is None:
            return None
        return width + reach

    def side_at(self, depth: float) -> float:
        """Where undug ground begins at a depth, at the pit's side or, if not known, at the wall."""
        width = self.length("pit width")
        if self.edge is None or width is None or self.depth is None or depth >= self.depth:
            return 0.0
        return width + (self.edge - width) * (self.depth - depth) / self.depth

    @cached_property
    def held(self) -> tuple[float, float] | None:
        """Depths of top and foot of the shoring or shield."""
        height, below = self.length("height of protection"), self.length("dug below protection")
        if self.depth is None or height is None or below is None:
            return None
        return self.depth - below - height, self.depth - below

    @cached_property
    def heap(self) -> tuple[float, float] | None:
        """Foot and width of the heap of spoil, where it lies near enough to be drawn."""
        away, width = self.length("spoil distance"), number(self.figures.heap_width)
        if self.edge is None or away is None or width is None or away > MOST_AWAY_IN:
            return None
        return self.edge + away, width

    @cached_property
    def neighbour(self) -> float | None:
        """Edge of its footing, as far from the pit as the rules measured it.

        From its slope to the pit's floor or, where the pit is no deeper than its footing, from
        its clearance. None, too, where it stands too far off to be drawn.
        """
        near, width = self.near, self.length("pit width")
        if near is None or width is None or self.depth is None or self.edge is None:
            return None
        if not self.figures.outside:
            return None
        depth, slope, clearance = (number(v) for v in (near.depth, near.slope, near.clearance))
        at = None
        if depth is not None and slope is not None:
            at = width + slope * (self.depth - depth)
        elif near.slope is DOES_NOT_APPLY and clearance is not None:
            at = self.edge + clearance
        if at is None or depth is None or at - width > 3 * max(self.depth, depth):
            return None
        return at

    @cached_property
    def paper(self) -> Paper:
        """The paper on which all of it finds room."""
        deepest = max((d for d in (self.depth, self.footing) if d is not None), default=0.0)
        left, right, top = -UNDER_FOOTING_IN - 2.0, OPEN_IN, -BROKEN_ABOVE_IN - 4.0
        thickness, width = self.length("wall thickness"), self.length("pit width")
        for edge in (None if thickness is None else -thickness, self.far_edge):
            left = left if edge is None else min(left, edge - 4.0)
        for edge in (width, self.edge, self.near_edge, self.neighbour):
            right = right if edge is None else max(right, edge + OPEN_IN)
        away = self.length("spoil distance")
        if self.edge is not None and away is not None and away <= MOST_AWAY_IN:
            right = max(right, self.edge + away + 6.0)
        whole = right
        if self.heap is not None:
            foot, wide = self.heap
            whole = max(right, foot + wide + 6.0)
            right = max(right, min(whole, foot + _LEAST_OF_HEAP_IN))
            top = min(top, -min(heap_height(wide), MOST_ABOVE_IN) - 4.0)
        if self.wall_top is not None:
            top = min(top, max(self.wall_top, -MOST_ABOVE_IN) - 4.0)
        if self.held is not None:
            top = min(top, self.held[0] - 4.0)
        bottom = deepest + max(_BEYOND_IN, 0.4 * deepest)
        units = self.figures.site.units
        return laid_out(left, right, top, bottom, units, whole)

    def at(self, x_in: float, y_in: float) -> Point:
        """A point of the section on paper."""
        return self.paper.at(x_in, y_in)


def heap_width(height_in: float) -> float:
    """Width of a heap at its slope of repose, as the ground that it needs is counted."""
    return 2 * REPOSE_SLOPE * height_in


def heap_height(width_in: float) -> float:
    """Height of the same."""
    return width_in / (2 * REPOSE_SLOPE)


def number(value: Value) -> float | None:
    """A length that is known."""
    return value if isinstance(value, float) else None
