"""Squares that are kept differ in enough pinholes, however they are turned; told from the files alone."""

from __future__ import annotations

from dataclasses import replace

from fakes import plain_square
from hypothesis import given, settings
from hypothesis import strategies as st
from telling import difference, least_difference

from constraints import difference as measure
from constraints import forms
from constraints.design import Block, Design, FieldFilling
from explore.search.diversity import Collection

# Half-size 4: 40 pinholes, so that 10 % are four of them.
Places = set[tuple[int, int]]
PLACES = sorted(((x, y) for x in range(-3, 4) for y in range(-3, 4) if (x + y) % 2), key=lambda p: (p[1], p[0]))


def with_blocks(*places: tuple[int, int], stitch: str = "cloth") -> Design:
    return replace(plain_square(1), blocks=tuple(Block(stitch, (place,)) for place in places))


def taken(apart: float, *designs: Design) -> list[bool]:
    collection = Collection(apart, designs[:1])
    return [collection.takes(design) for design in designs[1:]]


def test_just_the_least_difference_is_enough_and_one_pinhole_fewer_is_not() -> None:
    for count, enough in ((3, False), (4, True)):
        assert taken(0.10, plain_square(1), with_blocks(*PLACES[:count])) == [enough]


def test_a_square_turned_or_mirrored_is_no_other_square() -> None:
    places = PLACES[:7]
    for flip in (1, -1):
        moved = {(flip * x, y) for x, y in places}
        for _ in range(4):
            moved = {(-y, x) for x, y in moved}
            assert taken(0.01, with_blocks(*places), with_blocks(*sorted(moved))) == [False]


def test_stitches_and_legs_make_no_difference_but_kinds_of_figures_and_double_ground_do() -> None:
    cloth, half = with_blocks(*PLACES[:6]), with_blocks(*PLACES[:6], stitch="half")
    assert taken(0.01, cloth, half) == [False]
    rose, spider, large, double = (
        replace(plain_square(1), fillings=(FieldFilling(kind, places),))
        for kind, places in (
            ("rose", ((0, 0),)),
            ("spider-8", ((0, 0),)),
            ("spider-12", ((0, 1),)),
            ("double-ground", tuple(PLACES[:9])),
        )
    )
    assert taken(0.10, plain_square(1), double, rose, spider, large) == [True, True, True, True]
    assert taken(0.11, rose, spider) == [False]


@given(st.sets(st.sampled_from(PLACES)), st.sets(st.sampled_from(PLACES)))
def test_the_difference_is_the_one_told_from_the_files(first: Places, second: Places) -> None:
    one, other = with_blocks(*sorted(first)), with_blocks(*sorted(second))
    assert measure.difference(one, other) == measure.difference(other, one) == difference(one, other)


def test_of_two_sizes_the_middle_of_the_larger_is_compared() -> None:
    small, large = plain_square(1), replace(plain_square(1), form=forms.Square(5), pairs=7)
    assert difference(small, large) == 0.0
    assert taken(0.1, small, large) == [False]
    apart = replace(large, blocks=with_blocks(*PLACES[:4]).blocks)
    assert difference(small, apart) == measure.difference(small, apart) == 0.1
    assert taken(0.1, small, apart) == [True]


def test_pieces_that_cannot_lie_on_each_other_are_fully_different() -> None:
    design, rectangle = plain_square(1), replace(plain_square(1), form=forms.Rectangle(4, 6), worked="across")
    assert measure.difference(design, rectangle) == 1.0


def test_a_square_worked_across_is_not_turned_against_its_work() -> None:
    upright = replace(with_blocks(*((0, y) for y in (-3, -1, 1, 3))), worked="across")
    level = replace(with_blocks(*((x, 0) for x in (-3, -1, 1, 3))), worked="across")
    assert measure.difference(upright, level) == difference(upright, level) == 0.2
    assert measure.difference(replace(upright, worked="round"), replace(level, worked="round")) == 0.0


@given(
    st.lists(st.sets(st.sampled_from(PLACES)), min_size=2, max_size=6),
    st.sampled_from((0.05, 0.1, 0.2, 0.25)),
)
@settings(max_examples=60, deadline=None)
def test_a_collection_takes_exactly_what_is_apart_from_all_it_holds(
    layouts: list[set[tuple[int, int]]], apart: float
) -> None:
    collection = Collection(apart)
    held: list[Design] = []
    for design in (with_blocks(*sorted(layout)) for layout in layouts):
        far = all(difference(design, other) >= apart for other in held)
        assert collection.takes(design) == far
        held += [design] if far else []
    assert least_difference(held) >= apart
