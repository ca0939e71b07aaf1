"""Soil class from field tests: 29 CFR 1926 Subpart P Appendix A.

An answer that is not known is not guessed: the class is worked out for every answer that is
still possible, and it is known only when all of them give the same class.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

from survey.engineering._steps import given, noted, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.model import Value
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY, Kind, Missing, write_quantity

CLASSES = ("stable rock", "A", "B", "C")  # from most to least stable, Appendix A (c)(1)

_APPENDIX = "29 CFR 1926 Subpart P App. A"
_PSF_PER_TSF = 2000.0
_TYPE_A_PSF = 1.5 * _PSF_PER_TSF  # App. A (b) Type A
_TYPE_C_PSF = 0.5 * _PSF_PER_TSF  # App. A (b) Type C (i)
_STRONGEST_PSF = 20 * _PSF_PER_TSF
_LENGTH_STEP_IN = 0.001
_DEEPEST_HOLE_IN = 3600.0

COHESIVE = ("clay", "silty clay", "sandy clay", "clay loam")
_BY_GROUP = {
    "stable rock": "stable rock",
    "dry unstable rock": "B",  # Type B (v)
    "cemented soil": "A",  # Type A
    "silt": "B",  # Type B (ii), as are the next three
    "silt loam": "B",
    "sandy loam": "B",
    "angular gravel": "B",
    "gravel": "C",  # Type C (ii), as are the next two
    "loamy sand": "C",
    "sand": "C",
    # Nobody knows what it is made of, so nobody can class it: common practice.
    "fill": "C",
}
_BY_THUMB = {  # App. A (d)(2)(iii)
    "indented only with great effort": "A",
    "indented with effort": "B",
    "easily pushed in": "C",
}
_ANY = CLASSES[1:]  # of a cohesive soil whose strength is not known
_GROUPS = VOCABULARY["soil group"].choices
_DIPS = VOCABULARY["dip into pit"].choices
_YES_NO = ("no", "yes")


def least_stable(classes: Iterable[str]) -> str:
    """The least stable of some classes.

    >>> least_stable(["A", "C", "B"])
    'C'
    """
    return max(classes, key=CLASSES.index)


def _class_of(answers: tuple[str, ...]) -> str:
    """The class when every answer is known; the strength is a class too."""
    group, strength, fissured, vibrated, dug, seeps, dip = answers
    if seeps == "yes":  # Type C (iii) and (iv)
        return "C"
    if dip == "4H:1V or steeper":  # Type C (v)
        return "C"
    found = strength if group in COHESIVE else _BY_GROUP[group]
    if found == "stable rock":
        # Rock that breaks along planes or was moved does not stay intact: Type B (v).
        return "B" if "yes" in (fissured, dug) else found
    if found == "A" and "yes" in (fissured, vibrated, dug):  # Type A (i) to (iii)
        return "B"
    return found


@lru_cache(maxsize=512)
def _possible(*answers: tuple[str, ...]) -> frozenset[str]:
    """The classes that some answer among those still possible gives."""
    return frozenset(_class_of(every) for every in itertools.product(*answers))


def strength_classes(unconfined_strength_psf: Value, thumb_test: Value) -> tuple[str, ...]:
    """The classes that the strength of a cohesive soil allows, from most to least stable.

    A test that was not made does not apply; one that is not known may have found anything, so
    that no reading given later can be worse than was allowed for. The worse of two counts.

    >>> strength_classes(2600.0, "easily pushed in")
    ('C',)
    """
    by_strength, by_thumb = _by_strength(unconfined_strength_psf), _by_thumb(thumb_test)
    if not by_strength or not by_thumb:
        return by_strength or by_thumb or _ANY
    found = {least_stable(pair) for pair in itertools.product(by_strength, by_thumb)}
    return tuple(name for name in _ANY if name in found)


def _by_strength(strength_psf: Value) -> tuple[str, ...]:
    """The classes by penetrometer or vane; none if it was not used."""
    if strength_psf is DOES_NOT_APPLY:
        return ()
    if not isinstance(strength_psf, (int, float)) or _strength_out_of_range(strength_psf):
        return _ANY
    if strength_psf >= _TYPE_A_PSF:
        return ("A",)
    return ("B",) if strength_psf > _TYPE_C_PSF else ("C",)


def _by_thumb(thumb_test: Value) -> tuple[str, ...]:
    """The classes by the thumb test; none if it was not made."""
    if thumb_test is DOES_NOT_APPLY:
        return ()
    return (_BY_THUMB[thumb_test],) if isinstance(thumb_test, str) else _ANY


def _strength_out_of_range(strength_psf: float) -> str:
    return outside(("unconfined strength", strength_psf, 0.0, _STRONGEST_PSF, "psf"))


def _options(answer: Value, choices: tuple[str, ...]) -> tuple[str, ...]:
    return choices if isinstance(answer, Missing) else (str(answer),)


class FieldTests(NamedTuple):
    """What was found of one layer, each a word of the vocabulary or a state.

    Args:
        soil_group: what the ground is.
        unconfined_strength_psf: by penetrometer or vane, psf, 0 to 40,000.
        thumb_test: what the thumb does on a fresh clump.
        fissured: yes or no.
        ground_vibrated: yes or no, for the site.
        dug_before: yes or no.
        layer_seeps: yes or no.
        dip_into_pit: whether and how steeply layers slope down into the pit.
    """

    soil_group: Value
    unconfined_strength_psf: Value
    thumb_test: Value
    fissured: Value
    ground_vibrated: Value
    dug_before: Value
    layer_seeps: Value
    dip_into_pit: Value

    def options(self) -> tuple[tuple[str, ...], ...]:
        """The answers that are still possible, in the order of ``_class_of``."""
        return (
            _options(self.soil_group, _GROUPS),
            strength_classes(self.unconfined_strength_psf, self.thumb_test),
            *(
                _options(answer, _YES_NO)
                for answer in (
                    self.fissured, self.ground_vibrated, self.dug_before, self.layer_seeps,
                )
            ),
            _options(self.dip_into_pit, _DIPS),
        )  # fmt: skip


# The words behind each place of ``FieldTests.options``.
_WORDS = (
    ("soil group",), ("strength test", "unconfined strength", "thumb test"), ("fissured",),
    ("ground vibrated",), ("dug before",), ("layer seeps",), ("dip into pit",),
)  # fmt: skip


def layer_classes(tests: FieldTests) -> tuple[str, ...]:
    """The classes a layer may still have, from most to least stable."""
    possible = _possible(*tests.options())
    return tuple(name for name in CLASSES if name in possible)


def open_words(tests: FieldTests) -> tuple[str, ...]:
    """Words of the tests whose answer is not known and can change the class."""
    options = tests.options()
    possible = _possible(*options)
    found: list[str] = []
    for i, choices in enumerate(options):
        settled = (_possible(*options[:i], (choice,), *options[i + 1 :]) for choice in choices)
        if len(choices) > 1 and any(classes != possible for classes in settled):
            found += _WORDS[i]
    return tuple(found)


def layer_soil_class(tests: FieldTests) -> Result:
    """Soil class of a layer from its field tests.

    Cohesive soil by unconfined strength q: A from 1.5 tsf, C up to 0.5 tsf, else B; other
    ground by its group, and fill of unknown make-up as C. Fissured, vibrated or previously
    disturbed ground is never A; seeping ground, and layers that dip into the pit at 4H:1V or
    steeper, are C.

    Args:
        tests: what was found of the layer.

    Returns:
        ``stable rock``, ``A``, ``B`` or ``C``.

    Not known when:
        The answers that are not known leave more than one class possible; or the strength is
        outside 0 to 20 tsf.

    Source:
        29 CFR 1926 Subpart P App. A (b), (d)(2). Our reading, where the appendix leaves room:

        - Layers that dip into the pit less steeply than 4H:1V leave the class as it otherwise
          is. Type A (iv) bars only 4H:1V or steeper, and Type B (vi) takes in only what would
          otherwise be B: neither lowers an A, nor lifts a C to B. That the dip is one of the
          "other factors" of Type A (v) is for the competent person to find.
        - Fissured or disturbed rock counts as unstable rock, Type B (v).
        - Stable rock from which water seeps counts as C, although Type C (iv) speaks only of
          rock that is not stable: the sides are seen once, the water stays.
        - That fill of unknown make-up is C is common practice.
    """
    classes = layer_classes(tests)
    if len(classes) > 1:
        strength = tests.unconfined_strength_psf
        reason = _strength_out_of_range(strength) if isinstance(strength, (int, float)) else ""
        return not_known(reason or f"the soil class may still be {', '.join(classes)}")
    return Result(classes[0], working=_layer_working(tests, classes[0]))


def _layer_working(tests: FieldTests, found: str) -> Working:
    written = _strength_written(tests.unconfined_strength_psf)
    by_group = f"{_APPENDIX} (b)"
    if tests.soil_group == "fill":
        by_group = "fill of unknown make-up can't be classed and counts as C, common practice"
    lines = (
        noted("", "soil group", str(tests.soil_group), f"{_APPENDIX} (b)"),
        noted("q", "unconfined strength", written, f"{_APPENDIX} (d)(2)(iv)"),
        noted("", "thumb test", str(tests.thumb_test), f"{_APPENDIX} (d)(2)(iii)"),
        noted("", "fissured", str(tests.fissured), "Type A (i), B (iv)"),
        noted("", "ground vibrated", str(tests.ground_vibrated), "Type A (ii), B (iv)"),
        noted("", "dug before", str(tests.dug_before), "Type A (iii), B (iii)"),
        noted("", "seeps or under water", str(tests.layer_seeps), "Type C (iii), (iv)"),
        noted("", "dip into the pit", str(tests.dip_into_pit), "Type A (iv), B (vi), C (v)"),
        Line(
            "", "class by group and strength", "A if q >= 1.5 tsf, C if q <= 0.5 tsf, else B",
            f"{tests.soil_group}, {written}", _by_group_and_strength(tests), by_group,
        ),
        Line(
            "", "soil class", "A becomes B if fissured, vibrated or dug before; "
            "C if it seeps or dips at 4H:1V or steeper", "the answers above", found,
            f"{_APPENDIX} (b)",
        ),
    )  # fmt: skip
    valid = "fresh clumps from the pit or test hole; changed ground is classed again, (c)(5)"
    return Working("Soil class of the layer", _APPENDIX, valid, lines)


def _strength_written(strength_psf: Value) -> str:
    if not isinstance(strength_psf, (int, float)):
        return str(strength_psf)
    if _strength_out_of_range(strength_psf):
        return "out of range, not used"
    return write_quantity(strength_psf, Kind.PRESSURE, "tsf")


def _by_group_and_strength(tests: FieldTests) -> str:
    groups, strengths, *_ = tests.options()
    return " or ".join(
        name for name in CLASSES
        if any(name in (strengths if g in COHESIVE else (_BY_GROUP[g],)) for g in groups)
    )  # fmt: skip


class Layer(NamedTuple):
    """One layer of the ground.

    Args:
        label: its name on the form.
        top_in: depth to its top, in, or a state; outside 0 to 3,600 it counts as not known.
        bottom_in: depth to its underside, likewise.
        classes: the classes that it may have, from most to least stable.
        group: what the ground is, or a state.
    """

    label: str
    top_in: Value
    bottom_in: Value
    classes: tuple[str, ...]
    group: Value = NOT_KNOWN


def pit_soil_class(
    pit_floor_in: float,
    layers: Sequence[Layer],
    all_listed: bool,
    *,
    water_above_floor: Value = DOES_NOT_APPLY,
) -> Result:
    """Least stable soil class of the layers that a pit passes through.

    The layers whose top lies above the floor count. What is not known of them, or not listed,
    may be anything, so the class is known only when that cannot change it: once one layer
    that surely counts is C, nothing can. With ground water above the floor some of the pit's
    sides are under water, which makes them C whatever the layer was when it was tested.

    Args:
        pit_floor_in: depth of the pit's floor below the ground, in, above 0 and at most 1,800.
        layers: the layers of the test hole, in any order.
        all_listed: whether the list is known to be complete.
        water_above_floor: yes or no, from :func:`water.water_above_floor`; ``DOES_NOT_APPLY``
            where only the layers' own answers are to tell of water.

    Returns:
        ``stable rock``, ``A``, ``B`` or ``C``.

    Not known when:
        The depth is out of its range; or what is not known of the layers or of the water, a
        gap between the layers or the open list leaves more than one class possible.

    Source:
        29 CFR 1926 Subpart P App. A (b) Type C (iii), (iv) and (c)(4). The
        exception for a more stable layer below is not used, so the class of a layered pit is
        never better than the appendix gives.
    """
    reason = outside(("depth of pit floor", pit_floor_in, _LENGTH_STEP_IN, 1800.0, "in"))
    if reason:
        return not_known(reason)
    may_count = layers_down_to(pit_floor_in, layers)
    sure = [layer for layer in may_count if not isinstance(layer.top_in, Missing)]
    under_water = water_above_floor == "yes"
    best = least_stable([CLASSES[0], *(layer.classes[0] for layer in sure)])
    best = "C" if under_water else best
    open_ground = doubt(pit_floor_in, sure, all_listed)
    if water_above_floor is NOT_KNOWN:
        may_be_wet = "water may stand above the floor of the pit"
        open_ground = f"{open_ground}; {may_be_wet}" if open_ground else may_be_wet
    worst = (
        "C"
        if open_ground or under_water
        else least_stable(layer.classes[-1] for layer in may_count)
    )
    if best != worst:
        unclear = "; ".join(
            f"layer {layer.label} may be {', '.join(layer.classes)}"
            for layer in may_count
            if len(layer.classes) > 1 or isinstance(layer.top_in, Missing)
        )
        return not_known("; ".join(part for part in (open_ground, unclear) if part))
    lines = [given("H", "depth of the pit's floor", pit_floor_in, Kind.LENGTH, "ft")]
    lines += [
        noted("", f"layer {layer.label}", f"{_depths(layer)}: {' or '.join(layer.classes)}")
        for layer in may_count
    ]
    formula = "least stable layer with its top above the floor"
    classes = ", ".join(" or ".join(layer.classes) for layer in may_count)
    if not isinstance(water_above_floor, Missing):
        formula += "; C if water stands above the floor"
        source = f"{_APPENDIX} (b) Type C (iii), (iv)"
        lines.append(noted("", "water above the floor", str(water_above_floor), source))
    if not may_count:
        classes = "no layer is known"
    lines.append(Line("", "soil class of the pit", formula, classes, best, f"{_APPENDIX} (c)(4)"))
    valid = "layers known and listed down to the floor, or one of them C"
    return Result(best, working=Working("Soil class of the pit", _APPENDIX, valid, tuple(lines)))


def cohesive_ground(pit_floor_in: float, layers: Sequence[Layer], all_listed: bool) -> Result:
    """Whether every layer that a pit passes through is clay or a clayey soil.

    The layers whose top lies above the floor count. One that surely counts and is neither clay,
    silty clay, sandy clay nor clay loam settles it: fill of unknown make-up does too, since
    nobody can tell that it holds together.

    Args:
        pit_floor_in: depth of the pit's floor below the ground, in, above 0 and at most 1,800.
        layers: the layers of the test hole, in any order.
        all_listed: whether the list is known to be complete.

    Returns:
        ``yes`` or ``no``.

    Not known when:
        The depth is out of its range; or no layer surely is of another kind, and what is not
        known of the layers, a gap between them or the open list may be.

    Source:
        29 CFR 1926 Subpart P App. A (b), cohesive soil; that fill does not count as cohesive is
        common practice.

    >>> cohesive_ground(60.0, [Layer("1", 0.0, 96.0, ("B",), "silty clay")], True).value
    'yes'
    """
    reason = outside(("depth of pit floor", pit_floor_in, _LENGTH_STEP_IN, 1800.0, "in"))
    if reason:
        return not_known(reason)
    may_count = layers_down_to(pit_floor_in, layers)
    sure = [layer for layer in may_count if not isinstance(layer.top_in, Missing)]
    found = "no" if any(_surely_not_cohesive(layer) for layer in sure) else "yes"
    if found == "yes":
        doubts = [
            f"layer {layer.label} may be in the pit and is '{layer.group}'"
            for layer in may_count
            if layer.group not in COHESIVE
        ]
        open_ground = doubt(pit_floor_in, sure, all_listed)
        if open_ground or doubts:
            return not_known("; ".join([open_ground, *doubts] if open_ground else doubts))
    lines = (
        given("H", "depth of the pit's floor", pit_floor_in, Kind.LENGTH, "ft"),
        *(noted("", f"layer {each.label}", f"{_depths(each)}: {each.group}") for each in may_count),
        Line("", "cohesive ground", "yes if every layer with its top above the floor is clayey",
             ", ".join(str(layer.group) for layer in may_count), found, f"{_APPENDIX} (b)"),
    )  # fmt: skip
    valid = "layers known and listed down to the floor, or one of them not clayey"
    return Result(found, working=Working("Cohesive ground", _APPENDIX, valid, lines))


def _surely_not_cohesive(layer: Layer) -> bool:
    return not isinstance(layer.group, Missing) and layer.group not in COHESIVE


def may_be_in_pit(top_in: Value, pit_floor_in: float) -> bool:
    """Whether a layer with its top at this depth, or not known where, may reach the pit."""
    top = _depth_in_range(top_in)
    return not isinstance(top, (int, float)) or top < pit_floor_in


def layers_down_to(depth_in: float, layers: Iterable[Layer]) -> list[Layer]:
    """The layers that may reach above a depth; a depth of theirs that none can have, not known.

    >>> [layer.label for layer in layers_down_to(60.0, [Layer("1", 60.0, 96.0, ("B",))])]
    []
    """
    return [_in_range(layer) for layer in layers if may_be_in_pit(layer.top_in, depth_in)]


def _in_range(layer: Layer) -> Layer:
    """The layer, its depths not known where they are no depth of a test hole."""
    return layer._replace(
        top_in=_depth_in_range(layer.top_in), bottom_in=_depth_in_range(layer.bottom_in)
    )


def _depth_in_range(depth_in: Value) -> Value:
    if isinstance(depth_in, (int, float)) and not 0.0 <= depth_in <= _DEEPEST_HOLE_IN:
        return NOT_KNOWN
    return depth_in


def _depths(layer: Layer) -> str:
    depths = (layer.top_in, layer.bottom_in)
    return " to ".join(
        write_quantity(depth, Kind.LENGTH, "ft") if isinstance(depth, (int, float)) else str(depth)
        for depth in depths
    )


def doubt(depth_in: float, layers: Iterable[Layer], all_listed: bool) -> str:
    """Why there may be ground above a depth that no layer describes; empty if there is none."""
    if not all_listed:
        return "there may be soil layers that are not listed"
    spans = sorted(
        (layer.top_in, layer.bottom_in)
        for layer in layers
        if isinstance(layer.top_in, (int, float)) and isinstance(layer.bottom_in, (int, float))
    )
    reached = 0.0
    for top, bottom in spans:
        if top > reached + _LENGTH_STEP_IN:
            break
        reached = max(reached, bottom)
    if not spans or reached + _LENGTH_STEP_IN < depth_in:
        return (
            "the layers describe the ground without a gap only down to "
            f"{write_quantity(reached, Kind.LENGTH, 'ft')}, the pit goes down to "
            f"{write_quantity(depth_in, Kind.LENGTH, 'ft')}"
        )
    return ""


assert set(_GROUPS) == {*COHESIVE, *_BY_GROUP}, "every soil group has a class"
