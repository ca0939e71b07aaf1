"""Corrosion: limits, what is settled by one bad test, and never better with time."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering import corrosion as c
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Kind, read_quantity

GOOD = {"resistivity_ohm_cm": 5000.0, "ph": 7.0, "chloride_ppm": 10.0, "sulfate_ppm": 20.0}
BAD = {"resistivity_ohm_cm": 2000.0, "ph": 4.0, "chloride_ppm": 200.0, "sulfate_ppm": 300.0}
QUIET = {
    "resistivity_ohm_cm": 5000.0, "ph": 7.0, "sulfate_ppm": 20.0, "organic_ground": "no",
    "landfill": "no", "mine_waste": "no",
}  # fmt: skip
LOUD = {
    "resistivity_ohm_cm": 500.0, "ph": 5.0, "sulfate_ppm": 2000.0, "organic_ground": "yes",
    "landfill": "yes", "mine_waste": "yes",
}  # fmt: skip


@pytest.mark.parametrize("name", GOOD)
def test_one_bad_test_settles_it_and_one_missing_does_not_pass(name):
    for missing in (NOT_KNOWN, DOES_NOT_APPLY):
        assert c.ground_aggressiveness(**{**GOOD, name: missing}).value is NOT_KNOWN
        others = dict.fromkeys(GOOD, missing)
        assert c.ground_aggressiveness(**{**others, name: BAD[name]}).value == c.AGGRESSIVE
    assert c.ground_aggressiveness(**{**GOOD, name: BAD[name]}).value == c.AGGRESSIVE


@pytest.mark.parametrize("name", QUIET)
def test_one_trigger_settles_it_and_one_missing_does_not_pass(name):
    assert c.corrosion_study_needed(**QUIET).value == "no"
    assert c.corrosion_study_needed(**{**QUIET, name: NOT_KNOWN}).value is NOT_KNOWN
    others = dict.fromkeys(QUIET, NOT_KNOWN)
    assert c.corrosion_study_needed(**{**others, name: LOUD[name]}).value == "yes"


@pytest.mark.parametrize("name", GOOD)
@pytest.mark.parametrize("value", [-1.0, math.nan, math.inf, -math.inf])
def test_a_figure_that_can_be_no_test_counts_as_not_known(name, value):
    result = c.ground_aggressiveness(**{**GOOD, name: value})
    assert result.value is NOT_KNOWN
    assert "holds" in result.reason
    if name in QUIET:
        assert c.corrosion_study_needed(**{**QUIET, name: value}).value is NOT_KNOWN


def test_the_reason_names_what_is_missing():
    reason = c.ground_aggressiveness(5000.0, NOT_KNOWN, 10.0, NOT_KNOWN).reason
    assert reason == "the acidity is not known; the sulfate is not known"
    quiet = {**QUIET, "landfill": NOT_KNOWN}
    assert c.corrosion_study_needed(**quiet).reason == "landfill is not known"


@pytest.mark.parametrize(
    ("calculation", "low", "high"),
    [
        (lambda x: c.loss_of_face(x, c.MILD), 0, 100),
        (lambda x: c.thickness_left(0.3, x, c.MILD), 0, 100),
        (lambda x: c.thickness_left(x, 50.0, c.MILD), 0.05, 2),
    ],
)
def test_known_up_to_both_ends_and_not_known_past_them(calculation, low, high):
    assert calculation(float(low)).known
    assert calculation(float(high)).known
    for past in (low - 0.001, high * 1.001, math.nan, math.inf, -math.inf):
        result = calculation(past)
        assert result.value is NOT_KNOWN
        assert "holds" in result.reason


@pytest.mark.parametrize("ground", [c.AGGRESSIVE, "not known", ""])
def test_the_loss_is_an_engineers_matter_in_any_other_ground(ground):
    for result in (c.loss_of_face(50.0, ground), c.thickness_left(0.3, 50.0, ground)):
        assert result.value is NOT_KNOWN
        assert "engineer" in result.reason


def test_nothing_is_less_than_nothing():
    assert c.thickness_left(0.05, 100.0, c.MILD).value == 0.0
    assert c.thickness_left(0.3, 0.0, c.MILD).value == pytest.approx(0.279)


@pytest.mark.parametrize(
    "result", [c.loss_of_face(50.0, c.MILD), c.thickness_left(0.217, 75.0, c.MILD)]
)
def test_last_line_is_the_value(result):
    last = result.working.lines[-1].result
    assert read_quantity(last, Kind.LENGTH, None) == pytest.approx(result.value, abs=0.0006)
    assert "from memory" in result.working.source


@pytest.mark.parametrize(
    "result",
    [
        c.ground_aggressiveness(**GOOD), c.ground_aggressiveness(**BAD),
        c.ground_aggressiveness(**{**BAD, "ph": NOT_KNOWN, "chloride_ppm": -1.0}),
        c.corrosion_study_needed(**QUIET), c.corrosion_study_needed(**LOUD),
    ],
)  # fmt: skip
def test_words_are_printed_last(result):
    assert result.working.lines[-1].result == result.value
    assert all(line.meaning and line.result for line in result.working.lines)


two = st.tuples(st.floats(0, 100), st.floats(0, 100)).map(sorted)


@given(two, st.floats(0.05, 2), st.floats(0.05, 2))
def test_older_or_thinner_never_leaves_more(years, wall, other):
    assert c.loss_of_face(years[0], c.MILD).value <= c.loss_of_face(years[1], c.MILD).value
    young, old = (c.thickness_left(wall, year, c.MILD).value for year in years)
    assert old <= young
    thin, thick = sorted((wall, other))
    assert (
        c.thickness_left(thin, years[1], c.MILD).value
        <= c.thickness_left(thick, years[1], c.MILD).value
    )


figures = st.floats(allow_nan=True, allow_infinity=True) | st.sampled_from(
    [NOT_KNOWN, DOES_NOT_APPLY]
)


@given(figures, figures, figures, figures, st.floats(allow_nan=True, allow_infinity=True))
def test_any_figures_give_a_word_a_finite_value_or_none(a, b, salt, d, years):
    assert c.ground_aggressiveness(a, b, salt, d).value in (NOT_KNOWN, c.MILD, c.AGGRESSIVE)
    needed = c.corrosion_study_needed(a, b, salt, organic_ground="no", landfill="no",
                                      mine_waste="no")  # fmt: skip
    assert needed.value in (NOT_KNOWN, "yes", "no")
    lost = c.loss_of_face(years, c.MILD).value
    assert lost is NOT_KNOWN or math.isfinite(lost)
    left = c.thickness_left(years, years, c.MILD).value
    assert left is NOT_KNOWN or math.isfinite(left)


tests_of_ground = st.fixed_dictionaries(
    {"resistivity_ohm_cm": st.floats(1, 1e4), "ph": st.floats(0, 14),
     "chloride_ppm": st.floats(0, 300), "sulfate_ppm": st.floats(0, 600)}
)  # fmt: skip


@given(tests_of_ground, st.floats(0.01, 1))
def test_saltier_or_better_conducting_ground_is_never_milder(tests, less):
    worse = c.ground_aggressiveness(
        tests["resistivity_ohm_cm"] * less, tests["ph"], tests["chloride_ppm"] / less,
        min(tests["sulfate_ppm"] / less, 1e6),
    )  # fmt: skip
    if c.ground_aggressiveness(**tests).value == c.AGGRESSIVE:
        assert worse.value != c.MILD


@given(tests_of_ground, st.sets(st.sampled_from(sorted(GOOD))))
def test_an_answer_never_contradicts_what_was_settled_without_it(tests, hidden):
    known = c.ground_aggressiveness(**tests).value
    with_gaps = c.ground_aggressiveness(**{**tests, **dict.fromkeys(hidden, NOT_KNOWN)}).value
    assert with_gaps in (NOT_KNOWN, known)
