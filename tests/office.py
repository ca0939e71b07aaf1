"""LibreOffice for the tests: convert files, or fill a workbook in as a person does."""

from __future__ import annotations

import contextlib
import functools
import json
import os
import selectors
import shutil
import signal
import subprocess
import tempfile
import uuid
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

SOFFICE = shutil.which("soffice")
XLSX, ODS, PDF = "xlsx:Calc MS Excel 2007 XML", "ods:calc8", "pdf:calc_pdf_Export"
_LONGEST = 60.0  # seconds for one order; a dialog that nobody closes must not hang the tests


@functools.cache
def uno_python() -> str | None:
    """A Python that can talk to LibreOffice; the one of the tests seldom can."""
    for python in map(shutil.which, ("/usr/bin/python3", "python3")):
        if python is not None:
            trial = [python, "-c", "import uno"]
            if not subprocess.run(trial, capture_output=True, timeout=30, check=False).returncode:
                return python
    return None


def convert(files: Sequence[Path], to: str, folder: Path) -> list[Path]:
    """Open files in LibreOffice, work them out, and save them in another format in a folder."""
    assert SOFFICE is not None
    with tempfile.TemporaryDirectory() as profile:
        command = [SOFFICE, f"-env:UserInstallation={Path(profile).as_uri()}", "--headless"]
        command += ["--convert-to", to, "--outdir", str(folder), *map(str, files)]
        subprocess.run(command, check=True, capture_output=True, timeout=180)
    return [folder / f"{file.stem}.{to.partition(':')[0]}" for file in files]


class Office:
    """A running LibreOffice; every verb of ``tests/office_hands.py`` is a method of it."""

    def __init__(self, hands: subprocess.Popen[bytes]) -> None:
        self._hands = hands
        assert hands.stdout is not None
        self._waiting = selectors.DefaultSelector()
        self._waiting.register(hands.stdout, selectors.EVENT_READ)

    def __getattr__(self, verb: str) -> Any:
        return functools.partial(self._do, verb)

    def _do(self, verb: str, *arguments: object) -> Any:
        assert self._hands.stdin is not None
        assert self._hands.stdout is not None
        order = [verb, *(str(a) if isinstance(a, Path) else a for a in arguments)]
        self._hands.stdin.write(json.dumps(order).encode() + b"\n")
        self._hands.stdin.flush()
        if not self._waiting.select(_LONGEST):
            raise TimeoutError(f"LibreOffice does not answer to {order}")
        answer = json.loads(self._hands.stdout.readline())
        if "failed" in answer:
            raise RuntimeError(answer["failed"])
        return answer["did"]


@contextlib.contextmanager
def office() -> Iterator[Office]:
    """Start LibreOffice without a window, with a profile of its own; ended afterwards."""
    python = uno_python()
    assert SOFFICE is not None
    assert python is not None
    with tempfile.TemporaryDirectory() as profile, contextlib.ExitStack() as ending:
        pipe = f"pipe,name=survey{uuid.uuid4().hex}"
        program = subprocess.Popen(
            [SOFFICE, f"-env:UserInstallation={Path(profile).as_uri()}", "--headless",
             "--norestore", "--nologo", f"--accept={pipe};urp;"],
            start_new_session=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        ending.callback(_end, program)
        hands = subprocess.Popen(
            [python, str(Path(__file__).with_name("office_hands.py")), pipe],
            start_new_session=True, stdin=subprocess.PIPE, stdout=subprocess.PIPE,
        )  # fmt: skip
        ending.callback(_end, hands)
        yield Office(hands)


def _end(process: subprocess.Popen[bytes]) -> None:
    with contextlib.suppress(ProcessLookupError):
        os.killpg(process.pid, signal.SIGKILL)
    with process:  # closes its pipes and waits
        pass
