"""The pier itself: how it is driven, what its tube carries, how deep it goes, what eats it."""

from __future__ import annotations

from survey.engineering import bearing_depth, corrosion, drive, tube
from survey.engineering.working import Input, Line, Quantity, Result, Working, within
from survey.quantities.ground import Ground
from survey.quantities.inputs import Asked, resting_on, waits_for, worked, worked_within
from survey.quantities.named import Named
from survey.quantities.pits import Pit
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN

_CORROSION = ("soil resistivity", "soil acidity", "soil chloride", "soil sulfate")
_TUBE = ("tube outside diameter", "tube wall thickness", "tube yield strength")
# Of IBC 1810.2.1; ground other than stiff clay counts as soft, which is the worse.
_FIRM, _SOFT, _INTO_SOFT_IN = "firm", "soft", 120.0
# The bracket bears on the footing and is held to it while the tube is driven: common practice.
_HEAD_HELD = "yes"
_MILD = "mildly aggressive"
# No soil investigation with load tests justifies the higher stress of IBC Table 1810.3.2.6.
_JUSTIFIED = "no"


class Hardware:
    """Tube, bracket and cylinder, the same at every pier of a site."""

    def __init__(self, site: Asked, ground: Ground) -> None:
        self._site, self._ground = site, ground
        self._eaten = self._aggressiveness()
        # In ground that is not mild, or was not tested, more is lost: rules of their own ask then.
        self._loss = worked(
            lambda years: corrosion.loss_of_face(years, _MILD), site["design life in years"]
        )
        self._bearing = resting_on(
            bearing_depth.depth_to_bearing(ground.bearing, ground.all_listed), *ground.inputs
        )

    def of_site(self) -> Named:
        """What is the same at every pier."""
        load, area, allowed = self._site.some(
            "planned drive load", "cylinder effective area", "cylinder pressure allowed"
        )
        wall, years = self._site.some("tube wall thickness", "design life in years")
        return {
            "cylinder pressure": worked(drive.cylinder_pressure, load, area),
            "cylinder use": worked(drive.cylinder_use, load, area, allowed),
            "ground aggressiveness": self._eaten,
            "tube thickness left": worked(corrosion.thickness_left, wall, years, self._eaten),
        }

    def of_pier(
        self, pit: Pit, pier_load: Quantity, dead_load: Quantity, lift_use: Quantity
    ) -> Named:
        """What depends on the load and the pit of a pier.

        Args:
            pit: the pit.
            pier_load: service load on the pier.
            dead_load: least dead load that it can be driven against.
            lift_use: the planned drive load against what turns the wall up.
        """
        planned = self._site["planned drive load"]
        return {
            "dead load to push against": dead_load,
            "drive share": worked_within(drive.drive_share, planned, pier_load),
            "lift use": lift_use,
            "tube use while driving": self._driving(pit),
            "tube use in service": self._service(pier_load),
            "depth to bearing": self._bearing,
            "sections needed": self._sections(pit),
            "headroom use": self._headroom(pit),
        }

    def _aggressiveness(self) -> Quantity:
        made, *tests = self._site.some("corrosion tests", *_CORROSION)
        if made.answer.value == "none made":
            return Quantity(Result(DOES_NOT_APPLY, "the ground was not tested"), (made,))
        if made.answer.value is NOT_KNOWN:
            return waits_for(made)
        values = (given.answer.value for given in tests)
        return resting_on(corrosion.ground_aggressiveness(*values), made, *tests)

    def _driving(self, pit: Pit) -> Quantity:
        planned, out = self._site.some("planned drive load", "bracket eccentricity")
        depth, footing = pit.asked.some("pit depth", "footing depth")
        bare = self._unsupported(pit, depth, footing)
        return worked_within(
            lambda load, d, t, fy, length, e: tube.driving_use(
                load, tube.Tube(d, t, fy), length, _HEAD_HELD, tube.Head(e, length)
            ),
            planned, *self._site.some(*_TUBE), bare, out,
            after=(bare,),
        )  # fmt: skip

    def _unsupported(self, pit: Pit, depth: Input, footing: Input) -> Quantity:
        """Length of tube in the open pit, and into stiff clay or, in other ground, soft ground."""
        hold = self._ground.side_hold(depth, pit.floor)
        firm, soft = (
            worked(
                lambda h, f, ground=ground: tube.unsupported_length(max(h - f, 0.0), ground),
                depth, footing,
            )
            for ground in (_FIRM, _SOFT)
        )  # fmt: skip
        if hold.result.known:
            found = firm if hold.result.value == _FIRM else soft
            return Quantity(found.result, (*found.behind, hold))
        least, most = firm.result.value, soft.result.value
        if not isinstance(least, (int, float)) or not isinstance(most, (int, float)):
            return soft
        assert soft.result.working is not None
        open_ground = within(least, most, hold.result.reason, soft.result.working)
        return Quantity(open_ground, (*soft.behind, hold))

    def _service(self, pier_load: Quantity) -> Quantity:
        return worked_within(
            lambda load, d, t, fy, e, loss: tube.service_use(
                load, tube.Tube(d, t, fy), 0.0, _HEAD_HELD, tube.Head(e, _INTO_SOFT_IN),
                loss_of_face_in=loss, stress_justified=_JUSTIFIED,
            ),
            pier_load, *self._site.some(*_TUBE), self._site["bracket eccentricity"], self._loss,
            after=(self._loss,),
        )  # fmt: skip

    def _sections(self, pit: Pit) -> Quantity:
        return worked_within(
            bearing_depth.sections_needed,
            self._bearing, _bracket_depth(pit), self._site["section length"],
        )  # fmt: skip

    def _headroom(self, pit: Pit) -> Quantity:
        section, stand = self._site.some("section length", "drive stand height")
        footing, headroom = pit.asked.some("footing depth", "headroom at pier")
        # The bracket sits under the footing, which lies that far below the ground at the pit.
        needed = worked(
            lambda s, d, f: bearing_depth.headroom_needed(s, d, -f), section, stand, footing
        )
        return worked(bearing_depth.headroom_use, needed, headroom, after=(needed,))


def _bracket_depth(pit: Pit) -> Quantity:
    """Depth of the bracket below the ground outside; from inside, between what it can be."""
    depth, footing = pit.asked.some("pit depth", "footing depth")
    if not pit.inside:
        return worked(lambda _, f: Result(float(f)), pit.asked["pit reached from"], footing)
    found = worked(lambda most, h, f: Result(most - h + f), pit.floor, depth, footing)
    least, most = footing.answer.value, found.result.value
    if not isinstance(least, (int, float)) or not isinstance(most, (int, float)):
        return found
    reason = "the pit is dug from inside, so the depth of its bracket is only known within bounds"
    line = Line("b", "depth of the bracket", "", "", f"{least:g} in to {most:g} in")
    working = Working("Depth of the bracket", "geometry", "floor inside at any depth", (line,))
    return Quantity(within(float(least), most, reason, working), found.behind)
