"""The plan drawing: the outline with its piers and pits, and all that lies round them, to scale."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from survey.assessment import Assessment
from survey.drawings.fitting import Scale, View, bar, clipped_line, extent, scales, turned
from survey.drawings.labels import HEAVY, UNMARKED, Box, Label, Taken, place, wrapped
from survey.drawings.marks import north_arrow, scale_bar, verdict_mark
from survey.drawings.plan_key import ROUND, key, line_of
from survey.drawings.plan_parts import (
    TEXT_MM,
    Reach,
    clear_shapes,
    kept_clear,
    line_shapes,
    neighbour_shapes,
    pit_shapes,
    reach_shapes,
    wall_shapes,
    zone_corners,
    zone_shapes,
)
from survey.drawings.plan_reach import reaches, spoil_back, vehicles_back
from survey.drawings.plan_remarks import remarks, short
from survey.drawings.shapes import Circle, Drawing, Path, Point, Shape
from survey.drawings.svg import write_svg
from survey.quantities.outlines import Outlines, PierOutline, Run, outlines
from survey.vocabulary import VOCABULARY

WIDTH_MM = 180.0
_HEIGHT_MM = 150.0  # of all runs of walls; north, scale and key come below
_EDGE_MM = 7.0  # room for labels round what is drawn
_TITLE_MM = 5.0
_GAP_MM = 3.0
# How far round walls and pits is drawn: half their extent, but at least and at most so much.
_AROUND_IN = (120.0, 240.0)
_NORTH_MM = (166.0, -2.5)  # middle of the arrow, from the left and from the foot of the bar
_LINE_MM = 3.3  # from line to line of text
_MARGIN_IN = 18.0
_WIDEST_GAP_IN = 24.0
_UNKNOWN_IN = 120.0


def plan_drawing(assessment: Assessment) -> str:
    """The plan of a judged site as SVG, 180 mm wide.

    Drawn from the same figures that the rules were judged on. What can't be drawn is told below
    it with the answer that is missing; where nothing can, only that.
    """
    return write_svg(_Plan(assessment).drawing(), "plan")


@dataclass(frozen=True, slots=True)
class _Panel:
    """A run of walls with what it takes to draw it.

    Args:
        frame_in: what is drawn, in inches, turned as on paper.
    """

    run: Run
    quarters: int
    frame_in: Box
    title: str
    spoil: Sequence[Sequence[Point]]
    vehicles: Sequence[Sequence[Point]]
    reaches: Sequence[Reach]
    unknown_in: Mapping[str, float]


class _Plan:
    def __init__(self, assessment: Assessment) -> None:
        self._made = assessment
        self._survey = assessment.survey
        self._units = assessment.survey.units
        self._found: Outlines = outlines(assessment.survey)
        self._verdicts = {pier.label: pier.verdict for pier in assessment.piers}
        self._rounds = {
            label: str(number)
            for number, labels in enumerate(assessment.plan.order.rounds, start=1)
            for label in labels
        }
        self._remarks: list[str] = []
        self._looks: set[str] = set()  # what the key has to tell
        self._kinds: dict[str | None, None] = {}  # of lines
        self._shapes: list[Shape] = []
        self._listed: list[tuple[str, str]] = []

    def drawing(self) -> Drawing:
        """The whole drawing."""
        runs = [run for run in self._found.runs if not run.empty] or list(self._found.runs)
        left_out = [run for run in self._found.runs if run not in runs]
        panels = [self._panel(run, len(self._found.runs) > 1) for run in runs]
        bottom = 2.0
        if panels:
            scale = self._scale(panels)
            for panel in panels:
                bottom = self._draw(panel, scale, bottom) + _GAP_MM
            bottom = self._foot(scale, bottom, panels[0])
        else:
            self._remarks.append("Nothing can be drawn: no wall is listed.")
        shapes, bottom = key(self._looks, self._kinds, bottom, WIDTH_MM)
        self._shapes += shapes
        if left_out:
            names = ", ".join(wall.label for run in left_out for wall in run.walls)
            self._remarks.append(f"Not drawn, because nothing stands at them: walls {names}.")
        bottom = self._lists(bottom)
        return Drawing(
            WIDTH_MM, math.ceil(bottom), "Plan of the site", self._description(),
            tuple(self._shapes),
        )  # fmt: skip

    # What is drawn of a run, and how far round it

    def _panel(self, run: Run, of_many: bool) -> _Panel:
        first = self._found.runs[0] is run
        quarters = _quarters(self._bearing()) if first else 0
        spoil = kept_clear(run.piers, spoil_back(self._made, run.piers))
        vehicles = kept_clear(run.piers, vehicles_back(run.piers))
        lines: list[Reach] = []
        for reach in reaches(self._made, run):
            if isinstance(reach, Reach):
                lines.append(reach)
            else:
                self._remarks.append(reach)
        unknown = {wall.label: _far_end(run, wall.label) for wall in run.walls}
        frame = self._frame(run, quarters, (*spoil, *vehicles), unknown)
        title = _title(run) if of_many else ""
        return _Panel(run, quarters, frame, title, spoil, vehicles, lines, unknown)

    def _frame(
        self,
        run: Run,
        quarters: int,
        areas: Iterable[Sequence[Point]],
        unknown: Mapping[str, float],
    ) -> Box:
        points = [wall.face.start for wall in run.walls]
        points += [wall.end(unknown[wall.label]) for wall in run.walls]
        points += [pier.place for pier in run.piers]
        for pier in run.piers:
            points += (*(pier.floor or ()), *(pier.ground or ()))
        for area in areas:
            points += area
        base = extent(turned(point, quarters) for point in points)
        wide, high = base.right - base.left, base.bottom - base.top
        most = base.grown(min(max(_AROUND_IN[0], 0.5 * max(wide, high)), _AROUND_IN[1]))
        seen: list[Point] = [(base.left, base.top), (base.right, base.bottom)]
        for line in run.utilities:
            ends = [turned(end, quarters) for end in line.ends]
            inside = clipped_line(ends, most) or [
                (end,) for end in ends if most.holds(Box(*end, *end))
            ]
            if not inside:
                self._remarks.append(f"{short(line.label)} lies outside what is drawn.")
            for part in inside:
                seen += part
            if inside and line.zone_in is not None:
                corners = (turned(at, quarters) for at in zone_corners(line, line.zone_in))
                seen += (_into(corner, most) for corner in corners)
        for neighbour in run.neighbours:
            edge = [turned(point, quarters) for point in neighbour.edge]
            out = turned(neighbour.outward, quarters)
            inside = clipped_line(edge, most) or [(at,) for at in edge if most.holds(Box(*at, *at))]
            if not inside:
                self._remarks.append(f"{short(neighbour.label)} lies outside what is drawn.")
            for part in inside:
                seen += part
                seen += (_into((x + 60 * out[0], y + 60 * out[1]), most) for x, y in part)
        return extent(seen).grown(_MARGIN_IN)

    # Drawing one run

    def _scale(self, panels: Sequence[_Panel]) -> Scale:
        """The largest round scale at which all runs find room."""
        room = _HEIGHT_MM - sum(
            _GAP_MM + 2 * _EDGE_MM + (_TITLE_MM if panel.title else 0.0) for panel in panels
        )
        found = None
        for found in scales(self._units):
            mm = found.mm_per_in
            high = sum(p.frame_in.bottom - p.frame_in.top for p in panels) * mm
            wide = max(p.frame_in.right - p.frame_in.left for p in panels) * mm
            if high <= max(room, 40.0) and wide <= WIDTH_MM - 2 * _EDGE_MM:
                break
        assert found is not None
        return found

    def _draw(self, panel: _Panel, scale: Scale, top: float) -> float:
        """Draw a run below a height; gives the height at which it ends."""
        if panel.title:
            self._line((0.0, top + 3.5), panel.title, "plan-heading")
            top += _TITLE_MM
        mm, box = scale.mm_per_in, panel.frame_in
        wide, high = (box.right - box.left) * mm, (box.bottom - box.top) * mm
        left, upper = (WIDTH_MM - wide) / 2, top + _EDGE_MM
        frame = Box(left, upper, left + wide, upper + high)
        view = View(panel.quarters, mm, (left - box.left * mm, upper - box.top * mm), frame)
        taken = Taken(Box(0.5, top + 0.5, WIDTH_MM - 0.5, upper + high + _EDGE_MM - 0.5))
        labels: list[Label] = []
        run = panel.run

        def add(parts: Iterable[Shape | Label]) -> None:
            for part in parts:
                if isinstance(part, Label):
                    labels.append(part)
                else:
                    self._shapes.append(part)
                    self._looks.add(part.look)

        add(clear_shapes(view, panel.vehicles, "plan-vehicles"))
        add(clear_shapes(view, panel.spoil, "plan-spoil"))
        for neighbour in run.neighbours:
            add(neighbour_shapes(view, neighbour, taken))
        if self._closed():
            corners = view.all(wall.face.start for wall in run.walls)
            add((Path(corners, "plan-building", closed=True),))
        for line in run.utilities:
            add(zone_shapes(view, line))
        for line in run.utilities:
            drawn = list(line_shapes(view, line, taken))
            if drawn:
                self._kinds.setdefault(line.kind)
            add(drawn)
        for reach in panel.reaches:
            add(reach_shapes(view, reach, taken))
        walls = list(wall_shapes(view, run, panel.unknown_in))
        add(pit_shapes(view, run.piers))
        add(walls)
        for wall in walls:
            assert isinstance(wall, Path)
            taken.add_line(wall.points, 3)
        names = [self._wall_name(view, panel, wall.label) for wall in run.walls]
        radius = _mark_radius(view, run)
        piers = [label for pier in run.piers for label in self._pier(view, radius, pier, taken)]
        # What is placed first stands best: letters and rounds on their marks, then piers' names.
        order = ("plan-letter", "plan-round", "plan-pier")
        labels = sorted(
            (*piers, *labels, *names),
            key=lambda one: order.index(one.look) if one.look in order else len(order),
        )
        placed = place(labels, taken, len(self._listed) + 1)
        self._shapes += placed.shapes
        self._listed += placed.listed
        return upper + high + _EDGE_MM

    def _closed(self) -> bool:
        """Whether the walls are known to enclose the building."""
        gap = self._found.closing_in
        return gap is not None and gap <= _WIDEST_GAP_IN

    def _wall_name(self, view: View, panel: _Panel, label: str) -> Label:
        wall = next(wall for wall in panel.run.walls if wall.label == label)
        start = view.at(wall.face.start)
        end = view.at(wall.end(panel.unknown_in[label]))
        spots = tuple(
            (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
            for share in (0.5, 0.35, 0.65, 0.2, 0.8, 0.92, 0.08)
        )
        inward = view.way((-wall.face.outward[0], -wall.face.outward[1]))
        return Label(label, spots, TEXT_MM, "plan-wall-name", 1.2, inward, leads=False)

    def _pier(self, view: View, radius: float, pier: PierOutline, taken: Taken) -> Iterator[Label]:
        """Draw a pier's place and verdict; gives the labels of its name and of its round."""
        verdict = self._verdicts[pier.label]
        x, y = view.at(pier.place)
        out = view.way(pier.face.outward)
        inward = out if pier.inside else (-out[0], -out[1])
        off = radius + 0.9
        middle = (x + inward[0] * off, y + inward[1] * off)
        self._shapes.append(Circle((x, y), 0.55, "plan-pier-place"))
        self._shapes += verdict_mark(verdict, middle, radius)
        self._looks.add(f"verdict {verdict.name}")
        box = Box(*middle, *middle).grown(radius)
        taken.add_mark(box, HEAVY)
        if pier.floor is not None:
            corners = view.all(pier.floor)
            pit = extent(corners)
            taken.add_mark(pit, 2)
            number = self._rounds.get(pier.label)
            if number is not None:
                self._looks.add(ROUND)
                centre = ((pit.left + pit.right) / 2, (pit.top + pit.bottom) / 2)
                half = min(pit.right - pit.left, pit.bottom - pit.top) / 2
                yield Label(
                    number, (centre,), 2.2, "plan-round", max(half, 0.5),
                    (-inward[0], -inward[1]), on=True,
                )  # fmt: skip
        yield Label(pier.label, (middle,), TEXT_MM, "plan-pier", radius, inward)

    # Below the drawing

    def _foot(self, scale: Scale, top: float, first: _Panel) -> float:
        """Scale bar and north."""
        base = top + 9.0
        length, half, end = bar(scale, self._units)
        self._shapes += scale_bar((4.0, base), length, half, end, TEXT_MM)
        shown = f"{scale.shown}, printed at full size (180 mm wide)"
        self._line((length + 16.0, base), shown)
        bearing = self._bearing()
        if bearing is None or first.run is not self._found.runs[0]:
            self._line((_NORTH_MM[0] - 34.0, base), "north not known")
            return base + 6.0
        # Before the quarter turns the outside of the first wall lies straight down on paper.
        turn = (180.0 - bearing - 90.0 * first.quarters) % 360.0
        self._shapes += north_arrow((_NORTH_MM[0], base + _NORTH_MM[1]), turn, 9.0)
        if len(self._found.runs) > 1:
            self._line((_NORTH_MM[0] - 34.0, base), "of the first drawing:")
        return base + 6.0

    def _bearing(self) -> float | None:
        """The way the outside of the first wall faces, clockwise from north; none if not known."""
        faces = self._survey.site.value("first wall faces")
        choices = VOCABULARY["first wall faces"].choices
        return choices.index(str(faces)) * 45.0 if isinstance(faces, str) else None

    def _lists(self, top: float) -> float:
        """Labels that stand at their numbers, in two columns; then what can't be drawn."""
        half, whole = WIDTH_MM / 2 - 2.0, WIDTH_MM - 2.0
        numbered = [
            line
            for number, text in self._listed
            for lead in ("Not marked for want of room" if number == UNMARKED else number,)
            for line in wrapped(f"{lead}: {text}", TEXT_MM, half)
        ]
        rows = math.ceil(len(numbered) / 2)
        for i, line in enumerate(numbered):
            at = (1.0 + (i // rows) * WIDTH_MM / 2, top + 3.0 + _LINE_MM * (i % rows))
            self._line(at, line, "plan-text", half)
        top += _LINE_MM * rows
        told = remarks(self._made, self._found, self._remarks)
        lines = [line for remark in told for line in wrapped(remark, TEXT_MM, whole)]
        for i, line in enumerate(lines):
            self._line((1.0, top + 3.0 + _LINE_MM * i), line, "plan-text", whole)
        return top + _LINE_MM * len(lines) + 2.0

    def _piers(self) -> Iterator[PierOutline]:
        for run in self._found.runs:
            yield from run.piers

    def _line(
        self, at: Point, text: str, look: str = "plan-text", most_mm: float = math.inf
    ) -> None:
        self._shapes.append(line_of(at, text, TEXT_MM, look, most_mm))

    def _description(self) -> str:
        counts: dict[str, int] = {}
        for pier in self._piers():
            verdict = self._verdicts[pier.label].value
            counts[verdict] = counts.get(verdict, 0) + 1
        told = ", ".join(f"{number} {verdict}" for verdict, number in counts.items())
        walls = sum(len(run.walls) for run in self._found.runs)
        return f"Walls drawn: {walls}. Piers drawn: {told or 'none'}."


def _quarters(bearing: float | None) -> int:
    """Quarter turns that bring north up, or half way up, by the way the first wall faces."""
    return 0 if bearing is None else math.floor((180.0 - bearing) / 90.0 + 0.5)


def _title(run: Run) -> str:
    first, last = short(run.walls[0].label), short(run.walls[-1].label)
    if len(run.walls) == 1:
        return f"Wall {first}"
    return f"Walls {first} {'and' if len(run.walls) == 2 else 'to'} {last}"


def _far_end(run: Run, label: str) -> float:
    """How far along a wall something is known to stand, for a wall of a length not known."""
    stations = [pier.station_in for pier in run.piers if pier.wall == label]
    return max((_UNKNOWN_IN, *(station + _UNKNOWN_IN / 2 for station in stations)))


def _mark_radius(view: View, run: Run) -> float:
    """Of the marks of verdicts: less where piers stand close."""
    stations: dict[str, list[float]] = {}
    for pier in run.piers:
        stations.setdefault(pier.wall, []).append(pier.station_in)
    nearest = min(
        (
            other - one
            for along in stations.values()
            for one, other in itertools.pairwise(sorted(along))
            if other > one
        ),
        default=math.inf,
    )
    return min(2.1, max(0.9, 0.45 * nearest * view.mm_per_in))


def _into(point: Point, box: Box) -> Point:
    """The point of a box that is nearest to a point."""
    return min(max(point[0], box.left), box.right), min(max(point[1], box.top), box.bottom)
