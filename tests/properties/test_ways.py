"""The way to go against trying everything; what a verdict rests on against changing the rest."""

from __future__ import annotations

import datetime as dt
import itertools
import random
from collections.abc import Callable, Iterable, Mapping

from hypothesis import given, settings
from hypothesis import strategies as st

from survey.assessment import assess
from survey.assessment.ways import ChangeStep, LookStep, lines, ways_to_go
from survey.assessment.ways.judging import Block, Judge
from survey.assessment.ways.search import Effort, Puzzle, Search
from survey.assessment.ways.touching import Cell, Release, Touched, Touching
from survey.assessment.ways.values import Values
from survey.errors import Problem
from survey.model import Row, Survey, Value
from survey.rulebook.book import load_book
from survey.rulebook.direct import Told
from survey.rulebook.rules import ReleaseBy, RuleBook, comparisons
from survey.vocabulary import CLOSED_BY, NOT_KNOWN, VOCABULARY, Kind, Origin, Subject, Word
from tests.random_sites import change, random_survey

TODAY = dt.date(2026, 11, 30)
BOOK = load_book()
ENDLESS = Effort(10**6, 10**6, 10**7)


def touching(survey: Survey, problems: tuple[Problem, ...] = (), book: RuleBook = BOOK) -> Touching:
    return Touching(survey, problems, book, Values(survey, book, TODAY))


def everything(site: Touching) -> list[Touched]:
    """All that may be touched on a site."""
    cells: list[Touched] = []
    for (subject, label), row in site.rows.items():
        for word in VOCABULARY.asked_of(subject):
            if (word.name, label) in site.reached(word.name, label) and word.name in row.answers:
                cells.append(Cell(word.name, label))
    return cells


def releases(blocks: Iterable[Block]) -> list[Touched]:
    """The releases that somebody may give of what holds a site up."""
    return [
        Release(block.what.rule.code, block.what.thing.label)
        for block in blocks
        if isinstance(block.what, Told)
        and block.what.thing.listed
        and block.what.rule.release is not ReleaseBy.NOBODY
    ]


def looked_at(block: Block) -> set[tuple[str, str]]:
    """The answers that the rule of a block looks at, or that the plan does."""
    if not isinstance(block.what, Told):
        return {(word, "site") for word in ("crew date", "last crew date", "ticket end")}
    thing = block.what.thing
    return {
        (word.itself.name, thing.part(word.subject).label)
        for clause in comparisons(block.what.rule.condition)
        for word in clause.words
        if word.subject is thing.subject or word.subject in thing.parts
    } | {(closing, "site") for closing in CLOSED_BY.values()}


def named(block: Block) -> tuple[str, str]:
    what = block.what
    return (what.rule.code, what.thing.label) if isinstance(what, Told) else ("", str(what))


# What a verdict rests on


@settings(max_examples=60, deadline=None)
@given(seed=st.integers(0, 10**9))
def test_what_holds_a_site_up_stays_while_nothing_that_it_rests_on_is_touched(seed):
    rng = random.Random(seed)
    site = touching(opened(random_survey(rng, rate=rng.choice([0.005, 0.02, 0.1])), rng))
    judge = Judge(site)
    choices = some_choices(site, everything(site), rng, rng.choice([0, 1, 3]))
    blocks = judge.judged(choices).blocks
    for block in rng.sample(blocks, min(6, len(blocks))):
        free = [
            one for one in [*everything(site), *releases(blocks)]
            if one not in block.rests_on and one not in choices
        ]  # fmt: skip
        near = [
            one for one in free
            if one == Release(*named(block))
            or (isinstance(one, Cell) and (one.word, one.label) in looked_at(block))
        ]  # fmt: skip
        more = some_choices(site, near, rng, rng.choice([1, 2, 3]))
        more |= some_choices(site, free, rng, rng.choice([0, 1, 4, 20, 80]))
        after = judge.judged({**choices, **more}).blocks
        if named(block)[0]:
            assert named(block) in {named(one) for one in after}, (named(block), more)
        else:  # days that clash, clash
            assert any(not named(one)[0] for one in after), (named(block), more)


def opened(survey: Survey, rng: random.Random) -> Survey:
    """Sometimes with a list that is not known to be complete, or with days that don't fit."""
    lists = set(rng.sample(sorted(CLOSED_BY.values()), rng.choice([0, 0, 1])))
    longer = rng.choice([None, None, 2.0, 9.0])
    ends = rng.choice([None, None, dt.date(2026, 12, 9)])

    def new(row: Row, word: Word, value: Value) -> Value:
        if word.name in lists:
            return NOT_KNOWN
        if word.name == "days for a round of pits" and longer is not None:
            return longer
        if word.name == "ticket end" and ends is not None:
            return ends
        return value

    return change(survey, new)


def some_choices(
    site: Touching, among: list[Touched], rng: random.Random, number: int
) -> dict[Touched, Value]:
    picked = rng.sample(among, min(number, len(among)))
    return {one: rng.choice(values) for one in picked if (values := site.candidates(one))}


# The search, on puzzles of its own


@settings(max_examples=300, deadline=None)
@given(seed=st.integers(0, 10**9))
def test_the_search_finds_the_smallest_sets_that_trying_everything_finds(seed):
    rng = random.Random(seed)
    things = [f"t{n}" for n in range(rng.randint(1, 6))]
    values = {thing: tuple(range(rng.randint(1, 3))) for thing in things}
    step = {t: f"s{rng.randint(0, 3)}" if rng.random() < 0.3 else t for t in things}
    cost = {one: rng.choice([0, 0, 1, 2, 5]) for one in step.values()}
    bad: list[dict[str, int | None]] = [{rng.choice(things): None}]
    for _ in range(rng.randint(1, 14)):
        scope = rng.sample(things, rng.randint(1, min(3, len(things))))
        bad.append({thing: rng.choice((None, *values[thing])) for thing in scope})

    def judge(choices: Mapping[str, int]) -> list[frozenset[str]]:
        return [frozenset(one) for one in bad if all(choices.get(t) == v for t, v in one.items())]

    def cost_of_all(steps: frozenset[str]) -> int:
        return sum(cost[one] for one in steps) + (3 if "t0" in steps else 0)

    puzzle = Puzzle(judge, values.__getitem__, step.__getitem__, cost.__getitem__, cost_of_all)
    found = Search(puzzle, ENDLESS).run(10**6)
    wanted = smallest(
        frozenset(step[t] for t in choices)
        for choices in every_choice(things, values.__getitem__)
        if not judge(choices)
    )
    assert found.all_told
    assert {good.steps for good in found.good} == wanted
    assert len(found.good) == len(wanted)
    costs = [(cost_of_all(good.steps), len(good.steps)) for good in found.good]
    assert costs == sorted(costs)
    assert not any(judge(good.choices) for good in found.good)
    one = Search(puzzle, ENDLESS).some()
    assert {good.steps for good in one.good} <= wanted
    assert one.all_told is (not wanted)
    assert bool(one.good) is bool(wanted)


def every_choice(
    things: Iterable[Touched], values: Callable[[Touched], Iterable[Value]]
) -> Iterable[dict[Touched, Value]]:
    listed = list(things)
    for picked in itertools.product(*((None, *values(one)) for one in listed)):
        yield {one: value for one, value in zip(listed, picked, strict=True) if value is not None}


def smallest(sets: Iterable[frozenset]) -> set[frozenset]:
    every = set(sets)
    return {one for one in every if not any(other < one for other in every)}


# The whole way, on the shipped book


class OnlySome(Touching):
    """A site of which only some things may be touched, so that everything can be tried."""

    allowed: frozenset[Touched]

    def may(self, allowed: Iterable[Touched]) -> OnlySome:
        object.__setattr__(self, "allowed", frozenset(allowed))
        return self

    def reached(self, word: str, label: str) -> frozenset[tuple[str, str]]:
        found = super().reached(word, label)
        return frozenset(one for one in found if Cell(*one) in self.allowed)

    def candidates(self, touched: Touched) -> tuple[Value, ...]:
        return super().candidates(touched) if touched in self.allowed else ()


MOST_TRIED = 100


@settings(max_examples=15, deadline=None)
@given(seed=st.integers(0, 10**9))
def test_the_ways_of_a_site_are_those_that_trying_everything_finds(seed):
    rng = random.Random(seed)
    survey = broken(rng)
    whole = touching(survey)
    base = Judge(whole).judged({}).blocks
    if not base:
        return
    # What may be touched: something of each that holds the site up, and what has nothing to do
    # with it, as many as can be tried together.
    wanted: list[Touched] = []
    for block in rng.sample(base, len(base)):
        wanted += rng.sample(sorted(block.rests_on, key=repr), min(2, len(block.rests_on)))
    wanted += rng.sample(everything(whole), 1)
    wanted += [
        one for one in everything(whole)
        if isinstance(one, Cell) and whole.step(one) in wanted and one not in wanted
    ]  # fmt: skip
    allowed: list[Touched] = []
    number = 1
    for one in dict.fromkeys(wanted):
        more = 1 + len(whole.candidates(one))
        if number * more <= MOST_TRIED:
            allowed.append(one)
            number *= more
    site = OnlySome(survey, (), BOOK, Values(survey, BOOK, TODAY)).may(allowed)
    judge = Judge(site)
    found = Search(Puzzle(judge, site.candidates, site.step, lambda _: 1, len), ENDLESS).run(10**6)
    good = [
        choices
        for choices in every_choice(allowed, site.candidates)
        if not judge.judged(choices).blocks
    ]
    assert {one.steps for one in found.good} == smallest(
        frozenset(site.step(one) for one in choices) for choices in good
    )
    assert found.all_told
    for one in found.good:
        checked = assess(*site.touched(one.choices), BOOK)
        assert checked.verdict.may_start
    for choices in rng.sample(good, min(3, len(good))):  # what goes by the lean judgement, goes
        assert assess(*site.touched(choices), BOOK).verdict.may_start


def broken(rng: random.Random) -> Survey:
    """The careful house with a few answers not known and a few others than they were."""
    survey = random_survey(rng, rate=0.0)
    cells = [
        (row.subject, row.label, word)
        for row in survey.every_row()
        for word in VOCABULARY.asked_of(row.subject)
        if row.subject not in (Subject.PHOTO, Subject.RELEASE)
        and row.answers[word.name].value is not NOT_KNOWN
        and word.kind is not Kind.REFERENCE
    ]
    picked = {(s, label, w.name): w for s, label, w in rng.sample(cells, rng.randint(1, 4))}
    site = touching(survey)

    def new(row, word, value):
        if (row.subject, row.label, word.name) not in picked:
            return value
        others = site.values.of(word, row)
        return rng.choice([NOT_KNOWN, *others])

    return change(survey, new)


@settings(max_examples=8, deadline=None)
@given(seed=st.integers(0, 10**9))
def test_every_way_of_any_site_is_confirmed_and_leaves_what_was_seen(seed):
    rng = random.Random(seed)
    survey = random_survey(rng, rate=rng.choice([0.002, 0.005, 0.02]))
    ways = ways_to_go(survey, (), BOOK, TODAY, 2, Effort(60, 300, 3000))
    assert not ways.unconfirmed
    for way in ways.ways:
        for step in way.steps:
            if isinstance(step, LookStep):
                assert step.answer.was in {"not known", "does not apply"}
                assert step.answer.chosen not in {"not known", "does not apply"}
            if isinstance(step, ChangeStep):
                word = VOCABULARY[step.answer.word]
                assert word.origin is Origin.CHOSEN
                assert word.kind is not Kind.TEXT
                assert step.answer.was != step.answer.chosen
                assert all(VOCABULARY[one.word].origin is Origin.CHOSEN for one in step.opens)
    assert list(lines(ways))


@settings(max_examples=60, deadline=None)
@given(seed=st.integers(0, 10**9))
def test_the_lean_judgement_says_what_the_full_one_says(seed):
    rng = random.Random(seed)
    survey = random_survey(rng, rate=rng.choice([0.005, 0.02, 0.1]))
    problems = tuple(
        Problem(where, "?", "an answer")
        for where in rng.sample(["Site!B5", "stray!A1"], rng.randint(0, 1))
    )
    goes = not Judge(touching(survey, problems)).judged({}).blocks
    first = survey.site.value("crew date")
    passed = isinstance(first, dt.date) and first < TODAY  # the rules know of no today
    assert goes is (assess(survey, problems, BOOK).verdict.may_start and not passed)
