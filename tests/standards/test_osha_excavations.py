"""29 CFR 1926 Subpart P (Excavations), with Appendices A and B.

Wording of the classes and the limits of depth as confirmed in the regulation text; the fraction
3/4 of Table B-1 is blank in the stored text and is taken from a printed restatement.
"""

import pytest

from survey.engineering.soil import FieldTests, Layer, layer_soil_class, pit_soil_class
from survey.facts import gather
from survey.quantities import work_out
from survey.rulebook.book import load_book
from survey.rulebook.direct import DirectEvaluator
from survey.rulebook.judgement import Truth
from survey.vocabulary import DOES_NOT_APPLY, Kind, Subject, steps
from tests.units.engineering.sites import UNTESTED, survey

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


def test_fill_of_unknown_make_up_is_c():
    # Common practice, not in the appendix: nobody can class what nobody knows.
    assert class_of("fill") == "C"
    assert class_of("fill", 2 * TSF, GREAT_EFFORT) == "C"


@pytest.mark.parametrize("group", ["clay", "cemented soil", "stable rock", "dry unstable rock"])
def test_appendix_a_b_type_c_iii_iv_submerged_or_seeping(group):
    assert class_of(group, 2 * TSF, GREAT_EFFORT, layer_seeps="yes") == "C"


@pytest.mark.parametrize("group", ["clay", "cemented soil", "stable rock", "silt"])
def test_appendix_a_b_type_c_v_dip_of_4h_1v_or_steeper(group):
    assert class_of(group, 2 * TSF, GREAT_EFFORT, dip_into_pit="4H:1V or steeper") == "C"


def test_appendix_a_b_type_b_vi_less_steep_dip_stays_as_otherwise():
    assert class_of("silt", dip_into_pit="flatter than 4H:1V") == "B"
    assert class_of("sand", dip_into_pit="flatter than 4H:1V") == "C"


def test_appendix_a_c_4_the_weakest_layer_counts():
    layers = [Layer("1", 0.0, 36.0, ("A",)), Layer("2", 36.0, 120.0, ("B",))]
    assert pit_soil_class(60.0, layers, True).value == "B"
    assert pit_soil_class(36.0, layers, True).value == "A"


# The rules that ship, on a site worked out from its answers

BOOK = load_book()
CLAY = {"clay": {}}  # type B, as the usual site has it
SAND = {"sand": {"soil_group": "sand", **UNTESTED}}  # type C
STIFF = {"stiff": {"unconfined_strength": 2, "thumb_test": GREAT_EFFORT}}  # type A by its tests


def judged(code, *, layers=CLAY, **pier):
    """What a rule tells of the one pier of a dry site without signs of cave-in."""
    usual = {"cave_in_signs": "no", "seepage_at_pit": "no", "ladder_in_pit": "yes"}
    known = {"soil_classified_by_competent_person": "yes", "frost": "none expected"}
    dug = {**usual, "backfill_beside_pit": "no", **pier}
    site = survey(site=known, piers={"P1": dug}, layers=layers)
    facts = gather(site, work_out(site))
    rule = next(rule for rule in BOOK if rule.code == code)
    (thing,) = facts.of(Subject.PIER)
    return DirectEvaluator(BOOK, facts).truth(rule, thing)


@pytest.mark.parametrize(
    ("name", "kind", "figure"),
    [
        ("protection depth", Kind.LENGTH, 5 * 12),  # 1926.652(a)(1)(ii)
        ("design depth", Kind.LENGTH, 20 * 12),  # App. F
        ("steepest slope in type B", Kind.SLOPE, 1.0),  # App. B Table B-1
        ("steepest slope in type C", Kind.SLOPE, 1.5),  # App. B Table B-1
        ("spoil set-back", Kind.LENGTH, 2 * 12),  # 1926.651(j)(2)
        ("ladder depth", Kind.LENGTH, 4 * 12),  # 1926.651(c)(2)
        ("way to ladder", Kind.LENGTH, 25 * 12),  # 1926.651(c)(2)
    ],
)
def test_subpart_p_legal_limits_of_the_book(name, kind, figure):
    assert BOOK.limits[name].legal
    assert BOOK.limits[name].steps == steps(kind, figure)


@pytest.mark.parametrize(("depth", "truth"), [("5 ft", Truth.TRUE), ("4 ft 11 in", Truth.FALSE)])
def test_1926_652_a_1_ii_protection_from_5_ft(depth, truth):
    assert judged("DIG-2", pit_depth=depth) is truth
    assert judged("DIG-1", pit_depth=depth, side_protection="none", slope_of_sides=None) is truth


@pytest.mark.parametrize(
    ("layers", "slope", "truth"),
    [
        (CLAY, 0.9999, Truth.TRUE), (CLAY, 1.0, Truth.FALSE),
        (SAND, 1.4999, Truth.TRUE), (SAND, 1.5, Truth.FALSE),
        # The ground beside a footing was dug before, so 3/4H:1V of type A is never enough.
        (STIFF, 0.75, Truth.TRUE), (STIFF, 1.0, Truth.FALSE),
    ],
)  # fmt: skip
def test_appendix_b_table_b_1_slopes(layers, slope, truth):
    assert judged("DIG-5", layers=layers, slope_of_sides=slope) is truth


@pytest.mark.parametrize(("depth", "truth"), [("20 ft", Truth.FALSE), ("20 ft 1 in", Truth.TRUE)])
def test_appendix_f_an_engineer_beyond_20_ft(depth, truth):
    assert judged("DIG-14", pit_depth=depth) is truth


@pytest.mark.parametrize(("spoil", "truth"), [("1 ft 11.999 in", Truth.TRUE), (2, Truth.FALSE)])
def test_1926_651_j_2_set_back_of_2_ft(spoil, truth):
    assert judged("DIG-15", spoil_distance=spoil) is truth


@pytest.mark.parametrize(("depth", "truth"), [("4 ft", Truth.TRUE), ("3 ft 11 in", Truth.FALSE)])
def test_1926_651_c_2_ladder_from_4_ft(depth, truth):
    assert judged("DIG-16", pit_depth=depth, ladder_in_pit="no") is truth
    assert judged("DIG-17", pit_depth=depth, distance_to_ladder="25 ft 1 in") is truth
    assert judged("DIG-17", pit_depth=depth, distance_to_ladder="25 ft") is Truth.FALSE
