"""The board as a workbook: the jobs, and what everybody owes."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from survey.jobs.board import Board, jobs_frame, owed_frame
from survey.jobs.board_page import CAUTIONS
from survey.sheets._legible import day
from survey.sheets.table_workbook import Made, Table, Value, write_tables

if TYPE_CHECKING:
    import pandas as pd

MADE = Made("pier-survey board", "Pier survey: which job can start", "workbook of the board")
_JOBS = {
    "Job": 26, "Verdict": 20, "Can start": 8, "Piers that may go": 9, "Piers": 7,
    "Which piers may go": 18, "Crew booked": 26, "Dates allow from": 17, "Dates allow to": 20,
    "Locate ticket": 16, "Days left on ticket": 10, "Who must act next": 18,
    "What holds it up": 70, "Address": 30, "Town": 16, "Surveyor": 16, "Notes": 30, "Survey": 30,
    "Sheet": 34,
}  # fmt: skip
_OWED = {
    "Who": 18, "Name": 18, "Job": 26, "Rule": 10, "About": 36, "What": 70, "Where": 40,
    "Decides the verdict": 12, "Verdict of the job": 20, "Survey": 30,
}  # fmt: skip


def write_board_workbook(board: Board, file: Path) -> None:
    """Write the board as a workbook; an earlier one is replaced, any other file left alone.

    Raises:
        UserError: something else stands there, or it can't be written.
    """
    about: list[tuple[str, Value]] = [
        ("Jobs of", board.folder), ("Days are counted from", day(board.today)),
        ("Judged for a crew that comes first on", day(board.on) if board.on else "as booked"),
        ("Rules", board.book), *board.counts.items(),
        *(("Caution", caution) for caution in CAUTIONS),
    ]  # fmt: skip
    tables = (
        _table("Jobs", _JOBS, jobs_frame(board.rows)),
        _table("Who owes what", _OWED, owed_frame(board.rows)),
        Table("About", {"What": 30, "Says": 90}, about),
    )
    write_tables(tables, file, MADE)


def _table(name: str, columns: Mapping[str, float], frame: pd.DataFrame) -> Table:
    return Table(name, columns, frame[list(columns)].to_numpy().tolist())
