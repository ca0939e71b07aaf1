"""Conditions as the book's page puts them in words."""

import pytest

from survey.rulebook.reading import read_book
from survey.rulebook.study.wording import Wording, put_in_words

BOOK = """
limit set-back = 2 ft
  from common practice
table steepest
  by  soil class
  row stable rock gives 0H:1V
  row A gives 0.75H:1V
  row B gives 1H:1V
  row C gives 1.5H:1V
  from common practice
rule TEST-1 fault
  for   each pier
  when  {when}
  then  stop
  say   It is.
  do    Mend it.
  who   crew
  from  common practice
  release nobody
  case  pit depth 1 ft gives ask
"""


def worded(when: str) -> Wording:
    """A condition of a pier, read and put in words."""
    book = read_book({"t.rules": BOOK.format(when=when)})
    (rule,) = book
    return put_in_words(rule.condition, rule.subject, book)


def flat(said: Wording) -> str:
    """A wording on one line, its parts in brackets."""
    parts = "; ".join(flat(part) for part in said.parts)
    return f"{said.text} [{parts}]" if parts else said.text


@pytest.mark.parametrize(
    ("when", "said"),
    [
        ("pit depth is at least 5 ft", "pit depth is at least 5 ft"),
        ("spoil distance is less than set-back", "spoil distance is less than set-back (2 ft)"),
        ("pit depth is more than footing depth", "pit depth is more than footing depth"),
        ("side protection is not none", "side protection is not none"),
        ("side protection is one of none, sloped", "side protection is one of: none | sloped"),
        ("pit depth is between set-back and 5 ft", "pit depth is between set-back (2 ft) and 5 ft"),
        ("crew date is before ticket start", "crew date is before ticket start"),
        ("crew date is on or after ticket start", "crew date is on or after ticket start"),
        ("not pit depth is at least 5 ft", "this does not hold: [pit depth is at least 5 ft]"),
        ("pit depth is at least 5 ft and (seepage at pit is yes or cave-in signs is yes)",
         "all of these: [pit depth is at least 5 ft; any of these: [seepage at pit is yes; "
         "cave-in signs is yes]]"),
        ("seepage at pit is yes or side protection is none",
         "any of these: [seepage at pit is yes; side protection is none]"),
        ("slope of sides is less than steepest", "slope of sides is less than steepest (by table)"),
        ("pit depth minus set-back is more than 2 times (footing depth plus 1 ft)",
         "pit depth minus set-back (2 ft) is more than 2 times (footing depth plus 1 ft)"),
        ("any utility where utility kind is gas", "any utility where: [utility kind is gas]"),
        ("no utility where clearance to utility is less than set-back",
         "no utility where: [clearance to utility is less than set-back (2 ft)]"),
        ("every utility meets locate marks is clear",
         "every utility meets this: [locate marks is clear]"),
        ("number of utilities where utility kind is gas is more than 1",
         "the number of utilities is more than 1, counting where: [utility kind is gas]"),
        ("any neighbour", "there is any neighbour"),
        ("no other pier", "there is no other pier"),
        ("number of soil layers is less than 2", "the number of soil layers is less than 2"),
    ],
)  # fmt: skip
def test_a_condition_of_a_pier(when, said):
    assert flat(worded(when)) == said
