"""What piers carry: limits, piers that would have to pull, point loads, moments between piers."""

import itertools
import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from survey.engineering import tributary
from survey.engineering.working import Line, Result, Working, not_known, within
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Kind, read_quantity


def carried(wall_length, stations, plf=12.0):
    """What each pier is said to carry, under 1 lb on an inch."""
    return [
        tributary.pier_load(plf, wall_length, s, tuple(o for o in stations if o != s)).value
        for s in stations
    ]


# Limits


CASES = {
    "tributary, station": (lambda x: tributary.tributary_length(480.0, x, ()), 0, 480),
    "tributary, wall": (lambda x: tributary.tributary_length(x, 12.0, ()), 12, 6000),
    "pier load, line load": (lambda x: tributary.pier_load(x, 480.0, 60.0, (200.0,)), 0, 1e6),
    "pier load, other": (lambda x: tributary.pier_load(1e3, 480.0, 60.0, (x,)), 66, 480),
    "with point": (
        lambda x: tributary.pier_load_with_point(1e3, 480.0, 60.0, (200.0,), x), 0, 1e6,
    ),
    "point, load": (
        lambda x: tributary.point_load_on_pier(x, 480.0, 90.0, 60.0, (200.0,)), 0, 1e6,
    ),
    "point, station": (
        lambda x: tributary.point_load_on_pier(1e3, 480.0, x, 60.0, (200.0,)), 0, 480,
    ),
    "factored point": (tributary.factored_point_load, 0, 625000),
    "sagging, line load": (lambda x: tributary.span_demand(x, 480.0, (60.0, 200.0))[0], 0, 1e6),
    "shear, wall": (lambda x: tributary.span_demand(1e3, x, (0.0, 12.0))[2], 12, 6000),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_known_up_to_both_ends_and_not_known_past_them(name):
    calculation, low, high = CASES[name]
    for limit in (low, high):
        assert calculation(float(limit)).known
    for past in (low - 0.001, high + 0.001, math.nan, math.inf, -math.inf):
        found = calculation(past)
        assert found.value is NOT_KNOWN, past
        assert "holds" in found.reason or "another pier" in found.reason


@pytest.mark.parametrize("apart", [0.0, 5.999])
def test_no_two_piers_stand_closer_than_a_bracket_is_wide(apart):
    others = (60.0 + apart, 300.0)
    for found in (
        tributary.tributary_length(480.0, 60.0, others),
        tributary.pier_load(1e3, 480.0, 60.0, others),
        tributary.point_load_on_pier(1e3, 480.0, 90.0, 60.0, others),
        *tributary.span_demand(1e3, 480.0, (60.0, *others)),
    ):
        assert found.value is NOT_KNOWN
        assert ("same station" if apart == 0 else "5.999 in apart") in found.reason
    assert tributary.wall_reactions(1e3, 480.0, (60.0, *others)) == ()


def test_reactions_of_nothing_are_nothing():
    assert tributary.wall_reactions(1e3, 480.0, ()) == ()
    assert tributary.wall_reactions(math.nan, 480.0, (60.0,)) == ()
    assert tributary.wall_reactions(1e3, 480.0, (481.0,)) == ()
    for found in tributary.span_demand(1e3, 480.0, ()):
        assert found.reason == "no pier stands on the wall"


def test_reactions_come_in_the_order_of_the_stations():
    assert tributary.wall_reactions(12.0, 240.0, (120.0, 240.0, 0.0)) == pytest.approx(
        (150.0, 45.0, 45.0)
    )


# Simple or continuous


def test_one_pier_carries_the_whole_wall():
    assert carried(480.0, (60.0,)) == [480.0]


def test_an_end_that_stands_out_loads_the_last_pier_by_its_lever():
    # 20 + 60 / 2 = 50 in as simple spans, (60 + 20)^2 / (2 x 60) as a lever
    assert carried(80.0, (0.0, 60.0)) == pytest.approx([30.0, 80**2 / 120])


def test_a_pier_that_would_have_to_pull_is_left_out():
    # Tied down at 60, the pier at 72 would carry more than the whole wall.
    piers = (60.0, 72.0, 360.0)
    found = tributary.wall_reactions(12.0, 400.0, piers)
    two = tributary.wall_reactions(12.0, 400.0, (72.0, 360.0))
    assert found == pytest.approx((0.0, *two))
    result = tributary.pier_load(12.0, 400.0, 60.0, (72.0, 360.0))
    assert result.value == 66.0  # it still carries its simple share
    assert any("left out" in line.meaning for line in result.working.lines)


def test_a_long_end_turns_the_wall_no_more_than_the_rest_can_hold():
    # 300 in beyond a pier 60 in from the other: the wall tips off that, and all of it is on one.
    assert tributary.wall_reactions(12.0, 360.0, (0.0, 60.0)) == pytest.approx((0.0, 360.0))
    demand = tributary.span_demand(12.0, 360.0, (0.0, 60.0))
    assert demand.hogging.value == pytest.approx(300**2 / 2)
    assert demand.shear.value == pytest.approx(300.0)


def test_the_working_shows_both_ways():
    result = tributary.pier_load(1800.0, 480.0, 120.0, (20.0, 300.0, 420.0))
    lines = {line.symbol: line for line in result.working.lines}
    assert lines["l1"].result == "140 in"
    simple, continuous = (read_quantity(lines[s].result, Kind.LENGTH, None) for s in ("l1", "l2"))
    length = read_quantity(lines["l"].result, Kind.LENGTH, None)
    assert length == max(simple, continuous) > simple
    assert read_quantity(lines["P"].result, Kind.FORCE, None) == pytest.approx(
        result.value, abs=0.0006
    )
    assert result.value == pytest.approx(1800 * length / 12, rel=1e-4)
    assert "nothing rests on the ground" in result.working.validity


# Point loads


def test_a_point_load_over_the_pit_is_all_on_its_pier():
    alone = tributary.pier_load(1800.0, 480.0, 60.0, (200.0,))
    found = tributary.pier_load_with_point(1800.0, 480.0, 60.0, (200.0,), 2500.0)
    assert found.value == alone.value + 2500
    lines = {line.symbol: line for line in found.working.lines}
    assert lines["Pw"].result == alone.working.lines[-1].result
    assert lines["Q"].result == "2,500 lb"
    assert found.working.lines[-1].symbol == "P"


def test_no_point_load_is_not_the_same_as_an_unknown_one():
    alone = tributary.pier_load(1800.0, 480.0, 60.0, (200.0,))
    args = (1800.0, 480.0, 60.0, (200.0,))
    assert tributary.pier_load_with_point(*args, DOES_NOT_APPLY) == alone
    found = tributary.pier_load_with_point(*args, NOT_KNOWN)
    assert found.value is NOT_KNOWN
    assert found.reason == "the point load at the pier is not known"
    assert "holds" in tributary.pier_load_with_point(-1.0, *args[1:], 2500.0).reason


def test_a_point_load_between_other_piers_leaves_a_pier_alone():
    piers = (0.0, 96.0, 192.0)
    # beyond the next pier a continuous wall lifts off this one
    assert tributary.point_load_on_pier(1e3, 192.0, 150.0, 0.0, piers[1:]).value == 0.0
    on_it = tributary.point_load_on_pier(1e3, 192.0, 96.0, 96.0, (0.0, 192.0))
    assert on_it.value == pytest.approx(1000.0)
    assert tributary.point_load_on_pier(1e3, 192.0, 20.0, 96.0, ()).value == 1000.0


# Bounds


BOUNDS = within(1000.0, 2000.0, "'wall height': not known", Working("w", "", "", ()))


def test_bounds_of_a_line_load_are_bounds_of_a_pier():
    args = (480.0, 60.0, (200.0,))
    found = tributary.pier_load_range(BOUNDS, *args)
    ends = [tributary.pier_load(plf, *args).value for plf in (1000.0, 2000.0)]
    assert found.value is NOT_KNOWN
    assert found.bounds == tuple(ends)
    assert found.reason == BOUNDS.reason
    assert [line.symbol for line in found.working.lines].count("P") == 2
    pointed = tributary.pier_load_range(BOUNDS, *args, 500.0)
    assert pointed.bounds == tuple(end + 500 for end in ends)


def test_bounds_only_while_they_are_needed_and_known():
    args = (480.0, 60.0, (200.0,))
    assert tributary.pier_load_range(Result(1500.0), *args) == tributary.pier_load(1500.0, *args)
    bare = tributary.pier_load_range(not_known("no wall"), *args)
    assert (bare.reason, bare.bounds) == ("no wall", None)
    off = tributary.pier_load_range(BOUNDS, 480.0, 500.0, ())
    assert off.bounds is None
    assert "station" in off.reason
    unknown = tributary.pier_load_range(BOUNDS, *args, NOT_KNOWN)
    assert (unknown.value, unknown.bounds) == (NOT_KNOWN, None)


# What is printed


def test_every_working_reads():
    demand = tributary.span_demand(1800.0, 480.0, (20.0, 120.0, 300.0, 420.0))
    for found, kind in (
        *((part, None) for part in demand[:2]),
        (demand.shear, Kind.FORCE),
        (tributary.tributary_length(480.0, 60.0, (200.0,)), Kind.LENGTH),
        (tributary.factored_point_load(1234.567), Kind.FORCE),
        (tributary.point_load_on_pier(1e3, 480.0, 90.0, 60.0, (200.0,)), Kind.FORCE),
    ):
        last: Line = found.working.lines[-1]
        if kind is None:
            assert last.result.endswith(" lb-in")
            printed = float(last.result.removesuffix(" lb-in").replace(",", ""))
        else:
            printed = read_quantity(last.result, kind, None)
        assert printed == pytest.approx(found.value, abs=0.0006)
        for line in found.working.lines:
            assert line.meaning
            assert line.result
            assert not (line.numbers and not line.formula)


# Properties


@st.composite
def layouts(draw):
    """A wall and its piers in order, none closer than 6 in."""
    ends = draw(st.tuples(st.floats(0, 200), st.floats(0, 200)))
    gaps = draw(st.lists(st.floats(6.001, 240), max_size=9))
    length = ends[0] + sum(gaps) + ends[1]
    piers = tuple(itertools.accumulate(gaps, initial=ends[0]))
    assume(length >= 12.0 and piers[-1] <= length)
    return length, piers


@given(layouts(), st.floats(0, 1e6))
def test_what_the_piers_carry_is_the_whole_wall(layout, plf):
    length, piers = layout
    found = tributary.wall_reactions(plf, length, piers)
    assert all(reaction >= 0.0 for reaction in found)
    assert sum(found) == pytest.approx(plf * length / 12, rel=1e-6)
    lengths = [
        tributary.tributary_length(length, s, tuple(o for o in piers if o != s)).value
        for s in piers
    ]
    assert sum(lengths) == pytest.approx(length)


@given(layouts(), st.floats(1, 1e6))
def test_no_pier_is_said_to_carry_less_than_either_way(layout, plf):
    length, piers = layout
    loads = carried(length, piers, plf)
    continuous = tributary.wall_reactions(plf, length, piers)
    for pier, load, pushed in zip(piers, loads, continuous, strict=True):
        others = tuple(o for o in piers if o != pier)
        simple = tributary.tributary_length(length, pier, others).value * plf / 12
        assert load == pytest.approx(max(simple, pushed))
        assert load <= plf * length / 12 * (1 + 1e-9)


@given(layouts(), st.tuples(st.floats(0, 1e6), st.floats(0, 1e6)).map(sorted))
def test_a_heavier_wall_is_never_lighter_on_a_pier_or_a_span(layout, plfs):
    length, piers = layout
    for light, heavy in zip(*(carried(length, piers, plf) for plf in plfs), strict=True):
        assert light <= heavy
    for light, heavy in zip(
        *(tributary.span_demand(plf, length, piers) for plf in plfs), strict=True
    ):
        assert 0.0 <= light.value <= heavy.value


@given(layouts(), st.floats(1, 1e5))
def test_a_wall_seen_from_its_other_end_is_the_same(layout, plf):
    length, piers = layout
    turned = tuple(max(0.0, length - pier) for pier in reversed(piers))
    assume(all(b - a >= 6.0 for a, b in itertools.pairwise(turned)))
    one = tributary.wall_reactions(plf, length, piers)
    other = tributary.wall_reactions(plf, length, turned)
    whole = plf * length / 12
    assert one == pytest.approx(tuple(reversed(other)), rel=1e-6, abs=1e-6 * whole)


@given(layouts())
def test_equilibrium_of_moments_holds_where_no_end_is_too_long(layout):
    length, piers = layout
    assume(piers[0] <= length / 2 <= piers[-1])
    beam = tributary._beam(length, piers)
    assume(beam.supports[0] <= length / 2 <= beam.supports[-1])
    about_left = sum(r * s for r, s in zip(beam.reactions, piers, strict=True))
    assert about_left == pytest.approx(length**2 / 2, rel=1e-6)


@given(layouts(), st.floats(0, 1), st.floats(0, 1e6))
def test_a_point_load_is_carried_in_full_at_least(layout, share, load):
    length, piers = layout
    at = share * length
    found = [
        tributary.point_load_on_pier(load, length, at, s, tuple(o for o in piers if o != s)).value
        for s in piers
    ]
    assert all(part >= 0.0 for part in found)
    assert sum(found) >= load * (1 - 1e-9)
    reactions = tributary._point_reactions(at, piers)
    assert sum(reactions) == pytest.approx(1.0)
    if len(piers) > 1:
        assert sum(r * s for r, s in zip(reactions, piers, strict=True)) == pytest.approx(
            at, rel=1e-6, abs=1e-6 * length
        )


@given(st.floats(), st.floats(), st.lists(st.floats(), min_size=1, max_size=4), st.floats())
def test_no_figures_make_nonsense(plf, length, stations, point):
    for first, *others in itertools.permutations(stations[:3]):
        for found in (
            tributary.pier_load_with_point(plf, length, first, tuple(others), point),
            tributary.point_load_on_pier(point, length, plf, first, tuple(others)),
            *tributary.span_demand(plf, length, (first, *others)),
        ):
            assert found.value is NOT_KNOWN or math.isfinite(found.value)
    assert all(map(math.isfinite, tributary.wall_reactions(plf, length, tuple(stations))))
