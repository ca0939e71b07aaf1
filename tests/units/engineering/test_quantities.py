"""Every derived word of a survey: that it is there, what it rests on, and never a guess."""

import datetime as dt
import importlib
import math
from itertools import permutations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from survey.answers import unlisted
from survey.engineering.working import Result
from survey.model import LISTS, Answer, Row, Survey
from survey.quantities import work_out
from survey.vocabulary import (
    CLOSED_BY,
    DOES_NOT_APPLY,
    NOT_KNOWN,
    VOCABULARY,
    Kind,
    Missing,
    Origin,
    Subject,
)
from tests.strategies import surveys
from tests.units.engineering.sites import UNTESTED, busy_survey, survey

DERIVED = [word for word in VOCABULARY.words if word.origin is Origin.DERIVED]
EVERYTHING = frozenset(Subject)


def figure(word, *labels, **changed):
    return work_out(survey(**changed), EVERYTHING).of(word, labels or ("P1",))


def missing(quantity):
    return {(lacking.word, lacking.label) for lacking in quantity.missing}


def labels_of(read, subject):
    rest = unlisted(read, subject) if subject in CLOSED_BY else None
    return [row.label for row in (*read.rows(subject), *((rest,) if rest else ()))]


def expected_keys(read):
    for word in DERIVED:
        match word.subject:
            case Subject.PIER_UTILITY | Subject.PIER_NEIGHBOUR:
                other = (
                    Subject.UTILITY if word.subject is Subject.PIER_UTILITY else Subject.NEIGHBOUR
                )
                for pier in read.piers:
                    yield from ((word.name, (pier.label, o)) for o in labels_of(read, other))
            case Subject.PIER_PIER:
                piers = [pier.label for pier in read.piers]
                yield from ((word.name, pair) for pair in permutations(piers, 2))
            case subject:
                yield from ((word.name, (label,)) for label in labels_of(read, subject))


def check(read):
    """What holds of the quantities of every survey."""
    found = work_out(read, EVERYTHING).by_place
    assert set(found) == set(expected_keys(read))
    for (word, labels), quantity in found.items():
        value = quantity.result.value
        declared = VOCABULARY[word]
        if value is NOT_KNOWN:
            assert quantity.missing or quantity.result.reason, (word, labels)
            assert quantity.result.reason, (word, labels)
        elif not isinstance(value, Missing):
            assert not quantity.missing, (word, labels)
            assert quantity.result.working is not None, (word, labels)
            if declared.choices:
                assert value in declared.choices
            elif declared.kind is Kind.DATE:
                assert isinstance(value, dt.date)
            elif declared.kind is Kind.TEXT:
                assert isinstance(value, str)
            else:
                assert isinstance(value, float)
                assert math.isfinite(value)


@pytest.mark.parametrize("word", DERIVED, ids=lambda word: word.name)
def test_made_by_names_a_calculation(word):
    module, function = word.made_by.split(".")
    made = getattr(importlib.import_module(f"survey.engineering.{module}"), function)
    returned = str(made.__annotations__["return"])
    assert returned in ("Result", "UsualTicket") or Result.__name__ in returned


# The test hole of these surveys ends in clay, so nobody knows how deep the piers go.
BELOW_THE_HOLE = ("depth to bearing", "sections needed")


def test_every_derived_word_of_a_sound_survey_is_known():
    for read in (survey(), busy_survey()):
        check(read)
        for key, quantity in work_out(read, EVERYTHING).by_place.items():
            if key[0] not in BELOW_THE_HOLE:
                assert quantity.result.value is not NOT_KNOWN, (key, quantity.result.reason)


def test_figures_of_a_sound_survey_by_hand():
    # Pit 60 in deep, sloped 1H:1V; gas 12 ft out, 4 in across; shed 15 ft out, 2 ft deep.
    assert figure("slope reach").result.value == 60.0
    assert figure("clearance to utility", "P1", "gas").result.value == 144 - 36 - 60 - 2
    assert figure("depth of line above pit floor", "P1", "gas").result.value == 24.0
    assert figure("clearance to neighbour", "P1", "shed").result.value == 180 - 36 - 60
    assert figure("slope to neighbour", "P1", "shed").result.value == 144 / 36
    # Footing 36 in deep: 24 in of slope below it opens 24 in more on each side of the pit.
    assert figure("depth of pit floor").result.value == 60.0
    assert figure("opening at footing").result.value == 36 + 2 * 24
    assert figure("distance to corner").result.value == 240 - 42
    assert figure("share of wall open at once").result.value == pytest.approx(100 * 84 / 480)
    assert figure("gap to next pit").result.value is DOES_NOT_APPLY
    assert figure("cohesive ground").result.value == "yes"
    assert figure("job data complete", "site").result.value == "yes"
    assert figure("tested soil class").result.value == "B"
    assert figure("water above pit floor").result.value == "no"
    assert figure("survey age", "site").result.value == 61.0
    assert figure("notice given", "shed").result.value == 30.0
    assert figure("outline closing error", "site").result.value == 0.0


@given(surveys(most_rows=3))
@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
def test_any_survey_can_be_worked_out(read):
    check(read)


WILD = st.one_of(
    st.floats(allow_nan=True, allow_infinity=True),
    st.sampled_from([0.0, -1.0, 1e300, -1e300, 1e-300, 5e-324, math.nan, math.inf, 2.0]),
)


@st.composite
def wild_surveys(draw):
    """Surveys whose figures keep to no range at all, as if the reading had failed."""

    def answer(word, walls):
        match word.kind:
            case Kind.CHOICE | Kind.YES_NO:
                return draw(st.sampled_from((*word.choices, NOT_KNOWN, DOES_NOT_APPLY)))
            case Kind.REFERENCE:
                return draw(st.sampled_from((*walls, "nowhere")))
            case Kind.DATE:
                return draw(st.dates(dt.date.min, dt.date.max))
            case Kind.TEXT:
                return "text"
            case _:
                low, high = (word.low or 0.0), (word.high or 0.0)
                return draw(st.one_of(st.floats(low, high), st.floats(low, high), WILD))

    def rows(subject, count, walls=()):
        return tuple(
            Row(subject, f"{subject.value} {i}",
                {w.name: Answer(answer(w, walls), "x") for w in VOCABULARY.asked_of(subject)}, "x")
            for i in range(count)
        )  # fmt: skip

    site = Row(
        Subject.SITE, "site",
        {w.name: Answer(answer(w, ()), "x") for w in VOCABULARY.asked_of(Subject.SITE)}, "x",
    )  # fmt: skip
    walls = rows(Subject.WALL, 2)
    names = [wall.label for wall in walls]
    lists = {
        name: rows(subject, draw(st.integers(1, 2)), names)
        for subject, name in LISTS.items()
        if subject is not Subject.WALL
    }
    return Survey("wild", site, walls, **lists)


@given(wild_surveys())
@settings(max_examples=100, deadline=None, suppress_health_check=list(HealthCheck))
def test_no_size_of_answer_gives_a_figure_that_is_no_number(read):
    check(read)


# What is missing is named


@pytest.mark.parametrize(
    ("word", "labels", "subject", "key"),
    [
        ("slope reach", ("P1",), "piers", "side_protection"),
        ("slope reach", ("P1",), "piers", "slope_of_sides"),
        ("clearance to utility", ("P1", "gas"), "piers", "slope_of_sides"),
        ("clearance to utility", ("P1", "gas"), "piers", "pit_reached_from"),
        ("clearance to utility", ("P1", "gas"), "utilities", "utility_end_offset"),
        ("clearance to utility", ("P1", "gas"), "utilities", "utility_diameter"),
        ("clearance to utility", ("P1", "gas"), "utilities", "wall_of_utility"),
        ("depth of line above pit floor", ("P1", "gas"), "utilities", "depth_to_utility"),
        ("clearance to neighbour", ("P1", "shed"), "neighbours", "neighbour_offset"),
        ("slope to neighbour", ("P1", "shed"), "neighbours", "neighbour_footing_depth"),
        ("slope to neighbour", ("P1", "shed"), "piers", "pit_width"),
        ("tested soil class", ("P1",), "piers", "pit_depth"),
        ("tested soil class", ("P1",), "layers", "fissured"),
        ("tested soil class", ("P1",), "layers", "layer_bottom"),
        ("tested soil class", ("P1",), "site", "all_soil_layers_listed"),
        ("water above pit floor", ("P1",), "site", "groundwater_met"),
        ("water above pit floor", ("P1",), "site", "test_hole_depth"),
        ("distance to corner", ("P1",), "piers", "wall_of_pier"),
        ("share of wall open at once", ("P1",), "site", "clear_spacing_of_open_pits"),
        ("pier load", ("P1",), "site", "ground_snow_load"),
        ("pier load", ("P1",), "piers", "station"),
        ("footing bending use", ("P1",), "piers", "pit_length"),
        ("seat bearing use", ("P1",), "site", "bracket_plate_depth"),
        ("layer soil class", ("clay",), "layers", "dip_into_pit"),
        ("layer soil class", ("clay",), "site", "ground_vibrated"),
        ("notice given", ("shed",), "neighbours", "other_owner"),
        ("survey age", ("site",), "site", "crew_date"),
        ("job data complete", ("site",), "site", "emergency_contact"),
        ("job data complete", ("site",), "site", "ticket_number"),
        ("depth of pit floor", ("P1",), "piers", "pit_reached_from"),
        ("opening at footing", ("P1",), "piers", "side_protection"),
        ("opening at footing", ("P1",), "piers", "slope_of_sides"),
        ("opening at footing", ("P1",), "piers", "footing_depth"),
        ("distance to corner", ("P1",), "piers", "slope_of_sides"),
        ("share of wall open at once", ("P1",), "piers", "footing_depth"),
        ("footing shear use", ("P1",), "piers", "footing_depth"),
        ("gap to next pit", ("P1",), "piers", "wall_of_pier"),
        ("cohesive ground", ("P1",), "layers", "soil_group"),
        ("cohesive ground", ("P1",), "layers", "layer_top"),
        ("cohesive ground", ("P1",), "site", "all_soil_layers_listed"),
        ("outline closing error", ("site",), "site", "walls_listed"),
    ],
)
def test_a_blank_is_named_as_what_would_settle_it(word, labels, subject, key):
    strong = {"unconfined_strength": 2, "thumb_test": "indented only with great effort"}
    sound = {"layers": {"clay": strong}, "piers": {"P1": {}}, "utilities": {"gas": {}},
             "neighbours": {"shed": {}}, "site": {}}  # fmt: skip
    if subject == "site":
        sound["site"] = {key: None}
    else:
        (label, answers), *_ = sound[subject].items()
        sound[subject] = {label: {**answers, key: None}}
    quantity = figure(word, *labels, **sound)
    assert quantity.result.value is NOT_KNOWN
    name = next(w.name for w in VOCABULARY.words if w.key == key)
    owner = "site" if subject == "site" else next(iter(sound[subject]))
    assert (name, owner) in missing(quantity)


def test_what_cannot_change_the_class_is_not_asked_for():
    silt = {"soil_group": "silt", **UNTESTED}
    loose = figure("layer soil class", "silt", layers={"silt": {**silt, "fissured": None}})
    assert loose.result.value == "B"
    assert not loose.missing
    open_dip = figure(
        "layer soil class", "silt", layers={"silt": {**silt, "fissured": None, "layer_seeps": None}}
    )
    assert missing(open_dip) == {("layer seeps", "silt")}


def test_concrete_strength_not_known_is_asked_for_with_the_least_of_the_code():
    walls = {"front": {"wall_length": 40, "concrete_strength": None}}
    for word in ("footing bending use", "footing shear use", "seat bearing use"):
        quantity = figure(word, walls=walls)
        assert quantity.result.value is NOT_KNOWN
        assert missing(quantity) == {("concrete strength", "front")}
        assert "2,500 psi" in quantity.result.reason


@pytest.mark.parametrize("kind", ["brick or stone", "rubble", "none found"])
def test_footings_that_are_no_concrete_have_no_strength(kind):
    answers = {"footing_kind": kind, "concrete_strength": None}
    if kind == "none found":
        answers |= {"footing_thickness": None, "footing_width": None, "footing_projection": None}
    quantity = figure("footing bending use", walls={"front": {"wall_length": 40, **answers}})
    assert quantity.result.value is NOT_KNOWN
    assert kind in quantity.result.reason
    load = figure("pier load", walls={"front": {"wall_length": 40, **answers}})
    assert load.result.known


# Open lists


@pytest.mark.parametrize("closing", [None, "no"])
def test_an_open_list_has_a_row_for_the_rest(closing):
    site = {
        "all_utilities_listed": closing, "all_neighbours_listed": closing,
        "all_soil_layers_listed": closing,
    }  # fmt: skip
    read = survey(site=site)
    check(read)
    found = work_out(read)
    for word, subject in (
        ("clearance to utility", Subject.UTILITY),
        ("slope to neighbour", Subject.NEIGHBOUR),
    ):
        rest = unlisted(read, subject).label
        quantity = found.of(word, ("P1", rest))
        assert quantity.result.value is NOT_KNOWN
        assert [(given.word, given.label) for given in quantity.inputs] == [
            (CLOSED_BY[subject], "site")
        ]
        assert "listed" in quantity.result.reason
    assert found.of("tested soil class", ("P1",)).result.value is NOT_KNOWN


def test_a_closed_list_without_rows_has_no_pairs():
    found = work_out(survey(utilities={}, neighbours={})).by_place
    assert not [word for word, _ in found if "utility" in word or "neighbour" in word]


def test_sand_is_c_although_the_list_is_open():
    sand = {"sand": {"soil_group": "sand", **UNTESTED}}
    quantity = figure("tested soil class", layers=sand, site={"all_soil_layers_listed": None})
    assert quantity.result.value == "C"
    assert not quantity.missing
    cohesive = figure("cohesive ground", layers=sand, site={"all_soil_layers_listed": None})
    assert cohesive.result.value == "no"
    assert not cohesive.missing


# Walls in one plan


def test_clearance_round_the_corner():
    # Pit 20 ft along the front wall of 40 ft; gas parallel to the right wall, 5 ft out.
    gas = {"gas": {"wall_of_utility": "right", "utility_start_offset": 5, "utility_end_offset": 5}}
    quantity = figure("clearance to utility", "P1", "gas", utilities=gas)
    assert quantity.result.value == 240 - 18 - 60 + 60 - 2


def test_walls_in_between_are_needed():
    gas = {"gas": {"wall_of_utility": "back"}}
    walls = {"front": {"wall_length": 40}, "right": {}, "back": {"wall_length": 40}}
    quantity = figure("clearance to utility", "P1", "gas", utilities=gas, walls=walls)
    assert missing(quantity) == {("wall length", "right")}


def test_walls_that_may_lie_apart_are_not_drawn_in_one_plan():
    gas = {"gas": {"wall_of_utility": "right"}}
    site = {"walls_listed": "only walls to be worked on"}
    quantity = figure("clearance to utility", "P1", "gas", utilities=gas, site=site)
    assert quantity.result.value is NOT_KNOWN
    assert "all the way round" in quantity.result.reason
    same = figure("clearance to utility", "P1", "gas", site=site)
    assert same.result.known
    assert figure("outline closing error", "site", site=site).result.value is DOES_NOT_APPLY


# Pits reached from inside


INSIDE = {"P1": {"pit_reached_from": "basement", "pit_depth": "3 ft", "footing_depth": "1 ft"}}


def test_depths_of_an_inside_pit_are_taken_from_the_highest_ground_that_there_can_be():
    # 7 ft of wall, 10 in of footing, 2 ft below it: at most 118 in below the ground outside
    above = figure("depth of line above pit floor", "P1", "gas", piers=INSIDE)
    assert above.result.value == 84 + 10 + 24 - 36
    floor = figure("depth of pit floor", piers=INSIDE)
    assert floor.result.value == 118.0
    assert floor.result.working.lines[-1].symbol == "Hmax"
    slope = figure("slope to neighbour", "P1", "shed", piers=INSIDE)
    assert slope.result.value == pytest.approx(180 / (118 - 24))  # from the outside face


@pytest.mark.parametrize(
    ("depth", "expected"), [("2 ft 11 in", "yes"), ("5 ft", NOT_KNOWN), ("10 ft", "no")]
)
def test_water_at_an_inside_pit(depth, expected):
    site = {"groundwater_met": "yes", "depth_to_groundwater": depth}
    quantity = figure("water above pit floor", piers=INSIDE, site=site)
    assert quantity.result.value == expected
    assert not quantity.missing


NO_FOOTING = {
    "footing_kind": "none found", "footing_thickness": None, "footing_width": None,
    "footing_projection": None, "concrete_strength": None,
}  # fmt: skip


def test_an_inside_pit_at_a_wall_without_a_footing_has_a_floor():
    walls = {"front": {"wall_length": 40, **NO_FOOTING}}
    assert figure("depth of pit floor", piers=INSIDE, walls=walls).result.value == 84 + 24
    walls["front"]["footing_kind"] = None
    unknown = figure("depth of pit floor", piers=INSIDE, walls=walls)
    assert ("footing thickness", "front") in missing(unknown)


# What a pit takes from under the wall


@pytest.mark.parametrize("word", ["clearance to utility", "clearance to neighbour"])
def test_a_pit_takes_ground_from_under_its_wall(word):
    # A line under the house, and a shed of which the survey says that it stands at the wall.
    place = {
        "utilities": {"gas": {"utility_start_offset": -1, "utility_end_offset": -1}},
        "neighbours": {"shed": {"neighbour_offset": 0}},
    }
    labels = ("P1", "gas" if word.endswith("utility") else "shed")
    thick = {"walls": {"front": {"wall_length": 40}}, **place}
    assert figure(word, *labels, **thick).result.value == (12 - 8 - 2 if "gas" in labels else 0)
    thick["walls"]["front"]["wall_thickness"] = None
    assert missing(figure(word, *labels, **thick)) == {("wall thickness", "front")}


def test_slope_to_a_neighbour_does_not_ask_for_the_wall_of_an_outside_pit():
    walls = {"front": {"wall_length": 40, "wall_thickness": None}}
    assert figure("slope to neighbour", "P1", "shed", walls=walls).result.value == 4.0


def test_the_footing_counts_without_its_projection():
    whole = {"front": {"wall_length": 40, "footing_width": 14, "footing_projection": 0}}
    for word in ("footing bending use", "footing shear use"):
        cut, plain = figure(word), figure(word, walls=whole)
        lines = {line.symbol: line for line in cut.result.working.lines}
        assert lines["B"].result == "20 in"
        assert lines["b"].result == "14 in"
        # The narrower footing is the lighter one too: its own weight is 62.5 plf less.
        assert plain.result.value < cut.result.value < 1.05 * plain.result.value
        walls = {"front": {"wall_length": 40, "footing_projection": 20}}
        assert "nothing of it is left" in figure(word, walls=walls).result.reason
        walls["front"]["footing_projection"] = None
        assert missing(figure(word, walls=walls)) == {("footing projection", "front")}


# What a pit opens


def test_a_pit_above_the_footing_opens_its_length_however_it_is_held():
    shallow = {"P1": {"pit_depth": "3 ft", "side_protection": None, "slope_of_sides": None}}
    quantity = figure("opening at footing", piers=shallow)
    assert quantity.result.value == 36.0


@pytest.mark.parametrize(("group", "expected"), [("clay", 84.0), ("sand", NOT_KNOWN)])
def test_a_benched_pit_opens_by_its_soil_class(group, expected):
    piers = {"P1": {"side_protection": "benched", "slope_of_sides": None}}
    layers = {"clay": {}} if group == "clay" else {"sand": {"soil_group": "sand", **UNTESTED}}
    assert figure("opening at footing", piers=piers, layers=layers).result.value == expected


# The data of the job


def test_exactly_what_is_not_given_of_the_job_is_asked_for():
    site = {"address": None, "competent_person": None}
    quantity = figure("job data complete", "site", site=site)
    assert missing(quantity) == {("address", "site"), ("competent person", "site")}
    assert quantity.result.reason == "not given: address, competent person"


def test_without_a_locate_request_there_is_no_ticket_number():
    site = {"locate_request_made": "no", "ticket_number": None}
    assert figure("job data complete", "site", site=site).result.value == "yes"
    site["locate_request_made"] = None
    quantity = figure("job data complete", "site", site=site)
    assert missing(quantity) == {("ticket number", "site")}


# Piers of one wall


def test_gap_to_the_nearest_pit_of_the_wall_from_both():
    piers = {"P1": {}, "P2": {"station": 30, "slope_of_sides": 0}, "P3": {"station": 39},
             "P4": {"wall_of_pier": "back", "station": 21}}  # fmt: skip
    found = work_out(survey(piers=piers))
    gaps = {label: found.of("gap to next pit", (label,)).result.value for label in piers}
    # Openings 84, 36 and 84 in at 240, 360 and 468 in; the pier at the back is alone.
    assert gaps == {"P1": 60.0, "P2": 48.0, "P3": 48.0, "P4": DOES_NOT_APPLY}


def test_distance_to_the_nearest_pier_of_the_wall_however_its_pit_is_held():
    unheld = {"side_protection": None, "slope_of_sides": None, "foot_of_the_slope": None}
    piers = {"P1": {}, "P2": {"station": 30, **unheld}, "P3": {"station": 39},
             "P4": {"wall_of_pier": "back", "station": 21}}  # fmt: skip
    found = work_out(survey(piers=piers))
    apart = {label: found.of("distance to next pier", (label,)).result.value for label in piers}
    assert apart == {"P1": 120.0, "P2": 108.0, "P3": 108.0, "P4": DOES_NOT_APPLY}
    piers["P4"] = {"wall_of_pier": None, "station": 21}
    quantity = figure("distance to next pier", piers=piers)
    assert missing(quantity) == {("wall of pier", "P4")}


def test_pits_that_run_into_each_other_have_a_negative_gap():
    piers = {"P1": {}, "P2": {"station": 25}}
    for label in piers:
        assert figure("gap to next pit", label, piers=piers).result.value == 60 - 84


@pytest.mark.parametrize(
    "key", ["wall_of_pier", "station", "pit_length", "slope_of_sides", "footing_depth"]
)
def test_a_pit_that_is_not_known_may_be_next_to_any_other(key):
    quantity = figure("gap to next pit", piers={"P1": {}, "P2": {"station": 30, key: None}})
    assert quantity.result.value is NOT_KNOWN
    assert {label for _, label in missing(quantity)} == {"P2"}


def test_a_pier_may_not_be_alone_while_another_may_stand_at_its_wall():
    piers = {"P1": {}, "P2": {"wall_of_pier": None}}
    assert missing(figure("gap to next pit", piers=piers)) == {("wall of pier", "P2")}


def test_a_pier_whose_wall_is_not_known_may_stand_anywhere():
    piers = {"P1": {}, "P2": {"wall_of_pier": None}}
    quantity = figure("pier load", piers=piers)
    assert missing(quantity) == {("wall of pier", "P2")}


def test_piers_at_one_station_carry_no_load_that_can_be_told():
    quantity = figure("pier load", piers={"P1": {}, "P2": {}})
    assert quantity.result.value is NOT_KNOWN
    assert "same station" in quantity.result.reason


def test_our_customer_needs_no_notice():
    shed = {"shed": {"other_owner": "no", "notice_date": None}}
    assert figure("notice given", "shed", neighbours=shed).result.value is DOES_NOT_APPLY


# Pairs of piers


ROUND_THE_CORNER = {"P1": {}, "P2": {"wall_of_pier": "right", "station": 15}}
PAIR_WORDS = ("clearance between pits", "distance between piers")


def test_pairs_of_piers_are_only_worked_out_if_wanted():
    assert not [key for key in work_out(busy_survey()).by_place if key[0] in PAIR_WORDS]


def test_pits_of_one_wall_are_clear_by_what_their_slopes_leave():
    # 20 ft apart, each pit 18 in and its slope 60 in towards the other.
    piers = {"P1": {}, "P2": {"station": 40}}
    assert figure("clearance between pits", "P1", "P2", piers=piers).result.value == 240 - 2 * 78
    assert figure("distance between piers", "P1", "P2", piers=piers).result.value == 240.0


def test_pits_round_a_corner_are_measured_from_either_side_alike():
    # The corner lies 20 ft along the front; the pit there reaches 78 in along it. The other lies
    # 15 ft up the right wall, reaches 78 in down it and 8 in under the wall.
    found = work_out(survey(piers=ROUND_THE_CORNER), EVERYTHING)
    clear = math.hypot(240 - 78 - 8, 180 - 78 - 8)
    for pair in (("P1", "P2"), ("P2", "P1")):
        assert found.of("clearance between pits", pair).result.value == pytest.approx(clear)
        assert found.of("distance between piers", pair).result.value == 300.0


@pytest.mark.parametrize("word", PAIR_WORDS)
@pytest.mark.parametrize("key", ["wall_of_pier", "station"])
def test_a_pier_that_stands_anywhere_is_no_distance_from_any_other(word, key):
    piers = {"P1": {}, "P2": {"station": 30, key: None}}
    for pair in (("P1", "P2"), ("P2", "P1")):
        quantity = figure(word, *pair, piers=piers)
        assert quantity.result.value is NOT_KNOWN
        assert missing(quantity) == {(key.replace("_", " "), "P2")}


@pytest.mark.parametrize("key", ["pit_length", "pit_width", "pit_reached_from", "slope_of_sides"])
def test_a_pit_of_any_size_may_reach_any_other_while_the_piers_stay_where_they_are(key):
    piers = {"P1": {}, "P2": {"station": 30, key: None}, "P3": {"station": 8}}
    found = work_out(survey(piers=piers), EVERYTHING)
    for pair in (("P1", "P2"), ("P2", "P3")):
        lacking = missing(found.of("clearance between pits", pair))
        assert lacking == {(key.replace("_", " "), "P2")}
        assert found.of("distance between piers", pair).result.known
    assert found.of("clearance between pits", ("P1", "P3")).result.known


@pytest.mark.parametrize("word", PAIR_WORDS)
def test_piers_of_walls_that_may_lie_apart_are_no_distance_apart(word):
    changed = {"piers": ROUND_THE_CORNER, "site": {"walls_listed": "only walls to be worked on"}}
    assert "all the way round" in figure(word, "P1", "P2", **changed).result.reason
    changed = {"piers": ROUND_THE_CORNER, "walls": {"front": {}, "right": {"wall_length": 30}}}
    assert missing(figure(word, "P1", "P2", **changed)) == {("wall length", "front")}


def test_pits_in_front_of_and_behind_one_stretch_of_wall_run_into_each_other():
    piers = {"P1": {}, "P2": {"pit_reached_from": "basement", "footing_depth": "1 ft"}}
    assert figure("clearance between pits", "P1", "P2", piers=piers).result.value == 0.0
