"""Read and write measured answers as people on site write them."""

from __future__ import annotations

import functools
import math
import re
from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType

from survey.vocabulary.kinds import (
    LARGE_FIGURES,
    MEASURES,
    METRIC_UNITS,
    Kind,
    from_steps,
    steps,
)
from survey.vocabulary.spanish import UNITS as SPANISH_UNITS
from survey.vocabulary.spelling import UNSEEN, tidy

# A comma with three digits after it stands between thousands, any other before decimals.
_NUMBER = (
    r"(?:(?:(?P<whole>\d+)(?:\s+|-|\s+(?:and|y)\s+))?(?P<top>\d+)\s*/\s*(?P<bottom>\d+)"
    r"|(?P<thousands>[1-9]\d{0,2}(?:,\d{3})+(?:\.\d+)?)"
    r"|(?P<comma>[1-9]\d{0,2}(?:\.\d{3})+,\d+|\d*,\d+)"
    r"|(?P<figure>\d+(?:\.\d*)?|\.\d+))(?![\d.]|,\d)"
)
_AND = r"\s*(?:[-,&]|and\b|y\b)?\s*"  # between one part and the next
_TWO_WAYS = re.compile(r"[1-9]\d{0,2}[.,]\d{3}")
# Nobody writes a last nought after the point of so small a unit; 1.200 may well be thousands.
_ROUND_THOUSANDS = re.compile(r"[1-9]\d{0,2}\.\d\d0")
_PERHAPS_THOUSANDS = re.compile(r"0\d\d")  # 1'050, the mark between thousands
_FEET_COMMA_INCHES = re.compile(r"(\d+),(\d|1[01])")
_FEET_DASH_INCHES = re.compile(r"(\d+)(?:\s*-\s*|\s+)(\d|1[01])")


class QuantityError(ValueError):
    """A text that is no quantity of the kind that was asked for."""


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
        QuantityError: the text is not a quantity of this kind, or could be two; says what was
            expected.

    >>> read_quantity("3'-6 1/2\"", Kind.LENGTH, None)
    42.5
    """
    plain = tidy(text).lower()
    sign, rest = (-1.0, plain[1:]) if plain.startswith("-") else (1.0, plain)
    if kind is Kind.ACIDITY:
        rest = rest.removeprefix("ph").lstrip()  # it is said before the figure
    total, larger, position = 0.0, math.inf, 0
    while position < len(rest) or position == 0:
        part = _part(kind).match(rest, position)
        if part is None:
            raise QuantityError(_expected(rest, position, kind, bare_unit))
        if part["unit"]:
            factor = _units(kind)[_squeezed(part["unit"])]
        elif position == 0 and bare_unit is not None and part.end() == len(rest):
            # Only alone: what 3-6 means is not guessed at.
            factor = MEASURES[kind].units[bare_unit.lower()]
            _refuse_feet_comma_inches(part[0], kind, factor)
        elif larger == _FOOT and kind is Kind.LENGTH:
            factor = 1.0  # 3'6 is read as 3 ft 6 in
        else:
            raise QuantityError(_expected(rest, position, kind, bare_unit))
        if position > 0 and (factor >= larger or kind not in _IN_PARTS):
            raise QuantityError(_expected(rest, position, kind, bare_unit))
        if position > 0 and not _go_together(kind, larger, factor, part["figure"] or ""):
            raise QuantityError(
                f"one length in feet and inches, or in metric units: {_example(kind)}"
            )
        number = _number(part, kind, factor)
        if position > 0 and number * factor >= larger * (1 - _ROUNDING):
            raise QuantityError(_too_much_after(larger, factor, kind))
        if part.end() < len(rest) and number != math.floor(number):
            # 3.5 ft 6 in: one of the two is a slip.
            raise QuantityError(
                f"one figure, with whole units before smaller ones: {_example(kind)}"
            )
        total += number * factor
        larger, position = factor, part.end()
    if not math.isfinite(total) or abs(total) > _LARGEST:
        raise QuantityError(f"{kind.one} of a size that can be built")
    return sign * total if total else 0.0


_FOOT = MEASURES[Kind.LENGTH].units["ft"]
_IN_PARTS = {Kind.LENGTH, Kind.DURATION, Kind.DAYS}  # 3 ft 6 in, 1 h 30 min, 1 week 3 days
_LARGEST = 1e9
_ROUNDING = 1e-12
_PLACES = 3


@functools.cache
def _part(kind: Kind) -> re.Pattern[str]:
    """One number with its unit, and what may stand between it and the next one."""
    spellings = {*MEASURES[kind].units, *_spanish(kind)} - {""}
    units = "|".join(_as_written(unit) for unit in sorted(spellings, key=len, reverse=True))
    unit = rf"(?:(?:\s*|-)(?P<unit>{units or '(?!)'})(?![^\W\d_])\.?)?"
    return re.compile(rf"(?:{_NUMBER}){unit}(?:{_AND}(?=\.?\d)|\s*$)")


def _as_written(unit: str) -> str:
    """The ways to write a unit: spaced or not, squares and cubes raised or not."""
    pattern = re.escape(unit).replace(r"\ ", r"\.?\s?").replace(r"\-", r"[-·\s]?")
    pattern = re.sub("[/:]", lambda mark: rf"\s?{mark[0]}\s?", pattern)
    pattern = re.sub("(?<=[a-z])2", r"(?:2|\^2|²)", pattern)
    return re.sub("(?<=[a-z])3", r"(?:3|\^3|³)", pattern)


@functools.cache
def _units(kind: Kind) -> Mapping[str, float]:
    """Factor to the canonical unit by each spelling, squeezed."""
    spelled = {**MEASURES[kind].units, **_spanish(kind)}
    return MappingProxyType({_squeezed(unit): factor for unit, factor in spelled.items()})


def _spanish(kind: Kind) -> Mapping[str, float]:
    units = MEASURES[kind].units
    return {es: units[en] for en, spellings in SPANISH_UNITS.items() if en in units
            for es in spellings}  # fmt: skip


_SQUEEZE = str.maketrans({" ": "", ".": "", "-": "", "·": "", "^": "", "²": "2", "³": "3"})


def _squeezed(unit: str) -> str:
    return unit.translate(_SQUEEZE)


def _number(part: re.Match[str], kind: Kind, factor: float) -> float:
    if figure := part["figure"]:
        unit = usual_units(kind).get(factor)
        if unit in LARGE_FIGURES and _ROUND_THOUSANDS.fullmatch(figure):
            thousands, decimal = figure.replace(".", ""), _short(float(figure))
            raise QuantityError(_one_way_only(kind, thousands, decimal, unit))
        return float(figure)
    if figure := part["comma"]:
        return float(figure.replace(".", "").replace(",", "."))
    if figure := part["thousands"]:
        if _TWO_WAYS.fullmatch(figure) and (unit := _metric_unit(kind, factor)):
            thousands, decimal = figure.replace(",", ""), _short(float(figure.replace(",", ".")))
            raise QuantityError(_one_way_only(kind, thousands, decimal, unit))
        return float(figure.replace(",", ""))
    return _fraction(part)


def _one_way_only(kind: Kind, thousands: str, decimal: str, unit: str) -> str:
    both = f"{thousands} {unit} or {decimal} {unit}"
    return f"{kind.one} that can be read in one way only: {both}"


def _fraction(part: re.Match[str]) -> float:
    top, bottom = float(part["top"]), float(part["bottom"])
    if bottom == 0:
        raise QuantityError("a fraction that does not divide by zero")
    if part["whole"]:
        if top >= bottom:
            raise QuantityError("a fraction that is less than one after the whole number")
        return float(part["whole"]) + top / bottom
    first, last = part["top"][:-1], part["top"][-1]
    if first and top > bottom > float(last) > 0:
        # The blank of 1 1/2 may have been left out.
        mixed = f"{first} {last}/{part['bottom']}"
        raise QuantityError(
            f"a figure that can be read in one way only: {mixed} or {_short(top / bottom)}"
        )
    return top / bottom


def _go_together(kind: Kind, larger: float, smaller: float, figure: str) -> bool:
    """Whether a smaller unit may follow: 1'050 and 1'050 mm are 1050 mm to some, no feet."""
    perhaps_thousands = kind is Kind.LENGTH and _PERHAPS_THOUSANDS.fullmatch(figure)
    both_or_neither = bool(_metric_unit(kind, larger)) == bool(_metric_unit(kind, smaller))
    return both_or_neither and not perhaps_thousands


@functools.cache
def _metric_unit(kind: Kind, factor: float) -> str | None:
    unit = usual_units(kind).get(factor)
    return unit if unit in METRIC_UNITS.values() else None


def _refuse_feet_comma_inches(figure: str, kind: Kind, factor: float) -> None:
    found = _FEET_COMMA_INCHES.fullmatch(figure)
    if found and kind is Kind.LENGTH and factor == _FOOT:
        feet, inches = found.groups()
        both = f"{feet} ft {inches} in or {feet}.{inches} ft"
        raise QuantityError(f"a length that can be read in one way only: {both}")


def _too_much_after(larger: float, smaller: float, kind: Kind) -> str:
    usual = usual_units(kind)
    most, unit, whole = _short(larger / smaller), usual[smaller], usual[larger]
    return f"less than {most} {unit} after the {whole}: {most} {unit} are one {whole} more"


# What people write where they did not measure, and in forms that are not read.
_LOOKED_AT = 100  # letters
_ABOUT = re.compile(
    r"^(?:[~≈<>≤≥]|(?:ca|circa|about|approx|approximately|around|roughly|nearly|almost|over|under"
    r"|above|below|up to|less|more|at least|at most|max|min|est|aprox|aproximadamente|unos|unas"
    r"|cerca|alrededor|casi|más|mas|menos|hasta|como)\b)"
    r"|(?:\+\s?/?\s?-|±|\?|\+"
    r"|\b(?:or so|approx\w*|aprox\w*|est|max|min|about|más o menos|or more|or less))\.?$"
)
_RANGE = re.compile(r"\d[^\d]*?(?:\b(?:to|or|and|a|o|y)\b|-|\.\.)[^\d]*\d")
_EXPONENT = re.compile(r"[\d.]\s?e\s?[-+]?\d")
_NOTHING = re.compile(r"no|none|nil|nothing|zero|ninguno|ninguna|nada|cero")
_TURNED_SLOPE = re.compile(r"1\s?v?\s?(?::|to|in|a|en)\s?[\d.,/ ]+h?")


def _expected(text: str, position: int, kind: Kind, bare_unit: str | None) -> str:
    """What to write instead of a text that can't be read from a position on."""
    if kind is Kind.COUNT and UNSEEN not in text:
        return "a whole number such as 2"
    looked_at = text[:_LOOKED_AT]
    example = _example(kind)
    if UNSEEN in text:
        return f"{kind.one} typed anew: what stands at '{UNSEEN}' can't be seen"
    feet_inches = _FEET_DASH_INCHES.fullmatch(looked_at)
    if kind is Kind.LENGTH and feet_inches and bare_unit in ("ft", "in"):
        feet, inches = feet_inches.groups()
        return f"one length: {feet} ft {inches} in, or one figure with its unit"
    if kind is Kind.SLOPE and _TURNED_SLOPE.fullmatch(looked_at):
        return f"a slope with the horizontal first, such as {example}"
    if _EXPONENT.search(looked_at):
        return f"{kind.one} in full, without an exponent, such as {example}"
    if _NOTHING.fullmatch(looked_at):
        return f"{kind.one} such as {example}; 0 if that was measured, blank if it is not known"
    if _ABOUT.search(looked_at) or _RANGE.search(looked_at):
        return (
            f"one figure as it was measured, such as {example}, no range and no 'about'; "
            "blank if it is not known"
        )
    if position and _part(kind).match(text, position):
        return f"one figure, units from large to small: {example}"
    bare = f", or a bare number of {bare_unit}" if bare_unit else ""
    return _wrong_unit(text[position:], kind) or f"{kind.one} such as {example}{bare}"


def _wrong_unit(rest: str, kind: Kind) -> str | None:
    """What to say of a number followed by a word that is no unit of this kind."""
    found = re.match(rf"(?:{_NUMBER})\s*(?P<word>[^\W\d_][^\d\s]*|[°%])", rest)
    if found is None or _squeezed(found["word"]) in _units(kind):
        return None
    known = ", ".join(usual_units(kind).values())
    return f"{kind.one} in {known} ('{found['word'][:_LONGEST_WORD]}' is no unit of {kind.value})"


_LONGEST_WORD = 20


def usual_units(kind: Kind) -> Mapping[float, str]:
    """The usual spelling of each unit: the canonical one, then the first of each factor."""
    usual: dict[float, str] = {1.0: MEASURES[kind].canonical}
    for spelling, factor in MEASURES[kind].units.items():
        usual.setdefault(factor, METRIC_UNITS.get(spelling, spelling))
    return usual


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
    factor = measure.units[unit.lower()]
    number = _short(value / factor)
    if _metric_unit(kind, factor):
        number = number.replace(",", "")
    if kind is Kind.SLOPE:
        return f"{number}H:1V"
    return f"{number} {unit}".strip()


@functools.lru_cache(maxsize=2**15)
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
    return frozenset(_units(kind)[_squeezed(part["unit"])] for part in parts if part["unit"])


def write_exactly(value: float, kind: Kind, unit: str | None = None) -> str:
    """Write a canonical value so that reading it gives exactly this value back.

    As :func:`write_quantity` does where that is exact, else in full in the canonical unit.

    >>> write_exactly(42.5, Kind.LENGTH, "ft"), write_exactly(100 / 3, Kind.LENGTH, "ft")
    ('3 ft 6.5 in', '33.333333333333336 in')
    """
    canonical = MEASURES[kind].canonical
    text = write_quantity(value, kind, unit)
    if read_quantity(text, kind, unit) == value:
        return text
    return f"{plain_number(value)} {canonical}".strip()


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
