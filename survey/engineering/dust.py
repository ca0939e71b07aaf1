"""Stone dust when concrete is cut: what Table 1 of the silica rule asks for."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from survey.engineering._steps import noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.model import Value
from survey.vocabulary import DOES_NOT_APPLY, Missing

NO_RESPIRATOR = "none"
APF_10 = "APF 10"

DRILL = "drill with shroud and collector"
SAW = "saw with water"
CHIPPING_HAMMER = "chipping hammer"

_RULE = "29 CFR 1926.1153"
_TABLE = f"{_RULE}(c)(1) Table 1"
_TOGETHER = f"{_RULE}(c)(3)"
_LONG_SHIFT_HOURS = 4.0
_NOTHING_CUT = "no concrete is cut or drilled"
_CONTROLLED = "water or a shroud on the tool"
_CONTROLS = (_NOTHING_CUT, _CONTROLLED, "none")
_YES_NO = ("no", "yes")


class _Entry(NamedTuple):
    """An entry of Table 1: its control, and the respirator outdoors and indoors.

    Args:
        source: entry of the table, and where its figures were seen.
        control: what the tool must have for the entry to count.
        outdoors: up to 4 hours, and above.
        indoors: likewise, indoors or in an enclosed area.
    """

    source: str
    control: str
    outdoors: tuple[str, str]
    indoors: tuple[str, str]

    def respirator(self, indoors: str, long: bool) -> str:
        return (self.indoors if indoors == "yes" else self.outdoors)[long]


_SEEN = "as a public program's copy gives it"
_ENTRIES = {
    DRILL: _Entry(
        f"{_TABLE} (vii), {_SEEN}",
        "shroud or cowling with dust collector, filter of 99 % or more",
        (NO_RESPIRATOR, NO_RESPIRATOR), (NO_RESPIRATOR, NO_RESPIRATOR),
    ),
    SAW: _Entry(
        f"{_TABLE} (ii), from memory",
        "water fed to the blade by the saw itself",
        (NO_RESPIRATOR, APF_10), (APF_10, APF_10),
    ),
    CHIPPING_HAMMER: _Entry(
        f"{_TABLE} (x), {_SEEN}",
        "water stream or spray at the point of impact, or shroud with dust collector",
        (NO_RESPIRATOR, APF_10), (APF_10, APF_10),
    ),
}  # fmt: skip


class Cutting(NamedTuple):
    """One kind of cutting in a shift.

    Args:
        cutting_tool: one of ``DRILL``, ``SAW``, ``CHIPPING_HAMMER``, or a state.
        indoors: yes or no: indoors or in an enclosed area, as a crawl space or a shielded pit.
        hours_a_day: time that one person does it in a day, hours, 0 to 24, or a state.
    """

    cutting_tool: Value
    indoors: Value
    hours_a_day: Value


def respirator_needed(
    cutting_tool: Value, dust_control: Value, indoors: Value, hours_a_day: Value
) -> Result:
    """Respirator that Table 1 asks for when concrete is cut, drilled or chipped.

    By tool, place and time: up to 4 hours a shift, or more. Drill with shroud and collector:
    none. Handheld saw with water, and chipping hammer with water or shroud: none outdoors for
    up to 4 hours, else a respirator with an assigned protection factor of 10.

    Args:
        cutting_tool: ``drill with shroud and collector``, ``saw with water`` or ``chipping
            hammer``; of several, :func:`respirator_for_shift`.
        dust_control: ``no concrete is cut or drilled``, ``water or a shroud on the tool`` or
            ``none``.
        indoors: yes or no: indoors or in an enclosed area, as a crawl space or a shielded pit.
        hours_a_day: time that one person cuts, drills and chips in a day with all such tools
            together, hours (not minutes), 0 to 24.

    Returns:
        ``none`` or ``APF 10``; ``DOES_NOT_APPLY`` where no concrete is cut or drilled.

    Not known when:
        Table 1 does not cover the tool, or it has no control on it: exposure is then assessed
        under (d). The hours are out of their range, or an answer that is not known can change
        the finding.

    Source:
        29 CFR 1926.1153(c)(1) Table 1 (vii) and (x), seen in a public program's copy; (ii), the
        saw, from memory; (c)(2)(i) exhaust indoors; (c)(3).

    >>> respirator_needed("chipping hammer", "water or a shroud on the tool", "no", 3.0).value
    'none'
    """
    return respirator_for_shift([Cutting(cutting_tool, indoors, hours_a_day)], dust_control)


def respirator_for_shift(cuttings: Sequence[Cutting], dust_control: Value) -> Result:
    """Respirator that Table 1 asks for in a shift with several kinds of cutting.

    The hours are added up: above 4 hours together, what Table 1 has for more than 4 hours counts
    for each of them, (c)(3). The strictest respirator of all is given.

    Args:
        cuttings: what one person does in a shift; at least one.
        dust_control: as in :func:`respirator_needed`, on every tool.

    Returns:
        ``none`` or ``APF 10``; ``DOES_NOT_APPLY`` where no concrete is cut or drilled.

    Not known when:
        As in :func:`respirator_needed`; or the hours together are above 24; or nothing is
        listed.

    Source:
        29 CFR 1926.1153(c)(1) Table 1 and (c)(3).

    >>> shift = [Cutting(CHIPPING_HAMMER, "no", 3.0), Cutting(DRILL, "no", 1.5)]
    >>> respirator_for_shift(shift, "water or a shroud on the tool").value
    'APF 10'
    """
    if dust_control == _NOTHING_CUT:
        return Result(DOES_NOT_APPLY, _NOTHING_CUT)
    reason = _not_covered(cuttings, dust_control)
    if reason:
        return not_known(reason)
    hours = [cutting.hours_a_day for cutting in cuttings]
    possible = {
        _strictest(
            _ENTRIES[str(cutting.cutting_tool)].respirator(place, long)
            for cutting, place in zip(cuttings, places, strict=True)
        )
        for places in itertools.product(*(_options(cutting.indoors) for cutting in cuttings))
        for long in _long_shifts(hours)
    }
    if len(possible) > 1:
        return not_known(
            "the respirator depends on whether the work is indoors or enclosed, and on the hours; "
            "one of them is not known"
        )
    (found,) = possible
    return Result(found, working=_working(cuttings, dust_control, found))


def _not_covered(cuttings: Sequence[Cutting], dust_control: Value) -> str:
    """Why Table 1 does not tell; empty if it does."""
    if isinstance(dust_control, Missing):
        return f"the dust control is {dust_control}"
    if dust_control not in _CONTROLS:
        return f"'{dust_control}' is no dust control of Table 1; {_assess()}"
    if dust_control != _CONTROLLED:
        return f"Table 1 has no entry without a dust control; {_assess()}"
    if not cuttings:
        return "no cutting is listed"
    for tool in (cutting.cutting_tool for cutting in cuttings):
        if isinstance(tool, Missing):
            return f"the cutting tool is {tool}"
        if tool not in _ENTRIES:
            return f"Table 1 as held here has no entry for '{tool}'; {_assess()}"
    known = [c.hours_a_day for c in cuttings if isinstance(c.hours_a_day, (int, float))]
    return outside(
        *(("cutting time", hours, 0.0, 24.0, "hours a day") for hours in known),
        ("cutting time together", sum(known), 0.0, 24.0, "hours a day"),
    ) or next(
        (
            "whether it is indoors takes a yes or a no"
            for cutting in cuttings
            if not isinstance(cutting.indoors, Missing) and cutting.indoors not in _YES_NO
        ),
        "",
    )


def _assess() -> str:
    return f"exposure must be assessed and limited under {_RULE}(d)"


def _options(indoors: Value) -> tuple[str, ...]:
    return _YES_NO if isinstance(indoors, Missing) else (str(indoors),)


def _long_shifts(hours: Sequence[Value]) -> tuple[bool, ...]:
    """Whether the shift is over 4 hours, as far as is known."""
    known = sum(each for each in hours if isinstance(each, (int, float)))
    if known > _LONG_SHIFT_HOURS:
        return (True,)
    return (False, True) if any(isinstance(each, Missing) for each in hours) else (False,)


def _strictest(respirators: Iterable[str]) -> str:
    return APF_10 if APF_10 in respirators else NO_RESPIRATOR


def _working(cuttings: Sequence[Cutting], dust_control: Value, found: str) -> Working:
    lines = [noted("", "dust control", str(dust_control))]
    for cutting in cuttings:
        entry = _ENTRIES[str(cutting.cutting_tool)]
        lines += [
            noted("", f"{cutting.cutting_tool}, which must have", entry.control, entry.source),
            noted("", "indoors or enclosed", str(cutting.indoors),
                  f"{_RULE}(c)(2)(i): exhaust so that little dust is seen"),
            noted("", "time in a day", _hours(cutting.hours_a_day)),
        ]  # fmt: skip
    known = [c.hours_a_day for c in cuttings if isinstance(c.hours_a_day, (int, float))]
    if len(known) == len(cuttings):
        total = _hours(float(sum(known)))
        parts = " + ".join(number(each) for each in known)
        lines.append(Line("T", "time together", "sum", parts, total, _TOGETHER))
    else:
        lines.append(noted("T", "time together", "not known; any gives the same", _TOGETHER))
    formula = "strictest entry of Table 1 for the place; over 4 hours together, its last column"
    numbers = ", ".join(str(cutting.cutting_tool) for cutting in cuttings)
    lines.append(Line("", "respirator", formula, numbers, found, f"{_TABLE}, (c)(3)"))
    valid = "every control of Table 1 fully and properly used, (c)(1); else (d)"
    return Working("Respirator for cutting concrete", _TABLE, valid, tuple(lines))


def _hours(hours: Value) -> str:
    if not isinstance(hours, (int, float)):
        return str(hours)
    return f"{number(hours)} hours"
