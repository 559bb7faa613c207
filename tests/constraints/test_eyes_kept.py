"""Eyes of a piece made from another: kept at their places as long as there is cloth of one block on every side.

Places are counted by hand on the grid; that an eye needs cloth on every side is from a lacemaker's memory, no source.
"""

from __future__ import annotations

from dataclasses import replace

from designs import Points, blocks, diamond, made
from strips import FRAME, strip, worked_round

from constraints.catalogue import CATALOGUE, Edged, offers
from constraints.check import check
from constraints.design import Design
from constraints.eyes import with_eyes, with_kept
from constraints.forms import Strip
from constraints.repeats import repeat_of, unrolled
from constraints.working.check import faults
from constraints.working.work import work

LEFT: Points = diamond((-10, -3), 5)  # its middle is (-10, 1)
RIGHT: Points = {(-x, -y) for x, y in LEFT}
FEW = {"solid": (0.0, 1.0)}


def _two(*parts: Points, stitch: str = "cloth", symmetry: str = "half-turn") -> Design:
    return made(18, *(block for part in parts for block in blocks(stitch, part)), symmetry=symmetry)


def test_an_eye_is_kept_with_its_images_where_its_block_is_and_not_elsewhere() -> None:
    both = ((10, -1), (-10, 1))
    assert with_kept(_two(LEFT, RIGHT), both).eyes == both
    assert with_kept(_two(LEFT, RIGHT), [(-10, 1)]).eyes == both
    assert with_kept(_two(LEFT, RIGHT, symmetry="none"), [(-10, 1)]).eyes == ((-10, 1),)
    # Its block is gone, worked in half stitch, or ends beside it; another wider one has it as well.
    assert with_kept(_two(), both).eyes == ()
    assert with_kept(_two(LEFT, RIGHT, stitch="half"), both).eyes == ()
    small = {(x, y) for x, y in LEFT if y <= 1}
    assert with_kept(_two(small, {(-x, -y) for x, y in small}), both).eyes == ()
    wide = diamond((-10, -5), 7)
    assert with_kept(_two(wide, {(-x, -y) for x, y in wide}), both).eyes == both


def test_eyes_it_has_besides_go_and_none_touch() -> None:
    opened = _two(LEFT, RIGHT).opened(((10, -1), (-10, 1)))
    assert with_kept(opened, []).eyes == ()
    beside = with_kept(_two(LEFT, RIGHT), [(-10, 1), (-9, 2), (-10, 3)])
    assert beside.eyes == ((10, -1), (-10, 1))
    assert check(beside) == []


def test_a_hole_of_a_print_that_has_an_eye_gets_no_other() -> None:
    ring = tuple((x, y) for x, y in ((-10.9, 0.1), (-9.1, 0.1), (-9.1, 1.9), (-10.9, 1.9)))
    outside = ((-16.0, -5.0), (-4.0, -5.0), (-4.0, 7.0), (-16.0, 7.0))
    for own in ((-10, 1), (-9, 2)):
        opened = _two(LEFT, symmetry="none").opened([own])
        assert with_eyes(opened, [outside, ring]).eyes == (own,)


# --- other edgings ---------------------------------------------------------------------------------------

# A strip of 13 columns, each repeat of 24 rows with a diamond of five pinholes a side in its middle.
STRIP = Strip(13, 24, 3)
EYES = [(6, 11), (6, 35), (6, 59)]


def _strip() -> Design:
    return replace(strip(STRIP, ("cloth", diamond((6, 7), 5)), brief=FEW), eyes=tuple(EYES))


def test_a_square_and_a_frame_keep_their_eyes_with_every_edging() -> None:
    square = replace(_two(LEFT, RIGHT), eyes=((10, -1), (-10, 1)))
    # In the band of a frame, 12 units wide, a diamond of four a side beside its opening on either hand.
    sides = diamond((-14, -5), 4) | diamond((14, -5), 4)
    frame = worked_round(FRAME, ("cloth", sides), symmetry="upright-mirror", brief=FEW).opened([(-14, -3), (14, -3)])
    for piece in (square, frame):
        assert check(piece) == []
        every = _every(piece)
        assert len(every) > 10
        assert len({offer.grown for offer in every}) > 1
        for offer in every:
            assert offer.piece.eyes == piece.eyes
            assert faults(work(offer.piece)) == []


def _every(piece: Design) -> list[Edged]:
    """The piece with every edging of the catalogue that fits, as little grown as may be."""
    first = (next((each for each in offers(piece, wanted) if not check(each.piece)), None) for wanted in CATALOGUE)
    return [each for each in first if each is not None]


def test_a_strip_keeps_its_eyes_with_every_edging_and_in_every_repeat() -> None:
    piece = _strip()
    assert (piece.eyes, check(piece)) == (tuple(EYES), [])
    every = _every(piece)
    assert len(every) > 10
    # Where whole fans fit only then, several repeats are one; there are as many eyes as diamonds all the same.
    assert {each.rows for each in every} > {24}
    for offer in every:
        assert set(offer.piece.eyes) == {(6, y) for y in range(11, offer.piece.form.box[3] - 2, 24)}
        assert faults(work(offer.piece)) == []


# --- repeats of a strip ----------------------------------------------------------------------------------


def test_a_longer_strip_has_an_eye_in_every_repeat() -> None:
    once = repeat_of(_strip()).design
    assert once.eyes == ((6, 11),)
    longer = unrolled(replace(once, form=Strip(13, 24, 5)), Strip(13, 24, 5))
    assert longer.eyes == tuple((6, y) for y in (11, 35, 59, 83, 107))
    assert check(longer) == []


def test_a_strip_whose_ends_cut_a_block_has_eyes_where_there_is_cloth_before_the_end() -> None:
    """The diamond of rows 19 to 27 begins again at its middle, row -1; its eye in row 1 has one row before it."""
    places = {(x, y % 24) for x, y in diamond((6, 19), 5)}
    piece = strip(STRIP, ("cloth", places), brief=FEW)
    for row, rows in ((21, (21, 45, 69)), (25, (25, 49))):
        kept = with_kept(piece, [(6, row)])
        assert kept.eyes == tuple((6, y) for y in rows)
        assert check(kept) == []
    assert repeat_of(with_kept(piece, [(6, 25)])).design.eyes == ((6, 1),)


def test_the_second_check_wants_the_same_eyes_in_every_repeat() -> None:
    found = check(_strip().opened(EYES[1:]))
    assert [(each.rule, each.message, each.pinholes) for each in found] == [
        ("repeat", "eyes that differ from one repeat to another", ((6, 11),))
    ]
