"""Timber shoring: edges of the tables, what is printed, and what is not known about the use."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.engineering import shoring_tables
from survey.engineering._timber_tables import DOUBTFUL, MEMORY, TABLES
from survey.engineering.shoring_tables import BesidePit, tables_usable
from survey.engineering.timber_shoring import timber_shoring
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN


def shoring(**changed):
    return timber_shoring(
        **{"timber": "mixed oak", "soil_class": "A", "pit_depth_in": 156.0,
           "trench_width_in": 60.0, "brace_spacing_in": 72.0, **changed}
    )  # fmt: skip


FIGURES = {
    "pit_depth_in": (12, 240), "trench_width_in": (12, 180), "brace_spacing_in": (12, 144),
}  # fmt: skip


@pytest.mark.parametrize("name", FIGURES)
def test_known_up_to_both_ends_and_an_engineer_past_them(name):
    low, high = FIGURES[name]
    for limit in (low, high):
        assert shoring(**{name: float(limit)}).known
    for past in (low - 0.002, high + 0.002, math.nan, math.inf, -math.inf):
        found = shoring(**{name: past})
        assert found.value is NOT_KNOWN
        assert "holds" in found.reason
        assert "1926.652(c)" in found.reason


def test_words_that_have_no_table():
    assert shoring(soil_class="stable rock").value is DOES_NOT_APPLY
    assert shoring(soil_class="D").value is NOT_KNOWN
    assert "pine" in shoring(timber="pine").reason


def brace(**changed):
    return shoring(**changed).value.split()[1]


def wale(**changed):
    return shoring(**changed).value.split(", ")[1]


def test_rows_of_depth():
    at = {"brace_spacing_in": 120.0}
    assert wale(pit_depth_in=119.9, **at) == "wales 8x8 at 4 ft"
    # Just 10 ft stands in two rows; the deeper is taken.
    assert wale(pit_depth_in=120.0, **at) == "wales 8x10 at 4 ft"
    assert brace(pit_depth_in=179.9, **at) == "6x6"
    assert brace(pit_depth_in=180.0, **at) == "8x8"
    assert brace(pit_depth_in=240.0, **at) == "8x8"


def test_a_pit_of_less_than_5_ft_takes_the_first_row_and_says_so():
    shallow, first = (shoring(pit_depth_in=depth) for depth in (48.0, 60.0))
    assert shallow.value == first.value
    printed = [line.result for line in shallow.working.lines]
    assert any("a pit of less takes the first row" in text for text in printed)


@pytest.mark.parametrize(
    ("inches", "size"),
    [(48, "6x6"), (72, "6x6"), (108, "6x6"), (108.1, "6x8"), (144, "6x8"), (180, "6x8")],
)
def test_columns_of_width(inches, size):
    assert brace(trench_width_in=inches, brace_spacing_in=120.0) == size


@pytest.mark.parametrize(
    ("inches", "wales"),
    [(72, "no wales"), (72.01, "wales 8x8 at 4 ft"), (96, "wales 8x8 at 4 ft"),
     (96.01, "wales 8x10 at 4 ft"), (120.01, "wales 10x10 at 4 ft")],
)  # fmt: skip
def test_rows_of_spacing(inches, wales):
    assert wale(brace_spacing_in=inches) == wales


def test_lengths_in_metres_stay_on_the_limit():
    assert brace(trench_width_in=1.2192 * 1000 / 25.4 + 1e-10) == "4x4"
    assert wale(brace_spacing_in=1.8288 * 1000 / 25.4 + 1e-10) == "no wales"


@pytest.mark.parametrize(("soil_class", "depth"), [("B", 60), ("B", 239), ("C", 60), ("C", 150)])
def test_note_1_sends_to_an_engineer(soil_class, depth):
    found = shoring(soil_class=soil_class, pit_depth_in=depth, brace_spacing_in=121.0)
    assert found.value is NOT_KNOWN
    assert "note 1" in found.reason
    assert "engineer" in found.reason


def cells():
    for (timber, soil_class), table in TABLES.items():
        for deep, rows in enumerate(table.rows):
            for apart, row in enumerate(rows):
                for width in (48.0, 72.0, 108.0, 144.0, 180.0):
                    found = timber_shoring(
                        timber, soil_class, 60.0 * deep + 90, width, 24.0 * apart + 72
                    )
                    assert found.known == (row is not None)
                    if row is not None:
                        yield row, found


def test_every_cell_prints_its_value_and_how_far_it_can_be_trusted():
    for row, found in cells():
        working, value = found.working, found.value
        assert working.lines[-1].result == value
        assert row.upright in value
        assert "not for use beside a footing heavier than 2 ft of soil" in value
        told = next(line.result for line in working.lines if line.meaning == "row of the table")
        assert ("from memory, read Table" in value) == (told == MEMORY)
        assert ("DOUBTFUL, could not be confirmed" in value) == (told == DOUBTFUL)
        assert ("from memory" in working.source) == (told in (MEMORY, DOUBTFUL))
        printed = [line.result for line in working.lines]
        assert any("nearly always not usable" in text for text in printed)
        for line in working.lines:
            assert line.meaning
            assert line.result


any_float = st.floats(allow_nan=True, allow_infinity=True) | st.floats(0, 300)


@given(st.sampled_from(sorted(TABLES)), any_float, any_float, any_float)
def test_any_figures_give_words_or_nothing(at, depth, width, spacing):
    value = timber_shoring(*at, depth, width, spacing).value
    assert value is NOT_KNOWN or value.startswith("crossbraces ")


in_range = st.tuples(st.floats(12, 240), st.floats(12, 180), st.floats(12, 144))


def size(text):
    less, more = sorted(float(side) for side in text.split("x"))
    return less * more


@given(st.sampled_from(sorted(TABLES)), in_range, st.sampled_from([0, 1, 2]), st.floats(0, 1))
def test_deeper_wider_further_apart_is_never_smaller(at, figures, index, share):
    worst = (240.0, 180.0, 144.0)[index]
    moved = figures[index] + share * (worst - figures[index])
    worse = (*figures[:index], moved, *figures[index + 1 :])
    one, other = (timber_shoring(*at, *at_figures) for at_figures in (figures, worse))
    if not one.known:
        assert not other.known
    elif other.known:
        assert size(one.value.split()[1]) <= size(other.value.split()[1])


# Whether the tables may be used

CLEAR = BesidePit(96.0, 200.0, 24.0, 1500.0, 0.0, 0.0, 0.0, "yes")
SUPPORTS = ("timber shoring", "hydraulic shoring")
RULED_OUT = {
    "deep": {"pit_depth_in": 300.0}, "footing": {"footing_distance_in": 0.0},
    "stored": {"stored_pressure_psf": 300.0}, "equipment": {"equipment_load_lb": 30000.0},
    "brace": {"brace_load_lb": 300.0}, "lower part": {"whole_depth_held": "no"},
}  # fmt: skip
MOST = {
    "pit_depth_in": 720, "footing_distance_in": 1e7, "footing_depth_in": 480,
    "footing_pressure_psf": 1e6, "stored_pressure_psf": 1e6, "equipment_load_lb": 1e7,
    "brace_load_lb": 1e5,
}  # fmt: skip
ALL_OPEN = BesidePit(*[NOT_KNOWN] * 8)


@pytest.mark.parametrize("support", SUPPORTS)
@pytest.mark.parametrize("clause", RULED_OUT)
def test_one_sure_clause_settles_it(support, clause):
    changed = RULED_OUT[clause]
    assert tables_usable(support, CLEAR._replace(**changed)).value == "no"
    # Of the footing it takes its four figures.
    figures = ("pit_depth_in", "footing_depth_in", "footing_pressure_psf")
    known = {name: getattr(CLEAR, name) for name in figures} if clause == "footing" else {}
    only = ALL_OPEN._replace(**{**known, **changed})
    found = tables_usable(support, only)
    assert found.value == "no"
    assert any(line.result.startswith("not known: ") for line in found.working.lines)


@pytest.mark.parametrize("support", SUPPORTS)
@pytest.mark.parametrize("name", CLEAR._fields)
@pytest.mark.parametrize("missing", [NOT_KNOWN, DOES_NOT_APPLY])
def test_one_open_figure_leaves_it_open_unless_others_settle_it(support, name, missing):
    found = tables_usable(support, CLEAR._replace(**{name: missing}))
    # A footing that is far away needs no weight and no depth.
    if name in ("footing_depth_in", "footing_pressure_psf"):
        assert found.value == "yes"
    else:
        assert found.value is NOT_KNOWN
        assert str(missing) in found.reason


@pytest.mark.parametrize(
    ("changed", "open_"),
    [
        ({"footing_pressure_psf": 150.0}, ("footing_distance_in", "footing_depth_in")),
        ({"footing_depth_in": 96.0}, ("footing_distance_in", "footing_pressure_psf")),
    ],
)
def test_a_light_or_deep_footing_needs_no_other_figure(changed, open_):
    beside = CLEAR._replace(**changed, **dict.fromkeys(open_, NOT_KNOWN))
    assert tables_usable("timber shoring", beside).value == "yes"


@pytest.mark.parametrize("support", SUPPORTS)
@pytest.mark.parametrize("name", MOST)
def test_a_figure_out_of_its_range_is_an_open_one(support, name):
    for past in (-0.001, MOST[name] * 1.001, math.nan, math.inf, -math.inf):
        beside = ALL_OPEN._replace(**{name: past})
        found = tables_usable(support, beside)
        assert found.value is NOT_KNOWN
        assert "holds from 0" in found.reason
    for end in (0.0, float(MOST[name])):
        assert "holds" not in tables_usable(support, ALL_OPEN._replace(**{name: end})).reason


def test_other_supports_have_no_table():
    for support in ("shield", "none", "sloped"):
        assert tables_usable(support, CLEAR).value is NOT_KNOWN


@pytest.mark.parametrize("support", SUPPORTS)
def test_use_prints_its_answer(support):
    for beside in (CLEAR, *(CLEAR._replace(**changed) for changed in RULED_OUT.values())):
        found = tables_usable(support, beside)
        lines = found.working.lines
        assert lines[-1].result == found.value
        assert all(line.meaning and line.result for line in lines)
        assert not any(line.numbers and not line.formula for line in lines)
        ruled = [line for line in lines[:-1] if line.result == "yes"]
        assert (found.value == "no") == bool(ruled)
        assert all(line.source in lines[-1].numbers for line in ruled)


values = st.sampled_from([NOT_KNOWN, DOES_NOT_APPLY]) | st.floats(allow_nan=True)
besides = st.builds(
    BesidePit, **dict.fromkeys(MOST, values | st.floats(0, 300)),
    whole_depth_held=st.sampled_from(["yes", "no", NOT_KNOWN]),
)  # fmt: skip
WORSE = {
    "footing_distance_in": 0.0, "footing_depth_in": 0.0, "footing_pressure_psf": 1e6,
    "stored_pressure_psf": 1e6, "equipment_load_lb": 1e7, "brace_load_lb": 1e5,
    "pit_depth_in": 720.0, "whole_depth_held": "no",
}  # fmt: skip


@given(st.sampled_from(SUPPORTS), besides, st.sampled_from(sorted(WORSE)))
def test_a_worse_answer_never_makes_the_tables_usable(support, beside, name):
    before = tables_usable(support, beside).value
    after = tables_usable(support, beside._replace(**{name: WORSE[name]})).value
    assert before in ("yes", "no", NOT_KNOWN)
    if before == "no":
        assert after == "no"


@given(st.sampled_from(SUPPORTS), besides, st.sampled_from(BesidePit._fields))
def test_forgetting_an_answer_never_turns_it_round(support, beside, name):
    known = tables_usable(support, beside).value
    forgotten = tables_usable(support, beside._replace(**{name: NOT_KNOWN})).value
    assert forgotten in (known, NOT_KNOWN)


def test_row_on_a_limit():
    ends = (10.0, 15.0, 20.0)
    at = [shoring_tables.row_at(ends, inches) for inches in (0.0, 120.0, 120.001, 240.0)]
    assert at == [0, 0, 1, 2]
    deeper = [
        shoring_tables.row_at(ends, inches, next_at_limit=True) for inches in (120.0, 180.0, 240.0)
    ]
    assert deeper == [1, 2, 2]
