import dataclasses
import json
import random

import jsonschema
import pytest

from survey.assessment import Verdict
from survey.assessment.fingerprint import answers_fingerprint
from survey.model import Survey
from survey.rulebook.rules import Change
from survey.sheets import read_record, record, record_line, record_schema, write_record
from survey.sheets.record_file import RecordError
from tests.made_assessments import (
    BOOK,
    EACH_VERDICT,
    cell,
    for_engineer,
    go,
    in_spanish,
    judged,
    no_go,
    on_hold,
)


@pytest.mark.parametrize("verdict", EACH_VERDICT)
def test_every_verdict_has_a_record_that_keeps_to_the_schema(verdict):
    text = write_record(EACH_VERDICT[verdict]())
    read = json.loads(text)
    jsonschema.validate(read, record_schema())
    assert read["pier_survey_record"] == 2
    assert read["verdict"] == verdict
    assert read["may_start"] is Verdict(verdict).may_start


def test_the_schema_refuses_a_record_that_lacks_its_verdict():
    read = json.loads(write_record(go()))
    del read["verdict"]
    with pytest.raises(jsonschema.ValidationError, match="verdict"):
        jsonschema.validate(read, record_schema())


def test_the_schema_itself_keeps_to_json_schema_2020_12():
    schema = record_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["properties"]["pier_survey_record"] == {
        "const": 2, "title": "Pier Survey Record", "type": "integer",
    }  # fmt: skip


def test_it_reads_back_as_it_was_written():
    text = write_record(no_go())
    assert read_record(text) == json.loads(text)


def _altered(text):
    return text.replace('"verdict": "NO-GO"', '"verdict": "GO"', 1)


@pytest.mark.parametrize(
    ("damage", "faults"),
    [
        (lambda t: t[:2000], ["cut off: its end is missing"]),
        (lambda t: "", ["cut off: its end is missing"]),
        (lambda t: t.replace('"program": ', '"program" ', 1), ["no JSON, from line 5 on"]),
        (lambda t: t.replace("record\": 2", "record\": 1", 1),
         ["a record of version 1; this program reads version 2"]),
        (lambda t: t.replace("record\": 2", "record\": true", 1),
         ["a record of version True; this program reads version 2"]),
        (lambda t: "[1, 2]", ["no record of a check"]),
        (lambda t: '{"pier_survey": 1}', ["no record of a check"]),
        (lambda t: "[" * 100_000 + "}", ["no record: tables stand in tables without end"]),
        (lambda t: '{"n": ' + "9" * 5000 + "}", ["no JSON, from a number on"]),
        (_altered, ["altered since it was written"]),
        (lambda t: _altered(t).replace('"evaluators": 2', '"evaluators": "2"').replace(
            '"notes": []', '"notes": {}'),
         ["altered since it was written", "evaluators: expected a whole number",
          "notes: expected a list"]),
        (lambda t: '{"pier_survey_record": 2}', ["altered since it was written",
                                                  "verdict: missing"]),
    ],
)  # fmt: skip
def test_what_is_no_whole_record_is_refused_with_every_fault(damage, faults):
    text = write_record(dataclasses.replace(no_go(), evaluators=2))
    with pytest.raises(RecordError) as refused:
        read_record(damage(text))
    assert list(refused.value.faults)[: len(faults)] == faults


def test_no_character_of_a_record_can_be_changed_unseen():
    text = write_record(go())
    rng = random.Random(7)
    for at in rng.sample(range(len(text) - 1), 60):  # the last is a line end
        other = chr((ord(text[at]) - 32 + rng.randint(1, 94)) % 95 + 32)
        if text[at] != "\n" and other != text[at]:
            with pytest.raises(RecordError):
                read_record(text[:at] + other + text[at + 1 :])


def test_every_rule_has_its_fingerprint_and_the_book_s_parts_theirs():
    made = record(go())
    assert list(made["rules"]) == [rule.code for rule in BOOK]
    assert made["shipped_fingerprint"] == BOOK.shipped
    assert made["local_fingerprint"] is None


def test_each_pier_has_the_round_in_which_its_pit_is_dug():
    made, rounds = no_go(), (("P1", "P3"), ("P2",))
    assert {pier["round"] for pier in record(made)["piers"]} == {None}
    order = dataclasses.replace(made.plan.order, rounds=rounds)
    planned = dataclasses.replace(made, plan=dataclasses.replace(made.plan, order=order))
    piers = {pier["pier"]: pier["round"] for pier in record(planned)["piers"]}
    assert piers == {"P1": 1, "P2": 2, "P3": 1, "P4": None}


def test_the_same_survey_gives_the_same_bytes():
    assert write_record(no_go()) == write_record(no_go())


def test_the_line_says_what_the_file_says():
    assessment = no_go()
    line = record_line(assessment)
    assert "\n" not in line
    read = json.loads(line)
    assert read == json.loads(write_record(assessment)) == read_record(line)
    assert read == record(assessment) | {"sha256": read["sha256"]}


def test_every_finding_of_the_assessment_stands_in_it_with_its_clauses():
    assessment = no_go()
    findings = record(assessment)["findings"]
    assert [(f["code"], f["place"], f["outcome"]) for f in findings] == [
        (f.rule.code, f.place, f.outcome.value) for f in assessment.findings
    ]
    dig = next(f for f in findings if f["code"] == "DIG-1" and f["place"] == "P1")
    assert dig["piers"] == ["P1"]
    assert dig["source"] == "29 CFR 1926.652(a)(1)"
    assert dig["may_release"] == "nobody"
    assert dig["reasons"][0]["clause"] == "cave-in protection is needed"
    assert dig["reasons"][0]["rules"] == ["DIG-2"]
    assert dig["reasons"][1]["answers"] == ["side protection of P1"]
    assert record(assessment)["answers"]["side protection of P1"] == {
        "answer": "none",
        "cell": cell("side protection"),
    }


def test_every_answer_that_is_named_is_given():
    made = record(no_go())
    named = {name for f in made["findings"] for r in f["reasons"] for name in r["answers"]}
    named |= {name for f in made["findings"] for name in f["settles"]}
    named |= {name for c in made["chained"] for r in c["reasons"] for name in r["answers"]}
    assert named == set(made["answers"])


def test_what_is_not_known_stays_not_known():
    made = record(on_hold())
    assert made["answers"]["spoil distance of P1"]["answer"] == "not known"
    open_ = next(f for f in made["findings"] if f["code"] == "DIG-3")
    assert open_["outcome"] == "ask"
    assert open_["settles"] == ["spoil distance of P1"]
    assert "spoil distance" in [q["word"] for q in made["questions"]]
    assert record(judged(blank=True))["site"]["crew_date"] is None


def test_a_problem_gives_the_cell_and_what_was_expected():
    (problem,) = record(on_hold())["problems"]
    assert problem["cell"] == cell("pit depth", 3)
    assert problem["read"] == "deep"
    assert problem["expected"].startswith("a length such as")


def test_releases_stand_with_the_finding_that_they_lift_or_with_why_they_do_not():
    made = record(for_engineer())
    by_place = {f["place"]: f for f in made["findings"] if f["code"] == "FOOT-1"}
    assert by_place["P1"]["release"]["person"] == "T. Quill"
    assert by_place["P1"]["release"]["licence"] == "PE 4711 (OH)"
    assert by_place["P2"]["release"] is None
    assert by_place["P2"]["refused"][0]["why"].startswith("it ends on 2026-11-30")
    assert by_place["P3"]["release"] is None
    (unused,) = made["unused_releases"]
    assert unused["why"] == "no rule has the code or name 'FOTO-1'; did you mean 'FOOT-1'?"


def test_piers_carry_their_seats():
    pier = record(for_engineer())["piers"][0]
    assert pier["pier"] == "P1"
    assert pier["verdict"] == "GO WITH CONDITIONS"
    anchored = next(s for s in pier["seats"] if s["seat"] == "anchored to footing")
    assert anchored["state"] == "does not suit"
    assert anchored["why"] == [
        "footing: footing cracks of North: open; it needs: footing cracks is one of: none, hairline"
    ]


def test_the_site_carries_the_days_of_the_crew_and_the_remarks():
    site = record(judged(site={"remarks": "dog in the yard"}))["site"]
    assert (site["crew_date"], site["last_crew_date"]) == ("2026-12-01", "2026-12-04")
    assert site["remarks"] == "dog in the yard"


def test_it_tells_whether_the_book_is_the_shipped_one_and_what_was_changed():
    shipped, own = (
        record(dataclasses.replace(go(), changes=changes))
        for changes in ((), (Change("rule DIG-9 is switched off", "we have no pumps", "a:3"),))
    )
    assert (shipped["shipped_book"], shipped["local_rules"]) == (True, [])
    assert own["shipped_book"] is False
    assert own["local_rules"] == [
        {"what": "rule DIG-9 is switched off", "why": "we have no pumps", "place": "a:3"}
    ]


def test_a_finding_carries_its_spanish():
    book = in_spanish({"CREW-1": ("Las zanjas no tienen cerca.", "Ponga una cerca.")})
    findings = record(judged(site={"public kept out": "no"}, book=book))["findings"]
    (crew,) = (f for f in findings if f["code"] == "CREW-1")
    assert (crew["say_es"], crew["do_es"]) == ("Las zanjas no tienen cerca.", "Ponga una cerca.")
    assert {f["do_es"] for f in record(no_go())["findings"]} == {""}


def test_half_a_character_can_be_stored():
    text = write_record(judged(name="lane \ud800"))
    assert json.loads(text.encode())["site"]["survey"] == "lane ?"


def test_the_fingerprint_follows_the_answers_and_not_the_file():
    survey = judged().survey
    renamed = Survey("other", *(getattr(survey, n) for n in Survey.__slots__[1:]))
    assert answers_fingerprint(renamed) == answers_fingerprint(survey)
    changed = judged(every_pier={"spoil distance": "3 ft 1 in"}).survey
    assert answers_fingerprint(changed) != answers_fingerprint(survey)
