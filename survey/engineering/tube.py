"""Strength of the steel tube of a pier: AISC 360-16 E3, F8 and H1 by allowable stress, IBC 1810.

E = 29,000 ksi. The nominal wall counts at 0.93 (B4.2). Formulas of AISC 360 and clauses of IBC are
from memory unless a line says otherwise; limits of slenderness and depths of fixity are confirmed.
Joints of the tube are not checked here: they must be as strong as the tube.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

from survey.engineering._steps import given, inches, kept, noted, number, outside
from survey.engineering.corrosion import DESIGN_SHARE, DESIGN_SOURCE
from survey.engineering.working import Line, Result, Working, not_known
from survey.vocabulary import Kind

GROUNDS = ("firm", "soft", "fluid")

_E_PSI = 29e6  # AISC 360
_OMEGA = 1.67  # AISC 360 E1 and F1
_ALPHA = 1.6  # AISC 360 C2.1(d): loads to the level of strength
_PI2_E = math.pi**2 * _E_PSI
_INELASTIC = 4.71  # E3: of sqrt(E/Fy)
_SLENDEREST = 200.0  # E2, user note
_NONSLENDER = 0.11  # Table B4.1a case 9: of E/Fy
_COMPACT = 0.07  # Table B4.1b case 20: of E/Fy
_LEAST_SHARE_LEFT = 0.01  # moments grow at most 100 times; by then P alone is over what is allowed
_PSF_PER_PSI = 144.0
_LEAST_ECCENTRICITY_IN = 3.0  # IBC 1810.3.1.3, 1810.3.6.1
_FIXITY_IN = {"firm": 60.0, "soft": 120.0}  # IBC 1810.2.1: 5 ft, 10 ft
_HELD_K = 1.0
_FREE_K = 2.1
_THINNEST_WALL_IN = 0.05
_THICKEST_WALL_IN = 2.0
_NARROWEST_IN = 2.0
_WIDEST_IN = 20.0
_STOCKIEST = 4.0  # outside diameter over wall
_WEAKEST_PSI = 30_000.0
_STRONGEST_PSI = 80_000.0
_LONGEST_IN = 600.0
_LARGEST_LOSS_IN = 1.0

_E3 = "AISC 360-16 E3, from memory"
_F8 = "AISC 360-16 F8, from memory"
_H1 = "AISC 360-16 H1.1, from memory"
_FIXITY = "IBC 1810.2.1"
_JUSTIFIED = "higher stress justified by investigation and load tests"
_USE = "100 max(P/Pa + 8/9 M/Mc, P/(2 Pa) + M/Mc)"
_SOURCE = "AISC 360-16 E3, F8, H1.1 (ASD), IBC 1810.2.1, 1810.3.6.1; in part from memory"
_VALID = (
    "round steel tube, D/t at most 0.11 E/Fy, KL/r at most 200; joints at least as strong as the "
    "tube; vertical load only"
)


class Tube(NamedTuple):
    """A round steel tube as it is bought.

    Args:
        outside_diameter_in: D, in, 2 to 20.
        wall_thickness_in: tn, nominal, in, 0.05 to 2.
        yield_strength_psf: Fy, psf, 4,320,000 to 11,520,000 (30 to 80 ksi).
    """

    outside_diameter_in: float
    wall_thickness_in: float
    yield_strength_psf: float


class Sleeve(NamedTuple):
    """A larger tube over the head of the pier, from the bracket down.

    Args:
        tube: its size and strength; the pier's tube must go into it.
        length_in: below the bracket, in, 0 to 600.
    """

    tube: Tube
    length_in: float


class Head(NamedTuple):
    """How the load comes into the head of the pier.

    Args:
        eccentricity_in: e, from the load on the bracket to the middle of the tube, in, 0 to 24.
        moment_length_in: length below the bracket over which the moment dies out, in, 60 to 600:
            length in the open pit and :func:`unsupported_length`'s 5 or 10 ft into the ground;
            a shorter sleeve is not counted.
        sleeve: if there is one.
    """

    eccentricity_in: float
    moment_length_in: float
    sleeve: Sleeve | None = None


class Section(NamedTuple):
    """Properties of a round tube: in, in2, in3, in4."""

    diameter: float
    thickness: float
    area: float
    inertia: float
    elastic_modulus: float
    plastic_modulus: float
    radius_of_gyration: float


def section_of(diameter_in: float, thickness_in: float) -> Section:
    """Properties of a round tube from its outside diameter and the wall that counts.

    With d = D - 2 t: A = pi (D - t) t, I = pi (D^4 - d^4) / 64, S = 2 I / D,
    Z = (D^3 - d^3) / 6, r = sqrt(I / A).

    >>> round(section_of(10.0, 0.25).area, 3)
    7.658
    """
    inside = diameter_in - 2 * thickness_in
    area = math.pi * (diameter_in - thickness_in) * thickness_in
    inertia = math.pi * (diameter_in**4 - inside**4) / 64
    return Section(
        diameter_in, thickness_in, area, inertia, 2 * inertia / diameter_in,
        (diameter_in**3 - inside**3) / 6, math.sqrt(diameter_in**2 + inside**2) / 4,
    )  # fmt: skip


def buckling_stress(yield_psi: float, slenderness: float) -> float:
    """Critical stress of flexural buckling, psi: AISC 360-16 E3-2 and E3-3.

    0.658^(Fy/Fe) Fy where KL/r is at most 4.71 sqrt(E/Fy), else 0.877 Fe; Fe = pi^2 E / (KL/r)^2.

    >>> round(buckling_stress(50_000.0, 17.40))
    48905
    """
    over = yield_psi * slenderness**2 / _PI2_E  # Fy / Fe, which is 0 for a tube held all along
    if slenderness <= _INELASTIC * math.sqrt(_E_PSI / yield_psi):
        return float(0.658**over) * yield_psi
    return 0.877 * yield_psi / over


def lateral_ground(blow_count: float) -> Result:
    """How well the ground holds a tube sideways, by its least blow count.

    Fluid at N = 0 (the rods sink by their own weight), soft under 5, firm from 5.

    Args:
        blow_count: N, least in the 10 ft below the pit, blows per foot, 0 to 1,000.

    Returns:
        ``firm``, ``soft`` or ``fluid``.

    Not known when:
        The figure is out of its range.

    Source:
        ICC-ES AC358, from memory; N by ASTM D1586.

    >>> lateral_ground(8.0).value
    'firm'
    """
    reason = outside(("blow count", blow_count, 0.0, 1000.0, "blows/ft"))
    if reason:
        return not_known(reason)
    found = "fluid" if blow_count == 0 else "soft" if blow_count < 5 else "firm"
    source = "ICC-ES AC358, from memory; N by ASTM D1586"
    lines = (
        noted("N", "least blow count below the pit", f"{number(blow_count)} blows/ft"),
        Line("", "ground beside the tube", "fluid if N = 0, soft if N < 5, else firm",
             f"N = {number(blow_count)}", found, source),
    )  # fmt: skip
    working = Working("Ground beside the tube", source, "standard penetration test", lines)
    return Result(found, working=working)


@kept
def unsupported_length(open_length_in: float, ground: str) -> Result:
    """Length of tube below the bracket that nothing holds against buckling.

    L = 0 where the tube stands in ground from the bracket down; else L = o + f, o the length
    in the open pit and f = 5 ft in firm or 10 ft in soft ground, where the tube is held.

    Args:
        open_length_in: o, from the bracket down to the floor of the pit, in, 0 to 240; 0 once
            the pit is filled again.
        ground: firm, soft or fluid, below the pit.

    Returns:
        Length, in.

    Not known when:
        The ground is fluid, so that it holds nothing and its depth is an engineer's matter; or
        the length is out of its range.

    Source:
        IBC 1810.2.1: any soil other than fluid soil holds a tube against buckling; one that
        stands in air is held at 5 ft into stiff and 10 ft into soft soil.

    >>> unsupported_length(20.0, "firm").value
    80.0
    """
    reason = outside(("length in the open pit", open_length_in, 0.0, 240.0, "in"))
    if reason:
        return not_known(reason)
    if ground not in _FIXITY_IN:
        return not_known(
            f"the ground is {ground}; {_FIXITY} holds a tube in firm or soft ground, in other "
            "ground an engineer finds its unsupported length"
        )
    fixity = _FIXITY_IN[ground]
    lines: tuple[Line, ...] = (
        noted("", "ground below the pit", ground),
        inches("o", "length in the open pit", open_length_in),
    )
    if open_length_in == 0:
        length = 0.0
        last = Line("L", "unsupported length", "0 in ground from the bracket down", "o = 0", "0 in",
                    _FIXITY)  # fmt: skip
    else:
        length = open_length_in + fixity
        lines = (*lines, noted("f", "depth at which the ground holds it", f"{number(fixity)} in",
                               _FIXITY))  # fmt: skip
        put_in = f"{number(open_length_in)} + {number(fixity)}"
        last = Line("L", "unsupported length", "o + f", put_in, f"{number(length)} in")
    valid = "ground that is not fluid; no scour, no ground that turns fluid in an earthquake"
    working = Working("Unsupported length of the tube", _FIXITY, valid, (*lines, last))
    return Result(length, working=working)


class _Column(NamedTuple):
    """A tube of one unsupported length, and what it resists."""

    section: Section
    yield_psi: float
    buckling_length: float  # K L, in
    compression: float  # Pn / Omega, lb
    bending: float  # Mn / Omega, lb-in
    lines: tuple[Line, ...]


def compression_strength(
    tube: Tube, unsupported_length_in: float, head_held: str, loss_of_face_in: float = 0.0
) -> Result:
    """Load that the tube may take down the middle, by its buckling.

    Pa = Fcr A / 1.67; Fcr = 0.658^(Fy/Fe) Fy up to KL/r = 4.71 sqrt(E/Fy), beyond it 0.877 Fe;
    Fe = pi^2 E / (KL/r)^2. t = 0.93 tn - 2 td and D 2 td less than new.

    Args:
        tube: size and strength as bought, with ranges there.
        unsupported_length_in: L, in, 0 to 600.
        head_held: whether the bracket is fixed to the building so that the head can't move
            sideways, yes or no: K = 1.0 or 2.1.
        loss_of_face_in: td, loss of each face by corrosion, in, 0 to 1; 0 as new.

    Returns:
        Allowable load, lb.

    Not known when:
        A figure is out of its range; D/t is over 0.11 E/Fy (slender, E7) or under 4; KL/r is
        over 200; nothing is left of the wall.

    Source:
        AISC 360-16 E1, E3, from memory; Table B4.1a case 9. K = 2.1 for a head that can move
        is that of Table C-A-7.1 (from memory); the 1.0 of a held head is that of a tube hinged
        at both ends, on the safe side of the 0.8 of one fixed at its foot.

    >>> round(compression_strength(Tube(2.875, 0.217, 50_000 * 144.0), 80.0, "yes").value)
    30140
    """
    column = _column(tube, loss_of_face_in, unsupported_length_in, head_held)
    if isinstance(column, str):
        return not_known(column)
    working = Working("Strength of the tube in compression", _E3, _VALID, column.lines)
    return Result(column.compression, working=working)


@lru_cache(maxsize=256)
def _section(tube: Tube, loss_in: float, name: str) -> tuple[Section, tuple[Line, ...]] | str:
    """What is left of a tube, with its steps; or why that can't be told."""
    yield_psi = tube.yield_strength_psf / _PSF_PER_PSI
    reason = outside(
        (f"outside diameter of the {name}", tube.outside_diameter_in, _NARROWEST_IN, _WIDEST_IN,
         "in"),
        (f"wall thickness of the {name}", tube.wall_thickness_in, _THINNEST_WALL_IN,
         _THICKEST_WALL_IN, "in"),
        (f"yield strength of the {name}", yield_psi, _WEAKEST_PSI, _STRONGEST_PSI, "psi"),
        (f"loss of each face of the {name}", loss_in, 0.0, _LARGEST_LOSS_IN, "in"),
    )  # fmt: skip
    if reason:
        return reason
    thickness = DESIGN_SHARE * tube.wall_thickness_in - 2 * loss_in
    diameter = tube.outside_diameter_in - 2 * loss_in
    if thickness <= 0 or diameter <= 0:
        return f"nothing is left of the wall of the {name}; the method holds where some is"
    stocky = diameter / thickness
    most = _NONSLENDER * _E_PSI / yield_psi
    if not _STOCKIEST <= stocky <= most:
        return (
            f"D/t of the {name} is {stocky:.1f}; the method holds from {_STOCKIEST:g} to "
            f"{most:.1f} (0.11 E/Fy, AISC 360 Table B4.1a), an engineer designs others"
        )
    found = section_of(diameter, thickness)
    d_0, t_n, loss = (
        number(x, 4) for x in (tube.outside_diameter_in, tube.wall_thickness_in, loss_in)
    )
    lines: list[Line] = [
        inches("D0", f"outside diameter of the {name}", tube.outside_diameter_in),
        inches("tn", "nominal wall thickness", tube.wall_thickness_in),
        given("Fy", "yield strength", tube.yield_strength_psf, Kind.PRESSURE, "psi"),
    ]
    d, t = number(diameter, 4), number(thickness, 4)
    if loss_in:
        lines.append(noted("td", "loss of each face", f"{loss} in"))
    lines += (
        Line("t", "wall that counts", "0.93 tn - 2 td" if loss_in else "0.93 tn",
             f"{DESIGN_SHARE:g} x {t_n}" + (f" - 2 x {loss}" if loss_in else ""), f"{t} in",
             DESIGN_SOURCE),
        Line("D", "outside diameter that counts", "D0 - 2 td" if loss_in else "D0",
             f"{d_0} - 2 x {loss}" if loss_in else d_0, f"{d} in"),
        Line("D/t", f"at most 0.11 E/Fy = {number(most, 1)}", "D / t", f"{d} / {t}",
             number(stocky), "AISC 360 Table B4.1a case 9"),
        Line("A", "area", "pi (D - t) t", f"3.14159 x ({d} - {t}) x {t}",
             f"{number(found.area, 4)} in2"),
        Line("I", "moment of inertia", "pi (D^4 - (D - 2 t)^4) / 64",
             f"3.14159 x ({d}^4 - ({d} - 2 x {t})^4) / 64", f"{number(found.inertia, 4)} in4"),
    )  # fmt: skip
    return found, tuple(lines)


def _bending(section: Section, yield_psi: float) -> float:
    """Mn / Omega of a round tube, lb-in: F8-1, F8-2."""
    moment = yield_psi * section.plastic_modulus
    stocky = section.diameter / section.thickness
    if stocky > _COMPACT * _E_PSI / yield_psi:
        noncompact = (0.021 * _E_PSI / stocky + yield_psi) * section.elastic_modulus
        moment = min(moment, noncompact)
    return moment / _OMEGA


@lru_cache(maxsize=256)
def _bending_lines(section: Section, yield_psi: float, mark: str) -> tuple[Line, ...]:
    d, t = number(section.diameter, 4), number(section.thickness, 4)
    fy = number(yield_psi)
    moment = number(_bending(section, yield_psi))
    plastic = Line("Z", "plastic modulus", "(D^3 - (D - 2 t)^3) / 6",
                   f"({d}^3 - ({d} - 2 x {t})^3) / 6",
                   f"{number(section.plastic_modulus, 4)} in3")  # fmt: skip
    name = f"Mc{mark}"
    if section.diameter / section.thickness <= _COMPACT * _E_PSI / yield_psi:
        return (
            plastic,
            Line(name, "moment it may take, D/t at most 0.07 E/Fy", "Fy Z / 1.67",
                 f"{fy} x {number(section.plastic_modulus, 4)} / {_OMEGA}", f"{moment} lb-in", _F8),
        )  # fmt: skip
    return (
        plastic,
        Line("S", "elastic modulus", "2 I / D", f"2 x {number(section.inertia, 4)} / {d}",
             f"{number(section.elastic_modulus, 4)} in3"),
        Line(name, "moment it may take, D/t over 0.07 E/Fy",
             "min(Fy Z, (0.021 E / (D/t) + Fy) S) / 1.67",
             f"min({fy} x {number(section.plastic_modulus, 4)}, (0.021 x 29,000,000 / "
             f"{number(section.diameter / section.thickness)} + {fy}) x "
             f"{number(section.elastic_modulus, 4)}) / {_OMEGA}",
             f"{moment} lb-in", _F8),
    )  # fmt: skip


@lru_cache(maxsize=256)
def _column(tube: Tube, loss_in: float, length_in: float, head_held: str) -> _Column | str:
    """A tube as a column, with its steps; or why that can't be told."""
    found = _section(tube, loss_in, "tube")
    if isinstance(found, str):
        return found
    reason = outside(("unsupported length", length_in, 0.0, _LONGEST_IN, "in"))
    if reason:
        return reason
    if head_held not in ("yes", "no"):
        return f"whether the head is held is '{head_held}'; the method holds for yes and no"
    section, lines = found
    factor = _HELD_K if head_held == "yes" else _FREE_K
    slenderness = factor * length_in / section.radius_of_gyration
    if slenderness > _SLENDEREST:
        return (
            f"KL/r is {slenderness:.1f}; the method holds up to 200 (AISC 360 E2), an engineer "
            "designs a tube that is more slender"
        )
    yield_psi = tube.yield_strength_psf / _PSF_PER_PSI
    critical = buckling_stress(yield_psi, slenderness)
    compression = critical * section.area / _OMEGA
    limit = _INELASTIC * math.sqrt(_E_PSI / yield_psi)
    fy, kl_r = number(yield_psi), number(slenderness)
    elastic = slenderness > limit
    over = number(yield_psi * slenderness**2 / _PI2_E, 4)
    lines = (
        *lines,
        Line("r", "radius of gyration", "sqrt(I / A)",
             f"sqrt({number(section.inertia, 4)} / {number(section.area, 4)})",
             f"{number(section.radius_of_gyration, 4)} in"),
        inches("L", "unsupported length", length_in),
        noted("K", "head held sideways by the building" if head_held == "yes"
              else "head free to move sideways, foot fixed", number(factor),
              "AISC 360 Table C-A-7.1, from memory"),
        Line("KL/r", "slenderness, at most 200", "K L / r",
             f"{number(factor)} x {number(length_in)} / {number(section.radius_of_gyration, 4)}",
             kl_r, "AISC 360 E2, from memory"),
        Line("Fy/Fe", "yield over Euler stress", "Fy (KL/r)^2 / (pi^2 E)",
             f"{fy} x {kl_r}^2 / (3.14159^2 x 29,000,000)", over, "AISC 360-16 E3-4, from memory"),
        Line("Fcr",
             f"critical stress, KL/r {'over' if elastic else 'up to'} 4.71 sqrt(E/Fy) = "
             f"{number(limit, 1)}",
             "0.877 Fe" if elastic else "0.658^(Fy/Fe) Fy",
             f"0.877 x {fy} / {over}" if elastic else f"0.658^{over} x {fy}",
             f"{number(critical)} psi", f"AISC 360-16 E3-{3 if elastic else 2}, from memory"),
        Line("Pn/O", "load it may take by buckling", "Fcr A / 1.67",
             f"{number(critical)} x {number(section.area, 4)} / {_OMEGA}",
             f"{number(compression)} lb", "AISC 360-16 E3-1, E1, from memory"),
    )  # fmt: skip
    bending = _bending(section, yield_psi)
    return _Column(section, yield_psi, factor * length_in, compression, bending, lines)


@kept
def driving_use(
    planned_drive_load_lb: float,
    tube: Tube,
    unsupported_length_in: float,
    head_held: str,
    head: Head,
) -> Result:
    """Drive load with its moment at the bracket, as a share of what the new tube may take.

    u = 100 max(P/Pa + 8/9 M/Mc, P/(2 Pa) + M/Mc), the greater of H1-1a and H1-1b (at 100 % the
    same as the one that applies; over it never less). Pa = Fcr A / 1.67 as in
    :func:`compression_strength`; M = B P max(e, 3 in); B = 1 / (1 - 1.6 P (KL)^2 / (pi^2 E I)),
    at most 100; Mc = Fy Z / 1.67, for D/t over 0.07 E/Fy at most by F8-2. With a sleeve as long
    as the moment takes to die out, tube and sleeve share M as their I, and the worse of both
    counts, at most what the tube would have without it; for buckling it is left out.

    Args:
        planned_drive_load_lb: P, lb, 0 to 1,000,000.
        tube: size and strength as bought, with ranges there.
        unsupported_length_in: L, while the pit is open, in, 0 to 600.
        head_held: whether the bracket is fixed to the building so that the head can't move
            sideways, yes or no.
        head: eccentricity and sleeve, with ranges there.

    Returns:
        Percent. All of the moment is put on the tube and its sleeve, none on the building.

    Not known when:
        As :func:`compression_strength`; or a figure of the load, the head or the sleeve is out
        of its range, or the tube does not go into the sleeve.

    Source:
        AISC 360-16 C2, E3, F8, H1.1, App. 8, from memory; eccentricity of 3 in by IBC
        1810.3.6.1, and 3 in of mislocation by 1810.3.1.3, from memory. A greater e of the
        bracket takes the place of the 3 in: the bracket sets how far the tube stands out.

    >>> firm = Tube(3.5, 0.3, 50_000 * 144.0)
    >>> round(driving_use(15000.0, firm, 80.0, "yes", Head(2.0, 80.0)).value, 1)
    79.3
    """
    column = _column(tube, 0.0, unsupported_length_in, head_held)
    if isinstance(column, str):
        return not_known(column)
    return _use(planned_drive_load_lb, column, column.compression, column.lines, head,
                loss_in=0.0, title="Use of the tube while it is driven")  # fmt: skip


@kept
def service_use(
    pier_load_lb: float,
    tube: Tube,
    unsupported_length_in: float,
    head_held: str,
    head: Head,
    *,
    loss_of_face_in: float,
    stress_justified: str,
) -> Result:
    """Service load with its moment at the bracket, as a share of what the corroded tube may take.

    As :func:`driving_use`, with what corrosion leaves of tube and sleeve, and Pa the lesser of
    Fcr A / 1.67 and 0.35 Fy A, 0.35 Fy at most 16,000 psi; where the stress is justified
    0.5 Fy A, 0.5 Fy at most 32,000 psi.

    Args:
        pier_load_lb: P, service load, lb, 0 to 1,000,000.
        tube: size and strength as bought, with ranges there.
        unsupported_length_in: L, in service, in, 0 to 600; 0 where ground that is not fluid is
            filled in again up to the bracket.
        head_held: whether the bracket is fixed to the building so that the head can't move
            sideways, yes or no.
        head: eccentricity and sleeve, with ranges there.
        loss_of_face_in: td, loss of each face over the design life, in, 0 to 1.
        stress_justified: whether a soil investigation and load tests justify the higher
            stress, yes or no.

    Returns:
        Percent.

    Not known when:
        As :func:`driving_use`; or nothing is left of a wall.

    Source:
        As :func:`driving_use`; IBC Table 1810.3.2.6, 1810.3.2.8, from memory. The cap of
        16,000 psi is that of older editions, on the safe side.

    >>> tube = Tube(3.5, 0.3, 50_000 * 144.0)
    >>> round(service_use(10000.0, tube, 0.0, "yes", Head(2.0, 60.0), loss_of_face_in=0.036,
    ...                   stress_justified="no").value, 1)
    71.3
    """
    column = _column(tube, loss_of_face_in, unsupported_length_in, head_held)
    if isinstance(column, str):
        return not_known(column)
    if stress_justified not in ("yes", "no"):
        return not_known(
            f"whether a higher stress is justified is '{stress_justified}'; the method holds for "
            "yes and no"
        )
    allowed, lines = _in_service(column, stress_justified)
    return _use(pier_load_lb, column, allowed, lines, head,
                loss_in=loss_of_face_in, title="Use of the tube in service")  # fmt: skip


def _in_service(column: _Column, stress_justified: str) -> tuple[float, tuple[Line, ...]]:
    """Load that the tube may take by buckling and by the stress of the code, with its steps."""
    share, cap = (0.5, 32_000.0) if stress_justified == "yes" else (0.35, 16_000.0)
    section, yield_psi = column.section, column.yield_psi
    allowed, lines = _by_code(section.area, yield_psi, column.compression, share, cap)
    justified = noted("", _JUSTIFIED, stress_justified)
    return allowed, (*column.lines, justified, *lines)


@lru_cache(maxsize=256)
def _by_code(
    area: float, yield_psi: float, compression: float, share: float, cap: float
) -> tuple[float, tuple[Line, ...]]:
    stress = min(share * yield_psi, cap)
    allowed = min(compression, stress * area)
    return allowed, (
        Line("Fa", "stress that the code allows", f"min({share:g} Fy, {cap:,.0f} psi)",
             f"min({share:g} x {number(yield_psi)}, {cap:,.0f})", f"{number(stress)} psi",
             "IBC Table 1810.3.2.6, from memory"),
        Line("Pa", "load it may take", "min(Pn/O, Fa A)",
             f"min({number(compression)}, {number(stress)} x {number(area, 4)})",
             f"{number(allowed)} lb"),
    )  # fmt: skip


def _use(
    load_lb: float,
    column: _Column,
    allowed_lb: float,
    lines: tuple[Line, ...],
    head: Head,
    *,
    loss_in: float,
    title: str,
) -> Result:
    reason = outside(
        ("load", load_lb, 0.0, 1e6, "lb"),
        ("bracket eccentricity", head.eccentricity_in, 0.0, 24.0, "in"),
        ("length of the moment", head.moment_length_in, _FIXITY_IN["firm"], _LONGEST_IN, "in"),
    )
    if reason:
        return not_known(reason)
    sleeve = _sleeve(head, column, loss_in)
    if isinstance(sleeve, str):
        return not_known(sleeve)
    section = column.section
    eccentricity = max(head.eccentricity_in, _LEAST_ECCENTRICITY_IN)
    euler_use = _ALPHA * load_lb * column.buckling_length**2 / (_PI2_E * section.inertia)
    growth = 1 / max(1 - euler_use, _LEAST_SHARE_LEFT)
    moment = growth * load_lb * eccentricity
    on_tube = moment * sleeve.share_of_tube
    alone = _interaction(load_lb, allowed_lb, moment, column.bending)
    p, pa, m, mc = (number(x) for x in (load_lb, allowed_lb, moment, column.bending))
    steps: tuple[Line, ...] = (
        *lines,
        *_bending_lines(section, column.yield_psi, ""),
        given("P", "load", load_lb, Kind.FORCE),
        Line("e", "eccentricity, at least 3 in", "max(bracket, 3)",
             f"max({number(head.eccentricity_in)}, 3)", f"{number(eccentricity)} in",
             "IBC 1810.3.6.1, 1810.3.1.3, from memory"),
        Line("B", "growth of the moment by bending, at most 100",
             "1 / (1 - 1.6 P (KL)^2 / (pi^2 E I))",
             f"1 / (1 - 1.6 x {p} x {number(column.buckling_length)}^2 / "
             f"(3.14159^2 x 29,000,000 x {number(section.inertia, 4)}))"
             if growth < 1 / _LEAST_SHARE_LEFT else "1.6 P at or past the Euler load",
             number(growth, 4), "AISC 360-16 C2, App. 8, from memory"),
        Line("M", "moment at the bracket", "B P e",
             f"{number(growth, 4)} x {p} x {number(eccentricity)}", f"{m} lb-in"),
        *sleeve.lines,
        Line("u", "use of the tube" + (" alone" if sleeve.bending else ""), _USE,
             f"100 max({p} / {pa} + 8 / 9 x {m} / {mc}, {p} / (2 x {pa}) + {m} / {mc})",
             f"{number(alone)} %", _H1),
    )  # fmt: skip
    if not sleeve.bending:
        return Result(alone, working=Working(title, _SOURCE, _VALID, steps))
    on_tube = moment * sleeve.share_of_tube
    shared = _interaction(load_lb, allowed_lb, on_tube, column.bending)
    sleeve_use = 100 * (moment - on_tube) / sleeve.bending
    use = min(alone, max(shared, sleeve_use))
    mt = number(on_tube)
    steps += (
        Line("Mt", "moment on the tube in its sleeve", "M It / (It + Is)",
             f"{m} x {number(sleeve.share_of_tube, 4)}", f"{mt} lb-in"),
        Line("ut", "use of the tube in its sleeve", _USE.replace("M/", "Mt/"),
             f"100 max({p} / {pa} + 8 / 9 x {mt} / {mc}, {p} / (2 x {pa}) + {mt} / {mc})",
             f"{number(shared)} %", _H1),
        Line("us", "use of the sleeve", "100 (M - Mt) / Mcs",
             f"100 x ({m} - {mt}) / {number(sleeve.bending)}", f"{number(sleeve_use)} %", _F8),
        Line("u", "use of tube and sleeve; the tube may do without it", "min(u, max(ut, us))",
             f"min({number(alone)}, max({number(shared)}, {number(sleeve_use)}))",
             f"{number(use)} %"),
    )  # fmt: skip
    return Result(use, working=Working(title, _SOURCE, _VALID, steps))


def _interaction(load_lb: float, allowed_lb: float, moment: float, allowed_moment: float) -> float:
    """The greater of AISC 360 H1-1a and H1-1b, percent."""
    axial, bent = load_lb / allowed_lb, moment / allowed_moment
    return 100 * max(axial + 8 / 9 * bent, axial / 2 + bent)


class _Shared(NamedTuple):
    """How much of the moment stays on the tube, and what the sleeve may take."""

    share_of_tube: float
    bending: float  # of the sleeve, lb-in; 0 where it does not count
    lines: tuple[Line, ...]


def _sleeve(head: Head, column: _Column, loss_in: float) -> _Shared | str:
    """What a sleeve takes; or why that can't be told."""
    if head.sleeve is None:
        return _Shared(1.0, 0.0, ())
    tube, length = head.sleeve
    reason = outside(("length of the sleeve", length, 0.0, _LONGEST_IN, "in"))
    if reason:
        return reason
    found = _section(tube, loss_in, "sleeve")
    if isinstance(found, str):
        return found
    section, lines = found
    inside = tube.outside_diameter_in - 2 * tube.wall_thickness_in
    outside_of_tube = column.section.diameter + 2 * loss_in
    if inside < outside_of_tube:
        return (
            f"the sleeve is {inside:g} in inside, the tube {outside_of_tube:g} in outside; the "
            "method holds where the tube goes into it"
        )
    if length < head.moment_length_in:
        short = noted(
            "", "sleeve, not counted", f"{number(length)} in long, the moment needs "
            f"{number(head.moment_length_in)} in",
        )  # fmt: skip
        return _Shared(1.0, 0.0, (short,))
    share = column.section.inertia / (column.section.inertia + section.inertia)
    yield_psi = tube.yield_strength_psf / _PSF_PER_PSI
    i_t, i_s = number(column.section.inertia, 4), number(section.inertia, 4)
    steps = (
        inches("Ls", "length of the sleeve", length),
        *lines,
        *_bending_lines(section, yield_psi, "s"),
        Line("It/(It+Is)", "share of the moment on the tube", "It / (It + Is)",
             f"{i_t} / ({i_t} + {i_s})", number(share, 4)),
    )  # fmt: skip
    return _Shared(share, _bending(section, yield_psi), steps)
