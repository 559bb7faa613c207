"""The page as she uses it, in a real browser: end to end from a study to its picks."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from browser import SHOWN, Opened, study, surely
from playwright.sync_api import Browser, Locator, expect

from constraints.design import Design
from constraints.layout import lay
from explore.cli import run
from gallery.sheets.captions import stitches_used

# --- looking -----------------------------------------------------------------------------------------------


def test_all_squares_are_drawn_and_change_their_look_at_a_switch(opened: Opened) -> None:
    page = opened.page
    drawn = page.locator(".card .picture > svg")
    expect(drawn).to_have_count(len(SHOWN))
    before = [each.inner_html() for each in drawn.all()]
    page.locator(".head").get_by_label("Lace").check()
    expect(page.locator(".card .picture.lace > svg")).to_have_count(len(SHOWN))
    after = [each.inner_html() for each in drawn.all()]
    assert not {*before} & {*after}


def test_sorting_puts_the_squares_in_order(opened: Opened) -> None:
    sort = opened.page.get_by_label("Sort by")
    assert opened.numbers() == [1, 2, 3, 4, 5, 6]
    orders: dict[str, Callable[[Design], float]] = {
        "best known": lambda design: -surely(design),
        "dense to open": lambda design: -round(100 * lay(design).solid),
        "fewest splits": lambda design: design.splits,
    }
    for label, key in orders.items():
        sort.select_option(label=label)
        assert opened.numbers() == [design.number for design in sorted(SHOWN, key=key)]


def test_filters_leave_what_they_say(opened: Opened) -> None:
    page = opened.page
    page.get_by_role("button", name="Filter").click()

    def those(fits: Any) -> list[int]:
        found = [design.number for design in SHOWN if fits(design)]
        assert 0 < len(found) < len(SHOWN), "a filter that cannot be seen at work"
        return found

    def range_of(label: str, end: str) -> Locator:
        return page.get_by_role("group", name=label).get_by_label(end)

    cases = [
        (range_of("Pairs", "from"), "21", lambda s: s.pairs >= 21),
        (range_of("Size", "to"), "36", lambda s: s.width_mm <= 36),
        (range_of("Pitch", "from"), "4.5", lambda s: s.pitch_mm >= 4.5),
        (range_of("Splits", "to"), "1", lambda s: s.splits <= 1),
    ]
    for place, text, fits in cases:
        place.fill(text)
        assert opened.numbers() == those(fits)
        place.fill("")
    solid = [round(100 * lay(design).solid) for design in SHOWN]
    range_of("Solid", "from").fill(str(max(solid)))
    assert opened.numbers() == [number for number, share in enumerate(solid, 1) if share == max(solid)]
    page.get_by_role("button", name="Show all").click()
    expect(page.locator("#shown")).to_have_text("6 of 6 squares")
    page.get_by_role("checkbox", name="full").uncheck()
    assert opened.numbers() == those(lambda s: s.symmetry != "full")
    page.get_by_role("group", name="Stitches").get_by_label("rose").select_option("without")
    assert opened.numbers() == those(lambda s: s.symmetry != "full" and "rose" not in stitches_used(s))
    expect(page.locator("#shown")).to_have_text(f"{len(opened.numbers())} of 6 squares")
    expect(page.get_by_role("button", name="Filter (2)")).to_be_visible()
    page.get_by_role("button", name="Show all").click()
    expect(page.locator("#shown")).to_have_text("6 of 6 squares")
    assert opened.numbers() == [1, 2, 3, 4, 5, 6]


def test_a_square_is_enlarged_with_every_thread_and_stepped_on_from(opened: Opened) -> None:
    page = opened.page
    page.locator(".head").get_by_label("Lace").check()
    small = opened.card(2).locator(".picture")
    expect(opened.card(2).locator(".picture.lace svg")).to_be_attached()
    in_sheet = len(small.inner_html())
    small.click()
    large = page.locator("#large")
    expect(large.get_by_role("heading")).to_have_text("Square 2")
    expect(large.locator(".picture svg path").first).to_be_attached()
    assert len(large.locator("#large-picture").inner_html()) > 2 * in_sheet
    for key, number in (("ArrowRight", 3), ("ArrowLeft", 2), ("ArrowLeft", 1), ("ArrowLeft", 6), ("ArrowRight", 1)):
        page.keyboard.press(key)
        expect(large.get_by_role("heading")).to_have_text(f"Square {number}")
    page.keyboard.press("Escape")
    expect(large).to_be_hidden()
    expect(opened.card(1).locator(".picture")).to_be_focused()


def test_two_squares_are_compared_and_what_differs_stands_out(opened: Opened) -> None:
    page = opened.page
    opened.tick(2, 5)
    page.get_by_role("button", name="Compare").click()
    dialog = page.locator("#compare")
    expect(dialog.locator(".picture svg")).to_have_count(2)
    assert [each.input_value() for each in dialog.get_by_label("Square").all() if each.is_visible()] == ["2", "5"]
    for row in dialog.locator("tbody tr").all():
        left, right = row.locator("td").all_inner_texts()
        assert ("differs" in (row.get_attribute("class") or "")) == (left != right)
    expect(dialog.locator("code")).to_contain_text(" 2 5")
    dialog.get_by_label("Square").first.select_option("4")
    expect(dialog.locator("thead")).to_contain_text("Square 4")


# --- picking -----------------------------------------------------------------------------------------------


def test_ticks_and_notes_outlast_a_reload_are_saved_and_feed_pick(opened: Opened, folder: Path, tmp_path: Path) -> None:
    page = opened.page
    opened.tick(2, 5, 6)
    opened.tick(6)
    opened.card(5).locator(".picture").click()
    page.get_by_label("Note").fill('for the "door"\n\N{BLACK HEART SUIT} </script>')
    page.keyboard.press("Escape")
    opened.card(1).locator(".picture").click()
    page.get_by_label("Note").fill("too dense")
    page.keyboard.press("Escape")
    page.reload()
    expect(page.locator("#ticked")).to_have_text("2 ticked: 2 5")
    expect(opened.card(5).locator(".note")).to_have_text('for the "door"\n\N{BLACK HEART SUIT} </script>')
    page.get_by_role("button", name="Picks").click()
    expect(page.get_by_text(f" pick {folder} 2 5").first).to_be_visible()
    with page.expect_download() as download:
        page.get_by_role("button", name="Save picks.json").click()
    assert download.value.suggested_filename == "picks.json"
    saved = tmp_path / "picks.json"
    download.value.save_as(saved)
    assert json.loads(saved.read_text(encoding="utf-8")) == {
        "format": "stampwork picks",
        "version": 1,
        "study": "garden-society",
        "picks": [
            {"number": 2, "note": ""},
            {"number": 5, "note": 'for the "door"\n\N{BLACK HEART SUIT} </script>'},
        ],
        "notes": [{"number": 1, "note": "too dense"}],
    }
    copy = tmp_path / "garden-society"
    study(copy, SHOWN)
    assert run(["pick", str(copy), "--from", str(saved)]) == 0
    assert json.loads((copy / "picks.json").read_text("utf-8")) == json.loads(saved.read_text("utf-8"))


def test_a_file_of_picks_is_loaded_and_a_note_that_gives_way_is_told(opened: Opened, tmp_path: Path) -> None:
    page = opened.page
    opened.card(3).locator(".picture").click()
    page.get_by_label("Note").fill("before")
    page.keyboard.press("Escape")
    picks: list[dict[str, Any]] = [{"number": 3, "note": "after"}, {"number": 4}, {"number": 31, "note": ""}]
    head = {"format": "stampwork picks", "version": 1, "study": "garden-society"}
    file = tmp_path / "any-name.json"
    page.get_by_role("button", name="Picks").click()
    said = page.locator("#said")
    for text, answer in (
        (json.dumps({**head, "picks": picks}), 'Loaded 2 picks. The note on 3 was "before". There is no square 31.'),
        (json.dumps({**head, "study": "bees", "picks": picks}), "These are picks of bees, not of garden-society."),
        (json.dumps({**head, "version": 2, "picks": picks}), 'This file is no "stampwork picks" of version 1.'),
        (json.dumps({**head, "picks": [{"number": "3"}]}), "This file is damaged: "),
        ("{", "This file is not a JSON text."),
    ):
        file.write_text(text)
        page.locator("#file").set_input_files(file)
        expect(said).to_contain_text(answer)
    expect(page.locator("#ticked")).to_have_text("2 ticked: 3 4")
    page.get_by_role("button", name="Close").click()
    expect(opened.card(3).locator(".note")).to_have_text("after")


def test_squares_picked_in_the_study_are_marked_and_ticked(browser: Browser, tmp_path: Path) -> None:
    study(tmp_path / "s", SHOWN)
    assert run(["pick", str(tmp_path / "s"), "3", "--note", "for the door"]) == 0
    assert run(["page", str(tmp_path / "s")]) == 0
    context = browser.new_context()
    again = Opened(context, tmp_path / "s" / "page.html")
    expect(again.page.locator("#ticked")).to_have_text("1 ticked: 3")
    expect(again.card(3).locator(".picked")).to_be_visible()
    expect(again.card(3).locator(".note")).to_have_text("for the door")
    again.tick(3)
    again.page.reload()
    expect(again.page.locator("#ticked")).to_have_text("Nothing ticked yet")
    context.close()


def test_a_browser_that_keeps_nothing_still_ticks(browser: Browser, folder: Path) -> None:
    context = browser.new_context()
    context.add_init_script("Object.defineProperty(window, 'localStorage', {get() { throw new Error('no') }})")
    made = Opened(context, folder / "page.html")
    made.tick(1)
    expect(made.page.locator("#ticked")).to_have_text("1 ticked: 1")
    made.page.get_by_role("button", name="Picks").click()
    assert made.watched.complaints == []
    context.close()


@pytest.mark.parametrize("opened", [{"permissions": ["clipboard-read", "clipboard-write"]}], indirect=True)
def test_the_next_command_is_copied(opened: Opened, folder: Path) -> None:
    page = opened.page
    opened.card(4).locator(".picture").click()
    copy = page.get_by_role("button", name="Copy the command: Its pricking")
    copy.click()
    expect(copy).to_have_text("Copied")
    assert page.evaluate("navigator.clipboard.readText()").endswith(f" pricking {folder} 4")


def test_only_ticked_squares_may_be_shown(opened: Opened) -> None:
    opened.tick(2, 5)
    opened.page.get_by_role("button", name="Ticked only").click()
    assert opened.numbers() == [2, 5]
    opened.tick(2)
    assert opened.numbers() == [5]
    expect(opened.card(5).locator(".tick")).to_be_focused()
    opened.tick(5)
    expect(opened.page.get_by_text("No square is like that.")).to_be_visible()
