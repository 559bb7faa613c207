"""Tasks done by many come back in their order, whoever was first."""

import time

import pytest

from explore.crew import Crew


def tools(word: str) -> dict[str, str]:
    return {"word": word}


def slow_when_early(tool: dict[str, str], number: int, task: float) -> str:
    time.sleep(task)
    return f"{tool['word']} {number}"


def failing(tool: dict[str, str], number: int, task: int) -> int:
    return 1 // task


@pytest.mark.parametrize("cores", [1, 3])
def test_results_come_in_the_order_of_the_tasks(cores: int) -> None:
    with Crew(tools, ("job",), cores) as crew:
        tasks = [(n, 0.02 if n == 0 else 0.0) for n in range(12)]
        assert list(crew.in_order(slow_when_early, tasks)) == [(n, f"job {n}") for n in range(12)]


@pytest.mark.parametrize("cores", [1, 2])
def test_an_error_in_a_worker_reaches_the_caller(cores: int) -> None:
    with Crew(tools, ("job",), cores) as crew, pytest.raises(ZeroDivisionError):
        list(crew.in_order(failing, [(0, 1), (1, 0)]))
