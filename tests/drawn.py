"""What stands in a drawing, read back from its SVG, and judged sites to draw."""

from __future__ import annotations

import dataclasses
import functools
import itertools
import random
import xml.etree.ElementTree as ET

from survey.assessment import Assessment, PierResult, Verdict, assess
from survey.model import Survey
from survey.rulebook.book import load_book
from tests.demo_surveys import careful_house, survey_of

NAMESPACE = "{http://www.w3.org/2000/svg}"


class Drawn:
    """An SVG by the looks of its shapes; figures are millimetres on paper, y down."""

    def __init__(self, svg: str) -> None:
        self.root = ET.fromstring(svg)
        self.width, self.height = (float(part) for part in self.root.get("viewBox").split()[2:])
        self.elements = [(element.tag, element) for element in self.root]

    def paths(self, look: str) -> list[list[tuple[float, float]]]:
        """The points of each line or area of a look."""
        return [
            [tuple(map(float, point.split(","))) for point in element.get("points").split()]
            for tag, element in self.elements
            if tag in ("polyline", "polygon") and element.get("class") == look
        ]

    def circles(self, look: str) -> list[tuple[float, float, float]]:
        """Middle and radius of each circle of a look."""
        return [
            tuple(float(element.get(key)) for key in ("cx", "cy", "r"))
            for tag, element in self.elements
            if tag == "circle" and element.get("class") == look
        ]

    @functools.cached_property
    def texts(self) -> list[tuple[str, str]]:
        """Look and wording of each text."""
        return [(e.get("class"), e.text) for tag, e in self.elements if tag == "text"]

    @property
    def words(self) -> str:
        """All texts, one after the other."""
        return " ".join(text for _, text in self.texts)

    def boxes(self) -> list[tuple[str, tuple[float, float, float, float]]]:
        """Each text with the box that it takes up: it is set to a width about its middle."""
        found = []
        for tag, e in self.elements:
            if tag == "text":
                assert e.get("text-anchor") == "middle"
                x, y, size, wide = (
                    float(e.get(key)) for key in ("x", "y", "font-size", "textLength")
                )
                found.append(
                    (e.text, (x - wide / 2, y - 0.92 * size, x + wide / 2, y + 0.25 * size))
                )
        return found

    def overlaps(self) -> list[tuple[str, str]]:
        """Texts that stand on each other."""
        return [
            (one, other)
            for (one, a), (other, b) in itertools.combinations(self.boxes(), 2)
            if a[0] < b[2] - 0.02 and b[0] < a[2] - 0.02 and a[1] < b[3] and b[1] < a[3]
        ]

    def cut(self) -> list[str]:
        """Texts that reach beyond the edge of the drawing."""
        return [
            text
            for text, (left, top, right, bottom) in self.boxes()
            if left < -0.02 or top < 0 or right > self.width + 0.02 or bottom > self.height
        ]


@functools.cache
def _base() -> Assessment:
    return assess(survey_of(careful_house()), (), load_book())


def judged_quickly(survey: Survey, seed: int = 0, soil_class: str | None = "B") -> Assessment:
    """A survey with any verdicts and rounds, for drawings: judging it would take far longer.

    Args:
        soil_class: at every pier; none for not known.
    """
    rng, base = random.Random(seed), _base()
    labels = [pier.label for pier in survey.piers]
    rounds = tuple((label,) for label in labels)
    return dataclasses.replace(
        base,
        survey=survey,
        piers=tuple(PierResult(label, rng.choice(list(Verdict)), (), ()) for label in labels),
        plan=dataclasses.replace(
            base.plan, order=dataclasses.replace(base.plan.order, rounds=rounds)
        ),
        concluded={("soil class", label): soil_class for label in labels if soil_class is not None},
    )
