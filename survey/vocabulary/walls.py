"""Words of a wall: where it runs, what it carries, what it stands on, its state."""

from __future__ import annotations

from survey.vocabulary._declare import CHOSEN, declares
from survey.vocabulary.words import AsksWhen, Origin, Subject, Worse

_d = declares(Subject.WALL)
_FOOTING = AsksWhen("footing kind", ("concrete", "thickened slab edge", "brick or stone", "rubble"))
_CONCRETE = AsksWhen("footing kind", ("concrete", "thickened slab edge"))
_SLAB = AsksWhen("footing kind", ("thickened slab edge",))
_JOINTED = AsksWhen("wall material", ("concrete block", "brick", "rubble"))
_BARS = AsksWhen("footing reinforcement", ("bars found",))
_WORSE_LATER = Worse.LATER_CHOICE
# Where a worse answer also changes what else is asked, no direction is declared; nor where what
# weighs more also gives a pier more to push against.

WALL_WORDS = (
    _d["length"](
        "wall length", "ft", "Length of the wall, corner to corner, outside face",
        "Walls are listed from left to right as seen from outside, round the building.",
        between=(1, 500),
    ),
    _d["angle"](
        "turn at right end", "deg", "Turn to the next wall at its right end, seen from outside",
        "90 at an ordinary outside corner, -90 at an inside corner, 0 where the wall goes on.",
        between=(-180, 180),
    ),
    _d["choice"](
        "wall material",
        "poured concrete | concrete block | brick | wood | dry-laid stone | rubble",
        "What is the foundation wall made of?",
        "Look below the cladding, or from inside. It decides whether the wall can span an open "
        "pit.",
    ),
    _d["length"](
        "wall thickness", "in", "Thickness of the foundation wall",
        "Measure at a window, door or hatch, without panelling. A part of what the piers carry.",
        between=(2, 60),
    ),
    _d["length"](
        "wall height", "ft", "Height of the foundation wall above the footing",
        "From the top of the footing to the sill. Zero for a slab edge. The load, and how deep a "
        "floor inside lies, rest on it.", between=(0, 30),
    ),
    _d["count"](
        "storeys", "", "Storeys above the foundation wall",
        "Each floor that rests on this wall: a house of one storey has 1. Each adds to what the "
        "piers carry.", between=(0, 6),
    ),
    _d["choice"](
        "wall cladding", "light siding or stucco | brick or stone veneer",
        "What covers the outside of the storeys above?",
        "Brick that only faces a wood frame is veneer. It weighs far more than siding.",
    ),
    _d["length"](
        "floor span", "ft", "Span of the floor joists that rest on this wall",
        "Clear span to the next support. Zero where joists run along the wall.", between=(0, 60),
    ),
    _d["length"](
        "roof span", "ft", "Span of the rafters or trusses that rest on this wall",
        "From this wall to the next that carries the roof. Zero where the roof slopes along the "
        "wall (gable).", between=(0, 100),
    ),
    _d["length"](
        "carried from", "ft", "Station from which the piers carry this wall",
        "By the engineer's plan: the station where the piers begin to carry. Left of it the "
        "ground goes on carrying. From the left corner on: 0.", between=(0, 500), origin=CHOSEN,
    ),
    _d["length"](
        "carried to", "ft", "Station up to which the piers carry this wall",
        "By the engineer's plan, measured from the left corner, too. Right of it the ground goes "
        "on carrying. Up to the right corner: the wall length.", between=(0, 500), origin=CHOSEN,
    ),
    _d["choice"](
        "wall cracks", "none | hairline | up to 1/4 in | wider than 1/4 in or displaced",
        "Worst crack in the foundation wall",
        "Look along both faces. A drill bit that fits in measures it. Displaced: one side stands "
        "out from the other.", worse=_WORSE_LATER,
    ),
    _d["length"](
        "wall out of plumb", "in", "Most that the wall bows or leans out of plumb, over its height",
        "Hang a plumb line or hold a long level at the worst place. A wall that leans may come in "
        "when its ground is taken away.", between=(0, 36), worse=Worse.HIGHER,
    ),
    _d["choice"](
        "mortar joints", "sound | soft or missing", "What are the mortar joints of the wall like?",
        "Scratch them with a key. A wall with soft joints can't span an open pit.",
        asks_when=_JOINTED, worse=_WORSE_LATER,
    ),
    _d["choice"](
        "framing on wall", "sound | rotten, crushed or loose",
        "What is the sill on the wall like, and the framing that rests on it?",
        "Push a screwdriver into it. A slab edge with nothing on it but a wall: sound.",
        worse=_WORSE_LATER,
    ),
    _d["choice"](
        "age of foundation", "28 days or older | younger than 28 days",
        "Was any concrete or mortar of wall or footing placed in the last 28 days?",
        "Ask about repairs and additions. Young concrete can't yet be loaded, cut or drilled.",
        worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "wall held at top", "Is the top of the wall held by a floor on a sill that is tied to it?",
        "Look from inside for bolts or straps at the sill. A wall that is not held may tip once "
        "its ground is dug away.", worse=_WORSE_LATER,
    ),
    _d["choice"](
        "footing kind",
        "concrete | thickened slab edge | brick or stone | rubble | none found",
        "What does the wall stand on?", "Look at it: dig one test hole down to the footing.",
    ),
    _d["length"](
        "footing thickness", "in", "Thickness of the footing, top to underside",
        "In the test hole: feel for its lower edge. The footing must hold over an open pit.",
        between=(1, 72), asks_when=_FOOTING,
    ),
    _d["length"](
        "footing width", "in", "Whole width of the footing, across the wall",
        "What stands out outside, the wall, what stands out inside. Unseen: from drawings or a "
        "hole.", between=(4, 120), asks_when=_FOOTING,
    ),
    _d["length"](
        "footing projection", "in", "How far the footing stands out beyond the wall face",
        "In the test hole: from a level held upright on the wall face out to the edge. Flush: 0.",
        between=(0, 60), asks_when=_FOOTING,
    ),
    _d["choice"](
        "footing reinforcement", "bars found | no bars found",
        "Was reinforcement found in the footing?",
        "Found means seen, on drawings of this building, or with a detector. Not looked: not known.",
        asks_when=_CONCRETE,
    ),
    _d["choice"](
        "bottom bar size", "#3 | #4 | #5 | #6 | #7 | #8",
        "Size of the bars near the underside of the footing",
        "In eighths of an inch: #4 is 1/2 in. From drawings, or measured where a bar lies bare.",
        asks_when=_BARS,
    ),
    _d["count"](
        "bottom bars", "",
        "How many of them run along the footing and are not cut for the brackets?",
        "From drawings, or with a detector. None left uncut: 0. They help the footing over the "
        "pit.", between=(0, 20), asks_when=_BARS,
    ),
    _d["choice"](
        "bottom bar surface", "deformed | plain",
        "Are these bars ribbed (deformed) or smooth (plain)?",
        "Look at a bar that lies bare. Old smooth bars hold less in the concrete.", asks_when=_BARS,
        worse=_WORSE_LATER,
    ),
    _d["length"](
        "bottom bar cover", "in", "Concrete between these bars and the underside",
        "From drawings, or measured where a bar lies bare; the least counts.", between=(0.5, 12),
        asks_when=_BARS,
    ),
    _d["pressure"](
        "bar yield strength", "psi", "Yield strength of the bars",
        "From drawings. A 60 or one long line on the bar: 60,000 psi (ASTM A615). No mark may be "
        "40,000 psi or less: ask the engineer, do not guess.", between=(30000, 80000),
        asks_when=_BARS,
    ),
    _d["choice"](
        "footing cracks", "none | hairline | open", "Worst crack in the footing",
        "Brush it clean and look along it. Open: a sheet of paper goes in. A crack parts it over "
        "the pit.", asks_when=_FOOTING, worse=_WORSE_LATER,
    ),
    _d["choice"](
        "footing honeycomb", "none | shallow | deep or hollow",
        "Are there voids, gravel pockets or hollow-sounding places in the footing?",
        "Tap it with a hammer. Where it sounds hollow it may crush on the bracket.",
        asks_when=_CONCRETE, worse=_WORSE_LATER,
    ),
    _d["choice"](
        "cables in slab", "none by drawings or detector | nobody looked | stressed cables found",
        "Do steel cables under tension run in the slab?",
        "A stamp in the floor, or round mortar patches in a row along the edge, speak for them. A "
        "cable that is cut flies out and kills.", asks_when=_SLAB, worse=_WORSE_LATER,
    ),
    _d["pressure"](
        "concrete strength", "psi", "Compressive strength of the footing concrete, if shown",
        "From drawings or tests. Looks tell nothing: not shown, leave it open or ask the engineer.",
        between=(500, 12000), asks_when=_CONCRETE, worse=Worse.LOWER,
    ),
    _d["yes_no"](
        "footing face can be prepared",
        "Can the footing be cut back flush, square and level where the bracket goes?",
        "Hold the bracket's template to it. A bracket on a rough face bears on a few points only.",
        asks_when=_CONCRETE, worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "cutting footing bars accepted",
        "Has an engineer accepted in writing that footing bars may be cut?",
        "A letter for this building. Bars that are cut no longer help the footing over the pit.",
        origin=CHOSEN, asks_when=AsksWhen("footing reinforcement", ("bars found",)),
        worse=_WORSE_LATER,
    ),
    _d["line_load"](
        "wall line load", "plf", "Service load on the footing, per foot of wall",
        "Dead, floor live, and roof or snow load.", origin=Origin.DERIVED,
        made_by="load.wall_line_load", bounded=True,
    ),
    _d["line_load"](
        "dead line load", "plf", "Dead load alone on the footing, per foot of wall",
        "What there is to push against.", origin=Origin.DERIVED, made_by="load.dead_line_load", bounded=True,
    ),
    _d["length"](
        "greatest pier spacing", "ft", "Greatest distance between piers that the footing can span",
        "Footing alone, as plain concrete.", origin=Origin.DERIVED,
        made_by="spacing.greatest_pier_spacing", worse=Worse.LOWER,
    ),
    _d["share"](
        "footing bending use between piers", "%",
        "Bending of the footing between piers, as a share of its strength",
        "Footing alone: no help from the wall above it.", origin=Origin.DERIVED,
        made_by="reinforced_concrete.bending_use", bounded=True, worse=Worse.HIGHER,
    ),
    _d["share"](
        "footing shear use between piers", "%",
        "Shear of the footing between piers, as a share of its strength", origin=Origin.DERIVED,
        made_by="reinforced_concrete.shear_use", bounded=True, worse=Worse.HIGHER,
    ),
    _d["line_load"](
        "factored wall line load", "plf", "Load for strength checks, per foot of wall",
        "Largest of the ASCE 7 strength combinations of dead, live and roof or snow load.",
        origin=Origin.DERIVED, made_by="load.factored_line_load", bounded=True,
    ),
)  # fmt: skip
