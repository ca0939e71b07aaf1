"""What the commands share: options, exit statuses, the rule book, messages."""

from __future__ import annotations

import datetime as dt
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from survey.errors import UserError

if TYPE_CHECKING:
    from survey.assessment import Assessment
    from survey.rewriting import ReadSurvey

GO, NOT_YET, UNREADABLE, PROGRAM_FAULT = 0, 1, 2, 3
STOPPED = 130  # by hand, as shells say it

Rules = Annotated[
    Path | None,
    typer.Option(
        "--rules",
        envvar="PIER_SURVEY_RULES",
        help="Folder with your firm's own rules, read over the shipped book.",
    ),
]


def load_book(rules: Path | None) -> Any:
    """The shipped book, with a firm's own files read over it."""
    from survey.rulebook.book import load_book

    return load_book(rules)


def named(rules: Path | None) -> str:
    """The book in words."""
    return "the shipped book" if rules is None else f"the shipped book, with {rules} read over it"


def read(file: Path, book: Any) -> ReadSurvey:
    """Read a survey with the questions of a book."""
    from survey.rewriting import read_whole
    from survey.workbook import open_survey

    return read_whole(open_survey(file, book.vocabulary), book.vocabulary)


def assessed(told: ReadSurvey, book: Any) -> Assessment:
    """Judge what was read."""
    from survey.assessment import assess

    return assess(told.survey, told.problems, book)


def today() -> dt.date:
    """The day on the office wall. No other place asks the computer's clock for it."""
    return dt.datetime.now().astimezone().date()


def read_days(given: Mapping[str, str | None]) -> list[dt.date | None]:
    """The days that options give, in their order; none where one was left out.

    Args:
        given: what was typed, by the name of the option.

    Raises:
        UserError: one is no day; tells all of them.
    """
    from survey.vocabulary.days import DayError, read_day

    found: list[dt.date | None] = []
    faults: list[str] = []
    for option, text in given.items():
        try:
            found.append(None if text is None else read_day(text))
        except DayError as fault:
            faults.append(f"{option}: read '{text}', expected {fault}")
    if faults:
        raise UserError("\n".join(faults))
    return found


def complain(text: str) -> None:
    """Tell what went wrong."""
    print(text, file=sys.stderr)


def find_rule(book: Any, code: str) -> Any:
    """The rule of a code.

    Raises:
        UserError: the book has none.
    """
    from survey.vocabulary import nearest

    rules = {rule.code: rule for rule in book}
    if code.upper() not in rules:
        near = nearest(code.upper(), rules)
        hint = f" Did you mean {near}?" if near else ""
        raise UserError(f"No rule of the book has the code '{code}'.{hint}")
    return rules[code.upper()]
