"""The places that a release names: read strictly, for what is not named was not released."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from survey.vocabulary import Subject, nearest

_SEPARATOR = re.compile(r"\s*[,;]\s*(?:and\s+)?|\s+and\s+")
_NUMBERED = re.compile(r"(?P<before>.*?)(?P<number>[0-9]{1,6})")
_TO = " to "
_LIKE_A_RANGE = re.compile(r"(.+?)\s*(?:\.{2,}|-|through|thru|until)\s*(.+)")
_EVERYWHERE = {
    "all", "all of them", "all piers", "all pits", "all places", "any", "any pier", "each pier",
    "every pier", "every pit", "everywhere", "every", "whole house", "*",
}  # fmt: skip
_WHOLE_SITE = {"site", "the site", "whole site", "the whole site"}
_LONGEST_RANGE = 200  # a list of the form has no more rows
_MOST_PARTS = 250
_MOST_TOLD = 4
_LONGEST_QUOTE = 40


@dataclass(frozen=True, slots=True)
class NamedPlaces:
    """What a text names.

    Args:
        labels: of the places of this survey.
        faults: each part that names no place, with what to write instead.
    """

    labels: frozenset[str]
    faults: tuple[str, ...]


def read_places(text: str, subject: Subject, labels: Sequence[str]) -> NamedPlaces:
    """Read the places of a release, such as ``P1 to P3, P5`` or ``P1, P3 / gas; P4 / water``.

    A range counts its labels up one by one, whatever else stands between its ends on the form,
    and names none if one of them is missing: a pier that is added later was not released.

    Args:
        text: as it stands on the form.
        subject: what the rule is judged for.
        labels: of all the places that it is judged for here, in the order of the form.

    >>> read_places("p1 to P3, P9", Subject.PIER, ["P1", "P2", "P2a", "P3"]).faults
    ("'P9': there is no such pier on the survey",)
    """
    by_name = {label.lower(): label for label in labels}
    firsts = {label.partition(" / ")[0] for label in labels}
    singles = {label.lower(): label for label in firsts} if _is_pair(subject) else by_name
    return _Reader(subject, labels, by_name, singles).read(" ".join(text.split()))


def _is_pair(subject: Subject) -> bool:
    return " and " in subject.value


@dataclass(slots=True)
class _Reader:
    """Reads one text.

    Of a pair of places, those named before a stroke belong to what is named after it, as on the
    sheet: ``P1, P3 / gas`` is two pairs.

    Args:
        subject: what the rule is judged for.
        labels: of its places.
        by_name: the same by their names in small letters.
        singles: of pairs, the first of the two by its name; else the same as ``by_name``.
    """

    subject: Subject
    labels: Sequence[str]
    by_name: Mapping[str, str]
    singles: Mapping[str, str]
    _found: set[str] = field(default_factory=set)
    _waiting: list[str] = field(default_factory=list)
    _faults: list[str] = field(default_factory=list)

    def read(self, text: str) -> NamedPlaces:
        cuts = list(_SEPARATOR.finditer(text))
        if len(cuts) >= _MOST_PARTS:
            why = f"more than {_MOST_PARTS} places in one release; write several"
            return NamedPlaces(frozenset(), (why,))
        starts = [0, *(cut.end() for cut in cuts)]
        ends = [*(cut.start() for cut in cuts), len(text)]
        # A label may itself hold a comma, so the longest part that is a place comes first.
        held = max((len(_SEPARATOR.findall(label)) for label in self.labels), default=0)
        at = 0
        while at < len(starts):
            for last in range(min(at + 2 * held, len(cuts)), at - 1, -1):
                if self._place(text[starts[at] : ends[last]]):
                    break
            else:
                last = at
                if part := text[starts[at] : ends[at]]:
                    self._faults.append(f"{_quoted(part)}: {self._fault(part)}")
            if last < len(cuts) and ";" in cuts[last][0]:
                self._let_go()
            at = last + 1
        self._let_go()
        if not self._found and not self._faults:
            self._faults.append(f"{_quoted(text)}: it names no place{self._such()}")
        if len(self._faults) > _MOST_TOLD:
            more = len(self._faults) - _MOST_TOLD
            self._faults[_MOST_TOLD:] = [f"and {more} more of its places are none"]
        return NamedPlaces(frozenset(self._found), tuple(self._faults))

    @property
    def _pairs(self) -> bool:
        return _is_pair(self.subject)

    @property
    def _one(self) -> str:
        """What a place is, in words: of a pair, the first of the two."""
        return self.subject.value.partition(" and ")[0]

    def _place(self, part: str) -> bool:
        """Take a part that is a place, a range of places, or a pair of them."""
        left, stroke, right = part.partition(" / ")
        if not self._pairs:
            named = self._several(part)
            self._found.update(named)
        elif not stroke:
            named = self._several(part)
            self._waiting += named
        elif named := self._several(left):
            pairs = [f"{one} / {right}".lower() for one in (*self._waiting, *named)]
            if not all(pair in self.by_name for pair in pairs):
                return False
            self._found.update(self.by_name[pair] for pair in pairs)
            self._waiting.clear()
        return bool(named)

    def _several(self, part: str) -> tuple[str, ...]:
        """The labels that a part names: one, or a range; empty if it names none."""
        said = part.lower()
        if self.subject is Subject.SITE and said in _WHOLE_SITE:
            said = "site"
        # As on the sheet: "wall South".
        for before in ("", f"{self._one} ", f"{self.subject.value} "):
            if (name := said.removeprefix(before)) in self.singles:
                return (self.singles[name],)
        for first, last in _halves(part):
            counted, _ = _counted(first, last, self.singles)
            if counted:
                return counted
        return ()

    def _let_go(self) -> None:
        """What waited for a stroke that did not come is no pair."""
        if self._waiting:
            said = _quoted(", ".join(self._waiting))
            what = f"it is found for a {self.subject.value}; name both"
            self._faults.append(f"{said}: {what}{self._such()}")
        self._waiting.clear()

    def _fault(self, part: str) -> str:
        """Why a part is no place of the rule, and what to write."""
        left, stroke, right = part.partition(" / ")
        said = left.lower()
        if self.subject is Subject.SITE:
            return "it is found for the whole site; write 'site'"
        if not self.labels:
            return f"the survey lists no {self.subject.value}"
        if said in _WHOLE_SITE:
            what = self.subject.value
            return f"it is found for each {what}, not for the site; name each{self._such()}"
        if said in _EVERYWHERE:
            what = f"a {self._one} that is added later was not released"
            return f"{what}; name each{self._such()}"
        if stroke and not self._pairs:
            return f"it is found for each {self.subject.value} alone; name that{self._such()}"
        if (why := _why_no_range(left, self.singles)) is not None:
            return why
        if stroke and self._several(left):
            near = nearest(right, [label.partition(" / ")[2] for label in self.labels])
            other = self.subject.value.partition(" and ")[2]
            return f"there is no such {other} on the survey{_hint(near)}"
        near = nearest(left, [*self.singles.values(), *(() if stroke else self.labels)])
        return f"there is no such {self._one} on the survey{_hint(near)}"

    def _such(self) -> str:
        return f", such as {_quoted(self.labels[0])}" if self.labels else ""


def _halves(part: str) -> Iterator[tuple[str, str]]:
    """A part cut in two at each 'to'; a label may hold one itself."""
    said = part.lower()
    at = said.find(_TO)
    while at >= 0:
        yield part[:at], part[at + len(_TO) :]
        at = said.find(_TO, at + 1)


def _counted(
    first: str, last: str, by_name: Mapping[str, str]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The labels from a first to a last numbered one, or those of them that are missing."""
    one, other = _NUMBERED.fullmatch(first), _NUMBERED.fullmatch(last)
    if one is None or other is None or one["before"].lower() != other["before"].lower():
        return (), ()
    start, end, wide = int(one["number"]), int(other["number"]), len(one["number"])
    if not 0 < end - start <= _LONGEST_RANGE:
        return (), ()
    names = [f"{one['before']}{number:0{wide}}" for number in range(start, end + 1)]
    if missing := tuple(name for name in (*names, last) if name.lower() not in by_name):
        return (), tuple(dict.fromkeys(missing))
    return tuple(by_name[name.lower()] for name in names), ()


def _why_no_range(part: str, by_name: Mapping[str, str]) -> str | None:
    """Why a part with a 'to' in it is no range; none if it was not meant for one."""
    for first, last in _halves(part):
        _, missing = _counted(first, last, by_name)
        if missing:
            told = ", ".join(missing[:_MOST_TOLD])
            more = f" and {len(missing) - _MOST_TOLD} more" if len(missing) > _MOST_TOLD else ""
            return f"the survey has no {told}{more}; name each place that is released"
        if first.lower() in by_name and last.lower() in by_name:
            if _counted(last, first, by_name)[0]:
                return "it runs backwards; write the lower number first"
            return "only labels that count up by one make a range; name each place"
    like = _LIKE_A_RANGE.fullmatch(part)
    if like and like[1].lower() in by_name and like[2].lower() in by_name:
        one, other = by_name[like[1].lower()], by_name[like[2].lower()]
        return f"a range is written '{one} to {other}'"
    return None


def _hint(near: str | None) -> str:
    return "" if near is None else f"; did you mean {_quoted(near)}?"


def _quoted(text: str) -> str:
    return f"'{text}'" if len(text) <= _LONGEST_QUOTE else f"'{text[:_LONGEST_QUOTE]} ...'"
