"""Write a file whole or not at all, and over nobody else's."""

from __future__ import annotations

import os
import secrets
from collections.abc import Iterator
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
    with told(file, what):
        if not os.path.lexists(file):
            return
        if file.is_file():
            with file.open("rb") as stream:
                if stream.read(len(marker)) == marker.encode():
                    return
    raise UserError(
        f"{file}: something that is not an earlier {what} stands here, and it was left alone. "
        "Move it or choose another place."
    )


def replace(file: Path, text: str) -> None:
    """Write a file beside its place, then move it there in one step."""
    part = file.with_name(f".{secrets.token_hex(8)}.part")
    try:
        with part.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
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
