"""The names of many places in few words: ``P1 to P6, P9``, ``P1 to P3 / gas``, ``wall north``."""

from __future__ import annotations

import functools
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise

from survey.model import Survey
from survey.sheets._legible import split_place
from survey.vocabulary import Subject

_NUMBERED = re.compile(r"(.*?)(0|[1-9]\d{0,8})")
_ROW_OF_LIST = re.compile(r"(\w+)\[(\d{1,9})\]\.(.+)", re.ASCII)
_SHORTEST_RUN = 3


def span(labels: Iterable[str], following: Mapping[str, str] | None = None, to: str = "to") -> str:
    """Labels with runs of numbers drawn together.

    Args:
        labels: such as ``P1`` or ``F7``, in the order in which they are to stand.
        following: the label that follows each, of all that there are. A run is drawn together
            only if no other label stands between its ends, so that ``P1 to P3`` can't be read
            to take in a ``P2a`` that is not meant.
        to: the word between the ends of a run.

    >>> span(["P1", "P2", "P3", "P5"])
    'P1 to P3, P5'
    >>> span(["P1", "P2", "P3"], {"P1": "P2", "P2": "P2a", "P2a": "P3"})
    'P1, P2, P3'
    """
    listed = list(labels)
    if len(listed) < _SHORTEST_RUN:
        return ", ".join(listed)
    after = following or {}
    runs: list[list[str]] = []
    for label in listed:
        last = runs[-1][-1] if runs else ""
        if _next(last, label) and after.get(last, label) == label:
            runs[-1].append(label)
        else:
            runs.append([label])
    parts = (
        [f"{run[0]} {to} {run[-1]}"] if len(run) >= _SHORTEST_RUN else run for run in runs
    )  # fmt: skip
    return ", ".join(part for run in parts for part in run)


def _next(label: str, after: str) -> bool:
    first, number = _numbered(label)
    second, next_number = _numbered(after)
    return first == second and next_number == number + 1 > 0


@functools.lru_cache(maxsize=32_768)
def _numbered(label: str) -> tuple[str, int]:
    """A label without the number that it ends in, and the number; itself and -2 without one."""
    found = _NUMBERED.fullmatch(label)
    return (label, -2) if found is None else (found[1], int(found[2]))


def in_cells(places: Iterable[str]) -> str:
    """Places on a form, sheet by sheet.

    >>> in_cells(["Piers!F7", "Site!B4", "Piers!G7"])
    'Piers F7, G7; Site B4'
    """
    return _in_cells(tuple(dict.fromkeys(places)))


@functools.lru_cache(maxsize=1024)
def _in_cells(places: tuple[str, ...]) -> str:
    """Many rules look at the same figures, which rest on the same cells."""
    by_sheet: dict[str, list[str]] = {}
    for where in places:
        sheet, cell = split_place(where)
        by_sheet.setdefault(sheet if "!" in where else "", []).append(cell)
    return "; ".join(f"{sheet} {span_of_cells(cells)}".strip() for sheet, cells in by_sheet.items())


def span_of_cells(cells: Iterable[str]) -> str:
    """Cells of one sheet with runs drawn together, and what is said of many of them said once.

    >>> span_of_cells(["row 5 (no column)", "row 6 (no column)", "row 7 (no column)"])
    'row 5 to row 7 (no column)'
    >>> span_of_cells(["piers[0].station", "piers[1].station", "piers[2].station"])
    'piers[0 to 2].station'
    """
    by_note: dict[str, list[str]] = {}
    paths: dict[tuple[str, str], list[str]] = {}
    for cell in cells:
        path = _path(cell)
        if path is not None:
            name, number, key = path
            paths.setdefault((name, key), []).append(number)
        else:
            place, mark, note = cell.partition(" (")
            by_note.setdefault(mark + note, []).append(place)
    said = [span(places) + note for note, places in by_note.items()]
    said += [f"{name}[{span(numbers)}].{key}" for (name, key), numbers in paths.items()]
    return ", ".join(said)


@functools.lru_cache(maxsize=32_768)
def _path(cell: str) -> tuple[str, str, str] | None:
    """List, number and key of a place in a JSON survey; none of a cell."""
    found = _ROW_OF_LIST.fullmatch(cell)
    return None if found is None else (found[1], found[2], found[3])


@dataclass(frozen=True)
class Places:
    """The places of a site, to name any of them in few words.

    Args:
        following: the label of the pier location that follows each, in the order of the form.
        pairs: pier and other label of each pair, by the label of the pair.
    """

    following: Mapping[str, str]
    pairs: Mapping[str, tuple[str, str]]

    @classmethod
    def of(cls, survey: Survey) -> Places:
        """The places of a survey."""
        piers = [row.label for row in survey.piers]
        others = [row.label for row in (*survey.utilities, *survey.neighbours)]
        return cls(dict(pairwise(piers)), {f"{p} / {o}": (p, o) for p in piers for o in others})

    def named(self, subject: Subject, labels: Iterable[str]) -> str:
        """The labels of things of one subject, each once, in few words."""
        labels = list(dict.fromkeys(labels))
        match subject:
            case Subject.SITE:
                return "whole site"
            case Subject.PIER:
                return span(labels, self.following)
            case Subject.PIER_UTILITY | Subject.PIER_NEIGHBOUR:
                by_other: dict[str, list[str]] = {}
                for label in labels:
                    pier, other = self.pairs.get(label, (label, ""))
                    by_other.setdefault(other, []).append(pier)
                return "; ".join(
                    span(piers, self.following) + (f" / {other}" if other else "")
                    for other, piers in by_other.items()
                )
            case _:
                return f"{subject.value} {', '.join(labels)}"
