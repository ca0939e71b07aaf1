"""Write sheet and record to a folder: whole or not at all, and over nobody else's file."""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

from survey.assessment import Assessment
from survey.files import refuse_other, replace, told
from survey.photos import NO_PHOTOS, Photos
from survey.sheets.html import MARKER as SHEET_MARKER
from survey.sheets.html import render
from survey.sheets.record import MARKER as RECORD_MARKER
from survey.sheets.record import write_record

_WHAT = "sheet"
_LONGEST_NAME = 80
_RESERVED = {"con", "prn", "aux", "nul", *(f"{p}{n}" for p in ("com", "lpt") for n in range(1, 10))}


def write_sheet(
    assessment: Assessment, folder: Path, photos: Photos = NO_PHOTOS
) -> tuple[Path, Path]:
    """Write the sheet and the record of a site, named after its survey.

    Earlier sheets of the same survey are replaced; any other file is left alone.

    Args:
        assessment: of the site.
        folder: where they go, made where it is missing.
        photos: of the site; they stand in the sheet itself.

    Returns:
        The HTML file and the JSON file.

    Raises:
        UserError: the folder or a file can't be written, or something else stands there.
    """
    page = sheet_path(assessment.survey.name, folder)
    data = folder / f"{file_name(assessment.survey.name)}.json"
    texts = {
        data: (write_record(assessment, photos), RECORD_MARKER),
        page: (render(assessment, photos), SHEET_MARKER),
    }
    with told(folder, _WHAT):
        folder.mkdir(parents=True, exist_ok=True)
    for file, (_, marker) in texts.items():
        refuse_other(file, marker, _WHAT)
    for file, (text, _) in texts.items():
        with told(file, _WHAT):
            replace(file, text)
    return page, data


def sheet_path(name: str, folder: Path) -> Path:
    """Where the sheet of a survey of this name stands in a folder."""
    return folder / f"{file_name(name)}.html"


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
