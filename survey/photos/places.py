"""What a photo shows: read off the row at which it stands, or off what its own row says."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from survey.assessment.named_places import read_places
from survey.model import LISTS, Picture, Row, Survey, Value
from survey.photos.photo import Place
from survey.vocabulary import Missing, Subject, tidy
from survey.vocabulary.walk import PAGES

_SEPARATOR = re.compile(r"\s*,\s*(?:(?:and|y)\s+)?|\s+(?:and|y)\s+")
_MOST_PARTS = 50
_LISTS = {
    page.sheet.casefold() for page in PAGES if page.subject not in {Subject.SITE, Subject.PHOTO}
}


SKETCH = "sketch"  # a sheet of the form on which nothing is asked
WHOLE_SITE = Place(Subject.SITE, "site")


@dataclass(frozen=True, slots=True)
class Shown:
    """What a text names: places in the order of the form, and parts that are the label of none."""

    places: tuple[Place, ...]
    unknown: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Listed:
    """What a survey lists, to be looked up.

    Args:
        rows: by where each stands.
        labels: of each subject that a photo may show, in the order of the form.
    """

    rows: Mapping[str, Row]
    labels: Mapping[Subject, tuple[str, ...]]

    @classmethod
    def of(cls, survey: Survey) -> Listed:
        """All that a survey lists."""
        rows = {row.where: row for subject in LISTS for row in survey.rows(subject)}
        labels: dict[Subject, tuple[str, ...]] = {
            subject: tuple(row.label for row in survey.rows(subject))
            for subject in LISTS
            if subject is not Subject.PHOTO
        }
        return cls(rows, {Subject.SITE: (WHOLE_SITE.label,), **labels})

    def row_of(self, picture: Picture) -> Row | None:
        """The row of a list at which a picture stands."""
        return self.rows.get(where_of(picture))

    def shown(self, said: Value) -> Shown:
        """What the answer to 'photo shows' names; the whole site where it is blank."""
        if isinstance(said, Missing):
            return Shown((WHOLE_SITE,))
        chunks = [chunk.strip() for chunk in tidy(str(said)).split(";", _MOST_PARTS)]
        parts = [
            part
            for chunk in chunks
            # A label may itself hold a comma, so all of it is tried first.
            for part in ([chunk] if self._named(chunk) else _SEPARATOR.split(chunk))
            if part
        ]
        named = {part: self._named(part) for part in parts[:_MOST_PARTS]}
        unknown = [part for part, places in named.items() if not places]
        found = {place for places in named.values() for place in places}
        return Shown(tuple(sorted(found, key=self.order)), (*unknown, *parts[_MOST_PARTS:]))

    def _named(self, part: str) -> list[Place]:
        """The places that a text names with nothing left over, such as ``P1 to P3``."""
        read = {s: read_places(part, s, labels) for s, labels in self.labels.items() if labels}
        return [
            Place(subject, label)
            for subject, named in read.items()
            if not named.faults
            for label in named.labels
        ]

    def order(self, place: Place) -> tuple[int, int]:
        """Where a place comes among the others: subject by subject, as listed."""
        return list(self.labels).index(place.subject), self.labels[place.subject].index(place.label)


def where_of(picture: Picture) -> str:
    """Where a picture stands, as the rows of a list say it: ``Piers!row 7``."""
    return f"{picture.sheet}!row {picture.row}"


def is_sketch(picture: Picture) -> bool:
    """Whether a picture stands on the sheet that is there to draw on."""
    return picture.sheet.strip().casefold() == SKETCH


def belongs_to(picture: Picture, survey: Survey) -> tuple[Place, ...]:
    """What a picture in the workbook shows.

    The thing at whose row it stands; of a row of the list of photos, what that names, or the site
    where it names nothing. On a sheet about the site, or on none of the form, it shows the site.

    Returns:
        The places; none where it stands on a list of things, but at no row of it.
    """
    return picture_places(picture, Listed.of(survey))


def picture_places(picture: Picture, listed: Listed) -> tuple[Place, ...]:
    """As :func:`belongs_to`, for many pictures of one survey."""
    row = listed.row_of(picture)
    if row is None:
        return () if picture.sheet.strip().casefold() in _LISTS else (WHOLE_SITE,)
    if row.subject is Subject.PHOTO:
        return listed.shown(row.value("photo shows")).places or (WHOLE_SITE,)
    return (Place(row.subject, row.label),)
