"""Rules files that somebody or something has spoilt: a message with its place, or a good book."""

from __future__ import annotations

import re
from collections.abc import Mapping

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from survey import resources
from survey.facts import Facts
from survey.rulebook.book import read_and_try
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.messages import RuleBookError
from survey.rulebook.rules import RuleBook
from survey.vocabulary import Subject
from tests.made_books import FIRM_FILES, SHIPPED_FILES
from tests.small_sites import small_site

SHIPPED = {
    **SHIPPED_FILES,
    "more.rules": """\
rule LINE-3 gas near a pit
  for   each pier
  when  any utility where utility kind is gas
  then  condition
  say   Gas lies near {pier}.
  do    Have it shut off.
  who   competent person
  from  common practice
  release competent person
  case  utility (utility kind gas) gives condition

limit least way out = 25 ft
  from  common practice

rule OUT-1 far from the ladder
  for   each pier
  when  distance to ladder is more than least way out
  then  stop
  say   Far.
  do    Set another.
  who   crew
  from  common practice
  release competent person
  case  distance to ladder 26 ft gives stop
""",
}
FT = 12_000
# Every kind of paragraph that a firm's own file may have.
FIRM = (
    FIRM_FILES["firm.rules"]
    + """
limit most days = 2 days
  from  our safety plan 5

limit least way out = 20 ft
  from  our safety plan 6

table least wall
  by    wall height
  row   up to 8 ft gives 8 in
  row   up to 10 ft gives 12 in
  from  common practice

question width of gate
  for      the site
  kind     length
  unit     ft
  between  2 ft and 40 ft
  prompt   How wide is the gate?

question kind of dog
  for      the site
  kind     choice
  choices  none | small | large
  prompt   What dog is there?

replace rule LINE-3 gas near a pit, or any line in it
  for   each pier
  when  number of utilities where (utility kind is gas and clearance to utility is less than line
        set-back) is at least 1 or every other pier meets pit depth of other pier is less than pit
        depth of this pier
  then  stop
  say   Gas lies near {pier}.
  do    Have it shut off.
  who   competent person
  from  common practice
  release nobody
  reason  we have seen enough
  by      A. Ode
  case  utility (utility kind gas, clearance to utility 1 ft) gives stop
  case  all utilities listed yes, other pier (pit depth of other pier 5 ft) gives ask

cases DIG-2
  case  spoil distance 2 ft 11 in gives stop

rule OWN-2 thin wall, or too little time
  for   each pier
  when  wall thickness is less than least wall or distance to ladder is more than least way out
        or working days between survey date and crew date is less than most days minus 1 days
        or (pit depth plus 1 ft) times 150 % is more than 2 times footing depth divided by 3
  then  engineer
  say   The wall at {pier} is thin.
  do    Ask.
  say es El muro en {pier} es delgado.
  do es Pregunte.
  who   engineer
  from  common practice
  release licensed engineer
  case  wall thickness 6 in, wall height 8 ft gives engineer
  case  kind of dog large, width of gate 3 ft gives ask
"""
)
UNITS = {
    "character": r"(?s).",
    "word": r"\s+|\S+",
    "line": r".*\n?",
    "paragraph": r"(?ms)^.*?(?=^\S|\Z)",
}
ODD = [
    "", "\0", "\N{BYTE ORDER MARK}", "\N{RIGHT-TO-LEFT OVERRIDE}", "\N{NO-BREAK SPACE}", "\ud800",
    "\t", "\r", "\n", "\n\n", "  ", "\x1b[2J", "{", "}", "{}", "(", ")", '"', "\u201c", ",", "=",
    "<", ">=", "+", " - ", " / ", "%", "|", "#", "'", "0", "-1", "1/0", "9" * 400, "0." + "0" * 400,
    "1e9", "5 ft", "2026-02-30", "not ", "not not ", "is ", " and ", " or ", " gives ", "not known",
    "any utility where ", "every other pier meets ", "number of walls ", " plus ", "count ", "é",
    " divided by 0 ", "א", "\N{FULLWIDTH DIGIT FIVE}", "rule ", "rule DIG-2 x", "limit x = 5 ft",
    "  case", "  when ", "x" * 1200,
]  # fmt: skip
CHANGES = st.lists(
    st.tuples(
        st.sampled_from(list(UNITS)),
        st.sampled_from(["delete", "double", "swap", "replace"]),
        st.integers(0, 10**6),
        st.sampled_from(ODD) | st.text(max_size=4),
    ),
    min_size=1,
    max_size=5,
)


def changed(text: str, changes: list[tuple[str, str, int, str]]) -> str:
    """A text with some of its characters, words, lines and paragraphs spoilt."""
    for unit, how, place, odd in changes:
        parts = [part for part in re.findall(UNITS[unit], text) if part] or [""]
        at = place % len(parts)
        if how == "delete":
            del parts[at]
        elif how == "double":
            parts.insert(at, parts[at])
        elif how == "swap":
            other = (at + 1) % len(parts)
            parts[at], parts[other] = parts[other], parts[at]
        else:
            parts[at] = odd
        text = "".join(parts)
    return text


def outcome(shipped: Mapping[str, str], own: Mapping[str, str]) -> RuleBook | RuleBookError:
    try:
        return read_and_try(shipped, own)
    except RuleBookError as fault:
        return fault


def check(shipped: Mapping[str, str], own: Mapping[str, str]) -> None:
    found = outcome(shipped, own)
    texts = {**shipped, **own}
    if isinstance(found, RuleBook):
        DirectEvaluator(found, few_piers(found)).judge()
        return
    assert found.mistakes
    for mistake in found.mistakes:
        first, line, *_ = str(mistake).split("\n")
        file, number, column, what = first.split(":", 3)
        assert 1 <= int(number) <= texts[file].count("\n") + 1
        assert int(column) >= 1
        assert what.strip()
        assert line.startswith(f"  {number} | ")
    str(found).encode("utf-8")


def few_piers(book: RuleBook) -> Facts:
    pier = {"pit depth": 5 * FT, "slope of sides": 10_000, "spoil distance": FT}
    gas, words = {"utility kind": "gas"}, book.vocabulary
    return small_site([pier, {}], [gas], unlisted=[Subject.UTILITY], vocabulary=words)


def excerpts() -> list[tuple[str, str]]:
    """The limits and tables of each shipped file with a few of its rules."""
    found = []
    for file in sorted(resources.folder("rules").glob("*.rules")):
        parts = re.findall(UNITS["paragraph"], file.read_text("utf-8"))
        figures = [part for part in parts if not part.startswith(("rule", "standing", "topic"))]
        rules = [part for part in parts if part.startswith("rule")]
        found += [(file.name, "".join([*figures, *rules[at : at + 3]]))
                  for at in range(0, len(rules), 3)]  # fmt: skip
    return found


def figures_beside(name: str) -> Mapping[str, str]:
    """The limits and tables of the other shipped files, which a rule may name as well."""
    return {
        file.name: "".join(
            part
            for part in re.findall(UNITS["paragraph"], file.read_text("utf-8"))
            if part.startswith(("limit", "legal", "table"))
        )
        for file in sorted(resources.folder("rules").glob("*.rules"))
        if file.name != name
    }


EXCERPTS = excerpts()
BESIDE = {name: figures_beside(name) for name, _ in EXCERPTS}


def test_the_texts_before_they_are_spoilt_are_good():
    assert isinstance(outcome(SHIPPED, {"firm.rules": FIRM}), RuleBook)
    read = [outcome({**BESIDE[name], name: text}, {}) for name, text in EXCERPTS]
    assert all(isinstance(one, RuleBook) for one in read)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(CHANGES)
def test_a_spoilt_file_of_a_firm_is_told_or_read(changes):
    check(SHIPPED, {"firm.rules": changed(FIRM, changes)})


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.sampled_from(EXCERPTS), CHANGES)
def test_a_spoilt_shipped_file_is_told_or_read(excerpt, changes):
    name, text = excerpt
    check({**BESIDE[name], name: changed(text, changes)}, {})
