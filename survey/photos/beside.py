"""The files beside a survey, found by the plain names that its list of photos gives."""

from __future__ import annotations

import hashlib
import os
import re
import stat
import unicodedata
from collections.abc import Collection
from dataclasses import dataclass
from functools import cached_property
from itertools import islice
from pathlib import Path

from survey.photos.photo import UnusablePhotoError

LARGEST_FILE = 32 * 2**20
_MOST_FILES = 100_000
_OTHER_PLACE = re.compile(r"[/\\:]|^\.\.?$")


@dataclass
class Folder:
    """The folder of a survey. A name is looked up in its list; no other path is ever opened."""

    path: Path

    @cached_property
    def _names(self) -> dict[str, list[str]]:
        """Names of its files, by the name without regard to capitals."""
        found: dict[str, list[str]] = {}
        try:
            with os.scandir(self.path) as entries:
                for entry in islice(entries, _MOST_FILES):
                    found.setdefault(_folded(entry.name), []).append(entry.name)
        except OSError:
            return {}
        return found

    @cached_property
    def _alike(self) -> dict[str, str]:
        """Names of its files by their letters and figures alone, without ending."""
        return {_letters(Path(name).stem): name for names in self._names.values() for name in names}

    def read(self, name: str) -> bytes:
        """The bytes of a file.

        Args:
            name: as the list of photos gives it; small and capital letters count as the same
                unless two files differ in nothing else.

        Raises:
            UnusablePhotoError: there is no such file in this folder, it leads out of it, is no
                ordinary file, larger than 32 MB, or can't be read.
        """
        path = self.path / self._find(name)
        try:
            real = path.resolve(strict=True)
            if real.parent != self.path.resolve():
                raise UnusablePhotoError(
                    "is a link that leads out of the survey's folder: put the file itself there"
                )
            seen = real.stat()
            if not stat.S_ISREG(seen.st_mode):
                raise UnusablePhotoError("is no ordinary file: put the picture's file there")
            if seen.st_size > LARGEST_FILE:
                raise UnusablePhotoError(
                    f"is larger than {LARGEST_FILE // 2**20} MB: save the picture smaller"
                )
            with real.open("rb") as opened:
                return opened.read(seen.st_size)
        except (OSError, RuntimeError) as fault:  # a link that leads to itself, before 3.13
            why = fault.strerror if isinstance(fault, OSError) and fault.strerror else fault
            raise UnusablePhotoError(f"can't be read ({why}): send it again") from None

    def _find(self, name: str) -> str:
        """The file's own name, as it stands in the folder."""
        if _OTHER_PLACE.search(name):
            raise UnusablePhotoError(
                "names a place, not a file beside the survey: put the file into the survey's "
                "folder and give its name alone"
            )
        named = self._names.get(_folded(name), [])
        if name in named:
            return name
        if len(named) > 1:
            raise UnusablePhotoError(
                f"may be any of {', '.join(sorted(named))}: give each file a name of its own"
            )
        if named:
            return named[0]
        near = self._alike.get(_letters(Path(name).stem))
        hint = f" (is it '{near}'?)" if near else ""
        raise UnusablePhotoError(f"was not found beside the survey{hint}: send it along")


def beside_fingerprint(folder: Path, names: Collection[str]) -> str:
    """The same while the same files stand beside a survey, and those named hold the same.

    Args:
        folder: of the survey.
        names: as its list of photos gives them; with none, nothing beside it counts.
    """
    if not names:
        return ""
    wanted = {_folded(name) for name in names}
    digest = hashlib.sha256()
    for file in sorted(folder.iterdir()):
        digest.update(f"{file.name}\0".encode("utf-8", "surrogatepass"))
        named = _folded(file.name) in wanted and file.is_file()
        if named and file.stat().st_size <= LARGEST_FILE:
            digest.update(hashlib.sha256(file.read_bytes()).digest())
    return digest.hexdigest()


def _folded(name: str) -> str:
    """A name without regard to capitals, and to the two ways of storing an accent."""
    return unicodedata.normalize("NFC", name).casefold()


def _letters(name: str) -> str:
    return re.sub(r"[\W_]", "", _folded(name))
