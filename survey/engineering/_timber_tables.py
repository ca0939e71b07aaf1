"""Appendix C of 29 CFR 1926 Subpart P: the sizes of timber shoring.

Tables C-1.1 to C-1.3 (mixed oak, actual sizes) and C-2.1 to C-2.3 (Douglas fir, nominal sizes).
Only what stands in the worked examples of App. C (f) was read in the regulation. The rest is
from memory, and what could not be recalled for certain is doubtful; there the closest spacing
or the heavier size of the possible readings stands, which may be more than the table asks.
"""

from __future__ import annotations

from typing import NamedTuple

CONFIRMED = "confirmed in the regulation"
MEMORY = "from memory"
DOUBTFUL = "doubtful"

DEPTHS_FT = (10.0, 15.0, 20.0)
WIDTHS_FT = (4.0, 6.0, 9.0, 12.0, 15.0)
BRACE_SPACINGS_FT = (6.0, 8.0, 10.0, 12.0)
CLOSE = 0.0


class Row(NamedTuple):
    """One row of a table: a depth and a horizontal spacing of crossbraces.

    Args:
        braces: crossbrace for each of the trench widths.
        wale: size; empty where none is required.
        upright: size.
        upright_spacing_ft: centre to centre; 0 for planks side by side.
        read: the trench width, ft, whose crossbrace was read in an example of App. C (f); the
            rest of the row was read with it. 0 for none.
        doubtful: what of the row could not be recalled for certain; empty for nothing.
    """

    braces: tuple[str, ...]
    wale: str
    upright: str
    upright_spacing_ft: float
    read: float = 0.0
    doubtful: str = ""


class Table(NamedTuple):
    """A table of Appendix C.

    Args:
        name: of the table.
        wood: with the way its sizes are meant.
        strength: least bending strength of the wood, psi.
        vertical_ft: vertical spacing of crossbraces and of wales.
        rows: by depth, then by horizontal spacing of crossbraces; None where the table sends
            to its note 1, an engineer's or other data under 1926.652(c).
    """

    name: str
    wood: str
    strength: str
    vertical_ft: float
    rows: tuple[tuple[Row | None, ...], ...]


def _row(
    braces: str, wale: str, upright: str, spacing: float, *, read: float = 0.0, doubtful: str = ""
) -> Row:
    sizes = tuple(braces.split())
    assert len(sizes) == len(WIDTHS_FT)
    return Row(sizes, wale, upright, spacing, read, doubtful)


_OAK = ("mixed oak, actual sizes", "850 psi")
_FIR = ("Douglas fir, nominal sizes", "1,500 psi")
_SPACING = "the spacing of the uprights"
_UPRIGHT = "the uprights"
# Remembered the same more than once, but far more stressed than the rows that were read.
_LIGHT_WALE = "the wale, which is light for its span"
_SLENDER = "the crossbraces, which are slender in a wide trench"

# fmt: off
_OAK_A = (
    (
        _row("4x4 4x4 4x6 6x6 6x6", "", "2x6", 6),
        _row("4x4 4x4 4x6 6x6 6x6", "", "2x8", 8),
        _row("4x6 4x6 4x6 6x6 6x6", "8x8", "2x6", 5),
        _row("4x6 4x6 6x6 6x6 6x6", "8x8", "2x6", 6, doubtful=_LIGHT_WALE),
    ),
    (  # App. C (f) example 1: 13 ft deep, 5 ft wide
        _row("4x4 4x4 4x6 6x6 6x6", "", "3x8", 6, read=6),
        _row("4x6 4x6 6x6 6x6 6x6", "8x8", "2x6", 4, read=6),
        _row("6x6 6x6 6x6 6x8 6x8", "8x10", "2x6", 5, read=6),
        _row("6x6 6x6 6x6 6x8 6x8", "10x10", "3x8", 6, read=6),
    ),
    (
        _row("6x6 6x6 6x6 6x8 6x8", "6x8", "3x6", CLOSE),
        _row("6x6 6x6 6x6 6x8 6x8", "8x8", "3x6", CLOSE),
        _row("8x8 8x8 8x8 8x8 8x10", "8x10", "3x6", CLOSE),
        _row("8x8 8x8 8x8 8x8 8x10", "10x10", "3x6", CLOSE),
    ),
)
_OAK_B = (
    (
        _row("4x6 4x6 6x6 6x6 6x6", "6x8", "2x6", 2),
        _row("6x6 6x6 6x6 6x8 6x8", "8x10", "2x6", 2),
        _row("6x6 6x6 6x6 6x8 6x8", "10x10", "2x6", 2),
        None,
    ),
    (  # App. C (f) example 2: 13 ft deep, 5 ft wide
        _row("6x6 6x6 6x6 6x8 6x8", "8x8", "2x6", 2, read=6),
        _row("6x8 6x8 6x8 8x8 8x8", "10x10", "2x6", 2, read=6),
        _row("8x8 8x8 8x8 8x8 8x10", "10x12", "2x6", 2, read=6),
        None,
    ),
    (
        _row("6x8 6x8 6x8 8x8 8x8", "8x10", "3x6", CLOSE),
        _row("8x8 8x8 8x8 8x8 8x10", "10x12", "3x6", CLOSE),
        _row("8x10 8x10 8x10 8x10 10x10", "12x12", "3x6", CLOSE),
        None,
    ),
)
_OAK_C = (
    (
        _row("6x8 6x8 6x8 8x8 8x8", "8x10", "2x6", CLOSE),
        _row("8x8 8x8 8x8 8x8 8x10", "10x12", "2x6", CLOSE),
        _row("8x10 8x10 8x10 8x10 10x10", "12x12", "2x6", CLOSE),
        None,
    ),
    (  # App. C (f) example 3: 13 ft deep, 5 ft wide
        _row("8x8 8x8 8x8 8x8 8x10", "10x12", "2x6", CLOSE, read=6),
        _row("8x10 8x10 8x10 8x10 10x10", "12x12", "2x6", CLOSE, read=6),
        None,
        None,
    ),
    (  # App. C (f) example 4: 20 ft deep, 11 ft wide
        _row("8x10 8x10 8x10 8x10 10x10", "12x12", "3x6", CLOSE, read=12),
        None,
        None,
        None,
    ),
)
_FIR_A = (
    (
        _row("4x4 4x4 4x4 4x4 4x6", "", "4x6", 6, doubtful=_SLENDER),
        _row("4x4 4x4 4x4 4x6 4x6", "", "4x8", 8, doubtful=_SLENDER),
        _row("4x6 4x6 4x6 6x6 6x6", "8x8", "4x6", 5, doubtful=_SPACING),
        _row("4x6 4x6 4x6 6x6 6x6", "8x8", "4x6", 5,  # 5 or 6 ft
             doubtful=f"{_LIGHT_WALE}, and {_SPACING}"),
    ),
    (
        _row("4x4 4x4 4x4 6x6 6x6", "", "4x10", 6, doubtful=_SLENDER),
        _row("4x6 4x6 4x6 6x6 6x6", "6x8", "4x6", 4, doubtful=_SPACING),
        _row("6x6 6x6 6x6 6x6 6x6", "8x8", "4x8", 5, doubtful=_SPACING),
        _row("6x6 6x6 6x6 6x6 6x6", "8x10", "4x10", 4, doubtful=_UPRIGHT),  # 4x6 at 4, 4x10 at 6
    ),
    (
        _row("6x6 6x6 6x6 6x6 6x6", "6x8", "3x6", CLOSE),
        _row("6x6 6x6 6x6 6x6 6x6", "8x8", "3x6", CLOSE),
        _row("6x6 6x6 6x6 6x6 6x8", "8x10", "3x6", CLOSE),
        _row("6x6 6x6 6x6 6x8 6x8", "8x12", "3x6", CLOSE),
    ),
)
_FIR_B = (
    (  # uprights 3x12 or 4x8 at 2 or 3 ft, or 4x12 at 6 ft; 3x8 or 4x8; 4x8
        _row("4x6 4x6 4x6 6x6 6x6", "6x8", "4x8", 2, doubtful=_UPRIGHT),
        _row("4x6 4x6 6x6 6x6 6x6", "8x8", "4x8", 2, doubtful=_UPRIGHT),
        _row("4x6 4x6 6x6 6x6 6x8", "8x10", "4x8", 2, doubtful=_UPRIGHT),
        None,
    ),
    (  # uprights 3x6 close, or 4x10 at 2 ft
        _row("6x6 6x6 6x6 6x8 6x8", "8x8", "3x6", CLOSE, doubtful=_UPRIGHT),
        _row("6x8 6x8 6x8 8x8 8x8", "10x10", "3x6", CLOSE, doubtful=_UPRIGHT),
        _row("6x8 6x8 8x8 8x8 8x8", "10x12", "3x6", CLOSE, doubtful=_UPRIGHT),
        None,
    ),
    (
        _row("6x8 6x8 6x8 6x8 8x8", "8x10", "4x6", CLOSE, doubtful=_UPRIGHT),
        _row("6x8 6x8 6x8 8x8 8x8", "10x12", "4x6", CLOSE, doubtful=_UPRIGHT),
        _row("8x8 8x8 8x8 8x8 8x8", "12x12", "4x6", CLOSE, doubtful=_UPRIGHT),
        None,
    ),
)
_FIR_C = (
    (
        _row("6x6 6x6 6x6 6x6 8x8", "8x8", "3x6", CLOSE),
        _row("6x6 6x6 6x6 8x8 8x8", "10x10", "3x6", CLOSE),
        _row("6x6 6x6 8x8 8x8 8x8", "10x12", "3x6", CLOSE),
        None,
    ),
    (
        _row("6x8 6x8 6x8 8x8 8x8", "10x10", "4x6", CLOSE),
        _row("8x8 8x8 8x8 8x8 8x8", "12x12", "4x6", CLOSE),
        None,
        None,
    ),
    (
        _row("8x8 8x8 8x8 8x10 8x10", "10x12", "4x6", CLOSE),
        None,
        None,
        None,
    ),
)
# fmt: on

TABLES: dict[tuple[str, str], Table] = {
    ("mixed oak", "A"): Table("C-1.1", *_OAK, 4.0, _OAK_A),
    ("mixed oak", "B"): Table("C-1.2", *_OAK, 5.0, _OAK_B),
    ("mixed oak", "C"): Table("C-1.3", *_OAK, 5.0, _OAK_C),
    ("Douglas fir", "A"): Table("C-2.1", *_FIR, 4.0, _FIR_A),
    ("Douglas fir", "B"): Table("C-2.2", *_FIR, 5.0, _FIR_B),
    ("Douglas fir", "C"): Table("C-2.3", *_FIR, 5.0, _FIR_C),
}


def status(row: Row, width_ft: float) -> str:
    """How far a row can be trusted, for the crossbrace of one trench width."""
    if row.doubtful:
        return DOUBTFUL
    return CONFIRMED if row.read == width_ft else MEMORY
