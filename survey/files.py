"""Write a file whole or not at all, and over nobody else's."""

from __future__ import annotations

import contextlib
import errno
import os
import re
import secrets
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from survey.errors import UserError

Stands = tuple[int, int]  # size of a file, and the time at which it was written, in nanoseconds
_PART = re.compile(r"\.[0-9a-f]{16}\.part")
_DAY = 24 * 60 * 60


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
    with whole(file) as part:
        _write(part, text)


def replace_all(texts: Mapping[Path, str], what: str) -> Mapping[Path, Stands]:
    """Write files beside their places, and only when all of them are whole move them there.

    So a full disk leaves every earlier one as it was. Where one can't be moved, as on Windows while
    another program holds it, the message tells which are new and which are from before.

    Args:
        texts: the text of each, in the order in which they are moved.
        what: what is written, such as ``sheet``.

    Returns:
        How each file stands that was written here, whoever has written over it since.

    Raises:
        UserError: one can't be written.
    """
    parts: dict[Path, Path] = {}
    standing: dict[Path, Stands] = {}
    try:
        for file, text in texts.items():
            parts[file] = _part_of(file)
            with told(file, what):
                _write(parts[file], text)
        for file, part in parts.items():
            standing[file] = stands(part)
            with _told_of_all(file, tuple(texts), what):
                os.replace(part, file)  # noqa: PTH105 - the name says that it replaces
        return standing
    finally:
        for part in parts.values():
            _remove(part)


def stands(file: Path) -> Stands:
    """Size and time of a file, by which it is known that it was not written over or removed."""
    try:
        found = file.stat()
    except OSError:
        return (-1, -1)
    return (found.st_size, found.st_mtime_ns)


@contextmanager
def whole(file: Path) -> Iterator[Path]:
    """A place beside a file to write to; what stands there is moved to its place at the end."""
    part = _part_of(file)
    try:
        yield part
        os.replace(part, file)  # noqa: PTH105 - the name says that it replaces
    finally:
        _remove(part)


def add(file: Path, content: bytes) -> bool:
    """Write a new file, whole, unless something has its name already.

    Of two runs that add a file of one name at once, one does and the other is told.

    Returns:
        Whether it was added.

    Raises:
        OSError: it can't be written.
    """
    part = _part_of(file)
    try:
        part.write_bytes(content)
        return _named(part, file)
    finally:
        _remove(part)


def _named(part: Path, file: Path) -> bool:
    """Give a part its name in one step, unless something has that name already."""
    try:
        os.link(part, file)
    except FileExistsError:
        return False
    except OSError:  # a file system without links, such as that of many a USB stick
        try:
            if os.name == "nt":
                os.rename(part, file)  # noqa: PTH104 - on Windows it replaces nothing
            else:
                file.open("x").close()  # the name is ours from here on
                os.replace(part, file)  # noqa: PTH105
        except FileExistsError:
            return False
    return True


def sweep(folder: Path) -> None:
    """Remove the parts of files that killed runs left in a folder.

    Only those that are a day old: a younger one may be of a run that still writes it.
    """
    parts: list[Path] = []
    with contextlib.suppress(OSError):
        parts += (file for file in folder.iterdir() if is_part(file))
    for part in parts:
        with contextlib.suppress(OSError):  # another run removed it first
            if time.time() - part.stat().st_mtime > _DAY:
                part.unlink()


def open_elsewhere(file: Path) -> str:
    """That a file is open in a spreadsheet program, as the mark beside it says; empty if not."""
    for mark in (f".~lock.{file.name}#", f"~${file.name}"):
        if os.path.lexists(file.with_name(mark)):
            return (
                f"{file}: open in another program, for {mark} stands beside it. What is not "
                "saved there was not judged: save it there and check again."
            )
    return ""


def is_part(file: Path) -> bool:
    """Whether a file is the part of one that a run writes, or left when it was killed."""
    return _PART.fullmatch(file.name) is not None


def _part_of(file: Path) -> Path:
    return file.with_name(f".{secrets.token_hex(8)}.part")


def _write(part: Path, text: str) -> None:
    with part.open("x", encoding="utf-8", newline="\n") as stream:
        stream.write(text)


def _remove(part: Path) -> None:
    with contextlib.suppress(OSError):  # what is left is swept up later
        part.unlink(missing_ok=True)


@contextmanager
def told(place: Path, what: str) -> Iterator[None]:
    """Turn a refusal of the file system into a message."""
    try:
        yield
    except OSError as fault:
        raise UserError(
            f"{place}: can't be written ({fault.strerror or fault}). The {what} was not written."
            f"{_remedy(fault)}"
        ) from None


@contextmanager
def _told_of_all(file: Path, files: Sequence[Path], what: str) -> Iterator[None]:
    """As :func:`told`; where files before this one were moved already, each is told."""
    moved, others = files[: files.index(file)], files[files.index(file) :]
    if not moved:
        with told(file, what):
            yield
        return
    try:
        yield
    except OSError as fault:
        states = {
            "New": moved,
            "From an earlier check, so they no longer hold": filter(os.path.lexists, others),
            "Not written": (other for other in others if not os.path.lexists(other)),
        }
        named = {state: ", ".join(one.name for one in which) for state, which in states.items()}
        each = " ".join(f"{state}: {names}." for state, names in named.items() if names)
        raise UserError(
            f"{file}: can't be written ({fault.strerror or fault}), while other files of this "
            f"check were. {each}{_remedy(fault)} Then check again."
        ) from None


def _remedy(fault: OSError) -> str:
    """What to do about a refusal of the file system, where that can be told."""
    if isinstance(fault, PermissionError):
        return " Close it where it is open in another program, or ask for the right to write here."
    if fault.errno in (errno.ENOSPC, errno.EDQUOT):
        return " Make room on the disk, then try again."
    if fault.errno == errno.EROFS:
        return " Choose a place that can be written."
    return ""
