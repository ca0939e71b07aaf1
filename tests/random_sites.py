"""Random sites near an ordinary one: quick to make by the thousand from a seed.

Hypothesis draws the seed. Most answers are those of the careful house, some are changed and some
are not known, so that every verdict comes up; wholly random surveys are nearly all NO-GO.
"""

from __future__ import annotations

import datetime as dt
import random
from collections.abc import Callable, Sequence
from dataclasses import replace

from survey.model import LISTS, Answer, Row, Survey, Value
from survey.vocabulary import (
    CLOSED_BY,
    DOES_NOT_APPLY,
    NOT_KNOWN,
    VOCABULARY,
    Kind,
    Subject,
    Word,
    Worse,
)
from tests.demo_surveys import careful_house, survey_of


def _ordinary() -> Survey:
    document = careful_house()
    # A list, not a range: it names each pier that is left when some are taken away.
    for release in document["releases"]:
        release["released_place"] = "P1, P2, P3, P4, P5"
    return survey_of(document, "ordinary")


ORDINARY = _ordinary()
_CREW_DATE = dt.date(2026, 12, 7)

Change = Callable[[Row, Word, Value], Value]


def random_value(word: Word, rng: random.Random) -> Value:
    """Some answer to a question; lengths are mostly short, dates mostly near the crew date."""
    match word.kind:
        case Kind.CHOICE | Kind.YES_NO:
            return rng.choice(word.choices)
        case Kind.REFERENCE:
            return rng.choice([wall.label for wall in ORDINARY.walls])
        case Kind.DATE:
            return _CREW_DATE + dt.timedelta(days=rng.randint(-40, 40))
        case Kind.TEXT:
            return rng.choice(["FOOT-1", "all", "P1", "somebody"])
        case Kind.COUNT:
            return float(rng.randint(int(word.low or 0), int(word.high or 9)))
        case _:
            assert word.low is not None
            assert word.high is not None
            near = min(word.high, max(word.low, 0) + 10 ** rng.uniform(0, 2.5))
            return round(rng.uniform(word.low, near), 1)


def change(survey: Survey, new: Change) -> Survey:
    """A survey with other answers; what depends on an earlier answer follows it."""

    def row(old: Row) -> Row:
        answers: dict[str, Answer] = {}
        for word in VOCABULARY.asked_of(old.subject):
            before = old.answers[word.name]
            value = new(old, word, before.value)
            if word.asks_when is not None:
                governing = answers[word.asks_when.word].value
                if governing is NOT_KNOWN:
                    value = NOT_KNOWN
                elif governing not in word.asks_when.choices:
                    value = DOES_NOT_APPLY
                elif value is DOES_NOT_APPLY:
                    value = NOT_KNOWN
            answers[word.name] = Answer(value, before.where)
        return replace(old, answers=answers)

    lists = {name: tuple(row(one) for one in survey.rows(s)) for s, name in LISTS.items()}
    return replace(survey, site=row(survey.site), **lists)


def random_survey(rng: random.Random, *, rate: float | None = None) -> Survey:
    """The careful house with a share of its answers changed, and a share not known."""
    if rate is None:
        rate = rng.choice([0.005, 0.02, 0.1, 0.5])

    def new(row: Row, word: Word, value: Value) -> Value:
        if rng.random() >= rate:
            return value
        return NOT_KNOWN if rng.random() < 0.5 else random_value(word, rng)

    return change(_random_rows(ORDINARY, rng), new)


def _random_rows(survey: Survey, rng: random.Random) -> Survey:
    """Fewer piers, and sometimes no utilities or neighbours, or twice as many."""
    chosen = sorted(rng.sample(range(len(survey.piers)), rng.randint(1, 3)))
    piers = tuple(survey.piers[index] for index in chosen)
    return replace(
        survey,
        walls=tuple(_carried_by(wall, piers) for wall in survey.walls),
        piers=piers,
        utilities=survey.utilities * rng.choice([0, 1, 1]),
        neighbours=survey.neighbours * rng.choice([0, 1, 1]),
    )


def _carried_by(wall: Row, piers: Sequence[Row]) -> Row:
    """The wall, with no more of it on the piers that are left than they carry."""
    at_wall = [pier for pier in piers if pier.value("wall of pier") == wall.label]
    stations = [s for pier in at_wall if isinstance(s := pier.value("station"), float)]
    length = wall.value("wall length")
    if not stations or not isinstance(length, float):
        return wall
    first, last = max(min(stations) - 36.0, 0.0), min(max(stations) + 36.0, length)
    carried = {"carried from": first, "carried to": last}
    answers = {word: Answer(value, wall.answers[word].where) for word, value in carried.items()}
    return replace(wall, answers={**wall.answers, **answers})


def complete(survey: Survey, rng: random.Random) -> Survey:
    """Answer every question that is open, anyhow; close the lists after adding rows to them."""
    opened = [s for s in CLOSED_BY if survey.site.value(CLOSED_BY[s]) != "yes"]
    grown = survey
    for subject in opened:
        added = tuple(_row(subject, n, rng) for n in range(rng.randint(0, 2)))
        grown = replace(grown, **{LISTS[subject]: (*grown.rows(subject), *added)})
    closing = {CLOSED_BY[subject] for subject in opened}

    def new(row: Row, word: Word, value: Value) -> Value:
        if word.name in closing:
            return "yes"
        return value if value is not NOT_KNOWN else random_value(word, rng)

    return change(grown, new)


def _row(subject: Subject, number: int, rng: random.Random) -> Row:
    answers = {
        word.name: Answer(random_value(word, rng), "added") for word in VOCABULARY.asked_of(subject)
    }
    return Row(subject, f"added {number}", answers, "added")


def worsen(survey: Survey, rng: random.Random) -> tuple[Survey, str]:
    """One answer made worse along its declared direction; returns what was changed, too."""
    chances = [
        (row.subject, row.label, word)
        for row in survey.every_row()
        for word in VOCABULARY.asked_of(row.subject)
        if word.worse is not None
        and row.answers[word.name].value not in (NOT_KNOWN, DOES_NOT_APPLY)
    ]
    subject, label, word = rng.choice(chances)

    def new(row: Row, one: Word, value: Value) -> Value:
        if (row.subject, row.label, one) != (subject, label, word):
            return value
        if word.worse is Worse.LATER_CHOICE:
            return rng.choice(word.choices[word.choices.index(str(value)) :])
        assert isinstance(value, (int, float))
        assert word.low is not None
        assert word.high is not None
        towards = word.high if word.worse is Worse.HIGHER else word.low
        share = rng.choice([0.01, 0.1, 0.5, 1.0])
        moved = value + (towards - value) * share
        return float(round(moved)) if word.kind is Kind.COUNT else moved

    return change(survey, new), f"{word.name} of {label}"
