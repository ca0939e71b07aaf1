"""The solver's formulas and the direct evaluator say the same of any answers."""

from __future__ import annotations

import pytest
import z3
from hypothesis import given, settings
from hypothesis import strategies as st

from survey.facts import Fact, Facts, FactValue, Thing
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.judgement import Truth
from survey.rulebook.reading import read_book
from survey.rulebook.study.formulas import Formulas
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY, Origin, Subject, Word

FIGURES = """\
table least slope
  by   tested soil class, pit depth
  row  stable rock, up to 5 ft gives 0H:1V
  row  stable rock, up to 20 ft gives 1H:1V
  row  A, up to 5 ft gives 1H:1V
  row  A, up to 20 ft gives 1H:1V
  row  B, up to 5 ft gives 1H:1V
  row  B, up to 20 ft gives 1.5H:1V
  row  C, up to 8 ft gives 2H:1V
  from common practice
table least strength
  by   soil class
  row  stable rock gives 1000 plf
  row  A gives 1000 plf
  row  B gives 2000 plf
  row  C gives 3000 plf
  from common practice
"""
CLAUSES = (
    "pit depth is at least 5 ft", "pit depth is less than footing depth", "side protection is none",
    "side protection is not sloped", "slope of sides is at most 1H:1V",
    "protection design is one of maker's data, appendix table",
    "protection design allows for building is no", "tested soil class is B", "soil class is C",
    "cave-in protection is needed",
    "slope of sides is less than least slope", "slope of sides plus 1H:1V is at least least slope",
    "least slope is at least 1H:1V", "least strength is more than 1500 plf",
    "pit depth times pit depth is at least footing depth times 6 ft",
    "wall line load times pit depth is more than 10000 lb",
    "working days between survey date and crew date is at least 2 days",
    "crew date minus survey date is between 1 days and 3 days",
)  # fmt: skip
FEW: dict[str, list[FactValue]] = {
    "pit depth": [0, 60000, 60001, 96000, 240001], "footing depth": [0, 60000, 96000],
    "slope of sides": [0, 10000, 15000], "wall line load": [0, 5000, 20000],
    "survey date": [738000, 738004], "crew date": [738000, 738003, 738004],
}  # fmt: skip
ANSWERED = (
    "survey date", "crew date", "wall line load", "footing depth", "pit depth", "side protection",
    "slope of sides", "protection design", "protection design allows for building",
    "tested soil class",
)  # fmt: skip
_SUBJECTS = (Subject.SITE, Subject.WALL, Subject.PIER)


def rule(code: str, when: str, then: str) -> str:
    lines = [
        f"rule {code} fault",
        "  for each pier",
        f"  when {when}",
        f"  then {then}",
        "  say It is so.",
        "  from common practice",
        "  case pit depth 5 ft gives ask",
    ]
    more = [] if then.startswith("count") else ["  do It.", "  who crew", "  release nobody"]
    return "\n".join(lines + more) + "\n"  # fmt: skip


def conditions() -> st.SearchStrategy[str]:
    def larger(inner: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
        parts = st.lists(inner, min_size=2, max_size=3)
        return st.one_of(
            inner.map(lambda text: f"not ({text})"),
            parts.map(lambda texts: f"({' and '.join(texts)})"),
            parts.map(lambda texts: f"({' or '.join(texts)})"),
        )

    return st.recursive(st.sampled_from(CLAUSES), larger, max_leaves=5)


def answer(word: Word, earlier: dict[str, FactValue], missing: bool) -> st.SearchStrategy:
    if word.asks_when is not None:
        governing = earlier[word.asks_when.word]
        if governing is NOT_KNOWN:
            return st.just(NOT_KNOWN)
        if governing not in word.asks_when.choices:
            return st.just(DOES_NOT_APPLY)
    values = [*(word.choices or FEW.get(word.name, [0]))]
    if word.origin is Origin.DERIVED:
        values.append(DOES_NOT_APPLY)
    return st.sampled_from([*values, NOT_KNOWN] if missing else values)


@st.composite
def sites(draw: st.DrawFn, *, missing: bool) -> dict[str, FactValue]:
    """An answer to each of the words above, and to those that say whether they are asked."""
    drawn: dict[str, FactValue] = {}
    for name in ANSWERED:
        drawn[name] = draw(answer(VOCABULARY[name], drawn, missing))
    return drawn


def judged(book, rule_, answers: dict[str, FactValue]) -> Truth:
    things: dict[Subject, Thing] = {}
    for subject in _SUBJECTS:
        facts = {
            word.name: Fact(answers.get(word.name, NOT_KNOWN))
            for word in VOCABULARY.of(subject)
            if word.origin is not Origin.CONCLUDED
        }
        things[subject] = Thing(subject, subject.value, facts, dict(things), True, "")
    facts = Facts(tuple(things.values()))
    return DirectEvaluator(book, facts).truth(rule_, things[Subject.PIER])


def allowed(book, rule_, answers: dict[str, FactValue], *, complete: bool) -> set[Truth]:
    """What the formulas allow the rule to be, for these answers and no others."""
    formulas = Formulas(book, complete=complete)
    meaning = formulas.meaning(rule_.condition, rule_.subject)
    pinned = list(meaning.bounds.values())
    for name in answers.keys() & formulas.known.keys():
        value, choices, known = answers[name], VOCABULARY[name].choices, formulas.known[name][0]
        pinned.append(known.applies == (value is not DOES_NOT_APPLY))
        if value is not DOES_NOT_APPLY:
            pinned.append(known.told == (value is not NOT_KNOWN))
        if isinstance(value, (int, str)):
            pinned.append(known.value == (choices.index(value) if choices else value))
    states = {
        Truth.TRUE: meaning.met,
        Truth.FALSE: meaning.failed,
        Truth.UNKNOWN: z3.Not(z3.Or(meaning.met, meaning.failed)),
    }
    return {truth for truth, formula in states.items() if possible(formula, *pinned)}


def possible(*formulas) -> bool:
    solver = z3.Solver()
    solver.add(*formulas)
    return solver.check() == z3.sat


def made(when: str, concluding: tuple[str, str]):
    text = FIGURES + rule("DIG-1", when, "stop")
    text += rule("SOIL-1", concluding[0], "count soil class as C")
    text += rule("SOIL-2", concluding[1], "count cave-in protection as needed")
    book = read_book({"a.rules": text})
    return book, next(r for r in book if r.code == "DIG-1")


# These conclude nothing that they look at.
CONCLUDING = (
    "pit depth is at least 8 ft", "protection design is appendix table",
    "slope of sides is less than least slope", "not tested soil class is A",
)  # fmt: skip


@pytest.mark.parametrize("complete", [True, False])
@settings(max_examples=60)
@given(data=st.data(), when=conditions(), concluding=st.tuples(*[st.sampled_from(CONCLUDING)] * 2))
def test_the_formulas_allow_what_the_evaluator_says(complete, data, when, concluding):
    book, rule_ = made(when, concluding)
    answers = data.draw(sites(missing=not complete))
    found = allowed(book, rule_, answers, complete=complete)
    assert judged(book, rule_, answers) in found
    # How many days are working days is left out, and what the rows of a table that are still
    # possible have in common.
    loose = ["working days", "least strength", *([] if complete else ["least slope"])]
    if not any(name in f"{when} {concluding}" for name in loose):
        assert len(found) == 1


MISSING = [
    # whether the slope is asked for is not known, so neither is the slope
    ("slope of sides is at most 1H:1V", {"side protection": NOT_KNOWN}, Truth.UNKNOWN),
    ("slope of sides is at most 1H:1V", {"side protection": "none"}, Truth.FALSE),
    # a class that is not known may be the best or the worst
    ("soil class is C", {"tested soil class": NOT_KNOWN, "pit depth": 0}, Truth.UNKNOWN),
    ("soil class is C", {"tested soil class": NOT_KNOWN, "pit depth": 96000}, Truth.TRUE),
    ("soil class is C", {"tested soil class": DOES_NOT_APPLY, "pit depth": 96000}, Truth.FALSE),
]


@pytest.mark.parametrize(("when", "answers", "truth"), MISSING)
def test_what_follows_from_an_answer_that_is_missing(when, answers, truth):
    book, rule_ = made(when, CONCLUDING[:2])
    assert allowed(book, rule_, answers, complete=False) == {truth}


def test_a_table_whose_key_may_not_apply_is_open_though_every_row_gives_the_same():
    book, rule_ = made("least slope is at least 1H:1V", CONCLUDING[:2])
    answers = {"tested soil class": NOT_KNOWN, "pit depth": 60001}
    assert judged(book, rule_, answers) is Truth.UNKNOWN
    assert Truth.UNKNOWN in allowed(book, rule_, answers, complete=False)


COUNTS = [
    ("any utility", True, False),
    ("number of utilities where utility kind is gas is at most 2", True, False),
    ("number of utilities where utility kind is gas is at most 2", False, True),
    # a pit deeper than the table goes leaves the condition open, whatever is answered
    ("any utility where slope of sides is less than least slope", True, True),
    ("any utility where soil class is C", True, True),
]


@pytest.mark.parametrize(("when", "complete", "may_be_open"), COUNTS)
def test_a_number_is_told_where_everything_is(when, complete, may_be_open):
    book, rule_ = made(when, CONCLUDING[:2])
    assert [met for met in Truth if met not in allowed(book, rule_, {}, complete=complete)] == (
        [] if may_be_open else [Truth.UNKNOWN]
    )


@pytest.mark.parametrize("complete", [True, False])
def test_nothing_is_met_and_not_met(complete):
    for when in (*CLAUSES, *(when for when, _, _ in COUNTS)):
        book, rule_ = made(when, CONCLUDING[2:])
        meaning = Formulas(book, complete=complete).meaning(rule_.condition, rule_.subject)
        assert not possible(meaning.met, meaning.failed, *meaning.bounds.values())
