"""The browser, a study and its page, for all tests of the page; and a studio, for all tests of that."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from browser import SHOWN, Opened, chromium, study
from examples import gallery_of
from playwright.sync_api import Browser

sys.path.append(str(Path(__file__).parents[1] / "explore"))

from fakes import petal
from studios import SVG, Running, running

from constraints.brief import Brief
from explore.cli import run
from explore.storage.study import create


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


@pytest.fixture(scope="module")
def studio(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """One for all tests, in a folder with a study of six squares."""
    folder = tmp_path_factory.mktemp("garden")
    made = create(folder / "petal-study", Brief.of(stamp="petal", pairs=26, match=0.65), (petal(),), (SVG.encode(),))
    for number, design in enumerate(gallery_of(6, 8), 1):
        made = made.keep(replace(design, number=number), number)
    with running(folder) as found:
        yield found
