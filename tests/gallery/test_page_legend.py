"""The legend of the page tells what the look that is shown shows, with pieces of the squares themselves."""

from __future__ import annotations

import re

import pytest
from browser import SHOWN, Opened, narrow
from playwright.sync_api import expect

from constraints.fillings import FILLINGS
from constraints.stitches import GROUND, STITCHES
from gallery.sheets.captions import stitches_used
from gallery.web.browse import drawings_of
from gallery.web.legend import legend_of

# What each stitch is called where it is explained.
WORDS = {name: each.words for name, each in STITCHES.items()} | {
    unit: filling.label for unit, filling in FILLINGS.items()
}


def ends(path: str) -> list[tuple[int, int]]:
    """Where the steps of a path end, read by the grammar of SVG 2 (9.3): relative moves, lines and curves."""
    x = y = 0
    begin, found = (0, 0), []
    for letter, numbers in re.findall(r"([mlhvqcz])([^mlhvqcz]*)", path):
        values = [int(each) for each in re.findall(r"-?\d+", numbers)]
        if letter == "z":
            x, y = begin
            continue
        if letter in "hv":
            x, y = (x + values[0], y) if letter == "h" else (x, y + values[0])
        else:
            x, y = x + values[-2], y + values[-1]
        if letter == "m":
            begin = (x, y)
        found.append((x, y))
    return found


@pytest.mark.parametrize("look", ["drawing", "lace"])
def test_every_stitch_of_the_squares_is_explained_and_no_other(look: str) -> None:
    told = [each["words"] for each in legend_of(SHOWN)[look]]
    assert len(told) == len(set(told))
    used = {name for design in SHOWN for name in stitches_used(design)}
    explained = {name for name, words in WORDS.items() if words in told}
    assert used, "squares that are worked in something"
    assert {WORDS[name] for name in used if name in WORDS} == {WORDS[name] for name in explained}
    assert GROUND in told


@pytest.mark.parametrize("look", ["drawing", "lace"])
def test_a_sample_is_a_piece_of_a_square_in_its_colours(look: str) -> None:
    drawn = [drawings_of(design)[look] for design in SHOWN]
    inks = {colour for each in drawn for _, colour, *_ in each["layers"]}
    for sample in legend_of(SHOWN)[look]:
        left, top, side = sample["box"]
        within = [
            (x, y)
            for path in sample["paths"]
            for x, y in ends(path)
            if left <= x <= left + side and top <= y <= top + side
        ]
        assert within, f"{sample['words']}: nothing of it is in sight"
        assert {colour for _, colour, *_ in sample["layers"]} <= inks, sample["words"]


def test_the_legend_follows_the_look(opened: Opened) -> None:
    page = opened.page
    legend = page.locator("main .legend")
    words = legend.locator("li").all_inner_texts()
    assert [each.strip() for each in words] == [each["words"] for each in legend_of(SHOWN)["drawing"]]
    before = legend.locator("svg").first.inner_html()
    page.keyboard.press("l")
    expect(legend.locator(".picture.lace svg")).to_have_count(len(legend_of(SHOWN)["lace"]))
    assert legend.locator("svg").first.inner_html() != before
    opened.card(1).locator(".picture").click()
    assert page.locator("#large .legend li").all_inner_texts() == legend.locator("li").all_inner_texts()


@pytest.mark.parametrize("opened", [narrow(390)], indirect=True)
def test_on_a_phone_the_legend_is_there_when_it_is_asked_for(opened: Opened) -> None:
    legend = opened.page.locator("main .legend")
    expect(legend.get_by_role("list")).to_be_hidden()
    legend.locator("summary").click()
    expect(legend.get_by_role("list", name="Legend")).to_be_visible()
