"""Line loads: what is printed, limits, and bounds where answers are not known."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering import load, load_range
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY, Kind, read_quantity

WALL = load.WallAbove(
    "poured concrete", 8.0, 84.0, 2, "light siding or stucco", 168.0, 336.0, 30.0, "concrete",
    10.0, 20.0, "partially exposed", "heated", "no",
)  # fmt: skip
BOTH = {
    "service": (load.wall_line_load, load_range.line_load_range),
    "factored": (load.factored_line_load, load_range.factored_line_load_range),
    "dead": (load.dead_line_load, load_range.dead_line_load_range),
}
LOADS = [plain for plain, _ in BOTH.values()]
CHOICES = {field: list(weights) for field, _, weights, _ in load.WORDS}
NUMBERS = {field: (low, high) for field, _, low, high, _ in load.LIMITS}
NAMES = {field: name for field, name, *_ in (*load.LIMITS, *load.WORDS)}


def answers(**changed):
    return load_range.WallAnswers(*WALL)._replace(**changed)


# The form and the calculation


@pytest.mark.parametrize("field", CHOICES)
def test_every_choice_of_the_form_has_a_figure(field):
    word = VOCABULARY[NAMES[field]]
    assert set(CHOICES[field]) == set(word.choices)
    (row,) = (row for row in load.WORDS if row[0] == field)
    assert set(row[3]) == set(word.choices)


@pytest.mark.parametrize("field", NUMBERS)
def test_the_method_holds_wherever_the_form_takes_a_figure(field):
    word = VOCABULARY[NAMES[field]]
    low, high = NUMBERS[field]
    assert low <= word.low < word.high <= high


@pytest.mark.parametrize("field", NUMBERS)
@pytest.mark.parametrize("calculation", LOADS)
def test_known_up_to_both_ends_and_not_known_past_them(field, calculation):
    low, high = NUMBERS[field]
    for limit in (low, high):
        assert calculation(WALL._replace(**{field: limit})).known
    for past in (low - 0.001, high + 0.001, math.nan, math.inf, -math.inf):
        found = calculation(WALL._replace(**{field: past}))
        assert found.value is NOT_KNOWN
        assert "holds" in found.reason


@pytest.mark.parametrize("field", CHOICES)
@pytest.mark.parametrize("calculation", LOADS)
def test_a_word_without_a_figure_is_not_known(field, calculation):
    found = calculation(WALL._replace(**{field: "straw"}))
    assert found.value is NOT_KNOWN
    assert f"{NAMES[field]} of 'straw'" in found.reason


@pytest.mark.parametrize(
    "figures",
    [(-1.0, 84.0, 12.0), (61.0, 84.0, 12.0), (6.0, -1.0, 12.0), (6.0, 481.0, 12.0),
     (6.0, 84.0, 73.0), (6.0, 84.0, math.nan)],
)  # fmt: skip
def test_soil_out_of_its_range(figures):
    assert "holds" in load.soil_on_footing(*figures).reason


def test_no_soil_lies_on_a_footing_that_is_thicker_than_deep():
    assert load.soil_on_footing(6.0, 10.0, 12.0).value == 0.0
    assert load.soil_on_footing(60.0, 480.0, 0.0).value == pytest.approx(5 * 40 * 120)


# What is printed


@pytest.mark.parametrize("calculation", LOADS)
def test_the_working_adds_up_and_ends_in_the_value(calculation):
    found = calculation(WALL)
    lines = found.working.lines
    assert read_quantity(lines[-1].result, Kind.LINE_LOAD, None) == pytest.approx(
        found.value, abs=0.0006
    )
    by_symbol = {line.symbol: line for line in lines}
    parts = [read_quantity(by_symbol[f"D{i}"].result, Kind.LINE_LOAD, None) for i in range(1, 6)]
    dead = read_quantity(by_symbol["D"].result, Kind.LINE_LOAD, None)
    assert sum(parts) == pytest.approx(dead, abs=0.003)
    for line in lines:
        assert line.meaning
        assert line.result
        if line.symbol.startswith("D") and line.symbol != "D":
            assert "memory" in line.source or "practice" in line.source


def test_the_working_says_what_is_assumed_and_left_out():
    working = load.wall_line_load(WALL).working
    for said in ("drifts", "not tile or slate", "soil on the footing", "wind"):
        assert said in working.validity
    assert any("sleeping rooms" in line.source for line in working.lines)
    assert "0.6 D" in load.dead_line_load(WALL).working.validity


# Gables


def test_a_wall_without_rafters_carries_its_gable():
    gable = WALL._replace(roof_span_in=0.0)
    by_symbol = {line.symbol: line for line in load.wall_line_load(gable).working.lines}
    assert by_symbol["D3"].result == "115.5 plf"  # 4.5 x 19 + 2 x 15
    assert by_symbol["R"].numbers.startswith("2 x ")
    low = gable._replace(storeys=0)
    by_symbol = {line.symbol: line for line in load.wall_line_load(low).working.lines}
    assert by_symbol["D3"].result == "0 plf"


# Heavier is never lighter


figures = st.fixed_dictionaries({f: st.floats(*ends) for f, ends in NUMBERS.items()})
words = st.fixed_dictionaries({f: st.sampled_from(choices) for f, choices in CHOICES.items()})
walls = st.builds(lambda f, w: load.WallAbove(**f, **w), figures, words)
loads = st.sampled_from(LOADS)


@given(loads, walls, st.sampled_from(sorted(NUMBERS)), st.data())
def test_a_larger_figure_is_never_a_lighter_load(calculation, wall, field, data):
    more = data.draw(st.floats(getattr(wall, field), NUMBERS[field][1]))
    light, heavy = calculation(wall).value, calculation(wall._replace(**{field: more})).value
    assert 0.0 <= light <= heavy + 1e-9 * heavy


@given(walls)
def test_what_there_is_to_push_against_is_never_more_than_what_presses(wall):
    least = load.dead_line_load(wall).value
    assert least <= load.wall_line_load(wall).value
    assert load.wall_line_load(wall).value <= load.factored_line_load(wall).value * 1.0001


@given(walls, st.sampled_from(["wall_cladding", "roof_exposure", "roof_heating", "attic_storage"]))
def test_a_later_choice_is_never_lighter(wall, field):
    found = [
        load.wall_line_load(wall._replace(**{field: choice})).value
        for choice in VOCABULARY[NAMES[field]].choices
    ]
    assert found == sorted(found)


# Not known


@pytest.mark.parametrize("name", BOTH)
def test_all_known_gives_the_plain_figure(name):
    plain, ranged = BOTH[name]
    assert ranged(answers()) == plain(WALL)


@pytest.mark.parametrize("name", BOTH)
@given(walls, st.sets(st.sampled_from(sorted(load.WallAbove._fields)), min_size=1))
def test_the_known_figure_lies_within_what_it_was_while_not_known(name, wall, unknown):
    plain, ranged = BOTH[name]
    lowest = {f: VOCABULARY[NAMES[f]].low for f in NUMBERS}
    # Figures of a footing come from the form, which takes none below 1 in.
    wall = wall._replace(**{
        f: max(getattr(wall, f), lowest[f]) for f in NUMBERS if wall.footing_kind != "none found"
        or not f.startswith("footing")
    })  # fmt: skip
    asked = load_range.WallAnswers(*wall)._replace(**dict.fromkeys(unknown, NOT_KNOWN))
    found, known = ranged(asked), plain(wall)
    if found.bounds is None:
        assert found.value == pytest.approx(known.value)
        return
    assert found.value is NOT_KNOWN
    least, most = found.bounds
    assert math.isfinite(least)
    assert math.isfinite(most)
    if wall.footing_kind == "none found" and not {"footing_kind"} & unknown:
        known = plain(wall._replace(footing_thickness_in=0.0, footing_width_in=0.0))
    assert least - 1e-9 * most <= known.value <= most * (1 + 1e-9)


@given(walls, st.lists(st.sampled_from(sorted(load.WallAbove._fields)), unique=True, min_size=2))
def test_knowing_more_never_widens_the_bounds(wall, unknown):
    widths = []
    for count in range(len(unknown) + 1):
        asked = load_range.WallAnswers(*wall)._replace(**dict.fromkeys(unknown[:count], NOT_KNOWN))
        low, high = load_range.line_load_range(asked).bounds or (0.0, 0.0)
        widths.append(high - low)
    for known, less_known in itertools.pairwise(widths):
        assert known <= less_known * (1 + 1e-9) + 1e-6


def test_bounds_of_a_wall_height_by_hand():
    found = load_range.line_load_range(answers(wall_height_in=NOT_KNOWN))
    # 8 in of concrete: nothing at 0 ft, 8/12 x 30 x 150 = 3,000 plf at 30 ft; 700 at 7 ft
    here = load.wall_line_load(WALL).value
    assert found.value is NOT_KNOWN
    assert found.bounds == pytest.approx((here - 700, here + 2300))
    assert found.reason == "'wall height': not known"
    last = found.working.lines[-1]
    assert last.symbol == "w"
    assert last.result == "1,961.833 plf to 4,961.833 plf"
    assert found.working.lines[0].result == "from 0 in to 360 in"


def test_plausible_figures_may_be_given():
    found = load_range.line_load_range(
        answers(wall_height_in=NOT_KNOWN, wall_cladding=NOT_KNOWN),
        {"wall_height_in": (84.0, 96.0),
         "wall_cladding": ("light siding or stucco", "brick or stone veneer")},
    )  # fmt: skip
    here = load.wall_line_load(WALL).value
    # 1 ft of wall; 48 for 19 psf on two storeys; and a gable of it weighs 246 plf, the roof 225
    assert found.bounds == pytest.approx((here, here + 100 + 2 * 9 * 29 + 21))


@pytest.mark.parametrize("name", BOTH)
def test_sizes_of_a_footing_that_is_not_there_do_not_apply(name):
    plain, ranged = BOTH[name]
    bare = answers(footing_kind="none found", footing_thickness_in=DOES_NOT_APPLY,
                   footing_width_in=DOES_NOT_APPLY)  # fmt: skip
    expected = WALL._replace(footing_kind="none found", footing_thickness_in=0.0,
                             footing_width_in=0.0)  # fmt: skip
    assert ranged(bare) == plain(expected)


def test_what_does_not_apply_elsewhere_is_no_nought():
    found = load_range.line_load_range(answers(footing_width_in=DOES_NOT_APPLY))
    assert found.value is NOT_KNOWN
    assert found.bounds is None
    assert found.reason == "'footing width': does not apply"


def test_an_unknown_footing_may_be_none_or_any():
    unknown = dict.fromkeys(("footing_kind", "footing_thickness_in", "footing_width_in"), NOT_KNOWN)
    least, most = load_range.line_load_range(answers(**unknown)).bounds
    bare = WALL._replace(footing_kind="none found")
    assert least == pytest.approx(load.wall_line_load(bare).value)
    assert most == pytest.approx(least + 6 * 10 * 165)


def test_what_makes_no_difference_need_not_be_known():
    # no storey, so that nothing is clad
    found = load_range.line_load_range(answers(storeys=0, wall_cladding=NOT_KNOWN))
    assert found.value == load.wall_line_load(WALL._replace(storeys=0)).value
    assert found.working.lines[-1].symbol == "w"


def test_dead_load_needs_no_snow_and_no_attic():
    unknown = dict.fromkeys(
        ("ground_snow_load_psf", "roof_exposure", "roof_heating", "attic_storage"), NOT_KNOWN
    )
    assert load_range.dead_line_load_range(answers(**unknown)) == load.dead_line_load(WALL)
    assert load_range.line_load_range(answers(**unknown)).bounds is not None


@pytest.mark.parametrize("name", BOTH)
def test_a_known_figure_out_of_range_has_no_bounds(name):
    _, ranged = BOTH[name]
    found = ranged(answers(wall_thickness_in=100.0, wall_height_in=NOT_KNOWN))
    assert found.value is NOT_KNOWN
    assert found.bounds is None
    assert "100 in" in found.reason


@given(st.lists(st.floats(), min_size=8, max_size=8))
def test_no_figures_make_nonsense(values):
    wall = WALL._replace(**dict(zip(NUMBERS, values, strict=True)))
    for calculation in LOADS:
        found = calculation(wall)
        assert found.value is NOT_KNOWN or math.isfinite(found.value)
