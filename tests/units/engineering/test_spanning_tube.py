"""The tube between brackets: both ends of each range, what is not covered, never better."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from survey.engineering.spanning_tube import (
    Tube,
    TubeLoad,
    bending_strength,
    deflection_use,
    properties,
    shear_strength,
    spanning_tube_use,
    tube_deflection,
)
from survey.vocabulary import NOT_KNOWN, Kind, read_quantity

PSI = 144.0
TUBE = Tube(6.0, 6.0, 0.375, 46000 * PSI)
LOAD = TubeLoad(2000.0, 1000.0, 96.0)


def use(load=LOAD, **changed):
    return spanning_tube_use(load, TUBE._replace(**changed))


def loaded(**changed):
    return use(LOAD._replace(**changed))


CASES = {
    "line load": (lambda x: loaded(line_load_plf=x), 0, 1e6),
    "point load": (lambda x: loaded(point_load_lb=x), 0, 1e6),
    "span": (lambda x: loaded(span_in=x), 6, 360),
    "yield": (lambda x: use(yield_psf=x * PSI), 36000, 50000),
    "sag, load": (lambda x: tube_deflection(LOAD._replace(line_load_plf=x), TUBE), 0, 1e6),
    "sag, limit": (lambda x: deflection_use(LOAD, TUBE, x), 100, 2000),
    "sag, point": (lambda x: deflection_use(LOAD._replace(point_load_lb=x), TUBE, 360), 0, 1e6),
    "strength, span": (lambda x: bending_strength(TUBE, x), 6, 360),
    "shear, span": (lambda x: shear_strength(TUBE, x), 6, 360),
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
        assert "holds" in result.reason


def test_sizes_at_both_ends():
    for name in ("width_in", "depth_in"):
        what = f"spanning tube {name.removesuffix('_in')}"
        assert use(width_in=2.0, depth_in=2.0, wall_in=0.25).known
        assert what in use(**{"width_in": 2.0, "depth_in": 2.0, name: 1.999}).reason
        assert use(width_in=16.0, depth_in=16.0, wall_in=0.75).known
        assert what in use(**{"width_in": 16.0, "depth_in": 16.0, name: 16.001}).reason


def test_wall_thickness_at_both_ends():
    assert use(width_in=2.0, depth_in=2.0, wall_in=0.1).known
    assert "spanning tube wall" in use(wall_in=0.0999).reason
    assert use(wall_in=1.0).known
    assert "spanning tube wall" in use(wall_in=1.001).reason
    assert use(wall_in=0.5, depth_in=3.0).known
    assert "measure both again" in use(wall_in=0.501, depth_in=3.0).reason


def every(tube, span=96.0):
    load = LOAD._replace(span_in=span)
    return (spanning_tube_use(load, tube), bending_strength(tube, span), shear_strength(tube, span),
            tube_deflection(load, tube), deflection_use(load, tube, 360.0))  # fmt: skip


def test_a_thin_wall_that_may_buckle_is_not_known():
    # level wall: (8 - 3 t) / t = 28.12 at t = 0.2571 in, nominal 0.2764 in
    for tube, what in ((Tube(8.0, 8.0, 0.276, 46000 * PSI), "level"),
                       (Tube(4.0, 16.0, 0.25, 46000 * PSI), "upright")):  # fmt: skip
        for result in every(tube):
            assert result.value is NOT_KNOWN
            assert f"the {what} wall of the tube" in result.reason
    assert all(result.known for result in every(Tube(8.0, 8.0, 0.277, 46000 * PSI)))


def test_a_high_narrow_tube_turns_over_when_it_is_long():
    high = Tube(4.0, 6.0, 0.25, 46000 * PSI)  # Lp = 155.6 in
    assert all(result.known for result in every(high, 155.0))
    for result in every(high, 156.0):
        assert result.value is NOT_KNOWN
        assert "turn over" in result.reason
    flat = Tube(6.0, 4.0, 0.375, 46000 * PSI)
    assert all(result.known for result in every(flat, 360.0))


def test_shear_or_bending_governs():
    long, short = (
        loaded(point_load_lb=0.0, span_in=200.0),
        loaded(point_load_lb=40000.0, span_in=6.0),
    )

    def shares(result):
        return [float(line.result.split()[0]) for line in result.working.lines[-3:-1]]

    assert shares(long)[0] == pytest.approx(long.value, abs=1e-3)
    assert shares(short)[1] == pytest.approx(short.value, abs=1e-3)


def test_an_unloaded_tube_carries_its_own_weight():
    result = use(TubeLoad(0.0, 0.0, 96.0))
    assert 0 < result.value < 1
    assert tube_deflection(TubeLoad(0.0, 0.0, 96.0), TUBE).value > 0


@pytest.mark.parametrize(
    ("result", "kind", "bare"),
    [
        (use(), Kind.SHARE, None),
        (shear_strength(TUBE, 96.0), Kind.FORCE, None),
        (tube_deflection(LOAD, TUBE), Kind.LENGTH, None),
        (deflection_use(LOAD, TUBE, 240.0), Kind.SHARE, None),
    ],
)
def test_workings_end_in_the_value(result, kind, bare):
    printed = read_quantity(result.working.lines[-1].result, kind, bare)
    assert printed == pytest.approx(result.value, abs=0.0006)
    assert all(line.meaning and line.result for line in result.working.lines)
    assert "J10" in result.working.validity


def test_bending_working_ends_in_its_value():
    result = bending_strength(TUBE, 96.0)
    printed = result.working.lines[-1].result
    assert float(printed.removesuffix(" lb-in").replace(",", "")) == pytest.approx(result.value)


def test_a_square_tube_is_the_same_both_ways():
    found = properties(TUBE)
    assert found.inertia_in4 == found.upright_inertia_in4
    lying, standing = properties(Tube(6.0, 4.0, 0.25, 1.0)), properties(Tube(4.0, 6.0, 0.25, 1.0))
    assert lying.inertia_in4 == pytest.approx(standing.upright_inertia_in4)
    assert lying.torsion_in4 == pytest.approx(standing.torsion_in4)


tubes = st.builds(
    Tube, st.floats(2, 16), st.floats(2, 16), st.floats(0.1, 1),
    st.floats(36000 * PSI, 50000 * PSI),
)  # fmt: skip
load = st.builds(TubeLoad, st.floats(0, 2e4), st.floats(0, 1e5), st.floats(6, 360))
shares = st.floats(0.5, 1)


@given(tubes, load, st.sampled_from(TubeLoad._fields), shares)
def test_less_load_or_span_is_never_worse(tube, loads, name, share):
    low = {"span_in": 6.0}.get(name, 0.0)
    less = loads._replace(**{name: max(getattr(loads, name) * share, low)})
    for calculation in (
        spanning_tube_use, tube_deflection, lambda loads, tube: deflection_use(loads, tube, 360.0),
    ):  # fmt: skip
        good, poor = calculation(less, tube), calculation(loads, tube)
        assume(poor.known)
        assert good.value <= poor.value * (1 + 1e-12)


@given(tubes, load, st.sampled_from(["wall_in", "depth_in", "yield_psf"]), shares)
def test_a_thinner_lower_or_weaker_tube_is_never_better(tube, loads, name, share):
    weaker = tube._replace(**{name: getattr(tube, name) * share})
    loads = loads._replace(line_load_plf=loads.line_load_plf + 500.0)  # above its own weight
    poor, good = spanning_tube_use(loads, weaker), spanning_tube_use(loads, tube)
    assume(poor.known and good.known)
    assert poor.value >= good.value * (1 - 1e-12)


@given(st.lists(st.floats(allow_nan=False, allow_infinity=False), min_size=7, max_size=7))
def test_any_figures_give_a_value_or_a_reason(figures):
    tube, loads = Tube(*figures[:4]), TubeLoad(*figures[4:])
    for result in (
        spanning_tube_use(loads, tube), tube_deflection(loads, tube),
        deflection_use(loads, tube, figures[0]), bending_strength(tube, figures[6]),
        shear_strength(tube, figures[6]), spanning_tube_use(loads, TUBE),
        spanning_tube_use(LOAD, tube),
    ):  # fmt: skip
        assert result.reason or math.isfinite(result.value)
