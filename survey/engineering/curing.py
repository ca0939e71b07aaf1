"""How ordinary concrete gains strength, and the days that it takes."""

from __future__ import annotations

import math

from survey.engineering._steps import given, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.model import Value
from survey.vocabulary import Kind

# Curing of concrete

_ALPHA_DAYS, _BETA = 4.0, 0.85  # moist-cured, Type I cement
_LEAST_PSF, _MOST_PSF = 72000.0, 1728000.0  # 500 to 12,000 psi, as for the footing
_AT_28 = 28.0
_ACI_209 = "ACI 209R-92 Eq. (2-1), moist-cured, Type I cement; from memory"
_CURED = "ordinary Type I concrete, kept moist at about 70 deg F; no quick-setting or bagged mix"


def strength_at(days: float, strength_28_psf: float, mix: Value, kept_moist: Value) -> Result:
    """Strength of ordinary concrete some days after it was placed.

    f(t) = t / (4 + 0.85 t) f'c, for 1 to 365 days, taken as no more than f'c, though the formula
    goes on to 1.18 f'c.

    Args:
        days: t, whole days and parts since the last of it was placed, 1 to 365.
        strength_28_psf: f'c, specified strength at 28 days, psf, 72,000 to 1,728,000 (500 to
            12,000 psi).
        mix: ``ordinary`` for concrete of Type I cement; what any other mix reaches, and when, is
            its maker's data.
        kept_moist: ``yes`` where it was kept moist at about 70 deg F or warmer from the first day;
            cold or dry concrete gains strength later, by a course that the formula does not give.

    Returns:
        Strength, psf.

    Not known when:
        A figure is out of its range, the mix is not ordinary, or it was not kept moist and warm
        or that is not known.

    Source:
        ACI 209R-92 Eq. (2-1) with alpha = 4.0 days and beta = 0.85; from memory.

    >>> round(strength_at(7.0, 3000 * 144, "ordinary", "yes").value / 144)
    2111
    """
    reason = _not_ordinary(mix, kept_moist) or outside(
        ("days since placing", days, 1.0, 365.0, "days"),
        ("strength at 28 days", strength_28_psf, _LEAST_PSF, _MOST_PSF, "psf"),
    )
    if reason:
        return not_known(reason)
    strength = min(days / (_ALPHA_DAYS + _BETA * days), 1.0) * strength_28_psf
    t, full = number(days), number(strength_28_psf)
    lines = (
        noted("t", "days since placing", f"{t} days"),
        given("f'c", "specified strength at 28 days", strength_28_psf, Kind.PRESSURE),
        Line("f", "strength", "min(t / (4 + 0.85 t), 1) f'c",
             f"min({t} / (4 + 0.85 x {t}), 1) x {full}", f"{number(strength)} psf", _ACI_209),
    )  # fmt: skip
    working = Working("Strength of the concrete", _ACI_209, _CURED, lines)
    return Result(strength, working=working)


def days_to_strength(share_percent: float, mix: Value, kept_moist: Value) -> Result:
    """Days after which ordinary concrete has a share of its strength at 28 days.

    t = 4 s / (1 - 0.85 s), s = share / 100, rounded up to whole days, at least 1; 28 for 100 %,
    which the formula alone would give on day 27.

    Args:
        share_percent: % of the strength at 28 days, 1 to 100.
        mix: as for :func:`strength_at`.
        kept_moist: as for :func:`strength_at`.

    Returns:
        Days.

    Not known when:
        As for :func:`strength_at`.

    Source:
        ACI 209R-92 Eq. (2-1), solved for t; from memory.

    >>> days_to_strength(70.0, "ordinary", "yes").value
    7.0
    """
    reason = _not_ordinary(mix, kept_moist) or outside(
        ("share of the strength at 28 days", share_percent, 1.0, 100.0, "%")
    )
    if reason:
        return not_known(reason)
    share = share_percent / 100
    days = float(max(math.ceil(_ALPHA_DAYS * share / (1 - _BETA * share) - 1e-9), 1))
    s = number(share, 5)
    formula, numbers = "4 s / (1 - 0.85 s), rounded up", f"4 x {s} / (1 - 0.85 x {s})"
    if share_percent == 100.0:
        days, formula, numbers = _AT_28, "28 by definition", ""
    lines = (
        given("share", "of the strength at 28 days", share_percent, Kind.SHARE),
        Line("s", "the same as a fraction", "share / 100", f"{number(share_percent)} / 100", s),
        Line("t", "days", formula, numbers, f"{number(days)} days", _ACI_209),
    )
    working = Working("Days of curing", _ACI_209, _CURED, lines)
    return Result(days, working=working)


def _not_ordinary(mix: Value, kept_moist: Value) -> str:
    if mix != "ordinary":
        return f"the mix is {mix}: go by its maker's data"
    if kept_moist != "yes":
        return f"kept moist and warm from the first day: {kept_moist}"
    return ""
