"""Read the text of rules files into a checked book, with all mistakes of all files at once."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from survey.rulebook.costs import Costs
from survey.rulebook.fields import Fields, head_text, opened
from survey.rulebook.figures import Figures
from survey.rulebook.levels import in_levels
from survey.rulebook.local import (
    added,
    check_figures,
    check_used,
    reason_and_name,
    replaced,
    why_kept,
)
from survey.rulebook.messages import Mistakes, RuleBookError, Span
from survey.rulebook.paragraphs import Paragraph, split_paragraphs, unreadable
from survey.rulebook.questions import FIELDS as QUESTION_LINES
from survey.rulebook.questions import read_question
from survey.rulebook.rule_reader import (
    RELEASE_LINES,
    REPLACED_LINES,
    SWITCHED_LINES,
    RuleReader,
    find_rule,
    place_of,
    read_release,
)
from survey.rulebook.rules import CatalogueSeat, Change, Outcome, Rule, RuleBook
from survey.rulebook.seats import LINES as SEAT_LINES
from survey.rulebook.seats import none_suits, read_seat, read_seat_word
from survey.vocabulary import VOCABULARY, Word

_LINES = {*QUESTION_LINES, *RELEASE_LINES, *REPLACED_LINES, *SEAT_LINES, "row"}
_FIRM_ALONE = ("replace rule", "switch off rule", "cases")
_FIGURES = ("limit", "legal limit", "table", "legal table")


def read_book(shipped: Mapping[str, str], local: Mapping[str, str] | None = None) -> RuleBook:
    """Read the texts of rules files, by file name.

    Args:
        shipped: the files of the book that comes with the program.
        local: a firm's own files, read over it; none if there are none.

    Raises:
        RuleBookError: with every mistake of every file.
    """
    own = {} if local is None else local
    mistakes = Mistakes()
    for file, text in (*shipped.items(), *own.items()):
        mistakes.extend(unreadable(file, text))
    if mistakes:  # what stands in such lines can't be trusted, so nothing more is said of it
        raise RuleBookError(mistakes)
    pieces = [*_pieces(shipped, mistakes, local=False), *_pieces(own, mistakes, local=True)]
    questions, mistaken = _read_questions(pieces, mistakes)
    seat_words = _read_seat_words(pieces, mistakes)
    words = (*(word for word, _ in questions), *seat_words.values())
    figures = Figures(VOCABULARY.extended(words), mistaken=mistaken)
    for piece in pieces:
        if piece.opening in _FIGURES:
            figures.read(piece.paragraph, piece.opening, mistakes, local=piece.local)
    costs = Costs(figures.vocabulary)
    for piece in pieces:
        if piece.opening == "cost":
            costs.read(piece.paragraph, mistakes, local=piece.local)
    costs.check_currency(mistakes)
    rules = _Rules(figures, mistakes, seat_words)
    for opening in ("rule", "seat", "replace rule", "switch off rule", "standing release", "cases"):
        for piece in pieces:
            if piece.opening == opening:
                rules.read(piece)
    rules.finish_catalogue()
    changes = [
        *check_figures(figures, rules.shipped, mistakes),
        *costs.changes,
        *rules.changes,
        *added((rule for rule in rules if rule.local and rule.code not in rules.replaced),
               (pair for pair in questions if pair[1].file in own)),
    ]  # fmt: skip
    levels = in_levels(rules, rules.heads, mistakes)
    if mistakes:
        raise RuleBookError(mistakes)
    book = RuleBook(
        figures.limits, figures.tables, levels, figures.vocabulary,
        _fingerprint(sorted(shipped.items()), sorted(own.items())),
        tuple(changes), frozenset(after.name for _, after in figures.replaced),
        seats=tuple(sorted(rules.seats, key=lambda seat: seat.prefer)),
        shipped=_fingerprint(sorted(shipped.items())),
        local=_fingerprint(sorted(own.items())) if own else "",
        costs=costs.costs,
    )  # fmt: skip
    check_used(book, figures, own, mistakes)
    if mistakes:
        raise RuleBookError(mistakes)
    return book


def _fingerprint(*parts: object) -> str:
    return hashlib.sha256(repr(parts).encode()).hexdigest()[:12]


@dataclass(frozen=True, slots=True)
class _Piece:
    """A paragraph with the heading it stands under and how it opens."""

    topic: str
    opening: str
    paragraph: Paragraph
    local: bool


def _pieces(texts: Mapping[str, str], mistakes: Mistakes, *, local: bool) -> Iterator[_Piece]:
    for file, text in texts.items():
        split, faults = split_paragraphs(file, text)
        mistakes.extend(faults)
        topic = file.replace("\\", "/").rsplit("/", 1)[-1].removesuffix(".rules")
        for found in (opened(paragraph, mistakes) for paragraph in _indented(split, mistakes)):
            if found is None:
                continue
            opening, paragraph = found
            if opening == "topic":
                topic = paragraph.head.text or topic
                for line in paragraph.fields:
                    what = f"'{line.keyword}' stands under a topic, and is not read there"
                    mistakes.note(line.span, what, "Start it at the left margin.")
            elif opening in _FIRM_ALONE and not local:
                what = f"'{opening}' in the shipped book"
                mistakes.note(paragraph.head.span, what, "It stands in a firm's own files alone.")
            else:
                yield _Piece(topic, opening, paragraph, local)


def _indented(paragraphs: Iterable[Paragraph], mistakes: Mistakes) -> Iterator[Paragraph]:
    """Paragraphs with the lines that stand at the margin by mistake put where they belong."""
    above: Paragraph | None = None
    for paragraph in paragraphs:
        head = paragraph.head
        if above is not None and head.keyword in _LINES:
            what = f"'{head.keyword}' opens no paragraph"
            mistakes.note(head.span, what, "Indent it: it belongs to the paragraph above it.")
            above = Paragraph(above.head, (*above.fields, head, *paragraph.fields))
            continue
        if above is not None:
            yield above
        above = paragraph
    if above is not None:
        yield above


def _read_questions(
    pieces: list[_Piece], mistakes: Mistakes
) -> tuple[list[tuple[Word, Span]], set[str]]:
    """The firm's questions with their places, and the names of those that have a mistake."""
    questions: dict[str, tuple[Word, Span]] = {}
    mistaken: set[str] = set()
    for piece in pieces:
        if piece.opening != "question":
            continue
        word = read_question(piece.paragraph, mistakes)
        head = head_text(piece.paragraph, "question")
        if word is None:
            mistaken.add(head.text)
            continue
        span = head.whole
        if word.key in questions:
            first = questions[word.key][1]
            what = f"the question '{word.name}' is asked already"
            mistakes.note(span, what, "Keep one of the two.", also=("The other stands", first))
            continue
        questions[word.key] = word, span
    return list(questions.values()), mistaken


def _read_seat_words(pieces: list[_Piece], mistakes: Mistakes) -> dict[str, Word]:
    """The words of the seats, by the place of each seat's paragraph."""
    words: dict[str, Word] = {}
    for piece in pieces:
        if piece.opening != "seat":
            continue
        word = read_seat_word(piece.paragraph, mistakes)
        if word is not None and word.name in {one.name for one in words.values()}:
            span, what = head_text(piece.paragraph, "seat").whole, "this seat is listed already"
            mistakes.note(span, what, "Keep one of the two.")
        elif word is not None:
            words[place_of(piece.paragraph)] = word
    return words


@dataclass
class _Rules:
    """The rules read so far, by code.

    Args:
        figures: what they may name; with the names that have a mistake of their own.
        mistakes: where slips are noted.
        seat_words: the word of each seat, by the place of its paragraph.
        seats: the catalogue.
        shipped: every rule of the shipped book, those that are replaced or switched off too.
        heads: head line of each rule.
        releasing: line of each rule that says who may lift it, or its head.
        replaced: codes of the shipped rules that a firm's file replaces.
        changes: rules that are replaced or switched off.
    """

    figures: Figures
    mistakes: Mistakes
    seat_words: Mapping[str, Word]
    seats: list[CatalogueSeat] = field(default_factory=list)
    shipped: list[Rule] = field(default_factory=list)
    heads: dict[str, Span] = field(default_factory=dict)
    releasing: dict[str, Span] = field(default_factory=dict)
    replaced: set[str] = field(default_factory=set)
    changes: list[Change] = field(default_factory=list)
    _rules: dict[str, Rule] = field(default_factory=dict)
    _gone: dict[str, Span] = field(default_factory=dict)
    _mistaken: set[str] = field(default_factory=set)

    def __iter__(self) -> Iterator[Rule]:
        return iter(self._rules.values())

    def read(self, piece: _Piece) -> None:
        """Read a paragraph that is, or is about, a rule."""
        match piece.opening:
            case "rule":
                self._add(piece)
            case "seat":
                self._add_seat(piece)
            case "replace rule":
                self._replace(piece)
            case "switch off rule":
                self._switch_off(piece)
            case "cases":
                self._add_cases(piece)
            case _:
                release = read_release(
                    piece.topic, piece.paragraph, self.figures, self.mistakes,
                    lifted=self._rules, mistaken=self._mistaken, lines=self.releasing,
                    gone=self._gone, local=piece.local,
                )  # fmt: skip
                if release is not None:
                    self._keep(release, piece, None)

    def _add(self, piece: _Piece) -> None:
        reader = RuleReader(
            piece.topic, piece.paragraph, piece.opening, self.figures, self.mistakes
        )
        rule = reader.read(local=piece.local)
        if rule is None:
            self._mistaken.add(self._code(piece))
            return
        self._keep(rule, piece, reader.fields)
        if not piece.local:
            self.shipped.append(rule)

    def _add_seat(self, piece: _Piece) -> None:
        word = self.seat_words.get(place_of(piece.paragraph))
        read = None if word is None else read_seat(
            piece.topic, piece.paragraph, word, self.figures, self.mistakes, local=piece.local
        )  # fmt: skip
        if read is None:
            self._mistaken.add(self._code(piece))
            return
        seat, rule = read
        self._keep(rule, piece, None)
        if not piece.local:
            self.shipped.append(rule)
        if self._rules.get(rule.code) is rule:
            self.seats.append(seat)

    def finish_catalogue(self) -> None:
        """Add the rule that tells where no seat of the catalogue suits."""
        if not self.seats:
            return
        seats = [(seat, self.heads[seat.code]) for seat in self.seats]
        topic = self._rules[self.seats[0].code].topic
        rule = none_suits(seats, self.figures.vocabulary, topic)
        if rule.code in self._rules:
            what = f"the code {rule.code} is that of the catalogue of seats"
            self.mistakes.note(self.heads[rule.code], what, "Give this rule another number.")
            return
        self._rules[rule.code] = rule
        self.heads[rule.code] = self.releasing[rule.code] = seats[0][1]
        self.shipped.append(rule)

    def _code(self, piece: _Piece) -> str:
        return head_text(piece.paragraph, piece.opening).text.partition(" ")[0]

    def _keep(self, rule: Rule, piece: _Piece, fields: Fields | None) -> None:
        head = head_text(piece.paragraph, piece.opening).whole
        if rule.code in self._rules:
            help = "Give this rule the next free number."
            if piece.local and not self._rules[rule.code].local:
                help = f"Give it another number, or write 'replace rule {rule.code}'."
            also = ("It is the code of the rule", self.heads[rule.code])
            self.mistakes.note(head, f"the code {rule.code} is taken", help, also=also)
            return
        self._rules[rule.code] = rule
        self.heads[rule.code] = self.releasing[rule.code] = head
        if fields is not None and fields.every("release"):
            self.releasing[rule.code] = fields.every("release")[0].whole

    def _shipped_rule(self, piece: _Piece, *, change: bool) -> Rule | None:
        """The shipped rule that a paragraph is about, if it may be changed."""
        head = head_text(piece.paragraph, piece.opening)
        code = self._code(piece)
        if not code:
            what = f"'{piece.opening}' without a code"
            self.mistakes.note(piece.paragraph.head.span, what, f"Such as: {piece.opening} DIG-1")
            return None
        if code in self._gone:
            also = ("It is switched off", self._gone[code])
            what = f"{code} is switched off already"
            self.mistakes.note(head.whole, what, "Keep one of the two.", also=also)
            return None
        rule = find_rule(head, code, self._rules, self.mistakes, self._mistaken)
        if rule is None or not change:
            return rule
        if rule.local:
            what = f"{code} is your own rule"
            if code in self.replaced:
                what = f"{code} is replaced already"
            also = ("It stands", self.heads[code])
            self.mistakes.note(head.whole, what, "Change it there.", also=also)
            return None
        if why := why_kept(rule):
            also = (f"{code} stands", self.releasing[code])
            help = "It stays as it is. Add a rule of your own to be stricter."
            self.mistakes.note(head.whole, why, help, also=also)
            return None
        return rule

    def _replace(self, piece: _Piece) -> None:
        reader = RuleReader(
            piece.topic, piece.paragraph, piece.opening, self.figures, self.mistakes
        )
        before = self._shipped_rule(piece, change=True)
        why = reason_and_name(reader.fields, before)
        rule = reader.read(local=piece.local)
        if rule is None or before is None:
            return
        if not isinstance(rule.then, Outcome):
            head = head_text(piece.paragraph, piece.opening).whole
            self.mistakes.note(head, "a conclusion can't replace a finding", "Add a rule for it.")
            return
        self._rules[rule.code] = replace(rule, topic=before.topic)
        self.heads[rule.code] = head_text(piece.paragraph, piece.opening).whole
        self.releasing[rule.code] = reader.fields.every("release")[0].whole
        self.replaced.add(rule.code)
        self.changes.append(Change(replaced(before, rule), why, rule.place))

    def _switch_off(self, piece: _Piece) -> None:
        fields = Fields(piece.paragraph, SWITCHED_LINES, "switched-off rule", self.mistakes)
        rule = self._shipped_rule(piece, change=True)
        why = reason_and_name(fields, rule)
        if rule is not None:
            del self._rules[rule.code]
            self._gone[rule.code] = piece.paragraph.head.span.whole
            what = f"rule {rule.code} switched off: {rule.name}"
            self.changes.append(Change(what, why, place_of(piece.paragraph)))

    def _add_cases(self, piece: _Piece) -> None:
        fields = Fields(
            piece.paragraph, ("case",), "paragraph of cases", self.mistakes, repeated=("case",)
        )
        fields.get("case")
        rule = self._shipped_rule(piece, change=False)
        if rule is not None:
            cases = (*rule.case_fields, *fields.every("case"))
            self._rules[rule.code] = replace(rule, case_fields=cases)
