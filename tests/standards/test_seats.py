"""Seats of brackets: bearing, cut, anchors, spanning tube, against published values and solvers."""

import math

import pytest

from survey.engineering import anchors, plain_concrete, seats, spanning_tube
from survey.engineering.anchors import Anchors
from survey.engineering.seats import Bed, Cut, SeatPlate
from survey.engineering.spanning_tube import Tube, TubeLoad

PSI = 144.0
KSI = 144000.0


def line(result, symbol):
    return next(line for line in result.working.lines if line.symbol == symbol)


# Bearing and thickness


def test_table_14_5_6_1_area_needed_is_what_bears_the_load():
    # 0.60 x 0.85 x 2,500 psi x 80 in2 = 102,000 lb, computed from the clause (from memory)
    assert seats.bearing_area_needed(102000.0, 2500 * PSI).value == 80.0
    bed = seats.bed_strength_needed(102000.0, Bed(10.0, 8.0, 1.0, 1.0))
    assert bed.value == pytest.approx(2500 * PSI)
    assert bed.working.lines[-1].result == "360,000 psf"


def test_thickness_needed_in_bending_is_used_to_the_full():
    # Civil Engineering Formulas Eq. 5.121 with L - a = 2 e: M = p e^2 / 2 for each inch of width,
    # p = 20,000 / (10 x 8) = 250 psi, e = 6 in: 4,500 lb-in
    plate = SeatPlate(10.0, 8.0, 6.0, 20.0)
    result = seats.thickness_needed(20000.0, 2500 * PSI, plate)
    assert line(result, "m").result == "4,500 lb-in"
    section = plain_concrete.Section(2500 * PSI, 10.0, result.value)
    assert plain_concrete.bending_use_for(45000.0, section).value == pytest.approx(100.0)


def test_thickness_needed_for_punching_is_used_to_the_full():
    # the footing is cut flush with the wall: nothing reaches out, punching alone counts
    for footing in (60.0, 10.0):  # three sides round the plate; across a narrow footing
        plate = SeatPlate(10.0, 8.0, 0.0, footing)
        needed = seats.thickness_needed(20000.0, 2500 * PSI, plate).value
        around = plain_concrete.Plate(10.0, 8.0, footing, 500.0)
        used = plain_concrete.punching_use(20000.0, 2500 * PSI, needed, around).value
        assert used == pytest.approx(100.0)


@pytest.mark.parametrize(("reach", "depth"), [(6.0, 8.0), (40.0, 4.0)])
def test_depth_for_shear_solves_its_equation(reach, depth):
    pressure, stress = 20000.0 / (10 * depth), 0.60 * 4 / 3 * 50
    plate = SeatPlate(10.0, depth, reach, 60.0)
    found = line(seats.thickness_needed(20000.0, 2500 * PSI, plate), "hv").result
    h = float(found.split()[0])
    assert pressure * min(depth, reach - h) == pytest.approx(stress * h, rel=1e-3)


def test_14_4_3_2_critical_section_under_masonry():
    # seen in a text to an earlier edition: half way from the face of a masonry wall to its middle
    assert seats.plate_overhang(6.0, "brick", 12.0).value == 6.0 + 12.0 / 4
    assert seats.plate_overhang(6.0, "poured concrete", 12.0).value == 6.0


# The cut: common practice, and plane geometry against shapely


def test_common_practice_of_the_cut():
    # common practice of the trade: at least 16 in at the wall; 3/4 in holes 2 in apart, 1 in off
    assert seats.cut_width(10.0).value == 16.0
    holes = seats.holes_to_drill(Cut(16.0, 16.0, 1.001))
    assert holes.value == 9  # along 16 in
    assert "3/4 in" in line(holes, "p, o").meaning
    assert line(holes, "p, o").result == "2 in, 1 in"


@pytest.mark.parametrize("cut", [Cut(16.0, 10.0, 6.0), Cut(24.0, 24.0, 12.0), Cut(20.0, 4.0, 3.0)])
def test_cut_against_shapely(cut):
    shapely = pytest.importorskip("shapely")
    wide, face, out = cut
    trapezoid = shapely.Polygon([(-wide / 2, 0), (wide / 2, 0), (face / 2, out), (-face / 2, out)])
    assert seats.cut_volume(cut, 12.0).value * 144 == pytest.approx(trapezoid.area)
    row = shapely.LineString(
        [(-face / 2, out), (-wide / 2, 1), (wide / 2, 1), (face / 2, out)]
    )  # fmt: skip
    assert seats.holes_to_drill(cut).value == math.ceil(row.length / 2) + 1


# Anchors: ACI 318-19 chapter 17, from memory


@pytest.mark.parametrize(
    ("diameter", "area"),
    # Tensile stress area of UNC threads, ASME B1.1 (the anchor bolt table of the AISC Manual, 7-17)
    [(0.5, 0.142), (0.625, 0.226), (0.75, 0.334), (0.875, 0.462), (1.0, 0.606), (1.25, 0.969)],
)
def test_stressed_area_of_threads(diameter, area):
    row = Anchors(1, diameter, 4.0, 0.0, 120.0, 60.0, 4000 * PSI, 60 * KSI, 1)
    shown = line(anchors.tension_strength(row), "Ase").result
    assert float(shown.split()[0]) == pytest.approx(area, abs=0.0006)


def test_17_6_2_2_1_basic_breakout_in_both_systems_of_units():
    # ACI 318M-19: Nb = 7 sqrt(f'c MPa) hef^1.5 mm, in newtons, beside 17 in pounds and inches;
    # the two rounded coefficients differ by 2 % at most
    row = Anchors(1, 0.5, 4.0, 0.0, 60.0, 60.0, 4000 * PSI, 75 * KSI, 1)
    pounds = float(line(anchors.tension_strength(row), "Nbb").result.split()[0].replace(",", ""))
    newtons = 7 * math.sqrt(4000 * 0.00689476) * (4 * 25.4) ** 1.5
    assert pounds == pytest.approx(17 * math.sqrt(4000) * 8, rel=1e-6)  # 8,601 lb
    assert pounds * 4.448222 == pytest.approx(newtons, rel=0.02)


def test_17_6_2_1_breakout_of_a_group():
    # Far from edges two anchors 3 hef apart carry twice one; touching ones carry one.
    # Category 1 (phi 0.65), steel strong enough not to count: 125,000 psi
    one = Anchors(1, 0.75, 3.0, 0.0, 60.0, 60.0, 2500 * PSI, 125 * KSI, 1)
    alone = anchors.tension_strength(one).value
    assert alone == pytest.approx(0.65 * 17 * 50 * 3**1.5)
    pair = one._replace(in_row=2, spacing_in=9.0)
    assert anchors.tension_strength(pair).value == pytest.approx(2 * alone)
    near = one._replace(in_row=2, spacing_in=4.5)
    assert anchors.tension_strength(near).value == pytest.approx(1.5 * alone)


def test_table_17_5_3_phi_by_category():
    row = Anchors(1, 0.75, 3.0, 0.0, 60.0, 60.0, 2500 * PSI, 125 * KSI, 1)
    found = [anchors.tension_strength(row._replace(category=c)).value for c in (1, 2, 3)]
    assert [x / found[0] for x in found] == pytest.approx([1, 0.55 / 0.65, 0.45 / 0.65])


def pounds(result, symbol):
    return float(line(result, symbol).result.split()[0].replace(",", ""))


# Two 1/2 in anchors 10 in apart, 5 in from top and underside, f'c 2,500 psi, by hand.
# (a) h = min(hef, 5 / 1.5): 850 x h^1.5 x (3 h + 3 h) 3 h / 9 h^2, from 3.333 in on 10,346 lb
# (b) 850 x hef^1.5 x (3 hef + 10) (2 x 5) / (9 hef^2) x (0.7 + 0.3 x 5 / (1.5 hef)):
#     at 4 in 6,800 x 220 / 144 x 0.95; at 6 in 12,492 x 280 / 324 x 0.86667;
#     at 8 in 19,233 x 340 / 576 x 0.825; at 12 in 35,334 x 460 / 1,296 x 0.78333
# at 3 in no edge is near: 850 x 5.19615 x (9 + 9) 9 / 81 = 8,833 lb both ways
@pytest.mark.parametrize(
    ("embedment", "three_edges", "two_edges"),
    [
        (3.0, 8833, 8833), (10 / 3, 10346, 10346), (4.0, 10346, 9869), (6.0, 10346, 9356),
        (8.0, 10346, 9366), (12.0, 10346, 9824),
    ],
)  # fmt: skip
def test_17_6_2_1_2_three_or_more_edges_and_17_6_2_4_1_two(embedment, three_edges, two_edges):
    row = Anchors(2, 0.5, embedment, 10.0, 5.0, 60.0, 2500 * PSI, 125 * KSI, 1)
    result = anchors.tension_strength(row)
    assert pounds(result, "Ncbga") == pytest.approx(three_edges, abs=0.6)
    assert pounds(result, "Ncbgb") == pytest.approx(two_edges, abs=0.6)
    assert result.value == pytest.approx(0.65 * min(three_edges, two_edges), abs=0.6)


def test_17_6_2_1_2_governs_where_one_anchor_is_deep():
    # (a) 850 x 4^1.5 = 6,800; (b) 850 x 12^1.5 x 36 x 12 / 1,296 x (0.7 + 0.3 x 6 / 18) = 9,422 lb
    row = Anchors(1, 0.5, 12.0, 0.0, 6.0, 60.0, 2500 * PSI, 125 * KSI, 1)
    result = anchors.tension_strength(row)
    assert pounds(result, "Ncbga") == pytest.approx(6800, abs=0.6)
    assert pounds(result, "Ncbgb") == pytest.approx(9422, abs=0.6)
    assert result.value == pytest.approx(0.65 * 6800)


def test_17_7_2_2_1_lesser_of_both_breakout_formulas():
    # da 1 1/4 in, le / da = 8: 7 x 8^0.2 x sqrt(1.25) = 11.86 is above 9, so 9 counts
    row = Anchors(1, 1.25, 12.0, 0.0, 20.0, 60.0, 2500 * PSI, 125 * KSI, 1)
    shown = line(anchors.shear_strength(row), "Vb")
    assert shown.numbers.startswith("9 x")
    assert float(shown.result.split()[0].replace(",", "")) == pytest.approx(
        9 * 50 * 20**1.5, rel=1e-6
    )


def test_17_8_interaction():
    row = Anchors(2, 0.5, 3.0, 6.0, 6.0, 16.0, 2500 * PSI, 75 * KSI, 1)
    pull, slide = anchors.tension_strength(row).value, anchors.shear_strength(row).value
    assert anchors.anchor_use(pull, 0.2 * slide, row).value == pytest.approx(100.0)  # 17.8.1
    assert anchors.anchor_use(0.2 * pull, slide, row).value == pytest.approx(100.0)  # 17.8.2
    assert anchors.anchor_use(0.6 * pull, 0.6 * slide, row).value == pytest.approx(100.0)  # 17.8.3
    assert anchors.anchor_use(pull, 0.4 * slide, row).value == pytest.approx(100 * 1.4 / 1.2)


# Spanning tube: AISC 360-16, from memory


@pytest.mark.parametrize(
    ("tube", "area", "inertia", "plastic", "torsion"),
    # AISC Manual Table 1-11 and 1-12, HSS to A500, from memory
    [
        (Tube(4.0, 6.0, 0.25, 46 * KSI), 4.30, 20.9, 8.53, 23.6),
        (Tube(8.0, 8.0, 0.5, 46 * KSI), 13.5, 125.0, 37.5, 204.0),
        (Tube(3.5, 3.5, 0.125, 46 * KSI), 1.54, 2.90, 1.93, 4.58),
    ],
)
def test_section_properties_aisc_manual(tube, area, inertia, plastic, torsion):
    found = spanning_tube.properties(tube)
    assert found.area_in2 == pytest.approx(area, rel=6e-3)
    assert found.inertia_in4 == pytest.approx(inertia, rel=6e-3)
    assert found.modulus_in3 == pytest.approx(plastic, rel=6e-3)
    assert found.torsion_in4 == pytest.approx(torsion, rel=1e-2)


@pytest.mark.parametrize(("b", "h", "wall"), [(4.0, 6.0, 0.25), (8.0, 8.0, 0.5), (8.0, 4.0, 0.375)])
def test_section_properties_against_sectionproperties(b, h, wall):
    library = pytest.importorskip("sectionproperties.pre.library")
    from sectionproperties.analysis import Section

    t = 0.93 * wall
    shape = library.rectangular_hollow_section(d=h, b=b, t=t, r_out=2 * t, n_r=32)
    shape.create_mesh(mesh_sizes=[0.1])
    solved = Section(shape)
    solved.calculate_geometric_properties()
    solved.calculate_plastic_properties()
    level, upright, _ = solved.get_ic()
    found = spanning_tube.properties(Tube(b, h, wall, 46 * KSI))
    # its round corners are polygons of 32 sides
    assert found.area_in2 == pytest.approx(solved.get_area(), rel=3e-4)
    assert found.inertia_in4 == pytest.approx(level, rel=3e-4)
    assert found.upright_inertia_in4 == pytest.approx(upright, rel=3e-4)
    assert found.modulus_in3 == pytest.approx(solved.get_s()[0], rel=3e-4)


def test_aisc_design_example_f_4():
    # Design Examples v14, Example F.4, from memory: HSS 3 1/2 x 3 1/2 x 1/8, Fy 46 ksi, 7.5 ft,
    # 0.145 kip/ft dead (its own weight in it) and 0.435 live: Mu = 6.12 kip-ft, phi Mn = 79.9
    # kip-in (Z = 1.93 in3), b/t = 27.2 against 28.1; live load sag with I = 2.90 in4
    tube = Tube(3.5, 3.5, 0.125, 46 * KSI)
    strength = spanning_tube.bending_strength(tube, 90.0)
    assert strength.value == pytest.approx(79900, rel=6e-3)
    level = strength.working.lines[3].result
    assert level == "27.108, at most 28.121"  # of 0.11625 in, not the rounded 0.116 in
    own = 1.54 * 490 / 144
    load = 1.2 * 145 + 1.6 * 435 - 1.4 * own  # ours adds 1.4 times its own weight
    used = spanning_tube.spanning_tube_use(TubeLoad(load, 0.0, 90.0), tube).value
    assert used == pytest.approx(100 * 6.12 * 12 / 79.9, rel=6e-3)
    sag = spanning_tube.tube_deflection(TubeLoad(435 - own, 0.0, 90.0), tube).value
    assert sag == pytest.approx(5 * 435 / 12 * 90**4 / (384 * 29e6 * 2.90), rel=6e-3)


def test_g4_shear_strength_by_hand():
    # HSS 6 x 4 x 1/4: h = 6 - 3 x 0.233 = 5.30 in, Aw = 2 x 5.30 x 0.233 = 2.47 in2,
    # phi Vn = 0.9 x 0.6 x 46 x 2.47 = 61.4 kip; AISC Manual table value 61.4 kip, from memory
    value = spanning_tube.shear_strength(Tube(4.0, 6.0, 0.25, 46 * KSI), 96.0).value
    assert value == pytest.approx(61400, rel=4e-3)


@pytest.mark.parametrize("plf_point", [(2000.0, 0.0), (0.0, 9000.0), (1200.0, 5000.0)])
def test_moment_shear_and_sag_against_anastruct(plf_point):
    anastruct = pytest.importorskip("anastruct")  # not made for the newest Python yet
    tube, span = Tube(4.0, 6.0, 0.25, 46 * KSI), 96.0
    found = spanning_tube.properties(tube)
    plf, point = plf_point

    def solved(load, at):
        frame = anastruct.SystemElements(EI=29e6 * found.inertia_in4, EA=1e12, mesh=200)
        frame.add_element(location=[[0.0, 0.0], [at, 0.0]])
        frame.add_element(location=[[at, 0.0], [span, 0.0]])
        frame.add_support_hinged(node_id=1)
        frame.add_support_roll(node_id=3)
        frame.q_load(q=-load, element_id=[1, 2])
        frame.point_load(node_id=2, Fy=-point)
        frame.solve()
        results = frame.get_element_results()
        moment = max(abs(r[k]) for r in results for k in ("Mmin", "Mmax"))
        shear = max(abs(r[k]) for r in results for k in ("Qmin", "Qmax"))
        return moment, shear, abs(frame.get_node_displacements(node_id=2)["uy"])

    own = found.area_in2 * 490 / 1728
    use = spanning_tube.spanning_tube_use(TubeLoad(plf, point, span), tube)
    middle, beside = solved(plf / 12 + 1.4 * own, span / 2), solved(plf / 12 + 1.4 * own, 0.001)

    def shown(symbol):
        return float(line(use, symbol).result.split()[0].replace(",", ""))

    assert shown("Mu") == pytest.approx(middle[0], rel=1e-4)
    assert shown("Vu") == pytest.approx(beside[1], rel=1e-4)
    sag = spanning_tube.tube_deflection(TubeLoad(plf, point, span), tube).value
    assert sag == pytest.approx(solved(plf / 12 + own, span / 2)[2], rel=1e-4)


def test_ibc_table_1604_3_limits():
    # L/360 for live and L/240 for total load on floor members, from memory
    load, tube = TubeLoad(1400.0, 0.0, 96.0), Tube(4.0, 6.0, 0.25, 46 * KSI)
    sag = spanning_tube.tube_deflection(load, tube).value
    assert spanning_tube.deflection_use(load, tube, 360.0).value == pytest.approx(
        100 * sag / (96 / 360)
    )
    assert spanning_tube.deflection_use(load, tube, 240.0).value == pytest.approx(
        100 * sag / (96 / 240)
    )
