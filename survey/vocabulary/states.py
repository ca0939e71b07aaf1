"""The two answer states that are not a value.

An answer is a value, *not known* or *does not apply*. Neither state has a truth value on
purpose: ``if answer:`` on a missing answer is how "not known" would quietly become "no",
so it raises instead.
"""

from __future__ import annotations

import enum
from typing import Final, NoReturn


class Missing(enum.Enum):
    """An answer that is no value."""

    NOT_KNOWN = "not known"
    DOES_NOT_APPLY = "does not apply"

    def __str__(self) -> str:
        return self.value

    def __bool__(self) -> NoReturn:
        raise TypeError(f"'{self.value}' is neither true nor false; compare with 'is'")


NOT_KNOWN: Final = Missing.NOT_KNOWN
DOES_NOT_APPLY: Final = Missing.DOES_NOT_APPLY
