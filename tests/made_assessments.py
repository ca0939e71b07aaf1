"""Assessments for the tests of the sheets: small sites, judged by a small book of their own."""

from __future__ import annotations

import dataclasses
import datetime as dt
import hashlib
from collections.abc import Callable, Mapping

from survey.answers import RawRow, RawSurvey, read_survey
from survey.assessment import Assessment, assess
from survey.rulebook.reading import read_book
from survey.rulebook.rules import Rule, RuleBook
from survey.vocabulary import VOCABULARY, Subject

TODAY = dt.date(2026, 11, 30)
CREW_DATE = dt.date(2026, 12, 1)
LAST_CREW_DATE = dt.date(2026, 12, 4)

BOOK = read_book({"test.rules": """
topic Excavation

legal limit protection depth = 5 ft
  from  29 CFR 1926.652(a)(1)(ii)

rule DIG-1 pit with nothing to hold its sides
  for   each pier
  when  cave-in protection is needed and side protection is none
  then  stop
  say   Pit {pier} is {pit depth} deep in type {soil class} ground and nothing holds its sides.
  do    Slope the sides, or fit shoring or a shield, before anyone goes in.
  who   crew
  from  29 CFR 1926.652(a)(1)
  release nobody
  case  cave-in protection needed, side protection none gives stop
  case  cave-in protection needed, side protection sloped gives nothing
  case  cave-in protection needed, side protection not known gives ask

rule DIG-2 pit deep enough to need protection
  for   each pier
  when  pit depth is at least protection depth and soil class is not stable rock
  then  count cave-in protection as needed
  say   Pit {pier} is {pit depth} deep; from {protection depth} on its sides are protected.
  from  29 CFR 1926.652(a)(1)
  case  pit depth 5 ft, soil class C gives needed
  case  pit depth 4 ft, soil class C gives nothing
  case  pit depth not known, soil class C gives ask

rule DIG-3 spoil nearer than 2 ft to a pit
  for   each pier
  when  spoil distance is less than 2 ft
  then  condition
  say   Spoil at {pier} stands {spoil distance} from the edge.
  do    Keep spoil, tools and materials 2 ft or more back from pit {pier}.
  who   crew
  from  29 CFR 1926.651(j)(2)
  release nobody
  case  spoil distance 1 ft gives condition
  case  spoil distance 2 ft gives nothing
  case  spoil distance not known gives ask

rule SOIL-1 ground from which water seeps
  for   each pier
  when  seepage at pit is yes
  then  count soil class as C
  say   Water seeps from the ground at {pier}, so it counts as type C.
  from  29 CFR 1926 Subpart P App. A, from memory
  case  seepage at pit yes gives C
  case  seepage at pit no gives nothing
  case  seepage at pit not known gives ask

rule FOOT-1 pit under our own footing
  for   each pier
  when  pit depth is more than footing depth
  then  engineer
  say   Pit {pier} goes to {pit depth}, below the footing at {footing depth}.
  do    Give an approved determination or the design of a support system.
  who   engineer
  from  29 CFR 1926.651(i)(2)
  release licensed engineer
  case  pit depth 5 ft, footing depth 4 ft gives engineer
  case  pit depth 4 ft, footing depth 4 ft gives nothing
  case  pit depth 5 ft, footing depth not known gives ask

rule LINE-1 gas or electric line near a pit and not shut off
  for   each pier and utility
  when  clearance to utility is less than 4 ft and utility kind is one of gas, electric
        and shut off for the work is no
  then  condition
  say   {utility} lies {clearance to utility} from pit {pier}.
  do    Have {utility} shut off while pit {pier} is open.
  who   competent person
  from  common practice
  release competent person
  case  clearance to utility 3 ft, utility kind gas, shut off for the work no gives condition
  case  clearance to utility 4 ft, utility kind gas, shut off for the work no gives nothing
  case  clearance to utility not known, utility kind gas, shut off for the work no gives ask

rule LINE-2 no locate request
  for   the site
  when  locate request made is no
  then  stop
  say   No locate request was made.
  do    Call the one-call centre and wait for every owner's answer.
  who   scheduler
  from  49 CFR 196.103
  release nobody
  case  locate request made no gives stop
  case  locate request made yes gives nothing
  case  locate request made not known gives ask

rule LINE-3 line known from signs on the surface only
  for   each utility
  when  located by is surface signs
  then  note
  say   {utility} is known from surface signs.
  do    Look out for it.
  who   crew
  from  common practice
  release nobody
  case  located by surface signs gives note
  case  located by traced gives nothing
  case  located by not known gives ask

rule CREW-1 pits that the public can fall into
  for   the site
  when  public kept out is no
  then  condition
  say   The pits are not fenced.
  do    Fence or cover the pits whenever nobody is there.
  who   crew
  from  common practice
  release nobody
  case  public kept out no gives condition
  case  public kept out yes gives nothing
  case  public kept out not known gives ask

rule SURVEY-1 survey made long before the work
  for   the site
  when  survey age is more than 30 days
  then  ask
  say   The survey is {survey age} old on the crew's first day.
  do    Walk the site again and date the survey anew.
  who   surveyor
  from  common practice
  release nobody
  case  survey age 31 days gives ask
  case  survey age 30 days gives nothing
  case  survey age not known gives ask

seat SEAT-1 under cut footing
  prefer   1
  say      bracket under the footing, cut back to the wall
  footing  footing face can be prepared is yes
  do       Cut the footing back.
  from     common practice
  answers  footing face can be prepared yes
  case     footing face can be prepared no gives does not suit
  case     footing face can be prepared not known gives ask

seat SEAT-2 anchored to footing
  prefer   2
  say      bracket held to the footing with anchors
  say es   soporte sujeto a la zapata con anclas
  footing  footing cracks is one of none, hairline
  do       Drill for the anchors.
  do es    Taladre para las anclas.
  caution  Blow the holes clean.
  caution es  Limpie los agujeros con aire.
  from     common practice
  answers  footing cracks none
  case     footing cracks hairline gives nothing
  case     footing cracks open gives does not suit
  case     footing cracks not known gives ask
"""})  # fmt: skip

_SITE: Mapping[str, object] = {
    "job name": "Larch Lane 14", "address": "14 Larch Lane, Millbrook", "surveyor": "R. Ode",
    "survey date": dt.date(2026, 11, 20), "crew date": CREW_DATE,
    "last crew date": LAST_CREW_DATE,
    "emergency contact": "911; Millbrook General, 2 Hill Road",
    "locate request made": "yes", "ticket number": "26-1180", "ticket start": dt.date(2026, 11, 25),
    "ticket end": dt.date(2026, 12, 20), "tolerance zone": "24 in", "all utilities listed": "yes",
    "all neighbours listed": "yes", "all soil layers listed": "yes", "groundwater met": "no",
    "ground vibrated": "no",
    "soil classified by competent person": "yes", "test hole depth": "12 ft",
    "inside work": "none", "competent person": "S. Marsh", "public kept out": "yes",
    "clear spacing of open pits": "8 ft", "water removal": "none", "vehicles kept back": "yes",
    "bracket plate width": "10 in", "bracket plate depth": "8 in", "ground snow load": "25 psf",
}  # fmt: skip
_WALL: Mapping[str, object] = {
    "turn at right end": "90 deg", "wall material": "poured concrete",
    "wall thickness": "8 in", "wall height": "7 ft", "storeys": 1,
    "wall cladding": "light siding or stucco", "floor span": "12 ft", "roof span": "24 ft",
    "wall cracks": "hairline", "wall out of plumb": "0 in", "wall held at top": "yes",
    "footing kind": "concrete", "footing thickness": "10 in", "footing width": "20 in",
    "footing projection": "6 in", "footing reinforcement": "no bars found",
    "footing cracks": "none", "concrete strength": "2500 psi",
    "footing face can be prepared": "yes",
}  # fmt: skip
_PIER: Mapping[str, object] = {
    "wall of pier": "North", "pit reached from": "outside", "footing depth": "4 ft",
    "pit depth": "4 ft", "pit length": "36 in", "pit width": "36 in", "working room": "4 ft",
    "side protection": "sloped", "slope of sides": "1.5H:1V", "cave-in signs": "no",
    "seepage at pit": "no", "spoil distance": "3 ft", "ladder in pit": "yes",
    "distance to ladder": "6 ft", "heavy load over pit": "no",
}  # fmt: skip
_LAYER: Mapping[str, object] = {
    "layer top": "0 ft", "layer bottom": "12 ft", "soil group": "silt loam",
    "fissured": "no", "dug before": "no", "layer seeps": "no", "dip into pit": "no layers",
}  # fmt: skip
_GAS: Mapping[str, object] = {
    "utility kind": "gas", "utility owner": "public or company",
    "owner's answer": "marked or cleared", "locate marks": "clear", "located by": "traced",
    "wall of utility": "North", "utility start station": "0 ft", "utility start offset": "20 ft",
    "utility end station": "240 ft", "utility end offset": "20 ft", "utility diameter": "2 in",
    "depth to utility": "2 ft", "shut off for the work": "no", "hand exposure planned": "yes",
    "support planned": "yes",
}  # fmt: skip
_GARAGE: Mapping[str, object] = {
    "neighbour kind": "garage or shed", "wall of neighbour": "North",
    "neighbour start station": "20 ft", "neighbour end station": "44 ft",
    "neighbour offset": "30 ft", "neighbour footing depth": "1 ft", "other owner": "no",
}  # fmt: skip
RELEASE: Mapping[str, object] = {
    "released finding": "FOOT-1", "released place": "site", "released by": "T. Quill",
    "releasing role": "licensed engineer", "licence number": "PE 4711 (OH)",
    "release date": dt.date(2026, 11, 24), "release end": dt.date(2026, 12, 24),
    "release note": "drawing S-1: one pit open at a time",
}  # fmt: skip

_SHEETS = {
    Subject.SITE: "Site", Subject.WALL: "Walls", Subject.PIER: "Piers",
    Subject.UTILITY: "Utilities", Subject.NEIGHBOUR: "Neighbours", Subject.SOIL_LAYER: "Soil",
    Subject.RELEASE: "Releases",
}  # fmt: skip


def judged(
    *,
    piers: int = 1,
    name: str = "larch-lane",
    site: Mapping[str, object] | None = None,
    wall: Mapping[str, object] | None = None,
    every_pier: Mapping[str, object] | None = None,
    some_piers: Mapping[int, Mapping[str, object]] | None = None,
    gas: Mapping[str, object] | None = None,
    labels: Mapping[int, str] | None = None,
    releases: tuple[Mapping[str, object], ...] = (),
    blank: bool = False,
    book: RuleBook = BOOK,
) -> Assessment:
    """A sound site with some answers changed, judged by the small book.

    Args:
        piers: how many pier locations there are, 6 ft apart.
        every_pier: answers changed at all of them.
        some_piers: answers changed at some, counted from 1.
        labels: labels of some, instead of ``P1``, ``P2`` and so on.
        blank: nothing is answered but what is given here.
        book: another book than the small one.
    """
    rows = [
        {**_PIER, "station": f"{6 * i} ft", **(every_pier or {}), **(some_piers or {}).get(i, {})}
        for i in range(1, piers + 1)
    ]
    if blank:
        rows = [{"wall of pier": "North", **(every_pier or {})} for _ in rows]
    names = [(labels or {}).get(i, f"P{i}") for i in range(1, piers + 1)]
    length = {"wall length": f"{6 * piers + 6} ft"}
    lists = {
        Subject.WALL: [("North", {} if blank else {**_WALL, **length, **(wall or {})})],
        Subject.PIER: list(zip(names, rows, strict=True)),
        Subject.UTILITY: [("gas main", {} if blank else {**_GAS, **(gas or {})})],
        Subject.NEIGHBOUR: [("garage", {} if blank else _GARAGE)],
        Subject.SOIL_LAYER: [("silt loam", {} if blank else _LAYER)],
        Subject.RELEASE: [(f"R{i}", row) for i, row in enumerate(releases, start=1)],
    }
    raw = RawSurvey(
        name,
        _raw(Subject.SITE, "site", 0, {**({} if blank else _SITE), **(site or {})}),
        {
            subject: [_raw(subject, label, i, row) for i, (label, row) in enumerate(listed)]
            for subject, listed in lists.items()
        },
    )
    survey, problems = read_survey(raw, book.vocabulary)
    return assess(survey, problems, book)


def other_book(change: Callable[[Rule], Rule | None]) -> RuleBook:
    """The small book with each rule changed, or left out where the change gives none."""
    changed = ([change(rule) for rule in level] for level in BOOK.levels)
    levels = tuple(tuple(rule for rule in level if rule is not None) for level in changed)
    fingerprint = hashlib.sha256(repr(levels).encode()).hexdigest()[:12]
    return dataclasses.replace(BOOK, levels=levels, fingerprint=fingerprint)


def in_spanish(texts: Mapping[str, tuple[str, str]]) -> RuleBook:
    """The small book with what some rules say and do in Spanish, by their codes."""

    def translated(rule: Rule) -> Rule:
        say, do = texts.get(rule.code, ("", ""))
        return dataclasses.replace(rule, say_es=say, do_es=do)

    return other_book(translated)


def _raw(subject: Subject, label: str, index: int, answers: Mapping[str, object]) -> RawRow:
    sheet, row = _SHEETS[subject], index + 4
    words = VOCABULARY.asked_of(subject)
    assert set(answers) <= {word.name for word in words}, sorted(answers)
    cells = {
        word.name: (answers.get(word.name), f"{sheet}!{_column(i)}{row}")
        for i, word in enumerate(words, start=1)
    }
    return RawRow(f"{sheet}!row {row}", label, cells, f"{sheet}!A{row}")


def cell(name: str, index: int = 1) -> str:
    """Where the answer to a question stands, for the thing of this number: ``Piers!F4``."""
    word = VOCABULARY[name]
    column = VOCABULARY.asked_of(word.subject).index(word) + 1
    return f"{_SHEETS[word.subject]}!{_column(column)}{index + 3}"


def _column(index: int) -> str:
    first, second = divmod(index, 26)
    return (chr(64 + first) if first else "") + chr(65 + second)


def go() -> Assessment:
    """Nothing is found; one release lifts nothing."""
    return judged()


def with_conditions(piers: int = 4) -> Assessment:
    """Spoil too near at some pits, the pits not fenced, and a note."""
    near = {"spoil distance": "1 ft"}
    return judged(
        piers=piers, some_piers={1: near, 2: near, 3: near}, site={"public kept out": "no"},
        gas={"utility start offset": "9 ft", "utility end offset": "12 ft",
             "located by": "surface signs"},
    )  # fmt: skip


def on_hold(piers: int = 4, book: RuleBook = BOOK) -> Assessment:
    """Depths not known at two piers, an old survey, a cell that can't be read."""
    return judged(
        piers=piers,
        every_pier={"spoil distance": None},
        some_piers={2: {"pit depth": "not known"}, 3: {"pit depth": "deep"}},
        site={"survey date": dt.date(2026, 9, 1), "all utilities listed": None},
        book=book,
    )


def for_engineer(piers: int = 4) -> Assessment:
    """Pits below the footing; a release that lifts one, one that ended, one that names nothing."""
    return judged(
        piers=piers, every_pier={"pit depth": "4 ft 8 in"}, wall={"footing cracks": "open"},
        releases=(
            {**RELEASE, "released place": "P1"},
            {**RELEASE, "released place": "P2", "release end": dt.date(2026, 11, 30)},
            {**RELEASE, "released finding": "FOTO-1", "released place": "P3"},
        ),
    )  # fmt: skip


def no_go(piers: int = 4, book: RuleBook = BOOK) -> Assessment:
    """All at once: a stop, an engineer's matter, open questions, conditions."""
    return judged(
        piers=piers,
        every_pier={"pit depth": "6 ft 6 in", "spoil distance": "1 ft", "seepage at pit": "yes"},
        some_piers={
            1: {"side protection": "none", "slope of sides": None},
            2: {"side protection": "none", "slope of sides": None, "pit depth": "7 ft"},
            3: {"spoil distance": None},
            4: {"footing depth": None},
        },
        site={"locate request made": "no", "public kept out": "no", "emergency contact": None},
        wall={"footing face can be prepared": "no"},
        gas={"utility start offset": "4 ft", "utility end offset": "30 ft"},
        book=book,
    )


EACH_VERDICT = {
    "GO": go,
    "GO WITH CONDITIONS": with_conditions,
    "HOLD": on_hold,
    "ENGINEER REVIEW": for_engineer,
    "NO-GO": no_go,
}
