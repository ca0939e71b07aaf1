"""How far pits keep off from what stands round them, by the figures that the rules compare."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from survey.assessment import Assessment
from survey.drawings.plan_parts import Reach
from survey.quantities.outlines import NeighbourOutline, PierOutline, Run
from survey.vocabulary import NOT_KNOWN, Kind, Units, from_steps, in_units, write_quantity

# Influence lines are for what stands on its footing; from the others the edge of a pit keeps as far
# off as its floor is deep (rules NEAR-1 to NEAR-6, NEAR-12, NEAR-19).
_BY_DEPTH = frozenset(
    ("retaining wall", "pool", "tank", "pavement or sidewalk", "tree", "light structure")
)
_IN_TYPE_C_TOO = frozenset(("retaining wall", "pool", "tank"))
_ANY_GROUND, _TYPE_C = "slope to neighbour in any ground", "slope to neighbour in type C ground"
_SET_BACK = "spoil set-back"

Pit = tuple[PierOutline, float]


def length(inches: float, units: Units) -> str:
    """A length as it stands on a plan: in feet, or in metres where the form asks in them."""
    return write_quantity(inches, Kind.LENGTH, in_units("ft", units))


def spoil_back(made: Assessment, piers: Iterable[PierOutline]) -> Mapping[str, float]:
    """How far spoil keeps from each pit, in: as planned, but no less than the rules ask.

    Of pits that are dug from outside; one of which neither is known is left out.
    """
    least = _limit(made, _SET_BACK, Kind.LENGTH)
    known = {
        pier.label: [far for far in (least, pier.spoil_in) if far is not None]
        for pier in piers
        if not pier.inside
    }
    return {label: max(figures) for label, figures in known.items() if figures}


def vehicles_back(piers: Iterable[PierOutline]) -> Mapping[str, float]:
    """How far vehicles and loads keep from each pit that is dug from outside, in: its depth."""
    return {
        pier.label: pier.pit_depth_in
        for pier in piers
        if pier.pit_depth_in is not None and not pier.inside
    }


def reaches(made: Assessment, run: Run) -> Iterator[Reach | str]:
    """The lines round each neighbour that reach farthest for one of the pits; or why there is none.

    An influence line stands where the slope of the rules, from the edge of the footing down, comes
    to the depth of the pit's floor: m (H - f) from the neighbour.
    """
    pits = [
        (pier, pier.floor_depth_in)
        for pier in run.piers
        if pier.floor is not None and pier.floor_depth_in is not None
    ]
    for neighbour in run.neighbours:
        if not pits:
            yield (
                f"No influence line of {neighbour.label}: no pit of a known depth can be drawn in "
                "one plan with it."
            )
            continue
        if neighbour.kind in _BY_DEPTH:
            deepest = max(depth for _, depth in pits)
            text = f"keep-off {length(deepest, made.survey.units)}"
            yield Reach(neighbour, deepest, text, "plan-keep-off")
        if neighbour.kind is None:
            yield f"What {neighbour.label} is, is not known: its line is drawn as of a building."
        if neighbour.kind not in _BY_DEPTH:
            yield from _influence(made, neighbour, pits)
        elif neighbour.kind in _IN_TYPE_C_TOO:
            yield from _influence(made, neighbour, [pit for pit in pits if _weak(made, pit[0])])


def _influence(
    made: Assessment, neighbour: NeighbourOutline, pits: Sequence[Pit]
) -> Iterator[Reach | str]:
    footing, none = neighbour.footing_depth_in, f"No influence line of {neighbour.label}:"
    if footing is None:
        yield f"{none} 'neighbour footing depth' not known."
        return
    found: list[tuple[float, float, float]] = []
    for pier, depth in pits:
        name = _TYPE_C if _weak(made, pier) else _ANY_GROUND
        slope = _limit(made, name, Kind.SLOPE)
        if slope is None:
            yield f"{none} the rule book has no limit '{name}'."
            return
        found.append((slope * (depth - footing), slope, depth))
    if found and max(found)[0] > 0:
        reach, slope, depth = max(found)
        text = f"{write_quantity(slope, Kind.SLOPE)} to {length(depth, made.survey.units)}"
        yield Reach(neighbour, reach, text, "plan-influence")


def class_not_known(made: Assessment, run: Run) -> list[str]:
    """Labels of the piers whose soil class is not known."""
    return [p.label for p in run.piers if _soil_class(made, p) is NOT_KNOWN]


def _weak(made: Assessment, pier: PierOutline) -> bool:
    """Whether its ground is type C, or may be."""
    found = _soil_class(made, pier)
    return found is NOT_KNOWN or found == "C"


def _soil_class(made: Assessment, pier: PierOutline) -> object:
    return made.concluded.get(("soil class", pier.label), NOT_KNOWN)


def _limit(made: Assessment, name: str, kind: Kind) -> float | None:
    """A figure of the rule book, in the canonical unit; none where the book lacks it."""
    limit = made.limits.get(name)
    return None if limit is None else from_steps(kind, limit.steps)
