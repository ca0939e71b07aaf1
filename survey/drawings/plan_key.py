"""What stands below a plan: the key of the looks that are used."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence

from survey.assessment import Verdict
from survey.drawings.labels import Box, in_box, text_box
from survey.drawings.marks import verdict_mark
from survey.drawings.plan_parts import TEXT_MM, coded
from survey.drawings.shapes import Anchor, Path, Point, Shape, Text

ROUND = "round"
_COLUMNS = 3
_ROW_MM = 4.3
_SAMPLE_MM = 11.0
_UNKNOWN_KIND = "line of a kind not known"
_MEANINGS = {
    "plan-pit-floor": "floor of a pit",
    "plan-pit-ground": "edge of a pit at the ground",
    "plan-spoil": "spoil lies outside this",
    "plan-vehicles": "vehicles and loads outside this",
    "plan-neighbour": "neighbour, from its nearest edge on",
    "plan-neighbour-post": "neighbour: tree or post",
    "plan-influence": "influence line: slope, to a depth",
    "plan-keep-off": "keep-off: as far as a pit is deep",
    "plan-wall-open": "wall of a length not known",
}
_AREAS = frozenset(
    ("plan-pit-floor", "plan-pit-ground", "plan-spoil", "plan-vehicles", "plan-neighbour")
)

_Sample = Callable[[Point], Sequence[Shape]]


def line_of(at: Point, text: str, size_mm: float, look: str, most_mm: float = math.inf) -> Text:
    """A line of text from a point on, at its own width unless that is too much."""
    box = text_box(at, text, size_mm)
    return in_box(text, box._replace(right=min(box.right, box.left + most_mm)), size_mm, look)


def key(
    looks: Collection[str], kinds: Iterable[str | None], top: float, width_mm: float
) -> tuple[list[Shape], float]:
    """The key, and the height at which it ends.

    Args:
        looks: that were used; of a verdict, ``verdict`` and its name.
        kinds: of the buried lines that are drawn, each once.
        top: height at which it begins.
        width_mm: over which it spreads.
    """
    entries = list(_entries(looks, kinds))
    rows, wide = math.ceil(len(entries) / _COLUMNS), width_mm / _COLUMNS
    shapes: list[Shape] = []
    for i, (sample, text) in enumerate(entries):
        x, y = (i // rows) * wide, top + (i % rows) * _ROW_MM + 2.0
        shapes += sample((x + _SAMPLE_MM / 2 - 0.5, y))
        at = (x + _SAMPLE_MM, y + 0.9)
        shapes.append(line_of(at, text, TEXT_MM, "plan-text", wide - _SAMPLE_MM - 1.0))
    return shapes, top + rows * _ROW_MM + 1.5


def _entries(looks: Collection[str], kinds: Iterable[str | None]) -> Iterator[tuple[_Sample, str]]:
    for verdict in Verdict:
        if f"verdict {verdict.name}" in looks:
            yield _marked(verdict), verdict.value
    if ROUND in looks:
        yield _numbered, "round in which the pit is dug"
    for look, meaning in _MEANINGS.items():
        if look in looks:
            yield (_area(look) if look in _AREAS else _stroke(look)), meaning
    for kind in kinds:
        code = coded(kind)
        yield (
            _lettered(code.look, code.letter),
            f"{kind or _UNKNOWN_KIND}: {code.colour}",
        )
    if any(look.startswith("plan-zone ") for look in looks):
        yield _area("plan-zone uncoded"), "tolerance zone of a line"


def _marked(verdict: Verdict) -> _Sample:
    return lambda at: verdict_mark(verdict, at, 1.7)


def _numbered(at: Point) -> Sequence[Shape]:
    return (*_area("plan-pit-floor")(at), _letter(at, "1", "plan-round"))


def _stroke(look: str) -> _Sample:
    if look == "plan-neighbour-post":
        return lambda at: (Path(_corners(at, 1.0, 1.0), "plan-neighbour-post", closed=True),)
    return lambda at: (Path(((at[0] - 4.2, at[1]), (at[0] + 4.2, at[1])), look),)


def _area(look: str) -> _Sample:
    edge = (f"{look}-edge", look) if look in ("plan-spoil", "plan-vehicles") else (look,)
    return lambda at: [Path(_corners(at, 4.0, 1.4), one, closed=True) for one in edge]


def _lettered(look: str, letter: str) -> _Sample:
    def sample(at: Point) -> Sequence[Shape]:
        ends = ((at[0] - 4.2, at[1]), (at[0] + 4.2, at[1]))
        return (
            Path(ends, "plan-line-edge"),
            Path(ends, f"plan-line {look}"),
            _letter(at, letter, "plan-letter"),
        )

    return sample


def _letter(at: Point, text: str, look: str) -> Text:
    box = text_box((at[0], at[1] + 0.85), text, TEXT_MM, Anchor.MIDDLE)
    return in_box(text, box, TEXT_MM, look)


def _corners(at: Point, wide: float, high: float) -> tuple[Point, ...]:
    box = Box(*at, *at)
    return (
        (box.left - wide, box.top - high), (box.right + wide, box.top - high),
        (box.right + wide, box.bottom + high), (box.left - wide, box.bottom + high),
    )  # fmt: skip
