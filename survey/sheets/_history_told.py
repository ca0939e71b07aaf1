"""What the history of a job tells: verdicts over time, who released what, what changed."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from survey.assessment import Verdict
from survey.errors import UserError
from survey.files import is_part
from survey.sheets._legible import count, day, legible
from survey.sheets._places import Places, span
from survey.sheets._trust import SincePrinted, in_lines, since_printed
from survey.sheets.history import (
    ENDING,
    EntryError,
    Head,
    digest_at_end,
    digest_of_file,
    numbered,
    read_entry,
)
from survey.sheets.record import Record, ReleaseRecord, SiteRecord
from survey.sheets.record_file import MARKER
from survey.sheets.since import Glance, glance_of_record, since_last
from survey.sheets.write import file_name
from survey.vocabulary import Vocabulary

_SHEETS = Path("sheets")
_PAGES = (" crew", " engineer", " record")
_FORGED = (ArithmeticError, LookupError, TypeError, ValueError, AttributeError)
_GONE, _IDLE = "taken off the survey", "lifts nothing any more"


@dataclass(frozen=True, slots=True)
class Issued:
    """A record of the history.

    Args:
        number: from 1.
        issued: its day of issue; none if it is not known.
        verdict: of the site.
        may_go: how many pier locations may go, of how many.
        crew_days: the days of the crew, as printed.
        made: program, shipped rules and own rules; of the own ones ``none`` where there are none.
        compared: the number of the record with which it was compared; none for the first.
        since: what changed since then; none if nothing did.
    """

    number: int
    issued: dt.date | None
    verdict: str
    may_go: tuple[int, int]
    crew_days: str
    made: tuple[str, str, str]
    compared: int | None
    since: SincePrinted | None


@dataclass(frozen=True, slots=True)
class ReleaseTold:
    """A release over time: what became of it, each with the record that says so first."""

    release: ReleaseRecord
    turns: tuple[tuple[int, str], ...]


@dataclass(frozen=True, slots=True)
class History:
    """The history of a job, as far as it can be read.

    Args:
        folder: where it stands.
        job: name of the job, by the last record.
        issued: the records in their order.
        releases: in the order in which they came.
        faults: what is wrong in the folder.
    """

    folder: Path
    job: str
    issued: tuple[Issued, ...]
    releases: tuple[ReleaseTold, ...]
    faults: tuple[str, ...]


def find_history(job: Path, out: Path | None) -> Path:
    """The folder of the history of a job.

    Args:
        job: the folder itself, a page or the record beside it, or the survey or its name.
        out: the folder of the sheets; beside the job or in ``sheets`` if not given.

    Raises:
        UserError: there is none.
    """
    if job.name.endswith(ENDING) and job.is_dir():
        return job
    names = [job.stem, *(job.stem.removesuffix(page) for page in _PAGES), job.name]
    names += [file_name(name) for name in names]
    places = (job.parent, _SHEETS) if out is None else (out,)
    for place in places:
        for name in names:
            folder = place / f"{name}{ENDING}"
            if folder.is_dir():
                return folder
    looked = " or ".join(f"'{place / names[0]}{ENDING}'" for place in dict.fromkeys(places))
    raise UserError(
        f"{job}: no history of this job: there is no folder {looked}. A check keeps it beside the "
        "pages: give one of the pages, or the survey and with '--out' the folder of its sheets."
    )


def read_history(folder: Path, vocabulary: Vocabulary) -> History:
    """Read every record of a history; what can't be read is told and the rest is read all the same.

    Args:
        folder: the history.
        vocabulary: the questions, for answers to be printed in their units.

    Raises:
        UserError: the folder can't be read, or has no record that can be.
    """
    try:
        files = sorted(numbered(folder))
        faults = list(_foreign(folder, {file for _, file in files}))
    except OSError as fault:
        raise UserError(f"{folder}: can't be read ({fault.strerror or fault}).") from None
    teller = _Teller(vocabulary)
    last, digests = 0, set()
    before: Path | None = None
    for number, file in files:
        if number > last + 1:
            faults.append(_missing(last + 1, number - 1))
            before = None
        try:
            head, record = read_entry(file.read_bytes(), number)
            digests.add(head.digest)
            if before is not None and head.before not in (None, digest_of_file(before)):
                faults.append(f"{before.name}: not as it was when {file.name} was written after it")
            teller.add(head, record)
        except EntryError as fault:
            faults.append(f"{file.name}: left out: {fault}")
        except OSError as fault:
            faults.append(f"{file.name}: left out: can't be read ({fault.strerror or fault})")
        except _FORGED:
            faults.append(f"{file.name}: left out: not as a check writes it")
        last, before = number, file
    faults += _not_kept(folder, digests)
    if not teller.issued:
        lines = [f"{folder}: no record here that can be read.", *(f"  {one}" for one in faults)]
        raise UserError("\n".join(map(legible, lines)))
    return History(folder, teller.job, tuple(teller.issued), teller.releases(), tuple(faults))


def _foreign(folder: Path, ours: set[Path]) -> Iterator[str]:
    for file in sorted(folder.iterdir()):
        if file not in ours and not is_part(file):
            yield f"{file.name}: left out: no record that a check kept; move it away"


def _missing(first: int, last: int) -> str:
    if first == last:
        return f"{first:04}: missing: this record was removed"
    return f"{first:04} to {last:04}: missing: these records were removed"


def _not_kept(folder: Path, digests: set[str]) -> Iterator[str]:
    """That the record beside the pages is not in the history, which it is the last of."""
    beside = folder.with_name(f"{folder.name.removesuffix(ENDING)}.json")
    try:
        with beside.open("rb") as stream:
            ours = stream.read(len(MARKER)) == MARKER.encode()
        if ours and digest_at_end(beside) not in digests:
            yield (
                f"{beside.name}, the record beside the pages, is not among them: it was removed or "
                "could not be kept; the next check keeps it"
            )
    except OSError:
        return


class _Teller:
    """Takes records one after the other, and holds no more of each than is told of it."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._vocabulary = vocabulary
        self._last: tuple[int, Glance] | None = None
        self._turns: dict[tuple[str, ...], list[tuple[int, str]]] = {}
        self._told: dict[tuple[str, ...], ReleaseRecord] = {}
        self._gone: dict[tuple[str, ...], str] = {}
        self.job = ""
        self.issued: list[Issued] = []

    def add(self, head: Head, record: Record) -> None:
        now, places = glance_of_record(record), _places(record)
        turned = (
            None if self._last is None
            else since_last(self._last[1], None, now, self._vocabulary)
        )  # fmt: skip
        verdicts = [Verdict(pier["verdict"]) for pier in record["piers"]]
        site = record["site"]
        states = _states(record, places)
        issued = Issued(
            head.number,
            head.issued,
            Verdict(record["verdict"]).value,
            (sum(verdict.may_start for verdict in verdicts), len(verdicts)),
            _crew_days(site),
            (
                record["program"], record["shipped_fingerprint"],
                record["local_fingerprint"] or "none",
            ),
            None if self._last is None else self._last[0],
            since_printed(turned, places),
        )  # fmt: skip
        # Nothing of a record is told before all of it was found to be as a check writes it.
        self.issued.append(issued)
        self.job = f"{site['job_name'] or 'no name given'} ({site['survey']})"
        self._last = head.number, now
        rows = _rows(record)
        for key, (release, state) in states.items():
            self._told.setdefault(key, release)
            self._gone[key] = _GONE if release["cell"] in rows else _IDLE
            self._turn(key, head.number, state)
        for key in self._turns.keys() - states.keys():
            self._turn(key, head.number, self._gone[key])

    def _turn(self, key: tuple[str, ...], number: int, state: str) -> None:
        turns = self._turns.setdefault(key, [])
        if not turns or turns[-1][1] != state:
            turns.append((number, state))

    def releases(self) -> tuple[ReleaseTold, ...]:
        return tuple(
            ReleaseTold(release, tuple(self._turns[key])) for key, release in self._told.items()
        )


def _places(record: Record) -> Places:
    """The places of a site; pairs stand as they are labelled."""
    return Places(dict(pairwise(pier["pier"] for pier in record["piers"])), {})


def _crew_days(site: SiteRecord) -> str:
    first, last = (
        "not known" if iso is None else day(dt.date.fromisoformat(iso))
        for iso in (site["crew_date"], site["last_crew_date"])
    )
    return first if first == last else f"{first} to {last}"


def _states(record: Record, places: Places) -> Mapping[tuple[str, ...], tuple[ReleaseRecord, str]]:
    """What becomes of each release in a record: where it holds, and why it does not elsewhere.

    Of a firm's standing releases only those are told that hold: they look at every job.
    """
    releases: dict[tuple[str, ...], ReleaseRecord] = {}
    holds: dict[tuple[str, ...], list[str]] = {}
    refused: dict[tuple[str, ...], list[str]] = {}
    for finding in record["findings"]:
        lifted = [finding["release"], *finding["also_released"]]
        for release in (release for release in lifted if release is not None):
            releases.setdefault(_key(release), release)
            holds.setdefault(_key(release), []).append(finding["place"])
    standing = [one for finding in record["findings"] for one in finding["refused"]]
    rows = _rows(record)
    for one in (*standing, *record["unused_releases"]):
        if one["release"]["cell"] in rows:
            releases.setdefault(_key(one["release"]), one["release"])
            refused.setdefault(_key(one["release"]), []).append(one["why"])
    return {
        key: (release, _state(holds.get(key, ()), refused.get(key, ()), places))
        for key, release in releases.items()
    }


def _rows(record: Record) -> set[str]:
    """Where the releases on the survey stand; a firm's standing ones stand in its rules."""
    return {row["cell"] for row in record["survey"]["releases"]}


def _key(release: ReleaseRecord) -> tuple[str, ...]:
    """What makes a release itself, wherever its row stands."""
    return tuple(text for name, text in release.items() if name not in ("label", "cell"))  # type: ignore[misc]


def _state(holds: Sequence[str], refused: Iterable[str], places: Places) -> str:
    said = [f"holds at {span(dict.fromkeys(holds), places.following)}"] if holds else []
    said += [f"does not hold: {why}" for why in dict.fromkeys(refused)]
    return "; ".join(said)


def say(history: History, today: dt.date) -> str:
    """The history for print, the oldest record first.

    Args:
        history: of a job.
        today: for what has ended since.
    """
    lines = [f"History of {history.job}: {count(len(history.issued), 'record')}"]
    lines += [f"In: {history.folder}", *_titled("Wrong in this folder", history.faults)]
    lines += _titled("Verdicts", _verdicts(history.issued))
    lines += _titled("Releases", _releases(history, today))
    for one in history.issued[1:]:
        changes = () if one.since is None else in_lines(one.since)
        lines += _titled(
            f"What changed from {one.compared:04} to {one.number:04}",
            tuple(changes) or ("nothing that a sheet would tell",),
        )
    return "\n".join(map(legible, lines))


def _titled(title: str, lines: Iterable[str]) -> list[str]:
    told = [f"  {line}" for line in lines]
    return ["", title, *told] if told else []


def _verdicts(issued: Sequence[Issued]) -> Iterator[str]:
    widest = max(len(one.verdict) for one in issued)
    before: Issued | None = None
    for one in issued:
        may, piers = one.may_go
        yield (
            f"{one.number:04}  {_issued(one.issued):15}  {one.verdict:{widest}}  "
            f"{may} of {count(piers, 'pier')} may go; crew {one.crew_days}"
        )
        if before and before.issued and one.issued and one.issued < before.issued:
            yield "      the clock stood before the record above; the number tells the order"
        yield from (f"      {line}" for line in _made(before, one))
        before = one


def _issued(issued: dt.date | None) -> str:
    return "day not known" if issued is None else day(issued)


def _made(before: Issued | None, one: Issued) -> Iterator[str]:
    """By which program and rules; of a later record only what of them is another one."""
    names = ("program", "shipped rules", "own rules")
    if before is None:
        made_by = (f"{name} {made}" for name, made in zip(names, one.made, strict=True))
        yield f"by {', '.join(made_by)}"
        return
    for name, was, made in zip(names, before.made, one.made, strict=True):
        if was != made:
            yield f"{name}: was {was}, now {made}"


def _releases(history: History, today: dt.date) -> Iterator[str]:
    days = {one.number: _issued(one.issued) for one in history.issued}
    for told in history.releases:
        release = told.release
        licence = f", licence {release['licence']}" if release["licence"] else ""
        yield (
            f"{release['finding']} at {release['place']}: {release['person']} ({release['role']}"
            f"{licence}), given {release['date']}, last day {release['end']}"
        )
        yield f"  rests on: {release['note']}"
        for number, state in told.turns:
            yield f"  {number:04}  {days[number]}: {state}"
        if told.turns[-1][1] not in (_GONE, _IDLE) and _ended(release["end"], today):
            yield f"  ended on {release['end']}"


def _ended(end: str, today: dt.date) -> bool:
    try:
        return dt.date.fromisoformat(end) < today
    except ValueError:  # not known
        return False
