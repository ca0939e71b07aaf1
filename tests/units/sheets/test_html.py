import dataclasses
import datetime as dt
import re
import subprocess
import sys
from itertools import pairwise

import pytest

from survey.assessment import assess
from survey.drawings.shapes import Drawing
from survey.drawings.svg import write_svg
from survey.rulebook.book import load_book
from survey.rulebook.rules import Change, Outcome, ReleaseBy
from survey.sheets import _plan, render
from survey.sheets._advice import BRIEF_CAUTIONS, CAUTIONS, may_be_scheduled
from survey.sheets._grouping import group_findings
from survey.sheets._places import Places
from survey.sheets._templates import template
from survey.sheets.front import cut, front
from survey.vocabulary import VOCABULARY
from tests.demo_surveys import careful_house, survey_of
from tests.made_assessments import (
    EACH_VERDICT,
    RELEASE,
    cell,
    for_engineer,
    go,
    in_spanish,
    judged,
    no_go,
    on_hold,
    with_conditions,
)
from tests.made_books import OWN
from tests.pages import Page

BOTH_PIERS = {**RELEASE, "released place": "P1, P2"}


@pytest.mark.parametrize("verdict", EACH_VERDICT)
def test_the_page_is_sound_and_opens_with_the_verdict(verdict):
    text = render(EACH_VERDICT[verdict]())
    page = Page(text)
    assert page.open == []
    assert [heading for _, heading in page.headings[:2]] == ["Larch Lane 14", verdict]
    levels = [level for level, _ in page.headings]
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    assert ("lang", "en") in page.attributes


@pytest.mark.parametrize("verdict", EACH_VERDICT)
def test_each_verdict_has_a_shape_of_its_own(verdict):
    key = verdict.replace(" ", "_").replace("-", "_")
    text = render(EACH_VERDICT[verdict]())
    banner = text.partition('class="verdict"')[2].partition("</section>")[0]
    assert f'href="#v-{key}"' in banner
    shapes = re.findall(r'<symbol id="v-(\w+)"[^>]*>(.*?)</symbol>', text)
    assert key in dict(shapes)
    assert len({drawing for _, drawing in shapes}) == 5


@pytest.mark.parametrize("verdict", EACH_VERDICT)
def test_nothing_runs_and_nothing_is_fetched(verdict):
    text = render(EACH_VERDICT[verdict]())
    page = Page(text)
    assert not set(page.tags) & {"script", "img", "link", "iframe", "object", "embed", "form"}
    assert not [name for name, _ in page.attributes if name.startswith("on")]
    assert not re.search(r"url\(|@import|(?:src|href)=\"(?!#)|//", text)
    assert "default-src 'none'" in text


def test_the_parts_stand_in_the_order_in_which_they_are_needed():
    page = Page(render(dataclasses.replace(no_go(), disagreement=("DIG-1 at P1: x",))))
    expected = [
        "Internal disagreement", "NO-GO", "What stops the job, and who must act", "Piers",
        "Conditions: only once the verdict is GO WITH CONDITIONS", "The job",
        "What the two evaluators say differently", "Stops", "For the engineer to decide",
        "Conditions in full", "How the footing is taken up", "Pier locations",
        "Order of the pits and days of the crew", "Drawings", "Open questions",
        "Cells to put right", "Seats at each pier", "What the rules concluded first",
        "Why: clauses and answers behind each finding", "Is this sheet as it was made?",
    ]  # fmt: skip
    assert [heading for level, heading in page.headings if level == 2] == expected


@pytest.mark.parametrize(
    ("assessment", "line"),
    [
        (go,
         "The crew may be scheduled for Tue 01 Dec to Fri 04 Dec 2026. No rule found anything "
         "against it."),
        (with_conditions,
         "The crew may be scheduled for Tue 01 Dec to Fri 04 Dec 2026, if 3 conditions are met and "
         "initialled."),
        (lambda: judged(every_pier={"pit depth": "4 ft 8 in"}, releases=(BOTH_PIERS,)),
         "The crew may be scheduled for Tue 01 Dec to Fri 04 Dec 2026, if 1 condition is met and "
         "initialled."),
        (on_hold,
         "The crew may not be scheduled: 1 cell must be put right; 7 answers are missing and 1 "
         "matter must be cleared up."),
        (for_engineer,
         "The crew may not be scheduled: a licensed engineer must decide 1 matter."),
        (no_go,
         "The crew may not be scheduled: 3 cells must be put right; 2 faults must be put right "
         "first; a licensed engineer "
         "must decide 1 matter; 2 answers are missing."),
        (lambda: judged(site={"crew date": None}),
         "The crew may not be scheduled: 1 answer is missing."),
        (lambda: judged(piers=0), "Nothing to schedule: the survey lists no pier location."),
    ],
)  # fmt: skip
def test_one_line_says_whether_the_crew_may_be_scheduled(assessment, line):
    made = assessment()
    assert (
        Page(render(made)).sections[made.verdict.value].startswith(f"{made.verdict.value} {line}")
    )


def test_cautions_and_emergency_line_stand_with_the_verdict():
    page = Page(render(go()))
    assert "Emergency: 911; Millbrook General, 2 Hill Road" in page.sections["GO"]
    assert BRIEF_CAUTIONS in page.sections["Piers"]
    for caution in CAUTIONS:
        assert caution in page.section("The job")
    missing = Page(render(no_go())).sections["NO-GO"]
    assert "Emergency: not known. Write it here before work:" in missing


def test_a_disagreement_is_told_at_the_top():
    made = dataclasses.replace(go(), disagreement=("DIG-1 at P1: met by one only",))
    page = Page(render(made))
    assert "DIG-1 at P1: met by one only" in page.section("Internal disagreement")
    assert "two evaluators disagree, so neither can be trusted" in page.sections["GO"]


def test_a_single_judgement_is_told():
    once = "Judged once (second evaluator does not run here)."
    assert once in render(dataclasses.replace(go(), evaluators=1))
    assert once not in render(dataclasses.replace(go(), evaluators=2))


CHANGES = (
    Change("limit 'spoil set-back' is 3 ft; shipped: 2 ft", "our ground is loose (A. Ode)",
           "firm.rules:3"),
    Change("question 'dog loose on site' is added", "", "firm.rules:9"),
)  # fmt: skip


def test_every_local_rule_is_told_with_why_and_where():
    page = Page(render(dataclasses.replace(go(), changes=CHANGES)))
    assert (
        "Judged with local rules: 2 changes to the shipped book, under 'Local rules in force'."
    ) in page.sections["GO"]
    assert page.section("Local rules in force").endswith(
        "limit 'spoil set-back' is 3 ft; shipped: 2 ft our ground is loose (A. Ode) firm.rules:3 "
        "question 'dog loose on site' is added firm.rules:9"
    )
    assert "with 2 local changes" in page.section("Piers")


def test_a_sheet_by_the_shipped_book_says_so():
    page = Page(render(dataclasses.replace(go(), changes=())))
    assert ", as shipped. Answers" in page.section("Piers")
    assert not [heading for heading in page.sections if heading.startswith("Local rules")]


SPANISH = {
    "DIG-1": ("La zanja {pier} tiene {pit depth} de fondo.", "Nadie entra en la zanja {pier}."),
    "DIG-3": ("", "Deje la tierra a 2 ft de la zanja {pier}."),
    "LINE-2": ("Nadie ha pedido la localización.", "Llame al centro."),
}


def test_what_crew_and_competent_person_do_stands_in_spanish_below_the_english():
    page = Page(render(no_go(book=in_spanish(SPANISH))))
    assert ("Slope the sides, or fit shoring or a shield, before anyone goes in.") in page.section(
        "Stops"
    )
    assert "Nadie entra en la zanja P1. Lo mismo en P2 ." in page.section("Stops")
    assert (
        "Keep spoil, tools and materials 2 ft or more back from pit P1. The same at P2, P4 . "
        "Deje la tierra a 2 ft de la zanja P1. Lo mismo en P2, P4 ."
    ) in page.section("Conditions in full")
    assert page.attributes.count(("lang", "es")) == 5  # at P1 and at P2, to do, in conditions


def test_what_others_do_stands_in_english_alone():
    text = render(no_go(book=in_spanish(SPANISH)))
    assert "Call the one-call centre" in text
    assert "Llame al centro" not in text
    whole = render(no_go())
    assert whole.count('lang="es"') == 1  # of a seat
    assert "Soporte sujeto" in whole


def test_a_question_has_no_spanish_of_the_fault_that_it_may_not_have():
    page = Page(render(on_hold(book=in_spanish(SPANISH))))
    assert "DIG-3" in page.section("Open questions")
    assert ("lang", "es") not in page.attributes


def test_a_job_without_a_name_says_so():
    page = Page(render(judged(site={"job name": None})))
    assert page.headings[0][1] == "no name given"


def test_the_signatures_end_the_front_page():
    front, _, office = render(no_go()).partition('<div class="office">')
    signing = front.partition('class="sign"')[2]
    for who in ("Competent person", "Safety lead", "Engineer", "Licence number:"):
        assert who in signing
    assert "Rule book" in signing
    assert 'class="sign"' not in office
    assert "Open questions" in office


def test_stops_say_who_acts_and_who_may_release():
    acts = Page(render(no_go())).section("What stops")
    assert (
        "1. scheduler Call the one-call centre and wait for every owner's answer. LINE-2: no "
        "locate request. Nobody may release it. whole site"
    ) in acts
    assert (
        "engineer Give an approved determination or the design of a support system. FOOT-1: pit "
        "under our own footing. P1 to P3"
    ) in acts
    assert "office Give 1 answer on Piers." in acts
    assert "surveyor Give 1 answer on Piers." in acts


def test_stops_that_nobody_may_release_come_first():
    made = no_go()
    freed = dataclasses.replace(
        next(f for f in made.findings if f.rule.code == "LINE-2").rule,
        release=ReleaseBy.COMPETENT_PERSON,
    )
    findings = tuple(
        dataclasses.replace(f, rule=freed) if f.rule.code == "LINE-2" else f for f in made.findings
    )
    before = Page(render(made)).section("What stops")
    after = Page(render(dataclasses.replace(made, findings=findings))).section("What stops")
    assert before.index("LINE-2") < before.index("DIG-1")
    assert after.index("DIG-1") < after.index("LINE-2")


def test_cells_to_put_right_are_named():
    page = Page(render(on_hold()))
    assert (
        "surveyor Put right 1 cell, and have the survey judged again. What stands there was not "
        f"used. Listed below. {cell('pit depth', 3).replace('!', ' ')}"
    ) in page.section("What stops")
    assert "deep a length such as" in page.section("Cells to put right")


def test_the_table_of_piers_gives_depth_protection_seats_and_codes():
    page = Page(render(no_go()))
    for section in (page.sections["Piers"], page.section("Pier locations")):
        assert "count for every pier" in section.replace("Count", "count")
        assert "LINE-2" in section
        assert "P3 NO-GO 36 x 36 in, 6 ft 6 in deep sloped 1.5H:1V" in section
        assert "FOOT-1 DIG-3? LINE-1" in section
    assert (
        "P1 NO-GO 36 x 36 in, 6 ft 6 in deep none anchored to footing no order DIG-1 FOOT-1 DIG-3"
    ) in page.sections["Piers"]
    released = Page(render(for_engineer())).sections["Piers"]
    assert "(FOOT-1)" in released


@pytest.mark.parametrize(
    ("pit", "said"),
    [
        ({}, "36 x 36 in, 4 ft deep"),
        ({"pit depth": None}, "36 x 36 in, depth not known"),
        ({"pit length": None}, "length not known, width 36 in, 4 ft deep"),
        ({"pit length": None, "pit width": None}, "length and width not known, 4 ft deep"),
    ],
)
def test_a_pit_of_which_something_is_not_known_says_so(pit, said):
    assert f" {said} sloped" in Page(render(judged(every_pier=pit))).sections["Piers"]


def test_many_open_rules_of_a_pier_are_a_number(monkeypatch):
    made = judged(blank=True)
    few = Page(render(made)).section("Pier locations")
    assert "DIG-3? FOOT-1? LINE-1? DIG-1?" in few
    monkeypatch.setattr(_plan, "_MOST_OPEN_CODES", 3)
    many = Page(render(made)).section("Pier locations")
    assert "4 rules wait for answers" in many
    assert "DIG-3? FOOT-1?" not in many


def test_the_plan_that_the_verdict_rests_on_stands_below_the_piers():
    plan = Page(render(with_conditions())).sections["Piers"]
    assert (
        "Keep to this plan: open pits at least 8 ft apart; spoil at least 1 ft from the edge at "
        "P1 to P3; spoil at least 3 ft from the edge at P4; a ladder, ramp or steps within 6 ft of "
        "everyone in the pit; vehicles, machines and loads kept back from each pit by its depth; "
        "water removal: none; crew on site: Tue 01 Dec to Fri 04 Dec 2026."
    ) in plan
    open_plan = Page(
        render(judged(every_pier={"spoil distance": None},
                      site={"clear spacing of open pits": None, "water removal": None}))
    ).sections["Piers"]  # fmt: skip
    assert (
        "Judged by this plan: distance between open pits not known; distance of spoil not known; "
    ) in open_plan
    assert "water removal: not known" in open_plan
    none_apart = render(judged(site={"clear spacing of open pits": "0 ft"}))
    assert "Keep to this plan: neighbouring pits may be open together; " in none_apart


@pytest.mark.parametrize(
    ("first", "last", "said"),
    [
        (dt.date(2026, 12, 7), dt.date(2026, 12, 11), "Mon 07 Dec to Fri 11 Dec 2026"),
        (dt.date(2026, 12, 30), dt.date(2027, 1, 2), "Wed 30 Dec 2026 to Sat 02 Jan 2027"),
        (dt.date(2026, 12, 7), dt.date(2026, 12, 7), "Mon 07 Dec 2026"),
        (dt.date(2026, 12, 7), None, "Mon 07 Dec 2026, last day not known"),
        (None, dt.date(2026, 12, 7), "first day not known, last day Mon 07 Dec 2026"),
        (None, None, "not known"),
    ],
)
def test_the_head_gives_the_days_of_the_crew(first, last, said):
    page = Page(render(judged(site={"crew date": first, "last crew date": last})))
    assert f"Crew on site {said} Surveyed" in page.sections[""]


def test_remarks_of_the_survey_stand_on_the_first_page():
    page = Page(render(judged(site={"remarks": "Dog in the yard; key at No. 16."})))
    assert "Remarks from the survey: Dog in the yard; key at No. 16." in page.sections["GO"]
    assert "Remarks from the survey" not in render(go())


def test_a_condition_at_many_piers_is_one_box():
    text = render(with_conditions())
    boxes = Page(text).section("Conditions: tick")
    assert text.count('class="tick"') == 3
    assert (
        "Keep spoil, tools and materials 2 ft or more back from pit P1. The same at P2, P3. "
        "(DIG-3) P1 to P3"
    ) in boxes
    assert boxes.count("Have gas main shut off") == 1


def test_what_is_released_is_a_box_for_the_crew_once_for_all_its_places():
    made = judged(piers=2, every_pier={"pit depth": "4 ft 8 in"}, releases=(BOTH_PIERS,))
    text = render(made)
    boxes = Page(text).section("Conditions: tick")
    assert text.count('class="tick"') == 1
    assert boxes.count("Keep to it: drawing S-1: one pit open at a time") == 1
    assert "until 2026-12-24) P1, P2 " in boxes


def test_a_standing_release_says_who_gave_it_until_when_and_where_it_stands():
    page = Page(render(judged(piers=3, every_pier={"slope of sides": "0.5H:1V"}, book=OWN)))
    assert page.section("Released findings").endswith(
        "DIG-10 Pit P1 is too steep. The same at P2, P3 . P1 to P3 T. Quill , licensed engineer, "
        "licence PE 12 (OH) , from 2026-01-01 to 2026-12-31 detail D-3: pits at most 3 ft wide "
        "( REL-1 , firm.rules:37)"
    )
    assert (
        "Keep to it: detail D-3: pits at most 3 ft wide (DIG-10, released by T. Quill (licensed "
        "engineer) until 2026-12-31) P1 to P3 "
    ) in page.section("Conditions: ")
    assert (
        "DIG-10 : sides cut too steep, as released P1 to P3 ; released by T. Quill (licensed "
        "engineer) until 2026-12-31 Keep to it: detail D-3: pits at most 3 ft wide"
    ) in page.section("Conditions in full")


def test_two_releases_of_one_finding_are_two_boxes():
    other = {**RELEASE, "released place": "P2", "release note": "drawing S-2"}
    first = {**RELEASE, "released place": "P1"}
    made = judged(piers=2, every_pier={"pit depth": "4 ft 8 in"}, releases=(first, other))
    assert render(made).count('class="tick"') == 2


def test_a_release_that_waits_for_an_answer_does_not_count_and_says_where():
    made = judged(
        piers=2, every_pier={"pit depth": "4 ft 8 in"},
        some_piers={2: {"footing depth": None}}, releases=(BOTH_PIERS,),
    )  # fmt: skip
    page = Page(render(made))
    assert "P2 : there is an open question first" in page.section("Releases that do not count")
    assert "FOOT-1 : pit under our own footing, as released P1 ; released by" in page.section(
        "Conditions in full"
    )


def test_places_where_the_figures_differ_are_told_apart():
    stops = Page(render(no_go())).section("Stops")
    assert "Pit P1 is 6 ft 6 in deep in type C ground" in stops
    assert "Pit P2 is 7 ft deep in type C ground" in stops


def test_an_open_question_gives_cells_and_what_it_decides():
    asked = Page(render(on_hold())).section("Open questions")
    column = re.sub(r".*!|\d", "", cell("spoil distance"))
    prompt = VOCABULARY["spoil distance"].prompt
    assert f"{column}4 to {column}7 P1 to P4 {prompt}" in asked
    assert "office DIG-3" in asked
    assert "DIG-3 spoil nearer than 2 ft to a pit P1 to P4" in asked.partition("Rules that")[2]
    assert "7 answers are not known" in asked


def test_what_the_engineer_decides_stands_in_full_with_source_and_who_may_release():
    matters = Page(render(for_engineer())).section("For the engineer")
    assert (
        "FOOT-1 : pit under our own footing engineer acts; P2 to P4 ; may be released by a "
        "licensed engineer; 29 CFR 1926.651(i)(2) Pit P2 goes to 4 ft 8 in"
    ) in matters


def test_released_findings_stay_and_say_who_released_them():
    page = Page(render(for_engineer()))
    released = page.section("Released findings")
    assert "Pit P1 goes to 4 ft 8 in, below the footing at 4 ft." in released
    assert "T. Quill , licensed engineer, licence PE 4711 (OH) , from 2026-11-24" in released
    assert (
        "Keep to it: drawing S-1: one pit open at a time (FOOT-1, released by T. Quill (licensed "
        "engineer) until 2026-12-24) P1 "
    ) in page.section("Conditions: only")
    refused = page.section("Releases that do not count")
    assert "P2 : it ends on 2026-11-30, before the crew's last day" in refused
    assert "no rule has the code or name 'FOTO-1'" in refused


def test_seats_say_why_not():
    seats = Page(render(for_engineer())).section("Seats at each pier")
    assert (
        "Bracket held to the footing with anchors P1 to P4 does not suit footing: footing cracks "
        "of North: open; it needs: footing cracks is one of: none, hairline"
    ) in seats


def test_clauses_carry_the_cells_behind_them():
    why = Page(render(no_go())).section("Why")
    where = cell("side protection").replace("!", " ")
    assert f"side protection is none : side protection: none {where}" in why
    assert "cave-in protection: needed, by DIG-2" in why
    assert "DIG-3: spoil nearer than 2 ft to a pit (ask; 29 CFR 1926.651(j)(2))" in why
    assert "P3 condition, if spoil distance is less than 2 ft; nothing otherwise." in why


def test_a_finding_behind_a_fold_prints_open():
    text = render(no_go())
    assert text.count("<details open>") == text.count("<details") > 0


def test_thirty_piers_that_are_alike_stay_small():
    assert len(render(for_engineer(30))) < 150_000


def test_a_blank_survey_of_thirty_piers_stays_small():
    assert len(render(judged(piers=30, blank=True))) < 100_000


HOSTILE = "</title></style><script>alert(1)</script><img src=x onerror=alert(1)>{{ 7 * 7 }}\"'"


def test_text_of_the_survey_is_never_markup():
    made = judged(
        piers=2,
        name=f"../{HOSTILE}",
        labels={1: HOSTILE[:59], 2: "<svg onload=alert(1)>"},
        every_pier={"pit depth": "4 ft 8 in", "spoil distance": "1 ft"},
        some_piers={2: {"pit width": HOSTILE[:70]}},
        site={
            "job name": HOSTILE, "address": HOSTILE, "surveyor": HOSTILE, "ticket number": HOSTILE,
            "emergency contact": HOSTILE, "competent person": HOSTILE, "remarks": HOSTILE,
        },
        releases=(
            {**RELEASE, "released place": "<svg onload=alert(1)>", "released by": HOSTILE,
             "licence number": HOSTILE, "release note": HOSTILE},
            {**RELEASE, "released finding": HOSTILE},
        ),
    )  # fmt: skip
    text = render(dataclasses.replace(made, disagreement=(HOSTILE,)))
    page = Page(text)
    assert page.open == []
    assert not set(page.tags) & {"script", "img"}
    drawn = text.count('<svg class="shape"') + text.count('<svg class="drawing"')
    assert page.tags.count("svg") == drawn + 1
    assert page.tags.count("style") == 1
    assert page.headings[0][1] == cut(HOSTILE, 70)
    assert HOSTILE in page.section("The job")
    assert "49" not in page.headings[0][1]


def test_unseen_characters_of_the_survey_do_not_reach_the_page():
    made = judged(name="lane\x00\x1b\u202e\ud800", labels={1: "موقع 1"})
    text = render(made)
    text.encode("utf-8")
    assert not set(text) & set("\x00\x1b\u202e\ud800")
    assert '<bdi dir="ltr">موقع 1</bdi>' in text


def test_the_same_survey_gives_the_same_page():
    assert render(no_go()) == render(no_go())


def test_the_template_engine_is_not_loaded_before_a_page_is_made():
    code = "import sys, survey.sheets; sys.exit('jinja2' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_boxes_stand_in_the_order_of_what_kills_first():
    found = assess(survey_of(careful_house()), (), load_book())
    section = Page(render(found)).section("Conditions in full")
    codes = re.findall(
        r"\b([A-Z]+)-\d+ : (?!pit dug below|wall too light)", section[section.index("DIG-") :]
    )
    assert codes.index("DIG") < codes.index("LINE") < codes.index("FOOT")
    assert codes == sorted(codes, key=("DIG", "LINE", "FOOT").index)


def test_two_releases_that_rest_on_the_same_note_are_one_box():
    twice = {**RELEASE, "released place": "P1, P2", "released by": "U. Sedge"}
    made = judged(piers=2, every_pier={"pit depth": "4 ft 8 in"}, releases=(BOTH_PIERS, twice))
    text = render(made)
    assert text.count('class="tick"') == 1
    boxes = Page(text).section("Conditions: tick")
    assert "T. Quill (licensed engineer) until 2026-12-24, U. Sedge (licensed engineer)" in boxes
    assert "if 1 condition is met" in text


def test_a_standing_release_that_has_ended_is_not_among_the_rules_in_force():
    days = (dt.date(2026, 1, 1), dt.date(2026, 12, 3))
    change = Change("standing release REL-1 lifts DIG-10", "detail D-3", "firm.rules:37", days)
    page = Page(render(dataclasses.replace(go(), changes=(change,))))
    assert not [heading for heading in page.sections if heading.startswith("Local rules")]
    assert "it ends on Thu 03 Dec 2026, before the crew's last day" in page.section("Standing")
    held = dataclasses.replace(change, days=(days[0], dt.date(2026, 12, 4)))
    page = Page(render(dataclasses.replace(go(), changes=(held,))))
    assert "REL-1" in page.section("Local rules in force")


def test_a_condition_that_has_no_room_has_its_box_behind():
    made = with_conditions()
    many = tuple(
        dataclasses.replace(f, rule=dataclasses.replace(f.rule, code=f"CREW-{n}"))
        for f in made.findings if f.rule.code == "CREW-1" for n in range(1, 61)
    )  # fmt: skip
    text = render(dataclasses.replace(made, findings=many))
    front, _, office = text.partition('<div class="office">')
    assert 0 < front.count('class="tick"') < 60
    assert front.count('class="tick"') + office.count('class="tick"') == 60
    assert f"and {office.count(CLASS_TICK)} conditions more, each with its box below" in front


CLASS_TICK = 'class="tick"'


@pytest.mark.parametrize("verdict", EACH_VERDICT)
def test_every_finding_stands_behind_with_its_places(verdict):
    made = EACH_VERDICT[verdict]()
    office = render(made).partition('<div class="office">')[2]
    told = " ".join(Page(f"<div>{office.partition('</main>')[0]}").sections.values())
    places = Places.of(made.survey)
    counted = [f for f in made.findings if f.counts]
    released = [f for f in made.findings if not f.counts]
    for group in (*group_findings(counted, places), *group_findings(released, places)):
        assert group.rule.code in told
        assert group.rule.name in told or not group.findings[0].counts
        assert group.where in told


@pytest.mark.parametrize("verdict", EACH_VERDICT)
def test_a_new_reader_finds_verdict_what_first_and_who_on_the_front_page(verdict):
    made = EACH_VERDICT[verdict]()
    told = front(made, Places.of(made.survey))
    assert (told.verdict, told.scheduled) == (made.verdict, may_be_scheduled(made))
    if made.verdict.may_start:
        assert not [act for act in told.actions if act.kind != "releases"]
        assert len(told.boxes) == len({f.rule.code for f in made.findings if f.rule.then
                                       is Outcome.CONDITION})  # fmt: skip
    else:
        assert told.actions[0].who
        assert told.actions[0].do.endswith(".")
    listed = [label for one in told.piers for label in one.labels]
    assert sorted(listed) == [pier.label for pier in made.piers]


def test_drawings_stand_in_the_page_with_what_could_not_be_drawn():
    svg = write_svg(Drawing(10.0, 5.0, "Plan <1>", "a pit", ()), "plan")
    sections = [{"title": "Pit", "where": ("P1",), "svg": svg, "remarks": ("no water level",)}]
    page = Page(template("drawings.html").render(plan_svg=svg, sections=sections))
    assert [text for _, text in page.headings] == ["Drawings", "Plan", "Pit"]
    assert page.tags.count("svg") == 2
    assert ("role", "img") in page.attributes
    assert "no water level" in page.section("Drawings")
    assert "<" not in template("drawings.html").render(plan_svg="", sections=())
