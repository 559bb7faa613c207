"""A square worked, and checked so, before any paper of it is written."""

from __future__ import annotations

from constraints.design import Design
from constraints.piece import ROUND
from constraints.working import ends
from constraints.working.check import faults
from constraints.working.habits import Habits
from constraints.working.work import Work, work
from explore.bad_input import BadInput


def finishes(design: Design, finish: str) -> str:
    """What she should know of a finish on a square, on one line; "" if nothing. Refused if it cannot end so."""
    if finish == ends.SEWINGS and design.worked != ROUND and design.form.repeating is None:
        others = ", ".join(each for each in ends.FINISHES if each != ends.SEWINGS)
        raise BadInput(
            f"{design.number:02d} is a {design.form.name} worked across, which does not meet its own beginning; "
            f"finishes for it: {others}"
        )
    if finish not in (ends.KNOTS, ends.SEWINGS) and design.worked == ROUND:
        return f"{design.number:02d} is worked round and ends with sewings; a finish is for work with a last edge"
    return ""


def worked(design: Design, habits: Habits | None = None) -> Work:
    """How a square is worked, both ends included. Refused, with what is amiss, if it cannot be."""
    try:
        done = work(design, habits)
    except ValueError as error:
        raise BadInput(f"{design.number:02d}: {error}") from None
    wrong = [*faults(done), *ends.faults(done, ends.ends_of(done))]
    if wrong:
        raise BadInput(f"{design.number:02d} cannot be worked: {wrong[0]}; stampwork check tells more")
    return done
