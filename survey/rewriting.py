"""What a survey that is written into another file must keep besides its answers.

A cell that could not be read is written as it stood, so that whoever puts it right sees it, and so
that the new file is held by it as the old one was.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from survey.answers import RawRow, RawSurvey, as_text, read_survey
from survey.errors import Problem
from survey.model import LISTS, Row, Survey
from survey.vocabulary import VOCABULARY, Missing, Subject, Vocabulary

# Where a text belongs, whatever file it stands in: subject, label of the row, name of the question.
Place = tuple[Subject, str, str]
LABEL = "label"


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
        """The text of each cell that could not be used, by the place that it belongs to."""
        cells = {problem.where for problem in self.problems}
        texts: dict[Place, str] = {}
        for row, read in _pairs(self.raw, self.survey):
            if (row.label_where or row.where) in cells:
                texts[read.subject, read.label, LABEL] = row.label
            for name, (cell, where) in row.cells.items():
                if where in cells and isinstance(read.value(name), Missing):
                    texts[read.subject, read.label, name] = as_text(cell)
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


def _pairs(raw: RawSurvey, survey: Survey) -> Iterator[tuple[RawRow, Row]]:
    yield raw.site, survey.site
    for subject in LISTS:
        yield from zip(raw.lists.get(subject, ()), survey.rows(subject), strict=True)
