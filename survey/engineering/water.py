"""Ground water against the floor of the pit."""

from __future__ import annotations

from typing import NamedTuple

from survey.engineering._steps import inches, kept, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.model import Value
from survey.vocabulary import NOT_KNOWN, Kind, Missing, write_quantity

_SOURCE = "test hole on site; 29 CFR 1926.651(h)"
_LEVEL = "level ground; water as it stood on the day of the survey"


@kept
def water_above_floor(
    least_floor_in: float,
    greatest_floor_in: float,
    groundwater_met: str,
    depth_to_groundwater_in: Value,
    test_hole_depth_in: Value,
) -> Result:
    """Whether ground water stands above the floor of the pit.

    Met at depth z: yes if z < H, else no. Not met in a hole of depth t: no if t >= H. For a
    pit dug from inside, H is only known to lie between two depths, and both must agree.

    Args:
        least_floor_in: least depth of the floor below the ground, in, 0 to 1,800.
        greatest_floor_in: greatest depth, in; the same for a pit dug from outside.
        groundwater_met: yes or no, in the test hole.
        depth_to_groundwater_in: z, from the ground, in, 0 to 2,400; used if water was met.
        test_hole_depth_in: t, in, 0 to 3,600; used if none was met.

    Returns:
        ``yes`` or ``no``.

    Not known when:
        The figure that the case needs is not known or out of its range; no water was met in a
        hole that is less deep than the floor may be; or water was met between the least and
        the greatest depth of the floor.

    Source:
        Comparison of depths; 29 CFR 1926.651(h) is why it matters.

    >>> water_above_floor(60.0, 60.0, "yes", 48.0, NOT_KNOWN).value
    'yes'
    """
    reason = outside(
        ("depth of pit floor", least_floor_in, 0.0, 1800.0, "in"),
        ("depth of pit floor", greatest_floor_in, least_floor_in, 1800.0, "in"),
    )
    if reason:
        return not_known(reason)
    met = groundwater_met == "yes"
    name = "depth to groundwater" if met else "test hole depth"
    depth = depth_to_groundwater_in if met else test_hole_depth_in
    if not isinstance(depth, (int, float)):
        return not_known(f"the {name} is {depth}")
    reason = outside((name, depth, 0.0, 2400.0 if met else 3600.0, "in"))
    if reason:
        return not_known(reason)
    found: str | Missing = NOT_KNOWN
    if depth >= greatest_floor_in:
        found = "no"
    elif met and depth < least_floor_in:
        found = "yes"
    floor = " to ".join(_feet(d) for d in sorted({least_floor_in, greatest_floor_in}))
    if isinstance(found, Missing):
        return not_known(_open(met, _feet(depth), floor))
    lines = (
        noted("H", "depth of the pit's floor", floor),
        noted("", "water met in the test hole", groundwater_met),
        noted("z" if met else "t", name, _feet(depth)),
        Line("", "water above the floor", "z < H" if met else "no if t >= H",
             f"{_feet(depth)} against {floor}", found, _SOURCE),
    )  # fmt: skip
    return Result(found, working=Working("Water above the floor", _SOURCE, _LEVEL, lines))


class WaterDepths(NamedTuple):
    """How high ground water stands, each a :class:`Result` in inches.

    Args:
        over_floor: above the floor of the pit; negative where it stands below it.
        over_footing: above the underside of our footing; negative where it stands below it.
    """

    over_floor: Result
    over_footing: Result


@kept
def water_depths(
    pit_floor_in: float, footing_depth_in: float, depth_to_groundwater_in: float
) -> WaterDepths:
    """Head of ground water over the floor of the pit and over the underside of the footing.

    h = H - z and hf = f - z; all depths from the same ground.

    Args:
        pit_floor_in: H, depth of the pit's floor below the ground, in, 0 to 1,800; of a pit dug
            from inside the greatest that it can be.
        footing_depth_in: f, underside of the footing below the same ground, in, 0 to 720.
        depth_to_groundwater_in: z, from the same ground, in, 0 to 2,400.

    Returns:
        Two heads, in; negative where the water stands lower.

    Not known when:
        A figure that a head needs is out of its range; the other head is then still given.

    Source:
        Subtraction; 29 CFR 1926.651(h) is why it matters.

    >>> water_depths(60.0, 36.0, 48.0).over_floor.value
    12.0
    """
    floor = ("depth of pit floor", "H", pit_floor_in, 1800.0)
    footing = ("depth of the footing's underside", "f", footing_depth_in, 720.0)
    return WaterDepths(
        _head("h", "floor of the pit", floor, depth_to_groundwater_in),
        _head("hf", "underside of the footing", footing, depth_to_groundwater_in),
    )


def _head(symbol: str, over: str, below: tuple[str, str, float, float], water_in: float) -> Result:
    """Height of the water over something that lies below the ground."""
    name, letter, depth, deepest = below
    reason = outside(
        (name, depth, 0.0, deepest, "in"), ("depth to groundwater", water_in, 0.0, 2400.0, "in")
    )
    if reason:
        return not_known(reason)
    head = float(depth - water_in)
    lines = (
        inches(letter, name, depth),
        inches("z", "depth to groundwater", water_in),
        Line(symbol, f"head of water over the {over}", f"{letter} - z",
             f"{number(depth)} - {number(water_in)}", f"{number(head)} in"),
    )  # fmt: skip
    return Result(head, working=Working(f"Water over the {over}", _SOURCE, _LEVEL, lines))


def _feet(depth_in: float) -> str:
    return write_quantity(depth_in, Kind.LENGTH, "ft")


def _open(met: bool, depth: str, floor: str) -> str:
    if met:
        return (
            f"water was met {depth} below the ground; seen from the ground outside, the floor "
            f"of this pit lies {floor} deep, since it is dug from inside"
        )
    return (
        f"no water was met, but the test hole is only {depth} deep and the floor of the pit "
        f"may lie {floor} below the ground; look deeper"
    )
