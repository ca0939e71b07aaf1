"""Rounds of pits and days of the crew, under the limits of the book."""

import copy
import datetime as dt

import pytest

from survey.assessment import Verdict, assess
from survey.rulebook.book import load_book
from survey.sheets._advice import may_be_scheduled
from tests.demo_surveys import careful_house, survey_of

BOOK = load_book()


def plan(change=None):
    document = copy.deepcopy(careful_house())
    document["site"] |= {"most_pits_open_together": "3", "days_for_a_round_of_pits": "2 days"}
    if change is not None:
        change(document)
    return assess(survey_of(document), (), BOOK).plan


def opened_together(rounds):
    return {frozenset((a, b)) for labels in rounds for a in labels for b in labels if a != b}


def test_the_careful_house():
    found = plan()
    assert sorted(label for labels in found.order.rounds for label in labels) == [
        "P1", "P2", "P3", "P4", "P5",
    ]  # fmt: skip
    assert len(found.order.rounds) == 2
    together = opened_together(found.order.rounds)
    for neighbours in ({"P1", "P2"}, {"P2", "P3"}, {"P4", "P5"}):
        assert neighbours not in together
    assert found.order.crew_days == "4 days of work"
    assert found.earliest.day == dt.date(2026, 11, 30)
    assert "locate ticket starts" in found.earliest.why[0]
    # The ticket ends on Friday 18 December; four days of work begin on Tuesday at the latest.
    assert found.latest.day == dt.date(2026, 12, 15)
    assert not found.clashes


def test_one_at_a_time_as_the_release_says():
    def one(document):
        document["site"]["most_pits_open_together"] = "1"

    found = plan(one)
    assert [len(labels) for labels in found.order.rounds] == [1] * 5
    assert found.order.crew_days == "10 days of work"
    assert found.latest.day == dt.date(2026, 12, 7)
    # The crew is booked from Monday 7 to Friday 11 December.
    assert any("10 days" in clash and "5 working days" in clash for clash in found.clashes)


def test_nobody_digs_before_the_site_is_walked_or_the_release_signed():
    def late(document):
        document["site"]["ticket_start"] = "2026-11-02"
        document["releases"][0]["release_date"] = "2026-12-03"

    earliest = plan(late).earliest
    assert earliest.day == dt.date(2026, 12, 3)
    assert "release is signed" in earliest.why[0]


def test_a_wider_clear_spacing_takes_more_rounds():
    def wider(document):
        document["site"]["clear_spacing_of_open_pits"] = "30 ft"

    rounds = plan(wider).order.rounds
    together = opened_together(rounds)
    # None of the three on the south wall is 30 ft from another; nor are the two on the east wall.
    assert not {frozenset(pair) for pair in (("P1", "P3"), ("P4", "P5"))} & together
    assert len(rounds) > 2


def test_a_pit_that_no_round_allows_is_told():
    def long_pit(document):
        document["piers"][0]["pit_length"] = "130 in"  # 27 % of the 40 ft wall

    order = plan(long_pit).order
    assert any("P1" in line and "engineer" in line for line in order.lines)
    assert all("P1" not in labels for labels in order.rounds)
    assert order.crew_days == ""


@pytest.mark.parametrize(
    ("key", "word"),
    [
        ("clear_spacing_of_open_pits", "clear spacing of open pits"),
        ("days_for_a_round_of_pits", "days for a round of pits"),
        ("most_pits_open_together", "most pits open together"),
    ],
)
def test_what_is_not_known_is_asked_for(key, word):
    order = plan(lambda document: document["site"].pop(key)).order
    assert order.rounds == ()
    assert word in order.reason


def test_a_pier_without_a_place_leaves_no_order():
    order = plan(lambda document: document["piers"][2].update(station="not known")).order
    assert order.rounds == ()
    assert "station of P3" in order.reason


def test_the_end_of_a_release_that_lifts_ends_the_work():
    def earlier(document):
        document["releases"][0]["release_end"] = "2026-12-14"

    latest = plan(earlier).latest
    assert latest.day == dt.date(2026, 12, 9)  # four working days end on Monday 14 December
    assert "release ends" in latest.why[0]


def test_notice_and_ticket_can_clash():
    def late_notice(document):
        document["neighbours"][0] |= {"other_owner": "yes", "notice_date": "2026-12-12"}

    found = plan(late_notice)
    assert found.earliest.day >= dt.date(2026, 12, 22)
    assert found.clashes
    assert "ticket ends" in found.clashes[0]


def test_a_ticket_that_is_not_known_leaves_an_end_open():
    def no_end(document):
        document["site"]["ticket_end"] = "not known"

    latest = plan(no_end).latest
    assert any("not known" in why for why in latest.why)


def test_a_site_that_no_day_fits_waits_and_every_sheet_says_why():
    site = careful_house()
    site["site"]["last_crew_date"] = "2026-12-09"  # three days, and the work takes five
    found = assess(survey_of(site), (), BOOK)
    assert len(found.plan.clashes) == 1
    assert found.verdict is Verdict.HOLD
    assert {pier.verdict for pier in found.piers} == {Verdict.HOLD}
    assert "no day fits: the work takes 5 days" in may_be_scheduled(found)
    site["site"]["last_crew_date"] = "2026-12-11"
    fits = assess(survey_of(site), (), BOOK)
    assert fits.plan.clashes == ()
    assert fits.verdict is Verdict.GO_WITH_CONDITIONS
