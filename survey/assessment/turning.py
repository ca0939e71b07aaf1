"""What of a judgement can turn with the days of the crew, found without judging everything anew.

Of the figures, only some of the site and of its neighbours rest on those days. A rule that looks at
none of them, nor at a conclusion that rests on them, gives the same on every day.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from survey.assessment.planning import pit_order, too_few_days
from survey.assessment.releases import Named, hold_against, hold_standing, what_is_named
from survey.facts import Fact, Facts, Thing, gather
from survey.model import Survey
from survey.quantities import work_out
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.rules import Conclusion, Lift, Outcome, Rule, RuleBook, comparisons
from survey.vocabulary import Missing, Origin, Subject

CREW_DAYS = frozenset({"crew date", "last crew date"})
# The things of which a figure can rest on the crew's days.
WITH_DAYS = (Subject.SITE, Subject.NEIGHBOUR)


@dataclass(frozen=True, slots=True)
class Turning:
    """Tells what a day gives, so far as days differ.

    Args:
        book: the rules.
        facts: of the survey on any one of the days.
        words: those that can be others on other days.
        rules: those that can give another outcome, or lift another finding.
        named: what each release of the survey names.
        work: days of work of the plan.
    """

    book: RuleBook
    facts: Facts = field(repr=False)
    words: frozenset[str]
    rules: tuple[Rule, ...]
    named: tuple[Named, ...]
    work: float | Missing

    @classmethod
    def of_survey(cls, survey: Survey, book: RuleBook) -> Turning:
        """What turns from day to day.

        Args:
            survey: moved to any day but the form's own.
            book: the rules.
        """
        wanted = book.subjects
        facts = gather(survey, work_out(survey, wanted), book.vocabulary, wanted)
        words = _words(facts, book)
        rules = tuple(
            rule
            for rule in book
            if isinstance(rule.then, Outcome | Lift) and looks_at(rule) & words
        )
        named = what_is_named(survey, book, facts)
        return cls(book, facts, words, rules, named, pit_order(facts, book).days)

    def of(self, survey: Survey) -> Hashable:
        """The same for the survey on two days, only if verdict and findings are the same on both.

        Args:
            survey: moved to one of the days.
        """
        facts = self._on_the_day(survey)
        evaluator = DirectEvaluator(self.book, facts)
        told = tuple(
            (one.truth, tuple(given[:2] for reason in one.reasons for given in reason.missing))
            for rule in self.rules
            for thing in facts.of(rule.subject)
            for one in (evaluator.told(rule, thing),)
        )
        held = tuple(
            not hold_against(one.row, one.rule, survey).refused
            for one in self.named
            if one.rule is not None
        )
        standing = tuple(
            not hold_standing(rule, rule.then, survey.site).refused
            for rule in self.book
            if isinstance(rule.then, Lift)
        )
        return told, held, standing, any(too_few_days(survey, self.work))

    def _on_the_day(self, survey: Survey) -> Facts:
        """The facts, with those that turn as they are on the day."""
        bare = replace(survey, walls=(), piers=(), utilities=(), soil_layers=())
        on_the_day = {
            (thing.subject, thing.label): {
                name: fact for name, fact in thing.facts.items() if name in self.words
            }
            for thing in gather(bare, work_out(bare), self.book.vocabulary).things
            if thing.subject in WITH_DAYS
        }
        return Facts(tuple(_with(self.facts, on_the_day)))


def _words(facts: Facts, book: RuleBook) -> frozenset[str]:
    """The answers, figures and conclusions that rest on the crew's days."""
    turned = set(CREW_DAYS)
    for subject in WITH_DAYS:
        for thing in facts.of(subject):
            turned |= {name for name, fact in thing.facts.items() if rests_on_days(fact)}
    turned |= {word.name for word in book.vocabulary.words if word.starts_from in turned}
    for rule in book:  # in the order in which they chain
        if isinstance(rule.then, Conclusion) and looks_at(rule) & turned:
            turned.add(rule.then.word.name)
    return frozenset(turned)


def rests_on_days(fact: Fact) -> bool:
    """Whether one of the crew's days is behind a fact."""
    return any(given.word in CREW_DAYS for given in fact.inputs)


def _with(facts: Facts, anew: Mapping[tuple[Subject, str], Mapping[str, Fact]]) -> Iterator[Thing]:
    """The same things, some with other facts; what stands for a part of another comes first."""
    made: dict[int, Thing] = {}
    for thing in facts.things:
        found = replace(
            thing,
            facts={**thing.facts, **anew.get((thing.subject, thing.label), {})},
            parts={subject: made.get(id(part), part) for subject, part in thing.parts.items()},
        )
        made[id(thing)] = found
        yield found


def looks_at(rule: Rule) -> frozenset[str]:
    """The words that a rule is judged on."""
    return frozenset(
        word.itself.name for clause in comparisons(rule.condition) for word in clause.words
    )


def behind(rule: Rule, book: RuleBook) -> frozenset[str]:
    """The words that a rule is judged on, and those behind the conclusions among them."""
    found: set[str] = set()
    waiting = [rule]
    while waiting:
        for name in looks_at(waiting.pop()) - found:
            found.add(name)
            word = book.vocabulary[name]
            if word.origin is Origin.CONCLUDED:
                waiting += book.concluding(word)
                if word.starts_from:
                    found.add(word.starts_from)
    return frozenset(found)
