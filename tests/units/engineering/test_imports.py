"""Starting is fast: no calculation module loads a heavy library before it is used."""

import subprocess
import sys
from pathlib import Path

import pytest

import survey.engineering

MODULES = sorted(path.stem for path in Path(survey.engineering.__file__).parent.glob("*.py"))


@pytest.mark.parametrize(
    "module", ["layout", "dates", "sequence", "tickets", "window", "tributary"]
)
def test_importing_loads_no_heavy_library(module):
    assert module in MODULES
    code = (
        f"import sys, survey.engineering.{module}\n"
        "print([m for m in ('shapely', 'numpy', 'pandas', 'pint', 'openpyxl', 'pydantic', "
        "'holidays') "
        "if m in sys.modules])"
    )
    root = Path(survey.engineering.__file__).parents[2]
    found = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=root
    )
    assert found.stdout.strip() == "[]"
