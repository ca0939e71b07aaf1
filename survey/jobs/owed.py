"""Who has to do what before the crew may come."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from survey.assessment import Assessment
from survey.assessment.decision import BY_OUTCOME, Verdict
from survey.assessment.findings import Finding, Question
from survey.rulebook.rules import Outcome
from survey.sheets._legible import legible
from survey.vocabulary import Origin, Subject, Vocabulary

SURVEYOR, ONE_CALL, SCHEDULER = "surveyor", "one-call", "scheduler"
SAFETY_LEAD, ENGINEER, CREW = "safety lead", "engineer", "crew"
# What only the one-call centre and the owners of the lines can say.
OF_THE_ONE_CALL = frozenset(
    {"ticket number", "ticket start", "ticket end", "tolerance zone", "owner's answer",
     "locate marks"}
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Owed:
    """One thing that somebody has to do before the crew may come.

    Args:
        who: the role, such as ``surveyor``.
        person: by name, where the survey names him.
        about: what is wrong or open, in a few words.
        what: what to do, or the question to answer.
        code: of the rule; empty for a question or a cell.
        places: where, such as ``P1``; of a question also its cell.
        decides: whether the verdict is as bad as it is because of it, among others.
    """

    who: str
    person: str
    about: str
    what: str
    code: str
    places: tuple[str, ...]
    decides: bool


def owed(assessment: Assessment) -> Iterator[Owed]:
    """What has to be done before the crew may come; first what decides the verdict."""
    found = [
        *_disagreement(assessment),
        *_findings(assessment),
        *_cells(assessment),
        *_questions(assessment),
        *_days(assessment),
    ]
    yield from (one for one in found if one.decides)
    yield from (one for one in found if not one.decides)


def _disagreement(assessment: Assessment) -> Iterator[Owed]:
    if assessment.disagreement:
        what = "report the internal disagreement, a fault of the program; the sheet has it"
        yield Owed(SAFETY_LEAD, "", "internal disagreement", what, "", ("site",), decides=True)


def _findings(assessment: Assessment) -> Iterator[Owed]:
    """What is met and holds the crew up; a rule once, with all its places."""
    groups: dict[tuple[str, Outcome], list[Finding]] = {}
    for finding in assessment.findings:
        waits_for_answers = finding.outcome is Outcome.ASK and finding.settles
        holds = finding.outcome in (Outcome.STOP, Outcome.ENGINEER, Outcome.ASK)
        if finding.counts and holds and not waits_for_answers:
            groups.setdefault((finding.rule.code, finding.outcome), []).append(finding)
    for (code, outcome), findings in groups.items():
        first = findings[0]
        who = ENGINEER if outcome is Outcome.ENGINEER else first.who or SAFETY_LEAD
        yield Owed(
            who, _person(assessment, who), first.rule.name, legible(first.do or first.say), code,
            _places(f.place for f in findings), BY_OUTCOME[outcome] is assessment.verdict,
        )  # fmt: skip


def _cells(assessment: Assessment) -> Iterator[Owed]:
    """Cells to put right."""
    for problem in assessment.problems:
        yield Owed(
            SURVEYOR, _person(assessment, SURVEYOR), "a cell to put right",
            legible(problem.message), "", (legible(problem.where),), _holds(assessment),
        )  # fmt: skip


def _questions(assessment: Assessment) -> Iterator[Owed]:
    """Open questions that a finding waits for; one once, with all its places."""
    groups: dict[str, list[Question]] = {}
    for question in assessment.questions:
        groups.setdefault(question.input.word, []).append(question)
    for word, questions in groups.items():
        who = whose(word, assessment.survey.vocabulary)
        places = _places(f"{q.input.label} ({q.input.answer.where})" for q in questions)
        yield Owed(
            who, _person(assessment, who), f"not known: {word}", legible(questions[0].prompt), "",
            places,
            _holds(assessment),
        )  # fmt: skip


def _days(assessment: Assessment) -> Iterator[Owed]:
    """Days that can't be kept together."""
    for clash in assessment.plan.clashes:
        what = legible(f"Set other days for the crew: {clash}.")
        yield Owed(SCHEDULER, "", "days of the crew", what, "", ("site",), _holds(assessment))


def whose(word: str, vocabulary: Vocabulary) -> str:
    """Who can answer a question: whoever saw, chose or was told it."""
    if word in OF_THE_ONE_CALL:
        return ONE_CALL
    asked = vocabulary[word]
    if asked.origin is Origin.CHOSEN:
        return SCHEDULER if asked.subject is Subject.SITE else SAFETY_LEAD
    return SURVEYOR


def _holds(assessment: Assessment) -> bool:
    return assessment.verdict is Verdict.HOLD


def _person(assessment: Assessment, who: str) -> str:
    """The name of whoever has a role, where the survey gives it."""
    word = who if who in ("surveyor", "competent person") else ""
    site = assessment.survey.site
    return legible(str(site.known(word) or "")) if word in site.answers else ""


def _places(places: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(map(legible, places)))
