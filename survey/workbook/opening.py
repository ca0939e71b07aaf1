"""The one entrance for a survey file, whatever it is called and whatever stands in it."""

from __future__ import annotations

from pathlib import Path

from survey.answers import RawSurvey
from survey.vocabulary import VOCABULARY, Vocabulary
from survey.workbook.reading.file import Content, content_of, file_bytes, json_text
from survey.workbook.reading.read import workbook_rows


def open_survey(path: Path, vocabulary: Vocabulary = VOCABULARY) -> RawSurvey:
    """Read a filled workbook or a survey in JSON, told apart by what stands in the file.

    Args:
        path: the file; it is only read.
        vocabulary: the questions that it may answer.

    Raises:
        UnreadableSurveyError: it is neither, can't be read, or isn't laid out as it must be.
    """
    content = file_bytes(path)
    if content_of(content, path) is Content.WORKBOOK:
        return workbook_rows(content, path, vocabulary)
    from survey.document import read_document  # pydantic is not needed to read a workbook

    return read_document(json_text(content, path), str(path), vocabulary)
