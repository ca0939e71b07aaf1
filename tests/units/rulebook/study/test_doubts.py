"""Contradictions and dead rules: each kind found, and not found where it is a near miss."""

from __future__ import annotations

import sys

import pytest

from survey import resources
from survey.errors import UserError
from survey.rulebook.book import load_book
from survey.rulebook.reading import read_book
from survey.rulebook.study.doubts import Doubtful, Doubts, doubts, say

LIFTED = """\
standing release REL-1 detail for narrow pits
  lifts    DIG-1
  when     {when}
  engineer Ann Example
  licence  PE 12345, Exampleland
  given    2026-01-01
  until    2026-12-31
  note     Pits at most 3 ft wide.
  case     pit depth not known gives ask
"""
TABLE = """\
table least slope
  by   pit depth
  row  up to 5 ft gives 1H:1V
  row  up to 20 ft gives 2H:1V
  from common practice
"""


def rule(code: str, when: str, then: str = "stop", *, of: str = "pier", by: str = "nobody") -> str:
    lines = [
        f"rule {code} fault", f"  for each {of}" if of != "site" else "  for the site",
        f"  when {when}", f"  then {then}", "  say It is so.", "  from common practice",
        "  case gas odour not known gives ask",
    ]  # fmt: skip
    if not then.startswith("count"):
        lines += ["  do Mend it.", "  who crew", f"  release {by}"]
    return "\n".join(lines) + "\n"


# What makes a concluded word worse.
WET = rule("SOIL-1", "seepage at pit is yes", "count soil class as C")
DUG = rule("SOIL-2", "tested soil class is one of stable rock, A", "count soil class as B")
DEEP = rule("DIG-9", "pit depth is at least 5 ft", "count cave-in protection as needed")


def doubted(text: str, local: str = "") -> Doubts:
    return doubts(read_book({"a.rules": text}, {"own.rules": local} if local else None))


def found(kind: Doubtful, text: str, local: str = "") -> list[str]:
    return [doubt.what for doubt in doubted(text, local).found if doubt.kind is kind]


# Never met

DEAD = [
    # beyond the range in which an answer is taken
    ("pit depth is more than 60 ft", "pit depth is at least 60 ft"),
    ("wall out of plumb is less than 0 in", "wall out of plumb is at most 0 in"),
    ("pit depth is at least footing depth plus 61 ft", "pit depth is at least 60 ft"),
    # whole steps
    (
        "pit depth is more than 5 ft and pit depth is less than 60.001 in",
        "pit depth is more than 5 ft and pit depth is less than 60.002 in",
    ),
    # two answers of one word
    (
        "side protection is none and side protection is shield",
        "side protection is none or side protection is shield",
    ),
    (
        "not side protection is one of none, sloped, benched, shield, timber shoring, "
        "hydraulic shoring",
        "not side protection is one of none, sloped, benched, shield, timber shoring",
    ),
    # what is asked when
    (
        "slope of sides is less than 1H:1V and side protection is benched",
        "slope of sides is less than 1H:1V and side protection is sloped",
    ),
    (
        "slope of sides is less than 1H:1V and side protection is benched",
        "not slope of sides is less than 1H:1V and side protection is benched",
    ),
    (
        "protection design allows for building is no and side protection is sloped",
        "protection design allows for building is no and side protection is shield",
    ),
    # two words: both must have a value
    (
        "not footing depth is at most pit depth and not footing depth is at least pit depth",
        "not depth to groundwater is at most pit depth "
        "and not depth to groundwater is at least pit depth",
    ),
    (
        "pit depth is less than footing depth and pit depth is at least 40 ft",
        "pit depth is less than footing depth and pit depth is at least 39 ft",
    ),
    # what is worked out has no range
    ("pit depth is less than 0 ft", "survey age is less than 0 days"),
    # sums and products, in one system of units
    (
        "pit length plus pit width is more than 60 ft",
        "pit length plus pit width is at least 60 ft",
    ),
    (
        "pit length times pit width is more than 30 ft times 30 ft",
        "pit length times pit width is at least 30 ft times 30 ft",
    ),
    (
        "wall line load is less than 100 plf and wall line load times 2 ft is at least 200 lb",
        "wall line load is less than 100 plf and wall line load times 2 ft is at least 199 lb",
    ),
    (
        "concrete strength is at least 3000 psi "
        "and concrete strength times 1 in times 1 in is less than 3000 lb",
        "concrete strength is at least 3000 psi "
        "and concrete strength times 1 in times 1 in is less than 3001 lb",
    ),
    (
        "seat bearing use is more than 50 % and seat bearing use times 8 ft is less than 4 ft",
        "seat bearing use is more than 50 % and seat bearing use times 8 ft is less than 5 ft",
    ),
    # days
    (
        "crew date is after last crew date and last crew date minus crew date is at least 1 days",
        "crew date is after last crew date and last crew date minus crew date is at most 1 days",
    ),
    (
        "working days between survey date and crew date is more than 3 days "
        "and working days between survey date and crew date is at most 3 days",
        "working days between survey date and crew date is more than 3 days "
        "and working days between survey date and last crew date is at most 3 days",
    ),
    # tables, and figures that lie beyond their last row
    (
        "pit depth is more than 5 ft and slope of sides is at least least slope "
        "and slope of sides is less than 2H:1V",
        "pit depth is at most 5 ft and slope of sides is at least least slope "
        "and slope of sides is less than 2H:1V",
    ),
    (
        "pit depth is more than 20 ft and slope of sides is at least least slope",
        "pit depth is at least 20 ft and slope of sides is at least least slope",
    ),
    # how many there are
    ("number of utilities is less than 0", "number of utilities is at most 0"),
    (
        "number of utilities is at least 3 and number of utilities is at most 2",
        "number of utilities is at least 3 and number of utilities is at most 3",
    ),
    (
        "any utility where utility kind is gas and no utility where utility kind is gas",
        "any utility where utility kind is gas and no utility where utility kind is steam",
    ),
    # what the rules conclude
    ("soil class is A and tested soil class is B", "soil class is B and tested soil class is B"),
    ("soil class is A and tested soil class is A", "soil class is B and tested soil class is A"),
    ("soil class is B and seepage at pit is yes", "soil class is B and seepage at pit is no"),
    (
        "cave-in protection is needed and pit depth is less than 4 ft",
        "cave-in protection is needed and pit depth is less than 6 ft",
    ),
    ("seats that suit is none", "seats that suit is some"),
]


@pytest.mark.parametrize(("dead", "alive"), DEAD)
def test_a_rule_that_can_never_be_met(dead, alive):
    base = TABLE + WET + DUG + DEEP
    never = found(Doubtful.DEAD, base + rule("DIG-1", dead) + rule("DIG-2", alive))
    assert never == ["DIG-1 can never be met"]


def test_a_word_that_no_rule_concludes_keeps_its_start():
    text = rule("DIG-1", "cave-in protection is needed")
    assert found(Doubtful.DEAD, text) == ["DIG-1 can never be met"]
    assert found(Doubtful.DEAD, text + DEEP) == []


def test_the_other_pier_of_a_pair_has_answers_and_conclusions_of_its_own():
    other = "soil class of other pier is B and seepage at pit of other pier is yes"
    this = "soil class of other pier is B and seepage at pit of this pier is yes"
    text = WET + rule("DIG-1", other, of="pier and other pier")
    text += rule("DIG-2", this, of="pier and other pier")
    assert found(Doubtful.DEAD, text) == ["DIG-1 can never be met"]


def test_what_lies_round_the_two_piers_of_a_pair_is_counted_for_each():
    near = rule("DIG-9", "any utility", "count cave-in protection as needed")
    this, other = (f"cave-in protection of {pier} is" for pier in ("this pier", "other pier"))
    differ = f"{this} needed and {other} not needed"
    assert found(Doubtful.DEAD, near + rule("DIG-1", differ, of="pier and other pier")) == []


def test_a_rule_for_the_other_pier_follows_its_questions():
    def when(pier: str) -> str:
        return (
            f"slope of sides of other pier is at least 1H:1V and side protection of {pier} is none"
        )

    text = "".join(
        rule(code, when(pier), of="pier and other pier")
        for code, pier in (("DIG-1", "other pier"), ("DIG-2", "this pier"))
    )
    assert found(Doubtful.DEAD, text) == ["DIG-1 can never be met"]


def test_a_count_that_can_never_find_anything():
    never = "no utility where (utility kind is gas and utility kind is water)"
    text = rule("DIG-1", never) + rule("DIG-2", never.replace("and", "or"))
    assert found(Doubtful.DEAD, text) == [
        "DIG-1: no pier and utility can ever be such that all of these: "
        "(utility kind is gas, utility kind is water)"
    ]


def test_a_standing_release_that_can_never_meet_its_finding():
    shipped = rule("DIG-1", "pit depth is more than 5 ft", "engineer", by="licensed engineer")
    release = LIFTED.format(when="pit depth is at most 5 ft")
    assert found(Doubtful.DEAD, shipped, release) == [
        "REL-1 is never met where DIG-1 is, which it would lift"
    ]
    assert found(Doubtful.DEAD, shipped, release.replace("5 ft", "6 ft")) == []


def test_a_rule_that_is_never_met_is_told_once_and_with_its_place():
    text = "\n\n" + rule("DIG-1", "pit depth is more than 60 ft and pit depth is at least 1 ft")
    [doubt] = doubted(text + rule("DIG-2", "pit depth is at least 1 ft")).found
    assert (doubt.place, doubt.rules[0].code) == ("a.rules:3", "DIG-1")


# Parts that never matter

IDLE = [
    (
        "pit depth is at least 5 ft and pit depth is at least 4 ft",
        "'pit depth is at least 4 ft' never matters",
    ),
    (
        "pit depth is at least 5 ft or pit depth is at least 6 ft",
        "'pit depth is at least 6 ft' never matters",
    ),
    (
        "side protection is sloped and slope of sides is less than 1H:1V",
        "'side protection is sloped' never matters",
    ),
    (
        "cave-in signs is yes or (side protection is benched and slope of sides is at least 1H:1V)",
        "'all of these: (side protection is benched, slope of sides is at least 1H:1V)' "
        "never matters",
    ),
    (
        "not (pit depth is at least 5 ft and (cave-in signs is yes or pit depth is at least 5 ft))",
        "'any of these: (cave-in signs is yes, pit depth is at least 5 ft)' "
        "never matters",
    ),
    (
        "any utility where (utility kind is gas or (utility kind is gas and gas odour is yes))",
        "'all of these: (utility kind is gas, gas odour is yes)' "
        "never matters",
    ),
    (
        "number of utilities is at least 2 and any utility",
        "'there is any utility' never matters",
    ),
    # an answer that is not known leaves the other clause something to say
    (
        "clearance to utility is at most 0 in or clearance to utility is at most tolerance zone",
        "'clearance to utility is at most 0 in' matters only while answers are missing",
    ),
    # a shallow pit is told without the footing
    (
        "pit depth is at least footing depth plus 1 ft and pit depth is at least 1 ft",
        "'pit depth is at least 1 ft' matters only while answers are missing",
    ),
    ("pit depth is at least 0 ft", "'pit depth is at least 0 ft' always holds"),
    # the table has no figure for a deeper pit, which is then not known and not 'no'
    ("pit depth is at most 20 ft and slope of sides is less than least slope", None),
    ("slope of sides is less than least slope", None),
    # near misses
    ("pit depth is at least 5 ft and footing depth is at least 4 ft", None),
    ("pit depth is at least 5 ft or pit depth is at most 4 ft", None),
    ("side protection is sloped and not slope of sides is less than 1H:1V", None),
    ("seepage at pit is yes or (side protection is sloped and slope of sides is at least 1H:1V)",
     "'side protection is sloped' never matters"),
    ("any utility where (utility kind is gas or (utility kind is steam and gas odour is yes))",
     None),
    ("number of utilities is at least 2 and any utility where utility kind is gas", None),
    ("pit depth is more than 0 ft", None),
    ("soil class is C and seepage at pit is no", None),
]  # fmt: skip


@pytest.mark.parametrize(("when", "told"), IDLE)
def test_a_part_that_never_matters(when, told):
    of = "pier and utility" if "clearance" in when else "pier"
    told_of = [
        doubt.what
        for doubt in doubted(TABLE + WET + rule("DIG-1", when, of=of)).found
        if doubt.kind in (Doubtful.IDLE, Doubtful.IDLE_ONCE_ANSWERED)
    ]
    assert told_of == ([f"DIG-1: {told}"] if told else [])


def test_what_other_rules_conclude_can_make_a_part_idle():
    text = DEEP + rule("DIG-1", "cave-in protection is needed and pit depth is at least 6 ft")
    assert found(Doubtful.IDLE, text) == ["DIG-1: 'cave-in protection is needed' never matters"]
    seeping = rule("DIG-1", "cave-in protection is needed and seepage at pit is yes")
    assert found(Doubtful.IDLE, DEEP + seeping) == []


def test_a_rule_that_is_always_met():
    either = "pit depth is at least 5 ft or not pit depth is at least 5 ft"
    assert found(Doubtful.IDLE, rule("DIG-1", either)) == [
        "DIG-1: 'any of these: (pit depth is at least 5 ft, this does not hold: (pit depth is at "
        "least 5 ft))' always holds"
    ]


# Always outdone

DEEP_STOP = rule("DIG-1", "pit depth is at least 5 ft")


@pytest.mark.parametrize(
    ("other", "outdone"),
    [
        (rule("DIG-2", "pit depth is at least 6 ft", "engineer"), True),
        (rule("DIG-2", "pit depth is at least 6 ft", "stop"), True),
        (rule("DIG-2", "pit depth is more than 5 ft and seepage at pit is yes", "note"), True),
        (rule("DIG-2", "pit depth is at least 4 ft", "engineer"), False),
        (rule("DIG-2", "seepage at pit is yes", "engineer"), False),
        (rule("DIG-2", "pit depth is at least 6 ft", "count soil class as C"), False),
    ],
)  # fmt: skip
def test_a_rule_that_another_one_always_outdoes(other, outdone):
    assert bool(found(Doubtful.OUTDONE, DEEP_STOP + other)) is outdone


def test_a_worse_rule_is_not_outdone_by_a_milder_one():
    mild = rule("DIG-2", "pit depth is at least 4 ft", "engineer")
    assert found(Doubtful.OUTDONE, DEEP_STOP + mild) == []


def test_rules_for_two_sorts_of_things_are_not_compared():
    text = rule("DIG-1", "gas odour is yes and pit depth is at least 5 ft", "engineer")
    assert found(Doubtful.OUTDONE, text + rule("DIG-2", "gas odour is yes", of="site")) == []
    assert found(Doubtful.OUTDONE, text + rule("DIG-2", "gas odour is yes")) != []


def test_who_is_outdone_is_a_remark_that_names_both_and_the_release():
    wider = rule("DIG-2", "pit depth is at least 4 ft", by="licensed engineer")
    told = doubted(DEEP_STOP + wider)
    assert str(told.found[0]) == (
        "a.rules:1: remark: wherever DIG-1 is met, so is DIG-2 (a.rules:11), which gives stop: "
        "DIG-1 never decides the verdict unless DIG-2 is released"
    )
    assert told.faults == ()


def test_at_least_three_are_at_least_two():
    text = rule("DIG-1", "number of utilities where utility kind is gas is at least 3")
    text += rule("DIG-2", "number of utilities where utility kind is gas is at least 2")
    [what] = found(Doubtful.OUTDONE, text)
    assert what.startswith("wherever DIG-1 is met, so is DIG-2")


# Counted in two ways


def test_two_rules_that_count_a_word_in_two_ways():
    [doubt] = doubted(WET + DUG).found
    assert doubt.kind is Doubtful.BOTH_COUNT
    assert doubt.kind.remark
    assert doubt.what == (
        "SOIL-1 and SOIL-2 (a.rules:8) can both be met: 'C' and 'B' for soil class; C counts"
    )
    assert doubt.example in (
        "seepage at pit yes, tested soil class stable rock",
        "seepage at pit yes, tested soil class A",
    )


@pytest.mark.parametrize(
    ("when", "then"),
    [
        ("seepage at pit is no and pit depth is at least 5 ft", "count soil class as B"),
        ("pit depth is at least 5 ft", "count soil class as C"),
        ("pit depth is at least 5 ft", "count cave-in protection as needed"),
    ],
)
def test_rules_that_don_t_count_a_word_in_two_ways(when, then):
    assert found(Doubtful.BOTH_COUNT, WET + rule("SOIL-9", when, then)) == []


def test_an_example_shows_figures_and_what_does_not_apply():
    first = rule("SOIL-1", "pit depth is at least 60 ft", "count soil class as C")
    second = rule(
        "SOIL-2", "not slope of sides is at least 0H:1V and side protection is none",
        "count soil class as B",
    )  # fmt: skip
    [doubt] = [d for d in doubted(first + second).found if d.kind is Doubtful.BOTH_COUNT]
    assert doubt.example == ("pit depth 60 ft, slope of sides does not apply, side protection none")


def test_an_example_that_can_t_be_judged_is_none():
    text = WET + rule("SOIL-2", "any utility where utility kind is gas", "count soil class as B")
    told = doubted(text)
    assert (told.found, told.undecided) == ((), 1)


# The same condition twice

HELD = "side protection is none and pit depth is at least 5 ft"


@pytest.mark.parametrize(
    ("other", "same"),
    [
        (rule("DIG-2", "pit depth is at least 60 in and not side protection is not none"), True),
        (rule("DIG-2", f"{HELD} and not pit depth is less than 4 ft", "note"), True),
        (rule("DIG-2", HELD.replace("5 ft", "5.001 ft")), False),
        (rule("DIG-2", HELD, "count soil class as C"), False),
    ],
)
def test_two_rules_with_the_same_condition(other, same):
    told = found(Doubtful.SAME, rule("DIG-1", HELD) + other)
    assert told == (["DIG-1 and DIG-2 (a.rules:11) are always met together"] if same else [])


def test_two_rules_that_conclude_the_same_choice_of_the_same_word():
    second = rule("SOIL-2", "not seepage at pit is no", "count soil class as C")
    assert len(found(Doubtful.SAME, WET + second)) == 1
    another = second.replace("soil class as C", "cave-in protection as needed")
    assert found(Doubtful.SAME, WET + another) == []


def test_two_standing_releases_of_one_finding_for_the_same_detail():
    shipped = "".join(
        rule(code, f"pit depth is more than {deep}", "engineer", by="licensed engineer")
        for code, deep in (("DIG-1", "5 ft"), ("DIG-2", "4 ft"))
    )
    release = LIFTED.format(when="pit depth is at most 6 ft")
    twin = release.replace("REL-1", "REL-2").replace("at most 6 ft", "at most 72 in")
    assert found(Doubtful.SAME, shipped, release + twin) == [
        "REL-1 and REL-2 (own.rules:10) are always met together"
    ]
    other = twin.replace("lifts    DIG-1", "lifts    DIG-2")
    assert found(Doubtful.SAME, shipped, release + other) == []


# In what order


def test_faults_come_first_and_dead_rules_before_all():
    text = rule("DIG-1", "pit depth is at least 5 ft and pit depth is at least 4 ft", "note")
    text += rule("DIG-2", "pit depth is at least 3 ft")
    text += rule("DIG-3", "any utility where (utility kind is gas and utility kind is water)")
    assert [doubt.kind for doubt in doubted(text).found] == [
        Doubtful.DEAD, Doubtful.IDLE, Doubtful.OUTDONE,
    ]  # fmt: skip
    assert "\n2 faults, 1 remark; 0 questions of " in say(doubted(text))


# What can't be decided


def test_what_can_t_be_decided_is_counted_and_not_told():
    def cube(name: str) -> str:
        return f"{name} times {name} times {name}"

    sum_of_cubes = f"{cube('pit length')} plus {cube('pit width')}"
    third = cube("bracket plate width")
    when = f"{sum_of_cubes} is at least {third} and {sum_of_cubes} is at most {third}"
    when += " and pit depth is less than 2 ft"
    told = doubted(rule("DIG-1", when))
    assert told.undecided > 0
    assert found(Doubtful.DEAD, rule("DIG-1", when)) == []
    assert f"{told.undecided} questions of {told.asked} could not be decided." in say(told)


def test_without_the_solver_it_is_said_what_to_install(monkeypatch):
    book = read_book({"a.rules": WET})
    monkeypatch.setitem(sys.modules, "z3", None)
    for module in ("doubter", "solver", "formulas", "terms"):
        monkeypatch.delitem(sys.modules, f"survey.rulebook.study.{module}", raising=False)
    with pytest.raises(UserError, match="python -m pip install z3-solver"):
        doubts(book)


@pytest.mark.parametrize("own", [None, resources.folder("demo_sites") / "firm_rules"])
def test_the_shipped_book_and_the_demo_firm_s_have_no_fault_and_are_decided_whole(own):
    told = doubts(load_book(own))
    assert told.undecided == 0
    assert [doubt.what for doubt in told.faults] == []
