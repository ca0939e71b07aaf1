"""Read one rule from its paragraph; each line's mistakes are noted and the others still read."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Mapping

from survey.rulebook.check import (
    CheckMistakeError,
    ConditionMistakesError,
    Scope,
    read_condition,
    read_outcome,
)
from survey.rulebook.fields import Fields, Mistakes, head_text
from survey.rulebook.figures import Figures
from survey.rulebook.messages import Span
from survey.rulebook.paragraphs import Field, Paragraph, placeholders
from survey.rulebook.rules import Conclusion, Condition, Lift, Outcome, ReleaseBy, Rule
from survey.rulebook.syntax import Phrase, SyntaxMistakeError, parse
from survey.vocabulary import SCOPES, Subject, nearest

WHO = (
    "surveyor", "scheduler", "safety lead", "competent person", "engineer", "crew", "customer",
)  # fmt: skip
RULE_LINES = (
    "for", "when", "then", "say", "do", "say es", "do es", "who", "from", "release", "case",
)  # fmt: skip
REPLACED_LINES = (*RULE_LINES, "reason", "by")
RELEASE_LINES = ("lifts", "when", "engineer", "licence", "given", "until", "note", "case")
_SUBJECTS = {subject.value: subject for subject in SCOPES}
_CODE = re.compile(r"[A-Z]{2,8}-\d{1,3}")
_HELP = {
    "who": f"Say who acts: {', '.join(WHO)}.",
    "release": f"Say who may lift it: {', '.join(by.value for by in ReleaseBy)}.",
    "from": "Name standard and clause, or 'common practice'.",
}


def scope_of(subject: Subject, figures: Figures) -> Scope:
    """What a rule for a subject may name."""
    return Scope(subject, figures.limits, figures.tables, figures.vocabulary)


class RuleReader:
    """Reads one rule.

    Args:
        topic: heading of its file.
        paragraph: the rule as it stands.
        opening: ``rule`` or ``replace rule``.
        figures: limits, tables and words that it may name.
        mistakes: where slips are noted.
    """

    def __init__(
        self, topic: str, paragraph: Paragraph, opening: str, figures: Figures, mistakes: Mistakes
    ) -> None:
        self._topic, self._paragraph, self._opening = topic, paragraph, opening
        self._figures, self._mistakes, self._before = figures, mistakes, len(mistakes)
        lines = RULE_LINES if opening == "rule" else REPLACED_LINES
        self.fields = Fields(paragraph, lines, "rule", mistakes, repeated=("case",))

    def read(self, *, local: bool) -> Rule | None:
        """The rule, or none if it has a mistake."""
        code, name = code_and_name(self._paragraph, self._opening, self._mistakes)
        named = self.fields.subject(_SUBJECTS)
        subject = None if named is None else _SUBJECTS[named]
        scope = scope_of(subject, self._figures) if subject else None
        condition = read_when(self.fields, scope, self._mistakes)
        then = self._then(scope)
        concludes, acts = isinstance(then, Conclusion), isinstance(then, Outcome)
        texts = {k: self._text(k, scope, needed=k == "say" or (k == "do" and acts))
                 for k in ("say", "do", "say es", "do es")}  # fmt: skip
        for keyword in ("say", "do"):
            self._same_words(keyword)
        source = self.fields.text("from", help=_HELP["from"])
        need_case(self.fields)
        who = self._one_of("who", WHO, needed=acts)
        release = self._one_of("release", [by.value for by in ReleaseBy], needed=acts)
        if concludes:
            self._refuse("do", "do es", "who", "release")
        if len(self._mistakes) > self._before or not subject or condition is None or then is None:
            return None
        return Rule(
            code, name, self._topic, subject, condition, then, texts["say"], texts["do"], who,
            source, ReleaseBy(release) if release else ReleaseBy.NOBODY, self.fields.every("case"),
            place_of(self._paragraph), texts["say es"], texts["do es"], local,
        )  # fmt: skip

    def _one_of(self, keyword: str, choices: tuple[str, ...] | list[str], *, needed: bool) -> str:
        return self.fields.one_of(keyword, choices, needed=needed, help=_HELP[keyword])

    def _then(self, scope: Scope | None) -> Outcome | Conclusion | None:
        field = self.fields.get("then")
        if field is None:
            return None
        try:
            node = parse(field, "outcome")
            return read_outcome(node, field, scope) if scope else None
        except (SyntaxMistakeError, CheckMistakeError) as fault:
            self._mistakes.append(fault.mistake)
        return None

    def _text(self, keyword: str, scope: Scope | None, *, needed: bool) -> str:
        field = self.fields.get(keyword, needed=needed)
        if field is None:
            return ""
        if scope is not None:
            known = {*self._figures.limits, *self._figures.tables, *_labels(scope.subject)}
            for name, span in placeholders(field):
                if name not in known:
                    try:
                        scope.word(Phrase(name, span))
                    except CheckMistakeError as fault:
                        self._mistakes.append(fault.mistake)
        return field.text

    def _same_words(self, keyword: str) -> None:
        """Both languages give the crew the same figures."""
        english = self.fields.get(keyword, needed=False)
        spanish = self.fields.get(f"{keyword} es", needed=False)
        if english is None or spanish is None:
            return
        said, dicho = ({name for name, _ in placeholders(field)} for field in (english, spanish))
        if said != dicho:
            listed = ", ".join(f"{{{name}}}" for name in sorted(said ^ dicho))
            what = f"'{keyword}' and '{keyword} es' do not have the same words in braces: {listed}"
            self._mistakes.note(spanish.whole, what, "The crew must read the same figures in both.")

    def _refuse(self, *keywords: str) -> None:
        for keyword in keywords:
            for field in self.fields.every(keyword):
                what = f"'{keyword}' in a rule that concludes"
                help = "A conclusion has none; the rules that use it have."
                self._mistakes.note(field.span, what, help)


def read_release(
    topic: str, paragraph: Paragraph, figures: Figures, mistakes: Mistakes, *,
    lifted: Mapping[str, Rule], lines: Mapping[str, Span], local: bool,
) -> Rule | None:  # fmt: skip
    """A standing release: a rule that lifts the findings of another.

    Args:
        topic: heading of its file.
        paragraph: as it stands.
        lifted: the rules of the book, by code.
        lines: the line of each rule that says who may lift it.
        figures: limits, tables and words that it may name.
        mistakes: where slips are noted.
        local: whether it stands in a firm's own file.
    """
    before = len(mistakes)
    fields = Fields(paragraph, RELEASE_LINES, "standing release", mistakes, repeated=("case",))
    code, name = code_and_name(paragraph, "standing release", mistakes)
    rule = None
    lifts = fields.get("lifts", help="Name the code of the rule whose findings it lifts.")
    if lifts is not None:
        rule = find_rule(lifts, lifts.text, lifted, mistakes)
        if rule is not None and (rule.release is ReleaseBy.NOBODY):
            what = f"nobody may lift {rule.code}"
            if isinstance(rule.then, (Conclusion, Lift)):
                what = f"{rule.code} is no finding that can be lifted"
            also = (f"{rule.code} says so", lines[rule.code])
            mistakes.note(lifts.whole, what, "The work must change instead.", also=also)
    condition = read_when(fields, scope_of(rule.subject, figures) if rule else None, mistakes)
    need_case(fields)
    engineer = fields.text("engineer", help="Name the licensed engineer who gave it.")
    licence = fields.text("licence", help="Give the number and the state.")
    note = fields.text("note", help="Say what it rests on; the crew ticks it.")
    given, last = (_day(fields, keyword, mistakes) for keyword in ("given", "until"))
    if given and last and last < given:
        field = fields.every("until")[0]
        mistakes.note(field.whole, "the release ends before it is given", "Look at both dates.")
    if len(mistakes) > before or not rule or condition is None or not given or not last:
        return None
    return Rule(
        code, name, topic, rule.subject, condition,
        Lift(rule.code, engineer, licence, given, last, note), note, "", "engineer", note,
        ReleaseBy.NOBODY, fields.every("case"), place_of(paragraph), local=local,
    )  # fmt: skip


def _day(fields: Fields, keyword: str, mistakes: Mistakes) -> dt.date | None:
    field = fields.get(keyword, help=f"Such as: {keyword} 2026-12-31")
    if field is None:
        return None
    try:
        return dt.date.fromisoformat(field.text)
    except ValueError:
        mistakes.note(field.whole, f"'{field.text}' is no date such as 2026-12-31")
        return None


def read_when(fields: Fields, scope: Scope | None, mistakes: Mistakes) -> Condition | None:
    """The condition after ``when``; without a scope only its grammar is looked at."""
    field = fields.get("when")
    if field is None:
        return None
    try:
        node = parse(field, "condition")
        return read_condition(node, field, scope) if scope else None
    except SyntaxMistakeError as fault:
        mistakes.append(fault.mistake)
    except ConditionMistakesError as fault:
        mistakes.extend(fault.mistakes)
    return None


def need_case(fields: Fields) -> None:
    """Note it where a paragraph has no case."""
    fields.get(
        "case", help="Give one that is met, one that is not, and one with the answer missing."
    )


def code_and_name(paragraph: Paragraph, opening: str, mistakes: Mistakes) -> tuple[str, str]:
    """The code and the name that a rule starts with."""
    head = head_text(paragraph, opening)
    code, _, name = head.text.partition(" ")
    if not _CODE.fullmatch(code) or not name.strip():
        what = "a rule starts with a code and the name of the fault"
        help = "Such as: rule DIG-1 pit with nothing to hold its sides"
        mistakes.note(head.whole if head.text else paragraph.head.span, what, help)
    return code, name.strip()


def find_rule(
    field: Field, code: str, rules: Mapping[str, Rule], mistakes: Mistakes
) -> Rule | None:
    """The rule that a line names by its code."""
    if code not in rules:
        near = nearest(code, rules)
        mistakes.note(field.whole, f"no rule of the book has the code '{code}'", "", near)
    return rules.get(code)


def place_of(paragraph: Paragraph) -> str:
    """File and line of a paragraph."""
    return f"{paragraph.head.span.file}:{paragraph.head.span.line}"


def _labels(subject: Subject) -> set[str]:
    """The names in braces that stand for the label of a thing."""
    return {part.value for part in SCOPES[subject] if " and " not in part.value}
