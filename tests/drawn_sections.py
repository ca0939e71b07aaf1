"""Sections as the tests look at them: read back from the SVG, in inches of the section."""

from __future__ import annotations

import copy
import itertools
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any
from xml.etree import ElementTree as ET

from survey.answers import read_survey
from survey.assessment import Assessment, assess
from survey.document import read_document
from survey.drawings.section_labels import text_width
from survey.drawings.sections import SectionDrawing, section_drawings
from survey.rulebook.book import load_book
from tests.demo_surveys import HELD, careful_house

BOOK = load_book()
SLOPED = {
    "side_protection": "sloped", "slope_of_sides": "1.5H:1V",
    "foot_of_the_slope": "slope goes down to the floor",
}  # fmt: skip
_SVG = "{http://www.w3.org/2000/svg}"
Points = list[tuple[float, float]]


@dataclass(frozen=True)
class Words:
    """A line of text with the box that it takes, mm."""

    text: str
    look: str
    left: float
    top: float
    right: float
    bottom: float


class Drawn:
    """A section read from its SVG."""

    def __init__(self, drawing: SectionDrawing) -> None:
        self.root = ET.fromstring(drawing.svg)
        self.remarks = " ".join(drawing.remarks)
        self.texts = [_words(element) for element in self.root.iter() if _kind(element) == "text"]
        (said,) = (re.match(r"Scale 1:(\d+)", w.text) for w in self.texts if "Scale 1:" in w.text)
        assert said is not None
        self.scale = int(said[1])

    def paths(self, look: str) -> list[Points]:
        """Every line or area of a look, in inches from the upper left corner."""
        return [
            [(x * self.scale / 25.4, y * self.scale / 25.4) for x, y in _points(element)]
            for element in self.root.iter()
            if element.get("class") == f"section-{look}" and element.get("points")
        ]

    def path(self, look: str) -> Points:
        """The one line or area of a look."""
        (found,) = self.paths(look)
        return found

    @property
    def figures(self) -> list[str]:
        """What the dimensions say."""
        return [words.text for words in self.texts if words.look == "section-figure"]

    @property
    def told(self) -> str:
        """All words of the drawing, as they are read aloud."""
        return str(self.root.find("{*}desc").text)

    def overlaps(self) -> Iterator[tuple[str, str]]:
        """Texts that lie on one another or beyond the edge of the drawing."""
        for one, other in itertools.combinations(self.texts, 2):
            if (
                one.left < other.right and other.left < one.right
                and one.top < other.bottom and other.top < one.bottom
            ):  # fmt: skip
                yield one.text, other.text
        _, _, width, height = map(float, self.root.attrib["viewBox"].split())
        for words in self.texts:
            if words.left < 0 or words.top < 0 or words.right > width or words.bottom > height:
                yield words.text, "edge"


def _kind(element: ET.Element) -> str:
    return element.tag.removeprefix(_SVG)


def _points(element: ET.Element) -> Points:
    return [tuple(map(float, pair.split(","))) for pair in element.attrib["points"].split()]  # type: ignore[misc]


def _words(element: ET.Element) -> Words:
    text, size = element.text or "", float(element.attrib["font-size"])
    x, y, width = float(element.attrib["x"]), float(element.attrib["y"]), text_width(text, size)
    start = {"start": 0.0, "middle": width / 2, "end": width}[element.attrib["text-anchor"]]
    look = element.attrib["class"]
    if "transform" in element.attrib:  # turned to read upwards about its middle
        return Words(text, look, x - 0.75 * size, y - width / 2, x + 0.2 * size, y + width / 2)
    return Words(text, look, x - start, y - 0.75 * size, x - start + width, y + 0.2 * size)


def document(
    *,
    piers: Mapping[str, str] | None = None,
    walls: Mapping[str, str] | None = None,
    neighbours: Mapping[str, str] | None = None,
    layers: Mapping[str, str] | None = None,
    **site: str,
) -> dict[str, Any]:
    """The careful house with some answers changed at every pier, wall and so on."""
    made = copy.deepcopy(careful_house())
    made["site"] |= site
    if piers and "side_protection" in piers and piers["side_protection"] != "shield":
        for pier in made["piers"]:
            for word in HELD:
                del pier[word]
    changes = {"piers": piers, "walls": walls, "neighbours": neighbours, "soil_layers": layers}
    for of, changed in changes.items():
        for row in made[of]:
            row.update(changed or {})
    return made


def judged(made: Mapping[str, Any]) -> Assessment:
    """A document, judged by the shipped book; answers that contradict others are let be."""
    survey, problems = read_survey(read_document(json.dumps(made), "site.json"))
    return assess(survey, problems, BOOK)


def drawn(**changes: Any) -> Drawn:
    """The section of the careful house, so changed that all pits are of one kind."""
    (drawing,) = section_drawings(judged(document(**changes)))
    return Drawn(drawing)
