"""The studio's wall and ladder in a real browser: hung by keys and by dragging, and rungs as they come."""

from __future__ import annotations

import json

from playwright.sync_api import Browser, expect
from studio_tabs import amiss, tab
from studios import SVG, Running


def test_a_wall_is_hung_by_keys_and_by_dragging(browser: Browser, studio: Running) -> None:
    with tab(browser, studio, viewport={"width": 1280, "height": 900}) as page:
        page.goto(studio.within("/study/petal-study"))
        for number in (1, 2, 3):
            page.locator(f"[aria-label='Keep square {number}']").click()
        page.get_by_role("link", name="A wall").click()
        expect(page.locator("#shelf button")).to_have_count(3)
        page.locator("#shelf button").first.press("Enter")
        page.locator("#frames button").nth(4).press("Enter")
        expect(page.locator("[aria-label='Frame 5: square 1']")).to_be_focused()
        page.drag_and_drop("[aria-label='Square 2']", "[aria-label='Frame 1, empty']")
        expect(page.locator("[aria-label='Frame 1: square 2'] img")).to_be_visible()
        # Two change places; another tab and this one anew see it.
        page.locator("#frames button").nth(0).press("Enter")
        page.locator("#frames button").nth(4).press("Enter")
        expect(page.locator("[aria-label='Frame 1: square 1']")).to_be_visible()
        # A title goes where its square goes.
        page.get_by_label("Title of square 1, in frame 1").fill("Moths at the lamp")
        page.fill("#title", "At dusk")
        page.reload()
        expect(page.get_by_label("Title of square 1, in frame 1")).to_have_value("Moths at the lamp")
        assert amiss(page) == []
        expect(page.locator("[aria-label='Frame 5: square 2']")).to_be_visible()
        expect(page.locator("#title")).to_have_value("At dusk")
        page.click("#undo")
        expect(page.locator("#title")).to_have_value("")
        page.click("#undo")
        expect(page.get_by_label("Title of square 1, in frame 1")).to_have_value("")
        page.click("#undo")
        expect(page.locator("[aria-label='Frame 5: square 1']")).to_be_visible()
        page.locator("#frames button").nth(4).press("Enter")
        page.get_by_role("button", name="Take it off the wall").press("Enter")
        expect(page.locator("#shelf button")).to_have_count(2)
        for _ in range(6):
            page.click("#undo")
        expect(page.locator("#undo")).to_be_disabled()


def test_a_ladder_shows_each_rung_as_it_comes(browser: Browser, studio: Running) -> None:
    rungs = [{"kind": "rung", "state": state, "pairs": 16, "width": "70 mm wide", "words": words, "drawn": True}
             for state, words in (("coarse", "it has room for 12 pitches"), ("full", "12 pitches, known"))]  # fmt: skip
    lines = [f"id: {n}\ndata: {json.dumps(each)}\n\n" for n, each in enumerate([*rungs, {"kind": "ladder"}], 1)]
    with tab(browser, studio, viewport={"width": 390, "height": 900}, color_scheme="dark") as page:
        # Working it out takes minutes, and is tried elsewhere.
        page.route(
            "**/ladder/told*", lambda route: route.fulfill(body="".join(lines), content_type="text/event-stream")
        )
        page.route("**/ladder/drawing*", lambda route: route.fulfill(body=SVG, content_type="image/svg+xml"))
        page.goto(studio.within("/print?of=tulip"))
        page.locator("#to-ladder").press("Enter")
        expect(page.locator("#doing")).to_have_text("Every rung is worked out.")
        expect(page.locator("#rung-16 .words")).to_have_text("70 mm wide: 12 pitches, known")
        expect(page.locator("#rung-16 img")).to_be_visible()
        assert amiss(page) == []
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        lines[:] = ['data: {"kind": "failed"}\n\n']
        page.reload()
        expect(page.locator("#amiss")).to_contain_text("The search broke off")
        expect(page.locator("#doing")).to_be_empty()
        page.get_by_role("link", name="Take 24 pairs").press("Enter")
        expect(page.locator("#measures")).to_contain_text("24 pairs")
