"""Families: stated in figures, true of the files, refused in one line where the chosen ones share nothing."""

from __future__ import annotations

import numpy as np
import pytest
from walls import contrast, diamond, four, grid, hand_made, ring, shares, tulip, worked

from constraints.design import Design
from constraints.fillings import UNITS
from constraints.forms import Square
from constraints.layout import lay
from constraints.places import KIND_NUMBERS
from explore.bad_input import BadInput
from explore.editing.series.contrast import differences
from explore.editing.series.family import SHARES, family
from explore.editing.series.part import Part
from explore.editing.series.trail import longest_trail

BORDERED = hand_made(
    14, [("cloth", ring(11, 10)), ("half", diamond(0, 0, 4))], roses=[(5, 5), (-5, -5)], printed=tulip()
)
SAME_BORDER = hand_made(14, [("cloth", ring(11, 10)), ("cloth", four(4, 4, 3))], number=2, printed=tulip(5.0))
SAME_CENTRE = hand_made(17, [("cloth", four(11, 0, 3)), ("half", diamond(0, 0, 4))], number=3, printed=tulip(6.0, 90.0))
PLAIN = hand_made(14, number=4)


def test_every_pinhole_is_told_as_the_file_tells_it() -> None:
    design = hand_made(9, [("cloth", ring(6, 5))], roses=[(0, 2)], spiders=[(-2, 0)], double=[(1, 0)], symmetry="none")
    part, file = Part.of(lay(design), np.ones(len(design.piece()), dtype=np.bool_)), worked(design)
    figures = [KIND_NUMBERS[name] for name in UNITS]
    same = {
        ((number, x + dx, y + dy) if number in figures else number, file[x, y])
        for (x, y), (number, dx, dy) in zip(part.pinholes.tolist(), part.worked.tolist(), strict=True)
    }
    assert len(part) == len(grid(9))
    assert len(same) == len({a for a, _ in same}) == len({b for _, b in same}) == 5


@pytest.mark.parametrize("share", SHARES)
def test_the_statement_of_a_family_holds_for_its_own_square(share: str) -> None:
    found = family(share, [BORDERED])
    assert found.holds(BORDERED)
    assert shares(BORDERED, {"share": share, **found.figures}, BORDERED)


@pytest.mark.parametrize("share", SHARES)
@pytest.mark.parametrize("other", [SAME_BORDER, SAME_CENTRE, PLAIN], ids=["border", "centre", "plain"])
def test_who_belongs_can_be_told_from_the_files_alone(share: str, other: Design) -> None:
    found = family(share, [BORDERED])
    if share == "stamp" and not other.prints:
        assert not found.holds(other)
    else:
        assert found.holds(other) is shares(other, {"share": share, **found.figures}, BORDERED)


def test_each_family_takes_what_has_its_part_and_no_other() -> None:
    belongs = {
        share: [family(share, [BORDERED]).holds(each) for each in (BORDERED, SAME_BORDER, SAME_CENTRE, PLAIN)]
        for share in SHARES
    }
    assert belongs == {
        "stamp": [True, False, False, False],
        "border": [True, True, False, False],
        "centre": [True, False, True, False],
        "trail": [True, True, False, False],
    }


def test_the_border_ends_where_it_cuts_no_block() -> None:
    # The trail lies 3 and 4 units from the edge; the rows at 5 and 6 are the first two without a block.
    assert family("border", [BORDERED]).figures["depth"] == 5
    # The diamond of four pinholes a side reaches 3 units from the centre; 4 and 5 are free.
    assert family("centre", [BORDERED]).figures["reach"] == 4


def test_a_trail_that_closes_round_the_centre_goes_before_larger_blocks() -> None:
    closed = longest_trail(BORDERED)
    assert closed is not None
    assert (closed.closed, closed.stitch) == (True, "cloth")
    trail = {(x, y) for x, y in grid(14) if 10 <= max(abs(x), abs(y)) <= 11 and abs(x) + abs(y) < 21}
    assert set(closed.pinholes) == trail


def test_without_one_it_is_the_largest_block_with_its_images() -> None:
    gap = hand_made(14, [("cloth", lambda x, y: ring(11, 10)(x, y) and not (y < 0 and abs(x) < 3))], symmetry="none")
    found = longest_trail(gap)
    assert found is not None
    assert not found.closed
    quarters = hand_made(14, [("half", four(8, 0, 4)), ("cloth", diamond(0, 0, 2))])
    found = longest_trail(quarters)
    assert found is not None
    assert (found.closed, found.stitch, len(found.pinholes)) == (False, "half", 4 * 16)


def test_a_solid_middle_does_not_close_round_the_centre() -> None:
    found = longest_trail(hand_made(14, [("cloth", diamond(0, 0, 8))]))
    assert found is not None
    assert not found.closed


def test_a_part_is_kept_by_the_symmetries_it_has() -> None:
    assert family("border", [BORDERED]).part.kept_by(BORDERED.piece("full"))
    lone = hand_made(14, [("cloth", ring(11, 10))], roses=[(2, 12), (-2, 12)], symmetry="upright-mirror")
    found = family("border", [lone])
    names = ("full", "quarter-turn", "half-turn", "upright-mirror", "none")
    kept = {name for name in names if found.part.kept_by(lone.piece(name))}
    assert kept == {"upright-mirror", "none"}


def test_the_mask_is_the_part_on_any_piece_that_holds_it() -> None:
    found = family("centre", [BORDERED])
    for half_size in (14, 20):
        piece = Square(half_size).piece("round")
        assert {tuple(p) for p in piece.pinholes[found.part.mask(piece)].tolist()} == {
            tuple(p) for p in found.part.pinholes.tolist()
        }
    with pytest.raises(KeyError):
        family("trail", [BORDERED]).part.mask(Square(8).piece("round"))


@pytest.mark.parametrize(
    ("share", "chosen", "words"),
    [
        ("centre", [BORDERED, SAME_BORDER], "01 and 02 do not share the centre .*they share the border and the trail"),
        ("border", [BORDERED, SAME_CENTRE, PLAIN], "01, 03 and 04 do not share the border .*neither stamp"),
        ("stamp", [PLAIN], "04 has no stamp to share"),
        ("border", [PLAIN], "04 has no block"),
        ("trail", [PLAIN], "04 has no block"),
        ("centre", [PLAIN], "04 has no centre to share"),
    ],
)
def test_what_is_not_shared_is_refused_with_what_is(share: str, chosen: list[Design], words: str) -> None:
    with pytest.raises(BadInput, match=words) as caught:
        family(share, chosen)
    assert len(str(caught.value).splitlines()) == 1


def test_turns_that_look_alike_count_as_one() -> None:
    found = family("stamp", [hand_made(14, printed=tulip(6.0, 0.0))])
    assert found.holds(hand_made(14, printed=tulip(6.0, 360.0)))
    assert not found.holds(hand_made(14, printed=tulip(6.0, 0.0, reverse=True)))


def test_differences_are_those_of_the_files() -> None:
    designs = [BORDERED, SAME_BORDER, SAME_CENTRE, PLAIN]
    table = differences(designs)
    for i, one in enumerate(designs):
        for j, other in enumerate(designs):
            assert table[i, j] == pytest.approx(contrast(one, other) if i != j else 0.0)
