"""Read the text of rules files into a checked book, with all mistakes of all files at once."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping

from survey.rulebook.check import (
    CheckMistakeError,
    ConditionMistakesError,
    Scope,
    read_condition,
    read_outcome,
)
from survey.rulebook.messages import Mistake, RuleBookError, Span
from survey.rulebook.paragraphs import Field, Paragraph, placeholders, split_paragraphs
from survey.rulebook.rules import (
    MISTAKEN,
    Conclusion,
    Condition,
    Limit,
    Outcome,
    ReleaseBy,
    Rule,
    RuleBook,
    comparisons,
)
from survey.rulebook.syntax import Phrase, SyntaxMistakeError, child, parse, phrase, unquoted
from survey.vocabulary import (
    MEASURES,
    SCOPES,
    VOCABULARY,
    Kind,
    Origin,
    QuantityError,
    Subject,
    Word,
    nearest,
    read_quantity,
    steps,
)

WHO = (
    "surveyor", "scheduler", "safety lead", "competent person", "engineer", "crew", "customer",
)  # fmt: skip
_SUBJECTS = {subject.value: subject for subject in SCOPES}
_RULE_FIELDS = ("for", "when", "then", "say", "do", "who", "from", "release", "case")
_CODE = re.compile(r"[A-Z]{2,6}-\d{1,3}")


def read_book(texts: Mapping[str, str]) -> RuleBook:
    """Read the texts of rules files, by file name.

    Raises:
        RuleBookError: with every mistake of every file.
    """
    mistakes: list[Mistake] = []
    paragraphs: list[tuple[str, Paragraph]] = []
    for file, text in texts.items():
        split, faults = split_paragraphs(file, text)
        mistakes.extend(faults)
        topic = file.removesuffix(".rules")
        for paragraph in split:
            if paragraph.head.keyword == "topic":
                topic = paragraph.head.text
            else:
                paragraphs.append((topic, paragraph))
    limits = _read_limits((p for _, p in paragraphs), mistakes)
    rules = _read_rules(paragraphs, limits, mistakes)
    levels = _levels(rules, mistakes)
    if mistakes:
        raise RuleBookError(mistakes)
    digest = hashlib.sha256(repr(sorted(texts.items())).encode()).hexdigest()
    return RuleBook(limits, levels, digest[:12])


def _read_limits(paragraphs: Iterable[Paragraph], mistakes: list[Mistake]) -> dict[str, Limit]:
    limits: dict[str, Limit] = {}
    for paragraph in paragraphs:
        head = paragraph.head
        legal = head.keyword == "legal"
        if head.keyword != "limit" and not legal:
            continue
        if legal:
            if not head.text.startswith("limit "):
                mistakes.append(Mistake(head.span, "'legal' can only open a 'legal limit'"))
                continue
            head = _without_first_word(head)
        try:
            node = parse(head, "limit")
        except SyntaxMistakeError as fault:
            mistakes.append(fault.mistake)
            continue
        name, value = phrase(head, child(node, 0)), phrase(head, child(node, 1))
        measured = _any_quantity(unquoted(value.text))
        source = _only_field(paragraph, "from", mistakes)
        if name.text in VOCABULARY:
            what = f"'{name.text}' is a word of the form already"
            mistakes.append(Mistake(name.span, what, "Give the limit another name."))
            continue
        if measured is None:
            what = f"'{value.text}' is no figure with a unit"
            mistakes.append(
                Mistake(value.span, what, "Write it like 5 ft, 1.5H:1V, 25 % or 10 days.")
            )
        if name.text in limits:
            what = f"the limit '{name.text}' is set already at {limits[name.text].place}"
            mistakes.append(Mistake(name.span, what, "Keep one of the two."))
            continue
        place = f"{name.span.file}:{name.span.line}"
        kind, count = (measured[0].value, measured[1]) if measured else (MISTAKEN, 0)
        said = source.text if source else ""
        limits[name.text] = Limit(name.text, legal, value.text, kind, count, said, place)
    return limits


def _without_first_word(field: Field) -> Field:
    text, span = field.lines[0]
    gone = len(text) - len(text[len("limit") :].lstrip())
    moved = Span(span.file, span.line, span.column + gone, max(1, span.length - gone), span.text)
    return Field("limit", field.span, ((text[gone:], moved), *field.lines[1:]))


def _any_quantity(text: str) -> tuple[Kind, int] | None:
    """The kind that the unit tells, and the figure in whole steps; counts need no unit."""
    for kind in MEASURES:
        try:
            bare = "" if kind is Kind.COUNT else None
            return kind, steps(kind, read_quantity(text, kind, bare))
        except QuantityError:
            continue
    return None


def _only_field(paragraph: Paragraph, keyword: str, mistakes: list[Mistake]) -> Field | None:
    found = [field for field in paragraph.fields if field.keyword == keyword]
    for field in paragraph.fields:
        if field.keyword != keyword:
            what = f"'{field.keyword}' has no place in a limit; only '{keyword}' has"
            mistakes.append(Mistake(field.span, what))
    if len(found) == 1 and found[0].text:
        return found[0]
    what = f"a limit needs one '{keyword}' line: standard and clause, or 'common practice'"
    mistakes.append(Mistake(paragraph.head.span, what))
    return None


def _read_rules(
    paragraphs: Iterable[tuple[str, Paragraph]],
    limits: Mapping[str, Limit],
    mistakes: list[Mistake],
) -> list[Rule]:
    rules: dict[str, Rule] = {}
    for topic, paragraph in paragraphs:
        head = paragraph.head
        if head.keyword in ("limit", "legal"):
            continue
        if head.keyword != "rule":
            near = nearest(head.keyword, ("rule", "limit", "legal", "topic"))
            what = f"'{head.keyword}' opens no paragraph"
            help = "A paragraph starts with 'topic', 'rule', 'limit' or 'legal limit'."
            if head.keyword in _RULE_FIELDS:
                near, help = None, "Indent it: it belongs to the rule above it."
            mistakes.append(Mistake(head.span, what, help, near))
            continue
        rule = _RuleReader(topic, paragraph, limits, mistakes).read()
        if rule is None:
            continue
        if rule.code in rules:
            what = f"the code {rule.code} is taken by the rule at {rules[rule.code].place}"
            mistakes.append(Mistake(head.whole, what, "Give this rule the next free number."))
        rules[rule.code] = rule
    return list(rules.values())


class _RuleReader:
    """Reads one rule; each field's mistakes are noted and the other fields still read."""

    def __init__(
        self, topic: str, paragraph: Paragraph, limits: Mapping[str, Limit], mistakes: list[Mistake]
    ) -> None:
        self._topic, self._head, self._limits = topic, paragraph.head, limits
        self._mistakes, self._before = mistakes, len(mistakes)
        self._fields = self._by_keyword(paragraph)

    def read(self) -> Rule | None:
        """The rule, or none if it has a mistake."""
        code, name = self._code_and_name()
        subject = self._subject()
        scope = Scope(subject, self._limits) if subject else None
        condition = self._condition(scope)
        then = self._then(scope)
        concludes = isinstance(then, Conclusion)
        say = self._text("say", scope, needed=True)
        do = self._text("do", scope, needed=not concludes)
        source = self._text("from", None, needed=True)
        self._field("case")
        who = self._one_of("who", WHO, needed=not concludes)
        release = self._one_of("release", [by.value for by in ReleaseBy], needed=not concludes)
        if concludes:
            self._refuse(
                "a conclusion has none; the rules that use it have", "do", "who", "release"
            )
        if len(self._mistakes) > self._before or not subject or condition is None or then is None:
            return None
        return Rule(
            code, name, self._topic, subject, condition, then, say, do, who, source,
            ReleaseBy(release) if release else ReleaseBy.NOBODY,
            tuple(self._fields.get("case", ())),
            f"{self._head.span.file}:{self._head.span.line}",
        )  # fmt: skip

    def _note(self, span: Span, what: str, help: str = "", near: str | None = None) -> None:
        self._mistakes.append(Mistake(span, what, help, near))

    def _by_keyword(self, paragraph: Paragraph) -> dict[str, list[Field]]:
        fields: dict[str, list[Field]] = {}
        for field in paragraph.fields:
            if field.keyword not in _RULE_FIELDS:
                near = nearest(field.keyword, _RULE_FIELDS)
                what = f"'{field.keyword}' is no line of a rule"
                self._note(
                    field.span, what, f"Lines of a rule are: {', '.join(_RULE_FIELDS)}.", near
                )
            elif not field.text:
                self._note(field.span, f"nothing stands after '{field.keyword}'")
            elif field.keyword in fields and field.keyword != "case":
                self._note(field.span, f"a second '{field.keyword}' line in one rule", "Keep one.")
            fields.setdefault(field.keyword, []).append(field)
        return fields

    def _code_and_name(self) -> tuple[str, str]:
        code, _, name = self._head.text.partition(" ")
        if not _CODE.fullmatch(code) or not name.strip():
            what = "a rule starts with a code and the name of the fault"
            self._note(
                self._head.whole, what, "Such as: rule DIG-1 pit with nothing to hold its sides"
            )
        return code, name.strip()

    def _field(self, keyword: str, *, needed: bool = True) -> Field | None:
        found = self._fields.get(keyword)
        if found and found[0].text:
            return found[0]
        if not found and needed:
            help = {
                "who": f"Say who acts: {', '.join(WHO)}.",
                "release": f"Say who may lift it: {', '.join(by.value for by in ReleaseBy)}.",
                "from": "Name standard and clause, or 'common practice'.",
                "case": "Give one that is met, one that is not, and one with the answer missing.",
            }.get(keyword, "")
            self._note(self._head.whole, f"the rule has no '{keyword}' line", help)
        return None

    def _subject(self) -> Subject | None:
        field = self._field("for")
        if field is None:
            return None
        name = field.text.removeprefix("each ").removeprefix("the ")
        if name not in _SUBJECTS:
            listed = ", ".join(f"each {s}" if s != "site" else "the site" for s in _SUBJECTS)
            what = f"'{field.text}' is nothing that rules are judged for"
            self._note(field.whole, what, f"Write one of: {listed}.", nearest(name, _SUBJECTS))
            return None
        return _SUBJECTS[name]

    def _condition(self, scope: Scope | None) -> Condition | None:
        field = self._field("when")
        if field is None:
            return None
        try:
            node = parse(field, "condition")
            return read_condition(node, field, scope) if scope else None
        except SyntaxMistakeError as fault:
            self._mistakes.append(fault.mistake)
        except ConditionMistakesError as fault:
            self._mistakes.extend(fault.mistakes)
        return None

    def _then(self, scope: Scope | None) -> Outcome | Conclusion | None:
        field = self._field("then")
        if field is None:
            return None
        try:
            node = parse(field, "outcome")
            return read_outcome(node, field, scope) if scope else None
        except (SyntaxMistakeError, CheckMistakeError) as fault:
            self._mistakes.append(fault.mistake)
        return None

    def _text(self, keyword: str, scope: Scope | None, *, needed: bool) -> str:
        field = self._field(keyword, needed=needed)
        if field is None:
            return ""
        if scope is not None:
            for name, span in placeholders(field):
                if name not in self._limits and name not in _labels(scope.subject):
                    try:
                        scope.word(Phrase(name, span))
                    except CheckMistakeError as fault:
                        self._mistakes.append(fault.mistake)
        return field.text

    def _one_of(self, keyword: str, choices: Iterable[str], *, needed: bool) -> str:
        field = self._field(keyword, needed=needed)
        if field is None:
            return ""
        listed = list(choices)
        if field.text not in listed:
            what = f"'{field.text}' can't stand after '{keyword}'"
            self._note(
                field.whole,
                what,
                f"Write one of: {', '.join(listed)}.",
                nearest(field.text, listed),
            )
        return field.text

    def _refuse(self, why: str, *keywords: str) -> None:
        for keyword in keywords:
            for field in self._fields.get(keyword, ()):
                self._note(
                    field.span, f"'{keyword}' in a rule that concludes", why.capitalize() + "."
                )


def _labels(subject: Subject) -> set[str]:
    """The names in braces that stand for the label of a thing."""
    return {part.value for part in SCOPES[subject] if " and " not in part.value}


def _levels(rules: list[Rule], mistakes: list[Mistake]) -> tuple[tuple[Rule, ...], ...]:
    """Order the rules so that each stands after the conclusions it looks at."""
    concluders: dict[str, list[Rule]] = {}
    for rule in rules:
        if isinstance(rule.then, Conclusion):
            concluders.setdefault(rule.then.word.name, []).append(rule)
    depth: dict[str, int] = {}

    def level(rule: Rule, path: tuple[str, ...]) -> int:
        if rule.code in path:
            chain = " -> ".join([*path[path.index(rule.code) :], rule.code])
            raise _CircleError(rule, chain)
        if rule.code not in depth:
            before = [
                level(other, (*path, rule.code))
                for word in _concluded_words(rule.condition)
                for other in concluders.get(word.name, ())
            ]
            depth[rule.code] = max(before, default=-1) + 1
        return depth[rule.code]

    try:
        ranked = [(level(rule, ()), rule) for rule in rules]
    except _CircleError as circle:
        file, _, line = circle.rule.place.rpartition(":")
        head = f"rule {circle.rule.code} {circle.rule.name}"
        span = Span(file, int(line), 1, len(head), head)
        what = f"conclusions that go round in a circle: {circle.chain}"
        mistakes.append(
            Mistake(span, what, "One of these rules must not look at what it leads to.")
        )
        return ()
    deepest = max((rank for rank, _ in ranked), default=-1)
    return tuple(tuple(r for rank, r in ranked if rank == n) for n in range(deepest + 1))


class _CircleError(Exception):
    def __init__(self, rule: Rule, chain: str) -> None:
        self.rule, self.chain = rule, chain


def _concluded_words(condition: Condition) -> list[Word]:
    used = [word for clause in comparisons(condition) for word in clause.words]
    return [word for word in used if word.origin is Origin.CONCLUDED]
