"""Where things stand in plan: walls end to end, pits at the walls, and clear distances.

Plan axes are in inches: the first wall starts at (0, 0) and runs along +x. Going from left to
right as seen from outside is going round the building counter-clockwise from above, so the
outside lies to the right of the way of travel.
"""

from __future__ import annotations

import importlib
import math
from collections.abc import Iterable, Sequence
from functools import cache, lru_cache, partial
from typing import Any, NamedTuple

from survey.engineering._steps import inches, kept, noted, number, outside
from survey.engineering.pit import LONGEST_OPENING_IN, SHORTEST_OPENING_IN
from survey.engineering.working import Line, Lines, Result, Working, not_known
from survey.vocabulary import DOES_NOT_APPLY

Point = tuple[float, float]
Corners = tuple[Point, ...]

# A neighbour is "everything from there outwards": this is as far as any site reaches.
_FAR_IN = 1e6
_LARGEST_IN = 1e7
_FULL_TURN_DEG = 360.0
_TURN_TOLERANCE_DEG = 10.0  # common practice: angles taped or taken with a folding rule
_PLANE = "plane geometry"
# Lines and neighbours whose distances from all pits of a site are kept.
_LINES_KEPT = 128


class Face(NamedTuple):
    """The outside face of a wall in plan.

    Args:
        start: its left end as seen from outside, in.
        along: unit vector from the left end to the right one.
    """

    start: Point
    along: Point

    @property
    def outward(self) -> Point:
        """Unit vector square to the face, away from the building."""
        return (self.along[1], -self.along[0])

    def point(self, station_in: float, offset_in: float) -> Point:
        """The point at a station along the face and an offset out from it (negative: in)."""
        (x, y), (along_x, along_y) = self.start, self.along
        return (
            x + station_in * along_x + offset_in * along_y,
            y + station_in * along_y - offset_in * along_x,
        )


def lay_walls(lengths_in: Sequence[float], turns_deg: Sequence[float]) -> tuple[Face, ...]:
    """Lay walls end to end.

    Args:
        lengths_in: length of each wall, in, from left to right as seen from outside.
        turns_deg: turn at the right end of each wall, degrees; +90 at an ordinary outside
            corner.

    Returns:
        The face of each wall, then one that starts where the last wall ends.

    >>> [face.start for face in lay_walls([120.0], [90.0])]
    [(0.0, 0.0), (120.0, 0.0)]
    """
    faces = [Face((0.0, 0.0), (1.0, 0.0))]
    heading = 0.0
    for length, turn in zip(lengths_in, turns_deg, strict=True):
        heading += turn
        faces.append(Face(faces[-1].point(length, 0.0), _direction(heading)))
    return tuple(faces)


def _direction(heading_deg: float) -> Point:
    """Unit vector of a heading; exact for square corners, so that square buildings close."""
    quarters, rest = divmod(heading_deg, 90.0)
    if rest == 0.0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarters) % 4]
    return (math.cos(math.radians(heading_deg)), math.sin(math.radians(heading_deg)))


def wall_out_of_range(lengths_in: Sequence[float], turns_deg: Sequence[float]) -> str:
    """Why walls can't be laid out: a length outside 12 to 6,000 in, a turn outside 180 deg."""
    return outside(
        *(("wall length", length, 12.0, 6000.0, "in") for length in lengths_in),
        *(("turn at right end", turn, -180.0, 180.0, "deg") for turn in turns_deg),
    )


def pier_locations(listed: int) -> Result:
    """Number of pier locations on the survey: a survey without any judges nothing.

    Args:
        listed: rows of the Piers sheet.

    Returns:
        The number, without a unit.

    Not known when:
        Never.

    Source:
        Counting.
    """
    line = noted("n", "rows of the Piers sheet", number(listed))
    working = Working("Pier locations", "counting", "every survey", (line,))
    return Result(float(listed), working=working)


def closing_error(lengths_in: Sequence[float], turns_deg: Sequence[float]) -> Result:
    """Gap between the end of the last wall and the start of the first.

    e = sqrt(x^2 + y^2) of the end of walls laid end to end, for a closed outline.

    Args:
        lengths_in: length of every wall round the building, in, each 12 to 6,000.
        turns_deg: turn at the right end of each wall, degrees, each -180 to 180.

    Returns:
        The gap, in.

    Not known when:
        There are fewer than three walls, a figure is out of its range, or the turns do not
        add up to one full turn (360 deg, 10 deg either way).

    Source:
        Plane geometry of a traverse; tolerance of the turns is common practice.

    >>> closing_error([240.0, 120.0, 240.0, 126.0], [90.0] * 4).value
    6.0
    """
    if len(lengths_in) < 3:
        return not_known(f"{len(lengths_in)} walls are listed; a closed outline has at least 3")
    reason = wall_out_of_range(lengths_in, turns_deg) or outside(
        (
            "sum of all turns", sum(turns_deg), _FULL_TURN_DEG - _TURN_TOLERANCE_DEG,
            _FULL_TURN_DEG + _TURN_TOLERANCE_DEG, "deg",
        ),
    )  # fmt: skip
    if reason:
        return not_known(reason)
    x, y = lay_walls(lengths_in, turns_deg)[-1].start
    gap = math.hypot(x, y)
    lines = [
        noted(
            f"L{i}", "wall length and turn at its right end", f"{number(length)} in, {turn:g} deg"
        )
        for i, (length, turn) in enumerate(zip(lengths_in, turns_deg, strict=True), start=1)
    ]
    lines.append(
        Line("x, y", "end of the last wall", "sum of L along each heading", "",
             f"{number(x)} in, {number(y)} in", _PLANE)
    )  # fmt: skip
    numbers = f"sqrt({number(x)}^2 + {number(y)}^2)"
    lines.append(Line("e", "closing error", "sqrt(x^2 + y^2)", numbers, f"{number(gap)} in"))
    valid = "walls all the way round; turns add up to 360 deg"
    return Result(gap, working=Working("Closing error of the outline", _PLANE, valid, tuple(lines)))


def pit_corners(
    face: Face,
    station_in: float,
    pit_length_in: float,
    pit_width_in: float,
    *,
    reach_in: float = 0.0,
    under_in: float = 0.0,
    inside: bool = False,
) -> Corners:
    """Corners of a pit in plan, centred on its station.

    Args:
        face: the wall face it is dug at.
        station_in: station of its middle, in.
        pit_length_in: length along the wall at its floor, in.
        pit_width_in: width square to the wall at its floor, in.
        reach_in: how far its three free sides slope out at the ground, in.
        under_in: how far it takes ground from under the wall, in: from outside, inwards of the
            outside face. From inside it is the thickness of the wall, and the pit is taken
            from the outside face, through the wall, to its inner edge.
        inside: whether it is dug from inside.
    """
    half = pit_length_in / 2 + reach_in
    free = pit_width_in + reach_in
    near, far = (0.0, -(under_in + free)) if inside else (-under_in, free)
    return (
        face.point(station_in - half, near),
        face.point(station_in + half, near),
        face.point(station_in + half, far),
        face.point(station_in - half, far),
    )


def pit_out_of_range(
    station_in: float,
    pit_length_in: float,
    pit_width_in: float,
    *,
    reach_in: float,
    wall_in: float,
) -> str:
    """Why a pit can't be drawn in plan; empty if it can.

    Args:
        station_in: -6,000 to 12,000 in.
        pit_length_in: 6 to 360 in.
        pit_width_in: 6 to 360 in.
        reach_in: of its slope, 0 to 7,200 in.
        wall_in: how far it goes under or through the wall, 0 to 60 in.
    """
    return outside(
        ("station", station_in, -6000.0, 12000.0, "in"),
        ("pit length", pit_length_in, 6.0, 360.0, "in"),
        ("pit width", pit_width_in, 6.0, 360.0, "in"),
        ("slope reach", reach_in, 0.0, 7200.0, "in"),
        ("wall thickness", wall_in, 0.0, 60.0, "in"),
    )


def neighbour_out_of_range(start_station_in: float, end_station_in: float, offset_in: float) -> str:
    """Why a neighbour can't be drawn: a station or its offset, 0 to 6,000 in, is out of range."""
    return outside(
        ("neighbour start station", start_station_in, -6000.0, 12000.0, "in"),
        ("neighbour end station", end_station_in, -6000.0, 12000.0, "in"),
        ("neighbour offset", offset_in, 0.0, 6000.0, "in"),
    )


def neighbour_corners(
    face: Face, start_station_in: float, end_station_in: float, offset_in: float
) -> Corners:
    """Corners of a neighbour: everything from its nearest edge outwards.

    Args:
        face: the wall face from which it is measured.
        start_station_in: station at which it begins, in.
        end_station_in: station at which it ends, in.
        offset_in: distance from the wall face to its nearest edge, in.
    """
    return (
        face.point(start_station_in, offset_in),
        face.point(end_station_in, offset_in),
        face.point(end_station_in, offset_in + _FAR_IN),
        face.point(start_station_in, offset_in + _FAR_IN),
    )


def clearance_to_utility(pit: Corners, start: Point, end: Point, diameter_in: float) -> Result:
    """Clear distance in plan from the edge of a pit to a line.

    c = max(D - d / 2, 0), where D is the distance from the pit to the straight line between
    its two ends.

    Args:
        pit: corners of the pit at the ground and under the wall, in.
        start: one end of the line, in.
        end: its other end, in.
        diameter_in: outside diameter or width of the line, in, 0 to 600.

    Returns:
        Clear distance, in; 0 where they overlap.

    Not known when:
        The diameter is out of its range, or a point lies farther away than any site reaches.

    Source:
        Plane geometry.
    """
    return clearances_to_utility((pit,), start, end, diameter_in)[0]


@lru_cache(maxsize=_LINES_KEPT)
def clearances_to_utility(
    pits: tuple[Corners, ...], start: Point, end: Point, diameter_in: float
) -> tuple[Result, ...]:
    """As :func:`clearance_to_utility`, of many pits, measured all at once."""
    line = (start, end)
    too_wide = outside(("utility diameter", diameter_in, 0.0, 600.0, "in"))
    return tuple(
        not_known(too_far((*pit, *line)) or too_wide)
        if too_wide or math.isnan(distance)
        else _clear_of_line(pit, line, diameter_in, distance)
        for pit, distance in zip(pits, _distances(pits, line), strict=True)
    )


def _clear_of_line(pit: Corners, line: Corners, diameter_in: float, distance_in: float) -> Result:
    clear = max(distance_in - diameter_in / 2, 0.0)

    def lines() -> Lines:
        distance = number(distance_in)
        return (
            _corner_line("P", "corners of the pit at the ground and under the wall", pit),
            _corner_line("U", "ends of the line", line),
            inches("d", "outside diameter of the line", diameter_in),
            Line("D", "distance in plan from P to U", "least distance", "", f"{distance} in"),
            Line("c", "clear distance", "max(D - d / 2, 0)",
                 f"max({distance} - {number(diameter_in)} / 2, 0)", f"{number(clear)} in"),
        )  # fmt: skip

    valid = "line straight between its two ends"
    return Result(clear, working=Working("Clearance to utility", _PLANE, valid, lines))


def clearance_to_neighbour(pit: Corners, neighbour: Corners) -> Result:
    """Clear distance in plan from the edge of a pit to a neighbour.

    c = least distance between the two outlines.

    Args:
        pit: corners of the pit, at the ground and under the wall, or at its floor, in.
        neighbour: corners of the neighbour, in.

    Returns:
        Clear distance, in; 0 where they overlap.

    Not known when:
        A point lies farther away than any site reaches.

    Source:
        Plane geometry.
    """
    return clearances_to_neighbour((pit,), neighbour)[0]


@lru_cache(maxsize=_LINES_KEPT)
def clearances_to_neighbour(pits: tuple[Corners, ...], neighbour: Corners) -> tuple[Result, ...]:
    """As :func:`clearance_to_neighbour`, of many pits, measured all at once."""
    return tuple(
        not_known(too_far((*pit, *neighbour)))
        if math.isnan(distance)
        else _clear_of_neighbour(pit, neighbour, distance)
        for pit, distance in zip(pits, _distances(pits, neighbour), strict=True)
    )


def _clear_of_neighbour(pit: Corners, neighbour: Corners, clear_in: float) -> Result:
    def lines() -> Lines:
        return (
            _corner_line("P", "corners of the pit", pit),
            _corner_line("N", "ends of the neighbour's nearest edge", neighbour[:2]),
            Line("c", "clear distance", "least distance from P to N", "", f"{number(clear_in)} in"),
        )

    valid = "the neighbour is taken as everything from its nearest edge outwards"
    return Result(clear_in, working=Working("Clearance to neighbour", _PLANE, valid, lines))


def clearance_between_pits(pit: Corners, others: Sequence[Corners]) -> tuple[Result, ...]:
    """Clear distances in plan from the edge of a pit to the edges of others.

    c = least distance between the two outlines.

    Args:
        pit: corners of the pit at the ground and under the wall, in.
        others: the same of each other pit; they are measured all at once, for there are many.

    Returns:
        For each other pit the clear distance, in; 0 where they overlap. It is the same from
        either pit.

    Not known when:
        A point lies farther away than any site reaches.

    Source:
        Plane geometry.
    """
    if not others:
        return ()
    return tuple(map(partial(_clear_between, pit), others, _distances(others, pit)))


def _clear_between(pit: Corners, other: Corners, clear_in: float) -> Result:
    if math.isnan(clear_in):  # one of them has no shape
        return not_known(too_far((*pit, *other)))

    def lines() -> Lines:
        return (
            _corner_line("A", "corners of the one pit at the ground and under the wall", pit),
            _corner_line("B", "corners of the other pit", other),
            Line("c", "clear distance", "least distance from A to B", "", f"{number(clear_in)} in"),
        )

    valid = "edges of both pits straight between their corners"
    return Result(clear_in, working=Working("Clearance between pits", _PLANE, valid, lines))


def distance_between_piers(one: Point, other: Point) -> Result:
    """Distance in plan between two piers, centre to centre.

    d = sqrt(dx^2 + dy^2) between the two places.

    Args:
        one: place of a pier: at its station on the outside face of its wall, in.
        other: place of another pier, in.

    Returns:
        Distance, in. It is the same from either pier. Piers round an inside corner stand nearer
        to each other than this, by what they stand out from the face.

    Not known when:
        A point lies farther away than any site reaches.

    Source:
        Plane geometry.

    >>> distance_between_piers((0.0, 0.0), (36.0, -48.0)).value
    60.0
    """
    reason = too_far((one, other))
    if reason:
        return not_known(reason)
    distance = math.dist(one, other)

    def lines() -> Lines:
        apart = (f"{number(abs(a - b))}^2" for a, b in zip(one, other, strict=True))
        return (
            _corner_line("A", "place of the one pier", (one,)),
            _corner_line("B", "place of the other pier", (other,)),
            Line("d", "distance from A to B, which lie dx and dy apart", "sqrt(dx^2 + dy^2)",
                 f"sqrt({' + '.join(apart)})", f"{number(distance)} in"),
        )  # fmt: skip

    valid = "piers on the outside faces of their walls"
    return Result(distance, working=Working("Distance between piers", _PLANE, valid, lines))


@kept
def depth_above_floor(pit_floor_in: float, depth_to_utility_in: float) -> Result:
    """How far the top of a line lies above the floor of the pit.

    a = H - z; depths from the same ground, each 0 to 60 ft (floor 0 to 150 ft).

    Args:
        pit_floor_in: H, depth of the pit's floor below the ground, in.
        depth_to_utility_in: z, depth to the top of the line, in.

    Returns:
        Height above the floor, in; negative where the line lies deeper than the pit.

    Not known when:
        A depth is out of its range.

    Source:
        Subtraction.

    >>> depth_above_floor(60.0, 24.0).value
    36.0
    """
    reason = outside(
        ("depth of pit floor", pit_floor_in, 0.0, 1800.0, "in"),
        ("depth to utility", depth_to_utility_in, 0.0, 720.0, "in"),
    )
    if reason:
        return not_known(reason)
    above = pit_floor_in - depth_to_utility_in

    def lines() -> Lines:
        return (
            inches("H", "depth of the pit's floor below the ground", pit_floor_in),
            inches("z", "depth to the top of the line", depth_to_utility_in),
            Line("a", "height of the line above the floor", "H - z",
                 f"{number(pit_floor_in)} - {number(depth_to_utility_in)}", f"{number(above)} in"),
        )  # fmt: skip

    return Result(
        above, working=Working("Line above the pit's floor", _PLANE, "level ground", lines)
    )


@kept
def distance_to_corner(wall_length_in: float, station_in: float, opening_in: float) -> Result:
    """Distance from the edge of a pit's opening to the nearer end of its wall.

    c = min(s, L - s) - o / 2, for a station on the wall.

    Args:
        wall_length_in: L, 12 to 6,000 in.
        station_in: s, 0 to L, in.
        opening_in: o, opening at the underside of the footing, 6 to 14,760 in.

    Returns:
        Distance, in; negative where the opening reaches past the corner.

    Not known when:
        A figure is out of its range; the station of a pier must lie on its wall.

    Source:
        Plane geometry.

    >>> distance_to_corner(360.0, 60.0, 30.0).value
    45.0
    """
    reason = outside(
        ("wall length", wall_length_in, 12.0, 6000.0, "in"),
        ("station", station_in, 0.0, wall_length_in, "in"),
        _opening_limit(opening_in),
    )
    if reason:
        return not_known(reason)
    clear = min(station_in, wall_length_in - station_in) - opening_in / 2

    def lines() -> Lines:
        length, station, opening = map(number, (wall_length_in, station_in, opening_in))
        return (
            inches("L", "wall length", wall_length_in),
            inches("s", "station of the pier", station_in),
            inches("o", "opening at the footing", opening_in),
            Line("c", "distance to the nearer corner", "min(s, L - s) - o / 2",
                 f"min({station}, {length} - {station}) - {opening} / 2", f"{number(clear)} in"),
        )  # fmt: skip

    return Result(
        clear, working=Working("Distance to corner", _PLANE, "station on the wall", lines)
    )


class Opened(NamedTuple):
    """What a pit opens of its wall.

    Args:
        station_in: station of its middle, in, 0 to 6,000.
        opening_in: opening at the underside of the footing, in, 6 to 14,760.
    """

    station_in: float
    opening_in: float


ALONE = Result(DOES_NOT_APPLY, "it is the only pier of its wall")


def distance_to_next_pier(station_in: float, others_in: Sequence[float]) -> Result:
    """Distance along the wall from a pier to the nearest other, centre to centre.

    d = the least of |s - si|.

    Args:
        station_in: s, station of the pier, in, 0 to 6,000.
        others_in: station of every other pier of the same wall, in, each 0 to 6,000.

    Returns:
        Distance, in. ``DOES_NOT_APPLY`` where there is no other pier.

    Not known when:
        A station is out of its range.

    Source:
        Plane geometry.

    >>> distance_to_next_pier(60.0, [156.0, 300.0]).value
    96.0
    """
    if not others_in:
        return ALONE
    reason = outside(
        *(("station", station, 0.0, 6000.0, "in") for station in (station_in, *others_in))
    )
    if reason:
        return not_known(reason)
    nearest = min(others_in, key=lambda station: abs(station_in - station))
    distance = abs(station_in - nearest)

    def lines() -> Lines:
        low, high = map(number, sorted((station_in, nearest)))
        return (
            inches("s", "station of the pier", station_in),
            inches("si", "station of the nearest other pier", nearest),
            Line("d", "distance between the two", "|s - si|", f"{high} - {low}",
                 f"{number(distance)} in"),
        )  # fmt: skip

    return Result(
        distance, working=Working("Distance to the next pier", _PLANE, "piers of one wall", lines)
    )


def gap_to_next_pit(pit: Opened, others: Sequence[Opened]) -> Result:
    """Clear distance along the wall from the opening of a pit to that of the nearest other.

    g = the least of |s - si| - (o + oi) / 2, whatever the order in which the pits are open.

    Args:
        pit: its station s and opening o; the figures have their ranges there.
        others: every other pit of the same wall.

    Returns:
        Distance, in; negative where two openings run into each other. ``DOES_NOT_APPLY`` where
        there is no other pit.

    Not known when:
        A figure is out of its range.

    Source:
        Plane geometry.

    >>> gap_to_next_pit(Opened(60.0, 36.0), [Opened(156.0, 36.0), Opened(300.0, 36.0)]).value
    60.0
    """
    return _gap(pit, tuple(others)) if others else ALONE


@kept
def _gap(pit: Opened, others: tuple[Opened, ...]) -> Result:
    reason = outside(
        *(("station", station, 0.0, 6000.0, "in") for station, _ in (pit, *others)),
        *(_opening_limit(opening) for _, opening in (pit, *others)),
    )
    if reason:
        return not_known(reason)
    gap, (station, opening) = min(
        (abs(pit.station_in - other.station_in) - (pit.opening_in + other.opening_in) / 2, other)
        for other in others
    )

    def lines() -> Lines:
        s, o, si, oi = (number(figure) for figure in (*pit, station, opening))
        apart = number(abs(pit.station_in - station))
        ends = (si, s) if station > pit.station_in else (s, si)
        return (
            inches("s", "station of the pier", pit.station_in),
            inches("o", "its opening at the footing", pit.opening_in),
            noted("N", "other pits on the wall", str(len(others))),
            inches("si", "station of the nearest of them", station),
            inches("oi", "its opening at the footing", opening),
            Line("d", "distance between the two", "|s - si|", " - ".join(ends), f"{apart} in"),
            Line("g", "gap to the next pit", "d - (o + oi) / 2", f"{apart} - ({o} + {oi}) / 2",
                 f"{number(gap)} in"),
        )  # fmt: skip

    return Result(gap, working=Working("Gap to the next pit", _PLANE, "pits of one wall", lines))


def _opening_limit(opening_in: float) -> tuple[str, float, float, float, str]:
    return ("opening at footing", opening_in, SHORTEST_OPENING_IN, LONGEST_OPENING_IN, "in")


def too_far(points: Iterable[Point]) -> str:
    """Why points can't be drawn: one is farther away than any site reaches; empty if none is."""
    for x, y in points:
        if not (-_LARGEST_IN <= x <= _LARGEST_IN and -_LARGEST_IN <= y <= _LARGEST_IN):
            return outside(
                ("place along x", x, -_LARGEST_IN, _LARGEST_IN, "in"),
                ("place along y", y, -_LARGEST_IN, _LARGEST_IN, "in"),
            )
    return ""


@lru_cache(maxsize=1024)
def _corner_line(symbol: str, meaning: str, corners: Corners) -> Line:
    written = ", ".join(f"({number(x, 1)}, {number(y, 1)})" for x, y in corners)
    return Line(symbol, meaning, "", "", f"{written} in")


@cache
def _shapely() -> Any:
    """The geometry library, loaded where it is first needed: it takes long to load."""
    return importlib.import_module("shapely")


def _distances(pits: Sequence[Corners], other: Corners) -> list[float]:
    """Distance from each pit to something else; not a number where one of the two has no shape."""
    apart: list[float] = _shapely().distance(_shape(other), list(map(_shape, pits))).tolist()
    return apart


@lru_cache(maxsize=1024)
def _shape(corners: Corners) -> Any:
    """A point, a straight line or a closed outline; none where a point lies too far away.

    Corners that lie within a millionth of an inch are one, or distances to a line of next to
    no length would divide by nothing.
    """
    if too_far(corners):
        return None
    shapely = _shapely()
    distinct = list(dict.fromkeys((round(x, 6), round(y, 6)) for x, y in corners))
    if len(distinct) == 1:
        return shapely.Point(distinct[0])
    return shapely.LineString(distinct) if len(distinct) == 2 else shapely.Polygon(distinct)
