"""The ways in which people write a length, a date or a choice, and what is read or said.

One row a way: what stands in the cell, and the answer in the canonical unit or a part of the
message. Values are written as the trade says them: 3 ft 6 in is ``3 * FT + 6``.
"""

import datetime as dt
from dataclasses import dataclass

import pytest
from holidays.countries import UnitedStates
from hypothesis import given
from hypothesis import strategies as st

from survey.answers import RawRow, RawSurvey, read_survey
from survey.engineering.dates import state_holidays
from survey.engineering.tickets import STATES as TICKETS
from survey.vocabulary import (
    DOES_NOT_APPLY,
    NOT_KNOWN,
    VOCABULARY,
    Kind,
    Subject,
    Units,
    write_exactly,
)
from survey.vocabulary.places import OUTSIDE, STATES
from survey.vocabulary.spanish import choices_in_spanish
from survey.vocabulary.spelling import folded

HOLIDAYS = {code: name for name, code in UnitedStates.subdivisions_aliases.items()}
US, METRIC = Units.US_CUSTOMARY, Units.METRIC
BOTH = (US, METRIC)

# Canonical units: in, lb, plf, psf, in2, min. NIST SP 811 Appendix B gives the metric ones.
FT, YD, MM = 12, 36, 1 / 25.4
CM, M = 10 * MM, 1000 * MM
KIP, KN = 1000, 1000 / (0.45359237 * 9.80665)
PSI, KSF, TSF = 144, 1000, 2000
KPA = KN * 0.3048**2
MPA = 1000 * KPA
LITRE_A_MINUTE = 1 / (231 * 25.4**3 / 1e6)
M3 = 1 / 0.3048**3
KW = 1000 / (550 * 0.3048 * 0.45359237 * 9.80665)


@dataclass(frozen=True)
class Says:
    """The cell is not read, and the message has this in it."""

    part: str


AS_MEASURED = Says("one figure as it was measured")
NOUGHT_OR_BLANK = Says("0 if that was measured, blank if it is not known")
IN_FULL = Says("in full, without an exponent")
IN_PLACE = Says("the date itself, such as 2026-04-03")
NO_SUCH_DAY = Says("a day that is in the calendar")
WHOLE_DATE = Says("a date with day, month and year")
YES_OR_NO = Says("yes, no or not known")
A_DATE = Says("a date such as 2026-04-03 or 3 Apr 2026")
NO_CELL_OF_TIME = Says("not a date, time or yes/no")


def one_way(offered):
    return Says(f"that can be read in one way only: {offered}")


# Lengths: "station" is asked in ft or m, "pit length" in in or mm

FEET_AND_INCHES = [
    (3 * FT + 6, [
        "3 ft 6 in", "3ft 6in", "3ft6in", "3 ft. 6 in.", "3 feet 6 inches", "3 foot 6 inch",
        "3 Ft, 6 In", "3 ft and 6 in", "3 ft & 6 in", "3 ft - 6 in", "3-ft 6-in", "3' 6\"",
        "3'6\"", "3'-6\"", "3' - 6\"", "3 ' 6 \" ", "3’ 6”", "3′ 6″", "3´6´´", "3`6``", "3'6''",
        "3' 6''", "3＇6＂", "3ʹ6ʺ", "3' 6", "3'6", "3 ft 6", "3'-6", "3'‑6\"", "3'—6\"",
        "3\u00a0ft\u00a06\u00a0in", "3\u2009ft\u202f6\u2009in", "3 ft\n6 in", "3 ft 6 in\u200b",
        "３ ft ６ in"
    ]),
    (3 * FT + 6.5, [
        "3'6 1/2\"", "3'-6 1/2\"", "3'6½\"", "3 ft 6-1/2 in", "3 ft 6 and 1/2 in", "3 ft 6.5 in",
        "3 ft 6,5 in"
    ]),
    (3 * FT + 6.125, ["3' 6 ⅛\""]), (3 * FT + 6.375, ["3' 6 3/8"]),
    (3 * FT + 0.625, ["3 ft 5/8 in"]), (3 * FT + 0.75, ["3 ft ¾\""]),
    (6, ["0 ft 6 in", "1/2 ft", ".5 ft", "0.5 ft"]), (3 * FT, ["3 ft 0 in", "3. ft"]),
    (3 * FT + 11.875, ["3 ft 11 7/8 in"]), (2 * YD + 1 * FT + 6, ["2 yd 1 ft 6 in"]),
    (3.5 * FT, ["3.5 ft", "3.5'", "3½ ft", "3 1/2 ft", "3-1/2 ft", "3½'", "3,5 ft"]),
    (40, ["3⅓ ft"]), (32, ["2 ⅔ ft"]), (1200, ["1,200 in"]), (2 * YD, ["2 yds"]),
    (YD, ["1 yard"]),
    (42, ["42 in", "42in", "42\"", "42''", "42 inches", "42 ins", "42-inch"]),
    (42.5, ["42.5 in", "42 1/2\"", "42½ in."]), (30.5, ["30,5 in"]),
    (1.125, ["1.125 in"]), (2.125 * FT, ["2.125 ft"]), (3 * FT + 6, ["3'-06\"", "3 ft\u200b 6 in"]),
    (0.25, ["0,25 in", "0,250 in", "1⁄4 in"]), (2.0625, ["2,0625 in"]), (0.75, ["3/4-in"]),
    (0, ["0", "0 in", "0\"", "-0"]),
]  # fmt: skip
SPANISH_LENGTHS = [
    (3 * FT + 6, ["3 pies 6 pulgadas", "3 pies 6 pulg.", "3 pies y 6 pulgadas"]),
    (13, ["1 pie 1 pulgada"]), (42, ["42 pulgadas"]), (3 * FT, ["3 PIES"]),
    (3.5 * FT, ["3,5 pies", "3 1/2 pies", "3 y 1/2 pies"]), (1.07 * M, ["1,07 metros"]),
    (107 * CM, ["107 centímetros", "107 centimetros"]), (1070 * MM, ["1070 milímetros"]),
    (3 * M, ["3 mts"]), (2 * YD, ["2 yardas"]),
]  # fmt: skip
METRIC_LENGTHS = [
    (1.07 * M, ["1.07 m", "1,07 m", "1 m 7 cm", "1.07 metres", "1.07 meters"]),
    (107 * CM, ["107 cm"]), (1070 * MM, ["1070 mm", "1070mm"]), (M, ["1 metre"]),
    (1200.5 * MM, ["1.200,5 mm", "1,200.5 mm"]), (1234.5 * MM, ["1234,5 mm"]),
    (0.95 * M, ["0,950 m"]), (1.2 * M, ["1.200 m"]), (0.125 * MM, ["0.125 mm"]),
    (1.2 * MM, ["1.2000 mm", "1.20 mm"]),
]  # fmt: skip
NO_LENGTHS = [
    (Says("typed anew: what stands at '\ufffd' can't be seen"), [
        "3\u00ad6 in", "\u00ad3 ft", "3\u200b6 in", "\u202e63 in", "3 \u00ad1/2 in", "3\u00ad½ in"
    ]),
    (one_way("1200 mm or 1.2 mm"), ["1.200 mm"]), (one_way("12000 mm or 12 mm"), ["12.000 mm"]),
    (Says("one length in feet and inches, or in metric units"), [
        "1'050 mm", "1'050", "1 ft 50 mm", "1 ft 5 cm", "1 m 6 in", "1 yd 1 cm"
    ]),
    (Says("less than 12 in after the ft"), ["3 ft 12 in", "3 ft 14 in", "3' 18\""]),
    (Says("less than 3 ft after the yd"), ["1 yd 4 ft"]),
    (Says("less than 100 cm after the m"), ["1 m 120 cm"]),
    (one_way("1200 m or 1.2 m"), ["1,200 m"]), (one_way("1070 mm or 1.07 mm"), ["1,070 mm"]),
    (one_way("1 1/2 or 5.5"), ["11/2 in"]), (one_way("10 5/8 or 13.125"), ["105/8\""]),
    (Says("a fraction that is less than one after the whole number"), ["3 9/8 in"]),
    (Says("a fraction that does not divide by zero"), ["1/0 in"]),
    (AS_MEASURED, [
        "3-4 ft", "3 - 4 ft", "3 to 4 ft", "3 or 4 ft", "3 ft - 4 ft", "3 ft to 3 ft 6 in",
        "between 3 and 4 ft", "3..4 ft", "entre 3 y 4 pies", "3 o 4 pies", "3 a 4 pies", "~3 ft",
        "≈ 3 ft", "about 3 ft", "approx. 3 ft", "ca. 3 ft", "around 3 ft", "<3 ft", "> 3 ft",
        "≥3 ft", "less than 3 ft", "at least 3 ft", "over 3 ft", "up to 3 ft", "max 3 ft",
        "3 ft +/-", "3 ft ±", "3 ft +", "3 ft?", "3 ft or so", "3 ft approx", "unos 3 pies",
        "más de 3 pies", "3 pies más o menos", "casi 3 pies"
    ]),
    (NOUGHT_OR_BLANK, ["none", "nil", "no", "ninguno", "nada", "zero"]),
    (IN_FULL, ["1e3", "1.5E+2 in"]),
    (Says("a length such as"), [
        "+3 ft", "3 ft deep", "three feet", "ft 3", "3 ft x 4 ft", "=A1", "1.234.567 mm",
        "12,34,567 ft"
    ]),
    (Says("whole units before smaller ones"), ["3.5 ft 6 in", "3½' 6\"", "1,5 m 20 cm"]),
    (Says("'kips' is no unit of length"), ["3 kips"]),
    (Says("'ft²' is no unit of length"), ["3 ft²"]),
    (Says("units from large to small"), ["6 in 3 ft"]),
    (Says("large to small"), ["3 ft 6 in 2"]),
]  # fmt: skip

BARE_FEET = [
    (3 * FT, ["3", "3."]), (3.5 * FT, ["3.5", "3½", "3 1/2", "3-1/2"]), (6, [".5"]),
    (3.75 * FT, ["3,75"]), (Says("station from 0 in to 500 ft"), ["1,200", "501"]),
    (Says("one length: 3 ft 6 in, or one figure with its unit"), ["3-6"]),
    (Says("one length: 3 ft 6 in"), ["3 6"]), (one_way("3 ft 6 in or 3.6 ft"), ["3,6"]),
    (AS_MEASURED, ["3-16"]), (Says("one length: 3 ft 4 in"), ["3 - 4"]),
    (Says("station from 0 in to"), ["-3"]), (Says("or a bare number of ft"), ["x"]),
]  # fmt: skip
BARE_METRES = [
    (3 * M, ["3"]), (3.5 * M, ["3.5", "3,5", "3½"]), (3.6 * M, ["3,6"]), (1.07 * M, ["1,07"]),
    (0.95 * M, ["0,950"]), (Says("station from 0 m to 152.4 m"), ["1.200,5"]),
    (one_way("1200 m or 1.2 m"), ["1,200"]), (AS_MEASURED, ["3-6"]),
    (Says("from 0 m to 152.4 m"), ["153"]), (Says("or a bare number of m"), ["x"]),
]  # fmt: skip
BARE_INCHES = [
    (30, ["30"]), (30.5, ["30.5", "30,5", "30 1/2", "30½"]), (3 * FT, ["3'"]),
    (2 * FT + 6, ["2'6"]), (Says("one length: 1 ft 6 in"), ["1-6"]),
    (Says("pit length from 6 in to 360"), ["5"]),
    (Says("pit length from 6 in to 360 in"), ["1,200"]),
    (Says("'x' is no unit of length"), ["24 x 36"]),
]  # fmt: skip
BARE_MILLIMETRES = [
    (300 * MM, ["300"]), (300.5 * MM, ["300,5"]), (1200 * MM, ["1200"]), (30, ["30 in"]),
    (2 * FT + 6, ["2'6\""]), (one_way("1200 mm or 1.2 mm"), ["1,200", "1.200"]),
    (Says("pit length from 152.4 mm to 9144 mm"), ["100"]),
]  # fmt: skip

# Other figures

FORCES = [
    (12 * KIP, [
        "12000 lb", "12,000 lbs", "12000#", "12,000 #", "12 kip", "12 kips", "12k", "12 K",
        "12000 lbf", "12000 libras"
    ]),
    (1, ["1 pound"]), (12.5 * KIP, ["12.5 kips", "12,5 kips"]),
    (50 * KN, ["50 kN", "50 kilonewtons"]), (0, ["0"]),
    (one_way("1200 kN or 1.2 kN"), ["1,200 kN"]), (12.5 * KIP, ["12.500 kip"]),
    (one_way("12000 lb or 12 lb"), ["12.000 lb", "12.000"]),
    (Says("'tons' is no unit of force"), ["6 tons"]),
    (Says("'psi' is no unit of force"), ["12000 psi"]), (AS_MEASURED, ["10-12 kips"]),
    (Says("one figure"), ["12 kip 500 lb"]),
]  # fmt: skip
PRESSURES = [
    (25, [
        "25 psf", "25 lb/ft2", "25 lb/ft²", "25 lbs / ft^2", "25 lb/sq. ft.", "25 lbs/sqft",
        "0.025 ksf", "25 lb/pie²"
    ]),
    (PSI, ["1 psi", "1 lb/in²"]),
    (1.2 * KPA, ["1.2 kPa", "1,2 kPa", "1.2 kN/m2", "1.2 kN/m²", "1.2 kn / m²"]),
    (one_way("1500 psf or 1.5 psf"), ["1.500 psf"]),
    (one_way("1500 psi or 1.5 psi"), ["1.500 psi"]),
    (one_way("144000 kPa or 144 kPa"), ["144.000 kPa"]),
    (0.001 * MPA, ["0.001 MPa", "0.001 N/mm²"]), (AS_MEASURED, ["20-25 psf"]),
    (Says("'plf' is no unit of pressure"), ["25 plf"]),
    (Says("ground snow load from 0 psf to 400 psf"), ["500 psf"]),
]  # fmt: skip
STRENGTHS = [
    (1.5 * TSF, ["1.5", "1½", "1.5 tsf", "1.5 tons/ft2", "1.5 tons/sq ft", "1,5 tsf"]),
    (3 * KSF, ["3 ksf"]), (144 * KPA, ["144 kPa"]),
]  # fmt: skip
STRENGTHS_METRIC = [
    (144 * KPA, ["144"]), (144.5 * KPA, ["144,5"]), (1.5 * TSF, ["1.5 tsf"]),
    (0.144 * MPA, ["0,144 MPa"]),
    (Says("unconfined strength from 0 kPa to 1915.21 kPa"), ["3000"]),
]  # fmt: skip
SLOPES = [
    (1.5, [
        "1.5:1", "1.5 : 1", "1½:1", "1 1/2 to 1", "1.5 to 1", "1.5H:1V", "1.5h : 1v",
        "1.5 H to 1 V", "1.5 a 1", "1.5", "1,5:1", "1.5 horizontal to 1 vertical"
    ]),
    (0.75, ["3/4:1"]), (1, ["1:1"]),
    (Says("the horizontal first"), ["1:1.5", "1V:1.5H", "1 to 1.5", "1:2"]),
    (Says("'°' is no unit of slope"), ["34°"]), (Says("'%' is no unit of slope"), ["67 %"]),
    (Says("a slope such as 1.5H:1V"), ["steep"]),
]  # fmt: skip
ANGLES = [
    (90, ["90", "90°", "90º", "90 deg", "90 deg.", "90 degrees", "90 grados"]),
    (-90, ["-90", "−90°"]), (22.5, ["22,5°"]), (Says("from -180 deg to 180"), ["181"]),
]  # fmt: skip
HOURS = [
    (180, ["3", "3 horas"]),
    (90, [
        "1.5", "1½", "1.5 h", "1.5 hrs.", "90 min", "90 mins", "90 minutes", "1 h 30 min",
        "1h30min", "1 hour 30 minutes", "1 hr, 30 min", "1 hora y 30 minutos"
    ]),
    (Says("less than 60 min after the hour"), ["1 h 75 min"]),
    (Says("a duration such as 90 min or 1.5 hours"), ["1:30"]), (AS_MEASURED, ["2-3 hours"]),
]  # fmt: skip
DAYS = [
    (2, ["2", "2 days", "2d", "2 días"]), (7, ["1 week", "1 wk", "1 semana"]),
    (9, ["1 week 2 days"]), (0.5, ["½ day", "0,5"]),
    (Says("less than 7 days after the week"), ["1 week 8 days"]),
    (Says("'ft' is no unit of days"), ["3 ft"]),
]  # fmt: skip
AREAS = [
    (5.16, [
        "5.16", "5.16 in2", "5.16 in²", "5.16 in^2", "5.16 sq in", "5.16 sq. in.",
        "5.16 square inches", "5,16 in²", "5.16 pulg²"
    ]),
    (33.3 * CM**2, ["33.3 cm²"]), (3330 * MM**2, ["3330 mm²"]),
    (Says("'in' is no unit of area"), ["5 in"]),
]  # fmt: skip
ROOMS = [
    (8000, ["8,000 ft³", "8000 cu. ft.", "8000 cubic feet", "8000 pies cúbicos"]),
    (one_way("8000 ft3 or 8 ft3"), ["8.000 ft3"]),
    (300 * 27, ["300 cu yd"]), (226 * M3, ["226 m³"]), (226.5 * M3, ["226,5 m3"]),
]  # fmt: skip
FLOWS = [
    (50, ["50", "50 gpm", "50 gal/min", "50 galones por minuto"]),
    (190 * LITRE_A_MINUTE, ["190 l/min"]), (180 * LITRE_A_MINUTE, ["3 l/s"]),
]  # fmt: skip
OTHERS = [
    ("engine power", US, [
        (5, ["5", "5 HP"]), (5.5, ["5½ hp"]), (3.7 * KW, ["3.7 kW"]),
    ]),
    ("overhead voltage", US, [
        (12.5, ["12.5", "12.5 kV"]), (0.48, ["480 V"]), (7.2, ["7200 volts", "7200 voltios"]),
    ]),
    ("soil resistivity", US, [
        (3000, ["3000", "3,000 ohm-cm", "30 ohm-m", "30 ohm m"]),
    ]),
    ("soil resistivity", METRIC, [
        (3000, ["30", "30 ohm·m", "3000 ohm-cm"]),
    ]),
    ("soil acidity", US, [
        (6.5, ["6.5", "pH 6.5", "6.5 pH", "6,5"]), (AS_MEASURED, ["6-7"]),
        (Says("soil acidity from 0 pH to 14 pH"), ["15"]),
    ]),
    ("soil chloride", US, [
        (100, ["100", "100 ppm", "100 mg/kg"]), (1200, ["1,200 ppm"]),
        (AS_MEASURED, ["<10 ppm"]), (one_way("1200 ppm or 1.2 ppm"), ["1.200 ppm"]),
    ]),
]  # fmt: skip
YEARS = [(50, ["50", "50 years"]), (Says("a whole number such as 2"), ["50 in"])]
COUNTS = [
    (2, ["2", "2.0", " 2 ", "two", "Two", "dos", "2 storeys", "2 stories", "two stories"]),
    (1, ["one", "1 storey", "1 story"]), (0, ["0", "zero", "cero"]),
    (Says("a whole number"), ["2½", "2½ storeys", "2.5", "2,5"]),
    (Says("a whole number such as 2"), ["none", "2 or 3", "about 2", "2 ft", "several"]),
    (Says("storeys from 0 to 6"), ["-1", "7"]),
]  # fmt: skip

# Dates

DAY = dt.date(2026, 4, 3)  # a Friday
DATES = [
    (DAY, [
        "2026-04-03", "2026/04/03", "2026/4/3", "2026.04.03", "2026 04 03", "2026 - 04 - 03",
        "20260403", "3 Apr 2026", "03 Apr 2026", "3-Apr-2026", "3-Apr-26", "3 Apr 26",
        "3 Apr '26", "3.Apr.2026", "3/Apr/2026", "3apr2026", "3 April 2026", "3 APRIL 2026",
        "Apr 3 2026", "Apr 3, 2026", "Apr. 3, 2026", "April 3, 2026", "April 3rd 2026",
        "April 3rd, 2026", "April 3, '26", "3rd April 2026", "3rd of April 2026",
        "the 3rd of April, 2026", "2026 Apr 3", "2026-Apr-03", "2026, April 3", "Fri 3 Apr 2026",
        "Fri, Apr 3, 2026", "Friday, April 3, 2026", "3 Apr 2026 (Fri)", "Friday 2026-04-03",
        "Fri 4/3/26", "vie 3/4/26", "2026-04-03 08:00", "2026-04-03 08:00:30",
        "2026-04-03T00:00:00", "3 Apr 2026 8:15 am", "3 Apr 2026, 8:15 PM",
        "April 3, 2026 at 8:15", " 2026-04-03.", "\"2026-04-03\"", "2026‑04‑03", "2026–04–03"
    ]),
]  # fmt: skip
SPANISH_DATES = [
    (DAY, [
        "3 de abril de 2026", "3 de abril del 2026", "3 abril 2026", "3 abr 2026", "3-abr-26",
        "3 abr. 2026", "viernes 3 de abril de 2026", "viernes, 3 de abril de 2026",
        "abril 3, 2026"
    ]),
    (dt.date(2026, 5, 1), ["1º de mayo de 2026", "1ro de mayo de 2026"]),
    (dt.date(2027, 1, 15), ["15 ene 2027"]), (dt.date(2026, 8, 15), ["15 ago 2026"]),
    (dt.date(2026, 12, 15), ["15 dic 2026"]),
    (dt.date(2026, 9, 9), ["9 sept 2026", "9 setiembre 2026"]),
    (dt.date(2026, 3, 31), ["mar 31 mar 2026"]),
    (dt.date(2026, 4, 1), ["miércoles 1 abril 2026"]), (dt.date(2026, 3, 3), ["Mar 3, 2026"]),
]  # fmt: skip
DATES_IN_FIGURES = [
    (dt.date(2026, 4, 13), [
        "13/4/26", "4/13/26", "4/13/2026", "13.4.2026", "04-13-2026", "4 / 13 / 2026"
    ]),
    (dt.date(2026, 12, 3), ["03-Dec-26", "Dec 3 26", "3 dic 26"]),
    (dt.date(2026, 12, 28), ["Mon 28 Dec 26", "28 Dec '26", "28th Dec 26", "Dec 28 26",
                             "28 de diciembre de 26", "28 Dec 2026"]),
    (dt.date(2026, 4, 4), ["4/4/26", "4/4/2026"]), (dt.date(2028, 2, 29), ["29 Feb 2028"]),
]  # fmt: skip
NO_DATES = [
    (one_way("2026-03-04 or 2026-04-03"), ["3/4/26", "3/4/2026", "03.04.2026"]),
    (one_way("2026-04-03 or 2026-03-04"), ["4/3/26 08:00"]),
    (one_way("2026-04-03, 2026-03-04 or 2004-03-26"), ["04-03-26"]),
    (one_way("2009-12-26 or 2026-12-09"), ["26 Dec 09", "26-Dec-09", "26dec09", "26 dic. 09"]),
    (one_way("2026-12-28 or 2028-12-26"), ["28-Dec-26"]),
    (A_DATE, ["1\u00ad2 Apr 2026"]),
    (Says("2026-03-04 is a Wednesday and 2026-04-03 is a Friday"), ["Mon 3/4/26"]),
    (Says("2026-04-03 is a Friday"), ["Thu 3 Apr 2026", "lunes 3 de abril de 2026"]),
    (Says("a weekday and a date that fit"), ["Thursday, April 3, 2026"]),
    (WHOLE_DATE, ["3 Apr", "April 3", "4/3", "April 2026", "4/2026", "Friday", "3 de abril"]),
    (Says("a number alone is none"), ["2026", "46115"]),
    (NO_SUCH_DAY, [
        "30 Feb 2026", "31 abr 2026", "2026-02-30", "2/30/2026", "29 Feb 2027", "2026-13-01"
    ]),
    (IN_PLACE, [
        "today", "tomorrow", "yesterday", "next Friday", "this week", "hoy", "mañana",
        "la próxima semana", "ASAP"
    ]),
    (A_DATE, [
        "spring 2026", "Q2 2026", "3 Apr 2026 to 5 Apr 2026", "3 or 4 Apr 2026", "yes", "none",
        "2026-04-03T08:00:00Z", "3 Apr 226", "4/3/226"
    ]),
    (Says("a date from 2000 to 2100"), ["1999-12-31", "3 Apr 2101"]),
    (NOT_KNOWN, ["tbd", "pending", "por confirmar"]),
]  # fmt: skip

# Yes and no

YES_NO = [
    ("yes", [
        "yes", "Yes", "YES", "yes.", "Yes!", " yes ", "\"yes\"", "'yes'", "y", "Y", "yep", "yeah",
        "true", "TRUE", "✓", "✔", "☑", "sí", "Sí", "SÍ", "Si", "si", "s", "sí.", "verdadero",
        "cierto", "afirmativo", "yes\u200b"
    ]),
    ("no", [
        "no", "No", "NO", "no.", "No!", "“no”", "n", "N", "nope", "false", "falso", "negativo"
    ]),
    (NOT_KNOWN, [
        "", " ", "-", "--", "—", "...", "…", "?", "??", "nk", "N.K.", "n/k", "not known",
        "Not known.", "unknown", "unsure", "not sure", "don't know", "Don’t know", "dont know",
        "do not know", "no idea", "tbd", "T.B.D.", "to be confirmed", "pending", "not seen",
        "not checked", "not measured", "couldn't see", "could not see", "can't tell", "no access",
        "no sé", "No se", "no lo sé", "no se sabe", "no se ve", "no se pudo ver", "no se revisó",
        "desconocido", "se desconoce", "sin acceso", "pendiente", "por confirmar"
    ]),
    (YES_OR_NO, [
        "x", "X", "✗", "1", "0", "maybe", "yes?", "no?", "yes/no", "y/n", "yes and no", "none",
        "nil", "nothing", "non", "ok", "nada", "ninguno", "t", "f", "no hay", "yes (photo 3)",
        "not", "tal vez"
    ]),
    (Says("always applies"), ["n/a", "N.A.", "na", "does not apply", "no aplica"]),
]  # fmt: skip

# Choices

CHOICES = [
    ("state", [
        ("KS", ["KS", "KS.", "K.S.", "K. S.", "K S", "Kansas", "KANSAS.", "\"Kansas\""]),
        ("NY", ["New  York", "new-york", "N.Y."]), ("IN", ["IN", "Indiana"]), ("OR", ["OR"]),
        ("DC", ["D.C.", "District of Columbia", "Washington, D.C.", "Washington DC"]),
        ("WA", ["Washington"]), ("VA", ["Virginia"]), ("WV", ["West Virginia"]),
        ("AR", ["Arkansas"]), ("ME", ["ME"]), ("OK", ["ok"]), ("HI", ["hi"]),
        ("VI", ["Virgin Islands", "U.S. Virgin Islands"]), ("PR", ["Puerto Rico"]),
        ("outside the United States", [
            "outside the United States", "Outside the united states.",
            "fuera de los Estados Unidos",
        ]),
        (Says("a State by its two letters, such as 'KS', or 'outside the United States'"), [
            "XX", "K", "KSS", "66044", "no", "none", "USA", "MO or KS", "KS/MO", "Kansas City, KS",
            "Carolina", "Dakota", "New", "Canada", "Mexico", "UM",
        ]),
        (Says("did you mean 'KS'?"), ["Kanzas", "Kan."]),
        (Says("did you mean 'outside the United States'?"), ["outside", "outside the US"]),
        (NOT_KNOWN, ["not sure", "?"]), (Says("always applies"), ["n/a", "NA"]),
    ]),
    ("soil group", [
        ("clay", ["clay", "Clay", " CLAY. ", "\"clay\"", "arcilla", "Arcilla"]),
        ("silty clay", ["silty  clay", "silty-clay", "arcilla limosa"]), ("sand", ["ARENA"]),
        ("silt", ["limo"]), ("stable rock", ["roca estable"]), ("fill", ["relleno"]),
        ("clay loam", ["franco arcilloso"]),
        (Says("did you mean 'clay'?"), ["clays", "arcila"]),
        (Says("one of: 'stable rock' | "), ["rock"]),
        (Says("one of:"), ["silty", "loam", "none", "no"]),
        (NOT_KNOWN, ["not checked", "no sé", "-"]), (Says("always applies"), ["n/a"]),
    ]),
    ("wall material", [
        ("poured concrete", ["poured concrete", "concreto colado"]),
        ("dry-laid stone", ["dry laid stone", "dry - laid stone", "Dry‑Laid Stone"]),
        ("brick", ["ladrillo"]), ("concrete block", ["Bloque de Concreto"]),
        ("wood", ["madera"]), (Says("one of:"), ["concrete"]),
        (Says("did you mean 'brick'?"), ["bricks"]),
        (Says("did you mean 'concrete block'?"), ["block"]),
    ]),
    ("side protection", [
        ("none", ["none", "NONE", "ninguna", "ninguno"]), ("sloped", ["en talud"]),
        ("hydraulic shoring", ["apuntalamiento hidráulico", "apuntalamiento hidraulico"]),
        ("shield", ["caja de zanja"]),
        (Says("one of: 'none' | "), ["shoring", "nil", "apuntalamiento"]),
        (Says("did you mean 'none'?"), ["no"]), (NOT_KNOWN, ["unsure"]),
    ]),
    ("wall cracks", [
        ("up to 1/4 in", ["up to 1/4 in", "up to ¼ in", "up to 1/4\"", "hasta 1/4 in"]),
        ("none", ["ninguna"]), (Says("'hairline'"), ["hair line"]),
        (Says("one of:"), ["1/4 in"]),
    ]),
    ("opening above pit", [
        ("4 ft or wider", ["4 ft or wider", "4' or wider"]),
        ("narrower than 4 ft", ["narrower than 4ft"]), ("none", ["ninguna"]),
        (Says("one of: 'none' | "), ["window"]),
    ]),
    ("hydraulic hoses", [
        ("not looked at", ["not looked at", "no revisadas"]), ("damaged", ["dañadas"]),
        (NOT_KNOWN, ["not seen"]), (Says("did you mean 'not looked at'?"), ["not looked"]),
    ]),
    ("utility kind", [
        ("water", ["agua"]), ("storm drain", ["drenaje pluvial"]), ("gas", ["gas"]),
        ("not identified", ["not identified", "no identificada"]),
        (NOT_KNOWN, ["unknown", "desconocida"]), (Says("one of: 'water' | "), ["phone"]),
    ]),
    ("protection design", [
        ("engineer's design", ["engineer's design", "Engineer’s design", "diseño del ingeniero"]),
        ("maker's data", ["maker’s data"]),
    ]),
    ("dip into pit", [
        ("no layers", ["no layers", "sin capas"]),
        ("flatter than 4H:1V", ["flatter than 4H:1V", "FLATTER THAN 4h:1v", "less than 4H:1V"]),
        (Says("did you mean 'no layers'?"), ["no"]),
    ]),
    ("confined space finding", [
        ("permit space", ["permit space", "Permit-required confined space",
                          "permit required confined space", "confined space, permit needed"]),
        ("confined space, no permit needed", ["confined space, no permit needed"]),
    ]),
    ("bottom bar size", [
        ("#4", ["#4", "núm. 4"]), (Says("one of: '#3' | "), [" # 4", "4"]),
    ]),
]  # fmt: skip

# Texts

NO_ANSWER = [
    "Don't know", "dont know", "We don't know.", "no idea", "not asked", "not known yet", "TBD",
    "T.B.A.", "pending", "to follow", "-", "...", "???", "no sé", "No lo sé.", "pendiente",
    "por confirmar", "ni idea", "sin confirmar"
]  # fmt: skip
TEXTS = [
    *(
        (word, US, [(NOT_KNOWN, NO_ANSWER)])
        for word in ("competent person", "ticket number", "emergency contact", "address",
                     "town", "surveyor", "photo file", "photo shows")
    ),
]  # fmt: skip

# Cells that hold no text

CELLS = [
    ("station", US, 3, 3 * FT), ("station", US, 3.5, 3.5 * FT), ("station", US, 0, 0),
    ("station", US, 0.30000000000000004, 0.30000000000000004 * FT),
    ("station", US, None, NOT_KNOWN),
    ("station", US, dt.date(2026, 1, 2), NO_CELL_OF_TIME),  # a spreadsheet's reading of 1/2
    ("station", US, dt.time(3, 6), NO_CELL_OF_TIME), ("station", US, True, NO_CELL_OF_TIME),
    ("station", METRIC, 1.07, 1.07 * M), ("station", METRIC, 3, 3 * M),
    ("pit length", US, 30.5, 30.5), ("pit length", METRIC, 762, 762 * MM),
    ("pit length", METRIC, 762.0, 762 * MM), ("pit length", METRIC, 762.125, 762.125 * MM),
    ("heaviest load near a pit", US, 1.234, 1.234), ("turn at right end", US, -90.0, -90),
    ("cutting time in a day", US, dt.time(1, 30), NO_CELL_OF_TIME),
    ("cutting time in a day", US, dt.timedelta(hours=1), NO_CELL_OF_TIME),
    ("storeys", US, 2, 2), ("storeys", US, 2.0, 2), ("storeys", US, 1, 1), ("storeys", US, 1.0, 1),
    ("storeys", US, True, NO_CELL_OF_TIME), ("storeys", US, 2.5, Says("a whole number")),
    ("survey date", US, DAY, DAY), ("survey date", US, 20260403.0, DAY),
    ("survey date", US, dt.datetime(2026, 4, 3, 15, 30), DAY),  # noqa: DTZ001
    ("survey date", US, 46115, Says("a number alone is none")),
    ("survey date", US, 46115.0, Says("a number alone is none")),
    ("survey date", US, True, A_DATE), ("survey date", US, dt.time(8, 0), A_DATE),
    ("survey date", US, dt.timedelta(3), A_DATE), ("survey date", US, None, NOT_KNOWN),
    ("survey date", US, dt.date(1926, 4, 3), Says("a date from 2000 to 2100")),
    ("gas odour", US, True, "yes"), ("gas odour", US, False, "no"), ("gas odour", US, 1, YES_OR_NO),
    ("gas odour", US, 0, YES_OR_NO), ("gas odour", US, 1.0, YES_OR_NO),
    ("gas odour", US, None, NOT_KNOWN), ("soil group", US, 3, Says("one of: 'stable rock' | ")),
    ("job name", US, 1234.0, "1234"), ("job name", US, 1e-5, "0.00001"),
]  # fmt: skip

TABLE = [
    *(
        ("station", units, ways)
        for ways in (FEET_AND_INCHES, SPANISH_LENGTHS, METRIC_LENGTHS, NO_LENGTHS)
        for units in (US, METRIC)
    ),
    ("station", US, BARE_FEET), ("station", METRIC, BARE_METRES),
    ("pit length", US, BARE_INCHES), ("pit length", METRIC, BARE_MILLIMETRES),
    ("heaviest load near a pit", US, FORCES), ("ground snow load", US, PRESSURES),
    ("ground snow load", METRIC, [
        (1.2 * KPA, ["1.2", "1,2"]),
    ]),
    ("heaviest load near a pit", METRIC, [
        (50 * KN, ["50"]), (50.5 * KN, ["50,5"]), (12 * KIP, ["12 kips"]),
    ]),
    ("unconfined strength", US, STRENGTHS), ("unconfined strength", METRIC, STRENGTHS_METRIC),
    ("slope of sides", US, SLOPES), ("turn at right end", US, ANGLES),
    ("cutting time in a day", US, HOURS), ("days for a round of pits", US, DAYS),
    ("cylinder effective area", US, AREAS), ("room volume", US, ROOMS),
    ("pump capacity", US, FLOWS),
    *OTHERS, ("storeys", US, COUNTS), ("design life in years", US, YEARS),
    ("survey date", US, DATES),
    ("survey date", US, SPANISH_DATES), ("survey date", US, DATES_IN_FIGURES),
    ("survey date", US, NO_DATES), ("gas odour", US, YES_NO),
    *((word, US, ways) for word, ways in CHOICES), *TEXTS,
]  # fmt: skip

# Texts that stay as they are written

KEPT = [
    *(
        (word, text)
        for word in ("remarks", "photo remarks", "release note", "released by")
        for text in NO_ANSWER
        if text != "???"
    ),
    *(("competent person", name) for name in ("No Young", "Noah Idea", "T. B. Dunno")),
    ("address", "1 Unknown Road"), ("emergency contact", "none"), ("photo shows", "P1"),
]  # fmt: skip
ROWS = [
    pytest.param(word, units, text, expected, id=f"{word}: {text!r} on a {units.value} form")
    for word, units, ways in TABLE
    for expected, texts in ways
    for text in texts
] + [
    pytest.param(*row, id=f"{row[0]}: {row[2]!r} in a cell of a {row[1].value} form")
    for row in CELLS
]  # fmt: skip


def read(name, cell, units=US, walls=()):
    """The answer to one question that applies, and the problems with it."""
    word = VOCABULARY[name]
    cells, governed = {name: (cell, "Sheet!B5")}, word
    while governed.asks_when is not None:
        cells[governed.asks_when.word] = (governed.asks_when.choices[0], "Sheet!A5")
        governed = VOCABULARY[governed.asks_when.word]
    row = RawRow("Sheet!row 5", "X1", cells)
    rows = {Subject.WALL: [RawRow(f"Walls!row {n}", w, {}) for n, w in enumerate(walls, 5)]}
    site = row if word.subject is Subject.SITE else RawRow("Site", "site", {})
    if word.subject is not Subject.SITE:
        rows[word.subject] = [*rows.get(word.subject, ()), row]
    survey, problems = read_survey(RawSurvey("job", site, rows, units=units))
    return survey.rows(word.subject)[-1].value(name), [str(problem) for problem in problems]


def check(found, expected):
    value, problems = found
    if isinstance(expected, Says):
        assert value is NOT_KNOWN
        (problem,) = problems
        assert problem.startswith("Sheet!B5: read '")
        assert expected.part in problem
    elif isinstance(expected, (int, float)):
        assert (value, problems) == (pytest.approx(expected, rel=1e-14), [])
    else:
        assert (value, problems) == (expected, [])


@pytest.mark.parametrize(("word", "units", "text", "expected"), ROWS)
def test_ways_of_writing(word, units, text, expected):
    check(read(word, text, units), expected)


@pytest.mark.parametrize(("word", "text"), KEPT)
def test_texts_that_stay_as_they_are_written(word, text):
    assert read(word, f" {text} ") == (text, [])


def test_the_table_is_long():
    assert len({(row.values[0], str(row.values[2])) for row in ROWS}) > 500


@pytest.mark.parametrize(("word", "units", "text", "expected"), ROWS)
def test_capitals_and_blanks_change_nothing(word, units, text, expected):
    if isinstance(text, str) and text:
        for same in (f"  {text}\u00a0", text.upper(), text.lower(), text.replace(" ", "\u2009 ")):
            value, problems = read(word, same, units)
            assert value == read(word, text, units)[0]
            assert bool(problems) is isinstance(expected, Says)


# References


@pytest.mark.parametrize(
    ("walls", "cell", "value"),
    [
        (["W1", "W2"], "W1", "W1"), (["W1", "W2"], "w1", "W1"), (["W1", "W2"], "W 1", "W1"),
        (["W1", "W2"], "W-1", "W1"), (["W1", "W2"], "W01", "W1"), (["W1", "W2"], "“W1”", "W1"),
        (["W 1"], "W1", "W 1"), (["W-01"], "w1", "W-01"), (["1", "2"], 1.0, "1"),
        (["1", "2"], 1, "1"), (["1"], "01", "1"), (["Señal"], "senal", "Señal"),
        (["North wall"], "north  WALL.", "North wall"), (["W10"], "W 10", "W10"),
        # which of the two is not guessed at
        (["W1", "W01"], "W 1", Says("the label of a wall ('W1' | 'W01')")),
        (["W1", "W01"], "W01", "W01"), (["W1"], "W11", Says("the label of a wall ('W1')")),
        (["1.5"], "1.05", Says("the label of a wall ('1.5')")), (["1.5"], "01.5", "1.5"),
        (["W1,5"], "W1,05", Says("the label of a wall")), (["1.5", "1.05"], 1.05, "1.05"),
        (["W1.1"], "W11", Says("the label of a wall")), (["W1 2"], "W12", Says("the label of a")),
        (["W1"], "1", Says("the label of a wall ('W1')")), (["W1"], "-1", Says("the label of a")),
        (["W1"], "not seen", NOT_KNOWN), (["not seen"], "Not seen", "not seen"),
        (["W1"], "none", Says("the label of a wall ('W1')")), ([], "W1", Says("none is listed")),
    ],
)  # fmt: skip
def test_references(walls, cell, value):
    check(read("wall of pier", cell, walls=walls), value)


# Spanish choices

CHOICE_WORDS = [
    word
    for subject in Subject
    for word in VOCABULARY.of(subject)
    if word.asked and word.base is None and word.kind in (Kind.CHOICE, Kind.YES_NO)
]  # fmt: skip


@pytest.mark.parametrize("word", CHOICE_WORDS, ids=str)
def test_every_choice_has_spanish_that_reads_as_it_and_as_no_other(word):
    spanish = choices_in_spanish(word)
    assert set(spanish) == set(word.choices)
    for choice, text in spanish.items():
        for written in (text, text.upper(), folded(text), f" {text}."):
            assert read(word.name, written) == (choice, [])
    spellings = [(folded(choice), choice) for choice in word.choices]
    spellings += [(folded(text), choice) for choice, text in spanish.items()]
    assert len(dict(spellings)) == len(set(spellings))


def test_no_spanish_is_kept_for_what_is_not_asked():
    from survey.vocabulary import spanish

    assert set(spanish._CHOICES) == {w.name for w in CHOICE_WORDS if w.kind is Kind.CHOICE}


# Any text


@given(st.sampled_from(VOCABULARY.words).filter(lambda w: w.asked and w.base is None), st.text(),
       st.sampled_from(BOTH))  # fmt: skip
def test_any_text_is_an_answer_or_is_told_why_not(word, text, units):
    value, problems = read(word.name, text, units)
    assert value is NOT_KNOWN or value is DOES_NOT_APPLY or not problems


@given(
    st.sampled_from([word for word in VOCABULARY.words if word.measured and word.asked]),
    st.floats(0, 1),
    st.sampled_from(BOTH),
)
def test_what_is_written_in_the_unit_of_a_form_reads_as_itself(word, share, units):
    value = word.low + share * (word.high - word.low)
    value = float(round(value)) if word.kind is Kind.COUNT else value
    written = write_exactly(value, word.kind, word.unit_in(units))
    for form in BOTH:
        assert read(word.name, written, form) == (value, [])


# States


def test_every_state_is_read_by_its_code_and_its_name_and_has_holidays():
    *codes, outside = VOCABULARY["state"].choices
    assert (set(codes), len(codes), outside) == (set(STATES), 56, OUTSIDE)
    for code, name in STATES.items():
        for text in (code, name, ".".join(code), f"{name}."):
            assert read("state", text) == (code, [])
        assert state_holidays(2026, code)
        assert name == HOLIDAYS[code] or code == "VI"
    for code, rules in TICKETS.items():
        assert STATES[code] == rules.name


@pytest.mark.parametrize("text", ["Carolina", "Dakota", "New", "XX", "MO or KS", "KS/MO"])
def test_what_could_be_two_states_is_none_and_no_guess_is_offered(text):
    value, (problem,) = read("state", text)
    assert value is NOT_KNOWN
    assert "did you mean" not in problem
