"""The system's Chromium, driven by playwright (PyPI), and studies to browse in it."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from examples import gallery_of
from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect, sync_playwright
from shapely.geometry import MultiPolygon, Polygon

from constraints.brief import Brief
from constraints.design import Design, Print, Ring
from constraints.stamp import Stamp
from explore.storage.study import Study, create
from gallery.seeing.knowing import seen_in

CHROMIUM = ("chromium", "chromium-browser", "google-chrome")
# The program is named to do nothing on its own; a sandbox is not to be had as root.
_QUIET = ["--disable-gpu", "--disable-background-networking", "--no-first-run"]


@contextmanager
def chromium() -> Iterator[Browser]:
    """One browser for many tests. Skips where the system has none."""
    found = next(filter(None, map(shutil.which, CHROMIUM)), None)
    if found is None:
        # README promises its test command on a machine with git and Python alone, and no package of pip brings a
        # browser. Where CI=true a skip is a failure (tests/conftest.py), so that no green run of CI hides it.
        pytest.skip(f"the system has none of {', '.join(CHROMIUM)}")
    root = ["--no-sandbox"] if os.geteuid() == 0 else []
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=found, args=[*_QUIET, *root])
        yield browser
        browser.close()


def tulip(name: str = "tulip") -> Stamp:
    cup = Polygon([(0, 0), (3, 4), (5, 0), (7, 4), (10, 0), (10, 8), (5, 12), (0, 8)], [[(4, 6), (6, 6), (5, 8)]])
    return Stamp(name, MultiPolygon([cup, Polygon([(4.5, 12), (5.5, 12), (5.5, 16), (4.5, 16)])]))


def designs(count: int = 6, half_size: int = 8, stamp: str = "tulip") -> list[Design]:
    """Squares that differ in everything a page sorts and filters by."""
    made = []
    for i, design in enumerate(gallery_of(count, half_size)):
        laid = (Print(stamp, 6.0, 0.0, (diamond(1 + 5 * (7 * i % count) / count),), match=0.65),)
        symmetry = "full" if i % 2 else "quarter-turn"
        made.append(replace(design, number=i + 1, pairs=20 + i // 2, pitch_mm=5.0 - i % 3 / 2, prints=laid,
                            splits=i % 3, symmetry=symmetry))  # fmt: skip
    return made


def diamond(radius: float) -> Ring:
    return ((0, -radius), (radius, 0), (0, radius), (-radius, 0))


def study(folder: Path, shown: list[Design], stamp: str = "tulip") -> Study:
    """A study of these squares, as `explore` leaves it."""
    made = create(folder, Brief.of(stamp=stamp, pairs=26, match=0.65), (tulip(stamp),), (b"\x89PNG",))
    for design in shown:
        made = made.keep(design, design.number)
    return made


class Watched:
    """What a page complained of, and what it asked the network for."""

    def __init__(self, page: Page) -> None:
        self.complaints: list[str] = []
        self.requests: list[str] = []
        page.on("console", lambda message: self.complaints.append(f"{message.type}: {message.text}"))
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("request", lambda request: self.requests.append(request.url))

    def fetched(self) -> list[str]:
        """All that came neither from the one file nor from the page itself."""
        own = [url for url in self.requests if url.startswith("file:") and url.endswith("page.html")]
        assert own, "the page itself was not seen"
        return [url for url in self.requests if url not in own and not url.startswith("blob:")]


SHOWN = designs(6)


def surely(design: Design) -> float:
    """How surely the print is known, as the page sorts by it."""
    return round(seen_in(design).score, 2)


class Opened:
    """A page in a browser of its own, and what was noticed of it."""

    def __init__(self, context: BrowserContext, file: Path) -> None:
        context.set_default_timeout(5000)
        self.context, self.file = context, file
        self.page: Page = context.new_page()
        self.watched = Watched(self.page)
        self.page.goto(file.as_uri())
        expect(self.page.locator(".card svg path").first).to_be_attached()

    def numbers(self) -> list[int]:
        """The squares shown, in their order."""
        cards = self.page.locator(".card:visible")
        return [int(each) for each in cards.evaluate_all("(all) => all.map((card) => card.dataset.number)")]

    def card(self, number: int) -> Locator:
        return self.page.locator(f'.card[data-number="{number}"]')

    def tick(self, *numbers: int) -> None:
        for number in numbers:
            self.card(number).locator(".tick").click()


def narrow(width: int, scheme: str = "light") -> dict[str, Any]:
    return {"viewport": {"width": width, "height": 900}, "color_scheme": scheme, "has_touch": True}
