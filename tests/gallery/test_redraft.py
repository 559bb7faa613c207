"""The sheets of a redraft: every pin is drawn where it stands, doubtful ones are ringed and told, rows share a line."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import numpy as np
from matplotlib.figure import Figure
from vectors import patches, segments

from gallery.paper.page import write
from gallery.sheets.readings import ReadingPanel, readings
from gallery.sheets.redraft import Doubtful, Original, Redrafted, beside

GROUND = np.array([(x, y) for y in range(1, 14) for x in range((y + 1) % 2, 9, 2)], dtype=float)


def made(pinholes: np.ndarray = GROUND, doubts: Sequence[Doubtful] = (), rows: tuple[int, int] = (1, 13)) -> Redrafted:
    nothing = np.empty((0, 2))
    return Redrafted(pinholes, nothing, nothing, doubts, 9, rows)


def words(page: Figure) -> list[str]:
    return [text.get_text() for text in page.axes[0].texts]


def dots(page: Figure) -> np.ndarray:
    """Where dots stand, mm, by row and column: a dot is a very short line."""
    found = []
    for patch in patches(page.axes[0]):
        pieces = segments(patch.get_path())
        if len(pieces):
            pieces = patch.get_transform().transform(pieces.reshape(-1, 2)).reshape(-1, 2, 2)
            pieces = page.axes[0].transData.inverted().transform(pieces.reshape(-1, 2)).reshape(-1, 2, 2)
        short = pieces[np.linalg.norm(pieces[:, 1] - pieces[:, 0], axis=1) < 0.01]
        found.append(short.mean(axis=1))
    every = np.concatenate(found)
    return every[np.lexsort((every[:, 0].round(3), every[:, 1].round(3)))]


def test_every_pinhole_is_a_dot_on_an_even_grid() -> None:
    (page,) = beside(made(), None, title="ground", facts=["59 pinholes"])
    at = dots(page)
    assert len(at) == len(GROUND) == 59
    units = at - at.min(axis=0)
    units /= units[:, 0].max() / 8
    assert np.allclose(units, GROUND - (0, 1), atol=1e-3)
    assert {"ground", "59 pinholes"} <= set(words(page))


def test_doubtful_dots_are_numbered_ringed_and_told() -> None:
    doubts = [
        Doubtful(1, (3.4, 6.2), (4, 5), False, "stands off the grid"),
        Doubtful(2, (2.0, 9.0), (2, 9), True, "missing here"),
    ]
    plain = dots(beside(made(), None, title="", facts=[])[0])
    (page,) = beside(made(doubts=doubts), None, title="", facts=[])
    told = words(page)
    # Once at its ring, once below.
    assert (told.count("1"), told.count("2")) == (2, 2)
    assert "does not count: stands off the grid" in told
    assert "counts: missing here" in told
    # Only the one that counts is a dot.
    assert len(dots(page)) == len(plain) + 1


def test_the_original_lies_beside_it_row_for_row() -> None:
    picture = np.full((150, 120), 200.0)
    original = Original(picture, (-1.5, 9.5, 14.5, -0.5))
    (page,) = beside(made(), original, title="", facts=[])
    (image,) = page.axes[0].images
    left, right, bottom, top = image.get_extent()
    at = dots(page)
    unit = (at[:, 1].max() - at[:, 1].min()) / 12
    assert np.isclose((bottom - top) / unit, 15)
    assert np.isclose(at[:, 1].min(), top + 1.5 * unit)
    assert right < at[:, 0].min()
    assert np.isclose((right - left) / unit, 11)


def test_a_long_strip_goes_on_over_pages_of_alike_length() -> None:
    long = np.array([(x, y) for y in range(1, 401) for x in range((y + 1) % 2, 9, 2)], dtype=float)
    pages = beside(made(pinholes=long, rows=(1, 400)), None, title="long", facts=[])
    assert len(pages) > 1
    assert sum(len(dots(page)) for page in pages) >= len(long)
    heights = [page.get_size_inches()[1] * 25.4 for page in pages]
    assert max(heights) <= 297.01
    assert [any(title.startswith("long, rows") for title in words(page)) for page in pages] == [True] * len(pages)


def test_readings_stand_side_by_side_and_fit_their_page(tmp_path: Path) -> None:
    block = frozenset((4 + i - j, 3 + i + j) for i in range(3) for j in range(3))
    panels = [
        ReadingPanel(str(number), ["1 block", "10 pairs"], [block], [((4, 10), "spider-8")], GROUND)
        for number in range(1, 13)
    ]
    pages = readings(panels, title="readings", facts=["12 readings"])
    assert [title for page in pages for title in words(page) if title.isdigit()] == [str(n) for n in range(1, 13)]
    for page in pages:
        width, height = page.get_size_inches() * 25.4
        at = dots(page)
        assert (at > 0).all()
        assert (at < (width, height)).all()
    # The pins, and one more for the spider.
    assert sum(len(dots(page)) for page in pages) == 12 * (len(GROUND) + 1)
    for name in ("one.svg", "two.svg"):
        write(pages[:1], tmp_path / name)
    assert (tmp_path / "one.svg").read_bytes() == (tmp_path / "two.svg").read_bytes()
