"""Outlines to draw from: the same figures as those that the rules are judged on."""

import random

import pytest
import shapely

from survey.quantities import work_out
from survey.quantities.outlines import Undrawn, outlines
from survey.vocabulary import Subject
from tests.random_sites import random_survey
from tests.units.engineering.sites import busy_survey, survey

FAR_IN = 1e6


def shape_of(neighbour):
    start, end = neighbour.edge
    out = neighbour.outward
    far = [(x + FAR_IN * out[0], y + FAR_IN * out[1]) for x, y in (end, start)]
    corners = list(dict.fromkeys([start, end, *far]))
    return shapely.LineString(corners) if len(corners) == 2 else shapely.Polygon(corners)


def compare(site):
    """How many distances of the rules were found again in the outlines."""
    quantities, found = work_out(site), 0
    for run in outlines(site).runs:
        for pier in run.piers:
            if pier.ground is None:
                continue
            pit = shapely.Polygon(pier.ground)
            for line in run.utilities:
                given = quantities.of("clearance to utility", (pier.label, line.label)).result
                if given.known:
                    clear = pit.distance(shapely.LineString(line.ends)) - line.diameter_in / 2
                    assert given.value == pytest.approx(max(clear, 0), abs=1e-6)
                    found += 1
            for neighbour in run.neighbours:
                given = quantities.of(
                    "clearance to neighbour", (pier.label, neighbour.label)
                ).result
                if given.known:
                    assert given.value == pytest.approx(pit.distance(shape_of(neighbour)), abs=1e-6)
                    found += 1
                slope = quantities.of("slope to neighbour", (pier.label, neighbour.label)).result
                if slope.known:
                    apart = shapely.Polygon(pier.floor).distance(shape_of(neighbour))
                    depth = pier.floor_depth_in - neighbour.footing_depth_in
                    assert slope.value == pytest.approx(apart / depth, abs=1e-6)
                    found += 1
    return found


def test_distances_of_a_busy_site_are_those_of_the_rules():
    assert compare(busy_survey()) == 30 * (8 + 2 * 4)


def test_distances_of_random_sites_are_those_of_the_rules():
    assert sum(compare(random_survey(random.Random(seed), rate=0.05)) for seed in range(60)) > 100


def test_nothing_is_drawn_that_the_rules_could_not_measure():
    for seed in range(60):
        site = random_survey(random.Random(seed), rate=0.2)
        quantities = work_out(site)
        run_of = {
            thing.label: i
            for i, run in enumerate(outlines(site).runs)
            for thing in (*run.piers, *run.utilities)
        }
        grounds = {
            p.label for run in outlines(site).runs for p in run.piers if p.ground is not None
        }
        for line in site.utilities:
            for pier in site.piers:
                given = quantities.of("clearance to utility", (pier.label, line.label)).result
                both = pier.label in grounds and line.label in run_of
                if given.known:
                    assert both
                    assert run_of[pier.label] == run_of[line.label]


def test_what_is_lacking_is_told():
    site = survey(
        piers={"P1": {"station": None}, "P2": {"pit_width": None}, "P3": {"slope_of_sides": None}},
        utilities={"gas": {"utility_diameter": None}, "main": {"utility_end_offset": None}},
        neighbours={"shed": {"neighbour_offset": None}},
    )
    found = outlines(site)
    assert set(found.undrawn) == {
        Undrawn(Subject.PIER, "P1", "", "'station' of P1: not known"),
        Undrawn(Subject.PIER, "P2", "the pit", "'pit width' of P2: not known"),
        Undrawn(
            Subject.PIER, "P3", "the edge of the pit at the ground",
            "'slope of sides' of P3: not known",
        ),
        Undrawn(Subject.UTILITY, "gas", "its tolerance zone", "'utility diameter': not known"),
        Undrawn(Subject.UTILITY, "main", "", "'utility end offset' of main: not known"),
        Undrawn(Subject.NEIGHBOUR, "shed", "", "'neighbour offset' of shed: not known"),
    }  # fmt: skip
    (run,) = found.runs
    assert [pier.label for pier in run.piers] == ["P2", "P3"]
    assert [pier.floor is None for pier in run.piers] == [True, False]
    assert [line.zone_in for line in run.utilities] == [None]
    assert not run.neighbours


@pytest.mark.parametrize("word", ["wall_length", "turn_at_right_end"])
def test_a_wall_that_lacks_its_length_or_turn_ends_a_run(word):
    walls = {label: {"wall_length": 30} for label in ("front", "right", "back", "left")}
    walls["right"][word] = None
    found = outlines(survey(walls=walls))
    labels = [[wall.label for wall in run.walls] for run in found.runs]
    assert labels == [["front", "right"], ["back", "left"]]
    assert found.closing_in is None


def test_walls_that_are_not_all_listed_stand_by_themselves():
    found = outlines(survey(site={"walls_listed": None}))
    assert [len(run.walls) for run in found.runs] == [1, 1, 1, 1]
    assert not found.all_round
    assert found.closing_in is None


def test_open_lists_are_told():
    site = {"all_utilities_listed": None, "all_neighbours_listed": "no"}
    assert outlines(survey(site=site)).undrawn == (
        Undrawn(Subject.UTILITY, "", "", "not every utility is known to be listed"),
        Undrawn(Subject.NEIGHBOUR, "", "", "not every neighbour is known to be listed"),
    )
