"""Whether a page is as it was written, and whether its site would come out the same today.

A digest over the page finds every slip and edit. A sheet is besides judged again, from the survey
in it, by the book and program at hand; where these are the ones that made it, the page is written
again as well, so that an edit is found though somebody put the digest right. It is no signature:
whoever has the program can make a sheet of another survey, or with other rules.
"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import survey as program
from survey.assessment import Assessment, assess
from survey.assessment.assessment import SECOND
from survey.errors import UserError
from survey.rulebook.rules import RuleBook
from survey.sheets._legible import legible
from survey.sheets._places import Places
from survey.sheets._trust import in_lines, since_printed
from survey.sheets.html import MARKER, render
from survey.sheets.kept import KeptError, restore
from survey.sheets.seal import (
    Sealed,
    SealError,
    is_closed,
    is_unaltered,
    made_by,
    photos_of,
    printed_as_sealed,
    text_alone,
    unpacked,
)
from survey.sheets.since import Since, glance, kept_fingerprint, since

_ANY_PAGE = "<!DOCTYPE html>\n<!-- pier-survey "
_LARGEST_FILE = 100 * 2**20
_LONGEST_SHOWN = 100
_LIMITS = (
    "This finds slips and edits. It is no signature: whoever has the program can write a sheet."
)


@dataclass(frozen=True, slots=True)
class Verified:
    """What was found out about a page.

    Args:
        altered: why it can't be relied on as it stands; empty if it is as it was written.
        judged_again: whether its site was judged again; only a sheet carries the survey.
        made_otherwise: in what program and rules at hand differ from those that made it.
        differs: what comes out differently now; none if it was not judged again.
        places: how the places of its site are named.
    """

    altered: tuple[str, ...]
    judged_again: bool = False
    made_otherwise: tuple[str, ...] = ()
    differs: Since | None = None
    places: Places | None = None

    @property
    def same(self) -> bool:
        """Whether verdicts, findings, days and cells to put right came out the same."""
        found = self.differs
        return found is None or not any(
            (found["verdict"], found["piers"], found["findings"], found["days"], found["answers"],
             found["problems"])
        )  # fmt: skip

    @property
    def status(self) -> int:
        """Exit status: 0 unaltered and the same, 1 comes out differently, 2 altered."""
        return 2 if self.altered else 0 if self.same else 1


def read_page(file: Path) -> str:
    """The text of a page.

    Raises:
        UserError: it can't be read as one.
    """
    try:
        if file.stat().st_size > _LARGEST_FILE:
            raise UserError(f"{file}: larger than a sheet can be ({_LARGEST_FILE // 2**20} MB).")
        return file.read_bytes().decode("utf-8")
    except OSError as fault:
        raise UserError(f"{file}: can't be read ({fault.strerror or fault}).") from None
    except UnicodeDecodeError:
        raise UserError(f"{file}: altered, or no sheet: it is no UTF-8 text.") from None


def verify(page: str, book: RuleBook) -> Verified:
    """Check a page against itself, and the site of a sheet against book and program at hand.

    Args:
        page: its whole text, line ends as they stand in the file.
        book: the rules by which its site is judged again.
    """
    if not page.startswith(_ANY_PAGE):
        return Verified(("it does not begin as the pages of this program do",))
    altered: list[str] = []
    if not is_closed(page):
        altered.append(
            "its last line, which has the digest, is missing: it was cut off or changed, or comes "
            "from a version that wrote none"
        )
    elif not is_unaltered(page):
        altered.append("it was changed since it was written: its digest is another one")
    if not page.startswith(MARKER):
        return Verified(tuple(altered))
    try:
        sealed = unpacked(page)
        if not printed_as_sealed(page, sealed):
            altered.append("a picture in it is not the one that it was written with")
        again = _judged_again(sealed, book)
    except (SealError, KeptError) as fault:
        return Verified((*altered, *fault.faults))
    if kept_fingerprint(sealed["judged"]["survey"]) != sealed["judged"]["answers_fingerprint"]:
        altered.append("the answers in it are not those that it says it was made from")
    made_otherwise = tuple(_made_otherwise(sealed, book))
    if not made_otherwise:
        altered += _written_again(page, sealed, again)
    return Verified(
        tuple(altered), True, made_otherwise,
        since(sealed["judged"], glance(again), book.vocabulary), Places.of(again.survey),
    )  # fmt: skip


def _judged_again(sealed: Sealed, book: RuleBook) -> Assessment:
    """The site of a sheet, judged by a book.

    Raises:
        KeptError: the survey in it is none, or none that can be judged.
    """
    survey, problems = restore(sealed["judged"]["survey"], book.vocabulary)
    try:
        return assess(survey, problems, book)
    except Exception:  # what no form gives may break any calculation
        raise KeptError(["the survey in it can't be judged"]) from None


def _made_otherwise(sealed: Sealed, book: RuleBook) -> Iterator[str]:
    made = sealed["judged"]
    if made["program"] != program.__version__:
        yield f"program: {_short(made['program'])} made it, {program.__version__} is at hand"
    elif sealed["made_by"] != made_by():
        yield f"program: another copy of version {program.__version__} made it"
    if made["shipped_fingerprint"] != book.shipped:
        yield f"shipped rules: {_short(made['shipped_fingerprint'])} made it, {book.shipped} here"
    if (made["local_fingerprint"] or "") != book.local:
        own = made["local_fingerprint"]
        yield f"the firm's own rules: {_short(own) if own else 'none'} made it, " + (
            f"{book.local} here" if book.local else "none here; give them with '--rules'"
        )


def _short(text: str) -> str:
    return legible(text)[:_LONGEST_SHOWN]


def _with_evaluators(again: Assessment, number: int) -> Assessment:
    """The judgement as a Python prints it on which so many evaluators run: they agree."""
    first = again.said[0]
    both = (first, dataclasses.replace(first, evaluator=SECOND))
    return dataclasses.replace(again, evaluators=number, said=both[:number])


def _written_again(page: str, sealed: Sealed, again: Assessment) -> Iterator[str]:
    """Where a page is not what the program and rules that made it write of its survey."""
    judged = _with_evaluators(again, sealed["evaluators"])
    try:
        rendered = render(judged, photos_of(sealed), sealed["since"])
    except SealError as fault:
        yield from fault.faults
        return
    if sealed["judged"] != glance(again):
        yield "the same program and rules judge the survey in it otherwise than it says"
    ours, theirs = (text_alone(text).split("\n") for text in (rendered, page))
    if ours == theirs:
        return
    lines = zip(ours, theirs, strict=False)
    number = next((i for i, (one, other) in enumerate(lines) if one != other), len(ours))
    shown = _short(re.sub(r"<[^>]*>", " ", theirs[number]).strip()) if number < len(theirs) else ""
    at = f"'{shown}'" if shown else "its end"
    yield f"the same program and rules write another page of the survey in it, first at {at}"


def say(file: Path, found: Verified) -> str:
    """What was found out, for print."""
    if found.altered:
        lines = [f"{file}: ALTERED, OR NOT READABLE. Do not rely on it."]
        lines += [f"  {fault}" for fault in found.altered]
    else:
        lines = [f"{file}: as it was written."]
    if not found.judged_again:
        if not found.altered:
            lines.append("It carries no survey to be judged again; verify the sheet beside it.")
        return "\n".join([*lines, _LIMITS])
    if found.made_otherwise:
        lines.append("Program and rules at hand are not those that made it:")
        lines += [f"  {one}" for one in found.made_otherwise]
    only = ": what was altered is the page around it" if found.altered else ""
    lines.append(
        f"The survey in it, judged again, comes out the same{only}."
        if found.same
        else "THE SURVEY IN IT, JUDGED AGAIN, COMES OUT DIFFERENTLY:"
    )
    lines += _differences(found)
    return "\n".join([*lines, _LIMITS])


def _differences(found: Verified) -> Iterator[str]:
    if found.differs is None or found.places is None:
        return
    told = since_printed(found.differs, found.places)
    assert told is not None
    yield from (f"  {line}" for line in in_lines(told))
