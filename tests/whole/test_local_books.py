"""The example books under rules/local: each reads as it stands, holds, and does what it says."""

from __future__ import annotations

import html
import json
import re
import shutil
from typing import Any

import openpyxl
import pytest

from survey.answers import read_survey
from survey.assessment import Assessment, assess
from survey.document import read_document
from survey.errors import UserError
from survey.model import Survey
from survey.resources import folder
from survey.rulebook import production
from survey.rulebook.book import load_book
from survey.rulebook.cases import case_facts, given_when_met, read_cases, stand_alone
from survey.rulebook.messages import RuleBookError
from survey.rulebook.rules import Lift, Outcome, Rule, RuleBook
from survey.rulebook.study.edges import unnoticed, untold
from survey.sheets import render
from survey.vocabulary import VOCABULARY, Subject
from survey.workbook import open_survey, write_form
from tests.demo_surveys import careful_house

LOCAL = folder("rules") / "local"
SHIPPED = load_book()
BOOKS = {name: load_book(LOCAL / name) for name in ("metric", "own_firm", "stricter_place")}
NAMES = sorted(BOOKS)
CAREFUL = "GO WITH CONDITIONS"


def own_rules(book: RuleBook) -> list[Rule]:
    return [rule for rule in book if rule.local]


def read(document: dict[str, Any], book: RuleBook) -> Survey:
    words = book.vocabulary
    survey, problems = read_survey(read_document(json.dumps(document), "site.json", words), words)
    assert not problems, "\n".join(map(str, problems))
    return survey


def judged(document: dict[str, Any], book: RuleBook) -> Assessment:
    return assess(read(document, book), (), book)


def codes(assessment: Assessment, outcome: Outcome | None = None, place: str = "") -> set[str]:
    """Codes of the findings that count, of one outcome and at one place if these are given."""
    return {
        finding.rule.code
        for finding in assessment.findings
        if finding.counts and outcome in (None, finding.outcome) and place in ("", finding.place)
    }


def said(assessment: Assessment, code: str, place: str = "") -> str:
    """What the first finding or conclusion of a rule says."""
    found = [(f.rule.code, f.place, f.say) for f in assessment.findings]
    found += [(c.rule.code, c.place, c.text) for c in assessment.chained]
    return next(text for of, at, text in found if of == code and place in ("", at))


def house(**site: object) -> dict[str, Any]:
    document = careful_house()
    document["site"] |= site
    return document


def unprotected(**pier: str) -> dict[str, Any]:
    """The careful house with nothing to hold the sides of P1."""
    document = careful_house()
    words = {word.key: word for word in VOCABULARY.asked_of(Subject.PIER)}
    held = ("side protection", "protection design", "foot of the slope")
    document["piers"][0] = {
        key: answer
        for key, answer in document["piers"][0].items()
        if key not in words or not (when := words[key].asks_when) or when.word not in held
    }
    document["piers"][0] |= {"side_protection": "none", **pier}
    return document


# What every example must be


def test_each_example_is_one_file_in_a_folder_of_its_name():
    assert sorted(entry.name for entry in LOCAL.iterdir()) == NAMES
    for name in NAMES:
        assert [entry.name for entry in (LOCAL / name).iterdir()] == [f"{name}.rules"]


@pytest.mark.parametrize("name", NAMES)
def test_the_file_says_that_it_is_an_example_and_how_to_start_from_it(name):
    text = (LOCAL / name / f"{name}.rules").read_text("utf-8")
    heading = " ".join(text.split("topic ")[0].replace("#", " ").split())
    assert heading.startswith("An example: ")
    assert "Nothing in this file is in force until it is given with --rules" in heading
    assert f"--rules rules/local/{name}" in heading
    assert "To start from it: copy the file into a folder of your own" in heading


def test_no_example_is_part_of_the_shipped_book():
    assert SHIPPED.changes == ()
    assert own_rules(SHIPPED) == []
    shipped = {rule.code for rule in SHIPPED}
    for book in BOOKS.values():
        added = {rule.code for rule in own_rules(book)} - {"PIER-9"}  # which is replaced
        assert added
        assert not added & shipped
        assert book.changed_figures
        assert all(book.limits[n].steps != SHIPPED.limits[n].steps for n in book.changed_figures)


def test_only_the_shipped_folder_may_hold_a_folder_of_examples(tmp_path):
    shutil.copytree(LOCAL / "own_firm", tmp_path / "ours")
    load_book(tmp_path / "ours")
    (tmp_path / "ours" / "local").mkdir()
    with pytest.raises(UserError, match="local would not be read"):
        load_book(tmp_path / "ours")


@pytest.mark.parametrize("name", NAMES)
def test_its_cases_can_be_read_and_no_edge_is_unnoticed(name):
    book = BOOKS[name]
    assert [str(mistake) for mistake in read_cases(book)[1]] == []
    open_edges = [*unnoticed(book), *untold(book)]
    assert [f"{one.place}: {one.rule.code}: {one.change}" for one in open_edges] == []


@pytest.mark.skipif(not production.available(), reason="durable-rules does not load here")
@pytest.mark.parametrize("name", NAMES)
def test_its_cases_by_durable_rules(name):
    """The direct evaluator has tried them: a book that fails a case is not read at all."""
    cases = [c for c in read_cases(BOOKS[name])[0] if c.span.file.startswith(f"{name}/")]
    assert len(cases) > 40
    wrong = []
    for rule in {case.rule.code: case.rule for case in cases}.values():
        of_rule = [case for case in cases if case.rule is rule]
        evaluator = production.ProductionEvaluator(stand_alone(of_rule[0]))
        for case in of_rule:
            told = evaluator.judge(case_facts(case))
            met = given_when_met(rule)
            gives = met if told.met else "ask" if told.cannot_tell else "nothing"
            if gives != case.gives:
                wrong.append(f"{case.span.file}:{case.span.line} gives {gives}")
    assert wrong == []


@pytest.mark.parametrize("name", NAMES)
def test_nothing_in_it_is_doubtful(name):
    pytest.importorskip("z3")
    from survey.rulebook.study.doubts import doubts

    found = [d for d in doubts(BOOKS[name]).found if any(rule.local for rule in d.rules)]
    # A place that asks for a wider tolerance zone leaves nothing to the shipped check of it.
    outdone = {"stricter_place": [{"LINE-52", "TANSY-1"}]}
    assert [{rule.code for rule in doubt.rules} for doubt in found] == outdone.get(name, [])


@pytest.mark.parametrize("name", NAMES)
def test_the_crew_reads_its_rules_in_spanish_with_the_same_figures(name):
    read_on_site = [
        rule
        for rule in own_rules(BOOKS[name])
        if rule.then is Outcome.CONDITION
        or (rule.who in ("crew", "competent person") and not isinstance(rule.then, Lift))
    ]
    assert len(read_on_site) >= 2
    for rule in read_on_site:
        for english, spanish in ((rule.say, rule.say_es), (rule.do, rule.do_es)):
            assert spanish not in ("", english), rule.code
            assert re.findall(r"\d+", spanish) == re.findall(r"\d+", english), rule.code


@pytest.mark.parametrize("name", ["metric", "stricter_place"])
def test_every_figure_of_a_place_is_to_be_confirmed_there(name):
    book = BOOKS[name]
    own_limits = [limit for limit in book.limits.values() if limit.place.startswith(f"{name}/")]
    assert len(own_limits) >= 8
    for one in (*own_limits, *own_rules(book)):
        assert "confirm locally" in one.source, one.place


@pytest.mark.parametrize("name", NAMES)
def test_every_figure_that_it_changes_is_stricter(name):
    figures = [c.what for c in BOOKS[name].changes if re.match(r"(legal )?limit ", c.what)]
    assert len(figures) >= 6
    assert [what for what in figures if "; stricter, shipped: " not in what] == []


LOOSER = {"metric": "0.6 m", "own_firm": "23 in", "stricter_place": "1 ft 11 in"}


@pytest.mark.parametrize("name", NAMES)
def test_a_copy_that_loosens_a_figure_of_law_is_refused_with_both_lines(name, tmp_path):
    text = (LOCAL / name / f"{name}.rules").read_text("utf-8")
    stands = re.search(r"legal limit spoil set-back = .*", text)[0]
    loosened = f"legal limit spoil set-back = {LOOSER[name]}"
    (tmp_path / "copy.rules").write_text(text.replace(stands, loosened), "utf-8")
    with pytest.raises(RuleBookError) as caught:
        load_book(tmp_path)
    (mistake,) = (str(one) for one in caught.value.mistakes)
    assert f"'spoil set-back' of {LOOSER[name]} is looser than the law, which says 2 ft" in mistake
    assert f" | {loosened}" in mistake
    assert (
        " | legal limit spoil set-back = 2 ft" in mistake.split("The law stands at dig.rules:")[1]
    )


@pytest.mark.parametrize("name", NAMES)
def test_the_sheet_says_which_local_rules_were_in_force(name):
    book = BOOKS[name]
    page = render(judged(careful_house(), book)).replace("<wbr>", "")
    page = html.unescape(re.sub(r"\s+", " ", page))
    for change in book.changes:
        assert change.what in page
        assert change.place in page
    without = render(judged(careful_house(), SHIPPED))
    assert f"{name}.rules" not in without


# The careful house, by each of them


def test_the_careful_house_by_the_shipped_book():
    assert judged(careful_house(), SHIPPED).verdict.value == CAREFUL


ANSWERED = {
    "own_firm": {
        "crew_date": "2026-11-30", "last_crew_date": "2026-12-04", "gauge_test_date": "2026-05-04",
    },
    "stricter_place": {
        "tolerance_zone": "30 in", "inspection_before_backfilling": "booked",
        "permit_to_dig_near_pavements": "no", "fence_height": "6 ft",
        "hours_of_work": "weekdays 7 am to 6 pm",
    },
    "metric": {
        "guard_rail_height": "1.1", "gap_below_guard_rail": "25",
        "heaviest_piece_carried_by_one_person": "0.25",
    },
}  # fmt: skip


@pytest.mark.parametrize(
    ("name", "holds"),
    [
        ("own_firm", {"SURVEY-1", "QUERN-1"}),
        ("stricter_place", {f"TANSY-{n}" for n in (1, 3, 4, 6, 7)}),
        ("metric", {"METRE-1", "METRE-2", "METRE-3"}),
    ],
)
def test_a_survey_from_before_is_held_until_the_new_questions_are_answered(name, holds):
    found = judged(careful_house(), BOOKS[name])
    assert found.verdict.value == "HOLD"
    assert codes(found, Outcome.ASK) == holds
    assert judged(house(**ANSWERED[name]), BOOKS[name]).verdict.value == CAREFUL


@pytest.mark.parametrize(
    ("name", "site", "verdict", "code"),
    [
        ("own_firm", {"gauge_test_date": "2025-11-29"}, CAREFUL, "QUERN-1"),
        ("own_firm", {"crew_size": "2"}, "NO-GO", "QUERN-2"),
        ("own_firm", {"last_crew_date": "2026-12-07"}, CAREFUL, "QUERN-4"),
        ("own_firm", {"clear_spacing_of_open_pits": "4 ft 6 in"}, "ENGINEER REVIEW", "FOOT-19"),
        ("stricter_place", {"tolerance_zone": "24 in"}, "HOLD", "TANSY-1"),
        ("stricter_place", {"building_permit": "not needed, as the building office says"}, "HOLD",
         "TANSY-2"),
        ("stricter_place", {"inspection_before_backfilling": "not booked"}, "HOLD", "TANSY-3"),
        ("stricter_place", {}, CAREFUL, "TANSY-4"),
        ("stricter_place", {"fence_height": "5 ft 11 in"}, CAREFUL, "TANSY-6"),
        ("stricter_place", {"hours_of_work": "other hours too"}, "NO-GO", "TANSY-7"),
        ("metric", {"guard_rail_height": "1.09"}, CAREFUL, "METRE-1"),
        ("metric", {"gap_below_guard_rail": "26"}, CAREFUL, "METRE-2"),
        ("metric", {"heaviest_piece_carried_by_one_person": "0.3"}, CAREFUL, "METRE-3"),
    ],
)  # fmt: skip
def test_an_answer_that_breaks_a_rule_of_the_book(name, site, verdict, code):
    found = judged(house(**ANSWERED[name] | site), BOOKS[name])
    assert found.verdict.value == verdict
    assert code in codes(found)
    if site:
        assert code not in codes(judged(house(**ANSWERED[name]), BOOKS[name]))


@pytest.mark.parametrize("name", NAMES)
def test_spoil_that_the_law_allows_and_the_book_does_not(name):
    document = house(**ANSWERED[name])
    document["piers"][0]["spoil_distance"] = "2 ft 3 in"
    assert "DIG-15" in codes(judged(document, BOOKS[name]), Outcome.STOP, "P1")
    legal = careful_house()
    legal["piers"][0]["spoil_distance"] = "2 ft 3 in"
    assert judged(legal, SHIPPED).verdict.value == CAREFUL


# A firm's own


def spaced(**pier: str) -> dict[str, Any]:
    """The careful house as detail U-4 wants it, with no release on the survey for FOOT-1."""
    document = house(**ANSWERED["own_firm"])
    stations = ("5 ft", "13 ft", "20 ft 6 in", "4 ft 6 in", "12 ft 6 in")
    for one, station in zip(document["piers"], stations, strict=True):
        one["station"] = station
    document["piers"][0] |= pier
    document["releases"] = [r for r in document["releases"] if r["released_finding"] != "FOOT-1"]
    return document


def test_the_standing_release_lifts_the_footing_rule_where_the_detail_is_kept_to():
    found = judged(spaced(), BOOKS["own_firm"])
    assert found.verdict.value == CAREFUL
    lifted = [f.place for f in found.findings if f.rule.code == "FOOT-1" and not f.counts]
    assert lifted == ["P1", "P2", "P3", "P4", "P5"]
    page = render(found)
    assert "E. Dunnock" in page
    assert "Detail U-4" in page


@pytest.mark.parametrize(
    ("pier", "wall", "site", "outcome"),
    [
        ({"pit_length": "36 in"}, {}, {}, None),
        ({"pit_length": "37 in"}, {}, {}, Outcome.ENGINEER),
        ({"pit_width": "37 in"}, {}, {}, Outcome.ENGINEER),
        ({"station": "7 ft"}, {}, {}, Outcome.ENGINEER),
        ({}, {"footing_thickness": "8 in"}, {}, None),
        ({}, {"footing_thickness": "7.9 in"}, {}, Outcome.ENGINEER),
        ({}, {"footing_thickness": "not known"}, {}, Outcome.ENGINEER),
        ({}, {"wall_material": "wood"}, {}, Outcome.ENGINEER),
        ({}, {}, {"soil_classified_by_competent_person": "no"}, Outcome.ENGINEER),
        ({"seepage_at_pit": "not known"}, {}, {}, Outcome.ENGINEER),
        ({}, {}, {"crew_date": "2026-03-01", "last_crew_date": "2026-03-06"}, Outcome.ENGINEER),
        ({}, {}, {"crew_date": "2027-12-30", "last_crew_date": "2027-12-31"}, None),
        ({}, {}, {"crew_date": "2027-12-30", "last_crew_date": "2028-01-01"}, Outcome.ENGINEER),
    ],
)
def test_the_standing_release_lifts_nothing_where_one_condition_is_missed(
    pier, wall, site, outcome
):
    document = spaced(**pier)
    document["walls"][0] |= wall
    document["site"] |= site
    found = judged(document, BOOKS["own_firm"])
    (at_p1,) = (f for f in found.findings if f.rule.code == "FOOT-1" and f.place == "P1")
    assert (at_p1.outcome if at_p1.counts else None) is outcome


def test_a_rule_that_the_firm_replaces_by_a_stricter_one():
    untested = {"corrosion_tests": "none made"}
    document, shipped = house(**ANSWERED["own_firm"] | untested), house(**untested)
    for one in (document, shipped):
        for key in ("soil_resistivity", "soil_acidity", "soil_chloride", "soil_sulfate"):
            del one["site"][key]
    assert "PIER-9" in codes(judged(shipped, SHIPPED), Outcome.NOTE)
    found = judged(document, BOOKS["own_firm"])
    assert "PIER-9" in codes(found, Outcome.ENGINEER)
    assert found.verdict.value == "ENGINEER REVIEW"


def test_a_rule_that_the_firm_switches_off():
    long = {"section_length": "9 ft"}  # with its stand it takes 8 ft 6 in
    document, shipped = house(**ANSWERED["own_firm"] | long), house(**long)
    for one in (document, shipped):
        one["piers"][0]["headroom_at_pier"] = "8 ft"
    assert "PIER-10" in codes(judged(shipped, SHIPPED), Outcome.STOP)
    assert judged(document, BOOKS["own_firm"]).verdict.value == CAREFUL
    document["piers"][0]["headroom_at_pier"] = "65 in"
    found = judged(document, BOOKS["own_firm"])
    assert "QUERN-7" in codes(found, Outcome.STOP)
    assert "there is 65 in of headroom; our drive stand needs 66 in." in said(found, "QUERN-7")


# A stricter place


@pytest.mark.parametrize(
    ("offset", "more", "permit", "stops"),
    [
        ("10 ft", {"other_owner": "yes", "notice_date": "2026-11-02"}, "no", True),
        ("10 ft", {"other_owner": "yes", "notice_date": "2026-11-02"}, "yes", False),
        ("10 ft", {"other_owner": "no"}, "no", False),
        ("12 ft", {"other_owner": "yes", "notice_date": "2026-11-02"}, "no", False),
    ],
)
def test_a_pit_near_a_public_pavement_needs_the_town_s_permit(offset, more, permit, stops):
    document = house(**ANSWERED["stricter_place"] | {"permit_to_dig_near_pavements": permit})
    pavement = {
        "label": "Sallow Road", "neighbour_kind": "pavement or sidewalk",
        "wall_of_neighbour": "South", "neighbour_start_station": "0 ft",
        "neighbour_end_station": "40 ft", "neighbour_offset": offset,
        "neighbour_footing_depth": "0 ft", **more,
    }  # fmt: skip
    document["neighbours"].append(pavement)
    found = judged(document, BOOKS["stricter_place"])
    assert ("TANSY-5" in codes(found, Outcome.STOP)) is stops


@pytest.mark.parametrize(("day", "late"), [("2026-11-16", False), ("2026-11-17", True)])
def test_neighbours_are_told_three_weeks_before(day, late):
    document = house(**ANSWERED["stricter_place"])
    document["neighbours"][0] |= {"other_owner": "yes", "notice_date": day}
    assert ("NEAR-7" in codes(judged(document, BOOKS["stricter_place"]))) is late
    shipped = careful_house()
    shipped["neighbours"][0] |= {"other_owner": "yes", "notice_date": day}
    assert "NEAR-7" not in codes(judged(shipped, SHIPPED))


# A pit that only some books catch


@pytest.mark.parametrize(
    ("depth", "caught_by"),
    [
        ("3 ft 11 in", set()),
        ("1.19 m", set()),
        ("1.2 m", {"metric"}),
        ("4 ft", {"metric", "stricter_place"}),
        ("4 ft 11 in", {"metric", "stricter_place"}),
        ("5 ft", {"metric", "stricter_place", "own_firm", "shipped"}),
    ],
)
def test_a_pit_without_protection(depth, caught_by):
    document = unprotected(pit_depth=depth, footing_depth="3 ft")
    books = {**BOOKS, "shipped": SHIPPED}
    found = {name: judged(document, book) for name, book in books.items()}
    stopped = {name for name, one in found.items() if "DIG-1" in codes(one, Outcome.STOP, "P1")}
    assert stopped == caught_by
    for name, one in found.items():
        assert (one.verdict.value == "NO-GO") is (name in caught_by)


# Metres on paper


def test_a_limit_in_metres_stands_beside_an_answer_in_feet_in_both():
    found = judged(unprotected(pit_depth="4 ft", footing_depth="3 ft"), BOOKS["metric"])
    text = (
        "Pit P1 is 4 ft deep at its deepest point; "
        "from 1.2 m [3 ft 11.244 in] on its sides must be held."
    )
    assert said(found, "DIG-2", "P1") == text
    shipped = judged(unprotected(pit_depth="6 ft", footing_depth="3 ft"), SHIPPED)
    text = "Pit P1 is 6 ft deep at its deepest point; from 5 ft on its sides must be held."
    assert said(shipped, "DIG-2", "P1") == text


def test_what_a_seat_needs_stands_in_both_units_too():
    document = house(**ANSWERED["metric"])
    document["walls"][0]["footing_thickness"] = "8.2 in"
    found = judged(document, BOOKS["metric"])
    why = next(seat.why for seat in found.piers[0].seats if seat.name == "under cut footing")
    assert why[0] == (
        "footing: footing thickness of South: 8.2 in; it needs: footing thickness is at least "
        "thinnest footing for a seat (210 mm [8.268 in])"
    )


def test_answers_to_questions_in_metric_units_are_printed_in_them():
    site = ANSWERED["metric"] | {
        "guard_rail_height": "3 ft", "gap_below_guard_rail": "2 cm 8 mm",
        "heaviest_piece_carried_by_one_person": "100 lb",
    }  # fmt: skip
    found = judged(house(**site), BOOKS["metric"])
    assert "is 0.914 m high; it must be 1.1 m." in said(found, "METRE-1")
    assert "a gap of 28 mm below the guard rail (limit 25 mm)" in said(found, "METRE-2")
    assert "would carry 0.445 kN alone (limit 0.25 kN)" in said(found, "METRE-3")
    page = render(found)
    for figure in ("0.914 m", "28 mm", "0.445 kN", "1.1 m"):
        assert figure in page


def test_metric_answers_to_shipped_questions_are_compared_with_metric_limits():
    document = house(**ANSWERED["metric"])
    document["soil_layers"][0]["unconfined_strength"] = "47 kPa"
    document["soil_layers"][0]["strength_test"] = "penetrometer or vane"
    del document["soil_layers"][0]["thumb_test"]
    document["piers"][0]["spoil_distance"] = "0.99 m"
    document["piers"][1]["spoil_distance"] = "100 cm"
    found = judged(document, BOOKS["metric"])
    assert "0.491 tsf (at least 48 kPa [0.501 tsf])" in said(found, "METRE-4")
    assert "lie 3 ft 2.976 in from" in said(found, "DIG-15", "P1")
    assert "they must be 1 m [3 ft 3.37 in] back" in said(found, "DIG-15", "P1")
    assert "DIG-15" not in codes(found, place="P2")


def test_a_form_in_metric_units_takes_bare_numbers_of_them(tmp_path):
    book = BOOKS["metric"]
    form = tmp_path / "site.xlsx"
    write_form(form, read(careful_house(), book))
    blank, _ = read_survey(open_survey(form, book.vocabulary), book.vocabulary)
    written = openpyxl.load_workbook(form)
    for name, value in (("guard rail height", 1.05), ("gap below guard rail", 30),
                        ("heaviest piece carried by one person", "0.2 kN")):  # fmt: skip
        sheet, _, cell = blank.site.answers[name].where.partition("!")
        written[sheet][cell] = value
    written.save(form)
    survey, problems = read_survey(open_survey(form, book.vocabulary), book.vocabulary)
    assert not problems
    found = assess(survey, problems, book)
    assert "is 1.05 m high" in said(found, "METRE-1")
    assert "a gap of 30 mm" in said(found, "METRE-2")
    assert "METRE-3" not in codes(found)
