"""Work on every core: nothing is lost, and what ends its process stops no other."""

import os

import pytest

from survey.jobs.pool import spread

_own = {}


def start(factor):
    _own["factor"] = factor


def work(number):
    if number % 10 == 7:
        os._exit(9)  # as if the system had ended it
    return number * _own["factor"]


def lost(number):
    return f"lost {number}"


def done(numbers, factor=2):
    return dict(spread(work, numbers, lost, start, (factor,)))


def test_every_item_comes_back_once():
    items = [number for number in range(60) if number % 10 != 7]
    results = list(spread(work, iter(items), lost, start, (3,)))
    assert sorted(results) == [(number, 3 * number) for number in items]


def test_nothing_to_do_starts_nothing():
    assert done([]) == {}


@pytest.mark.parametrize("bad", [[7], [7, 17], [1, 2, 7, 3, 4, 5, 6, 8, 9, 10, 17, 11, 12]])
def test_an_item_that_ends_its_process_is_told_and_the_others_are_done(bad):
    assert done(bad) == {number: lost(number) if number % 10 == 7 else 2 * number for number in bad}


def test_only_a_few_items_are_taken_ahead():
    taken = []

    def items():
        for number in range(100, 107):
            taken.append(number)
            yield number
        for number in range(110, 1000, 10):
            taken.append(number)
            yield number

    results = spread(work, items(), lost, start, (1,))
    next(results)
    assert len(taken) < 60
    results.close()
