"""What a firm's own files may do to the shipped book, and what they may not.

They add rules, limits, tables and questions, and change limits and tables. A figure of law may be
made stricter and never looser. A rule may be replaced or switched off, with a reason and a name,
unless nobody may lift its findings, other rules rest on what it concludes, or it states a
regulation: what the law asks may be lifted for one place, by whom the rule names, and not for
every job at once. A figure that such a rule uses may not be made looser either. What only an
engineer may lift, only an engineer may take out of the book: the licence is asked for.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from survey.rulebook.fields import Fields
from survey.rulebook.figures import KEEP_ROWS, Figures
from survey.rulebook.messages import Mistakes, Span
from survey.rulebook.rules import (
    Arithmetic,
    Change,
    Comparison,
    Conclusion,
    Condition,
    Count,
    Either,
    Every,
    Figure,
    Lift,
    Limit,
    LookUp,
    Negation,
    Operation,
    Operator,
    Outcome,
    Reckoning,
    ReleaseBy,
    Rule,
    RuleBook,
    Table,
    Term,
)
from survey.rulebook.uses import uses
from survey.vocabulary import Word, nearest

_WHEN_HIGHER = (Operator.AT_LEAST, Operator.MORE_THAN)
_BOTH_WAYS = frozenset({"lower", "higher"})


def why_kept(rule: Rule) -> str:
    """Why a rule can't be replaced or switched off; empty if it can."""
    if not isinstance(rule.then, Outcome):
        return f"other rules rest on what {rule.code} concludes"
    if rule.release is ReleaseBy.NOBODY:
        return f"nobody may lift {rule.code}"
    if rule.cites_regulation:
        return f"{rule.code} states a regulation ({rule.source})"
    return ""


def reason_and_name(fields: Fields, rule: Rule | None) -> str:
    """Why a firm replaces a rule or switches it off, and who answers for it.

    Args:
        fields: of the paragraph that does so.
        rule: the shipped rule.
    """
    said = [fields.substance("reason"), fields.substance("by")]
    if rule is not None and rule.release is ReleaseBy.ENGINEER:
        help = f"Only a licensed engineer may lift {rule.code}; give number and state."
        said.append(fields.licence(help=help))
    reason, *who = said
    return f"{reason} ({', '.join(who)})"


def replaced(before: Rule, after: Rule) -> str:
    """What a rule that takes the place of another changes, in one sentence."""
    said = [f"rule {after.code} replaced: {after.name}; shipped: {before.name}"]
    assert isinstance(before.then, Outcome)
    assert isinstance(after.then, Outcome)
    if after.then is not before.then:
        way = "milder" if after.then.rank < before.then.rank else "stricter"
        said.append(f"outcome {after.then.value}, {way} than {before.then.value}")
    if after.release is not before.release:
        said.append(f"release {after.release.value}; shipped: {before.release.value}")
    return "; ".join(said)


def check_figures(figures: Figures, shipped: Iterable[Rule], mistakes: Mistakes) -> list[Change]:
    """Hold each limit and table that a firm sets anew against the shipped one.

    Args:
        figures: all that were read.
        shipped: the rules of the shipped book, which tell in which way a figure is stricter.
        mistakes: where it is noted that one is looser.

    Returns:
        What has changed.
    """
    rules = list(shipped)
    changes: list[Change] = []
    for before, after in figures.replaced:
        ways = stricter_ways(before.name, rules) or _BOTH_WAYS
        kept = next((why for rule in rules if (why := _why_held(before.name, rule))), "")
        if (before.legal or kept) and _other_rows(before, after):
            what = f"the rows of '{after.name}' are not those of the shipped book"
            what = what if before.legal else f"{what}, and {kept}"
            also = ("The shipped one stands", figures.shipped_spans[after.name])
            mistakes.note(figures.spans[after.name], what, KEEP_ROWS, also=also)
            continue
        looser = _looser(before, after, ways) if before.legal or kept else None
        if looser is None:
            changes.extend(_changes(before, after, ways))
            continue
        number, was, now = looser
        here = [figures.spans[after.name], *figures.row_spans.get(after.name, ())][number]
        there = [figures.shipped_spans[after.name], *figures.shipped_row_spans.get(after.name, ())][
            number
        ]
        what = f"'{after.name}' of {now} is looser than the law, which says {was}"
        help = f"It may be stricter, never looser: {before.source}."
        if not before.legal:
            what = f"'{after.name}' of {now} is looser than {was}, and {kept}"
            help = "Such a figure may be stricter, never looser."
        if ways == _BOTH_WAYS:
            what = f"'{after.name}' can't be moved: rules don't tell which way is stricter"
            help = f"It stays {was}. Add a rule of your own to be stricter."
        also = ("The law stands" if before.legal else "The shipped one stands", there)
        mistakes.note(here, what, help, also=also)
    return changes


def _other_rows(before: Limit | Table, after: Limit | Table) -> bool:
    """Whether a table goes by other answers than before, so that figures can't be compared."""
    if not isinstance(before, Table) or not isinstance(after, Table):
        return False
    return [row.keys for row in before.rows] != [row.keys for row in after.rows]


def _why_held(name: str, rule: Rule) -> str:
    """Why a figure may not be made looser: a rule that must stay uses it; empty if it does not."""
    uses_it = any(True for _ in _signs(rule.condition, name, 1))
    return why_kept(rule) if uses_it else ""


def check_used(book: RuleBook, figures: Figures, own: Collection[str], mistakes: Mistakes) -> None:
    """Note a firm's own limit or table that nothing uses: perhaps a shipped name misspelt."""
    used = uses(book)
    new = {n: span for n, span in figures.spans.items() if n not in figures.shipped_spans}
    shipped = [*figures.shipped_spans, *(n for n, span in new.items() if span.file not in own)]
    for name, span in new.items():
        if span.file in own and name not in used:
            help = "As it stands, it changes nothing."
            mistakes.note(span, f"no rule uses '{name}'", help, nearest(name, shipped))


def _pairs(before: Limit | Table, after: Limit | Table) -> Iterator[tuple[int, int, str, str, str]]:
    """Old and new figure in steps and as written, with the row."""
    if isinstance(before, Limit) and isinstance(after, Limit):
        yield before.steps, after.steps, before.shown, after.shown, ""
    elif isinstance(before, Table) and isinstance(after, Table):
        old = {row.keys: row for row in before.rows}
        for row in after.rows:
            was = old.get(row.keys)
            answers = after.answers(row)
            yield (was.steps if was else row.steps - 1, row.steps, was.shown if was else "no row",
                   row.shown, f" for {answers}")  # fmt: skip


def _looser(
    before: Limit | Table, after: Limit | Table, ways: frozenset[str]
) -> tuple[int, str, str] | None:
    """The first figure that is looser: number of its row, 0 for a limit; old and new figure."""
    first = 1 if isinstance(after, Table) else 0
    for number, (was, now, was_shown, now_shown, row) in enumerate(_pairs(before, after), first):
        if (now > was and "lower" in ways) or (now < was and "higher" in ways):
            return number, f"{was_shown}{row}", now_shown
    return None


def _changes(before: Limit | Table, after: Limit | Table, ways: frozenset[str]) -> Iterator[Change]:
    opening = f"{'legal ' if after.legal else ''}{type(after).__name__.lower()}"
    for was, now, was_shown, now_shown, row in _pairs(before, after):
        if was != now:
            moved = "higher" if now > was else "lower"
            way = "" if ways == _BOTH_WAYS else "stricter, " if moved in ways else "looser, "
            what = f"{opening} '{after.name}'{row} is {now_shown}; {way}shipped: {was_shown}"
            yield Change(what, after.source, after.place)


def stricter_ways(name: str, rules: Iterable[Rule]) -> frozenset[str]:
    """Whether a lower or a higher figure makes the book stricter, by the clauses that use it.

    A figure that is used both ways, or multiplied, may not be moved at all: both ways are given.
    """
    ways: set[str] = set()
    for rule in rules:
        for sign in _signs(rule.condition, name, 1):
            ways |= {"lower", "higher"} if sign == 0 else {"lower" if sign > 0 else "higher"}
    return frozenset(ways)


def _signs(condition: Condition, name: str, met: int) -> Iterator[int]:
    """The sign of each use of a figure in a condition.

    1 where a lower figure makes the condition easier to meet, -1 where a higher one does, 0 where
    that can't be said. ``met`` is -1 inside a negation.
    """
    match condition:
        case Comparison(_, operator, _, shown):
            if shown == name and operator is not Operator.IS:
                yield met if operator in _WHEN_HIGHER else -met
        case Reckoning(left, operator, right):
            easier = met if operator in _WHEN_HIGHER else -met
            yield from (easier * -sign for sign in _term_signs(left, name))
            yield from (easier * sign for sign in _term_signs(right, name))
        case Count(_, where, operator, _, _, limit):
            easier = met if operator in _WHEN_HIGHER else -met
            if where is not None:
                yield from _signs(where, name, easier)
            if limit == name:
                yield easier
        case Negation(part):
            yield from _signs(part, name, -met)
        case Every(parts) | Either(parts):
            for part in parts:
                yield from _signs(part, name, met)


def _term_signs(term: Term, name: str) -> Iterator[int]:
    """For each use of a figure: 1 if the term rises with it, -1 if it falls, 0 if that depends."""
    match term:
        case Figure(_, shown):
            if shown == name:
                yield 1
        case LookUp(table):
            if table.name == name:
                yield 1
        case Arithmetic(operation, left, right):
            turned = -1 if operation in (Operation.MINUS, Operation.DIVIDED_BY) else 1
            scaled = operation in (Operation.TIMES, Operation.DIVIDED_BY)
            plain = scaled and _plain(left if _uses(right, name) else right)
            keep = 1 if not scaled or (plain and not _uses_both(left, right, name)) else 0
            yield from (sign * keep for sign in _term_signs(left, name))
            yield from (sign * keep * turned for sign in _term_signs(right, name))


def _plain(term: Term) -> bool:
    return isinstance(term, Figure) and term.value > 0


def _uses_both(left: Term, right: Term, name: str) -> bool:
    return _uses(left, name) and _uses(right, name)


def _uses(term: Term, name: str) -> bool:
    return any(True for _ in _term_signs(term, name))


def added(rules: Iterable[Rule], questions: Iterable[tuple[Word, Span]]) -> Iterator[Change]:
    """The rules, standing releases and questions that a firm's files add."""
    for word, span in questions:
        yield Change(f"question '{word.name}' added", "", f"{span.file}:{span.line}")
    for rule in rules:
        if isinstance(rule.then, Lift):
            lift = rule.then
            what = (
                f"standing release {rule.code} ({rule.name}) lifts {lift.finding} from "
                f"{lift.given.isoformat()} to {lift.last.isoformat()}"
            )
            why = f"{lift.note} ({lift.engineer}, {lift.licence})"
            yield Change(what, why, rule.place, (lift.given, lift.last))
        elif rule.case_start is not None and isinstance(rule.then, Conclusion):
            # The rule that counts a seat out, where that does not suit.
            what = f"{rule.then.word.name} ({rule.code}) added to the catalogue"
            yield Change(what, rule.source, rule.place)
        else:
            yield Change(f"rule {rule.code} added: {rule.name}", rule.source, rule.place)
