"""The way of the data is one-way, and starting up is light."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

from survey.vocabulary import VOCABULARY, Origin

PACKAGE = Path(__file__).parent.parent.parent / "survey"
# From left to right; a module may import from its own place and from the left of it.
ORDER = [
    ("errors", "files", "cache", "resources", "vocabulary"),
    ("model",),
    ("answers",),
    ("rewriting", "tables"),
    ("document", "workbook"),
    ("engineering",),
    ("quantities",),
    ("facts",),
    ("rulebook",),
    ("assessment",),
    ("photos", "drawings"),
    ("sheets",),
    ("convert", "jobs"),
    ("cli", "cli_jobs", "cli_parts", "__main__"),
]
RANK = {name: rank for rank, names in enumerate(ORDER) for name in names}


def imports(file: Path):
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            yield node.module if node.module != "survey" else f"survey.{node.names[0].name}"
        elif isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)


@pytest.mark.parametrize("file", sorted(PACKAGE.rglob("*.py")), ids=lambda f: f.stem)
def test_nothing_right_of_an_arrow_is_imported_left_of_it(file):
    own = file.relative_to(PACKAGE).with_suffix("").parts[0]
    if own == "__init__":
        return
    for name in imports(file):
        parts = name.split(".")
        if parts[0] == "survey" and len(parts) > 1 and parts[1] in RANK:
            assert RANK[parts[1]] <= RANK[own], f"{own} imports {name}"


def loaded_by(*arguments: str) -> set[str]:
    code = (
        "import sys; sys.argv = ['pier-survey', *sys.argv[1:]]\n"
        "from survey.cli import main\n"
        "try: main()\nexcept SystemExit: pass\n"
        "print('LOADED', *sorted({m.split('.')[0] for m in sys.modules}))"
    )
    run = subprocess.run(
        [sys.executable, "-c", code, *arguments], capture_output=True, text=True, check=True,
        cwd=PACKAGE.parent,
    )  # fmt: skip
    return set(run.stdout.rpartition("LOADED")[2].split())


def test_help_loads_nothing_heavy():
    heavy = {"numpy", "pandas", "openpyxl", "shapely", "jinja2", "lark", "durable", "PIL"}
    assert not loaded_by("--help") & heavy


def test_a_check_of_a_workbook_loads_neither_writer_nor_pydantic(tmp_path):
    demo = PACKAGE.parent / "demo_sites" / "01-fennel-house.xlsx"
    loaded = loaded_by("check", str(demo), "--out", str(tmp_path))
    assert not loaded & {"openpyxl", "pandas", "pint", "pydantic", "PIL"}
    assert "python_calamine" in loaded


def test_no_word_is_named_so_that_a_rule_can_not_say_it():
    for word in VOCABULARY.words:
        assert not {"and", "or", "not", "is", "gives"} & set(word.name.split()), word.name


def test_every_word_that_depends_on_an_earlier_one_stands_below_it():
    for word in VOCABULARY.words:
        if word.asks_when is not None:
            governing = VOCABULARY[word.asks_when.word]
            words = VOCABULARY.of(word.subject)
            assert words.index(governing) < words.index(word), word.name
            assert set(word.asks_when.choices) <= set(governing.choices)


def test_every_derived_word_names_a_calculation_that_exists():
    import importlib

    for word in VOCABULARY.words:
        if word.origin is Origin.DERIVED:
            module, _, function = word.made_by.partition(".")
            found = importlib.import_module(f"survey.engineering.{module}")
            assert callable(getattr(found, function)), word.made_by
