"""Wall, labels and catalogue: nothing overlaps or leaves the page, labels are true to size, every word is there."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import numpy as np
import pypdf
import pytest
from examples import band, diamond, gallery_of, make
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.transforms import Bbox

from constraints.design import Design
from constraints.pins import pins
from gallery.exhibition.catalogue import CataloguePage, Front, catalogue
from gallery.exhibition.labels import HEIGHT, WIDTH, Label, corner, in_full, label, labels
from gallery.exhibition.wall import wall
from gallery.paper.page import Type, house_rules, write
from gallery.paper.setting import broken_lines, fit, paragraph

HOSTILE = [
    "Garden at Dusk",
    "W" * 300,
    "word " * 80,
    "$\\frac{1}{0}$ _^{} & <b>bold</b> %s {x}",
    "Abendlicht \N{LATIN SMALL LETTER U WITH DIAERESIS}ber dem Garten",
    "\N{CJK UNIFIED IDEOGRAPH-5EAD}\N{CJK UNIFIED IDEOGRAPH-5712}",
    "''\"\"\\\\//",
    "i",
    "A title of some length that needs two lines on its label",
]
POINTS_PER_MM = 72 / 25.4


def designs(count: int) -> list[Design]:
    """Of several sizes, with everything that a label may have to name."""
    everything = make(
        15, [("cloth", diamond(0, 0, 2)), ("half", diamond(6, 0, 3)), ("whole", diamond(0, -7, 2))], symmetry="none",
        rose=diamond(-8, 0, 1), spiders=[(8, diamond(0, 8, 1))], double=diamond(9, 9, 2), splits=12,
    )  # fmt: skip
    plain = [make(n, [("cloth", band(n - 3, n - 4))]) for n in (6, 8, 10)]
    return [replace([everything, *plain][i % 4], number=i + 1) for i in range(count)]


def boxes(figure: Figure) -> list[tuple[str, Bbox]]:
    renderer = FigureCanvasAgg(figure).get_renderer()
    words = [text for text in figure.axes[0].texts if text.get_text()]
    with house_rules():
        return [(text.get_text(), text.get_window_extent(renderer)) for text in words]


def assert_readable(figure: Figure) -> None:
    """No words leave the page or lie on other words."""
    held = boxes(figure)
    page = figure.bbox
    for words, box in held:
        assert page.x0 < box.x0 < box.x1 < page.x1, words
        assert page.y0 < box.y0 < box.y1 < page.y1, words
    for (one, a), (other, b) in combinations(held, 2):
        across, down = min(a.x1, b.x1) - max(a.x0, b.x0), min(a.y1, b.y1) - max(a.y0, b.y0)
        assert across <= 0 or down < 0.3 * min(a.height, b.height), (one, other)


def words_of(path: Path) -> list[str]:
    return [re.sub(r"\s+", " ", page.extract_text()) for page in pypdf.PdfReader(path).pages]


# --- the wall ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("paper", ["a4", "a3", "screen"])
@pytest.mark.parametrize("count", [1, 2, 7, 9])
def test_a_wall_holds_all_squares_and_words_apart(paper: str, count: int) -> None:
    hung = designs(count)
    told = ["30 pairs \N{MIDDLE DOT} 140 mm \N{MIDDLE DOT} upright-mirrors symmetry"] * count
    (figure,) = wall(hung, HOSTILE[:count], told, title=HOSTILE[2], note=HOSTILE[1], paper=paper, detailed=False)
    assert_readable(figure)
    pictures = _cloths(figure)
    assert len(pictures) == count
    for one, other in combinations([*pictures, *(box for _, box in boxes(figure))], 2):
        if one in pictures:
            assert not (one.overlaps(other) and one.shrunk(0.98, 0.98).overlaps(other))
    # To one scale: widths as the squares', by the picture's own cloth beyond the outer pins.
    scale = [box.width / ((s.half_size + 1.4) * s.pitch_mm) for box, s in zip(pictures, hung, strict=True)]
    assert np.ptp(scale) < 0.01 * max(scale)


def test_squares_hang_in_reading_order() -> None:
    (figure,) = wall(designs(9), HOSTILE, [""] * 9, title="t", note="n", detailed=False)
    centres = [((box.x0 + box.x1) / 2, -round((box.y0 + box.y1) / 2)) for box in _cloths(figure)]
    assert centres == sorted(centres, key=lambda c: (c[1], c[0]))


def _cloths(figure: Figure) -> list[Bbox]:
    """The dark cloth of every picture, in the order of drawing."""
    dark = [p for p in figure.axes[0].patches if np.allclose(p.get_facecolor()[:3], np.array([0x1C, 0x2B, 0x39]) / 255)]
    return [p.get_path().get_extents(p.get_transform()) for p in dark if p.get_fill() and len(p.get_path()) == 5]


@pytest.mark.parametrize("paper", ["a4", "a3", "screen"])
@pytest.mark.parametrize("count", [1, 9, 16, 36])
def test_a_title_of_40_letters_without_blanks_is_whole_on_the_wall(paper: str, count: int) -> None:
    title = "Jugendstilrosenschmuckkissenplattenserie"
    assert len(title) == 40
    (figure,) = wall(designs(count), [title] * count, ["30 pairs"] * count, title="t", note="n", paper=paper,
                     detailed=False)  # fmt: skip
    assert_readable(figure)
    assert "".join(words for words, _ in boxes(figure)).count(title) == count


# --- labels ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("count", [1, 9, 10, 11])
def test_labels_are_90_by_50_mm_on_a4_paper(tmp_path: Path, count: int) -> None:
    told = [Label("Garden at Dusk", f"No. {i}", ("140 mm", "30 pairs", "cloth stitch")) for i in range(count)]
    write(labels(told), tmp_path / "labels.pdf")
    pages = pypdf.PdfReader(tmp_path / "labels.pdf").pages
    assert len(pages) == (count + 9) // 10
    for number, page in enumerate(pages):
        # ISO 216: A4 is 210 x 297 mm.
        assert [round(float(side) / POINTS_PER_MM, 1) for side in page.mediabox[2:]] == [210.0, 297.0]
        on_page = min(10, count - 10 * number)
        across, down = _cuts(page)
        assert np.diff(across) == pytest.approx([90.0] * min(2, on_page), abs=0.05)
        assert np.diff(down) == pytest.approx([50.0] * ((on_page + 1) // 2), abs=0.05)


def _cuts(page: pypdf.PageObject) -> tuple[list[float], list[float]]:
    """Where the cutting marks stand, mm: upright ones by x, level ones by y, read from the page's own drawing."""
    drawn = page.get_contents().get_data().decode("latin-1")
    number = r"(-?[0-9.]+)"
    lines = re.findall(rf"{number} {number} m\s+{number} {number} l", drawn)
    ends = [[float(each) / POINTS_PER_MM for each in line] for line in lines]
    marks = [line for line in ends if abs(np.hypot(line[2] - line[0], line[3] - line[1]) - 4.0) < 0.05]
    across = sorted({round(x0, 2) for x0, _, x1, _ in marks if abs(x0 - x1) < 0.01})
    down = sorted({round(y0, 2) for _, y0, _, y1 in marks if abs(y0 - y1) < 0.01})
    return across, down


def test_the_words_of_a_label_stay_on_it() -> None:
    for design in designs(4):
        told = [label(design, title, series) for title, series in zip(HOSTILE, reversed(HOSTILE), strict=True)]
        (figure,) = labels(told)
        assert_readable(figure)
        axes = figure.axes[0]
        held = boxes(figure)
        to_mm = axes.transData.inverted()
        for words, box in held:
            x0, y0 = to_mm.transform((box.x0, box.y1))
            x1, y1 = to_mm.transform((box.x1, box.y0))
            homes = [corner(place) for place in range(10)]
            inside = [x <= x0 and x1 <= x + WIDTH and y <= y0 and y1 <= y + HEIGHT for x, y in homes]
            assert any(inside) or words.startswith("Print at 100 %"), words


def test_a_label_says_title_size_pairs_pins_and_stitches(tmp_path: Path) -> None:
    shown = [*designs(4), *gallery_of(4, 12)]
    write(labels([label(s, f"Bed {i}", "Garden at Dusk") for i, s in enumerate(shown)]), tmp_path / "labels.pdf")
    (text,) = words_of(tmp_path / "labels.pdf")
    for i, design in enumerate(shown):
        width = design.half_size * design.pitch_mm
        assert f"Bed {i}" in text
        assert f"{width:g} \N{MULTIPLICATION SIGN} {width:g} mm \N{MIDDLE DOT} {design.pairs} pairs" in text
        assert f"{pins(design)} pins" in text
        assert ", ".join(in_full(design)) in text
    assert text.count("Garden at Dusk") == len(shown)
    assert "100 %" in text


def test_every_stitch_is_called_by_its_full_name() -> None:
    everything = ["cloth stitch", "half stitch", "whole stitch", "rose ground", "spiders", "double torchon ground"]
    assert in_full(designs(1)[0]) == everything
    assert in_full(make(6, [])) == ["torchon ground"]


# --- the catalogue -----------------------------------------------------------------------------------------


def _catalogue(count: int, title: str = "Garden at Dusk") -> list[Figure]:
    facts = (("Size", "140 x 140 mm"), ("Stitches", "cloth stitch, " * 30), ("From", "W" * 200))
    entries = [CataloguePage(design, HOSTILE[i], facts) for i, design in enumerate(designs(count))]
    statements = ("They share the border.", "They differ. " * 20, "W" * 300)
    return catalogue(Front(title, "Nine squares", statements, ("Lace burns.", "Pins are sharp. " * 12)), entries)


@pytest.mark.parametrize("title", [HOSTILE[0], HOSTILE[1], HOSTILE[2]])
def test_every_page_of_a_catalogue_can_be_read(title: str) -> None:
    pages = _catalogue(3, title)
    assert len(pages) == 3 + 2
    for figure in pages:
        assert_readable(figure)


def test_a_catalogue_holds_every_square_and_every_word(tmp_path: Path) -> None:
    shown = designs(3)
    entries = [
        CataloguePage(s, f"Bed {s.number}", (("Pairs", f"{s.pairs} pairs"), ("Pins", f"{pins(s)} pins"))) for s in shown
    ]
    front = Front("Garden at Dusk", "Three squares", ("They share a border.",), ("Lace burns.",))
    write(catalogue(front, entries), tmp_path / "catalogue.pdf")
    first, *pages, last = words_of(tmp_path / "catalogue.pdf")
    assert all(words in first for words in ("Garden at Dusk", "Three squares", "They share a border."))
    for design, page in zip(shown, pages, strict=True):
        assert all(w in page for w in (f"Bed {design.number}", f"{design.pairs} pairs", f"{pins(design)} pins"))
    assert "Lace burns." in last


# --- setting -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("words", HOSTILE)
@pytest.mark.parametrize("lines", [1, 2, 3])
def test_words_of_any_length_fit_their_room(words: str, lines: int) -> None:
    with house_rules():
        style, found = fit(words, Type(20), 60.0, 9.0, lines)
        assert 9.0 <= style.size <= 20.0
        assert len(found) <= lines
        assert all(style.width(line) <= 60.0 for line in found)
        assert all(Type(9).width(line) <= 60.0 for line in paragraph(words, Type(9), 60.0))


def test_short_words_keep_their_size_and_long_ones_shrink_before_they_are_cut() -> None:
    with house_rules():
        assert fit("Dusk", Type(20), 60.0, 9.0) == (Type(20), ["Dusk"])
        style, found = fit("A garden at dusk in June", Type(20), 60.0, 9.0)
        assert style.size < 20.0
        assert found == ["A garden at dusk in June"]
        assert broken_lines("one two", Type(10), 1.0) == ["one", "two"]


def test_a_long_word_is_broken_before_any_letter_of_it_is_lost() -> None:
    long = "Rosenkavaliersgartenblumenwiesenlichtung"
    with house_rules():
        style, found = fit(long, Type(17), 60.0, 9.0, 2)
        assert "".join(found) == long
        assert all(style.width(line) <= 60.0 for line in found)
        assert "".join(paragraph(long, Type(17), 60.0)) == long
        assert fit("Rosengarten", Type(17), 25.0, 9.0, 2)[1] == ["Rosengarten"], "a word that can shrink stays whole"


def test_the_title_of_a_label_is_not_cut_for_want_of_blanks(tmp_path: Path) -> None:
    long = "W" * 20 + "m" * 20
    write(labels([Label("Dusk", long, ("140 mm", "30 pairs", "cloth stitch"))]), tmp_path / "labels.pdf")
    (text,) = words_of(tmp_path / "labels.pdf")
    assert long in "".join(text.split())


def test_words_in_letters_that_the_font_lacks_are_measured_without_a_warning() -> None:
    # Warnings are errors in these tests; a size that no other test has, since widths are kept.
    assert Type(9.37).width("\N{CJK UNIFIED IDEOGRAPH-5EAD}") > 0
