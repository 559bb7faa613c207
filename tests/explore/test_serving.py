"""Searches side by side: told event by event, stopped at once, and each as if it were alone."""

from __future__ import annotations

import asyncio
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from concurrent.futures import wait
from pathlib import Path

import pytest
from formulas import sum_free

from constraints.brief import KNOWN, Brief
from constraints.design_file import to_text
from constraints.solver import Solver
from constraints.stopping import Stopped
from explore.reading import built_in, read
from explore.search.crew import Crew, Share
from explore.search.search import search
from explore.search.workers import WorkerPool
from explore.serving.events import End, Ended, Event, Found, InVain, PlacesLaid
from explore.serving.searches import Searches, Wanted

TULIP = read(built_in("tulip"))
SMALL = Brief.of(half_size=(8, 9), count=4, symmetry="quarter-turn", solid=(0.1, 0.5))
LARGE = Brief.of(half_size=(22, 22), count=4, known=KNOWN, own_splits=6)
STAMPED = Brief.of(half_size=(14, 14), count=3, match=0.6, narrowest_ground=1, symmetry="upright-mirror")


@pytest.fixture(scope="module")
def searches() -> Iterator[Searches]:
    with Searches(2) as found:
        yield found


def squares(events: list[Event]) -> list[str]:
    return [to_text(each.design) for each in events if isinstance(each, Found)]


def alone(wanted: Wanted) -> list[str]:
    every = (step.design for step in search(wanted.brief, *wanted.stamps, cores=1))
    return [to_text(design) for design in every if design is not None]


def test_two_searches_in_one_event_loop_one_stopped_amid_its_laying_the_other_as_if_alone(searches: Searches) -> None:
    async def both() -> tuple[list[Event], list[Event], float]:
        kept, stopped = searches.begin(Wanted(STAMPED, (TULIP,))), searches.begin(Wanted(LARGE, (TULIP,)))

        async def all_of_kept() -> list[Event]:
            return [each async for each in kept]

        whole = asyncio.create_task(all_of_kept())
        events, asked = [], 0.0
        async for each in stopped:
            events.append(each)
            if isinstance(each, PlacesLaid) and not asked:
                asked = time.monotonic()
                stopped.cancel()
        took = time.monotonic() - asked
        return await whole, events, took

    kept, stopped, took = asyncio.run(both())
    assert stopped[-1] == Ended(End.CANCELLED, 0)
    assert sum(isinstance(each, PlacesLaid) for each in stopped) == 1
    assert took < 0.2
    assert kept[-1] == Ended(End.ENOUGH, 3)
    assert squares(kept) == alone(Wanted(STAMPED, (TULIP,)))


def test_whoever_comes_later_is_told_all_of_it(searches: Searches) -> None:
    running = searches.begin(Wanted(SMALL, ()))
    first = list(running.events())
    assert squares(first) == alone(Wanted(SMALL, ()))
    assert list(running.events()) == first
    assert running.ended

    async def again() -> list[Event]:
        return [each async for each in running]

    assert asyncio.run(again()) == first


def test_a_search_goes_on_where_another_ended(searches: Searches) -> None:
    whole = list(searches.begin(Wanted(SMALL, ())).events())
    begun = list(searches.begin(Wanted(SMALL, (), count=2)).events())
    found = [each for each in begun if isinstance(each, Found)]
    designs = [each.design for each in found]
    rest = searches.begin(Wanted(SMALL, (), designs, found[-1].job + 1, 3, 2))
    assert squares(begun) + squares(list(rest.events())) == squares(whole)


def test_what_is_proven_is_told_as_an_event_and_so_is_a_search_in_vain(searches: Searches) -> None:
    impossible = list(searches.begin(Wanted(Brief.of(pairs=1))).events())
    assert [type(each) for each in impossible] == [Ended]
    assert isinstance(impossible[0], Ended)
    assert impossible[0].end is End.IMPOSSIBLE
    assert "pairs" in impossible[0].why
    in_vain = list(searches.begin(Wanted(SMALL.changed(apart=1.0), (), count=3)).events())
    assert isinstance(in_vain[-1], Ended)
    assert in_vain[-1].end is End.FEWER
    assert in_vain[-1].why
    assert any(isinstance(each, InVain) for each in in_vain)


def test_a_search_that_is_over_cannot_be_stopped_any_more(searches: Searches) -> None:
    running = searches.begin(Wanted(SMALL, (), count=1))
    events = list(running.events())
    running.cancel()
    assert list(running.events()) == events


def slow(tools: str, number: int, task: float) -> str:
    time.sleep(task)
    return f"{tools} {number} {os.getpid()}"


def made(word: str) -> str:
    return word


def test_the_processes_of_a_crew_serve_one_search_after_the_other() -> None:
    crew = Crew(1)
    try:
        seen = []
        for word in ("one", "two"):
            with WorkerPool(made, (word,), Share(crew)) as workers:
                seen += [result for _, result in workers.in_order(slow, [(n, 0.0) for n in range(2)])]
        words, pids = zip(*(each.rsplit(" ", 1) for each in seen), strict=True)
        assert words == ("one 0", "one 1", "two 0", "two 1")
        assert len(set(pids)) == 1
        assert pids[0] != str(os.getpid())
    finally:
        crew.close()


def noted(folder: str, number: int, wait: float) -> int:
    """Leave a file as soon as the task is begun."""
    (Path(folder) / str(number)).touch()
    time.sleep(wait)
    return number


def test_whoever_waits_for_a_stopped_share_is_told_at_once_and_its_other_tasks_are_not_begun(tmp_path: Path) -> None:
    crew = Crew(1)
    try:
        share = Share(crew)

        def stop() -> None:
            while not (tmp_path / "0").exists():
                time.sleep(0.01)
            time.sleep(0.3)
            share.stop()

        threading.Thread(target=stop, daemon=True).start()
        with WorkerPool(str, (str(tmp_path),), share) as workers, pytest.raises(Stopped):
            list(workers.in_order(noted, [(0, 2.0), (1, 2.0), (2, 2.0)]))
        with WorkerPool(made, ("next",), Share(crew)) as workers:
            (answer,) = workers.in_order(slow, [(0, 0.0)])
        assert answer[1].startswith("next 0")
        # It waits for the first task alone: the others were taken back.
        assert {path.name for path in tmp_path.iterdir()} == {"0"}
    finally:
        crew.close()


def test_what_can_wait_is_begun_when_nothing_else_waits() -> None:
    crew = Crew(1)
    try:
        done: list[str] = []
        shares = {"first": Share(crew), "patient": Share(crew, True), "stopped": Share(crew, True), "next": Share(crew)}
        asked = []
        for number, (word, share) in enumerate(shares.items()):
            # All others wait behind the first.
            asked.append(share.submit(number, str, slow, number, 0.5 if word == "first" else 0.0))
            asked[-1].add_done_callback(lambda _, word=word: done.append(word))
        shares["stopped"].stop()
        wait(asked, 20)
        assert done == ["stopped", "first", "next", "patient"]
    finally:
        crew.close()


def solved_long(folder: str, number: int, task: None) -> None:
    """What no solver ends by itself; leaves a file as soon as it is begun, and how long the processor had to do with
    it, s."""
    solver = Solver(sum_free(161, 5))
    (Path(folder) / "begun").touch()
    begun = time.process_time()
    try:
        solver.prove(20.0)
    finally:
        (Path(folder) / "spent").write_text(str(time.process_time() - begun))


def test_a_process_is_free_as_soon_as_the_search_is_stopped_that_it_solves_for(tmp_path: Path) -> None:
    crew = Crew(1)
    try:
        share = Share(crew)

        def stop() -> None:
            while not (tmp_path / "begun").exists():
                time.sleep(0.01)
            time.sleep(0.3)
            share.stop()

        threading.Thread(target=stop, daemon=True).start()
        with WorkerPool(str, (str(tmp_path),), share) as workers, pytest.raises(Stopped):
            list(workers.in_order(solved_long, [(0, None)]))
        with WorkerPool(made, ("next",), Share(crew)) as workers:
            (answer,) = workers.in_order(slow, [(0, 0.0)])
        assert answer[1].startswith("next 0")
        assert float((tmp_path / "spent").read_text()) < 5.0
    finally:
        crew.close()


HOLDING = """
import os, sys, time
from explore.search.crew import Crew, Share
from explore.search.workers import WorkerPool

def made(): return None
def pid(tools, number, task): return os.getpid()

if __name__ == "__main__":
    crew = Crew(1)
    with WorkerPool(made, (), Share(crew)) as workers:
        print(next(workers.in_order(pid, [(0, None)]))[1], flush=True)
        time.sleep(600)
"""


@pytest.mark.skipif(not Path("/proc").is_dir(), reason="asks the system which processes run")
def test_a_crew_ends_with_its_parent_however_that_ends(tmp_path: Path) -> None:
    script = tmp_path / "holding.py"
    script.write_text(HOLDING)
    with subprocess.Popen([sys.executable, str(script)], stdout=subprocess.PIPE, text=True) as parent:
        assert parent.stdout is not None
        worker = Path(f"/proc/{int(parent.stdout.readline())}")
        assert worker.exists()
        parent.send_signal(signal.SIGKILL)
    end = time.monotonic() + 60.0
    while worker.exists() and time.monotonic() < end:
        time.sleep(0.05)
    assert not worker.exists()
