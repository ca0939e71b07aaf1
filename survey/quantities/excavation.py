"""A pit's sides, its spoil and what holds it."""

from __future__ import annotations

from functools import cache

from survey.engineering import (
    hydraulic_shoring,
    met,
    shoring_tables,
    side_pressure,
    slopes,
    spoil,
    timber_shoring,
)
from survey.engineering.working import Input, Quantity, Result
from survey.model import Value
from survey.quantities.ground import Ground, heaviest_pcf
from survey.quantities.inputs import Asked, resting_on, waits_for, worked, worked_within
from survey.quantities.named import Named
from survey.quantities.pits import Pit
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN

# How far a pit goes in under the footing: the width of the cut for the bracket, common practice.
UNDER_FOOTING_IN = 16.0
# A heap of loose ground lies no flatter than dry sand does: common practice.
REPOSE_SLOPE = 2.1
# Along how much of the wall the spoil of one pit is laid at least: common practice.
_HEAP_LENGTH_IN = 96.0
_BY_TABLE = "appendix table"
_HYDRAULIC = "hydraulic shoring"
_SHORED = ("timber shoring", _HYDRAULIC)


def of_pier(pit: Pit, site: Asked, ground: Ground, pressure: Quantity) -> Named:
    """Slope by Appendix B, spoil, room, side pressure and shoring of one pit.

    Args:
        pit: the pit.
        site: answers of the site.
        ground: the soil layers.
        pressure: of the footing beside it, psf.
    """
    depth = pit.asked["pit depth"]
    return {
        "steepest slope by appendix": _steepest(pit, site),
        **_spoil(pit, ground.groups(pit.floor)),
        "side pressure": worked(side_pressure.appendix_c_pressure, pit.soil_class, depth),
        "appendix tables hold": _tables_hold(pit, site, pressure),
        "shoring by table": _by_table(pit),
    }


def _steepest(pit: Pit, site: Asked) -> Quantity:
    depth, signs = pit.asked.some("pit depth", "cave-in signs")
    short = site["open a day at most"]
    found = slopes.appendix_b_slope(
        pit.soil_class.result.value, depth.answer.value, short.answer.value, signs.answer.value
    )
    return resting_on(found, pit.soil_class, depth, short, signs)


def _spoil(pit: Pit, groups: Quantity) -> Named:
    depth, length, width = pit.asked.some("pit depth", "pit length", "pit width")
    footing = pit.asked["footing depth"]
    beside = worked(spoil.pit_volume, length, width, depth, pit.reach)
    under = worked(
        lambda p, opening, h, f: spoil.volume_under_footing(p, opening, UNDER_FOOTING_IN, h, f),
        length, pit.opening, depth, footing,
    )  # fmt: skip
    volume = worked(spoil.volume_dug, beside, under, after=(beside, under))
    bulking = worked(_bulking, groups)
    loose = worked(spoil.spoil_volume, volume, bulking, after=(bulking,))
    base = worked(
        lambda spoilt, p: spoil.heap_base_width(spoilt, max(p, _HEAP_LENGTH_IN), REPOSE_SLOPE),
        loose,
        length,
    )
    return {
        "pit volume": volume,
        "spoil volume": loose,
        "spoil weight": worked(
            lambda dug, met_groups: spoil.spoil_weight(dug, heaviest_pcf(met_groups)),
            volume, groups,
        ),
        "ground needed out from wall": worked(
            spoil.ground_needed, width, pit.reach, pit.asked["spoil distance"], base, after=(base,)
        ),
    }  # fmt: skip


@cache
def _bulking(groups: str) -> Result:
    return spoil.greatest_bulking(groups.split(met.BETWEEN))


def _tables_hold(pit: Pit, site: Asked, pressure: Quantity) -> Quantity:
    side = pit.asked["side protection"]
    if side.answer.value not in _SHORED:
        return _no_shoring(side)
    depth, footing, in_place, spoil_distance = pit.asked.some(
        "pit depth", "footing depth", "protection in place before entry", "spoil distance"
    )
    heavy = site["heaviest load near a pit"]
    beside = shoring_tables.BesidePit(
        pit_depth_in=depth.answer.value,
        footing_distance_in=0.0,  # the pit is dug beside the footing
        footing_depth_in=footing.answer.value,
        footing_pressure_psf=pressure.result.value,
        stored_pressure_psf=_stored(spoil_distance.answer.value, depth.answer.value, heavy),
        equipment_load_lb=heavy.answer.value,
        brace_load_lb=NOT_KNOWN,  # nobody is asked, so the tables are never said to hold
        whole_depth_held=in_place.answer.value,
    )
    found = shoring_tables.tables_usable(str(side.answer.value), beside)
    return resting_on(found, side, depth, footing, pressure, heavy, in_place, spoil_distance)


def _stored(spoil_distance_in: Value, depth_in: Value, heavy: Input) -> Value:
    """Stored material near the edge: none where spoil and loads lie at least the depth away."""
    if not isinstance(spoil_distance_in, (int, float)) or not isinstance(depth_in, (int, float)):
        return NOT_KNOWN
    return 0.0 if spoil_distance_in >= depth_in and heavy.answer.value == 0 else NOT_KNOWN


def footing_pressure(wall: Asked, line_load: Quantity) -> Quantity:
    """Service load over the width of the footing, or of the wall where there is none, psf."""
    kind = wall["footing kind"]
    width = wall["wall thickness" if kind.answer.value == "none found" else "footing width"]
    return worked_within(
        lambda plf, _, width_in: side_pressure.footing_pressure(plf, width_in),
        line_load, kind, width,
    )  # fmt: skip


def _by_table(pit: Pit) -> Quantity:
    side, design = pit.asked.some("side protection", "protection design")
    if side.answer.value not in _SHORED:
        return _no_shoring(side)
    if design.answer.value != _BY_TABLE and design.answer.value is not NOT_KNOWN:
        return Quantity(Result(DOES_NOT_APPLY, "not designed by the tables"), (side, design))
    depth, length, width = pit.asked.some("pit depth", "pit length", "pit width")
    sizes = (pit.soil_class, depth, length, width)
    if side.answer.value == _HYDRAULIC:
        # Ground beside a wall was dug before and may ravel: sheeted, which is the stricter way.
        return worked(
            lambda _side, _design, found, h, p, w: hydraulic_shoring.hydraulic_shoring(
                found, "yes", h, max(p, w)
            ),
            side, design, *sizes,
        )  # fmt: skip
    wood, spacing = pit.asked.some("shoring timber", "brace spacing")
    return worked(
        lambda _side, _design, found, h, p, w, timber, apart: timber_shoring.timber_shoring(
            timber, found, h, max(p, w), apart
        ),
        side, design, *sizes, wood, spacing,
    )  # fmt: skip


def _no_shoring(side: Input) -> Quantity:
    if side.answer.value is NOT_KNOWN:
        return waits_for(side)
    return Quantity(Result(DOES_NOT_APPLY, "the pit is not shored"), (side,))
