"""How near equipment may come to an overhead power line, and how much of that is left."""

from __future__ import annotations

from survey.engineering._steps import inches, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known, within
from survey.model import Value

# Voltage up to and with which a distance counts, kV, and the distance, ft.
_TABLE_A = (
    (50.0, 10.0), (200.0, 15.0), (350.0, 20.0), (500.0, 25.0), (750.0, 35.0), (1000.0, 45.0),
)  # fmt: skip
_MOST_KV = _TABLE_A[-1][0]
_LEAST_IN, _MOST_IN = _TABLE_A[0][1] * 12, _TABLE_A[-1][1] * 12
_SOURCE = "29 CFR 1926.1408 Table A"
_VALID = (
    "cranes and derricks under the regulation; for other equipment, tube sections, ladders and "
    "people common practice"
)


def approach_distance(voltage_kv: Value) -> Result:
    """Least distance that equipment keeps from an overhead power line.

    Up to 50 kV 10 ft; over 50 to 200 kV 15 ft; to 350 kV 20 ft; to 500 kV 25 ft; to 750 kV 35 ft;
    to 1,000 kV 45 ft.

    Args:
        voltage_kv: between phases, kV, 0 to 1,000; as the line's owner says. It may not be known.

    Returns:
        Distance, in.

    Not known when:
        The voltage is not known (then it is from 10 ft to 45 ft) or out of its range: over
        1,000 kV the owner or a registered professional engineer sets it.

    Source:
        29 CFR 1926.1408 Table A, which binds cranes and derricks. Keeping it for other equipment,
        long sections held upright and people is common practice. Lines count as bare and live.

    >>> approach_distance(69.0).value
    180.0
    """
    if not isinstance(voltage_kv, (int, float)):
        table = tuple(_band(i) for i in range(len(_TABLE_A)))
        working = Working("Distance to keep from the overhead line", _SOURCE, _VALID, table)
        reason = (
            f"the voltage is {voltage_kv}: the distance is at least 10 ft, and up to 45 ft at "
            "1,000 kV; ask the line's owner"
        )
        return within(_LEAST_IN, _MOST_IN, reason, working)
    reason = outside(("voltage", voltage_kv, 0.0, _MOST_KV, "kV"))
    if reason:
        return not_known(
            f"{reason}; beyond it the line's owner or a registered professional engineer sets "
            "the distance"
        )
    row = next(i for i, (most, _) in enumerate(_TABLE_A) if voltage_kv <= most)
    feet = _TABLE_A[row][1]
    distance = feet * 12
    lines = (
        noted("V", "voltage of the line", f"{number(voltage_kv)} kV"),
        _band(row),
        Line("A", "distance to keep", "12 x feet", f"12 x {number(feet)}",
             f"{number(distance)} in"),
    )  # fmt: skip
    working = Working("Distance to keep from the overhead line", _SOURCE, _VALID, lines)
    return Result(distance, working=working)


def _band(row: int) -> Line:
    most, feet = _TABLE_A[row]
    least = f"over {number(_TABLE_A[row - 1][0])} " if row else "up "
    return noted("", f"{least}to {number(most)} kV", f"{number(feet)} ft", _SOURCE)


def clearance_left(distance_to_line_in: float, equipment_reach_in: float) -> Result:
    """What is left between an overhead line and all that equipment can reach.

    g = D - r.

    Args:
        distance_to_line_in: D, from where the equipment turns or stands to the nearest wire, in,
            0 to 24,000. The distance in plan will do: it is never more than the true one.
        equipment_reach_in: r, farthest that any part, load or section held up gets from there
            in any direction, in, 0 to 6,000.

    Returns:
        Distance, in; negative where it could reach past the line.

    Not known when:
        A figure is out of its range.

    Source:
        Geometry; 29 CFR 1926.1408(a)(1), from memory: any part, load line or load at the greatest
        working radius counts. Wires swing and sag: D is measured to where they can get.

    >>> clearance_left(300.0, 120.0).value
    180.0
    """
    reason = outside(
        ("distance to the overhead line", distance_to_line_in, 0.0, 24000.0, "in"),
        ("reach of the equipment", equipment_reach_in, 0.0, 6000.0, "in"),
    )
    if reason:
        return not_known(reason)
    left = float(distance_to_line_in - equipment_reach_in)
    lines = (
        inches("D", "distance to the nearest wire", distance_to_line_in),
        inches("r", "reach of the equipment, its load and long sections", equipment_reach_in),
        Line("g", "clearance left", "D - r",
             f"{number(distance_to_line_in)} - {number(equipment_reach_in)}", f"{number(left)} in",
             "29 CFR 1926.1408(a)(1), from memory"),
    )  # fmt: skip
    valid = "wires where they hang lowest and swing nearest"
    return Result(
        left, working=Working("Clearance left to the overhead line", "geometry", valid, lines)
    )
