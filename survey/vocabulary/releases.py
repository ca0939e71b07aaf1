"""Words of a release: who lifted which finding, where, and until when."""

from __future__ import annotations

import re

from survey.vocabulary._declare import CHOSEN, declares
from survey.vocabulary.spelling import folded, says_not_known
from survey.vocabulary.words import AsksWhen, Subject

_d = declares(Subject.RELEASE)
# Beside what says that nobody knows; as letters and digits alone: "See above" is seeabove.
_SAYS_NOTHING = {
    "", "none", "nil", "null", "na", "ok", "okay", "yes", "no", "later", "notyet", "awaited",
    "awaiting", "appliedfor", "inprogress", "seeabove", "asabove", "same", "sameasabove", "ditto",
    "idem", "approved", "released", "verbal", "byphone", "onfile", "seefile", "seeletter",
    "seesheet", "seeoffice", "askoffice", "asktheoffice", "officeknows", "officehasit",
    "signatureonfile", "inc", "nobody", "noone", "test", "ninguno", "ninguna", "nada", "nadie",
    "si", "luego", "despues", "entramite", "aprobado", "aprobada", "igual", "verarriba",
    "veroficina", "verlaoficina", "preguntarenlaoficina", "prueba",
}  # fmt: skip
_ROLES = {
    "engineer", "licensedengineer", "professionalengineer", "structuralengineer", "civilengineer",
    "registeredengineer", "engineerofrecord", "eor", "pe", "se", "competentperson", "surveyor",
    "safetylead", "owner", "customer", "crew", "crewlead", "foreman", "office",
}  # fmt: skip
_FEWEST_LETTERS = 2
_AN_ANSWER = r"(the |an? )?(letter|answer|reply|approval|review|confirmation|engineer)"
_NOT_GRANTED = re.compile(
    r"\bnot (yet )?(been )?(approved|released|granted|given|accepted)\b"
    r"|\b(refused|denied|rejected)\b|\bno (answer|approval|release)\b"
    rf"|\b(wait(ing)? for|awaiting|pending|subject to) {_AN_ANSWER}\b"
    r"|\b(will|to) be (checked|confirmed|approved|released|decided|given|sent)\b",
    re.IGNORECASE,
)


def says_nothing(text: str) -> bool:
    """Whether a text only holds a place: "not known", "see above", one letter again and again.

    >>> [says_nothing(text) for text in ("no sé", "xx", "T.B.D.", "Bo Muster")]
    [True, True, True, False]
    """
    plain = _plain(text)
    return says_not_known(text) or plain in _SAYS_NOTHING or len(set(plain)) == 1


def names_nobody(text: str) -> bool:
    """Whether a text is no person's name: a role, a mark that holds its place, or no letters.

    >>> [names_nobody(text) for text in ("The engineer", "P.E.", "4711", "Bo Muster")]
    [True, True, True, False]
    """
    letters = sum(letter.isalpha() for letter in text)
    role = re.sub(r"^(the|our|my|an|a) ", "", text.strip().lower())
    return says_nothing(text) or letters < _FEWEST_LETTERS or _plain(role) in _ROLES


def says_no(text: str) -> bool:
    """Whether a note says that something was not granted, or not yet.

    >>> [says_no(text) for text in ("NOT approved", "wait for letter", "Letter of 20 Nov: one pit")]
    [True, True, False]
    """
    return _NOT_GRANTED.search(text) is not None


def gives_no_number(text: str) -> bool:
    """Whether a text is no licence number: a mark that holds its place, or no digit in it.

    >>> [gives_no_number(text) for text in ("PE, Exampleland", "pending", "PE 1, Exampleland")]
    [True, True, False]
    """
    letters = "".join(letter for letter in text if letter.isalpha() or letter.isspace())
    return (
        says_nothing(text)
        or not any(letter.isdigit() for letter in text)
        or (bool(letters.strip()) and says_nothing(letters))
    )


def _plain(text: str) -> str:
    return "".join(letter for letter in folded(text) if letter.isalnum())


RELEASE_WORDS = (
    _d["text"]("released finding", "Code of the finding, as on the sheet", "Such as FOOT-1.", origin=CHOSEN),
    _d["text"](
        "released place", "Where: 'P1 to P5, P7', or 'site' for the whole site",
        "As on the sheet; a pier and a line are written 'P1 / gas'. Name each place: a pier that is "
        "added later was not released, nor is a P2a by 'P1 to P5'.", origin=CHOSEN,
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
