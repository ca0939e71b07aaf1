"""How well the place of a buried line is known, and how near pit, tube and drill come to it."""

from __future__ import annotations

import math
from types import MappingProxyType
from typing import NamedTuple

from survey.engineering._steps import inches, kept, noted, number, outside
from survey.engineering.working import Line, Lines, Result, Working, not_known

Point = tuple[float, float]

_LEVELS = MappingProxyType(
    {"exposed": "A", "traced": "B", "surface signs": "C", "records only": "D"}
)
_LEVEL_SOURCE = "ASCE/CI 38-02 (kept in 38-22)"
_GEOMETRY = "geometry"
_FAR_IN = 1e7
_DIAGONAL = math.sqrt(2.0)
_WIDEST_LINE_IN = 600.0
_CLOSE_IN = 0.002  # two steps of length, for rounded distances


@kept
def quality_level(located_by: str) -> Result:
    """Utility quality level of what is known of a line's place.

    exposed: A; traced: B; surface signs: C; records only: D.

    Args:
        located_by: word of the vocabulary.

    Returns:
        ``A``, ``B``, ``C`` or ``D``, from best to worst known.

    Not known when:
        The word is another one.

    Source:
        ASCE/CI 38-02 (38-22 keeps the levels): A exposed and measured in plan and depth, B
        designated by surface geophysics, C visible features surveyed and set against records,
        D records or recollection. Only level A says how deep the line lies.

    >>> quality_level("traced").value
    'B'
    """
    level = _LEVELS.get(located_by)
    if level is None:
        return not_known(f"the line was located by {located_by}, for which there is no level")
    lines = (
        noted("", "located by", located_by),
        Line("", "quality level", "A exposed, B traced, C surface signs, D records only",
             located_by, level, _LEVEL_SOURCE),
    )  # fmt: skip
    valid = "place in plan; depth is known at level A only"
    return Result(level, working=Working("Utility quality level", _LEVEL_SOURCE, valid, lines))


@kept
def clearance_beyond_tolerance(clearance_in: float, tolerance_zone_in: float) -> Result:
    """Distance in plan from the edge of a pit to the tolerance zone of a line.

    b = c - t.

    Args:
        clearance_in: c, from the pit's edge to the outside of the line, in, 0 to 10,000,000.
        tolerance_zone_in: t, width of the zone on each side of the line, from its outside, in, 0
            to 240.

    Returns:
        Distance, in; negative where the pit reaches into the zone.

    Not known when:
        A figure is out of its range.

    Source:
        Subtraction; the width of the zone is state law, 49 CFR 196.103(c) the federal duty.

    >>> clearance_beyond_tolerance(30.0, 24.0).value
    6.0
    """
    reason = outside(
        ("clearance to the line", clearance_in, 0.0, _FAR_IN, "in"),
        ("tolerance zone", tolerance_zone_in, 0.0, 240.0, "in"),
    )
    if reason:
        return not_known(reason)
    beyond = float(clearance_in - tolerance_zone_in)

    def lines() -> Lines:
        return (
            inches("c", "clearance to the line", clearance_in),
            inches("t", "tolerance zone on each side", tolerance_zone_in),
            Line("b", "clearance beyond the zone", "c - t",
                 f"{number(clearance_in)} - {number(tolerance_zone_in)}", f"{number(beyond)} in"),
        )  # fmt: skip

    source = "width of the zone by state law; 49 CFR 196.103(c)"
    valid = "line marked within its zone"
    return Result(
        beyond, working=Working("Clearance beyond the tolerance zone", source, valid, lines)
    )


class LineAtPit(NamedTuple):
    """A line near a pit. Clear distances are in plan, to the outside of the line.

    Args:
        floor_clearance_in: x, from the edge of the pit's floor, in, 0 to 10,000,000.
        edge_clearance_in: c, from the edge of the pit at the ground, where its slope ends, in,
            x - 1.4142 r (at least 0) to x; x itself where the sides are upright.
        reach_in: r, how far the slope reaches out at the ground, in, 0 to 7,200; 0 where the
            sides are upright.
        pit_floor_in: H, depth of the floor below the ground, in, 0 to 1,800.
        depth_to_line_in: z, depth to the top of the line, in, 0 to 720.
        diameter_in: d, outside diameter of the line, in, 0 to 600.
    """

    floor_clearance_in: float
    edge_clearance_in: float
    reach_in: float
    pit_floor_in: float
    depth_to_line_in: float
    diameter_in: float


@kept
def clearance_in_space(line: LineAtPit) -> Result:
    """Least distance in space from a line to the sides, the slope and the floor of a pit.

    In the upright plane square to the line: the line is a circle round (x + d / 2, z + d / 2).
    The side of the pit rises from the edge of the floor (0, H) straight to (r, 0) at the ground
    where x - c = r, so that the line passes in front of a side. Beside a corner, which reaches out
    by up to 1.4142 r, it rises at that slope as far as e = x - c (1.4142 r where c = 0) and upright
    from there: no corner comes nearer. g = distance to the pit - d / 2, at least 0. Where the line
    crosses the floor in plan (x = 0) g = max(z - H, 0).

    Args:
        line: its figures have their ranges there.

    Returns:
        Clear distance, in; 0 where the line lies in the pit or touches it.

    Not known when:
        A figure is out of its range.

    Source:
        Geometry.

    >>> clearance_in_space(LineAtPit(26.0, 26.0, 0.0, 60.0, 96.0, 8.0)).value
    46.0
    """
    x, edge, reach, floor, depth, diameter = line
    nearest = max(x - _DIAGONAL * reach - _CLOSE_IN, 0.0)
    reason = outside(
        ("clearance to the floor", x, 0.0, _FAR_IN, "in"),
        ("reach of the slope", reach, 0.0, 7200.0, "in"),
        ("clearance at the ground", edge, nearest, x + _CLOSE_IN, "in"),
        ("depth of pit floor", floor, 0.0, 1800.0, "in"),
        ("depth to the line", depth, 0.0, 720.0, "in"),
        ("line diameter", diameter, 0.0, _WIDEST_LINE_IN, "in"),
    )
    if reason:
        return not_known(reason)
    axis = (x + diameter / 2, depth + diameter / 2)
    distance = _distance_to_pit(axis, _side(line), floor)
    clear = max(float(depth - floor) if x == 0 else distance - diameter / 2, 0.0)

    def lines() -> Lines:
        inputs = (
            inches("x", "clear of the floor's edge, in plan", x),
            inches("c", "clear of the pit's edge at the ground, in plan", edge),
            inches("r", "reach of the slope", reach),
            inches("H", "depth of the floor", floor),
            inches("z", "depth to the top of the line", depth),
            inches("d", "outside diameter of the line", diameter),
        )
        if x == 0:
            below = f"max({number(depth)} - {number(floor)}, 0)"
            last = ("g", "clear distance below the floor", "max(z - H, 0)", below)
            return (*inputs, Line(*last, f"{number(clear)} in"))
        return (*inputs, *_from_side(line, axis, distance, clear))

    valid = "level ground; straight, level line that runs past the pit"
    return Result(clear, working=Working("Clearance in space", _GEOMETRY, valid, lines))


def _from_side(line: LineAtPit, axis: Point, distance: float, clear: float) -> Lines:
    """How the clear distance follows from the side of the pit and the axis of the line."""
    out, down = map(number, _side(line))
    place = f"({number(axis[0])}, {number(axis[1])})"
    return (
        noted("e, y", "side of the pit: from the floor to e out and y deep, upright from there",
              f"{out} in, {down} in"),
        noted("a", "axis of the line, x + d / 2 out and z + d / 2 deep", f"{place} in"),
        Line("D", "distance from the axis to the pit, 0 within it",
             "least distance to (0, H), (e, y), (e, 0)",
             f"{place} to (0, {number(line.pit_floor_in)}), ({out}, {down}), ({out}, 0)",
             f"{number(distance)} in"),
        Line("g", "clear distance", "max(D - d / 2, 0)",
             f"max({number(distance)} - {number(line.diameter_in)} / 2, 0)",
             f"{number(clear)} in"),
    )  # fmt: skip


def _side(line: LineAtPit) -> Point:
    """Where the sloping part of the pit's side ends, out from the floor's edge and down."""
    x, edge, reach, floor, _, _ = line
    if reach == 0:
        return (0.0, floor)
    if edge > 0 and abs(x - edge - reach) <= _CLOSE_IN:
        return (reach, 0.0)
    corner = _DIAGONAL * reach
    out = min(max(x - edge, 0.0), corner) if edge > 0 else corner
    return (out, floor * (1 - out / corner))


def _distance_to_pit(point: Point, side: Point, floor: float) -> float:
    """Distance from a point beyond the floor's edge to the pit; 0 inside of it."""
    (out, down), (reach, top) = point, side
    if down <= floor and out <= reach and out * (floor - top) <= reach * (floor - down):
        return 0.0
    return min(
        _distance_to_straight(point, (0.0, floor), side),
        _distance_to_straight(point, side, (reach, 0.0)),
    )


def _distance_to_straight(point: Point, start: Point, end: Point) -> float:
    run, rise = end[0] - start[0], end[1] - start[1]
    out, down = point[0] - start[0], point[1] - start[1]
    square = run * run + rise * rise
    along = min(max((out * run + down * rise) / square, 0.0), 1.0) if square > 0 else 0.0
    return math.hypot(out - along * run, down - along * rise)


@kept
def clearance_to_tube(
    plan_distance_in: float, line_diameter_in: float, tube_diameter_in: float
) -> Result:
    """Clear distance in plan between a line and the tube of a pier, at any depth.

    g = max(D - d / 2 - t / 2, 0). The tube is pushed down to refusal, so the depth of the line
    makes no difference: a line below the pit is met too.

    Args:
        plan_distance_in: D, from the axis of the pier to the axis of the line, in, 0 to
            10,000,000.
        line_diameter_in: d, outside diameter of the line, in, 0 to 600.
        tube_diameter_in: t, outside diameter of the tube (of its widest collar or guide), in, 1
            to 24.

    Returns:
        Clear distance, in; 0 where the tube meets the line.

    Not known when:
        A figure is out of its range.

    Source:
        Geometry, for a tube that goes down upright. Tubes drift on stones and old footings; how
        much distance allows for it is the rules' matter.

    >>> clearance_to_tube(12.0, 4.0, 3.0).value
    8.5
    """
    reason = outside(
        ("distance in plan", plan_distance_in, 0.0, _FAR_IN, "in"),
        ("line diameter", line_diameter_in, 0.0, _WIDEST_LINE_IN, "in"),
        ("tube diameter", tube_diameter_in, 1.0, 24.0, "in"),
    )
    if reason:
        return not_known(reason)
    clear = max(plan_distance_in - line_diameter_in / 2 - tube_diameter_in / 2, 0.0)

    def lines() -> Lines:
        return (
            inches("D", "from the pier's axis to the line's axis, in plan", plan_distance_in),
            inches("d", "outside diameter of the line", line_diameter_in),
            inches("t", "outside diameter of the tube", tube_diameter_in),
            Line("g", "clear distance", "max(D - d / 2 - t / 2, 0)",
                 f"max({number(plan_distance_in)} - {number(line_diameter_in)} / 2 - "
                 f"{number(tube_diameter_in)} / 2, 0)", f"{number(clear)} in"),
        )  # fmt: skip

    valid = "tube upright; line straight between its two ends"
    return Result(clear, working=Working("Clearance to the pier's tube", _GEOMETRY, valid, lines))


class DrilledHole(NamedTuple):
    """A hole to be drilled, and a line in or behind what it is drilled into.

    Args:
        aside_in: s, from the axis of the hole, made longer where needed, to the axis of the
            line, in, 0 to 10,000,000.
        ahead_in: a, how far behind the face drilled into the line passes nearest to it, in, 0
            to 10,000,000.
        hole_depth_in: L, depth of the hole, in, 0 to 240.
        hole_diameter_in: b, in, 0.125 to 24.
        line_diameter_in: d, outside diameter of the line, in, 0 to 600.
    """

    aside_in: float
    ahead_in: float
    hole_depth_in: float
    hole_diameter_in: float
    line_diameter_in: float


def clearance_to_drill(hole: DrilledHole) -> Result:
    """Clear distance between a drilled hole and a line.

    g = max(sqrt(max(a - L, 0)^2 + s^2) - d / 2 - b / 2, 0).

    Args:
        hole: its figures have their ranges there.

    Returns:
        Clear distance, in; 0 where the drill meets the line. Where the depth of the line behind the
        face is not known, 0 for it gives the least.

    Not known when:
        A figure is out of its range.

    Source:
        Geometry; a straight hole and a line that crosses it or runs along it. The end of the hole
        counts as round, which errs to nearer; a drill that breaks through goes on by more.

    >>> clearance_to_drill(DrilledHole(8.0, 12.0, 6.0, 1.0, 2.0)).value
    8.5
    """
    aside, ahead, depth, bit, diameter = hole
    reason = outside(
        ("distance aside", aside, 0.0, _FAR_IN, "in"),
        ("distance ahead", ahead, 0.0, _FAR_IN, "in"),
        ("depth of the hole", depth, 0.0, 240.0, "in"),
        ("diameter of the hole", bit, 0.125, 24.0, "in"),
        ("line diameter", diameter, 0.0, _WIDEST_LINE_IN, "in"),
    )
    if reason:
        return not_known(reason)
    beyond = max(ahead - depth, 0.0)
    distance = math.hypot(beyond, aside)
    clear = max(distance - diameter / 2 - bit / 2, 0.0)
    lines = (
        inches("s", "line aside of the hole's axis", aside),
        inches("a", "line behind the face", ahead),
        inches("L", "depth of the hole", depth),
        inches("b", "diameter of the hole", bit),
        inches("d", "outside diameter of the line", diameter),
        Line("D", "from the hole's axis to the line's axis", "sqrt(max(a - L, 0)^2 + s^2)",
             f"sqrt({number(beyond)}^2 + {number(aside)}^2)", f"{number(distance)} in"),
        Line("g", "clear distance", "max(D - d / 2 - b / 2, 0)",
             f"max({number(distance)} - {number(diameter)} / 2 - {number(bit)} / 2, 0)",
             f"{number(clear)} in"),
    )  # fmt: skip
    valid = "straight hole, drilled no deeper than planned"
    return Result(clear, working=Working("Clearance to the drill", _GEOMETRY, valid, lines))
