"""The room that a print has on the pieces of a brief: how large it can lie, and what gives it more."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import shapely
from shapely.affinity import translate

from constraints.brief import KNOWN, UNKNOWN, Brief
from constraints.design import Ring
from constraints.forms import FORMS
from constraints.stamp import Stamp, shape_of
from constraints.symmetry import SUITS, SYMMETRIES, matrices
from constraints.targets import images
from constraints.wording import shown
from explore.mending.changes import BriefChange, given
from explore.search.form_kind import FormKind
from explore.search.laying.placement import Placement
from explore.search.sizing import SIZING
from explore.search.squares.suited import placings_of
from explore.search.squares.suiting import room
from explore.search.workshops import WORKSHOPS
from explore.studio.shapes import outline, shown_of
from explore.studio.wishes import mend, told

# A print turned by as much more needs as much room.
_TURNS = (0.0, 90.0)
# So much of an outline may be smoothed away where it is shown small, units.
_SMOOTH = 0.1


@dataclass(frozen=True)
class Room:
    """The largest size at which a print lies, pitches, in all and under each symmetry, 0 where it has no place; of
    forms other than squares no symmetries. laid: for those the `outline` of the piece, `prints`, path data of them as
    they could lie so, and its size in `words`."""

    size: float
    by_symmetry: Mapping[str, float]
    laid: Mapping[str, Any] | None = None


def room_for(stamp: Stamp, brief: Brief, wanted: float = 0.0) -> Room:
    """How large a print can lie on the pieces of a brief. wanted: where a search takes a wider band or a greater height
    only if it must, the size, pitches, that is enough."""
    if not FORMS[brief.piece.form].one_side:
        best = roomiest(stamp, brief, wanted)
        return Room(0.0, {}) if best is None else Room(best[1].size, {}, laid_on(best[0], [best[1].rings]))
    placings = placings_of(brief.changed(symmetry=SUITS), stamp)
    by = {
        name: max(room([each for each in placings if each.brief.piece.symmetry == name]).values(), default=0.0)
        for name in SYMMETRIES
    }
    return Room(max((by[name] for name in brief.piece.symmetries), default=0.0), by)


def rooms_by_symmetry(stamp: Stamp, brief: Brief) -> dict[str, float]:
    """The largest size under each symmetry that pieces of another form may have, pitches; 0 where it has no place."""
    found = dict.fromkeys(FORMS[brief.piece.form].symmetries, 0.0)
    for kind in _kinds(brief.changed(symmetry=SUITS)):
        found[kind.symmetry] = max([found[kind.symmetry], *(each.size for each in kind.placements(stamp))])
    return found


def _kinds(brief: Brief) -> list[FormKind[Any]]:
    return WORKSHOPS[brief.piece.form].kinds(brief if brief.stamp.turns else brief.changed(turns=_TURNS))


def roomiest(stamp: Stamp, brief: Brief, wanted: float) -> tuple[FormKind[Any], Placement] | None:
    """The kind of the first stage that gives room enough, with the largest print on it; upright if that is as good."""
    every = _kinds(brief)
    free = freest(every)
    best: tuple[FormKind[Any], Placement] | None = None
    for kind in every:
        if kind.symmetry not in free:
            continue
        if best is not None and best[0].stage != kind.stage and best[1].size >= wanted:
            break
        largest = max(kind.placements(stamp), key=_worth, default=None)
        if largest is not None and (best is None or _worth(largest) > _worth(best[1])):
            best = kind, largest
    return best


def freest(every: Sequence[FormKind[Any]]) -> set[str]:
    """The symmetries of kinds that take least room: none gives any."""
    fewest = min((len(matrices(each.symmetry)) for each in every), default=0)
    return {each.symmetry for each in every if len(matrices(each.symmetry)) == fewest}


def _worth(placement: Placement) -> tuple[float, bool, int]:
    return placement.size, not placement.turn, len(placement.rings)


def laid_on(kind: FormKind[Any], prints: Sequence[tuple[Ring, ...]]) -> dict[str, Any]:
    """The outline of the piece and its prints, as the page draws them. prints: outlines of each, lattice units."""
    piece, form = kind.context.piece, shown_of(kind.form)
    every = [
        moved
        for rings in prints
        for moved in images(shape_of(rings).simplify(_SMOOTH), piece.symmetry, piece.setting)[: len(piece.images)]
    ]
    if strip := form.repeating:
        # Those of the repeats beside are cut off where the drawing ends.
        every = [translate(each, 0, strip.rows * number) for number in range(-1, strip.repeats + 1) for each in every]
    rings = [ring for part in shapely.get_parts(every) for ring in (part.exterior, *part.interiors)]
    paths = ["M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in shapely.get_coordinates(ring)[:-1]) + "Z" for ring in rings]
    laid = {"outline": outline(kind.form), "prints": "".join(paths)}
    # A wider band or a greater height is told; of a strip its repeat is still open.
    return laid if strip else {**laid, "words": told(kind.brief, [kind.form], kind.pitch_mm)}


def wider_for(stamp: Stamp, brief: Brief, wanted: float) -> dict[str, str]:
    """`wider`, so that a print lies so large, pitches."""
    return wider(brief, lambda each: _lies(stamp, each, wanted))


def wider(brief: Brief, lies: Callable[[Brief], bool]) -> dict[str, str]:
    """The change of a brief, as options, that is the smallest along the first of its measures with which what is laid
    lies in it; empty if with none of those that are tried. More of a measure gives no less room."""
    sizing = SIZING[brief.piece.form]
    for some in sizing.wider(brief):
        every = [each for each in some if not sizing.conflict(each)]
        found = bisect_left(every, True, key=lies)
        if found < len(every):
            return given(brief, BriefChange(every[found], 0.0))
    return {}


def _lies(stamp: Stamp, brief: Brief, wanted: float) -> bool:
    if FORMS[brief.piece.form].one_side:
        return max(room(placings_of(brief, stamp)).values(), default=0.0) >= wanted
    every = _kinds(brief.changed(stamp_size=(wanted, wanted)))
    free = freest(every)
    return any(kind.placements(stamp) for kind in every if kind.symmetry in free)


def in_it(name: str, found: Room, begins: float | None, verdict: str, known: str) -> dict[str, Any]:
    """What is said of the print in such a piece. begins: the size from which it is known, None while that is not
    found out, 0 if at none; verdict: how surely at the largest size, in words; known: what the brief asks for."""
    if not found.size:
        return {"why": f"Your {name} has no place in it.", "size": 0}
    size = f"Your {name}: up to {shown(found.size)} pitches"
    if begins is None:
        return {"words": f"{size}.", "size": found.size}
    if (begins and found.size >= begins) or known == UNKNOWN:
        return {"words": f"{size}, {verdict}.", "size": found.size}
    why = f"it begins to be known at {shown(begins)}" if begins else "it is known at no size that was tried"
    return {"why": f"{size}, {verdict}: {why}.", "size": found.size}


def mends_of_room(changed: Mapping[str, str], known: str) -> list[dict[str, Any]]:
    """What mends a print that has no room to be known. changed: options that give enough, empty if there are none;
    known: what the brief asks for."""
    mends = [mend(changed)] if changed else []
    return mends + ([] if known != KNOWN else [{"words": "take it all the same", "flags": {"known": UNKNOWN}}])
