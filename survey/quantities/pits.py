"""A pit by itself: how deep it is, in what ground, and how far it opens."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property

from survey.engineering import pit
from survey.engineering.working import Input, Quantity
from survey.quantities.ground import Ground
from survey.quantities.inputs import PLACED, Asked, worked
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN

_INSIDE = ("basement", "crawl space")
_OUTSIDE = "outside"


class Pit:
    """A pit, with the figures that no other pier has a part in.

    Args:
        pier: answers of the pier.
        ref: the wall that it names, if that is listed.
        wall: answers of that wall; none where the wall is not known.
        ground: the soil layers and the water.
    """

    def __init__(self, pier: Asked, ref: Quantity, wall: Asked | None, ground: Ground) -> None:
        self.asked, self.ref, self.wall = pier, ref, wall
        self.inside = pier.value("pit reached from") in _INSIDE
        self._ground = ground
        self.floor = self._floor()

    # Each worked out when it is first asked for: a drawing asks for fewer than the rules do.

    @cached_property
    def soil_class(self) -> Quantity:
        """By the field tests, the worst down to the floor."""
        return self._ground.pit_class(self.floor)

    @cached_property
    def cohesive(self) -> Quantity:
        """Whether the ground down to the floor holds together."""
        return self._ground.cohesive(self.floor)

    @cached_property
    def water(self) -> Quantity:
        """How high water stands above the floor."""
        return self._ground.water(self.asked["pit depth"], self.floor)

    @cached_property
    def reach(self) -> Quantity:
        """How far its sides slope out at the ground."""
        return _reach(self.asked, lambda: self.soil_class)

    @cached_property
    def opening(self) -> Quantity:
        """How long it is at the underside of the footing."""
        return _opening(self.asked, lambda: self.soil_class)

    @property
    def label(self) -> str:
        """The pier's label."""
        return self.asked.label

    def _floor(self) -> Quantity:
        """Depth of the floor below the ground outside; from inside, the most it can be."""
        wall = self.wall
        reached, depth, footing = self.asked.some("pit reached from", "pit depth", "footing depth")
        if reached.answer.value == _OUTSIDE:
            return worked(lambda _, figure: pit.depth_of_floor(figure), reached, depth)
        if wall is None or not self.inside:
            return worked(lambda *_: PLACED, reached, depth, self.ref)
        measured = (reached, self.ref, depth, footing, wall["wall height"])
        if wall.value("footing kind") == "none found":
            return worked(
                lambda _reached, _wall, pit_depth, footing_depth, height, _kind: pit.depth_of_floor(
                    pit_depth, pit.Inside(footing_depth, height, 0.0)
                ),
                *measured,
                wall["footing kind"],
            )
        return worked(
            lambda _reached, _wall, pit_depth, *figures: pit.depth_of_floor(
                pit_depth, pit.Inside(*figures)
            ),
            *measured,
            wall["footing thickness"],
        )


def _reach(pier: Asked, soil_class: Callable[[], Quantity]) -> Quantity:
    side, slope, depth = pier.some("side protection", "slope of sides", "pit depth")
    match side.answer.value:
        case "sloped":
            return worked(
                lambda held, m, pit_depth: pit.slope_reach(held, m, pit_depth, NOT_KNOWN),
                side, slope, depth,
            )  # fmt: skip
        case "benched":
            return worked(
                lambda held, pit_depth, found: pit.slope_reach(held, NOT_KNOWN, pit_depth, found),
                side, depth, soil_class(),
            )  # fmt: skip
        case _:
            return worked(lambda held: pit.slope_reach(held, NOT_KNOWN, NOT_KNOWN, NOT_KNOWN), side)


def _opening(pier: Asked, soil_class: Callable[[], Quantity]) -> Quantity:
    side, slope, length = pier.some("side protection", "slope of sides", "pit length")
    depths = depth, footing = pier.some("pit depth", "footing depth")
    if _no_deeper(depth, footing):
        # Settled by depths alone, however the sides are held.
        return worked(
            lambda h, f, p: pit.opening_at_footing(
                NOT_KNOWN, NOT_KNOWN, h, f, p, soil_class=NOT_KNOWN
            ),
            *depths, length,
        )  # fmt: skip
    match side.answer.value:
        case "sloped":
            return worked(
                lambda held, m, h, f, p: pit.opening_at_footing(
                    held, m, h, f, p, soil_class=NOT_KNOWN
                ),
                side, slope, *depths, length,
            )  # fmt: skip
        case "benched":
            return worked(
                lambda held, h, f, p, found: pit.opening_at_footing(
                    held, DOES_NOT_APPLY, h, f, p, soil_class=found
                ),
                side, *depths, length, soil_class(),
            )  # fmt: skip
        case _:
            return worked(
                lambda held, p: pit.opening_at_footing(
                    held, NOT_KNOWN, NOT_KNOWN, NOT_KNOWN, p, soil_class=NOT_KNOWN
                ),
                side, length,
            )  # fmt: skip


def _no_deeper(depth: Input, footing: Input) -> bool:
    deep, below = depth.answer.value, footing.answer.value
    return isinstance(deep, (int, float)) and isinstance(below, (int, float)) and deep <= below
