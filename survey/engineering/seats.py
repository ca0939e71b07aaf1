"""The seat of a bracket: plate, cut at the wall, concrete bed, floor slab, another place for it.

Every figure here is one that a rule compares; whether a seat suits is concluded by the rules.
Widths, drill and spacing of the cut are common practice and may be set by the caller.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from survey.engineering import plain_concrete
from survey.engineering._steps import given, inches, kept, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.vocabulary import Kind

LEAST_CUT_IN = 16.0
HOLE_SPACING_IN = 2.0
HOLES_OFF_WALL_IN = 1.0
_PRACTICE = "common practice"
_PHI = 0.60  # Table 21.2.1, plain concrete
_PHI_SOURCE = "ACI 318-19 Table 21.2.1, from memory"
_BEARING_SOURCE = "ACI 318-19 Table 14.5.6.1, from memory"
_SHEAR_SOURCE = "ACI 318-19 Table 14.5.5.1, 14.5.1.7, from memory"
_PSF_PER_PSI = 144.0
_SOIL_ALLOWANCE_IN = 2.0  # 14.5.1.7
_HIGHEST_ROOT_PSI = 100.0  # 22.5.3.1
_VALID = "uncracked plain concrete of normal weight, f'c 500 to 12,000 psi"
_IN3_PER_FT3 = 1728.0
_JACKING_FACTOR = 1.2
_JACKING_SOURCE = "1.2: ACI 318-19 5.3.13, jacking force, from memory"


@kept
def seat_load(factored_load_lb: float, planned_drive_load_lb: float) -> Result:
    """Load that a bracket and the footing over it are checked for.

    Pu = max(Pf, 1.2 F): the seat carries the load of the pier, and before that what the pier is
    driven with.

    Args:
        factored_load_lb: Pf, factored load on the pier, lb, 0 to 1,000,000.
        planned_drive_load_lb: F, load at which driving ends, lb, 0 to 1,000,000.

    Returns:
        Factored load, lb.

    Not known when:
        A figure is out of its range.

    Source:
        Statics. 1.2 is the factor for a jacking force that is read off a gauge, ACI 318-19 5.3.13
        (written for prestressing), from memory.

    >>> seat_load(9000.0, 16000.0).value
    19200.0
    """
    reason = outside(
        ("factored load", factored_load_lb, 0.0, 1e6, "lb"),
        ("planned drive load", planned_drive_load_lb, 0.0, 1e6, "lb"),
    )
    if reason:
        return not_known(reason)
    load = max(factored_load_lb, _JACKING_FACTOR * planned_drive_load_lb)
    lines = (
        given("Pf", "factored load on the pier", factored_load_lb, Kind.FORCE),
        given("F", "planned drive load", planned_drive_load_lb, Kind.FORCE),
        Line("Pu", "load on the seat", "max(Pf, 1.2 F)",
             f"max({number(factored_load_lb)}, 1.2 x {number(planned_drive_load_lb)})",
             f"{number(load)} lb", _JACKING_SOURCE),
    )  # fmt: skip
    valid = "drive load read off a gauge while driving"
    return Result(load, working=Working("Load on the seat", "statics", valid, lines))


@kept
def bearing_area_needed(factored_load_lb: float, strength_psf: float) -> Result:
    """Area of bracket plate that the footing concrete needs.

    A1 = Pu / (phi 0.85 f'c), with sqrt(A2 / A1) taken as 1.

    Args:
        factored_load_lb: Pu, factored load on the pier, lb, 0 to 100,000,000.
        strength_psf: f'c, psf, 72,000 to 1,728,000 (500 to 12,000 psi).

    Returns:
        In2.

    Not known when:
        A figure is out of its range.

    Source:
        ACI 318-19 Table 14.5.6.1, Table 21.2.1 (phi 0.60), from memory.

    >>> bearing_area_needed(102000.0, 2500 * 144).value
    80.0
    """
    reason = outside(_load_limit(factored_load_lb), _strength_limit(strength_psf))
    if reason:
        return not_known(reason)
    psi = strength_psf / _PSF_PER_PSI
    # Rounded to a millionth, so that a round area prints and compares as one.
    area = round(factored_load_lb / (_PHI * 0.85 * psi), 6)
    lines = (
        given("Pu", "factored load on the pier", factored_load_lb, Kind.FORCE),
        given("f'c", "concrete strength", strength_psf, Kind.PRESSURE, "psi"),
        noted("phi", "strength reduction", f"{_PHI:g}", _PHI_SOURCE),
        Line("A1", "area needed", "Pu / (phi 0.85 f'c)",
             f"{number(factored_load_lb)} / ({_PHI:g} x 0.85 x {number(psi)})",
             f"{number(area)} in2", _BEARING_SOURCE),
    )  # fmt: skip
    return Result(area, working=Working("Bearing area needed", _BEARING_SOURCE, _VALID, lines))


class SeatPlate(NamedTuple):
    """A bracket plate under a footing and the wall that it reaches out from.

    Args:
        width_in: w, along the wall, in, 2 to 48.
        depth_in: d, under the footing, from its face in, in, 1 to 48.
        overhang_in: e, from the plate's outer edge to the section where the wall holds the
            footing, in, 0 to 80, see :func:`plate_overhang`.
        footing_width_in: b, of the footing at the plate, without what is cut away, in, 4 to 120.
            A deeper plate counts only as far as the footing reaches.
    """

    width_in: float
    depth_in: float
    overhang_in: float
    footing_width_in: float


_MASONRY = ("concrete block", "brick", "dry-laid stone", "rubble")
_WALLS = ("poured concrete", "wood", *_MASONRY)


@kept
def plate_overhang(
    projection_left_in: float, wall_material: str, wall_thickness_in: float
) -> Result:
    """How far a bracket plate at the footing's face reaches out from where the wall holds it.

    e = a for a wall of concrete or wood, e = a + t / 4 for masonry: the moment is taken half way
    from the face of the wall to its middle.

    Args:
        projection_left_in: a, what is left of the projection after the cut, in, 0 to 60; 0 where
            the footing is cut flush with the wall.
        wall_material: of the foundation wall.
        wall_thickness_in: t, in, 2 to 60.

    Returns:
        In.

    Not known when:
        A figure is out of its range, or the wall is of something else.

    Source:
        ACI 318-19 14.4.3.2 (critical sections); the section was seen in a text to an earlier
        edition.

    >>> plate_overhang(6.0, "brick", 12.0).value
    9.0
    """
    reason = outside(
        ("projection left", projection_left_in, 0.0, 60.0, "in"),
        ("wall thickness", wall_thickness_in, 2.0, 60.0, "in"),
    )
    if not reason and wall_material not in _WALLS:
        reason = f"nothing is known of walls of '{wall_material}'"
    if reason:
        return not_known(reason)
    masonry = wall_material in _MASONRY
    overhang = projection_left_in + (wall_thickness_in / 4 if masonry else 0.0)
    a, t = number(projection_left_in), number(wall_thickness_in)
    lines = (
        noted("", "wall material", wall_material),
        inches("a", "projection left", projection_left_in),
        inches("t", "wall thickness", wall_thickness_in),
        Line("e", "reach of the plate from the critical section", "a + t / 4" if masonry else "a",
             f"{a} + {t} / 4" if masonry else a, f"{number(overhang)} in",
             "ACI 318-19 14.4.3.2, clause from memory"),
    )  # fmt: skip
    source = "ACI 318-19 14.4.3.2, clause from memory"
    return Result(overhang, working=Working("Reach of the bracket plate", source, _VALID, lines))


@kept
def thickness_needed(factored_load_lb: float, strength_psf: float, plate: SeatPlate) -> Result:
    """Least thickness of a plain concrete footing that carries a bracket plate at its face.

    T = 2 in + the largest of three depths, each solved for h in closed form; q = Pu / (w d):

    - bending at the wall, q (e^2 - g^2) / 2 = phi 5 sqrt(f'c) h^2 / 6 for an inch of width, with
      g = max(e - d, 0);
    - one-way shear at h from the wall, q min(d, e - h) = phi (4/3) sqrt(f'c) h;
    - punching of the plate at the edge, Pu = phi k (4/3) sqrt(f'c) bo h, bo = min(2 d + w + 2 h,
      2 b), k = min(1 + 2 / beta, 2).

    Args:
        factored_load_lb: Pu, factored load on the pier, lb, 0 to 1,000,000.
        strength_psf: f'c, psf, 72,000 to 1,728,000 (500 to 12,000 psi); its root counts at most
            as 100 psi.
        plate: the plate and the footing over it; its figures have their ranges there.

    Returns:
        In, as found; never under 2 in. The code's least for plain footings, 8 in (14.3.2.1, from
        memory), is the rules' matter.

    Not known when:
        A figure is out of its range.

    Source:
        ACI 318-19 14.5.2.1a, Table 14.5.5.1, 14.5.1.7, 14.4.3.2, Table 21.2.1, in part from
        memory. Only the width of the plate is counted in bending, without any spread.

    >>> plate = SeatPlate(10.0, 8.0, 6.0, 20.0)
    >>> round(thickness_needed(20000.0, 2500 * 144, plate).value, 3)
    15.416
    """
    width, overhang, footing = plate.width_in, plate.overhang_in, plate.footing_width_in
    reason = outside(
        ("factored load on the pier", factored_load_lb, 0.0, 1e6, "lb"),
        _strength_limit(strength_psf),
        ("bracket plate width", width, 2.0, 48.0, "in"),
        ("bracket plate depth", plate.depth_in, 1.0, 48.0, "in"),
        ("reach of the plate", overhang, 0.0, 80.0, "in"),
        ("footing width", footing, 4.0, 120.0, "in"),
    )
    if reason:
        return not_known(reason)
    depth = min(plate.depth_in, footing)
    root = min(math.sqrt(strength_psf / _PSF_PER_PSI), _HIGHEST_ROOT_PSI)
    pressure = factored_load_lb / (width * depth)
    inner = max(overhang - depth, 0.0)
    moment = pressure * (overhang**2 - inner**2) / 2
    bending = math.sqrt(6 * moment / (_PHI * 5 * root))
    stress = _PHI * 4 / 3 * root
    # h where the whole plate lies beyond the section at h, else where only part of it does.
    shear = pressure * depth / stress
    if shear > inner:
        shear = pressure * overhang / (pressure + stress)
    factor = min(1 + 2 * min(width, depth) / max(width, depth), 2.0)
    force = factored_load_lb / (factor * stress)
    sides = 2 * depth + width
    punching = max((math.sqrt(sides**2 + 8 * force) - sides) / 4, force / (2 * footing))
    needed = _SOIL_ALLOWANCE_IN + max(bending, shear, punching)
    qn, en, dn, gn, rn = (number(x) for x in (pressure, overhang, depth, inner, root))
    lines = (
        given("Pu", "factored load on the pier", factored_load_lb, Kind.FORCE),
        given("f'c", "concrete strength", strength_psf, Kind.PRESSURE, "psi"),
        noted("w, d", "plate, along the wall and under the footing",
              f"{number(width)} in, {dn} in"),
        inches("e", "reach of the plate from the wall", overhang),
        inches("b", "footing width at the plate", footing),
        noted("phi", "strength reduction", f"{_PHI:g}", _PHI_SOURCE),
        Line("q", "pressure on the plate", "Pu / (w d)",
             f"{number(factored_load_lb)} / ({number(width)} x {dn})", f"{qn} psi"),
        Line("g", "inner edge of the plate from the wall", "max(e - d, 0)",
             f"max({en} - {dn}, 0)", f"{gn} in"),
        Line("m", "moment at the wall for an inch of width", "q (e^2 - g^2) / 2",
             f"{qn} x ({en}^2 - {gn}^2) / 2", f"{number(moment)} lb-in", "statics, cantilever"),
        Line("hm", "depth for bending", "sqrt(6 m / (phi 5 sqrt(f'c)))",
             f"sqrt(6 x {number(moment)} / ({_PHI:g} x 5 x {rn}))", f"{number(bending)} in",
             "ACI 318-19 14.5.2.1a, clause from memory"),
        Line("hv", "depth for shear at h from the wall",
             "q d / (phi (4/3) sqrt(f'c)) if at most g, else q e / (q + phi (4/3) sqrt(f'c))", "",
             f"{number(shear)} in", _SHEAR_SOURCE),
        Line("hp", "depth for punching of the plate",
             "Pu = phi k (4/3) sqrt(f'c) min(2 d + w + 2 h, 2 b) h, solved for h",
             "", f"{number(punching)} in", _SHEAR_SOURCE),
        Line("T", "least thickness", "2 + max(hm, hv, hp)",
             f"2 + max({number(bending)}, {number(shear)}, {number(punching)})",
             f"{number(needed)} in", "ACI 318-19 14.5.1.7, clause from memory"),
    )  # fmt: skip
    source = "ACI 318-19 ch. 14, in part from memory"
    working = Working("Footing thickness that the seat needs", source, _VALID, lines)
    return Result(needed, working=working)


@kept
def cut_width(plate_width_in: float, least_cut_in: float = LEAST_CUT_IN) -> Result:
    """Width of the cut in the footing at the wall, for a bracket under it.

    c = max(w, cmin).

    Args:
        plate_width_in: w, of the bracket plate along the wall, in, 2 to 48.
        least_cut_in: cmin, the firm's least, in, 2 to 96; common practice is 16 in.

    Returns:
        In, at the wall; outwards the cut narrows to the plate.

    Not known when:
        A figure is out of its range.

    Source:
        Common practice.

    >>> cut_width(10.0).value
    16.0
    """
    reason = outside(
        ("bracket plate width", plate_width_in, 2.0, 48.0, "in"),
        ("least width of the cut", least_cut_in, 2.0, 96.0, "in"),
    )
    if reason:
        return not_known(reason)
    width = float(max(plate_width_in, least_cut_in))
    lines = (
        inches("w", "bracket plate width", plate_width_in),
        noted("cmin", "least width at the wall", f"{number(least_cut_in)} in", _PRACTICE),
        Line("c", "width of the cut at the wall", "max(w, cmin)",
             f"max({number(plate_width_in)}, {number(least_cut_in)})", f"{number(width)} in",
             _PRACTICE),
    )  # fmt: skip
    return Result(width, working=Working("Cut at the wall", _PRACTICE, "footing cut back", lines))


class Cut(NamedTuple):
    """The cut in a footing's projection: a trapezoid in plan that widens to the wall.

    Args:
        at_wall_in: c, its width at the wall, in, 2 to 96, see :func:`cut_width`.
        at_face_in: f, its width at the footing's face, in, 1 to 96 and at most c.
        projection_in: a, how far the footing stands out, in, 0 to 60.
    """

    at_wall_in: float
    at_face_in: float
    projection_in: float


@kept
def holes_to_drill(
    cut: Cut, spacing_in: float = HOLE_SPACING_IN, off_wall_in: float = HOLES_OFF_WALL_IN
) -> Result:
    """Holes to drill round the cut, so that it breaks out where it is meant to.

    n = ceil((c + 2 s) / p) + 1 along the row beside the wall and both sides, with
    s = sqrt((a - o)^2 + ((c - f) / 2)^2); none where nothing stands out.

    Args:
        cut: the cut; its figures have their ranges there.
        spacing_in: p, of the holes, middle to middle, in, 0.75 to 12; common practice is 2 in,
            with holes of 3/4 in.
        off_wall_in: o, of the row from the wall, in, 0 to 6; common practice is about 1 in.

    Returns:
        A count.

    Not known when:
        A figure is out of its range, the cut is wider at the face than at the wall, or the
        projection is no more than the row stands off the wall.

    Source:
        Common practice; plane geometry.

    >>> holes_to_drill(Cut(16.0, 10.0, 6.0)).value
    15.0
    """
    reason = _cut_out_of_range(cut) or outside(
        ("spacing of the holes", spacing_in, 0.75, 12.0, "in"),
        ("holes off the wall", off_wall_in, 0.0, 6.0, "in"),
    )
    if reason:
        return not_known(reason)
    wide, face, out = cut
    start = _cut_lines(cut)
    if out == 0:
        last = Line("n", "holes to drill", "0 where nothing stands out", "", "0", _PRACTICE)
        return Result(0.0, working=Working("Holes to drill", _PRACTICE, "", (*start, last)))
    if out <= off_wall_in:
        return not_known(
            f"the footing stands out {number(out)} in and the holes are drilled "
            f"{number(off_wall_in)} in off the wall: there is no room for them"
        )
    side = math.hypot(out - off_wall_in, (wide - face) / 2)
    length = wide + 2 * side
    # A thousandth of a step is no hole.
    count = float(math.ceil(length / spacing_in - 0.001) + 1)
    c, f, a, o, p = (number(x) for x in (wide, face, out, off_wall_in, spacing_in))
    lines = (
        *start,
        noted("p, o", "holes of 3/4 in, spacing and distance off the wall", f"{p} in, {o} in",
              _PRACTICE),
        Line("s", "length of a side", "sqrt((a - o)^2 + ((c - f) / 2)^2)",
             f"sqrt(({a} - {o})^2 + (({c} - {f}) / 2)^2)", f"{number(side)} in"),
        Line("n", "holes to drill", "ceil((c + 2 s) / p) + 1",
             f"ceil(({c} + 2 x {number(side)}) / {p}) + 1", number(count), _PRACTICE),
    )  # fmt: skip
    valid = "row along the wall and both sides of the cut"
    return Result(count, working=Working("Holes to drill", _PRACTICE, valid, lines))


def section_lost(cut: Cut, footing_width_in: float) -> Result:
    """Share of the footing's cross-section that the cut takes away.

    100 a / B, the whole projection.

    Args:
        cut: the cut; its figures have their ranges there.
        footing_width_in: B, whole width of the footing, in, 4 to 120.

    Returns:
        Percent.

    Not known when:
        A figure is out of its range, or the projection is not less than the width.

    Source:
        Geometry; that the projection is cut back flush with the wall is common practice.

    >>> section_lost(Cut(16.0, 10.0, 6.0), 20.0).value
    30.0
    """
    reason = _cut_out_of_range(cut) or outside(
        ("footing width", footing_width_in, 4.0, 120.0, "in")
    )
    if not reason and cut.projection_in >= footing_width_in:
        reason = (
            f"the footing is {footing_width_in:g} in wide and stands out {cut.projection_in:g} in: "
            "measure both again"
        )
    if reason:
        return not_known(reason)
    share = 100 * cut.projection_in / footing_width_in
    lines = (
        inches("a", "footing projection, cut back flush with the wall", cut.projection_in),
        inches("B", "footing width", footing_width_in),
        Line("", "share of the cross-section lost", "100 a / B",
             f"100 x {number(cut.projection_in)} / {number(footing_width_in)}",
             f"{number(share)} %", _PRACTICE),
    )  # fmt: skip
    working = Working("Section lost by the cut", "geometry", "rectangular footing", lines)
    return Result(share, working=working)


def cut_volume(cut: Cut, footing_thickness_in: float) -> Result:
    """Concrete that is broken out at one bracket.

    V = (c + f) / 2 a T / 1,728.

    Args:
        cut: the cut; its figures have their ranges there.
        footing_thickness_in: T, in, 1 to 72.

    Returns:
        Ft3, solid.

    Not known when:
        A figure is out of its range, or the cut is wider at the face than at the wall.

    Source:
        Geometry.

    >>> round(cut_volume(Cut(16.0, 10.0, 6.0), 10.0).value, 4)
    0.4514
    """
    reason = _cut_out_of_range(cut) or outside(
        ("footing thickness", footing_thickness_in, 1.0, 72.0, "in")
    )
    if reason:
        return not_known(reason)
    wide, face, out = cut
    volume = (wide + face) / 2 * out * footing_thickness_in / _IN3_PER_FT3
    c, f, a, t = (number(x) for x in (wide, face, out, footing_thickness_in))
    lines = (
        *_cut_lines(cut),
        inches("T", "footing thickness", footing_thickness_in),
        Line("V", "concrete broken out", "(c + f) / 2 a T / 1,728",
             f"({c} + {f}) / 2 x {a} x {t} / 1,728", f"{number(volume)} ft3"),
    )  # fmt: skip
    return Result(volume, working=Working("Volume of the cut", "geometry", "", lines))


class Bed(NamedTuple):
    """A bed of quick-setting concrete between a bracket plate and the footing.

    Args:
        width_in: of the bed on the plate, along the wall, in, 2 to 48.
        depth_in: of the bed on the plate, under the footing, in, 1 to 48.
        highest_gap_in: widest gap between plate and underside, plate held level, in, 0 to 24.
        lowest_gap_in: narrowest gap, in, 0 to 24 and at most the widest.
    """

    width_in: float
    depth_in: float
    highest_gap_in: float
    lowest_gap_in: float


def bed_strength_needed(factored_load_lb: float, bed: Bed) -> Result:
    """Strength that a concrete bed must have reached before it is loaded.

    f'c = Pu / (phi 0.85 A1), over the area of the bed.

    Args:
        factored_load_lb: Pu, the larger of the factored load on the pier and the load of driving
            times its factor, lb, 0 to 100,000,000.
        bed: the bed; its figures have their ranges there.

    Returns:
        Psf; the maker's data tell after how many days the mix has it.

    Not known when:
        A figure is out of its range, or the narrowest gap is wider than the widest.

    Source:
        ACI 318-19 Table 14.5.6.1, Table 21.2.1 (phi 0.60), from memory.

    >>> round(bed_strength_needed(102000.0, Bed(10.0, 8.0, 2.0, 1.0)).value / 144)
    2500
    """
    reason = _bed_out_of_range(bed) or outside(_load_limit(factored_load_lb))
    if reason:
        return not_known(reason)
    area = bed.width_in * bed.depth_in
    psi = factored_load_lb / (_PHI * 0.85 * area)
    lines = (
        given("Pu", "factored load on the bed", factored_load_lb, Kind.FORCE),
        Line("A1", "area of the bed", "width x depth",
             f"{number(bed.width_in)} x {number(bed.depth_in)}", f"{number(area)} in2"),
        noted("phi", "strength reduction", f"{_PHI:g}", _PHI_SOURCE),
        Line("f'c", "strength needed at the load", "Pu / (phi 0.85 A1)",
             f"{number(factored_load_lb)} / ({_PHI:g} x 0.85 x {number(area)})",
             f"{number(psi)} psi", _BEARING_SOURCE),
        Line("", "strength needed at the load", "144 f'c", f"144 x {number(psi)}",
             f"{number(psi * _PSF_PER_PSI)} psf"),
    )  # fmt: skip
    title = "Strength that the bed needs"
    valid = "bed over the whole plate, held level until it is loaded"
    working = Working(title, _BEARING_SOURCE, valid, lines)
    return Result(psi * _PSF_PER_PSI, working=working)


def bed_strength_use(factored_load_lb: float, bed: Bed, bed_strength_psf: float) -> Result:
    """Load on a concrete bed, as a share of its strength on the day that it is loaded.

    use = 100 Pu / (phi 0.85 f'c A1).

    Args:
        factored_load_lb: Pu, as for :func:`bed_strength_needed`, lb, 0 to 100,000,000.
        bed: the bed; its figures have their ranges there.
        bed_strength_psf: f'c, of the bed on that day by its maker's data, psf, 72,000 to
            1,728,000 (500 to 12,000 psi).

    Returns:
        Percent.

    Not known when:
        A figure is out of its range.

    Source:
        ACI 318-19 Table 14.5.6.1, Table 21.2.1 (phi 0.60), from memory.

    >>> round(bed_strength_use(51000.0, Bed(10.0, 8.0, 2.0, 1.0), 2500 * 144).value)
    50
    """
    reason = _bed_out_of_range(bed) or outside(_load_limit(factored_load_lb))
    strength = plain_concrete.bearing_strength(bed_strength_psf, bed.width_in, bed.depth_in)
    if reason or not isinstance(strength.value, float):
        return not_known(reason or strength.reason)
    assert strength.working is not None
    share = 100 * factored_load_lb / strength.value
    lines = (
        given("Pu", "factored load on the bed", factored_load_lb, Kind.FORCE),
        *strength.working.lines,
        Line("use", "share of the strength", "100 Pu / (phi Bn)",
             f"100 x {number(factored_load_lb)} / {number(strength.value)}",
             f"{number(share)} %"),
    )  # fmt: skip
    return Result(share, working=Working("Load on the bed", _BEARING_SOURCE, _VALID, lines))


def bed_thickness(bed: Bed) -> Result:
    """Thickness of a concrete bed where it is thickest.

    The widest gap between plate and underside.

    Args:
        bed: the bed; its figures have their ranges there.

    Returns:
        In. What the maker of the mix allows is the rules' matter.

    Not known when:
        A figure is out of its range, or the narrowest gap is wider than the widest.

    Source:
        As measured.

    >>> bed_thickness(Bed(10.0, 8.0, 2.0, 1.0)).value
    2.0
    """
    reason = _bed_out_of_range(bed)
    if reason:
        return not_known(reason)
    lines = (
        inches("", "narrowest gap", bed.lowest_gap_in),
        Line("", "thickest place of the bed", "widest gap", number(bed.highest_gap_in),
             f"{number(bed.highest_gap_in)} in"),
    )  # fmt: skip
    working = Working("Thickness of the bed", "as measured", "plate held level", lines)
    return Result(float(bed.highest_gap_in), working=working)


def bed_volume(bed: Bed) -> Result:
    """Concrete that the bed of one bracket takes.

    V = w d (g1 + g2) / 2 / 1,728, without waste.

    Args:
        bed: the bed; its figures have their ranges there.

    Returns:
        Ft3.

    Not known when:
        A figure is out of its range, or the narrowest gap is wider than the widest.

    Source:
        Geometry.

    >>> round(bed_volume(Bed(10.0, 8.0, 2.0, 1.0)).value, 4)
    0.0694
    """
    reason = _bed_out_of_range(bed)
    if reason:
        return not_known(reason)
    wide, deep, high, low = bed
    volume = wide * deep * (high + low) / 2 / _IN3_PER_FT3
    w, d, g1, g2 = (number(x) for x in bed)
    lines = (
        noted("w, d", "bed, along the wall and under the footing", f"{w} in, {d} in"),
        noted("g1, g2", "widest and narrowest gap", f"{g1} in, {g2} in"),
        Line("V", "volume of the bed", "w d (g1 + g2) / 2 / 1,728",
             f"{w} x {d} x ({g1} + {g2}) / 2 / 1,728", f"{number(volume)} ft3"),
    )  # fmt: skip
    return Result(volume, working=Working("Volume of the bed", "geometry", "gap tapers", lines))


def cure_days_left(days_needed: float, days_cured: float) -> Result:
    """Days that a concrete bed must still harden before it is loaded.

    max(n - d, 0).

    Args:
        days_needed: n, by the maker's data for the mix, the strength and the cold, days, 0.1 to
            56.
        days_cured: d, since it was placed, days, 0 to 10,000.

    Returns:
        Days.

    Not known when:
        A figure is out of its range.

    Source:
        Arithmetic; the days are the maker's.

    >>> cure_days_left(3.0, 1.0).value
    2.0
    """
    reason = outside(
        ("days to cure", days_needed, 0.1, 56.0, "days"),
        ("days cured", days_cured, 0.0, 10000.0, "days"),
    )
    if reason:
        return not_known(reason)
    left = max(days_needed - days_cured, 0.0)
    n, d = number(days_needed), number(days_cured)
    lines = (
        noted("n", "days to cure, by the maker's data", f"{n} days"),
        noted("d", "days since the bed was placed", f"{d} days"),
        Line("", "days left", "max(n - d, 0)", f"max({n} - {d}, 0)", f"{number(left)} days"),
    )
    working = Working("Hardening of the bed", "arithmetic", "no frost in the bed", lines)
    return Result(left, working=working)


class SlabPlate(NamedTuple):
    """A bracket plate under a floor slab, away from its edges.

    Args:
        width_in: in, 2 to 48.
        depth_in: the other way, in, 2 to 48.
        edge_distance_in: from the plate to the nearest edge, joint or opening of the slab, in, 0
            to 6,000.
    """

    width_in: float
    depth_in: float
    edge_distance_in: float


def slab_punching_use(
    factored_load_lb: float, strength_psf: float, slab_thickness_in: float, plate: SlabPlate
) -> Result:
    """Two-way shear of a plain floor slab round a bracket plate, as a share of its strength.

    use = 100 Pu / (phi Vn), bo = 2 (w + d + 2 h), h 2 in less than the thickness.

    Args:
        factored_load_lb: Pu, factored load on the pier, lb, 0 to 100,000,000.
        strength_psf: f'c, psf, 72,000 to 1,728,000 (500 to 12,000 psi).
        slab_thickness_in: T, as found, in, above 2 and at most 24.
        plate: the plate; its figures have their ranges there.

    Returns:
        Percent. That the slab also bends between the piers is not covered: an engineer must
        design its bars.

    Not known when:
        A figure is out of its range, or an edge, joint or opening is nearer to the plate than
        the slab is thick.

    Source:
        As :func:`survey.engineering.plain_concrete.two_way_strength`.

    >>> round(slab_punching_use(7680.0, 2500 * 144, 6.0, SlabPlate(10.0, 10.0, 60.0)).value)
    43
    """
    reason = outside(
        _load_limit(factored_load_lb),
        ("slab thickness", slab_thickness_in, 2.001, 24.0, "in"),
        ("bracket plate width", plate.width_in, 2.0, 48.0, "in"),
        ("bracket plate depth", plate.depth_in, 2.0, 48.0, "in"),
        ("distance to an edge of the slab", plate.edge_distance_in, 0.0, 6000.0, "in"),
    )
    if not reason and plate.edge_distance_in < slab_thickness_in:
        reason = (
            f"an edge, joint or opening is {plate.edge_distance_in:g} in from the plate, nearer "
            f"than the slab's {slab_thickness_in:g} in"
        )
    width, depth, _ = plate
    h = plain_concrete.counted_thickness(slab_thickness_in)
    around = 2 * (width + depth + 2 * h)
    if reason:
        return not_known(reason)
    ratio = max(width, depth) / min(width, depth)
    strength = plain_concrete.two_way_strength(strength_psf, slab_thickness_in, around, ratio)
    if not isinstance(strength.value, float):
        return not_known(strength.reason)
    assert strength.working is not None
    share = 100 * factored_load_lb / strength.value
    lines = (
        given("Pu", "factored load on the pier", factored_load_lb, Kind.FORCE),
        noted("w, d", "bracket plate under the slab", f"{number(width)} in, {number(depth)} in"),
        *strength.working.lines,
        Line("use", "share of the strength", "100 Pu / (phi Vn)",
             f"100 x {number(factored_load_lb)} / {number(strength.value)}",
             f"{number(share)} %"),
    )  # fmt: skip
    valid = f"{_VALID}; slab on the ground, no bars counted; bending between piers not covered"
    working = Working("Punching of the slab", "ACI 318-19 ch. 14, from memory", valid, lines)
    return Result(share, working=working)


def relocation_distance(
    station_in: float, unsound_from_in: float, unsound_to_in: float, seat_width_in: float
) -> Result:
    """How far a pier must be moved along the wall so that its whole seat is on sound footing.

    0 where it is; else the smaller of s + c / 2 - u1 and u2 + c / 2 - s, to the left and to the
    right of what is not sound.

    Args:
        station_in: s, of the pier, in, 0 to 6,000.
        unsound_from_in: u1, station where the unsound footing begins, in, 0 to 6,000.
        unsound_to_in: u2, station where it ends, in, u1 to 6,000.
        seat_width_in: c, of the cut or the plate along the wall, in, 2 to 96.

    Returns:
        In, whichever way is nearer.

    Not known when:
        A figure is out of its range, or the end lies before the beginning.

    Source:
        Plane geometry.

    >>> relocation_distance(120.0, 110.0, 126.0, 16.0).value
    14.0
    """
    reason = outside(
        ("station", station_in, 0.0, 6000.0, "in"),
        ("beginning of the unsound footing", unsound_from_in, 0.0, 6000.0, "in"),
        ("end of the unsound footing", unsound_to_in, unsound_from_in, 6000.0, "in"),
        ("width of the seat", seat_width_in, 2.0, 96.0, "in"),
    )
    if reason:
        return not_known(reason)
    left = station_in + seat_width_in / 2 - unsound_from_in
    right = unsound_to_in + seat_width_in / 2 - station_in
    distance = max(min(left, right), 0.0)
    s, u1, u2, c = (number(x) for x in (station_in, unsound_from_in, unsound_to_in, seat_width_in))
    lines = (
        inches("s", "station of the pier", station_in),
        noted("u1, u2", "unsound footing, from and to", f"{u1} in, {u2} in"),
        inches("c", "width of the seat", seat_width_in),
        Line("", "to the left", "s + c / 2 - u1", f"{s} + {c} / 2 - {u1}", f"{number(left)} in"),
        Line("", "to the right", "u2 + c / 2 - s", f"{u2} + {c} / 2 - {s}",
             f"{number(right)} in"),
        Line("", "distance to move", "the smaller of both, at least 0", "",
             f"{number(distance)} in"),
    )  # fmt: skip
    working = Working("Next sound place", "plane geometry", "one unsound stretch", lines)
    return Result(distance, working=working)


def relocation_room(
    gap_to_next_pit_in: float, least_gap_in: float, span_in: float, greatest_spacing_in: float
) -> Result:
    """How far a pier may be moved along the wall, towards the next pit.

    max(min(g - gmin, Lmax - L), 0): the ground left standing to the next pit, and the span that
    grows on the other side.

    Args:
        gap_to_next_pit_in: g, ground between the openings on that side, in, -15,000 to 6,000.
        least_gap_in: gmin, that must stay, in, 0 to 6,000.
        span_in: L, to the pier on the other side, middle to middle, in, 0 to 6,000.
        greatest_spacing_in: Lmax, that the footing can span, in, 0 to 100,000.

    Returns:
        In; 0 where there is no room. Utilities and neighbours are judged at the new place anew.

    Not known when:
        A figure is out of its range.

    Source:
        Plane geometry.

    >>> relocation_room(60.0, 48.0, 72.0, 80.0).value
    8.0
    """
    reason = outside(
        ("gap to next pit", gap_to_next_pit_in, -15000.0, 6000.0, "in"),
        ("ground that must stay", least_gap_in, 0.0, 6000.0, "in"),
        ("span on the other side", span_in, 0.0, 6000.0, "in"),
        ("greatest pier spacing", greatest_spacing_in, 0.0, 1e5, "in"),
    )
    if reason:
        return not_known(reason)
    room = max(min(gap_to_next_pit_in - least_gap_in, greatest_spacing_in - span_in), 0.0)
    g, least, span, most = (
        number(x) for x in (gap_to_next_pit_in, least_gap_in, span_in, greatest_spacing_in)
    )
    lines = (
        inches("g", "ground to the next pit", gap_to_next_pit_in),
        inches("gmin", "ground that must stay", least_gap_in),
        inches("L", "span on the other side", span_in),
        inches("Lmax", "greatest pier spacing", greatest_spacing_in),
        Line("", "room to move the pier", "max(min(g - gmin, Lmax - L), 0)",
             f"max(min({g} - {least}, {most} - {span}), 0)", f"{number(room)} in"),
    )  # fmt: skip
    working = Working("Room to move the pier", "plane geometry", "along its wall", lines)
    return Result(room, working=working)


def _load_limit(load_lb: float) -> tuple[str, float, float, float, str]:
    return ("factored load on the pier", load_lb, 0.0, plain_concrete.GREATEST_LOAD_LB, "lb")


def _strength_limit(strength_psf: float) -> tuple[str, float, float, float, str]:
    return ("concrete strength", strength_psf / _PSF_PER_PSI, 500.0, 12000.0, "psi")


def _cut_out_of_range(cut: Cut) -> str:
    reason = outside(
        ("width of the cut at the wall", cut.at_wall_in, 2.0, 96.0, "in"),
        ("width of the cut at the face", cut.at_face_in, 1.0, 96.0, "in"),
        ("footing projection", cut.projection_in, 0.0, 60.0, "in"),
    )
    if not reason and cut.at_face_in > cut.at_wall_in:
        return (
            f"the cut is {cut.at_face_in:g} in wide at the face and {cut.at_wall_in:g} in at the "
            "wall; it must widen to the wall"
        )
    return reason


def _cut_lines(cut: Cut) -> tuple[Line, ...]:
    wide, face, out = cut
    return (
        noted("c, f", "cut, width at the wall and at the face",
              f"{number(wide)} in, {number(face)} in", _PRACTICE),
        inches("a", "footing projection", out),
    )  # fmt: skip


def _bed_out_of_range(bed: Bed) -> str:
    return outside(
        ("width of the bed", bed.width_in, 2.0, 48.0, "in"),
        ("depth of the bed", bed.depth_in, 1.0, 48.0, "in"),
        ("widest gap", bed.highest_gap_in, 0.0, 24.0, "in"),
        ("narrowest gap", bed.lowest_gap_in, 0.0, bed.highest_gap_in, "in"),
    )
