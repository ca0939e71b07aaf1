"""Soil layers of a survey, and what a pit meets of soil and water."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache

from survey.answers import unlisted
from survey.engineering import soil, water
from survey.engineering._inputs import Asked, resting_on, worked
from survey.engineering.working import Input, Quantity, Result, not_known
from survey.model import Survey
from survey.vocabulary import CLOSED_BY, NOT_KNOWN, Subject

_LAYER_TESTS = (
    "soil group", "unconfined strength", "thumb test", "fissured", "dug before", "layer seeps",
    "dip into pit",
)  # fmt: skip
_ASKED = (*_LAYER_TESTS, "strength test")


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


def _water_met(least: float, greatest: float, met: str, depth: float) -> Result:
    return water.water_above_floor(least, greatest, met, depth, NOT_KNOWN)


def _no_water_met(least: float, greatest: float, met: str, hole: float) -> Result:
    return water.water_above_floor(least, greatest, met, NOT_KNOWN, hole)
