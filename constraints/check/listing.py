"""Rules on what a square lists: its values, its places, its blocks and its symmetry."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator

import numpy as np

from constraints.check.limits import Limits, read
from constraints.design import Design
from constraints.edgings.headside import fits_corner
from constraints.fillings import FILLINGS, GROUNDS, OF_KIND
from constraints.flow import START_LINES
from constraints.forms import Form
from constraints.lattice import IntArray, Point
from constraints.layout import Layout, components, locate
from constraints.piece import ROUND
from constraints.stitches import STITCHES

Fault = tuple[str, tuple[Point, ...]]

# The least measures that are more than one.
_LEAST = {"columns": 2, "rows": 2, "repeats": 2}


def values(design: Design) -> Iterator[str]:
    """The square's own values are of the kinds a square may have; without this no other rule can be asked."""
    whole = {"passives": (design.passives, 0), "pairs": (design.pairs, 1)}
    whole |= {name: (size, least) for name, size, least in _measures(design.form)}
    for name, (number, least) in whole.items():
        if number < least:
            yield f"the {name} is {number}; it is at least {least}"
    if not (math.isfinite(design.pitch_mm) and design.pitch_mm > 0):
        yield f"the pitch is {design.pitch_mm} mm; it is more than 0"
    if design.worked == ROUND and design.start not in START_LINES:
        yield f"a round cannot start at {design.start!r}; it starts at {', '.join(START_LINES)}"
    known = {
        "way of working": ((design.worked,), design.form.ways),
        "symmetry": ((design.symmetry,), design.form.symmetries),
        "stitch": (tuple(block.stitch for block in design.blocks), tuple(STITCHES)),
        "filling": (tuple(each.kind for each in design.fillings), tuple(OF_KIND)),
    }
    for name, (found, allowed) in known.items():
        for value in sorted(set(found) - set(allowed)):
            yield f"{value!r} is no {name}; known: {', '.join(allowed)}"
    if not _rings_fit(design):
        yield "the stamp's outlines must be rings of at least three finite points"
    yield from _headside(design)
    yield from _symmetry(design)
    yield from _brief(design)


def _measures(form: Form) -> Iterator[tuple[str, int, int]]:
    """The measures of a form, each with the least it may be."""
    for key, size in form.measures.items():
        yield key.replace("_", "-"), size, _LEAST.get(key, 1)
    if form.has_opening:
        yield "opening", min(form.opening), 1


def _symmetry(design: Design) -> Iterator[str]:
    """The grid and the headside have the symmetry."""
    form = design.form
    sound = not any(size < least for _, size, least in _measures(form)) and not any(_headside(design))
    if not sound or design.worked not in form.ways:
        return
    allowed = form.symmetries_allowed(design.worked)
    if design.symmetry in form.symmetries and design.symmetry not in allowed:
        yield f"this {form.name} cannot have the symmetry {design.symmetry}; it can: {', '.join(allowed)}"


def _headside(design: Design) -> Iterator[str]:
    """The headside has whole fans everywhere."""
    form = design.form
    if form.headside is None:
        return
    name, period = form.headside.name, form.headside.period
    left, top, right, bottom = form.box
    if ROUND not in form.edged:
        strip = form.repeating
        if strip is not None and strip.rows % period:
            yield f"a {name} needs a repeat of a multiple of {period} rows; this one has {strip.rows}"
        deep = form.headside.depth * len(form.headside_edges)
        if form.width <= deep:
            yield f"{form.width + 1} columns leave no ground beside a {name}; {deep + 2} do"
        if (right + form.headside.first) % 2 != form.parity:
            yield f"row {form.headside.first} of the headside has no edge pin for a valley"
        if strip is None and (bottom - 1) % form.headside.depth:
            fitting = f"half-heights one more than a multiple of {form.headside.depth} do"
            yield f"a {name} leaves no whole ones along sides of half-height {bottom}; {fitting}"
        elif strip is None and form.headside.first != bottom - 1:
            last = f"{form.headside.first} units from the middle; of half-height {bottom} it is {bottom - 1}"
            yield f"the last valleys of a {name} along the sides stand {last}"
        return
    if design.worked != ROUND:
        yield f"a {name} goes round a {form.name} worked round"
    if form.has_opening:
        deep = max(form.headside.depth, 2 * form.headside.first + 1)
        if form.deep <= deep:
            yield f"a band of {form.deep} units leaves no ground beside a {name} and its corners; {deep + 1} do"
    for side in sorted({right - left, bottom - top}):
        if not fits_corner(side // 2, form.headside):
            last = f"its last valleys {2 * form.headside.first + 1} units from the corners"
            yield f"a {name} with {last} does not fit a side of {side // 2} pitches"


def _rings_fit(design: Design) -> bool:
    rings = [ring for each in design.prints for ring in each.outlines]
    return all(len(ring) >= 3 and np.isfinite(np.array(ring, dtype=float)).all() for ring in rings)


def _brief(design: Design) -> Iterator[str]:
    yield from read(design.brief)[1]
    for key in ("worked", "symmetry", "passives"):
        asked = design.brief.get(key, getattr(design, key))
        if asked != getattr(design, key):
            yield f"the brief asks for {key} {asked!r}; the square says {getattr(design, key)!r}"


def places(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Every listed place lies on the piece, and is listed once."""
    if layout.strays:
        yield "listed places that are no pinholes or holes of the piece", layout.strays
    blocks = Counter(place for block in layout.design.blocks for place in block.pinholes)
    twice = tuple(place for place, count in blocks.items() if count > 1)
    if twice:
        yield "pinholes listed twice in blocks", twice
    fillings = Counter((each.kind, place) for each in layout.design.fillings for place in each.places)
    again = tuple(place for (_, place), count in fillings.items() if count > 1)
    if again:
        yield "places listed twice in one filling", again


def one_block(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Every listed block hangs together by neighbour steps."""
    label = components(layout.piece.neighbours, layout.block)
    roots = np.flatnonzero(label == np.arange(len(label)))
    parts = np.bincount(layout.block[roots], minlength=len(layout.design.blocks))
    for number in np.flatnonzero(parts != 1).tolist():
        how = "has no pinhole" if parts[number] == 0 else f"falls into {parts[number]} parts"
        yield f"block {number + 1} {how}", layout.points(layout.block == number)


def one_stitch(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """No neighbour step runs from one listed block to another: a block is worked in one stitch."""
    blocks = np.append(layout.block, -1)
    beside = blocks[layout.piece.neighbours]
    here = layout.block[:, None]
    clash = ((here >= 0) & (beside >= 0) & (beside != here)).any(axis=1)
    if clash.any():
        yield "two blocks listed apart meet here; one block has one stitch", layout.points(clash)


def symmetry(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """The square's symmetry takes blocks with their stitches, units and grounds to themselves."""
    design, piece = layout.design, layout.piece
    worked = (1 + len(FILLINGS)) * layout.stitch + 1 + layout.ground
    setting = piece.setting
    uneven = np.zeros(len(piece), dtype=np.bool_)
    for moved in setting.moved(piece.pinholes, design.symmetry):
        uneven |= worked != worked[locate(piece, moved)]
    if uneven.any():
        told = " or ".join(["blocks", *(GROUNDS[name].one for name in layout.grounds)])
        yield f"{told} break the symmetry ({design.symmetry})", layout.points(uneven)
    for name in sorted({placed.unit.name for placed in layout.units}):
        centres = np.concatenate([placed.centres for placed in layout.units if placed.unit.name == name])
        kept = set(_pairs(setting.wrap.fold(centres)))
        images = zip(*(_pairs(moved) for moved in setting.moved(centres, design.symmetry)), strict=True)
        alone = tuple(point for point, moved in zip(_pairs(centres), images, strict=True) if not kept.issuperset(moved))
        if alone:
            yield f"{name} units break the symmetry ({design.symmetry})", alone


def _pairs(points: IntArray) -> list[Point]:
    return [(x, y) for x, y in points.tolist()]
