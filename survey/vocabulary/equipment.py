"""Words of the pier and of what drives it: tube, bracket, cylinder, corrosion of the ground.

They are the same at every pier of a job, so they are asked once, of the site.
"""

from __future__ import annotations

from survey.vocabulary._declare import CHOSEN, declares
from survey.vocabulary.words import AsksWhen, Origin, Subject, Worse

_d = declares(Subject.SITE)
_TESTED = AsksWhen("corrosion tests", ("made",))
_AT_HAND = AsksWhen("spanning tube at hand", ("yes",))

EQUIPMENT_WORDS = (
    _d["length"](
        "tube outside diameter", "in", "Outside diameter of the pier tube",
        "From the maker's sheet, or with a caliper. Not the nominal size.", between=(1, 12),
        origin=CHOSEN,
    ),
    _d["length"](
        "tube wall thickness", "in", "Thickness of its wall",
        "From the maker's sheet, or measured at a cut end. It decides what the tube carries, and "
        "how long it lasts.", between=(0.05, 1), origin=CHOSEN,
    ),
    _d["pressure"](
        "tube yield strength", "psi", "Yield strength of its steel",
        "From the mill certificate. Not there: ask the engineer.", between=(30000, 100000),
        origin=CHOSEN,
    ),
    _d["length"](
        "section length", "in", "Length of one section of tube",
        "As it is put into the drive stand. It must fit under the headroom.", between=(6, 120),
        origin=CHOSEN,
    ),
    _d["length"](
        "drive stand height", "in",
        "Height of the drive stand with its cylinder, above the bracket",
        "As it stands on the bracket, with the next section to go in. It must fit under the "
        "headroom.", between=(6, 120), origin=CHOSEN, worse=Worse.HIGHER,
    ),
    _d["force"](
        "planned drive load", "lb", "Load at which driving ends",
        "As the engineer or the firm sets it.", between=(1000, 200000),
        origin=CHOSEN,
    ),
    _d["yes_no"](
        "pier capacity rated",
        "Does an evaluation report or an engineer's design give what tube and bracket carry together?",
        "While driving, and for the life of the pier. Ask the maker for the report.", origin=CHOSEN,
    ),
    _d["force"](
        "rated pier capacity", "lb",
        "Greatest load on a pier by that report or design, while driving",
        "The allowable load of bracket and tube, not the ultimate.", between=(1000, 400000),
        origin=CHOSEN, asks_when=AsksWhen("pier capacity rated", ("yes",)), worse=Worse.LOWER,
    ),
    _d["area"](
        "cylinder effective area", "in2", "Effective area of the cylinder", "From its plate or data sheet.",
        between=(1, 60), origin=CHOSEN,
    ),
    _d["pressure"](
        "cylinder pressure allowed", "psi", "Greatest working pressure of cylinder, hose and pump",
        "The least of the three.", between=(500, 15000), origin=CHOSEN, worse=Worse.LOWER,
    ),
    _d["length"](
        "bracket eccentricity", "in",
        "Distance from the middle of the bearing to the middle of the tube",
        "Level, square to the wall: from the middle of the plate under the footing out to the "
        "middle of the tube. It bends tube and bracket.", between=(0, 24), origin=CHOSEN,
        worse=Worse.HIGHER,
    ),
    _d["count"](
        "anchors at a bracket", "", "Anchors that hold a bracket to the footing",
        "Bolts from the bracket into the face of the footing. None: 0.", between=(0, 8),
        origin=CHOSEN,
    ),
    _d["length"](
        "anchor diameter", "in", "Diameter of an anchor",
        "From the box, or measured on the shank. No anchors: leave it open.", between=(0.25, 1.25),
        origin=CHOSEN,
    ),
    _d["length"](
        "anchor embedment", "in", "Depth of an anchor in the concrete",
        "From the face of the concrete to the end of the anchor in it; not the whole bolt. No "
        "anchors: leave it open.", between=(1, 12), origin=CHOSEN,
    ),
    _d["yes_no"](
        "spanning tube at hand", "Is there a rectangular tube to span from bracket to bracket?",
        "A beam on two neighbouring brackets that carries a wall whose footing is too poor. Not "
        "the tube that is driven. You have none: no.", origin=CHOSEN,
    ),
    _d["length"](
        "spanning tube width", "in", "Width of the tube that spans between brackets",
        "Level, across the wall. Of a tube 4 x 6 x 1/4 in the 4.", between=(2, 16), origin=CHOSEN,
        asks_when=_AT_HAND,
    ),
    _d["length"](
        "spanning tube depth", "in", "Its depth, upright", "Of a tube 4 x 6 x 1/4 in the 6.",
        between=(2, 16), origin=CHOSEN, asks_when=_AT_HAND,
    ),
    _d["length"](
        "spanning tube wall", "in", "Thickness of its wall",
        "Of a tube 4 x 6 x 1/4 in the 1/4.", between=(0.1, 1), origin=CHOSEN, asks_when=_AT_HAND,
    ),
    _d["days"](
        "days for bed to cure", "days", "Days that a concrete bed under a bracket hardens before it is loaded",
        "From the maker's data for the mix.", between=(0.1, 56), origin=CHOSEN,
    ),
    _d["count"](
        "design life in years", "", "Years that the pier must last",
        "By drawings or warranty. Each year rust takes some of the tube.", between=(1, 100),
        origin=CHOSEN,
    ),
    _d["choice"](
        "corrosion tests", "made | none made", "Was the ground tested for what eats steel?",
        "Resistivity, pH, chloride, sulfate; from a soils report.",
    ),
    _d["resistivity"](
        "soil resistivity", "ohm-cm", "Least resistivity of the ground",
        "AASHTO T 288. From the report, the lowest of all samples. Low: steel rusts fast.",
        between=(10, 1000000), asks_when=_TESTED, worse=Worse.LOWER,
    ),
    _d["acidity"](
        "soil acidity", "pH", "pH of the ground",
        "AASHTO T 289. From the report, the sample farthest from 7.", between=(0, 14),
        asks_when=_TESTED,
    ),
    _d["concentration"](
        "soil chloride", "ppm", "Chloride in the ground",
        "AASHTO T 291. From the report, the highest of all samples.", between=(0, 100000),
        asks_when=_TESTED, worse=Worse.HIGHER,
    ),
    _d["concentration"](
        "soil sulfate", "ppm", "Sulfate in the ground",
        "AASHTO T 290. From the report, the highest of all samples.", between=(0, 100000),
        asks_when=_TESTED, worse=Worse.HIGHER,
    ),
    # Worked out
    _d["pressure"](
        "cylinder pressure", "psi", "Pressure in the cylinder at the planned drive load",
        origin=Origin.DERIVED, made_by="drive.cylinder_pressure", worse=Worse.HIGHER,
    ),
    _d["share"](
        "cylinder use", "%", "Pressure in the cylinder, as a share of what is allowed",
        origin=Origin.DERIVED, made_by="drive.cylinder_use", worse=Worse.HIGHER,
    ),
    _d["choice"](
        "ground aggressiveness", "mildly aggressive | aggressive", "How the ground eats steel",
        origin=Origin.DERIVED, made_by="corrosion.ground_aggressiveness", worse=Worse.LATER_CHOICE,
    ),
    _d["length"](
        "tube thickness left", "in", "Thickness of the tube's wall at the end of its life",
        origin=Origin.DERIVED, made_by="corrosion.thickness_left", worse=Worse.LOWER,
    ),
)  # fmt: skip
