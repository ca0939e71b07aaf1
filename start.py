"""Set up everything on a fresh machine and run one thing: the demo, the tests, or the checks.

    python start.py demo     check the demo sites; says where the sheets are
    python start.py tests    run every test
    python start.py checks   run the linter and the type checker

Needs Python 3.11 or newer and the network once, for the packages. Everything goes into a virtual
environment in a folder beside this file, one for each version of Python.
"""

import hashlib
import os
import subprocess
import sys
import venv
from pathlib import Path

HERE = Path(__file__).resolve().parent
FOLDER = HERE / f".venv-{sys.version_info.major}.{sys.version_info.minor}"
BIN = FOLDER / ("Scripts" if os.name == "nt" else "bin")
PYTHON = str(BIN / ("python.exe" if os.name == "nt" else "python"))

# What to install, and what to run.
JOBS = {
    "demo": (".", [["-m", "survey", "demo"]]),
    "tests": (".[test]", [["-m", "pytest"]]),
    "checks": (
        ".[dev]",
        [["-m", "ruff", "check"], ["-m", "ruff", "format", "--check"], ["-m", "mypy"]],
    ),
}


def set_up(packages: str) -> None:
    """Make the virtual environment, unless it has these packages for this pyproject.toml."""
    wanted = hashlib.sha256((HERE / "pyproject.toml").read_bytes()).hexdigest()
    stamp = FOLDER / f"installed-{packages.strip('.[]') or 'demo'}"
    if stamp.is_file() and stamp.read_text() == wanted:
        return
    print(f"Setting up {FOLDER.name} (once; takes a minute) ...", flush=True)
    if not Path(PYTHON).is_file():
        venv.create(FOLDER, with_pip=True)
    pip = [PYTHON, "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    subprocess.run([*pip, "--editable", packages], cwd=HERE, check=True)
    stamp.write_text(wanted)


def main() -> int:
    """Run the job that is named, with whatever stands after it."""
    if len(sys.argv) < 2 or sys.argv[1] not in JOBS:
        print(__doc__)
        return 2
    packages, commands = JOBS[sys.argv[1]]
    try:
        set_up(packages)
    except (subprocess.CalledProcessError, OSError) as fault:
        print(
            f"The set-up failed: {fault}\nThe lines above say why. Usual causes: no network, or a "
            "Python without its venv module (on Debian and Ubuntu: apt install python3-venv)."
        )
        return 3
    for command in commands:
        status = subprocess.run([PYTHON, *command, *sys.argv[2:]], cwd=HERE, check=False).returncode
        if status:
            return status
    return 0


if __name__ == "__main__":
    if sys.version_info < (3, 11):  # noqa: UP036 - this is the one file that an older Python sees
        sys.exit("pier-survey needs Python 3.11 or newer.")
    sys.exit(main())
