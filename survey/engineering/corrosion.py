"""Loss of bare steel in the ground over the life of a pier."""

from __future__ import annotations

from survey.engineering._steps import inches, kept, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.model import Value
from survey.vocabulary import Missing

MILD = "mildly aggressive"
AGGRESSIVE = "aggressive"
DESIGN_SHARE = 0.93  # of the nominal wall of welded tube and pipe: AISC 360-16 B4.2, from memory
DESIGN_SOURCE = "AISC 360-16 B4.2, from memory"

_LEAST_RESISTIVITY_OHM_CM = 3000.0  # FHWA-NHI-09-087, AASHTO T 288
_LOWEST_PH = 5.0  # AASHTO T 289
_HIGHEST_PH = 10.0
_MOST_CHLORIDE_PPM = 100.0  # AASHTO T 291
_MOST_SULFATE_PPM = 200.0  # AASHTO T 290
_LIMITS_SOURCE = "FHWA-NHI-09-087"

_TRIGGER_RESISTIVITY_OHM_CM = 1000.0
_TRIGGER_PH = 5.5
_TRIGGER_SULFATE_PPM = 1000.0
_TRIGGER_SOURCE = "ICC-ES AC358, from memory, clause uncertain"

# Outside of these a figure is no measurement of ground, and counts as not known.
_RESISTIVITY = ("resistivity", 1.0, 1e8, "ohm-cm")
_PH = ("acidity", 0.0, 14.0, "pH")
_CHLORIDE = ("chloride", 0.0, 1e6, "ppm")
_SULFATE = ("sulfate", 0.0, 1e6, "ppm")

_LOSS_FACTOR_UM = 40.0  # ICC-ES AC358 3.9, from memory
_LOSS_EXPONENT = 0.80
_UM_PER_IN = 25_400.0
_LOSS_SOURCE = "ICC-ES AC358 3.9, bare steel, from memory"
_LONGEST_LIFE_YEARS = 100.0
_THICKEST_WALL_IN = 2.0
_FACES = 2


def ground_aggressiveness(
    resistivity_ohm_cm: Value, ph: Value, chloride_ppm: Value, sulfate_ppm: Value
) -> Result:
    """Whether the ground is only mildly aggressive to bare steel.

    Mildly aggressive if resistivity >= 3,000 ohm-cm, pH from 5 to 10, chloride <= 100 ppm and
    sulfate <= 200 ppm, all four; aggressive as soon as one is not so.

    Args:
        resistivity_ohm_cm: lowest, of soaked soil, ohm-cm, 1 to 100,000,000, or a state.
        ph: 0 to 14, or a state.
        chloride_ppm: ppm, 0 to 1,000,000, or a state.
        sulfate_ppm: ppm, 0 to 1,000,000, or a state.

    Returns:
        ``mildly aggressive`` or ``aggressive``.

    Not known when:
        None of the tests is bad, and one of them is not known or out of its range. Leaving out
        the salts where resistivity is high, which AASHTO allows (from memory), is not used.

    Source:
        FHWA-NHI-09-087, with AASHTO T 288 to T 291.

    >>> ground_aggressiveness(4500.0, 7.2, 40.0, 90.0).value
    'mildly aggressive'
    """
    tests = (
        (_RESISTIVITY, resistivity_ohm_cm, _LEAST_RESISTIVITY_OHM_CM, float("inf"),
         "at least 3,000 ohm-cm", "AASHTO T 288"),
        (_PH, ph, _LOWEST_PH, _HIGHEST_PH, "5 to 10", "AASHTO T 289"),
        (_CHLORIDE, chloride_ppm, 0.0, _MOST_CHLORIDE_PPM, "at most 100 ppm", "AASHTO T 291"),
        (_SULFATE, sulfate_ppm, 0.0, _MOST_SULFATE_PPM, "at most 200 ppm", "AASHTO T 290"),
    )  # fmt: skip
    lines: list[Line] = []
    doubts: list[str] = []
    bad: list[str] = []
    for (name, low, high, unit), value, least, most, wanted, source in tests:
        doubt, written = _measured(name, value, low, high, unit)
        if doubt:
            doubts.append(doubt)
        elif isinstance(value, (int, float)) and not least <= value <= most:
            bad.append(name)
        lines.append(noted("", f"{name}, mild if {wanted}", written, source))
    if doubts and not bad:
        return not_known("; ".join(doubts))
    found = AGGRESSIVE if bad else MILD
    lines.append(
        Line("", "how the ground treats bare steel", "aggressive if one is not mild",
             f"not mild: {', '.join(bad) or 'none'}", found, _LIMITS_SOURCE)
    )  # fmt: skip
    valid = "natural ground; no stray current"
    working = Working("Aggressiveness of the ground", _LIMITS_SOURCE, valid, tuple(lines))
    return Result(found, working=working)


def _measured(name: str, value: Value, low: float, high: float, unit: str) -> tuple[str, str]:
    """Why a test does not count, empty if it does; and how it is printed."""
    if not isinstance(value, (int, float)):
        return f"the {name} is {value}", str(value)
    reason = outside((name, value, low, high, unit))
    return reason, f"{number(value)} {unit}".strip() if not reason else "out of range, not used"


def corrosion_study_needed(
    resistivity_ohm_cm: Value,
    ph: Value,
    sulfate_ppm: Value,
    *,
    organic_ground: Value,
    landfill: Value,
    mine_waste: Value,
) -> Result:
    """Whether the ground is one in which an engineer must look at corrosion.

    Yes as soon as one is so: resistivity < 1,000 ohm-cm, pH < 5.5, sulfate > 1,000 ppm, high
    organic content, landfill, mine waste.

    Args:
        resistivity_ohm_cm: ohm-cm, 1 to 100,000,000, or a state.
        ph: 0 to 14, or a state.
        sulfate_ppm: ppm, 0 to 1,000,000, or a state.
        organic_ground: yes or no, peat or other ground of high organic content, or a state.
        landfill: yes or no, or a state.
        mine_waste: yes or no, or a state.

    Returns:
        ``yes`` or ``no``.

    Not known when:
        None is surely so, and one of them is not known or out of its range.

    Source:
        ICC-ES acceptance criterion for deep foundation devices, AC358; from memory, clause
        uncertain.

    >>> corrosion_study_needed(800.0, 7.0, 50.0, organic_ground="no", landfill="no",
    ...                        mine_waste="no").value
    'yes'
    """
    lines: list[Line] = []
    doubts: list[str] = []
    met: list[str] = []
    infinite = float("inf")
    for (name, low, high, unit), value, least, most, wanted in (
        (_RESISTIVITY, resistivity_ohm_cm, _TRIGGER_RESISTIVITY_OHM_CM, infinite,
         "under 1,000 ohm-cm"),
        (_PH, ph, _TRIGGER_PH, infinite, "under 5.5"),
        (_SULFATE, sulfate_ppm, 0.0, _TRIGGER_SULFATE_PPM, "over 1,000 ppm"),
    ):  # fmt: skip
        doubt, written = _measured(name, value, low, high, unit)
        if doubt:
            doubts.append(doubt)
        elif isinstance(value, (int, float)) and not least <= value <= most:
            met.append(name)
        lines.append(noted("", f"{name}, looked for {wanted}", written, _TRIGGER_SOURCE))
    for name, value in (
        ("high organic content", organic_ground), ("landfill", landfill), ("mine waste", mine_waste)
    ):  # fmt: skip
        if isinstance(value, Missing):
            doubts.append(f"{name} is {value}")
        elif value == "yes":
            met.append(name)
        lines.append(noted("", name, str(value), _TRIGGER_SOURCE))
    if doubts and not met:
        return not_known("; ".join(doubts))
    found = "yes" if met else "no"
    lines.append(
        Line("", "an engineer must look at corrosion", "yes if one is so",
             f"found: {', '.join(met) or 'none'}", found, _TRIGGER_SOURCE)
    )  # fmt: skip
    working = Working("Ground that eats steel", _TRIGGER_SOURCE, "natural ground", tuple(lines))
    return Result(found, working=working)


@kept
def loss_of_face(years: float, aggressiveness: str) -> Result:
    """Thickness that each face of bare steel loses over the life that it is designed for.

    td = 40 t^0.80, td in um and t in years; 25,400 um to the inch.

    Args:
        years: t, design life, years, 0 to 100.
        aggressiveness: as of :func:`ground_aggressiveness`.

    Returns:
        Loss of each face, in. No coating is counted.

    Not known when:
        The ground is aggressive, or the life is out of its range.

    Source:
        ICC-ES AC358 3.9, bare steel, from memory. The criterion gives the loss of the part;
        here it is taken from each face, on the safe side.

    >>> round(loss_of_face(50.0, "mildly aggressive").value, 3)
    0.036
    """
    if aggressiveness != MILD:
        return not_known(
            f"the ground is {aggressiveness} to bare steel; the loss holds only in mildly "
            "aggressive ground, elsewhere an engineer finds it"
        )
    reason = outside(("design life", years, 0.0, _LONGEST_LIFE_YEARS, "years"))
    if reason:
        return not_known(reason)
    um = _LOSS_FACTOR_UM * years**_LOSS_EXPONENT
    loss = um / _UM_PER_IN
    lines = (
        noted("", "how the ground treats bare steel", aggressiveness, _LIMITS_SOURCE),
        noted("t", "design life", f"{number(years)} years"),
        Line("td", "loss of each face", "40 t^0.80", f"40 x {number(years)}^0.80",
             f"{number(um)} um", _LOSS_SOURCE),
        Line("td", "the same, 25,400 um to the inch", "td / 25,400", f"{number(um)} / 25,400",
             f"{number(loss, 4)} in"),
    )  # fmt: skip
    valid = "bare steel in mildly aggressive ground; no stray current; up to 100 years"
    return Result(loss, working=Working("Loss of bare steel", _LOSS_SOURCE, valid, lines))


@kept
def thickness_left(wall_thickness_in: float, years: float, aggressiveness: str) -> Result:
    """Wall of the tube that is left at the end of the life that it is designed for.

    tl = 0.93 tn - 2 td, td as in :func:`loss_of_face`, and 0 where nothing is left.

    Args:
        wall_thickness_in: tn, nominal, in, 0.05 to 2.
        years: design life, years, 0 to 100.
        aggressiveness: as of :func:`ground_aggressiveness`.

    Returns:
        Thickness, in. Both faces lose, although air and ground water hardly change inside a
        tube that is closed or filled: on the safe side.

    Not known when:
        The ground is aggressive, or a figure is out of its range.

    Source:
        ICC-ES AC358 3.9; 0.93 of the nominal wall by AISC 360-16 B4.2; both from memory.

    >>> round(thickness_left(0.217, 50.0, "mildly aggressive").value, 4)
    0.1298
    """
    lost = loss_of_face(years, aggressiveness)
    reason = lost.reason or outside(
        ("wall thickness", wall_thickness_in, 0.05, _THICKEST_WALL_IN, "in")
    )
    if reason:
        return not_known(reason)
    assert isinstance(lost.value, float)
    assert lost.working is not None
    design = DESIGN_SHARE * wall_thickness_in
    left = max(design - _FACES * lost.value, 0.0)
    lines = (
        *lost.working.lines,
        inches("tn", "nominal wall thickness", wall_thickness_in),
        Line("t0", "design wall thickness", "0.93 tn",
             f"{DESIGN_SHARE:g} x {number(wall_thickness_in)}", f"{number(design, 4)} in",
             DESIGN_SOURCE),
        Line("tl", "wall left, both faces having lost", "max(t0 - 2 td, 0)",
             f"max({number(design, 4)} - 2 x {number(lost.value, 4)}, 0)",
             f"{number(left, 4)} in"),
    )  # fmt: skip
    source = f"{_LOSS_SOURCE}; {DESIGN_SOURCE}"
    valid = lost.working.validity
    return Result(left, working=Working("Wall of the tube left", source, valid, lines))
