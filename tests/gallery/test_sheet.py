"""Contact sheets: every square once, captions legible and apart, everything on the paper."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from pathlib import Path

import numpy as np
import pypdf
import pytest
from examples import band, diamond, make
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text
from matplotlib.transforms import Bbox
from shapely.geometry import MultiPolygon, Point
from test_order_forms import FANS

from constraints.design import Design, Print
from constraints.pins import pins
from constraints.stamp import Stamp
from gallery.paper.page import Type, write
from gallery.sheets.captions import FACTS, facts, stitches_used, told_apart, wrapped
from gallery.sheets.placed import Caption, names_told
from gallery.sheets.sheet import sheet

STAMP = Stamp("leaf", MultiPolygon([Point(0, 0).buffer(5).difference(Point(1, 1).buffer(2)), Point(9, 4).buffer(2)]))
LONG = Print("leaf", 7.0, 45.0, (), 0.876)


def shelf(count: int, half_size: int = 6) -> list[Design]:
    """Squares with captions as long as they may come."""
    everything = make(
        half_size + 8,
        [("cloth", diamond(0, 0, 2)), ("half", diamond(6, 0, 3)), ("whole", diamond(0, -7, 2))],
        symmetry="none",
        rose=diamond(-8, 0, 1),
        spiders=[(8, diamond(0, 8, 1))],
        double=diamond(9, 9, 2),
        stamp=LONG,
        splits=12,
    )
    plain = make(half_size, [("cloth", band(half_size - 3, half_size - 4))])
    return [replace((everything, plain)[i % 2], number=i + 1) for i in range(count)]


def boxes(figure: Figure) -> list[tuple[str, Bbox]]:
    """The words on a page and the room they take, pixels."""
    renderer = FigureCanvasAgg(figure).get_renderer()
    words = [text for text in figure.axes[0].texts if text.get_text()]
    return [(text.get_text(), text.get_window_extent(renderer)) for text in words]


@pytest.mark.parametrize(
    ("count", "paper"), [(1, "a4"), (2, "screen"), (5, "a3"), (24, "a4"), (24, "a3"), (24, "screen")]
)
def test_words_neither_overlap_nor_leave_the_page(paper: str, count: int) -> None:
    long = "A garden society's exhibition of lace " * 9
    for figure in sheet(shelf(count), title=long, note=long, paper=paper, stamps=(STAMP,)):
        page = figure.bbox
        held = boxes(figure)
        assert len(held) > 2 * count
        for (one, a), (other, b) in combinations(held, 2):
            across, down = min(a.x1, b.x1) - max(a.x0, b.x0), min(a.y1, b.y1) - max(a.y0, b.y0)
            # The boxes of lines one below the other may share the empty room above and below their letters.
            assert across <= 0 or down < 0.3 * min(a.height, b.height), (one, other)
        for words, box in held:
            assert page.x0 < box.x0 < box.x1 < page.x1, words
            assert page.y0 < box.y0 < box.y1 < page.y1, words


def words_on(figure: Figure) -> list[Text]:
    return [text for text in figure.axes[0].texts if text.get_text()]


@pytest.mark.parametrize(("count", "paper"), [(1, "a4"), (6, "screen"), (24, "a4"), (24, "a3"), (24, "screen")])
def test_a_caption_is_one_line_beside_its_number_in_type_that_can_be_read(count: int, paper: str) -> None:
    (figure,) = sheet(shelf(count), title="Garden", note="n", paper=paper, stamps=(STAMP,))
    # Eight points are the least that text on paper should have (house rule, told by a lacemaker).
    assert all(text.get_fontsize() >= 8 for text in words_on(figure))
    numbers = [text for text in words_on(figure) if text.get_text().isdecimal()]
    assert [int(text.get_text()) for text in numbers] == list(range(1, count + 1))
    rows = {text.get_position()[1] for text in numbers}
    assert {y for y in (text.get_position()[1] for text in words_on(figure)) if min(rows) <= y <= max(rows)} == rows
    for text in numbers:
        beside = [each for each in words_on(figure) if each.get_position()[1] == text.get_position()[1]]
        assert len(beside) <= 2 * sum(each.get_position()[1] == text.get_position()[1] for each in numbers)


def test_what_captions_have_no_room_for_stands_at_the_head_with_its_numbers() -> None:
    designs = [replace(design, splits=design.number % 3) for design in shelf(24)]
    told = told_apart(designs, [STAMP])
    assert all("splits" in own for design, own in zip(designs, told.own, strict=True) if design.splits)
    (figure,) = sheet(designs, title="t", stamps=(STAMP,), first=["Evening in the garden"] * 24)
    head = " ".join(text.get_text() for text in words_on(figure))
    assert "1 split in 1, 4, 7, 10, 13, 16, 19, 22" in head
    assert "2 splits in 2, 5, 8, 11, 14, 17, 20, 23" in head
    assert "\N{HORIZONTAL ELLIPSIS}" not in head
    # On a screen there is room.
    (wide,) = sheet([replace(each, fillings=()) for each in designs], title="t", paper="screen")
    assert sum("2 splits" in text.get_text() for text in words_on(wide)) == 8


def mixed(count: int) -> list[Design]:
    """Squares that differ in symmetry, splits, seams, stitches and in how the print lies and is known."""
    symmetries = ("full", "half-turn", "none", "upright-mirror", "diagonal-mirrors")
    return [
        replace(design, symmetry=symmetries[number % 5], splits=number % 4 * 4)
        for number, design in enumerate(shelf(count))
    ]


@pytest.mark.parametrize("paper", ["a4", "a3"])
def test_the_head_of_mixed_squares_has_three_lines_at_the_most_and_splits_and_seams_stand_below(paper: str) -> None:
    (figure,) = sheet(mixed(24), title="Garden", note="n", paper=paper, stamps=(STAMP,))
    captions = next(text.get_position()[1] for text in words_on(figure) if text.get_text() == "1")
    # The title and the note stand above what is shared.
    assert len({y for y in (text.get_position()[1] for text in words_on(figure)) if y < captions}) <= 2 + 3
    below = [text.get_text() for text in words_on(figure) if text.get_position()[1] >= captions]
    assert sum("12 splits" in words for words in below) == 6
    assert sum("seams" in words for words in below) >= 12
    assert not any("\N{HORIZONTAL ELLIPSIS}" in words for words in below)


def test_what_the_picture_tells_goes_first_and_what_has_room_is_told() -> None:
    facts = {"splits": ("12 splits",), "how the print lies": ("upright and on its side",), "symmetry": ("no symmetry",)}
    captions = [Caption(1, "", facts, ()), Caption(2, "", {"seams": ("8 seams",)}, ())]
    words = Type(8.0, narrow=True)

    def told(*names: str) -> float:
        """So wide is a line with these facts, and half a millimetre."""
        return 0.5 + next(
            room / 10 for room in range(100, 2000) if all(each.fits(names, room / 10, words) for each in captions)
        )

    every = ["how the print lies", "splits", "seams", "symmetry"]
    assert names_told(captions, told(*every), words) == (every, [])
    assert names_told(captions, told("splits", "symmetry"), words) == (["splits", "seams", "symmetry"], every[:1])
    assert names_told(captions, told("splits"), words) == (["splits", "seams"], ["how the print lies", "symmetry"])


@pytest.mark.parametrize("paper", ["a4", "a3", "screen"])
@pytest.mark.parametrize("count", [1, 2, 3, 4, 5, 6, 7, 8, 11, 24, 25])
def test_no_row_is_nearly_empty_and_all_stand_in_the_middle(count: int, paper: str) -> None:
    (figure,) = sheet(shelf(count), title="t", paper=paper, look="lace", per_page=25)
    boxes = [box for box in pictures(figure) if box.width > 60]
    assert len(boxes) == count
    rows: dict[int, list[Bbox]] = {}
    for box in boxes:
        rows.setdefault(round((box.y0 + box.y1) / 2), []).append(box)
    lengths = [len(row) for row in rows.values()]
    assert max(lengths) - min(lengths) <= 1
    for row in rows.values():
        left, right = min(box.x0 for box in row), max(box.x1 for box in row)
        assert (left + right) / 2 == pytest.approx(figure.bbox.width / 2, abs=1)


def test_one_square_is_as_large_as_the_paper_lets_it() -> None:
    (figure,) = sheet(shelf(1), title="t", look="lace")
    assert max(box.width for box in pictures(figure)) > 0.85 * figure.bbox.width


def test_pages_hold_as_many_squares_as_each_other() -> None:
    counts = [
        sum(text.get_text().isdecimal() for text in words_on(figure))
        for figure in sheet(shelf(27), title="t", look="lace")
    ]
    assert sorted(counts) == [13, 14]


def pictures(figure: Figure) -> list[Bbox]:
    """The squares on a page: all that is drawn about one middle, but for the samples of the legend."""
    places: dict[tuple[int, ...], Bbox] = {}
    to_page = figure.axes[0].transData.get_affine().get_matrix()
    for patch in figure.axes[0].patches:
        matrix = patch.get_transform().get_affine().get_matrix()
        if patch.get_clip_path() is not None or (matrix == to_page).all():
            continue
        centre = tuple(np.round(matrix[:2, 2]).astype(int).tolist())
        extent = patch.get_path().get_extents(patch.get_transform())
        places[centre] = Bbox.union([places[centre], extent]) if centre in places else extent
    return [box for box in places.values() if box.width > 30 and box.height > 30]


@pytest.mark.parametrize(("look", "paper"), [("lace", "a4"), ("drawing", "a3"), ("lace", "screen")])
def test_pictures_stand_apart_from_each_other_and_from_the_words(paper: str, look: str) -> None:
    (figure,) = sheet(shelf(24), title="t", look=look, paper=paper)
    found = pictures(figure)
    assert len(found) == 24
    for a, b in combinations(found, 2):
        assert not a.overlaps(b)
    for words, box in boxes(figure):
        assert not any(box.shrunk(0.9, 0.9).overlaps(picture) for picture in found), words


def test_every_square_is_on_the_sheet_once_with_its_facts(tmp_path: Path) -> None:
    designs = shelf(30)
    figures = sheet(designs, title="Garden society", note="thirty squares")
    assert len(figures) == 2
    write(figures, tmp_path / "sheet.pdf")
    pages = pypdf.PdfReader(tmp_path / "sheet.pdf").pages
    lines = [line for page in pages for line in page.extract_text().splitlines()]
    numbers = [int(text.get_text()) for page in figures for text in words_on(page) if text.get_text().isdecimal()]
    assert numbers == list(range(1, 31))
    text = " ".join(lines)
    assert text.count("Garden society") == 2
    assert "1 of 2" in text
    assert "2 of 2" in text
    told = told_apart(designs)
    assert told.at_head[0] in text
    for own in told.own:
        for name, words in own.items():
            assert FACTS[name].pictured or all(word in text for word in words)


def test_a_screen_page_holds_all_squares() -> None:
    (figure,) = sheet(shelf(50), title="t", paper="screen")
    wide, tall = figure.get_size_inches()
    (short,) = sheet(shelf(24), title="t", paper="screen")
    assert wide == short.get_size_inches()[0]
    assert tall > 1.8 * short.get_size_inches()[1]


def test_no_square_no_page_and_no_unknown_look() -> None:
    assert sheet([], title="t") == []
    with pytest.raises(KeyError):
        sheet(shelf(1), title="t", look="photograph")
    with pytest.raises(KeyError):
        sheet(shelf(1), title="t", paper="a7")


def test_fewer_squares_are_drawn_larger() -> None:
    def widest(count: int) -> float:
        (figure,) = sheet(shelf(count), title="t", look="lace")
        return max(patch.get_path().get_extents(patch.get_transform()).width for patch in figure.axes[0].patches)

    sides = [widest(count) for count in (1, 7, 12, 24)]
    assert sides == sorted(sides, reverse=True)
    assert sides[0] > 4 * sides[-1]


def test_squares_of_two_sizes_fill_the_same_room() -> None:
    (figure,) = sheet([make(6, []), make(12, [])], title="t", look="lace")
    panels = [patch for patch in figure.axes[0].patches if patch.get_fill()]
    widths = [patch.get_path().get_extents(patch.get_transform()).width for patch in panels]
    assert widths[0] == pytest.approx(widths[1])


def test_the_print_of_the_stamp_is_shown_beside_the_title() -> None:
    (bare,) = sheet(shelf(1), title="t", look="lace")
    (stamped,) = sheet(shelf(1), title="t", look="lace", stamps=(STAMP,))
    (shown,) = set(stamped.axes[0].patches[:1])
    assert len(stamped.axes[0].patches) == len(bare.axes[0].patches) + 1
    box = shown.get_path().get_extents()
    assert box.width == pytest.approx(15, abs=0.01)  # its longer side
    assert box.x1 < 210
    assert box.y0 > 0


def test_the_same_squares_make_the_same_file(tmp_path: Path) -> None:
    for look, endings in (("drawing", ("svg",)), ("lace", ("pdf", "svg", "png"))):
        for name in ("a", "b"):
            figures = sheet(shelf(2), title="t", look=look, stamps=(STAMP,))
            for ending in endings:
                write(figures, tmp_path / f"{name}.{ending}")
        for ending in endings:
            assert (tmp_path / f"a.{ending}").read_bytes() == (tmp_path / f"b.{ending}").read_bytes()


def test_all_that_is_told_of_a_square_stands_in_one_order() -> None:
    design = shelf(1)[0]
    assert stitches_used(design) == ("cloth", "half", "whole", "rose", "spider", "double-ground")
    assert facts(design) == [
        "16 pairs", "70 mm", "pitch 5 mm", f"{pins(design)} pins",
        "cloth,", "half,", "whole,", "rose,", "spider,", "double ground", "12 splits", "4 seams",
    ]  # fmt: skip
    assert "1 split" in facts(replace(design, splits=1))
    plain = facts(make(6, []))
    assert plain == ["8 pairs", "30 mm", "pitch 5 mm", "84 pins"]
    assert "12.5 mm" in facts(replace(make(5, []), pitch_mm=2.5))
    assert facts(FANS)[-1] == "4 pairs turn in each corner fan"


def test_facts_are_wrapped_whole() -> None:
    told = ["12 pairs", "a,", "b", "match 0.9"]
    assert wrapped(told, 11.0, 20.0, len) == ["12 pairs", "a, b \N{MIDDLE DOT} match 0.9"]
    assert wrapped(told, 100.0, 100.0, len) == ["12 pairs \N{MIDDLE DOT} a, b \N{MIDDLE DOT} match 0.9"]
    assert wrapped(told, 9.0, 9.0, len) == ["12 pairs", "a, b", "match 0.9"]
    assert wrapped(["x"], 0.0, 0.0, len) == ["x"]


def test_a_fact_wider_than_a_line_is_broken_between_its_words() -> None:
    told = ["12 pairs", "diamonds at the sides"]
    assert wrapped(told, 9.0, 12.0, len) == ["12 pairs", "diamonds at", "the sides"]
    assert wrapped(["diamonds"], 1.0, 1.0, len) == ["diamonds"]
