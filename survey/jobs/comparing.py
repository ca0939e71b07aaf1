"""Every survey below a folder by two rule books, on every core."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from survey.answers import read_survey
from survey.assessment.compare import Comparison, SiteComparison, compare_site
from survey.errors import UserError, fault_line
from survey.jobs.finding import surveys_in
from survey.jobs.judging import Unread
from survey.jobs.pool import spread
from survey.rulebook.book import load_book
from survey.rulebook.rules import RuleBook
from survey.vocabulary import Vocabulary
from survey.workbook import open_survey

_OBJECTS_A_SITE = 50_000
_OTHER_RULES = "the rules were changed while surveys were compared. Compare again."
_ENDED = "the program ended while it was compared. Keep the survey file and report it."


@dataclass(frozen=True, slots=True)
class Compared:
    """A survey of a folder by two books.

    Args:
        file: below the folder, with ``/`` between its parts.
        result: what differs, or why nothing can be said.
    """

    file: str
    result: SiteComparison | Unread


@dataclass(frozen=True, slots=True)
class Books:
    """The two books, for processes that read them anew.

    Args:
        before, after: folders of the firm's own rules, each read over the shipped book; none for
            that alone.
        fingerprints: of both, as they were when the run began.
    """

    before: Path | None
    after: Path | None
    fingerprints: tuple[str, str]


def compare_all(surveys: Path, books: Books) -> tuple[int, Iterator[Compared]]:
    """Judge every survey below a folder by two books.

    Returns:
        How many surveys there are, and each as soon as it is compared.

    Raises:
        UserError: there is no such folder, or no survey in it.
    """
    files = [file.relative_to(surveys).as_posix() for file in surveys_in(surveys)]
    found = spread(_compare, files, _lost, _start, (surveys, books))
    return len(files), (compared for _, compared in found)


def in_order(compared: list[Compared]) -> tuple[Comparison, tuple[Compared, ...]]:
    """What was compared, and what could not be, each in the order of the files."""
    found = sorted(compared, key=lambda one: Path(one.file))
    sites = (one.result for one in found if isinstance(one.result, SiteComparison))
    return Comparison(tuple(sites)), tuple(one for one in found if isinstance(one.result, Unread))


@dataclass(frozen=True, slots=True)
class _Run:
    """What a process of its own works by."""

    surveys: Path
    before: RuleBook
    after: RuleBook
    vocabulary: Vocabulary  # with the own questions of both books


_own: dict[str, _Run | str] = {}


def _start(surveys: Path, books: Books) -> None:
    gc.set_threshold(_OBJECTS_A_SITE)
    try:
        before, after = load_book(books.before), load_book(books.after)
    except UserError as fault:  # the rules were changed since the run began
        _own["run"] = str(fault)
        return
    if (before.fingerprint, after.fingerprint) != books.fingerprints:
        _own["run"] = _OTHER_RULES
        return
    new = (word for word in after.vocabulary.words if word.name not in before.vocabulary)
    _own["run"] = _Run(surveys, before, after, before.vocabulary.extended(new))


def _compare(file: str) -> Compared:
    run = _own["run"]
    if isinstance(run, str):
        return Compared(file, Unread(f"{file}: {run}"))
    try:
        read = read_survey(open_survey(run.surveys / file, run.vocabulary), run.vocabulary)
        site = compare_site(*read, run.before, run.after)
    except UserError as fault:
        return Compared(file, Unread(str(fault)))
    except Exception as fault:  # a bad file never stops the rest
        return Compared(file, Unread(f"{file}: {fault_line(fault)}", fault=True))
    return Compared(file, replace(site, name=file))


def _lost(file: str) -> Compared:
    return Compared(file, Unread(f"{file}: {_ENDED}", fault=True))
