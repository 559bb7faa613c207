"""Tasks done by many come back in their order, whoever was first."""

import multiprocessing
import os
import pickle
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from threading import Event, Thread

import pytest

from explore.search.workers import Outfit, WorkerPool


def tools(word: str) -> dict[str, str]:
    return {"word": word}


def slow_when_early(tool: dict[str, str], number: int, task: float) -> str:
    time.sleep(task)
    return f"{tool['word']} {number}"


def failing(tool: dict[str, str], number: int, task: int) -> int:
    return 1 // task


@pytest.mark.parametrize("cores", [1, 3])
def test_results_come_in_the_order_of_the_tasks(cores: int) -> None:
    with WorkerPool(tools, ("job",), cores) as workers:
        tasks = [(n, 0.02 if n == 0 else 0.0) for n in range(12)]
        assert list(workers.in_order(slow_when_early, tasks)) == [(n, f"job {n}") for n in range(12)]


@pytest.mark.parametrize("cores", [1, 2])
def test_what_is_done_is_handed_in_while_the_next_task_is_not_known_yet(cores: int) -> None:
    handed_in: list[int] = []

    def tasks() -> Iterator[tuple[int, float] | None]:
        yield 0, 0.0
        while not handed_in:  # the next task depends on what the first comes to
            yield None
        yield 1, 0.0

    with WorkerPool(tools, ("job",), cores) as workers:
        for number, _ in workers.in_order(slow_when_early, tasks()):
            handed_in.append(number)
    assert handed_in == [0, 1]


def who_made_it(tool: dict[str, str], number: int, task: None) -> str:
    return tool["by"]


def made_here() -> dict[str, str]:
    return {"by": str(os.getpid())}


@pytest.mark.skipif("fork" not in multiprocessing.get_all_start_methods(), reason="other workers begin with nothing")
def test_forked_workers_take_over_the_tools_that_are_made_already() -> None:
    for own, same in ((made_here(), True), (None, False)):
        with WorkerPool(made_here, (), 2, own) as workers:
            makers = {maker for _, maker in workers.in_order(who_made_it, [(n, None) for n in range(4)])}
        assert (makers == {str(os.getpid())}) == same


def test_tools_that_are_made_already_are_not_pickled() -> None:
    told = pickle.loads(pickle.dumps(Outfit(made_here, (), {"by": "somebody else"})))
    assert told.tools() == made_here()


@pytest.mark.parametrize("cores", [1, 2])
def test_an_error_in_a_worker_reaches_the_caller(cores: int) -> None:
    with WorkerPool(tools, ("job",), cores) as workers, pytest.raises(ZeroDivisionError):
        list(workers.in_order(failing, [(0, 1), (1, 0)]))


def who(tool: dict[str, str], number: int, task: float) -> int:
    time.sleep(task)
    return os.getpid()


def there(pid: int) -> bool:
    """Whether a process runs; one that has ended and waits to be asked does not."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except FileNotFoundError:
        return False


def in_time(happened: Callable[[], bool]) -> bool:
    """Whether something happens before anybody would have given up."""
    end = time.monotonic() + 60.0
    while not happened() and time.monotonic() < end:
        time.sleep(0.05)
    return happened()


def test_a_pool_that_stops_ends_its_own_workers_and_no_others() -> None:
    """Another pool that began later goes on, and so does a process that belongs to nobody here."""
    stranger = multiprocessing.get_context("spawn").Process(target=time.sleep, args=(600,))
    begun, stopped = Event(), Event()
    results: list[tuple[int, int]] = []

    def other() -> None:
        with WorkerPool(tools, ("job",), 2) as workers:
            for result in workers.in_order(who, [(n, 0.0) for n in range(20)]):
                results.append(result)
                begun.set()
                if len(results) == 3:
                    assert stopped.wait(60.0)

    thread = Thread(target=other)
    with suppress(KeyError), WorkerPool(tools, ("job",), 2) as workers:
        own = {pid for _, pid in workers.in_order(who, [(n, 0.01) for n in range(12)])}
        stranger.start()
        thread.start()
        assert begun.wait(60.0)
        raise KeyError
    stopped.set()
    thread.join()
    assert in_time(lambda: not any(map(there, own)))
    assert [number for number, _ in results] == list(range(20))
    assert stranger.is_alive()
    stranger.terminate()
    stranger.join()


# A command begun with nohup hands on that SIGHUP is ignored.
LONG = """
import os, signal, sys, time
from explore.search.workers import Outfit, WorkerPool

signal.signal(signal.SIGHUP, signal.SIG_DFL)

def make():
    os.write(1, b"%d\\n" % os.getpid())  # in one piece: two workers write at once

def work(tool, number, task):
    time.sleep(600)

with WorkerPool(make, (), 2) as workers:
    list(workers.in_order(work, [(n, n) for n in range(6)]))
"""


@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGHUP, signal.SIGKILL])
def test_workers_end_with_their_parent_however_that_ends(how: signal.Signals) -> None:
    with subprocess.Popen([sys.executable, "-c", LONG], stdout=subprocess.PIPE, text=True) as parent:
        assert parent.stdout is not None
        try:
            workers = [int(parent.stdout.readline()) for _ in range(2)]
            assert all(map(there, workers))
            parent.send_signal(how)
            assert parent.wait() == -how
        finally:
            parent.kill()  # what fails here waits for no command that goes on
        assert in_time(lambda: not any(map(there, workers)))
