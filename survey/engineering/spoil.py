"""What is dug out of a pit, the heap it makes, and the ground that pit and heap need."""

from __future__ import annotations

import math
from collections.abc import Sequence

from survey.engineering._steps import inches, kept, noted, number, outside
from survey.engineering.pit import LONGEST_OPENING_IN, SHORTEST_OPENING_IN
from survey.engineering.working import Line, Result, Working, not_known, within
from survey.model import Value

_PLANE = "geometry"
_BANK = (
    "geometry of a triangular spoil bank; Nunnally, Construction Methods and Management, "
    "ch. 2, from memory"
)
_IN3_PER_FT3 = 1728.0
_DEEPEST_IN = 720.0
_WIDEST_REACH_IN = 7200.0  # the deepest pit at 10H:1V
_LARGEST_FT3 = 2e7
_LARGEST_SPOIL_FT3 = 2 * _LARGEST_FT3
_WIDEST_HEAP_IN = 1e6
_LEAST_ROOM_IN = 1.0

_BULKING_SOURCE = "common practice, from memory"
# How much the ground grows when it is dug, percent of its volume in place, least and most.
_ROCK = (40.0, 80.0)
_CLAY = (20.0, 40.0)
_LOAM = (20.0, 25.0)
_SAND = (10.0, 15.0)
_BULKING = {
    "stable rock": _ROCK,
    "dry unstable rock": _ROCK,
    "cemented soil": _ROCK,  # caliche and hardpan break into lumps as rock does
    "clay": _CLAY,
    "silty clay": _CLAY,
    "sandy clay": _CLAY,
    "clay loam": _CLAY,
    "silt": _LOAM,
    "silt loam": _LOAM,
    "sandy loam": _LOAM,
    "angular gravel": _SAND,
    "gravel": _SAND,
    "loamy sand": _SAND,
    "sand": _SAND,
    # Fill of known make-up is told as what it is made of; the rest may be clay.
    "fill": (20.0, 40.0),
}


@kept
def pit_volume(
    pit_length_in: float, pit_width_in: float, pit_depth_in: float, slope_reach_in: float
) -> Result:
    """Volume of a pit whose wall side is vertical and whose other three sides slope out.

    V = (p w + (p + 2 w) r / 2 + 2 r^2 / 3) H / 1728: at height z above the floor it is p + 2 m z
    long and w + m z wide, with m = r / H.

    Args:
        pit_length_in: p, at the floor along the wall, in, 6 to 360.
        pit_width_in: w, at the floor out from the wall, in, 6 to 360.
        pit_depth_in: H, in, 0 to 720.
        slope_reach_in: r, how far the sides reach out at the ground, in, 0 to 7,200; 0 where
            they are upright.

    Returns:
        Volume of the ground in place, ft3. Corners count as square, so it is not understated.
        Benched pits count with their overall slope. Ground taken from under the footing is
        apart, :func:`volume_under_footing`.

    Not known when:
        A figure is out of its range.

    Source:
        Geometry (prismatoid).

    >>> pit_volume(36.0, 36.0, 60.0, 0.0).value, pit_volume(36.0, 36.0, 60.0, 60.0).value
    (45.0, 240.83333333333334)
    """
    reason = outside(
        ("pit length", pit_length_in, 6.0, 360.0, "in"),
        ("pit width", pit_width_in, 6.0, 360.0, "in"),
        ("pit depth", pit_depth_in, 0.0, _DEEPEST_IN, "in"),
        ("slope reach", slope_reach_in, 0.0, _WIDEST_REACH_IN, "in"),
    )
    if reason:
        return not_known(reason)
    area = (
        pit_length_in * pit_width_in
        + (pit_length_in + 2 * pit_width_in) * slope_reach_in / 2
        + 2 * slope_reach_in**2 / 3
    )
    volume = area * pit_depth_in / _IN3_PER_FT3
    p, w, depth, r = (
        number(figure) for figure in (pit_length_in, pit_width_in, pit_depth_in, slope_reach_in)
    )
    lines = (
        inches("p", "pit length at the floor", pit_length_in),
        inches("w", "pit width at the floor", pit_width_in),
        inches("H", "pit depth", pit_depth_in),
        inches("r", "reach of the slope", slope_reach_in),
        Line("V", "volume of the pit", "(p w + (p + 2 w) r / 2 + 2 r^2 / 3) H / 1728",
             f"({p} x {w} + ({p} + 2 x {w}) x {r} / 2 + 2 x {r}^2 / 3) x {depth} / 1728",
             f"{number(volume)} ft3"),
    )  # fmt: skip
    valid = "level ground; wall side vertical, corners square; benches by their overall slope"
    return Result(volume, working=Working("Volume of the pit", _PLANE, valid, lines))


@kept
def volume_under_footing(
    pit_length_in: float,
    opening_in: float,
    under_in: float,
    pit_depth_in: float,
    footing_depth_in: float,
) -> Result:
    """Volume of the ground that a pit takes from under the footing.

    V = u (p + o) (H - f) / 2 / 1728, with sides that slope from the floor up to the footing; 0
    where the pit is no deeper than the footing.

    Args:
        pit_length_in: p, at the floor along the wall, in, 6 to 360.
        opening_in: o, opening at the underside of the footing, in, p to 14,760.
        under_in: u, how far the pit goes in under the footing, in, 0 to 120.
        pit_depth_in: H, in, 0 to 720.
        footing_depth_in: f, underside of the footing, from the ground or floor that the pit is
            dug from, in, 0 to 480.

    Returns:
        Volume of the ground in place, ft3.

    Not known when:
        A figure is out of its range.

    Source:
        Geometry.

    >>> volume_under_footing(36.0, 36.0, 16.0, 60.0, 36.0).value
    8.0
    """
    reason = outside(
        ("pit length", pit_length_in, SHORTEST_OPENING_IN, 360.0, "in"),
        ("opening at footing", opening_in, pit_length_in, LONGEST_OPENING_IN, "in"),
        ("reach under the footing", under_in, 0.0, 120.0, "in"),
        ("pit depth", pit_depth_in, 0.0, _DEEPEST_IN, "in"),
        ("footing depth", footing_depth_in, 0.0, 480.0, "in"),
    )
    if reason:
        return not_known(reason)
    below = max(pit_depth_in - footing_depth_in, 0.0)
    volume = under_in * (pit_length_in + opening_in) / 2 * below / _IN3_PER_FT3
    p, o, u, depth, f, d = (
        number(figure)
        for figure in (pit_length_in, opening_in, under_in, pit_depth_in, footing_depth_in, below)
    )
    lines = (
        inches("p", "pit length at the floor", pit_length_in),
        inches("o", "opening at the footing", opening_in),
        inches("u", "reach under the footing", under_in),
        Line("d", "pit below the footing", "H - f, at least 0", f"max({depth} - {f}, 0)",
             f"{d} in"),
        Line("V", "volume under the footing", "u (p + o) / 2 x d / 1728",
             f"{u} x ({p} + {o}) / 2 x {d} / 1728", f"{number(volume)} ft3"),
    )  # fmt: skip
    valid = "level underside of the footing"
    return Result(volume, working=Working("Ground from under the footing", _PLANE, valid, lines))


@kept
def volume_dug(beside_wall_ft3: float, under_footing_ft3: float) -> Result:
    """Volume of the ground that is dug for a pit, in place.

    V = Vb + Vu.

    Args:
        beside_wall_ft3: Vb, as in :func:`pit_volume`, ft3, 0 to 10,000,000.
        under_footing_ft3: Vu, as in :func:`volume_under_footing`, ft3, 0 to 10,000,000.

    Returns:
        Volume, ft3.

    Not known when:
        A figure is out of its range.

    Source:
        Geometry.

    >>> volume_dug(45.0, 8.0).value
    53.0
    """
    reason = outside(
        ("volume beside the wall", beside_wall_ft3, 0.0, _LARGEST_FT3 / 2, "ft3"),
        ("volume under the footing", under_footing_ft3, 0.0, _LARGEST_FT3 / 2, "ft3"),
    )
    if reason:
        return not_known(reason)
    volume = beside_wall_ft3 + under_footing_ft3
    beside, under = number(beside_wall_ft3), number(under_footing_ft3)
    lines = (
        noted("Vb", "volume beside the wall", f"{beside} ft3"),
        noted("Vu", "volume under the footing", f"{under} ft3"),
        Line("V", "volume dug", "Vb + Vu", f"{beside} + {under}", f"{number(volume)} ft3"),
    )
    valid = "level ground; one footing over the pit"
    return Result(volume, working=Working("Volume of the pit", _PLANE, valid, lines))


def greatest_bulking(soil_groups: Sequence[Value]) -> Result:
    """How much the ground of a pit grows at most when it is dug.

    B = the greatest of its layers: rock and cemented soil 80 %, clays and fill 40 %, silt and
    loams 25 %, sand and gravel 15 %.

    Args:
        soil_groups: group of each layer that the pit passes through; at least one.

    Returns:
        Percent of the volume in place. The greatest of its usual range, so that no heap is
        larger than was allowed for.

    Not known when:
        No layer is told; or the group of one is not known: then the least and the most that
        the greatest can be are told.

    Source:
        Common practice, from memory: rock 40 to 80 %, clay 20 to 40 %, loam 20 to 25 %, sand and
        gravel 10 to 15 %. Fill whose make-up is not known counts as clay, cemented soil as rock.

    >>> greatest_bulking(["sand", "clay"]).value
    40.0
    """
    if not soil_groups:
        return not_known("no soil layer is told")
    known = [str(group) for group in soil_groups if group in _BULKING]
    lines = tuple(
        noted("", group, "{} to {} %".format(*map(number, _BULKING[group])), _BULKING_SOURCE)
        for group in dict.fromkeys(known)
    )
    title, valid = "Bulking of the ground", "ground dug by hand or machine, not blasted"
    most = max(high for _, high in _BULKING.values())
    greatest = max((_BULKING[group][1] for group in known), default=0.0)
    if len(known) < len(soil_groups) and greatest < most:
        least = max(greatest, min(high for _, high in _BULKING.values()))
        last = Line("B", "greatest bulking", "for each group that is possible", "",
                    f"{number(least)} to {number(most)} %")  # fmt: skip
        reason = "the group of a soil layer is not known"
        return within(least, most, reason, Working(title, _BULKING_SOURCE, valid, (*lines, last)))
    last = Line("B", "greatest bulking", "greatest of the layers", "", f"{number(greatest)} %")
    return Result(greatest, working=Working(title, _BULKING_SOURCE, valid, (*lines, last)))


@kept
def spoil_volume(pit_volume_ft3: float, bulking_percent: float) -> Result:
    """Volume of the loosened spoil of a pit.

    Vs = V (1 + B / 100).

    Args:
        pit_volume_ft3: V, volume of the ground in place, ft3, 0 to 20,000,000.
        bulking_percent: B, percent, 0 to 100; :func:`greatest_bulking` has the greatest.

    Returns:
        Volume, ft3.

    Not known when:
        A figure is out of its range.

    Source:
        Definition of bulking (swell).

    >>> spoil_volume(45.0, 40.0).value
    63.0
    """
    reason = outside(
        ("pit volume", pit_volume_ft3, 0.0, _LARGEST_FT3, "ft3"),
        ("bulking", bulking_percent, 0.0, 100.0, "%"),
    )
    if reason:
        return not_known(reason)
    volume = pit_volume_ft3 * (100 + bulking_percent) / 100
    lines = (
        noted("V", "volume in place", f"{number(pit_volume_ft3)} ft3"),
        noted("B", "bulking", f"{number(bulking_percent)} %"),
        Line("Vs", "volume of the spoil", "V (1 + B / 100)",
             f"{number(pit_volume_ft3)} x (1 + {number(bulking_percent)} / 100)",
             f"{number(volume)} ft3"),
    )  # fmt: skip
    valid = "all that is dug is laid beside the pit"
    return Result(
        volume, working=Working("Volume of the spoil", "definition of bulking", valid, lines)
    )


@kept
def spoil_weight(pit_volume_ft3: float, unit_weight_pcf: float) -> Result:
    """Weight of the spoil of a pit.

    W = V g: what is dug weighs what it weighed in place, however much it bulks.

    Args:
        pit_volume_ft3: V, volume of the ground in place, ft3, 0 to 20,000,000.
        unit_weight_pcf: g, unit weight of the ground in place, wet as dug, pcf, 50 to 200.

    Returns:
        Weight, lb.

    Not known when:
        A figure is out of its range.

    Source:
        Weight is volume times unit weight.

    >>> spoil_weight(45.0, 130.0).value
    5850.0
    """
    reason = outside(
        ("pit volume", pit_volume_ft3, 0.0, _LARGEST_FT3, "ft3"),
        ("unit weight", unit_weight_pcf, 50.0, 200.0, "pcf"),
    )
    if reason:
        return not_known(reason)
    weight = pit_volume_ft3 * unit_weight_pcf
    lines = (
        noted("V", "volume in place", f"{number(pit_volume_ft3)} ft3"),
        noted("g", "unit weight in place", f"{number(unit_weight_pcf)} pcf"),
        Line("W", "weight of the spoil", "V g",
             f"{number(pit_volume_ft3)} x {number(unit_weight_pcf)}", f"{number(weight)} lb"),
    )  # fmt: skip
    valid = "no rain taken up after digging"
    return Result(weight, working=Working("Weight of the spoil", "statics", valid, lines))


@kept
def heap_base_width(spoil_volume_ft3: float, heap_length_in: float, repose_slope: float) -> Result:
    """Width of the ground that a heap of spoil covers.

    b = 2 sqrt(n A) with A = 1728 V / L: a triangle that lies at its slope of repose, n
    horizontal to one vertical, on both sides.

    Args:
        spoil_volume_ft3: V, loose, ft3, 0 to 40,000,000.
        heap_length_in: L, length of the heap's ridge, in, 12 to 6,000. Its ends slope away beyond
            it and are not counted, so the heap is never wider than this.
        repose_slope: n, horizontal to one vertical, 0.5 to 5. 1.5 is common practice; dry sand
            may lie as flat as 2.1. The flatter, the wider.

    Returns:
        Width, in.

    Not known when:
        A figure is out of its range.

    Source:
        Geometry of a triangular spoil bank; Nunnally, Construction Methods and Management,
        ch. 2, from memory.

    >>> heap_base_width(62.5, 120.0, 1.5).value
    73.48469228349535
    """
    return _heap(spoil_volume_ft3, heap_length_in, repose_slope, of_height=False)


def heap_height(spoil_volume_ft3: float, heap_length_in: float, repose_slope: float) -> Result:
    """Height of a heap of spoil.

    h = sqrt(A / n) with A = 1728 V / L, for the heap of :func:`heap_base_width`.

    Args:
        spoil_volume_ft3: V, loose, ft3, 0 to 40,000,000.
        heap_length_in: L, length of the heap's ridge, in, 12 to 6,000.
        repose_slope: n, horizontal to one vertical, 0.5 to 5. The steeper, the higher: for a
            pressure on the ground take the steepest that it may lie at.

    Returns:
        Height, in.

    Not known when:
        A figure is out of its range.

    Source:
        Geometry of a triangular spoil bank; Nunnally, Construction Methods and Management,
        ch. 2, from memory.

    >>> heap_height(62.5, 120.0, 1.5).value
    24.49489742783178
    """
    return _heap(spoil_volume_ft3, heap_length_in, repose_slope, of_height=True)


def _heap(volume_ft3: float, length_in: float, slope: float, *, of_height: bool) -> Result:
    reason = outside(
        ("spoil volume", volume_ft3, 0.0, _LARGEST_SPOIL_FT3, "ft3"),
        ("length of the heap", length_in, 12.0, 6000.0, "in"),
        ("slope of repose", slope, 0.5, 5.0, "H:1V"),
    )
    if reason:
        return not_known(reason)
    area = _IN3_PER_FT3 * volume_ft3 / length_in
    height = math.sqrt(area / slope)
    width = 2 * math.sqrt(slope * area)
    shown, n = number(area), number(slope)
    last = (
        Line("h", "height of the heap", "sqrt(A / n)", f"sqrt({shown} / {n})",
             f"{number(height)} in", _BANK)
        if of_height
        else Line("b", "width of the heap", "2 sqrt(n A)", f"2 x sqrt({n} x {shown})",
                  f"{number(width)} in", _BANK)
    )  # fmt: skip
    lines = (
        noted("V", "volume of the spoil", f"{number(volume_ft3)} ft3"),
        inches("L", "length of the heap's ridge", length_in),
        noted("n", "slope of repose", f"{n}H:1V", "common practice"),
        Line("A", "section of the heap", "1728 V / L",
             f"1728 x {number(volume_ft3)} / {number(length_in)}", f"{shown} in2"),
        last,
    )  # fmt: skip
    title = "Height of the heap" if of_height else "Width of the heap"
    valid = "level ground; triangular heap, its sloping ends not counted"
    return Result(height if of_height else width, working=Working(title, _BANK, valid, lines))


def heap_pressure(heap_height_in: float, unit_weight_pcf: float) -> Result:
    """Pressure of a heap of spoil on the ground under its middle, a surcharge.

    q = g h / 12.

    Args:
        heap_height_in: h, in, 0 to 1,000,000.
        unit_weight_pcf: g, pcf, 50 to 200. Unit weight of the ground in place: loose it weighs
            less, so the pressure is not understated.

    Returns:
        Pressure, psf.

    Not known when:
        A figure is out of its range.

    Source:
        Statics; weight of the column of soil.

    >>> heap_pressure(24.0, 130.0).value
    260.0
    """
    reason = outside(
        ("height of the heap", heap_height_in, 0.0, _WIDEST_HEAP_IN, "in"),
        ("unit weight", unit_weight_pcf, 50.0, 200.0, "pcf"),
    )
    if reason:
        return not_known(reason)
    pressure = unit_weight_pcf * heap_height_in / 12
    lines = (
        inches("h", "height of the heap", heap_height_in),
        noted("g", "unit weight", f"{number(unit_weight_pcf)} pcf"),
        Line("q", "pressure under the middle of the heap", "g h / 12",
             f"{number(unit_weight_pcf)} x {number(heap_height_in)} / 12",
             f"{number(pressure)} psf"),
    )  # fmt: skip
    valid = "under the ridge of the heap"
    return Result(pressure, working=Working("Pressure of the heap", "statics", valid, lines))


@kept
def ground_needed(
    pit_width_in: float, slope_reach_in: float, spoil_distance_in: float, heap_base_width_in: float
) -> Result:
    """Ground that a pit and its spoil need, straight out from the wall.

    N = w + r + s + b.

    Args:
        pit_width_in: w, at the floor out from the wall, in, 6 to 360.
        slope_reach_in: r, reach of the slope at the ground, in, 0 to 7,200.
        spoil_distance_in: s, from the pit's edge at the ground to the foot of the spoil, in, 0
            to 2,400.
        heap_base_width_in: b, width of the heap, in, 0 to 1,000,000; 0 where the spoil is not
            laid there.

    Returns:
        Length out from the wall, in. A way to walk beyond the heap is not in it.

    Not known when:
        A figure is out of its range.

    Source:
        Plane geometry.

    >>> ground_needed(36.0, 60.0, 24.0, 72.0).value
    192.0
    """
    reason = outside(
        ("pit width", pit_width_in, 6.0, 360.0, "in"),
        ("slope reach", slope_reach_in, 0.0, _WIDEST_REACH_IN, "in"),
        ("spoil distance", spoil_distance_in, 0.0, 2400.0, "in"),
        ("width of the heap", heap_base_width_in, 0.0, _WIDEST_HEAP_IN, "in"),
    )
    if reason:
        return not_known(reason)
    parts = (pit_width_in, slope_reach_in, spoil_distance_in, heap_base_width_in)
    needed = pit_width_in + slope_reach_in + spoil_distance_in + heap_base_width_in
    lines = (
        inches("w", "pit width at the floor", pit_width_in),
        inches("r", "reach of the slope", slope_reach_in),
        inches("s", "from the pit's edge to the spoil", spoil_distance_in),
        inches("b", "width of the heap", heap_base_width_in),
        Line("N", "ground needed out from the wall", "w + r + s + b",
             " + ".join(map(number, parts)), f"{number(needed)} in"),
    )  # fmt: skip
    valid = "level ground; spoil laid beyond the pit, straight out from the wall"
    return Result(
        float(needed), working=Working("Ground needed out from the wall", _PLANE, valid, lines)
    )


def room_use(ground_needed_in: float, clear_ground_in: float) -> Result:
    """Ground that a pit and its spoil need, as a share of the clear ground at the wall.

    use = 100 N / c; over 100 % it does not fit.

    Args:
        ground_needed_in: N, in, 0 to 1,020,000.
        clear_ground_in: c, clear ground out from the wall, in, 0 to 6,000. Less than 1 in counts
            as 1 in, so that no ground at all gives a figure too: at least 600 %, since no pit
            is narrower than 6 in.

    Returns:
        Percent.

    Not known when:
        A figure is out of its range.

    Source:
        Plane geometry.

    >>> room_use(192.0, 240.0).value
    80.0
    """
    reason = outside(
        ("ground needed", ground_needed_in, 0.0, 1.02e6, "in"),
        ("clear ground", clear_ground_in, 0.0, 6000.0, "in"),
    )
    if reason:
        return not_known(reason)
    clear = max(clear_ground_in, _LEAST_ROOM_IN)
    use = 100 * ground_needed_in / clear
    lines = (
        inches("N", "ground needed", ground_needed_in),
        inches("c", "clear ground, counted as at least 1 in", clear),
        Line("use", "clear ground used", "100 N / c",
             f"100 x {number(ground_needed_in)} / {number(clear)}", f"{number(use)} %"),
    )  # fmt: skip
    valid = "level ground, clear all along the pit"
    return Result(use, working=Working("Clear ground used", _PLANE, valid, lines))
