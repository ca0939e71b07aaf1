"""How much work something is, counted and not timed: the same on every machine, however busy."""

from __future__ import annotations

import sys
from collections.abc import Callable
from types import FrameType
from typing import TypeVar

T = TypeVar("T")


def counted(work: Callable[[], T]) -> tuple[T, int]:
    """What some work gives, and how many Python functions it called."""
    calls = 0

    def count(_frame: FrameType, event: str, _argument: object) -> None:
        nonlocal calls
        calls += event == "call"

    before = sys.getprofile()
    sys.setprofile(count)
    try:
        found = work()
    finally:
        sys.setprofile(before)
    return found, calls
