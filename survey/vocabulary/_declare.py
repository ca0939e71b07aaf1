"""Short ways to declare words, one for each way of answering."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from survey.vocabulary.kinds import MEASURES, Kind
from survey.vocabulary.words import Origin, Subject, Word

SEEN, CHOSEN = Origin.SEEN, Origin.CHOSEN


def measured(  # noqa: PLR0917 - the order in which a declaration reads
    kind: Kind, subject: Subject, name: str, unit: str, prompt: str, help: str = "", **more: Any
) -> Word:
    """A number with a unit; ``between`` is its plausible range in that same unit."""
    low, high = more.pop("between", (None, None))
    factor = MEASURES[kind].units[unit.lower()]
    return Word(
        name, subject, kind, more.pop("origin", SEEN), prompt, help, unit=unit,
        low=None if low is None else low * factor,
        high=None if high is None else high * factor, **more,
    )  # fmt: skip


def choice(
    subject: Subject, name: str, choices: str, prompt: str, help: str = "", **more: Any
) -> Word:
    """One of the choices, which stand between bars."""
    listed = tuple(part.strip() for part in choices.split("|"))
    origin = more.pop("origin", SEEN)
    return Word(name, subject, Kind.CHOICE, origin, prompt, help, choices=listed, **more)


def yes_no(subject: Subject, name: str, prompt: str, help: str = "", **more: Any) -> Word:
    """Yes or no; ``no`` is the worse answer unless the choices are turned round."""
    origin = more.pop("origin", SEEN)
    choices = more.pop("choices", ("yes", "no"))
    return Word(name, subject, Kind.YES_NO, origin, prompt, help, choices=choices, **more)


def plain(
    kind: Kind, subject: Subject, name: str, prompt: str, help: str = "", **more: Any
) -> Word:
    """A date, a text or a reference."""
    return Word(name, subject, kind, more.pop("origin", SEEN), prompt, help, **more)


def declares(subject: Subject) -> dict[str, Callable[..., Word]]:
    """The ways to declare a word, for one subject."""
    return {
        "length": partial(measured, Kind.LENGTH, subject),
        "pressure": partial(measured, Kind.PRESSURE, subject),
        "line_load": partial(measured, Kind.LINE_LOAD, subject),
        "force": partial(measured, Kind.FORCE, subject),
        "slope": partial(measured, Kind.SLOPE, subject),
        "share": partial(measured, Kind.SHARE, subject),
        "angle": partial(measured, Kind.ANGLE, subject),
        "days": partial(measured, Kind.DAYS, subject),
        "count": partial(measured, Kind.COUNT, subject),
        **{
            kind.value: partial(measured, kind, subject)
            for kind in (
                Kind.DURATION,
                Kind.AREA,
                Kind.VOLUME,
                Kind.FLOW,
                Kind.POWER,
                Kind.VOLTAGE,
                Kind.RESISTIVITY,
                Kind.ACIDITY,
                Kind.CONCENTRATION,
            )
        },
        "choice": partial(choice, subject),
        "yes_no": partial(yes_no, subject),
        "date": partial(plain, Kind.DATE, subject),
        "text": partial(plain, Kind.TEXT, subject),
        "reference": partial(plain, Kind.REFERENCE, subject),
    }
