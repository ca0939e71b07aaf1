"""Words of what lies round the pits: utilities, neighbours, soil layers, and their pairs."""

from __future__ import annotations

from survey.vocabulary._declare import CHOSEN, declares
from survey.vocabulary.words import AsksWhen, Origin, Subject, Worse

_WORSE_LATER = Worse.LATER_CHOICE
_ELECTRIC = AsksWhen("utility kind", ("electric",))
_LOG = AsksWhen("boring log", ("yes",))
_u = declares(Subject.UTILITY)
_n = declares(Subject.NEIGHBOUR)
_s = declares(Subject.SOIL_LAYER)
_pu = declares(Subject.PIER_UTILITY)
_pn = declares(Subject.PIER_NEIGHBOUR)
_pp = declares(Subject.PIER_PIER)

UTILITY_WORDS = (
    _u["choice"](
        "utility kind",
        "water | sewer | storm drain | telephone or data | irrigation | septic | steam | electric "
        "| gas | propane | fuel or oil tank | well or cistern | not identified", "What is it?",
        "List water and sewer of the house, too. The pipe to a septic tank: sewer. An old well "
        "may be filled or only covered.",
    ),
    _u["choice"](
        "utility owner", "public or company | private", "Whose line is it?",
        "Private: the customer's own, beyond the meter. The one-call centre does not mark it.",
    ),
    _u["choice"](
        "owner's answer", "marked or cleared | cannot give the exact place | no answer",
        "What did the owner answer to the locate request?",
        "For a private line: what the private locate found.", worse=_WORSE_LATER,
    ),
    _u["choice"](
        "locate marks", "clear | faded | gone | never marked", "What do the marks look like today?",
        "Look on the day of the walk. Faded or gone: they are renewed before anybody digs.",
        worse=_WORSE_LATER,
    ),
    _u["choice"](
        "located by", "exposed | traced | surface signs | records only",
        "How is its place known?",
        "Exposed: seen at each pit that it passes, at its depth there. Seen elsewhere only: traced. "
        "Levels A to D of ASCE/CI 38.", worse=_WORSE_LATER,
    ),
    _u["reference"](
        "wall of utility", "Wall from which its place is measured",
        "Its name on the Walls sheet. The next four figures are measured along this wall and out "
        "from its face.", refers_to=Subject.WALL,
    ),
    _u["length"](
        "utility start station", "ft", "Station at one end of the stretch near the pits",
        "Walk along the wall, from its left corner, until that end of the line is straight out "
        "from you. Left of the corner: negative.", between=(-500, 1000),
    ),
    _u["length"](
        "utility start offset", "ft", "Distance out from the wall face at that end",
        "Straight out from the wall face to the middle of the line. Where it enters the building: "
        "0. Negative: under or inside it.", between=(-500, 500),
    ),
    _u["length"](
        "utility end station", "ft", "Station at the other end",
        "As at the start. A line that bends: a row for each straight stretch. A tank or well: its "
        "middle, at both ends.", between=(-500, 1000),
    ),
    _u["length"](
        "utility end offset", "ft", "Distance out from the wall face at the other end",
        "As at the start. A line along the wall has the same offset at both ends.",
        between=(-500, 500),
    ),
    _u["length"](
        "utility diameter", "in", "Outside diameter or width", "Of the pipe, duct bank, tank or well.",
        between=(0, 600), worse=Worse.HIGHER,
    ),
    _u["length"](
        "depth to utility", "ft", "Depth to its top, if it was exposed or measured",
        "Depths on records are no measurement.", between=(0, 60),
    ),
    _u["yes_no"](
        "shut off for the work",
        "Is it shut off, made dead or emptied while pits near it are open?",
        "Agree it with whoever shuts it off, with day and hour. A line that is dead can't kill.",
        origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _u["yes_no"](
        "ever struck", "Was it ever pulled, snagged or struck, by us or by others?",
        "A line that held where it was pulled may have parted elsewhere.", choices=("no", "yes"),
        worse=_WORSE_LATER,
    ),
    _u["choice"](
        "how the cable lies", "bare in the ground | in a pipe | encased in concrete",
        "How does the cable lie in the ground?",
        "Ask its owner, or look where it was exposed. A spade goes through a bare cable; concrete "
        "hides one.", asks_when=_ELECTRIC,
    ),
    _u["yes_no"](
        "chipping beside line", "Is concrete drilled, cut or chipped within 2 ft of it?",
        "Anchors, the cut for a bracket, an opened slab. The blow breaks a line that nobody sees.",
        choices=("no", "yes"), origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _u["yes_no"](
        "hand exposure planned",
        "Is it exposed by hand or vacuum before any other digging near it?",
        "Marks show only about where a line lies. It is sure once it was seen.", origin=CHOSEN,
        worse=_WORSE_LATER,
    ),
    _u["yes_no"](
        "support planned", "Is it supported or protected while exposed in a pit?",
        "Also where less than 12 in of ground is left beside it.", origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _u["choice"](
        "quality level", "A | B | C | D", "Utility quality level of ASCE/CI 38", origin=Origin.DERIVED,
        made_by="lines.quality_level", worse=_WORSE_LATER,
    ),
)  # fmt: skip

NEIGHBOUR_WORDS = (
    _n["choice"](
        "neighbour kind",
        "house | garage or shed | party wall | retaining wall | pavement or sidewalk | "
        "pool | tank | tree | light structure | other structure",
        "What is it?",
        "Poles, fences, steps, decks without a roof: light structure. Own walks and patios: pavement. "
        "Measure to the trunk of a tree.",
    ),
    _n["reference"](
        "wall of neighbour", "Wall from which its place is measured",
        "Its name on the Walls sheet. The next three figures are measured along this wall and "
        "out from its face.", refers_to=Subject.WALL,
    ),
    _n["length"](
        "neighbour start station", "ft", "Station at which it begins",
        "Along that wall from its left corner; may be negative.", between=(-500, 1000),
    ),
    _n["length"](
        "neighbour end station", "ft", "Station at which it ends",
        "As at the start, to its other end. A tree or pole: the same once more.",
        between=(-500, 1000),
    ),
    _n["length"](
        "neighbour offset", "ft", "Distance out from our wall face to its nearest edge",
        "To its nearest point, over the whole length. It decides whether the pit takes its ground "
        "away.", between=(0, 500), worse=Worse.LOWER,
    ),
    _n["length"](
        "neighbour footing depth", "ft", "Depth of its underside below the ground at our pits",
        "Ask its owner, or measure at a cellar window. Zero where it stands on the surface, and "
        "for a tree.", between=(0, 60), worse=Worse.LOWER,
    ),
    _n["yes_no"](
        "other owner", "Does it belong to somebody else than our customer?",
        "Ask the customer, or look at the map of lots. Another owner is told before work.",
        choices=("no", "yes"),
    ),
    _n["date"](
        "notice date", "Day on which its owner was told in writing", "IBC 3307.1. A pavement, tree or light structure needs none.",
        asks_when=AsksWhen("other owner", ("yes",)),
    ),
    _n["days"](
        "notice given", "days", "Days from the notice to the crew's first day",
        origin=Origin.DERIVED, made_by="dates.days_between", worse=Worse.LOWER,
    ),
)  # fmt: skip

SOIL_LAYER_WORDS = (
    _s["length"](
        "layer top", "ft", "Depth to the top of the layer",
        "From the ground at the test hole; the first layer begins at 0. Leave no gap between "
        "layers.", between=(0, 300),
    ),
    _s["length"](
        "layer bottom", "ft", "Depth to its underside, or to where the hole ended",
        "From the ground, too. As long as a part of a pit lies in no layer, its soil class can't "
        "be told.", between=(0, 300),
    ),
    _s["choice"](
        "soil group",
        "stable rock | dry unstable rock | cemented soil | clay | silty clay | sandy clay | clay "
        "loam | silt | silt loam | sandy loam | angular gravel | gravel | loamy sand | sand | "
        "fill", "What is the ground?",
        "Damp clay rolls into a thread; silt and sand crumble. Fill whose make-up is known: "
        "choose what it is made of. Else: fill.",
    ),
    _s["choice"](
        "strength test", "thumb | penetrometer or vane | both",
        "Which hand test of its strength was made?",
        "At least one; Appendix A (c)(2). Where both are made, the worse one counts.",
        asks_when=AsksWhen("soil group", ("clay", "silty clay", "sandy clay", "clay loam")),
    ),
    _s["choice"](
        "thumb test", "indented only with great effort | indented with effort | easily pushed in",
        "What does the thumb do on a fresh clump?",
        "Of a clump that was just dug. The answers stand for 1.5 tsf and more, down to 0.5, and "
        "less; Appendix A (d)(2)(iii).", asks_when=AsksWhen("strength test", ("thumb", "both")),
        worse=_WORSE_LATER,
    ),
    _s["pressure"](
        "unconfined strength", "tsf", "Unconfined compressive strength by penetrometer or vane",
        "A vane reads shear strength: double it. The lowest reading counts.", between=(0, 20),
        asks_when=AsksWhen("strength test", ("penetrometer or vane", "both")), worse=Worse.LOWER,
    ),
    _s["yes_no"](
        "fissured", "Does it break along planes or show cracks?",
        "Break a big lump by hand. Such ground comes off in slabs, and is never type A.",
        choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _s["yes_no"](
        "dug before", "Was it ever dug or filled, as beside a footing?",
        "Beside a footing nearly always yes: it was dug to build it. Such ground is never type A.",
        choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _s["yes_no"](
        "layer seeps", "Is it under water, or does water seep from it?",
        "A wet face, a trickle, mud that runs. Such ground is type C.", choices=("no", "yes"),
        worse=_WORSE_LATER,
    ),
    _s["choice"](
        "dip into pit", "no layers | flatter than 4H:1V | 4H:1V or steeper",
        "Do layers slope down into the pit?",
        "Look at the bands in the test hole. Layers that slope into the pit slide in. No bands: "
        "no layers.", worse=_WORSE_LATER,
    ),
    _s["yes_no"](
        "boring log", "Is there a boring log of this ground?", "From a soils report.",
    ),
    _s["choice"](
        "unified soil group",
        "GW | GP | GM | GC | SW | SP | SM | SC | ML | CL | OL | MH | CH | OH | PT",
        "Group symbol on the log",
        "ASTM D2487. Two letters beside the layer.", asks_when=_LOG,
    ),
    _s["count"](
        "blow count", "", "Blows for a foot on the log (N)",
        "ASTM D1586. The lowest in the layer.", between=(0, 100), asks_when=_LOG,
    ),
    _s["choice"](
        "consistency", "hard | very stiff | stiff | medium | soft | very soft",
        "Consistency of clay or silt on the log", "Leave it open for sand and gravel.", asks_when=_LOG,
    ),
    _s["choice"](
        "soil class by log", "A | B | C", "Soil class that the boring log suggests",
        "No classification: the competent person tests the ground itself, Appendix A (c)(2).",
        origin=Origin.DERIVED, made_by="soil_fallback.estimated_soil_class", worse=_WORSE_LATER,
    ),
    _s["choice"](
        "layer soil class", "stable rock | A | B | C", "Soil class of the layer",
        origin=Origin.DERIVED, made_by="soil.layer_soil_class", worse=_WORSE_LATER,
    ),
)  # fmt: skip

PAIR_WORDS = (
    _pu["length"](
        "clearance to utility", "ft", "Clear distance in plan from the pit's edge to the line",
        "Edge of the slope at the ground to the outside of the line; zero where they overlap.",
        origin=Origin.DERIVED, made_by="layout.clearance_to_utility", worse=Worse.LOWER,
    ),
    _pu["length"](
        "depth of line above pit floor", "ft", "How far the top of the line lies above the pit's floor",
        "Negative where the line lies deeper than the pit.", origin=Origin.DERIVED,
        made_by="layout.depth_above_floor",
    ),
    _pu["length"](
        "clearance beyond tolerance zone", "ft", "Clearance to the line less its tolerance zone",
        "Negative where the pit reaches into the zone.", origin=Origin.DERIVED,
        made_by="lines.clearance_beyond_tolerance", worse=Worse.LOWER,
    ),
    _pu["length"](
        "clearance in space", "ft", "Least distance from the line to the pit's sides, slope and floor",
        "At the line's own depth; zero where it lies in the pit.", origin=Origin.DERIVED,
        made_by="lines.clearance_in_space", worse=Worse.LOWER,
    ),
    _pu["length"](
        "clearance to pier tube", "ft", "Distance in plan from the line to the tube, at any depth",
        "The tube passes lines that lie below the pit, too.", origin=Origin.DERIVED,
        made_by="lines.clearance_to_tube", worse=Worse.LOWER,
    ),
    _pn["length"](
        "drawdown at neighbour", "ft", "How far pumping lowers the water under the neighbour",
        "At its greatest for such ground.", origin=Origin.DERIVED, made_by="inflow.drawdown",
        worse=Worse.HIGHER,
    ),
    _pn["length"](
        "clearance to neighbour", "ft", "Clear distance in plan from the pit's edge to the neighbour",
        origin=Origin.DERIVED, made_by="layout.clearance_to_neighbour", worse=Worse.LOWER,
    ),
    _pn["slope"](
        "slope to neighbour", "H:1V", "Slope from the neighbour's footing edge down to the pit's floor",
        "Horizontal distance over the depth of the pit's floor below its footing. Does not apply where "
        "the pit is no deeper than its footing.", origin=Origin.DERIVED,
        made_by="undermining.slope_to_neighbour", worse=Worse.LOWER,
    ),
    _pp["length"](
        "clearance between pits", "ft", "Clear distance in plan between the edges of the two pits",
        "From edge to edge of the slopes at the ground; zero where they overlap.",
        origin=Origin.DERIVED, made_by="layout.clearance_between_pits", worse=Worse.LOWER,
    ),
    _pp["length"](
        "distance between piers", "ft", "Distance in plan between the two piers, centre to centre",
        "Each is taken at its station, on the outside face of its wall.", origin=Origin.DERIVED,
        made_by="layout.distance_between_piers",
    ),
)  # fmt: skip
