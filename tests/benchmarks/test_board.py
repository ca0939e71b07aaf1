"""What a board costs: as surveys grow in number, and when nothing has changed.

Per survey the larger board must not cost more than the smaller one; one where nothing changed costs
a small part of either. Both begin and end processes of their own, which weighs on the smaller one.
"""

import datetime as dt
import itertools

import pytest

from survey.jobs.board import board
from survey.jobs.board_page import write_board
from survey.jobs.board_workbook import write_board_workbook
from survey.jobs.judging import Task
from survey.jobs.running import check_all
from survey.rulebook.book import load_book
from tests.made_surveys import write_surveys

BOOK = load_book()
FEW, MANY = 24, 240


@pytest.fixture(scope="module")
def surveys(tmp_path_factory):
    place = tmp_path_factory.mktemp("surveys")
    for count in (FEW, MANY):
        write_surveys(place / str(count), count)
    return place


def made(folder, out):
    task = Task(folder, out, None, dt.date(2026, 11, 30))
    number, checked = check_all(task, BOOK, None)
    whole = board(list(checked), folder.name, task.today, None, BOOK.fingerprint)
    write_board(whole, out / "board.html")
    write_board_workbook(whole, out / "board.xlsx")
    assert len(whole.rows) == number


@pytest.mark.parametrize("count", [FEW, MANY])
@pytest.mark.benchmark(group="board, cold")
def test_every_survey_is_new(benchmark, surveys, tmp_path, count):
    fresh = itertools.count()
    benchmark.pedantic(lambda: made(surveys / str(count), tmp_path / str(next(fresh))), rounds=2)


@pytest.mark.parametrize("count", [FEW, MANY])
@pytest.mark.benchmark(group="board, nothing changed")
def test_no_survey_has_changed(benchmark, surveys, tmp_path, count):
    made(surveys / str(count), tmp_path)
    benchmark.pedantic(lambda: made(surveys / str(count), tmp_path), rounds=3)
