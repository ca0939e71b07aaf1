"""What the pits of one wall open of it at the underside of its footing."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from survey.engineering import layout, undermining
from survey.engineering.working import Quantity, Result
from survey.quantities.inputs import PLACED, Asked, Part, worked
from survey.quantities.pits import Pit


class Openings:
    """The openings along a wall.

    Args:
        everyone: whether the wall of every pier is known; one whose wall is not may stand here.
        wall: answers of the wall.
        site: answers of the site.
        pits: the pits at the wall.
    """

    def __init__(self, everyone: Quantity, wall: Asked, site: Asked, pits: Sequence[Pit]) -> None:
        self._everyone, self._pits = everyone, pits
        self._nth = {pit: n for n, pit in enumerate(pits)}
        self._all = worked(lambda *_: PLACED, *(part for pit in pits for part in _place(pit)))
        self.share = worked(
            lambda _, length, clear, *opened: undermining.share_open_at_once(length, clear, opened),
            everyone, wall["wall length"], site["clear spacing of open pits"],
            *(pit.opening for pit in pits),
        )  # fmt: skip

    def gap(self, pit: Pit) -> Quantity:
        """Gap from a pit to the nearest of the others."""
        if len(self._pits) == 1:
            return worked(lambda _: layout.ALONE, self._everyone)
        if self._all.result.known:
            return worked(lambda *_: self._gap(pit), self._everyone, *_place(pit), self._all)
        # What is lacking is told of the pit itself first, then of each other.
        others = (part for other in self._pits if other is not pit for part in _place(other))
        return worked(lambda *_: PLACED, self._everyone, *_place(pit), *others)

    def next_pier(self, pit: Pit) -> Quantity:
        """Distance from a pier to the nearest of the others."""
        own = pit.asked["station"]
        others = (other.asked["station"] for other in self._pits if other is not pit)
        return worked(
            lambda _, station, *stations: layout.distance_to_next_pier(station, stations),
            self._everyone, own, *others,
        )  # fmt: skip

    def _gap(self, pit: Pit) -> Result:
        opened, nth = self._opened, self._nth[pit]
        return layout.gap_to_next_pit(opened[nth], opened[:nth] + opened[nth + 1 :])

    @cached_property
    def _opened(self) -> tuple[layout.Opened, ...]:
        """What each pit opens, where that is known of all."""
        values = ((pit.asked.number("station"), pit.opening.result.value) for pit in self._pits)
        return tuple(
            layout.Opened(station, opening)
            for station, opening in values
            if isinstance(opening, (int, float))
        )


def _place(pit: Pit) -> tuple[Part, Part]:
    return pit.asked["station"], pit.opening
