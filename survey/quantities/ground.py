"""Soil layers of a survey, and what a pit meets of soil and water."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, cached_property

from survey.answers import unlisted
from survey.engineering import met, soil, soil_fallback, soil_properties, water
from survey.engineering.bearing_depth import Bearing
from survey.engineering.working import Input, Quantity, Result, not_known
from survey.model import Survey, Value
from survey.quantities.inputs import Asked, Part, resting_on, waits_for, worked
from survey.vocabulary import CLOSED_BY, DOES_NOT_APPLY, NOT_KNOWN, Subject

_LAYER_TESTS = (
    "soil group", "unconfined strength", "thumb test", "fissured", "dug before", "layer seeps",
    "dip into pit",
)  # fmt: skip
_ASKED = (*_LAYER_TESTS, "strength test")
_LOG = (
    "boring log",
    "unified soil group",
    "blow count",
    "consistency",
    "layer seeps",
    "dug before",
)


_HOLD_IN = 60.0  # into firm ground a tube is held 5 ft down: IBC 1810.2.1
_BEST: tuple[Value, ...] = ("CL", 100.0, "hard", "no", "no")


class Ground:
    """The soil layers of a survey with their classes."""

    def __init__(self, survey: Survey, site: Asked) -> None:
        self._site = site
        self._layers = [Asked(row) for row in survey.soil_layers]
        self._closing = site[CLOSED_BY[Subject.SOIL_LAYER]]
        self._all_listed = unlisted(survey, Subject.SOIL_LAYER) is None
        self._tests = [self._tests_of(layer) for layer in self._layers]
        self.classes = {
            layer.label: self._class_of(layer, tests)
            for layer, tests in zip(self._layers, self._tests, strict=True)
        }
        self._spans = [
            soil.Layer(
                layer.label,
                layer.value("layer top"),
                layer.value("layer bottom"),
                soil.layer_classes(tests),
                tests.soil_group,
            )
            for layer, tests in zip(self._layers, self._tests, strict=True)
        ]
        # Piers of one depth meet the same ground.
        self._class_at = cache(self._class_down_to)
        self._cohesive_at = cache(self._cohesive_down_to)
        self._groups_at = cache(self._groups_down_to)
        self._strength_at = cache(self._strength_between)
        self._hold_at = cache(self._hold_between)
        self.logs = {layer.label: self.by_log(layer) for layer in self._layers}

    def _tests_of(self, layer: Asked) -> soil.FieldTests:
        group, strength, thumb, fissured, dug, seeps, dip = map(layer.value, _LAYER_TESTS)
        vibrated = self._site.value("ground vibrated")
        return soil.FieldTests(group, strength, thumb, fissured, vibrated, dug, seeps, dip)

    def _class_of(self, layer: Asked, tests: soil.FieldTests) -> Quantity:
        result = soil.layer_soil_class(tests)
        answers = (*layer.some(*_ASKED), self._site["ground vibrated"])
        # Of the answers that are not known only those are named that can change the class.
        open_words = soil.open_words(tests)
        counting = [
            given
            for given in answers
            if isinstance(given.answer.value, (str, int, float)) or given.word in open_words
        ]
        return resting_on(result, *counting)

    def _class_down_to(self, depth_in: float) -> Quantity:
        found = soil.pit_soil_class(depth_in, self._spans, self._all_listed)
        return self._met(depth_in, found, lambda layer: self.classes[layer.label])

    def _cohesive_down_to(self, depth_in: float) -> Quantity:
        found = soil.cohesive_ground(depth_in, self._spans, self._all_listed)
        return self._met(depth_in, found, lambda layer: layer["soil group"])

    def _groups_down_to(self, depth_in: float) -> Quantity:
        found = met.groups_down_to(depth_in, self._spans, self._all_listed)
        return self._met(depth_in, found, lambda layer: layer["soil group"])

    def _met(self, depth_in: float, found: Result, of_layer: Callable[[Asked], Part]) -> Quantity:
        """What is met down to a depth, with the answers of the layers that may be in the pit."""
        parts: list[Part] = [self._closing]
        for layer, span in zip(self._layers, self._spans, strict=True):
            parts.append(layer["layer top"])
            if soil.may_be_in_pit(span.top_in, depth_in):
                parts += (layer["layer bottom"], of_layer(layer))
        return resting_on(found, *parts)

    def _strength_between(self, floor_in: float, reach_in: float) -> Result:
        return met.strength_under(
            floor_in, reach_in, self._spans, self._strengths, self._all_listed
        )

    def _hold_between(self, floor_in: float, reach_in: float) -> Result:
        return met.side_hold(floor_in, reach_in, self._spans, self._strengths, self._all_listed)

    @cached_property
    def _strengths(self) -> list[tuple[Value, Value]]:
        one, other = "unconfined strength", "thumb test"
        return [(layer.value(one), layer.value(other)) for layer in self._layers]

    @property
    def layers(self) -> list[soil.Layer]:
        """The layers as the calculations take them."""
        return self._spans

    @property
    def bearing(self) -> list[Bearing]:
        """The layers as what may stop a pier."""
        words = ("soil group", "blow count", "unconfined strength")
        return [
            Bearing(layer.label, span.top_in, span.bottom_in, *map(layer.value, words))
            for layer, span in zip(self._layers, self._spans, strict=True)
        ]

    @property
    def all_listed(self) -> bool:
        """Whether the list of layers is closed."""
        return self._all_listed

    @property
    def inputs(self) -> tuple[Input, ...]:
        """The answers that tell where the layers lie and what they are."""
        words = ("layer top", "layer bottom", "soil group")
        return (self._closing, *(one for layer in self._layers for one in layer.some(*words)))

    def pit_class(self, floor: Quantity) -> Quantity:
        """Soil class of a pit, by the depth of its floor below the ground."""
        return _at(floor, self._class_at)

    def cohesive(self, floor: Quantity) -> Quantity:
        """Whether a pit meets nothing but cohesive ground, by the depth of its floor."""
        return _at(floor, self._cohesive_at)

    def groups(self, floor: Quantity) -> Quantity:
        """The soil groups down to a depth, in one text."""
        return _at(floor, self._groups_at)

    def strength_under(self, pit_depth: Input, floor: Quantity, reach: Input) -> Quantity:
        """Undrained strength of the clay under a pit's floor, over a reach below it.

        Dug from inside, the floor lies between the pit's own depth and ``floor``, so all of the
        ground between counts.
        """
        found = worked(
            lambda least, most, below: self._strength_at(least, most - least + below),
            pit_depth, floor, reach,
        )  # fmt: skip
        return Quantity(found.result, (*found.behind, *self._strength_inputs))

    def side_hold(self, pit_depth: Input, floor: Quantity) -> Quantity:
        """How well the ground under a pit's floor holds a tube sideways; as above from inside."""
        found = worked(
            lambda least, most: self._hold_at(least, most - least + _HOLD_IN), pit_depth, floor,
        )  # fmt: skip
        return Quantity(found.result, (*found.behind, *self._strength_inputs))

    @cached_property
    def _strength_inputs(self) -> tuple[Input, ...]:
        words = ("layer top", "layer bottom", "soil group", "unconfined strength", "thumb test")
        return (self._closing, *(one for layer in self._layers for one in layer.some(*words)))

    def by_log(self, layer: Asked) -> Quantity:
        """The class that a boring log suggests for a layer."""
        log = layer["boring log"]
        if log.answer.value == "no":
            return Quantity(Result(DOES_NOT_APPLY, "there is no boring log"), (log,))
        symbol, blows, word, seeps, dug = map(layer.value, _LOG[1:])
        if log.answer.value is NOT_KNOWN:
            return waits_for(log)
        found = soil_fallback.estimated_soil_class(symbol, blows, word, seeps, dug)
        missing = (symbol, blows, word, seeps, dug).count(NOT_KNOWN)
        if missing and self._best_by_log(layer).value != "C":
            found = not_known("what is not known of the layer may make it B or C")
        return resting_on(found, *layer.some(*_LOG))

    @staticmethod
    def _best_by_log(layer: Asked) -> Result:
        """The class with the best answer in place of each that is not known."""
        answers: list[Value] = [
            best if layer.value(word) is NOT_KNOWN else layer.value(word)
            for word, best in zip(_LOG[1:], _BEST, strict=True)
        ]
        return soil_fallback.estimated_soil_class(*answers)

    def water(self, pit_depth: Input, floor: Quantity) -> Quantity:
        """Whether ground water stands above the floor of a pit.

        Dug from inside, the pit's floor is at least its own depth below the ground outside
        (the floor it is dug from is not above that ground) and at most as deep as ``floor``.
        """
        met = self._site["groundwater met"]
        if met.answer.value == "yes":
            return worked(_water_met, pit_depth, floor, met, self._site["depth to groundwater"])
        if met.answer.value == "no":
            return worked(_no_water_met, pit_depth, floor, met, self._site["test hole depth"])
        return waits_for(pit_depth, floor, met)


def _at(floor: Quantity, met_at: Callable[[float], Quantity]) -> Quantity:
    """What is met down to the floor of a pit."""
    depth = floor.result.value
    if not isinstance(depth, (int, float)):
        return floor
    found = met_at(depth)
    return Quantity(found.result, (floor, found))


@cache
def heaviest_pcf(groups: str) -> float:
    """The greatest unit weight that any of some soil groups may have, pcf."""
    return max(soil_properties.unit_weight(group).high for group in groups.split(met.BETWEEN))


@cache
def lightest_pcf(groups: str) -> float:
    """The least unit weight that any of them may have, pcf."""
    return min(soil_properties.unit_weight(group).low for group in groups.split(met.BETWEEN))


@cache
def permeability_m_per_s(groups: str) -> soil_properties.Range:
    """The least and the greatest permeability that any of them may have, m/s."""
    found = [soil_properties.permeability(group) for group in groups.split(met.BETWEEN)]
    return soil_properties.Range(min(r.low for r in found), max(r.high for r in found))


def _water_met(least: float, greatest: float, met: str, depth: float) -> Result:
    return water.water_above_floor(least, greatest, met, depth, NOT_KNOWN)


def _no_water_met(least: float, greatest: float, met: str, hole: float) -> Result:
    return water.water_above_floor(least, greatest, met, NOT_KNOWN, hole)
