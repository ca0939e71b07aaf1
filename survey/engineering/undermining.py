"""What a pit takes away from under neighbours, from under our own walls and from under loads."""

from __future__ import annotations

import math
from collections.abc import Sequence

from survey.engineering._steps import given, inches, kept, noted, number, outside
from survey.engineering.layout import Opened
from survey.engineering.pit import LONGEST_OPENING_IN, SHORTEST_OPENING_IN
from survey.engineering.working import Line, Result, Working, not_known
from survey.vocabulary import DOES_NOT_APPLY, Kind

_LENGTH_STEP_IN = 0.001
_DEEPEST_FLOOR_IN = 1800.0
_DEEPEST_FOOTING_IN = 720.0
_LONGEST_WALL_IN = 6000.0
_TRADE = "underpinning practice: influence line from the outermost edge of a footing"
_PLANE = "plane geometry"
_SPREAD = "TMS 402 5.1.3, 2 vertical to 1 horizontal in masonry; from memory"


@kept
def slope_to_neighbour(
    pit_floor_in: float, neighbour_footing_depth_in: float, floor_clearance_in: float
) -> Result:
    """Slope from the edge of a neighbour's footing down to the edge of the pit's floor.

    m = x / (H - f), where the pit's floor lies below the neighbour's footing.

    Args:
        pit_floor_in: H, depth of the pit's floor below the ground, in, 0 to 1,800.
        neighbour_footing_depth_in: f, underside of its footing below the ground, in, 0 to 720.
        floor_clearance_in: x, from its edge to the edge of the pit's floor in plan, in, 0 to
            10,000,000.

    Returns:
        Horizontal to one vertical: the smaller, the steeper and the worse.
        ``DOES_NOT_APPLY`` where the floor is not below the neighbour's footing.

    Not known when:
        A figure is out of its range.

    Source:
        Underpinning practice (a plane from the outermost edge of a footing that enters the
        excavation); the limit on it is the rules' matter.

    >>> slope_to_neighbour(84.0, 36.0, 72.0).value
    1.5
    """
    reason = outside(
        ("depth of pit floor", pit_floor_in, 0.0, _DEEPEST_FLOOR_IN, "in"),
        ("neighbour footing depth", neighbour_footing_depth_in, 0.0, _DEEPEST_FOOTING_IN, "in"),
        ("clearance at the floor", floor_clearance_in, 0.0, 1e7, "in"),
    )
    if reason:
        return not_known(reason)
    apart = inches("x", "distance in plan from its edge to the pit's floor", floor_clearance_in)
    return _slope_down(
        "to the neighbour", "the neighbour's footing", (apart,), clearance_in=floor_clearance_in,
        pit_floor_in=pit_floor_in, footing_depth_in=neighbour_footing_depth_in,
    )  # fmt: skip


def not_below(pit_floor_in: float, neighbour_footing_depth_in: float) -> bool:
    """Whether a pit is no deeper than a neighbour's footing, to half a step of length."""
    return pit_floor_in - neighbour_footing_depth_in < _LENGTH_STEP_IN / 2


def _slope_down(
    to_what: str,
    footing: str,
    apart: tuple[Line, ...],
    *,
    clearance_in: float,
    pit_floor_in: float,
    footing_depth_in: float,
) -> Result:
    """The influence line from the edge of a footing to a pit's floor: m = x / (H - f).

    Args:
        to_what: of the slope's name.
        footing: whose footing it is.
        apart: lines that give the distance x.
        clearance_in: x, at least 0.
        pit_floor_in: H.
        footing_depth_in: f, from the same ground.
    """
    if not_below(pit_floor_in, footing_depth_in):
        return Result(DOES_NOT_APPLY, f"the pit is no deeper than {footing}")
    slope = clearance_in / (pit_floor_in - footing_depth_in)
    x, pit, f = (number(figure) for figure in (clearance_in, pit_floor_in, footing_depth_in))
    lines = (
        *apart,
        inches("H", "depth of the pit's floor", pit_floor_in),
        inches("f", "depth of its footing", footing_depth_in),
        Line("m", f"slope {to_what}", "x / (H - f)",
             f"{x} / ({pit} - {f})" if footing_depth_in >= 0 else f"{x} / ({pit} - ({f}))",
             f"{number(slope, 4)}H:1V"),
    )  # fmt: skip
    return Result(
        slope, working=Working(f"Slope {to_what}", _TRADE, f"pit floor below {footing}", lines)
    )


@kept
def slope_to_own_footing(
    distance_to_corner_in: float,
    pit_floor_in: float,
    other_footing_depth_in: float,
    other_footing_reach_in: float,
) -> Result:
    """Slope from the footing of our own wall round the corner down to the pit's floor.

    m = x / (H - f) with x = max(c - b, 0), where the pit's floor lies below that footing.

    Args:
        distance_to_corner_in: c, along the wall from the edge of the pit to the wall's end, in,
            -14,760 to 6,000. From the opening at the footing, as the distance to the corner is
            worked out, or from the floor, which is farther.
        pit_floor_in: H, depth of the pit's floor below the ground, in, 0 to 1,800.
        other_footing_depth_in: f, underside of the other wall's footing below the same ground,
            in, 0 to 720.
        other_footing_reach_in: b, how far that footing reaches from the wall's end towards the
            pit, in, 0 to 120: at most its whole width, which at an outside corner lies under
            the end of this wall; at an inside corner its projection.

    Returns:
        Horizontal to one vertical: the smaller, the steeper and the worse; 0 where the pit
        reaches the other footing. ``DOES_NOT_APPLY`` where the floor is not below it.

    Not known when:
        A figure is out of its range.

    Source:
        Underpinning practice, as in :func:`slope_to_neighbour`.

    >>> slope_to_own_footing(68.0, 84.0, 36.0, 20.0).value
    1.0
    """
    reason = outside(
        ("distance to corner", distance_to_corner_in, -LONGEST_OPENING_IN, _LONGEST_WALL_IN, "in"),
        ("depth of pit floor", pit_floor_in, 0.0, _DEEPEST_FLOOR_IN, "in"),
        ("footing depth of the other wall", other_footing_depth_in, 0.0, _DEEPEST_FOOTING_IN,
         "in"),
        ("reach of the other footing", other_footing_reach_in, 0.0, 120.0, "in"),
    )  # fmt: skip
    if reason:
        return not_known(reason)
    clear = max(distance_to_corner_in - other_footing_reach_in, 0.0)
    c, b = number(distance_to_corner_in), number(other_footing_reach_in)
    apart = (
        inches("c", "distance from the pit to the corner", distance_to_corner_in),
        inches("b", "reach of the other footing towards the pit", other_footing_reach_in),
        Line("x", "distance in plan from its edge to the pit", "max(c - b, 0)",
             f"max({c} - {b}, 0)", f"{number(clear)} in"),
    )  # fmt: skip
    return _slope_down(
        "to the footing round the corner", "the footing round the corner", apart,
        clearance_in=clear, pit_floor_in=pit_floor_in, footing_depth_in=other_footing_depth_in,
    )  # fmt: skip


@kept
def slope_to_upper_footing(
    distance_to_step_in: float, step_height_in: float, pit_depth_in: float, footing_depth_in: float
) -> Result:
    """Slope from the edge of the footing beyond a step up, down to the pit's floor.

    m = x / (H - fu) with fu = f - s, the depth of the upper footing, and x at least 0.

    Args:
        distance_to_step_in: x, along the wall from the edge of the pit to the step, in, -6,000
            to 6,000; less than 0 where the pit reaches past the step.
        step_height_in: s, how much higher the upper footing's underside is, in, 0 to 480.
        pit_depth_in: H, from the ground or floor that the pit is dug from, in, 0 to 720.
        footing_depth_in: f, underside of the footing at the pit, from the same, in, 0 to 480.

    Returns:
        Horizontal to one vertical: the smaller, the steeper and the worse; 0 where the pit
        reaches under the upper footing. ``DOES_NOT_APPLY`` where the floor is not below it.

    Not known when:
        A figure is out of its range.

    Source:
        Underpinning practice, as in :func:`slope_to_neighbour`; depth counts from the upper
        footing, so a pit that is no deeper than the footing beside it has a slope too.

    >>> slope_to_upper_footing(48.0, 24.0, 60.0, 36.0).value
    1.0
    """
    reason = outside(
        ("distance to step", distance_to_step_in, -_LONGEST_WALL_IN, _LONGEST_WALL_IN, "in"),
        ("step height", step_height_in, 0.0, 480.0, "in"),
        ("pit depth", pit_depth_in, 0.0, 720.0, "in"),
        ("footing depth", footing_depth_in, 0.0, 480.0, "in"),
    )
    if reason:
        return not_known(reason)
    clear, upper = max(distance_to_step_in, 0.0), footing_depth_in - step_height_in
    apart = (
        inches("x0", "distance from the pit to the step", distance_to_step_in),
        Line("x", "distance in plan, at least 0", "max(x0, 0)",
             f"max({number(distance_to_step_in)}, 0)", f"{number(clear)} in"),
        Line("fu", "depth of the upper footing", "footing depth - step height",
             f"{number(footing_depth_in)} - {number(step_height_in)}", f"{number(upper)} in"),
    )  # fmt: skip
    return _slope_down(
        "to the upper footing", "the footing beyond the step", apart,
        clearance_in=clear, pit_floor_in=pit_depth_in, footing_depth_in=upper,
    )  # fmt: skip


def step_slope(step_height_in: float, step_run_in: float) -> Result:
    """Slope of the steps of a stepped footing.

    m = r / s.

    Args:
        step_height_in: s, from one underside up to the next, in, 0 to 480.
        step_run_in: r, length of footing between two steps, in, 0 to 6,000.

    Returns:
        Horizontal to one vertical: the smaller, the steeper. ``DOES_NOT_APPLY`` without a step.

    Not known when:
        A figure is out of its range.

    Source:
        Plane geometry; that the lower footing stays out of the upper one's influence line when
        the steps are flatter than it is common practice.

    >>> step_slope(24.0, 48.0).value
    2.0
    """
    reason = outside(
        ("step height", step_height_in, 0.0, 480.0, "in"),
        ("run of the step", step_run_in, 0.0, _LONGEST_WALL_IN, "in"),
    )
    if reason:
        return not_known(reason)
    if not_below(step_height_in, 0.0):
        return Result(DOES_NOT_APPLY, "the footing has no step")
    slope = step_run_in / step_height_in
    lines = (
        inches("s", "step height", step_height_in),
        inches("r", "run of the step", step_run_in),
        Line("m", "slope of the steps", "r / s",
             f"{number(step_run_in)} / {number(step_height_in)}", f"{number(slope, 4)}H:1V"),
    )  # fmt: skip
    valid = "steps with level undersides"
    return Result(slope, working=Working("Slope of the steps", _PLANE, valid, lines))


def influence_depth(footing_depth_in: float, distance_in: float, slope: float) -> Result:
    """How deep a pit may go before it passes an influence line of a given slope.

    H = f + x / m, which is :func:`slope_to_neighbour` solved for the depth.

    Args:
        footing_depth_in: f, underside of the footing below the ground, in, 0 to 720.
        distance_in: x, in plan from the footing's edge to the edge of the pit's floor, in, 0 to
            10,000,000.
        slope: m, horizontal to one vertical, 0.1 to 10.

    Returns:
        Depth of the pit's floor below the ground, in.

    Not known when:
        A figure is out of its range.

    Source:
        Underpinning practice, as in :func:`slope_to_neighbour`.

    >>> influence_depth(36.0, 72.0, 1.5).value
    84.0
    """
    reason = outside(
        ("footing depth", footing_depth_in, 0.0, _DEEPEST_FOOTING_IN, "in"),
        ("distance", distance_in, 0.0, 1e7, "in"),
        ("slope of the influence line", slope, 0.1, 10.0, "H:1V"),
    )
    if reason:
        return not_known(reason)
    depth = footing_depth_in + distance_in / slope
    f, x = number(footing_depth_in), number(distance_in)
    lines = (
        inches("f", "depth of the footing", footing_depth_in),
        inches("x", "distance in plan from its edge to the pit's floor", distance_in),
        given("m", "slope of the influence line", slope, Kind.SLOPE),
        Line("H", "depth of the influence line", "f + x / m", f"{f} + {x} / {number(slope, 6)}",
             f"{number(depth)} in"),
    )  # fmt: skip
    valid = "level ground"
    return Result(depth, working=Working("Depth of the influence line", _TRADE, valid, lines))


def share_open_at_once(
    wall_length_in: float, clear_spacing_in: float, openings_in: Sequence[float]
) -> Result:
    """Largest share of a wall's length that is undermined at one time.

    n = floor((L + s) / (o + s)) pits that open o of the wall fit at clear spacing s; o is the
    shortest opening, n at least 1 and at most the number of pits. share = (sum of the n
    longest) / L, at most 100 %. Where all pits are alike that is n o / L.

    Args:
        wall_length_in: L, 12 to 6,000 in.
        clear_spacing_in: s, least clear distance between open pits, 0 to 6,000 in.
        openings_in: opening at the underside of the footing of each pit on the wall, in, each 6
            to 14,760.

    Returns:
        Percent of the wall's length, 0 to 100.

    Not known when:
        A figure is out of its range, or no pit is on the wall.

    Source:
        Geometry; the share itself is limited by Chudley and Greeno, Building Construction
        Handbook, 8th ed., underpinning.

    >>> share_open_at_once(480.0, 60.0, [30.0] * 8).value
    37.5
    """
    if not openings_in:
        return not_known("no pit is on the wall")
    reason = outside(
        ("wall length", wall_length_in, 12.0, 6000.0, "in"),
        ("clear spacing of open pits", clear_spacing_in, 0.0, 6000.0, "in"),
        *(
            ("opening at footing", opening, SHORTEST_OPENING_IN, LONGEST_OPENING_IN, "in")
            for opening in openings_in
        ),
    )
    if reason:
        return not_known(reason)
    shortest = min(openings_in)
    # Half a step is added, so that rounding noise never leaves out a pit that just fits.
    room = wall_length_in + clear_spacing_in + _LENGTH_STEP_IN / 2
    fitting = math.floor(room / (shortest + clear_spacing_in))
    count = min(max(fitting, 1), len(openings_in))
    opened = sum(sorted(openings_in, reverse=True)[:count])
    share = min(100 * opened / wall_length_in, 100.0)
    length, spacing, short = (
        number(figure) for figure in (wall_length_in, clear_spacing_in, shortest)
    )
    lines = (
        inches("L", "wall length", wall_length_in),
        inches("s", "clear spacing of open pits", clear_spacing_in),
        noted("N", "pits on the wall", str(len(openings_in))),
        inches("o", "shortest opening at the footing", shortest),
        Line("n", "pits open together", "floor((L + s) / (o + s)), 1 to N",
             f"floor(({length} + {spacing}) / ({short} + {spacing}))", str(count)),
        Line("O", "length of the n longest openings", "sum", "", f"{number(opened)} in"),
        Line("share", "share of the wall open", "100 O / L, at most 100",
             f"100 x {number(opened)} / {length}", f"{number(share)} %"),
    )  # fmt: skip
    valid = "pits of one wall, at least the clear spacing apart"
    return Result(
        share, working=Working("Share of the wall open at once", "geometry", valid, lines)
    )


def length_undermined(openings: Sequence[Opened], wall_length_in: float) -> Result:
    """Length of a wall that some pits undermine together, when all of them are open.

    O = length of the union of the openings s - o / 2 to s + o / 2 on the wall, 0 to L.

    Args:
        openings: station and opening at the footing of each pit that is open at the same time;
            stations 0 to L, in; openings 6 to 14,760 in.
        wall_length_in: L, 12 to 6,000 in.

    Returns:
        Length, in. What pits open together counts once; what lies past the end of the wall
        counts for the other wall.

    Not known when:
        A figure is out of its range, or no pit is open.

    Source:
        Plane geometry.

    >>> length_undermined([Opened(60.0, 36.0), Opened(90.0, 36.0)], 480.0).value
    66.0
    """
    reason, runs, lines = _runs(openings, wall_length_in)
    if reason:
        return not_known(reason)
    total, summed = _summed(runs)
    return _undermined(total, "Length of wall undermined", (*lines, summed))


def share_undermined(openings: Sequence[Opened], wall_length_in: float) -> Result:
    """Share of a wall's length that some pits undermine together, when all of them are open.

    share = 100 O / L, with O as in :func:`length_undermined`.

    Args:
        openings: as in :func:`length_undermined`.
        wall_length_in: L, 12 to 6,000 in.

    Returns:
        Percent of the wall's length, 0 to 100.

    Not known when:
        A figure is out of its range, or no pit is open.

    Source:
        Plane geometry; the share itself is limited by Chudley and Greeno, Building Construction
        Handbook, 8th ed., underpinning.

    >>> share_undermined([Opened(60.0, 36.0), Opened(180.0, 36.0)], 480.0).value
    15.0
    """
    reason, runs, lines = _runs(openings, wall_length_in)
    if reason:
        return not_known(reason)
    total, summed = _summed(runs)
    share = min(100 * total / wall_length_in, 100.0)
    numbers = f"100 x {number(total)} / {number(wall_length_in)}"
    last = Line("share", "share of wall undermined", "100 O / L", numbers, f"{number(share)} %")
    return _undermined(share, "Share of the wall undermined", (*lines, summed, last))


def longest_run_undermined(openings: Sequence[Opened], wall_length_in: float) -> Result:
    """Longest run of a wall that some pits undermine without ground left in between.

    l = the longest of the runs that make up the union of the openings.

    Args:
        openings: as in :func:`length_undermined`.
        wall_length_in: L, 12 to 6,000 in.

    Returns:
        Length, in.

    Not known when:
        A figure is out of its range, or no pit is open.

    Source:
        Plane geometry; the length of one opening is limited by Chudley and Greeno, Building
        Construction Handbook, 8th ed., underpinning.

    >>> longest_run_undermined([Opened(60.0, 36.0), Opened(90.0, 36.0)], 480.0).value
    66.0
    """
    reason, runs, lines = _runs(openings, wall_length_in)
    if reason:
        return not_known(reason)
    longest = max(end - start for start, end in runs)
    numbers = f"max({', '.join(number(end - start) for start, end in runs)})"
    last = Line("l", "longest run undermined", "the longest", numbers, f"{number(longest)} in")
    return _undermined(longest, "Longest run undermined", (*lines, last))


def _undermined(value: float, title: str, lines: tuple[Line, ...]) -> Result:
    valid = "pits of one wall that are open at the same time"
    return Result(value, working=Working(title, _PLANE, valid, lines))


def _summed(runs: list[tuple[float, float]]) -> tuple[float, Line]:
    total = sum(end - start for start, end in runs)
    numbers = " + ".join(number(end - start) for start, end in runs)
    return total, Line(
        "O", "length of wall undermined", "sum of the runs", numbers, f"{number(total)} in"
    )


def _runs(
    openings: Sequence[Opened], wall_length_in: float
) -> tuple[str, list[tuple[float, float]], tuple[Line, ...]]:
    """Runs of wall without ground under them, by station, or why they can't be told."""
    if not openings:
        return "no pit is open on the wall", [], ()
    reason = outside(("wall length", wall_length_in, 12.0, _LONGEST_WALL_IN, "in")) or outside(
        *(("station", pit.station_in, 0.0, wall_length_in, "in") for pit in openings),
        *(
            ("opening at footing", pit.opening_in, SHORTEST_OPENING_IN, LONGEST_OPENING_IN, "in")
            for pit in openings
        ),
    )
    if reason:
        return reason, [], ()
    ends = sorted(
        (max(station - opened / 2, 0.0), min(station + opened / 2, wall_length_in))
        for station, opened in openings
    )
    runs = [ends[0]]
    for start, end in ends[1:]:
        first, last = runs[-1]
        # Ground of less than half a step between two openings is none.
        if start - last < _LENGTH_STEP_IN / 2:
            runs[-1] = (first, max(last, end))
        else:
            runs.append((start, end))
    stations = ", ".join(f"{number(start)} to {number(end)}" for start, end in runs)
    lines = (
        inches("L", "wall length", wall_length_in),
        noted("N", "pits open together", str(len(openings))),
        Line("", "runs of wall undermined, by station",
             "union of s - o / 2 to s + o / 2, from 0 to L", "", f"{stations} in"),
    )  # fmt: skip
    return "", runs, lines


def load_spread_length(bearing_length_in: float, height_in: float, spread: float) -> Result:
    """Length of footing over which a chimney, post or beam end bears, spread by the wall.

    l = b + 2 k h.

    Args:
        bearing_length_in: b, length along the wall that the load stands on, in, 0 to 240.
        height_in: h, from there down to the underside of the footing, in, 0 to 600.
        spread: k, horizontal to one vertical on each side, 0 to 2: 1/2 in masonry (TMS 402
            5.1.3, from memory); 1, which is 45 deg, in concrete (common practice); 0 counts the
            load as not spread.

    Returns:
        Length, in. Over the whole height, so it is the greatest: take it to see whether the load
        reaches a pit. For the intensity of the load it is not safe; TMS 402 5.1.3 ends the
        spread at half the height of the wall.

    Not known when:
        A figure is out of its range.

    Source:
        TMS 402 5.1.3, concentrated loads: 2 vertical to 1 horizontal; from memory.

    >>> load_spread_length(16.0, 96.0, 0.5).value
    112.0
    """
    reason = outside(
        ("bearing length", bearing_length_in, 0.0, 240.0, "in"),
        ("height of the spread", height_in, 0.0, 600.0, "in"),
        ("spread", spread, 0.0, 2.0, "H:1V"),
    )
    if reason:
        return not_known(reason)
    length = bearing_length_in + 2 * spread * height_in
    b, k, h = number(bearing_length_in), number(spread, 6), number(height_in)
    lines = (
        inches("b", "length that the load stands on", bearing_length_in),
        inches("h", "height from there to the underside of the footing", height_in),
        given("k", "spread of the load", spread, Kind.SLOPE, source=_SPREAD),
        Line("l", "length of footing under the load", "b + 2 k h", f"{b} + 2 x {k} x {h}",
             f"{number(length)} in"),
    )  # fmt: skip
    valid = "wall without opening or joint within the spread; for reach, not for intensity"
    return Result(length, working=Working("Spread of a point load", _SPREAD, valid, lines))


def point_load_clearance(load_station_in: float, spread_length_in: float, pit: Opened) -> Result:
    """Clear distance along the wall from a point load, spread by the wall, to a pit's opening.

    c = |s - sp| - (l + o) / 2.

    Args:
        load_station_in: s, station of the load's middle, in, 0 to 6,000.
        spread_length_in: l, length of footing under the load, in, 0 to 2,640, as
            :func:`load_spread_length` has it.
        pit: its station sp, in, 0 to 6,000, and opening o, in, 6 to 14,760.

    Returns:
        Distance, in; negative where part of the load stands over the opening.

    Not known when:
        A figure is out of its range.

    Source:
        Plane geometry.

    >>> point_load_clearance(200.0, 112.0, Opened(60.0, 36.0)).value
    66.0
    """
    reason = outside(
        ("station of the load", load_station_in, 0.0, _LONGEST_WALL_IN, "in"),
        ("length of footing under the load", spread_length_in, 0.0, 2640.0, "in"),
        ("station", pit.station_in, 0.0, _LONGEST_WALL_IN, "in"),
        ("opening at footing", pit.opening_in, SHORTEST_OPENING_IN, LONGEST_OPENING_IN, "in"),
    )
    if reason:
        return not_known(reason)
    clear = abs(load_station_in - pit.station_in) - (spread_length_in + pit.opening_in) / 2
    s, length, sp, o = (
        number(figure)
        for figure in (load_station_in, spread_length_in, pit.station_in, pit.opening_in)
    )
    lines = (
        inches("s", "station of the load", load_station_in),
        inches("l", "length of footing under the load", spread_length_in),
        inches("sp", "station of the pier", pit.station_in),
        inches("o", "opening at the footing", pit.opening_in),
        Line("c", "clear distance from the load to the opening", "|s - sp| - (l + o) / 2",
             f"abs({s} - {sp}) - ({length} + {o}) / 2", f"{number(clear)} in"),
    )  # fmt: skip
    valid = "load and pit at the same wall"
    return Result(clear, working=Working("Clearance to the point load", _PLANE, valid, lines))


def point_load_reaches_pit(load_station_in: float, spread_length_in: float, pit: Opened) -> Result:
    """Whether a point load, spread by the wall, stands over a pit's opening or touches it.

    yes if c <= 0, with c as in :func:`point_load_clearance`, to half a step of length.

    Args:
        load_station_in: as in :func:`point_load_clearance`.
        spread_length_in: as in :func:`point_load_clearance`.
        pit: as in :func:`point_load_clearance`.

    Returns:
        ``yes`` or ``no``.

    Not known when:
        A figure is out of its range.

    Source:
        Plane geometry.

    >>> point_load_reaches_pit(120.0, 112.0, Opened(60.0, 36.0)).value
    'yes'
    """
    found = point_load_clearance(load_station_in, spread_length_in, pit)
    clear, working = found.value, found.working
    if not isinstance(clear, float) or working is None:
        return found
    reaches = "yes" if clear < _LENGTH_STEP_IN / 2 else "no"
    last = Line("", "point load over the pit", "c <= 0", f"{number(clear)} <= 0", reaches)
    lines = (*working.lines, last)
    return Result(
        reaches, working=Working("Point load over the pit", _PLANE, working.validity, lines)
    )


def point_load_slope(clearance_in: float, pit_depth_in: float, footing_depth_in: float) -> Result:
    """Slope from where a point load bears on the ground down to the edge of the pit.

    m = x / (H - f) with x = max(c, 0).

    Args:
        clearance_in: c, from :func:`point_load_clearance`, in, -20,000 to 6,000. From the opening
            at the footing, which is nearer than the floor.
        pit_depth_in: H, from the ground or floor that the pit is dug from, in, 0 to 720.
        footing_depth_in: f, underside of the footing, from the same, in, 0 to 480.

    Returns:
        Horizontal to one vertical: the smaller, the steeper and the worse; 0 where the load
        stands over the opening. ``DOES_NOT_APPLY`` where the floor is not below the footing.

    Not known when:
        A figure is out of its range.

    Source:
        Underpinning practice, as in :func:`slope_to_neighbour`.

    >>> point_load_slope(36.0, 60.0, 36.0).value
    1.5
    """
    reason = outside(
        ("clearance of the load", clearance_in, -20000.0, _LONGEST_WALL_IN, "in"),
        ("pit depth", pit_depth_in, 0.0, 720.0, "in"),
        ("footing depth", footing_depth_in, 0.0, 480.0, "in"),
    )
    if reason:
        return not_known(reason)
    clear = max(clearance_in, 0.0)
    apart = (
        inches("c", "clear distance from the load to the opening", clearance_in),
        Line("x", "distance in plan, at least 0", "max(c, 0)", f"max({number(clearance_in)}, 0)",
             f"{number(clear)} in"),
    )  # fmt: skip
    return _slope_down(
        "to the point load", "the footing under the load", apart,
        clearance_in=clear, pit_floor_in=pit_depth_in, footing_depth_in=footing_depth_in,
    )  # fmt: skip
