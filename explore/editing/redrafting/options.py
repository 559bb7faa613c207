"""What one group of unpinned places may be: blocks with exactly the dots around as their border, or a figure.

A place without a pin lies inside a block, all its four neighbours with it; a dot inside a block would not be
there. So the neighbours of unpinned places are in the block, and what is left to choose are its tips: the places
that share only a hole with an unpinned one. What reaches further is nowhere more than two pinholes wide; that
leaves no trace in the pinholes and is not proposed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from constraints.fillings import GATHERED
from constraints.lattice import Point
from explore.editing.redrafting.bed import Bed, joined

# With more tips than this, tips on the same side of their blocks are read alike.
MOST_TIPS = 10
_SIDES = ((0, -2), (0, 2), (-2, 0), (2, 0))


@dataclass(frozen=True)
class Option:
    """One way to read a group. blocks: its places. figure: its centre and its name in place of a block. pinless: a
    figure whose pin has no dot. splits: merges counted too. corners: turns of the outlines."""

    blocks: tuple[frozenset[Point], ...]
    figure: tuple[Point, str] | None
    pinless: bool
    splits: int
    corners: int


def core(bed: Bed, group: frozenset[Point]) -> frozenset[Point]:
    """The unpinned places of a group and their neighbours: they are in its block for certain."""
    return group.union(*(bed.steps(place) for place in group))


def fits(bed: Bed, block: frozenset[Point], group: frozenset[Point]) -> bool:
    """Whether a block keeps to its bed and has exactly the group without pins."""
    inside = {place for place in block if all(step in block for step in bed.steps(place))}
    return block <= bed.places and not block & bed.barred and inside == group


def options(bed: Bed, group: frozenset[Point]) -> list[Option]:
    """All ways to read a group, those with the fewest splits and merges; empty if no block can hold it."""
    certain = core(bed, group)
    found = []
    for tips in _tip_choices(bed, group, certain):
        block = certain | tips
        if fits(bed, block, group) and _two_wide(bed, block):
            splits, corners = _outline(bed, block)
            found.append(Option(tuple(joined(block, bed)), None, False, splits, corners))
    fewest = min((each.splits for each in found), default=0)
    return [each for each in found if each.splits == fewest] + list(_figures(bed, group))


def _tip_choices(bed: Bed, group: frozenset[Point], certain: frozenset[Point]) -> Iterator[frozenset[Point]]:
    tips: dict[Point, set[int]] = {}
    for x, y in sorted(group):
        for side, (dx, dy) in enumerate(_SIDES):
            tip = bed.fold(x + dx, y + dy)
            if tip not in certain and tip in bed.pinned and tip not in bed.barred:
                tips.setdefault(tip, set()).add(side)
    names = sorted(tips)
    if len(names) <= MOST_TIPS:
        for chosen in product((True, False), repeat=len(names)):
            yield frozenset(tip for tip, kept in zip(names, chosen, strict=True) if kept)
    else:
        for kept_sides in product((True, False), repeat=len(_SIDES)):
            sides = {side for side, kept in enumerate(kept_sides) if kept}
            yield frozenset(tip for tip in names if tips[tip] & sides)


def _two_wide(bed: Bed, block: frozenset[Point]) -> bool:
    """Whether every place lies in a hole whose four pinholes are in the block."""
    whole = {place for hole in bed.holes(block) if block.issuperset(corners := bed.hole(hole)) for place in corners}
    return whole == block


def _outline(bed: Bed, block: frozenset[Point]) -> tuple[int, int]:
    """How often the block splits or merges, worked down, and how many corners its outline has."""
    splits = corners = 0
    for hole in bed.holes(block):
        top, right, bottom, left = (place in block for place in bed.hole(hole))
        count = top + right + bottom + left
        splits += count == 3 and not (top and bottom)
        corners += count % 2 or 2 * (count == 2 and top == bottom)
    return splits, corners


def _figures(bed: Bed, group: frozenset[Point]) -> Iterator[Option]:
    """A figure whose pin is not pricked, where the group is a whole lattice square."""
    for unit in GATHERED:
        if len(group) == unit.size**2:
            for x, y in sorted(group):
                centre = bed.fold(x, y + unit.size - 1)
                if bed.lattice_square(centre, unit.size) == group and core(bed, group) - group <= bed.pinned:
                    yield Option((), (centre, unit.name), True, 0, 4)
                    break
