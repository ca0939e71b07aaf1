"""Printing with a browser that fails in every way; real ones print in ``tests/whole``."""

import os
import stat
import sys
import time
from pathlib import Path

import pytest

from survey.errors import UserError
from survey.sheets import pdf
from survey.sheets.pdf import write_pdf

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="the browsers are shell scripts")
OURS = b"%PDF-1.4\n1 0 obj\n<</PierSurveyPage (1)>>\nendobj\n%%EOF\n"
OTHERS = b"%PDF-1.4\n1 0 obj\n<</Title (PierSurveyPage)>>\nendobj\n%%EOF\n"


@pytest.fixture
def page(tmp_path):
    page = tmp_path / "Lark's house #1 100%.html"
    page.write_text("<!DOCTYPE html>", "utf-8")
    return page


@pytest.fixture
def browser(tmp_path, monkeypatch):
    """Puts a browser on the path that runs a line of shell, with ``$out`` as the file to write."""

    def put(line, name="chromium"):
        folder = tmp_path / "bin"
        folder.mkdir(exist_ok=True)
        program = folder / name
        program.write_text(
            "#!/bin/sh\nPATH=/usr/bin:/bin\n"
            'for one in "$@"; do case $one in --print-to-pdf=*) out=${one#*=};; esac; done\n'
            f"{line}\n"
        )
        program.chmod(program.stat().st_mode | stat.S_IXUSR)
        monkeypatch.setenv("PATH", str(folder))
        monkeypatch.setattr(pdf, "_usual_places", tuple)

    return put


def printing(day="20261130064914+00'00'", title="Fennel"):
    info = f"<</Title ({title})\\n/CreationDate (D:{day})\\n/ModDate (D:{day})>>"
    return f"""printf "%%PDF-1.4\\n1 0 obj\\n{info}\\nendobj\\nrest (D:{day})\\n" > "$out" """


def left(page):
    return sorted(file.name for file in page.parent.iterdir() if file.name != "bin")


def test_no_browser_says_what_to_do(page, monkeypatch, tmp_path):
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(pdf, "_usual_places", tuple)
    with pytest.raises(UserError, match=r"No Chrome, Chromium or Edge .* print it from there"):
        write_pdf(page, tmp_path / "page.pdf")
    assert left(page) == [page.name]


@pytest.mark.parametrize(
    "line",
    [
        "exit 0",
        "exit 21",
        'echo "a page of text" > "$out"',
        'printf "%%PDF-1.4\\n1 0 obj\\n<<>>\\nendobj\\n" > "$out"',
        "kill -9 $$",
    ],
)
def test_a_browser_that_prints_nothing_leaves_the_earlier_pdf(page, browser, line):
    browser(line)
    out = page.with_suffix(".pdf")
    out.write_bytes(OURS)
    with pytest.raises(UserError, match="wrote no PDF") as told:
        write_pdf(page, out)
    assert page.name in str(told.value)
    assert "print it there" in str(told.value)
    assert out.read_bytes() == OURS


def test_a_browser_that_hangs_is_ended_with_all_that_it_started(page, browser, monkeypatch):
    # It writes its number, and that of what it started, before it hangs.
    browser(f'sleep 60 & echo "$! $$" > "{page.parent / "bin" / "numbers"}"; wait')
    monkeypatch.setattr(pdf, "_SECONDS", 1.0)
    with pytest.raises(UserError, match="did not end in 1 seconds"):
        write_pdf(page, page.with_suffix(".pdf"))
    for number in (page.parent / "bin" / "numbers").read_text().split():
        assert not _runs(int(number))
    assert left(page) == [page.name]


def _runs(number):
    """Whether a process goes on; one that was ended may take a moment to be gone."""
    for _ in range(100):
        try:
            os.kill(number, 0)
            state = Path(f"/proc/{number}/stat").read_text()
        except (ProcessLookupError, FileNotFoundError):
            return False
        if state.rpartition(")")[2].split()[0] == "Z":  # ended, and nobody has asked for it yet
            return False
        time.sleep(0.02)
    return True


def test_a_file_that_can_not_run_is_told(page, browser):
    browser("")
    (page.parent / "bin" / "chromium").write_bytes(b"\x7fELF no program")
    with pytest.raises(UserError, match="can't be run"):
        write_pdf(page, page.with_suffix(".pdf"))


def test_no_day_of_printing_stands_in_it_and_no_byte_moves(page, browser):
    out = page.with_suffix(".pdf")
    browser(printing())
    write_pdf(page, out)
    first = out.read_bytes()
    browser(printing("20270102030405+00'00'"))
    write_pdf(page, out)
    assert out.read_bytes()[: first.index(b"rest")] == first[: first.index(b"rest")]
    assert b"/PierSurveyPage (1)" in first
    assert b"Date" not in first
    day = b"20261130064914+00'00'"
    bare = b"%PDF-1.4\n1 0 obj\n<</Title (Fennel)\n/CreationDate (D:" + day + b")\n/ModDate (D:"
    assert first.index(b"endobj") == len(bare + day + b")>>\n")
    assert first.endswith(b"rest (D:" + day + b")\n")  # what is not the browser's stays
    assert left(page) == sorted([page.name, out.name])


@pytest.mark.parametrize("other", [OTHERS, b"", b"a survey", OURS[4:]])
def test_the_pdf_of_somebody_else_is_left_alone(page, browser, other):
    browser(printing())
    out = page.with_suffix(".pdf")
    out.write_bytes(other)
    with pytest.raises(UserError, match="not an earlier PDF"):
        write_pdf(page, out)
    assert out.read_bytes() == other


def test_a_folder_in_its_place_is_left_alone(page, browser):
    browser(printing())
    out = page.with_suffix(".pdf")
    out.mkdir()
    with pytest.raises(UserError, match="not an earlier PDF"):
        write_pdf(page, out)


def test_the_browser_has_a_profile_of_its_own_no_network_and_no_shell(page, browser):
    seen = page.parent / "bin" / "seen"
    browser(f'printf "%s\\n" "$@" > "{seen}"; {printing()}')
    write_pdf(page, page.with_suffix(".pdf"))
    wishes = seen.read_text().splitlines()
    assert wishes[-1] == page.resolve().as_uri()
    assert "--host-resolver-rules=MAP * ~NOTFOUND" in wishes
    (profile,) = [w.partition("=")[2] for w in wishes if w.startswith("--user-data-dir=")]
    assert not Path(profile).exists()
    assert ("--no-sandbox" in wishes) == (os.geteuid() == 0)


@pytest.mark.parametrize("name", ["google-chrome", "chromium-browser", "microsoft-edge"])
def test_each_browser_is_found_by_its_name(page, browser, name):
    browser(printing(), name)
    write_pdf(page, page.with_suffix(".pdf"))
    assert page.with_suffix(".pdf").read_bytes().startswith(b"%PDF")


def test_on_windows_and_mac_it_is_found_where_it_is_installed(monkeypatch):
    monkeypatch.setattr(pdf.sys, "platform", "win32")
    monkeypatch.setenv("PROGRAMFILES(X86)", "/x86")
    assert "/x86/Microsoft/Edge/Application/msedge.exe" in map(str, pdf._usual_places())
    monkeypatch.setattr(pdf.sys, "platform", "darwin")
    chrome = "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome"
    assert chrome in map(str, pdf._usual_places())
