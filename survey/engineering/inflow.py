"""Ground water that flows into a pit, the pumps it takes, and how far off it lowers the water.

The ground is taken as even, its permeability the same in all directions, and the flow as
steady. Permeability is seldom known to within ten times, and so is the inflow.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

from survey.engineering._steps import inches, kept, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.vocabulary import DOES_NOT_APPLY, Missing

_METRES_PER_IN = 0.0254
_SECONDS_PER_DAY = 86400.0
_GPM_PER_M3_PER_DAY = 1 / (231 * _METRES_PER_IN**3 * 1440)  # a US gallon is 231 cubic inches
_REACH_COEFFICIENT = 3000.0  # Sichardt, flow to a well, m and m/s
_SHORTEST_IN, _LONGEST_IN = 6.0, 2400.0
_DEEPEST_HEAD_IN = 240.0
_LEAST_HEAD_IN = 0.0005  # half a step of length; less is no water
_LEAST_K, _MOST_K = 1e-13, 1e-1
_DEEPEST_BASE_IN = 12000.0

_RADIUS = "circle of the same perimeter; CIRIA C750 and Powers, from memory"
_REACH = "Sichardt, R0 = 3000 s sqrt(k), as in CIRIA C750 and Powers"
_DUPUIT = "Dupuit, as in Vesilind et al., Environmental Engineering"
_DISC = "flow to a disc, 4 k r s, Marinelli and Niccoli, Ground Water 38(2), 2000, from memory"
_VALID = (
    "even ground; water drawn down to the floor; steady flow, after the first hours, which bring "
    "more; no river, drain or leaking pipe near; no better than the permeability is known"
)


class WetPit(NamedTuple):
    """A pit that is dug below ground water.

    Args:
        pit_length_in: L, in, 6 to 2,400; of sloped sides where the water comes out.
        pit_width_in: B, likewise, in, 6 to 2,400.
        head_in: s, water above the floor (or above the sump, if one is pumped from), in, -2,400
            to 240; no water stands in the pit where it is 0 or less.
        depth_to_base_in: D, from the floor down to ground that lets no water through, in, 0 to
            12,000. Where it is not known the ground is taken as deep: more water, lowered
            farther.
    """

    pit_length_in: float
    pit_width_in: float
    head_in: float
    depth_to_base_in: float | Missing


class _Well(NamedTuple):
    """A pit as a well, in metres; a base that is not known lies endlessly deep."""

    radius: float
    head: float
    base: float
    lines: tuple[Line, ...]

    @property
    def squares(self) -> float:
        """(s + D)^2 - D^2, without the difference of two nearly equal squares."""
        return self.head * (self.head + 2 * self.base)

    def reach(self, permeability: float) -> float:
        """Sichardt's reach R0, m."""
        return _REACH_COEFFICIENT * self.head * math.sqrt(permeability)

    def reach_line(self, permeability: float) -> Line:
        """The reach as a step."""
        return Line(
            "R0", "reach of the lowered water beyond r", "3000 s sqrt(k)",
            f"3000 x {number(self.head, 4)} x sqrt({permeability:.2e})",
            f"{number(self.reach(permeability))} m", _REACH,
        )  # fmt: skip


@kept
def inflow(
    pit: WetPit, permeability_low_m_per_s: float, permeability_high_m_per_s: float
) -> Result:
    """Greatest flow of ground water into a pit whose floor is kept dry.

    Q = Q1 + Q2. Through the sides Q1 = pi k s^2 / ln(R / r); through the floor, in deep ground,
    Q2 = 4 k r s; r = (L + B) / pi, R = r + 3000 s sqrt(k). Above a base that lets no water
    through, D below the floor, Q is at most that of a well that reaches the base,
    pi k ((s + D)^2 - D^2) / ln(R / r). In m and days, then gallons a minute; k in the reach is
    in m/s. A head of less than half a thousandth of an inch is none.

    R counts from the middle of the pit, so a reach that is short against the pit gives the plane
    flow to its sides, k s^2 / (2 R0) on its perimeter; no least R / r is needed.

    Args:
        pit: its figures have their ranges there.
        permeability_low_m_per_s: k, least that the ground may have, m/s, 1e-13 to 1e-1.
        permeability_high_m_per_s: k, the most of any layer or backfill that the pit cuts below
            the water, m/s, from the least to 1e-1.

    Returns:
        Flow at the highest permeability, gpm; the flow at the lowest is in the working.

    Not known when:
        A figure is out of its range.

    Source:
        Dupuit well equation and Sichardt's reach (CIRIA C750, Powers); the sum of sides and floor
        is Marinelli and Niccoli, Ground Water 38(2), 2000, from memory. The circle of the same
        perimeter is larger than that of the same area, and even ground lets more through the
        floor than layered ground: both err to more water.

    >>> round(inflow(WetPit(36.0, 36.0, 24.0, 24.0), 1e-6, 1e-4).value, 2)
    1.6
    """
    low, high = permeability_low_m_per_s, permeability_high_m_per_s
    reason = _out_of_range(pit) or outside(
        ("permeability", low, _LEAST_K, _MOST_K, "m/s"),
        ("highest permeability", high, low, _MOST_K, "m/s"),
    )
    if reason:
        return not_known(reason)
    if pit.head_in < _LEAST_HEAD_IN:
        dry = (
            inches("h", "water above the floor", pit.head_in),
            Line("Q", "inflow", "0 where no water stands above the floor", "", "0 gpm"),
        )
        return Result(0.0, working=Working("Inflow of ground water", _DUPUIT, _VALID, dry))
    return _wet(pit, low, high)


@lru_cache(maxsize=512)
def _wet(pit: WetPit, low: float, high: float) -> Result:
    """Inflow where water stands above the floor; kept, since the pits of a site are much alike."""
    well = _well(pit)
    least = _flow(well, low)[0] * _GPM_PER_M3_PER_DAY
    flow, steps = _flow(well, high)
    gpm = flow * _GPM_PER_M3_PER_DAY
    lines = (
        *well.lines,
        noted("k", "permeability, least and most", f"{low:.2e} to {high:.2e} m/s"),
        *steps,
        Line("Qmin", "inflow at the least permeability", "as for the most", "",
             f"{number(least)} gpm"),
        Line("Q", "inflow at the most permeability", "0.183453 Qd",
             f"0.183453 x {number(flow, 4)}", f"{number(gpm)} gpm", "1 gal = 231 cubic inches"),
    )  # fmt: skip
    source = f"{_DUPUIT}; {_DISC}"
    return Result(gpm, working=Working("Inflow of ground water", source, _VALID, lines))


def _out_of_range(pit: WetPit) -> str:
    """Why the well equations do not hold; a base that is not known is no reason."""
    length, width, head, base_in = pit
    base = 0.0 if isinstance(base_in, Missing) else base_in
    return outside(
        ("pit length", length, _SHORTEST_IN, _LONGEST_IN, "in"),
        ("pit width", width, _SHORTEST_IN, _LONGEST_IN, "in"),
        ("water above the floor", head, -2400.0, _DEEPEST_HEAD_IN, "in"),
        ("depth to the base", base, 0.0, _DEEPEST_BASE_IN, "in"),
    )


def _well(pit: WetPit) -> _Well:
    length_in, width_in, head_in, base_in = pit
    radius = (length_in + width_in) / math.pi * _METRES_PER_IN
    head = head_in * _METRES_PER_IN
    if isinstance(base_in, Missing):
        base, base_text = math.inf, f"{base_in}; taken as deep"
    else:
        base = base_in * _METRES_PER_IN
        base_text = f"{number(base_in)} in = {number(base, 4)} m"
    lines = (
        inches("L", "pit length", length_in),
        inches("B", "pit width", width_in),
        inches("h", "water above the floor", head_in),
        noted("D", "from the floor down to ground that lets no water through", base_text),
        Line("r", "radius of the pit as a well", "0.0254 (L + B) / pi",
             f"0.0254 x ({number(length_in)} + {number(width_in)}) / 3.14159",
             f"{number(radius, 4)} m", _RADIUS),
        Line("s", "drawdown", "0.0254 h", f"0.0254 x {number(head_in)}", f"{number(head, 4)} m"),
    )  # fmt: skip
    return _Well(radius, head, base, lines)


def _flow(well: _Well, permeability: float) -> tuple[float, tuple[Line, ...]]:
    """Flow into the pit, m3/day, with its steps."""
    reach, daily = well.reach(permeability), permeability * _SECONDS_PER_DAY
    spread = math.log1p(reach / well.radius)
    sides = math.pi * daily * well.head**2 / spread
    floor = 4 * daily * well.radius * well.head
    r, s, k, f = number(well.radius, 4), number(well.head, 4), number(daily, 6), number(spread, 4)
    lines = [
        well.reach_line(permeability),
        Line("F", "ln(R / r), with R = r + R0", "ln(1 + R0 / r)",
             f"ln(1 + {number(reach)} / {r})", f),
        noted("kd", "permeability in a day, 86,400 k", f"{k} m/day"),
        Line("Q1", "through the sides", "pi kd s^2 / F", f"3.14159 x {k} x {s}^2 / {f}",
             f"{number(sides, 4)} m3/day", _DUPUIT),
        Line("Q2", "through the floor", "4 kd r s", f"4 x {k} x {r} x {s}",
             f"{number(floor, 4)} m3/day", _DISC),
    ]  # fmt: skip
    flow, formula, numbers = sides + floor, "Q1 + Q2", f"{number(sides, 4)} + {number(floor, 4)}"
    if well.base < math.inf:
        full = math.pi * daily * well.squares / spread
        base = number(well.base, 4)
        lines.append(
            Line("Q3", "into a well that reaches the base", "pi kd ((s + D)^2 - D^2) / F",
                 f"3.14159 x {k} x (({s} + {base})^2 - {base}^2) / {f}",
                 f"{number(full, 4)} m3/day", _DUPUIT)
        )  # fmt: skip
        flow, formula = min(flow, full), "min(Q1 + Q2, Q3)"
        numbers = f"min({numbers}, {number(full, 4)})"
    lines.append(Line("Qd", "inflow in a day", formula, numbers, f"{number(flow, 4)} m3/day"))
    return flow, tuple(lines)


@kept
def pumps_needed(inflow_gpm: float, pump_capacity_gpm: float) -> Result:
    """Pumps to have at a pit that is kept dry, one of them in reserve.

    n = max(ceil(Q / q), 1) + 1.

    Args:
        inflow_gpm: Q, gpm, 0 to 10,000,000.
        pump_capacity_gpm: q, of one pump at the height it lifts on site (less than the most on
            its label), gpm, 1 to 10,000.

    Returns:
        Number of pumps. ``DOES_NOT_APPLY`` where no ground water flows in.

    Not known when:
        A figure is out of its range.

    Source:
        Counting; that one stands by is common practice. 29 CFR 1926.651(h)(2): pumps are
        watched by a competent person.

    >>> pumps_needed(45.0, 20.0).value
    4.0
    """
    reason = outside(
        ("inflow", inflow_gpm, 0.0, 1e7, "gpm"),
        ("pump capacity", pump_capacity_gpm, 1.0, 10000.0, "gpm"),
    )
    if reason:
        return not_known(reason)
    if inflow_gpm == 0:
        return Result(DOES_NOT_APPLY, "no ground water flows in")
    # A billionth is taken off, so that rounding noise of an exact multiple needs no pump.
    working_pumps = max(math.ceil(inflow_gpm / pump_capacity_gpm - 1e-9), 1)
    lines = (
        noted("Q", "inflow", f"{number(inflow_gpm)} gpm"),
        noted("q", "capacity of one pump on site", f"{number(pump_capacity_gpm)} gpm"),
        Line("m", "pumps that run", "max(ceil(Q / q), 1)",
             f"max(ceil({number(inflow_gpm)} / {number(pump_capacity_gpm)}), 1)",
             str(working_pumps)),
        Line("n", "pumps with one in reserve", "m + 1", f"{working_pumps} + 1",
             str(working_pumps + 1), "common practice"),
    )  # fmt: skip
    source = "one pump in reserve is common practice; 29 CFR 1926.651(h)(2)"
    valid = "pumps of one size, set at one pit"
    return Result(
        float(working_pumps + 1), working=Working("Pumps for the pit", source, valid, lines)
    )


def drawdown(distance_in: float, pit: WetPit, permeability_high_m_per_s: float) -> Result:
    """How far pumping at a pit lowers the ground water at a neighbour.

    y = ln((r + x) / r) / ln(R / r), at most 1. Above a base D below the floor the water stands
    h = sqrt(D^2 + ((s + D)^2 - D^2) y) over it, lowered by s + D - h; in deep ground by s (1 - y).

    Args:
        distance_in: x, from the edge of the pit to the neighbour, in, 0 to 10,000,000.
        pit: its figures have their ranges there.
        permeability_high_m_per_s: k, the most that the ground may have, m/s, 1e-13 to 1e-1.

    Returns:
        Lowering, in; 0 beyond the reach. What the neighbour settles by it is an engineer's
        matter.

    Not known when:
        A figure is out of its range.

    Source:
        Dupuit's water table between a well and its reach; Thiem's for deep ground, from memory;
        reach by Sichardt (CIRIA C750, Powers). A pit that does not reach the base lowers the
        water less. Pumping for weeks may reach farther than Sichardt's figure.

    >>> round(drawdown(120.0, WetPit(36.0, 36.0, 24.0, 24.0), 1e-4).value, 2)
    9.46
    """
    reason = _out_of_range(pit) or outside(
        ("distance to the neighbour", distance_in, 0.0, 1e7, "in"),
        ("permeability", permeability_high_m_per_s, _LEAST_K, _MOST_K, "m/s"),
    )
    if reason:
        return not_known(reason)
    title, source = "Lowering of the ground water", "Dupuit; Thiem, from memory; reach by Sichardt"
    valid = "steady pumping for some days in even ground"
    if pit.head_in < _LEAST_HEAD_IN:
        dry = (
            inches("h", "water above the floor", pit.head_in),
            Line("d", "lowering", "0 where no water is pumped", "", "0 in"),
        )
        return Result(0.0, working=Working(title, source, valid, dry))
    well = _well(pit)
    reach, distance = well.reach(permeability_high_m_per_s), distance_in * _METRES_PER_IN
    share = min(math.log1p(distance / well.radius) / math.log1p(reach / well.radius), 1.0)
    s, y = number(well.head, 4), number(share, 4)
    if well.base < math.inf:
        stands = math.sqrt(well.base**2 + well.squares * share)
        # s + D - h as a quotient, without the difference of two nearly equal depths.
        lowered = well.squares * (1 - share) / (well.head + well.base + stands)
        base = number(well.base, 4)
        formula = "s + D - sqrt(D^2 + ((s + D)^2 - D^2) y)"
        numbers = f"{s} + {base} - sqrt({base}^2 + (({s} + {base})^2 - {base}^2) x {y})"
    else:
        lowered = well.head * (1 - share)
        formula, numbers = "s (1 - y)", f"{s} x (1 - {y})"
    lowered_in = lowered / _METRES_PER_IN
    lines = (
        *well.lines,
        noted("k", "permeability", f"{permeability_high_m_per_s:.2e} m/s"),
        inches("x", "distance from the pit", distance_in),
        well.reach_line(permeability_high_m_per_s),
        Line("y", "share of the way to the reach, by logarithms",
             "min(ln(1 + 0.0254 x / r) / ln(1 + R0 / r), 1)",
             f"min(ln(1 + {number(distance)} / {number(well.radius, 4)}) / "
             f"ln(1 + {number(reach)} / {number(well.radius, 4)}), 1)", y),
        Line("dm", "lowering", formula, numbers, f"{number(lowered, 4)} m"),
        Line("d", "lowering at the neighbour", "dm / 0.0254", f"{number(lowered, 4)} / 0.0254",
             f"{number(lowered_in)} in"),
    )  # fmt: skip
    return Result(lowered_in, working=Working(title, source, valid, lines))
