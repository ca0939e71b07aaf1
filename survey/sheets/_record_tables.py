"""The record as tables: what a spreadsheet can sort and filter, a row for each thing.

A record says everything once, nested; here each list of it is a table of its own, and what joins
them (code, place, pier, cell) stands in a column. A null of the record is written as ``not known``;
a cell is empty only where there is nothing to say.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, TypeVar, cast

from survey.sheets._advice import CAUTIONS
from survey.sheets._legible import split_place
from survey.sheets.record import FindingRecord, ReasonRecord, Record, ReleaseRecord
from survey.sheets.table_workbook import Table, Value

T = TypeVar("T")
_NOT_KNOWN = "not known"
_DAY = re.compile(r"\d{4}-\d\d-\d\d")
_CONDITION = "condition"
_ANEW = "This workbook is written anew by each check. Keep notes of your own in another one."


def tables(record: Record) -> tuple[Table, ...]:
    """Every table of a record, in the order in which it is read; a list may be empty."""
    lists = (
        _table("Piers", _PIERS, _piers(record)),
        _table("Findings", _FINDINGS, map(_finding, record["findings"])),
        _table("Conditions", _CONDITIONS, _conditions(record["findings"])),
        _table("Questions", _QUESTIONS, _questions(record)),
        _table("Cells to put right", _PROBLEMS, _problems(record)),
        _table("Releases", _RELEASES, _releases(record)),
        _table("Order of the pits", _ORDER, _order(record)),
        _table("Days", _DAYS, _days(record)),
        _table("Seats", _SEATS, _seats(record)),
        _table("Reasons", _REASONS, _reasons(record)),
        _table("Conclusions", _CONCLUSIONS, _conclusions(record)),
        _table("Answers", _ANSWERS, _answers(record)),
        _table("Figures", _FIGURES, _figures(record)),
        _table("Spanish", _SPANISH, _in_spanish(record["findings"])),
        _table("Local rules", _CHANGES, _changes(record)),
        _table("Photos", _PHOTOS, _photos(record)),
        _table("Since the last check", _SINCE, _since(record)),
    )
    return (_table("Verdict", {"What": 32, "Says": 90}, _verdict(record, lists)), *lists)


def _table(name: str, columns: Mapping[str, float], rows: Iterable[tuple[Value, ...]]) -> Table:
    return Table(name, columns, tuple(rows))


def _verdict(record: Record, lists: Iterable[Table]) -> Iterator[tuple[Value, ...]]:
    site = record["site"]
    yield "Verdict", record["verdict"]
    yield "The verdict lets the crew start", _yes(record["may_start"])
    for line in record["disagreement"]:
        yield "Internal disagreement", line
    yield "Job name", _known(site["job_name"])
    yield "Address", _known(site["address"])
    yield "First day of the crew", _day(site["crew_date"])
    yield "Last day of the crew", _day(site["last_crew_date"])
    yield "Surveyed on", _day(site["survey_date"])
    yield "Surveyor", _known(site["surveyor"])
    yield "Remarks", "" if site["remarks"] is None else site["remarks"]
    yield "Survey", site["survey"]
    for note in record["notes"]:
        yield "About the survey file", note
    for table in lists:
        yield f"Rows of sheet {table.name}", len(table.rows)
    yield "Evaluators that judged it", record["evaluators"]
    yield "Program", record["program"]
    yield "Rule book", record["book_fingerprint"]
    yield "The shipped book alone", _yes(record["shipped_book"])
    yield "Answers", record["answers_fingerprint"]
    for caution in CAUTIONS:
        yield "Caution", caution
    yield "This workbook", _ANEW


_PIERS = {
    "Pier": 12, "Verdict": 22, "Round": 8, "Seats that suit, best first": 36,
    "Seats that can't be told yet": 36, "Findings": 60,
}  # fmt: skip


def _piers(record: Record) -> Iterator[tuple[Value, ...]]:
    rounds = {
        label: number
        for number, labels in enumerate(record["plan"]["rounds"], start=1)
        for label in labels
    }
    for pier in record["piers"]:
        seats = pier["seats"]
        yield (
            pier["pier"], pier["verdict"], rounds.get(pier["pier"], _NOT_KNOWN),
            _listed(seat["seat"] for seat in seats if seat["state"] == "suits"),
            _listed(seat["seat"] for seat in seats if seat["state"] == "can't tell"),
            _listed(pier["findings"]),
        )  # fmt: skip


_FINDINGS = {
    "Code": 11, "Finding": 24, "Outcome": 11, "Released": 10, "Place": 14, "Piers": 12,
    "What was found": 36, "What to do": 36, "Who acts": 13, "May release it": 15,
    "Answers that settle it": 28, "Source": 22,
}  # fmt: skip


def _finding(one: FindingRecord) -> tuple[Value, ...]:
    return (
        one["code"], one["name"], one["outcome"], _yes(one["release"] is not None), one["place"],
        _listed(one["piers"]) or "all", one["say"], one["do"], one["who"], one["may_release"],
        _listed(one["settles"]), one["source"],
    )  # fmt: skip


_CONDITIONS = {
    "Code": 11, "Place": 14, "What to do": 60, "Who acts": 16, "What was found": 48,
    "From": 36,
}  # fmt: skip


def _conditions(findings: Iterable[FindingRecord]) -> Iterator[tuple[Value, ...]]:
    """What the crew ticks: the conditions that count, and what a release rests on."""
    for one in findings:
        for release in _lifting(one):
            signed = f"release {release['label']}, {release['person']}, {release['role']}"
            yield one["code"], one["place"], release["note"], "crew", one["say"], signed
        if one["outcome"] == _CONDITION and one["release"] is None:
            yield one["code"], one["place"], one["do"], one["who"], one["say"], one["source"]


_QUESTIONS = {
    "Sheet": 14, "Cell": 16, "About": 14, "Question": 48, "Help": 48, "Word": 24, "Decides": 32,
}  # fmt: skip


def _questions(record: Record) -> Iterator[tuple[Value, ...]]:
    for one in record["questions"]:
        yield (
            *split_place(one["cell"]), one["of"], one["question"], one["help"], one["word"],
            _listed(one["decides"]),
        )  # fmt: skip


_PROBLEMS = {"Sheet": 14, "Cell": 16, "What stands there": 40, "Expected": 60, "Nearest": 24}


def _problems(record: Record) -> Iterator[tuple[Value, ...]]:
    for one in record["problems"]:
        nearest = "" if one["nearest"] is None else one["nearest"]
        yield (*split_place(one["cell"]), one["read"], one["expected"], nearest)


_RELEASES = {
    "Release": 10, "Finding": 11, "Named places": 16, "Lifts it at": 18, "Does not lift it at": 18,
    "Why not": 34, "Person": 20, "Role": 18, "Licence": 18, "Given on": 13, "Last day": 13,
    "Rests on": 40, "Cell": 18,
}  # fmt: skip


def _releases(record: Record) -> Iterator[tuple[Value, ...]]:
    """Each release that was looked at, once for each thing that came of it."""
    looked_at = [
        *((one["finding"], at, "", one) for at, one in _lifted(record["findings"])),
        *(
            (refused["release"]["finding"], one["place"], refused["why"], refused["release"])
            for one in record["findings"]
            for refused in one["refused"]
        ),
        *(
            (refused["release"]["finding"], "", refused["why"], refused["release"])
            for refused in record["unused_releases"]
        ),
    ]
    for same in _by(looked_at, lambda one: (tuple(one[3].values()), one[2])):
        finding, _, why, one = same[0]
        places = _listed(at for _, at, _, _ in same if at)
        yield (
            one["label"], finding, one["place"], "" if why else places, places if why else "", why,
            one["person"], one["role"], one["licence"], _day(one["date"]), _day(one["end"]),
            one["note"], one["cell"],
        )  # fmt: skip


def _lifted(findings: Iterable[FindingRecord]) -> Iterator[tuple[str, ReleaseRecord]]:
    for one in findings:
        yield from ((one["place"], release) for release in _lifting(one))


def _lifting(one: FindingRecord) -> tuple[ReleaseRecord, ...]:
    return () if one["release"] is None else (one["release"], *one["also_released"])


_ORDER = {"Round": 8, "Piers": 40, "As the sheet says it": 80}


def _order(record: Record) -> Iterator[tuple[Value, ...]]:
    plan = record["plan"]
    for number, (labels, line) in enumerate(
        zip(plan["rounds"], plan["lines"], strict=True), start=1
    ):
        yield number, _listed(labels), line


_DAYS = {"What": 26, "Day": 24, "Why": 80}


def _days(record: Record) -> Iterator[tuple[Value, ...]]:
    plan = record["plan"]
    yield "Earliest first day", _day(plan["earliest"]), "; ".join(plan["earliest_why"])
    yield "Latest first day", _day(plan["latest"]), "; ".join(plan["latest_why"])
    yield "Days of work", plan["crew_days"] or _NOT_KNOWN, plan["reason"]
    for clash in plan["clashes"]:
        yield "No day fits", "", clash


_SEATS = {"Pier": 12, "Seat": 36, "State": 16, "Why": 90}


def _seats(record: Record) -> Iterator[tuple[Value, ...]]:
    for pier in record["piers"]:
        for seat in pier["seats"]:
            yield pier["pier"], seat["seat"], seat["state"], "; ".join(seat["why"])


_REASONS = {
    "Code": 11, "Place": 16, "Clause": 44, "What was found": 44, "Why it is not known": 30,
    "Rules behind it": 18, "Answers behind it": 48,
}  # fmt: skip


def _reasons(record: Record) -> Iterator[tuple[Value, ...]]:
    for finding in record["findings"]:
        yield from _clauses(finding["code"], finding["place"], finding["reasons"])
    for chained in record["chained"]:
        yield from _clauses(chained["code"], chained["place"], chained["reasons"])


def _clauses(code: str, place: str, reasons: Iterable[ReasonRecord]) -> Iterator[tuple[Value, ...]]:
    for one in reasons:
        yield (
            code, place, one["clause"], one["found"], one["why"], _listed(one["rules"]),
            _listed(one["answers"]),
        )  # fmt: skip


_CONCLUSIONS = {"Code": 11, "Rule": 36, "Place": 16, "Conclusion": 70, "Source": 40}


def _conclusions(record: Record) -> Iterator[tuple[Value, ...]]:
    for one in record["chained"]:
        yield one["code"], one["name"], one["place"], one["text"], one["source"]


_ANSWERS = {"Answer to": 44, "Answer": 50, "Sheet": 14, "Cell": 16}


def _answers(record: Record) -> Iterator[tuple[Value, ...]]:
    for name, one in record["answers"].items():
        yield (name, one["answer"], *split_place(one["cell"]))


_FIGURES = {"Place": 20, "Figure": 40, "Value": 30, "Why it is not known": 70}


def _figures(record: Record) -> Iterator[tuple[Value, ...]]:
    for one in record["figures"]:
        yield one["place"], one["word"], one["shown"], one["reason"]


_SPANISH = {"Code": 11, "Place": 16, "What was found, in Spanish": 60, "To do, in Spanish": 60}


def _in_spanish(findings: Iterable[FindingRecord]) -> Iterator[tuple[Value, ...]]:
    for one in findings:
        if one["say_es"] or one["do_es"]:
            yield one["code"], one["place"], one["say_es"], one["do_es"]


_CHANGES = {"What": 70, "Why": 50, "File and line": 40}


def _changes(record: Record) -> Iterator[tuple[Value, ...]]:
    for one in record["local_rules"]:
        yield one["what"], one["why"], one["place"]


_PHOTOS = {
    "File": 28, "Title": 28, "Caption": 40, "Shows": 24, "Sheet": 14, "Cell": 16,
    "To put right": 40, "SHA-256 of the file": 68,
}  # fmt: skip


def _photos(record: Record) -> Iterator[tuple[Value, ...]]:
    for shown in record["photos"]:
        yield (
            shown["name"], shown["title"], shown["caption"], _listed(shown["shows"]),
            *split_place(shown["cell"]), "", shown["sha256"],
        )  # fmt: skip
    for asked in record["asked_photos"]:
        yield asked["name"], "", "", "", *split_place(asked["cell"]), asked["why"], ""


_SINCE = {"What": 20, "Of": 40, "Before": 44, "Now": 44}


def _since(record: Record) -> Iterator[tuple[Value, ...]]:
    """What changed since an earlier check; no rows where there was none."""
    since = cast("Mapping[str, Any]", record).get("since")
    for what, changed in (since or {}).items():
        for one in changed if isinstance(changed, list) else [changed]:
            if one:
                yield _turned(what.replace("_", " "), one)


def _turned(what: str, one: Mapping[str, Any] | str) -> tuple[Value, ...]:
    """One change. A thing that was not there before, or is gone, has a blank on that side."""
    if isinstance(one, str):
        return what, one, "", ""
    named = [
        _listed(value) if isinstance(value, list) else value
        for key, value in one.items()
        if key not in ("before", "now", "change")
    ]
    of = ", ".join(text for text in named if text)
    if "change" in one:
        return what, of, "", one["change"]
    before, now = one["before"], one["now"]
    return what, of, "none" if before is None else before, "none" if now is None else now


def _by(things: Iterable[T], key: Callable[[T], object]) -> list[list[T]]:
    groups: dict[object, list[T]] = {}
    for thing in things:
        groups.setdefault(key(thing), []).append(thing)
    return list(groups.values())


def _listed(texts: Iterable[str]) -> str:
    return ", ".join(texts)


def _yes(told: bool) -> str:
    return "yes" if told else "no"


def _known(text: str | None) -> str:
    return _NOT_KNOWN if text is None else text


def _day(text: str | None) -> Value:
    """A day as a day, and as it stands what is none, such as ``not known``."""
    if text is None:
        return _NOT_KNOWN
    try:
        return dt.date.fromisoformat(text) if _DAY.fullmatch(text) else text
    except ValueError:
        return text
