"""For each rule of the shipped book that no whole survey meets: a smallest change that does."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tests.whole_surveys import (
    BARS,
    BASEMENT,
    CRAWL_SPACE,
    EVERY,
    FROM_BASEMENT,
    FROM_CRAWL_SPACE,
    GAS_ON_SITE,
    SAND,
    SLOPED,
    Change,
    beside,
    line,
)


@dataclass(frozen=True, slots=True)
class Smallest:
    """A smallest change of the careful house that meets one rule, and why it does."""

    why: str
    change: Change


def _site(**answers: str | None) -> Change:
    return Change(site=answers)


def _pier(**answers: str | None) -> Change:
    """Other answers of P2, in the middle of the south wall."""
    return Change(piers={"P2": answers})


def _wall(**answers: str | None) -> Change:
    """Other answers of the south wall, where P1 to P3 stand."""
    return Change(walls={"South": answers})


def _line(**more: str) -> Change:
    """A line that crosses pit P2."""
    kind = more.pop("utility_kind", "water")
    return Change(added={"utilities": [line("other line", kind, "13 ft", **more)]})


def _beside(kind: str, offset: str, footing: str, **more: str) -> Change:
    return Change(added={"neighbours": [beside("next door", kind, offset, footing, **more)]})


def _inside(**answers: str | None) -> Change:
    return Change(site={**BASEMENT, **answers}, piers={EVERY: FROM_BASEMENT})


def _crawling(**answers: str | None) -> Change:
    return Change(site={**CRAWL_SPACE, **answers}, piers={EVERY: FROM_CRAWL_SPACE})


def _first_layer(**answers: str | None) -> Change:
    return Change(soil_layers={"fill beside footing": answers})


def _under(group: str) -> Change:
    """Sand from 3 ft down, under a layer that does not run."""
    above = {**SAND, "label": "above", "layer_bottom": "3 ft", "soil_group": group}
    if group == "clay":
        above |= {"strength_test": "thumb", "thumb_test": "indented with effort"}
    layers = [above, {**SAND, "layer_top": "3 ft"}]
    return Change(cleared=("soil_layers",), added={"soil_layers": layers})


# For each rule that no survey above meets.
MEETS: Mapping[str, Smallest] = {
    "ACCESS-1": Smallest(
        "A basement pit on a site that is said to have no inside work.",
        Change(piers={EVERY: FROM_BASEMENT}),
    ),
    "ACCESS-2": Smallest(
        "A pit in the crawl space on a site that is said to have a basement.",
        Change(site=BASEMENT, piers={EVERY: FROM_CRAWL_SPACE}),
    ),
    "ACCESS-41": Smallest("A pit 16 in wide.", _pier(pit_width="16 in")),
    "ACCESS-6": Smallest("A tank 20 in from the pit.", _pier(working_room="20 in")),
    "ACCESS-9": Smallest(
        "The crawl space was found a permit space.",
        _crawling(confined_space_finding="permit space"),
    ),
    "ACCESS-11": Smallest(
        "Old batteries lie in the basement.", _inside(harmful_material_inside="yes")
    ),
    "ACCESS-20": Smallest(
        "The answers about the crawl space make it a confined space; the finding does not.",
        _crawling(confined_space_finding="not a confined space"),
    ),
    "ACCESS-26": Smallest("Sewage lies in the basement.", _inside(sewage_inside="sewage")),
    "ACCESS-27": Smallest(
        "Droppings lie in the basement.", _inside(sewage_inside="droppings of animals")
    ),
    "ACCESS-28": Smallest("Mould on the basement wall.", _inside(mould_inside="yes")),
    "ACCESS-29": Smallest("Asbestos was found.", _site(asbestos="found")),
    "ACCESS-31": Smallest("Old paint is scraped.", _site(lead_paint_disturbed="yes")),
    "ACCESS-32": Smallest("A dark pit.", _site(work_lit="no")),
    "ACCESS-34": Smallest("A way in 20 in high.", _crawling(route_headroom="20 in")),
    "ACCESS-35": Smallest("A fan in a house with gas.", _inside(**GAS_ON_SITE)),
    "ACCESS-36": Smallest(
        "A way in 44 in high that is said not to be low.", _crawling(narrow_way_in="no")
    ),
    "ACCESS-38": Smallest(
        "Made to stay in, and somebody could be trapped.",
        _crawling(
            meant_for_people_to_stay="yes",
            space_hazards="could be engulfed or trapped",
            confined_space_finding="not a confined space",
        ),
    ),
    "ACCESS-39": Smallest(
        "Made to stay in, by a hatch.", _crawling(meant_for_people_to_stay="yes")
    ),
    "ACCESS-40": Smallest(
        "A meter at a pit, power overhead, and no wires near.", _pier(meter_at_pit="yes")
    ),
    "ACCESS-37": Smallest(
        "The wires to the house hang 12 ft from where a ladder of 6 ft stands.",
        _site(
            overhead_lines_near="yes",
            overhead_voltage="0.24 kV",
            overhead_line_distance="12 ft",
            equipment_reach="6 ft",
        ),
    ),
    "CREW-4": Smallest("Two people in a confined space.", _crawling(crew_size="2")),
    "CREW-5": Smallest("Somebody was told nothing.", _site(crew_understands_warnings="no")),
    "CREW-8": Smallest("No first aid on site.", _site(first_aider_on_site="no")),
    "CREW-10": Smallest("The people of the house know nothing.", _site(occupants="not told")),
    "CREW-11": Smallest("A street beside the pits.", _site(traffic_near_pits="yes")),
    "CREW-12": Smallest(
        "One of two people watches for fire.",
        _site(crew_size="2", hot_work="outside, with a fire watch"),
    ),
    "CREW-13": Smallest("Pits in the heat of summer.", _site(hot_days_expected="yes")),
    "DIG-11": Smallest(
        "Hydraulic shoring by Appendix D beside a footing.",
        _pier(protection_design="appendix table"),
    ),
    "DIG-12": Smallest(
        "No appendix has a table for shields.",
        _pier(side_protection="shield", protection_design="appendix table"),
    ),
    "DIG-14": Smallest("A pit of 21 ft.", _pier(pit_depth="21 ft")),
    "DIG-25": Smallest(
        "A fence 30 in from the wall, a pit 36 in wide.", _pier(clear_ground_out_from_wall="30 in")
    ),
    "DIG-27": Smallest(
        "Everything is kept back, and yet 500 lb come near.",
        _site(heaviest_load_near_a_pit="500 lb"),
    ),
    "DIG-28": Smallest(
        "Soft clay under a pit of 9 ft.",
        Change(
            piers={"P2": {"pit_depth": "9 ft"}},
            soil_layers={
                EVERY: {
                    "soil_group": "clay",
                    "strength_test": "both",
                    "thumb_test": "easily pushed in",
                    "unconfined_strength": "0.2 tsf",
                },
            },
        ),
    ),
    "DIG-30": Smallest(
        "Shoring that stands up 6 in above the upright part.",
        Change(
            piers={
                "P2": {
                    **SLOPED,
                    "foot_of_the_slope": "upright part held",
                    "support_above_upright_part": "6 in",
                }
            }
        ),
    ),
    "DIG-31": Smallest(
        "Shoring at the foot of a slope.",
        Change(
            piers={
                "P2": {
                    **SLOPED,
                    "foot_of_the_slope": "upright part held",
                    "support_above_upright_part": "20 in",
                }
            }
        ),
    ),
    "DIG-36": Smallest(
        "Shoring 1 ft above the floor.",
        _pier(dug_below_protection="12 in", height_of_protection="4 ft 3 in"),
    ),
    "DIG-37": Smallest(
        "Shoring 1 ft above a floor that seeps.",
        Change(
            site={
                "water_removal": "pump watched by the competent person",
                "pump_capacity": "40 gpm",
            },
            piers={
                "P2": {
                    "dug_below_protection": "12 in",
                    "height_of_protection": "4 ft 3 in",
                    "seepage_at_pit": "yes",
                }
            },
        ),
    ),
    "DIG-41": Smallest("A layer that seeps.", _first_layer(layer_seeps="yes")),
    "DIG-42": Smallest("Sand under clay in the side of the pit.", _under("clay")),
    "DIG-45": Smallest(
        "A pit of 7 ft behind a hedge.",
        _pier(pit_depth="7 ft", height_of_protection="7 ft", pit_hidden_from_view="yes"),
    ),
    "DIG-47": Smallest("Sand under a hard crust in the side of the pit.", _under("cemented soil")),
    "DIG-48": Smallest(
        "A shield at the foot of a slope.",
        Change(
            piers={
                "P2": {
                    **SLOPED,
                    "foot_of_the_slope": "upright part held",
                    "support_above_upright_part": "20 in",
                }
            }
        ),
    ),
    "DIG-53": Smallest("A pit on a hillside.", _pier(slope_of_ground_at_pit="3H:1V or steeper")),
    "FOOT-7": Smallest("Bars in a footing of 5 in.", _wall(footing_thickness="5 in", **BARS)),
    "FOOT-8": Smallest("An open crack in the footing.", _wall(footing_cracks="open")),
    "FOOT-9": Smallest(
        "A crack through the wall, its sides displaced.",
        _wall(wall_cracks="wider than 1/4 in or displaced"),
    ),
    "FOOT-15": Smallest(
        "Footing of 8 in under three storeys over a long pit.",
        Change(
            walls={"South": {"footing_thickness": "8 in", "storeys": "3"}},
            piers={"P2": {"pit_length": "60 in"}},
        ),
    ),
    "FOOT-16": Smallest(
        "A bracket plate of 4 in by 2 in.",
        _site(bracket_plate_width="4 in", bracket_plate_depth="2 in"),
    ),
    "FOOT-20": Smallest(
        "A pit 1 ft from the corner.", Change(piers={"P1": {"station": "2 ft 3 in"}})
    ),
    "FOOT-21": Smallest("A pit round the corner.", Change(piers={"P1": {"station": "1 ft"}})),
    "FOOT-22": Smallest("No marker beside the wall.", _site(movement_marker_set="no")),
    "FOOT-23": Smallest(
        "One pier carries the whole south wall.",
        Change(only=("P2",), walls={"South": {"carried_from": "0 ft", "carried_to": "40 ft"}}),
    ),
    "FOOT-25": Smallest(
        "Block on a footing that does not span.",
        _wall(wall_material="concrete block", mortar_joints="sound"),
    ),
    "GEAR-2": Smallest(
        "Dug by a machine that is said to be nowhere near.", _site(pits_dug_with="machine")
    ),
    "GEAR-3": Smallest(
        "Dug by vacuum, and no engine on site.",
        _site(pits_dug_with="vacuum", engine_place="no engine"),
    ),
    "GEAR-6": Smallest("Nobody looked at the hoses.", _site(hydraulic_hoses="not looked at")),
    "GEAR-13": Smallest(
        "Dug by a machine that is kept off and weighs nothing.",
        _site(
            pits_dug_with="machine",
            machines_beside_pits="kept off by barrier or spotter",
            heaviest_load_near_a_pit="0 lb",
        ),
    ),
    "GEAR-10": Smallest("Nobody watches for fire.", _site(hot_work="outside, no fire watch")),
    "GEAR-11": Smallest(
        "A torch outside on a site with gas.",
        _site(hot_work="outside, with a fire watch", **GAS_ON_SITE),
    ),
    "FOOT-27": Smallest("Gravel pockets in the footing.", _wall(footing_honeycomb="shallow")),
    "FOOT-30": Smallest(
        "A wall that was built three weeks ago.", _wall(age_of_foundation="younger than 28 days")
    ),
    "FOOT-33": Smallest("A garage door over the pit.", _pier(opening_above_pit="4 ft or wider")),
    "FOOT-34": Smallest("A window over the pit.", _pier(opening_above_pit="narrower than 4 ft")),
    "FOOT-36": Smallest(
        "Nobody looked for stressed cables in the slab.",
        _wall(
            footing_kind="thickened slab edge", wall_height="0 ft", cables_in_slab="nobody looked"
        ),
    ),
    "FOOT-37": Smallest("A stem wall of 1 ft over a plain footing.", _wall(wall_height="1 ft")),
    "FOOT-38": Smallest(
        "A pit 3 ft below the footing.", _pier(pit_depth="7 ft", height_of_protection="7 ft")
    ),
    "FOOT-39": Smallest(
        "Several pits open together along a basement wall.", _inside(most_pits_open_together="3")
    ),
    "LINE-11": Smallest("A pipe that nobody can name.", _line(utility_kind="not identified")),
    "LINE-16": Smallest(
        "A drain that was seen below the floor of the pit.",
        _line(utility_kind="sewer", depth_to_utility="7 ft"),
    ),
    "LINE-20": Smallest("A septic tank in the pit.", _line(utility_kind="septic")),
    "LINE-22": Smallest(
        "A gas pipe 8 ft away by surface signs, whose owner can't say where it lies.",
        Change(
            site=GAS_ON_SITE,
            added={
                "utilities": [
                    line(
                        "gas service",
                        "gas",
                        "30 ft",
                        located_by="surface signs",
                        **{"owner's_answer": "cannot give the exact place"},
                    ),
                ]
            },
        ),
    ),
    "LINE-25": Smallest("A ticket that holds for half a year.", _site(ticket_end="2027-05-30")),
    "LINE-28": Smallest(
        "A gas pipe on a property that is said to have no gas.",
        Change(added={"utilities": [line("gas service", "gas", "38 ft")]}),
    ),
    "LINE-32": Smallest(
        "A water pipe that was once pulled.",
        Change(utilities={"water service": {"ever_struck": "yes"}}),
    ),
    "LINE-34": Smallest(
        "A bare cable beside the pit.",
        _line(utility_kind="electric", how_the_cable_lies="bare in the ground"),
    ),
    "LINE-38": Smallest(
        "Concrete is cut beside the water pipe.",
        Change(utilities={"water service": {"chipping_beside_line": "yes"}}),
    ),
    "LINE-39": Smallest(
        "Concrete is cut beside a line, on a site where none is cut.",
        Change(
            site={
                "dust_control": "no concrete is cut or drilled",
                "cutting_tool": None,
                "cutting_time_in_a_day": None,
            },
            utilities={"water service": {"chipping_beside_line": "yes"}},
        ),
    ),
    "LINE-41": Smallest(
        "A conduit in the footing that is dead.", _pier(lines_through_footing="dead or moved")
    ),
    "LINE-42": Smallest("A gas meter above the pit.", _pier(meter_at_pit="yes")),
    "LINE-43": Smallest("An earth rod at the pit.", _pier(earth_rod_at_pit="yes")),
    "LINE-45": Smallest("A sprinkler pipe beside the pit.", _line(utility_kind="irrigation")),
    "LINE-46": Smallest("A drain through the pit.", _line(utility_kind="sewer")),
    "LINE-47": Smallest(
        "A telephone line beside the pit.", _line(utility_kind="telephone or data")
    ),
    "LINE-50": Smallest(
        "Power comes in the ground, and no cable is listed.",
        _site(power_to_the_building="underground"),
    ),
    "LINE-52": Smallest("A zone of 6 in: it was mistyped.", _site(tolerance_zone="6 in")),
    "LINE-53": Smallest("A live steam line 6 in from a pit.", _line(utility_kind="steam")),
    "LINE-54": Smallest("A complete list without a single line.", Change(cleared=("utilities",))),
    "LINE-51": Smallest(
        "A drain 3 ft from a pit that is said to have no trench beside it.",
        Change(added={"utilities": [line("other line", "sewer", "10 ft")]}),
    ),
    "NEAR-2": Smallest(
        "A house whose footing weak ground carries.",
        Change(
            cleared=("soil_layers",),
            added={
                "soil_layers": [SAND],
                "neighbours": [beside("next door", "house", "8 ft", "1 ft")],
            },
        ),
    ),
    "NEAR-9": Smallest(
        "Pumping in sand with a house next door.",
        Change(
            site={
                "groundwater_met": "yes",
                "depth_to_groundwater": "3 ft",
                "pump_capacity": "40 gpm",
                "water_removal": "pump watched by the competent person",
            },
            cleared=("soil_layers",),
            added={
                "soil_layers": [SAND],
                "neighbours": [beside("next door", "house", "12 ft", "1 ft")],
            },
        ),
    ),
    "NEAR-11": Smallest(
        "A step of 3 ft in the footing, 1 ft from the pit.",
        _pier(footing_step_near="yes", distance_to_step="1 ft", step_height="36 in"),
    ),
    "NEAR-12": Smallest("A tree 4 ft from the pits.", _beside("tree", "7 ft", "0 ft")),
    "NEAR-13": Smallest("A tree in the pits.", _beside("tree", "2 ft", "0 ft")),
    "NEAR-15": Smallest(
        "A pit across the boundary, as agreed.",
        _pier(over_the_boundary="over it, agreed in writing"),
    ),
    "NEAR-17": Smallest(
        "Spoil in the street, and no permit.", _site(work_in_public_way="no permit")
    ),
    "NEAR-18": Smallest(
        "A fence in the street, by permit.", _site(work_in_public_way="permit held")
    ),
    "NEAR-19": Smallest("Steps beside the pits.", _beside("light structure", "5 ft", "0 ft")),
    "PERMIT-3": Smallest(
        "The drawings are in the office.", _site(pier_drawings="signed, not on site")
    ),
    "PIER-4": Smallest(
        "Nobody has rated tube and bracket.",
        _site(pier_capacity_rated="no", rated_pier_capacity=None),
    ),
    "PIER-5": Smallest(
        "Rated for less than it is driven with.", _site(rated_pier_capacity="15000 lb")
    ),
    "PIER-6": Smallest(
        "A slender tube that nobody has rated.",
        _site(pier_capacity_rated="no", rated_pier_capacity=None, tube_wall_thickness="0.1 in"),
    ),
    "PIER-7": Smallest(
        "A thin tube that nobody has rated, and what fifty years leave of it.",
        _site(pier_capacity_rated="no", rated_pier_capacity=None, tube_wall_thickness="0.15 in"),
    ),
    "PIER-8": Smallest("Ground of 500 ohm-cm.", _site(soil_resistivity="500 ohm-cm")),
    "PIER-9": Smallest(
        "Nobody has tested the ground for what eats steel.",
        _site(
            corrosion_tests="none made",
            soil_resistivity=None,
            soil_acidity=None,
            soil_chloride=None,
            soil_sulfate=None,
        ),
    ),
    "PIER-11": Smallest(
        "A tube wall of 0.05 in that is said to bear 30,000 lb.",
        _site(tube_wall_thickness="0.05 in"),
    ),
    "PIER-10": Smallest(
        "A drive stand of 10 ft under a deck of 8 ft.",
        Change(site={"drive_stand_height": "120 in"}, piers={"P2": {"headroom_at_pier": "8 ft"}}),
    ),
    "SEAT-12": Smallest(
        "A footing whose face can't be cut, and whose anchors do not hold.",
        _wall(footing_face_can_be_prepared="no"),
    ),
    "SOIL-1": Smallest(
        "Hard clay beside a footing.",
        _first_layer(
            unconfined_strength="2 tsf",
            thumb_test="indented only with great effort",
            dug_before="no",
        ),
    ),
    "SOIL-4": Smallest(
        "Nobody has classed the ground.", _site(soil_classified_by_competent_person="no")
    ),
    "SOIL-5": Smallest(
        "The tests say clay, the log says sand.",
        _first_layer(boring_log="yes", unified_soil_group="SP", blow_count="8"),
    ),
    "SOIL-6": Smallest(
        "An old sewer trench beside a pit in silt.",
        Change(
            piers={"P2": {"backfill_beside_pit": "yes"}},
            cleared=("soil_layers",),
            added={"soil_layers": [{**SAND, "label": "silt", "soil_group": "silt"}]},
        ),
    ),
    "SOIL-9": Smallest("A railway behind the house.", _site(ground_vibrated="yes")),
    "SURVEY-1": Smallest("Walked two months before.", _site(survey_date="2026-10-05")),
    "SURVEY-2": Smallest("Walked after the crew comes.", _site(survey_date="2026-12-09")),
    "SURVEY-3": Smallest("A pier beyond the corner.", Change(piers={"P5": {"station": "27 ft"}})),
    "SURVEY-4": Smallest("A footing thicker than it lies deep.", _wall(footing_thickness="50 in")),
    "SURVEY-5": Smallest(
        "A wall taped 3 ft short.", Change(walls={"North": {"wall_length": "37 ft"}})
    ),
    "SURVEY-6": Smallest("A test hole of 4 ft.", _site(test_hole_depth="4 ft")),
    "SURVEY-7": Smallest("No pier on the form.", Change(cleared=("piers",))),
    "SURVEY-8": Smallest("Two pits 2 ft apart.", _pier(station="8 ft")),
    "SURVEY-9": Smallest(
        "A ticket number that only holds the place of one.", _site(ticket_number="see office")
    ),
    "SURVEY-10": Smallest(
        "A footing that stands out more than it is wide.", _wall(footing_projection="20 in")
    ),
    "SURVEY-11": Smallest("The last day before the first.", _site(last_crew_date="2026-12-04")),
    "SURVEY-12": Smallest(
        "A pit below the footing that is said to take nothing from it.",
        _pier(undermines_footing="no"),
    ),
    "SURVEY-14": Smallest("A layer that ends above its top.", _first_layer(layer_top="9 ft")),
    "SURVEY-17": Smallest(
        "Open a day at most, and four days for a round.",
        _site(open_a_day_at_most="yes", days_for_a_round_of_pits="4 days"),
    ),
    "SURVEY-18": Smallest(
        "A month for each round, and the crew there for a week.",
        _site(days_for_a_round_of_pits="30 days"),
    ),
    "SURVEY-19": Smallest(
        "A plate of 2 ft under a footing of 20 in.", _site(bracket_plate_depth="24 in")
    ),
    "SURVEY-20": Smallest("Nine of five pits open together.", _site(most_pits_open_together="9")),
    "SURVEY-21": Smallest("A pier that is listed twice.", _pier(station="6 ft")),
    "SURVEY-23": Smallest(
        "Water met 20 ft down in a hole of 18 ft.",
        _site(groundwater_met="yes", depth_to_groundwater="20 ft"),
    ),
    "SURVEY-24": Smallest(
        "Water 2 ft down outside a basement that is said to be dry.",
        Change(
            site={**BASEMENT, "groundwater_met": "yes", "depth_to_groundwater": "2 ft"},
            walls={EVERY: {"wall_height": "9 ft"}},
            piers={EVERY: FROM_BASEMENT},
        ),
    ),
    "SURVEY-25": Smallest(
        "Only sky above a pit in a basement.",
        Change(site=BASEMENT, piers={EVERY: {**FROM_BASEMENT, "headroom_at_pier": "50 ft"}}),
    ),
    "SURVEY-26": Smallest("Work in a basement, and every pit outside.", _site(**BASEMENT)),
    "SURVEY-27": Smallest(
        "A gas pipe that starts and ends at one point.",
        _line(utility_kind="gas", utility_end_offset="0 ft"),
    ),
    "SURVEY-28": Smallest(
        "A shed that begins and ends at one station.",
        Change(neighbours={"garden shed": {"neighbour_end_station": "2 ft"}}),
    ),
    "SURVEY-29": Smallest("Days of a ticket changed about.", _site(ticket_end="2026-11-23")),
    "SURVEY-30": Smallest("A ticket of October.", _site(ticket_start="2026-10-12")),
    "SURVEY-33": Smallest(
        "A floor on a wall without a storey.", _wall(storeys="0", floor_span="12 ft")
    ),
    "WATCH-1": Smallest("Nobody took levels.", _site(levels_taken="no")),
    "WATCH-2": Smallest("Cracks that nobody marked.", _site(crack_gauges_set="no")),
    "WATCH-3": Smallest(
        "Work stops at an inch and not before.", _site(movement_that_stops_the_work="1 in")
    ),
    "WATCH-4": Smallest("A house raised by half an inch.", _site(planned_lift="0.5 in")),
    "WATCH-5": Smallest("A house raised by two inches.", _site(planned_lift="2 in")),
    "WATER-3": Smallest(
        "A downspout ends beside the pits.", _site(surface_water_runs_to_pits="yes")
    ),
    "WATER-5": Smallest(
        "A small pump in gravel under water.",
        Change(
            site={
                "groundwater_met": "yes",
                "depth_to_groundwater": "4 ft",
                "pump_capacity": "1 gpm",
                "water_removal": "pump watched by the competent person",
            },
            cleared=("soil_layers",),
            added={"soil_layers": [{**SAND, "soil_group": "gravel"}]},
        ),
    ),
    "WATER-8": Smallest("A leak is suspected.", _site(plumbing_leak="suspected")),
    "WATER-9": Smallest("A footing drain that is cut off.", _pier(footing_drain_at_pit="cut off")),
    "WATER-10": Smallest("A layer that seeps, in a dry pit.", _first_layer(layer_seeps="yes")),
}

# For each rule that the careful house meets: what leaves it out.
LEFT_OUT: Mapping[str, Smallest] = {
    "DIG-2": Smallest(
        "Pits of 4 ft 9 in.",
        Change(piers={EVERY: {"pit_depth": "4 ft 9 in", "height_of_protection": "4 ft 9 in"}}),
    ),
    "DIG-13": Smallest(
        "Pits of 4 ft 9 in, and no trench beside any of them.",
        Change(
            piers={
                EVERY: {
                    "pit_depth": "4 ft 9 in",
                    "height_of_protection": "4 ft 9 in",
                    "backfill_beside_pit": "no",
                }
            }
        ),
    ),
    "FOOT-1": Smallest(
        "No pit reaches the underside of the footing.", Change(piers={EVERY: {"pit_depth": "3 ft"}})
    ),
    "FOOT-10": Smallest("Walls without a crack.", Change(walls={EVERY: {"wall_cracks": "none"}})),
    "FOOT-24": Smallest(
        "Brick walls: another rule judges them.",
        Change(walls={EVERY: {"wall_material": "brick", "mortar_joints": "sound"}}),
    ),
    "SEAT-23": Smallest(
        "The tube stands so near to the footing that its anchors hold.",
        _site(bracket_eccentricity="1 in"),
    ),
}
