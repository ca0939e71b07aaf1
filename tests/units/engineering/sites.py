"""A survey to work out, with any answer changed: read through the same door as a form."""

from __future__ import annotations

from survey.answers import RawRow, RawSurvey, read_survey
from survey.model import Survey
from survey.vocabulary import VOCABULARY, Subject

SITE = {
    "address": "1 Hill Road", "competent_person": "A. Smith", "emergency_contact": "911",
    "locate_request_made": "yes", "ticket_number": "T-100",
    "survey_date": "2026-10-01", "crew_date": "2026-12-01", "walls_listed": "all the way round",
    "all_utilities_listed": "yes", "all_neighbours_listed": "yes", "all_soil_layers_listed": "yes",
    "tolerance_zone": 24, "ground_vibrated": "no", "groundwater_met": "no",
    "test_hole_depth": "12 ft",
    "ground_snow_load": 30, "clear_spacing_of_open_pits": "6 ft", "bracket_plate_width": 10,
    "bracket_plate_depth": 8, "state": "KS", "ticket_start": "2026-11-25",
    "roof_exposure": "partially exposed", "roof_heating": "heated", "attic_used_for_storage": "no",
    "overhead_lines_near": "yes", "overhead_voltage": 12, "overhead_line_distance": 60,
    "equipment_reach": 20, "water_removal": "pump watched by the competent person",
    "pump_capacity": 50, "dust_control": "water or a shroud on the tool",
    "cutting_tool": "chipping hammer", "cutting_time_in_a_day": 3, "open_a_day_at_most": "no",
    "heaviest_load_near_a_pit": 0,
    "days_for_a_round_of_pits": 2, "most_pits_open_together": 3, "crew_size": 3,
    "inside_work": "crawl space", "narrow_way_in": "yes", "meant_for_people_to_stay": "no",
    "space_hazards": "none found", "engine_place": "outside, by an opening", "engine_power": 5,
    "room_volume": 8000, "air_changes_an_hour": 1,
    "tube_outside_diameter": 2.875, "tube_wall_thickness": 0.217, "tube_yield_strength": 50000,
    "section_length": 36, "drive_stand_height": 42, "planned_drive_load": 15000,
    "pier_capacity_rated": "yes", "rated_pier_capacity": 30000,
    "cylinder_effective_area": 5.16, "cylinder_pressure_allowed": 10000,
    "bracket_eccentricity": 3, "anchors_at_a_bracket": 2, "anchor_diameter": 0.5,
    "anchor_embedment": 4, "spanning_tube_at_hand": "yes", "spanning_tube_width": 4,
    "spanning_tube_depth": 6, "spanning_tube_wall": 0.25, "days_for_bed_to_cure": 1,
    "design_life_in_years": 50, "corrosion_tests": "made", "soil_resistivity": 4500,
    "soil_acidity": 7, "soil_chloride": 30, "soil_sulfate": 60,
}  # fmt: skip
WALL = {
    "turn_at_right_end": 90, "wall_material": "poured concrete", "wall_thickness": 8,
    "carried_from": 0, "wall_height": "7 ft", "storeys": 2,
    "wall_cladding": "light siding or stucco",
    "floor_span": 14, "roof_span": 28, "footing_kind": "concrete", "footing_thickness": 10,
    "footing_width": 20, "footing_projection": 6, "concrete_strength": 2500,
    "footing_reinforcement": "bars found", "bottom_bar_size": "#4", "bottom_bars": 2,
    "bottom_bar_surface": "deformed",
    "bottom_bar_cover": 3, "bar_yield_strength": 40000,
}  # fmt: skip
PIER = {
    "wall_of_pier": "front", "station": 20, "pit_reached_from": "outside", "footing_depth": "3 ft",
    "pit_depth": "5 ft", "pit_length": 36, "pit_width": 36, "side_protection": "sloped",
    "slope_of_sides": 1, "clear_ground_out_from_wall": 30, "spoil_distance": 2,
    "heavy_load_over_pit": "yes", "point_load_at_pier": 2000, "footing_step_near": "yes",
    "distance_to_step": 6, "step_height": 16, "headroom_at_pier": 120,
    "cave_in_signs": "no",
}  # fmt: skip
UTILITY = {
    "wall_of_utility": "front", "utility_start_station": 0, "utility_start_offset": 12,
    "utility_end_station": 40, "utility_end_offset": 12, "utility_diameter": 4,
    "depth_to_utility": 3, "located_by": "traced",
}  # fmt: skip
NEIGHBOUR = {
    "wall_of_neighbour": "front", "neighbour_start_station": 0, "neighbour_end_station": 40,
    "neighbour_offset": 15, "neighbour_footing_depth": 2, "other_owner": "yes",
    "notice_date": "2026-11-01",
}  # fmt: skip
LAYER = {
    "layer_top": 0, "layer_bottom": 12, "soil_group": "clay", "strength_test": "both",
    "unconfined_strength": 1.0,
    "thumb_test": "indented with effort", "fissured": "no", "dug_before": "no",
    "layer_seeps": "no", "dip_into_pit": "no layers", "boring_log": "yes",
    "unified_soil_group": "CL", "blow_count": 12, "consistency": "stiff",
}  # fmt: skip
# A group whose strength is not asked for.
UNTESTED = dict.fromkeys(("strength_test", "unconfined_strength", "thumb_test"))
HOUSE = (("front", 40), ("right", 30), ("back", 40), ("left", 30))


def row(subject, label, answers, vocabulary=VOCABULARY):
    """A raw row; the cell of each answer is named after its key; what does not apply is blank."""
    cells, gone = {}, set()
    for word in vocabulary.asked_of(subject):
        when = word.asks_when
        if when and (when.word in gone or cells[when.word][0] not in (None, *when.choices)):
            gone.add(word.name)
        answer = None if word.name in gone else answers.get(word.key)
        cells[word.name] = (answer, f"{label}.{word.key}")
    return RawRow(label, label, cells)


def survey(
    *, site=None, walls=None, piers=None, utilities=None, neighbours=None, layers=None,
    vocabulary=VOCABULARY,
) -> Survey:  # fmt: skip
    """A sound survey, each list by label with the answers that differ from the usual."""
    walls = {label: {"wall_length": length} for label, length in HOUSE} if walls is None else walls
    lists = {
        Subject.WALL: (
            WALL,
            {
                label: {"carried_to": changed.get("wall_length"), **changed}
                for label, changed in walls.items()
            },
        ),
        Subject.PIER: (PIER, {"P1": {}} if piers is None else piers),
        Subject.UTILITY: (UTILITY, {"gas": {}} if utilities is None else utilities),
        Subject.NEIGHBOUR: (NEIGHBOUR, {"shed": {}} if neighbours is None else neighbours),
        Subject.SOIL_LAYER: (LAYER, {"clay": {}} if layers is None else layers),
    }
    raw = RawSurvey(
        "sound",
        row(Subject.SITE, "site", {**SITE, **({} if site is None else site)}, vocabulary),
        {
            subject: [
                row(subject, label, {**usual, **changed}, vocabulary)
                for label, changed in rows.items()
            ]
            for subject, (usual, rows) in lists.items()
        },
    )
    read, problems = read_survey(raw, vocabulary)
    assert not problems, problems
    return read


def busy_survey() -> Survey:
    """30 piers on 4 walls, 8 utilities, 4 neighbours, 3 layers, everything answered."""
    names = [label for label, _ in HOUSE]
    return survey(
        walls={label: {"wall_length": length} for label, length in HOUSE},
        piers={
            f"P{i}": {"wall_of_pier": names[i % 4], "station": 2 + 3.5 * (i // 4)}
            for i in range(30)
        },
        utilities={
            f"U{i}": {"wall_of_utility": names[i % 4], "utility_start_offset": 4 + i}
            for i in range(8)
        },
        neighbours={
            f"N{i}": {"wall_of_neighbour": names[i], "neighbour_offset": 8 + 3 * i}
            for i in range(4)
        },
        layers={
            "top": {"layer_bottom": 4},
            "middle": {"layer_top": 4, "layer_bottom": 8},
            "deep": {"layer_top": 8, "soil_group": "silt", **UNTESTED},
        },
    )  # fmt: skip
