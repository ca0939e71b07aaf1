"""What the rules are judged on: every thing and pair, its own facts, and those of its parts."""

from itertools import permutations

import pytest

from survey.facts import gather
from survey.quantities import work_out
from survey.vocabulary import NOT_KNOWN, SCOPES, VOCABULARY, Kind, Origin, Subject, Word
from tests.units.engineering.sites import UNTESTED, survey

EVERYTHING = frozenset(Subject)
MANY = (Subject.PIER_SOIL_LAYER, Subject.PIER_PIER)
TWO_PIERS = VOCABULARY.scope(Subject.PIER_PIER)
PIERS = {
    "P1": {}, "P2": {"wall_of_pier": "right", "station": 15, "pit_depth": "6 ft"},
    "P3": {"station": 8},
}  # fmt: skip
WALLS = {
    "front": {"wall_length": 40}, "right": {"wall_length": 30, "wall_thickness": 12},
    "back": {"wall_length": 40}, "left": {"wall_length": 30},
}  # fmt: skip
LAYERS = {"top": {"layer_bottom": 4}, "deep": {"layer_top": 4, "soil_group": "silt", **UNTESTED}}


def facts_of(read, wanted=EVERYTHING, vocabulary=VOCABULARY):
    return gather(read, work_out(read, wanted), vocabulary, wanted)


def labelled(facts, subject):
    return {thing.label: thing for thing in facts.of(subject)}


def test_the_many_pairs_are_only_made_if_wanted():
    read = survey(piers=PIERS, layers=LAYERS)
    usual = {thing.subject for thing in gather(read, work_out(read)).things}
    assert usual == set(Subject) - {
        *MANY,
        Subject.PHOTO,
        Subject.RELEASE,
        Subject.OTHER_PIER,
        Subject.OTHER_WALL,
    }
    for subject in MANY:
        wanted = facts_of(read, frozenset({subject, Subject.PIER}))
        assert {thing.subject for thing in wanted.things} == usual | {subject}


def test_things_of_a_subject_in_the_order_of_the_form():
    facts = facts_of(survey(piers=PIERS))
    assert [thing.label for thing in facts.of(Subject.PIER)] == ["P1", "P2", "P3"]
    assert {id(t) for s in Subject for t in facts.of(s)} == {id(t) for t in facts.things}
    assert list(facts.of(Subject.RELEASE)) == []


@pytest.mark.parametrize("subject", SCOPES, ids=lambda subject: subject.value)
def test_every_word_that_a_rule_may_use_is_there(subject):
    things = list(facts_of(survey(piers=PIERS, layers=LAYERS)).of(subject))
    assert things
    for thing in things:
        for word in VOCABULARY.scope(subject).values():
            if word.origin is not Origin.CONCLUDED:
                fact = thing.fact(word)
                assert fact.inputs or fact.working, (thing.label, word.name)


# Two piers


def test_a_pier_is_paired_with_every_other_and_not_with_itself():
    pairs = labelled(facts_of(survey(piers=PIERS)), Subject.PIER_PIER)
    assert list(pairs) == [f"{one} / {other}" for one, other in permutations(PIERS, 2)]
    assert all(pair.listed for pair in pairs.values())
    assert not labelled(facts_of(survey()), Subject.PIER_PIER)


def test_a_pair_of_piers_has_the_very_things_that_it_is_made_of():
    facts = facts_of(survey(piers=PIERS, walls=WALLS))
    piers, walls = labelled(facts, Subject.PIER), labelled(facts, Subject.WALL)
    pair = labelled(facts, Subject.PIER_PIER)["P1 / P2"]
    assert pair.part(Subject.PIER_PIER) is pair
    assert pair.part(Subject.PIER) is piers["P1"]
    assert pair.part(Subject.WALL) is walls["front"]
    assert pair.part(Subject.OTHER_PIER) is piers["P2"]
    assert pair.part(Subject.OTHER_WALL) is walls["right"]
    assert pair.part(Subject.SITE) is facts.things[0]
    assert pair.where == piers["P1"].where


@pytest.mark.parametrize(
    ("word", "there", "back"),
    [
        ("pit depth of this pier", 60_000, 72_000), ("pit depth of other pier", 72_000, 60_000),
        ("wall thickness of this pier", 8_000, 12_000),
        ("wall thickness of other pier", 12_000, 8_000),
        ("slope reach of other pier", 72_000, 60_000),
        ("distance between piers", 300_000, 300_000), ("ground vibrated", "no", "no"),
    ],
)  # fmt: skip
def test_words_of_this_and_the_other_pier_in_thousandths_of_an_inch(word, there, back):
    pairs = labelled(facts_of(survey(piers=PIERS, walls=WALLS)), Subject.PIER_PIER)
    assert pairs["P1 / P2"].fact(TWO_PIERS[word]).value == there
    assert pairs["P2 / P1"].fact(TWO_PIERS[word]).value == back


def test_of_a_pier_that_may_stand_at_any_wall_the_wall_is_not_known_to_the_others_either():
    piers = {"P1": {}, "P2": {"wall_of_pier": None}}
    pairs = labelled(facts_of(survey(piers=piers)), Subject.PIER_PIER)
    for pair, whose in (("P1 / P2", "other"), ("P2 / P1", "this")):
        fact = pairs[pair].fact(TWO_PIERS[f"wall thickness of {whose} pier"])
        assert fact.value is NOT_KNOWN
        assert [(given.word, given.label) for given in fact.inputs] == [("wall of pier", "P2")]
        assert pairs[pair].fact(TWO_PIERS["clearance between pits"]).value is NOT_KNOWN


# A pier and a soil layer


def test_a_pier_is_paired_with_every_layer():
    facts = facts_of(survey(piers=PIERS, walls=WALLS, layers=LAYERS))
    pairs = labelled(facts, Subject.PIER_SOIL_LAYER)
    assert list(pairs) == [f"{pier} / {layer}" for pier in PIERS for layer in LAYERS]
    pair = pairs["P2 / deep"]
    assert pair.part(Subject.PIER) is labelled(facts, Subject.PIER)["P2"]
    assert pair.part(Subject.SOIL_LAYER) is labelled(facts, Subject.SOIL_LAYER)["deep"]
    assert pair.part(Subject.WALL) is labelled(facts, Subject.WALL)["right"]
    assert pair.listed
    scope = VOCABULARY.scope(Subject.PIER_SOIL_LAYER)
    assert pair.fact(scope["soil group"]).value == "silt"
    assert pair.fact(scope["pit depth"]).value == 72_000


@pytest.mark.parametrize("closing", [None, "no"])
def test_whatever_an_open_list_of_layers_left_out_may_be_at_every_pier(closing):
    site = {"all_soil_layers_listed": closing}
    facts = facts_of(survey(site=site, piers=PIERS, layers=LAYERS))
    rest = [thing for thing in facts.of(Subject.PIER_SOIL_LAYER) if not thing.listed]
    assert [thing.label for thing in rest] == [f"{p} / any soil layer not listed" for p in PIERS]
    scope = VOCABULARY.scope(Subject.PIER_SOIL_LAYER)
    assert all(thing.fact(scope["soil group"]).value is NOT_KNOWN for thing in rest)
    assert all(thing.fact(scope["pit depth"]).value is not NOT_KNOWN for thing in rest)


# A firm's own questions

OWN = VOCABULARY.extended(
    Word(f"{subject.value} looked at", subject, Kind.YES_NO, Origin.SEEN, "Was it looked at?",
         choices=("yes", "no"))
    for subject in (Subject.SITE, Subject.WALL, Subject.PIER, Subject.SOIL_LAYER)
)  # fmt: skip


def own_survey():
    return survey(
        site={"site_looked_at": "no", "all_soil_layers_listed": None},
        piers={"P1": {"pier_looked_at": "yes"}, "P2": {"wall_of_pier": None}},
        walls={label: {**answers, "wall_looked_at": "yes"} for label, answers in WALLS.items()},
        vocabulary=OWN,
    )


def test_own_questions_are_facts_like_any_other():
    facts = facts_of(own_survey(), vocabulary=OWN)
    words = OWN.scope(Subject.PIER_SOIL_LAYER)
    pairs = labelled(facts, Subject.PIER_SOIL_LAYER)
    asked = ("site looked at", "wall looked at", "pier looked at", "soil layer looked at")
    values = {label: [p.fact(words[word]).value for word in asked] for label, p in pairs.items()}
    assert values == {
        "P1 / clay": ["no", "yes", "yes", NOT_KNOWN],
        "P1 / any soil layer not listed": ["no", "yes", "yes", NOT_KNOWN],
        "P2 / clay": ["no", NOT_KNOWN, NOT_KNOWN, NOT_KNOWN],
        "P2 / any soil layer not listed": ["no", NOT_KNOWN, NOT_KNOWN, NOT_KNOWN],
    }
    (given,) = pairs["P1 / clay"].fact(words["pier looked at"]).inputs
    assert (given.word, given.label, given.answer.where) == (
        "pier looked at", "P1", "P1.pier_looked_at",
    )  # fmt: skip
    (given,) = pairs["P2 / clay"].fact(words["wall looked at"]).inputs
    assert (given.word, given.label) == ("wall of pier", "P2")


def test_answers_to_questions_that_the_book_has_not_are_left_out():
    things = facts_of(own_survey()).things
    assert not [name for thing in things for name in thing.facts if "looked at" in name]


def test_a_survey_that_was_read_without_a_question_does_not_answer_it():
    dog = Word("loose dog", Subject.SITE, Kind.YES_NO, Origin.SEEN, "?", choices=("yes", "no"))
    site = next(facts_of(survey(), vocabulary=VOCABULARY.extended([dog])).of(Subject.SITE))
    assert site.fact(dog).value is NOT_KNOWN
    (given,) = site.fact(dog).inputs
    assert (given.word, given.answer.value) == ("loose dog", NOT_KNOWN)
