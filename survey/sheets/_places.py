"""The names of many places in few words: ``P1 to P6, P9``, ``P1 to P3 / gas``, ``wall north``."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise

from survey.model import Survey
from survey.sheets._legible import split_place
from survey.vocabulary import Subject

_NUMBERED = re.compile(r"(.*?)(0|[1-9]\d{0,8})")
_SHORTEST_RUN = 3


def span(labels: Iterable[str], following: Mapping[str, str] | None = None) -> str:
    """Labels with runs of numbers drawn together.

    Args:
        labels: such as ``P1`` or ``F7``, in the order in which they are to stand.
        following: the label that follows each, of all that there are. A run is drawn together
            only if no other label stands between its ends, so that ``P1 to P3`` can't be read
            to take in a ``P2a`` that is not meant.

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
        [f"{run[0]} to {run[-1]}"] if len(run) >= _SHORTEST_RUN else run for run in runs
    )  # fmt: skip
    return ", ".join(part for run in parts for part in run)


def _next(label: str, after: str) -> bool:
    first, second = _NUMBERED.fullmatch(label), _NUMBERED.fullmatch(after)
    return (
        first is not None
        and second is not None
        and first[1] == second[1]
        and int(second[2]) == int(first[2]) + 1
    )


def in_cells(places: Iterable[str]) -> str:
    """Places on a form, sheet by sheet.

    >>> in_cells(["Piers!F7", "Site!B4", "Piers!G7"])
    'Piers F7, G7; Site B4'
    """
    by_sheet: dict[str, list[str]] = {}
    for where in dict.fromkeys(places):
        sheet, cell = split_place(where)
        by_sheet.setdefault(sheet if "!" in where else "", []).append(cell)
    return "; ".join(f"{sheet} {span_of_cells(cells)}".strip() for sheet, cells in by_sheet.items())


def span_of_cells(cells: Iterable[str]) -> str:
    """Cells of one sheet with runs drawn together, and what is said of many of them said once.

    >>> span_of_cells(["row 5 (no column)", "row 6 (no column)", "row 7 (no column)"])
    'row 5 to row 7 (no column)'
    """
    by_note: dict[str, list[str]] = {}
    for cell in cells:
        place, mark, note = cell.partition(" (")
        by_note.setdefault(mark + note, []).append(place)
    return ", ".join(span(places) + note for note, places in by_note.items())


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
