"""The figures that a section through a pit is drawn from: those that the rules were judged on.

Lengths are inches. Depths count down from the ground, or from the floor that the pit is dug from;
what stands out from the wall counts from the wall's face on the side of the pit. A figure that is
not known, or does not apply, stays so.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from survey.assessment import Assessment, PierResult
from survey.facts import FactValue, Thing, shown_fact
from survey.model import Value
from survey.vocabulary import (
    CLOSED_BY,
    DOES_NOT_APPLY,
    NOT_KNOWN,
    VOCABULARY,
    Kind,
    Missing,
    Subject,
    Units,
    from_steps,
)

_INSIDE = ("basement", "crawl space")
_BEARING = "depth to bearing"
_IN_ANY, _IN_C = "slope to neighbour in any ground", "slope to neighbour in type C ground"
# Walks, trees and what is light are held or cut back; the rules hold them to no influence line.
_WEIGH_LITTLE = ("pavement or sidewalk", "tree", "light structure")


@dataclass(frozen=True, slots=True)
class Layer:
    """A soil layer: depths below the ground at the test hole, what it is, its class."""

    label: str
    top: Value
    bottom: Value
    group: Value
    soil_class: Value


@dataclass(frozen=True, slots=True)
class Influence:
    """The slope of an influence line that the rules hold the site to, and in what ground."""

    slope: float
    ground: str


@dataclass(frozen=True, slots=True)
class Near:
    """A neighbour and how it stands to one pit.

    Args:
        pier: at which pier.
        weighs: whether the rules hold it to an influence line; also while its kind is not known.
        depth: underside of its footing below the ground.
        slope: from its footing down to the pit's floor, H:1V, for a floor below that footing.
        clearance: from the pit's edge at the ground.
    """

    label: str
    kind: Value
    pier: str
    weighs: bool
    depth: Value
    slope: Value
    clearance: Value


@dataclass(frozen=True, slots=True)
class OfSite:
    """What is the same at every pit of a site.

    Args:
        open_lists: what is not known to be listed as a whole, such as ``soil layer``.
        line_slopes: of influence lines in any ground and in type C ground; does not apply where
            the book sets none.
    """

    units: Units
    layers: tuple[Layer, ...]
    open_lists: tuple[str, ...]
    line_slopes: tuple[Value, Value]


@dataclass(frozen=True, slots=True)
class SectionFigures:
    """The figures of one kind of pit; ``figures["pit depth"]`` gives one by its word.

    Args:
        site: what is the same at every pit.
        values: of the words of pier, wall and site that a section looks at, by word.
        soil_class: that the pit is held to.
        bearing: depth to bearing, in words.
        seat: name and text of the first seat that suits; none if none is known to suit.
        seats_open: whether another seat may suit.
    """

    site: OfSite
    values: Mapping[str, Value]
    soil_class: Value
    bearing: str
    seat: tuple[str, str] | None
    seats_open: bool

    def __getitem__(self, word: str) -> Value:
        return self.values[word]

    @property
    def inside(self) -> bool:
        """Whether the pit is known to be dug from inside the building."""
        return self["pit reached from"] in _INSIDE

    @property
    def outside(self) -> bool:
        """Whether it is known to be dug from the ground outside."""
        return self["pit reached from"] == "outside"

    @property
    def near_edge(self) -> Value:
        """How far the footing stands out from the wall's face on the side of the pit."""
        if self["footing kind"] == "none found":
            return 0.0
        if self.outside:
            return self["footing projection"]
        parts = (self[word] for word in ("footing width", "footing projection", "wall thickness"))
        lengths = [part for part in parts if isinstance(part, float)]
        if not self.inside or len(lengths) < 3:
            return NOT_KNOWN
        width, projection, thickness = lengths
        return width - projection - thickness

    @property
    def heap_width(self) -> Value:
        """The heap of spoil, as it is counted in the ground needed out from the wall."""
        needed = self["ground needed out from wall"]
        before = (self[word] for word in ("pit width", "slope reach", "spoil distance"))
        known = [part for part in before if isinstance(part, float)]
        if not isinstance(needed, float) or len(known) < 3:
            return NOT_KNOWN
        return max(needed - sum(known), 0.0)

    @property
    def influence(self) -> tuple[Influence, ...]:
        """The influence lines that hold here: two while it is not known which."""
        lines = [
            Influence(slope, ground)
            for slope, ground, holds in zip(
                self.site.line_slopes,
                ("any ground", "type C ground"),
                (self.soil_class != "C", self.soil_class in ("C", NOT_KNOWN)),
                strict=True,
            )
            if holds and isinstance(slope, float)
        ]
        return tuple(lines)


class Sections:
    """The figures of every pit of an assessment."""

    def __init__(self, assessment: Assessment) -> None:
        self._assessment = assessment
        self._things = {thing.label: thing for thing in assessment.facts.of(Subject.PIER)}
        (self._site,) = assessment.facts.of(Subject.SITE)
        self._walls: dict[str, Hashable] = {}

    def kind(self, pier: PierResult) -> Hashable:
        """What is the same for pits whose figures are the same; quick to get."""
        thing = self._things[pier.label]
        wall = thing.parts[Subject.WALL]
        of_wall = self._walls.get(wall.label)
        if of_wall is None:
            of_wall = self._walls[wall.label] = _facts(wall, _OF_WALL)
        bearing = thing.facts[_BEARING]
        return (
            _facts(thing, _OF_PIER), of_wall, self._soil_class(pier), bearing.value, bearing.bounds,
            *_seat(pier),
        )  # fmt: skip

    def of(self, pier: PierResult) -> SectionFigures:
        """The figures of one pit."""
        thing = self._things[pier.label]
        wall = thing.parts[Subject.WALL]
        values = {
            word: _value(one, word)
            for one in (thing, wall, self._site)
            for word in LOOKED_AT[one.subject]
        }
        word = VOCABULARY[_BEARING]
        word = replace(word, unit=word.unit_in(self._assessment.survey.units))
        bearing = shown_fact(word, thing.facts[_BEARING])
        return SectionFigures(self.site, values, self._soil_class(pier), bearing, *_seat(pier))

    def _soil_class(self, pier: PierResult) -> FactValue:
        """The class that a pit is held to, as the rules concluded."""
        return self._assessment.concluded["soil class", pier.label]

    @cached_property
    def site(self) -> OfSite:
        """What is the same at every pit."""
        layers = tuple(
            Layer(thing.label, *(_value(thing, word) for word in _OF_LAYER))
            for thing in self._assessment.facts.of(Subject.SOIL_LAYER)
            if thing.listed
        )
        open_lists = tuple(
            subject.value
            for subject in (Subject.SOIL_LAYER, Subject.NEIGHBOUR)
            if self._site.facts[CLOSED_BY[subject]].value != "yes"
        )
        slopes = self._limit(_IN_ANY), self._limit(_IN_C)
        return OfSite(self._assessment.survey.units, layers, open_lists, slopes)

    def neighbours(self, piers: Iterable[str]) -> tuple[Near | None, tuple[str, ...]]:
        """The neighbour that is nearest to any of some piers, and those that may be nearer.

        Returns:
            It, at that pier; none if none is known. Then the labels of those of which it is not
            known, at one pier or more, how they stand to it.
        """
        unclear: dict[str, None] = {}
        nearest: tuple[tuple[int, int], Thing] | None = None
        for pair in (pair for pier in piers for pair in self._pairs.get(pier, ())):
            distance = _distance(pair)
            if distance is None:
                unclear[pair.parts[Subject.NEIGHBOUR].label] = None
            elif nearest is None or distance < nearest[0]:
                nearest = distance, pair
        return None if nearest is None else _near(nearest[1]), tuple(unclear)

    @cached_property
    def _pairs(self) -> Mapping[str, list[Thing]]:
        """Each pier with its neighbours that are listed."""
        found: dict[str, list[Thing]] = {}
        for pair in self._assessment.facts.of(Subject.PIER_NEIGHBOUR):
            if pair.listed:
                found.setdefault(pair.parts[Subject.PIER].label, []).append(pair)
        return found

    def _limit(self, name: str) -> Value:
        """A slope of the book; does not apply where the book sets none."""
        limit = self._assessment.limits.get(name)
        return DOES_NOT_APPLY if limit is None else from_steps(Kind.SLOPE, limit.steps)


def _seat(pier: PierResult) -> tuple[tuple[str, str] | None, bool]:
    """The first seat that suits, and whether one may suit where none is known to."""
    for seat in pier.seats:
        if seat.state == "suits":
            return (seat.name, seat.prompt), False
    return None, any(seat.state != "does not suit" for seat in pier.seats)


def _distance(pair: Thing) -> tuple[int, int] | None:
    """What neighbours are compared by: the steepest slope, then the least clearance, in steps."""
    slope, clearance = (pair.facts[f"{what} to neighbour"].value for what in ("slope", "clearance"))
    if isinstance(slope, int):
        return 0, slope
    if slope is DOES_NOT_APPLY and isinstance(clearance, int):
        return 1, clearance
    return None


def _near(pair: Thing) -> Near:
    other = pair.parts[Subject.NEIGHBOUR]
    kind = _value(other, "neighbour kind")
    return Near(
        other.label, kind, pair.parts[Subject.PIER].label, kind not in _WEIGH_LITTLE,
        _value(other, "neighbour footing depth"), _value(pair, "slope to neighbour"),
        _value(pair, "clearance to neighbour"),
    )  # fmt: skip


def _facts(thing: Thing, words: Iterable[str]) -> Hashable:
    """Facts as the rules compare them."""
    facts = thing.facts
    return tuple([facts[word].value for word in words])


def _value(thing: Thing, word: str) -> Value:
    """A fact in the canonical unit of its kind; lengths to the step that the rules compare."""
    value = thing.facts[word].value
    if isinstance(value, (Missing, str)):
        return value
    return round(from_steps(VOCABULARY[word].kind, value), 6)


_OF_PIER = (
    "pit reached from", "pit depth", "pit width", "footing depth", "side protection",
    "slope of sides", "foot of the slope", "slope reach", "height of protection",
    "dug below protection", "spoil distance", "ground needed out from wall", "ladder in pit",
    "distance to ladder",
)  # fmt: skip
_OF_WALL = (
    "wall material", "wall thickness", "wall height", "footing kind", "footing thickness",
    "footing width", "footing projection",
)  # fmt: skip
_OF_LAYER = ("layer top", "layer bottom", "soil group", "layer soil class")
_OF_SITE = (
    "groundwater met", "depth to groundwater", "test hole depth", "tube outside diameter",
    "bracket plate depth", "bracket eccentricity", "spanning tube depth", "spanning tube width",
)  # fmt: skip
# What a section looks at, but for layers and neighbours.
LOOKED_AT = {Subject.PIER: _OF_PIER, Subject.WALL: _OF_WALL, Subject.SITE: _OF_SITE}
