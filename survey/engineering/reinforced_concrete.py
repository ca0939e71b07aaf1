"""Reinforced concrete footings, by the bottom bars that the survey found: ACI 318-19 ch. 9 and 22.

Only bars near the underside are known of. So a moment with the top in tension, as over a pier
between two spans, is carried by plain concrete alone (:mod:`survey.engineering.plain_concrete`),
and so is a moment with the underside in tension where the bars do not count: cut at the seat, not
anchored, plain (not deformed), or in concrete below 2,500 psi.

For bending only three quarters of the bars are counted. A beam with fewer bars than 9.6.1.2 asks
for must have a third more than the analysis needs (9.6.1.3); taken always, this meets the code
whatever the size of the section, and a thicker footing never looks worse than a thin one. The
footing has no stirrups. Concrete is of normal weight (lambda = 1).
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

from survey.engineering import plain_concrete
from survey.engineering._steps import given, inches, kept, noted, number, outside
from survey.engineering.plain_concrete import Section, Span
from survey.engineering.working import Line, Result, Working, not_known
from survey.vocabulary import Kind

# ASTM A615 Table 1, from memory: diameter in, area in2.
BAR_SIZES = {
    "#3": (0.375, 0.11),
    "#4": (0.500, 0.20),
    "#5": (0.625, 0.31),
    "#6": (0.750, 0.44),
    "#7": (0.875, 0.60),
    "#8": (1.000, 0.79),
}
DEFORMED = "deformed"
PLAIN = "plain"
UNDERSIDE = "underside"
TOP = "top"

_A615 = "ASTM A615 Table 1, from memory"
_METHOD = "ACI 318-19 ch. 9, 22 and 25, from memory"
_PSF_PER_PSI = 144.0
_STEEL_MODULUS_PSI = 29e6  # 20.2.2.2
_CRUSHING_STRAIN = 0.003  # 22.2.2.1
_HIGHEST_YIELD_PSI = 60000.0
_LEAST_STRENGTH_PSI = 2500.0  # Table 19.2.1.1; Table 22.2.2.4.3 begins there
_HIGHEST_ROOT_PSI = 100.0  # 22.5.3.1, 25.4.1.4
_COUNTED_SHARE = 0.75  # 1 / (4 / 3), 9.6.1.3
_PHI_SHEAR = 0.75  # Table 21.2.1(b)
_LEAST_DEVELOPMENT_IN = 12.0  # 25.4.2.1(b)
_LENGTH_STEP_IN = 0.001
_VALID = (
    "footing alone, no stirrups, bottom bars #3 to #8 as found, not corroded, f'c 2,500 to 12,000 "
    "psi; bars above 60,000 psi count as 60,000 psi"
)


class Bars(NamedTuple):
    """The bars found near the underside of a footing.

    Args:
        size: of all of them, ``#3`` to ``#8``; of mixed bars the smallest.
        continuous: how many run uncut through the whole span, past every seat, 0 to 40, a whole
            number. Bars that are cut for a bracket do not count.
        cover_in: clear concrete between them and the underside, in, 0.5 to 12.
        yield_psf: fy, psf, 4,320,000 to 11,520,000 (30,000 to 80,000 psi).
        anchored_in: sound length of bar on either side of the section with the greatest moment,
            on the shorter side, in, 0 to 6,000.
        surface: ``deformed``, or ``plain`` for smooth bars.
    """

    size: str
    continuous: float
    cover_in: float
    yield_psf: float
    anchored_in: float
    surface: str


def development_length(size: str, yield_psf: float, strength_psf: float) -> Result:
    """Length of a straight deformed bottom bar that it takes to anchor it.

    ld = 3 fy db / (50 lambda sqrt(f'c)) up to #6, 3 fy db / (40 lambda sqrt(f'c)) for #7 and #8,
    and at least 12 in: the row of "other cases", which holds for any cover and spacing. Bars are
    not coated and lie at the bottom.

    Args:
        size: of the bar, ``#3`` to ``#8``.
        yield_psf: fy, psf, 4,320,000 to 11,520,000 (30,000 to 80,000 psi); above 60,000 psi
            counts as 60,000 psi, in bending too.
        strength_psf: f'c, psf, 360,000 to 1,728,000 (2,500 to 12,000 psi); its root counts at
            most as 100 psi.

    Returns:
        In.

    Not known when:
        The size is none of these, or a figure is out of its range.

    Source:
        ACI 318-19 25.4.2.3 (other cases), 25.4.2.1, 25.4.2.5, from memory.

    >>> round(development_length("#4", 60000 * 144, 4000 * 144).value, 1)
    28.5
    """
    reason = _size_unknown(size) or outside(_yield_limit(yield_psf), _strength_limit(strength_psf))
    if reason:
        return not_known(reason)
    length = _development(size, yield_psf, strength_psf)
    diameter = BAR_SIZES[size][0]
    steel, root, over = _yield(yield_psf), _root(strength_psf), _divisor(diameter)
    lines = (
        noted("db", f"diameter of {size}", f"{number(diameter)} in", _A615),
        _yield_line(yield_psf),
        _strength_line(strength_psf),
        Line("ld", "development length", f"max(3 fy db / ({over} lambda sqrt(f'c)), 12)",
             f"max(3 x {number(steel)} x {number(diameter)} / ({over} x 1 x {number(root)}), 12)",
             f"{number(length)} in", "ACI 318-19 25.4.2.3, 25.4.2.1, from memory"),
    )  # fmt: skip
    return Result(length, working=_working("Development length of the bars", lines))


def flexural_strength(section: Section, bars: Bars) -> Result:
    """Design bending strength of a footing with bottom bars, tension at its underside.

    phi Mn = phi As fs (d - a / 2), a = As fs / (0.85 f'c b), with every bar that runs through
    counted and anchored. fs = fy unless the concrete crushes first; then fs = Es 0.003 (d - c) / c.
    phi = 0.65 + 0.25 (et - fy / Es) / 0.003, 0.65 to 0.90, with et = 0.003 (d - c) / c.

    Args:
        section: the footing; f'c 360,000 to 1,728,000 psf (2,500 to 12,000 psi) and the other
            ranges there.
        bars: its figures have their ranges there; at least one bar. How far they are anchored
            is not looked at.

    Returns:
        Lb-in.

    Not known when:
        A figure is out of its range, no bar runs through, the bars do not fit in or do not lie
        in the lower half.

    Source:
        ACI 318-19 22.2 (beta1 Table 22.2.2.4.3), Table 21.2.2, from memory.

    >>> wide = Section(4000 * 144, 12.0, 20.0)
    >>> round(flexural_strength(wide, Bars("#8", 4, 2.0, 60000 * 144, 60.0, "deformed")).value)
    2589713
    """
    reason = _out_of_range(section, bars) or outside(_strength_limit(section.strength_psf))
    if reason:
        return not_known(reason)
    if bars.continuous < 1:
        return not_known("no bar runs through uncut")
    area = bars.continuous * BAR_SIZES[bars.size][1]
    bent, steps = _bending(area, section, bars)
    lines = (*_input_lines(section, bars), *steps)
    return Result(bent, working=_working("Bending strength of the footing", lines))


def shear_strength(section: Section, bars: Bars) -> Result:
    """Design one-way shear strength of a footing with bottom bars and no stirrups.

    phi Vn = phi min(8 lambda_s lambda rho^(1/3), 1) sqrt(f'c) b d, rho = As / (b d),
    lambda_s = sqrt(2 / (1 + d / 10)), at most 1. The 1 is where a beam deeper than 10 in must have
    stirrups; it is taken for thin footings too.

    Args:
        section: the footing; f'c 360,000 to 1,728,000 psf (2,500 to 12,000 psi) and the other
            ranges there.
        bars: its figures have their ranges there; at least one bar.

    Returns:
        Lb.

    Not known when:
        As for :func:`flexural_strength`.

    Source:
        ACI 318-19 Table 22.5.5.1(c), 22.5.5.1.3, 9.6.3.1, Table 21.2.1, from memory. That the
        size effect counts although 13.2.6.2 would let a footing leave it out is a choice.

    >>> wide = Section(4000 * 144, 12.0, 20.0)
    >>> round(shear_strength(wide, Bars("#4", 2, 2.0, 60000 * 144, 60.0, "deformed")).value)
    8466
    """
    reason = _out_of_range(section, bars) or outside(_strength_limit(section.strength_psf))
    if reason:
        return not_known(reason)
    if bars.continuous < 1:
        return not_known("no bar runs through uncut")
    strength, steps = _shearing(section, bars)
    lines = (*_input_lines(section, bars), *steps)
    return Result(strength, working=_working("Shear strength of the footing", lines))


@kept
def bending_use(moment_in_lb: float, section: Section, bars: Bars, tension_at: str) -> Result:
    """Bending of a footing with bottom bars, as a share of its strength.

    use = 100 Mu / (phi Mn), phi Mn the larger of that of plain concrete and of that with three
    quarters of the bars. With the top in tension, or where the bars do not count, that of plain
    concrete.

    Args:
        moment_in_lb: Mu, factored bending moment, in-lb, 0 to 10^13.
        section: of the footing, where the moment is; its figures have their ranges there.
        bars: the bars found; their figures have their ranges there.
        tension_at: ``underside`` within a span, ``top`` over a pier or under an overhang.

    Returns:
        Percent.

    Not known when:
        A figure is out of its range, or the bars do not fit in or do not lie in the lower half.

    Source:
        As :func:`flexural_strength` and :func:`survey.engineering.plain_concrete.bending_use_for`;
        ACI 318-19 9.6.1.3, from memory.

    >>> section = Section(2500 * 144, 20.0, 10.0)
    >>> bars = Bars("#4", 2, 3.0, 60000 * 144, 48.0, "deformed")
    >>> round(bending_use(50000.0, section, bars, "underside").value, 1)
    47.2
    >>> round(bending_use(50000.0, section, bars, "top").value, 1)
    156.2
    """
    reason = (
        _face_unknown(tension_at)
        or _out_of_range(section, bars)
        or outside(("bending moment", moment_in_lb, 0.0, plain_concrete.GREATEST_MOMENT_IN_LB,
                    "in-lb"))
    )  # fmt: skip
    if reason:
        return not_known(reason)
    line = noted("Mu", "factored bending moment", f"{number(moment_in_lb)} lb-in")
    return _bent(moment_in_lb, section, bars, tension_at, (line,))


def shear_use(
    shear_lb: float, moment_in_lb: float, section: Section, bars: Bars, tension_at: str
) -> Result:
    """Shear of a footing with bottom bars, as a share of its strength.

    use = 100 Vu / (phi Vn). Where the bars count and the moment cracks the footing, phi Vn is that
    of :func:`shear_strength`; while it stays uncracked, the larger of that and of plain concrete;
    otherwise that of plain concrete. To be judged together with :func:`bending_use`, which is over
    100 % where plain concrete is cracked.

    Args:
        shear_lb: Vu, factored shear at d or h from the face of the support, whichever is nearer
            to it, or nearer still, lb, 0 to 10^10.
        moment_in_lb: Mu, greatest factored bending moment of the span on that side, in-lb, 0 to
            10^13.
        section: of the footing; its figures have their ranges there.
        bars: the bars found; their figures have their ranges there.
        tension_at: ``underside`` at the ends of a simple span, ``top`` beside a pier that the
            footing runs over.

    Returns:
        Percent.

    Not known when:
        As for :func:`bending_use`.

    Source:
        As :func:`shear_strength` and :func:`survey.engineering.plain_concrete.shear_use_for`.

    >>> section = Section(2500 * 144, 20.0, 10.0)
    >>> bars = Bars("#4", 2, 3.0, 60000 * 144, 48.0, "deformed")
    >>> round(shear_use(3000.0, 50000.0, section, bars, "underside").value, 1)
    59.3
    """
    reason = (
        _face_unknown(tension_at)
        or _out_of_range(section, bars)
        or outside(
            ("bending moment", moment_in_lb, 0.0, plain_concrete.GREATEST_MOMENT_IN_LB, "in-lb"),
            ("shear", shear_lb, 0.0, plain_concrete.GREATEST_SHEAR_LB, "lb"),
        )
    )
    if reason:
        return not_known(reason)
    line = given("Vu", "factored shear", shear_lb, Kind.FORCE)
    return _sheared((shear_lb, moment_in_lb, (line,)), section, bars, tension_at)


@kept
def pit_bending_use(span: Span, bars: Bars) -> Result:
    """Bending of a footing with bottom bars over an open pit, as a share of its strength.

    use = 100 Mu / (phi Mn), Mu as for :func:`survey.engineering.plain_concrete.pit_moment`, phi Mn
    as for :func:`bending_use`.

    Args:
        span: the footing; its figures have their ranges there.
        bars: the bars found, without those that are cut for the bracket; their figures have
            their ranges there.

    Returns:
        Percent.

    Not known when:
        A figure is out of its range, or the bars do not fit in or do not lie in the lower half.

    Source:
        As :func:`bending_use`.

    >>> span = Span(3000.0, 48.0, 2500 * 144, 20.0, 6.0, 10.0)
    >>> round(pit_bending_use(span, Bars("#4", 2, 3.0, 60000 * 144, 48.0, "deformed")).value)
    69
    """
    section = _over_pit(span)
    demand = plain_concrete.pit_moment(span)
    reason = demand.reason or _out_of_range(section, bars)
    if reason:
        return not_known(reason)
    assert isinstance(demand.value, float)
    assert demand.working is not None
    return _bent(demand.value, section, bars, UNDERSIDE, demand.working.lines)


@kept
def pit_shear_use(span: Span, bars: Bars) -> Result:
    """Shear of a footing with bottom bars beside an open pit, as a share of its strength.

    use = 100 Vu / (phi Vn), Vu as for :func:`survey.engineering.plain_concrete.pit_shear` at d or h
    from the edge of the opening, whichever is less, phi Vn as for :func:`shear_use`.

    Args:
        span: the footing; its figures have their ranges there.
        bars: the bars found, without those that are cut for the bracket; their figures have
            their ranges there.

    Returns:
        Percent.

    Not known when:
        As for :func:`pit_bending_use`.

    Source:
        As :func:`shear_use`; section at d, ACI 318-19 9.4.3.2, from memory.

    >>> span = Span(3000.0, 48.0, 2500 * 144, 20.0, 6.0, 10.0)
    >>> round(pit_shear_use(span, Bars("#4", 2, 3.0, 60000 * 144, 48.0, "deformed")).value)
    122
    """
    section = _over_pit(span)
    moment = plain_concrete.pit_moment(span)
    reason = moment.reason or _out_of_range(section, bars)
    if reason:
        return not_known(reason)
    at = min(_depth(section, bars), plain_concrete.counted_thickness(span.thickness_in))
    demand = plain_concrete.pit_shear(span, at)
    assert isinstance(moment.value, float)
    assert isinstance(demand.value, float)
    assert demand.working is not None
    told = (demand.value, moment.value, demand.working.lines)
    return _sheared(told, section, bars, UNDERSIDE)


class CrackedStrengths(NamedTuple):
    """What a footing with bottom bars can carry where it is cracked.

    Args:
        reason: why it is not known; empty if it is.
        strengths: design bending strength, lb-in, design shear strength, lb, and depth to the
            bars, in; empty where the bars do not count and a cracked footing carries nothing.
        lines: the steps, or the line that says why the bars do not count.
    """

    reason: str = ""
    strengths: tuple[float, float, float] | tuple[()] = ()
    lines: tuple[Line, ...] = ()


def cracked_strengths(section: Section, bars: Bars) -> CrackedStrengths:
    """Bending and shear strength of a cracked footing by its bottom bars, underside in tension.

    phi Mn with three quarters of the bars and phi Vn as for :func:`shear_strength`.

    Args:
        section: of the footing; its figures have their ranges there.
        bars: the bars found; their figures have their ranges there.

    Returns:
        Both strengths with their steps.

    Not known when:
        A figure is out of its range, or the bars do not fit in or do not lie in the lower half.

    Source:
        As :func:`bending_use` and :func:`shear_use`.

    >>> bars = Bars("#4", 2, 3.0, 60000 * 144, 48.0, "deformed")
    >>> [round(x, 2) for x in cracked_strengths(Section(2500 * 144, 20.0, 10.0), bars).strengths]
    [105919.41, 5062.5, 6.75]
    """
    reason = _out_of_range(section, bars)
    if reason:
        return CrackedStrengths(reason)
    why = _left_out(section, bars, UNDERSIDE)
    if why:
        return CrackedStrengths(lines=(_why_line(bars, why),))
    bent, bending = _bending(_COUNTED_SHARE * bars.continuous * BAR_SIZES[bars.size][1],
                             section, bars)  # fmt: skip
    sheared, shearing = _shearing(section, bars)
    lines = (*_input_lines(section, bars), _counted_line(bars), *bending, *shearing)
    return CrackedStrengths("", (bent, sheared, _depth(section, bars)), lines)


def wall_counts(wall_material: str) -> Result:
    """What may be counted as a beam where a foundation wall stands over a pit or between piers.

    The footing alone under a wall of poured concrete or wood: whether such a wall helps as a beam
    depends on bars, openings and joints that nobody has seen, so its help is left out. Nothing
    that this program can work out under a wall of masonry.

    Args:
        wall_material: of the foundation wall.

    Returns:
        ``footing alone``.

    Not known when:
        The wall is of concrete block, brick, dry-laid stone or rubble: such a wall cracks along
        its joints before the footing bends enough to carry it, and loose pieces drop out. An
        engineer must judge it.

    Source:
        Common practice.

    >>> wall_counts("poured concrete").value
    'footing alone'
    >>> wall_counts("rubble").reason
    'a wall of rubble has loose pieces that drop out where nothing is under them; an engineer must design how it is held'
    """  # noqa: E501 - the doctest prints one line
    reason = _NO_BEAM.get(wall_material)
    if reason is not None:
        return not_known(reason)
    if wall_material not in _NO_HELP:
        return not_known(f"nothing is known of walls of '{wall_material}'")
    lines = (
        noted("", "wall material", wall_material),
        Line("", "what counts as a beam", "", "", "footing alone", "common practice"),
    )
    working = Working("What counts as a beam", "common practice", "poured concrete, wood", lines)
    return Result("footing alone", working=working)


_NO_HELP = ("poured concrete", "wood")
_NO_BEAM = {
    "concrete block": "a wall of concrete block can't be counted on as a beam: its bars and its "
    "grout are not known, and it cracks along its joints before the footing bends; an engineer "
    "may count the footing alone",
    "brick": "a wall of brick can't be counted on as a beam and cracks along its joints before "
    "the footing bends; an engineer must design how it is held",
    **{
        loose: f"a wall of {loose} has loose pieces that drop out where nothing is under them; "
        "an engineer must design how it is held"
        for loose in ("dry-laid stone", "rubble")
    },
}


def _bending(area: float, section: Section, bars: Bars) -> tuple[float, tuple[Line, ...]]:
    """Bending strength with a steel area, and its steps."""
    psi, width, depth = (
        section.strength_psf / _PSF_PER_PSI, section.width_in, _depth(section, bars),
    )  # fmt: skip
    beta = _beta1(psi)
    steel = _yield(bars.yield_psf)
    yielding = steel / _STEEL_MODULUS_PSI
    block = area * steel / (0.85 * psi * width)
    axis = block / beta
    strain = _CRUSHING_STRAIN * (depth - axis) / axis
    stress = steel
    a_formula = "As fs / (0.85 f'c b)"
    if strain < yielding:
        # The concrete crushes while the steel is still elastic: 0.85 f'c beta1 b c = As fs.
        k, elastic = 0.85 * psi * beta * width, area * _STEEL_MODULUS_PSI * _CRUSHING_STRAIN
        axis = (math.sqrt(elastic * elastic + 4 * k * elastic * depth) - elastic) / (2 * k)
        strain = _CRUSHING_STRAIN * (depth - axis) / axis
        stress, block = _STEEL_MODULUS_PSI * strain, beta * axis
    phi = min(max(0.65 + 0.25 * (strain - yielding) / 0.003, 0.65), 0.90)
    strength = phi * area * stress * (depth - block / 2)
    numbers = (area, stress, depth, block, axis)
    an, fn, dn, bn, cn = (number(figure) for figure in numbers)
    steps = (
        Line("fs", "stress of the bars at strength", "fy, or Es et where they do not yield", "",
             f"{fn} psi", "ACI 318-19 20.2.2, from memory"),
        Line("a", "depth of the stress block", a_formula,
             f"{an} x {fn} / (0.85 x {number(psi)} x {number(width)})", f"{bn} in",
             "ACI 318-19 22.2.2.4.1, from memory"),
        Line("c", "depth to the neutral axis", "a / beta1", f"{bn} / {number(beta)}", f"{cn} in",
             "ACI 318-19 Table 22.2.2.4.3, from memory"),
        Line("et", "strain of the bars", "0.003 (d - c) / c", f"0.003 x ({dn} - {cn}) / {cn}",
             f"{number(strain, 5)} in/in", "ACI 318-19 22.2.2.1, from memory"),
        Line("phi", "strength reduction", "0.65 + 0.25 (et - fy / Es) / 0.003, 0.65 to 0.90", "",
             number(phi), "ACI 318-19 Table 21.2.2, from memory"),
        Line("phi Mn", "bending strength with these bars", "phi As fs (d - a / 2)",
             f"{number(phi)} x {an} x {fn} x ({dn} - {bn} / 2)",
             f"{number(strength)} lb-in", "ACI 318-19 22.2, from memory"),
    )  # fmt: skip
    return strength, steps


def _shearing(section: Section, bars: Bars) -> tuple[float, tuple[Line, ...]]:
    """Shear strength with every bar that runs through, and its steps."""
    width, depth, root = section.width_in, _depth(section, bars), _root(section.strength_psf)
    area = bars.continuous * BAR_SIZES[bars.size][1]
    ratio = area / (width * depth)
    size = min(math.sqrt(2 / (1 + depth / 10)), 1.0)
    factor = min(8 * size * ratio ** (1 / 3), 1.0)
    strength = _PHI_SHEAR * factor * root * width * depth
    bn, dn, sn, kn = (number(figure) for figure in (width, depth, size, factor))
    steps = (
        Line("rho", "share of steel", "As / (b d)", f"{number(area)} / ({bn} x {dn})",
             f"{number(ratio, 6)} in2/in2"),
        Line("lambda_s", "size effect", "sqrt(2 / (1 + d / 10)), at most 1", "", sn,
             "ACI 318-19 22.5.5.1.3, from memory"),
        Line("k", "factor of the shear strength", "min(8 lambda_s lambda rho^(1/3), 1)",
             f"min(8 x {sn} x 1 x {number(ratio, 6)}^(1/3), 1)", kn,
             "ACI 318-19 Table 22.5.5.1(c), 9.6.3.1, from memory"),
        Line("phi Vn", "shear strength with these bars", "phi k sqrt(f'c) b d",
             f"{_PHI_SHEAR:g} x {kn} x {number(root)} x {bn} x {dn}", f"{number(strength)} lb",
             "ACI 318-19 Table 21.2.1, from memory"),
    )  # fmt: skip
    return strength, steps


class _Counted(NamedTuple):
    """The strength that counts, the formula of its use and its steps; or why there is none."""

    reason: str
    strength: float = 0.0
    formula: str = ""
    lines: tuple[Line, ...] = ()


def _bent(
    moment: float, section: Section, bars: Bars, tension_at: str, demand: tuple[Line, ...]
) -> Result:
    """The share of its bending strength that a footing uses, figures in range."""
    counted = _counted_bending(section, bars, tension_at)
    return _share("Bending of the footing", moment, counted, demand)


def _sheared(
    demand: tuple[float, float, tuple[Line, ...]], section: Section, bars: Bars, tension_at: str
) -> Result:
    """The share of its shear strength that a footing uses: shear, moment and their lines."""
    shear, moment, told = demand
    plain = plain_concrete.flexural_strength(*section)
    if not isinstance(plain.value, float):
        return not_known(plain.reason)
    counted = _counted_shear(section, bars, tension_at, moment > plain.value)
    return _share("Shear of the footing", shear, counted, told)


# The piers of a wall share its footing, so what it can carry is worked out once.
@lru_cache(maxsize=512)
def _counted_bending(section: Section, bars: Bars, tension_at: str) -> _Counted:
    plain = plain_concrete.flexural_strength(*section)
    if not isinstance(plain.value, float) or plain.working is None:
        return _Counted(plain.reason)
    why = _left_out(section, bars, tension_at)
    if why:
        lines = (_why_line(bars, why), *plain.working.lines)
        return _Counted("", plain.value, "100 Mu / (phi Mn)", lines)
    area = bars.continuous * BAR_SIZES[bars.size][1]
    bent, steps = _bending(_COUNTED_SHARE * area, section, bars)
    strength = max(bent, plain.value)
    lines = (
        *_input_lines(section, bars),
        _least_line(section, bars, area),
        _counted_line(bars),
        *steps,
        Line("phi Mp", "bending strength as plain concrete", "", "",
             f"{number(plain.value)} lb-in", "ACI 318-19 14.5.2.1a, clause from memory"),
        Line("phi M", "bending strength that counts", "max(phi Mn, phi Mp)",
             f"max({number(bent)}, {number(plain.value)})", f"{number(strength)} lb-in"),
    )  # fmt: skip
    return _Counted("", strength, "100 Mu / (phi M)", lines)


@lru_cache(maxsize=512)
def _counted_shear(section: Section, bars: Bars, tension_at: str, cracked: bool) -> _Counted:
    plain = plain_concrete.shear_strength(*section)
    if not isinstance(plain.value, float) or plain.working is None:
        return _Counted(plain.reason)
    why = _left_out(section, bars, tension_at)
    if why:
        lines = (_why_line(bars, why), *plain.working.lines)
        return _Counted("", plain.value, "100 Vu / (phi Vn)", lines)
    strength, steps = _shearing(section, bars)
    lines = (*_input_lines(section, bars), *steps)
    if cracked:
        line = noted("", "plain concrete", "not counted: the moment cracks the footing")
        return _Counted("", strength, "100 Vu / (phi Vn)", (*lines, line))
    larger = max(strength, plain.value)
    last = Line(
        "phi V", "shear strength that counts, the footing staying uncracked",
        "max(phi Vn, that of plain concrete)",
        f"max({number(strength)}, {number(plain.value)})", f"{number(larger)} lb",
        "ACI 318-19 Table 14.5.5.1(a), clause from memory",
    )  # fmt: skip
    return _Counted("", larger, "100 Vu / (phi V)", (*lines, last))


def _share(title: str, load: float, counted: _Counted, demand: tuple[Line, ...]) -> Result:
    if counted.reason:
        return not_known(counted.reason)
    share = 100 * load / counted.strength
    last = Line(
        "use", "share of the strength", counted.formula,
        f"100 x {number(load)} / {number(counted.strength)}", f"{number(share)} %",
    )  # fmt: skip
    return Result(share, working=_working(title, (*demand, *counted.lines, last)))


def _working(title: str, lines: tuple[Line, ...]) -> Working:
    return Working(title, _METHOD, _VALID, lines)


def _left_out(section: Section, bars: Bars, tension_at: str) -> str:
    """Why no bar counts; empty if they do."""
    if tension_at == TOP:
        return "the top is in tension, and only bottom bars are known of"
    if bars.continuous < 1:
        return "no bar runs through uncut"
    if bars.surface == PLAIN:
        return "plain bars, for which ACI 318-19 25.4 gives no development length"
    if section.strength_psf < _LEAST_STRENGTH_PSI * _PSF_PER_PSI:
        return "the concrete is below the 2,500 psi of ACI 318-19 Table 19.2.1.1"
    needed = _development(bars.size, bars.yield_psf, section.strength_psf)
    if bars.anchored_in < needed:
        return (
            f"anchored over {number(bars.anchored_in)} in; the development length of "
            f"ACI 318-19 25.4.2.3 is {number(needed)} in"
        )
    return ""


def _why_line(bars: Bars, why: str) -> Line:
    meaning = f"{number(bars.continuous)} bottom bars {bars.size}, not counted"
    return noted("As", meaning, why, "from memory")


def _input_lines(section: Section, bars: Bars) -> tuple[Line, ...]:
    diameter, area = BAR_SIZES[bars.size]
    count = number(bars.continuous)
    return (
        _strength_line(section.strength_psf),
        inches("b", "width that counts", section.width_in),
        inches("T", "footing thickness", section.thickness_in),
        noted("db, Ab", f"diameter and area of {bars.size}",
              f"{number(diameter)} in, {number(area)} in2", _A615),
        Line("n Ab", f"bottom bars that run through, {count} of {bars.size}", "n Ab",
             f"{count} x {number(area)}", f"{number(bars.continuous * area)} in2"),
        _yield_line(bars.yield_psf),
        Line("d", "depth to the bars", "T - cover - db / 2",
             f"{number(section.thickness_in)} - {number(bars.cover_in)} - {number(diameter)} / 2",
             f"{number(_depth(section, bars))} in"),
    )  # fmt: skip


def _counted_line(bars: Bars) -> Line:
    area = bars.continuous * BAR_SIZES[bars.size][1]
    return Line(
        "As", "three quarters of them are counted", "0.75 n Ab", f"0.75 x {number(area)}",
        f"{number(_COUNTED_SHARE * area)} in2", "ACI 318-19 9.6.1.3, from memory",
    )  # fmt: skip


def _least_line(section: Section, bars: Bars, area: float) -> Line:
    """The least steel of a beam: told, not relied on."""
    root, steel = _root(section.strength_psf), _yield(bars.yield_psf)
    depth = _depth(section, bars)
    least = max(3 * root, 200.0) / steel * section.width_in * depth
    met = "met" if area >= least else "not met"
    return Line(
        "As,min", f"least steel of a beam, {met}; not relied on",
        "max(3 sqrt(f'c), 200) / fy b d",
        f"max(3 x {number(root)}, 200) / {number(steel)} x {number(section.width_in)} x "
        f"{number(depth)}", f"{number(least)} in2", "ACI 318-19 9.6.1.2, from memory",
    )  # fmt: skip


def _strength_line(strength_psf: float) -> Line:
    return given("f'c", "concrete strength", strength_psf, Kind.PRESSURE, "psi")


def _yield_line(yield_psf: float) -> Line:
    return given("fy", "yield strength of the bars, at most 60,000 psi counted",
                 _yield(yield_psf) * _PSF_PER_PSI, Kind.PRESSURE, "psi")  # fmt: skip


def _over_pit(span: Span) -> Section:
    return Section(span.strength_psf, plain_concrete.net_width(span), span.thickness_in)


def _depth(section: Section, bars: Bars) -> float:
    return section.thickness_in - bars.cover_in - BAR_SIZES[bars.size][0] / 2


def _yield(yield_psf: float) -> float:
    return min(yield_psf / _PSF_PER_PSI, _HIGHEST_YIELD_PSI)


def _root(strength_psf: float) -> float:
    return min(math.sqrt(strength_psf / _PSF_PER_PSI), _HIGHEST_ROOT_PSI)


def _beta1(psi: float) -> float:
    """Table 22.2.2.4.3, from memory."""
    return min(max(0.85 - 0.05 * (psi - 4000.0) / 1000.0, 0.65), 0.85)


def _divisor(diameter_in: float) -> int:
    """25.4.2.3, other cases: #6 and smaller, #7 and larger."""
    return 50 if diameter_in <= BAR_SIZES["#6"][0] else 40


def _development(size: str, yield_psf: float, strength_psf: float) -> float:
    diameter = BAR_SIZES[size][0]
    straight = 3 * _yield(yield_psf) * diameter / (_divisor(diameter) * _root(strength_psf))
    return max(straight, _LEAST_DEVELOPMENT_IN)


def _size_unknown(size: str) -> str:
    return "" if size in BAR_SIZES else f"bar size is '{size}'; the method holds for #3 to #8"


def _face_unknown(tension_at: str) -> str:
    if tension_at in (UNDERSIDE, TOP):
        return ""
    return f"tension is at '{tension_at}'; it is at the underside or at the top"


def _yield_limit(yield_psf: float) -> tuple[str, float, float, float, str]:
    return ("yield strength of the bars", yield_psf / _PSF_PER_PSI, 30000.0, 80000.0, "psi")


def _strength_limit(strength_psf: float) -> tuple[str, float, float, float, str]:
    psi = strength_psf / _PSF_PER_PSI
    return ("concrete strength", psi, _LEAST_STRENGTH_PSI, 12000.0, "psi")


def _out_of_range(section: Section, bars: Bars) -> str:
    reason = _size_unknown(bars.size) or outside(
        ("concrete strength", section.strength_psf / _PSF_PER_PSI, 500.0, 12000.0, "psi"),
        ("width that counts", section.width_in, _LENGTH_STEP_IN, 120.0, "in"),
        ("footing thickness", section.thickness_in, 2.0 + _LENGTH_STEP_IN, 72.0, "in"),
        ("bottom bars that run through", bars.continuous, 0.0, 40.0, ""),
        ("bar cover", bars.cover_in, 0.5, 12.0, "in"),
        _yield_limit(bars.yield_psf),
        ("anchored length of the bars", bars.anchored_in, 0.0, 6000.0, "in"),
    )
    if reason:
        return reason
    if bars.surface not in (DEFORMED, PLAIN):
        return f"surface of the bars is '{bars.surface}'; it is deformed or plain"
    if bars.continuous != int(bars.continuous):
        return f"{bars.continuous:g} bars run through: not a whole number"
    diameter = BAR_SIZES[bars.size][0]
    across = bars.continuous * diameter + (bars.continuous - 1) * max(diameter, 1.0)
    if across > section.width_in:
        return (
            f"{bars.continuous:g} bars {bars.size} do not fit into {section.width_in:g} in with "
            "the 1 in between them of ACI 318-19 25.2.1; count them again"
        )
    if 2 * _depth(section, bars) < section.thickness_in:
        return (
            f"bars with {bars.cover_in:g} in of cover do not lie in the lower half of a footing "
            f"{section.thickness_in:g} in thick; measure both again"
        )
    return ""
