"""From facts to a decision: findings, releases, seats, questions, the verdict.

``assess(survey, problems, book)`` is the whole of it.
"""

from survey.assessment.assessment import Assessment, Figure, PierResult, assess
from survey.assessment.decision import Verdict
from survey.assessment.findings import Chained, Finding, Question
from survey.assessment.seats import Seat

__all__ = [
    "Assessment", "Chained", "Figure", "Finding", "PierResult", "Question", "Seat", "Verdict",
    "assess",
]  # fmt: skip
