"""Buried and overhead lines."""

from __future__ import annotations

import math

from survey.engineering import lines, overhead
from survey.engineering.working import Quantity, Result
from survey.quantities.inputs import Asked, resting_on, waits_for, worked
from survey.quantities.named import Named
from survey.quantities.plan import PitPlan, Utility
from survey.vocabulary import DOES_NOT_APPLY


def of_site(site: Asked) -> Named:
    """Clearance to overhead lines: what must be kept and what is left."""
    near = site["overhead lines near"]
    if near.answer.value == "no":
        none = Quantity(Result(DOES_NOT_APPLY, "no overhead line is near"), (near,))
        return {"overhead clearance needed": none, "overhead clearance left": none}
    voltage = site["overhead voltage"]
    needed = overhead.approach_distance(voltage.answer.value)
    left = site.some("overhead line distance", "equipment reach")
    return {
        "overhead clearance needed": resting_on(needed, near, voltage)
        if near.answer.value == "yes"
        else waits_for(near, voltage),
        "overhead clearance left": worked(
            lambda _, distance, reach: overhead.clearance_left(distance, reach), near, *left
        ),
    }


def of_utility(utility: Asked) -> Named:
    """The quality level of what is known of a line's place."""
    return {"quality level": worked(lines.quality_level, utility["located by"])}


def of_pair(plan: PitPlan, utility: Utility, site: Asked) -> Named:
    """Where a line runs from a pit and from the tube of its pier.

    Args:
        plan: the pit in plan.
        utility: the line in plan.
        site: answers of the site.
    """
    edge, floor, tube = utility.clearances(plan)
    depth, diameter = utility.asked.some("depth to utility", "utility diameter")
    return {
        "clearance to utility": edge,
        "clearance beyond tolerance zone": worked(
            lines.clearance_beyond_tolerance, edge, site["tolerance zone"]
        ),
        "clearance in space": worked(
            _in_space, floor, edge, plan.pit.reach, plan.pit.floor, depth, diameter,
            after=(floor,),
        ),
        "clearance to pier tube": worked(
            lines.clearance_to_tube, tube, diameter, site["tube outside diameter"]
        ),
    }  # fmt: skip


def _in_space(*figures: float) -> Result:
    """Clearance in space; at the ground a pit is drawn with what it takes from under the wall."""
    floor, edge, reach, pit_floor, depth, diameter = figures
    # So the edge may be nearer than slope and floor make it: then the floor counts as near too.
    nearest = min(floor, edge + math.sqrt(2) * reach)
    line = lines.LineAtPit(nearest, min(edge, nearest), reach, pit_floor, depth, diameter)
    return lines.clearance_in_space(line)
