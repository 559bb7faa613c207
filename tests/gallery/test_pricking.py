"""Prickings: true size, read back from the files by other readers (pypdf through reading_pdf, svgelements)."""

from __future__ import annotations

from dataclasses import replace
from io import StringIO
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pypdfium2
import pytest
import shapely
from examples import diamond, gallery_of, make
from reading_pdf import Read, read_pdf
from svgelements import SVG, Circle

from constraints.pins import pins
from constraints.square import Square
from constraints.working.work import work
from gallery.paper import page
from gallery.paper.layers import Dots, Layer, Leaf, Lines, Words, figure, gathered
from gallery.paper.layers_svg import svg
from gallery.paper.tiling import ARM, OVERLAP, SIZES, tiling
from gallery.pricking.drawn import Pricking, Wishes
from gallery.pricking.entries import cross_overs, entries
from gallery.pricking.pages import MOST_PAGES, leaf_of_all, pages
from gallery.pricking.parts import NAMES, parts_of

ALL = Wishes(arrows=True, cross_overs=True, numbers=True, by_stitch=True)
MIXED = make(
    15,
    [("cloth", diamond(10, 3, 3)), ("half", diamond(5, 0, 3))],
    rose=lambda x, y: np.abs(x) + np.abs(y) > 17,
    spiders=[(8, diamond(0, -9, 3))],
)
ACROSS = make(9, [("cloth", diamond(0, -3, 3))], worked="across", symmetry="upright-mirror")
LONELY = make(9, [("half", diamond(-3, -2, 3))], symmetry="none")
SQUARES = {"mixed": MIXED, "across": ACROSS, "lonely": LONELY}
# Larger than A4 both ways: 300 mm.
LARGE = replace(make(50, [("cloth", diamond(0, -20, 6))]), pitch_mm=6.0)


def written(square: Square, folder: Path, part: str = "whole", paper: str = "a4") -> list[Read]:
    leaves = pages(work(square), "garden-society", Wishes(), part, paper)
    page.write([figure(leaf) for leaf in leaves], folder / "07-pricking.pdf")
    return read_pdf(folder / "07-pricking.pdf")


def circles(square: Square, wishes: Wishes, part: str = "whole") -> np.ndarray:
    """(n, 3) middle and diameter of every dot of the SVG, mm."""
    text = svg(leaf_of_all(work(square), "garden-society", wishes, part))
    root = SVG.parse(StringIO(text), ppi=25.4)
    return np.array([(each.cx, each.cy, 2 * each.rx) for each in root.elements() if isinstance(each, Circle)])


def bars(sheet: Read) -> list[float]:
    """Lengths of the lines of a page that are 100 mm long."""
    return [each.length for each in sheet.strokes if abs(each.length - 100) < 0.5 and len(each.points) == 2]


# --- true size ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", SQUARES)
def test_both_files_show_every_pin_once_at_its_pitch(name: str, tmp_path: Path) -> None:
    square = SQUARES[name]
    (sheet,) = written(square, tmp_path)
    for dots in (sheet.dots, circles(square, Wishes())):
        assert len(dots) == len(np.unique(dots.round(2), axis=0)) == pins(square)
        assert np.ptp(dots[:, 0]) == pytest.approx(square.width_mm, abs=0.05)
        assert np.ptp(dots[:, 1]) == pytest.approx(square.width_mm, abs=0.05)
        top = np.sort(dots[dots[:, 1] < dots[:, 1].min() + 0.1][:, 0])
        assert np.diff(top) == pytest.approx(square.pitch_mm, abs=0.01)


def test_tiles_are_true_to_a_twentieth_of_a_millimetre(tmp_path: Path) -> None:
    for sheet in written(LARGE, tmp_path, paper="a3")[1:]:
        first = sheet.dots[:, 0].min()
        steps = (sheet.dots[:, 0] - first) / (LARGE.pitch_mm / 2)
        assert np.abs(steps - steps.round()).max() * LARGE.pitch_mm / 2 < 0.05


@pytest.mark.parametrize(("square", "count"), [(MIXED, 1), (LARGE, 5)])
def test_every_page_has_a_bar_of_100_mm_and_one_a_square_of_50_mm(square: Square, count: int, tmp_path: Path) -> None:
    sheets = written(square, tmp_path)
    assert len(sheets) == count
    for sheet in sheets:
        assert bars(sheet) == pytest.approx([100.0], abs=0.01)
    sides = [np.ptp(each.points, axis=0) for each in sheets[0].strokes if len(each.points) > 3]
    assert sum(bool((abs(side - 50) < 0.01).all()) for side in sides) == 1


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_bar_of_a_printed_page_is_100_mm_in_pixels(paper: str, tmp_path: Path) -> None:
    # Rasterised by pypdfium2 at 600 dots an inch; a pixel is 0.04 mm.
    written(LONELY, tmp_path, paper=paper)
    with pypdfium2.PdfDocument(tmp_path / "07-pricking.pdf") as pdf:
        dark = pdf[0].render(scale=600 / 72, grayscale=True).to_numpy().squeeze() < 160
    ends = np.diff(np.pad(dark, ((0, 0), (1, 1))).astype(np.int8), axis=1)
    begun, ended = np.nonzero(ends == 1), np.nonzero(ends == -1)
    runs = (ended[1] - begun[1]) / 600 * 25.4
    # Longer than 80 mm in one row is nothing but the bar: the square is of 45 mm, the check beside it of 50 mm.
    assert max(runs) == pytest.approx(100.2, abs=0.1)  # from end tick to end tick, 0.2 mm wide each
    assert len(set(begun[0][runs > 80])) <= 5  # its rows of pixels


@pytest.mark.parametrize("paper", SIZES)
def test_pages_have_the_size_of_the_paper(paper: str, tmp_path: Path) -> None:
    """ISO 216: An has 2^-n m2 and sides as 1 to the root of 2, to the millimetre; letter is 8.5 x 11 in (ANSI)."""
    (sheet,) = written(ACROSS, tmp_path, paper=paper)
    size = sorted((sheet.width, sheet.height))
    if paper == "letter":
        assert size == pytest.approx([8.5 * 25.4, 11 * 25.4], abs=0.01)
    else:
        number = int(paper[1])
        assert size == pytest.approx([1000 * 2 ** (-0.25 - number / 2), 1000 * 2 ** (0.25 - number / 2)], abs=0.5)


def test_all_marks_lie_on_the_paper() -> None:
    for square, part, paper in ((MIXED, "whole", "a4"), (LARGE, "whole", "letter"), (LONELY, "quarter", "a4")):
        for leaf in pages(work(square), "x" * 80, ALL, part, paper):
            for layer in leaf.layers:
                for x, y in reach(layer):
                    assert 4 < x < leaf.width - 4
                    assert 4 < y < leaf.height - 4


def reach(layer: Layer) -> list[tuple[float, float]]:
    """Corners of the room that the marks of a layer take."""
    found: list[tuple[float, float]] = []
    for mark in layer.marks:
        if isinstance(mark, Words):
            found += [mark.box[:2], mark.box[2:]]
        elif isinstance(mark, Dots):
            found += map(tuple, mark.centres.tolist())
        else:
            found += map(tuple, np.asarray(mark.path.vertices).tolist())
    return found


# --- tiles ----------------------------------------------------------------------------------------------


def crossed(sheet: Read) -> np.ndarray:
    """(n, 2) middles of the upright crosses of a page."""
    level = [each for each in sheet.strokes if len(each.points) == 2 and np.ptp(each.points[:, 1]) < 1e-3]
    flat = [each.points.mean(axis=0) for each in level if each.length == pytest.approx(2 * ARM, abs=1e-3)]
    return np.array(flat).reshape(-1, 2)


def offset(first: Read, second: Read, axis: int) -> np.ndarray:
    """What brings the crosses at the near end of the second page on those at the far end of the first."""
    far = first.dots[:, axis].max() - crossed(first)[:, axis] < OVERLAP
    near = crossed(second)[:, axis] - second.dots[:, axis].min() < OVERLAP
    ours, theirs = (np.array(sorted(each.tolist())) for each in (crossed(first)[far], crossed(second)[near]))
    assert len(ours) == len(theirs) == 2
    by: np.ndarray = ours - theirs
    assert by[0] == pytest.approx(by[1], abs=0.01)  # both coincide
    return by.mean(axis=0)


def test_tiles_laid_cross_on_cross_show_every_pin_and_twice_only_where_they_overlap(tmp_path: Path) -> None:
    sheets = written(LARGE, tmp_path)[1:]
    across, down = offset(sheets[0], sheets[1], 0), offset(sheets[0], sheets[2], 1)
    laid = [np.zeros(2), across, down, down + offset(sheets[2], sheets[3], 0)]
    assert laid[3] == pytest.approx(across + offset(sheets[1], sheets[3], 1), abs=0.01)
    placed = [sheet.dots[:, :2] + by for sheet, by in zip(sheets, laid, strict=True)]
    together = np.concatenate(placed)
    places = ((together - together[0]) / (LARGE.pitch_mm / 2)).round(1)
    assert len(np.unique(places, axis=0)) == pins(LARGE)
    assert np.ptp(together[:, 0]) == pytest.approx(LARGE.width_mm, abs=0.05)
    for first, second, axis in ((0, 1, 0), (2, 3, 0), (0, 2, 1), (1, 3, 1)):
        shared = placed[first][:, axis].max() - placed[second][:, axis].min()
        assert 0 < shared <= OVERLAP + 0.01
    outside = [
        ((sheet.dots[:, axis] - sheet.dots[:, axis].min()) > OVERLAP)
        & ((sheet.dots[:, axis].max() - sheet.dots[:, axis]) > OVERLAP)
        for sheet in sheets for axis in (0, 1)
    ]  # fmt: skip
    alone = places[np.concatenate([a & b for a, b in zip(outside[::2], outside[1::2], strict=True)])]
    assert len(np.unique(alone, axis=0)) == len(alone)


def test_windows_cover_the_drawing_and_overlap() -> None:
    tiled = tiling(352, 400, (196, 272))
    assert (tiled.columns, tiled.rows) == (2, 2)
    assert tiled.windows[-1][2:] == pytest.approx((352, 400))
    for a, b in pairwise([tiled.window(0, column) for column in range(tiled.columns)]):
        assert a[2] - b[0] == pytest.approx(OVERLAP)
    assert max(tiled.width - 196, tiled.height - 272) <= 1e-9
    assert len(tiling(196, 272, (196, 272))) == 1


def test_crosses_keep_off_pins(tmp_path: Path) -> None:
    for sheet in written(LARGE, tmp_path)[1:]:
        away = np.hypot(*(crossed(sheet)[:, None] - sheet.dots[:, :2]).transpose(2, 0, 1))
        assert away.min() > ARM + 0.2


def test_more_pages_than_anybody_joins_are_refused() -> None:
    square = replace(make(45, []), pitch_mm=100.0)
    with pytest.raises(page.PageError, match=str(MOST_PAGES)):
        pages(work(square), "a", Wishes(), "whole", "a4")


# --- words and numbers ----------------------------------------------------------------------------------


def uncovered(leaf: Leaf) -> bool:
    """Whether no word of a leaf lies on a dot."""
    words = [shapely.box(*mark.box) for layer in leaf.layers for mark in layer.marks if isinstance(mark, Words)]
    dots = [
        shapely.Point(centre).buffer(mark.diameter / 2)
        for layer in leaf.layers for mark in layer.marks if isinstance(mark, Dots) for centre in mark.centres
    ]  # fmt: skip
    return len(shapely.STRtree(dots).query(words, predicate="intersects")[0]) == 0


@pytest.mark.parametrize("part", NAMES)
@pytest.mark.parametrize("name", SQUARES)
def test_no_word_covers_a_pinhole(name: str, part: str) -> None:
    for pitch in (3.0, 5.0):
        square = replace(SQUARES[name], pitch_mm=pitch)
        for footside in ("left", "right"):
            wishes = replace(ALL, pen=0.7, footside=footside)
            leaves = pages(work(square), "garden-society", wishes, part, "a4")
            assert all(map(uncovered, [*leaves, leaf_of_all(work(square), "garden-society", wishes, part)]))


def test_a_word_on_a_pinhole_would_be_seen() -> None:
    clash = (Layer("a", (Dots(np.array([[10.0, 10.0]]), 0.5), Words(9, 10.5, "bee", page.Type(8)))),)
    assert not uncovered(Leaf(20, 20, clash))


def numbered(square: Square, wishes: Wishes) -> dict[int, tuple[float, float]]:
    """Each number of the SVG and the middle of the dot nearest to it."""
    leaf = leaf_of_all(work(square), "a", wishes, "whole")
    root = ElementTree.fromstring(svg(leaf))
    dots = circles(square, wishes)[:, :2]
    (group,) = [each for each in root if each.get("id") == "numbers"]
    (layer,) = [layer for layer in gathered(leaf.layers) if layer.name == "numbers"]
    found = {}
    for words, text in zip(layer.marks, group, strict=True):
        assert isinstance(words, Words)
        a, b, c, d = words.box
        near = dots[np.hypot(*(dots - [(a + c) / 2, (b + d) / 2]).T).argmin()]
        found[int(text.text or "")] = (float(near[0]), float(near[1]))
    return found


def test_every_pin_is_numbered_once_beside_its_dot() -> None:
    found = numbered(MIXED, Wishes(numbers=True))
    assert sorted(found) == list(range(1, pins(MIXED) + 1))
    assert len(set(found.values())) == pins(MIXED)


def test_footside_right_mirrors_pins_and_numbers_together() -> None:
    left, right = (numbered(LONELY, Wishes(numbers=True, footside=side)) for side in ("left", "right"))
    middle = (min(x for x, _ in left.values()) + max(x for x, _ in left.values())) / 2
    for number, (x, y) in left.items():
        assert right[number] == pytest.approx((2 * middle - x, y), abs=0.01)


def test_footside_right_starts_at_the_other_corner() -> None:
    for side, corner in (("left", "top left"), ("right", "top right")):
        leaf = leaf_of_all(work(LONELY), "a", Wishes(footside=side), "whole")
        words = [mark.text for layer in leaf.layers for mark in layer.marks if isinstance(mark, Words)]
        assert any(corner in each and f"footside on the {side}" in each for each in words)


# --- marks ----------------------------------------------------------------------------------------------


def test_dots_are_finer_under_half_stitch_and_bolder_under_cloth() -> None:
    assert set(circles(MIXED, Wishes(pen=0.4))[:, 2].round(3)) == {0.4}
    widths, counts = np.unique(circles(MIXED, Wishes(by_stitch=True))[:, 2].round(3), return_counts=True)
    # Diamonds of 3 pinholes a side have 4 (3 - 1) = 8 pins (teaching pages of Jo Edkins); four images of each.
    blocks = {stitch: sum(each.stitch == stitch for each in MIXED.blocks) for stitch in ("half", "cloth")}
    assert widths.tolist() == [0.35, 0.5, 0.65]
    assert counts.tolist() == [8 * blocks["half"], pins(MIXED) - 8 * len(MIXED.blocks), 8 * blocks["cloth"]]
    for pen in (0.3, 0.5, 0.7):
        wishes = Wishes(pen=pen, by_stitch=True)
        assert 0.3 <= wishes.dot("half") <= wishes.dot("") == pen <= wishes.dot("cloth") <= 0.7


def test_each_block_has_one_arrow_clear_of_all_pins() -> None:
    pricking = Pricking(work(MIXED), Wishes())
    found = entries(pricking.work)
    assert len(found) == 3 * len(MIXED.blocks)  # a shaft and two barbs
    away = np.hypot(*(found.reshape(-1, 1, 2) - pricking.places).transpose(2, 0, 1))
    assert away.min() * MIXED.pitch_mm / 2 > 0.7 / 2 + 0.2


def test_a_lone_rose_unit_has_four_cross_overs() -> None:
    """Four pins, and a cross-over at each corner (teaching pages of Jo Edkins)."""
    square = make(9, [], symmetry="none", rose=lambda x, y: (x == -4) & (y == 0))
    (filling,) = square.fillings
    assert len(filling.places) == 1
    assert len(cross_overs(work(square))) == 2 * 4


def test_marks_on_demand_have_layers_of_their_own() -> None:
    def names(wishes: Wishes) -> list[str]:
        return [layer.name for layer in leaf_of_all(work(MIXED), "a", wishes, "whole").layers]

    plain = names(Wishes())
    assert {"guides", "pinholes", "text", "measures"} == set(plain)
    assert set(names(ALL)) - set(plain) == {"arrows", "cross-overs", "numbers"}


def test_worked_round_both_corner_lines_are_drawn_and_the_start_line_is_bold() -> None:
    drawn = Pricking(work(LONELY), Wishes()).drawn(parts_of(LONELY, "whole")[0])
    (guides,) = [layer for layer in drawn.layers if layer.name == "guides"]
    strokes = [
        (points, mark.width)
        for mark in guides.marks if isinstance(mark, Lines)
        for points in map(np.asarray, mark.path.to_polygons(closed_only=False))
    ]  # fmt: skip
    lengths = [(float(np.hypot(*np.ptp(points, axis=0))), width) for points, width in strokes]
    diagonal = LONELY.width_mm * 2**0.5
    widest = max(width for _, width in lengths)
    assert sum(length == pytest.approx(diagonal) and width < widest for length, width in lengths) >= 2
    assert [length for length, width in lengths if width == widest] == pytest.approx([diagonal / 2])


# --- parts ----------------------------------------------------------------------------------------------


def joined(square: Square, part: str) -> np.ndarray:
    """(n, 2) the pins of all copies of all parts, brought back to where they belong, mm from the middle."""
    found = []
    pricking = Pricking(work(square), Wishes())
    for each in parts_of(square, part):
        drawn = pricking.drawn(each)
        # Its outline says where it lies on paper.
        at = each.shape @ pricking.matrix(each)
        place = drawn.pins - (drawn.outline - at)[0]
        for copy in range(each.copies):
            turn = np.linalg.matrix_power(np.array([[0, 1], [-1, 0]]), copy * 4 // each.copies)
            found.append(place @ np.linalg.inv(each.turn) @ turn)
    return np.concatenate(found)


@pytest.mark.parametrize(("symmetry", "quarters", "halves"), [("full", 1, 1), ("half-turn", 2, 1), ("none", 4, 2)])
def test_parts_join_to_the_whole(symmetry: str, quarters: int, halves: int) -> None:
    square = make(9, [("half", diamond(-3, -2, 3))], symmetry=symmetry)
    for part, count in (("quarter", quarters), ("half", halves)):
        assert len(parts_of(square, part)) == count
        points, times = np.unique(joined(square, part).round(2) + 0.0, axis=0, return_counts=True)
        assert len(points) == pins(square)
        # Only the pins of the middle line stand on both halves; no pin lies on a corner line.
        twice = points[times > 1]
        assert (np.abs(twice[:, 1]) < 0.01).all()
        assert (len(twice) > 0) == (part == "half")


def test_quarters_worked_round_are_worked_towards_her() -> None:
    """The footside lies on the lacemaker's left, or right, in every quarter."""
    for side in ("left", "right"):
        pricking = Pricking(work(LONELY), Wishes(footside=side))
        for part in parts_of(LONELY, "quarter"):
            corners = part.shape @ pricking.matrix(part)
            outer = corners[1:, 0]
            assert outer == pytest.approx((-1 if side == "left" else 1) * LONELY.width_mm / 2)


def test_joining_crosses_of_a_quarter_fall_on_each_other() -> None:
    (part,) = parts_of(MIXED, "quarter")
    away = np.hypot(*part.join_marks.T).reshape(2, -1)
    assert away[0] == pytest.approx(away[1])


def test_parts_are_called_by_name_beside_them() -> None:
    leaf = leaf_of_all(work(LONELY), "a", Wishes(), "quarter")
    words = [mark.text for layer in leaf.layers for mark in layer.marks if isinstance(mark, Words)]
    assert [each for each in words if each.startswith("quarter ")] == [f"quarter {k}" for k in (1, 2, 3, 4)]


@pytest.mark.parametrize("worked", ["round", "across"])
@pytest.mark.parametrize("footside", ["left", "right"])
def test_squares_of_all_kinds_show_and_number_their_pins(worked: str, footside: str) -> None:
    for square in gallery_of(8, 14, worked):
        leaf = leaf_of_all(work(square), "a", replace(ALL, footside=footside), "whole")
        marks = {layer.name: layer.marks for layer in leaf.layers}
        assert sum(len(mark.centres) for mark in marks["pinholes"] if isinstance(mark, Dots)) == pins(square)
        numbers = [int(mark.text) for mark in marks["numbers"] if isinstance(mark, Words)]
        assert sorted(numbers) == list(range(1, pins(square) + 1))
        assert uncovered(leaf)
