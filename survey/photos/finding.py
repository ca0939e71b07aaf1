"""Find the photos of a survey: those in the workbook and the files that its list names."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from survey.model import Picture, Row, Survey
from survey.photos.beside import Folder
from survey.photos.names import names_in
from survey.photos.photo import AskedPhoto, Photo, Photos, Place, UnusablePhotoError
from survey.photos.places import (
    SKETCH,
    WHOLE_SITE,
    Listed,
    is_sketch,
    picture_places,
    where_of,
)
from survey.photos.printing import Print, printable
from survey.vocabulary import Missing, Subject

MOST_PHOTOS = 200
MOST_EFFORT = 5_000_000_000  # pixels of ordinary JPEG; 400 of a telephone's usual photos
MOST_BYTES = 10**9
MOST_FILES_A_ROW = 20


def find_photos(survey: Survey, folder: Path) -> Photos:
    """As :func:`~survey.photos.load_photos`, for a survey that has any."""
    return _Loader(Listed.of(survey), Folder(folder)).load(survey)


@dataclass(frozen=True, slots=True)
class _Wanted:
    """A photo as the form has it.

    Args:
        content: the bytes of a picture in the workbook; none for a file in the folder.
    """

    name: str
    where: str
    title: str
    caption: str
    places: tuple[Place, ...]
    content: bytes | None = None


@dataclass
class _Loader:
    listed: Listed
    folder: Folder
    _asked: list[AskedPhoto] = field(default_factory=list)
    _read: int = 0  # bytes
    # By fingerprint of their source, those that can't be shown among them.
    _prints: dict[str, Print | UnusablePhotoError] = field(default_factory=dict)

    def load(self, survey: Survey) -> Photos:
        shown: list[Photo] = []
        for wanted in self._wanted(survey):
            try:
                shown.append(self._made(wanted, len(shown)))
            except UnusablePhotoError as fault:
                self._ask(wanted.name, wanted.where, str(fault))
        shown.sort(key=lambda photo: self.listed.order(photo.places[0]))
        return Photos(tuple(shown), tuple(self._asked))

    def _wanted(self, survey: Survey) -> Iterator[_Wanted]:
        """Each photo that the form has: row by row of its list, then those on other sheets."""
        at_row: dict[str, list[Picture]] = {}
        elsewhere = []
        for picture in survey.pictures:
            row = self.listed.row_of(picture)
            if row is None or row.subject is not Subject.PHOTO:
                elsewhere.append(picture)
            else:
                at_row.setdefault(row.where, []).append(picture)
        for row in survey.photos:
            yield from self._of_row(row, at_row.get(row.where, []))
        for picture in elsewhere:
            yield self._in_workbook(picture)

    def _of_row(self, row: Row, pictures: list[Picture]) -> Iterator[_Wanted]:
        """The files that a row of the list of photos names, and the pictures that stand there."""
        file, shows = row.answers["photo file"], row.answers["photo shows"]
        named = [] if isinstance(file.value, Missing) else names_in(str(file.value))
        shown = self.listed.shown(shows.value)
        places, caption = shown.places or (WHOLE_SITE,), str(row.known("photo remarks") or "")
        for name in named[:MOST_FILES_A_ROW]:
            yield _Wanted(name, file.where, row.label, caption, places)
        for picture in pictures:
            yield _Wanted(picture.name, row.where, row.label, caption, places, picture.content)
        if more := len(named[MOST_FILES_A_ROW:]):
            self._ask("", file.where, f"has {more} more files: list them in a row of their own")
        if not named and not pictures:
            self._ask("", row.where, "has neither a picture nor a file's name: add one of the two")
        if shown.unknown:
            parts = ", ".join(f"'{part}'" for part in shown.unknown)
            why = f"shows {parts}, and nothing that is listed has that label: correct it"
            self._ask("; ".join(named), shows.where, why)

    def _in_workbook(self, picture: Picture) -> _Wanted:
        """A picture that stands anywhere but on the list of photos."""
        where = where_of(picture)
        places = picture_places(picture, self.listed)
        if not places:
            why = "stands at no row that is filled in: move it to the row of what it shows"
            self._ask(picture.name, where, why)
        title = SKETCH if is_sketch(picture) else ""
        return _Wanted(picture.name, where, title, "", places or (WHOLE_SITE,), picture.content)

    def _made(self, wanted: _Wanted, shown: int) -> Photo:
        effort = sum(made.effort for made in self._prints.values())
        if shown == MOST_PHOTOS or effort > MOST_EFFORT or self._read > MOST_BYTES:
            raise UnusablePhotoError("is one too many: the sheet can't show more photos")
        content = self.folder.read(wanted.name) if wanted.content is None else wanted.content
        self._read += len(content)
        if not content:
            raise UnusablePhotoError(
                "can't be had: it is empty, damaged, too large, or only linked; put the picture "
                "itself in again"
            )
        source = hashlib.sha256(content).hexdigest()
        if source not in self._prints:
            self._prints[source] = _print_of(content)
        made = self._prints[source]
        if isinstance(made, UnusablePhotoError):
            raise made
        return Photo(
            wanted.name, wanted.where, wanted.title, wanted.caption, wanted.places, source,
            made.jpeg, made.width, made.height,
        )  # fmt: skip

    def _ask(self, name: str, where: str, why: str) -> None:
        self._asked.append(AskedPhoto(name, where, why))


def _print_of(content: bytes) -> Print | UnusablePhotoError:
    try:
        return printable(content)
    except UnusablePhotoError as fault:
        return fault
