"""Bending and shear of the footing over a pit against an independent frame solver (anastruct)."""

import pytest

from survey.engineering.plain_concrete import (
    Span,
    bending_use,
    flexural_strength,
    shear_strength,
    shear_use,
)

anastruct = pytest.importorskip("anastruct")  # not made for the newest Python yet

FOOTING = (3000 * 144.0, 20.0, 10.0)  # psf, in left beside its projection of 4 in, in


@pytest.mark.parametrize(("plf", "span_in"), [(2400.0, 36.0), (3600.0, 60.0)])
def test_moment_at_middle_and_shear_at_h(plf, span_in):
    h = FOOTING[2] - 2.0
    frame = anastruct.SystemElements()
    for start, end in ((0.0, h), (h, span_in / 2), (span_in / 2, span_in)):
        frame.add_element(location=[[start, 0.0], [end, 0.0]])
    frame.add_support_hinged(node_id=1)
    frame.add_support_roll(node_id=4)
    frame.q_load(q=-plf / 12, element_id=[1, 2, 3])
    frame.solve()
    moment = max(abs(frame.get_element_results(element_id=2)["Mmax"]),
                 abs(frame.get_element_results(element_id=2)["Mmin"]))  # fmt: skip
    shears = frame.get_element_results(element_id=2)
    shear = max(abs(shears["Qmin"]), abs(shears["Qmax"]))

    span = Span(plf, span_in, FOOTING[0], FOOTING[1] + 4.0, 4.0, FOOTING[2])
    bending = bending_use(span).value
    assert bending * flexural_strength(*FOOTING).value / 100 == pytest.approx(moment, rel=1e-6)
    sheared = shear_use(span).value
    assert sheared * shear_strength(*FOOTING).value / 100 == pytest.approx(shear, rel=1e-6)
