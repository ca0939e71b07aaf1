"""The files that a list of photos names."""

from __future__ import annotations

from survey.model import Survey


def names_in(said: str) -> list[str]:
    """The files that one row of the list of photos names, parted by semicolons."""
    return [name for part in said.split(";") if (name := part.strip())]


def named_files(survey: Survey) -> tuple[str, ...]:
    """Every file that the list of photos of a survey names."""
    said = (row.known("photo file") for row in survey.photos)
    return tuple(name for one in said if one is not None for name in names_in(str(one)))
