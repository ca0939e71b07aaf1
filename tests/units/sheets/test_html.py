import dataclasses
import re
import subprocess
import sys
from html.parser import HTMLParser
from itertools import pairwise

import pytest

from survey.sheets import render
from survey.sheets._advice import CAUTIONS
from tests.made_assessments import (
    EACH_VERDICT,
    RELEASE,
    for_engineer,
    go,
    judged,
    no_go,
    on_hold,
    with_conditions,
)

VOID = {"meta", "br", "img", "link", "input", "circle", "rect", "path", "use"}


class Page(HTMLParser):
    """What stands in a page: its tags in order, its attributes, and the text of each section."""

    def __init__(self, text):
        super().__init__()
        self.open, self.tags, self.attributes = [], [], []
        self.sections, self.heading, self.headings = {}, "", []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += attrs
        if tag not in VOID:
            self.open.append(tag)
        if re.fullmatch("h[1-6]", tag):
            self.headings.append((int(tag[1]), ""))

    handle_startendtag = handle_starttag

    def handle_endtag(self, tag):
        if tag not in VOID:
            assert self.open.pop() == tag

    def handle_data(self, data):
        if "style" in self.open:
            return
        for level in (1, 2, 3):
            if f"h{level}" in self.open:
                self.headings[-1] = (level, self.headings[-1][1] + data)
                if level == 2:
                    self.heading = self.headings[-1][1]
        said = self.sections.get(self.heading, "") + " " + data
        self.sections[self.heading] = " ".join(said.split())

    def section(self, start):
        (text,) = (t for heading, t in self.sections.items() if heading.startswith(start))
        return text


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
        "NO-GO", "3 cells could not be read", "Internal disagreement",
        "What stops the job, and who must act", "Piers",
        "Conditions: tick and initial each before the pit is opened",
        "Cells that could not be read", "Open questions", "For the engineer to decide",
        "Seats at each pier", "What the rules concluded first",
        "Why: clauses and answers behind each finding", "Figures and workings", "Before you sign",
    ]  # fmt: skip
    assert [heading for level, heading in page.headings if level == 2] == expected


@pytest.mark.parametrize(
    ("assessment", "line"),
    [
        (go, "The crew may be scheduled for Tue 01 Dec 2026. No rule found anything against it."),
        (with_conditions,
         "The crew may be scheduled for Tue 01 Dec 2026, if 3 conditions are met and initialled."),
        (on_hold, "The crew may not be scheduled: 7 answers are missing."),
        (for_engineer,
         "The crew may not be scheduled: a licensed engineer must decide 1 matter."),
        (no_go,
         "The crew may not be scheduled: 2 faults must be put right first; a licensed engineer "
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
    verdict = Page(render(go())).sections["GO"]
    assert "Emergency: 911; Millbrook General, 2 Hill Road" in verdict
    for caution in CAUTIONS:
        assert caution in verdict
    missing = Page(render(no_go())).sections["NO-GO"]
    assert "Emergency: not known Write it here before work:" in missing


def test_a_disagreement_is_told_at_the_top():
    made = dataclasses.replace(go(), disagreement=("DIG-1 at P1: met by one only",))
    page = Page(render(made))
    assert "DIG-1 at P1: met by one only" in page.section("Internal disagreement")
    assert "two evaluators disagree, so neither can be trusted" in page.sections["GO"]


def test_a_single_judgement_is_told():
    once = "Judged once (second evaluator does not run here)."
    assert once in render(dataclasses.replace(go(), evaluators=1))
    assert once not in render(dataclasses.replace(go(), evaluators=2))


def test_stops_say_who_acts_and_who_may_release():
    stops = Page(render(no_go())).section("What stops")
    assert (
        "scheduler LINE-2 No locate request was made. Call the one-call centre and wait for every "
        "owner's answer. Nobody may release this. whole site"
    ) in stops
    assert "engineer FOOT-1 pit under our own footing" in stops
    assert "office, surveyor Answers are missing on sheet Piers." in stops


def test_the_table_of_piers_gives_depth_protection_seats_and_codes():
    piers = Page(render(no_go())).sections["Piers"]
    assert "count for every pier: LINE-2 , CREW-1 ." in piers
    assert (
        "P1 NO-GO 6 ft 6 in none on concrete bed; anchored to footing; with spanning tube "
        "DIG-1 FOOT-1 DIG-3 LINE-1"
    ) in piers
    assert "P3 NO-GO 6 ft 6 in sloped 1.5H:1V" in piers
    assert "FOOT-1 DIG-3? LINE-1" in piers
    released = Page(render(for_engineer())).sections["Piers"]
    assert "(FOOT-1)" in released


def test_a_condition_at_many_piers_is_one_box():
    text = render(with_conditions())
    boxes = Page(text).section("Conditions")
    assert text.count('class="tick"') == 3
    assert (
        "Keep spoil, tools and materials 2 ft or more back from pit P1. The same at P2, P3 . "
        "DIG-3, crew: spoil nearer than 2 ft to a pit P1 to P3"
    ) in boxes
    assert boxes.count("Have gas main shut off") == 1


def test_places_where_the_figures_differ_are_told_apart():
    stops = Page(render(no_go())).section("What stops")
    assert "Pit P1 is 6 ft 6 in deep in type C ground" in stops
    assert "Pit P2 is 7 ft deep in type C ground" in stops


def test_an_open_question_gives_cells_and_what_it_decides():
    asked = Page(render(on_hold())).section("Open questions")
    assert "P4 to P7 P1 to P4 Distance from the pit's edge to the spoil" in asked
    assert "office DIG-3" in asked
    assert "7 answers are not known" in asked


def test_the_engineer_gets_a_line_to_fill_for_each_matter():
    page = Page(render(for_engineer()))
    matters = page.section("For the engineer")
    assert "FOOT-1: pit under our own footing Where: P2 to P4" in matters
    assert "May be released by a licensed engineer." in matters
    assert "Code Place, or all Name Licence and state Day Last day FOOT-1" in matters


def test_released_findings_stay_and_say_who_released_them():
    page = Page(render(for_engineer()))
    released = page.section("Released findings")
    assert "Pit P1 goes to 4 ft 8 in, below the footing at 4 ft." in released
    assert "T. Quill , licensed engineer, licence PE 4711 (OH) , from 2026-11-24" in released
    refused = page.section("Releases that do not count")
    assert "it ended on 2026-11-30, before the crew's first day" in refused
    assert "no rule has the code or name 'FOTO-1'" in refused


def test_seats_say_why_not():
    seats = Page(render(for_engineer())).section("Seats at each pier")
    assert (
        "P1 to P4 does not suit The footing at P1 has an open crack. The same at P2 to P4" in seats
    )


def test_clauses_carry_the_cells_behind_them():
    why = Page(render(no_go())).section("Why")
    assert "side protection is none : side protection: none Piers J4" in why
    assert "cave-in protection: needed, by DIG-2" in why
    assert "DIG-3: spoil nearer than 2 ft to a pit (ask; 29 CFR 1926.651(j)(2))" in why
    assert "spoil distance is less than 2 ft : not known: spoil distance" in why


def test_a_finding_behind_a_fold_prints_open():
    text = render(no_go())
    assert text.count("<details open>") == text.count("<details") > 0


def test_a_working_gives_symbol_formula_numbers_source_and_validity():
    figures = Page(render(no_go())).section("Figures and workings")
    assert "slope reach: Reach of the slope Source: plane geometry." in figures
    assert "Holds for: level ground; benched pits up to 20 ft deep." in figures
    assert "r reach of the slope m H 1.5 x 78 = 117 in P3, P4 9 ft 9 in" in figures
    assert "P1 s = 72 in; c = min(72, 360 - 72) - 36 / 2 = 54 in: 4 ft 6 in" in figures
    assert "statics" in figures


def test_like_workings_are_printed_once():
    one, thirty = render(for_engineer(2)), render(for_engineer(30))
    steps = "reach of the slope</td>"
    assert one.count(steps) == thirty.count(steps) == 1
    assert len(thirty) < 150_000


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
            "emergency contact": HOSTILE, "competent person": HOSTILE,
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
    assert page.tags.count("svg") == Page(render(judged(piers=2))).tags.count("svg")
    assert page.tags.count("style") == 1
    assert page.headings[0][1] == HOSTILE
    assert "49" not in page.headings[0][1]


def test_unseen_characters_of_the_survey_do_not_reach_the_page():
    made = judged(name="lane\x00\x1b\u202e\ud800", labels={1: "موقع 1"})
    text = render(made)
    text.encode("utf-8")
    assert not set(text) & set("\x00\x1b\u202e\ud800")
    assert "<bdi>موقع 1</bdi>" in text


def test_the_same_survey_gives_the_same_page():
    assert render(no_go()) == render(no_go())


def test_the_template_engine_is_not_loaded_before_a_page_is_made():
    code = "import sys, survey.sheets; sys.exit('jinja2' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
