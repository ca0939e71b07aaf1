"""Surveys of an invented firm by the thousand: houses, streets and people that are not there.

What one looks like depends on its number and a seed alone. Most of them are as surveys are: a few
sites may go, many have questions open, many wait for an engineer, some must not go. The workbooks
are the form itself, filled in; only the cells with answers are written anew for each.
"""

from __future__ import annotations

import datetime as dt
import functools
import html
import io
import json
import math
import random
import re
import tempfile
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

from survey.answers import read_survey
from survey.assessment import Verdict
from survey.document import read_document
from survey.errors import Problem
from survey.model import LISTS, Survey
from survey.vocabulary import VOCABULARY, Kind, Word
from survey.workbook import write_form
from survey.workbook.writing.plan import FIRST, Order, PagePlan, plan_form
from tests.demo_surveys import HELD, OF_CONCRETE, careful_house, pier, wall
from tests.forms import part_of

Document = dict[str, Any]
Fault = Callable[[Document, random.Random], None]

FIRM = "Osk & Tamber Underpinning"
_MIDDLE = dt.date(2026, 11, 30)  # of the year in which the crews are to come
_HALF_A_YEAR = 182
_EXCEL_DAY_NONE = dt.date(1899, 12, 30)

# Town, its State, and whether the firm keeps its jobs in a folder of their own.
_TOWNS = (
    ("Quillmere", "KS", False), ("Hobbin Ferry", "KS", True), ("Larkenwold", "KS", True),
    ("Sallowby", "MO", False), ("Thessle", "MO", True), ("Brackendene", "NE", True),
    ("Otterfold", "NE", False), ("Wexley Hollow", "OK", True), ("Pellitor", "OK", False),
    ("Draymoor", "IA", True),
)  # fmt: skip
_STREETS = (
    "Marlpit Lane", "Brine Street", "Tallow Court", "Weir Walk", "Sedge Row", "Lantern Road",
    "Cooper's Rise", "Thimble Lane", "Quarry Bank", "Heron Close", "Saddler Street", "Fen End",
    "Old Kiln Road", "Teasel Avenue", "Ropewalk", "Mill Race", "Plover Drive", "Chandler Way",
)  # fmt: skip
# Each surveyor with how careless he is, and the questions that he often forgets.
_SURVEYORS = (
    ("I. Tarrow", 0.6, ("spoil_distance", "ground_snow_load")),
    ("N. Pellow", 1.0, ("footing_reinforcement", "concrete_strength")),
    ("O. Quist", 1.4, ("test_hole_depth", "all_soil_layers_listed", "unconfined_strength")),
    ("M. Farrant", 0.8, ("located_by", "depth_to_utility")),
    ("E. Lindow", 1.8, ("neighbour_footing_depth", "all_neighbours_listed", "notice_date")),
)
_ALL_ROUND = "all the way round"
_COMPETENT = ("B. Wherry", "S. Oakley-Dunn", "J. Marl")
_ENGINEERS = (("T. Aldermoor", "PE 00000 (invented)"), ("R. Inkpen", "PE 00001 (invented)"))
# What surveyors write where nobody can tell what they mean.
_UNREADABLE = {
    "footing_depth": ("abt 4 ft?", "4 or 5 ft", "see sketch"),
    "working_room": ("enough", "abt 4 ft?"),
    "clear_ground_out_from_wall": ("to the fence", "20ish"),
    "spoil_distance": ("far", "2-3 ft"),
    "headroom_at_pier": ("open sky", "lots"),
}


@dataclass(frozen=True, slots=True)
class MadeSurvey:
    """A survey that was made up.

    Args:
        name: path of its file below the firm's folder, without the ending.
        document: its answers, as in a survey in JSON; what is not there is not known.
        meant: the verdict that a check of it must give.
    """

    name: str
    document: Document = field(repr=False)
    meant: Verdict

    @property
    def text(self) -> str:
        """The survey in JSON."""
        return json.dumps(self.document, ensure_ascii=False)

    def read(self) -> tuple[Survey, tuple[Problem, ...]]:
        """The survey as it is read without a workbook, and its problems."""
        return read_survey(read_document(self.text, f"{self.name}.json"))


def made_survey(number: int, seed: int = 1) -> MadeSurvey:
    """The survey of a number: for the same number and seed always the same."""
    rng = random.Random(f"{seed}/{number}")
    meant = rng.choices(
        (Verdict.GO_WITH_CONDITIONS, Verdict.HOLD, Verdict.ENGINEER_REVIEW, Verdict.NO_GO),
        (8, 33, 33, 26),
    )[0]
    town, state, own_folder = rng.choice(_TOWNS)
    street = rng.choice(_STREETS)
    house = _sound_house(rng)
    surveyor, carelessness, forgotten = rng.choice(_SURVEYORS)
    house["site"] |= {
        "job_name": f"{1000 + number} {street}",
        "address": f"{rng.randint(1, 180)} {street}, {town}",
        "town": town,
        "state": state,
        "surveyor": f"{surveyor}, {FIRM}",
        "competent_person": rng.choice(_COMPETENT),
        "ticket_number": f"{town[:2].upper()}-26-{rng.randint(10_000, 99_999)}",
        "emergency_contact": f"911; {town} General, {rng.randint(1, 90)} Lantern Road",
    }
    for some in rng.sample(_CONDITIONS, rng.randint(0, 4)):
        some(house, rng)
    if meant is Verdict.HOLD or (meant is not Verdict.GO_WITH_CONDITIONS and rng.random() < 0.6):
        _leave_open(house, carelessness, forgotten, rng)
    # What is wrong comes last: it was seen, whatever else is open.
    if meant is Verdict.ENGINEER_REVIEW or (meant is Verdict.NO_GO and rng.random() < 0.5):
        _spoil(house, _FOR_THE_ENGINEER, rng)
    if meant is Verdict.NO_GO:
        _spoil(house, _STOPS, rng)
    file = f"{1000 + number}-{_file_name(street)}"
    return MadeSurvey(f"{_file_name(town)}/{file}" if own_folder else file, house, meant)


def made_surveys(count: int, seed: int = 1) -> Iterator[MadeSurvey]:
    """The first surveys of a seed."""
    return (made_survey(number, seed) for number in range(count))


def _file_name(text: str) -> str:
    return re.sub(r"[^a-z]+", "-", text.lower()).strip("-")


# A house at which all is in order


def _sound_house(rng: random.Random) -> Document:
    """A house of its own size, ground and days at which crews may work, with conditions."""
    house = careful_house()
    house["walls"], house["piers"] = _walls_and_piers(rng)
    count = len(house["piers"])
    together = math.ceil(count / 8)
    house["site"] |= _days(math.ceil(count / together), rng)
    house["site"] |= {
        "walls_listed": _ALL_ROUND if len(house["walls"]) == 4 else "only walls to be worked on",
        "most_pits_open_together": str(together),
        "clear_spacing_of_open_pits": "14 ft",
        "crew_size": str(max(3, together + 2)),
        "ground_snow_load": rng.choice(("10 psf", "15 psf", "20 psf", "20 psf")),
        "occupants": rng.choice(("told and kept away", "nobody lives there")),
        "first_wall_faces": rng.choice(("north", "east", "south", "south-west", "west")),
        "building_permit": rng.choice(("held", "held", "not needed, as the building office says")),
        "planned_lift": rng.choice(("0 in", "0 in", "0.25 in")),
        "soil_resistivity": f"{rng.randrange(3500, 9000, 100)} ohm-cm",
        "asbestos": rng.choice(("nothing that could hold it", "none by test or record")),
    }
    house["soil_layers"] = _ground(house["soil_layers"], rng)
    (water,), (shed,) = house["utilities"], house["neighbours"]
    first = house["walls"][0]["label"]
    house["utilities"] = [
        _line(water, kind, first, number, rng)
        for number, kind in enumerate(rng.sample(_QUIET_LINES, rng.randint(1, 4)))
    ]
    last = house["walls"][-1]["label"] if len(house["walls"]) == 4 else first
    house["neighbours"] = [
        _neighbour(shed, kind, last, rng) for kind in rng.sample(_FAR_NEIGHBOURS, rng.randint(0, 3))
    ]
    house["releases"] = list(_releases(house, rng))
    return house


def _walls_and_piers(rng: random.Random) -> tuple[list[Document], list[Document]]:
    """One to four walls, and piers in even steps along some of them."""
    count = min(40, 4 + int(rng.expovariate(1 / 4.4)))
    sides = rng.choice((1, 2, 3, 4, 4)) if count <= 12 else 4
    # Walls of an outline that does not close can't be put in one plan: piers stand at one of them.
    loaded = 1 if sides < 4 else rng.choice((1, 2, 2, 3)) if count <= 12 else 4
    step = rng.choice((6.0, 6.25, 6.5))
    shares = [count // loaded + (n < count % loaded) for n in range(loaded)]
    long, short = (
        max(room, 12 + step * max(shares[n::2], default=0))
        for n, room in enumerate((rng.randint(38, 60), rng.randint(28, 36)))
    )
    rounds = ("South", "East", "North", "West")
    same = {
        "wall_height": rng.choice(("4 ft", "4 ft", "4 ft 6 in")),
        "footing_thickness": rng.choice(("12 in", "12 in", "13 in")),
        "footing_width": rng.choice(("20 in", "22 in")),
        "wall_cladding": "light siding or stucco",
        "wall_cracks": rng.choice(("none", "hairline")),
        "concrete_strength": rng.choice(("2500 psi", "3000 psi")),
    }
    walls: list[Document] = []
    piers: list[tuple[str, str]] = []
    for n in range(sides):
        length, label = (long, short)[n % 2], rounds[n]
        here = shares[n] if n < loaded else 0
        start = round(rng.uniform(5.0, 6.5), 1)
        floor, roof = ("0 ft", "12 ft") if n % 2 == 0 else ("12 ft", "0 ft")
        carried = {}
        if here:
            end = start + step * (here - 0.5)
            carried = {"carried_from": f"{start - 3:.1f} ft", "carried_to": f"{end:.1f} ft"}
        walls.append(wall(label, f"{length:g} ft", floor=floor, roof=roof, **same, **carried))
        for k in range(here):
            at = f"{start + step * k:.1f} ft"
            piers.append((label, at))
    footing = rng.choice((3.5, 4.0, 4.0, 4.5))
    deep = f"{footing + 1:g} ft 3 in" if footing % 1 == 0 else f"{footing + 1.25:g} ft"
    usual = {
        "footing_depth": f"{footing:g} ft",
        "pit_depth": deep,
        "height_of_protection": deep,
        "pit_length": rng.choice(("30 in", "2 ft 6 in", "28 in")),
        "pit_width": rng.choice(("36 in", "3 ft")),
        "working_room": rng.choice(("4 ft", "50 in", "5 ft")),
        "clear_ground_out_from_wall": f"{rng.randint(18, 30)} ft",
        "spoil_distance": f"{rng.randint(3, 6)} ft",
    }
    made = [pier(f"P{n}", at, station, **usual) for n, (at, station) in enumerate(piers, start=1)]
    return walls, made


def _days(rounds: int, rng: random.Random) -> dict[str, str]:
    """The day of the visit, of the ticket and of the crew, within a year around the middle."""
    crew = _work_day(_MIDDLE + dt.timedelta(days=rng.randint(-_HALF_A_YEAR, _HALF_A_YEAR)))
    last = crew
    for _ in range(rounds + 1):
        last = _work_day(last + dt.timedelta(days=1))
    start = crew - dt.timedelta(days=rng.randint(5, 7))
    return {
        "survey_date": str(crew - dt.timedelta(days=rng.randint(10, 28))),
        "ticket_start": str(start),
        "ticket_end": str(max(start + dt.timedelta(days=18), last)),
        "crew_date": str(crew),
        "last_crew_date": str(last),
    }


def _work_day(day: dt.date) -> dt.date:
    return day + dt.timedelta(days=(0, 0, 0, 0, 0, 2, 1)[day.weekday()])


def _later(day: str, days: int) -> str:
    return str(dt.date.fromisoformat(day) + dt.timedelta(days=days))


def _ground(layers: list[Document], rng: random.Random) -> list[Document]:
    """Clay over shale, each time of another thickness and strength."""
    fill, clay, shale = layers
    top, rock = rng.randint(8, 10), rng.randint(15, 17)
    group = rng.choice(("clay", "clay", "silty clay", "sandy clay"))
    return [
        fill | {"layer_bottom": f"{top} ft", "unconfined_strength": f"1.{rng.randint(0, 4)} tsf"},
        clay
        | {
            "layer_top": f"{top} ft",
            "layer_bottom": f"{rock} ft",
            "soil_group": group,
            "unconfined_strength": f"2.{rng.randint(1, 6)} tsf",
            "blow_count": str(rng.randint(16, 24)),
        },
        shale | {"layer_top": f"{rock} ft", "blow_count": str(rng.randint(60, 90))},
    ]


_QUIET_LINES = ("water", "sewer", "telephone or data", "irrigation", "storm drain")
_FAR_NEIGHBOURS = ("garage or shed", "house", "tree", "light structure", "pool")


def _line(usual: Document, kind: str, at: str, number: int, rng: random.Random) -> Document:
    """A traced line that runs past the corner of the house, away from every pit."""
    station = f"-{9 + number} ft"
    return usual | {
        "label": f"{kind} line",
        "utility_kind": kind,
        "utility_owner": rng.choice(("public or company", "private")),
        "located_by": rng.choice(("traced", "exposed")),
        "wall_of_utility": at,
        "utility_start_station": station,
        "utility_end_station": station,
        "utility_end_offset": f"{rng.randint(20, 50)} ft",
        "utility_diameter": rng.choice(("1 in", "2 in", "4 in")),
        "depth_to_utility": rng.choice(("2 ft", "2 ft 6 in", "3 ft")),
    }


def _neighbour(usual: Document, kind: str, at: str, rng: random.Random) -> Document:
    """Something that stands well away from every pit."""
    return usual | {
        "label": kind,
        "neighbour_kind": kind,
        "wall_of_neighbour": at,
        "neighbour_offset": f"{rng.randint(40, 70)} ft",
        "neighbour_footing_depth": rng.choice(("0 ft", "1 ft", "2 ft")),
    }


def _releases(house: Document, rng: random.Random) -> Iterator[Document]:
    """What the engineer lifts at every house of the firm: pits below the footing, light ends."""
    name, licence = rng.choice(_ENGINEERS)
    site, last = house["site"], len(house["piers"])
    written = _later(site["survey_date"], 4)
    for code, note in (
        ("FOOT-1", "pits in the order of the sheet, none wider than 36 in."),
        ("PIER-2", "the cross walls hold the ends down."),
    ):
        yield {
            "label": f"for {code}",
            "released_finding": code,
            "released_place": f"P1 to P{last}",
            "released_by": name,
            "releasing_role": "licensed engineer",
            "licence_number": licence,
            "release_date": written,
            "release_end": _later(site["last_crew_date"], rng.randint(14, 60)),
            "release_note": f"Letter of {written}: {note}",
        }


# What makes conditions, and nothing worse


def _site(**answers: str) -> Fault:
    def change(house: Document, _rng: random.Random) -> None:
        house["site"] |= answers

    return change


def _at_a_pier(**answers: str) -> Fault:
    def change(house: Document, rng: random.Random) -> None:
        rng.choice(house["piers"]).update(answers)

    return change


def _at_a_wall(**answers: str) -> Fault:
    def change(house: Document, rng: random.Random) -> None:
        at = rng.choice(house["piers"])["wall_of_pier"]
        next(one for one in house["walls"] if one["label"] == at).update(answers)

    return change


def _frost(house: Document, _rng: random.Random) -> None:
    if dt.date.fromisoformat(house["site"]["crew_date"]).month in {11, 12, 1, 2, 3}:
        house["site"]["frost"] = "freezing nights expected"


def _heat(house: Document, _rng: random.Random) -> None:
    if dt.date.fromisoformat(house["site"]["crew_date"]).month in {6, 7, 8}:
        house["site"]["hot_days_expected"] = "yes"


def _water_at_a_pit(house: Document, _rng: random.Random) -> None:
    """The water service comes in beside the last pit of the first wall, in its own trench."""
    at = house["walls"][0]["label"]
    last = [one for one in house["piers"] if one["wall_of_pier"] == at][-1]
    last["backfill_beside_pit"] = "yes"
    station = f"{float(last['station'].split()[0]) + 3:.1f} ft"
    house["utilities"].append(
        careful_house()["utilities"][0]
        | {
            "wall_of_utility": at,
            "utility_start_station": station,
            "utility_end_station": station,
        }
    )


_CONDITIONS: tuple[Fault, ...] = (
    _frost, _heat, _water_at_a_pit,
    _site(heavy_rain_expected="yes"),
    _site(surface_water_runs_to_pits="yes"),
    _site(plumbing_leak="suspected"),
    _site(work_in_public_way="permit held", traffic_near_pits="yes"),
    _site(lead_paint_disturbed="yes"),
    _site(levels_taken="no"),
    _site(hydraulic_hoses="not looked at"),
    _site(pier_drawings="signed, not on site"),
    _at_a_pier(opening_above_pit="narrower than 4 ft"),
    _at_a_pier(footing_drain_at_pit="carried across the pit"),
    _at_a_pier(footing_drain_at_pit="cut off"),
    _at_a_pier(pit_hidden_from_view="yes"),
)  # fmt: skip


# What stops a site


def _ticket_ran_out(house: Document, rng: random.Random) -> None:
    site = house["site"]
    site["ticket_end"] = _later(site["crew_date"], -rng.randint(1, 4))
    site["ticket_start"] = _later(site["ticket_end"], -16)


def _no_ticket(house: Document, _rng: random.Random) -> None:
    site = house["site"]
    site["locate_request_made"] = "no"
    for key in ("ticket_number", "ticket_start", "ticket_end"):
        site.pop(key, None)


def _open_sided(house: Document, rng: random.Random) -> None:
    for one in rng.sample(house["piers"], rng.randint(1, 2)):
        one |= {"side_protection": "none", "backfill_beside_pit": "yes", "pit_depth": "5 ft 6 in"}
        for key in HELD:
            one.pop(key, None)


_STOPS: tuple[Fault, ...] = (
    _ticket_ran_out, _ticket_ran_out, _no_ticket, _open_sided,
    _site(gas_odour="yes"),
    _site(vehicles_kept_back="no", heaviest_load_near_a_pit="9000 lb"),
    _site(competent_person_on_site_daily="no"),
    _site(building_permit="applied for"),
    _site(asbestos="suspected"),
    _site(plumbing_leak="found, not repaired"),
    _site(dust_control="none"),
    _site(ground_fault_protection="no"),
    _site(public_kept_out="no"),
    _site(cylinder_effective_area="1.6 in2"),
    _at_a_pier(spoil_distance="1 ft"),
    _at_a_pier(ladder_in_pit="yes", distance_to_ladder="30 ft"),
    _at_a_pier(protection_undamaged="no"),
    _at_a_pier(protection_in_place_before_entry="no"),
    _at_a_pier(lines_through_footing="live"),
    _at_a_pier(over_the_boundary="over it, not agreed"),
)  # fmt: skip


# What only the engineer may lift


def _not_released(house: Document, _rng: random.Random) -> None:
    house["releases"] = []


def _pier_added_later(house: Document, _rng: random.Random) -> None:
    last = len(house["piers"])
    for one in house["releases"]:
        one["released_place"] = f"P1 to P{last - 1}"


def _release_ran_out(house: Document, rng: random.Random) -> None:
    day = house["site"]["crew_date"]
    for one in house["releases"]:
        one["release_end"] = _later(day, -rng.randint(1, 3))


def _neighbour_near(house: Document, rng: random.Random) -> None:
    house["releases"] = []  # the engineer has not judged that yet
    at = rng.choice(house["piers"])["wall_of_pier"]
    house["neighbours"].append(
        {
            "label": "house next door",
            "neighbour_kind": "house",
            "wall_of_neighbour": at,
            "neighbour_start_station": "0 ft",
            "neighbour_end_station": "40 ft",
            "neighbour_offset": f"{rng.randint(4, 6)} ft",
            "neighbour_footing_depth": "2 ft",
            "other_owner": "yes",
            "notice_date": _later(house["site"]["crew_date"], -30),
        }
    )


def _rubble(house: Document, rng: random.Random) -> None:
    at = rng.choice(house["piers"])["wall_of_pier"]
    one = next(one for one in house["walls"] if one["label"] == at)
    one |= {
        "wall_material": "rubble", "wall_thickness": "18 in", "footing_kind": "rubble",
        "footing_width": "26 in", "mortar_joints": rng.choice(("sound", "soft or missing")),
    }  # fmt: skip
    for key in OF_CONCRETE:
        one.pop(key, None)


_FOR_THE_ENGINEER: tuple[Fault, ...] = (
    _not_released, _not_released, _not_released, _pier_added_later, _release_ran_out,
    _neighbour_near, _rubble,
    _site(pier_drawings="none"),
    _site(pier_capacity_rated="no", rated_pier_capacity=""),
    _site(planned_lift="2 in"),
    _at_a_wall(wall_cracks="wider than 1/4 in or displaced"),
    _at_a_wall(wall_out_of_plumb="2 in"),
    _at_a_wall(footing_thickness="6 in"),
    _at_a_wall(wall_material="concrete block", mortar_joints="soft or missing"),
    _at_a_wall(footing_honeycomb="deep or hollow"),
    _at_a_wall(framing_on_wall="rotten, crushed or loose"),
    _at_a_pier(heavy_load_over_pit="yes", point_load_at_pier="6000 lb"),
    _at_a_pier(opening_above_pit="4 ft or wider"),
    _at_a_pier(slope_of_ground_at_pit="3H:1V or steeper"),
)  # fmt: skip


def _spoil(house: Document, faults: tuple[Fault, ...], rng: random.Random) -> None:
    for fault in rng.sample(faults, rng.choice((1, 1, 1, 2, 3))):
        fault(house, rng)


# What nobody has answered

# What a second visit, or somebody else, has to tell.
_OFTEN_OPEN = {
    "site": (
        "test_hole_depth", "all_utilities_listed", "all_neighbours_listed",
        "all_soil_layers_listed", "private_lines_searched_for", "ground_snow_load",
        "soil_classified_by_competent_person", "building_permit", "asbestos", "plumbing_leak",
        "overhead_lines_near", "crew_size", "levels_taken", "ticket_end", "cutting_tool",
        "occupants", "town",
    ),
    "walls": ("footing_thickness", "footing_reinforcement", "concrete_strength", "wall_height",
              "footing_width", "wall_held_at_top", "roof_span"),
    "piers": ("footing_depth", "spoil_distance", "headroom_at_pier", "backfill_beside_pit",
              "lines_through_footing", "working_room", "clear_ground_out_from_wall"),
    "utilities": ("depth_to_utility", "located_by", "owner's_answer"),
    "neighbours": ("neighbour_footing_depth", "other_owner"),
    "soil_layers": ("unconfined_strength", "layer_bottom", "fissured"),
}  # fmt: skip


def _leave_open(
    house: Document, carelessness: float, forgotten: tuple[str, ...], rng: random.Random
) -> None:
    """Take answers away; one that every rule of a sound house wants goes for certain."""
    house["site"].pop(rng.choice(("test_hole_depth", "all_utilities_listed", "occupants")))
    for name, keys in _OFTEN_OPEN.items():
        for row in [house["site"]] if name == "site" else house[name]:
            for key in keys:
                often = 0.06 * carelessness * (4 if key in forgotten else 1)
                if name == "piers":
                    often /= 3
                if rng.random() < often:
                    row.pop(key, None)
    if rng.random() < 0.1:
        key = rng.choice(tuple(_UNREADABLE))
        rng.choice(house["piers"])[key] = rng.choice(_UNREADABLE[key])


# Files


def write_surveys(
    folder: Path,
    count: int,
    seed: int = 1,
    *,
    kind: Literal["xlsx", "json"] = "xlsx",
    bad: bool = False,
) -> tuple[Path, ...]:
    """Write surveys below a folder, some of them in folders of their towns.

    Args:
        folder: where to; it is made.
        count: how many.
        seed: other surveys for another seed.
        kind: filled forms, or surveys in JSON.
        bad: every two hundredth file can't be read: it was cut off, is empty, or is a letter.

    Returns:
        The files, in the order of their numbers.
    """
    files = []
    for number, made in enumerate(made_surveys(count, seed)):
        file = folder / f"{made.name}.{kind}"
        file.parent.mkdir(parents=True, exist_ok=True)
        content = filled_form(made) if kind == "xlsx" else made.text.encode()
        file.write_bytes(_spoilt(content, number) if bad and number % 200 == 199 else content)
        files.append(file)
    return tuple(files)


def _spoilt(content: bytes, number: int) -> bytes:
    letter = b"Dear Ms Lindow,\n\nthe survey follows by post.\n"
    return (content[: len(content) // 2], b"", letter)[number // 200 % 3]


def filled_form(made: MadeSurvey) -> bytes:
    """The form of a survey, filled in as by hand: what does not apply is left blank."""
    blank = _blank_form()
    packed = io.BytesIO(blank.rest)
    with zipfile.ZipFile(packed, "a", zipfile.ZIP_DEFLATED, compresslevel=1) as package:
        for sheet in blank.sheets:
            package.writestr(
                zipfile.ZipInfo(sheet.part), sheet.filled(made.document), zipfile.ZIP_DEFLATED, 1
            )
    return packed.getvalue()


@dataclass(frozen=True, slots=True)
class _Sheet:
    """A sheet of the blank form, cut up at the cells for answers.

    Args:
        part: its name in the package.
        pieces: what stands between the cells, one more than there are cells.
        cells: of each cell its reference with its look, its list (``site`` on a site page), the
            number of its row in it and its question; no question for a label.
    """

    part: str
    pieces: tuple[str, ...]
    cells: tuple[tuple[str, str, int, Word | None], ...]

    def filled(self, document: Document) -> str:
        """The sheet with the answers of a survey."""
        filled = [self.pieces[0]]
        for (cell, name, number, word), after in zip(self.cells, self.pieces[1:], strict=True):
            rows = [document["site"]] if name == "site" else document.get(name, [])
            answer = rows[number].get(word.key if word else "label") if number < len(rows) else None
            filled += (_cell(cell, answer, word), after)
        return "".join(filled)


def _cell(cell: str, answer: str | None, word: Word | None) -> str:
    """One cell: a date as a spreadsheet keeps it, a count as a number, all else as typed."""
    if not answer:
        return f"<c {cell}/>"
    if word is not None and word.kind is Kind.DATE:
        days = (dt.date.fromisoformat(answer) - _EXCEL_DAY_NONE).days
        return f"<c {cell}><v>{days}</v></c>"
    if word is not None and word.kind is Kind.COUNT:
        return f"<c {cell}><v>{answer}</v></c>"
    return f'<c {cell} t="inlineStr"><is><t>{html.escape(answer)}</t></is></c>'


@dataclass(frozen=True, slots=True)
class _BlankForm:
    """The parts of a form that no answer changes, packed, and the sheets with questions."""

    rest: bytes
    sheets: tuple[_Sheet, ...]


@functools.cache
def _blank_form() -> _BlankForm:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "form.xlsx"
        write_form(path)
        form = path.read_bytes()
    pages = {part_of(page.sheet): page for page in plan_form(Order(VOCABULARY)).pages}
    packed = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(form)) as old, zipfile.ZipFile(packed, "w") as rest:
        for name in old.namelist():
            if name not in pages:
                rest.writestr(name, old.read(name), zipfile.ZIP_DEFLATED)
        sheets = tuple(_cut_up(part, old.read(part).decode(), page) for part, page in pages.items())
    return _BlankForm(packed.getvalue(), sheets)


def _cut_up(part: str, xml: str, page: PagePlan) -> _Sheet:
    wanted: dict[str, tuple[str, int, Word | None]] = {}
    for word in page.words:
        if page.is_site:
            wanted[f"{page.column(word)}{page.places[word.name]}"] = ("site", 0, word)
        else:
            for number in range(page.rows):
                name = LISTS[page.page.subject]
                wanted[f"{page.column(word)}{FIRST + number}"] = (name, number, word)
                wanted[f"A{FIRST + number}"] = (name, number, None)
    pieces, cells, end = [], [], 0
    for found in re.finditer(r'<c (r="([A-Z]+\d+)"[^>]*?)(?: t="n")?(?:/>|></c>)', xml):
        if found[2] in wanted:
            pieces.append(xml[end : found.start()])
            cells.append((found[1], *wanted.pop(found[2])))
            end = found.end()
    assert not wanted, f"{page.sheet}: the form has no cells {', '.join(wanted)}"
    return _Sheet(part, (*pieces, xml[end:]), tuple(cells))
