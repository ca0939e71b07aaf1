"""Which files below a folder are surveys."""

from __future__ import annotations

from pathlib import Path

from survey.errors import UserError
from survey.sheets.record_file import MARKER

_KINDS = (".xlsx", ".xlsm", ".ods", ".json")


def _is_record(file: Path) -> bool:
    """Whether a file is what a check wrote, and no survey."""
    if file.name.lower().endswith(" record.xlsx") and file.is_file():
        from survey.sheets.record_workbook import is_record_workbook

        return is_record_workbook(file)
    if file.suffix.lower() != ".json" or not file.is_file():
        return False
    with file.open("rb") as opened:
        return opened.read(len(MARKER)) == MARKER.encode()


def surveys_in(surveys: Path) -> list[Path]:
    """Every survey below a folder, but for the records that were written beside sheets."""
    if not surveys.is_dir():
        raise UserError(f"{surveys}: no such folder. Give a folder with surveys.")
    found = [
        file
        for file in sorted(surveys.rglob("*"))
        if file.suffix.lower() in _KINDS
        and not file.name.startswith((".", "~$"))
        and not _is_record(file)
    ]
    if not found:
        raise UserError(f"{surveys}: no survey here: no workbook and no JSON.")
    return found
