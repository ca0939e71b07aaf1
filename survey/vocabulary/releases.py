"""Words of a release: who lifted which finding, where, and until when."""

from __future__ import annotations

from survey.vocabulary._declare import CHOSEN, declares
from survey.vocabulary.words import AsksWhen, Subject

_d = declares(Subject.RELEASE)
_SAYS_NOTHING = {"", "tbd", "tba", "pending", "none", "to follow", "n/a", "na", "ok", "unknown"}


def says_nothing(text: str) -> bool:
    """Whether a text only holds a place: a dash, one letter again and again, "to follow".

    >>> [says_nothing(text) for text in ("-", "xx", "TBD", "Bo Muster")]
    [True, True, True, False]
    """
    plain = text.strip(" .-_?").lower()
    return plain in _SAYS_NOTHING or len(set(plain)) == 1


RELEASE_WORDS = (
    _d["text"]("released finding", "Code of the finding, as on the sheet", "Such as FOOT-1.", origin=CHOSEN),
    _d["text"](
        "released place", "Where: 'P1 to P5, P7', or 'site' for the whole site",
        "As on the sheet; a pier and a line are written 'P1 / gas'. Name each place: a pier that is "
        "added later was not released.", origin=CHOSEN,
    ),
    _d["text"]("released by", "Name of the person who releases it", origin=CHOSEN),
    _d["choice"](
        "releasing role", "competent person | licensed engineer", "In what role?", origin=CHOSEN,
    ),
    _d["text"](
        "licence number", "Licence number and state", origin=CHOSEN,
        asks_when=AsksWhen("releasing role", ("licensed engineer",)),
    ),
    _d["date"]("release date", "Day of the release", origin=CHOSEN),
    _d["date"]("release end", "Last day on which it holds", origin=CHOSEN),
    _d["text"](
        "release note", "What it rests on and under what conditions: letter, drawing, sequence",
        "The crew ticks it; without it the release does not hold.", origin=CHOSEN,
    ),
)  # fmt: skip
