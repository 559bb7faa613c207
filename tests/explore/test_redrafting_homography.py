"""What a camera held aslant sees of a flat card, by the formula of the pinhole camera, is laid flat again."""

from __future__ import annotations

import numpy as np
import pytest

from explore.editing.redrafting.homography import affine, applied, divisors, homography
from explore.editing.redrafting.net import find_nets, nearest_even

GRID = np.array([(x, y) for x in range(12) for y in range(30) if (x + y) % 2 == 0], dtype=float)


def seen(places: np.ndarray, lean: float, turn: float) -> np.ndarray:
    """Places of a card as a camera sees them, pixels: the card turned in its plane, then leaning back, radians. A point
    at (X, Y, Z) comes to lie at (f X / Z, f Y / Z) (Hartley and Zisserman 2004, chapter 6)."""
    x, y = ((places - places.mean(axis=0)) @ np.array([(np.cos(turn), np.sin(turn)), (-np.sin(turn), np.cos(turn))])).T
    depth = 60 + y * np.sin(lean)
    return 1000 * np.stack([x / depth, y * np.cos(lean) / depth], axis=1) + 500


@pytest.mark.parametrize(("lean", "turn"), [(0.0, 0.3), (0.5, 0.0), (0.7, 1.0)])
def test_what_a_camera_sees_is_laid_flat_again(lean: float, turn: float) -> None:
    at = seen(GRID, lean, turn)
    found = homography(at, GRID)
    assert np.abs(applied(found, at) - GRID).max() < 1e-6
    assert np.ptp(divisors(found, at)) == pytest.approx(0, abs=1e-6) if not lean else np.ptp(divisors(found, at)) > 0.1
    assert np.abs(applied(affine(at, GRID), at) - GRID).max() < 1e-6 if not lean else True


@pytest.mark.parametrize(("lean", "turn"), [(0.3, 0.1), (0.6, 0.0), (0.6, 1.2)])
def test_the_net_beneath_a_card_seen_aslant_takes_in_all_its_pinholes(lean: float, turn: float) -> None:
    at = seen(GRID, lean, turn) + np.random.default_rng(1).normal(0, 0.2, GRID.shape)
    net = max(find_nets(at), key=lambda each: each.held)
    places = net.places(at)
    assert np.abs(places - nearest_even(places)).max() < 0.1
    # Neighbours on the card are neighbours on the net.
    step = np.abs(np.diff(nearest_even(places)[:15], axis=0))
    assert set(map(tuple, step.tolist())) in ({(0, 2)}, {(2, 0)})
    assert np.abs(net.pixels(places) - at).max() < 0.5
