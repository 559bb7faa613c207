"""The pen for a browser: the same lines as on paper, in few signs. Path data is read by svgelements (PyPI)."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest
from examples import gallery_of
from hypothesis import given
from hypothesis import strategies as some
from matplotlib.colors import to_hex
from matplotlib.path import Path
from svgelements import Path as SvgPath
from vectors import drawn, patches, segments

from constraints.lattice import FloatArray
from gallery.paper import paths
from gallery.web.vector import RASTER, VectorPen, steps, vector

LOOKS = [("drawing", True), ("lace", False), ("lace", True)]
Point = tuple[float, float]
NEAR = some.integers(-3000, 3000).map(lambda a: a / RASTER)
POINTS = some.lists(some.tuples(NEAR, NEAR), min_size=3, max_size=3)


def read(said: str) -> FloatArray:
    """Start and end of every piece of path data, by another program's reading, in lattice units: (n, 2, 2)."""
    pieces = [piece for piece in SvgPath(said) if type(piece).__name__ != "Move"]
    ends = [[(p.start.x, p.start.y), (p.end.x, p.end.y)] for p in pieces if p.start is not None]
    return np.array(ends).reshape(-1, 2, 2) / RASTER


def merged(pieces: FloatArray) -> FloatArray:
    """Without pieces of no length, which stand for dots."""
    return pieces[np.abs(pieces[:, 0] - pieces[:, 1]).max(axis=1, initial=0.0) > 0.01]


@pytest.mark.parametrize(("look", "detailed"), LOOKS)
def test_the_browser_is_given_the_lines_of_the_paper(look: str, detailed: bool) -> None:
    design = gallery_of(4, 12)[1]
    made = vector(design, look, 400.0, detailed)
    on_paper = patches(drawn(design, look, 6.0, detailed))
    assert len(made.layers) == len(on_paper)
    for layer, patch in zip(made.layers, on_paper, strict=True):
        filled = patch.get_fill()
        assert layer.colour == to_hex(patch.get_facecolor() if filled else patch.get_edgecolor())
        assert layer.width == pytest.approx(0.0 if filled else patch.thickness * RASTER)
        ours, theirs = merged(read(made.paths[layer.path])), merged(segments(patch.get_path()))
        # Rounding may lose a piece shorter than a step of the raster, no other.
        assert len(ours) == len(theirs)
        assert np.abs(ours - theirs).max(initial=0.0) <= 0.5 / RASTER + 1e-9


@given(some.lists(POINTS, min_size=1, max_size=4), some.booleans())
def test_every_kind_of_step_is_said_so_that_another_program_reads_it(points: list[list[Point]], closed: bool) -> None:
    shapes = np.array(points)
    made: list[Path] = [paths.bends(shapes), paths.lines(shapes), paths.curves(shapes[:, [0, 1, 1, 2]])]
    made.append(paths.rings(list(shapes)) if closed else paths.dots(shapes[:, 0]))
    for path in made:
        ours, theirs = merged(read(steps(path))), merged(segments(path))
        assert len(ours) == len(theirs)
        assert np.abs(ours - theirs).max(initial=0.0) < 1e-6


def test_a_dot_is_a_line_of_no_length_with_round_ends() -> None:
    """SVG 2, section 13.5.5: a subpath of zero length is drawn as its round caps."""
    pen = VectorPen(1.0)
    pen.stroke(paths.dots(np.array([[1.0, 2.0], [3.0, 2.0]])), 0.5, "#000000")
    assert pen.paths == [f"m{RASTER} {2 * RASTER}h0m{2 * RASTER} 0h0"]
    assert not pen.layers[0].butt


@pytest.mark.parametrize(("look", "detailed"), LOOKS)
def test_the_drawing_is_a_sound_document_without_ids_inside_its_box(look: str, detailed: bool) -> None:
    made = vector(gallery_of(4, 12)[2], look, 400.0, detailed)
    root = ET.fromstring(made.svg())
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert len(root) == len(made.layers)
    assert "id" not in {name for each in root.iter() for name in each.attrib}
    for layer in made.layers:
        assert np.abs(read(made.paths[layer.path])).max(initial=0.0) <= made.reach / RASTER


def test_a_cord_is_one_path_inked_twice() -> None:
    made = vector(gallery_of(4, 12)[0], "lace", 400.0, True)
    assert len(made.paths) < len(made.layers)
    assert len(set(made.paths)) == len(made.paths)


def test_a_drawing_takes_far_fewer_signs_than_matplotlibs() -> None:
    """Two signs a number or so, one number for a level line: at most 50 kB in half-size 24, against a megabyte."""
    for design in gallery_of(4, 24):
        for look in ("drawing", "lace"):
            said = "".join(vector(design, look, 400.0, False).paths)
            assert len(said) < 50_000
            assert re.fullmatch(r"[mlhvqcz0-9 -]*", said)
