"""The pit: how far its sides slope out, how deep its floor lies, what comes out of it."""

from __future__ import annotations

from survey.engineering._steps import given, inches, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.model import Value
from survey.vocabulary import Kind, Missing, write_quantity

SPOIL_SETBACK_IN = 24.0  # 29 CFR 1926.651(j)(2)

_APPENDIX = "29 CFR 1926 Subpart P App. B Table B-1"
_DEEPEST_IN = 240.0  # App. B Table B-1, App. F: 20 ft
_STEEPEST = {"stable rock": 0.0, "A": 0.75, "B": 1.0, "C": 1.5}
_FLATTEST_BENCH = 1.0
_UPRIGHT = ("none", "timber shoring", "hydraulic shoring", "shield")


def steepest_slope(soil_class: str, pit_depth_in: float) -> Result:
    """Steepest slope at which the sides of a pit may stand.

    Stable rock 0 (upright), A 3/4, B 1, C 1.5 H:1V, for pits up to 20 ft deep.

    Args:
        soil_class: ``stable rock``, ``A``, ``B`` or ``C``.
        pit_depth_in: depth of the pit, in, 0 to 240.

    Returns:
        Horizontal to one vertical.

    Not known when:
        The pit is deeper than 20 ft: such pits are designed by an engineer.

    Source:
        29 CFR 1926 Subpart P App. B Table B-1. The short-term slope for A is not used.

    >>> steepest_slope("B", 96.0).value
    1.0
    """
    reason = outside(("pit depth", pit_depth_in, 0.0, _DEEPEST_IN, "in"))
    if reason:
        return not_known(f"{reason}; deeper pits are designed by an engineer, App. F")
    slope = _STEEPEST[soil_class]
    lines = (
        noted("", "soil class", soil_class),
        given("H", "pit depth", pit_depth_in, Kind.LENGTH, "ft"),
        Line("m", "steepest slope", "by class", soil_class, f"{number(slope)}H:1V", _APPENDIX),
    )
    working = Working("Steepest slope of the sides", _APPENDIX, "pits up to 20 ft deep", lines)
    return Result(slope, working=working)


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
        lines = (
            noted("", "side protection", side_protection),
            Line("r", "reach of the slope", "0 for upright sides", side_protection, "0 in"),
        )
        return Result(0.0, working=Working("Reach of the slope", "plane geometry", "", lines))
    if not isinstance(pit_depth_in, (int, float)):
        return not_known(f"the pit depth is {pit_depth_in}")
    if side_protection == "benched":
        return _bench_reach(pit_depth_in, soil_class)
    if not isinstance(slope_of_sides, (int, float)):
        return not_known(f"the slope of the sides is {slope_of_sides}")
    reason = outside(
        ("slope of sides", slope_of_sides, 0.0, 10.0, "H:1V"),
        ("pit depth", pit_depth_in, 0.0, 720.0, "in"),
    )
    if reason:
        return not_known(reason)
    return _reach(side_protection, slope_of_sides, pit_depth_in, "slope that will be cut")


def _bench_reach(pit_depth_in: float, soil_class: Value) -> Result:
    if isinstance(soil_class, Missing):
        return not_known(f"the soil class is {soil_class}")
    if soil_class == "C":
        return not_known("Appendix B gives no bench for soil class C")
    reason = outside(("pit depth", pit_depth_in, 0.0, _DEEPEST_IN, "in"))
    if reason:
        return not_known(f"{reason}; deeper pits are designed by an engineer, App. F")
    return _reach("benched", _FLATTEST_BENCH, pit_depth_in, "flattest bench of App. B")


def _reach(side_protection: str, slope: float, pit_depth_in: float, meaning: str) -> Result:
    reach = slope * pit_depth_in
    lines = (
        noted("", "side protection", side_protection),
        given("m", meaning, slope, Kind.SLOPE),
        inches("H", "pit depth", pit_depth_in),
        Line("r", "reach of the slope", "m H", f"{number(slope)} x {number(pit_depth_in)}",
             f"{number(reach)} in"),
    )  # fmt: skip
    valid = "level ground; benched pits up to 20 ft deep"
    return Result(reach, working=Working("Reach of the slope", "plane geometry", valid, lines))


def floor_inside(
    pit_depth_in: float, footing_depth_in: float, wall_height_in: float, footing_thickness_in: float
) -> Result:
    """Greatest depth below the ground outside of the floor of a pit dug from inside.

    Hmax = max(h + t + H - f, H). The floor inside may lie at any depth, so the ground is taken
    to stand at the top of the foundation wall, as high as it can.

    Args:
        pit_depth_in: H, from the floor inside, in, 0 to 720.
        footing_depth_in: f, underside of the footing below the floor inside, in, 0 to 480.
        wall_height_in: h, foundation wall above its footing, in, 0 to 360.
        footing_thickness_in: t, in, 0 to 72.

    Returns:
        Depth, in. True depths are at most this, so heights of lines and neighbours above the
        floor are not understated.

    Not known when:
        A figure is out of its range.

    Source:
        Geometry; that ground does not stand above the foundation wall is common practice.

    >>> floor_inside(36.0, 12.0, 84.0, 8.0).value
    116.0
    """
    reason = outside(
        ("pit depth", pit_depth_in, 0.0, 720.0, "in"),
        ("footing depth", footing_depth_in, 0.0, 480.0, "in"),
        ("wall height", wall_height_in, 0.0, 360.0, "in"),
        ("footing thickness", footing_thickness_in, 0.0, 72.0, "in"),
    )
    if reason:
        return not_known(reason)
    depth = max(
        wall_height_in + footing_thickness_in + pit_depth_in - footing_depth_in, pit_depth_in
    )
    figures = (wall_height_in, footing_thickness_in, pit_depth_in, footing_depth_in)
    h, t, pit, f = (number(figure) for figure in figures)
    lines = (
        inches("H", "pit depth below the floor inside", pit_depth_in),
        inches("f", "footing depth below the floor inside", footing_depth_in),
        inches("h", "wall height", wall_height_in),
        inches("t", "footing thickness", footing_thickness_in),
        Line("Hmax", "greatest depth below the ground outside", "max(h + t + H - f, H)",
             f"max({h} + {t} + {pit} - {f}, {pit})", f"{number(depth)} in", "common practice"),
    )  # fmt: skip
    valid = "ground outside at most as high as the foundation wall"
    return Result(depth, working=Working("Floor of the pit", "geometry", valid, lines))


def pit_volume(
    pit_length_in: float, pit_width_in: float, pit_depth_in: float, slope_of_sides: float
) -> Result:
    """Volume of a pit with three sloped sides and the wall as its fourth.

    V = p w H + m (p + 2 w) H^2 / 2 + 2 m^2 H^3 / 3, for floor p x w, slope m and depth H: the
    section at height z above the floor is (p + 2 m z) by (w + m z).

    Args:
        pit_length_in: p, along the wall at the floor, in, 6 to 360.
        pit_width_in: w, out from the wall at the floor, in, 6 to 360.
        pit_depth_in: H, in, 0 to 720.
        slope_of_sides: m, horizontal to one vertical, 0 (upright) to 10.

    Returns:
        Volume of undisturbed ground, cubic feet.

    Not known when:
        A figure is out of its range.

    Source:
        Solid geometry.

    >>> pit_volume(36.0, 36.0, 48.0, 0.0).value
    36.0
    """
    reason = outside(
        ("pit length", pit_length_in, 6.0, 360.0, "in"),
        ("pit width", pit_width_in, 6.0, 360.0, "in"),
        ("pit depth", pit_depth_in, 0.0, 720.0, "in"),
        ("slope of sides", slope_of_sides, 0.0, 10.0, "H:1V"),
    )
    if reason:
        return not_known(reason)
    p, w, h, m = pit_length_in / 12, pit_width_in / 12, pit_depth_in / 12, slope_of_sides
    volume = p * w * h + m * (p + 2 * w) * h**2 / 2 + 2 * m**2 * h**3 / 3
    pn, wn, hn, mn = (number(figure) for figure in (p, w, h, m))
    lines = (
        noted("p", "pit length", f"{pn} ft"),
        noted("w", "pit width", f"{wn} ft"),
        noted("H", "pit depth", f"{hn} ft"),
        given("m", "slope of the sides", m, Kind.SLOPE),
        Line("V", "volume of the pit", "p w H + m (p + 2 w) H^2 / 2 + 2 m^2 H^3 / 3",
             f"{pn} x {wn} x {hn} + {mn} ({pn} + 2 x {wn}) {hn}^2 / 2 + 2 x {mn}^2 x {hn}^3 / 3",
             f"{number(volume)} ft3"),
    )  # fmt: skip
    working = Working("Volume of the pit", "solid geometry", "level ground", lines)
    return Result(volume, working=working)


def spoil_volume(pit_volume_ft3: float, bulking_factor: float) -> Result:
    """Volume of the spoil heap that a pit gives.

    Vs = B V, for bulking factors from 1 to 2.

    Args:
        pit_volume_ft3: V, ground before it is dug, cubic feet, 0 to 1,000,000.
        bulking_factor: B, loose volume over undisturbed volume, 1 to 2.

    Returns:
        Loose volume, cubic feet.

    Not known when:
        A figure is out of its range.

    Source:
        Common practice.

    >>> spoil_volume(36.0, 1.25).value
    45.0
    """
    reason = outside(
        ("pit volume", pit_volume_ft3, 0.0, 1e6, "ft3"),
        ("bulking factor", bulking_factor, 1.0, 2.0, ""),
    )
    if reason:
        return not_known(reason)
    volume = bulking_factor * pit_volume_ft3
    lines = (
        noted("V", "volume of the pit", f"{number(pit_volume_ft3)} ft3"),
        noted("B", "bulking factor", number(bulking_factor), "common practice"),
        Line("Vs", "volume of the spoil", "B V",
             f"{number(bulking_factor)} x {number(pit_volume_ft3)}", f"{number(volume)} ft3"),
    )  # fmt: skip
    return Result(volume, working=Working("Spoil", "common practice", "bulking 1 to 2", lines))


def spoil_shortfall(spoil_distance_in: float) -> Result:
    """How much farther from the edge spoil must stand to keep the set-back.

    d = max(24 in - x, 0).

    Args:
        spoil_distance_in: x, from the pit's edge to spoil, tools and materials, in, 0 to 2,400.

    Returns:
        Distance still lacking, in; 0 where the set-back is kept.

    Not known when:
        The distance is out of its range.

    Source:
        29 CFR 1926.651(j)(2).

    >>> spoil_shortfall(18.0).value
    6.0
    """
    reason = outside(("spoil distance", spoil_distance_in, 0.0, 2400.0, "in"))
    if reason:
        return not_known(reason)
    short = max(SPOIL_SETBACK_IN - spoil_distance_in, 0.0)
    source = "29 CFR 1926.651(j)(2)"
    lines = (
        noted("s", "set-back", write_quantity(SPOIL_SETBACK_IN, Kind.LENGTH), source),
        inches("x", "spoil distance", spoil_distance_in),
        Line("d", "distance lacking", "max(s - x, 0)",
             f"max({number(SPOIL_SETBACK_IN)} - {number(spoil_distance_in)}, 0)",
             f"{number(short)} in"),
    )  # fmt: skip
    return Result(short, working=Working("Set-back of spoil", source, "every pit", lines))
