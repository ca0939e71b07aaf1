"""Air, confined space and dust, which the whole site has in common."""

from __future__ import annotations

from survey.engineering import air, dust
from survey.engineering.working import Quantity, Result
from survey.quantities.inputs import Asked, resting_on, waits_for, worked
from survey.quantities.named import Named
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN

_EXHAUST = ("engine place", "engine power", "room volume", "air changes an hour")
_NO_EXHAUST = ("no engine", "outside, away from openings")
_SPACE = ("inside work", "narrow way in", "meant for people to stay", "space hazards")
_CUTTING = ("cutting tool", "dust control", "cutting time in a day")
# Dust gathers in a pit as it does in a room, so cutting there counts as indoors: our reading of
# "enclosed areas" in 1926.1153(c)(2)(i).
_ENCLOSED = "yes"


def of_site(site: Asked) -> Named:
    """Carbon monoxide, confined space screening and respirator."""
    return {
        **_carbon_monoxide(site),
        "confined space screening": _screening(site),
        "respirator for cutting": _respirator(site),
    }


def _carbon_monoxide(site: Asked) -> Named:
    words = ("steady carbon monoxide", "time to 200 ppm", "time to 1200 ppm")
    place = site["engine place"]
    if place.answer.value in _NO_EXHAUST:
        away = Quantity(Result(DOES_NOT_APPLY, "no exhaust reaches a room"), (place,))
        return dict.fromkeys(words, away)
    asked = site.some(*_EXHAUST)
    return {
        words[0]: worked(
            lambda _, hp, ft3, changes: air.steady_concentration(hp, ft3, changes), *asked
        ),
        words[1]: worked(
            lambda _, hp, ft3, changes: air.minutes_to_concentration(hp, ft3, changes, 200.0),
            *asked,
        ),
        words[2]: worked(
            lambda _, hp, ft3, changes: air.minutes_to_concentration(hp, ft3, changes, 1200.0),
            *asked,
        ),
    }


def _screening(site: Asked) -> Quantity:
    inside, narrow, stay, hazards = site.some(*_SPACE)
    if inside.answer.value is NOT_KNOWN:
        return waits_for(inside)
    if inside.answer.value != "crawl space":
        return Quantity(Result(DOES_NOT_APPLY, "nobody works in a crawl space"), (inside,))
    found = air.confined_space_screening(
        "yes", narrow.answer.value, stay.answer.value, hazards.answer.value
    )
    return resting_on(found, inside, narrow, stay, hazards)


def _respirator(site: Asked) -> Quantity:
    tool, control, time = site.some(*_CUTTING)
    minutes = time.answer.value
    hours = minutes / 60 if isinstance(minutes, (int, float)) else minutes
    found = dust.respirator_needed(tool.answer.value, control.answer.value, _ENCLOSED, hours)
    return resting_on(found, tool, control, time)
