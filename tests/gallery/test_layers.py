"""Papers in layers: both files measured by readers that are not ours (pypdf, pypdfium2, svgelements)."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pypdfium2
import pytest
import shapely
from reading_pdf import read_pdf
from svgelements import SVG, Circle
from svgelements import Path as SvgPath

from gallery.paper import page
from gallery.paper.cutting import cut
from gallery.paper.layers import Areas, Dots, Layer, Leaf, Lines, Words, figure, gathered, moved
from gallery.paper.layers_svg import svg
from gallery.paper.page import Type
from gallery.paper.paths import curves, joined, lines, rings

MM = 72 / 25.4
BAR = Layer("measures", (Lines(lines(np.array([[[20.0, 30.0], [120.0, 30.0]]])), 0.2),))
PINS = Layer("pinholes", (Dots(np.array([[20.0, 40.0], [25.0, 40.0], [22.5, 42.5]]), 0.5),))
TEXT = Layer("text", (Words(20, 60, "Bee & leaf", Type(10)),))
LEAF = Leaf(210, 297, (BAR, PINS, TEXT), title="Pricking 7")


def test_a_bar_is_as_long_in_the_pdf_as_it_says(tmp_path: Path) -> None:
    page.write([figure(LEAF)], tmp_path / "a.pdf")
    (sheet,) = read_pdf(tmp_path / "a.pdf")
    assert (sheet.width, sheet.height) == pytest.approx((210, 297), abs=0.01)
    bar = next(each for each in sheet.strokes if not each.is_dot)
    assert bar.points == pytest.approx(np.array([[20, 30], [120, 30]]), abs=0.001)
    assert bar.width == pytest.approx(0.2)
    assert sheet.dots == pytest.approx(np.array([(20, 40, 0.5), (25, 40, 0.5), (22.5, 42.5, 0.5)]), abs=0.001)


def test_a_bar_is_as_long_in_pixels_as_it_says(tmp_path: Path) -> None:
    page.write([figure(LEAF)], tmp_path / "a.pdf")
    dark = pypdfium2.PdfDocument(tmp_path / "a.pdf")[0].render(scale=300 / 72).to_numpy().min(axis=2) < 128
    across = np.flatnonzero(dark[round(30 / 25.4 * 300)])
    assert (across[-1] - across[0] + 1) / 300 * 25.4 == pytest.approx(100.2, abs=0.15)  # round ends


def test_an_svg_is_in_millimetres(tmp_path: Path) -> None:
    (tmp_path / "a.svg").write_text(svg(LEAF))
    read = SVG.parse(tmp_path / "a.svg", ppi=25.4)
    assert (read.width, read.height) == pytest.approx((210, 297))
    bar = next(each for each in read.elements() if isinstance(each, SvgPath))
    assert bar.bbox() == pytest.approx((20, 30, 120, 30))
    circles = [each for each in read.elements() if isinstance(each, Circle)]
    found = np.array([(each.cx, each.cy, each.rx) for each in circles])
    assert found == pytest.approx(np.array([(20, 40, 0.25), (25, 40, 0.25), (22.5, 42.5, 0.25)]), abs=1e-4)


def test_an_svg_has_one_named_group_for_each_layer() -> None:
    again = Leaf(210, 297, (*LEAF.layers, PINS, Layer("entry arrows", ())))
    root = ElementTree.fromstring(svg(again))
    groups = [each for each in root if each.tag.endswith("}g")]
    assert [each.get("id") for each in groups] == ["measures", "pinholes", "text"]
    # An editor takes a group with these attributes of its name space for a layer (the SVG extensions of Inkscape).
    editor = "{http://www.inkscape.org/namespaces/inkscape}"
    assert {each.get(f"{editor}groupmode") for each in groups} == {"layer"}
    assert [each.get(f"{editor}label") for each in groups] == ["measures", "pinholes", "text"]
    assert "".join(groups[2].itertext()).strip() == "Bee & leaf"


def test_files_are_the_same_whenever_they_are_written(tmp_path: Path) -> None:
    for name in ("a.pdf", "b.pdf"):
        page.write([figure(LEAF)], tmp_path / name)
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()


def test_cutting_keeps_what_lies_in_the_window_and_joins_to_the_whole() -> None:
    outer, hole = np.array([[0.0, 0], [40, 0], [40, 40], [0, 40]]), np.array([[10.0, 10], [10, 20], [20, 10]])
    at = Areas(rings([outer, hole]), "red")
    whole = (BAR, PINS, TEXT, Layer("areas", (at,)))
    left, right = (cut(whole, shapely.box(a, 0, b, 100)) for a, b in ((0, 24), (24, 200)))
    lengths, dots, areas = [], 0, []
    for part in (left, right):
        for layer in part:
            for mark in layer.marks:
                if isinstance(mark, Lines):
                    lengths.append(float(np.ptp(mark.path.vertices, axis=0)[0]))
                elif isinstance(mark, Dots):
                    dots += len(mark.centres)
                elif isinstance(mark, Areas):
                    areas += [
                        shapely.Polygon(ring).area * (1 if shapely.LinearRing(ring).is_ccw else -1)
                        for ring in mark.path.to_polygons()
                    ]
    assert lengths == pytest.approx([4, 96])
    assert dots == 3
    assert abs(sum(areas)) == pytest.approx(1600 - 50)
    # Words are kept whole or not at all.
    assert [any(layer.name == "text" for layer in part) for part in (left, right)] == [False, False]


def test_a_disc_goes_with_the_number_in_it() -> None:
    style = Type(6.0)
    places = np.array([(x, 5.0) for x in np.arange(0.5, 60, 1.7).tolist()])
    words = [Words(x, y + 1.0, str(number), style, "center") for number, (x, y) in enumerate(places.tolist(), 10)]
    start = Layer("start", (Dots(places, 3.0), *words))
    pin = Layer("pins", (Dots(places, 0.5),))
    found = [cut((start, pin), shapely.box(left, 0, left + 30, 10)) for left in (0, 20, 40)]
    shown = set()
    for layers in found:
        marks = [mark for layer in layers if layer.name == "start" for mark in layer.marks]
        discs = {x for mark in marks if isinstance(mark, Dots) for x, _ in mark.centres.tolist()}
        assert discs <= {mark.x for mark in marks if isinstance(mark, Words)}
        shown |= discs
    # All but the first, which the sheet itself cuts, are whole in one of the windows that overlap.
    assert shown == {x for x, _ in places.tolist()[1:]}
    assert len(found[0][1].marks[0].centres) == sum(x <= 30 for x, _ in places.tolist())


def test_long_lines_lose_no_point_when_cut() -> None:
    wave = np.stack([np.linspace(0, 100, 500), 0.05 * np.sin(np.arange(500))], axis=1)
    (layer,) = cut((Layer("a", (Lines(lines(wave[None]), 0.1),)),), shapely.box(-1, -1, 101, 1))
    (mark,) = layer.marks
    assert isinstance(mark, Lines)
    assert np.asarray(mark.path.vertices) == pytest.approx(wave)


def test_moving_keeps_every_distance() -> None:
    path = joined(lines(np.zeros((1, 2, 2))), curves(np.ones((1, 4, 2))))
    layers = (Layer("a", (Lines(path, 0.1), *PINS.marks, *TEXT.marks)),)
    (layer,) = moved(layers, 5, -7)
    line, dots, words = layer.marks
    assert isinstance(line, Lines)
    assert isinstance(dots, Dots)
    assert isinstance(words, Words)
    assert np.asarray(line.path.vertices) - np.asarray(path.vertices) == pytest.approx(np.tile([5, -7], (6, 1)))
    assert dots.centres[0].tolist() == [25, 33]
    assert (words.x, words.y) == (25, 53)


def test_words_take_the_room_that_their_font_needs() -> None:
    for align in ("left", "center", "right"):
        words = Words(100, 100, "Apfel", Type(20), align)
        left, top, right, bottom = words.box
        assert right - left == pytest.approx(Type(20).width("Apfel"))
        assert top < 100 < bottom
        assert (left, (left + right) / 2, right)[("left", "center", "right").index(align)] == pytest.approx(100)


def test_empty_layers_are_left_out() -> None:
    assert [layer.name for layer in gathered([Layer("a", ()), BAR, PINS, BAR])] == ["measures", "pinholes"]


def test_words_stand_where_they_say_and_as_wide(tmp_path: Path) -> None:
    """The ink of a word, rendered by pdfium, lies in its box; later layers cover earlier ones."""
    cover = Areas(rings([np.array([[50.0, 0], [90, 0], [90, 20], [50, 20]])]), "#ffffff")
    words = [Words(45, 10, "Hain", Type(20), align) for align in ("left", "right", "center")]
    for each in words:
        page.write([figure(Leaf(90, 20, (Layer("text", (each,)),)))], tmp_path / "a.pdf")
        ink = pypdfium2.PdfDocument(tmp_path / "a.pdf")[0].render(scale=10 / MM).to_numpy().min(axis=2) < 128
        down, across = (np.flatnonzero(ink.any(axis=axis)) / 10 for axis in (1, 0))
        left, top, right, bottom = each.box
        assert (across.min(), across.max()) == pytest.approx((left, right), abs=1.0)  # letters stand a little inside
        assert (down.min(), down.max()) == pytest.approx((top, bottom), abs=0.2)
    covered = Leaf(90, 20, (Layer("text", (words[0],)), Layer("cover", (cover,))))
    page.write([figure(covered)], tmp_path / "b.pdf")
    ink = pypdfium2.PdfDocument(tmp_path / "b.pdf")[0].render(scale=10 / MM).to_numpy().min(axis=2) < 128
    assert np.flatnonzero(ink.any(axis=0)).max() <= 500
