"""Working diagrams: colours, marks, true scale, tiles, mirror, legend; files read back by other readers."""

from __future__ import annotations

import colorsys
from dataclasses import replace
from pathlib import Path
from typing import Any, TypeVar
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
from examples import band, diamond, gallery_of, make
from reading_pdf import read_pdf

from constraints.design import Design
from constraints.pins import pins
from constraints.working.work import work
from gallery.diagram.drawn import LINE_COLOURS, MOST, PIN, TURNING, Diagram, DiagramOptions
from gallery.diagram.legend import legend
from gallery.diagram.numbers import numbered
from gallery.diagram.pages import MARGIN, clear_scale, leaf_of_all, pages, tiles_of
from gallery.diagram.start import START
from gallery.paper import page
from gallery.paper.layers import Areas, Dots, Layer, Lines, Words, figure
from gallery.paper.layers_svg import svg
from gallery.paper.page import Type
from gallery.paper.tiling import SIZES

MIXED = make(
    15, [("cloth", diamond(10, 3, 3)), ("half", band(7, 4))],
    rose=lambda x, y: np.abs(x) + np.abs(y) > 19, spiders=[(8, diamond(0, -12, 3))],
)  # fmt: skip
ACROSS = make(9, [("whole", diamond(0, -3, 3))], worked="across", symmetry="upright-mirror", passives=2)
PLAIN = make(6, [])
SQUARES = {"mixed": MIXED, "across": ACROSS, "plain": PLAIN, "corners": gallery_of(4, 12)[2]}
_Kind = TypeVar("_Kind")
every = pytest.mark.parametrize("design", SQUARES.values(), ids=SQUARES)


def drawn(design: Design, **wishes: Any) -> Diagram:
    return Diagram(work(design), DiagramOptions(**wishes))


def marks(layers: tuple[Layer, ...], kind: type[_Kind], name: str = "") -> list[_Kind]:
    return [mark for layer in layers if name in ("", layer.name) for mark in layer.marks if isinstance(mark, kind)]


def test_colours_are_those_of_the_convention() -> None:
    # The list of the World Lace Congress Bruges 2018 (workshop page): cloth purple, half stitch green, whole
    # stitch red, turning stitch turquoise. Hues in degrees as CSS Color 4 places the named colours.
    wanted = {"cloth": (260, 300), "half": (100, 160), "whole": (345, 365), "turning": (170, 190)}
    for name, (low, high) in wanted.items():
        colour = {**LINE_COLOURS, "turning": TURNING}[name]
        hue, _, _ = colorsys.rgb_to_hls(*(int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)))
        assert low <= (hue * 360 if hue * 360 > 10 or name != "whole" else hue * 360 + 360) <= high


@every
def test_every_kind_has_a_layer_of_its_own(design: Design) -> None:
    diagram = drawn(design, numbers=True)
    names = [layer.name for layer in diagram.layers]
    wanted = ["blocks", "guides", "pairs", "workers", "twists", "pins", "start", "numbers"]
    assert names == [name for name in wanted if design.blocks or name not in ("blocks", "workers")]
    assert len(marks(diagram.layers, Words, "numbers")) == pins(design)
    assert len(marks(diagram.layers, Words, "start")) == design.pairs


def _inked(diagram: Diagram, name: str, colour: str) -> shapely.Geometry:
    """Every line of one layer and colour, mm."""
    paths = [mark.path for mark in marks(diagram.layers, Lines, name) if mark.colour == colour]
    return shapely.union_all([shapely.LineString(part) for path in paths for part in path.to_polygons(closed_only=False)
                              if len(part) > 1])  # fmt: skip


def _pin_round(diagram: Diagram, places: np.ndarray) -> np.ndarray:
    return shapely.buffer(shapely.points(diagram.lace(places.astype(float))), 0.3 * diagram.unit)


def test_the_bold_line_of_a_diamond_turns_at_its_pins_and_the_thin_ones_cross_it() -> None:
    # A worker weaves from side pin to side pin, passives run through and turn nowhere (common practice, no source).
    design = make(12, [("cloth", diamond(6, 1, 4))], symmetry="none", worked="across")
    diagram = drawn(design)
    bold, thin = (_inked(diagram, name, LINE_COLOURS["cloth"]) for name in ("workers", "pairs"))
    (block,) = [np.array(each.pinholes) for each in design.blocks]
    inside = set(map(tuple, block.tolist()))
    around = np.array([(1, 1), (1, -1), (-1, 1), (-1, -1)])
    border = np.array([place for place in block if not inside.issuperset(map(tuple, (place + around).tolist()))])
    pin = _pin_round(diagram, border)
    top, bottom = border[:, 1].argmin(), border[:, 1].argmax()
    sides = np.delete(pin, [top, bottom])
    assert len(sides) >= 6
    assert shapely.intersects(sides, bold).all()
    # Going down row by row it is met once at any height halfway between two rows, however many passives there are.
    rows = np.unique(diagram.lace(border.astype(float))[:, 1])[1:-1]
    for height in (rows[1:] + rows[:-1]) / 2:
        met = bold.intersection(shapely.LineString([(0, height), (diagram.size[0], height)]))
        assert shapely.get_num_geometries(met) == 1
    assert thin.intersects(bold)


def test_rose_ground_is_inked_as_rose_at_its_pins_and_the_ground_elsewhere_is_not() -> None:
    # A unit takes the four pinholes round its hole; what is told is the hole (README, fillings).
    design = make(12, [], symmetry="none", rose=diamond(-6, 0, 3))
    diagram = drawn(design)
    line, ground = (_inked(diagram, "pairs", LINE_COLOURS[sort]) for sort in ("rose", "ground"))
    holes = np.array([place for each in design.fillings if each.kind == "rose" for place in each.places])
    assert len(holes)
    pinned = np.unique((holes[:, None] + np.array([(0, 1), (0, -1), (1, 0), (-1, 0)])).reshape(-1, 2), axis=0)
    away = np.array([(x, y) for x in range(1, 11) for y in range(-10, 11) if (x + y) % 2])
    far = away[(np.abs(away[:, None] - pinned).sum(axis=2) > 4).all(axis=1)]
    assert shapely.intersects(_pin_round(diagram, pinned), line).all()
    assert not shapely.intersects(_pin_round(diagram, pinned), ground).any()
    assert not shapely.intersects(_pin_round(diagram, far), line).any()
    assert shapely.intersects(_pin_round(diagram, far), ground).all()


@every
@pytest.mark.parametrize("footside", ["left", "right"])
def test_words_never_lie_on_a_pin(design: Design, footside: str) -> None:
    diagram = drawn(design, numbers=True, footside=footside)
    dots = shapely.buffer(shapely.points(diagram.pins), PIN * diagram.unit / 2)
    figures = []
    for words in marks(diagram.layers, Words, "numbers"):
        left, _, right, _ = words.box
        # Figures stand on their line and are 0.73 of the type high.
        figures.append(shapely.box(left, words.y - 0.73 * words.style.size * 25.4 / 72, right, words.y))
    discs = [shapely.box(*words.box) for words in marks(diagram.layers, Words, "start")]
    tree = shapely.STRtree(dots)
    assert len(tree.query([*figures, *discs], predicate="intersects")[0]) == 0
    one, other = shapely.STRtree(figures).query(figures, predicate="intersects")
    assert (one == other).all()


@every
def test_numbers_stand_nearest_to_their_own_pin(design: Design) -> None:
    diagram = drawn(design, numbers=True)
    numbers = marks(diagram.layers, Words, "numbers")
    assert len(numbers) == len(diagram.pins)
    for words in numbers:
        away = shapely.distance(shapely.box(*words.box), shapely.points(diagram.pins))
        assert int(words.text) - 1 == int(np.argmin(away)) or np.sort(away)[1] - away.min() < 1.5


def test_numbers_between_two_pins_are_not_read_as_one() -> None:
    # Figures of Noto Sans are 572 of 1000 units wide (its table hmtx): half of one is the least gap.
    wide = 3 * 572 / 1000 * Type(6.0).size * 25.4 / 72
    pins_apart = 2 * 0.2 * 7.5 + 2 * wide + 0.5
    pins = np.array([(0.0, 0.0), (pins_apart, 0.0)])
    # Lines to the right of the second pin, above it and below it: its number stands best on its left.
    x = pins_apart
    ends = [((x + away, -9.0), (x + away, 9.0)) for away in (0.3, 2.5, 4.5)]
    lines = np.array([*ends, *(((x - 0.9, y), (x + 9.0, y)) for y in (-4.5, -2.5, 2.5, 4.5))])
    layer = numbered(pins, [123, 456], 7.5, [(pins, 0.5)], [lines])
    left, right = sorted(each.box for each in layer.marks if isinstance(each, Words))
    assert right[0] - left[2] >= wide / 6 or abs(right[1] - left[1]) > 1.5


@every
def test_the_footside_on_the_right_is_the_mirror_of_the_left(design: Design) -> None:
    left, right = drawn(design), drawn(design, footside="right")
    assert np.allclose(left.pins * (-1, 1) + (left.size[0], 0), right.pins)
    for one, other in zip(left.layers, right.layers, strict=True):
        for a, b in zip(one.marks, other.marks, strict=True):
            if isinstance(a, Lines | Areas):
                assert isinstance(b, Lines | Areas)
                assert np.allclose(np.asarray(a.path.vertices) * (-1, 1) + (left.size[0], 0), b.path.vertices)
                assert a.colour == b.colour
    texts = [[words.text for words in marks(each.layers, Words)] for each in (left, right)]
    assert texts[0] == texts[1]


@every
def test_the_legend_names_what_is_used_and_nothing_else(design: Design) -> None:
    diagram = drawn(design, numbers=True)
    entries = legend(diagram)
    shown = {mark.colour for entry in entries for mark in entry.marks if isinstance(mark, Lines | Areas | Dots)}
    used = {mark.colour for layer in diagram.layers if layer.name != "blocks" for mark in layer.marks
            if isinstance(mark, Lines | Areas | Dots)}  # fmt: skip
    assert shown == used
    words = " ".join(entry.words for entry in entries)
    stitches = {block.stitch for block in design.blocks}
    for stitch in ("cloth", "half", "whole"):
        assert (f"{stitch} stitch" in words) == (stitch in stitches)
    for name in ("rose", "spider"):
        assert (name in words) == any(each.kind.startswith(name) for each in design.fillings)
    assert ("turning stitch" in words) == bool(diagram.standing.turning.any())
    assert ("start line" in words) == (design.worked == "round")


def test_pairs_are_numbered_from_the_footside_along_the_start_line() -> None:
    diagram = drawn(MIXED)
    words = marks(diagram.layers, Words, "start")
    # The start line runs from the top left corner to the centre: the first pair is the outermost.
    away = [abs(each.x - diagram.size[0] / 2) + abs(each.y - diagram.size[0] / 2) for each in words]
    assert [each.text for each in words] == [str(number) for number in range(1, MIXED.pairs + 1)]
    assert away == sorted(away, reverse=True)
    assert diagram.work.arcs.edge[diagram.work.on[diagram.start.hung[0]]]


# --- files -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("footside", ["left", "right"])
def test_the_svg_is_enlarged_truly(footside: str) -> None:
    diagram = drawn(MIXED, scale=3.2, footside=footside)
    root = ElementTree.fromstring(svg(leaf_of_all(diagram, "garden-society")))
    space = "{http://www.w3.org/2000/svg}"
    # One user unit is one millimetre (SVG 2, section 8).
    _, _, wide, high = (float(each) for each in root.attrib["viewBox"].split())
    assert (root.attrib["width"], root.attrib["height"]) == (f"{wide:g}mm", f"{high:g}mm")
    groups = {each.attrib["id"]: each for each in root.iter(f"{space}g") if "id" in each.attrib}
    assert {"blocks", "pairs", "workers", "twists", "pins", "start", "guides", "text", "legend"} <= set(groups)
    dots = np.array([(float(c.attrib["cx"]), float(c.attrib["cy"])) for c in groups["pins"].iter(f"{space}circle")])
    assert len(dots) == pins(MIXED)
    # Between the outer pins lies the finished width, enlarged.
    assert np.ptp(dots, axis=0) == pytest.approx([MIXED.width_mm * 3.2] * 2, abs=0.01)
    bars = groups["twists"].find(f"{space}path")
    assert bars is not None
    assert bars.attrib["d"].count("M") == work(MIXED).segments.twists.sum()


def test_the_pages_together_show_every_pin_at_its_scale(tmp_path: Path) -> None:
    diagram = drawn(MIXED, scale=3.2)
    leaves = pages(diagram, "garden-society", "a4")
    page.write([figure(leaf) for leaf in leaves], tmp_path / "07-diagram.pdf")
    read = read_pdf(tmp_path / "07-diagram.pdf")
    # ISO 216: A4 is 210 x 297 mm.
    assert {(round(each.width), round(each.height)) for each in read} == {(210, 297)}
    assert len(read) > 2
    tiled = tiles_of(diagram.size, "a4")
    shown = np.zeros(len(diagram.pins), dtype=int)
    for leaf, window in zip(read[1:], tiled.windows, strict=True):
        dots = leaf.dots[np.abs(leaf.dots[:, 2] - PIN * diagram.unit) < 0.02][:, :2]
        placed = dots - ((210 - tiled.width) / 2, MARGIN) + window[:2]
        away = np.hypot(*(placed[:, None] - diagram.pins).transpose(2, 0, 1))
        assert away.min(axis=1).max() < 0.05
        shown[away.argmin(axis=1)] += 1
    inside = np.array([shapely.intersects_xy(shapely.box(*window), *diagram.pins.T) for window in tiled.windows])
    assert shown.tolist() == inside.sum(axis=0).tolist()
    assert shown.min() == 1


@pytest.mark.parametrize("paper", list(SIZES))
def test_tiles_cover_all_that_is_drawn(paper: str) -> None:
    diagram = drawn(MIXED, scale=3.5)
    leaves = pages(diagram, "garden-society", paper)
    assert {(leaf.width, leaf.height) for leaf in leaves} == {SIZES[paper]}
    tiled = tiles_of(diagram.size, paper)
    assert len(leaves) == len(tiled) + 1
    covered = shapely.union_all([shapely.box(*window) for window in tiled.windows])
    points = np.concatenate([np.asarray(mark.path.vertices) for mark in marks(diagram.layers, Lines)])
    assert shapely.covers(covered, shapely.multipoints(points))


@every
def test_a_diagram_fills_its_pages_at_a_clear_scale(design: Design) -> None:
    for pitch in (3.0, 5.0, 8.0):
        other = replace(design, pitch_mm=pitch)
        scale = clear_scale(other, "a4")
        assert 2.5 <= scale <= MOST
        larger = min(MOST, scale + 0.06)
        counts = [len(pages(drawn(other, scale=each), "x", "a4")) for each in (scale, larger)]
        assert larger == MOST or counts[0] < counts[1]


def test_lines_at_the_start_are_marked_in_their_colour() -> None:
    assert {mark.colour for mark in marks(drawn(PLAIN).layers, Lines, "start")} == {START}
