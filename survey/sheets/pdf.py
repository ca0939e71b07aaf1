"""Print a page to a PDF, with a browser that the computer has.

Chrome, Chromium and Edge print a page without a window. The page is printed as it would be from
their own menu, by a profile that is thrown away, and no host can be reached from it.
"""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from survey.errors import UserError
from survey.files import refuse_unless, told, whole

_WHAT = "PDF"
_SECONDS = 300.0  # the longest sheet, of sixty piers, takes about ten on a quick computer
_NAMES = (
    "chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome",
    "microsoft-edge", "microsoft-edge-stable", "msedge",
)  # fmt: skip
_MAC = ("Google Chrome", "Chromium", "Microsoft Edge")
_WINDOWS = ("Google/Chrome/Application/chrome.exe", "Microsoft/Edge/Application/msedge.exe")
_WISHES = (
    "--headless", "--disable-gpu", "--no-first-run", "--disable-extensions",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--disable-quic", "--host-resolver-rules=MAP * ~NOTFOUND", "--use-mock-keychain",
    "--password-store=basic", "--no-pdf-header-footer",
)  # fmt: skip

# The browser writes when it printed into the first object of the file. Both entries are written
# over in their own length, so every other byte of the file keeps its place: the first by our mark,
# the second by blanks. So the same page gives the same bytes, and a PDF of ours is known again.
_MARK = b"/PierSurveyPage (1)"
_HEAD = 65_536  # bytes; the first object of the file is well within them
_PRINTED = re.compile(rb"/CreationDate \(D:[^)]*\)")
_CHANGED = re.compile(rb"/ModDate \(D:[^)]*\)")


def write_pdf(page: Path, pdf: Path) -> None:
    """Print an HTML page of ours to a PDF.

    An earlier PDF of ours is replaced, any other file is left alone. The same page and browser
    give the same bytes.

    Args:
        page: the page.
        pdf: the file to write.

    Raises:
        UserError: the computer has no such browser, it printed nothing, or the file can't be
            written.
    """
    browser = next(_browsers(), None)
    if browser is None:
        raise UserError(
            "No Chrome, Chromium or Edge was found on this computer, so no PDF was printed. "
            f"Install one of them, or open {page} in the browser you have and print it from there."
        )
    refuse_unless(_is_ours, pdf, _WHAT)
    with told(pdf, _WHAT), whole(pdf) as part:
        _print(browser, page, part)
        printed = part.read_bytes() if part.is_file() else b""
        part.write_bytes(_marked(printed, browser, page))


def _browsers() -> Iterator[Path]:
    """The browsers that are found: those of the path first, then those in their usual places."""
    for name in _NAMES:
        found = shutil.which(name)
        if found is not None:
            yield Path(found)
    yield from (place for place in _usual_places() if place.is_file())


def _usual_places() -> tuple[Path, ...]:
    """Where these browsers stand on systems that keep no programs on the path."""
    if sys.platform == "darwin":
        folders = (Path("/Applications"), Path.home() / "Applications")
        return tuple(f / f"{name}.app/Contents/MacOS/{name}" for f in folders for name in _MAC)
    if sys.platform == "win32":
        names = ("PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA")
        folders = tuple(Path(os.environ[name]) for name in names if name in os.environ)
        return tuple(f / program for f in folders for program in _WINDOWS)
    return ()


def _print(browser: Path, page: Path, pdf: Path) -> None:
    """Let a browser print, in a time that is long enough for any page.

    What it says is not read: it complains of much that does not matter. Whether it printed is
    seen by the file.
    """
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        command = [
            str(browser), *_WISHES, *_sandbox(), f"--user-data-dir={profile}",
            f"--print-to-pdf={pdf.resolve()}", page.resolve().as_uri(),
        ]  # fmt: skip
        quiet = subprocess.DEVNULL
        try:
            running = subprocess.Popen(
                command, stdin=quiet, stdout=quiet, stderr=quiet, start_new_session=True
            )
        except OSError as fault:
            raise _not_printed(page, f"{browser} can't be run ({fault.strerror})") from None
        try:
            running.wait(_SECONDS)
        except subprocess.TimeoutExpired:
            raise _not_printed(page, f"{browser} did not end in {_SECONDS:g} seconds") from None
        finally:
            _end(running)


def _sandbox() -> tuple[str, ...]:
    """The browser refuses to run for root, as in a container, unless its sandbox is off."""
    root = sys.platform != "win32" and os.geteuid() == 0
    return ("--no-sandbox",) if root else ()


def _end(running: subprocess.Popen[bytes]) -> None:
    """End a browser that has not ended, with the processes that it started."""
    if running.poll() is not None:
        return
    if sys.platform == "win32":
        running.kill()
    else:
        os.killpg(running.pid, signal.SIGKILL)
    running.wait()


def _marked(printed: bytes, browser: Path, page: Path) -> bytes:
    """The printed file with our mark in place of the day and hour."""
    head, end, rest = printed.partition(b"endobj")
    if not head.startswith(b"%PDF-") or _PRINTED.search(head) is None:
        raise _not_printed(page, f"{browser} wrote no PDF")
    head = _PRINTED.sub(lambda found: _MARK.ljust(len(found[0])), head, count=1)
    return _CHANGED.sub(lambda found: b" " * len(found[0]), head, count=1) + end + rest


def _is_ours(file: Path) -> bool:
    with file.open("rb") as stream:
        head = stream.read(_HEAD).partition(b"endobj")[0]
    return head.startswith(b"%PDF-") and _MARK in head


def _not_printed(page: Path, why: str) -> UserError:
    return UserError(
        f"{page}: no PDF was printed of it: {why}. Open the page in a browser and print it there."
    )
