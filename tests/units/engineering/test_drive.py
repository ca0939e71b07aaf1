"""Drive load: limits, branches, and never better where there is less to push against."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering import drive
from survey.vocabulary import NOT_KNOWN, Kind, read_quantity

PSI = 144.0
# What is worked out, and one argument with its lowest and highest value.
CASES = {
    "share, drive load": (lambda x: drive.drive_share(x, 20000.0), 0, 1e6),
    "share, pier load": (lambda x: drive.drive_share(30000.0, x), 1, 1e6),
    "pressure, load": (lambda x: drive.cylinder_pressure(x, 7.0), 0, 1e6),
    "pressure, area": (lambda x: drive.cylinder_pressure(30000.0, x), 0.1, 500),
    "pressure used, load": (lambda x: drive.cylinder_use(x, 7.0, 5000 * PSI), 0, 1e6),
    "pressure used, greatest": (lambda x: drive.cylinder_use(3e4, 7.0, x * PSI), 100, 20000),
    "engaged, dead load": (lambda x: drive.dead_load_engaged(x, 480.0, 60.0, (), 90.0), 1, 1e6),
    "engaged, wall": (lambda x: drive.dead_load_engaged(1e3, x, 6.0, (), 90.0), 12, 6000),
    "engaged, station": (lambda x: drive.dead_load_engaged(1e3, 480.0, x, (), 90.0), 0, 480),
    "engaged, next pier": (lambda x: drive.dead_load_engaged(1e3, 480.0, 9.0, (x,), 90.0), 0, 480),
    "engaged, depth": (lambda x: drive.dead_load_engaged(1e3, 480.0, 60.0, (), x), 1, 432),
    "lift, drive load": (lambda x: drive.lift_use(x, 1200.0, 480.0, 60.0), 0, 1e6),
    "lift, dead load": (lambda x: drive.lift_use(30000.0, x, 480.0, 60.0), 1, 1e6),
    "lift, wall": (lambda x: drive.lift_use(30000.0, 1200.0, x, 6.0), 12, 6000),
    "lift, station": (lambda x: drive.lift_use(30000.0, 1200.0, 480.0, x), 0, 480),
}


@pytest.mark.parametrize("name", CASES)
def test_known_up_to_both_ends_and_not_known_past_them(name):
    calculation, low, high = CASES[name]
    for limit in (low, high):
        assert calculation(float(limit)).known, limit
    for past in (math.nextafter(low, -math.inf) - 0.001, math.nextafter(high, math.inf) * 1.001,
                 math.nan, math.inf, -math.inf):  # fmt: skip
        result = calculation(past)
        assert result.value is NOT_KNOWN, past
        assert "holds" in result.reason


@pytest.mark.parametrize(
    ("result", "kind"),
    [
        (drive.drive_share(30000.0, 21000.0), Kind.SHARE),
        (drive.cylinder_pressure(31000.0, 7.07), Kind.PRESSURE),
        (drive.cylinder_use(31000.0, 7.07, 6000 * PSI), Kind.SHARE),
        (drive.dead_load_engaged(1234.5, 480.0, 61.0, (150.3,), 47.0), Kind.FORCE),
        (drive.lift_use(31000.0, 1234.5, 481.0, 61.3), Kind.SHARE),
    ],
)
def test_last_line_is_the_value(result, kind):
    last = result.working.lines[-1]
    assert read_quantity(last.result, kind, None) == pytest.approx(result.value, abs=0.0006)
    assert result.working.title
    assert result.working.source
    assert result.working.validity
    assert all(line.meaning and line.result for line in result.working.lines)


def test_the_gauge_is_printed_in_psi():
    printed = [line.result for line in drive.cylinder_pressure(30000.0, 7.5).working.lines]
    assert printed[-2:] == ["4,000 psi", "576,000 psf"]


def test_each_side_engages_as_far_as_its_own_limit():
    def engaged(station, others, depth):
        return drive.dead_load_engaged(1200.0, 480.0, station, others, depth).value

    assert engaged(240.0, (144.0, 360.0), 96.0) == 100 * (48 + 60)  # half way to the next piers
    assert engaged(240.0, (144.0, 360.0), 30.0) == 100 * (30 + 30)  # spread through a low wall
    assert engaged(20.0, (116.0,), 96.0) == 100 * (20 + 48)  # the end of the wall
    assert engaged(0.0, (), 96.0) == 100 * 96  # a lone pier at a corner
    assert engaged(240.0, (), 96.0) == 100 * 192  # a lone pier does not lift the whole wall


def test_two_piers_at_one_station_are_noticed():
    assert "same station" in drive.dead_load_engaged(1e3, 480.0, 60.0, (60.0,), 90.0).reason


def test_either_end_of_the_wall_is_the_same():
    left, right = (drive.lift_use(30000.0, 1200.0, 480.0, s) for s in (60.0, 420.0))
    assert left.value == right.value
    shown = {line.symbol: line.result for line in right.working.lines}
    assert (shown["W"], shown["m"]) == ("48,000 lb", "60 in")
    assert shown["F1"] == "27,428.571 lb"  # 48,000 x 480 / (2 x 420)


def test_the_working_of_the_lift_says_what_is_left_out():
    assert "walls that meet it" in drive.lift_use(3e4, 1e3, 480.0, 0.0).working.validity


two = st.tuples(st.floats(0, 1), st.floats(0, 1)).map(sorted)


def between(low, high):
    return two.map(lambda pair: [low + share * (high - low) for share in pair])


@given(between(1, 1e6), between(0.1, 500), between(100 * PSI, 20000 * PSI))
def test_more_load_less_area_or_weaker_hose_is_never_used_less(loads, areas, greatest):
    def use(load, area, most):
        return drive.cylinder_use(load, area, most).value

    worst = use(loads[1], areas[0], greatest[0])
    assert worst >= use(loads[0], areas[0], greatest[0])
    assert worst >= use(loads[1], areas[1], greatest[0])
    assert worst >= use(loads[1], areas[0], greatest[1])


@given(between(0, 1e6), between(1, 1e6))
def test_a_heavier_pier_is_never_proved_more(drives, loads):
    assert drive.drive_share(drives[0], loads[0]).value >= drive.drive_share(
        drives[0], loads[1]
    ).value  # fmt: skip
    assert drive.drive_share(drives[0], loads[0]).value <= drive.drive_share(
        drives[1], loads[0]
    ).value  # fmt: skip


@given(
    between(1, 1e5), between(1, 432), st.floats(0, 480), st.lists(st.floats(0, 480), max_size=4),
    st.floats(0, 480),
)  # fmt: skip
def test_a_lighter_or_lower_wall_or_one_more_pier_never_engages_more(
    loads, depths, station, others, more
):
    def engaged(load, depth, piers):
        value = drive.dead_load_engaged(load, 480.0, station, tuple(piers), depth).value
        return value if isinstance(value, float) else 0.0

    best = engaged(loads[1], depths[1], others)
    assert engaged(loads[0], depths[1], others) <= best
    assert engaged(loads[1], depths[0], others) <= best
    assert engaged(loads[1], depths[1], [*others, more]) <= best


@given(between(0, 1e6), between(1, 1e6), between(12, 6000), between(0, 0.5))
def test_nearer_an_end_lighter_shorter_or_more_load_never_lifts_less(loads, dead, walls, shares):
    def use(load, plf, length, station):
        return drive.lift_use(load, plf, length, station).value * (1 + 1e-9)

    near, far = (share * walls[0] for share in shares)
    worst = use(loads[1], dead[0], walls[0], near)
    assert worst >= drive.lift_use(loads[0], dead[0], walls[0], near).value
    assert worst >= drive.lift_use(loads[1], dead[1], walls[0], near).value
    assert worst >= drive.lift_use(loads[1], dead[0], walls[1], near).value
    assert worst >= drive.lift_use(loads[1], dead[0], walls[0], far).value
    assert worst >= drive.lift_use(loads[1], dead[0], walls[0], walls[0] - far).value


@given(st.lists(st.floats(allow_nan=True, allow_infinity=True), min_size=5, max_size=5))
def test_any_figures_give_a_finite_value_or_none(figures):
    a, b, c, d, e = figures
    for result in (
        drive.drive_share(a, b), drive.cylinder_pressure(a, b), drive.cylinder_use(a, b, c),
        drive.lift_use(a, b, c, d), drive.dead_load_engaged(a, b, c, (d,), e),
    ):  # fmt: skip
        assert result.value is NOT_KNOWN or math.isfinite(result.value)
