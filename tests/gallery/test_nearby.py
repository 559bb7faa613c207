"""What lies far outside a window is left out before it is cut: the cut is the same."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from gallery.paper.cutting import cut
from gallery.paper.layers import Dots, Layer, Lines, Words
from gallery.paper.nearby import nearby
from gallery.paper.page import Type
from gallery.paper.paths import curves, joined, lines

places = st.floats(-50, 150)


@given(st.lists(st.lists(places, min_size=8, max_size=8), min_size=1, max_size=6))
def test_the_cut_is_the_same(coordinates: list[list[float]]) -> None:
    points = np.array(coordinates).reshape(-1, 4, 2)
    layers = [Layer("lines", (Lines(joined(curves(points), lines(points + 3.0)), 0.3),))]
    window = (0.0, 10.0, 60.0, 90.0)
    box = shapely.box(*window)
    whole, near = (cut(each, box) for each in (layers, nearby(layers, window)))
    assert [layer.name for layer in whole] == [layer.name for layer in near]
    for one, other in zip(whole, near, strict=True):
        for a, b in zip(one.marks, other.marks, strict=True):
            assert isinstance(a, Lines)
            assert isinstance(b, Lines)
            assert np.asarray(a.path.vertices) == pytest.approx(np.asarray(b.path.vertices))


def test_far_words_and_lines_go_and_all_else_stays() -> None:
    far = np.array([[(500.0, 500.0), (600.0, 500.0)]])
    style = Type(8)
    marks = (Lines(lines(np.concatenate([far, far - 500])), 1.0), Words(500, 500, "a", style), Words(5, 5, "b", style))
    (layer,) = nearby([Layer("all", (*marks, Dots(far[0], 1.0)))], (0.0, 0.0, 100.0, 100.0))
    kept, *others = layer.marks
    assert isinstance(kept, Lines)
    assert np.asarray(kept.path.vertices).tolist() == [[0, 0], [100, 0]]
    assert [type(each) for each in others] == [Words, Dots]
