"""The page on paper, by the keyboard alone, on any screen and in either scheme, in a real browser."""

from __future__ import annotations

from pathlib import Path

import pypdf
import pytest
from axe_playwright_python.sync_playwright import Axe
from browser import SHOWN, Opened, designs, narrow, study
from playwright.sync_api import Browser, expect

from constraints.design import Design
from explore.cli import run

HOSTILE = '"></script><script>alert(1)</script>'
HOSTILE_STAMP = '"><svg onload=alert(1)>'
TARGETS = ", ".join(
    f"{each}:visible" for each in ("button", "select", "input[type=number]", ".looks label", ".choices label")
)


# --- paper -------------------------------------------------------------------------------------------------


def measures(design: Design) -> str:
    """What tells the printed squares apart."""
    return f"{design.pairs} pairs \N{MIDDLE DOT} {design.width_mm:g} mm"


def printed(opened: Opened, file: Path) -> tuple[list[str], list[float]]:
    opened.page.pdf(path=file, prefer_css_page_size=True)
    pages = pypdf.PdfReader(file).pages
    return [page.extract_text() for page in pages], [float(side) for side in pages[0].mediabox[2:]]


def test_the_ticked_squares_are_printed_on_a4_with_captions_and_no_controls(opened: Opened, tmp_path: Path) -> None:
    opened.tick(2, 6)
    opened.card(6).locator(".picture").click()
    opened.page.get_by_label("Note").fill("for the door")
    opened.page.keyboard.press("Escape")
    (text,), size = printed(opened, tmp_path / "p.pdf")
    assert size == pytest.approx([210 / 25.4 * 72, 297 / 25.4 * 72], abs=1)  # ISO 216
    for design in SHOWN:
        assert (measures(design) in text) == (design.number in (2, 6)), design.number
    assert "garden-society" in text
    assert "for the door" in text
    assert not [word for word in ("Sort", "Filter", "Picks", "Compare", "Print", "Lace") if word in text]


def test_without_ticks_all_squares_shown_are_printed(opened: Opened, tmp_path: Path) -> None:
    expect(opened.page.locator(".card .picture > svg")).to_have_count(6)
    opened.page.evaluate("window.print = () => { document.title = 'printed'; }")
    opened.page.get_by_role("button", name="Print").click()
    expect(opened.page).to_have_title("printed")
    pages, _ = printed(opened, tmp_path / "p.pdf")
    assert all(measures(design) in " ".join(pages) for design in SHOWN)


def test_a_page_printed_the_moment_it_is_open_shows_every_square(browser: Browser, tmp_path: Path) -> None:
    # HTML Living Standard, 8.2: the event beforeprint is fired and the page printed as it is then, whatever goes on.
    study(tmp_path / "study", designs(24))
    assert run(["page", str(tmp_path / "study")]) == 0
    page = browser.new_page(viewport={"width": 320, "height": 200})
    page.add_init_script("window.requestIdleCallback = () => {}; window.IntersectionObserver = class { observe() {} };")
    page.goto((tmp_path / "study" / "page.html").as_uri())
    assert page.locator(".card .picture > svg").count() == 0
    page.pdf(path=tmp_path / "p.pdf", prefer_css_page_size=True)
    assert page.locator(".card .picture > svg").count() == 24
    # Frames alone are a few strokes a page; lace is thousands.
    strokes = [len(sheet.get_contents().get_data()) for sheet in pypdf.PdfReader(tmp_path / "p.pdf").pages]
    assert min(strokes) > 50_000
    page.close()


# --- everyone ----------------------------------------------------------------------------------------------


def test_the_keyboard_alone_suffices(opened: Opened) -> None:
    page = opened.page
    press, focused = page.keyboard.press, page.locator(":focus")

    def tab_to(name: str, least: int = 1) -> None:
        for _ in range(40):
            press("Tab")
            if focused.count() and focused.evaluate("(e) => e.ariaLabel || e.innerText || e.id") == name:
                assert focused.evaluate("(e) => getComputedStyle(e).outlineStyle") == "solid", "the focus must be seen"
                return
        raise AssertionError(f"{name} was not reached")

    press("Tab")
    expect(focused).to_have_text("To the squares")
    press("Enter")
    tab_to("Tick square 1")
    press("Space")
    tab_to("Square 2, enlarge")
    press("Enter")
    press("ArrowRight")
    tab_to("Tick")
    press("Enter")
    tab_to("note")
    page.keyboard.type("by hand")
    press("ArrowLeft")
    expect(page.locator("#large-name")).to_have_text("Square 3")  # in a note the arrows are the note's
    for _ in range(20):
        press("Tab")
        assert not focused.count() or focused.evaluate("(e) => Boolean(e.closest('#large'))"), "the focus is kept"
    press("Escape")
    expect(focused).to_have_attribute("aria-label", "Square 3, enlarge")
    expect(page.locator("#ticked")).to_have_text("2 ticked: 1 3")
    expect(opened.card(3).locator(".note")).to_have_text("by hand")
    tab_to("Picks")
    press("Enter")
    expect(focused).to_have_text("Save picks.json")
    press("Escape")
    expect(focused).to_have_text("Picks")


@pytest.mark.parametrize("opened", [narrow(1280), narrow(1280, "dark"), narrow(360)], indirect=True)
def test_axe_finds_no_serious_fault(opened: Opened) -> None:
    """axe-core's rules for WCAG 2 and good practice, here as axe-playwright-python brings them (PyPI)."""
    page = opened.page
    opened.tick(1, 2)

    def faults(where: str) -> list[str]:
        found = [each for each in Axe().run(page).response["violations"] if each["impact"] in ("serious", "critical")]
        return [f"{where}: {each['id']} {node['target']}" for each in found for node in each["nodes"]]

    page.get_by_role("button", name="Filter").click()
    assert faults("sheet") == []
    opened.card(1).locator(".picture").click()
    assert faults("enlarged") == []
    page.get_by_role("button", name="Compare with another").click()
    assert faults("compared") == []
    page.get_by_role("radio", name="4").check()
    assert faults("four side by side") == []
    page.keyboard.press("Escape")
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Picks").click()
    assert faults("picks") == []
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Keys").click()
    assert faults("keys") == []


def test_axe_can_find_a_fault(opened: Opened) -> None:
    opened.page.evaluate("document.querySelector('.tick').removeAttribute('aria-label')")
    assert [each["id"] for each in Axe().run(opened.page).response["violations"]] == ["button-name"]


@pytest.mark.parametrize("opened", [{"color_scheme": "dark"}], indirect=True)
def test_the_page_follows_dark_mode(opened: Opened) -> None:
    def lightness(what: str) -> float:
        colour = opened.page.evaluate(f"getComputedStyle(document.body).{what}")
        return sum(map(float, colour[4:-1].split(",")[:3])) / 3

    assert lightness("backgroundColor") < 60 < 200 < lightness("color")
    opened.page.emulate_media(color_scheme="light")
    assert lightness("color") < 60 < 200 < lightness("backgroundColor")


@pytest.mark.parametrize("opened", [narrow(820), narrow(390), narrow(320)], indirect=True)
def test_a_tablet_and_a_phone_need_no_sideways_scroll_and_no_small_finger(opened: Opened) -> None:
    """44 px: WCAG 2.2, success criterion 2.5.5; no scrolling in two directions at 320 px: 1.4.10."""
    page = opened.page
    opened.tick(1)

    def fits() -> None:
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        open_ones = page.locator("dialog[open]")
        assert open_ones.evaluate_all("(all) => all.every((dialog) => dialog.scrollWidth <= dialog.clientWidth)")
        measured = "(all) => all.map((each) => [each.innerText, each.offsetWidth, each.offsetHeight])"
        sizes = page.locator(TARGETS).evaluate_all(measured)
        assert sizes
        assert [each for each in sizes if min(each[1:]) < 44] == []

    page.get_by_role("button", name="Filter").click()
    fits()
    opened.card(1).locator(".picture").click()
    fits()
    page.get_by_role("button", name="Compare with another").click()
    fits()
    page.get_by_role("radio", name="4").check()
    fits()
    page.keyboard.press("Escape")
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Picks").click()
    fits()
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Keys").click()
    fits()


def test_a_hostile_name_is_shown_and_never_run(browser: Browser, tmp_path: Path) -> None:
    folder = tmp_path / '"><img src=x onerror=alert(1)>'
    study(folder, designs(2, stamp=HOSTILE_STAMP), stamp=HOSTILE_STAMP)
    assert run(["pick", str(folder), "1", "--note", HOSTILE]) == 0
    assert run(["page", str(folder)]) == 0
    context = browser.new_context()
    made = Opened(context, folder / "page.html")
    made.page.on("dialog", lambda dialog: made.watched.complaints.append(dialog.message))
    expect(made.page.get_by_role("heading", level=1)).to_have_text(folder.name)
    expect(made.page.locator(".brief")).to_contain_text(HOSTILE_STAMP)
    expect(made.card(1).locator(".note")).to_have_text(HOSTILE)
    made.page.get_by_role("button", name="Picks").click()
    expect(made.page.locator("#picks-list")).to_contain_text(HOSTILE)
    assert made.page.locator("img").count() == 0
    assert made.watched.complaints == []
    assert made.watched.fetched() == []
    context.close()
