"""What the rule book rests on, as one page: every clause, and what nobody has checked yet.

For a safety lead, an engineer or an inspector who wants to know where a figure comes from. No
script runs and nothing is fetched. Every text of the book is escaped.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

import survey as program
from survey.rulebook.rules import Limit, Rule, RuleBook
from survey.sheets import book_page
from survey.sheets._advice import LOCAL_RULES, NO_LOCAL_RULES
from survey.sheets._citations import (
    NO_PUBLICATION,
    Citation,
    Part,
    Standing,
    in_order,
    natural,
    read_source,
)
from survey.sheets._legible import legible
from survey.sheets._templates import template
from survey.sheets.book_page import Figure

MARKER = "<!DOCTYPE html>\n<!-- pier-survey sources of a rule book 1 -->\n"
_WHAT = "page of a rule book's sources"
_MEANING = {
    Standing.CONFIRMED: "Every part of the source is cited without a mark. By the book's own rule "
    "it was read in a published text.",
    Standing.MEMORY: "A part was written down from memory, and nobody has checked it yet.",
    Standing.SECONDARY_COPY: "A part was seen in a copy or a quotation, not in the text itself.",
    Standing.COMMON_PRACTICE: "A part is what the trade does, without a published source.",
    Standing.OWN: "A part is the firm's own.",
    Standing.UNNAMED: "A part names no clause that could be looked up, such as statics.",
}


@dataclass(frozen=True, slots=True)
class Resting:
    """A rule, limit or table of the book, which rests on its source.

    Args:
        anchor: where its source line stands on the page.
        name: code of a rule; name of a limit or table.
        said: name of a rule; figure of a limit; empty for a table.
        is_rule: whether it is a rule.
        legal: whether it is set by law.
        local: whether it stands in a firm's own file.
        source: its ``from`` line, as written.
        place: file and line.
        parts: what the line rests on.
    """

    anchor: str
    name: str
    said: str
    is_rule: bool
    legal: bool
    local: bool
    source: str
    place: str
    parts: tuple[Part, ...]

    @property
    def standings(self) -> frozenset[Standing]:
        """Those of all its parts."""
        return frozenset(standing for part in self.parts for standing in part.standings)


@dataclass(frozen=True, slots=True)
class Clause:
    """A clause as cited, with what is said of it in the same words, and what rests on it so."""

    citation: Citation
    resting: tuple[Resting, ...]


@dataclass(frozen=True, slots=True)
class Publication:
    """A publication within a topic; ``anchor`` is where it stands on the page."""

    name: str
    anchor: str
    clauses: tuple[Clause, ...]


@dataclass(frozen=True, slots=True)
class Topic:
    """A topic of the book with what it rests on; ``anchor`` is where it stands on the page."""

    name: str
    anchor: str
    publications: tuple[Publication, ...]
    resting: tuple[Resting, ...]


@dataclass(frozen=True, slots=True)
class Sources:
    """What a rule book rests on.

    Args:
        topics: in the order of the book.
        legal: the figures that are set by law.
        practice: the figures that a part of their source calls common practice.
        practice_rules: the rules of which a part is so.
    """

    topics: tuple[Topic, ...]
    legal: tuple[Figure, ...]
    practice: tuple[Figure, ...]
    practice_rules: tuple[Resting, ...]

    @property
    def resting(self) -> tuple[Resting, ...]:
        """Every rule, limit and table."""
        return tuple(one for topic in self.topics for one in topic.resting)

    @property
    def publications(self) -> tuple[tuple[str, int, tuple[tuple[Topic, Publication], ...]], ...]:
        """Each publication, how many of its clauses are cited, and where it stands on the page."""
        where: dict[str, list[tuple[Topic, Publication]]] = {}
        for topic in self.topics:
            for one in topic.publications:
                if one.name not in NO_PUBLICATION:
                    where.setdefault(one.name, []).append((topic, one))
        return tuple(
            (name, len({c.citation.clause for _, one in where[name] for c in one.clauses}),
             tuple(where[name]))
            for name in in_order(where)
        )  # fmt: skip

    def marked(self, standing: Standing) -> tuple[tuple[str, tuple[Resting, ...]], ...]:
        """Each part of a source line with a mark, by its publication, and what rests on it."""
        found: dict[str, tuple[str, dict[Resting, None]]] = {}
        for one in self.resting:
            for part in one.parts:
                if cited := [c.publication for c in part.citations if standing in c.standings]:
                    found.setdefault(part.marked, (in_order(cited)[0], {}))[1][one] = None
        rank = in_order(publication for publication, _ in found.values()).index
        texts = sorted(found, key=lambda text: (rank(found[text][0]), natural(text)))
        return tuple((text, tuple(found[text][1])) for text in texts)

    def counts(self) -> tuple[tuple[Standing, str, int, int], ...]:
        """Of each standing its meaning, and how many rules and how many figures have it.

        Confirmed are those that have no other.
        """
        rows = []
        for standing in Standing:
            alone = standing is Standing.CONFIRMED
            has = [
                one.is_rule
                for one in self.resting
                if (one.standings == {standing} if alone else standing in one.standings)
            ]
            rows.append((standing, _MEANING[standing], has.count(True), has.count(False)))
        return tuple(rows)


def write_sources_page(book: RuleBook, path: Path) -> None:
    """Write what a rule book rests on as one HTML page, over an earlier one at most.

    Raises:
        UserError: the name has another ending, something else stands there, or it can't be
            written.
    """
    book_page.write_page(path, render_sources(book), MARKER, _WHAT)


def render_sources(book: RuleBook) -> str:
    """What a rule book rests on, as the text of an HTML file in UTF-8."""
    page = template("sources.html").render(
        sources=sources_of(book),
        standing=Standing,
        changes=book.changes,
        local_rules=LOCAL_RULES,
        no_local_rules=NO_LOCAL_RULES,
        number_of_rules=sum(1 for _ in book),
        number_of_figures=len(book.limits) + len(book.tables),
        book=book.fingerprint,
        version=program.__version__,
    )
    return MARKER + legible(page)


def sources_of(book: RuleBook) -> Sources:
    """What a rule book rests on."""
    shipped = {book_page.file_of(rule.place) for rule in book if not rule.local}
    shown = tuple(book_page.topics(book))
    figures = [figure for topic in shown for figure in topic.figures]
    anchors = {figure.named.name: f"figure-{i}" for i, figure in enumerate(figures, 1)}
    topics = []
    for i, topic in enumerate(shown, 1):
        resting = (
            *(_of_figure(one, anchors[one.named.name], shipped) for one in topic.figures),
            *(_of_rule(one.rule) for one in topic.entries),
        )
        publications = tuple(_publications(resting, f"topic-{i}"))
        topics.append(Topic(topic.name, f"topic-{i}", publications, resting))
    practice = [
        one for topic in topics for one in topic.resting
        if Standing.COMMON_PRACTICE in one.standings
    ]  # fmt: skip
    names = {one.name for one in practice if not one.is_rule}
    return Sources(
        tuple(topics),
        tuple(one for one in figures if one.named.legal),
        tuple(one for one in figures if one.named.name in names),
        tuple(one for one in practice if one.is_rule),
    )


def _of_rule(rule: Rule) -> Resting:
    return Resting(
        rule.code, rule.code, rule.name, True, False, rule.local, rule.source, rule.place,
        read_source(rule.source, local=rule.local),
    )  # fmt: skip


def _of_figure(figure: Figure, anchor: str, shipped: Collection[str]) -> Resting:
    named = figure.named
    local = book_page.file_of(named.place) not in shipped
    said = named.shown if isinstance(named, Limit) else ""
    return Resting(
        anchor, named.name, said, False, named.legal, local, named.source, named.place,
        read_source(named.source, local=local),
    )  # fmt: skip


def _publications(resting: Iterable[Resting], anchor: str) -> Iterator[Publication]:
    """What a topic rests on, by publication and clause."""
    cited: dict[str, dict[Citation, dict[Resting, None]]] = {}
    for one in resting:
        for part in one.parts:
            for citation in part.citations:
                clauses = cited.setdefault(citation.publication, {})
                clauses.setdefault(citation, {})[one] = None
    for i, name in enumerate(in_order(cited), 1):
        by_clause = sorted(cited[name].items(), key=lambda item: natural(item[0].clause))
        rows = tuple(Clause(citation, tuple(users)) for citation, users in by_clause)
        yield Publication(name, f"{anchor}-{i}", rows)
