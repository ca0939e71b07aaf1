"""What people write for a figure, and what is read or said of it."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.vocabulary import (
    MEASURES,
    Kind,
    QuantityError,
    plain_number,
    read_quantity,
    steps,
    tidy,
    units_of,
    write_exactly,
    write_quantity,
    write_steps,
)

LENGTH = "a length such as 3 ft 6 in, 42 in or 1.07 m"
LENGTH_FT = f"{LENGTH}, or a bare number of ft"
AS_MEASURED = (
    "one figure as it was measured, such as 3 ft 6 in, 42 in or 1.07 m, no range and no 'about'; "
    "blank if it is not known"
)
IN_FULL = "a length in full, without an exponent, such as 3 ft 6 in, 42 in or 1.07 m"
FEET_DASH = "one length: 3 ft 6 in, or one figure with its unit"
SMALLER_NEXT = "one figure, units from large to small: 3 ft 6 in, 42 in or 1.07 m"

LENGTHS_IN_FEET = [
    # text, inches; a bare number is of feet
    ("3 ft 6 in", 42), ("3ft 6in", 42), ("3ft6in", 42), ("3 ft 6", 42), ("3 ft. 6 in.", 42),
    ("3 feet 6 inches", 42), ("1 foot 1 inch", 13), ("3'-6\"", 42), ("3' 6\"", 42), ("3'6\"", 42),
    ("3'6", 42), ("3' 6", 42), ("3’ 6”", 42), ("3′6″", 42), ("3'6''", 42), ("3 ft, 6 in", 42),
    ("3 FT 6 IN", 42), ("3 Ft - 6 In", 42), ("42 in", 42), ("42\"", 42), ("42''", 42),
    ("42 inches", 42), ("3.5", 42), ("3.5 ft", 42), ("3 1/2", 42), ("3-1/2", 42), ("3½", 42),
    ("3 ½ ft", 42), ("1/2 ft", 6), ("½'", 6), (".5 ft", 6), ("0.5", 6), ("3.", 36), ("3", 36),
    ("  3  ft\n6\tin ", 42), ("3\u00a0ft\u202f6\u00a0in", 42), ("3 ft 6 1/2 in", 42.5),
    ("3'-6 1/2\"", 42.5), ("3' 6½\"", 42.5), ("3'-6-3/8\"", 42.375), ("3 ft 6.25 in", 42.25),
    ("3 ft ⅝ in", 36.625), ("3 ft 5/8\"", 36.625), ("5⅛ in", 5.125), ("3⁄4 in", 0.75),
    ("0", 0), ("0 ft", 0), ("-0", 0), ("0 ft 0 in", 0), ("-3 ft 6 in", -42), ("−3'6\"", -42),
    ("–2", -24), ("2 yd", 72), ("1 yd 1 ft 1 in", 49), ("1,200 ft", 14400), ("1,200.5 in", 1200.5),
    ("0042 in", 42), ("254 mm", 10), ("25.4 cm", 10), ("2.54 m", 100), ("1 metre", 1000 / 25.4),
    ("10 millimeters", 10 / 25.4), ("1 m 5 cm", 1050 / 25.4), ("3 ft 6 in\u200b", 42),
]  # fmt: skip

REFUSED_LENGTHS = [
    ("", LENGTH_FT), ("abc", LENGTH_FT), ("in", LENGTH_FT), ("ft 3", LENGTH_FT),
    ("about 3 ft", AS_MEASURED), ("3 ft 6 in deep", LENGTH_FT), ("~3", AS_MEASURED),
    ("<3 ft", AS_MEASURED), ("+3", LENGTH_FT), ("--3", LENGTH_FT), ("- 3", LENGTH_FT),
    # a range is not guessed at, nor what stands before a comma
    ("3-6", FEET_DASH), ("3 6", FEET_DASH), ("3 - 6 in", AS_MEASURED), ("3-16", AS_MEASURED),
    ("3,6", "a length that can be read in one way only: 3 ft 6 in or 3.6 ft"),
    ("3 to 4", AS_MEASURED), ("3 ft to 4 ft", AS_MEASURED), ("3 ft - 4 ft", AS_MEASURED),
    ("1.234.567", LENGTH_FT), ("12,34,567", LENGTH_FT), ("1,200,5 ft", LENGTH_FT),
    ("1,200 mm", "a length that can be read in one way only: 1200 mm or 1.2 mm"),
    ("11/2 in", "a figure that can be read in one way only: 1 1/2 or 5.5"),
    ("3 9/8 in", "a fraction that is less than one after the whole number"),
    ("3 ft 14 in", "less than 12 in after the ft: 12 in are one ft more"),
    ("3'12\"", "less than 12 in after the ft: 12 in are one ft more"),
    ("1 yd 5 ft", "less than 3 ft after the yd: 3 ft are one yd more"),
    ("3 ft 6 in 2", SMALLER_NEXT), ("3' 6\" x 4'", LENGTH_FT),
    ("3 ft 4 ft", SMALLER_NEXT), ("6 in 3 ft", SMALLER_NEXT), ("3 in 4 in", SMALLER_NEXT),
    ("3 ft 1 m", SMALLER_NEXT), ("3 ft -6 in -2 in", AS_MEASURED),
    ("none", "a length such as 3 ft 6 in, 42 in or 1.07 m; 0 if that was measured, blank if it is "
     "not known"),
    ("3 kips", "a length in in, ft, yd, mm, cm, m ('kips' is no unit of length)"),
    ("3 psf", "a length in in, ft, yd, mm, cm, m ('psf' is no unit of length)"),
    ("1e3", IN_FULL), ("1.5E-3 ft", IN_FULL),
    ("3 fts", "a length in in, ft, yd, mm, cm, m ('fts' is no unit of length)"),
    ("1/0 ft", "a fraction that does not divide by zero"),
    ("0/0", "a fraction that does not divide by zero"),
    ("1" * 400, "a length of a size that can be built"),
    ("9999999999 ft", "a length of a size that can be built"),
    ("1" * 400 + "/" + "1" * 400, "a length of a size that can be built"),
    ("nan", LENGTH_FT), ("inf", LENGTH_FT), ("#REF!", LENGTH_FT), ("=1+1", LENGTH_FT),
    ("0x10", "a length in in, ft, yd, mm, cm, m ('x' is no unit of length)"),
    ("3 ft²", "a length in in, ft, yd, mm, cm, m ('ft²' is no unit of length)"),
    ("3²", "a length in in, ft, yd, mm, cm, m ('²' is no unit of length)"),
]  # fmt: skip

OTHER_KINDS = [
    (Kind.PRESSURE, "psf", "1.5 tsf", 3000), (Kind.PRESSURE, "psf", "3000", 3000),
    (Kind.PRESSURE, "psf", "3,000 psf", 3000), (Kind.PRESSURE, "psi", "2500", 360_000),
    (Kind.PRESSURE, "psi", "2500 PSI", 360_000), (Kind.PRESSURE, "tsf", "0.5", 1000),
    (Kind.PRESSURE, "psf", "3 ksf", 3000), (Kind.PRESSURE, "psf", "100 lb/ft2", 100),
    (Kind.PRESSURE, "psf", "1 lb/in2", 144), (Kind.PRESSURE, "tsf", "½", 1000),
    (Kind.FORCE, None, "12 kip", 12_000), (Kind.FORCE, None, "12 k", 12_000),
    (Kind.FORCE, None, "12,000 lbs", 12_000), (Kind.FORCE, None, "1 pound", 1),
    (Kind.LINE_LOAD, None, "1.8 klf", 1800), (Kind.LINE_LOAD, "plf", "1800", 1800),
    (Kind.LINE_LOAD, None, "1800 lb/ft", 1800),
    (Kind.SLOPE, "H:1V", "1.5", 1.5), (Kind.SLOPE, "H:1V", "1.5:1", 1.5),
    (Kind.SLOPE, "H:1V", "1½H:1V", 1.5), (Kind.SLOPE, "H:1V", "1.5 to 1", 1.5),
    (Kind.SLOPE, "H:1V", "3/4:1", 0.75), (Kind.SLOPE, "H:1V", "1 1/2 to 1", 1.5),
    (Kind.ANGLE, "deg", "90", 90), (Kind.ANGLE, "deg", "-90", -90), (Kind.ANGLE, "deg", "90°", 90),
    (Kind.ANGLE, "deg", "22.5 degrees", 22.5),
    (Kind.SHARE, "%", "25 %", 25), (Kind.SHARE, "%", "25%", 25), (Kind.SHARE, "%", "25", 25),
    (Kind.DAYS, "days", "10", 10), (Kind.DAYS, "days", "2 weeks", 14),
    (Kind.DAYS, None, "1 day", 1),
    (Kind.DURATION, "hour", "1.5", 90), (Kind.DURATION, None, "90 minutes", 90),
    (Kind.DURATION, "hour", "2 hrs", 120), (Kind.AREA, "in2", "5.16 in2", 5.16),
    (Kind.AREA, "in2", "1 sq ft", 144), (Kind.VOLUME, "ft3", "2 cu yd", 54),
    (Kind.VOLUME, None, "8,000 ft3", 8000), (Kind.FLOW, "gpm", "50", 50),
    (Kind.POWER, "hp", "5 HP", 5), (Kind.VOLTAGE, "kV", "480 V", 0.48),
    (Kind.VOLTAGE, "kV", "12.5", 12.5), (Kind.RESISTIVITY, "ohm-cm", "30 ohm-m", 3000),
    (Kind.ACIDITY, "pH", "6.5 pH", 6.5), (Kind.CONCENTRATION, "ppm", "100 ppm", 100),
    (Kind.COUNT, "", "2", 2), (Kind.COUNT, "", "2.0", 2), (Kind.COUNT, "", "1,000", 1000),
]  # fmt: skip

OTHER_REFUSALS = [
    (Kind.PRESSURE, "psf", "3 ft", "a pressure in psf, psi, ksf, ksi, tsf, kPa, MPa "
     "('ft' is no unit of pressure)"),
    (Kind.PRESSURE, "psf", "3 tsf 5 psf", "one figure, units from large to small: "
     "1.5 tsf, 3000 psf or 144 kPa"),
    (Kind.PRESSURE, None, "3000", "a pressure such as 1.5 tsf, 3000 psf or 144 kPa"),
    (Kind.AREA, "in2", "5 in", "an area in in2, ft2, mm2, cm2 ('in' is no unit of area)"),
    (Kind.VOLTAGE, None, "12", "a voltage such as 12.5 kV or 480 V"),
    (Kind.SLOPE, "H:1V", "1:1.5", "a slope with the horizontal first, such as 1.5H:1V"),
    (Kind.SLOPE, "H:1V", "1:10", "a slope with the horizontal first, such as 1.5H:1V"),
    (Kind.SLOPE, "H:1V", "34°", "a slope in H:1V ('°' is no unit of slope)"),
    (Kind.SLOPE, "H:1V", "1V:1.5H", "a slope with the horizontal first, such as 1.5H:1V"),
    (Kind.ANGLE, "deg", "1.57 rad", "an angle in deg ('rad' is no unit of angle)"),
    (Kind.COUNT, "", "2 storeys", "a whole number such as 2"),
    (Kind.COUNT, "", "two", "a whole number such as 2"),
    (Kind.COUNT, "", "1 2", "a whole number such as 2"),
    (Kind.DAYS, "days", "3 ft", "a number of days in days, week ('ft' is no unit of days)"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "inches"), LENGTHS_IN_FEET)
def test_lengths(text, inches):
    assert read_quantity(text, Kind.LENGTH, "ft") == pytest.approx(inches, rel=1e-15)


@pytest.mark.parametrize(("text", "message"), REFUSED_LENGTHS)
def test_lengths_that_are_none(text, message):
    with pytest.raises(QuantityError) as caught:
        read_quantity(text, Kind.LENGTH, "ft")
    assert str(caught.value) == message


@pytest.mark.parametrize(("kind", "bare", "text", "value"), OTHER_KINDS)
def test_other_figures(kind, bare, text, value):
    assert read_quantity(text, kind, bare) == pytest.approx(value, rel=1e-15)


@pytest.mark.parametrize(("kind", "bare", "text", "message"), OTHER_REFUSALS)
def test_other_figures_that_are_none(kind, bare, text, message):
    with pytest.raises(QuantityError) as caught:
        read_quantity(text, kind, bare)
    assert str(caught.value) == message


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        (Kind.PRESSURE, "144 kPa", 144 * 20.885434),  # psf per kPa; NIST SP 811 Appendix B.8
        (Kind.PRESSURE, "1 MPa", 20885.434),
        (Kind.FORCE, "1 kN", 224.80894),
        (Kind.LINE_LOAD, "1 kN/m", 68.521766),
    ],
)
def test_metric_figures(kind, text, value):
    assert read_quantity(text, kind, None) == pytest.approx(value, rel=1e-7)


def test_a_bare_number_of_inches():
    assert read_quantity("42", Kind.LENGTH, "in") == 42
    assert read_quantity("3'6", Kind.LENGTH, "in") == 42
    with pytest.raises(QuantityError, match=f"^{FEET_DASH}$"):
        read_quantity("3 6", Kind.LENGTH, "in")


@pytest.mark.parametrize("kind", MEASURES)
def test_every_spelling_of_every_unit_is_read(kind):
    for spelling, factor in MEASURES[kind].units.items():
        for text in (f"2 {spelling}", f"2{spelling}", f"2{spelling}".upper()):
            assert read_quantity(text, kind, MEASURES[kind].canonical) == 2 * factor


@pytest.mark.parametrize(
    ("value", "kind", "unit", "text"),
    [
        (42.5, Kind.LENGTH, "ft", "3 ft 6.5 in"), (36, Kind.LENGTH, "ft", "3 ft"),
        (6, Kind.LENGTH, "ft", "6 in"), (0, Kind.LENGTH, "ft", "0 in"),
        (-42, Kind.LENGTH, "ft", "-3 ft 6 in"), (11.9999, Kind.LENGTH, "ft", "1 ft"),
        (-0.0001, Kind.LENGTH, "ft", "0 in"), (14400, Kind.LENGTH, "in", "14,400 in"),
        (42, Kind.LENGTH, None, "42 in"), (360_000, Kind.PRESSURE, "psi", "2,500 psi"),
        (1000, Kind.PRESSURE, "tsf", "0.5 tsf"), (1.5, Kind.SLOPE, "H:1V", "1.5H:1V"),
        (-0.0001, Kind.ANGLE, "deg", "0 deg"), (2, Kind.COUNT, "", "2"),
        (25, Kind.SHARE, "%", "25 %"),
    ],
)  # fmt: skip
def test_figures_as_written(value, kind, unit, text):
    assert write_quantity(value, kind, unit) == text


KINDS_AND_UNITS = [(kind, unit) for kind in MEASURES for unit in MEASURES[kind].units if unit]


@pytest.mark.parametrize(
    ("kind", "unit", "text"),
    [
        (Kind.LENGTH, "mm", "25 mm"), (Kind.LENGTH, "mm", "1200 mm"),
        (Kind.LENGTH, "mm", "9.5 mm"), (Kind.LENGTH, "cm", "30.5 cm"),
        (Kind.LENGTH, "m", "1.2 m"), (Kind.LENGTH, "m", "0.955 m"),
        (Kind.LENGTH, "ft", "3 ft 6.5 in"), (Kind.LENGTH, "in", "0.984 in"),
        (Kind.FORCE, "kN", "80 kN"), (Kind.FORCE, "kN", "0.25 kN"), (Kind.FORCE, "kip", "17.6 kip"),
        (Kind.PRESSURE, "kPa", "144 kPa"), (Kind.PRESSURE, "MPa", "17.5 MPa"),
        (Kind.PRESSURE, "psi", "2,500 psi"), (Kind.PRESSURE, "tsf", "1.1 tsf"),
        (Kind.LINE_LOAD, "kN/m", "26 kN/m"), (Kind.AREA, "cm2", "33.5 cm2"),
        (Kind.VOLUME, "m3", "226 m3"), (Kind.FLOW, "l/min", "190 l/min"),
        (Kind.DURATION, "hour", "0.333 hour"), (Kind.COUNT, "", "3"),
        (Kind.SLOPE, "H:1V", "1.5H:1V"),
    ],
)  # fmt: skip
def test_whole_steps_are_written_as_the_figure_was_meant(kind, unit, text):
    assert write_steps(steps(kind, read_quantity(text, kind, unit)), kind, unit) == text


@pytest.mark.parametrize(
    ("text", "kind", "units"),
    [
        ("3 ft 6 in", Kind.LENGTH, {12, 1}), ("3'-6 1/2\"", Kind.LENGTH, {12, 1}),
        ("42 inches", Kind.LENGTH, {1}), ("1/2 in", Kind.LENGTH, {1}),
        ("30,000 lb", Kind.FORCE, {1}), ("30 kip", Kind.FORCE, {1000}),
        ("1.5H:1V", Kind.SLOPE, {1}), ("2 weeks", Kind.DAYS, {7}), ("1 day", Kind.DAYS, {1}),
        ("3 sq ft", Kind.AREA, {144}), ("25 %", Kind.SHARE, {1}), ("3", Kind.COUNT, set()),
    ],
)  # fmt: skip
def test_the_units_of_a_quantity(text, kind, units):
    assert units_of(text, kind) == units


@given(
    st.sampled_from([*KINDS_AND_UNITS, (Kind.LENGTH, "ft")]),
    st.floats(-1e6, 1e6).map(lambda number: number + 0.0),
)
def test_a_figure_written_exactly_reads_as_itself(kind_and_unit, value):
    kind, unit = kind_and_unit
    assert read_quantity(write_exactly(value, kind, unit), kind, unit) == value


@given(st.sampled_from(KINDS_AND_UNITS), st.text())
def test_any_text_is_a_finite_figure_or_refused(kind_and_unit, text):
    kind, unit = kind_and_unit
    try:
        value = read_quantity(text, kind, unit)
    except QuantityError as refusal:
        value = 0.0
        told = str(refusal)
    else:
        told = "read"
    assert told
    assert math.isfinite(value)


@given(st.from_regex(r"[-0-9.,/'\" ftinm½]{1,20}", fullmatch=True))
def test_a_text_like_a_length_reads_the_same_when_written_again(text):
    try:
        value = read_quantity(text, Kind.LENGTH, "ft")
    except QuantityError as refusal:
        assert str(refusal)  # noqa: PT017 - a text that is no length says why
        return
    assert read_quantity(write_exactly(value, Kind.LENGTH, "ft"), Kind.LENGTH, None) == value


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_a_plain_number_is_the_number_without_an_exponent(number):
    text = plain_number(number)
    assert float(text) == number
    assert "e" not in text.lower()


@given(st.text())
def test_tidying_twice_changes_nothing_more(text):
    once = tidy(text)
    assert tidy(once) == once
    assert once.isprintable()
    assert once == once.strip()
