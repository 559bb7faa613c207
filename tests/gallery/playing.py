"""Following an order of work, and seeing that a changed one cannot be followed."""

from __future__ import annotations

from random import Random

import pytest
from before_her import Told, pricking_of, text_of
from changed_texts import changed
from player.board import Board
from player.fault import Fault
from player.following import follow
from player.looking import look
from player.pricking import Pricking

from constraints.design import Design
from constraints.working.habits import Habits
from constraints.working.work import Work, work
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


def looked(done: Work, telling: Telling, told: list[Told]) -> None:
    """An order of work followed, and after every sentence looked where the pairs hang. Fault if one hangs elsewhere."""
    left = iter(told)

    def after(board: Board) -> None:
        if pairs := next(left):
            look(board, pairs)

    follow(text_of(done, telling), pricking_of(done, telling.mirrored), after)
    assert next(left, None) is None
