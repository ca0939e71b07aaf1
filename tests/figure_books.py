"""Small books that look at figures, so that a page prints how those were worked out."""

from __future__ import annotations

from collections.abc import Mapping

from survey.rulebook.reading import read_book
from survey.rulebook.rules import RuleBook
from survey.vocabulary import VOCABULARY

_RULE = """
rule FIG-{n} figure number {n}
  for   each {subject}
  when  {clause}
  then  condition
  say   Found.
  do    Look.
  who   crew
  from  common practice
  release nobody
  case  {clause_word} {case} gives condition
"""


def book_of(clauses: Mapping[str, tuple[str, str]]) -> RuleBook:
    """A book with a rule for each word: a clause that is met, and an answer that meets it.

    Args:
        clauses: what follows the word in the clause, and its value in a case, by the word.
    """
    rules = [
        _RULE.format(
            n=n, subject=VOCABULARY[word].subject.value, clause=f"{word} {rest}",
            clause_word=word, case=case,
        ).replace("each site", "the site")
        for n, (word, (rest, case)) in enumerate(clauses.items(), start=1)
    ]  # fmt: skip
    return read_book({"figures.rules": "topic Figures\n" + "".join(rules)})
