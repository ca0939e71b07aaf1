"""Write the pictures of a workbook as files, and list them as the form lists photos."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path

from survey.answers import MOST_ROWS
from survey.errors import UserError
from survey.files import whole
from survey.model import Answer, Picture, Row, Survey, Value
from survey.photos.places import (
    SKETCH,
    WHOLE_SITE,
    Listed,
    is_sketch,
    picture_places,
    where_of,
)
from survey.vocabulary import NOT_KNOWN, Missing, Subject, Vocabulary

# How a file begins, and the ending of its name.
_BEGINNINGS = {
    b"\xff\xd8\xff": "jpg", b"\x89PNG\r\n\x1a\n": "png", b"GIF8": "gif", b"RIFF": "webp",
}  # fmt: skip
_LONGEST_STEM = 40
# What else a workbook may hold, by the name of its part.
_OTHER_ENDINGS = {"avif", "bmp", "emf", "heic", "heif", "svg", "tif", "tiff", "wmf"}


def with_pictures_in_files(survey: Survey, folder: Path) -> Survey:
    """Write the pictures in a survey as files, and name them in its list of photos.

    A picture at a row of that list is named there; others get a row, one for all that stand
    at the same place.

    Args:
        survey: read from a workbook.
        folder: where the files go, made where it is missing: the folder of whatever file the
            survey is then written to. Nothing that is there is written over.

    Returns:
        The survey. Of its pictures only those are left that can't be written: there is nothing
        of them, or they are no picture.

    Raises:
        UserError: a file can't be written, or there would be more rows than a form can hold.
    """
    pictures = [picture for picture in survey.pictures if _ending(picture)]
    if not pictures:
        return survey
    listed = Listed.of(survey)
    together: dict[str, list[Picture]] = {}
    for picture in pictures:
        together.setdefault(where_of(picture), []).append(picture)
    in_list = {row.where for row in survey.photos}
    if len(survey.photos) + len(together.keys() - in_list) > MOST_ROWS:
        raise UserError(
            f"{survey.name}: with its pictures the list of photos would have more than {MOST_ROWS} "
            "rows. Split the survey, or take pictures out of it."
        )
    names = _written(pictures, folder, _file_stem(survey.name))

    def files(where: str) -> str:
        return "; ".join(dict.fromkeys(names[one.content] for one in together.get(where, ())))

    photos = [_with_files(row, files(row.where)) for row in survey.photos]
    taken = {row.label.casefold() for row in photos}
    for where, there in together.items():
        if where not in in_list:
            label = _free_label(taken)
            photos.append(_new_row(label, there[0], files(where), listed, survey.vocabulary))
    left = tuple(picture for picture in survey.pictures if not _ending(picture))
    return replace(survey, photos=tuple(photos), pictures=left)


def _ending(picture: Picture) -> str:
    """The ending of the file for a picture; empty where it is none."""
    for beginning, ending in _BEGINNINGS.items():
        if picture.content.startswith(beginning):
            return ending
    ending = picture.name.rpartition(".")[2].lower()
    return ending if picture.content and ending in _OTHER_ENDINGS else ""


def _file_stem(name: str) -> str:
    """How the names of a survey's pictures begin, so that many surveys can share a folder."""
    safe = re.sub(r"[^\w-]+", "-", name)[:_LONGEST_STEM].strip("-_")
    return f"{safe}-photo" if safe else "photo"


def _written(pictures: Iterable[Picture], folder: Path, stem: str) -> Mapping[bytes, str]:
    """The name of the file that has the bytes of each picture; the same bytes are one file."""
    names: dict[bytes, str] = {}
    try:
        folder.mkdir(parents=True, exist_ok=True)
        number = 0
        for picture in pictures:
            while picture.content not in names:
                number += 1
                name = f"{stem}-{number}.{_ending(picture)}"
                if _write_new(folder / name, picture.content):
                    names[picture.content] = name
    except OSError as fault:
        raise UserError(
            f"{folder}: pictures can't be written here ({fault.strerror or fault}). Give a folder "
            "that you may write to."
        ) from None
    return names


def _write_new(file: Path, content: bytes) -> bool:
    """Write a file whole or not at all; false where something has its name."""
    try:
        file.open("xb").close()  # the name is ours from here on
    except FileExistsError:
        return False
    try:
        with whole(file) as part:
            part.write_bytes(content)
    except BaseException:
        file.unlink(missing_ok=True)
        raise
    return True


def _with_files(row: Row, files: str) -> Row:
    if not files:
        return row
    old = row.answers["photo file"]
    known = "" if isinstance(old.value, Missing) else f"{old.value}; "
    return replace(row, answers={**row.answers, "photo file": old._replace(value=known + files)})


def _new_row(
    label: str, picture: Picture, files: str, listed: Listed, vocabulary: Vocabulary
) -> Row:
    """A row of the list for what stands at one place of another sheet."""
    said: dict[str, Value] = {"photo file": files}
    for place in picture_places(picture, listed):
        if place != WHOLE_SITE:
            alone = listed.shown(place.label).places == (place,)
            said["photo shows"] = place.label if alone else f"{place.subject.value} {place.label}"
    if is_sketch(picture):
        said["photo remarks"] = SKETCH
    answers = {
        word.name: Answer(said.get(word.name, NOT_KNOWN), where_of(picture))
        for word in vocabulary.asked_of(Subject.PHOTO)
    }
    return Row(Subject.PHOTO, label, answers, where_of(picture))


def _free_label(taken: set[str]) -> str:
    number = len(taken) + 1
    while (label := f"photo {number}") in taken:
        number += 1
    taken.add(label)
    return label
