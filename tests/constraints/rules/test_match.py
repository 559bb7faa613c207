from typing import Any

import pytest
from designs import Points, diamond
from shapely.geometry import MultiPolygon, Polygon
from trial import Trial

from constraints.rules.match import match
from constraints.targets import target

# A diamond of radius 4 about a hole covers the cells of 4 x 4 pinholes exactly. Within 2 units of it lie the
# two rows round them.
SHAPE = MultiPolygon([Polygon([(-7, -3), (-3, 1), (-7, 5), (-11, 1)])])
WANTED = diamond((-7, -2), 4)
WITHIN_TWO = {(-5, -2), (-4, -1), (-3, 0), (-7, -4)}
FURTHER_OFF = diamond((-7, -8), 2)


def takes(shape: Points, least: float, **more: Any) -> bool:
    reverse = bool(more.pop("reverse", False))
    trial = Trial(**more)
    aim = target(trial.model.piece, SHAPE, reverse)
    trial.model.formula.linears.append(match(trial.model, aim, least))
    return trial.takes(trial.blocks(shape))


def test_any_square_matches_not_at_all() -> None:
    assert takes(set(), 0.0)
    assert not takes(set(), 0.01)


@pytest.mark.parametrize(
    ("shape", "share"),
    [
        (WANTED, 1.0),
        (diamond((-7, -2), 3), 9 / 16),
        (WANTED | WITHIN_TWO, 16 / 20),
        (WANTED | FURTHER_OFF, 1.0),
        ((WANTED - {(-7, -2)}) | WITHIN_TWO, 15 / 20),
    ],
)
def test_the_share_of_the_target_among_it_and_what_lies_near(shape: Points, share: float) -> None:
    assert takes(shape, share - 0.001)
    assert not takes(shape, share + 0.001)


def test_a_match_of_exactly_the_least_is_enough() -> None:
    assert takes(WANTED | WITHIN_TWO, 0.8)


def test_a_reverse_print_is_left_open_in_a_block() -> None:
    round_it = {(x, y) for x in range(-13, 0) for y in range(-6, 8) if (x + y) % 2} - WANTED
    assert takes(round_it, 1.0, reverse=True)
    assert not takes(round_it - WITHIN_TWO, 0.81, reverse=True)
    assert takes(round_it - WITHIN_TWO, 0.8, reverse=True)
    assert not takes(WANTED, 0.1, reverse=True)


def test_all_images_of_the_print_are_wanted() -> None:
    images = {(a * x, y) for x, y in WANTED for a in (1, -1)}
    assert takes(images, 1.0, symmetry="upright-mirror")
