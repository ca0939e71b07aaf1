"""One rule in plain text: when it is met, what it does, and answers that meet it."""

from __future__ import annotations

import datetime as dt
import re
import textwrap
from collections.abc import Iterable, Iterator
from itertools import islice

from survey.facts import FactValue
from survey.rulebook.cases import Around, Case, Settings
from survey.rulebook.rules import (
    Conclusion,
    Lift,
    Limit,
    Outcome,
    ReleaseBy,
    Rule,
    RuleBook,
    Table,
    comparisons,
)
from survey.rulebook.study.examples import examples
from survey.rulebook.study.listing import judged_for
from survey.rulebook.study.wording import Wording, put_in_words
from survey.rulebook.uses import in_order, names_in, uses
from survey.vocabulary import (
    MEASURES,
    ROUND,
    Kind,
    Missing,
    Origin,
    Subject,
    Word,
    from_steps,
    plain_number,
    read_quantity,
    steps,
    write_quantity,
)

_WIDEST = 88
_MOST_WAYS = 8
_VERDICT = {
    Outcome.NOTE: "it is printed for reading only",
    Outcome.CONDITION: "the verdict is GO WITH CONDITIONS or worse",
    Outcome.ASK: "the verdict is HOLD or worse",
    Outcome.ENGINEER: "the verdict is ENGINEER REVIEW or worse",
    Outcome.STOP: "the verdict is NO-GO",
}
_RELEASE = {
    ReleaseBy.NOBODY: "Nobody may release it.",
    ReleaseBy.COMPETENT_PERSON: "A competent person or a licensed engineer may release it.",
    ReleaseBy.ENGINEER: "Only a licensed engineer may release it.",
}
# What a case can't say without quotes: see rules/README.md.
_QUOTED = re.compile(r"[,()=]|\b(and|or|not|is|gives)\b")


def explain(rule: Rule, book: RuleBook) -> str:
    """A rule in words, with examples that are proved by judging the rule on them.

    Args:
        rule: a rule of the book.
        book: for its limits, its tables and the rules that work together with this one.

    Returns:
        Lines of at most 88 characters; answers are written as in a case.
    """
    title = f"{rule.code} {rule.name}"
    parts = [
        _wrapped(title) + "\n" + "=" * min(len(title), _WIDEST),
        _wrapped(" ".join(_what_it_does(rule, book))),
        _condition(rule, book),
        _concluded_words(rule, book),
        _ways(rule, book),
        _figures(rule, book),
    ]
    return "\n\n".join(filter(None, parts))


# What it does


def _what_it_does(rule: Rule, book: RuleBook) -> Iterator[str]:
    yield f"Judged for {judged_for(rule.subject)}."
    match rule.then:
        case Conclusion(word, choice):
            yield f"Where it is met, {word.name} counts as {choice} or worse."
            looking = _codes(other for other in in_order(book) if word in _looked_at(other))
            yield f"That is looked at by {looking}." if looking else "No rule looks at that."
            yield f"Source: {rule.source}."
        case Lift(finding, engineer, licence, given, last, note):
            yield f"Where it is met, {finding} is released by {engineer} ({licence}), from {given}"
            yield f"to {last}. The crew keeps to this: {note}"
        case outcome:
            yield f"Where it is met, {_VERDICT[outcome]}."
            yield f"Who acts: {rule.who}. {_filled(rule.do, book)} {_RELEASE[rule.release]}"
            yield f"Source: {rule.source}."
    whose = "in the firm's own file, at" if rule.local else "at"
    yield f"It stands {whose} {rule.place}."


def _filled(text: str, book: RuleBook) -> str:
    """A text of the rule with the figures of limits; answers stay in braces."""
    for name in names_in(text):
        if name in book.limits:
            text = text.replace(f"{{{name}}}", book.limits[name].shown)
    return text


def _looked_at(rule: Rule) -> list[Word]:
    words = (word.itself for clause in comparisons(rule.condition) for word in clause.words)
    return list(dict.fromkeys(words))


def _codes(rules: Iterable[Rule]) -> str:
    return ", ".join(rule.code for rule in rules)


def _condition(rule: Rule, book: RuleBook) -> str:
    wording = put_in_words(rule.condition, rule.subject, book)
    if not wording.parts:
        return _wrapped(f"It is met when {wording.text}.")
    return "\n".join(["It is met when", *_lines(wording, "  ")])


def _lines(wording: Wording, indent: str) -> Iterator[str]:
    yield _wrapped(wording.text, indent)
    for part in wording.parts:
        yield from _lines(part, f"{indent}  ")


def _concluded_words(rule: Rule, book: RuleBook) -> str:
    said = []
    for word in _looked_at(rule):
        if word.origin is Origin.CONCLUDED:
            codes = _codes(book.concluding(word)) or "no rule"
            start = word.otherwise if word.starts_from is None else f"the {word.starts_from}"
            said.append(
                _wrapped(f"{word.name} is concluded by {codes}; before that it is {start}.")
            )
    return "\n".join(said)


# Examples


def _ways(rule: Rule, book: RuleBook) -> str:
    found = list(islice(examples(rule, book), _MOST_WAYS + 1))
    if not found:
        return "No answers that meet it were found."
    lines = ["It is met, for example, by (what is not named is not known):"]
    for number, example in enumerate(found[:_MOST_WAYS], start=1):
        lines.append(_wrapped(f"{number}. {', '.join(_answers(example.met))}", "  "))
        if example.not_met is not None:
            lines.append(_wrapped(f"Not met {_difference(example.met, example.not_met)}.", "     "))
    if len(found) > _MOST_WAYS:
        lines.append(f"  It can be met in more ways than these {_MOST_WAYS}.")
    return "\n".join(lines)


def _answers(case: Case) -> list[str]:
    """The answers of a case, as a rules file has them."""
    return [
        *_settings(case.settings, case.rule.subject, case),
        *(_thing(t, case) for t in case.around),
    ]


def _settings(settings: Settings, subject: Subject, case: Case) -> Iterator[str]:
    names = {word: name for name, word in case.vocabulary.scope(subject).items()}
    return (f"{names[word]} {_answer(word, value)}" for word, value in settings.items())


def _thing(thing: Around, case: Case) -> str:
    around = ROUND[case.rule.subject]
    noun = next(name for name, of in around.items() if of is thing.of)
    answers = ", ".join(_settings(thing.settings, thing.of, case))
    return f"{noun} ({answers})"


def _answer(word: Word, value: FactValue) -> str:
    if isinstance(value, Missing):
        return str(value)
    if isinstance(value, str):
        return f'"{value}"' if _QUOTED.search(value) else value
    if word.kind is Kind.DATE:
        return dt.date.fromordinal(value).isoformat()
    canonical = from_steps(word.kind, value)
    text = write_quantity(canonical, word.kind, word.unit).replace(",", "")
    if steps(word.kind, read_quantity(text, word.kind, "")) == value:
        return text
    return f"{plain_number(canonical)} {MEASURES[word.kind].canonical}"


def _difference(met: Case, not_met: Case) -> str:
    """The one answer in which two cases differ."""
    before, after = _answers(met), _answers(not_met)
    if len(after) < len(before):
        return f"without {_extra(before, after)}"
    if len(after) > len(before):
        return f"with one more {_extra(after, before)}"
    return f"with {next(new for old, new in zip(before, after, strict=True) if old != new)}"


def _extra(longer: list[str], shorter: list[str]) -> str:
    """The first of some answers that others lack."""
    pairs = zip(longer, [*shorter, ""], strict=False)
    return next(one for one, other in pairs if one != other)


# Figures


def _figures(rule: Rule, book: RuleBook) -> str:
    used = {name for name, rules in uses(book).items() if rule in rules}
    limits = [_limit(limit) for name, limit in book.limits.items() if name in used]
    tables = [_table(table) for name, table in book.tables.items() if name in used]
    return (
        "\n".join(["Limits and tables that it uses:", *limits, *tables]) if limits or tables else ""
    )


def _limit(limit: Limit) -> str:
    return _wrapped(f"{limit.name} = {limit.shown}: {_source(limit)}", "  ")


def _table(table: Table) -> str:
    keys = ", ".join(word.name for word in table.keys)
    rows = [f"    {table.answers(row)}: {row.shown}" for row in table.rows]
    return "\n".join([_wrapped(f"{table.name} by {keys}: {_source(table)}", "  "), *rows])


def _source(figure: Limit | Table) -> str:
    law = "set by law, " if figure.legal else ""
    return f"{law}{figure.source} ({figure.place})"


def _wrapped(text: str, indent: str = "") -> str:
    return textwrap.fill(
        text, _WIDEST, initial_indent=indent, subsequent_indent=f"{indent}   " if indent else "",
        break_on_hyphens=False,
    )  # fmt: skip
