"""The way to go: the smallest sets of things to do that turn a site, each proved by a check."""

from __future__ import annotations

import datetime as dt
import itertools
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from survey.assessment.assessment import Assessment, assess
from survey.assessment.decision import Verdict
from survey.assessment.findings import Finding
from survey.assessment.ways.choosing import BY_ENGINEER
from survey.assessment.ways.judging import Block, Judge, Passed
from survey.assessment.ways.pricing import Pricing
from survey.assessment.ways.search import Effort, Found, Good, Puzzle, Search
from survey.assessment.ways.touching import Cell, Choices, Mend, Release, Touched, Touching
from survey.assessment.ways.values import Values, halfway
from survey.assessment.why_turned import WEATHER
from survey.errors import Problem
from survey.facts import fact_value, shown
from survey.model import Survey, Value
from survey.rulebook.direct import Told
from survey.rulebook.rules import Outcome, ReleaseBy, RuleBook
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Kind, Origin, Word

EFFORT = Effort(judgements=400)
_MOST_ALONE = 10  # findings that are looked at one by one, to tell which of them nothing turns
_ALONE = Effort(judgements=60, tries=2_000)  # to tell whether a few findings can be turned
_HALVINGS = 6
_HOLDS = frozenset({Outcome.STOP, Outcome.ENGINEER, Outcome.ASK})
_DAYS, _PASSED = "days", "passed"
Place = tuple[str, str]  # what holds a site up: the code of a rule, and where
_Blocks = tuple[tuple[Place, frozenset[Touched]], ...]  # with what each rests on


@dataclass(frozen=True, slots=True)
class Answered:
    """An answer on a way to go.

    Args:
        word, label, where: the question, its row and its cell.
        was: the answer as it is, as printed.
        chosen: the one with which the site was judged again.
        goes: all answers that were tried and with which it goes, all else on the way held.
        stays: those that were tried and with which it does not.
        by_engineer: whether whatever goes stands for a paper of an engineer.
    """

    word: str
    label: str
    where: str
    was: str
    chosen: str
    goes: tuple[str, ...] = ()
    stays: tuple[str, ...] = ()
    by_engineer: bool = False


@dataclass(frozen=True, slots=True)
class LookStep:
    """An open question to answer, by what is true.

    Args:
        on_site: whether it is seen on site, or found out in the office.
    """

    answer: Answered
    on_site: bool
    cost: int


@dataclass(frozen=True, slots=True)
class ChangeStep:
    """A choice of ours to change, and what follows from it.

    Args:
        opens: the answers that are asked for once it is changed.
        empties: the answers that no longer apply then, and have to be left blank.
    """

    answer: Answered
    opens: tuple[Answered, ...]
    empties: tuple[str, ...]
    cost: int


@dataclass(frozen=True, slots=True)
class ReleaseStep:
    """A release to ask for.

    Args:
        code, name: of the rule whose findings are lifted.
        places: where.
        by: who may give it.
        given_from, given_by: the first and the last day on which it may be dated.
        until: it holds as long.
    """

    code: str
    name: str
    places: tuple[str, ...]
    by: ReleaseBy
    given_from: dt.date
    given_by: dt.date
    until: dt.date
    cost: int


@dataclass(frozen=True, slots=True)
class MendStep:
    """A cell to put right."""

    problem: Problem
    cost: int


Step = LookStep | ChangeStep | ReleaseStep | MendStep


@dataclass(frozen=True, slots=True)
class Way:
    """One way to go.

    Args:
        steps: what to do; all of them.
        cost: of all, in hundredths.
        verdict: with which the site was judged once all is done.
        ticks: how many things the crew then ticks.
    """

    steps: tuple[Step, ...]
    cost: int
    verdict: Verdict
    ticks: int

    @property
    def by_engineer(self) -> bool:
        """Whether an engineer has to release, to design or to accept something."""
        return any(map(_asks_engineer, self.steps))


def _asks_engineer(step: Step) -> bool:
    match step:
        case ReleaseStep():
            return step.by is ReleaseBy.ENGINEER
        case LookStep():
            return step.answer.by_engineer
        case ChangeStep():
            return any(one.by_engineer for one in (step.answer, *step.opens))
        case MendStep():
            return False


@dataclass(frozen=True, slots=True)
class Stuck:
    """What holds a site up, whatever is answered, changed or released.

    Args:
        code: of the rule; empty where it is none.
        place: where.
        say, do: the finding's own words.
        seen: the answers that it rests on, as printed, with their cells.
    """

    code: str
    place: str
    say: str
    do: str
    seen: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ways:
    """The ways to go of one site.

    Args:
        name: of the survey.
        verdict: as it is.
        passed: the crew's first day, if it has passed, so that the site does not go as it is.
        disagreement: what the two evaluators said differently of the site as it is, a fault of the
            program; then no way is looked for.
        ways: cheapest first.
        all_told: whether there are no others, among the answers that were tried.
        cheapest: whether the first is the cheapest, among the answers that were tried; else it is
            only sure that nothing can be left out of it.
        without_engineer: whether there is a way without a release, design or letter of an
            engineer, among the answers that were tried; none if that was not found out.
        stuck: what nothing that we may do turns; the ways, if there are some, turn all the rest.
        currency: of the costs.
        uncosted: the sorts of steps that the book sets no cost for.
        unconfirmed: ways that were found and that a full check did not confirm: faults of the
            program, told and left out.
        judgements: how often the site was judged.
    """

    name: str
    verdict: Verdict
    passed: dt.date | None
    disagreement: tuple[str, ...]
    ways: tuple[Way, ...]
    all_told: bool
    cheapest: bool
    without_engineer: bool | None
    stuck: tuple[Stuck, ...]
    currency: str
    uncosted: tuple[str, ...]
    unconfirmed: tuple[str, ...]
    judgements: int

    @property
    def may_go(self) -> bool:
        """Whether the site goes, or a way leads there."""
        return self.goes_as_it_is or (bool(self.ways) and not self.stuck)

    @property
    def goes_as_it_is(self) -> bool:
        """Whether nothing is to be done."""
        return self.verdict.may_start and self.passed is None


def ways_to_go(  # noqa: PLR0917
    survey: Survey,
    problems: Iterable[Problem],
    book: RuleBook,
    today: dt.date,
    most: int = 5,
    effort: Effort = EFFORT,
) -> Ways:
    """Find the smallest sets of things to do after which a site may go, cheapest first.

    Args:
        survey: the site as it is.
        problems: its cells to put right.
        book: the rules, with what steps cost.
        today: no crew is sent on an earlier day.
        most: how many ways.
        effort: how much is tried before it stops.
    """
    unread = tuple(problems)
    before = assess(survey, unread, book)
    passed = _passed(survey, today)
    if before.disagreement or (before.verdict.may_start and passed is None):
        return Ways(
            survey.name, before.verdict, passed, before.disagreement, (), True, True, True, (), "",
            (), (), 0,
        )  # fmt: skip
    return _Finder(before, book, today, effort).ways(most)


def _passed(survey: Survey, today: dt.date) -> dt.date | None:
    first = survey.site.value("crew date")
    return first if isinstance(first, dt.date) and first < today else None


class _Finder:
    def __init__(self, before: Assessment, book: RuleBook, today: dt.date, effort: Effort) -> None:
        survey, self._before, self._book = before.survey, before, book
        self._passed = _passed(survey, today)
        ends = (before.plan.earliest.day, before.plan.latest.day)
        values = Values(survey, book, today, tuple(day for day in ends if day is not None))
        self._touching = Touching(survey, before.problems, book, values)
        self._pricing = Pricing(self._touching)
        self._judge = Judge(self._touching)
        self._effort = effort
        self._kept: dict[frozenset[tuple[Touched, Value]], _Blocks] = {}
        self._unconfirmed: list[str] = []

    def ways(self, most: int) -> Ways:
        stuck: tuple[Block, ...] = ()
        while True:
            held = frozenset(map(_place, stuck))
            search = self._search(held, self._effort)
            one = search.some()
            more = () if one.good or not one.all_told else self._stuck(one, held)
            if not more:
                break
            stuck += more
        found = one if one.all_told else search.run(most)
        good = found.good or one.good
        told = (self._way(each, search, held) for each in good)
        ways = tuple(way for way in told if way is not None)
        return Ways(
            self._before.survey.name, self._before.verdict, self._passed, (), ways, found.all_told,
            bool(found.good), self._without_engineer(ways, held), tuple(self._told_stuck(stuck)),
            self._pricing.currency, self._pricing.uncosted(good), tuple(self._unconfirmed),
            len(self._kept),
        )  # fmt: skip

    def _without_engineer(self, ways: tuple[Way, ...], held: frozenset[Place]) -> bool | None:
        """Whether there is a way without an engineer; none if that can't be told."""
        if not ways or not all(way.by_engineer for way in ways):
            return bool(ways) or None
        found = self._search(held, self._effort, engineer=False).some()
        return True if found.good else False if found.all_told else None

    def _search(
        self, held: frozenset[Place], effort: Effort, *, engineer: bool = True
    ) -> Search[Touched, Touched, Value]:
        """A search for what turns all that holds the site up, but for what is held anyway."""
        touching, pricing = self._touching, self._pricing

        def judge(choices: Choices) -> set[frozenset[Touched]]:
            return {
                rests_on
                for place, rests_on in self._blocks(choices)
                if place not in held and not (held and place[0] == _DAYS)
            }

        def candidates(touched: Touched) -> tuple[Value, ...]:
            values = touching.candidates(touched)
            if engineer or isinstance(touched, Mend):
                return values
            if isinstance(touched, Release):
                return () if self._by_engineer(touched) else values
            papers = BY_ENGINEER.get(touched.word, frozenset())
            return tuple(value for value in values if value not in papers)

        return Search(
            Puzzle(judge, candidates, touching.step, pricing.of_step, pricing.of_all), effort
        )

    def _by_engineer(self, release: Release) -> bool:
        return self._touching.rules[release.code].release is ReleaseBy.ENGINEER

    def _blocks(self, choices: Choices) -> _Blocks:
        key = frozenset(choices.items())
        if key not in self._kept:
            blocks = self._judge.judged(choices).blocks
            self._kept[key] = tuple((_place(block), block.rests_on) for block in blocks)
        return self._kept[key]

    # What nothing turns

    def _stuck(
        self, found: Found[Touched, Touched, Value], held: frozenset[Place]
    ) -> tuple[Block, ...]:
        """Blocks of the site as it is that nothing turns: each by itself, or as few as may be.

        Args:
            found: a search that came to nothing, and what it came to grief by.
            held: the blocks that are known to be stuck.
        """
        every = {_place(block): block for block in self._judge.judged({}).blocks}
        ordered = sorted(
            (p for p, one in every.items() if p not in held and one.rests_on <= found.against),
            key=lambda place: (len(every[place].rests_on), place),
        )[:_MOST_ALONE]
        near = set(ordered)

        def turned(places: set[Place]) -> bool:
            """Whether some of the blocks can be turned, or it can't be told; all others left."""
            alone = self._search(frozenset(every.keys() - places), _ALONE).some()
            return bool(alone.good) or not alone.all_told

        stuck = [place for place in ordered if not turned({place})]
        if not stuck and near and not turned(near):
            for place in ordered:
                if len(near) > 1 and not turned(near - {place}):
                    near.remove(place)
            stuck = [place for place in ordered if place in near]
        return tuple(every[place] for place in stuck)

    def _told_stuck(self, blocks: Iterable[Block]) -> Iterator[Stuck]:
        for block in blocks:
            what = block.what
            if not isinstance(what, Told):
                yield Stuck("", "site", str(what), "", ())
                continue
            code, place = _place(block)
            finding = next(
                f for f in self._before.findings if (f.rule.code, f.place) == (code, place)
            )
            yield Stuck(code, place, finding.say, finding.do, tuple(_seen(finding, self._book)))

    # What a way says

    def _way(
        self, good: Good[Touched, Touched, Value], search: Search[Touched, Touched, Value],
        held: frozenset[Place],
    ) -> Way | None:  # fmt: skip
        """A way to go, proved by a full check; none if that does not confirm it."""
        survey, problems = self._touching.touched(good.choices)
        after = assess(survey, problems, self._book)
        left = {(f.rule.code, f.place) for f in after.findings if f.counts and f.outcome in _HOLDS}
        proved = after.verdict.may_start if not held else left <= held and not after.problems
        if after.disagreement or not proved:
            self._unconfirmed.append(", ".join(sorted(map(str, good.steps))))
            return None
        # What is held anyway may come out otherwise with other answers, so none is said to do.
        steps = tuple(
            self._step(step, good, search, survey, told_all=not held)
            for step in sorted(good.steps, key=self._reading_order)
        )
        conditions = {
            f.rule.code for f in after.findings if f.counts and f.outcome is Outcome.CONDITION
        }
        kept_to = {(f.rule.code, one.note) for f in after.findings for one in f.releases}
        ticks = len(conditions) + len(kept_to)
        return Way(steps, self._pricing.of_all(good.steps), after.verdict, ticks)

    def _reading_order(self, step: Touched) -> tuple[int, int, str]:
        """Looking first, then changes, then releases; in the order of the form."""
        if isinstance(step, Mend):
            return 0, 0, step.where
        if isinstance(step, Release):
            return 3, 0, step.code
        word = self._book.vocabulary[step.word]
        return (
            1 + (not self._is_question(step)),
            self._book.vocabulary.words.index(word),
            step.label,
        )

    def _is_question(self, cell: Cell) -> bool:
        word, value = self._pricing.answer(cell)
        return value is NOT_KNOWN or word.origin is Origin.SEEN

    def _step(
        self, step: Touched, good: Good[Touched, Touched, Value],
        search: Search[Touched, Touched, Value], survey: Survey, *, told_all: bool,
    ) -> Step:  # fmt: skip
        cost = self._pricing.of_step(step)
        if isinstance(step, Mend):
            problem = next(p for p in self._touching.problems if p.where == step.where)
            return MendStep(problem, cost)
        if isinstance(step, Release):
            rule, site = self._touching.rules[step.code], survey.site
            first, last = site.value("crew date"), site.value("last crew date")
            given = self._touching.release_date(site)
            assert isinstance(given, dt.date), "a release is dated"
            assert isinstance(first, dt.date), "a release holds over known days"
            assert isinstance(last, dt.date), "a release holds over known days"
            places = [one.place for one in good.choices if isinstance(one, Release)
                      and one.code == step.code]  # fmt: skip
            return ReleaseStep(
                step.code, rule.name, tuple(sorted(places)), rule.release, given, first, last, cost
            )
        touched = [
            one for one in good.choices
            if isinstance(one, Cell) and self._touching.step(one) == step
        ]  # fmt: skip
        if self._is_question(step):
            word, _ = self._pricing.answer(step)
            said = self._answered(step, good.choices, search, every=told_all)
            on_site = word.origin is Origin.SEEN and word.name not in WEATHER
            return LookStep(said, on_site, cost)
        opens = sorted((one for one in touched if one != step), key=self._reading_order)
        return ChangeStep(
            self._answered(step, good.choices, search, every=False),
            tuple(self._answered(one, good.choices, search, every=False) for one in opens),
            tuple(self._emptied(step, survey)),
            cost,
        )

    def _hangs_on(self, name: str, governing: str) -> bool:
        """Whether a question is asked by what another one was answered, through others or not."""
        asks_when = self._book.vocabulary[name].asks_when
        return asks_when is not None and (
            asks_when.word == governing or self._hangs_on(asks_when.word, governing)
        )

    def _emptied(self, step: Cell, survey: Survey) -> Iterator[str]:
        """What no longer applies once a choice is changed, and has to be left blank."""
        word, _ = self._pricing.answer(step)
        before = self._touching.rows[word.subject, step.label]
        (after,) = (row for row in survey.rows(word.subject) if row.label == step.label)
        for name, answer in before.answers.items():
            known = answer.value not in (NOT_KNOWN, DOES_NOT_APPLY)
            if known and after.value(name) is DOES_NOT_APPLY and self._hangs_on(name, step.word):
                yield f"{name} of {step.label} ({answer.where})"

    def _answered(
        self, cell: Cell, choices: Choices, search: Search[Touched, Touched, Value], *, every: bool
    ) -> Answered:
        """An answer of a way, with all others that would do as well, if every one is asked for."""
        word, was = self._pricing.answer(cell)
        if self._touching.told_anew(cell):
            was = NOT_KNOWN
        row = self._touching.rows[word.subject, cell.label]
        chosen = choices.get(cell, was)
        said = Answered(
            cell.word, cell.label, row.answers[cell.word].where, _shown(word, was),
            _shown(word, chosen), by_engineer=chosen in BY_ENGINEER.get(cell.word, ()),
        )  # fmt: skip
        if not every or word.kind is Kind.TEXT:
            return said
        tried: dict[Value, bool] = {}

        def goes(value: Value) -> bool | None:
            if value not in tried:
                found = search.goes({**choices, cell: value})
                if found is None:
                    return None
                tried[value] = found
            return tried[value]

        for value in (chosen, *self._touching.candidates(cell)):
            goes(value)
        if word.measured or word.kind in (Kind.COUNT, Kind.DATE):
            _narrow(word, tried, goes)
            stretches = list(_stretches(word, tried))
            return replace(
                said,
                goes=tuple(text for text, good in stretches if good),
                stays=tuple(text for text, good in stretches if not good),
            )
        papers, does = BY_ENGINEER.get(cell.word, ()), [v for v, good in tried.items() if good]
        return replace(
            said,
            by_engineer=all(value in papers for value in does or (chosen,)),
            goes=tuple(_shown(word, value) for value in does),
            stays=tuple(_shown(word, value) for value, good in tried.items() if not good),
        )


def _narrow(word: Word, tried: Mapping[Value, bool], goes: object) -> None:
    """Try figures between one that goes and one that does not, so that the turn is told closely."""
    assert callable(goes)
    for _ in range(_HALVINGS):
        ordered = sorted(tried, key=_order)
        between = [
            halfway(word, one, other)
            for one, other in itertools.pairwise(ordered)
            if tried[one] is not tried[other]
        ]
        fresh = [value for value in between if value is not None and value not in tried]
        if not fresh:
            return
        for value in fresh:
            goes(value)


def _order(value: Value) -> float:
    return float(value.toordinal()) if isinstance(value, dt.date) else float(str(value))


def _stretches(word: Word, tried: Mapping[Value, bool]) -> Iterator[tuple[str, bool]]:
    """The figures that were tried, those side by side that do alike together."""
    ordered = sorted(tried, key=_order)
    for good, run in itertools.groupby(ordered, key=tried.__getitem__):
        values = list(run)
        first, last = (_shown(word, value) for value in (values[0], values[-1]))
        if len(values) == len(ordered):
            yield "any that was tried", good
        elif values[0] == ordered[0]:
            yield f"{last} or {'earlier' if word.kind is Kind.DATE else 'less'}", good
        elif values[-1] == ordered[-1]:
            yield f"{first} or {'later' if word.kind is Kind.DATE else 'more'}", good
        else:
            yield first if len(values) == 1 else f"{first} to {last}", good


def _shown(word: Word, value: Value) -> str:
    return "any that says something" if (
        word.kind is Kind.TEXT and value not in (NOT_KNOWN, DOES_NOT_APPLY)
    ) else shown(word, fact_value(word, value))  # fmt: skip


def _place(block: Block) -> Place:
    what = block.what
    if isinstance(what, Told):
        return what.rule.code, what.thing.label if what.thing.listed else "site"
    if isinstance(what, Passed):
        return _PASSED, str(what)
    return "" if isinstance(what, Problem) else _DAYS, str(what)


def _seen(finding: Finding, book: RuleBook) -> Iterator[str]:
    """The answers behind a finding that are known, as printed."""
    told: dict[str, None] = {}
    for reason in finding.reasons:
        for given in reason.inputs:
            value = given.answer.value
            if value not in (NOT_KNOWN, DOES_NOT_APPLY):
                word = book.vocabulary[given.word]
                answer = f"{given.word} of {given.label} ({given.answer.where})"
                told[f"{answer}: {shown(word, fact_value(word, value))}"] = None
    return iter(told)
