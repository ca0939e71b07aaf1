"""Carbon monoxide in a room and confined spaces: ends of ranges, branches, directions."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.air import (
    confined_space_screening,
    minutes_to_concentration,
    steady_concentration,
)
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY

ROOM = {"engine_power_hp": 5.0, "room_volume_ft3": 2000.0, "air_changes_an_hour": 1.0}
RANGES = {
    "engine_power_hp": (0.5, 30.0),
    "room_volume_ft3": (50.0, 100_000.0),
    "air_changes_an_hour": (0.0, 30.0),
    "ppm": (1.0, 10_000.0),
}
powers, volumes, changes, levels = (st.floats(*RANGES[name]) for name in RANGES)


def minutes(*args):
    """Minutes, endless where the concentration is never reached."""
    value = minutes_to_concentration(*args).value
    return math.inf if value is DOES_NOT_APPLY else value


@pytest.mark.parametrize("name", RANGES)
def test_known_up_to_both_ends_and_not_past_them(name):
    low, high = RANGES[name]
    for end in (low, high):
        assert minutes_to_concentration(**{**ROOM, "ppm": 200.0, name: end}).known
        if name != "ppm":
            assert steady_concentration(**{**ROOM, name: end}).known
    for past in (low - 0.001, high * 1.001, math.nan, math.inf, -math.inf):
        result = minutes_to_concentration(**{**ROOM, "ppm": 200.0, name: past})
        assert result.value is NOT_KNOWN
        assert "holds" in result.reason
        if name != "ppm":
            assert steady_concentration(**{**ROOM, name: past}).value is NOT_KNOWN


def test_a_closed_room_fills_in_a_straight_line():
    # 0.0002 x 9,000 / 1.8 by hand
    assert minutes(5.0, 9000.0, 0.0, 200.0) == pytest.approx(1.0)
    assert minutes(5.0, 9000.0, 0.0, 400.0) == pytest.approx(2.0)
    assert steady_concentration(5.0, 9000.0, 0.0).value == 100_000


def test_where_it_is_never_reached_the_reason_warns():
    result = minutes_to_concentration(5.0, 100_000.0, 30.0, 200.0)  # steady at 36 ppm
    assert result.value is DOES_NOT_APPLY
    assert "36 ppm" in result.reason
    assert "does not make it safe" in result.reason
    assert "not enough" in result.working.validity
    last = result.working.lines[-1]
    assert (last.numbers, last.result) == ("1,000,000 x 1.8 / 50,000", "36 ppm")


def test_on_the_steady_concentration_it_is_never_reached():
    steady = steady_concentration(5.0, 6000.0, 10.0).value  # 1.8 / 1,000
    assert steady == pytest.approx(1800)
    assert minutes_to_concentration(5.0, 6000.0, 10.0, 1800.0).value is DOES_NOT_APPLY
    assert 0 < minutes(5.0, 6000.0, 10.0, 1799.9) < math.inf


def test_small_engines_count_as_5_hp():
    assert minutes(0.5, 2000.0, 1.0, 200.0) == minutes(5.0, 2000.0, 1.0, 200.0)
    assert minutes(10.0, 2000.0, 0.0, 200.0) == pytest.approx(minutes(5.0, 1000.0, 0.0, 200.0))


@given(st.tuples(powers, powers), st.tuples(volumes, volumes), changes, levels)
def test_more_power_or_a_smaller_room_is_never_later(two_powers, rooms, air, ppm):
    weak, strong = sorted(two_powers)
    small, large = sorted(rooms)
    assert minutes(strong, small, air, ppm) <= minutes(weak, small, air, ppm) * (1 + 1e-9)
    assert minutes(weak, small, air, ppm) <= minutes(weak, large, air, ppm) * (1 + 1e-9)
    assert (
        steady_concentration(weak, small, air).value
        <= steady_concentration(strong, small, air).value
    )


@given(powers, volumes, st.tuples(changes, changes), st.tuples(levels, levels))
def test_less_air_is_never_later_and_more_gas_never_sooner(power, volume, airs, gases):
    little, much = sorted(airs)
    low, high = sorted(gases)
    assert minutes(power, volume, little, low) <= minutes(power, volume, much, low) * (1 + 1e-8)
    assert minutes(power, volume, much, low) <= minutes(power, volume, much, high) * (1 + 1e-9)
    assert (
        steady_concentration(power, volume, much).value
        <= steady_concentration(power, volume, little).value
    )


any_figure = st.floats(allow_nan=False, allow_infinity=False)


@given(*[st.one_of(any_figure, st.floats(*RANGES[name])) for name in RANGES])
def test_any_figure_gives_a_figure_or_a_reason(power, volume, air, ppm):
    for result in (
        minutes_to_concentration(power, volume, air, ppm),
        steady_concentration(power, volume, air),
    ):
        if result.known:
            assert 0 <= result.value < math.inf
            printed, unit = result.working.lines[-1].result.split()
            assert unit in ("min", "ppm")
            assert float(printed.replace(",", "")) == pytest.approx(result.value, abs=0.0006)
        else:
            assert result.reason


def test_the_working_reads_from_inputs_to_time():
    working = minutes_to_concentration(5.0, 10_000.0, 1.0, 1200.0).working
    assert [line.symbol for line in working.lines] == ["P", "V", "N", "G", "Q", "C", "t"]
    last = working.lines[-1]
    assert last.numbers == "10,000 / 166.667 x ln(1 / (1 - 0.0012 x 166.667 / 1.8))"
    assert last.result == "7.067 min"
    assert "computed here" in working.lines[3].source


# Confined spaces


def test_findings_are_words_of_the_form():
    findings = VOCABULARY["confined space finding"].choices
    for hazard in ("none found", "bad air possible"):
        for limited in ("yes", "no"):
            assert confined_space_screening("yes", limited, "no", hazard).value in findings


def test_one_no_settles_it_whatever_is_not_known():
    for answers in (("no", NOT_KNOWN, NOT_KNOWN), (NOT_KNOWN, "no", NOT_KNOWN),
                    (NOT_KNOWN, NOT_KNOWN, "yes")):  # fmt: skip
        result = confined_space_screening(*answers, NOT_KNOWN)
        assert result.value == "not a confined space"
        assert result.working.lines[-1].result == result.value


def test_a_hazard_does_not_settle_what_is_open():
    for hazard in ("none found", "bad air possible", NOT_KNOWN):
        result = confined_space_screening("yes", NOT_KNOWN, "no", hazard)
        assert result.value is NOT_KNOWN
        assert "limited way in or out: not known" in result.reason


@pytest.mark.parametrize("hazard", [NOT_KNOWN, DOES_NOT_APPLY, "ghosts"])
def test_a_confined_space_with_hazards_that_are_not_known(hazard):
    result = confined_space_screening("yes", "yes", "no", hazard)
    assert result.value is NOT_KNOWN
    assert str(hazard) in result.reason


def test_a_word_that_is_no_answer_settles_nothing():
    assert confined_space_screening("perhaps", "yes", "no", "none found").value is NOT_KNOWN
