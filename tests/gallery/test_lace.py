"""The look `lace`: denser where lace is denser, at thumbnail size and large."""

from __future__ import annotations

import numpy as np
import pytest
from examples import diamond, gallery_of, make
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from vectors import drawn, patches, vectors

from constraints.design import Design
from constraints.fillings import FILLINGS
from constraints.stitches import STITCHES
from gallery.looks import lace
from gallery.looks.cloth import WEAVES
from gallery.looks.palette import LINES, TINTS


def light(design: Design, inches: float, reach: float, at: tuple[float, float] = (0.0, 0.0)) -> float:
    """Mean brightness within a diamond of lattice units, 0 to 255, as rendered."""
    axes = drawn(design, "lace", inches)
    figure = axes.get_figure()
    assert isinstance(figure, Figure)
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    picture = np.asarray(canvas.buffer_rgba())[..., :3].mean(axis=2)
    size = len(picture)
    y, x = (np.mgrid[0:size, 0:size] + 0.5) / size * 2 - 1
    side = design.half_size + 1.4
    inside = np.abs(x * side - at[0]) + np.abs(y * side - at[1]) < reach
    return float(picture[inside].mean())


@pytest.mark.parametrize("inches", [1.2, 5.0])
def test_cloth_is_densest_then_whole_and_half_stitch_then_ground(inches: float) -> None:
    """Common practice, no source: cloth stitch is the densest, ground the lightest."""
    filled = [light(make(12, [(stitch, diamond(0, 0, 8))]), inches, 5) for stitch in ("cloth", "whole", "half")]
    ground = light(make(12, []), inches, 5)
    cloth, whole, half = filled
    assert cloth > 1.2 * max(whole, half)
    assert min(whole, half) > 1.1 * ground


@pytest.mark.parametrize("inches", [1.2, 5.0])
def test_the_body_of_a_spider_is_solid_and_the_ground_beside_it_open(inches: float) -> None:
    design = make(12, [], worked="across", symmetry="none", spiders=[(16, diamond(0, 1, 1))])
    assert light(design, inches, 0.5, (0, 1)) > 1.4 * light(design, inches, 4, (0, 1))


def test_large_every_thread_is_drawn_and_small_only_its_pair() -> None:
    design = gallery_of(4, 24)[1]
    small, large = vectors(drawn(design, "lace", 1.5)), vectors(drawn(design, "lace", 8.0))
    assert sum(large.values()) > 4 * sum(small.values())
    assert vectors(drawn(design, "lace", 1.5, True)) == large
    assert vectors(drawn(design, "lace", 8.0, False)).keys() >= small.keys()


def test_a_pinhole_is_a_dark_opening_between_threads() -> None:
    design = make(6, [], worked="across", symmetry="none")
    assert light(design, 6.0, 0.08, (0, 1)) < 60
    assert light(design, 6.0, 0.4, (0, 1)) > 90


def test_an_empty_look_is_only_net_and_footside() -> None:
    plain = patches(drawn(make(6, []), "lace"))
    blocked = patches(drawn(make(6, [("cloth", diamond(0, 0, 2))]), "lace"))
    assert len(plain) < len(blocked)


def test_every_stitch_has_its_threads_and_its_tone_and_its_tint() -> None:
    assert set(STITCHES) == set(WEAVES) == set(lace._TONES)
    assert {stitch.colour for stitch in STITCHES.values()} == set(TINTS)
    assert {each.colour for each in (STITCHES | FILLINGS).values()} <= set(LINES)
