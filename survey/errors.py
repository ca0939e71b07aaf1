"""What can go wrong that a person can mend: one root, parts as attributes, one text each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path


class UserError(Exception):
    """A mistake in what the program was given. Never shown as a traceback."""


class UnreadableSurveyError(UserError):
    """A survey file that can't be read at all; nothing of it is judged."""

    def __init__(self, file: str, reasons: Iterable[str], help: str) -> None:
        self.file, self.reasons, self.help = file, tuple(reasons), help
        lines = [f"{file}: {reason}" for reason in self.reasons]
        super().__init__("\n".join([*lines, help]))


@dataclass(frozen=True, slots=True)
class Problem:
    """An answer that could not be used; it is judged as not known.

    Args:
        where: sheet and cell, or the path in a JSON survey.
        read: what stands there.
        expected: what was expected.
        nearest: the choice that reads most like it, if one does.
    """

    where: str
    read: str
    expected: str
    nearest: str | None = None

    @property
    def message(self) -> str:
        """What is wrong and what was expected, without the place."""
        hint = f"; did you mean '{self.nearest}'?" if self.nearest else ""
        read = f"read '{self.read}', " if self.read else ""
        return f"{read}expected {self.expected}{hint}"

    def __str__(self) -> str:
        return f"{self.where}: {self.message}"


def fault_line(fault: Exception) -> str:
    """One line about a fault of the program, for whoever mends it."""
    place = fault.__traceback__
    while place is not None and place.tb_next is not None:
        place = place.tb_next
    line = f"{Path(place.tb_frame.f_code.co_filename).name}:{place.tb_lineno}" if place else "?"
    return (
        f"a fault of the program, at {line}: {type(fault).__name__}: {fault}\n"
        "No verdict was reached. Keep the survey file and report this line."
    )
