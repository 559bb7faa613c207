"""Prickings: true size, read back from the files by other readers (pypdf through reading_pdf, svgelements)."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from examples import make
from hypothesis import example, given
from hypothesis import strategies as st
from pricked import ACROSS, ALL, LARGE, LONELY, MIXED, SQUARES, bars, circles, numbered, uncovered, written
from reading_pdf import Read

from constraints.design import Design
from constraints.pins import pins
from constraints.working.work import work
from gallery.paper import page
from gallery.paper.layers import Dots, Layer, Leaf, Words
from gallery.paper.tiling import ARM, OVERLAP, SIZES, tiling
from gallery.pricking.drawn import PrickingOptions
from gallery.pricking.pages import MOST_PAGES, leaf_of_all, pages
from gallery.pricking.parts import NAMES

# --- true size ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", SQUARES)
def test_both_files_show_every_pin_once_at_its_pitch(name: str, tmp_path: Path) -> None:
    design = SQUARES[name]
    (sheet,) = written(design, tmp_path)
    for dots in (sheet.dots, circles(design, PrickingOptions())):
        assert len(dots) == len(np.unique(dots.round(2), axis=0)) == pins(design)
        assert np.ptp(dots[:, 0]) == pytest.approx(design.width_mm, abs=0.05)
        assert np.ptp(dots[:, 1]) == pytest.approx(design.width_mm, abs=0.05)
        top = np.sort(dots[dots[:, 1] < dots[:, 1].min() + 0.1][:, 0])
        assert np.diff(top) == pytest.approx(design.pitch_mm, abs=0.01)


def test_tiles_are_true_to_a_twentieth_of_a_millimetre(tmp_path: Path) -> None:
    _, *tiles = written(LARGE, tmp_path, paper="a3")
    assert tiles
    for sheet in tiles:
        first = sheet.dots[:, 0].min()
        steps = (sheet.dots[:, 0] - first) / (LARGE.pitch_mm / 2)
        assert np.abs(steps - steps.round()).max() * LARGE.pitch_mm / 2 < 0.05


@pytest.mark.parametrize(("design", "count"), [(MIXED, 1), (LARGE, 5)])
def test_every_page_has_a_bar_of_100_mm_and_one_a_square_of_50_mm(design: Design, count: int, tmp_path: Path) -> None:
    sheets = written(design, tmp_path)
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
    for design, part, paper in ((MIXED, "whole", "a4"), (LARGE, "whole", "letter"), (LONELY, "quarter", "a4")):
        for leaf in pages(work(design), "x" * 80, ALL, part, paper):
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


_MM = st.integers(1, 1200)


@given(width=_MM, height=_MM, room=st.sampled_from([(196, 272), (283, 382), (60, 45)]))
@example(width=383, height=100, room=(196, 272))
def test_windows_of_any_drawing_overlap_hold_it_and_fit_the_paper(
    width: float, height: float, room: tuple[float, float]
) -> None:
    tiled = tiling(width, height, room)
    assert tiled.width <= room[0] + 1e-9
    assert tiled.height <= room[1] + 1e-9
    assert tiled.window(0, 0)[:2] == (0, 0)
    assert tiled.windows[-1][2:] == pytest.approx((width, height))
    for a, b in pairwise([tiled.window(0, column) for column in range(tiled.columns)]):
        assert a[2] - b[0] == pytest.approx(OVERLAP)
    for a, b in pairwise([tiled.window(row, 0) for row in range(tiled.rows)]):
        assert a[3] - b[1] == pytest.approx(OVERLAP)


def test_crosses_keep_off_pins(tmp_path: Path) -> None:
    for sheet in written(LARGE, tmp_path)[1:]:
        away = np.hypot(*(crossed(sheet)[:, None] - sheet.dots[:, :2]).transpose(2, 0, 1))
        assert away.min() > ARM + 0.2


def test_more_pages_than_anybody_joins_are_refused() -> None:
    design = replace(make(45, []), pitch_mm=100.0)
    with pytest.raises(page.PageError, match=str(MOST_PAGES)):
        pages(work(design), "a", PrickingOptions(), "whole", "a4")


# --- words and numbers ----------------------------------------------------------------------------------


@pytest.mark.parametrize("part", NAMES)
@pytest.mark.parametrize("name", SQUARES)
def test_no_word_covers_a_pinhole(name: str, part: str) -> None:
    for pitch in (3.0, 5.0):
        design = replace(SQUARES[name], pitch_mm=pitch)
        for footside in ("left", "right"):
            options = replace(ALL, pen=0.7, footside=footside)
            leaves = pages(work(design), "garden-society", options, part, "a4")
            assert all(map(uncovered, [*leaves, leaf_of_all(work(design), "garden-society", options, part)]))


def test_a_word_on_a_pinhole_would_be_seen() -> None:
    clash = (Layer("a", (Dots(np.array([[10.0, 10.0]]), 0.5), Words(9, 10.5, "bee", page.Type(8)))),)
    assert not uncovered(Leaf(20, 20, clash))


def test_every_pin_is_numbered_once_beside_its_dot() -> None:
    found = numbered(MIXED, PrickingOptions(numbers=True))
    assert sorted(found) == list(range(1, pins(MIXED) + 1))
    assert len(set(found.values())) == pins(MIXED)


@pytest.mark.parametrize("name", SQUARES)
def test_every_number_stands_at_the_pin_that_is_put_up_as_that_one(name: str) -> None:
    design = SQUARES[name]
    found = numbered(design, PrickingOptions(numbers=True))
    middle = (
        circles(design, PrickingOptions())[:, :2].min(axis=0) + circles(design, PrickingOptions())[:, :2].max(axis=0)
    ) / 2
    for number, pin in enumerate(work(design).pins, 1):
        assert found[number] == pytest.approx(middle + design.pitch_mm / 2 * np.array(pin.place), abs=0.01)


def test_footside_right_mirrors_pins_and_numbers_together() -> None:
    left, right = (numbered(LONELY, PrickingOptions(numbers=True, footside=side)) for side in ("left", "right"))
    middle = (min(x for x, _ in left.values()) + max(x for x, _ in left.values())) / 2
    for number, (x, y) in left.items():
        assert right[number] == pytest.approx((2 * middle - x, y), abs=0.01)


def test_footside_right_starts_at_the_other_corner() -> None:
    for side, corner in (("left", "top left"), ("right", "top right")):
        leaf = leaf_of_all(work(LONELY), "a", PrickingOptions(footside=side), "whole")
        words = [mark.text for layer in leaf.layers for mark in layer.marks if isinstance(mark, Words)]
        assert any(corner in each and f"footside on the {side}" in each for each in words)
