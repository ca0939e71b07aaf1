"""What a boring log suggests: never better than B, and the worst while something is open."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering.soil_fallback import estimated_soil_class as estimate
from survey.engineering.soil_properties import CONSISTENCIES, USCS
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN

WORDS = tuple(step.name for step in CONSISTENCIES)
FINE = ("ML", "CL", "MH", "CH")
groups = st.sampled_from((*USCS, NOT_KNOWN, DOES_NOT_APPLY))
counts = st.one_of(st.floats(0, 100), st.just(NOT_KNOWN), st.just(DOES_NOT_APPLY))
words = st.sampled_from((*WORDS, NOT_KNOWN, DOES_NOT_APPLY))
yes_no = st.sampled_from(("no", "yes", NOT_KNOWN))


@pytest.mark.parametrize("group", USCS)
def test_only_inorganic_fines_can_be_b(group):
    assert estimate(group, 50.0, "hard", "no", "no").value == ("B" if group in FINE else "C")


@pytest.mark.parametrize(
    ("count", "word", "expected"),
    [
        (12.0, "stiff", "B"), (8.001, NOT_KNOWN, "B"), (8.0, NOT_KNOWN, "C"),
        (NOT_KNOWN, "stiff", "B"), (DOES_NOT_APPLY, "medium", "C"),
        (50.0, "soft", "C"), (3.0, "hard", "C"),  # the weaker of the two
        (NOT_KNOWN, NOT_KNOWN, "C"),
    ],
)  # fmt: skip
def test_the_weaker_of_count_and_word(count, word, expected):
    assert estimate("CL", count, word, "no", "no").value == expected


NOT_BOTH_NO = list(itertools.product(("no", "yes", NOT_KNOWN), repeat=2))[1:]


@pytest.mark.parametrize(("wet", "dug"), NOT_BOTH_NO)
def test_water_and_digging_make_c_and_so_does_not_knowing(wet, dug):
    assert estimate("CL", 20.0, "very stiff", wet, dug).value == "C"


def test_the_worse_of_two_symbols_counts():
    assert estimate("CL-ML", 20.0, "very stiff", "no", "no").value == "B"
    assert estimate("SP-SM", 20.0, "very stiff", "no", "no").value == "C"
    assert estimate("CL-OL", 20.0, "very stiff", "no", "no").value == "C"


@pytest.mark.parametrize(
    ("log", "words"),
    [
        (("CL", 100.001, "stiff", "no", "no"), "holds"),
        (("CL", -0.001, "stiff", "no", "no"), "holds"),
        (("CL", float("nan"), "stiff", "no", "no"), "holds"),
        (("CL", "many", "stiff", "no", "no"), "no blow count"),
        (("XX", 10.0, "stiff", "no", "no"), "no group"),
        (("CL-XX", 10.0, "stiff", "no", "no"), "no group"),
        (("CL", 10.0, "firm as a rock", "no", "no"), "no consistency"),
        (("CL", 10.0, "stiff", "perhaps", "no"), "yes or a no"),
    ],
)
def test_a_log_that_cannot_be_read(log, words):
    result = estimate(*log)
    assert result.value is NOT_KNOWN
    assert words in result.reason


@pytest.mark.parametrize("count", [0.0, 100.0])
def test_both_ends_of_the_blow_count(count):
    assert estimate("CL", count, NOT_KNOWN, "no", "no").known


@given(groups, counts, words, yes_no, yes_no)
def test_b_or_c_and_never_called_a_classification(group, count, word, wet, dug):
    result = estimate(group, count, word, wet, dug)
    assert result.value in ("B", "C")
    assert "no classification under App. A (c)(2)" in result.working.validity
    assert "estimate" in result.working.lines[-1].meaning
    assert result.working.lines[-1].result == result.value


logs = st.tuples(groups, counts, words, yes_no, yes_no)


@given(logs.map(list), st.sampled_from(range(5)), st.data())
def test_nothing_found_later_makes_it_worse(log, at, data):
    fills = (tuple(USCS), (50.0,), WORDS, ("no", "yes"), ("no", "yes"))
    before = estimate(*log).value
    # A blow count or word that is not given leaves the other alone, as its docstring says.
    if log[at] is NOT_KNOWN and at not in (1, 2):
        log[at] = data.draw(st.sampled_from(fills[at]))
        assert estimate(*log).value <= before


@given(logs, st.floats(0, 100), st.floats(0, 100))
def test_more_blows_are_never_worse(log, one, other):
    few, many = sorted((one, other))
    group, _, *rest = log
    assert estimate(group, many, *rest).value <= estimate(group, few, *rest).value
