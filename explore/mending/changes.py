"""Small changes of a brief that may mend it, the smallest first. Which of them do is found out by running them."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from constraints.brief import Brief
from constraints.corners import looser
from constraints.forms import FORMS
from constraints.piece import ROUND
from constraints.symmetry import SUITS, matrices
from explore.asking import KEYS
from explore.asking.kinds import written
from explore.mending.measures import enough_pairs, measures, ratio, with_pairs
from explore.mending.trying import MendOffer

# What a change amounts to. A measure counts by its logarithm, so that twice as many pairs are as much as half of them.
_SLIP, _CHANCE, _MEASURE, _LIMIT, _TIME, _PRINT, _WAY = 0.1, 0.5, 0.8, 1.0, 2.0, 0.5, 3.0
# The widths up to which a plain number, read as millimetres, may have been meant in centimetres.
_SLIP_MM = 60.0
_WIDEST = 16


@dataclass(frozen=True)
class BriefChange:
    """A brief with one thing changed, and with what that takes. size: how great a change it is, for the order. meant:
    the width as she may have meant it, where it is that. near: the search itself came near to it, so that another of
    its key in vain says nothing of it."""

    brief: Brief
    size: float
    meant: str = ""
    near: bool = False


def changes(brief: Brief, near: Sequence[Brief], proven: bool, width: str = "") -> list[BriefChange]:
    """Changes that may mend a brief, the smallest first.

    near: what the search itself came near to. proven: the brief cannot be had, so that chance and time do not help.
    width: the option as she wrote it, if she did.
    """
    found = [BriefChange(each, _nearness(brief, each), near=True) for each in near]
    found += _slips(brief, width)
    if not proven:
        found += _chances(brief)
    for some in (_limits, _prints, _ways):
        found += some(brief)
    found += [BriefChange(each, _MEASURE + size) for each, size in measures(brief)]
    return sorted((each for each in found if given(brief, each)), key=lambda each: each.size)


def offers(brief: Brief, near: Sequence[Brief], proven: bool, width: str = "") -> list[MendOffer]:
    """The same as options of a command."""
    every = changes(brief, near, proven, width)
    return [MendOffer(given(brief, each), each.size, each.meant, each.near) for each in every]


def given(brief: Brief, change: BriefChange) -> dict[str, str]:
    """The options that change a brief, texts by the name of the key."""
    changed = change.brief
    options = {
        key.name: written(key.kind, key.value_in(changed))
        for key in KEYS
        if key.value_in(brief) != key.value_in(changed)
    }
    if change.meant:
        options["width"] = change.meant
    return options


def _nearness(brief: Brief, near: Brief) -> float:
    """How far the search fell short of what was asked."""
    short = abs(brief.rules.match - near.rules.match) + abs(brief.rules.solid[0] - near.rules.solid[0])
    return _LIMIT * min(1.0, 0.5 + short + 0.1 * (brief.stamp.copies - near.stamp.copies))


def _slips(brief: Brief, width: str) -> Iterator[BriefChange]:
    """A width without a unit that was meant in centimetres, with the pairs it takes."""
    if brief.piece.width_mm is not None and brief.piece.width_mm <= _SLIP_MM and re.fullmatch(r"\s*[\d.]+\s*", width):
        height = None if brief.piece.height_mm is None else 10 * brief.piece.height_mm
        meant = brief.changed(width_mm=10 * brief.piece.width_mm, height_mm=height)
        yield BriefChange(enough_pairs(meant), _SLIP, f"{width.strip()}cm")


def _chances(brief: Brief) -> Iterator[BriefChange]:
    """Other draws, and more time."""
    for more in (1, 2):
        yield BriefChange(brief.changed(seed=brief.run.seed + more), _CHANCE * more)
    if brief.run.effort < 1:
        yield BriefChange(brief.changed(effort=1.0), _TIME / 2)
    yield BriefChange(brief.changed(effort=4 * brief.run.effort), _TIME)


def _limits(brief: Brief) -> Iterator[BriefChange]:
    """Limits of blocks and ground loosened."""
    for key in ("narrowest", "narrowest_ground", "margin"):
        own = brief.value(key)
        # A little less, half of it, and what is usual.
        for size, value in enumerate(dict.fromkeys((own - 1, own - 2, own // 2, 2)), 1):
            if 1 <= value < own:
                yield BriefChange(brief.changed(**{key: value}), _LIMIT * 1.5 ** (size - 1))
    for splits in (8, 16, 32):
        if splits > brief.rules.splits:
            yield BriefChange(brief.changed(splits=splits), _LIMIT * (1 + splits / 32))
    if brief.rules.widest < _WIDEST:
        yield BriefChange(brief.changed(widest=_WIDEST), 2 * _LIMIT)
    least, most = brief.rules.solid
    for share in (0.5, 0.25):
        # None at all would leave squares without a block.
        yield BriefChange(brief.changed(solid=(round(least * share, 3), most)), _LIMIT * (2 - share))
    for more in (0.1, 0.3):
        yield BriefChange(brief.changed(solid=(least, min(1.0, round(most + more, 2)))), _LIMIT * (1 + 2 * more))
    for name in brief.rules.least:
        yield BriefChange(brief.changed(least=without(brief.rules.least, name)), 2 * _LIMIT)
    if brief.piece.worked == ROUND:
        for number, corners in enumerate(looser(brief.rules.corners)):
            yield BriefChange(brief.changed(corners=corners), _LIMIT * (0.65 + 0.3 * number))


def without(least: Mapping[str, int], name: str) -> dict[str, int]:
    """Least numbers without that of one stitch."""
    return {each: number for each, number in least.items() if each != name}


def _prints(brief: Brief) -> Iterator[BriefChange]:
    """Fewer prints, and other sizes and turns of them."""
    if not brief.stamp.name:
        return
    for copies in range(brief.stamp.copies - 1, 0, -1):
        yield BriefChange(brief.changed(copies=copies), _LIMIT + _PRINT * (brief.stamp.copies - 1 - copies))
    if brief.stamp.size is not None:
        least, most = brief.stamp.size
        for size in (*range(max(1, int(least) - 12), math.ceil(least)), *range(int(most) + 1, int(most) + 13)):
            size_ratio = ratio(least if size < least else most, size)
            yield BriefChange(brief.changed(stamp_size=(float(size), float(size))), _LIMIT + _PRINT * size_ratio)
    if brief.stamp.turns:
        yield BriefChange(brief.changed(turns=(0.0, 45.0, 90.0, 135.0, 180.0, 225.0, 270.0, 315.0)), 2 * _LIMIT)


def _part_of(name: str, other: str) -> bool:
    """Whether a symmetry asks for less than another, and nothing else."""
    some, every = ({each.tobytes() for each in matrices(symmetry)} for symmetry in (name, other))
    return some < every


def _ways(brief: Brief) -> Iterator[BriefChange]:
    """Symmetries that repeat less, the other way of working, simpler edges."""
    form = FORMS[brief.piece.form]
    named = [] if brief.piece.symmetry == SUITS else brief.piece.symmetry.split(",")
    for name in form.symmetries:
        fewer = [math.log2(len(matrices(each)) / len(matrices(name))) for each in named if _part_of(name, each)]
        if fewer and name not in named:
            yield BriefChange(brief.changed(symmetry=name), _WAY * min(fewer))
    for other in form.ways:
        if other != brief.piece.worked:
            yield BriefChange(*with_pairs(brief.changed(worked=other), 2.5 * _WAY))
    headside = brief.piece.headside
    if headside is not None:
        for depth in headside.depths:
            changed = brief.changed(headside=replace(headside, depth=depth))
            yield BriefChange(changed, 0.7 * _WAY * abs(depth - headside.depth))
        yield BriefChange(brief.changed(headside=None), 2 * _WAY)
