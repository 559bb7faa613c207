"""Roses whose pairs cross over in half stitch (Nottingham, The Technique of Torchon Lace; value from memory)."""

import numpy as np
from designs import made

from constraints.check import check
from constraints.design import Design, FieldFilling
from constraints.working.ledger import CROSS_OVER
from constraints.working.threads import play
from constraints.working.work import work

# Two side by side: they share a cross-over, and each has three more.
BESIDE = ((-6, -2), (-6, 2))


def half_stitch_roses(*holes: tuple[int, int]) -> Design:
    return made(
        12,
        FieldFilling("half-stitch-rose", holes),
        brief={"stitches": ["cloth", "half-stitch-rose"], "least": {"half-stitch-rose": len(holes)}},
    )


def test_a_field_of_half_stitch_roses_can_be_worked() -> None:
    assert check(half_stitch_roses(*BESIDE)) == []


def test_their_pairs_cross_over_in_half_stitch_and_part_there() -> None:
    done = work(half_stitch_roses((-6, 0)))
    over = np.flatnonzero(done.crossings.kind == CROSS_OVER)
    assert len(over) == 4
    assert {done.crossings.words_of(each) for each in over} == {"CT"}
    assert play(done).parted(done)[over].all()


def test_roses_and_half_stitch_roses_do_not_share_a_field() -> None:
    parts = FieldFilling("rose", BESIDE[:1]), FieldFilling("half-stitch-rose", BESIDE[1:])
    both = made(12, *parts, brief={})
    assert {finding.rule for finding in check(both)} >= {"one filling"}
