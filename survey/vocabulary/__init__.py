"""Every word that the form asks for, a calculation works out or a rule may use.

One declaration serves the form, the survey model, the rules and the docs. A word is looked up
by name: ``VOCABULARY["pit depth"]``.
"""

from survey.vocabulary.conduct import CONDUCT_WORDS
from survey.vocabulary.equipment import EQUIPMENT_WORDS
from survey.vocabulary.kinds import MEASURES, Kind, Units, from_steps, in_units, steps
from survey.vocabulary.photos import PHOTO_WORDS
from survey.vocabulary.piers import PIER_WORDS
from survey.vocabulary.quantity import (
    QuantityError,
    plain_number,
    read_quantity,
    units_of,
    write_exactly,
    write_quantity,
    write_steps,
)
from survey.vocabulary.releases import (
    RELEASE_WORDS,
    gives_no_number,
    names_nobody,
    says_no,
    says_nothing,
)
from survey.vocabulary.site import SITE_WORDS
from survey.vocabulary.spelling import tidy
from survey.vocabulary.states import DOES_NOT_APPLY, NOT_KNOWN, Missing
from survey.vocabulary.surroundings import (
    NEIGHBOUR_WORDS,
    PAIR_WORDS,
    SOIL_LAYER_WORDS,
    UTILITY_WORDS,
)
from survey.vocabulary.walls import WALL_WORDS
from survey.vocabulary.words import (
    CLOSED_BY,
    OTHERS,
    ROUND,
    SCOPES,
    AsksWhen,
    Origin,
    Subject,
    Vocabulary,
    Word,
    Worse,
    nearest,
)

VOCABULARY = Vocabulary(
    SITE_WORDS + CONDUCT_WORDS + EQUIPMENT_WORDS + WALL_WORDS + PIER_WORDS + UTILITY_WORDS
    + NEIGHBOUR_WORDS + SOIL_LAYER_WORDS + PHOTO_WORDS + RELEASE_WORDS + PAIR_WORDS
)  # fmt: skip

__all__ = [
    "CLOSED_BY", "DOES_NOT_APPLY", "MEASURES", "NOT_KNOWN", "OTHERS", "ROUND", "SCOPES",
    "VOCABULARY", "AsksWhen", "Kind", "Missing", "Origin", "QuantityError", "Subject", "Units",
    "Vocabulary", "Word", "Worse", "from_steps", "gives_no_number", "in_units", "names_nobody",
    "nearest", "plain_number", "read_quantity", "says_no", "says_nothing", "steps", "tidy",
    "units_of", "write_exactly", "write_quantity", "write_steps",
]  # fmt: skip
