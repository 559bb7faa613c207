"""How the copies of a print lie, worked out by hand for every symmetry, and seen in what is drawn."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely
import shapely.affinity
from designs import made
from shapely.geometry import MultiPolygon, Polygon

from constraints.character import Character, character
from constraints.design import Print
from constraints.lying import NO_UP, Pose, has_upright, lies, poses, told, under
from constraints.stamp import Stamp, outlines, shape_of
from constraints.symmetry import FRIEZES, SYMMETRIES, matrices

# A flag on a staff looks like none of its turns and mirror images, a heart like its mirror image left to right, a
# slanted stroke like itself upside down, a star of five points like itself turned by a fifth.
FLAG = Character((), ())
HEART = Character((0.0,), ())
STROKE = Character((), (180.0,))
STAR = Character((0.0, 35.0, 70.0, 110.0, 145.0), (72.0, 144.0, 216.0, 288.0))
TILE = Character((0.0, 45.0, 90.0, 135.0), (90.0, 180.0, 270.0))

# By symmetry: of a flag as drawn, turned a quarter clockwise, upside down, turned three quarters; of a heart as drawn.
BY_HAND = {
    "full": ["all ways up"] * 5,
    "quarter-turn": ["all ways up"] * 5,
    "half-turn": ["both ways up", "on its side", "both ways up", "on its side",
                  "both ways up"],
    "upright-mirrors": ["both ways up", "on its side", "both ways up", "on its side",
                        "both ways up"],
    "diagonal-mirrors": ["all ways up", "upright in the mirror only", "all ways up",
                         "upright in the mirror only", "all ways up"],
    "upright-mirror": ["upright and mirrored", "on its side", "upside down", "on its side", "upright"],
    "diagonal-mirror": ["upright and on its side", "none upright", "none upright", "upright in the mirror only",
                        "upright and on its side"],
    "none": ["upright", "on its side", "upside down", "on its side", "upright"],
}  # fmt: skip


@pytest.mark.parametrize("symmetry", SYMMETRIES)
def test_every_symmetry_is_told_as_it_was_worked_out_by_hand(symmetry: str) -> None:
    *flags, heart = BY_HAND[symmetry]
    assert [told(under(Pose(turn), symmetry), FLAG) for turn in (0, 90, 180, 270)] == flags
    assert told(under(Pose(0), symmetry), HEART) == heart
    for turn in (45, 135, 225, 315):
        assert told(under(Pose(turn), symmetry), FLAG) == told(under(Pose(turn), symmetry), HEART) == "aslant"


def test_what_looks_alike_turned_has_no_other_way_up() -> None:
    assert told([Pose(0), Pose(180)], STROKE) == "upright"
    assert told([Pose(90)], STROKE) == told([Pose(270)], STROKE) == "on its side"
    assert told([Pose(0, True)], STROKE) == "upright in the mirror only"
    for shape in (STAR, TILE):
        assert told([Pose(37.0)], shape) == NO_UP
        assert has_upright([Pose(37.0)], shape)


def test_a_few_degrees_are_upright_to_the_eye_and_many_are_not() -> None:
    assert [told([Pose(turn)], FLAG) for turn in (355, 5, 94, 186, 20)] == [
        "upright", "upright", "on its side", "upside down", "aslant",
    ]  # fmt: skip


def test_the_mirror_image_of_a_shape_with_an_axis_is_the_shape_turned() -> None:
    # A heart drawn lying, its point to the right: mirrored left to right it points to the left.
    lying = Character((90.0,), ())
    assert told([Pose(0), Pose(0, True)], lying) == "both ways up"
    # Drawn leaning by 30 degrees to the right, its mirror image leans as far to the left.
    assert told([Pose(0), Pose(0, True)], Character((30.0,), ())) == "upright and aslant"
    assert not has_upright([Pose(0, True)], Character((30.0,), ()))


DRAWN = Stamp("flag", MultiPolygon([Polygon([(0, 0), (7, 1), (6, 5), (2, 4), (2, 12), (0, 12)])]))


def placed(size: float, pose: Pose) -> MultiPolygon:
    """The flag in a pose, by geometry alone: mirrored, turned clockwise on the page, brought to its size."""
    mirrored = shapely.affinity.scale(DRAWN.shape, -1, 1, origin=(0, 0)) if pose.mirrored else DRAWN.shape
    return Stamp("posed", mirrored).placed(size, pose.turn, (0.0, 0.0))


@pytest.mark.parametrize("symmetry", [*SYMMETRIES, *FRIEZES])
@pytest.mark.parametrize("own", [Pose(0), Pose(45), Pose(90, True), Pose(200)])
def test_the_images_of_a_copy_are_where_the_matrices_take_it(symmetry: str, own: Pose) -> None:
    for ((a, b), (c, d)), pose in zip(matrices(symmetry).tolist(), under(own, symmetry), strict=True):
        image = shapely.affinity.affine_transform(placed(4, own), [a, b, c, d, 0, 0])
        assert image.symmetric_difference(placed(4, pose)).area < 1e-6 * image.area


@pytest.mark.parametrize("turn", [0.0, 45.0, 90.0, 225.0])
def test_the_copies_of_a_print_are_found_among_its_outlines(turn: float) -> None:
    other = Pose((-turn + 90) % 360, True)
    held = [shapely.affinity.translate(placed(6, pose), x, 3) for pose, x in ((Pose(turn), 0), (other, 30))]
    rings = tuple(ring for each in held for ring in outlines(each))
    printed = Print("flag", 6, turn, rings, 0.9)
    assert set(poses(printed, DRAWN)) == {Pose(turn), other}
    # Outlines of another shape tell nothing.
    assert poses(replace(printed, outlines=outlines(MultiPolygon([shapely.box(0, 0, 9, 9)]))), DRAWN) == [Pose(turn)]


def test_a_design_tells_how_its_print_lies() -> None:
    rings = outlines(shapely.affinity.translate(placed(4, Pose(90)), -10, 0))
    design = replace(made(14), prints=(Print("flag", 4, 90.0, rings, 0.9),))
    assert character(DRAWN) == FLAG
    assert lies(replace(design, symmetry="upright-mirror"), (DRAWN,)) == "on its side"
    assert lies(replace(design, symmetry="full"), (DRAWN,)) == "all ways up"
    assert lies(design, ()) == lies(replace(design, prints=()), (DRAWN,)) == ""
    assert shape_of(rings).area > 0
