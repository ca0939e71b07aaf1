"""Hydraulic shoring: edges of the tables, what is printed, never better where it is worse."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.hydraulic_shoring import hydraulic_shoring
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN


def shoring(**changed):
    return hydraulic_shoring(
        **{"soil_class": "B", "needs_sheeting": "no", "pit_depth_in": 156.0,
           "trench_width_in": 60.0, **changed}
    )  # fmt: skip


def spacings(value):
    """Horizontal spacing of each option, ft."""
    return [float(feet) for feet in re.findall(r"at most ([\d.]+) ft apart(?! vert)", value)]


@pytest.mark.parametrize(
    ("name", "low", "high"), [("pit_depth_in", 12, 240), ("trench_width_in", 12, 180)]
)
def test_known_up_to_both_ends_and_an_engineer_past_them(name, low, high):
    for limit in (low, high):
        assert shoring(**{name: float(limit)}).known
    for past in (low - 0.002, high + 0.002, math.nan, math.inf, -math.inf):
        found = shoring(**{name: past})
        assert found.value is NOT_KNOWN
        assert "holds" in found.reason
        assert "1926.652(c)" in found.reason


def test_classes():
    assert shoring(soil_class="stable rock").value is DOES_NOT_APPLY
    assert shoring(soil_class="D").value is NOT_KNOWN


def test_sheeting_must_be_known_in_a_and_b_only():
    for missing in (NOT_KNOWN, DOES_NOT_APPLY):
        for soil_class in "AB":
            found = shoring(soil_class=soil_class, needs_sheeting=missing)
            assert found.value is NOT_KNOWN
            assert "sheeting" in found.reason
        assert shoring(soil_class="C", needs_sheeting=missing).known


@pytest.mark.parametrize(
    ("inches", "feet"),
    [(48, 8), (60, 8), (120, 8), (120.01, 6.5), (180, 6.5), (180.01, 5.5), (240, 5.5)],
)
def test_rows_of_depth(inches, feet):
    assert spacings(shoring(pit_depth_in=inches).value) == [feet]


@pytest.mark.parametrize(
    ("inches", "bore", "sleeve"),
    [(96, 2, False), (96.01, 2, True), (144, 2, True), (144.01, 3, False), (180, 3, False)],
)
def test_columns_of_width(inches, bore, sleeve):
    value = shoring(trench_width_in=inches).value
    assert f"{bore} in cylinders" in value
    assert ("oversleeve" in value) == sleeve


def test_a_shallow_pit_takes_the_first_row_and_says_so():
    assert shoring(pit_depth_in=50.0).value == shoring(pit_depth_in=100.0).value
    lines = shoring(pit_depth_in=50.0).working.lines
    assert any("up to 5 ft takes the first row" in line.result for line in lines)


def test_type_a_that_needs_sheeting_is_held_as_b_and_says_so():
    found = shoring(soil_class="A", needs_sheeting="yes")
    assert found.value == shoring(needs_sheeting="yes").value
    assert any("held as type B" in line.result for line in found.working.lines)


cells = st.tuples(
    st.sampled_from("ABC"), st.sampled_from(["yes", "no"]), st.floats(12, 240), st.floats(12, 180)
)


@given(cells)
def test_every_cell_prints_its_value_and_what_is_from_memory(cell):
    found = hydraulic_shoring(*cell)
    working, value = found.working, found.value
    assert working.lines[-1].result == value
    assert "a loaded footing beside the pit is not in these spacings" in value
    assert ("(from memory)" in value) == ("before use" in value)
    assert ("before use" in value) == ("from memory" in working.source)
    assert all(line.meaning and line.result for line in working.lines)
    assert any("1926.651(i) governs" in line.result for line in working.lines)


@given(cells, cells)
def test_deeper_and_weaker_never_stands_further_apart(one, other):
    soil_class, sheeting, depth, width = one
    worse = (max(soil_class, other[0]), sheeting, max(depth, other[2]), width)
    near, far = (spacings(hydraulic_shoring(*cell).value) for cell in (worse, one))
    if len(near) == len(far):  # vertical shores and walers don't compare
        assert all(less <= more for less, more in zip(near, far, strict=True))


any_float = st.floats(allow_nan=True, allow_infinity=True)


@given(st.sampled_from("ABC"), any_float, any_float)
def test_any_figures_give_words_or_nothing(soil_class, depth, width):
    value = hydraulic_shoring(soil_class, "no", depth, width).value
    assert value is NOT_KNOWN or "cylinders" in value
