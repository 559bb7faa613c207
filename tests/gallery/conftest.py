"""The browser, a study and its page, for all tests of the page."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from browser import SHOWN, Opened, chromium, study
from playwright.sync_api import Browser

from explore.cli import run


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as launched:
        yield launched


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("e2e") / "garden-society"
    study(made, SHOWN)
    assert run(["page", str(made)]) == 0
    return made


@pytest.fixture
def opened(browser: Browser, folder: Path, request: pytest.FixtureRequest) -> Iterator[Opened]:
    """The page, wide and light unless the test says otherwise; whatever a test does, the page must not complain."""
    context = browser.new_context(**{"viewport": {"width": 1280, "height": 900}, **getattr(request, "param", {})})
    made = Opened(context, folder / "page.html")
    yield made
    assert made.watched.complaints == []
    assert made.watched.fetched() == []
    context.close()
