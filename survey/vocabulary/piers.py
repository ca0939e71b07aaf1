"""Words of a pier location: its pit, how the sides are held, its seat."""

from __future__ import annotations

from survey.vocabulary._declare import CHOSEN, declares
from survey.vocabulary.words import AsksWhen, Origin, Subject, Worse

_d = declares(Subject.PIER)
_WORSE_LATER = Worse.LATER_CHOICE
_HELD = AsksWhen("side protection", ("timber shoring", "hydraulic shoring", "shield"))
_TIMBER = AsksWhen("side protection", ("timber shoring",))
_STEP = AsksWhen("footing step near", ("yes",))
_SLOPED = AsksWhen("side protection", ("sloped",))
_UPRIGHT = AsksWhen("foot of the slope", ("upright part held",))

PIER_WORDS = (
    _d["reference"](
        "wall of pier", "Wall at which the pier stands",
        "Its name on the Walls sheet.", refers_to=Subject.WALL,
    ),
    _d["length"](
        "station", "ft", "Distance along the wall from its left corner, seen from outside",
        "Tape along the outside face to the middle of the pier. For an inside pit, too.",
        between=(0, 500),
    ),
    _d["choice"](
        "pit reached from", "outside | basement | crawl space", "From where is the pit dug?",
        "Depths of an inside pit are measured from the floor inside.",
    ),
    _d["length"](
        "footing depth", "ft", "Depth of the underside of the footing below the ground at the pit",
        "Measured in the test hole. Inside: below the floor. It decides how far the pit goes "
        "under the footing.", between=(0, 40),
    ),
    _d["length"](
        "pit depth", "ft", "Depth of the pit at its deepest point",
        "From the highest ground at its edge. It must reach below the footing.", between=(0, 60),
        origin=CHOSEN,
    ),
    _d["length"](
        "pit length", "in", "Length of the pit at its floor, along the wall",
        "Short, so that less of the footing hangs free; but a person must have room in it.",
        between=(6, 360), origin=CHOSEN,
    ),
    _d["length"](
        "pit width", "in", "Width of the pit at its floor, out from the wall",
        "Room to kneel and to set the bracket, from the wall out. A slope comes on top.",
        between=(6, 360), origin=CHOSEN,
    ),
    _d["length"](
        "working room", "in", "Least clear room for a person at the pit, either way",
        "Clear of walls, tanks, stairs and stored things. Whoever works there must turn and get "
        "out.", between=(0, 360), worse=Worse.LOWER,
    ),
    _d["choice"](
        "side protection",
        "none | sloped | benched | timber shoring | hydraulic shoring | shield",
        "What holds the sides of the pit?",
        "What will stand there, not what is on the truck. Held below and sloped above: sloped.",
        origin=CHOSEN,
    ),
    _d["slope"](
        "slope of sides", "H:1V", "Slope of the sides, horizontal to one vertical",
        "1.5 means 1.5 ft out for each foot down.", between=(0, 10), origin=CHOSEN,
        asks_when=_SLOPED,
    ),
    _d["choice"](
        "foot of the slope",
        "slope goes down to the floor | upright part held | upright part not held",
        "Does the slope go down to the floor, or do the sides stand upright below it?",
        "Held: by shoring or a shield.", origin=CHOSEN, asks_when=_SLOPED,
    ),
    _d["length"](
        "support above upright part", "in",
        "How far does the shoring or shield stand up above the upright part?",
        "From the top of the upright part to the top of the support. It stops what rolls down the "
        "slope.", between=(0, 240), origin=CHOSEN, asks_when=_UPRIGHT, worse=Worse.LOWER,
    ),
    _d["choice"](
        "protection design", "engineer's design | maker's data | appendix table",
        "From where do the sizes of shoring or shield come?",
        "Ask for the papers. They must be on site while the pit is open.", origin=CHOSEN,
        asks_when=_HELD, worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "protection design allows for building",
        "Do the maker's data allow for the load of the footing beside the pit?",
        "Read the data: most are for open ground. If they say nothing of a building: no.",
        origin=CHOSEN, asks_when=AsksWhen("protection design", ("maker's data",)),
        worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "protection in place before entry",
        "Is the shoring or shield in place, over the whole depth, before anyone goes in?",
        "Equipment on site is not equipment in place.", origin=CHOSEN, asks_when=_HELD,
        worse=_WORSE_LATER,
    ),
    _d["choice"](
        "protection covers", "the whole pit | the sides, ends open | a part of the pit",
        "How much of the pit does the shoring or shield hold, all round?",
        "Wherever someone stands or reaches. A sloped end counts as held.", origin=CHOSEN, asks_when=_HELD,
        worse=_WORSE_LATER,
    ),
    _d["length"](
        "height of protection", "ft", "Height of the shoring or shield, from its foot to its top",
        "As it will stand in the pit. Ground above its top can slide in over it.", between=(0, 60),
        origin=CHOSEN, asks_when=_HELD, worse=Worse.LOWER,
    ),
    _d["length"](
        "dug below protection", "in", "How far is the pit dug below the foot of the shoring or shield?",
        "Zero where it stands on the floor.", between=(0, 240), origin=CHOSEN, asks_when=_HELD,
    ),
    _d["yes_no"](
        "protection undamaged", "Has the competent person looked at its parts and found none damaged?",
        "A part that an engineer has since approved in writing counts as not damaged.",
        origin=CHOSEN, asks_when=_HELD, worse=_WORSE_LATER,
    ),
    _d["choice"](
        "shoring timber", "mixed oak | Douglas fir", "Of what wood is the shoring?",
        "Appendix C has tables for these two.", origin=CHOSEN, asks_when=_TIMBER,
    ),
    _d["length"](
        "brace spacing", "ft", "Distance between crossbraces along the pit",
        "Middle to middle, where they stand farthest apart. The sizes in the tables depend on it.",
        between=(1, 20), origin=CHOSEN, asks_when=_TIMBER,
    ),
    _d["length"](
        "clear ground out from wall", "ft", "Clear ground from the wall to the nearest obstacle or boundary",
        "Straight out from the wall at this pier; for pit, slope, spoil and the way to walk.",
        between=(0, 500), worse=Worse.LOWER,
    ),
    _d["yes_no"](
        "cave-in signs", "Did the competent person see any sign of cave-in, loose or ravelling ground?",
        "Cracks along the edge; a side that bulges, slumps or is undercut; crumbs that fall; loose rock.",
        choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "seepage at pit", "Does water seep from the ground at the pit?",
        "Look in the test hole and at low ground nearby. Water loosens the sides, and must be "
        "kept out.", choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _d["choice"](
        "slope of ground at pit", "flatter than 3H:1V | 3H:1V or steeper",
        "How steep does the ground rise or fall within twice the pit's depth?",
        "With a 6 ft level held level: 2 ft or more of fall under its end is 3H:1V or steeper. A "
        "bank loads the side of the pit.", worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "backfill beside pit",
        "Was there ever a trench, tank or pit, since filled, nearer to this pit than it is deep?",
        "Sewer and water trenches, old tanks, test holes; the fill beside our own footing is asked on the "
        "Soil sheet.", choices=("no", "yes"),
    ),
    _d["length"](
        "spoil distance", "ft", "Distance from the pit's edge to the spoil, tools and materials",
        "From the pit's edge at the ground to the foot of the heap. What lies nearer falls in and "
        "loads the side.", between=(0, 200), origin=CHOSEN, worse=Worse.LOWER,
    ),
    _d["yes_no"](
        "ladder in pit", "Does a ladder, ramp or steps stand in the pit?",
        "It reaches 3 ft above the edge and can't slip. It is the way out when a side moves.",
        origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["length"](
        "distance to ladder", "ft", "Farthest that a person in the pit is from the way out",
        "Along the way that the person goes, around braces and all.", between=(0, 200),
        origin=CHOSEN, asks_when=AsksWhen("ladder in pit", ("yes",)), worse=Worse.HIGHER,
    ),
    _d["yes_no"](
        "pit hidden from view",
        "Is the edge of the pit hard to see: behind plants, a corner, in the dark?",
        "Come up to it as a visitor would. Such a pit needs a guardrail or a cover.",
        choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _d["choice"](
        "over the boundary",
        "inside the property | over it, agreed in writing | over it, not agreed",
        "Does the pit, with its slope and spoil, stay inside our customer's land?",
        "Find the pins or a plan of the lot; a fence may stand beside the boundary.",
        worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "undermines footing", "Will the pit go below the underside of the footing?",
        "The depths decide; a bracket under the footing always needs it.", choices=("no", "yes"),
        origin=CHOSEN,
    ),
    _d["choice"](
        "lines through footing", "none | dead or moved | live",
        "Do pipes, wires or conduits run in or through wall or footing where it is drilled or cut?",
        "Look on both sides of the wall. Not looked: not known.", worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "meter at pit",
        "Does a gas or electric meter, regulator, riser or mast stand within 3 ft of the pit?",
        "Digging or driving beside it can tear a gas pipe or a live wire loose.",
        choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "earth rod at pit", "Does an earth rod or its wire stand at the pit?",
        "The bare or green wire from the electric service to a rod or pipe.", choices=("no", "yes"),
        worse=_WORSE_LATER,
    ),
    _d["choice"](
        "footing drain at pit", "none | carried across the pit | cut off",
        "Does a drain run along the footing at the pit, and what becomes of it?",
        "A pipe in gravel beside the footing. A drain that is cut off empties into the pit.",
        worse=_WORSE_LATER,
    ),
    _d["choice"](
        "opening above pit", "none | narrower than 4 ft | 4 ft or wider",
        "Is there a window, door or other opening in the wall over the pit or within 2 ft of it?",
        "Measure its width. The wall can't carry across the pit where it is open.",
        worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "heavy load over pit",
        "Does a chimney, post, beam end or other point load stand over the pit or within 2 ft of it?",
        "Look up, inside and outside. All of it weighs on the footing that the pit lays bare.",
        choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _d["force"](
        "point load at pier", "lb", "Load of the chimney, post or beam end, if an engineer gave it",
        "From the engineer's letter or drawing. Not given: leave it open.", between=(0, 200000),
        asks_when=AsksWhen("heavy load over pit", ("yes",)), worse=Worse.HIGHER,
    ),
    _d["yes_no"](
        "footing step near", "Does the footing step up within 20 ft of this pit?",
        "Look at drawings, and where the ground or the floor steps. The pit takes the ground from "
        "under the upper footing.", choices=("no", "yes"),
    ),
    _d["length"](
        "distance to step", "ft", "Distance along the wall from the pit's edge to the step",
        "Level, to where the underside steps up.", between=(0, 20), asks_when=_STEP,
        worse=Worse.LOWER,
    ),
    _d["length"](
        "step height", "in", "How much higher is the underside of the footing beyond the step?",
        "From underside to underside. The higher, the farther the pit reaches under the upper "
        "footing.", between=(1, 120), asks_when=_STEP, worse=Worse.HIGHER,
    ),
    _d["length"](
        "headroom at pier", "in",
        "Height from the ground or floor beside the pit to whatever is above",
        "Deck, eaves, joists, stairs. Write 50 ft where there is only sky. Drive stand and "
        "section must fit under it.", between=(6, 600), worse=Worse.LOWER,
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
    _d["length"](
        "distance to next pier", "ft", "Distance along the wall to the nearest other pier",
        "Centre to centre, by their stations.", origin=Origin.DERIVED,
        made_by="layout.distance_to_next_pier", worse=Worse.LOWER,
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
        made_by="load.pier_load", bounded=True,
    ),
    _d["share"](
        "footing bending use", "%", "Bending of the footing over the open pit, as a share of its strength",
        "Footing alone, plain or with the bars that were found, simple span of the opening.", origin=Origin.DERIVED,
        made_by="reinforced_concrete.pit_bending_use", bounded=True, worse=Worse.HIGHER,
    ),
    _d["share"](
        "footing shear use", "%", "Shear of the footing over the open pit, as a share of its strength",
        origin=Origin.DERIVED, made_by="reinforced_concrete.pit_shear_use", bounded=True, worse=Worse.HIGHER,
    ),
    _d["share"](
        "seat bearing use", "%", "Bearing of the footing on the bracket plate, as a share of its strength",
        origin=Origin.DERIVED, made_by="plain_concrete.bearing_use", bounded=True, worse=Worse.HIGHER,
    ),
    _d["slope"](
        "steepest slope by appendix", "H:1V", "Steepest slope that Appendix B allows for the tested soil class",
        "Before a rule makes the class worse.", origin=Origin.DERIVED, made_by="slopes.appendix_b_slope",
        worse=Worse.HIGHER,
    ),
    _d["volume"](
        "pit volume", "ft3", "Volume of the pit", origin=Origin.DERIVED, made_by="spoil.pit_volume",
    ),
    _d["volume"](
        "spoil volume", "ft3", "Volume of the loosened spoil", "At its greatest for such ground.",
        origin=Origin.DERIVED, made_by="spoil.spoil_volume",
    ),
    _d["force"](
        "spoil weight", "lb", "Weight of the spoil", "At its greatest for such ground.",
        origin=Origin.DERIVED, made_by="spoil.spoil_weight",
    ),
    _d["length"](
        "ground needed out from wall", "ft", "What pit, slope, set-back and spoil heap need, out from the wall",
        origin=Origin.DERIVED, made_by="spoil.ground_needed", worse=Worse.HIGHER,
    ),
    _d["pressure"](
        "side pressure", "psf", "Pressure of the ground on the pit's side at its floor, by Appendix C",
        origin=Origin.DERIVED, made_by="side_pressure.appendix_c_pressure", worse=Worse.HIGHER,
    ),
    _d["yes_no"](
        "appendix tables hold", "Whether the shoring tables of Appendices C and D may be used here",
        origin=Origin.DERIVED, made_by="shoring_tables.tables_usable", worse=_WORSE_LATER,
    ),
    _d["text"](
        "shoring by table", "Members by the tables of Appendices C and D",
        "To check a choice with; the tables themselves decide.", origin=Origin.DERIVED,
        made_by="timber_shoring.timber_shoring",
    ),
    _d["slope"](
        "slope to own footing", "H:1V", "Slope from the footing round the nearer corner down to the pit's floor",
        origin=Origin.DERIVED, made_by="undermining.slope_to_own_footing", worse=Worse.LOWER,
    ),
    _d["slope"](
        "slope to upper footing", "H:1V", "Slope from the footing beyond a step down to the pit's floor",
        origin=Origin.DERIVED, made_by="undermining.slope_to_upper_footing", worse=Worse.LOWER,
    ),
    _d["flow"](
        "inflow to pit", "gpm", "Water that may run into the pit", "At its greatest for such ground.",
        origin=Origin.DERIVED, made_by="inflow.inflow", worse=Worse.HIGHER,
    ),
    _d["count"](
        "pumps needed", "", "Pumps to keep up with the inflow, one of them in reserve",
        origin=Origin.DERIVED, made_by="inflow.pumps_needed", worse=Worse.HIGHER,
    ),
    _d["share"](
        "exit gradient use", "%", "Upward flow at the pit's floor, as a share of what lifts the ground",
        origin=Origin.DERIVED, made_by="heave.exit_gradient_use", worse=Worse.HIGHER,
    ),
    _d["share"](
        "base heave use", "%", "Load beside the pit, as a share of what the clay under its floor can bear",
        origin=Origin.DERIVED, made_by="heave.base_heave_use", bounded=True, worse=Worse.HIGHER,
    ),
    _d["force"](
        "dead load to push against", "lb", "Dead load that the pier can be driven against",
        "At its least: half the wall to each of the next piers.", origin=Origin.DERIVED,
        made_by="drive.dead_load_engaged", bounded=True, worse=Worse.LOWER,
    ),
    _d["share"](
        "drive share", "%", "Planned drive load as a share of the service load on the pier",
        origin=Origin.DERIVED, made_by="drive.drive_share", bounded=True, worse=Worse.LOWER,
    ),
    _d["share"](
        "lift use", "%", "Planned drive load as a share of what turns the wall up about its far end",
        "Its own dead load alone: what the walls that meet it add is left out.",
        origin=Origin.DERIVED, made_by="drive.lift_use", bounded=True, worse=Worse.HIGHER,
    ),
    _d["share"](
        "tube use while driving", "%", "Planned drive load on the tube, as a share of its strength",
        "Whole thickness; over the length that the open pit leaves unsupported.",
        origin=Origin.DERIVED, made_by="tube.driving_use", bounded=True, worse=Worse.HIGHER,
    ),
    _d["share"](
        "tube use in service", "%", "Service load on the tube at the end of its life, as a share of its strength",
        "With the loss of mildly aggressive ground, which is the least.",
        origin=Origin.DERIVED, made_by="tube.service_use", bounded=True, worse=Worse.HIGHER,
    ),
    _d["length"](
        "depth to bearing", "ft", "Depth from the ground to rock or hard ground", origin=Origin.DERIVED,
        made_by="bearing_depth.depth_to_bearing", bounded=True,
    ),
    _d["count"](
        "sections needed", "", "Sections of tube down to bearing", origin=Origin.DERIVED,
        made_by="bearing_depth.sections_needed", bounded=True,
    ),
    _d["share"](
        "headroom use", "%", "Height of section and drive stand, as a share of the headroom at the pier",
        origin=Origin.DERIVED, made_by="bearing_depth.headroom_use", worse=Worse.HIGHER,
    ),
    _d["area"](
        "bearing area needed", "in2", "Area of bracket plate that the footing concrete needs",
        origin=Origin.DERIVED, made_by="seats.bearing_area_needed",
    ),
    _d["length"](
        "seat thickness needed", "in", "Least footing thickness that carries the bracket plate",
        origin=Origin.DERIVED, made_by="seats.thickness_needed", worse=Worse.HIGHER,
    ),
    _d["count"](
        "holes to drill", "", "Holes to drill to break out the cut in the footing",
        origin=Origin.DERIVED, made_by="seats.holes_to_drill",
    ),
    _d["share"](
        "anchor use", "%", "Load on the bracket's anchors, as a share of their strength",
        origin=Origin.DERIVED, made_by="anchors.anchor_use", worse=Worse.HIGHER,
    ),
    _d["share"](
        "spanning tube use", "%", "Load on the tube between brackets, as a share of its strength",
        "To the farther of the next piers; steel taken as ASTM A500 grade B.",
        origin=Origin.DERIVED, made_by="spanning_tube.spanning_tube_use", bounded=True, worse=Worse.HIGHER,
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
        "seats that suit", "some | none", "Whether any seat of the catalogue suits",
        "Each seat is a word of its own: suits, or does not suit.", origin=Origin.CONCLUDED,
        otherwise="some", worse=_WORSE_LATER,
    ),
)  # fmt: skip
