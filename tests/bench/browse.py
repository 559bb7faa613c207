"""Figures of the page to browse: `python tests/bench/browse.py STUDY [copies]`; needs Chromium.

Bytes of the page, milliseconds to its load event and to the first square in sight, and how long frames take while
it is scrolled from end to end. copies: so many squares, made by repeating those of the study.
"""

from __future__ import annotations

import sys
import tempfile
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "gallery"))

from browser import chromium
from playwright.sync_api import Page

from explore.cli import run
from explore.storage.study import create, open_study

_LOADED = "() => performance.getEntriesByType('navigation')[0].loadEventEnd"
_PAINTED = "() => performance.getEntriesByName('first-contentful-paint')[0].startTime"
# Scrolls a screen's third at every frame and gives the time between frames.
_SCROLL = """() => new Promise(done => {
  const times = []; let last = performance.now();
  const step = now => {
    times.push(now - last); last = now;
    const before = window.scrollY; window.scrollBy(0, innerHeight / 3);
    if (window.scrollY > before && times.length < 2000) requestAnimationFrame(step); else done(times.slice(1));
  };
  requestAnimationFrame(step);
})"""


def main(folder: Path, copies: int) -> None:
    study = open_study(folder)
    with tempfile.TemporaryDirectory() as place:
        made = create(Path(place) / "page", study.brief, study.stamps, [b"\x89PNG"] * len(study.stamps))
        for number in range(1, (copies or len(study.designs)) + 1):
            made = made.keep(replace(study.designs[(number - 1) % len(study.designs)], number=number), number)
        assert run(["page", str(made.folder)]) == 0
        file = made.folder / "page.html"
        print(f"{len(made.designs)} squares, {file.stat().st_size / 1e6:.2f} MB")
        with chromium() as browser:
            page = browser.new_page(viewport={"width": 1400, "height": 900})
            page.goto(file.as_uri())
            page.locator(".card svg path").first.wait_for(state="attached")
            told(page)


def told(page: Page) -> None:
    print(f"first paint {page.evaluate(_PAINTED):.0f} ms, loaded {page.evaluate(_LOADED):.0f} ms")
    times = sorted(page.evaluate(_SCROLL))
    count = len(times)
    median, slow, worst = (times[int(share * (count - 1))] for share in (0.5, 0.95, 1.0))
    print(f"{count} frames: median {median:.0f} ms, 95 % within {slow:.0f} ms, worst {worst:.0f} ms")


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 0)
