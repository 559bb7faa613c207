"""The parts of the page hold to the WAI-ARIA Authoring Practices 1.2 (W3C), pattern by pattern, in a real browser."""

from __future__ import annotations

import re

import pytest
from browser import Opened
from playwright.sync_api import Locator, expect

# Windows over the page, and the button that opens each.
WINDOWS = {"Square 1": "Square 1, enlarge", "Compare": "Compare", "Picks": "Picks", "Keys": "Keys"}
# WAI-ARIA 1.2, aria-keyshortcuts: modifiers, then one key, joined by plus signs.
SHORTCUT = re.compile(r"((Alt|Control|Shift|Meta|AltGraph)\+)*(\S|[A-Z]\w+)")


def opener(opened: Opened, name: str) -> Locator:
    return opened.page.get_by_role("button", name=WINDOWS[name], exact=True)


@pytest.mark.parametrize("name", WINDOWS)
def test_a_window_is_a_modal_dialog(opened: Opened, name: str) -> None:
    """Dialog (Modal) Pattern: named by its visible title; the focus moves in, stays in by Tab and Shift + Tab, and
    returns when Escape or a button closes it."""
    page = opened.page
    window = page.get_by_role("dialog", name=name, exact=True)
    for close in (lambda: page.keyboard.press("Escape"), lambda: window.get_by_role("button", name="Close").click()):
        opener(opened, name).focus()
        page.keyboard.press("Enter")
        expect(window).to_be_visible()
        expect(window.get_by_role("heading", name=name, exact=True)).to_be_visible()
        assert window.evaluate("(each) => each.matches(':modal') && each.contains(document.activeElement)")
        for key in ["Tab"] * 20 + ["Shift+Tab"] * 20:
            page.keyboard.press(key)
            # Between the last and the first the browser's own bar has its turn.
            assert page.evaluate(
                "document.activeElement === document.body || !!document.activeElement.closest(':modal')"
            )
        close()
        expect(window).to_be_hidden()
        expect(opener(opened, name)).to_be_focused()


def test_a_button_that_is_on_or_off_keeps_its_name(opened: Opened) -> None:
    """Button Pattern: the label of a toggle button does not change when its state does."""
    page = opened.page
    opened.card(1).locator(".picture").click()
    in_window = page.locator("#large").get_by_role("button", name="Tick", exact=True)
    for pressed in ("true", "false"):
        in_window.click()
        expect(in_window).to_have_attribute("aria-pressed", pressed)
    page.keyboard.press("Escape")
    for name in ("Tick square 1", "Ticked only"):
        button = page.get_by_role("button", name=name, exact=True)
        for pressed in ("true", "false"):
            button.click()
            expect(button).to_have_attribute("aria-pressed", pressed)


def test_the_button_of_the_filters_says_whether_they_are_there(opened: Opened) -> None:
    """Disclosure Pattern: aria-expanded, and aria-controls names what is disclosed."""
    button = opened.page.get_by_role("button", name="Filter")
    filters = opened.page.locator(f"#{button.get_attribute('aria-controls')}")
    for expanded in (False, True, False):
        expect(button).to_have_attribute("aria-expanded", str(expanded).lower())
        expect(filters).to_be_visible(visible=expanded)
        button.press("Enter")


def test_a_look_is_one_of_a_named_group_and_arrows_change_it(opened: Opened) -> None:
    """Radio Group Pattern: one Tab stop; arrows check the other one."""
    page = opened.page
    group = page.locator(".head").get_by_role("group", name="Look")
    drawing, lace = group.get_by_role("radio").all()
    drawing.focus()
    page.keyboard.press("ArrowRight")
    expect(lace).to_be_checked()
    expect(lace).to_be_focused()
    page.keyboard.press("Tab")
    assert page.evaluate("!document.activeElement.closest('.looks')")


def test_everything_to_press_has_a_name_and_every_key_is_told_to_a_reader(opened: Opened) -> None:
    """Providing Accessible Names and Descriptions; Keyboard Shortcuts (Developing a Keyboard Interface)."""
    page = opened.page
    opened.tick(1, 2)
    for name in WINDOWS:
        opener(opened, name).click()
        pressed = page.locator(":is(button, a, input, select, textarea):visible")
        for each in pressed.all():
            expect(each).to_have_accessible_name(re.compile(r"\S"))
        page.keyboard.press("Escape")
    shortcuts = "(all) => all.map((each) => each.getAttribute('aria-keyshortcuts'))"
    told = page.locator("[aria-keyshortcuts]").evaluate_all(shortcuts)
    assert {"t", "l", "?", "Control+Z", "Control+Y"} == set(told)
    assert all(SHORTCUT.fullmatch(each) for each in told)


def test_what_comes_of_a_press_is_said_where_she_is(opened: Opened) -> None:
    """WCAG 2.2, success criterion 4.1.3: status messages have a role; what lies behind a window is not read out."""
    page = opened.page
    for name in WINDOWS:
        opened.tick(3)
        opener(opened, name).click()
        page.locator("dialog[open] .close").focus()
        page.keyboard.press("Control+z")
        said = page.locator("dialog[open]").get_by_role("status").filter(has_text="Undone")
        expect(said).to_have_count(1)
        page.keyboard.press("Escape")
