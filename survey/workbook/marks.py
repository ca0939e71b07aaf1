"""The comments that a marked copy has, told from those of people by a seal over their text.

Whoever changes such a comment, or writes another into it, breaks the seal: what is then said there
is a person's word. An author's name would not do: programs keep it when the text is changed, and
some drop it when they save.
"""

from __future__ import annotations

import hashlib
import re

AUTHOR = "pier-survey"
_MARK = re.compile(rf"\s*{AUTHOR}:(?P<text>.*)\[(?P<seal>[0-9a-f]{{8}})\]\s*", re.DOTALL)


def mark(text: str) -> str:
    """The comment that says a text.

    >>> is_mark(mark("expected a length")), is_mark(mark("expected a length") + " gas here")
    (True, False)
    """
    return f"{AUTHOR}: {text} [{_seal(text)}]"


def is_mark(comment: str) -> bool:
    """Whether a comment is one of ours, and nobody has changed it since."""
    found = _MARK.fullmatch(comment)
    return found is not None and _seal(found["text"]) == found["seal"]


def _seal(text: str) -> str:
    """Eight signs that belong to a text, however a program breaks its lines."""
    return hashlib.sha256("".join(text.split()).encode()).hexdigest()[:8]
