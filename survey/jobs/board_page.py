"""The board as a page: its one script hides rows, and without it every row stands there."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from urllib.parse import quote

from survey.files import refuse_other, replace, told
from survey.jobs.board import NO_DAY, Board, Person, Row, named
from survey.jobs.owed import Owed
from survey.resources import folder
from survey.sheets._legible import count, day
from survey.sheets._templates import template

MARKER = "<!DOCTYPE html>\n<!-- pier-survey board 1 -->\n"
CAUTIONS = (
    "A line here is not the sheet. Before the crew is sent, read the sheet of its job: it has what "
    "must be met on site.",
    "It does not replace the competent person's inspection on each day of work, a locate request, "
    "the local code or a licensed engineer. Where a local rule is stricter, the local rule holds.",
)
_WHAT = "board"
_MOST_PLACES = 8


@dataclass(frozen=True, slots=True)
class Script:
    """The script of a page, and the fingerprint by which the page allows it and no other."""

    text: str
    hash: str


def script(name: str) -> Script:
    """A script that ships with the forms."""
    text = (folder("forms") / name).read_text("utf-8").strip()
    digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
    return Script(text, f"sha256-{digest}")


def write_board(board: Board, file: Path) -> None:
    """Write the board as a page; an earlier one is replaced, any other file left alone.

    Raises:
        UserError: something else stands there, or it can't be written.
    """
    refuse_other(file, MARKER, _WHAT)
    with told(file, _WHAT):
        replace(file, render_board(board))


def render_board(board: Board) -> str:
    """The board as one HTML page."""
    starting = sum(row.can_start for row in board.rows)
    text: str = MARKER + template("board.html").render(
        board=board, today=day(board.today), on=day(board.on) if board.on else "",
        starting=f"{count(starting, 'job')} can start.", cautions=CAUTIONS,
        roles=sorted({who for row in board.rows for who in row.next}),
        towns=sorted({row.town for row in board.rows if row.town}),
        waits=lambda row: "|".join(row.next), address=quote, few=_few, by_job=_by_job,
        counted=count, named=named, begin=_begin, script=script("board.js"),
    )  # fmt: skip
    return text


def _begin(row: Row) -> str:
    """Between which days the crew may begin."""
    if row.earliest == row.latest:
        return row.earliest
    return f"{row.earliest}{': ' if row.earliest == NO_DAY else ' to '}{row.latest}"


def _by_job(person: Person) -> Iterator[tuple[Row, list[Owed]]]:
    """What a person owes, a row for each job."""
    for _, debts in groupby(person.debts, key=lambda debt: debt.row.file):
        listed = list(debts)
        yield listed[0].row, [debt.owed for debt in listed]


def _few(places: Sequence[str]) -> str:
    more = len(places) - _MOST_PLACES
    return ", ".join(places[:_MOST_PLACES]) + (f" and {more} more" if more > 0 else "")
