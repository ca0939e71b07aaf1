"""What steps cost, by the rules text."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from survey.assessment.ways.search import Good
from survey.assessment.ways.touching import Mend, Release, Touched, Touching
from survey.assessment.why_turned import WEATHER
from survey.model import Value
from survey.rulebook import costs
from survey.rulebook.rules import Cost, ReleaseBy
from survey.vocabulary import NOT_KNOWN, Origin, Word


@dataclass(frozen=True)
class Pricing:
    """Tells what steps on a site cost, in hundredths; a step that no cost is set for is free.

    Args:
        touching: the site.
    """

    touching: Touching

    @cached_property
    def currency(self) -> str:
        """That of every cost; empty if the book has none."""
        return next((cost.currency for cost in self.touching.book.costs.values()), "")

    @cached_property
    def _kept(self) -> dict[Touched, tuple[int, str]]:
        """Of each step asked for, what it costs and its sort."""
        return {}

    def of_step(self, step: Touched) -> int:
        """A step by itself."""
        if step not in self._kept:
            self._kept[step] = self._known(*self._names(step)), self._sort(step)
        return self._kept[step][0]

    def of_all(self, steps: frozenset[Touched]) -> int:
        """A set of steps, with what is paid once for all of them."""
        alone = sum(map(self.of_step, steps))
        sorts = {self._kept[step][1] for step in steps}
        once = [
            name
            for sort, name in ((costs.ON_SITE, costs.VISIT), (costs.BY_ENGINEER, costs.CALL))
            if sort in sorts
        ]
        return alone + sum(map(self._known, once))

    def uncosted(self, found: Iterable[Good[Touched, Touched, Value]]) -> tuple[str, ...]:
        """The sorts of steps found that the book sets no cost for."""
        steps = [step for good in found for step in good.steps]
        sorts = (self._sort(step) for step in steps if self._cost(*self._names(step)) is None)
        return tuple(dict.fromkeys(sorts))

    def answer(self, cell: Touched) -> tuple[Word, Value]:
        """The question of a cell, and its answer as it is."""
        assert not isinstance(cell, (Release, Mend))
        word = self.touching.book.vocabulary[cell.word]
        found = self.touching.rows[word.subject, cell.label].answers.get(cell.word)
        return word, NOT_KNOWN if found is None else found.value

    def _known(self, *names: str) -> int:
        cost = self._cost(*names)
        return 0 if cost is None else cost.hundredths

    def _cost(self, *names: str) -> Cost | None:
        return costs.cost_of(self.touching.book.costs, *names)

    def _names(self, step: Touched) -> tuple[str, ...]:
        sort = self._sort(step)
        return (sort,) if isinstance(step, (Release, Mend)) else (step.word, sort)

    def _sort(self, step: Touched) -> str:
        if isinstance(step, Mend):
            return costs.MENDED
        if isinstance(step, Release):
            by_engineer = self.touching.rules[step.code].release is ReleaseBy.ENGINEER
            return costs.BY_ENGINEER if by_engineer else costs.BY_COMPETENT_PERSON
        word, value = self.answer(step)
        if word.name in WEATHER:
            return costs.IN_OFFICE  # nobody drives out to see a forecast
        if word.origin is Origin.SEEN:
            return costs.ON_SITE
        return costs.IN_OFFICE if value is NOT_KNOWN else costs.CHOICE
