"""Air in a room: carbon monoxide of an engine, and whether a space is a confined space."""

from __future__ import annotations

import math
from typing import NamedTuple

from survey.engineering._steps import given, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.model import Value
from survey.vocabulary import DOES_NOT_APPLY, Kind

_ENGINE_HP = 5.0
_ENGINE_FT3_MIN = 1.8
_MILLION = 1e6
_EXHAUST_PPM = 100_000.0  # a petrol engine's exhaust holds about 10 % at most, from memory
_MINUTES_AN_HOUR = 60.0

_PAPER = "Earnest et al., Am. Ind. Hyg. Assoc. J. 58(11), 1997, 787-791"
_RATE = f"computed here from the times of {_PAPER}"
_SCALING = "by power, not below that of the 5 hp engine: common practice"
_BALANCE = "well-mixed room, mass balance"
_VALID = (
    "air clean at the start and well mixed, which no room is: near the engine it is worse and "
    "sooner. Open doors and a running fan were not enough in the paper's field case. No figure "
    "here makes it safe to run an engine indoors"
)


class _Room(NamedTuple):
    """Generation and ventilation, ft3/min, with their lines."""

    generation: float
    ventilation: float
    lines: tuple[Line, ...]

    @property
    def steady_ppm(self) -> float:
        """G / Q, ppm; no more than there is in the exhaust itself."""
        if self.generation * _MILLION >= self.ventilation * _EXHAUST_PPM:
            return _EXHAUST_PPM
        return self.generation / self.ventilation * _MILLION


def _reason(power: float, volume: float, changes: float) -> str:
    return outside(
        ("engine power", power, 0.5, 30.0, "hp"),
        ("room volume", volume, 50.0, 100_000.0, "ft3"),
        ("air changes", changes, 0.0, 30.0, "an hour"),
    )


def _room(power: float, volume: float, changes: float) -> _Room:
    generation = _ENGINE_FT3_MIN * max(power / _ENGINE_HP, 1.0)
    ventilation = changes * volume / _MINUTES_AN_HOUR
    p, v, n = number(power), number(volume), number(changes)
    lines = (
        given("P", "engine power", power, Kind.POWER),
        given("V", "room volume", volume, Kind.VOLUME),
        noted("N", "air changes", f"{n} an hour"),
        Line("G", "carbon monoxide made", "1.8 max(P / 5, 1)", f"1.8 x max({p} / 5, 1)",
             f"{number(generation)} ft3/min", f"1.8 ft3/min at 5 hp {_RATE}; {_SCALING}"),
        Line("Q", "fresh air", "N V / 60", f"{n} x {v} / 60", f"{number(ventilation)} ft3/min"),
    )  # fmt: skip
    return _Room(generation, ventilation, lines)


def minutes_to_concentration(
    engine_power_hp: float, room_volume_ft3: float, air_changes_an_hour: float, ppm: float
) -> Result:
    """Time until carbon monoxide of an engine in a room reaches a concentration.

    t = V / Q x ln(1 / (1 - C Q / G)) with C = ppm / 10^6 and Q = N V / 60; t = C V / G where no air
    is changed. G = 1.8 ft3/min x max(P / 5, 1): that of the 5 hp petrol engine of the paper, more
    for a larger engine, no less for a smaller one, since small engines burn no cleaner.

    Args:
        engine_power_hp: P, hp, 0.5 to 30; of several engines the sum, each taken as at least 5.
        room_volume_ft3: V, ft3, 50 to 100,000.
        air_changes_an_hour: N, 0 to 30.
        ppm: C, 1 to 10,000, such as 200 (ceiling) and 1,200 (at once dangerous to life).

    Returns:
        Minutes, in well-mixed air that is clean at the start: the longest that it can take a
        person who stands near the engine. ``DOES_NOT_APPLY`` where it is never reached, because
        the steady concentration G / Q stays below; that does not make it safe.

    Not known when:
        A figure is out of its range.

    Source:
        Earnest et al., Am. Ind. Hyg. Assoc. J. 58(11), 1997, 787-791: times in a well-mixed room;
        200 and 1,200 ppm are its NIOSH limits. The rate of 1.8 ft3/min is computed here from its
        two times in a room of 10,000 ft3; scaling it by power is common practice.

    >>> round(minutes_to_concentration(5.0, 10000.0, 1.0, 1200.0).value, 1)
    7.1
    """
    reason = _reason(engine_power_hp, room_volume_ft3, air_changes_an_hour) or outside(
        ("concentration", ppm, 1.0, 10_000.0, "ppm")
    )
    if reason:
        return not_known(reason)
    room = _room(engine_power_hp, room_volume_ft3, air_changes_an_hour)
    share = ppm / _MILLION
    g, q, v = number(room.generation), number(room.ventilation), number(room_volume_ft3)
    c = number(share, 9)
    lines = (
        *room.lines,
        Line("C", "concentration", "ppm / 1,000,000", f"{number(ppm)} / 1,000,000", c),
    )
    filled = share * room.ventilation / room.generation  # of the steady concentration
    title = f"Time to {number(ppm)} ppm of carbon monoxide"
    if filled >= 1.0:
        steady = (
            Line("", "steady concentration, never above", "1,000,000 G / Q",
                 f"1,000,000 x {g} / {q}", f"{number(room.steady_ppm)} ppm", _BALANCE),
        )  # fmt: skip
        why = (
            f"well-mixed air stays at {number(room.steady_ppm, 0)} ppm or below; near the engine "
            "it is worse, and this does not make it safe"
        )
        return Result(DOES_NOT_APPLY, why, Working(title, _PAPER, _VALID, (*lines, *steady)))
    if filled < 1e-9:  # of so little air that the two formulas can't be told apart
        minutes = share * room_volume_ft3 / room.generation
        formula, numbers = "C V / G", f"{c} x {v} / {g}"
    else:
        minutes = -room_volume_ft3 / room.ventilation * math.log1p(-filled)
        formula = "V / Q x ln(1 / (1 - C Q / G))"
        numbers = f"{v} / {q} x ln(1 / (1 - {c} x {q} / {g}))"
    last = Line("t", "time", formula, numbers, f"{number(minutes)} min", _BALANCE)
    return Result(minutes, working=Working(title, _PAPER, _VALID, (*lines, last)))


def steady_concentration(
    engine_power_hp: float, room_volume_ft3: float, air_changes_an_hour: float
) -> Result:
    """Concentration of carbon monoxide that a room with a running engine comes to.

    C = G / Q in ppm, at most 100,000: what there is in the exhaust itself, and what a room
    without fresh air tends to. G and Q as in :func:`minutes_to_concentration`.

    Args:
        engine_power_hp: P, hp, 0.5 to 30; of several engines the sum, each taken as at least 5.
        room_volume_ft3: V, ft3, 50 to 100,000.
        air_changes_an_hour: N, 0 to 30.

    Returns:
        ppm, in well-mixed air; near the engine it is worse.

    Not known when:
        A figure is out of its range.

    Source:
        As of :func:`minutes_to_concentration`. That exhaust holds about 10 % at most is from
        memory.

    >>> round(steady_concentration(5.0, 2332.0, 21.5).value)
    2154
    """
    reason = _reason(engine_power_hp, room_volume_ft3, air_changes_an_hour)
    if reason:
        return not_known(reason)
    room = _room(engine_power_hp, room_volume_ft3, air_changes_an_hour)
    g, q = number(room.generation), number(room.ventilation)
    numbers = f"min(1,000,000 x {g} / {q}, 100,000)" if room.ventilation > 0 else "no fresh air"
    last = Line("C", "steady concentration", "min(1,000,000 G / Q, 100,000)", numbers,
                f"{number(room.steady_ppm)} ppm",
                f"{_BALANCE}; 10 % of carbon monoxide in exhaust from memory")  # fmt: skip
    title = "Carbon monoxide that a room comes to"
    working = Working(title, _PAPER, _VALID, (*room.lines, last))
    return Result(room.steady_ppm, working=working)


_NOT_CONFINED = "not a confined space"
_NO_PERMIT = "confined space, no permit needed"
_PERMIT = "permit space"
_NO_HAZARD = "none found"
_HAZARDS = (_NO_HAZARD, "bad air possible", "could be engulfed or trapped", "other serious hazard")
_DEFINITION = "29 CFR 1926.1202, confined space"
_PERMIT_DEFINITION = "29 CFR 1926.1202, permit-required confined space"


def confined_space_screening(
    can_enter_bodily: Value,
    limited_way_in_or_out: Value,
    meant_for_people: Value,
    space_hazards: Value,
) -> Result:
    """What the definitions make of a space, before the competent person decides.

    A confined space is all three: large enough to enter bodily, limited or restricted in its
    ways in and out, and not designed for people to stay in. One that surely is not so settles it.
    A confined space with any of the four hazards of the definition is a permit space.

    Args:
        can_enter_bodily: yes or no: a person can get into it with the whole body.
        limited_way_in_or_out: yes or no.
        meant_for_people: yes or no: designed for people to stay in all the time.
        space_hazards: ``none found``, ``bad air possible``, ``could be engulfed or trapped`` or
            ``other serious hazard``; one is enough. Work that brings a hazard in, such as an
            engine, solvents or cutting, counts.

    Returns:
        ``not a confined space``, ``confined space, no permit needed`` or ``permit space``.

    Not known when:
        An answer that is not known can change the finding, or is no word of these.

    Source:
        29 CFR 1926.1202 (three-part test; permit space, its four hazards from memory);
        1926.1203(a): a competent person identifies each space before work. The rule leaves out
        work regulated by Subpart P, the pit itself: 1926.1201(b)(1).

    >>> confined_space_screening("yes", "yes", "no", "bad air possible").value
    'permit space'
    """
    parts = (
        ("can be entered bodily", can_enter_bodily, "yes"),
        ("limited way in or out", limited_way_in_or_out, "yes"),
        ("designed for people to stay in", meant_for_people, "no"),
    )
    settled = any(answer in ("yes", "no") and answer != needed for _, answer, needed in parts)
    lacking = [f"{name}: {answer}" for name, answer, needed in parts if answer != needed]
    if not settled and lacking:
        return not_known(f"it may be a confined space; {'; '.join(lacking)}")
    if not settled and space_hazards not in _HAZARDS:
        return not_known(f"it is a confined space; hazards: {space_hazards}")
    found = _NOT_CONFINED
    if not settled:
        found = _NO_PERMIT if space_hazards == _NO_HAZARD else _PERMIT
    lines = (
        *(noted("", name, str(answer), _DEFINITION) for name, answer, _ in parts),
        noted("", "hazards", str(space_hazards), f"{_PERMIT_DEFINITION}, its four from memory"),
        Line("", "confined space", "yes, yes and no; any other answer settles it",
             ", ".join(str(answer) for _, answer, _ in parts), "no" if settled else "yes",
             _DEFINITION),
        Line("", "screening", "a confined space with a hazard is a permit space",
             str(space_hazards), found, _PERMIT_DEFINITION),
    )  # fmt: skip
    valid = (
        "a screening; the competent person identifies confined spaces before work starts and "
        "again when use, shape or hazards of the space change, 1926.1203(a)"
    )
    return Result(found, working=Working("Confined space screening", _DEFINITION, valid, lines))
