"""Following an order of work, and seeing that a changed one cannot be followed."""

from __future__ import annotations

from random import Random

import pytest
from before_her import pricking_of, text_of
from changed_texts import changed
from player.fault import Fault
from player.following import follow
from player.pricking import Pricking

from constraints.design import Design
from constraints.working.habits import Habits
from constraints.working.work import work
from gallery.order.words import Telling


def played(design: Design, habits: Habits | None = None, telling: Telling | None = None) -> None:
    """The order of work of a square, followed to its end. Fault where it cannot be."""
    done, telling = work(design, habits), telling or Telling("Order of work 07, greenhouse")
    follow(text_of(done, telling), pricking_of(done, telling.mirrored))


def refused(text: str, pricking: Pricking, random: Random, times: int) -> None:
    """That so many texts, each with something changed, cannot be followed."""
    for _ in range(times):
        false, what = changed(text, random)
        try:
            follow(false, pricking)
        except Fault:
            continue
        pytest.fail(f"followed although {what}")
