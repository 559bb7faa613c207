"""The seven frieze groups (Conway, Burgiel, Goodman-Strauss, The Symmetries of Things, 2008; cited from memory)."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from friezes import found, found_in
from strips import strip

from constraints.forms import Strip
from constraints.repeats import repeat_of
from constraints.symmetry import OF_STRIPS

# What a group has besides translations: upright mirror, level mirror, half turn, glide (a mirror counts as one).
KINDS = {
    (0, 0, 0, 0): "none",
    (1, 0, 0, 1): "upright-mirror",
    (0, 0, 1, 0): "half-turn",
    (1, 1, 1, 1): "upright-mirrors",
    (0, 1, 0, 0): "level-mirror",
    (0, 0, 0, 1): "glide",
    (0, 1, 1, 1): "glide-mirrors",
}


def _by_brute_force(picture: np.ndarray) -> str:
    """From a picture of one repeat, by turning it over and rolling it."""

    def same(turned: np.ndarray) -> bool:
        return any((np.roll(turned, shift, 0) == picture).all() for shift in range(len(picture)))

    upright = bool((picture[:, ::-1] == picture).all())
    return KINDS[(upright, same(picture[::-1]), same(picture[::-1, ::-1]), same(picture[:, ::-1]))]


def test_every_small_repeat_has_the_group_that_brute_force_finds() -> None:
    seen = set()
    for columns, rows in ((3, 4), (3, 8), (2, 6)):
        places = [(x, y) for y in range(rows) for x in range(columns) if (x + y) % 2]
        for count in range(5):
            for chosen in combinations(places, count):
                picture = np.zeros((rows, columns), int)
                picture[tuple(np.array(places).T[::-1])] = 1
                for x, y in chosen:
                    picture[y, x] = 2
                marks = frozenset({("", x, y) for x, y in places} | {("cloth", x, y) for x, y in chosen})
                name = found_in(marks, columns, rows)
                assert name == _by_brute_force(picture)
                seen.add(name)
    assert seen == set(OF_STRIPS)


@pytest.mark.parametrize("name", OF_STRIPS)
def test_a_strip_drawn_with_a_symmetry_is_found_to_have_it(name: str) -> None:
    form = Strip(19, 20, 2)
    piece = form.repeat(name)
    lone = [(6, 3), (7, 4), (7, 2), (5, 6)]
    block = {(x, y) for x, y in piece.setting.moved(np.array(lone), name).reshape(-1, 2).tolist()}
    assert found(repeat_of(strip(form, ("cloth", block), symmetry=name))) == name
