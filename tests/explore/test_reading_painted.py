"""Which shapes of a drawing are ink and which are paper: colours, visibility, style sheets (SVG 1.1 and 2, W3C)."""

from __future__ import annotations

import math

import pytest
from reading_prints import drawn


def test_white_on_dark_is_cut_out_and_dark_on_white_printed_again() -> None:
    body = (
        '<circle r="30"/><circle r="20" fill="#fff"/><circle r="10" fill="navy"/>'
        '<circle r="5" fill="white" fill-opacity="0"/><circle r="5" style="fill:none"/>'
    )
    assert drawn(body).area == pytest.approx(math.pi * (900 - 400 + 100), rel=0.002)


def test_white_below_dark_changes_nothing() -> None:
    assert drawn('<circle r="20" fill="white"/><circle r="30"/>').area == pytest.approx(math.pi * 900, rel=0.002)


@pytest.mark.parametrize(
    "hidden",
    [
        'display="none"',
        'visibility="hidden"',
        'opacity="0"',
        'fill="none"',
        'style="display:none"',
        'fill="transparent"',
    ],
)
def test_what_cannot_be_seen_prints_nothing(hidden: str) -> None:
    body = f'<g {hidden}><rect width="50" height="50"/></g><rect width="10" height="10"/>'
    assert drawn(body).area == pytest.approx(100)


def test_a_visible_child_of_a_hidden_group_prints() -> None:
    # 11.5: visibility is inherited and may be set again; display is not.
    assert drawn('<g visibility="hidden"><rect visibility="visible" width="9" height="9"/></g>').area == 81


@pytest.mark.parametrize("colour", ["yellow", "#f00", "rgb(0,0,255)", "url(#gradient)", "currentColor", "silver"])
def test_any_colour_is_ink(colour: str) -> None:
    assert drawn(f'<rect width="10" height="10" fill="{colour}"/>').area == pytest.approx(100)


def test_a_drawing_all_in_white_is_taken_as_ink() -> None:
    assert drawn('<rect width="10" height="10" fill="white"/>').area == pytest.approx(100)


def test_a_tinted_page_under_darker_shapes_is_paper() -> None:
    page = '<rect width="100" height="100" fill="tan"/><circle cx="50" cy="50" r="20"/>'
    assert drawn(page, 'viewBox="0 0 100 100"').area == pytest.approx(math.pi * 400, rel=0.002)


def test_a_dark_page_with_white_shapes_is_a_block_with_holes() -> None:
    page = '<rect width="100" height="100"/><circle cx="50" cy="50" r="20" fill="white"/>'
    assert drawn(page, 'viewBox="0 0 100 100"').area == pytest.approx(10_000 - math.pi * 400, rel=0.002)


@pytest.mark.parametrize(
    ("style", "area"),
    [
        ("rect{fill:none}", 0),
        (".thin{fill:none}", 0),
        ("#r{fill:none}", 0),
        ("rect.thin{fill:none}", 0),
        ("g, rect { fill : none }", 0),
        ("/* rect{fill:none} */ circle{fill:none}", 100),
        (".thin{fill:none} #r{fill:red}", 100),  # the narrower selector wins
        ("rect{fill:none !important} .thin{fill:red}", 100),
    ],
)
def test_style_sheets_are_followed(style: str, area: float) -> None:
    body = '<rect id="r" class="thin" width="10" height="10"/><path fill="red" d="M90 0h10v10z"/>'
    assert drawn(f"<style>{style}</style>{body}").area - 50 == pytest.approx(area)


def test_an_element_s_own_style_wins_over_its_attributes() -> None:
    assert drawn('<rect fill="none" style="fill:black" width="10" height="10"/>').area == 100
