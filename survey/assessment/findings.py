"""From what the rules say to findings: text filled in, releases applied, questions gathered."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from survey.assessment.filling import Filler
from survey.assessment.releases import Release, Standing, print_standing
from survey.engineering.working import Input
from survey.facts import Thing
from survey.model import Survey
from survey.rulebook.direct import Reason, Told
from survey.rulebook.judgement import Truth
from survey.rulebook.rules import Conclusion, Lift, Outcome, Rule
from survey.vocabulary import (
    CLOSED_BY,
    NOT_KNOWN,
    SCOPES,
    Subject,
    Vocabulary,
)


@dataclass(frozen=True, slots=True)
class Finding:
    """One rule that is met, or that can't be told, at one place.

    Args:
        rule: the rule.
        place: label of the thing, ``site`` for the site.
        outcome: what it does to the verdict; ``ASK`` where it can't be told.
        piers: labels of the piers that it counts for; empty where it counts for all.
        say: what is wrong, or what has to be known.
        do: what to do about it.
        who: who does it.
        reasons: the clauses behind it.
        settles: the answers that would settle it, if it can't be told.
        releases: those that lift it, each with what the crew keeps to; empty if none does.
        refused: the releases that name it but don't hold, with why.
        say_es, do_es: the same in Spanish; empty where the rule has none.
    """

    rule: Rule
    place: str
    outcome: Outcome
    piers: tuple[str, ...]
    say: str
    do: str
    who: str
    reasons: tuple[Reason, ...]
    settles: tuple[Input, ...]
    releases: tuple[Release, ...]
    refused: tuple[Standing, ...]
    say_es: str = ""
    do_es: str = ""

    @property
    def counts(self) -> bool:
        """Whether it counts towards the verdict."""
        return not self.releases


@dataclass(frozen=True, slots=True)
class Chained:
    """A conclusion that a rule drew, shown so that the chain can be followed."""

    rule: Rule
    place: str
    text: str
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class Question:
    """An answer that is not known and that some finding waits for.

    Args:
        input: the answer, with its cell.
        prompt: the question as on the form.
        help: how to find the answer.
        rules: codes of the rules that wait for it.
    """

    input: Input
    prompt: str
    help: str
    rules: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Found:
    """Where findings are.

    Args:
        places: labels of the places, by the code of the rule.
        open_lists: by the code of a rule, the question whether there is more than is listed.
    """

    places: Mapping[str, Sequence[str]]
    open_lists: Mapping[str, Input]


def conclude(
    told: Iterable[Told],
    filler: Filler,
    survey: Survey,
    standings: Mapping[tuple[str, str], tuple[Standing, ...]],
) -> tuple[tuple[Finding, ...], tuple[Chained, ...]]:
    """Make findings of what the direct evaluator told, worst first.

    Whatever an open list may have left out is asked once for each rule, not once for each pier.
    """
    findings: list[Finding] = []
    chained: list[Chained] = []
    asked: set[tuple[str, Input]] = set()
    for one in told:
        if isinstance(one.rule.then, Conclusion):
            if one.truth is Truth.TRUE:
                text = filler.fill(one.rule.say, one.thing)
                chained.append(Chained(one.rule, one.thing.label, text, one.reasons))
            continue
        if isinstance(one.rule.then, Lift):
            continue  # it stands with the findings that it lifts
        if one.rule.then is Outcome.NOTE and one.truth is Truth.UNKNOWN:
            continue  # a note changes no verdict, whatever the answer
        if not one.thing.listed:
            question = (one.rule.code, _closing(one.thing))
            if question in asked:
                continue
            asked.add(question)
        findings.append(_finding(one, filler, survey, standings))
    findings.sort(key=lambda f: (not f.counts, -f.outcome.rank))
    return tuple(findings), tuple(chained)


def _finding(
    one: Told,
    filler: Filler,
    survey: Survey,
    standings: Mapping[tuple[str, str], tuple[Standing, ...]],
) -> Finding:
    rule, thing = one.rule, one.thing
    assert isinstance(rule.then, Outcome)
    named = standings.get((rule.code, thing.label), ())
    releases = tuple(s.release for s in named if not s.refused)
    refused = tuple(s for s in named if s.refused)
    if one.truth is Truth.TRUE:
        return Finding(
            rule, thing.label, rule.then, _piers(thing),
            filler.fill(rule.say, thing), filler.fill(rule.do, thing),
            rule.who, one.reasons, (), releases, refused,
            filler.fill_es(rule.say_es, thing), filler.fill_es(rule.do_es, thing),
        )  # fmt: skip
    if thing.listed:
        place, piers = thing.label, _piers(thing)
        missing = (i for reason in one.reasons for i in reason.missing)
        settles = askable(missing, survey, filler.book.vocabulary)
    else:
        place, piers, settles = "site", (), (_closing(thing),)
    do = f"Answer: {_list(settles)}."
    if settles:
        # An engineer who releases something has judged it; what nobody has seen can't be judged.
        waiting = "there is an open question first, and what can't be told nobody can release"
        refused += tuple(Standing(release, waiting, settles) for release in releases)
        releases = ()
    else:  # every answer is there, and still the figure can't be worked out
        whys = (part for reason in one.reasons if reason.why for part in reason.why.split("; "))
        why = "; ".join(dict.fromkeys(whys))  # what several figures lack is said once
        do = f"Look again on site, or have an engineer decide. It can't be worked out: {why}."
    return Finding(
        rule, place, Outcome.ASK, piers, f"Can't tell whether there is this: {rule.name}.", do,
        "surveyor", one.reasons, settles, releases, refused,
    )  # fmt: skip


def where_found(findings: Iterable[Finding]) -> Found:
    """Where each rule has a finding, so that a release that names none can be told."""
    places: dict[str, list[str]] = {}
    open_lists: dict[str, Input] = {}
    for finding in findings:
        if finding.place == "site" and finding.rule.subject is not Subject.SITE:
            open_lists[finding.rule.code] = finding.settles[0]
        else:
            places.setdefault(finding.rule.code, []).append(finding.place)
    return Found(places, open_lists)


def unmet(told: Told, lift: Lift, survey: Survey, vocabulary: Vocabulary) -> Standing:
    """A firm's standing release whose conditions are not met at a place, or can't be told.

    Args:
        told: the standing release, judged where the finding is.
        lift: what it lifts.
        survey: the site.
        vocabulary: the words of the book.
    """
    release, reasons = print_standing(told.rule, lift), told.reasons
    if told.truth is Truth.FALSE:
        said = dict.fromkeys(f"{r.clause} ({_briefly(r.found, told.thing)})" for r in reasons)
        return Standing(release, f"its conditions are not met: {'; '.join(said)}")
    missing = (given for reason in reasons for given in reason.missing)
    settles = askable(missing, survey, vocabulary)
    why = "; ".join(dict.fromkeys(reason.why for reason in reasons if reason.why))
    untold = "it can't be told whether its conditions are met"
    return Standing(release, untold if settles or not why else f"{untold}: {why}", settles)


def _briefly(found: str, thing: Thing) -> str:
    """What was found, without the label of the place where it was."""
    return re.sub(f" (?:of|at) {re.escape(thing.label)}: ", ": ", found, count=1)


def askable(missing: Iterable[Input], survey: Survey, vocabulary: Vocabulary) -> tuple[Input, ...]:
    """The answers to ask for: each once, and first the one that tells whether another applies."""
    return tuple(dict.fromkeys(_first_to_ask(given, survey, vocabulary) for given in missing))


def _first_to_ask(given: Input, survey: Survey, vocabulary: Vocabulary) -> Input:
    word = vocabulary[given.word]
    if word.asks_when is None:
        return given
    for row in survey.rows(word.subject):
        if row.label == given.label:
            answer = row.answers[word.asks_when.word]
            if answer.value is NOT_KNOWN:
                governing = Input(word.asks_when.word, row.label, answer)
                return _first_to_ask(governing, survey, vocabulary)
    return given


def _list(inputs: Iterable[Input]) -> str:
    return "; ".join(f"{i.word} of {i.label} ({i.answer.where})" for i in inputs)


def _closing(thing: Thing) -> Input:
    """The question that would close the list that an unlisted thing stands for."""
    subjects = [s for s in SCOPES[thing.subject] if s in CLOSED_BY]
    word = CLOSED_BY[subjects[0]]
    site = thing.part(Subject.SITE)
    (closing,) = site.facts[word].inputs
    return closing


def _piers(thing: Thing) -> tuple[str, ...]:
    subjects = (s for s in (Subject.PIER, Subject.OTHER_PIER) if s in SCOPES[thing.subject])
    return tuple(thing.part(subject).label for subject in subjects)


def gather_questions(findings: Iterable[Finding], vocabulary: Vocabulary) -> tuple[Question, ...]:
    """The answers that the open findings wait for, most waited for first."""
    rules: dict[Input, list[str]] = {}
    for finding in findings:
        if finding.counts and finding.outcome is Outcome.ASK:
            for given in finding.settles:
                rules.setdefault(given, []).append(finding.rule.code)
    questions = [
        Question(i, word.prompt, word.help, tuple(dict.fromkeys(codes)))
        for i, codes in rules.items()
        for word in (vocabulary[i.word],)
    ]
    return tuple(sorted(questions, key=lambda q: -len(q.rules)))
