"""How much of a wall each pier carries, and how the strip of wall between the piers is bent.

Two ways are worked out and the larger counts. Simple: each pier carries the wall half way to the
next one, and the last one all of it to the corner. Continuous: the wall is one beam over the
piers, with its ends beyond the last piers as cantilevers; a pier can push but not pull, so one
that would have to hold the wall down is left out. Nothing of the wall is taken to rest on ground.

Limits: one stiffness all along (no step, no opening, no crack), piers that do not give way, an
even load. Where piers settle, or ground or a crossing wall still carries, the loads are others; a
pier beyond which a long piece of wall rests on firm ground carries less than is said here. That is
for the engineer.
"""

from __future__ import annotations

import itertools
from bisect import bisect_left
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from survey.engineering._steps import given, inches, kept, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known, within
from survey.model import Value
from survey.vocabulary import DOES_NOT_APPLY, Kind, Missing

_PRACTICE = "common practice"
_CONTINUOUS = "three-moment equation; statics"
_LEVER = "lever rule; statics"
_COMBINATIONS = "ASCE 7-16 2.3.1, from memory"
_VALID = "piers on one wall; an even load; piers that do not settle; nothing rests on the ground"
_LEAST_SPACING_IN = 6.0  # no two brackets stand so close
_SHORTEST_IN, _LONGEST_IN = 12.0, 6000.0
_MOST_PLF = 1e6
_MOST_POINT_LB = 1e6
_LIVE_FACTOR = 1.6


class SpanDemand(NamedTuple):
    """How the strip of wall and footing between the piers of a wall is bent and sheared.

    Args:
        sagging: greatest moment with tension at the underside, lb-in.
        hogging: greatest moment with tension at the top, over a pier, lb-in, as a positive figure.
        shear: greatest shear at a pier, lb.
    """

    sagging: Result
    hogging: Result
    shear: Result


class _Beam(NamedTuple):
    """A wall as a beam under a load of 1 on each inch, over its piers from left to right.

    Args:
        reactions: of every pier, in; nought of one that would have to pull.
        supports: the piers that push, by station.
        moments: over those, in2, negative with tension at the top.
    """

    reactions: tuple[float, ...]
    supports: tuple[float, ...]
    moments: tuple[float, ...]


def tributary_length(
    wall_length_in: float, station_in: float, other_stations_in: tuple[float, ...]
) -> Result:
    """Length of wall that a pier carries, as simple spans.

    Half way to the pier next to it on each side; from an end pier to the corner the whole of
    it.

    Args:
        wall_length_in: in, 12 to 6,000.
        station_in: station of the pier, in, 0 to the wall length.
        other_stations_in: stations of the other piers on the same wall, in, in any order.

    Returns:
        Length, in.

    Not known when:
        A station is not on the wall, or two piers stand at the same station or closer than 6 in.

    Source:
        Common practice.

    >>> tributary_length(360.0, 60.0, (180.0, 300.0)).value
    120.0
    """
    piers = tuple(sorted((station_in, *other_stations_in)))
    reason = _misplaced(wall_length_in, piers)
    if reason:
        return not_known(reason)
    start, end = _tributary(wall_length_in, station_in, piers)
    lines = (*_wall_lines(wall_length_in, station_in), *_tributary_lines(start, end))
    return Result(
        end - start, working=Working("Length of wall a pier carries", _PRACTICE, _VALID, lines)
    )


def wall_reactions(
    line_load_plf: float, wall_length_in: float, stations_in: tuple[float, ...]
) -> tuple[float, ...]:
    """What each pier of a wall carries of it as a continuous beam.

    a M1 + 2 (a + b) M2 + b M3 = -w (a^3 + b^3) / 4 over each pier between spans a and b, with
    w c^2 / 2 over the last pier before an end c, but no more there than the rest of the wall can
    hold; R from the shears on both sides. A pier whose R would be a pull is left out, the one that
    pulls most first, and the rest solved again. The sum is the load of the whole wall.

    Args:
        line_load_plf: w, service or factored, plf, 0 to 1,000,000.
        wall_length_in: in, 12 to 6,000.
        stations_in: stations of all piers on the wall, in, in any order.

    Returns:
        Load of each pier, lb, in the order of the stations; empty where it is not known.

    Not known when:
        There is no pier, a figure is out of its range, or two piers stand closer than 6 in.

    Source:
        Three-moment equation (Clapeyron), uniform load and stiffness; statics.

    >>> wall_reactions(1200.0, 240.0, (0.0, 120.0, 240.0))
    (4500.0, 15000.0, 4500.0)
    """
    piers = tuple(sorted(stations_in))
    if not piers or outside(_line_load_limit(line_load_plf)) or _misplaced(wall_length_in, piers):
        return ()
    carried = dict(zip(piers, _beam(wall_length_in, piers).reactions, strict=True))
    return tuple(line_load_plf * carried[station] / 12 for station in stations_in)


def pier_load(
    line_load_plf: float,
    wall_length_in: float,
    station_in: float,
    other_stations_in: tuple[float, ...],
) -> Result:
    """Load on a pier.

    P = w l / 12, with l the larger of the length of wall that it carries as simple spans
    (:func:`tributary_length`) and as a continuous beam (:func:`wall_reactions`).

    Args:
        line_load_plf: w, service or factored, plf, 0 to 1,000,000.
        wall_length_in: in, 12 to 6,000.
        station_in: station of the pier, in, 0 to the wall length.
        other_stations_in: stations of the other piers on the same wall, in, in any order.

    Returns:
        Load, lb, down, of the same kind as the line load.

    Not known when:
        The line load is out of its range, or the length of wall that it carries is not known.

    Source:
        Statics and the three-moment equation; simple spans are common practice.

    >>> pier_load(1800.0, 360.0, 60.0, (180.0, 300.0)).value
    19125.0
    >>> pier_load(1200.0, 240.0, 120.0, (0.0, 240.0)).value
    15000.0
    """
    piers = tuple(sorted((station_in, *other_stations_in)))
    reason = outside(_line_load_limit(line_load_plf)) or _misplaced(wall_length_in, piers)
    if reason:
        return not_known(reason)
    length, carried = _carried(wall_length_in, station_in, piers)
    load = line_load_plf * length / 12
    lines = (
        given("w", "line load", line_load_plf, Kind.LINE_LOAD),
        *carried,
        Line("P", "load on the pier", "w l / 12",
             f"{number(line_load_plf)} x {number(length)} / 12", f"{number(load)} lb"),
    )  # fmt: skip
    source = f"{_CONTINUOUS}; simple spans {_PRACTICE}"
    return Result(load, working=Working("Load on the pier", source, _VALID, lines))


@kept
def pier_load_with_point(
    line_load_plf: float,
    wall_length_in: float,
    station_in: float,
    other_stations_in: tuple[float, ...],
    point_load_lb: Value,
) -> Result:
    """Load on a pier over which a chimney, post or beam end stands.

    P = w l / 12 + Q: the point load wholly on this pier, which is on the safe side.

    Args:
        line_load_plf: w, plf, 0 to 1,000,000, as for :func:`pier_load`.
        wall_length_in: in, 12 to 6,000.
        station_in: station of the pier, in, 0 to the wall length.
        other_stations_in: stations of the other piers on the same wall, in, in any order.
        point_load_lb: Q, lb, 0 to 1,000,000, of the same kind as the line load (for a factored
            one see :func:`factored_point_load`); does not apply where none stands over the pit.

    Returns:
        Load, lb, down, of the same kind as the line load.

    Not known when:
        The point load is not known or out of its range, or the load of the wall is not known.

    Source:
        As :func:`pier_load`; the point load by statics.

    >>> pier_load_with_point(1800.0, 360.0, 60.0, (180.0, 300.0), 2500.0).value
    21625.0
    """
    if isinstance(point_load_lb, Missing) and point_load_lb is not DOES_NOT_APPLY:
        return not_known(f"the point load at the pier is {point_load_lb}")
    point = float(point_load_lb) if isinstance(point_load_lb, (int, float)) else 0.0
    reason = outside(_point_limit(point))
    if reason:
        return not_known(reason)
    wall = pier_load(line_load_plf, wall_length_in, station_in, other_stations_in)
    if wall.working is None or point_load_lb is DOES_NOT_APPLY:
        return wall
    assert isinstance(wall.value, float)
    load = wall.value + point
    *steps, last = wall.working.lines
    lines = (
        *steps,
        last._replace(symbol="Pw", meaning="load of the wall on the pier"),
        given("Q", "point load over the pit, wholly on this pier", point, Kind.FORCE),
        Line("P", "load on the pier", "Pw + Q", f"{number(wall.value)} + {number(point)}",
             f"{number(load)} lb"),
    )  # fmt: skip
    return Result(load, working=Working(wall.working.title, wall.working.source, _VALID, lines))


@kept
def factored_point_load(point_load_lb: float) -> Result:
    """Point load for strength checks.

    Qu = 1.6 Q, as if all of it were live load, because its parts are not asked for.

    Args:
        point_load_lb: Q, service, lb, 0 to 625,000.

    Returns:
        Load, lb, down.

    Not known when:
        The load is out of its range.

    Source:
        ASCE 7-16 2.3.1, from memory.

    >>> factored_point_load(2500.0).value
    4000.0
    """
    reason = outside(("point load", point_load_lb, 0.0, _MOST_POINT_LB / _LIVE_FACTOR, "lb"))
    if reason:
        return not_known(reason)
    factored = _LIVE_FACTOR * point_load_lb
    lines = (
        given("Q", "point load", point_load_lb, Kind.FORCE),
        Line("Qu", "factored point load", "1.6 Q", f"1.6 x {number(point_load_lb)}",
             f"{number(factored)} lb", _COMBINATIONS),
    )  # fmt: skip
    valid = "gravity; all of it counted as live load"
    return Result(factored, working=Working("Factored point load", _COMBINATIONS, valid, lines))


def point_load_on_pier(
    point_load_lb: float,
    wall_length_in: float,
    point_station_in: float,
    station_in: float,
    other_stations_in: tuple[float, ...],
) -> Result:
    """What a pier carries of a point load that stands on the wall away from it.

    P = Q max(k1, k2): k1 = (a - d) / a between two piers a apart, d from this one, all of it on
    the last pier where it stands beyond that, and none where another pier stands between; k2 as
    a continuous beam over the piers, which is more than 1 beyond the last pier.

    Args:
        point_load_lb: Q, lb, 0 to 1,000,000.
        wall_length_in: in, 12 to 6,000.
        point_station_in: station of the load, in, 0 to the wall length.
        station_in: station of the pier, in, 0 to the wall length.
        other_stations_in: stations of the other piers on the same wall, in, in any order.

    Returns:
        Load, lb, down, of the same kind as the point load; 0 where it would lift the wall there.

    Not known when:
        A figure is out of its range, or two piers stand closer than 6 in.

    Source:
        Lever rule and three-moment equation; statics. The weight of the wall is taken to hold
        the other piers in touch.

    >>> point_load_on_pier(6000.0, 360.0, 90.0, 60.0, (180.0,)).value
    4500.0
    """
    piers = tuple(sorted((station_in, *other_stations_in)))
    reason = outside(_point_limit(point_load_lb)) or _misplaced(wall_length_in, piers)
    reason = reason or outside(
        ("station of the point load", point_station_in, 0.0, wall_length_in, "in")
    )
    if reason:
        return not_known(reason)
    simple = _lever_share(point_station_in, station_in, other_stations_in)
    continuous = _point_reactions(point_station_in, piers)[bisect_left(piers, station_in)]
    share = max(simple, continuous)
    load = point_load_lb * share
    lines = (
        given("Q", "point load", point_load_lb, Kind.FORCE),
        inches("x", "station of the point load", point_station_in),
        inches("s", "station of the pier", station_in),
        noted("k1", "share by the lever rule", number(simple, 6), _LEVER),
        noted("k2", "share as a continuous beam", number(continuous, 6), _CONTINUOUS),
        Line("P", "point load on the pier", "Q max(k1, k2)",
             f"{number(point_load_lb)} x {number(share, 6)}", f"{number(load)} lb"),
    )  # fmt: skip
    source = f"lever rule; {_CONTINUOUS}"
    return Result(load, working=Working("Point load on the pier", source, _VALID, lines))


def pier_load_range(
    line_load: Result,
    wall_length_in: float,
    station_in: float,
    other_stations_in: tuple[float, ...],
    point_load_lb: Value = DOES_NOT_APPLY,
) -> Result:
    """Load on a pier, or between what it lies where the line load is only known so.

    As :func:`pier_load_with_point`, with the least and with the most line load.

    Args:
        line_load: service or factored, plf, known or with bounds.
        wall_length_in: in, 12 to 6,000.
        station_in: station of the pier, in, 0 to the wall length.
        other_stations_in: stations of the other piers on the same wall, in, in any order.
        point_load_lb: Q, lb; does not apply where none stands over the pit.

    Returns:
        Load, lb, down, of the same kind as the line load, or its bounds.

    Not known when:
        The line load is not known (with bounds if it has them), or anything else is not.

    Source:
        As :func:`pier_load`; bounds by proportion.
    """

    def load(plf: float) -> Result:
        return pier_load_with_point(
            plf, wall_length_in, station_in, other_stations_in, point_load_lb
        )

    if isinstance(line_load.value, (int, float)):
        return load(float(line_load.value))
    if line_load.bounds is None:
        return not_known(line_load.reason)
    least, most = map(load, line_load.bounds)
    if not isinstance(least.value, float) or not isinstance(most.value, float):
        return most if least.known else least
    assert most.working is not None
    low, high = number(least.value), number(most.value)
    lines = (
        noted("", "the same with the least line load", f"{low} lb"),
        noted("P", "load on the pier, from the least to the most line load", f"{low} to {high} lb"),
    )
    working = Working(
        "Load on the pier, between what it lies", most.working.source, _VALID,
        (*most.working.lines, *lines),
    )  # fmt: skip
    return within(least.value, most.value, line_load.reason, working)


@kept
def span_demand(
    line_load_plf: float, wall_length_in: float, stations_in: tuple[float, ...]
) -> SpanDemand:
    """Greatest moments and shear of the strip of wall and footing that spans between piers.

    Sagging: the larger of w a^2 / 8 in the longest span and the most along the continuous beam.
    Hogging: the larger of w c^2 / 2 at an end and the most over a pier of the continuous beam.
    Shear: the largest of w a / 2, w c and the shears of the continuous beam, at the pier. All with
    w / 12, since spans are in inches.

    Args:
        line_load_plf: w, service or factored, plf, 0 to 1,000,000.
        wall_length_in: in, 12 to 6,000.
        stations_in: stations of all piers on the wall, in, in any order.

    Returns:
        Sagging and hogging, lb-in; shear, lb; each of the same kind as the line load.

    Not known when:
        There is no pier, a figure is out of its range, or two piers stand closer than 6 in.

    Source:
        Statics; continuous beam as in :func:`wall_reactions`. No help of the wall's own depth
        or of ground between the piers.

    >>> [part.value for part in span_demand(1200.0, 240.0, (0.0, 120.0, 240.0))]
    [180000.0, 180000.0, 7500.0]
    """
    piers = tuple(sorted(stations_in))
    reason = (
        outside(_line_load_limit(line_load_plf))
        or _misplaced(wall_length_in, piers)
        or ("" if piers else "no pier stands on the wall")
    )
    if reason:
        return SpanDemand(not_known(reason), not_known(reason), not_known(reason))
    beam = _beam(wall_length_in, piers)
    span = max((b - a for a, b in itertools.pairwise(piers)), default=0.0)
    end = max(piers[0], wall_length_in - piers[-1])
    sag, shear = _most_along(beam, wall_length_in)
    hog = max(0.0, *(-moment for moment in beam.moments))
    known = (
        given("w", "line load", line_load_plf, Kind.LINE_LOAD),
        inches("a", "longest span between piers", span),
        inches("c", "longest end beyond a pier", end),
    )

    def demand(title: str, simple: float, formula: str, continuous: float, unit: str) -> Result:
        larger = max(simple, continuous)
        value = line_load_plf * larger / 12
        lines = (
            *known,
            noted("k1", f"simple, for 1 lb on an inch: {formula}", f"{number(simple)} {unit}"),
            noted("k2", "continuous, for 1 lb on an inch", f"{number(continuous)} {unit}",
                  _CONTINUOUS),
            Line("", title.lower(), "w max(k1, k2) / 12",
                 f"{number(line_load_plf)} x {number(larger)} / 12", f"{number(value)} {unit}"),
        )  # fmt: skip
        return Result(value, working=Working(title, _CONTINUOUS, _VALID, lines))

    return SpanDemand(
        demand("Sagging moment between piers", span**2 / 8, "a^2 / 8", sag, "lb-in"),
        demand("Hogging moment over a pier", end**2 / 2, "c^2 / 2", hog, "lb-in"),
        demand("Shear at a pier", max(span / 2, end), "the larger of a / 2 and c", shear, "lb"),
    )


def _most_along(beam: _Beam, wall_length_in: float) -> tuple[float, float]:
    """Greatest sagging moment and shear of a beam under a load of 1 on each inch."""
    sag = 0.0
    shear = max(beam.supports[0], wall_length_in - beam.supports[-1])
    spans = zip(itertools.pairwise(beam.supports), itertools.pairwise(beam.moments), strict=True)
    for (start, stop), (at_start, at_stop) in spans:
        length = stop - start
        left = length / 2 + (at_stop - at_start) / length
        shear = max(shear, left, length - left)
        if 0.0 < left < length:  # where shear is nought the moment is greatest
            sag = max(sag, at_start + left**2 / 2)
    return sag, shear


@lru_cache(maxsize=1024)
def _carried(
    wall_length_in: float, station_in: float, piers_in: tuple[float, ...]
) -> tuple[float, tuple[Line, ...]]:
    """Length of wall that a pier carries, by whichever way gives more, with its lines."""
    start, end = _tributary(wall_length_in, station_in, piers_in)
    simple = end - start
    continuous = _beam(wall_length_in, piers_in).reactions[bisect_left(piers_in, station_in)]
    length = max(simple, continuous)
    meaning = "length carried as a continuous beam"
    if not continuous:
        meaning += "; left out, since it would have to pull"
    return length, (
        *_wall_lines(wall_length_in, station_in),
        *_tributary_lines(start, end),
        noted("l2", meaning, f"{number(continuous)} in", _CONTINUOUS),
        Line("l", "length of wall it carries", "max(l1, l2)",
             f"max({number(simple)}, {number(continuous)})", f"{number(length)} in"),
    )  # fmt: skip


def _tributary(
    wall_length_in: float, station_in: float, piers_in: tuple[float, ...]
) -> tuple[float, float]:
    """From where to where a pier carries the wall, of piers in order."""
    i = bisect_left(piers_in, station_in)
    start = (piers_in[i - 1] + station_in) / 2 if i > 0 else 0.0
    end = (piers_in[i + 1] + station_in) / 2 if i + 1 < len(piers_in) else wall_length_in
    return start, end


def _wall_lines(wall_length_in: float, station_in: float) -> tuple[Line, ...]:
    return (
        inches("L", "length of wall that the piers carry", wall_length_in),
        inches("s", "station of the pier", station_in),
    )


def _tributary_lines(start: float, end: float) -> tuple[Line, ...]:
    return (
        inches("a", "carries from station", start),
        inches("b", "carries to station", end),
        Line("l1", "length carried as simple spans", "b - a", f"{number(end)} - {number(start)}",
             f"{number(end - start)} in", _PRACTICE),
    )  # fmt: skip


def _line_load_limit(line_load_plf: float) -> tuple[str, float, float, float, str]:
    return ("line load", line_load_plf, 0.0, _MOST_PLF, "plf")


def _point_limit(point_load_lb: float) -> tuple[str, float, float, float, str]:
    return ("point load", point_load_lb, 0.0, _MOST_POINT_LB, "lb")


def _lever_share(point_in: float, station_in: float, others_in: tuple[float, ...]) -> float:
    """Share of a point load on a pier by the lever rule; all of it beyond the last pier."""
    if point_in == station_in:
        return 1.0
    beyond = point_in > station_in
    spans = [abs(s - station_in) for s in others_in if (s > station_in) is beyond]
    if not spans:
        return 1.0
    span = min(spans)
    return max(0.0, (span - abs(point_in - station_in)) / span)


def _point_reactions(point_in: float, piers_in: tuple[float, ...]) -> tuple[float, ...]:
    """What each of the piers, in order, pushes under a load of 1 on the continuous beam."""
    if len(piers_in) == 1:
        return (1.0,)
    moments = [0.0] * len(piers_in)
    moments[0] = -max(0.0, piers_in[0] - point_in)
    moments[-1] = -max(0.0, point_in - piers_in[-1])
    loads = [0.0] * len(piers_in)
    carried = [0.0] * len(piers_in)
    if point_in <= piers_in[0]:
        carried[0] = 1.0
    elif point_in >= piers_in[-1]:
        carried[-1] = 1.0
    else:
        i = max(k for k, pier in enumerate(piers_in) if pier <= point_in)
        span = piers_in[i + 1] - piers_in[i]
        a, b = point_in - piers_in[i], piers_in[i + 1] - point_in
        carried[i], carried[i + 1] = b / span, a / span
        loads[i] = -a * b * (span + b) / span
        loads[i + 1] = -a * b * (span + a) / span
    _three_moments(piers_in, moments, loads)
    return tuple(_turned(piers_in, moments, carried))


@lru_cache(maxsize=512)
def _misplaced(wall_length_in: float, piers_in: tuple[float, ...]) -> str:
    """Why piers, in order, can't stand so on a wall; empty if they can."""
    reason = outside(
        ("wall length", wall_length_in, _SHORTEST_IN, _LONGEST_IN, "in"),
        *(("station", s, 0.0, wall_length_in, "in") for s in piers_in),
    )
    if reason:
        return reason
    for one, other in itertools.pairwise(piers_in):
        if one == other:
            return "another pier stands at the same station of this wall"
        if other - one < _LEAST_SPACING_IN:
            return (
                f"two piers stand {number(other - one)} in apart; "
                f"the method holds from {number(_LEAST_SPACING_IN)} in"
            )
    return ""


@lru_cache(maxsize=256)
def _beam(wall_length_in: float, piers_in: tuple[float, ...]) -> _Beam:
    """The wall over its piers, which stand in order; solved once for all of them."""
    supports = list(piers_in)
    while True:
        moments = _moments(wall_length_in, supports)
        reactions = _reactions(wall_length_in, supports, moments)
        pulling = min(range(len(supports)), key=reactions.__getitem__)
        if len(supports) == 1 or reactions[pulling] >= -1e-9 * wall_length_in:
            break
        del supports[pulling]
    pushed = dict(zip(supports, reactions, strict=True))
    carried = tuple(max(0.0, pushed.get(pier, 0.0)) for pier in piers_in)
    return _Beam(carried, tuple(supports), tuple(moments))


def _moments(wall_length_in: float, supports: list[float]) -> list[float]:
    """Moments over the supports under a load of 1 on each inch."""
    # A cantilever can't turn the wall more than the rest of the wall can hold.
    first_end = min(supports[0], wall_length_in - supports[0])
    last_end = min(wall_length_in - supports[-1], supports[-1])
    moments = [0.0] * len(supports)
    moments[0], moments[-1] = -(first_end**2) / 2, -(last_end**2) / 2
    cubes = [(b - a) ** 3 for a, b in itertools.pairwise(supports)]
    loads = [0.0, *(-(a + b) / 4 for a, b in itertools.pairwise(cubes)), 0.0]
    _three_moments(supports, moments, loads)
    return moments


def _three_moments(supports: Sequence[float], moments: list[float], loads: list[float]) -> None:
    """Fill in the moments between the first and the last, which are given.

    a M1 + 2 (a + b) M2 + b M3 = load at the middle one. The equations are tridiagonal and the
    diagonal outweighs its row, so that they are solved down and up without pivoting.
    """
    last = len(supports) - 1
    spans = [b - a for a, b in itertools.pairwise(supports)]
    above, right = 0.0, moments[0]
    uppers, rights = [above], [right]
    for i in range(1, last):
        a, b = spans[i - 1], spans[i]
        diagonal = 2 * (a + b) - a * above
        above, right = b / diagonal, (loads[i] - a * right) / diagonal
        uppers.append(above)
        rights.append(right)
    for i in range(last - 1, 0, -1):
        moments[i] = rights[i] - uppers[i] * moments[i + 1]


def _reactions(wall_length_in: float, supports: list[float], moments: list[float]) -> list[float]:
    """What each support pushes under a load of 1 on each inch."""
    if len(supports) == 1:
        return [wall_length_in]
    carried = [0.0] * len(supports)
    carried[0] = supports[0]
    carried[-1] += wall_length_in - supports[-1]
    for i, (a, b) in enumerate(itertools.pairwise(supports)):
        carried[i] += (b - a) / 2
        carried[i + 1] += (b - a) / 2
    return _turned(supports, moments, carried)


def _turned(supports: Sequence[float], moments: list[float], simple: list[float]) -> list[float]:
    """Reactions of simple spans with what the moments over the supports turn on and off them."""
    carried = list(simple)
    for i, (a, b) in enumerate(itertools.pairwise(supports)):
        shift = (moments[i + 1] - moments[i]) / (b - a)
        carried[i] += shift
        carried[i + 1] -= shift
    return carried
