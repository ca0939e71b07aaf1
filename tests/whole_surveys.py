"""Whole surveys: what has hurt people or buildings, and what is in order.

Every one is the careful house of ``tests.demo_surveys`` with something changed.
"""

from __future__ import annotations

import copy
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from survey.assessment import Verdict
from tests.demo_surveys import ENGINEER, HELD, OF_CONCRETE, careful_house, pier

Answers = Mapping[str, str | None]
Rows = Mapping[str, Answers]
EVERY = "every row"


@dataclass(frozen=True, slots=True)
class Change:
    """What differs from the careful house.

    Args:
        site: answers of the site by key; ``None`` takes an answer away.
        walls, piers, utilities, neighbours, soil_layers: answers by label; under ``EVERY`` those
            of each row of the list.
        only: labels of the piers that are left; empty where all are.
        cleared: lists whose rows are all taken away, before others are added.
        added: further rows, by list.
        released: codes that the engineer releases besides, with the places.
    """

    site: Answers = field(default_factory=dict)
    walls: Rows = field(default_factory=dict)
    piers: Rows = field(default_factory=dict)
    utilities: Rows = field(default_factory=dict)
    neighbours: Rows = field(default_factory=dict)
    soil_layers: Rows = field(default_factory=dict)
    only: tuple[str, ...] = ()
    cleared: tuple[str, ...] = ()
    added: Mapping[str, Sequence[Answers]] = field(default_factory=dict)
    released: Mapping[str, str] = field(default_factory=dict)

    def document(self) -> dict[str, Any]:
        """The changed house as a JSON document."""
        house = careful_house()
        for name in self.cleared:
            house[name] = []
        if self.only:
            house["piers"] = [one for one in house["piers"] if one["label"] in self.only]
            for release in house["releases"]:
                release["released_place"] = ", ".join(self.only)
        _answer(house["site"], self.site)
        for name in ("walls", "piers", "utilities", "neighbours", "soil_layers"):
            rows = {row["label"]: row for row in house[name]}
            for label, answers in getattr(self, name).items():
                for row in rows.values() if label == EVERY else [rows[label]]:
                    _answer(row, answers)
        for name, more in self.added.items():
            house[name] += [dict(row) for row in copy.deepcopy(more)]
        house["releases"] += [released(code, at) for code, at in self.released.items()]
        return house


def _answer(row: dict[str, Any], answers: Answers) -> None:
    for key, answer in answers.items():
        if answer is None:
            row.pop(key, None)
        else:
            row[key] = answer


def released(code: str, places: str) -> dict[str, str]:
    """A row of the Releases sheet, signed by the engineer of the careful house."""
    return {
        "label": f"for {code}",
        "released_finding": code,
        "released_place": places,
        **ENGINEER,
        "release_note": "Letter of 20 Nov 2026, sheet 2: as drawn there.",
    }


# Pieces of changes

NOTHING_HOLDS: Answers = {"side_protection": "none", **dict.fromkeys(HELD)}
SLOPED: Answers = {
    "side_protection": "sloped", **dict.fromkeys(HELD), "slope_of_sides": "1 H:1V",
    "foot_of_the_slope": "slope goes down to the floor",
}  # fmt: skip
BENCHED: Answers = {"side_protection": "benched", **dict.fromkeys(HELD)}
SHIELD: Answers = {
    "side_protection": "shield", "protection_design": "maker's data",
    "protection_design_allows_for_building": "yes",
}  # fmt: skip
TIMBER: Answers = {
    "side_protection": "timber shoring", "shoring_timber": "Douglas fir", "brace_spacing": "6 ft",
}  # fmt: skip
SAND: Answers = {
    "label": "sand", "layer_top": "0 ft", "layer_bottom": "18 ft", "soil_group": "sand",
    "fissured": "no", "dug_before": "yes", "layer_seeps": "no", "dip_into_pit": "no layers",
    "boring_log": "no",
}  # fmt: skip
BASEMENT: Answers = {
    "inside_work": "basement", "route_width": "32 in", "route_headroom": "6 ft 8 in",
    "way_out_kept_clear": "yes", "harmful_material_inside": "no", "carbon_monoxide_alarm": "yes",
    "stairs_sound": "yes", "floor_under_equipment": "on the ground", "dust_drawn_out": "yes",
    "loose_wires_inside": "no", "sewage_inside": "none", "mould_inside": "no",
}  # fmt: skip
FROM_BASEMENT: Answers = {
    "pit_reached_from": "basement", "headroom_at_pier": "6 ft", "footing_depth": "10 in",
    "pit_depth": "2 ft 9 in", "height_of_protection": "2 ft 9 in", "distance_to_ladder": "3 ft",
}  # fmt: skip
CRAWL_SPACE: Answers = {
    **BASEMENT, "inside_work": "crawl space", "route_headroom": "44 in",
    "confined_space_finding": "confined space, no permit needed", "narrow_way_in": "yes",
    "meant_for_people_to_stay": "no", "space_hazards": "none found",
}  # fmt: skip
FROM_CRAWL_SPACE: Answers = {**FROM_BASEMENT, "pit_reached_from": "crawl space"}
IN_TRENCH: Answers = {"backfill_beside_pit": "yes"}
GAS_ON_SITE: Answers = {"gas_on_the_property": "gas from the street", "gas_piping_traced": "yes"}
BARS: Answers = {
    "footing_reinforcement": "bars found", "bottom_bar_size": "#4", "bottom_bars": "2",
    "bottom_bar_surface": "deformed", "bottom_bar_cover": "3 in", "bar_yield_strength": "40000 psi",
    "cutting_footing_bars_accepted": "no",
}  # fmt: skip
# Five such pits are 60 % of the east wall, 26 ft.
SIXTY = {"pit_length": "37.44 in"}
EXHAUST: Answers = {"engine_power": "5 hp", "room_volume": "8000 ft3", "air_changes_an_hour": "1"}


def line(label: str, kind: str, station: str, **more: str) -> dict[str, str]:
    """A line at right angles to the south wall, exposed and marked, that nothing is amiss with."""
    return {
        "label": label, "utility_kind": kind, "utility_owner": "public or company",
        "owner's_answer": "marked or cleared", "locate_marks": "clear", "located_by": "exposed",
        "wall_of_utility": "South", "utility_start_station": station,
        "utility_start_offset": "0 ft", "utility_end_station": station,
        "utility_end_offset": "30 ft", "utility_diameter": "1 in", "depth_to_utility": "3 ft",
        "shut_off_for_the_work": "no", "ever_struck": "no",
        "chipping_beside_line": "no", "hand_exposure_planned": "yes", "support_planned": "yes",
        **more,
    }  # fmt: skip


def beside(label: str, kind: str, offset: str, footing: str, **more: str) -> dict[str, str]:
    """What stands along the whole east wall, where P4 and P5 are."""
    return {
        "label": label, "neighbour_kind": kind, "wall_of_neighbour": "East",
        "neighbour_start_station": "0 ft", "neighbour_end_station": "26 ft",
        "neighbour_offset": offset, "neighbour_footing_depth": footing, "other_owner": "no", **more,
    }  # fmt: skip


@dataclass(frozen=True, slots=True)
class WholeSurvey:
    """A site as it was or might be, and what the book must say of it.

    Args:
        name: of the accident type, or of what is in order.
        source: publication and clause or section; ``from memory`` where no text was at hand.
        happened: what happened, or what the text allows, in a sentence.
        change: how the careful house is changed.
        named: codes of the rules that must be met for certain.
        not_named: codes of which nothing may be found or asked, or what stands before the hyphen
            of them; with a label after it at one pier, such as ``DIG P2``.
        verdict: for the site.
        piers: verdicts of single piers, where they matter.
    """

    name: str
    source: str
    happened: str
    change: Change
    named: tuple[str, ...]
    not_named: tuple[str, ...]
    verdict: Verdict
    piers: Mapping[str, Verdict] = field(default_factory=dict)


GO = Verdict.GO_WITH_CONDITIONS  # a site whose pits go below a footing always has conditions
HOLD, REVIEW, NO = Verdict.HOLD, Verdict.ENGINEER_REVIEW, Verdict.NO_GO

# Work at five pits beside a house: what goes wrong at one of them leaves the others as they are.

CAVE_INS = (
    WholeSurvey(
        "unprotected pit, 8 ft deep, beside a wall",
        "29 CFR 1926.652(a)(1); NIOSH Publication 2011-208, worker deaths in trench cave-ins "
        "(from memory)",
        "A worker digs at the bottom of an open-sided pit beside a foundation wall; the side falls "
        "in and buries him.",
        Change(piers={"P2": {**NOTHING_HOLDS, "pit_depth": "8 ft"}}),
        named=("DIG-1", "DIG-2"),
        not_named=("DIG-3", "DIG-5", "WATER"),
        verdict=NO,
        piers={"P1": GO, "P2": NO},
    ),
    WholeSurvey(
        "sand that ravels, 4 ft 6 in deep",
        "29 CFR 1926.652(a)(1)(ii)",
        "The pit is shallower than 5 ft, so nobody holds its sides, though sand runs from them.",
        Change(
            cleared=("soil_layers",),
            added={"soil_layers": [SAND]},
            piers={"P2": {**NOTHING_HOLDS, "pit_depth": "4 ft 6 in", "cave_in_signs": "yes"}},
        ),
        named=("DIG-1", "DIG-3"),
        not_named=("DIG-5", "DIG-15"),
        verdict=NO,
        piers={"P2": NO},
    ),
    WholeSurvey(
        "clean sand, 4 ft 6 in deep, in which nobody saw a sign",
        "29 CFR 1926.652(a)(1)(ii); 29 CFR 1926 Subpart P App. A (b) Type C; that sand is sign "
        "enough is common practice",
        "Sand stands upright while it is damp, gives no sign, and runs when it dries.",
        Change(
            cleared=("soil_layers",),
            added={"soil_layers": [SAND]},
            piers={"P2": {**NOTHING_HOLDS, "pit_depth": "4 ft 6 in", "footing_depth": "3 ft 6 in"}},
        ),
        named=("DIG-1", "DIG-49"),
        not_named=("DIG-2 P2", "DIG-3"),
        verdict=NO,
        piers={"P1": GO, "P2": NO},
    ),
    WholeSurvey(
        "pit at exactly 5 ft, firm clay, nothing holding it",
        "29 CFR 1926.652(a)(1)(ii): less than 5 ft, and at exactly 5 ft a system is required",
        "The crew takes 5 ft for the depth up to which nothing is needed.",
        Change(piers={"P2": {**NOTHING_HOLDS, "pit_depth": "5 ft"}}),
        named=("DIG-1", "DIG-2"),
        not_named=("DIG-3", "DIG-4"),
        verdict=NO,
        piers={"P1": GO, "P2": NO},
    ),
    WholeSurvey(
        "spoil heaped at the edge",
        "29 CFR 1926.651(j)(2)",
        "The spoil loads the edge and slides back onto the man in the pit.",
        Change(piers={"P3": {"spoil_distance": "6 in"}}),
        named=("DIG-15",),
        not_named=("DIG-1", "DIG-18"),
        verdict=NO,
        piers={"P3": NO, "P4": GO},
    ),
    WholeSurvey(
        "shield on the trailer and not in the pit",
        "29 CFR 1926.652(a)(1), (g)(1)",
        "The shield is delivered and stands beside the pit while somebody goes in to finish it.",
        Change(piers={"P2": {**SHIELD, "protection_in_place_before_entry": "no"}}),
        named=("DIG-9",),
        not_named=("DIG-1", "DIG-23"),
        verdict=NO,
        piers={"P2": NO, "P5": GO},
    ),
    WholeSurvey(
        "benched sand",
        "29 CFR 1926 Subpart P App. B Fig. B-1.2 (cohesive soil only; seen in a secondary copy), "
        "Fig. B-1.3 (gives no bench)",
        "Steps are cut in sand; they crumble and the pit closes.",
        Change(
            cleared=("soil_layers",),
            added={"soil_layers": [SAND]},
            piers={"P2": {**BENCHED, "pit_depth": "7 ft"}},
        ),
        named=("DIG-7", "DIG-21"),
        not_named=("DIG-1", "DIG-5", "DIG-6"),
        verdict=NO,
        piers={"P2": NO},
    ),
    WholeSurvey(
        "benched, with signs of a cave-in",
        "29 CFR 1926.651(k)(2); 29 CFR 1926 Subpart P App. B (c)(3)(ii)",
        "Cracks open behind the benches of a clay pit, and work goes on.",
        Change(piers={"P2": {**BENCHED, "pit_depth": "7 ft", "cave_in_signs": "yes"}}),
        named=("DIG-8", "DIG-22"),
        not_named=("DIG-7", "DIG-21"),
        verdict=NO,
        piers={"P2": NO},
    ),
    WholeSurvey(
        "sides too steep",
        "29 CFR 1926 Subpart P App. B Table B-1 (type B 1H:1V)",
        "The sides are cut at half to one, as they always are, and slump.",
        Change(piers={"P2": {**SLOPED, "slope_of_sides": "0.5", "pit_depth": "6 ft"}}),
        named=("DIG-5",),
        not_named=("DIG-1", "DIG-6"),
        verdict=NO,
        piers={"P2": NO},
    ),
    WholeSurvey(
        "slope not flattened where the ground shows distress",
        "29 CFR 1926 Subpart P App. B (c)(3)(ii) (fraction from memory)",
        "The face bulges and spalls; the slope stays at what the table allows for sound ground.",
        Change(piers={"P2": {**SLOPED, "pit_depth": "6 ft", "cave_in_signs": "yes"}}),
        named=("DIG-6",),
        not_named=("DIG-1", "DIG-5"),
        verdict=NO,
        piers={"P2": NO},
    ),
    WholeSurvey(
        "rain overnight, and nobody looks before work",
        "29 CFR 1926.651(k)(1)",
        "Pits left open are entered on the morning after rain, without an inspection.",
        Change(site={"competent_person_on_site_daily": "no", "heavy_rain_expected": "yes"}),
        named=("CREW-1", "WATER-6"),
        not_named=("DIG-1", "LINE-6"),
        verdict=NO,
    ),
    WholeSurvey(
        "water standing in the pit, and no pump",
        "29 CFR 1926.651(h)(1)",
        "Seepage softens the toe of the side; the side goes.",
        Change(piers={"P2": {"seepage_at_pit": "yes"}}),
        named=("DIG-4", "SOIL-2", "WATER-1"),
        not_named=("WATER-2", "DIG-1"),
        verdict=NO,
        piers={"P1": GO, "P2": NO},
    ),
    WholeSurvey(
        "sand that boils under a pumped pit",
        "29 CFR 1926.651(h)(1), (i)(1); Terzaghi, critical gradient",
        "Water pumped out of a pit in sand comes up through its floor and takes the ground from "
        "under the footing.",
        Change(
            site={
                "groundwater_met": "yes",
                "depth_to_groundwater": "3 ft",
                "pump_capacity": "40 gpm",
                "water_removal": "pump watched by the competent person",
            },
            cleared=("soil_layers",),
            added={"soil_layers": [SAND]},
        ),
        named=("SOIL-3", "WATER-2", "WATER-4"),
        not_named=("WATER-1",),
        verdict=NO,
    ),
    WholeSurvey(
        "timber by the table beside a loaded footing",
        "29 CFR 1926 Subpart P App. C (d)(2)(ii)(A)",
        "Timbers are picked from Appendix C, whose tables leave out a building beside the pit.",
        Change(piers={"P2": {**TIMBER, "protection_design": "appendix table"}}),
        named=("DIG-10",),
        not_named=("DIG-1", "DIG-11"),
        verdict=REVIEW,
        piers={"P1": GO, "P2": REVIEW},
    ),
    WholeSurvey(
        "maker's data that leave out the building",
        "29 CFR 1926.652(a)(2), (c)(2)",
        "A shield is rated for earth alone and stands beside a wall that loads the same earth.",
        Change(piers={"P2": {**SHIELD, "protection_design_allows_for_building": "no"}}),
        named=("DIG-23",),
        not_named=("DIG-9", "DIG-12"),
        verdict=REVIEW,
        piers={"P2": REVIEW},
    ),
    WholeSurvey(
        "deep pit without a ladder",
        "29 CFR 1926.651(c)(2)",
        "A man can't climb out when the side begins to move.",
        Change(piers={"P2": {"ladder_in_pit": "no", "distance_to_ladder": None}}),
        named=("DIG-16",),
        not_named=("DIG-17",),
        verdict=NO,
        piers={"P2": NO, "P3": GO},
    ),
    WholeSurvey(
        "ladder more than 25 ft away",
        "29 CFR 1926.651(c)(2)",
        "Pits are joined to a trench with one ladder at its end.",
        Change(piers={"P2": {"distance_to_ladder": "25 ft 6 in"}}),
        named=("DIG-17",),
        not_named=("DIG-16",),
        verdict=NO,
        piers={"P2": NO},
    ),
    WholeSurvey(
        "truck at the edge",
        "29 CFR 1926.651(f); 29 CFR 1926 Subpart P App. B (c)(3)(iii)",
        "A loaded truck backs up to the pit; edge and truck go in.",
        Change(site={"vehicles_kept_back": "no", "heaviest_load_near_a_pit": "26000 lb"}),
        named=("DIG-18", "DIG-26"),
        not_named=("DIG-27", "DIG-15"),
        verdict=NO,
    ),
    WholeSurvey(
        "shield shorter than the pit",
        "29 CFR 1926.652(a)(1), (c)(2)",
        "A shield of 3 ft stands in a pit of 7 ft; the ground above it falls in over its edge.",
        Change(piers={"P2": {**SHIELD, "pit_depth": "7 ft", "height_of_protection": "3 ft"}}),
        named=("DIG-34",),
        not_named=("DIG-1", "DIG-32", "DIG-35"),
        verdict=NO,
        piers={"P1": GO, "P2": NO},
    ),
    WholeSurvey(
        "shield over a part of the pit",
        "29 CFR 1926.652(a)(1)",
        "A man steps out of the shield to reach the footing, and the open side beside it falls.",
        Change(piers={"P2": {**SHIELD, "protection_covers": "a part of the pit"}}),
        named=("DIG-32",),
        not_named=("DIG-33", "DIG-34"),
        verdict=NO,
        piers={"P2": NO},
    ),
    WholeSurvey(
        "ends of the shield left open",
        "29 CFR 1926.652(a)(1)-(2)",
        "The long sides are held and the two ends are not; one end runs in.",
        Change(piers={"P2": {**SHIELD, "protection_covers": "the sides, ends open"}}),
        named=("DIG-33",),
        not_named=("DIG-32",),
        verdict=NO,
        piers={"P2": NO},
    ),
    WholeSurvey(
        "dug 3 ft below the foot of the shoring",
        "29 CFR 1926.652(e)(2)(i): at most 2 ft",
        "The shoring hangs where it was set, and the pit goes on down without it.",
        Change(
            piers={
                "P2": {
                    "pit_depth": "8 ft",
                    "dug_below_protection": "36 in",
                    "height_of_protection": "5 ft",
                }
            }
        ),
        named=("DIG-35",),
        not_named=("DIG-34", "DIG-36"),
        verdict=NO,
        piers={"P2": NO},
    ),
    WholeSurvey(
        "bent strut used again",
        "29 CFR 1926.652(d)(1)-(3)",
        "A strut that was bent on the last job buckles on this one.",
        Change(piers={"P2": {"protection_undamaged": "no"}}),
        named=("DIG-38",),
        not_named=("DIG-9",),
        verdict=NO,
        piers={"P2": NO},
    ),
    WholeSurvey(
        "upright foot below a slope",
        "29 CFR 1926 Subpart P App. B Fig. B-1.2 note 3",
        "The slope ends 3 ft above the floor; below it the side stands upright and unheld.",
        Change(
            piers={
                "P2": {
                    **SLOPED,
                    "pit_depth": "8 ft",
                    "foot_of_the_slope": "upright part not held",
                }
            }
        ),
        named=("DIG-29",),
        not_named=("DIG-5",),
        verdict=NO,
        piers={"P2": NO},
    ),
    WholeSurvey(
        "old sewer trench beside the pit",
        "29 CFR 1926 Subpart P App. A (b), (d)(1)(iv): earlier disturbance",
        "The pit is 4 ft 6 in deep in firm clay; the fill of an old trench behind it slides in.",
        Change(
            piers={
                "P2": {
                    **NOTHING_HOLDS,
                    "pit_depth": "4 ft 6 in",
                    "footing_depth": "3 ft 6 in",
                    "backfill_beside_pit": "yes",
                }
            }
        ),
        named=("DIG-1", "DIG-43"),
        not_named=("DIG-2 P2", "DIG-3"),
        verdict=NO,
        piers={"P1": GO, "P2": NO},
    ),
    WholeSurvey(
        "frozen side that thaws",
        "29 CFR 1926 Subpart P App. A (c)(5): conditions that change; common practice",
        "A frozen side stood upright for a week, and falls on the first warm day.",
        Change(
            site={"frost": "ground thawing"},
            piers={
                "P2": {
                    **NOTHING_HOLDS,
                    "pit_depth": "4 ft 6 in",
                    "footing_depth": "3 ft 6 in",
                }
            },
        ),
        named=("DIG-1", "DIG-44", "SOIL-7", "SOIL-8"),
        not_named=("DIG-2 P2", "DIG-3"),
        verdict=NO,
        piers={"P2": NO},
    ),
    WholeSurvey(
        "leak that goes on under the footing",
        "29 CFR 1926 Subpart P App. A (d)(1)(vi); common practice",
        "A broken drain has wetted the ground for years; the pit fills with slurry.",
        Change(site={"plumbing_leak": "found, not repaired"}),
        named=("WATER-7",),
        not_named=("WATER-1", "WATER-8"),
        verdict=NO,
    ),
)

FALLING_BUILDINGS = (
    WholeSurvey(
        "wall that falls on a worker in an undermined pit",
        "29 CFR 1926.651(i)(1)",
        "A wall that leans, with nothing to hold its top, is undermined and falls into the pit.",
        Change(walls={"South": {"wall_held_at_top": "no", "wall_out_of_plumb": "2 in"}}),
        named=("FOOT-11", "FOOT-12"),
        not_named=("FOOT-5", "DIG-1"),
        verdict=REVIEW,
        piers={"P1": REVIEW, "P4": GO},
    ),
    WholeSurvey(
        "rubble wall on a rubble footing",
        "29 CFR 1926.651(i)(1)",
        "Stones drop out of the footing over the open pit, and the wall follows.",
        Change(
            walls={
                "South": {
                    "wall_material": "rubble",
                    "wall_thickness": "18 in",
                    "footing_kind": "rubble",
                    "footing_width": "30 in",
                    "mortar_joints": "soft or missing",
                    **dict.fromkeys(OF_CONCRETE),
                }
            },
        ),
        named=("FOOT-4", "FOOT-5"),
        not_named=("FOOT-6",),
        verdict=REVIEW,
        piers={"P1": REVIEW, "P4": GO},
    ),
    WholeSurvey(
        "thin footing without bars",
        "ACI 318-19 14.3.2.1 (from memory)",
        "A footing 6 in thick without bars breaks over the opening.",
        Change(walls={"South": {"footing_thickness": "6 in"}}),
        named=("FOOT-6",),
        not_named=("FOOT-4", "FOOT-7"),
        verdict=REVIEW,
        piers={"P1": REVIEW},
    ),
    WholeSurvey(
        "bare ground under a wall without a footing",
        "29 CFR 1926.651(i)(1)",
        "The wall stands on the ground itself, and the first pit takes it away.",
        Change(
            walls={
                "East": {
                    "footing_kind": "none found",
                    "footing_thickness": None,
                    "footing_width": None,
                    "footing_projection": None,
                    "footing_cracks": None,
                    **dict.fromkeys(OF_CONCRETE),
                }
            },
        ),
        named=("FOOT-3",),
        not_named=("FOOT-4", "FOOT-6"),
        verdict=REVIEW,
        piers={"P1": GO, "P4": REVIEW},
    ),
    WholeSurvey(
        "retaining wall above the pit",
        "29 CFR 1926.651(i)(2)",
        "A garden wall that holds back earth stands 4 ft from the pit and tips into it.",
        Change(added={"neighbours": [beside("garden wall", "retaining wall", "7 ft", "1 ft")]}),
        named=("NEAR-4",),
        not_named=("NEAR-3", "NEAR-5"),
        verdict=REVIEW,
        piers={"P1": GO, "P4": REVIEW, "P5": REVIEW},
    ),
    WholeSurvey(
        "neighbour's wall undermined",
        "29 CFR 1926.651(i)(1)-(2)",
        "The house next door stands 2 ft deep, 2 ft from the edge of a pit 5 ft deep.",
        Change(
            added={
                "neighbours": [
                    beside(
                        "No. 16",
                        "house",
                        "5 ft",
                        "2 ft",
                        other_owner="yes",
                        notice_date="2026-11-20",
                    ),
                ]
            },
        ),
        named=("NEAR-1",),
        not_named=("NEAR-4", "NEAR-7"),
        verdict=REVIEW,
        piers={"P1": GO, "P4": REVIEW, "P5": REVIEW},
    ),
    WholeSurvey(
        "party wall underpinned from one side",
        "IBC 3307.1",
        "The wall carries the other house too, and nobody told its owner.",
        Change(
            added={
                "neighbours": [
                    beside(
                        "No. 16",
                        "party wall",
                        "0 ft",
                        "4 ft",
                        other_owner="yes",
                        notice_date="2026-12-05",
                    ),
                ]
            },
        ),
        named=("NEAR-3", "NEAR-7", "NEAR-8"),
        not_named=("NEAR-5",),
        verdict=NO,
    ),
    WholeSurvey(
        "neighbour not told",
        "IBC 3307.1: not less than 10 days before",
        "The owner next door learns of the excavation from the crack in his wall.",
        Change(
            added={
                "neighbours": [
                    beside(
                        "No. 16",
                        "house",
                        "20 ft",
                        "4 ft",
                        other_owner="yes",
                        notice_date="2026-12-04",
                    ),
                ]
            },
        ),
        named=("NEAR-7",),
        not_named=("NEAR-1", "NEAR-3"),
        verdict=NO,
    ),
    WholeSurvey(
        "sequence ignored: most of a wall unsupported",
        "CROSS safety report 72: 60 % of the wall left unsupported; Chudley and Greeno, Building "
        "Construction Handbook, 8th ed., underpinning: at most 25 %",
        "Bay after bay is opened without waiting for the one before; the work is stopped with 60 % "
        "of the wall unsupported.",
        Change(
            site={"most_pits_open_together": "5", "clear_spacing_of_open_pits": "1 ft"},
            walls={"East": {"carried_to": "26 ft"}},
            piers={"P4": {"station": "4 ft", **SIXTY}, "P5": {"station": "8 ft 6 in", **SIXTY}},
            added={
                "piers": [
                    pier("P6", "East", "13 ft", **SIXTY),
                    pier("P7", "East", "17 ft 6 in", **SIXTY),
                    pier("P8", "East", "22 ft", **SIXTY),
                ]
            },
            released={"FOOT-1": "P6 to P8"},
        ),
        named=("FOOT-18", "FOOT-19"),
        not_named=("FOOT-17", "DIG-1"),
        verdict=REVIEW,
        piers={"P1": REVIEW, "P8": REVIEW},
    ),
    WholeSurvey(
        "chimney over the pit",
        "29 CFR 1926.651(i)(1)",
        "A chimney breast stands on the stretch of footing that the pit bares.",
        Change(piers={"P2": {"heavy_load_over_pit": "yes", "point_load_at_pier": "9000 lb"}}),
        named=("FOOT-13",),
        not_named=("FOOT-9",),
        verdict=REVIEW,
        piers={"P2": REVIEW},
    ),
    WholeSurvey(
        "swimming pool beside the pit",
        "29 CFR 1926.651(i)(1)",
        "A full pool pushes the ground into the pit and empties itself after it.",
        Change(added={"neighbours": [beside("pool", "pool", "8 ft", "5 ft")]}),
        named=("NEAR-5",),
        not_named=("NEAR-4",),
        verdict=REVIEW,
        piers={"P4": REVIEW},
    ),
    WholeSurvey(
        "house lifted off its footing by the drive",
        "statics: half of the wall's dead load holds it down",
        "The pier meets rock early; the pump lifts the wall instead of driving the tube.",
        Change(
            site={"planned_drive_load": "28000 lb"},
            cleared=("releases",),
            released={"FOOT-1": "P1 to P5"},
        ),
        named=("PIER-2",),
        not_named=("PIER-1", "PIER-3"),
        verdict=REVIEW,
    ),
    WholeSurvey(
        "wall pushed up against a rotten sill",
        "common practice",
        "The pier lifts the wall, the sill crushes, and the floor above comes down on one side.",
        Change(walls={"South": {"framing_on_wall": "rotten, crushed or loose"}}),
        named=("FOOT-29",),
        not_named=("FOOT-5", "FOOT-30"),
        verdict=REVIEW,
        piers={"P1": REVIEW, "P4": GO},
    ),
    WholeSurvey(
        "stressed cable cut in a slab edge",
        "common practice",
        "A cable under tension is cut with the saw and flies out of the edge of the slab.",
        Change(
            walls={
                "South": {
                    "footing_kind": "thickened slab edge",
                    "wall_height": "0 ft",
                    "cables_in_slab": "stressed cables found",
                }
            }
        ),
        named=("FOOT-31", "FOOT-32"),
        not_named=("FOOT-36",),
        verdict=REVIEW,
        piers={"P1": REVIEW, "P4": GO},
    ),
    WholeSurvey(
        "hollow footing that crushes on the bracket",
        "common practice",
        "Gravel pockets deep in the footing give way under the first drive.",
        Change(walls={"South": {"footing_honeycomb": "deep or hollow"}}),
        named=("FOOT-26",),
        not_named=("FOOT-27",),
        verdict=REVIEW,
        piers={"P1": REVIEW},
    ),
    WholeSurvey(
        "underpinning without permit and drawings",
        "IBC 105.1, 1804.2 (both from memory)",
        "Nobody drew the order of the pits, and nobody was asked; the wall cracks from end to end.",
        Change(site={"building_permit": "none", "pier_drawings": "none"}),
        named=("PERMIT-1", "PERMIT-2"),
        not_named=("PERMIT-3",),
        verdict=NO,
    ),
    WholeSurvey(
        "house raised until it breaks",
        "common practice",
        "The owner wants the floor level again; the wall is raised by 3 in and cracks in two.",
        Change(site={"planned_lift": "3 in"}),
        named=("WATCH-5",),
        not_named=("WATCH-3",),
        verdict=REVIEW,
    ),
    WholeSurvey(
        "pier moved after the survey",
        "common practice",
        "The pit is dug 3 ft from where it was surveyed, over a drain.",
        Change(site={"plan_changed_since_survey": "yes"}),
        named=("SURVEY-13",),
        not_named=("SURVEY-1",),
        verdict=HOLD,
    ),
    WholeSurvey(
        "pit dug across the boundary",
        "common practice; IBC 3307.1",
        "The slope of the pit takes the neighbour's ground, and with it his fence.",
        Change(piers={"P4": {"over_the_boundary": "over it, not agreed"}}),
        named=("NEAR-14",),
        not_named=("NEAR-15",),
        verdict=NO,
        piers={"P1": GO, "P4": NO},
    ),
)

AIR = (
    WholeSurvey(
        "petrol engine in a basement, doors open and a fan running",
        "Earnest et al., Am. Ind. Hyg. Assoc. J. 58(11), 1997, 787-791: a 2,332 ft3 room with 21.5 "
        "air changes an hour; NIOSH Publication 96-118 (from memory)",
        "A washer ran in a room with open doors and a fan, and its user was poisoned all the same.",
        Change(
            site={
                **BASEMENT,
                "engine_place": "inside or in a pit",
                "engine_power": "5 hp",
                "room_volume": "2332 ft3",
                "air_changes_an_hour": "22",
            },
            piers={EVERY: FROM_BASEMENT},
        ),
        named=("ACCESS-12",),
        not_named=("ACCESS-13", "ACCESS-14"),
        verdict=NO,
    ),
    WholeSurvey(
        "engine beside the vent of a crawl space",
        "NIOSH Publication 96-118, small petrol-driven engines (from memory)",
        "The power pack stands outside, and its exhaust drifts in at the vent.",
        Change(
            site={
                **CRAWL_SPACE,
                **EXHAUST,
                "engine_place": "outside, by an opening",
                "carbon_monoxide_alarm": "no",
            },
            piers={EVERY: FROM_CRAWL_SPACE},
        ),
        named=("ACCESS-13", "ACCESS-14"),
        not_named=("ACCESS-12",),
        verdict=NO,
    ),
    WholeSurvey(
        "bad air from a septic tank",
        "29 CFR 1926.651(g)(1)(i)",
        "Gas from a septic tank stands in a pit 5 ft deep; one man goes down, and one after him.",
        Change(
            site={"bad_air_possible": "yes", "air_test_planned": "no", "rescue_gear_ready": "no"},
            added={
                "utilities": [
                    line(
                        "septic tank",
                        "septic",
                        "28 ft",
                        utility_owner="private",
                        utility_diameter="60 in",
                    ),
                ]
            },
        ),
        named=("CREW-9", "DIG-19", "LINE-18"),
        not_named=("LINE-20",),
        verdict=NO,
    ),
    WholeSurvey(
        "crawl space that nobody classed",
        "29 CFR 1926.1203(a)",
        "A crawl space is entered although no competent person has said whether it is confined.",
        Change(
            site={**CRAWL_SPACE, "confined_space_finding": "not looked at"},
            piers={EVERY: FROM_CRAWL_SPACE},
        ),
        named=("ACCESS-8",),
        not_named=("ACCESS-9", "ACCESS-12"),
        verdict=NO,
    ),
    WholeSurvey(
        "crawl space with bad air, said to need no permit",
        "29 CFR 1926.1203(a), (d); NIOSH Publication 86-110, confined spaces (from memory)",
        "The would-be rescuer dies in the same space.",
        Change(
            site={**CRAWL_SPACE, "space_hazards": "bad air possible"},
            piers={EVERY: FROM_CRAWL_SPACE},
        ),
        named=("ACCESS-21",),
        not_named=("ACCESS-8", "ACCESS-9"),
        verdict=NO,
    ),
    WholeSurvey(
        "hurt man who can't be carried out",
        "common practice; 29 CFR 1926.651(c)(2) for the pits",
        "The only way out of the crawl space is a hatch 20 in wide, with spoil stacked on it.",
        Change(
            site={**CRAWL_SPACE, "route_width": "20 in", "way_out_kept_clear": "no"},
            piers={EVERY: FROM_CRAWL_SPACE},
        ),
        named=("ACCESS-3", "ACCESS-7"),
        not_named=("ACCESS-8",),
        verdict=NO,
    ),
    WholeSurvey(
        "concrete cut dry",
        "29 CFR 1926.1153(c)(1)",
        "Footings are notched with a dry saw, week after week.",
        Change(site={"dust_control": "none", "cutting_tool": "saw with water"}),
        named=("ACCESS-17",),
        not_named=("ACCESS-18",),
        verdict=NO,
    ),
    WholeSurvey(
        "bare wires in a damp crawl space",
        "29 CFR 1926.416(a)(1) (from memory)",
        "A man crawls under a hanging cable on wet ground and touches it with his neck.",
        Change(site={**CRAWL_SPACE, "loose_wires_inside": "yes"}, piers={EVERY: FROM_CRAWL_SPACE}),
        named=("ACCESS-25",),
        not_named=("ACCESS-8", "ACCESS-12"),
        verdict=NO,
    ),
    WholeSurvey(
        "wrap of an old pipe brushed aside",
        "29 CFR 1926.1101(k) (from memory)",
        "White wrap on the heating pipes crumbles on the way in; it was never tested.",
        Change(site={**BASEMENT, "asbestos": "suspected"}, piers={EVERY: FROM_BASEMENT}),
        named=("ACCESS-30",),
        not_named=("ACCESS-11", "ACCESS-29"),
        verdict=NO,
    ),
    WholeSurvey(
        "concrete cut in a closed basement",
        "29 CFR 1926.1153(c)(2)(i)",
        "Water on the saw keeps some of the dust down; the rest stays in the room with the crew.",
        Change(site={**BASEMENT, "dust_drawn_out": "no"}, piers={EVERY: FROM_BASEMENT}),
        named=("ACCESS-18", "ACCESS-24"),
        not_named=("ACCESS-17", "ACCESS-35"),
        verdict=NO,
    ),
    WholeSurvey(
        "floor that breaks under the power pack",
        "29 CFR 1926.501(a)(2) (from memory)",
        "Tubes are stacked on a rotten floor over a cellar, and it comes down.",
        Change(
            site={
                **BASEMENT,
                "floor_under_equipment": "suspended, not checked",
                "stairs_sound": "no",
            },
            piers={EVERY: FROM_BASEMENT},
        ),
        named=("ACCESS-22", "ACCESS-23"),
        not_named=("ACCESS-3", "ACCESS-7"),
        verdict=NO,
    ),
)

LINES = (
    WholeSurvey(
        "gas line marked, but never exposed by hand",
        "29 CFR 1926.651(b)(3); 49 CFR 196.103(c)",
        "The mark runs beside the pit; the pipe lies a foot beside the mark and is cut.",
        Change(
            site=GAS_ON_SITE,
            added={
                "utilities": [
                    line(
                        "gas service",
                        "gas",
                        "10 ft",
                        located_by="traced",
                        hand_exposure_planned="no",
                    ),
                ]
            },
            piers={"P1": IN_TRENCH, "P2": IN_TRENCH},
        ),
        named=("LINE-12", "LINE-13", "LINE-17"),
        not_named=("LINE-4", "LINE-6"),
        verdict=NO,
        piers={"P1": GO, "P2": NO},
    ),
    WholeSurvey(
        "propane pipe that nobody marked",
        "29 CFR 1926.651(b)(1); 49 CFR 196.103(b)-(c)",
        "The one-call centre marks no pipe from a customer's own tank, so nobody did.",
        Change(
            site={
                "gas_on_the_property": "propane from a tank",
                "gas_piping_traced": "no",
                "private_lines_searched_for": "no",
            },
            added={
                "utilities": [
                    line(
                        "propane pipe",
                        "propane",
                        "10 ft",
                        utility_owner="private",
                        locate_marks="never marked",
                        located_by="surface signs",
                    ),
                ]
            },
        ),
        named=("LINE-7", "LINE-8", "LINE-10", "LINE-17", "LINE-26"),
        not_named=("LINE-4", "LINE-9"),
        verdict=NO,
    ),
    WholeSurvey(
        "smell of gas, and work goes on",
        "49 CFR 196.109; common practice",
        "Somebody smells gas and finishes the pit first.",
        Change(
            site={**GAS_ON_SITE, "gas_odour": "yes"},
            added={"utilities": [line("gas service", "gas", "38 ft")]},
        ),
        named=("LINE-9",),
        not_named=("LINE-1", "LINE-17"),
        verdict=NO,
    ),
    WholeSurvey(
        "no locate request, because the pits are dug by hand",
        "49 CFR 196.103(a), 196.3: hand tools count",
        "Nobody calls for a hole dug with a shovel, and the shovel finds the cable.",
        Change(
            site={
                "locate_request_made": "no",
                "ticket_number": None,
                "ticket_start": None,
                "ticket_end": None,
            }
        ),
        named=("LINE-1",),
        not_named=("LINE-2", "LINE-3"),
        verdict=NO,
    ),
    WholeSurvey(
        "digging before the ticket allows it",
        "49 CFR 196.103(b)",
        "The crew has a gap in its week and comes two days early.",
        Change(site={"crew_date": "2026-11-27"}),
        named=("LINE-2",),
        not_named=("LINE-1", "LINE-3"),
        verdict=NO,
    ),
    WholeSurvey(
        "ticket run out",
        "49 CFR 196.103(d)",
        "The job runs late; the marks are three weeks old, and the ticket has ended.",
        Change(site={"last_crew_date": "2026-12-21"}),
        named=("LINE-3",),
        not_named=("LINE-1", "LINE-2", "LINE-6"),
        verdict=NO,
    ),
    WholeSurvey(
        "owner who has not answered",
        "29 CFR 1926.651(b)(2); 49 CFR 196.103(b)",
        "The electric company never answered, so there is no cable, thinks the crew.",
        Change(
            added={
                "utilities": [
                    line(
                        "electric service",
                        "electric",
                        "25 ft",
                        how_the_cable_lies="in a pipe",
                        **{"owner's_answer": "no answer"},
                    ),
                ]
            }
        ),
        named=("LINE-4",),
        not_named=("LINE-5", "LINE-9"),
        verdict=NO,
    ),
    WholeSurvey(
        "marks washed away",
        "49 CFR 196.103(c)-(d)",
        "Rain takes the paint; the crew digs by memory.",
        Change(utilities={"water service": {"locate_marks": "gone"}}),
        named=("LINE-6",),
        not_named=("LINE-7", "LINE-4"),
        verdict=NO,
    ),
    WholeSurvey(
        "private line that nobody looked for",
        "29 CFR 1926.651(b)(1)",
        "The feed to the garage is the customer's own, and on no record.",
        Change(site={"private_lines_searched_for": "no"}),
        named=("LINE-8",),
        not_named=("LINE-1", "LINE-4"),
        verdict=NO,
    ),
    WholeSurvey(
        "tube driven through a sewer",
        "29 CFR 1926.651(b)(4); 49 CFR 196.103(c)",
        "The drain lies below the floor of the pit, where digging does not show it; the pier goes "
        "through it.",
        Change(
            added={
                "utilities": [
                    line(
                        "sewer lateral",
                        "sewer",
                        "13 ft",
                        located_by="traced",
                        depth_to_utility="7 ft",
                        utility_diameter="4 in",
                    ),
                ]
            }
        ),
        named=("LINE-12", "LINE-23", "LINE-24"),
        not_named=("LINE-14", "LINE-16", "LINE-19"),
        verdict=NO,
        piers={"P1": GO, "P2": NO},
    ),
    WholeSurvey(
        "water main that floods the pit",
        "29 CFR 1926.651(b)(4)",
        "An 8 in main beside the pit breaks, and the pit is full before the ladder is reached.",
        Change(
            added={
                "utilities": [
                    line(
                        "water main",
                        "water",
                        "10 ft",
                        utility_diameter="8 in",
                        depth_to_utility="4 ft",
                    ),
                ]
            },
            piers={"P1": IN_TRENCH, "P2": IN_TRENCH},
        ),
        named=("LINE-19",),
        not_named=("LINE-23", "LINE-20"),
        verdict=REVIEW,
        piers={"P3": GO, "P2": REVIEW},
    ),
    WholeSurvey(
        "line in the pit with nothing to hold it up",
        "29 CFR 1926.651(b)(4)",
        "The water service hangs across the pit, somebody steps on it, and it parts.",
        Change(utilities={"water service": {"support_planned": "no"}}),
        named=("LINE-14",),
        not_named=("LINE-13", "LINE-6"),
        verdict=NO,
        piers={"P1": GO, "P3": NO},
    ),
    WholeSurvey(
        "overhead line and a long section of tube",
        "29 CFR 1926.1408(a), Table A; NIOSH Publication 95-108, electrocutions near overhead "
        "lines (from memory)",
        "A section is stood up on end below the service drop and touches it.",
        Change(
            site={
                "overhead_lines_near": "yes",
                "overhead_voltage": "7.2 kV",
                "overhead_line_distance": "14 ft",
                "equipment_reach": "8 ft",
            }
        ),
        named=("ACCESS-16", "ACCESS-19"),
        not_named=("ACCESS-15",),
        verdict=NO,
    ),
    WholeSurvey(
        "wet hands and an outlet without a GFCI",
        "29 CFR 1926.404(b)(1)",
        "A pump in a wet pit is plugged into the kitchen.",
        Change(site={"ground_fault_protection": "no"}),
        named=("ACCESS-15",),
        not_named=("ACCESS-16",),
        verdict=NO,
    ),
    WholeSurvey(
        "gas service pulled",
        "NTSB, Wilmington, Delaware, 2003: a service line that was pulled parted indoors (from "
        "memory)",
        "A bucket snags the service. It does not leak there; it has parted in the basement, and "
        "the house explodes.",
        Change(
            site=GAS_ON_SITE,
            added={"utilities": [line("gas service", "gas", "38 ft", ever_struck="yes")]},
        ),
        named=("LINE-31",),
        not_named=("LINE-9", "LINE-32", "LINE-17"),
        verdict=NO,
    ),
    WholeSurvey(
        "gas in the ground after a leak",
        "49 CFR 196.107, 196.109; common practice",
        "The gas company mended a leak in spring; what is left in the ground finds the first pit.",
        Change(site={"gas_trouble_lately": "yes"}),
        named=("LINE-29",),
        not_named=("LINE-9", "LINE-26"),
        verdict=NO,
    ),
    WholeSurvey(
        "electric cable struck with a chipping hammer",
        "HSE guidance HSG47, underground services (from memory): cables and power tools",
        "The cable lies under the concrete that is broken out, and the point goes into it.",
        Change(
            site={"cutting_tool": "chipping hammer"},
            added={
                "utilities": [
                    line(
                        "electric service",
                        "electric",
                        "25 ft",
                        how_the_cable_lies="bare in the ground",
                        chipping_beside_line="yes",
                    ),
                ]
            },
        ),
        named=("LINE-37", "ACCESS-18"),
        not_named=("LINE-17", "LINE-38"),
        verdict=NO,
    ),
    WholeSurvey(
        "duct bank taken for a footing",
        "HSE guidance HSG47, underground services (from memory): concrete may hold cables",
        "A block of concrete beside the footing is broken out; it has cables in it.",
        Change(
            added={
                "utilities": [
                    line(
                        "duct bank",
                        "electric",
                        "16 ft",
                        how_the_cable_lies="encased in concrete",
                        chipping_beside_line="yes",
                        utility_diameter="24 in",
                    ),
                ]
            }
        ),
        named=("LINE-33", "LINE-37"),
        not_named=("LINE-34",),
        verdict=NO,
    ),
    WholeSurvey(
        "live conduit in the footing that is cut",
        "29 CFR 1926.416(a)(1) (from memory)",
        "The saw goes through a conduit that runs in the footing.",
        Change(piers={"P2": {"lines_through_footing": "live"}}),
        named=("LINE-40",),
        not_named=("LINE-41",),
        verdict=NO,
        piers={"P1": GO, "P2": NO},
    ),
    WholeSurvey(
        "machine that digs within the tolerance zone",
        "29 CFR 1926.651(b)(3); 49 CFR 196.103(c)",
        "The mini-digger takes one more bucket beside the marks.",
        Change(
            site={
                "pits_dug_with": "machine",
                "machines_beside_pits": "kept off by barrier or spotter",
                "vehicles_kept_back": "no",
                "heaviest_load_near_a_pit": "3500 lb",
            }
        ),
        named=("LINE-12", "LINE-44", "DIG-18"),
        not_named=("LINE-13", "GEAR-1", "GEAR-13", "DIG-27"),
        verdict=NO,
    ),
)

PEOPLE = (
    WholeSurvey(
        "child that falls into an open pit",
        "HSE guidance HSG151, protecting the public (from memory); common practice",
        "The pits stand open over the weekend, with tape round them.",
        Change(site={"public_kept_out": "no"}),
        named=("CREW-2",),
        not_named=("CREW-1",),
        verdict=NO,
    ),
    WholeSurvey(
        "no competent person",
        "29 CFR 1926.651(k)(1), 1926.650(b)",
        "Nobody on site may stop the work.",
        Change(site={"competent_person_on_site_daily": "no"}),
        named=("CREW-1",),
        not_named=("DIG-1", "CREW-2"),
        verdict=NO,
    ),
    WholeSurvey(
        "cylinder driven past its pressure",
        "29 CFR 1926.305(a)(1), 1926.302(d)(2) (both from memory)",
        "The relief valve is set up to get the last section down; the hose bursts.",
        Change(site={"planned_drive_load": "29000 lb", "cylinder_pressure_allowed": "5000 psi"}),
        named=("PIER-3",),
        not_named=("PIER-1", "PIER-5"),
        verdict=NO,
    ),
    WholeSurvey(
        "one man alone at the pits",
        "common practice; HSE guidance INDG73, lone working (from memory)",
        "He is buried to the chest, and nobody knows until the evening.",
        Change(site={"crew_size": "1"}),
        named=("CREW-3",),
        not_named=("CREW-4", "CREW-6"),
        verdict=NO,
    ),
    WholeSurvey(
        "boy of sixteen in the pit",
        "29 CFR 570.68 (Order 17, excavation operations); NIOSH Publication 95-125, young workers "
        "(both from memory)",
        "The owner's son helps out in the holidays, and the pit closes on him.",
        Change(site={"minors_in_crew": "yes"}),
        named=("CREW-6",),
        not_named=("CREW-3",),
        verdict=NO,
    ),
    WholeSurvey(
        "man who collapses in the heat",
        "NIOSH Publication 2016-106, work in heat (from memory)",
        "The newest of the crew digs through a close afternoon without a break and collapses.",
        Change(site={"hot_days_expected": "yes"}),
        named=("CREW-13",),
        not_named=("CREW-3", "CREW-9"),
        verdict=GO,
    ),
    WholeSurvey(
        "burst hydraulic hose",
        "29 CFR 1926.302(d)(2) (from memory)",
        "A hose with a cut cover bursts at full pressure, and its oil goes through a glove.",
        Change(site={"hydraulic_hoses": "damaged", "people_clear_of_drive": "no"}),
        named=("GEAR-5", "GEAR-7"),
        not_named=("GEAR-6", "PIER-3"),
        verdict=NO,
    ),
    WholeSurvey(
        "torch in a pit where gas may gather",
        "29 CFR 1926.352(c) (from memory); 29 CFR 1926.651(g)(1)(iii)",
        "A tube is cut off with a torch in a pit beside an old fuel tank.",
        Change(
            site={
                "hot_work": "inside or in a pit",
                "bad_air_possible": "yes",
                "air_test_planned": "yes",
                "rescue_gear_ready": "yes",
            },
            added={
                "utilities": [
                    line(
                        "old oil tank",
                        "fuel or oil tank",
                        "28 ft",
                        utility_owner="private",
                        utility_diameter="60 in",
                    ),
                ]
            },
        ),
        named=("DIG-20", "GEAR-8", "GEAR-9", "LINE-18"),
        not_named=("DIG-19", "GEAR-10"),
        verdict=NO,
    ),
    WholeSurvey(
        "digger that swings over a man in the pit",
        "29 CFR 1926.651(e)-(f)",
        "The bucket comes back while he trims the floor.",
        Change(
            site={
                "pits_dug_with": "machine",
                "machines_beside_pits": "nothing keeps them off",
                "people_under_loads": "yes",
            }
        ),
        named=("GEAR-1", "GEAR-4"),
        not_named=("GEAR-2", "GEAR-3"),
        verdict=NO,
    ),
)

ACCEPTABLE = (
    WholeSurvey(
        "the careful house itself",
        "the demo site 01; every clause that the book cites",
        "An ordinary house, completely surveyed, with an engineer's release for each pit.",
        Change(),
        named=("FOOT-10", "LINE-12"),
        not_named=("ACCESS", "CREW", "GEAR", "NEAR", "PERMIT", "SOIL", "SURVEY", "WATCH", "WATER"),
        verdict=GO,
        piers={"P1": GO, "P5": GO},
    ),
    WholeSurvey(
        "firm without a tube that spans between brackets",
        "AISC 360-16 is for those who have one",
        "The seat is never used by this firm; the others suit as before.",
        Change(
            site={
                "spanning_tube_at_hand": "no",
                **dict.fromkeys(f"spanning_tube_{size}" for size in ("width", "depth", "wall")),
            }
        ),
        named=("FOOT-10", "SEAT-23"),
        not_named=("SEAT-10", "SEAT-11", "SURVEY"),
        verdict=GO,
    ),
    WholeSurvey(
        "4 ft 6 in of dry stiff clay, its floor above the footing's underside",
        "29 CFR 1926.652(a)(1)(ii): less than 5 ft and no sign of a cave-in",
        "Inspected, with a ladder, marked, spoil 2 ft back. It needs nothing for its sides; but no "
        "bracket can be set from it, so the two depths are measured again.",
        Change(
            piers={
                "P2": {
                    **NOTHING_HOLDS,
                    "pit_depth": "4 ft 6 in",
                    "footing_depth": "5 ft",
                    "spoil_distance": "2 ft",
                    "undermines_footing": "no",
                }
            }
        ),
        named=("FOOT-2",),
        not_named=("FOOT-1 P2", "DIG P2", "SOIL", "WATER", "LINE P2"),
        verdict=HOLD,
        piers={"P1": GO, "P2": HOLD, "P3": GO},
    ),
    WholeSurvey(
        "4 ft 6 in of dry stiff clay, below the footing's underside",
        "29 CFR 1926.652(a)(1)(ii), 1926.651(i)(2)",
        "The same pit below a footing that ends at 3 ft 6 in: its sides still need nothing; "
        "the footing is the engineer's, and he has released it.",
        Change(
            piers={
                "P2": {
                    **NOTHING_HOLDS,
                    "pit_depth": "4 ft 6 in",
                    "footing_depth": "3 ft 6 in",
                    "spoil_distance": "2 ft",
                }
            }
        ),
        named=(),
        not_named=("DIG P2", "SOIL", "WATER", "LINE P2"),
        verdict=GO,
        piers={"P2": GO},
    ),
    WholeSurvey(
        "10 ft in type B, sloped 1H:1V",
        "29 CFR 1926 Subpart P App. B Table B-1, Fig. B-1.2",
        "A pit to a deep footing is cut at 1H:1V; the long opening under the footing is drawn in "
        "the engineer's letter.",
        Change(
            walls={"South": {"wall_height": "6 ft 6 in"}},
            piers={
                "P2": {**SLOPED, "pit_depth": "10 ft", "footing_depth": "8 ft 6 in"},
                "P4": IN_TRENCH,
            },
            utilities={
                "water service": {
                    "utility_start_station": "38 ft",
                    "utility_end_station": "38 ft",
                }
            },
            released={"FOOT-14": "P2", "FOOT-17": "P2", "FOOT-18": "P1 to P3"},
        ),
        named=("DIG-2", "DIG-24"),
        not_named=("DIG-1", "DIG-5", "DIG-6", "DIG-14", "DIG-25"),
        verdict=GO,
        piers={"P2": GO},
    ),
    WholeSurvey(
        "spoil at exactly 2 ft",
        "29 CFR 1926.651(j)(2): at least 2 ft",
        "Measured, not guessed: the heap ends 2 ft from the edge of each pit.",
        Change(piers={EVERY: {"spoil_distance": "2 ft"}}),
        named=(),
        not_named=("DIG-15",),
        verdict=GO,
    ),
    WholeSurvey(
        "one of the four ways of 1926.651(i)(2) is enough",
        "29 CFR 1926.651(i)(2)(i)-(iv): any one of them",
        "The engineer's approved support system stands on one release, and nothing else is asked.",
        Change(
            site={"planned_drive_load": "17000 lb"},
            only=("P1", "P2", "P3"),
            cleared=("releases",),
            released={"FOOT-1": "P1 to P3"},
        ),
        named=(),
        not_named=("FOOT-1", "PIER"),
        verdict=GO,
        piers={"P1": GO},
    ),
    WholeSurvey(
        "the same without a release",
        "29 CFR 1926.651(i)(2)",
        "Nobody has approved anything: the pits wait for the engineer.",
        Change(
            site={"planned_drive_load": "17000 lb"},
            only=("P1", "P2", "P3"),
            cleared=("releases",),
        ),
        named=("FOOT-1",),
        not_named=("PIER", "DIG-1"),
        verdict=REVIEW,
        piers={"P1": REVIEW},
    ),
    WholeSurvey(
        "visible pits in a basement",
        "29 CFR 1926.501(b)(7)(i), guardrails: pits of 6 ft or more that are not readily seen "
        "(from memory)",
        "Shallow pits in a lit basement, seen by whoever comes near, need no guardrail.",
        Change(site=BASEMENT, piers={EVERY: FROM_BASEMENT}),
        named=("ACCESS-18",),
        not_named=("CREW", "DIG-1", "DIG-45", "ACCESS-1", "ACCESS-2", "ACCESS-4", "ACCESS-12"),
        verdict=GO,
    ),
    WholeSurvey(
        "crawl space in good order",
        "29 CFR 1926.1203(a)",
        "The competent person found a confined space that needs no permit.",
        Change(site=CRAWL_SPACE, piers={EVERY: FROM_CRAWL_SPACE}),
        named=("ACCESS-4", "ACCESS-10"),
        not_named=("ACCESS-8", "ACCESS-9", "ACCESS-20", "ACCESS-21"),
        verdict=GO,
    ),
    WholeSurvey(
        "owner who can't give the exact place",
        "29 CFR 1926.651(b)(2): work may go on with caution and with detection equipment",
        "The telephone company can't say where its cable lies; the crew has traced it.",
        Change(
            added={
                "utilities": [
                    line(
                        "telephone",
                        "telephone or data",
                        "27 ft",
                        located_by="traced",
                        **{"owner's_answer": "cannot give the exact place"},
                    ),
                ]
            }
        ),
        named=("LINE-5",),
        not_named=("LINE-4", "LINE-10", "LINE-22"),
        verdict=GO,
    ),
    WholeSurvey(
        "seeping pit with a pump that the competent person watches",
        "29 CFR 1926.651(h)(1)-(2)",
        "A little water, a pump that keeps up, shoring that holds wet ground; a septic field near "
        "by, for which the air is tested; gas, a cable and a house next door, all known and kept "
        "off.",
        Change(
            site={
                **GAS_ON_SITE,
                "water_removal": "pump watched by the competent person",
                "pump_capacity": "40 gpm",
                "bad_air_possible": "yes",
                "air_test_planned": "yes",
                "rescue_gear_ready": "yes",
            },
            piers={"P2": {"seepage_at_pit": "yes"}, "P3": SHIELD, "P4": IN_TRENCH},
            added={
                "utilities": [
                    line("gas service", "gas", "38 ft"),
                    line("cable", "electric", "35 ft", how_the_cable_lies="in a pipe"),
                ],
                "neighbours": [
                    beside(
                        "No. 16",
                        "house",
                        "16 ft",
                        "4 ft",
                        other_owner="yes",
                        notice_date="2026-11-20",
                    )
                ],
            },
        ),
        named=("SOIL-2", "WATER-2"),
        not_named=("WATER-1", "WATER-5", "NEAR", "LINE-17"),
        verdict=GO,
        piers={"P2": GO},
    ),
    WholeSurvey(
        "gas service exposed by hand and shut off",
        "29 CFR 1926.651(b)(3)-(4)",
        "The pipe crosses a pit, was dug out by hand, hangs in slings, and the gas is off.",
        Change(
            site=GAS_ON_SITE,
            added={
                "utilities": [
                    line("gas service", "gas", "12 ft", shut_off_for_the_work="yes"),
                ]
            },
            piers={"P1": IN_TRENCH, "P2": IN_TRENCH},
        ),
        named=("LINE-15", "LINE-36"),
        not_named=("LINE-12 P2", "LINE-13", "LINE-14", "LINE-17", "LINE-24", "LINE-51"),
        verdict=GO,
    ),
    WholeSurvey(
        "notice on the tenth day before",
        "IBC 3307.1: not less than 10 days",
        "The neighbour had the letter on 27 November, the crew comes on 7 December.",
        Change(
            added={
                "neighbours": [
                    beside(
                        "No. 16",
                        "house",
                        "20 ft",
                        "4 ft",
                        other_owner="yes",
                        notice_date="2026-11-27",
                    ),
                ]
            }
        ),
        named=(),
        not_named=("NEAR",),
        verdict=GO,
    ),
    WholeSurvey(
        "sidewalk beside the pits, kept up",
        "29 CFR 1926.651(i)(3)",
        "A path 4 ft from the pits is cut back and closed.",
        Change(added={"neighbours": [beside("path", "pavement or sidewalk", "7 ft", "0 ft")]}),
        named=("NEAR-6",),
        not_named=("NEAR-1", "NEAR-2", "NEAR-8"),
        verdict=GO,
        piers={"P4": GO},
    ),
    WholeSurvey(
        "overhead line kept at its distance",
        "29 CFR 1926.1408 Table A: 10 ft up to 50 kV",
        "7.2 kV, 18 ft from the truck, whose boom reaches 8 ft.",
        Change(
            site={
                "overhead_lines_near": "yes",
                "overhead_voltage": "7.2 kV",
                "overhead_line_distance": "18 ft",
                "equipment_reach": "8 ft",
            }
        ),
        named=("ACCESS-16",),
        not_named=("ACCESS-19",),
        verdict=GO,
    ),
    WholeSurvey(
        "ladder 25 ft away",
        "29 CFR 1926.651(c)(2): no more than 25 ft",
        "The way out is just near enough.",
        Change(piers={"P2": {"distance_to_ladder": "25 ft"}}),
        named=(),
        not_named=("DIG-16", "DIG-17"),
        verdict=GO,
    ),
    WholeSurvey(
        "first day on the first day of the ticket, last day on its last",
        "49 CFR 196.103(b), (d)",
        "The crew works on every day that the ticket allows, and on no other.",
        Change(site={"ticket_start": "2026-12-07", "ticket_end": "2026-12-11"}),
        named=(),
        not_named=("LINE-2", "LINE-3", "LINE-25"),
        verdict=GO,
    ),
    WholeSurvey(
        "shield with maker's data that allow for the building",
        "29 CFR 1926.652(c)(2)",
        "The shield's papers are at hand and count the load of the footing.",
        Change(piers={EVERY: SHIELD}),
        named=("DIG-13",),
        not_named=("DIG-9", "DIG-12", "DIG-23"),
        verdict=GO,
    ),
    WholeSurvey(
        "benches in clay of type B",
        "29 CFR 1926 Subpart P App. B Fig. B-1.2 (steps of 4 ft; seen in a secondary copy)",
        "Clay stands in steps; the crew watches each of them.",
        Change(
            piers={"P2": {**BENCHED, "clear_ground_out_from_wall": "60 ft"}, "P4": IN_TRENCH},
            utilities={
                "water service": {
                    "utility_start_station": "38 ft",
                    "utility_end_station": "38 ft",
                }
            },
            released={"FOOT-14": "P2", "FOOT-17": "P2"},
        ),
        named=("DIG-8",),
        not_named=("DIG-1", "DIG-7", "DIG-21", "DIG-22"),
        verdict=GO,
        piers={"P2": GO},
    ),
)

ACCIDENTS = (*CAVE_INS, *FALLING_BUILDINGS, *AIR, *LINES, *PEOPLE)
ALL = (*ACCIDENTS, *ACCEPTABLE)

# Sites that may start, each with questions that the others are not asked.
IN_ORDER = {
    one.name: one
    for one in ACCEPTABLE
    if one.name
    in (
        "10 ft in type B, sloped 1H:1V",
        "crawl space in good order",
        "seeping pit with a pump that the competent person watches",
    )
}
