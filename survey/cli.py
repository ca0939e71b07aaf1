"""The commands. Reading and writing happen here; everything between is pure."""

from __future__ import annotations

import gc
import os
import sys
from pathlib import Path
from typing import Annotated, Any

import typer

from survey import __version__
from survey.errors import UserError
from survey.resources import folder

_OBJECTS_A_SITE = 50_000
GO, NOT_YET, UNREADABLE, PROGRAM_FAULT = 0, 1, 2, 3

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    help="Check a pier site before the crew is scheduled.",
)

_Rules = Annotated[
    Path | None,
    typer.Option("--rules", help="Folder with your own rule book, instead of the shipped one."),
]


@app.command()
def check(
    files: Annotated[list[Path], typer.Argument(help="Filled workbooks or JSON surveys.")],
    out: Annotated[Path, typer.Option("--out", help="Folder for the sheets.")] = Path("sheets"),
    json_to: Annotated[
        str | None,
        typer.Option(
            "--json",
            metavar="-",
            help="'-' prints each record as one line of JSON, and writes no file.",
        ),
    ] = None,
    rules: _Rules = None,
) -> None:
    """Check surveys and write a go/no-go sheet and a record for each.

    Exit status: 0 for GO and GO WITH CONDITIONS, 1 for every other verdict, 2 for a survey that
    could not be read, 3 for a fault of the program; the worst of all files.
    """
    if json_to not in (None, "-"):
        raise typer.BadParameter("only '-' is possible: the record goes to standard output")
    book = _load_book(rules)
    to_stdout = json_to == "-"
    if not to_stdout:
        _refuse_same_names(files)
    raise typer.Exit(max(_check_one(file, book, out, to_stdout=to_stdout) for file in files))


@app.command()
def form(
    out: Annotated[Path, typer.Argument(help="Workbook to write, such as site.xlsx.")],
    source: Annotated[
        Path | None,
        typer.Option("--from", help="A survey (JSON or workbook) whose answers are filled in."),
    ] = None,
) -> None:
    """Write a form to fill on site: blank, or filled from a survey."""
    from survey.answers import read_survey
    from survey.workbook import open_survey, write_form

    survey = None
    if source is not None:
        survey, problems = read_survey(open_survey(source))
        for problem in problems:
            _complain(f"{problem} (not carried over)")
    write_form(out, survey)
    print(f"Form written: {out}")


@app.command()
def demo(
    out: Annotated[Path, typer.Argument(help="Folder for the sheets.")] = Path("demo_sheets"),
) -> None:
    """Check the demo sites of an invented firm and say where the sheets are."""
    book = _load_book(None)
    status = GO
    for file in sorted(folder("demo_sites").glob("*.xlsx")):
        status = max(status, _check_one(file, book, out, to_stdout=False))
    print(f"The sheets are in {out.resolve()}; open the .html files in a browser.")
    raise typer.Exit(status if status > NOT_YET else GO)


@app.command()
def schema() -> None:
    """Print the JSON Schema of a survey in JSON."""
    import json

    from survey.document import json_schema

    print(json.dumps(json_schema(), indent=1, ensure_ascii=False))


@app.command("rules")
def rules_command(rules: _Rules = None) -> None:
    """Read a rule book and try every case in it, with all mistakes at once."""
    book = _load_book(rules)
    cases = sum(len(rule.case_fields) for rule in book)
    print(f"{sum(1 for _ in book)} rules, {cases} cases, none of them wrong.")


@app.command()
def version() -> None:
    """Print the version of the program."""
    print(f"pier-survey {__version__}")


def _load_book(rules: Path | None) -> Any:
    from survey.rulebook.book import load_book

    return load_book(folder("rules") if rules is None else rules)


def _refuse_same_names(files: list[Path]) -> None:
    """Two surveys of one name would write one sheet, and the second would hide the first."""
    first: dict[str, Path] = {}
    for file in files:
        name = file.stem.casefold()
        if name in first:
            raise UserError(
                f"{first[name]} and {file} have the same name, and so would their sheets. "
                "Rename one, or check them apart with --out."
            )
        first[name] = file


def _check_one(file: Path, book: Any, out: Path, *, to_stdout: bool) -> int:
    """Check one survey and report it; a bad file never stops the others."""
    from survey.sheets import sheet_path

    try:
        return _check_and_report(file, book, out, to_stdout=to_stdout)
    except UserError as fault:
        _complain(str(fault))
        older = sheet_path(file.stem, out)
        if not to_stdout and older.exists():
            _complain(f"{older}: an older sheet of this name; it no longer holds.")
        return UNREADABLE
    except BrokenPipeError:
        raise
    except Exception as fault:
        _complain(f"{file}: {_fault(fault)}")
        return PROGRAM_FAULT


def _check_and_report(file: Path, book: Any, out: Path, *, to_stdout: bool) -> int:
    from survey.answers import read_survey
    from survey.assessment import assess
    from survey.sheets import record_line, summary, write_sheet
    from survey.workbook import open_survey

    survey, problems = read_survey(open_survey(file))
    assessment = assess(survey, problems, book)
    if to_stdout:
        print(record_line(assessment))
    else:
        page, _ = write_sheet(assessment, out)
        print(f"{summary(assessment)}\nSheet: {page}\n")
    if assessment.disagreement:
        _complain(f"{file}: internal disagreement, a fault of the program; see the sheet.")
        return PROGRAM_FAULT
    return GO if assessment.verdict.may_start else NOT_YET


def _fault(fault: Exception) -> str:
    """One line about a fault of the program, for whoever mends it."""
    place = fault.__traceback__
    while place is not None and place.tb_next is not None:
        place = place.tb_next
    line = f"{Path(place.tb_frame.f_code.co_filename).name}:{place.tb_lineno}" if place else "?"
    return (
        f"a fault of the program, at {line}: {type(fault).__name__}: {fault}\n"
        "No verdict was reached. Keep the survey file and report this line."
    )


def _complain(text: str) -> None:
    print(text, file=sys.stderr)


def main() -> None:
    """Run a command; a user's mistake is a message, never a traceback."""
    gc.set_threshold(_OBJECTS_A_SITE)  # a site makes little garbage; looking for it costs a tenth
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a terminal that can't show a sign still prints
    try:
        app()
    except UserError as fault:
        _complain(str(fault))
        sys.exit(UNREADABLE)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(PROGRAM_FAULT)
    except Exception as fault:
        _complain(_fault(fault))
        sys.exit(PROGRAM_FAULT)
