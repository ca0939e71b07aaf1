"""What ground a pit meets: the groups of its layers, and the clay under its floor.

Depths are below the ground outside. A list of layers that may not be complete, or that does not
reach down to the depth that is looked at, leaves what is met not known.
"""

from __future__ import annotations

from collections.abc import Sequence

from survey.engineering._steps import noted, outside
from survey.engineering.soil import COHESIVE, Layer, doubt, layers_down_to
from survey.engineering.working import Line, Result, Working, not_known, within
from survey.model import Value
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Missing

BETWEEN = ", "
_METHOD = "layers of the test hole, by their depths"
_VALID = "layers known and listed down to that depth"
_DEEPEST_IN = 3600.0
# Unconfined strength that each finding of the thumb test leaves possible, psf.
_BY_THUMB = {
    "indented only with great effort": (3000.0, 40000.0),
    "indented with effort": (1000.0, 3000.0),
    "easily pushed in": (2.0, 1000.0),
}
_STIFF_SU_PSF = 1000.0
_WEAKEST_PSF = 2.0  # a reading of nothing counts as next to nothing
_THUMB = "29 CFR 1926 Subpart P App. A (d)(2)(iii), 1.5 and 0.5 tsf"


def groups_down_to(depth_in: float, layers: Sequence[Layer], all_listed: bool) -> Result:
    """The soil groups from the ground down to a depth.

    The layers whose top lies above the depth count, in the order of their tops.

    Args:
        depth_in: below the ground, in, above 0 and at most 3,600.
        layers: the layers of the test hole, in any order.
        all_listed: whether the list is known to be complete.

    Returns:
        The groups, with commas between, each once: ``"fill, clay"``.

    Not known when:
        The depth is out of its range; the group or the top of a layer that may count is not
        known; or the layers leave a gap, end above the depth or may not all be listed.

    Source:
        Comparison of depths.

    >>> groups_down_to(60.0, [Layer("1", 0.0, 96.0, ("B",), "clay")], True).value
    'clay'
    """
    reason = outside(("depth", depth_in, 0.001, _DEEPEST_IN, "in"))
    if reason:
        return not_known(reason)
    counted = layers_down_to(depth_in, layers)
    unclear = [
        f"layer {layer.label}: group {layer.group}, top {layer.top_in}"
        for layer in counted
        if isinstance(layer.group, Missing) or isinstance(layer.top_in, Missing)
    ]
    reason = "; ".join(part for part in (doubt(depth_in, counted, all_listed), *unclear) if part)
    if reason:
        return not_known(reason)
    groups = dict.fromkeys(str(layer.group) for layer in sorted(counted, key=_top))
    found = BETWEEN.join(groups)
    line = Line("", "ground met", "layers with their top above the depth", "", found)
    return Result(found, working=Working("Ground that the pit meets", _METHOD, _VALID, (line,)))


def strength_under(
    floor_in: float,
    reach_in: float,
    layers: Sequence[Layer],
    tests: Sequence[tuple[Value, Value]],
    all_listed: bool,
) -> Result:
    """Least undrained strength of the clay from a pit's floor down over a reach.

    su = q / 2, with q the least unconfined strength of the layers between H and H + d; of a layer
    that was tested with the thumb alone, between what the finding leaves possible: 1.5 tsf and
    more, 0.5 to 1.5 tsf, or up to 0.5 tsf. Where both were made, no more than the thumb allows.

    Args:
        floor_in: H, depth of the floor, in, above 0 and at most 1,800.
        reach_in: d, how far below the floor the ground counts, in, 0 to 1,800.
        layers: the layers of the test hole.
        tests: of each, in the same order, its unconfined strength, psf, 0 to 40,000, and what the
            thumb did to it.
        all_listed: whether the list is known to be complete.

    Returns:
        su, psf, or its bounds by the thumb. ``DOES_NOT_APPLY`` where the ground under the floor
        surely is no clay down to that depth.

    Not known when:
        A depth is out of its range; the layers do not reach down to H + d without a gap or may
        not all be listed; or the strength of a clay among them is known by neither test.

    Source:
        29 CFR 1926 Subpart P App. A (d)(2)(iii)-(iv) for q; su is half of the unconfined strength
        (ASTM D2166).

    >>> layer = Layer("1", 0.0, 240.0, ("B",), "clay")
    >>> strength_under(60.0, 36.0, [layer], [(2000.0, DOES_NOT_APPLY)], True).value
    1000.0
    """
    reason = outside(
        ("depth of pit floor", floor_in, 0.001, 1800.0, "in"),
        ("reach below the floor", reach_in, 0.0, 1800.0, "in"),
    )
    if reason:
        return not_known(reason)
    bottom = floor_in + reach_in
    counted = layers_down_to(bottom, layers)
    reason = doubt(bottom, counted, all_listed)
    if reason:
        return not_known(f"look deeper: under the pit's floor, {reason}")
    under = [
        (layer, _strength(*made))
        for layer, made in zip(layers, tests, strict=True)
        if not isinstance(layer.bottom_in, (int, float)) or layer.bottom_in > floor_in
        if layer in counted
    ]
    unclear = [
        layer.label
        for layer, _ in under
        if isinstance(layer.group, Missing)
        or isinstance(layer.top_in, Missing)
        or isinstance(layer.bottom_in, Missing)
    ]
    if unclear:
        return not_known(f"group, top or bottom of layer {', '.join(unclear)} is not known")
    clays = [(layer, strength) for layer, strength in under if layer.group in COHESIVE]
    if not clays:
        return Result(DOES_NOT_APPLY, "there is no clay under the floor")
    tested = [span for _, span in clays if span is not None]
    if len(tested) < len(clays):
        return not_known("the strength of a clay under the floor is not known by any test")
    least, most = (min(ends) for ends in zip(*tested, strict=True))
    lines = (
        *(
            noted("q", f"unconfined strength, layer {layer.label}", _psf(*span),
                  _THUMB if span[0] < span[1] else "")
            for layer, span in clays if span is not None
        ),
        Line("su", "undrained strength", "q / 2, of the least", f"{_psf(least, most)} / 2",
             _psf(least / 2, most / 2)),
    )  # fmt: skip
    working = Working("Clay under the floor", _METHOD, _VALID, lines)
    if least < most:
        reason = "the strength of a clay under the floor is known only by the thumb; measure it"
        return within(least / 2, most / 2, reason, working)
    return Result(least / 2, working=working)


def side_hold(
    floor_in: float,
    reach_in: float,
    layers: Sequence[Layer],
    tests: Sequence[tuple[Value, Value]],
    all_listed: bool,
) -> Result:
    """How well the ground under a pit's floor holds a tube sideways, over a reach below it.

    Firm where all of it is clay with q >= 1 tsf, stiff; else soft.

    Args:
        floor_in: depth of the floor, in, above 0 and at most 1,800.
        reach_in: how far below the floor the ground counts, in, 0 to 1,800.
        layers: the layers of the test hole.
        tests: as for :func:`strength_under`.
        all_listed: whether the list is known to be complete.

    Returns:
        ``firm`` or ``soft``. Ground other than clay counts as soft, which is the worse.

    Not known when:
        No layer surely makes it soft, and what is not known may.

    Source:
        IBC 1810.2.1 (stiff and soft soil); stiff clay from 1 tsf, Terzaghi and Peck 1967.

    >>> layer = Layer("1", 0.0, 240.0, ("B",), "clay")
    >>> side_hold(60.0, 60.0, [layer], [(3000.0, DOES_NOT_APPLY)], True).value
    'firm'
    """
    found = strength_under(floor_in, reach_in, layers, tests, all_listed)
    bottom = floor_in + reach_in
    surely = [
        layer
        for layer in layers_down_to(bottom, layers)
        if isinstance(layer.top_in, (int, float))
        and isinstance(layer.bottom_in, (int, float))
        and layer.bottom_in > floor_in
    ]
    other = any(not isinstance(one.group, Missing) and one.group not in COHESIVE for one in surely)
    least, most = found.bounds or (found.value, found.value)
    if outside(("depth", bottom, 0.001, _DEEPEST_IN, "in")):
        return not_known(found.reason)
    if other or found.value is DOES_NOT_APPLY or (isinstance(most, float) and most < _STIFF_SU_PSF):
        hold = "soft"
    elif isinstance(least, float) and least >= _STIFF_SU_PSF:
        hold = "firm"
    else:
        return not_known(found.reason)
    lines = (Line("", "ground that holds the tube", "firm if all is clay with su >= 1,000 psf",
                  "layers under the floor", hold),)  # fmt: skip
    return Result(hold, working=Working("Ground under the floor", _METHOD, _VALID, lines))


def _strength(strength_psf: Value, thumb_test: Value) -> tuple[float, float] | None:
    """Least and greatest unconfined strength that the tests of a clay leave; none without one."""
    by_thumb = _BY_THUMB.get(str(thumb_test))
    if isinstance(strength_psf, (int, float)):
        if outside(("unconfined strength", strength_psf, 0.0, 40000.0, "psf")):
            return None
        most = max(strength_psf, _WEAKEST_PSF)
        if by_thumb is not None:
            most = max(min(most, by_thumb[1]), _WEAKEST_PSF)
        # A thumb that is still to be told of may allow no more than the weakest of its findings.
        weakest = min(ends[1] for ends in _BY_THUMB.values())
        return (min(most, weakest) if thumb_test is NOT_KNOWN else most), most
    # A reading that is still to be given may be lower than the thumb allows.
    return by_thumb if strength_psf is DOES_NOT_APPLY else None


def _psf(least: float, most: float) -> str:
    if least == most:
        return f"{least:,.3f} psf"
    return f"{least:,.3f} psf to {most:,.3f} psf"


def _top(layer: Layer) -> float:
    assert isinstance(layer.top_in, (int, float))
    return layer.top_in
