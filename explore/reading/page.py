"""Where things stand on the page of an SVG drawing: lengths with units, transforms, viewports."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping

from svgelements import Matrix

from explore.reading.outline import StampError

# CSS pixels in one of each unit (CSS Values 3, 96 pixels to the inch; fonts taken as 16 pixels high).
UNITS = {
    "": 1.0,
    "px": 1.0,
    "in": 96.0,
    "cm": 96 / 2.54,
    "mm": 96 / 25.4,
    "q": 96 / 101.6,
    "pt": 96 / 72,
    "pc": 16.0,
    "em": 16.0,
    "rem": 16.0,
    "ex": 8.0,
    "ch": 8.0,
}
# No length or coordinate on the page may be larger, in pixels.
LARGEST = 1e7

_NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"
_LENGTH = re.compile(rf"\s*({_NUMBER})\s*([A-Za-z]*|%)\s*")
_ACROSS = ("x", "cx", "x1", "x2", "width", "rx")
_DOWN = ("y", "cy", "y1", "y2", "height", "ry")

View = tuple[float, float]


def numbers(text: str) -> list[float]:
    """The numbers in a list as SVG writes them, with commas or spaces."""
    return [float(number) for number in re.findall(_NUMBER, text)]


def length(stated: Mapping[str, str], name: str, view: View, default: str = "0") -> float:
    """The length called `name` in user units; shares are of the viewport (SVG 1.1, 7.10)."""
    text = stated.get(name, default)
    match = _LENGTH.fullmatch(default if text == "auto" else text)
    unit = match.group(2).lower() if match else "?"
    if match and unit == "%":
        value = float(match.group(1)) / 100 * _whole(name, view)
    elif match and unit in UNITS:
        value = float(match.group(1)) * UNITS[unit]
    else:
        value = math.nan
    if not abs(value) <= LARGEST:
        raise StampError(f"has a {name} that cannot be read: {text[:60]!r}")
    return value


def _whole(name: str, view: View) -> float:
    if name in _ACROSS:
        return view[0]
    return view[1] if name in _DOWN else math.hypot(*view) / math.sqrt(2)


def transform(text: str, view: View) -> Matrix:
    """The matrix of a transform list. Raises StampError if it cannot be read."""
    try:
        matrix = Matrix(text, ppi=UNITS["in"], width=view[0], height=view[1])
        sound = all(math.isfinite(float(matrix[i])) for i in range(6))
    except (ValueError, IndexError, TypeError, OverflowError):
        sound = False
    if not sound:
        raise StampError(f"has a transform that cannot be read: {text[:60]!r}")
    return matrix


def viewport(stated: Mapping[str, str], corner: View, size: View) -> tuple[Matrix, View]:
    """The transform into an <svg> or <symbol> that fills a box of its parent, and the size of its inside.

    corner, size: the box in user units of the parent. Follows viewBox and preserveAspectRatio (SVG 1.1, 7.8).
    """
    box = numbers(stated.get("viewBox", ""))
    if min(size) <= 0 or (len(box) == 4 and min(box[2:]) <= 0):
        raise StampError("has a page without width or height")
    if len(box) != 4:
        return Matrix.translate(*corner), size
    fit = stated.get("preserveAspectRatio", "xMidYMid").lower()
    across, down = size[0] / box[2], size[1] / box[3]
    if "none" not in fit:
        across = down = (max if "slice" in fit else min)(across, down)
    spare = (size[0] - across * box[2], size[1] - down * box[3])
    x = corner[0] - across * box[0] + spare[0] * _share_before(fit, "x")
    y = corner[1] - down * box[1] + spare[1] * _share_before(fit, "y")
    return Matrix(across, 0, 0, down, x, y), (box[2], box[3])


def _share_before(fit: str, axis: str) -> float:
    """How much of the spare room lies before the content: none, half or all of it."""
    if "none" in fit or axis + "min" in fit:
        return 0.0
    return 1.0 if axis + "max" in fit else 0.5
