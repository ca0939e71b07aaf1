"""Many surveys by two books: in the order of the files, and none stops the others."""

import json
from pathlib import Path

import pytest

from survey.assessment.compare import SiteComparison
from survey.jobs import comparing
from survey.jobs.comparing import Books, Compared, compare_all, in_order
from survey.jobs.judging import Unread
from survey.rulebook.book import load_book
from tests.demo_surveys import careful_house, with_changes
from tests.made_comparisons import UNREAD, every_sort

BOOK = load_book()
SAME = Books(None, None, (BOOK.fingerprint, BOOK.fingerprint))


@pytest.fixture
def here(tmp_path, monkeypatch):
    """A folder with two surveys, and this process made ready to compare them."""
    monkeypatch.setattr(comparing, "_own", {})
    changed = with_changes(careful_house(), job_name="Another")
    (tmp_path / "b").mkdir()
    (tmp_path / "b" / "house.json").write_text(json.dumps(careful_house()), "utf-8")
    (tmp_path / "house.json").write_text(json.dumps(changed), "utf-8")
    return tmp_path


def test_a_site_is_named_by_its_place(here):
    comparing._start(here, SAME)
    found = [comparing._compare(file) for file in ("b/house.json", "house.json")]
    assert [one.file for one in found] == [one.result.name for one in found]
    assert not any(one.result.changed for one in found)


def test_a_bad_file_is_told_and_a_fault_of_the_program_too(here, monkeypatch):
    comparing._start(here, SAME)
    (here / "torn.json").write_text("{", "utf-8")
    torn = comparing._compare("torn.json").result
    assert isinstance(torn, Unread)
    assert not torn.fault
    assert "torn.json" in torn.message

    def odd(*_):
        raise ZeroDivisionError

    monkeypatch.setattr(comparing, "compare_site", odd)
    fault = comparing._compare("house.json").result
    assert fault.fault
    assert fault.message.startswith("house.json: a fault of the program")


def test_rules_that_change_meanwhile_are_not_taken_for_those_that_are_named(here):
    comparing._start(here, Books(None, None, (BOOK.fingerprint, "another")))
    told = comparing._compare("house.json").result
    assert "the rules were changed while surveys were compared" in told.message
    comparing._start(here, Books(None, here / "gone", SAME.fingerprints))
    assert str(Path("gone")) in comparing._compare("house.json").result.message


def test_the_order_is_that_of_the_files_whichever_was_first():
    sites = [Compared(site.name, site) for site in every_sort().sites]
    whole, unread = in_order([*reversed(UNREAD), *reversed(sites)])
    assert whole == every_sort()
    assert unread == UNREAD


def test_every_core_gives_what_one_gives(here):
    comparing._start(here, SAME)
    number, results = compare_all(here, SAME)
    found = list(results)
    assert number == len(found) == 2
    assert all(isinstance(one.result, SiteComparison) for one in found)
    assert in_order(found)[0].sites == tuple(
        comparing._compare(file).result for file in ("b/house.json", "house.json")
    )
