"""What is told of a file besides its answers, gathered while it is read."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field

from survey.answers import as_text
from survey.errors import Problem
from survey.vocabulary import Units, tidy
from survey.workbook.layout import LONGEST_CELL
from survey.workbook.reading.book import NO_VALUE

WRITE_AGAIN = "write the form again with 'form --from'"
Cells = dict[str, tuple[object, str]]  # what stands in each question's cell, and where
_LONGEST_SHOWN = 80
_NO_VALUE = (
    "an answer: the value of the formula in this cell is not in the file; open it in a "
    "spreadsheet program, let it work the formula out, and save it"
)


@dataclass(slots=True)
class Told:
    """Why a file is refused, what is wrong with its cells, and what its form does not ask."""

    faults: list[str] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    strays: list[Problem] = field(default_factory=list)
    lacking: Counter[str] = field(default_factory=Counter)  # questions, by the form's sheet
    units: Units = Units.US_CUSTOMARY  # in which the form asks

    def answer(self, read: object, where: str) -> object:
        """What goes on as the answer in a cell: nothing if it is blank or has no value."""
        if not isinstance(read, str):
            return read
        if not read.strip():
            return None
        if read == NO_VALUE:
            self.problems.append(Problem(where, "", _NO_VALUE))
            return None
        if len(read) > LONGEST_CELL:
            self.faults.append(f"{where}: the text is longer than {LONGEST_CELL:,} characters")
        return read


def is_blank(cell: object) -> bool:
    """Whether nothing stands in a cell."""
    return cell is None or (isinstance(cell, str) and not cell.strip())


def shown(cell: object) -> str:
    """The beginning of what stands in a cell, for a message."""
    return tidy(as_text(cell))[:_LONGEST_SHOWN]
