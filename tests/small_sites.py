"""Small sites made of facts alone, for tests of the rule language."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from survey.facts import Fact, Facts, FactValue, Thing
from survey.vocabulary import NOT_KNOWN, SCOPES, VOCABULARY, Origin, Subject, Vocabulary

Answers = Mapping[str, FactValue | Fact]
NOTHING_KNOWN: Answers = {}


def small_site(  # noqa: PLR0917
    piers: Sequence[Answers] = (NOTHING_KNOWN,),
    utilities: Sequence[Answers] = (),
    neighbours: Sequence[Answers] = (),
    soil_layers: Sequence[Answers] = (),
    walls: Sequence[Answers] = (NOTHING_KNOWN,),
    site: Answers = NOTHING_KNOWN,
    *,
    pairs: Mapping[str, Answers] | None = None,
    at_wall: Mapping[int, int | None] | None = None,
    unlisted: Sequence[Subject] = (),
    vocabulary: Vocabulary = VOCABULARY,
) -> Facts:
    """A site of things with the answers given; every other answer is not known.

    Args:
        piers, utilities, neighbours, soil_layers, walls: answers of each, labelled P1, U1, N1,
            L1, W1 and so on.
        site: answers of the site.
        pairs: answers of pairs, by label such as ``P1 / U1``.
        at_wall: number of the wall of a pier, both from 1; ``None`` where it is not known;
            the first wall where nothing is said.
        unlisted: lists that are not known to be complete.
        vocabulary: the words.
    """

    def thing(
        subject: Subject,
        label: str,
        given: Answers,
        parts: Mapping[Subject, Thing],
        listed: bool = True,
    ) -> Thing:
        facts = {
            word.name: _fact(given.get(word.name, NOT_KNOWN))
            for word in vocabulary.of(subject)
            if word.origin is not Origin.CONCLUDED
        }
        return Thing(subject, label, facts, parts, listed, f"{label}!A1")

    ground = thing(Subject.SITE, "site", site, {})
    on_site = {Subject.SITE: ground}
    wall_things = [
        thing(Subject.WALL, f"W{n}", given, on_site) for n, given in enumerate(walls, start=1)
    ]
    no_wall = thing(Subject.WALL, "wall not known", {}, {})
    pier_things: list[Thing] = []
    for n, given in enumerate(piers, start=1):
        number = (at_wall or {}).get(n, 1)
        wall = no_wall if number is None else wall_things[number - 1]
        pier_things.append(thing(Subject.PIER, f"P{n}", given, {**on_site, Subject.WALL: wall}))
    around: dict[Subject, list[Thing]] = {}
    for subject, letter, rows in (
        (Subject.UTILITY, "U", utilities),
        (Subject.NEIGHBOUR, "N", neighbours),
        (Subject.SOIL_LAYER, "L", soil_layers),
    ):
        around[subject] = [
            thing(subject, f"{letter}{n}", given, on_site) for n, given in enumerate(rows, start=1)
        ]
        if subject in unlisted:
            label = f"any {subject.value} not listed"
            around[subject].append(thing(subject, label, {}, on_site, listed=False))
    made: list[Thing] = []
    said = pairs or {}
    for subject, of in (
        (Subject.PIER_UTILITY, Subject.UTILITY),
        (Subject.PIER_NEIGHBOUR, Subject.NEIGHBOUR),
        (Subject.PIER_SOIL_LAYER, Subject.SOIL_LAYER),
    ):
        for pier in pier_things:
            for other in around[of]:
                label = f"{pier.label} / {other.label}"
                parts = {**pier.parts, Subject.PIER: pier, of: other}
                made.append(thing(subject, label, said.get(label, {}), parts, other.listed))
    for pier in pier_things:
        for other in pier_things:
            if other is not pier:
                label = f"{pier.label} / {other.label}"
                parts = {
                    **pier.parts, Subject.PIER: pier, Subject.OTHER_PIER: other,
                    Subject.OTHER_WALL: other.part(Subject.WALL),
                }  # fmt: skip
                made.append(thing(Subject.PIER_PIER, label, said.get(label, {}), parts))
    listed = [thing for things in around.values() for thing in things]
    facts = Facts((ground, *wall_things, *pier_things, *listed, *made))
    assert {t.subject for t in facts.things} <= set(SCOPES)
    return facts


def _fact(given: FactValue | Fact) -> Fact:
    return given if isinstance(given, Fact) else Fact(given)
