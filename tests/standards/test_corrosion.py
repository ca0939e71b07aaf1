"""Corrosive ground and loss of bare steel: FHWA and AASHTO limits, AC358, measured rates."""

import pytest

from survey.engineering.corrosion import (
    MILD,
    corrosion_study_needed,
    ground_aggressiveness,
    loss_of_face,
    thickness_left,
)

UM = 25_400.0  # um in an inch


@pytest.mark.parametrize(
    ("tests", "expected"),
    [
        # FHWA-NHI-09-087: at least 3,000 ohm-cm, pH 5 to 10, at most 100 and 200 ppm
        ((3000.0, 5.0, 100.0, 200.0), "mildly aggressive"),
        ((3000.0, 10.0, 0.0, 0.0), "mildly aggressive"),
        ((2999.0, 7.0, 50.0, 50.0), "aggressive"),  # AASHTO T 288
        ((5000.0, 4.9, 50.0, 50.0), "aggressive"),  # AASHTO T 289
        ((5000.0, 10.1, 50.0, 50.0), "aggressive"),
        ((5000.0, 7.0, 101.0, 50.0), "aggressive"),  # AASHTO T 291
        ((5000.0, 7.0, 50.0, 201.0), "aggressive"),  # AASHTO T 290
    ],
)
def test_fhwa_nhi_09_087_limits(tests, expected):
    assert ground_aggressiveness(*tests).value == expected


@pytest.mark.parametrize(
    ("resistivity", "ph"),
    # Decker, Rollins and Ellsworth 2008, ASCE JGGE 134(3):341, citing Peabody 1967: fine-grained
    # ground is more corrosive under 1,000 to 3,000 ohm-cm and outside pH 5 to 10.5.
    [(999.0, 7.0), (2999.0, 7.0), (5000.0, 4.9), (5000.0, 10.6)],
)
def test_what_peabody_calls_more_corrosive_is_aggressive(resistivity, ph):
    assert ground_aggressiveness(resistivity, ph, 0.0, 0.0).value == "aggressive"


@pytest.mark.parametrize(
    ("tests", "more", "expected"),
    [
        ((1000.0, 5.5, 1000.0), {}, "no"),
        ((999.0, 7.0, 0.0), {}, "yes"),
        ((5000.0, 5.4, 0.0), {}, "yes"),
        ((5000.0, 7.0, 1001.0), {}, "yes"),
        ((5000.0, 7.0, 0.0), {"organic_ground": "yes"}, "yes"),
        ((5000.0, 7.0, 0.0), {"landfill": "yes"}, "yes"),
        ((5000.0, 7.0, 0.0), {"mine_waste": "yes"}, "yes"),
    ],
)
def test_ac358_ground_that_an_engineer_must_look_at(tests, more, expected):
    # ICC-ES AC358, from memory, clause uncertain.
    ground = {"organic_ground": "no", "landfill": "no", "mine_waste": "no", **more}
    assert corrosion_study_needed(*tests, **ground).value == expected


def test_ac358_0_036_in_in_50_years():
    # ICC-ES AC358 3.9, bare steel, 50 years: 0.036 in; from memory.
    assert loss_of_face(50.0, MILD).value == pytest.approx(0.036, abs=0.0005)


@pytest.mark.parametrize("years", [34.0, 36.0, 38.0])
def test_loss_covers_what_was_measured_on_steel_piles_in_natural_ground(years):
    # Decker, Rollins and Ellsworth 2008: piles of 34 to 38 years, native soil, 2 to 9 um a year
    # on average, 19 um at most.
    rate = loss_of_face(years, MILD).value * UM / years
    assert 19 <= rate < 25


def test_loss_does_not_hold_where_chloride_is_high():
    # The same paper: up to 48 um a year at abutments of very high chloride, over twice the
    # formula. So the formula is refused in aggressive ground.
    assert loss_of_face(36.0, MILD).value * UM / 36 < 48 / 2
    salty = ground_aggressiveness(5000.0, 7.0, 5000.0, 0.0).value
    assert not loss_of_face(36.0, salty).known


def test_wall_left_by_hand():
    # 0.93 x 0.300 = 0.279 in; 40 x 50^0.8 = 914.6 um = 0.0360 in from each face
    assert thickness_left(0.3, 50.0, MILD).value == pytest.approx(0.279 - 2 * 914.6 / UM, abs=1e-5)
