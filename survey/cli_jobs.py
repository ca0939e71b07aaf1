"""The commands for many jobs and many days."""

from __future__ import annotations

from collections.abc import Callable

import typer

_COMMANDS: tuple[Callable[..., None], ...] = ()


def add_to(app: typer.Typer) -> None:
    """Put these commands beside the others."""
    for command in _COMMANDS:
        app.command()(command)
