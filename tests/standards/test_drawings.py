"""What drawings show by open standards, and their plane geometry against shapely's own shapes."""

import math
import random

import pytest
import shapely

from survey.drawings.fitting import clipped_area, clipped_line
from survey.drawings.labels import Box
from survey.drawings.plan_parts import CODED, offset_outline, zone_corners
from survey.quantities.outlines import NeighbourOutline, UtilityLine
from survey.vocabulary import VOCABULARY

# APWA Uniform Color Code, after ANSI Z535.1 (from memory): red electric power lines, cables and
# conduit; yellow gas, oil, steam, petroleum or gaseous materials; orange communication, alarm or
# signal lines; blue potable water; purple reclaimed water, irrigation and slurry lines; green
# sewers and drain lines.
APWA = {
    "red": {"electric"},
    "yellow": {"gas", "propane", "steam", "fuel or oil tank"},
    "orange": {"telephone or data"},
    "blue": {"water", "well or cistern"},
    "purple": {"irrigation"},
    "green": {"sewer", "storm drain", "septic"},
}
FRAME = Box(0.0, 0.0, 100.0, 80.0)


def test_colours_of_buried_lines():
    assert {kind: code.colour for kind, code in CODED.items()} == {
        kind: colour for colour, kinds in APWA.items() for kind in kinds
    }


def test_every_kind_but_the_unidentified_has_a_colour_and_a_letter_of_its_own():
    kinds = set(VOCABULARY["utility kind"].choices)
    assert kinds - set(CODED) == {"not identified"}
    letters = [code.letter for code in CODED.values()]
    assert len(set(letters)) == len(letters)


@pytest.mark.parametrize("seed", range(50))
def test_lines_and_areas_are_cut_as_shapely_cuts_them(seed):
    rng = random.Random(seed)
    box = shapely.box(*FRAME)
    points = [(rng.uniform(-60, 160), rng.uniform(-60, 140)) for _ in range(5)]
    parts = clipped_line(points, FRAME)
    cut = shapely.intersection(shapely.LineString(points), box)
    assert sum(shapely.LineString(part).length for part in parts) == pytest.approx(cut.length)
    middle, angles = points[0], sorted(rng.uniform(0, 2 * math.pi) for _ in range(4))
    area = [(middle[0] + 70 * math.cos(a), middle[1] + 70 * math.sin(a)) for a in angles]
    left = clipped_area(area, FRAME)
    wanted = shapely.intersection(shapely.Polygon(area), box).area
    assert (shapely.Polygon(left).area if len(left) > 2 else 0.0) == pytest.approx(wanted)


@pytest.mark.parametrize("seed", range(20))
def test_tolerance_zone_is_a_buffer_square_at_its_ends(seed):
    rng = random.Random(seed)
    ends = tuple((rng.uniform(-500, 500), rng.uniform(-500, 500)) for _ in range(2))
    half = rng.uniform(5, 60)
    zone = shapely.Polygon(zone_corners(UtilityLine("gas", "gas", ends, 2.0, half), half))
    buffer = shapely.LineString(ends).buffer(half, cap_style="square")
    assert zone.symmetric_difference(buffer).area == pytest.approx(0, abs=1e-6 * zone.area)


@pytest.mark.parametrize("seed", range(20))
def test_influence_line_is_everywhere_so_far_from_the_neighbour(seed):
    rng = random.Random(seed)
    turn, by = rng.uniform(0, 2 * math.pi), rng.uniform(5, 150)
    out = (math.cos(turn), math.sin(turn))
    start = (rng.uniform(-300, 300), rng.uniform(-300, 300))
    wide = rng.choice([0.0, rng.uniform(-400, 400)])
    end = (start[0] - out[1] * wide, start[1] + out[0] * wide)
    line = offset_outline(NeighbourOutline("No. 3", "house", (start, end), out, 24.0), by)
    far = [(x + 1e7 * out[0], y + 1e7 * out[1]) for x, y in (end, start)]
    neighbour = shapely.Polygon([start, end, *far]) if wide else shapely.LineString([start, far[1]])
    for point in line:
        assert neighbour.distance(shapely.Point(point)) == pytest.approx(by, abs=0.01)
