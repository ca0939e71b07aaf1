"""The order in which rules chain: each after the rules whose conclusions it looks at."""

from __future__ import annotations

from collections.abc import Iterable

from survey.rulebook.messages import Mistakes, Span
from survey.rulebook.rules import Conclusion, Condition, Rule, comparisons
from survey.vocabulary import Origin, Word


def in_levels(
    rules: Iterable[Rule], heads: dict[str, Span], mistakes: Mistakes
) -> tuple[tuple[Rule, ...], ...]:
    """Order rules so that each stands after the conclusions it looks at.

    Args:
        rules: in the order of the book.
        heads: the head line of each rule, by code.
        mistakes: where a circle is noted.
    """
    listed = list(rules)
    concluders: dict[str, list[Rule]] = {}
    for rule in listed:
        if isinstance(rule.then, Conclusion):
            concluders.setdefault(rule.then.word.name, []).append(rule)
    depth: dict[str, int] = {}

    def level(rule: Rule, path: tuple[str, ...]) -> int:
        if rule.code in path:
            raise _CircleError([*path[path.index(rule.code) :], rule.code])
        if rule.code not in depth:
            before = [
                level(other, (*path, rule.code))
                for word in _concluded_words(rule.condition)
                for other in concluders.get(word.itself.name, ())
            ]
            depth[rule.code] = max(before, default=-1) + 1
        return depth[rule.code]

    try:
        ranked = [(level(rule, ()), rule) for rule in listed]
    except _CircleError as circle:
        first, second, *_ = circle.codes
        what = f"conclusions that go round in a circle: {' -> '.join(circle.codes)}"
        help = "One of these rules must not look at what it leads to."
        also = None if first == second else (f"{second} stands", heads[second])
        mistakes.note(heads[first], what, help, also=also)
        return ()
    deepest = max((rank for rank, _ in ranked), default=-1)
    return tuple(tuple(r for rank, r in ranked if rank == n) for n in range(deepest + 1))


class _CircleError(Exception):
    def __init__(self, codes: list[str]) -> None:
        self.codes = codes


def _concluded_words(condition: Condition) -> list[Word]:
    used = [word for clause in comparisons(condition) for word in clause.words]
    return [word for word in used if word.origin is Origin.CONCLUDED]
