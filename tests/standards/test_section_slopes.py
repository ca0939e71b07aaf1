"""Slopes as they are measured on a section, against the published ones that the rules name."""

import math

import pytest

from tests.drawn_sections import SLOPED, drawn


def angle_deg(start, end):
    """Of a line to the level."""
    return math.degrees(math.atan2(abs(end[1] - start[1]), abs(end[0] - start[0])))


# 29 CFR 1926 Subpart P App. B Table B-1: type A 3/4H:1V (53 degrees), B 1H:1V (45 degrees), C
# 1 1/2H:1V (34 degrees). The table gives whole degrees; the figure 3/4 is from a secondary copy.
@pytest.mark.parametrize(("slope", "degrees"), [("0.75H:1V", 53), ("1H:1V", 45), ("1.5H:1V", 34)])
def test_slopes_of_table_b_1_come_out_at_their_angles(slope, degrees):
    section = drawn(piers={**SLOPED, "slope_of_sides": slope})
    _, side = section.paths("cut")[:2]
    assert round(angle_deg(*side)) == degrees
    assert f"sloped {slope} ({degrees} deg)" in section.told


# Standard Handbook for Civil Engineers (Merritt), underpinning, as rules/near.rules names it: the
# influence line of a footing falls 1 on 1, and 1 (down) on 2 (out) in loose silt or soft clay.
@pytest.mark.parametrize(("layers", "down", "out"), [({}, 1, 1), ({"layer_seeps": "yes"}, 1, 2)])
def test_influence_lines_fall_as_the_source_has_it(layers, down, out):
    near = {"neighbour_offset": "9 ft", "neighbour_footing_depth": "3 ft"}
    lines = drawn(layers=layers, neighbours=near).paths("influence")
    assert len(lines) == 2  # of our footing and of the neighbour's
    for line in lines:
        assert angle_deg(*line) == pytest.approx(math.degrees(math.atan2(down, out)), abs=0.3)


# 29 CFR 1926.651(j)(2): spoil lies at least 2 ft from the edge of an excavation.
def test_a_set_back_of_two_feet_is_two_feet_on_the_drawing():
    section = drawn(piers={**SLOPED, "spoil_distance": "2 ft"})
    edge = section.paths("cut")[1][1][0]
    assert section.path("heap")[0][0] - edge == pytest.approx(24, abs=0.03)
