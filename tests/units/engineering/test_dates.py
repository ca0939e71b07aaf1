"""Days between dates, working days of a State, the window of the work, days of curing."""

import datetime as dt
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering import curing, dates, window
from survey.engineering.dates import days_between
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN
from survey.vocabulary.places import OUTSIDE


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


DAY = dt.date.fromisoformat
MONDAY, TUESDAY, FRIDAY = DAY("2026-05-04"), DAY("2026-05-05"), DAY("2026-05-08")


# Working days of a State


def test_a_state_never_counts_more_working_days():
    span = (DAY("2026-01-01"), DAY("2026-12-31"))
    plain = dates.working_days_between(*span)
    # Columbus Day is kept by the federal government, if not by California.
    assert DAY("2026-10-12") not in dates.state_holidays(2026, "CA")
    assert dates.working_days_between(*span, "CA") == plain - 2  # 31 March, 27 November
    assert dates.working_days_between(span[1], span[0], "CA") == 2 - plain


@pytest.mark.parametrize("state", ["XX", "ca", "California", ""])
def test_a_state_without_a_code_is_not_known(state):
    assert dates.state_holidays(2026, state) is NOT_KNOWN
    assert dates.working_days_between(MONDAY, FRIDAY, state) is NOT_KNOWN
    assert dates.working_days_between(FRIDAY, MONDAY, state) is NOT_KNOWN
    assert dates.add_working_days(MONDAY, 1, state) is NOT_KNOWN
    assert dates.working_days(MONDAY, FRIDAY, state).value is NOT_KNOWN
    found = window.window(1.0, [window.release_bound(FRIDAY)], state=state)
    for result in (found.fits, found.earliest, found.latest):
        assert result.value is NOT_KNOWN
        assert "State" in result.reason


def test_working_days_in_words():
    lines = {
        line.symbol: line
        for line in dates.working_days(DAY("2026-03-30"), DAY("2026-04-03"), "CA").working.lines
    }
    assert lines["h"].meaning == "holidays among them, federal or of CA: 2026-03-31"
    assert (lines["n"].numbers, lines["n"].result) == ("4 - 1", "3 days")
    back = dates.working_days(DAY("2026-04-03"), DAY("2026-03-30"), "CA")
    assert back.working.lines[-1].numbers == "-4 + 1"
    assert back.value == -3.0
    year = dates.working_days(DAY("2026-01-01"), DAY("2026-12-31"), "CA").working.lines[3]
    assert year.meaning.endswith("and more")
    none = dates.working_days(MONDAY, FRIDAY, "CA").working.lines[3]
    assert none.meaning.endswith("none")


@pytest.mark.parametrize("day", [NOT_KNOWN, DOES_NOT_APPLY, "soon", 4.0, DAY("1999-12-31"),
                                 DAY("2101-01-01"), dt.datetime(2026, 5, 4)])  # fmt: skip # noqa: DTZ001
def test_what_is_no_day_of_the_survey_is_not_known(day):
    assert dates.working_days(day, FRIDAY, "CA").value is NOT_KNOWN
    assert dates.working_days(MONDAY, day, "CA").value is NOT_KNOWN


def test_a_day_so_many_working_days_away():
    assert dates.add_working_days(MONDAY, 0) == MONDAY
    assert dates.add_working_days(FRIDAY, 1) == DAY("2026-05-11")
    assert dates.add_working_days(MONDAY, -1) == DAY("2026-05-01")
    assert dates.add_working_days(MONDAY, 2001) is NOT_KNOWN
    assert dates.add_working_days(DAY("1999-12-31"), 1) is NOT_KNOWN
    # 12 October is kept by one of the two only: it may be a working day.
    sure = dates.add_working_days(DAY("2026-10-09"), 1, "CA", sure_holidays=True)
    assert sure == DAY("2026-10-12")
    assert dates.add_working_days(DAY("2026-10-09"), 1, "CA") == DAY("2026-10-13")
    assert dates.add_working_days(DAY("2026-10-09"), 1, sure_holidays=True) == DAY("2026-10-13")


# Bounds


SHIFTED = {
    "notice": window.neighbour_notice_bound,
    "survey": window.survey_age_bound,
    "bed": window.bed_bound,
}


@pytest.mark.parametrize("name", SHIFTED)
def test_counts_of_days_on_both_ends(name):
    bound = SHIFTED[name]
    assert bound(MONDAY, 0.0).day == MONDAY
    assert bound(MONDAY, 3660.0).day == MONDAY + dt.timedelta(3660)
    for past in (-0.001, 3660.001, math.nan, math.inf, -math.inf, NOT_KNOWN, "10"):
        assert bound(MONDAY, past).day is NOT_KNOWN
    assert bound(NOT_KNOWN, 10.0).day is NOT_KNOWN
    assert bound(DOES_NOT_APPLY, 10.0).day is DOES_NOT_APPLY
    assert bound(MONDAY, DOES_NOT_APPLY).day is DOES_NOT_APPLY
    assert bound(DAY("2100-12-25"), 10.0).day is NOT_KNOWN


def test_parts_of_a_day_count_on_the_safe_side():
    assert window.bed_bound(MONDAY, 0.5).day == TUESDAY
    assert window.neighbour_notice_bound(MONDAY, 0.5).day == TUESDAY
    assert window.survey_age_bound(MONDAY, 1.9).day == TUESDAY


def test_every_bound_says_why_and_from_where():
    bounds = [
        window.ticket_start_bound(MONDAY), window.ticket_end_bound(FRIDAY),
        window.neighbour_notice_bound(MONDAY, 10.0), window.survey_age_bound(MONDAY, 30.0),
        window.bed_bound(MONDAY, 3.0), window.release_bound(FRIDAY),
    ]  # fmt: skip
    assert all(bound.reason and bound.source for bound in bounds)
    assert [str(bound.side) for bound in bounds] == [
        "first day not before", "last day not after", "first day not before",
        "first day not after", "first day not before", "last day not after",
    ]  # fmt: skip
    assert bounds[2].reason == "the neighbour has had notice for 10 days"


# The window


def ticket(start, end):
    return [window.ticket_start_bound(start), window.ticket_end_bound(end)]


def test_the_job_must_be_done_on_the_last_day_of_the_ticket():
    # Monday to Friday: five days of work fit on Monday only, one on every day.
    for days, latest in ((5.0, MONDAY), (4.5, MONDAY), (4.0, TUESDAY), (1.0, FRIDAY)):
        found = window.window(days, ticket(MONDAY, FRIDAY))
        assert (found.fits.value, found.earliest.value, found.latest.value) == (
            "yes", MONDAY, latest,
        )  # fmt: skip
    found = window.window(5.001, ticket(MONDAY, FRIDAY))
    assert found.fits.value == "no"
    assert found.fits.reason == (
        "no day to begin: first day not before 2026-05-04 (the locate ticket starts), "
        "last day not after 2026-05-08 (the locate ticket ends)"
    )
    assert found.clashes == (tuple(ticket(MONDAY, FRIDAY)),)


def test_weekends_and_holidays_are_no_days_of_work_unless_the_crew_says_so():
    saturday, sunday = DAY("2026-05-09"), DAY("2026-05-10")
    weekend = ticket(saturday, sunday)
    assert window.window(1.0, weekend).fits.value == "no"
    assert window.window(2.0, weekend, works="every day").fits.value == "yes"
    late = window.window(2.0, ticket(MONDAY, sunday))
    assert late.latest.value == DAY("2026-05-07")
    assert window.window(2.0, ticket(MONDAY, sunday), works="every day").latest.value == saturday
    early = window.window(1.0, ticket(saturday, DAY("2026-05-13")))
    assert early.earliest.value == DAY("2026-05-11")
    # Memorial Day is 25 May; Truman Day, 8 May, is kept in Missouri.
    assert window.window(1.0, ticket(MONDAY, DAY("2026-05-25"))).latest.value == DAY("2026-05-22")
    assert window.window(1.0, ticket(MONDAY, FRIDAY), state="MO").latest.value == DAY("2026-05-07")


@pytest.mark.parametrize(("state", "latest"), [(OUTSIDE, "2026-05-25"), (NOT_KNOWN, "2026-05-22")])
def test_holidays_that_are_not_known_leave_what_the_window_cant_be(state, latest):
    """Memorial Day, 25 May, is no holiday elsewhere; what else is one may move either end."""
    found = window.window(1.0, ticket(MONDAY, DAY("2026-05-25")), state=state)
    for result in (found.fits, found.earliest, found.latest):
        assert result.value is NOT_KNOWN
        assert "holidays" in result.reason
    assert (found.not_before, found.not_after) == (MONDAY, DAY(latest))
    assert f"not after {latest} in any case" in found.latest.reason
    # A clash is one whatever else is kept.
    late = window.window(6.0, ticket(MONDAY, FRIDAY), state=state)
    assert late.fits.value == "no"
    assert late.clashes
    # Who works on every day asks for no holidays.
    always = window.window(1.0, ticket(MONDAY, FRIDAY), state=state, works="every day")
    assert always.fits.value == "yes"


def test_outside_the_united_states_every_weekday_counts_at_most():
    thursday = DAY("2026-11-26")
    eve = thursday - dt.timedelta(1)
    assert dates.working_days_between(eve, thursday) == 0
    assert dates.working_days_between(eve, thursday, OUTSIDE) == 1
    found = dates.working_days(eve, thursday, OUTSIDE)
    assert found.value is NOT_KNOWN
    assert "outside the United States" in found.reason


def test_the_strictest_bound_of_each_end_counts_and_is_named():
    notice = window.neighbour_notice_bound(MONDAY, 10.0)
    age = window.survey_age_bound(MONDAY, 14.0)
    release = window.release_bound(DAY("2026-06-30"))
    found = window.window(3.0, [*ticket(MONDAY, DAY("2026-05-29")), notice, age, release])
    assert found.earliest.value == found.not_before == DAY("2026-05-14")
    assert found.latest.value == found.not_after == DAY("2026-05-18")  # of the age; not of a job
    assert found.earliest_by == (notice,)
    assert found.latest_by == (age,)
    assert found.clashes == ()


def test_all_pairs_that_clash_are_told_the_worst_first():
    notice = window.neighbour_notice_bound(MONDAY, 30.0)
    release = window.release_bound(DAY("2026-05-20"))
    bounds = [*ticket(MONDAY, FRIDAY), notice, release]
    found = window.window(1.0, bounds)
    assert found.fits.value == "no"
    assert found.clashes == ((notice, bounds[1]), (notice, release))
    assert found.earliest.value == DAY("2026-06-03")  # the ends are told all the same
    assert found.latest.value == FRIDAY


def test_a_bound_that_is_not_known_leaves_its_end_not_known():
    unknown = window.neighbour_notice_bound(NOT_KNOWN, 10.0)
    found = window.window(1.0, [*ticket(MONDAY, FRIDAY), unknown])
    assert found.fits.value is NOT_KNOWN
    assert found.earliest.value is NOT_KNOWN
    assert found.earliest.reason == (
        "'the neighbour has had notice for 10 days' is not known; not before 2026-05-04 in any case"
    )
    assert found.not_before == MONDAY
    assert found.latest.value == FRIDAY
    alone = window.window(1.0, [unknown])
    assert alone.not_before is None
    assert "in any case" not in alone.earliest.reason


def test_known_bounds_that_clash_leave_no_day_whatever_is_not_known():
    unknown = window.ticket_end_bound(NOT_KNOWN)
    clash = [window.bed_bound(FRIDAY, 7.0), window.survey_age_bound(MONDAY, 3.0), unknown]
    found = window.window(NOT_KNOWN, clash)
    assert found.fits.value == "no"
    assert found.latest.value is NOT_KNOWN
    assert found.not_after == DAY("2026-05-07")


def test_days_of_work_that_are_not_known_are_at_least_one():
    for days in (NOT_KNOWN, DOES_NOT_APPLY, 0.0, 0.249, 400.001, math.nan, math.inf):
        found = window.window(days, ticket(MONDAY, FRIDAY))
        assert found.fits.value is NOT_KNOWN
        assert found.latest.value is NOT_KNOWN
        assert found.latest.reason.endswith("not after 2026-05-08 in any case")
        assert found.earliest.value == MONDAY
        clash = window.window(days, ticket(FRIDAY, MONDAY))
        assert clash.fits.value == "no"
    for days in (0.25, 400.0):
        assert window.window(days, ticket(MONDAY, DAY("2028-05-08"))).latest.known
    # A bound on the first day needs no days of work.
    assert window.window(NOT_KNOWN, [window.survey_age_bound(MONDAY, 1.0)]).latest.value == TUESDAY


def test_what_does_not_apply_binds_nothing():
    bounds = [
        window.release_bound(DOES_NOT_APPLY),
        window.neighbour_notice_bound(DOES_NOT_APPLY, 1),
    ]
    for found in (window.window(1.0, bounds), window.window(NOT_KNOWN, [])):
        assert found.earliest.value is DOES_NOT_APPLY
        assert found.latest.value is DOES_NOT_APPLY
        assert found.fits.value == "yes"
    half = window.window(1.0, [window.ticket_start_bound(MONDAY)])
    assert half.fits.value == "yes"
    assert half.latest.value is DOES_NOT_APPLY


def test_a_window_prints_every_bound_and_ends_with_its_day():
    found = window.window(2.0, ticket(MONDAY, FRIDAY))
    for end in (found.earliest, found.latest):
        lines = end.working.lines
        assert lines[-1].result == str(end.value)
        assert [line.result for line in lines[:3]] == ["2026-05-04", "2026-05-08", "2 days"]
        assert all(line.meaning and line.result for line in lines)
    assert found.fits.working.lines[-1].numbers == "2026-05-04 <= 2026-05-07"


two_thousands = st.dates(dt.date(2000, 1, 1), dt.date(2100, 12, 31))
near = st.dates(MONDAY, MONDAY + dt.timedelta(40))


@given(near, near, st.integers(1, 20), st.sampled_from(["working days", "every day"]))
def test_the_window_is_every_day_from_which_the_work_is_done_in_time(start, end, days, works):
    found = window.window(float(days), ticket(start, end), works=works)
    off = dates.federal_holidays(2026)

    def is_work(day):
        return works == "every day" or (day.weekday() < 5 and day not in off)

    good = []
    for day in (start + dt.timedelta(n) for n in range(120)):
        if is_work(day):
            done = [d for d in (day + dt.timedelta(n) for n in range(120)) if is_work(d)][days - 1]
            if done <= end:
                good.append(day)
    assert (found.fits.value == "yes") is bool(good)
    if good:
        assert (found.earliest.value, found.latest.value) == (good[0], good[-1])


anything = st.one_of(
    st.just(NOT_KNOWN), st.just(DOES_NOT_APPLY), st.dates(), st.text(), two_thousands,
    st.floats(allow_nan=True, allow_infinity=True),
)  # fmt: skip


@given(anything, anything, anything, anything)
def test_no_answer_makes_a_window_fail(first, second, count, days):
    bounds = [
        window.ticket_start_bound(first), window.ticket_end_bound(second),
        window.bed_bound(first, count), window.survey_age_bound(second, count),
    ]  # fmt: skip
    found = window.window(days, bounds)
    for result in (found.fits, found.earliest, found.latest):
        assert result.reason or result.working


@given(near, near, near, st.floats(1, 30))
def test_a_further_bound_or_a_longer_job_never_opens_the_window(start, end, other, days):
    plain = window.window(days, ticket(start, end))
    more = window.window(days, [*ticket(start, end), window.release_bound(other)])
    longer = window.window(days + 3, ticket(start, end))
    for stricter in (more, longer):
        assert stricter.latest.value <= plain.latest.value
        assert stricter.earliest.value >= plain.earliest.value


# Curing

PSF = 3000 * 144.0


@pytest.mark.parametrize(
    ("calculation", "low", "high"),
    [
        (lambda v: curing.strength_at(v, PSF, "ordinary", "yes"), 1.0, 365.0),
        (lambda v: curing.strength_at(7.0, v, "ordinary", "yes"), 72000.0, 1728000.0),
        (lambda v: curing.days_to_strength(v, "ordinary", "yes"), 1.0, 100.0),
    ],
)
def test_curing_is_known_up_to_both_ends(calculation, low, high):
    for limit in (low, high):
        assert calculation(limit).known
    for past in (low - 0.001, high + 0.001, math.nan, math.inf, -math.inf):
        assert calculation(past).value is NOT_KNOWN
        assert "holds" in calculation(past).reason


@pytest.mark.parametrize(("mix", "kept"), [
    ("quick-setting", "yes"), (NOT_KNOWN, "yes"), (DOES_NOT_APPLY, "yes"), ("ordinary", "no"),
    ("ordinary", NOT_KNOWN), ("ordinary", DOES_NOT_APPLY),
])  # fmt: skip
def test_other_mixes_and_other_curing_are_not_known(mix, kept):
    for result in (
        curing.strength_at(7.0, PSF, mix, kept),
        curing.days_to_strength(50.0, mix, kept),
    ):
        assert result.value is NOT_KNOWN
    if mix != "ordinary":
        assert "maker" in result.reason


def test_concrete_is_never_taken_as_stronger_than_specified():
    assert curing.strength_at(26.0, PSF, "ordinary", "yes").value < PSF
    for days in (27.0, 28.0, 365.0):
        assert curing.strength_at(days, PSF, "ordinary", "yes").value == PSF


def test_strength_by_hand():
    # 14 / (4 + 0.85 x 14) = 14 / 15.9
    found = curing.strength_at(14.0, 15900.0 * 10, "ordinary", "yes")
    assert found.value == pytest.approx(140000.0)
    assert found.working.lines[-1].result == "140,000 psf"
    assert found.working.lines[-1].numbers == "min(14 / (4 + 0.85 x 14), 1) x 159,000"


def test_days_by_hand():
    # 4 x 0.5 / (1 - 0.85 x 0.5) = 2 / 0.575 = 3.48
    found = curing.days_to_strength(50.0, "ordinary", "yes")
    assert found.value == 4.0
    assert found.working.lines[-1].result == "4 days"
    assert curing.days_to_strength(1.0, "ordinary", "yes").value == 1.0
    assert curing.days_to_strength(99.999, "ordinary", "yes").value == 27.0
    assert curing.days_to_strength(100.0, "ordinary", "yes").value == 28.0


@given(st.floats(21, 100))
def test_after_those_days_the_share_is_reached_and_not_a_day_before(share):
    days = curing.days_to_strength(share, "ordinary", "yes").value
    assert curing.strength_at(days, PSF, "ordinary", "yes").value >= share / 100 * PSF * (1 - 1e-9)
    if share < 100 and days > 1:
        before = curing.strength_at(days - 1, PSF, "ordinary", "yes").value
        assert before < share / 100 * PSF


@given(st.floats(1, 364), st.floats(0, 1), st.floats(72000, 1728000))
def test_older_concrete_is_never_weaker(days, later, strength):
    young = curing.strength_at(days, strength, "ordinary", "yes").value
    assert young <= curing.strength_at(days + later, strength, "ordinary", "yes").value <= strength
