"""Work kept between runs, under keys made of everything it was made from, so it can't go stale.

A cache that can't be read or written is no fault: the work is done again.
"""

from __future__ import annotations

import contextlib
import functools
import hashlib
from pathlib import Path

from survey.files import whole

_PROGRAM = Path(__file__).parent
_KEPT = 24
_DIGEST = hashlib.sha256().digest_size


@functools.cache
def _folder() -> Path:
    from platformdirs import user_cache_path

    return user_cache_path("pier-survey", appauthor=False)


@functools.cache
def program_fingerprint() -> str:
    """Of the program's own files: another version, or an edited copy, has another one."""
    digest = hashlib.sha256()
    for file in sorted(_PROGRAM.rglob("*.py")) + sorted(_PROGRAM.rglob("*.lark")):
        digest.update(file.read_bytes())
    return digest.hexdigest()


def read(name: str) -> bytes | None:
    """What was kept under a name, if anything, and only as it was written."""
    try:
        kept = (_folder() / name).read_bytes()
    except OSError:
        return None
    digest, content = kept[:_DIGEST], kept[_DIGEST:]
    return content if hashlib.sha256(content).digest() == digest else None


def write(name: str, content: bytes) -> None:
    """Keep something under a name; the oldest things give way."""
    with contextlib.suppress(OSError):
        _folder().mkdir(parents=True, exist_ok=True)
        with whole(_folder() / name) as part:
            part.write_bytes(hashlib.sha256(content).digest() + content)
        files = sorted(_folder().iterdir(), key=lambda file: file.stat().st_mtime, reverse=True)
        for old in files[_KEPT:]:
            old.unlink(missing_ok=True)
