"""Bytes of a file that may be anything, and what sort of file they are."""

from __future__ import annotations

import enum
import stat
from pathlib import Path

from survey.errors import UnreadableSurveyError

LARGEST_FILE = 64 * 2**20
LARGEST_JSON = 4 * 2**20  # some 200 rows a list need a quarter of it
_HELP = (
    "Give a workbook made by 'pier-survey form' and saved as .xlsx or .ods, or a survey in JSON."
)
_SMALLER = "A filled workbook is far smaller. Take pictures out of it, or give another file."
_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_ZIP = (b"PK\x03\x04", b"PK\x05\x06")
_UTF8_MARK = b"\xef\xbb\xbf"
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")


class Content(enum.Enum):
    """What a survey file holds, by its first bytes."""

    WORKBOOK = "workbook"
    JSON = "JSON"


def unreadable(path: Path, *reasons: str, help: str = _HELP) -> UnreadableSurveyError:
    """The error that tells why a file can't be read."""
    return UnreadableSurveyError(str(path), reasons, help)


def file_bytes(path: Path) -> bytes:
    """The whole of an ordinary file of bearable size.

    Raises:
        UnreadableSurveyError: there is no such file, it can't be opened, is a folder or a
            device, is empty, or is larger than 64 MB.
    """
    try:
        seen = path.stat()
        if stat.S_ISDIR(seen.st_mode):
            raise unreadable(path, "this is a folder, not a file")
        if not stat.S_ISREG(seen.st_mode):
            raise unreadable(path, "this is not an ordinary file")
        if seen.st_size > LARGEST_FILE:
            raise unreadable(
                path, f"the file is larger than {LARGEST_FILE // 2**20} MB", help=_SMALLER
            )
        with path.open("rb") as opened:
            content = opened.read(seen.st_size)
    except FileNotFoundError:
        raise unreadable(path, "there is no such file") from None
    except PermissionError:
        raise unreadable(
            path,
            "no permission to read this file",
            help="Close it where it is open in another program, or ask for the right to read it.",
        ) from None
    except (OSError, ValueError) as fault:
        raise unreadable(path, f"the file can't be opened ({fault})") from None
    if not content:
        raise unreadable(path, "the file is empty")
    return content


def content_of(content: bytes, path: Path) -> Content:
    """Tell a workbook from JSON by what stands in the file, whatever it is called.

    Raises:
        UnreadableSurveyError: it is neither; says what it is if that can be seen.
    """
    if content.startswith(_ZIP):
        return Content.WORKBOOK
    if content.startswith(_OLE):
        raise _old_office(content, path)
    if content.removeprefix(_UTF8_MARK).lstrip()[:1] in (b"{", b"["):
        return Content.JSON
    if content.startswith(_UTF16_MARKS):
        raise unreadable(path, "text in UTF-16", help="Save the JSON survey as UTF-8 text.")
    raise unreadable(path, "this is neither a workbook nor a survey in JSON")


def json_text(content: bytes, path: Path) -> str:
    """The text of a JSON file.

    Raises:
        UnreadableSurveyError: it is larger than 4 MB or no UTF-8 text.
    """
    if len(content) > LARGEST_JSON:
        raise unreadable(
            path,
            f"the JSON is larger than {LARGEST_JSON // 2**20} MB",
            help="One file holds one site. Give each site a file of its own.",
        )
    try:
        return content.removeprefix(_UTF8_MARK).decode("utf-8")
    except UnicodeDecodeError as fault:
        raise unreadable(
            path,
            f"byte {fault.start + 1} is no UTF-8 text",
            help="Save the JSON survey as UTF-8 text.",
        ) from None


def _old_office(content: bytes, path: Path) -> UnreadableSurveyError:
    if "EncryptedPackage".encode("utf-16-le") in content:
        return unreadable(
            path,
            "the workbook is protected by a password",
            help="Open it with the password, save a copy without one, and give that copy.",
        )
    return unreadable(
        path,
        "this is a file of an older office program (.xls, .doc or the like)",
        help="If it is the survey, open it and save it as .xlsx or .ods.",
    )
