"""The history of a job: each record once, none replaced, and what was done to it later is told."""

from __future__ import annotations

import dataclasses
import datetime as dt
import gzip
import json
import os
import shutil
import threading

import pytest

from survey import files
from survey.errors import UserError
from survey.sheets import read_record, write_record, write_sheet
from survey.sheets._history_told import find_history, read_history, say
from survey.sheets.history import Kept, keep, numbered, read_entry
from survey.vocabulary import VOCABULARY
from tests.made_assessments import BOOK, RELEASE, TODAY, go, judged, no_go

DEEP = {"pit depth": "4 ft 6 in"}
RELEASED = dict(RELEASE, **{"released place": "P1 to P3"})


def spoil(inches):
    """A site that differs from others by one answer."""
    return judged(every_pier={"spoil distance": f"{inches} in"})


def history_of(folder):
    return read_history(folder / "larch-lane history", VOCABULARY)


def told(folder, today=TODAY):
    return say(history_of(folder), today)


def entries(folder):
    """Number, head and record of each file in a history, every one of them whole."""
    return [
        (number, *read_entry(file.read_bytes(), number))
        for number, file in sorted(numbered(folder))
    ]


@pytest.fixture
def three(tmp_path):
    """A job with three records."""
    for inches in (36, 37, 38):
        write_sheet(spoil(inches), tmp_path, today=TODAY)
    return tmp_path


def test_every_record_is_kept_as_it_was_written(tmp_path):
    texts = []
    for day, made in enumerate([no_go(), go(), no_go()]):
        written = write_sheet(made, tmp_path, today=TODAY + dt.timedelta(day))
        texts.append(written.record.read_text("utf-8"))
        assert written.kept == Kept(
            tmp_path / "larch-lane history" / f"{day + 1:04}.json.gz", new=True
        )
    kept = entries(tmp_path / "larch-lane history")
    assert [record for *_, record in kept] == [read_record(text) for text in texts]
    assert [head.issued for _, head, _ in kept] == [TODAY + dt.timedelta(n) for n in range(3)]
    document = json.loads(gzip.decompress(written.kept.file.read_bytes()))
    assert document["record"] == json.loads(texts[2])


def test_the_same_record_is_not_kept_twice_in_a_row(tmp_path):
    first = write_sheet(go(), tmp_path, today=TODAY).kept
    again = write_sheet(go(), tmp_path, today=TODAY + dt.timedelta(9)).kept
    assert again == Kept(first.file, new=False)
    write_sheet(no_go(), tmp_path, today=TODAY)
    assert write_sheet(go(), tmp_path, today=TODAY).kept.new
    assert [number for number, *_ in entries(tmp_path / "larch-lane history")] == [1, 2, 3]


def test_a_file_has_the_same_bytes_whenever_it_is_written(tmp_path):
    one, other = (write_sheet(go(), tmp_path / name, today=TODAY).kept.file for name in ("a", "b"))
    assert one.read_bytes() == other.read_bytes()


def test_a_job_of_another_name_has_another_history(tmp_path):
    write_sheet(go(), tmp_path, today=TODAY)
    file = write_sheet(judged(name="elm: 12"), tmp_path, today=TODAY).kept.file
    assert file.name == "0001.json.gz"
    assert file.parent.name.endswith(" history")
    assert find_history(tmp_path / "elm: 12", tmp_path) == file.parent


def test_a_record_that_a_stopped_check_did_not_keep_is_kept_by_the_next_one(three):
    folder = three / "larch-lane history"
    (folder / "0003.json.gz").unlink()
    assert "larch-lane.json, the record beside the pages, is not among them" in told(three)
    write_sheet(go(), three, today=TODAY)
    assert [(number, head.issued) for number, head, _ in entries(folder)] == [
        (1, TODAY), (2, TODAY), (3, None), (4, TODAY),
    ]  # fmt: skip
    assert "0003  day not known" in told(three)
    assert "Wrong in this folder" not in told(three)


def test_a_record_from_before_there_was_a_history_is_its_first(three):
    shutil.rmtree(three / "larch-lane history")
    write_sheet(go(), three, today=TODAY)
    assert [one.issued for one in history_of(three).issued] == [None, TODAY]


def test_a_damaged_record_beside_the_pages_is_not_kept(three):
    shutil.rmtree(three / "larch-lane history")
    record = three / "larch-lane.json"
    record.write_text(record.read_text("utf-8").replace("Larch", "Birch"), "utf-8")
    write_sheet(go(), three, today=TODAY)
    assert len(history_of(three).issued) == 1


def test_a_clock_that_was_set_back_is_told_and_the_record_kept(tmp_path):
    write_sheet(go(), tmp_path, today=TODAY)
    kept = write_sheet(no_go(), tmp_path, today=TODAY - dt.timedelta(2)).kept
    assert kept.note == (
        f"{tmp_path / 'larch-lane history' / '0001.json.gz'}: this record was kept on "
        "Mon 30 Nov 2026, but the computer's clock says Sat 28 Nov 2026. One of them is wrong: put "
        "the clock right if it is wrong now. Nothing was lost: the records are numbered."
    )
    assert kept.file.name == "0002.json.gz"
    assert "the clock stood before the record above; the number tells the order" in told(tmp_path)
    assert not write_sheet(go(), tmp_path, today=TODAY - dt.timedelta(2)).kept.note


def test_a_clock_that_was_once_ahead_is_told_for_the_next_record_and_not_for_ever(tmp_path):
    write_sheet(go(), tmp_path, today=dt.date(2099, 1, 2))
    again = write_sheet(go(), tmp_path, today=TODAY).kept
    assert again == Kept(tmp_path / "larch-lane history" / "0001.json.gz", new=False)
    assert "0001.json.gz: this record was kept on Fri 02 Jan 2099" in (
        write_sheet(no_go(), tmp_path, today=TODAY).kept.note
    )
    assert not write_sheet(no_go(), tmp_path, today=TODAY).kept.note
    assert not write_sheet(go(), tmp_path, today=TODAY).kept.note


def pages_and_record(folder):
    return {file.name: file.read_bytes() for file in folder.iterdir() if file.is_file()}


@pytest.mark.parametrize("fault", ["full", "in the way", "unreadable"])
def test_an_earlier_record_that_can_not_be_kept_is_not_written_over(three, monkeypatch, fault):
    history, record = three / "larch-lane history", three / "larch-lane.json"
    shutil.rmtree(history)  # so the only copy stands beside the pages
    if fault == "in the way":
        history.write_text("mine")
    before = pages_and_record(three)

    def refuse(*_):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        if fault == "full":
            patch.setattr("survey.sheets.history.add", refuse)
        elif fault == "unreadable":
            patch.setattr("survey.sheets.history.digest_at_end", refuse)
        with pytest.raises(UserError) as told_of:
            write_sheet(go(), three, today=TODAY)
    message = str(told_of.value)
    why = "that is no folder" if fault == "in the way" else "No space left on device"
    assert message.startswith(f"{record}: this earlier record can't be kept in '{history}' (")
    assert why in message
    assert "Nothing was written." in message
    assert pages_and_record(three) == before
    if fault != "in the way":
        write_sheet(go(), three, today=TODAY)
        assert read_record(before["larch-lane.json"].decode()) in [
            kept for *_, kept in entries(history)
        ]


def test_a_name_in_capitals_has_its_number(three):
    """A disk that ignores case, such as that of Windows, takes it for the same name."""
    folder = three / "larch-lane history"
    (folder / "0003.json.gz").rename(folder / "0003.JSON.GZ")
    assert write_sheet(go(), three, today=TODAY).kept.file.name == "0004.json.gz"
    assert [number for number, *_ in entries(folder)] == [1, 2, 3, 4]
    assert history_of(three).faults == ()


def test_a_file_where_the_folder_should_be_is_told_and_left_alone(tmp_path):
    (tmp_path / "larch-lane history").write_text("mine")
    written = write_sheet(go(), tmp_path, today=TODAY)
    assert written.kept.file is None
    assert "can't be kept there (something that is no folder stands there)" in written.kept.note
    assert (tmp_path / "larch-lane history").read_text() == "mine"
    assert read_record(written.record.read_text("utf-8"))["verdict"] == "GO"


def test_what_is_not_ours_is_told_left_alone_and_the_rest_read(three):
    folder = three / "larch-lane history"
    for name in ("notes.txt", "00002.json.gz", "7.json.gz"):
        (folder / name).write_text("mine")
    (folder / ".0123456789abcdef.part").write_text("of a run that was killed")
    lines = told(three).splitlines()
    for name in ("notes.txt", "00002.json.gz", "7.json.gz"):
        assert f"  {name}: left out: no record that a check kept; move it away" in lines
    assert ".part" not in told(three)
    assert len(history_of(three).issued) == 3
    assert write_sheet(go(), three, today=TODAY).kept.file.name == "0004.json.gz"
    assert (folder / "notes.txt").read_text() == "mine"


def rewritten(file, old, new):
    text = gzip.decompress(file.read_bytes()).decode()
    assert old in text
    file.write_bytes(gzip.compress(text.replace(old, new, 1).encode(), mtime=0))


@pytest.mark.parametrize(
    ("damage", "why"),
    [
        (lambda file: file.write_bytes(b""), "empty: the check that was to write it was stopped"),
        (lambda file: file.write_bytes(b"mine"), "damaged, or no gzip file"),
        (lambda file: file.write_bytes(file.read_bytes()[:-40]), "cut off, or larger than"),
        (lambda file: file.write_bytes(gzip.compress(b"{}")), "no record that a check kept"),
        (lambda file: file.write_bytes(gzip.compress(b"\xff")), "altered: it is no UTF-8 text"),
        (lambda file: rewritten(file, "Larch", "Birch"), "altered since it was written"),
        (lambda file: rewritten(file, '"number": 2', '"number": 3'), "altered: its head is not"),
        (lambda file: rewritten(file, '"number": 2', '"number": x'), "altered: its head is not"),
        (lambda file: rewritten(file, '"sha256": "', '"sha256": "0'), "altered: its head is not"),
        (lambda file: rewritten(file, "2026-11-30\",\n", "soon\",\n"), "altered: its head is not"),
        (lambda file: shutil.copy(file.with_name("0001.json.gz"), file), "altered: its head is"),
    ],
)  # fmt: skip
def test_a_record_that_was_damaged_is_told_and_the_rest_read(three, damage, why):
    damage(three / "larch-lane history" / "0002.json.gz")
    history = history_of(three)
    assert [(one.number, one.compared) for one in history.issued] == [(1, None), (3, 1)]
    left_out, *rest = history.faults
    assert left_out.startswith(f"0002.json.gz: left out: {why}")
    assert rest in (["0002.json.gz: not as it was when 0003.json.gz was written after it"], [])


def test_a_flipped_bit_anywhere_in_a_file_is_noticed(three):
    file = three / "larch-lane history" / "0002.json.gz"
    content = file.read_bytes()
    for place in range(0, len(content), max(1, len(content) // 40)):
        file.write_bytes(content[:place] + bytes([content[place] ^ 4]) + content[place + 1 :])
        assert history_of(three).faults, place


def test_a_record_that_was_exchanged_for_a_whole_one_is_noticed(three):
    """Somebody keeps another record under the number of one that was issued."""
    folder = three / "larch-lane history"
    other = three / "other history"
    keep(write_record(spoil(36)), other, TODAY)
    keep(write_record(no_go()), other, TODAY)
    shutil.copy(other / "0002.json.gz", folder / "0002.json.gz")
    assert history_of(three).faults == (
        "0002.json.gz: not as it was when 0003.json.gz was written after it",
    )


@pytest.mark.parametrize(
    ("gone", "said"),
    [
        ((1,), "0001: missing: this record was removed"),
        ((2,), "0002: missing: this record was removed"),
        ((1, 2), "0001 to 0002: missing: these records were removed"),
        ((3,), "larch-lane.json, the record beside the pages, is not among them: it was removed or "
               "could not be kept; the next check keeps it"),
    ],
)  # fmt: skip
def test_a_record_that_was_removed_is_told(three, gone, said):
    for number in gone:
        (three / "larch-lane history" / f"{number:04}.json.gz").unlink()
    assert history_of(three).faults == (said,)


def test_records_that_were_numbered_anew_to_hide_a_gap_are_noticed(three):
    folder = three / "larch-lane history"
    (folder / "0002.json.gz").unlink()
    (folder / "0003.json.gz").rename(folder / "0002.json.gz")
    assert "0002.json.gz: left out: altered: its head is not that of its record" in told(three)


def test_numbers_go_on_after_the_last_four_figures(three):
    folder = three / "larch-lane history"
    (folder / "9999.json.gz").write_bytes(b"")
    assert write_sheet(go(), three, today=TODAY).kept.file.name == "10000.json.gz"
    assert history_of(three).issued[-1].number == 10000


def test_a_history_without_a_record_is_an_error(tmp_path):
    folder = tmp_path / "larch-lane history"
    folder.mkdir()
    (folder / "notes.txt").write_text("mine")
    with pytest.raises(UserError, match=r"no record here that can be read.\n  notes.txt: left out"):
        history_of(tmp_path)
    with pytest.raises(UserError, match=r"gone history: can't be read"):
        read_history(tmp_path / "gone history", VOCABULARY)


def no_links(*_):
    raise OSError(95, "Operation not supported")


@pytest.mark.parametrize("links", [True, False])
def test_runs_at_once_lose_nothing_and_share_no_number(tmp_path, monkeypatch, links):
    if not links:
        monkeypatch.setattr(os, "link", no_links)
    folder = tmp_path / "larch-lane history"
    texts = [[write_record(spoil(24 + 12 * run + n)) for n in range(8)] for run in range(4)]
    start = threading.Barrier(4)

    def issue(run):
        start.wait()
        for text in texts[run]:
            assert keep(text, folder, TODAY).new

    runs = [threading.Thread(target=issue, args=(run,)) for run in range(4)]
    for run in runs:
        run.start()
    for run in runs:
        run.join()
    kept = entries(folder)
    assert [number for number, *_ in kept] == list(range(1, 33))
    assert sorted(head.digest for _, head, _ in kept) == sorted(
        read_record(text)["sha256"] for run in texts for text in run
    )
    assert history_of(tmp_path).faults == ()
    assert len(list(folder.iterdir())) == 32


@pytest.mark.parametrize("links", [True, False])
def test_a_number_that_another_run_takes_first_is_left_to_it(tmp_path, monkeypatch, links):
    folder, raced = tmp_path / "larch-lane history", []
    add = files.add
    if not links:
        monkeypatch.setattr(os, "link", no_links)

    def late(file, content):
        if not raced:
            raced.append(file)
            keep(write_record(no_go()), folder, TODAY)
        return add(file, content)

    monkeypatch.setattr("survey.sheets.history.add", late)
    assert keep(write_record(go()), folder, TODAY).file.name == "0002.json.gz"
    assert [record["verdict"] for *_, record in entries(folder)] == ["NO-GO", "GO"]
    assert history_of(tmp_path).faults == ()


def test_a_number_that_another_run_has_but_not_yet_written_is_left_to_it(tmp_path, monkeypatch):
    """As it is on a disk without links, between the name and the content of a file."""
    folder, replace = tmp_path / "larch-lane history", os.replace
    monkeypatch.setattr(os, "link", no_links)

    def late(part, file):
        monkeypatch.setattr(os, "replace", replace)
        assert keep(write_record(no_go()), folder, TODAY).file.name == "0002.json.gz"
        replace(part, file)

    monkeypatch.setattr(os, "replace", late)
    assert keep(write_record(go()), folder, TODAY).file.name == "0001.json.gz"
    assert [record["verdict"] for *_, record in entries(folder)] == ["GO", "NO-GO"]
    assert history_of(tmp_path).faults == ()


def test_verdicts_over_time(tmp_path):
    write_sheet(no_go(), tmp_path, today=TODAY)
    write_sheet(go(), tmp_path, today=TODAY + dt.timedelta(1))
    other = dataclasses.replace(BOOK, local="abc")
    later = dataclasses.replace(judged(piers=3, every_pier=DEEP), version="9.9", rules=other)
    write_sheet(later, tmp_path, today=TODAY + dt.timedelta(1))
    text = told(tmp_path)
    assert text.startswith(
        f"History of Larch Lane 14 (larch-lane): 3 records\nIn: {tmp_path / 'larch-lane history'}\n"
        "\nVerdicts\n  0001  Mon 30 Nov 2026  NO-GO            0 of "
    )
    lines = text.splitlines()
    first = lines.index("Verdicts")
    by = f"by program {go().version}, shipped rules {BOOK.shipped}, own rules none"
    assert lines[first + 2] == f"        {by}"
    assert lines[first + 3] == (
        "  0002  Tue 01 Dec 2026  GO               1 of 1 pier may go; "
        "crew Tue 01 Dec 2026 to Fri 04 Dec 2026"
    )
    assert lines[first + 4 : first + 7] == [
        "  0003  Tue 01 Dec 2026  ENGINEER REVIEW  0 of 3 piers may go; "
        "crew Tue 01 Dec 2026 to Fri 04 Dec 2026",
        f"        program: was {go().version}, now 9.9",
        "        own rules: was none, now abc",
    ]


def test_a_release_that_came_held_did_not_hold_and_was_taken_off(tmp_path):
    late = {"last crew date": dt.date(2026, 12, 30)}
    for made in (
        judged(piers=3, every_pier=DEEP),
        judged(piers=3, every_pier=DEEP, releases=(RELEASED,)),
        judged(piers=4, every_pier=DEEP, releases=(RELEASED,), site={"remarks": "wet"}),
        judged(piers=3, every_pier=DEEP, releases=(RELEASED,), site=late),
        judged(piers=3, every_pier=DEEP),
    ):
        write_sheet(made, tmp_path, today=TODAY)
    (release,) = history_of(tmp_path).releases
    assert [(number, text.partition(";")[0]) for number, text in release.turns] == [
        (2, "holds at P1 to P3"),
        (4, "does not hold: it ends on 2026-12-24, before the crew's last day (2026-12-30)"),
        (5, "taken off the survey"),
    ]
    lines = told(tmp_path).splitlines()
    first = lines.index("Releases")
    assert lines[first + 1 : first + 4] == [
        "  FOOT-1 at P1 to P3: T. Quill (licensed engineer, licence PE 4711 (OH)), given "
        "2026-11-24, last day 2026-12-24",
        "    rests on: drawing S-1: one pit open at a time",
        "    0002  Mon 30 Nov 2026: holds at P1 to P3",
    ]


def test_a_release_that_ended_since_the_last_record_says_so(tmp_path):
    write_sheet(judged(piers=3, every_pier=DEEP, releases=(RELEASED,)), tmp_path, today=TODAY)
    assert "    ended on 2026-12-24" in told(tmp_path, dt.date(2026, 12, 25)).splitlines()
    assert "ended on" not in told(tmp_path, dt.date(2026, 12, 24))


def test_a_release_with_nothing_in_it_is_told_as_it_stands(tmp_path):
    blank = {"released finding": "FOOT-1", "released place": "P1"}
    write_sheet(judged(every_pier=DEEP, releases=(blank,)), tmp_path, today=TODAY)
    assert (
        "  FOOT-1 at P1: not known (not known, licence not known), given not known, last day "
        "not known"
    ) in told(tmp_path).splitlines()
    assert "does not hold: it does not say: released by" in told(tmp_path)


def test_what_changed_is_told_from_each_record_to_the_next(three):
    lines = told(three).splitlines()
    first = lines.index("What changed from 0002 to 0003")
    assert lines[first + 1].startswith("  Answers: spoil distance of P1 (Piers ")
    assert lines[first + 1].endswith("): was 3 ft 1 in, now 3 ft 2 in")
    assert len(lines) == first + 2


def test_another_job_of_the_name_is_told(tmp_path):
    write_sheet(judged(site={"job name": "Fen", "address": "2 Fen Road"}), tmp_path, today=TODAY)
    write_sheet(go(), tmp_path, today=TODAY)
    assert "  An earlier record of this name is of another job, Fen, and was" in told(tmp_path)


def test_what_a_surveyor_wrote_can_not_lead_a_terminal_astray(tmp_path):
    write_sheet(judged(site={"job name": "a\x1b[31m\u202e"}), tmp_path, today=TODAY)
    write_sheet(judged(labels={1: "P\x1b[2J"}), tmp_path, today=TODAY)
    assert not {"\x1b", "\u202e"} & set(told(tmp_path))


@pytest.mark.parametrize(
    "job",
    ["larch-lane.html", "larch-lane crew.html", "larch-lane engineer.html", "larch-lane.json",
     "larch-lane record.xlsx", "larch-lane history", "larch-lane"],
)  # fmt: skip
def test_a_job_is_found_by_anything_that_stands_beside_its_history(three, job):
    assert find_history(three / job, None) == three / "larch-lane history"


def test_a_job_is_found_by_its_survey_and_the_folder_of_its_sheets(three, monkeypatch):
    for survey in ("jobs/larch-lane.xlsx", "larch-lane"):
        assert find_history(three / survey, three) == three / "larch-lane history"
    three.rename(three.with_name("sheets"))
    monkeypatch.chdir(three.parent)
    found = find_history(three.parent / "jobs" / "larch-lane.ods", None)
    assert found.name == "larch-lane history"
    with pytest.raises(UserError, match=r"no folder '.*elm history' or 'sheets.elm history'"):
        find_history(three / "elm.xlsx", None)
