"""The templates in ``forms``, compiled once and kept; whatever they print is escaped."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

from survey import cache
from survey.resources import folder

if TYPE_CHECKING:
    from jinja2 import Environment, Template


def template(name: str) -> Template:
    """A template by its file name; jinja2 is loaded only when the first one is asked for."""
    return _environment().get_template(name)


@functools.cache
def _environment() -> Environment:
    from jinja2 import BytecodeCache, Environment, FileSystemLoader, StrictUndefined
    from jinja2.bccache import Bucket

    class Compiled(BytecodeCache):
        """Templates compiled before; jinja2 checks that they are of this text and version."""

        def load_bytecode(self, bucket: Bucket) -> None:
            kept = cache.read(f"template-{bucket.key}")
            if kept is not None:
                bucket.bytecode_from_string(kept)

        def dump_bytecode(self, bucket: Bucket) -> None:
            cache.write(f"template-{bucket.key}", bucket.bytecode_to_string())

    return Environment(
        autoescape=True,
        undefined=StrictUndefined,
        loader=FileSystemLoader(folder("forms")),
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        bytecode_cache=Compiled(),
    )
