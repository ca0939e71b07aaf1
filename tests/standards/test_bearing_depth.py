"""Depth to bearing, sections and headroom: published classes of density, and plane geometry."""

import pytest

from survey.engineering.bearing_depth import (
    Bearing,
    bears,
    depth_to_bearing,
    headroom_needed,
    headroom_use,
    sections_needed,
)
from survey.vocabulary import DOES_NOT_APPLY


@pytest.mark.parametrize(
    ("blows", "expected"),
    # Terzaghi and Peck: N 30 to 50 dense, over 50 very dense; from memory.
    [(4.0, "no"), (30.0, "no"), (49.0, "no"), (50.0, "yes"), (100.0, "yes")],
)
def test_very_dense_from_50_blows(blows, expected):
    assert bears(Bearing("1", 0.0, 120.0, "sand", blows)) == expected


@pytest.mark.parametrize(
    ("tsf", "expected"),
    # Terzaghi and Peck: clay of 1 to 2 tsf stiff, 2 to 4 very stiff, over 4 hard; from memory.
    [(1.5, "no"), (3.9, "no"), (4.0, "maybe"), (4.5, "maybe")],
)
def test_clay_of_less_than_4_tsf_is_not_hard(tsf, expected):
    layer = Bearing("1", 0.0, 120.0, "clay", DOES_NOT_APPLY, tsf * 2000)
    assert bears(layer) == expected


def test_boring_log_read_by_hand():
    # 3 ft of fill, 15 ft of clay with N = 8, 4 ft of dense sand with N = 36, then rock
    log = [
        Bearing("fill", 0.0, 36.0, "fill"), Bearing("clay", 36.0, 216.0, "clay", 8.0),
        Bearing("sand", 216.0, 264.0, "sand", 36.0), Bearing("rock", 264.0, 300.0, "stable rock"),
    ]  # fmt: skip
    assert depth_to_bearing(log, True).value == 22 * 12
    # From a bracket 3 ft down: 19 ft of tube, 5 full sections of 3 ft 6 in and part of a sixth.
    assert sections_needed(264.0, 36.0, 42.0).value == 6


def test_room_to_set_a_section_by_hand():
    # Bracket 1 ft 8 in below the ground, a stand of 3 ft 10 in, a section of 3 ft: its top stands
    # 5 ft 2 in above the ground, just under joists at 5 ft 2 in.
    needed = headroom_needed(36.0, 46.0, -20.0).value
    assert needed == 5 * 12 + 2
    assert headroom_use(needed, 62.0).value == pytest.approx(100.0)
