"""Depth to bearing: bounds that hold whatever is found, sections, headroom."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering import bearing_depth as b
from survey.engineering.bearing_depth import Bearing, bears, depth_to_bearing
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY, Kind, read_quantity

SOFT = Bearing("soft", 0.0, 240.0, "silt", 10.0)
ROCK = Bearing("rock", 240.0, 300.0, "stable rock")


@pytest.mark.parametrize(
    ("group", "blows", "strength", "expected"),
    [
        ("stable rock", NOT_KNOWN, NOT_KNOWN, "yes"), ("stable rock", 10.0, NOT_KNOWN, "yes"),
        ("fill", 100.0, NOT_KNOWN, "no"), ("fill", NOT_KNOWN, NOT_KNOWN, "no"),
        ("gravel", 50.0, NOT_KNOWN, "yes"), ("gravel", 49.9, NOT_KNOWN, "no"),
        ("gravel", NOT_KNOWN, NOT_KNOWN, "maybe"), ("gravel", DOES_NOT_APPLY, 100.0, "maybe"),
        ("gravel", -1.0, NOT_KNOWN, "maybe"), ("gravel", math.nan, NOT_KNOWN, "maybe"),
        ("dry unstable rock", NOT_KNOWN, NOT_KNOWN, "maybe"),
        ("clay", DOES_NOT_APPLY, 7999.0, "no"), ("clay", DOES_NOT_APPLY, 8000.0, "maybe"),
        ("clay", NOT_KNOWN, 3000.0, "maybe"),  # a count of 50 would still make it bear
        ("clay", 60.0, 3000.0, "yes"), ("clay", NOT_KNOWN, -5.0, "maybe"),
        # Without a group it may be fill or rock, whatever the count.
        (NOT_KNOWN, 60.0, NOT_KNOWN, "maybe"), (NOT_KNOWN, 10.0, NOT_KNOWN, "maybe"),
    ],
)  # fmt: skip
def test_what_bears(group, blows, strength, expected):
    assert bears(Bearing("1", 0.0, 60.0, group, blows, strength)) == expected


@pytest.mark.parametrize("group", VOCABULARY["soil group"].choices)
def test_every_soil_group_is_judged(group):
    assert bears(Bearing("1", 0.0, 60.0, group)) in ("yes", "no", "maybe")
    assert bears(Bearing("1", 0.0, 60.0, group, 100.0)) == ("no" if group == "fill" else "yes")


def test_the_first_layer_that_bears_in_any_order():
    deep = Bearing("deep", 300.0, 400.0, "gravel", 80.0)
    for layers in ([SOFT, ROCK, deep], [deep, ROCK, SOFT]):
        assert depth_to_bearing(layers, True).value == 240.0
    assert depth_to_bearing([ROCK._replace(top_in=0.0)], True).value == 0.0
    assert depth_to_bearing([SOFT._replace(bottom_in=239.9995), ROCK], True).value == 240.0


@pytest.mark.parametrize(
    ("layers", "all_listed", "bounds", "told"),
    [
        ([], True, (0.0, 3600.0), "no layer surely bears"),
        ([SOFT], True, (240.0, 3600.0), "below 20 ft"),
        ([SOFT, ROCK], False, (0.0, 240.0), "not listed"),
        ([SOFT], False, (0.0, 3600.0), "not listed"),
        ([SOFT._replace(bottom_in=200.0), ROCK], True, (200.0, 240.0), "below 16 ft 8 in"),
        ([SOFT._replace(top_in=12.0), ROCK], True, (0.0, 240.0), "nothing is known"),
        ([SOFT._replace(blow_count=NOT_KNOWN), ROCK], True, (0.0, 240.0), "layer soft may bear"),
        ([SOFT._replace(top_in=NOT_KNOWN), ROCK], True, (0.0, 240.0), "nothing is known"),
        ([SOFT, ROCK._replace(top_in=NOT_KNOWN)], True, (0.0, 3600.0), "depth of layer rock"),
        ([SOFT, ROCK, Bearing("x", NOT_KNOWN, 90.0, "sand")], True, (0.0, 240.0), "layer x"),
        ([SOFT, ROCK._replace(top_in=4000.0)], True, (0.0, 3600.0), "depth of layer rock"),
        ([SOFT, Bearing("x", 240.0, 300.0, "sand"), ROCK._replace(top_in=300.0)], True,
         (240.0, 300.0), "layer x may bear"),
        ([SOFT._replace(bottom_in=3600.0)], True, (3600.0, 3600.0), "300 ft or deeper"),
    ],
)  # fmt: skip
def test_not_known_with_its_bounds(layers, all_listed, bounds, told):
    result = depth_to_bearing(layers, all_listed)
    assert result.value is NOT_KNOWN
    assert result.bounds == bounds
    assert told in result.reason
    assert result.working.lines[-1].result == f"{bounds[0]:,g} in"


def test_one_ground_below_all_bearing_layers_changes_nothing():
    below = Bearing("below", 300.0, NOT_KNOWN, NOT_KNOWN)
    assert depth_to_bearing([SOFT, ROCK, below], True).value == 240.0


CASES = {
    "sections, depth": (lambda x: b.sections_needed(x, 0.0, 42.0), 0.001, 3600),
    "sections, bracket": (lambda x: b.sections_needed(3600.0, x, 42.0), 0, 720),
    "sections, length": (lambda x: b.sections_needed(240.0, 30.0, x), 6, 300),
    "needed, section": (lambda x: b.headroom_needed(x, 40.0, 0.0), 6, 300),
    "needed, stand": (lambda x: b.headroom_needed(42.0, x, 0.0), 0, 180),
    "needed, bracket": (lambda x: b.headroom_needed(42.0, 40.0, x), -720, 360),
    "use, needed": (lambda x: b.headroom_use(x, 96.0), 0, 1200),
    "use, headroom": (lambda x: b.headroom_use(60.0, x), 6, 600),
}


@pytest.mark.parametrize("name", CASES)
def test_known_up_to_both_ends_and_not_known_past_them(name):
    calculation, low, high = CASES[name]
    for limit in (low, high):
        result = calculation(float(limit))
        assert result.known, result.reason
    for past in (low - 0.002, high + 0.5, math.nan, math.inf, -math.inf):
        result = calculation(past)
        assert result.value is NOT_KNOWN, past
        assert "holds" in result.reason


def test_sections_are_whole_and_rounded_up():
    assert b.sections_needed(30.0 + 84.0, 30.0, 42.0).value == 2
    assert b.sections_needed(30.0 + 84.01, 30.0, 42.0).value == 3
    assert b.sections_needed(31.0, 30.0, 42.0).value == 1
    assert "look again" in b.sections_needed(30.0, 30.0, 42.0).reason


def test_sections_between_bounds():
    assert b.sections_within(100.0, 110.0, 30.0, 42.0).value == 2
    between = b.sections_within(0.0, 240.0, 30.0, 42.0)
    assert between.bounds == (1.0, 5.0)
    assert between.working.lines[-1].result == "1"
    assert not b.sections_within(240.0, 100.0, 30.0, 42.0).known


def test_no_headroom_is_needed_where_all_stays_in_the_pit():
    assert b.headroom_needed(42.0, 40.0, -100.0).value == 0.0


@pytest.mark.parametrize(
    ("result", "kind"),
    [
        (depth_to_bearing([SOFT._replace(bottom_in=251.5), ROCK._replace(top_in=251.5)], True),
         Kind.LENGTH),
        (b.sections_needed(251.5, 33.3, 42.0), Kind.COUNT),
        (b.headroom_needed(42.5, 40.25, -7.125), Kind.LENGTH),
        (b.headroom_use(61.7, 93.1), Kind.SHARE),
    ],
)  # fmt: skip
def test_last_line_is_the_value(result, kind):
    bare = "" if kind is Kind.COUNT else None
    last = result.working.lines[-1].result
    assert read_quantity(last, kind, bare) == pytest.approx(result.value, abs=0.0006)
    assert result.working.source
    assert result.working.validity


groups = st.sampled_from(["stable rock", "fill", "clay", "sand", NOT_KNOWN])
known_groups = st.sampled_from(["stable rock", "sand", "fill"])
known_blows = st.sampled_from([5.0, 80.0])
blows = st.sampled_from([NOT_KNOWN, DOES_NOT_APPLY, 10.0, 60.0, -1.0])
depths = st.integers(0, 10).map(lambda n: 36.0 * n)
layer = st.builds(Bearing, st.just("1"), depths | st.just(NOT_KNOWN), depths | st.just(NOT_KNOWN),
                  groups, blows, st.sampled_from([NOT_KNOWN, 2000.0]))  # fmt: skip


def span(result):
    return result.bounds or (result.value, result.value)


@given(st.lists(layer, max_size=4), st.booleans(), st.data())
def test_no_answer_that_is_found_later_leaves_the_bounds(layers, all_listed, data):
    """Fill in everything that was not known, at random: the depth stays within its bounds."""
    least, most = span(depth_to_bearing(layers, all_listed))
    assert 0 <= least <= most <= 3600
    filled = []
    for each in layers:
        top, bottom, group, count = each.top_in, each.bottom_in, each.group, each.blow_count
        filled.append(each._replace(
            top_in=data.draw(depths) if top is NOT_KNOWN else top,
            bottom_in=data.draw(depths) if bottom is NOT_KNOWN else bottom,
            group=data.draw(known_groups) if group is NOT_KNOWN else group,
            blow_count=data.draw(known_blows) if count in (NOT_KNOWN, -1.0) else count,
        ))  # fmt: skip
    more = data.draw(st.lists(st.builds(Bearing, st.just("2"), depths, depths, groups, blows),
                              max_size=0 if all_listed else 2))  # fmt: skip
    found = span(depth_to_bearing([*filled, *more], True))
    assert least <= found[0]
    assert found[1] <= most


@given(st.floats(0, 3600), st.floats(0, 3600), st.floats(0, 720), st.floats(6, 300))
def test_deeper_or_shorter_sections_never_take_fewer(one, other, bracket, section):
    shallow, deep = sorted((one, other))
    few = b.sections_needed(shallow, bracket, section)
    if not few.known:
        return
    many = b.sections_needed(deep, bracket, section).value
    assert many >= few.value
    assert b.sections_needed(shallow, bracket, max(section / 2, 6.0)).value >= few.value
    assert few.value * section >= shallow - bracket - 0.001


@given(st.lists(st.floats(allow_nan=True, allow_infinity=True), min_size=4, max_size=4))
def test_any_figures_give_a_finite_value_or_none(figures):
    w, x, y, z = figures
    layers = [Bearing("1", w, x, "sand", y, z), Bearing("2", y, z, "stable rock")]
    for result in (
        depth_to_bearing(layers, True), b.sections_within(w, x, y, z), b.headroom_needed(w, x, y),
        b.headroom_use(w, x),
    ):  # fmt: skip
        assert result.value is NOT_KNOWN or math.isfinite(result.value)
        assert all(map(math.isfinite, result.bounds or ()))
