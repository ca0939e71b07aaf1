"""Greatest distance between piers that a footing can span, by its bending and its shear.

The footing alone carries the wall from pier to pier; it runs on over the piers, spans may differ.
Of such a beam under an even load no moment, over a pier or between piers, is above w L^2 / 8 of its
longest span L and, where no span is shorter than 0.4 L, no shear beside a pier above 5/8 w L: that
is the beam over two equal spans. The strengths are those of the plain or reinforced footing.
"""

from __future__ import annotations

import math

from survey.engineering import plain_concrete, reinforced_concrete
from survey.engineering._steps import given, inches, kept, number, outside
from survey.engineering.plain_concrete import Section
from survey.engineering.reinforced_concrete import Bars
from survey.engineering.working import Line, Result, Working, not_known
from survey.vocabulary import Kind

_SHEAR_SHARE = 0.625  # of w L, beside the middle pier of two equal spans
_VALID = (
    "even load, footing alone, no joint or step in it between the piers, no span shorter than 0.4 "
    "of the longest"
)
_STATICS = "statics, beam over two equal spans"
_PLAIN_SOURCE = "ACI 318-19 ch. 14, in part from memory"
_BARS_SOURCE = "ACI 318-19 ch. 9, 14 and 22, from memory"


@kept
def greatest_pier_spacing(
    factored_plf: float, section: Section, bars: Bars | None = None
) -> Result:
    """Greatest distance between piers that the footing can span.

    L = min(sqrt(8 phi Mn / (wu / 12)), (phi Vn / (wu / 12) + h) / 0.625): moment wu L^2 / 8 and
    shear 5/8 wu L less the load up to h from the pier.

    With bars that count, over a pier the plain top may crack and the spans become simple ones with
    the bars in tension: the moment stays wu L^2 / 8. The shear is then limited to that of the
    cracked footing at h or d, whichever is less, still with 5/8. The larger L of the two ways
    counts.

    Args:
        factored_plf: wu, factored line load, plf, 100 to 1,000,000.
        section: of the footing, without what is cut away at the piers; its figures have their
            ranges there.
        bars: the bars found; None where none were found. Their figures have their ranges there.

    Returns:
        In, from the middle of one pier to the middle of the next.

    Not known when:
        A figure is out of its range, or the bars do not fit in or do not lie in the lower half.

    Source:
        Statics; ACI 318-19 14.5.2.1a, Table 14.5.5.1(a), 14.4.3.2, 22.2, 22.5, from memory.

    >>> round(greatest_pier_spacing(2000.0, Section(2500 * 144, 20.0, 10.0)).value, 3)
    39.192
    """
    reason = outside(("factored line load", factored_plf, 100.0, 1e6, "plf"))
    bending, shear = (
        plain_concrete.flexural_strength(*section),
        plain_concrete.shear_strength(*section),
    )
    reason = reason or bending.reason
    if reason:
        return not_known(reason)
    assert isinstance(bending.value, float)
    assert isinstance(shear.value, float)
    assert bending.working is not None
    assert shear.working is not None
    h = plain_concrete.counted_thickness(section.thickness_in)
    plain, steps = _spacing(factored_plf, bending.value, shear.value, h, "")
    load = given("wu", "factored line load", factored_plf, Kind.LINE_LOAD)
    lines = (load, *bending.working.lines, shear.working.lines[-1], *steps)
    if bars is None:
        return _told(plain, "the smaller of both", lines, _PLAIN_SOURCE)
    counted = reinforced_concrete.cracked_strengths(section, bars)
    if counted.reason:
        return not_known(counted.reason)
    if not counted.strengths:
        return _told(plain, "the smaller of both", (*lines, *counted.lines), _PLAIN_SOURCE)
    bent, sheared, depth = counted.strengths
    cracked, more = _spacing(factored_plf, bent, sheared, min(h, depth), ", with bars")
    lines = (*lines, *counted.lines, *more)
    formula = "the smaller of each two, then the larger of plain and with bars"
    return _told(max(plain, cracked), formula, lines, _BARS_SOURCE)


def greatest_overhang(factored_plf: float, section: Section) -> Result:
    """Greatest distance that the footing can stand out beyond its last pier.

    a = min(sqrt(2 phi Mn / (wu / 12)), phi Vn / (wu / 12) + h), as plain concrete: the top is in
    tension, and of bars there nothing is known.

    Args:
        factored_plf: wu, factored line load, plf, 100 to 1,000,000.
        section: of the footing, without what is cut away at the pier; its figures have their
            ranges there.

    Returns:
        In, from the middle of the last pier to the end of the wall.

    Not known when:
        A figure is out of its range.

    Source:
        Statics of a cantilever; ACI 318-19 14.5.2.1a, Table 14.5.5.1(a), 14.4.3.2, from memory.

    >>> round(greatest_overhang(2000.0, Section(2500 * 144, 20.0, 10.0)).value, 3)
    19.596
    """
    reason = outside(("factored line load", factored_plf, 100.0, 1e6, "plf"))
    bending, shear = (
        plain_concrete.flexural_strength(*section),
        plain_concrete.shear_strength(*section),
    )
    reason = reason or bending.reason
    if reason:
        return not_known(reason)
    assert isinstance(bending.value, float)
    assert isinstance(shear.value, float)
    assert bending.working is not None
    assert shear.working is not None
    h = plain_concrete.counted_thickness(section.thickness_in)
    per_inch = factored_plf / 12
    by_bending = math.sqrt(2 * bending.value / per_inch)
    by_shear = shear.value / per_inch + h
    w, m, v, thick = (number(x) for x in (factored_plf, bending.value, shear.value, h))
    greatest = min(by_bending, by_shear)
    lines = (
        given("wu", "factored line load", factored_plf, Kind.LINE_LOAD),
        *bending.working.lines,
        shear.working.lines[-1],
        Line("am", "by bending", "sqrt(2 phi Mn / (wu / 12))", f"sqrt(2 x {m} / ({w} / 12))",
             f"{number(by_bending)} in", "statics, cantilever"),
        Line("av", "by shear", "phi Vn / (wu / 12) + h", f"{v} / ({w} / 12) + {thick}",
             f"{number(by_shear)} in", "statics, cantilever"),
        Line("a", "greatest overhang", "the smaller of both", "", f"{number(greatest)} in"),
    )  # fmt: skip
    title = "Greatest overhang beyond the last pier"
    return Result(greatest, working=Working(title, _PLAIN_SOURCE, _VALID, lines))


def spacing_use(span_in: float, greatest_spacing_in: float) -> Result:
    """Distance between piers as a share of the greatest that the footing can span.

    use = 100 L / Lmax. Moments grow with the square of L, so this is no share of the strength.

    Args:
        span_in: L, longest span beside the pier, middle to middle, in, 0 to 6,000.
        greatest_spacing_in: Lmax, in, 0.001 to 100,000.

    Returns:
        Percent.

    Not known when:
        A figure is out of its range.

    Source:
        Arithmetic.

    >>> spacing_use(60.0, 80.0).value
    75.0
    """
    reason = outside(
        ("span between piers", span_in, 0.0, 6000.0, "in"),
        ("greatest pier spacing", greatest_spacing_in, 0.001, 1e5, "in"),
    )
    if reason:
        return not_known(reason)
    share = 100 * span_in / greatest_spacing_in
    lines = (
        inches("L", "longest span beside the pier", span_in),
        inches("Lmax", "greatest pier spacing", greatest_spacing_in),
        Line("use", "share of the greatest spacing", "100 L / Lmax",
             f"100 x {number(span_in)} / {number(greatest_spacing_in)}", f"{number(share)} %"),
    )  # fmt: skip
    working = Working("Distance between piers", "arithmetic", _VALID, lines)
    return Result(share, working=working)


def _spacing(
    plf: float, bending: float, shear: float, depth: float, way: str
) -> tuple[float, tuple[Line, ...]]:
    """The span that both strengths allow, with its steps."""
    per_inch = plf / 12
    by_bending = math.sqrt(8 * bending / per_inch)
    by_shear = (shear / per_inch + depth) / _SHEAR_SHARE
    w, m, v, d = (number(figure) for figure in (plf, bending, shear, depth))
    steps = (
        Line("Lm", f"by bending{way}", "sqrt(8 phi Mn / (wu / 12))", f"sqrt(8 x {m} / ({w} / 12))",
             f"{number(by_bending)} in", _STATICS),
        Line("Lv", f"by shear at {d} in from the pier{way}", "(phi Vn / (wu / 12) + h) / 0.625",
             f"({v} / ({w} / 12) + {d}) / 0.625", f"{number(by_shear)} in", _STATICS),
    )  # fmt: skip
    return min(by_bending, by_shear), steps


def _told(greatest: float, formula: str, lines: tuple[Line, ...], source: str) -> Result:
    last = Line("L", "greatest pier spacing", formula, "", f"{number(greatest)} in")
    working = Working("Greatest distance between piers", source, _VALID, (*lines, last))
    return Result(greatest, working=working)
