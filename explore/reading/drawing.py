"""From an SVG drawing to the outlines of its print: its elements in order, and what they paint."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np
import shapely.affinity
from shapely.geometry import MultiPolygon
from svgelements import Circle, Color, Ellipse, Matrix, Path, Rect

from explore.reading.markup import MOST_ELEMENTS, Element, Styles, parsed
from explore.reading.outline import StampError, longer_side
from explore.reading.page import LARGEST, View, length, numbers, transform, viewport
from explore.reading.painting import Paint, StrokeStyle, Subpath, crossings, filled, flattened, pressed, stroked

MOST_POINTS, MOST_CROSSINGS = 50_000, 2_000
FAINTEST = 0.1  # opacity under which a paint is invisible
SMALLEST = 1e-3  # pixels along the longer side

_GROUPS = ("g", "a", "switch")
_SHAPES = ("path", "rect", "circle", "ellipse", "line", "polyline", "polygon")
# Properties that children take over from their parents (SVG 1.1, property index).
_INHERITED = (
    "color", "fill", "fill-opacity", "fill-rule", "stroke", "stroke-dasharray", "stroke-linecap",
    "stroke-linejoin", "stroke-miterlimit", "stroke-opacity", "stroke-width", "visibility",
)  # fmt: skip
_TRAILING_POINT = re.compile(r"(?<=\d)\.(?!\d)")


@dataclass(frozen=True)
class _ElementState:
    """Where an element stands: inherited properties, transform to the page, opacity, size of the viewport."""

    style: dict[str, str] = field(default_factory=dict)
    matrix: Matrix = field(default_factory=Matrix)
    opacity: float = 1.0
    view: View = (300.0, 150.0)
    depth: int = 0


@dataclass
class _Found:
    """What the walk has collected so far."""

    styles: Styles
    named: dict[str, Element]
    paints: list[Paint] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    visited: int = 0
    points: int = 0
    most_points: int = MOST_POINTS
    sheet: shapely.Geometry | None = None


def read_drawing(data: bytes, most_points: int = MOST_POINTS) -> tuple[MultiPolygon, list[str]]:
    """The outlines a drawing prints, in CSS pixels on its page, y down, and notes of what was left out.

    Raises StampError for files that are not sound SVG or show nothing.
    """
    root = parsed(data)
    named = {element.attributes["id"]: element for element in root.walk() if "id" in element.attributes}
    found = _Found(Styles(root), named, most_points=most_points)
    _walk(root, _ElementState(), found)
    shape = MultiPolygon(pressed(found.paints, found.sheet))
    notes = list(dict.fromkeys(found.notes))
    if shape.area <= 0:
        raise StampError("; ".join(["shows no shape with an area", *notes]))
    if longer_side(shape) < SMALLEST:
        raise StampError(f"shows a shape less than {SMALLEST:g} pixels long")
    return shape, notes


def _walk(element: Element, place: _ElementState, found: _Found) -> None:
    found.visited += 1
    if found.visited > MOST_ELEMENTS or place.depth > 150:
        raise StampError("uses parts of itself over and over; a stamp is a simpler drawing")
    stated = found.styles.of(element)
    if stated.get("display") == "none":
        return
    inner = _entered(stated, place)
    if element.tag in _GROUPS:
        _walk_children(element, inner, found)
    elif element.tag == "svg":
        _walk_page(element, stated, inner, found)
    elif element.tag == "use":
        _walk_used(stated, inner, found)
    elif element.tag in _SHAPES:
        _paint(element.tag, stated, inner, found)
    elif element.tag == "text":
        found.notes.append("text was left out: turn it into paths first")
    elif element.tag == "image":
        found.notes.append("an embedded picture was left out")


def _walk_children(element: Element, place: _ElementState, found: _Found) -> None:
    for child in element.children:
        _walk(child, place, found)


def _entered(stated: Mapping[str, str], place: _ElementState) -> _ElementState:
    """The place inside an element that states these properties."""
    own = {name: stated[name] for name in _INHERITED if stated.get(name, "inherit") != "inherit"}
    turn = stated.get("transform", "none")
    matrix = place.matrix if turn == "none" else transform(turn, place.view) * place.matrix
    opacity = place.opacity * _share(stated.get("opacity", "1"))
    return replace(place, style={**place.style, **own}, matrix=matrix, opacity=opacity, depth=place.depth + 1)


def _walk_page(element: Element, stated: Mapping[str, str], place: _ElementState, found: _Found) -> None:
    """The root element, or an <svg> within it."""
    box = numbers(stated.get("viewBox", ""))
    outermost = place.depth == 1
    view = (box[2], box[3]) if outermost and len(box) == 4 else place.view
    size = (length(stated, "width", view, "100%"), length(stated, "height", view, "100%"))
    corner = (0.0, 0.0) if outermost else (length(stated, "x", view), length(stated, "y", view))
    if outermost and (len(box) == 4 or {"width", "height"} <= stated.keys()):
        found.sheet = shapely.box(0, 0, *size)
    into, inside = viewport(stated, corner, size)
    _walk_children(element, replace(place, matrix=into * place.matrix, view=inside), found)


def _walk_used(stated: Mapping[str, str], place: _ElementState, found: _Found) -> None:
    reference = stated.get("href", stated.get("xlink:href", "")).strip()
    target = found.named.get(reference[1:]) if reference.startswith("#") else None
    if target is None:
        found.notes.append(f"{reference[:40]!r} was left out: it is not in the file")
        return
    shift = Matrix.translate(length(stated, "x", place.view), length(stated, "y", place.view))
    moved = replace(place, matrix=shift * place.matrix)
    if target.tag != "symbol":
        _walk(target, moved, found)
        return
    symbol = {**found.styles.of(target), **{n: stated[n] for n in ("width", "height") if n in stated}}
    size = (length(symbol, "width", place.view, "100%"), length(symbol, "height", place.view, "100%"))
    inner = _entered(symbol, moved)
    into, inside = viewport(symbol, (0.0, 0.0), size)
    _walk_children(target, replace(inner, matrix=into * inner.matrix, view=inside), found)


def _paint(tag: str, stated: Mapping[str, str], place: _ElementState, found: _Found) -> None:
    """Adds what a shape paints: its fill, then its stroke."""
    if place.style.get("visibility") in ("hidden", "collapse"):
        return
    if "clip-path" in stated or "mask" in stated:
        found.notes.append("clip paths and masks were left out")
    lines = flattened(_path(tag, stated, place.view, found))
    _check_reach(lines, place.matrix)
    found.points += sum(len(line.points) for line in lines)
    if found.points > found.most_points or (lines and crossings(lines) > MOST_CROSSINGS):
        raise StampError(
            f"has over {found.most_points} points or {MOST_CROSSINGS} crossings; a stamp is a simpler drawing"
        )
    if tag != "line" and (colour := _colour("fill", "black", place)) is not None:
        _add(filled(lines, place.style.get("fill-rule", "nonzero")), colour, place, found)
    if (colour := _colour("stroke", "none", place)) is not None:
        if place.style.get("stroke-dasharray", "none") != "none":
            found.notes.append("dashed lines were read as whole lines")
        _add(stroked(lines, _pen(place)), colour, place, found)


def _add(area: shapely.Geometry, colour: tuple[float, float, float], place: _ElementState, found: _Found) -> None:
    m = place.matrix
    on_page = shapely.affinity.affine_transform(area, [m.a, m.c, m.b, m.d, m.e, m.f])
    if on_page.area > 0:
        found.paints.append(Paint(shapely.make_valid(on_page), colour))


def _check_reach(lines: list[Subpath], matrix: Matrix) -> None:
    """Refuses coordinates too large to draw with, in the shape's own terms or on the page."""
    for line in lines:
        x, y = line.points.T
        on_page = (matrix.a * x + matrix.c * y + matrix.e, matrix.b * x + matrix.d * y + matrix.f)
        if not all((np.abs(values) < LARGEST).all() for values in (x, y, *on_page)):
            raise StampError(f"has coordinates beyond {LARGEST:.0f} pixels")


def _colour(which: str, default: str, place: _ElementState) -> tuple[float, float, float] | None:
    """The colour of the fill or stroke, None if there is none or it is too faint to see."""
    text = place.style.get(which, default)
    if text.lower() == "currentcolor":
        text = place.style.get("color", "black")
    if text == "none":
        return None
    # Gradients and patterns, and words that name no colour, come out black.
    colour = Color(text)
    opacity = place.opacity * _share(place.style.get(f"{which}-opacity", "1")) * colour.alpha / 255
    return (colour.red, colour.green, colour.blue) if opacity >= FAINTEST else None


def _share(text: str) -> float:
    """An opacity, as a number or in percent; unreadable ones count as 1, as SVG asks."""
    found = numbers(text)
    return min(1.0, max(0.0, found[0] / (100 if "%" in text else 1))) if found else 1.0


def _pen(place: _ElementState) -> StrokeStyle:
    style = place.style
    limit = numbers(style.get("stroke-miterlimit", "4"))
    return StrokeStyle(
        length(style, "stroke-width", place.view, "1"),
        style.get("stroke-linecap", "butt"),
        style.get("stroke-linejoin", "miter"),
        max(1.0, limit[0]) if limit else 4.0,
    )


def _path(tag: str, stated: Mapping[str, str], view: View, found: _Found) -> Path:
    """The outline of a shape in its own coordinates."""

    def at(name: str) -> float:
        return length(stated, name, view)

    if tag == "path":
        return _path_from_data(stated.get("d", ""), found)
    if tag == "rect":
        radii = [length(stated, name, view, "auto") if name in stated else None for name in ("rx", "ry")]
        rx, ry = (own if own is not None else other or 0.0 for own, other in (radii, radii[::-1]))
        return Path(Rect(at("x"), at("y"), at("width"), at("height"), rx, ry))
    if tag == "circle":
        return Path(Circle(at("cx"), at("cy"), at("r"))) if at("r") > 0 else Path()
    if tag == "ellipse":
        flat = min(at("rx"), at("ry")) <= 0
        return Path() if flat else Path(Ellipse(at("cx"), at("cy"), at("rx"), at("ry")))
    if tag == "line":
        return _path_from_data(f"M{at('x1')} {at('y1')}L{at('x2')} {at('y2')}", found)
    points = " ".join(str(number) for number in numbers(stated.get("points", "")))
    return _path_from_data(f"M{points}" + ("Z" if tag == "polygon" else ""), found)


def _path_from_data(data: str, found: _Found) -> Path:
    """The path; if its data is damaged, what comes before the damage, as SVG asks."""
    path = Path()
    if not data.strip():
        return path
    try:
        if data.strip()[0] not in "Mm":
            raise ValueError
        path.parse(_TRAILING_POINT.sub("", data))
    except (ValueError, IndexError, TypeError, AttributeError, ArithmeticError):
        found.notes.append("a damaged path was read up to the damage")
    return path
