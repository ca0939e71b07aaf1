"""Anchors of a bracket: both ends of each range, what governs, never better."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from survey.engineering.anchors import (
    THREADS,
    Anchors,
    anchor_use,
    bracket_tension,
    shear_strength,
    tension_strength,
)
from survey.vocabulary import NOT_KNOWN, Kind, read_quantity

PSI = 144.0
ROW = Anchors(2, 0.5, 3.0, 6.0, 6.0, 16.0, 2500 * PSI, 75000 * PSI, 3)


def use(tension=1000.0, shear=500.0, **changed):
    return anchor_use(tension, shear, ROW._replace(**changed))


CASES = {
    "tension": (use, 0, 1e8),
    "shear": (lambda x: use(shear=x), 0, 1e8),
    "count": (lambda x: use(in_row=x), 1, 8),
    "diameter": (lambda x: use(diameter_in=x, edge_in=60.0, spacing_in=12.0), 0.25, 1.25),
    "embedment": (lambda x: use(embedment_in=x, concrete_in=60.0), 1.5, 12),
    "spacing": (lambda x: use(spacing_in=x), 3, 48),
    "edge": (lambda x: use(edge_in=x), 5, 120),
    "concrete": (lambda x: use(concrete_in=x, embedment_in=1.5), 2.25, 120),
    "strength": (lambda x: use(strength_psf=x * PSI), 2500, 12000),
    "steel": (lambda x: use(steel_psf=x * PSI), 40000, 250000),
    "category": (lambda x: use(category=x), 1, 3),
    "bracket, load": (lambda x: bracket_tension(x, 3.0, 12.0), 0, 1e6),
    "bracket, eccentricity": (lambda x: bracket_tension(1000.0, x, 12.0), 0, 48),
    "bracket, arm": (lambda x: bracket_tension(1000.0, 3.0, x), 1, 96),
}


@pytest.mark.parametrize("name", CASES)
def test_known_up_to_both_ends_and_not_known_past_them(name):
    calculation, low, high = CASES[name]
    for limit in (low, high):
        assert calculation(float(limit)).known, calculation(float(limit)).reason
    for past in (low - 0.001, math.nextafter(high, math.inf) * 1.001,
                 math.nan, math.inf, -math.inf):  # fmt: skip
        result = calculation(past)
        assert result.value is NOT_KNOWN, past
        assert result.reason


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"in_row": 2.5}, "whole numbers"),
        ({"category": 1.5}, "whole numbers"),
        ({"diameter_in": 0.55}, "no size with a known thread"),
        ({"edge_in": 4.999}, "distance to the nearest edge"),
        ({"spacing_in": 2.999}, "spacing of the anchors"),
        ({"embedment_in": 5.0, "concrete_in": 7.4}, "17.9.4"),
        ({"strength_psf": 2499 * PSI}, "concrete strength"),
    ],
)
def test_what_the_screening_does_not_cover_is_not_known(changed, words):
    row = ROW._replace(**changed)
    for result in (use(**changed), tension_strength(row), shear_strength(row)):
        assert result.value is NOT_KNOWN
        assert words in result.reason


def test_17_9_4_deepest_anchor():
    assert use(embedment_in=5.0, concrete_in=7.5).known  # two thirds of 7.5 in
    assert use(embedment_in=10.0, concrete_in=14.0).known  # 4 in less than 14 in
    assert "17.9.4" in use(embedment_in=10.0, concrete_in=13.99).reason


def test_one_anchor_has_no_spacing():
    assert use(in_row=1, spacing_in=0.0).known
    assert use(in_row=1, spacing_in=0.0).value > use().value


def test_every_thread_has_an_area():
    for diameter in THREADS:
        result = tension_strength(ROW._replace(diameter_in=diameter, edge_in=60.0, spacing_in=9.0))
        assert result.value > 0


def test_what_governs():
    def governs(result):
        strengths = [
            (float(line.result.split()[0].replace(",", "")), line.symbol)
            for line in result.working.lines
            if line.symbol in ("phi Nsa", "phi Ncbg", "phi Vsa", "phi Vcbg", "phi Vcpg")
        ]
        return min(strengths)[1]

    assert governs(tension_strength(ROW)) == "phi Ncbg"
    slim = ROW._replace(diameter_in=0.25, embedment_in=6.0, steel_psf=40000 * PSI, edge_in=60.0)
    assert governs(tension_strength(slim)) == "phi Nsa"

    def least(row):
        tension = ("phi Nsa", "phi Ncbg")
        return governs(
            type("", (), {"working": type("", (), {"lines": [
                line for line in shear_strength(row).working.lines if line.symbol not in tension
            ]})})
        )  # fmt: skip

    assert least(ROW) == "phi Vcbg"
    assert least(slim) == "phi Vsa"
    assert least(ROW._replace(embedment_in=1.5, edge_in=60.0, concrete_in=60.0)) == "phi Vcpg"


@pytest.mark.parametrize(
    ("result", "kind"),
    [
        (use(), Kind.SHARE),
        (tension_strength(ROW), Kind.FORCE),
        (shear_strength(ROW), Kind.FORCE),
        (bracket_tension(20000.0, 3.0, 12.0), Kind.FORCE),
    ],
)
def test_workings_end_in_the_value(result, kind):
    printed = read_quantity(result.working.lines[-1].result, kind, None)
    assert printed == pytest.approx(result.value, abs=0.0006)
    assert all(line.meaning and line.result for line in result.working.lines)


def test_the_working_says_that_it_is_a_screening():
    assert "screening only" in use().working.validity
    assert "evaluation report" in use().working.validity
    assert "no end of the concrete within 1.5 hef" in use().working.validity
    assert "from memory" in use().working.source


def test_category_3_is_the_worst():
    assert use(category=1).value < use(category=2).value < use(category=3).value


RANGES = {
    "edge_in": (12.5, 120), "spacing_in": (7.5, 48),
    "concrete_in": (18, 120), "strength_psf": (2500 * PSI, 12000 * PSI),
    "steel_psf": (40000 * PSI, 250000 * PSI),
}  # fmt: skip
rows = st.builds(
    Anchors, st.integers(1, 8), st.sampled_from(sorted(THREADS)), st.floats(1.5, 12),
    st.floats(7.5, 48), st.floats(12.5, 120), st.floats(18, 120),
    st.floats(2500 * PSI, 12000 * PSI), st.floats(40000 * PSI, 250000 * PSI), st.integers(1, 3),
)  # fmt: skip


@given(
    rows, st.sampled_from(sorted(RANGES)), st.tuples(st.floats(0, 1), st.floats(0, 1)).map(sorted)
)
def test_less_is_never_better(row, name, shares):
    low, high = RANGES[name]
    poor, good = (row._replace(**{name: low + share * (high - low)}) for share in shares)
    results = [anchor_use(3000.0, 2000.0, one) for one in (poor, good)]
    assume(all(result.known for result in results))
    assert results[0].value >= results[1].value * (1 - 1e-9)


@given(rows, st.floats(18, 120), st.tuples(st.floats(1.5, 12), st.floats(1.5, 12)).map(sorted))
def test_less_embedment_is_never_better_away_from_edges(row, edge, depths):
    # 18 in is 1.5 times the deepest; nearer to an edge more embedment may not help
    poor, good = (row._replace(edge_in=edge, embedment_in=depth) for depth in depths)
    results = [anchor_use(3000.0, 2000.0, one) for one in (poor, good)]
    assume(all(result.known for result in results))
    assert results[0].value >= results[1].value * (1 - 1e-9)


@given(rows)
def test_neither_way_of_the_edges_is_exceeded(row):
    result = tension_strength(row)
    assume(result.known)
    shown = {line.symbol: line.result for line in result.working.lines}
    strengths = [
        float(shown[symbol].split()[0].replace(",", "")) for symbol in ("Ncbga", "Ncbgb", "Ncbg")
    ]
    assert strengths[2] == min(strengths[:2])
    if row.edge_in >= 1.5 * row.embedment_in:
        assert strengths[0] == pytest.approx(strengths[1], abs=0.002)


@given(rows, st.integers(1, 8))
def test_fewer_anchors_are_never_better(row, fewer):
    assume(fewer <= row.in_row)
    few = anchor_use(3000.0, 2000.0, row._replace(in_row=fewer))
    assume(few.known)
    assert few.value >= anchor_use(3000.0, 2000.0, row).value * (1 - 1e-9)


pairs = st.tuples(st.floats(0, 1e6), st.floats(0, 1e6)).map(sorted)


@given(pairs, pairs)
def test_more_load_is_never_better(tensions, shears):
    assert use(tensions[0], shears[0]).value <= use(tensions[1], shears[1]).value


@given(pairs, st.floats(0, 48), st.floats(1, 96))
def test_more_load_or_eccentricity_never_pulls_less(loads, eccentricity, arm):
    low, high = (bracket_tension(load, eccentricity, arm).value for load in loads)
    assert low <= high
    assert high <= bracket_tension(loads[1], 48.0, arm).value


@given(st.lists(st.floats(allow_nan=False, allow_infinity=False), min_size=9, max_size=9))
def test_any_figures_give_a_value_or_a_reason(figures):
    row = Anchors(*figures)
    results = (anchor_use(figures[0], figures[1], row), bracket_tension(*figures[:3]),
               tension_strength(row), shear_strength(row))  # fmt: skip
    for result in results:
        assert result.reason or math.isfinite(result.value)
