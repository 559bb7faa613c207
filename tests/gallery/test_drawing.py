"""The look `drawing`: golden vectors, colours of the trade, nothing beyond its frame."""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path

import numpy as np
import pytest
from examples import diamond, gallery_of, make, ring
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_hex
from vectors import Vector, drawn, patches, segments, turned, vectors

from constraints.design import Design
from gallery.looks.drawing import COLOURS

GOLDEN = Path(__file__).parent / "golden.json"


def small() -> Design:
    """Every kind of line once: a block of each stitch, a rose, a spider, double ground."""
    return make(
        6,
        [
            ("cloth", diamond(0, -1, 3)),
            ("half", diamond(-3, 1, 2)),
            ("whole", lambda x, y: (x >= 3) & (x <= 4) & (y >= -2) & (y <= 1)),
        ],
        symmetry="none",
        worked="across",
        rose=diamond(-4, 4, 1),
        spiders=[(8, diamond(2, 4, 1))],
        double=diamond(0, -5, 2),
    )


def test_the_drawing_is_the_golden_one() -> None:
    """The golden vectors were looked at as a picture when they were written down."""
    golden: Counter[Vector] = Counter({tuple(row[:-1]): row[-1] for row in json.loads(GOLDEN.read_text())})
    assert vectors(drawn(small(), "drawing")) == golden


def test_a_step_more_or_less_is_another_drawing() -> None:
    """The comparison of vectors can fail."""
    golden = vectors(drawn(small(), "drawing"))
    moved = make(6, [("half", diamond(-3, 1, 2))], symmetry="none", worked="across")
    assert vectors(drawn(moved, "drawing")) != golden
    colour, ax, ay, bx, by = next(iter(golden))
    golden[colour, ax, ay, bx, by + 0.001] = golden.pop((colour, ax, ay, bx, by))
    assert vectors(drawn(small(), "drawing")) != golden


@pytest.mark.parametrize("look", ["drawing", "lace"])
@pytest.mark.parametrize("detailed", [False, True])
def test_turning_a_square_turns_its_drawing(look: str, detailed: bool) -> None:
    design = gallery_of(4, 12)[3]
    assert turned(design) != design or design.symmetry == "quarter-turn"
    odd = make(
        12,
        [("cloth", diamond(-7, 2, 4)), ("half", diamond(2, 8, 3)), ("whole", ring(4, 1))],
        symmetry="none",
        rose=lambda x, y: x > 5,
        spiders=[(12, lambda x, y: y < -5)],
        double=lambda x, y: (y > 5) & (x < 0),
    )
    for each in (design, odd):
        assert vectors(drawn(turned(each), look, 6.0, detailed)) == vectors(drawn(each, look, 6.0, detailed), 1)
    assert vectors(drawn(turned(odd), look, 6.0, detailed)) != vectors(drawn(odd, look, 6.0, detailed))


def hue(colour: str) -> str:
    red, green, blue = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
    if green > red and green > blue:
        return "green"
    return "purple" if blue > red / 2 and red > green else "red"


def test_blocks_have_the_colours_of_the_trade() -> None:
    """Cloth purple, half stitch green, whole stitch red: World Lace Congress Bruges 2018, workshop page."""
    line = {stitch: hue(colour) for stitch, (colour, _) in COLOURS.items()}
    assert line == {"cloth": "purple", "half": "green", "whole": "red"}
    for stitch, (colour, tint) in COLOURS.items():
        used = {to_hex(p.get_facecolor()) for p in patches(drawn(make(9, [(stitch, diamond(0, 0, 4))]), "drawing"))}
        lines = {to_hex(p.get_edgecolor()) for p in patches(drawn(make(9, [(stitch, diamond(0, 0, 4))]), "drawing"))}
        assert tint in used
        assert colour in lines


@pytest.mark.parametrize("look", ["drawing", "lace"])
@pytest.mark.parametrize("worked", ["round", "across"])
@pytest.mark.parametrize("detailed", [False, True])
def test_nothing_is_drawn_outside_the_axes(look: str, worked: str, detailed: bool) -> None:
    for design in gallery_of(4, 12, worked):
        axes = drawn(design, look, 6.0, detailed)
        left, right = axes.get_xlim()
        for patch in patches(axes):
            pieces = segments(patch.get_path())
            half = getattr(patch, "thickness", 0.0) / 2
            assert np.abs(pieces).max(initial=0.0) + half <= right == -left


@pytest.mark.parametrize("look", ["drawing", "lace"])
def test_a_square_is_a_few_compound_paths(look: str) -> None:
    """One artist for each pinhole would take seconds a sheet."""
    for half_size in (12, 24):
        assert len(patches(drawn(gallery_of(4, half_size)[3], look, 6.0, True))) < 50


def test_strokes_keep_their_share_of_the_drawing_at_any_size() -> None:
    widths = []
    for inches in (2.0, 8.0):
        axes = drawn(small(), "drawing", inches, True)
        FigureCanvasAgg(axes.get_figure()).draw()
        widths.append([patch.get_linewidth() for patch in patches(axes) if not patch.get_fill()])
    assert np.array(widths[1]) == pytest.approx(4 * np.array(widths[0]))


def test_pins_are_shown_where_they_are_large_enough() -> None:
    design = make(12, [])
    assert len(patches(drawn(design, "drawing", 6.0))) == len(patches(drawn(design, "drawing", 0.5))) + 1


def write_golden() -> None:
    """Write the golden vectors anew, after looking at the picture: `python tests/gallery/test_drawing.py`."""
    held = sorted([*vector, count] for vector, count in vectors(drawn(small(), "drawing")).items())
    GOLDEN.write_text("[\n" + ",\n".join(json.dumps(row) for row in held) + "\n]\n")


if __name__ == "__main__":
    write_golden()
