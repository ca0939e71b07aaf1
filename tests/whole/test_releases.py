"""Releases end to end: whole surveys, changed, to verdict, sheet, record and lines in the terminal.

Each release is on the careful house, which has FOOT-1 at its five piers and is GO WITH CONDITIONS
because an engineer released it. What is wrong with a release must leave the verdict where it was
without it, leave the finding marked as found, and say on the sheet why, in words that tell what to
do.
"""

from __future__ import annotations

from typing import Any

import openpyxl
import pytest

from survey.answers import read_survey
from survey.assessment import assess
from survey.rulebook.rules import Outcome, ReleaseBy
from survey.vocabulary import Subject
from survey.workbook import open_survey, write_form
from tests.demo_surveys import survey_of
from tests.told_releases import (
    BOOK,
    COMPETENT,
    EVERY,
    NOT_COUNTED,
    NOTE,
    PIERS,
    RELEASED,
    Told,
    as_told,
    house,
    refused,
    release,
    told,
)


def assert_refused(found: Told, why: str, label: str = "R1") -> None:
    """The release lifts nothing, changes no verdict, and both sheet and record say why."""
    assert found.verdict == "ENGINEER REVIEW"
    assert found.lifted() == []
    assert "Keep to it: Letter of 20 Nov 2026: one pit" not in found.boxes()
    assert any(why in said for said in refused(found, label)), refused(found, label)
    assert f"sheet Releases: {label}" in found.section("What stops the job")
    assert all("FOOT-1" in codes for codes in found.pier_lines().values())


def test_without_a_release_the_footing_rule_is_for_the_engineer():
    found = told(house())
    assert found.verdict == "ENGINEER REVIEW"
    assert found.lifted() == []
    assert "FOOT-1" in found.section("What stops the job")
    assert NOT_COUNTED not in found.page.sections


def test_a_release_that_holds_lifts_the_finding_which_stays_on_the_sheet():
    found = told(house(release()))
    assert found.verdict == "GO WITH CONDITIONS"
    assert found.lifted() == PIERS
    released = found.section(RELEASED)
    assert "FOOT-1 Pit P1 goes down 5 ft 3 in and the footing ends at 4 ft" in released
    assert "T. Aldermoor , licensed engineer, licence PE 00000 (invented) , from" in released
    assert "2026-11-20 to 2027-01-15" in released
    assert f"R1 , releases[1], for {EVERY}" in released
    assert NOT_COUNTED not in found.page.sections
    assert found.record["unused_releases"] == []


def test_the_crew_ticks_what_the_release_rests_on():
    found = told(house(release()))
    assert f"Keep to it: {NOTE} (FOOT-1, released by T. Aldermoor (licensed engineer) until" in (
        found.boxes()
    )
    assert f"{EVERY}" in found.boxes().partition(NOTE)[2]
    assert "box to tick" in str(found.page.attributes)
    assert "FOOT-1 as released" in found.lines


def test_a_release_may_be_given_on_the_day_of_the_survey():
    assert told(house(release(release_date="2026-11-18"))).verdict == "GO WITH CONDITIONS"


def test_a_release_may_begin_on_the_crew_s_first_day_and_end_on_its_last():
    found = told(house(release(release_date="2026-12-07", release_end="2026-12-11")))
    assert found.verdict == "GO WITH CONDITIONS"
    assert found.lifted() == PIERS


@pytest.mark.parametrize(
    ("changes", "site", "why"),
    [
        ({"release_end": "2026-12-10"}, {},
         "it ends on 2026-12-10, before the crew's last day (2026-12-11); have it"),
        ({"release_date": "2026-12-08"}, {},
         "it is dated 2026-12-08, after the crew's first day (2026-12-07)"),
        ({"release_date": "2026-11-17"}, {},
         "it is dated 2026-11-17, before the survey of 2026-11-18; have it given anew"),
        ({"release_date": "2027-01-20", "release_end": "2026-12-31"}, {},
         "it is dated 2027-01-20, after the crew's first day"),
        ({}, {"crew_date": "not known"},
         "so it can't be told if it holds then (site.crew_date)"),
        ({}, {"last_crew_date": "not known"},
         "so it can't be told if it holds then (site.last_crew_date)"),
        ({}, {"survey_date": "not known"}, "the survey date is not known (site.survey_date)"),
        ({}, {"crew_date": "2026-12-11", "last_crew_date": "2026-12-07"},
         "the crew's last day (2026-12-07) is before its first (2026-12-11); put them right"),
        # Between the two days that stand in the wrong order.
        ({"release_date": "2026-12-09"},
         {"crew_date": "2026-12-11", "last_crew_date": "2026-12-07"},
         "is before its first (2026-12-11); put them right"),
    ],
)  # fmt: skip
def test_days_on_which_it_does_not_hold(changes, site, why):
    assert_refused(told(house(release(**changes), **site)), why)


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        (COMPETENT, "only a licensed engineer may release FOOT-1, not a competent person"),
        ({"licence_number": None}, "it gives no licence number: licence number (releases[1]."),
        ({"licence_number": "pending"}, "licence number (releases[1].licence_number: 'pending')"),
        ({"licence_number": "PE, Kansas"}, "it gives no licence number: licence number (releases"),
        ({"licence_number": "????"}, "it gives no licence number"),
        ({"released_by": "TBD"}, "it does not say: released by (releases[1].released_by: 'TBD')"),
        ({"released_by": "to be confirmed"}, "it does not say: released by"),
        ({"released_by": "T.B.D."}, "it does not say: released by"),
        ({"released_by": "Don't know"}, "released by (releases[1].released_by: 'Don't know')"),
        ({"released_by": "no sé"}, "it does not say: released by"),
        ({"release_note": "por confirmar"}, "release note (releases[1].release_note: 'por conf"),
        ({"release_note": "see office"}, "it does not say: release note"),
        ({"released_by": "The engineer"}, "it names no person: released by (releases[1]"),
        ({"released_by": "P.E."}, "it names no person"),
        ({"released_by": "4711"}, "it names no person"),
        ({"releasing_role": None}, "it does not say: releasing role"),
        ({"release_note": "approved"}, "release note (releases[1].release_note: 'approved')"),
        ({"release_note": "see above"}, "it does not say: release note"),
    ],
)  # fmt: skip
def test_who_may_not_release_it(changes, why):
    assert_refused(told(house(release(**changes))), why)


@pytest.mark.parametrize(
    "key", ["released_by", "releasing_role", "release_date", "release_end", "release_note"]
)
def test_a_blank_field_is_named_with_its_cell(key):
    found = told(house(release(**{key: None})))
    assert_refused(found, f"it does not say: {key.replace('_', ' ')} (releases[1].{key})")


def test_a_row_that_is_only_begun_names_all_that_is_missing():
    found = told(house({"label": "R1", "released_finding": "FOOT-1"}))
    assert_refused(found, "it does not say: released place (releases[1].released_place)")
    (why,) = refused(found)
    assert "FOOT-1 was found at P1, P2, P3, P4, P5" in why
    for name in ("released by", "releasing role", "release date", "release end", "release note"):
        assert f"{name} (releases[1].{name.replace(' ', '_')})" in why
    found = told(house({"label": "R1"}))
    assert_refused(found, "it does not say: released finding (releases[1].released_finding)")


def test_a_release_with_a_cell_that_can_not_be_read_holds_nothing_and_the_cell_is_told():
    found = told(house(release(release_end="next spring")))
    assert_refused(found, "it does not say: release end (releases[1].release_end)")
    assert [problem.where for problem in found.assessment.problems] == ["releases[1].release_end"]
    assert "next spring" in found.section("Cells to put right")


def test_a_licence_beside_a_competent_person_holds_the_site():
    found = told(house(release(), release("R2", **{**COMPETENT, "licence_number": "PE 1"})))
    assert found.verdict == "HOLD"
    assert [problem.where for problem in found.assessment.problems] == [
        "releases[2].licence_number"
    ]


def test_two_releases_of_one_label_hold_the_site():
    found = told(house(release(), release("r1", released_place="P1")))
    assert found.verdict == "HOLD"
    assert len(found.assessment.problems) == 2


# What is lifted, and what is said of the part that names no place.
PLACES = [
    ("P1", ["P1"], ""),
    ("p1", ["P1"], ""),
    ("P1 to P3", ["P1", "P2", "P3"], ""),
    ("pier P2", ["P2"], ""),
    ("P1, P3; P5", ["P1", "P3", "P5"], ""),
    ("P1, P2, and P4", ["P1", "P2", "P4"], ""),
    ("P1 to P3, P5", ["P1", "P2", "P3", "P5"], ""),
    ("P1, P9", ["P1"], "'P9': there is no such pier on the survey"),
    ("P1 to P2, P5 to P7", ["P1", "P2"],
     "'P5 to P7': the survey has no P6, P7; name each place that is released"),
    ("P4 to P2", [], "'P4 to P2': it runs backwards; write the lower number first"),
    ("P1 to P9", [], "'P1 to P9': the survey has no P6, P7, P8, P9"),
    ("P1-P5", [], "'P1-P5': a range is written 'P1 to P5'"),
    ("P1 thru P5", [], "'P1 thru P5': a range is written 'P1 to P5'"),
    ("P1 to end", [], "'P1 to end': there is no such pier on the survey"),
    ("all", [], "'all': a pier that is added later was not released; name each, such as 'P1'"),
    ("every pier", [], "'every pier': a pier that is added later was not released"),
    ("everywhere", [], "a pier that is added later was not released"),
    ("site", [], "'site': it is found for each pier, not for the site; name each, such as 'P1'"),
    ("whole site", [], "'whole site': it is found for each pier, not for the site"),
    ("P1 / water service", [], "it is found for each pier alone; name that, such as 'P1'"),
    ("South", [], "'South': there is no such pier on the survey"),
    (",", [], "it does not say: released place (releases[1].released_place: ',')"),
    ("*", [], "it does not say: released place (releases[1].released_place: '*')"),
    ("P9, P8", [], "'P9': there is no such pier on the survey. 'P8': there is no such pier"),
    ("Pl", [], "'Pl': there is no such pier on the survey"),  # a small L for the 1
    ("P 1", [], "'P 1': there is no such pier on the survey; did you mean 'P1'?"),
]  # fmt: skip


@pytest.mark.parametrize(("place", "lifted", "why"), PLACES, ids=[one[0] for one in PLACES])
def test_only_the_places_that_are_named_are_lifted(place, lifted, why):
    found = told(house(release(released_place=place)))
    assert found.verdict == ("GO WITH CONDITIONS" if lifted == PIERS else "ENGINEER REVIEW")
    assert found.lifted() == lifted
    said = refused(found)
    assert bool(said) == bool(why)
    assert all(why in one for one in said), said


def test_a_pier_that_is_not_named_is_not_lifted_and_the_site_is_the_engineer_s():
    found = told(house(release(released_place="P1 to P4")))
    assert found.verdict == "ENGINEER REVIEW"
    assert found.lifted() == PIERS[:4]
    assert {p["pier"]: p["verdict"] for p in found.record["piers"]}["P5"] == "ENGINEER REVIEW"
    assert "P5" in found.section("What stops the job")


@pytest.mark.parametrize("at", range(6))
def test_a_pier_that_is_added_later_was_not_released_wherever_its_row_stands(at):
    document = house(release())
    document["piers"].insert(at, {**document["piers"][1], "label": "P2a", "station": "33 ft"})
    found = told(document)
    assert found.lifted() == PIERS
    assert not found.assessment.verdict.may_start
    (added,) = [pier for pier in found.record["piers"] if pier["pier"] == "P2a"]
    assert added["verdict"] in ("ENGINEER REVIEW", "NO-GO")


def test_a_range_over_a_pier_that_is_gone_lifts_nothing():
    document = house(release())
    del document["piers"][2]
    found = told(document)
    assert found.lifted() == []
    assert any("the survey has no P3; name each place" in why for why in refused(found))
    document["releases"][0]["released_place"] = "P1, P2, P4, P5"
    assert told(document).lifted() == ["P1", "P2", "P4", "P5"]


def with_line(*releases: dict[str, str], **line: str) -> dict[str, Any]:
    """The careful house with a septic tank near the pits on the south wall, and a water line."""
    document = house(release("R0"), *releases)
    document["utilities"].append(
        {**document["utilities"][0], "label": "septic tank", "utility_kind": "septic",
         "utility_start_station": "0 ft", "utility_end_station": "24 ft",
         "utility_start_offset": "7 ft", "utility_end_offset": "7 ft", **line}
    )  # fmt: skip
    return document


def fumes(place: str) -> dict[str, str]:
    """A competent person's release of LINE-18, which is found for a pier and a line."""
    return release(released_finding="LINE-18", released_place=place, **COMPETENT)


PAIRS = [
    ("P1 / septic tank", ["P1 / septic tank"], ""),
    ("P1 to P3 / septic tank", [f"P{i} / septic tank" for i in (1, 2, 3)], ""),
    ("P1, P3 / septic tank", [f"P{i} / septic tank" for i in (1, 3)], ""),
    ("P1 / septic tank, P2 / septic tank", [f"P{i} / septic tank" for i in (1, 2)], ""),
    ("P1", [], "'P1': it is found for a pier and utility; name both, such as 'P1 / water service'"),
    ("P1 to P3", [], "name both, such as 'P1 / water service'"),
    ("septic tank", [], "'septic tank': there is no such pier on the survey"),
    ("P1 / septc tank", [], "there is no such utility on the survey; did you mean 'septic tank'?"),
    ("P9 / septic tank", [], "'P9 / septic tank': there is no such pier on the survey"),
    ("P1 / water service", [], "LINE-18 was not found at P1 / water service"),
    ("P1 / septic tank to P3 / septic tank", [], "there is no such"),
    ("all / septic tank", [], "a pier that is added later was not released"),
    ("site", [], "it is found for each pier and utility, not for the site"),
]  # fmt: skip


@pytest.mark.parametrize(("place", "lifted", "why"), PAIRS, ids=[one[0] for one in PAIRS])
def test_places_of_a_pier_and_a_line(place, lifted, why):
    before = told(with_line())
    named = [f["place"] for f in before.record["findings"] if f["code"] == "LINE-18"]
    assert {f"P{i} / septic tank" for i in (1, 2, 3)} <= set(named)
    found = told(with_line(fumes(place)))
    assert found.lifted("LINE-18") == lifted
    said = refused(found)
    assert bool(said) == bool(why)
    assert all(why in one for one in said), said


def test_what_the_sheet_prints_as_the_place_of_a_finding_can_be_written_as_its_release():
    found = told(with_line())
    where = "P1 to P3 / septic tank"
    assert where in found.section("Conditions in full")
    assert len(told(with_line(fumes(where))).lifted("LINE-18")) == 3


def test_a_list_that_is_open_is_an_open_question_and_no_place_to_release():
    document = house(release("R0"), fumes("site"), all_utilities_listed="not known")
    found = told(document)
    assert found.verdict == "HOLD"
    assert found.lifted("LINE-18") == []
    (why,) = refused(found)
    assert "it can't be told yet whether there is LINE-18" in why
    assert "answer first: all utilities listed (site.all_utilities_listed)" in why


@pytest.mark.parametrize("place", ["site", "whole site", "Site"])
def test_a_finding_of_the_whole_site(place):
    document = house(release("R0"), release(released_finding="PIER-4", released_place=place))
    document["site"] |= {"pier_capacity_rated": "no"}
    del document["site"]["rated_pier_capacity"]
    found = told(document)
    assert found.lifted("PIER-4") == ["site"]
    assert "PIER-4 No evaluation report" in found.section(RELEASED)
    assert "whole site" in found.boxes()


@pytest.mark.parametrize("place", ["P1 to P5", "all", "everywhere"])
def test_a_finding_of_the_whole_site_is_not_released_pier_by_pier(place):
    document = house(release("R0"), release(released_finding="PIER-4", released_place=place))
    document["site"] |= {"pier_capacity_rated": "no"}
    del document["site"]["rated_pier_capacity"]
    found = told(document)
    assert found.verdict == "ENGINEER REVIEW"
    assert found.lifted("PIER-4") == []
    assert any("it is found for the whole site; write 'site'" in why for why in refused(found))


@pytest.mark.parametrize("place", ["No. 3", "neighbour No. 3"])
def test_a_finding_of_a_neighbour_by_its_label_and_as_on_the_sheet(place):
    document = house(release("R0"), release(released_finding="NEAR-3", released_place=place))
    document["neighbours"].append(
        {**document["neighbours"][0], "label": "No. 3", "neighbour_kind": "party wall",
         "neighbour_offset": "40 ft", "neighbour_footing_depth": "1 ft"}
    )  # fmt: skip
    found = told(document)
    assert found.lifted("NEAR-3") == ["No. 3"]


FINDINGS = [
    ("FOTO-1", "no rule has the code or name 'FOTO-1'; did you mean 'FOOT-1'?"),
    ("FOOT 1", "no rule has the code or name 'FOOT 1'; did you mean 'FOOT-1'?"),
    ("FOOT1", "no rule has the code or name 'FOOT1'; did you mean 'FOOT-1'?"),
    ("FOOT-01", "did you mean 'FOOT-1'?"),
    ("FOOT -1", "did you mean 'FOOT-1'?"),
    ("FOOT-1 pit dug below our own footing", "did you mean 'FOOT-1'?"),
    ("FOOT-1, PIER-2", "one release names one finding; write a row for each of FOOT-1, PIER-2"),
    ("FOOT-1 and FOOT-5", "write a row for each of FOOT-1, FOOT-5"),
    ("all", "no rule has the code or name 'all'"),
    ("29 CFR 1926.651(i)(2)", "no rule has the code or name '29 CFR 1926.651(i)(2)'"),
    ("SOIL-1", "SOIL-1 only concludes something, and is no finding to release"),
    ("FOOT-5", "FOOT-5 was not found at P1, P2, P3, P4, P5"),
    (None, "it does not say: released finding (releases[1].released_finding)"),
    ("TBD", "it does not say: released finding (releases[1].released_finding: 'TBD')"),
]  # fmt: skip


@pytest.mark.parametrize(("finding", "why"), FINDINGS, ids=[str(one[0]) for one in FINDINGS])
def test_a_release_that_names_no_finding_of_this_site_lifts_nothing(finding, why):
    assert_refused(told(house(release(released_finding=finding))), why)


@pytest.mark.parametrize("finding", ["foot-1", " FOOT-1 ", "Pit dug below our own footing"])
def test_a_finding_is_known_in_small_letters_with_blanks_round_it_and_by_its_name(finding):
    found = told(house(release(released_finding=finding)))
    assert found.lifted() == PIERS
    assert found.verdict == "GO WITH CONDITIONS"


def test_no_conclusion_of_the_shipped_book_can_be_named():
    codes = [rule.code for rule in BOOK if not isinstance(rule.then, Outcome)]
    assert "SOIL-1" in codes
    releases = [release(f"R{i}", released_finding=code) for i, code in enumerate(codes, start=1)]
    found = told(house(*releases))
    assert found.lifted() == []
    for i, code in enumerate(codes, start=1):
        assert [f"{code} only concludes" in why for why in refused(found, f"R{i}")] == [True]


def test_a_release_of_what_is_not_there_changes_nothing_and_is_told():
    found = told(house(release(), release("R2", released_finding="FOOT-5")))
    assert found.verdict == "GO WITH CONDITIONS"
    assert found.lifted() == PIERS
    assert refused(found, "R2") == ["FOOT-5 was not found at P1, P2, P3, P4, P5"]
    assert "FOOT-5" not in found.boxes()


def test_a_release_may_name_more_places_than_the_finding_is_at():
    document = house(release())
    document["piers"][4] |= {"footing_depth": "6 ft"}
    found = told(document)
    assert found.lifted() == PIERS[:4]
    assert refused(found) == []


@pytest.mark.parametrize("role", [{}, COMPETENT], ids=["engineer", "competent person"])
def test_what_nobody_may_release_nobody_releases(role):
    document = house(
        release("R0"), release(released_finding="LINE-3", released_place="site", **role)
    )
    document["site"]["ticket_end"] = "2026-12-08"
    found = told(document)
    assert found.verdict == "NO-GO"
    assert found.lifted("LINE-3") == []
    assert refused(found) == ["nobody may release LINE-3: what it finds has to be changed"]
    assert "Nobody may release it." in found.section("What stops the job")


def test_no_rule_that_nobody_may_release_is_lifted_by_the_most_whole_release():
    named = {Subject.SITE: "site", Subject.PIER: EVERY}
    rules = [rule for rule in BOOK
             if rule.release is ReleaseBy.NOBODY and rule.subject in named]  # fmt: skip
    codes = {rule.code for rule in rules}
    lines = [release(f"R{i}", released_finding=rule.code, released_place=named[rule.subject])
             for i, rule in enumerate(rules)]  # fmt: skip
    document = house(release("R0x"), *lines)
    document["site"] |= {"locate_request_made": "no", "competent_person_on_site_daily": "no"}
    document["piers"][0] |= {"ladder_in_pit": "no"}
    found = told(document)
    assert found.verdict == "NO-GO"
    lifted = {one["code"] for one in found.record["findings"] if one["release"] is not None}
    assert {"LINE-1", "CREW-1", "FOOT-1"} <= {one["code"] for one in found.record["findings"]}
    assert not lifted & codes


def spoil(**changes: str | None) -> dict[str, Any]:
    """The careful house with spoil at the edge of P1, which a competent person may release."""
    near = {"released_finding": "DIG-15", "released_place": "P1", "release_note": "held by planks"}
    document = house(release("R0"), release(**{**near, **COMPETENT, **changes}))
    document["piers"][0]["spoil_distance"] = "1 ft"
    return document


@pytest.mark.parametrize(
    "who",
    [
        {},
        {"released_by": "b. wherry"},
        {"released_by": "T. Aldermoor", "releasing_role": "licensed engineer",
         "licence_number": "PE 00000 (invented)"},
    ],
)  # fmt: skip
def test_the_named_competent_person_or_an_engineer_lifts_what_is_on_site_to_lift(who):
    found = told(spoil(**who))
    assert found.verdict == "GO WITH CONDITIONS"
    assert found.lifted("DIG-15") == ["P1"]
    assert "Keep to it: held by planks" in found.boxes()


@pytest.mark.parametrize(
    ("who", "site", "why"),
    [
        ({"released_by": "I. Tarrow"}, {},
         "'I. Tarrow' is not the competent person named on the Office sheet, who is 'B. Wherry'"),
        ({"released_by": "B. Wherryman"}, {}, "'B. Wherryman' is not the competent person named"),
        ({"released_by": "Wherry"}, {}, "'Wherry' is not the competent person named on the Office"),
        ({"released_by": "The competent person"}, {}, "it names no person"),
        ({}, {"competent_person": "not known"},
         "the Office sheet names no competent person (site.competent_person)"),
        ({"released_by": "TBD"}, {"competent_person": "TBD"}, "it does not say: released by"),
        ({"released_by": "T. Aldermoor", "releasing_role": "licensed engineer"}, {},
         "it gives no licence number"),
        ({"release_end": "2026-12-08"}, {}, "it ends on 2026-12-08, before the crew's last day"),
    ],
)  # fmt: skip
def test_nobody_else_lifts_it(who, site, why):
    document = spoil(**who)
    document["site"] |= site
    found = told(document)
    assert found.verdict == "NO-GO"
    assert found.lifted("DIG-15") == []
    assert any(why in said for said in refused(found)), refused(found)


def test_an_open_question_is_answered_first_and_no_release_answers_it():
    document = house(release())
    document["piers"][1]["footing_depth"] = "not known"
    found = told(document)
    assert found.verdict == "HOLD"
    assert found.lifted() == ["P1", "P3", "P4", "P5"]
    (why,) = refused(found)
    assert why == ("there is an open question first, and what can't be told nobody can release; "
                   "answer first: footing depth of P2 (piers[2].footing_depth)")  # fmt: skip
    said = found.section(NOT_COUNTED)
    assert "P2 : there is an open question first" in said
    assert "answer first: footing depth (piers[2].footing_depth)" in said
    assert "(FOOT-1)" not in found.pier_lines()["P2"]
    assert "FOOT-1" in found.section("Open questions")


def test_one_reason_at_many_piers_is_said_once_with_all_the_cells():
    document = house(release())
    for pier in document["piers"][:3]:
        pier["footing_depth"] = "not known"
    said = told(document).section(NOT_COUNTED)
    assert said.count("there is an open question first") == 1
    assert "P1 to P3 : there is an open question first" in said
    assert "answer first: footing depth (piers[1 to 3].footing_depth)" in said


def test_of_two_releases_the_one_that_holds_lifts_and_the_other_is_told():
    found = told(house(release("R1", release_end="2026-12-01"),
                       release("R2", release_note="Letter of 2 Dec 2026")))  # fmt: skip
    assert found.verdict == "GO WITH CONDITIONS"
    assert found.lifted() == PIERS
    assert "it ends on 2026-12-01" in refused(found, "R1")[0]
    assert refused(found, "R2") == []
    assert "Keep to it: Letter of 2 Dec 2026" in found.boxes()
    assert NOTE not in found.boxes()
    assert {one["release"]["label"] for one in found.record["findings"]
            if one["code"] == "FOOT-1"} == {"R2"}  # fmt: skip


def test_of_two_releases_that_hold_the_crew_keeps_to_both():
    second = release(
        "R2", released_place="P2, P3", release_note="Drawing S-2: shore the wall first"
    )
    found = told(house(release("R1"), second))
    assert found.lifted() == PIERS
    boxes = found.boxes()
    assert f"Keep to it: {NOTE}" in boxes
    assert "Keep to it: Drawing S-2: shore the wall first" in boxes
    assert "P2, P3" in boxes.partition("shore the wall first")[2].partition("Keep to it")[0]
    by_place = {one["place"]: one for one in found.record["findings"] if one["code"] == "FOOT-1"}
    assert [one["label"] for one in by_place["P2"]["also_released"]] == ["R2"]
    assert by_place["P1"]["also_released"] == []
    assert "Drawing S-2" in found.section(RELEASED)


def test_a_release_bounds_the_days_of_the_crew():
    found = told(house(release(release_end="2026-12-11")))
    assert "the release ends" in found.section("Order of the pits")
    refused_one = told(house(release(release_end="2026-12-10")))
    assert "2026-12-10" not in refused_one.section("Order of the pits")


def test_texts_of_a_release_are_shown_and_not_run():
    bad = "<script>alert(1)</script>"
    found = told(house(release(released_place=bad, released_by=bad, release_note=bad)))
    assert found.lifted() == []
    assert found.page.tags.count("script") == 0
    assert bad in found.section(NOT_COUNTED)


def filled(tmp_path, document: dict[str, Any], **cells: object) -> Told:
    """A document as a workbook, with cells of the first row of its Releases sheet changed."""
    path = tmp_path / "house.xlsx"
    path.unlink(missing_ok=True)
    write_form(path, survey_of(document))
    book = openpyxl.load_workbook(path)
    for cell, value in cells.items():
        book["Releases"][cell] = value
    book.save(path)
    survey, problems = read_survey(open_survey(path))
    return as_told(assess(survey, problems, BOOK))


def first_row(tmp_path) -> int:
    """The row of the first release on the Releases sheet."""
    path = tmp_path / "find.xlsx"
    write_form(path, survey_of(house(release())))
    sheet = openpyxl.load_workbook(path)["Releases"]
    return next(cell.row for cell in sheet["A"] if cell.value == "R1")


def test_the_workbook_gives_the_cells(tmp_path):
    row = first_row(tmp_path)
    assert filled(tmp_path, house(release())).lifted() == PIERS
    found = filled(tmp_path, house(release()), **{f"D{row}": None, f"H{row}": "-"})
    assert found.verdict == "ENGINEER REVIEW"
    assert any(f"released by (Releases!D{row})" in why for why in refused(found))


def test_a_row_without_a_label_holds_the_site_and_still_says_what_is_wrong(tmp_path):
    row = first_row(tmp_path)
    found = filled(tmp_path, house(release()), **{f"A{row}": None, f"C{row}": "P1"})
    assert found.verdict == "ENGINEER REVIEW"
    assert found.lifted() == ["P1"]
    assert f"Releases!A{row}" in found.section("Cells to put right")
