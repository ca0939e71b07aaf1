"""Tables of soil: unit weight, friction angle, permeability, and what blow counts stand for.

Spans, not figures to design with: whoever needs one number takes the end that is worse for the
case. Every figure says where it comes from; the tables are from memory but for the rows that
say otherwise.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import NamedTuple

from survey.engineering._steps import number
from survey.engineering.working import Line
from survey.model import Value
from survey.vocabulary import VOCABULARY

_BY_SYMBOL = "Coduto, Foundation Design, typical unit weights by USCS group, from memory"
_HOUGH = "Hough, Basic Soils Engineering, as in NAVFAC DM 7.01 Table 6, from memory"
_DAMS = "dam-engineering textbook, Table 2.3"  # the only table here that was seen
_FREEZE = "Freeze and Cherry, Groundwater, Table 2.2, from memory"
_CASAGRANDE = "Casagrande and Fadum, permeability chart, from memory"
_ANGLES = "Swiss standard SN 670 010b, mean less and plus one deviation, from memory"
_PEAT = "common practice, from memory"
_ROCK = "textbook unit weights of rock, from memory"

UNIT_WEIGHT_SOURCE = f"widest span of {_DAMS} (sand, clay); {_BY_SYMBOL}; {_HOUGH}"
PERMEABILITY_SOURCE = f"widest span of {_DAMS} (gravel, sand, silt, clay); {_FREEZE}; {_CASAGRANDE}"
CONSISTENCY_SOURCE = (
    "Terzaghi and Peck, Soil Mechanics in Engineering Practice, 2nd ed. 1967, consistency of "
    "clay, seen in a published restatement in kPa"
)
DENSITY_SOURCE = (
    "Terzaghi and Peck, 2nd ed. 1967, relative density of sand, seen in a published "
    "restatement; friction angle after Peck, Hanson and Thornburn, Foundation Engineering, "
    "from memory"
)

_FT_PER_M = 1 / 0.3048
_MOST_BLOWS = 100.0  # where a boring log stops counting
_STRONGEST_TSF = 20.0  # where the form stops asking


class Range(NamedTuple):
    """The least and the most that a property is expected to be, both included."""

    low: float
    high: float


def _span(ranges: Iterable[Range]) -> Range:
    lows, highs = zip(*ranges, strict=True)
    return Range(min(lows), max(highs))


class Looked(NamedTuple):
    """A span looked up in a table.

    Args:
        range: the span.
        unit: of both ends.
        source: the tables it is from.
    """

    range: Range
    unit: str
    source: str

    def line(self, symbol: str, meaning: str) -> Line:
        """The span as an input line of a working.

        >>> unit_weight_range_pcf("sand").line("gamma", "unit weight of the soil").result
        '84 to 148 pcf'
        """
        return Line(symbol, meaning, "", "", f"{self} {self.unit}", self.source)

    def __str__(self) -> str:
        return " to ".join(_written(end) for end in self.range)


def _written(value: float) -> str:
    """A plain number, or one in powers of ten where it is too small to be read."""
    if value == 0 or value >= 0.001:
        return number(value, 4)
    power = math.floor(math.log10(value))
    return f"{number(value / 10**power, 1)} x 10^{power}"


class Uscs(NamedTuple):
    """What is usual of a group of the Unified Soil Classification System (ASTM D2487).

    Args:
        name: of the group, as the standard has it.
        moist_pcf: unit weight above the water table, pcf.
        saturated_pcf: unit weight below it, water included, pcf.
        friction_deg: drained angle of friction, degrees; none where nobody should count on one.
        permeability: of intact ground, m/s.
    """

    name: str
    moist_pcf: Range
    saturated_pcf: Range
    friction_deg: Range | None
    permeability: Range


def _row(
    name: str,
    moist: tuple[float, float],
    saturated: tuple[float, float],
    friction: tuple[float, float] | None,
    permeability: tuple[float, float],
) -> Uscs:
    angle = Range(*friction) if friction else None
    return Uscs(name, Range(*moist), Range(*saturated), angle, Range(*permeability))


USCS: Mapping[str, Uscs] = MappingProxyType(
    {
        "GW": _row("well-graded gravel", (110, 140), (125, 150), (35, 45), (1e-3, 1e-1)),
        "GP": _row("poorly graded gravel", (110, 130), (125, 140), (32, 44), (1e-3, 1e-1)),
        "GM": _row("silty gravel", (100, 130), (125, 140), (32, 40), (1e-7, 1e-3)),
        "GC": _row("clayey gravel", (100, 130), (125, 140), (30, 38), (1e-9, 1e-5)),
        "SW": _row("well-graded sand", (95, 135), (120, 145), (33, 43), (1e-6, 1e-2)),
        "SP": _row("poorly graded sand", (95, 125), (120, 135), (30, 42), (1e-6, 1e-2)),
        "SM": _row("silty sand", (80, 135), (110, 140), (31, 37), (1e-7, 1e-3)),
        "SC": _row("clayey sand", (85, 130), (110, 135), (28, 36), (1e-9, 1e-5)),
        "ML": _row("silt", (75, 110), (80, 130), (29, 37), (1e-9, 1e-4)),
        "CL": _row("lean clay", (80, 110), (75, 130), (23, 31), (1e-12, 1e-8)),
        "OL": _row("organic silt or organic clay of low plasticity", (75, 110), (75, 131),
                   (21, 29), (1e-9, 1e-5)),
        "MH": _row("elastic silt", (75, 110), (75, 130), (18, 30), (1e-9, 1e-4)),
        "CH": _row("fat clay", (80, 110), (70, 125), (18, 26), (1e-12, 1e-8)),
        "OH": _row("organic silt or organic clay of high plasticity", (65, 110), (65, 125),
                   (18, 26), (1e-9, 1e-5)),
        "PT": _row("peat", (50, 80), (60, 80), None, (1e-9, 1e-4)),
    }
)  # fmt: skip

_UNIT_WEIGHT_OF_SYMBOL = {"OL": _HOUGH, "OH": _HOUGH, "PT": _PEAT}


class _Group(NamedTuple):
    """A soil group of the form: the USCS groups that it may be, and spans of its own."""

    symbols: tuple[str, ...]
    unit_weights: tuple[Range, ...]
    permeabilities: tuple[Range, ...] = ()


# Wet unit weights, least and greatest, pcf.
_SAND_AND_GRAVEL = Range(90, 155)  # silty sand and gravel, Hough
_SAND = Range(84, 148)  # clean sand, uniform to fine to coarse, Hough
_SILTY_SAND = Range(88, 142)  # Hough
_SILT = Range(81, 136)  # uniform inorganic silt, Hough
_MIXED_CLAY = Range(100, 147)  # sandy or silty clay, Hough
_CLAY = Range(94, 133)  # clay of 30 to 50 % clay sizes, Hough
_TILL = Range(125, 156)  # well-graded mixture of gravel, sand, silt and clay, Hough
_SATURATED_SAND = Range(108, 140)  # 17 to 22 kN/m3, dam-engineering textbook, seen
_SATURATED_CLAY = Range(95, 134)  # 15 to 21 kN/m3, dam-engineering textbook, seen
_ROCK_PCF = Range(120, 190)
_BROKEN_ROCK_PCF = Range(90, 190)  # from crushed stone to solid rock

# A pit stands in the ground that frost, roots and drought have opened. Casagrande's chart puts
# clays "modified by vegetation and weathering" at 10^-9 to 10^-5 m/s.
_WEATHERED_CLAY = Range(1e-9, 1e-5)

_GROUPS: Mapping[str, _Group] = MappingProxyType(
    {
        "stable rock": _Group((), (_ROCK_PCF,), (Range(1e-13, 1e-4),)),
        "dry unstable rock": _Group((), (_BROKEN_ROCK_PCF,), (Range(1e-8, 1e-2),)),
        "cemented soil": _Group(("GM", "GC", "SM", "SC"), (_TILL,), (Range(1e-12, 1e-6),)),
        "clay": _Group(("CL", "CH"), (_CLAY, _SATURATED_CLAY), (_WEATHERED_CLAY,)),
        "silty clay": _Group(("CL", "CH", "MH"), (_MIXED_CLAY, _CLAY, _SATURATED_CLAY),
                             (_WEATHERED_CLAY,)),
        "sandy clay": _Group(("CL", "SC"), (_MIXED_CLAY, _SATURATED_CLAY), (_WEATHERED_CLAY,)),
        "clay loam": _Group(("CL", "ML"), (_MIXED_CLAY, _SATURATED_CLAY), (_WEATHERED_CLAY,)),
        "silt": _Group(("ML", "MH"), (_SILT,)),
        "silt loam": _Group(("ML", "CL"), (_SILT, _MIXED_CLAY)),
        "sandy loam": _Group(("SM", "SC"), (_SILTY_SAND, _MIXED_CLAY)),
        "angular gravel": _Group(("GW", "GP", "GM"), (_SAND_AND_GRAVEL,)),
        "gravel": _Group(("GW", "GP", "GM"), (_SAND_AND_GRAVEL,)),
        "loamy sand": _Group(("SM", "SP"), (_SILTY_SAND,)),
        "sand": _Group(("SW", "SP"), (_SAND, _SATURATED_SAND)),
        "fill": _Group(tuple(USCS), (_BROKEN_ROCK_PCF, _SAND_AND_GRAVEL, _TILL)),
    }
)  # fmt: skip


def _weights(group: _Group) -> Range:
    rows = [USCS[symbol] for symbol in group.symbols]
    return _span(
        [*(r.moist_pcf for r in rows), *(r.saturated_pcf for r in rows), *group.unit_weights]
    )


def _permeabilities(group: _Group) -> Range:
    return _span([*(USCS[s].permeability for s in group.symbols), *group.permeabilities])


_UNIT_WEIGHTS = {name: _weights(group) for name, group in _GROUPS.items()}
_PERMEABILITIES = {name: _permeabilities(group) for name, group in _GROUPS.items()}
_ANY_UNIT_WEIGHT = _span(_UNIT_WEIGHTS.values())
_ANY_PERMEABILITY = _span(_PERMEABILITIES.values())


def unit_weight(soil_group: Value) -> Range:
    """Least and greatest unit weight of a soil group of the form, moist to saturated.

    Args:
        soil_group: a word of the vocabulary. One that is not known has the span of all ground,
            rock too; ``fill`` has that of all soils, peat and broken rock.

    Returns:
        Range, pcf: the widest span of the tables, so that neither end is understated.

    Source:
        ``UNIT_WEIGHT_SOURCE``.

    >>> unit_weight("clay")
    Range(low=70, high=134)
    """
    return _UNIT_WEIGHTS.get(str(soil_group), _ANY_UNIT_WEIGHT)


def permeability(soil_group: Value) -> Range:
    """Least and greatest permeability of a soil group of the form, m/s.

    Clay and clayey soils reach up to 10^-5 m/s: near the ground they are cracked by drought,
    frost and roots, and a pit is near the ground. Open gravel without sand can pass more water
    than any table gives.

    Args:
        soil_group: a word of the vocabulary. One that is not known has the span of all ground.

    Returns:
        Range, m/s: the widest span of the tables.

    Source:
        ``PERMEABILITY_SOURCE``.

    >>> permeability("sand")
    Range(low=1e-06, high=0.01)
    """
    return _PERMEABILITIES.get(str(soil_group), _ANY_PERMEABILITY)


def permeability_ft_s(soil_group: Value) -> Range:
    """The same as :func:`permeability`, ft/s (1 ft = 0.3048 m).

    >>> round(permeability_ft_s("sand").high, 5)
    0.03281
    """
    return Range(*(end * _FT_PER_M for end in permeability(soil_group)))


def unit_weight_range_pcf(soil_group: Value) -> Looked:
    """The span of :func:`unit_weight` with its unit and source, for a working.

    >>> str(unit_weight_range_pcf("gravel"))
    '90 to 155'
    """
    rock = soil_group in ("stable rock", "dry unstable rock", "fill")
    source = f"{UNIT_WEIGHT_SOURCE}; {_ROCK}" if rock else UNIT_WEIGHT_SOURCE
    return Looked(unit_weight(soil_group), "pcf", source)


def permeability_range(soil_group: Value) -> Looked:
    """The span of :func:`permeability` with its unit and source, for a working.

    >>> str(permeability_range("sand"))
    '1 x 10^-6 to 0.01'
    """
    return Looked(permeability(soil_group), "m/s", PERMEABILITY_SOURCE)


def uscs(symbol: str) -> Uscs | None:
    """The row of a USCS group symbol; none if it is no symbol of ASTM D2487.

    Friction angles are of ground that is neither very loose nor sheared before; for sand by
    blow count see :func:`density_by_blows`.

    >>> uscs("sm").name
    'silty sand'
    """
    return USCS.get(symbol.upper())


def uscs_unit_weight(symbol: str) -> Looked | None:
    """Unit weight of a USCS group, from moist to saturated, pcf; none if it is no symbol.

    >>> str(uscs_unit_weight("SW"))
    '95 to 145'
    """
    row = uscs(symbol)
    if row is None:
        return None
    source = _UNIT_WEIGHT_OF_SYMBOL.get(symbol.upper(), _BY_SYMBOL)
    return Looked(_span([row.moist_pcf, row.saturated_pcf]), "pcf", source)


def uscs_permeability(symbol: str) -> Looked | None:
    """Permeability of intact ground of a USCS group, m/s; none if it is no symbol.

    >>> str(uscs_permeability("ML"))
    '1 x 10^-9 to 1 x 10^-4'
    """
    row = uscs(symbol)
    return None if row is None else Looked(row.permeability, "m/s", PERMEABILITY_SOURCE)


def uscs_friction_angle(symbol: str) -> Looked | None:
    """Drained friction angle of a USCS group, degrees; none for peat and where no symbol is.

    >>> str(uscs_friction_angle("CL"))
    '23 to 31'
    """
    row = uscs(symbol)
    if row is None or row.friction_deg is None:
        return None
    return Looked(row.friction_deg, "deg", _ANGLES)


class Consistency(NamedTuple):
    """A step of the consistency of clay.

    Args:
        name: as boring logs have it.
        blows: blow count N of the standard penetration test (ASTM D1586), blows a foot.
        strength_tsf: unconfined compressive strength, tsf.
    """

    name: str
    blows: Range
    strength_tsf: Range

    @property
    def strength_psf(self) -> Range:
        """Unconfined compressive strength, psf."""
        return Range(2000 * self.strength_tsf.low, 2000 * self.strength_tsf.high)


class Density(NamedTuple):
    """A step of the relative density of sand.

    Args:
        name: as boring logs have it.
        blows: blow count N, blows a foot.
        friction_deg: drained friction angle, degrees.
    """

    name: str
    blows: Range
    friction_deg: Range


CONSISTENCIES: tuple[Consistency, ...] = (
    Consistency("very soft", Range(0, 2), Range(0, 0.25)),
    Consistency("soft", Range(2, 4), Range(0.25, 0.5)),
    Consistency("medium", Range(4, 8), Range(0.5, 1)),
    Consistency("stiff", Range(8, 15), Range(1, 2)),
    Consistency("very stiff", Range(15, 30), Range(2, 4)),
    Consistency("hard", Range(30, _MOST_BLOWS), Range(4, _STRONGEST_TSF)),
)
DENSITIES: tuple[Density, ...] = (
    Density("very loose", Range(0, 4), Range(25, 28)),
    Density("loose", Range(4, 10), Range(28, 30)),
    Density("medium dense", Range(10, 30), Range(30, 36)),
    Density("dense", Range(30, 50), Range(36, 41)),
    Density("very dense", Range(50, _MOST_BLOWS), Range(41, 45)),
)


def consistency_by_blows(blow_count_n: float) -> Consistency | None:
    """Consistency of clay by blow count N; on a limit the softer one.

    Args:
        blow_count_n: N, blows a foot as counted, 0 to 100; none outside of it.

    Source:
        ``CONSISTENCY_SOURCE``. The ends 0, 100 and 20 tsf are where logs and the form stop.

    >>> consistency_by_blows(8).name
    'medium'
    """
    return next((step for step in CONSISTENCIES if _in(step.blows, blow_count_n)), None)


def density_by_blows(blow_count_n: float) -> Density | None:
    """Relative density of sand by blow count N; on a limit the looser one.

    Args:
        blow_count_n: N, blows a foot as counted, 0 to 100; none outside of it.

    Source:
        ``DENSITY_SOURCE``. The book gives no least angle for very loose and no greatest for
        very dense sand: 25 and 45 degrees are common practice.

    >>> density_by_blows(30).name
    'medium dense'
    """
    return next((step for step in DENSITIES if _in(step.blows, blow_count_n)), None)


def _in(blows: Range, blow_count_n: float) -> bool:
    # The first step that holds a count is taken, which makes a limit count as the weaker one.
    return blows.low <= blow_count_n <= blows.high


assert set(_GROUPS) == set(VOCABULARY["soil group"].choices), "every soil group has its spans"
