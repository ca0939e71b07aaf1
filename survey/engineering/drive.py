"""Pushing a pier to refusal: drive load, cylinder pressure, and what there is to push against.

Piers are pushed one at a time. The cylinder stands on the tube and pushes up against the bracket
under the footing, so that the dead load of the building is all that holds it down.
"""

from __future__ import annotations

from survey.engineering._steps import given, inches, kept, noted, number, outside
from survey.engineering.load import tributary_length
from survey.engineering.working import Line, Result, Working, not_known
from survey.vocabulary import Kind

_PSF_PER_PSI = 144.0
_LEAST_LOAD_LB = 1.0
_LARGEST_LOAD_LB = 1e6
_LEAST_LINE_LOAD_PLF = 1.0
_LARGEST_LINE_LOAD_PLF = 1e6
_SHORTEST_WALL_IN = 12.0
_LONGEST_WALL_IN = 6000.0
_SMALLEST_AREA_IN2 = 0.1
_LARGEST_AREA_IN2 = 500.0
_LEAST_PRESSURE_PSF = 100 * _PSF_PER_PSI
_LARGEST_PRESSURE_PSF = 20_000 * _PSF_PER_PSI
_STATICS = "statics"
_ENGAGED = "statics; load spread at 45 degrees and hinges at the next piers: common practice"


@kept
def drive_share(planned_drive_load_lb: float, pier_load_lb: float) -> Result:
    """Planned final drive load as a share of the service load on the pier.

    s = 100 F / P.

    Args:
        planned_drive_load_lb: F, final drive load that is planned, lb, 0 to 1,000,000.
        pier_load_lb: P, service load on the pier, lb, 1 to 1,000,000.

    Returns:
        Percent of the service load. The load that a pushed pier is proved for is F over the
        factor that a rule asks for; 150 % is what the trade asks for, 200 % what a code asks of
        an allowable load that is found by load test.

    Not known when:
        A figure is out of its range.

    Source:
        US Patent 1,217,128 (1917), about 1.5, second hand; IBC 1810.3.3.1, factor 2 where the
        allowable load is found by load test, from memory. The factor itself is a rule's matter.

    >>> drive_share(30000.0, 20000.0).value
    150.0
    """
    reason = outside(
        ("planned drive load", planned_drive_load_lb, 0.0, _LARGEST_LOAD_LB, "lb"),
        ("pier load", pier_load_lb, _LEAST_LOAD_LB, _LARGEST_LOAD_LB, "lb"),
    )
    if reason:
        return not_known(reason)
    share = 100 * planned_drive_load_lb / pier_load_lb
    lines = (
        given("F", "planned final drive load", planned_drive_load_lb, Kind.FORCE),
        given("P", "service load on the pier", pier_load_lb, Kind.FORCE),
        Line("s", "drive load as a share of the service load", "100 F / P",
             f"100 x {number(planned_drive_load_lb)} / {number(pier_load_lb)}",
             f"{number(share)} %"),
    )  # fmt: skip
    source = "proof of each pier by its drive load, common practice"
    valid = "pier pushed to refusal by hydraulic pressure, its drive load read off the gauge"
    return Result(share, working=Working("Drive load over service load", source, valid, lines))


@kept
def cylinder_pressure(planned_drive_load_lb: float, cylinder_effective_area_in2: float) -> Result:
    """Pressure in the cylinder that gives the planned drive load.

    p = F / A, with p in psi and 144 psf to the psi.

    Args:
        planned_drive_load_lb: F, lb, 0 to 1,000,000.
        cylinder_effective_area_in2: A, of all cylinders that push together, on the side that
            pushes, in2, 0.1 to 500.

    Returns:
        Pressure, psf. Friction in the cylinder is left out: it is what the gauge must show.

    Not known when:
        A figure is out of its range.

    Source:
        Statics.

    >>> cylinder_pressure(30000.0, 7.5).value / 144
    4000.0
    """
    reason = outside(
        ("planned drive load", planned_drive_load_lb, 0.0, _LARGEST_LOAD_LB, "lb"),
        (
            "cylinder effective area", cylinder_effective_area_in2, _SMALLEST_AREA_IN2,
            _LARGEST_AREA_IN2, "in2",
        ),
    )  # fmt: skip
    if reason:
        return not_known(reason)
    psi = planned_drive_load_lb / cylinder_effective_area_in2
    pressure = psi * _PSF_PER_PSI
    lines = (
        given("F", "planned final drive load", planned_drive_load_lb, Kind.FORCE),
        noted("A", "effective area of the cylinder", f"{number(cylinder_effective_area_in2)} in2"),
        Line("p", "pressure in the cylinder", "F / A",
             f"{number(planned_drive_load_lb)} / {number(cylinder_effective_area_in2)}",
             f"{number(psi)} psi"),
        Line("p", "the same, 144 psf to the psi", "144 p", f"144 x {number(psi)}",
             f"{number(pressure)} psf"),
    )  # fmt: skip
    valid = "friction in the cylinder and losses in the hose left out"
    return Result(pressure, working=Working("Pressure in the cylinder", _STATICS, valid, lines))


@kept
def cylinder_use(
    planned_drive_load_lb: float,
    cylinder_effective_area_in2: float,
    greatest_working_pressure_psf: float,
) -> Result:
    """Pressure for the planned drive load as a share of what the equipment is made for.

    u = 100 p / pmax, p as in :func:`cylinder_pressure`.

    Args:
        planned_drive_load_lb: F, lb, 0 to 1,000,000.
        cylinder_effective_area_in2: A, of all cylinders that push together, in2, 0.1 to 500.
        greatest_working_pressure_psf: pmax, least of pump, hose, fittings and cylinder, psf,
            14,400 to 2,880,000 (100 to 20,000 psi).

    Returns:
        Percent; over 100 the load can't be reached within the working pressure.

    Not known when:
        A figure is out of its range.

    Source:
        Statics.

    >>> cylinder_use(30000.0, 7.5, 5000.0 * 144).value
    80.0
    """
    found = cylinder_pressure(planned_drive_load_lb, cylinder_effective_area_in2)
    reason = found.reason or outside(
        (
            "greatest working pressure", greatest_working_pressure_psf, _LEAST_PRESSURE_PSF,
            _LARGEST_PRESSURE_PSF, "psf",
        )
    )  # fmt: skip
    if reason:
        return not_known(reason)
    assert isinstance(found.value, float)
    assert found.working is not None
    use = 100 * found.value / greatest_working_pressure_psf
    lines = (
        *found.working.lines[:-1],
        given("pmax", "greatest working pressure", greatest_working_pressure_psf, Kind.PRESSURE,
              "psi"),
        Line("u", "pressure used", "100 p / pmax",
             f"100 x {number(found.value / _PSF_PER_PSI)} / "
             f"{number(greatest_working_pressure_psf / _PSF_PER_PSI)}",
             f"{number(use)} %"),
    )  # fmt: skip
    valid = found.working.validity
    return Result(use, working=Working("Use of the working pressure", _STATICS, valid, lines))


@kept
def dead_load_engaged(
    least_dead_load_plf: float,
    wall_length_in: float,
    station_in: float,
    other_stations_in: tuple[float, ...],
    wall_depth_in: float,
) -> Result:
    """Dead load of the building that one pier can push against when it is pushed alone.

    W = D (a + b) / 12. a and b, one for each side, are the lesser of half the way to the next
    pier (to an end of the wall the whole way) and of h, how far a load spreads at 45 degrees
    through the wall and its footing.

    Args:
        least_dead_load_plf: D, the least that the dead load on the wall can be, without live
            load, roof live load or snow, plf, 1 to 1,000,000.
        wall_length_in: in, 12 to 6,000.
        station_in: station of the pier, in, 0 to the wall length.
        other_stations_in: stations of the other piers on the same wall, in, in any order.
        wall_depth_in: h, height of the foundation wall and thickness of its footing together,
            in, 1 to 432.

    Returns:
        Weight, lb. On the low side: the wall is taken to be hinged at the next piers and not to
        reach round a corner; framing above it, walls that meet it and ground that clings to
        it are left out.

    Not known when:
        A figure is out of its range, a station is not on the wall, or another pier stands at
        the same station.

    Source:
        Statics; hinges at the next piers and spread at 45 degrees are common practice. Whoever
        knows bars in the wall or the footing may count on more; that is an engineer's matter.

    >>> dead_load_engaged(1200.0, 360.0, 180.0, (60.0, 300.0), 90.0).value
    12000.0
    """
    carried = tributary_length(wall_length_in, station_in, other_stations_in)
    reason = carried.reason or outside(
        (
            "least dead load", least_dead_load_plf, _LEAST_LINE_LOAD_PLF, _LARGEST_LINE_LOAD_PLF,
            "plf",
        ),
        ("depth of wall and footing", wall_depth_in, 1.0, 432.0, "in"),
    )  # fmt: skip
    if reason:
        return not_known(reason)
    left = max((s for s in other_stations_in if s < station_in), default=None)
    right = min((s for s in other_stations_in if s > station_in), default=None)
    before = station_in if left is None else (station_in - left) / 2
    after = wall_length_in - station_in if right is None else (right - station_in) / 2
    a, b = min(before, wall_depth_in), min(after, wall_depth_in)
    weight = least_dead_load_plf * (a + b) / 12
    h = number(wall_depth_in)
    lines = (
        given("D", "least dead load on the wall", least_dead_load_plf, Kind.LINE_LOAD),
        inches("h", "wall and footing, top to underside", wall_depth_in),
        inches("a1", _way(left, station_in, "left"), before),
        inches("b1", _way(right, station_in, "right"), after),
        Line("a", "length engaged to the left", "min(a1, h)", f"min({number(before)}, {h})",
             f"{number(a)} in", "load spread at 45 degrees, common practice"),
        Line("b", "length engaged to the right", "min(b1, h)", f"min({number(after)}, {h})",
             f"{number(b)} in", "load spread at 45 degrees, common practice"),
        Line("W", "dead load engaged", "D (a + b) / 12",
             f"{number(least_dead_load_plf)} x ({number(a)} + {number(b)}) / 12",
             f"{number(weight)} lb"),
    )  # fmt: skip
    valid = (
        "one pier pushed at a time; wall hinged half way between piers, not carrying round a "
        "corner; no bars counted"
    )
    return Result(weight, working=Working("Dead load to push against", _ENGAGED, valid, lines))


def _way(next_in: float | None, station_in: float, side: str) -> str:
    if next_in is None:
        return f"to the {side} end of the wall"
    way = abs(next_in - station_in)
    return f"half of the {number(way)} in to the next pier on the {side}"


@kept
def lift_use(
    planned_drive_load_lb: float,
    least_dead_load_plf: float,
    wall_length_in: float,
    station_in: float,
) -> Result:
    """Planned drive load as a share of the load that turns the wall up about its far end.

    W = D L / 12, m = min(s, L - s), F1 = W L / (2 (L - m)), u = 100 F / F1. The wall is one stiff
    body. Pushed up at its middle it rises when F = W; pushed up at an end it turns about the other
    end at F = W / 2.

    Args:
        planned_drive_load_lb: F, lb, 0 to 1,000,000.
        least_dead_load_plf: D, the least that the dead load on the wall can be, without live
            load, roof live load or snow, plf, 1 to 1,000,000.
        wall_length_in: L, in, 12 to 6,000.
        station_in: s, station of the pier from an end of the wall, in, 0 to the wall length.

    Returns:
        Percent; over 100 the wall turns up before the pier has its load. Only the wall's own dead
        load counts. Walls that meet it at its ends, framing that runs across it and ground that
        clings to it are left out, on the safe side; an engineer may count them. That the wall is
        stiff and strong enough to act as one body is not on the safe side: a wall that cracks
        first rises sooner, see :func:`dead_load_engaged`.

    Not known when:
        A figure is out of its range, or the station is not on the wall.

    Source:
        Statics: moments about the far end.

    >>> lift_use(30000.0, 1500.0, 480.0, 240.0).value
    50.0
    >>> lift_use(30000.0, 1500.0, 480.0, 0.0).value
    100.0
    """
    reason = outside(
        ("planned drive load", planned_drive_load_lb, 0.0, _LARGEST_LOAD_LB, "lb"),
        (
            "least dead load", least_dead_load_plf, _LEAST_LINE_LOAD_PLF, _LARGEST_LINE_LOAD_PLF,
            "plf",
        ),
        ("wall length", wall_length_in, _SHORTEST_WALL_IN, _LONGEST_WALL_IN, "in"),
        ("station", station_in, 0.0, wall_length_in, "in"),
    )  # fmt: skip
    if reason:
        return not_known(reason)
    weight = least_dead_load_plf * wall_length_in / 12
    near = min(station_in, wall_length_in - station_in)
    turns = weight * wall_length_in / (2 * (wall_length_in - near))
    use = 100 * planned_drive_load_lb / turns
    ln, wn, tn = number(wall_length_in), number(weight), number(turns)
    lines = (
        given("F", "planned final drive load", planned_drive_load_lb, Kind.FORCE),
        given("D", "least dead load on the wall", least_dead_load_plf, Kind.LINE_LOAD),
        inches("L", "length of the wall", wall_length_in),
        inches("s", "station of the pier", station_in),
        Line("W", "dead load of the wall", "D L / 12",
             f"{number(least_dead_load_plf)} x {ln} / 12", f"{wn} lb"),
        Line("m", "from the pier to the nearer end of the wall", "min(s, L - s)",
             f"min({number(station_in)}, {ln} - {number(station_in)})", f"{number(near)} in"),
        Line("F1", "load that turns the wall up about its far end", "W L / (2 (L - m))",
             f"{wn} x {ln} / (2 x ({ln} - {number(near)}))", f"{tn} lb", _STATICS),
        Line("u", "drive load over the load that turns the wall up", "100 F / F1",
             f"100 x {number(planned_drive_load_lb)} / {tn}", f"{number(use)} %"),
    )  # fmt: skip
    valid = (
        "wall a stiff body with dead load alike along it; one pier pushed at a time; walls that "
        "meet it, framing across it and friction of the ground left out"
    )
    return Result(use, working=Working("Lift of the wall", _STATICS, valid, lines))
