"""Appendix D of 29 CFR 1926 Subpart P: spacings of aluminium hydraulic shoring.

Tables D-1.1 and D-1.2 (vertical shores) and D-1.3 and D-1.4 (walers). What stands in the worked
examples of App. D (f) was read in the regulation; the rest is from memory.
"""

from __future__ import annotations

from typing import NamedTuple

DEPTHS_FT = (10.0, 15.0, 20.0)
WIDTHS_FT = (8.0, 12.0, 15.0)
VERTICAL_FT = 4.0  # on centre, all four tables, App. D (e)
# Safe axial load at full extension, by inside diameter in inches, App. D (d)(2), (g)(3).
CAPACITY_LB = {2: 18000.0, 3: 30000.0}

_NONE: frozenset[float] = frozenset()


class Option(NamedTuple):
    """Cylinders of one depth: in the waler tables, with a waler of one section modulus.

    Args:
        waler_in3: least section modulus of the waler, in3; 0 for a vertical shore.
        spacing_ft: greatest horizontal spacing on centre.
        cylinders_in: diameter of the cylinder, in, for each of the trench widths. A 2 in
            cylinder over 8 ft has an oversleeve.
        read: trench widths, ft, for which this was read in the regulation.
    """

    waler_in3: float
    spacing_ft: float
    cylinders_in: tuple[int, int, int]
    read: frozenset[float] = _NONE


class Row(NamedTuple):
    """One depth of a table: its options, and the sheeting behind walers (empty for shores)."""

    options: tuple[Option, ...]
    sheeting: str = ""


def _walers(
    sheeting: str,
    spacings_ft: tuple[float, float, float],
    cylinders_in: tuple[int, int, int],
    read: tuple[frozenset[float], frozenset[float], frozenset[float]] = (_NONE, _NONE, _NONE),
) -> Row:
    """A row of a waler table; ``cylinders_in`` are those of trenches up to 12 ft wide."""
    options = zip((3.5, 7.0, 14.0), spacings_ft, cylinders_in, read, strict=True)
    return Row(
        tuple(
            Option(modulus, spacing, (cylinder, cylinder, 3), widths)
            for modulus, spacing, cylinder, widths in options
        ),
        sheeting,
    )


_SHORE = (2, 2, 3)
_AT_3, _AT_2, _CLOSE = "3x12 at 3 ft", "3x12 at 2 ft", "3x12 close together"

VERTICAL: dict[str, tuple[str, tuple[Row, ...]]] = {
    "A": ("D-1.1", (
        # App. D (f)(1): 6 ft deep, 3 ft wide
        Row((Option(0.0, 8.0, _SHORE, frozenset({8.0})),)),
        Row((Option(0.0, 8.0, _SHORE),)),
        Row((Option(0.0, 7.0, _SHORE),)),
    )),
    "B": ("D-1.2", (
        Row((Option(0.0, 8.0, _SHORE, frozenset({8.0})),)),
        # App. D (f)(2): 13 ft deep, 5 ft wide
        Row((Option(0.0, 6.5, _SHORE, frozenset({8.0})),)),
        # App. D (f)(3): 16 ft deep, 9 ft wide
        Row((Option(0.0, 5.5, _SHORE, frozenset({12.0})),)),
    )),
}  # fmt: skip
WALERS: dict[str, tuple[str, tuple[Row, ...]]] = {
    "B": ("D-1.3", (
        _walers(_AT_3, (8.0, 9.0, 12.0), (2, 2, 3)),
        _walers(_AT_2, (6.0, 8.0, 10.0), (2, 3, 3)),
        # App. D (f)(4): 18 ft deep, 12 ft wide
        _walers(_CLOSE, (5.5, 6.0, 9.0), (2, 3, 3), (_NONE, _NONE, frozenset({12.0}))),
    )),
    "C": ("D-1.4", (
        # App. D (f)(5): 9 ft deep, 4 ft wide
        _walers(_CLOSE, (6.0, 6.5, 10.0), (2, 2, 3),
                (_NONE, frozenset({8.0}), frozenset({8.0}))),
        _walers(_CLOSE, (4.0, 5.5, 8.0), (2, 3, 3)),
        _walers(_CLOSE, (3.5, 5.0, 6.0), (2, 3, 3)),
    )),
}  # fmt: skip
