"""Every slip gets a message with the place, what was expected and the nearest word."""

import pytest

from survey.rulebook.messages import RuleBookError
from survey.rulebook.reading import read_book

GOOD = """\
topic Pits
limit greatest depth = 5 ft
  from common practice
rule DIG-1 pit that is too deep
  for     each pier
  when    pit depth is more than greatest depth
          and side protection is none
  then    stop
  say     Pit {pier} is {pit depth} deep.
  do      Hold its sides.
  who     crew
  from    29 CFR 1926.652(a)(1)
  release nobody
  case    pit depth 6 ft, side protection none gives stop
"""

# (what is broken, text replaced, replacement, place of the message, start of it, nearest word)
SLIPS = [
    ("unit", "5 ft\n", "5 fet\n", "2:24", "'5 fet' is no figure with a unit", None),
    ("no unit", "greatest depth\n ", "5\n ", "6:34",
     "'5' does not fit 'pit depth'; expected", None),
    ("wrong unit", "greatest depth\n ", "5 psf\n ", "6:34",
     "'5 psf' does not fit 'pit depth'", None),
    ("limit of another kind", "5 ft\n", "5 psf\n", "6:34",
     "'greatest depth' is a limit of pressure; 'pit depth' is a length", None),
    ("unknown word", "pit depth is more", "pit depht is more", "6:11",
     "'pit depht' is not a word that the form or a calculation knows", "pit depth"),
    ("unknown choice", "is none", "is nonne", "7:34",
     "'nonne' is not a choice of 'side protection'", "none"),
    ("unknown limit", "than greatest depth", "than gratest depth", "6:34",
     "'gratest depth' is no length, no limit and no word", "greatest depth"),
    ("order of a choice", "side protection is none", "side protection is at least none", "7:43",
     "'side protection' is a choice and can't be at least", None),
    ("equality of a length", "is more than greatest depth", "is 5 ft", "6:24",
     "'pit depth' is a length; 'is' alone compares choices", None),
    ("word of another subject", "pit depth is more", "utility diameter is more", "6:11",
     "'utility diameter' is said of a utility; this rule is for each pier", None),
    ("two kinds compared", "than greatest depth", "than ground snow load", "6:34",
     "'pit depth' is a length and 'ground snow load' is a pressure", None),
    ("testing for not known", "is none", "is not known", "7:38",
     "a rule can't test whether 'side protection' is known", None),
    ("text as a condition", "side protection is none", "surveyor is Ann", "7:27",
     "'surveyor' is a text; rules judge choices, figures and dates", None),
    ("unfinished", "and side protection is none", "and side protection is", "7:33",
     "the line ends too early; expected 'at least'", None),
    ("dangling and", "and side protection is none", "and side protection is none and", "7:42",
     "the line ends too early; expected", None),
    ("open bracket", "pit depth is more", "(pit depth is more", "7:38",
     "the line ends too early; expected", None),
    ("closing bracket", "is none", "is none)", "7:38", "')' can't stand here; expected", None),
    ("open quote", "is none", 'is "none', "7:34", "a quote that is not closed on its line", None),
    ("outcome", "    stop", "    stopp", "8:11", "'stopp' is no outcome", "stop"),
    ("counting an answer", "    stop", "    count side protection as none", "8:17",
     "'side protection' is chosen by us; rules can't conclude it", None),
    ("place holder", "{pit depth}", "{pit dept}", "9:25",
     "'pit dept' is not a word that the form or a calculation knows", "pit depth"),
    ("who", "crew", "crow", "11:11", "'crow' can't stand after 'who'", "crew"),
    ("release", "nobody", "no body", "13:11", "'no body' can't stand after 'release'", "nobody"),
    ("subject", "each pier\n", "each peer\n", "5:11",
     "'each peer' is nothing that rules are judged for", "pier"),
    ("keyword", "  do  ", "  does", "10:3", "'does' is no line of a rule", "do"),
    ("no source", "  from    29 CFR 1926.652(a)(1)\n", "", "4:6",
     "the rule has no 'from' line", None),
    ("limit without source", "  from common practice\n", "", "2:1",
     "a limit needs one 'from' line", None),
    ("twice", "  who     crew\n", "  who     crew\n  who     crew\n", "12:3",
     "a second 'who' line in one rule", None),
    ("empty line", "    Hold its sides.", "", "10:3", "nothing stands after 'do'", None),
    ("no code", "DIG-1 pit", "pit", "4:6",
     "a rule starts with a code and the name of the fault", None),
    ("head", "rule DIG-1", "ruel DIG-1", "4:1", "'ruel' opens no paragraph", "rule"),
    ("indented at the top", "topic Pits\n", "  topic Pits\n", "1:1",
     "an indented line that belongs to no rule or limit", None),
    ("limit with a word's name", "limit greatest depth", "limit pit width", "2:7",
     "'pit width' is a word of the form already", None),
    ("legal what", "limit greatest", "legal greatest", "2:1",
     "'legal' can only open a 'legal limit'", None),
]  # fmt: skip


def mistakes_in(text: str) -> list:
    with pytest.raises(RuleBookError) as caught:
        read_book({"pits.rules": text})
    return list(caught.value.mistakes)


def test_the_book_before_it_is_broken_is_good():
    assert len(list(read_book({"pits.rules": GOOD}))) == 1


@pytest.mark.parametrize(
    ("old", "new", "place", "what", "near"),
    [slip[1:] for slip in SLIPS],
    ids=[slip[0] for slip in SLIPS],
)
def test_slip_is_told_with_place_and_nearest_word(old, new, place, what, near):
    assert old in GOOD
    found = [m for m in mistakes_in(GOOD.replace(old, new, 1)) if m.what.startswith(what)]
    assert found, [str(m) for m in mistakes_in(GOOD.replace(old, new, 1))]
    assert f"{found[0].span.line}:{found[0].span.column}" == place
    assert found[0].nearest == near


def test_all_mistakes_of_all_files_are_told_at_once():
    broken = GOOD.replace("5 ft\n", "5 fet\n").replace("is none", "is nune").replace("crew", "crw")
    with pytest.raises(RuleBookError) as caught:
        read_book({"a.rules": broken, "b.rules": "rule X\n"})
    places = [(m.span.file, m.span.line) for m in caught.value.mistakes]
    assert ("a.rules", 2) in places
    assert ("a.rules", 7) in places
    assert ("a.rules", 11) in places
    assert ("b.rules", 1) in places
    assert str(caught.value).endswith("mistakes in the rule book. No site was judged.")


def test_message_shows_the_line_with_a_caret_that_survives_tabs():
    (mistake,) = mistakes_in(
        GOOD.replace("          and side", "\t\tand side").replace("none", "nune", 1)
    )
    assert str(mistake) == (
        "pits.rules:7:26: 'nune' is not a choice of 'side protection'\n"
        "  7 | \t\tand side protection is nune\n"
        "    | \t\t                       ^^^^\n"
        "  Did you mean 'none'?\n"
        "  Its choices are: none, sloped, benched, timber shoring, hydraulic shoring, shield."
    )


def test_code_used_twice_names_the_other_place():
    twice = GOOD + GOOD[GOOD.index("rule DIG-1") :]
    (mistake,) = mistakes_in(twice)
    assert mistake.what == "the code DIG-1 is taken by the rule at pits.rules:4"


def test_conclusions_in_a_circle_are_told_as_a_chain():
    def seat(code, uses, counts):
        return (
            f"rule {code} circle\n  for each pier\n  when {uses} is does not suit\n"
            f"  then count {counts} as does not suit\n  say no\n  from common practice\n"
            "  case pit depth 5 ft gives ask\n"
        )

    (mistake,) = mistakes_in(
        seat("SEAT-1", "seat on concrete bed", "seat under cut footing")
        + seat("SEAT-2", "seat under cut footing", "seat on concrete bed")
    )
    assert mistake.what == "conclusions that go round in a circle: SEAT-1 -> SEAT-2 -> SEAT-1"


def test_deep_brackets_are_refused_quickly():
    deep = GOOD.replace(
        "is none", "is none and " + "(" * 400 + "pit depth is less than 5 ft" + ")" * 400
    )
    (mistake,) = mistakes_in(deep)
    assert mistake.what == "more than 20 brackets inside each other"
