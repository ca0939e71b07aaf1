"""Load on the footing, per foot of wall: dead, floor live and roof or snow load.

Assumed where the form does not ask (common practice): every room 40 psf, also sleeping rooms, for
which ASCE 7 has 30; storeys of 9 ft; floors 10 psf and roof with ceiling 15 psf dead; roofs reach
1 ft beyond the wall; an attic over the longer of the floor and roof spans; half of the span of
joists and rafters on this wall; block walls filled solid; on a wall without rafters a gable of
4.5 ft mean height and 2 ft of roof, if they weigh more. What presses down is reckoned with the
heaviest construction that a word of the form allows, what there is to push against with the
lightest (:mod:`survey.engineering._weights`).
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import NamedTuple

from survey.engineering import snow
from survey.engineering._steps import inches, noted, number, outside
from survey.engineering._weights import HEAVY, LIGHT, PRACTICE, Weights
from survey.engineering.tributary import pier_load, tributary_length
from survey.engineering.working import Line, Result, Working, not_known

# What piers carry was part of this module before, and is still found by its name.
__all__ = [
    "LIMITS", "WORDS", "WallAbove", "dead_line_load", "factored_line_load", "out_of_range",
    "pier_load", "soil_on_footing", "tributary_length", "wall_line_load",
]  # fmt: skip

_LIVE_TABLE = "ASCE 7 Table 4.3-1"
_FLOOR_SOURCE = f"{_LIVE_TABLE}; sleeping rooms counted as 40 too"
_COMBINATIONS = "ASCE 7-16 2.3.1, from memory"
_EARTH_SOURCE = "ASCE 7 Table C3.1-2, wet sand and gravel, from memory"
_METHOD = "ASCE 7 ch. 2 to 4 and 7; tables in part from memory; assumptions common practice"
_VALID = (
    "light-frame dwellings of up to 6 storeys, spans to the next support, veneer of up to 39 psf, "
    "roofs of shingles, wood or metal (not tile or slate); chimneys, posts, beams, soil on the "
    f"footing, wind and earthquake are not in it; {snow.VALIDITY}"
)
_LEAST_VALID = (
    "light-frame dwellings of up to 6 storeys, spans to the next support; openings for doors and "
    "garage doors are not taken off. ASCE 7 counts 0.6 D (2.4.1) or 0.9 D (2.3.1, from memory) of "
    "a dead load that holds down"
)
_LEAST_METHOD = "ASCE 7 ch. 3 tables, from memory; lightest construction, in part common practice"

_FLOOR_LIVE_PSF = 40.0
_ATTIC_LIVE_PSF = {"no": 10.0, "yes": 20.0}
_EARTH_PCF = 120.0

LIMITS = (
    # Field of a wall, its name, lowest and highest value and unit.
    ("wall_thickness_in", "wall thickness", 2.0, 60.0, "in"),
    ("wall_height_in", "wall height", 0.0, 360.0, "in"),
    ("storeys", "storeys", 0.0, 6.0, ""),
    ("floor_span_in", "floor span", 0.0, 720.0, "in"),
    ("roof_span_in", "roof span", 0.0, 1200.0, "in"),
    ("footing_thickness_in", "footing thickness", 0.0, 72.0, "in"),
    ("footing_width_in", "footing width", 0.0, 120.0, "in"),
    ("ground_snow_load_psf", "ground snow load", 0.0, snow.MOST_GROUND_SNOW_PSF, "psf"),
)
WORDS = (
    # Field of a wall, its name, and what each of its words stands for, at the most and the least.
    ("wall_material", "wall material", HEAVY.wall_pcf, LIGHT.wall_pcf),
    ("wall_cladding", "wall cladding", HEAVY.cladding_psf, LIGHT.cladding_psf),
    ("footing_kind", "footing kind", HEAVY.footing_pcf, LIGHT.footing_pcf),
    ("roof_exposure", "roof exposure", snow.EXPOSURE, snow.EXPOSURE),
    ("roof_heating", "roof heating", snow.THERMAL, snow.THERMAL),
    ("attic_storage", "attic used for storage", _ATTIC_LIVE_PSF, _ATTIC_LIVE_PSF),
)


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
        roof_exposure: fully exposed, partially exposed or sheltered.
        roof_heating: heated, kept just above freezing or unheated.
        attic_storage: yes or no, whether the attic is used for storage.
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
    footing_thickness_in: float
    footing_width_in: float
    roof_exposure: str
    roof_heating: str
    attic_storage: str


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
        ASCE 7-16 2.3.1, gravity only, from memory; loads as in :func:`wall_line_load`. L is
        not halved in the last combination, as 2.3.1 would allow.
    """
    return _line_load(wall, "Factored load on the footing", _factored)


def dead_line_load(wall: WallAbove) -> Result:
    """Least dead load on the footing of a wall: what there is to push against.

    D = D1 + D2 + D3 + D4 + D5, with the lightest construction that the words of the form
    allow; live load and snow may be away and do not count. It is less than the dead load in
    :func:`wall_line_load`, on purpose.

    Args:
        wall: what the wall carries and is made of; its figures have their ranges there.

    Returns:
        Load per foot of wall, plf, down, service level; not yet reduced by 0.6 or 0.9 as ASCE 7
        does with a dead load that holds down.

    Not known when:
        A figure is out of its range.

    Source:
        ASCE 7 Tables C3.1-1 and C3.1-2, HUD Residential Structural Design Guide Table 3.2, from
        memory; the assumptions are common practice.
    """
    reason = out_of_range(wall)
    if reason:
        return not_known(reason)
    dead, lines = _dead(wall, lightest=True)
    working = Working("Least dead load on the footing", _LEAST_METHOD, _LEAST_VALID, lines)
    return Result(dead, working=working)


def soil_on_footing(
    footing_projection_in: float, footing_depth_in: float, footing_thickness_in: float
) -> Result:
    """Soil that lies on the footing outside of the wall; no part of the line load.

    q = a (f - T) 120 pcf / 144; nothing where the footing is thicker than it is deep.

    Args:
        footing_projection_in: a, beyond the wall face, in, 0 to 60.
        footing_depth_in: f, underside of the footing from the ground, in, 0 to 480.
        footing_thickness_in: T, in, 0 to 72.

    Returns:
        Load per foot of wall, plf, down, service level, on one side of the wall.

    Not known when:
        A figure is out of its range.

    Source:
        Geometry; ASCE 7 Table C3.1-2, wet sand and gravel 120 pcf, the heaviest earth there,
        from memory.

    >>> soil_on_footing(6.0, 84.0, 12.0).value
    360.0
    """
    reason = outside(
        ("footing projection", footing_projection_in, 0.0, 60.0, "in"),
        ("footing depth", footing_depth_in, 0.0, 480.0, "in"),
        ("footing thickness", footing_thickness_in, 0.0, 72.0, "in"),
    )
    if reason:
        return not_known(reason)
    cover = max(footing_depth_in - footing_thickness_in, 0.0)
    soil = footing_projection_in * cover * _EARTH_PCF / 144
    lines = (
        inches("a", "projection of the footing", footing_projection_in),
        inches("f", "depth to its underside", footing_depth_in),
        inches("T", "its thickness", footing_thickness_in),
        Line("q", "soil on the footing", "a max(f - T, 0) 120 pcf / 144",
             f"{number(footing_projection_in)} x {number(cover)} x 120 / 144",
             f"{number(soil)} plf", _EARTH_SOURCE),
    )  # fmt: skip
    valid = "level ground; outside of the wall only; friction on the wall is not in it"
    return Result(soil, working=Working("Soil on the footing", "geometry", valid, lines))


def out_of_range(wall: WallAbove) -> str:
    """Why no load can be told for a wall; empty if it can."""
    for field, name, weights, _ in WORDS:
        word = getattr(wall, field)
        if word not in weights:
            return f"no figure is given for a {name} of '{word}'"
    return outside(
        *((name, getattr(wall, field), low, high, unit) for field, name, low, high, unit in LIMITS)
    )


def _line_load(
    wall: WallAbove, title: str, combined: Callable[[_Loads], tuple[float, tuple[Line, ...]]]
) -> Result:
    """A load per foot of wall, from its dead, live and roof load."""
    reason = out_of_range(wall)
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


@lru_cache(maxsize=256)
def _loads(wall: WallAbove) -> _Loads:
    """Dead, live and roof load of a wall with their lines; both line loads need them."""
    n = wall.storeys
    floor = _carried_floor_ft(wall, HEAVY)
    roof = _carried_roof_ft(wall, HEAVY)
    attic = max(wall.floor_span_in, wall.roof_span_in) / 12 * HEAVY.span_share[0]
    attic_psf = _ATTIC_LIVE_PSF[wall.attic_storage]
    above = (wall.ground_snow_load_psf, wall.roof_exposure, wall.roof_heating)
    roof_psf = snow.roof_psf(*above)
    dead, steps = _dead(wall, lightest=False)
    live = n * floor * _FLOOR_LIVE_PSF + attic * attic_psf
    roof_plf = roof * roof_psf
    lines = (
        *steps,
        noted("la", "half of the longer span, for the attic", f"{number(attic)} ft", PRACTICE),
        noted("pa", f"attic live load; used for storage: {wall.attic_storage}",
              f"{number(attic_psf)} psf", _LIVE_TABLE),
        _plf("L", "live load, floors and attic", "n lf x 40 psf + la pa",
             f"{number(n)} x {number(floor)} x 40 + {number(attic)} x {number(attic_psf)}", live,
             source=_FLOOR_SOURCE),
        *snow.roof_lines(*above),
        _plf("R", "roof live load or snow", "lr pr", f"{number(roof)} x {number(roof_psf)}",
             roof_plf),
    )  # fmt: skip
    return _Loads(dead, live, roof_plf, lines)


def _carried_floor_ft(wall: WallAbove, weights: Weights) -> float:
    return wall.floor_span_in / 12 * weights.span_share[0]


def _carried_roof_ft(wall: WallAbove, weights: Weights) -> float:
    rafters = wall.roof_span_in / 12 * weights.span_share[0]
    eave = weights.eave_ft if wall.roof_span_in > 0 else 0.0
    return max(rafters + eave, weights.rake_ft * min(wall.storeys, 1.0))


@lru_cache(maxsize=256)
def _dead(wall: WallAbove, *, lightest: bool) -> tuple[float, tuple[Line, ...]]:
    """Dead load of a wall with its lines, of the heaviest or of the lightest construction."""
    weights = LIGHT if lightest else HEAVY
    n = wall.storeys
    floor, roof = _carried_floor_ft(wall, weights), _carried_roof_ft(wall, weights)
    thickness, height = wall.wall_thickness_in, wall.wall_height_in
    footing_b, footing_t = wall.footing_width_in, wall.footing_thickness_in
    storey, storey_source = weights.storey_ft
    floor_psf, floor_source = weights.floor_psf
    cladding, cladding_source = weights.cladding_psf[wall.wall_cladding]
    wall_pcf, wall_source = weights.wall_pcf[wall.wall_material]
    footing_pcf, footing_source = weights.footing_pcf[wall.footing_kind]

    walls = n * storey * cladding
    floors = n * floor * floor_psf
    roofs, roof_line = _roof_dead(wall, weights, roof)
    own = thickness * height * wall_pcf / 144
    footing = footing_b * footing_t * footing_pcf / 144
    dead = walls + floors + roofs + own + footing
    roof_note = "eave or rake included" if weights.eave_ft else "eave left out"
    lines = (
        noted("n", "storeys", number(n)),
        noted("lf", "span of floor carried", f"{number(floor)} ft", weights.span_share[1]),
        noted("lr", f"span of roof carried, {roof_note}", f"{number(roof)} ft",
              weights.span_share[1]),
        noted("t, h", "foundation wall, thickness and height",
              f"{number(thickness)} in, {number(height)} in"),
        noted("b, T", "footing, width and thickness",
              f"{number(footing_b)} in, {number(footing_t)} in"),
        _plf("D1", f"walls above, {wall.wall_cladding}", f"n x {number(storey)} ft x psf",
             f"{number(n)} x {number(storey)} x {number(cladding)}", walls,
             source=f"{cladding_source}; {number(storey)} ft {storey_source}"),
        _plf("D2", "floors", f"n lf x {number(floor_psf)} psf",
             f"{number(n)} x {number(floor)} x {number(floor_psf)}", floors, source=floor_source),
        roof_line,
        _plf("D4", f"foundation wall, {wall.wall_material}", "t h x pcf / 144",
             f"{number(thickness)} x {number(height)} x {number(wall_pcf)} / 144", own,
             source=wall_source),
        _plf("D5", f"footing, {wall.footing_kind}", "b T x pcf / 144",
             f"{number(footing_b)} x {number(footing_t)} x {number(footing_pcf)} / 144", footing,
             source=footing_source),
        _plf("D", "dead load", "D1 + D2 + D3 + D4 + D5",
             " + ".join(number(part) for part in (walls, floors, roofs, own, footing)), dead),
    )  # fmt: skip
    return dead, lines


def _roof_dead(wall: WallAbove, weights: Weights, roof_ft: float) -> tuple[float, Line]:
    """Dead load of the roof, or of a gable with its strip of roof if that weighs more."""
    roof_psf, source = weights.roof_psf
    roof = roof_ft * roof_psf
    at_roof = f"{number(roof_ft)} x {number(roof_psf)}"
    if not weights.gable_ft:
        formula = f"lr x {number(roof_psf)} psf"
        return roof, _plf("D3", "roof", formula, at_roof, roof, source=source)
    cladding = weights.cladding_psf[wall.wall_cladding][0]
    topped = min(wall.storeys, 1.0)  # no gable where there is no storey
    gable = topped * (weights.gable_ft * cladding + weights.rake_ft * roof_psf)
    height, rake = number(topped * weights.gable_ft), number(topped * weights.rake_ft)
    line = _plf(
        "D3", "roof and ceiling, or a gable of 4.5 ft mean height with 2 ft of roof",
        f"max(lr x {number(roof_psf)} psf, 4.5 ft x psf + 2 ft x {number(roof_psf)} psf)",
        f"max({at_roof}, {height} x {number(cladding)} + {rake} x {number(roof_psf)})",
        max(roof, gable), source=f"{source}; gable {PRACTICE}",
    )  # fmt: skip
    return max(roof, gable), line


def _plf(
    symbol: str, meaning: str, formula: str, numbers: str, load: float, *, source: str = ""
) -> Line:
    return Line(symbol, meaning, formula, numbers, f"{number(load)} plf", source)
