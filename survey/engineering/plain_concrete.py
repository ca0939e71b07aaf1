"""Plain concrete footings over an open pit, between piers and on a bracket: ACI 318-19 chapter 14.

The footing alone is taken to carry the wall over the pit, as a simple span as long as the opening
at its underside; the help of the wall above it is left out. Its projection is left out too: it is
cut away for the bracket, in the middle of the span (common practice). Between piers the moment and
the shear are worked out elsewhere and compared with the same strengths. Concrete is of normal
weight (lambda = 1).

The code lets plain concrete be used where soil or other members hold it up all along, or where it
arches (14.1.3, from memory). A footing that spans is neither, so a use below 100 % screens the
footing as it was found; it makes no design of it.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

from survey.engineering._steps import given, inches, kept, noted, number, outside
from survey.engineering.pit import LONGEST_OPENING_IN, SHORTEST_OPENING_IN
from survey.engineering.working import Line, Result, Working, not_known
from survey.vocabulary import Kind

_PHI = 0.60  # Table 21.2.1, plain concrete
_PHI_SOURCE = "ACI 318-19 Table 21.2.1, from memory"
_SOIL_ALLOWANCE_IN = 2.0  # 14.5.1.7
_SOIL_SOURCE = "ACI 318-19 14.5.1.7, clause from memory"
_LENGTH_STEP_IN = 0.001
_LEAST_THICKNESS_IN = 8.0
_LEAST_STRENGTH_PSI = 2500.0
_HIGHEST_ROOT_PSI = 100.0
_PSF_PER_PSI = 144.0
_TWO_WAY_SOURCE = "ACI 318-19 Table 14.5.5.1(b), (c), from memory"
_VALID = (
    "uncracked concrete, no bars counted, thicker than 2 in, f'c 500 to 12,000 psi; a screening: "
    "ACI asks for 8 in and 2,500 psi in a structural plain footing and, in 14.1.3, for support "
    "all along it"
)
STRENGTH_HINT = (
    "the code's least is 2,500 psi (ACI 318-19 Table 19.2.1.1, from memory), which an engineer "
    "may accept"
)
CONCRETE_FOOTINGS = ("concrete", "thickened slab edge")
GREATEST_MOMENT_IN_LB = 1e13
GREATEST_SHEAR_LB = 1e10
GREATEST_LOAD_LB = 1e8


class Section(NamedTuple):
    """The cross-section of a footing that counts.

    Args:
        strength_psf: f'c, psf, 72,000 to 1,728,000 (500 to 12,000 psi).
        width_in: b, across the wall, without what is cut away there, in, above 0 and at most
            120.
        thickness_in: T, of the footing as found, in, above 2 and at most 72.
    """

    strength_psf: float
    width_in: float
    thickness_in: float


def flexural_strength(strength_psf: float, width_in: float, thickness_in: float) -> Result:
    """Design bending strength of a plain concrete footing, tension at its underside.

    phi Mn = phi 5 lambda sqrt(f'c) Sm with Sm = b h^2 / 6 and h 2 in less than the thickness,
    because it was cast against soil; sqrt(f'c) is taken at most as 100 psi.

    Args:
        strength_psf: f'c, psf, 72,000 to 1,728,000 (500 to 12,000 psi).
        width_in: b, across the wall, in, above 0 and at most 120.
        thickness_in: of the footing as found, in, above 2 and at most 72.

    Returns:
        lb-in.

    Not known when:
        A figure is out of its range. Under 8 in or 2,500 psi, less than ACI asks for in a
        structural plain footing, the figure is given and the working says so.

    Source:
        ACI 318-19 14.5.2.1a, 14.5.1.7, Table 21.2.1, in part from memory.

    >>> round(flexural_strength(2500 * 144, 12.0, 10.0).value)
    19200
    """
    reason = _out_of_range(strength_psf, width_in, thickness_in)
    if reason:
        return not_known(reason)
    h, root = counted_thickness(thickness_in), _root(strength_psf)
    modulus = width_in * h**2 / 6
    strength = _PHI * 5 * root * modulus
    lines = (
        *_section_lines(strength_psf, width_in, thickness_in),
        Line("Sm", "section modulus", "b h^2 / 6", f"{number(width_in)} x {number(h)}^2 / 6",
             f"{number(modulus)} in3"),
        Line("phi Mn", "bending strength", "phi 5 lambda sqrt(f'c) Sm",
             f"{_PHI:g} x 5 x 1 x {number(root)} x {number(modulus)}",
             f"{number(strength)} lb-in", "ACI 318-19 14.5.2.1a, clause from memory"),
    )  # fmt: skip
    return Result(strength, working=_working("Bending strength of the footing", lines))


def shear_strength(strength_psf: float, width_in: float, thickness_in: float) -> Result:
    """Design one-way shear strength of a plain concrete footing.

    phi Vn = phi (4/3) lambda sqrt(f'c) b h, with h and sqrt(f'c) as for bending.

    Args:
        strength_psf: f'c, psf, 72,000 to 1,728,000 (500 to 12,000 psi).
        width_in: b, across the wall, in, above 0 and at most 120.
        thickness_in: of the footing as found, in, above 2 and at most 72.

    Returns:
        lb.

    Not known when:
        A figure is out of its range.

    Source:
        ACI 318-19 Table 14.5.5.1(a), 14.5.1.7, Table 21.2.1, in part from memory.

    >>> round(shear_strength(2500 * 144, 12.0, 10.0).value)
    3840
    """
    reason = _out_of_range(strength_psf, width_in, thickness_in)
    if reason:
        return not_known(reason)
    h, root = counted_thickness(thickness_in), _root(strength_psf)
    strength = _PHI * 4 / 3 * root * width_in * h
    lines = (
        *_section_lines(strength_psf, width_in, thickness_in),
        Line("phi Vn", "shear strength", "phi (4/3) lambda sqrt(f'c) b h",
             f"{_PHI:g} x 4/3 x 1 x {number(root)} x {number(width_in)} x {number(h)}",
             f"{number(strength)} lb", "ACI 318-19 Table 14.5.5.1(a), clause from memory"),
    )  # fmt: skip
    return Result(strength, working=_working("Shear strength of the footing", lines))


def bearing_strength(strength_psf: float, plate_width_in: float, plate_depth_in: float) -> Result:
    """Design bearing strength of the footing on a bracket plate.

    phi Bn = phi 0.85 f'c A1, with sqrt(A2 / A1) taken as 1.

    Args:
        strength_psf: f'c, psf, 72,000 to 1,728,000 (500 to 12,000 psi).
        plate_width_in: along the wall, in, 2 to 48.
        plate_depth_in: under the footing, in, 1 to 48.

    Returns:
        lb.

    Not known when:
        A figure is out of its range.

    Source:
        ACI 318-19 Table 14.5.6.1, Table 21.2.1, from memory.

    >>> round(bearing_strength(2500 * 144, 10.0, 8.0).value)
    102000
    """
    reason = outside(
        _strength_limit(strength_psf),
        ("bracket plate width", plate_width_in, 2.0, 48.0, "in"),
        ("bracket plate depth", plate_depth_in, 1.0, 48.0, "in"),
    )
    if reason:
        return not_known(reason)
    psi, area = strength_psf / _PSF_PER_PSI, plate_width_in * plate_depth_in
    strength = _PHI * 0.85 * psi * area
    lines = (
        _strength_line(strength_psf),
        noted("phi", "strength reduction", f"{_PHI:g}", _PHI_SOURCE),
        Line("A1", "loaded area", "plate width x depth",
             f"{number(plate_width_in)} x {number(plate_depth_in)}", f"{number(area)} in2"),
        Line("phi Bn", "bearing strength", "phi 0.85 f'c A1",
             f"{_PHI:g} x 0.85 x {number(psi)} x {number(area)}", f"{number(strength)} lb",
             "ACI 318-19 Table 14.5.6.1, from memory"),
    )  # fmt: skip
    return Result(strength, working=_working("Bearing strength of the footing", lines))


class Span(NamedTuple):
    """A footing over an open pit.

    Args:
        factored_plf: wu, factored line load, plf, 0 to 1,000,000.
        opening_in: o, opening at the underside of the footing, in, 6 to 14,760.
        strength_psf: f'c, psf, 72,000 to 1,728,000 (500 to 12,000 psi).
        width_in: B, whole width of the footing, across the wall, in, 4 to 120.
        projection_in: a, how far it stands out beyond the wall face, in, 0 to 60 and less
            than B.
        thickness_in: of the footing as found, in, above 2 and at most 72.
    """

    factored_plf: float
    opening_in: float
    strength_psf: float
    width_in: float
    projection_in: float
    thickness_in: float


@kept
def bending_use(span: Span) -> Result:
    """Bending of the footing over the open pit, as a share of its strength.

    use = 100 Mu / (phi Mn), Mu = (wu / 12) o^2 / 8, with b = B - a wide.

    Args:
        span: the footing; its figures have their ranges there.

    Returns:
        Percent; above 100 the footing alone can't carry the wall over the pit.

    Not known when:
        A figure is out of its range.

    Source:
        Statics of a simple span; strength as in :func:`flexural_strength`; that the projection
        is cut away is common practice.
    """
    strength = flexural_strength(span.strength_psf, net_width(span), span.thickness_in)
    title = "Bending of the footing over the pit"
    return _over_pit(span, title, "phi Mn", pit_moment(span), strength=strength)


@kept
def shear_use(span: Span) -> Result:
    """Shear of the footing beside the open pit, as a share of its strength.

    use = 100 Vu / (phi Vn), Vu = (wu / 12) max(o / 2 - h, 0), at h from the edge of the
    opening, with b = B - a wide.

    Args:
        span: the footing; its figures have their ranges there.

    Returns:
        Percent.

    Not known when:
        A figure is out of its range.

    Source:
        ACI 318-19 14.4.3.2 (section at h), from memory; strength as in :func:`shear_strength`;
        that the projection is cut away is common practice.
    """
    strength = shear_strength(span.strength_psf, net_width(span), span.thickness_in)
    title = "Shear of the footing beside the pit"
    shear = pit_shear(span, counted_thickness(span.thickness_in))
    return _over_pit(span, title, "phi Vn", shear, strength=strength)


def pit_moment(span: Span) -> Result:
    """Bending moment in a footing over an open pit.

    Mu = (wu / 12) o^2 / 8.

    Args:
        span: the footing; its figures have their ranges there.

    Returns:
        In-lb, tension at the underside.

    Not known when:
        A figure of the load, opening, width or projection is out of its range.

    Source:
        Statics of a simple span.

    >>> pit_moment(Span(1200.0, 40.0, 2500 * 144, 12.0, 0.0, 10.0)).value
    20000.0
    """
    reason = _span_out_of_range(span)
    if reason:
        return not_known(reason)
    load, opening = span.factored_plf, span.opening_in
    moment = load / 12 * opening * opening / 8
    demand = Line(
        "Mu", "bending over the pit", "(wu / 12) o^2 / 8",
        f"({number(load)} / 12) x {number(opening)}^2 / 8",
        f"{number(moment)} lb-in", "statics, simple span",
    )  # fmt: skip
    title = "Bending moment over the pit"
    return Result(moment, working=_working(title, (*_span_lines(span), demand)))


def pit_shear(span: Span, from_edge_in: float) -> Result:
    """Shear in a footing over an open pit, at the section that counts.

    Vu = (wu / 12) max(o / 2 - x, 0), at x from the edge of the opening.

    Args:
        span: the footing; its figures have their ranges there.
        from_edge_in: x, from the edge of the opening, in, 0 to 72: for plain concrete its
            thickness that counts, for reinforced concrete the depth to its bars.

    Returns:
        Lb.

    Not known when:
        A figure of the load, opening, width, projection or x is out of its range.

    Source:
        Statics of a simple span; section at h, ACI 318-19 14.4.3.2, from memory.

    >>> pit_shear(Span(1200.0, 40.0, 2500 * 144, 12.0, 0.0, 10.0), 8.0).value
    1200.0
    """
    reason = _span_out_of_range(span) or outside(
        ("distance of the section from the opening", from_edge_in, 0.0, 72.0, "in")
    )
    if reason:
        return not_known(reason)
    load, opening, at = span.factored_plf, span.opening_in, from_edge_in
    shear = load / 12 * max(opening / 2 - at, 0.0)
    demand = Line(
        "Vu", f"shear at {number(at)} in from the edge of the opening",
        "(wu / 12) max(o / 2 - x, 0)",
        f"({number(load)} / 12) x max({number(opening)} / 2 - {number(at)}, 0)",
        f"{number(shear)} lb", "ACI 318-19 14.4.3.2, from memory",
    )  # fmt: skip
    title = "Shear beside the pit"
    return Result(shear, working=_working(title, (*_span_lines(span), demand)))


def net_width(span: Span) -> float:
    """Width left where the projection is cut away for the bracket, in."""
    return span.width_in - span.projection_in


@kept
def bending_use_for(moment_in_lb: float, section: Section) -> Result:
    """Bending of a plain footing, as a share of its strength.

    use = 100 Mu / (phi Mn). Whichever face is in tension, 2 in of the thickness are left out,
    which ACI asks for where the concrete was cast against soil.

    Args:
        moment_in_lb: Mu, factored bending moment, either way, in-lb, 0 to 10^13.
        section: of the footing, where the moment is.

    Returns:
        Percent; above 100 the footing cracks through.

    Not known when:
        A figure is out of its range.

    Source:
        Strength as in :func:`flexural_strength`.

    >>> round(bending_use_for(9600.0, Section(2500 * 144, 12.0, 10.0)).value)
    50
    """
    strength = flexural_strength(*section)
    reason = strength.reason or outside(
        ("bending moment", moment_in_lb, 0.0, GREATEST_MOMENT_IN_LB, "in-lb")
    )
    if reason:
        return not_known(reason)
    line = noted("Mu", "factored bending moment", f"{number(moment_in_lb)} lb-in")
    return _use("Bending of the footing", "Mu", "phi Mn", moment_in_lb, strength, lines=(line,))


@kept
def shear_use_for(shear_lb: float, section: Section) -> Result:
    """Shear of a plain footing, as a share of its strength.

    use = 100 Vu / (phi Vn).

    Args:
        shear_lb: Vu, factored shear at h = T - 2 in from the face of the support or nearer to
            it, either way, lb, 0 to 10^10.
        section: of the footing, where the shear is.

    Returns:
        Percent.

    Not known when:
        A figure is out of its range.

    Source:
        Strength as in :func:`shear_strength`; section at h, ACI 318-19 14.4.3.2, from memory.

    >>> round(shear_use_for(960.0, Section(2500 * 144, 12.0, 10.0)).value)
    25
    """
    strength = shear_strength(*section)
    reason = strength.reason or outside(("shear", shear_lb, 0.0, GREATEST_SHEAR_LB, "lb"))
    if reason:
        return not_known(reason)
    line = given("Vu", "factored shear", shear_lb, Kind.FORCE)
    return _use("Shear of the footing", "Vu", "phi Vn", shear_lb, strength, lines=(line,))


def _over_pit(span: Span, title: str, capacity: str, demand: Result, *, strength: Result) -> Result:
    """The share of its strength that a footing over a pit uses, with all that it rests on."""
    reason = _span_out_of_range(span) or strength.reason or demand.reason
    if reason:
        return not_known(reason)
    assert isinstance(demand.value, float)
    assert demand.working is not None
    lines = demand.working.lines
    return _use(title, lines[-1].symbol, capacity, demand.value, strength, lines=lines)


def _span_lines(span: Span) -> tuple[Line, ...]:
    width, projection = number(span.width_in), number(span.projection_in)
    return (
        given("wu", "factored line load", span.factored_plf, Kind.LINE_LOAD),
        inches("o", "opening at the underside of the footing", span.opening_in),
        inches("B", "footing width", span.width_in),
        inches("a", "footing projection", span.projection_in),
        Line("b", "width left where the projection is cut away for the bracket", "B - a",
             f"{width} - {projection}", f"{number(net_width(span))} in", "common practice"),
    )  # fmt: skip


@kept
def bearing_use(
    factored_load_lb: float, strength_psf: float, plate_width_in: float, plate_depth_in: float,
    footing_width_in: float,
) -> Result:  # fmt: skip
    """Bearing of the footing on its bracket plate, as a share of its strength.

    use = 100 Pu / (phi Bn). A plate deeper than the footing is wide counts only as far as the
    footing reaches.

    Args:
        factored_load_lb: Pu, factored load on the pier, lb, 0 to 100,000,000.
        strength_psf: f'c, psf, 72,000 to 1,728,000 (500 to 12,000 psi).
        plate_width_in: along the wall, in, 2 to 48.
        plate_depth_in: under the footing, in, 1 to 48.
        footing_width_in: in, 4 to 120.

    Returns:
        Percent.

    Not known when:
        A figure is out of its range.

    Source:
        ACI 318-19 Table 14.5.6.1, from memory.
    """
    reason = outside(
        ("bracket plate depth", plate_depth_in, 1.0, 48.0, "in"),
        ("factored load on the pier", factored_load_lb, 0.0, GREATEST_LOAD_LB, "lb"),
        ("footing width", footing_width_in, 4.0, 120.0, "in"),
    )
    depth = min(plate_depth_in, footing_width_in)
    strength = bearing_strength(strength_psf, plate_width_in, depth)
    if reason or strength.reason:
        return not_known(reason or strength.reason)
    return _use(
        "Bearing of the footing on the bracket", "Pu", "phi Bn", factored_load_lb, strength,
        lines=(given("Pu", "factored load on the pier", factored_load_lb, Kind.FORCE),),
    )  # fmt: skip


def two_way_strength(
    strength_psf: float, thickness_in: float, perimeter_in: float, plate_ratio: float
) -> Result:
    """Design two-way (punching) shear strength of plain concrete round a plate.

    phi Vn = phi min(1 + 2 / beta, 2) (4/3) lambda sqrt(f'c) bo h, with h 2 in less than the
    thickness.

    Args:
        strength_psf: f'c, psf, 72,000 to 1,728,000 (500 to 12,000 psi).
        thickness_in: T, as found, in, above 2 and at most 72.
        perimeter_in: bo, of the section at h / 2 from the plate, in, 0.001 to 1,000.
        plate_ratio: beta, long side of the plate over its short side, 1 to 48.

    Returns:
        lb.

    Not known when:
        A figure is out of its range.

    Source:
        ACI 318-19 Table 14.5.5.1(b) and (c), 14.5.1.7, Table 21.2.1, from memory.

    >>> round(two_way_strength(2500 * 144, 10.0, 48.0, 2.0).value)
    30720
    """
    reason = _thickness_out_of_range(thickness_in) or outside(
        _strength_limit(strength_psf),
        ("critical perimeter", perimeter_in, _LENGTH_STEP_IN, 1000.0, "in"),
        ("long over short side of the plate", plate_ratio, 1.0, 48.0, ""),
    )
    if reason:
        return not_known(reason)
    h, root = counted_thickness(thickness_in), _root(strength_psf)
    factor = min(1 + 2 / plate_ratio, 2.0)
    strength = _PHI * factor * 4 / 3 * root * perimeter_in * h
    lines = (
        *_depth_lines(strength_psf, thickness_in),
        inches("bo", "perimeter of the critical section", perimeter_in),
        Line("k", "shape of the plate", "min(1 + 2 / beta, 2)",
             f"min(1 + 2 / {number(plate_ratio)}, 2)", number(factor), _TWO_WAY_SOURCE),
        Line("phi Vn", "two-way shear strength", "phi k (4/3) lambda sqrt(f'c) bo h",
             f"{_PHI:g} x {number(factor)} x 4/3 x 1 x {number(root)} x {number(perimeter_in)} x "
             f"{number(h)}", f"{number(strength)} lb", _TWO_WAY_SOURCE),
    )  # fmt: skip
    return Result(strength, working=_working("Two-way shear strength", lines))


class Plate(NamedTuple):
    """A bracket plate under the edge of a footing.

    Args:
        width_in: w, along the wall, in, 2 to 48.
        depth_in: d, under the footing, from its face in, in, 1 to 48.
        footing_width_in: b, of the footing where the plate is, without what is cut away, in,
            4 to 120. A deeper plate counts only as far as the footing reaches.
        end_distance_in: e, from the middle of the plate along the wall to the nearer end of the
            footing, in, 0 to 6,000; nearer than half the plate counts as half the plate.
    """

    width_in: float
    depth_in: float
    footing_width_in: float
    end_distance_in: float


def punching_use(
    factored_load_lb: float, strength_psf: float, thickness_in: float, plate: Plate
) -> Result:
    """Two-way shear of the footing round a bracket plate at its face, as a share of its strength.

    use = 100 Pu / (phi Vn). The section that breaks lies h / 2 from the plate, on three sides or,
    near the end of the footing, on two; the shortest counts: bo = min(2 r + w + h, 2 b,
    min(r, b) + e + (w + h) / 2) with r = d + h / 2. A break straight across the footing on one
    side of the plate is one-way shear, see :func:`shear_use_for`.

    Args:
        factored_load_lb: Pu, factored load on the pier, all of it, lb, 0 to 100,000,000.
        strength_psf: f'c, psf, 72,000 to 1,728,000 (500 to 12,000 psi).
        thickness_in: T, of the footing as found, in, above 2 and at most 72.
        plate: the bracket plate.

    Returns:
        Percent. Neither the load that the wall puts down inside the section nor a moment from an
        off-centre load is counted.

    Not known when:
        A figure is out of its range.

    Source:
        Strength as in :func:`two_way_strength`; section at h / 2, ACI 318-19 14.4.3.2, and
        fewer sides at an edge, 22.6.4, from memory.

    >>> plate = Plate(10.0, 8.0, 16.0, 120.0)
    >>> round(punching_use(10240.0, 2500 * 144, 10.0, plate).value)
    50
    """
    reason = outside(
        ("factored load on the pier", factored_load_lb, 0.0, GREATEST_LOAD_LB, "lb"),
        ("bracket plate width", plate.width_in, 2.0, 48.0, "in"),
        ("bracket plate depth", plate.depth_in, 1.0, 48.0, "in"),
        ("footing width", plate.footing_width_in, 4.0, 120.0, "in"),
        ("distance to the end of the footing", plate.end_distance_in, 0.0, 6000.0, "in"),
    )
    if reason:
        return not_known(reason)
    width, depth = plate.width_in, min(plate.depth_in, plate.footing_width_in)
    perimeter, line = _perimeter(plate, counted_thickness(thickness_in))
    ratio = max(width, depth) / min(width, depth)
    strength = two_way_strength(strength_psf, thickness_in, perimeter, ratio)
    if strength.reason:
        return not_known(strength.reason)
    lines = (
        given("Pu", "factored load on the pier", factored_load_lb, Kind.FORCE),
        noted("w, d", "bracket plate, along the wall and under the footing",
              f"{number(width)} in, {number(depth)} in"),
        inches("b", "footing width that counts", plate.footing_width_in),
        inches("e", "middle of the plate to the end of the footing", plate.end_distance_in),
        line,
        Line("beta", "long over short side of the plate", "", "", number(ratio)),
    )  # fmt: skip
    title = "Punching of the bracket plate"
    return _use(title, "Pu", "phi Vn", factored_load_lb, strength, lines=lines)


def _perimeter(plate: Plate, h: float) -> tuple[float, Line]:
    """Shortest section on which the plate can break out, with the line that tells it."""
    width, footing = plate.width_in, plate.footing_width_in
    depth = min(plate.depth_in, footing)
    reach = depth + h / 2
    end = max(plate.end_distance_in, width / 2)
    w, d, b, thick, e = (number(figure) for figure in (width, depth, footing, h, end))
    ways = (
        (2 * reach + width + h, "2 (d + h / 2) + w + h",
         f"2 x ({d} + {thick} / 2) + {w} + {thick}"),
        (2 * footing, "2 b", f"2 x {b}"),
        (min(reach, footing) + end + (width + h) / 2, "min(d + h / 2, b) + e + (w + h) / 2",
         f"min({d} + {thick} / 2, {b}) + {e} + ({w} + {thick}) / 2"),
    )  # fmt: skip
    shortest, formula, numbers = min(ways, key=lambda way: way[0])
    return shortest, Line(
        "bo", "shortest section round the plate, at the end or across the footing",
        formula, numbers, f"{number(shortest)} in", "ACI 318-19 22.6.4, from memory",
    )  # fmt: skip


def _use(
    title: str,
    demand: str,
    capacity: str,
    load: float,
    strength: Result,
    *,
    lines: tuple[Line, ...],
) -> Result:
    assert isinstance(strength.value, float)
    assert strength.working is not None
    share = 100 * load / strength.value
    last = Line(
        "use", "share of the strength", f"100 {demand} / ({capacity})",
        f"100 x {number(load)} / {number(strength.value)}", f"{number(share)} %",
    )  # fmt: skip
    return Result(share, working=_working(title, (*lines, *strength.working.lines, last)))


def _working(title: str, lines: tuple[Line, ...]) -> Working:
    return Working(title, "ACI 318-19 ch. 14, in part from memory", _VALID, lines)


def _root(strength_psf: float) -> float:
    """Square root of f'c in psi, at most 100 psi (ACI 318-19 22.5.3.1, from memory)."""
    return min(math.sqrt(strength_psf / _PSF_PER_PSI), _HIGHEST_ROOT_PSI)


def _strength_limit(strength_psf: float) -> tuple[str, float, float, float, str]:
    return ("concrete strength", strength_psf / _PSF_PER_PSI, 500.0, 12000.0, "psi")


def _span_out_of_range(span: Span) -> str:
    reason = outside(
        ("factored line load", span.factored_plf, 0.0, 1e6, "plf"),
        (
            "opening at footing", span.opening_in, SHORTEST_OPENING_IN, LONGEST_OPENING_IN, "in",
        ),
        ("footing width", span.width_in, 4.0, 120.0, "in"),
        ("footing projection", span.projection_in, 0.0, 60.0, "in"),
    )  # fmt: skip
    if not reason and net_width(span) < _LENGTH_STEP_IN:
        return (
            f"the footing is {span.width_in:g} in wide and stands out {span.projection_in:g} in: "
            "nothing of it is left where it is cut back for the bracket; measure both again"
        )
    return reason


def _out_of_range(strength_psf: float, width_in: float, thickness_in: float) -> str:
    return _thickness_out_of_range(thickness_in) or outside(
        _strength_limit(strength_psf),
        ("width that counts", width_in, _LENGTH_STEP_IN, 120.0, "in"),
    )


def _thickness_out_of_range(thickness_in: float) -> str:
    if thickness_in < _SOIL_ALLOWANCE_IN + _LENGTH_STEP_IN:
        return (
            f"footing thickness is {thickness_in:g} in; ACI 318-19 14.5.1.7 takes off 2 in cast "
            "against soil, so the method holds above 2 in up to 72 in"
        )
    return outside(("footing thickness", thickness_in, _SOIL_ALLOWANCE_IN, 72.0, "in"))


def counted_thickness(thickness_in: float) -> float:
    """Thickness that counts: 2 in less, because the concrete was cast against soil."""
    return thickness_in - _SOIL_ALLOWANCE_IN


def _strength_line(strength_psf: float) -> Line:
    low = strength_psf / _PSF_PER_PSI < _LEAST_STRENGTH_PSI
    source = "below the 2,500 psi of Table 19.2.1.1, from memory" if low else ""
    return given("f'c", "concrete strength", strength_psf, Kind.PRESSURE, "psi", source=source)


@lru_cache(maxsize=1024)
def _section_lines(strength_psf: float, width_in: float, thickness_in: float) -> tuple[Line, ...]:
    strength, *depth = _depth_lines(strength_psf, thickness_in)
    return strength, inches("b", "width that counts", width_in), *depth


@lru_cache(maxsize=1024)
def _depth_lines(strength_psf: float, thickness_in: float) -> tuple[Line, ...]:
    thin = thickness_in < _LEAST_THICKNESS_IN
    source = "below the 8 in of ACI 318-19 14.3.2.1, from memory" if thin else ""
    return (
        _strength_line(strength_psf),
        given("T", "footing thickness", thickness_in, Kind.LENGTH, source=source),
        Line("h", "thickness that counts", "T - 2", f"{number(thickness_in)} - 2",
             f"{number(counted_thickness(thickness_in))} in", _SOIL_SOURCE),
        Line("sqrt(f'c)", "root of the strength", "at most 100", "",
             f"{number(_root(strength_psf))} psi", "ACI 318-19 22.5.3.1, from memory"),
        noted("phi", "strength reduction", f"{_PHI:g}", _PHI_SOURCE),
    )  # fmt: skip
