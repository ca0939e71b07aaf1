"""Tube: limits, branches, workings that add up, and never better where it is worse."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering import tube as t
from survey.engineering.tube import Head, Sleeve, Tube
from survey.vocabulary import NOT_KNOWN, Kind, read_quantity

KSI = 144_000.0
TUBE = Tube(3.5, 0.3, 50 * KSI)
SLEEVE = Sleeve(Tube(4.5, 0.337, 50 * KSI), 84.0)
HEAD = Head(3.0, 80.0)


def strength(length=80.0, held="yes", loss=0.0, **changed):
    return t.compression_strength(TUBE._replace(**changed), length, held, loss)


def driving(load=15000.0, length=80.0, held="yes", tube=TUBE, **head):
    return t.driving_use(load, tube, length, held, HEAD._replace(**head))


def service(*, load=10000.0, loss=0.036, justified="no", **head):
    return t.service_use(load, TUBE, 0.0, "yes", HEAD._replace(**head), loss_of_face_in=loss,
                         stress_justified=justified)  # fmt: skip


def sleeved(length=84.0, **changed):
    return driving(sleeve=Sleeve(SLEEVE.tube._replace(**changed), length))


CASES = {
    "blow count": (t.lateral_ground, 0, 1000),
    "open length": (lambda x: t.unsupported_length(x, "firm"), 0, 240),
    "strength, diameter": (lambda x: strength(outside_diameter_in=x, wall_thickness_in=0.5), 2, 20),
    "strength, yield": (lambda x: strength(yield_strength_psf=x * KSI), 30, 80),
    "strength, length": (lambda x: strength(length=x, outside_diameter_in=20.0,
                                            wall_thickness_in=1.0), 0, 600),
    "driving, load": (lambda x: driving(load=x), 0, 1e6),
    "driving, eccentricity": (lambda x: driving(eccentricity_in=x), 0, 24),
    "driving, moment length": (lambda x: driving(moment_length_in=x), 60, 600),
    "sleeve, length": (lambda x: sleeved(length=x), 0, 600),
    "service, load": (lambda x: service(load=x), 0, 1e6),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_known_up_to_both_ends_and_not_known_past_them(name):
    calculation, low, high = CASES[name]
    for limit in (low, high):
        result = calculation(float(limit))
        assert result.known, result.reason
    for past in (math.nextafter(low, -math.inf) - 0.001, math.nextafter(high, math.inf) * 1.01,
                 math.nan, math.inf, -math.inf):  # fmt: skip
        result = calculation(past)
        assert result.value is NOT_KNOWN, past
        assert "holds" in result.reason


def test_wall_thickness_on_both_limits():
    def known(wall, diameter):
        return strength(wall_thickness_in=wall, outside_diameter_in=diameter).known

    assert known(0.05, 2.0)
    assert not known(0.0499, 2.0)
    assert known(2.0, 20.0)
    assert not known(2.001, 20.0)
    assert known(0.5, 2.0)  # D/t = 4.3
    assert not known(0.55, 2.0)  # D/t = 3.9


def test_slenderness_up_to_200():
    radius = t.section_of(3.5, 0.279).radius_of_gyration
    assert strength(length=199.9 * radius).known
    assert "200" in strength(length=200.1 * radius).reason
    assert strength(length=95.0 * radius, held="no").known
    assert "engineer" in strength(length=96.0 * radius, held="no").reason


def test_what_is_not_known_of_the_words_is_not_guessed():
    assert not strength(held="not known").known
    assert not service(justified="maybe").known
    assert "engineer" in t.unsupported_length(10.0, "fluid").reason


def test_nothing_left_of_a_wall():
    assert "nothing is left" in service(loss=0.14).reason
    assert "D/t" in service(loss=0.12).reason  # what is left is too thin for the method
    assert service(loss=0.1).known


def test_a_held_head_is_stronger_than_a_free_one():
    assert strength(held="yes").value > strength(held="no").value
    assert driving(held="yes").value < driving(held="no").value


def test_at_least_3_in_of_eccentricity():
    assert driving(eccentricity_in=0.0).value == driving(eccentricity_in=3.0).value
    assert driving(eccentricity_in=3.0).value < driving(eccentricity_in=3.5).value


def test_a_sleeve_counts_only_where_it_reaches_and_fits():
    alone = driving().value
    assert sleeved().value < alone
    assert sleeved(length=80.0).value < alone
    short = sleeved(length=79.9)
    assert short.value == alone
    assert any("not counted" in line.meaning for line in short.working.lines)
    assert "goes into it" in sleeved(outside_diameter_in=4.1).reason
    assert "yield strength of the sleeve" in sleeved(yield_strength_psf=20 * KSI).reason


def test_a_sleeve_is_judged_itself_and_the_worse_of_both_counts():
    def printed(load=15000.0, out=3.0, **changed):
        sleeve = SLEEVE._replace(tube=SLEEVE.tube._replace(**changed))
        found = driving(load, sleeve=sleeve, eccentricity_in=out)
        lines = {line.symbol: line.result.removesuffix(" %") for line in found.working.lines}
        alone = next(line for line in found.working.lines if line.meaning.endswith("tube alone"))
        us, ut = float(lines["us"]), float(lines["ut"])
        return found.value, us, ut, float(alone.result.removesuffix(" %"))

    use, us, ut, alone = printed(1000.0, 24.0, yield_strength_psf=30 * KSI)
    assert ut < us < alone
    assert use == pytest.approx(us, abs=0.001)
    use, us, ut, alone = printed()
    assert us < ut < alone
    assert use == pytest.approx(ut, abs=0.001)


def test_noncompact_tube_bends_by_f8_2():
    # D/t between 0.07 and 0.11 E/Fy
    found = driving(tube=Tube(10.0, 0.2, 50 * KSI))
    line = next(line for line in found.working.lines if line.symbol == "Mc")
    assert line.formula == "min(Fy Z, (0.021 E / (D/t) + Fy) S) / 1.67"


def test_past_the_euler_load_the_use_is_far_over_100():
    found = driving(load=60_000.0, length=140.0)
    assert found.value > 10_000
    assert any(line.numbers == "1.6 P at or past the Euler load" for line in found.working.lines)


RESULTS = [
    (strength(), Kind.FORCE), (strength(loss=0.036, held="no"), Kind.FORCE),
    (driving(), Kind.SHARE), (driving(sleeve=SLEEVE), Kind.SHARE), (service(), Kind.SHARE),
    (service(justified="yes", sleeve=SLEEVE), Kind.SHARE),
    (driving(tube=Tube(10.0, 0.2, 50 * KSI)), Kind.SHARE),
    (driving(tube=Tube(2.375, 0.154, 50 * KSI), load=5000.0), Kind.SHARE),
    (t.unsupported_length(20.5, "soft"), Kind.LENGTH),
    (t.unsupported_length(0.0, "soft"), Kind.LENGTH),
]  # fmt: skip


@pytest.mark.parametrize(("result", "kind"), RESULTS)
def test_last_line_is_the_value(result, kind):
    last = result.working.lines[-1]
    assert read_quantity(last.result, kind, None) == pytest.approx(result.value, abs=0.0006)
    assert all(line.meaning and line.result for line in result.working.lines)
    assert result.working.source
    assert result.working.validity


def test_numbers_put_in_give_the_result():
    checked = 0
    for result, _ in RESULTS:
        for line in result.working.lines:
            plain = re.sub(r"(\d),(?=\d{3}\b)", r"\1", line.numbers)  # thousands, not arguments
            plain = plain.replace(" x ", " * ").replace("^", "**").replace("100 max", "100 * max")
            printed = re.fullmatch(r"(-?[\d,.]+)(?: \D+\d?)?", line.result)
            if (
                not plain
                or printed is None
                or re.search(r"[a-z]", re.sub("sqrt|max|min", "", plain))
            ):
                continue
            names = {"sqrt": math.sqrt, "max": max, "min": min}
            value = eval(plain, {"__builtins__": {}}, names)  # numbers of our own making
            shown = float(printed[1].replace(",", ""))
            assert shown == pytest.approx(value, rel=5e-4, abs=0.01), line
            checked += 1
    assert checked > 100


tubes = st.builds(Tube, st.floats(2, 12), st.floats(0.05, 1), st.floats(30 * KSI, 80 * KSI))
held = st.sampled_from(["yes", "no"])
lengths = st.floats(0, 300)
columns = st.tuples(tubes, lengths, held)
losses = st.floats(0, 0.1)
loads = st.floats(0, 2e5)
heads = st.builds(
    Head, st.floats(0, 24), st.floats(60, 200),
    st.none() | st.builds(Sleeve, st.builds(Tube, st.floats(3, 14), st.floats(0.1, 0.5),
                                            st.floats(30 * KSI, 80 * KSI)), st.floats(0, 300)),
)  # fmt: skip


def worse(better, worse_):
    """The worse one is used at least as much, or can't be told."""
    if better.known and worse_.known:
        # To rounding: a tube may be bent by the most that counts.
        assert worse_.value >= better.value * (1 - 1e-9)


@given(columns, loads, heads, st.floats(0, 1))
def test_longer_heavier_or_further_out_is_never_better(column, load, head, more):
    tube, length, how = column
    base = t.driving_use(load, tube, length, how, head)
    worse(base, t.driving_use(load, tube, length * (1 + more), how, head))
    worse(base, t.driving_use(load * (1 + more), tube, length, how, head))
    worse(base, t.driving_use(load, tube, length, "no", head))
    further = head._replace(eccentricity_in=min(head.eccentricity_in * (1 + more), 24.0))
    worse(base, t.driving_use(load, tube, length, how, further))
    longer = head._replace(moment_length_in=head.moment_length_in * (1 + more))
    worse(base, t.driving_use(load, tube, length, how, longer))


@given(columns, loads, st.floats(0, 24), st.floats(0, 1))
def test_a_thinner_or_weaker_tube_is_never_better(column, load, out, less):
    tube, length, how = column
    head = Head(out, 60.0)
    base = t.driving_use(load, tube, length, how, head)
    thin = tube._replace(wall_thickness_in=tube.wall_thickness_in * (1 - 0.9 * less))
    weak = tube._replace(yield_strength_psf=tube.yield_strength_psf * (1 - 0.5 * less))
    worse(base, t.driving_use(load, thin, length, how, head))
    worse(base, t.driving_use(load, weak, length, how, head))


@given(columns, loads, st.floats(0, 24), losses, st.floats(0, 1))
def test_more_corroded_is_never_better(column, load, out, loss, more):
    def use(lost, justified):
        return t.service_use(load, *column, Head(out, 60.0), loss_of_face_in=lost,
                             stress_justified=justified)  # fmt: skip

    for justified in ("yes", "no"):
        worse(use(loss, justified), use(loss * (1 + more), justified))
    worse(use(loss, "yes"), use(loss, "no"))


@given(tubes, lengths, held, losses)
def test_compression_is_never_over_yield_or_euler(tube, length, how, loss):
    found = t.compression_strength(tube, length, how, loss)
    if not found.known:
        return
    section = t.section_of(
        tube.outside_diameter_in - 2 * loss, 0.93 * tube.wall_thickness_in - 2 * loss
    )
    slack = 1 + 1e-9
    assert found.value * 1.67 <= tube.yield_strength_psf / 144 * section.area * slack
    effective = length * (1.0 if how == "yes" else 2.1)
    if effective > 1:
        assert found.value * 1.67 <= math.pi**2 * 29e6 * section.inertia / effective**2 * slack


@given(columns, loads, heads)
def test_a_sleeve_never_makes_it_worse(column, load, head):
    sleeved_, alone = (
        t.driving_use(load, *column, each) for each in (head, head._replace(sleeve=None))
    )
    if sleeved_.known:
        assert sleeved_.value <= alone.value


anything = st.floats(allow_nan=True, allow_infinity=True)


@given(st.lists(anything, min_size=9, max_size=9), held)
def test_any_figures_give_a_finite_value_or_none(figures, how):
    a, b, c, d, e, f, g, h, i = figures
    tube = Tube(a, b, c)
    for result in (
        t.compression_strength(tube, d, how, e), t.unsupported_length(d, "firm"),
        t.driving_use(f, tube, d, how, Head(g, h, Sleeve(Tube(a, b, c), i))),
        t.driving_use(f, TUBE, d, how, Head(g, h, Sleeve(Tube(a, b, c), i))),
        t.service_use(f, TUBE, d, how, Head(g, h), loss_of_face_in=e, stress_justified=how),
    ):  # fmt: skip
        assert result.value is NOT_KNOWN or math.isfinite(result.value)
    assert t.lateral_ground(a).value in (NOT_KNOWN, *t.GROUNDS)


@given(columns, st.floats(0, 1e6), heads, losses)
def test_figures_in_range_are_finite_too(column, load, head, loss):
    result = t.service_use(load, *column, head, loss_of_face_in=loss,
                           stress_justified="no")  # fmt: skip
    assert result.value is NOT_KNOWN or 0 <= result.value < math.inf
