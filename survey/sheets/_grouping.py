"""Findings, conclusions, seats and questions drawn together, so that each is read once."""

from __future__ import annotations

import functools
import re
from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass
from typing import NamedTuple, TypeVar

from survey.assessment import Assessment, Chained, Finding, Question, Seat
from survey.rulebook.rules import Outcome, ReleaseBy, Rule
from survey.sheets._legible import split_place
from survey.sheets._places import Places, span, span_of_cells
from survey.vocabulary import CLOSED_BY, Origin, Subject, Vocabulary

T = TypeVar("T")
# What can kill within minutes stands first on the crew's page; the rest in the book's order.
_READ_FIRST = ("DIG", "SOIL", "WATER", "LINE", "ACCESS", "GEAR", "CREW")
# Who reads the sheet on site, in either language.
_READ_SPANISH = ("crew", "competent person")


class Said(NamedTuple):
    """A sentence and the places it is said of.

    Args:
        text: in the words of the first place.
        lead: the places, in few words, where the sentence needs them to be told apart.
        others: the other places that it would name in their turn, in few words; empty if it
            names none.
    """

    text: str
    lead: str
    others: str


@dataclass(frozen=True, slots=True)
class Group:
    """The findings of one rule, as they are read together.

    Args:
        where: every place, in few words.
        say_es, do_es: the same in Spanish; empty where the rule has none, or where it is neither
            the crew nor the competent person who acts.
        findings: at least one, all of the same rule and outcome.
    """

    rule: Rule
    who: str
    where: str
    say: tuple[Said, ...]
    do: tuple[Said, ...]
    say_es: tuple[Said, ...]
    do_es: tuple[Said, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Asked:
    """One question that is open in one or many cells of a sheet, and what waits for it.

    Args:
        number: of the cells.
    """

    sheet: str
    cells: str
    where: str
    subject: Subject
    prompt: str
    help: str
    who: str
    decides: tuple[str, ...]
    number: int


@dataclass(frozen=True, slots=True)
class SeatState:
    """What is said of one seat at one or many piers.

    Args:
        prompt: what the seat is.
        state: whether it suits.
        where: the piers.
        why: why it doesn't suit, or what has to be known.
        do, caution: how it is made, and what to look out for.
    """

    prompt: str
    state: str
    where: str
    why: tuple[Said, ...]
    do: str
    caution: str


@dataclass(frozen=True, slots=True)
class TakenUp:
    """How the footing is taken up at some piers.

    Args:
        seat: the first choice.
        where: the piers.
        others: the other seats that suit there, in the order in which they are to be preferred.
    """

    seat: Seat
    where: str
    others: str


def by_key(things: Iterable[T], key: Callable[[T], Hashable]) -> list[list[T]]:
    """Things with equal keys together, in the order in which each key first comes."""
    groups: dict[Hashable, list[T]] = {}
    for thing in things:
        groups.setdefault(key(thing), []).append(thing)
    return list(groups.values())


def subject_of(finding: Finding) -> Subject:
    """What the place of a finding is; the site where it asks for what a list left out."""
    settles = finding.settles
    if finding.place == "site" and settles and settles[0].word in CLOSED_BY.values():
        return Subject.SITE
    return finding.rule.subject


def group_findings(findings: Iterable[Finding], places: Places) -> tuple[Group, ...]:
    """The findings of each rule together, in the order given."""
    groups: list[Group] = []
    for same in by_key(findings, lambda f: (f.rule.code, f.outcome, f.who, subject_of(f))):
        first, subject = same[0], subject_of(same[0])
        in_spanish = same if first.who in _READ_SPANISH else []
        groups.append(
            Group(
                first.rule, first.who, places.named(subject, (f.place for f in same)),
                _said(first.rule.say, subject, [(f.place, f.say) for f in same], places),
                _said(first.rule.do, subject, [(f.place, f.do) for f in same], places),
                _said(first.rule.say_es, subject,
                      [(f.place, f.say_es) for f in in_spanish if f.say_es], places),
                _said(first.rule.do_es, subject,
                      [(f.place, f.do_es) for f in in_spanish if f.do_es], places),
                tuple(same),
            )
        )  # fmt: skip
    return tuple(groups)


def group_same_to_do(findings: Iterable[Finding], places: Places) -> tuple[tuple[Group, ...], ...]:
    """The findings of each rule together, and the rules for which one person does the same."""
    same_to_do = by_key(
        group_findings(findings, places), lambda g: (g.who, tuple(one.text for one in g.do))
    )
    return tuple(map(tuple, same_to_do))


def stops(findings: Iterable[Finding], places: Places) -> tuple[Group, ...]:
    """The stops that count, first those that nobody may release."""
    counted = (f for f in findings if f.counts and f.outcome is Outcome.STOP)
    groups = group_findings(counted, places)
    return tuple(sorted(groups, key=lambda group: group.rule.release is not ReleaseBy.NOBODY))


def boxes(findings: Iterable[Finding], places: Places) -> tuple[Group, ...]:
    """The conditions that count, in the order in which the crew reads them: what kills first."""
    conditions = (f for f in findings if f.counts and f.outcome is Outcome.CONDITION)
    return tuple(sorted(group_findings(conditions, places), key=_reading_order))


def _reading_order(group: Group) -> int:
    topic = group.rule.code.partition("-")[0]
    return _READ_FIRST.index(topic) if topic in _READ_FIRST else len(_READ_FIRST)


def group_chained(
    chained: Iterable[Chained], places: Places
) -> tuple[tuple[Rule, tuple[Said, ...]], ...]:
    """The conclusions of each rule together."""
    return tuple(
        (
            same[0].rule,
            _said(same[0].rule.say, same[0].rule.subject,
                  [(c.place, c.text) for c in same], places),
        )
        for same in by_key(chained, lambda c: c.rule.code)
    )  # fmt: skip


def _said(
    template: str, subject: Subject, sentences: list[tuple[str, str]], places: Places
) -> tuple[Said, ...]:
    """Sentences that differ in nothing but the pier that they name, said once."""
    alike = by_key(sentences, lambda s: _but_pier(template, s[1], _pier(s[0], subject, places)))
    said: list[Said] = []
    for same in alike:
        text = same[0][1]
        others = [place for place, other in same if other != text]
        named = same[0][0] in text or bool(others)
        where = "" if named or len(alike) == 1 else places.named(subject, (p for p, _ in same))
        said.append(Said(text, where, places.named(subject, others) if others else ""))
    return tuple(said)


def _pier(place: str, subject: Subject, places: Places) -> str:
    if subject is Subject.PIER:
        return place
    return places.pairs[place][0] if place in places.pairs else ""


@functools.lru_cache(maxsize=1024)
def _pieces(template: str) -> tuple[str, ...]:
    """What stands between the placeholders of a sentence; ``{pier}`` is no end of a piece."""
    return tuple(re.split(r"\{(?!pier\})[^{}]*\}", template))


def _but_pier(template: str, text: str, pier: str) -> Hashable:
    """What stands in the placeholders of a sentence besides the pier's own label.

    Two sentences with equal keys are equal once each other's pier is put in: only the places
    where the rule says ``{pier}`` are left out, so a figure that looks like a label stays. A
    sentence that can't be taken apart is its own key.
    """
    if not pier or "{pier}" not in template:
        return text
    pieces = [piece.replace("{pier}", pier) for piece in _pieces(template)]
    filled: list[str] = []
    end = 0
    for i, piece in enumerate(pieces):
        last = i == len(pieces) - 1
        at = len(text) - len(piece) if last else text.find(piece, end)
        if at < end or not text.startswith(piece, at):
            return text
        filled.append(text[end:at])
        end = at + len(piece)
    return text if filled[0] else tuple(filled[1:])


def group_questions(assessment: Assessment) -> tuple[Asked, ...]:
    """Open answers, sheet by sheet; the same question in many rows of a sheet once."""
    vocabulary = assessment.survey.vocabulary
    alike = by_key(assessment.questions, lambda q: (_place(q)[0], q.input.word, q.rules))
    by_sheet = by_key(alike, lambda same: _place(same[0])[0])
    return tuple(_asked(vocabulary, same) for sheet in by_sheet for same in sheet)


def _asked(vocabulary: Vocabulary, same: list[Question]) -> Asked:
    first = same[0]
    word = vocabulary[first.input.word]
    return Asked(
        _place(first)[0],
        span_of_cells(_place(question)[1] for question in same),
        span(question.input.label for question in same),
        word.subject,
        first.prompt,
        first.help,
        # What is seen on site is the surveyor's to answer, what we choose is the office's.
        "surveyor" if word.origin is Origin.SEEN else "office",
        first.rules,
        len(same),
    )


def _place(question: Question) -> tuple[str, str]:
    return split_place(question.input.answer.where)


def group_seats(assessment: Assessment, places: Places) -> tuple[SeatState, ...]:
    """What is said of each seat, for the piers of which the same is said together."""
    stated = [(pier.label, seat) for pier in assessment.piers for seat in pier.seats]
    groups = by_key(
        stated,
        lambda s: (s[1].name, s[1].state, tuple(_but_figures(why) for why in s[1].why)),
    )
    order = {seat.name: i for pier in assessment.piers[:1] for i, seat in enumerate(pier.seats)}
    groups.sort(key=lambda same: order[same[0][1].name])
    return tuple(
        SeatState(
            same[0][1].prompt, same[0][1].state,
            places.named(Subject.PIER, (label for label, _ in same)),
            tuple(_why(i, same, places) for i in range(len(same[0][1].why))),
            same[0][1].do, same[0][1].caution,
        )
        for same in groups
    )  # fmt: skip


def taken_up(assessment: Assessment, places: Places) -> tuple[TakenUp, ...]:
    """The first choice among the seats that suit, for the piers where it is the same."""
    chosen = [
        (pier.label, tuple(seat for seat in pier.seats if seat.state == "suits"))
        for pier in assessment.piers
    ]
    return tuple(
        TakenUp(
            seats[0], places.named(Subject.PIER, (label for label, _ in same)),
            "; or ".join(seat.prompt for seat in seats[1:]),
        )
        for same in by_key(chosen, lambda c: c[1])
        if (seats := same[0][1])
    )  # fmt: skip


def _but_figures(why: str) -> str:
    """What is wrong with a seat, but for the figure that was found."""
    found, needs, rest = why.partition("; it needs: ")
    return f"{found.partition(': ')[0]}{needs}{rest}" if needs and re.search(r"\d", found) else why


def _why(index: int, same: list[tuple[str, Seat]], places: Places) -> Said:
    text = same[0][1].why[index]
    others = [label for label, seat in same if seat.why[index] != text]
    return Said(text, "", places.named(Subject.PIER, others) if others else "")
