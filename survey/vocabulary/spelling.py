"""One spelling for what people write in many: quotes, dashes, spaces, capitals, accents.

And the words for yes, for no, and for an answer that nobody has, in English and Spanish.
"""

from __future__ import annotations

import re
import unicodedata

_TIDY = str.maketrans(
    {**dict.fromkeys("\N{LEFT SINGLE QUOTATION MARK}\N{RIGHT SINGLE QUOTATION MARK}"
                     "\N{SINGLE HIGH-REVERSED-9 QUOTATION MARK}\N{PRIME}\N{ACUTE ACCENT}"
                     "\N{MODIFIER LETTER APOSTROPHE}\N{MODIFIER LETTER PRIME}"
                     "\N{FULLWIDTH APOSTROPHE}`", "'"),
     **dict.fromkeys("\N{LEFT DOUBLE QUOTATION MARK}\N{RIGHT DOUBLE QUOTATION MARK}"
                     "\N{DOUBLE LOW-9 QUOTATION MARK}\N{DOUBLE PRIME}"
                     "\N{MODIFIER LETTER DOUBLE PRIME}\N{FULLWIDTH QUOTATION MARK}", '"'),
     **dict.fromkeys("\N{HYPHEN}\N{NON-BREAKING HYPHEN}\N{FIGURE DASH}\N{EN DASH}\N{EM DASH}"
                     "\N{MINUS SIGN}", "-"),
     "\N{FRACTION SLASH}": "/",
     "½": " 1/2", "⅓": " 1/3", "⅔": " 2/3", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8",
     "⅝": " 5/8", "⅞": " 7/8"}
)  # fmt: skip
_OTHER_SPELLINGS = {
    "gray": "grey", "story": "storey", "stories": "storeys", "neighbor": "neighbour",
    "neighbors": "neighbours", "mold": "mould", "meter": "metre", "meters": "metres",
    "color": "colour", "center": "centre", "curb": "kerb", "ax": "axe",
}  # fmt: skip
UNSEEN = "\N{REPLACEMENT CHARACTER}"
_UNSEEN_BEFORE_DIGIT = re.compile(r"(?<![^\W\d_])\0+(?=[\s.,+-]*\d)")
_WORD = re.compile(r"[a-z]+")
_DASH = re.compile(r"(?<=[^\W\d_])\s*-\s*(?=[^\W\d_])")  # within a name; not the sign of -1
_INCH_MARK = re.compile(r"(?<=\d)\s*(?:\"|''|in\b)")
_FOOT_MARK = re.compile(r"(?<=\d)\s*(?:'(?!\d)|ft\b)")

# What stands for an answer that nobody has. A cell with one of the first can't mean anything
# else; one of the others is a choice where a question has it as such.
ALWAYS_NOT_KNOWN = frozenset(
    {"", "not known", "unknown", "not sure", "could not see", "?", "nk", "n/k", "no se sabe",
     "desconocido"}
)  # fmt: skip
_NOT_KNOWN = {
    "unsure", "uncertain", "dont know", "do not know", "dk", "not certain", "no idea",
    "couldnt see", "cant see", "cannot see", "can not see", "cant tell", "cannot tell",
    "couldnt tell", "could not tell", "not seen", "not checked", "not measured", "not asked",
    "we dont know", "i dont know", "dont know yet", "not known yet", "not yet known",
    "not available", "not given", "not assigned yet", "not yet assigned", "havent asked",
    "have not asked", "nobody knows", "no one knows", "will follow",
    "no access", "inaccessible", "could not reach", "couldnt reach", "could not measure",
    "couldnt measure", "tbd", "tbc", "tba", "pending", "to be confirmed", "to be determined",
    "to be decided", "to be advised", "to be checked", "to follow", "to come",
    "no se", "no lo se", "no sabe", "no sabemos", "no estoy seguro", "no estoy segura",
    "quien sabe", "desconocida", "se desconoce", "no conocido", "no conocida", "no se ve",
    "no se vio", "no se ve bien", "no se pudo ver", "no se puede ver", "no visto", "no pude ver",
    "no se reviso", "no revisado", "no se midio", "no medido", "no se pudo medir", "sin medir",
    "sin revisar", "sin acceso", "no hay acceso", "pendiente", "por confirmar", "por determinar",
    "por definir", "por ver",
    "por asignar", "a confirmar", "sin confirmar", "no lo sabemos", "nadie sabe", "ni idea",
    "no pregunte", "no se pregunto", "no preguntado", "sin preguntar", "no disponible",
}  # fmt: skip
_DOES_NOT_APPLY = {
    "does not apply", "doesnt apply", "do not apply", "n/a", "na", "not applicable",
    "non applicable", "no aplica", "no se aplica", "no corresponde",
}  # fmt: skip
_YES = {"yes", "y", "true", "yep", "yeah", "yup", "si", "s", "verdadero", "cierto", "afirmativo",
        "affirmative", "\N{CHECK MARK}", "\N{HEAVY CHECK MARK}", "\N{BALLOT BOX WITH CHECK}",
        "\N{WHITE HEAVY CHECK MARK}"}  # fmt: skip
_NO = {"no", "n", "false", "nope", "falso", "negativo", "negative"}
_NUMBERS = {
    name: number
    for number, names in enumerate(
        ("zero cero", "one un uno una", "two dos", "three tres", "four cuatro", "five cinco",
         "six seis", "seven siete", "eight ocho", "nine nueve", "ten diez")
    )
    for name in names.split()
}  # fmt: skip
_PLACEHOLDER = re.compile(r"[-?.\s\N{HORIZONTAL ELLIPSIS}]+")


def tidy(text: str) -> str:
    """One line, plain quotes, dashes and spaces, nothing unseen, no blanks at the ends.

    What is unseen before a digit could be a dash or a sign, so it is shown: it does not make
    36 of 3 and 6.
    """
    line = " ".join(text.translate(_TIDY).split())
    if line.isprintable():
        return line
    shown = "".join(c if c.isprintable() else "\0" for c in line)
    return " ".join(_UNSEEN_BEFORE_DIGIT.sub(UNSEEN, shown).replace("\0", "").split())


def folded(text: str) -> str:
    """A text as it compares: no capitals, accents, quotes round it or full stop after it.

    >>> folded(' "Sí." '), folded("Dry laid Stone") == folded("dry - laid stone")
    ('si', True)
    """
    plain = _unquoted(tidy(text)).casefold()
    if not plain.isascii():
        letters = unicodedata.normalize("NFD", plain)
        plain = "".join(c for c in letters if not unicodedata.combining(c))
    plain = plain.rstrip(".!").rstrip() or plain
    plain = _FOOT_MARK.sub(" ft", _INCH_MARK.sub(" in", _DASH.sub(" ", plain)))
    return _WORD.sub(lambda word: _OTHER_SPELLINGS.get(word[0], word[0]), plain)


def _unquoted(text: str) -> str:
    while len(text) > 1 and text[0] == text[-1] and text[0] in "\"'":
        text = text[1:-1].strip()
    return text


def says_not_known(text: str) -> bool:
    """Whether a text stands for an answer that nobody has: words, dashes, question marks.

    Never one that could mean none or no.

    >>> [says_not_known(text) for text in ("Don't know", "--", "no sé", "none", "no", "0")]
    [True, True, True, False, False, False]
    """
    word = folded(text)
    return (
        word in ALWAYS_NOT_KNOWN
        or _letters(word) in ALWAYS_NOT_KNOWN | _NOT_KNOWN
        or _PLACEHOLDER.fullmatch(word) is not None
    )


def says_does_not_apply(text: str) -> bool:
    """Whether a text says that the question does not come up.

    >>> [says_does_not_apply(text) for text in ("N.A.", "no aplica", "no")]
    [True, True, False]
    """
    return _letters(folded(text)) in _DOES_NOT_APPLY


def yes_or_no(text: str) -> str | None:
    """``yes`` or ``no``, if a text says either; a cross or a 1 could mean both.

    >>> [yes_or_no(text) for text in ("Sí", "NO.", "x", "no sé")]
    ['yes', 'no', None, None]
    """
    word = folded(text)
    return "yes" if word in _YES else "no" if word in _NO else None


def number_word(text: str) -> int | None:
    """A number up to ten that is written as a word."""
    return _NUMBERS.get(folded(text))


def _letters(text: str) -> str:
    """Without the dots of an abbreviation and the apostrophes: ``n.k.``, ``don't``."""
    return text.replace(".", "").replace("'", "").strip()
