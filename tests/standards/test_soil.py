"""Soil: 29 CFR 1926 Subpart P App. A, Terzaghi and Peck, and published tables of soil.

Rows marked "from memory" were not seen in print while this was written.
"""

import pytest

from survey.engineering.soil import FieldTests, Layer, layer_soil_class, pit_soil_class
from survey.engineering.soil_fallback import estimated_soil_class
from survey.engineering.soil_properties import (
    CONSISTENCIES,
    DENSITIES,
    USCS,
    consistency_by_blows,
    density_by_blows,
    permeability,
    unit_weight,
)
from survey.engineering.soil_strength import (
    unconfined_strength_from_penetrometer,
    unconfined_strength_from_vane,
)
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN

TSF = 2000.0  # psf
KPA = 1000 / 47.88025898  # psf
PCF = 1 / 0.157087464  # of one kN/m3
SOUND = FieldTests(
    "clay", 2 * TSF, DOES_NOT_APPLY, "no", "no", "no", "no", "no layers",
)  # fmt: skip


def class_of(**found):
    return layer_soil_class(SOUND._replace(**found)).value


# 29 CFR 1926 Subpart P App. A (b), as confirmed in the regulation text.


def test_type_a_1_5_tsf_or_greater():
    assert class_of(unconfined_strength_psf=1.5 * TSF) == "A"
    assert class_of(unconfined_strength_psf=1.49 * TSF) == "B"


@pytest.mark.parametrize("group", ["clay", "silty clay", "sandy clay", "clay loam"])
def test_type_a_names_these_cohesive_soils(group):
    assert class_of(soil_group=group) == "A"


@pytest.mark.parametrize(
    ("found", "expected"),
    [
        ({"fissured": "yes"}, "B"),  # Type A (i), B (iv)
        ({"ground_vibrated": "yes"}, "B"),  # Type A (ii), B (iv)
        ({"dug_before": "yes"}, "B"),  # Type A (iii), B (iii)
        ({"dip_into_pit": "4H:1V or steeper"}, "C"),  # Type A (iv), C (v)
        ({"layer_seeps": "yes"}, "C"),  # Type C (iii)
        ({"unconfined_strength_psf": 1.0 * TSF}, "B"),  # Type B (i)
        ({"soil_group": "angular gravel"}, "B"),  # Type B (ii)
        ({"soil_group": "dry unstable rock"}, "B"),  # Type B (v)
        ({"unconfined_strength_psf": 0.5 * TSF}, "C"),  # Type C (i)
        ({"soil_group": "loamy sand"}, "C"),  # Type C (ii)
        ({"soil_group": "dry unstable rock", "layer_seeps": "yes"}, "C"),  # Type C (iv)
        ({"soil_group": "cemented soil"}, "A"),  # Type A, caliche and hardpan
        ({"soil_group": "cemented soil", "ground_vibrated": "yes"}, "B"),  # Type B (iv)
    ],
)
def test_each_clause_lowers_an_a(found, expected):
    assert class_of(**found) == expected


def test_type_b_iii_disturbed_soil_that_would_otherwise_be_c_stays_c():
    assert class_of(unconfined_strength_psf=0.5 * TSF, dug_before="yes") == "C"
    assert class_of(soil_group="sand", dug_before="yes") == "C"


def test_type_b_vi_only_what_would_otherwise_be_b():
    dipping = {"dip_into_pit": "flatter than 4H:1V"}
    assert class_of(unconfined_strength_psf=1.0 * TSF, **dipping) == "B"
    assert class_of(unconfined_strength_psf=0.5 * TSF, **dipping) == "C"
    # Type A (iv) bars 4H:1V or greater and nothing less; so by the letter an A stays one.
    assert class_of(**dipping) == "A"


def test_c_4_the_weakest_layer_and_c_iii_the_water():
    firm = [Layer("1", 0.0, 48.0, ("A",)), Layer("2", 48.0, 120.0, ("B",))]
    assert pit_soil_class(60.0, firm, True).value == "B"
    assert pit_soil_class(60.0, firm, True, water_above_floor="yes").value == "C"
    assert pit_soil_class(60.0, firm, True, water_above_floor="no").value == "B"


# App. A (d)(2)(iv): pocket penetrometer and shear vane


def test_vane_of_0_75_tsf_is_soil_of_1_5_tsf_and_of_0_25_tsf_is_soil_of_0_5_tsf():
    # qu = 2 su: the two limits of App. A (b) as a vane reads them.
    for shear, expected in ((0.75, "A"), (0.749, "B"), (0.251, "B"), (0.25, "C")):
        strength = unconfined_strength_from_vane(shear * TSF).value
        assert class_of(unconfined_strength_psf=strength) == expected


def test_penetrometer_foot_of_1_in_divides_by_16():
    # Common practice: a foot of 1 in has 16 times the area of the plunger of 1/4 in.
    assert unconfined_strength_from_penetrometer(4 * TSF, 1.0).value == 0.25 * TSF
    assert unconfined_strength_from_penetrometer(1.5 * TSF).value == 1.5 * TSF


# Terzaghi and Peck, Soil Mechanics in Engineering Practice, 2nd ed. 1967

TERZAGHI_PECK_KPA = [  # greatest N, name, least and greatest qu in kPa
    (2, "very soft", 0, 25), (4, "soft", 25, 50), (8, "medium", 50, 100),
    (15, "stiff", 100, 200), (30, "very stiff", 200, 400), (100, "hard", 400, None),
]  # fmt: skip


@pytest.mark.parametrize(("most", "name", "least_kpa", "most_kpa"), TERZAGHI_PECK_KPA)
def test_terzaghi_and_peck_consistency(most, name, least_kpa, most_kpa):
    step = consistency_by_blows(most)
    assert (step.name, step.blows.high) == (name, most)
    # The metric table rounds 1 tsf = 95.8 kPa up to 100 kPa.
    assert step.strength_psf.low == pytest.approx(least_kpa * KPA, rel=0.05)
    if most_kpa is not None:
        assert step.strength_psf.high == pytest.approx(most_kpa * KPA, rel=0.05)


def test_consistency_and_density_as_a_reference_library_has_them():
    spt = pytest.importorskip("groundhog.siteinvestigation.insitutests.spt_correlations")
    for tenths in range(601):
        n = tenths / 10
        clay = spt.undrainedshearstrengthclass_spt_terzaghipeck(n)
        sand = spt.relativedensityclass_spt_terzaghipeck(n)
        assert consistency_by_blows(n).name == clay["Consistency class"].lower()
        assert density_by_blows(n).name == sand["Dr class"].lower()


def test_friction_angle_by_blow_count_against_the_curve_of_peck_hanson_and_thornburn():
    spt = pytest.importorskip("groundhog.siteinvestigation.insitutests.spt_correlations")
    # Wolff (1989) fitted the chart from which the steps were read, 28, 30, 36 and 41 degrees.
    for step in DENSITIES[:-1]:
        fitted = spt.frictionangle_spt_PHT(step.blows.high)["Phi [deg]"]
        assert step.friction_deg.high == pytest.approx(fitted, abs=0.5)


# Dam-engineering textbook, Table 2.3, seen: permeability and saturated unit weight


@pytest.mark.parametrize(
    ("group", "low", "high"),
    [("gravel", 1e-2, 1e-1), ("sand", 1e-5, 1e-2), ("silt", 1e-6, 1e-4), ("clay", 1e-8, 1e-8)],
)
def test_permeability_holds_the_published_span(group, low, high):
    found = permeability(group)
    assert found.low <= low
    assert high <= found.high


@pytest.mark.parametrize(("group", "low", "high"), [("sand", 17, 22), ("clay", 15, 21)])
def test_unit_weight_holds_the_published_saturated_span(group, low, high):
    found = unit_weight(group)
    assert found.low <= low * PCF
    assert found.high >= high * PCF - 0.5  # printed to the whole pcf


@pytest.mark.parametrize(
    ("group", "pcf"),
    # ASCE 7 Table C3.1-2, from memory: silt moist and packed; sand and gravel dry and loose,
    # dry and packed, wet; clay and gravel, dry.
    [("silt", 96), ("sand", 100), ("sand", 110), ("gravel", 120), ("fill", 100)],
)
def test_unit_weight_holds_asce_7_dead_loads_of_earth(group, pcf):
    found = unit_weight(group)
    assert found.low <= pcf <= found.high


@pytest.mark.parametrize(
    ("symbol", "degrees"),
    # NAVFAC DM 7.02 Table 1, compacted soils, effective friction angle, from memory.
    [("GW", 38), ("GP", 37), ("GM", 34), ("GC", 31), ("SW", 38), ("SP", 37), ("SM", 34),
     ("SC", 31), ("ML", 32), ("CL", 28), ("MH", 25), ("CH", 19)],
)  # fmt: skip
def test_friction_angle_holds_that_of_compacted_soils(symbol, degrees):
    angle = USCS[symbol].friction_deg
    assert angle.low <= degrees <= angle.high


def test_astm_d2487_group_symbols():
    expected = "GW GP GM GC SW SP SM SC ML CL OL MH CH OH PT"
    assert " ".join(USCS) == expected


# What a log suggests, against what App. A says of the same ground


@pytest.mark.parametrize("step", CONSISTENCIES)
def test_a_log_never_suggests_better_than_the_appendix_gives_that_strength(step):
    by_log = estimated_soil_class("CL", NOT_KNOWN, step.name, "no", "no").value
    tested = class_of(unconfined_strength_psf=step.strength_psf.low)
    assert by_log == max(tested, "B")
