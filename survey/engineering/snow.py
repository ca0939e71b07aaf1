"""Snow on the roof, and the roof load that counts: snow or roof live load.

ASCE 7-16 with a ground snow load of 50 years, as a building office gives it. A ground snow load
out of ASCE 7-22 is larger (it is meant for a load factor of 1), so that the figure here is then
on the safe side. Where the form does not ask, the worse case is taken: of terrain B and C the one
with more snow, a roof of no slope, and over a heated room a cold, ventilated roof.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from survey.engineering._steps import given, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.vocabulary import Kind

MOST_GROUND_SNOW_PSF = 400.0
ROOF_LIVE_PSF = 20.0  # Table 4.3-1, ordinary flat, pitched and curved roofs
# Table 7.3-1, the larger of terrain B and C; sheltered is 1.2 in B and 1.1 in C.
EXPOSURE: Mapping[str, float] = MappingProxyType(
    {"fully exposed": 0.9, "partially exposed": 1.0, "sheltered": 1.2}
)
# Table 7.3-2; 1.0 holds only for a heated room without a cold, ventilated roof over R-25.
THERMAL: Mapping[str, float] = MappingProxyType(
    {"heated": 1.1, "kept just above freezing": 1.1, "unheated": 1.2}
)
_IMPORTANCE = 1.0  # Table 1.5-2, risk category II
_FLAT_SHARE = 0.7
_LOW_SLOPE_MOST_PSF = 20.0

_FLAT = "ASCE 7-16 7.3, from memory"
_EXPOSURE_TABLE = "ASCE 7-16 Table 7.3-1, from memory; worse of terrain B and C"
_THERMAL_TABLE = (
    "ASCE 7-16 Table 7.3-2, from memory; over a heated room 1.1, as for a cold, ventilated roof"
)
_IMPORTANCE_TABLE = "ASCE 7-16 Table 1.5-2, risk category II, from memory"
_LOW_SLOPE = "ASCE 7-16 7.3.4, from memory; taken for every roof"
_LIVE_TABLE = "ASCE 7 Table 4.3-1"
SOURCE = f"{_LIVE_TABLE}; {_FLAT}"
VALIDITY = "even snow on dwellings; drifts, sliding snow, uneven snow and ponding are not in it"


def flat_roof_snow(ground_snow_load_psf: float, roof_exposure: str, roof_heating: str) -> Result:
    """Snow on a roof.

    S = the larger of pf = 0.7 Ce Ct Is pg and pm = Is times the smaller of pg and 20 psf; not
    made less for a sloped roof.

    Args:
        ground_snow_load_psf: pg, psf, 0 to 400.
        roof_exposure: fully exposed, partially exposed or sheltered; gives Ce.
        roof_heating: heated, kept just above freezing or unheated; gives Ct. "Heated" counts
            as 1.1, because whether the roof is cold and ventilated is not asked.

    Returns:
        Load on the plan area of the roof, psf.

    Not known when:
        The ground snow load is out of its range, or a word is none of these.

    Source:
        ASCE 7-16 7.3, 7.3.4, Tables 7.3-1, 7.3-2 and 1.5-2, from memory.

    >>> flat_roof_snow(50.0, "sheltered", "unheated").value
    50.4
    """
    reason = out_of_range(ground_snow_load_psf, roof_exposure, roof_heating)
    if reason:
        return not_known(reason)
    lines = snow_lines(ground_snow_load_psf, roof_exposure, roof_heating)
    snow = snow_psf(ground_snow_load_psf, roof_exposure, roof_heating)
    return Result(snow, working=Working("Snow on the roof", _FLAT, VALIDITY, lines))


def roof_load(ground_snow_load_psf: float, roof_exposure: str, roof_heating: str) -> Result:
    """Roof live load or snow, whichever is larger.

    pr = max(20, S).

    Args:
        ground_snow_load_psf: pg, psf, 0 to 400.
        roof_exposure: as for :func:`flat_roof_snow`.
        roof_heating: as for :func:`flat_roof_snow`.

    Returns:
        Load on the plan area of the roof, psf, at least 20.

    Not known when:
        The snow is not known.

    Source:
        ASCE 7 Table 4.3-1 (20 psf, not reduced); snow as in :func:`flat_roof_snow`.

    >>> roof_load(50.0, "partially exposed", "heated").value
    38.5
    """
    reason = out_of_range(ground_snow_load_psf, roof_exposure, roof_heating)
    if reason:
        return not_known(reason)
    lines = roof_lines(ground_snow_load_psf, roof_exposure, roof_heating)
    load = roof_psf(ground_snow_load_psf, roof_exposure, roof_heating)
    return Result(load, working=Working("Roof load", SOURCE, VALIDITY, lines))


def out_of_range(ground_snow_load_psf: float, roof_exposure: str, roof_heating: str) -> str:
    """Why the snow can't be told from these; empty if it can."""
    for name, word, table in (("exposure", roof_exposure, EXPOSURE),
                              ("heating", roof_heating, THERMAL)):  # fmt: skip
        if word not in table:
            return f"no snow factor is given for a roof {name} of '{word}'"
    limit = ("ground snow load", ground_snow_load_psf, 0.0, MOST_GROUND_SNOW_PSF, "psf")
    return outside(limit)


def snow_psf(pg: float, roof_exposure: str, roof_heating: str) -> float:
    """S in psf, for figures within their ranges."""
    flat, low = _flat_and_low(pg, EXPOSURE[roof_exposure], THERMAL[roof_heating])
    return max(flat, low)


def roof_psf(pg: float, roof_exposure: str, roof_heating: str) -> float:
    """The larger of roof live load and snow in psf, for figures within their ranges."""
    return max(ROOF_LIVE_PSF, snow_psf(pg, roof_exposure, roof_heating))


def _flat_and_low(pg: float, ce: float, ct: float) -> tuple[float, float]:
    # Rounded to a millionth, so that 0.7 of a round figure prints and compares as one.
    flat = round(_FLAT_SHARE * ce * ct * _IMPORTANCE * pg, 6)
    return flat, _IMPORTANCE * min(pg, _LOW_SLOPE_MOST_PSF)


def snow_lines(pg: float, roof_exposure: str, roof_heating: str) -> tuple[Line, ...]:
    """The working of S, for figures within their ranges."""
    ce, ct = EXPOSURE[roof_exposure], THERMAL[roof_heating]
    flat, low = _flat_and_low(pg, ce, ct)
    return (
        given("pg", "ground snow load", pg, Kind.PRESSURE),
        noted("Ce", f"exposure factor, {roof_exposure}", number(ce), _EXPOSURE_TABLE),
        noted("Ct", f"thermal factor, {roof_heating}", number(ct), _THERMAL_TABLE),
        noted("Is", "importance factor", number(_IMPORTANCE, 1), _IMPORTANCE_TABLE),
        Line("pf", "flat roof snow", "0.7 Ce Ct Is pg",
             f"0.7 x {number(ce)} x {number(ct)} x {number(_IMPORTANCE)} x {number(pg)}",
             f"{number(flat)} psf", _FLAT),
        Line("pm", "least snow on a low slope", "Is min(pg, 20)",
             f"{number(_IMPORTANCE)} x min({number(pg)}, 20)", f"{number(low)} psf", _LOW_SLOPE),
        Line("S", "snow", "max(pf, pm)", f"max({number(flat)}, {number(low)})",
             f"{number(max(flat, low))} psf"),
    )  # fmt: skip


def roof_lines(pg: float, roof_exposure: str, roof_heating: str) -> tuple[Line, ...]:
    """The working of the roof load, for figures within their ranges."""
    snow = snow_psf(pg, roof_exposure, roof_heating)
    return (
        *snow_lines(pg, roof_exposure, roof_heating),
        Line("pr", "roof live load or snow", "max(20, S)", f"max(20, {number(snow)})",
             f"{number(max(ROOF_LIVE_PSF, snow))} psf", _LIVE_TABLE),
    )  # fmt: skip
