"""The studio in a real browser: strips, frames and rectangles wished for by keys alone."""

from __future__ import annotations

from playwright.sync_api import Browser, expect
from studio_tabs import tab
from studios import Running


def test_by_keys_alone_a_strip_and_then_a_frame_are_wished_for(browser: Browser, studio: Running) -> None:
    with tab(browser, studio, viewport={"width": 390, "height": 900}, reduced_motion="reduce") as page:
        page.goto(studio.within("/print?of=tulip"))
        expect(page.locator("#measures")).to_contain_text("30 pairs: 140 mm wide")
        page.locator("[name=form][value=square]").focus()
        page.keyboard.press("ArrowRight")
        expect(page.locator("#measures")).to_have_text("30 pairs: 65 mm wide, a repeat of 20 to 100 mm.")
        expect(page.locator("#find")).to_have_text("Find strips")
        expect(page.locator("[data-of=square]:visible, [name=width]:visible, [name=worked]:visible")).to_have_count(0)
        page.fill("[name=repeats]", "9")
        page.locator("[name=edging]").first.focus()
        page.keyboard.press("ArrowRight")
        expect(page.locator("#find-command")).to_contain_text(
            "explore tulip --form strip --pairs 30 --repeats 9 --edging 'cloth fan 3'"
        )
        curves = "(path) => path.getAttribute('d').split('Q').length - 1"
        assert page.locator("#little .edge").first.evaluate(curves) > 4
        # Down to what a strip alone has, and on to a frame, which keeps its edging and no repeats.
        page.locator("[name=sides]").first.focus()
        page.keyboard.press("ArrowRight")
        expect(page.locator("#find-command")).to_contain_text("--sides both")
        page.locator("[name=form][value=strip]").focus()
        page.keyboard.press("ArrowRight")
        page.fill("[name=width]", "290")
        page.fill("[name=height]", "410")
        expect(page.locator("#find-command")).to_contain_text("--form frame --pairs 30 --width 290mm --height 410mm")
        expect(page.locator("#find-command")).not_to_contain_text("repeats")
        expect(page.locator("#in-it")).to_contain_text("Your tulip: up to")
        expect(page.locator("#ghost path")).to_have_count(3)
        # A cloth that it shall go round gives the size; its wishes can be let go again.
        page.locator("#to-fit summary").press("Enter")
        page.select_option("[data-fit=purpose]", "edging")
        page.fill("[data-fit=width]", "200")
        page.fill("[data-fit=height]", "300")
        page.locator("#ways button").first.press("Enter")
        expect(page.locator("#measures")).to_contain_text("round an opening of")
        expect(page.locator("[name=width]")).to_have_value("")
        expect(page.locator("#ways [aria-pressed=true]")).to_be_focused()
        page.get_by_role("button", name="Let go: a band").press("Enter")
        expect(page.locator("#taken li")).to_have_count(2)
        page.fill("[name=width]", "290")
        expect(page.locator("#taken li")).to_have_count(1)
        # What cannot be had is mended by a press.
        page.fill("#pairs-number", "8")
        page.locator("#mends button").first.press("Enter")
        expect(page.locator("#measures")).not_to_have_class("amiss")
        expect(page.locator("#find")).to_be_focused()
        # A second print beside it, and away again; the focus goes where one goes on.
        page.locator("#beside summary").press("Enter")
        page.get_by_role("button", name="bee", exact=True).press("Enter")
        expect(page.locator("#lying select").last).to_be_focused()
        page.locator("#lying select").last.select_option("corners")
        expect(page.locator("#find-command")).to_contain_text("explore tulip bee --form frame")
        expect(page.locator("#find-command")).to_contain_text("--place bee=corners")
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        page.get_by_role("button", name="Take bee away").press("Enter")
        expect(page.locator("#find-command")).to_contain_text("explore tulip --form frame")
