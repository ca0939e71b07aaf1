"""A photo as the sheet shows it, and one that has to be asked for."""

from __future__ import annotations

from dataclasses import dataclass, field

from survey.vocabulary import Subject

_LONGEST_NAME = 80


@dataclass(frozen=True, slots=True)
class Place:
    """A thing of the survey, such as a pier, by its label; the site's is ``site``."""

    subject: Subject
    label: str


class UnusablePhotoError(Exception):
    """A photo that can't be shown; its text says why and what to do, after the photo's name.

    Args:
        why: the text.
        effort: what was spent on it in vain, in pixels of an ordinary JPEG.
    """

    def __init__(self, why: str, effort: int = 0) -> None:
        super().__init__(why)
        self.effort = effort


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo, made ready for print.

    Args:
        name: of its file, or of its part in the workbook.
        where: the cell or row of the form that has it.
        title: its label in the list of photos, or ``sketch``; may be empty.
        caption: what the surveyor wrote about it; may be empty.
        places: what it shows, at least one.
        source: SHA-256 of the file that it was made from.
        jpeg: its pixels, upright, at most 1,000 wide or high; no data about place, time or camera.
        width, height: in pixels.
    """

    name: str
    where: str
    title: str
    caption: str
    places: tuple[Place, ...]
    source: str
    jpeg: bytes = field(repr=False)
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class AskedPhoto:
    """What the surveyor has to be asked about a photo. The verdict does not wait for it.

    Args:
        name: of its file; empty where none was given.
        where: the cell or row of the form that lists it.
        why: what is wrong, and what to do.
    """

    name: str
    where: str
    why: str

    def __str__(self) -> str:
        name = self.name if len(self.name) <= _LONGEST_NAME else f"{self.name[:_LONGEST_NAME]} ..."
        named = f"photo '{name}'" if name else "photo"
        return f"{named} at {self.where} {self.why}"


@dataclass(frozen=True, slots=True)
class Photos:
    """The photos of a survey: those to show, in the order of the form, and those to ask for."""

    shown: tuple[Photo, ...] = ()
    asked: tuple[AskedPhoto, ...] = ()


NO_PHOTOS = Photos()
