"""29 CFR 1926.1408 Table A: distance to keep from overhead power lines."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.overhead import approach_distance, clearance_left
from survey.vocabulary import NOT_KNOWN


@pytest.mark.parametrize(
    ("kv", "feet"),
    [
        (0.0, 10), (0.24, 10), (7.2, 10), (50.0, 10),
        (50.001, 15), (69.0, 15), (200.0, 15),
        (200.001, 20), (345.0, 20), (350.0, 20),
        (350.001, 25), (500.0, 25),
        (500.001, 35), (750.0, 35),
        (750.001, 45), (765.0, 45), (1000.0, 45),
    ],
)  # fmt: skip
def test_table_a(kv, feet):
    assert approach_distance(kv).value == feet * 12


def test_over_1000_kv_the_owner_or_an_engineer_sets_it():
    result = approach_distance(math.nextafter(1000.0, 2000.0))
    assert result.value is NOT_KNOWN
    assert result.bounds is None
    assert "registered professional engineer" in result.reason


@given(st.floats(0, 1000))
def test_never_less_than_the_older_rule_for_equipment(kv):
    """29 CFR 1926.600(a)(6): 10 ft to 50 kV, then 0.4 in more for each kV; from memory."""
    assert approach_distance(kv).value >= 120 + 0.4 * max(kv - 50, 0) - 1e-9


def test_what_is_left():
    assert clearance_left(25 * 12.0, 10 * 12.0).value == 180.0
    assert clearance_left(10 * 12.0, 14 * 12.0).value == -48.0
