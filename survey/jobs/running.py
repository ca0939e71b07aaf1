"""Check every survey below a folder: only what is new or changed, on every core."""

from __future__ import annotations

import gc
import os
from collections.abc import Iterable, Iterator
from pathlib import Path

from survey.errors import UserError
from survey.files import sweep
from survey.jobs.finding import surveys_in
from survey.jobs.judging import KEPT, Checked, Task, Unread, check_one, kept_before
from survey.jobs.pool import spread
from survey.rulebook.book import load_book
from survey.rulebook.rules import RuleBook

_OBJECTS_OF_SITES = 500_000  # of some ten sites: little of it is garbage, and a look costs
_OTHER_RULES = "the rules were changed since the run began. Run it again."
_ODD_NAME = "a name that can't be written down. Give it one of ordinary letters."
_ENDED = "the program ended while it was checked. Keep the survey file and report it."


def check_all(task: Task, book: RuleBook, rules: Path | None) -> tuple[int, Iterator[Checked]]:
    """Check every survey below a folder, and write its pages.

    Args:
        task: which folder, where to, for which day.
        book: the rule book.
        rules: the firm's own folder that it was read with, for the other processes.

    Returns:
        How many surveys there are, and each as soon as it is checked: what an earlier run has
        checked comes first.

    Raises:
        UserError: there is no such folder, or no survey in it.
    """
    files = [file.relative_to(task.folder).as_posix() for file in surveys_in(task.folder)]
    sheets = (task.sheets / Path(file).parent for file in files)
    for place in {task.out, task.out / KEPT, *sheets}:
        sweep(place)
    return len(files), _checked(task, files, book, rules)


def _checked(
    task: Task, files: Iterable[str], book: RuleBook, rules: Path | None
) -> Iterator[Checked]:
    left: list[str] = []
    for file, others in _same_sheet(files).items():
        if (named := _legible_name(file)) != file:
            yield Checked(named, "", Unread(f"{named}: {_ODD_NAME}"))
        elif others:
            yield Checked(file, "", Unread(_one_name(file, others)))
        elif (kept := kept_before(task, file, book)) is not None:
            yield kept
        else:
            left.append(file)
    for _, checked in spread(_check, left, _lost, _start, (task, rules, book.fingerprint)):
        yield checked


def _legible_name(file: str) -> str:
    """A name of a file as it can be written down; on some systems it may be any bytes."""
    return os.fsencode(file).decode("utf-8", "backslashreplace")


def _same_sheet(files: Iterable[str]) -> dict[str, list[str]]:
    """For each survey, those whose sheet would stand at the same place."""
    places: dict[str, list[str]] = {}
    for file in files:
        places.setdefault(Path(file).with_suffix("").as_posix().casefold(), []).append(file)
    return {
        file: [other for other in alike if other != file]
        for alike in places.values()
        for file in alike
    }


def _one_name(file: str, others: Iterable[str]) -> str:
    return (
        f"{file}: {', '.join(others)} has the same name, and so would their sheets. Rename one, or "
        "move it away: which of them is the survey?"
    )


def _lost(file: str) -> Checked:
    return Checked(file, "", Unread(f"{file}: {_ENDED}", fault=True))


# What a process of its own works by; a text where it can't work.
_own: dict[str, tuple[Task, RuleBook | str]] = {}


def _start(task: Task, rules: Path | None, fingerprint: str) -> None:
    try:
        book = load_book(rules)
        _own["run"] = (task, book if book.fingerprint == fingerprint else _OTHER_RULES)
    except UserError as fault:  # the rules were changed since the run began
        _own["run"] = (task, str(fault))
    gc.freeze()  # the book stays
    gc.set_threshold(_OBJECTS_OF_SITES)


def _check(file: str) -> Checked:
    task, book = _own["run"]
    if isinstance(book, str):
        return Checked(file, "", Unread(f"{file}: {book}"))
    return check_one(task, file, book)
