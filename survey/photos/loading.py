"""Load the photos of a survey."""

from __future__ import annotations

from pathlib import Path

from survey.model import Survey
from survey.photos.photo import NO_PHOTOS, Photos


def load_photos(survey: Survey, folder: Path) -> Photos:
    """The photos of a survey, made ready for print, and what has to be asked about others.

    Args:
        survey: read from a file.
        folder: where that file stands; photos that the survey lists are looked for there only.
    """
    if not survey.photos and not survey.pictures:
        return NO_PHOTOS
    from survey.photos.finding import find_photos  # most surveys have none, and need none of it

    return find_photos(survey, folder)
