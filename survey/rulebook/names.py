"""Names that a rules file may give: they must read as names wherever they are used."""

from __future__ import annotations

import re

from survey.rulebook.values import any_day, any_quantity
from survey.vocabulary import Subject, Vocabulary

# Words of the rule language, which would end a name, and those that mean something at its start.
RESERVED = frozenset(("and", "or", "not", "is", "gives", "as", "where", "meets", "plus", "minus",
                      "times", "divided"))  # fmt: skip
_FIRST = frozenset(("any", "no", "every", "number", "not", "working", "count", "up"))
_SIGN = re.compile(r'[(),="\u201c\u201d{}|]')
_SUBJECTS = frozenset(subject.value for subject in Subject)
_OF_A_PAIR = (" of this pier", " of other pier")


def reserved(name: str) -> str | None:
    """The first word of a name that has a meaning of its own in rules."""
    words = name.split()
    found = [word for word in words if word in RESERVED] or [w for w in words[:1] if w in _FIRST]
    return found[0] if found else None


def unfit(name: str, vocabulary: Vocabulary) -> str:
    """Why a name can't be given; empty if it can."""
    if name in vocabulary:
        return f"'{name}' is a word of the form already"
    if name in _SUBJECTS:
        return f"'{name}' is what rules call a thing on site"
    if name.endswith(_OF_A_PAIR):
        return "a name that ends like a word of two piers"
    if word := reserved(name):
        return f"'{word}' has a meaning of its own in rules"
    if sign := _SIGN.search(name):
        return f"a name with '{sign[0]}' in it"
    if any_quantity(name) is not None or any_day(name) is not None:
        return f"'{name}' reads like a figure"
    return ""
