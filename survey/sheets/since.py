"""What changed since a site was last checked: answers, rules, verdicts, findings, days.

Both checks are compared at a glance: what a record and a sheet carry of each other's sort.
"""

from __future__ import annotations

import datetime as dt
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Literal

from survey.assessment import Assessment
from survey.assessment.fingerprint import fingerprint
from survey.model import LISTS, Value
from survey.sheets._legible import day, said
from survey.sheets.kept import KeptProblem, KeptRow, KeptSurvey, keep, value_of
from survey.vocabulary import (
    NOT_KNOWN,
    VOCABULARY,
    Missing,
    Subject,
    Vocabulary,
    Word,
    write_exactly,
)

if TYPE_CHECKING:
    from survey.sheets.record import Record

if sys.version_info >= (3, 12):
    from typing import TypedDict
else:  # pydantic makes the schema of these types only from 3.12 on
    from typing_extensions import TypedDict


class PierGlance(TypedDict):
    """The verdict for one pier location."""

    pier: str
    verdict: str


class FindingGlance(TypedDict):
    """A rule that came to the same at some places: its outcome, and whether it is released."""

    code: str
    name: str
    outcome: str
    places: list[str]


class Glance(TypedDict):
    """A judgement at a glance: what two checks of a site are compared by.

    ``days`` has each as printed; ``local_rules`` what a firm's own files changed.
    """

    program: str
    book_fingerprint: str
    shipped_fingerprint: str
    local_fingerprint: str | None
    answers_fingerprint: str
    verdict: str
    piers: list[PierGlance]
    findings: list[FindingGlance]
    days: dict[str, str]
    local_rules: list[str]
    rules: dict[str, str]
    survey: KeptSurvey


class Turn(TypedDict):
    """What something was before, and what it is now."""

    before: str
    now: str


class TurnedAnswer(TypedDict):
    """An answer that is another one, at all places where it turned alike."""

    word: str
    of: list[str]
    before: str
    now: str
    cells: list[str]


class TurnedRow(TypedDict):
    """A row that was added or is gone."""

    change: Literal["added", "gone"]
    kind: str
    label: str
    cell: str


class TurnedRule(TypedDict):
    """A rule that was added, is gone, or judges or says something else."""

    change: Literal["added", "gone", "changed"]
    code: str


class TurnedText(TypedDict):
    """A change by a firm's own files, or a cell to put right, that is new or is gone."""

    change: Literal["added", "gone"]
    text: str


class TurnedVerdict(TypedDict):
    """The verdict for some piers that is another one; for a pier that was not listed: null."""

    piers: list[str]
    before: str | None
    now: str | None


class TurnedFinding(TypedDict):
    """What a finding came to before and now, at all places where it turned alike.

    Each is its outcome, ``released`` behind it where it does not count; null where it is none.
    """

    code: str
    name: str
    places: list[str]
    before: str | None
    now: str | None


class TurnedDay(TypedDict):
    """A day of the plan that is another one."""

    what: str
    before: str
    now: str


class Since(TypedDict):
    """What changed since the last check; where nothing could be compared, the note says why."""

    note: str
    program: Turn | None
    shipped_rules: Turn | None
    own_rules: Turn | None
    verdict: Turn | None
    piers: list[TurnedVerdict]
    rows: list[TurnedRow]
    answers: list[TurnedAnswer]
    problems: list[TurnedText]
    rules: list[TurnedRule]
    local_rules: list[TurnedText]
    findings: list[TurnedFinding]
    days: list[TurnedDay]


def glance(assessment: Assessment) -> Glance:
    """A judgement at a glance."""
    book, plan = assessment.rules, assessment.plan
    return {
        "program": assessment.version,
        "book_fingerprint": assessment.book,
        "shipped_fingerprint": book.shipped,
        "local_fingerprint": book.local or None,
        "answers_fingerprint": assessment.answers,
        "verdict": assessment.verdict.value,
        "piers": [{"pier": p.label, "verdict": p.verdict.value} for p in assessment.piers],
        "findings": _grouped(
            (f.rule.code, f.rule.name, f.outcome.value, not f.counts, f.place)
            for f in assessment.findings
        ),
        "days": _days(plan.earliest.day, plan.latest.day, plan.order.crew_days),
        "local_rules": [change.what for change in assessment.changes],
        "rules": dict(book.rule_fingerprints),
        "survey": keep(assessment.survey, assessment.problems),
    }


def glance_of_record(record: Record) -> Glance:
    """A record at a glance."""
    plan = record["plan"]
    first, last = (
        None if iso is None else dt.date.fromisoformat(iso)
        for iso in (plan["earliest"], plan["latest"])
    )
    return {
        "program": record["program"],
        "book_fingerprint": record["book_fingerprint"],
        "shipped_fingerprint": record["shipped_fingerprint"],
        "local_fingerprint": record["local_fingerprint"],
        "answers_fingerprint": record["answers_fingerprint"],
        "verdict": record["verdict"],
        "piers": [{"pier": p["pier"], "verdict": p["verdict"]} for p in record["piers"]],
        "findings": _grouped(
            (f["code"], f["name"], f["outcome"], f["release"] is not None, f["place"])
            for f in record["findings"]
        ),
        "days": _days(first, last, plan["crew_days"]),
        "local_rules": [change["what"] for change in record["local_rules"]],
        "rules": record["rules"],
        "survey": record["survey"],
    }


def _grouped(findings: Iterable[tuple[str, str, str, bool, str]]) -> list[FindingGlance]:
    """Code, name, outcome, whether it is released, and place of each, by all but the place."""
    grouped: dict[tuple[str, str, bool], FindingGlance] = {}
    for code, name, outcome, released, place in findings:
        same = grouped.get((code, outcome, released))
        if same is None:
            said = f"{outcome}, released" if released else outcome
            same = {"code": code, "name": name, "outcome": said, "places": []}
            grouped[code, outcome, released] = same
        same["places"].append(place)
    return list(grouped.values())


def _days(first: dt.date | None, last: dt.date | None, work: str) -> dict[str, str]:
    return {
        "earliest first day": "not known" if first is None else day(first),
        "latest first day": "not known" if last is None else day(last),
        "days of work": work or "not known",
    }


def kept_fingerprint(survey: KeptSurvey) -> str:
    """The same for the same answers of a survey that was kept."""
    return fingerprint(
        (subject, row["label"], name, value_of(answer))
        for subject in (Subject.SITE, *LISTS)
        for row in _rows(survey, subject)
        for name, answer in row["answers"].items()
    )


def not_compared(note: str) -> Since:
    """Nothing could be compared, and why."""
    return {
        "note": note, "program": None, "shipped_rules": None, "own_rules": None, "verdict": None,
        "piers": [], "rows": [], "answers": [], "problems": [], "rules": [], "local_rules": [],
        "findings": [], "days": [],
    }  # fmt: skip


def same_site(earlier: Glance, now: Glance) -> bool:
    """Whether two checks are of one site: job name or address is the same, as far as known."""
    pairs = [
        (before, after)
        for name in ("job name", "address")
        if (before := _known(earlier, name)) is not None
        and (after := _known(now, name)) is not None
    ]
    return not pairs or any(before == after for before, after in pairs)


def _known(checked: Glance, name: str) -> object:
    answer: Mapping[str, Any] | None = checked["survey"]["site"]["answers"].get(name)
    return None if answer is None else answer.get("value")


def changed(since: Since) -> bool:
    """Whether anything changed at all."""
    return any(value for key, value in since.items() if key != "note")


def since(earlier: Glance, now: Glance, vocabulary: Vocabulary = VOCABULARY) -> Since:
    """What changed from one check of a site to another one.

    Args:
        earlier: the check before.
        now: this check.
        vocabulary: the questions, for answers to be printed in their units.
    """
    rows, answers = _compare_answers(earlier["survey"], now["survey"], vocabulary)
    return {
        "note": "",
        "program": _turn(earlier["program"], now["program"]),
        "shipped_rules": _turn(earlier["shipped_fingerprint"], now["shipped_fingerprint"]),
        "own_rules": _turn(
            earlier["local_fingerprint"] or "none", now["local_fingerprint"] or "none"
        ),
        "verdict": _turn(earlier["verdict"], now["verdict"]),
        "piers": _piers(earlier["piers"], now["piers"]),
        "rows": rows,
        "answers": answers,
        "problems": _texts(
            map(_problem, earlier["survey"]["problems"]), map(_problem, now["survey"]["problems"])
        ),
        "rules": _rules(earlier["rules"], now["rules"]),
        "local_rules": _texts(earlier["local_rules"], now["local_rules"]),
        "findings": _findings(earlier["findings"], now["findings"]),
        "days": [
            {"what": what, "before": before, "now": after}
            for what in dict.fromkeys([*earlier["days"], *now["days"]])
            if (before := earlier["days"].get(what, "not known"))
            != (after := now["days"].get(what, "not known"))
        ],
    }


def _turn(before: str, now: str) -> Turn | None:
    return None if before == now else {"before": before, "now": now}


def _problem(problem: KeptProblem) -> str:
    read = f"read '{problem['read']}', " if problem["read"] else ""
    return f"{problem['cell']}: {read}expected {problem['expected']}"


def _texts(before: Iterable[str], now: Iterable[str]) -> list[TurnedText]:
    earlier, later = dict.fromkeys(before), dict.fromkeys(now)
    added, gone = later.keys() - earlier.keys(), earlier.keys() - later.keys()
    turned: list[TurnedText] = [
        {"change": "added", "text": text} for text in later if text in added
    ]
    turned += [{"change": "gone", "text": text} for text in earlier if text in gone]
    return turned


def _rules(before: Mapping[str, str], now: Mapping[str, str]) -> list[TurnedRule]:
    turned: list[TurnedRule] = [
        {"change": "added", "code": code} for code in now if code not in before
    ]
    turned += [{"change": "gone", "code": code} for code in before if code not in now]
    turned += [
        {"change": "changed", "code": code}
        for code, print_ in now.items()
        if before.get(code, print_) != print_
    ]
    return turned


def _piers(before: Iterable[PierGlance], now: Iterable[PierGlance]) -> list[TurnedVerdict]:
    earlier = {one["pier"]: one["verdict"] for one in before}
    later = {one["pier"]: one["verdict"] for one in now}
    turned: dict[tuple[str | None, str | None], list[str]] = {}
    for pier in dict.fromkeys([*later, *earlier]):
        pair = earlier.get(pier), later.get(pier)
        if pair[0] != pair[1]:
            turned.setdefault(pair, []).append(pier)
    return [
        {"piers": piers, "before": before, "now": after}
        for (before, after), piers in turned.items()
    ]


def _findings(before: Sequence[FindingGlance], now: Sequence[FindingGlance]) -> list[TurnedFinding]:
    earlier, later = _by_place(before), _by_place(now)
    names = {one["code"]: one["name"] for one in (*before, *now)}
    turned: dict[tuple[str, str | None, str | None], list[str]] = {}
    for key in dict.fromkeys([*later, *earlier]):
        was, came = earlier.get(key), later.get(key)
        if was != came:
            turned.setdefault((key[0], was, came), []).append(key[1])
    return [
        {"code": code, "name": names[code], "places": places, "before": was, "now": came}
        for (code, was, came), places in turned.items()
    ]


def _by_place(findings: Iterable[FindingGlance]) -> dict[tuple[str, str], str]:
    return {(one["code"], place): one["outcome"] for one in findings for place in one["places"]}


def _compare_answers(
    earlier: KeptSurvey, now: KeptSurvey, vocabulary: Vocabulary
) -> tuple[list[TurnedRow], list[TurnedAnswer]]:
    rows: list[TurnedRow] = []
    turned: dict[tuple[Subject, str, str, str], TurnedAnswer] = {}
    for subject in (Subject.SITE, *LISTS):
        before = {row["label"]: row for row in _rows(earlier, subject)}
        after = {row["label"]: row for row in _rows(now, subject)}
        rows += [_row("added", subject, row) for label, row in after.items() if label not in before]
        rows += [_row("gone", subject, row) for label, row in before.items() if label not in after]
        for label, row in after.items():
            if label in before and before[label]["answers"] != row["answers"]:
                for word, was, came, cell in _turned(before[label], row, vocabulary):
                    one = turned.setdefault(
                        (subject, word, was, came),
                        {"word": word, "of": [], "before": was, "now": came, "cells": []},
                    )
                    one["of"].append(label)
                    one["cells"].append(cell)
    return rows, list(turned.values())


def _rows(survey: KeptSurvey, subject: Subject) -> Sequence[KeptRow]:
    kept: Any = survey
    rows: Sequence[KeptRow] = [survey["site"]] if subject is Subject.SITE else kept[LISTS[subject]]
    return rows


def _row(change: Literal["added", "gone"], subject: Subject, row: KeptRow) -> TurnedRow:
    return {
        "change": change, "kind": subject.value, "label": row["label"], "cell": row["cell"],
    }  # fmt: skip


def _turned(
    before: KeptRow, now: KeptRow, vocabulary: Vocabulary
) -> Iterator[tuple[str, str, str, str]]:
    """Word, what the answer was and is, and its cell, of each answer that is another one."""
    earlier, later = before["answers"], now["answers"]
    for name in dict.fromkeys([*later, *earlier]):
        was, came = earlier.get(name), later.get(name)
        one, other = (NOT_KNOWN if kept is None else value_of(kept) for kept in (was, came))
        if one == other:
            continue
        if None in (was, came) and isinstance(one, Missing) and isinstance(other, Missing):
            continue  # a question of one of the two books alone, with no answer there
        word = vocabulary.get(name)
        texts = _printed(word, one), _printed(word, other)
        if texts[0] == texts[1] and word is not None:  # they differ by less than is printed
            texts = _exactly(word, one), _exactly(word, other)
        yield (
            name,
            "not asked" if was is None else texts[0],
            "no longer asked" if came is None else texts[1],
            (came or was or {"cell": ""})["cell"],
        )


def _printed(word: Word | None, value: Value) -> str:
    if word is not None:
        return said(word, value)
    # The question is not among those at hand, and so its unit is not known.
    return f"{value} (unit not known)" if isinstance(value, (int, float)) else str(value)


def _exactly(word: Word, value: Value) -> str:
    if isinstance(value, (int, float)):
        return write_exactly(value, word.kind, word.unit)
    return str(value)


def since_last(
    earlier: Glance, kept: Since | None, now: Glance, vocabulary: Vocabulary
) -> Since | None:
    """What a sheet says of the check before it; none where nothing ever changed.

    Args:
        earlier: the check before.
        kept: what it said itself of the one before that. It stands as long as nothing changes,
            so that a site that is checked again gets the same sheet.
        now: this check.
        vocabulary: the questions of this check.
    """
    if not same_site(earlier, now):
        job = _known(earlier, "job name")
        return not_compared(
            "An earlier record of this name is of another job"
            f"{'' if job is None else f', {job}'}, and was replaced; nothing was compared."
        )
    found = since(earlier, now, vocabulary)
    return found if changed(found) else kept
