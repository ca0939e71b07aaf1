"""Write the pages and the record of a site: whole or not at all, and over nobody else's file."""

from __future__ import annotations

import datetime as dt
import hashlib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from survey.assessment import Assessment
from survey.files import Stands, refuse_other, replace_all, told
from survey.photos import NO_PHOTOS, Photos
from survey.sheets._shape import faults
from survey.sheets.crew import MARKER as CREW_MARKER
from survey.sheets.crew import Languages, render_crew
from survey.sheets.engineer import MARKER as ENGINEER_MARKER
from survey.sheets.engineer import render_engineer
from survey.sheets.history import Kept, history_folder, keep, keep_unkept
from survey.sheets.html import MARKER as SHEET_MARKER
from survey.sheets.html import render
from survey.sheets.record import Record, record
from survey.sheets.record_file import MARKER as RECORD_MARKER
from survey.sheets.record_file import RecordError, earlier_record, write_record
from survey.sheets.since import Since, glance, glance_of_record, not_compared, since_last

_WHAT = "sheet"
_LONGEST_NAME = 80
_RESERVED = {"con", "prn", "aux", "nul", *(f"{p}{n}" for p in ("com", "lpt") for n in range(1, 10))}


@dataclass(frozen=True, slots=True)
class Wished:
    """What is written besides the sheet, the engineer's pages and the record.

    Args:
        crew: the languages of the crew's page.
        workbook: the record as a workbook, too.
        pdf: each page as a PDF, too.
    """

    crew: Languages = Languages.BOTH
    workbook: bool = False
    pdf: bool = False


class Written(NamedTuple):
    """The files of a site; none for a workbook that nobody wished for.

    ``kept`` says what became of the record in the history of the job, ``standing`` how each page
    stood when it was written.
    """

    sheet: Path
    record: Path
    crew: Path
    engineer: Path
    workbook: Path | None
    pdfs: tuple[Path, ...]
    kept: Kept
    standing: Mapping[Path, Stands]


def write_sheet(
    assessment: Assessment,
    folder: Path,
    photos: Photos = NO_PHOTOS,
    wished: Wished | None = None,
    *,
    today: dt.date,
) -> Written:
    """Write the sheet of a site, its other pages and its record, named after its survey.

    Earlier ones of the same survey are replaced, and sheet and record say what changed since; any
    other file is left alone. The record is kept in the history of the job, too.

    Args:
        assessment: of the site.
        folder: where they go, made where it is missing.
        photos: of the site; they stand in the sheet itself.
        wished: what else to write; nothing if not given.
        today: the day of issue, for the history.

    Raises:
        UserError: the folder or a file can't be written, something else stands there, or a PDF is
            wished for and no browser can print it.
    """
    wished, name = wished or Wished(), assessment.survey.name
    sheet = sheet_path(name, folder)
    data, crew, engineer, workbook = (
        folder / f"{file_name(name)}{ending}"
        for ending in (".json", " crew.html", " engineer.html", " record.xlsx")
    )
    with told(folder, _WHAT):
        folder.mkdir(parents=True, exist_ok=True)
    for file, marker in (
        (data, RECORD_MARKER), (sheet, SHEET_MARKER), (crew, CREW_MARKER),
        (engineer, ENGINEER_MARKER),
    ):  # fmt: skip
        refuse_other(file, marker, _WHAT)
    since = _since(data, assessment)
    # The record last: the next check compares with it, and must find the pages of its own check.
    texts = {
        crew: render_crew(assessment, wished.crew),
        engineer: render_engineer(assessment),
        sheet: render(assessment, photos, since),
        data: write_record(assessment, photos, since),
    }
    history = history_folder(data)
    keep_unkept(data, history, texts[data])
    standing = replace_all(texts, _WHAT)
    kept = keep(texts[data], history, today)
    if wished.workbook:
        _write_workbook(record(assessment, photos, since), workbook)
    pdfs = _print((sheet, crew, engineer)) if wished.pdf else ()
    made = workbook if wished.workbook else None
    return Written(sheet, data, crew, engineer, made, pdfs, kept, standing)


def _write_workbook(made: Record, file: Path) -> None:
    from survey.sheets.record_workbook import write_record_workbook

    write_record_workbook(made, file)


def _print(pages: Iterable[Path]) -> tuple[Path, ...]:
    from survey.sheets.pdf import write_pdf

    pdfs = tuple((page, page.with_name(f"{page.stem}.pdf")) for page in pages)
    for page, pdf in pdfs:
        write_pdf(page, pdf)
    return tuple(pdf for _, pdf in pdfs)


def _since(data: Path, assessment: Assessment) -> Since | None:
    """What changed since the record that an earlier check left; none if there is none."""
    try:
        earlier = earlier_record(data)
        if earlier is None:
            return None
        if faults(earlier["since"], Since | None):
            raise TypeError
        return since_last(
            glance_of_record(earlier),
            earlier["since"],
            glance(assessment),
            assessment.survey.vocabulary,
        )
    except RecordError as fault:
        why = str(fault)
    except (ArithmeticError, LookupError, TypeError, ValueError, AttributeError):
        # A forged one may be anything.
        why = "not as a check writes it"
    return not_compared(f"The record of an earlier check was not compared. It is {why}.")


def sheet_path(name: str, folder: Path) -> Path:
    """Where the sheet of a survey of this name stands in a folder."""
    return folder / f"{file_name(name)}.html"


def every_path(name: str, folder: Path) -> tuple[Path, ...]:
    """Wherever a check of a survey of this name may write, the sheet first."""
    endings = (".html", " crew.html", " engineer.html", ".json", " record.xlsx")
    pages = (".pdf", " crew.pdf", " engineer.pdf")
    return tuple(folder / f"{file_name(name)}{ending}" for ending in (*endings, *pages))


def file_name(name: str) -> str:
    """A file name that every system takes, without its ending.

    A name that has to be changed gets a mark of the old one, so that two surveys don't share a
    sheet.

    >>> file_name("12 Elm Street"), file_name("../etc")
    ('12 Elm Street', 'etc-f7f912')
    """
    safe = re.sub(r"[^\w .,()+-]+", "-", name)[:_LONGEST_NAME].strip(" .-_")
    while len(safe.encode()) > _LONGEST_NAME:
        safe = safe[:-1].rstrip(" .-_")
    if safe and safe == name and safe.split(".")[0].lower() not in _RESERVED:
        return safe
    mark = hashlib.sha256(name.encode("utf-8", "surrogatepass")).hexdigest()[:6]
    return f"{safe}-{mark}" if safe and safe != name else f"survey-{mark}"
