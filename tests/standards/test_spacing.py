"""Greatest spacing of piers against the AISC beam tables and a frame solver."""

import itertools

import pytest

from survey.engineering import plain_concrete
from survey.engineering.plain_concrete import Section
from survey.engineering.reinforced_concrete import Bars
from survey.engineering.spacing import greatest_overhang, greatest_pier_spacing

PSI = 144.0
SECTION = Section(2500 * PSI, 20.0, 10.0)


def test_moment_and_shear_of_two_equal_spans_aisc_table_3_22c():
    # AISC Manual Table 3-22c, two equal spans with even load, from memory: moment over the middle
    # support 0.125 w L^2, shear beside it 0.625 w L. At the greatest spacing one of both is
    # reached exactly, shear at h from the support.
    bending = plain_concrete.flexural_strength(*SECTION).value
    shear = plain_concrete.shear_strength(*SECTION).value
    spans = [greatest_pier_spacing(plf, SECTION).value for plf in (500.0, 20000.0)]
    assert 0.125 * 500.0 / 12 * spans[0] ** 2 == pytest.approx(bending)
    load = 20000.0 / 12
    assert 0.625 * load * spans[1] - load * 8.0 <= shear * (1 + 1e-9)
    assert 0.125 * load * spans[1] ** 2 <= bending * (1 + 1e-9)


def test_bending_or_shear_governs():
    # Sm = 12 x 34^2 / 6, both strengths by hand: phi Mn = 346,800, phi Vn = 16,320 lb
    deep = Section(2500 * PSI, 12.0, 36.0)
    span = greatest_pier_spacing(60000.0, deep).value
    assert span == pytest.approx((346800 * 8 / 5000) ** 0.5)
    # by shear it is (16,320 / 5,000 + 34) / 0.625 = 59.6 in; with many bars shear governs:
    # phi Vn = 0.75 sqrt(2,500) x 12 x 32.5 = 14,625 lb at d = 32.5 in
    many = Bars("#8", 5, 3.0, 60000 * PSI, 240.0, "deformed")
    span = greatest_pier_spacing(6000.0, deep, many).value
    assert span == pytest.approx((14625 / 500 + 32.5) / 0.625)


def test_moment_and_shear_of_a_cantilever_aisc_table_3_23_case_19():
    # AISC Manual Table 3-23, cantilever with even load, from memory: w a^2 / 2 and w a
    reach = greatest_overhang(2000.0, SECTION).value
    bending = plain_concrete.flexural_strength(*SECTION).value
    assert 2000.0 / 12 * reach**2 / 2 == pytest.approx(bending)


def solved(spans, load):
    """Greatest moment and greatest shear of a continuous beam, by anastruct."""
    anastruct = pytest.importorskip("anastruct")  # not made for the newest Python yet
    frame = anastruct.SystemElements(mesh=100)
    stations = [0.0, *itertools.accumulate(spans)]
    for left, right in itertools.pairwise(stations):
        frame.add_element(location=[[left, 0.0], [right, 0.0]])
    frame.add_support_hinged(node_id=1)
    for node in range(2, len(stations) + 1):
        frame.add_support_roll(node_id=node)
    frame.q_load(q=-load, element_id=list(range(1, len(spans) + 1)))
    frame.solve()
    results = frame.get_element_results()
    moment = max(abs(found[key]) for found in results for key in ("Mmin", "Mmax"))
    shear = max(abs(found[key]) for found in results for key in ("Qmin", "Qmax"))
    return moment, shear


@pytest.mark.parametrize(
    "ratios",
    [(1,), (1, 1), (1, 1, 1), (1, 0.4), (0.4, 1, 0.4), (1, 0.4, 1), (1, 0.4, 0.4, 1),
     (0.4, 0.4, 1, 1, 0.5), (1, 0.7, 0.4, 0.9, 1, 1)],
)  # fmt: skip
def test_no_footing_over_piers_is_loaded_beyond_what_the_spacing_counts_on(ratios):
    longest = greatest_pier_spacing(2000.0, SECTION).value
    spans = [longest * ratio for ratio in ratios]
    load = 2000.0 / 12
    moment, shear = solved(spans, load)
    assert moment <= load * longest**2 / 8 * (1 + 1e-6)
    assert shear <= 0.625 * load * longest * (1 + 1e-6)
    assert moment <= plain_concrete.flexural_strength(*SECTION).value * (1 + 1e-6)
    assert shear - load * 8.0 <= plain_concrete.shear_strength(*SECTION).value


def test_two_equal_spans_reach_both():
    moment, shear = solved([100.0, 100.0], 10.0)
    assert moment == pytest.approx(0.125 * 10 * 100**2, rel=1e-6)
    assert shear == pytest.approx(0.625 * 10 * 100, rel=1e-6)
