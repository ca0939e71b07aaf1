"""Answering what was blank never changes a figure that was known before."""

import dataclasses

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from survey.facts import fact_value
from survey.model import LISTS, Answer, Row
from survey.quantities import work_out
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY, Subject
from tests.strategies import surveys, values
from tests.units.engineering.sites import UNTESTED, survey


@st.composite
def filled(draw, read):
    """The survey with some of its blanks answered."""
    walls = [wall.label for wall in read.walls]

    def answered(row):
        found = {}
        for word in VOCABULARY.asked_of(row.subject):
            answer = row.answers[word.name]
            governing = None if word.asks_when is None else found[word.asks_when.word].value
            applies = word.asks_when is None or governing in word.asks_when.choices
            if answer.value is NOT_KNOWN and governing is not NOT_KNOWN:
                if not applies:
                    answer = Answer(DOES_NOT_APPLY, answer.where)
                else:
                    value = draw(st.one_of(st.just(NOT_KNOWN), values(word, walls)))
                    answer = Answer(value, answer.where)
            found[word.name] = answer
        return Row(row.subject, row.label, found, row.where)

    lists = {name: tuple(answered(row) for row in read.rows(s)) for s, name in LISTS.items()}
    return dataclasses.replace(read, site=answered(read.site), **lists)


@st.composite
def blanked(draw, read):
    """The survey with some of its answers blank."""

    def row_with_blanks(row):
        names = draw(st.sets(st.sampled_from(sorted(row.answers)), max_size=3))
        for word in VOCABULARY.asked_of(row.subject):
            if word.asks_when is not None and word.asks_when.word in names:
                names.add(word.name)  # whether it applies is not known either
        gone = Answer(NOT_KNOWN, "blank")
        return dataclasses.replace(row, answers={**row.answers, **dict.fromkeys(names, gone)})

    lists = {name: tuple(row_with_blanks(row) for row in read.rows(s)) for s, name in LISTS.items()}
    return dataclasses.replace(read, site=row_with_blanks(read.site), **lists)


def assert_kept(before, after):
    everything = frozenset(Subject)
    later = work_out(after, everything).by_place
    for key, quantity in work_out(before, everything).by_place.items():
        if quantity.result.value is not NOT_KNOWN and key in later:
            word = VOCABULARY[key[0]]
            # As the rules see it: a plan that is laid out from another wall differs by rounding.
            again, once = (fact_value(word, q.result.value) for q in (later[key], quantity))
            assert again == once, key
        elif quantity.result.bounds and key in later:
            assert_within(quantity.result.bounds, later[key].result, key)


def assert_within(bounds, result, key):
    """What is known later lies between what it had to lie between."""
    least, most = bounds
    found = result.bounds if result.value is NOT_KNOWN else (result.value, result.value)
    if found is not None and result.value is not DOES_NOT_APPLY:
        assert least - 1e-6 * abs(least) - 1e-9 <= found[0], key
        assert found[1] <= most + 1e-6 * abs(most) + 1e-9, key


@given(st.data())
@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
def test_a_drawn_survey_filled_in(data):
    read = data.draw(surveys(most_rows=2))
    assert_kept(read, data.draw(filled(read)))


SOUND = survey(
    walls={
        "front": {"wall_length": 40}, "right": {"wall_length": 30},
        "back": {"wall_length": 40, "footing_kind": "none found", "footing_thickness": None,
                 "footing_width": None, "footing_projection": None, "concrete_strength": None},
        "left": {"wall_length": 30},
    },
    piers={
        "P1": {}, "P2": {"wall_of_pier": "right", "side_protection": "benched",
                         "slope_of_sides": None},
        "P3": {"station": 30, "pit_reached_from": "basement", "footing_depth": 1},
        "P4": {"station": 8, "side_protection": "shield", "slope_of_sides": None},
        "P5": {"wall_of_pier": "back", "pit_reached_from": "basement", "footing_depth": 1},
    },
    layers={
        "silt": {"layer_bottom": 3, "soil_group": "silt", **UNTESTED},
        "clay": {"layer_top": 3},
    },
)  # fmt: skip


@given(st.data())
@settings(max_examples=100, deadline=None, suppress_health_check=list(HealthCheck))
def test_a_sound_survey_with_blanks_filled_in_again(data):
    before = data.draw(blanked(SOUND))
    assert_kept(before, data.draw(filled(before)))
    assert_kept(before, SOUND)
