"""Photos as the sheet prints them, beside what they show."""

from __future__ import annotations

import base64
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from survey.photos import Photo, Photos, Place
from survey.sheets._grouping import by_key
from survey.sheets._places import Places
from survey.vocabulary import Subject


@dataclass(frozen=True, slots=True)
class Printed:
    """One photo on the page.

    Args:
        place: the thing that it shows, of several the first.
        source: the picture itself, as an address that fetches nothing.
        shows: all that it shows in few words, where that is more than one thing.
    """

    place: str
    source: str
    alt: str
    width: int
    height: int
    title: str
    caption: str
    shows: str
    name: str
    where: str


def printed(photos: Photos, places: Places) -> tuple[Printed, ...]:
    """The photos as they stand on the page, in the order of what they show."""
    return tuple(_printed(photo, places) for photo in photos.shown)


def photos_of_piers(photos: Photos) -> Mapping[str, int]:
    """How many photos there are of each pier location, by its label."""
    return Counter(
        place.label
        for photo in photos.shown
        for place in photo.places
        if place.subject is Subject.PIER
    )


def _named(place: Place) -> str:
    site = place.subject is Subject.SITE
    return "Whole site" if site else f"{place.subject.value.capitalize()} {place.label}"


def _printed(photo: Photo, places: Places) -> Printed:
    by_subject = by_key(photo.places, lambda place: place.subject)
    shows = "; ".join(
        places.named(same[0].subject, (place.label for place in same)) for same in by_subject
    )
    said = photo.caption or photo.title
    return Printed(
        place=_named(photo.places[0]),
        source=f"data:image/jpeg;base64,{base64.b64encode(photo.jpeg).decode('ascii')}",
        alt=f"Photo of {shows}: {said}" if said else f"Photo of {shows}",
        width=photo.width,
        height=photo.height,
        title=photo.title,
        caption=photo.caption,
        shows=shows if len(photo.places) > 1 else "",
        name=photo.name,
        where=photo.where,
    )
