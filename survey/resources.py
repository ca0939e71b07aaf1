"""The folders that ship with the program: the rule book, the forms, the demo sites."""

from __future__ import annotations

from pathlib import Path

from survey.errors import UserError

_PACKAGE = Path(__file__).parent


def folder(name: str) -> Path:
    """A folder that ships with the program.

    In an installed copy it stands inside the package; in a source checkout, beside it.

    Args:
        name: ``rules``, ``forms`` or ``demo_sites``.

    Raises:
        UserError: this copy of the program lacks it.
    """
    for place in (_PACKAGE / "shipped" / name, _PACKAGE.parent / name):
        if place.is_dir():
            return place
    raise UserError(f"This copy of pier-survey lacks its '{name}' folder. Install it again.")
