"""The page of two designs: its coloured areas are the differences, told by pattern and words too."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from examples import gallery_of
from matplotlib.colors import to_hex
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch
from matplotlib.path import Path as Outline

from constraints.differing import Differences, PinholeChange, differences
from gallery.paper.page import write
from gallery.sheets.differences import SIGNS, DifferenceLine, draw

WORDS = {change: change.name.lower() for change in SIGNS}


def found() -> Differences:
    first, second = gallery_of(2, 12)
    return differences(first, second)


def drawn(pair: Differences, look: str = "drawing", paper: str = "a4", legend: bool = False) -> Figure:
    entries = (
        [DifferenceLine(change, WORDS[change], f"{pair.count(change)} of them") for change in SIGNS] if legend else []
    )
    return draw(
        pair,
        title="two squares",
        note="a note",
        names=("03", "07"),
        captions=(["14 pairs"], ["15 pairs"]),
        legend=entries,
        told=[("pairs", "14", "15")],
        look=look,
        paper=paper,
    )


def area(path: Outline) -> float:
    """By the shoelace formula; holes run the other way and are taken off."""
    total = 0.0
    for ring in path.to_polygons(closed_only=True):
        x, y = np.asarray(ring).T
        total += float(np.sum(x[:-1] * y[1:] - x[1:] * y[:-1])) / 2
    return abs(total)


def areas(figure: Figure) -> dict[str, float]:
    found: dict[str, float] = {}
    for patch in figure.axes[0].findobj(PathPatch):
        if patch.get_fill():
            colour = to_hex(patch.get_facecolor())
            found[colour] = found.get(colour, 0.0) + area(patch.get_path())
    return found


def test_the_area_of_every_colour_is_that_of_its_pinholes() -> None:
    """The cell of a pinhole is a diamond of two square units."""
    pair = found()
    seen = areas(drawn(pair))
    assert pair.count(PinholeChange.GAINED)
    assert pair.count(PinholeChange.LOST)
    for change, sign in SIGNS.items():
        wanted = int(pair.solid.sum()) if change is PinholeChange.SAME else pair.count(change)
        assert seen.get(sign.tint, 0.0) == pytest.approx(2.0 * wanted)


def test_colour_is_never_the_only_sign() -> None:
    """Plain, striped two ways, dotted: no two signs of a difference have the same pattern."""
    patterns = {(sign.lines.tobytes(), sign.dot) for change, sign in SIGNS.items() if change is not PinholeChange.SAME}
    assert len(patterns) == len(SIGNS) - 1


def test_signs_differ_in_lightness_from_what_they_lie_on() -> None:
    """The lines of a sign have a contrast of at least 3 to its tint (WCAG 2.2, success criterion 1.4.11)."""
    for change, sign in SIGNS.items():
        if len(sign.lines) or sign.dot:
            assert _contrast(sign.colour, sign.tint) >= 3, change
    assert _contrast(SIGNS[PinholeChange.GAINED].tint, SIGNS[PinholeChange.SAME].tint) >= 3


def _contrast(one: str, other: str) -> float:
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("look", ["drawing", "lace"])
def test_names_captions_and_legend_are_words_on_the_page(look: str, tmp_path: Path) -> None:
    path = tmp_path / "two.svg"
    write([drawn(found(), look, legend=True)], path)
    text = path.read_text(encoding="utf-8")
    for words in ("two squares", "a note", ">03<", ">07<", "14 pairs", "15 pairs", *WORDS.values()):
        assert words in text
    assert "outline of the blocks of 03" in text


def test_words_stay_on_the_page_and_apart() -> None:
    figure = drawn(found(), legend=True)
    figure.canvas.draw()
    boxes = [text.get_window_extent() for text in figure.axes[0].texts]
    for i, box in enumerate(boxes):
        assert box.x0 >= 0 and box.x1 <= figure.bbox.width and box.y0 >= 0 and box.y1 <= figure.bbox.height  # noqa: PT018
        assert not any(box.overlaps(other) for other in boxes[:i])


def test_squares_of_two_sizes_are_drawn_to_one_scale_and_compared_where_both_have_pinholes() -> None:
    small, large = gallery_of(1, 8)[0], gallery_of(1, 12)[0]
    for pair in (differences(small, large), differences(large, small)):
        assert pair.smaller is not large
        assert len(pair.change) == 2 * 8 * 9
        seen = areas(drawn(pair))
        assert seen.get(SIGNS[PinholeChange.GAINED].tint, 0.0) == pytest.approx(2.0 * pair.count(PinholeChange.GAINED))


def test_paper_changes_the_size_alone() -> None:
    a4, a3 = (drawn(found(), paper=paper).get_size_inches() for paper in ("a4", "a3"))
    np.testing.assert_allclose(a3 / a4, 297 / 210)
    assert a4[0] * 25.4 == pytest.approx(210)
