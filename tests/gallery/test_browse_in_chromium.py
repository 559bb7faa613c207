"""The page as she uses it, in a real browser: end to end from a study to its picks."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pypdf
import pytest
from axe_playwright_python.sync_playwright import Axe
from browser import Watched, chromium, squares, study
from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect

from constraints.layout import lay
from constraints.square import Square
from explore.cli import run
from gallery.sheets.captions import stitches_used

HOSTILE = '"></script><script>alert(1)</script>'
HOSTILE_STAMP = '"><svg onload=alert(1)>'
SHOWN = squares(6)
TARGETS = ", ".join(
    f"{each}:visible" for each in ("button", "select", "input[type=number]", ".looks label", ".choices label")
)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as launched:
        yield launched


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("e2e") / "garden-society"
    study(made, SHOWN)
    assert run(["page", str(made)]) == 0
    return made


def match_of(square: Square) -> float:
    assert square.stamp is not None
    return round(square.stamp.match, 2)


class Opened:
    """A page in a browser of its own, and what was noticed of it."""

    def __init__(self, context: BrowserContext, file: Path) -> None:
        context.set_default_timeout(5000)
        self.context, self.file = context, file
        self.page: Page = context.new_page()
        self.watched = Watched(self.page)
        self.page.goto(file.as_uri())
        expect(self.page.locator(".card svg path").first).to_be_attached()

    def numbers(self) -> list[int]:
        """The squares shown, in their order."""
        cards = self.page.locator(".card:visible")
        return [int(each) for each in cards.evaluate_all("(all) => all.map((card) => card.dataset.number)")]

    def card(self, number: int) -> Locator:
        return self.page.locator(f'.card[data-number="{number}"]')

    def tick(self, *numbers: int) -> None:
        for number in numbers:
            self.card(number).locator(".tick").click()


@pytest.fixture
def opened(browser: Browser, folder: Path, request: pytest.FixtureRequest) -> Iterator[Opened]:
    """The page, wide and light unless the test says otherwise; whatever a test does, the page must not complain."""
    context = browser.new_context(**{"viewport": {"width": 1280, "height": 900}, **getattr(request, "param", {})})
    made = Opened(context, folder / "page.html")
    yield made
    assert made.watched.complaints == []
    assert made.watched.fetched() == []
    context.close()


def narrow(width: int, scheme: str = "light") -> dict[str, Any]:
    return {"viewport": {"width": width, "height": 900}, "color_scheme": scheme, "has_touch": True}


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
    orders: dict[str, Callable[[Square], float]] = {
        "best match": lambda square: -match_of(square),
        "dense to open": lambda square: -round(100 * lay(square).solid),
        "fewest splits": lambda square: square.splits,
    }
    for label, key in orders.items():
        sort.select_option(label=label)
        assert opened.numbers() == [square.number for square in sorted(SHOWN, key=key)]


def test_filters_leave_what_they_say(opened: Opened) -> None:
    page = opened.page
    page.get_by_role("button", name="Filter").click()

    def those(fits: Any) -> list[int]:
        found = [square.number for square in SHOWN if fits(square)]
        assert 0 < len(found) < len(SHOWN), "a filter that cannot be seen at work"
        return found

    def range_of(label: str, end: str) -> Locator:
        return page.get_by_role("group", name=label).get_by_label(end)

    cases = [
        (range_of("Pairs", "from"), "21", lambda s: s.pairs >= 21),
        (range_of("Size", "to"), "36", lambda s: s.width_mm <= 36),
        (range_of("Pitch", "from"), "4.5", lambda s: s.pitch_mm >= 4.5),
        (range_of("Match", "from"), "0.77", lambda s: match_of(s) >= 0.77),
        (range_of("Splits", "to"), "1", lambda s: s.splits <= 1),
    ]
    for place, text, fits in cases:
        place.fill(text)
        assert opened.numbers() == those(fits)
        place.fill("")
    solid = [round(100 * lay(square).solid) for square in SHOWN]
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
    assert [each.input_value() for each in dialog.get_by_label("Square").all()] == ["2", "5"]
    for row in dialog.locator("tbody tr").all():
        left, right = row.locator("td").all_inner_texts()
        assert ("differs" in (row.get_attribute("class") or "")) == (left != right)
    expect(dialog.get_by_text("stampwork compare")).to_contain_text(" 2 5")
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
    expect(page.get_by_text(f"stampwork pick {folder} 2 5", exact=True)).to_be_visible()
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
    page.get_by_role("button", name="Copy: stampwork vary").click()
    expect(page.get_by_role("button", name="Copy: stampwork vary")).to_have_text("Copied")
    assert page.evaluate("navigator.clipboard.readText()") == f"stampwork vary {folder} 4"


def test_only_ticked_squares_may_be_shown(opened: Opened) -> None:
    opened.tick(2, 5)
    opened.page.get_by_role("button", name="Ticked only").click()
    assert opened.numbers() == [2, 5]
    opened.tick(2)
    assert opened.numbers() == [5]
    expect(opened.card(5).locator(".tick")).to_be_focused()
    opened.tick(5)
    expect(opened.page.get_by_text("No square is like that.")).to_be_visible()


# --- paper -------------------------------------------------------------------------------------------------


def match_words(square: Square) -> str:
    """What tells the printed squares apart."""
    return f"match {match_of(square):.2f}"


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
    for square in SHOWN:
        assert (match_words(square) in text) == (square.number in (2, 6)), square.number
        assert f"{square.pairs} pairs \N{MIDDLE DOT} {square.width_mm:g} mm" in text or square.number not in (2, 6)
    assert "garden-society" in text
    assert "for the door" in text
    assert not [word for word in ("Sort", "Filter", "Picks", "Compare", "Print", "Lace") if word in text]


def test_without_ticks_all_squares_shown_are_printed(opened: Opened, tmp_path: Path) -> None:
    expect(opened.page.locator(".card .picture > svg")).to_have_count(6)
    opened.page.evaluate("window.print = () => { document.title = 'printed'; }")
    opened.page.get_by_role("button", name="Print").click()
    expect(opened.page).to_have_title("printed")
    pages, _ = printed(opened, tmp_path / "p.pdf")
    assert all(match_words(square) in " ".join(pages) for square in SHOWN)


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
    page.keyboard.press("Escape")
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Picks").click()
    assert faults("picks") == []


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
    page.keyboard.press("Escape")
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Picks").click()
    fits()


def test_a_hostile_name_is_shown_and_never_run(browser: Browser, tmp_path: Path) -> None:
    folder = tmp_path / '"><img src=x onerror=alert(1)>'
    study(folder, squares(2, stamp=HOSTILE_STAMP), stamp=HOSTILE_STAMP)
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
