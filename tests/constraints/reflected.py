"""A strip reflected into a frame and the pinholes of a frame that differ from it, told place by place for tests.

Nothing here is shared with `constraints.mirrors`: a place of a frame is folded on the strip by its distances from the
outer edges. A corner is a mirror at 45 degrees (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from designs import Points, blocks, in_order

from constraints.check import check
from constraints.design import Design, FieldFilling
from constraints.edgings.own_figures import without_own
from constraints.forms import Frame, Strip
from constraints.lattice import Point
from constraints.mirrors import Corner

# Pinholes along a side of each figure; of double ground every pinhole is listed by itself.
SIDES = {
    "rose": 2,
    "spider-8": 2,
    "spider-12": 3,
    "spider-16": 4,
    "double-ground": 1,
}
# A stitch; or a kind of filling, and the way from the place to the middle of the figure.
Worked = tuple[str, int, int]


def figure(kind: str, centre: Point) -> dict[Point, Worked]:
    """The pinholes of a figure: a square that stands on its corner."""
    reach = SIDES[kind] - 1
    return {
        (centre[0] + dx, centre[1] + dy): (kind, -dx, -dy)
        for dx in range(-reach, reach + 1)
        for dy in range(-reach, reach + 1)
        if abs(dx) + abs(dy) <= reach and (dx + dy + reach) % 2 == 0
    }


def worked(model: Design) -> dict[Point, Worked]:
    """What every place is worked in, but those in plain ground and those that a headside works by itself."""
    piece = model.piece()
    found: dict[Point, Worked] = {}
    for each in without_own(model.fillings, piece):
        for centre in each.places:
            found |= figure(each.kind, centre)
    found |= {point: (block.stitch, 0, 0) for block in model.blocks for point in block.pinholes}
    return {point: what for point, what in found.items() if not piece.fan[piece.index[point]]}


def repeat(strip: Design) -> dict[Point, Worked]:
    """What every place of one repeat is worked in: read off the second one, which no end cuts."""
    form = strip.form
    assert isinstance(form, Strip)
    held = worked(strip)
    return {(x, y % form.rows): what for (x, y), what in held.items() if form.rows <= y < 2 * form.rows}


def folded(form: Frame, strip: Strip, corner: Corner, point: Point) -> tuple[Point, tuple[Point, Point]]:
    """The place of the repeat that lies on a place of a frame; and where one column further right and one row further
    down in the strip lead to in the frame."""
    (x, y), (right, down) = point, (-1 if point[0] < 0 else 1, -1 if point[1] < 0 else 1)
    beside, below = form.half_width - abs(x), form.half_height - abs(y)
    across, along = min(beside, below), max(beside, below)
    place = (strip.columns - 1 - across, (corner.row + (-along if corner.up else along)) % strip.rows)
    on = 1 if corner.up else -1
    return place, ((right, 0), (0, on * down)) if beside < below else ((0, down), (on * right, 0))


def plain(strip: Design, form: Frame, corner: Corner) -> dict[Point, Worked]:
    """What every place of a frame is worked in if the strip is reflected as it falls, figures cut off as it falls."""
    assert isinstance(strip.form, Strip)
    held, found = repeat(strip), {}
    for point in form.piece("round", "none").index:
        place, (right, down) = folded(form, strip.form, corner, point)
        if place in held:
            name, x, y = held[place]
            found[point] = (name, x * right[0] + y * down[0], x * right[1] + y * down[1])
    return found


def changed(strip: Design, corner: Corner, frame: Design) -> Points:
    """The pinholes of a frame, fans aside, that are worked otherwise than the strip reflected as it falls."""
    assert isinstance(frame.form, Frame)
    piece, was, now = frame.piece(), plain(strip, frame.form, corner), worked(frame)
    return {point for point, i in piece.index.items() if not piece.fan[i] and was.get(point) != now.get(point)}


def at_corners(form: Frame, points: Iterable[Point]) -> Points:
    """Those on a side that are nearer to the inner end of a corner line than to the turnover, corners among them."""
    found = set()
    for x, y in points:
        beside, below = form.half_width - abs(x), form.half_height - abs(y)
        half, from_middle = (form.half_height, abs(y)) if beside < below else (form.half_width, abs(x))
        if half - form.band - from_middle < from_middle:
            found.add((x, y))
    return found


def frame_of_places(like: Design, form: Frame, places: Mapping[Point, Worked]) -> Design:
    """A frame worked so, whole figures listed and what is left of cut ones left out; all else as in another frame
    without a headside."""
    fillings: dict[str, Points] = {}
    for (x, y), (name, dx, dy) in places.items():
        if name in SIDES:
            centre = (x + dx, y + dy)
            if figure(name, centre).items() <= places.items():
                fillings.setdefault(name, set()).add(centre)
    stitches = sorted({name for name, *_ in places.values() if name not in SIDES})
    by_stitch = {name: {point for point, what in places.items() if what[0] == name} for name in stitches}
    return replace(
        like,
        form=form,
        symmetry="none",
        blocks=tuple(block for name, points in by_stitch.items() for block in blocks(name, points)),
        fillings=tuple(FieldFilling(name, in_order(own)) for name, own in sorted(fillings.items())),
        pairs=form.pairs("round", like.passives),
    )


def faulty(frame: Design) -> Points | None:
    """The places that the second check finds fault with, None if it finds none, whatever splits the frame has."""
    tried = (check(replace(frame, splits=count)) for count in range(int(frame.brief.get("splits", 0)) + 1))
    found = min(tried, key=len)
    return {point for each in found for point in each.pinholes} if found else None
