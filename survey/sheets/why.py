"""Why: what made each finding, what would settle the open ones, what the rules concluded first.

Places of which the same is said stand together, with the cells of all of them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from survey.assessment import Assessment, Chained, Finding
from survey.assessment.settling import MORE, Settler, Settles, Settling
from survey.rulebook.direct import Reason
from survey.rulebook.rules import Conclusion, Count, Outcome, Rule
from survey.rulebook.rules import clauses as clauses_of
from survey.sheets._grouping import by_key, subject_of
from survey.sheets._places import Places, in_cells
from survey.sheets._workings import in_brief
from survey.vocabulary import CLOSED_BY, Origin, Vocabulary

_MOST_NAMED = 4


@dataclass(frozen=True, slots=True)
class Clause:
    """A clause, and what was found for each word that it looks at."""

    clause: str
    found: tuple[Found, ...]


@dataclass(frozen=True, slots=True)
class Found:
    """What was found, why it is not known, the rules and the cells behind it."""

    text: str
    why: str
    by: str
    answers: str


@dataclass(frozen=True, slots=True)
class Row:
    """What is behind a finding or a conclusion at the places where it is the same.

    Args:
        where: the places, in few words.
        clauses: those that made the rule met, or that are open and no answer on the form settles.
        settling: what would settle it, and to what; empty where it was told.
        answers: what each answer would do, where that is more than ``settling`` says.
    """

    where: str
    clauses: tuple[Clause, ...]
    settling: str = ""
    answers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Behind:
    """Why a rule was met, or could not be told, at one or many places."""

    rule: Rule
    outcome: Outcome
    released: bool
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Link:
    """A conclusion of the chain, and what looked at it.

    Args:
        concluded: such as ``cave-in protection counts as needed``.
        used_by: codes of the rules that it made conclude something, or find something.
    """

    rule: Rule
    concluded: str
    used_by: tuple[str, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Why:
    """All that the section prints.

    Args:
        judged: how often the site was judged, and what each evaluator said.
        disagreement: what they said differently.
    """

    findings: tuple[Behind, ...]
    chain: tuple[Link, ...]
    judged: str
    disagreement: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Site:
    """What the places and the findings of one site are called.

    Args:
        vocabulary: of its rule book, with a firm's own questions and the seats.
        cells: behind what was found, for all the rules that look at it.
    """

    places: Places
    vocabulary: Vocabulary
    settler: Settler
    cells: dict[tuple[tuple[str, int], ...], str] = field(default_factory=dict)


def why(assessment: Assessment, places: Places) -> Why:
    """Why the site was judged as it was."""
    site = _Site(places, assessment.settler.book.vocabulary, assessment.settler)
    return Why(
        tuple(_findings(assessment, site)),
        tuple(_chain(assessment, site)),
        _judged(assessment),
        assessment.disagreement,
    )


def _findings(assessment: Assessment, site: _Site) -> Iterator[Behind]:
    for same in by_key(assessment.findings, lambda f: (f.rule.code, f.outcome, f.counts)):
        first = same[0]
        untold = [finding for finding in same if site.settler.waits(finding)]
        told = [(f.place, f.reasons) for f in same if not site.settler.waits(f)]
        rows = (*_rows(told, first.rule, site), *_open_rows(untold, site))
        yield Behind(first.rule, first.outcome, not first.counts, rows)


# What was found at a place: the reasons by all that is printed of them but their cells.
_Key = tuple[str, str, str, tuple[str, ...]]
_At = dict[_Key, list[Reason]]


def _rows(
    found: Iterable[tuple[str, tuple[Reason, ...]]], rule: Rule, site: _Site
) -> Iterator[Row]:
    """The clauses at each place: those that are the same at all first, then those that differ."""
    told = [(place, _at(place, reasons, site)) for place, reasons in found]
    alike = by_key(told, lambda one: tuple(one[1]))
    everywhere = _everywhere([at for _, at in told]) if len(alike) > 1 else []
    for same, keys in ((told, everywhere), *((same, same[0][1]) for same in alike)):
        if said := [key for key in keys if keys is everywhere or key not in everywhere]:
            yield Row(
                site.places.named(rule.subject, (place for place, _ in same)),
                _clauses(said, [at for _, at in same], site),
            )


def _everywhere(found: list[_At]) -> list[_Key]:
    """What was found at all places for each clause that comes out the same at all of them."""
    places = Counter(key for at in found for key in at)
    varying = {key[0] for key, number in places.items() if number < len(found)}
    return [key for key in found[0] if key[0] not in varying]


def _at(place: str, reasons: Iterable[Reason], site: _Site) -> _At:
    at: _At = {}
    for reason in reasons:
        text = _found(reason, place, site)
        at.setdefault((reason.clause, text, in_brief(reason.why), reason.by), []).append(reason)
    return at


def _found(reason: Reason, place: str, site: _Site) -> str:
    """What was found, without the label of the place, or of its half, that the row names."""
    for label in (place, *site.places.pairs.get(place, ())):
        word, named, value = reason.found.partition(f" of {label}: ")
        if named and word in site.vocabulary:
            return f"{word}: {value}"
    return reason.found


def _clauses(said: Iterable[_Key], alike: list[_At], site: _Site) -> tuple[Clause, ...]:
    """Each clause once, with the cells at all the places."""
    return tuple(
        Clause(same[0][0], tuple(
            Found(text, why, ", ".join(by), _cells([r for at in alike for r in at[key]], site))
            for key in same
            for _, text, why, by in (key,)
        ))
        for same in by_key(said, lambda key: key[0])
    )  # fmt: skip


def _cells(reasons: list[Reason], site: _Site) -> str:
    """The cells behind reasons, those of one question together.

    What was found names word and place: wherever the same was found, the same answers are behind.
    """
    found = tuple((reason.found, len(reason.inputs)) for reason in reasons)
    if found not in site.cells:
        by_word: dict[str, dict[str, None]] = {}
        for reason in reasons:
            for given in reason.inputs:
                cells = by_word.get(given.word)
                if cells is None:
                    cells = by_word[given.word] = {}
                cells[given.answer.where] = None
        site.cells[found] = in_cells(where for cells in by_word.values() for where in cells)
    return site.cells[found]


def _open_rows(findings: list[Finding], site: _Site) -> Iterator[Row]:
    """What would settle a finding at each place, places of which that is the same together."""
    looked_into = any(_looks_farther(finding.rule) for finding in findings[:1])
    settled = (
        (same, site.settler.settling(same[0]))
        for same in by_key(findings, lambda f: _open_key(f, looked_into))
    )
    alike = by_key(
        settled, lambda one: (subject_of(one[0][0]), _settled_key(one[0][0], one[1], site))
    )
    for groups in alike:
        same = [finding for group, _ in groups for finding in group]
        (finding, *_), settling = groups[0]
        clauses: tuple[Clause, ...] = ()
        if settling is None or not finding.settles:
            told = [_at(one.place, one.reasons, site) for one in same]
            clauses = _clauses(told[0], told, site)
        yield Row(
            site.places.named(subject_of(finding), (one.place for one in same)),
            clauses,
            "" if settling is None else settling.text,
            () if settling is None else tuple(dict.fromkeys(_answers(settling))),
        )


def _looks_farther(rule: Rule) -> bool:
    """Whether what is left of a rule is more than its own open clauses tell."""
    return any(
        isinstance(clause, Count) or any(word.origin is Origin.CONCLUDED for word in clause.words)
        for clause in clauses_of(rule.condition)
    )


def _open_key(finding: Finding, looked_into: bool) -> tuple[object, ...]:
    """Of findings with the same key the same is left: their open clauses, with what is known."""
    if looked_into or not finding.settles:
        return (finding.place,)
    return (
        subject_of(finding),
        *((reason.clause, _value(reason.found)) for reason in finding.reasons),
        *(given.word for given in finding.settles),
    )


def _value(found: str) -> str:
    """What was found, without the word and the place if it is clear where they end."""
    named, _, value = found.rpartition(": ")
    return found if ": " in named else value


def _settled_key(finding: Finding, settling: Settling | None, site: _Site) -> tuple[object, ...]:
    if settling is None or not finding.settles:
        reasons = _at(finding.place, finding.reasons, site)
        return (subject_of(finding), settling and settling.text, *reasons)
    # Of like pairs and piers the words are the same, and what each answer does.
    return (subject_of(finding), settling.text, tuple(dict.fromkeys(_answers(settling))))


def _answers(settling: Settling) -> Iterator[str]:
    """What each answer would do, unless the text has said it."""
    if not settling.says_all:
        for one in settling.answers:
            yield f"{one.input.word}: {_does(one)}"


def _does(one: Settles) -> str:
    """What an answer does: to what it settles the finding, by itself or with others."""
    others = [other.word for other in one.others if other.word != one.input.word]
    if len(others) < len(one.others):
        others.insert(0, "the same of the others")
    if not one.to:
        through = f"through {_few(one.through)}" if one.through else ""
        along = f"together with {_few((*one.then, *others))}" if one.then or others else ""
        return f"decides {', '.join(part for part in (through, along) if part)}".rstrip()
    rests_on = _few((*one.through, *one.then, *others))
    if one.input.word in CLOSED_BY.values():
        rests_on = "what is listed then"
    more = f"depends on {rests_on}" if rests_on else MORE
    return "; ".join(f"{answer}: {more if found == MORE else found}" for answer, found in one.to)


def _few(words: Iterable[str]) -> str:
    """Some words, each once; of many the first, and how many more there are."""
    each = list(dict.fromkeys(words))
    more = len(each) - _MOST_NAMED
    return ", ".join(each[:_MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def _chain(assessment: Assessment, site: _Site) -> Iterator[Link]:
    """Each conclusion with the rules that looked at it, in the order of the book."""
    used = _used(assessment)
    for same in by_key(assessment.chained, lambda one: one.rule.code):
        rule = same[0].rule
        assert isinstance(rule.then, Conclusion)
        yield Link(
            rule,
            f"{rule.then.word.name} counts as {rule.then.choice}",
            tuple(used.get(rule.code, ())),
            tuple(_rows(((one.place, one.reasons) for one in same), rule, site)),
        )


def _used(assessment: Assessment) -> dict[str, dict[str, None]]:
    """The codes of the rules that looked at what each rule concluded, by its code."""
    used: dict[str, dict[str, None]] = {}
    behind: tuple[Finding | Chained, ...] = (*assessment.chained, *assessment.findings)
    for one in behind:
        for reason in one.reasons:
            for code in reason.by:
                used.setdefault(code, {})[one.rule.code] = None
    return used


def _judged(assessment: Assessment) -> str:
    """How often the site was judged, and how much each evaluator said."""
    said = "; ".join(
        f"{one.evaluator}: met {one.met}, can't tell {one.cannot_tell}" for one in assessment.said
    )
    if assessment.evaluators == 1:
        once = f"Judged once, each rule at each place ({said})."
        return f"{once} The second evaluator does not run here."
    twice = f"Judged twice, each rule at each place ({said})."
    if assessment.disagreement:
        return f"{twice} They do not agree, so neither can be trusted:"
    return f"{twice} They say the same at every place."
