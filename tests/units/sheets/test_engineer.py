"""The engineer's pages: what there is to decide, and the calculations behind the findings."""

from __future__ import annotations

import dataclasses
import functools
import html
import math
import re
from pathlib import Path

import pytest

from survey.answers import read_survey
from survey.assessment import assess
from survey.assessment.named_places import read_places
from survey.engineering.working import Input
from survey.rulebook.book import load_book
from survey.rulebook.rules import Comparison, Every, Outcome, ReleaseBy, comparisons
from survey.sheets import render
from survey.sheets._legible import said
from survey.sheets.engineer import MARKER, render_engineer
from survey.vocabulary import VOCABULARY, Origin, Subject
from survey.workbook import open_survey
from tests.demo_surveys import careful_house, pier, survey_of
from tests.figure_books import book_of
from tests.made_assessments import EACH_VERDICT, RELEASE, for_engineer, judged, no_go
from tests.pages import Page

DEMO = Path(__file__).parents[3] / "demo_sites"
SITES = ("01-fennel-house", "03-tallow-court", "04-weir-cottage")
HOSTILE = "</title></style><script>alert(1)</script><img src=x onerror=alert(1)>{{ 7 * 7 }}\"'"


@functools.cache
def demo(name):
    book = load_book(None)
    survey, problems = read_survey(open_survey(DEMO / f"{name}.xlsx"), book.vocabulary)
    return assess(survey, problems, book)


@functools.cache
def page_of(name):
    return render_engineer(demo(name))


def plain(markup):
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", markup)).split())


def index(text):
    """Number, name, places and codes of each calculation in the index."""
    rows = text.partition('<table class="stack index">')[2].partition("</table>")[0]
    found = [re.findall(r"<t[dh][^>]*>(.*?)</t[dh]>", row) for row in rows.split("<tr>")[2:]]
    return [
        (int(plain(n)), plain(name), plain(where), set(plain(codes).split()))
        for n, name, where, _, codes in found
    ]


def methods(text):
    """The printed calculations by number."""
    parts = text.split('<section class="method" id="c')[1:]
    return {int(part.partition('"')[0]): part.partition("</section>")[0] for part in parts}


def labels(made, subject):
    survey = made.survey
    if subject is Subject.SITE:
        return ("site",)
    others = {Subject.PIER_UTILITY: "utilities", Subject.PIER_NEIGHBOUR: "neighbours"}
    if subject in others:
        rows = getattr(survey, others[subject])
        return tuple(f"{p.label} / {o.label}" for p in survey.piers for o in rows)
    return tuple(row.label for row in survey.rows(subject))


def looked_at(rule, book):
    """The derived words that a rule may look at, also by way of what other rules conclude."""
    found, left, seen = set(), [rule], set()
    while left:
        one = left.pop()
        for word in (word.itself for clause in comparisons(one.condition) for word in clause.words):
            if word.origin is Origin.DERIVED:
                found.add(word.name)
            elif word.origin is Origin.CONCLUDED and word.name not in seen:
                seen.add(word.name)
                found |= {word.starts_from} - {None}
                left += book.concluding(word)
    return found


@pytest.mark.parametrize("name", SITES)
def test_every_figure_that_a_finding_surely_rests_on_is_printed_with_its_working(name):
    made, text = demo(name), page_of(name)
    printed = index(text)
    pages = methods(text)
    checked = 0
    for finding in made.findings:
        condition = finding.rule.condition
        parts = condition.parts if isinstance(condition, Every) else (condition,)
        if not all(isinstance(part, Comparison) for part in parts):
            continue
        if finding.outcome is Outcome.ASK and len(parts) > 1:
            continue  # of what is met each of these clauses is looked at; of what is open, one
        code = finding.rule.code if finding.counts else f"({finding.rule.code})"
        for word in (word.itself for part in parts for word in part.words):
            if word.origin is not Origin.DERIVED:
                continue
            checked += 1
            rows = [row for row in printed if row[1] == word.name and code in row[3]]
            assert rows, (code, word.name)
            if word.subject is finding.rule.subject and word.subject is Subject.PIER:
                at = [read_places(row[2], word.subject, labels(made, word.subject)) for row in rows]
                assert any(finding.place in one.labels for one in at), (code, finding.place)
            figure = next(
                f for f in made.figures if f.word == word.name and
                (f.place == finding.place or word.subject is not finding.rule.subject)
            )  # fmt: skip
            if figure.working is not None:
                assert any(row[0] in pages for row in rows)
    assert checked >= 3


@pytest.mark.parametrize("name", SITES)
def test_no_other_figure_is_printed(name):
    made, book = demo(name), load_book(None)
    by_code = {rule.code: rule for rule in book}
    named = {id(figure.quantity): figure.word for figure in made.figures}
    for number, word, _, codes in index(page_of(name)):
        may = set().union(*(looked_at(by_code[code.strip("()")], book) for code in codes))
        left = [figure.quantity for figure in made.figures if figure.word in may]
        names, seen = set(may), set()
        while left:
            quantity = left.pop()
            if not isinstance(quantity, Input) and id(quantity) not in seen:
                seen.add(id(quantity))
                names.add(named.get(id(quantity), ""))
                if quantity.result.working is not None:
                    names.add(quantity.result.working.title)
                left += quantity.behind
        assert word in names, (number, word, codes)
    found = {finding.rule.code for finding in made.findings}
    assert {c.strip("()") for *_, codes in index(page_of(name)) for c in codes} <= found


@pytest.mark.parametrize("name", SITES)
def test_the_index_names_every_finding_that_looks_at_a_figure(name):
    made = demo(name)
    known = {(figure.word, figure.place) for figure in made.figures}
    codes = {}
    for _, word, _, found in index(page_of(name)):
        codes.setdefault(word, set()).update(found)
    for finding in made.findings:
        code = finding.rule.code if finding.counts else f"({finding.rule.code})"
        for reason in finding.reasons:
            for place in reason.figures:
                behind = {place} if place in known else set(made.figures_behind(*place)) & known
                assert all(code in codes[word] for word, _ in behind)


def test_figures_behind_a_conclusion_are_printed_and_named_where_it_counts():
    text = page_of("04-weir-cottage")
    rows = {row[1]: row for row in index(text)}
    for word in ("tested soil class", "water above pit floor", "cohesive ground"):
        assert "NEAR-1" in rows[word][3], word
    matter = text.partition("NEAR-1: neighbour")[2].partition("</section>")[0]
    (row,) = re.findall(r"<tr>(?:(?!</tr>).)*not: soil class is C.*?</tr>", matter)
    assert f'href="#c{rows["tested soil class"][0]}"' in row


def cells(text):
    """The cells named in a text such as ``Piers F7 to F9, G3; Walls D2``, each by itself."""
    found = set()
    for part in text.split("; "):
        sheet, _, rest = part.partition(" ")
        for one in rest.split(", "):
            ends = [re.fullmatch(r"([A-Z]+)(\d+)", end) for end in one.split(" to ")]
            assert all(ends), one
            column = ends[0][1]
            rows = range(int(ends[0][2]), int(ends[-1][2]) + 1)
            found |= {f"{sheet}!{column}{row}" for row in rows}
    return found


@pytest.mark.parametrize("name", SITES)
def test_answers_that_a_figure_takes_up_stand_with_their_cells(name):
    made, text = demo(name), page_of(name)
    pages = methods(text)
    checked = 0
    for word in {row[1] for row in index(text) if row[1] in VOCABULARY}:
        rows = [row for row in index(text) if row[1] == word and row[0] in pages]
        taken = {}
        for number, *_ in rows:
            for item in re.findall(r"<li>(.*?)</li>", pages[number]):
                asked = plain(re.match(r"<b>(.*?):</b>", item)[1])
                inside = plain(item.rpartition('<span class="cells">')[2]).strip("() ")
                taken.setdefault(asked, ("", set()))
                taken[asked] = (taken[asked][0] + plain(item), taken[asked][1] | cells(inside))
        subject = VOCABULARY[word].subject
        at = {p for row in rows for p in read_places(row[2], subject, labels(made, subject)).labels}
        for figure in made.figures:
            if figure.word == word and figure.place in at and subject is Subject.PIER:
                for part in figure.quantity.behind:
                    if isinstance(part, Input):
                        shown, where = taken[part.word]
                        assert part.answer.where in where, (word, part)
                        answer = said(VOCABULARY[part.word], part.answer.value)
                        assert answer in shown or (
                            "see the list" in shown
                            and f"{part.label} {answer} ({part.answer.where.replace('!', ' ')})"
                            in plain(text)
                        )
                        checked += 1
    assert checked or name == "01-fennel-house"  # its figures of piers take up no answer alone


_NAMES = {"max": max, "min": min, "sqrt": math.sqrt, "floor": math.floor, "ceil": math.ceil}


def worked_out(numbers):
    """What a printed line of arithmetic comes to; none if it is in words."""
    text = re.sub(r"(?<=\d),(?=\d{3})", "", numbers).replace("^", "**")
    text = re.sub(r"(?<=[\d)]) x (?=[\d(a-z-])", " * ", text)
    text = re.sub(r"(?<=\d) (?=max|min|sqrt)", " * ", text)
    if not re.fullmatch(r"(?:max|min|sqrt|floor|ceil|[\d.+\-*/(), ])+", text):
        return None
    if not re.search(r"[+*/]| - |max|min|sqrt", text):
        return None
    try:
        found = eval(text, {"__builtins__": {}}, _NAMES)  # nothing else was let through
    except (SyntaxError, TypeError, ZeroDivisionError):
        return None
    return found if isinstance(found, (int, float)) else None


def sums(text):
    """Name, numbers put in and result of each line of arithmetic on a page."""
    for part in methods(text).values():
        name = plain(re.search(r"<h3>(.*?)</h3>", part)[1])
        for row in re.findall(r"<tr><th scope=\"row\">.*?</tr>", part):
            data = [plain(one) for one in re.findall(r"<td>(.*?)</td>", row)]
            if len(data) == 5:
                yield name, data[0], data[2], data[3]
        for one in re.findall(r'<span class="sum">(.*?)</span>', part):
            pieces = plain(one).split(" = ")
            if len(pieces) == 3:
                yield name, pieces[0], pieces[1], pieces[2]


def test_the_printed_numbers_give_the_printed_results():
    recomputed = set()
    for name in SITES:
        for title, what, numbers, result in sums(page_of(name)):
            value = worked_out(numbers)
            shown = re.match(r"-?[\d,]*\.?\d+", result)
            if value is None or shown is None or " to " in numbers or " to " in result:
                continue
            found = float(shown[0].replace(",", ""))
            assert value == pytest.approx(found, rel=2e-3, abs=1e-3), (title, what, numbers, result)
            recomputed.add((title.partition(". ")[2], what))
    assert len({title for title, _ in recomputed}) >= 15
    assert len(recomputed) >= 40


def test_figures_that_rest_on_earlier_ones_name_them():
    text = page_of("04-weir-cottage")
    number = {row[1]: row[0] for row in index(text)}
    share = plain(methods(text)[number["drive share"]])
    assert f"Takes up: {number['pier load']} pier load" in share
    load = plain(methods(text)[number["pier load"]])
    assert f"Takes up: {number['wall line load']} wall line load" in load
    assert number["wall line load"] < number["pier load"] < number["drive share"]
    for target in re.findall(r'href="#(c\d+)"', text):
        assert f'id="{target}"' in text


def release_lines(text):
    """Code and place of each line of a release."""
    found = []
    for table in text.split('<table class="fill">')[1:]:
        for row in re.findall(r'<tr><td class="code">(.*?)</tr>', table.partition("</table>")[0]):
            code, place, *_ = re.split(r"</td><td>", row)
            found.append((plain(code), plain(place)))
    return found


def test_the_lines_of_a_release_have_the_columns_of_the_sheet():
    text = render_engineer(for_engineer())
    (table,) = text.split('<table class="fill">')[1:]
    heads = re.findall(r'<th scope="(?:col|row)">(.*?)</th>', table.partition("</table>")[0])
    names = [word.name for word in VOCABULARY.asked_of(Subject.RELEASE)]
    assert heads == [name[0].upper() + name[1:] for name in names]


@pytest.mark.parametrize("name", SITES)
def test_each_matter_has_its_line_which_names_just_its_places(name):
    made = demo(name)
    lines = release_lines(page_of(name))
    wanted = {}
    for finding in made.findings:
        stops = finding.counts and finding.outcome in {Outcome.ENGINEER, Outcome.STOP}
        if stops and finding.rule.release is not ReleaseBy.NOBODY:
            wanted.setdefault(finding.rule, set()).add(finding.place)
    assert {code for code, _ in lines} == {rule.code for rule in wanted}
    for rule, at in wanted.items():
        named = [
            read_places(place, rule.subject, labels(made, rule.subject))
            for code, place in lines if code == rule.code
        ]  # fmt: skip
        assert set().union(*(one.labels for one in named)) == at
        assert not any(one.faults for one in named)


def test_a_line_that_is_typed_over_lifts_the_matter():
    deep = {"pit depth": "4 ft 8 in"}
    ((code, place),) = release_lines(render_engineer(judged(piers=4, every_pier=deep)))
    assert (code, place) == ("FOOT-1", "P1 to P4")
    typed = {**RELEASE, "released finding": code, "released place": place}
    after = judged(piers=4, every_pier=deep, releases=(typed,))
    assert [f.counts for f in after.findings if f.outcome is Outcome.ENGINEER] == [False] * 4
    assert release_lines(render_engineer(after)) == []


def test_places_that_can_t_be_drawn_together_get_a_line_each():
    names = {1: "P1 to P3", 2: "a, b", 3: "P3"}
    made = judged(piers=3, labels=names, every_pier={"pit depth": "4 ft 8 in"})
    lines = [place for _, place in release_lines(render_engineer(made))]
    order = tuple(names.values())
    read = [read_places(place, Subject.PIER, order).labels for place in lines]
    assert set().union(*read) == set(order)
    assert sum(map(len, read)) == 3


def test_a_matter_says_what_was_found_the_limits_and_who_may_release_it():
    text = plain(page_of("04-weir-cottage"))
    matter = text.partition("PIER-1: pier that is driven too lightly for its load")[2]
    matter = matter.partition("PIER-2: ")[0]
    assert "although there is this: pier that is driven too lightly for its load?" in matter
    assert "have an engineer say what the pier may carry" in matter
    assert "P1 : drive share: 145.1 % P2 : drive share: 139.18 %" in matter
    assert "Kit B12" in matter
    assert "Limits of the rule: least drive load over service load 150 %." in matter
    assert "Source: common practice, about 1.5" in matter
    assert "May be released by: a licensed engineer" in matter
    assert "Found at the same places as well: FOOT-1" in matter


def test_a_release_lies_between_survey_and_last_day_of_the_crew():
    text = plain(render_engineer(for_engineer()))
    assert (
        "dated no earlier than the day of the survey, Fri 20 Nov 2026, and no later than the "
        "crew's first day, Tue 01 Dec 2026" in text
    )
    assert "It holds until the crew's last day, Fri 04 Dec 2026, or longer" in text
    unknown = judged(every_pier={"pit depth": "4 ft 8 in"}, site={"last crew date": None})
    cell = unknown.survey.site.answers["last crew date"].where.replace("!", " ")
    assert f"the crew's last day, which is not known ({cell})" in plain(render_engineer(unknown))


def test_what_is_open_at_the_same_place_is_told_with_its_cell():
    text = plain(render_engineer(no_go()))
    matter = text.partition("FOOT-1: pit under our own footing")[2]
    cell = no_go().survey.piers[2].answers["spoil distance"].where.replace("!", " ")
    assert "Open at the same places:" in matter
    assert re.search(rf"DIG-3 \( ?spoil nearer than 2 ft to a pit, P3 ?; answer {cell} ?\)", matter)


def test_a_release_that_does_not_hold_stands_with_its_matter():
    late = {**RELEASE, "released place": "P1", "release date": "2026-12-03"}
    made = judged(every_pier={"pit depth": "4 ft 8 in"}, releases=(late,))
    text = plain(render_engineer(made))
    matter = text.partition("FOOT-1: pit under our own footing")[2]
    assert "Release on the survey, row R1 does not hold here" in matter
    assert "after the crew's first day" in matter


def test_a_figure_that_is_not_known_names_the_cell_and_gives_no_number():
    book = book_of({"pit volume": ("is more than 1 ft3", "2 ft3")})
    rule = next(iter(book))
    levels = [[dataclasses.replace(rule, then=Outcome.STOP, release=ReleaseBy.ENGINEER)]]
    stop = dataclasses.replace(book, levels=tuple(tuple(level) for level in levels))
    document = careful_house()
    document["piers"] = [pier("P1", "South", "6 ft"), pier("P2", "South", "18 ft")]
    del document["piers"][1]["pit_width"]
    made = assess(survey_of(document, "open"), (), stop)
    text = render_engineer(made)
    rest = plain(text.partition("Figures that could not be worked out")[2])
    assert re.search(r"pit volume P2 not known not known: pit width Answer first: pit width", rest)
    assert "(piers[2].pit_width)" in rest
    assert "ft3" not in rest


def test_what_lies_beyond_a_method_says_who_decides():
    book = book_of({"steepest slope by appendix": ("is at least 0.5H:1V", "1H:1V")})
    document = careful_house()
    for one in document["piers"]:
        one["pit_depth"] = "22 ft"
    made = assess(survey_of(document, "deep"), (), book)
    assert made.verdict.value == "HOLD"
    text = plain(render_engineer(made))
    assert "No answer on the form settles it: look again on site, or an engineer decides." in text
    assert "designed by an engineer, App. F" in text.partition("could not be worked out")[2]


@pytest.mark.parametrize("verdict", EACH_VERDICT)
def test_the_pages_are_sound_and_fetch_nothing(verdict):
    made = EACH_VERDICT[verdict]()
    text = render_engineer(made)
    page = Page(text)
    assert text.startswith(MARKER)
    assert page.open == []
    assert [level for level, _ in page.headings].count(1) == 1
    assert "script" not in page.tags
    assert not [value for name, value in page.attributes if name in {"src", "action"}]
    assert all(v.startswith("#") for name, v in page.attributes if name == "href")
    assert text == render_engineer(EACH_VERDICT[verdict]())


def test_nothing_for_an_engineer_is_said_in_one_line():
    made = judged(book=book_of({"pit volume": ("is at least 5000 ft3", "6000 ft3")}))
    text = plain(render_engineer(made))
    assert "Nothing here is for an engineer: no finding waits for a release" in text
    assert "Calculations behind the findings" not in text
    assert "Signature" not in text


def test_without_a_matter_the_calculations_behind_conditions_still_stand():
    made = judged(book=book_of({"pit volume": ("is at least 1 ft3", "2 ft3")}))
    text = render_engineer(made)
    assert "No finding waits for an engineer." in text
    assert [(row[1], row[3]) for row in index(text)][-1] == ("pit volume", {"FIG-1"})


def test_what_is_released_is_told_and_its_figures_in_brackets():
    text = page_of("01-fennel-house")
    released = Page(text).section("Already released")
    assert "FOOT-1 pit dug below our own footing P1 to P5" in released
    assert "(PIER-2)" in {row[1]: row[3] for row in index(text)}["lift use"]


def test_text_of_the_survey_is_never_markup():
    made = judged(
        piers=2,
        name=f"../{HOSTILE}",
        labels={1: HOSTILE[:59], 2: "<svg onload=alert(1)>"},
        every_pier={"pit depth": "4 ft 8 in", "spoil distance": "1 ft"},
        site={"job name": HOSTILE, "address": HOSTILE, "surveyor": HOSTILE},
        releases=(
            {**RELEASE, "released place": "<svg onload=alert(1)>", "released by": HOSTILE,
             "release note": "\x1b[31m" + HOSTILE},
        ),
    )  # fmt: skip
    text = render_engineer(made)
    assert "<script" not in text
    assert "<img" not in text
    assert "<svg onload" not in text
    assert "{{ 7 * 7 }}" in text
    assert "\x1b" not in text
    assert Page(text).open == []


def test_what_the_pages_print_no_longer_stands_on_the_sheet():
    sheet = render(no_go())
    assert "Last day" not in sheet
    assert "Figures and workings" not in sheet


def test_cells_to_put_right_come_before_any_release():
    made = judged(every_pier={"pit depth": "4 ft 8 in", "pit width": "wide"})
    assert made.problems
    text = plain(render_engineer(made))
    assert "1 cell must be put right first" in text


def test_sixty_piers_stay_small():
    assert len(render_engineer(for_engineer(60))) < 120_000
