"""Read one rule from its paragraph; each line's mistakes are noted and the others still read."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Collection, Mapping
from dataclasses import replace

from survey.rulebook.check import (
    ConditionMistakesError,
    read_condition,
    read_outcome,
)
from survey.rulebook.fields import Fields, each, head_text
from survey.rulebook.figures import Figures
from survey.rulebook.messages import MistakeError, Mistakes, Span
from survey.rulebook.paragraphs import Field, Paragraph, odd_braces, placeholders
from survey.rulebook.rules import (
    Conclusion,
    Condition,
    Count,
    Lift,
    Negation,
    Operator,
    Outcome,
    ReleaseBy,
    Rule,
    comparisons,
    parts_of,
)
from survey.rulebook.scope import Scope
from survey.rulebook.syntax import Phrase, parse
from survey.rulebook.values import read_day
from survey.vocabulary import SCOPES, Subject, nearest

WHO = (
    "surveyor", "scheduler", "safety lead", "competent person", "engineer", "crew", "customer",
)  # fmt: skip
RULE_LINES = (
    "for", "when", "then", "say", "do", "say es", "do es", "who", "from", "release", "case",
)  # fmt: skip
SWITCHED_LINES = ("reason", "by", "licence")
REPLACED_LINES = (*RULE_LINES, *SWITCHED_LINES)
RELEASE_LINES = ("lifts", "when", "engineer", "licence", "given", "until", "note", "case")
_SUBJECTS = {subject.value: subject for subject in SCOPES}
_AT_A_PIER = {Subject.PIER, Subject.PIER_UTILITY, Subject.PIER_NEIGHBOUR}
_DETAIL = {Subject.WALL, Subject.PIER, Subject.SOIL_LAYER, Subject.PIER_UTILITY,
           Subject.PIER_NEIGHBOUR, Subject.NEIGHBOUR}  # fmt: skip
_CODE = re.compile(r"[A-Z]{2,8}-[0-9]{1,3}")
_LONGEST_RELEASE = dt.timedelta(days=731)  # our choice: an engineer looks again after two years
_BOTH = "The crew must read the same figures in both languages."
_HELP = {
    "who": f"Say who acts: {', '.join(WHO)}.",
    "release": f"Say who may lift it: {', '.join(by.value for by in ReleaseBy)}.",
}


def scope_of(subject: Subject, figures: Figures) -> Scope:
    """What a rule for a subject may name."""
    return Scope(
        subject, figures.limits, figures.tables, figures.vocabulary, mistaken=figures.mistaken
    )


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
        before = len(self._mistakes)
        texts = {k: self._text(k, scope, needed=k == "say" or (k == "do" and acts))
                 for k in ("say", "do", "say es", "do es")}  # fmt: skip
        if len(self._mistakes) == before:
            for keyword in ("say", "do"):
                same_words(self.fields, keyword, self._mistakes)
        source = self.fields.text("from")
        self.fields.get("case")
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
        except MistakeError as fault:
            self._mistakes.append(fault.mistake)
        return None

    def _text(self, keyword: str, scope: Scope | None, *, needed: bool) -> str:
        field = self.fields.get(keyword, needed=needed)
        if field is None:
            return ""
        if scope is not None:
            check_braces(field, scope, self._figures, self._mistakes)
        return field.text

    def _refuse(self, *keywords: str) -> None:
        for keyword in keywords:
            for field in self.fields.every(keyword):
                what = f"a rule that concludes has no '{keyword}' line"
                help = "Leave it out; the rules that use what it concludes have one."
                self._mistakes.note(field.span, what, help)


def check_braces(field: Field, scope: Scope, figures: Figures, mistakes: Mistakes) -> None:
    """Note every name in braces that stands for nothing a text may print."""
    labels = _labels(scope.subject)
    words = set(scope.words().values())
    tables = {name for name, table in scope.tables.items() if words.issuperset(table.keys)}
    known = {*figures.limits, *tables, *labels}
    help = f"In braces stand words of the form, limits, tables and: {', '.join(sorted(labels))}."
    for span in odd_braces(field):
        mistakes.note(span, "a brace without its partner", "Such as: {pit depth}")
    for name, span in placeholders(field):
        if not name:
            mistakes.note(span, "nothing stands in the braces", help)
        elif name in _SUBJECTS and name not in known:
            what = f"a rule for {each(scope.subject.value)} knows no '{name}'"
            mistakes.note(span, what, help)
        elif name in scope.tables and name not in known:
            key = next(key for key in scope.tables[name].keys if key not in words)
            what = f"'{name}' goes by the {key} of a {key.subject.value}"
            alone = f"This rule is for {each(scope.subject.value)} and knows none."
            mistakes.note(span, what, alone)
        elif name not in known:
            try:
                scope.word(Phrase(name, span))
            except MistakeError as fault:
                mistake = fault.mistake
                mistakes.append(replace(mistake, help="" if mistake.nearest else help))


def same_words(fields: Fields, keyword: str, mistakes: Mistakes) -> None:
    """Note where the two languages would not give the crew the same figures."""
    english = fields.get(keyword, needed=False)
    spanish = fields.get(f"{keyword} es", needed=False)
    if english is None or spanish is None:
        return
    said, dicho = ({name for name, _ in placeholders(field)} for field in (english, spanish))
    if lacking := sorted(said - dicho):
        what = f"'{keyword} es' lacks {{{lacking[0]}}}, which stands in '{keyword}'"
        mistakes.note(spanish.whole, what, _BOTH)
    elif extra := sorted(dicho - said):
        what = f"'{keyword} es' has {{{extra[0]}}}, which does not stand in '{keyword}'"
        mistakes.note(spanish.find(f"{{{extra[0]}}}"), what, _BOTH)


def read_release(
    topic: str, paragraph: Paragraph, figures: Figures, mistakes: Mistakes, *,
    lifted: Mapping[str, Rule], mistaken: Collection[str], lines: Mapping[str, Span],
    gone: Mapping[str, Span], local: bool,
) -> Rule | None:  # fmt: skip
    """A standing release: a rule that lifts the findings of another.

    Args:
        topic: heading of its file.
        paragraph: as it stands.
        lifted: the rules of the book, by code.
        mistaken: codes of rules that have a mistake of their own.
        lines: the line of each rule that says who may lift it.
        gone: the line that switches each rule off that is.
        figures: limits, tables and words that it may name.
        mistakes: where slips are noted.
        local: whether it stands in a firm's own file.
    """
    before = len(mistakes)
    fields = Fields(paragraph, RELEASE_LINES, "standing release", mistakes, repeated=("case",))
    code, name = code_and_name(paragraph, "standing release", mistakes)
    rule = _lifted_rule(fields, mistakes, lifted=lifted, mistaken=mistaken, lines=lines, gone=gone)
    condition = read_when(fields, scope_of(rule.subject, figures) if rule else None, mistakes)
    fields.get("case")
    if condition is not None and rule is not None:
        refuse_negation(condition, fields.every("when")[0], mistakes, "a standing release")
        if rule.subject in _AT_A_PIER and len(mistakes) == before:
            _refuse_elsewhere(condition, fields.every("when")[0], mistakes)
    engineer, licence = fields.person("engineer"), fields.licence()
    note = fields.substance("note")
    given, last = (_day(fields, keyword, mistakes) for keyword in ("given", "until"))
    if given and last and last < given:
        field = fields.every("until")[0]
        also = ("It is given", fields.every("given")[0].whole)
        what = "the release ends before it is given"
        mistakes.note(field.whole, what, "Put one of the two dates right.", also=also)
    elif given and last and last - given > _LONGEST_RELEASE:
        what = f"a release that holds for more than {_LONGEST_RELEASE.days} days"
        help = "Have the engineer look again and give it anew."
        mistakes.note(fields.every("until")[0].whole, what, help)
    if len(mistakes) > before or not rule or condition is None or not given or not last:
        return None
    return Rule(
        code, name, topic, rule.subject, condition,
        Lift(rule.code, engineer, licence, given, last, note), note, "", "engineer", note,
        ReleaseBy.NOBODY, fields.every("case"), place_of(paragraph), local=local,
    )  # fmt: skip


def _lifted_rule(
    fields: Fields, mistakes: Mistakes, *, lifted: Mapping[str, Rule], mistaken: Collection[str],
    lines: Mapping[str, Span], gone: Mapping[str, Span],
) -> Rule | None:  # fmt: skip
    """The rule that a standing release names; what it may not lift is noted."""
    lifts = fields.get("lifts")
    if lifts is None:
        return None
    if lifts.text in gone:
        also = ("It is switched off", gone[lifts.text])
        what = f"{lifts.text} is switched off, so there is nothing to lift"
        mistakes.note(lifts.whole, what, "Leave one of the two out.", also=also)
        return None
    if len(several := _CODE.findall(lifts.text)) > 1:
        what = f"{len(several)} rules in one standing release"
        help = "It lifts one rule, under conditions of its own. Write one for each."
        mistakes.note(lifts.whole, what, help)
        return None
    rule = find_rule(lifts, lifts.text, lifted, mistakes, mistaken)
    if rule is None:
        return None
    if rule.release is ReleaseBy.NOBODY:
        what, help = f"nobody may lift {rule.code}", "The work must change instead."
        also = (f"{rule.code} says so", lines[rule.code])
        if not isinstance(rule.then, Outcome):
            what = f"{rule.code} is no finding that can be lifted"
            also = (f"{rule.code} stands", lines[rule.code])
            help = "Name a rule whose outcome a crew is told."
        mistakes.note(lifts.whole, what, help, also=also)
    elif why := _no_engineer_s(rule):
        also = (f"{rule.code} stands", lines[rule.code])
        help = "It may be lifted for one place, on the survey, by whom the rule names."
        mistakes.note(lifts.whole, why, help, also=also)
    return rule


def _no_engineer_s(rule: Rule) -> str:
    """Why a finding is none that an engineer may lift for every job; empty if it is."""
    if rule.release is not ReleaseBy.ENGINEER:
        return f"{rule.code} is lifted by a {rule.release.value} on site, not by a standing release"
    if rule.then is Outcome.STOP and rule.cites_regulation:
        return f"{rule.code} stops the work by a regulation ({rule.source})"
    return ""


def refuse_negation(condition: Condition, field: Field, mistakes: Mistakes, called: str) -> None:
    """Of what says what must be so: what does not apply would meet a 'not', and let through."""
    for part in parts_of(condition):
        few = isinstance(part, Count) and part.operator in (Operator.AT_MOST, Operator.LESS_THAN)
        if isinstance(part, Negation) or few:
            what = f"{called} says what must be so, not what must not"
            help = (
                "Write it without 'not', 'no', 'every' and a number that is at most: with 'is one "
                "of', 'is at least'."
            )
            mistakes.note(field.whole, what, help)
            return


def _refuse_elsewhere(condition: Condition, field: Field, mistakes: Mistakes) -> None:
    """A detail is approved for a wall, a pier, its ground: not because a line lies somewhere."""
    words = {word.subject for clause in comparisons(condition) for word in clause.words}
    if not words & _DETAIL:
        what = "a standing release that looks at nothing of the pier, its wall or its ground"
        mistakes.note(field.whole, what, "Say for what wall, footing, pit or soil it was approved.")


def _day(fields: Fields, keyword: str, mistakes: Mistakes) -> dt.date | None:
    field = fields.get(keyword)
    if field is None:
        return None
    try:
        return read_day(Phrase(field.text, field.whole))
    except MistakeError as fault:
        mistakes.append(fault.mistake)
        return None


def read_when(fields: Fields, scope: Scope | None, mistakes: Mistakes) -> Condition | None:
    """The condition after ``when``; without a scope only its grammar is looked at."""
    field = fields.get("when")
    if field is None:
        return None
    try:
        node = parse(field, "condition")
        return read_condition(node, field, scope) if scope else None
    except MistakeError as fault:
        mistakes.append(fault.mistake)
    except ConditionMistakesError as fault:
        mistakes.extend(fault.mistakes)
    return None


def code_and_name(
    paragraph: Paragraph, opening: str, mistakes: Mistakes,
    such: str = "DIG-1 pit with nothing to hold its sides",
) -> tuple[str, str]:  # fmt: skip
    """The code and the name that a rule starts with."""
    head = head_text(paragraph, opening)
    code, _, name = head.text.partition(" ")
    such = f"Such as: {opening} {such}"
    if not head.text:
        mistakes.note(paragraph.head.span, "a rule without a code and a name", such)
    elif not _CODE.fullmatch(code):
        what = f"'{code}' is no code: 2 to 8 capitals, a hyphen, and a number up to 999"
        near = code.upper() if _CODE.fullmatch(code.upper()) else None
        mistakes.note(head.find(code), what, "" if near else such, near)
    elif not name.strip():
        mistakes.note(head.whole, "a rule without a name of the fault after its code", such)
    return code, name.strip()


def find_rule(
    field: Field, code: str, rules: Mapping[str, Rule], mistakes: Mistakes,
    mistaken: Collection[str] = (),
) -> Rule | None:  # fmt: skip
    """The rule that a line names by its code.

    Args:
        field: the line.
        code: the code that it names.
        rules: the rules of the book.
        mistakes: where it is noted that there is none.
        mistaken: codes of rules that have a mistake of their own.
    """
    if code not in rules:
        near = nearest(code, rules)
        what = f"no rule of the book has the code '{code}'"
        mistakes.note(field.find(code), what, "", near, follows=code in mistaken)
    return rules.get(code)


def place_of(paragraph: Paragraph) -> str:
    """File and line of a paragraph."""
    return paragraph.head.span.place


def _labels(subject: Subject) -> set[str]:
    """The names in braces that stand for the label of a thing."""
    return {part.value for part in SCOPES[subject] if " and " not in part.value}
