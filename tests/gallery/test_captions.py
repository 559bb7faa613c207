"""What sheets tell: what squares share once, what they differ in under each, in words that are counted by hand."""

from __future__ import annotations

from dataclasses import replace

from examples import band, diamond, make
from test_lying import DRAWN

from constraints.design import Design, Print
from constraints.stamp import Stamp, outlines
from gallery.sheets.captions import numbers_told, told_apart


def squares(*stitches: str) -> list[Design]:
    """Squares with one block each, in the stitches named, numbered from 1."""
    return [make(9, [(stitch, diamond(0, 0, 2))]).numbered(number) for number, stitch in enumerate(stitches, 1)]


def test_what_all_squares_share_is_told_once_and_not_under_them() -> None:
    cloth, half = squares("cloth", "half")
    told = told_apart([cloth, replace(half, splits=2)])
    assert told.shared == ("11 pairs", "45 mm", "pitch 5 mm", "4 seams", "worked round", "full symmetry")
    assert told.own == ({"stitches": ("cloth",)}, {"stitches": ("half",), "splits": ("2 splits",)})
    assert told.at_head[0] == "All: 11 pairs"


def test_of_several_stitches_only_those_that_differ_stand_under_a_square() -> None:
    both = make(9, [("cloth", diamond(0, 0, 2)), ("half", band(6, 5))]).numbered(1)
    plain = make(9, [("cloth", diamond(0, 0, 2))]).numbered(2)
    told = told_apart([both, plain])
    assert "cloth" in told.shared
    assert [own.get("stitches") for own in told.own] == [("half",), None]


def test_sizes_and_pairs_stand_under_squares_that_differ_in_them() -> None:
    small, large = make(9, []).numbered(1), make(12, []).numbered(2)
    told = told_apart([small, large])
    assert told.shared == ("pitch 5 mm", "worked round", "full symmetry")
    assert told.own == ({"pairs": ("11 pairs",), "size": ("45 mm",)}, {"pairs": ("14 pairs",), "size": ("60 mm",)})


def test_what_few_squares_lack_is_told_at_the_head_with_their_numbers() -> None:
    told = told_apart(squares("cloth", "half", *["cloth"] * 4))
    assert "cloth but in 2" in told.shared
    assert [own.get("stitches") for own in told.own] == [None, ("half",), None, None, None, None]
    # One of five is no exception.
    assert not any("but in" in words for words in told_apart(squares("cloth", "half", *["cloth"] * 3)).shared)


def test_one_square_shares_all_with_itself() -> None:
    told = told_apart(squares("cloth"))
    assert told.own == ({},)
    assert told.at_head[0] == "11 pairs"
    assert told_apart([]).shared == ()


def test_a_fact_is_listed_by_its_words_in_the_order_of_their_numbers() -> None:
    every = [
        replace(design, splits=splits) for design, splits in zip(squares(*["cloth"] * 5), (12, 2, 0, 2, 1), strict=True)
    ]
    assert told_apart(every).listed("splits") == ["1 split in 5", "2 splits in 2, 4", "12 splits in 1"]


def test_runs_of_three_and_more_numbers_are_told_by_their_ends() -> None:
    assert numbers_told([1, 2, 4, 5, 6, 9]) == "1, 2, 4\N{EN DASH}6, 9"
    assert numbers_told([7]) == "7"
    assert numbers_told([]) == ""


def test_how_the_print_lies_and_that_it_is_left_open_is_told_where_it_differs() -> None:
    def carrying(turn: float, reverse: bool) -> Design:
        rings = outlines(DRAWN.placed(4, turn, (-10.0, 0.0)))
        return replace(make(14, [], symmetry="none"), prints=(Print("flag", 4, turn, rings, 0.9, reverse),))

    told = told_apart([carrying(0, False).numbered(1), carrying(90, True).numbered(2)], [Stamp("flag", DRAWN.shape)])
    surely = "how surely the print is known"
    held = [{name: words for name, words in own.items() if name != surely} for own in told.own]
    assert held[0] == {"how the print lies": ("upright",)}
    assert held[1] == {"how the print lies": ("on its side",), "left open": ("left open",)}
