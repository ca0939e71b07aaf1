"""Write a file whole or not at all, and over nobody else's."""

from __future__ import annotations

import os
import secrets
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from survey.errors import UserError


def refuse_other(file: Path, marker: str, what: str) -> None:
    """Stop before a file is written over that no earlier run made.

    Args:
        file: the place to write to.
        marker: how every file of this sort begins.
        what: what is written, such as ``sheet``.

    Raises:
        UserError: something else stands there, or it can't be read.
    """

    def begins_so(file: Path) -> bool:
        with file.open("rb") as stream:
            return stream.read(len(marker)) == marker.encode()

    refuse_unless(begins_so, file, what)


def refuse_unless(is_ours: Callable[[Path], bool], file: Path, what: str) -> None:
    """Stop before a file is written over that is not ours.

    Args:
        is_ours: tells whether an earlier run made a file that is there.
        file: the place to write to.
        what: what is written, such as ``sheet``.

    Raises:
        UserError: something else stands there, or it can't be read.
    """
    with told(file, what):
        if not os.path.lexists(file) or (file.is_file() and is_ours(file)):
            return
    raise UserError(
        f"{file}: something that is not an earlier {what} stands here, and it was left alone. "
        "Move it or choose another place."
    )


def refuse_existing(file: Path) -> None:
    """Stop before anything is written over that exists.

    Raises:
        UserError: something stands there.
    """
    if os.path.lexists(file):
        raise UserError(
            f"{file}: this file exists already and is not written over. Give another name, or "
            "move the file away first."
        )


def replace(file: Path, text: str) -> None:
    """Write a file beside its place, then move it there in one step."""
    with whole(file) as part, part.open("x", encoding="utf-8", newline="\n") as stream:
        stream.write(text)


@contextmanager
def whole(file: Path) -> Iterator[Path]:
    """A place beside a file to write to; what stands there is moved to its place at the end."""
    part = file.with_name(f".{secrets.token_hex(8)}.part")
    try:
        yield part
        os.replace(part, file)  # noqa: PTH105 - the name says that it replaces
    finally:
        part.unlink(missing_ok=True)


@contextmanager
def told(place: Path, what: str) -> Iterator[None]:
    """Turn a refusal of the file system into a message."""
    try:
        yield
    except OSError as fault:
        raise UserError(
            f"{place}: can't be written ({fault.strerror or fault}). The {what} was not written."
        ) from None
