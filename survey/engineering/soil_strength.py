"""Unconfined compressive strength of cohesive soil from the reading of a hand instrument."""

from __future__ import annotations

from survey.engineering._steps import given, inches, number, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.vocabulary import Kind

_APPENDIX = "29 CFR 1926 Subpart P App. A (d)(2)(iv)"
_VANE = f"{_APPENDIX}; ASTM D8121 (hand vane), ASTM D2573 (field vane), from memory"
_PENETROMETER = f"{_APPENDIX}; scale of the instrument, common practice"
_STRONGEST_VANE_PSF = 5000.0  # 2.5 tsf, the smallest vane of a hand vane set
_END_OF_SCALE_PSF = 9000.0  # 4.5 tsf
_PLUNGER_IN = 0.25
_LARGEST_FOOT_IN = 1.0


def unconfined_strength_from_vane(vane_shear_psf: float) -> Result:
    """Unconfined compressive strength from the shear strength that a vane reads.

    qu = 2 su, 0 <= su <= 2.5 tsf: an unconfined specimen of clay fails when the shear stress in
    it, half of the stress on its ends, reaches the undrained shear strength.

    Args:
        vane_shear_psf: su, lowest reading of the vane, with the factor of the vane that was
            used, psf, 0 to 5,000 (2.5 tsf).

    Returns:
        qu, psf.

    Not known when:
        The reading is out of its range. Stiffer soil is beyond a hand vane.

    Source:
        29 CFR 1926 Subpart P App. A (d)(2)(iv) allows a hand-operated shear vane; ASTM D8121 and
        D2573 read su, from memory; qu = 2 su of saturated clay is mechanics (phi = 0). No
        correction for plasticity is made: it would be made for design, and only lowers su.

    >>> unconfined_strength_from_vane(1500.0).value
    3000.0
    """
    reason = outside(("vane shear strength", vane_shear_psf, 0.0, _STRONGEST_VANE_PSF, "psf"))
    if reason:
        return not_known(reason)
    strength = 2.0 * vane_shear_psf
    lines = (
        given("su", "shear strength read from the vane", vane_shear_psf, Kind.PRESSURE,
              source=_VANE),
        Line("qu", "unconfined compressive strength", "2 su", f"2 x {number(vane_shear_psf)}",
             f"{number(strength)} psf", "saturated clay, phi = 0"),
    )  # fmt: skip
    valid = (
        "clay and clayey soil up to 2.5 tsf of shear strength; not for cracked, sandy or stony "
        "ground, in which a vane reads too high"
    )
    title = "Unconfined strength by vane"
    return Result(strength, working=Working(title, _VANE, valid, lines))


def unconfined_strength_from_penetrometer(
    reading_psf: float, plunger_diameter_in: float = _PLUNGER_IN
) -> Result:
    """Unconfined compressive strength from a pocket penetrometer, with or without a larger foot.

    qu = R (0.25 / d)^2, 0 <= R <= 4.5 tsf: the scale is made for a plunger of 1/4 in, and a foot
    for soft soil spreads the same force over more ground. A foot of 1 in divides by 16; to
    forget it makes soft clay sixteen times as strong.

    Args:
        reading_psf: R, lowest reading of the scale, psf, 0 to 9,000 (4.5 tsf). The end of the
            scale means at least that.
        plunger_diameter_in: d, of the plunger or foot, in, 0.25 to 1.

    Returns:
        qu, psf; at the end of the scale the least that it is.

    Not known when:
        A figure is out of its range.

    Source:
        29 CFR 1926 Subpart P App. A (d)(2)(iv) allows a pocket penetrometer; its scale, its
        plunger of 1/4 in and its foot of 1 in are common practice: no ASTM standard has them.

    >>> unconfined_strength_from_penetrometer(8000.0, 1.0).value
    500.0
    """
    reason = outside(
        ("penetrometer reading", reading_psf, 0.0, _END_OF_SCALE_PSF, "psf"),
        ("plunger diameter", plunger_diameter_in, _PLUNGER_IN, _LARGEST_FOOT_IN, "in"),
    )
    if reason:
        return not_known(reason)
    strength = reading_psf * (_PLUNGER_IN / plunger_diameter_in) ** 2
    r, d = number(reading_psf), number(plunger_diameter_in)
    at_end = reading_psf == _END_OF_SCALE_PSF
    end = ", at least" if at_end else ""
    read = "end of the scale" if at_end else "reading of the scale"
    lines = (
        given("R", read, reading_psf, Kind.PRESSURE, source=_PENETROMETER),
        inches("d", "diameter of the plunger or foot", plunger_diameter_in),
        Line("qu", f"unconfined compressive strength{end}", "R (0.25 / d)^2",
             f"{r} x (0.25 / {d})^2", f"{number(strength)} psf", "force over area"),
    )  # fmt: skip
    valid = "clay and clayey soil; a fresh, smooth face without stones, roots or cracks"
    title = "Unconfined strength by pocket penetrometer"
    return Result(strength, working=Working(title, _PENETROMETER, valid, lines))
