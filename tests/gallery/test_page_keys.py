"""The page by its keys, and what she does on it undone and done again, in a real browser."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

from browser import Opened
from playwright.sync_api import expect


def expect_at(opened: Opened, name: str) -> None:
    """What has the focus, as a screen reader names it."""
    expect(opened.page.locator(":focus")).to_have_accessible_name(name)


# --- arrows ------------------------------------------------------------------------------------------------


def test_arrows_go_from_square_to_square_as_they_lie_on_the_sheet(opened: Opened) -> None:
    """As in the grids of the WAI-ARIA Authoring Practices 1.2 (Keyboard Interaction For Layout Grids): arrows go to
    the neighbour and stay at the edge, Home and End go to the ends."""
    page = opened.page
    page.get_by_label("Sort by").select_option(label="dense to open")
    order = opened.numbers()
    tops = [box["y"] for number in order if (box := opened.card(number).bounding_box())]
    across = tops.count(tops[0])
    assert 1 < across < len(order), "rows and columns"
    opened.card(order[0]).locator(".picture").focus()
    for key, place in (
        ("ArrowRight", 1),
        ("ArrowDown", 1 + across),
        ("ArrowUp", 1),
        ("ArrowUp", 1),
        ("ArrowLeft", 0),
        ("ArrowLeft", 0),
        ("End", len(order) - 1),
        ("ArrowRight", len(order) - 1),
        ("Home", 0),
    ):
        page.keyboard.press(key)
        expect_at(opened, f"Square {order[place]}, enlarge")
    opened.card(order[0]).locator(".tick").focus()
    page.keyboard.press("ArrowRight")
    expect_at(opened, f"Tick square {order[1]}")


def test_arrows_leave_out_what_is_not_shown(opened: Opened) -> None:
    opened.tick(2, 5)
    opened.page.get_by_role("button", name="Ticked only").click()
    opened.card(2).locator(".picture").focus()
    opened.page.keyboard.press("ArrowRight")
    expect_at(opened, "Square 5, enlarge")


# --- letters -----------------------------------------------------------------------------------------------


def test_one_key_ticks_the_square_she_is_at_and_one_changes_the_look(opened: Opened) -> None:
    page, ticked = opened.page, opened.page.locator("#ticked")
    opened.card(3).locator(".picture").focus()
    page.keyboard.press("t")
    expect(ticked).to_have_text("1 ticked: 3")
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("t")
    page.keyboard.press("Escape")
    expect(ticked).to_have_text("2 ticked: 3 4")
    page.keyboard.press("l")
    expect(opened.card(1).locator(".picture.lace svg")).to_be_attached()
    page.keyboard.press("l")
    expect(opened.card(1).locator(".picture:not(.lace) svg")).to_be_attached()
    page.get_by_role("button", name="Compare").click()
    page.locator("#compare").get_by_role("button", name="Tick").nth(1).focus()
    page.keyboard.press("t")
    page.keyboard.press("Escape")
    expect(ticked).to_have_text("1 ticked: 3")


def test_letters_that_she_writes_are_no_keys(opened: Opened) -> None:
    page = opened.page
    opened.card(3).locator(".picture").click()
    page.get_by_label("Note").press_sequentially("tall?")
    page.keyboard.press("Escape")
    expect(opened.card(3).locator(".note")).to_have_text("tall?")
    expect(page.locator("#ticked")).to_have_text("Nothing ticked yet")
    expect(page.locator(".picture.lace")).to_have_count(0)


def test_the_letters_can_be_turned_off_and_stay_off(opened: Opened) -> None:
    """WCAG 2.2, success criterion 2.1.4: what one letter does can be turned off."""
    page = opened.page
    page.keyboard.press("?")
    page.get_by_role("checkbox", name="T, L and ? are keys").uncheck()
    page.reload()
    opened.card(3).locator(".picture").focus()
    for key in ("t", "l", "?"):
        page.keyboard.press(key)
    expect(page.locator("#ticked")).to_have_text("Nothing ticked yet")
    expect(page.locator(".picture.lace")).to_have_count(0)
    expect(page.locator("#keys")).to_be_hidden()
    assert page.locator(".tick[aria-keyshortcuts]").count() == 0


def test_the_page_tells_its_keys(opened: Opened) -> None:
    page = opened.page
    told = page.get_by_role("dialog", name="Keys")
    for how in (lambda: page.keyboard.press("?"), lambda: page.get_by_role("button", name="Keys").click()):
        how()
        expect(told).to_be_visible()
        page.keyboard.press("Escape")
        expect(told).to_be_hidden()
    expect_at(opened, "Keys")


# --- the focus ---------------------------------------------------------------------------------------------


def test_the_focus_returns_to_the_square_left_or_beside_it_if_it_is_gone(opened: Opened) -> None:
    page = opened.page
    opened.card(2).locator(".picture").click()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Escape")
    expect_at(opened, "Square 3, enlarge")
    opened.tick(2, 3, 5)
    page.get_by_role("button", name="Ticked only").click()
    for left, next_one in ((3, "Square 5, enlarge"), (5, "Square 2, enlarge"), (2, "Show all")):
        opened.card(left).locator(".picture").click()
        page.keyboard.press("t")
        page.keyboard.press("Escape")
        expect_at(opened, next_one)


def test_undo_leaves_the_focus_at_its_square_or_beside_it(opened: Opened) -> None:
    page = opened.page
    opened.card(2).locator(".picture").focus()
    page.keyboard.press("t")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Control+z")
    expect_at(opened, "Square 3, enlarge")
    page.keyboard.press("Control+y")
    page.get_by_role("button", name="Ticked only").click()
    page.get_by_role("button", name="Ticked only").click()
    opened.card(3).locator(".picture").focus()
    page.keyboard.press("Control+z")
    assert opened.numbers() == [2]
    expect_at(opened, "Square 2, enlarge")


def test_a_pick_is_seen_small_and_enlarged_and_the_focus_returns_to_it(opened: Opened) -> None:
    page = opened.page
    opened.tick(2, 5)
    page.get_by_role("button", name="Picks").click()
    small = page.locator("#picks-list .picture")
    expect(small.locator("svg path:first-child")).to_have_count(2)
    assert small.nth(1).inner_html() == opened.card(5).locator(".picture").inner_html()
    small.nth(1).click()
    expect(page.locator("#large").get_by_role("heading")).to_have_text("Square 5")
    page.keyboard.press("Escape")
    expect(page.locator("#picks-list .picture").nth(1)).to_be_focused()


# --- undo and redo -----------------------------------------------------------------------------------------


def seen(opened: Opened) -> dict[str, Any]:
    """All that can be undone, as she sees it."""
    page = opened.page
    return {
        "ticked": page.locator("#ticked").inner_text(),
        "cards ticked": page.locator(".card.ticked").evaluate_all("(all) => all.map((each) => each.dataset.number)"),
        "notes": page.locator(".card .note").all_text_contents(),
        "shown": opened.numbers(),
        "only": page.locator("#only").get_attribute("aria-pressed"),
        "filter": page.locator("#filters-open").inner_text(),
        "order": page.get_by_label("Sort by").input_value(),
        "kept": page.evaluate("localStorage.getItem(STUDY.key)") or "[]",
    }


def write_note(opened: Opened, number: int, words: str) -> None:
    opened.card(number).locator(".picture").click()
    opened.page.get_by_label("Note").press_sequentially(words)
    opened.page.keyboard.press("Escape")


def clear_picks(opened: Opened) -> None:
    opened.page.get_by_role("button", name="Picks").click()
    opened.page.get_by_role("button", name="Untick all").click()
    opened.page.keyboard.press("Escape")


def load_picks(opened: Opened) -> None:
    head = {"format": "stampwork picks", "version": 1, "study": "garden-society"}
    text = json.dumps({**head, "picks": [{"number": 3, "note": "after all"}, {"number": 6, "note": ""}]})
    opened.page.get_by_role("button", name="Picks").click()
    opened.page.locator("#file").set_input_files({"name": "p.json", "mimeType": "", "buffer": text.encode()})
    expect(opened.page.locator("#said")).to_contain_text("Loaded 2 picks.")
    opened.page.keyboard.press("Escape")


# What she does, and what is said of it.
DEEDS: dict[str, Callable[[Opened], object]] = {
    "square 2 ticked": lambda opened: opened.tick(2),
    "square 5 ticked": lambda opened: opened.tick(5),
    "note on 5": lambda opened: write_note(opened, 5, "for the door"),
    "note on 1": lambda opened: write_note(opened, 1, "too dense"),
    "order by dense to open": lambda opened: opened.page.get_by_label("Sort by").select_option(label="dense to open"),
    "filter by pairs": lambda opened: (
        opened.page.get_by_role("group", name="Pairs").get_by_label("from").press_sequentially("21")
    ),
    "filter by symmetry": lambda opened: opened.page.get_by_role("checkbox", name="full").uncheck(),
    "all shown": lambda opened: opened.page.get_by_role("button", name="Show all").click(),
    "ticked ones only": lambda opened: opened.page.get_by_role("button", name="Ticked only").click(),
    "2 picks loaded": load_picks,
    "all unticked": clear_picks,
}


def test_all_that_she_does_is_undone_step_by_step_and_done_again(opened: Opened) -> None:
    page = opened.page
    tray = page.get_by_role("region", name="Ticked squares")
    back, again = (tray.get_by_role("button", name=name) for name in ("Undo", "Redo"))
    told = tray.locator(".told")
    page.get_by_role("button", name="Filter").click()
    views = [seen(opened)]
    for words, deed in DEEDS.items():
        deed(opened)
        expect(back).to_have_attribute("title", words)
        views.append(seen(opened))
        assert views[-1] != views[-2], words
    for words, view in zip(reversed(DEEDS), reversed(views[:-1]), strict=True):
        back.click()
        expect(told).to_have_text(f"Undone: {words}.")
        assert seen(opened) == view
    expect(back).to_have_attribute("aria-disabled", "true")
    back.click(force=True)
    assert seen(opened) == views[0]
    for words, view in zip(DEEDS, views[1:], strict=True):
        again.click()
        expect(told).to_have_text(f"Done again: {words}.")
        assert seen(opened) == view
    expect(again).to_have_attribute("aria-disabled", "true")


def test_what_is_done_after_an_undo_takes_the_place_of_what_was_undone(opened: Opened) -> None:
    page, ticked = opened.page, opened.page.locator("#ticked")
    opened.tick(1, 2)
    page.keyboard.press("Control+z")
    expect(ticked).to_have_text("1 ticked: 1")
    opened.tick(4)
    page.keyboard.press("Control+y")
    expect(ticked).to_have_text("2 ticked: 1 4")
    for key, words in (
        ("Control+z", "1 ticked: 1"),
        ("Control+Shift+Z", "2 ticked: 1 4"),
        ("Control+z", "1 ticked: 1"),
        ("Control+z", "Nothing ticked yet"),
    ):
        page.keyboard.press(key)
        expect(ticked).to_have_text(words)


def test_in_a_note_the_keys_of_undo_are_the_notes_and_beside_it_the_pages(opened: Opened) -> None:
    page = opened.page
    opened.tick(4)
    opened.card(3).locator(".picture").click()
    note = page.get_by_label("Note")
    note.press_sequentially("door")
    page.keyboard.press("Control+z")
    assert note.input_value() != "door"
    expect(page.locator("#ticked")).to_have_text("1 ticked: 4")
    note.fill("window")
    page.locator("#after").focus()
    page.keyboard.press("Control+z")
    expect(note).to_have_value("")
    expect(page.locator("#large .told")).to_have_text("Undone: note on 3.")
