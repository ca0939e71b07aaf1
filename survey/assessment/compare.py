"""What another rule book would have done to sites that were surveyed before.

``compare`` judges every survey by two books and keeps what differs; ``say`` tells it in plain
text. Both are pure: a thousand surveys may be given one after another.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from textwrap import wrap

from survey.assessment.assessment import Assessment, assess
from survey.assessment.decision import Verdict
from survey.assessment.findings import Finding
from survey.errors import Problem
from survey.model import Survey
from survey.rulebook.rules import Conclusion, Outcome, Rule, RuleBook
from survey.vocabulary import tidy

_NOTHING, _OPEN, _LIFTED = "nothing", "can't be told", "released"
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
        name: of its survey.
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
    def changed(self) -> bool:
        """Whether anything is another: the verdict, that of a pier, or what a rule gives."""
        return (
            self.verdict_changed
            or any(pier.before is not pier.after for pier in self.piers)
            or bool(self.shifts)
        )


@dataclass(frozen=True, slots=True)
class Comparison:
    """Every site by two books, in the order given."""

    sites: tuple[SiteComparison, ...]


def compare(
    surveys: Iterable[tuple[Survey, Sequence[Problem]]], before: RuleBook, after: RuleBook
) -> Comparison:
    """Judge every survey by both books.

    Args:
        surveys: each with its cells to put right, read with a vocabulary that has the own
            questions of both books.
        before: the book that the surveys were judged by.
        after: the book that they might be judged by.
    """
    names = {rule.code: rule.name for book in (before, after) for rule in book}
    return Comparison(
        tuple(
            _site(assess(survey, problems, before), assess(survey, problems, after), names)
            for survey, problems in surveys
        )
    )


def _site(before: Assessment, after: Assessment, names: Mapping[str, str]) -> SiteComparison:
    piers = tuple(
        PierVerdict(one.label, one.verdict, other.verdict)
        for one, other in zip(before.piers, after.piers, strict=True)
    )
    return SiteComparison(
        before.survey.name, before.verdict, after.verdict, piers,
        tuple(_shifts(_given(before), _given(after), names)),
        bool(before.disagreement or after.disagreement),
    )  # fmt: skip


def _given(assessment: Assessment) -> Mapping[tuple[str, str], str]:
    """What every rule gives at every place where it gives something."""
    return {
        **{(f.rule.code, f.place): _by(f) for f in assessment.findings},
        **{(c.rule.code, c.place): _concluded(c.rule) for c in assessment.chained},
    }


def _by(finding: Finding) -> str:
    if not finding.counts:
        return _LIFTED
    asks = finding.rule.then is Outcome.ASK and not finding.settles
    return _OPEN if finding.outcome is Outcome.ASK and not asks else finding.outcome.value


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
    sites = comparison.sites
    verdicts = [site for site in sites if site.verdict_changed]
    details = [site for site in sites if site.changed and not site.verdict_changed]
    same = [site.name for site in sites if not site.changed]
    faults = [site.name for site in sites if site.disagreement]
    lines = [
        f"{_count(len(sites), 'site')} compared. Another verdict: {len(verdicts)}. "
        f"Same verdict, other findings: {len(details)}. No change: {len(same)}."
    ]
    if faults:
        lines += _wrapped(
            "The program's two evaluators disagree at: " + ", ".join(map(tidy, faults)) + ". That "
            "is a fault of the program; nothing that is said of these sites may be relied on."
        )
    for title, changed in (("Another verdict", verdicts), ("Other findings", details)):
        if changed:
            lines += ["", title, *(line for site in changed for line in _told(site))]
    if any(site.shifts for site in sites):
        lines += ["", "By rule", *_by_rule(sites)]
    if same:
        lines += ["", *_wrapped(f"No change: {', '.join(map(tidy, same))}")]
    return "\n".join(lines)


def _told(site: SiteComparison) -> Iterator[str]:
    before = f"{site.before.value} -> " if site.verdict_changed else ""
    yield from _wrapped(f"{tidy(site.name)}: {before}{site.after.value}", "  ")
    shifted: dict[tuple[Verdict, Verdict], list[str]] = {}
    for pier in site.piers:
        if pier.before is not pier.after:
            shifted.setdefault((pier.before, pier.after), []).append(pier.label)
    for (one, other), labels in shifted.items():
        yield from _wrapped(f"{_places(labels)}: {one.value} -> {other.value}", "    ")
    for shift in site.shifts:
        given = f"{shift.before} -> {shift.after}, at {_places(shift.places)}"
        yield from _wrapped(f"{shift.code} {shift.name}: {given}", "    ")


def _by_rule(sites: Iterable[SiteComparison]) -> Iterator[str]:
    """Each rule that gives something else, with the sites where it does; most sites first."""
    changed: dict[tuple[str, str], dict[str, None]] = {}
    for site in sites:
        for shift in site.shifts:
            changed.setdefault((shift.code, shift.name), {})[tidy(site.name)] = None
    for (code, name), named in sorted(changed.items(), key=lambda one: (-len(one[1]), one[0])):
        where = f"{_count(len(named), 'site')} ({', '.join(named)})"
        yield from _wrapped(f"{code} {name}: {where}", "  ")


def _places(labels: Sequence[str]) -> str:
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
