"""The studio in a real browser, from a kept square to its booklet and to the pillow."""

from __future__ import annotations

import re

from playwright.sync_api import Browser, expect
from studio_tabs import amiss, tab
from studios import Running


def test_a_kept_square_goes_on_to_its_booklet_and_to_the_pillow_by_keys(browser: Browser, studio: Running) -> None:
    with tab(browser, studio) as page:
        page.goto(studio.within("/study/petal-study"))
        page.locator(".square [data-wanted=kept]").nth(5).press("Enter")
        page.locator(".square .show").nth(5).press("Enter")
        page.get_by_role("link", name="Make its papers").press("Enter")
        expect(page.locator("h1")).to_have_text("Papers for square 6")
        expect(page.locator("#make")).to_be_enabled()
        page.locator("#make").press("Enter")
        # On a busy machine all five parts take long: each is waited for by itself.
        for part in range(1, 6):
            so_far = re.compile(rf"[{part}-5] of 5|Your booklet has \d+ pages")
            expect(page.locator("#state")).to_contain_text(so_far, timeout=60_000)
        expect(page.locator("#state")).to_contain_text(re.compile(r"Your booklet has \d+ pages"), timeout=60_000)
        first = page.locator("#pages img").first
        expect(first).to_be_visible()
        assert first.evaluate("async (image) => { await image.decode(); return image.naturalWidth; }") == 500
        with page.expect_download() as saved:
            page.locator("#save").press("Enter")
        assert saved.value.suggested_filename == "petal-study-06-booklet.pdf"
        page.get_by_role("link", name="Work it at the pillow").press("Enter")
        expect(page.locator("#far")).to_contain_text("Line 1 of ")
        page.keyboard.press("ArrowRight")
        page.keyboard.press("ArrowRight")
        expect(page.locator("#far")).to_contain_text("Line 3 of ")
        second = page.locator("#line").text_content()
        page.reload()
        expect(page.locator("#far")).to_contain_text("Line 3 of ")
        assert page.locator("#line").text_content() == second
        while page.locator("#look").is_hidden():
            page.keyboard.press("ArrowRight")
        far = page.locator("#far").text_content() or ""
        assert far.startswith("After line ")
        expect(page.locator("#line")).to_have_text("Look where the pairs hang, counted from the footside.")
        expect(page.locator("#look li").first).to_contain_text(re.compile(r"^1.* the edge pair"))
        assert amiss(page) == []
        page.reload()
        expect(page.locator("#far")).to_have_text(far)
        expect(page.locator("#look li").first).to_be_visible()
        page.keyboard.press("ArrowRight")
        expect(page.locator("#look")).to_be_hidden()
        page.goto(studio.within("/study/petal-study"))
        page.click("#undo")
        expect(page.locator(".square.kept")).to_have_count(0)
