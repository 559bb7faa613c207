"""Rules on what a square lists: its values, its places, its blocks and its symmetry."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator

import numpy as np

from constraints import edging, forms
from constraints.check.limits import Limits, read
from constraints.flow import START_LINES
from constraints.forms import Form
from constraints.lattice import IntArray, Point
from constraints.layout import FILLING_NAMES, Layout, components, locate
from constraints.piece import ROUND
from constraints.square import Design
from constraints.stitches import GROUND, SPIDERS, STITCHES
from constraints.symmetry import OF_STRIPS, SYMMETRIES

Fault = tuple[str, tuple[Point, ...]]


def values(square: Design) -> Iterator[str]:
    """The square's own values are of the kinds a square may have; without this no other rule can be asked."""
    whole = {"passives": (square.passives, 0), "pairs": (square.pairs, 1)}
    whole |= {name: (size, least) for name, size, least in _measures(square.form)}
    for name, (number, least) in whole.items():
        if number < least:
            yield f"the {name} is {number}; it is at least {least}"
    if not (math.isfinite(square.pitch_mm) and square.pitch_mm > 0):
        yield f"the pitch is {square.pitch_mm} mm; it is more than 0"
    if square.worked == ROUND and square.start not in START_LINES:
        yield f"a round cannot start at {square.start!r}; it starts at {', '.join(START_LINES)}"
    strip = isinstance(square.form, forms.Strip)
    known = {
        "way of working": ((square.worked,), square.form.ways),
        "symmetry": ((square.symmetry,), OF_STRIPS if strip else tuple(SYMMETRIES)),
        "edging": ((square.edging,), ("footside",)),
        "ground": ((square.ground,), (GROUND,)),
        "stitch": (tuple(block.stitch for block in square.blocks), tuple(STITCHES)),
        "filling": (tuple(each.filling for each in square.fillings), tuple(FILLING_NAMES)),
    }
    for name, (found, allowed) in known.items():
        for value in sorted(set(found) - set(allowed)):
            yield f"{value!r} is no {name}; known: {', '.join(allowed)}"
    legs = [each.legs for each in square.fillings if each.filling == "spider"]
    for count in sorted(set(legs) - {spider.legs for spider in SPIDERS}):
        yield f"a spider has 8, 12 or 16 legs, not {count}"
    if square.stamp is not None and not _rings_fit(square):
        yield "the stamp's outlines must be rings of at least three finite points"
    yield from _headside(square)
    yield from _symmetry(square)
    yield from _brief(square)


def _measures(form: Form) -> Iterator[tuple[str, int, int]]:
    """The measures of a form, each with the least it may be."""
    match form:
        case forms.Square():
            yield "half-size", form.half_size, 1
        case forms.Rectangle() | forms.Frame():
            yield "half-width", form.half_width, 1
            yield "half-height", form.half_height, 1
            if isinstance(form, forms.Frame):
                yield "band", form.band, 1
                yield "opening", min(form.opening), 1
        case forms.Strip():
            yield "columns", form.columns, 2
            yield "rows", form.rows, 2
            yield "repeats", form.repeats, 2


def _symmetry(square: Design) -> Iterator[str]:
    """The grid and the headside have the symmetry."""
    form = square.form
    sound = not any(size < least for _, size, least in _measures(form)) and not any(_headside(square))
    if not sound or square.worked not in form.ways:
        return
    allowed = forms.symmetries_of(form, square.worked)
    known = OF_STRIPS if isinstance(form, forms.Strip) else tuple(SYMMETRIES)
    if square.symmetry in known and square.symmetry not in allowed:
        yield f"this {form.name} cannot have the symmetry {square.symmetry}; it can: {', '.join(allowed)}"


def _headside(square: Design) -> Iterator[str]:
    """The headside has whole fans everywhere."""
    form = square.form
    if form.headside is None:
        return
    name, period = form.headside.name, form.headside.period
    if isinstance(form, forms.Strip):
        if form.rows % period:
            yield f"a {name} needs a repeat of a multiple of {period} rows; this one has {form.rows}"
        deep = form.headside.depth * (2 if form.both else 1)
        if form.columns - 1 <= deep:
            yield f"{form.columns} columns leave no ground beside a {name}; {deep + 2} do"
        if (form.columns - 1 + form.headside.first) % 2 != form.parity:
            yield f"row {form.headside.first} of the headside has no edge pin for a valley"
        return
    if square.worked != ROUND:
        yield f"a {name} goes round a {form.name} worked round"
    if isinstance(form, forms.Frame):
        deep = max(form.headside.depth, 2 * form.headside.first + 1)
        if form.band <= deep:
            yield f"a band of {form.band} units leaves no ground beside a {name} and its corners; {deep + 1} do"
    left, top, right, bottom = form.box
    for side in sorted({right - left, bottom - top}):
        if not edging.fits_corner(side // 2, form.headside):
            last = f"its last valleys {2 * form.headside.first + 1} units from the corners"
            yield f"a {name} with {last} does not fit a side of {side // 2} pitches"


def _rings_fit(square: Design) -> bool:
    rings = square.stamp.outlines if square.stamp else ()
    return all(len(ring) >= 3 and np.isfinite(np.array(ring, dtype=float)).all() for ring in rings)


def _brief(square: Design) -> Iterator[str]:
    yield from read(square.brief)[1]
    for key in ("worked", "symmetry", "passives"):
        asked = square.brief.get(key, getattr(square, key))
        if asked != getattr(square, key):
            yield f"the brief asks for {key} {asked!r}; the square says {getattr(square, key)!r}"


def places(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Every listed place lies on the piece, and is listed once."""
    if layout.strays:
        yield "listed places that are no pinholes or holes of the piece", layout.strays
    blocks = Counter(place for block in layout.square.blocks for place in block.pinholes)
    twice = tuple(place for place, count in blocks.items() if count > 1)
    if twice:
        yield "pinholes listed twice in blocks", twice
    fillings = Counter(
        (each.filling, each.legs, place) for each in layout.square.fillings for place in each.places
    )
    again = tuple(place for (_, _, place), count in fillings.items() if count > 1)
    if again:
        yield "places listed twice in one filling", again


def one_block(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Every listed block hangs together by neighbour steps."""
    label = components(layout.piece.neighbours, layout.block)
    roots = np.flatnonzero(label == np.arange(len(label)))
    parts = np.bincount(layout.block[roots], minlength=len(layout.square.blocks))
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
    """The square's symmetry takes blocks with their stitches, units and double ground to themselves."""
    square, piece = layout.square, layout.piece
    stitch = np.array([list(STITCHES).index(block.stitch) for block in square.blocks] + [-1])
    worked = 2 * stitch[layout.block] + layout.double
    setting = piece.setting
    uneven = np.zeros(len(piece), dtype=np.bool_)
    for moved in setting.moved(piece.pinholes, square.symmetry):
        uneven |= worked != worked[locate(piece, moved)]
    if uneven.any():
        yield f"blocks or double ground break the symmetry ({square.symmetry})", layout.points(uneven)
    for name in sorted({placed.unit.name for placed in layout.units}):
        centres = np.concatenate([placed.centres for placed in layout.units if placed.unit.name == name])
        kept = set(_pairs(setting.wrap.fold(centres)))
        images = zip(*(_pairs(moved) for moved in setting.moved(centres, square.symmetry)), strict=True)
        alone = tuple(point for point, moved in zip(_pairs(centres), images, strict=True) if not kept.issuperset(moved))
        if alone:
            yield f"{name} units break the symmetry ({square.symmetry})", alone


def _pairs(points: IntArray) -> list[Point]:
    return [(x, y) for x, y in points.tolist()]
