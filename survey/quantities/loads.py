"""What a wall weighs and what each of its piers carries, as far as it is known."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from survey.engineering import drive, load_range, tributary
from survey.engineering.working import Input, Quantity, Result, not_known, within
from survey.quantities.inputs import PLACED, Asked, resting_on, worked, worked_within
from survey.quantities.named import Named
from survey.quantities.pits import Pit
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY

_LOAD_WORDS = (
    "wall material", "wall thickness", "wall height", "storeys", "wall cladding", "floor span",
    "roof span",
)  # fmt: skip
_LENGTH_STEP_IN = 0.001
_ROOF_WORDS = ("roof exposure", "roof heating", "attic used for storage")


def of_wall(wall: Asked, site: Asked) -> Named:
    """Service, factored and dead load per foot of wall."""
    snow, kind = site["ground snow load"], wall["footing kind"]
    sizes = wall.some("footing thickness", "footing width")
    roof = site.some(*_ROOF_WORDS)
    inputs = (*wall.some(*_LOAD_WORDS), snow, kind, *sizes, *roof)
    answers = load_range.WallAnswers(*(given.answer.value for given in inputs))
    without = "none found"
    behind = tuple(i for i in inputs if kind.answer.value != without or i not in sizes)
    dead = resting_on(load_range.dead_line_load_range(answers), *behind)
    return {
        "wall line load": resting_on(load_range.line_load_range(answers), *behind),
        "factored wall line load": resting_on(
            load_range.factored_line_load_range(answers), *behind
        ),
        "dead line load": dead,
    }


class WallPiers:
    """The piers of a wall, all of which its load is shared out to.

    Args:
        everyone: whether the wall of every pier is known; one whose wall is not may stand here.
        wall: answers of the wall, with the stretch of it that the piers carry.
        pits: the piers that name it.
        loads: figures of the wall by word.
    """

    def __init__(self, everyone: Quantity, wall: Asked, pits: Sequence[Pit], loads: Named) -> None:
        self._wall, self._pits, self._loads = wall, pits, loads
        self.everyone = everyone
        self._nth = {pit: n for n, pit in enumerate(pits)}
        stations = tuple(pit.asked["station"] for pit in pits)
        stretch = wall.some("wall length", "carried from", "carried to")
        self.placed = worked(self._stretch, everyone, *stretch, *stations)

    @property
    def none(self) -> bool:
        """Whether no pier names the wall."""
        return not self._pits

    @cached_property
    def length(self) -> float:
        """Length of the stretch of wall that the piers carry, where they are placed, in."""
        return self._wall.number("carried to") - self._wall.number("carried from")

    @cached_property
    def stations(self) -> tuple[float, ...]:
        """Where the piers stand along that stretch, where they are placed."""
        first = self._wall.number("carried from")
        return tuple(pit.asked.number("station") - first for pit in self._pits)

    def station(self, pit: Pit) -> float:
        """Where a pier stands along that stretch, in."""
        return self.stations[self._nth[pit]]

    def _stretch(
        self, _: str, length: float, first: float, last: float, *stations: float
    ) -> Result:
        """Whether the stretch that the piers carry lies on the wall and holds them all."""
        ends = (first, *stations, last)
        if (
            not 0 <= first < last <= length + _LENGTH_STEP_IN
            or not first <= min(ends) <= max(ends) <= last
        ):
            return not_known(
                f"the stretch from {first / 12:g} ft to {last / 12:g} ft that the piers of wall "
                f"{self._wall.label} carry must lie on the wall and hold every pier of it"
            )
        return PLACED

    def load(self, pit: Pit) -> Quantity:
        """Service load on a pier, with what stands over it."""
        return self._load(pit, "wall line load", factored=False)

    def factored_load(self, pit: Pit) -> Quantity:
        """Load on a pier for strength checks."""
        return self._load(pit, "factored wall line load", factored=True)

    @cached_property
    def _depth(self) -> Quantity:
        """From the top of the wall to the underside of its footing."""
        height, kind = self._wall.some("wall height", "footing kind")
        deep: tuple[Input, ...] = (height, kind)
        if kind.answer.value != "none found":
            deep = (*deep, self._wall["footing thickness"])
        return worked(lambda h, _, t=0.0: Result(h + t), *deep)

    def dead_load(self, pit: Pit) -> Quantity:
        """Least dead load that the pier can be driven against."""
        return worked_within(
            lambda _, plf, wall_depth: drive.dead_load_engaged(
                plf, self.length, self.station(pit), self._others(pit), wall_depth
            ),
            self.placed, self._loads["dead line load"], self._depth,
        )  # fmt: skip

    def lift_use(self, pit: Pit, planned: Input) -> Quantity:
        """The planned drive load against what turns the whole wall up about its far end."""
        return worked_within(
            lambda _, load, plf, length, station: drive.lift_use(load, plf, length, station),
            pit.ref, planned, self._loads["dead line load"], self._wall["wall length"],
            pit.asked["station"],
        )  # fmt: skip

    def _load(self, pit: Pit, word: str, *, factored: bool) -> Quantity:
        line_load, point = self._loads[word], pit.asked["point load at pier"]
        behind = (self.placed, line_load, point)
        if not self.placed.result.known:
            return Quantity(self.placed.result, behind)
        weights = (point.answer.value,) * 2
        if weights[0] is NOT_KNOWN:  # from nothing over the pit to the most that the form takes
            heaviest = VOCABULARY[point.word].high
            assert heaviest is not None, "a question whose answers have no end gives no bounds"
            weights = (DOES_NOT_APPLY, heaviest)
        least, most = (
            tributary.pier_load_range(
                line_load.result, self.length, self.station(pit), self._others(pit),
                tributary.factored_point_load(weight).value
                if factored and isinstance(weight, (int, float)) else weight,
            )
            for weight in weights
        )  # fmt: skip
        if weights[0] is weights[1]:
            return Quantity(least, behind)
        return Quantity(_span(least, most, f"what stands over the pit of {pit.label}"), behind)

    def _others(self, pit: Pit) -> tuple[float, ...]:
        nth = self._nth[pit]
        return self.stations[:nth] + self.stations[nth + 1 :]


def _span(low: Result, high: Result, unknown: str) -> Result:
    """Between the least of one figure and the most of another."""
    least = low.bounds[0] if low.bounds else low.value
    most = high.bounds[1] if high.bounds else high.value
    if not isinstance(least, (int, float)) or not isinstance(most, (int, float)):
        return high
    if high.working is None:
        return not_known(f"{unknown} is not known")
    return within(least, most, f"{unknown} is not known", high.working)
