"""A square worked, and checked so, before any paper of it is written."""

from __future__ import annotations

from constraints.square import Square
from constraints.working import ends
from constraints.working.check import faults
from constraints.working.habits import Habits
from constraints.working.work import Work, work
from explore.refused import Refused


def worked(square: Square, habits: Habits | None = None) -> Work:
    """How a square is worked, both ends included. Refused, with what is amiss, if it cannot be."""
    try:
        done = work(square, habits)
    except ValueError as error:
        raise Refused(f"{square.number:02d}: {error}") from None
    wrong = [*faults(done), *ends.faults(done, ends.ends_of(done))]
    if wrong:
        raise Refused(f"{square.number:02d} cannot be worked: {wrong[0]}; stampwork check tells more")
    return done
