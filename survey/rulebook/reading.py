"""Read the text of rules files into a checked book, with all mistakes of all files at once."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from survey.rulebook.fields import Fields, Mistakes, head_text, opened
from survey.rulebook.figures import Figures
from survey.rulebook.levels import in_levels
from survey.rulebook.local import added, check_figures, reason_and_name, why_kept
from survey.rulebook.messages import RuleBookError, Span
from survey.rulebook.paragraphs import Paragraph, split_paragraphs
from survey.rulebook.questions import FIELDS as QUESTION_LINES
from survey.rulebook.questions import read_question
from survey.rulebook.rule_reader import (
    RELEASE_LINES,
    REPLACED_LINES,
    RuleReader,
    find_rule,
    place_of,
    read_release,
)
from survey.rulebook.rules import Change, Outcome, Rule, RuleBook
from survey.vocabulary import VOCABULARY, Word

_LINES = {*QUESTION_LINES, *RELEASE_LINES, *REPLACED_LINES, "row"}
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
    pieces = [*_pieces(shipped, mistakes, local=False), *_pieces(own, mistakes, local=True)]
    questions = _read_questions(pieces, mistakes)
    figures = Figures(VOCABULARY.extended(word for word, _ in questions))
    for piece in pieces:
        if piece.opening in _FIGURES:
            figures.read(piece.paragraph, piece.opening, mistakes, local=piece.local)
    rules = _Rules(figures, mistakes)
    for opening in ("rule", "replace rule", "switch off rule", "standing release", "cases"):
        for piece in pieces:
            if piece.opening == opening:
                rules.read(piece)
    changes = [
        *check_figures(figures, rules.shipped, mistakes),
        *rules.changes,
        *added((rule for rule in rules if rule.local and rule.code not in rules.replaced),
               (pair for pair in questions if pair[1].file in own)),
    ]  # fmt: skip
    levels = in_levels(rules, rules.heads, mistakes)
    if mistakes:
        raise RuleBookError(mistakes)
    digest = hashlib.sha256(repr((sorted(shipped.items()), sorted(own.items()))).encode())
    return RuleBook(
        figures.limits, figures.tables, levels, figures.vocabulary, digest.hexdigest()[:12],
        tuple(changes),
    )  # fmt: skip


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
        for paragraph in split:
            opening = opened(paragraph, _LINES, mistakes)
            if opening == "topic":
                topic = paragraph.head.text or topic
            elif opening is not None:
                yield _Piece(topic, opening, paragraph, local)


def _read_questions(pieces: list[_Piece], mistakes: Mistakes) -> list[tuple[Word, Span]]:
    questions: dict[str, tuple[Word, Span]] = {}
    for piece in pieces:
        if piece.opening != "question":
            continue
        word = read_question(piece.paragraph, mistakes)
        if word is None:
            continue
        span = head_text(piece.paragraph, "question").whole
        if word.key in questions:
            first = questions[word.key][1]
            what = f"the question '{word.name}' is asked already"
            mistakes.note(span, what, "Keep one of the two.", also=("The other stands", first))
            continue
        questions[word.key] = word, span
    return list(questions.values())


@dataclass
class _Rules:
    """The rules read so far, by code.

    Args:
        figures: what they may name.
        mistakes: where slips are noted.
        shipped: every rule of the shipped book, those that are replaced or switched off too.
        heads: head line of each rule.
        releasing: line of each rule that says who may lift it, or its head.
        replaced: codes of the shipped rules that a firm's file replaces.
        changes: rules that are replaced or switched off.
    """

    figures: Figures
    mistakes: Mistakes
    shipped: list[Rule] = field(default_factory=list)
    heads: dict[str, Span] = field(default_factory=dict)
    releasing: dict[str, Span] = field(default_factory=dict)
    replaced: set[str] = field(default_factory=set)
    changes: list[Change] = field(default_factory=list)
    _rules: dict[str, Rule] = field(default_factory=dict)

    def __iter__(self) -> Iterator[Rule]:
        return iter(self._rules.values())

    def read(self, piece: _Piece) -> None:
        """Read a paragraph that is, or is about, a rule."""
        match piece.opening:
            case "rule":
                self._add(piece)
            case "replace rule":
                self._replace(piece)
            case "switch off rule":
                self._switch_off(piece)
            case "cases":
                self._add_cases(piece)
            case _:
                release = read_release(
                    piece.topic, piece.paragraph, self.figures, self.mistakes,
                    lifted=self._rules, lines=self.releasing, local=piece.local,
                )  # fmt: skip
                if release is not None:
                    self._keep(release, piece, None)

    def _add(self, piece: _Piece) -> None:
        reader = RuleReader(
            piece.topic, piece.paragraph, piece.opening, self.figures, self.mistakes
        )
        rule = reader.read(local=piece.local)
        if rule is not None:
            self._keep(rule, piece, reader.fields)
            if not piece.local:
                self.shipped.append(rule)

    def _keep(self, rule: Rule, piece: _Piece, fields: Fields | None) -> None:
        head = head_text(piece.paragraph, piece.opening).whole
        if rule.code in self._rules:
            before = self._rules[rule.code]
            what = f"the code {rule.code} is taken by the rule at {before.place}"
            help = "Give this rule the next free number."
            if piece.local and not before.local:
                help = f"Give it another number, or write 'replace rule {rule.code}'."
            self.mistakes.note(head, what, help)
            return
        self._rules[rule.code] = rule
        self.heads[rule.code] = self.releasing[rule.code] = head
        if fields is not None and fields.every("release"):
            self.releasing[rule.code] = fields.every("release")[0].whole

    def _shipped_rule(self, piece: _Piece, *, change: bool) -> Rule | None:
        """The shipped rule that a paragraph is about, if it may be changed."""
        head = head_text(piece.paragraph, piece.opening)
        code = head.text.partition(" ")[0]
        rule = find_rule(head, code, self._rules, self.mistakes)
        if rule is None or not change:
            return rule
        if rule.local:
            what = f"{code} is your own rule, at {rule.place}"
            if code in self.replaced:
                what = f"{code} is replaced already, at {rule.place}"
            self.mistakes.note(head.whole, what, "Change it there.")
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
        why = reason_and_name(reader.fields)
        before = self._shipped_rule(piece, change=True)
        rule = reader.read(local=piece.local)
        if rule is None or before is None:
            return
        if not isinstance(rule.then, Outcome):
            head = head_text(piece.paragraph, piece.opening).whole
            self.mistakes.note(head, "a conclusion can't replace a finding", "Add a rule for it.")
            return
        self._rules[rule.code] = replace(rule, topic=before.topic)
        self.replaced.add(rule.code)
        what = f"rule {rule.code} replaced: {rule.name}; shipped: {before.name}"
        self.changes.append(Change(what, why, rule.place))

    def _switch_off(self, piece: _Piece) -> None:
        fields = Fields(piece.paragraph, ("reason", "by"), "switched-off rule", self.mistakes)
        why = reason_and_name(fields)
        rule = self._shipped_rule(piece, change=True)
        if rule is not None:
            del self._rules[rule.code]
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
