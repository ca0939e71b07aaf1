"""What a word of the vocabulary is, and how words are looked up."""

from __future__ import annotations

import difflib
import enum
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from survey.vocabulary.kinds import MEASURES, Kind


class Subject(enum.Enum):
    """What a word is said of: a thing on site, or a pair of things."""

    SITE = "site"
    WALL = "wall"
    PIER = "pier"
    UTILITY = "utility"
    NEIGHBOUR = "neighbour"
    SOIL_LAYER = "soil layer"
    RELEASE = "release"
    PIER_UTILITY = "pier and utility"
    PIER_NEIGHBOUR = "pier and neighbour"


class Origin(enum.Enum):
    """Where the answer comes from."""

    SEEN = "seen on site"
    CHOSEN = "chosen by us"
    DERIVED = "worked out"
    CONCLUDED = "concluded by the rules"


class Worse(enum.Enum):
    """The direction in which an answer can only make the verdict worse."""

    HIGHER = "higher"
    LOWER = "lower"
    LATER_CHOICE = "further down the list of choices"


@dataclass(frozen=True, slots=True)
class AsksWhen:
    """A question is only asked while another answer of the same row is one of these.

    Otherwise the word *does not apply*; while the other answer is not known, neither is
    whether this one applies.
    """

    word: str
    choices: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Word:
    """One thing that the form asks for, a calculation works out or the rules conclude.

    Args:
        name: as people say it; unique in the vocabulary.
        subject: what it is said of.
        kind: what sort of answer it has.
        origin: seen on site, chosen by us, worked out or concluded.
        prompt: the question on the form; for derived words, what the figure is.
        help: how to find the answer and why it matters; for derived words, how it is made.
        unit: unit of a bare number on the form and of the figure on the sheet.
        choices: the answers to choose from, from best to worst where ``worse`` says so.
        low, high: plausible range in the canonical unit, ends included; outside it the
            answer is refused, not used.
        worse: direction in which the answer can only make the verdict worse.
        asks_when: condition under which the question applies.
        refers_to: subject whose label answers a reference.
        made_by: the calculation behind a derived word, as ``module.function``.
        starts_from: word whose value a concluded word has before any rule counts it worse.
        otherwise: value of a concluded word where no rule concludes and nothing is open.
    """

    name: str
    subject: Subject
    kind: Kind
    origin: Origin
    prompt: str
    help: str = ""
    unit: str | None = None
    choices: tuple[str, ...] = ()
    low: float | None = None
    high: float | None = None
    worse: Worse | None = None
    asks_when: AsksWhen | None = None
    refers_to: Subject | None = None
    made_by: str = ""
    starts_from: str | None = None
    otherwise: str | None = None

    def __str__(self) -> str:
        return self.name

    @property
    def key(self) -> str:
        """Stable key in JSON and in the form's hidden row."""
        return self.name.replace(" ", "_").replace("-", "_")

    @property
    def asked(self) -> bool:
        """Whether the form has a question for it."""
        return self.origin in (Origin.SEEN, Origin.CHOSEN)

    @property
    def measured(self) -> bool:
        """Whether the answer is a number with a unit."""
        return self.kind in MEASURES


@dataclass(frozen=True)
class Vocabulary:
    """Every word, in the order in which the form asks for them."""

    words: tuple[Word, ...]
    _by_name: Mapping[str, Word] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        by_name = {word.name: word for word in self.words}
        if len(by_name) != len(self.words):
            names = [word.name for word in self.words]
            twice = sorted({name for name in names if names.count(name) > 1})
            raise ValueError(f"words declared twice: {', '.join(twice)}")
        object.__setattr__(self, "_by_name", by_name)

    def __getitem__(self, name: str) -> Word:
        return self._by_name[name]

    def __contains__(self, name: object) -> bool:
        return name in self._by_name

    def of(self, subject: Subject) -> tuple[Word, ...]:
        """The words said of one subject, in order."""
        return self._by_subject[subject]

    def asked_of(self, subject: Subject) -> tuple[Word, ...]:
        """The questions that the form asks about one subject, in order."""
        return tuple(word for word in self.of(subject) if word.asked)

    @cached_property
    def _by_subject(self) -> Mapping[Subject, tuple[Word, ...]]:
        return {
            subject: tuple(word for word in self.words if word.subject is subject)
            for subject in Subject
        }


def nearest(text: str, choices: Iterable[str]) -> str | None:
    """The choice that reads most like the text, if one does."""
    by_lower = {choice.lower(): choice for choice in choices}
    found = difflib.get_close_matches(text.lower(), by_lower, n=1, cutoff=0.6)
    return by_lower[found[0]] if found else None


# The subjects whose words a rule about a subject may use: a pier stands at a wall of the site.
SCOPES: Mapping[Subject, tuple[Subject, ...]] = {
    Subject.SITE: (Subject.SITE,),
    Subject.WALL: (Subject.WALL, Subject.SITE),
    Subject.PIER: (Subject.PIER, Subject.WALL, Subject.SITE),
    Subject.UTILITY: (Subject.UTILITY, Subject.SITE),
    Subject.NEIGHBOUR: (Subject.NEIGHBOUR, Subject.SITE),
    Subject.SOIL_LAYER: (Subject.SOIL_LAYER, Subject.SITE),
    Subject.PIER_UTILITY: (
        Subject.PIER_UTILITY, Subject.PIER, Subject.WALL, Subject.UTILITY, Subject.SITE,
    ),
    Subject.PIER_NEIGHBOUR: (
        Subject.PIER_NEIGHBOUR, Subject.PIER, Subject.WALL, Subject.NEIGHBOUR, Subject.SITE,
    ),
}  # fmt: skip

# The lists that carry the question "is this all there is?", and the word that answers it.
CLOSED_BY: Mapping[Subject, str] = {
    Subject.UTILITY: "all utilities listed",
    Subject.NEIGHBOUR: "all neighbours listed",
    Subject.SOIL_LAYER: "all soil layers listed",
}
