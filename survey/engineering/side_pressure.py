"""Pressure on the sides of a pit: of the soil, and of the footing beside it.

The pressures of Appendix C are those of its own tables. Rankine's, and the pressure of a strip
footing by elastic theory, are for the engineer who designs a support that the tables leave out.
"""

from __future__ import annotations

import math

from survey.engineering._steps import given, inches, kept, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.vocabulary import DOES_NOT_APPLY, Kind

_APPENDIX = "29 CFR 1926 Subpart P App. C Tables C-1.1 to C-1.3"
_RANKINE = "Rankine; tan2(45 - phi/2), Bowles, Foundation Analysis and Design, 5th ed."
_COHESION = "Rankine with cohesion, from memory"
_ELASTIC = "elastic half-space, strip load, doubled for a side that does not yield, from memory"
_CUT = "NAVFAC DM 7.2, Eq. 2-1 (4 su / gamma)"
_LOWER_BOUND = "lower bound of plasticity, 2 su / gamma, from memory"

# psf for each foot of depth, by soil class.
PRESSURE_PER_FOOT = {"A": 25.0, "B": 45.0, "C": 80.0}
SURCHARGE_PSF = 72.0  # 2 ft of soil, as Appendix C counts it
_SHALLOWEST_IN = 60.0
_DEEPEST_IN = 240.0


@kept
def appendix_c_pressure(soil_class: str, pit_depth_in: float) -> Result:
    """Side pressure that the timber tables of Appendix C are made for, at the floor of the pit.

    pa = k H + 72, H in ft; k = 25 psf per foot in type A, 45 in type B, 80 in type C. The
    72 psf stand for 2 ft of soil beside the pit. A footing is not in it.

    Args:
        soil_class: class that the pit is held to.
        pit_depth_in: H, in, 60 to 240.

    Returns:
        Pressure, psf. ``DOES_NOT_APPLY`` in stable rock, which needs no support.

    Not known when:
        The depth is out of its range, or the class is none of Appendix A.

    Source:
        29 CFR 1926 Subpart P App. C Tables C-1.1 to C-1.3, headings, from memory.

    >>> appendix_c_pressure("B", 120.0).value
    522.0
    """
    if soil_class == "stable rock":
        return Result(DOES_NOT_APPLY, "stable rock needs no support, 29 CFR 1926.652(a)(1)(i)")
    if soil_class not in PRESSURE_PER_FOOT:
        return not_known(f"Appendix C gives no pressure for soil class {soil_class}")
    depth_in = round(pit_depth_in, 3)
    reason = outside(("pit depth", depth_in, _SHALLOWEST_IN, _DEEPEST_IN, "in"))
    if reason:
        return not_known(reason)
    rate, depth_ft = PRESSURE_PER_FOOT[soil_class], depth_in / 12
    pressure = rate * depth_ft + SURCHARGE_PSF
    source = f"{_APPENDIX}, from memory"
    lines = (
        noted("", "soil class", soil_class),
        inches("", "pit depth", depth_in),
        Line("H", "pit depth in feet", "depth / 12", f"{number(depth_in)} / 12",
             f"{number(depth_ft)} ft"),
        noted("k", "pressure for each foot of depth", f"{number(rate)} psf/ft", source),
        Line("pa", "side pressure at the floor", "k H + 72",
             f"{number(rate)} x {number(depth_ft)} + 72", f"{number(pressure)} psf", source),
    )  # fmt: skip
    valid = "5 ft to 20 ft deep; at most 2 ft of soil beside the pit, no footing"
    return Result(pressure, working=Working("Side pressure of Appendix C", source, valid, lines))


def rankine_active(friction_angle_deg: float) -> Result:
    """Coefficient of active earth pressure.

    Ka = tan2(45 - phi/2).

    Args:
        friction_angle_deg: phi, degrees, 0 to 45.

    Returns:
        Ka, a plain figure, 1 to 0.17.

    Not known when:
        The angle is out of its range.

    Source:
        Rankine: level ground, upright side without friction. Table in Bowles, Foundation
        Analysis and Design, 5th ed.

    >>> round(rankine_active(30.0).value, 4)
    0.3333
    """
    reason = outside(("friction angle", friction_angle_deg, 0.0, 45.0, "deg"))
    if reason:
        return not_known(reason)
    coefficient = _active(friction_angle_deg)
    lines = _active_lines(friction_angle_deg, coefficient)
    valid = "level ground, upright side, side free to yield"
    return Result(coefficient, working=Working("Active earth pressure", _RANKINE, valid, lines))


def _active(friction_angle_deg: float) -> float:
    return math.tan(math.radians(45 - friction_angle_deg / 2)) ** 2


def _active_lines(friction_angle_deg: float, coefficient: float) -> tuple[Line, ...]:
    return (
        noted("phi", "friction angle", f"{number(friction_angle_deg)} deg"),
        Line("Ka", "coefficient of active pressure", "tan2(45 - phi/2)",
             f"tan2(45 - {number(friction_angle_deg)}/2)", number(coefficient, 4), _RANKINE),
    )  # fmt: skip


def rankine_pressure(
    unit_weight_pcf: float,
    depth_in: float,
    friction_angle_deg: float,
    cohesion_psf: float,
    surcharge_psf: float,
) -> Result:
    """Active pressure of drained soil on an upright side, at a depth.

    pa = Ka (gamma z + q) - 2 c sqrt(Ka), at least 0: soil does not pull. Above
    zc = (2 c / sqrt(Ka) - q) / gamma the soil stands in a tension crack.

    Args:
        unit_weight_pcf: gamma, as it lies, pcf, 50 to 160.
        depth_in: z, below the ground, in, 0 to 720.
        friction_angle_deg: phi, degrees, 0 to 45; 0 for clay by its undrained strength.
        cohesion_psf: c, psf, 0 to 10,000. Take 0 for ground that was dug before.
        surcharge_psf: q, spread evenly over the ground beside the pit, psf, 0 to 20,000. The
            footing is no such load: see :func:`greatest_strip_pressure`.

    Returns:
        Pressure, psf, without that of any water. Nought does not mean that a side stands: a
        tension crack may fill with water, and the engineer adds its pressure.

    Not known when:
        A figure is out of its range.

    Source:
        Rankine, Bowles, Foundation Analysis and Design, 5th ed.; the term of cohesion and the
        tension crack are from memory.

    >>> rankine_pressure(120.0, 120.0, 30.0, 0.0, 0.0).value
    400.0
    """
    reason = outside(
        ("unit weight", unit_weight_pcf, 50.0, 160.0, "pcf"),
        ("depth", depth_in, 0.0, 720.0, "in"),
        ("friction angle", friction_angle_deg, 0.0, 45.0, "deg"),
        ("cohesion", cohesion_psf, 0.0, 10000.0, "psf"),
        ("surcharge", surcharge_psf, 0.0, 20000.0, "psf"),
    )
    if reason:
        return not_known(reason)
    coefficient = _active(friction_angle_deg)
    root = math.sqrt(coefficient)
    depth_ft = depth_in / 12
    vertical = unit_weight_pcf * depth_ft + surcharge_psf
    crack = max((2 * cohesion_psf / root - surcharge_psf) / unit_weight_pcf, 0.0)
    pull = 2 * cohesion_psf * root
    # Rounded to a millionth, so that Ka = 1/3 of a round figure is one.
    pressure = max(round(coefficient * vertical - pull, 6), 0.0)
    gamma, z, c, q = (
        number(figure) for figure in (unit_weight_pcf, depth_ft, cohesion_psf, surcharge_psf)
    )
    ka = number(coefficient, 4)
    lines = (
        noted("gamma", "unit weight", f"{gamma} pcf"),
        inches("", "depth below the ground", depth_in),
        Line("z", "depth in feet", "depth / 12", f"{number(depth_in)} / 12", f"{z} ft"),
        given("c", "cohesion", cohesion_psf, Kind.PRESSURE),
        given("q", "surcharge, spread evenly", surcharge_psf, Kind.PRESSURE),
        *_active_lines(friction_angle_deg, coefficient),
        Line("sv", "vertical stress", "gamma z + q", f"{gamma} x {z} + {q}",
             f"{number(vertical)} psf"),
        Line("zc", "depth of the tension crack", "(2 c / sqrt(Ka) - q) / gamma, at least 0",
             f"(2 x {c} / sqrt({ka}) - {q}) / {gamma}", f"{number(crack)} ft", _COHESION),
        Line("pa", "active pressure, without water", "Ka sv - 2 c sqrt(Ka), at least 0",
             f"{ka} x {number(vertical)} - 2 x {c} x sqrt({ka})", f"{number(pressure)} psf",
             _COHESION),
    )  # fmt: skip
    valid = (
        "level ground, upright side free to yield, no ground water; water in a tension crack "
        "is added by the engineer"
    )
    return Result(pressure, working=Working("Active pressure", _RANKINE, valid, lines))


def strip_load_pressure(
    footing_pressure_psf: float,
    clear_distance_in: float,
    footing_width_in: float,
    depth_below_footing_in: float,
) -> Result:
    """Pressure of a strip footing on the side of a pit, at one depth below its underside.

    ph = (2 q / pi) (beta - sin beta cos 2 alpha): from the point on the side, beta is the angle
    under which the footing is seen and alpha the angle from the vertical to its middle. Twice
    the stress of the half-space, since a braced side does not yield; a side that does is
    loaded less.

    Args:
        footing_pressure_psf: q, under the footing, psf, 0 to 100,000.
        clear_distance_in: a, in plan from the side to the footing's near edge, in, 0 to 6,000.
        footing_width_in: b, square to the side, in, 1 to 600.
        depth_below_footing_in: z, in, 0 to 720.

    Returns:
        Pressure, psf, on top of that of the soil. At one depth a footing that is nearer does
        not always press more; :func:`greatest_strip_pressure` looks at all depths.

    Not known when:
        A figure is out of its range.

    Source:
        Elastic theory, strip load on a half-space (as in Budhu, Soil Mechanics and Foundations,
        2011), doubled for a rigid side; from memory.

    >>> strip_load_pressure(1500.0, 0.0, 24.0, 0.0).value
    1500.0
    """
    reason = _strip_out_of_range(
        footing_pressure_psf, clear_distance_in, footing_width_in
    ) or outside(("depth below the footing", depth_below_footing_in, 0.0, 720.0, "in"))
    if reason:
        return not_known(reason)
    figures = (footing_pressure_psf, clear_distance_in, footing_width_in)
    pressure, lines = _strip_at(*figures, depth_below_footing_in)
    lines = (*_strip_given(*figures), inches("z", "depth below its underside",
                                            depth_below_footing_in), *lines)  # fmt: skip
    return Result(pressure, working=_strip_working("Pressure of the footing on the side", lines))


def greatest_strip_pressure(
    footing_pressure_psf: float,
    clear_distance_in: float,
    footing_width_in: float,
    pit_below_footing_in: float,
) -> Result:
    """Greatest pressure of a strip footing on the side of a pit, over its depth.

    That of :func:`strip_load_pressure` at the least of h and
    zm = sqrt((x1 x2)^1.5 / (x1 + sqrt(x1 x2) + x2)), x1 = a and x2 = a + b, where its
    derivative is nought. Beside the footing (a = 0) it is q itself, at the underside.

    Args:
        footing_pressure_psf: q, under the footing, psf, 0 to 100,000.
        clear_distance_in: a, in plan from the side to the footing's near edge, in, 0 to 6,000.
        footing_width_in: b, square to the side, in, 1 to 600.
        pit_below_footing_in: h, pit floor below the footing's underside, in, 0 to 720.

    Returns:
        Pressure, psf, on top of that of the soil.

    Not known when:
        A figure is out of its range.

    Source:
        As :func:`strip_load_pressure`; the depth of the greatest follows by calculus.

    >>> greatest_strip_pressure(1500.0, 0.0, 24.0, 36.0).value
    1500.0
    """
    reason = _strip_out_of_range(
        footing_pressure_psf, clear_distance_in, footing_width_in
    ) or outside(("pit floor below the footing", pit_below_footing_in, 0.0, 720.0, "in"))
    if reason:
        return not_known(reason)
    figures = (footing_pressure_psf, clear_distance_in, footing_width_in)
    near, far = clear_distance_in, clear_distance_in + footing_width_in
    product = near * far
    peak = math.sqrt(product**1.5 / (near + math.sqrt(product) + far))
    depth = min(peak, pit_below_footing_in)
    pressure, steps = _strip_at(*figures, depth)
    x1, x2, h = (number(figure) for figure in (near, far, pit_below_footing_in))
    lines = (
        *_strip_given(*figures),
        inches("h", "pit floor below its underside", pit_below_footing_in),
        Line("zm", "depth of the greatest pressure",
             "sqrt((x1 x2)^1.5 / (x1 + sqrt(x1 x2) + x2)), x1 = a, x2 = a + b",
             f"sqrt(({x1} x {x2})^1.5 / ({x1} + sqrt({x1} x {x2}) + {x2}))",
             f"{number(peak)} in", "calculus"),
        Line("z", "depth below its underside", "min(zm, h)", f"min({number(peak)}, {h})",
             f"{number(depth)} in"),
        *steps,
    )  # fmt: skip
    title = "Greatest pressure of the footing on the side"
    return Result(pressure, working=_strip_working(title, lines))


def strip_load_thrust(
    footing_pressure_psf: float,
    clear_distance_in: float,
    footing_width_in: float,
    pit_below_footing_in: float,
) -> Result:
    """Thrust of a strip footing on the side of a pit, per foot along it.

    P = (2 q / pi) h (t2 - t1), t1 = atan(a / h), t2 = atan((a + b) / h): the sum of
    :func:`strip_load_pressure` from the footing's underside down to the floor.

    Args:
        footing_pressure_psf: q, under the footing, psf, 0 to 100,000.
        clear_distance_in: a, in plan from the side to the footing's near edge, in, 0 to 6,000.
        footing_width_in: b, square to the side, in, 1 to 600.
        pit_below_footing_in: h, pit floor below the footing's underside, in, 0 to 720.

    Returns:
        Thrust, plf, on top of that of the soil.

    Not known when:
        A figure is out of its range.

    Source:
        As :func:`strip_load_pressure`; closed sum as in Das, Principles of Foundation
        Engineering, P = (q / 90) h (t2 - t1) in degrees, from memory.

    >>> round(strip_load_thrust(1500.0, 0.0, 24.0, 48.0).value, 3)
    1771.003
    """
    reason = _strip_out_of_range(
        footing_pressure_psf, clear_distance_in, footing_width_in
    ) or outside(("pit floor below the footing", pit_below_footing_in, 0.0, 720.0, "in"))
    if reason:
        return not_known(reason)
    near, far = clear_distance_in, clear_distance_in + footing_width_in
    if pit_below_footing_in == 0:
        lines = (
            *_strip_given(footing_pressure_psf, clear_distance_in, footing_width_in),
            inches("h", "pit floor below its underside", pit_below_footing_in),
            Line("P", "thrust of the footing", "0 where h = 0", "h = 0", "0 plf", _ELASTIC),
        )
        return Result(0.0, working=_strip_working("Thrust of the footing on the side", lines))
    t1, t2 = math.atan2(near, pit_below_footing_in), math.atan2(far, pit_below_footing_in)
    thrust = 2 * footing_pressure_psf / math.pi * pit_below_footing_in / 12 * (t2 - t1)
    q, h = number(footing_pressure_psf), number(pit_below_footing_in)
    lines = (
        *_strip_given(footing_pressure_psf, clear_distance_in, footing_width_in),
        inches("h", "pit floor below its underside", pit_below_footing_in),
        Line("t1", "angle to its near edge", "atan(a / h)", f"atan({number(near)} / {h})",
             f"{number(t1, 4)} rad"),
        Line("t2", "angle to its far edge", "atan((a + b) / h)", f"atan({number(far)} / {h})",
             f"{number(t2, 4)} rad"),
        Line("P", "thrust of the footing", "(2 q / pi) (h / 12) (t2 - t1)",
             f"(2 x {q} / pi) x ({h} / 12) x ({number(t2, 4)} - {number(t1, 4)})",
             f"{number(thrust)} plf", _ELASTIC),
    )  # fmt: skip
    return Result(thrust, working=_strip_working("Thrust of the footing on the side", lines))


def _strip_out_of_range(pressure_psf: float, clear_in: float, width_in: float) -> str:
    return outside(
        ("footing pressure", pressure_psf, 0.0, 100000.0, "psf"),
        ("clear distance of the footing", clear_in, 0.0, 6000.0, "in"),
        ("footing width", width_in, 1.0, 600.0, "in"),
    )


def _strip_given(pressure_psf: float, clear_in: float, width_in: float) -> tuple[Line, ...]:
    return (
        given("q", "pressure under the footing", pressure_psf, Kind.PRESSURE),
        inches("a", "from the side to the footing's near edge", clear_in),
        inches("b", "footing width", width_in),
    )


def _strip_at(
    pressure_psf: float, clear_in: float, width_in: float, depth_in: float
) -> tuple[float, tuple[Line, ...]]:
    if depth_in == 0:
        # Level with the underside the angles are 0 or 90 degrees, and the formula gives q or 0.
        side = 0.0 if clear_in else float(pressure_psf)
        told = (number(clear_in), number(pressure_psf))
        return side, (
            Line("ph", "pressure of the footing on the side, level with its underside",
                 "q where a = 0, else 0", "a = {}, q = {}".format(*told), f"{number(side)} psf",
                 _ELASTIC),
        )  # fmt: skip
    t1, t2 = math.atan2(clear_in, depth_in), math.atan2(clear_in + width_in, depth_in)
    beta, alpha = t2 - t1, (t1 + t2) / 2
    side = 2 * pressure_psf / math.pi * (beta - math.sin(beta) * math.cos(2 * alpha))
    side = max(round(side, 6), 0.0)  # rounding noise far away
    q, a, b, z = (number(figure) for figure in (pressure_psf, clear_in, width_in, depth_in))
    bn, an = number(beta, 4), number(alpha, 4)
    return side, (
        Line("beta", "angle under which the footing is seen", "atan((a + b) / z) - atan(a / z)",
             f"atan(({a} + {b}) / {z}) - atan({a} / {z})", f"{bn} rad"),
        Line("alpha", "angle from the vertical to its middle",
             "(atan((a + b) / z) + atan(a / z)) / 2",
             f"(atan(({a} + {b}) / {z}) + atan({a} / {z})) / 2", f"{an} rad"),
        Line("ph", "pressure of the footing on the side",
             "(2 q / pi) (beta - sin beta cos 2 alpha)",
             f"(2 x {q} / pi) x ({bn} - sin {bn} x cos(2 x {an}))", f"{number(side)} psf",
             _ELASTIC),
    )  # fmt: skip


def _strip_working(title: str, lines: tuple[Line, ...]) -> Working:
    valid = (
        "long strip along the side, even pressure, footing not dug under; elastic ground, side "
        "that does not yield; the soil's own pressure comes on top"
    )
    return Working(title, _ELASTIC, valid, lines)


def critical_height(undrained_strength_psf: float, unit_weight_pcf: float) -> Result:
    """Height of an upright cut in intact clay that theory allows; for information only.

    Hl = 2 su / gamma, by the lower bound; by the upper bound it falls at Hu = 4 su / gamma. The
    lower is given. It is no permission to stand in a cut without support: fissures, water,
    drying, loads beside the cut and time are not in it, and 29 CFR 1926.652 does not know it.

    Args:
        undrained_strength_psf: su, half of the unconfined strength, psf, 0 to 10,000.
        unit_weight_pcf: gamma, pcf, 50 to 160.

    Returns:
        Hl, in.

    Not known when:
        A figure is out of its range.

    Source:
        NAVFAC DM 7.2, Eq. 2-1, for 4 su / gamma; 2 su / gamma from memory.

    >>> critical_height(500.0, 120.0).value
    100.0
    """
    reason = outside(
        ("undrained strength", undrained_strength_psf, 0.0, 10000.0, "psf"),
        ("unit weight", unit_weight_pcf, 50.0, 160.0, "pcf"),
    )
    if reason:
        return not_known(reason)
    strength, gamma = number(undrained_strength_psf), number(unit_weight_pcf)
    upper = 12 * 4 * undrained_strength_psf / unit_weight_pcf
    lower = 12 * 2 * undrained_strength_psf / unit_weight_pcf
    lines = (
        given("su", "undrained shear strength", undrained_strength_psf, Kind.PRESSURE),
        noted("gamma", "unit weight", f"{gamma} pcf"),
        Line("Hu", "height at which the cut falls", "12 x 4 su / gamma",
             f"12 x 4 x {strength} / {gamma}", f"{number(upper)} in", _CUT),
        noted("", "use", "for information only; no permission to leave a side without support",
              "29 CFR 1926.652(a)(1)"),
        Line("Hl", "height that theory allows", "12 x 2 su / gamma",
             f"12 x 2 x {strength} / {gamma}", f"{number(lower)} in", _LOWER_BOUND),
    )  # fmt: skip
    valid = "intact clay without fissures or water, nothing beside the cut, short term"
    return Result(lower, working=Working("Height of an upright cut", _CUT, valid, lines))


@kept
def footing_pressure(line_load_plf: float, width_in: float) -> Result:
    """Pressure of a footing on the ground, by the load of its wall.

    q = 12 w / b.

    Args:
        line_load_plf: w, service load per foot of wall, plf, 0 to 1,000,000.
        width_in: b, width of the footing, or of the wall where there is none, in, 2 to 120.

    Returns:
        Pressure, psf, even over the width.

    Not known when:
        A figure is out of its range.

    Source:
        Statics.

    >>> footing_pressure(2000.0, 20.0).value
    1200.0
    """
    reason = outside(
        ("line load", line_load_plf, 0.0, 1e6, "plf"), ("footing width", width_in, 2.0, 120.0, "in")
    )
    if reason:
        return not_known(reason)
    pressure = 12 * line_load_plf / width_in
    lines = (
        given("w", "load per foot of wall", line_load_plf, Kind.LINE_LOAD),
        inches("b", "width on the ground", width_in),
        Line("q", "pressure on the ground", "12 w / b",
             f"12 x {number(line_load_plf)} / {number(width_in)}", f"{number(pressure)} psf"),
    )  # fmt: skip
    valid = "load down the middle of the footing"
    return Result(pressure, working=Working("Pressure of the footing", "statics", valid, lines))
