"""Respirator for cutting: what is open, what is not covered, and worse answers."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.dust import (
    CHIPPING_HAMMER,
    DRILL,
    SAW,
    Cutting,
    respirator_for_shift,
    respirator_needed,
)
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY

NOTHING, WET, NONE = VOCABULARY["dust control"].choices
TOOLS = (DRILL, SAW, CHIPPING_HAMMER)
RANK = {"none": 0, "APF 10": 1}


@pytest.mark.parametrize(
    ("tool", "indoors", "hours", "expected"),
    [
        (DRILL, NOT_KNOWN, NOT_KNOWN, "none"),  # the same in every column
        (CHIPPING_HAMMER, "yes", NOT_KNOWN, "APF 10"),
        (CHIPPING_HAMMER, NOT_KNOWN, 5.0, "APF 10"),
        (CHIPPING_HAMMER, NOT_KNOWN, 4.0, NOT_KNOWN),
        (CHIPPING_HAMMER, "no", NOT_KNOWN, NOT_KNOWN),
        (SAW, "no", DOES_NOT_APPLY, NOT_KNOWN),
        (NOT_KNOWN, "no", 1.0, NOT_KNOWN),
    ],
)
def test_known_only_where_what_is_open_cannot_change_it(tool, indoors, hours, expected):
    result = respirator_needed(tool, WET, indoors, hours)
    assert result.value == expected
    assert bool(result.reason) == (expected is NOT_KNOWN)


@pytest.mark.parametrize(
    ("tool", "control", "indoors", "words"),
    [
        (DRILL, NONE, "no", "without a dust control"),
        (DRILL, NOT_KNOWN, "no", "dust control is not known"),
        (DRILL, "a fan", "no", "no dust control of Table 1"),
        ("grinder", WET, "no", "no entry for 'grinder'"),
        (DRILL, WET, "perhaps", "yes or a no"),
    ],
)
def test_why_the_table_does_not_tell(tool, control, indoors, words):
    result = respirator_needed(tool, control, indoors, 1.0)
    assert result.value is NOT_KNOWN
    assert words in result.reason


@pytest.mark.parametrize("tool", TOOLS)
def test_hours_at_both_ends_and_past_them(tool):
    for hours in (0.0, 24.0):
        assert respirator_needed(tool, WET, "no", hours).known
    for hours in (-0.001, 24.001, math.nan, math.inf, -math.inf):
        result = respirator_needed(tool, WET, "no", hours)
        assert result.value is NOT_KNOWN
        assert "holds" in result.reason


def test_minutes_in_place_of_hours_are_never_taken_for_less():
    assert respirator_needed(CHIPPING_HAMMER, WET, "no", 60.0).value is NOT_KNOWN
    assert respirator_needed(CHIPPING_HAMMER, WET, "no", 20.0).value == "APF 10"


def test_nothing_cut_needs_nothing_else():
    result = respirator_needed(NOT_KNOWN, NOTHING, NOT_KNOWN, NOT_KNOWN)
    assert result.value is DOES_NOT_APPLY
    assert result.reason


def test_a_shift_of_several_tools():
    drill, hammer = Cutting(DRILL, "no", 3.0), Cutting(CHIPPING_HAMMER, "no", 1.0)
    assert respirator_for_shift([drill, hammer], WET).value == "none"
    working = respirator_for_shift([drill, hammer._replace(hours_a_day=1.5)], WET).working
    assert working.lines[-1].result == "APF 10"
    assert working.lines[-2].numbers == "3 + 1.5"
    assert working.lines[-2].result == "4.5 hours"
    open_hours = hammer._replace(hours_a_day=NOT_KNOWN)
    assert respirator_for_shift([drill, open_hours], WET).value is NOT_KNOWN
    long = drill._replace(hours_a_day=4.5)
    assert respirator_for_shift([long, open_hours], WET).value == "APF 10"
    assert respirator_for_shift([], WET).value is NOT_KNOWN
    assert respirator_for_shift([drill._replace(hours_a_day=20.0)] * 2, WET).value is NOT_KNOWN


def test_the_working_says_which_entry_and_what_the_tool_must_have():
    lines = respirator_needed(SAW, WET, "yes", 2.0).working.lines
    assert any("(ii), from memory" in line.source for line in lines)
    assert any("water fed to the blade" in line.result for line in lines)
    assert lines[-1].result == "APF 10"


@given(st.sampled_from(TOOLS), st.floats(0, 24), st.floats(0, 24))
def test_longer_or_indoors_never_needs_less(tool, one, other):
    short, long = sorted((one, other))

    def rank(indoors, hours):
        return RANK[respirator_needed(tool, WET, indoors, hours).value]

    assert rank("no", short) <= rank("no", long) <= rank("yes", long)
    assert rank("no", short) <= rank("yes", short)


cuttings = st.builds(
    Cutting,
    st.sampled_from(TOOLS),
    st.sampled_from(("no", "yes", NOT_KNOWN)),
    st.one_of(st.floats(0, 6), st.just(NOT_KNOWN)),
)


@given(st.lists(cuttings, min_size=1, max_size=3), st.data())
def test_a_known_respirator_holds_however_the_blanks_are_filled(shift, data):
    before = respirator_for_shift(shift, WET).value
    filled = []
    for tool, indoors, hours in shift:
        place = data.draw(st.sampled_from(("no", "yes"))) if indoors is NOT_KNOWN else indoors
        time = data.draw(st.floats(0, 6)) if hours is NOT_KNOWN else hours
        filled.append(Cutting(tool, place, time))
    after = respirator_for_shift(filled, WET).value
    assert after in RANK
    if before is not NOT_KNOWN:
        assert after == before
