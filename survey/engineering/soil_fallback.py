"""What a boring log suggests of the soil class, until the ground itself is tested."""

from __future__ import annotations

from survey.engineering._steps import noted, number, outside
from survey.engineering.soil_properties import (
    CONSISTENCIES,
    CONSISTENCY_SOURCE,
    Consistency,
    consistency_by_blows,
    uscs,
)
from survey.engineering.working import Line, Result, Working, not_known
from survey.model import Value
from survey.vocabulary import Missing

_APPENDIX = "29 CFR 1926 Subpart P App. A"
_SOURCE = f"{_APPENDIX} (b), read from a log: common practice; {CONSISTENCY_SOURCE}"
_VALID = (
    "estimate from a boring log; no classification under App. A (c)(2), which takes at least one "
    "visual and one manual test of this ground by a competent person; layers that dip into the "
    "pit at 4H:1V or steeper are C, which no log shows"
)
_TYPE_C_TSF = 0.5  # App. A (b) Type C (i)
_FINE_GRAINED = ("ML", "CL", "MH", "CH")  # ASTM D2487, without the organic ones
_ORGANIC = ("OL", "OH", "PT")


def estimated_soil_class(
    uscs_group: Value,
    blow_count_n: Value,
    consistency: Value,
    submerged: Value,
    disturbed: Value,
) -> Result:
    """Soil class that a boring log suggests: B or C, never better.

    B only for inorganic silt and clay (ML, CL, MH, CH), surely neither under water nor dug
    before, whose consistency by the weaker of word and blow count is stiff or better, so that
    even the least strength of that step, qu, is above 0.5 tsf. Everything else is C:

    - Sand and gravel of every kind. A log does not tell angular gravel or sandy loam, which
      are B, from those that are C.
    - Organic soil and peat.
    - Clay and silt of medium consistency, whose span of strength starts at 0.5 tsf.
    - Ground that is under water, or was dug before (a boring stands in other ground), or of
      which this is not known.

    Args:
        uscs_group: symbol of ASTM D2487, or two of them for a borderline soil, such as
            ``CL-ML``; the worse one counts. Not known: C.
        blow_count_n: N as counted, ASTM D1586, blows a foot, 0 to 100. Not known or not asked:
            the word alone counts.
        consistency: very soft, soft, medium, stiff, very stiff or hard. Not known or not asked:
            the blow count alone counts. With neither, C.
        submerged: yes or no: under water, or water seeps from it.
        disturbed: yes or no: dug or filled before.

    Returns:
        ``B`` or ``C``. What is not known is taken at its worst, so that nothing that is found
        out later makes the estimate worse; ground that nobody classified is cut as C, too
        (1926.652(b)(1)).

    Not known when:
        The blow count is out of its range, or a word is none of those above.

    Source:
        29 CFR 1926 Subpart P App. A (b); blow counts and strengths by Terzaghi and
        Peck (1967); that a log stands for no more than this is common practice.

    >>> estimated_soil_class("CL", 12.0, "stiff", "no", "no").value
    'B'
    """
    reason = _unreadable(uscs_group, blow_count_n, consistency, submerged, disturbed)
    if reason:
        return not_known(reason)
    weakest = _weakest(blow_count_n, consistency)
    against = _against_b(uscs_group, weakest, submerged, disturbed)
    found = "C" if against else "B"
    count = number(blow_count_n) if isinstance(blow_count_n, (int, float)) else str(blow_count_n)
    strength = f"{weakest.strength_tsf.low:g} tsf ({weakest.name})" if weakest else "not known"
    lines = (
        noted("", "group on the log", str(uscs_group), "ASTM D2487"),
        noted("N", "blows a foot", count, "ASTM D1586"),
        noted("", "consistency on the log", str(consistency)),
        noted("", "under water or seeping", str(submerged), "Type C (iii)"),
        noted("", "dug before", str(disturbed), "Type A (iii), B (iii)"),
        Line("qu", "least strength of the weaker of N and word", "foot of its step",
             f"N {count}, {consistency}", strength, CONSISTENCY_SOURCE),
        Line("", "soil class, an estimate", "B if fine-grained, qu > 0.5 tsf, dry and never dug; "
             "else C", against or "nothing against B", found, f"{_APPENDIX} (b), common practice"),
    )  # fmt: skip
    working = Working("Soil class suggested by the boring log", _SOURCE, _VALID, lines)
    return Result(found, working=working)


def _unreadable(group: Value, blows: Value, word: Value, *yes_no: Value) -> str:
    """Why the log can't be read; empty if it can."""
    if isinstance(blows, (int, float)):
        reason = outside(("blow count", blows, 0.0, 100.0, "blows a foot"))
        if reason:
            return reason
    elif not isinstance(blows, Missing):
        return f"'{blows}' is no blow count"
    if not isinstance(group, Missing) and None in [uscs(each) for each in _symbols(group)]:
        return f"'{group}' is no group of ASTM D2487"
    if not isinstance(word, Missing) and word not in {step.name for step in CONSISTENCIES}:
        return f"'{word}' is no consistency"
    if any(not isinstance(each, Missing) and each not in ("no", "yes") for each in yes_no):
        return "whether it is under water and was dug before takes a yes or a no"
    return ""


def _symbols(group: Value) -> list[str]:
    return str(group).upper().split("-")


def _weakest(blows: Value, word: Value) -> Consistency | None:
    """The weaker of the steps by blow count and by word; none if neither is given."""
    steps = [step for step in CONSISTENCIES if step.name == word]
    counted = consistency_by_blows(blows) if isinstance(blows, (int, float)) else None
    if counted:
        steps.append(counted)
    return min(steps, key=lambda step: step.strength_tsf.low, default=None)


def _against_b(
    group: Value, weakest: Consistency | None, submerged: Value, disturbed: Value
) -> str:
    """The first thing that speaks against class B; empty if nothing does."""
    if isinstance(group, Missing):
        return "the group is not known"
    symbols = _symbols(group)
    if any(symbol in _ORGANIC for symbol in symbols):
        return "organic soil"
    if any(symbol not in _FINE_GRAINED for symbol in symbols):
        return "sand or gravel"
    if submerged != "no":
        return "under water" if submerged == "yes" else "it may be under water"
    if disturbed != "no":
        return "dug before" if disturbed == "yes" else "it may have been dug before"
    if weakest is None:
        return "neither blow count nor consistency is known"
    if weakest.strength_tsf.low <= _TYPE_C_TSF:
        return f"{weakest.name}: qu may be {weakest.strength_tsf.low:g} tsf"
    return ""
