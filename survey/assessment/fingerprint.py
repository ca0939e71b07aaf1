"""What tells whether two surveys were answered alike."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable

from survey.model import Survey, Value
from survey.vocabulary import Subject


def answers_fingerprint(survey: Survey) -> str:
    """The same for the same answers, whatever file and cells they stood in."""
    return fingerprint(
        (row.subject, row.label, name, answer.value)
        for row in survey.every_row()
        for name, answer in row.answers.items()
    )


def fingerprint(answers: Iterable[tuple[Subject, str, str, Value]]) -> str:
    """The same for the same answers, each with subject, label and question."""
    said = {subject: subject.value for subject in Subject}
    told = [[said[subject], label, name, str(value)] for subject, label, name, value in answers]
    text = json.dumps(told, check_circular=False)
    return hashlib.sha256(text.encode()).hexdigest()[:12]
