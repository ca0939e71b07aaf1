"""The figures for the safety meeting equal a plain count over the records of the same sites.

The records are read back from their JSON and counted with the standard library alone; the figures
are counted by pandas from the judgements in short.
"""

import dataclasses
import json
import statistics
from collections import Counter

import pytest

from survey.assessment import assess
from survey.jobs.figures import HOLDING, Span, choose, figures
from survey.jobs.job import job_of
from survey.jobs.judging import Checked
from survey.rulebook.book import load_book
from survey.rulebook.rules import Outcome
from survey.sheets.record_file import write_record
from survey.vocabulary.walk import MAY_STAY_BLANK
from tests.demo_surveys import DEMO, survey_of

BOOK = load_book()
ASKS = {rule.code for rule in BOOK if rule.then is Outcome.ASK}
CHANGES = {
    "as it is": {},
    "others": {"surveyor": "T. Vale", "survey_date": "2026-09-02", "heavy_rain_expected": None},
    "no town": {"town": None, "survey_date": "2026-09-30", "crew_size": None},
}


def site(name, change):
    """A demo site with some answers of the site changed."""
    document = DEMO[name]()
    answers = document["site"] | CHANGES[change]
    document["site"] = {key: value for key, value in answers.items() if value is not None}
    return assess(survey_of(document, f"{name}, {change}"), (), BOOK)


@pytest.fixture(scope="module")
def both():
    """The figures, and the records."""
    judged = [site(name, change) for name in DEMO for change in CHANGES]
    checked = [Checked(one.survey.name, "", job_of(one)) for one in judged]
    return figures(choose(checked, Span(None, None))), [
        json.loads(write_record(one)) for one in judged
    ]


def came_to(finding):
    """The outcome of a finding of a record, as it is counted."""
    if finding["release"]:
        return "released"
    asks = finding["code"] in ASKS and not finding["settles"]
    return "can't be told" if finding["outcome"] == "ask" and not asks else finding["outcome"]


def unknown(record):
    """How many rows don't know the answer, by the question."""
    kept = record["survey"]
    rows = [
        kept["site"],
        *(row for rows in kept.values() if isinstance(rows, list) for row in rows),
    ]
    return Counter(
        word
        for row in rows
        if "answers" in row
        for word, answer in row["answers"].items()
        if answer.get("state") == "not known" and word not in MAY_STAY_BLANK
    )


def waited(record):
    return Counter(question["word"] for question in record["questions"])


def known(record, word):
    """An answer of the site; none if it is not known."""
    return record["survey"]["site"]["answers"][word].get("value")


def test_rules_are_counted_as_the_records_have_them(both):
    found, records = both
    places, sites = Counter(), Counter()
    for record in records:
        ways = Counter((f["code"], came_to(f)) for f in record["findings"])
        places += ways
        kinds = {
            (code, way if way in ("released", "can't be told") else "met") for code, way in ways
        }
        sites.update(kinds)
    assert len(found.rules) > 60
    assert {one.code for one in found.rules} == {code for code, _ in places}
    for one in found.rules:
        assert one.sites == sites[one.code, "met"], one
        assert one.places == places[one.code, one.outcome], one
        assert one.open_sites == sites[one.code, "can't be told"], one
        assert one.open_places == places[one.code, "can't be told"], one
        assert one.released_sites == sites[one.code, "released"], one
        assert one.released_places == places[one.code, "released"], one
    order = [(-one.sites, -one.places) for one in found.rules]
    assert order == sorted(order)
    for one in found.outcomes:
        ways = [(code, n) for (code, way), n in places.items() if way == one.outcome]
        having = [r for r in records if any(came_to(f) == one.outcome for f in r["findings"])]
        assert (one.rules, one.places) == (len(ways), sum(n for _, n in ways)), one
        assert one.sites == len(having), one
    assert sum(one.places for one in found.outcomes) == sum(len(r["findings"]) for r in records)


def test_answers_are_counted_as_the_records_have_them(both):
    found, records = both
    rows = sum(map(unknown, records), Counter())
    waiting = sum(map(waited, records), Counter())
    assert len(found.answers) > 10
    assert {one.word: one.rows for one in found.answers} == rows
    assert {one.word: one.waiting_rows for one in found.answers if one.waiting_rows} == waiting
    for one in found.answers:
        assert one.sites == sum(one.word in unknown(record) for record in records), one
        assert one.waiting_sites == sum(one.word in waited(record) for record in records), one


@pytest.mark.parametrize("by", ["surveyor", "town"])
def test_groups_are_counted_as_the_records_have_them(both, by):
    found, records = both
    groups = {}
    for record in records:
        groups.setdefault(known(record, by) or "not given", []).append(record)
    listed = found.surveyors if by == "surveyor" else found.towns
    assert len(groups) > 1
    assert {one.name: one.sites for one in listed} == {k: len(v) for k, v in groups.items()}
    for one in listed:
        own = groups[one.name]
        verdicts = Counter(record["verdict"] for record in own)
        assert {v.value: n for v, n in one.verdicts.items() if n} == verdicts
        assert one.rows == sum(unknown(record).total() for record in own)
        assert one.waiting_rows == sum(len(record["questions"]) for record in own)
        held = Counter(
            code
            for record in own
            for code in {f["code"] for f in record["findings"] if came_to(f) in HOLDING}
        )
        first = sorted(held.items(), key=lambda rule: (-rule[1], rule[0]))[:3]
        assert [(code, n) for code, _, n in one.rules] == first
        asked = Counter(word for record in own for word in waited(record))
        first = sorted(asked.items(), key=lambda word: (-word[1], word[0]))[:3]
        assert list(one.answers) == first


def test_months_are_counted_as_the_records_have_them(both):
    found, records = both
    months = Counter((r["site"]["survey_date"][:7], r["verdict"]) for r in records)
    counted = {
        (month.name, verdict.value): n
        for month in found.months
        for verdict, n in month.verdicts.items()
        if n
    }
    assert counted == months
    assert [month.name for month in found.months] == ["2026-09", "2026-10", "2026-11"]


def test_what_is_left_at_one_site_is_the_mean(both):
    """The one figure on the page that is no count: the arithmetic mean, with its base."""
    from survey.jobs.figures_page import _each

    found, records = both
    for one in found.surveyors:
        own = [r for r in records if known(r, "surveyor") == one.name]
        mean = statistics.fmean(len(record["questions"]) for record in own)
        assert _each(one.waiting_rows, one.sites).endswith(f", {mean:.1f} each")


def test_a_span_counts_just_the_records_of_its_days(both):
    found, records = both
    days = sorted(record["site"]["survey_date"] for record in records)
    sites = found.chosen.sites
    for first, last in zip(days, days[3:], strict=False):
        span = Span(*map(_day, (first, last)))
        chosen = choose((Checked(s.file, "", s.job) for s in sites), span)
        assert len(chosen.sites) == sum(first <= day <= last for day in days)
        assert len(chosen.outside) == len(days) - len(chosen.sites)
    undated = [Checked(s.file, "", dataclasses.replace(s.job, survey_day=None)) for s in sites]
    assert len(choose(undated, Span(_day(days[0]), None)).undated) == len(days)


def _day(text):
    from datetime import date

    return date.fromisoformat(text)
