"""The studio in a real browser: strips, frames and rectangles wished for by keys alone."""

from __future__ import annotations

import re
from contextlib import chdir

from playwright.sync_api import Browser, expect
from studio_tabs import amiss, tab
from studios import Running

from explore import cli


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


def test_a_mirror_slides_along_a_strip_by_mouse_and_by_keys_up_to_a_frame(browser: Browser, studio: Running) -> None:
    with chdir(studio.folder):
        made = "explore --no-stamp --form strip --pairs 10 --repeat 8 --count 1 --cores 1 --out strips -q"
        assert cli.run(made.split()) == 0
    with tab(browser, studio, viewport={"width": 390, "height": 900}) as page:
        page.goto(studio.within("/study/strips"))
        page.locator(".square .show").press("Enter")
        # More like a strip keeps no corners.
        page.locator(".like summary").press("Enter")
        expect(page.locator("#like [name=keep]:visible")).to_have_count(3)
        expect(page.locator("#like [value=corner]")).to_be_hidden()
        page.get_by_role("link", name="Slide a mirror along it").press("Enter")
        expect(page.locator("#doing")).to_have_text("Every place has been tried.", timeout=60_000)
        # By mouse: where she lets go there is the mirror, and what it gives.
        lit = page.locator("#over .lit")
        expect(lit.last).to_be_visible()
        box = lit.last.bounding_box()
        strip = page.locator("#strip").bounding_box()
        assert box
        assert strip
        page.mouse.move(strip["x"] + strip["width"] / 2, strip["y"] + 5)
        page.mouse.down()
        page.mouse.move(strip["x"] + strip["width"] / 2, box["y"] + box["height"] / 2, steps=5)
        page.mouse.up()
        expect(page.locator("#here")).to_contain_text("a corner that can be worked")
        picture = page.locator("#picture")
        assert picture.evaluate("async (image) => { await image.decode(); return image.naturalWidth > 0; }")
        first = picture.get_attribute("src")
        page.locator("#where").press("ArrowUp")
        page.locator("#where").press("ArrowDown")
        page.locator("#before").press("Enter")
        assert picture.get_attribute("src") != first
        page.locator("#take").press("Enter")
        expect(page.locator("#taken")).to_contain_text("You took: corner at row")
        expect(page.locator("[name=kind][value^=turnover]:checked")).to_have_count(1)
        if page.locator("#take").is_disabled():
            page.locator("#after").press("Enter")
        page.locator("#take").press("Enter")
        expect(page.locator("#frame-command")).to_have_text(
            re.compile(r"frame strips 1 --corner \d+ --turnover \d+$"), use_inner_text=False
        )
        assert amiss(page) == []
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        page.locator("#frame").press("Enter")
        expect(page.locator("h1")).to_have_text("strips", timeout=60_000)
        expect(page.locator(".square")).to_have_count(2)
        # The frame has corners.
        page.locator(".square .show").last.press("Enter")
        page.locator(".like summary").press("Enter")
        expect(page.locator("#like [value=corner]")).to_be_visible()
