"""What a word of the vocabulary is, and how words are looked up."""

from __future__ import annotations

import difflib
import enum
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from survey.vocabulary.kinds import MEASURES, Kind, Units, in_units


class Subject(enum.Enum):
    """What a word is said of: a thing on site, or a pair of things."""

    __hash__ = object.__hash__  # each is one of a kind; hashing its name would cost more

    SITE = "site"
    WALL = "wall"
    PIER = "pier"
    UTILITY = "utility"
    NEIGHBOUR = "neighbour"
    SOIL_LAYER = "soil layer"
    PHOTO = "photo"
    RELEASE = "release"
    PIER_UTILITY = "pier and utility"
    PIER_NEIGHBOUR = "pier and neighbour"
    PIER_SOIL_LAYER = "pier and soil layer"
    PIER_PIER = "pier and other pier"
    OTHER_PIER = "other pier"
    OTHER_WALL = "wall of other pier"


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
        bounded: whether a figure that is not known may be known to lie within bounds.
        starts_from: word whose value a concluded word has before any rule counts it worse.
        otherwise: value of a concluded word where no rule concludes and nothing is open.
        base: for the same word of the other pier of a pair, the word itself.
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
    bounded: bool = False
    starts_from: str | None = None
    otherwise: str | None = None
    base: Word | None = None

    def __str__(self) -> str:
        return self.name

    def __hash__(self) -> int:
        return hash(self.name)

    @property
    def key(self) -> str:
        """Stable key in JSON and in the form's hidden row."""
        return self.name.replace(" ", "_").replace("-", "_")

    @property
    def itself(self) -> Word:
        """The word under which facts are kept, whichever pier of a pair it is said of."""
        return self if self.base is None else self.base

    @property
    def asked(self) -> bool:
        """Whether the form has a question for it."""
        return self.origin in (Origin.SEEN, Origin.CHOSEN)

    def unit_in(self, units: Units) -> str | None:
        """The unit of a bare number on a form that is written in these units."""
        return None if self.unit is None else in_units(self.unit, units)

    @property
    def measured(self) -> bool:
        """Whether the answer is a number with a unit."""
        return self.kind in MEASURES


@dataclass(frozen=True, eq=False)
class Vocabulary:
    """Every word, in the order in which the form asks for them."""

    words: tuple[Word, ...] = field(repr=False)
    _by_name: Mapping[str, Word] = field(init=False, repr=False)

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

    def get(self, name: str) -> Word | None:
        """The word of a name, if there is one."""
        return self._by_name.get(name)

    def extended(self, words: Iterable[Word]) -> Vocabulary:
        """This vocabulary with more words, each asked after those of its subject."""
        more = tuple(words)
        return Vocabulary(self.words + more) if more else self

    def of(self, subject: Subject) -> tuple[Word, ...]:
        """The words said of one subject, in order."""
        return self._by_subject[subject]

    def asked_of(self, subject: Subject) -> tuple[Word, ...]:
        """The questions that the form asks about one subject, in order."""
        return self._asked[subject]

    def scope(self, subject: Subject) -> Mapping[str, Word]:
        """The words that a rule for a subject may use, by the name that it must use.

        Of a pair of piers, each word is said "of this pier" or "of other pier".
        """
        return self._scopes[subject]

    @cached_property
    def _by_subject(self) -> Mapping[Subject, tuple[Word, ...]]:
        said_of: dict[Subject, list[Word]] = {subject: [] for subject in Subject}
        for word in self.words:
            said_of[word.subject].append(word)
        for subject, other in OTHERS.items():
            said_of[other] = [_of_other(word, other) for word in said_of[subject]]
        return {subject: tuple(words) for subject, words in said_of.items()}

    @cached_property
    def _asked(self) -> Mapping[Subject, tuple[Word, ...]]:
        return {s: tuple(w for w in words if w.asked) for s, words in self._by_subject.items()}

    @cached_property
    def _scopes(self) -> Mapping[Subject, Mapping[str, Word]]:
        scopes: dict[Subject, dict[str, Word]] = {}
        for subject, parts in SCOPES.items():
            two_piers = Subject.OTHER_PIER in parts
            scopes[subject] = {
                f"{word.name} of this pier" if two_piers and part in OTHERS else word.name: word
                for part in parts
                for word in self.of(part)
            }
        return scopes


def _of_other(word: Word, subject: Subject) -> Word:
    return replace(word, name=f"{word.name} of other pier", subject=subject, base=word)


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
    Subject.PIER_SOIL_LAYER: (
        Subject.PIER_SOIL_LAYER, Subject.PIER, Subject.WALL, Subject.SOIL_LAYER, Subject.SITE,
    ),
    Subject.PIER_PIER: (
        Subject.PIER_PIER, Subject.PIER, Subject.WALL, Subject.OTHER_PIER, Subject.OTHER_WALL,
        Subject.SITE,
    ),
}  # fmt: skip

# What the second pier of a pair has of its own.
OTHERS: Mapping[Subject, Subject] = {
    Subject.PIER: Subject.OTHER_PIER,
    Subject.WALL: Subject.OTHER_WALL,
}

# What a rule for a subject may look round at, by the name it uses: a thing, or a pair of the
# subject and that thing.
ROUND: Mapping[Subject, Mapping[str, Subject]] = {
    Subject.SITE: {
        "wall": Subject.WALL, "pier": Subject.PIER, "utility": Subject.UTILITY,
        "neighbour": Subject.NEIGHBOUR, "soil layer": Subject.SOIL_LAYER,
    },
    Subject.WALL: {"pier": Subject.PIER},
    Subject.PIER: {
        "utility": Subject.PIER_UTILITY, "neighbour": Subject.PIER_NEIGHBOUR,
        "soil layer": Subject.PIER_SOIL_LAYER, "other pier": Subject.PIER_PIER,
    },
    Subject.UTILITY: {"pier": Subject.PIER_UTILITY},
    Subject.NEIGHBOUR: {"pier": Subject.PIER_NEIGHBOUR},
}  # fmt: skip

# The lists that carry the question "is this all there is?", and the word that answers it.
CLOSED_BY: Mapping[Subject, str] = {
    Subject.UTILITY: "all utilities listed",
    Subject.NEIGHBOUR: "all neighbours listed",
    Subject.SOIL_LAYER: "all soil layers listed",
}
