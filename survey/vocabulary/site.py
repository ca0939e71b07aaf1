"""Words of the whole site: the job, dates, locate ticket, ground water, inside work, people."""

from __future__ import annotations

from survey.vocabulary._declare import CHOSEN, declares
from survey.vocabulary.places import OUTSIDE, STATES
from survey.vocabulary.words import AsksWhen, Origin, Subject, Worse

_d = declares(Subject.SITE)
_INSIDE = AsksWhen("inside work", ("basement", "crawl space"))
_CRAWL = AsksWhen("inside work", ("crawl space",))
_EXHAUST = AsksWhen("engine place", ("outside, by an opening", "inside or in a pit"))
_OVERHEAD = AsksWhen("overhead lines near", ("yes",))
_CUTTING = AsksWhen("dust control", ("water or a shroud on the tool", "none"))
_TICKET = AsksWhen("locate request made", ("yes",))
_WORSE_LATER = Worse.LATER_CHOICE

SITE_WORDS = (
    _d["text"](
        "job name", "Name or number of the job",
        "Stands at the top of the sheet.",
    ),
    _d["text"](
        "address", "Address of the building",
        "Number, street and town: what a driver or an ambulance needs.",
    ),
    _d["text"](
        "town", "Town or city in which the building stands",
        "By it the jobs of a year are counted at the safety meeting; nothing is judged by it.",
    ),
    _d["choice"](
        "state", " | ".join((*STATES, OUTSIDE)),
        "State in which the building stands, by its two letters",
        "The usual life of a locate ticket and the holidays differ by State. Anywhere else: the "
        "last choice.",
    ),
    _d["text"](
        "surveyor", "Who made this survey",
        "Whom the office asks where an answer is not clear.",
    ),
    _d["date"](
        "survey date", "Day on which the site was walked",
        "If it took several days: the first. Ground, marks and weather are taken as they were on "
        "that day.",
    ),
    _d["date"](
        "crew date", "First day the crew would dig",
        "Tickets, notices and releases are judged from this day.", origin=CHOSEN,
    ),
    _d["date"](
        "last crew date", "Last day on which a pit would be open",
        "Tickets and releases must hold until this day.", origin=CHOSEN,
    ),
    _d["text"](
        "emergency contact", "Emergency number and nearest hospital",
        "Printed on the crew's page. Look up the nearest emergency room before you drive out.",
        origin=CHOSEN,
    ),
    _d["text"](
        "remarks", "Anything else that whoever plans the job should know",
        "What the customer said, what you could not see, what you did not like.",
    ),
    # Locate ticket
    _d["yes_no"](
        "locate request made", "Has a locate request been made to the one-call centre?",
        "A request is not a locate: marks and owners' answers are asked on the Utilities sheet. "
        "Digging by hand counts as digging.", worse=_WORSE_LATER,
    ),
    _d["text"](
        "ticket number", "Locate ticket number",
        "Copy it from the ticket. Printed on the crew's page, for whoever asks on site.",
        asks_when=_TICKET,
    ),
    _d["date"](
        "ticket start", "First day on which digging is allowed, as printed on the ticket",
        "Copy it from the ticket; do not work it out.", asks_when=_TICKET,
    ),
    _d["date"](
        "ticket end", "Last day of the ticket, as printed on the ticket",
        "Copy it from the ticket; states differ.", asks_when=_TICKET,
    ),
    _d["length"](
        "tolerance zone", "in", "Tolerance zone to each side of a marked line, by the state's rule",
        "Ask the one-call centre. Many states: 18 or 24 in each side of the line. Within it "
        "digging is by hand or vacuum.", between=(6, 120), worse=Worse.HIGHER,
    ),
    _d["yes_no"](
        "private lines searched for", "Was a search made for lines that no public owner marks?",
        "Gas beyond the meter, power to sheds, irrigation, propane, septic, drains, tanks, wells. "
        "The one-call centre does not mark them.", worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "gas odour", "Does it smell of gas anywhere on the site?",
        "If yes: leave, then call the gas company and 911 from a safe place.",
        choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "all utilities listed",
        "Are all buried lines, tanks and wells near the pits on the Utilities sheet?",
        "Water and sewer, too. Say yes only when records, surface signs and the search agree: an "
        "empty sheet does not mean that there are none.", worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "all neighbours listed",
        "Are all structures, pavements, pools, tanks, trees and poles near the pits on the Neighbours sheet?",
        "Near: within twice the depth of the deepest pit.", worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "all soil layers listed", "Are all soil layers down to the deepest pit on the Soil sheet?",
        "From a test hole beside the wall, at least as deep as the pits.",
    ),
    # Outline
    _d["choice"](
        "walls listed", "all the way round | only walls to be worked on",
        "Which walls are on the Walls sheet?",
        "With all of them the outline must close, which checks the tape work.",
    ),
    _d["choice"](
        "first wall faces",
        "north | north-east | east | south-east | south | south-west | west | north-west",
        "Which way does the outside of the first wall on the Walls sheet face?",
        "By compass or map, standing with your back to it. It turns the north arrow of the plan "
        "drawing; nothing is judged by it.",
    ),
    # Ground
    _d["yes_no"](
        "soil classified by competent person",
        "Did the competent person classify the soil with a look and at least one hand test?",
        "Thumb, penetrometer, thread, dry strength; 29 CFR 1926 Subpart P Appendix A.",
        worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "ground vibrated", "Is the ground shaken by traffic, rail, compactors or pile driving?",
        "Stand still and feel; ask about trains and pile driving nearby. Ground that is shaken is "
        "never type A.", choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "groundwater met", "Was water met in the test hole?",
        "Look in again after some hours, or better on the next day: in clay water shows late.",
        choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _d["length"](
        "depth to groundwater", "ft", "Depth from the ground surface to the water",
        "Measured in the test hole, once it no longer rises. It decides whether a pit stands in "
        "water.", between=(0, 200), asks_when=AsksWhen("groundwater met", ("yes",)),
        worse=Worse.LOWER,
    ),
    _d["length"](
        "test hole depth", "ft", "How deep was the ground looked at?",
        "Of the deepest hole or boring, from the ground. Below it nothing is known of water or "
        "soil.", between=(0, 300), worse=Worse.LOWER,
    ),
    _d["yes_no"](
        "surface water runs to pits",
        "Do downspouts, a sump's outlet, a hose or the fall of the ground bring water to the pits?",
        "See where gutters and sump end and which way the ground falls. Water loosens the sides "
        "of a pit.", choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _d["choice"](
        "water removal", "pump watched by the competent person | none",
        "How is water kept out of the pits?",
        "A pump, sump or wellpoints that the competent person watches: the first. Bailing by hand "
        "alone keeps no pit dry: none.", origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["flow"](
        "pump capacity", "gpm", "How much does one pump lift, to the height it must?",
        "From the pump's own curve, not its label.", between=(1, 2000), origin=CHOSEN,
        asks_when=AsksWhen("water removal", ("pump watched by the competent person",)),
    ),
    _d["yes_no"](
        "bad air possible",
        "Is there a landfill, fuel, sewage, a tank or another source of bad air nearby?",
        "Ask what stood there before, and smell. Heavy gas lies in a pit and is not always "
        "smelled.", choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "air test planned", "Is the air tested before anyone goes in, and again as needed?",
        "Oxygen, gas that burns, poison: by a meter that is let down first.", origin=CHOSEN,
        asks_when=AsksWhen("bad air possible", ("yes",)), worse=_WORSE_LATER,
    ),
    _d["pressure"](
        "ground snow load", "psf", "Ground snow load of the place",
        "From the local building office. A part of what the piers carry.", between=(0, 400),
        worse=Worse.HIGHER,
    ),
    _d["choice"](
        "roof exposure", "fully exposed | partially exposed | sheltered", "How much wind reaches the roof?",
        "Sheltered: trees or higher buildings stand close all round; ASCE 7 Table 7.3-1.",
        worse=_WORSE_LATER,
    ),
    _d["choice"](
        "roof heating", "heated | kept just above freezing | unheated", "How warm is it under the roof?",
        "A cold roof keeps its snow; ASCE 7 Table 7.3-2.", worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "attic used for storage", "Is the attic used, or can it be used, for storage?",
        "A floor or a stair to it: yes. What is stored there weighs on the walls.",
        choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    # Inside work
    _d["choice"](
        "inside work", "none | basement | crawl space", "Is any pit reached from inside the building?",
        "Choose crawl space when there is both.",
    ),
    _d["length"](
        "route width", "in", "Narrowest place on the way in",
        "Doors, stairs, hatch, as they are with things in the way. A hurt person is carried out "
        "there.", between=(6, 240), asks_when=_INSIDE, worse=Worse.LOWER,
    ),
    _d["length"](
        "route headroom", "in", "Lowest headroom on the way in",
        "Beams, ducts, hatch. Where it is low, nobody gets out fast.", between=(12, 240),
        asks_when=_INSIDE, worse=Worse.LOWER,
    ),
    _d["yes_no"](
        "way out kept clear", "Can everyone inside get out at once, by a way that stays clear?",
        "Hoses, spoil and a locked door block a way out.", origin=CHOSEN, asks_when=_INSIDE,
        worse=_WORSE_LATER,
    ),
    _d["choice"](
        "confined space finding",
        "not a confined space | confined space, no permit needed | permit space | not looked at",
        "What did the competent person find about the crawl space?",
        "1926.1203(a): every confined space is identified before work starts.",
        asks_when=_CRAWL, worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "narrow way in", "Is the way in or out of the crawl space narrow, low or hard to use?",
        "A hatch, a low door, a crawl between joists and ground: yes.", choices=("no", "yes"),
        asks_when=_CRAWL,
    ),
    _d["yes_no"](
        "meant for people to stay", "Is the crawl space made for people to stay in?",
        "Lit, aired and high enough to live or work in: yes.", asks_when=_CRAWL,
    ),
    _d["choice"](
        "space hazards",
        "none found | bad air possible | could be engulfed or trapped | other serious hazard",
        "What could hurt somebody in the crawl space?", "The worst of what the competent person found.",
        asks_when=_CRAWL,
    ),
    _d["yes_no"](
        "harmful material inside",
        "Is there any other harmful material on the way in or at the pits?",
        "Chemicals, fuel, needles, loose insulation. Not asbestos, sewage or mould: these are "
        "asked for themselves.", choices=("no", "yes"), asks_when=_INSIDE, worse=_WORSE_LATER,
    ),
    _d["choice"](
        "engine place",
        "no engine | outside, away from openings | outside, by an opening | inside or in a pit",
        "Where does an engine (power pack, generator, pump, saw) run?",
        "Away from openings: exhaust can't drift into a door, window, vent, crawl space or pit.",
        origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["power"](
        "engine power", "hp", "Power of the largest engine",
        "From its plate. With the room's size it tells how fast carbon monoxide rises.",
        between=(0.5, 30), origin=CHOSEN, asks_when=_EXHAUST, worse=Worse.HIGHER,
    ),
    _d["volume"](
        "room volume", "ft3", "Volume of the room or space that the exhaust can reach",
        "Length times width times height.", between=(50, 100000), asks_when=_EXHAUST,
        worse=Worse.LOWER,
    ),
    _d["count"](
        "air changes an hour", "", "How often an hour is its air renewed?",
        "Closed up: 0. A fan's flow in an hour over the volume.", between=(0, 30), asks_when=_EXHAUST,
        worse=Worse.LOWER,
    ),
    _d["yes_no"](
        "carbon monoxide alarm", "Does someone at the pits carry a carbon monoxide alarm?",
        "One that sounds by itself. The gas can't be seen or smelled.", origin=CHOSEN,
        asks_when=_INSIDE, worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "ground fault protection", "Is every 120 V outlet in use protected by a GFCI?",
        "Press the test button of each. Or by an assured grounding programme.", origin=CHOSEN,
        worse=_WORSE_LATER,
    ),
    # People
    _d["text"](
        "competent person", "Name of the competent person for the excavation",
        "Able to see the hazards and allowed to stop the work at once; 1926.650(b).", origin=CHOSEN,
    ),
    _d["yes_no"](
        "competent person on site daily",
        "Does the competent person inspect the pits each day before work and after rain?",
        "29 CFR 1926.651(k)(1). The one whose name stands on the Office sheet.", origin=CHOSEN,
        worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "public kept out",
        "Are pits fenced or covered so that no child, occupant or visitor can fall in?",
        "At night and at the weekend, too.", origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "vehicles kept back",
        "Are vehicles, machines and stored loads kept back from each pit by at least its depth?",
        "Set out by tape or barrier. A load beside a pit pushes its side in.", origin=CHOSEN,
        worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "overhead lines near",
        "Are there overhead power lines within 20 ft of the pits, or of the way in for machines?",
        "The wires to the building count too.",
        choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _d["voltage"](
        "overhead voltage", "kV", "Voltage of the line, as its owner says", "Ask the owner; do not guess.",
        between=(0, 1500), asks_when=_OVERHEAD, worse=Worse.HIGHER,
    ),
    _d["length"](
        "overhead line distance", "ft",
        "Least distance from the line to where a machine, truck, ladder or section stands",
        "Hold no tape or pole up to the line.", between=(0, 500), asks_when=_OVERHEAD,
        worse=Worse.LOWER,
    ),
    _d["length"](
        "equipment reach", "ft",
        "How far the machine, its load, a ladder or a long section can reach from there",
        "Boom out, load hanging, and as far as it may swing.", between=(0, 200), origin=CHOSEN,
        asks_when=_OVERHEAD, worse=Worse.HIGHER,
    ),
    _d["choice"](
        "dust control", "no concrete is cut or drilled | water or a shroud on the tool | none",
        "How is stone dust kept down when concrete is cut or drilled?",
        "Stone dust (silica) ruins lungs. Holes for anchors count; 1926.1153 Table 1.",
        origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["choice"](
        "cutting tool", "drill with shroud and collector | saw with water | chipping hammer",
        "With what is concrete cut or drilled?", "The last one of these that is used.", origin=CHOSEN,
        asks_when=_CUTTING,
    ),
    _d["duration"](
        "cutting time in a day", "hour", "How long does one person cut, drill and chip in a day?",
        "All such tools together; 1926.1153(c)(3).", between=(0, 12), origin=CHOSEN, asks_when=_CUTTING,
        worse=Worse.HIGHER,
    ),
    # Way of working
    _d["yes_no"](
        "open a day at most", "Is each pit dug, used and filled again within 24 hours?",
        "Only if each surely is; a bed of concrete cures longer. Appendix B calls such a pit "
        "short-term.", origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["force"](
        "heaviest load near a pit", "lb",
        "Weight of the heaviest machine, truck or stack nearer to a pit than the pit is deep",
        "From its plate, with what it carries. Zero if all are kept farther away.",
        between=(0, 200000), origin=CHOSEN, worse=Worse.HIGHER,
    ),
    _d["days"](
        "days for a round of pits", "days",
        "Days from digging a round of pits to having them filled again",
        "Digging, bracket, driving, filling. A bed of concrete adds the days that it cures.",
        between=(0.5, 30), origin=CHOSEN,
    ),
    _d["count"](
        "most pits open together", "", "How many pits of the job may stand open at one time, at most?",
        "By the engineer's letter or the firm's own rule; one at a time: 1.", between=(1, 60),
        origin=CHOSEN,
    ),
    _d["count"](
        "crew size", "", "How many work in the crew?",
        "With the foreman, on the day with the fewest. Somebody stays outside while another is in "
        "a pit.", between=(1, 40), origin=CHOSEN,
    ),
    _d["length"](
        "clear spacing of open pits", "ft",
        "Least clear distance along a wall between pits open together",
        "Counts only where more than one pit is open: between their openings at the underside of "
        "the footing. One at a time: the length of the longest wall. Neighbours together: 0.",
        between=(0, 500), origin=CHOSEN, worse=Worse.LOWER,
    ),
    _d["yes_no"](
        "movement marker set",
        "Is a fixed marker set beside the wall to show movement while driving?",
        "On ground that can't move; it is read while the jack works.", origin=CHOSEN,
        worse=_WORSE_LATER,
    ),
    _d["length"](
        "bracket plate width", "in", "Width of the bracket plate along the wall",
        "From the maker's sheet, or measured. The footing bears on this plate.", between=(2, 48),
        origin=CHOSEN,
    ),
    _d["length"](
        "bracket plate depth", "in",
        "Depth of the bracket plate under the footing, out from its edge",
        "What really lies under the footing, from its edge inwards.", between=(1, 48),
        origin=CHOSEN, worse=Worse.LOWER,
    ),
    # Worked out
    _d["yes_no"](
        "job data complete",
        "Whether address, competent person, emergency contact and ticket number are all given",
        origin=Origin.DERIVED, made_by="people.job_data_complete",
    ),
    _d["count"](
        "pier locations", "", "Number of pier locations on the Piers sheet", origin=Origin.DERIVED,
        made_by="layout.pier_locations",
    ),
    _d["length"](
        "outline closing error", "ft", "Gap between the end of the last wall and the start of the first",
        "Walls laid end to end by length and turn.", origin=Origin.DERIVED,
        made_by="layout.closing_error",
    ),
    _d["date"](
        "usual ticket end", "Last day of such a ticket by the State's usual rule",
        "A check of the copying only: confirm with the one-call centre.", origin=Origin.DERIVED,
        made_by="tickets.usual_ticket",
    ),
    _d["concentration"](
        "steady carbon monoxide", "ppm", "Carbon monoxide in the room once it no longer rises",
        "Well-mixed air; real rooms are worse near the engine.", origin=Origin.DERIVED,
        made_by="air.steady_concentration",
    ),
    _d["duration"](
        "time to 200 ppm", "min", "Time until carbon monoxide reaches the ceiling of 200 ppm",
        origin=Origin.DERIVED, made_by="air.minutes_to_concentration",
    ),
    _d["duration"](
        "time to 1200 ppm", "min", "Time until carbon monoxide is at once dangerous to life, 1,200 ppm",
        origin=Origin.DERIVED, made_by="air.minutes_to_concentration",
    ),
    _d["choice"](
        "confined space screening",
        "not a confined space | confined space, no permit needed | permit space",
        "What the answers about the crawl space make of it", "The competent person decides.",
        origin=Origin.DERIVED, made_by="air.confined_space_screening", worse=_WORSE_LATER,
    ),
    _d["choice"](
        "respirator for cutting", "none | APF 10", "Respirator that Table 1 asks for",
        origin=Origin.DERIVED, made_by="dust.respirator_needed", worse=_WORSE_LATER,
    ),
    _d["length"](
        "overhead clearance needed", "ft", "Distance that must be kept from the overhead line",
        origin=Origin.DERIVED, made_by="overhead.approach_distance", worse=Worse.HIGHER,
    ),
    _d["length"](
        "overhead clearance left", "ft", "What is left between the line and the reach of the equipment",
        origin=Origin.DERIVED, made_by="overhead.clearance_left", worse=Worse.LOWER,
    ),
    _d["days"](
        "survey age", "days", "Days from the survey to the crew's first day", origin=Origin.DERIVED,
        made_by="dates.days_between",
    ),
)  # fmt: skip
