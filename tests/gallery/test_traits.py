"""The traits of finished pieces, counted by hand on squares of a few blocks."""

from __future__ import annotations

from dataclasses import replace
from math import log2

import numpy as np
import pytest
from designs import made, ring_of_diamonds, rose_field, trail_and_spiders

from constraints.design import Design
from gallery.seeing.traits import TRAITS, Looked, measured, outstanding


def trait(name: str, design: Design) -> float:
    return TRAITS[name].measure(Looked.at(design))


def pinholes(design: Design) -> int:
    """A square of half-size N has that many: 2N rows of N and N + 1 in turn, and one more."""
    return len(design.piece())


def test_blocks_pieces_and_stitches_are_counted() -> None:
    ring = ring_of_diamonds()
    taken = sum(len(each.pinholes) for each in ring.blocks)
    assert trait("blocks", ring) == pytest.approx(taken / pinholes(ring))
    assert trait("pieces", ring) == pytest.approx(log2(1 + len(ring.blocks)))
    half = sum(len(each.pinholes) for each in ring.blocks if each.stitch == "half")
    assert trait("half", ring) == pytest.approx(half / taken)
    assert trait("uneven", ring) == pytest.approx(np.std([log2(len(each.pinholes)) for each in ring.blocks]))


def test_a_trail_closes_and_diamonds_do_not() -> None:
    trail, ring = trail_and_spiders(), ring_of_diamonds()
    assert trait("closed", trail) == 1.0
    assert trait("closed", ring) == 0.0
    # One place less and the trail is open.
    first = trail.blocks[0]
    cut = [point for point in first.pinholes if not (abs(point[0]) <= 2 and point[1] < 0)]
    assert trait("closed", replace(trail, blocks=(replace(first, pinholes=tuple(cut)), *trail.blocks[1:]))) < 1.0


def test_fillings_are_told_apart_by_the_pinholes_that_they_take() -> None:
    roses, spiders = rose_field(), trail_and_spiders()
    assert trait("roses", roses) == pytest.approx(4 * len(roses.fillings[0].places) / pinholes(roses))
    assert trait("spiders", roses) == trait("roses", spiders) == 0.0
    assert trait("spiders", spiders) > 0.0


def test_what_lies_alike_on_all_sides_has_more_order_than_what_does_not() -> None:
    whole = ring_of_diamonds()
    assert trait("order", whole) == 1.0
    lame = replace(whole, blocks=whole.blocks[:1], symmetry="none")
    assert trait("order", lame) in (0.125, 0.25)


def test_traits_are_told_in_words_and_stay_within_bounds() -> None:
    for design in (ring_of_diamonds(), rose_field(), trail_and_spiders(), made(8)):
        far = measured(design)
        assert far.shape == (len(TRAITS),)
        assert np.isfinite(far).all()
        assert np.abs(far).max() <= 3.0
        said = outstanding(design)
        assert len(said) <= 3
        assert {*said} <= {words for each in TRAITS.values() for words in (each.more, each.less)}
    assert "open ground" in outstanding(made(8)) or "few pieces" in outstanding(made(8))
