"""The footing as a beam over pits and between piers, and what holds a bracket to it."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property

from survey.engineering import (
    anchors,
    plain_concrete,
    reinforced_concrete,
    seats,
    spacing,
    spanning_tube,
    tributary,
)
from survey.engineering.plain_concrete import Section, Span
from survey.engineering.reinforced_concrete import Bars
from survey.engineering.working import Input, Quantity, Result, Working, not_known, within
from survey.quantities.inputs import PLACED, Asked, Part, waits_for, worked, worked_within
from survey.quantities.loads import WallPiers
from survey.quantities.named import Named
from survey.quantities.pits import Pit
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN

_SIZES = ("concrete strength", "footing width", "footing projection", "footing thickness")
_BARS = ("bottom bar size", "bottom bars", "bottom bar cover", "bar yield strength",
         "bottom bar surface")  # fmt: skip
_ANCHORS = ("anchors at a bracket", "anchor diameter", "anchor embedment")
_SPANNING = ("spanning tube width", "spanning tube depth", "spanning tube wall")
_BETWEEN = ("footing bending use between piers", "footing shear use between piers")
_PSF_PER_PSI = 144.0
_BAR_COUNT = len(_BARS)
# Where the form does not ask: an anchor of mild steel without an evaluation report, a tube of
# ASTM A500 grade B; from memory.
_ANCHOR_STEEL_PSF, _ANCHOR_CATEGORY = 58_000 * _PSF_PER_PSI, 3.0
_TUBE_YIELD_PSF = 46_000 * _PSF_PER_PSI

Use = Callable[..., Result]


class Footing:
    """The footing of a wall, with the load on it.

    Args:
        wall: answers of the wall.
        site: answers of the site.
        piers: the piers that carry the wall.
        loads: figures of the wall by word.
    """

    def __init__(self, wall: Asked, site: Asked, piers: WallPiers, loads: Named) -> None:
        self._wall, self._site, self.piers, self._loads = wall, site, piers, loads
        self._kind = wall["footing kind"]
        self._concrete = worked(_concrete, self._kind)
        self._load = loads["factored wall line load"]
        self._counts = worked(_counts, wall["wall material"])

    def named(self) -> Named:
        """How far the footing spans, and what it bears between the piers of the wall."""
        strength, width, projection, thickness = self._wall.some(*_SIZES)
        beam = (self._concrete, self._counts, strength, width, projection, thickness)
        demand = (self.piers.placed, self._load)
        uses = {
            # Over a pier the top is in tension, and the bars that were found lie at the underside.
            "greatest pier spacing": worked_within(
                lambda load, _, __, *sizes: spacing.greatest_pier_spacing(load, _section(*sizes)),
                self._load, *beam,
            ),
            "footing bending use between piers": self._with_bars(
                self._bent, (*demand, *beam), plain_is_worst=True
            ),
            "footing shear use between piers": self._with_bars(
                self._sheared, (*demand, *beam), plain_is_worst=False
            ),
        }  # fmt: skip
        everyone = self.piers.everyone
        if self.piers.none and everyone.result.known:
            no_pier = Result(DOES_NOT_APPLY, "no pier stands at this wall")
            uses |= dict.fromkeys(_BETWEEN, Quantity(no_pier, (everyone,)))
        return {word: self._hinted(use) for word, use in uses.items()}

    def at_pier(self, pit: Pit) -> Named:
        """What the footing bears over a pit and on a bracket."""
        load = self._seat_load(pit)
        strength, width, projection, thickness = self._wall.some(*_SIZES)
        plate = self._site.some("bracket plate width", "bracket plate depth")
        beam = (self._concrete, self._load, pit.opening, strength, width, projection, thickness)
        uses = {
            "footing bending use": self._over_pit(
                pit, plain_concrete.bending_use, reinforced_concrete.pit_bending_use, beam,
                plain_is_worst=True,
            ),
            "footing shear use": self._over_pit(
                pit, plain_concrete.shear_use, reinforced_concrete.pit_shear_use, beam,
                plain_is_worst=False,
            ),
            "seat bearing use": worked_within(
                lambda _, pu, fc, w, d, b, a: plain_concrete.bearing_use(pu, fc, w, d, b - a),
                self._concrete, load, strength, *plate, width, projection,
                after=(load,),
            ),
            "bearing area needed": worked(
                lambda _, pu, fc: seats.bearing_area_needed(pu, fc), self._concrete, load, strength
            ),
            "seat thickness needed": worked(
                lambda _, pu, fc, w, d, b, a, overhang: seats.thickness_needed(
                    pu, fc, seats.SeatPlate(w, d, overhang, b - a)
                ),
                self._concrete, load, strength, *plate, width, projection, self._overhang,
            ),
            "holes to drill": worked(_holes, self._concrete, plate[0], projection),
            "anchor use": self._anchors(load, strength, width, thickness),
        }  # fmt: skip
        if not self._concrete.result.known:
            uses = dict.fromkeys(uses, self._concrete)
        return {
            **{word: self._hinted(use) for word, use in uses.items()},
            "spanning tube use": self._tube(pit),
        }

    def _seat_load(self, pit: Pit) -> Quantity:
        """What the bracket bears: the pier's load, or what it is driven with."""
        pier_load = self.piers.factored_load(pit)
        return worked_within(seats.seat_load, pier_load, self._site["planned drive load"])

    def _over_pit(
        self, pit: Pit, plain: Use, reinforced: Use, beam: tuple[Part, ...], *, plain_is_worst: bool
    ) -> Quantity:
        station = pit.asked["station"]
        length = self._wall["wall length"]

        def use(_: str, plf: float, opening: float, *figures: float) -> Result:
            *sizes, along, at = figures[:6]
            anchored = max(min(at, along - at), 0.0)
            bars = _bars_of(figures[6:], anchored)
            span = Span(plf, opening, *sizes)
            return plain(span) if bars is None else reinforced(span, bars)

        return self._with_bars(use, (*beam, length, station), plain_is_worst=plain_is_worst)

    def _bent(self, _: str, plf: float, *more: float) -> Result:
        """Bending between piers: sagging with the bars, hogging by plain concrete."""
        sizes, figures = more[2:6], more[6:]
        demand, section = self._demand(plf), _section(*sizes)
        bars = _bars_of(figures, _AS_LONG_AS_IT_TAKES)

        def sags(moment: float) -> Result:
            if bars is None:
                return plain_concrete.bending_use_for(moment, section)
            return reinforced_concrete.bending_use(moment, section, bars, "underside")

        sagging = _or(demand.sagging, sags)
        hogging = _or(
            demand.hogging, lambda moment: plain_concrete.bending_use_for(moment, section)
        )
        if not isinstance(sagging.value, float) or not isinstance(hogging.value, float):
            return hogging if isinstance(sagging.value, float) else sagging
        return max(sagging, hogging, key=lambda one: float(str(one.value)))

    def _sheared(self, _: str, plf: float, *more: float) -> Result:
        """Shear between piers; cracked where the bars carry the bending."""
        sizes, figures = more[2:6], more[6:]
        demand, section = self._demand(plf), _section(*sizes)
        bars = _bars_of(figures, _AS_LONG_AS_IT_TAKES)

        def shears(shear: float) -> Result:
            if bars is None:
                return plain_concrete.shear_use_for(shear, section)
            return _or(
                demand.sagging,
                lambda moment: reinforced_concrete.shear_use(
                    shear, moment, section, bars, "underside"
                ),
            )

        return _or(demand.shear, shears)

    def _demand(self, plf: float) -> tributary.SpanDemand:
        return tributary.span_demand(plf, self.piers.length, self.piers.stations)

    def _with_bars(self, use: Use, parts: tuple[Part, ...], *, plain_is_worst: bool) -> Quantity:
        """A use with the bars that were found; within bounds where nobody looked for them.

        Args:
            use: takes the figures of the parts, then those of the bars, if there are any.
            parts: what counts besides the bars.
            plain_is_worst: whether bars never make the use worse. They may in shear: concrete that
                is cracked where its bars carry the bending takes less shear than uncracked.
        """
        found = self._wall["footing reinforcement"]
        bars = self._wall.some(*_BARS)
        if found.answer.value == "no bars found":
            return worked_within(use, *parts)
        reason = "the bars in the footing are not known"
        open_bars = tuple(bar for bar in (found, *bars) if bar.answer.value is NOT_KNOWN)
        if not open_bars:
            used = worked_within(use, *parts, *bars)
            if used.result.known or used.result.bounds:
                return used
            reason, open_bars = used.result.reason, (found, *bars)  # such bars do not fit in
        plain = worked_within(use, *parts)
        bounds = plain.result.bounds
        most = bounds[1] if bounds else plain.result.value
        behind = (*plain.behind, *open_bars)
        if not isinstance(most, (int, float)):
            return plain._replace(behind=behind)
        if not plain_is_worst or plain.result.working is None:
            return Quantity(not_known(reason), behind)
        return Quantity(within(0.0, most, reason, plain.result.working), behind)

    @cached_property
    def _overhang(self) -> Quantity:
        """Of a plate under a footing that is cut back to the wall where the bracket goes."""
        return worked(
            lambda material, thick: seats.plate_overhang(0.0, material, thick),
            *self._wall.some("wall material", "wall thickness"),
        )

    def _anchors(self, load: Quantity, strength: Input, width: Input, thickness: Input) -> Quantity:
        """A row of anchors half way up the face of the footing, the bracket turning on its edge."""
        number = self._site[_ANCHORS[0]]
        if number.answer.value == 0:
            return Quantity(Result(DOES_NOT_APPLY, "the bracket has no anchors"), (number,))
        out, plate = self._site.some("bracket eccentricity", "bracket plate width")
        tension = worked(
            lambda _, pu, e, t: anchors.bracket_tension(pu, e, t / 2),
            self._concrete, load, out, thickness,
        )  # fmt: skip
        return worked(
            lambda nu, plate_width, count, diameter, embedment, fc, b, t: anchors.anchor_use(
                nu,
                0.0,
                anchors.Anchors(
                    in_row=count,
                    diameter_in=diameter,
                    embedment_in=embedment,
                    spacing_in=plate_width / max(count - 1, 1),
                    edge_in=t / 2,
                    concrete_in=b,
                    strength_psf=fc,
                    steel_psf=_ANCHOR_STEEL_PSF,
                    category=_ANCHOR_CATEGORY,
                ),
            ),
            tension, plate, *self._site.some(*_ANCHORS), strength, width, thickness,
            after=(tension,),
        )  # fmt: skip

    def _tube(self, pit: Pit) -> Quantity:
        """A tube from this bracket to the farther of the next ones, under the wall's load."""
        at_hand = self._site["spanning tube at hand"]
        if at_hand.answer.value == "no":
            return Quantity(Result(DOES_NOT_APPLY, "no such tube is at hand"), (at_hand,))
        if at_hand.answer.value is NOT_KNOWN:
            return waits_for(at_hand)
        return worked_within(
            lambda _, __, plf, point, *sizes: self._tube_use(
                plf, point, self.piers.station(pit), *sizes
            ),
            at_hand, self.piers.placed, self._load, _point_load(pit), *self._site.some(*_SPANNING),
        )  # fmt: skip

    def _tube_use(self, plf: float, point: float, station: float, *sizes: float) -> Result:
        before = [station - other for other in self.piers.stations if other < station]
        after = [other - station for other in self.piers.stations if other > station]
        if not before and not after:
            return Result(DOES_NOT_APPLY, "no other pier stands at this wall")
        span = max(min(side) for side in (before, after) if side)
        width, depth, wall = sizes
        tube = spanning_tube.Tube(width, depth, wall, _TUBE_YIELD_PSF)
        return spanning_tube.spanning_tube_use(spanning_tube.TubeLoad(plf, point, span), tube)

    def _hinted(self, quantity: Quantity) -> Quantity:
        strength = self._wall["concrete strength"]
        if strength.answer.value is not NOT_KNOWN or not self._concrete.result.known:
            return quantity
        reason = f"{quantity.result.reason}; {plain_concrete.STRENGTH_HINT}"
        return quantity._replace(result=quantity.result._replace(reason=reason))


# A bar between piers runs on past the next pier, so it is anchored whatever its size.
_AS_LONG_AS_IT_TAKES = 6000.0


def _counts(material: str) -> Result:
    """Whether the footing alone may be looked at; under block its figure is the engineer's."""
    return PLACED if material == "concrete block" else reinforced_concrete.wall_counts(material)


def _concrete(kind: str) -> Result:
    if kind in plain_concrete.CONCRETE_FOOTINGS:
        return PLACED
    return not_known(f"the footing is '{kind}'; the method holds for concrete footings")


def _point_load(pit: Pit) -> Quantity:
    """Factored load of what stands over the pit; none if nothing does."""
    heavy, point = pit.asked.some("heavy load over pit", "point load at pier")
    if heavy.answer.value == "no":
        return Quantity(Result(0.0), (heavy,))
    return worked(lambda _, load: tributary.factored_point_load(load), heavy, point)


def _section(strength: float, width: float, projection: float, thickness: float) -> Section:
    """The footing without the projection that is cut away for the brackets."""
    return Section(strength, width - projection, thickness)


def _bars_of(figures: tuple[float, ...], anchored_in: float) -> Bars | None:
    if len(figures) < _BAR_COUNT:
        return None
    size, number, cover, strength, surface = figures
    return Bars(str(size), number, cover, strength, anchored_in, str(surface))


def _or(first: Result, then: Callable[[float], Result]) -> Result:
    """What follows from a figure, with the steps of both, or why there is none."""
    if not isinstance(first.value, (int, float)):
        return first
    result = then(first.value)
    if first.working is None or result.working is None:
        return result
    own = result.working
    lines = (*first.working.lines, *own.lines)
    return Result(
        result.value,
        result.reason,
        Working(own.title, own.source, own.validity, lines),
        result.bounds,
    )


def _holes(_: str, plate_width: float, projection: float) -> Result:
    return _or(
        seats.cut_width(plate_width),
        lambda cut: seats.holes_to_drill(seats.Cut(cut, min(plate_width, cut), projection)),
    )
