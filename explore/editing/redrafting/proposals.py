"""All that a strip with these pinholes may be: every headside they allow with every reading of its blocks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple, TypeVar

from constraints.check import check
from constraints.design import Design
from constraints.edgings import FOOTSIDE, Headside
from constraints.lattice import Point
from explore.bad_input import BadInput
from explore.editing.redrafting.bed import Bed
from explore.editing.redrafting.blank import StripWorking
from explore.editing.redrafting.headsides import possible
from explore.editing.redrafting.readings import BlockReading, Readings, read_blocks
from explore.editing.redrafting.repeat import Repeat
from explore.editing.redrafting.strips import strip_bed, strip_of

T = TypeVar("T")

# So many are shown; judging more takes time that she need not wait for.
SHOWN = 12


class NoReading(BadInput):
    """A card that is no strip, as far as it can be read."""


@dataclass(frozen=True)
class Proposal:
    """One reading that the check accepts. number: 1 is the likeliest. repeat: counted from the valley of its headside,
    where a strip is best begun and ended."""

    number: int
    repeat: Repeat
    reading: BlockReading
    headside: Headside | None
    design: Design


@dataclass(frozen=True)
class Proposals:
    """found: up to as many as were asked for. total: all there are; if more than those, not all of them judged by the
    check. assumed: places without a dot that no block can hold, read as pinholes. loose: pins in the middle of holes
    that belong to nothing."""

    found: tuple[Proposal, ...]
    total: int
    assumed: tuple[Point, ...]
    loose: tuple[Point, ...]


class ReadEdge(NamedTuple):
    """A right edge and all readings beside it. repeat: counted from the valley of its headside."""

    repeat: Repeat
    headside: Headside | None
    bed: Bed
    readings: Readings


def propose(repeat: Repeat, working: StripWorking, most: int = SHOWN) -> Proposals:
    """The readings of a repeat as strips, likeliest first. NoReading if its right edge is that of no strip."""
    kept = read_edges(repeat, working)
    found: list[Proposal] = []
    for own, headside, reading in _in_order(kept):
        if len(found) == most:
            break
        design = strip_of(reading, own, headside, working)
        if not check(design):
            found.append(Proposal(len(found) + 1, own, reading, headside, design))
    if not found:
        raise NoReading("shows pinholes that no strip of this program has")
    first = kept[0].readings
    all_judged = len(found) < most
    total = len(found) if all_judged else sum(each.readings.total for each in kept)
    return Proposals(tuple(found), total, first.assumed, first.loose)


def read_edges(repeat: Repeat, working: StripWorking) -> list[ReadEdge]:
    """Every right edge with what is read beside it, likeliest first: those that leave the fewest places to be assumed.
    NoReading if it is that of no strip."""
    beds = [(*each, strip_bed(*each)) for each in _edges(repeat, working)]
    every = [ReadEdge(*each, read_blocks(each[2])) for each in beds]
    least = min(len(each.readings.assumed) for each in every)
    return [each for each in every if len(each.readings.assumed) == least]


def _edges(repeat: Repeat, working: StripWorking) -> list[tuple[Repeat, Headside | None]]:
    """Every right edge that is allowed and asked for, with the repeat counted from its valley."""
    allowed = possible(repeat, at_valley=working.at_valley)
    if working.kind is not None:
        allowed = [each for each in allowed if (FOOTSIDE if each is None else each.kind) == working.kind]
    if not allowed:
        asked = f", {working.kind} being asked for" if working.kind else ""
        raise NoReading(f"has no straight right edge, nor the valleys of a fan or scallop of depth 2 to 6{asked}")
    plain = allowed[0] is None and not repeat.headside and working.kind is None
    if plain and not read_blocks(strip_bed(repeat, None)).assumed:
        # A straight edge explains everything; a fan that leaves no trace is not proposed. Ground scallops may have been
        # written down on the grid: they leave their figures.
        allowed = [each for each in allowed if each is None or not each.solid]
    edges: list[tuple[Repeat, Headside | None]] = []
    for each in allowed:
        if each is None:
            edges.append((repeat, None))
        else:
            first = each.first % 2
            edges.append((repeat.from_row(each.first - first), replace(each, first=first)))
    return edges


def _in_order(kept: list[ReadEdge]) -> Iterator[tuple[Repeat, Headside | None, BlockReading]]:
    for each in kept:
        for reading in each.readings.listed:
            yield each.repeat, each.headside, reading


def chosen(found: Sequence[T], number: int) -> T:
    """The reading of that number. Refused if there is none."""
    if number > len(found):
        raise BadInput(f"reading {number}: the readings are 1 to {len(found)}", of="reading")
    return found[number - 1]
