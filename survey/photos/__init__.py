"""Photos of a survey: which there are, what they show, and how they go onto the sheet.

A photo is no answer: none decides anything. Nothing of a photo's file but its pixels goes
further than here, and the library that reads pictures is loaded only when there is one.
"""

from survey.photos.loading import load_photos
from survey.photos.photo import NO_PHOTOS, AskedPhoto, Photo, Photos, Place

__all__ = ["NO_PHOTOS", "AskedPhoto", "Photo", "Photos", "Place", "load_photos"]
