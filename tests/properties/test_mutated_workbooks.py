"""Real workbooks spoilt at random are read or refused with a message: no traceback, no hang.

``python -m tests.properties.test_mutated_workbooks 0 5000 FILE...`` tries 5000, of other files too.
"""

from __future__ import annotations

import faulthandler
import functools
import io
import random
import re
import sys
import tempfile
import zipfile
import zlib
from collections.abc import Callable
from pathlib import Path

import pytest

from survey.answers import read_survey
from survey.errors import UserError
from survey.model import Survey
from survey.workbook import open_survey
from tests.forms import as_ods, filled_form

Parts = list[tuple[str, bytes]]
PartsChange = Callable[[Parts, random.Random], Parts]
Change = Callable[[bytes, random.Random], bytes]
TRIES = 250
_NO_ZIP_ANY_MORE = (
    zipfile.BadZipFile, zlib.error, ValueError, LookupError, RuntimeError, EOFError, OSError,
)  # fmt: skip
_LONGEST = 60.0  # seconds for one file; only a hang takes as long
_ODD = (
    b"", b"0", b"-1", b"1e400", b"NaN", b"4294967296", b"A0", b"XFD1048576", b"\xff", b"\x00",
    b"&amp;", b"&x;", b"<", b">", b'"', b"</row>", b"</sheetData>", b"<c/>", b'<c r="B6">', b"<v>",
    b"</v>", b"<f>", b"<f/>", b"<is><t>", b't="s"', b't="e"', b't="d"', b"<!--", b"-->",
    b"<![CDATA[", b"]]>", b"<!DOCTYPE x>", b"<mergeCell ref=\"A1:B9\"/>", b"label", b"pit_depth",
    b"site_answer", b"office:value", b"table:number-rows-repeated=\"99999\"", b"<table:table-row>",
    b"\xc2\xa0", b"\xe2\x80\x9c", b"9" * 400, b" " * 3000,
)  # fmt: skip


def spoilt(content: bytes, seed: int) -> bytes:
    """The file after one to four changes of some sort, told by the seed."""
    rng = random.Random(seed)
    for _ in range(rng.choice((1, 1, 2, 4))):
        try:
            content = rng.choice(_CHANGES)(content, rng)
        except _NO_ZIP_ANY_MORE:
            return content
    return content


def _flip(content: bytes, rng: random.Random) -> bytes:
    changed = bytearray(content)
    for _ in range(rng.choice((1, 5, 100))):
        changed[rng.randrange(4, len(changed))] = rng.randrange(256)
    return bytes(changed)


def _cut(content: bytes, rng: random.Random) -> bytes:
    return content[: rng.randrange(4, len(content))]


def _in_parts(change: PartsChange) -> Change:
    def changed(content: bytes, rng: random.Random) -> bytes:
        with zipfile.ZipFile(io.BytesIO(content)) as package:
            parts = [(name, package.read(name)) for name in package.namelist()]
        packed = io.BytesIO()
        with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as package:
            for name, part in change(parts, rng):
                package.writestr(name, part)
        return packed.getvalue()

    return changed


def _some_xml(parts: Parts, rng: random.Random) -> int:
    return rng.choice([n for n, (name, part) in enumerate(parts) if part and b"<" in part])


def _remove(parts: Parts, rng: random.Random) -> Parts:
    at = rng.randrange(len(parts))
    return parts[:at] + parts[at + 1 :]


def _double(parts: Parts, rng: random.Random) -> Parts:
    name, part = rng.choice(parts)
    other = rng.choice((name, name.upper(), name.replace("1", "2"), f"../{name}"))
    return [*parts, (other, part)]


def _swap(parts: Parts, rng: random.Random) -> Parts:
    one, other = rng.randrange(len(parts)), rng.randrange(len(parts))
    swapped = list(parts)
    swapped[one] = (parts[one][0], parts[other][1])
    swapped[other] = (parts[other][0], parts[one][1])
    return swapped


def _in_xml(change: Change) -> PartsChange:
    def changed(parts: Parts, rng: random.Random) -> Parts:
        at = _some_xml(parts, rng)
        name, part = parts[at]
        return [*parts[:at], (name, change(part, rng)), *parts[at + 1 :]]

    return changed


def _insert(part: bytes, rng: random.Random) -> bytes:
    at = rng.randrange(len(part))
    return part[:at] + rng.choice(_ODD) + part[at + rng.choice((0, 0, 1, 9)) :]


def _change_values(part: bytes, rng: random.Random) -> bytes:
    """Other texts in some attributes or elements."""
    found = list(re.finditer(rb'"[^"<>]*"|>[^<>]+<', part))
    for place in _from_the_end(found, rng.choice((1, 3, 20)), rng):
        part = part[: place.start() + 1] + rng.choice(_ODD) + part[place.end() - 1 :]
    return part


def _from_the_end(
    found: list[re.Match[bytes]], most: int, rng: random.Random
) -> list[re.Match[bytes]]:
    """Some of the places found, the last first, so that the others stay where they are."""
    some = rng.sample(found, min(len(found), most))
    return sorted(some, key=lambda place: place.start(), reverse=True)


def _change_tags(part: bytes, rng: random.Random) -> bytes:
    """Take out, double or move some tags."""
    tags = list(re.finditer(rb"<[^<>]+>", part))
    for place in _from_the_end(tags, rng.choice((1, 2, 10)), rng):
        new = rng.choice((b"", place[0] * 2, rng.choice(tags)[0]))
        part = part[: place.start()] + new + part[place.end() :]
    return part


def _repeat_slice(part: bytes, rng: random.Random) -> bytes:
    first = rng.randrange(len(part))
    last = min(len(part), first + rng.choice((10, 1000, 100_000)))
    return part[:last] + part[first:last] * rng.choice((1, 3)) + part[last:]


_CHANGES: tuple[Change, ...] = (
    _flip,
    _cut,
    *map(_in_parts, (_remove, _double, _swap)),
    *(_in_parts(_in_xml(c)) for c in (_insert, _change_values, _change_tags, _repeat_slice)),
    *(_in_parts(_in_xml(c)) for c in (_insert, _change_values, _change_tags)),
)


@functools.cache
def real_files() -> tuple[bytes, ...]:
    """The files to spoil."""
    return filled_form(), as_ods(filled_form())


def settled(path: Path) -> bool:
    """Whether a file is read into a survey or refused with a message about it."""
    try:
        survey, problems = read_survey(open_survey(path))
    except UserError as refusal:
        return str(refusal).startswith(f"{path}: ")
    return isinstance(survey, Survey) and all(str(problem) for problem in problems)


@pytest.mark.filterwarnings("ignore:Duplicate name")
@pytest.mark.parametrize("first", range(0, TRIES, 25))
def test_spoilt_workbooks_give_a_message_or_a_survey(tmp_path, first):
    path = tmp_path / "survey.xlsx"
    for seed in range(first, first + 25):
        path.write_bytes(spoilt(real_files()[seed % 2], seed))
        assert settled(path), seed


def _try(files: list[bytes], seeds: range) -> None:
    read = 0
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "survey.xlsx"
        for seed in seeds:
            path.write_bytes(spoilt(files[seed % len(files)], seed))
            faulthandler.dump_traceback_later(_LONGEST, exit=True)
            try:
                if not settled(path):
                    print("no message:", seed)
            except BaseException as fault:
                print(seed, type(fault).__name__, fault)
                raise
            try:
                open_survey(path)
                read += 1
            except UserError:
                pass
    faulthandler.cancel_dump_traceback_later()
    print(f"{len(seeds)} files: {read} read, {len(seeds) - read} refused")


if __name__ == "__main__":
    import warnings

    warnings.simplefilter("ignore")
    more = [Path(name).read_bytes() for name in sys.argv[3:]]
    _try([*real_files(), *more], range(int(sys.argv[1]), int(sys.argv[2])))
