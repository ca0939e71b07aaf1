"""What holds a site up, and what each of that rests on, on books of one rule."""

from __future__ import annotations

import datetime as dt

import pytest

from survey.assessment.ways.judging import Block, Judge
from survey.assessment.ways.touching import Cell, Release, Touched, Touching
from survey.assessment.ways.values import Values
from survey.rulebook.direct import Told
from survey.rulebook.reading import read_book
from tests.demo_surveys import careful_house, survey_of

RULE = """\
rule DIG-1 something is wrong
  for     {of}
  when    {when}
  then    {then}
  say     So it is.
  do      Change it.
  who     crew
  from    common practice
  release {release}
  case    gas odour yes gives {then}
"""


def blocks(
    when: str, *, then: str = "stop", of: str = "the site", release: str = "nobody",
    choices: dict[Touched, str] | None = None, **answers: object,
) -> list[Block]:  # fmt: skip
    document = careful_house()
    document["site"] |= answers
    document["releases"] = []
    survey = survey_of(document)
    rule = RULE.format(when=when, then=then, of=of, release=release)
    book = read_book({"dig.rules": rule})  # its case is not tried
    values = Values(survey, book, dt.date(2026, 11, 30))
    found = Judge(Touching(survey, (), book, values)).judged(choices or {}).blocks
    return [block for block in found if not isinstance(block.what, str)]


def rests_on(when: str, **more) -> set[str]:
    block, *_ = blocks(when, **more)
    return {one.word if isinstance(one, Cell) else one.code for one in block.rests_on}


PUBLIC, CARS = "public kept out is no", "vehicles kept back is no"
NO = {"public_kept_out": "no", "vehicles_kept_back": "no"}
OPEN = dict.fromkeys(NO)


def test_of_an_and_every_part_keeps_it():
    assert rests_on(f"{PUBLIC} and {CARS}", **NO) == {"public kept out", "vehicles kept back"}


def test_of_an_or_one_part_is_enough():
    assert len(rests_on(f"{PUBLIC} or {CARS}", **NO)) == 1


def test_a_negation_turns_and_into_or():
    assert len(rests_on(f"not ({PUBLIC} and {CARS})", public_kept_out="yes")) == 1
    both = rests_on(f"not ({PUBLIC} or {CARS})")
    assert both == {"public kept out", "vehicles kept back"}


def test_a_condition_that_can_not_be_told_may_be_told_either_way():
    found = rests_on(f"{PUBLIC} or {CARS}", then="condition", **OPEN)
    assert found == {"public kept out", "vehicles kept back"}
    met = blocks(
        f"{PUBLIC} or {CARS}", then="condition", choices={Cell("vehicles kept back", "site"): "no"},
        **OPEN,
    )  # fmt: skip
    assert not met  # a condition that is met holds nobody up


def test_what_was_seen_keeps_it_and_can_not_be_touched():
    assert rests_on("gas odour is yes", gas_odour="yes") == set()


def test_an_open_list_is_closed_by_its_question():
    found = rests_on("any utility where (utility kind is propane)", all_utilities_listed=None)
    assert found == {"all utilities listed"}


@pytest.mark.parametrize("release", ["competent person", "licensed engineer"])
def test_what_somebody_may_lift_may_be_lifted(release):
    assert rests_on("gas odour is yes", gas_odour="yes", release=release) == {"DIG-1"}
    lifted = blocks(
        "gas odour is yes", gas_odour="yes", release=release,
        choices={Release("DIG-1", "site"): "yes"},
    )  # fmt: skip
    assert not lifted


def test_a_release_does_not_lift_what_waits_for_an_answer():
    waiting = blocks(
        "gas odour is yes", gas_odour=None, release="competent person",
        choices={Release("DIG-1", "site"): "yes"},
    )  # fmt: skip
    assert waiting


def test_a_thing_that_may_not_exist_goes_once_its_list_is_closed():
    found = blocks(
        "gas odour is yes", of="each utility", gas_odour="yes", all_utilities_listed=None
    )  # fmt: skip
    (unlisted,) = (b for b in found if isinstance(b.what, Told) and not b.what.thing.listed)
    assert unlisted.rests_on == {Cell("all utilities listed", "site")}
    assert all(not block.rests_on for block in found if block is not unlisted)
