"""One survey of many: read, judged, its pages written, and what is kept of it.

What is kept holds only for what it was made from: the bytes of the survey and of the photos beside
it, the rules, the program, the day it was judged for, and pages that still stand as they were left.
"""

from __future__ import annotations

import contextlib
import dataclasses
import datetime as dt
import functools
import hashlib
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path
from typing import Any

from survey import cache, resources
from survey.assessment import assess
from survey.assessment.days import on_day
from survey.errors import UserError, fault_line
from survey.files import Stands, open_elsewhere, replace, stands
from survey.jobs.job import Job, job_of
from survey.photos import load_photos
from survey.photos.beside import beside_fingerprint
from survey.photos.names import named_files
from survey.rewriting import read_whole
from survey.rulebook import production
from survey.rulebook.rules import RuleBook
from survey.sheets import write_sheet
from survey.workbook import open_survey

# What stands at the place of a board beside its page.
_SHEETS, KEPT = "sheets", "checked"
_TRIES = 3
# Those that a verdict or a page may come out differently by.
_LIBRARIES = (
    "durable-rules", "holidays", "jinja2", "lark", "numpy", "pillow", "python-calamine", "shapely",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Unread:
    """A survey without a verdict: it could not be read, or its pages could not be written.

    Args:
        message: what is wrong, where and what to do.
        fault: whether the program is at fault, and not the file.
    """

    message: str
    fault: bool = False


@dataclass(frozen=True, slots=True)
class Checked:
    """A survey of a folder, and what came of it.

    Args:
        file: below the folder, with ``/`` between its parts.
        sheet: its sheet below the place of the board, with ``/`` too; empty if there is none.
        result: the judgement in short, or why there is none.
    """

    file: str
    sheet: str
    result: Job | Unread


@dataclass(frozen=True, slots=True)
class Kept:
    """What is kept of a survey that was checked.

    Args:
        made_from: fingerprint of all that the result was made from, but for the photos.
        photos: names of files beside the survey that its list of photos gives.
        beside: fingerprint of what stands there.
        pages: how each page stood when it was written, by its name.
        checked: the result.
    """

    made_from: str
    photos: tuple[str, ...]
    beside: str
    pages: Mapping[str, Stands]
    checked: Checked


@dataclass(frozen=True, slots=True)
class Task:
    """What all surveys of one run have in common.

    Args:
        folder: with the surveys.
        out: the place of the board.
        on: the first day of the crew to judge for; none for that of each form.
        today: the day on which records are issued.
    """

    folder: Path
    out: Path
    on: dt.date | None
    today: dt.date

    @property
    def sheets(self) -> Path:
        """Where the pages go: for each day that is judged for to a place of its own."""
        return self.out / (_SHEETS if self.on is None else f"{_SHEETS} for {self.on}")


def kept_before(task: Task, file: str, book: RuleBook) -> Checked | None:
    """What an earlier run made of a survey, if it would come out the same today; else none."""
    kept = _read_kept(_place(task, file))
    if kept is None or kept.checked.file != file:
        return None
    survey = task.folder / file
    try:
        content = survey.read_bytes()
    except OSError:
        return None
    if open_elsewhere(survey):
        return None
    same = (
        kept.made_from == _made_from(content, task, file, book)
        and kept.beside == beside_fingerprint(survey.parent, kept.photos)
        and all(stands(task.out / name) == was for name, was in kept.pages.items())
    )
    return kept.checked if same else None


def check_one(task: Task, file: str, book: RuleBook) -> Checked:
    """Check one survey and write its pages; whatever is wrong with it is told as its result."""
    try:
        return _check(task, file, book)
    except UserError as fault:
        return Checked(file, "", Unread(str(fault)))
    except Exception as fault:  # a bad file never stops the rest
        return Checked(file, "", Unread(fault_line(fault), fault=True))


def _check(task: Task, file: str, book: RuleBook) -> Checked:
    survey_file = task.folder / file
    for _ in range(_TRIES):
        before = _content(survey_file)
        read = read_whole(open_survey(survey_file, book.vocabulary), book.vocabulary)
        if _content(survey_file) == before:
            break
    else:
        raise UserError(f"{survey_file}: it changes while it is read. Close it, and run again.")
    survey, problems = read.survey, read.problems
    if task.on is not None:
        survey, problems = on_day(survey, problems, task.on)
    assessment = assess(survey, problems, book)
    names = named_files(read.survey)
    beside = beside_fingerprint(survey_file.parent, names)
    photos = load_photos(read.survey, survey_file.parent)
    below = task.sheets / Path(file).parent
    written = write_sheet(assessment, below, photos, today=task.today)
    job, opened = job_of(assessment), open_elsewhere(survey_file)
    # That all are judged for another day, the board says once.
    notes = [note for note in job.notes if note in read.survey.notes or note not in survey.notes]
    passing = tuple(filter(None, (opened, written.kept.note)))  # told now, and not kept
    checked = Checked(
        file, written.sheet.relative_to(task.out).as_posix(),
        dataclasses.replace(job, notes=(*notes, *passing)),
    )  # fmt: skip
    if opened or written.kept.file is None:
        return checked  # the survey is still to be saved, or its record: look again next time
    pages = {**written.standing, written.kept.file: stands(written.kept.file)}
    _write_kept(
        _place(task, file),
        Kept(
            _made_from(before, task, file, book), names, beside,
            {page.relative_to(task.out).as_posix(): stood for page, stood in pages.items()},
            dataclasses.replace(checked, result=dataclasses.replace(job, notes=tuple(notes))),
        ),
    )  # fmt: skip
    return checked


def _content(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError as fault:
        raise UserError(
            f"{file}: can't be read ({fault.strerror or fault}). If it is open in another "
            "program, close it there, and run again."
        ) from None


def _made_from(content: bytes, task: Task, file: str, book: RuleBook) -> str:
    digest = hashlib.sha256(content)
    for part in (_program(), book.fingerprint, str(task.on), file):
        digest.update(f"\0{part}".encode("utf-8", "surrogatepass"))
    return digest.hexdigest()


@functools.cache
def _program() -> str:
    """Of all that judges and prints: the program, the looks of its pages, Python, libraries."""
    libraries = [f"{name} {_version(name)}" for name in _LIBRARIES]
    made_of = (cache.program_fingerprint(), sys.version, production.available(), *libraries)
    digest = hashlib.sha256(repr(made_of).encode())
    for form in sorted(resources.folder("forms").iterdir()):
        if form.is_file():
            digest.update(form.read_bytes())
    return digest.hexdigest()


def _version(library: str) -> str:
    try:
        return metadata.version(library)
    except metadata.PackageNotFoundError:
        return "not there"


def _place(task: Task, file: str) -> Path:
    """Where what is kept of a survey for a day stands: a file for each, so that no run waits."""
    named = f"{task.on}\0{file}".encode("utf-8", "surrogatepass")
    name = hashlib.sha256(named).hexdigest()[:20]
    return task.out / KEPT / f"{name}.kept"


@functools.cache
def _adapter() -> Any:
    from pydantic import TypeAdapter

    return TypeAdapter(Kept)


def _read_kept(file: Path) -> Kept | None:
    """What was kept; none if nothing was, or nothing to rely on: the survey is checked again."""
    try:
        digest, _, content = file.read_bytes().partition(b"\n")
        if hashlib.sha256(content).hexdigest() != digest.decode():
            return None
        kept: Kept = _adapter().validate_json(content)
    except (OSError, ValueError):
        return None
    return kept


def _write_kept(file: Path, kept: Kept) -> None:
    """Keep it; where that can't be done, the survey is checked again the next time."""
    content = _adapter().dump_json(kept).decode()
    with contextlib.suppress(OSError):
        file.parent.mkdir(parents=True, exist_ok=True)
        replace(file, f"{hashlib.sha256(content.encode()).hexdigest()}\n{content}")
