"""The demo sites of an invented firm on invented streets, and the tool that writes their workbooks.

Each site is the careful house with something changed. ``python -m tests.demo_surveys`` writes the
workbooks in ``demo_sites/`` again, after a change of the form or of a site.
"""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

from survey.answers import read_survey
from survey.document import read_document
from survey.model import Survey
from survey.workbook import write_form

FOLDER = Path(__file__).parent.parent / "demo_sites"
ENGINEER = {
    "released_by": "T. Aldermoor", "releasing_role": "licensed engineer",
    "licence_number": "PE 00000 (invented)", "release_date": "2026-11-20",
    "release_end": "2027-01-15",
}  # fmt: skip

# Answers that only some kinds of side protection, and only concrete footings, have.
HELD = (
    "protection_design", "protection_in_place_before_entry", "protection_covers",
    "height_of_protection", "dug_below_protection", "protection_undamaged",
)  # fmt: skip
OF_CONCRETE = (
    "footing_reinforcement", "concrete_strength", "footing_face_can_be_prepared",
    "footing_honeycomb",
)  # fmt: skip


def careful_house() -> dict[str, Any]:
    """An ordinary house, completely surveyed: five piers on two walls, all that is needed done."""
    return {
        "pier_survey": 1,
        "site": {
            "job_name": "2026-114 Fennel House",
            "address": "14 Marlpit Lane, Quillmere",
            "town": "Quillmere",
            "state": "KS",
            "surveyor": "I. Tarrow, Osk & Tamber Underpinning",
            "survey_date": "2026-11-18",
            "crew_date": "2026-12-07",
            "last_crew_date": "2026-12-11",
            "emergency_contact": "911; Quillmere General, 2 Lantern Road",
            "locate_request_made": "yes",
            "ticket_number": "QM-26-33871",
            "ticket_start": "2026-11-30",
            "ticket_end": "2026-12-18",
            "tolerance_zone": "24 in",
            "private_lines_searched_for": "yes",
            "gas_odour": "no",
            "all_utilities_listed": "yes",
            "all_neighbours_listed": "yes",
            "all_soil_layers_listed": "yes",
            "walls_listed": "all the way round",
            "first_wall_faces": "south",
            "soil_classified_by_competent_person": "yes",
            "ground_vibrated": "no",
            "groundwater_met": "no",
            "test_hole_depth": "18 ft",
            "surface_water_runs_to_pits": "no",
            "water_removal": "none",
            "bad_air_possible": "no",
            "ground_snow_load": "20 psf",
            "roof_exposure": "partially exposed",
            "roof_heating": "heated",
            "attic_used_for_storage": "no",
            "inside_work": "none",
            "engine_place": "outside, away from openings",
            "ground_fault_protection": "yes",
            "competent_person": "B. Wherry",
            "competent_person_on_site_daily": "yes",
            "public_kept_out": "yes",
            "vehicles_kept_back": "yes",
            "overhead_lines_near": "no",
            "dust_control": "water or a shroud on the tool",
            "cutting_tool": "drill with shroud and collector",
            "cutting_time_in_a_day": "3 hours",
            "open_a_day_at_most": "no",
            "heaviest_load_near_a_pit": "0 lb",
            "days_for_a_round_of_pits": "1 day",
            "most_pits_open_together": "1",
            "crew_size": "3",
            "clear_spacing_of_open_pits": "9 ft",
            "movement_marker_set": "yes",
            "bracket_plate_width": "10 in",
            "bracket_plate_depth": "7 in",
            **conduct(),
            **equipment(),
        },
        "walls": [
            wall(
                "South",
                "40 ft",
                floor="0 ft",
                roof="12 ft",
                carried_from="3 ft",
                carried_to="24 ft",
            ),
            wall("East", "26 ft", floor="12 ft", roof="0 ft", carried_to="17 ft"),
            wall("North", "40 ft", floor="0 ft", roof="12 ft"),
            wall("West", "26 ft", floor="12 ft", roof="0 ft"),
        ],
        "piers": [
            pier("P1", "South", "6 ft"),
            pier("P2", "South", "13 ft"),
            pier("P3", "South", "20 ft", backfill_beside_pit="yes"),
            pier("P4", "East", "5 ft"),
            pier("P5", "East", "12 ft"),
        ],
        "utilities": [
            {
                "label": "water service",
                "utility_kind": "water",
                "utility_owner": "public or company",
                "owner's_answer": "marked or cleared",
                "locate_marks": "clear",
                "located_by": "traced",
                "wall_of_utility": "South",
                "utility_start_station": "23 ft",
                "utility_start_offset": "0 ft",
                "utility_end_station": "23 ft",
                "utility_end_offset": "30 ft",
                "utility_diameter": "1 in",
                "depth_to_utility": "3 ft",
                "shut_off_for_the_work": "no",
                "ever_struck": "no",
                "chipping_beside_line": "no",
                "hand_exposure_planned": "yes",
                "support_planned": "yes",
            }
        ],
        "neighbours": [
            {
                "label": "garden shed",
                "neighbour_kind": "garage or shed",
                "wall_of_neighbour": "East",
                "neighbour_start_station": "2 ft",
                "neighbour_end_station": "12 ft",
                "neighbour_offset": "22 ft",
                "neighbour_footing_depth": "0 ft",
                "other_owner": "no",
            }
        ],
        "soil_layers": [
            {
                "label": "fill beside footing",
                "layer_top": "0 ft",
                "layer_bottom": "8 ft",
                "soil_group": "clay",
                "strength_test": "both",
                "thumb_test": "indented with effort",
                "unconfined_strength": "1.1 tsf",
                "fissured": "no",
                "dug_before": "yes",
                "layer_seeps": "no",
                "dip_into_pit": "no layers",
                "boring_log": "no",
            },
            {
                "label": "clay",
                "layer_top": "8 ft",
                "layer_bottom": "16 ft",
                "soil_group": "clay",
                "strength_test": "penetrometer or vane",
                "unconfined_strength": "2.2 tsf",
                "fissured": "no",
                "dug_before": "no",
                "layer_seeps": "no",
                "dip_into_pit": "no layers",
                "boring_log": "yes",
                "unified_soil_group": "CL",
                "blow_count": "18",
                "consistency": "very stiff",
            },
            {
                "label": "shale",
                "layer_top": "16 ft",
                "layer_bottom": "18 ft",
                "soil_group": "dry unstable rock",
                "fissured": "yes",
                "dug_before": "no",
                "layer_seeps": "no",
                "dip_into_pit": "no layers",
                "boring_log": "yes",
                "unified_soil_group": "CL",
                "blow_count": "70",
                "consistency": "hard",
            },
        ],
        "releases": [
            {
                "label": "R1",
                "released_finding": "FOOT-1",
                "released_place": "P1 to P5",
                **ENGINEER,
                "release_note": "Letter of 20 Nov 2026: pits one at a time, none wider than 30 in.",
            },
            {
                "label": "R1a",
                "released_finding": "PIER-2",
                "released_place": "P1 to P5",
                **ENGINEER,
                "release_note": "Letter of 20 Nov 2026: the cross walls hold the ends down.",
            },
        ],
    }


def conduct() -> dict[str, str]:
    """How a careful crew works: permits, people, machines, watching the building."""
    return {
        "building_permit": "held",
        "pier_drawings": "signed, on site",
        "plan_changed_since_survey": "no",
        "work_in_public_way": "none",
        "gas_on_the_property": "none",
        "gas_trouble_lately": "no",
        "power_to_the_building": "overhead",
        "shut_offs_known": "yes",
        "pits_dug_with": "hand tools",
        "frost": "none expected",
        "heavy_rain_expected": "no",
        "hot_days_expected": "no",
        "plumbing_leak": "none found",
        "crew_understands_warnings": "yes",
        "minors_in_crew": "no",
        "emergency_plan_told": "yes",
        "first_aider_on_site": "yes",
        "occupants": "told and kept away",
        "traffic_near_pits": "no",
        "machines_beside_pits": "none come near",
        "people_under_loads": "no",
        "hydraulic_hoses": "looked at, none damaged",
        "people_clear_of_drive": "yes",
        "hot_work": "none",
        "planned_lift": "0 in",
        "levels_taken": "yes",
        "crack_gauges_set": "yes",
        "movement_that_stops_the_work": "0.25 in",
        "work_lit": "yes",
        "asbestos": "nothing that could hold it",
        "lead_paint_disturbed": "no",
    }


def equipment() -> dict[str, str]:
    """Tube, bracket and cylinder that the invented firm works with."""
    return {
        "tube_outside_diameter": "2.875 in",
        "tube_wall_thickness": "0.217 in",
        "tube_yield_strength": "50000 psi",
        "section_length": "36 in",
        "drive_stand_height": "42 in",
        "planned_drive_load": "17600 lb",
        "pier_capacity_rated": "yes",
        "rated_pier_capacity": "30000 lb",
        "cylinder_effective_area": "5.16 in2",
        "cylinder_pressure_allowed": "10000 psi",
        "bracket_eccentricity": "5 in",
        "anchors_at_a_bracket": "2",
        "anchor_diameter": "0.5 in",
        "anchor_embedment": "4 in",
        "spanning_tube_at_hand": "yes",
        "spanning_tube_width": "4 in",
        "spanning_tube_depth": "6 in",
        "spanning_tube_wall": "0.25 in",
        "days_for_bed_to_cure": "1 day",
        "design_life_in_years": "50",
        "corrosion_tests": "made",
        "soil_resistivity": "4500 ohm-cm",
        "soil_acidity": "7 pH",
        "soil_chloride": "30 ppm",
        "soil_sulfate": "60 ppm",
    }


def wall(label: str, length: str, *, floor: str, roof: str, **more: str) -> dict[str, str]:
    """A sound poured wall on a plain concrete footing, one storey."""
    return {
        "label": label,
        "wall_length": length,
        "turn_at_right_end": "90 deg",
        "wall_material": "poured concrete",
        "wall_thickness": "8 in",
        "wall_height": "4 ft",
        "storeys": "1",
        "wall_cladding": "light siding or stucco",
        "floor_span": floor,
        "roof_span": roof,
        "carried_from": "0 ft",
        "carried_to": length,
        "wall_cracks": "hairline",
        "wall_out_of_plumb": "0 in",
        "framing_on_wall": "sound",
        "age_of_foundation": "28 days or older",
        "wall_held_at_top": "yes",
        "footing_kind": "concrete",
        "footing_thickness": "12 in",
        "footing_width": "20 in",
        "footing_projection": "6 in",
        "footing_reinforcement": "no bars found",
        "footing_cracks": "none",
        "footing_honeycomb": "none",
        "concrete_strength": "2500 psi",
        "footing_face_can_be_prepared": "yes",
        **more,
    }


def pier(label: str, at: str, station: str, **more: str) -> dict[str, str]:
    """A pier whose pit is dug from outside, its sides held by shoring that an engineer sized."""
    return {
        "label": label,
        "wall_of_pier": at,
        "station": station,
        "pit_reached_from": "outside",
        "footing_depth": "4 ft",
        "pit_depth": "5 ft 3 in",
        "pit_length": "30 in",
        "pit_width": "36 in",
        "working_room": "4 ft",
        "side_protection": "hydraulic shoring",
        "protection_design": "engineer's design",
        "protection_in_place_before_entry": "yes",
        "protection_covers": "the whole pit",
        "height_of_protection": "5 ft 3 in",
        "dug_below_protection": "0 in",
        "protection_undamaged": "yes",
        "cave_in_signs": "no",
        "seepage_at_pit": "no",
        "clear_ground_out_from_wall": "20 ft",
        "slope_of_ground_at_pit": "flatter than 3H:1V",
        "backfill_beside_pit": "no",
        "spoil_distance": "4 ft",
        "ladder_in_pit": "yes",
        "distance_to_ladder": "4 ft",
        "pit_hidden_from_view": "no",
        "over_the_boundary": "inside the property",
        "undermines_footing": "yes",
        "lines_through_footing": "none",
        "meter_at_pit": "no",
        "earth_rod_at_pit": "no",
        "footing_drain_at_pit": "none",
        "opening_above_pit": "none",
        "heavy_load_over_pit": "no",
        "footing_step_near": "no",
        "headroom_at_pier": "50 ft",
        **more,
    }


def _no_go() -> dict[str, Any]:
    """The ticket has run out, one pit is open-sided with its spoil on the edge."""
    site = careful_house()
    site["site"] |= {
        "job_name": "2026-118 Brine Street",
        "address": "3 Brine Street, Quillmere",
        "ticket_number": "QM-26-33204",
        "ticket_start": "2026-11-06",
        "ticket_end": "2026-11-27",
        "engine_place": "outside, by an opening",
        "engine_power": "5 hp",
        "room_volume": "8000 ft3",
        "air_changes_an_hour": "1",
    }
    site["piers"][1] |= {
        "side_protection": "none", "spoil_distance": "1 ft", "backfill_beside_pit": "yes",
    }  # fmt: skip
    for key in HELD:
        del site["piers"][1][key]
    site["site"] |= {"gas_on_the_property": "gas from the street", "gas_piping_traced": "yes"}
    site["utilities"][0] |= {"label": "gas service", "utility_kind": "gas",
                             "utility_start_station": "14 ft", "utility_end_station": "14 ft",
                             "locate_marks": "faded"}  # fmt: skip
    return site


def _hold() -> dict[str, Any]:
    """A first visit: nobody has looked at the footing, and the lists are not closed."""
    site = careful_house()
    site["site"] |= {
        "job_name": "2026-121 Tallow Court",
        "address": "27 Tallow Court, Quillmere",
        "all_utilities_listed": "not known",
        "test_hole_depth": "3 ft",
    }
    for one in site["walls"]:
        one["footing_thickness"] = one["footing_reinforcement"] = "not known"
        one["concrete_strength"] = "not known"
    site["piers"][4] |= {"footing_depth": "not known"}
    return site


def _engineer() -> dict[str, Any]:
    """A rubble footing, and the neighbour's house stands within reach of two pits."""
    site = careful_house()
    site["site"] |= {
        "job_name": "2026-125 Weir Cottage",
        "address": "1 Weir Walk, Tarn Ferry",
        "town": "Tarn Ferry",
        "all_neighbours_listed": "yes",
    }
    site["walls"][0] |= {
        "wall_material": "rubble",
        "wall_thickness": "18 in",
        "footing_kind": "rubble",
        "footing_width": "24 in",
        "wall_cracks": "up to 1/4 in",
    }
    site["walls"][0]["mortar_joints"] = "soft or missing"
    for key in OF_CONCRETE:
        del site["walls"][0][key]
    site["neighbours"].append(
        {
            "label": "No. 3 Weir Walk",
            "neighbour_kind": "house",
            "wall_of_neighbour": "East",
            "neighbour_start_station": "0 ft",
            "neighbour_end_station": "26 ft",
            "neighbour_offset": "6 ft",
            "neighbour_footing_depth": "2 ft",
            "other_owner": "yes",
            "notice_date": "2026-11-16",
        }
    )
    site["releases"] = []
    return site


def _crawl_space() -> dict[str, Any]:
    """Pits reached through a crawl space, with an engine below the floor."""
    site = careful_house()
    site["site"] |= {
        "job_name": "2026-130 Sedge Row",
        "address": "8 Sedge Row, Tarn Ferry",
        "town": "Tarn Ferry",
        "inside_work": "crawl space",
        "route_width": "22 in",
        "route_headroom": "40 in",
        "way_out_kept_clear": "yes",
        "confined_space_finding": "not looked at",
        "narrow_way_in": "yes",
        "meant_for_people_to_stay": "no",
        "space_hazards": "not known",
        "engine_power": "5 hp",
        "room_volume": "3000 ft3",
        "air_changes_an_hour": "1",
        "harmful_material_inside": "not known",
        "carbon_monoxide_alarm": "no",
        "engine_place": "inside or in a pit",
        "stairs_sound": "yes",
        "floor_under_equipment": "on the ground",
        "dust_drawn_out": "no",
        "loose_wires_inside": "not known",
        "sewage_inside": "none",
        "mould_inside": "yes",
    }
    for one in site["piers"][:3]:
        one |= {"pit_reached_from": "crawl space", "headroom_at_pier": "40 in"}
    return site


DEMO = {
    "01-fennel-house": careful_house,
    "02-brine-street": _no_go,
    "03-tallow-court": _hold,
    "04-weir-cottage": _engineer,
    "05-sedge-row": _crawl_space,
}


def survey_of(document: dict[str, Any], name: str = "site") -> Survey:
    """A survey of a document that must have no problems."""
    survey, problems = read_survey(read_document(json.dumps(document), f"{name}.json"))
    assert not problems, "\n".join(str(p) for p in problems)
    return survey


def with_changes(document: dict[str, Any], **site: object) -> dict[str, Any]:
    """A copy of a document with other answers of the site."""
    changed = copy.deepcopy(document)
    changed["site"] |= site
    return changed


def write_workbooks(folder: Path) -> None:
    """Write every demo site as a filled workbook."""
    folder.mkdir(exist_ok=True)
    for name, make in DEMO.items():
        target = folder / f"{name}.xlsx"
        target.unlink(missing_ok=True)
        write_form(target, survey_of(make(), name))


if __name__ == "__main__":
    write_workbooks(FOLDER)
