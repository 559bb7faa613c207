"""The ribbon of sizes: one scale, the same size in one column, the size to take ringed, what is lost marked."""

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch

from constraints.brief import Brief
from constraints.stamp import Stamp
from explore.papers import falls as papers
from explore.reading import built_in, read
from explore.search.laying.falls import Fall, falls, suggested
from gallery.sheets import ribbon
from gallery.sheets.ribbon import Ribbon, ribbons

BEE = read(built_in("bee"))


@pytest.fixture(scope="module")
def fallen() -> list[Fall]:
    return list(falls(BEE, Brief.of(stamp_size=(10.0, 14.0), own_splits=6, effort=0.3), cores=1))


def drawn(fallen: list[Fall], stamp: Stamp = BEE) -> Figure:
    return ribbons(papers.ribbons_of(fallen, suggested(fallen)), title="bee", note="", stamp=stamp)


def patches(figure: Figure, colour: str) -> list[PathPatch]:
    """Those that are filled with a colour, or else edged with it."""
    every = [each for each in figure.axes[0].patches + figure.axes[0].artists if isinstance(each, PathPatch)]
    every = list(dict.fromkeys(every))
    return [each for each in every if colour in (_hex(each.get_facecolor()), _hex(each.get_edgecolor()))]


def _hex(colour: object) -> str:
    red, green, blue, *_ = np.round(np.array(colour) * 255).astype(int).tolist()
    return f"#{red:02x}{green:02x}{blue:02x}"


def extents(figure: Figure, colour: str) -> np.ndarray:
    """(k, 4) left, upper, right and lower end of each patch in a colour but the key's, mm."""
    axes = figure.axes[0]
    found = []
    for each in patches(figure, colour):
        path = each.get_path().transformed(each.get_transform() - axes.transData)
        found.append([*path.vertices.min(axis=0), *path.vertices.max(axis=0)])
    key = max(low for *_, low in found)
    return np.array([each for each in found if each[3] < key])


def test_all_prints_are_at_one_scale(fallen: list[Fall]) -> None:
    left, top, right, low = extents(drawn(fallen), ribbon._PRINT).T
    longer = np.maximum(right - left, low - top)
    sizes = [fall.size for fall in papers.in_order(fallen)]
    assert longer / longer[0] == pytest.approx(np.array(sizes) / sizes[0], rel=0.02)


def test_a_size_stands_in_one_column_without_splits_and_with_them(fallen: list[Fall]) -> None:
    ends = extents(drawn(fallen), ribbon._PRINT)
    middle = (ends[:, 0] + ends[:, 2]) / 2
    by_size: dict[float, set[float]] = {}
    for fall, x in zip(papers.in_order(fallen), middle, strict=True):
        by_size.setdefault(fall.size, set()).add(round(float(x), 1))
    assert any(len([fall for fall in fallen if fall.size == size]) == 2 for size in by_size)
    assert all(max(each) - min(each) < 0.2 for each in by_size.values())


def test_the_size_to_take_alone_is_ringed(fallen: list[Fall]) -> None:
    choice = suggested(fallen)
    assert choice is not None
    ((left, top, right, low),) = extents(drawn(fallen), ribbon._RINGED)
    number = papers.in_order(fallen).index(choice)
    own = extents(drawn(fallen), ribbon._PRINT)[number]
    assert left < own[0] < own[2] < right
    assert top < own[1] < own[3] < low


def test_every_lost_part_is_marked(fallen: list[Fall]) -> None:
    lost = sum(len(fall.lost) for fall in fallen)
    assert lost
    assert len(extents(drawn(fallen), ribbon._LOST)) == lost


def test_very_many_sizes_go_on_on_further_lines(fallen: list[Fall]) -> None:
    first = papers.ribbons_of(fallen, None)[0]
    few = ribbons([first], title="", note="", stamp=BEE)
    panel = next(iter(first.panels.values()))
    many = ribbons([Ribbon("", {float(size): panel for size in range(40)})], title="", note="", stamp=BEE)
    assert many.get_size_inches()[0] * 25.4 <= 330
    assert many.get_size_inches()[1] > 2 * few.get_size_inches()[1]
