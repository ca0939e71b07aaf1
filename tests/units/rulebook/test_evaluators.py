"""One body of checks, run against each evaluator."""

from __future__ import annotations

import pytest

from survey.facts import Fact, Facts, Thing, gather
from survey.quantities import work_out
from survey.rulebook import production
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.judgement import Judgement
from survey.rulebook.reading import read_book
from survey.rulebook.rules import RuleBook
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY, Origin, Subject
from tests.demo_surveys import careful_house, survey_of

RULE = """\
rule {code} fault
  for     each pier
  when    {when}
  then    {then}
  say     It is so.
  from    common practice
  case    pit depth 5 ft gives ask
"""
REST = "  do      Mend it.\n  who     crew\n  release nobody\n"


def rule(code: str, when: str, then: str = "stop") -> str:
    text = RULE.format(code=code, when=when, then=then)
    return text if then.startswith("count") else text + REST


def site(*, listed: bool = True, **answers) -> Facts:
    """One pier at one wall of one site; every answer not given is not known."""
    given = {name.replace("_", " "): value for name, value in answers.items()}

    def thing(subject, parts, listed=True):
        facts = {
            word.name: Fact(given.get(word.name, NOT_KNOWN))
            for word in VOCABULARY.of(subject)
            if word.origin is not Origin.CONCLUDED
        }
        return Thing(subject, subject.value, facts, parts, listed, "Piers!A6")

    ground = thing(Subject.SITE, {})
    wall = thing(Subject.WALL, {Subject.SITE: ground})
    pier = thing(Subject.PIER, {Subject.SITE: ground, Subject.WALL: wall}, listed)
    return Facts((ground, wall, pier))


def direct(book: RuleBook, facts: Facts) -> Judgement:
    evaluator = DirectEvaluator(book, facts)
    return evaluator.summary(evaluator.judge())


def by_production(book: RuleBook, facts: Facts) -> Judgement:
    if not production.available():
        pytest.skip("durable-rules does not load on this Python")
    return production.ProductionEvaluator(book).judge(facts)


@pytest.fixture(params=[direct, by_production], ids=["direct", "durable-rules"])
def judge(request):
    def said(text: str, facts: Facts) -> dict[str, str]:
        judgement = request.param(read_book({"test.rules": text}), facts)
        told = {code: "met" for code, _ in judgement.met}
        told |= {code: "open" for code, _ in judgement.cannot_tell}
        told |= {w: str(v) for (w, _), v in judgement.concluded.items() if w in text}
        return told

    return said


KNOWN, OTHER = {"side_protection": "none"}, {"side_protection": "shield"}
NA = {"side_protection": DOES_NOT_APPLY}


@pytest.mark.parametrize(
    ("when", "answers", "told"),
    [
        ("side protection is none", KNOWN, "met"),
        ("side protection is none", OTHER, None),
        ("side protection is none", {}, "open"),
        ("side protection is none", NA, None),
        ("side protection is not none", KNOWN, None),
        ("side protection is not none", OTHER, "met"),
        ("side protection is not none", {}, "open"),
        ("side protection is not none", NA, "met"),
        ("side protection is one of none, shield", OTHER, "met"),
        ("not side protection is one of none, shield", OTHER, None),
        ("pit depth is at least 5 ft", {"pit_depth": 60000}, "met"),
        ("pit depth is at least 5 ft", {"pit_depth": 59999}, None),
        ("pit depth is more than 5 ft", {"pit_depth": 60000}, None),
        ("pit depth is more than 5 ft", {"pit_depth": 60001}, "met"),
        ("pit depth is at most 5 ft", {"pit_depth": 60000}, "met"),
        ("pit depth is less than 5 ft", {"pit_depth": 60000}, None),
        ("pit depth is between 4 ft and 5 ft", {"pit_depth": 48000}, "met"),
        ("pit depth is between 4 ft and 5 ft", {"pit_depth": 60001}, None),
        ("not pit depth is less than 5 ft", {"pit_depth": 60000}, "met"),
        ("not pit depth is less than 5 ft", {"pit_depth": DOES_NOT_APPLY}, "met"),
        ("pit depth is at least footing depth", {"pit_depth": 5, "footing_depth": 5}, "met"),
        ("pit depth is at least footing depth", {"pit_depth": 4, "footing_depth": 5}, None),
        ("pit depth is at least footing depth", {"pit_depth": 4}, "open"),
        ("pit depth is at least footing depth", {"footing_depth": DOES_NOT_APPLY}, None),
        ("not pit depth is at least footing depth", {"footing_depth": DOES_NOT_APPLY}, "met"),
        ("not pit depth is at least footing depth", {"footing_depth": 4}, "open"),
        ("pit depth is less than 5 ft and side protection is none", {"pit_depth": 60000}, None),
        ("pit depth is less than 5 ft and side protection is none", KNOWN, "open"),
        ("pit depth is less than 5 ft or side protection is none", KNOWN, "met"),
        ("pit depth is less than 5 ft or side protection is none", OTHER, "open"),
        ("not (pit depth is less than 5 ft or side protection is none)", KNOWN, None),
        ("crew date is after ticket end", {"crew_date": 738000, "ticket_end": 737999}, "met"),
        ("crew date is after ticket end", {"crew_date": 738000, "ticket_end": 738000}, None),
        ("crew date is on or after 2026-12-01", {"crew_date": 739951}, "met"),
        ("crew date is before 2026-12-01", {"crew_date": 739951}, None),
        ("wall cracks is none and gas odour is no",
         {"wall_cracks": "none", "gas_odour": "no"}, "met"),
    ],
)  # fmt: skip
def test_clauses_in_three_values(judge, when, answers, told):
    assert judge(rule("DIG-1", when), site(**answers)).get("DIG-1") == told


def test_what_may_not_exist_is_never_met_for_certain(judge):
    text = rule("DIG-1", "side protection is none") + rule("DIG-2", "side protection is shield")
    assert judge(text, site(listed=False, **KNOWN)) == {"DIG-1": "open"}


CHAIN = (
    rule("SOIL-1", "tested soil class is A", "count soil class as B")
    + rule("SOIL-2", "seepage at pit is yes", "count soil class as C")
    + rule("DIG-1", "soil class is C")
)


@pytest.mark.parametrize(
    ("tested", "seeps", "told"),
    [
        ("A", "no", {"soil class": "B", "SOIL-1": "met"}),
        ("B", "no", {"soil class": "B"}),
        ("A", "yes", {"soil class": "C", "SOIL-1": "met", "SOIL-2": "met", "DIG-1": "met"}),
        ("stable rock", "yes", {"soil class": "C", "SOIL-2": "met", "DIG-1": "met"}),
        ("A", NOT_KNOWN,
         {"soil class": "not known", "SOIL-1": "met", "SOIL-2": "open", "DIG-1": "open"}),
        (NOT_KNOWN, "yes", {"soil class": "C", "SOIL-1": "open", "SOIL-2": "met", "DIG-1": "met"}),
        (NOT_KNOWN, "no", {"soil class": "not known", "SOIL-1": "open", "DIG-1": "open"}),
        ("C", NOT_KNOWN, {"soil class": "C", "SOIL-2": "open", "DIG-1": "met"}),
    ],
)  # fmt: skip
def test_conclusions_chain_and_only_get_worse(judge, tested, seeps, told):
    said = judge(CHAIN, site(tested_soil_class=tested, seepage_at_pit=seeps))
    assert said == told


def test_more_than_64_rules_met_at_one_pier_are_all_told(judge):
    text = "".join(rule(f"DIG-{n}", "side protection is none") for n in range(1, 331))
    assert judge(text, site(**KNOWN)) == {f"DIG-{n}": "met" for n in range(1, 331)}


def test_both_evaluators_say_the_same_of_a_chain_with_every_state():
    if not production.available():
        pytest.skip("durable-rules does not load on this Python")
    book = read_book({"test.rules": CHAIN})
    for tested in ("stable rock", "A", "B", "C", NOT_KNOWN, DOES_NOT_APPLY):
        for seeps in ("yes", "no", NOT_KNOWN):
            facts = site(tested_soil_class=tested, seepage_at_pit=seeps)
            assert direct(book, facts) == by_production(book, facts)


def test_reasons_name_the_clauses_that_decided():
    book = read_book(
        {
            "test.rules": rule(
                "DIG-1",
                "side protection is none and (pit depth is at least 5 ft or gas odour is yes)",
            )
        }
    )
    (told,) = DirectEvaluator(book, site(pit_depth=60000, gas_odour="no", **KNOWN)).judge()
    assert [(r.clause, r.found) for r in told.reasons] == [
        ("side protection is none", "side protection of pier: none"),
        ("pit depth is at least 5 ft", "pit depth of pier: 5 ft"),
    ]


@pytest.mark.parametrize("joiner", ["and", "or"])
@pytest.mark.parametrize(("last", "told"), [("none", "met"), ("shield", None), (NOT_KNOWN, "open")])
def test_condition_of_a_hundred_clauses(judge, joiner, last, told):
    """Far more than durable-rules takes in one pattern."""
    other = "pit depth is at least 5 ft" if joiner == "and" else "pit depth is less than 5 ft"
    pair = f"({other} {'or' if joiner == 'and' else 'and'} {other})"
    when = f" {joiner} ".join([pair] * 99 + ["side protection is none"])
    text = rule("DIG-1", when.replace(") ", ")\n          "))
    assert judge(text, site(pit_depth=60000, side_protection=last)).get("DIG-1") == told


def piers(*protections) -> Facts:
    """Piers of one site that differ in nothing but what holds their sides."""
    ground, wall, pier = site(pit_depth=60000).things
    held = [
        Thing(
            Subject.PIER, f"P{n}", {**pier.facts, "side protection": Fact(protection)},
            pier.parts, True, "",
        )
        for n, protection in enumerate(protections, start=1)
    ]  # fmt: skip
    return Facts((ground, wall, *held))


@pytest.fixture
def asserted(monkeypatch):
    """What an evaluator asserts of the piers, fact by fact, without what names them."""
    if not production.available():
        pytest.skip("durable-rules does not load on this Python")
    from durable.engine import Host

    facts: list[dict[str, int | str]] = []
    really = Host.assert_facts

    def assert_facts(self, name, messages):
        facts.extend({k: v for k, v in m.items() if k not in ("sid", "id")} for m in messages)
        return really(self, name, messages)

    monkeypatch.setattr(Host, "assert_facts", assert_facts)
    return facts


def test_things_that_are_alike_are_one_fact_and_each_is_told(asserted):
    book = read_book({"test.rules": rule("DIG-1", "side protection is none")})
    evaluator = production.ProductionEvaluator(book)
    said = evaluator.judge(piers("none", "shield", "none"))
    assert said.met == {("DIG-1", "P1"), ("DIG-1", "P3")}
    assert len(asserted) == 2
    # What was asserted before is not asserted again; what is new is.
    said = evaluator.judge(piers("shield", NOT_KNOWN, "none"))
    assert said.met == {("DIG-1", "P3")}
    assert said.cannot_tell == {("DIG-1", "P2")}
    assert len(asserted) == 3


def test_what_is_kept_gives_way_and_all_is_told_still(asserted, monkeypatch):
    monkeypatch.setattr(production, "_KEPT_A_SET", 2)
    book = read_book({"test.rules": rule("DIG-1", "side protection is none")})
    evaluator = production.ProductionEvaluator(book)
    for protections in (("none", "shield"), ("shield", NOT_KNOWN), ("none", "none")):
        facts = piers(*protections)
        assert evaluator.judge(facts) == direct(book, facts)
    assert len(asserted) == 4  # "none" again: it had given way


def test_no_more_is_asserted_than_a_rule_looks_at(asserted):
    text = rule("DIG-1", "side protection is none or pit depth is at least footing depth")
    evaluator = production.ProductionEvaluator(read_book({"test.rules": text}))
    evaluator.judge(site(pit_depth=60000, footing_depth=48000, **KNOWN))
    # Whether it has a value is looked at where two words are compared, and only there.
    assert asserted == [
        {
            "present": 1, "side_protection:value": "none", "pit_depth:value": 60000,
            "pit_depth:state": "value", "footing_depth:value": 48000,
            "footing_depth:state": "value",
        }
    ]  # fmt: skip


def test_piers_that_name_no_wall_wait_each_for_its_own_answer():
    document = careful_house()
    for one in document["piers"][:2]:
        one["wall_of_pier"] = "not known"
    survey = survey_of(document)
    facts = gather(survey, work_out(survey))
    book = read_book({"test.rules": rule("DIG-1", "wall cracks is up to 1/4 in")})
    told = DirectEvaluator(book, facts).judge()
    assert [(one.thing.label, one.reasons[0].missing[0].label) for one in told] == [
        ("P1", "P1"), ("P2", "P2"),
    ]  # fmt: skip
