"""How figures stand in a drawing."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.drawings.shapes import Drawing, Path
from survey.drawings.svg import write_svg

ON_PAPER = st.floats(-5000, 5000)


def written(*points: tuple[float, float]) -> str:
    drawing = Drawing(100.0, 100.0, "a line", "of points", (Path(points, "line"),))
    found = re.search(r' points="([^"]*)"', write_svg(drawing, "drawing"))
    assert found is not None
    return found[1]


@pytest.mark.parametrize(
    ("figure", "shown"),
    [
        (0.0, "0"), (-0.0, "0"), (-0.001, "0"), (0.05, "0.05"), (-0.05, "-0.05"), (0.1, "0.1"),
        (10.0, "10"), (100.0, "100"), (10.5, "10.5"), (-10.0, "-10"), (20.005, "20"),
        (0.996, "1"), (1000.25, "1000.25"), (-100.0, "-100"), (10.004, "10"), (200.3, "200.3"),
    ],
)  # fmt: skip
def test_figures_of_a_line_are_to_a_hundredth_without_noughts(figure, shown):
    assert written((figure, 7.0), (7.0, figure)) == f"{shown},7 7,{shown}"


@given(st.lists(st.tuples(ON_PAPER, ON_PAPER), min_size=1))
def test_every_figure_is_read_back_as_near_as_a_hundredth(points):
    read = [tuple(map(float, pair.split(","))) for pair in written(*points).split(" ")]
    assert read == [(round(x, 2), round(y, 2)) for x, y in points]
