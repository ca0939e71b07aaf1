"""Timber shoring by the tables of Appendix C."""

from __future__ import annotations

from survey.engineering._steps import inches, kept, noted, number, outside
from survey.engineering._timber_tables import (
    BRACE_SPACINGS_FT,
    CLOSE,
    CONFIRMED,
    DEPTHS_FT,
    DOUBTFUL,
    TABLES,
    WIDTHS_FT,
    Row,
    Table,
    status,
)
from survey.engineering.shoring_tables import (
    DEEPEST_IN,
    SHALLOWEST_IN,
    TO_ENGINEER,
    WIDEST_IN,
    row_at,
)
from survey.engineering.working import Line, Result, Working, not_known
from survey.vocabulary import DOES_NOT_APPLY

_SOURCE = "29 CFR 1926 Subpart P App. C"
_WIDEST_SPACING_IN = 144.0
_NOT_BESIDE = "not for use beside a footing heavier than 2 ft of soil"
# What the tables take for granted, printed with every row that is given.
_NOTES = (
    noted("", "top crossbrace below the ground, at most", "2 ft in type A, 2.5 ft in B and C",
          "App. C (g) note 7"),
    noted("", "lowest crossbrace above the floor, at most",
          "2.5 ft; 36 in with uprights embedded, 42 in on a mudsill", "App. C (g) note 5"),
    noted("", "water in the ground", "tight sheeting at least 3 in thick", "App. C (g) note 2"),
    noted("", "wales", "greater dimension horizontal; spacings centre to centre",
          "App. C (g) notes 3 and 4"),
    noted("", "beside a footing", "the tables leave out a footing within the depth of the pit "
          "that weighs more than 2 ft of soil; beside a loaded footing they are nearly always "
          "not usable", "App. C (d)(2)(ii)(A); 1926.651(i)"),
)  # fmt: skip


@kept
def timber_shoring(
    timber: str,
    soil_class: str,
    pit_depth_in: float,
    trench_width_in: float,
    brace_spacing_in: float,
) -> Result:
    """Timber shoring that Appendix C gives for a pit.

    The row of the table for the depth (5 to 10, 10 to 15, 15 to 20 ft) and for the horizontal
    spacing of crossbraces (up to 6, 8, 10, 12 ft); in it the crossbrace for the width (up to
    4, 6, 9, 12, 15 ft). A pit of just 10 or 15 ft takes the deeper row. A pit of less than
    5 ft, which the tables do not name, takes the first, which is made for more pressure.

    Args:
        timber: ``mixed oak`` or ``Douglas fir``.
        soil_class: class that the pit is held to.
        pit_depth_in: whole depth of the pit, in, 12 to 240.
        trench_width_in: between the sides that are braced apart, in, 12 to 180.
        brace_spacing_in: horizontal spacing of crossbraces, centre to centre, in, 12 to 144.

    Returns:
        The members in words, with their spacing. A row that was not read in the regulation
        says so, and has to be read off it before use. ``DOES_NOT_APPLY`` in stable rock.

    Not known when:
        A figure is out of its range; or the table sends to its note 1 (wide spacing in type B
        or C). Then an engineer's or other data are needed.

    Source:
        29 CFR 1926 Subpart P App. C Tables C-1.1 to C-1.3 and C-2.1 to C-2.3. Confirmed in the
        regulation are the rows of the examples in App. C (f); the others are from memory, and
        some doubtful.

    >>> timber_shoring("mixed oak", "A", 156.0, 60.0, 120.0).value
    'crossbraces 6x6 at 4 ft vertically, wales 8x10 at 4 ft, uprights 2x6 at 5 ft (mixed oak, \
actual sizes); not for use beside a footing heavier than 2 ft of soil'
    """
    if soil_class == "stable rock":
        return Result(DOES_NOT_APPLY, "stable rock needs no support, 29 CFR 1926.652(a)(1)(i)")
    table = TABLES.get((timber, soil_class))
    if table is None:
        return not_known(f"Appendix C has no table for {timber} in soil class {soil_class}")
    depth, width, spacing = (
        round(figure, 3) for figure in (pit_depth_in, trench_width_in, brace_spacing_in)
    )
    reason = outside(
        ("pit depth", depth, SHALLOWEST_IN, DEEPEST_IN, "in"),
        ("trench width", width, SHALLOWEST_IN, WIDEST_IN, "in"),
        ("spacing of crossbraces", spacing, SHALLOWEST_IN, _WIDEST_SPACING_IN, "in"),
    )
    if reason:
        return not_known(f"{reason}; {TO_ENGINEER}")
    deep = row_at(DEPTHS_FT, depth, next_at_limit=True)
    apart = row_at(BRACE_SPACINGS_FT, spacing)
    wide = row_at(WIDTHS_FT, width)
    row = table.rows[deep][apart]
    if row is None:
        return not_known(
            f"Table {table.name} gives no member for crossbraces {number(spacing / 12)} ft apart "
            f"in a pit {number(depth / 12)} ft deep, see its note 1; {TO_ENGINEER}"
        )
    return _result(table, row, (deep, apart, wide), (depth, width, spacing))


def _result(
    table: Table,
    row: Row,
    at: tuple[int, int, int],
    figures: tuple[float, float, float],
) -> Result:
    deep, apart, wide = at
    depth, width, spacing = figures
    vertical = number(table.vertical_ft)
    brace = row.braces[wide]
    wale = f"wales {row.wale} at {vertical} ft" if row.wale else "no wales"
    uprights = f"uprights {row.upright} {_spaced(row.upright_spacing_ft)}"
    found = status(row, WIDTHS_FT[wide])
    value = (
        f"crossbraces {brace} at {vertical} ft vertically, {wale}, {uprights} ({table.wood}); "
        f"{_NOT_BESIDE}{_unconfirmed(table, row, found)}"
    )
    named = f"{5 * deep + 5} to {5 * deep + 10} ft"
    source = f"{_SOURCE} Table {table.name}"
    if found is not CONFIRMED:
        source += ", from memory"
    lines = (
        inches("", "pit depth", depth),
        inches("", "trench width", width),
        inches("", "horizontal spacing of crossbraces", spacing),
        noted("", "row for the depth", _row_name(depth, named), source),
        noted("", "row for the spacing", f"up to {number(BRACE_SPACINGS_FT[apart])} ft", source),
        noted("", "column for the width", f"up to {number(WIDTHS_FT[wide])} ft", source),
        noted("", "wood", f"{table.wood}, bending strength at least {table.strength}",
              f"{_SOURCE} Table {table.name}, from memory"),
        *_NOTES,
        noted("", "row of the table", found, _why(row, found)),
        Line("", "members", "row and column of the table", "", value, source),
    )  # fmt: skip
    valid = (
        "up to 20 ft deep and 15 ft wide, both sides braced apart, at most 2 ft of soil and "
        "20,000 lb of equipment beside the pit"
    )
    return Result(
        value, working=Working(f"Timber shoring, Table {table.name}", source, valid, lines)
    )


def _spaced(spacing_ft: float) -> str:
    return "close together" if spacing_ft == CLOSE else f"at {number(spacing_ft)} ft"


def _row_name(depth_in: float, named: str) -> str:
    if depth_in < 60.0:
        return f"{named}; the tables begin at 5 ft, and a pit of less takes the first row"
    if depth_in in {120.0, 180.0}:
        return f"{named}; the depth stands in two rows, and the deeper is taken"
    return named


def _unconfirmed(table: Table, row: Row, found: str) -> str:
    if found is CONFIRMED:
        return ""
    if found is DOUBTFUL:
        return (
            f"; DOUBTFUL, could not be confirmed: {row.doubtful}; read Table {table.name} before "
            "use"
        )
    return f"; from memory, read Table {table.name} before use"


def _why(row: Row, found: str) -> str:
    if found is DOUBTFUL:
        return f"could not be recalled for certain: {row.doubtful}"
    return "App. C (f), examples" if found is CONFIRMED else "to be read off the table before use"
