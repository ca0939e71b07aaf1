"""The rule book of a folder: read and checked, or taken from the cache if nothing has changed."""

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
from survey.rulebook.messages import RuleBookError
from survey.rulebook.rules import RuleBook
from survey.vocabulary import VOCABULARY, Word

_LARGEST_FILE = 1_000_000
# The modules whose classes a kept book is made of; nothing else is taken from the cache.
_OURS = ("survey.rulebook.rules", "survey.rulebook.paragraphs", "survey.rulebook.messages",
         "survey.vocabulary.words")  # fmt: skip


def load_book(folder: Path) -> RuleBook:
    """The rule book made of every ``.rules`` file of a folder.

    Raises:
        RuleBookError: with every mistake of every file, failing cases among them.
        UserError: the folder or a file of it can't be read, or the book lacks something of the
            shipped one that it must keep.
    """
    texts = _read_texts(folder)
    shipped = resources.folder("rules")
    shipped_texts = texts if folder == shipped else _read_texts(shipped)
    if texts == shipped_texts:
        return replace(_kept_or_read(texts), shipped=True)
    from survey.rulebook.guard import what_is_lost

    book = _kept_or_read(texts)
    if lost := what_is_lost(book, _kept_or_read(shipped_texts)):
        advice = "A firm's own book may add rules and tighten limits. No site was judged."
        raise UserError("\n".join(f"{folder}: {line}" for line in lost) + f"\n{advice}")
    return book


def _kept_or_read(texts: Mapping[str, str]) -> RuleBook:
    key = hashlib.sha256(repr((cache.program_fingerprint(), texts)).encode()).hexdigest()
    kept = cache.read(f"book-{key}")
    book = None if kept is None else _from_bytes(kept)
    if book is None:
        book = _read_and_try(texts)
        cache.write(f"book-{key}", _to_bytes(book))
    return book


def _read_and_try(texts: Mapping[str, str]) -> RuleBook:
    """Read a book and try its cases: one that fails its own cases judges nobody."""
    from survey.rulebook.cases import wrong_cases
    from survey.rulebook.reading import read_book

    book = read_book(texts)
    if wrong := wrong_cases(book):
        raise RuleBookError(wrong)
    return book


def _read_texts(folder: Path) -> Mapping[str, str]:
    files = sorted(folder.glob("*.rules"))
    misnamed = [f.name for f in folder.glob("*.rules.*")]
    if misnamed:
        listed = ", ".join(misnamed)
        raise UserError(f"{folder}: {listed} would not be read. Its name must end in '.rules'.")
    if not files:
        raise UserError(f"{folder}: no rules here. A rule book is a folder with .rules files.")
    texts: dict[str, str] = {}
    for file in files:
        try:
            if file.stat().st_size > _LARGEST_FILE:
                raise UserError(f"{file}: larger than a rules file can be. Split it by topic.")
            texts[file.name] = file.read_text("utf-8")
        except OSError as fault:
            raise UserError(
                f"{file}: can't be read ({fault.strerror}). No site was judged."
            ) from None
        except UnicodeDecodeError:
            raise UserError(f"{file}: is not plain UTF-8 text. Save it as UTF-8.") from None
    return texts


class _Keeper(pickle.Pickler):
    """Writes a book, with words by their names."""

    def persistent_id(self, thing: object) -> str | None:
        return thing.name if isinstance(thing, Word) else None


class _Finder(pickle.Unpickler):
    """Reads a kept book; makes nothing but the classes of a rule book."""

    def persistent_load(self, name: str) -> Word:
        return VOCABULARY[name]

    def find_class(self, module: str, name: str) -> Any:
        if module not in _OURS:
            raise pickle.UnpicklingError(f"{module}.{name} is no part of a rule book")
        return getattr(importlib.import_module(module), name)


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
