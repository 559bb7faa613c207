"""The mirror changes as little as can be: against every other way to work small frames, judged by the check alone."""

from __future__ import annotations

import itertools
from collections.abc import ItemsView, Iterator, Mapping
from functools import cache

import pytest
from designs import ALL_EIGHT, Points, diamond, in_order, moved, roses, spiders, spread
from reflected import Worked, at_corners, changed, faulty, figure, frame_of_places, plain, worked
from strips import strip

from constraints.brief import Brief
from constraints.design import Design, FieldFilling
from constraints.forms import Frame, Strip
from constraints.lattice import Point
from constraints.mirrors import Corner, corners, frame_of
from explore.editing.mirroring.offers import CornerOffer, Mirrored, Offers, TurnoverOffer
from explore.editing.mirroring.where import Where

COLUMNS, ROWS = 9, 8
# Half-size of frames small enough to try everything, and of those in which corners and turnovers do not meet.
LARGEST, APART = 13, 18
# Frames with more ways to work them than this are left to others: tiny ones, and larger ones, of which there are more.
MOST, MOST_OF_LARGER = 600, 250
CLOTH: Worked = ("cloth", 0, 0)


def _cloth(middle: tuple[int, int], size: int) -> tuple[str, Points]:
    """A diamond of cloth."""
    return "cloth", {(x, y % ROWS) for x, y in diamond(middle, size)}


def _strip(stitches: list[str], *parts: tuple[str, Points] | FieldFilling) -> Design:
    return strip(Strip(COLUMNS, ROWS, 3), *parts, brief={"stitches": stitches})


STRIPS = {
    "a diamond of 3": _strip(["cloth"], _cloth((4, 1), 3)),
    "a diamond of 2 near the footside": _strip(["cloth"], _cloth((3, 2), 2)),
    "a diamond and a spider": _strip(["cloth", "spider"], _cloth((5, 2), 2), spiders({(3, 7)})),
    "roses": _strip(["cloth", "rose"], roses({(3, 3), (5, 5), (5, 1), (3, 7)})),
    "a spider with twelve legs": _strip(["cloth", "spider"], spiders({(4, 3)}, 12)),
}


@cache
def _mirrored(name: str) -> tuple[Mirrored, Offers]:
    stitches = ("cloth", "rose", "spider")
    mirrored = Mirrored(STRIPS[name], Brief.of(form="strip", pairs=STRIPS[name].pairs, stitches=stitches))
    return mirrored, mirrored.offers()


@pytest.mark.parametrize("name", STRIPS)
def test_positions_without_a_change_are_those_at_which_the_plainly_reflected_strip_passes_the_check(name: str) -> None:
    """Every corner and every turnover after either way, on frames long enough to tell faults of the two apart."""
    mirrored, offers = _mirrored(name)
    like, model = offers.corners[0].shown, STRIPS[name]
    held: set[tuple[bool, Corner | tuple[bool, int]]] = set()
    for corner in corners(mirrored.form):
        for row in range(ROWS):
            form = _long_enough(mirrored.form, corner, row)
            places = plain(model, form, corner)
            frame = frame_of_places(like, form, places)
            # What a mirror cuts of figures cannot be worked.
            faults = (faulty(frame) or set()) | (places.keys() - worked(frame).keys())
            beside = at_corners(form, faults)
            held |= {(True, corner)} if not beside else set()
            held |= {(False, (corner.up, row))} if faults == beside else set()
    found: set[tuple[bool, Corner | tuple[bool, int]]] = {
        (True, each.corner) for each in offers.corners if not each.changed.changed
    }
    for up, turnovers in ((False, offers.down), (True, offers.up)):
        found |= {(False, (up, each.row)) for each in turnovers if not each.changed.changed}
    assert found == held


def _long_enough(form: Strip, corner: Corner, row: int) -> Frame:
    frames = (frame_of(form, corner, (row, row), (count, count)) for count in range(1, 9))
    return next(each for each in frames if each is not None and each.half_width >= APART)


@pytest.mark.parametrize("name", STRIPS)
def test_no_other_way_to_work_a_tiny_frame_has_fewer_changes(name: str) -> None:
    """All ways that have the frame's symmetry and fewer changes are tried: none passes the second check."""
    mirrored, _ = _mirrored(name)
    tried = 0
    for corner, row in itertools.product(corners(mirrored.form), range(ROWS)):
        form = frame_of(mirrored.form, corner, (row, row), (1, 1))
        if form is None or form.half_side > LARGEST:
            continue
        done = mirrored.frame(corner, (row, row), (1, 1), 1.0)
        assert done is not None
        count = done.count(Where.WHOLE)
        assert count.proven
        assert len(changed(STRIPS[name], corner, done.frame)) == count.changed
        everywhere, strip_has = set(done.frame.piece().index), plain(STRIPS[name], form, corner)
        ways = _ways(strip_has, form, everywhere, count.changed)
        tried += _none_holds(done.frame, form, ways, MOST)
    assert tried > 10


def test_no_other_way_to_work_a_corner_or_a_turnover_offered_has_fewer_changes() -> None:
    """As above; the frames are larger, and what is not at the corner or not at the turnover stays as it was found."""
    tried = 0
    for name in STRIPS:
        for corner, offer, at_corner in _all(_mirrored(name)[1]):
            assert offer.changed.proven
            frame, form = offer.shown, offer.shown.form
            assert isinstance(form, Frame)
            everywhere = set(frame.piece().index)
            beside = at_corners(form, everywhere)
            part = beside if at_corner else everywhere - beside
            strip_has, found = plain(STRIPS[name], form, corner), worked(frame)
            mixed = {point: what for point, what in found.items() if point not in part}
            mixed |= {point: what for point, what in strip_has.items() if point in part}
            ways = _ways(mixed, form, part, 4 * offer.changed.changed)
            tried += _none_holds(frame, form, ways, MOST_OF_LARGER)
    assert tried > 50


def _all(offers: Offers) -> Iterator[tuple[Corner, CornerOffer | TurnoverOffer, bool]]:
    """All offers, each with the corner of its frame and whether it is of a corner."""
    for corner in offers.corners:
        yield corner.corner, corner, True
    for turnover in (*offers.down, *offers.up):
        yield turnover.corner, turnover, False


def _none_holds(like: Design, form: Frame, ways: Iterator[dict[Point, Worked]], most: int) -> int:
    """How many ways to work a frame were tried, where they are few enough for all of them to be."""
    every = list(itertools.islice(ways, most + 1))
    if len(every) > most:
        return 0
    for places in every:
        assert faulty(frame_of_places(like, form, places))
    return len(every)


def _ways(strip_has: dict[Point, Worked], form: Frame, part: Points, fewer_than: int) -> Iterator[dict[Point, Worked]]:
    """Every way to work a frame with fewer changes in a part of it: blocks and figures of the kinds that the strip has,
    more or fewer, always in all places that the symmetry makes alike. What the mirror leaves of figures that it cuts
    is worked otherwise in any of them."""
    begin = _whole(_alike_in_all_images(strip_has))
    steps = _steps(begin, form, {what[0] for what in strip_has.values()})
    stack = [(0, begin, (strip_has.keys() - begin.keys()) & part)]
    while stack:
        first, places, other = stack.pop()
        if sum(places.get(point) != strip_has.get(point) for point in part) < fewer_than:
            yield places
        for number, step in enumerate(steps[first:], first + 1):
            touched = other | (step.keys() & part)
            if len(other) < len(touched) < fewer_than:
                then = {point: what for point, what in (places | step).items() if what is not None}
                stack.append((number, _whole(then), touched))


def _alike_in_all_images(places: Mapping[Point, Worked]) -> dict[Point, Worked]:
    """Without what has other things in its images: a figure beside a turnover that meets its own image there."""
    return {
        point: what
        for point, what in places.items()
        if all(places.get(moved(point, each)) == (what[0], *moved(what[1:], each)) for each in ALL_EIGHT)
    }


def _whole(places: Mapping[Point, Worked]) -> dict[Point, Worked]:
    """Without what is left of figures that are not whole."""
    return {point: what for point, what in places.items() if what == CLOTH or _figure(point, what) <= places.items()}


def _figure(point: Point, what: Worked) -> ItemsView[Point, Worked]:
    return figure(what[0], (point[0] + what[1], point[1] + what[2])).items()


def _steps(places: Mapping[Point, Worked], form: Frame, kinds: set[str]) -> list[dict[Point, Worked | None]]:
    """Cloth where there is none or none where it is, a figure more or fewer, in all places that are made alike."""
    inside = {
        (x, y)
        for x, y in form.piece("round", "none").index
        if 0 < min(form.half_width - abs(x), form.half_height - abs(y)) < form.band
    }
    steps: list[dict[Point, Worked | None]] = []
    for alike in _alike(inside) if CLOTH[0] in kinds else []:
        steps.append(dict.fromkeys(alike, None if places.get(alike[0]) == CLOTH else CLOTH))
    for alike in _alike({(x, y + shift) for x, y in inside for shift in (0, 1)}):
        for name in sorted(kinds - {CLOTH[0]}):
            figures = [figure(name, centre) for centre in alike]
            held = {point: what for each in figures for point, what in each.items()}
            if held.keys() <= inside and len(held) == sum(map(len, figures)):
                steps.append(dict.fromkeys(held) if held.items() <= places.items() else {**held})
    return steps


def _alike(points: Points) -> list[tuple[Point, ...]]:
    return sorted({in_order(spread({point}, ALL_EIGHT)) for point in points})
