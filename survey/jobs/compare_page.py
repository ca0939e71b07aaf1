"""The comparison of two rule books as a page to read and print. No script runs in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from survey.assessment import Verdict
from survey.assessment.compare import (
    FAULT,
    Comparison,
    PierVerdict,
    SiteComparison,
    in_short,
    some_places,
)
from survey.jobs.comparing import Compared
from survey.rulebook.rules import Change
from survey.sheets._legible import count, legible
from survey.sheets._templates import template
from survey.sheets.book_page import write_page

MARKER = "<!DOCTYPE html>\n<!-- pier-survey comparison 1 -->\n"
WHAT = "page of a comparison"
CAUTIONS = (
    "This is what two books of rules say of surveys that were made before. No crew is sent by it: "
    "before one is, the site is checked by the book in force, and the sheet of that check is read.",
    "It knows only what the surveys say. A site that would be let go here may have changed since.",
    "It does not replace the competent person's inspection on each day of work, a locate request, "
    "the local code or a licensed engineer. Where a local rule is stricter, the local rule holds.",
)


@dataclass(frozen=True, slots=True)
class Book:
    """One of the two books.

    Args:
        name: in words.
        fingerprint: of its rules.
        changes: what a firm's own files changed in the shipped book.
    """

    name: str
    fingerprint: str
    changes: tuple[Change, ...]


def write_compare_page(
    comparison: Comparison, unread: Sequence[Compared], books: tuple[Book, Book], file: Path
) -> None:
    """Write a comparison as a page; an earlier one is replaced, any other file left alone.

    Args:
        comparison: the sites by both books.
        unread: surveys of which nothing can be said.
        books: the earlier one, and the later one.
        file: the place to write to.

    Raises:
        UserError: something else stands there, or it can't be written.
    """
    write_page(file, render_comparison(comparison, unread, books), MARKER, WHAT)


def render_comparison(
    comparison: Comparison, unread: Sequence[Compared], books: tuple[Book, Book]
) -> str:
    """A comparison as one HTML page."""
    better = [site for site in comparison.other_verdict if site.looser]
    better.sort(key=lambda site: not site.let_go)
    worse = [site for site in comparison.other_verdict if not site.looser]
    page = template("compare.html").render(
        comparison=comparison,
        unread=unread,
        books=tuple(zip(("Before", "After"), books, strict=True)),
        in_short=in_short(comparison),
        groups=(
            ("Sites that would get a better verdict", better),
            ("Sites that would get a worse verdict", worse),
        ),
        verdicts=tuple(Verdict),
        matrix=matrix(comparison),
        by_verdicts=_by_verdicts,
        some_places=some_places,
        counted=count,
        fault=FAULT,
        cautions=CAUTIONS,
        script=None,
    )  # fmt: skip
    return MARKER + legible(page)


def matrix(comparison: Comparison) -> dict[tuple[Verdict, Verdict], int]:
    """How many sites had one verdict and would have another, for every two verdicts."""
    found = {(one, other): 0 for one in Verdict for other in Verdict}
    for site in comparison.sites:
        found[site.before, site.after] += 1
    return found


def _by_verdicts(site: SiteComparison) -> Iterator[tuple[PierVerdict, Sequence[str]]]:
    """The pier locations with another verdict, those with the same two verdicts together."""
    alike: dict[tuple[Verdict, Verdict], list[PierVerdict]] = {}
    for pier in site.piers:
        if pier.before is not pier.after:
            alike.setdefault((pier.before, pier.after), []).append(pier)
    for piers in alike.values():
        yield piers[0], [pier.label for pier in piers]
