"""The table of units against an independent units library (pint, NIST definitions)."""

import pint
import pytest

from survey.vocabulary import MEASURES, Kind

UNITS = pint.UnitRegistry()

# Each spelling of the table in the library's own words.
NAMES = {
    "in": "inch", "ft": "foot", "yd": "yard", "mm": "mm", "cm": "cm", "m": "m",
    "lb": "pound_force", "kip": "kip", "kn": "kN",
    "plf": "pound_force / foot", "klf": "kip / foot", "kn/m": "kN / m",
    "psf": "pound_force / foot ** 2", "psi": "pound_force / inch ** 2",
    "ksf": "kip / foot ** 2", "tsf": "2000 * pound_force / foot ** 2",
    "ksi": "kip / inch ** 2",
    "kpa": "kPa", "mpa": "MPa", "day": "day", "week": "week", "deg": "degree",
    "min": "minute", "hour": "hour", "in2": "inch ** 2", "ft2": "foot ** 2", "mm2": "mm ** 2",
    "cm2": "cm ** 2", "ft3": "foot ** 3", "yd3": "yard ** 3", "m3": "m ** 3",
    "gpm": "gallon / minute", "l/min": "liter / minute", "l/s": "liter / second",
    "hp": "horsepower", "kw": "kW", "kV": "kV", "kv": "kV", "v": "volt",
    "ohm-cm": "ohm * cm", "ohm-m": "ohm * m",
}  # fmt: skip
CHECKED = (Kind.LENGTH, Kind.FORCE, Kind.LINE_LOAD, Kind.PRESSURE, Kind.DAYS, Kind.ANGLE,
           Kind.DURATION, Kind.AREA, Kind.VOLUME, Kind.FLOW, Kind.POWER, Kind.VOLTAGE,
           Kind.RESISTIVITY)  # fmt: skip


def usual(kind):
    """The first spelling of each factor, as the others repeat it."""
    first = {}
    for spelling, factor in MEASURES[kind].units.items():
        first.setdefault(factor, spelling)
    return [(kind, spelling, factor) for factor, spelling in first.items()]


@pytest.mark.parametrize(("kind", "spelling", "factor"), [row for k in CHECKED for row in usual(k)])
def test_factor_to_the_canonical_unit(kind, spelling, factor):
    canonical = NAMES[{"days": "day"}.get(MEASURES[kind].canonical, MEASURES[kind].canonical)]
    assert UNITS(NAMES[spelling]).to(UNITS(canonical).units).magnitude == pytest.approx(
        factor, rel=1e-12
    )


def test_figures_without_dimension_are_left_as_they_are():
    for kind in (Kind.SLOPE, Kind.SHARE, Kind.COUNT, Kind.ACIDITY, Kind.CONCENTRATION):
        assert set(MEASURES[kind].units.values()) == {1.0}
