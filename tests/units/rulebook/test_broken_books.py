"""Broken rules files, each with the whole text that the person who wrote it is told.

``broken/NAME.rules`` is the shipped part, ``broken/NAME.firm.rules`` a firm's own where there is
one, ``broken/NAME.txt`` the text. After a change of wording, ``python -m
tests.units.rulebook.test_broken_books`` writes the texts anew; read what has changed in them.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from survey.rulebook.book import read_and_try
from survey.rulebook.messages import MOST_TOLD, RuleBookError

FOLDER = Path(__file__).parent / "broken"
RULES, FIRM, TEXT = ".rules", ".firm.rules", ".txt"
FILES = sorted(file.name for file in FOLDER.iterdir() if not file.name.startswith("."))
NAMES = [file.removesuffix(RULES) for file in FILES
         if file.endswith(RULES) and not file.endswith(FIRM)]  # fmt: skip
GOOD = """\
limit greatest depth = 5 ft
  from common practice
rule DIG-1 pit that is too deep
  for     each pier
  when    pit depth is more than greatest depth
  then    stop
  say     Pit {pier} is {pit depth} deep.
  do      Hold its sides.
  who     crew
  from    common practice
  release nobody
  case    pit depth 6 ft gives stop
"""


def read(name: str) -> dict[str, str]:
    file = FOLDER / name
    return {name: file.read_text("utf-8")} if file.exists() else {}


def told(shipped: dict[str, str], firm: dict[str, str] | None = None) -> str:
    with pytest.raises(RuleBookError) as caught:
        read_and_try(shipped, firm or {})
    return f"{caught.value}\n"


def told_of(name: str) -> str:
    return told(read(name + RULES), read(name + FIRM))


def test_every_file_has_its_partner():
    firms = {file.removesuffix(FIRM) for file in FILES if file.endswith(FIRM)}
    assert {file.removesuffix(TEXT) for file in FILES if file.endswith(TEXT)} == set(NAMES)
    assert firms <= set(NAMES)
    assert len(NAMES) * 2 + len(firms) == len(FILES)
    assert len(NAMES) >= 75


@pytest.mark.parametrize("name", NAMES)
def test_the_text_is_told_as_it_stands(name):
    assert told_of(name) == (FOLDER / f"{name}{TEXT}").read_text("utf-8")


@pytest.mark.parametrize("name", NAMES)
def test_each_mistake_has_its_place_and_its_line_with_a_caret(name):
    *mistakes, last = told_of(name).rstrip("\n").split("\n\n")
    assert re.fullmatch(r"\d+ mistakes? in the rule book\. No site was judged\.", last)
    assert len(mistakes) == int(last.split(" ")[0])
    for mistake in mistakes:
        first, line, caret, *_ = mistake.split("\n")
        file, number, column, what = first.split(":", 3)
        assert file in (name + RULES, name + FIRM)
        assert line.startswith(f"  {number} | ")
        assert caret.index("^") - caret.index("|") >= 2
        assert int(column) >= 1
        assert what.strip()
        assert not what.endswith(".")


def test_the_book_before_it_is_broken_is_good():
    assert [rule.code for rule in read_and_try({"pits.rules": GOOD}, {})] == ["DIG-1"]


def test_all_mistakes_of_all_files_are_told_at_once():
    broken = GOOD.replace("5 ft\n", "5 fet\n").replace("stop\n  say", "stopp\n  say")
    text = told({"a.rules": broken, "b.rules": "rule X\n"}, {"c.rules": "limit x = 5\n"})
    places = ("a.rules:1:24: ", "a.rules:6:11: ", "b.rules:1:6: ", "c.rules:1:1: ")
    assert [place in text for place in places] == [True] * 4
    assert text.endswith("mistakes in the rule book. No site was judged.\n")


def test_a_caret_lines_up_where_tabs_stand():
    text = told({"a.rules": GOOD.replace("  when    ", "\twhen\t").replace("  ", "\t")
                 .replace("pit depth is", "pit dept is")})  # fmt: skip
    lines = text.split("\n")
    assert lines[1] == "  5 | \twhen\tpit dept is more than greatest depth"
    assert lines[2] == "    | \t    \t^^^^^^^^"


def test_of_a_long_line_the_part_round_the_mistake_is_shown():
    clauses = "pit depth is less than 9 ft and " * 20
    broken = GOOD.replace("pit depth is more", f"{clauses}pit dept is more")
    _, line, caret, *_ = told({"a.rules": broken}).split("\n")
    assert len(line) < 125
    assert "…" in line
    assert line[caret.index("^") : caret.rindex("^") + 1] == "pit dept"


@pytest.mark.parametrize(
    "mistakes",
    [
        "".join(f"xyz {n}\n" for n in range(5000)),
        GOOD + "  case pit dept 5 ft gives stop\n" * 5000,
        "rule X\n" * 2000,
        "\x00\n" * 5000,
    ],
    ids=["heads", "cases", "rules", "unseen"],
)
def test_more_mistakes_than_anybody_reads_are_cut_short(mistakes):
    *shown, last = told({"a.rules": mistakes}).rstrip("\n").split("\n\n")
    assert len(shown) == MOST_TOLD
    assert last == f"More than {MOST_TOLD} mistakes in the rule book. No site was judged."


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("limit greatest", "\N{BYTE ORDER MARK}limit greatest"),
        ("\n", "\r\n"),
        ("  when    pit depth", "\u00a0\u00a0when\u00a0pit\u00a0depth"),
        ("  ", "\t"),
        ("stop\n  say", "stop  \t\n\n# for people alone\n\n  say"),
        ("more than greatest", "more than\n          greatest"),
        ("greatest depth\n", '"greatest depth"\n'),
        ("greatest depth\n", "\u201cgreatest depth\u201d\n"),
        ("6 ft", "6\u00a0ft"),
        ("Hold its sides", "Mantenga los lados: peligro \N{EM DASH} ¡ojo! \N{WARNING SIGN}"),
        ("pit depth is more than greatest depth", "((pit depth is more than greatest depth))"),
    ],
)  # fmt: skip
def test_what_looks_right_is_right(old, new):
    text = GOOD.replace(old, new)
    assert text != GOOD
    (rule,) = read_and_try({"pits.rules": text}, {})
    (good,) = read_and_try({"pits.rules": GOOD}, {})
    assert rule.condition == good.condition


def write() -> None:
    """Write the texts anew."""
    for name in NAMES:
        (FOLDER / f"{name}{TEXT}").write_text(told_of(name), "utf-8", newline="\n")


if __name__ == "__main__":
    write()
