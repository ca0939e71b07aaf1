"""The front page: what crew, scheduler and office need to know, on one printed side.

It fits on a letter page and on an A4 page: its letters are as large as there is room for, and what
has no room in the smallest is counted, and stands in full behind.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from survey.assessment import Assessment, Verdict
from survey.assessment.planning import Order
from survey.rulebook.rules import Outcome, ReleaseBy
from survey.sheets._advice import BRIEF_CAUTIONS, by_whom, may_be_scheduled, of, unclear
from survey.sheets._grouping import (
    Asked,
    Group,
    Said,
    boxes,
    by_key,
    group_findings,
    group_questions,
    group_same_to_do,
    stops,
)
from survey.sheets._legible import answer, count, crew_days, job_name
from survey.sheets._places import Places, in_cells, span
from survey.sheets._plan import Day, PierLine, marked_codes, of_days, pier_lines, plan
from survey.sheets._released import Kept, kept, refused
from survey.sheets._room import Room, fitting
from survey.vocabulary import NOT_KNOWN, Subject

_SIZES_PT = (9.6, 9.0, 8.5, 8.1, 7.8)  # of the letters, the largest first
_FEWER = "Where a release or the engineer allows fewer open pits at once, that counts"
_MOST_ROUNDS = 3  # of piers in one line, in the order of their labels
_MOST_TOLD = 3  # lines of a disagreement
# The most letters of a text on this page; whatever is cut stands in full behind.
_JOB, _ADDRESS, _NAME, _TICKET = 70, 90, 60, 40
_EMERGENCY, _REMARKS, _PLAN, _ORDER, _DATE_WHY, _TO_DO = 200, 160, 440, 330, 110, 260
_WHERE, _CELLS, _CODES, _TOLD = 60, 90, 60, 200

# Initials and shortened words end in a stop that ends no sentence.
_END = re.compile(r"(?<=[.!?])\s+(?=[\"'(]?[A-Z0-9])")
_NO_END = re.compile(r"\b(?:[A-Z]|No|App|St|Dr|Mr|Mrs|Ms|Fig|Sec|vs|approx)\.$")
_LONGEST_NO_END = 8


@dataclass(frozen=True, slots=True)
class Action:
    """One thing that stops the job.

    Args:
        kind: what it is called where it is only counted.
        who: acts.
        do: what to do first, in a sentence.
        why: the fault, its code, who may release it.
        where: the places, in few words.
    """

    kind: str
    who: str
    do: str
    why: str
    where: str


@dataclass(frozen=True, slots=True)
class Piers:
    """Pier locations that are alike in all that the front page says of them.

    Args:
        labels: of all of them.
        where: the same in few words.
        line: one of them.
        seat: the first choice among those that suit, or that none does.
        round: in which their pits are dug; empty where there is no order.
        codes: of their findings, as far as there is room.
    """

    labels: tuple[str, ...]
    where: str
    line: PierLine
    seat: str
    round: str
    codes: str


@dataclass(frozen=True, slots=True)
class Box:
    """A condition to tick.

    Args:
        do: what to do, in the first sentence.
        rest: the rest of it; empty where there is none, or where it stands behind.
        cut: whether more of it stands behind.
        same: other places for which the same holds, where it names one.
        of: code, and who acts if that is not the crew.
        where: the places, in few words.
    """

    do: str
    rest: str
    cut: bool
    same: str
    of: str
    where: str


@dataclass(frozen=True, slots=True)
class Front:
    """The front page.

    Args:
        size_pt: of its letters on paper.
        file: name of the survey.
        job: its name.
        facts: of the job, each with its head.
        disagreement: of the two evaluators; empty if they agree.
        verdict: for the site.
        scheduled: whether the crew may be.
        by_whom: what has to be known of how the site was judged.
        emergency: whom to call; empty if that is not known.
        remarks: of the surveyor; empty if there are none.
        earliest, latest: first days of the crew.
        actions: what stops the job, the gravest first.
        more_actions: what of it is not among them, counted.
        piers: the pier locations, those that are alike together.
        more_piers: those not among them.
        besides: codes of findings that count for every pier.
        order: in which the pits are dug.
        plan: what the crew may not change.
        boxes: conditions to tick.
        more_boxes: how many more there are, each with its box behind.
    """

    size_pt: float
    file: str
    job: str
    facts: tuple[tuple[str, str], ...]
    disagreement: tuple[str, ...]
    verdict: Verdict
    scheduled: str
    by_whom: tuple[str, ...]
    emergency: str
    remarks: str
    earliest: Day
    latest: Day
    besides: str
    order: str
    plan: str
    actions: tuple[Action, ...] = ()
    more_actions: str = ""
    piers: tuple[Piers, ...] = ()
    more_piers: str = ""
    boxes: tuple[Box, ...] = ()
    more_boxes: int = 0


def front(assessment: Assessment, places: Places) -> Front:
    """The front page of a site, in the largest letters in which all of it has room."""
    bare = _without_rows(assessment, places)
    graves, sums = tuple(_graves(assessment, places)), tuple(_sums(assessment, places))
    ticks = _boxes(assessment, places)
    by_round, merged, coarse = _piers(assessment, places)
    candidates = [
        *itertools.product(_SIZES_PT, (by_round, merged)),
        *itertools.product(_SIZES_PT[-2:], (coarse,)),
    ]
    for size, piers in candidates:
        page, whole = _filled(bare, Room(size), places, graves, sums, piers, ticks)
        if whole:
            break
    return page


def first_sentence(text: str) -> tuple[str, str]:
    """The first sentence of a text, and the rest.

    >>> first_sentence("Call T. Quill at No. 3. Then wait.")
    ('Call T. Quill at No. 3.', 'Then wait.')
    """
    for end in _END.finditer(text):
        if not _NO_END.search(text[max(0, end.start() - _LONGEST_NO_END) : end.start()]):
            return text[: end.start()], text[end.end() :]
    return text, ""


def cut(text: str, most: int) -> str:
    """A text in one line, cut after a word where it is too long.

    >>> cut("a dog in the yard", 12), cut("a dog", 12)
    ('a dog in ...', 'a dog')
    """
    text = " ".join(text.split())
    if len(text) <= most:
        return text
    head = text[: most - 4]
    whole_words = head.rpartition(" ")[0]
    return f"{whole_words if len(whole_words) > most // 2 else head} ..."


def _without_rows(assessment: Assessment, places: Places) -> Front:
    """All of the page but the rows of its three tables."""
    site, made = assessment.survey.site, assessment.plan

    def fact(name: str, most: int) -> str:
        return cut(answer(site, name), most)

    emergency, remarks = site.value("emergency contact"), site.known("remarks")
    return Front(
        size_pt=_SIZES_PT[-1],
        file=cut(assessment.survey.name, _NAME),
        job=cut(job_name(site), _JOB),
        facts=(
            ("Address", fact("address", _ADDRESS)),
            ("Crew on site", crew_days(site)),
            ("Surveyed", f"{answer(site, 'survey date')}, {fact('surveyor', _NAME)}"),
            ("Locate ticket", fact("ticket number", _TICKET)),
            ("Competent person", fact("competent person", _NAME)),
        ),
        disagreement=_disagreement(assessment.disagreement),
        verdict=assessment.verdict,
        scheduled=cut(may_be_scheduled(assessment), _TO_DO),
        by_whom=by_whom(assessment),
        emergency="" if emergency is NOT_KNOWN else fact("emergency contact", _EMERGENCY),
        remarks="" if remarks is None else cut(str(remarks), _REMARKS),
        earliest=_briefly(of_days(made.earliest)),
        latest=_briefly(of_days(made.latest)),
        besides=_besides(assessment),
        order=cut(_order(made.order, places), _ORDER) if assessment.piers else "",
        plan=cut(plan(assessment, places), _PLAN) if assessment.piers else "",
    )


def _disagreement(lines: Sequence[str]) -> tuple[str, ...]:
    more = len(lines) - _MOST_TOLD
    told = tuple(cut(line, _TOLD) for line in lines[:_MOST_TOLD])
    return (*told, f"and {more} more, in full below") if more > 0 else told


def _briefly(end: Day) -> Day:
    return replace(end, why=cut(end.why, _DATE_WHY))


def _besides(assessment: Assessment) -> str:
    """The findings of the whole site, which are those of every pier."""
    whole_site = (f for f in assessment.findings if f.counts and not f.piers)
    return _few(marked_codes(whole_site), 2 * _CODES) if assessment.piers else ""


def _few(parts: Sequence[str], most: int, mark: str = ", ") -> str:
    """As many of the first parts as have room, and how many more there are."""
    listed = list(parts)
    while len(mark.join(listed)) > most and len(listed) > 1:
        listed.pop()
    more = len(parts) - len(listed)
    return cut(mark.join(listed), most) + (f" and {more} more" if more else "")


def _few_places(where: str) -> str:
    return _few(re.split(r"(?<=[,;]) ", where), _WHERE, " ") if len(where) > _WHERE else where


def _order(order: Order, places: Places) -> str:
    """The rounds in one line, with what fits none."""
    if not order.rounds:
        return f"No order of the pits yet: {order.reason.removeprefix('not known yet: ')}."
    rounds = (
        f"{number}. {places.named(Subject.PIER, labels)}"
        for number, labels in enumerate(order.rounds, start=1)
    )
    together = any(len(labels) > 1 for labels in order.rounds)
    rest = (order.reason, order.crew_days, _FEWER if together else "")
    return " ".join((
        f"Dig in rounds, each filled before the next: {'; '.join(rounds)}.",
        *(f"{part}." for part in rest if part),
    ))  # fmt: skip


# What stops the job


def _graves(assessment: Assessment, places: Places) -> Iterable[Action]:
    """A line for each rule that stops the job, or waits for the engineer or a second look."""
    findings = assessment.findings
    for group in stops(findings, places):
        nobody = group.rule.release is ReleaseBy.NOBODY
        may = "Nobody" if nobody else f"A {group.rule.release.value}"
        yield _action("stop", group.who, group, f" {may} may release it.")
    for group in group_findings(of(findings, Outcome.ENGINEER), places):
        yield _action("engineer's matter", "engineer", group)
    for same in group_same_to_do(unclear(findings), places):
        if len(same) == 1:
            yield _action("matter to clear up", same[0].who, same[0])
        else:
            do, others = _firsts(same[0].do)
            codes = _few([group.rule.code for group in same], _CODES)
            where = "; ".join(dict.fromkeys(group.where for group in same))
            yield Action(
                "matter to clear up", same[0].who, f"{do}{others}", f"{codes}.",
                _few_places(where),
            )  # fmt: skip


def _action(kind: str, who: str, group: Group, may: str = "") -> Action:
    do, others = _firsts(group.do)
    why = f"{group.rule.code}: {group.rule.name}.{may}"
    return Action(kind, who, f"{do}{others}", why, _few_places(group.where))


def _firsts(said: Sequence[Said]) -> tuple[str, str]:
    """The first sentences of what to do, and the other places of which the first of them is so."""
    firsts: dict[str, Said] = {}
    for one in said:
        firsts.setdefault(first_sentence(one.text)[0], one)
    if len(firsts) > 1:
        parts = (f"{o.lead}: {text}" if o.lead else text for text, o in firsts.items())
        return cut(" ".join(parts), _TO_DO), ""
    ((text, one),) = firsts.items()
    others = "; ".join(one.others for one in said if one.others)
    return cut(text, _TO_DO), f" The same at {_few_places(others)}." if others else ""


def _sums(assessment: Assessment, places: Places) -> Iterable[Action]:
    """A line for each who has to answer or put right something on the form."""
    for same in by_key(group_questions(assessment), lambda asked: asked.who):
        do, why = f"Give {_answers(same)}.", "Not known is neither yes nor no. Listed below."
        yield Action("open questions", same[0].who, do, why, _cells(same))
    if problems := assessment.problems:
        number = count(len(problems), "cell")
        yield Action(
            "cells to put right", "surveyor",
            f"Put right {number}, and have the survey judged again.",
            "What stands there was not used. Listed below.",
            cut(in_cells(problem.where for problem in problems), _CELLS),
        )  # fmt: skip
    if clashes := assessment.plan.clashes:
        yield Action(
            "days", "scheduler", "Find days that fit.",
            cut(f"{'; '.join(clashes)}.", _TO_DO), "whole site",
        )  # fmt: skip
    if slips := refused(assessment, places):
        number = count(len(slips), "release that does", "releases that do")
        labels = cut(span(one.release.label for one in slips), _CELLS)
        yield Action(
            "releases", "office", f"Put right {number} not count, or not at every place named.",
            "Listed below, with why.", f"sheet Releases: {labels}",
        )  # fmt: skip


def _answers(same: Sequence[Asked]) -> str:
    """How many answers, and on which sheets of the form."""
    number = sum(asked.number for asked in same)
    sheets = list(dict.fromkeys(asked.sheet for asked in same))
    if len(sheets) == 1 or len(", ".join(sheets)) > _CODES:
        return f"{count(number, 'answer')} on {_few(sheets, _CODES)}"
    return f"{count(number, 'answer')} on {', '.join(sheets[:-1])} and {sheets[-1]}"


def _cells(same: Sequence[Asked]) -> str:
    sheets = by_key(same, lambda asked: asked.sheet)
    parts = (f"{one[0].sheet} {', '.join(asked.cells for asked in one)}" for one in sheets)
    return cut("; ".join(parts), _CELLS)


# Piers


def _piers(
    assessment: Assessment, places: Places
) -> tuple[tuple[Piers, ...], tuple[Piers, ...], tuple[Piers, ...]]:
    """The pier locations, those that are alike in one line.

    Parted by rounds and findings, by findings alone, and by neither.
    """
    rounds = {
        label: str(number)
        for number, labels in enumerate(assessment.plan.order.rounds, start=1)
        for label in labels
    }
    keyed = [
        ((line.verdict, line.pit, line.depth, line.protection, _seat(line), line.codes), line)
        for line in pier_lines(assessment)
    ]

    def lines(
        key: Callable[[tuple[tuple[Hashable, ...], PierLine]], Hashable],
    ) -> tuple[Piers, ...]:
        return tuple(
            _alike([line for _, line in same], rounds, places) for same in by_key(keyed, key)
        )

    return (
        lines(lambda pair: (pair[0], rounds.get(pair[1].label))),
        lines(lambda pair: pair[0]),
        lines(lambda pair: pair[0][:-1]),
    )


def _alike(same: Sequence[PierLine], rounds: Mapping[str, str], places: Places) -> Piers:
    labels, first = tuple(line.label for line in same), same[0]
    differ = any(line.codes != first.codes for line in same)
    codes = "differ: see below" if differ else _few(first.codes, _CODES, " ") or "none"
    return Piers(
        labels, _few_places(places.named(Subject.PIER, labels)), first, _seat(first),
        _rounds(labels, rounds) if rounds else "", codes,
    )  # fmt: skip


def _rounds(labels: Sequence[str], rounds: Mapping[str, str]) -> str:
    """The round of each pier, in their order; the round alone where it is the same."""
    dug = [rounds.get(label, "none") for label in labels]
    if len(set(dug)) == 1:
        return dug[0]
    return ", ".join(dug) if len(dug) <= _MOST_ROUNDS else "see below"


def _seat(line: PierLine) -> str:
    """The first seat that suits, or that none does as far as can be told."""
    if line.suits:
        return line.suits.partition("; ")[0]
    return "can't tell yet" if line.open_seats else "none suits"


# Conditions


def _boxes(assessment: Assessment, places: Places) -> tuple[Box, ...]:
    """The conditions with all that is said of each, in the order in which the crew reads them."""
    findings = assessment.findings
    return (
        *(_kept_box(one) for one in kept(findings, places)),
        *(_box(group) for group in boxes(findings, places)),
    )


def _kept_box(one: Kept) -> Box:
    note = cut(f"Keep to it: {one.release.note}", _TO_DO)
    by = _few([cut(name, _NAME) for name in one.persons], 2 * _NAME)
    return Box(
        note, "", note.endswith(" ..."), "", f"{one.rule.code}, released by {by}",
        _few_places(one.where),
    )  # fmt: skip


def _box(group: Group) -> Box:
    do, same = _firsts(group.do)
    rests = [first_sentence(one.text)[1] for one in group.do]
    rest = rests[0] if len(rests) == 1 else ""
    of = group.rule.code if group.who == "crew" else f"{group.rule.code}, {group.who}"
    return Box(do, rest, any(rests) and not rest, same.strip(), of, _few_places(group.where))


# Room, in lines of the page: what each part takes, with the room round it.

_TITLE, _FRAME, _SECTION, _HEADING, _HEAD = 2.1, 3.1, 0.45, 1.65, 1.25
_PARAGRAPH, _ROW, _LEAST_ROW, _SIGNING, _KEY = 0.1, 0.35, 1.3, 6.0, 250
_BOLD, _SMALL = 1.1, 0.9
_MORE = "More below."
_PIERS_AT_LEAST = 0.35  # of the room for all tables


def _filled(  # noqa: PLR0917
    bare: Front,
    room: Room,
    places: Places,
    graves: Sequence[Action],
    sums: Sequence[Action],
    piers: Sequence[Piers],
    ticks: Sequence[Box],
) -> tuple[Front, bool]:
    """The page with as many rows as have room, and whether that is all of them."""
    left = room.lines - _height_of(bare, room)
    left -= sum(_HEADING + _HEAD for table in ((*graves, *sums), piers) if table)
    left -= _HEADING if ticks else 0
    of_piers = [_height_of_piers(one, room) for one in piers]
    of_graves = [_height_of_action(one, room) for one in graves]
    of_boxes = [_height_of_box(one, room, whole=False) for one in ticks]
    left -= sum(_height_of_action(one, room) for one in sums)
    # Where the crew may go, its conditions come before a long list of piers, and else the stops.
    others = of_boxes if bare.verdict.may_start else [*of_graves, _HEAD]
    for_piers = max(_PIERS_AT_LEAST * left, left - sum(others))
    of_piers, piers = _worst_first(of_piers, piers, for_piers)
    number_of_piers = fitting(of_piers, for_piers, 2 * _HEAD)
    left -= sum(of_piers[:number_of_piers]) + (2 * _HEAD if number_of_piers < len(piers) else 0)
    number_of_graves = fitting(of_graves, left - (_HEAD if ticks else 0), _HEAD)
    left -= sum(of_graves[:number_of_graves]) + (_HEAD if number_of_graves < len(graves) else 0)
    number_of_boxes = fitting(of_boxes, left, _HEAD)
    left -= sum(of_boxes[:number_of_boxes]) + (_HEAD if number_of_boxes < len(ticks) else 0)
    shown = _told_at_length(ticks[:number_of_boxes], room, left)
    page = replace(
        bare,
        size_pt=room.size_pt,
        actions=(*graves[:number_of_graves], *sums),
        more_actions=_counted(graves[number_of_graves:]),
        piers=tuple(piers[:number_of_piers]),
        more_piers=_named(piers[number_of_piers:], places),
        boxes=shown,
        more_boxes=len(ticks) - number_of_boxes,
    )
    return page, not (page.more_actions or page.more_piers or shown != tuple(ticks))


def _height_of(bare: Front, room: Room) -> float:
    """What the page takes without the rows and heads of its tables."""
    told = (
        f"Emergency: {bare.emergency or 'not known. Write it here before work:' + 50 * ' '}",
        f"Remarks from the survey: {bare.remarks}" if bare.remarks else "",
        *(f"Earliest first day: {end.day} ({end.why})" for end in (bare.earliest, bare.latest)),
        *bare.by_whom,
        bare.order,
        f"Count for every pier too: {bare.besides}." if bare.besides else "",
        *(f"-- {line}" for line in bare.disagreement),
        BRIEF_CAUTIONS,
    )
    plan_scale = _BOLD if bare.verdict.may_start else 1.0
    facts = "".join(f"{head}: {fact}  .  " for head, fact in bare.facts)
    return (
        _TITLE + max(0.0, room.tall(bare.job, 0.75, 1.8) - 1.8) + room.tall(facts)
        + _FRAME + room.tall(bare.scheduled, 0.85, 1.1)
        + sum(room.tall(one) + _PARAGRAPH for one in told if one)
        + room.tall(bare.plan, scale=plan_scale) + _PARAGRAPH
        + (3 * _HEADING + 2 if bare.disagreement else 0)
        + _SIGNING + room.tall(_KEY * " " + bare.file, scale=_SMALL) + 2 * _SECTION
    )  # fmt: skip


def _height_of_action(one: Action, room: Room) -> float:
    said = room.tall(f" {one.why}", 0.63, bold=one.do)
    return _ROW + max(room.tall(f"12. {one.who}", 0.14, _BOLD), said, room.tall(one.where, 0.21))


def _height_of_piers(one: Piers, room: Room) -> float:
    line = one.line
    return _ROW + max(
        room.tall(one.where, 0.13, _BOLD), room.tall(f"xxx{line.verdict.value}", 0.17, _BOLD),
        room.tall(f"{line.pit}, {line.depth}", 0.18), room.tall(line.protection, 0.13),
        room.tall(one.seat, 0.15), room.tall(one.codes, 0.17, _SMALL), room.tall(one.round, 0.06),
    )  # fmt: skip


def _height_of_box(one: Box, room: Room, *, whole: bool) -> float:
    rest = one.rest if whole else _MORE if one.rest or one.cut else ""
    said = room.tall(f" {rest} {one.same} ({one.of})", 0.71, bold=one.do)
    return _ROW + max(_LEAST_ROW, said, room.tall(one.where, 0.15))


def _worst_first(
    heights: Sequence[float], piers: Sequence[Piers], room: float
) -> tuple[list[float], Sequence[Piers]]:
    """The piers as they stand on the form if all have room, else the worst of them first."""
    if sum(heights) <= room:
        return list(heights), piers
    verdicts = list(Verdict)
    order = sorted(range(len(piers)), key=lambda i: -verdicts.index(piers[i].line.verdict))
    return [heights[i] for i in order], [piers[i] for i in order]


def _told_at_length(shown: Sequence[Box], room: Room, left: float) -> tuple[Box, ...]:
    """Boxes with the rest of what they say, as far as there is room for it."""
    told: list[Box] = []
    for one in shown:
        more = _height_of_box(one, room, whole=True) - _height_of_box(one, room, whole=False)
        if more <= left:
            left -= more
            told.append(one)
        else:
            told.append(replace(one, rest="", cut=True))
    return tuple(told)


def _counted(left_out: Sequence[Action]) -> str:
    """What has no room, by kind."""
    kinds = by_key(left_out, lambda one: one.kind)
    parts = (count(len(same), same[0].kind, _MANY.get(same[0].kind, "")) for same in kinds)
    return f"and {len(left_out)} more, in full below: {', '.join(parts)}." if left_out else ""


_MANY = {"matter to clear up": "matters to clear up"}


def _named(left_out: Sequence[Piers], places: Places) -> str:
    """The piers that have no room, by verdict."""
    if not left_out:
        return ""
    by_verdict = by_key(left_out, lambda one: one.line.verdict)
    parts = [
        f"{same[0].line.verdict.value} "
        f"{places.named(Subject.PIER, (label for one in same for label in one.labels))}"
        for same in by_verdict
    ]
    number = sum(len(one.labels) for one in left_out)
    return cut(f"and {number} more, in full below: {'; '.join(parts)}.", _TOLD)
