"""Post-installed anchors that hold a bracket to a footing: a screening by ACI 318-19 chapter 17.

Covered are steel and concrete breakout, in tension and shear, and pryout, for one row of equal
expansion, screw or undercut anchors in cracked concrete of normal weight without supplementary
reinforcement. Pullout, splitting, adhesive anchors and earthquake are not: they need the evaluation
report of the anchor that is used. So an anchor use below 100 % does not yet mean that it holds.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from survey.engineering._steps import given, inches, kept, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.vocabulary import Kind

# UNC thread, ASME B1.1, from memory: threads an inch by diameter in. The stressed area is
# pi / 4 (da - 0.9743 / nt)^2, ACI 318-19 R17.6.1.2.
THREADS = {
    0.25: 20, 0.375: 16, 0.5: 13, 0.625: 11, 0.75: 10, 0.875: 9, 1.0: 8, 1.25: 7,
}  # fmt: skip

_PSF_PER_PSI = 144.0
_KC = 17.0  # 17.6.2.2.1, post-installed, cracked
_HIGHEST_ROOT_PSI = 100.0
_HIGHEST_STRENGTH_PSI = 8000.0  # 17.3.1, post-installed
_HIGHEST_STEEL_PSI = 125000.0  # 17.6.1.2
_PHI_STEEL_TENSION = 0.65  # Table 17.5.3(a), brittle
_PHI_STEEL_SHEAR = 0.60
_PHI_BREAKOUT_TENSION = {1: 0.65, 2: 0.55, 3: 0.45}  # Table 17.5.3(b), by anchor category
_PHI_BREAKOUT_SHEAR = 0.70
_EDGE_DIAMETERS = 10.0  # 17.9.2, the most that any kind of anchor needs without its own tests
_SPACING_DIAMETERS = 6.0
_SOURCE = "ACI 318-19 ch. 17, from memory"
_VALID = (
    "screening only: one row of equal expansion, screw or undercut anchors, cracked concrete, no "
    "end of the concrete within 1.5 hef beside the row, no earthquake; pullout and splitting by "
    "the anchor's evaluation report"
)


class Anchors(NamedTuple):
    """The anchors of one bracket: a row along the wall, in the face of the footing.

    Args:
        in_row: n, in the row, a whole number, 1 to 8.
        diameter_in: da, in, 1/4, 3/8, 1/2, 5/8, 3/4, 7/8, 1 or 1 1/4.
        embedment_in: hef, effective embedment by the maker's data, in, 1.5 to 12.
        spacing_in: s, middle to middle, in, at least 6 da and at most 48; not used for one.
        edge_in: ca, to the nearest edge of the concrete, which a cut or the end of the footing
            is too, in, at least 10 da and at most 120. Taken both above and below the row, see
            :func:`tension_strength`.
        concrete_in: ha, concrete behind the face, in the direction of the anchor, in, 2 to 120.
        strength_psf: f'c, psf, 360,000 to 1,728,000 (2,500 to 12,000 psi); counts at most as
            8,000 psi.
        steel_psf: futa, tensile strength of the anchor's steel, psf, 5,760,000 to 36,000,000
            (40,000 to 250,000 psi); counts at most as 125,000 psi and should not be above 1.9
            times its yield strength.
        category: 1, 2 or 3 by the evaluation report; 3 where it is not at hand.
    """

    in_row: float
    diameter_in: float
    embedment_in: float
    spacing_in: float
    edge_in: float
    concrete_in: float
    strength_psf: float
    steel_psf: float
    category: float


@kept
def bracket_tension(factored_load_lb: float, eccentricity_in: float, lever_arm_in: float) -> Result:
    """Tension in the anchors of a bracket, from its load standing off the bearing.

    Nu = Pu e / z.

    Args:
        factored_load_lb: Pu, factored load on the bracket, lb, 0 to 1,000,000.
        eccentricity_in: e, from the middle of the bearing to the middle of the pier's tube, in,
            0 to 48.
        lever_arm_in: z, from the row of anchors to the middle of where the bracket presses on the
            concrete, in, 1 to 96.

    Returns:
        Lb, in all anchors of the row together.

    Not known when:
        A figure is out of its range.

    Source:
        Statics.

    >>> bracket_tension(20000.0, 3.0, 12.0).value
    5000.0
    """
    reason = outside(
        ("factored load on the pier", factored_load_lb, 0.0, 1e6, "lb"),
        ("bracket eccentricity", eccentricity_in, 0.0, 48.0, "in"),
        ("lever arm of the anchors", lever_arm_in, 1.0, 96.0, "in"),
    )
    if reason:
        return not_known(reason)
    tension = factored_load_lb * eccentricity_in / lever_arm_in
    lines = (
        given("Pu", "factored load on the bracket", factored_load_lb, Kind.FORCE),
        inches("e", "bracket eccentricity", eccentricity_in),
        inches("z", "lever arm of the anchors", lever_arm_in),
        Line("Nu", "tension in the anchors", "Pu e / z",
             f"{number(factored_load_lb)} x {number(eccentricity_in)} / {number(lever_arm_in)}",
             f"{number(tension)} lb", "statics"),
    )  # fmt: skip
    working = Working("Tension in the anchors", "statics", "rigid bracket", lines)
    return Result(tension, working=working)


def tension_strength(anchors: Anchors) -> Result:
    """Design tension strength of the row, the smaller of steel and concrete breakout.

    phi Nsa = 0.65 n Ase futa; phi Ncbg is phi times the lesser of two nominal strengths:

    (a) three or more near edges: h = min(hef, ca / 1.5), psi_ed = 1, Nb = 17 lambda sqrt(f'c)
    h^1.5, Ncbg = ANc / (9 h^2) Nb, ANc = (3 h + (n - 1) min(s, 3 h)) 3 h;

    (b) the two near edges of a footing's face, its top and its underside, for which the clause
    does not limit hef: Ncbg = ANc / (9 hef^2) psi_ed Nb, Nb with hef, psi_ed = 0.7 + 0.3 ca /
    (1.5 hef), at most 1, ANc = (3 hef + (n - 1) min(s, 3 hef)) 2 min(ca, 1.5 hef), so clipped at
    both edges and not along the wall.

    The lesser is a choice on the safe side: (a) alone may be over (b) for an anchor that is deeper
    than ca / 1.5. So near an edge more embedment may not help, and may even show as less. An end of
    the concrete within 1.5 hef beside the row is not covered: the strength may then be less
    than both.

    Args:
        anchors: the row; its figures have their ranges there.

    Returns:
        Lb.

    Not known when:
        A figure is out of its range; an edge is nearer than 10 da or a neighbour than 6 da; or
        the anchor is deeper than max(2/3 ha, ha - 4 in).

    Source:
        ACI 318-19 17.6.1.2, 17.6.2 (three or more edges: 17.6.2.1.2; edge: 17.6.2.4.1), Table
        17.5.3, 17.9.2, 17.9.4, from memory. That steel counts as brittle is a choice.

    >>> row = Anchors(2, 0.5, 3.0, 6.0, 6.0, 16.0, 2500 * 144, 75000 * 144, 1)
    >>> round(tension_strength(row).value)
    4785
    """
    reason = _out_of_range(anchors)
    if reason:
        return not_known(reason)
    tension, _, lines = _tension(anchors)
    return Result(tension, working=Working("Tension strength", _SOURCE, _VALID, lines))


def shear_strength(anchors: Anchors) -> Result:
    """Design shear strength of the row: the least of steel, breakout to the edge and pryout.

    phi Vsa = 0.60 n 0.6 Ase futa; phi Vcbg = 0.70 (AVc / AVco) psi_ed psi_h Vb with
    Vb = min(7 (le / da)^0.2 sqrt(da), 9) lambda sqrt(f'c) ca^1.5, le = min(hef, 8 da),
    AVco = 4.5 ca^2, AVc = (2 ca + (n - 1) min(s, 3 ca)) min(1.5 ca, ha), psi_ed = 0.9,
    psi_h = sqrt(1.5 ca / ha), at least 1; phi Vcpg = 0.70 kcp Ncbg, kcp 1 below hef 2.5 in, else 2.

    Args:
        anchors: the row; its figures have their ranges there.

    Returns:
        Lb, whichever way the shear acts.

    Not known when:
        As for :func:`tension_strength`.

    Source:
        ACI 318-19 17.7.1.2, 17.7.2, 17.7.3, Table 17.5.3, from memory.

    >>> row = Anchors(2, 0.5, 3.0, 6.0, 6.0, 16.0, 2500 * 144, 75000 * 144, 1)
    >>> round(shear_strength(row).value)
    3279
    """
    reason = _out_of_range(anchors)
    if reason:
        return not_known(reason)
    _, breakout, lines = _tension(anchors)
    shear, more = _shear(anchors, breakout)
    return Result(shear, working=Working("Shear strength", _SOURCE, _VALID, lines + more))


@kept
def anchor_use(tension_lb: float, shear_lb: float, anchors: Anchors) -> Result:
    """Load on a bracket's anchors, as a share of their strength.

    use = 100 max(Nu / phi Nn, Vu / phi Vn, (Nu / phi Nn + Vu / phi Vn) / 1.2).

    Args:
        tension_lb: Nu, factored, in all of them, lb, 0 to 10^8, see :func:`bracket_tension`.
        shear_lb: Vu, factored, in all of them, lb, 0 to 10^8. The whole load on the pier unless
            the bracket bears on the underside of the footing.
        anchors: the row; its figures have their ranges there.

    Returns:
        Percent.

    Not known when:
        As for :func:`tension_strength`.

    Source:
        ACI 318-19 17.8 (interaction) and as for both strengths, from memory.

    >>> row = Anchors(2, 0.5, 3.0, 6.0, 6.0, 16.0, 2500 * 144, 75000 * 144, 1)
    >>> round(anchor_use(2392.0, 0.0, row).value)
    50
    """
    reason = _out_of_range(anchors) or outside(
        ("tension in the anchors", tension_lb, 0.0, 1e8, "lb"),
        ("shear in the anchors", shear_lb, 0.0, 1e8, "lb"),
    )
    if reason:
        return not_known(reason)
    tension, breakout, lines = _tension(anchors)
    shear, more = _shear(anchors, breakout)
    pulled, sheared = 100 * tension_lb / tension, 100 * shear_lb / shear
    share = max(pulled, sheared, (pulled + sheared) / 1.2)
    pn, sn = number(pulled), number(sheared)
    steps = (
        given("Nu", "tension in the anchors", tension_lb, Kind.FORCE),
        given("Vu", "shear in the anchors", shear_lb, Kind.FORCE),
        Line("rn", "share of the tension strength", "100 Nu / (phi Nn)",
             f"100 x {number(tension_lb)} / {number(tension)}", f"{pn} %"),
        Line("rv", "share of the shear strength", "100 Vu / (phi Vn)",
             f"100 x {number(shear_lb)} / {number(shear)}", f"{sn} %"),
        Line("use", "share of the strength", "max(rn, rv, (rn + rv) / 1.2)",
             f"max({pn}, {sn}, ({pn} + {sn}) / 1.2)", f"{number(share)} %",
             "ACI 318-19 17.8, from memory"),
    )  # fmt: skip
    working = Working("Anchors of the bracket", _SOURCE, _VALID, (*lines, *more, *steps))
    return Result(share, working=working)


def _tension(anchors: Anchors) -> tuple[float, float, tuple[Line, ...]]:
    """Design tension strength, nominal breakout strength of the row, and the steps."""
    n, hef, edge = anchors.in_row, anchors.embedment_in, anchors.edge_in
    area, root = _steel_area(anchors.diameter_in), _root(anchors.strength_psf)
    steel = min(anchors.steel_psf / _PSF_PER_PSI, _HIGHEST_STEEL_PSI)
    strong = _PHI_STEEL_TENSION * n * area * steel
    depth = min(hef, edge / 1.5)
    apart = min(anchors.spacing_in, 3 * depth) if n > 1 else 0.0
    cone = (3 * depth + (n - 1) * apart) * 3 * depth
    basic = _KC * root * depth**1.5
    around = cone / (9 * depth * depth) * basic
    # 17.6.2.1.2 is for three or more near edges; top and underside of a footing are two
    full_apart = min(anchors.spacing_in, 3 * hef) if n > 1 else 0.0
    clear = min(edge, 1.5 * hef)
    full_cone = (3 * hef + (n - 1) * full_apart) * 2 * clear
    full_basic = _KC * root * hef**1.5
    psi = 0.7 + 0.3 * clear / (1.5 * hef)
    between = full_cone / (9 * hef * hef) * psi * full_basic
    nominal = min(around, between)
    phi = _PHI_BREAKOUT_TENSION[int(anchors.category)]
    breakout = phi * nominal
    least = min(strong, breakout)
    nn, hn, an, fn, bn = number(n), number(depth), number(cone), number(hef), number(full_cone)
    once, twice = number(around), number(between)
    lines = (
        noted("n, da", "anchors in the row and their diameter",
              f"{nn}, {number(anchors.diameter_in)} in"),
        inches("hef", "effective embedment", hef),
        noted("s, ca", "spacing, and distance to the nearest edge",
              f"{number(anchors.spacing_in)} in, {number(edge)} in"),
        inches("ha", "concrete behind the face", anchors.concrete_in),
        given("f'c", "concrete strength, at most 8,000 psi counted",
              min(anchors.strength_psf, _HIGHEST_STRENGTH_PSI * _PSF_PER_PSI), Kind.PRESSURE, "psi",
              source="ACI 318-19 17.3.1, from memory"),
        noted("futa", "strength of the steel, at most 125,000 psi counted",
              f"{number(steel)} psi", "ACI 318-19 17.6.1.2, from memory"),
        Line("Ase", "stressed area of the thread", "pi / 4 (da - 0.9743 / nt)^2",
             f"3.141593 / 4 x ({number(anchors.diameter_in)} - 0.9743 / "
             f"{THREADS[anchors.diameter_in]})^2", f"{number(area, 5)} in2",
             "ACI 318-19 R17.6.1.2; UNC thread, from memory"),
        Line("phi Nsa", "steel in tension, counted as brittle", "phi n Ase futa",
             f"{_PHI_STEEL_TENSION:g} x {nn} x {number(area, 5)} x {number(steel)}",
             f"{number(strong)} lb", "ACI 318-19 17.6.1.2, Table 17.5.3, from memory"),
        Line("h", "(a) three or more near edges: embedment that counts", "min(hef, ca / 1.5)",
             f"min({fn}, {number(edge)} / 1.5)", f"{hn} in",
             "ACI 318-19 17.6.2.1.2, from memory"),
        Line("Nba", "(a) breakout of one anchor", "kc lambda sqrt(f'c) h^1.5",
             f"{_KC:g} x 1 x {number(root)} x {hn}^1.5", f"{number(basic)} lb",
             "ACI 318-19 17.6.2.2.1, from memory"),
        Line("ANca", "(a) area of the breakout", "(3 h + (n - 1) min(s, 3 h)) 3 h",
             f"(3 x {hn} + ({nn} - 1) x {number(apart)}) x 3 x {hn}", f"{an} in2",
             "ACI 318-19 17.6.2.1.1, from memory"),
        Line("Ncbga", "(a) breakout of the row, psi_ed = 1", "ANca / (9 h^2) Nba",
             f"{an} / (9 x {hn}^2) x {number(basic)}", f"{once} lb",
             "ACI 318-19 17.6.2.1, from memory"),
        Line("psi_ed", "(b) two near edges, all of the embedment: effect of the nearer edge",
             "0.7 + 0.3 min(ca, 1.5 hef) / (1.5 hef)",
             f"0.7 + 0.3 x {number(clear)} / (1.5 x {fn})", number(psi, 5),
             "ACI 318-19 17.6.2.4.1, from memory"),
        Line("Nbb", "(b) breakout of one anchor", "kc lambda sqrt(f'c) hef^1.5",
             f"{_KC:g} x 1 x {number(root)} x {fn}^1.5", f"{number(full_basic)} lb",
             "ACI 318-19 17.6.2.2.1, from memory"),
        Line("ANcb", "(b) area of the breakout, clipped at top and underside",
             "(3 hef + (n - 1) min(s, 3 hef)) 2 min(ca, 1.5 hef)",
             f"(3 x {fn} + ({nn} - 1) x {number(full_apart)}) x 2 x {number(clear)}",
             f"{bn} in2", "ACI 318-19 17.6.2.1.1, from memory"),
        Line("Ncbgb", "(b) breakout of the row", "ANcb / (9 hef^2) psi_ed Nbb",
             f"{bn} / (9 x {fn}^2) x {number(psi, 5)} x {number(full_basic)}", f"{twice} lb",
             "ACI 318-19 17.6.2.1, from memory"),
        Line("Ncbg", "breakout of the row, the lesser of (a) and (b)", "min(Ncbga, Ncbgb)",
             f"min({once}, {twice})", f"{number(nominal)} lb"),
        Line("phi Ncbg", f"breakout in tension, anchor category {number(anchors.category)}",
             "phi Ncbg", f"{phi:g} x {number(nominal)}",
             f"{number(breakout)} lb", "ACI 318-19 Table 17.5.3, from memory"),
        Line("phi Nn", "tension strength", "the smaller of both", "", f"{number(least)} lb"),
    )  # fmt: skip
    return least, nominal, lines


def _shear(anchors: Anchors, breakout: float) -> tuple[float, tuple[Line, ...]]:
    """Design shear strength and its steps; needs the nominal breakout strength in tension."""
    n, da, hef, edge = anchors.in_row, anchors.diameter_in, anchors.embedment_in, anchors.edge_in
    area, root = _steel_area(da), _root(anchors.strength_psf)
    steel = min(anchors.steel_psf / _PSF_PER_PSI, _HIGHEST_STEEL_PSI)
    strong = _PHI_STEEL_SHEAR * n * 0.6 * area * steel
    bearing = min(hef, 8 * da)
    factor = min(7 * (bearing / da) ** 0.2 * math.sqrt(da), 9.0)
    basic = factor * root * edge**1.5
    deep = min(1.5 * edge, anchors.concrete_in)
    apart = min(anchors.spacing_in, 3 * edge) if n > 1 else 0.0
    half = (2 * edge + (n - 1) * apart) * deep
    thin = max(math.sqrt(1.5 * edge / anchors.concrete_in), 1.0)
    edge_breakout = _PHI_BREAKOUT_SHEAR * half / (4.5 * edge * edge) * 0.9 * thin * basic
    kcp = 1.0 if hef < 2.5 else 2.0
    pryout = _PHI_BREAKOUT_SHEAR * kcp * breakout
    least = min(strong, edge_breakout, pryout)
    nn, cn = number(n), number(edge)
    lines = (
        Line("phi Vsa", "steel in shear, counted as brittle", "phi n 0.6 Ase futa",
             f"{_PHI_STEEL_SHEAR:g} x {nn} x 0.6 x {number(area, 5)} x {number(steel)}",
             f"{number(strong)} lb", "ACI 318-19 17.7.1.2, Table 17.5.3, from memory"),
        Line("Vb", "breakout of one anchor to the edge, le = min(hef, 8 da)",
             "min(7 (le / da)^0.2 sqrt(da), 9) lambda sqrt(f'c) ca^1.5",
             f"{number(factor, 5)} x 1 x {number(root)} x {cn}^1.5", f"{number(basic)} lb",
             "ACI 318-19 17.7.2.2.1, from memory"),
        Line("AVc", "area of the breakout", "(2 ca + (n - 1) min(s, 3 ca)) min(1.5 ca, ha)",
             f"(2 x {cn} + ({nn} - 1) x {number(apart)}) x {number(deep)}",
             f"{number(half)} in2", "ACI 318-19 17.7.2.1.1, from memory"),
        Line("phi Vcbg", "breakout in shear, psi_ed = 0.9, psi_h = sqrt(1.5 ca / ha) at least 1",
             "phi AVc / (4.5 ca^2) psi_ed psi_h Vb",
             f"{_PHI_BREAKOUT_SHEAR:g} x {number(half)} / (4.5 x {cn}^2) x 0.9 x "
             f"{number(thin, 5)} x {number(basic)}", f"{number(edge_breakout)} lb",
             "ACI 318-19 17.7.2, Table 17.5.3, from memory"),
        Line("phi Vcpg", "pryout, kcp 1 below hef 2.5 in, else 2", "phi kcp Ncbg",
             f"{_PHI_BREAKOUT_SHEAR:g} x {number(kcp)} x {number(breakout)}",
             f"{number(pryout)} lb", "ACI 318-19 17.7.3, from memory"),
        Line("phi Vn", "shear strength", "the least of the three", "", f"{number(least)} lb"),
    )  # fmt: skip
    return least, lines


def _steel_area(diameter_in: float) -> float:
    return math.pi / 4 * (diameter_in - 0.9743 / THREADS[diameter_in]) ** 2


def _root(strength_psf: float) -> float:
    psi = min(strength_psf / _PSF_PER_PSI, _HIGHEST_STRENGTH_PSI)
    return min(math.sqrt(psi), _HIGHEST_ROOT_PSI)


def _out_of_range(anchors: Anchors) -> str:
    da, ha = anchors.diameter_in, anchors.concrete_in
    reason = outside(
        ("anchors at a bracket", anchors.in_row, 1.0, 8.0, ""),
        ("anchor diameter", da, 0.25, 1.25, "in"),
        ("anchor embedment", anchors.embedment_in, 1.5, 12.0, "in"),
        ("distance to the nearest edge", anchors.edge_in, _EDGE_DIAMETERS * da, 120.0, "in"),
        ("concrete behind the face", ha, 2.0, 120.0, "in"),
        ("concrete strength", anchors.strength_psf / _PSF_PER_PSI, 2500.0, 12000.0, "psi"),
        ("strength of the anchor's steel", anchors.steel_psf / _PSF_PER_PSI, 40000.0, 250000.0,
         "psi"),
        ("anchor category", anchors.category, 1.0, 3.0, ""),
    )  # fmt: skip
    if reason:
        return reason
    if anchors.in_row != int(anchors.in_row) or anchors.category != int(anchors.category):
        return "the number of anchors and their category are whole numbers"
    if da not in THREADS:
        return f"an anchor of {da:g} in is of no size with a known thread"
    if anchors.in_row > 1:
        reason = outside(
            ("spacing of the anchors", anchors.spacing_in, _SPACING_DIAMETERS * da, 48.0, "in")
        )
        if reason:
            return reason
    deepest = max(2 / 3 * ha, ha - 4.0)
    if anchors.embedment_in > deepest:
        return (
            f"the anchor reaches {anchors.embedment_in:g} in into {ha:g} in of concrete; "
            f"ACI 318-19 17.9.4 allows {number(deepest)} in"
        )
    return ""
