"""The record as text, and back: every one that is read is whole and as it was written."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from survey.assessment import Assessment
from survey.errors import UserError
from survey.photos import NO_PHOTOS, Photos
from survey.sheets._shape import faults
from survey.sheets.record import VERSION, Record, Written, record
from survey.sheets.since import Since

MARKER = '{\n "pier_survey_record": '
_LARGEST = 200_000_000
_DIGEST = "sha256"


class RecordError(UserError):
    """A text is no record that can be relied on; ``faults`` has each reason."""

    def __init__(self, faults: Sequence[str]) -> None:
        self.faults = tuple(faults)
        super().__init__("; ".join(self.faults))


def write_record(
    assessment: Assessment, photos: Photos = NO_PHOTOS, since: Since | None = None
) -> str:
    """The record as the text of a JSON file, with a line for each finding, figure and so on."""
    return written(record(assessment, photos, since))


def record_line(assessment: Assessment, photos: Photos = NO_PHOTOS) -> str:
    """The record as one line of JSON."""
    return write_record(assessment, photos).replace("\n", "")


def written(made: Record) -> str:
    """A record as the text of its file.

    Its last key is the SHA-256 of all that stands before it but for line ends; so it is the same in
    a file and in one line.
    """
    keys = (f' "{key}": {_entries(value)}' for key, value in made.items())
    text = "{\n" + ",\n".join(keys) + ",\n"
    try:
        stored = text.encode()
    except UnicodeEncodeError:  # halves of characters, which no file can hold: ?
        stored = text.encode("utf-8", "replace")
        text = stored.decode()
    return f'{text} "{_DIGEST}": "{_digest(stored)}"\n}}\n'


def _entries(value: object) -> str:
    """A value as JSON, with a line for each entry of a list or table."""
    if isinstance(value, list) and value:
        return f"[\n  {_in_lines(value)}\n ]"
    if isinstance(value, dict) and any(isinstance(one, (dict, list)) for one in value.values()):
        lines = (f"  {_json(key)}: {_json(entry)}" for key, entry in value.items())
        return "{\n" + ",\n".join(lines) + "\n }"
    return _json(value)


def _in_lines(entries: list[Any]) -> str:
    """Entries of a list, each in its line: written in one go, for some lists have thousands.

    Within a text there is no quotation mark without a stroke before it, so that what stands between
    two entries is found nowhere else.
    """
    text = _json(entries)[1:-1]
    if isinstance(entries[0], dict):
        first = f'{{"{next(iter(entries[0]))}": '
        text = text.replace(f"}}, {first}", f"}},\n  {first}")
    return text


_json = json.JSONEncoder(ensure_ascii=False, check_circular=False).encode


def _digest(text: bytes) -> str:
    return hashlib.sha256(text.replace(b"\n", b"")).hexdigest()


def digest_of(text: str) -> str:
    """The digest that the text of a record says of itself; empty if it has none."""
    return text.rpartition(f'"{_DIGEST}": "')[2].partition('"')[0]


def read_record(text: str) -> Written:
    """Read a record that a check wrote.

    Raises:
        RecordError: it is cut off, of another version, altered, or no record; all faults at once,
            the first twenty of them.
    """
    try:
        read = json.loads(text)
    except RecursionError:
        raise RecordError(["no record: tables stand in tables without end"]) from None
    except ValueError as fault:
        cut = not text.rstrip().endswith("}")
        where = f"line {fault.lineno}" if isinstance(fault, json.JSONDecodeError) else "a number"
        raise RecordError(
            ["cut off: its end is missing" if cut else f"no JSON, from {where} on"]
        ) from None
    if not isinstance(read, dict) or "pier_survey_record" not in read:
        raise RecordError(["no record of a check"])
    version = read["pier_survey_record"]
    if version != VERSION or type(version) is not int:
        raise RecordError(
            [f"a record of version {str(version)[:20]}; this program reads version {VERSION}"]
        )
    body, _, digest = text.rpartition(f' "{_DIGEST}": "')
    if digest.replace("\n", "") != f'{_digest(body.encode("utf-8", "replace"))}"}}':
        wrong = [*faults(read, Written)]
        raise RecordError(["altered since it was written", *wrong])
    whole: Any = read
    return whole  # type: ignore[no-any-return]


def earlier_record(file: Path) -> Written | None:
    """The record that an earlier check left at a place, if there is one.

    Raises:
        RecordError: what stands there can't be read as one.
    """
    try:
        if not file.is_file():
            return None
        if file.stat().st_size > _LARGEST:
            raise RecordError(["larger than a record can be"])
        return read_record(file.read_text("utf-8"))
    except OSError as fault:
        raise RecordError([f"can't be read ({fault.strerror or fault})"]) from None
    except UnicodeDecodeError:
        raise RecordError(["altered: it is no UTF-8 text"]) from None
