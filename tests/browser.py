"""A browser without a window for the tests that look at pages: what it sees, says and asks for.

One browser serves a whole module. It is Chromium as the system has it; nothing is downloaded.
"""

from __future__ import annotations

import importlib.util
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

CHROMIUM = shutil.which("chromium")
MISSING = [
    name
    for name, there in {
        "chromium": CHROMIUM,
        "playwright": importlib.util.find_spec("playwright"),
        "axe-playwright-python": importlib.util.find_spec("axe_playwright_python"),
    }.items()
    if not there
]
needs_browser = pytest.mark.skipif(
    bool(MISSING), reason=f"not installed: {', '.join(MISSING)}; see .ci/run"
)


@dataclass(slots=True)
class Seen:
    """A page that is open, and what it said and asked for since it was opened."""

    page: Any
    asked_for: list[str] = field(default_factory=list)
    said: list[str] = field(default_factory=list)

    def faults(self, *, contrast: bool) -> list[str]:
        """What axe-core finds wrong, in a line each; contrast takes nine tenths of its time."""
        source = files("axe_playwright_python").joinpath("axe.min.js").read_text("utf-8")
        self.page.evaluate(source)
        found = self.page.evaluate(
            "contrast => axe.run(document, {resultTypes: ['violations'],"
            " rules: {'color-contrast': {enabled: contrast}}})",
            contrast,
        )
        assert len(found["passes"]) > 15  # it ran
        return [
            f"{one['id']}: {node['html'][:200]}"
            for one in found["violations"]
            for node in one["nodes"]
        ]


class Browser:
    """Opens pages from files, with a width in CSS pixels."""

    def __init__(self, chromium: Any, folder: Path) -> None:
        self._chromium, self._folder = chromium, folder

    @contextmanager
    def open(self, text: str, width: int = 1000) -> Iterator[Seen]:
        """A page open on a screen of a width."""
        file = self._folder / "page.html"
        file.write_text(text, "utf-8")
        page = self._chromium.new_page(viewport={"width": width, "height": 800})
        seen = Seen(page)
        page.on("request", lambda asked: seen.asked_for.append(asked.url))
        page.on("console", lambda line: seen.said.append(line.text))
        page.on("pageerror", lambda fault: seen.said.append(str(fault)))
        page.on("dialog", lambda dialog: (seen.said.append(dialog.message), dialog.dismiss()))
        page.goto(file.as_uri())
        assert seen.asked_for == [file.as_uri()]
        seen.asked_for.clear()
        try:
            yield seen
        finally:
            page.close()


@contextmanager
def browser(folder: Path) -> Iterator[Browser]:
    """One browser, ended at the end."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as started:
        chromium = started.chromium.launch(executable_path=CHROMIUM)
        try:
            yield Browser(chromium, folder)
        finally:
            chromium.close()
