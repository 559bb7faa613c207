"""The map of the blocks in an order of work: small beside its head, or on a page of its own."""

from __future__ import annotations

import pytest
from matplotlib.patches import PathPatch
from matplotlib.text import Text
from strips import worked_round

from constraints import forms
from constraints.design import Design
from constraints.edgings import Fan
from constraints.forms import Frame
from constraints.working.steps import steps_of
from constraints.working.work import work
from gallery.order.block_map import BlockMap
from gallery.order.called import block_numbers
from gallery.order.pages import order_pages
from gallery.order.words import Telling

FEW = worked_round(forms.Square(11, Fan("cloth", 4, 2, 1)))
MANY = worked_round(Frame(50, 58, 12, Fan("half", 3, 2, 2)), passives=1)


def texts(design: Design) -> list[set[str]]:
    """The words of the first page and of the last one."""
    pages = order_pages(work(design), Telling("Order of work 07, greenhouse"), "a4")
    return [{text.get_text() for text in each.findobj(Text)} for each in (pages[0], pages[-1])]


def test_numbers_that_would_stand_one_on_the_other_go_on_a_page_of_their_own() -> None:
    done = work(MANY)
    assert BlockMap(done, False, (66.0, 66.0), (33.0, 33.0)).crowded
    assert not BlockMap(done, False, (170.0, 240.0), (105.0, 148.0)).crowded
    first, last = texts(MANY)
    assert "Blocks are numbered on the last page" in first
    assert "Numbers of the blocks; the thick line is the start" in last
    assert {str(number) for number in block_numbers(steps_of(done)).values()} <= last


def test_a_few_blocks_are_numbered_beside_the_head() -> None:
    assert not BlockMap(work(FEW), False, (66.0, 66.0), (33.0, 33.0)).crowded
    first, last = texts(FEW)
    assert "Numbers of the blocks; the thick line is the start" in first
    assert "Numbers of the blocks; the thick line is the start" not in last


def test_on_a_page_of_its_own_it_is_as_wide_as_the_lines_of_text() -> None:
    page = order_pages(work(MANY), Telling("Order of work 07, greenhouse"), "a4")[-1]
    (axes,) = page.axes
    boxes = [each.get_window_extent().transformed(axes.transData.inverted()) for each in axes.findobj(PathPatch)]
    outline = max(boxes, key=lambda box: abs(box.width) * abs(box.height))
    # But for the bows of the fans, a unit and a half on either side, which it draws straight.
    bow = 1.5 * (190 - 20) / 103
    assert sorted((outline.x0, outline.x1)) == pytest.approx([20.0 + bow, 190.0 - bow], abs=0.5)
