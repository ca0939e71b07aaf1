"""Every derived word of a survey: the calculations, applied to what was answered.

In: a survey. Out: a figure, or *not known* with the reason, for each derived word of the
vocabulary, of each thing and pair of things, with every answer behind it. What stands for the
rest of an open list is not known, and rests on the answer that would close the list.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from survey.answers import unlisted
from survey.engineering import dates, layout, people, tickets, undermining
from survey.engineering.working import Input, Quantities, Quantity, Result, not_known
from survey.model import Survey
from survey.quantities import excavation, indoors, lines, loads
from survey.quantities.footings import Footing
from survey.quantities.ground import Ground
from survey.quantities.hardware import Hardware
from survey.quantities.inputs import PLACED, Asked, resting_on, worked
from survey.quantities.loads import WallPiers
from survey.quantities.named import Named
from survey.quantities.openings import Openings
from survey.quantities.pits import Pit
from survey.quantities.plan import Neighbour, PitPlan, Plan, Utility
from survey.quantities.wet import WetPit
from survey.vocabulary import CLOSED_BY, DOES_NOT_APPLY, VOCABULARY, Origin, Subject
from survey.vocabulary.places import OUTSIDE

_SITE = ("site",)
_OF_PIER = [w.name for w in VOCABULARY.of(Subject.PIER) if w.origin is Origin.DERIVED]
_JOB_DATA = ("address", "competent person", "emergency contact", "ticket number")


def work_out(survey: Survey, wanted: frozenset[Subject] = frozenset()) -> Quantities:
    """Work out every derived word of a survey.

    Args:
        survey: its answers are of the kind that the vocabulary declares; their size is not
            trusted.
        wanted: what a rule book looks at; pairs of piers, of which there are many, are worked out
            only if they are among it.

    Returns:
        A quantity for each derived word, by word and by the labels of what it is said of:
        ``("site",)``, ``(wall,)``, ``(pier,)``, ``(neighbour,)``, ``(layer,)``,
        ``(pier, utility)``, ``(pier, neighbour)`` and, if wanted, ``(pier, other pier)``.
    """
    return Quantities(
        {
            (word, labels): quantity
            for labels, found in _Works(survey).every(wanted)
            for word, quantity in found.items()
        }
    )


class _Works:
    """The steps that several figures of a survey share, each worked out once."""

    def __init__(self, survey: Survey) -> None:
        self._survey = survey
        self._site = Asked(survey.site)
        self._walls = [Asked(row) for row in survey.walls]
        self._plan = Plan(self._site, self._walls)
        self._ground = Ground(survey, self._site)
        self._hardware = Hardware(self._site, self._ground)
        self._pits = [self._pit(Asked(row)) for row in survey.piers]
        # A pier whose wall is not known may stand at any wall, between any two others.
        self._everyone = worked(lambda *_: PLACED, *(pit.ref for pit in self._pits))
        self._members: dict[str, list[Pit]] = {wall.label: [] for wall in self._walls}
        for pit in self._pits:
            if pit.wall is not None:
                self._members[pit.wall.label].append(pit)
        self._openings = {
            wall.label: Openings(self._everyone, wall, self._site, self._members[wall.label])
            for wall in self._walls
        }
        self._loads = {wall.label: loads.of_wall(wall, self._site) for wall in self._walls}
        self._footings = {wall.label: self._footing(wall) for wall in self._walls}

    def _pit(self, pier: Asked) -> Pit:
        ref = self._plan.wall_named(pier["wall of pier"])
        return Pit(pier, ref, self._plan.wall_at(ref), self._ground)

    def every(self, wanted: frozenset[Subject]) -> Iterator[tuple[tuple[str, ...], Named]]:
        """Each thing and pair of things, by its labels, with its derived words."""
        yield _SITE, self._of_site()
        for label, found in self._loads.items():
            yield (label,), {**found, **self._footings[label].named()}
        plans = [PitPlan(pit, self._plan) for pit in self._pits]
        wet: list[WetPit] = []
        for pit in self._pits:
            pressure = self._pressure(pit)
            wet.append(WetPit(pit, self._site, self._ground, pressure))
            yield (pit.label,), self._of_pier(pit, wet[-1], pressure)
        yield from self._of_utilities(plans)
        yield from self._of_neighbours(plans, wet)
        if Subject.PIER_PIER in wanted:
            yield from _of_two_piers(plans)
        for label, quantity in self._ground.classes.items():
            by_log = self._ground.logs[label]
            yield (label,), {"layer soil class": quantity, "soil class by log": by_log}
        for label, found in self._unlisted(Subject.SOIL_LAYER, Subject.SOIL_LAYER):
            yield (label,), found

    # Site and walls

    def _of_site(self) -> Named:
        age = worked(dates.days_between, *self._site.some("survey date", "crew date"))
        data = self._site.some(*_JOB_DATA)
        complete = people.job_data_complete(*(given.answer.value for given in data))
        return {
            "job data complete": resting_on(complete, *data),
            "pier locations": Quantity(layout.pier_locations(len(self._pits))),
            "outline closing error": self._closing_error(),
            "survey age": age,
            "usual ticket end": self._usual_ticket_end(),
            **indoors.of_site(self._site),
            **lines.of_site(self._site),
            **self._hardware.of_site(),
        }

    def _usual_ticket_end(self) -> Quantity:
        """Where no usual life of a ticket is known there is nothing to check it by."""
        state, start = self._site.some("state", "ticket start")
        if state.answer.value == OUTSIDE:
            return Quantity(Result(DOES_NOT_APPLY, f"no State's rule holds {OUTSIDE}"), (state,))
        if isinstance(state.answer.value, str):
            rules = tickets.STATES.get(str(tickets.state_code(state.answer.value)))
            if rules is None or rules.life is None:
                reason = f"no usual life of a ticket is known for the State '{state.answer.value}'"
                return Quantity(Result(DOES_NOT_APPLY, reason), (state,))
        return worked(
            lambda where, first: tickets.usual_ticket(where, ticket_start=first).end, state, start
        )

    def _closing_error(self) -> Quantity:
        listed = self._site["walls listed"]
        if listed.answer.value == "only walls to be worked on":
            return Quantity(Result(DOES_NOT_APPLY, "not all walls are listed"), (listed,))
        lengths = [wall["wall length"] for wall in self._walls]
        turns = [wall["turn at right end"] for wall in self._walls]

        def close(_: str, *figures: float) -> Result:
            return layout.closing_error(figures[: len(lengths)], figures[len(lengths) :])

        return worked(close, listed, *lengths, *turns)

    def _footing(self, wall: Asked) -> Footing:
        pits = self._members[wall.label]
        figures = self._loads[wall.label]
        return Footing(wall, self._site, WallPiers(self._everyone, wall, pits, figures), figures)

    # Piers

    def _of_pier(self, pit: Pit, wet: WetPit, pressure: Quantity) -> Named:
        named: Named = {
            "tested soil class": pit.soil_class,
            "water above pit floor": pit.water,
            "slope reach": pit.reach,
            "depth of pit floor": pit.floor,
            "opening at footing": pit.opening,
            "cohesive ground": pit.cohesive,
            **excavation.of_pier(pit, self._site, self._ground, pressure),
            "slope to upper footing": _slope_to_step(pit),
            **wet.named(),
        }
        if pit.wall is not None:
            named |= self._at_wall(pit, pit.wall)
        else:
            named |= self._hardware.of_pier(pit, pit.ref, pit.ref, pit.ref)
            named |= {word: pit.ref for word in _OF_PIER if word not in named}
        return named

    def _at_wall(self, pit: Pit, wall: Asked) -> Named:
        length = wall["wall length"]
        footing = self._footings[wall.label]
        pier_load = footing.piers.load(pit)
        corner = worked(
            lambda _, *figures: layout.distance_to_corner(*figures),
            pit.ref, length, pit.asked["station"], pit.opening,
        )  # fmt: skip
        return {
            "distance to corner": corner,
            "slope to own footing": _slope_to_own(pit, wall, corner),
            "gap to next pit": self._openings[wall.label].gap(pit),
            "distance to next pier": self._openings[wall.label].next_pier(pit),
            "share of wall open at once": self._openings[wall.label].share,
            "pier load": pier_load,
            **self._hardware.of_pier(
                pit,
                pier_load,
                footing.piers.dead_load(pit),
                footing.piers.lift_use(pit, self._site["planned drive load"]),
            ),
            **footing.at_pier(pit),
        }

    def _pressure(self, pit: Pit) -> Quantity:
        if pit.wall is None:
            return pit.ref
        return excavation.footing_pressure(pit.wall, self._loads[pit.wall.label]["wall line load"])

    # Pairs

    def _of_utilities(self, plans: Sequence[PitPlan]) -> Iterator[tuple[tuple[str, ...], Named]]:
        utilities = [Utility(Asked(row), self._plan, plans) for row in self._survey.utilities]
        for utility in utilities:
            yield (utility.asked.label,), lines.of_utility(utility.asked)
        for label, found in self._unlisted(Subject.UTILITY, Subject.UTILITY):
            yield (label,), found
        open_list = self._unlisted(Subject.UTILITY, Subject.PIER_UTILITY)
        for plan in plans:
            for utility in utilities:
                above = worked(
                    layout.depth_above_floor, plan.pit.floor, utility.asked["depth to utility"]
                )
                yield (
                    (plan.pit.label, utility.asked.label),
                    {
                        **lines.of_pair(plan, utility, self._site),
                        "depth of line above pit floor": above,
                    },
                )
            for label, found in open_list:
                yield (plan.pit.label, label), found

    def _of_neighbours(
        self, plans: Sequence[PitPlan], wet: Sequence[WetPit]
    ) -> Iterator[tuple[tuple[str, ...], Named]]:
        neighbours = [Neighbour(Asked(row), self._plan, plans) for row in self._survey.neighbours]
        for neighbour in neighbours:
            yield (neighbour.asked.label,), {"notice given": self._notice(neighbour.asked)}
        for label, found in self._unlisted(Subject.NEIGHBOUR, Subject.NEIGHBOUR):
            yield (label,), found
        open_list = self._unlisted(Subject.NEIGHBOUR, Subject.PIER_NEIGHBOUR)
        for plan, in_water in zip(plans, wet, strict=True):
            for neighbour in neighbours:
                clearance = neighbour.clearance(plan)
                yield (
                    (plan.pit.label, neighbour.asked.label),
                    {
                        "clearance to neighbour": clearance,
                        "slope to neighbour": _slope_to_neighbour(plan, neighbour),
                        "drawdown at neighbour": in_water.drawdown(clearance),
                    },
                )
            for label, found in open_list:
                yield (plan.pit.label, label), found

    def _notice(self, neighbour: Asked) -> Quantity:
        other = neighbour["other owner"]
        if other.answer.value == "no":
            return Quantity(Result(DOES_NOT_APPLY, "it belongs to our customer"), (other,))
        return worked(
            lambda _, notice, crew: dates.days_between(notice, crew),
            other, neighbour["notice date"], self._site["crew date"],
        )  # fmt: skip

    def _unlisted(self, listed: Subject, said_of: Subject) -> list[tuple[str, Named]]:
        """The derived words of whatever an open list left out; none if the list is closed."""
        row = unlisted(self._survey, listed)
        if row is None:
            return []
        reason = f"not every {listed.value} is known to be listed"
        closing: Input = self._site[CLOSED_BY[listed]]
        words = [w.name for w in VOCABULARY.of(said_of) if w.origin is Origin.DERIVED]
        return [(row.label, dict.fromkeys(words, Quantity(not_known(reason), (closing,))))]


def _of_two_piers(plans: Sequence[PitPlan]) -> Iterator[tuple[tuple[str, str], Named]]:
    for i, one in enumerate(plans, start=1):
        for other, (clear, apart) in zip(plans[i:], one.to_others(plans[i:]), strict=True):
            found = {"clearance between pits": clear, "distance between piers": apart}
            # The same from either of the two.
            yield (one.pit.label, other.pit.label), found
            yield (other.pit.label, one.pit.label), found


def _slope_to_neighbour(plan: PitPlan, neighbour: Neighbour) -> Quantity:
    floor, footing = plan.pit.floor, neighbour.asked["neighbour footing depth"]
    depth, below = floor.result.value, footing.answer.value
    if (
        isinstance(depth, (int, float))
        and isinstance(below, (int, float))
        and undermining.not_below(depth, below)
    ):
        # Settled by depths alone, wherever the neighbour stands.
        return worked(lambda h, f: undermining.slope_to_neighbour(h, f, 0.0), floor, footing)
    apart = neighbour.floor_clearance(plan)
    return worked(undermining.slope_to_neighbour, floor, footing, apart, after=(apart,))


def _slope_to_own(pit: Pit, wall: Asked, corner: Quantity) -> Quantity:
    """To the footing round the nearer corner, which is taken to lie as deep as this one."""
    depth = pit.asked["footing depth"]
    kind = wall["footing kind"]
    width = wall["wall thickness" if kind.answer.value == "none found" else "footing width"]
    return worked(
        lambda _, clear, floor, footing, reach: undermining.slope_to_own_footing(
            clear, floor, footing, reach
        ),
        kind, corner, pit.asked["pit depth"], depth, width,
    )  # fmt: skip


def _slope_to_step(pit: Pit) -> Quantity:
    near, away, height = pit.asked.some("footing step near", "distance to step", "step height")
    if near.answer.value == "no":
        return Quantity(Result(DOES_NOT_APPLY, "no step is near"), (near,))
    return worked(
        lambda _, *figures: undermining.slope_to_upper_footing(*figures),
        near, away, height, *pit.asked.some("pit depth", "footing depth"),
    )  # fmt: skip
