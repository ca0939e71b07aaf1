"""What things to do cost a firm: its own figures, by which ways to go are put in order.

A cost judges nothing. It is set for the answer to one question, by its name, or for a sort of step;
the name of the question goes before the sort.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from survey.rulebook.fields import Fields, head_text
from survey.rulebook.messages import MistakeError, Mistakes, Span
from survey.rulebook.paragraphs import Field, Paragraph
from survey.rulebook.rules import Change, Cost
from survey.rulebook.syntax import Phrase, nodes, parse, phrase, wrong
from survey.vocabulary import VOCABULARY, Vocabulary, nearest

ON_SITE = "question answered on site"
IN_OFFICE = "question answered in the office"
CHOICE = "choice changed"
MENDED = "cell put right"
BY_COMPETENT_PERSON = "release by competent person"
BY_ENGINEER = "release by licensed engineer"
VISIT = "visit to the site"  # once, however many questions are answered there
CALL = "call on an engineer"  # once, however many releases he gives
SORTS = (
    ON_SITE, IN_OFFICE, CHOICE, MENDED, BY_COMPETENT_PERSON, BY_ENGINEER, VISIT, CALL,
)  # fmt: skip
_AMOUNT = re.compile(r"(?P<whole>\d{1,9})(?:\.(?P<cents>\d\d))? (?P<currency>[a-z]{3})", re.ASCII)
_LIKE = "Write it like: 60 usd"


@dataclass
class Costs:
    """The costs read so far.

    Args:
        vocabulary: the questions that may have a cost of their own.
        costs: by name.
        changes: those of a firm's own files, against what stood before.
    """

    vocabulary: Vocabulary = VOCABULARY
    costs: dict[str, Cost] = field(default_factory=dict)
    changes: list[Change] = field(default_factory=list)
    _spans: dict[str, Span] = field(default_factory=dict)
    _own: set[str] = field(default_factory=set)

    def read(self, paragraph: Paragraph, mistakes: Mistakes, *, local: bool) -> None:
        """Read one cost and keep it, unless it has a mistake."""
        head = head_text(paragraph, "cost")
        source = Fields(paragraph, ("from",), "cost", mistakes).text("from")
        if not head.text.partition("=")[0].strip():
            mistakes.note(paragraph.head.span, "a cost without a name", f"Such as: {_such_as()}")
            return
        try:
            cost = self._read(head, source)
        except MistakeError as fault:
            mistakes.append(fault.mistake)
            return
        before = self.costs.get(cost.name)
        if before is not None and (not local or cost.name in self._own):
            also = ("The other stands", self._spans[cost.name])
            what = f"the cost of '{cost.name}' is set already"
            mistakes.note(head.whole, what, "Keep one of the two.", also=also)
            return
        if local:
            self._own.add(cost.name)
            shipped = "" if before is None else f"; shipped: {before.shown}"
            what = f"cost of '{cost.name}' is {cost.shown}{shipped}"
            self.changes.append(Change(what, cost.source, cost.place))
        self.costs[cost.name] = cost
        self._spans[cost.name] = head.whole

    def _read(self, head: Field, source: str) -> Cost:
        name, value = (phrase(head, node) for node in nodes(parse(head, "limit")))
        if name.text not in SORTS:
            word = self.vocabulary.get(name.text)
            if word is None or not word.asked:
                raise self._no_step(name)
        amount = _AMOUNT.fullmatch(value.text)
        if amount is None:
            what = f"'{value.text}' is no sum of money"
            help = f"{_LIKE}, or 12.50 eur: no comma, and three small letters for the currency."
            raise wrong(value, what, help)
        cents = int(amount["whole"]) * 100 + int(amount["cents"] or 0)
        return Cost(name.text, cents, amount["currency"], source, name.span.place)

    def _no_step(self, name: Phrase) -> MistakeError:
        asked = [word.name for word in self.vocabulary.words if word.asked]
        what = f"'{name.text}' is no question and no step that can have a cost"
        help = f"Name a question of the form, or one of: {', '.join(SORTS)}."
        return wrong(name, what, help, nearest(name.text, [*SORTS, *asked]))

    def check_currency(self, mistakes: Mistakes) -> None:
        """Note where the costs are not all in one currency: they are added up.

        A firm that counts in another one sets every cost anew.
        """
        own = [cost for cost in self.costs.values() if cost.name in self._own]
        wanted = (own or list(self.costs.values()))[:1]
        for first in wanted:
            for cost in self.costs.values():
                if cost.currency != first.currency:
                    what = (
                        f"the cost of '{cost.name}' is in {cost.currency}, not in {first.currency}"
                    )
                    also = (f"In {first.currency} stands", self._spans[first.name])
                    help = f"Costs are added up: set it in {first.currency} in your own file."
                    mistakes.note(self._spans[cost.name], what, help, also=also)


def _such_as() -> str:
    return f"cost {ON_SITE} = 60 usd"


def cost_of(costs: Mapping[str, Cost], *names: str) -> Cost | None:
    """The first cost that a book has of some names: the closest goes first."""
    return next((costs[name] for name in names if name in costs), None)
