"""The plan that the verdict rests on, for the crew to keep to: pits, sides, spoil, ladders."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from survey.assessment import Assessment, Finding, PierResult, Verdict
from survey.assessment.planning import End
from survey.model import Row, Survey
from survey.rulebook.rules import Outcome
from survey.sheets._grouping import by_key
from survey.sheets._legible import answer, count, crew_days, day
from survey.sheets._places import Places
from survey.vocabulary import NOT_KNOWN, Missing, Subject

_MOST_OPEN_CODES = 6
_KEPT_BACK = "vehicles, machines and loads kept back from each pit by its depth"


@dataclass(frozen=True, slots=True)
class PierLine:
    """What is said of a pier location in a table of them."""

    label: str
    verdict: Verdict
    pit: str
    depth: str
    protection: str
    suits: str
    open_seats: str
    codes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PiersAlike:
    """Pier locations of which all is the same but their place.

    Args:
        where: their labels in few words.
        line: the first of them.
        photos: how many show them; empty if none does.
    """

    where: str
    line: PierLine
    photos: str


def piers_alike(
    assessment: Assessment, places: Places, photos: Mapping[str, int]
) -> tuple[PiersAlike, ...]:
    """Every pier location, those that are alike together."""
    alike = by_key(pier_lines(assessment), lambda line: replace(line, label=""))
    return tuple(
        PiersAlike(places.named(Subject.PIER, labels), same[0], _photos(labels, photos))
        for same in alike
        for labels in ([line.label for line in same],)
    )


def _photos(labels: Iterable[str], photos: Mapping[str, int]) -> str:
    shown = [(label, photos[label]) for label in labels if label in photos]
    return ", ".join(f"{label}: {count(number, 'photo')}" for label, number in shown)


def pier_lines(assessment: Assessment) -> tuple[PierLine, ...]:
    """Every pier location, in the order of the form."""
    rows = {row.label: row for row in assessment.survey.piers}
    return tuple(_pier_line(pier, rows[pier.label]) for pier in assessment.piers)


def _pier_line(pier: PierResult, row: Row) -> PierLine:
    known = row.value("pit depth") is not NOT_KNOWN
    depth = f"{answer(row, 'pit depth')} deep" if known else "depth not known"
    return PierLine(
        pier.label, pier.verdict, _pit(row), depth, _protection(row),
        _seats(pier, "suits"), _seats(pier, "can't tell"), marked_codes(pier.findings),
    )  # fmt: skip


def _pit(row: Row) -> str:
    """Length and width of the floor of a pit, such as ``30 x 36 in``."""
    length, width = answer(row, "pit length"), answer(row, "pit width")
    known = [row.value(f"pit {side}") is not NOT_KNOWN for side in ("length", "width")]
    if all(known):
        return f"{length.removesuffix(' in')} x {width}"
    return f"length {length}, width {width}" if any(known) else "length and width not known"


def _protection(row: Row) -> str:
    protection, slope = answer(row, "side protection"), row.value("slope of sides")
    if not isinstance(slope, Missing):
        return f"{protection} {answer(row, 'slope of sides')}"
    if slope is NOT_KNOWN and row.value("side protection") == "sloped":
        return "sloped, slope not known"
    return protection


def _seats(pier: PierResult, state: str) -> str:
    """The seats of a pier that are in a state, the one to be preferred first."""
    return "; ".join(seat.name for seat in pier.seats if seat.state == state)


def marked_codes(findings: Iterable[Finding]) -> tuple[str, ...]:
    """The code of each finding that is no note, once; the open ones as a number if many."""
    told = (f for f in findings if f.outcome is not Outcome.NOTE)
    marked = dict.fromkeys((_marked(f), f.counts and f.outcome is Outcome.ASK) for f in told)
    still_open = [code for code, is_open in marked if is_open]
    if len(still_open) <= _MOST_OPEN_CODES:
        return tuple(code for code, _ in marked)
    settled = (code for code, is_open in marked if not is_open)
    return (*settled, f"{count(len(still_open), 'rule')} wait for answers")


def _marked(finding: Finding) -> str:
    """The code of a finding as it stands in the table of piers."""
    code = finding.rule.code
    if not finding.counts:
        return f"({code})"
    return f"{code}?" if finding.outcome is Outcome.ASK else code


@dataclass(frozen=True, slots=True)
class Day:
    """One end of the days on which the crew may begin, as printed."""

    day: str
    why: str


def of_days(end: End) -> Day:
    """One end of the days, with what sets it."""
    return Day("not known" if end.day is None else day(end.day), "; ".join(end.why))


def plan(assessment: Assessment, places: Places) -> str:
    """The rest of the plan in one line: what the crew may not change without a new judgement."""
    survey = assessment.survey
    site = survey.site
    parts = [
        _spacing(site),
        *_together(site),
        *_at_piers(survey, places, _spoil),
        *_at_piers(survey, places, _ladder),
        *([_KEPT_BACK] if site.value("vehicles kept back") == "yes" else []),
        f"water removal: {answer(site, 'water removal')}",
        *_stops_at(site),
        f"crew on site: {crew_days(site)}",
    ]
    lead = "Keep to this plan" if assessment.verdict.may_start else "Judged by this plan"
    return f"{lead}: {'; '.join(parts)}."


def _spacing(site: Row) -> str:
    spacing = site.value("clear spacing of open pits")
    if spacing is NOT_KNOWN:
        return "distance between open pits not known"
    if spacing == 0:
        return "neighbouring pits may be open together"
    return f"open pits at least {answer(site, 'clear spacing of open pits')} apart"


def _together(site: Row) -> list[str]:
    """How many pits may be open at once, where somebody said so."""
    most = site.value("most pits open together")
    if not isinstance(most, (int, float)):
        return []
    return [f"no more than {count(int(most), 'pit')} open at once"]


def _stops_at(site: Row) -> list[str]:
    """The movement at which the work stops, where it is known."""
    if isinstance(site.value("movement that stops the work"), Missing):
        return []
    return [f"work stops at {answer(site, 'movement that stops the work')} of movement"]


def _at_piers(survey: Survey, places: Places, say: Callable[[Row], str]) -> list[str]:
    """What is said of the pits, and where if not of all alike."""
    alike = by_key(((row, text) for row in survey.piers if (text := say(row))), lambda p: p[1])
    return [
        text if len(same) == len(survey.piers)
        else f"{text} at {places.named(Subject.PIER, (row.label for row, _ in same))}"
        for same in alike
        for text in (same[0][1],)
    ]  # fmt: skip


def _spoil(pier: Row) -> str:
    if pier.value("spoil distance") is NOT_KNOWN:
        return "distance of spoil not known"
    return f"spoil at least {answer(pier, 'spoil distance')} from the edge"


def _ladder(pier: Row) -> str:
    """The way out of a pit, if one is planned; where none is, the rules speak of it."""
    if pier.value("ladder in pit") != "yes":
        return ""
    if pier.value("distance to ladder") is NOT_KNOWN:
        return "a ladder, ramp or steps in the pit"
    reach = answer(pier, "distance to ladder")
    return f"a ladder, ramp or steps within {reach} of everyone in the pit"
