"""Random surveys that obey the vocabulary, for tests that must hold for every survey."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence

from hypothesis import strategies as st

from survey.model import LISTS, Answer, Row, Survey, Value
from survey.vocabulary import (
    DOES_NOT_APPLY,
    MEASURES,
    NOT_KNOWN,
    VOCABULARY,
    Kind,
    Subject,
    Vocabulary,
    Word,
    from_steps,
    tidy,
)
from survey.vocabulary.spelling import says_not_known

# Words that read as no answer, so they can't be the answer to a question of text.
_STATES = {"not known", "unknown", "not sure", "could not see", "?", "nk", "n/k", "no se sabe",
           "desconocido", "does not apply", "doesn't apply", "n/a", "na", "not applicable",
           "no aplica"}  # fmt: skip
_LARGEST = 1e9  # of an answer to a question that has no range
_AWKWARD = ("=1+1", "+1", "@sum", "'quoted", "<script>alert(1)</script>", "a & b", "_x0041_",
            "{{ 7*7 }}", "42", "0", "no", "true", "2026-04-03", "café 5 m²", "漢字",
            "😀")  # fmt: skip


def _is_answer(text: str) -> bool:
    stands_for_none = text.lower() in _STATES or says_not_known(text) or text.startswith("#")
    return bool(text) and not stands_for_none


def texts() -> st.SearchStrategy[str]:
    """Texts as they are after reading: one line, printable, never a word for a state."""
    free = st.text(max_size=20).map(tidy).filter(_is_answer)
    return st.one_of(st.sampled_from(_AWKWARD), free)


def labels() -> st.SearchStrategy[str]:
    """Texts that may name a row: no lone slash, which stands between two places."""
    return texts().filter(lambda text: "/" not in text.split() and text.lower() != "site")


def values(word: Word, walls: Sequence[str] = ()) -> st.SearchStrategy[Value]:
    """Values that a question may have; not known where a wall is asked for and there is none."""
    match word.kind:
        case Kind.CHOICE | Kind.YES_NO:
            return st.sampled_from(word.choices)
        case Kind.REFERENCE:
            return st.sampled_from(walls) if walls else st.just(NOT_KNOWN)
        case Kind.DATE:
            return st.dates(dt.date(2000, 1, 1), dt.date(2100, 12, 31))
        case Kind.TEXT:
            return texts()
        case kind:
            low = -_LARGEST if word.low is None else word.low
            high = _LARGEST if word.high is None else word.high
            if kind is Kind.COUNT:
                return st.integers(int(low), int(high)).map(float)
            step = MEASURES[kind].step
            exact = st.integers(round(low / step), round(high / step))
            stepped = exact.map(lambda count: min(max(from_steps(kind, count), low), high))
            return st.one_of(stepped, st.floats(low, high).map(lambda number: number + 0.0))


@st.composite
def answers(
    draw: st.DrawFn,
    subject: Subject,
    where: str,
    walls: Sequence[str] = (),
    vocabulary: Vocabulary = VOCABULARY,
) -> Mapping[str, Answer]:
    """An answer to every question of a subject, following what applies when."""
    given: dict[str, Answer] = {}
    for word in vocabulary.asked_of(subject):
        value: Value
        governing = None if word.asks_when is None else given[word.asks_when.word].value
        if governing is NOT_KNOWN:
            value = NOT_KNOWN
        elif word.asks_when is not None and governing not in word.asks_when.choices:
            value = DOES_NOT_APPLY
        else:
            value = draw(st.one_of(st.just(NOT_KNOWN), values(word, walls)))
        given[word.name] = Answer(value, f"{where}.{word.key}")
    return given


@st.composite
def surveys(draw: st.DrawFn, *, most_rows: int = 2, vocabulary: Vocabulary = VOCABULARY) -> Survey:
    """Whole surveys with up to ``most_rows`` rows a list.

    Every answer may be not known; references name walls that are listed; labels are unique.
    """
    of_site = draw(answers(Subject.SITE, "site", vocabulary=vocabulary))
    site = Row(Subject.SITE, "site", of_site, "site")
    lists: dict[str, tuple[Row, ...]] = {}
    walls: list[str] = []
    for subject, name in LISTS.items():
        count = draw(st.integers(0, most_rows))
        named = draw(
            st.lists(
                labels(), min_size=count, max_size=count, unique_by=lambda text: text.casefold()
            )
        )
        if subject is Subject.WALL:
            walls = named
        lists[name] = tuple(
            Row(subject, label, draw(answers(subject, where, walls, vocabulary)), where)
            for label, where in ((label, f"{name}[{i}]") for i, label in enumerate(named, start=1))
        )
    return Survey("drawn", site, **lists, vocabulary=vocabulary)


def plain(survey: Survey) -> dict[str, list[tuple[str, dict[str, Value]]]]:
    """What a survey says, without where it was read: for comparing two surveys."""
    return {
        subject.value: [
            (row.label, {name: answer.value for name, answer in row.answers.items()})
            for row in survey.rows(subject)
        ]
        for subject in (Subject.SITE, *LISTS)
    }
