"""What a pit takes away from under the neighbour and from under our own wall."""

from __future__ import annotations

import math
from collections.abc import Sequence

from survey.engineering._steps import inches, noted, number, outside
from survey.engineering.pit import LONGEST_OPENING_IN, SHORTEST_OPENING_IN
from survey.engineering.working import Line, Result, Working, not_known
from survey.vocabulary import DOES_NOT_APPLY

_LENGTH_STEP_IN = 0.001
_TRADE = "underpinning practice: influence line from the outermost edge of a footing"


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
        ("depth of pit floor", pit_floor_in, 0.0, 1800.0, "in"),
        ("neighbour footing depth", neighbour_footing_depth_in, 0.0, 720.0, "in"),
        ("clearance at the floor", floor_clearance_in, 0.0, 1e7, "in"),
    )
    if reason:
        return not_known(reason)
    if not_below(pit_floor_in, neighbour_footing_depth_in):
        return Result(DOES_NOT_APPLY, "the pit is no deeper than the neighbour's footing")
    slope = floor_clearance_in / (pit_floor_in - neighbour_footing_depth_in)
    x, pit, f = (
        number(figure) for figure in (floor_clearance_in, pit_floor_in, neighbour_footing_depth_in)
    )
    lines = (
        inches("x", "distance in plan from its edge to the pit's floor", floor_clearance_in),
        inches("H", "depth of the pit's floor", pit_floor_in),
        inches("f", "depth of its footing", neighbour_footing_depth_in),
        Line("m", "slope to the neighbour", "x / (H - f)", f"{x} / ({pit} - {f})",
             f"{number(slope, 4)}H:1V"),
    )  # fmt: skip
    valid = "pit floor below the neighbour's footing"
    return Result(slope, working=Working("Slope to the neighbour", _TRADE, valid, lines))


def not_below(pit_floor_in: float, neighbour_footing_depth_in: float) -> bool:
    """Whether a pit is no deeper than a neighbour's footing, to half a step of length."""
    return pit_floor_in - neighbour_footing_depth_in < _LENGTH_STEP_IN / 2


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
