"""Small steps from a chosen design: one motif more or less, a block wider or narrower, a field filled otherwise.

Every step keeps all blocks but the one it names (and that one's images), and all figures that this leaves room for;
those that must go or come besides are told with it. Steps are listed in a fixed order; nothing is left to chance.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from constraints.design import Design
from constraints.lattice import BoolArray, IntArray
from constraints.piece import Piece
from explore.editing.varying.besides import besides, called, spread
from explore.editing.varying.families import parts, with_images
from explore.editing.varying.naming import blocks_within, middle, noun, part_at, whereabouts, width
from explore.editing.varying.refill import Refiller, fresh_values
from explore.editing.varying.reshaping import narrower, wider
from explore.editing.varying.setting import VaryingContext
from explore.search.compose import parts as shapes
from explore.search.compose.canvas import Canvas
from explore.search.compose.liking import Liking, draw_liking

# Diamonds that are added have at most so many pinholes a side.
_LARGEST = 5
_NO_ROOM = "no room"
# A field of such a share of all holes is the ground of the square.
_GROUND = 0.3


@dataclass(frozen=True)
class SmallStep:
    """One step. words: what changed. design: None if it cannot stay valid, `reason` then says which rule is broken."""

    words: str
    design: Design | None
    reason: str = ""


@dataclass(frozen=True, eq=False)
class _Change:
    """words: what changes. stitch: (n,) the blocks then, None if there is no room for it. kind: what the field
    `inside`, (m,), is filled with."""

    words: str
    stitch: IntArray | None
    inside: BoolArray | None = None
    kind: str = ""


def steps(setting: VaryingContext) -> Iterator[SmallStep]:
    """Every step of the design: those that stay valid with their square, unnumbered, the others without."""
    seen: list[BoolArray] = [setting.values]
    for options in (*_removals(setting), *_additions(setting), *_widths(setting), *_refillings(setting)):
        step = _first_valid(setting, options, seen)
        if step is not None:
            yield step


def _first_valid(setting: VaryingContext, options: list[_Change], seen: list[BoolArray]) -> SmallStep | None:
    """The first of several ways to the same step that keeps every rule; None if it leads nowhere new."""
    reason = ""
    # As little as can be changes: all figures stay where they are, if that keeps the rules.
    for change, stay in ((change, stay) for change in options for stay in (True, False)):
        if change.stitch is None:
            return SmallStep(change.words, None, _NO_ROOM)
        values = _filled(setting, change, change.stitch, stay)
        if any((values == other).all() for other in seen):
            continue
        broken = setting.context.model.formula.broken(values)
        if broken:
            reason = reason or broken[0]
            continue
        design = setting.made(values, f"step {change.words!r}")
        if design is None:
            reason = reason or "stamp"
            continue
        if change.inside is not None and spread(setting, design, change.inside):
            reason = reason or "other fields"
            continue
        seen.append(values)
        told = "" if change.inside is not None else besides(setting.design, design)
        return SmallStep(change.words + told, design)
    return SmallStep(options[0].words, None, reason) if reason else None


def _filled(setting: VaryingContext, change: _Change, stitch: IntArray, stay: bool) -> BoolArray:
    """Values for the blocks of a change: untouched fields as they were, touched ones going on as they were.

    stay: in touched fields no figure comes, and none goes that has its place.
    """
    model = setting.context.model
    values = fresh_values(model, stitch, setting.old.names)
    filler = Refiller(model, stitch >= 0, setting.clear(stitch), values, setting.fillings, setting.kept_fillings)
    rng = np.random.default_rng(setting.brief.run.seed)
    for inside, new, _ in filler.orbits():
        if change.inside is not None and (inside & change.inside).any():
            if change.kind:
                filler.afresh(inside, Liking((change.kind,), (change.kind,), 1), rng)
        elif not new:
            filler.keep(inside)
        elif stay:
            filler.stay(inside)
        elif not filler.go_on(inside):
            filler.afresh(inside, draw_liking(rng, setting.context.rules), rng)
    return model.formula.complete(values)


def _parts(setting: VaryingContext) -> list[BoolArray]:
    """(n,) the places of each block that may change, with its images."""
    found = []
    for places in parts(setting.context.piece, setting.old.block, setting.old.stitch, setting.old.fixed, whole=False):
        mask = np.zeros(len(setting.old.stitch), dtype=np.bool_)
        mask[places] = True
        found.append(mask)
    return found


def _removals(setting: VaryingContext) -> Iterator[list[_Change]]:
    for places in _parts(setting):
        name, where = part_at(setting.design.form, setting.context.piece, places)
        yield [_Change(f"{name} {where} removed", np.where(places, -1, setting.old.stitch))]


def _additions(setting: VaryingContext) -> Iterator[list[_Change]]:
    """The largest diamonds that find room in each part of the square, where they have the most room."""
    old, canvas = setting.old, _canvas(setting)
    room = canvas.clearance()
    best: dict[str, tuple[tuple[int, int], BoolArray, str]] = {}
    for size in range(setting.brief.rules.narrowest, min(_LARGEST, setting.brief.rules.widest) + 1):
        for mask, free in _diamonds(setting, canvas, size):
            name, where = part_at(setting.design.form, setting.context.piece, mask)
            worth = (size, int(room[free].sum()))
            new = name.startswith("diamond") and (where not in best or worth > best[where][0])
            if new and _canvas(setting).add(name, mask):
                best[where] = (worth, mask, f"{name} of {size} pinholes a side added {where}")
    stitch = int(np.bincount(old.stitch[old.stitch >= 0]).argmax()) if old.block.any() else 0
    for _, mask, words in best.values():
        yield [_Change(words, np.where(mask, stitch, old.stitch))]


def _canvas(setting: VaryingContext) -> Canvas:
    block = setting.old.block
    return Canvas(setting.context.blocks, block.copy(), setting.old.fixed & ~block)


def _diamonds(setting: VaryingContext, canvas: Canvas, size: int) -> Iterator[tuple[BoolArray, IntArray]]:
    """Diamonds on open pinholes with all their images, and the pinholes of the first: one of every orbit."""
    piece = setting.context.piece
    closed = piece.widened(canvas.block) | canvas.keep_off | (piece.depth < setting.brief.rules.margin)
    for spot in piece.representatives.tolist():
        x, y = piece.pinholes[spot].tolist()
        places = shapes.diamond_places(piece, (x, y) if size % 2 else (x, y + 1), size)
        if places is not None and not closed[places].any():
            mask = np.zeros(len(piece), dtype=np.bool_)
            mask[piece.images[:, places]] = True
            yield mask, places


def _widths(setting: VaryingContext) -> Iterator[list[_Change]]:
    """Each block a pinhole narrower and a pinhole wider, in all the ways that this can be.

    A block whose symmetry forbids that changes on both sides.
    """
    piece, brief = setting.context.piece, setting.brief
    for places in _parts(setting):
        name, where = part_at(setting.design.form, piece, places)
        now = width(piece, places)
        for by, reshaped in ((-1, narrower), (1, wider)):
            once = list(reshaped(piece, places))
            every = [with_images(piece, shape) for shape in (*once, *(b for a in once for b in reshaped(piece, a)))]
            sizes = [width(piece, shape) for shape in every]
            if not brief.rules.narrowest <= now + by <= brief.rules.widest:
                continue
            options: list[_Change] = []
            for then in (now + by, now + 2 * by):
                wanted = [shape for shape, size in zip(every, sizes, strict=True) if size == then]
                wanted = [shape for shape in wanted if _called(piece, shape) == name]
                found = [_replaced(setting, places, shape) for shape in wanted]
                words = f"{name} {where} {now} to {then} pinholes"
                options += [_Change(words, stitch) for stitch in found if stitch is not None]
            yield options or [_Change(f"{name} {where} {now} to {now + by} pinholes", None)]


def _called(piece: Piece, places: BoolArray) -> str:
    """What a part is called, if all its blocks are called so."""
    blocks = blocks_within(piece, places)
    names = {noun(piece, block, len(blocks) > 1) for block in blocks}
    return names.pop() if len(names) == 1 else ""


def _replaced(setting: VaryingContext, places: BoolArray, new: BoolArray) -> IntArray | None:
    """(n,) the blocks with a part replaced; None if it meets another block, the margin or what is kept."""
    piece, old = setting.context.piece, setting.old
    apart = (old.stitch >= 0) & ~places
    if (apart & piece.widened(new)).any() or len(blocks_within(piece, new)) != len(blocks_within(piece, places)):
        return None
    if (old.fixed & (new != places)).any() or (piece.depth[new] < setting.brief.rules.margin).any():
        return None
    stitch = np.where(apart, old.stitch, -1)
    stitch[new] = old.stitch[places][0]
    return stitch


def _refillings(setting: VaryingContext) -> Iterator[list[_Change]]:
    """Each field in every other filling that the brief allows; fields alike under any turn or mirror as one."""
    model, old = setting.context.model, setting.fillings
    clear = setting.clear(setting.old.stitch)
    filler = Refiller(model, setting.old.block, clear, setting.values.copy(), old, setting.kept_fillings)
    alike: dict[tuple[tuple[int, int], str], BoolArray] = {}
    for inside, _, name in filler.orbits():
        if filler.bound(inside) is None:
            key = (name, old.kinds[int(old.field[inside][0])])
            alike[key] = alike.get(key, np.zeros_like(inside)) | inside
    for (_, own), inside in alike.items():
        where = _field_words(setting, inside)
        for kind in ("", *model.labels.codes):
            if kind != own:
                yield [_Change(f"{called(kind)} in the {where}", setting.old.stitch, inside, kind)]


def _field_words(setting: VaryingContext, inside: BoolArray) -> str:
    """The words for a field and its images."""
    piece = setting.context.piece
    field = setting.fillings.field
    numbers = np.setdiff1d(field[piece.hole_images[:, inside]], [-1])
    points = [middle(piece.hole_centres[field == number]) for number in numbers.tolist()]
    form = setting.design.form
    centre = int(np.abs(piece.hole_centres).sum(axis=1).argmin())
    round_centre = not (form.has_opening or form.repeating)
    if len(points) == 1 and int(inside.sum()) > _GROUND * len(field):
        return "main field"
    if round_centre and inside[centre]:
        return "centre field"
    if not form.repeating and len(points) == 1 and max(map(abs, points[0])) < 1:
        at_edge = form.inwards(piece.hole_centres[inside]).min() <= 4
        return f"{'edge' if at_edge else 'ring-shaped'} field"
    return f"{whereabouts(points, form, False).field} field{'s' if len(points) > 1 else ''}"
