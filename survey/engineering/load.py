"""Load on the footing: dead, floor live and roof or snow load per foot of wall; load on a pier.

Assumed where the form does not ask (common practice): storeys 9 ft floor to floor, floors
10 psf and roof with ceiling 15 psf dead, roofs reach 1 ft beyond the wall, an attic over the
longer of the floor and roof spans, joists and rafters that bear on this wall with half of
their span, block walls filled solid. Snow exposure, thermal and importance factors are 1.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import NamedTuple

from survey.engineering._steps import given, inches, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.vocabulary import Kind

_PRACTICE = "common practice"
_LIVE_TABLE = "ASCE 7 Table 4.3-1"
_DEAD_TABLE = "ASCE 7 Table C3.1-1, from memory"
_DENSITY_TABLE = "ASCE 7 Table C3.1-2, from memory"
_COMBINATIONS = "ASCE 7 2.3.1, from memory"
_SNOW = "ASCE 7 7.3, from memory"
_METHOD = "ASCE 7 ch. 2 to 4 and 7; tables in part from memory; assumptions common practice"
_VALID = "dwellings of up to 6 storeys, spans to the next support"

_STOREY_FT = 9.0
_EAVE_FT = 1.0
_FLOOR_DEAD_PSF = 10.0
_ROOF_DEAD_PSF = 15.0
_FLOOR_LIVE_PSF = 40.0
_ATTIC_LIVE_PSF = 10.0
_ROOF_LIVE_PSF = 20.0
_SNOW_SHARE = 0.7
_CLADDING_PSF = {"light siding or stucco": 11.0, "brick or stone veneer": 48.0}
# Weight of the foundation wall, pounds per cubic foot, and where it is from.
_WALL_PCF = {
    "poured concrete": (150.0, _DENSITY_TABLE),
    "concrete block": (135.0, f"{_DEAD_TABLE}: 135 pcf units; filled solid, {_PRACTICE}"),
    "brick": (117.0, f"{_DEAD_TABLE}: 39 psf for 4 in"),
    "wood": (33.0, f"{_DEAD_TABLE}: 11 psf for a 4 in stud wall"),
    "dry-laid stone": (165.0, _PRACTICE),
    "rubble": (165.0, _PRACTICE),
}
_FOOTING_PCF = {
    "concrete": (150.0, _DENSITY_TABLE),
    "thickened slab edge": (150.0, _DENSITY_TABLE),
    "brick or stone": (165.0, _PRACTICE),
    "rubble": (165.0, _PRACTICE),
    "none found": (0.0, "no footing"),
}


class WallAbove(NamedTuple):
    """What a wall carries and is made of.

    Args:
        wall_material: of the foundation wall.
        wall_thickness_in: of the foundation wall, in, 2 to 60.
        wall_height_in: of the foundation wall above its footing, in, 0 to 360.
        storeys: above the foundation wall, 0 to 6.
        wall_cladding: of the storeys above.
        floor_span_in: span of the joists that rest on it, in, 0 to 720.
        roof_span_in: span of the rafters or trusses that rest on it, in, 0 to 1,200.
        ground_snow_load_psf: psf, 0 to 400.
        footing_kind: what the wall stands on.
        footing_thickness_in: in, 0 to 72; 0 without a footing.
        footing_width_in: in, 0 to 120; 0 without a footing.
    """

    wall_material: str
    wall_thickness_in: float
    wall_height_in: float
    storeys: float
    wall_cladding: str
    floor_span_in: float
    roof_span_in: float
    ground_snow_load_psf: float
    footing_kind: str
    footing_thickness_in: float = 0.0
    footing_width_in: float = 0.0


class _Loads(NamedTuple):
    dead_plf: float
    live_plf: float
    roof_plf: float
    lines: tuple[Line, ...]


def wall_line_load(wall: WallAbove) -> Result:
    """Service load on the footing of a wall.

    w = D + L + R, with R the larger of roof live load and roof snow.

    Args:
        wall: what the wall carries and is made of; its figures have their ranges there.

    Returns:
        Load per foot of wall, plf, down.

    Not known when:
        A figure is out of its range.

    Source:
        ASCE 7 Tables 4.3-1, C3.1-1, C3.1-2 and 7.3, in part from memory; the assumptions of
        this module are common practice. The sum is not reduced as 2.4.1 would allow.
    """
    return _line_load(wall, "Service load on the footing", _service)


def factored_line_load(wall: WallAbove) -> Result:
    """Load on the footing of a wall for strength checks.

    wu = the largest of 1.4 D, 1.2 D + 1.6 L + 0.5 R and 1.2 D + 1.6 R + L.

    Args:
        wall: what the wall carries and is made of; its figures have their ranges there.

    Returns:
        Load per foot of wall, plf, down.

    Not known when:
        A figure is out of its range.

    Source:
        ASCE 7 2.3.1, from memory; loads as in :func:`wall_line_load`.
    """
    return _line_load(wall, "Factored load on the footing", _factored)


def _line_load(
    wall: WallAbove, title: str, combined: Callable[[_Loads], tuple[float, tuple[Line, ...]]]
) -> Result:
    """A load per foot of wall, from its dead, live and roof load."""
    reason = _out_of_range(wall)
    if reason:
        return not_known(reason)
    loads = _loads(wall)
    total, steps = combined(loads)
    return Result(total, working=Working(title, _METHOD, _VALID, loads.lines + steps))


def _service(loads: _Loads) -> tuple[float, tuple[Line, ...]]:
    dead, live, roof = loads.dead_plf, loads.live_plf, loads.roof_plf
    total = dead + live + roof
    numbers = f"{number(dead)} + {number(live)} + {number(roof)}"
    return total, (Line("w", "service load", "D + L + R", numbers, f"{number(total)} plf"),)


def _factored(loads: _Loads) -> tuple[float, tuple[Line, ...]]:
    d, lv, r = loads.dead_plf, loads.live_plf, loads.roof_plf
    dn, ln, rn = number(d), number(lv), number(r)
    combinations = (
        (1.4 * d, "1.4 D", f"1.4 x {dn}"),
        (1.2 * d + 1.6 * lv + 0.5 * r, "1.2 D + 1.6 L + 0.5 R",
         f"1.2 x {dn} + 1.6 x {ln} + 0.5 x {rn}"),
        (1.2 * d + 1.6 * r + lv, "1.2 D + 1.6 R + L", f"1.2 x {dn} + 1.6 x {rn} + {ln}"),
    )  # fmt: skip
    steps = tuple(
        Line("", "strength combination", formula, numbers, f"{number(load)} plf", _COMBINATIONS)
        for load, formula, numbers in combinations
    )
    largest = max(load for load, _, _ in combinations)
    last = Line("wu", "factored load", "the largest of these", "", f"{number(largest)} plf")
    return largest, (*steps, last)


def roof_load(ground_snow_load_psf: float) -> Result:
    """Roof live load or snow on a roof, whichever is larger.

    R = max(20, 0.7 pg).

    Args:
        ground_snow_load_psf: pg, psf, 0 to 400.

    Returns:
        Load on the plan area of the roof, psf.

    Not known when:
        The ground snow load is out of its range.

    Source:
        ASCE 7 Table 4.3-1 (20 psf) and 7.3 (flat roof snow, factors of 1), from memory.

    >>> roof_load(50.0).value
    35.0
    """
    reason = outside(("ground snow load", ground_snow_load_psf, 0.0, 400.0, "psf"))
    if reason:
        return not_known(reason)
    load = _roof_psf(ground_snow_load_psf)
    lines = (given("pg", "ground snow load", ground_snow_load_psf, Kind.PRESSURE),
             _roof_line(ground_snow_load_psf))  # fmt: skip
    return Result(load, working=Working("Roof load", _SNOW, "pg 0 to 400 psf", lines))


def _roof_psf(ground_snow_load_psf: float) -> float:
    # Rounded to a millionth, so that 0.7 of a round figure prints and compares as one.
    return max(_ROOF_LIVE_PSF, round(_SNOW_SHARE * ground_snow_load_psf, 6))


def _roof_line(pg: float) -> Line:
    return Line("pr", "roof live load or snow", "max(20, 0.7 pg)", f"max(20, 0.7 x {number(pg)})",
                f"{number(_roof_psf(pg))} psf", f"{_LIVE_TABLE}; {_SNOW}")  # fmt: skip


def _out_of_range(wall: WallAbove) -> str:
    return outside(
        ("wall thickness", wall.wall_thickness_in, 2.0, 60.0, "in"),
        ("wall height", wall.wall_height_in, 0.0, 360.0, "in"),
        ("storeys", wall.storeys, 0.0, 6.0, ""),
        ("floor span", wall.floor_span_in, 0.0, 720.0, "in"),
        ("roof span", wall.roof_span_in, 0.0, 1200.0, "in"),
        ("footing thickness", wall.footing_thickness_in, 0.0, 72.0, "in"),
        ("footing width", wall.footing_width_in, 0.0, 120.0, "in"),
        ("ground snow load", wall.ground_snow_load_psf, 0.0, 400.0, "psf"),
    )


@lru_cache(maxsize=256)
def _loads(wall: WallAbove) -> _Loads:
    """Dead, live and roof load of a wall with their lines; both line loads need them."""
    n = wall.storeys
    floor = wall.floor_span_in / 12 / 2
    roof = wall.roof_span_in / 12 / 2 + (_EAVE_FT if wall.roof_span_in > 0 else 0.0)
    attic = max(wall.floor_span_in, wall.roof_span_in) / 12 / 2
    thickness, height = wall.wall_thickness_in, wall.wall_height_in
    footing_b, footing_t = wall.footing_width_in, wall.footing_thickness_in
    cladding = _CLADDING_PSF[wall.wall_cladding]
    wall_pcf, wall_source = _WALL_PCF[wall.wall_material]
    footing_pcf, footing_source = _FOOTING_PCF[wall.footing_kind]
    roof_psf = _roof_psf(wall.ground_snow_load_psf)

    sizes = (
        noted("n", "storeys", number(n)),
        noted("lf", "half of the floor span", f"{number(floor)} ft"),
        noted("lr", "half of the roof span, and 1 ft of eave", f"{number(roof)} ft", _PRACTICE),
        noted("la", "half of the longer span, for the attic", f"{number(attic)} ft", _PRACTICE),
        noted("t, h", "foundation wall, thickness and height",
              f"{number(thickness)} in, {number(height)} in"),
        noted("b, T", "footing, width and thickness",
              f"{number(footing_b)} in, {number(footing_t)} in"),
        _roof_line(wall.ground_snow_load_psf),
    )  # fmt: skip
    walls = n * _STOREY_FT * cladding
    floors = n * floor * _FLOOR_DEAD_PSF
    roofs = roof * _ROOF_DEAD_PSF
    own = thickness * height * wall_pcf / 144
    footing = footing_b * footing_t * footing_pcf / 144
    dead = walls + floors + roofs + own + footing
    live = n * floor * _FLOOR_LIVE_PSF + attic * _ATTIC_LIVE_PSF
    roof_plf = roof * roof_psf
    steps = (
        _plf("D1", f"walls above, {wall.wall_cladding}", "n x 9 ft x psf",
             f"{number(n)} x 9 x {number(cladding)}", walls,
             source=f"{_DEAD_TABLE}; 9 ft {_PRACTICE}"),
        _plf("D2", "floors", "n lf x 10 psf", f"{number(n)} x {number(floor)} x 10", floors,
             source=_PRACTICE),
        _plf("D3", "roof and ceiling", "lr x 15 psf", f"{number(roof)} x 15", roofs,
             source=_PRACTICE),
        _plf("D4", f"foundation wall, {wall.wall_material}", "t h x pcf / 144",
             f"{number(thickness)} x {number(height)} x {number(wall_pcf)} / 144", own,
             source=wall_source),
        _plf("D5", f"footing, {wall.footing_kind}", "b T x pcf / 144",
             f"{number(footing_b)} x {number(footing_t)} x {number(footing_pcf)} / 144", footing,
             source=footing_source),
        _plf("D", "dead load", "D1 + D2 + D3 + D4 + D5",
             " + ".join(number(part) for part in (walls, floors, roofs, own, footing)), dead),
        _plf("L", "live load, floors and attic", "n lf x 40 psf + la x 10 psf",
             f"{number(n)} x {number(floor)} x 40 + {number(attic)} x 10", live,
             source=_LIVE_TABLE),
        _plf("R", "roof live load or snow", "lr pr", f"{number(roof)} x {number(roof_psf)}",
             roof_plf, source=f"{_LIVE_TABLE}; {_SNOW}"),
    )  # fmt: skip
    return _Loads(dead, live, roof_plf, sizes + steps)


def _plf(
    symbol: str, meaning: str, formula: str, numbers: str, load: float, *, source: str = ""
) -> Line:
    return Line(symbol, meaning, formula, numbers, f"{number(load)} plf", source)


def tributary_length(
    wall_length_in: float, station_in: float, other_stations_in: tuple[float, ...]
) -> Result:
    """Length of wall that a pier carries.

    Half way to the pier next to it on each side; from an end pier to the corner the whole of
    it.

    Args:
        wall_length_in: in, 12 to 6,000.
        station_in: station of the pier, in, 0 to the wall length.
        other_stations_in: stations of the other piers on the same wall, in, in any order.

    Returns:
        Length, in.

    Not known when:
        A station is not on the wall, or another pier stands at the same station.

    Source:
        Common practice.

    >>> tributary_length(360.0, 60.0, (180.0, 300.0)).value
    120.0
    """
    reason = outside(
        ("wall length", wall_length_in, 12.0, 6000.0, "in"),
        *(("station", s, 0.0, wall_length_in, "in") for s in (station_in, *other_stations_in)),
    )
    if reason:
        return not_known(reason)
    if station_in in other_stations_in:
        return not_known("another pier stands at the same station of this wall")
    left = max((s for s in other_stations_in if s < station_in), default=None)
    right = min((s for s in other_stations_in if s > station_in), default=None)
    start = 0.0 if left is None else (left + station_in) / 2
    end = wall_length_in if right is None else (right + station_in) / 2
    length = end - start
    lines = (
        inches("s", "station of the pier", station_in),
        inches("a", "carries from station", start),
        inches("b", "carries to station", end),
        Line("l", "length of wall it carries", "b - a", f"{number(end)} - {number(start)}",
             f"{number(length)} in", _PRACTICE),
    )  # fmt: skip
    valid = "piers on one wall; the wall spans between them"
    return Result(length, working=Working("Length of wall a pier carries", _PRACTICE, valid, lines))


def pier_load(
    line_load_plf: float,
    wall_length_in: float,
    station_in: float,
    other_stations_in: tuple[float, ...],
) -> Result:
    """Load on a pier.

    P = w l / 12, with l the length of wall that it carries.

    Args:
        line_load_plf: w, service or factored, plf, 0 to 1,000,000.
        wall_length_in: in, 12 to 6,000.
        station_in: station of the pier, in, 0 to the wall length.
        other_stations_in: stations of the other piers on the same wall, in, in any order.

    Returns:
        Load, lb, down, of the same kind as the line load.

    Not known when:
        The line load is out of its range, or the length of wall that it carries is not known.

    Source:
        Statics; :func:`tributary_length` is common practice.

    >>> pier_load(1800.0, 360.0, 60.0, (180.0, 300.0)).value
    18000.0
    """
    carried = tributary_length(wall_length_in, station_in, other_stations_in)
    reason = outside(("line load", line_load_plf, 0.0, 1e6, "plf")) or carried.reason
    if reason:
        return not_known(reason)
    assert isinstance(carried.value, float)
    assert carried.working is not None
    load = line_load_plf * carried.value / 12
    lines = (
        given("w", "line load", line_load_plf, Kind.LINE_LOAD),
        *carried.working.lines,
        Line("P", "load on the pier", "w l / 12",
             f"{number(line_load_plf)} x {number(carried.value)} / 12", f"{number(load)} lb"),
    )  # fmt: skip
    valid = carried.working.validity
    return Result(load, working=Working("Load on the pier", "statics", valid, lines))
