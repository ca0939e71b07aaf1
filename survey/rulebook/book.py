"""The rule book: the shipped files, with a firm's own read over them; read or kept from before."""

from __future__ import annotations

import hashlib
import importlib
import io
import pickle
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from survey import cache, resources
from survey.errors import UserError
from survey.rulebook.messages import Mistake, RuleBookError, Span
from survey.rulebook.rules import Rule, RuleBook
from survey.vocabulary import VOCABULARY, Vocabulary, Word

_LARGEST_FILE = 1_000_000
# The modules whose classes a kept book is made of; nothing else is taken from the cache.
_OURS = ("survey.rulebook.rules", "survey.rulebook.paragraphs", "survey.rulebook.messages",
         "survey.vocabulary.words", "survey.vocabulary.kinds")  # fmt: skip
_OTHERS = (("fractions", "Fraction"), ("datetime", "date"))
# Stands beside the shipped files, and is no part of their book: examples of a firm's own rules.
_EXAMPLES = "local"


def load_book(local: Path | None = None) -> RuleBook:
    """The shipped rule book, with every ``.rules`` file of a firm's own folder read over it.

    Raises:
        RuleBookError: with every mistake of every file, failing cases among them.
        UserError: a folder or a file can't be read.
    """
    ours = _texts(resources.folder("rules"), beside=_EXAMPLES)
    shipped = {file.name: text for file, text in ours.items()}
    own: dict[str, str] = {}
    if local is not None:  # by the folder's own name: the same rules read alike wherever they stand
        named = f"{local.resolve().name}/"
        own = {f"{named}{file.name}": text for file, text in _texts(local).items()}
        if copied := [name for name, text in own.items() if text in shipped.values()]:
            raise UserError(
                f"{', '.join(copied)}: a copy of a shipped file. The folder holds only what "
                "is your own; it is read over the shipped book, which is always there."
            )
    return _kept_or_read(shipped, own)


def _kept_or_read(shipped: Mapping[str, str], own: Mapping[str, str]) -> RuleBook:
    made_of = (cache.program_fingerprint(), sorted(shipped.items()), sorted(own.items()))
    key = hashlib.sha256(repr(made_of).encode()).hexdigest()
    kept = cache.read(f"book-{key}")
    book = None if kept is None else _from_bytes(kept)
    if book is None:
        if own:
            _kept_or_read(shipped, {})  # the shipped book keeps its own cases, or judges nobody
        book = read_and_try(shipped, own)
        assert book.rule_fingerprints is not None  # worked out here, so that they are kept with it
        cache.write(f"book-{key}", _to_bytes(book))
    return book


def read_and_try(shipped: Mapping[str, str], own: Mapping[str, str]) -> RuleBook:
    """Read a book and try its cases: one that fails its own cases judges nobody.

    A case of a shipped rule was written for the shipped figures. Where a firm's figure turns its
    outcome, it is set aside and told, and is no mistake.

    Raises:
        RuleBookError: with every mistake, failing cases among them.
    """
    from survey.rulebook.cases import wrong_cases
    from survey.rulebook.reading import read_book

    book = read_book(shipped, own)
    wrong = wrong_cases(book)
    may_turn = _by_changed_figures(book)
    turned = tuple(
        mistake for mistake in wrong if mistake.span.file not in own and mistake.span in may_turn
    )
    if len(turned) < len(wrong):
        raise RuleBookError(mistake for mistake in wrong if mistake not in turned)
    return _set_aside(book, turned)


def _by_changed_figures(book: RuleBook) -> set[Span]:
    """The cases of the rules that use a figure which the firm has changed."""
    if not book.changed_figures:
        return set()
    from survey.rulebook.uses import uses

    used = uses(book)
    rules = [rule for name in book.changed_figures for rule in used.get(name, ())]
    return {field.whole for rule in rules for field in rule.case_fields}


def _set_aside(book: RuleBook, turned: tuple[Mistake, ...]) -> RuleBook:
    if not turned:
        return book
    spans = {mistake.span for mistake in turned}

    def kept(rule: Rule) -> Rule:
        cases = tuple(field for field in rule.case_fields if field.whole not in spans)
        return rule if len(cases) == len(rule.case_fields) else replace(rule, case_fields=cases)

    levels = tuple(tuple(kept(rule) for rule in level) for level in book.levels)
    return replace(book, levels=levels, turned=turned)


def _texts(folder: Path, beside: str = "") -> Mapping[Path, str]:
    """The rules files of a folder, and nothing else in it but what may stand beside them."""
    if not folder.is_dir():
        raise UserError(
            f"{folder}: no folder. Rules stand in a folder, in files that end in .rules."
        )
    entries = [entry for entry in sorted(folder.iterdir()) if not _left_alone(entry)]
    entries = [entry for entry in entries if not (entry.name == beside and entry.is_dir())]
    files = [entry for entry in entries if entry.name.endswith(".rules") and entry.is_file()]
    if unread := [entry.name for entry in entries if entry not in files]:
        raise UserError(
            f"{folder}: {', '.join(unread)} would not be read. A folder of rules holds files whose "
            "names end in '.rules', and nothing else but a README; move the rest elsewhere."
        )
    if not files:
        raise UserError(f"{folder}: no rules here. A rule book is a folder with .rules files.")
    texts: dict[Path, str] = {}
    for file in files:
        try:
            if file.stat().st_size > _LARGEST_FILE:
                raise UserError(f"{file}: larger than a rules file can be. Split it by topic.")
            texts[file] = file.read_text("utf-8")
        except OSError as fault:
            raise UserError(
                f"{file}: can't be read ({fault.strerror}). No site was judged."
            ) from None
        except UnicodeDecodeError:
            raise UserError(f"{file}: is not plain UTF-8 text. Save it as UTF-8.") from None
    return texts


def _left_alone(entry: Path) -> bool:
    """Whether nobody would take an entry of a folder for rules."""
    name = entry.name.lower()
    return name.startswith((".", "readme")) or name in ("thumbs.db", "desktop.ini")


class _Keeper(pickle.Pickler):
    """Writes a book, with shipped words by their names."""

    def persistent_id(self, thing: object) -> Any:
        if isinstance(thing, Word) and thing.base is None and thing.name in VOCABULARY:
            return thing.name
        if isinstance(thing, Vocabulary):
            return tuple(word for word in thing.words if word.name not in VOCABULARY)
        return None


class _Finder(pickle.Unpickler):
    """Reads a kept book; makes nothing but the classes of a rule book."""

    def persistent_load(self, kept: Any) -> Any:
        return VOCABULARY[kept] if isinstance(kept, str) else VOCABULARY.extended(kept)

    def find_class(self, module: str, name: str) -> Any:
        if module not in _OURS and (module, name) not in _OTHERS:
            raise pickle.UnpicklingError(f"{module}.{name} is no part of a rule book")
        found = getattr(importlib.import_module(module), name)
        if not isinstance(found, type) or found.__module__ != module:
            raise pickle.UnpicklingError(f"{module}.{name} is no class of a rule book")
        return found


def _to_bytes(book: RuleBook) -> bytes:
    buffer = io.BytesIO()
    _Keeper(buffer, protocol=5).dump(book)
    return buffer.getvalue()


def _from_bytes(kept: bytes) -> RuleBook | None:
    """A kept book, or none if the file is damaged."""
    try:
        book = _Finder(io.BytesIO(kept)).load()
    except Exception:  # a damaged file can raise anything; the book is read again
        return None
    return book if isinstance(book, RuleBook) else None
