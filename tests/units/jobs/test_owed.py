"""Who has to do what before the crew may come."""

from survey.assessment.decision import Verdict
from survey.jobs.job import job_of
from survey.jobs.owed import OF_THE_ONE_CALL, owed, whose
from survey.vocabulary import VOCABULARY
from tests.made_assessments import EACH_VERDICT, RELEASE, judged


def by_who(assessment):
    found = {}
    for one in owed(assessment):
        found.setdefault(one.who, []).append(one)
    return found


def test_what_only_the_one_call_centre_can_say_is_a_question_of_the_form():
    assert all(VOCABULARY[word].asked for word in OF_THE_ONE_CALL)


def test_whose_answer_it_is():
    assert whose("ticket end", VOCABULARY) == "one-call"
    assert whose("owner's answer", VOCABULARY) == "one-call"
    assert whose("footing thickness", VOCABULARY) == "surveyor"
    assert whose("side protection", VOCABULARY) == "safety lead"
    assert whose("crew date", VOCABULARY) == "scheduler"


def test_a_stop_waits_for_whoever_its_rule_names_and_decides():
    found = by_who(judged(piers=3, site={"locate request made": "no"}, releases=(RELEASE,)))
    (call,) = found["scheduler"]
    assert (call.code, call.places, call.decides) == ("LINE-2", ("site",), True)
    assert "Call the one-call centre" in call.what


def test_the_engineer_decides_what_is_for_him_once_for_all_piers():
    found = by_who(judged(piers=3, every_pier={"pit depth": "4 ft 6 in"}))
    assert [(one.code, one.places, one.decides) for one in found["engineer"]] == [
        ("FOOT-1", ("P1", "P2", "P3"), True)
    ]


def test_an_open_question_waits_for_whoever_can_answer_with_its_cells():
    site = judged(piers=2, every_pier={"spoil distance": None})
    assert site.verdict is Verdict.HOLD
    questions = {one.about: one for one in owed(site)}
    distance = questions["not known: spoil distance"]
    assert (distance.who, distance.person, distance.decides) == ("safety lead", "", True)
    assert [place.split(" ")[0] for place in distance.places] == ["P1", "P2"]
    assert all("!" in place for place in distance.places)


def test_what_is_milder_than_the_verdict_is_owed_but_does_not_decide():
    site = judged(every_pier={"pit depth": "4 ft 6 in", "spoil distance": None})
    assert site.verdict is Verdict.ENGINEER_REVIEW
    told = list(owed(site))
    assert [one.decides for one in told] == sorted((one.decides for one in told), reverse=True)
    assert {one.who: one.decides for one in told} == {"engineer": True, "safety lead": False}


def test_a_cell_to_put_right_is_owed_by_the_surveyor():
    site = judged(every_pier={"spoil distance": "about 3"})
    (cell,) = (one for one in owed(site) if "put right" in one.about)
    assert (cell.who, cell.decides) == ("surveyor", True)
    assert "about 3" in cell.what


def test_days_that_can_not_be_kept_are_owed_by_the_scheduler():
    site = judged(site={"ticket start": "2026-12-15", "ticket end": "2026-12-10"})
    told = [one for one in owed(site) if one.about == "days of the crew"]
    assert bool(told) == bool(site.plan.clashes)
    assert site.plan.clashes
    assert told[0].who == "scheduler"


def test_nothing_is_owed_for_a_site_that_may_go():
    for verdict, made in EACH_VERDICT.items():
        site = made()
        deciding = [one for one in owed(site) if one.decides]
        assert bool(deciding) != Verdict(verdict).may_start, verdict


def test_a_job_says_what_the_judgement_says():
    for made in EACH_VERDICT.values():
        site = made()
        job = job_of(site)
        assert job.verdict is site.verdict
        assert [(p.label, p.verdict) for p in job.piers] == [
            (p.label, p.verdict) for p in site.piers
        ]
        assert sum(one.places for one in job.fired) == len(site.findings)
        assert sum(one.waited_for for one in job.open) == len(site.questions)
        assert all(one.waited_for <= one.rows for one in job.open)
