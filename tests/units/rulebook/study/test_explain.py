"""Rules in words, and the examples of rules that are met."""

import re
from dataclasses import replace

import pytest

from survey.resources import folder
from survey.rulebook.cases import given_when_met, outcome_of, read_cases
from survey.rulebook.messages import Span
from survey.rulebook.paragraphs import Field
from survey.rulebook.reading import read_book
from survey.rulebook.study.examples import examples
from survey.rulebook.study.explain import explain

SHIPPED = read_book({f.name: f.read_text("utf-8") for f in sorted(folder("rules").glob("*.rules"))})

BOOK = """
topic Trial

legal limit protection depth = 5 ft
  from  a standard (a)(1)

limit most open = 2
  from  common practice

table steepest slope
  by    soil class
  row   stable rock gives 0H:1V
  row   A gives 0.75H:1V
  row   B gives 1H:1V
  row   C gives 1.5H:1V
  from  a table

rule DIG-2 pit deep enough to need protection
  for   each pier
  when  pit depth is at least protection depth
  then  count cave-in protection as needed
  say   Pit {pier} is {pit depth} deep.
  from  a standard
  case  pit depth 5 ft gives needed

rule DIG-5 sides cut steeper than the ground allows
  for   each pier
  when  cave-in protection is needed and side protection is sloped
        and slope of sides is less than steepest slope
  then  stop
  say   The sides of pit {pier} slope at {slope of sides}.
  do    Cut the sides back; from {protection depth} on {pier} needs it.
  who   crew
  from  a table
  release licensed engineer
  case  soil class B gives ask
"""
PARTS = """
  say   x
  do    y.
  who   competent person
  from  a standard
  release {release}
"""


def rule(when, subject="each pier", then="stop", release="nobody", case="gives ask"):
    parts = PARTS.format(release=release)
    cases = f"  case {case}" if case else ""
    return f"\nrule TRY-1 fault\n  for {subject}\n  when {when}\n  then {then}{parts}{cases}\n"


def explained(code, text, vocabulary_file=BOOK):
    book = read_book({"test.rules": vocabulary_file + text})
    (found,) = (one for one in book if one.code == code)
    return explain(found, book)


def one_line(text):
    return " ".join(text.split())


def test_a_conclusion_in_full():
    assert (
        explained("DIG-2", "")
        == """\
DIG-2 pit deep enough to need protection
========================================

Judged for each pier. Where it is met, cave-in protection counts as needed or worse.
That is looked at by DIG-5. Source: a standard. It stands at test.rules:18.

It is met when pit depth is at least protection depth (5 ft).

It is met, for example, by (what is not named is not known):
  1. pit depth 5 ft
     Not met with pit depth 4 ft 11 in.

Limits and tables that it uses:
  protection depth = 5 ft: set by law, a standard (a)(1) (test.rules:4)"""
    )


def test_a_rule_that_looks_at_conclusions_and_a_table():
    text = explained("DIG-5", "")
    assert "the verdict is NO-GO. Who acts: crew." in one_line(text)
    assert "from 5 ft on {pier} needs it. Only a licensed engineer may release it." in one_line(
        text
    )
    assert (
        """
It is met when
  all of these:
    cave-in protection is needed
    side protection is sloped
    slope of sides is less than steepest slope (by table)

cave-in protection is concluded by DIG-2; before that it is not needed.
soil class is concluded by no rule; before that it is the tested soil class.
"""
        in text
    )
    assert (
        """
  1. cave-in protection needed, side protection sloped, soil class A, slope of sides
     0.74H:1V
     Not met with slope of sides 0.75H:1V.
"""
        in text
    )
    assert (
        """
  steepest slope by soil class: a table (test.rules:10)
    stable rock: 0H:1V
    A: 0.75H:1V
    B: 1H:1V
    C: 1.5H:1V"""
        in text
    )


@pytest.mark.parametrize(
    ("then", "release", "said"),
    [
        ("stop", "nobody", "the verdict is NO-GO."),
        ("engineer", "nobody", "the verdict is ENGINEER REVIEW or worse."),
        ("ask", "nobody", "the verdict is HOLD or worse."),
        ("condition", "nobody", "the verdict is GO WITH CONDITIONS or worse."),
        ("note", "nobody", "it is printed for reading only."),
        ("stop", "nobody", "Nobody may release it."),
        ("stop", "competent person", "A competent person or a licensed engineer may release it."),
        ("stop", "licensed engineer", "Only a licensed engineer may release it."),
    ],
)
def test_what_a_rule_does_and_who_may_release_it(then, release, said):
    case = "pit depth not known gives ask"
    text = rule("pit depth is more than 5 ft", then=then, release=release, case=case)
    assert said in one_line(explained("TRY-1", text))


STANDING = """
standing release REL-1 detail for shallow pits
  lifts    DIG-5
  when     pit depth is at most 8 ft
  engineer Ann Example
  licence  PE 12345, Exampleland
  given    2026-01-01
  until    2026-12-31
  note     Pits at most 3 ft wide.
  case     pit depth 8 ft gives lifted
"""


def test_a_standing_release():
    text = explained("REL-1", STANDING)
    assert (
        "Judged for each pier. Where it is met, DIG-5 is released by Ann Example (PE 12345, "
        "Exampleland), from 2026-01-01 to 2026-12-31. The crew keeps to this: Pits at most 3 ft"
        " wide. It stands at"
    ) in one_line(text)
    assert "1. pit depth 8 ft\n     Not met with pit depth 8 ft 1 in." in text


@pytest.mark.parametrize(
    ("when", "subject", "met", "not_met"),
    [
        ("pit depth is more than 5 ft", "each pier", "pit depth 5 ft 1 in", "pit depth 5 ft"),
        ("pit depth is less than 5 ft", "each pier", "pit depth 4 ft 11 in", "pit depth 5 ft"),
        ("not pit depth is at most 5 ft", "each pier", "pit depth 5 ft 1 in", "pit depth 5 ft"),
        ("footing thickness is less than 8 in", "each wall", "footing thickness 7.875 in",
         "footing thickness 8 in"),
        ("pit depth is between 4 ft and 5 ft", "each pier", "pit depth 4 ft",
         "pit depth 3 ft 11 in"),
        ("side protection is not none", "each pier", "side protection sloped",
         "side protection none"),
        ('engine place is "outside, by an opening"', "the site",
         'engine place "outside, by an opening"', "engine place no engine"),
        ("crew date is after 2026-04-10", "the site", "crew date 2026-04-11",
         "crew date 2026-04-10"),
        ("seepage at pit is yes or cave-in signs is yes", "each pier",
         "seepage at pit yes, cave-in signs no", "seepage at pit no"),
        ("pit depth is at least footing depth", "each pier", "pit depth 4 ft, footing depth 4 ft",
         "pit depth 3 ft 11 in"),
        ("pit depth plus 1 ft is at least footing depth", "each pier",
         "pit depth 3 ft, footing depth 4 ft", "pit depth 2 ft 11 in"),
        ("working days between ticket start and crew date is at least 2 days", "the site",
         "ticket start 2026-05-28, crew date 2026-06-01", "ticket start 2026-05-29"),
        ("any utility where (utility kind is gas and clearance to utility is at most 2 ft)",
         "each pier",
         "all utilities listed yes, utility (utility kind gas, clearance to utility 2 ft)",
         "utility (utility kind gas, clearance to utility 2 ft 1 in)"),
        ("no utility where utility kind is gas", "each pier",
         "all utilities listed yes, utility (utility kind water)", "utility (utility kind gas)"),
        ("every utility meets utility kind is gas", "each pier",
         "all utilities listed yes, utility (utility kind gas)", "utility (utility kind water)"),
        ("number of piers where cave-in signs is yes is more than most open", "each wall",
         "pier (cave-in signs yes), pier (cave-in signs yes), pier (cave-in signs yes)",
         "pier (cave-in signs no)"),
        ("pit depth of this pier minus pit depth of other pier is more than 1 ft",
         "each pier and other pier",
         "pit depth of this pier 5 ft 1 in, pit depth of other pier 4 ft",
         "pit depth of this pier 5 ft"),
    ],
)  # fmt: skip
def test_an_example_stands_just_where_the_rule_turns(when, subject, met, not_met):
    case = "all utilities listed no gives ask"
    text = one_line(explained("TRY-1", rule(when, subject, case=case)))
    assert f" 1. {met} Not met with {not_met}." in text


@pytest.mark.parametrize(
    ("when", "not_met"),
    [
        ("any other pier", "Not met without other pier ("),
        ("number of other piers is at most 1", "Not met with one more other pier ("),
    ],
)
def test_things_are_set_round_and_taken_away(when, not_met):
    text = one_line(explained("TRY-1", rule(when, case="seepage at pit yes gives ask")))
    assert " 1. other pier (" in text
    assert not_met in text


def test_each_way_has_its_example_and_every_choice_is_seen_among_the_first():
    kinds = "utility kind is one of gas, propane, electric, steam"
    where = f"{kinds} and located by is one of traced, surface signs, records only"
    case = "utility kind not known gives ask"
    text = explained("TRY-1", rule(where, "each utility", case=case))
    ways = re.findall(r"^  (\d)\. (.*)$", text, re.MULTILINE)
    assert [number for number, _ in ways] == list("12345678")
    for choice in ("gas", "propane", "electric", "steam", "traced", "surface", "records"):
        assert any(choice in answers for _, answers in ways[:4])
    assert "  It can be met in more ways than these 8.\n" in text + "\n"


def test_things_that_count_in_several_ways_are_ways_of_their_own():
    where = "any utility where utility kind is one of gas, propane"
    text = explained("TRY-1", rule(where, case="all utilities listed no gives ask"))
    assert "  1. all utilities listed yes, utility (utility kind gas)" in text
    assert "  2. all utilities listed yes, utility (utility kind propane)" in text


def test_the_answer_that_turns_a_rule_does_not_contradict_another_one():
    when = "side protection is shield and protection design is appendix table"
    text = explained("TRY-1", rule(when, case="side protection not known gives ask"))
    assert "Not met with side protection timber shoring." in text


def test_a_rule_with_very_many_ways_is_explained_all_the_same():
    either = "(seepage at pit is yes or cave-in signs is yes or gas odour is yes)"
    when = f"{either} and\n       ".join([""] * 60) + either
    text = explained("TRY-1", rule(when, case="seepage at pit yes gives stop"))
    assert "1. seepage at pit yes" in text


def test_what_can_not_be_worked_out_is_taken_from_the_cases_of_the_rule():
    when = "pit depth is at least footing depth and pit depth minus footing depth is at least 1 ft"
    case = "pit depth 6 ft, footing depth 5 ft gives {}"
    found = explained("TRY-1", rule(when, case=case.format("stop")))
    assert "1. pit depth 6 ft, footing depth 5 ft\n     Not met with pit depth 5 ft 11 in." in found
    assert "No answers that meet it were found." in explained(
        "TRY-1", rule(when, case="pit depth not known gives ask")
    )


def test_a_rule_of_the_firm_says_so():
    (shipped,) = (one for one in SHIPPED if one.code == "DIG-2")
    text = explain(replace(shipped, local=True, place="firm.rules:3"), SHIPPED)
    assert "It stands in the firm's own file, at firm.rules:3." in one_line(text)


# The shipped book

RULES = pytest.mark.parametrize("rule", list(SHIPPED), ids=lambda rule: rule.code)


@RULES
def test_every_printed_way_is_a_case_that_its_rule_keeps(rule):
    text = explain(rule, SHIPPED)
    assert max(map(len, text.splitlines())) <= 88
    block = text.partition("It is met, for example, by")[2].partition("\n\n")[0]
    ways = re.split(r"^  \d\. ", block, flags=re.MULTILINE)[1:]
    assert ways
    for way in ways:
        answers = one_line(re.split(r"^     Not met |^  It can", way, flags=re.MULTILINE)[0])
        given = given_when_met(rule)
        assert outcome_of(read_case(rule, f"{answers} gives {given}")) == given


def read_case(rule, text):
    span = Span("test.rules", 1, 1, len(text), text)
    field = Field("case", span, ((text, span),))
    book = replace(SHIPPED, levels=((replace(rule, case_fields=(field,), case_start=None),),))
    (case,), mistakes = read_cases(book)
    assert mistakes == ()
    return case


@RULES
def test_every_example_has_one_answer_that_turns_it(rule):
    for example in examples(rule, SHIPPED):
        met, not_met = example.met, example.not_met
        assert outcome_of(met) == given_when_met(rule)
        assert outcome_of(not_met) == "nothing"
        if len(met.around) != len(not_met.around):  # without the one thing that is looked at
            assert (not_met.around, not_met.settings) == (met.around[:-1], met.settings)
            continue
        if met.around != not_met.around:  # another thing in its place
            differing = [p for p in zip(met.around, not_met.around, strict=True) if p[0] != p[1]]
            assert [one.of for one, _ in differing] == [other.of for _, other in differing]
            assert (len(differing), met.settings) == (1, not_met.settings)
            continue
        assert met.settings.keys() == not_met.settings.keys()
        changed = [w for w, value in met.settings.items() if not_met.settings[w] != value]
        assert len(changed) == 1
