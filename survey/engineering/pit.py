"""The pit: how far its sides slope out, how much of the wall it opens, how deep its floor lies."""

from __future__ import annotations

from typing import NamedTuple

from survey.engineering._steps import given, inches, kept, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.model import Value
from survey.vocabulary import Kind, Missing

_DEEPEST_BENCH_IN = 240.0  # App. B Table B-1, App. F: 20 ft
_DEEPEST_IN = 720.0
_FLATTEST_SLOPE = 10.0
_LONGEST_PIT_IN = 360.0
_FLATTEST_BENCH = 1.0
_UPRIGHT = ("none", "timber shoring", "hydraulic shoring", "shield")
_CUT = {"sloped": "slope that will be cut", "benched": "flattest bench of App. B"}

SHORTEST_OPENING_IN = 6.0  # a pit of 6 in with upright sides
LONGEST_OPENING_IN = _LONGEST_PIT_IN + 2 * _FLATTEST_SLOPE * _DEEPEST_IN


@kept
def slope_reach(
    side_protection: str, slope_of_sides: Value, pit_depth_in: Value, soil_class: Value
) -> Result:
    """How far the slope of a pit reaches out at the ground, beyond the edge of its floor.

    r = m H for sloped sides, m the slope that will be cut; r = H for benched sides, since
    1H:1V is the flattest bench that Appendix B gives; r = 0 for upright sides.

    Args:
        side_protection: what holds the sides.
        slope_of_sides: m, horizontal to one vertical, 0 to 10; used for ``sloped``.
        pit_depth_in: H, in, 0 to 720; to 240 where benched; not used for upright sides.
        soil_class: tested class; used for ``benched``.

    Returns:
        Reach, in.

    Not known when:
        A figure that the case needs is not known or out of its range; or the ground is C and
        the sides are benched, for which Appendix B gives no figure.

    Source:
        Plane geometry; 29 CFR 1926 Subpart P App. B Table B-1, Fig. B-1.1 and B-1.2. For A
        the bench of B is taken, because a rule may hold the pit to B.

    >>> slope_reach("sloped", 1.5, 60.0, "C").value
    90.0
    """
    if side_protection in _UPRIGHT:
        upright = (
            noted("", "side protection", side_protection),
            Line("r", "reach of the slope", "0 for upright sides", side_protection, "0 in"),
        )
        return Result(0.0, working=Working("Reach of the slope", "plane geometry", "", upright))
    cut = _slope_cut(side_protection, slope_of_sides, pit_depth_in, soil_class)
    if not isinstance(cut.value, float) or not isinstance(pit_depth_in, (int, float)):
        return cut
    reach = cut.value * pit_depth_in
    lines = (
        noted("", "side protection", side_protection),
        given("m", _CUT[side_protection], cut.value, Kind.SLOPE),
        inches("H", "pit depth", pit_depth_in),
        Line("r", "reach of the slope", "m H", f"{number(cut.value)} x {number(pit_depth_in)}",
             f"{number(reach)} in"),
    )  # fmt: skip
    valid = "level ground; benched pits up to 20 ft deep"
    return Result(reach, working=Working("Reach of the slope", "plane geometry", valid, lines))


def _slope_cut(
    side_protection: str, slope_of_sides: Value, pit_depth_in: Value, soil_class: Value
) -> Result:
    """Slope of sides that are not upright, H:1V; known only if the depth of the pit is."""
    if not isinstance(pit_depth_in, (int, float)):
        return not_known(f"the pit depth is {pit_depth_in}")
    if side_protection == "benched":
        if isinstance(soil_class, Missing):
            return not_known(f"the soil class is {soil_class}")
        if soil_class == "C":
            return not_known("Appendix B gives no bench for soil class C")
        reason = outside(("pit depth", pit_depth_in, 0.0, _DEEPEST_BENCH_IN, "in"))
        if reason:
            return not_known(f"{reason}; deeper pits are designed by an engineer, App. F")
        return Result(_FLATTEST_BENCH)
    if not isinstance(slope_of_sides, (int, float)):
        return not_known(f"the slope of the sides is {slope_of_sides}")
    reason = outside(
        ("slope of sides", slope_of_sides, 0.0, _FLATTEST_SLOPE, "H:1V"),
        ("pit depth", pit_depth_in, 0.0, _DEEPEST_IN, "in"),
    )
    return not_known(reason) if reason else Result(float(slope_of_sides))


@kept
def opening_at_footing(
    side_protection: Value,
    slope_of_sides: Value,
    pit_depth_in: Value,
    footing_depth_in: Value,
    pit_length_in: float,
    *,
    soil_class: Value,
) -> Result:
    """Length of wall from under which a pit takes the ground, at the underside of the footing.

    o = p + 2 m (H - f), both sides along the wall sloping out from the floor up to the footing;
    o = p for upright sides and for a pit that is no deeper than the footing.

    Args:
        side_protection: what holds the sides; not used where the pit is no deeper.
        slope_of_sides: m, horizontal to one vertical, 0 to 10; used for ``sloped``. Benched
            sides count as 1H:1V, as in :func:`slope_reach`.
        pit_depth_in: H, in, 0 to 720; to 240 where benched; not used for upright sides.
        footing_depth_in: f, underside of the footing, from the ground or floor that the pit is
            dug from, in, 0 to 480; not used for upright sides.
        pit_length_in: p, at the floor, in, 6 to 360.
        soil_class: tested class; used for ``benched``.

    Returns:
        Length along the wall, in, at least p.

    Not known when:
        A figure that the case needs is not known or out of its range; or the ground is C and
        the sides are benched.

    Source:
        Plane geometry; benches as in :func:`slope_reach`.

    >>> opening_at_footing("sloped", 1.0, 60.0, 36.0, 36.0, soil_class="C").value
    84.0
    """
    reason = outside(("pit length", pit_length_in, 6.0, _LONGEST_PIT_IN, "in"))
    if reason:
        return not_known(reason)
    length = inches("p", "pit length at the floor", pit_length_in)
    if side_protection in _UPRIGHT:
        held = (length, noted("", "side protection", str(side_protection)))
        return _opening(pit_length_in, held, "p for upright sides", number(pit_length_in))
    if not isinstance(pit_depth_in, (int, float)) or not isinstance(footing_depth_in, (int, float)):
        return not_known(f"the pit depth is {pit_depth_in}, the footing depth {footing_depth_in}")
    reason = outside(
        ("pit depth", pit_depth_in, 0.0, _DEEPEST_IN, "in"),
        ("footing depth", footing_depth_in, 0.0, 480.0, "in"),
    )
    if reason:
        return not_known(reason)
    lines = (
        length,
        inches("H", "pit depth", pit_depth_in),
        inches("f", "footing depth", footing_depth_in),
    )
    if pit_depth_in <= footing_depth_in:
        return _opening(pit_length_in, lines, "p where H is at most f", number(pit_length_in))
    if isinstance(side_protection, Missing):
        return not_known(f"the side protection is {side_protection}")
    cut = _slope_cut(str(side_protection), slope_of_sides, pit_depth_in, soil_class)
    if not isinstance(cut.value, float):
        return cut
    figures = (pit_length_in, cut.value, pit_depth_in, footing_depth_in)
    p, m, pit, f = (number(figure) for figure in figures)
    return _opening(
        pit_length_in + 2 * cut.value * (pit_depth_in - footing_depth_in),
        (*lines, given("m", _CUT[str(side_protection)], cut.value, Kind.SLOPE)),
        "p + 2 m (H - f)",
        f"{p} + 2 x {m} x ({pit} - {f})",
    )


def _opening(opening_in: float, lines: tuple[Line, ...], formula: str, numbers: str) -> Result:
    last = Line("o", "opening at the footing", formula, numbers, f"{number(opening_in)} in")
    valid = "level ground; benched pits up to 20 ft deep"
    title = "Opening at the underside of the footing"
    return Result(opening_in, working=Working(title, "plane geometry", valid, (*lines, last)))


class Inside(NamedTuple):
    """What the floor of a pit dug from inside is measured by.

    Args:
        footing_depth_in: f, underside of the footing below the floor inside, in, 0 to 480.
        wall_height_in: h, foundation wall above its footing, in, 0 to 360.
        footing_thickness_in: t, in, 0 to 72; 0 without a footing.
    """

    footing_depth_in: float
    wall_height_in: float
    footing_thickness_in: float


@kept
def depth_of_floor(pit_depth_in: float, inside: Inside | None = None) -> Result:
    """Depth of the pit's floor below the ground outside; from inside, the greatest it can be.

    Dug from outside, the pit's own depth H. Dug from inside, Hmax = max(h + t + H - f, H): the
    floor inside may lie at any depth, so the ground is taken to stand at the top of the
    foundation wall, as high as it can.

    Args:
        pit_depth_in: H, from the ground or floor that it is dug from, in, 0 to 720.
        inside: for a pit dug from inside; its figures have their ranges there.

    Returns:
        Depth, in. True depths are at most this, so heights of lines and neighbours above the
        floor are not understated.

    Not known when:
        A figure is out of its range.

    Source:
        Geometry; that ground does not stand above the foundation wall is common practice.

    >>> depth_of_floor(36.0, Inside(12.0, 84.0, 8.0)).value
    116.0
    """
    reason = outside(("pit depth", pit_depth_in, 0.0, _DEEPEST_IN, "in"))
    if not reason and inside is not None:
        reason = outside(
            ("footing depth", inside.footing_depth_in, 0.0, 480.0, "in"),
            ("wall height", inside.wall_height_in, 0.0, 360.0, "in"),
            ("footing thickness", inside.footing_thickness_in, 0.0, 72.0, "in"),
        )
    if reason:
        return not_known(reason)
    if inside is None:
        line = inches("H", "pit depth below the ground outside", pit_depth_in)
        working = Working("Floor of the pit", "as measured", "level ground", (line,))
        return Result(float(pit_depth_in), working=working)
    footing, height, thickness = inside
    depth = max(height + thickness + pit_depth_in - footing, pit_depth_in)
    h, t, pit, f = (number(figure) for figure in (height, thickness, pit_depth_in, footing))
    lines = (
        inches("H", "pit depth below the floor inside", pit_depth_in),
        inches("f", "footing depth below the floor inside", footing),
        inches("h", "wall height", height),
        inches("t", "footing thickness", thickness),
        Line("Hmax", "greatest depth below the ground outside", "max(h + t + H - f, H)",
             f"max({h} + {t} + {pit} - {f}, {pit})", f"{number(depth)} in", "common practice"),
    )  # fmt: skip
    valid = "ground outside at most as high as the foundation wall"
    return Result(float(depth), working=Working("Floor of the pit", "geometry", valid, lines))
