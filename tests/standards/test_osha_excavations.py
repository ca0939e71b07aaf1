"""29 CFR 1926 Subpart P (Excavations), with Appendices A and B.

Wording of the classes and the limits of depth as confirmed in the regulation text; the fraction
3/4 of Table B-1 is blank in the stored text and is taken from a printed restatement.
"""

import pytest

from survey.engineering.pit import SPOIL_SETBACK_IN, spoil_shortfall, steepest_slope
from survey.engineering.soil import FieldTests, Layer, layer_soil_class, pit_soil_class
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN

TSF = 2000.0  # psf
GREAT_EFFORT = "indented only with great effort"


def found_in(group, strength=DOES_NOT_APPLY, thumb=DOES_NOT_APPLY, **found):
    answers = {
        "fissured": "no", "ground_vibrated": "no", "dug_before": "no", "layer_seeps": "no",
        "dip_into_pit": "no layers", **found,
    }  # fmt: skip
    return FieldTests(group, strength, thumb, **answers)


def class_of(*found, **more):
    return layer_soil_class(found_in(*found, **more)).value


@pytest.mark.parametrize(
    ("tsf", "expected"),
    [(1.5, "A"), (1.499, "B"), (1.0, "B"), (0.501, "B"), (0.5, "C"), (0.0, "C"), (20.0, "A")],
)
def test_appendix_a_b_cohesive_soil_by_unconfined_strength(tsf, expected):
    assert class_of("clay", tsf * TSF) == expected


@pytest.mark.parametrize(
    ("thumb", "expected"),
    [(GREAT_EFFORT, "A"), ("indented with effort", "B"), ("easily pushed in", "C")],
)
def test_appendix_a_d_2_iii_thumb_test(thumb, expected):
    assert class_of("silty clay", DOES_NOT_APPLY, thumb) == expected


def test_appendix_a_c_2_the_worse_of_two_hand_tests_counts():
    assert class_of("clay", 2 * TSF, "easily pushed in") == "C"
    assert class_of("clay", 0.4 * TSF, GREAT_EFFORT) == "C"


@pytest.mark.parametrize(
    ("group", "expected"),
    [
        ("stable rock", "stable rock"), ("cemented soil", "A"),  # Type A
        ("angular gravel", "B"), ("silt", "B"), ("silt loam", "B"), ("sandy loam", "B"),  # B (ii)
        ("dry unstable rock", "B"),  # Type B (v)
        ("gravel", "C"), ("sand", "C"), ("loamy sand", "C"),  # Type C (ii)
    ],
)  # fmt: skip
def test_appendix_a_b_ground_classed_by_its_group(group, expected):
    assert class_of(group) == expected


@pytest.mark.parametrize("found", ["fissured", "ground_vibrated", "dug_before"])
def test_appendix_a_b_type_a_i_to_iii_never_a(found):
    assert class_of("clay", 2 * TSF, GREAT_EFFORT, **{found: "yes"}) == "B"
    assert class_of("cemented soil", **{found: "yes"}) == "B"


@pytest.mark.parametrize("found", ["fissured", "ground_vibrated", "dug_before"])
def test_appendix_a_b_type_b_iii_c_stays_c(found):
    assert class_of("sand", **{found: "yes"}) == "C"
    assert class_of("silt", **{found: "yes"}) == "B"


def test_appendix_a_b_fill_is_previously_disturbed():
    assert class_of("fill", 2 * TSF, GREAT_EFFORT) == "B"
    assert class_of("fill", 0.5 * TSF, NOT_KNOWN) == "C"
    assert class_of("fill", NOT_KNOWN, NOT_KNOWN) is NOT_KNOWN


@pytest.mark.parametrize("group", ["clay", "cemented soil", "stable rock", "dry unstable rock"])
def test_appendix_a_b_type_c_iii_iv_submerged_or_seeping(group):
    assert class_of(group, 2 * TSF, GREAT_EFFORT, layer_seeps="yes") == "C"


@pytest.mark.parametrize("group", ["clay", "cemented soil", "stable rock", "silt"])
def test_appendix_a_b_type_c_v_dip_of_4h_1v_or_steeper(group):
    assert class_of(group, 2 * TSF, GREAT_EFFORT, dip_into_pit="4H:1V or steeper") == "C"


def test_appendix_a_b_type_b_vi_less_steep_dip_stays_as_otherwise():
    assert class_of("silt", dip_into_pit="less than 4H:1V") == "B"
    assert class_of("sand", dip_into_pit="less than 4H:1V") == "C"


def test_appendix_a_c_4_the_weakest_layer_counts():
    layers = [Layer("1", 0.0, 36.0, ("A",)), Layer("2", 36.0, 120.0, ("B",))]
    assert pit_soil_class(60.0, layers, True).value == "B"
    assert pit_soil_class(36.0, layers, True).value == "A"


@pytest.mark.parametrize(
    ("soil_class", "slope"), [("stable rock", 0.0), ("A", 0.75), ("B", 1.0), ("C", 1.5)]
)
@pytest.mark.parametrize("depth_in", [1.0, 60.0, 240.0])
def test_appendix_b_table_b_1(soil_class, slope, depth_in):
    assert steepest_slope(soil_class, depth_in).value == slope


def test_appendix_b_table_b_1_ends_at_20_ft():
    found = steepest_slope("B", 240.01)
    assert found.value is NOT_KNOWN
    assert "240.01 in" in found.reason
    assert "0 in to 240 in" in found.reason


def test_1926_651_j_2_set_back_of_2_ft():
    assert SPOIL_SETBACK_IN == 24.0
    assert spoil_shortfall(24.0).value == 0.0
    assert spoil_shortfall(23.0).value == 1.0
