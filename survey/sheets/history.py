"""The history of a job: every record that its checks issued, each once, none ever replaced.

It is a folder beside the pages with a file for each record, numbered from 1. A file holds the
record as it was written, its number, the day of issue, and the SHA-256 of the file before it, so
that a record that was altered or removed later is noticed. No clock tells the order.
"""

from __future__ import annotations

import datetime as dt
import gzip
import hashlib
import json
import os
import re
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from survey.errors import UserError
from survey.files import add, sweep
from survey.sheets._legible import day
from survey.sheets.record import Written
from survey.sheets.record_file import MARKER, RecordError, digest_of, read_record

ENDING = " history"
_NAME = re.compile(r"([0-9]{4,})\.json\.gz")
_FAST = 1  # a fifth larger than by the usual effort, in a third of the time
_LARGEST = 200_000_000  # of an entry unpacked
_HEAD_PACKED, _HEAD = 1024, 512  # what surely has the whole head, packed and not
_END = 200  # what surely has the digest of a record
_GZIP = 31  # zlib's number for a gzip file
_FIRST_KEY = '{\n "pier_survey_history": 1,\n'
_RECORD_KEY = ' "record": '


class EntryError(UserError):
    """A file of the history holds no record that can be relied on."""


@dataclass(frozen=True, slots=True)
class Head:
    """What a file of the history says of its record.

    Args:
        number: from 1.
        issued: the day of issue; none if it is not known.
        before: SHA-256 of the file before it; none if there is none, or it could not be read.
        digest: SHA-256 of the record.
    """

    number: int
    issued: dt.date | None
    before: str | None
    digest: str


@dataclass(frozen=True, slots=True)
class Kept:
    """What became of a record that was to be kept.

    Args:
        file: its file in the history; none if it could not be kept.
        new: whether it was kept now; if not, it is the last one, unchanged.
        note: what somebody should see to; empty if nothing.
    """

    file: Path | None
    new: bool
    note: str = ""


def history_folder(record: Path) -> Path:
    """Where the history stands of the job whose record is written to a place."""
    return record.with_name(f"{record.stem}{ENDING}")


def keep(record: str, folder: Path, today: dt.date | None) -> Kept:
    """Keep a record in the history of its job, unless it is the same as the last one.

    Args:
        record: its text, as it was written.
        folder: the history, made where it is missing.
        today: the day of issue; none if it is not known.
    """
    try:
        return _add(record, folder, today)
    except OSError as fault:
        return Kept(
            None,
            new=False,
            note=f"{folder}: the record can't be kept there ({_why(folder, fault)}). The pages are "
            "written and hold; put this right and check again, and the record is kept.",
        )


def _add(record: str, folder: Path, today: dt.date | None) -> Kept:
    """As :func:`keep`.

    Raises:
        OSError: it can't be kept.
    """
    digest = digest_of(record)
    folder.mkdir(exist_ok=True)
    while True:
        last = max(numbered(folder), default=None)
        head = None if last is None else _head_of(last[1])
        if last is not None and head is not None and head.digest == digest:
            return Kept(last[1], new=False)
        number = 1 if last is None else last[0] + 1
        before = None if last is None else digest_of_file(last[1])
        content = _packed(Head(number, today, before, digest), record)
        file = folder / _name(number)
        if add(file, content):  # else another run was quicker: it has this number
            sweep(folder)
            return Kept(file, new=True, note="" if last is None else _late(today, head, last[1]))


def _why(folder: Path, fault: OSError) -> str:
    """Why a record can't be kept in a folder."""
    if os.path.lexists(folder) and not folder.is_dir():
        return "something that is no folder stands there"
    return fault.strerror or str(fault)


def keep_unkept(record: Path, folder: Path, now: str) -> None:
    """Keep the record that stands beside the pages before another one takes its place.

    Mostly the history has it. If not, it was issued by a check that was stopped before it could
    keep it, or by an earlier version; its day is not known.

    Args:
        record: where it stands.
        folder: the history.
        now: the text of the record that is to take its place.

    Raises:
        UserError: it can't be kept, so nothing may take its place.
    """
    if not os.path.lexists(record):
        return
    try:
        digest = digest_at_end(record)
        if digest == digest_of(now):
            return
        kept = sorted(numbered(folder), reverse=True) if folder.is_dir() else ()
        if any((head := _head_of(file)) and head.digest == digest for _, file in kept):
            return
        text = record.read_text("utf-8")
        read_record(text)
        _add(text, folder, None)
    except (UnicodeDecodeError, RecordError):
        return  # damaged or altered: no record that a check issued
    except OSError as fault:
        raise UserError(
            f"{record}: this earlier record can't be kept in '{folder}' "
            f"({_why(folder, fault)}), and a new one would take its place. Nothing was written. "
            "Put this right and check again."
        ) from None


def digest_at_end(record: Path) -> str:
    """The digest that a record in a file says of itself; most are large, so only its end is read.

    Raises:
        OSError: it can't be read.
    """
    with record.open("rb") as stream:
        stream.seek(max(0, stream.seek(0, os.SEEK_END) - _END))
        return digest_of(stream.read().decode("utf-8", "replace"))


def _late(today: dt.date | None, last: Head | None, file: Path) -> str:
    """That the clock stands before the last record; empty if it does not, or can't be told."""
    if today is None or last is None or last.issued is None or today >= last.issued:
        return ""
    return (
        f"{file}: this record was kept on {day(last.issued)}, but the computer's clock says "
        f"{day(today)}. One of them is wrong: put the clock right if it is wrong now. Nothing was "
        "lost: the records are numbered."
    )


def numbered(folder: Path) -> Iterator[tuple[int, Path]]:
    """The files of a history with their numbers, in any order."""
    for file in folder.iterdir():
        name = file.name.casefold()  # many a disk takes 0001.JSON.GZ for the same name
        found = _NAME.fullmatch(name)
        if found and name == _name(int(found[1])):
            yield int(found[1]), file


def _name(number: int) -> str:
    return f"{number:04}.json.gz"


def digest_of_file(file: Path) -> str | None:
    """SHA-256 of a file; none if it can't be read, or another run has its name and still writes."""
    try:
        content = file.read_bytes()
    except OSError:
        return None
    return hashlib.sha256(content).hexdigest() if content else None


def _packed(head: Head, record: str) -> bytes:
    issued = None if head.issued is None else head.issued.isoformat()
    keys = {"number": head.number, "issued": issued, "before": head.before, "sha256": head.digest}
    lines = "".join(f' "{key}": {json.dumps(value)},\n' for key, value in keys.items())
    return gzip.compress(f"{_FIRST_KEY}{lines}{_RECORD_KEY}{record}}}\n".encode(), _FAST, mtime=0)


def _head_of(file: Path) -> Head | None:
    """The head alone; none if it can't be read."""
    try:
        with file.open("rb") as stream:
            packed = stream.read(_HEAD_PACKED)
        start = zlib.decompressobj(_GZIP).decompress(packed, _HEAD).decode("utf-8", "ignore")
        return _read_head(start)
    except (OSError, zlib.error, EntryError):
        return None


def _read_head(text: str) -> Head:
    """The head of an entry's text.

    Raises:
        EntryError: it has none.
    """
    start, found, _ = text.partition(_RECORD_KEY)
    if not found or not start.startswith(_FIRST_KEY):
        raise EntryError("no record that a check kept")
    try:
        read: dict[str, Any] = json.loads(start.rstrip().removesuffix(",") + "}")
        number, issued, before = read["number"], read["issued"], read["before"]
        if type(number) is not int or not isinstance(before, str | None):
            raise TypeError
        return Head(
            number, None if issued is None else dt.date.fromisoformat(issued), before,
            str(read["sha256"]),
        )  # fmt: skip
    except (ValueError, LookupError, TypeError):
        raise EntryError("altered: its head is not as a check writes it") from None


def read_entry(content: bytes, number: int) -> tuple[Head, Written]:
    """A record of the history with what its file says of it.

    Args:
        content: of the file.
        number: the one in its name.

    Raises:
        EntryError: it is damaged, altered, or no record.
    """
    if not content:
        raise EntryError("empty: the check that was to write it was stopped")
    try:
        unpacker = zlib.decompressobj(_GZIP)
        text = unpacker.decompress(content, _LARGEST).decode("utf-8")
    except zlib.error:
        raise EntryError("damaged, or no gzip file") from None
    except UnicodeDecodeError:
        raise EntryError("altered: it is no UTF-8 text") from None
    if not unpacker.eof:
        raise EntryError("cut off, or larger than a record can be")
    head = _read_head(text)
    record = text.partition(_RECORD_KEY)[2].removesuffix("}\n")
    if head.number != number or not record.startswith(MARKER) or digest_of(record) != head.digest:
        raise EntryError("altered: its head is not that of its record")
    try:
        return head, read_record(record)
    except RecordError as fault:
        raise EntryError(str(fault)) from None
