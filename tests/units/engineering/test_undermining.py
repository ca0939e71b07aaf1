"""Undermining: ends of validity, branches, workings, and what never looks better."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering import undermining
from survey.engineering.layout import Opened
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Kind, read_quantity

PIT = Opened(60.0, 36.0)


def own(corner=68.0, floor=84.0, footing=36.0, reach=20.0):
    return undermining.slope_to_own_footing(corner, floor, footing, reach)


def upper(step=48.0, height=24.0, depth=60.0, footing=36.0):
    return undermining.slope_to_upper_footing(step, height, depth, footing)


CASES = {
    "own, corner": (lambda x: own(corner=x), -14760, 6000),
    "own, floor": (lambda x: own(floor=x), 0, 1800),
    "own, footing": (lambda x: own(footing=x), 0, 720),
    "own, reach": (lambda x: own(reach=x), 0, 120),
    "upper, distance": (lambda x: upper(step=x), -6000, 6000),
    "upper, step": (lambda x: upper(height=x), 0, 480),
    "upper, depth": (lambda x: upper(depth=x), 0, 720),
    "upper, footing": (lambda x: upper(footing=x), 0, 480),
    "step, height": (lambda x: undermining.step_slope(x, 48.0), 0, 480),
    "step, run": (lambda x: undermining.step_slope(24.0, x), 0, 6000),
    "influence, footing": (lambda x: undermining.influence_depth(x, 72.0, 1.5), 0, 720),
    "influence, distance": (lambda x: undermining.influence_depth(36.0, x, 1.5), 0, 1e7),
    "influence, slope": (lambda x: undermining.influence_depth(36.0, 72.0, x), 0.1, 10),
    "length, station": (lambda x: undermining.length_undermined([Opened(x, 36.0)], 480.0), 0, 480),
    "length, opening": (
        lambda x: undermining.length_undermined([Opened(60.0, x)], 480.0), 6, 14760,
    ),
    "share, wall": (lambda x: undermining.share_undermined([Opened(0.0, 36.0)], x), 12, 6000),
    "run, opening": (
        lambda x: undermining.longest_run_undermined([Opened(60.0, x)], 480.0), 6, 14760,
    ),
    "spread, bearing": (lambda x: undermining.load_spread_length(x, 96.0, 0.5), 0, 240),
    "spread, height": (lambda x: undermining.load_spread_length(16.0, x, 0.5), 0, 600),
    "spread, slope": (lambda x: undermining.load_spread_length(16.0, 96.0, x), 0, 2),
    "load, station": (lambda x: undermining.point_load_clearance(x, 112.0, PIT), 0, 6000),
    "load, length": (lambda x: undermining.point_load_clearance(200.0, x, PIT), 0, 2640),
    "load, pier": (
        lambda x: undermining.point_load_clearance(200.0, 112.0, Opened(x, 36.0)), 0, 6000,
    ),
    "load, opening": (
        lambda x: undermining.point_load_clearance(200.0, 112.0, Opened(60.0, x)), 6, 14760,
    ),
    "load slope, clearance": (
        lambda x: undermining.point_load_slope(x, 60.0, 36.0), -20000, 6000,
    ),
    "load slope, depth": (lambda x: undermining.point_load_slope(36.0, x, 36.0), 0, 720),
    "load slope, footing": (lambda x: undermining.point_load_slope(36.0, 60.0, x), 0, 480),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_known_up_to_both_ends_and_not_known_past_them(name):
    calculation, low, high = CASES[name]
    for limit in (float(low), float(high), low, high):
        found = calculation(limit)
        assert found.value is DOES_NOT_APPLY or math.isfinite(found.value)
    for past in (math.nextafter(low, -math.inf) - 0.001, math.nextafter(high, math.inf) * 1.001,
                 math.nan, math.inf, -math.inf):  # fmt: skip
        found = calculation(past)
        assert found.value is NOT_KNOWN
        assert "holds" in found.reason


def test_the_longest_spread_is_in_the_range_of_the_clearance():
    longest = undermining.load_spread_length(240.0, 600.0, 2.0).value
    assert undermining.point_load_clearance(0.0, longest, PIT).known
    nearest = undermining.point_load_clearance(60.0, longest, Opened(60.0, 14760.0)).value
    assert undermining.point_load_slope(nearest, 60.0, 36.0).value == 0.0


def test_no_pit_is_not_no_length():
    for method in (
        undermining.length_undermined,
        undermining.share_undermined,
        undermining.longest_run_undermined,
    ):
        assert method([], 480.0).value is NOT_KNOWN
        assert method([], 480.0).reason == "no pit is open on the wall"


def test_slopes_do_not_apply_where_the_pit_is_no_deeper():
    for found in (
        own(floor=36.0),
        own(floor=36.0004),
        upper(depth=12.0),
        undermining.point_load_slope(36.0, 36.0, 36.0),
    ):
        assert found.value is DOES_NOT_APPLY
        assert "no deeper" in found.reason
    assert own(floor=36.001).value == pytest.approx(48000.0)
    assert undermining.step_slope(0.0, 48.0).value is DOES_NOT_APPLY


def test_a_pit_past_the_edge_of_the_footing_has_slope_0():
    assert own(corner=20.0).value == 0.0
    assert own(corner=-30.0).value == 0.0
    assert upper(step=0.0).value == 0.0
    assert upper(step=-12.0).value == 0.0
    assert undermining.point_load_slope(-1.0, 60.0, 36.0).value == 0.0


def test_depth_counts_from_the_upper_footing():
    # The pit is no deeper than the footing at it, but 24 in deeper than the upper one.
    assert upper(depth=36.0).value == 2.0
    # An upper footing above the ground that the pit is dug from
    assert upper(height=60.0).value == 48.0 / 84.0
    assert upper(height=60.0).working.lines[-1].numbers == "48 / (60 - (-24))"


def test_openings_are_cut_off_at_the_ends_of_the_wall():
    ends = [Opened(0.0, 60.0), Opened(480.0, 60.0)]
    assert undermining.length_undermined(ends, 480.0).value == 60.0
    assert undermining.share_undermined([Opened(240.0, 14760.0)], 480.0).value == 100.0


def test_openings_that_touch_are_one_run_and_one_inch_keeps_them_apart():
    touching = [Opened(60.0, 36.0), Opened(96.0, 36.0)]
    assert undermining.longest_run_undermined(touching, 480.0).value == 72.0
    apart = [Opened(60.0, 36.0), Opened(97.0, 36.0)]
    assert undermining.longest_run_undermined(apart, 480.0).value == 36.0
    inside = [Opened(60.0, 72.0), Opened(60.0, 36.0)]
    assert undermining.length_undermined(inside, 480.0).value == 72.0


def test_a_load_that_just_touches_the_opening_reaches_it():
    for station, reaches in ((134.0, "yes"), (134.0004, "yes"), (134.001, "no"), (20.0, "yes")):
        found = undermining.point_load_reaches_pit(station, 112.0, PIT)
        assert found.value == reaches
        assert found.working.lines[-1].result == reaches
    assert undermining.point_load_reaches_pit(-1.0, 112.0, PIT).value is NOT_KNOWN


PRINTED = {
    Kind.SLOPE: [
        own(), own(floor=85.0), upper(), upper(depth=61.0), undermining.step_slope(23.0, 48.0),
        undermining.point_load_slope(36.0, 61.0, 36.0),
    ],
    Kind.LENGTH: [
        undermining.influence_depth(36.0, 71.0, 1.5),
        undermining.length_undermined([PIT, Opened(180.5, 36.0)], 480.0),
        undermining.longest_run_undermined([PIT, Opened(80.5, 36.0)], 480.0),
        undermining.load_spread_length(16.0, 95.3, 0.5),
        undermining.point_load_clearance(30.0, 112.0, PIT),
    ],
    Kind.SHARE: [undermining.share_undermined([PIT, Opened(180.0, 36.0)], 470.0)],
}  # fmt: skip


@pytest.mark.parametrize("kind", PRINTED)
def test_last_line_is_the_value_and_every_line_says_what_it_is(kind):
    for found in PRINTED[kind]:
        lines = found.working.lines
        assert read_quantity(lines[-1].result, kind, None) == pytest.approx(found.value, abs=0.0006)
        assert all(line.meaning and line.result for line in lines)
        assert found.working.source
        assert found.working.validity


two = st.tuples(st.floats(0, 1), st.floats(0, 1)).map(sorted)
# Larger figures of these never look better; of the others, smaller ones never do.
FALLS = {"own, floor", "own, reach", "upper, step", "upper, depth", "step, height"} | {
    "load slope, depth", "influence, slope", "load, length", "load, opening",
}  # fmt: skip
RISES = {"own, corner", "own, footing", "upper, distance", "upper, footing", "step, run"} | {
    "influence, footing", "influence, distance", "spread, bearing", "spread, height",
    "spread, slope", "load slope, clearance", "load slope, footing", "length, opening",
    "run, opening",
}  # fmt: skip


def figure(found):
    return math.inf if found.value is DOES_NOT_APPLY else found.value


@given(st.sampled_from(sorted(FALLS | RISES)), two)
def test_figures_go_one_way(name, shares):
    calculation, low, high = CASES[name]
    less, more = (figure(calculation(low + share * (high - low))) for share in shares)
    assert more <= less if name in FALLS else less <= more


@given(st.floats(0, 700), st.floats(0, 5000), st.floats(0.1, 10))
def test_influence_depth_undoes_the_slope(footing, distance, slope):
    depth = undermining.influence_depth(footing, distance, slope).value
    if footing + 1 < depth <= 1800:
        back = undermining.slope_to_neighbour(depth, footing, distance).value
        assert back == pytest.approx(slope, rel=1e-6)


opened = st.builds(Opened, st.floats(0, 480), st.floats(6, 300))


@given(st.lists(opened, min_size=1, max_size=6), opened, st.floats(0, 100))
def test_another_or_a_longer_opening_never_undermines_less(pits, more, longer):
    for method in (
        undermining.length_undermined,
        undermining.share_undermined,
        undermining.longest_run_undermined,
    ):
        least = method(pits, 480.0).value
        assert least <= method([*pits, more], 480.0).value + 1e-9
        wider = [pits[0]._replace(opening_in=pits[0].opening_in + longer), *pits[1:]]
        assert least <= method(wider, 480.0).value + 1e-9
        assert method(pits[::-1], 480.0).value == pytest.approx(least)


@given(st.lists(opened, min_size=1, max_size=6))
def test_runs_and_shares_keep_to_the_wall(pits):
    length = undermining.length_undermined(pits, 480.0).value
    run = undermining.longest_run_undermined(pits, 480.0).value
    assert 3.0 <= run <= length + 1e-9 <= 480.0 + 2e-9
    assert undermining.share_undermined(pits, 480.0).value == pytest.approx(length / 4.8)
    assert length <= sum(pit.opening_in for pit in pits) + 0.01


@given(st.sampled_from(sorted(CASES)), st.floats())
def test_no_figure_breaks_it(name, given_figure):
    value = CASES[name][0](given_figure).value
    assert value in (NOT_KNOWN, DOES_NOT_APPLY) or math.isfinite(value)


def test_the_working_reads_well():
    lines = own().working.lines
    assert [(line.symbol, line.numbers, line.result) for line in lines] == [
        ("c", "", "68 in"),
        ("b", "", "20 in"),
        ("x", "max(68 - 20, 0)", "48 in"),
        ("H", "", "84 in"),
        ("f", "", "36 in"),
        ("m", "48 / (84 - 36)", "1H:1V"),
    ]
