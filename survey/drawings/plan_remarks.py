"""What a plan can't show, in words: which answer is missing, and what else to know of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from survey.assessment import Assessment
from survey.drawings.labels import LONGEST_LABEL
from survey.drawings.plan_reach import class_not_known, length
from survey.quantities.outlines import Outlines, PierOutline
from survey.vocabulary import NOT_KNOWN, Subject

_MOST = 14
_MOST_NAMES = 20
_LONGEST_REASON = 90


def remarks(made: Assessment, found: Outlines, more: Sequence[str]) -> list[str]:
    """All of them, each once; if there are too many, how many of what is not drawn were left out.

    Args:
        made: the judged site.
        found: what is drawn of it, and what can't be.
        more: what came up while it was drawn.
    """
    told = [*dict.fromkeys((*_drawn_short(found), *_general(made, found), *more, *_undrawn(found)))]
    left = len(told) - _MOST
    if left <= 0:
        return told
    return [*told[:_MOST], f"{left} more things can't be drawn: see what is asked on the sheet."]


def short(text: str, most: int = LONGEST_LABEL) -> str:
    """A text cut to so many letters."""
    return text if len(text) <= most else f"{text[: most - 1]}\N{HORIZONTAL ELLIPSIS}"


def _general(made: Assessment, found: Outlines) -> Iterator[str]:
    gap = found.closing_in
    if gap is not None and gap > 0.5:
        yield f"The walls as measured do not meet: {length(gap, made.survey.units)} are left open."
    if len(found.runs) > 1:
        yield (
            "Each run of walls is drawn by itself: how they stand to each other is not known "
            "(walls all the way round, their lengths and turns)."
        )
    overhead = made.survey.site.value("overhead lines near")
    if overhead != "no":
        near = "may be" if overhead is NOT_KNOWN else "are"
        yield f"Overhead lines {near} near; where they hang is not in this plan."
    if any(run.neighbours for run in found.runs):
        open_class = [label for run in found.runs for label in class_not_known(made, run)]
        if open_class:
            yield (
                f"Soil class not known at {_names(open_class)}: influence lines take it as type C."
            )


def _undrawn(found: Outlines) -> Iterator[str]:
    """What can't be drawn, with the reason, things of one reason together."""
    alike: dict[tuple[Subject, str, str], list[str]] = {}
    for one in found.undrawn:
        why = one.why.replace(f" of {one.label}:", ":") if one.label else one.why
        alike.setdefault((one.subject, one.what, why), []).append(one.label)
    for (_, what, why), labels in alike.items():
        if labels == [""]:
            yield f"{why[0].upper()}{why[1:]}."
        else:
            part = f", {what}" if what else ""
            yield f"Not drawn: {_names(labels)}{part} ({short(why, _LONGEST_REASON)})."


def _drawn_short(found: Outlines) -> Iterator[str]:
    """What is drawn smaller or nearer than it may be: read before all else."""
    if sizeless := [
        line.label for run in found.runs for line in run.utilities if line.diameter_in is None
    ]:
        yield f"No size given for {_names(sizeless)}: where it lies is drawn, not how wide it is."
    piers = [pier for run in found.runs for pier in run.piers]
    if heaps := [p.label for p in piers if p.spoil_in is None and not p.inside]:
        yield f"Distance of spoil not known at {_names(heaps)}: drawn as near as it may be."
    if deep := [p.label for p in piers if _depth_open(p)]:
        yield (
            f"Depth not known at {_names(deep)}: lines that vehicles keep outside, and influence "
            "lines, leave it out."
        )


def _depth_open(pier: PierOutline) -> bool:
    return pier.floor_depth_in is None or pier.pit_depth_in is None


def _names(labels: Sequence[str]) -> str:
    shown = ", ".join(map(short, labels[:_MOST_NAMES]))
    left = len(labels) - _MOST_NAMES
    return f"{shown} and {left} more" if left > 0 else shown
