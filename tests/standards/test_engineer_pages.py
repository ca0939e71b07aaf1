"""What the engineer's pages print, against published worked examples and tables."""

from __future__ import annotations

import re

import pytest

from survey.assessment import assess
from survey.sheets.engineer import render_engineer
from tests.demo_surveys import careful_house, survey_of
from tests.figure_books import book_of
from tests.pages import Page


def calculation(word, clause, case, *, site=None, pier=None, layer=None):
    """The printed calculation of a word for the first pier of the careful house, changed."""
    document = careful_house()
    document["site"].update(site or {})
    for one in document["piers"]:
        one.update(pier or {})
    for one in document["soil_layers"]:
        one.update(layer or {})
    book = book_of({word: (clause, case)})
    text = render_engineer(assess(survey_of(document, "published"), (), book))
    section = next(
        part for part in text.split('<section class="method"') if re.search(rf"\d\. {word}", part)
    )
    return " ".join(Page("<section" + section.partition("</section>")[0] + "</section>")
                    .sections[""].split())  # fmt: skip


def test_aisc_e3_verification_example_pipe_10_x_0_25():
    # AISC 360-16 E3, verification example of a public design program, check-values section 9: pipe
    # of 10 in x 0.25 in, 60 in long, Fy 50 ksi: A 7.66 in2, r 3.448 in, KL/r 17.40, Fcr 48.91 ksi,
    # Pn 374.5 kips. The wall that counts is 0.93 of the nominal one; firm ground holds
    # 5 ft below the pit, which ends 0.001 in below the bracket.
    text = calculation(
        "tube use while driving", "is at least 0 %", "1 %",
        site={
            "tube_outside_diameter": "10 in", "tube_wall_thickness": f"{0.25 / 0.93:.7f} in",
            "tube_yield_strength": "50000 psi",
        },
        pier={"pit_depth": "48.001 in"},
    )  # fmt: skip
    assert "D0 outside diameter of the tube 10 in" in text
    assert "Fy yield strength 50,000 psi" in text
    assert "L unsupported length o + f 0.001 + 60 60.001 in" in text
    area = re.search(r"A area pi \(D - t\) t ([\d. x()-]+) ([\d.]+) in2", text)
    assert area[1] == "3.14159 x (10 - 0.25) x 0.25"
    assert float(area[2]) == pytest.approx(7.66, abs=0.005)
    radius = re.search(r"r radius of gyration sqrt\(I / A\) \S+ / \S+ ([\d.]+) in ", text)
    assert float(radius[1]) == pytest.approx(3.448, abs=0.0015)
    slender = re.search(
        r"KL/r slenderness, at most 200 K L / r 1 x 60.001 / [\d.]+ ([\d.]+) ", text
    )
    assert float(slender[1]) == pytest.approx(17.40, abs=0.005)
    stress = re.search(r"Fcr critical stress.*? x 50,000 ([\d,.]+) psi", text)
    psi = float(stress[1].replace(",", ""))
    assert psi == pytest.approx(48_910, abs=5)
    load = re.search(r"Pn/O load it may take by buckling .*? / 1\.67 ([\d,.]+) lb", text)
    assert float(load[1].replace(",", "")) * 1.67 == pytest.approx(374_500, abs=50)


def test_ac358_bare_steel_loses_0_036_in_in_50_years():
    # ICC-ES AC358 3.9, bare steel, td = 40 t^0.80 um, from memory; check-values section 8: 0.036 in
    # in 50 years.
    text = calculation("tube thickness left", "is at least 0 in", "0.1 in")
    assert "t design life 50 years" in text
    assert "td loss of each face 40 t^0.80 40 x 50^0.80 914.61 um" in text
    assert "td / 25,400 914.61 / 25,400 0.036 in" in text
    assert "ICC-ES AC358 3.9, bare steel, from memory" in text


@pytest.mark.parametrize(
    ("seeps", "tested", "slope"), [("no", "B", "1H:1V"), ("yes", "C", "1.5H:1V")]
)
def test_table_b_1_steepest_slope(seeps, tested, slope):
    # 29 CFR 1926 Subpart P App. B Table B-1: type B 1:1, type C 1-1/2:1, pits up to 20 ft. Clay
    # that was dug before is B, and C where water seeps from it: App. A (b), B (iii), C (iii).
    text = calculation(
        "steepest slope by appendix", "is at least 0.5H:1V", "1H:1V", layer={"layer_seeps": seeps}
    )
    assert f"soil class {tested}" in text
    assert f"m0 maximum allowable slope {slope} 29 CFR 1926 Subpart P App. B Table B-1" in text
    assert f"Result: {slope}" in text
    assert "Holds for: pits up to 20 ft deep" in text
