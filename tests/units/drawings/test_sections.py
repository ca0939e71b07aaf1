"""Sections against geometry that was worked out by hand; nothing is drawn of what nobody knows."""

import random
import re
from dataclasses import replace
from pathlib import Path

import pytest

from survey.assessment import Verdict, assess
from survey.drawings.section_figures import LOOKED_AT
from survey.drawings.sections import MOST_KINDS, section_drawings
from survey.rulebook import production
from survey.vocabulary import (
    DOES_NOT_APPLY,
    NOT_KNOWN,
    VOCABULARY,
    Kind,
    Origin,
    Units,
    read_quantity,
)
from tests import made_assessments
from tests.demo_surveys import DEMO, OF_CONCRETE, survey_of
from tests.drawn_sections import BOOK, SLOPED, Drawn, document, drawn, judged
from tests.random_sites import change, random_survey

HALF_A_HUNDREDTH_MM = 0.005


def near(inches, section):
    """Equal to the hundredth of a millimetre that the SVG is written with."""
    return pytest.approx(inches, abs=2 * HALF_A_HUNDREDTH_MM * section.scale / 25.4)


def ground_of(section):
    """Depth 0 on the sheet."""
    return section.path("former")[0][1]


def face_of(section):
    """The wall's face on the sheet."""
    return section.path("former")[0][0]


@pytest.fixture(autouse=True)
def judged_once(monkeypatch):
    """The drawings look at what was judged; the second evaluator only costs time here."""
    monkeypatch.setattr(production, "available", lambda: False)
    monkeypatch.setattr(production, "expected", lambda: False)


# Against hand-checked geometry


def test_a_slope_of_one_and_a_half_comes_out_seven_and_a_half_feet_from_a_pit_five_feet_deep():
    section = drawn(piers={**SLOPED, "pit_depth": "5 ft", "pit_width": "36 in"})
    floor, side = section.paths("cut")[:2]
    assert floor[1][0] - floor[0][0] == near(36, section)
    assert floor[0][1] - ground_of(section) == near(60, section)
    assert side[0] == floor[1]
    assert side[1][0] - side[0][0] == near(90, section)
    assert side[1][1] == near(ground_of(section), section)
    # On paper 90 in at 1:64 are 35.72 mm.
    assert section.scale == 64
    assert (side[1][0] - side[0][0]) * 25.4 / 64 == pytest.approx(35.72, abs=0.011)
    assert "slope reach 7 ft 6 in" in section.figures


def test_wall_and_footing_stand_as_they_were_measured():
    # Footing 12 in thick, 20 in wide, 6 in out from a wall of 8 in, its underside 4 ft deep; the
    # wall is 4 ft high, so it ends 1 ft above the ground. Cut back to the wall where the seat goes.
    section = drawn()
    face, ground = face_of(section), ground_of(section)
    wall, footing, away = section.path("wall"), section.path("footing"), section.paths("away")
    assert [min(x for x, _ in wall), max(x for x, _ in wall)] == near([face - 8, face], section)
    assert [min(y for _, y in wall), max(y for _, y in wall)] == near(
        [ground - 12, ground + 36], section
    )
    assert [min(x for x, _ in footing), max(x for x, _ in footing)] == near(
        [face - 14, face], section
    )
    assert [min(y for _, y in footing), max(y for _, y in footing)] == near(
        [ground + 36, ground + 48], section
    )
    assert max(x for x, _ in away[1]) == near(face + 6, section)
    for said in ("wall 8 in", "footing 12 in", "footing 20 in wide", "projection 6 in",
                 "footing depth 4 ft", "pit depth 5 ft 3 in", "pit width 36 in"):  # fmt: skip
        assert said in section.figures


def test_the_plate_lies_under_the_footing_from_its_face_and_the_tube_stands_out_from_its_middle():
    section = drawn(bracket_plate_depth="7 in", bracket_eccentricity="5 in",
                    tube_outside_diameter="3 in")  # fmt: skip
    face, ground = face_of(section), ground_of(section)
    plate, tube = section.path("plate"), section.path("tube")
    assert [min(x for x, _ in plate), max(x for x, _ in plate)] == near([face - 7, face], section)
    assert min(y for _, y in plate) == near(ground + 48, section)
    # Its middle 5 in out from 3.5 in behind the face.
    assert [min(x for x, _ in tube), max(x for x, _ in tube)] == near([face, face + 3], section)
    assert "can't be driven" not in section.remarks


def test_a_tube_that_would_stand_behind_the_face_is_told():
    section = drawn(bracket_plate_depth="7 in", bracket_eccentricity="3 in",
                    tube_outside_diameter="3 in")  # fmt: skip
    assert "the tube stands 2 in behind the face of the footing" in section.remarks


def test_shoring_stands_as_high_as_it_is_and_its_foot_as_far_above_the_floor():
    section = drawn(piers={"height_of_protection": "4 ft", "dug_below_protection": "9 in"})
    held, ground = section.path("held"), ground_of(section)
    assert min(y for _, y in held) == near(ground + 63 - 9 - 48, section)
    assert max(y for _, y in held) == near(ground + 63 - 9, section)


def test_benches_are_drawn_by_the_overall_slope_that_the_rules_count_with():
    section = drawn(piers={"side_protection": "benched"})
    side = section.path("counted")
    assert side[1][0] - side[0][0] == near(63, section)
    assert side[0][1] - side[1][1] == near(63, section)
    assert "Where the benches stand is not asked" in section.remarks


def test_spoil_begins_at_its_set_back_and_is_as_wide_as_it_is_counted():
    # With a neighbour 14 ft off, the drawing is wide enough for the whole of it.
    made = document(piers={"spoil_distance": "1 ft"}, neighbours={"neighbour_offset": "14 ft"})
    assessment = judged(made)
    (drawing,) = section_drawings(assessment)
    section = Drawn(drawing)
    shown = {f.word: f.shown for f in assessment.figures if f.place == "P1"}
    needed = read_quantity(shown["ground needed out from wall"], Kind.LENGTH, "ft")
    heap, face = section.path("spoil"), face_of(section)
    assert min(x for x, _ in heap) - face == near(36 + 12, section)
    assert max(x for x, _ in heap) - face == near(needed, section)
    assert "spoil set-back 1 ft" in section.figures


def test_of_a_heap_that_is_wider_than_the_drawing_a_part_is_drawn():
    section = drawn(piers={**SLOPED, "spoil_distance": "2 ft"})
    assert section.path("heap")[0][0] - face_of(section) == near(36 + 1.5 * 63 + 24, section)
    assert "only a part of it is drawn" in section.told


def test_water_and_layers_lie_at_their_depths():
    section = drawn(groundwater_met="yes", depth_to_groundwater="5 ft", piers={"pit_depth": "7 ft"})
    ground = ground_of(section)
    assert section.path("water")[0][1] - ground == near(60, section)
    assert section.path("water")[0][0] - face_of(section) == near(
        36, section
    )  # from the pit's side
    (start, _), *_ = section.paths("layer")
    assert start[1] - ground == near(96, section)
    assert start[0] == near(face_of(section), section)  # below the floor
    assert "0 in to 8 ft: clay, type B (fill beside footing)" in section.told


def test_a_neighbour_stands_as_far_out_as_the_rules_measured_it():
    # Straight out from P4 and P5, 9 ft from the wall's face, its footing 3 ft deep.
    section = drawn(neighbours={"neighbour_offset": "9 ft", "neighbour_footing_depth": "3 ft"})
    edge = [p for p in section.paths("edge") if p[0][0] == p[1][0]][-1]
    assert edge[0][0] - face_of(section) == near(108, section)
    assert max(y for _, y in edge) - ground_of(section) == near(36, section)
    assert "garden shed (garage or shed), drawn as near as it is to P4" in section.told
    ours, theirs = section.paths("influence")
    assert theirs[0] == pytest.approx((edge[1][0], edge[1][1]))
    assert theirs[0][0] - theirs[1][0] == near(theirs[1][1] - theirs[0][1], section)  # 1H:1V
    assert ours[0] == near_point(section, 6, 48)


def near_point(section, out, down):
    return (
        near(face_of(section) + out, section),
        near(ground_of(section) + down, section),
    )


def test_a_neighbour_that_weighs_little_has_no_influence_line():
    section = drawn(neighbours={"neighbour_offset": "9 ft", "neighbour_kind": "tree"})
    assert "garden shed (tree)" in section.told
    assert len(section.paths("influence")) == 1


def test_a_neighbour_that_is_far_away_is_told_and_not_drawn():
    section = drawn()
    assert "garden shed (garage or shed), stands beyond this drawing" in section.remarks


@pytest.mark.parametrize(
    ("changes", "slopes"),
    [
        ({}, [1.0]),
        ({"layers": {"layer_seeps": "yes"}}, [2.0]),
        ({"layers": {"soil_group": "not known"}}, [1.0, 2.0]),
    ],
)
def test_the_influence_line_is_as_steep_as_the_rules_have_it_for_the_ground(changes, slopes):
    section = drawn(**changes)
    lines = section.paths("influence")
    measured = [(end[0] - start[0]) / (end[1] - start[1]) for start, end in lines]
    assert measured == pytest.approx(slopes, rel=0.01)


def test_a_book_without_those_limits_draws_no_influence_line():
    (drawing,) = section_drawings(made_assessments.go())
    assert "The rules in force set no slope of influence lines" in " ".join(drawing.remarks)
    assert not Drawn(drawing).paths("influence")


def test_a_pit_dug_from_inside_shows_nothing_that_is_measured_from_the_ground_outside():
    section = drawn(piers={"pit_reached_from": "basement"}, inside_work="basement",
                    groundwater_met="yes", depth_to_groundwater="5 ft")  # fmt: skip
    assert not section.paths("layer")
    assert not section.paths("water")
    assert "floor of the basement" in section.told
    assert "how high that stands here is not asked (the pit is dug from the basement)" in (
        section.remarks
    )
    # The footing stands out 20 - 6 - 8 in on the side of the pit as well.
    assert max(x for x, _ in section.paths("away")[1]) == near(face_of(section) + 6, section)


def test_the_spanning_tube_lies_under_the_footing_before_the_bracket():
    section = drawn(walls={"footing_honeycomb": "deep or hollow"})
    beam = section.paths("tube")[0]
    assert max(x for x, _ in beam) - min(x for x, _ in beam) == near(4, section)
    assert max(y for _, y in beam) - min(y for _, y in beam) == near(6, section)
    assert min(y for _, y in section.path("plate")) - ground_of(section) == near(54, section)


# What is not known


@pytest.mark.parametrize(
    ("of", "word", "said", "looks", "told"),
    [
        ("piers", "pit_depth", "pit depth", ("cut", "held", "spoil"), "How deep the pit is to be"),
        ("piers", "pit_width", "pit width", ("cut", "held", "spoil"), "How wide the pit is to be"),
        ("piers", "footing_depth", "footing", ("footing", "plate", "tube", "influence"),
         "How deep the footing lies"),
        ("piers", "spoil_distance", "spoil", ("spoil", "heap"), "How far off spoil is laid"),
        ("piers", "height_of_protection", "", ("held",), "How high the hydraulic shoring stands"),
        ("walls", "wall_thickness", "wall", ("wall", "hatch_wall"), "The thickness of the wall"),
        ("walls", "footing_thickness", "footing 1", ("footing", "wall"), "thickness"),
        ("walls", "footing_width", "footing 2", ("footing",), "width"),
        ("walls", "footing_projection", "projection", ("footing", "influence", "plate"),
         "projection"),
        ("site", "bracket_plate_depth", "", ("plate", "tube"), "no bracket is drawn"),
        ("site", "groundwater_met", "", ("water",), "At what depth ground water stands"),
    ],
)  # fmt: skip
def test_what_is_not_known_is_told_and_nothing_is_drawn_in_its_place(of, word, said, looks, told):
    change = {word: "not known"}
    section = drawn(**(change if of == "site" else {of: change}))
    assert told in section.remarks
    assert not said or not [text for text in section.figures if text.startswith(said)
                            and text != "footing depth 4 ft"]  # fmt: skip
    for look in looks:
        assert not section.paths(look), look


@pytest.mark.parametrize("word", ["side_protection", "slope_of_sides"])
def test_a_side_that_is_not_known_is_not_drawn(word):
    section = drawn(piers={**SLOPED, word: "not known"})
    assert len(section.paths("cut")) == 1  # the floor
    assert "How far out the free side comes is not known" in section.remarks
    assert "not known" in next(s for s in section.told.split("; ") if s.startswith("free side"))
    assert not section.paths("spoil")
    assert not section.paths("ground")  # only in dashes: where the pit opens is not known


def test_whether_there_is_a_ladder_is_told_as_it_is_known():
    for answer, said in (
        ("yes", "ladder, ramp or steps in the pit, at most 4 ft away"),
        ("no", "no ladder, ramp or steps in the pit"),
        ("not known", "whether a ladder stands in the pit is not known"),
    ):
        assert said in drawn(piers={"ladder_in_pit": answer}).told


def test_where_neither_depth_is_known_nothing_is_drawn():
    unknown = {"pit_depth": "not known", "footing_depth": "not known"}
    (drawing,) = section_drawings(judged(document(piers=unknown)))
    assert drawing.svg == ""
    assert "Neither the depth of the pit nor that of the footing is known" in drawing.remarks[0]


def test_an_upright_part_of_unknown_height_is_told():
    section = drawn(piers={**SLOPED, "foot_of_the_slope": "upright part not held"})
    assert "Foot of the slope: upright part not held. How high an upright part" in section.remarks


def test_open_lists_are_told():
    section = drawn(all_soil_layers_listed="not known", all_neighbours_listed="no")
    assert "Not every soil layer is known to be listed." in section.remarks
    assert "Not every neighbour is known to be listed." in section.remarks


def test_a_neighbour_of_which_the_place_is_not_known_is_told():
    section = drawn(neighbours={"neighbour_offset": "not known"})
    assert "How the neighbour garden shed stands to the pit is not known" in section.remarks


def test_seats_that_do_not_suit_and_seats_that_may_are_told_apart():
    none = drawn(walls={"wall_held_at_top": "no", "footing_cracks": "open"})
    assert "No seat of the catalogue suits" in none.remarks
    assert not none.paths("plate")
    perhaps = drawn(walls={"wall_held_at_top": "no", "footing_cracks": "not known"})
    assert "Which seat suits can't be told yet" in perhaps.remarks
    assert not perhaps.paths("plate")


_BASES = {
    "held": {"neighbours": {"neighbour_offset": "9 ft"}},
    "sloped": {"piers": SLOPED, "groundwater_met": "yes", "depth_to_groundwater": "3 ft"},
}


# Shown only with another seat, or while no water was met.
_NOT_SHOWN = {"spanning tube depth", "spanning tube width"}


@pytest.mark.parametrize("base", _BASES)
def test_no_answer_that_is_not_known_makes_a_figure_appear(base):
    known = judged(document(**_BASES[base]))
    (drawing,) = section_drawings(known)
    before, tried = Drawn(drawing), 0
    for of, word in [(of, VOCABULARY[word]) for of, words in LOOKED_AT.items() for word in words]:
        if word.origin is Origin.DERIVED:
            continue
        rows = known.survey.rows(of)
        if any(row.value(word.name) is DOES_NOT_APPLY for row in rows):
            continue
        survey = with_not_known(known.survey, of, word.name)
        (drawing,) = section_drawings(assess(survey, (), BOOK))
        section, tried = Drawn(drawing), tried + 1
        assert set(section.figures) <= set(before.figures), word.name
        if word.name in _NOT_SHOWN or (word.name == "test hole depth" and base == "sloped"):
            continue
        both = (section.told + section.remarks, before.told + before.remarks)
        assert both[0].count("not known") > both[1].count("not known"), word.name
    assert tried > 20


def with_not_known(survey, of, word):
    """A survey of which one answer is not known, and what depends on it neither."""

    def forgot(row, asked, value):
        return NOT_KNOWN if (row.subject, asked.name) == (of, word) else value

    return change(survey, forgot)


# Kinds of pit


def test_piers_whose_figures_are_the_same_are_one_kind_and_the_worst_verdict_comes_first():
    made = document()
    made["piers"][3] |= {"pit_depth": "6 ft", "spoil_distance": "1 ft"}
    assessment = judged(made)
    assert assessment.piers[3].verdict is Verdict.NO_GO
    drawings = section_drawings(assessment)
    assert [d.where for d in drawings] == [("P4",), ("P1", "P2", "P3", "P5")]
    assert [d.title for d in drawings] == ["Section at P4", "Section at P1, P2, P3 and 1 more"]
    assert len({Drawn(d).root.attrib["aria-labelledby"] for d in drawings}) == 2


def test_how_near_a_neighbour_stands_makes_no_kind_of_its_own():
    # Past the end of the shed, P5 stands farther off than P4.
    made = document(neighbours={"neighbour_offset": "9 ft", "neighbour_end_station": "6 ft"})
    (drawing,) = section_drawings(judged(made))
    assert "drawn as near as it is to P4" in Drawn(drawing).told


def test_no_more_than_twelve_kinds_are_drawn_and_the_others_are_named():
    deeper = {i: {"pit depth": f"{4 + 0.1 * i} ft"} for i in range(1, 15)}
    drawings = section_drawings(made_assessments.judged(piers=14, some_piers=deeper))
    assert len(drawings) == MOST_KINDS + 1
    assert drawings[-1].svg == ""
    assert len({label for drawing in drawings for label in drawing.where}) == 14
    assert "Only 12 kinds of pit are drawn" in drawings[-1].remarks[0]


def test_the_same_site_gives_the_same_drawings():
    assert section_drawings(judged(document())) == section_drawings(judged(document()))


def test_a_metric_survey_is_drawn_at_a_metric_scale_with_metric_figures():
    survey = replace(survey_of(document()), units=Units.METRIC)
    (drawing,) = section_drawings(assess(survey, (), BOOK))
    section = Drawn(drawing)
    assert section.scale == 50
    assert "pit depth 1.6 m" in section.figures
    assert any(words.text.endswith(" m") for words in section.texts)
    assert not re.search(r"\d (ft|in)\b", section.told)


# Legible


@pytest.mark.parametrize("name", DEMO)
def test_no_text_lies_on_another_in_a_demo(name):
    for drawing in section_drawings(assess(survey_of(DEMO[name](), name), (), BOOK)):
        assert not list(Drawn(drawing).overlaps())


@pytest.mark.parametrize("first", range(0, 200, 50))
def test_no_text_lies_on_another_in_random_sites(first):
    for seed in range(first, first + 50):
        for drawing in section_drawings(assess(random_survey(random.Random(seed)), (), BOOK)):
            if drawing.svg:
                assert not list(Drawn(drawing).overlaps()), seed


HOSTILE = [
    "<script>alert(1)</script>", "]]></svg><img src=x onerror=alert(1)>", 'a" onload="alert(1)',
    "Donaudampfschifffahrtsgesellschaftskapitänsmützenabzeichen" * 3, "שלום עולם " * 9,
    "\N{PILE OF POO}" * 80, "&amp;&lt;", "=1+1",
]  # fmt: skip


@pytest.mark.parametrize("label", HOSTILE)
def test_hostile_labels_do_no_harm(label):
    survey = survey_of(document(neighbours={"neighbour_offset": "9 ft"}))
    survey = replace(
        survey,
        soil_layers=tuple(replace(row, label=label + str(i))
                          for i, row in enumerate(survey.soil_layers)),
        neighbours=tuple(replace(row, label=label) for row in survey.neighbours),
        piers=tuple(replace(row, label=f"{label}{i}") for i, row in enumerate(survey.piers)),
    )  # fmt: skip
    (drawing,) = section_drawings(assess(survey, (), BOOK))
    section = Drawn(drawing)
    assert {element.tag.rpartition("}")[2] for element in section.root.iter()} <= {
        "svg", "title", "desc", "polyline", "polygon", "text",
    }  # fmt: skip
    for element in section.root.iter():
        assert not [name for name in element.attrib if name.startswith("on")]
    assert not list(section.overlaps())
    assert label in section.told


def test_every_look_stands_in_the_style_sheet():
    css = (Path(__file__).parents[3] / "forms" / "drawings.css").read_text("utf-8")
    made = [*DEMO.values(), lambda: document(piers=SLOPED, groundwater_met="yes",
            depth_to_groundwater="3 ft"), lambda: document(piers={"pit_width": "not known"}),
            lambda: document(piers={"side_protection": "benched"})]  # fmt: skip
    looks = {
        element.attrib["class"]
        for make in made
        for drawing in section_drawings(judged(make()))
        for element in Drawn(drawing).root.iter()
        if "class" in element.attrib
    } - {"drawing", "section-label"}  # as any text
    assert looks
    for look in looks:
        assert f".{look} " in css or f".{look}," in css, look


def test_an_answer_that_does_not_apply_is_not_drawn_as_a_figure():
    made = document(walls={"footing_kind": "none found"})
    for wall in made["walls"]:
        for word in [word for word in wall if word in OF_CONCRETE or word.startswith("footing_")]:
            if word != "footing_kind":
                del wall[word]
        wall.pop("concrete_strength", None)
    survey = survey_of(made)
    assert {wall.value("footing width") for wall in survey.walls} == {DOES_NOT_APPLY}
    (drawing,) = section_drawings(assess(survey, (), BOOK))
    section = Drawn(drawing)
    assert "no footing was found under the wall" in section.told
    assert not section.paths("footing")
    # The wall goes down to the depth at which the footing was looked for.
    assert max(y for _, y in section.path("wall")) == near(ground_of(section) + 48, section)
