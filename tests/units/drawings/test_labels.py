"""Labels find a place of their own, a number, or a line in the list; none is lost."""

import itertools
import random

import pytest

from survey.drawings.labels import (
    LONGEST_LABEL,
    UNMARKED,
    Box,
    Label,
    Taken,
    place,
    text_width,
    wrapped,
)
from survey.drawings.shapes import Path, Text

ROOM = Box(0, 0, 100, 60)


def label(text, at=(50.0, 30.0), **more):
    return Label(text, (at,), 2.5, "name", **more)


def boxes(shapes):
    """Left, top, right and bottom of each text."""
    return [
        (s.at[0] - s.width_mm / 2, s.at[1] - 0.92 * s.size_mm,
         s.at[0] + s.width_mm / 2, s.at[1] + 0.25 * s.size_mm)
        for s in shapes if isinstance(s, Text)
    ]  # fmt: skip


def apart(shapes):
    return not any(
        a[0] < b[2] - 0.01 and b[0] < a[2] - 0.01 and a[1] < b[3] and b[1] < a[3]
        for a, b in itertools.combinations(boxes(shapes), 2)
    )


@pytest.mark.parametrize("towards", [(1, 0), (-1, 0), (0, 1), (0, -1)])
def test_a_label_stands_where_it_is_wished(towards):
    ((left, top, right, bottom),) = boxes(
        place([label("P1", clear_mm=2, towards=towards)], Taken(ROOM)).shapes
    )
    x, y = (left + right) / 2 - 50, (top + bottom) / 2 - 30
    assert x * towards[0] + y * towards[1] > 2
    assert abs(x * towards[1] + y * towards[0]) < 0.5


def test_a_label_keeps_off_a_mark_and_a_text_it_must_keep_off():
    taken = Taken(ROOM)
    taken.add_mark(Box(50, 20, 100, 40))
    taken.add_text(Box(0, 0, 49, 29))
    ((left, top, right, bottom),) = boxes(place([label("P1", clear_mm=1)], taken).shapes)
    assert right <= 50 or bottom <= 20 or top >= 40 or left >= 100
    assert not (left < 49 and top < 29)


def test_labels_of_one_point_are_led_to_it():
    found = place([label(f"P{i}") for i in range(20)], Taken(ROOM))
    assert apart(found.shapes)
    leaders = [shape for shape in found.shapes if isinstance(shape, Path)]
    assert leaders
    assert all(leader.points[0] == (50.0, 30.0) for leader in leaders)
    assert not found.listed


def test_a_long_label_stands_in_the_list_under_its_number():
    long = "x" * (LONGEST_LABEL + 1)
    found = place([label("P1"), label(long, (20.0, 20.0))], Taken(ROOM), first=4)
    assert found.listed == (("#4", long),)
    assert {shape.text for shape in found.shapes if isinstance(shape, Text)} == {"P1", "#4"}


def test_where_there_is_no_room_at_all_the_list_has_it():
    taken = Taken(Box(0, 0, 1, 1))
    assert place([label("P1")], taken) == ((), ((UNMARKED, "P1"),))


@pytest.mark.parametrize("seed", range(10))
def test_crowds_stand_apart_and_none_is_lost(seed):
    rng = random.Random(seed)
    names = [f"{i}{'y' * rng.choice([0, 2, 9, 30])}" for i in range(120)]
    labels = [
        label(name, (rng.uniform(0, 100), rng.uniform(0, 60)), clear_mm=rng.choice([0, 2]),
              on=rng.random() < 0.3)
        for name in names
    ]  # fmt: skip
    found = place(labels, Taken(ROOM))
    assert apart(found.shapes)
    shown = [shape.text for shape in found.shapes if isinstance(shape, Text)]
    listed = dict(found.listed)
    kept = [text for text in shown if text not in listed]
    assert sorted([*kept, *listed.values()]) == sorted(names) or len(shown) + sum(
        number == UNMARKED for number, _ in found.listed
    ) == len(names)
    assert all(
        left >= 0 and top >= -0.01 and right <= 100 and bottom <= 60.01
        for left, top, right, bottom in boxes(found.shapes)
    )


def test_lines_are_no_wider_than_asked_and_lose_nothing():
    text = "a few words and " + "W" * 200 + " and more"
    lines = wrapped(text, 2.5, 40)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert max(text_width(line, 2.5) for line in lines) <= 40
    assert wrapped("", 2.5, 40) == ()
