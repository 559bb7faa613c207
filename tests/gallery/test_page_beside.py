"""Two to four squares side by side, and that no state is told by colour alone, in a real browser."""

from __future__ import annotations

import pytest
from browser import SHOWN, Opened, narrow, tulip
from playwright.sync_api import Locator, expect

from gallery.web.telling import facts, told_of


def beside(opened: Opened) -> Locator:
    return opened.page.get_by_role("dialog", name="Compare")


def shown_beside(opened: Opened) -> list[int]:
    return [int(each.input_value()) for each in beside(opened).get_by_label("Square").all() if each.is_visible()]


def test_as_many_squares_as_are_ticked_stand_side_by_side_and_four_at_most(opened: Opened) -> None:
    page = opened.page
    for tick, shown in ((2, [2, 1]), (3, [2, 3]), (5, [2, 3, 5]), (1, [1, 2, 3, 5]), (6, [1, 2, 3, 5])):
        opened.tick(tick)
        page.get_by_role("button", name="Compare").click()
        assert shown_beside(opened) == shown
        expect(beside(opened).locator(".picture:visible svg")).to_have_count(len(shown))
        page.keyboard.press("Escape")


@pytest.mark.parametrize("opened", [{"viewport": {"width": 1280, "height": 800}}], indirect=True)
def test_four_squares_stand_in_one_row_and_all_of_each_is_in_sight(opened: Opened) -> None:
    opened.page.get_by_role("button", name="Compare").click()
    beside(opened).get_by_role("radio", name="4").check()
    assert shown_beside(opened) == [1, 2, 3, 4]
    boxes = [each.bounding_box() for each in beside(opened).locator(".picture").all()]
    assert len({box["y"] for box in boxes if box}) == 1
    assert all(box and box["x"] >= 0 and box["x"] + box["width"] <= 1280 and box["width"] > 250 for box in boxes)
    assert all(box and box["y"] + box["height"] <= 800 for box in boxes)


@pytest.mark.parametrize("opened", [narrow(1280), narrow(390)], indirect=True)
def test_each_row_of_the_table_tells_one_fact_of_every_square_and_marks_what_differs(opened: Opened) -> None:
    told = [dict(facts(told_of(design, [tulip()]), False)) for design in SHOWN[:4]]
    # As seams are of those that have some.
    del told[0]["Pins"]
    opened.page.evaluate("SQUARES.get(1).facts = SQUARES.get(1).facts.filter(([label]) => label !== 'Pins')")
    opened.page.get_by_role("button", name="Compare").click()
    beside(opened).get_by_role("radio", name="4").check()
    table = beside(opened).get_by_role("table")
    seen = {}
    for row in table.locator("tbody tr").all():
        values = row.locator("td").all_inner_texts()
        label = row.get_by_role("rowheader").text_content() or ""
        assert label.endswith("differs") == (len(set(values)) > 1) == ("differs" in (row.get_attribute("class") or ""))
        seen[label.removesuffix(", differs")] = values
    assert seen == {label: [each.get(label, "-") for each in told] for label in {key for each in told for key in each}}
    assert table.get_by_role("columnheader").all_inner_texts() == [f"Square {number}" for number in (1, 2, 3, 4)]


# --- not by colour alone ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("opened", [{"forced_colors": "active"}], indirect=True)
def test_what_is_on_has_a_sign_that_is_no_colour(opened: Opened) -> None:
    """WCAG 2.2, success criterion 1.4.1. With forced colours (CSS Color Adjustment 1) no background of ours is left."""
    page = opened.page

    def sign(where: Locator) -> str:
        content: str = where.evaluate("(each) => getComputedStyle(each, '::before').content")
        return content

    hook = opened.card(2).locator(".tick path")
    expect(hook).to_be_hidden()
    opened.tick(2)
    expect(hook).to_be_visible()
    only, drawing, lace = page.locator("#only"), *page.locator(".head .looks span").all()
    assert [sign(each)[:2] for each in (only, drawing, lace)] == ["no", '"\N{CHECK MARK}', "no"]
    only.click()
    page.locator(".head").get_by_label("Lace").check()
    assert [sign(each)[:2] for each in (only, drawing, lace)] == ['"\N{CHECK MARK}', "no", '"\N{CHECK MARK}']
    assert page.get_by_role("button", name="Ticked only", exact=True).count() == 1, "the sign is not read out"
