"""The process that draws: what is asked goes before what is drawn, and it begins anew if it was killed."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Iterator
from concurrent.futures import BrokenExecutor, wait

import pytest

from constraints.fillings import ALLOWED
from constraints.stopping import Stopped
from explore.studio.easel import Easel
from explore.studio.swatches import swatch


@pytest.fixture
def easel() -> Iterator[Easel]:
    made = Easel()
    yield made
    made.close()


def test_what_is_asked_goes_before_what_waits_to_be_drawn(easel: Easel) -> None:
    done: list[int] = []
    drawn = [easel.draw(abs, -number) for number in range(1, 4)]
    asked = easel.ask(abs, -9)
    for each in (*drawn, asked):
        each.add_done_callback(lambda future: done.append(future.result()))
    wait([*drawn, asked])
    # The first is in hand already.
    assert done.index(9) <= 1
    assert [number for number in done if number != 9] == [1, 2, 3]


def test_what_fails_fails_for_whoever_asked_alone(easel: Easel) -> None:
    with pytest.raises(ZeroDivisionError):
        easel.ask(divmod, 1, 0).result(20)
    assert easel.ask(abs, -1).result(20) == 1


def test_it_begins_anew_if_it_was_killed(easel: Easel) -> None:
    killed = easel.ask(os.getpid).result(20)
    os.kill(killed, signal.SIGKILL)
    with pytest.raises(BrokenExecutor):
        # Nobody knows of it before something is asked.
        easel.ask(os.getpid).result(20)
    assert easel.ask(os.getpid).result(20) != killed


def test_once_it_is_ended_nothing_begins_it_again() -> None:
    easel = Easel()
    easel.ask(abs, -1).result(20)
    easel.close()
    with pytest.raises(Stopped, match="the studio ends"):
        easel.ask(abs, -1).result(20)


def test_who_waits_when_it_is_ended_is_told_so() -> None:
    easel = Easel()
    easel.ask(abs, -1).result(20)
    in_hand, waiting = easel.draw(time.sleep, 60), easel.draw(abs, -1)
    easel.close()
    for each in (in_hand, waiting):
        with pytest.raises(Stopped, match="the studio ends"):
            each.result(20)
    easel.close()


def test_drawings_are_kept_until_others_need_their_place(easel: Easel, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("explore.studio.easel._MOST_KEPT", 25)
    for number in range(3):
        easel.keep((number,), b"x" * 10)
        easel.kept((0,))
    assert [easel.kept((number,)) is None for number in range(3)] == [False, True, False]


def test_every_stitch_and_filling_has_a_swatch_of_its_own() -> None:
    drawn = [swatch(name) for name in ALLOWED]
    assert len(set(drawn)) == len(ALLOWED)
    assert all(each.startswith(b"<svg ") and each.count(b"<path") > 0 for each in drawn)
    with pytest.raises(KeyError):
        swatch("lattice")
