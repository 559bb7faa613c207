"""The room of several prints on one piece, or of one at a spot of its own: how large they lie clear of each other."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from constraints.brief import Brief
from constraints.stamp import Stamp
from constraints.wording import shown
from explore.search.form_kind import FormKind
from explore.search.laying.together import Group
from explore.search.several import SeveralWorkshop
from explore.search.workshops import WORKSHOPS
from explore.studio.rooms import freest, laid_on, wider


@dataclass(frozen=True)
class RoomTogether:
    """sizes: of each print, pitches, in its order; empty if they find no place. laid: see `rooms.Room`. nowhere: what
    is said of that."""

    sizes: tuple[float, ...]
    laid: Mapping[str, Any] | None
    nowhere: str


def room_together(stamps: tuple[Stamp, ...], brief: Brief, least: Sequence[float]) -> RoomTogether:
    """How large prints lie side by side on the pieces of a brief. least: of each the size that is enough, pitches."""
    searched = _workshop(stamps, brief)
    best = _best(searched, least)
    if best is None:
        return RoomTogether((), None, searched.nowhere)
    kind, group = best
    laid = laid_on(kind, [each.rings for each in group])
    return RoomTogether(tuple(each.size for each in group), laid, "")


def _workshop(stamps: tuple[Stamp, ...], brief: Brief) -> SeveralWorkshop:
    return SeveralWorkshop(brief, stamps, WORKSHOPS[brief.piece.form].kinds)


def _best(searched: SeveralWorkshop, least: Sequence[float]) -> tuple[FormKind[Any], Group] | None:
    """The roomiest group on the kinds of the first stage that has one."""
    kinds = searched.kinds[0]
    found: list[tuple[float, int, Group]] = []
    for number, kind in enumerate(kinds):
        if found and kinds[found[0][1]].stage != kind.stage:
            break
        if kind.symmetry in freest(kinds):
            found += [(room, number, group) for room, group in searched.groups(number, least)]
    if not found:
        return None
    _, number, group = max(found, key=lambda each: each[0])
    return kinds[number], group


def wider_together(stamps: tuple[Stamp, ...], brief: Brief, least: Sequence[float]) -> dict[str, str]:
    """`wider`, so that prints so large find a place."""
    return wider(brief, lambda each: _best(_workshop(stamps, each), least) is not None)


def told_together(names: Sequence[str], found: RoomTogether, verdicts: Sequence[str]) -> dict[str, Any]:
    """What is said of prints side by side. verdicts: of each how surely it is known at its size, in words."""
    if not found.sizes:
        return {"why": f"{found.nowhere[:1].upper()}{found.nowhere[1:]}.", "size": 0}
    each = [
        f"{name} up to {shown(size)} pitches{verdict and ', '}{verdict}"
        for name, size, verdict in zip(names, found.sizes, verdicts, strict=True)
    ]
    return {"words": f"Side by side: {'; '.join(each)}.", "size": min(found.sizes)}
