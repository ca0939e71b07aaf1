"""What a survey that is written into another file must keep besides its answers.

A cell that could not be read is written as it stood, so that whoever puts it right sees it, and so
that the new file is held by it as the old one was.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from survey.answers import RawRow, RawSurvey, as_text, read_survey
from survey.errors import Problem
from survey.model import LISTS, Row, Survey
from survey.vocabulary import VOCABULARY, Missing, Subject, Units, Vocabulary, Word

# Where a text belongs, whatever file it stands in: subject, label of the row, name of the question.
Place = tuple[Subject, str, str]
LABEL = "label"
_BARE = re.compile(r"-?[\d.,/ ]*\d[\d.,/ ]*")  # a figure without a unit


@dataclass(frozen=True, slots=True)
class ReadSurvey:
    """A survey with what it was read from.

    Args:
        raw: the survey as it stood in its file.
        survey: what was read of it; each answer that could not be used is not known.
        problems: what to put right: first outside the questions, then in the order of the form.
    """

    raw: RawSurvey
    survey: Survey
    problems: tuple[Problem, ...]

    @property
    def unread(self) -> Mapping[Place, str]:
        """What stands in each cell that gave no answer, by the place that it belongs to.

        That is what could not be read, what contradicts another answer, and what waits for one: an
        answer to a question of which it is not known whether it applies.
        """
        cells = {problem.where for problem in self.problems}
        texts: dict[Place, str] = {}
        for row, read in _pairs(self.raw, self.survey):
            if (row.label_where or row.where) in cells:
                texts[read.subject, read.label, LABEL] = row.label
            for name, (cell, _where) in row.cells.items():
                if cell is not None and isinstance(read.value(name), Missing):
                    word = self.survey.vocabulary[name]
                    texts[read.subject, read.label, name] = _as_it_stood(word, cell, self.raw.units)
        return texts

    def places_of(self, cells: Collection[str]) -> frozenset[Place]:
        """The questions whose answers stand in some cells of the file."""
        return frozenset(
            (row.subject, row.label, name)
            for row in self.survey.every_row()
            for name, answer in row.answers.items()
            if answer.where in cells
        )


def read_whole(raw: RawSurvey, vocabulary: Vocabulary = VOCABULARY) -> ReadSurvey:
    """Read every answer of a survey, and keep what it was read from."""
    return ReadSurvey(raw, *read_survey(raw, vocabulary))


def _as_it_stood(word: Word, cell: object, units: Units) -> str:
    """The text of a cell, which says the same on a form that asks in other units."""
    text, unit = as_text(cell), word.unit_in(units)
    return f"{text} {unit}" if unit and _BARE.fullmatch(text.strip()) else text


def _pairs(raw: RawSurvey, survey: Survey) -> Iterator[tuple[RawRow, Row]]:
    yield raw.site, survey.site
    for subject in LISTS:
        yield from zip(raw.lists.get(subject, ()), survey.rows(subject), strict=True)
