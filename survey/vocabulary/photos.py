"""Words of a photo: its file, what it shows, what is to be seen on it."""

from __future__ import annotations

from survey.vocabulary._declare import declares
from survey.vocabulary.words import Subject

_d = declares(Subject.PHOTO)

PHOTO_WORDS = (
    _d["text"](
        "photo file", "Name of the picture's file, in the folder of this workbook",
        "Such as pit3.jpg, or several as pit3.jpg; pit4.jpg: JPEG, PNG, GIF or WebP. "
        "Leave it blank where the picture itself is put into this row.",
    ),
    _d["text"](
        "photo shows", "Label of what it shows",
        "Such as P3, or several as P1 to P3, W1. Blank: the site as a whole.",
    ),
    _d["text"]("photo remarks", "What is to be seen on it"),
)  # fmt: skip
