"""What is printed: the last line of a working is its value, and its numbers give it."""

import re

import pytest

from survey.quantities import work_out
from survey.vocabulary import MEASURES, VOCABULARY, Kind, Subject, read_quantity
from tests.units.engineering.sites import busy_survey, survey

SURVEYS = {
    "sound": survey(),
    "busy": busy_survey(),
    "benched": survey(piers={"P1": {"side_protection": "benched", "slope_of_sides": None}}),
    "inside": survey(
        piers={"P1": {"pit_reached_from": "crawl space", "footing_depth": "1 ft"}}
    ),
    "water": survey(site={"groundwater_met": "yes", "depth_to_groundwater": "4 ft"}),
}  # fmt: skip
KNOWN = [
    (name, key, quantity)
    for name, read in SURVEYS.items()
    for key, quantity in work_out(read, frozenset(Subject)).by_place.items()
    if quantity.result.known
]
# One of each word and survey is enough of them to read.
PRINTED = list({(name, key[0]): (name, key, quantity) for name, key, quantity in KNOWN}.values())


def ids(case):
    name, (word, labels), _ = case
    return f"{name}: {word} of {' / '.join(labels)}"


@pytest.mark.parametrize("case", PRINTED, ids=ids)
def test_last_line_is_the_value(case):
    _, (word, _), quantity = case
    declared, value = VOCABULARY[word], quantity.result.value
    printed = quantity.result.working.lines[-1].result
    if not declared.measured:
        assert printed == str(value)
        return
    kind = declared.kind
    bare = "" if kind is Kind.COUNT else None
    assert read_quantity(printed, kind, bare) == pytest.approx(value, abs=0.0006)


@pytest.mark.parametrize("case", PRINTED, ids=ids)
def test_every_line_says_what_it_is(case):
    working = case[2].result.working
    assert working.title
    assert working.source
    for line in working.lines:
        assert line.meaning
        assert line.result
        assert not (line.numbers and not line.formula)
        assert "nan" not in line.result
        assert "inf" not in re.split(r"[ ,]", line.result)


def arithmetic(numbers):
    """A line's numbers as Python would work them out; none where it is no plain arithmetic."""
    plain = numbers.replace(",", "").replace(" x ", " * ").replace("^", "**")
    plain = re.sub(r"(\d) \(", r"\1 * (", plain)
    if re.search(r"[a-zA-Z:]", plain) or not re.search(r"\d", plain) or "-" in plain.split()[0]:
        return None
    return eval(plain, {"__builtins__": {}})  # numbers of our own making


def test_numbers_put_in_give_the_result():
    checked = 0
    for _, (_, labels), quantity in PRINTED:
        for line in quantity.result.working.lines:
            value = arithmetic(line.numbers) if line.numbers else None
            unit = re.fullmatch(r"(-?[\d,]*\.?\d+)\s?[^\d.].*", line.result)
            if value is None or unit is None:
                continue
            printed = float(unit[1].replace(",", ""))
            # Each number in the line is rounded to three decimals.
            assert printed == pytest.approx(value, rel=2e-4, abs=0.01), (labels, line)
            checked += 1
    assert checked > 100


def test_the_service_load_prints_all_of_its_parts():
    working = work_out(survey()).of("wall line load", ("front",)).result.working
    parts = {line.symbol: line.result for line in working.lines}
    assert parts["D4"] == "700 plf"  # 8/12 x 7 x 150
    assert parts["D1"] == "342 plf"  # 2 x 9 x 19
    assert {"D2", "D3", "D5", "D", "L", "R", "w"} <= set(parts)
    assert "common practice" in working.source
    assert "from memory" in working.source


def test_canonical_unit_is_the_printed_one():
    for _, (word, _), quantity in PRINTED:
        declared = VOCABULARY[word]
        if declared.measured and declared.kind is not Kind.SLOPE:
            printed = quantity.result.working.lines[-1].result
            assert printed.endswith(MEASURES[declared.kind].canonical)
