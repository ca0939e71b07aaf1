"""The whole rule book as one page to read, print and talk over at a safety meeting.

No script runs and nothing is fetched. Every text of the book is escaped.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

import survey as program
from survey.assessment import Verdict
from survey.assessment.decision import BY_OUTCOME
from survey.errors import UserError
from survey.files import refuse_other, replace, told
from survey.rulebook.paragraphs import Field
from survey.rulebook.rules import (
    Change,
    Conclusion,
    Lift,
    Limit,
    Outcome,
    ReleaseBy,
    Rule,
    RuleBook,
    Table,
)
from survey.rulebook.study.listing import judged_for
from survey.rulebook.study.wording import Wording, put_in_words
from survey.rulebook.uses import in_order, uses
from survey.sheets._advice import LOCAL_RULES, NO_LOCAL_RULES
from survey.sheets._legible import legible
from survey.sheets._templates import template

MARKER = "<!DOCTYPE html>\n<!-- pier-survey rule book 1 -->\n"
_UNUSED = "Limits and tables that no rule uses"
_IN_WORDS = {
    Outcome.STOP: "the crew does not start",
    Outcome.ENGINEER: "a licensed engineer decides first",
    Outcome.ASK: "the site waits until this is cleared up",
    Outcome.CONDITION: "the crew does this and ticks it",
    Outcome.NOTE: "to be read; nothing waits for it",
}
_RELEASE = {
    ReleaseBy.NOBODY: "Nobody may release it.",
    ReleaseBy.COMPETENT_PERSON: "The competent person or a licensed engineer may release it.",
    ReleaseBy.ENGINEER: "Only a licensed engineer may release it.",
}


@dataclass(frozen=True, slots=True)
class Figure:
    """A limit or a table of the book, as the page shows it.

    Args:
        named: the limit or table.
        rows: of a table: what each row is for, and its figure.
        rules: codes of the rules that use it.
        changes: what a firm's file changed about it.
    """

    named: Limit | Table
    rows: tuple[tuple[str, str], ...]
    rules: tuple[str, ...]
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """A rule of the book, as the page shows it.

    Args:
        rule: the rule.
        judged_for: ``the site``, ``each pier``.
        when: its condition, put in words.
        verdict: what a finding makes of the site; none for a conclusion or a standing release.
        then: the outcome in words.
        release: who may lift it; empty where there is nothing to lift.
        lifted_by: codes of the standing releases that lift it.
        cases: the answers of each, what the rule gives for them, and where it stands.
        changes: what a firm's file changed about it.
    """

    rule: Rule
    judged_for: str
    when: Wording
    verdict: Verdict | None
    then: str
    release: str
    lifted_by: tuple[str, ...]
    cases: tuple[tuple[str, str, str], ...]
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class Topic:
    """The limits, tables and rules of one topic."""

    name: str
    figures: tuple[Figure, ...]
    entries: tuple[Entry, ...]


def write_book_page(book: RuleBook, path: Path) -> None:
    """Write a rule book as one HTML page, over an earlier one at most.

    Raises:
        UserError: the name has another ending, something else stands there, or it can't be
            written.
    """
    write_page(path, render_book(book), MARKER, "page of a rule book")


def write_page(path: Path, page: str, marker: str, what: str) -> None:
    """Write a page about a rule book, over an earlier one of its sort at most.

    Args:
        path: the place to write to.
        page: the text of the file.
        marker: how every page of this sort begins.
        what: what it is, such as ``page of a rule book``.

    Raises:
        UserError: the name has another ending, something else stands there, or it can't be
            written.
    """
    if path.suffix.lower() not in (".html", ".htm"):
        raise UserError(
            f"{path}: the page is opened in a browser, and no browser would know it by this "
            "name. Give a name that ends in .html."
        )
    refuse_other(path, marker, what)
    with told(path, what):
        replace(path, page)


def render_book(book: RuleBook) -> str:
    """A rule book as the text of an HTML file, in UTF-8."""
    page = template("book.html").render(
        topics=tuple(topics(book)),
        changes=book.changes,
        turned=book.turned,
        local_rules=LOCAL_RULES,
        no_local_rules=NO_LOCAL_RULES,
        number_of_rules=sum(1 for _ in book),
        number_of_figures=len(book.limits) + len(book.tables),
        verdicts=[(BY_OUTCOME[outcome], _IN_WORDS[outcome]) for outcome in reversed(Outcome)],
        pieces=lambda text: _pieces(text, book.limits),
        book=book.fingerprint,
        version=program.__version__,
    )
    return MARKER + legible(page)


def topics(book: RuleBook) -> Iterator[Topic]:
    """The topics, in the order of their rules' codes."""
    rules = in_order(book)
    lifts = [rule for rule in rules if isinstance(rule.then, Lift)]
    figures = _figures(book)
    for topic in dict.fromkeys(rule.topic for rule in rules):
        entries = [_entry(rule, book, lifts) for rule in rules if rule.topic == topic]
        yield Topic(topic, tuple(figures.pop(topic, ())), tuple(entries))
    for topic, unused in figures.items():
        yield Topic(topic, tuple(unused), ())


def _figures(book: RuleBook) -> dict[str, list[Figure]]:
    """Limits and tables by the topic of a rule that uses them, of the same file if one does."""
    used = uses(book)
    by_topic: dict[str, list[Figure]] = {}
    every: list[Limit | Table] = [*book.limits.values(), *book.tables.values()]
    for named in every:
        rules = used.get(named.name, ())
        beside = [rule for rule in rules if file_of(rule.place) == file_of(named.place)]
        topic = next((rule.topic for rule in (*beside, *rules)), _UNUSED)
        rows = (
            tuple((named.answers(row), row.shown) for row in named.rows)
            if isinstance(named, Table)
            else ()
        )
        by_topic.setdefault(topic, []).append(
            Figure(named, rows, tuple(rule.code for rule in rules), _changes(named.place, book))
        )
    return by_topic


def file_of(place: str) -> str:
    """The file of a place in it: ``dig.rules`` of ``dig.rules:12``."""
    return place.rpartition(":")[0]


def _changes(place: str, book: RuleBook) -> tuple[Change, ...]:
    return tuple(change for change in book.changes if change.place == place)


def _entry(rule: Rule, book: RuleBook, lifts: list[Rule]) -> Entry:
    verdict, release = None, ""
    match rule.then:
        case Outcome() as outcome:
            verdict, then, release = BY_OUTCOME[outcome], _IN_WORDS[outcome], _RELEASE[rule.release]
        case Conclusion(word, choice):
            then = f"count {word.name} as {choice}; other rules see it"
        case Lift(finding):
            then = f"{finding} is released"
    lifted_by = (
        one.code for one in lifts if isinstance(one.then, Lift) and one.then.finding == rule.code
    )
    return Entry(
        rule, judged_for(rule.subject), put_in_words(rule.condition, rule.subject, book),
        verdict, then, release, tuple(lifted_by), tuple(map(_case, rule.case_fields)),
        _changes(rule.place, book),
    )  # fmt: skip


def _case(field: Field) -> tuple[str, str, str]:
    answers, _, gives = " ".join(field.text.split()).rpartition(" gives ")
    return answers, gives, f"{field.span.file}:{field.span.line}"


def _pieces(text: str, limits: Mapping[str, Limit]) -> Iterator[tuple[str, bool]]:
    """A text that a rule prints, cut at its braces: each piece, and whether it is filled in.

    A limit stands with its figure, for it is the same on every site.
    """
    for i, piece in enumerate(text.replace("}", "{").split("{")):
        name = piece.strip()
        if i % 2 and name in limits:
            yield limits[name].shown, False
        elif piece:
            yield (name if i % 2 else piece), bool(i % 2)
