"""Rose units of two fields that touch without a common corner: a pair between them crosses over once."""

from __future__ import annotations

import numpy as np
import pytest
from designs import made, roses

from constraints.working import ledger
from constraints.working.check import faults
from constraints.working.work import work


@pytest.mark.parametrize("beside", [(3, -9), (-3, -9), (2, -8), (-2, -8)])
def test_a_pair_between_two_roses_crosses_over_once(beside: tuple[int, int]) -> None:
    # (2, -8) shares a corner with the rose at (0, -10), as in one field; (3, -9) does not.
    done = work(made(14, roses({(0, -10), beside})))
    assert faults(done) == []
    over = np.flatnonzero(done.crossings.kind == ledger.CROSS_OVER)
    # A rose has a cross-over at each of its four corners (teaching pages of Jo Edkins); one is common to both.
    assert len(over) == 7
    # No pair goes from one cross-over straight to the next.
    assert not np.isin(done.segments.head[done.crossings.given[over]], over).any()
