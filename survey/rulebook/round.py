"""What lies round a thing: the things, or the pairs with it, that a rule's count looks at."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from survey.facts import Facts, Thing
from survey.vocabulary import Subject


@dataclass(frozen=True, slots=True)
class Near:
    """A thing, or a pair, round the one that is judged.

    Args:
        thing: the thing or pair.
        surely: false for a pier that names no wall: it may stand at this one or at another.
    """

    thing: Thing
    surely: bool


class Round:
    """Finds what lies round each thing of a site; each answer is worked out once."""

    def __init__(self, facts: Facts) -> None:
        self._facts = facts
        self._found: dict[tuple[Subject, Subject], Mapping[int, tuple[Near, ...]]] = {}

    def of(self, thing: Thing, looked_at: Subject) -> tuple[Near, ...]:
        """What is looked at round a thing, in the order of the form."""
        key = (thing.subject, looked_at)
        if key not in self._found:
            self._found[key] = self._gather(*key)
        return self._found[key].get(id(thing), ())

    def _gather(self, subject: Subject, looked_at: Subject) -> Mapping[int, tuple[Near, ...]]:
        round_each: dict[int, list[Near]] = {id(t): [] for t in self._facts.of(subject)}
        for other in self._facts.of(looked_at):
            owner = id(other.part(subject))
            if owner in round_each:
                round_each[owner].append(Near(other, surely=True))
            else:
                for near in round_each.values():
                    near.append(Near(other, surely=False))
        return {owner: tuple(near) for owner, near in round_each.items()}
