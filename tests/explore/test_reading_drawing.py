"""Drawings: areas worked out by hand from the examples of SVG 1.1 and 2 (W3C), and files other software wrote.

The examples are quoted from memory by their names in the specification; each area follows from the geometry.
"""

from __future__ import annotations

import io
import math
from pathlib import Path

import numpy as np
import pytest
import shapely
import shapely.affinity
from matplotlib.figure import Figure
from matplotlib.path import Path as Outline
from reading_prints import agreement, counts, drawn, glyph, glyph_path
from shapely.geometry import Point, box

from explore.reading import StampError, read
from explore.reading.drawing import read_drawing

LETTERS = "ABDEGHKMPQRSTWXZabdeghikpqsx0123456789&%@?!$#"
# A five-pointed star drawn in one line, circumradius 100 about (0, 0).
STAR = " ".join(
    f"{100 * math.sin(4 * math.pi * i / 5):.6f},{-100 * math.cos(4 * math.pi * i / 5):.6f}" for i in range(5)
)
PENTAGON = 2.5 * (100 * (3 - math.sqrt(5)) / 2) ** 2 * math.sin(math.radians(72))
POINTS = 5 * 100 * (100 * (3 - math.sqrt(5)) / 2) * math.sin(math.radians(36))


@pytest.mark.parametrize(
    ("body", "area"),
    [
        # 8.3.2 triangle01
        ('<path d="M 100 100 L 300 100 L 200 300 z"/>', 20_000),
        # 8.3.8 arcs01: three quarters of a pie, and the missing quarter
        ('<path d="M300,200 h-150 a150,150 0 1,0 150,-150 z"/>', 0.75 * math.pi * 150**2),
        ('<path d="M275,175 v-150 a150,150 0 0,0 -150,150 z"/>', 0.25 * math.pi * 150**2),
        # 9.2 rect02, rounded corners of radius 50
        ('<rect x="100" y="100" width="400" height="200" rx="50"/>', 80_000 - (4 - math.pi) * 2500),
        # 9.3 circle01 and 9.4 ellipse01
        ('<circle cx="600" cy="200" r="100"/>', math.pi * 100**2),
        ('<ellipse rx="250" ry="100" transform="translate(900 200)"/>', math.pi * 25_000),
        # 9.7 polygon01, the regular hexagon (its coordinates are whole numbers)
        ('<polygon points="850,75 958,137.5 958,262.5 850,325 742,262.6 742,137.5"/>', 40_500),
        # a cubic with x = 100 (3 t^2 - 2 t^3), y = 300 t (1 - t), and a parabola 50 high
        ('<path d="M0 0 C0 100 100 100 100 0 Z"/>', 6000),
        ('<path d="M0 0 Q50 100 100 0 Z"/>', 100 * 100 / 3),
        # smooth continuations T and S: a second arch below the first
        ('<path d="M0 0 Q50 100 100 0 T200 0 Z"/>', 2 * 100 * 100 / 3),
        # arcs too small for their ends are scaled up (F.6.6): half a disc of radius 50
        ('<path d="M0 0 A1 1 0 0 1 100 0 Z"/>', math.pi * 50**2 / 2),
        # flags without separators, numbers run together
        ('<path d="M0 0a50 50 0 01100 0z"/>', math.pi * 50**2 / 2),
        ('<path d="M0,0L10-.0.0e1 10.5z"/>', 10 * 10.5 / 2),
    ],
)
def test_shapes_have_the_area_their_geometry_gives(body: str, area: float) -> None:
    assert drawn(body).area == pytest.approx(area, rel=0.002)


@pytest.mark.parametrize(("rule", "area"), [("nonzero", POINTS), ("evenodd", POINTS - PENTAGON)])
def test_the_star_is_filled_by_its_rule(rule: str, area: float) -> None:
    # 11.3: the star of the fill-rule illustration.
    assert drawn(f'<polygon fill-rule="{rule}" points="{STAR}"/>').area == pytest.approx(area, rel=1e-4)


@pytest.mark.parametrize(
    ("second", "rule", "area"),
    [
        ("M25 25V75H75V25Z", "nonzero", 7500),  # against the outer square: a hole
        ("M25 25H75V75H25Z", "nonzero", 10_000),  # with it: solid
        ("M25 25H75V75H25Z", "evenodd", 7500),
    ],
)
def test_nested_subpaths_follow_their_direction_or_their_number(second: str, rule: str, area: float) -> None:
    # 11.3: the two nested squares of the fill-rule illustration.
    assert drawn(f'<path fill-rule="{rule}" d="M0 0H100V100H0Z{second}"/>').area == pytest.approx(area)


@pytest.mark.parametrize("letter", LETTERS)
def test_a_letter_as_a_path_keeps_its_area_parts_and_holes(letter: str, tmp_path: Path) -> None:
    codes = {Outline.MOVETO: "M", Outline.LINETO: "L", Outline.CURVE3: "Q", Outline.CURVE4: "C"}
    pieces = []
    for points, code in glyph_path(letter).iter_segments(simplify=False):
        pieces.append("Z" if code == Outline.CLOSEPOLY else codes[code] + " ".join(map(str, points)))
    file = tmp_path / "letter.svg"
    file.write_text(f'<svg viewBox="0 0 90 90"><path transform="scale(1 -1)" d="{"".join(pieces)}"/></svg>')
    stamp, truth = read(file), glyph(letter)
    assert stamp.shape.area == pytest.approx(truth.area, rel=0.02)
    assert counts(stamp.shape) == counts(truth)
    assert agreement(stamp.shape, truth) > 0.97
    assert stamp.tilt_degrees == 0


def test_a_drawing_written_by_other_software_is_read() -> None:
    # matplotlib's SVG writer: a DOCTYPE, styles, glyphs in <defs> shown by <use> under nested transforms.
    figure = Figure(figsize=(4, 2))
    figure.text(0.1, 0.3, "R8&", fontsize=72, fontfamily="DejaVu Sans", fontweight="bold")
    written = io.StringIO()
    figure.savefig(written, format="svg", metadata={"Date": None})
    shape, said = read_drawing(written.getvalue().encode())
    scale = 72 / 100 * 96 / 72  # points to pixels; glyph() draws at size 100
    assert shape.area == pytest.approx(scale**2 * sum(glyph(letter).area for letter in "R8&"), rel=0.01)
    assert counts(shape) == tuple(np.sum([counts(glyph(letter)) for letter in "R8&"], axis=0))
    assert said == []


def test_nested_transforms_multiply() -> None:
    # 7.5, Nested: translate(50,90), rotate(-45), translate(130,160) make [.707 -.707 .707 .707 255.03 111.21].
    shape = drawn(
        '<g transform="translate(50,90)"><g transform="rotate(-45)">'
        '<g transform="translate(130,160)"><rect width="10" height="10"/></g></g></g>'
    )
    half = math.sqrt(0.5) * 10
    assert shape.bounds == pytest.approx((255.06, 111.21 - half, 255.06 + 2 * half, 111.21 + half), abs=0.01)


@pytest.mark.parametrize(
    ("transform", "area"),
    [
        ("scale(2)", 400),
        ("scale(2 3)", 600),
        ("skewX(30)", 100),
        ("matrix(1 2 3 4 5 6)", 200),
        ("rotate(17 3 4)", 100),
    ],
)
def test_transforms_scale_areas_by_their_determinant(transform: str, area: float) -> None:
    assert drawn(f'<rect transform="{transform}" width="10" height="10"/>').area == pytest.approx(area)


@pytest.mark.parametrize(
    ("stroke", "area"),
    [
        ('stroke-linecap="butt"', 200),
        ('stroke-linecap="square"', 216),
        ('stroke-linecap="round"', 200 + 4 * math.pi),
        ('transform="scale(1 3)"', 600),  # the pen is scaled along with the line
        ('stroke-opacity="0"', 0),
    ],
)
def test_a_line_is_as_wide_as_its_pen_and_ends_in_its_cap(stroke: str, area: float) -> None:
    body = f'<line x2="50" stroke="black" stroke-width="4" {stroke}/><rect x="500" width="1" height="1"/>'
    assert drawn(body).area - 1 == pytest.approx(area, rel=0.01)


@pytest.mark.parametrize(
    ("join", "area"),
    [
        # Two arms of 50 x 4, the shared 2 x 2 corner once, and what the join adds outside it.
        ('stroke-linejoin="miter"', 400 - 4 + 4),
        ('stroke-linejoin="bevel"', 400 - 4 + 2),
        ('stroke-linejoin="round"', 400 - 4 + math.pi),
        ('stroke-linejoin="miter" stroke-miterlimit="1"', 400 - 4 + 2),
    ],
)
def test_corners_are_joined_as_asked(join: str, area: float) -> None:
    # 11.4, the three joins.
    body = f'<polyline points="0,0 50,0 50,50" fill="none" stroke="black" stroke-width="4" {join}/>'
    assert drawn(body).area == pytest.approx(area, rel=0.003)


def test_the_outline_of_a_closed_shape_is_joined_all_round() -> None:
    body = '<rect width="40" height="40" fill="none" stroke="black" stroke-width="4"/>'
    assert drawn(body).area == pytest.approx(44**2 - 36**2)
    assert counts(drawn(body)) == (1, 1)


def test_defs_print_only_where_they_are_used() -> None:
    body = '<defs><circle id="dot" r="10"/></defs><use href="#dot" x="50"/><use xlink:href="#dot" y="50"/>'
    shape = drawn(body, 'xmlns:xlink="http://www.w3.org/1999/xlink"')
    assert counts(shape) == (2, 0)
    assert shape.bounds == pytest.approx((-10, -10, 60, 60))


def test_a_symbol_is_fitted_into_the_box_of_its_use() -> None:
    # 5.5: the viewBox of a symbol, and width and height on the use.
    body = '<symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10"/></symbol>'
    assert drawn(body + '<use href="#s" x="5" width="40" height="40"/>').bounds == pytest.approx((5, 0, 45, 40))


@pytest.mark.parametrize("tag", ["clipPath", "mask", "marker", "pattern", "symbol", "defs", "metadata"])
def test_elements_that_are_never_drawn_themselves_are_not(tag: str) -> None:
    assert drawn(f'<{tag}><rect width="50" height="50"/></{tag}><rect width="10" height="10"/>').area == 100


@pytest.mark.parametrize(
    ("attributes", "bounds"),
    [
        ('width="60mm" height="60mm" viewBox="0 0 10 10"', (0, 0, 226.77, 226.77)),  # 96 pixels to the inch
        ('width="2in" height="1in" viewBox="0 0 10 10"', (48, 0, 144, 96)),  # xMidYMid meet
        ('width="200" height="100" viewBox="0 0 10 10" preserveAspectRatio="xMinYMid"', (0, 0, 100, 100)),
        ('width="200" height="100" viewBox="0 0 10 10" preserveAspectRatio="none"', (0, 0, 200, 100)),
        (
            'width="200" height="100" viewBox="0 0 10 10" preserveAspectRatio="xMidYMax slice"',
            (0, -100, 200, 100),
        ),
        ('viewBox="-5 -5 20 20"', (5, 5, 15, 15)),
        ("", (0, 0, 10, 10)),
    ],
)
def test_page_units_and_view_box_place_the_drawing(attributes: str, bounds: tuple[float, ...]) -> None:
    # SVG 1.1, 7.8: the viewBox and preserveAspectRatio examples.
    assert drawn('<rect width="10" height="10"/>', attributes).bounds == pytest.approx(bounds, abs=0.01)


def test_shares_are_of_the_page() -> None:
    shape = drawn('<rect x="10%" y="10%" width="50%" height="25%"/>', 'viewBox="0 0 200 100"')
    assert shape.bounds == pytest.approx((20, 10, 120, 35))


@pytest.mark.parametrize("quarters", [1, 2, 3])
def test_a_drawing_turned_by_quarters_is_read_turned_by_quarters(quarters: int) -> None:
    body = f'<polygon points="{STAR}" fill-rule="evenodd"/><circle cx="90" cy="20" r="30"/>'
    turned = drawn(f'<g transform="rotate({90 * quarters})">{body}</g>')
    expected = shapely.affinity.rotate(drawn(body), 90 * quarters, origin=(0, 0))
    assert agreement(turned, expected) > 0.9999


def test_turn_turns_a_drawing_clockwise_on_the_page(tmp_path: Path) -> None:
    file = tmp_path / "arm.svg"
    file.write_text('<svg><rect width="100" height="100"/><rect x="100" width="50" height="20"/></svg>')
    arm = shapely.intersection(read(file, turn=90).shape, box(-500, 100, 500, 500))
    # The arm at the upper right now hangs down at the right.
    assert read(file, turn=90).shape.bounds == pytest.approx((25, -25, 125, 125), abs=0.1)
    assert arm.bounds == pytest.approx((105, 100, 125, 125), abs=0.1)
    assert Point(115, 110).within(read(file, turn=90).shape)


@pytest.mark.parametrize("stray", ['<path d="M5 5 Z"/>', '<polygon points="3,3"/>', '<path d="M5 5 z m1 1 z"/>'])
def test_stray_points_beside_a_shape_are_read_over(stray: str) -> None:
    alone = '<path d="M10 10 H60 V60 Z"/>'
    assert drawn(stray + alone).equals(drawn(alone))
    with pytest.raises(StampError, match="no shape with an area"):
        drawn(stray)
