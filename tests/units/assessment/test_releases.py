"""A release lifts a finding only if everything about it holds."""

from __future__ import annotations

import copy

import pytest

from survey.assessment import Verdict, assess
from survey.rulebook.book import load_book
from survey.rulebook.rules import ReleaseBy
from survey.vocabulary import says_no, says_nothing
from tests.demo_surveys import careful_house, survey_of

BOOK = load_book()
CODE = {by: next(r.code for r in BOOK if r.code in wanted) for by, wanted in {
    ReleaseBy.ENGINEER: ("FOOT-1",), ReleaseBy.COMPETENT_PERSON: ("DIG-15",),
    ReleaseBy.NOBODY: ("LINE-3",),
}.items()}  # fmt: skip


def judged(release: dict[str, str] | None = None, **site: str):
    document = copy.deepcopy(careful_house())
    document["site"] |= site
    if release:
        document["releases"][0] |= release
    return assess(survey_of(document), (), BOOK)


def refusals(assessment) -> set[str]:
    refused = {s.refused for f in assessment.findings for s in f.refused}
    return refused | {s.refused for s in assessment.unused_releases}


def test_a_whole_release_lifts_the_finding_and_stays_on_the_sheet():
    findings = [f for f in judged().findings if f.rule.code == "FOOT-1"]
    assert len(findings) == 5
    assert all(len(f.releases) == 1 and not f.counts for f in findings)
    assert judged().verdict.may_start


@pytest.mark.parametrize(
    ("release", "site", "refused"),
    [
        ({"released_by": "not known"}, {}, "it does not say: released by"),
        ({"released_by": "-"}, {}, "it does not say: released by"),
        ({"released_by": "TBD"}, {}, "it does not say: released by"),
        ({"releasing_role": "not known"}, {}, "it does not say: releasing role"),
        ({"release_date": "not known"}, {}, "it does not say: release date"),
        ({"release_end": "not known"}, {}, "it does not say: release end"),
        ({"release_note": "not known"}, {}, "it does not say: release note"),
        ({"licence_number": "not known"}, {}, "it gives no licence number"),
        ({"licence_number": "pending"}, {}, "it gives no licence number"),
        (
            {"releasing_role": "competent person", "licence_number": None},
            {},
            "only a licensed engineer may release FOOT-1, not a competent person",
        ),
        ({"release_date": "2026-12-08"}, {}, "it is dated 2026-12-08, after the crew's first day"),
        ({"release_date": "2026-11-17"}, {}, "it is dated 2026-11-17, before the survey of 2026"),
        ({"release_end": "2026-12-10"}, {}, "it ends on 2026-12-10, before the crew's last day"),
        ({}, {"crew_date": "not known"}, "the crew's first and last days are not known"),
        ({}, {"last_crew_date": "not known"}, "the crew's first and last days are not known"),
        ({}, {"survey_date": "not known"}, "the survey date is not known (site.survey_date)"),
        ({"released_finding": "FOOT-99"}, {}, "no rule has the code or name 'FOOT-99'"),
        ({"released_finding": "not known"}, {}, "it does not say: released finding (releases[1]."),
        ({"released_place": "site"}, {}, "'site': it is found for each pier, not for the site"),
        ({"released_place": "all"}, {}, "'all': a pier that is added later was not released"),
    ],
)
def test_a_release_with_anything_wrong_lifts_nothing_and_says_why(release, site, refused):
    assessment = judged(release, **site)
    assert not assessment.verdict.may_start
    assert any(why.startswith(refused) or refused in why for why in refusals(assessment))
    assert all(f.counts for f in assessment.findings if f.rule.code == "FOOT-1")


PLACEHOLDERS = ("Don't know", "no idea", "not asked", "No sé.", "pendiente", "por confirmar",
                "see office", "ask the office", "ver oficina", "not known yet")  # fmt: skip


@pytest.mark.parametrize("text", PLACEHOLDERS)
@pytest.mark.parametrize("key", ["released_by", "release_note"])
def test_what_only_holds_the_place_of_a_text_is_quoted_as_why_it_lifts_nothing(key, text):
    assert says_nothing(text)
    assessment = judged({key: text})
    assert not assessment.verdict.may_start
    name = key.replace("_", " ")
    assert f"it does not say: {name} (releases[1].{key}: '{text}')" in refusals(assessment)
    assert "it gives no licence number" in str(refusals(judged({"licence_number": text})))


@pytest.mark.parametrize("text", PLACEHOLDERS)
@pytest.mark.parametrize("key", ["competent_person", "emergency_contact", "address"])
def test_what_only_holds_the_place_of_an_answer_sends_no_crew_out(key, text):
    assert judged().verdict.may_start
    assert not judged(**{key: text}).verdict.may_start


@pytest.mark.parametrize("name", ["No Young", "Si Pending", "Noah Idea"])
def test_a_name_that_begins_as_a_placeholder_is_a_name(name):
    assert not says_nothing(name)
    assert judged({"released_by": name}).verdict.may_start


@pytest.mark.parametrize(
    ("place", "lifted"),
    [
        ("P1", {"P1"}),
        ("p1 to p3", {"P1", "P2", "P3"}),
        ("P1, P3; P5", {"P1", "P3", "P5"}),
        ("P1 and P2", {"P1", "P2"}),
        ("P4 to P2", set()),
        ("P1 to P9", set()),
    ],
)
def test_a_release_lifts_the_places_it_names_and_no_other(place, lifted):
    findings = judged({"released_place": place}).findings
    assert {f.place for f in findings if f.rule.code == "FOOT-1" and not f.counts} == lifted


def spoil(person: str, role: str = "competent person", code: str = "DIG-15"):
    document = copy.deepcopy(careful_house())
    document["piers"][0]["spoil_distance"] = "1 ft"
    release = dict(document["releases"][0])
    release |= {"label": "R2", "released_finding": code, "released_place": "P1",
                "released_by": person, "releasing_role": role}  # fmt: skip
    if role == "competent person":
        del release["licence_number"]
    document["releases"].append(release)
    return assess(survey_of(document), (), BOOK)


def test_the_named_competent_person_may_lift_what_is_his_to_lift():
    assert spoil("b. wherry").verdict.may_start
    assert spoil("T. Aldermoor", "licensed engineer").verdict.may_start


def test_somebody_else_may_not_call_himself_the_competent_person():
    assessment = spoil("Somebody Else")
    assert not assessment.verdict.may_start
    why = (
        "'Somebody Else' is not the competent person named on the Office sheet, who is 'B. Wherry'"
    )
    assert why in refusals(assessment)


def test_nobody_may_lift_what_nobody_may_release():
    document = copy.deepcopy(careful_house())
    document["site"]["ticket_end"] = "2026-11-30"
    document["releases"].append(
        document["releases"][0]
        | {"label": "R2", "released_finding": CODE[ReleaseBy.NOBODY], "released_place": "site"}
    )
    assessment = assess(survey_of(document), (), BOOK)
    assert not assessment.verdict.may_start
    why = f"nobody may release {CODE[ReleaseBy.NOBODY]}: what it finds has to be changed"
    assert why in refusals(assessment)


def test_a_release_does_not_answer_an_open_question():
    document = copy.deepcopy(careful_house())
    document["piers"][0]["footing_depth"] = None
    assessment = assess(survey_of(document), (), BOOK)
    assert assessment.verdict.value == "HOLD"
    (finding,) = [f for f in assessment.findings if f.rule.code == "FOOT-1" and f.place == "P1"]
    assert finding.counts
    assert finding.refused[0].refused.startswith("there is an open question first")


def test_a_cell_to_put_right_holds_the_site():
    from survey.errors import Problem

    survey = survey_of(careful_house())
    assert assess(survey, (Problem("Site!B5", "x", "a date"),), BOOK).verdict.value == "HOLD"


@pytest.mark.parametrize(
    "note", ["NOT approved", "refused", "Not released: wait for letter", "no answer yet",
             "will be checked", "approved subject to review", "awaiting the engineer"],
)  # fmt: skip
def test_a_note_that_it_was_not_given_lifts_nothing(note):
    assert says_no(note)
    found = judged({"release_note": note})
    assert found.verdict is Verdict.ENGINEER_REVIEW
    refused = [s.refused for f in found.findings if f.rule.code == "FOOT-1" for s in f.refused]
    assert set(refused) == {
        f"its note says that it is not given: release note (releases[1].release_note: '{note}')"
    }


@pytest.mark.parametrize(
    "note", ["Letter of 20 Nov 2026: pits one at a time, none wider than 30 in.",
             "Each pit waits for its bed to cure; the next will be opened after that.",
             "Approved subject to one pit open at a time."],
)  # fmt: skip
def test_a_note_with_conditions_is_no_refusal(note):
    assert not says_no(note)
