"""The survey: every question of the form with its answer, and where the answer stands.

Plain frozen types. Values are in the canonical unit of their kind; an answer that is no value
is ``NOT_KNOWN`` or ``DOES_NOT_APPLY``, never ``None``.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from survey.vocabulary import NOT_KNOWN, VOCABULARY, Missing, Subject, Units, Vocabulary

Known = str | float | dt.date
Value = Known | Missing


ASKED_FOR = "--on"  # the place of an answer that is not the form's: a day that a command gave


class Answer(NamedTuple):
    """One answer and the place it was read from, such as ``Piers!F7``, or ``ASKED_FOR``."""

    value: Value
    where: str


@dataclass(frozen=True, slots=True)
class Row:
    """One thing on site: the site itself, a wall, a pier location, a release.

    Args:
        subject: what sort of thing it is.
        label: its name on the form, unique among its like; ``site`` for the site.
        answers: an answer to every question the form asks of it, by the word's name.
        listed: false for the row that stands for all that a list which is not known to be
            complete may have left out; nothing is known of it.
        where: where the row stands on the form; for an unlisted row, the cell that would
            close the list.
    """

    subject: Subject
    label: str
    answers: Mapping[str, Answer]
    where: str
    listed: bool = True

    def value(self, name: str) -> Value:
        """The answer to a question, by the word's name."""
        return self.answers[name].value

    def known(self, name: str) -> Known | None:
        """The answer if it is a value, else ``None``: for labels and print, not for judging."""
        value = self.answers[name].value
        return None if isinstance(value, Missing) else value


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture that stands in the workbook.

    Args:
        name: name of its part in the file, such as ``image1.png``.
        sheet, row: the sheet of the form and the row, counted from 1, at which it stands.
        content: the bytes of its file, as they are; nothing in them has been trusted yet.
    """

    name: str
    sheet: str
    row: int
    content: bytes = field(repr=False)


@dataclass(frozen=True, slots=True)
class Survey:
    """A whole survey.

    Args:
        name: the file's name without its folder.
        site: the answers about the site; each list has a row for each thing.
        pictures: those that stand in the workbook itself.
        notes: what whoever reads the sheet should know of its file, such as an older form.
        units: in which its form asked; every value is in the canonical unit of its kind.
        vocabulary: the questions that it answers: the shipped ones, and a firm's own.
    """

    name: str
    site: Row
    walls: tuple[Row, ...] = ()
    piers: tuple[Row, ...] = ()
    utilities: tuple[Row, ...] = ()
    neighbours: tuple[Row, ...] = ()
    soil_layers: tuple[Row, ...] = ()
    photos: tuple[Row, ...] = ()
    releases: tuple[Row, ...] = ()
    pictures: tuple[Picture, ...] = ()
    notes: tuple[str, ...] = ()
    units: Units = Units.US_CUSTOMARY
    vocabulary: Vocabulary = field(default=VOCABULARY, repr=False, compare=False)

    def rows(self, subject: Subject) -> tuple[Row, ...]:
        """The rows of one subject, as listed."""
        if subject is Subject.SITE:
            return (self.site,)
        rows: tuple[Row, ...] = getattr(self, LISTS[subject])
        return rows

    def every_row(self) -> Iterator[Row]:
        """The site, then each list in the order of the form."""
        yield self.site
        for subject in LISTS:
            yield from self.rows(subject)

    def referred(self, row: Row, name: str) -> Row | Missing:
        """The row that a reference names; not known while the reference is."""
        label = row.value(name)
        if isinstance(label, Missing):
            return label
        for wall in self.walls:
            if wall.label == label:
                return wall
        return NOT_KNOWN


# The lists of a survey, in the order of the form.
LISTS: Mapping[Subject, str] = {
    Subject.WALL: "walls",
    Subject.PIER: "piers",
    Subject.UTILITY: "utilities",
    Subject.NEIGHBOUR: "neighbours",
    Subject.SOIL_LAYER: "soil_layers",
    Subject.PHOTO: "photos",
    Subject.RELEASE: "releases",
}
