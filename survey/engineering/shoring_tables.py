"""Whether the tables of Appendix C and D may be used at all beside a building."""

from __future__ import annotations

from bisect import bisect_left
from functools import lru_cache
from typing import NamedTuple

from survey.engineering._steps import kept, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.model import Value
from survey.vocabulary import Missing

DEEPEST_IN = 240.0  # App. C (a), App. D (a): trenches up to 20 ft
WIDEST_IN = 180.0  # the widest trench of the tables, and of 1926.650(b)
SHALLOWEST_IN = 12.0
TO_ENGINEER = "an engineer's or other data are needed, 29 CFR 1926.652(c)(2)-(4)"

_TWO_FEET_PSF = 200.0  # the lighter of the usual 200 to 250 psf for 2 ft of soil
_HEAVIEST_EQUIPMENT_LB = 20000.0
_TABLES = "29 CFR 1926 Subpart P"
_LOADS = "29 CFR 1926.652(a)(2), 1926.651(i)(1)"


class _Appendix(NamedTuple):
    name: str
    scope: str
    beside: str
    brace: str
    brace_lb: float
    equipment: str
    lower_part: str


_APPENDICES = {
    "timber shoring": _Appendix(
        "C", "App. C (a)", "App. C (d)(2)(ii)(A)", "App. C (d)(2)(ii)(B)", 240.0,
        "App. C (d)(2)(ii)(C)", "App. C (d)(2)(ii)(D)",
    ),
    "hydraulic shoring": _Appendix(
        "D", "App. D (a)", _LOADS, "App. D (d)(3)(ii)(A)", 100.0,
        "App. D (d)(3)(ii)(B)", "App. D (d)(3)(ii)(C)",
    ),
}  # fmt: skip


class BesidePit(NamedTuple):
    """What decides whether the shoring tables hold; each may be not known.

    Args:
        pit_depth_in: H, whole depth, in, 0 to 720.
        footing_distance_in: x, in plan from the edge of the pit to the nearest footing, in, 0
            (beside or over the pit) to 10,000,000.
        footing_depth_in: f, its underside below the ground that H is measured from, in, 0 to
            480.
        footing_pressure_psf: q, service load over its width, psf, 0 to 1,000,000. From a line
            load in plf and a width in inches: 12 w / b.
        stored_pressure_psf: s, heaviest stored material within H of the edge, psf, 0 (none) to
            1,000,000.
        equipment_load_lb: heaviest equipment whose weight reaches the pit, lb, 0 (none) to
            10,000,000.
        brace_load_lb: heaviest load hung on or laid across a crossbrace or cylinder, on 1 ft
            of its middle, lb, 0 (none) to 100,000.
        whole_depth_held: yes if the support stands over the whole depth, or if the ground
            above it slopes less steeply than 3H:1V, or if the members are chosen for the depth
            from the top of the whole pit; no otherwise.
    """

    pit_depth_in: Value
    footing_distance_in: Value
    footing_depth_in: Value
    footing_pressure_psf: Value
    stored_pressure_psf: Value
    equipment_load_lb: Value
    brace_load_lb: Value
    whole_depth_held: Value


class _Check(NamedTuple):
    """One clause: whether it rules the tables out; None while that is open, and why."""

    meaning: str
    rules_out: bool | None
    numbers: str
    source: str
    open_because: str = ""


@kept
def tables_usable(support: str, beside: BesidePit) -> Result:
    """Whether the shoring tables of the appendix may be used for a pit.

    No, if one of these holds: H > 20 ft; a footing with x <= H and f < H and q > 200 psf; s >
    200 psf; equipment over 20,000 lb; more than 240 lb (timber) or 100 lb (hydraulic) on 1 ft
    of a brace; only the lower part held. Yes, if none does.

    Args:
        support: ``timber shoring`` or ``hydraulic shoring``.
        beside: what stands beside the pit and on the braces; its figures have their ranges
            there.

    Returns:
        ``yes`` or ``no``. One clause that rules the tables out settles it, whatever is not
        known. Beside a loaded footing the answer is nearly always no.

    Not known when:
        No clause rules the tables out for certain, and one of them can't be told because a
        figure is not known or out of its range; or the support is another.

    Source:
        29 CFR 1926 Subpart P App. C (a), (d)(2)(ii)(A)-(D); App. D (a), (d)(3)(ii)(A)-(C).
        2 ft of soil is taken as 200 psf, the lighter of 200 to 250, which is common practice.
        A footing at or below the floor loads no side of the pit. App. D has no clause for
        structures or stored material; it is ruled out by 1926.652(a)(2) and 1926.651(i)(1),
        since its pressures too are for 2 ft of soil (from memory) and the support has to carry
        all loads to be expected.

    >>> tables_usable("timber shoring",
    ...     BesidePit(60.0, 0.0, 24.0, 1500.0, 0.0, 0.0, 0.0, "yes")).value
    'no'
    """
    appendix = _APPENDICES.get(support)
    if appendix is None:
        return not_known(f"there is no appendix with tables for {support}")
    checks = _checks(appendix, beside)
    answers = {check.rules_out for check in checks}
    if True not in answers and None in answers:
        return not_known("; ".join(check.open_because for check in checks if check.open_because))
    usable = "no" if True in answers else "yes"
    against = ", ".join(check.source for check in checks if check.rules_out)
    lines = (
        noted("", "support", support),
        *(
            Line("", check.meaning, "rules the tables out" if check.numbers else "",
                 check.numbers, _said(check), check.source)
            for check in checks
        ),
        *_notes(appendix),
        Line("", f"tables of Appendix {appendix.name} usable", "no if one rules them out",
             f"ruled out by {against}; {TO_ENGINEER}" if against else "none does", usable,
             f"{_TABLES} App. {appendix.name}"),
    )  # fmt: skip
    valid = "level ground; adjacent is within the depth of the pit from its edge"
    title = f"Use of the tables of Appendix {appendix.name}"
    source = f"{_TABLES} App. {appendix.name}; 1926.651(i), 1926.652(a)(2)"
    return Result(usable, working=Working(title, source, valid, lines))


def _said(check: _Check) -> str:
    if check.rules_out is None:
        return f"not known: {check.open_because}"
    return "yes" if check.rules_out else "no"


def _notes(appendix: _Appendix) -> tuple[Line, ...]:
    governs = noted(
        "", "a pit beside or below a footing", "1926.651(i) governs, whatever the tables say",
        "29 CFR 1926.651(i)(1)-(2)",
    )  # fmt: skip
    if appendix.name == "C":
        return (governs,)
    return (
        noted("", "structures and stored material in App. D",
              "it has no clause for them; its pressures allow for 2 ft of soil, from memory, and "
              "the support has to carry all loads to be expected", _LOADS),
        noted("", "when App. D may be used", "only where the maker's data can't be used",
              "App. D (a)"),
        governs,
    )  # fmt: skip


def _checks(appendix: _Appendix, beside: BesidePit) -> tuple[_Check, ...]:
    held = beside.whole_depth_held
    return (
        _over("pit depth", beside.pit_depth_in, DEEPEST_IN, 720.0, "in", source=appendix.scope),
        _footing(beside, appendix.beside),
        _over("stored material", beside.stored_pressure_psf, _TWO_FEET_PSF, 1e6, "psf",
              source=appendix.beside),
        _over("equipment", beside.equipment_load_lb, _HEAVIEST_EQUIPMENT_LB, 1e7, "lb",
              source=appendix.equipment),
        _over("load on 1 ft of a brace", beside.brace_load_lb, appendix.brace_lb, 1e5, "lb",
              source=appendix.brace),
        _Check(
            "only the lower part is held", None if isinstance(held, Missing) else held != "yes",
            "", appendix.lower_part,
            f"whether the whole depth is held: {held}" if isinstance(held, Missing) else "",
        ),
    )  # fmt: skip


def _over(name: str, value: Value, limit: float, most: float, unit: str, *, source: str) -> _Check:
    figure, reason = _figure(name, value, most, unit)
    meaning = f"{name} over {number(limit)} {unit}"
    if figure is None:
        return _Check(meaning, None, "", source, reason)
    return _Check(meaning, figure > limit, f"{number(figure)} > {number(limit)}", source)


def _footing(beside: BesidePit, source: str) -> _Check:
    """Whether a footing heavier than 2 ft of soil loads the sides of the pit."""
    depth, deep_reason = _figure("pit depth", beside.pit_depth_in, 720.0, "in")
    clear, clear_reason = _figure("distance of the footing", beside.footing_distance_in, 1e7, "in")
    under, under_reason = _figure("footing depth", beside.footing_depth_in, 480.0, "in")
    load, load_reason = _figure("footing pressure", beside.footing_pressure_psf, 1e6, "psf")
    heavy = None if load is None else load > _TWO_FEET_PSF
    near = None if depth is None or clear is None else clear <= depth
    above = None if depth is None or under is None else under < depth
    parts = (near, above, heavy)
    rules_out = False if False in parts else None if None in parts else True
    meaning = "a footing within the depth, bearing above the floor, over 200 psf"
    if rules_out is None:
        reasons = dict.fromkeys(
            reason for reason in (deep_reason, clear_reason, under_reason, load_reason) if reason
        )
        return _Check(meaning, None, "", source, "; ".join(reasons))
    told = (
        ("x", clear, "H", depth, near, "<="), ("f", under, "H", depth, above, "<"),
        ("q", load, "200 psf", _TWO_FEET_PSF, heavy, ">"),
    )  # fmt: skip
    numbers = ", ".join(
        f"{left} {sign} {right}: {number(a)} {sign} {number(b)}"
        for left, a, right, b, part, sign in told
        if part is not None and a is not None and b is not None
    )
    return _Check(meaning, rules_out, numbers, source)


def _figure(name: str, value: Value, most: float, unit: str) -> tuple[float | None, str]:
    """A figure to its whole step, or why there is none."""
    if not isinstance(value, (int, float)):
        return None, f"the {name} is {value}"
    reason = outside((name, value, 0.0, most, unit))
    return (None, reason) if reason else (round(float(value), 3), "")


@lru_cache(maxsize=1024)
def row_at(limits_ft: tuple[float, ...], value_in: float, *, next_at_limit: bool = False) -> int:
    """The first row or column of a table that reaches up to a figure.

    Args:
        limits_ft: upper ends of the rows, ft, rising.
        value_in: in, at most the last limit.
        next_at_limit: whether a figure on the limit of a row belongs to the next, where there
            is one.
    """
    ends = tuple(limit * 12 for limit in limits_ft)
    row = bisect_left(ends, value_in)
    if next_at_limit and row + 1 < len(ends) and ends[row] == value_in:
        row += 1
    return row
