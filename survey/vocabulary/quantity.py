"""Read and write measured answers as people on site write them."""

from __future__ import annotations

import functools
import math
import re
from decimal import Decimal

from survey.vocabulary.kinds import MEASURES, Kind, from_steps, steps

_NUMBER = (
    r"(?:(?:(?P<whole>\d+)(?:\s+|-))?(?P<top>\d+)\s*/\s*(?P<bottom>\d+)"  # 1/2, 3 1/2, 3-1/2
    r"|(?P<number>\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+(?:\.\d*)?|\.\d+))(?![\d.])"
)
_TIDY = str.maketrans(
    {"\N{NO-BREAK SPACE}": " ", "\N{NARROW NO-BREAK SPACE}": " ",
     "\N{RIGHT SINGLE QUOTATION MARK}": "'", "\N{LEFT SINGLE QUOTATION MARK}": "'",
     "\N{PRIME}": "'", "\N{LEFT DOUBLE QUOTATION MARK}": '"',
     "\N{RIGHT DOUBLE QUOTATION MARK}": '"', "\N{DOUBLE PRIME}": '"',
     "\N{EN DASH}": "-", "\N{MINUS SIGN}": "-", "\N{FRACTION SLASH}": "/",
     "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
)  # fmt: skip


class QuantityError(ValueError):
    """A text that is no quantity of the kind that was asked for."""


def tidy(text: str) -> str:
    """One line, plain quotes, dashes and spaces, nothing unseen, no blanks at the ends."""
    line = " ".join(text.translate(_TIDY).split())
    if line.isprintable():
        return line
    return " ".join("".join(c for c in line if c.isprintable()).split())


def plain_number(number: float) -> str:
    """A number in full, without an exponent; reading it as a number gives the same one.

    >>> plain_number(1e-05)
    '0.00001'
    """
    return format(Decimal(repr(float(number))).normalize(), "f")


def read_quantity(text: str, kind: Kind, bare_unit: str | None) -> float:
    r"""Read a measured answer into the canonical unit of its kind.

    Args:
        text: as written, such as ``3 ft 6 in``, ``3'-6"``, ``42 in``, ``1.07 m``, ``3 1/2``.
        kind: the measured kind that is asked for.
        bare_unit: the unit of a number that carries none; ``None`` refuses such a number.

    Returns:
        The value in ``MEASURES[kind].canonical``, finite.

    Raises:
        QuantityError: the text is not a quantity of this kind; says what was expected.

    >>> read_quantity("3'-6 1/2\"", Kind.LENGTH, None)
    42.5
    """
    plain = tidy(text).lower()
    sign, rest = (-1.0, plain[1:]) if plain.startswith("-") else (1.0, plain)
    total, smallest, position = 0.0, math.inf, 0
    while position < len(rest) or position == 0:
        part = _part(kind).match(rest, position)
        if part is None or not (part["number"] or part["top"]):
            raise QuantityError(_wrong_unit(rest[position:], kind) or _expected(kind, bare_unit))
        if part["unit"]:
            factor = MEASURES[kind].units[part["unit"]]
        elif position == 0 and bare_unit is not None and part.end() == len(rest):
            # Only alone: 3-6 may be a range, 3,6 a decimal comma, and neither is guessed at.
            factor = MEASURES[kind].units[bare_unit.lower()]
        elif smallest == _FOOT and kind is Kind.LENGTH:
            factor = 1.0  # 3'6 is read as 3 ft 6 in
        else:
            raise QuantityError(_expected(kind, bare_unit))
        if position > 0 and (factor >= smallest or kind is not Kind.LENGTH):
            raise QuantityError(f"one figure, units from large to small: {_example(kind)}")
        total += _number(part) * factor
        smallest, position = factor, part.end()
    if not math.isfinite(total) or abs(total) > _LARGEST:
        raise QuantityError(f"{kind.one} of a size that can be built")
    return sign * total if total else 0.0


_FOOT = MEASURES[Kind.LENGTH].units["ft"]
_LARGEST = 1e9
_PLACES = 3


@functools.cache
def _part(kind: Kind) -> re.Pattern[str]:
    """One number with its unit, and what may stand between it and the next one."""
    spellings = sorted(MEASURES[kind].units, key=len, reverse=True)
    units = "|".join(re.escape(unit) for unit in spellings)
    return re.compile(rf"(?:{_NUMBER})\s*(?:(?P<unit>{units})(?![a-z]))?(?:\s*[-,]?\s*(?=[\d.])|$)")


def _number(part: re.Match[str]) -> float:
    if part["number"]:
        return float(part["number"].replace(",", ""))
    if float(part["bottom"]) == 0:
        raise QuantityError("a fraction that does not divide by zero")
    return float(part["whole"] or 0) + float(part["top"]) / float(part["bottom"])


def _wrong_unit(rest: str, kind: Kind) -> str | None:
    """What to say of a number followed by a word that is no unit of this kind."""
    found = re.match(rf"(?:{_NUMBER})\s*(?P<word>[^\d\s]+)", rest)
    if found is None or found["word"] in MEASURES[kind].units or kind is Kind.COUNT:
        return None
    known = ", ".join(_usual_units(kind))
    return f"{kind.one} in {known} ('{found['word']}' is no unit of {kind.value})"


def _usual_units(kind: Kind) -> list[str]:
    """The usual spelling of each unit: the canonical one, then the first of each factor."""
    usual: dict[float, str] = {1.0: MEASURES[kind].canonical}
    for spelling, factor in MEASURES[kind].units.items():
        usual.setdefault(factor, spelling)
    return list(usual.values())


def _example(kind: Kind) -> str:
    return {
        Kind.LENGTH: "3 ft 6 in, 42 in or 1.07 m",
        Kind.FORCE: "12000 lb or 12 kip",
        Kind.LINE_LOAD: "1800 plf or 26 kN/m",
        Kind.PRESSURE: "1.5 tsf, 3000 psf or 144 kPa",
        Kind.SLOPE: "1.5H:1V",
        Kind.SHARE: "25 %",
        Kind.ANGLE: "90 deg",
        Kind.DAYS: "10 days",
        Kind.DURATION: "90 min or 1.5 hours",
        Kind.AREA: "5.2 in2 or 33.5 cm2",
        Kind.VOLUME: "8000 ft3 or 226 m3",
        Kind.FLOW: "50 gpm or 190 l/min",
        Kind.POWER: "5 hp or 3.7 kW",
        Kind.VOLTAGE: "12.5 kV or 480 V",
        Kind.RESISTIVITY: "3000 ohm-cm or 30 ohm-m",
        Kind.ACIDITY: "6.5 pH",
        Kind.CONCENTRATION: "100 ppm",
        Kind.COUNT: "2",
    }[kind]


def _expected(kind: Kind, bare_unit: str | None) -> str:
    if kind is Kind.COUNT:
        return "a whole number such as 2"
    bare = f", or a bare number of {bare_unit}" if bare_unit else ""
    return f"{kind.one} such as {_example(kind)}{bare}"


def write_quantity(value: float, kind: Kind, unit: str | None = None) -> str:
    """Write a canonical value in a unit, feet and inches where the unit is feet.

    Args:
        value: in the canonical unit of the kind.
        kind: a measured kind.
        unit: the unit to write; the canonical one if none is given.

    >>> write_quantity(42.5, Kind.LENGTH, "ft")
    '3 ft 6.5 in'
    """
    measure = MEASURES[kind]
    if kind is Kind.LENGTH and unit == "ft":
        return _feet_and_inches(value)
    unit = measure.canonical if unit is None else unit
    number = _short(value / measure.units[unit.lower()])
    if kind is Kind.SLOPE:
        return f"{number}H:1V"
    return f"{number} {unit}".strip()


def write_steps(count: int, kind: Kind, unit: str | None = None) -> str:
    """Write whole steps of comparison in a unit: the shortest figure that is this many steps.

    A step of lengths is 0.0254 mm, so 25 mm is kept as 24.994 mm; it is written as it was meant.

    >>> write_steps(984, Kind.LENGTH, "mm"), write_steps(984, Kind.LENGTH, "in")
    ('25 mm', '0.984 in')
    """
    value = from_steps(kind, count)
    factor = MEASURES[kind].units[unit.lower()] if unit else 1.0
    if factor != 1.0 and not (kind is Kind.LENGTH and unit == "ft"):
        shorter = (round(value / factor, places) * factor for places in range(_PLACES))
        value = next((short for short in shorter if steps(kind, short) == count), value)
    return write_quantity(value, kind, unit)


def units_of(text: str, kind: Kind) -> frozenset[float]:
    """The units that stand in a readable quantity, by their factors to the canonical one.

    >>> sorted(units_of("3 ft 6 in", Kind.LENGTH)), sorted(units_of("5 kip", Kind.FORCE))
    ([1.0, 12.0], [1000.0])
    """
    parts = _part(kind).finditer(tidy(text).lower())
    return frozenset(MEASURES[kind].units[part["unit"]] for part in parts if part["unit"])


def write_exactly(value: float, kind: Kind, unit: str | None = None) -> str:
    """Write a canonical value so that reading it gives exactly this value back.

    As :func:`write_quantity` does where that is exact, else in full in the canonical unit.

    >>> write_exactly(42.5, Kind.LENGTH, "ft"), write_exactly(100 / 3, Kind.LENGTH, "ft")
    ('3 ft 6.5 in', '33.333333333333336 in')
    """
    text = write_quantity(value, kind, unit)
    if read_quantity(text, kind, unit) == value:
        return text
    return f"{plain_number(value)} {MEASURES[kind].canonical}".strip()


def _feet_and_inches(inches: float) -> str:
    inches = round(inches, 3)
    sign, inches = ("-", -inches) if inches < 0 else ("", inches)
    feet, rest = divmod(inches, 12)
    if not feet:
        return f"{sign}{_short(rest)} in"
    if not round(rest, 3):
        return f"{sign}{int(feet)} ft"
    return f"{sign}{int(feet)} ft {_short(rest)} in"


def _short(number: float) -> str:
    """Up to three decimals, thousands apart, no trailing noughts."""
    text = f"{number:,.{_PLACES}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
