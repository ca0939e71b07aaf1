"""Charts: a bar is as long as its number, told in words, and clear without colour."""

import re
import xml.etree.ElementTree as ET

import pytest

from survey.drawings.shapes import Path, Text
from survey.drawings.svg import write_svg
from survey.jobs.charts import _BAR_MM, _LABEL_MM, Bar, Fill, chart
from survey.resources import folder

KEY = {Fill.FULL: "stop", Fill.EMPTY: "go"}


def drawn(*bars, whole=10, key=KEY):
    return chart("Bars", bars, whole, key)


def widths(drawing, fill):
    """Widths of the parts of bars that look so, but for the one of the key."""
    parts = [one for one in drawing.shapes if isinstance(one, Path) and one.look == fill.value]
    assert all(one.closed for one in parts)
    return [one.points[1][0] - one.points[0][0] for one in parts][1:]


def texts(drawing):
    return [one.text for one in drawing.shapes if isinstance(one, Text)]


def test_bars_are_as_long_as_their_numbers():
    made = drawn(Bar("a", {Fill.FULL: 5, Fill.EMPTY: 5}, ""), Bar("b", {Fill.FULL: 1}, ""))
    assert widths(made, Fill.FULL) == pytest.approx([_BAR_MM / 2, _BAR_MM / 10])
    assert widths(made, Fill.EMPTY) == pytest.approx([_BAR_MM / 2])


def test_a_part_of_nought_is_not_drawn():
    made = drawn(Bar("a", {Fill.FULL: 0, Fill.EMPTY: 3}, ""))
    assert widths(made, Fill.FULL) == []
    assert "0" not in texts(made)


def test_a_number_stands_in_its_part_where_there_is_room():
    made = drawn(
        Bar("a", {Fill.FULL: 9, Fill.EMPTY: 1}, ""), Bar("b", {Fill.FULL: 1}, ""), whole=99
    )
    assert "9" in texts(made)
    assert "1" not in texts(made)


def test_nothing_lies_beside_the_paper():
    made = drawn(
        Bar("W" * 300, {Fill.FULL: 10}, "10 of 1000 sites"), Bar("w " * 100, {}, "0"), whole=10,
        key=dict.fromkeys(Fill, "GO WITH CONDITIONS"),
    )  # fmt: skip
    for shape in made.shapes:
        if isinstance(shape, Path):
            assert all(-0.01 <= y <= made.height_mm + 0.01 and x >= -0.01 for x, y in shape.points)
        else:
            assert 0 <= shape.at[1] <= made.height_mm


def test_a_long_label_is_cut_and_fits():
    lines = [t for t in drawn(Bar("word " * 60, {}, "")).shapes if isinstance(t, Text)][2:]
    labels = [line for line in lines if line.text]
    assert len(labels) == 2
    assert labels[-1].text.endswith("…")
    assert all(line.width_mm <= _LABEL_MM for line in labels)


def test_it_is_told_in_words_and_is_sound_svg():
    made = drawn(Bar("Spoil <too> near", {Fill.FULL: 4}, "4 of 5 sites"), whole=5)
    assert made.description == "Spoil <too> near: 4 of 5 sites"
    svg = write_svg(made, "rules")
    root = ET.fromstring(svg)
    assert root.get("role") == "img"
    assert "4 of 5 sites" in (root[1].text or "")
    assert "<too>" not in svg


def test_every_look_has_a_look():
    css = (folder("forms") / "charts.css").read_text("utf-8")
    made = drawn(Bar("a", dict.fromkeys(Fill, 1), "6"), whole=6, key=dict.fromkeys(Fill, "x"))
    looks = {shape.look for shape in made.shapes} - {"chart-text"}
    assert len(looks) > len(Fill)
    assert not [look for look in looks if not re.search(rf"\.{look}\b", css)]


def test_fills_differ_without_colour():
    """No two fills have the same lines and the same ground."""
    seen = set()
    for fill in Fill:
        made = drawn(Bar("a", {fill: 10}, ""), key={})
        lines = [one.points for one in made.shapes if getattr(one, "look", "") == "chart-line"]
        ground = {Fill.FULL: "black", Fill.GREY: "grey"}.get(fill, "white")
        seen.add((ground, str(lines)))
    assert len(seen) == len(Fill)
