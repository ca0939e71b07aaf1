"""What is wrong in a rules file: where, what was expected, the nearest word, the fix."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from survey.errors import UserError


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of one line of a rules file; line and column count from 1."""

    file: str
    line: int
    column: int
    length: int
    text: str

    def caret(self) -> str:
        """The line itself with a caret below the stretch; tabs are kept so that it lines up."""
        lead = "".join("\t" if c == "\t" else " " for c in self.text[: self.column - 1])
        number = str(self.line)
        return (
            f"  {number} | {self.text}\n  {' ' * len(number)} | {lead}{'^' * max(1, self.length)}"
        )


@dataclass(frozen=True, slots=True)
class Mistake:
    """One mistake in a rules file.

    Args:
        span: where it stands.
        what: what is wrong, one sentence without a full stop.
        help: what to do, one sentence; empty if ``nearest`` says it all.
        nearest: the word that was probably meant.
        also: another place that it has to do with, and what stands there.
    """

    span: Span
    what: str
    help: str = ""
    nearest: str | None = None
    also: tuple[str, Span] | None = None

    def __str__(self) -> str:
        lines = [
            f"{self.span.file}:{self.span.line}:{self.span.column}: {self.what}",
            self.span.caret(),
        ]
        if self.also:
            said, span = self.also
            lines += [f"  {said} at {span.file}:{span.line}:", span.caret()]
        if self.nearest:
            lines.append(f"  Did you mean '{self.nearest}'?")
        if self.help:
            lines.append(f"  {self.help}")
        return "\n".join(lines)


class RuleBookError(UserError):
    """A rule book that can't be used, with every mistake that was found in it."""

    def __init__(self, mistakes: Iterable[Mistake]) -> None:
        ordered = sorted(mistakes, key=lambda m: (m.span.file, m.span.line, m.span.column))
        self.mistakes = tuple(ordered)
        count = len(self.mistakes)
        head = f"{count} mistake{'s' if count > 1 else ''} in the rule book. No site was judged."
        super().__init__("\n\n".join([*(str(m) for m in self.mistakes), head]))
