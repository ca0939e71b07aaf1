"""What a rule may name: the words of what it is judged for, the limits and the tables."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from survey.rulebook.fields import each
from survey.rulebook.messages import MistakeError
from survey.rulebook.rules import Limit, Table
from survey.rulebook.syntax import Phrase, unquoted, wrong
from survey.vocabulary import OTHERS, ROUND, SCOPES, VOCABULARY, Subject, Vocabulary, Word, nearest

_LISTED = "The words are listed by: pier-survey rules words"


@dataclass(frozen=True, slots=True)
class Scope:
    """What a rule may name: the words of its subject's scope, the limits and the tables.

    Args:
        subject: the thing or pair of things that the rule is judged for.
        round: for the condition of a count, the subject of the rule that counts.
        mistaken: names of limits, tables and questions that have a mistake of their own.
    """

    subject: Subject
    limits: Mapping[str, Limit]
    tables: Mapping[str, Table] = field(default_factory=dict)
    vocabulary: Vocabulary = VOCABULARY
    round: Subject | None = None
    mistaken: Collection[str] = ()

    def words(self) -> Mapping[str, Word]:
        """The words a rule of this subject may use, by name."""
        return self.vocabulary.scope(self.subject)

    def names(self) -> list[str]:
        """Everything that may stand where a figure is expected."""
        return [*self.words(), *self.limits, *self.tables]

    def refuse_mistaken(self, name: Phrase) -> None:
        """Leave a name alone whose own paragraph has a mistake: that is told already."""
        if unquoted(name.text) in self.mistaken:
            raise wrong(name, f"'{unquoted(name.text)}' has a mistake of its own", follows=True)

    def word(self, name: Phrase) -> Word:
        """The word that is named.

        Raises:
            MistakeError: there is none, or not one for this subject.
        """
        words = self.words()
        if name.text in words:
            return words[name.text]
        self.refuse_mistaken(name)
        if name.text in self.vocabulary:
            raise self._out_of_scope(name, self.vocabulary[name.text].subject)
        if name.text in self.vocabulary.scope(Subject.PIER_PIER):
            help = "Write the rule for each pier and other pier."
            if self.subject is Subject.PIER:
                help = f"Look round for it: any other pier where {name.text} is ..."
            raise wrong(name, f"'{name.text}' is said of two piers; this rule is for one", help)
        if name.text in self.limits or name.text in self.tables:
            what = f"'{name.text}' is a figure of the book; a word of the form comes first"
            raise wrong(name, what, "Turn it round: 'A is less than B' for 'B is more than A'.")
        everywhere = (word.name for word in self.vocabulary.words)
        near = nearest(name.text, words) or nearest(name.text, everywhere)
        what = f"'{name.text}' is not a word that the form or a calculation knows"
        raise wrong(name, what, "" if near else _LISTED, near)

    def _out_of_scope(self, name: Phrase, subject: Subject) -> MistakeError:
        if Subject.OTHER_PIER in SCOPES[self.subject] and subject in OTHERS:
            help = f"Write '{name.text} of this pier' or '{name.text} of other pier'."
            return wrong(name, f"'{name.text}' may be of either pier here", help)
        said = f"'{name.text}' is said of a {subject.value}"
        if self.round is not None:
            known = ", ".join(part.value for part in SCOPES[self.subject])
            what = f"{said}, and is not known where a {self.subject.value} is looked at"
            return wrong(name, what, f"Use a word of one of these: {known}.")
        what = f"{said}; this rule is for {each(self.subject.value)}"
        help = f"Write the rule for {each(subject.value)}."
        for noun, of in ROUND.get(self.subject, {}).items():
            if subject in SCOPES[of]:
                help = (
                    f"Look round for it: any {noun} where {name.text} is ... "
                    "(more than one clause stands in brackets: where (... and ...))"
                )
        return wrong(name, what, help)
