"""Aluminium hydraulic shoring by the tables of Appendix D."""

from __future__ import annotations

from survey.engineering._hydraulic_tables import (
    DEPTHS_FT,
    VERTICAL,
    VERTICAL_FT,
    WALERS,
    WIDTHS_FT,
    Option,
    Row,
)
from survey.engineering._steps import inches, kept, noted, number, outside
from survey.engineering.shoring_tables import (
    DEEPEST_IN,
    SHALLOWEST_IN,
    TO_ENGINEER,
    WIDEST_IN,
    row_at,
)
from survey.engineering.working import Line, Result, Working, not_known
from survey.model import Value
from survey.vocabulary import DOES_NOT_APPLY, Missing

_SOURCE = "29 CFR 1926 Subpart P App. D"
_BESIDE = "a loaded footing beside the pit is not in these spacings"
_NOTES = (
    noted("", "when the tables may be used", "only where the maker's data can't be used",
          "App. D (a)"),
    noted("", "cylinders, at least", "2 in: 18,000 lb; 3 in: 30,000 lb, at full extension",
          "App. D (d)(2), (g)(3)"),
    noted("", "beside a footing", "App. D has no clause for it; 1926.651(i) governs, and the "
          "support has to carry all loads to be expected",
          "29 CFR 1926.651(i)(1), 1926.652(a)(2)"),
)  # fmt: skip
_SHORES_ONLY = (
    noted("", "shores in a group, at least", "3, equally spaced", "App. D (g)(5)"),
    noted("", "section modulus of a rail, at least", "0.40 in3", "App. D (g)(6)"),
    noted("", "plywood behind the shores, only against ravelling",
          "1.125 in softwood or 0.75 in 14-ply birch", "App. D (g)(7)"),
)  # fmt: skip


@kept
def hydraulic_shoring(
    soil_class: str, needs_sheeting: Value, pit_depth_in: float, trench_width_in: float
) -> Result:
    """Aluminium hydraulic shoring that Appendix D gives for a pit.

    Vertical shores (Tables D-1.1, D-1.2) in type A and B that need no sheeting; else walers
    with sheeting (Table D-1.3 in type B, D-1.4 in type C), for each of three walers. Rows:
    depth up to 10, 15, 20 ft; columns: width up to 8, 12, 15 ft. Type A that needs sheeting,
    which no table names, is held as type B. A pit of up to 5 ft takes the first row.

    Args:
        soil_class: class that the pit is held to.
        needs_sheeting: yes or no, whether the ground has to be sheeted; used in A and B.
        pit_depth_in: whole depth of the pit, in, 12 to 240.
        trench_width_in: between the sides that are braced apart, in, 12 to 180.

    Returns:
        The shoring in words: greatest spacings, cylinders, walers, sheeting. What was not read
        in the regulation says so, and has to be read off it before use. ``DOES_NOT_APPLY`` in
        stable rock.

    Not known when:
        A figure is out of its range, or it is not known whether A or B needs sheeting.

    Source:
        29 CFR 1926 Subpart P App. D (e), (g) and Tables D-1.1 to D-1.4. Confirmed in the
        regulation are the examples of App. D (f); the other figures are from memory.

    >>> hydraulic_shoring("B", "no", 156.0, 60.0).value
    'at least 3 vertical shores, at most 6.5 ft apart, 2 in cylinders at most 4 ft apart \
vertically; a loaded footing beside the pit is not in these spacings'
    """
    if soil_class == "stable rock":
        return Result(DOES_NOT_APPLY, "stable rock needs no support, 29 CFR 1926.652(a)(1)(i)")
    if soil_class not in {"A", "B", "C"}:
        return not_known(f"Appendix D has no table for soil class {soil_class}")
    if soil_class != "C" and isinstance(needs_sheeting, Missing):
        return not_known(f"whether the ground needs sheeting: {needs_sheeting}")
    depth, width = round(pit_depth_in, 3), round(trench_width_in, 3)
    reason = outside(
        ("pit depth", depth, SHALLOWEST_IN, DEEPEST_IN, "in"),
        ("trench width", width, SHALLOWEST_IN, WIDEST_IN, "in"),
    )
    if reason:
        return not_known(f"{reason}; {TO_ENGINEER}, App. D (g)(1)")
    sheeted = soil_class == "C" or needs_sheeting != "no"
    name, rows = WALERS["C" if soil_class == "C" else "B"] if sheeted else VERTICAL[soil_class]
    deep, wide = row_at(DEPTHS_FT, depth), row_at(WIDTHS_FT, width)
    row = rows[deep]
    text = "; or ".join(_option(option, row, wide) for option in row.options)
    read = all(WIDTHS_FT[wide] in option.read for option in row.options)
    unread = "" if read else f"; what is from memory: read Table {name} before use"
    value = f"{text}; {_BESIDE}{unread}"
    source = f"{_SOURCE} Table {name}" + ("" if read else ", in part from memory")
    held = "type A that needs sheeting is held as type B" if soil_class == "A" and sheeted else ""
    shallow = "; a pit of up to 5 ft takes the first row" if depth <= 60.0 else ""
    lines = (
        noted("", "soil class", soil_class),
        noted("", "sheeting", held or ("needed" if sheeted else "not needed"), "App. D (e)"),
        inches("", "pit depth", depth),
        inches("", "trench width", width),
        noted("", "row for the depth", f"over {5 * deep + 5} to {5 * deep + 10} ft{shallow}",
              source),
        noted("", "column for the width", f"up to {number(WIDTHS_FT[wide])} ft", source),
        *(() if sheeted else _SHORES_ONLY),
        *_NOTES,
        Line("", "shoring", "row and column of the table", "", value, source),
    )  # fmt: skip
    valid = (
        "up to 20 ft deep and 15 ft wide, both sides braced apart, at most 2 ft of soil and "
        "20,000 lb of equipment beside the pit"
    )
    return Result(value, working=Working(f"Hydraulic shoring, Table {name}", source, valid, lines))


def _option(option: Option, row: Row, wide: int) -> str:
    cylinder = option.cylinders_in[wide]
    sleeve = ""
    if cylinder == 2 and WIDTHS_FT[wide] > WIDTHS_FT[0]:
        sleeve = " with a steel tube oversleeve of 3.5 x 3.5 x 0.1875 in"
    vertical = f"at most {number(VERTICAL_FT)} ft apart vertically"
    cylinders = f"{cylinder} in cylinders{sleeve}"
    apart = number(option.spacing_ft)
    memory = "" if WIDTHS_FT[wide] in option.read else " (from memory)"
    if not option.waler_in3:
        return f"at least 3 vertical shores, at most {apart} ft apart, {cylinders} {vertical}" + (
            memory
        )
    return (
        f"walers of {number(option.waler_in3)} in3 section modulus, {cylinders} at most {apart} ft "
        f"apart and {vertical}, sheeting {row.sheeting}{memory}"
    )
