"""Kinds of answer, their units, and the fixed step in which the rules compare them.

One canonical unit a kind is used everywhere inside the program; other units appear only
where people read or write. Factors are exact by definition (1 in = 25.4 mm,
1 lb = 0.45359237 kg, g = 9.80665 m/s2; NIST SP 811 Appendix B) and are checked against an
independent units library in the tests.
"""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

_MM_PER_IN = 25.4
_NEWTON_PER_LB = 0.45359237 * 9.80665
_METRE_PER_FT = 0.3048
_LITRE_PER_GALLON = 231 * _MM_PER_IN**3 / 1e6  # 231 in3
_KILOWATT_PER_HP = 550 * _NEWTON_PER_LB * _METRE_PER_FT / 1000  # 550 ft-lb/s


class Kind(enum.Enum):
    """What sort of thing an answer is."""

    __hash__ = object.__hash__  # each is one of a kind; hashing its name would cost more

    LENGTH = "length"
    FORCE = "force"
    LINE_LOAD = "line load"
    PRESSURE = "pressure"
    SLOPE = "slope"
    SHARE = "share"
    ANGLE = "angle"
    DAYS = "days"
    DURATION = "duration"
    AREA = "area"
    VOLUME = "volume"
    FLOW = "flow"
    POWER = "power"
    VOLTAGE = "voltage"
    RESISTIVITY = "resistivity"
    ACIDITY = "acidity"
    CONCENTRATION = "concentration"
    COUNT = "count"
    CHOICE = "choice"
    YES_NO = "yes or no"
    DATE = "date"
    TEXT = "text"
    REFERENCE = "reference"

    @property
    def one(self) -> str:
        """One of the kind, in a sentence: ``a length``, ``an angle``."""
        if self is Kind.DAYS:
            return "a number of days"
        return f"an {self.value}" if self.value.startswith("a") else f"a {self.value}"


class Units(enum.Enum):
    """In what units a form asks; inside, there is one unit a kind whatever the form says."""

    US_CUSTOMARY = "US customary"
    METRIC = "metric"


_METRIC = MappingProxyType(
    {
        "ft": "m", "in": "mm", "lb": "kN", "plf": "kN/m", "psf": "kPa", "tsf": "kPa", "psi": "MPa",
        "in2": "mm2", "ft3": "m3", "gpm": "l/min", "hp": "kW", "ohm-cm": "ohm-m",
    }
)  # fmt: skip


# As they are written, by their spelling in lower case. Where decimals may be set off by a comma,
# 1,200 of one of these can be read in two ways.
METRIC_UNITS = MappingProxyType(
    {
        unit.lower(): unit
        for unit in ("mm", "cm", "m", "kN", "kN/m", "kPa", "MPa", "mm2", "cm2", "m3", "l/min",
                     "l/s", "kW", "ohm-m")
    }
)  # fmt: skip


# Figures of these are large, or not so fine: 1.200 of one may be 1200, the point between thousands.
LARGE_FIGURES = frozenset(
    {"mm", "lb", "plf", "psf", "psi", "kPa", "mm2", "ft3", "gpm", "l/min", "v", "ohm-cm", "ppm"}
)


def in_units(unit: str, units: Units) -> str:
    """The unit in which a form of the given units asks for what US forms ask in ``unit``.

    >>> in_units("psi", Units.METRIC), in_units("deg", Units.METRIC)
    ('MPa', 'deg')
    """
    return _METRIC.get(unit, unit) if units is Units.METRIC else unit


@dataclass(frozen=True, slots=True)
class Measure:
    """How a measured kind is stored, compared and written.

    Args:
        canonical: the unit used inside.
        step: size of one step of comparison, in the canonical unit. Rules compare whole
            numbers of steps, so both evaluators see the same figure and no rounding noise.
        units: factor to the canonical unit, by each spelling people write.
    """

    canonical: str
    step: float
    units: Mapping[str, float] = field(default_factory=dict)


def _measure(canonical: str, step: float, *spellings: tuple[str, float]) -> Measure:
    units = {name: factor for names, factor in spellings for name in names.split("|")}
    return Measure(canonical, step, MappingProxyType(units))


MEASURES: Mapping[Kind, Measure] = MappingProxyType(
    {
        Kind.LENGTH: _measure(
            "in",
            0.001,
            ("in|inch|inches|ins|\"|''", 1.0),
            ("ft|foot|feet|'", 12.0),
            ("yd|yds|yard|yards", 36.0),
            ("mm|millimetre|millimetres|millimeter|millimeters", 1 / _MM_PER_IN),
            ("cm|centimetre|centimetres|centimeter|centimeters", 10 / _MM_PER_IN),
            ("m|metre|metres|meter|meters", 1000 / _MM_PER_IN),
        ),
        Kind.FORCE: _measure(
            "lb",
            0.1,
            ("lb|lbs|lbf|#|pound|pounds", 1.0),
            ("kip|kips|k", 1000.0),
            ("kn|kilonewton|kilonewtons", 1000 / _NEWTON_PER_LB),
        ),
        Kind.LINE_LOAD: _measure(
            "plf",
            0.1,
            ("plf|lb/ft|lbs/ft|lbf/ft|#/ft", 1.0),
            ("klf|kip/ft|kips/ft|k/ft", 1000.0),
            ("kn/m", 1000 / _NEWTON_PER_LB * _METRE_PER_FT),
        ),
        Kind.PRESSURE: _measure(
            "psf",
            0.1,
            ("psf|lb/ft2|lbs/ft2|lb/sq ft|lbs/sq ft", 1.0),
            ("psi|lb/in2|lbs/in2|lb/sq in|lbs/sq in", 144.0),
            ("ksf|kip/ft2|kips/ft2|k/ft2", 1000.0),
            ("ksi|kip/in2|kips/in2|k/in2", 144000.0),
            ("tsf|ton/ft2|tons/ft2|tons/sq ft", 2000.0),
            ("kpa|kn/m2|kilopascal|kilopascals", 1000 / _NEWTON_PER_LB * _METRE_PER_FT**2),
            ("mpa|n/mm2|megapascal|megapascals", 1e6 / _NEWTON_PER_LB * _METRE_PER_FT**2),
        ),
        Kind.SLOPE: _measure(
            "H:1V", 0.0001, ("h:1v|h:1 v|h to 1 v|horizontal to 1 vertical|:1|to 1", 1.0)
        ),
        Kind.SHARE: _measure("%", 0.01, ("%|percent|per cent|pct", 1.0)),
        Kind.ANGLE: _measure("deg", 0.01, ("deg|degs|degree|degrees|°|º", 1.0)),
        Kind.DAYS: _measure("days", 0.01, ("day|days|d", 1.0), ("week|weeks|wk|wks", 7.0)),
        Kind.DURATION: _measure(
            "min", 0.1, ("min|mins|minute|minutes", 1.0), ("hour|hours|hr|hrs|h", 60.0)
        ),
        Kind.AREA: _measure(
            "in2",
            0.001,
            ("in2|sq in|square inch|square inches", 1.0),
            ("ft2|sq ft|square foot|square feet", 144.0),
            ("mm2|sq mm", 1 / _MM_PER_IN**2),
            ("cm2|sq cm", 100 / _MM_PER_IN**2),
        ),
        Kind.VOLUME: _measure(
            "ft3",
            0.001,
            ("ft3|cu ft|cubic foot|cubic feet", 1.0),
            ("yd3|cu yd|cu yds|cubic yard|cubic yards", 27.0),
            ("m3|cu m|cubic metre|cubic metres|cubic meter|cubic meters", 1 / _METRE_PER_FT**3),
        ),
        Kind.FLOW: _measure(
            "gpm",
            0.001,
            ("gpm|gal/min|gallons per minute", 1.0),
            ("l/min", 1 / _LITRE_PER_GALLON),
            ("l/s", 60 / _LITRE_PER_GALLON),
        ),
        Kind.POWER: _measure(
            "hp", 0.001, ("hp|horsepower", 1.0), ("kw|kilowatt|kilowatts", 1 / _KILOWATT_PER_HP)
        ),
        Kind.VOLTAGE: _measure(
            "kV", 0.001, ("kv|kilovolt|kilovolts", 1.0), ("v|volt|volts", 0.001)
        ),
        Kind.RESISTIVITY: _measure("ohm-cm", 1.0, ("ohm-cm", 1.0), ("ohm-m", 100.0)),
        Kind.ACIDITY: _measure("pH", 0.01, ("ph", 1.0)),
        Kind.CONCENTRATION: _measure("ppm", 0.01, ("ppm|mg/kg|parts per million", 1.0)),
        Kind.COUNT: _measure("", 1.0, ("", 1.0)),
    }
)


def steps(kind: Kind, value: float) -> int:
    """Whole number of comparison steps nearest to a canonical value."""
    return round(value / MEASURES[kind].step)


def from_steps(kind: Kind, count: int) -> float:
    """Canonical value of a number of comparison steps."""
    return count * MEASURES[kind].step
