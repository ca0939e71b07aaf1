"""A drawing as SVG, to stand in a page: text escaped, nothing fetched, no script."""

from __future__ import annotations

import re
from collections.abc import Iterable
from html import escape

from survey.drawings.shapes import Circle, Drawing, Path, Point, Shape, Text

_UNSEEN = re.compile("[\x00-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")


def write_svg(drawing: Drawing, name: str) -> str:
    """The drawing as an SVG element.

    Args:
        drawing: what is drawn.
        name: of the drawing, unlike that of any other in the page; letters, figures and hyphens.
    """
    width, height = _number(drawing.width_mm), _number(drawing.height_mm)
    head = (
        f'<svg class="drawing" role="img" aria-labelledby="{name}-title {name}-text" '
        f'viewBox="0 0 {width} {height}" width="{width}mm" height="{height}mm">'
    )
    told = (
        f'<title id="{name}-title">{_written(drawing.title)}</title>'
        f'<desc id="{name}-text">{_written(drawing.description)}</desc>'
    )
    return "\n".join((head, told, *_elements(drawing.shapes), "</svg>"))


def _elements(shapes: Iterable[Shape]) -> Iterable[str]:
    for shape in shapes:
        match shape:
            case Path(points, look, closed):
                kind = "polygon" if closed else "polyline"
                yield f'<{kind} class="{look}" points="{_points(points)}"/>'
            case Circle((x, y), radius, look):
                at = f'cx="{_number(x)}" cy="{_number(y)}"'
                yield f'<circle class="{look}" {at} r="{_number(radius)}"/>'
            case Text():
                yield _text(shape)


def _text(text: Text) -> str:
    x, y = map(_number, text.at)
    turn = f' transform="rotate({_number(text.turned_deg)} {x} {y})"' if text.turned_deg else ""
    width = text.width_mm
    fitted = f' textLength="{_number(width)}" lengthAdjust="spacingAndGlyphs"' if width else ""
    return (
        f'<text class="{text.look}" x="{x}" y="{y}" font-size="{_number(text.size_mm)}" '
        f'text-anchor="{text.anchor.value}"{fitted}{turn}>{_written(text.text)}</text>'
    )


def _written(text: str) -> str:
    """A text without what no file can hold, or what would turn the direction of other text."""
    return escape(_UNSEEN.sub("\N{REPLACEMENT CHARACTER}", text))


def _points(points: Iterable[Point]) -> str:
    """As _number, but all at once: there are thousands."""
    text = " ".join([f"{x:.2f},{y:.2f}" for x, y in points]) + " "
    text = text.replace("-0.00", "0.00")
    for end in ", ":
        text = text.replace(f"0{end}", end).replace(f".0{end}", end)
    return text[:-1]


def _number(figure: float) -> str:
    """A figure to a hundredth of a millimetre, without noughts at its end."""
    return f"{figure:.2f}".rstrip("0").rstrip(".") if abs(figure) >= 0.005 else "0"
