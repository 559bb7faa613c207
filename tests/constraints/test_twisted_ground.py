"""Twisted ground, TTC pin TTC (Halley 2013, Grounds for Torchon; value from memory)."""

import numpy as np
from designs import blocks, border_trail, made

from constraints.check import check
from constraints.design import Design, FieldFilling
from constraints.working.habits import Habits
from constraints.working.ledger import GROUND, NOWHERE
from constraints.working.threads import play
from constraints.working.work import work

INSIDE = [(x, y) for y in range(-6, 7) for x in range(-6, 7) if (x + y) % 2]


def twisted() -> Design:
    """A closed trail, twisted ground in the field inside it, plain ground outside."""
    return made(
        12,
        *blocks("cloth", border_trail(12, 3, 3)),
        FieldFilling("twisted-ground", tuple(INSIDE)),
        symmetry="full",
        brief={"stitches": ["cloth", "twisted-ground"], "least": {"twisted-ground": len(INSIDE)}},
    )


def test_a_field_in_twisted_ground_can_be_worked() -> None:
    assert check(twisted()) == []


def test_at_each_of_its_pins_both_pairs_leave_on_the_side_on_which_they_came() -> None:
    done = work(twisted(), Habits())
    crossings, threads = done.crossings, play(done)
    own = np.flatnonzero((crossings.kind == GROUND) & (crossings.filling != NOWHERE))
    assert len(own) == len(INSIDE)
    assert {crossings.words_of(each) for each in own} == {"TTC.TTC"}
    for side in (0, 1):
        came, gone = threads.end[crossings.taken[own, side]], threads.begin[crossings.given[own, side]]
        assert (np.sort(came) == np.sort(gone)).all()
