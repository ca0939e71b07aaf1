"""The crew page: what hangs on site, one side a language, read in a minute.

A side fits on one sheet of letter and of A4: its type is chosen by how much there is to say, down
to 7.5 pt; where even that is too much, only the first sentence of each condition stands, and the
go/no-go sheet has them in full. Where nobody may start, nothing is offered to tick.
"""

from __future__ import annotations

import datetime as dt
import enum
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from survey.assessment import Assessment, Finding, PierResult, Seat, Verdict
from survey.assessment.filling import shown_in_spanish
from survey.facts import fact_value
from survey.model import Row, Value
from survey.rulebook.rules import Outcome, ReleaseBy, Rule
from survey.sheets._advice import codes, of, unclear
from survey.sheets._crew_fit import Size, fit
from survey.sheets._crew_words import ENGLISH, SPANISH, CrewWords
from survey.sheets._grouping import Said, boxes, by_key, group_findings, subject_of
from survey.sheets._legible import day, job_name, legible, said
from survey.sheets._places import Places, span
from survey.sheets._released import kept
from survey.sheets._templates import template
from survey.sheets.seal import closed
from survey.vocabulary import NOT_KNOWN, VOCABULARY, Missing, Origin, Subject
from survey.vocabulary.spanish import day_in_spanish

MARKER = "<!DOCTYPE html>\n<!-- pier-survey crew page 1 -->\n"
_MOST_REASONS = 10  # lines of what is wrong; more are counted
_SIGNATURES = range(4, 9)  # lines for the crew to sign on, where its size is not known or large
_SHORTEST_SENTENCE = 30  # letters; a shorter one ("Helmets on.") takes the next with it


class Languages(enum.Enum):
    """The languages of the page; of both, each has a side of its own."""

    ENGLISH = "english"
    SPANISH = "spanish"
    BOTH = "both"


@dataclass(frozen=True, slots=True)
class Told:
    """A text as the crew reads it.

    Args:
        lead: where it holds, if it holds otherwise elsewhere.
        first: the first sentence.
        rest: the others.
        others: the other places where it holds with their own labels.
        english: whether it is English on the Spanish side: a firm's rule without Spanish.
    """

    lead: str
    first: str
    rest: str
    others: str
    english: bool = False


@dataclass(frozen=True, slots=True)
class Box:
    """A condition to tick, or a release to keep to.

    Args:
        code: of the rule.
        where: in few words.
        told: what to do; of a release, nothing.
        note: what the release rests on, as its giver wrote it; empty for a condition.
        by: who released it, until when.
    """

    code: str
    where: str
    told: tuple[Told, ...]
    note: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True)
class Round:
    """Pits that are dug together, or the rounds after the next in one line."""

    name: str
    pits: str


@dataclass(frozen=True, slots=True)
class PitLine:
    """Pits that are alike, as a line of the table."""

    where: str
    rounds: str
    depth: str
    floor: str
    sides: str
    seat: str


@dataclass(frozen=True, slots=True)
class SeatLine:
    """How the footing is taken up at the pits that have its letter in the table."""

    letter: str
    prompt: str
    do: str
    caution: str
    english: bool

    @property
    def first(self) -> str:
        """The first sentence of how it is made, for where there is no more room."""
        return first_sentence(self.do)[0]


@dataclass(frozen=True, slots=True)
class Why:
    """A line of why nobody may start, and who acts."""

    who: str
    what: str
    where: str
    code: str = ""
    english: bool = False


@dataclass(frozen=True, slots=True)
class Side:
    """One side of the page, in one language.

    Args:
        starts: whether the crew may start.
        rounds: the pits of each round; the first may be dug first.
        in_rounds: whether the table has a column for them; not where each is a single pit.
        keep: what stays as planned, in short sentences.
        why: why nobody may start; empty where the crew may.
        pits: for a site that may not start, the pits by verdict.
        size: of the type.
    """

    words: CrewWords
    verdict: Verdict
    starts: bool
    job: str
    address: str
    days: str
    competent_person: str
    emergency: str
    rounds: tuple[Round, ...]
    in_rounds: bool
    no_round: str
    keep: tuple[str, ...]
    lines: tuple[PitLine, ...]
    boxes: tuple[Box, ...]
    seats: tuple[SeatLine, ...]
    get_out: tuple[str, ...]
    signatures: int
    why: tuple[Why, ...]
    more: int
    pits: tuple[tuple[Verdict, str], ...]
    size: Size | None = None


def render_crew(assessment: Assessment, languages: Languages = Languages.BOTH) -> str:
    """The crew page of a site as the text of an HTML file, in UTF-8."""
    chosen = {
        Languages.ENGLISH: (ENGLISH,),
        Languages.SPANISH: (SPANISH,),
        Languages.BOTH: (ENGLISH, SPANISH),
    }[languages]
    sides = tuple(side(assessment, words) for words in chosen)
    page = template("crew.html").render(
        sides=sides,
        answers=assessment.answers,
        photos=(),
    )
    return closed(MARKER + legible(page))


def side(assessment: Assessment, words: CrewWords) -> Side:
    """What one side says, with the size of type at which it fits."""
    site = assessment.survey.site
    places = _places(assessment, words)
    why = tuple(_why(assessment, words, places))
    starts = assessment.verdict.may_start and not why
    letters, seats = _seats(assessment, words) if starts else ({}, ())
    whole = Side(
        words=words,
        verdict=assessment.verdict,
        starts=starts,
        job=job_name(site) if site.value("job name") is not NOT_KNOWN else words.no_name,
        address=_answer(site, "address", words),
        days=_crew_days(site, words),
        competent_person=_answer(site, "competent person", words),
        emergency=_answer(site, "emergency contact", words),
        rounds=_rounds(assessment, words, places) if starts else (),
        in_rounds=bool(assessment.plan.order.rounds) and not _singly(assessment),
        no_round=_no_round(assessment, places) if starts else "",
        keep=tuple(_keep(assessment, words, places)) if starts else (),
        lines=_pit_lines(assessment, words, places, letters) if starts else (),
        boxes=_boxes(assessment, words, places) if starts else (),
        seats=seats,
        get_out=(*_moved(site, words), *words.get_out_if) if starts else (),
        signatures=_signatures(site) if starts else 0,
        why=why[:_MOST_REASONS],
        more=max(0, len(why) - _MOST_REASONS),
        pits=() if starts else _by_verdict(assessment.piers, places),
    )
    return replace(whole, size=fit(whole))


# Answers, days and places in the language of the side


def _said(name: str, value: Value, words: CrewWords) -> str:
    word = VOCABULARY[name]
    if words is SPANISH:
        return shown_in_spanish(word, fact_value(word, value))
    return said(word, value)


def _answer(row: Row, name: str, words: CrewWords) -> str:
    return _said(name, row.value(name), words)


def _crew_days(site: Row, words: CrewWords) -> str:
    written = day_in_spanish if words is SPANISH else day
    first, last = site.value("crew date"), site.value("last crew date")
    if not isinstance(first, dt.date):
        return words.not_known
    if not isinstance(last, dt.date):
        return words.only_first_day.format(written(first))
    if first == last:
        return written(first)
    start = written(first)
    if first.year == last.year:
        start = start.removesuffix(f" {first.year}")
    return words.one_day_to_another.format(start, written(last))


class _SpanishPlaces(Places):
    """Places named in Spanish; labels stay as they are."""

    def named(self, subject: Subject, labels: Iterable[str]) -> str:
        labels = list(dict.fromkeys(labels))
        match subject:
            case Subject.SITE:
                return SPANISH.whole_site
            case Subject.PIER:
                return span(labels, self.following, SPANISH.to)
            case Subject.PIER_UTILITY | Subject.PIER_NEIGHBOUR:
                pairs = by_key((self.pairs.get(one, (one, "")) for one in labels), lambda p: p[1])
                return "; ".join(
                    span((pier for pier, _ in same), self.following, SPANISH.to)
                    + (f" / {same[0][1]}" if same[0][1] else "")
                    for same in pairs
                )
            case _:
                name = SPANISH.subjects.get(subject.value, "")
                return f"{name} {', '.join(labels)}".strip()


def _places(assessment: Assessment, words: CrewWords) -> Places:
    return (_SpanishPlaces if words is SPANISH else Places).of(assessment.survey)


# What may start: rounds, pits, conditions, seats


def _rounds(assessment: Assessment, words: CrewWords, places: Places) -> tuple[Round, ...]:
    """The rounds to be dug; where every one is a single pit, the pits in their order."""
    rounds = assessment.plan.order.rounds
    if _singly(assessment):
        return (Round(words.one_at_a_time, ", ".join(pit for (pit,) in rounds)),)
    named = [places.named(Subject.PIER, pits) for pits in rounds]
    when = [f" ({words.first})", f" ({words.then})"] if len(rounds) > 1 else [""]
    first = [
        Round(words.round.format(number) + said, pits)
        for number, (said, pits) in enumerate(zip(when, named, strict=False), start=1)
    ]
    later = " | ".join(f"{number}: {pits}" for number, pits in enumerate(named[2:], start=3))
    return (*first, *([Round(words.after_that, later)] if later else []))


def _singly(assessment: Assessment) -> bool:
    """Whether the pits are dug one after the other."""
    rounds = assessment.plan.order.rounds
    return len(rounds) > 1 and all(len(pits) == 1 for pits in rounds)


def _no_round(assessment: Assessment, places: Places) -> str:
    """The pits that fit no round, where there are rounds."""
    rounds = assessment.plan.order.rounds
    ordered = {pit for pits in rounds for pit in pits}
    left = (pier.label for pier in assessment.piers if pier.label not in ordered)
    return places.named(Subject.PIER, left) if rounds else ""


def _keep(assessment: Assessment, words: CrewWords, places: Places) -> Iterator[str]:
    """What stays as planned; what the survey does not know is left to the rules."""
    site, piers = assessment.survey.site, assessment.survey.piers
    if len(assessment.plan.order.rounds) > 1:
        yield words.single_waits if _singly(assessment) else words.rounds_wait
    spacing, most = (
        site.value(name) for name in ("clear spacing of open pits", "most pits open together")
    )
    if len(piers) > 1 and isinstance(spacing, float):
        apart = words.spacing.format(_said("clear spacing of open pits", spacing, words))
        yield apart if spacing else words.neighbours_open
    if len(piers) > 1 and isinstance(most, float):
        yield words.most_open.format(_said("most pits open together", most, words))
    yield from _at_pits(piers, "spoil distance", words.spoil, words, places)
    yield from _at_pits(piers, "distance to ladder", words.ladder, words, places)
    if site.value("vehicles kept back") == "yes":
        yield words.kept_back


def _at_pits(
    piers: tuple[Row, ...], name: str, text: str, words: CrewWords, places: Places
) -> Iterator[str]:
    """A figure of the pits in a sentence, with the places where it is not the same at all."""
    known = (pier for pier in piers if not isinstance(pier.value(name), Missing))
    for same in by_key(known, lambda pier: pier.value(name)):
        figure = text.format(_answer(same[0], name, words))
        at = places.named(Subject.PIER, (pier.label for pier in same))
        yield f"{figure}." if len(same) == len(piers) else f"{figure} ({words.at} {at})."


def _pit_lines(
    assessment: Assessment, words: CrewWords, places: Places, letters: Mapping[str, str]
) -> tuple[PitLine, ...]:
    """Every pit, those that are alike in one line."""
    rounds = {
        pit: number for number, pits in enumerate(assessment.plan.order.rounds, 1) for pit in pits
    }
    alike = by_key(
        assessment.survey.piers,
        lambda row: (*(row.value(name) for name in _OF_A_PIT), letters.get(row.label)),
    )
    return tuple(
        PitLine(
            places.named(Subject.PIER, (row.label for row in same)),
            span(
                (str(n) for n in sorted({rounds[r.label] for r in same if r.label in rounds})),
                to=words.to,
            ),
            _depth(same[0], words), _floor(same[0], words), _sides(same[0], words),
            letters.get(same[0].label, words.no_seat),
        )
        for same in alike
    )  # fmt: skip


_OF_A_PIT = ("pit depth", "pit length", "pit width", "side protection", "slope of sides")


def _depth(row: Row, words: CrewWords) -> str:
    known = row.value("pit depth") is not NOT_KNOWN
    return _answer(row, "pit depth", words) if known else words.deep


def _floor(row: Row, words: CrewWords) -> str:
    length, width = (_answer(row, f"pit {side}", words) for side in ("length", "width"))
    return words.floor.format(length.removesuffix(" in"), width)


def _sides(row: Row, words: CrewWords) -> str:
    protection, slope = _answer(row, "side protection", words), row.value("slope of sides")
    if not isinstance(slope, Missing):
        return f"{protection} {_answer(row, 'slope of sides', words)}"
    if slope is NOT_KNOWN and row.value("side protection") == "sloped":
        return f"{protection}, {words.slope_not_known}"
    return protection


def _seats(assessment: Assessment, words: CrewWords) -> tuple[dict[str, str], tuple[SeatLine, ...]]:
    """A letter for the seat of each pier that has one, and how each is made."""
    first = [
        (pier.label, _seat_text(seat, words))
        for pier in assessment.piers
        if (seat := next((s for s in pier.seats if s.state == "suits"), None)) is not None
    ]
    letters: dict[str, str] = {}
    lines = []
    for number, same in enumerate(by_key(first, lambda pair: pair[1])):
        letter = chr(ord("A") + number) if number < 26 else str(number + 1)
        letters |= {label: letter for label, _ in same}
        lines.append(SeatLine(letter, *same[0][1]))
    return letters, tuple(lines)


def _seat_text(seat: Seat, words: CrewWords) -> tuple[str, str, str, bool]:
    spanish = (seat.prompt_es, seat.do_es, seat.caution_es)
    if words is SPANISH and seat.prompt_es and seat.do_es:
        return (*spanish, False)
    return seat.prompt, seat.do, seat.caution, words is SPANISH


def _boxes(assessment: Assessment, words: CrewWords, places: Places) -> tuple[Box, ...]:
    released = (
        Box(
            one.rule.code, one.where, (), one.release.note,
            words.released.format(one.release.person, _release_end(one.release.end, words)),
        )
        for one in kept(assessment.findings, places)
    )  # fmt: skip
    where: dict[str, str] = {}
    findings: list[Finding] = []
    for same in by_key(of(assessment.findings, Outcome.CONDITION), lambda f: f.rule.code):
        first, subject = same[0], subject_of(same[0])
        where[first.rule.code] = places.named(subject, (finding.place for finding in same))
        # What is to be done is mostly the same everywhere: then it need not be told apart.
        alike = all(f.do == first.do and f.do_es == first.do_es for f in same)
        findings += same[:1] if alike else same
    conditions = (
        Box(
            group.rule.code, where[group.rule.code],
            tuple(_told(said, words, group.rule) for said in group.do),
        )
        for group in boxes(_in_language(findings, words), places)
    )  # fmt: skip
    return (*released, *conditions)


def _release_end(end: str, words: CrewWords) -> str:
    try:
        found = dt.date.fromisoformat(end)
    except ValueError:
        return end
    return day_in_spanish(found) if words is SPANISH else day(found)


def _in_language(findings: Iterable[Finding], words: CrewWords) -> tuple[Finding, ...]:
    """The findings with the texts of the side as their own; a rule without Spanish keeps its."""
    if words is not SPANISH:
        return tuple(findings)
    rules: dict[str, Rule] = {}
    told = []
    for finding in findings:
        rule = finding.rule
        if not (finding.say_es and finding.do_es):
            told.append(finding)
            continue
        if rule.code not in rules:
            rules[rule.code] = replace(rule, say=rule.say_es, do=rule.do_es)
        told.append(replace(finding, rule=rules[rule.code], say=finding.say_es, do=finding.do_es))
    return tuple(told)


_SENTENCE = re.compile(r"(?<=[.!?]) (?=[A-ZÁÉÍÓÚÑ¿¡])")


def _told(one: Said, words: CrewWords, rule: Rule) -> Told:
    first, rest = first_sentence(one.text)
    english = words is SPANISH and rule.do != rule.do_es
    return Told(one.lead, first, rest, one.others, english)


def first_sentence(text: str) -> tuple[str, str]:
    """The first sentence of a text and the rest; a very short one takes the next with it.

    >>> first_sentence("Cover the pit whenever nobody is there. Then tape it off.")
    ('Cover the pit whenever nobody is there.', 'Then tape it off.')
    """
    for end in _SENTENCE.finditer(text):
        if end.start() >= _SHORTEST_SENTENCE:
            return text[: end.start()], text[end.end() :]
    return text, ""


def _moved(site: Row, words: CrewWords) -> Iterator[str]:
    """The movement that stops the work; that it is not known is said."""
    name = "movement that stops the work"
    if not isinstance(site.value(name), Missing):
        yield words.moved.format(_answer(site, name, words))
    elif site.value(name) is NOT_KNOWN:
        yield words.moved_not_known


def _signatures(site: Row) -> int:
    crew = site.value("crew size")
    size = int(crew) if isinstance(crew, float) else _SIGNATURES[-1]
    return min(max(size, _SIGNATURES[0]), _SIGNATURES[-1])


# What may not start: why, and who acts


def _why(assessment: Assessment, words: CrewWords, places: Places) -> Iterator[Why]:
    """Why nobody may start; nothing where the crew may."""
    findings, spanish = assessment.findings, words is SPANISH

    def who(name: str) -> str:
        return words.people.get(name, name)

    if assessment.disagreement:
        yield Why(who("office"), words.disagreement, words.whole_site)
    stops = _in_language(of(findings, Outcome.STOP), words)
    groups = sorted(
        group_findings(stops, places), key=lambda one: one.rule.release is not ReleaseBy.NOBODY
    )
    for group in groups:
        told = _told(group.say[0], words, group.rule)
        english = spanish and group.rule.say != group.rule.say_es
        yield Why(who(group.who), told.first, group.where, group.rule.code, english)
    if for_engineer := of(findings, Outcome.ENGINEER):
        matters = dict.fromkeys(_matter(finding, words) for finding in for_engineer)
        what = f"{words.engineer} {'; '.join(matters)}."
        yield Why(who("engineer"), what, "", ", ".join(codes(for_engineer)))
    if assessment.problems:
        yield Why(who("surveyor"), words.cells.format(len(assessment.problems)), "")
    # What is seen on site is the surveyor's to answer, what we choose is the office's.
    vocabulary = assessment.survey.vocabulary
    asked = Counter(
        "surveyor" if vocabulary[question.input.word].origin is Origin.SEEN else "office"
        for question in assessment.questions
    )
    for name, number in asked.items():
        yield Why(who(name), words.answers.format(number), "")
    for same in by_key(unclear(findings), lambda finding: finding.who):
        matters = dict.fromkeys(_matter(finding, words) for finding in same)
        what = f"{words.unclear} {'; '.join(matters)}."
        yield Why(who(same[0].who), what, "", ", ".join(codes(same)))
    if clashes := assessment.plan.clashes:
        told_of = words.clash if spanish else f"{words.clash} {clashes[0]}."
        yield Why(who("scheduler"), told_of, "")
    if assessment.verdict.may_start:
        if not assessment.piers:
            yield Why(who("surveyor"), words.no_pier, "")
        if assessment.survey.site.value("crew date") is NOT_KNOWN:
            yield Why(who("scheduler"), words.no_first_day, "")


def _matter(finding: Finding, words: CrewWords) -> str:
    """What an engineer decides: the rule's name, or in Spanish what its topic is about."""
    topic = finding.rule.code.partition("-")[0]
    return words.topics.get(topic, finding.rule.name)


def _by_verdict(piers: tuple[PierResult, ...], places: Places) -> tuple[tuple[Verdict, str], ...]:
    ordered = sorted(piers, key=lambda pier: -list(Verdict).index(pier.verdict))
    return tuple(
        (same[0].verdict, places.named(Subject.PIER, (pier.label for pier in same)))
        for same in by_key(ordered, lambda pier: pier.verdict)
    )
