"""The plan drawing against figures worked out by hand."""

import dataclasses
import math
import random
import re

import pytest

from survey.assessment import Verdict, assess
from survey.drawings.plan import plan_drawing
from survey.rulebook.book import load_book
from survey.vocabulary import VOCABULARY, Units
from tests.demo_surveys import DEMO, survey_of
from tests.drawn import Drawn, judged_quickly
from tests.random_sites import random_survey
from tests.units.engineering.sites import busy_survey, survey

# A house of 40 by 30 ft whose front faces south: the front lies at the foot of the drawing.
SOUTH = {"first_wall_faces": "south", "overhead_lines_near": "no"}
HOUSE = {"neighbour_kind": "house"}


def drawn(soil_class="B", **lists):
    site = {**SOUTH, **lists.pop("site", {})}
    made = judged_quickly(survey(site=site, **lists), soil_class=soil_class)
    return Drawn(plan_drawing(made))


def to_inches(drawing):
    """From points on paper to inches from the left corner of the front, y away from the street."""
    (corners,) = drawing.paths("plan-building")
    (x0, y0), (x1, _), *_ = corners
    mm = (x1 - x0) / 480

    def turned(points):
        return [((x - x0) / mm, (y0 - y) / mm) for x, y in points]

    return turned


def near(points, *wanted):
    assert len(points) == len(wanted), points
    for point, right in zip(points, wanted, strict=True):
        assert point == pytest.approx(right, abs=0.2), points


def extent(points):
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def test_walls_pit_and_slope_stand_where_they_were_measured():
    drawing = drawn()
    inches = to_inches(drawing)
    (wall,) = drawing.paths("plan-wall")
    near(inches(wall), (0, 0), (480, 0), (480, 360), (0, 360), (0, 0))
    # Pier at station 20 ft; pit of 36 by 36 in, 5 ft deep, sloped 1:1; the wall is 8 in thick
    ((x, y, _),) = drawing.circles("plan-pier-place")
    near(inches([(x, y)]), (240, 0))
    floor, *_ = drawing.paths("plan-pit-floor")
    near(inches(floor), (222, 0), (258, 0), (258, -36), (222, -36))
    ground, *_ = drawing.paths("plan-pit-ground")
    near(inches(ground), (162, 8), (318, 8), (318, -96), (162, -96))


def test_what_is_kept_clear_lies_so_far_from_the_edge_of_the_pit():
    drawing = drawn()
    inches = to_inches(drawing)
    spoil, *_ = drawing.paths("plan-spoil")  # 2 ft
    assert extent(inches(spoil)) == pytest.approx((138, -120, 342, 32), abs=0.2)
    vehicles, *_ = drawing.paths("plan-vehicles")  # the depth of the pit, 5 ft
    assert extent(inches(vehicles)) == pytest.approx((102, -156, 378, 68), abs=0.2)


def test_spoil_planned_nearer_than_the_law_lets_it_lie_is_drawn_where_the_law_has_it():
    drawing = drawn(piers={"P1": {"spoil_distance": 0.5}})
    spoil, *_ = drawing.paths("plan-spoil")
    assert extent(to_inches(drawing)(spoil))[1] == pytest.approx(-120, abs=0.2)
    drawing = drawn(piers={"P1": {"spoil_distance": 5}})
    spoil, *_ = drawing.paths("plan-spoil")
    assert extent(to_inches(drawing)(spoil))[1] == pytest.approx(-156, abs=0.2)


def test_pits_that_stand_close_are_kept_clear_as_one():
    drawing = drawn(piers={"P1": {"station": 12}, "P2": {"station": 20}, "P3": {
        "station": 10, "wall_of_pier": "right"}})  # fmt: skip
    assert len(drawing.paths("plan-spoil")) == 3  # on two walls, and in the key
    front = extent(to_inches(drawing)(drawing.paths("plan-spoil")[0]))
    assert (front[0], front[2]) == pytest.approx((144 - 18 - 60 - 24, 342), abs=0.2)


def test_pit_from_inside_lies_inside_and_keeps_no_vehicles_off():
    drawing = drawn(piers={"P1": {"pit_reached_from": "basement"}})
    floor, *_ = drawing.paths("plan-pit-floor")
    assert extent(to_inches(drawing)(floor)) == pytest.approx((222, 0, 258, 44), abs=0.2)
    assert not drawing.paths("plan-vehicles")
    assert not drawing.paths("plan-spoil")


def test_tolerance_zone_is_measured_from_the_sides_of_the_line():
    # 4 in wide, 12 ft out, all along the front; 24 in to each side
    drawing = drawn(utilities={"gas": {"utility_kind": "gas"}})
    inches = to_inches(drawing)
    (zone,) = drawing.paths("plan-zone yellow")
    assert extent(inches(zone)) == pytest.approx((-26, -170, 506, -118), abs=0.2)
    (line,) = drawing.paths("plan-line yellow")[:1]
    near(inches(line), (0, -144), (480, -144))
    assert ("plan-letter", "G") in drawing.texts


def test_line_whose_zone_is_not_known_has_none_and_says_so():
    drawing = drawn(site={"tolerance_zone": None}, utilities={"gas": {"utility_kind": "gas"}})
    assert drawing.paths("plan-line yellow")
    assert not drawing.paths("plan-zone yellow")
    assert "gas, its tolerance zone ('tolerance zone': not known)" in drawing.words


@pytest.mark.parametrize(
    ("soil_class", "reach", "text"),
    [("B", 36, "1H:1V to 5 ft"), ("C", 72, "2H:1V to 5 ft"), (None, 72, "2H:1V to 5 ft")],
)
def test_influence_line_stands_where_its_slope_comes_to_the_floor(soil_class, reach, text):
    # Floor 60 in deep, footing 24 in: 36 in to go, at 1H:1V or in type C ground at 2H:1V
    ends = {"neighbour_start_station": 10, "neighbour_end_station": 30}
    drawing = drawn(soil_class, neighbours={"No. 3": {**HOUSE, **ends}})
    (line,) = drawing.paths("plan-influence")[:1]
    found = to_inches(drawing)(line)
    assert max(y for _, y in found) == pytest.approx(-180 + reach, abs=0.2)
    assert min(x for x, _ in found) == pytest.approx(120 - reach, abs=0.2)
    assert max(x for x, _ in found) == pytest.approx(360 + reach, abs=0.2)
    assert text in drawing.words
    assert ("Soil class not known at P1" in drawing.words) == (soil_class is None)


def test_influence_line_is_drawn_for_the_deepest_pit():
    deep = {"P1": {}, "P2": {"station": 30, "pit_depth": "6 ft"}}
    drawing = drawn(neighbours={"No. 3": HOUSE}, piers=deep)
    (line,) = drawing.paths("plan-influence")[:1]
    assert max(y for _, y in to_inches(drawing)(line)) == pytest.approx(-180 + 48, abs=0.2)


def test_influence_line_follows_the_limits_of_the_book_that_judged():
    made = judged_quickly(survey(site=SOUTH, neighbours={"No. 3": HOUSE}))
    name = "slope to neighbour in any ground"
    limit = made.limits[name]
    steeper = {**made.limits, name: dataclasses.replace(limit, steps=limit.steps * 3)}
    drawing = Drawn(plan_drawing(dataclasses.replace(made, limits=steeper)))
    (line,) = drawing.paths("plan-influence")[:1]
    assert max(y for _, y in to_inches(drawing)(line)) == pytest.approx(-180 + 108, abs=0.2)
    without = {key: value for key, value in made.limits.items() if key != name}
    drawing = Drawn(plan_drawing(dataclasses.replace(made, limits=without)))
    assert not [line for line in drawing.paths("plan-influence") if len(line) > 2]
    assert f"the rule book has no limit '{name}'" in drawing.words


def test_a_pit_no_deeper_than_the_neighbour_s_footing_has_no_influence_line():
    drawing = drawn(neighbours={"No. 3": {**HOUSE, "neighbour_footing_depth": 5}})
    assert not drawing.paths("plan-influence")
    assert "influence" not in drawing.words


def test_a_tree_is_a_point_that_pits_keep_their_depth_away_from():
    tree = {"neighbour_kind": "tree", "neighbour_start_station": 20, "neighbour_end_station": 20}
    drawing = drawn(neighbours={"oak": tree})
    inches = to_inches(drawing)
    ((x, y, _),) = drawing.circles("plan-neighbour-post")
    near(inches([(x, y)]), (240, -180))
    (line,) = drawing.paths("plan-keep-off")[:1]
    assert max(y for _, y in inches(line)) == pytest.approx(-120, abs=0.2)
    assert not drawing.paths("plan-influence")


def test_a_pool_has_an_influence_line_in_type_c_ground_only():
    pool = {"pool": {"neighbour_kind": "pool"}}
    assert not drawn("B", neighbours=pool).paths("plan-influence")
    assert drawn("C", neighbours=pool).paths("plan-influence")
    assert drawn("B", neighbours=pool).paths("plan-keep-off")


@pytest.mark.parametrize("kind", [None, "house"])
def test_a_neighbour_of_unknown_kind_is_taken_as_a_building_and_it_is_said(kind):
    drawing = drawn(neighbours={"that": {"neighbour_kind": kind}})
    assert drawing.paths("plan-influence")
    assert ("What that is, is not known" in drawing.words) == (kind is None)


def test_scale_bar_is_as_long_as_it_says_at_the_scale_it_says():
    drawing = drawn()
    feet = float(re.search(r"1 in = (\d+) ft", drawing.words)[1])
    halves = [*drawing.paths("bar-dark"), *drawing.paths("bar-light")]
    end = next(text for _, text in drawing.texts if re.fullmatch(r"\d+ ft", text))
    left, _, right, _ = extent([point for half in halves for point in half])
    assert (right - left) / 25.4 * feet == pytest.approx(float(end[:-3]), abs=0.02)
    (corners,) = drawing.paths("plan-building")
    assert corners[1][0] - corners[0][0] == pytest.approx(40 / feet * 25.4, abs=0.02)


def test_a_metric_form_is_drawn_at_a_metric_scale():
    made = judged_quickly(survey(site=SOUTH, neighbours={"No. 3": HOUSE}))
    metric = dataclasses.replace(made.survey, units=Units.METRIC)
    drawing = Drawn(plan_drawing(dataclasses.replace(made, survey=metric)))
    ratio = float(re.search(r"1:(\d+)", drawing.words)[1])
    (corners,) = drawing.paths("plan-building")
    assert corners[1][0] - corners[0][0] == pytest.approx(40 * 304.8 / ratio, abs=0.02)
    halves = [*drawing.paths("bar-dark"), *drawing.paths("bar-light")]
    end = next(text for _, text in drawing.texts if re.fullmatch(r"\d+ m", text))
    left, _, right, _ = extent([point for half in halves for point in half])
    assert (right - left) * ratio / 1000 == pytest.approx(float(end[:-2]), abs=0.02)
    assert "1H:1V to 1.524 m" in drawing.words


@pytest.mark.parametrize("faces", VOCABULARY["first wall faces"].choices)
def test_north_arrow_points_north(faces):
    drawing = drawn(site={"first_wall_faces": faces})
    bearing = 45 * VOCABULARY["first wall faces"].choices.index(faces)
    (dark,), (light,) = drawing.paths("north-dark"), drawing.paths("north-light")
    tip, foot = dark[0], [(a + b) / 2 for a, b in zip(dark[1], light[1], strict=True)]
    north = clockwise(tip[0] - foot[0], tip[1] - foot[1])
    assert min(north, 360 - north) <= 45.5  # north is up, or half way up
    (corners,) = drawing.paths("plan-building")
    middle = [sum(axis) / 4 for axis in zip(*corners, strict=True)]
    front = [(a + b) / 2 for a, b in zip(corners[0], corners[1], strict=True)]
    outside = clockwise(front[0] - middle[0], front[1] - middle[1])
    assert (outside - north - bearing + 180) % 360 == pytest.approx(180, abs=0.7)


def clockwise(x, y):
    return math.degrees(math.atan2(x, -y)) % 360


def test_a_line_of_unknown_size_says_that_its_width_is_not_drawn():
    drawing = drawn(utilities={"gas": {"utility_kind": "gas", "utility_diameter": None}})
    assert "No size given for gas: where it lies is drawn" in drawing.words


def test_north_that_is_not_known_is_not_drawn():
    drawing = drawn(site={"first_wall_faces": None})
    assert not drawing.paths("north-dark")
    assert "north not known" in drawing.words


def test_each_pier_has_the_mark_of_its_verdict_and_its_round():
    made = judged_quickly(survey(site=SOUTH, piers={
        f"P{i}": {"station": 4 * i} for i in range(1, 6)
    }))  # fmt: skip
    piers = tuple(
        dataclasses.replace(pier, verdict=verdict)
        for pier, verdict in zip(made.piers, Verdict, strict=True)
    )
    drawing = Drawn(plan_drawing(dataclasses.replace(made, piers=piers)))
    assert len(drawing.circles("verdict go")) == 2  # on the plan and in the key
    corners = {"go-with-conditions": 4, "hold": 4, "engineer-review": 3, "no-go": 8}
    for name, number in corners.items():
        assert [len(mark) for mark in drawing.paths(f"verdict {name}")] == [number, number]
    rounds = [text for look, text in drawing.texts if look == "plan-round"]
    assert sorted(rounds) == ["1", "1", "2", "3", "4", "5"]  # one of them in the key
    assert all(verdict.value in drawing.words for verdict in Verdict)


def test_the_key_tells_only_what_is_drawn():
    words = drawn(utilities={}, neighbours={}).words
    assert "tolerance zone" not in words
    assert "influence" not in words
    assert "floor of a pit" in words


# What is not known


def test_a_pier_whose_station_is_not_known_is_told_and_not_drawn():
    drawing = drawn(piers={"P1": {}, "P2": {"station": None}})
    assert len(drawing.circles("plan-pier-place")) == 1
    assert "Not drawn: P2 ('station': not known)." in drawing.words


def test_a_pit_without_length_leaves_its_pier():
    drawing = drawn(piers={"P1": {"pit_length": None}})
    assert len(drawing.circles("plan-pier-place")) == 1
    assert not drawing.paths("plan-pit-floor")
    assert "Not drawn: P1, the pit ('pit length': not known)." in drawing.words


def test_a_slope_not_known_leaves_the_floor():
    drawing = drawn(piers={"P1": {"slope_of_sides": None}})
    assert drawing.paths("plan-pit-floor")
    assert not drawing.paths("plan-pit-ground")
    assert "the edge of the pit at the ground ('slope of sides': not known)" in drawing.words


def test_things_of_one_reason_are_told_together():
    drawing = drawn(piers={f"P{i}": {"station": None} for i in range(1, 4)})
    assert "Not drawn: P1, P2, P3 ('station': not known)." in drawing.words


def test_walls_that_can_not_be_linked_are_drawn_by_themselves():
    drawing = drawn(
        site={"walls_listed": "only walls to be worked on"},
        piers={"P1": {}, "P2": {"wall_of_pier": "right", "station": 10}},
        utilities={},
        neighbours={},
    )
    assert not drawing.paths("plan-building")
    assert len(drawing.paths("plan-wall")) == 2
    assert "Each run of walls is drawn by itself" in drawing.words
    assert "because nothing stands at them: walls back, left." in drawing.words
    one, other = (extent(wall) for wall in drawing.paths("plan-wall"))
    # Both at one scale, 40 ft level and 30 ft upright, the second below the first
    assert (one[2] - one[0]) * 30 == pytest.approx((other[3] - other[1]) * 40, abs=1)
    assert one[3] < other[1]


def test_a_wall_whose_length_is_not_known_is_open_at_its_end():
    walls = {"front": {"wall_length": None, "carried_to": 40}, "right": {"wall_length": 30}}
    drawing = drawn(walls=walls, utilities={}, neighbours={})
    assert drawing.paths("plan-wall-open")
    assert not drawing.paths("plan-building")
    assert "Not drawn: front, its right end ('wall length': not known)." in drawing.words


def test_walls_that_do_not_meet_are_drawn_with_their_gap():
    walls = {"front": {"wall_length": 40}, "right": {"wall_length": 30},
             "back": {"wall_length": 40}, "left": {"wall_length": 28}}  # fmt: skip
    drawing = drawn(walls=walls, neighbours={})
    (wall,) = drawing.paths("plan-wall")
    assert wall[0] != wall[-1]
    assert "The walls as measured do not meet: 2 ft are left open." in drawing.words


def test_open_lists_and_overhead_lines_are_told():
    site = {"all_utilities_listed": "no", "overhead_lines_near": None}
    words = drawn(site=site).words
    assert "Not every utility is known to be listed." in words
    assert "Overhead lines may be near" in words


def test_a_line_far_off_is_told_and_does_not_shrink_the_house():
    far = {"utility_start_offset": 400, "utility_end_offset": 400}
    drawing = drawn(utilities={"main": {**far, "utility_kind": "water"}}, neighbours={})
    assert "main lies outside what is drawn." in drawing.words
    assert not drawing.paths("plan-line blue")


def test_a_site_without_walls_says_that_nothing_can_be_drawn():
    nothing = survey_of({
        "pier_survey": 1, "site": {}, "walls": [], "piers": [], "utilities": [],
        "neighbours": [], "soil_layers": [], "releases": [],
    })  # fmt: skip
    assert (
        "Nothing can be drawn: no wall is listed."
        in Drawn(plan_drawing(judged_quickly(nothing))).words
    )


# Labels


def sound(drawing):
    assert drawing.overlaps() == []
    assert drawing.cut() == []


@pytest.mark.parametrize("name", DEMO)
def test_labels_of_the_demo_sites_stand_apart_and_every_pier_is_named(name):
    made = assess(survey_of(DEMO[name](), name), (), load_book())
    drawing = Drawn(plan_drawing(made))
    sound(drawing)
    assert drawing.height <= 200
    piers = [text for look, text in drawing.texts if look == "plan-pier"]
    assert sorted(piers) == [pier.label for pier in made.piers]
    assert drawing.paths("plan-building")


def test_labels_of_200_random_sites_stand_apart():
    several = 0
    for seed in range(200):
        made = judged_quickly(random_survey(random.Random(seed)), seed)
        drawing = Drawn(plan_drawing(made))
        sound(drawing)
        several += "Each run of walls" in drawing.words
    assert several > 20


def crowded(rng, piers):
    """Piers anywhere on four walls, some on top of each other, with labels of any length."""
    names = ["front", "right", "back", "left"]
    lines = [f"line {i}" + " x" * rng.randint(0, 20) for i in range(12)]
    return survey(
        site=SOUTH,
        piers={
            f"P{i}" + "y" * rng.choice([0, 0, 0, 3, 30]): {
                "wall_of_pier": rng.choice(names),
                "station": round(rng.uniform(0, 30), 1),
                "pit_depth": f"{rng.randint(3, 9)} ft",
            }
            for i in range(piers)
        },
        utilities={
            label: {
                "wall_of_utility": rng.choice(names),
                "utility_kind": rng.choice(VOCABULARY["utility kind"].choices),
                "utility_start_station": rng.uniform(-10, 40),
                "utility_start_offset": rng.uniform(0, 20),
                "utility_end_station": rng.uniform(-10, 40),
                "utility_end_offset": rng.uniform(0, 20),
            }
            for label in lines
        },
        neighbours={
            f"N{i}": {
                "wall_of_neighbour": rng.choice(names),
                "neighbour_kind": rng.choice(VOCABULARY["neighbour kind"].choices),
                "neighbour_offset": rng.uniform(3, 20),
            }
            for i in range(6)
        },
    )


@pytest.mark.parametrize("seed", range(12))
def test_labels_of_60_piers_anywhere_stand_apart_and_none_is_lost(seed):
    made = judged_quickly(crowded(random.Random(seed), 60), seed)
    drawing = Drawn(plan_drawing(made))
    sound(drawing)
    assert drawing.height < 250
    things = (*made.survey.piers, *made.survey.utilities)
    outside = re.findall(r"(\S+(?: \S+)*?) lies outside", drawing.words)
    words = re.sub(r"\s", "", drawing.words)
    for thing in things:
        assert re.sub(r"\s", "", thing.label) in words or any(
            thing.label.startswith(label.split()[0]) for label in outside
        )


def test_thirty_piers_are_all_named_on_the_drawing():
    drawing = Drawn(plan_drawing(judged_quickly(busy_survey())))
    sound(drawing)
    piers = {text for look, text in drawing.texts if look == "plan-pier"}
    assert piers == {f"P{i}" for i in range(30)}


HOSTILE = [
    "</text><script>alert(1)</script>", "&amp;<!--", "W" * 60, "שלום עולם مرحبا",
    "\N{HOUSE BUILDING}\N{CONSTRUCTION WORKER}" * 8, "=1+1", '" onload="alert(1)',
]  # fmt: skip


def test_labels_that_would_do_harm_are_text():
    made = judged_quickly(
        survey(site=SOUTH, piers={label: {"station": 4 + 4 * i} for i, label in enumerate(HOSTILE)})
    )
    svg = plan_drawing(made)
    assert "<script" not in svg
    drawing = Drawn(svg)  # well formed
    sound(drawing)
    assert {tag for tag, _ in drawing.elements} <= {
        "title", "desc", "polyline", "polygon", "circle", "text",
    }  # fmt: skip
    assert not [e for _, e in drawing.elements for key in e.attrib if key.startswith("on")]
    words = re.sub(r"\s", "", drawing.words)
    for label in HOSTILE:
        assert re.sub(r"\s", "", label) in words


def test_what_no_file_can_hold_is_replaced():
    made = judged_quickly(survey(site=SOUTH))
    (pier,) = made.survey.piers
    odd = dataclasses.replace(pier, label="P\x001\u202e\ud800")
    changed = dataclasses.replace(made.survey, piers=(odd,))
    drawing = Drawn(plan_drawing(judged_quickly(changed)))
    assert ("plan-pier", "P\ufffd1\ufffd\ufffd") in drawing.texts


def test_a_plan_is_the_same_each_time():
    made = judged_quickly(crowded(random.Random(5), 40))
    assert plan_drawing(made) == plan_drawing(made)
