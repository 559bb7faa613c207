"""The studio in headless Chromium, as she waits for it: seconds from the command, from the drop, from the button.

    python tests/bench/studio.py [PRINT]
    python tests/bench/studio.py --many

Without a print the built-in tulip is dropped. --many: a study of 1,000 squares is opened and scrolled through, and the
tasks that keep its page busy for over 50 ms are told (PerformanceObserver, W3C Long Tasks). Memory is what all
processes hold, what they share counted once (PSS of /proc/PID/smaps_rollup, Linux); idle is the processor time of all
of them over ten seconds in which a tab listens.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

sys.path += [str(Path(__file__).parents[1] / name) for name in ("gallery", "explore", "constraints")]

from browser import chromium
from examples import gallery_of
from fakes import petal
from studios import running

from constraints.brief import Brief
from constraints.design_file import to_text
from explore.storage.study import create, square_path

ROOT = Path(__file__).parents[2]
# So long, s, she looks at other wishes before she presses the button.
_THOUGHT = 10


def processes(session: int) -> Iterator[Path]:
    """Those of a session that are there."""
    for path in Path("/proc").glob("[0-9]*"):
        try:
            if int((path / "stat").read_text().rpartition(") ")[2].split()[3]) == session:
                yield path
        except (FileNotFoundError, ProcessLookupError):
            continue


def mebibytes(session: int) -> float:
    held = [(path / "smaps_rollup").read_text() for path in processes(session)]
    return sum(int(line.split()[1]) for text in held for line in text.splitlines() if line.startswith("Pss:")) / 1024


def ticks(session: int) -> int:
    """Processor time, in hundredths of a second."""
    found = [(path / "stat").read_text().rpartition(") ")[2].split() for path in processes(session)]
    return sum(int(each[11]) + int(each[12]) for each in found)


def main(picture: Path) -> None:
    def lap(words: str, since: float) -> float:
        print(f"{words}: {time.monotonic() - since:.2f} s", flush=True)
        return time.monotonic()

    with tempfile.TemporaryDirectory() as folder, chromium() as browser:
        begun = time.monotonic()
        with running(Path(folder), "--cores", "2") as studio:
            page = browser.new_page(viewport={"width": 1280, "height": 900})
            page.set_default_timeout(300_000)
            page.goto(studio.address)
            page.locator("#file").wait_for(state="attached")
            lap("from the command to the page", begun)
            page.wait_for_timeout(3000)
            dropped = time.monotonic()
            page.set_input_files("#file", picture)
            page.locator("#inked path").wait_for()
            lap("from the drop to the print", dropped)
            page.locator("#ribbon li").first.wait_for()
            lap("from the drop to the first size", dropped)
            page.locator("#in-it:not(:empty)").wait_for()
            page.locator("#ribbon li").nth(7).wait_for()
            lap("from the drop to all sizes", dropped)
            page.wait_for_timeout(6000)
            asked = time.monotonic()
            page.fill("#pairs-number", "28")
            page.get_by_text("28 pairs: 130 mm").wait_for()
            lap("from a number to its sentence", asked)
            page.fill("#pairs-number", "30")
            page.get_by_text("30 pairs: 140 mm").wait_for()
            asked = time.monotonic()
            page.click("#find")
            page.locator(".square img").first.wait_for()
            lap("from the button to the first square", asked)
            page.locator(".square").nth(23).wait_for()
            lap("from the button to 24 squares", asked)
            page.get_by_text("24 squares found").wait_for()
            page.wait_for_timeout(2000)
            asked = time.monotonic()
            page.locator("[data-wanted=kept]").first.click()
            page.locator(".square.kept").wait_for()
            lap("from Keep to the mark", asked)
            page.get_by_role("link", name="Print", exact=True).click()
            page.fill("#pairs-number", "31")
            page.wait_for_timeout(_THOUGHT * 1000)
            asked = time.monotonic()
            page.click("#find")
            page.locator(".square img").first.wait_for()
            lap(f"from the button to the first square, after {_THOUGHT} s of thought", asked)
            page.click("#stop")
            print(f"all processes: {mebibytes(studio.process.pid):.0f} MiB")
            before = ticks(studio.process.pid)
            page.wait_for_timeout(10_000)
            print(f"idle: {(ticks(studio.process.pid) - before) / 10:.1f} % of a core")


_LONG = (
    "window.long = []; new PerformanceObserver((list) => window.long.push(...list.getEntries().map((each) => "
    "Math.round(each.duration)))).observe({ type: 'longtask', buffered: true })"
)


def many() -> None:
    with tempfile.TemporaryDirectory() as folder, chromium() as browser:
        study = Path(folder) / "many"
        create(study, Brief.of(stamp="petal"), (petal(),), (b"<svg/>",))
        designs = gallery_of(20, 14)
        for number in range(1, 1001):
            square_path(study, number).write_text(to_text(replace(designs[number % 20], number=number)))
        with running(Path(folder), "--cores", "2") as studio:
            page = browser.new_page(viewport={"width": 1280, "height": 900})
            page.set_default_timeout(300_000)
            page.add_init_script(_LONG)
            page.goto(studio.address)
            begun = time.monotonic()
            page.goto(studio.within("/study/many"))
            page.locator(".square").nth(999).wait_for(state="attached")
            print(f"1,000 squares are there after {time.monotonic() - begun:.2f} s; long tasks, ms:", end=" ")
            print(page.evaluate("window.long.splice(0)"))
            page.wait_for_timeout(20_000)
            page.evaluate("window.long.splice(0)")
            for _ in range(30):
                page.mouse.wheel(0, 600)
                page.wait_for_timeout(120)
            print("while it is scrolled:", page.evaluate("window.long.splice(0)"))
            page.locator("[data-wanted=kept]").first.evaluate("(button) => button.click()")
            page.wait_for_timeout(1500)
            print("when one is kept:", page.evaluate("window.long"))


if __name__ == "__main__":
    if sys.argv[1:] == ["--many"]:
        sys.exit(many())
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "explore" / "stamps" / "tulip.svg")
