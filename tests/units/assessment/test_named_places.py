"""The places that a release names: what is not named was not released."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.assessment.named_places import read_places
from survey.vocabulary import Subject

PIERS = [f"P{number}" for number in range(1, 13)]
PAIRS = [f"{pier} / {line}" for pier in PIERS for line in ("gas", "gas, old", "water")]
SINGLE, PAIR = Subject.PIER, Subject.PIER_UTILITY


def named(text, labels=PIERS, subject=SINGLE):
    return read_places(text, subject, labels).labels


def faults(text, labels=PIERS, subject=SINGLE):
    return read_places(text, subject, labels).faults


@pytest.mark.parametrize(
    ("text", "places"),
    [
        ("P1", {"P1"}),
        ("P1 to P3", {"P1", "P2", "P3"}),
        ("P9 to P11", {"P9", "P10", "P11"}),
        ("p1 TO p2", {"P1", "P2"}),
        ("P1,P2;P3", {"P1", "P2", "P3"}),
        ("P1 and P2, and P3", {"P1", "P2", "P3"}),
        ("pier P1", {"P1"}),
        ("P1, , P2,", {"P1", "P2"}),
    ],
)
def test_piers(text, places):
    assert named(text) == places
    assert faults(text) == ()


@pytest.mark.parametrize(
    ("text", "places"),
    [
        ("P1 / gas", {"P1 / gas"}),
        ("P1 / gas, old", {"P1 / gas, old"}),
        ("P1, P2 / gas; P3 / water", {"P1 / gas", "P2 / gas", "P3 / water"}),
        ("P1 to P3 / gas, old", {f"P{i} / gas, old" for i in (1, 2, 3)}),
        ("P1 / gas and P1 / gas, old", {"P1 / gas", "P1 / gas, old"}),
    ],
)
def test_pairs(text, places):
    assert named(text, PAIRS, PAIR) == places
    assert faults(text, PAIRS, PAIR) == ()


@pytest.mark.parametrize(
    "text",
    ["P1", "gas", "P1 / ", " / gas", "P1; P2", "P1 / oil", "P1 / gas to P3 / gas", "P1/gas",
     "P1 / gas / water", "site", "all"],
)  # fmt: skip
def test_what_is_no_pair_names_none(text):
    assert named(text, PAIRS, PAIR) == frozenset()
    assert faults(text, PAIRS, PAIR)


def test_what_waits_for_its_line_goes_no_farther_than_a_semicolon():
    found = read_places("P1; P2 / gas", PAIR, PAIRS)
    assert found.labels == {"P2 / gas"}
    assert found.faults == (
        "'P1': it is found for a pier and utility; name both, such as 'P1 / gas'",
    )


def test_a_range_does_not_take_in_what_stands_between_its_ends_on_the_form():
    labels = ["P1", "P7", "P2a", "P2", "north corner", "P3"]
    assert named("P1 to P3", labels) == {"P1", "P2", "P3"}


@pytest.mark.parametrize(
    ("text", "labels"),
    [
        ("P1 to P3", ["P1", "P3"]),
        ("P3 to P1", ["P1", "P2", "P3"]),
        ("P1 to P1", ["P1"]),
        ("A to C", ["A", "B", "C"]),
        ("P1 to Q3", ["P1", "P2", "P3", "Q3"]),
        ("P01 to P3", ["P1", "P2", "P3"]),
        ("P1 to P999999999999", ["P1", "P2"]),
        ("P1 to P2 to P3", ["P1", "P2", "P3"]),
        ("to", ["P1"]),
    ],
)
def test_what_is_no_range_names_none(text, labels):
    assert named(text, labels) == frozenset()
    assert len(faults(text, labels)) == 1


def test_labels_that_hold_the_words_of_a_list_are_themselves():
    labels = ["P1", "P2", "P3", "P1 to P3", "P1, P2", "back and front"]
    assert named("P1 to P3", labels) == {"P1 to P3"}
    assert named("P1, P2", labels) == {"P1, P2"}
    assert named("P1, P2, P3", labels) == {"P1, P2", "P3"}
    assert named("back and front; P3", labels) == {"back and front", "P3"}


def test_many_faults_are_told_in_few_words():
    told = faults(", ".join(f"Q{number}" for number in range(30)))
    assert len(told) == 5
    assert told[-1] == "and 26 more of its places are none"


def test_a_text_that_never_ends_is_not_read():
    assert faults(",".join(["P1"] * 251)) == ("more than 250 places in one release; write several",)
    assert named(",".join(["P1"] * 251)) == frozenset()
    assert named(",".join(["P1"] * 250)) == {"P1"}


texts = st.lists(
    st.one_of(
        st.sampled_from([*PIERS, "P2a", "P99", "all", "site", "north", "x"]),
        st.tuples(st.sampled_from(PIERS), st.sampled_from(PIERS)).map(" to ".join),
    ),
    max_size=5,
).map(", ".join)


@given(
    texts,
    st.lists(st.sampled_from(PIERS), unique=True),
    st.sampled_from(["P2a", "P0", "north east", "P13"]),
    st.integers(0, 12),
)
def test_what_is_added_later_is_never_released_by_what_was_written_before(text, labels, new, at):
    before = read_places(text, SINGLE, labels)
    after = read_places(text, SINGLE, [*labels[:at], new, *labels[at:]])
    assert after.labels - {new} == before.labels
    assert new not in after.labels or new in text.split(", ")


@given(texts, st.permutations(PIERS))
def test_the_order_of_the_rows_changes_nothing(text, order):
    assert named(text, order) == named(text)


@given(st.lists(st.sampled_from(PIERS), min_size=1, unique=True))
def test_each_label_that_is_written_is_named_and_no_other(labels):
    for between in (", ", "; ", " and ", ",", ", and "):
        assert named(between.join(labels)) == set(labels)


@given(st.text(max_size=60))
def test_any_text_names_places_or_says_what_is_wrong(text):
    for subject, labels in ((SINGLE, PIERS), (PAIR, PAIRS), (Subject.SITE, ["site"]), (SINGLE, [])):
        found = read_places(text, subject, labels)
        assert found.labels <= set(labels)
        assert found.labels or found.faults
