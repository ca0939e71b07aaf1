"""Days between two dates, over month ends and leap days, in both directions."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.dates import days_between


@pytest.mark.parametrize(
    ("earlier", "later", "days"),
    [
        ("2026-12-31", "2027-01-01", 1), ("2028-02-28", "2028-03-01", 2),
        ("2027-02-28", "2027-03-01", 1), ("2026-04-03", "2026-04-03", 0),
        ("2026-04-03", "2026-04-01", -2),
    ],
)  # fmt: skip
def test_days_between(earlier, later, days):
    assert days_between(dt.date.fromisoformat(earlier), dt.date.fromisoformat(later)).value == days


@given(st.dates(), st.dates())
def test_there_and_back_is_nothing(one, other):
    assert days_between(one, other).value + days_between(other, one).value == 0
