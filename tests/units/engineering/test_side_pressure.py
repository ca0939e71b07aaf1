"""Side pressures: both ends of each range, what is printed, and never better where it is worse."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering import side_pressure as side
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Kind, read_quantity


def soil(**changed):
    return side.rankine_pressure(
        **{"unit_weight_pcf": 120.0, "depth_in": 96.0, "friction_angle_deg": 30.0,
           "cohesion_psf": 0.0, "surcharge_psf": 0.0, **changed}
    )  # fmt: skip


STRIP = (1500.0, 12.0, 24.0, 36.0)


def strip(calculation, index):
    return lambda x: calculation(*STRIP[:index], x, *STRIP[index + 1 :])


CASES = {
    "appendix C": (lambda x: side.appendix_c_pressure("B", x), 60, 240),
    "coefficient": (side.rankine_active, 0, 45),
    "unit weight": (lambda x: soil(unit_weight_pcf=x), 50, 160),
    "depth": (lambda x: soil(depth_in=x), 0, 720),
    "angle": (lambda x: soil(friction_angle_deg=x), 0, 45),
    "cohesion": (lambda x: soil(cohesion_psf=x), 0, 10000),
    "surcharge": (lambda x: soil(surcharge_psf=x), 0, 20000),
    "height, strength": (lambda x: side.critical_height(x, 120.0), 0, 10000),
    "height, weight": (lambda x: side.critical_height(500.0, x), 50, 160),
    **{
        f"{calculation.__name__}, {name}": (strip(calculation, index), low, high)
        for calculation in (
            side.strip_load_pressure, side.greatest_strip_pressure, side.strip_load_thrust,
        )
        for index, (name, low, high) in enumerate(
            [("pressure", 0, 1e5), ("distance", 0, 6000), ("width", 1, 600), ("depth", 0, 720)]
        )
    },
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_known_up_to_both_ends_and_not_known_past_them(name):
    calculation, low, high = CASES[name]
    for limit in (low, high):
        assert calculation(float(limit)).known
    for past in (math.nextafter(low, -math.inf) - 0.001, math.nextafter(high, math.inf) * 1.001,
                 math.nan, math.inf, -math.inf):  # fmt: skip
        result = calculation(past)
        assert result.value is NOT_KNOWN, past
        assert "holds" in result.reason


def test_appendix_c_classes():
    assert side.appendix_c_pressure("stable rock", 96.0).value is DOES_NOT_APPLY
    assert side.appendix_c_pressure("D", 96.0).value is NOT_KNOWN


def test_a_depth_from_metres_is_on_the_limit():
    depth_in = 6.096 * 1000 / 25.4 + 1e-9  # 20 ft
    assert side.appendix_c_pressure("A", depth_in).value == 572.0


def test_soil_does_not_pull():
    assert soil(cohesion_psf=2000.0).value == 0.0
    # by hand: Ka = 1/3: 120 x 8 / 3 = 320, less 2 x 100 x sqrt(1/3) = 115.47
    assert soil(cohesion_psf=100.0).value == pytest.approx(320 - 115.4701, abs=1e-4)
    # surcharge of 300 psf adds a third of it
    assert soil(surcharge_psf=300.0).value == pytest.approx(420.0)


def test_a_surcharge_shortens_the_tension_crack():
    def crack(**changed):
        lines = soil(friction_angle_deg=0.0, cohesion_psf=300.0, **changed).working.lines
        return next(line.result for line in lines if line.symbol == "zc")

    assert crack() == "5 ft"
    assert crack(surcharge_psf=240.0) == "3 ft"
    assert crack(surcharge_psf=900.0) == "0 ft"


def test_a_cut_of_clay_is_no_permission():
    found = side.critical_height(1000.0, 125.0)
    assert found.value == 192.0
    assert any("no permission" in line.result for line in found.working.lines)


def test_a_footing_that_is_far_or_at_the_floor_adds_little():
    assert side.strip_load_pressure(1500.0, 6000.0, 24.0, 36.0).value < 0.1
    for calculation in (side.greatest_strip_pressure, side.strip_load_thrust):
        assert calculation(1500.0, 24.0, 24.0, 0.0).value == 0.0


@pytest.mark.parametrize(
    ("result", "kind"),
    [
        (side.appendix_c_pressure("C", 100.0), Kind.PRESSURE),
        (soil(cohesion_psf=77.0), Kind.PRESSURE),
        (side.strip_load_pressure(1234.0, 7.0, 24.0, 36.0), Kind.PRESSURE),
        (side.greatest_strip_pressure(1234.0, 7.0, 24.0, 36.0), Kind.PRESSURE),
        (side.greatest_strip_pressure(1234.0, 0.0, 24.0, 36.0), Kind.PRESSURE),
        (side.greatest_strip_pressure(1234.0, 7.0, 24.0, 0.0), Kind.PRESSURE),
        (side.strip_load_thrust(1234.0, 7.0, 24.0, 36.0), Kind.LINE_LOAD),
        (side.strip_load_thrust(1234.0, 7.0, 24.0, 0.0), Kind.LINE_LOAD),
        (side.critical_height(333.0, 121.0), Kind.LENGTH),
    ],
)
def test_last_line_is_the_value_and_lines_read_well(result, kind):
    working = result.working
    printed = working.lines[-1].result
    assert read_quantity(printed, kind, None) == pytest.approx(result.value, abs=0.0006)
    assert working.title
    assert working.source
    assert working.validity
    for line in working.lines:
        assert line.meaning
        assert line.result
        assert not (line.numbers and not line.formula)
        assert "/ 0)" not in line.numbers


def test_what_is_from_memory_says_so():
    assert "from memory" in side.appendix_c_pressure("A", 96.0).working.source
    assert "from memory" in side.strip_load_pressure(*STRIP).working.source


any_float = st.floats(allow_nan=True, allow_infinity=True)


@given(st.sampled_from(sorted(CASES)), any_float)
def test_any_figure_gives_a_finite_figure_or_none(name, figure):
    value = CASES[name][0](figure).value
    assert value is NOT_KNOWN or math.isfinite(value)


@given(st.floats(60, 240), st.floats(60, 240))
def test_deeper_and_weaker_is_never_less(one, other):
    shallow, deep = sorted((one, other))
    at = [[side.appendix_c_pressure(c, z).value for c in "ABC"] for z in (shallow, deep)]
    assert at[0] == sorted(at[0])
    assert all(less <= more for less, more in zip(*at, strict=True))


RANGES = {
    "unit_weight_pcf": (50, 160, 1), "depth_in": (0, 720, 1), "surcharge_psf": (0, 20000, 1),
    "friction_angle_deg": (0, 45, -1), "cohesion_psf": (0, 10000, -1),
}  # fmt: skip
any_soil = st.fixed_dictionaries({name: st.floats(r[0], r[1]) for name, r in RANGES.items()})


@given(any_soil, st.sampled_from(sorted(RANGES)), st.floats(0, 1))
def test_weaker_heavier_deeper_soil_never_presses_less(figures, name, share):
    low, high, sign = RANGES[name]
    worst = high if sign > 0 else low
    worse = {**figures, name: figures[name] + share * (worst - figures[name])}
    assert soil(**figures).value <= soil(**worse).value + 1e-5


strips = st.tuples(st.floats(0, 1e5), st.floats(0, 6000), st.floats(1, 600), st.floats(0, 720))


@given(strips, st.sampled_from([0, 1, 2, 3]), st.floats(0, 1))
def test_heavier_nearer_wider_deeper_never_presses_less(figures, index, share):
    worst = (1e5, 0.0, 600.0, 720.0)[index]
    moved = figures[index] + share * (worst - figures[index])
    worse = (*figures[:index], moved, *figures[index + 1 :])
    for calculation in (side.greatest_strip_pressure, side.strip_load_thrust):
        less, more = calculation(*figures).value, calculation(*worse).value
        # Its near edge moves: with the same width, the far one moves with it.
        assert less <= more + 1e-5 * max(more, 1.0)


@pytest.mark.parametrize("clear", [0.0, 12.0])
def test_level_with_the_underside_is_where_the_depths_lead(clear):
    level, just_below = (side.strip_load_pressure(1500.0, clear, 24.0, z).value for z in (0, 1e-6))
    assert level == pytest.approx(just_below, abs=1e-3)
    assert level == (0.0 if clear else 1500.0)


@given(strips)
def test_no_footing_presses_more_sideways_than_down(figures):
    assert side.greatest_strip_pressure(*figures).value <= figures[0] + 1e-5
