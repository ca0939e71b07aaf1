"""Appendix B: ends of validity, what is not known, and what never looks better."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering import slopes
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Kind, read_quantity

CLASSES = ("stable rock", "A", "B", "C")
BAD = (math.nan, math.inf, -math.inf, -0.001, 240.001, NOT_KNOWN, DOES_NOT_APPLY)
METHODS = {
    "slope": lambda depth, name="A": slopes.appendix_b_slope(name, depth, "no", "no"),
    "bench": lambda depth, name="A": slopes.bench_slope(name, depth, "yes", "no"),
    "rises": lambda depth, name="A": slopes.fewest_rises(name, depth, "yes"),
    "vertical part": lambda depth, name="A": slopes.steepest_with_vertical_lower_part(
        name, depth, 0.0, 18.0, "no"
    ),
}


@pytest.mark.parametrize("name", METHODS)
def test_known_from_0_to_20_ft(name):
    for depth in (0.0, 0, 240.0, 240):
        assert METHODS[name](depth).known
    for depth in BAD:
        found = METHODS[name](depth)
        assert found.value is NOT_KNOWN
        assert "pit depth is" in found.reason
        assert found.bounds is None


@pytest.mark.parametrize("name", METHODS)
@pytest.mark.parametrize("soil_class", [DOES_NOT_APPLY, "D", "", 3.0])
def test_a_class_that_is_none_gives_nothing(name, soil_class):
    found = METHODS[name](60.0, soil_class)
    assert found.value is NOT_KNOWN
    assert "soil class" in found.reason
    assert found.bounds is None


def test_bounds_are_told_while_an_answer_is_open():
    found = slopes.appendix_b_slope(NOT_KNOWN, 60.0, "no", "no")
    assert (found.value, found.bounds) == (NOT_KNOWN, (0.0, 1.5))
    assert found.reason == "the soil class is not known"
    assert found.working.lines[-1].result == "0 to 1.5H:1V"
    found = slopes.appendix_b_slope("A", 60.0, NOT_KNOWN, "no")
    assert (found.value, found.bounds) == (NOT_KNOWN, (0.5, 0.75))
    assert found.reason == "whether it is open for 24 hours or less is not known"
    assert slopes.appendix_b_slope("B", 60.0, "no", NOT_KNOWN).bounds == (1.0, 1.5)
    assert slopes.appendix_b_slope(NOT_KNOWN, 60.0, NOT_KNOWN, NOT_KNOWN).bounds == (0.0, 2.0)
    assert slopes.bench_slope("A", 60.0, "no", NOT_KNOWN).bounds == (0.75, 1.25)
    held = slopes.steepest_with_vertical_lower_part("C", 60.0, 30.0, 18.0, NOT_KNOWN)
    assert held.bounds == (1.5, 2.0)


def test_what_cannot_matter_is_not_asked_for():
    assert slopes.appendix_b_slope("B", 60.0, NOT_KNOWN, "no").value == 1.0
    assert slopes.appendix_b_slope("A", 144.001, NOT_KNOWN, "no").value == 0.75
    assert slopes.bench_slope("A", 60.0, NOT_KNOWN, "no").value == 0.75
    assert slopes.highest_rise("A", NOT_KNOWN, first=True).value == 48.0
    # 3 ft 6 in of A stands unheld in 8 ft, whatever the support.
    open_support = slopes.steepest_with_vertical_lower_part("A", 96.0, 42.0, NOT_KNOWN, "no")
    assert open_support.value == 0.75


def test_rock_with_distress_is_classed_again():
    found = slopes.appendix_b_slope("stable rock", 60.0, "no", "yes")
    assert found.value is NOT_KNOWN
    assert "class it again" in found.reason
    assert found.bounds == (0.5, 2.0)
    assert slopes.appendix_b_slope("stable rock", 60.0, "no", NOT_KNOWN).bounds == (0.0, 2.0)


def test_benches_of_ground_that_has_none():
    for method in (
        slopes.bench_slope("stable rock", 60.0, "yes", "no"),
        slopes.fewest_rises("C", 60.0, "yes"),
        slopes.highest_rise("B", "no", first=True),
        slopes.highest_rise("B", NOT_KNOWN, first=True),
        slopes.highest_rise(NOT_KNOWN, "yes", first=True),
    ):
        assert method.value is NOT_KNOWN
        assert method.reason
        assert method.bounds is None


@pytest.mark.parametrize(
    ("soil_class", "feet", "count"),
    [("A", 0, 1), ("A", 4, 1), ("A", 4.01, 2), ("A", 9, 2), ("A", 20, 5),
     ("B", 4, 1), ("B", 8, 2), ("B", 8.01, 3), ("B", 20, 5)],
)  # fmt: skip
def test_fewest_steps(soil_class, feet, count):
    assert slopes.fewest_rises(soil_class, feet * 12, "yes").value == count


def vertical(soil_class, depth, part, support, distress="no"):
    return slopes.steepest_with_vertical_lower_part(soil_class, depth, part, support, distress)


def test_vertical_part_from_nothing_to_the_whole_depth():
    assert vertical("B", 60.0, 0.0, DOES_NOT_APPLY).value == 1.0  # a simple slope
    assert vertical("B", 60.0, 60.0, 18.0).value == 1.0
    for part in (-0.001, 60.001, math.nan, math.inf):
        assert "vertical part is" in vertical("B", 60.0, part, 18.0).reason
    for support in (-0.001, 240.001, math.nan, math.inf):
        assert "support above it is" in vertical("B", 60.0, 30.0, support).reason
    assert vertical("B", 60.0, 30.0, 240.0).value == 1.0
    assert vertical("stable rock", 240.0, 240.0, DOES_NOT_APPLY).value == 0.0


def test_vertical_part_whose_support_is_not_known():
    assert "support" in vertical("B", 60.0, 30.0, NOT_KNOWN).reason
    assert "support" in vertical("A", 120.0, 30.0, NOT_KNOWN).reason  # 3/4 held, 1 not held


def test_nothing_stands_unheld_with_distress():
    assert "distress" in vertical("A", 96.0, 42.0, DOES_NOT_APPLY, "yes").reason
    open_signs = vertical("A", 96.0, 42.0, DOES_NOT_APPLY, NOT_KNOWN)
    assert open_signs.value is NOT_KNOWN
    assert open_signs.bounds is None
    assert vertical("A", 96.0, 42.0, 18.0, "yes").value == 1.25
    for distress in ("yes", NOT_KNOWN):
        assert vertical("stable rock", 96.0, 42.0, 18.0, distress).value is NOT_KNOWN


answers = st.sampled_from(["yes", "no", NOT_KNOWN])
classes = st.sampled_from([*CLASSES, NOT_KNOWN])


@given(classes, st.floats(0, 240), answers, answers)
def test_bounds_hold_whatever_the_open_answers_turn_out_to_be(name, depth, short, distress):
    found = slopes.appendix_b_slope(name, depth, short, distress)
    low, high = found.bounds or (found.value, found.value)
    possible = itertools.product(
        CLASSES if name is NOT_KNOWN else [name],
        ["yes", "no"] if short is NOT_KNOWN else [short],
        ["yes", "no"] if distress is NOT_KNOWN else [distress],
    )
    for some_class, some_short, some_distress in possible:
        settled = slopes.appendix_b_slope(some_class, depth, some_short, some_distress)
        least, most = settled.bounds or (settled.value, settled.value)
        assert low <= least <= most <= high


def least(result):
    return result.value if result.known else result.bounds[0] if result.bounds else math.inf


@given(
    st.tuples(st.floats(0, 260), st.floats(0, 260)).map(sorted), answers, answers,
    st.tuples(st.sampled_from(range(4)), st.sampled_from(range(4))).map(sorted),
)  # fmt: skip
def test_deeper_or_weaker_ground_and_distress_never_allow_steeper(depths, short, distress, pair):
    better, worse = (CLASSES[i] for i in pair)
    shallow = slopes.appendix_b_slope(better, depths[0], short, distress)
    assert least(shallow) <= least(slopes.appendix_b_slope(better, depths[1], short, distress))
    assert least(slopes.appendix_b_slope(better, depths[0], "yes", "no")) <= least(shallow)
    if better != "stable rock":
        assert least(shallow) <= least(slopes.appendix_b_slope(worse, depths[0], short, distress))


@given(
    st.sampled_from(CLASSES[1:]), st.tuples(st.floats(0, 240), st.floats(0, 240)).map(sorted),
    st.tuples(st.floats(0, 1), st.floats(0, 1)).map(sorted), st.floats(0, 36),
)  # fmt: skip
def test_a_deeper_pit_or_higher_vertical_part_never_allows_steeper(name, depths, shares, support):
    low, high = (share * depths[0] for share in shares)
    best = least(vertical(name, depths[0], low, support))
    assert best <= least(vertical(name, depths[0], high, support))
    assert best <= least(vertical(name, depths[1], low, support))
    assert best <= least(vertical(name, depths[0], low, DOES_NOT_APPLY)) or low <= 0.0


@given(st.sampled_from(CLASSES), st.floats(0, 240), answers, answers, answers)
def test_last_line_is_the_value(name, depth, short, cohesive, distress):
    every = (
        (slopes.appendix_b_slope(name, depth, short, distress), Kind.SLOPE, None),
        (slopes.bench_slope(name, depth, cohesive, distress), Kind.SLOPE, None),
        (slopes.highest_rise(name, cohesive, first=False), Kind.LENGTH, None),
        (slopes.fewest_rises(name, depth, cohesive), Kind.COUNT, ""),
        (vertical(name, depth, depth / 2, 20.0, distress), Kind.SLOPE, None),
    )
    for found, kind, bare in every:
        if found.known:
            lines = found.working.lines
            assert read_quantity(lines[-1].result, kind, bare) == found.value
            assert all(line.meaning and line.result for line in lines)
            assert any(line.source for line in lines)
        else:
            assert found.reason


@given(classes, st.floats(), answers, st.floats(), st.floats())
def test_no_finite_or_other_figure_breaks_it(name, depth, answer, part, support):
    for found in (
        slopes.appendix_b_slope(name, depth, answer, answer),
        slopes.bench_slope(name, depth, answer, answer),
        slopes.fewest_rises(name, depth, answer),
        vertical(name, depth, part, support, answer),
    ):
        assert found.value is NOT_KNOWN or math.isfinite(found.value)
        assert found.bounds is None or all(map(math.isfinite, found.bounds))


def test_the_working_reads_as_the_appendix_does():
    lines = slopes.appendix_b_slope("A", 96.0, "yes", "yes").working.lines
    assert [(line.symbol, line.formula, line.numbers, line.result) for line in lines] == [
        ("", "", "", "A"),
        ("H", "", "", "8 ft"),
        ("", "", "", "yes"),
        ("", "", "", "yes"),
        ("m0", "", "", "0.5H:1V"),
        ("m", "m0 + 1/2", "0.5 + 0.5", "1H:1V"),
    ]
    assert "secondary copy" in lines[4].source
    assert "from memory" in lines[5].source
