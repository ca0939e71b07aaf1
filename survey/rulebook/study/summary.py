"""What trying a book says: what a firm's files change, and what their author may have forgotten."""

from __future__ import annotations

from collections.abc import Iterator

from survey.rulebook.rules import Outcome, Rule, RuleBook
from survey.rulebook.uses import uses
from survey.vocabulary import VOCABULARY

_READ_BY = ("crew", "competent person")


def summary(book: RuleBook) -> str:
    """A book that was read and tried, in some lines for its owner."""
    cases = sum(len(rule.case_fields) for rule in book)
    own = [rule for rule in book if rule.local]
    lines = [f"{c.place}: {c.what}" + (f"\n  {c.why}" if c.why else "") for c in book.changes]
    lines += [
        f"{one.span.file}:{one.span.line}: turned by your figures: {one.what}"
        for one in book.turned
    ]
    lines += _forgotten(book)
    whose = f", {len(own)} of them your own" if book.changes else "; no rules of your own"
    return "\n".join([*lines, f"{sum(1 for _ in book)} rules{whose}.", _tried(cases)])


def _tried(cases: int) -> str:
    return f"{cases} cases tried, none of them wrong."


def _forgotten(book: RuleBook) -> Iterator[str]:
    """What is no mistake and yet may not be meant."""
    used = uses(book)
    for word in book.vocabulary.words:
        if word.name not in VOCABULARY and word.name not in used:
            yield f"No rule looks at your question '{word.name}': its answer changes no verdict."
    unread = [rule.code for rule in book if rule.local and _lacks_spanish(rule)]
    if unread:
        yield f"No Spanish ('say es', 'do es') for what the crew reads: {', '.join(unread)}."


def _lacks_spanish(rule: Rule) -> bool:
    crew_reads = rule.who in _READ_BY or rule.then is Outcome.CONDITION
    acts = isinstance(rule.then, Outcome) and rule.then is not Outcome.ASK
    return acts and crew_reads and not (rule.say_es and rule.do_es)
