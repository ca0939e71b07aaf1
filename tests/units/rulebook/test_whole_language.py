"""What a rule may look round at, reckon and look up: one body of checks for both evaluators."""

from __future__ import annotations

import datetime as dt

import pytest

from survey.rulebook import production
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.reading import read_book
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY, Subject
from tests.small_sites import small_site

FT = 12_000  # steps of a thousandth of an inch
REST = """
  then    stop
  say     It is so.
  do      Mend it.
  who     crew
  from    common practice
  release nobody
  case    gas odour yes gives ask
"""


def rule(of: str, when: str, code: str = "OWN-1") -> str:
    return f"rule {code} fault\n  for {of}\n  when {when}{REST}"


@pytest.fixture(params=["direct", "durable-rules"])
def judge(request):
    """Codes and places that are met (True) or can't be told (None)."""
    if request.param == "durable-rules" and not production.available():
        pytest.skip("durable-rules does not load on this Python")

    def judged(text, facts):
        book = read_book({"own.rules": text})
        if request.param == "direct":
            evaluator = DirectEvaluator(book, facts)
            found = evaluator.summary(evaluator.judge())
        else:
            found = production.ProductionEvaluator(book).judge(facts)
        met = {place: True for _, place in found.met}
        return met | {place: None for _, place in found.cannot_tell}

    return judged


GAS, WATER = {"utility kind": "gas"}, {"utility kind": "water"}
OPEN = [Subject.UTILITY]


@pytest.mark.parametrize(
    ("when", "utilities", "unlisted", "told"),
    [
        ("any utility where utility kind is gas", [GAS, WATER], [], True),
        ("any utility where utility kind is gas", [WATER], [], False),
        ("any utility where utility kind is gas", [], [], False),
        ("any utility where utility kind is gas", [WATER, {}], [], None),
        ("any utility where utility kind is gas", [GAS, {}], [], True),
        ("any utility where utility kind is gas", [WATER], OPEN, None),
        ("any utility where utility kind is gas", [GAS], OPEN, True),
        ("any utility where (utility kind is gas and gas odour is yes)", [GAS], OPEN, False),
        ("no utility where utility kind is gas", [WATER], [], True),
        ("no utility where utility kind is gas", [WATER], OPEN, None),
        ("no utility where utility kind is gas", [GAS], OPEN, False),
        ("no utility where utility kind is gas", [], [], True),
        ("no utility", [], [], True),
        ("no utility", [], OPEN, None),
        ("no utility", [GAS], OPEN, False),
        ("any utility", [GAS], [], True),
        ("every utility meets utility kind is gas", [], [], True),
        ("every utility meets utility kind is gas", [GAS, GAS], [], True),
        ("every utility meets utility kind is gas", [GAS, WATER], OPEN, False),
        ("every utility meets utility kind is gas", [GAS], OPEN, None),
        ("every utility meets utility kind is gas", [GAS, {}], [], None),
        ("every utility meets not utility kind is gas", [WATER], [], True),
        ("number of utilities is at least 2", [GAS, {}], [], True),
        ("number of utilities is at least 3", [GAS, {}], [], False),
        ("number of utilities is at least 3", [GAS, {}], OPEN, None),
        ("number of utilities is at least 9", [GAS, {}], OPEN, None),
        ("number of utilities is at most 2", [GAS, {}], OPEN, None),
        ("number of utilities is at most 1", [GAS, {}], OPEN, False),
        ("number of utilities is 2", [GAS, WATER], [], True),
        ("number of utilities is not 2", [GAS, WATER], [], False),
        ("number of utilities is not 2", [GAS, WATER], OPEN, None),
        ("number of utilities is between 1 and 2", [GAS, WATER], [], True),
        ("number of utilities where utility kind is gas is more than 1", [GAS, GAS], [], True),
        ("number of utilities where utility kind is gas is more than 1", [GAS, {}], [], None),
        ("number of utilities where utility kind is gas is less than 1", [WATER, {}], [], None),
        ("number of utilities where utility kind is gas is less than 1", [WATER], [], True),
        ("not number of utilities where utility kind is gas is at least 1", [WATER], [], True),
        ("gas odour is no and any utility where utility kind is gas", [GAS], [], True),
        ("gas odour is yes or any utility where utility kind is gas", [{}], [], None),
    ],
)  # fmt: skip
def test_counts_of_what_is_listed_and_of_what_may_not_be(judge, when, utilities, unlisted, told):
    facts = small_site(utilities=utilities, site={"gas odour": "no"}, unlisted=unlisted)
    assert judge(rule("the site", when), facts).get("site", False) is told


def test_a_pier_looks_at_its_own_pairs(judge):
    near, far = {"clearance to utility": 1 * FT}, {"clearance to utility": 9 * FT}
    facts = small_site(
        piers=[{}, {}], utilities=[GAS, WATER],
        pairs={"P1 / U1": near, "P1 / U2": far, "P2 / U1": far, "P2 / U2": near},
    )  # fmt: skip
    when = "any utility where (utility kind is gas and clearance to utility is less than 2 ft)"
    assert judge(rule("each pier", when), facts) == {"P1": True}


def test_a_line_looks_at_every_pier(judge):
    far = {"clearance to utility": 9 * FT}
    facts = small_site(
        piers=[{"pit depth": 3 * FT}, {"pit depth": 6 * FT}], utilities=[GAS, WATER],
        pairs={"P1 / U1": far, "P2 / U1": far, "P1 / U2": far},
    )  # fmt: skip
    when = "every pier meets clearance to utility is more than 2 ft"
    assert judge(rule("each utility", when), facts) == {"U1": True, "U2": None}


def test_a_wall_looks_at_its_piers_and_at_those_that_may_be_its_own(judge):
    deep, shallow = {"pit depth": 6 * FT}, {"pit depth": 2 * FT}
    when = "number of piers where pit depth is more than 4 ft is at least 2"
    facts = small_site([deep, deep, deep, shallow], walls=[{}, {}], at_wall={3: 2, 4: 2})
    assert judge(rule("each wall", when), facts) == {"W1": True}
    facts = small_site([deep, deep, deep, shallow], walls=[{}, {}], at_wall={2: None, 3: 2})
    assert judge(rule("each wall", when), facts) == {"W1": None, "W2": None}
    facts = small_site([deep, deep, deep, shallow], walls=[{}, {}], at_wall={3: 2, 4: None})
    assert judge(rule("each wall", when), facts) == {"W1": True}


def test_a_pier_looks_at_the_ground_below_its_pit(judge):
    layers = [{"soil group": "fill", "layer top": 0}, {"soil group": "clay", "layer top": 4 * FT}]
    when = "any soil layer where (soil group is clay and layer top is less than pit depth)"
    facts = small_site([{"pit depth": 3 * FT}, {"pit depth": 5 * FT}], soil_layers=layers)
    assert judge(rule("each pier", when), facts) == {"P2": True}


def test_pairs_of_piers_say_whose_word_it_is(judge):
    facts = small_site([{"pit depth": 3 * FT}, {"pit depth": 5 * FT}, {}])
    when = "pit depth of other pier is more than pit depth of this pier"
    told = judge(rule("each pier and other pier", when), facts)
    assert told["P1 / P2"] is True
    assert "P2 / P1" not in told
    assert told["P1 / P3"] is told["P3 / P1"] is None
    when = "no other pier where pit depth of other pier is more than pit depth of this pier"
    assert judge(rule("each pier", when), facts) == {"P2": None, "P3": None}


def test_conclusions_of_the_other_pier_are_seen(judge):
    text = f"""\
rule SOIL-1 wet
  for   each pier
  when  seepage at pit is yes
  then  count soil class as C
  say   Wet.
  from  common practice
  case  seepage at pit yes gives C
{
        rule(
            "each pier and other pier",
            "soil class of other pier is C and soil class of this pier is not C",
        )
    }"""
    dry, wet = ({"tested soil class": "B", "seepage at pit": s} for s in ("no", "yes"))
    told = judge(text, small_site([dry, wet]))
    assert told == {"P2": True, "P1 / P2": True}


@pytest.mark.parametrize(
    ("when", "answers", "told"),
    [
        ("pit depth is more than footing depth plus 1 ft", (5, 3), True),
        ("pit depth is more than footing depth plus 1 ft", (4, 3), False),
        ("pit depth minus footing depth is more than 1 ft", (4, 3), False),
        ("pit depth minus footing depth is at least 1 ft", (4, 3), True),
        ("2 times pit depth is at most 3 times footing depth", (3, 2), True),
        ("pit depth divided by 3 is at least 1 ft", (3, None), True),
        ("pit depth divided by 3 is more than 1 ft", (3, None), False),
        ("(pit depth plus footing depth) times 2 is at least 10 ft", (3, 2), True),
        ("pit depth plus footing depth times 2 is at least 8 ft", (3, 2), False),
        ("pit depth times pit depth is at least 3 ft times 3 ft", (3, None), True),
        ("pit depth times 50 % is at most 1.5 ft", (3, None), True),
        ("1.5H:1V times pit depth is more than 4 ft", (3, None), True),
        ("pit depth plus 1 ft is more than footing depth", (None, 3), None),
        ("not pit depth plus 1 ft is more than footing depth", (None, 3), None),
        ("pit depth plus 1 ft is between 3 ft and 4 ft", (3, None), True),
        ("pit depth is between footing depth plus 1 ft and footing depth plus 2 ft", (5, 3), True),
    ],
)  # fmt: skip
def test_sums(judge, when, answers, told):
    pit, footing = (NOT_KNOWN if answer is None else answer * FT for answer in answers)
    facts = small_site([{"pit depth": pit, "footing depth": footing}])
    assert judge(rule("each pier", when), facts).get("P1", False) is told


def test_a_sum_with_what_does_not_apply_is_false(judge):
    for depth in (3 * FT, NOT_KNOWN):
        facts = small_site([{"slope of sides": DOES_NOT_APPLY, "pit depth": depth}])
        when = "slope of sides times pit depth is less than 99 ft"
        assert judge(rule("each pier", when), facts) == {}
        assert judge(rule("each pier", f"not {when}"), facts) == {"P1": True}


def test_loads_and_lengths_are_reckoned_in_one_system_of_units(judge):
    facts = small_site([{"pit length": 3 * FT}], walls=[{"wall line load": 20_000}])  # 2,000 plf
    assert judge(rule("each pier", "wall line load times pit length is at least 6000 lb"), facts)
    over = "wall line load times pit length is more than 6000 lb"
    assert not judge(rule("each pier", over), facts)
    pressure = "wall line load is at most 2000 psf times 1 ft"
    assert judge(rule("each pier", pressure), facts)


def test_dates_and_working_days(judge):
    friday, monday = dt.date(2026, 12, 4).toordinal(), dt.date(2026, 12, 7).toordinal()
    facts = small_site(site={"survey date": friday, "crew date": monday})
    for when, told in (
        ("working days between survey date and crew date is at least 1 days", True),
        ("working days between survey date and crew date is at least 2 days", False),
        ("crew date minus survey date is at least 3 days", True),
        ("crew date minus survey date is more than 3 days", False),
        ("crew date is after survey date plus 2 days", True),
        ("crew date is after survey date plus 3 days", False),
        ("working days between ticket end and crew date is at least 2 days", None),
    ):
        assert judge(rule("the site", when), facts).get("site", False) is told, when


SLOPES = """\
table least slope
  by   soil class
  row  stable rock gives 0H:1V
  row  A gives 0.75H:1V
  row  B gives 1H:1V
  row  C gives 1.5H:1V
  from common practice
"""


@pytest.mark.parametrize(
    ("soil", "slope", "told"),
    [
        ("C", 14_999, True),
        ("C", 15_000, False),
        ("B", 14_999, False),
        (NOT_KNOWN, 14_999, None),  # too steep in type C only
        (NOT_KNOWN, 15_000, False),  # flat enough for every class
        (DOES_NOT_APPLY, 0, False),
        ("C", NOT_KNOWN, None),
        ("C", DOES_NOT_APPLY, False),
    ],
)
def test_tables_are_looked_up_row_by_row(judge, soil, slope, told):
    text = SLOPES + rule("each pier", "slope of sides is less than least slope")
    facts = small_site([{"tested soil class": soil, "slope of sides": slope}])
    assert judge(text, facts).get("P1", False) is told


def test_a_class_that_can_not_be_better_than_b_rules_out_rows(judge):
    """Every row that is still possible says the same, so the rule is told."""
    text = SLOPES + rule("each pier", "slope of sides is less than least slope minus 1H:1V")
    facts = small_site([{"tested soil class": NOT_KNOWN, "slope of sides": 6_000}])
    assert judge(text, facts) == {}


@pytest.mark.parametrize(
    ("height", "thickness", "told"),
    [
        (4 * FT, 5_999, True),
        (4 * FT, 6_000, False),
        (4 * FT + 1, 7_999, True),
        (8 * FT, 8_000, False),
        (8 * FT + 1, 1, None),  # beyond the table
        (NOT_KNOWN, 1, None),
    ],
)
def test_a_table_with_a_figure_goes_no_farther_than_its_last_row(judge, height, thickness, told):
    *others, block = sorted(VOCABULARY["wall material"].choices, key="concrete block".__eq__)
    rows = "".join(f'  row "{other}", up to 99 ft gives 1 in\n' for other in others)
    text = f"""\
table least thickness
  by  wall material, wall height
  row "{block}", up to 4 ft gives 6 in
  row "{block}", up to 8 ft gives 8 in
{rows}  from common practice
"""
    text += rule("each wall", "wall thickness is less than least thickness")
    answers = {"wall material": block, "wall height": height, "wall thickness": thickness}
    assert judge(text, small_site(walls=[answers])).get("W1", False) is told


@pytest.mark.parametrize(
    ("accepted", "distance", "told"),
    [
        ("yes", 2 * FT, True),
        ("yes", 2 * FT + 1, False),
        (NOT_KNOWN, 1 * FT, None),  # true by every row, and false if the key does not apply
        (NOT_KNOWN, 4 * FT, False),
        (DOES_NOT_APPLY, 1 * FT, False),
    ],
)
def test_a_key_that_is_not_known_may_turn_out_not_to_apply(judge, accepted, distance, told):
    text = "table near\n  by cutting footing bars accepted\n  row yes gives 2 ft\n"
    text += "  row no gives 3 ft\n  from common practice\n"
    text += rule("each pier", "spoil distance is at most near")
    answers = {"cutting footing bars accepted": accepted}
    facts = small_site([{"spoil distance": distance, **answers}], walls=[answers])
    assert judge(text, facts).get("P1", False) is told


def test_reasons_name_the_things_that_count_and_what_closes_the_list():
    book = read_book({"own.rules": rule("the site", "any utility where utility kind is gas")})
    (told,) = DirectEvaluator(book, small_site(utilities=[GAS, WATER])).judge()
    assert [reason.found for reason in told.reasons] == [
        "counted at site: 1 of 2", "utility kind of U1: gas",
    ]  # fmt: skip
    (told,) = DirectEvaluator(book, small_site(utilities=[WATER, {}], unlisted=OPEN)).judge()
    assert [reason.found for reason in told.reasons] == [
        "utility kind of U2: not known", "all utilities listed of site: not known to be all",
    ]  # fmt: skip
    assert [given.word for given in told.reasons[1].missing] == ["all utilities listed"]


def test_reasons_show_what_a_sum_came_to():
    when = "pit depth minus footing depth is more than 1 ft"
    book = read_book({"own.rules": rule("each pier", when)})
    facts = small_site([{"pit depth": 5 * FT, "footing depth": 3 * FT}])
    (told,) = DirectEvaluator(book, facts).judge()
    assert told.reasons[-1].found == "pit depth minus footing depth: 2 ft"


def test_three_hundred_rules_met_at_one_pier_with_counts_and_sums(judge):
    clauses = [
        "side protection is none",
        "any utility where utility kind is gas",
        "pit depth minus footing depth is more than 1 ft",
        "number of other piers is at least 1",
    ]
    text = "".join(rule("each pier", clauses[n % 4], f"OWN-{n}") for n in range(1, 333))
    book = read_book({"own.rules": text})
    pier = {"side protection": "none", "pit depth": 5 * FT, "footing depth": 3 * FT}
    facts = small_site([pier, pier], [GAS])
    direct = DirectEvaluator(book, facts)
    summary = direct.summary(direct.judge())
    assert len({code for code, place in summary.met if place == "P1"}) == 332
    if production.available():
        assert production.ProductionEvaluator(book).judge(facts) == summary
    assert judge(rule("each pier", clauses[0]), facts) == {"P1": True, "P2": True}
