"""Words of a pier location: its pit, how the sides are held, its seat."""

from __future__ import annotations

from survey.vocabulary._declare import CHOSEN, declares
from survey.vocabulary.words import AsksWhen, Origin, Subject, Worse

_d = declares(Subject.PIER)
_WORSE_LATER = Worse.LATER_CHOICE
_HELD = AsksWhen("side protection", ("timber shoring", "hydraulic shoring", "shield"))
_SLOPED = AsksWhen("side protection", ("sloped",))
_SEAT = {"choices": "suits | does not suit", "origin": Origin.CONCLUDED, "otherwise": "suits"}

PIER_WORDS = (
    _d["reference"]("wall of pier", "Wall at which the pier stands", refers_to=Subject.WALL),
    _d["length"](
        "station", "ft", "Distance along the wall from its left corner, seen from outside",
        between=(0, 500),
    ),
    _d["choice"](
        "pit reached from", "outside | basement | crawl space", "From where is the pit dug?",
    ),
    _d["length"](
        "footing depth", "ft", "Depth of the underside of the footing below the ground at the pit",
        "Inside: below the floor.", between=(0, 40),
    ),
    _d["length"](
        "pit depth", "ft", "Depth of the pit at its deepest point",
        "From the highest ground at its edge. It must reach below the footing.", between=(0, 60),
        origin=CHOSEN,
    ),
    _d["length"](
        "pit length", "in", "Length of the pit at its floor, along the wall", between=(6, 360),
        origin=CHOSEN,
    ),
    _d["length"](
        "pit width", "in", "Width of the pit at its floor, out from the wall", between=(6, 360),
        origin=CHOSEN,
    ),
    _d["length"](
        "working room", "in", "Least clear room for a person at the pit, either way",
        "Clear of walls, tanks, stairs and stored things.", between=(0, 360), worse=Worse.LOWER,
    ),
    _d["choice"](
        "side protection",
        "none | sloped | benched | timber shoring | hydraulic shoring | shield",
        "What holds the sides of the pit?", "What will stand there, not what is on the truck.",
        origin=CHOSEN,
    ),
    _d["slope"](
        "slope of sides", "H:1V", "Slope of the sides, horizontal to one vertical",
        "1.5 means 1.5 ft out for each foot down.", between=(0, 10), origin=CHOSEN,
        asks_when=_SLOPED,
    ),
    _d["choice"](
        "protection design", "engineer's design | maker's data | appendix table",
        "From where do the sizes of shoring or shield come?", origin=CHOSEN, asks_when=_HELD,
        worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "protection design allows for building",
        "Do the maker's data allow for the load of the footing beside the pit?", origin=CHOSEN,
        asks_when=AsksWhen("protection design", ("maker's data",)), worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "protection in place before entry",
        "Is the shoring or shield in place, over the whole depth, before anyone goes in?",
        "Equipment on site is not equipment in place.", origin=CHOSEN, asks_when=_HELD,
        worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "cave-in signs", "Did the competent person see any sign of cave-in, loose or ravelling ground?",
        choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "seepage at pit", "Does water seep from the ground at the pit?", choices=("no", "yes"),
        worse=_WORSE_LATER,
    ),
    _d["length"](
        "spoil distance", "ft", "Distance from the pit's edge to the spoil, tools and materials",
        between=(0, 200), origin=CHOSEN, worse=Worse.LOWER,
    ),
    _d["yes_no"](
        "ladder in pit", "Does a ladder, ramp or steps stand in the pit?", origin=CHOSEN,
        worse=_WORSE_LATER,
    ),
    _d["length"](
        "distance to ladder", "ft", "Farthest that a person in the pit is from the way out",
        between=(0, 200), origin=CHOSEN, asks_when=AsksWhen("ladder in pit", ("yes",)),
        worse=Worse.HIGHER,
    ),
    _d["yes_no"](
        "heavy load over pit", "Does a chimney, post, beam end or other point load stand over the pit?",
        choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _d["length"](
        "headroom at pier", "in", "Height from the ground or floor beside the pit to whatever is above",
        "Deck, eaves, joists, stairs. Write 50 ft where there is only sky.", between=(6, 600),
        worse=Worse.LOWER,
    ),
    # Worked out
    _d["choice"](
        "tested soil class", "stable rock | A | B | C",
        "Least stable soil class of the layers in the pit", "From the field tests on the Soil sheet.",
        origin=Origin.DERIVED, made_by="soil.pit_soil_class", worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "water above pit floor", "Whether ground water stands above the floor of the pit",
        choices=("no", "yes"), origin=Origin.DERIVED, made_by="water.water_above_floor",
        worse=_WORSE_LATER,
    ),
    _d["length"](
        "slope reach", "ft", "How far the slope of the pit reaches out at the ground",
        origin=Origin.DERIVED, made_by="pit.slope_reach",
    ),
    _d["length"](
        "depth of pit floor", "ft", "Depth of the pit's floor below the ground outside",
        "For a pit dug from inside, at its greatest.", origin=Origin.DERIVED,
        made_by="pit.depth_of_floor",
    ),
    _d["length"](
        "opening at footing", "ft", "Length of wall that the pit opens at the underside of the footing",
        "Longer than the pit where its sides slope.", origin=Origin.DERIVED,
        made_by="pit.opening_at_footing", worse=Worse.HIGHER,
    ),
    _d["length"](
        "gap to next pit", "ft", "Clear distance along the wall to the opening of the nearest other pit",
        "At the underside of the footing; negative where two pits run into each other.",
        origin=Origin.DERIVED, made_by="layout.gap_to_next_pit", worse=Worse.LOWER,
    ),
    _d["yes_no"](
        "cohesive ground", "Whether every layer in the pit is clay or a clayey soil",
        origin=Origin.DERIVED, made_by="soil.cohesive_ground",
    ),
    _d["length"](
        "distance to corner", "ft", "Distance from the edge of the pit to the nearer end of its wall",
        "Negative where the pit reaches past the corner.", origin=Origin.DERIVED,
        made_by="layout.distance_to_corner",
    ),
    _d["share"](
        "share of wall open at once", "%", "Share of the wall's length undermined at one time",
        "From pit length, spacing of open pits and wall length.", origin=Origin.DERIVED,
        made_by="undermining.share_open_at_once", worse=Worse.HIGHER,
    ),
    _d["force"](
        "pier load", "lb", "Service load on the pier",
        "Line load times the length of wall that the pier carries.", origin=Origin.DERIVED,
        made_by="load.pier_load",
    ),
    _d["share"](
        "footing bending use", "%", "Bending of the footing over the open pit, as a share of its strength",
        "Plain concrete, footing alone, simple span of the pit length.", origin=Origin.DERIVED,
        made_by="plain_concrete.bending_use", worse=Worse.HIGHER,
    ),
    _d["share"](
        "footing shear use", "%", "Shear of the footing over the open pit, as a share of its strength",
        origin=Origin.DERIVED, made_by="plain_concrete.shear_use", worse=Worse.HIGHER,
    ),
    _d["share"](
        "seat bearing use", "%", "Bearing of the footing on the bracket plate, as a share of its strength",
        origin=Origin.DERIVED, made_by="plain_concrete.bearing_use", worse=Worse.HIGHER,
    ),
    # Concluded by the rules
    _d["choice"](
        "soil class", "stable rock | A | B | C", "Soil class that the pit is held to",
        "The tested class, made worse where a rule says so.", origin=Origin.CONCLUDED,
        starts_from="tested soil class", worse=_WORSE_LATER,
    ),
    _d["choice"](
        "cave-in protection", "not needed | needed", "Whether the pit needs a protective system",
        origin=Origin.CONCLUDED, otherwise="not needed", worse=_WORSE_LATER,
    ),
    _d["choice"](
        "seat under cut footing", prompt="Bracket under the footing, its face cut back to the wall", **_SEAT,
    ),
    _d["choice"](
        "seat on concrete bed", prompt="Bracket under the footing on a bed of quick-setting concrete", **_SEAT,
    ),
    _d["choice"](
        "seat anchored to footing", prompt="Bracket under the footing, held to it with anchors", **_SEAT,
    ),
    _d["choice"](
        "seat with spanning tube", prompt="Rectangular steel tube between brackets under the wall", **_SEAT,
    ),
)  # fmt: skip

SEATS = tuple(word.name for word in PIER_WORDS if word.name.startswith("seat ") and word.otherwise)
