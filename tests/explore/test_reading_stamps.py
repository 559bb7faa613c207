"""The stamps that come with the program."""

from __future__ import annotations

import pytest
import shapely

from explore.reading import StampError, built_in, built_in_names, read
from explore.reading.upright import mirror_match


def test_there_are_five_with_the_tulip_among_them() -> None:
    assert built_in_names() == ("bee", "leaf", "snail", "tulip", "watering-can")


@pytest.mark.parametrize("name", built_in_names())
def test_each_is_read_without_a_remark_and_placed_fast(name: str) -> None:
    stamp = read(built_in(name))
    assert stamp.name == name
    assert stamp.notes == ()
    assert shapely.get_num_coordinates(stamp.shape) < 200


@pytest.mark.parametrize("name", built_in_names())
def test_each_is_bold_like_a_lino_cut(name: str) -> None:
    # Next to nothing is lost, nor any gap closed, at a line of a twentieth of the size.
    shape = read(built_in(name)).shape
    half_line = max(shape.bounds[2] - shape.bounds[0], shape.bounds[3] - shape.bounds[1]) / 40
    bold = shape.buffer(-half_line).buffer(half_line)
    open_ = shape.buffer(half_line).buffer(-half_line)
    assert bold.area > 0.97 * shape.area
    assert open_.area < 1.05 * shape.area


@pytest.mark.parametrize(("name", "symmetric"), [("tulip", True), ("leaf", True), ("bee", True), ("snail", False)])
def test_some_are_mirror_images_of_themselves(name: str, symmetric: bool) -> None:
    assert (mirror_match(read(built_in(name)).shape, 0) > 0.98) == symmetric


@pytest.mark.parametrize(("typed", "meant"), [("tulpi", "tulip"), ("Snail", "snail"), ("can", "watering-can")])
def test_an_unknown_name_is_answered_with_the_nearest(typed: str, meant: str) -> None:
    with pytest.raises(StampError, match=f"did you mean {meant}"):
        built_in(typed)
