"""Slopes and benches of a pit's sides as 29 CFR 1926 Subpart P Appendix B allows them.

The soil class is the least stable one in the pit, as App. A (c)(4) has it; that a layered pit
may be cut layer by layer (Fig. B-1.4) is not used. Fractions that are blank in the regulation
text that was read are marked with where they were seen instead.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable

from survey.engineering._steps import given, inches, kept, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known, within
from survey.model import Value
from survey.vocabulary import Kind, Missing

_APPENDIX = "29 CFR 1926 Subpart P App. B"
_SECONDARY = "seen in a secondary copy"
_VALID = "pits up to 20 ft deep; load beside the pit judged apart, App. B (c)(3)(iii)"

_DEEPEST_IN = 240.0  # Table B-1 and notes 1 of Fig. B-1: 20 ft
_SHORT_TERM_DEPTH_IN = 144.0  # Table B-1 note 2: 12 ft
_SHORT_TERM_SLOPE = 0.5
_SHORT_TERM_SOURCE = f"{_APPENDIX} Table B-1 note 2; 1/2 {_SECONDARY}"
_LESS_STEEP = 0.5
_DISTRESS_SOURCE = f"{_APPENDIX} (c)(3)(ii); 1/2 from memory"
_LENGTH_STEP_IN = 0.001

_BROKEN_ROCK = "rock with signs of distress is no stable rock; class it again, App. A (c)(5)"

# Maximum allowable slope, H:1V, and where it is from, from most to least stable.
_STEEPEST = {
    "stable rock": (0.0, f"{_APPENDIX} Table B-1; {_SECONDARY}"),
    "A": (0.75, f"{_APPENDIX} Table B-1; 3/4 {_SECONDARY}"),
    "B": (1.0, f"{_APPENDIX} Table B-1"),
    "C": (1.5, f"{_APPENDIX} Table B-1"),
}
# Of benches: overall slope, highest first rise and highest later rise, in.
_BENCHES = {"A": (0.75, 48.0, 60.0), "B": (1.0, 48.0, 48.0)}
_BENCH_SOURCE = {
    "A": f"{_APPENDIX} Fig. B-1.1 note 2; 3/4 and rises {_SECONDARY}",
    "B": f"{_APPENDIX} Fig. B-1.2 note 2; rises and cohesive soil only {_SECONDARY}",
}
_STANDS_ALONE_IN = 42.0  # Fig. B-1.1 note 3: 3 ft 6 in
_STANDS_ALONE_SOURCE = f"{_APPENDIX} Fig. B-1.1 note 3; 3/4 from memory, 3 1/2 ft {_SECONDARY}"
_ALONE_STEEP_DEPTH_IN = 96.0  # the same: 8 ft
_ALONE_DEPTH_IN = 144.0  # the same: 12 ft
_ALONE_FLATTER = 1.0
_SUPPORT_ABOVE_IN = 18.0  # Fig. B-1.1 note 3, B-1.2 note 3, B-1.3 note 2
_HELD_SOURCE = {
    "A": f"{_APPENDIX} Fig. B-1.1 note 3; 3/4 from memory",
    "B": f"{_APPENDIX} Fig. B-1.2 note 3",
    "C": f"{_APPENDIX} Fig. B-1.3 note 2",
}


@kept
def appendix_b_slope(
    soil_class: Value, pit_depth_in: Value, open_a_day_or_less: Value, distress: Value
) -> Result:
    """Steepest slope that Appendix B allows for the sides of a pit.

    m = m0, or m0 + 1/2 where the ground shows signs of distress; m0 is 0 in stable rock, 3/4 in
    A, 1 in B and 1 1/2 in C; 1/2 in A where the pit is open for 24 hours or less and at most
    12 ft deep.

    Args:
        soil_class: least stable class in the pit.
        pit_depth_in: in, 0 to 240.
        open_a_day_or_less: ``yes`` or ``no``; matters in A only.
        distress: ``yes`` or ``no``: cracks, slumping, bulging, spalling and the like.

    Returns:
        Horizontal to one vertical: a side that is cut must be at least as flat as this.

    Not known when:
        The depth is not known or over 20 ft, where an engineer designs; or what is not known
        leaves more than one slope possible: then the least and the most of them are told.
        Rock that shows distress is no stable rock and must be classed again.

    Source:
        29 CFR 1926 Subpart P App. B Table B-1, (c)(3)(ii). The fractions 3/4 and 1/2 of type A
        and the slope of rock are from secondary copies, the 1/2 for distress is from memory.

    >>> [appendix_b_slope("B", 96.0, "no", signs).value for signs in ("no", "yes")]
    [1.0, 1.5]
    """
    depth, reason = _depth(pit_depth_in)
    classes = _classes(soil_class)
    reason = reason or ("" if classes else f"the soil class is {soil_class}")
    if reason:
        return not_known(reason)
    may_be_short = "A" in classes and depth <= _SHORT_TERM_DEPTH_IN
    short_terms = _either(open_a_day_or_less) if may_be_short else (False,)
    signs = _either(distress)
    lines = [noted("", "soil class", str(soil_class)), _depth_line(depth)]
    if may_be_short:
        lines.append(noted("", "open for 24 hours or less", str(open_a_day_or_less)))
    lines.append(noted("", "signs of distress", str(distress)))
    title = "Steepest slope by Appendix B"
    unclear = _unclear(
        ("the soil class", str(soil_class), len(classes)),
        ("whether it is open for 24 hours or less", str(open_a_day_or_less), len(short_terms)),
        ("whether there are signs of distress", str(distress), len(signs)),
    )
    if classes == ("stable rock",) and signs == (True,):
        unclear = _BROKEN_ROCK
    if unclear:
        slopes = [
            slope
            for name, short, bad in itertools.product(classes, short_terms, signs)
            for slope in _slopes(name, short, bad)
        ]
        return _between(slopes, unclear, title, lines)
    base, source = _maximum(classes[0], short_terms[0])
    return _cut_back(base, source, signs[0], title, lines)


def _maximum(name: str, short_term: bool) -> tuple[float, str]:
    """Maximum allowable slope of a class, and where it is from."""
    if name == "A" and short_term:
        return _SHORT_TERM_SLOPE, _SHORT_TERM_SOURCE
    return _STEEPEST[name]


def _slopes(name: str, short_term: bool, distress: bool) -> tuple[float, ...]:
    """The slopes that may be needed: of rock with distress, from the letter to those of C."""
    steepest, _ = _maximum(name, short_term)
    if not distress:
        return (steepest,)
    if name == "stable rock":
        return (steepest + _LESS_STEEP, _STEEPEST["C"][0] + _LESS_STEEP)
    return (steepest + _LESS_STEEP,)


def bench_slope(
    soil_class: Value, pit_depth_in: Value, cohesive_ground: Value, distress: Value
) -> Result:
    """Steepest overall slope that Appendix B allows for the benched sides of a pit.

    m = m0, or m0 + 1/2 where the ground shows signs of distress; m0 is 3/4 in A, and 1 in B that
    is cohesive. :func:`highest_rise` has the height of the steps.

    Args:
        soil_class: least stable class in the pit.
        pit_depth_in: in, 0 to 240.
        cohesive_ground: ``yes`` or ``no``, whether every layer is clay or a clayey soil; matters
            in B only.
        distress: ``yes`` or ``no``.

    Returns:
        Horizontal to one vertical, of the line along the steps from floor to ground.

    Not known when:
        The depth is not known or over 20 ft; Appendix B gives no bench (C, B that is not
        cohesive, stable rock) or may give none; or what is not known leaves more than one slope
        possible: then the least and the most of them are told.

    Source:
        29 CFR 1926 Subpart P App. B Fig. B-1.1 and B-1.2 notes 2, (c)(3)(ii); 3/4 and that only
        cohesive B is benched from secondary copies, the 1/2 for distress from memory. That
        (c)(3)(ii) counts for benches follows from the notes, which call m0 the maximum
        allowable slope.

    >>> bench_slope("B", 96.0, "yes", "no").value
    1.0
    """
    depth, reason = _depth(pit_depth_in)
    classes, none = _benched(soil_class, cohesive_ground)
    reason = reason or none
    if reason:
        return not_known(reason)
    signs = _either(distress)
    lines = [
        noted("", "soil class", str(soil_class)),
        _depth_line(depth),
        noted("", "cohesive ground", str(cohesive_ground)),
        noted("", "signs of distress", str(distress)),
    ]
    (name,) = classes
    title = "Steepest bench by Appendix B"
    base = _BENCHES[name][0]
    unclear = _unclear(("whether there are signs of distress", str(distress), len(signs)))
    if unclear:
        return _between((base, base + _LESS_STEEP), unclear, title, lines)
    return _cut_back(base, _BENCH_SOURCE[name], signs[0], title, lines)


def highest_rise(soil_class: Value, cohesive_ground: Value, *, first: bool) -> Result:
    """Highest step that Appendix B allows in the benched sides of a pit.

    4 ft for the step from the floor; 5 ft in A and 4 ft in cohesive B for the steps above it.

    Args:
        soil_class: least stable class in the pit.
        cohesive_ground: ``yes`` or ``no``; matters in B only.
        first: whether it is the step from the floor.

    Returns:
        Height, in.

    Not known when:
        The class is not known, or Appendix B gives no bench or may give none.

    Source:
        29 CFR 1926 Subpart P App. B Fig. B-1.1 and B-1.2, from a secondary copy.

    >>> highest_rise("A", "no", first=True).value, highest_rise("A", "no", first=False).value
    (48.0, 60.0)
    """
    classes, none = _benched(soil_class, cohesive_ground)
    if none:
        return not_known(none)
    (name,) = classes
    rise = _BENCHES[name][1 if first else 2]
    lines = (
        noted("", "soil class", name),
        noted("", "step", "from the floor" if first else "above the first"),
        noted("d", "highest step", f"{number(rise)} in", _BENCH_SOURCE[name]),
    )
    return Result(rise, working=Working("Highest step by Appendix B", _APPENDIX, _VALID, lines))


def fewest_rises(soil_class: Value, pit_depth_in: Value, cohesive_ground: Value) -> Result:
    """Fewest steps in which the benched sides of a pit come up to the ground.

    n = 1 + ceil((H - d1) / d2), at least 1; d1 and d2 are the highest first and later step.

    Args:
        soil_class: least stable class in the pit.
        pit_depth_in: H, in, 0 to 240.
        cohesive_ground: ``yes`` or ``no``; matters in B only.

    Returns:
        Number of steps.

    Not known when:
        The depth is not known or over 20 ft, the class is not known, or Appendix B gives no
        bench or may give none.

    Source:
        29 CFR 1926 Subpart P App. B Fig. B-1.1 and B-1.2, from a secondary copy.

    >>> fewest_rises("B", 96.0, "yes").value
    2.0
    """
    depth, reason = _depth(pit_depth_in)
    classes, none = _benched(soil_class, cohesive_ground)
    reason = reason or none
    if reason:
        return not_known(reason)
    (name,) = classes
    _, d1, d2 = _BENCHES[name]
    # Half a step less, so that rounding noise never adds a step to a pit that just fits.
    count = 1 + max(math.ceil((depth - d1 - _LENGTH_STEP_IN / 2) / d2), 0)
    lines = (
        noted("", "soil class", name),
        inches("H", "pit depth", depth),
        noted("d1, d2", "highest first and later step", f"{number(d1)} in, {number(d2)} in",
              _BENCH_SOURCE[name]),
        Line("n", "fewest steps", "1 + ceil((H - d1) / d2), at least 1",
             f"1 + ceil(({number(depth)} - {number(d1)}) / {number(d2)})", str(count)),
    )  # fmt: skip
    return Result(
        float(count), working=Working("Fewest steps by Appendix B", _APPENDIX, _VALID, lines)
    )


def steepest_with_vertical_lower_part(
    soil_class: Value,
    pit_depth_in: Value,
    vertical_part_in: float,
    support_above_in: Value,
    distress: Value,
) -> Result:
    """Steepest slope above a lower part of the sides that is cut vertical.

    m = m0, or m0 + 1/2 where the ground shows signs of distress. Where shoring or a shield holds
    the vertical part and stands at least 18 in above its top, m0 is 3/4 in A, 1 in B and 1 1/2
    in C. Not held, in A only and with at most 3 ft 6 in vertical, m0 is 3/4 to a depth of 8 ft
    and 1 to 12 ft; with signs of distress nothing stands unheld. Nothing vertical leaves a simple
    slope; stable rock may be vertical.

    Args:
        soil_class: least stable class in the pit.
        pit_depth_in: H, in, 0 to 240.
        vertical_part_in: height of the vertical part from the floor, in, 0 to H.
        support_above_in: how far shoring or shield stands above its top, in, 0 to 240;
            ``DOES_NOT_APPLY`` where nothing holds it.
        distress: ``yes`` or ``no``.

    Returns:
        Horizontal to one vertical. Relief for pits that are open for 24 hours or less is not
        taken, since the notes for vertical lower parts give none.

    Not known when:
        The depth is not known or over 20 ft; class or support is not known; Appendix B gives no
        such side; rock or an unheld vertical part shows distress or may do so. Elsewhere the
        least and the most are told while it is not known whether there is any.

    Source:
        29 CFR 1926 Subpart P App. B Fig. B-1.1 note 3, B-1.2 note 3, B-1.3 note 2, (c)(3)(ii);
        3 1/2 ft from a secondary copy, 3/4 and the 1/2 for distress from memory.

    >>> steepest_with_vertical_lower_part("C", 96.0, 48.0, 18.0, "no").value
    1.5
    """
    depth, reason = _depth(pit_depth_in)
    reason = reason or outside(("vertical part", vertical_part_in, 0.0, depth, "in"))
    if not reason and isinstance(support_above_in, (int, float)):
        reason = outside(("support above it", support_above_in, 0.0, _DEEPEST_IN, "in"))
    if not reason and soil_class not in _STEEPEST:
        reason = f"the soil class is {soil_class}"
    if reason:
        return not_known(reason)
    name = str(soil_class)
    base, source, none = _above_vertical(name, depth, vertical_part_in, support_above_in)
    if none:
        return not_known(none)
    signs = _either(distress)
    if source == _STANDS_ALONE_SOURCE and True in signs:
        # What is vertical can't be cut back to a slope less steep, as (c)(3)(ii) asks.
        return not_known(
            f"whether there are signs of distress is {distress}"
            if len(signs) > 1
            else "with signs of distress, Appendix B lets no vertical part stand unheld"
        )
    support = (
        f"{number(support_above_in)} in"
        if isinstance(support_above_in, (int, float))
        else "none"
        if support_above_in is Missing.DOES_NOT_APPLY
        else "not known"
    )
    lines = [
        noted("", "soil class", name),
        _depth_line(depth),
        inches("v", "vertical part", vertical_part_in),
        noted("", "support above the vertical part", support),
        noted("", "signs of distress", str(distress)),
    ]
    title = "Steepest slope above a vertical lower part"
    unclear = _unclear(("whether there are signs of distress", str(distress), len(signs)))
    if name == "stable rock" and True in signs:
        # Of any lesser class Appendix B may give no such side at all, so there are no bounds.
        return not_known(unclear or _BROKEN_ROCK)
    if unclear:
        return _between((base, base + _LESS_STEEP), unclear, title, lines)
    return _cut_back(base, source, signs[0], title, lines)


def _above_vertical(
    name: str, depth_in: float, vertical_in: float, support_above_in: Value
) -> tuple[float, str, str]:
    """Slope above a vertical lower part and its source, or why there is none."""
    steepest, source = _STEEPEST[name]
    if name == "stable rock" or vertical_in <= 0.0:
        return steepest, source, ""
    alone = name == "A" and depth_in <= _ALONE_DEPTH_IN and vertical_in <= _STANDS_ALONE_IN
    known = isinstance(support_above_in, (int, float))
    if isinstance(support_above_in, (int, float)) and support_above_in >= _SUPPORT_ABOVE_IN:
        return steepest, _HELD_SOURCE[name], ""
    if not known and support_above_in is not Missing.DOES_NOT_APPLY:
        if not (alone and depth_in <= _ALONE_STEEP_DEPTH_IN):  # the same either way
            return 0.0, "", f"the support above the vertical part is {support_above_in}"
        return steepest, _STANDS_ALONE_SOURCE, ""
    if alone:
        flatter = depth_in > _ALONE_STEEP_DEPTH_IN
        return (_ALONE_FLATTER if flatter else steepest), _STANDS_ALONE_SOURCE, ""
    if name == "A":
        limits = "at most 3 ft 6 in high in pits of at most 12 ft"
        return 0.0, "", f"not held to 18 in above it, a vertical lower part in A is {limits}"
    return 0.0, "", f"a vertical lower part in {name} is always held to 18 in above it"


def _depth(pit_depth_in: Value) -> tuple[float, str]:
    """The depth as a number, or why there is no method for it."""
    if not isinstance(pit_depth_in, (int, float)):
        return 0.0, f"the pit depth is {pit_depth_in}"
    reason = outside(("pit depth", pit_depth_in, 0.0, _DEEPEST_IN, "in"))
    if reason:
        return 0.0, f"{reason}; deeper pits are designed by an engineer, App. F"
    return float(pit_depth_in), ""


def _depth_line(depth_in: float) -> Line:
    return given("H", "pit depth", depth_in, Kind.LENGTH, "ft")


def _classes(soil_class: Value) -> tuple[str, ...]:
    """The classes that are possible; none where the answer is no class."""
    if soil_class is Missing.NOT_KNOWN:
        return tuple(_STEEPEST)
    return (str(soil_class),) if soil_class in _STEEPEST else ()


def _benched(soil_class: Value, cohesive_ground: Value) -> tuple[tuple[str, ...], str]:
    """The class that is benched, or why Appendix B gives no bench or may give none."""
    if soil_class not in _STEEPEST:
        return (), f"the soil class is {soil_class}"
    name = str(soil_class)
    if name not in _BENCHES:
        what = "stable rock: it may be vertical" if name == "stable rock" else f"soil class {name}"
        return (), f"Appendix B gives no bench for {what}"
    if name == "B" and cohesive_ground != "yes":
        if cohesive_ground == "no":
            return (), "Appendix B gives no bench for soil class B that is not cohesive"
        return (), f"whether the ground is cohesive is {cohesive_ground}"
    return (name,), ""


def _either(answer: Value) -> tuple[bool, ...]:
    """What a yes or no may be: both while it is no answer."""
    return {"yes": (True,), "no": (False,)}.get(str(answer), (False, True))


def _unclear(*answers: tuple[str, str, int]) -> str:
    """Which of some answers leave more than one possibility."""
    return "; ".join(f"{what} is {answer}" for what, answer, count in answers if count > 1)


def _between(slopes: Iterable[float], reason: str, title: str, lines: list[Line]) -> Result:
    found = sorted(slopes)
    least, most = found[0], found[-1]
    last = Line("m", "steepest slope", "for each answer that is possible", "",
                f"{number(least)} to {number(most)}H:1V")  # fmt: skip
    return within(least, most, reason, Working(title, _APPENDIX, _VALID, (*lines, last)))


def _cut_back(base: float, source: str, distress: bool, title: str, lines: list[Line]) -> Result:
    """The maximum allowable slope, and what signs of distress add to it."""
    slope = base + _LESS_STEEP if distress else base
    last = (
        noted("m0", "maximum allowable slope", f"{number(base)}H:1V", source),
        Line("m", "steepest slope", "m0 + 1/2", f"{number(base)} + 0.5", f"{number(slope)}H:1V",
             _DISTRESS_SOURCE)
        if distress
        else Line("m", "steepest slope", "m0", number(base), f"{number(slope)}H:1V"),
    )  # fmt: skip
    return Result(slope, working=Working(title, _APPENDIX, _VALID, (*lines, *last)))
