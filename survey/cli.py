"""The commands. Reading and writing happen here; everything between is pure."""

from __future__ import annotations

import datetime as dt
import gc
import os
import sys
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal

import typer

from survey import __version__, cli_jobs
from survey.cli_parts import (
    GO,
    NOT_YET,
    PROGRAM_FAULT,
    UNREADABLE,
    Rules,
    assessed,
    complain,
    find_rule,
    load_book,
    named,
    read,
    read_days,
    today,
)
from survey.errors import UnreadableSurveyError, UserError, fault_line
from survey.resources import folder

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from survey.model import Picture, Row
    from survey.rewriting import ReadSurvey

_OBJECTS_A_SITE = 50_000
_PUT_RIGHT = "Put these cells right, or check without '--strict': they then count as not known."

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    help="Check a pier site before the crew is scheduled.",
)

rules_app = typer.Typer(
    no_args_is_help=True, rich_markup_mode=None, help="Try, look up and compare the rules."
)
app.add_typer(rules_app, name="rules")
cli_jobs.add_to(app)


@app.command()
def check(  # noqa: PLR0917 - the options of the command
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
    mark: Annotated[
        bool,
        typer.Option(
            "--mark",
            help="Write a copy of each workbook with cells to put right, with comments at them.",
        ),
    ] = False,
    strict: Annotated[
        bool,
        typer.Option("--strict", help="Judge no survey that has cells to put right; list them."),
    ] = False,
    crew: Annotated[
        Literal["english", "spanish", "both"],
        typer.Option("--crew", help="Language of the crew's page; a side for each of both."),
    ] = "both",
    pdf: Annotated[
        bool,
        typer.Option("--pdf", help="Print each page to a PDF too, with the computer's browser."),
    ] = False,
    xlsx: Annotated[
        bool, typer.Option("--xlsx", help="Write each record as a workbook, too.")
    ] = False,
    on: Annotated[
        str | None,
        typer.Option("--on", metavar="DATE", help="Judge for this first day of the crew."),
    ] = None,
    rules: Rules = None,
) -> None:
    """Check surveys and write for each a go/no-go sheet, a crew's and an engineer's page, a record.

    Exit status: 0 for GO and GO WITH CONDITIONS, 1 for every other verdict, 2 for a survey that
    could not be read, 3 for a fault of the program; the worst of all files.
    """
    if json_to not in (None, "-"):
        raise typer.BadParameter("only '-' is possible: the record goes to standard output")
    (day,) = read_days({"--on": on})
    book = load_book(rules)
    wanted = _Wanted(
        out, to_stdout=json_to == "-", mark=mark, strict=strict, crew=crew, pdf=pdf, xlsx=xlsx,
        on=day,
    )  # fmt: skip
    if not wanted.to_stdout:
        from survey.files import sweep

        _refuse_same_names(files)
        sweep(out)
    raise typer.Exit(max(_check_one(file, book, wanted) for file in files))


@app.command()
def verify(
    sheet: Annotated[Path, typer.Argument(help="A page that a check wrote, such as site.html.")],
    rules: Rules = None,
) -> None:
    """Tell whether a sheet was changed since it was written, and what would now come out.

    The survey in it is judged again by the rules given. Crew page and engineer's pages carry no
    survey; of them only changes are told. It finds slips and edits; it is no signature.

    Exit status: 0 if it is as it was written and comes out the same, 1 if it would come out
    differently, 2 if it was altered or can't be read.
    """
    from survey.sheets.verify import read_page, say
    from survey.sheets.verify import verify as verified

    found = verified(read_page(sheet), load_book(rules))
    print(say(sheet, found))
    raise typer.Exit(found.status)


@app.command()
def form(
    out: Annotated[Path, typer.Argument(help="Workbook to write, such as site.xlsx.")],
    source: Annotated[
        Path | None,
        typer.Option(
            "--from",
            help="A survey whose answers are filled in, with the questions still open marked.",
        ),
    ] = None,
    short: Annotated[
        bool,
        typer.Option(
            "--short",
            help="Only what decides on a first visit; with '--from' also what is answered.",
        ),
    ] = False,
    metric: Annotated[
        bool, typer.Option("--metric", help="Ask in metres, millimetres and kilonewtons.")
    ] = False,
    rules: Rules = None,
) -> None:
    """Write a form to fill on site, with your firm's own questions: blank, or filled.

    A filled form keeps every answer and picture of its survey; what could not be read stands in its
    cell as it stood. What was typed on the sheet Sketch is not carried over. The cells that a check
    still asks for are marked.
    """
    from survey.vocabulary import Units
    from survey.workbook import write_form

    book = load_book(rules)
    units = Units.METRIC if metric else None
    if source is None:
        write_form(out, None, book.vocabulary, units=units, short=short)
        print(f"Form written: {out}")
        return
    told = read(source, book)
    asked = {question.input.answer.where for question in assessed(told, book).questions}
    left_out = write_form(
        out, told.survey, book.vocabulary, units=units, short=short,
        wanted=told.places_of({*asked, *(problem.where for problem in told.problems)}),
        unread=told.unread, stray=told.raw.stray,
    )  # fmt: skip
    _tell_losses(told, left_out)
    print(f"Form written: {out}")
    print(f"Marked, for a check still asks: {len(asked)}; to put right: {len(told.problems)}")


@app.command()
def convert(
    source: Annotated[Path, typer.Argument(help="A survey: a filled workbook, or JSON.")],
    out: Annotated[
        Path,
        typer.Argument(help="A .json or .xlsx file to write, or a folder for a CSV of each sheet."),
    ],
    rules: Rules = None,
) -> None:
    """Turn a workbook into JSON and back, or into plain tables.

    Nothing is lost between workbook and JSON: a cell that could not be read stands as it stood, and
    pictures become files beside the JSON. Tables are for a database of your own; they
    are not read back.
    """
    from survey.convert import convert as converted

    book = load_book(rules)
    told = read(source, book)
    written = converted(told, out)
    _tell_losses(told, written.left_out)
    for file in written.files:
        print(f"Written: {file}")


@app.command()
def demo(
    out: Annotated[Path, typer.Argument(help="Folder for the sheets.")] = Path("demo_sheets"),
) -> None:
    """Check the demo sites of an invented firm and say where the sheets are."""
    book = load_book(None)
    status = GO
    for file in sorted(folder("demo_sites").glob("*.xlsx")):
        status = max(status, _check_one(file, book, _Wanted(out)))
    print(f"The sheets are in {out.resolve()}; open the .html files in a browser.")
    raise typer.Exit(status if status > NOT_YET else GO)


@app.command()
def schema(
    of_record: Annotated[
        bool, typer.Option("--record", help="That of the record that a check writes.")
    ] = False,
    rules: Rules = None,
) -> None:
    """Print the JSON Schema of a survey in JSON."""
    import json

    from survey.document import json_schema
    from survey.sheets import record_schema

    made = record_schema() if of_record else json_schema(load_book(rules).vocabulary)
    print(json.dumps(made, indent=1, ensure_ascii=False))


@rules_app.command("try")
def try_rules(rules: Rules = None) -> None:
    """Read the rules and try every case in them, with all mistakes at once."""
    from survey.rulebook.study.summary import summary

    print(summary(load_book(rules)))


@rules_app.command()
def words(
    text: Annotated[str, typer.Argument(help="Only words that have this in them.")] = "",
    rules: Rules = None,
) -> None:
    """List the words that rules may use, with unit and choices, and the limits and tables."""
    from survey.rulebook.study.listing import list_words

    print(list_words(load_book(rules), text))


@rules_app.command()
def explain(
    code: Annotated[str, typer.Argument(help="Code of the rule, such as DIG-1.")],
    rules: Rules = None,
) -> None:
    """Explain one rule in plain words, and show what answers would meet it."""
    from survey.rulebook.study.explain import explain as explained

    book = load_book(rules)
    print(explained(find_rule(book, code), book))


@rules_app.command()
def edges(rules: Rules = None) -> None:
    """Change every figure, choice and clause a little; tell each change that no case notices.

    Exit status: 1 if there is one.
    """
    from survey.rulebook.study.edges import unnoticed, untold

    book = load_book(rules)
    missing, found = untold(book), unnoticed(book)
    for one in missing:
        print(f"{one.place}: {one.rule.code}: no case shows {one.change}")
    for one in found:
        print(f"{one.place}: {one.rule.code}: no case notices {one.change}")
    found = (*missing, *found)
    print(f"{len(found)} cases to add." if found else "No edge is unnoticed.")
    raise typer.Exit(NOT_YET if found else GO)


@rules_app.command()
def doubts(rules: Rules = None) -> None:
    """Find rules that can never be met, rules that others outdo, and conclusions that differ.

    Exit status: 1 if a rule or a clause can never matter.
    """
    from survey.rulebook.study.doubts import doubts as found_doubts
    from survey.rulebook.study.doubts import say

    found = found_doubts(load_book(rules))
    print(say(found))
    raise typer.Exit(NOT_YET if found.faults else GO)


@rules_app.command()
def compare(
    surveys: Annotated[Path, typer.Argument(help="Folder with surveys: workbooks or JSON.")],
    rules: Rules = None,
    before: Annotated[
        Path | None,
        typer.Option("--before", help="Folder of your rules as they were; else the shipped book."),
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option("--out", help="Folder for a page and a workbook, instead of text."),
    ] = None,
) -> None:
    """Judge a folder of surveys by two books, and show which verdicts change and by which rule.

    Exit status: 0 if every survey was compared, 2 if one could not be read, 3 for a fault of the
    program; the worst of all.
    """
    from survey.assessment.compare import in_short, say
    from survey.jobs.comparing import Books, compare_all, in_order
    from survey.jobs.judging import Unread

    before_book, after_book = load_book(before), load_book(rules)
    files = None
    if out is not None:
        from survey.jobs.compare_files import CompareFiles

        files = CompareFiles(out)
    prints = (before_book.fingerprint, after_book.fingerprint)
    number, results = compare_all(surveys, Books(before, rules, prints))
    comparison, unread = in_order(list(cli_jobs.shown(results, number)))
    faults = [one.result for one in unread if isinstance(one.result, Unread)]
    for fault in faults:
        complain(fault.message)
    if files is None:
        print(f"Before: {named(before)}\nAfter: {named(rules)}\n\n{say(comparison)}")
    else:
        from survey.jobs.compare_page import Book

        books = (
            Book(named(before), before_book.fingerprint, before_book.changes),
            Book(named(rules), after_book.fingerprint, after_book.changes),
        )
        files.write(comparison, unread, books)
        print(
            f"{in_short(comparison)}\nPage: {files.page}\nThe same as a workbook: {files.workbook}"
        )
    if comparison.disagreements or any(fault.fault for fault in faults):
        raise typer.Exit(PROGRAM_FAULT)
    raise typer.Exit(UNREADABLE if unread else GO)


@rules_app.command()
def page(
    out: Annotated[Path, typer.Argument(help="Page to write, such as rules.html.")],
    rules: Rules = None,
) -> None:
    """Write the whole book as a page to read in a browser or on paper, by topic, with sources."""
    from survey.sheets.book_page import write_book_page

    write_book_page(load_book(rules), out)
    print(f"Page written: {out}")


@rules_app.command()
def sources(
    out: Annotated[Path, typer.Argument(help="Page to write, such as sources.html.")],
    rules: Rules = None,
) -> None:
    """Write what the book rests on as a page: every clause, and what nobody has checked yet."""
    from survey.sheets.sources_page import write_sources_page

    write_sources_page(load_book(rules), out)
    print(f"Page written: {out}")


@app.command()
def version() -> None:
    """Print the version of the program."""
    print(f"pier-survey {__version__}")


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


@dataclass(frozen=True, slots=True)
class _Wanted:
    """What a check is to leave behind."""

    out: Path
    to_stdout: bool = False
    mark: bool = False
    strict: bool = False
    crew: str = "both"
    pdf: bool = False
    xlsx: bool = False
    on: dt.date | None = None


def _check_one(file: Path, book: Any, wanted: _Wanted) -> int:
    """Check one survey and report it; a bad file never stops the others."""
    from survey.sheets import every_path

    earlier = () if wanted.to_stdout else every_path(file.stem, wanted.out)
    written = {path: path.stat().st_mtime_ns for path in earlier if path.is_file()}
    try:
        status = _check_and_report(file, book, wanted)
    except UserError as fault:
        complain(str(fault))
        status = UNREADABLE
    except BrokenPipeError:
        raise
    except Exception as fault:
        complain(f"{file}: {fault_line(fault)}")
        status = PROGRAM_FAULT
    for path, before in written.items():  # somebody may still have them in hand
        if path.is_file() and path.stat().st_mtime_ns == before:
            complain(f"{path}: from an earlier check; it no longer holds.")
    return status


def _check_and_report(file: Path, book: Any, wanted: _Wanted) -> int:
    from survey.files import open_elsewhere
    from survey.photos import load_photos
    from survey.sheets import Languages, Wished, record_line, summary, write_sheet

    if elsewhere := open_elsewhere(file):
        complain(elsewhere)
    told = read(file, book)
    if wanted.on is not None:
        from survey.assessment.days import on_day

        moved, problems = on_day(told.survey, told.problems, wanted.on)
        told = replace(told, survey=moved, problems=problems)
    marked = _marked_copy(file, told, wanted.out) if wanted.mark and told.problems else None
    if wanted.strict and told.problems:
        raise UnreadableSurveyError(str(file), map(str, told.problems), _PUT_RIGHT)
    assessment = assessed(told, book)
    for warning in _by_the_calendar(told.survey.site):
        complain(f"{file}: {warning}")
    photos = load_photos(told.survey, file.parent)
    if wanted.to_stdout:
        print(record_line(assessment, photos))
    else:
        wished = Wished(Languages(wanted.crew), workbook=wanted.xlsx, pdf=wanted.pdf)
        written = write_sheet(assessment, wanted.out, photos, wished, today=today())
        book_used = "" if assessment.changes else "\nRules: the shipped book alone"
        print(f"{summary(assessment, photos)}{book_used}\nSheet: {written.sheet}")
        print(f"Crew's page: {written.crew}\nEngineer's pages: {written.engineer}")
        if written.workbook:
            print(f"Record as a workbook: {written.workbook}")
        for printed in written.pdfs:
            print(f"PDF: {printed}")
        if marked:
            print(f"Marked copy: {marked}")
        if written.kept.file:
            print(f"History: {written.kept.file}{'' if written.kept.new else ', as it was'}")
        print()
        if written.kept.note:
            complain(written.kept.note)
    if assessment.disagreement:
        complain(f"{file}: internal disagreement, a fault of the program; see the sheet.")
        return PROGRAM_FAULT
    return GO if assessment.verdict.may_start else NOT_YET


def _by_the_calendar(site: Row) -> Iterator[str]:
    """What the day of the check says of a survey; its sheet is the same on every day."""
    crew, walked, now = site.value("crew date"), site.value("survey date"), today()
    if isinstance(crew, dt.date) and crew < now:
        yield f"the crew's first day ({crew}) has passed; it was judged for it. Set a new one."
    if isinstance(walked, dt.date) and walked > now:
        yield f"the survey is dated {walked}, a day that is still to come. Put it right."


def _tell_losses(told: ReadSurvey, left_out: Iterable[Picture]) -> None:
    """Tell what a new file has as it stood, to be put right, and which pictures it can't have."""
    for problem in told.problems:
        complain(str(problem))
    for picture in left_out:
        complain(
            f"{picture.sheet}, row {picture.row}: '{picture.name}' is no picture that can be "
            "written; put it in again as JPEG or PNG"
        )


def _marked_copy(file: Path, told: ReadSurvey, out: Path) -> Path:
    from survey.sheets.write import file_name
    from survey.workbook.marking import mark_workbook

    name, number = f"{file_name(file.stem)} marked", 1
    copy = out / f"{name}{file.suffix}"
    while copy.exists():  # in an earlier copy somebody may be putting the cells right
        number += 1
        copy = out / f"{name} {number}{file.suffix}"
    mark_workbook(file, told.problems, copy)
    return copy


def main() -> None:
    """Run a command; a user's mistake is a message, never a traceback."""
    gc.set_threshold(_OBJECTS_A_SITE)  # a site makes little garbage; looking for it costs a tenth
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a terminal that can't show a sign still prints
    try:
        app()
    except UserError as fault:
        complain(str(fault))
        sys.exit(UNREADABLE)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(PROGRAM_FAULT)
    except Exception as fault:
        complain(fault_line(fault))
        sys.exit(PROGRAM_FAULT)
