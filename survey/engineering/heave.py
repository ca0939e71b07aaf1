"""Whether water or soft ground breaks up through the floor of a pit.

Each figure is a use: demand over resistance, in percent; 100 % is failure with nothing in
reserve. What reserve there must be is the rules' matter.
"""

from __future__ import annotations

from typing import NamedTuple

from survey.engineering._steps import inches, kept, noted, number, outside
from survey.engineering.working import Line, Result, Working, not_known
from survey.vocabulary import DOES_NOT_APPLY

_WATER_PCF = 62.4
_LIGHTEST_PCF, _HEAVIEST_PCF = 65.0, 190.0  # peat to solid rock
_DEEPEST_IN = 1800.0
_BASE_BEARING = 5.7  # Terzaghi 1943
_SHEAR_WIDTH = 0.7  # B / sqrt(2), Terzaghi 1943
_SURFACE_BEARING = 5.0  # Skempton 1951
_MOST_DEPTH_RATIO = 2.0  # beyond it the formula rises over Skempton's own curves

_WATER = "water 62.4 pcf"
_GRADIENT = "ic = (gamma_sat - gamma_w) / gamma_w, Terzaghi; the same as (Gs - 1) / (1 + e)"
_PLUG = "weight against water pressure, textbook, from memory; no friction at the sides counted"
_TERZAGHI = "Terzaghi 1943: 5.7 su; shear on H over 0.7 B, from memory"
_BJERRUM = "Bjerrum and Eide 1956, Nc by Skempton 1951, from memory"
_PECK = "Peck 1969, from memory: below 4 little movement, 6 critical, above 7 to 8 failure"


def critical_gradient(saturated_weight_pcf: float) -> Result:
    """Upward gradient at which water carries cohesionless ground away.

    ic = (gamma_sat - gamma_w) / gamma_w, gamma_w = 62.4 pcf.

    Args:
        saturated_weight_pcf: gamma_sat, the least that the ground may have, pcf, 65 to 190.

    Returns:
        Gradient, without a unit.

    Not known when:
        The unit weight is out of its range; lighter ground floats.

    Source:
        Terzaghi; with gamma_sat = (Gs + e) / (1 + e) gamma_w it is (Gs - 1) / (1 + e).

    >>> round(critical_gradient(124.8).value, 3)
    1.0
    """
    reason = outside(_weight("saturated unit weight", saturated_weight_pcf))
    if reason:
        return not_known(reason)
    ic = (saturated_weight_pcf - _WATER_PCF) / _WATER_PCF
    weight = number(saturated_weight_pcf)
    lines = (
        noted("gamma_sat", "least saturated unit weight", f"{weight} pcf"),
        Line("ic", "critical gradient", "(gamma_sat - 62.4) / 62.4", f"({weight} - 62.4) / 62.4",
             f"{number(ic, 4)} ft/ft", f"{_GRADIENT}; {_WATER}"),
    )  # fmt: skip
    valid = "cohesionless ground, saturated"
    return Result(ic, working=Working("Critical gradient", _GRADIENT, valid, lines))


def _weight(name: str, weight_pcf: float) -> tuple[str, float, float, float, str]:
    return (name, weight_pcf, _LIGHTEST_PCF, _HEAVIEST_PCF, "pcf")


@kept
def exit_gradient_use(
    head_in: float, embedment_in: float, saturated_weight_pcf: float, cohesive: str
) -> Result:
    """Use of the floor against boiling (piping) where ground water stands above it.

    Without sheets the water runs out of the face and the floor: over the height h it loses the
    head h, i = 1, and the use is 100 i / ic, at least 100 %. With tight sheets d below the floor
    i = h / d: all head is taken as lost in the ground between the sheets, the use is 100 i / ic,
    and sheets too short to help count as none.

    The path h + 2 d down and up along a sheet is not used: it holds for one sheet or a wide
    cofferdam, and gives half of the gradient, or less, in a pit that is as narrow as it is deep.
    h / d is a bound, since water can't lose more than h below the floor.

    Args:
        head_in: h, ground water above the floor, in, -2,400 to 1,800.
        embedment_in: d, tight sheets below the floor, in, 0 to 600; 0 without, and for shoring
            with gaps, shields and anything that ends at the floor.
        saturated_weight_pcf: the least that the ground may have, pcf, 65 to 190.
        cohesive: whether the ground at and below the floor is clay, yes or no.

    Returns:
        Use, %; 0 where no water stands above the floor. ``DOES_NOT_APPLY`` in clay, for which
        see :func:`base_heave_use` and :func:`uplift_use`.

    Not known when:
        A figure is out of its range.

    Source:
        Critical gradient by Terzaghi. That open water in cohesionless ground counts as failure is
        common practice.

    >>> round(exit_gradient_use(24.0, 48.0, 124.8, "no").value, 3)
    50.0
    """
    if cohesive == "yes":
        return Result(DOES_NOT_APPLY, "the ground below the floor is clay")
    critical = critical_gradient(saturated_weight_pcf)
    reason = critical.reason or outside(
        ("water above the floor", head_in, -2400.0, _DEEPEST_IN, "in"),
        ("depth of sheets below the floor", embedment_in, 0.0, 600.0, "in"),
    )
    if reason:
        return not_known(reason)
    assert isinstance(critical.value, float)
    assert critical.working is not None
    title, valid = "Boiling of the floor", "cohesionless ground; steady flow from all sides"
    h, d, ic = number(head_in), number(embedment_in), number(critical.value, 4)
    head = inches("h", "water above the floor", head_in)
    if head_in <= 0:
        dry = Line("u", "use", "0 where no water stands above the floor", "", "0 %")
        return Result(0.0, working=Working(title, _GRADIENT, valid, (head, dry)))
    bare = max(100 / critical.value, 100.0)
    bare_line = Line(
        "u0", "use without sheets, i = h / h = 1", "max(100 / ic, 100)", f"max(100 / {ic}, 100)",
        f"{number(bare)} %", "least of 100 % common practice",
    )  # fmt: skip
    lines = (head, inches("d", "tight sheets below the floor", embedment_in),
             *critical.working.lines, bare_line)  # fmt: skip
    # Compared by products: a very small embedment must not overflow.
    if 100 * head_in >= bare * critical.value * embedment_in:
        use = bare
        last = Line("u", "use", "u0, for no sheets or 100 h / (d ic) of u0 and more",
                    f"h {h}, d {d}, ic {ic}", f"{number(use)} %", _GRADIENT)  # fmt: skip
    else:
        use = 100 * head_in / (embedment_in * critical.value)
        last = Line("u", "use, i = h / d", "100 h / (d ic)", f"100 x {h} / ({d} x {ic})",
                    f"{number(use)} %", _GRADIENT)  # fmt: skip
    return Result(use, working=Working(title, _GRADIENT, valid, (*lines, last)))


def uplift_use(
    pit_floor_in: float,
    depth_to_water_layer_in: float,
    depth_to_water_level_in: float,
    unit_weight_pcf: float,
) -> Result:
    """Use of the ground left below the floor against water under pressure in a layer beneath.

    u = 100 gamma_w hw / (gamma t), t = b - H, hw = b - z, gamma_w = 62.4 pcf.

    Args:
        pit_floor_in: H, depth of the floor below the ground, in, 0 to 1,800.
        depth_to_water_layer_in: b, depth to the top of the layer that the water comes from (sand
            or gravel below clay), in, 0 to 2,400.
        depth_to_water_level_in: z, depth of the level to which its water rises in a pipe, in,
            -600 (above the ground) to 2,400.
        unit_weight_pcf: gamma, the least that the ground between may have, pcf, 65 to 190.

    Returns:
        Use, %; 0 where the water rises no higher than the top of its layer.

    Not known when:
        A figure is out of its range; or less than 1 in of ground is left above the layer, and
        the floor is a matter of boiling.

    Source:
        Textbook, from memory: weight of the plug against the pressure below it. Friction at its
        sides is not counted, to be on the safe side.

    >>> uplift_use(60.0, 120.0, 60.0, 124.8).value
    50.0
    """
    reason = outside(
        ("depth of pit floor", pit_floor_in, 0.0, _DEEPEST_IN, "in"),
        ("depth to the water-bearing layer", depth_to_water_layer_in, 0.0, 2400.0, "in"),
        ("depth to its water level", depth_to_water_level_in, -600.0, 2400.0, "in"),
        _weight("unit weight", unit_weight_pcf),
    )
    if reason:
        return not_known(reason)
    plug = depth_to_water_layer_in - pit_floor_in
    if plug < 1.0:
        return not_known(
            f"{number(max(plug, 0.0))} in of ground is left above the water-bearing layer; "
            "the method holds from 1 in"
        )
    head = depth_to_water_layer_in - depth_to_water_level_in
    use = max(100 * _WATER_PCF * head / (unit_weight_pcf * plug), 0.0)
    b, z, pit = (
        number(depth) for depth in (depth_to_water_layer_in, depth_to_water_level_in, pit_floor_in)
    )
    t, hw, weight = number(plug), number(head), number(unit_weight_pcf)
    lines = (
        inches("H", "depth of the floor", pit_floor_in),
        inches("b", "depth to the water-bearing layer", depth_to_water_layer_in),
        inches("z", "depth of the level its water rises to", depth_to_water_level_in),
        noted("gamma", "least unit weight of the ground between", f"{weight} pcf"),
        Line("t", "ground left below the floor", "b - H", f"{b} - {pit}", f"{t} in"),
        Line("hw", "head of water below it", "b - z", f"{b} - {z}", f"{hw} in"),
        Line("u", "use", "max(100 x 62.4 hw / (gamma t), 0)",
             f"max(100 x 62.4 x {hw} / ({weight} x {t}), 0)", f"{number(use)} %",
             f"{_PLUG}; {_WATER}"),
    )  # fmt: skip
    valid = "clay or other tight ground above the layer, without holes or old piles through it"
    return Result(use, working=Working("Uplift of the floor", _PLUG, valid, lines))


class SoftPit(NamedTuple):
    """A pit in clay, as its floor is loaded.

    Args:
        pit_depth_in: H, from the ground or floor beside it, in, 0 to 1,800.
        pit_length_in: L, at its floor, in, 6 to 360.
        pit_width_in: B, at its floor, in, 6 to 360; the shorter side counts as B.
        su_psf: undrained shear strength, the least of the clay from the floor down to B below it,
            psf, 1 to 20,000; half of the unconfined strength.
        unit_weight_pcf: gamma, the most that the ground above the floor may have, pcf, 65 to 190.
        surcharge_psf: q, what stands on the ground beside the pit, in the first place the
            pressure below our own footing, psf, 0 to 1,000,000.
    """

    pit_depth_in: float
    pit_length_in: float
    pit_width_in: float
    su_psf: float
    unit_weight_pcf: float
    surcharge_psf: float


def _soft_out_of_range(pit: SoftPit) -> str:
    return outside(
        ("pit depth", pit.pit_depth_in, 0.0, _DEEPEST_IN, "in"),
        ("pit length", pit.pit_length_in, 6.0, 360.0, "in"),
        ("pit width", pit.pit_width_in, 6.0, 360.0, "in"),
        ("undrained shear strength", pit.su_psf, 1.0, 20000.0, "psf"),
        _weight("unit weight", pit.unit_weight_pcf),
        ("surcharge", pit.surcharge_psf, 0.0, 1e6, "psf"),
    )


def _soft_lines(pit: SoftPit) -> tuple[Line, ...]:
    return (
        noted("H", "pit depth", f"{number(pit.pit_depth_in / 12, 4)} ft"),
        noted("su", "least undrained shear strength", f"{number(pit.su_psf)} psf"),
        noted("gamma", "greatest unit weight", f"{number(pit.unit_weight_pcf)} pcf"),
        noted("q", "surcharge beside the pit", f"{number(pit.surcharge_psf)} psf"),
    )


@kept
def base_heave_use(pit: SoftPit, cohesive: str) -> Result:
    """Use of a floor in clay against heave: the ground beside the pit pressing it up.

    The worse of two methods, in ft, pcf and psf. Terzaghi:
    u1 = 100 (H max(gamma - su / (0.7 B), 0) + q) / (5.7 su). Bjerrum and Eide with Skempton's
    factors of shape s = 1 + 0.2 B / L and depth d = 1 + 0.2 H / B, at most 1.4:
    u2 = 100 (gamma H / (5 s d) + q / (5 s)) / su.

    Shear above the floor helps only against the weight of the ground, and the factor of depth
    is not used for the surcharge, so that a deeper pit never looks better; without a surcharge both
    are the published formulas. They give d up to 1.5, at H = 2.5 B; 1.4 keeps below Skempton's
    curves, which rise less from 2 B on.

    Args:
        pit: its figures have their ranges there.
        cohesive: yes where clay lies at the floor or within B below it; no otherwise.

    Returns:
        Use, %: 100 over the factor of safety. ``DOES_NOT_APPLY`` where there is no clay.

    Not known when:
        A figure is out of its range.

    Source:
        Terzaghi 1943 (5.7 su; the shear term is from memory); Bjerrum and Eide 1956 with Skempton
        1951, from memory.

    >>> round(base_heave_use(SoftPit(120.0, 360.0, 120.0, 300.0, 120.0, 0.0), "yes").value, 2)
    62.5
    """
    if cohesive == "no":
        return Result(DOES_NOT_APPLY, "the ground below the floor is not clay")
    reason = _soft_out_of_range(pit)
    if reason:
        return not_known(reason)
    depth = pit.pit_depth_in / 12
    width, length = (side / 12 for side in sorted((pit.pit_length_in, pit.pit_width_in)))
    su, gamma, q = pit.su_psf, pit.unit_weight_pcf, pit.surcharge_psf
    net = max(gamma - su / (_SHEAR_WIDTH * width), 0.0)
    terzaghi = 100 * (depth * net + q) / (_BASE_BEARING * su)
    shape = 1 + 0.2 * width / length
    ratio = min(depth / width, _MOST_DEPTH_RATIO)
    deep = 1 + 0.2 * ratio
    nc = _SURFACE_BEARING * shape
    bjerrum = 100 * (gamma * depth / (nc * deep) + q / nc) / su
    use = max(terzaghi, bjerrum)
    h, b, ln = number(depth, 4), number(width, 4), number(length, 4)
    s, g, load = number(su), number(gamma), number(q)
    lines = (
        *_soft_lines(pit),
        noted("B, L", "shorter and longer side of the floor", f"{b} ft, {ln} ft"),
        Line("gn", "weight less shear at the sides", "max(gamma - su / (0.7 B), 0)",
             f"max({g} - {s} / (0.7 x {b}), 0)", f"{number(net)} pcf", _TERZAGHI),
        Line("u1", "use by Terzaghi", "100 (H gn + q) / (5.7 su)",
             f"100 x ({h} x {number(net)} + {load}) / (5.7 x {s})", f"{number(terzaghi)} %",
             _TERZAGHI),
        Line("Nc", "bearing factor at the surface", "5 (1 + 0.2 B / L)",
             f"5 x (1 + 0.2 x {b} / {ln})", f"{number(nc, 4)} (factor)", _BJERRUM),
        Line("d", "factor of depth", "1 + 0.2 min(H / B, 2)", f"1 + 0.2 x {number(ratio, 4)}",
             f"{number(deep, 4)} (factor)", _BJERRUM),
        Line("u2", "use by Bjerrum and Eide", "100 (gamma H / (Nc d) + q / Nc) / su",
             f"100 x ({g} x {h} / ({number(nc, 4)} x {number(deep, 4)}) + {load} / "
             f"{number(nc, 4)}) / {s}", f"{number(bjerrum)} %", _BJERRUM),
        Line("u", "use", "max(u1, u2)", f"max({number(terzaghi)}, {number(bjerrum)})",
             f"{number(use)} %"),
    )  # fmt: skip
    source = f"{_TERZAGHI}; {_BJERRUM}"
    valid = "saturated clay, undrained, to at least the width of the pit below its floor"
    return Result(use, working=Working("Heave of the floor", source, valid, lines))


def stability_number(pit: SoftPit, cohesive: str) -> Result:
    """Stability number of a pit in clay.

    N = (gamma H + q) / su, in ft, pcf and psf.

    Args:
        pit: its figures have their ranges there.
        cohesive: yes where clay lies at the floor or below it; no otherwise.

    Returns:
        Number, without a unit. ``DOES_NOT_APPLY`` where there is no clay.

    Not known when:
        A figure is out of its range.

    Source:
        Peck 1969, from memory: below 4 little movement, 6 critical, above 7 to 8 failure of the
        floor. For information; :func:`base_heave_use` counts the shape of the pit.

    >>> stability_number(SoftPit(120.0, 360.0, 120.0, 300.0, 120.0, 0.0), "yes").value
    4.0
    """
    if cohesive == "no":
        return Result(DOES_NOT_APPLY, "the ground below the floor is not clay")
    reason = _soft_out_of_range(pit)
    if reason:
        return not_known(reason)
    depth = pit.pit_depth_in / 12
    n = (pit.unit_weight_pcf * depth + pit.surcharge_psf) / pit.su_psf
    lines = (
        *_soft_lines(pit),
        Line("N", "stability number", "(gamma H + q) / su",
             f"({number(pit.unit_weight_pcf)} x {number(depth, 4)} + {number(pit.surcharge_psf)}) "
             f"/ {number(pit.su_psf)}", number(n, 4), _PECK),
    )  # fmt: skip
    return Result(n, working=Working("Stability number", _PECK, "saturated clay", lines))
