"""Readings of a pricking: which blocks and figures its pinholes allow, likeliest first.

Likeliest is what is told in the fewest words: no splits, no figure without its pin, then the fewest corners of
blocks (blocks alike are told once), the fewest blocks, the most places.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations, product

from constraints.fillings import GATHERED, UNITS
from constraints.lattice import Point
from explore.editing.redrafting.bed import Bed
from explore.editing.redrafting.grid import by_row, grouped
from explore.editing.redrafting.options import Option, options

# Up to so many readings all are listed; beyond, blocks alike are read alike.
ALL_LISTED, MOST_LISTED = 500, 5000
# Of a group that no block can hold, so many dots may be lost; and in how many ways that is tried.
MOST_LOST, MOST_TRIED = 2, 300
# Unpinned places nearer than this may touch the same hole through their blocks.
_TOUCH = 3
# A kind of group and the number of an option, and that option of one group.
_Named = tuple[tuple[int, int], Option]


@dataclass(frozen=True)
class BlockReading:
    """blocks: their places. figures: centre and name. pinless: figures whose pin has no dot. corners: as measured."""

    blocks: tuple[frozenset[Point], ...]
    figures: tuple[tuple[Point, str], ...]
    pinless: int
    splits: int
    corners: int


@dataclass(frozen=True)
class Readings:
    """listed: likeliest first. total: how many there are in all. assumed: places without a dot that no block can
    hold, read as pinholes. loose: pins in the middle of holes that are no figure's."""

    listed: tuple[BlockReading, ...]
    total: int
    assumed: tuple[Point, ...]
    loose: tuple[Point, ...]


def read_blocks(bed: Bed) -> Readings:
    """All readings of a bed. There is always one: without unpinned places it has no blocks."""
    figures, empty = _figures(bed)
    loose = tuple(sorted(set(bed.centres) - {centre for centre, _ in figures}))
    bed, groups, assumed = _groups(bed, empty, figures)
    found = [options(bed, group) for group in groups]
    total = math.prod(len(each) for each in found)
    alike = _alike(bed, groups, found)
    readings = sorted((_reading(choice, figures) for choice in _choices(alike, total)), key=lambda pair: pair[0])
    listed = tuple(reading for _, reading in readings)
    return Readings(listed, total, by_row(assumed), loose)


def _figures(bed: Bed) -> tuple[tuple[tuple[Point, str], ...], frozenset[Point]]:
    """The figures whose pins have dots, the largest that each can be, and the unpinned places left over."""
    empty = bed.places - bed.pinned  # a figure may stand beside a headside, where no block does
    figures = []
    for unit in reversed(GATHERED):
        centres = bed.centres if unit.pin_in_hole else frozenset(bed.pinned)
        for centre in by_row(centres):
            square = bed.lattice_square(centre, unit.size)
            ring = frozenset(step for place in square for step in bed.steps(place)) - square
            if len(square) == unit.size**2 and square - {centre} <= empty and ring <= bed.pinned:
                figures.append((centre, unit.name))
                empty -= square
    return tuple(sorted(figures, key=lambda figure: (figure[0][1], figure[0][0]))), empty - bed.barred


def _groups(
    bed: Bed, empty: frozenset[Point], figures: tuple[tuple[Point, str], ...]
) -> tuple[Bed, list[frozenset[Point]], set[Point]]:
    """Groups of unpinned places that can be read apart from each other; the bed with what is assumed pinned."""
    bodies = (bed.lattice_square(centre, UNITS[name].size) for centre, name in figures)
    taken: frozenset[Point] = frozenset().union(*bodies)
    assumed = set(bed.barred - bed.pinned - taken)
    while True:
        sound = replace(bed, pinned=bed.pinned | assumed, barred=bed.barred | taken)
        open_ = empty - assumed
        bad = {
            place for place in open_ if not all(s in sound.places and s not in sound.barred for s in sound.steps(place))
        }
        groups = grouped(open_ - bad, _nearby(sound))
        bad |= {place for group in groups if not options(sound, group) for place in _lost(sound, group)}
        if not bad:
            return sound, groups, assumed
        assumed |= bad


def _lost(bed: Bed, group: frozenset[Point]) -> frozenset[Point]:
    """The fewest places of a group that no block can hold whose dots, if they are lost, leave it blocks; else all."""
    for count in range(1, MOST_LOST + 1):
        for lost in combinations(sorted(group), count) if math.comb(len(group), count) <= MOST_TRIED else ():
            pinned = replace(bed, pinned=bed.pinned | set(lost))
            if all(options(pinned, part) for part in grouped(group - set(lost), _nearby(pinned))):
                return frozenset(lost)
    return group


def _nearby(bed: Bed) -> Callable[[Point], Iterator[Point]]:
    return lambda place: bed.near(place, _TOUCH)


def _alike(bed: Bed, groups: list[frozenset[Point]], found: list[list[Option]]) -> list[list[_Named]]:
    """For every group its options, each with a name; options of groups that are the same but for their place are
    named the same and stand in the same order. Groups of one shape may have unlike options beside an edge."""
    classes: dict[tuple[object, ...], int] = {}
    named = []
    for group, each in zip(groups, found, strict=True):
        anchor = min(sorted(group), key=lambda place: _shape(bed, group, place))
        order = sorted(each, key=lambda option: _rank(bed, option, anchor))
        same = (_shape(bed, group, anchor), *(_rank(bed, option, anchor) for option in order))
        kind = classes.setdefault(same, len(classes))
        named.append([((kind, number), option) for number, option in enumerate(order)])
    return named


def _shape(bed: Bed, places: frozenset[Point], anchor: Point) -> tuple[Point, ...]:
    x, y = anchor
    return tuple(sorted(bed.fold(px - x, py - y) for px, py in places))


def _rank(bed: Bed, option: Option, anchor: Point) -> tuple[object, ...]:
    places: frozenset[Point] = frozenset().union(*option.blocks)
    return option.pinless, option.corners, len(option.blocks), -len(places), _shape(bed, places, anchor)


def _choices(named: list[list[_Named]], total: int) -> Iterator[list[_Named]]:
    """Every choice of an option for every group, or if those are too many, for every kind of group."""
    if total <= ALL_LISTED:
        for choice in product(*named):
            yield list(choice)
        return
    counts = {name[0]: len(each) for each in named for name, _ in each[:1]}
    while math.prod(counts.values()) > MOST_LISTED:
        largest = max(counts, key=lambda kind: counts[kind])
        counts[largest] -= 1
    for numbers in product(*(range(count) for count in counts.values())):
        wanted = dict(zip(counts, numbers, strict=True))
        yield [each[wanted[each[0][0][0]]] for each in named]


def _reading(choice: list[_Named], figures: tuple[tuple[Point, str], ...]) -> tuple[tuple[object, ...], BlockReading]:
    """A reading and how likely it is: less is likelier."""
    chosen = [option for _, option in choice]
    told = dict(choice)
    blocks = tuple(block for option in chosen for block in option.blocks)
    more = tuple(option.figure for option in chosen if option.figure)
    pinless = sum(option.pinless for option in chosen)
    splits = sum(option.splits for option in chosen)
    corners = sum(option.corners for option in told.values())
    places = sum(len(block) for block in blocks)
    every = tuple(sorted((*figures, *more), key=lambda figure: (figure[0][1], figure[0][0])))
    order = sorted(tuple(sorted(block)) for block in blocks)
    reading = BlockReading(blocks, every, pinless, splits, corners)
    return (splits, pinless, corners, len(blocks), -places, order), reading
