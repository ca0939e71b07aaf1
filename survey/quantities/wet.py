"""Ground water at a pit: how much runs in, what it does to the floor and next door."""

from __future__ import annotations

from collections.abc import Callable

from survey.engineering import heave, inflow, water
from survey.engineering.working import Quantity, Result
from survey.quantities.ground import Ground, heaviest_pcf, lightest_pcf, permeability_m_per_s
from survey.quantities.inputs import Asked, Part, worked, worked_within
from survey.quantities.named import Named
from survey.quantities.pits import Pit
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN

_NO_SHEETS_IN = 0.0  # shoring and shields are not taken to keep water out of the floor


class WetPit:
    """A pit that may stand in ground water.

    Args:
        pit: the pit.
        site: answers of the site.
        ground: the soil layers.
        footing_pressure: service load over the width of the footing beside it, psf.
    """

    def __init__(self, pit: Pit, site: Asked, ground: Ground, footing_pressure: Quantity) -> None:
        self._pit, self._site, self._ground = pit, site, ground
        self._pressure = footing_pressure
        # Water comes up through the floor as well, from as far below as the pit is wide.
        width = pit.asked["pit width"]
        below = worked(lambda floor, out: Result(floor + out), pit.floor, width)
        self._groups, self._cohesive = ground.groups(below), ground.cohesive(below)
        depth = site["depth to groundwater"]
        self._head = self._if_wet(
            lambda _, floor, met: water.water_depths(floor, 0.0, met).over_floor, pit.floor, depth
        )
        self._shape: tuple[Part, ...] = (*pit.asked.some("pit length", "pit width"), pit.reach)

    def named(self) -> Named:
        """Inflow, pumps, boiling and heave of the floor."""
        flow = self._inflow()
        return {
            "inflow to pit": flow,
            "pumps needed": self._pumps(flow),
            "exit gradient use": self._boiling(),
            "base heave use": self._heave(),
        }

    def drawdown(self, clearance: Quantity) -> Quantity:
        """How far pumping lowers the water at a clear distance from the pit's edge."""
        return self._if_wet(
            lambda _, distance, head, length, width, reach, groups: inflow.drawdown(
                distance, _well(length, width, reach, head), permeability_m_per_s(groups).high
            ),
            clearance, self._head, *self._shape, self._groups,
        )  # fmt: skip

    def _if_wet(self, calculation: Callable[..., Result], *parts: Part) -> Quantity:
        """A figure of a pit in water; it does not apply where the pit surely stays dry."""
        if self._pit.water.result.value == "no":
            return Quantity(_DRY, (self._pit.water,))
        return worked(calculation, self._pit.water, *parts)

    def _inflow(self) -> Quantity:
        return self._if_wet(
            lambda _, head, length, width, reach, groups: inflow.inflow(
                _well(length, width, reach, head), *permeability_m_per_s(groups)
            ),
            self._head, *self._shape, self._groups,
        )  # fmt: skip

    def _pumps(self, flow: Quantity) -> Quantity:
        capacity = self._site["pump capacity"]
        if flow.result.value is DOES_NOT_APPLY:
            return flow
        if capacity.answer.value is DOES_NOT_APPLY:
            none = Result(DOES_NOT_APPLY, "no pump is planned")
            return Quantity(none, (self._site["water removal"], capacity))
        return worked(inflow.pumps_needed, flow, capacity)

    def _boiling(self) -> Quantity:
        return self._if_wet(
            lambda _, head, groups, cohesive: heave.exit_gradient_use(
                head, _NO_SHEETS_IN, lightest_pcf(groups), cohesive
            ),
            self._head, self._groups, self._cohesive,
        )  # fmt: skip

    def _heave(self) -> Quantity:
        length, width = self._pit.asked.some("pit length", "pit width")
        strength = self._ground.strength_under(self._pit.asked["pit depth"], self._pit.floor, width)
        if strength.result.value is DOES_NOT_APPLY:
            return strength
        return worked_within(
            lambda floor, p, w, su, groups, pressure: heave.base_heave_use(
                heave.SoftPit(floor, p, w, su, heaviest_pcf(groups), pressure), "yes"
            ),
            self._pit.floor, length, width, strength, self._groups, self._pressure,
        )  # fmt: skip


_DRY = Result(DOES_NOT_APPLY, "no ground water stands above the floor")


def _well(length_in: float, width_in: float, reach_in: float, head_in: float) -> inflow.WetPit:
    """The pit as wide as it is at the ground: water runs in through the slopes too."""
    return inflow.WetPit(length_in + 2 * reach_in, width_in + reach_in, head_in, NOT_KNOWN)
