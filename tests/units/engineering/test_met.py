"""What ground a pit meets, and the clay under its floor."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.met import groups_down_to, side_hold, strength_under
from survey.engineering.side_pressure import footing_pressure
from survey.engineering.soil import Layer
from survey.engineering.spoil import volume_dug
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN

FILL = Layer("fill", 0.0, 36.0, ("B",), "fill")
CLAY = Layer("clay", 36.0, 120.0, ("B",), "clay")
SAND = Layer("sand", 120.0, 240.0, ("C",), "sand")
GROUND = [SAND, FILL, CLAY]  # in any order


def measured(*strengths):
    """Layers that were tested with a penetrometer only, or not at all."""
    return [(strength, DOES_NOT_APPLY) for strength in strengths]


@pytest.mark.parametrize(
    ("depth", "met"),
    [
        (0.001, "fill"), (36.0, "fill"), (36.001, "fill, clay"), (120.0, "fill, clay"),
        (120.001, "fill, clay, sand"), (240.0, "fill, clay, sand"),
    ],
)  # fmt: skip
def test_layers_whose_top_lies_above_the_depth(depth, met):
    found = groups_down_to(depth, GROUND, True)
    assert found.value == met
    assert found.working.lines[-1].result == met


@pytest.mark.parametrize("depth", [0.0, 3600.001, float("inf"), float("nan")])
def test_a_depth_out_of_range(depth):
    assert groups_down_to(depth, [Layer("1", 0.0, 3600.0, ("B",), "clay")], True).value is NOT_KNOWN


def test_the_deepest_depth():
    deep = [Layer("1", 0.0, 3600.0, ("B",), "clay")]
    assert groups_down_to(3600.0, deep, True).value == "clay"


@pytest.mark.parametrize(
    ("layers", "listed", "why"),
    [
        (GROUND, False, "not listed"),
        ([FILL], True, "down to 3 ft"),
        ([FILL, SAND], True, "down to 3 ft"),
        ([FILL, CLAY._replace(group=NOT_KNOWN)], True, "group not known"),
        ([FILL, CLAY, SAND._replace(top_in=NOT_KNOWN)], True, "top not known"),
        ([FILL, CLAY._replace(bottom_in=NOT_KNOWN)], True, "without a gap"),
    ],
)
def test_what_may_be_met_too_leaves_it_open(layers, listed, why):
    found = groups_down_to(100.0, layers, listed)
    assert found.value is NOT_KNOWN
    assert why in found.reason


def test_the_weakest_clay_under_the_floor_counts():
    soft = Layer("soft", 120.0, 240.0, ("C",), "silty clay")
    layers, strengths = [FILL, CLAY, soft], measured(NOT_KNOWN, 3000.0, 800.0)
    assert strength_under(60.0, 36.0, layers, strengths, True).value == 1500.0
    assert strength_under(60.0, 60.0, layers, strengths, True).value == 1500.0
    assert strength_under(60.0, 60.001, layers, strengths, True).value == 400.0
    # What lies wholly above the floor does not count, whatever is not known of it.
    assert strength_under(36.0, 10.0, layers, strengths, True).value == 1500.0


def test_ground_that_is_no_clay_has_no_such_strength():
    found = strength_under(130.0, 36.0, GROUND, measured(*[NOT_KNOWN] * 3), True)
    assert found.value is DOES_NOT_APPLY


@pytest.mark.parametrize(
    ("layers", "strengths", "listed", "why"),
    [
        ([FILL, CLAY], [NOT_KNOWN, NOT_KNOWN], True, "not known by any test"),
        ([FILL, CLAY], [NOT_KNOWN, DOES_NOT_APPLY], True, "not known by any test"),
        ([FILL, CLAY], [NOT_KNOWN, 2000.0], False, "not listed"),
        ([FILL, CLAY._replace(bottom_in=90.0)], [NOT_KNOWN, 2000.0], True, "down to 7 ft 6 in"),
        (
            [FILL, CLAY._replace(group=NOT_KNOWN)],
            [NOT_KNOWN, 2000.0],
            True,
            "of layer clay is not known",
        ),
    ],
)
def test_clay_of_which_too_little_is_known(layers, strengths, listed, why):
    found = strength_under(60.0, 36.0, layers, measured(*strengths), listed)
    assert found.value is NOT_KNOWN
    assert why in found.reason


@pytest.mark.parametrize(
    ("floor", "reach"), [(0.0, 36.0), (1800.001, 0.0), (60.0, -0.001), (60.0, 1800.001)]
)
def test_depths_out_of_range(floor, reach):
    deep = [Layer("1", 0.0, 3600.0, ("B",), "clay")]
    assert strength_under(floor, reach, deep, measured(2000.0), True).value is NOT_KNOWN


@pytest.mark.parametrize(
    ("test", "bounds"),
    [
        ((DOES_NOT_APPLY, "easily pushed in"), (1.0, 500.0)),  # 0.5 tsf and less
        ((DOES_NOT_APPLY, "indented with effort"), (500.0, 1500.0)),  # 0.5 to 1.5 tsf
        ((2400.0, "easily pushed in"), 500.0),  # no more than the thumb allows
        ((2400.0, "indented only with great effort"), 1200.0),
        ((NOT_KNOWN, "easily pushed in"), None),  # the reading may be lower still
        ((2400.0, NOT_KNOWN), (500.0, 1200.0)),  # the thumb may allow no more than 0.5 tsf
        ((900.0, NOT_KNOWN), 450.0),
        ((0.0, DOES_NOT_APPLY), 1.0),  # a reading of nothing is next to nothing
    ],
)
def test_the_thumb_gives_bounds(test, bounds):
    found = strength_under(60.0, 36.0, [FILL, CLAY], [(NOT_KNOWN, NOT_KNOWN), test], True)
    assert found.bounds == (bounds if isinstance(bounds, tuple) else None)
    assert found.value == (bounds if isinstance(bounds, float) else NOT_KNOWN)


@given(st.floats(0, 20000), st.floats(0, 20000), st.floats(0.01, 200))
def test_a_weaker_layer_never_makes_the_ground_stronger(strength, other, reach):
    layers = [Layer("a", 0.0, 100.0, ("B",), "clay"), Layer("b", 100.0, 400.0, ("B",), "clay")]
    one = strength_under(60.0, reach, layers, measured(strength, other), True).value
    weaker = strength_under(
        60.0, reach, layers, measured(strength, min(other, strength)), True
    ).value
    assert weaker <= one + 1e-9 or other < strength


def test_footing_pressure_by_hand():
    assert footing_pressure(2000.0, 16.0).value == 1500.0  # 2000 / (16 / 12)
    for load, width in ((0.0, 2.0), (1e6, 120.0)):
        assert footing_pressure(load, width).known
    for load, width in ((-0.001, 20.0), (1e6 + 1, 20.0), (2000.0, 1.999), (2000.0, 120.001)):
        assert footing_pressure(load, width).value is NOT_KNOWN


def test_volume_dug_by_hand():
    assert volume_dug(45.0, 8.0).value == 53.0
    for beside, under in ((-1.0, 0.0), (0.0, -1.0), (1e7 + 1, 0.0), (0.0, float("nan"))):
        assert volume_dug(beside, under).value is NOT_KNOWN


STIFF, SOFT = (2000.0, DOES_NOT_APPLY), (1999.0, DOES_NOT_APPLY)  # 1 tsf and a little less


@pytest.mark.parametrize(
    ("layers", "tests", "hold"),
    [
        ([CLAY._replace(top_in=0.0)], [STIFF], "firm"),
        ([CLAY._replace(top_in=0.0)], [SOFT], "soft"),
        # Sand above or between stiff clay does not hold a tube as stiff clay does.
        ([SAND._replace(top_in=0.0, bottom_in=70.0), CLAY._replace(top_in=70.0)], [STIFF, STIFF],
         "soft"),
        ([CLAY._replace(top_in=0.0, bottom_in=90.0), CLAY._replace(top_in=90.0, bottom_in=150.0)],
         [STIFF, SOFT], "soft"),
        # One layer that surely is soft settles it, whatever else is not known.
        ([SAND._replace(top_in=0.0, bottom_in=70.0), CLAY._replace(top_in=70.0)],
         [STIFF, (NOT_KNOWN, NOT_KNOWN)], "soft"),
        ([CLAY._replace(top_in=0.0)], [(NOT_KNOWN, NOT_KNOWN)], NOT_KNOWN),
        ([CLAY._replace(top_in=0.0)], [(DOES_NOT_APPLY, "easily pushed in")], "soft"),
        ([CLAY._replace(top_in=0.0)], [(DOES_NOT_APPLY, "indented only with great effort")],
         "firm"),
        ([CLAY._replace(top_in=0.0)], [(DOES_NOT_APPLY, "indented with effort")], NOT_KNOWN),
        ([CLAY._replace(top_in=0.0, bottom_in=100.0)], [STIFF], NOT_KNOWN),
    ],
)  # fmt: skip
def test_how_the_ground_holds_a_tube(layers, tests, hold):
    found = side_hold(60.0, 60.0, layers, tests, True)
    assert found.value == hold
    assert found.known or found.reason
    assert side_hold(60.0, 60.0, layers, tests, False).value in ("soft", NOT_KNOWN)
