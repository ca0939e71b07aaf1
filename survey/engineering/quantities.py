"""Every derived word of a survey: the calculations, applied to what was answered.

In: a survey. Out: a figure, or *not known* with the reason, for each derived word of the
vocabulary, of each thing and pair of things, with every answer behind it. What stands for the
rest of an open list is not known, and rests on the answer that would close the list.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from survey.answers import unlisted
from survey.engineering import dates, layout, load, people, plain_concrete, undermining
from survey.engineering._ground import Ground
from survey.engineering._inputs import PLACED, Asked, resting_on, worked
from survey.engineering._pits import Pit
from survey.engineering._plan import Neighbour, PitPlan, Plan, Utility
from survey.engineering.working import Input, Quantities, Quantity, Result, not_known
from survey.model import Survey
from survey.vocabulary import CLOSED_BY, DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY, Origin, Subject

_SITE = ("site",)
_JOB_DATA = ("address", "competent person", "emergency contact", "ticket number")
_LOAD_WORDS = (
    "wall material", "wall thickness", "wall height", "storeys", "wall cladding", "floor span",
    "roof span",
)  # fmt: skip
_FOOTING_WORDS = (
    "concrete strength", "footing width", "footing projection", "footing thickness",
)  # fmt: skip

Named = dict[str, Quantity]


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
        ground = Ground(survey, self._site)
        self._classes = ground.classes
        self._pits = [self._pit(Asked(row), ground) for row in survey.piers]
        # A pier whose wall is not known may stand at any wall, between any two others.
        self._everyone = worked(lambda *_: PLACED, *(pit.ref for pit in self._pits))
        self._members: dict[str, list[Pit]] = {wall.label: [] for wall in self._walls}
        for pit in self._pits:
            if pit.wall is not None:
                self._members[pit.wall.label].append(pit)
        self._wall_words = {wall.label: self._of_wall(wall) for wall in self._walls}
        self._shares = {wall.label: self._share_open(wall) for wall in self._walls}

    def _pit(self, pier: Asked, ground: Ground) -> Pit:
        ref = self._plan.wall_named(pier["wall of pier"])
        return Pit(pier, ref, self._plan.wall_at(ref), ground)

    def every(self, wanted: frozenset[Subject]) -> Iterator[tuple[tuple[str, ...], Named]]:
        """Each thing and pair of things, by its labels, with its derived words."""
        yield _SITE, self._of_site()
        for label, found in self._wall_words.items():
            yield (label,), found
        for pit in self._pits:
            yield (pit.label,), self._of_pier(pit)
        plans = [PitPlan(pit, self._plan) for pit in self._pits]
        yield from self._of_utilities(plans)
        yield from self._of_neighbours(plans)
        if Subject.PIER_PIER in wanted:
            yield from _of_two_piers(plans)
        for label, quantity in self._classes.items():
            yield (label,), {"layer soil class": quantity}
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
        }

    def _closing_error(self) -> Quantity:
        listed = self._site["walls listed"]
        if listed.answer.value == "only walls to be worked on":
            return Quantity(Result(DOES_NOT_APPLY, "not all walls are listed"), (listed,))
        lengths = [wall["wall length"] for wall in self._walls]
        turns = [wall["turn at right end"] for wall in self._walls]

        def close(_: str, *figures: float) -> Result:
            return layout.closing_error(figures[: len(lengths)], figures[len(lengths) :])

        return worked(close, listed, *lengths, *turns)

    def _of_wall(self, wall: Asked) -> Named:
        inputs = wall.some(*_LOAD_WORDS)
        inputs = (*inputs, self._site["ground snow load"], wall["footing kind"])
        if wall.value("footing kind") != "none found":
            inputs = (*inputs, *wall.some("footing thickness", "footing width"))
        return {
            "wall line load": worked(lambda *v: load.wall_line_load(load.WallAbove(*v)), *inputs),
            "factored wall line load": worked(
                lambda *v: load.factored_line_load(load.WallAbove(*v)), *inputs
            ),
        }

    def _share_open(self, wall: Asked) -> Quantity:
        return worked(
            lambda _, length, clear, *opened: undermining.share_open_at_once(length, clear, opened),
            self._everyone,
            wall["wall length"],
            self._site["clear spacing of open pits"],
            *(pit.opening for pit in self._members[wall.label]),
        )

    # Piers

    def _of_pier(self, pit: Pit) -> Named:
        named: Named = {
            "tested soil class": pit.soil_class,
            "water above pit floor": pit.water,
            "slope reach": pit.reach,
            "depth of pit floor": pit.floor,
            "opening at footing": pit.opening,
            "cohesive ground": pit.cohesive,
        }
        if pit.wall is not None:
            named |= self._at_wall(pit, pit.wall)
        for word in VOCABULARY.of(Subject.PIER):
            if word.origin is Origin.DERIVED:
                named.setdefault(word.name, pit.ref)
        return named

    def _at_wall(self, pit: Pit, wall: Asked) -> Named:
        length = wall["wall length"]
        loads = self._wall_words[wall.label]
        pits = [pit, *(other for other in self._members[wall.label] if other is not pit)]
        return {
            "distance to corner": worked(
                lambda _, *figures: layout.distance_to_corner(*figures),
                pit.ref, length, pit.asked["station"], pit.opening,
            ),
            "gap to next pit": self._gap(pits),
            "share of wall open at once": self._shares[wall.label],
            "pier load": self._pier_load(loads["wall line load"], length, pits),
            **self._footing_uses(
                pit, wall, self._pier_load(loads["factored wall line load"], length, pits)
            ),
        }  # fmt: skip

    def _gap(self, pits: Sequence[Pit]) -> Quantity:
        """Gap from the first of the pits of a wall to the nearest of the others."""
        if len(pits) == 1:
            return worked(lambda _: layout.ALONE, self._everyone)

        def gap(_: str, *figures: float) -> Result:
            opened = map(layout.Opened, figures[::2], figures[1::2])
            return layout.gap_to_next_pit(next(opened), list(opened))

        places = (part for pit in pits for part in (pit.asked["station"], pit.opening))
        return worked(gap, self._everyone, *places)

    def _pier_load(self, line_load: Quantity, wall_length: Input, pits: Sequence[Pit]) -> Quantity:
        """Load on the first of the piers of a wall."""
        return worked(
            lambda _, plf, length, station, *others: load.pier_load(plf, length, station, others),
            self._everyone, line_load, wall_length, *(pit.asked["station"] for pit in pits),
        )  # fmt: skip

    def _footing_uses(self, pit: Pit, wall: Asked, factored_load: Quantity) -> Named:
        kind = wall["footing kind"]
        footing = worked(_concrete_footing, pit.ref, kind)
        line_load = self._wall_words[wall.label]["factored wall line load"]
        strength, width, projection, thickness = wall.some(*_FOOTING_WORDS)
        span = (footing, line_load, pit.opening, strength, width, projection, thickness)
        uses = {
            "footing bending use": worked(
                lambda _, *figures: plain_concrete.bending_use(plain_concrete.Span(*figures)),
                *span,
            ),
            "footing shear use": worked(
                lambda _, *figures: plain_concrete.shear_use(plain_concrete.Span(*figures)), *span
            ),
            "seat bearing use": worked(
                lambda _, *figures: plain_concrete.bearing_use(*figures),
                footing, factored_load, strength,
                *self._site.some("bracket plate width", "bracket plate depth"), width,
                after=(factored_load,),
            ),
        }  # fmt: skip
        if not footing.result.known:
            return dict.fromkeys(uses, footing)
        if strength.answer.value is NOT_KNOWN:
            return {word: _hinted(use, plain_concrete.STRENGTH_HINT) for word, use in uses.items()}
        return uses

    # Pairs

    def _of_utilities(self, plans: Sequence[PitPlan]) -> Iterator[tuple[tuple[str, str], Named]]:
        utilities = [Utility(Asked(row), self._plan) for row in self._survey.utilities]
        open_list = self._unlisted(Subject.UTILITY, Subject.PIER_UTILITY)
        for plan in plans:
            for utility in utilities:
                above = worked(
                    layout.depth_above_floor, plan.pit.floor, utility.asked["depth to utility"]
                )
                yield (
                    (plan.pit.label, utility.asked.label),
                    {
                        "clearance to utility": utility.clearance(plan),
                        "depth of line above pit floor": above,
                    },
                )
            for label, found in open_list:
                yield (plan.pit.label, label), found

    def _of_neighbours(self, plans: Sequence[PitPlan]) -> Iterator[tuple[tuple[str, ...], Named]]:
        neighbours = [Neighbour(Asked(row), self._plan) for row in self._survey.neighbours]
        for neighbour in neighbours:
            yield (neighbour.asked.label,), {"notice given": self._notice(neighbour.asked)}
        for label, found in self._unlisted(Subject.NEIGHBOUR, Subject.NEIGHBOUR):
            yield (label,), found
        open_list = self._unlisted(Subject.NEIGHBOUR, Subject.PIER_NEIGHBOUR)
        for plan in plans:
            for neighbour in neighbours:
                yield (
                    (plan.pit.label, neighbour.asked.label),
                    {
                        "clearance to neighbour": neighbour.clearance(plan),
                        "slope to neighbour": _slope_to_neighbour(plan, neighbour),
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


def _concrete_footing(_: str, kind: str) -> Result:
    if kind in plain_concrete.CONCRETE_FOOTINGS:
        return PLACED
    return not_known(f"the footing is '{kind}'; the method holds for plain concrete footings")


def _hinted(quantity: Quantity, hint: str) -> Quantity:
    return replace(quantity, result=not_known(f"{quantity.result.reason}; {hint}"))
