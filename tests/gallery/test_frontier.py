"""The plot of a frontier: no words over each other or off the page, steps and not slopes, everything named."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text
from shapely.geometry import MultiPolygon, Point

from constraints.stamp import Stamp
from gallery.paper.page import write
from gallery.paper.paths import Stroke
from gallery.sheets.chart import Bar, Chart, Stair, StairsPanel
from gallery.sheets.frontier import plot

STAMP = Stamp("leaf", MultiPolygon([Point(0, 0).buffer(5)]))


def chart(first: int, last: int, rising: float = 0.9) -> Chart:
    """A chart of so many pairs with steps at every number, names as long as they come, and gaps at the start."""
    pairs = list(range(first, last + 1))
    values = [None if n == first and last > first else min(1.0, 0.5 + rising * (n - first) / 60) for n in pairs]
    at = [None if value is None else n - 2 for n, value in zip(pairs, values, strict=True)]
    stairs = [
        Stair("one print", values, at, "#6a2c91", 0.9),
        Stair("any print", values, at, "#8a7d96", 0.4),
        Stair("detail", [None if v is None else v - 0.2 for v in values], at, "#1c7c3c"),
    ]
    bars = [
        Bar(name, first, first + number, f"from {first + number} without the stamp", "#2e6484")
        for number, name in enumerate(("rose", *(f"spider of {legs} legs" for legs in (8, 12, 16)), "double ground"))
    ]
    shown = pairs[:: max(1, len(pairs) // 10)]
    return Chart(
        title=f"A leaf of the garden society, drawn for its exhibition: what fits {first}-{last} pairs" * 2,
        note="upright-mirrors symmetry, worked across, " * 9,
        pairs=pairs,
        panel=StairsPanel("Share of eyes that would name the print", stairs),
        bars=bars,
        bars_title="Fillings that find room (pale: without the stamp)",
        named=[(n, (str(n - 2), "110\N{EN DASH}140.5")) for n in shown],
        under=("largest half-size", "its width, mm"),
        closed=pairs[:1] if last > first else [],
        closed_words="no size",
        mark=(first + last) // 2,
        mark_words=f"known from {(first + last) // 2} pairs",
    )


RANGES = [(24, 24), (16, 17), (16, 30), (16, 48), (20, 140), (100, 900)]


def words_of(figure: Figure) -> list[Text]:
    return [text for text in figure.axes[0].texts if text.get_text()]


@pytest.mark.parametrize(("first", "last"), RANGES)
def test_words_neither_overlap_nor_leave_the_page(first: int, last: int) -> None:
    figure = plot(chart(first, last), [STAMP])
    renderer = FigureCanvasAgg(figure).get_renderer()
    boxes = [(text.get_text(), text.get_window_extent(renderer)) for text in words_of(figure)]
    assert len(boxes) > 20
    for (one, a), (other, b) in combinations(boxes, 2):
        across, down = min(a.x1, b.x1) - max(a.x0, b.x0), min(a.y1, b.y1) - max(a.y0, b.y0)
        # Boxes hold the empty room above and below letters too.
        assert across <= 0 or down < 0.3 * min(a.height, b.height), (one, other)
    for words, box in boxes:
        assert figure.bbox.x0 < box.x0 < box.x1 < figure.bbox.x1, words
        assert figure.bbox.y0 < box.y0 < box.y1 < figure.bbox.y1, words


@pytest.mark.parametrize("rising", [0.0, 0.9])
def test_stairs_have_level_treads_and_upright_steps(rising: float) -> None:
    figure = plot(chart(16, 48, rising))
    stairs = [each for each in figure.axes[0].patches if isinstance(each, Stroke) and each.get_zorder() == 3]
    assert len(stairs) == 3
    for stair in stairs:
        steps = np.abs(np.diff(np.asarray(stair.get_path().vertices), axis=0))
        assert (steps.min(axis=1) < 1e-9).all()
        assert steps[::2, 0].min() > 1  # every tread is as wide as one number of pairs


def test_it_names_the_half_sizes_the_first_pairs_and_where_it_is_known() -> None:
    told = [text.get_text() for text in words_of(plot(chart(16, 48)))]
    assert "known from 32 pairs" in told
    assert "no size" not in told  # there is no room for it over one number of pairs
    assert {f"from {16 + number} without the stamp" for number in range(5)} <= set(told)
    assert {"half-size, one print", "half-size, any print", "half-size, detail"} <= set(told)
    # Numbers 15 to 46 once for each of three stairs, and below for the named pairs.
    for half_size in range(15, 47):
        assert told.count(str(half_size)) >= 3, half_size
    wide = replace(chart(16, 48), closed=list(range(16, 20)))
    assert "no size" in [text.get_text() for text in words_of(plot(wide))]


def test_without_a_mark_its_words_stand_at_the_end() -> None:
    shown = replace(chart(16, 48), mark=None, mark_words="not known with up to 48 pairs")
    (words,) = [text for text in words_of(plot(shown)) if text.get_text() == shown.mark_words]
    assert words.get_horizontalalignment() == "right"


def test_a_chart_of_bars_alone_ends_below_them() -> None:
    shown = replace(chart(16, 30), panel=None, mark=None, mark_words="")
    pairs = [text for text in words_of(plot(shown)) if text.get_text() == "pairs"]
    bars = [text for text in words_of(plot(shown)) if text.get_text() == "double ground"]
    assert len(pairs) == len(bars) == 1
    assert 0 < pairs[0].get_position()[1] - bars[0].get_position()[1] < 15


def test_a_single_stair_need_not_be_named_where_its_half_sizes_stand() -> None:
    shown = chart(16, 30)
    assert shown.panel is not None
    alone = replace(shown, panel=replace(shown.panel, stairs=shown.panel.stairs[:1]))
    assert "half-size" in [text.get_text() for text in words_of(plot(alone))]


def test_the_same_chart_makes_the_same_files(tmp_path: Path) -> None:
    for ending in ("png", "svg", "pdf"):
        for name in ("a", "b"):
            write([plot(chart(16, 30), [STAMP])], tmp_path / f"{name}.{ending}")
        assert (tmp_path / f"a.{ending}").read_bytes() == (tmp_path / f"b.{ending}").read_bytes()
