"""The record as a workbook: a sheet for each of its lists."""

from __future__ import annotations

from pathlib import Path

from survey.sheets._record_tables import tables
from survey.sheets.record import Record
from survey.sheets.table_workbook import Made, is_made, write_tables

_MADE = Made("pier-survey record", "Pier survey: record of a check", "workbook of the record")


def write_record_workbook(record: Record, file: Path) -> None:
    """Write a record as an ``.xlsx``; the same record gives the same bytes.

    Args:
        record: as :func:`survey.sheets.record.record` gives it.
        file: the place to write to. An earlier workbook of a record is replaced.

    Raises:
        UserError: something else stands there, such as a survey, or it can't be written.
    """
    write_tables(tables(record), file, _MADE)


def is_record_workbook(file: Path) -> bool:
    """Whether a file is what :func:`write_record_workbook` wrote, and no survey.

    Raises:
        OSError: it can't be read.
    """
    return is_made(file, _MADE)
