"""The two looks of a square, and the room it takes."""

from __future__ import annotations

from collections.abc import Callable

from matplotlib.axes import Axes
from matplotlib.transforms import Transform

from constraints.design import Design
from gallery.looks import drawing, lace
from gallery.looks.bent import half_sides
from gallery.paper.paths import Pen

# A look draws a square on an axes; the transform takes lattice units (y down) to the data of the axes, the
# last says whether to draw the finest detail, None to let the size on paper decide.
Look = Callable[[Axes, Design, Transform | None, bool | None], None]

# The same looks with any pen.
Ink = Callable[[Pen, Design, bool | None], None]

LOOKS: dict[str, Look] = {"drawing": drawing.draw, "lace": lace.draw}
INKED: dict[str, Ink] = {"drawing": drawing.ink, "lace": lace.ink}
# From how many points a unit each shows its finest detail.
FINE = {"drawing": drawing.FINE, "lace": lace.FINE}


# A picture is at least so wide, as a share of its length.
_NARROWEST = 0.125


def extent(design: Design) -> float:
    """Half the side of the picture of a square, lattice units: its edge pair and its fringe fit in."""
    return float(max(half_sides(design)))


def proportions(design: Design) -> tuple[float, float]:
    """Width and height of the picture of a piece, as shares of its longer side; a very long one keeps some width."""
    wide, high = half_sides(design)
    longer = max(wide, high)
    return max(float(wide / longer), _NARROWEST), max(float(high / longer), _NARROWEST)


def frame(axes: Axes, design: Design) -> None:
    """Make an axes just wide enough for one square, y down, without ticks."""
    reach = extent(design)
    axes.set_axis_off()
    axes.set_xlim(-reach, reach)
    axes.set_ylim(reach, -reach)
    axes.set_aspect("equal")
