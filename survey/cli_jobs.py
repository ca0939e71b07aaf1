"""The commands for many jobs and many days."""

from __future__ import annotations

import datetime as dt
import sys
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, TypeVar

import typer

from survey.cli_parts import (
    GO,
    NOT_YET,
    PROGRAM_FAULT,
    STOPPED,
    UNREADABLE,
    Rules,
    complain,
    load_book,
    read,
    read_days,
    today,
)
from survey.errors import UserError

if TYPE_CHECKING:
    from survey.jobs.judging import Checked

Item = TypeVar("Item")


def board(
    folder: Annotated[Path, typer.Argument(help="Folder with surveys, and folders in it.")],
    out: Annotated[
        Path, typer.Option("--out", help="Where the board and the sheets of its jobs go.")
    ] = Path("board"),
    on: Annotated[
        str | None,
        typer.Option(
            "--on", metavar="DATE", help="Judge every job as if its crew came first on this day."
        ),
    ] = None,
    rules: Rules = None,
) -> None:
    """Check every survey below a folder: which job can start, when, and who holds each one up.

    Only what is new or changed is checked again. Stop it when you like; the next run goes on.

    Exit status: 0 if every survey was judged, 2 if one could not be read, 3 for a fault of the
    program; the worst of all.
    """
    from survey.files import refuse_other
    from survey.jobs.board import board as made
    from survey.jobs.board_page import MARKER, write_board
    from survey.jobs.board_workbook import MADE, write_board_workbook
    from survey.jobs.judging import Task
    from survey.jobs.running import check_all
    from survey.sheets.table_workbook import refuse_other_workbook

    (crew_day,) = read_days({"--on": on})
    page, workbook = out / "board.html", out / "board.xlsx"
    refuse_other(page, MARKER, "board")
    refuse_other_workbook(workbook, MADE)
    book = load_book(rules)
    task = Task(folder, out, crew_day, today())
    number, checked = check_all(task, book, rules)
    done = sorted(shown(checked, number), key=lambda one: one.file)
    whole = made(done, folder.resolve().name, task.today, task.on, book.fingerprint)
    write_board(whole, page)
    write_board_workbook(whole, workbook)
    for name, jobs in whole.counts.items():
        print(f"{jobs:6} {name}")
    print(f"{sum(row.can_start for row in whole.rows):6} can start")
    print(f"Board: {page}\nThe same as a workbook: {workbook}")
    raise typer.Exit(max(map(_status, done)))


def history(
    job: Annotated[Path, typer.Argument(help="A page of the job, its record, or its survey.")],
    out: Annotated[
        Path | None,
        typer.Option("--out", help="Folder of its sheets, if not beside it or in 'sheets'."),
    ] = None,
    rules: Rules = None,
) -> None:
    """Show every record that was issued for a job: verdicts, releases, and what changed.

    Exit status: 0, or 2 if there is none that can be read.
    """
    from survey.sheets._history_told import find_history, read_history, say

    found = read_history(find_history(job, out), load_book(rules).vocabulary)
    print(say(found, today()))


def figures(
    folder: Annotated[Path, typer.Argument(help="Folder with surveys, and folders in it.")],
    first: Annotated[
        str | None,
        typer.Option("--from", metavar="DATE", help="First survey date that counts."),
    ] = None,
    last: Annotated[
        str | None,
        typer.Option("--to", metavar="DATE", help="Last survey date that counts."),
    ] = None,
    out: Annotated[
        Path, typer.Option("--out", help="The folder of the board: what it checked is not again.")
    ] = Path("board"),
    rules: Rules = None,
) -> None:
    """Count what many surveys had in common: rules that fire, answers not known, by whom and where.

    With '--from' or '--to', a survey without a survey date is left out, and told.

    Exit status: 0 if every survey was judged, 2 if one could not be read, 3 for a fault of the
    program; the worst of all.
    """
    from survey.jobs.figures import Span, choose
    from survey.jobs.figures import figures as counted
    from survey.jobs.figures_page import About, left_out, write_figures_page
    from survey.jobs.figures_workbook import write_figures_workbook
    from survey.jobs.judging import Task
    from survey.jobs.running import check_all

    span = Span(*read_days({"--from": first, "--to": last}))
    if span.first and span.last and span.last < span.first:
        raise UserError(
            f"--from {span.first}, --to {span.last}: give a last day that is not before the first."
        )
    book = load_book(rules)
    number, checked = check_all(Task(folder, out, None, today()), book, rules)
    done = sorted(shown(checked, number), key=lambda one: one.file)
    found = counted(choose(done, span))
    about = About(
        folder.resolve().name, span, today(), book.fingerprint,
        {word.name: word.prompt for word in book.vocabulary.words},
    )  # fmt: skip
    page, workbook = out / "figures.html", out / "figures.xlsx"
    write_figures_page(found, about, page)
    write_figures_workbook(found, about, workbook)
    print(f"{len(found.chosen.sites):6} counted, {about.days}")
    for why, files in left_out(found).items():
        print(f"{len(files):6} left out: {why}")
    print(f"Figures: {page}\nThe same as a workbook: {workbook}")
    raise typer.Exit(max(map(_status, done)))


def shown(items: Iterable[Item], number: int) -> Iterator[Item]:
    """The same items, with a bar that tells how far it is where a terminal shows messages.

    A stop by hand is told in a line, with how far it came.
    """
    done = 0
    try:
        for item in _with_bar(items, number):
            yield item
            done += 1
    except KeyboardInterrupt:
        complain(f"Stopped at {done} of {number}. What is written is whole; run it again to go on.")
        raise typer.Exit(STOPPED) from None


def _with_bar(items: Iterable[Item], number: int) -> Iterator[Item]:
    if not sys.stderr.isatty():  # rich would leave an empty line even where it shows no bar
        yield from items
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TimeRemainingColumn

    columns = (BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=Console(stderr=True)) as bar:
        task = bar.add_task("", total=number)
        for item in items:
            yield item
            bar.advance(task)


def _status(checked: Checked) -> int:
    """The exit status that one survey asks for; told, if it has no verdict."""
    from survey.jobs.judging import Unread

    result = checked.result
    if not isinstance(result, Unread):
        return PROGRAM_FAULT if result.disagreement else GO
    complain(result.message)
    return PROGRAM_FAULT if result.fault else UNREADABLE


_FOUR_WEEKS = 28
_LONGEST_SPAN = 366


def days(
    survey: Annotated[Path, typer.Argument(help="A survey: a filled workbook, or JSON.")],
    first: Annotated[
        str | None, typer.Option("--from", metavar="DATE", help="First day to judge; else today.")
    ] = None,
    last: Annotated[
        str | None,
        typer.Option("--to", metavar="DATE", help="Last day to judge; else 28 days later."),
    ] = None,
    rules: Rules = None,
) -> None:
    """Tell for each day in a span whether the crew may come on it, and why that changes.

    Exit status: 0 if there is a day on which it may, 1 if there is none, 2 if the survey can't be
    read, 3 for a fault of the program. Days that wait for their weather do not count.
    """
    from survey.assessment.days import span
    from survey.sheets.days import say_days

    given, until = read_days({"--from": first, "--to": last})
    start = given or today()
    end = until or start + dt.timedelta(_FOUR_WEEKS)
    if not 0 <= (end - start).days < _LONGEST_SPAN:
        raise UserError(
            f"The days are to run from {start} to {end}. "
            f"Give a --to that is not before --from, and at most {_LONGEST_SPAN} days."
        )
    book = load_book(rules)
    told = read(survey, book)
    found = span(told.survey, told.problems, book, start, end)
    print(say_days(told.survey, found))
    if any(run.disagreement for run in found.runs):
        complain(f"{survey}: internal disagreement, a fault of the program.")
        raise typer.Exit(PROGRAM_FAULT)
    raise typer.Exit(GO if found.may_start else NOT_YET)


_MOST_WAYS = 50


def ways(
    survey: Annotated[Path, typer.Argument(help="A filled workbook or JSON survey.")],
    most: Annotated[
        int, typer.Option("--most", min=1, max=_MOST_WAYS, help="How many ways to look for.")
    ] = 5,
    rules: Rules = None,
) -> None:
    """Tell what would have to be answered, changed or released so that a site may go.

    The smallest sets of things to do, each proved by checking the site again, cheapest first by the
    costs in the rules. What was seen on site or states a fact is never changed.

    Exit status: 0 if the site goes or a way leads there, 1 if none was found, 2 if it can't be
    read, 3 for a fault of the program.
    """
    from survey.assessment.ways import lines, ways_to_go

    book = load_book(rules)
    told = read(survey, book)
    found = ways_to_go(told.survey, told.problems, book, today(), most)
    for line in lines(found):
        print(line)
    if found.disagreement:
        complain(f"{survey}: internal disagreement, a fault of the program.")
        raise typer.Exit(PROGRAM_FAULT)
    raise typer.Exit(GO if found.may_go else NOT_YET)


_COMMANDS: tuple[Callable[..., None], ...] = (
    board,
    history,
    figures,
    days,
    ways,
)


def add_to(app: typer.Typer) -> None:
    """Put these commands beside the others."""
    for command in _COMMANDS:
        app.command()(command)
