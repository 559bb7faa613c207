"""Where CI=true stands in the environment, a test that was skipped has failed: nothing there may be missing."""

import os
from collections.abc import Generator
from typing import TypeVar

import pytest

Report = TypeVar("Report", pytest.TestReport, pytest.CollectReport)


def no_skip(report: Report) -> Report:
    """The report, made a failure if it is a skip and CI does not allow that. An expected failure is no skip."""
    if os.environ.get("CI") == "true" and report.outcome == "skipped" and not hasattr(report, "wasxfail"):
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
