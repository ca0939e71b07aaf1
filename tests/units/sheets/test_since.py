"""What changed since the last check: all of it, and nothing else."""

import dataclasses
import json
import re

import jsonschema
import pytest

from survey.rulebook.rules import Change
from survey.sheets import read_record, record, record_schema, render, write_sheet
from survey.sheets.since import (
    changed,
    glance,
    glance_of_record,
    kept_fingerprint,
    not_compared,
    same_site,
    since,
    since_last,
)
from tests.made_assessments import (
    BOOK,
    EACH_VERDICT,
    RELEASE,
    TODAY,
    cell,
    for_engineer,
    go,
    judged,
    other_book,
)

NOTHING = not_compared("")


def turned(before, now):
    """What changed, without the keys of what did not."""
    found = since(glance(before), glance(now))
    assert found.keys() == NOTHING.keys()
    return {key: value for key, value in found.items() if value != NOTHING[key]}


@pytest.mark.parametrize("verdict", EACH_VERDICT)
def test_a_judgement_and_its_record_are_the_same_at_a_glance(verdict):
    made = EACH_VERDICT[verdict]()
    assert glance(made) == glance_of_record(json.loads(json.dumps(record(made))))
    assert kept_fingerprint(glance(made)["survey"]) == glance(made)["answers_fingerprint"]


def test_where_nothing_changed_nothing_is_told():
    assert not changed(since(glance(for_engineer()), glance(for_engineer())))


def test_an_answer_is_told_once_for_all_places_where_it_turned_alike():
    before = judged(piers=3, every_pier={"spoil distance": "3 ft"})
    now = judged(
        piers=3, every_pier={"spoil distance": "3 ft 6 in"}, some_piers={2: {"spoil distance": ""}}
    )
    found = turned(before, now)
    assert found["answers"] == [
        {"word": "spoil distance", "of": ["P1", "P3"], "before": "3 ft", "now": "3 ft 6 in",
         "cells": [cell("spoil distance", 1), cell("spoil distance", 3)]},
        {"word": "spoil distance", "of": ["P2"], "before": "3 ft", "now": "not known",
         "cells": [cell("spoil distance", 2)]},
    ]  # fmt: skip
    assert found["verdict"] == {"before": "GO", "now": "HOLD"}
    assert found["piers"] == [{"piers": ["P2"], "before": "GO", "now": "HOLD"}]
    assert found["findings"] == [
        {"code": "DIG-3", "name": "spoil nearer than 2 ft to a pit", "places": ["P2"],
         "before": None, "now": "ask"},
    ]  # fmt: skip
    assert found.keys() == {"answers", "verdict", "piers", "findings"}


def test_not_known_to_no_is_a_change_and_not_known_stays_apart_from_its_words():
    found = turned(judged(site={"job name": ""}), judged(site={"public kept out": ""}))
    assert [(a["word"], a["before"], a["now"]) for a in found["answers"]] == [
        ("job name", "not known", "Larch Lane 14"), ("public kept out", "yes", "not known"),
    ]  # fmt: skip


def test_answers_that_print_alike_are_told_to_the_last_figure():
    found = turned(
        judged(site={"test hole depth": "144 in"}), judged(site={"test hole depth": "144.0001 in"})
    )
    (answer,) = found["answers"]
    assert (answer["before"], answer["now"]) == ("12 ft", "144.0001 in")


def test_a_cell_that_moved_is_no_change():
    before, now = glance(go()), glance(go())
    now["survey"]["site"]["answers"]["job name"] = now["survey"]["site"]["answers"]["job name"] | {
        "cell": "Site!Z99"
    }
    assert not changed(since(before, now))


def test_rows_that_came_and_went():
    found = turned(judged(piers=2), judged(piers=2, labels={2: "P2a"}))
    where = {"cell": "Piers!row 5"}
    assert found["rows"] == [
        {"change": "added", "kind": "pier", "label": "P2a"} | where,
        {"change": "gone", "kind": "pier", "label": "P2"} | where,
    ]
    assert found["piers"] == [
        {"piers": ["P2a"], "before": None, "now": "GO"},
        {"piers": ["P2"], "before": "GO", "now": None},
    ]
    assert "answers" not in found


def test_a_release_is_told_with_what_it_lifted():
    deep = {"pit depth": "4 ft 6 in"}
    before = judged(every_pier=deep)
    now = judged(every_pier=deep, releases=(dict(RELEASE, **{"released place": "P1"}),))
    found = turned(before, now)
    (finding,) = found["findings"]
    assert (finding["before"], finding["now"]) == ("engineer", "engineer, released")
    assert found["rows"][0]["kind"] == "release"
    (back,) = turned(now, before)["findings"]
    assert (back["before"], back["now"]) == ("engineer, released", "engineer")


def test_cells_to_put_right_are_told_though_no_answer_changed():
    before = judged(some_piers={1: {"pit depth": ""}})
    now = judged(some_piers={1: {"pit depth": "deep"}})
    assert turned(before, now).keys() == {"problems"}
    (problem,) = turned(before, now)["problems"]
    assert problem["change"] == "added"
    assert problem["text"].startswith(f"{cell('pit depth')}: read 'deep', expected a length")
    assert turned(now, before)["problems"][0]["change"] == "gone"


def test_rules_that_were_added_changed_or_are_gone():
    def gentler(rule):
        if rule.code == "DIG-3":
            return None
        return dataclasses.replace(rule, say="Look out.") if rule.code == "LINE-3" else rule

    other = other_book(gentler)
    before, now = judged(), judged(book=other)
    assert turned(before, now)["rules"] == [
        {"change": "gone", "code": "DIG-3"}, {"change": "changed", "code": "LINE-3"},
    ]  # fmt: skip
    assert turned(now, before)["rules"][0] == {"change": "added", "code": "DIG-3"}


def test_a_rule_changes_with_the_figure_that_it_uses_and_not_with_its_cases():
    from survey.rulebook.reading import read_book

    text = """
limit spoil set-back = {figure}
  from  common practice

rule DIG-1 spoil near a pit
  for   each pier
  when  spoil distance is less than {limit}
  then  condition
  say   Spoil at {{pier}} stands {{spoil distance}} from the edge{print}.
  do    Keep it back.
  who   crew
  from  common practice
  release nobody
  case  spoil distance {case} gives condition
  case  spoil distance 9 ft gives nothing
  case  spoil distance not known gives ask
"""

    def fingerprint(figure="2 ft", limit="spoil set-back", print="", case="1 ft"):
        made = text.format(figure=figure, limit=limit, print=print, case=case)
        return read_book({"a.rules": made}).rule_fingerprints["DIG-1"]

    printed = "; at least {spoil set-back}"
    assert fingerprint() == fingerprint(case="1 ft 6 in")
    assert fingerprint() != fingerprint(figure="3 ft")
    assert fingerprint(limit="2 ft", print=printed) != fingerprint(
        limit="2 ft", print=printed, figure="3 ft"
    )


def test_what_a_firm_s_files_and_another_program_changed():
    switched = (Change("rule DIG-9 is switched off", "we have no pumps", "a:3"),)
    now = dataclasses.replace(
        go(), changes=switched, version="9.9", rules=dataclasses.replace(BOOK, local="abc")
    )
    found = turned(go(), now)
    assert found == {
        "program": {"before": go().version, "now": "9.9"},
        "own_rules": {"before": "none", "now": "abc"},
        "local_rules": [{"change": "added", "text": "rule DIG-9 is switched off"}],
    }


def test_days_that_moved():
    plan = go().plan
    later = dataclasses.replace(plan, latest=dataclasses.replace(plan.latest, day=None))
    (moved,) = turned(go(), dataclasses.replace(go(), plan=later))["days"]
    assert moved["what"] == "latest first day"
    assert moved["now"] == "not known"


def test_what_an_earlier_check_said_stands_until_something_changes():
    kept = not_compared("as it was")
    words = BOOK.vocabulary
    assert since_last(glance(go()), kept, glance(go()), words) is kept
    assert since_last(glance(go()), None, glance(go()), words) is None
    found = since_last(glance(go()), kept, glance(judged(piers=2)), words)
    assert found["note"] == ""
    assert found["rows"]


@pytest.mark.parametrize(
    ("site", "same"),
    [
        ({"job name": "Other", "address": "9 Other Road"}, False),
        ({"job name": "Other"}, True),
        ({"address": "9 Other Road"}, True),
        ({"job name": "Other", "address": ""}, False),
        ({"job name": "", "address": ""}, True),
    ],
)
def test_a_site_is_another_one_where_neither_job_nor_address_is_the_same(site, same):
    assert same_site(glance(go()), glance(judged(site=site))) is same


def checked(assessment, folder):
    page, data, *_ = write_sheet(assessment, folder, today=TODAY)
    text = data.read_text("utf-8")
    jsonschema.validate(json.loads(text), record_schema())
    return page.read_bytes(), data.read_bytes(), read_record(text)["since"]


def test_a_check_compares_with_the_record_beside_it_and_a_second_one_changes_nothing(tmp_path):
    assert checked(go(), tmp_path)[2] is None
    first = checked(judged(every_pier={"spoil distance": "1 ft"}), tmp_path)
    assert [a["word"] for a in first[2]["answers"]] == ["spoil distance"]
    assert checked(judged(every_pier={"spoil distance": "1 ft"}), tmp_path) == first
    assert b"Since the last check" in first[0]
    back = checked(go(), tmp_path)
    assert back[2]["answers"][0]["before"] == "1 ft"


def test_a_site_that_was_never_checked_before_says_nothing_of_it(tmp_path):
    assert b"Since the last check" not in checked(go(), tmp_path)[0]


def _first_version(text):
    return text.replace('"pier_survey_record": 2', '"pier_survey_record": 1')


def _forged(text):
    """As a program would write it, but with nonsense inside."""
    from survey.sheets.record_file import written

    made = json.loads(text)
    del made["sha256"]
    made["findings"] = [3]
    made["survey"] = {"site": None}
    return written(made)


@pytest.mark.parametrize(
    ("damage", "note"),
    [
        (lambda t: t[:3000], "cut off: its end is missing"),
        (_first_version, "a record of version 1; this program reads version 2"),
        (lambda t: t.replace("NO-GO", "GO   "), "altered since it was written"),
        (lambda t: t.replace("Larch", "L\udce9rch"), "altered: it is no UTF-8 text"),
        (_forged, "not as a check writes it"),
    ],
)
def test_a_record_that_can_not_be_relied_on_is_told_and_never_a_failure(tmp_path, damage, note):
    _, data, *_ = write_sheet(judged(site={"locate request made": "no"}), tmp_path, today=TODAY)
    data.write_bytes(damage(data.read_text("utf-8")).encode("utf-8", "surrogateescape"))
    page, text, told = checked(go(), tmp_path)
    assert told == not_compared(f"The record of an earlier check was not compared. It is {note}.")
    assert told["note"].encode() in page
    assert checked(go(), tmp_path) == (page, text, told)


def test_a_record_of_another_job_is_told(tmp_path):
    other = {"job name": "Fennel House", "address": "2 Fen Road"}
    write_sheet(judged(site=other), tmp_path, today=TODAY)
    assert checked(go(), tmp_path)[2] == not_compared(
        "An earlier record of this name is of another job, Fennel House, and was replaced; "
        "nothing was compared."
    )


def test_the_sheet_prints_it_grouped_and_in_few_words():
    before, now = judged(piers=6), judged(piers=6, every_pier={"spoil distance": "1 ft"})
    page = render(now, since=since(glance(before), glance(now)))
    part = page[page.index("Since the last check") :]
    part = re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", part[: part.index("</section>")]))
    assert "P1 to P6 GO GO WITH CONDITIONS" in part
    assert "DIG-3: spoil nearer than 2 ft to a pit P1 to P6 none condition" in part
    assert "spoil distance of P1 to P6" in part
    assert "3 ft 1 ft" in part


def test_of_a_great_many_changes_the_sheet_prints_some_and_counts_the_rest():
    depths = {n: {"spoil distance": f"{n} ft"} for n in range(3, 60)}
    before, now = judged(piers=60), judged(piers=60, some_piers=depths)
    found = since(glance(before), glance(now))
    page = render(now, since=found)
    told = re.search(r"And (\d+) more; the record beside this sheet has them all", page)
    assert 40 + int(told[1]) == len(found["answers"])
    assert page.count('data-h="Before"') == 40


EVIL = "<script>alert(1)</script>\u202egpj"


def test_what_it_quotes_is_harmless():
    before = judged(site={"remarks": EVIL}, labels={1: EVIL})
    page = render(go(), since=since(glance(before), glance(go())))
    assert "<script>alert" not in page
    assert "\u202e" not in page
    assert "&lt;script&gt;alert(1)" in page
