"""Which answers a figure rests on, where the wrong one would go unseen."""

import pytest

from survey.quantities import work_out
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN
from tests.units.engineering.sites import survey


def of(word, *labels, **changed):
    return work_out(survey(**changed)).of(word, labels).result


def test_a_seat_bears_the_drive_load_where_that_is_more():
    found = of("bearing area needed", "P1", site={"planned_drive_load": 150000})
    assert found.value == pytest.approx(1.2 * 150000 / (0.6 * 0.85 * 2500))
    assert of("bearing area needed", "P1").value < found.value


def test_what_stands_over_the_pit_is_on_the_tube_between_brackets():
    two = {"P1": {}, "P2": {"station": 26}}
    none = {"heavy_load_over_pit": "no", "point_load_at_pier": None}
    loaded = of("spanning tube use", "P1", piers=two).value
    assert loaded > of("spanning tube use", "P1", piers={**two, "P1": none}).value
    unknown = {"heavy_load_over_pit": None, "point_load_at_pier": None}
    assert of("spanning tube use", "P1", piers={**two, "P1": unknown}).value is NOT_KNOWN


def test_who_has_no_tube_between_brackets_is_asked_for_no_size_of_it():
    two = {"P1": {}, "P2": {"station": 26}}
    sizes = ("width", "depth", "wall")
    blank = dict.fromkeys(f"spanning_tube_{size}" for size in sizes)
    none = of("spanning tube use", "P1", piers=two, site={**blank, "spanning_tube_at_hand": "no"})
    assert none.value is DOES_NOT_APPLY
    unsaid = survey(piers=two, site={"spanning_tube_at_hand": None})
    quantity = work_out(unsaid).of("spanning tube use", ("P1",))
    assert quantity.result.value is NOT_KNOWN
    assert [given.word for given in quantity.inputs] == ["spanning tube at hand"]


def test_the_shoring_tables_are_never_said_to_hold_beside_what_nobody_asks():
    shored = {"side_protection": "timber shoring", "protection_in_place_before_entry": "yes"}
    assert of("appendix tables hold", "P1", piers={"P1": shored}).value == "no"
    deep = {**shored, "footing_depth": "6 ft", "spoil_distance": 20}  # not above the pit's floor
    assert of("appendix tables hold", "P1", piers={"P1": deep}).value is NOT_KNOWN
