"""The order in which a surveyor is asked: page by page, as one walks round a house.

What can be filled in before leaving comes first, then the walk outside, the way inside, and last
what we ourselves choose. The questions of a firm's own rules follow at the end of the page of
their subject.
"""

from __future__ import annotations

import functools
from collections.abc import Iterator
from dataclasses import dataclass

from survey.vocabulary.words import Subject, Vocabulary, Word

OWN_QUESTIONS = "Our own questions"


@dataclass(frozen=True, slots=True)
class Block:
    """Questions that are answered together, by the words' names."""

    title: str
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Page:
    """One sheet of the form: questions about one subject, in the order of the walk."""

    sheet: str
    subject: Subject
    blocks: tuple[Block, ...]

    @property
    def last_of_subject(self) -> bool:
        """Whether no later page asks about the same subject."""
        return [page for page in PAGES if page.subject is self.subject][-1] is self


def blocks_of(page: Page, vocabulary: Vocabulary) -> Iterator[tuple[str, tuple[Word, ...]]]:
    """The blocks of a page with their words, a firm's own questions last."""
    for block in page.blocks:
        yield block.title, tuple(vocabulary[name] for name in block.names)
    if page.last_of_subject:
        own = tuple(word for word in vocabulary.asked_of(page.subject) if word.name not in _PAGE_OF)
        if own:
            yield OWN_QUESTIONS, own


@functools.cache
def questions(page: Page, vocabulary: Vocabulary) -> tuple[Word, ...]:
    """Every question of a page, in order."""
    return tuple(word for _title, words in blocks_of(page, vocabulary) for word in words)


def page_of(word: Word) -> Page:
    """The page on which a question stands."""
    found = _PAGE_OF.get(word.name)
    return next(p for p in reversed(PAGES) if p.subject is word.subject) if found is None else found


def _page(sheet: str, subject: Subject, *blocks: tuple[str, str]) -> Page:
    return Page(sheet, subject, tuple(Block(title, _names(names)) for title, names in blocks))


def _names(text: str) -> tuple[str, ...]:
    return tuple(name.strip() for name in text.split("|"))


PAGES: tuple[Page, ...] = (
    _page(
        "Office", Subject.SITE,
        ("The job", "job name | address | town | state | surveyor | survey date | crew date | "
         "last crew date | emergency contact | competent person"),
        ("Locate ticket", "locate request made | ticket number | ticket start | ticket end | "
         "tolerance zone"),
        ("Permits and drawings", "building permit | pier drawings | plan changed since survey | "
         "work in public way | ground snow load"),
    ),
    _page(
        "Site", Subject.SITE,
        ("On arrival", "gas odour | gas on the property | gas piping traced | gas trouble lately | "
         "power to the building | private lines searched for | overhead lines near | "
         "overhead voltage | overhead line distance | traffic near pits | occupants"),
        ("The building", "walls listed | first wall faces | roof exposure | roof heating | "
         "attic used for storage | asbestos | lead paint disturbed"),
        ("Ground and water", "test hole depth | soil classified by competent person | "
         "ground vibrated | groundwater met | depth to groundwater | surface water runs to pits | "
         "plumbing leak | frost | heavy rain expected | hot days expected | bad air possible"),
        ("Ground tests for corrosion", "corrosion tests | soil resistivity | soil acidity | "
         "soil chloride | soil sulfate"),
    ),
    _page(
        "Walls", Subject.WALL,
        ("The wall", "wall length | turn at right end | wall material | wall thickness | "
         "wall height | age of foundation"),
        ("Its state", "wall cracks | wall out of plumb | mortar joints | wall held at top | "
         "framing on wall"),
        ("What it carries", "storeys | wall cladding | floor span | roof span | carried from | "
         "carried to"),
        ("The footing", "footing kind | footing thickness | footing width | footing projection | "
         "footing cracks | footing honeycomb | footing face can be prepared"),
        ("What is in the footing", "concrete strength | cables in slab | footing reinforcement | "
         "bottom bar size | bottom bars | bottom bar surface | bottom bar cover | "
         "bar yield strength | cutting footing bars accepted"),
    ),
    _page(
        "Piers", Subject.PIER,
        ("Where it is", "wall of pier | station | pit reached from | footing depth"),
        ("Room and ground", "working room | clear ground out from wall | headroom at pier | "
         "slope of ground at pit | backfill beside pit | cave-in signs | seepage at pit | "
         "pit hidden from view | over the boundary"),
        ("At wall and footing", "lines through footing | meter at pit | earth rod at pit | "
         "footing drain at pit | opening above pit | heavy load over pit | point load at pier | "
         "footing step near | distance to step | step height"),
        ("The pit", "pit depth | pit length | pit width | undermines footing | spoil distance | "
         "ladder in pit | distance to ladder"),
        ("How its sides are held", "side protection | slope of sides | foot of the slope | "
         "support above upright part"),
        ("Shoring or shield", "protection design | protection design allows for building | "
         "protection in place before entry | protection covers | height of protection | "
         "dug below protection | protection undamaged | shoring timber | brace spacing"),
    ),
    _page(
        "Utilities", Subject.UTILITY,
        ("The line", "utility kind | utility owner | owner's answer | locate marks | located by | "
         "how the cable lies | ever struck"),
        ("Where it is", "wall of utility | utility start station | utility start offset | "
         "utility end station | utility end offset | utility diameter | depth to utility"),
        ("What we do about it", "shut off for the work | hand exposure planned | "
         "support planned | chipping beside line"),
    ),
    _page(
        "Neighbours", Subject.NEIGHBOUR,
        ("What it is", "neighbour kind | other owner | notice date"),
        ("Where it is", "wall of neighbour | neighbour start station | neighbour end station | "
         "neighbour offset | neighbour footing depth"),
    ),
    _page(
        "Soil", Subject.SOIL_LAYER,
        ("The layer", "layer top | layer bottom | soil group | fissured | dug before | "
         "layer seeps | dip into pit"),
        ("Its strength by hand", "strength test | thumb test | unconfined strength"),
        ("On the boring log", "boring log | unified soil group | blow count | consistency"),
    ),
    _page(
        "Inside", Subject.SITE,
        ("Work inside the building", "inside work"),
        ("The way in", "route width | route headroom | way out kept clear | stairs sound | "
         "floor under equipment | loose wires inside | sewage inside | mould inside"),
        ("Crawl space and confined space", "confined space finding | narrow way in | "
         "meant for people to stay | space hazards | harmful material inside"),
        ("Engines and air", "engine place | engine power | room volume | air changes an hour | "
         "carbon monoxide alarm | dust drawn out"),
    ),
    _page(
        "Plan", Subject.SITE,
        ("Is this all there is?", "all utilities listed | all neighbours listed | "
         "all soil layers listed"),
        ("The pits", "pits dug with | open a day at most | days for a round of pits | "
         "most pits open together | clear spacing of open pits | water removal | pump capacity | "
         "heaviest load near a pit | machines beside pits | vehicles kept back | "
         "public kept out | equipment reach"),
        ("People", "competent person on site daily | crew size | crew understands warnings | "
         "minors in crew | emergency plan told | first aider on site | air test planned | "
         "rescue gear ready | shut-offs known | ground fault protection | work lit | hot work"),
        ("Concrete cutting", "dust control | cutting tool | cutting time in a day"),
        ("Driving and lifting", "people under loads | hydraulic hoses | people clear of drive | "
         "planned lift | levels taken | crack gauges set | movement marker set | "
         "movement that stops the work"),
        ("Anything else", "remarks"),
    ),
    _page(
        "Kit", Subject.SITE,
        ("Pier and tube", "tube outside diameter | tube wall thickness | tube yield strength | "
         "section length | design life in years | pier capacity rated | rated pier capacity"),
        ("Drive", "planned drive load | drive stand height | cylinder effective area | "
         "cylinder pressure allowed"),
        ("Bracket", "bracket plate width | bracket plate depth | bracket eccentricity | "
         "anchors at a bracket | anchor diameter | anchor embedment | days for bed to cure"),
        ("Spanning tube", "spanning tube at hand | spanning tube width | spanning tube depth | "
         "spanning tube wall"),
    ),
    _page("Photos", Subject.PHOTO, ("Photos", "photo file | photo shows | photo remarks")),
    _page(
        "Releases", Subject.RELEASE,
        ("What is released", "released finding | released place"),
        ("By whom, and until when", "released by | releasing role | licence number | "
         "release date | release end | release note"),
    ),
)  # fmt: skip

_PAGE_OF = {name: page for page in PAGES for block in page.blocks for name in block.names}

# What decides on a first visit: with these answered, a check says what else it needs.
FIRST_VISIT = frozenset(
    _names(
        "job name | address | town | state | surveyor | survey date | locate request made | "
        "gas odour | "
        "gas on the property | power to the building | overhead lines near | occupants | "
        "private lines searched for | walls listed | first wall faces | "
        "asbestos | test hole depth | groundwater met | depth to groundwater | "
        "surface water runs to pits | plumbing leak | bad air possible | "
        "wall length | turn at right end | wall material | wall thickness | wall height | "
        "wall cracks | wall out of plumb | wall held at top | storeys | footing kind | "
        "footing thickness | footing width | footing projection | footing cracks | "
        "footing reinforcement | wall of pier | station | pit reached from | footing depth | "
        "working room | clear ground out from wall | headroom at pier | cave-in signs | "
        "seepage at pit | lines through footing | heavy load over pit | slope of ground at pit | "
        "backfill beside pit | over the boundary | meter at pit | earth rod at pit | "
        "opening above pit | pit depth | pit length | "
        "pit width | side protection | utility kind | utility owner | wall of utility | "
        "utility start station | utility start offset | utility end station | "
        "utility end offset | neighbour kind | wall of neighbour | neighbour start station | "
        "neighbour end station | neighbour offset | neighbour footing depth | other owner | "
        "layer top | layer bottom | soil group | fissured | dug before | layer seeps | "
        "strength test | thumb test | unconfined strength | inside work | engine place | "
        "all utilities listed | all neighbours listed | all soil layers listed | remarks"
    )
)

# These may be left blank; nobody asks for them and no rule looks at them.
MAY_STAY_BLANK = frozenset(
    _names("remarks | first wall faces | photo file | photo shows | photo remarks")
)
