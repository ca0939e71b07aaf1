"""What the parts of a house weigh, at the most and at the least that a word of the form allows.

A word such as "concrete block" stands for walls of different weight. What presses on a footing is
reckoned with the heaviest of them, what there is to push a pier against with the lightest.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

PRACTICE = "common practice"
_DEAD_TABLE = "ASCE 7 Table C3.1-1, from memory"
_DENSITY_TABLE = "ASCE 7 Table C3.1-2, from memory"
_HUD_TABLE = "HUD Residential Structural Design Guide Table 3.2, from memory"

Figure = tuple[float, str]


class Weights(NamedTuple):
    """One set of weights, each with its source.

    Args:
        storey_ft: height of a storey, floor to floor.
        gable_ft: mean height of a gable over the storeys.
        rake_ft: width of roof that a gable wall carries.
        eave_ft: how far the roof stands out beyond the wall.
        span_share: share of the span of joists and rafters that the wall carries.
        floor_psf: dead load of a floor.
        roof_psf: dead load of roof and ceiling, on plan.
        cladding_psf: a wall of the storeys, by its cladding.
        wall_pcf: the foundation wall, by its material.
        footing_pcf: the footing, by its kind.
    """

    storey_ft: Figure
    gable_ft: float
    rake_ft: float
    eave_ft: float
    span_share: Figure
    floor_psf: Figure
    roof_psf: Figure
    cladding_psf: Mapping[str, Figure]
    wall_pcf: Mapping[str, Figure]
    footing_pcf: Mapping[str, Figure]


_SOLID_STONE = (165.0, f"{_DENSITY_TABLE}: granite ashlar")
_LOOSE_STONE = (100.0, f"stone with voids, {PRACTICE}")
_NO_FOOTING = (0.0, "no footing")

HEAVY = Weights(
    storey_ft=(9.0, PRACTICE),
    gable_ft=4.5,
    rake_ft=2.0,
    eave_ft=1.0,
    span_share=(0.5, f"half of the span, {PRACTICE}"),
    floor_psf=(10.0, f"{_HUD_TABLE}; {PRACTICE}"),
    roof_psf=(15.0, f"{_HUD_TABLE}: shingles, sheathing, rafters, ceiling; {PRACTICE}"),
    cladding_psf=MappingProxyType({
        # A stud wall without its siding weighs 48 - 39 psf by the same table.
        "light siding or stucco": (
            19.0, f"{_DEAD_TABLE}: stud wall 48 - 39 = 9 psf; 7/8 in of stucco 10 psf, {PRACTICE}"
        ),
        "brick or stone veneer": (48.0, _DEAD_TABLE),
    }),
    wall_pcf=MappingProxyType({
        "poured concrete": (150.0, f"{_DENSITY_TABLE}: reinforced"),
        "concrete block": (140.0, f"{_DENSITY_TABLE}: grout; filled solid, {PRACTICE}"),
        "brick": (130.0, f"{_DENSITY_TABLE}: hard brick"),
        "wood": (47.0, f"{_DENSITY_TABLE}: oak; solid timber, {PRACTICE}"),
        "dry-laid stone": _SOLID_STONE,
        "rubble": _SOLID_STONE,
    }),
    footing_pcf=MappingProxyType({
        "concrete": (150.0, f"{_DENSITY_TABLE}: reinforced"),
        "thickened slab edge": (150.0, f"{_DENSITY_TABLE}: reinforced"),
        "brick or stone": _SOLID_STONE,
        "rubble": _SOLID_STONE,
        "none found": _NO_FOOTING,
    }),
)  # fmt: skip

LIGHT = Weights(
    storey_ft=(8.0, PRACTICE),
    gable_ft=0.0,
    rake_ft=0.0,
    eave_ft=0.0,
    span_share=(0.375, "3/8, joists that run on over one more support; statics"),
    floor_psf=(8.0, f"{_HUD_TABLE}: without a ceiling"),
    roof_psf=(12.0, f"{_HUD_TABLE}: metal roof 14 psf, less a ceiling of 2 psf"),
    cladding_psf=MappingProxyType({
        "light siding or stucco": (6.0, f"{_HUD_TABLE}: stud wall with sheathing"),
        # Thin veneer of 10 psf on three quarters of the wall, windows of 8 psf on the rest.
        "brick or stone veneer": (
            14.0, f"thin veneer 10 psf on a wall of 6 psf, a quarter of it windows, {PRACTICE}"
        ),
    }),
    wall_pcf=MappingProxyType({
        "poured concrete": (144.0, f"{_DENSITY_TABLE}: plain"),
        "concrete block": (43.0, f"{_DEAD_TABLE}: hollow units of 12 in, 105 pcf, 43 psf"),
        "brick": (100.0, f"{_DENSITY_TABLE}: soft brick"),
        "wood": (18.0, f"{_HUD_TABLE}: 6 psf for a 4 in stud wall"),
        "dry-laid stone": _LOOSE_STONE,
        "rubble": _LOOSE_STONE,
    }),
    footing_pcf=MappingProxyType({
        "concrete": (144.0, f"{_DENSITY_TABLE}: plain"),
        "thickened slab edge": (144.0, f"{_DENSITY_TABLE}: plain"),
        "brick or stone": (100.0, f"{_DENSITY_TABLE}: soft brick"),
        "rubble": _LOOSE_STONE,
        "none found": _NO_FOOTING,
    }),
)  # fmt: skip
