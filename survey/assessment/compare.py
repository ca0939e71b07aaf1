"""What another rule book would have done to sites that were surveyed before.

``compare_site`` judges a survey by two books and keeps what differs; ``say`` tells it of many in
plain text. Both are pure.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from textwrap import wrap

from survey.assessment.assessment import Assessment, assess
from survey.assessment.decision import Verdict, worse
from survey.assessment.findings import Finding
from survey.errors import Problem
from survey.model import Survey
from survey.rulebook.rules import Conclusion, Outcome, Rule, RuleBook
from survey.vocabulary import tidy

CANNOT_TELL = "can't be told"
_NOTHING, _LIFTED = "nothing", "released"
DISAGREE = "The program's two evaluators disagree at"
FAULT = "That is a fault of the program; nothing that is said of these sites may be relied on."
_WIDEST = 100
_MOST_PLACES = 8


@dataclass(frozen=True, slots=True)
class PierVerdict:
    """The verdict for one pier location by each book."""

    label: str
    before: Verdict
    after: Verdict


@dataclass(frozen=True, slots=True)
class Shift:
    """What a rule gives by each book, at the places of a site where the two differ.

    Args:
        code, name: of the rule; its name in the later book, if it is there.
        before, after: ``nothing``, an outcome such as ``stop``, ``can't be told``,
            ``released``, or what it concludes.
        places: labels of the things that it is judged for.
    """

    code: str
    name: str
    before: str
    after: str
    places: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SiteComparison:
    """One site by two books.

    Args:
        name: of its survey, unlike that of any other.
        before, after: the verdict for the site.
        piers: every pier location, in the order of the form.
        shifts: what rules give differently, in the order of the findings.
        disagreement: whether the evaluators disagree by either book, so that its verdict is a
            fault of the program.
    """

    name: str
    before: Verdict
    after: Verdict
    piers: tuple[PierVerdict, ...]
    shifts: tuple[Shift, ...]
    disagreement: bool

    @property
    def verdict_changed(self) -> bool:
        """Whether the verdict of the site is another one."""
        return self.before is not self.after

    @property
    def looser(self) -> bool:
        """Whether the verdict of the site would be a better one."""
        return self.verdict_changed and worse(self.before, self.after) is self.before

    @property
    def let_go(self) -> bool:
        """Whether the crew could start by the later book only."""
        return self.after.may_start and not self.before.may_start

    @property
    def changed(self) -> bool:
        """Whether anything is another: the verdict, that of a pier, or what a rule gives."""
        return (
            self.verdict_changed
            or any(pier.before is not pier.after for pier in self.piers)
            or bool(self.shifts)
        )


@dataclass(frozen=True, slots=True)
class RuleChange:
    """A rule that gives something else at some sites: how many places there are at each."""

    code: str
    name: str
    places_at: Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Comparison:
    """Every site by two books, in the order given."""

    sites: tuple[SiteComparison, ...]

    @property
    def other_verdict(self) -> tuple[SiteComparison, ...]:
        """The sites whose verdict is another one."""
        return tuple(site for site in self.sites if site.verdict_changed)

    @property
    def other_findings(self) -> tuple[SiteComparison, ...]:
        """The sites with the same verdict, where something else is another."""
        return tuple(site for site in self.sites if site.changed and not site.verdict_changed)

    @property
    def unchanged(self) -> tuple[SiteComparison, ...]:
        """The sites where nothing is another."""
        return tuple(site for site in self.sites if not site.changed)

    @property
    def disagreements(self) -> tuple[SiteComparison, ...]:
        """The sites of which nothing that is said may be relied on."""
        return tuple(site for site in self.sites if site.disagreement)

    @property
    def by_rule(self) -> tuple[RuleChange, ...]:
        """Each rule that gives something else, most sites first."""
        changed: dict[tuple[str, str], Counter[str]] = {}
        for site in self.sites:
            for shift in site.shifts:
                places = changed.setdefault((shift.code, shift.name), Counter())
                places[site.name] += len(shift.places)
        found = (RuleChange(*rule, places) for rule, places in changed.items())
        return tuple(sorted(found, key=lambda one: (-len(one.places_at), one.code)))


def compare_site(
    survey: Survey, problems: Sequence[Problem], before: RuleBook, after: RuleBook
) -> SiteComparison:
    """Judge a survey by both books.

    Args:
        survey: read with a vocabulary that has the own questions of both books.
        problems: its cells to put right.
        before: the book that it was judged by.
        after: the book that it might be judged by.
    """
    one, other = assess(survey, problems, before), assess(survey, problems, after)
    names = {rule.code: rule.name for book in (before, after) for rule in book}
    piers = tuple(
        PierVerdict(pier.label, pier.verdict, again.verdict)
        for pier, again in zip(one.piers, other.piers, strict=True)
    )
    return SiteComparison(
        survey.name, one.verdict, other.verdict, piers,
        tuple(_shifts(_given(one), _given(other), names)),
        bool(one.disagreement or other.disagreement),
    )  # fmt: skip


def shifts(before: Assessment, after: Assessment) -> Iterator[Shift]:
    """What the rules of one book give differently for one site, on other days or answers."""
    names = {rule.code: rule.name for rule in after.rules}
    return _shifts(_given(before), _given(after), names)


def _given(assessment: Assessment) -> Mapping[tuple[str, str], str]:
    """What every rule gives at every place where it gives something."""
    return {
        **{
            (f.rule.code, f.place): came_to(f) if f.counts else _LIFTED for f in assessment.findings
        },
        **{(c.rule.code, c.place): _concluded(c.rule) for c in assessment.chained},
    }


def came_to(finding: Finding) -> str:
    """What a rule came to at a place, released or not: an outcome, or that it can't be told."""
    asks = finding.rule.then is Outcome.ASK and not finding.settles
    return CANNOT_TELL if finding.outcome is Outcome.ASK and not asks else finding.outcome.value


def _concluded(rule: Rule) -> str:
    assert isinstance(rule.then, Conclusion)
    return f"{rule.then.word.name} counted as {rule.then.choice}"


def _shifts(
    before: Mapping[tuple[str, str], str],
    after: Mapping[tuple[str, str], str],
    names: Mapping[str, str],
) -> Iterator[Shift]:
    """What differs, for each rule and way of differing once."""
    alike: dict[tuple[str, str, str], list[str]] = {}
    for code, place in {**after, **before}:
        one, other = (given.get((code, place), _NOTHING) for given in (before, after))
        if one != other:
            alike.setdefault((code, one, other), []).append(place)
    for (code, one, other), places in alike.items():
        yield Shift(code, names[code], one, other, tuple(places))


def say(comparison: Comparison) -> str:
    """The comparison in plain text, in lines of at most 100 characters."""
    lines = [in_short(comparison)]
    if faults := comparison.disagreements:
        lines += _wrapped(f"{DISAGREE}: {', '.join(tidy(site.name) for site in faults)}. {FAULT}")
    for title, changed in (
        ("Another verdict", comparison.other_verdict),
        ("Other findings", comparison.other_findings),
    ):
        if changed:
            lines += ["", title, *(line for site in changed for line in _told(site))]
    if comparison.by_rule:
        lines += ["", "By rule", *_by_rule(comparison)]
    if same := comparison.unchanged:
        lines += ["", *_wrapped(f"No change: {', '.join(tidy(site.name) for site in same)}")]
    return "\n".join(lines)


def in_short(comparison: Comparison) -> str:
    """How many sites came out how, in a line."""
    return (
        f"{_count(len(comparison.sites), 'site')} compared. "
        f"Another verdict: {len(comparison.other_verdict)}. "
        f"Same verdict, other findings: {len(comparison.other_findings)}. "
        f"No change: {len(comparison.unchanged)}."
    )


def _told(site: SiteComparison) -> Iterator[str]:
    before = f"{site.before.value} -> " if site.verdict_changed else ""
    yield from _wrapped(f"{tidy(site.name)}: {before}{site.after.value}", "  ")
    shifted: dict[tuple[Verdict, Verdict], list[str]] = {}
    for pier in site.piers:
        if pier.before is not pier.after:
            shifted.setdefault((pier.before, pier.after), []).append(pier.label)
    for (one, other), labels in shifted.items():
        yield from _wrapped(f"{some_places(labels)}: {one.value} -> {other.value}", "    ")
    for shift in site.shifts:
        given = f"{shift.before} -> {shift.after}, at {some_places(shift.places)}"
        yield from _wrapped(f"{shift.code} {shift.name}: {given}", "    ")


def _by_rule(comparison: Comparison) -> Iterator[str]:
    """Each rule that gives something else, with the sites where it does; most sites first."""
    for rule in comparison.by_rule:
        sites = ", ".join(map(tidy, rule.places_at))
        where = f"{_count(len(rule.places_at), 'site')} ({sites})"
        yield from _wrapped(f"{rule.code} {rule.name}: {where}", "  ")


def some_places(labels: Sequence[str]) -> str:
    """The first labels, and how many more there are."""
    shown = ", ".join(tidy(label) for label in labels[:_MOST_PLACES])
    more = len(labels) - _MOST_PLACES
    return f"{shown} and {more} more" if more > 0 else shown


def _count(number: int, one: str) -> str:
    return f"{number} {one}" if number == 1 else f"{number} {one}s"


def _wrapped(text: str, indent: str = "") -> list[str]:
    return wrap(
        text, _WIDEST, initial_indent=indent, subsequent_indent=f"{indent}    ",
        break_on_hyphens=False,
    )  # fmt: skip
