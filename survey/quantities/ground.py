"""Soil layers of a survey, and what a pit meets of soil and water."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache

from survey.answers import unlisted
from survey.engineering import met, soil, soil_fallback, soil_properties, water
from survey.quantities.inputs import Asked, resting_on, worked
from survey.engineering.bearing_depth import Bearing
from survey.engineering.working import Input, Quantity, Result, not_known
from survey.model import Survey
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

    def _class_down_to(self, depth_in: float) -> Result:
        return soil.pit_soil_class(depth_in, self._spans, self._all_listed)

    def _cohesive_down_to(self, depth_in: float) -> Result:
        return soil.cohesive_ground(depth_in, self._spans, self._all_listed)

    def _groups_down_to(self, depth_in: float) -> Result:
        return met.groups_down_to(depth_in, self._spans, self._all_listed)

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
        inputs = {layer.label: self.classes[layer.label].inputs for layer in self._layers}
        return self._met_by(floor, self._class_at, inputs)

    def cohesive(self, floor: Quantity) -> Quantity:
        """Whether a pit meets nothing but cohesive ground, by the depth of its floor."""
        inputs = {layer.label: (layer["soil group"],) for layer in self._layers}
        return self._met_by(floor, self._cohesive_at, inputs)

    def _met_by(
        self,
        floor: Quantity,
        found_at: Callable[[float], Result],
        of_layer: Mapping[str, tuple[Input, ...]],
    ) -> Quantity:
        """What is found down to the floor of a pit, and the answers that this rests on."""
        depth = floor.result.value
        if not isinstance(depth, (int, float)):
            return floor
        inputs: list[Input] = [*floor.inputs, self._closing]
        for layer, span in zip(self._layers, self._spans, strict=True):
            inputs.append(layer["layer top"])
            if soil.may_be_in_pit(span.top_in, depth):
                inputs.append(layer["layer bottom"])
                inputs += of_layer[layer.label]
        return resting_on(found_at(depth), *{id(given): given for given in inputs}.values())

    def groups(self, floor: Quantity) -> Quantity:
        """The soil groups down to a depth, in one text."""
        inputs = {layer.label: (layer["soil group"],) for layer in self._layers}
        return self._met_by(floor, self._groups_at, inputs)

    def strength_under(self, floor: Quantity, reach: Input) -> Quantity:
        """Undrained strength of the clay under a pit's floor, over a reach below it."""
        inputs = [self._closing]
        for layer in self._layers:
            inputs += layer.some("layer top", "layer bottom", "soil group", "unconfined strength")
        found = worked(
            lambda depth, below: met.strength_under(
                depth, below, self._spans,
                [layer.value("unconfined strength") for layer in self._layers], self._all_listed,
            ),
            floor, reach,
        )  # fmt: skip
        return replace(found, inputs=tuple(dict.fromkeys((*found.inputs, *inputs))))

    def by_log(self, layer: Asked) -> Quantity:
        """The class that a boring log suggests for a layer."""
        log = layer["boring log"]
        if log.answer.value == "no":
            return Quantity(Result(DOES_NOT_APPLY, "there is no boring log"), (log,))
        symbol, blows, word, seeps, dug = map(layer.value, _LOG[1:])
        if log.answer.value is NOT_KNOWN:
            return worked(lambda *_: not_known(""), log)
        found = soil_fallback.estimated_soil_class(symbol, blows, word, seeps, dug)
        return resting_on(found, *layer.some(*_LOG))

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
        return worked(lambda *_: not_known(""), pit_depth, floor, met)


def heaviest_pcf(groups: str) -> float:
    """The greatest unit weight that any of some soil groups may have, pcf."""
    return max(soil_properties.unit_weight(group).high for group in groups.split(met.BETWEEN))


def lightest_pcf(groups: str) -> float:
    """The least unit weight that any of them may have, pcf."""
    return min(soil_properties.unit_weight(group).low for group in groups.split(met.BETWEEN))


def permeability_m_per_s(groups: str) -> soil_properties.Range:
    """The least and the greatest permeability that any of them may have, m/s."""
    found = [soil_properties.permeability(group) for group in groups.split(met.BETWEEN)]
    return soil_properties.Range(min(r.low for r in found), max(r.high for r in found))


def _water_met(least: float, greatest: float, met: str, depth: float) -> Result:
    return water.water_above_floor(least, greatest, met, depth, NOT_KNOWN)


def _no_water_met(least: float, greatest: float, met: str, hole: float) -> Result:
    return water.water_above_floor(least, greatest, met, NOT_KNOWN, hole)
