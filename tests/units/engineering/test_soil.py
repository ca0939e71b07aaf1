"""Soil classes where not every answer is known: known only when all of them agree."""

import itertools

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from survey.engineering.soil import (
    CLASSES,
    FieldTests,
    Layer,
    cohesive_ground,
    layer_classes,
    layer_soil_class,
    open_words,
    pit_soil_class,
)
from survey.vocabulary import NOT_KNOWN, VOCABULARY

CHOICES = {
    "soil_group": VOCABULARY["soil group"].choices,
    "unconfined_strength_psf": (800.0, 2000.0, 4000.0),
    "thumb_test": VOCABULARY["thumb test"].choices,
    "fissured": ("no", "yes"),
    "ground_vibrated": ("no", "yes"),
    "dug_before": ("no", "yes"),
    "layer_seeps": ("no", "yes"),
    "dip_into_pit": VOCABULARY["dip into pit"].choices,
}
# From better to worse, as the vocabulary declares it.
WORSE = {
    "unconfined_strength_psf": (4000.0, 2000.0, 800.0),
    **{name: CHOICES[name] for name in CHOICES if name not in (
        "soil_group", "unconfined_strength_psf")},
}  # fmt: skip

known_tests = st.builds(FieldTests, *(st.sampled_from(c) for c in CHOICES.values()))
any_tests = st.builds(FieldTests, *(st.sampled_from((*c, NOT_KNOWN)) for c in CHOICES.values()))


def rank(soil_class):
    return CLASSES.index(soil_class)


@given(known_tests)
def test_answered_tests_always_give_a_class(tests):
    assert layer_soil_class(tests).value in CLASSES


@given(any_tests)
def test_a_known_class_holds_however_the_blanks_are_filled(tests):
    blanks = [name for name in CHOICES if getattr(tests, name) is NOT_KNOWN]
    possible = layer_classes(tests)
    filled = {
        layer_soil_class(tests._replace(**dict(zip(blanks, choice, strict=True)))).value
        for choice in itertools.islice(itertools.product(*(CHOICES[b] for b in blanks)), 400)
    }
    assert filled <= set(possible)
    found = layer_soil_class(tests)
    assert found.value is NOT_KNOWN if len(possible) > 1 else found.value == possible[0]


@given(any_tests)
def test_a_class_that_is_not_known_names_what_is_open(tests):
    if layer_soil_class(tests).value is NOT_KNOWN:
        assert open_words(tests)
    else:
        assert not open_words(tests)


@given(known_tests, st.sampled_from(sorted(WORSE)))
def test_a_worse_answer_never_gives_a_better_class(tests, name):
    order = WORSE[name]
    classes = [rank(layer_soil_class(tests._replace(**{name: value})).value) for value in order]
    assert classes == sorted(classes)


layers = st.lists(
    st.builds(
        Layer,
        st.just("layer"),
        st.sampled_from((0.0, 24.0, 48.0, 96.0, NOT_KNOWN)),
        st.sampled_from((24.0, 48.0, 96.0, 240.0, NOT_KNOWN)),
        st.sampled_from((("A",), ("B",), ("C",), ("A", "B"), ("stable rock", "C"))),
    ),
    max_size=4,
)


@settings(suppress_health_check=[HealthCheck.filter_too_much])
@given(layers, st.booleans(), st.floats(1, 240), st.floats(1, 240))
def test_a_deeper_pit_is_never_in_better_ground(found, listed, one, other):
    shallow, deep = (pit_soil_class(d, found, listed).value for d in sorted((one, other)))
    assume(shallow is not NOT_KNOWN)
    if deep is NOT_KNOWN:
        assert shallow != "C"
    else:
        assert rank(deep) >= rank(shallow)


@pytest.mark.parametrize(
    ("found", "listed", "words"),
    [
        ([Layer("a", 0.0, 48.0, ("B",))], True, "only down to 4 ft"),
        ([Layer("a", 6.0, 96.0, ("B",))], True, "only down to 0 in"),
        ([Layer("a", 0.0, 24.0, ("B",)), Layer("b", 30.0, 96.0, ("B",))], True, "down to 2 ft"),
        ([Layer("a", 0.0, NOT_KNOWN, ("B",))], True, "only down to 0 in"),
        ([Layer("a", NOT_KNOWN, 96.0, ("B",))], True, "layer a may be B"),
        ([Layer("a", 0.0, 96.0, ("A", "B"))], True, "layer a may be A, B"),
        ([Layer("a", 0.0, 96.0, ("B",))], False, "not listed"),
        ([], True, "only down to 0 in"),
    ],
)  # fmt: skip
def test_why_the_class_of_a_pit_is_not_known(found, listed, words):
    result = pit_soil_class(60.0, found, listed)
    assert result.value is NOT_KNOWN
    assert words in result.reason


def test_a_scratch_in_the_ground_above_every_layer_is_in_no_known_ground():
    below = [Layer("a", 0.001, 96.0, ("B",), "clay")]
    for calculation in (pit_soil_class, cohesive_ground):
        assert calculation(0.001, below, True).value is NOT_KNOWN
        assert calculation(0.001, [], True).value is NOT_KNOWN


def test_nothing_makes_c_any_worse():
    for rest in ([], [Layer("b", NOT_KNOWN, NOT_KNOWN, ("A", "C"))]):
        assert pit_soil_class(60.0, [Layer("a", 24.0, 30.0, ("C",)), *rest], False).value == "C"


def test_layers_in_any_order_and_below_the_floor():
    found = [
        Layer("b", 36.0, 96.0, ("A",)), Layer("a", 0.0, 36.0, ("B",)),
        Layer("c", 96.0, 120.0, ("C",)),
    ]  # fmt: skip
    assert pit_soil_class(96.0, found, True).value == "B"
    assert pit_soil_class(96.5, found, True).value == "C"


CLAYS = ("clay", "silty clay", "sandy clay", "clay loam")
grounds = st.lists(
    st.builds(
        Layer,
        st.just("layer"),
        st.sampled_from((0.0, 24.0, 48.0, 96.0, NOT_KNOWN)),
        st.sampled_from((24.0, 48.0, 96.0, 240.0, NOT_KNOWN)),
        st.just(("B",)),
        st.sampled_from((*CLAYS, "sand", "fill", NOT_KNOWN)),
    ),
    max_size=4,
)


@pytest.mark.parametrize("group", VOCABULARY["soil group"].choices)
def test_clay_and_clayey_soils_alone_are_cohesive(group):
    found = cohesive_ground(60.0, [Layer("a", 0.0, 96.0, ("C",), group)], True).value
    assert found == ("yes" if group in CLAYS else "no")


@pytest.mark.parametrize(
    ("found", "listed", "expected"),
    [
        ([Layer("a", 0.0, 96.0, ("B",), "clay")], False, NOT_KNOWN),
        ([Layer("a", 0.0, 96.0, ("B",), "sand")], False, "no"),
        ([Layer("a", 0.0, 48.0, ("B",), "clay")], True, NOT_KNOWN),  # nothing below 4 ft
        ([Layer("a", 0.0, 96.0, ("B",))], True, NOT_KNOWN),
        ([], True, NOT_KNOWN),
        ([Layer("a", 0.0, 96.0, ("B",), "clay"), Layer("b", 60.0, 96.0, ("C",), "sand")], True,
         "yes"),  # below the floor
        ([Layer("a", 0.0, 96.0, ("B",), "clay"), Layer("b", NOT_KNOWN, 96.0, ("C",), "sand")],
         True, NOT_KNOWN),
        ([Layer("a", NOT_KNOWN, 96.0, ("B",)), Layer("b", 59.0, 96.0, ("C",), "sand")], True,
         "no"),
    ],
)  # fmt: skip
def test_cohesive_ground_with_what_is_not_known(found, listed, expected):
    result = cohesive_ground(60.0, found, listed)
    assert result.value == expected
    assert bool(result.reason) == (expected is NOT_KNOWN)


@given(grounds, st.booleans(), st.data())
def test_cohesive_or_not_holds_however_the_blanks_are_filled(found, listed, data):
    before = cohesive_ground(60.0, found, listed).value
    filled = [
        layer._replace(
            group=data.draw(st.sampled_from((*CLAYS, "sand"))) if layer.group is NOT_KNOWN
            else layer.group,
            top_in=data.draw(st.sampled_from((0.0, 59.0, 96.0))) if layer.top_in is NOT_KNOWN
            else layer.top_in,
        )
        for layer in found
    ]  # fmt: skip
    more = [] if listed else [Layer("more", 0.0, 240.0, ("C",), "sand")]
    if before is not NOT_KNOWN:
        assert cohesive_ground(60.0, [*filled, *more], True).value == before


def test_fill_asks_for_no_hand_test():
    fill = FieldTests("fill", *[NOT_KNOWN] * 7)
    assert layer_soil_class(fill).value == "C"
    assert not open_words(fill)
    said = [line.source for line in layer_soil_class(fill).working.lines]
    assert any("common practice" in source and "fill" in source for source in said)


@pytest.mark.parametrize(
    ("classes", "water", "expected"),
    [
        (("B",), "yes", "C"), (("stable rock",), "yes", "C"), (("A", "B"), "yes", "C"),
        (("B",), "no", "B"), (("B",), NOT_KNOWN, NOT_KNOWN), (("C",), NOT_KNOWN, "C"),
    ],
)  # fmt: skip
def test_a_pit_below_the_water_is_in_c(classes, water, expected):
    found = [Layer("a", 0.0, 96.0, classes, "clay")]
    result = pit_soil_class(60.0, found, True, water_above_floor=water)
    assert result.value == expected
    assert ("water may stand" in result.reason) == (expected is NOT_KNOWN)
    if expected == "C" and water == "yes":
        assert any(line.meaning == "water above the floor" for line in result.working.lines)


def test_water_settles_the_class_where_no_layer_is_known():
    result = pit_soil_class(60.0, [], False, water_above_floor="yes")
    assert result.value == "C"
    assert result.working.lines[-1].numbers == "no layer is known"
