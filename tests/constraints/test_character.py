"""Mirror axes and turns of shapes whose symmetry group is known: regular polygons and letters (geometry)."""

import pytest
import shapely
import shapely.affinity
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath
from shapely.geometry import MultiPolygon

from constraints.character import character
from constraints.stamp import Stamp, shape_of


def letter(sign: str) -> Stamp:
    path = TextPath((0, 0), sign, size=100, prop=FontProperties(family="DejaVu Sans", weight="bold"))
    rings = tuple(tuple((float(x), float(-y)) for x, y in ring) for ring in path.to_polygons())
    return Stamp(sign, shape_of(rings))


@pytest.mark.parametrize(
    ("sign", "upright", "level", "half_turn"),
    [("A", True, False, False), ("E", False, True, False), ("H", True, True, True), ("N", False, False, True),
     ("F", False, False, False), ("T", True, False, False)],
)  # fmt: skip
def test_letters_have_the_symmetries_everybody_knows(sign: str, upright: bool, level: bool, half_turn: bool) -> None:
    found = character(letter(sign))
    assert (0.0 in found.axes, 90.0 in found.axes, found.half_turn) == (upright, level, half_turn)


def test_a_square_has_four_axes_and_quarter_turns() -> None:
    found = character(Stamp("tile", MultiPolygon([shapely.box(-1, -1, 1, 1)])))
    assert set(found.axes) == {0.0, 45.0, 90.0, 135.0}
    assert found.quarter_turn


def test_a_leaning_axis_is_told_clockwise() -> None:
    leaning = shapely.affinity.rotate(letter("A").shape, 30, origin="centroid")  # y down: clockwise on the page
    assert character(Stamp("leaning", leaning)).axes == (30.0,)


@pytest.mark.parametrize(("degrees", "axes"), [(0, (0.0,)), (35, ())])
def test_a_shape_with_a_stalk_that_leans_is_not_its_own_mirror_image(degrees: float, axes: tuple[float, ...]) -> None:
    """Most of its area has a counterpart, the stalk has none."""
    fruit = shapely.affinity.scale(shapely.Point(0, 0).buffer(1.0), 0.8, 1.1)
    stalk = shapely.affinity.rotate(shapely.box(-0.08, -1.7, 0.08, -1.0), degrees, origin=(0, -1.0))
    whole = Stamp("acorn", MultiPolygon([fruit.union(stalk)]))
    mirrored = shapely.affinity.scale(whole.shape, -1, 1, origin=whole.shape.centroid)
    assert whole.shape.intersection(mirrored).area > 0.86 * whole.shape.union(mirrored).area
    assert character(whole).axes == axes
