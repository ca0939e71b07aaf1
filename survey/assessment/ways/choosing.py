"""Which answers "chosen by us" may really be chosen again, and which state what is so.

The form calls chosen whatever is not seen on the ground. Of that, the firm may decide anew only how
it will work. What was done, what is in what state, what kit can carry and what somebody else has
said or signed is a fact: it may be found out, never rewritten so that a site goes.
"""

from __future__ import annotations

from collections.abc import Mapping

from survey.assessment.turning import CREW_DAYS
from survey.assessment.why_turned import WEATHER
from survey.vocabulary import Origin, Vocabulary, Word

# How we shall work: decided by us, and kept to.
OURS = frozenset({
    "crew date", "last crew date", "most pits open together", "clear spacing of open pits",
    "pits dug with", "crew size", "minors in crew", "competent person on site daily",
    "first aider on site", "planned lift", "movement that stops the work", "movement marker set",
    "pit depth", "pit length", "pit width", "side protection", "slope of sides",
    "foot of the slope", "support above upright part", "protection in place before entry",
    "protection covers", "height of protection", "dug below protection", "shoring timber",
    "brace spacing", "spoil distance", "ladder in pit", "distance to ladder",
    "water removal", "pump capacity", "air test planned", "way out kept clear", "engine place",
    "engine power", "carbon monoxide alarm", "ground fault protection", "work lit",
    "dust control", "cutting tool", "cutting time in a day", "dust drawn out", "hot work",
    "public kept out", "vehicles kept back", "heaviest load near a pit", "machines beside pits",
    "people under loads", "people clear of drive", "section length",
    "shut off for the work", "chipping beside line", "hand exposure planned", "support planned",
})  # fmt: skip

# What is so, whatever we should like: a state, a figure of kit, a paper or word of somebody else.
STATED = frozenset({
    # what was done, what people know, and who they are
    "plan changed since survey", "levels taken", "crack gauges set", "crew understands warnings",
    "emergency plan told", "shut-offs known", "occupants", "emergency contact", "competent person",
    # what follows from ground, depths and pace of work
    "undermines footing", "days for a round of pits", "open a day at most",
    # the state of kit, and what it is and carries
    "rescue gear ready", "hydraulic hoses", "protection undamaged", "equipment reach",
    "bracket plate width", "bracket plate depth", "bracket eccentricity", "tube outside diameter",
    "tube wall thickness", "tube yield strength", "drive stand height", "cylinder effective area",
    "cylinder pressure allowed", "anchors at a bracket", "anchor diameter", "anchor embedment",
    "spanning tube at hand", "spanning tube width", "spanning tube depth", "spanning tube wall",
    # papers, and what engineer, maker or office has said
    "building permit", "work in public way", "pier drawings", "pier capacity rated",
    "rated pier capacity", "planned drive load", "design life in years", "days for bed to cure",
    "carried from", "carried to", "cutting footing bars accepted", "protection design",
    "protection design allows for building",
})  # fmt: skip

# Answers that stand for a paper of an engineer, as much as a release by one.
BY_ENGINEER: Mapping[str, frozenset[str]] = {
    "protection design": frozenset({"engineer's design"}),
    "pier drawings": frozenset({"signed, on site", "signed, not on site"}),
    "cutting footing bars accepted": frozenset({"yes"}),
}


def told_of(word: Word, vocabulary: Vocabulary) -> frozenset[str]:
    """The choices that an answer is told of; once one of them is another, it has to be told anew.

    The weather is told of the days of the crew; a fact about what was chosen, of that choice.
    """
    if word.name in WEATHER:
        return CREW_DAYS
    found: set[str] = set()
    if word.origin is Origin.CHOSEN and word.name not in OURS:
        while word.asks_when is not None:
            word = vocabulary[word.asks_when.word]
            found.add(word.name)
    return frozenset(found)
