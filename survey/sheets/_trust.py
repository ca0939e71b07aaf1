"""What a sheet prints of itself: what changed since the last check, and how it can be checked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from survey.sheets._legible import legible
from survey.sheets._places import Places, in_cells, span
from survey.sheets.since import Glance, Since, Turn, TurnedText

_MOST_LINES = 40
_LONGEST_LINE = 240


@dataclass(frozen=True, slots=True)
class Line:
    """One thing that turned: what, where, what it was and what it is."""

    what: str
    where: str
    before: str
    now: str


@dataclass(frozen=True, slots=True)
class SincePrinted:
    """What changed since the last check, as printed.

    Args:
        note: why nothing was compared; empty if it was.
        groups: the lines by what they are about, in the order in which they matter.
        more: how many lines are left to the record.
    """

    note: str
    groups: tuple[tuple[str, tuple[Line, ...]], ...]
    more: int


@dataclass(frozen=True, slots=True)
class Trust:
    """The fingerprints on a sheet; no rules of its own: none."""

    answers: str
    program: str
    shipped: str
    local: str


def trust_of(judged: Glance) -> Trust:
    """The fingerprints of a sheet."""
    return Trust(
        judged["answers_fingerprint"],
        judged["program"],
        judged["shipped_fingerprint"],
        judged["local_fingerprint"] or "",
    )


def since_printed(since: Since | None, places: Places) -> SincePrinted | None:
    """What changed since the last check, in few words; none where there was no check before."""
    if since is None:
        return None
    groups: list[tuple[str, tuple[Line, ...]]] = []
    left, more = _MOST_LINES, 0
    for title, lines in _groups(since, places):
        told = tuple(lines)
        if told[:left]:
            groups.append((title, told[:left]))
        more += len(told[left:])
        left -= len(told[:left])
    return SincePrinted(since["note"], tuple(groups), more)


def in_lines(told: SincePrinted) -> Iterator[str]:
    """What changed, in lines for a terminal."""
    if told.note:
        yield legible(told.note)[:_LONGEST_LINE]
    for title, lines in told.groups:
        for line in lines:
            where = f" ({line.where})" if line.where else ""
            turned = f"was {line.before}, now {line.now}" if line.before else line.now
            yield legible(f"{title}: {line.what}{where}: {turned}")[:_LONGEST_LINE]
    if told.more:
        yield f"and {told.more} more"


def _groups(since: Since, places: Places) -> Iterator[tuple[str, Iterable[Line]]]:
    yield "Verdict", (
        *_turn("whole site", since["verdict"]),
        *(
            Line(span(one["piers"], places.following), "", one["before"] or "not listed",
                 one["now"] or "no longer listed")
            for one in since["piers"]
        ),
    )  # fmt: skip
    yield "Findings", (
        Line(
            f"{one['code']}: {one['name']}", span(one["places"], places.following),
            one["before"] or "none", one["now"] or "none",
        )
        for one in since["findings"]
    )  # fmt: skip
    yield "Days", (Line(one["what"], "", one["before"], one["now"]) for one in since["days"])
    yield "Answers", (
        *(
            Line(f"{one['kind']} {one['label']}", in_cells([one["cell"]]),
                 *(("not listed", "added") if one["change"] == "added" else ("listed", "gone")))
            for one in since["rows"]
        ),
        *(
            Line(f"{one['word']} of {span(one['of'], places.following)}", in_cells(one["cells"]),
                 one["before"], one["now"])
            for one in since["answers"]
        ),
        *_texts(since["problems"], "to put right", "put right"),
    )  # fmt: skip
    yield (
        "Rules and program",
        (
            *_rules(since),
            *_texts(since["local_rules"], "in force", "no longer"),
            *_turn("text of the shipped rules", since["shipped_rules"]),
            *_turn("text of the firm's own rules", since["own_rules"]),
            *_turn("program", since["program"]),
        ),
    )


def _turn(what: str, turn: Turn | None) -> Iterator[Line]:
    if turn is not None:
        yield Line(what, "", turn["before"], turn["now"])


def _texts(texts: Iterable[TurnedText], added: str, gone: str) -> Iterator[Line]:
    for one in texts:
        yield Line(one["text"], "", "", added if one["change"] == "added" else gone)


def _rules(since: Since) -> Iterator[Line]:
    """The rules that turned alike in one line."""
    for change in ("added", "gone", "changed"):
        codes = [one["code"] for one in since["rules"] if one["change"] == change]
        if codes:
            yield Line("rules" if len(codes) > 1 else "rule", ", ".join(codes), "", change)
