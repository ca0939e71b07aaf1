"""How deep the bearing layer lies, how many sections that takes, and the room to set one.

A pushed pier is proved by its drive load and stands where it meets refusal. Its end bearing is
not worked out from the presumptive pressures of IBC Table 1806.2, which are for footings; the depth
here tells how much tube to bring and whether the test hole reached what the pier is to stand on.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from survey.engineering._steps import given, inches, kept, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known, within
from survey.model import Value
from survey.vocabulary import NOT_KNOWN, Kind, write_quantity

DEEPEST_IN = 3600.0  # deepest that the form takes a layer

_REFUSAL_BLOWS = 50.0
_HARD_CLAY_PSF = 8000.0  # unconfined strength over 4 tsf: N over 30
_STRONGEST_PSF = 40_000.0
_STEP_IN = 0.001
_COHESIVE = ("clay", "silty clay", "sandy clay", "clay loam")
_SOURCE = "very dense or hard ground from N = 50, ASTM D1586, common practice"
_HARD_SOURCE = "Terzaghi and Peck, from memory"


class Bearing(NamedTuple):
    """What tells whether a layer can stop a pier.

    Args:
        label: its name on the form.
        top_in: depth to its top, in, 0 to 3,600, or a state.
        bottom_in: depth to its underside, in, 0 to 3,600, or a state.
        group: what the ground is, or a state.
        blow_count: N, least in the layer, blows per foot, 0 to 1,000, or a state.
        unconfined_strength_psf: of clay, psf, 0 to 40,000, or a state.
    """

    label: str
    top_in: Value
    bottom_in: Value
    group: Value
    blow_count: Value = NOT_KNOWN
    unconfined_strength_psf: Value = NOT_KNOWN


def bears(layer: Bearing) -> str:
    """Whether a layer can stop a pier: yes, no or maybe.

    Rock that is stable: yes. Fill: no, however hard a thing in it may be. By blow count: yes from
    N = 50, else no. Where none was made clay of less than 4 tsf: no, since hard clay is over 4
    tsf. All else: maybe.

    >>> bears(Bearing("1", 0.0, 60.0, "clay", DOES_NOT_APPLY, 3000.0))
    'no'
    """
    if layer.group == "fill":
        return "no"
    if layer.group == "stable rock":
        return "yes"
    # A layer whose group is not known may be fill, which does not bear, or rock, which does.
    if not isinstance(layer.group, str):
        return "maybe"
    blows = _figure(layer.blow_count, 1000.0)
    if blows is not None:
        return "yes" if blows >= _REFUSAL_BLOWS else "no"
    strength = _figure(layer.unconfined_strength_psf, _STRONGEST_PSF)
    if layer.blow_count is NOT_KNOWN:
        return "maybe"
    if layer.group in _COHESIVE and strength is not None and strength < _HARD_CLAY_PSF:
        return "no"
    return "maybe"


def _figure(value: Value, most: float) -> float | None:
    """A figure that can be one; none where it is not known or out of its range."""
    return value if isinstance(value, (int, float)) and 0.0 <= value <= most else None


def depth_to_bearing(layers: Sequence[Bearing], all_listed: bool) -> Result:
    """Depth to the top of the first layer that can stop a pier.

    z = least top of the layers that bear, as in :func:`bears`. A pier may go on into the layer,
    through a thin one into softer ground, or stop above it on a boulder.

    Args:
        layers: of the test hole, in any order.
        all_listed: whether the list is known to be complete.

    Returns:
        Depth below the ground at the hole, in.

    Not known when:
        No layer surely bears; or above the first that does lies a gap, a layer that may bear,
        or one of which the depth is not known; or there may be layers that are not listed.
        Then its bounds are given: at least the depth down to which the ground surely does not
        bear, at most the first top of a layer that surely does, or 3,600 in.

    Source:
        N from 50 for very dense or hard ground, ASTM D1586, common practice; stable rock.
        Clay under 4 tsf is not hard: Terzaghi and Peck, from memory.

    >>> clay = Bearing("1", 0.0, 240.0, "clay", 12.0)
    >>> depth_to_bearing([clay, Bearing("2", 240.0, 300.0, "stable rock")], True).value
    240.0
    >>> depth_to_bearing([clay], True).bounds
    (240.0, 3600.0)
    """
    judged = [(layer, bears(layer)) for layer in layers]
    tops = [
        top
        for layer, found in judged
        if found == "yes" and (top := _figure(layer.top_in, DEEPEST_IN)) is not None
    ]
    most = min(tops, default=DEEPEST_IN)
    least, doubt = _surely_above(judged, most, all_listed)
    lines = [
        noted("", f"layer {layer.label}: {layer.group}", f"{_depths(layer)}: bears: {found}",
              _why(layer))
        for layer, found in judged
    ]  # fmt: skip
    valid = (
        "ground at the pier as at the test hole; a pier may go into the layer, through a thin one "
        "into softer ground, or stop above it on a boulder"
    )
    title = "Depth to the bearing layer"
    if not tops or doubt:
        if not tops:
            at_least = write_quantity(least, Kind.LENGTH, "ft")
            none = f"no layer surely bears; the bearing layer lies at {at_least} or deeper"
            doubt = f"{none}: {doubt}" if doubt else none
        lines.append(
            Line("z", "depth to the bearing layer, at least", "least depth that is not ruled out",
                 doubt, f"{number(least)} in", _SOURCE)
        )  # fmt: skip
        return within(least, most, doubt, Working(title, _SOURCE, valid, tuple(lines)))
    lines.append(
        Line("z", "depth to the bearing layer", "least top of the layers that bear",
             f"min({', '.join(number(top) for top in tops)})", f"{number(most)} in", _SOURCE)
    )  # fmt: skip
    return Result(float(most), working=Working(title, _SOURCE, valid, tuple(lines)))


def _surely_above(
    judged: Sequence[tuple[Bearing, str]], end_in: float, all_listed: bool
) -> tuple[float, str]:
    """Depth down to which nothing can bear, and why it is less than where a layer surely does."""
    if not all_listed:
        return 0.0, "there may be soil layers that are not listed"
    if end_in <= _STEP_IN:
        return end_in, ""
    spans: list[tuple[float, float]] = []
    reached, doubt = end_in, ""
    for layer, found in judged:
        top, bottom = _figure(layer.top_in, DEEPEST_IN), _figure(layer.bottom_in, DEEPEST_IN)
        if found == "no":
            if top is not None and bottom is not None:
                spans.append((top, bottom))
        elif (from_in := 0.0 if top is None else top) < reached:
            reached = from_in
            doubt = (
                f"layer {layer.label} may bear" if top is not None
                else f"the depth of layer {layer.label} is not known"
            )  # fmt: skip
    ruled_out = 0.0
    for top, bottom in sorted(spans):
        if top > ruled_out + _STEP_IN:
            break
        ruled_out = max(ruled_out, bottom)
    if ruled_out + _STEP_IN < reached:
        gap = write_quantity(ruled_out, Kind.LENGTH, "ft")
        unknown = f"nothing is known of the ground below {gap}"
        return ruled_out, f"{unknown}; {doubt}" if doubt else unknown
    return reached, doubt


def _depths(layer: Bearing) -> str:
    return f"{_depth(layer.top_in)} to {_depth(layer.bottom_in)}"


def _depth(depth_in: Value) -> str:
    if not isinstance(depth_in, (int, float)):
        return str(depth_in)
    if _figure(depth_in, DEEPEST_IN) is None:
        return "out of range"
    return write_quantity(depth_in, Kind.LENGTH, "ft")


def _why(layer: Bearing) -> str:
    blows = _figure(layer.blow_count, 1000.0)
    if layer.group in ("fill", "stable rock"):
        return f"by its group, {layer.group}; common practice"
    if blows is not None:
        return f"N = {number(blows)} against 50, common practice"
    strength = _figure(layer.unconfined_strength_psf, _STRONGEST_PSF)
    if layer.blow_count is NOT_KNOWN:
        return "maybe"
    if layer.group in _COHESIVE and strength is not None:
        return f"{number(strength)} psf against 8,000 psf of hard clay, {_HARD_SOURCE}"
    return "no blow count"


@kept
def sections_needed(depth_to_bearing_in: float, from_in: float, section_length_in: float) -> Result:
    """Number of tube sections that reach the bearing layer.

    n = (z - b) / s, rounded up. What goes into the bearing layer and what is cut off is left
    out: it is the least to bring.

    Args:
        depth_to_bearing_in: z, in, 0 to 3,600.
        from_in: b, depth of the bracket below the same ground, in, 0 to 720.
        section_length_in: s, in, 6 to 300, without what goes into the section below.

    Returns:
        Count, at least 1.

    Not known when:
        A figure is out of its range; or the bearing layer lies no deeper than the bracket.

    Source:
        Arithmetic.

    >>> sections_needed(240.0, 30.0, 42.0).value
    5
    """
    return sections_within(depth_to_bearing_in, depth_to_bearing_in, from_in, section_length_in)


@kept
def sections_within(
    least_in: float, most_in: float, from_in: float, section_length_in: float
) -> Result:
    """Number of tube sections where the depth of the bearing layer has only bounds.

    n = (z - b) / s, rounded up, at both bounds of z.

    Args:
        least_in: least depth to the bearing layer, in, 0 to 3,600.
        most_in: greatest depth, in, from the least to 3,600.
        from_in: b, depth of the bracket below the same ground, in, 0 to 720.
        section_length_in: s, in, 6 to 300.

    Returns:
        Count, at least 1, where both bounds give the same.

    Not known when:
        A figure is out of its range; the greatest depth is no deeper than the bracket; or the
        bounds give two counts, which are then its bounds.

    Source:
        Arithmetic.

    >>> sections_within(240.0, 300.0, 30.0, 42.0).bounds
    (5.0, 7.0)
    """
    reason = outside(
        ("least depth to bearing", least_in, 0.0, DEEPEST_IN, "in"),
        ("depth to bearing", most_in, least_in, DEEPEST_IN, "in"),
        ("depth of the bracket", from_in, 0.0, 720.0, "in"),
        ("section length", section_length_in, 6.0, 300.0, "in"),
    )
    if reason:
        return not_known(reason)
    if most_in - from_in < _STEP_IN:
        return not_known(
            f"the bearing layer lies at {most_in:g} in, no deeper than the bracket at "
            f"{from_in:g} in; the method holds where it is deeper: look again at what the footing "
            "stands on"
        )
    few, many = (_sections(depth, from_in, section_length_in) for depth in (least_in, most_in))
    b, s = number(from_in), number(section_length_in)
    lines = [
        given("z", "depth to the bearing layer" + ("" if least_in == most_in else ", greatest"),
              most_in, Kind.LENGTH),
        inches("b", "depth of the bracket", from_in),
        inches("s", "section length", section_length_in),
    ]  # fmt: skip
    valid = "least to bring: what goes into the bearing layer and what is cut off is left out"
    title = "Sections to the bearing layer"
    if few != many:
        lines.append(
            Line("n", "sections, at least", "(z - b) / s, rounded up, at the least depth",
                 f"from z = {number(least_in)}", str(few))
        )  # fmt: skip
        reason = f"{few} to {many} sections, as deep as the bearing layer may lie"
        working = Working(title, "arithmetic", valid, tuple(lines))
        return within(float(few), float(many), reason, working)
    lines.append(
        Line("n", "sections", "(z - b) / s, rounded up", f"({number(most_in)} - {b}) / {s}, up",
             str(many))
    )  # fmt: skip
    return Result(many, working=Working(title, "arithmetic", valid, tuple(lines)))


def _sections(depth_in: float, from_in: float, section_length_in: float) -> int:
    # A thousandth of an inch is no reason for one more section.
    return max(math.ceil((depth_in - from_in - _STEP_IN / 2) / section_length_in), 1)


@kept
def headroom_needed(
    section_length_in: float, drive_stand_height_in: float, bracket_height_in: float
) -> Result:
    """Height above the ground beside the pit that it takes to set a section on the drive stand.

    h = max(b + d + s, 0): the section is held above the stand before it goes in.

    Args:
        section_length_in: s, in, 6 to 300.
        drive_stand_height_in: d, drive stand with its cylinder drawn out, above the bracket,
            in, 0 to 180.
        bracket_height_in: b, top of the bracket above the ground or floor beside the pit that
            headroom is measured from, in, -720 to 360; negative below it.

    Returns:
        Height, in.

    Not known when:
        A figure is out of its range.

    Source:
        Plane geometry. Where a stand takes the section in at its side less is needed: on the
        safe side.

    >>> headroom_needed(42.0, 48.0, -24.0).value
    66.0
    """
    reason = outside(
        ("section length", section_length_in, 6.0, 300.0, "in"),
        ("height of the drive stand", drive_stand_height_in, 0.0, 180.0, "in"),
        ("height of the bracket", bracket_height_in, -720.0, 360.0, "in"),
    )
    if reason:
        return not_known(reason)
    height = max(bracket_height_in + drive_stand_height_in + section_length_in, 0.0)
    b, d, s = (number(x) for x in (bracket_height_in, drive_stand_height_in, section_length_in))
    lines = (
        inches("s", "section length", section_length_in),
        inches("d", "height of the drive stand above the bracket", drive_stand_height_in),
        inches("b", "top of the bracket above the ground, negative below it", bracket_height_in),
        Line("h", "headroom needed", "max(b + d + s, 0)", f"max({b} + {d} + {s}, 0)",
             f"{number(height)} in"),
    )  # fmt: skip
    valid = "section set from above the drive stand, upright"
    return Result(height, working=Working("Headroom needed", "plane geometry", valid, lines))


@kept
def headroom_use(headroom_needed_in: float, headroom_at_pier_in: float) -> Result:
    """Headroom that setting a section needs as a share of what there is.

    u = 100 h / H.

    Args:
        headroom_needed_in: h, as in :func:`headroom_needed`, in, 0 to 1,200.
        headroom_at_pier_in: H, from the ground or floor beside the pit to whatever is above it,
            in, 6 to 600.

    Returns:
        Percent; over 100 the section can't be set.

    Not known when:
        A figure is out of its range.

    Source:
        Plane geometry.

    >>> headroom_use(66.0, 88.0).value
    75.0
    """
    reason = outside(
        ("headroom needed", headroom_needed_in, 0.0, 1200.0, "in"),
        ("headroom at the pier", headroom_at_pier_in, 6.0, 600.0, "in"),
    )
    if reason:
        return not_known(reason)
    use = 100 * headroom_needed_in / headroom_at_pier_in
    lines = (
        inches("h", "headroom needed", headroom_needed_in),
        inches("H", "headroom at the pier", headroom_at_pier_in),
        Line("u", "headroom used", "100 h / H",
             f"100 x {number(headroom_needed_in)} / {number(headroom_at_pier_in)}",
             f"{number(use)} %"),
    )  # fmt: skip
    valid = "nothing hangs lower than was measured"
    return Result(use, working=Working("Use of the headroom", "plane geometry", valid, lines))
