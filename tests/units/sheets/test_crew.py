"""The crew page: what stands on it for each verdict, in both languages."""

from __future__ import annotations

import dataclasses
import datetime as dt
import re

import pytest

from survey.assessment import Verdict
from survey.assessment.planning import Order
from survey.resources import folder
from survey.rulebook.rules import Outcome
from survey.sheets import _crew_fit
from survey.sheets._crew_words import ENGLISH, SPANISH, CrewWords
from survey.sheets.crew import Languages, first_sentence, render_crew, side
from tests.made_assessments import EACH_VERDICT, RELEASE, in_spanish, judged, no_go, with_conditions
from tests.pages import Page

BOTH = pytest.mark.parametrize("words", [ENGLISH, SPANISH], ids=["English", "Spanish"])
MAY_NOT = ("HOLD", "ENGINEER REVIEW", "NO-GO")
TEXTS = [
    field.name for field in dataclasses.fields(CrewWords) if field.name not in ("people", "topics")
]
DETERMINED = {"pit depth": "4 ft 8 in"}


def page_of(assessment, languages=Languages.ENGLISH):
    return Page(render_crew(assessment, languages))


def text_of(assessment, languages=Languages.ENGLISH):
    return " ".join(page_of(assessment, languages).sections.values())


def ticks(page):
    return page.attributes.count(("class", "c-tick"))


def released(piers=3):
    return judged(piers=piers, every_pier=DETERMINED, releases=(RELEASE,))


@pytest.mark.parametrize("verdict", EACH_VERDICT)
@pytest.mark.parametrize("languages", Languages)
def test_the_verdict_stands_in_shape_word_and_plain_words_on_each_side(verdict, languages):
    made = EACH_VERDICT[verdict]()
    text_of_page = render_crew(made, languages)
    page = Page(text_of_page)
    sides = {Languages.ENGLISH: ("en",), Languages.SPANISH: ("es",)}.get(languages, ("en", "es"))
    articles = re.findall(r'<article class="c-side [^"]*" lang="(..)">', text_of_page)
    assert articles == list(sides)
    assert page.attributes.count(("class", "c-emergency")) == len(sides)
    assert page.attributes.count(("href", f"#v-{made.verdict.name}")) >= len(sides)
    text = " ".join(page.sections.values())
    for words in (ENGLISH, SPANISH):
        there = words.language in sides
        may = words.start.get(made.verdict, words.stop_and_call)
        assert (may in text) == there
        assert (words.nobody_digs in text) == (there and verdict in MAY_NOT)
        assert words.verdicts[made.verdict] in text or not there


@pytest.mark.parametrize("made", [with_conditions, released, lambda: judged(piers=60)])
@BOTH
def test_every_condition_and_every_release_to_keep_to_is_a_box(made, words):
    assessment = made()
    counted = {
        f.rule.code for f in assessment.findings if f.counts and f.outcome is Outcome.CONDITION
    }
    lifted = {f.rule.code for f in assessment.findings if not f.counts}
    found = side(assessment, words)
    assert {box.code for box in found.boxes} == counted | lifted
    page = page_of(assessment, Languages.SPANISH if words is SPANISH else Languages.ENGLISH)
    assert ticks(page) == len(found.boxes)
    assert page.attributes.count(("class", "c-initials")) == 2 * bool(found.boxes) + max(
        0, len(found.boxes) - 1
    )
    text = " ".join(page.sections.values())
    for finding in assessment.findings:
        if finding.rule.code in counted:
            assert first_sentence(finding.do)[0].split(" pit ")[0] in text
    for box in found.boxes:
        assert box.note in text


@pytest.mark.parametrize("verdict", MAY_NOT)
def test_where_nobody_may_start_nothing_is_offered_to_tick_or_to_sign(verdict):
    made = EACH_VERDICT[verdict]()
    page = page_of(made, Languages.BOTH)
    assert any(f.outcome is Outcome.CONDITION for f in no_go().findings)
    assert ticks(page) == 0
    text = " ".join(page.sections.values())
    for words in (ENGLISH, SPANISH):
        assert words.told not in text
        assert words.conditions not in text
        assert words.order not in text
        assert words.why in text


def test_a_stop_says_what_is_wrong_who_acts_and_where_in_both_languages():
    spanish = {
        "DIG-1": ("El pozo no tiene protección. Es hondo.", "Todos afuera."),
        "LINE-2": ("No se hizo la solicitud.", "Llame."),
    }
    made = no_go(book=in_spanish(spanish))
    (english,) = (why for why in side(made, ENGLISH).why if why.code == "DIG-1")
    assert (english.who, english.where) == ("crew", "P1, P2")
    assert english.what.startswith("Pit P1 is 6 ft 6 in deep in type C ground")
    found = {why.code: why for why in side(made, SPANISH).why}
    assert found["DIG-1"].what == "El pozo no tiene protección. Es hondo."
    assert (found["DIG-1"].who, found["DIG-1"].where) == ("cuadrilla", "P1, P2")
    assert (found["LINE-2"].who, found["LINE-2"].where) == (
        "quien programa la obra",
        "toda la obra",
    )
    assert not found["LINE-2"].english
    engineer = [why for why in side(made, SPANISH).why if why.who == "ingeniero"]
    assert engineer[0].what == "Tiene que decidir primero sobre: zapata y muro."
    assert engineer[0].code == "FOOT-1"


def test_a_text_without_spanish_is_marked_as_english_on_the_spanish_side():
    page = render_crew(with_conditions(), Languages.SPANISH)
    assert '<p lang="en"><b>Fence or cover the pits' in page
    assert '<p lang="en">' not in render_crew(with_conditions(), Languages.ENGLISH)


def test_what_is_missing_is_counted_by_who_answers():
    made = EACH_VERDICT["HOLD"]()
    lines = [(why.who, why.what) for why in side(made, ENGLISH).why]
    numbers = [int(re.search(r"\d+", what)[0]) for _, what in lines if "Answers" in what]
    assert sum(numbers) == len(made.questions)
    assert ("surveyor", f"Cells of the survey to put right: {len(made.problems)}.") in lines
    assert any(why.code == "SURVEY-1" for why in side(made, SPANISH).why)


def test_more_reasons_than_fit_are_counted():
    made = no_go()
    stop = next(f for f in made.findings if f.outcome is Outcome.STOP)
    more = tuple(
        dataclasses.replace(stop, rule=dataclasses.replace(stop.rule, code=f"OWN-{i}"))
        for i in range(1, 31)
    )
    found = side(dataclasses.replace(made, findings=made.findings + more), ENGLISH)
    assert len(found.why) == 10
    assert found.more == len(side(made, ENGLISH).why) + 30 - 10


@pytest.mark.parametrize(
    ("made", "why"),
    [
        (lambda: judged(piers=0), "no_pier"),
        (lambda: judged(site={"crew date": None, "last crew date": None}), "no_first_day"),
    ],
)
def test_without_a_pier_or_a_first_day_nobody_digs_whatever_the_verdict(made, why):
    assessment = dataclasses.replace(made(), verdict=Verdict.GO)
    for words in (ENGLISH, SPANISH):
        found = side(assessment, words)
        assert not found.starts
        assert getattr(words, why) in [one.what for one in found.why]


def test_evaluators_that_disagree_let_nobody_start():
    made = dataclasses.replace(judged(), verdict=Verdict.NO_GO, disagreement=("DIG-1 at P1",))
    assert side(made, ENGLISH).why[0].what == ENGLISH.disagreement
    assert ENGLISH.nobody_digs in text_of(made)


@pytest.mark.parametrize("piers", [1, 12, 60])
@BOTH
def test_every_pier_stands_in_the_table_alike_ones_in_one_line(piers, words):
    deeper = {"pit depth": "4 ft 3 in", "footing depth": "5 ft"}
    made = judged(
        piers=piers, some_piers={1: deeper, piers: deeper}, every_pier={"footing depth": "5 ft"}
    )
    found = side(made, words)
    named = [label for line in found.lines for label in expanded(line.where, words)]
    assert sorted(named) == sorted(pier.label for pier in made.piers)
    assert len(found.lines) == (1 if piers == 1 else 2)
    assert found.lines[0].depth == "4 ft 3 in"
    assert found.lines[0].sides == ("sloped 1.5H:1V" if words is ENGLISH else "en talud 1.5H:1V")
    assert found.lines[0].seat == "A"


def expanded(where, words):
    for part in where.split(", "):
        first, _, last = part.partition(f" {words.to} ")
        yield from (f"P{i}" for i in range(int(first[1:]), int((last or first)[1:]) + 1))


def with_rounds(made, *rounds):
    order = Order(rounds, (), "", "", None)
    return dataclasses.replace(made, plan=dataclasses.replace(made.plan, order=order))


def test_rounds_say_which_pits_now_which_next_and_which_are_in_none():
    made = with_rounds(judged(piers=6), ("P1", "P4"), ("P2", "P5"), ("P3",))
    found = side(made, ENGLISH)
    assert [(one.name, one.pits) for one in found.rounds] == [
        ("Round 1 (now)", "P1, P4"), ("Round 2 (then)", "P2, P5"),
        ("After that, round by round", "3: P3"),
    ]  # fmt: skip
    assert found.no_round == "P6"
    assert found.keep[0] == ENGLISH.rounds_wait
    assert found.lines[0].rounds == "1 to 3"
    assert [one.name for one in side(made, SPANISH).rounds][:2] == [
        "Ronda 1 (ahora)", "Ronda 2 (después)",
    ]  # fmt: skip


def test_pits_one_at_a_time_are_one_line():
    found = side(with_rounds(judged(piers=3), ("P2",), ("P1",), ("P3",)), SPANISH)
    assert [(one.name, one.pits) for one in found.rounds] == [
        ("Un pozo a la vez, en este orden", "P2, P1, P3")
    ]
    assert found.keep[0] == SPANISH.single_waits


def test_without_an_order_the_page_says_so():
    assert ENGLISH.no_order in text_of(judged(piers=2))


def test_what_stays_as_planned_names_places_only_where_they_differ():
    near = {1: {"spoil distance": "2 ft"}}
    assert "Spoil at least 3 ft from the edge." in side(judged(piers=3), ENGLISH).keep
    found = side(judged(piers=3, some_piers=near), SPANISH).keep
    assert "Tierra excavada a 2 ft del borde, por lo menos (en P1)." in found
    assert "Tierra excavada a 3 ft del borde, por lo menos (en P2, P3)." in found


def test_the_movement_that_stops_the_work_or_that_nobody_has_set_it():
    known = side(judged(site={"movement that stops the work": "1/4 in"}), ENGLISH)
    assert known.get_out[0] == "the wall moves 0.25 in or more: pressure off, call the engineer"
    assert side(judged(), ENGLISH).get_out[0] == ENGLISH.moved_not_known


def test_days_are_written_in_the_language_of_the_side():
    assert side(judged(), ENGLISH).days == "Tue 01 Dec to Fri 04 Dec 2026"
    assert side(judged(), SPANISH).days == "mar 01 dic al vie 04 dic 2026"
    one = judged(site={"last crew date": dt.date(2026, 12, 1)})
    assert side(one, SPANISH).days == "mar 01 dic 2026"
    open_end = judged(site={"last crew date": None})
    assert side(open_end, SPANISH).days == "mar 01 dic 2026; no se sabe el último día"


def test_an_emergency_line_that_is_not_known_is_left_to_write_in():
    page = text_of(judged(site={"emergency contact": None}), Languages.BOTH)
    assert f"not known; {ENGLISH.write_here}" in page
    assert f"no se sabe; {SPANISH.write_here}" in page


def test_the_seat_is_told_in_the_language_of_the_side():
    made = judged(wall={"footing face can be prepared": "no"})
    (english,), (spanish,) = side(made, ENGLISH).seats, side(made, SPANISH).seats
    assert (english.prompt, english.do) == (
        "bracket held to the footing with anchors", "Drill for the anchors."
    )  # fmt: skip
    assert (spanish.prompt, spanish.caution, spanish.english) == (
        "soporte sujeto a la zapata con anclas", "Limpie los agujeros con aire.", False,
    )  # fmt: skip
    assert side(judged(), SPANISH).seats[0].english  # under the cut footing has no Spanish here


def test_hostile_text_stays_text():
    attack = "<script>alert(1)</script>{{ 7*7 }}{0}\x07\u202e"
    made = judged(
        piers=2, labels={1: "<b>{}</b>"},
        site={"job name": attack, "address": attack, "emergency contact": attack,
              "competent person": attack},
        every_pier=DETERMINED,
        releases=({**RELEASE, "released by": attack, "release note": attack},),
    )  # fmt: skip
    text = render_crew(made)
    assert "<script" not in text
    assert "&lt;script&gt;alert(1)&lt;/script&gt;{{ 7*7 }}{0}" in text
    assert "<b>{}</b>" not in text
    assert "\x07" not in text
    assert "\u202e" not in text
    Page(text)  # every tag is closed


def test_both_languages_say_everything_with_the_same_blanks():
    for name in TEXTS:
        english, spanish = (str(getattr(words, name)) for words in (ENGLISH, SPANISH))
        assert english.count("{}") == spanish.count("{}"), name
        assert english != spanish or name == "floor", name
    assert len(ENGLISH.get_out_if) == len(SPANISH.get_out_if)
    assert set(SPANISH.verdicts) == set(ENGLISH.verdicts) == set(Verdict)
    assert len(set(SPANISH.verdicts.values())) == len(Verdict)


def test_the_more_there_is_to_say_the_smaller_the_type_and_then_only_first_sentences():
    made = with_conditions(2)
    condition = next(f for f in made.findings if f.rule.code == "CREW-1")

    def with_more(number):
        do = "Fence the pits on every side, all the time. " + "And do it well, with care. " * 12
        more = tuple(
            dataclasses.replace(
                condition, do=do, rule=dataclasses.replace(condition.rule, code=f"OWN-{i}")
            )
            for i in range(number)
        )
        return dataclasses.replace(made, findings=made.findings + more)

    sizes = [side(with_more(number), ENGLISH).size for number in (0, 3, 6, 12, 24)]
    assert [size.points for size in sizes[:3]] == sorted(
        {s.points for s in sizes[:3]}, reverse=True
    )
    assert [size.short for size in sizes] == [False, False, False, True, True]
    assert min(size.points for size in sizes) >= 7.5
    assert "And do it well" in text_of(with_more(6))
    short = text_of(with_more(24))
    assert "And do it well" not in short
    assert ENGLISH.in_full in short
    assert ENGLISH.in_full not in text_of(with_more(6))
    assert short.count("Fence the pits on every side, all the time.") == 24


def test_the_style_sheet_has_every_size():
    styles = (folder("forms") / "crew.css").read_text("utf-8")
    for size in _crew_fit._SIZES:
        assert f".c-{size.name} {{ font-size: {size.points:g}pt; }}" in styles


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("Helmets on. Mark low beams and light the way. Then go.",
         "Helmets on. Mark low beams and light the way."),
        ("Use bars of núm. 3 or larger, up to 1.5 in. ¿Seguro? No.",
         "Use bars of núm. 3 or larger, up to 1.5 in."),
        ("One sentence and no more of them here", "One sentence and no more of them here"),
    ],
)  # fmt: skip
def test_the_first_sentence_ends_at_a_full_stop_and_is_not_too_short(text, first):
    found, rest = first_sentence(text)
    assert found == first
    assert f"{found} {rest}".strip() == text
