"""What a page carries so that it can be checked later: its digest, and what was judged.

The last line of every page has the SHA-256 of all that stands before it. The line above it has, in
a sheet, the survey and the judgement at a glance, packed. Both are comments, so no browser runs or
shows them. They find slips and edits. They are no signature: whoever has the program can make a
page.
"""

from __future__ import annotations

import base64
import binascii
import functools
import hashlib
import json
import re
import zlib
from collections.abc import Sequence
from typing import Any, TypedDict

from survey import cache
from survey.errors import UserError
from survey.photos import AskedPhoto, Photo, Photos, Place
from survey.resources import folder
from survey.sheets._shape import faults
from survey.sheets.since import Glance, Since
from survey.vocabulary import Subject

_VERSION = 1
_FAST = 1  # a seventh larger than at best, in a third of the time
_LARGEST = 16 * 2**20  # of a block unpacked; few surveys come to a tenth of it
_LAST_LINE = "<!-- sha256 {} -->\n"
_ENDS = re.compile(r"<!-- sha256 ([0-9a-f]{64}) -->\n\Z")
_BLOCK_LINE = "<!-- judged {} -->\n"
_BLOCK = re.compile(r"<!-- judged ([A-Za-z0-9._=]*) -->\n")
_SIGNS = b"._"  # in place of + and /, two of which would read as an address
_PICTURE = re.compile(r'(?<=<img src="data:image/jpeg;base64,)[A-Za-z0-9+/=]*(?=")')


class SealError(UserError):
    """A page does not carry what a check needs; ``faults`` has each reason."""

    def __init__(self, faults: Sequence[str]) -> None:
        self.faults = tuple(faults)
        super().__init__("; ".join(self.faults))


class SealedPhoto(TypedDict):
    """A photo of a sheet but for its pixels, of which there is the SHA-256."""

    name: str
    cell: str
    title: str
    caption: str
    shows: list[list[str]]
    source: str
    printed: str
    width: int
    height: int


class SealedAsked(TypedDict):
    """A photo that was asked for."""

    name: str
    cell: str
    why: str


class Sealed(TypedDict):
    """What was judged, as a sheet carries it.

    ``made_by`` is a fingerprint of the program with its templates: two copies of one version may
    differ.
    """

    pier_survey_sheet: int
    made_by: str
    evaluators: int
    judged: Glance
    since: Since | None
    photos: list[SealedPhoto]
    asked_photos: list[SealedAsked]


def text_alone(page: str) -> str:
    """A page without what it packs: its block, the pixels of its pictures, its digest."""
    return _ENDS.sub("", _PICTURE.sub("", _BLOCK.sub("", page)))


def closed(page: str) -> str:
    """A page with its digest as the last line."""
    page = page if page.endswith("\n") else f"{page}\n"
    return page + _LAST_LINE.format(_digest(page))


def is_closed(page: str) -> bool:
    """Whether a page ends with a digest, be it the right one or not."""
    return _ENDS.search(page, max(0, len(page) - 200)) is not None


def is_unaltered(page: str) -> bool:
    """Whether every character of a page is as it was written."""
    end = _ENDS.search(page, max(0, len(page) - 200))
    return end is not None and end[1] == _digest(page[: end.start()])


def _digest(page: str) -> str:
    return hashlib.sha256(page.encode("utf-8", "surrogatepass")).hexdigest()


@functools.cache
def made_by() -> str:
    """A fingerprint of the program with its templates."""
    digest = hashlib.sha256(cache.program_fingerprint().encode())
    for file in sorted(folder("forms").iterdir()):
        if file.is_file():
            digest.update(file.read_bytes())
    return digest.hexdigest()[:12]


def packed(judged: Glance, evaluators: int, photos: Photos, since: Since | None) -> str:
    """What was judged, and by how many evaluators, as the line that a sheet ends with."""
    sealed: Sealed = {
        "pier_survey_sheet": _VERSION,
        "made_by": made_by(),
        "evaluators": evaluators,
        "judged": judged,
        "since": since,
        "photos": [_photo(photo) for photo in photos.shown],
        "asked_photos": [
            {"name": photo.name, "cell": photo.where, "why": photo.why} for photo in photos.asked
        ],
    }
    text = json.dumps(sealed, separators=(",", ":"), check_circular=False)
    block = base64.b64encode(zlib.compress(text.encode("ascii"), _FAST), _SIGNS)
    return _BLOCK_LINE.format(block.decode("ascii"))


def unpacked(page: str) -> Sealed:
    """What a sheet says that it was made from; it may still be anything of the right shape.

    Raises:
        SealError: there is no block, or it can't be read; all faults at once.
    """
    found = _BLOCK.findall(page)
    if len(found) != 1:
        raise SealError(["it carries no survey" if not found else "it carries two surveys"])
    try:
        unpacker = zlib.decompressobj()
        packed_text = base64.b64decode(found[0], _SIGNS, validate=True)
        text = unpacker.decompress(packed_text, _LARGEST)
        if unpacker.unconsumed_tail:
            raise SealError(["the survey in it is larger than any survey can be"])
        if not unpacker.eof:
            raise SealError(["the survey in it is cut off"])
        read = json.loads(text)
    except (binascii.Error, zlib.error, ValueError, RecursionError):
        raise SealError(["the survey in it can't be unpacked"]) from None
    if isinstance(read, dict) and read.get("pier_survey_sheet", _VERSION) != _VERSION:
        raise SealError(["it was written by a later version of the program"])
    if wrong := faults(read, Sealed):
        raise SealError(wrong)
    sealed: Any = read
    return sealed  # type: ignore[no-any-return]


def photos_of(sealed: Sealed) -> Photos:
    """The photos of a sheet without their pixels.

    Raises:
        SealError: one shows what there is not.
    """
    try:
        shown = tuple(
            Photo(
                one["name"], one["cell"], one["title"], one["caption"],
                tuple(Place(Subject(subject), label) for subject, label in one["shows"]),
                one["source"], b"", one["width"], one["height"],
            )
            for one in sealed["photos"]
        )  # fmt: skip
    except ValueError:
        raise SealError(["a photo in it shows what is no part of a survey"]) from None
    asked = (AskedPhoto(one["name"], one["cell"], one["why"]) for one in sealed["asked_photos"])
    return Photos(shown, tuple(asked))


def _photo(photo: Photo) -> SealedPhoto:
    return {
        "name": photo.name,
        "cell": photo.where,
        "title": photo.title,
        "caption": photo.caption,
        "shows": [[place.subject.value, place.label] for place in photo.places],
        "source": photo.source,
        "printed": hashlib.sha256(photo.jpeg).hexdigest(),
        "width": photo.width,
        "height": photo.height,
    }


def printed_as_sealed(page: str, sealed: Sealed) -> bool:
    """Whether the pictures on a page are those that it was written with."""
    try:
        pictures = [base64.b64decode(text, validate=True) for text in _PICTURE.findall(page)]
    except binascii.Error:
        return False
    prints = [hashlib.sha256(picture).hexdigest() for picture in pictures]
    return sorted(prints) == sorted(one["printed"] for one in sealed["photos"])
