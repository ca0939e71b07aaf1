"""What a firm's own book must keep of the shipped one."""

import pytest

from survey.rulebook.guard import stricter_ways, what_is_lost
from survey.rulebook.reading import read_book

LIMITS = """\
legal limit deep = 5 ft
  from 29 CFR 1926.652(a)(1)(ii)
legal limit back = 2 ft
  from 29 CFR 1926.651(j)(2)
limit ours = 10 ft
  from common practice
"""
RULES = """\
rule DIG-1 too deep
  for each pier
  when pit depth is at least deep or pit depth is more than ours
  then stop
  say It is.
  do Hold it.
  who crew
  from common practice
  release nobody
  case pit depth 5 ft gives stop
rule DIG-2 too near
  for each pier
  when not spoil distance is at least back
  then stop
  say It is.
  do Move it.
  who crew
  from common practice
  release nobody
  case spoil distance 1 ft gives stop
"""
SHIPPED = read_book({"shipped.rules": LIMITS + RULES})


def lost(text: str) -> tuple[str, ...]:
    return what_is_lost(read_book({"own.rules": text}), SHIPPED)


def test_which_way_is_stricter_is_read_off_the_rules():
    assert stricter_ways(SHIPPED.limits["deep"], SHIPPED) == {"lower"}
    assert stricter_ways(SHIPPED.limits["back"], SHIPPED) == {"higher"}


def test_the_shipped_book_itself_loses_nothing():
    assert lost(LIMITS + RULES) == ()


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("deep = 5 ft", "deep = 4 ft", None),
        ("deep = 5 ft", "deep = 5 ft 1 in", "own.rules:1: 'deep' of 5 ft 1 in is looser"),
        ("back = 2 ft", "back = 3 ft", None),
        ("back = 2 ft", "back = 23 in", "own.rules:3: 'back' of 23 in is looser"),
        ("legal limit deep", "limit deep", "'deep' must stay a legal limit of length"),
        ("ours = 10 ft", "ours = 20 ft", None),
    ],
)
def test_legal_limits_may_be_tightened_and_never_loosened(old, new, told):
    lines = lost((LIMITS + RULES).replace(old, new))
    assert [told in line for line in lines] == ([True] if told else [])


def test_a_limit_used_on_both_sides_may_not_be_moved():
    both = LIMITS + RULES.replace("more than ours", "less than deep")
    shipped = read_book({"shipped.rules": both})
    for figure in ("4 ft", "6 ft"):
        own = read_book({"own.rules": both.replace("deep = 5 ft", f"deep = {figure}")})
        assert len(what_is_lost(own, shipped)) == 1


def test_lost_rules_and_limits_are_named():
    own = RULES[: RULES.index("rule DIG-2")].replace("deep or pit depth is more than ours", "5 ft")
    assert lost(own) == (
        "DIG-2 (too near) of the shipped book is missing",
        "the legal limit 'deep' is missing; the law says 5 ft (29 CFR 1926.652(a)(1)(ii))",
        "the legal limit 'back' is missing; the law says 2 ft (29 CFR 1926.651(j)(2))",
    )


def test_an_empty_book_loses_everything():
    assert len(lost("topic nothing\n")) == 4
