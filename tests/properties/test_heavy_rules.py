"""Books that are heavy on purpose: refused with little work, or judged with bearable work.

Work is counted in calls of Python functions, on a site of sixty piers; what the second evaluator
costs is a benchmark.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from typing import TypeVar

import pytest

from survey.facts import Facts
from survey.rulebook import production
from survey.rulebook.book import read_and_try
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.judgement import Judgement
from survey.rulebook.messages import RuleBookError
from survey.rulebook.reading import read_book
from survey.rulebook.rules import RuleBook
from survey.vocabulary import NOT_KNOWN, VOCABULARY, Subject
from tests.effort import counted
from tests.small_sites import small_site

MOST_CALLS = 3_000_000  # about a second; what is too heavy would take minutes
FT = 12_000
T = TypeVar("T")


def rule(when: str, of: str = "each pier", code: str = "OWN-1") -> str:
    words = when.split(" ")
    lines = [" ".join(words[at : at + 12]) for at in range(0, len(words), 12)]
    broken = "\n          ".join(lines)
    return f"""\
rule {code} fault
  for     {of}
  when    {broken}
  then    stop
  say     So.
  do      Mend it.
  who     crew
  from    common practice
  release nobody
  case    carbon monoxide alarm yes, bracket plate width 9 in, ground snow load 9 psf gives ask
"""


def table(name: str, *keys: str) -> str:
    choices = itertools.product(*(VOCABULARY[key].choices for key in keys))
    rows = [", ".join(f'"{choice}"' for choice in row) for row in choices]
    said = "".join(f"  row   {row} gives {n}.{n:03} in\n" for n, row in enumerate(rows, 1))
    return f"table {name}\n  by    {', '.join(keys)}\n{said}  from  common practice\n"


def alternatives(clause: str, number: int, join: str = " or ") -> str:
    return join.join(clause.format(n=n) for n in range(number))


LENGTHS = [word.name for word in VOCABULARY.scope(Subject.PIER).values()
           if word.unit in ("ft", "in")][:33]  # fmt: skip
TABLES = table("one", "footing kind", "wall cracks") + table(
    "other", "wall material", "footing cracks"
)
KINDS = "water, sewer, septic, steam, electric, gas, propane"
DEEP = "{}pit depth is more than 5 ft{}"
EITHER = " and ".join(
    f"({LENGTHS[n % len(LENGTHS)]} is less than {n + 100} ft or pit depth is at least {n} in)"
    for n in range(100)
)
GOOD = {
    "200 clauses, none met": rule(alternatives("pit depth is more than {n}00 ft", 200)),
    "200 clauses, all met": rule(alternatives("pit depth is more than {n} in", 60)
                                 + alternatives(" or pit width is more than 0.{n} in", 140, "")),
    "100 times either": rule(EITHER),
    "100 times neither": rule(" and ".join(
        f"not ({LENGTHS[n % len(LENGTHS)]} is more than {n + 100} ft or seepage at pit is yes)"
        for n in range(100))),
    "words compared": rule(" or ".join(
        f"{one} is more than {other}" for one, other in itertools.pairwise((LENGTHS * 6)[:200]))),
    "10 clauses for each pair of piers": rule(
        f"any other pier where ({alternatives('pit depth of other pier is at least {n}9 ft', 10)})"
    ),
    "12 large factors": rule("pit depth" + " times 999999999" * 12 + " is more than 2 in"),
    "12 small divisors": rule("pit depth" + " divided by 0.000000001" * 12 + " is more than 2 in"),
    "13 large answers": rule("pit depth" + " times pit depth" * 6 + " is less than 2 in"
                             + " times pit width" * 6),
    "a day far away": rule("crew date plus 999999999 days is after survey date", "the site"),
    "two tables": TABLES + rule("pit depth is more than one plus other"),
    "brackets": rule(DEEP.format("(" * 20, ")" * 20)),
    "not after not": rule(DEEP.format("not (" * 20, ")" * 20)),
    "many rules with many answers": "".join(
        rule(f"utility kind is one of {KINDS}", "each utility", f"OWN-{n}") for n in range(60)),
    "names that the second evaluator uses": "".join(
        f"question {name}\n  for    each pier\n  kind   yes or no\n  prompt Is it?\n"
        + rule(f"{name} is yes", code=f"OWN-{n}")
        for n, name in enumerate(("id", "sid", "present", "part", "value", "pit depth state"), 1)),
}  # fmt: skip


def many_piers(book: RuleBook, *, known: bool) -> Facts:
    pier = {"pit depth": 5 * FT, "pit width": 3 * FT, "seepage at pit": "no", "station": 9 * FT}
    wall = {"footing kind": "concrete", "wall cracks": "hairline", "wall height": 8 * FT}
    site = {"survey date": 739_000, "crew date": 739_009}
    lines = [{"utility kind": "gas" if known else NOT_KNOWN}] * 10
    return small_site(
        [pier if known else {}] * 60, lines, walls=[wall if known else {}] * 4,
        site=site if known else {}, at_wall={n: n % 4 + 1 for n in range(1, 61)},
        unlisted=[] if known else [Subject.UTILITY], vocabulary=book.vocabulary,
    )  # fmt: skip


def with_little_work(work: Callable[[], T]) -> T:
    """What some work gives, if it calls no more than so many functions."""
    found, calls = counted(work)
    assert calls < MOST_CALLS, calls
    return found


def judged(book: RuleBook, facts: Facts) -> Judgement:
    direct = DirectEvaluator(book, facts)
    return direct.summary(direct.judge())


@pytest.mark.parametrize("known", [True, False], ids=["known", "not known"])
@pytest.mark.parametrize("name", GOOD)
def test_a_heavy_book_is_read_and_judged_by_both_alike(name, known):
    book = with_little_work(lambda: read_book({"own.rules": GOOD[name]}))
    facts = many_piers(book, known=known)
    summary = with_little_work(lambda: judged(book, facts))
    if production.available():
        assert production.ProductionEvaluator(book).judge(facts) == summary


@pytest.mark.skipif(not production.available(), reason="durable-rules does not load here")
@pytest.mark.parametrize("answers", [{}, {"pit depth": 9 * FT, "seepage at pit": "no"}])
def test_many_long_rules_are_judged_alike(answers):
    long = EITHER[:900].rpartition(" and ")[0]
    text = "".join(rule(long.replace("100 ft", f"{n} ft"), code=f"OWN-{n}") for n in range(40))
    book = read_book({"own.rules": text})
    facts = small_site([answers, answers])
    assert production.ProductionEvaluator(book).judge(facts) == judged(book, facts)


SEEPS = "seepage at pit is yes"
MANY = 3_000
REFUSED = {
    "201 clauses": rule(alternatives("pit depth is more than {n} ft", 201)),
    "11 clauses for each line": rule(
        f"any utility where ({alternatives('utility diameter is more than {n} ft', 11)})"),
    "sums for each pair": rule("any other pier where pit depth of other pier" + " plus 1 ft" * 12
                               + " is more than 5 ft"),
    "sixty long sums": rule(alternatives("pit depth" + " times 1.123456789" * 12
                                         + " is more than {n} ft", 60)),
    "thousands of terms": rule("pit depth" + " plus pit depth" * MANY + " is more than 5 ft"),
    "thousands of terms on the right": rule("pit depth is less than 5 ft" + " minus 1 in" * MANY),
    "thousands of terms by is": rule("pit depth" + " times 2" * MANY + " is none"),
    "13 factors": rule("pit depth" + " times 9" * 13 + " is more than 5 ft"),
    "one table thirteen times": TABLES + rule("one" + " plus one" * 12 + " is more than pit depth"),
    "a table of 200 rows twice": "table one\n  by    wall height\n" + "".join(
        f"  row   up to {n} in gives {n} in\n" for n in range(1, 201))
        + "  from  common practice\n" + rule("pit depth is more than one minus one"),
    "brackets": rule(DEEP.format("(" * MANY, ")" * MANY)),
    "brackets in a sum": rule("(" * MANY + "pit depth" + ")" * MANY + " is more than 5 ft"),
    "not": rule("not " * MANY + "seepage at pit is yes"),
    "look round in look round": rule("every utility meets " * MANY + "utility kind is gas"),
    "no where no": rule("no utility where " * MANY + "utility kind is gas"),
    "a number without end": rule("pit depth is more than " + "9" * 900 + " ft"),
    "a factor without end": rule("pit depth times " + "9" * 900 + " is more than 5 ft"),
    "a count without end": rule("number of utilities is more than " + "9" * 900),
    "a word without end": rule("x" * 900 + " is more than 5 ft"),
    "a line without end": rule(SEEPS).replace("So.", "x" * 500_000),
    "a case without end": rule(SEEPS) + "  case " + ",\n    pit depth 6 ft" * MANY,
    "nothing but brackets": "(" * 900 + "\n" + "rule X\n  when " + ")" * 900 + "\n",
    "many mistakes": "".join(rule(f"pit dept{n} is 5 fet", code=f"OWN-{n}") for n in range(500)),
    "bytes": bytes(range(256)).decode("latin-1") * 300,
}  # fmt: skip


@pytest.mark.parametrize("name", REFUSED)
def test_what_can_not_be_judged_quickly_is_refused_quickly(name):
    def refused() -> str:
        with pytest.raises(RuleBookError) as caught:
            read_and_try({"own.rules": REFUSED[name]}, {})
        return str(caught.value)

    assert "No site was judged." in with_little_work(refused)
