"""Which of the places of a stamp are used: told of blockings made up for the purpose."""

from dataclasses import replace

import numpy as np

from constraints.brief import Brief
from constraints.forms import Square
from constraints.piece import ROUND
from constraints.targets import Target
from explore.search.laying.blocking import Blocking
from explore.search.laying.laid import PlaceLaid, few_good, fittest
from explore.search.laying.sectors import Place, Sector

PIECE = Square(10).piece(ROUND, "none")
NOWHERE = np.zeros(0, dtype=np.int64)


def laid(number: int, match: float, detail: float = 0.8, size: float = 9.0, blocks: int | None = None) -> PlaceLaid:
    """A place whose blocks are ten pinholes of its own, or those of another number."""
    block = np.zeros(len(PIECE), dtype=bool)
    own = number if blocks is None else blocks
    block[10 * own : 10 * own + 10] = True
    place = Place(Sector("side", 270.0, 45.0), size, 45.0 * number, (0.0, 0.0))
    ring = ((9.0, 0.0), (0.0, 9.0), (-9.0, 0.0))
    return PlaceLaid.at("", place, (ring,), Target(NOWHERE, NOWHERE), Blocking(block, match), detail)


def matches(chosen: list[PlaceLaid]) -> list[float]:
    return [each.blocking.match for each in chosen if each.blocking is not None]


def test_the_same_blocks_count_once() -> None:
    every = [laid(n, 0.9) for n in range(5)] + [laid(9, 0.95, blocks=0)]
    assert sorted(matches(fittest(every, Brief(), PIECE, 10))) == [0.9, 0.9, 0.9, 0.9, 0.95]


def test_middling_places_are_left_out_where_there_are_enough_good_ones() -> None:
    every = [laid(n, 0.8) for n in range(4)] + [laid(5, 0.74, detail=0.9)]
    assert matches(fittest(every, Brief(), PIECE, 10)) == [0.8] * 4
    assert not few_good(every, Brief(), PIECE)


def test_few_good_places_take_others_with_them_while_the_mean_stays_good() -> None:
    every = [laid(0, 0.80), laid(1, 0.80), laid(2, 0.70), laid(3, 0.66), laid(4, 0.66)]
    chosen = matches(fittest(every, Brief(), PIECE, 10))
    assert chosen == [0.80, 0.80, 0.70]
    assert np.mean(chosen) >= 0.75
    assert few_good(every, Brief(), PIECE)


def test_small_and_plain_prints_give_way_to_telling_ones() -> None:
    telling = [laid(n, 0.77) for n in range(4)]
    plain = [laid(4, 1.0, detail=0.3), laid(5, 1.0, size=4.0)]
    assert matches(fittest([*plain, *telling], Brief(), PIECE, 10)) == [0.77] * 4


def test_where_none_is_good_the_most_worthy_are_used() -> None:
    every = [laid(n, match) for n, match in enumerate((0.66, 0.67, 0.68, 0.69, 0.70, 0.71))]
    assert matches(fittest(every, Brief(), PIECE, 10)) == [0.71, 0.70, 0.69, 0.68]


def test_below_the_least_match_or_beyond_the_solid_share_none_is_used() -> None:
    assert fittest([laid(0, 0.6)], Brief(), PIECE, 10) == []
    assert fittest([laid(0, 0.9)], Brief.of(solid=(0.0, 0.01)), PIECE, 10) == []


def test_of_places_that_show_a_print_alike_those_are_used_first_in_which_no_seam_crosses_it() -> None:
    whole, cut = laid(0, 0.9), replace(laid(1, 0.9), crossing=6)
    assert [each.crossing for each in fittest([cut, whole], Brief(), PIECE, 2)] == [0, 6]
    better = replace(laid(2, 1.0), crossing=1)
    assert fittest([whole, better], Brief(), PIECE, 2)[0] is better
