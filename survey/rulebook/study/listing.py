"""Every word that rules may use, every limit and every table, as plain text to page through."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Mapping
from textwrap import wrap

from survey.rulebook.rules import Limit, Rule, RuleBook, Table
from survey.rulebook.uses import uses
from survey.vocabulary import (
    SCOPES,
    VOCABULARY,
    Kind,
    Origin,
    Subject,
    Word,
    Worse,
    write_quantity,
)
from survey.vocabulary.walk import page_of

_WIDEST = 80
_ALIKE = 0.6
_MOST_NEAR = 6

Used = Mapping[str, tuple[Rule, ...]]


def list_words(book: RuleBook, text: str = "") -> str:
    """The words that rules may use, by what they are said of, then limits, tables and costs.

    Args:
        book: whose words, limits and tables, and whose rules.
        text: only what has this text in its name, prompt, choices or source; all if empty.

    Returns:
        Lines of at most 80 characters; the nearest names where nothing has the text in it.
    """
    used, sought = uses(book), " ".join(text.split()).casefold()
    parts = [
        *(_words(subject, book, used, sought) for subject in Subject),
        _section(
            "LIMITS",
            (
                _limit(limit, used)
                for limit in book.limits.values()
                if _has(sought, limit.name, limit.source)
            ),
        ),
        _section(
            "TABLES",
            (
                _table(table, used)
                for table in book.tables.values()
                if _has(sought, table.name, table.source, *(word.name for word in table.keys))
            ),
        ),
        _section(
            "COSTS OF STEPS",
            (
                _entry(f"{cost.name} = {cost.shown}", cost.source, cost.place)
                for cost in book.costs.values()
                if _has(sought, cost.name, cost.source)
            ),
            "They put the ways to go in order and judge nothing.",
        ),
    ]
    return "\n\n\n".join(filter(None, parts)) or _nothing(book, text)


def _has(sought: str, *texts: str) -> bool:
    return any(sought in text.casefold() for text in texts)


def _nothing(book: RuleBook, text: str) -> str:
    """That nothing has the text in it, with the names that read most like it."""
    names = [*(word.name for word in _may_be_used(book)), *book.limits, *book.tables]
    sought = text.casefold()
    alike = {
        name: max(
            difflib.SequenceMatcher(None, sought, part.casefold()).ratio()
            for part in (name, *name.split())
        )
        for name in names
    }
    near = sorted((name for name in names if alike[name] >= _ALIKE), key=lambda n: -alike[n])
    said = f"Nearest: {', '.join(near[:_MOST_NEAR])}." if near else "No name reads like it."
    return _wrapped(f"No word, limit or table has '{text}' in it. {said}", "")


def _may_be_used(book: RuleBook) -> Iterator[Word]:
    subjects = {part for parts in SCOPES.values() for part in parts}
    return (word for word in book.vocabulary.words if word.subject in subjects)


def _words(subject: Subject, book: RuleBook, used: Used, sought: str) -> str:
    rules_for = [of for of, parts in SCOPES.items() if subject in parts]
    if not rules_for:
        return ""
    words = (
        _word(word, book, used)
        for word in book.vocabulary.words
        if word.subject is subject and _has(sought, word.name, word.prompt, *word.choices)
    )
    judged = "; ".join(judged_for(of) for of in rules_for)
    note = "For every rule." if len(rules_for) == len(SCOPES) else f"For rules for {judged}."
    if Subject.PIER_PIER in rules_for and subject in (Subject.PIER, Subject.WALL):
        note += " In rules for two piers, add 'of this pier' or 'of other pier'."
    return _section(f"SAID OF {judged_for(subject).upper()}", words, note)


def judged_for(subject: Subject) -> str:
    """What a rule is judged for, as the rule says it: ``the site``, ``each pier``."""
    return "the site" if subject is Subject.SITE else f"each {subject.value}"


def _section(title: str, entries: Iterable[str], note: str = "") -> str:
    listed = list(entries)
    if not listed:
        return ""
    head = "\n".join(filter(None, [title, "=" * len(title), _wrapped(note, "")]))
    return "\n\n".join([head, *listed])


def _word(word: Word, book: RuleBook, used: Used) -> str:
    return _entry(
        word.name, word.prompt, answers(word), *_comes_from(word, book),
        _named_in(used.get(word.name, ())),
    )  # fmt: skip


def answers(word: Word) -> str:
    """What answers a word has: kind, unit, choices, plausible range, the worse direction."""
    if word.kind is Kind.CHOICE or word.kind is Kind.YES_NO:
        order = ", from best to worst" if word.worse is Worse.LATER_CHOICE else ""
        return f"{word.kind.value}{order}: {' | '.join(word.choices)}"
    if word.kind in (Kind.TEXT, Kind.REFERENCE):
        return f"{word.kind.value}; rules may print it, not judge by it"
    unit = "" if word.unit in (None, word.kind.value) else f" ({word.unit})"
    parts = [f"{word.kind.value}{unit}"]
    ends = [
        f"{said} {write_quantity(end, word.kind, word.unit)}"
        for said, end in (("from", word.low), ("up to", word.high))
        if end is not None
    ]
    if ends:
        parts.append(" ".join(ends))
    if word.worse is not None:
        parts.append(f"{word.worse.value} is worse")
    return ", ".join(parts)


def _comes_from(word: Word, book: RuleBook) -> Iterator[str]:
    match word.origin:
        case Origin.SEEN | Origin.CHOSEN:
            if word.name not in VOCABULARY:
                place = _place(word, book)
                yield f"the firm's own question{f' at {place}' if place else ''}"
            yield f"asked on sheet {page_of(word).sheet} of the form; {word.origin.value}"
            if word.asks_when is not None:
                choices = " or ".join(word.asks_when.choices)
                yield f"does not apply unless '{word.asks_when.word}' is {choices}"
        case Origin.DERIVED:
            yield f"worked out by {word.made_by}"
        case Origin.CONCLUDED:
            codes = _codes(book.concluding(word))
            yield f"concluded by {codes}" if codes else "no rule concludes it"
            if word.starts_from is not None:
                yield f"before any rule counts it worse: as '{word.starts_from}'"
            else:
                yield f"where no rule concludes it: {word.otherwise}"


def _place(word: Word, book: RuleBook) -> str:
    """Where a firm's own question stands; the change that adds it names it in quotes."""
    named = f"question '{word.name}'"
    return next((change.place for change in book.changes if named in change.what), "")


def _limit(limit: Limit, used: Used) -> str:
    return _entry(
        f"{limit.name} = {limit.shown}", _law(legal=limit.legal), limit.source, limit.place,
        _named_in(used.get(limit.name, ())),
    )  # fmt: skip


def _table(table: Table, used: Used) -> str:
    rows = [(table.answers(row), row.shown) for row in table.rows]
    widest = max(len(keys) for keys, _ in rows)
    return _entry(
        f"{table.name}, by {', '.join(word.name for word in table.keys)}",
        _law(legal=table.legal),
        *(f"{keys:{widest}}  {shown}" for keys, shown in rows),
        table.source, table.place, _named_in(used.get(table.name, ())),
    )  # fmt: skip


def _law(*, legal: bool) -> str:
    return "set by law: a firm may make it stricter, never looser" if legal else ""


def _named_in(rules: Iterable[Rule]) -> str:
    return f"named in {_codes(rules) or 'no rule'}"


def _codes(rules: Iterable[Rule]) -> str:
    return ", ".join(rule.code for rule in rules)


def _entry(head: str, *lines: str) -> str:
    return "\n".join([_wrapped(head, ""), *(_wrapped(line, "  ") for line in lines if line)])


def _wrapped(text: str, indent: str) -> str:
    return "\n".join(
        wrap(
            text, _WIDEST, initial_indent=indent, subsequent_indent=f"{indent}  ",
            break_on_hyphens=False,
        )
    )  # fmt: skip
