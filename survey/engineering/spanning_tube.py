"""A square or rectangular steel tube that spans between two brackets under a wall: AISC 360-16.

The tube is a simple span, bent about its horizontal axis. Its thickness counts as 0.93 of the
nominal one, as for tubes to ASTM A500 (B4.2), whatever it was made to. Its corners have an outside
radius of twice that, as in the AISC Manual, for area and moduli, and the flat width between them is
three times less than the outside one. Bearing of the wall on the tube, the tube's sides at the
brackets (J10), welds and the brackets themselves are not covered.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

from survey.engineering._steps import given, inches, kept, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.vocabulary import Kind

_MODULUS_PSI = 29e6
_PHI = 0.90  # F1(1), G1
_PSF_PER_PSI = 144.0
_STEEL_PCI = 490.0 / 1728.0  # lb an in3, AISC Manual Part 17
_OWN_FACTOR = 1.4  # the largest that ASCE 7 2.3.1 puts on dead load
_SOURCE = "AISC 360-16 ch. F and G, from memory"
_VALID = (
    "compact tube, simple span, level, loaded in its upright plane; not its sides at the brackets "
    "(J10), welds or brackets"
)


class Tube(NamedTuple):
    """A square or rectangular steel tube.

    Args:
        width_in: B, outside, level, in, 2 to 16.
        depth_in: H, outside, upright, in, 2 to 16.
        wall_in: t, nominal, or the least measured, in, 0.1 to 1 and at most a sixth of the
            lesser of both.
        yield_psf: Fy, psf, 5,184,000 to 7,200,000 (36,000 to 50,000 psi).
    """

    width_in: float
    depth_in: float
    wall_in: float
    yield_psf: float


class Properties(NamedTuple):
    """What a tube's strength rests on, with its design thickness and rounded corners.

    Args:
        thickness_in: t, design thickness, in.
        area_in2: A, in2.
        inertia_in4: I, about the level axis, in4.
        modulus_in3: Z, plastic, about the level axis, in3.
        upright_inertia_in4: Iy, about the upright axis, in4.
        torsion_in4: J, in4.
    """

    thickness_in: float
    area_in2: float
    inertia_in4: float
    modulus_in3: float
    upright_inertia_in4: float
    torsion_in4: float


def properties(tube: Tube) -> Properties:
    """Area and moduli of a tube, figures in range.

    A rounded rectangle of outside radius 2 t less one of radius t; J = 4 Am^2 t / p along the
    middle of the wall.

    Args:
        tube: its figures must be in the ranges there; see :func:`bending_strength`.

    Returns:
        The properties.

    Not known when:
        Never: it is asked of figures that are in range.

    Source:
        Geometry; radii as in the AISC Manual Part 1, from memory.

    >>> round(properties(Tube(4.0, 6.0, 0.25, 46000 * 144)).modulus_in3, 2)
    8.51
    """
    t = 0.93 * tube.wall_in
    b, h = tube.width_in, tube.depth_in
    area, level, plastic, upright = (
        outer - inner
        for outer, inner in zip(
            _rounded(b, h, 2 * t), _rounded(b - 2 * t, h - 2 * t, t), strict=True
        )
    )
    radius = 1.5 * t
    middle = (b - t) * (h - t) - (4 - math.pi) * radius**2
    length = 2 * (b - t + h - t) - (8 - 2 * math.pi) * radius
    return Properties(t, area, level, plastic, upright, 4 * middle**2 * t / length)


def _rounded(b: float, h: float, r: float) -> tuple[float, float, float, float]:
    """A rounded rectangle: area, I and Z about its level axis, I about its upright one."""
    # What is missing in a corner, r by r less a quarter circle: its area, the distance of its
    # middle from the outer edges and its own moment of inertia.
    gone = (1 - math.pi / 4) * r**2
    off = r * (10 - 3 * math.pi) / (3 * (4 - math.pi))
    own = _CORNER * r**4
    return (
        b * h - 4 * gone,
        b * h**3 / 12 - 4 * (own + gone * (h / 2 - off) ** 2),
        b * h**2 / 4 - 4 * gone * (h / 2 - off),
        h * b**3 / 12 - 4 * (own + gone * (b / 2 - off) ** 2),
    )


def _corner() -> float:
    """Moment of inertia about its own middle of what is missing in a corner of radius 1."""
    quarter = math.pi / 4
    middle = 4 / (3 * math.pi)
    about_edge = 1 / 3 - (math.pi / 16 - quarter * middle**2 + quarter * (1 - middle) ** 2)
    off = (10 - 3 * math.pi) / (3 * (4 - math.pi))
    return about_edge - (1 - quarter) * off**2


_CORNER = _corner()


def bending_strength(tube: Tube, span_in: float) -> Result:
    """Design bending strength of a compact tube about its level axis.

    phi Mn = 0.90 Fy Z, for flat widths (B - 3 t) / t of at most 1.12 sqrt(E / Fy) and
    (H - 3 t) / t of at most 2.42 sqrt(E / Fy) and, where H is above B, for a span of at most
    Lp = 0.13 E ry sqrt(J A) / (Fy Z).

    Args:
        tube: the tube; its figures have their ranges there.
        span_in: L, taken to be without any hold sideways, in, 6 to 360.

    Returns:
        Lb-in.

    Not known when:
        A figure is out of its range, the tube is not compact, or it is long enough to turn over
        sideways.

    Source:
        AISC 360-16 F1, F7.1, F7.4, Table B4.1b, B4.2, from memory.

    >>> round(bending_strength(Tube(4.0, 6.0, 0.25, 46000 * 144), 96.0).value)
    352467
    """
    counted = _counted(tube, span_in)
    if counted.reason:
        return not_known(counted.reason)
    working = Working("Bending strength of the tube", _SOURCE, _VALID, counted.bending)
    return Result(counted.moment, working=working)


def shear_strength(tube: Tube, span_in: float) -> Result:
    """Design shear strength of a compact tube.

    phi Vn = 0.90 0.6 Fy 2 h t Cv2, h = H - 3 t; Cv2 = 1, since h / t of a compact tube is below
    1.10 sqrt(5 E / Fy).

    Args:
        tube: the tube; its figures have their ranges there.
        span_in: L, in, 6 to 360.

    Returns:
        Lb.

    Not known when:
        As for :func:`bending_strength`.

    Source:
        AISC 360-16 G1, G4, from memory.

    >>> round(shear_strength(Tube(4.0, 6.0, 0.25, 46000 * 144), 96.0).value)
    61247
    """
    counted = _counted(tube, span_in)
    if counted.reason:
        return not_known(counted.reason)
    working = Working("Shear strength of the tube", _SOURCE, _VALID, counted.shear)
    return Result(counted.force, working=working)


class TubeLoad(NamedTuple):
    """What a tube between brackets carries.

    Args:
        line_load_plf: w, even along the span, plf, 0 to 1,000,000.
        point_load_lb: P, wherever on the span, lb, 0 to 1,000,000.
        span_in: L, middle to middle of the brackets, in, 6 to 360.
    """

    line_load_plf: float
    point_load_lb: float
    span_in: float


@kept
def spanning_tube_use(factored: TubeLoad, tube: Tube) -> Result:
    """Load on a tube between brackets, as a share of its strength.

    use = 100 max(Mu / phi Mn, Vu / phi Vn), Mu = w L^2 / 8 + P L / 4 with the point load in the
    middle, Vu = w L / 2 + P with it beside a bracket; 1.4 times the tube's own weight is in w.

    Args:
        factored: the factored loads; their figures have their ranges there.
        tube: the tube; its figures have their ranges there.

    Returns:
        Percent.

    Not known when:
        As for :func:`bending_strength`, or a load is out of its range.

    Source:
        Statics of a simple span; strengths as in :func:`bending_strength` and
        :func:`shear_strength`; 1.4 is of ASCE 7 2.3.1, from memory.

    >>> tube = Tube(4.0, 6.0, 0.25, 46000 * 144)
    >>> round(spanning_tube_use(TubeLoad(2000.0, 0.0, 96.0), tube).value)
    55
    """
    counted = _counted(tube, factored.span_in)
    reason = counted.reason or _load_out_of_range(factored)
    if reason:
        return not_known(reason)
    span, point = factored.span_in, factored.point_load_lb
    own = _OWN_FACTOR * counted.own_plf
    load = (factored.line_load_plf + own) / 12
    moment, shear = load * span**2 / 8 + point * span / 4, load * span / 2 + point
    bent, sheared = 100 * moment / counted.moment, 100 * shear / counted.force
    share = max(bent, sheared)
    w, p, sp = number(load), number(point), number(span)
    lines = (
        *_load_lines(factored, "factored "),
        Line("wu", "with 1.4 times its own weight, an inch",
             "(w + 1.4 A 490 / 144) / 12",
             f"({number(factored.line_load_plf)} + {number(own)}) / 12", f"{w} lb/in",
             "ASCE 7 2.3.1, from memory"),
        Line("Mu", "bending, point load in the middle", "wu L^2 / 8 + P L / 4",
             f"{w} x {sp}^2 / 8 + {p} x {sp} / 4", f"{number(moment)} lb-in", "statics"),
        Line("Vu", "shear, point load beside a bracket", "wu L / 2 + P",
             f"{w} x {sp} / 2 + {p}", f"{number(shear)} lb", "statics"),
        *counted.bending,
        *counted.shear[-1:],
        Line("", "share of the bending strength", "100 Mu / (phi Mn)",
             f"100 x {number(moment)} / {number(counted.moment)}", f"{number(bent)} %"),
        Line("", "share of the shear strength", "100 Vu / (phi Vn)",
             f"100 x {number(shear)} / {number(counted.force)}", f"{number(sheared)} %"),
        Line("use", "share of the strength", "the larger of both", "", f"{number(share)} %"),
    )  # fmt: skip
    return Result(share, working=Working("Tube between brackets", _SOURCE, _VALID, lines))


def tube_deflection(service: TubeLoad, tube: Tube) -> Result:
    """How far a tube between brackets sags under its service load.

    5 w L^4 / (384 E I) + P L^3 / (48 E I), with the tube's own weight in w.

    Args:
        service: the service loads; their figures have their ranges there.
        tube: the tube; its figures have their ranges there.

    Returns:
        In.

    Not known when:
        As for :func:`spanning_tube_use`.

    Source:
        Statics of a simple span (AISC Manual Table 3-23, from memory).

    >>> round(tube_deflection(TubeLoad(1400.0, 0.0, 96.0), Tube(4.0, 6.0, 0.25, 46000 * 144)).value, 3)
    0.216
    """  # noqa: E501 - the doctest is one call
    counted = _counted(tube, service.span_in)
    reason = counted.reason or _load_out_of_range(service)
    if reason:
        return not_known(reason)
    sag, lines = _sag(service, counted)
    working = Working("Sag of the tube", "statics, simple span", _VALID, lines)
    return Result(sag, working=working)


def deflection_use(service: TubeLoad, tube: Tube, span_over_limit: float) -> Result:
    """Sag of a tube between brackets, as a share of a limit such as L/240 or L/360.

    use = 100 delta / (L / n).

    Args:
        service: the service loads; their figures have their ranges there.
        tube: the tube; its figures have their ranges there.
        span_over_limit: n, 240 or 360 for instance, 100 to 2,000.

    Returns:
        Percent.

    Not known when:
        As for :func:`spanning_tube_use`, or n is out of its range.

    Source:
        As :func:`tube_deflection`. L/240 and L/360 are those of IBC Table 1604.3, from memory.

    >>> load = TubeLoad(1400.0, 0.0, 96.0)
    >>> round(deflection_use(load, Tube(4.0, 6.0, 0.25, 46000 * 144), 360.0).value)
    81
    """
    counted = _counted(tube, service.span_in)
    reason = (
        counted.reason
        or _load_out_of_range(service)
        or outside(("span over the limit of sag", span_over_limit, 100.0, 2000.0, ""))
    )
    if reason:
        return not_known(reason)
    sag, lines = _sag(service, counted)
    share = 100 * sag * span_over_limit / service.span_in
    last = Line(
        "use", f"share of L/{number(span_over_limit)}", "100 delta / (L / n)",
        f"100 x {number(sag, 5)} / ({number(service.span_in)} / {number(span_over_limit)})",
        f"{number(share)} %",
    )  # fmt: skip
    working = Working("Sag of the tube", "statics, simple span", _VALID, (*lines, last))
    return Result(share, working=working)


class _Counted(NamedTuple):
    """What one tube can carry over one span, with its steps; or why that is not known."""

    reason: str
    moment: float = 0.0
    force: float = 0.0
    inertia: float = 0.0
    own_plf: float = 0.0
    bending: tuple[Line, ...] = ()
    shear: tuple[Line, ...] = ()


@lru_cache(maxsize=256)  # one tube is used at all piers of a job
def _counted(tube: Tube, span_in: float) -> _Counted:
    reason = _out_of_range(tube, span_in)
    if reason:
        return _Counted(reason)
    found = properties(tube)
    t, area, inertia, plastic, upright, torsion = found
    psi = tube.yield_psf / _PSF_PER_PSI
    flat, web = (tube.width_in - 3 * t) / t, (tube.depth_in - 3 * t) / t
    root = math.sqrt(_MODULUS_PSI / psi)
    for what, ratio, limit in (("level", flat, 1.12 * root), ("upright", web, 2.42 * root)):
        if ratio > limit:
            return _Counted(
                f"the {what} wall of the tube is {number(ratio)} times as wide as thick and may "
                f"buckle; the method holds up to {number(limit)}"
            )
    held = 0.13 * _MODULUS_PSI * math.sqrt(upright / area) * math.sqrt(torsion * area)
    longest = held / (psi * plastic)
    if tube.depth_in > tube.width_in and span_in > longest:
        return _Counted(
            f"the tube is higher than wide and spans {number(span_in)} in; beyond "
            f"{number(longest)} in it may turn over sideways (AISC 360-16 F7.4)"
        )
    moment = _PHI * psi * plastic
    web_area = 2 * (tube.depth_in - 3 * t) * t
    force = _PHI * 0.6 * psi * web_area
    fy, tn = number(psi), number(t, 5)
    start = (
        noted("B, H", "tube, width and depth",
              f"{number(tube.width_in)} in, {number(tube.depth_in)} in"),
        Line("t", "thickness that counts", "0.93 of the nominal",
             f"0.93 x {number(tube.wall_in)}", f"{tn} in", "AISC 360-16 B4.2, from memory"),
        given("Fy", "yield strength", tube.yield_psf, Kind.PRESSURE, "psi"),
    )  # fmt: skip
    bending = (
        *start,
        Line("", "level wall, flat width to thickness", "(B - 3 t) / t, at most 1.12 sqrt(E / Fy)",
             f"({number(tube.width_in)} - 3 x {tn}) / {tn}",
             f"{number(flat)}, at most {number(1.12 * root)}",
             "AISC 360-16 Table B4.1b, from memory"),
        Line("", "upright wall, flat width to thickness",
             "(H - 3 t) / t, at most 2.42 sqrt(E / Fy)",
             f"({number(tube.depth_in)} - 3 x {tn}) / {tn}",
             f"{number(web)}, at most {number(2.42 * root)}",
             "AISC 360-16 Table B4.1b, from memory"),
        noted("A, I", "area and moment of inertia", f"{number(area)} in2, {number(inertia)} in4",
              "geometry, corners of radius 2 t"),
        noted("Lp", "longest span without turning over, for a tube higher than wide",
              f"{number(longest)} in", "AISC 360-16 F7.4, from memory"),
        noted("Z", "plastic section modulus", f"{number(plastic)} in3",
              "geometry, corners of radius 2 t"),
        Line("phi Mn", "bending strength", "0.90 Fy Z", f"{_PHI:g} x {fy} x {number(plastic)}",
             f"{number(moment)} lb-in", "AISC 360-16 F7.1, from memory"),
    )  # fmt: skip
    shear = (
        *start,
        Line("phi Vn", "shear strength", "0.90 x 0.6 Fy 2 (H - 3 t) t",
             f"{_PHI:g} x 0.6 x {fy} x 2 x ({number(tube.depth_in)} - 3 x {tn}) x {tn}",
             f"{number(force)} lb", "AISC 360-16 G4, from memory"),
    )  # fmt: skip
    own = area * _STEEL_PCI * 12
    return _Counted("", moment, force, inertia, own, bending, shear)


def _sag(service: TubeLoad, counted: _Counted) -> tuple[float, tuple[Line, ...]]:
    span, point = service.span_in, service.point_load_lb
    load = (service.line_load_plf + counted.own_plf) / 12
    stiff = _MODULUS_PSI * counted.inertia
    sag = 5 * load * span**4 / (384 * stiff) + point * span**3 / (48 * stiff)
    w, sp, i = number(load), number(span), number(counted.inertia)
    lines = (
        *_load_lines(service, "service "),
        noted("I", "moment of inertia", f"{i} in4", "geometry, corners of radius 2 t"),
        Line("ws", "with its own weight, an inch", "(w + A 490 / 144) / 12",
             f"({number(service.line_load_plf)} + {number(counted.own_plf)}) / 12", f"{w} lb/in"),
        Line("delta", "sag in the middle", "5 ws L^4 / (384 E I) + P L^3 / (48 E I)",
             f"5 x {w} x {sp}^4 / (384 x 29,000,000 x {i}) + {number(point)} x {sp}^3 / "
             f"(48 x 29,000,000 x {i})", f"{number(sag, 5)} in",
             "AISC Manual Table 3-23, from memory"),
    )  # fmt: skip
    return sag, lines


def _load_lines(load: TubeLoad, kind: str) -> tuple[Line, ...]:
    return (
        given("w", f"{kind}line load", load.line_load_plf, Kind.LINE_LOAD),
        given("P", f"{kind}point load", load.point_load_lb, Kind.FORCE),
        inches("L", "span between the brackets", load.span_in),
    )


def _load_out_of_range(load: TubeLoad) -> str:
    return outside(
        ("line load on the tube", load.line_load_plf, 0.0, 1e6, "plf"),
        ("point load on the tube", load.point_load_lb, 0.0, 1e6, "lb"),
    )


def _out_of_range(tube: Tube, span_in: float) -> str:
    reason = outside(
        ("spanning tube width", tube.width_in, 2.0, 16.0, "in"),
        ("spanning tube depth", tube.depth_in, 2.0, 16.0, "in"),
        ("spanning tube wall", tube.wall_in, 0.1, 1.0, "in"),
        ("yield strength of the tube", tube.yield_psf / _PSF_PER_PSI, 36000.0, 50000.0, "psi"),
        ("span of the tube", span_in, 6.0, 360.0, "in"),
    )
    if reason:
        return reason
    least = min(tube.width_in, tube.depth_in)
    if 6 * tube.wall_in > least:
        return (
            f"a wall of {tube.wall_in:g} in does not go with a tube {least:g} in across; measure "
            "both again"
        )
    return ""
