"""Killed, on a full disk, in a folder that can't be written: only whole files, and nothing lost."""

from __future__ import annotations

import contextlib
import datetime as dt
import errno
import json
import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from survey import cli, files
from survey.assessment import Assessment
from survey.errors import UserError
from survey.files import is_part
from survey.sheets import read_record, write_sheet
from survey.sheets._history_told import read_history
from survey.sheets.history import numbered, read_entry
from survey.sheets.seal import is_unaltered
from survey.vocabulary import VOCABULARY
from tests.demo_surveys import careful_house
from tests.made_assessments import TODAY, go, judged, no_go
from tests.whole.test_commands import ROOT, demo, run

SOME = ("02-brine-street", "04-weir-cottage")
_DAY = 24 * 60 * 60


def contents(folder: Path) -> dict[str, bytes]:
    return {
        str(file.relative_to(folder)): file.read_bytes()
        for file in folder.rglob("*")
        if file.is_file() and not is_part(file)
    }


def assert_whole(folder: Path) -> None:
    """Every file in a folder of sheets can be read to its end and is as it was written."""
    for file in folder.rglob("*"):
        if file.is_dir() or is_part(file):
            continue
        if file.suffix == ".gz":
            read_entry(file.read_bytes(), int(file.name.partition(".")[0]))
        elif file.suffix == ".json":
            read_record(file.read_text("utf-8"))
        else:
            assert file.suffix == ".html", file
            assert is_unaltered(file.read_bytes().decode("utf-8")), file


def parts(folder: Path) -> list[Path]:
    return [file for file in folder.rglob("*") if is_part(file)]


def in_halves(file: Path, content: bytes) -> None:
    with file.open("wb") as stream:
        stream.write(content[: len(content) // 2])
        stream.flush()
        sys.audit("half")
        stream.write(content[len(content) // 2 :])


def killed(made: Assessment, folder: Path, step: int) -> bool:
    """Whether a check was killed before or in the thing of that number that it does to a file."""
    child = os.fork()
    if child:
        ended = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        assert ended in {0, -signal.SIGKILL}
        return ended != 0

    def count_down(event: str, _: object) -> None:
        nonlocal step
        if event in {"half", "open", "os.rename", "os.link", "os.remove", "os.mkdir"}:
            if not step:
                os.kill(os.getpid(), signal.SIGKILL)
            step -= 1

    files._write = lambda file, text: in_halves(file, text.encode())
    Path.write_bytes = in_halves
    sys.addaudithook(count_down)
    write_sheet(made, folder, today=TODAY)
    os._exit(0)


def kill_at_every_step(folder: Path) -> None:
    """Kill a check at each step, kill the next one somewhere, and let the one after that complete.

    Runs in a process of its own, which forks for each.
    """
    first, second, third = no_go(), go(), judged(every_pier={"spoil distance": "2 ft 6 in"})
    steps, number = random.Random(8), 0
    while True:
        sheets = folder / str(number)
        history = sheets / "larch-lane history"
        write_sheet(first, sheets, today=TODAY)
        if not killed(second, sheets, number):
            break
        assert_whole(sheets)
        killed(third, sheets, steps.randrange(40))
        assert_whole(sheets)
        beside = read_record((sheets / "larch-lane.json").read_text("utf-8"))
        write_sheet(first, sheets, today=TODAY)
        assert not read_history(history, VOCABULARY).faults
        kept = [read_entry(file.read_bytes(), n)[1] for n, file in sorted(numbered(history))]
        assert beside in kept
        assert kept[-1] == read_record((sheets / "larch-lane.json").read_text("utf-8"))
        assert kept[-1]["verdict"] == "NO-GO"
        number += 1
    print("killed", number)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork on this system")
def test_a_check_killed_at_any_step_leaves_whole_files_and_the_next_one_completes(tmp_path):
    code = (
        "from pathlib import Path\nimport sys\n"
        "from tests.whole.test_faults import kill_at_every_step\n"
        "kill_at_every_step(Path(sys.argv[1]))"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code, tmp_path], capture_output=True, text=True, cwd=ROOT,
        check=False, env={**os.environ, "PYTHONPATH": str(ROOT)},
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr
    assert int(ran.stdout.split()[-1]) > 30  # four pages and the history


def test_a_check_killed_at_random_moments_leaves_whole_files_and_the_next_one_completes(tmp_path):
    command = [sys.executable, "-m", "survey", "check", *map(str, map(demo, SOME)),
               "--out", str(tmp_path)]  # fmt: skip
    begun = time.monotonic()
    assert run(*command[3:]).returncode == 1
    long = time.monotonic() - begun
    finished = contents(tmp_path)
    moments = random.Random(8)
    for _ in range(5):
        for file in tmp_path.glob("*.json"):  # so that each has something to write
            file.unlink()
        process = subprocess.Popen(
            command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, cwd=ROOT,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
        )  # fmt: skip
        with contextlib.suppress(subprocess.TimeoutExpired):
            process.wait(moments.uniform(0.2, 1) * long)
        process.kill()
        process.wait()
        assert_whole(tmp_path)
    assert run(*command[3:]).returncode == 1
    assert_whole(tmp_path)
    assert contents(tmp_path) == finished


def test_parts_that_killed_runs_left_are_removed_after_a_day(tmp_path, monkeypatch, capsys):
    sheets = tmp_path / "sheets"
    write_sheet(go(), sheets, today=TODAY)
    history = sheets / "larch-lane history"
    old, young, mine = ".0123456789abcdef.part", ".fedcba9876543210.part", ".mine.part"
    for folder in (sheets, history):
        for name in (old, young, mine):
            (folder / name).write_text("half")
        os.utime(folder / old, (time.time() - _DAY - 60,) * 2)
    document = tmp_path / "larch-lane.json"
    document.write_text(json.dumps({"pier_survey": 1, "site": {"job_name": "Larch Lane 14"}}))
    main(monkeypatch, capsys, "check", document, "--out", sheets)
    for folder in (sheets, history):
        left = {file.name for file in folder.iterdir() if file.name.endswith(".part")}
        assert left == {young, mine}


class Disk:
    """A disk with room for some bytes; then it is full, in the middle of a file."""

    def __init__(self, room: int) -> None:
        self.room = room

    def write(self, file: Path, content: bytes) -> None:
        with file.open("xb") as stream:
            stream.write(content[: self.room])
        if len(content) > self.room:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        self.room -= len(content)

    def put_in(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(files, "_write", lambda part, text: self.write(part, text.encode()))
        write = lambda part, content: self.write(part, content)  # noqa: E731, PLW0108 - is bound to the part
        monkeypatch.setattr(Path, "write_bytes", write)


def test_a_disk_that_fills_up_at_any_byte_leaves_the_earlier_pages_together(tmp_path, monkeypatch):
    write_sheet(no_go(), tmp_path / "other", today=TODAY)
    earlier = contents(tmp_path / "other")
    write_sheet(go(), tmp_path / "other", today=TODAY)
    later = contents(tmp_path / "other")
    pages = sum(len(later[name]) for name in later if not name.endswith(".gz"))
    need = pages + len(later[str(Path("larch-lane history", "0002.json.gz"))])
    rooms = random.Random(8)
    for number in range(40):
        folder = tmp_path / str(number)
        write_sheet(no_go(), folder, today=TODAY)
        room = rooms.choice((rooms.randrange(pages), rooms.randrange(pages, need), need))
        with monkeypatch.context() as patch:
            Disk(room).put_in(patch)
            if room < pages:
                with pytest.raises(UserError) as told:
                    write_sheet(go(), folder, today=TODAY)
                assert "No space left on device). The sheet was not written." in str(told.value)
                assert "Make room on the disk" in str(told.value)
                assert contents(folder) == earlier
            else:
                kept = write_sheet(go(), folder, today=TODAY).kept
                assert kept.new == (room == need)
                assert kept.new or "the record can't be kept there (No space" in kept.note
        assert_whole(folder)
        assert not parts(folder)
        write_sheet(go(), folder, today=TODAY)
        assert contents(folder) == later


@pytest.mark.parametrize("refused", ["replace", "link"])
def test_a_disk_without_room_for_a_name_is_told(tmp_path, monkeypatch, refused):
    def full(*_):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    write_sheet(no_go(), tmp_path, today=TODAY)
    before = contents(tmp_path)
    with monkeypatch.context() as patch:
        patch.setattr(os, refused, full)
        if refused == "replace":
            with pytest.raises(UserError, match="Make room on the disk"):
                write_sheet(go(), tmp_path, today=TODAY)
            assert contents(tmp_path) == before
        else:
            write_sheet(go(), tmp_path, today=TODAY)
    assert not parts(tmp_path)
    assert_whole(tmp_path)


@pytest.mark.skipif(sys.platform == "win32", reason="no such limit on this system")
@pytest.mark.parametrize("kilobytes", [0, 30])
def test_files_that_may_not_grow_are_told_and_the_earlier_ones_stay(
    tmp_path, kilobytes, monkeypatch, capsys
):
    import resource

    check = ("check", demo("02-brine-street"), "--out", tmp_path / "sheets")
    assert main(monkeypatch, capsys, *check)[0] == 1
    before = contents(tmp_path / "sheets")
    survey = tmp_path / "02-brine-street.json"
    survey.write_text(json.dumps(careful_house()))
    limit = kilobytes * 1024
    ran = subprocess.run(
        [sys.executable, "-m", "survey", "check", survey, "--out", tmp_path / "sheets"],
        capture_output=True, text=True, cwd=ROOT, check=False,
        env={**os.environ, "PYTHONPATH": str(ROOT), "PYTHONDONTWRITEBYTECODE": "1"},
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit)),
    )  # fmt: skip
    assert ran.returncode == 2, ran.stderr
    assert "can't be written (File too large). The sheet was not written." in ran.stderr
    assert "02-brine-street.html: from an earlier check; it no longer holds." in ran.stderr
    assert "Traceback" not in ran.stderr
    assert contents(tmp_path / "sheets") == before
    assert not parts(tmp_path)


def main(monkeypatch, capsys, *arguments: object) -> tuple[int, str, str]:
    """A command in this process: its exit status and what it printed."""
    monkeypatch.setattr(sys, "argv", ["pier-survey", *map(str, arguments)])
    with pytest.raises(SystemExit) as ended:
        cli.main()
    return ended.value.code, *capsys.readouterr()


def read_only(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Refuse every new file in a folder. (The tests may run as a user who may write anywhere.)"""
    opened = Path.open

    def refuse(file, mode="r", *others, **named):
        if file.parent == folder and set(mode) & set("wxa"):
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(file))
        return opened(file, mode, *others, **named)

    monkeypatch.setattr(Path, "open", refuse)


def test_a_folder_that_can_not_be_written_is_told_and_the_next_survey_judged(
    tmp_path, monkeypatch, capsys
):
    read_only(tmp_path, monkeypatch)
    status, printed, told = main(
        monkeypatch, capsys, "check", demo("01-fennel-house"), demo("02-brine-street"),
        "--out", tmp_path,
    )  # fmt: skip
    assert (status, printed) == (2, "")
    for name in ("01-fennel-house", "02-brine-street"):
        assert (
            f"{tmp_path / name} crew.html: can't be written (Permission denied). The sheet was not "
            "written. Close it where it is open in another program, or ask for the right to write "
            "here."
        ) in told
    assert list(tmp_path.iterdir()) == []


def test_a_history_that_can_not_be_written_leaves_pages_and_verdict(tmp_path, monkeypatch, capsys):
    check = ("check", demo("01-fennel-house"), "--out", tmp_path)
    history = tmp_path / "01-fennel-house history"
    with monkeypatch.context() as patch:
        read_only(history, patch)
        status, printed, told = main(patch, capsys, *check)
    assert status == 0
    assert printed.startswith("GO WITH CONDITIONS")
    assert "History:" not in printed
    assert told == (
        f"{history}: the record can't be kept there (Permission denied). The pages are written and "
        "hold; put this right and check again, and the record is kept.\n"
    )
    assert_whole(tmp_path)
    status, printed, told = main(monkeypatch, capsys, *check)
    assert (status, told) == (0, "")
    assert f"History: {history / '0001.json.gz'}\n" in printed
    assert len(list(numbered(history))) == 1


@pytest.mark.skipif(
    sys.platform == "win32" or os.geteuid() == 0, reason="this user may write anywhere"
)
def test_a_folder_that_really_can_not_be_written_is_told(tmp_path):
    sheets = tmp_path / "sheets"
    sheets.mkdir(mode=0o500)
    ran = run("check", demo("01-fennel-house"), "--out", sheets)
    assert ran.returncode == 2
    assert "can't be written (Permission denied). The sheet was not written." in ran.stderr


def test_a_page_that_another_program_holds_is_told_and_no_page_is_half_new(tmp_path, monkeypatch):
    """As on Windows, where a file that is open may not be replaced."""
    write_sheet(no_go(), tmp_path, today=TODAY)
    before, replace = contents(tmp_path), os.replace

    def held(part, file):
        if file.name == "larch-lane crew.html":
            raise PermissionError(errno.EACCES, "Access is denied", str(file))
        replace(part, file)

    with monkeypatch.context() as patch:
        patch.setattr(os, "replace", held)
        with pytest.raises(UserError, match=r"crew.html: can't be written \(Access is denied\).*"
                           "Close it where it is open in another program"):  # fmt: skip
            write_sheet(go(), tmp_path, today=TODAY)
    assert contents(tmp_path) == before
    assert not parts(tmp_path)


@pytest.mark.parametrize("earlier", [True, False])
def test_a_page_that_is_held_after_others_were_moved_is_told_with_what_each_is(
    tmp_path, monkeypatch, earlier
):
    if earlier:
        write_sheet(no_go(), tmp_path, today=TODAY)
    before, replace = contents(tmp_path), os.replace

    def held(part, file):
        if file.name == "larch-lane engineer.html":
            raise PermissionError(errno.EACCES, "Access is denied", str(file))
        replace(part, file)

    with monkeypatch.context() as patch:
        patch.setattr(os, "replace", held)
        with pytest.raises(UserError) as told:
            write_sheet(go(), tmp_path, today=TODAY)
    state = "From an earlier check, so they no longer hold" if earlier else "Not written"
    assert str(told.value) == (
        f"{tmp_path / 'larch-lane engineer.html'}: can't be written (Access is denied), while "
        "other files of this check were. New: larch-lane crew.html. "
        f"{state}: larch-lane engineer.html, larch-lane.html, larch-lane.json. Close it where it "
        "is open in another program, or ask for the right to write here. Then check again."
    )
    after = contents(tmp_path)
    assert {name for name in after if after[name] != before.get(name)} == {"larch-lane crew.html"}
    assert not parts(tmp_path)
    write_sheet(go(), tmp_path, today=TODAY)
    assert_whole(tmp_path)


def test_a_survey_that_is_open_in_another_program_is_judged_as_saved_and_told(
    tmp_path, monkeypatch, capsys
):
    survey = tmp_path / "site.xlsx"
    survey.write_bytes(demo("01-fennel-house").read_bytes())
    check = ("check", survey, "--out", tmp_path / "sheets")
    assert main(monkeypatch, capsys, *check)[2] == ""
    before = contents(tmp_path / "sheets")
    for mark in (".~lock.site.xlsx#", "~$site.xlsx"):
        (tmp_path / mark).write_text("somebody")
        status, _, told = main(monkeypatch, capsys, *check)
        (tmp_path / mark).unlink()
        assert (status, told) == (
            0,
            f"{survey}: open in another program, for {mark} stands beside it. What is not saved "
            "there was not judged: save it there and check again.\n",
        )
        assert contents(tmp_path / "sheets") == before


def test_a_survey_that_another_program_keeps_to_itself_is_told(tmp_path, monkeypatch, capsys):
    """As on Windows, where a program may shut all others out of a file."""
    survey = tmp_path / "site.xlsx"
    survey.write_bytes(demo("01-fennel-house").read_bytes())
    assert main(monkeypatch, capsys, "check", survey, "--out", tmp_path / "sheets")[0] == 0
    opened = Path.open

    def kept_apart(file, *others, **named):
        if file == survey:
            raise PermissionError(13, "The process cannot access the file", str(file))
        return opened(file, *others, **named)

    monkeypatch.setattr(Path, "open", kept_apart)
    before = contents(tmp_path / "sheets")
    status, printed, told = main(
        monkeypatch, capsys, "check", survey, demo("02-brine-street"), "--out", tmp_path / "sheets"
    )
    assert status == 2
    assert "NO-GO: " in printed
    assert told.startswith(
        f"{survey}: no permission to read this file\nClose it where it is open in another program, "
        "or ask for the right to read it.\n"
    )
    assert "site.html: from an earlier check; it no longer holds." in told
    after = contents(tmp_path / "sheets")
    assert {name: after[name] for name in before} == before


def test_a_clock_that_was_set_back_is_told_and_nothing_lost(tmp_path, monkeypatch, capsys):
    survey = tmp_path / "site.json"
    days = [TODAY, TODAY - dt.timedelta(2), TODAY + dt.timedelta(1)]
    told = []
    for number, day in enumerate(days):
        survey.write_text(
            json.dumps({"pier_survey": 1, "site": {"job_name": f"Larch Lane {number}"}})
        )
        monkeypatch.setattr(cli, "today", lambda day=day: day)
        told.append(main(monkeypatch, capsys, "check", survey, "--out", tmp_path / "sheets")[2])
    assert [bool(one) for one in told] == [False, True, False]
    first = tmp_path / "sheets" / "site history" / "0001.json.gz"
    assert told[1].startswith(f"{first}: this record was kept on Mon 30 Nov 2026, but the computer")
    found = read_history(tmp_path / "sheets" / "site history", VOCABULARY)
    assert [one.issued for one in found.issued] == days
    assert not found.faults


def test_the_command_shows_the_history_and_says_where_there_is_none(tmp_path, monkeypatch, capsys):
    check = ("check", demo("02-brine-street"), "--out", tmp_path)
    assert main(monkeypatch, capsys, *check)[0] == 1
    ran = run("history", tmp_path / "02-brine-street.html")
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "  0001  " in ran.stdout
    assert "  NO-GO  " in ran.stdout
    again = run("history", demo("02-brine-street"), "--out", tmp_path)
    assert (again.returncode, again.stdout) == (0, ran.stdout)
    none = run("history", demo("01-fennel-house"), "--out", tmp_path)
    assert (none.returncode, none.stdout) == (2, "")
    assert "no history of this job" in none.stderr
    (file,) = (tmp_path / "02-brine-street history").iterdir()
    file.write_bytes(b"mine")
    damaged = run("history", file.parent)
    assert (damaged.returncode, damaged.stdout) == (2, "")
    assert "0001.json.gz: left out: damaged, or no gzip file" in damaged.stderr
