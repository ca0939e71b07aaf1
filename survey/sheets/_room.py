"""How much has room on the front page: reckoned from the length of each text, on the safe side."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

# A letter page within margins of 12 mm, 9 mm above and 12 mm below, but for a line and some letters
# kept in reserve; A4 is 3 % narrower and 7 % higher.
_HEIGHT_PT, _WIDTH_PT = 724.0, 538.0
_LINE_EM = 1.25
_LETTER_EM = 0.52  # of a wide book face, words and spaces together
_BOLD = 1.15  # against other letters
_LOST_LETTERS = 2.0  # at the end of a line, before the word that has no room in it
_WIDE = re.compile(r"[^\x00-\u02ff]")  # signs of which many take a whole em


class Room:
    """A page in letters of one size.

    Args:
        size_pt: of its letters.
    """

    def __init__(self, size_pt: float) -> None:
        self.size_pt = size_pt
        self.lines = _HEIGHT_PT / (size_pt * _LINE_EM)
        self._letters = _WIDTH_PT / (size_pt * _LETTER_EM)

    def tall(self, text: str, share: float = 1.0, scale: float = 1.0, *, bold: str = "") -> float:
        """Lines that a text takes in a column.

        Args:
            text: none takes no line.
            share: of the page's width that the column has.
            scale: of its letters, against those of the page.
            bold: what stands before it in bold letters.
        """
        if not text and not bold:
            return 0.0
        letters = _letters_of(text) + math.ceil(_BOLD * _letters_of(bold))
        per_line = max(4.0, self._letters * share / scale - _LOST_LETTERS)
        return math.ceil(letters / per_line) * scale


def _letters_of(text: str) -> int:
    """The letters of a text, wide signs as two."""
    return len(text) if text.isascii() else len(text) + len(_WIDE.findall(text))


def fitting(heights: Sequence[float], room: float, note: float) -> int:
    """How many of the first rows have room; where not all do, with a note on the others.

    >>> fitting([2.0, 2.0, 2.0], 6.0, 1.0), fitting([2.0, 2.0, 2.0], 5.9, 1.0)
    (3, 2)
    """
    if sum(heights) <= room:
        return len(heights)
    left, number = room - note, 0
    for height in heights:
        left -= height
        if left < 0:
            break
        number += 1
    return number
