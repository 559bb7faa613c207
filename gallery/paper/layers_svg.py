"""Leaves as SVG: millimetres, compact, one labelled group for each layer."""

from __future__ import annotations

from xml.sax.saxutils import escape, quoteattr

import numpy as np
from matplotlib.path import Path

from gallery.paper.embedding import style_sheet
from gallery.paper.faces import NAMES
from gallery.paper.layers import Areas, Dots, Leaf, Lines, Mark, Words, gathered
from gallery.paper.page import MM_PER_POINT
from gallery.paper.paths import empty

# SVG itself knows groups alone; vector editors open as layers those that have this name space's attributes too.
LAYERS = "http://www.inkscape.org/namespaces/inkscape"


def svg(leaf: Leaf) -> str:
    """The leaf as an SVG document in millimetres (Scalable Vector Graphics 2, W3C): a group with id and
    aria-label for each layer, which editors open as a layer of that name."""
    width, height = number(leaf.width), number(leaf.height)
    said = [
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="{LAYERS}" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}">'
    ]
    if leaf.title:
        said.append(f"<title>{escape(leaf.title)}</title>")
    layers = gathered(leaf.layers)
    words = [mark for layer in layers for mark in layer.marks if isinstance(mark, Words)]
    if words:
        said.append(f"<style>{style_sheet((each.style.face, each.text) for each in words)}</style>")
    for layer in layers:
        name = quoteattr(layer.name)
        editor = f'inkscape:groupmode="layer" inkscape:label={name}'
        said.append(f"<g id={quoteattr(layer.name.replace(' ', '-'))} aria-label={name} {editor}>")
        said += map(_element, layer.marks)
        said.append("</g>")
    return "\n".join([*said, "</svg>", ""])


def _element(mark: Mark) -> str:
    match mark:
        case Words():
            return _text(mark)
        case Dots():
            r = number(mark.diameter / 2)
            circles = (f'<circle cx="{number(x)}" cy="{number(y)}" r="{r}"/>' for x, y in mark.centres.tolist())
            return "\n".join([f'<g fill="{mark.colour}">', *circles, "</g>"])
        case Areas():
            alpha = "" if mark.alpha == 1 else f' opacity="{mark.alpha:g}"'
            return f'<path d="{path_data(mark.path)}" fill="{mark.colour}"{alpha}/>'
        case Lines():
            ends = "" if mark.butt or mark.dash else ' stroke-linecap="round"'
            dash = f' stroke-dasharray="{" ".join(map(number, mark.dash))}"' if mark.dash else ""
            inked = f'fill="none" stroke="{mark.colour}" stroke-width="{number(mark.width)}"'
            return f'<path d="{path_data(mark.path)}" {inked}{ends} stroke-linejoin="round"{dash}/>'


def _text(words: Words) -> str:
    anchor = {"left": "", "center": ' text-anchor="middle"', "right": ' text-anchor="end"'}[words.align]
    bold = ' font-weight="bold"' if words.style.bold else ""
    narrow = ' font-stretch="condensed"' if words.style.narrow else ""
    kind = f"{NAMES[words.style.family]}, {words.style.family}"
    size = number(words.style.size * MM_PER_POINT)
    return (
        f'<text x="{number(words.x)}" y="{number(words.y)}" font-family="{kind}" font-size="{size}"{bold}{narrow} '
        f'fill="{words.style.colour}"{anchor}>{escape(words.text)}</text>'
    )


_LETTERS = {int(Path.MOVETO): "M", int(Path.LINETO): "L", int(Path.CURVE3): "Q", int(Path.CURVE4): "C"}
_POINTS = {"M": 1, "L": 1, "Q": 2, "C": 3, "Z": 1}


def path_data(path: Path) -> str:
    """A path as SVG path data, to a thousandth of a millimetre."""
    if empty(path):
        return ""
    points: list[list[float]] = np.asarray(path.vertices).tolist()
    codes: list[int] = np.asarray(path.codes).tolist()
    said: list[str] = []
    at = 0
    while at < len(points):
        letter = _LETTERS.get(codes[at], "Z")
        ahead = points[at : at + _POINTS[letter]]
        at += len(ahead)
        said.append(letter + ("" if letter == "Z" else " ".join(number(c) for point in ahead for c in point)))
    return "".join(said)


def number(value: float) -> str:
    """A measure to a thousandth, without needless noughts."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
