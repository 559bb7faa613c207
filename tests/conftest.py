"""Habits of all tests: the same random examples in every run, and no skip where the environment says CI=true."""

import gc
import os
from collections.abc import Generator, Iterator
from typing import TypeVar

import pytest
from hypothesis import settings

# No test reads the settings of whoever runs it, nor does a program that a test starts.
os.environ["STAMPWORK_SETTINGS"] = os.path.join(os.path.dirname(__file__), "no settings.toml")

# A shared machine may be slow, so no example has a deadline. `--hypothesis-profile search` tries new ones.
settings.register_profile("search", deadline=None)
settings.register_profile("steady", deadline=None, derandomize=True, database=None)
settings.load_profile("steady")


# Tests keep much alive, and a search makes few circles: to look for them as often as Python does takes its time.
gc.set_threshold(50_000, 20, 20)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The README's tests first: one of them runs every example, and beside it the other workers do all others."""
    items.sort(key=lambda item: "readme" not in item.path.parts)


@pytest.fixture(scope="session", autouse=True)
def _on_one_core() -> Iterator[None]:
    """Where a test names no cores, what it calls takes one, since other tests are on the others. Programs that a test
    starts take all, as hers do; that cores change nothing but the time is proven where two are named."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(os, "cpu_count", lambda: 1)
        yield


Report = TypeVar("Report", pytest.TestReport, pytest.CollectReport)


def no_skip(report: Report) -> Report:
    """The report, made a failure if it is a skip, or an expected failure, and CI does not allow that.

    Elsewhere a skip is honest: a machine may lack a browser, and an archive git. CI installs what it lacks.
    """
    if os.environ.get("CI") == "true" and report.outcome == "skipped":
        reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else report.longrepr
        report.outcome = "failed"
        report.longrepr = f"skipped, which CI does not allow: {reason}"
    return report


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    return no_skip((yield))


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    return no_skip((yield))
