"""Standing releases end to end: a firm's file, to the sheet of a survey, or refused at its line.

The careful house has FOOT-1 at five piers and no release of it of its own, so that it is for the
engineer unless the firm's standing release lifts it.
"""

from __future__ import annotations

import functools
import re
from typing import Any

import pytest

from survey.resources import folder
from survey.rulebook.book import load_book, read_and_try
from survey.rulebook.messages import RuleBookError
from survey.rulebook.rules import Lift, Outcome, ReleaseBy, RuleBook
from tests.told_releases import (
    BOOK,
    EVERY,
    NOT_COUNTED,
    NOTE,
    PIERS,
    RELEASED,
    Told,
    house,
    refused,
    release,
    told,
)

SHIPPED = {file.name: file.read_text("utf-8") for file in sorted(folder("rules").glob("*.rules"))}
NOT_COVERING = "Standing releases that do not count here"
DETAIL = "Detail 3, revision 2: one pit at a time"
STANDING = """\
standing release {code} detail 3 beside a poured wall
  lifts    {lifts}
  when     {when}
  engineer {engineer}
  licence  {licence}
  given    {given}
  until    {until}
  note     {note}
"""
CASES = """\
  case     {met} gives lifted
  case     {unmet} gives nothing
"""
POURED = {"when": "wall material is poured concrete", "met": "wall material poured concrete",
          "unmet": "wall material brick"}  # fmt: skip
BRICK = {"when": "wall material is brick", "met": "wall material brick",
         "unmet": "wall material poured concrete"}  # fmt: skip
THICK = {
    "when": "wall material is poured concrete and footing thickness is at least 14 in",
    "met": "wall material poured concrete, footing thickness 14 in",
    "unmet": "wall material poured concrete, footing thickness 13 in",
}


def standing(*, cases: str = CASES, **changes: str) -> str:
    """The text of a standing release of FOOT-1 that the careful house meets."""
    words = {"code": "REL-1", "lifts": "FOOT-1", "engineer": "Bo Muster",
             "licence": "PE 1, Exampleland", "given": "2026-01-01", "until": "2027-12-31",
             "note": DETAIL, **POURED, **changes}  # fmt: skip
    return (STANDING + cases).format(**words)


@functools.cache
def book_of(text: str) -> RuleBook:
    return read_and_try(SHIPPED, {"our/own.rules": text})


def found_at(text: str, document: dict[str, Any] | None = None) -> Told:
    return told(house() if document is None else document, book_of(text))


def mistake(text: str) -> str:
    """What is said of a text that is refused when it is read; it judges no site."""
    with pytest.raises(RuleBookError) as caught:
        book_of(text)
    said = str(caught.value)
    assert "our/own.rules:" in said
    assert "No site was judged." in said
    return said


def lines_of(found: Told, code: str = "REL-1") -> list[str]:
    """Why a standing release lifts nothing at each finding, by the record."""
    return [r["why"] for one in found.record["findings"] for r in one["refused"]
            if r["release"]["label"] == code]  # fmt: skip


def assert_not_lifted(found: Told, why: str) -> None:
    assert found.verdict == "ENGINEER REVIEW"
    assert found.lifted() == []
    assert DETAIL not in found.boxes()
    assert lines_of(found)
    assert all(why in line for line in lines_of(found)), lines_of(found)
    assert why.partition("; answer first")[0] in found.section(NOT_COVERING)


def test_where_its_conditions_are_met_it_lifts_and_the_crew_ticks_its_note():
    found = found_at(standing())
    assert found.verdict == "GO WITH CONDITIONS"
    assert found.lifted() == PIERS
    assert f"Keep to it: {DETAIL} (FOOT-1, released by Bo Muster (licensed engineer) until" in (
        found.boxes()
    )
    released = found.section(RELEASED)
    assert "Bo Muster , licensed engineer, licence PE 1, Exampleland , from 2026-01-01" in released
    assert "REL-1 , our/own.rules:1)" in released
    assert NOT_COVERING not in found.page.sections
    assert "standing release REL-1" in found.section("Local rules in force")
    assert told(house()).verdict == "ENGINEER REVIEW"


def test_it_holds_on_its_first_and_on_its_last_day():
    found = found_at(standing(given="2026-12-07", until="2026-12-11"))
    assert found.lifted() == PIERS


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        ({"given": "2026-12-08"}, "it is dated 2026-12-08, after the crew's first day (2026-12"),
        ({"until": "2026-12-10"}, "it ends on 2026-12-10, before the crew's last day (2026-12"),
        (BRICK, "its conditions are not met: wall material is brick (wall material of"),
    ],
)  # fmt: skip
def test_beyond_its_days_and_conditions_it_lifts_nothing_and_says_so(changes, why):
    assert_not_lifted(found_at(standing(**changes)), why)


def test_it_says_which_condition_is_not_met_and_what_was_found():
    found = found_at(standing(**THICK))
    assert_not_lifted(found, "footing thickness is at least 14 in")
    assert (
        "P1 to P3 : its conditions are not met: footing thickness is at least 14 in (footing "
        "thickness of South: 12 in)"
    ) in found.section(NOT_COVERING)
    assert "FOOT-1 wherever its conditions are met" in found.section(NOT_COVERING)
    assert "Releases that do not count" not in found.lines  # it was not written for this job


@pytest.mark.parametrize("days", [{"crew_date": "not known"}, {"last_crew_date": "not known"}])
def test_while_the_crew_s_days_are_not_known_it_lifts_nothing(days):
    found = found_at(standing(), house(**days))
    assert not found.assessment.verdict.may_start
    assert found.lifted() == []
    assert all("the crew's first and last days are not known" in why for why in lines_of(found))


def test_an_answer_that_is_not_known_is_asked_for_and_nothing_lifted():
    document = house()
    for wall in document["walls"]:
        wall["concrete_strength"] = "not known"
    text = standing(when="concrete strength is at least 2500 psi", met="concrete strength 2500 psi",
                    unmet="concrete strength 2499 psi")  # fmt: skip
    found = found_at(text, document)
    assert found.lifted() == []
    assert not found.assessment.verdict.may_start
    assert lines_of(found)[0] == (
        "it can't be told whether its conditions are met; answer first: "
        "concrete strength of South (walls[1].concrete_strength)"
    )
    said = found.section(NOT_COVERING)
    assert (
        "it can't be told whether its conditions are met; answer first: concrete strength" in said
    )
    assert "(walls[1, 2].concrete_strength)" in said


def test_one_pier_of_five_is_not_lifted_where_the_answer_there_is_missing():
    document = house()
    document["piers"][3]["working_room"] = "not known"
    text = standing(when="working room is at least 3 ft", met="working room 3 ft",
                    unmet="working room 2 ft 11 in")  # fmt: skip
    found = found_at(text, document)
    assert found.lifted() == ["P1", "P2", "P3", "P5"]
    assert not found.assessment.verdict.may_start
    assert "P4 : it can't be told" in found.section(NOT_COVERING)
    assert "piers[4].working_room" in found.section(NOT_COVERING)


def test_a_pier_beside_another_wall_is_not_lifted():
    document = house()
    document["walls"][1]["wall_material"] = "brick"
    found = found_at(standing(), document)
    assert found.lifted() == ["P1", "P2", "P3"]
    assert not found.assessment.verdict.may_start
    assert "P4, P5 : its conditions are not met: wall material is poured concrete" in (
        found.section(NOT_COVERING)
    )


def test_an_open_question_is_not_lifted():
    document = house()
    document["piers"][0]["footing_depth"] = "not known"
    found = found_at(standing(), document)
    assert found.verdict == "HOLD"
    assert found.lifted() == ["P2", "P3", "P4", "P5"]


def test_of_two_for_one_rule_the_one_that_is_met_lifts_and_the_other_is_no_slip():
    text = standing(**THICK) + standing(code="REL-2", note="Detail 4: two pits at most")
    found = found_at(text)
    assert found.verdict == "GO WITH CONDITIONS"
    assert found.lifted() == PIERS
    assert "Keep to it: Detail 4: two pits at most" in found.boxes()
    assert DETAIL not in found.boxes()
    assert len(lines_of(found)) == len(PIERS)  # the record keeps why
    assert NOT_COVERING not in found.page.sections


def test_of_two_that_are_both_met_the_crew_keeps_to_both():
    text = standing() + standing(code="REL-2", note="Detail 4: two pits at most")
    boxes = found_at(text).boxes()
    assert f"Keep to it: {DETAIL}" in boxes
    assert "Keep to it: Detail 4: two pits at most" in boxes


def test_beside_a_release_on_the_survey_the_crew_keeps_to_both():
    found = found_at(standing(), house(release(released_place="P2")))
    assert found.lifted() == PIERS
    assert f"Keep to it: {DETAIL}" in found.boxes()
    assert f"Keep to it: {NOTE}" in found.boxes()
    by_place = {one["place"]: one for one in found.record["findings"] if one["code"] == "FOOT-1"}
    assert [one["label"] for one in by_place["P2"]["also_released"]] == ["REL-1"]
    assert "R1" in found.section(RELEASED)
    assert "REL-1" in found.section(RELEASED)


def test_a_release_on_the_survey_holds_where_the_standing_one_is_not_met():
    found = found_at(standing(**THICK), house(release()))
    assert found.verdict == "GO WITH CONDITIONS"
    assert f"Keep to it: {NOTE}" in found.boxes()
    assert DETAIL not in found.boxes()


def test_a_refused_release_on_the_survey_is_told_though_the_standing_one_lifts():
    found = found_at(standing(), house(release(release_end="2026-12-08")))
    assert found.verdict == "GO WITH CONDITIONS"
    assert found.lifted() == PIERS
    assert "it ends on 2026-12-08" in refused(found)[0]


def test_one_label_on_the_survey_and_in_the_rules_are_two_releases():
    found = found_at(standing(), house(release("REL-1", released_place="P1"),
                                       release("R2", released_place="P9")))  # fmt: skip
    released = found.section(RELEASED)
    assert "REL-1 , our/own.rules:1)" in released
    assert "REL-1 , releases[1], for P1 )" in released
    assert "Releases that do not count: 1" in found.lines


def test_its_code_is_no_finding_to_release():
    found = found_at(standing(**THICK), house(release(released_finding="REL-1")))
    assert found.verdict == "ENGINEER REVIEW"
    assert refused(found) == ["REL-1 is a standing release, no finding; write FOOT-1"]


def test_its_last_day_bounds_the_days_of_the_crew():
    early = found_at(standing(until="2026-12-14"))
    assert early.record["plan"]["latest"] <= "2026-12-14"
    assert early.record["plan"]["latest_why"][0].startswith("the release ends")
    late = found_at(standing())
    assert late.record["plan"]["latest"] >= early.record["plan"]["latest"]
    assert not any("release ends" in why for why in late.record["plan"]["latest_why"])


def own_rule(code: str, name: str, by: str = "licensed engineer") -> str:
    return f"""\
rule {code} {name}
  for   each pier
  when  pit depth is more than 5 ft
  then  engineer
  say   Pit {{pier}} is {{pit depth}} deep.
  do    Ask.
  who   engineer
  from  our own
  release {by}
  case  pit depth 5 ft 1 in gives engineer
  case  pit depth 5 ft gives nothing
  case  pit depth not known gives ask

"""


NO_FIGURE = """\
table our deepest pit
  by   footing depth
  row  up to 3 ft gives 5 ft
  from our own

"""


def test_what_can_not_be_worked_out_an_engineer_lifts_for_one_job_and_no_standing_release():
    """Every answer is there, and the table ends before them: the finding can't be told."""
    rule = own_rule("OUR-1", "pit deeper than we dig").replace(
        "pit depth is more than 5 ft", "pit depth is more than our deepest pit"
    )
    rule = rule[: rule.index("  case")] + (
        "  case  pit depth 5 ft 1 in, footing depth 3 ft gives engineer\n"
        "  case  pit depth 5 ft, footing depth 3 ft gives nothing\n\n"
    )
    text = NO_FIGURE + rule + standing() + standing(code="REL-2", lifts="OUR-1")
    found = found_at(text)
    assert found.verdict == "HOLD"
    assert found.lifted("OUR-1") == []
    assert "our deepest pit' goes no farther than its last row" in found.section("To clear up")
    found = found_at(text, house(release(released_finding="OUR-1")))
    assert found.verdict == "GO WITH CONDITIONS"
    assert found.lifted("OUR-1") == PIERS


def test_a_rule_named_like_the_code_of_another_is_not_lifted_with_it():
    found = found_at(own_rule("OUR-1", "FOOT-1"), house(release()))
    assert found.lifted() == PIERS
    assert found.lifted("OUR-1") == []
    assert found.verdict == "ENGINEER REVIEW"


def test_a_name_that_two_rules_have_lifts_neither():
    text = own_rule("OUR-1", "deep pit") + own_rule("OUR-2", "deep pit")
    found = found_at(text, house(release("R0"), release(released_finding="deep pit")))
    assert found.lifted("OUR-1") == found.lifted("OUR-2") == []
    assert refused(found) == ["2 rules are called 'deep pit'; write the code: OUR-1 or OUR-2"]


def test_a_rule_that_is_replaced_is_lifted_as_it_now_stands():
    text = """\
replace rule FOOT-7 wall that our engineer looks at
  for   each pier
  when  wall material is poured concrete
  then  engineer
  say   The wall at {pier} is poured.
  do    Ask.
  who   engineer
  from  our own
  release licensed engineer
  reason  every poured wall is looked at
  by      Bo Muster
  licence PE 1, Exampleland
  case  wall material poured concrete gives engineer
  case  wall material brick gives nothing

"""
    release_of_it = standing(lifts="FOOT-7")
    found = found_at(text, house(release()))
    assert found.verdict == "ENGINEER REVIEW"
    found = found_at(text + release_of_it, house(release()))
    assert found.verdict == "GO WITH CONDITIONS"
    assert found.lifted("FOOT-7") == PIERS


@pytest.mark.parametrize(
    ("changes", "line", "what"),
    [
        ({"lifts": "LINE-3"}, 2, "nobody may lift LINE-3"),
        ({"lifts": "DIG-15"}, 2, "DIG-15 is lifted by a competent person on site"),
        ({"lifts": "DIG-5"}, 2, "DIG-5 stops the work by a regulation (29 CFR 1926.652(b)"),
        ({"lifts": "SOIL-1"}, 2, "SOIL-1 is no finding that can be lifted"),
        ({"lifts": "FOTO-1"}, 2, "no rule of the book has the code 'FOTO-1'"),
        ({"lifts": "foot-1"}, 2, "no rule of the book has the code 'foot-1'"),
        ({"lifts": "FOOT-1, FOOT-5"}, 2, "2 rules in one standing release"),
        ({"when": "wall material is not brick"}, 3, "says what must be so, not what must not"),
        ({"when": "not wall material is brick"}, 3, "says what must be so, not what must not"),
        ({"when": "no utility where utility kind is gas"}, 3, "says what must be so"),
        ({"when": "every utility meets utility kind is water"}, 3, "says what must be so"),
        ({"when": "number of utilities is at most 3"}, 3, "says what must be so"),
        ({"when": "number of utilities is 0"}, 3, "says what must be so"),
        ({"engineer": "TBD"}, 4, "'TBD' says nothing"),
        ({"engineer": "Licensed engineer"}, 4, "'Licensed engineer' names no person"),
        ({"licence": "pending"}, 5, "'pending' says nothing"),
        ({"licence": "PE, Exampleland"}, 5, "'PE, Exampleland' has no licence number in it"),
        ({"given": "1/2/2026"}, 6, "'1/2/2026' is no date"),
        ({"until": "2025-12-31"}, 7, "the release ends before it is given"),
        ({"until": "2028-01-03"}, 7, "a release that holds for more than 731 days"),
        ({"note": "T.B.D."}, 8, "'T.B.D.' says nothing"),
    ],
)  # fmt: skip
def test_what_may_not_stand_in_one_is_refused_at_its_line(changes, line, what):
    said = mistake(standing(**changes))
    assert f"our/own.rules:{line}:" in said
    assert what in said


@pytest.mark.parametrize(
    ("cases", "what"),
    [
        ("  case     {met} gives lifted\n", "no case of REL-1 gives 'nothing'"),
        ("  case     {unmet} gives nothing\n", "no case of REL-1 gives 'lifted'"),
        ("", "the standing release has no 'case' line"),
        ("  case     {unmet} gives lifted\n  case {met} gives lifted\n", "the case says 'lifted'"),
    ],
)
def test_it_has_a_case_where_it_lifts_and_one_where_it_must_not(cases, what):
    assert what in mistake(standing(cases=cases))


def test_a_rule_that_is_switched_off_can_not_be_lifted_and_both_lines_are_shown():
    off = """\
switch off rule FOOT-7
  reason  our walls are looked at before the survey
  by      Bo Muster
  licence PE 1, Exampleland
"""
    said = mistake(off + standing(lifts="FOOT-7"))
    assert "our/own.rules:6:12: FOOT-7 is switched off, so there is nothing to lift" in said
    assert "It is switched off at our/own.rules:1:" in said


def test_a_licence_without_a_number_switches_nothing_off():
    said = mistake("switch off rule FOOT-7\n  reason  our walls are looked at\n  by  Bo Muster\n"
                   "  licence PE, Exampleland\n")  # fmt: skip
    assert "our/own.rules:4:11: 'PE, Exampleland' has no licence number in it" in said


def test_two_of_one_code_are_refused():
    assert "the code REL-1 is taken" in mistake(standing() + standing())


def may_be_lifted() -> tuple[set[str], set[str]]:
    may, must_not = set(), set()
    for rule in BOOK:
        stops_by_law = rule.then is Outcome.STOP and rule.cites_regulation
        engineer_s = isinstance(rule.then, Outcome) and rule.release is ReleaseBy.ENGINEER
        (may if engineer_s and not stops_by_law else must_not).add(rule.code)
    return may, must_not


def test_one_that_looks_at_nothing_of_the_place_is_refused():
    said = mistake(
        standing(
            when="any utility where utility kind is water",
            met="utility (utility kind water)",
            unmet="all utilities listed yes, utility (utility kind gas)",
        )
    )
    assert "looks at nothing of the pier, its wall or its ground" in said
    assert "our/own.rules:" in said


def test_no_rule_of_the_shipped_book_but_an_engineer_s_can_be_lifted():
    may, must_not = may_be_lifted()
    assert "FOOT-1" in may
    assert {"LINE-3", "DIG-15", "DIG-5", "SOIL-1"} <= must_not
    when = {"when": "crew date is after survey date", "met": "crew date 2026-02-01, survey date "
            "2026-01-01", "unmet": "crew date 2026-01-01, survey date 2026-01-01"}  # fmt: skip
    for start in range(0, len(must_not), 50):
        codes = sorted(must_not)[start : start + 50]
        texts = [standing(code=f"REL-{i}", lifts=code, **when)
                 for i, code in enumerate(codes, start=1)]  # fmt: skip
        said = mistake("\n".join(texts))
        assert f"{len(codes)} mistakes in the rule book" in said
        for code in codes:
            why = (
                rf"(nobody may lift {code}|{code} (is|stops) .*|no rule .* has the code '{code}')\n"
            )
            assert re.search(f": {why}", said), code


def test_a_folder_of_a_firm_on_the_command_line(tmp_path):
    rules = tmp_path / "our_rules"
    rules.mkdir()
    (rules / "own.rules").write_text(standing(), "utf-8")
    book = load_book(rules)
    assert [rule.code for rule in book if isinstance(rule.then, Lift)] == ["REL-1"]
    found = told(house(), book)
    assert found.lifted() == PIERS
    assert "our_rules/own.rules:1" in found.section(RELEASED)
    assert EVERY in found.boxes()
    assert NOT_COUNTED not in found.page.sections
