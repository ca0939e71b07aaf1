"""Words of the whole site: how the work is run. Permits, people, machines, watching the building."""

from __future__ import annotations

from survey.vocabulary._declare import CHOSEN, declares
from survey.vocabulary.words import AsksWhen, Subject, Worse

_d = declares(Subject.SITE)
_INSIDE = AsksWhen("inside work", ("basement", "crawl space"))
_BAD_AIR = AsksWhen("bad air possible", ("yes",))
_GAS = AsksWhen("gas on the property", ("gas from the street", "propane from a tank"))
_WORSE_LATER = Worse.LATER_CHOICE

CONDUCT_WORDS = (
    # Permits, drawings, changes
    _d["choice"](
        "building permit", "held | not needed, as the building office says | applied for | none",
        "Is there a building permit for the underpinning?",
        "Not needed: only if the building office has said so.", origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["choice"](
        "pier drawings", "signed, on site | signed, not on site | none",
        "Are there drawings signed by an engineer, with places, loads and order of the piers?",
        "On site: a copy goes with the crew.", origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "plan changed since survey", "Was anything in the plan changed since the site was walked?",
        "A pier moved, a pit made deeper, another way in, another machine.",
        choices=("no", "yes"), origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["choice"](
        "work in public way", "none | permit held | no permit",
        "Do pits, spoil, fences or machines stand in a street, alley or public pavement?",
        "Spoil on a pavement counts, if only for an hour. The town gives the permit, and says how "
        "the place is closed off.", origin=CHOSEN, worse=_WORSE_LATER,
    ),
    # Gas, and what is shut off
    _d["choice"](
        "gas on the property", "none | gas from the street | propane from a tank",
        "Is there gas on the property?",
        "Look for a meter, a regulator, a riser, a tank; ask. Its pipe is a row on the Utilities "
        "sheet.",
    ),
    _d["yes_no"](
        "gas piping traced", "Is the gas pipe traced and marked all the way to the building and beyond?",
        "From main or tank to the meter or regulator, and on to grill, garage, pool heater.",
        asks_when=_GAS, worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "gas trouble lately",
        "Was there a gas leak, a struck gas pipe or gas work at or beside the property in the last year?",
        "Ask the customer and the gas company.", choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _d["choice"](
        "power to the building", "overhead | underground | none",
        "How does electric power reach the building?",
        "Look for a mast with wires, or a pipe up the wall. A cable in the ground is a row on the "
        "Utilities sheet.",
    ),
    _d["yes_no"](
        "shut-offs known",
        "Does the crew know where gas, water and power of the building are shut off?",
        "Show them valves and main switch, and the tool for each. A line that breaks must be shut "
        "at once.", origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["choice"](
        "pits dug with", "hand tools | vacuum | machine", "With what are the pits dug?",
        "The last one of these that is used. A machine tears a line that a spade only touches.",
        origin=CHOSEN, worse=_WORSE_LATER,
    ),
    # Weather and leaks
    _d["choice"](
        "frost", "none expected | freezing nights expected | ground frozen | ground thawing",
        "Is there frost, now or while pits are open?",
        "From the forecast for every day with an open pit. Frost holds the sides only until it "
        "thaws.", worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "heavy rain expected", "Is heavy rain forecast for the days with open pits?",
        "Look again on the day before. Rain loosens the sides and fills the pits.",
        choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "hot days expected", "Is it to be 90 F or hotter, or close and damp, where people dig?",
        "In a crawl space too. Look again on the day before.", choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    _d["choice"](
        "plumbing leak", "none found | suspected | found, not repaired",
        "Is there a leak in a water pipe or drain of the building?",
        "Water meter moves with all taps shut; a drain that was tested; wet ground that never dries.",
        worse=_WORSE_LATER,
    ),
    # People
    _d["yes_no"](
        "crew understands warnings",
        "Has everyone been told the hazards of this site in a language that he or she understands?",
        "In Spanish where somebody speaks that. Have them say it back.", origin=CHOSEN,
        worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "minors in crew", "Is anyone in the crew under 18?",
        "Federal law keeps them out of deep pits and away from most machines.",
        choices=("no", "yes"), origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "emergency plan told",
        "Does everyone know how help is called, where all meet, and how a hurt person is got out?",
        "With the address, the meeting place, and who waits for the ambulance at the street.",
        origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "first aider on site", "Is a person trained in first aid on site, with a first-aid kit?",
        "Needed wherever no clinic is near; a certificate shows it.", origin=CHOSEN,
        worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "rescue gear ready", "Does rescue gear for bad air stand ready, with someone to use it?",
        "Harness and line, breathing apparatus, basket stretcher.", origin=CHOSEN, asks_when=_BAD_AIR,
        worse=_WORSE_LATER,
    ),
    _d["choice"](
        "occupants", "nobody lives there | told and kept away | not told",
        "What of the people, children and pets in the building?",
        "Kept away from pits, machines, hoses and dust, and with a way out of their own.",
        origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "traffic near pits",
        "Do vehicles or the public pass within 10 ft of a pit or of the crew's work?",
        "Street, drive, alley, pavement. There the crew needs barriers and bright vests.",
        choices=("no", "yes"), worse=_WORSE_LATER,
    ),
    # Machines and the drive
    _d["choice"](
        "machines beside pits", "none come near | kept off by barrier or spotter | nothing keeps them off",
        "What keeps a machine or truck from running into an open pit?",
        "Signals, barricades or stop logs; 1926.651(f).", origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "people under loads",
        "Does anyone stay in a pit while a machine digs, lifts or swings over it?",
        "Ask how they usually work. A bucket, a load or a section that slips kills whoever is "
        "below.", choices=("no", "yes"), origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["choice"](
        "hydraulic hoses", "looked at, none damaged | not looked at | damaged",
        "In what state are hoses, fittings and cylinders?",
        "Bulges, cuts, wet fittings; looked at with the pressure off.", origin=CHOSEN,
        worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "people clear of drive",
        "Does everyone stay out of line with tube, drive stand and hoses while pressure is on?",
        "The pump is worked from beside the pit, not from in it.", origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["choice"](
        "hot work",
        "none | outside, with a fire watch | outside, no fire watch | inside or in a pit",
        "Is anything welded, or cut with a flame or a grinder?",
        "Ask how tubes and bars are cut. Sparks light gas, and fires that only show later.",
        origin=CHOSEN, worse=_WORSE_LATER,
    ),
    # The building while it is driven against
    _d["length"](
        "planned lift", "in", "How far is the building to be raised, at most?",
        "Zero where the piers only hold it.", between=(0, 24), origin=CHOSEN, worse=Worse.HIGHER,
    ),
    _d["yes_no"](
        "levels taken", "Are levels of floors or walls taken before work, and the readings kept?",
        "At marked points, with the date. Without them nobody can tell what moved.", origin=CHOSEN,
        worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "crack gauges set", "Are the cracks fitted with gauges or marked and dated before work?",
        "Yes where there are no cracks.", origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["length"](
        "movement that stops the work", "in", "At what movement of the building does the work stop?",
        "Measured at the fixed marker, in any direction that is not planned.", between=(0.01, 4),
        origin=CHOSEN, worse=Worse.HIGHER,
    ),
    # Inside the building
    _d["yes_no"](
        "work lit", "Is there good light, all day, at every pit and on every way to it?",
        "Also where daylight does not reach. In the dark nobody sees a side that cracks.",
        origin=CHOSEN, worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "stairs sound", "Are stairs, steps and hatches on the way in sound, dry and wide enough to carry down loads?",
        "Yes where there are none.",
        asks_when=_INSIDE, worse=_WORSE_LATER,
    ),
    _d["choice"](
        "floor under equipment",
        "on the ground | suspended, checked for the load | suspended, not checked",
        "On what floor do people carry and set down equipment, sections and spoil?",
        "Look from below. A power pack weighs as much as several people.", asks_when=_INSIDE,
        worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "dust drawn out", "Is air drawn out of the room while concrete is cut or drilled?",
        "A fan or collector that blows outside, away from people. Stone dust ruins lungs.",
        origin=CHOSEN, asks_when=_INSIDE, worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "loose wires inside",
        "Do bare, hanging or wet wires or boxes lie on the way in or at the pits?",
        "Do not touch them; look with a lamp. A wet floor makes them deadly.",
        choices=("no", "yes"), asks_when=_INSIDE, worse=_WORSE_LATER,
    ),
    _d["choice"](
        "sewage inside", "none | droppings of animals | sewage",
        "Is there sewage, or droppings of animals, on the way in or at the pits?",
        "Look and smell. Both carry disease, and are cleaned away before work.", asks_when=_INSIDE,
        worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "mould inside", "Is there mould on the way in or at the pits?",
        "Grey, green or black patches on wood, paper or wall. Work stirs it up.",
        choices=("no", "yes"), asks_when=_INSIDE, worse=_WORSE_LATER,
    ),
    # In the building's own material
    _d["choice"](
        "asbestos", "nothing that could hold it | none by test or record | suspected | found",
        "Is there asbestos in what is cut, broken, moved or crawled past?",
        "Old pipe wrap, flue pipe, siding, flooring, duct tape, cement pipe. Suspected until tested.",
        worse=_WORSE_LATER,
    ),
    _d["yes_no"](
        "lead paint disturbed",
        "Is paint of before 1978, or paint that may hold lead, cut, scraped or broken?",
        "Older paint counts as lead paint until it is tested. Its dust harms crew and children.",
        choices=("no", "yes"), worse=_WORSE_LATER,
    ),
)  # fmt: skip
