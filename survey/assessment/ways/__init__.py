"""The way to go: what to answer, to change and to have released, so that a site may go.

``ways_to_go(survey, problems, book, today)`` is the whole of it; ``lines`` prints it.
"""

from survey.assessment.ways.lines import lines
from survey.assessment.ways.ways import (
    EFFORT,
    Answered,
    ChangeStep,
    LookStep,
    MendStep,
    ReleaseStep,
    Step,
    Stuck,
    Way,
    Ways,
    ways_to_go,
)

__all__ = [
    "EFFORT", "Answered", "ChangeStep", "LookStep", "MendStep", "ReleaseStep", "Step", "Stuck",
    "Way", "Ways", "lines", "ways_to_go",
]  # fmt: skip
