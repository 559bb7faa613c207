"""Pins numbered as they are put up, so that pricking, diagram and order of work speak of the same pin."""

from __future__ import annotations

import numpy as np

from constraints.lattice import IntArray, Place
from constraints.working.work import Work


def pin_numbers(work: Work) -> IntArray:
    """(pins,) the number of each of `work.pins`, from 1 in the order in which they are put up.

    The ledger is written as the lace is worked, so its pins stand in that order already; a pin that is used
    again keeps its first number.
    """
    return np.arange(1, len(work.pins) + 1)


def number_at(work: Work) -> dict[Place, int]:
    """Where each pin stands, lattice units, to its number."""
    return {pin.place: number for pin, number in zip(work.pins, pin_numbers(work).tolist(), strict=True)}
