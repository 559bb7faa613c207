"""The studio in a real browser: from a dropped print to kept squares, by mouse, by keys alone, and by touch."""

from __future__ import annotations

import json
import re
import signal
from dataclasses import replace
from pathlib import Path

import pytest
from examples import gallery_of
from fakes import petal
from playwright.sync_api import Browser, expect
from studio_tabs import amiss, drop, tab
from studios import SVG, Running, running

from constraints.brief import Brief
from explore.storage.picks import read_picks
from explore.storage.study import create
from gallery.web.vector import RASTER


def test_from_a_dropped_print_to_a_kept_square(browser: Browser, studio: Running) -> None:
    with tab(browser, studio, viewport={"width": 1280, "height": 900}) as page:
        assert "key=" not in page.url
        drop(page, "My kite.svg", SVG)
        expect(page.locator("h1")).to_have_text("My-kite")
        expect(page.locator("#inked path")).to_be_visible()
        expect(page.locator("#ribbon li").first).to_be_visible()
        page.fill("#pairs-number", "12")
        expect(page.locator("#measures")).to_contain_text("12 pairs: 50 mm wide, 10 pitches of 5 mm")
        expect(page.locator("#in-it")).to_contain_text("Your My-kite: up to")
        page.locator("#mends button").last.click()
        page.check('[data-of=square] input[value="none"]', force=True)
        page.click("#find")
        expect(page.locator(".square img").first).to_be_visible(timeout=60_000)
        page.locator(".square [data-wanted=kept]").first.click()
        expect(page.locator(".square.kept")).to_have_count(1)
        expect(page.locator("[data-filter=kept]")).to_have_text("Kept (1)")
        if page.locator("#stop").is_visible():
            page.click("#stop")
        expect(page.locator("#more")).to_be_visible()
        assert read_picks(studio.folder / "My-kite-study", "My-kite-study").numbers == (1,)
        expect(page.get_by_role("link", name="To the papers of the one that you kept")).to_be_visible()
        # Back at the print her wishes are as she made them.
        page.get_by_role("link", name="Print", exact=True).click()
        expect(page.locator("#measures")).to_contain_text("12 pairs: 50 mm wide")
        expect(page.locator('[data-of=square] input[value="none"]')).to_be_checked()
    # Killed or closed, nothing is lost.
    with tab(browser, studio) as page:
        page.get_by_role("link", name="My-kite-study").click()
        expect(page.locator(".square.kept")).to_have_count(1)


def test_by_keys_alone_squares_are_looked_at_kept_and_taken_back(browser: Browser, studio: Running) -> None:
    with tab(browser, studio) as page:
        page.goto(studio.within("/study/petal-study"))
        expect(page.locator(".square")).to_have_count(6)

        def reach(words: str) -> None:
            """Tab on to what is called so."""
            for _ in range(80):
                page.keyboard.press("Tab")
                called = (
                    "(document.activeElement.getAttribute('aria-label') ?? document.activeElement.textContent).trim()"
                )
                if page.evaluate(called) == words:
                    return
            raise AssertionError(f"the tab key does not reach {words!r}")

        reach("Keep square 2")
        page.keyboard.press("Enter")
        expect(page.locator(".square.kept")).to_have_count(1)
        expect(page.locator("#told")).to_have_text("Square 2 is kept.")
        # The focus stays where it was.
        assert page.evaluate("document.activeElement.getAttribute('aria-label')") == "Keep square 2"
        page.keyboard.press("Control+z")
        expect(page.locator(".square.kept")).to_have_count(0)
        page.keyboard.press("Control+Shift+Z")
        expect(page.locator(".square.kept")).to_have_count(1)
        page.locator(".square .show").nth(3).focus()
        page.keyboard.press("Enter")
        expect(page.locator("#large-name")).to_be_focused()
        page.locator("#stage").focus()
        before = page.locator("#large-picture").bounding_box()
        page.keyboard.press("+")
        after = page.locator("#large-picture").bounding_box()
        assert before is not None
        assert after is not None
        assert after["width"] > 1.2 * before["width"]
        page.locator("#note").fill("for the door")
        expect(page.locator(".square .note:visible")).to_have_text("for the door")
        page.click("#undo")
        page.click("#undo")
        expect(page.locator(".square.kept, .square .note:visible")).to_have_count(0)


def test_two_tabs_see_each_others_ticks(browser: Browser, studio: Running) -> None:
    with tab(browser, studio) as one, tab(browser, studio) as other:
        for page in (one, other):
            page.goto(studio.within("/study/petal-study"))
            expect(page.locator(".square")).to_have_count(6)
        one.locator(".square [data-wanted=away]").nth(4).click()
        expect(other.locator("[data-filter=away]")).to_have_text("Put away (1)")
        other.click("#undo")
        expect(one.locator("[data-filter=away]")).to_have_text("Put away (0)")
        one.locator(".square [data-wanted=kept]").nth(4).click()
        for page in (one, other):
            expect(page.locator("#taste")).to_have_text(re.compile("The 1 that you kept of 6 say nothing"))
        other.click("#undo")
        expect(one.locator("#taste")).to_be_hidden()


def test_what_other_wishes_leave_out_fades_and_is_brought_back(browser: Browser, studio: Running) -> None:
    made = create(
        studio.folder / "fading", Brief.of(stamp="petal", pairs=10, solid=(0, 1)), (petal(),), (SVG.encode(),)
    )
    for number, design in enumerate(gallery_of(2, 8), 1):
        made = made.keep(replace(design, number=number), number)
    with tab(browser, studio) as page:
        # The search itself is tried elsewhere.
        page.route("**/more", lambda route: route.fulfill(json={}))
        page.goto(studio.within("/study/fading"))
        expect(page.locator(".square")).to_have_count(2)
        page.locator("#wished summary").press("Enter")
        expect(page.locator("#wish [name=pairs]")).to_have_value("10")
        page.fill("#wish [name=pairs]", "12")
        page.locator("#wish [name=pairs]").press("Enter")
        expect(page.locator("[data-filter=faded]")).to_have_text("Faded (2)")
        expect(page.locator(".square:visible")).to_have_count(0)
        page.locator("[data-filter=faded]").press("Enter")
        expect(page.locator(".square .few").first).to_have_text("1 it has 10 pairs")
        page.get_by_role("button", name="Bring back square 1").press("Enter")
        expect(page.locator("[data-filter=all]")).to_have_text("All (1)")


def test_squares_are_looked_at_together_in_four_ways_and_one_is_kept(browser: Browser, studio: Running) -> None:
    with tab(browser, studio, viewport={"width": 1280, "height": 900}) as page:
        page.goto(studio.within("/study/petal-study/together?of=1,2,3"))
        expect(page.locator(".beside figure")).to_have_count(3)
        page.locator("[aria-label='Look at square 5']").click()
        expect(page.locator(".beside figure")).to_have_count(4)
        page.click("[data-view=nine]")
        expect(page.locator(".nine img")).to_have_count(9)
        page.click("[data-view=true]")
        bar, lace = page.locator("#bar").bounding_box(), page.locator(".true img").first.bounding_box()
        assert bar is not None
        assert lace is not None
        # Half-size 8 at 5 mm is 40 mm; the bar is 100 mm. The picture goes on beyond the pins by what it says.
        drawn = page.evaluate("async () => (await fetch(document.querySelector('.true img').src)).text()")
        units = int(re.search(r'viewBox="\S+ \S+ (\d+) ', drawn)[1]) / RASTER
        assert abs(lace["width"] * 16 / units / bar["width"] - 0.4) < 0.01
        page.click("[data-view=across]")
        smaller = page.locator(".across img").first.bounding_box()
        assert smaller is not None
        # At 3 m as from 0.6 m a fifth.
        assert abs(smaller["width"] / lace["width"] - 0.2) < 0.01
        page.click("[data-view=beside]")
        page.locator("[aria-label='Keep square 2']").click()
        expect(page.locator("[aria-label='Keep square 2']")).to_be_focused()
        expect(page.locator("[aria-label='Keep square 2']")).to_have_text("Kept")
        page.get_by_role("link", name="All squares").click()
        page.locator("#undo").click()
        expect(page.locator("[data-filter=kept]")).to_have_text("Kept (0)")


def test_lace_is_shown_in_her_thread_on_her_cloth(browser: Browser, studio: Running) -> None:
    with tab(browser, studio) as page:
        page.goto(studio.within("/study/petal-study"))
        page.locator(".square .show").first.click()
        page.locator("#colours summary").click()
        page.get_by_label("ecru").check()
        page.get_by_label("green", exact=True).check()
        # Whoever chooses a colour wants to see it.
        expect(page.locator("[data-look=lace]")).to_have_attribute("aria-pressed", "true")
        for image in (page.locator(".square img").first, page.locator("#large-picture")):
            expect(image).to_have_attribute("src", re.compile(r"(lace|threads)\.svg.*&in=dcc9a0-2f5a45$"))
            assert image.evaluate("async (image) => { await image.decode(); return image.naturalWidth > 0; }")
        expect(page.locator("#colours-told")).to_be_empty()
        page.locator("[data-own=cloth]").fill("#d8c8a4")
        expect(page.locator("#colours-told")).to_contain_text("hard to tell apart: their contrast is 1.0")
        assert page.locator("#colours input[name=cloth]:checked").count() == 0
        assert amiss(page) == []
        page.keyboard.press("Escape")
        expect(page.locator("#colours form")).to_be_hidden()
        expect(page.locator("#colours summary")).to_be_focused()
        page.goto(studio.within("/study/petal-study/together"))
        page.locator("#look").click()
        expect(page.locator("#view img").first).to_have_attribute("src", re.compile("&in=dcc9a0-d8c8a4$"))
        page.goto(studio.within("/study/petal-study"))
        expect(page.locator("[data-own=cloth]")).to_have_value("#d8c8a4")


PAGES = [
    "/",
    "/print?of=tulip",
    "/study/petal-study",
    "/study/petal-study/together",
    "/study/petal-study/wall",
    "/study/petal-study/papers?of=6",
    "/study/petal-study/6/pillow",
]


@pytest.mark.parametrize(
    ("width", "scheme"), [(390, "light"), (1280, "dark"), (2560, "light")], ids=["390", "1280 dark", "2560"]
)
def test_every_page_is_for_everyone(browser: Browser, studio: Running, width: int, scheme: str) -> None:
    """axe finds nothing amiss, nothing sticks out at the side, and what is pressed is 24 px high and wide (WCAG 2.2,
    2.5.8)."""
    seen = {"viewport": {"width": width, "height": 900}, "color_scheme": scheme, "reduced_motion": "reduce"}
    with tab(browser, studio, **seen) as page:
        for path in PAGES:
            page.goto(studio.within(path))
            expect(page.locator("h1")).to_be_visible()
            if "pillow" in path:
                expect(page.locator("#line")).not_to_be_empty()
            if path.endswith("study"):
                page.locator("#wished summary").click()
                page.locator(".square .show").first.click()
                expect(page.locator("#facts dt").first).to_be_visible()
            if "print" in path:
                expect(page.locator("#ribbon li").first).to_be_visible()
                for each in page.locator("summary").all():
                    each.click()
            page.wait_for_load_state("networkidle" if path == "/" else "load")
            if width < 2560:  # where it is wider nothing is added
                assert amiss(page) == [], path
            assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), path
            small = """[...document.querySelectorAll("button, select, summary, input[type=number], .button")]
                .filter((each) => each.checkVisibility()).map((each) => [each.outerHTML, each.getBoundingClientRect()])
                .filter(([, box]) => box.width < 24 || box.height < 24).map(([html]) => html)"""
            assert page.evaluate(small) == [], path


def test_nothing_moves_for_who_does_not_want_it_and_nothing_is_asked_of_the_network(
    browser: Browser, studio: Running
) -> None:
    with tab(browser, studio, reduced_motion="reduce") as page:
        asked: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        page.goto(studio.within("/print?of=tulip"))
        expect(page.locator("#ribbon li").first).to_be_visible()
        moving = (
            "[...document.querySelectorAll('*')].filter((e) => getComputedStyle(e).transitionDuration !== '0s').length"
        )
        assert page.evaluate(moving) == 0
        assert {url.split("/")[2] for url in asked} == {studio.within("/").split("/")[2]}


def test_a_studio_that_was_killed_is_told_and_what_was_kept_is_there_when_it_runs_again(
    browser: Browser, tmp_path: Path
) -> None:
    made = create(tmp_path / "petal-study", Brief.of(stamp="petal"), (petal(),), (SVG.encode(),))
    made.keep(replace(gallery_of(1, 8)[0], number=1), 1)
    context = browser.new_context()
    page = context.new_page()
    with running(tmp_path) as studio:
        page.goto(studio.address)
        page.goto(studio.within("/study/petal-study"))
        page.click(".square [data-wanted=kept]")
        expect(page.locator(".square.kept")).to_have_count(1)
        expect(page.locator("#gone")).to_be_hidden()
        studio.end(signal.SIGKILL)
        expect(page.locator("#gone")).to_be_visible(timeout=15_000)
    with running(tmp_path) as studio, tab(browser, studio) as other:
        other.goto(studio.within("/study/petal-study"))
        expect(other.locator(".square.kept")).to_have_count(1)
    context.close()


def test_a_print_that_cannot_be_read_is_told_where_it_was_dropped(browser: Browser, studio: Running) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto(studio.address)
    drop(page, "moth.png", "no picture")
    expect(page.locator("#drop-told")).to_contain_text("Moth.png is no picture that is read")
    assert json.dumps(page.url).count("print") == 0
    context.close()
