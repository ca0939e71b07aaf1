"""What is wrong in a rules file: where, what was expected, the nearest word, the fix."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from survey.errors import UserError

_WIDEST = 110
_BEFORE = 60  # columns that are shown left of a mistake on a line wider than that
_LONGEST = 240
_UNSEEN = "\N{REPLACEMENT CHARACTER}"
MOST_TOLD = 100


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of one line of a rules file; line and column count from 1."""

    file: str
    line: int
    column: int
    length: int
    text: str

    @property
    def place(self) -> str:
        """File and line."""
        return f"{self.file}:{self.line}"

    @property
    def whole(self) -> Span:
        """From the start of the stretch to the end of its line."""
        return Span(self.file, self.line, self.column, len(self.text) - self.column + 1, self.text)

    def meets(self, other: Span) -> bool:
        """Whether the two have a character in common."""
        return (
            self.place == other.place
            and self.column < other.column + other.length
            and other.column < self.column + self.length
        )

    def caret(self) -> str:
        """The line itself with a caret below the stretch; tabs are kept so that it lines up.

        Of a very long line the part round the stretch is shown; what can't be seen is shown as a
        mark.
        """
        start = max(0, self.column - 1 - _BEFORE) if len(self.text) > _WIDEST else 0
        end = start + _WIDEST
        first, last = "…" if start else "", "…" if end < len(self.text) else ""
        seen = "".join(c if c == "\t" or c.isprintable() else _UNSEEN for c in self.text[start:end])
        lead = "".join("\t" if c == "\t" else " " for c in seen[: self.column - 1 - start])
        carets = "^" * max(1, min(self.length, end - self.column + 1))
        number, blank = str(self.line), " " * len(str(self.line))
        return f"  {number} | {first}{seen}{last}\n  {blank} | {' ' * len(first)}{lead}{carets}"


@dataclass(frozen=True, slots=True)
class Mistake:
    """One mistake in a rules file.

    Args:
        span: where it stands.
        what: what is wrong, one sentence without a full stop.
        help: what to do, one sentence; empty if ``nearest`` says it all.
        nearest: the word that was probably meant.
        also: another place that it has to do with, and what stands there.
        follows: whether it is there only because of a mistake elsewhere, and goes with that.
    """

    span: Span
    what: str
    help: str = ""
    nearest: str | None = None
    also: tuple[str, Span] | None = None
    follows: bool = False

    def __str__(self) -> str:
        what = self.what
        if len(what) > _LONGEST:
            what = f"{what[: _LONGEST // 2]} … {what[-_LONGEST // 2 :]}"
        lines = [f"{self.span.place}:{self.span.column}: {what}", self.span.caret()]
        if self.also:
            said, span = self.also
            lines += [f"  {said} at {span.place}:", span.caret()]
        if self.nearest:
            lines.append(f"  Did you mean '{self.nearest}'?")
        if self.help:
            lines.append(f"  {self.help}")
        return "\n".join(lines)


class MistakeError(Exception):
    """A part of a rules file can't be read."""

    def __init__(self, mistake: Mistake) -> None:
        self.mistake = mistake


class RuleBookError(UserError):
    """A rule book that can't be used, with every mistake that was found in it."""

    def __init__(self, mistakes: Iterable[Mistake]) -> None:
        found = list(dict.fromkeys(mistakes))
        own = [mistake for mistake in found if not mistake.follows]
        ordered = sorted(own or found, key=lambda m: (m.span.file, m.span.line, m.span.column))
        self.mistakes = tuple(ordered)
        count = len(self.mistakes)
        head = f"{count} mistake{'s' if count > 1 else ''} in the rule book. No site was judged."
        if count > MOST_TOLD:
            head = f"More than {MOST_TOLD} mistakes in the rule book. No site was judged."
        told = [str(mistake) for mistake in self.mistakes[:MOST_TOLD]]
        super().__init__("\n\n".join([*told, head]))


class Mistakes(list[Mistake]):
    """Every mistake found so far; where there are far too many, the rest is not looked for."""

    def append(self, mistake: Mistake) -> None:
        """Keep one more."""
        super().append(mistake)
        if len(self) > MOST_TOLD:
            raise RuleBookError(self)

    def extend(self, mistakes: Iterable[Mistake]) -> None:
        """Keep several more."""
        for mistake in mistakes:
            self.append(mistake)

    def note(
        self, span: Span, what: str, help: str = "", near: str | None = None,
        also: tuple[str, Span] | None = None, *, follows: bool = False,
    ) -> None:  # fmt: skip
        """Note one more."""
        self.append(Mistake(span, what, help, near, also, follows))
