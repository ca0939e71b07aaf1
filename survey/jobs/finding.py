"""Which files below a folder are surveys."""

from __future__ import annotations

from pathlib import Path

from survey.errors import UserError
from survey.sheets.record_file import MARKER

_KINDS = (".xlsx", ".xlsm", ".ods", ".json")
# How the records begin that the program leaves beside its sheets.
_OUR_JSON = MARKER.encode()
# Workbooks of the program's own, by how their names end, and the mark that they hold.
OUR_WORKBOOKS = {
    " record.xlsx": "pier-survey record",
    "board.xlsx": "pier-survey board",
    "compare.xlsx": "pier-survey comparison",
    "figures.xlsx": "pier-survey figures",
}


def surveys_in(surveys: Path) -> list[Path]:
    """Every survey below a folder; what the program itself wrote there is none.

    Raises:
        UserError: there is no such folder, or no survey in it.
    """
    if not surveys.is_dir():
        raise UserError(f"{surveys}: no such folder. Give a folder with surveys.")
    found = [
        file
        for file in sorted(surveys.rglob("*"))
        if file.suffix.lower() in _KINDS
        and not file.name.startswith((".", "~$"))
        and not _is_ours(file)
    ]
    if not found:
        raise UserError(f"{surveys}: no survey here: no workbook and no JSON.")
    return found


def _is_ours(file: Path) -> bool:
    """Whether the program wrote a file; one that can't be read may be a survey, and is told."""
    try:
        return file.is_file() and (_is_our_json(file) or _is_our_workbook(file))
    except OSError:
        return False


def _is_our_json(file: Path) -> bool:
    if file.suffix.lower() != ".json":
        return False
    with file.open("rb") as opened:
        return opened.read(len(_OUR_JSON)) == _OUR_JSON


def _is_our_workbook(file: Path) -> bool:
    name = file.name.lower()
    marks = [mark for ending, mark in OUR_WORKBOOKS.items() if name.endswith(ending)]
    if not marks:
        return False
    from survey.sheets.table_workbook import holds

    return any(holds(file, mark) for mark in marks)
