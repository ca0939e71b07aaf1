"""Bending and shear of footings with bottom bars: ACI 318-19 against textbooks and a solver.

The worked examples and the table of development lengths are quoted from memory.
"""

import math

import pytest

from survey.engineering.reinforced_concrete import (
    BAR_SIZES,
    Bars,
    Section,
    bending_use,
    development_length,
    flexural_strength,
    shear_strength,
)

PSI = 144.0


def bars(size, count, cover, fy=60000.0):
    return Bars(size, count, cover, fy * PSI, 6000.0, "deformed")


def line(result, symbol):
    return [line for line in result.working.lines if line.symbol == symbol][-1]


def test_wight_and_macgregor_example_4_1():
    # Reinforced Concrete: Mechanics and Design, Example 4-1, from memory: b 12 in, d 17.5 in,
    # four No. 8 (3.16 in2), f'c 4,000 psi, fy 60,000 psi: a = 4.65 in, Mn = 240 kip-ft, and the
    # section is tension-controlled (phi 0.90)
    result = flexural_strength(Section(4000 * PSI, 12.0, 20.0), bars("#8", 4, 2.0))
    assert result.value == pytest.approx(0.90 * 240 * 12000, rel=2e-3)
    assert line(result, "a").result == "4.647 in"


def test_nilson_singly_reinforced_example():
    # Design of Concrete Structures, strength of b 10 in, d 23 in, 2.37 in2 (three No. 8), f'c
    # 4,000 psi, fy 60,000 psi, from memory: a = 4.18 in, c = 4.92 in, Mn = 248 kip-ft
    result = flexural_strength(Section(4000 * PSI, 10.0, 25.5), bars("#8", 3, 2.0))
    assert result.value == pytest.approx(0.90 * 248 * 12000, rel=2e-3)
    assert line(result, "a").result == "4.182 in"
    assert line(result, "c").result == "4.92 in"


@pytest.mark.parametrize(
    ("size", "psi", "diameters"),
    # PCA Notes on ACI 318, table of ld / db of bottom bars, grade 60, "other cases", from memory
    [("#4", 3000, 66), ("#6", 3000, 66), ("#8", 3000, 82), ("#6", 4000, 57), ("#8", 4000, 71)],
)
def test_table_25_4_2_3_development_length(size, psi, diameters):
    length = development_length(size, 60000 * PSI, psi * PSI).value
    assert length / BAR_SIZES[size][0] == pytest.approx(diameters, abs=0.51)


def test_25_4_2_1_least_development_length():
    assert development_length("#3", 33000 * PSI, 12000 * PSI).value == 12.0


def test_astm_a615_diameters_are_eighths_and_areas_fit_them():
    for size, (diameter, area) in BAR_SIZES.items():
        assert diameter == int(size[1:]) / 8
        assert area == pytest.approx(math.pi / 4 * diameter**2, abs=0.006)


@pytest.mark.parametrize(
    ("psi", "beta"), [(2500, 0.85), (4000, 0.85), (5000, 0.80), (6000, 0.75), (8000, 0.65)]
)
def test_table_22_2_2_4_3_beta1(psi, beta):
    result = flexural_strength(Section(psi * PSI, 12.0, 20.0), bars("#4", 2, 2.0))
    a, c = (float(line(result, symbol).result.split()[0]) for symbol in ("a", "c"))
    assert a / c == pytest.approx(beta, abs=2e-3)


def test_table_21_2_2_phi():
    # 12 x 8 in, d = 4.5 in: phi falls from 0.90 to 0.65 as bars are added
    section = Section(2500 * PSI, 12.0, 8.0)
    factors = [
        float(line(flexural_strength(section, bars("#6", n, 3.0)), "phi").result)
        for n in (1, 2, 3, 5)
    ]
    assert factors[0] == 0.90
    assert 0.65 < factors[1] < 0.90
    assert factors[2:] == [0.65, 0.65]
    # by hand: two of 0.44 in2, a = 2.071 in, c = 2.436 in, et = 0.003 (4.625 - 2.436) / 2.436
    # = 0.002695, phi = 0.65 + 0.25 (0.002695 - 60/29,000) / 0.003 = 0.702 at d = 4.625 in
    assert factors[1] == pytest.approx(0.7022, abs=1e-3)


def test_table_22_5_5_1_c_shear_without_stirrups():
    # computed from the clause: two No. 4 in 12 in, d 17.75 in: rho 0.001878, lambda_s 0.849
    section = Section(4000 * PSI, 12.0, 20.0)
    size, ratio = math.sqrt(2 / (1 + 17.75 / 10)), 0.40 / (12 * 17.75)
    expected = 0.75 * 8 * size * ratio ** (1 / 3) * math.sqrt(4000) * 12 * 17.75
    assert shear_strength(section, bars("#4", 2, 2.0)).value == pytest.approx(expected)
    # 22.5.5.1.3: no size effect up to d = 10 in
    thin = shear_strength(Section(4000 * PSI, 12.0, 12.0), bars("#4", 1, 1.75))
    assert line(thin, "lambda_s").result == "1"


def test_9_6_3_1_a_beam_without_stirrups_carries_no_more():
    result = shear_strength(Section(4000 * PSI, 12.0, 20.0), bars("#8", 4, 2.0))
    assert result.value == pytest.approx(0.75 * math.sqrt(4000) * 12 * 17.5)


def test_9_6_1_3_a_third_more_steel_than_needed():
    # What carries Mu with exactly As = 3/4 of the bars there is used to 100 %. Mn is that of
    # the Nilson section with 3/4 of 2.37 in2: a = 3.136 in.
    strength = 0.90 * 0.75 * 2.37 * 60000 * (23.0 - 0.75 * 2.37 * 60000 / 34000 / 2)
    use = bending_use(strength, Section(4000 * PSI, 10.0, 25.5), bars("#8", 3, 2.0), "underside")
    assert use.value == pytest.approx(100.0)


SECTIONS = [
    (12.0, 20.0, 2.0, "#8", 4, 4000.0, 60000.0),
    (14.0, 10.0, 3.0, "#4", 2, 2500.0, 60000.0),
    (20.0, 12.0, 3.0, "#5", 3, 3000.0, 40000.0),
    (16.0, 8.0, 3.0, "#8", 6, 2500.0, 60000.0),  # the bars do not yield
    (12.0, 16.0, 2.0, "#7", 4, 6000.0, 60000.0),
    (24.0, 10.0, 3.0, "#4", 3, 2500.0, 33000.0),
]


@pytest.mark.parametrize("section", SECTIONS)
def test_against_concreteproperties(section):
    """Nominal strength by a general section solver with the same rectangular block.

    It leaves the concrete that the bars displace out of the section; that lies in tension here.
    """
    b, h, cover, size, count, psi, fy = section
    materials = pytest.importorskip("concreteproperties.material")
    profiles = pytest.importorskip("concreteproperties.stress_strain_profile")
    from concreteproperties.concrete_section import ConcreteSection
    from concreteproperties.pre import add_bar
    from sectionproperties.pre.library import rectangular_section

    beta = 0.85 if psi <= 4000 else max(0.65, 0.85 - 0.05 * (psi - 4000) / 1000)
    concrete = materials.Concrete(
        name="concrete", density=0.0868, flexural_tensile_strength=0.0, colour="lightgrey",
        stress_strain_profile=profiles.ConcreteLinear(elastic_modulus=57000 * math.sqrt(psi)),
        ultimate_stress_strain_profile=profiles.RectangularStressBlock(
            compressive_strength=psi, alpha=0.85, gamma=beta, ultimate_strain=0.003,
        ),
    )  # fmt: skip
    steel = materials.SteelBar(
        name="steel", density=0.2836, colour="grey",
        stress_strain_profile=profiles.SteelElasticPlastic(
            yield_strength=fy, elastic_modulus=29e6, fracture_strain=0.5,
        ),
    )  # fmt: skip
    diameter, area = BAR_SIZES[size]
    geometry = rectangular_section(d=h, b=b, material=concrete)
    for place in range(count):
        geometry = add_bar(
            geometry=geometry, area=area, material=steel, x=b * (place + 1) / (count + 1),
            y=cover + diameter / 2, n=12,
        )  # fmt: skip
    solved = ConcreteSection(geometry).ultimate_bending_capacity()

    ours = flexural_strength(Section(psi * PSI, b, h), bars(size, count, cover, fy))
    phi = float(line(ours, "phi").result)
    assert ours.value / phi == pytest.approx(float(solved.m_x), rel=1e-3)
    axis = float(line(ours, "c").result.split()[0])
    assert axis == pytest.approx(float(solved.d_n), rel=2e-3)
