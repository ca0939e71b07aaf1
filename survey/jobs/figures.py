"""Figures for the safety meeting: what many surveys had in common.

All of it is counted from the judgements in short; nothing is judged here. A number always stands
with what it was counted among.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from survey.assessment.compare import CANNOT_TELL
from survey.assessment.decision import Verdict
from survey.jobs.job import Job
from survey.jobs.judging import Checked, Unread
from survey.rulebook.rules import Outcome
from survey.vocabulary.walk import MAY_STAY_BLANK

if TYPE_CHECKING:
    import pandas as pd

HOLDING = (Outcome.STOP.value, Outcome.ENGINEER.value, Outcome.ASK.value)
NOT_GIVEN = "not given"
NO_SURVEY_DATE = "no survey date"
RELEASED = "released"
_MOST_OF_A_GROUP = 3
_NUMBERS = ("site", "places", "rows", "waiting_rows")


@dataclass(frozen=True, slots=True)
class Span:
    """Days from the first to the last, both counted; an end that is none is open."""

    first: dt.date | None
    last: dt.date | None

    @property
    def open(self) -> bool:
        """Whether it has no end at all: then a survey without a date lies in it, too."""
        return self.first is None and self.last is None

    def holds(self, day: dt.date | None) -> bool:
        """Whether a day, or one that is not known, lies in the span for certain."""
        if day is None:
            return self.open
        return (self.first is None or self.first <= day) and (self.last is None or day <= self.last)


@dataclass(frozen=True, slots=True)
class Site:
    """A survey that is counted.

    Args:
        file: below the folder.
        job: its judgement in short.
    """

    file: str
    job: Job


@dataclass(frozen=True, slots=True)
class Chosen:
    """Which surveys are counted, and which are not; each stands in one of the lists.

    Args:
        sites: counted.
        undated: the span can't be told of them.
        outside: of other days.
        disagreeing: their verdict is a fault of the program.
        unread: without a verdict.
    """

    sites: tuple[Site, ...]
    undated: tuple[str, ...]
    outside: tuple[str, ...]
    disagreeing: tuple[str, ...]
    unread: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RuleFigure:
    """How often a rule came to something.

    Args:
        code, name: of the rule.
        outcome: what it came to where it was met; empty if it was met nowhere.
        sites, places: where it was met and counts.
        open_sites, open_places: where it could not be told.
        released_sites, released_places: where it was lifted.
    """

    code: str
    name: str
    outcome: str
    sites: int
    places: int
    open_sites: int
    open_places: int
    released_sites: int
    released_places: int


@dataclass(frozen=True, slots=True)
class OutcomeFigure:
    """How often rules came to an outcome, ``can't be told`` and ``released`` among them."""

    outcome: str
    rules: int
    sites: int
    places: int


@dataclass(frozen=True, slots=True)
class AnswerFigure:
    """How often a question was not answered.

    Args:
        word: of the question.
        sites, rows: at how many it is not known.
        waiting_sites, waiting_rows: at how many of them a finding waits for it.
    """

    word: str
    sites: int
    rows: int
    waiting_sites: int
    waiting_rows: int


@dataclass(frozen=True, slots=True)
class GroupFigure:
    """What the sites of a surveyor or a town have in common.

    Args:
        name: of the group.
        sites: how many.
        verdicts: how many sites by each.
        rows: answers that are not known, at all of them together.
        waiting_rows: how many of those a finding waits for.
        rules: those that hold the crew up at most of its sites: code, name and number of sites.
        answers: those that findings wait for at most of its sites: word and number of sites.
    """

    name: str
    sites: int
    verdicts: Mapping[Verdict, int]
    rows: int
    waiting_rows: int
    rules: tuple[tuple[str, str, int], ...]
    answers: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class MonthFigure:
    """The verdicts of the sites that were surveyed in a month, such as ``2026-11``."""

    name: str
    sites: int
    verdicts: Mapping[Verdict, int]


@dataclass(frozen=True, slots=True)
class Figures:
    """All figures, each list with what is most often first; months in their order.

    Args:
        chosen: which surveys are counted.
    """

    chosen: Chosen
    rules: tuple[RuleFigure, ...]
    outcomes: tuple[OutcomeFigure, ...]
    answers: tuple[AnswerFigure, ...]
    surveyors: tuple[GroupFigure, ...]
    towns: tuple[GroupFigure, ...]
    months: tuple[MonthFigure, ...]


def choose(checked: Iterable[Checked], span: Span) -> Chosen:
    """Which of many surveys were made in a span of days, in the order of their files."""
    undated: list[str] = []
    outside: list[str] = []
    disagreeing: list[str] = []
    unread: list[str] = []
    sites: list[Site] = []
    for one in sorted(checked, key=lambda one: one.file):
        job = one.result
        if isinstance(job, Unread):
            unread.append(one.file)
        elif not span.holds(job.survey_day):
            (undated if job.survey_day is None else outside).append(one.file)
        elif job.disagreement:
            disagreeing.append(one.file)
        else:
            sites.append(Site(one.file, job))
    return Chosen(tuple(sites), tuple(undated), tuple(outside), tuple(disagreeing), tuple(unread))


def figures(chosen: Chosen) -> Figures:
    """Count what the chosen sites have in common."""
    frames = _Frames(chosen.sites)
    return Figures(
        chosen, tuple(frames.rules()), tuple(frames.outcomes()), tuple(frames.answers()),
        tuple(frames.groups("surveyor")), tuple(frames.groups("town")), tuple(frames.months()),
    )  # fmt: skip


class _Frames:
    """The sites as three tables: one row a site, a rule at a site, an open question at a site."""

    def __init__(self, sites: Sequence[Site]) -> None:
        import pandas as pd  # takes long to load

        self._pd = pd
        jobs = list(enumerate(site.job for site in sites))
        self._sites = pd.DataFrame(
            {
                "surveyor": _spelt_alike([job.surveyor for _, job in jobs]),
                "town": _spelt_alike([job.town for _, job in jobs]),
                "month": [_month(job) for _, job in jobs],
                "verdict": [job.verdict for _, job in jobs],
            },
            dtype=object,
        )
        self._fired = self._table(
            ("site", "code", "name", "outcome", "places"),
            ((site, f.code, f.name, RELEASED if f.released else f.outcome, f.places)
             for site, job in jobs for f in job.fired),
        )  # fmt: skip
        self._open = self._table(
            ("site", "word", "rows", "waiting_rows"),
            ((site, one.word, one.rows, one.waited_for)
             for site, job in jobs for one in job.open if one.word not in MAY_STAY_BLANK),
        )  # fmt: skip

    def _table(self, columns: Sequence[str], rows: Iterable[tuple[Any, ...]]) -> pd.DataFrame:
        made = self._pd.DataFrame(list(rows), columns=list(columns))
        return made.astype({name: int for name in columns if name in _NUMBERS})

    def rules(self) -> Iterator[RuleFigure]:
        fired = self._fired
        kinds = {
            "met": ~fired["outcome"].isin([CANNOT_TELL, RELEASED]),
            "open": fired["outcome"] == CANNOT_TELL,
            "released": fired["outcome"] == RELEASED,
        }
        table = self._pd.concat(
            {
                kind: fired[chosen].groupby("code").agg(
                    sites=("site", "nunique"), places=("places", "sum")
                )
                for kind, chosen in kinds.items()
            },
            axis="columns",
        ).fillna(0)  # fmt: skip
        names = fired.groupby("code")["name"].first()
        came_to = fired[kinds["met"]].groupby("code")["outcome"].first()
        rows = [
            RuleFigure(
                code, names[code], came_to.get(code, ""),
                *(int(row[kind, what]) for kind in kinds for what in ("sites", "places")),
            )
            for code, row in table.iterrows()
        ]  # fmt: skip
        yield from sorted(
            rows,
            key=lambda one: (
                -one.sites,
                -one.places,
                -one.open_sites,
                -one.released_sites,
                one.code,
            ),
        )

    def outcomes(self) -> Iterator[OutcomeFigure]:
        table = self._fired.groupby("outcome").agg(
            rules=("code", "nunique"), sites=("site", "nunique"), places=("places", "sum")
        )
        for outcome in (*(one.value for one in reversed(Outcome)), CANNOT_TELL, RELEASED):
            row = table.loc[outcome] if outcome in table.index else None
            numbers = (0, 0, 0) if row is None else map(int, row)
            yield OutcomeFigure(outcome, *numbers)

    def answers(self) -> Iterator[AnswerFigure]:
        table = _counted(self._open, ["word"])
        for word, row in table.iterrows():
            yield AnswerFigure(word, *map(int, row))

    def groups(self, by: str) -> Iterator[GroupFigure]:
        names = self._sites[by]
        sizes = names.value_counts()
        verdicts = self._pd.crosstab(names, self._sites["verdict"].map(_value))
        held = self._fired[self._fired["outcome"].isin(HOLDING)].join(names, on="site")
        rules = held.groupby([by, "code", "name"])["site"].nunique()
        asked = self._open.join(names, on="site")
        answers = asked[asked["waiting_rows"] > 0].groupby([by, "word"])["site"].nunique()
        rows = asked.groupby(by)[["rows", "waiting_rows"]].sum().reindex(sizes.index, fill_value=0)
        for name in sorted(sizes.index, key=lambda name: (-sizes[name], name.casefold())):
            yield GroupFigure(
                name, int(sizes[name]), _by_verdict(verdicts.loc[name]),
                int(rows["rows"][name]), int(rows["waiting_rows"][name]),
                tuple((code, rule, number) for (code, rule), number in _most(rules, name)),
                tuple((word, number) for word, number in _most(answers, name)),
            )  # fmt: skip

    def months(self) -> Iterator[MonthFigure]:
        """Every month from the first to the last, those without a survey among them."""
        months = self._sites["month"]
        table = self._pd.crosstab(months, self._sites["verdict"].map(_value))
        dated = sorted(name for name in table.index if name != NO_SURVEY_DATE)
        names = (
            [str(one) for one in self._pd.period_range(dated[0], dated[-1], freq="M")]
            if dated
            else []
        )
        if NO_SURVEY_DATE in table.index:
            names.append(NO_SURVEY_DATE)
        for name in names:
            row = table.loc[name] if name in table.index else {}
            verdicts = _by_verdict(row)
            yield MonthFigure(name, sum(verdicts.values()), verdicts)


def _counted(table: pd.DataFrame, by: list[str]) -> pd.DataFrame:
    """Sites and rows where an answer is not known; first what findings wait for at most sites."""
    waiting = table["site"].where(table["waiting_rows"] > 0)
    counted = table.assign(waiting_site=waiting).groupby(by).agg(
        sites=("site", "nunique"), rows=("rows", "sum"),
        waiting_sites=("waiting_site", "nunique"), waiting_rows=("waiting_rows", "sum"),
    )  # fmt: skip
    order = ["waiting_sites", "sites", "waiting_rows", "rows"]
    return counted.sort_index().sort_values(order, ascending=False, kind="stable")


def _most(counts: pd.Series, group: str) -> Iterator[tuple[Any, int]]:
    """What is found at most sites of a group: what it is, and at how many."""
    if group not in counts.index.get_level_values(0):
        return
    found = counts[group].sort_index().sort_values(ascending=False, kind="stable")
    for key, number in found[:_MOST_OF_A_GROUP].items():
        yield key, int(number)


def _value(verdict: Verdict) -> str:
    return verdict.value


def _by_verdict(row: Mapping[str, Any]) -> dict[Verdict, int]:
    return {verdict: int(row.get(verdict.value, 0)) for verdict in Verdict}


def _spelt_alike(names: Sequence[str]) -> list[str]:
    """Each name as it was first written, whatever its capitals and blanks."""
    first: dict[str, str] = {}
    tidied = [" ".join(name.split()) or NOT_GIVEN for name in names]
    return [first.setdefault(name.casefold(), name) for name in tidied]


def _month(job: Job) -> str:
    return NO_SURVEY_DATE if job.survey_day is None else f"{job.survey_day:%Y-%m}"
